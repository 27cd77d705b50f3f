//! What a keeper writes, in plain types.

use units::Day;

/// An animal of the made-up room.
pub type Key = usize;

/// A minute of a day by the clock of the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// The day.
    pub day: Day,
    /// Minutes since midnight, below 1440.
    pub minute: i32,
}

/// When it happened, as exact as it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Happened {
    /// Nobody wrote when.
    Undated,
    /// Some time on a day.
    On(Day),
    /// At a minute.
    At(Moment),
}

/// One thing written down.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// When it happened.
    pub happened: Happened,
    /// When it was written.
    pub written: Moment,
    /// Who wrote it.
    pub who: &'static str,
    /// What it says.
    pub what: What,
}

/// What was seen of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lock {
    /// Seen.
    Seen,
    /// Suspected.
    Suspected,
    /// Looked, none seen.
    NoneSeen,
    /// Nobody looked.
    NotLooked,
}

/// How an animal left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaving {
    /// Dead.
    Died,
    /// Sold.
    Sold,
}

/// The kinds of things written down. Masses in whole grams, sizes in tenths of a millimetre.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields are the words of the records they become")]
pub enum What {
    Set {
        name: &'static str,
        value: String,
    },
    Added(Box<Newcomer>),
    SexTold {
        animal: Key,
        male: bool,
        how: &'static str,
    },
    Retagged {
        animal: Key,
        code: String,
    },
    Named {
        animal: Key,
        name: &'static str,
    },
    Moved {
        animal: Key,
        tub: String,
    },
    Left {
        animal: Key,
        how: Leaving,
        to: Option<&'static str>,
    },
    Borrowed {
        animal: Key,
        owner: &'static str,
        due: Day,
        share: &'static str,
    },
    Weighed {
        animal: Key,
        grams: u32,
    },
    Fed {
        animal: Key,
        prey: &'static str,
        count: u16,
        taken: bool,
    },
    Shed {
        animal: Key,
        pre_lay: bool,
    },
    InBlue {
        animal: Key,
    },
    Quarantine {
        animal: Key,
        begins: bool,
        what: &'static str,
    },
    Treatment {
        animal: Key,
        begins: bool,
        what: &'static str,
    },
    Scanned {
        female: Key,
        tenths: Vec<u16>,
    },
    Felt {
        female: Key,
        word: &'static str,
    },
    NothingFelt {
        female: Key,
    },
    Placed {
        male: Key,
        female: Key,
        until_noon: bool,
    },
    TakenOut {
        male: Key,
        female: Key,
    },
    LockLooked {
        male: Key,
        female: Key,
        night: Day,
        lock: Lock,
    },
    WarmedUp {
        female: Key,
    },
    Settled {
        female: Key,
    },
    Ovulated {
        female: Key,
        seen: bool,
    },
    Resorbed {
        female: Key,
    },
    Laid {
        clutch: usize,
        laying: Laying,
    },
    HatchedOut {
        clutch: usize,
        hatchlings: u16,
    },
    LooksLike {
        animal: Key,
        look: String,
    },
    Planned {
        female: Key,
        male: Key,
        first: bool,
        weight: f64,
    },
    PlannedCarrier {
        female: Key,
        gene: &'static str,
    },
    Noted {
        animal: Option<Key>,
        text: String,
    },
    /// The latest record that says `wrong` says `right`.
    Corrected {
        wrong: Box<What>,
        right: Box<What>,
    },
    /// The latest record that says `wrong` is withdrawn.
    Retracted {
        wrong: Box<What>,
        why: &'static str,
    },
}

/// An animal as it comes into the records.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are the words of the records they become")]
pub struct Newcomer {
    pub animal: Key,
    pub code: String,
    pub name: Option<&'static str>,
    pub male: Option<bool>,
    pub hatched: Day,
    pub genes: String,
    pub sire: Option<Key>,
    pub dam: Option<Key>,
    pub clutch: Option<String>,
    pub tub: String,
}

/// A clutch as it is written on the day of laying.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are the words of the records they become")]
pub struct Laying {
    pub female: Key,
    pub sire: Option<Key>,
    pub code: String,
    pub eggs: u16,
    pub slugs: u16,
    pub in_incubator: bool,
    pub grams: u32,
}

/// The pages being filled, and the hour of the day at which the pen is.
#[derive(Debug, Default)]
pub(super) struct Diary {
    pub events: Vec<Event>,
}

/// Who writes: mornings and evenings, two keepers.
const KEEPERS: [&str; 2] = ["Wren", "Odile"];

impl Diary {
    /// Written some minutes after it happened, and dated by the minute.
    pub fn at(&mut self, day: Day, minute: i32, what: What) {
        let happened = Happened::At(Moment { day, minute });
        self.push(happened, Moment { day, minute: minute + 1 + minute % 3 }, what);
    }

    /// Dated by the day, written at that minute of it.
    pub fn on(&mut self, day: Day, minute: i32, what: What) {
        self.push(Happened::On(day), Moment { day, minute }, what);
    }

    pub fn push(&mut self, happened: Happened, written: Moment, what: What) {
        let who = KEEPERS[usize::from(written.minute < 720 && written.day.number() % 3 == 0)];
        self.events.push(Event { happened, written, who, what });
    }

    /// In the order of writing; what was written in one minute stays in order.
    pub fn in_order(mut self) -> Vec<Event> {
        self.events.sort_by_key(|e| e.written);
        self.events
    }
}
