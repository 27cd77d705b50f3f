//! Answers to held rows: each row is read again with the answer in the place of what was wrong, as
//! its sheet was read, and then previewed like any other.

use std::collections::{BTreeMap, HashMap};

use records::facts::{Held, Retracted, Target};
use records::words::{Lock, Meal, Sex};
use records::{Colony, Draft, Fact, Record, RecordId, Source};
use units::{When, Zone};

use super::key::derived;
use super::near;
use super::preview::{Options, preview_alone};
use super::read_as;
use super::verdict::Verdict;
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::row::{NO_COLUMN, label};
use crate::sheet::{FileHints, FileIn, Hints};

/// What is answered, and against what.
pub struct Answer<'a> {
    /// The held rows, with the rows of sheets they came from.
    pub held: &'a [(RecordId, &'a Held, Option<Source>)],
    /// What should stand in the place of what was wrong; for a sheet nobody recognised, its kind.
    pub value: &'a str,
    /// The journal.
    pub journal: &'a [Record],
    /// The room's zone.
    pub zone: &'a Zone,
    /// The room's own words for felt follicles.
    pub felt: &'a BTreeMap<String, usize>,
}

/// What became of one held row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowAnswered {
    /// The held record.
    pub id: RecordId,
    /// The verdict on the row as it reads now. Held although it is done: the answer was taken and
    /// the next question is asked.
    pub verdict: Verdict,
    /// Whether the held record is withdrawn.
    pub is_done: bool,
    /// Why, where it is not simply in.
    pub why: String,
}

/// What became of all of them, and what a commit writes: nothing of a row that is not done.
#[derive(Clone, Debug)]
pub struct Answered {
    /// The rows, in the order they were given.
    pub rows: Vec<RowAnswered>,
    /// What to write, in this order.
    pub drafts: Vec<Draft>,
}

/// Rows of one set of headings that are read alike: one file for the reader, in which identical
/// rows are as many events.
pub struct Group {
    pub headings: Vec<String>,
    pub hints: FileHints,
    /// A number the caller knows each by, and its cells.
    pub rows: Vec<(usize, Vec<String>)>,
}

/// Reads held rows again with one answer. Writes nothing.
#[must_use]
pub fn answer(asked: &Answer<'_>, options: &Options<'_>) -> Answered {
    let mut refused: HashMap<usize, String> = HashMap::new();
    let mut groups: Vec<Group> = Vec::new();
    for (at, (_, held, _)) in asked.held.iter().enumerate() {
        match filled_in(held, asked.value) {
            Err(why) => {
                refused.insert(at, why);
            }
            Ok((headings, cells, hints)) => {
                let fits = |g: &&mut Group| g.headings == headings && g.hints == hints;
                match groups.iter_mut().find(fits) {
                    Some(group) => group.rows.push((at, cells)),
                    None => groups.push(Group { headings, hints, rows: vec![(at, cells)] }),
                }
            }
        }
    }
    let mut hints = Hints { today: Some(options.today), ..Hints::default() };
    hints.felt.clone_from(asked.felt);
    let (mut files, mut places) = (Vec::new(), HashMap::new());
    for (n, group) in groups.into_iter().enumerate() {
        let name = format!("answer {n}");
        let text = group.text(|line, at| {
            places.insert((name.clone(), line), at);
        });
        hints.files.insert(name.clone(), group.hints);
        files.push(FileIn { name, bytes: text.into_bytes() });
    }
    let reading = crate::read::read(&files, &hints);
    let seen = preview_alone(&reading, asked.journal, asked.zone, options);
    let mut verdicts: HashMap<usize, (Verdict, String)> = HashMap::new();
    for file in &seen.files {
        for row in &file.rows {
            if let Some(at) = places.get(&(file.file.clone(), row.line)) {
                verdicts.insert(*at, (row.verdict, row.why.join(" ")));
            }
        }
    }
    collect(asked, options, seen.drafts, &places, &verdicts, &refused)
}

fn collect(
    asked: &Answer<'_>,
    options: &Options<'_>,
    drafts: Vec<Draft>,
    places: &HashMap<(String, u32), usize>,
    verdicts: &HashMap<usize, (Verdict, String)>,
    refused: &HashMap<usize, String>,
) -> Answered {
    let mut own: Vec<Vec<Draft>> = vec![Vec::new(); asked.held.len()];
    for draft in drafts {
        let at = draft.source.as_ref().and_then(|s| places.get(&(s.file.clone(), s.line)));
        if let Some(drafts) = at.and_then(|at| own.get_mut(*at)) {
            drafts.push(draft);
        }
    }
    let mut done = Answered { rows: Vec::new(), drafts: Vec::new() };
    for (at, (id, held, source)) in asked.held.iter().enumerate() {
        let lost = || (Verdict::Unreadable, "With that answer it is no row any more.".to_owned());
        let (verdict, why) = match refused.get(&at) {
            Some(why) => (Verdict::Held, why.clone()),
            None => verdicts.get(&at).cloned().unwrap_or_else(lost),
        };
        let mut drafts = std::mem::take(&mut own[at]);
        // Another column asks now: the answer itself was good.
        let asks_on = drafts.iter().any(|d| {
            matches!(&d.fact, Fact::Held(next)
                if !next.column.is_empty() && next.column != held.column)
        });
        let is_done = !matches!(verdict, Verdict::Held | Verdict::Unreadable) || asks_on;
        if is_done {
            for draft in &mut drafts {
                draft.source.clone_from(source);
            }
            drafts.push(withdrawn(*id, options));
            done.drafts.append(&mut drafts);
        }
        done.rows.push(RowAnswered { id: *id, verdict, is_done, why });
    }
    done
}

