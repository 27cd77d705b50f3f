//! Facts about the records themselves, as version 1 writes them.

use std::collections::BTreeMap;

use records::facts;
use serde::{Deserialize, Serialize};

use super::mirror;
use super::scalar::{Batch, Id, Moment};

mirror! {
    Set = facts::Set {
        name as name: String,
        value as value: String,
    } {}
    Held = facts::Held {
        sheet as sheet: String,
        headings as headings: Vec<String>,
        cells as cells: Vec<String>,
        column as column: String,
        value as value: String,
        readable as readable: bool,
        why as why: String,
    } {
        read_as as read_as: BTreeMap<String, String>,
    }
    Retracted = facts::Retracted {
        what as what: Target,
        why as why: String,
    } {}
}

/// What a retraction withdraws.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    Record(Id),
    Batch(Batch),
}

impl From<facts::Target> for Target {
    fn from(target: facts::Target) -> Self {
        match target {
            facts::Target::Record(id) => Self::Record(id.into()),
            facts::Target::Batch(id) => Self::Batch(id.into()),
        }
    }
}

impl From<Target> for facts::Target {
    fn from(target: Target) -> Self {
        match target {
            Target::Record(id) => Self::Record(id.into()),
            Target::Batch(id) => Self::Batch(id.into()),
        }
    }
}

/// An earlier record replaced.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corrected {
    record: Id,
    happened: Moment,
    fact: Box<super::Fact>,
}

impl From<&facts::Corrected> for Corrected {
    fn from(f: &facts::Corrected) -> Self {
        Self {
            record: f.record.into(),
            happened: f.when.into(),
            fact: Box::new(f.fact.as_ref().into()),
        }
    }
}

impl From<Corrected> for facts::Corrected {
    fn from(f: Corrected) -> Self {
        Self { record: f.record.into(), when: f.happened.into(), fact: Box::new((*f.fact).into()) }
    }
}
