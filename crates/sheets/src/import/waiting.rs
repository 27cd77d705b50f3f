//! Rows that waited for an animal nobody knew: each import reads them again, so that sheets may come
//! in any order. Only rows held for that reason are; every other question is the keeper's.

use std::collections::{BTreeMap, HashMap};

use records::facts::Held;
use records::{Fact, Live, Source};
use units::Day;

use super::answer::Group;
use super::read_as;
use crate::sheet::{FileIn, Hints, Sheet};

/// How the question about an unknown animal begins, by which its rows are known again.
pub const UNKNOWN: &str = "No animal has the code ";

/// Waiting rows as sheets, with where each was first read.
#[derive(Default)]
pub struct Waiting {
    pub sheets: Vec<Sheet>,
    sources: HashMap<(String, u32), Source>,
}

impl Waiting {
    /// Where a row of these sheets was first read.
    pub fn source(&self, file: &str, line: u32) -> Option<&Source> {
        self.sources.get(&(file.to_owned(), line))
    }
}

/// The rows of the journal that wait for an animal, read as their sheets were read.
pub fn rows(lives: &[Live], felt: &BTreeMap<String, usize>, today: Day) -> Waiting {
    let mut groups: Vec<Group> = Vec::new();
    let mut by_reading: HashMap<String, usize> = HashMap::new();
    let mut held: Vec<(&Held, Option<&Source>)> = Vec::new();
    for live in lives {
        let Fact::Held(row) = &live.fact else { continue };
        if !row.why.starts_with(UNKNOWN) || row.read_as.is_none() {
            continue;
        }
        let alike = format!("{}\n{:?}\n{:?}", row.sheet, row.headings, row.read_as);
        let group = *by_reading.entry(alike).or_insert_with(|| {
            let (headings, hints) = (row.headings.clone(), read_as::hints(row));
            groups.push(Group { headings, hints, rows: vec![] });
            groups.len() - 1
        });
        groups[group].rows.push((held.len(), row.cells.clone()));
        held.push((row, live.source.as_ref()));
    }
    let mut hints = Hints { today: Some(today), felt: felt.clone(), ..Hints::default() };
    let (mut files, mut waiting) = (Vec::new(), Waiting::default());
    for (n, group) in groups.into_iter().enumerate() {
        let name = format!("waiting {n}");
        let text = group.text(|line, at| {
            if let Some(source) = held[at].1 {
                waiting.sources.insert((name.clone(), line), source.clone());
            }
        });
        hints.files.insert(name.clone(), group.hints);
        files.push(FileIn { name, bytes: text.into_bytes() });
    }
    if !files.is_empty() {
        waiting.sheets = crate::read::read(&files, &hints).sheets;
    }
    waiting
}
