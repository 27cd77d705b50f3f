//! What was read, and what must be asked.

use std::fmt;
use std::ops::Range;

use genetics::catalogue::Meaning;
use genetics::{Catalogue, ClaimedChance, Gene, Label, LocusId};

/// Something that needs the keeper's answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The words in doubt, as written.
    pub words: String,
    /// Where they stand in the text, in bytes.
    pub at: Range<usize>,
    /// What is asked, and what to do.
    pub why: String,
    /// What could be written instead of the words; empty where nothing is near.
    pub choices: Vec<String>,
}

impl Question {
    /// The question as a sentence of its own: it ends with one mark, whatever the question ends with.
    #[must_use]
    pub fn sentence(&self) -> String {
        let said = self.to_string();
        if said.ends_with(['.', '?', '!']) { said } else { format!("{said}.") }
    }
}

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.words.is_empty() {
            f.write_str(&self.why)?;
        } else {
            write!(f, "\"{}\": {}", self.words, self.why)?;
        }
        if !self.choices.is_empty() {
            write!(f, " ({})", self.choices.join(" / "))?;
        }
        Ok(())
    }
}

impl std::error::Error for Question {}

/// Words that were understood and are no genes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The words, as written.
    pub words: String,
    /// Where they stand in the text, in bytes.
    pub at: Range<usize>,
    /// What was made of them.
    pub why: String,
}

/// Sex as the text gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrittenSex {
    /// 1.0
    Male,
    /// 0.1
    Female,
    /// 0.0.1
    Unknown,
}

/// What a text says of an animal.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// All that was understood; final only where nothing is asked.
    pub label: Label,
    /// Genes that would be seen, and that somebody is only so sure to see: "80% pastel". The label
    /// says nothing of them.
    pub unsure: Vec<(Gene, ClaimedChance)>,
    /// What must be answered first.
    pub questions: Vec<Question>,
    /// Words that are no genes.
    pub remarks: Vec<Remark>,
    /// Sex, where the text gives it.
    pub sex: Option<WrittenSex>,
}

impl Reading {
    /// Loci that the words in doubt may speak of, such as those of all lines of axanthic: until the
    /// question is answered, nothing is known of them.
    #[must_use]
    pub fn open_loci(&self, catalogue: &Catalogue) -> Vec<LocusId> {
        let mut all = Vec::new();
        for question in &self.questions {
            for choice in &question.choices {
                all.extend(super::read(choice, catalogue).label.statements().map(|(at, _)| at));
            }
            let words: Vec<&str> = question.words.split_whitespace().collect();
            let windows = (1..=3).flat_map(|length| words.windows(length));
            all.extend(windows.filter_map(|name| match catalogue.meaning(&name.join(" "))? {
                Meaning::Gene(gene) => Some(gene.locus),
                Meaning::Look(locus, _) => Some(*locus),
                _ => None,
            }));
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The same of an animal that is only thought of: a look seen with some doubt is asked about, for
    /// there is nobody who saw it.
    #[must_use]
    pub fn thought_of(mut self, catalogue: &Catalogue) -> Self {
        for (gene, chance) in std::mem::take(&mut self.unsure) {
            let name = catalogue.gene_name(gene);
            let words = format!("{chance} {name}");
            let why = format!(
                "how sure somebody is of a look counts of an animal that is written down: is {name} there or not?"
            );
            let choices = vec![name.to_owned(), format!("no {name}")];
            self.questions.push(Question { at: 0..0, words, why, choices });
        }
        self
    }

    /// The label, if nothing is left to ask.
    ///
    /// # Errors
    /// The questions.
    pub fn settled(self) -> Result<Label, Vec<Question>> {
        if self.questions.is_empty() { Ok(self.label) } else { Err(self.questions) }
    }
}
