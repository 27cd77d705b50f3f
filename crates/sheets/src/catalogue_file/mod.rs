//! The catalogue of genes as a text file: the built-in one, and a keeper's own on top of it.

mod file;

use std::fmt;
use std::sync::LazyLock;

use genetics::catalogue::{CatalogueSpec, CautionRule, CautionSubject};
use genetics::{Catalogue, CatalogueError, Target};

use crate::shorthand::{Question, target};
use file::{CatalogueFile, CautionEntry};

/// Genes of the ball python.
const PYTHON_REGIUS: &str = include_str!("../../catalogue/python_regius.toml");

/// Why a catalogue file was refused.
#[derive(Clone, Debug, PartialEq)]
pub enum CatalogueFileError {
    /// Not readable as TOML, or a field that is none.
    Text {
        /// Line of the fault, from 1, where known.
        line: Option<usize>,
        /// What is wrong.
        why: String,
    },
    /// Readable, but no catalogue.
    Catalogue(CatalogueError),
    /// The condition of a caution could not be read.
    Caution {
        /// Its reason, to find it by.
        reason: String,
        /// What to do.
        why: String,
    },
}

impl fmt::Display for CatalogueFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text { line: Some(line), why } => write!(f, "line {line}: {why}"),
            Self::Text { line: None, why } => f.write_str(why),
            Self::Catalogue(error) => error.fmt(f),
            Self::Caution { reason, why } => write!(f, "the caution \"{reason}\": {why}"),
        }
    }
}

impl std::error::Error for CatalogueFileError {}

impl From<CatalogueError> for CatalogueFileError {
    fn from(error: CatalogueError) -> Self {
        Self::Catalogue(error)
    }
}

static BUILTIN: LazyLock<Catalogue> =
    LazyLock::new(|| read(PYTHON_REGIUS).expect("the built-in catalogue is read by a test"));

/// The ball python's catalogue that comes with the program; read once.
///
/// # Panics
/// Never: a test reads the file that is compiled in.
#[must_use]
pub fn builtin() -> &'static Catalogue {
    &BUILTIN
}

/// The built-in catalogue with a keeper's file on top.
///
/// A locus of a name that is there already gets the file's alleles and compounds; all else is added.
///
/// # Errors
/// [`CatalogueFileError`] naming line or entry, and what to do.
pub fn with_additions(text: &str) -> Result<Catalogue, CatalogueFileError> {
    make(&[parse(PYTHON_REGIUS)?, parse(text)?])
}

/// A catalogue from the text of one file.
///
/// # Errors
/// [`CatalogueFileError`] naming line or entry, and what to do.
pub fn read(text: &str) -> Result<Catalogue, CatalogueFileError> {
    make(&[parse(text)?])
}

fn parse(text: &str) -> Result<CatalogueFile, CatalogueFileError> {
    toml::from_str(text).map_err(|error| CatalogueFileError::Text {
        line: error.span().map(|span| 1 + text[..span.start.min(text.len())].matches('\n').count()),
        why: error.message().to_owned(),
    })
}

fn make(files: &[CatalogueFile]) -> Result<Catalogue, CatalogueFileError> {
    let mut spec = CatalogueSpec::default();
    for file in files {
        file.add_to(&mut spec)?;
    }
    let catalogue = Catalogue::new(&spec)?;
    let cautions = files
        .iter()
        .flat_map(|f| &f.caution)
        .map(|entry| caution(entry, &catalogue))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(catalogue.with_cautions(cautions))
}

fn caution(entry: &CautionEntry, catalogue: &Catalogue) -> Result<CautionRule, CatalogueFileError> {
    let refused = |why: String| CatalogueFileError::Caution { reason: entry.reason.clone(), why };
    let one =
        |text: &str| target::read(text, catalogue).map_err(|q: Question| refused(q.to_string()));
    let said = [&entry.young, &entry.dam, &entry.sire].into_iter().flatten().count();
    if said + usize::from(entry.any_two_of.is_some()) != 1 {
        return Err(refused("give exactly one of young, dam, sire and any_two_of".to_owned()));
    }
    let (subject, when) = if let Some(text) = &entry.young {
        (CautionSubject::Young, one(text)?)
    } else if let Some(text) = &entry.dam {
        (CautionSubject::Dam, one(text)?)
    } else if let Some(text) = &entry.sire {
        (CautionSubject::Sire, one(text)?)
    } else {
        let texts = entry.any_two_of.as_deref().unwrap_or_default();
        let genes = texts.iter().map(|t| one(t)).collect::<Result<Vec<_>, _>>()?;
        (CautionSubject::Young, any_two(&genes))
    };
    Ok(CautionRule {
        subject,
        when,
        reason: entry.reason.clone(),
        is_hatching_unknown: entry.hatching_unknown && subject == CautionSubject::Young,
        confidence: entry.confidence.into(),
        source: entry.source.clone(),
    })
}

fn any_two(genes: &[Target]) -> Target {
    let mut pairs = Vec::new();
    for (i, a) in genes.iter().enumerate() {
        for b in genes.iter().skip(i + 1) {
            pairs.push(Target::All(vec![a.clone(), b.clone()]));
        }
    }
    Target::Any(pairs)
}

#[cfg(test)]
mod tests;