fn withdrawn(held: RecordId, options: &Options<'_>) -> Draft {
    let what = Target::Record(held);
    Draft {
        id: derived(&format!("answered|{held}|{}", options.batch), 1, 0),
        when: When::Undated,
        written: options.now,
        who: options.who.to_owned(),
        batch: Some(options.batch),
        source: None,
        fact: Fact::Retracted(Retracted { what, why: super::held::ANSWERED.to_owned() }),
    }
}

type Filled = (Vec<String>, Vec<String>, FileHints);

/// The row with the answer in its place, and how it is to be read.
fn filled_in(held: &Held, value: &str) -> Result<Filled, String> {
    let mut hints = read_as::hints(held);
    let (mut headings, mut cells) = (held.headings.clone(), held.cells.clone());
    if held.sheet.is_empty() {
        let kinds = || SheetKind::ALL.iter().map(|k| k.word()).collect::<Vec<_>>().join(", ");
        let kind = SheetKind::from_word(value.trim())
            .ok_or_else(|| format!("Say what the row is, one of: {}.", kinds()))?;
        hints.kind = Some(kind);
        return Ok((headings, cells, hints));
    }
    let missing = held.why.starts_with(NO_COLUMN).then(|| Meaning::from_word(&held.column));
    if let Some(meaning) = missing.flatten() {
        hints.columns.insert(headings.len(), meaning);
        headings.push(held.column.clone());
        cells.push(value.trim().to_owned());
        return Ok((headings, cells, hints));
    }
    let at = headings
        .iter()
        .enumerate()
        .position(|(at, heading)| label(heading, at) == held.column)
        .filter(|_| !held.column.is_empty());
    let Some(at) = at else {
        return Err(
            "No one cell of this row holds the answer: import its sheet again and say what \
                    its columns mean, or leave the row out."
                .to_owned(),
        );
    };
    // Of a grid the date above the cell may be what is wrong.
    let in_heading = hints.narrow_grid && held.value == headings[at] && cells[at] != held.value;
    let place = if in_heading { headings.get_mut(at) } else { cells.get_mut(at) };
    if let Some(place) = place {
        value.trim().clone_into(place);
    }
    Ok((headings, cells, hints))
}

impl Group {
    /// The group as separated text; tells the line on which each row begins.
    pub fn text(&self, mut tell: impl FnMut(u32, usize)) -> String {
        let quoted = |cell: &String| format!("\"{}\"", cell.replace('"', "\"\""));
        let line = |cells: &[String]| cells.iter().map(quoted).collect::<Vec<_>>().join(",");
        let mut text = String::new();
        if self.hints.headings_first {
            text = format!("{}\n", line(&self.headings));
        }
        let count = |text: &str| text.bytes().filter(|b| *b == b'\n').count();
        let mut lines = count(&text);
        for (at, cells) in &self.rows {
            tell(u32::try_from(lines + 1).unwrap_or(u32::MAX), *at);
            let row = line(cells);
            lines += count(&row) + 1;
            text.push_str(&row);
            text.push('\n');
        }
        text
    }
}

/// Whether one answer can serve both rows, each with the file it came from. What a sheet says nowhere
/// is asked of each file by itself: two loggers lie in two places.
#[must_use]
pub fn same_question(
    (a, a_file): (&Held, Option<&str>),
    (b, b_file): (&Held, Option<&str>),
) -> bool {
    if a.why.starts_with(NO_COLUMN) && a_file != b_file {
        return false;
    }
    if a.sheet.is_empty() {
        return b.sheet.is_empty() && a.headings == b.headings && a.why == b.why;
    }
    (&a.sheet, &a.column, &a.value, &a.why) == (&b.sheet, &b.column, &b.value, &b.why)
}

/// What the answer may be, likeliest first: near matches of an unknown animal, or the words of a
/// list. Only offered, never taken by themselves.
#[must_use]
pub fn likely(held: &Held, colony: &Colony) -> Vec<String> {
    let owned = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect();
    if held.sheet.is_empty() {
        return SheetKind::ALL.iter().map(|kind| kind.word().to_owned()).collect();
    }
    let place = held.headings.iter().enumerate().find(|(at, h)| label(h, *at) == held.column);
    let kept = place.and_then(|(at, _)| {
        held.read_as
            .as_ref()?
            .get(&format!("column {}", at + 1))
            .and_then(|w| Meaning::from_word(w))
    });
    let meaning = kept.unwrap_or_else(|| crate::heading::read(&held.column).meaning);
    match meaning {
        Meaning::Animal
        | Meaning::Female
        | Meaning::Male
        | Meaning::Sire
        | Meaning::Dam
        | Meaning::Hatchling
        | Meaning::Other
        | Meaning::Pair => {
            let codes = colony.animals.iter().flat_map(|a| &a.codes).map(|s| s.code.as_str());
            near::matches(&held.value, codes).into_iter().map(str::to_owned).collect()
        }
        Meaning::Lock => Lock::ALL.iter().map(|l| l.word().to_owned()).collect(),
        Meaning::Taken => Meal::ALL.iter().map(|m| m.word().to_owned()).collect(),
        Meaning::Sex => Sex::ALL.iter().map(|s| s.word().to_owned()).collect(),
        Meaning::Size | Meaning::Felt if crate::number::written(&held.value).is_none() => {
            owned(&["pea", "between marble and table tennis", "hen egg", "python egg", "nothing"])
        }
        Meaning::Place => {
            let mut known: Vec<String> = Vec::new();
            for put in colony.clutches.iter().rev().flat_map(|clutch| &clutch.incubated) {
                let name = put.what.to_string();
                if !known.contains(&name) {
                    known.push(name);
                }
            }
            known
        }
        Meaning::How => owned(&["scan", "felt"]),
        _ => Vec::new(),
    }
}
