//! Genes off the command line: what leaves a question is refused with it.

use sheets::shorthand::Reading;

use crate::refusal::Refusal;

/// Shorthand that leaves a question is refused with it.
pub fn settled(reading: Reading, text: &str) -> Result<Reading, Refusal> {
    if reading.questions.is_empty() {
        return Ok(reading);
    }
    let asked: Vec<String> = reading.questions.iter().map(ToString::to_string).collect();
    let remedy = "Write the words the catalogue knows, then ask again.";
    Err(Refusal::new(asked.join(" "), text, remedy))
}
