//! The working book of an import: what the journal says already, and what this import adds.

use std::collections::{HashMap, HashSet};

use records::colony::Bearer;
use records::facts::Corrected;
use records::journal::{Live, standing};
use records::{AsOf, Colony, Draft, Fact, Record, RecordId, Source};
use units::{Day, When, Zone};

use super::key::{derived, exact, slot};
use super::preview::Options;
use super::waiting::UNKNOWN;
use super::{held, near};

/// Drafts come after everything that is in the journal.
const BEYOND: u64 = 1_000_000_000;

/// Where a row stands: index of its sheet and of its row.
pub type At = (usize, usize);

/// A fact that a row asks for.
#[derive(Clone, Debug)]
pub struct Wish {
    pub when: When,
    pub fact: Fact,
    /// The id our own export gave it.
    pub id: Option<RecordId>,
}

impl Wish {
    pub fn on(day: Day, fact: Fact) -> Self {
        Self { when: When::Day(day), fact, id: None }
    }
}

/// What stands in the way of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Obstacle {
    pub value: String,
    pub why: String,
}

/// What became of the wishes of one row.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// Drafts to be written.
    pub drafts: Vec<Draft>,
    /// Set when the row is held instead.
    pub obstacle: Option<Obstacle>,
}

pub struct Book<'a> {
    pub options: &'a Options<'a>,
    pub zone: &'a Zone,
    /// Everything that stands, with what this import added so far.
    pub lives: Vec<Live>,
    pub colony: Colony,
    /// All ids ever written, standing or not.
    pub ids: HashSet<RecordId>,
    /// Rows of the journal that wait for an answer.
    pub waiting: HashSet<RecordId>,
    /// Rows that waited once and whose question was settled.
    pub dealt_with: HashSet<RecordId>,
    /// Codes that hatchlings of this import are kept as.
    pub kept: HashSet<String>,
    /// Rows that this import holds.
    pub held_now: HashSet<RecordId>,
    counts: HashMap<String, usize>,
    /// What holds each place, and whether it was in the journal.
    slots: HashMap<String, (String, bool)>,
    in_file: HashMap<(usize, String), usize>,
}

impl<'a> Book<'a> {
    pub fn new(journal: &[Record], zone: &'a Zone, options: &'a Options<'a>) -> Self {
        let lives = standing(journal);
        let colony = Colony::fold(&lives, zone, AsOf::end_of_time());
        let mut book = Self {
            options,
            zone,
            dealt_with: held::dealt_with(journal, &lives, &colony),
            held_now: HashSet::new(),
            kept: HashSet::new(),
            colony,
            lives: vec![],
            ids: journal.iter().map(Record::id).collect(),
            waiting: HashSet::new(),
            counts: HashMap::new(),
            slots: HashMap::new(),
            in_file: HashMap::new(),
        };
        for live in &lives {
            book.note(&live.fact, live.when, true);
            if matches!(live.fact, Fact::Held(_)) {
                book.waiting.insert(live.id);
            }
        }
        book.lives = lives;
        book
    }

    fn note(&mut self, fact: &Fact, when: When, in_journal: bool) {
        *self.counts.entry(exact(fact, when)).or_default() += 1;
        if let Some((slot, value)) = slot(fact, when) {
            self.slots.insert(slot, (value, in_journal));
        }
    }

    /// Folds anew, so that animals added so far can be found by their codes.
    pub fn refold(&mut self) {
        self.colony = Colony::fold(&self.lives, self.zone, AsOf::end_of_time());
    }

    /// Takes the wishes of one row: all that is new, or none where one of them clashes.
    pub fn take(&mut self, at: At, source: &Source, wishes: Vec<Wish>) -> Outcome {
        let mut outcome = Outcome::default();
        for wish in &wishes {
            if let Some(obstacle) = self.clash(wish) {
                outcome.obstacle = Some(obstacle);
                return outcome;
            }
        }
        for wish in wishes {
            outcome.drafts.extend(self.take_one(at, source, wish));
        }
        outcome
    }

