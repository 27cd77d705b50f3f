//! An error as a person reads it: what is wrong, where, and what to do next.

use serde_json::json;

/// Why a command did not do what was asked.
#[derive(Debug)]
pub struct Refusal {
    /// What is wrong.
    pub error: String,
    /// Where: a file, a folder, an option.
    pub place: String,
    /// What to do next.
    pub remedy: String,
    /// What the command had to say all the same, for standard output.
    pub said: String,
}

impl Refusal {
    /// A refusal with its way out.
    pub fn new(
        error: impl Into<String>,
        place: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        let (error, place, remedy) = (error.into(), place.into(), remedy.into());
        Self { error, place, remedy, said: String::new() }
    }

    /// One line for machines.
    pub fn json(&self) -> serde_json::Value {
        json!({"error": self.error, "where": self.place, "do": self.remedy})
    }
}

impl From<store::StoreError> for Refusal {
    fn from(error: store::StoreError) -> Self {
        let text = error.to_string();
        // The store's sentences have their way out behind the colon.
        let (what, remedy) = text.rsplit_once(": ").unwrap_or((&text, "Look at the data folder."));
        Self::new(what, "data folder", remedy)
    }
}