    fn clash(&self, wish: &Wish) -> Option<Obstacle> {
        let (slot, value) = slot(&wish.fact, wish.when)?;
        let (held, in_journal) = self.slots.get(&slot)?;
        // Our own export carries both of two records that contradict each other.
        let is_own = wish.id.is_some_and(|id| !self.ids.contains(&id)) && !in_journal;
        (*held != value && !is_own).then(|| Obstacle {
            value: value.clone(),
            why: format!(
                "The records already have another value for \"{}\" on {}: {held} there, {value} \
                 here. If the records are right, leave this row out; if this row is, correct \
                 the record, then answer with the value again.",
                wish.fact.kind(),
                wish.when
            ),
        })
    }

    /// How often this was read in one sheet, this time with it.
    pub fn nth(&mut self, sheet: usize, key: &str) -> usize {
        let seen = self.in_file.entry((sheet, key.to_owned())).or_default();
        *seen += 1;
        *seen
    }

    fn take_one(&mut self, at: At, source: &Source, wish: Wish) -> Option<Draft> {
        let key = exact(&wish.fact, wish.when);
        let (n, known) = (self.nth(at.0, &key), self.counts.get(&key).copied().unwrap_or(0));
        if n <= known {
            return None;
        }
        let given = wish.id.filter(|id| !self.ids.contains(id));
        let id = given.unwrap_or_else(|| self.free_id(&key, n));
        Some(self.add(id, source, wish.when, wish.fact))
    }

    /// The first derived id that was never written.
    pub fn free_id(&self, key: &str, n: usize) -> RecordId {
        let mut turn = 0;
        loop {
            let id = derived(key, n, turn);
            if !self.ids.contains(&id) {
                return id;
            }
            turn += 1;
        }
    }

    /// Adds a draft to the book without asking whether it is new.
    pub fn add(&mut self, id: RecordId, source: &Source, when: When, fact: Fact) -> Draft {
        self.note(&fact, when, false);
        self.ids.insert(id);
        let draft = self.draft(id, source, when, fact);
        self.lives.push(Live::of(&draft, self.lives.len() as u64 + BEYOND));
        draft
    }

    /// Corrects a record of the journal.
    pub fn correct(&mut self, source: &Source, record: RecordId, when: When, fact: Fact) -> Draft {
        let id = self.free_id(&format!("corrected|{record}|{when}|{fact:?}"), 1);
        self.ids.insert(id);
        if let Some(live) = self.lives.iter_mut().find(|live| live.id == record) {
            (live.when, live.fact, live.corrected_by) = (when, fact.clone(), Some(id));
        }
        let fact = Fact::Corrected(Corrected { record, when, fact: Box::new(fact) });
        self.draft(id, source, When::Undated, fact)
    }

    fn draft(&self, id: RecordId, source: &Source, when: When, fact: Fact) -> Draft {
        Draft {
            id,
            when,
            written: self.options.now,
            who: self.options.who.to_owned(),
            batch: Some(self.options.batch),
            source: Some(source.clone()),
            fact,
        }
    }

    /// The animal a code means on a day, or why nobody can tell.
    pub fn animal(&self, code: &str, day: Option<Day>) -> Result<usize, Obstacle> {
        match self.colony.bearer(code, day) {
            Bearer::One(place) => Ok(place),
            Bearer::Nobody => Err(self.unknown(code)),
            Bearer::Several(_) => Err(Obstacle {
                value: code.to_owned(),
                why: format!(
                    "Two animals bear the code {code} at that time. Re-tag one of them, then \
                     answer again."
                ),
            }),
        }
    }

    fn unknown(&self, code: &str) -> Obstacle {
        let codes = self.colony.animals.iter().flat_map(|a| &a.codes).map(|s| s.code.as_str());
        let near = near::matches(code, codes);
        let hint = if near.is_empty() {
            "Add the animal, or correct the code.".to_owned()
        } else {
            format!("Near it: {}. Correct the code, or add the animal.", near.join(", "))
        };
        Obstacle { value: code.to_owned(), why: format!("{UNKNOWN}\"{code}\" on that day. {hint}") }
    }
}
