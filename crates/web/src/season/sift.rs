//! Which females the season shows and in which order, as its address says: `?next=laying&sort=size`.

use answers::{Phase, Step, rack};

use super::{Candidate, phase_order};
use crate::asking::{Fields, with_field};
use crate::failure::Failure;
use crate::site::View;
use crate::tonight::tub;

/// What a keeper asked to see. Kept in the address alone, so that it can be kept as a bookmark.
#[derive(Clone, Default)]
pub struct Sift {
    /// Only those for whom this is next.
    pub next: Option<Next>,
    /// Only those in this phase.
    pub phase: Option<Phase>,
    /// Only those whose name, tub or genes hold this, in small letters.
    pub find: String,
    /// In this order.
    pub order: Order,
}

/// What is next for a female: a step, or nothing that has a date.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// That.
    Step(Step),
    /// Nothing has a date.
    Nothing,
}

/// The orders a keeper can choose.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub enum Order {
    /// What happens next first.
    #[default]
    Date,
    /// By code.
    Name,
    /// Largest follicles first.
    Size,
    /// As one walks past the racks.
    Tub,
}

/// One choice, with how many females it would leave.
pub struct Choice {
    /// As an address says it.
    pub word: &'static str,
    /// As a keeper reads it.
    pub said: &'static str,
    /// How many.
    pub n: usize,
    /// Whether it is the one made.
    pub is_on: bool,
}

const PHASES: [Phase; 7] = [
    Phase::Unchecked,
    Phase::Resting,
    Phase::Building,
    Phase::Ovulated,
    Phase::Shed,
    Phase::Laid,
    Phase::Resorbed,
];

const NOTHING: &str = "nothing";

impl Next {
    fn all() -> impl Iterator<Item = Self> {
        Step::ALL.into_iter().map(Self::Step).chain([Self::Nothing])
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Step(step) => step.word(),
            Self::Nothing => NOTHING,
        }
    }

    const fn said(self) -> &'static str {
        match self {
            Self::Step(step) => step.said(),
            Self::Nothing => "nothing ahead",
        }
    }

    fn of(female: &Candidate) -> Self {
        female.step().map_or(Self::Nothing, Self::Step)
    }
}

impl Order {
    const ALL: [Self; 4] = [Self::Date, Self::Name, Self::Size, Self::Tub];

    const fn word(self) -> &'static str {
        match self {
            Self::Date => "date",
            Self::Name => "name",
            Self::Size => "size",
            Self::Tub => "tub",
        }
    }

    const fn said(self) -> &'static str {
        match self {
            Self::Date => "soonest first",
            Self::Name => "by name",
            Self::Size => "largest first",
            Self::Tub => "by tub",
        }
    }

    /// Puts them in order; those that are equal stay as they are, by code.
    pub fn sort(self, view: &View, females: &mut [Candidate]) {
        let code = |f: &Candidate| rack::order(Some(view.colony.code(f.standing.place)));
        females.sort_by_key(code);
        match self {
            Self::Date => females.sort_by_key(|f| {
                let date = f.next.as_ref().map(|next| next.date.median);
                let is_unlikely = f.next.as_ref().is_none_or(answers::Coming::is_unlikely);
                (is_unlikely, date, phase_order(f.standing.phase))
            }),
            Self::Name => {}
            Self::Size => females.sort_by(|a, b| {
                let size =
                    |f: &Candidate| f.standing.size.as_ref().map_or(-1.0, |s| s.median.get());
                size(b).total_cmp(&size(a))
            }),
            Self::Tub => females.sort_by_key(|f| rack::order(tub(view, f.standing.place))),
        }
    }
}

impl Sift {
    /// As the address says.
    pub fn asked(asked: &Fields) -> Result<Self, Failure> {
        let next = chosen(asked, "next", Next::all(), Next::word)?;
        let phase = chosen(asked, "phase", PHASES.into_iter(), Phase::word)?;
        let order = chosen(asked, "sort", Order::ALL.into_iter(), Order::word)?;
        let find = asked.get("find").unwrap_or_default().to_lowercase();
        Ok(Self { next, phase, find, order: order.unwrap_or_default() })
    }

    /// Whether some may be left out.
    pub fn is_on(&self) -> bool {
        self.next.is_some() || self.phase.is_some() || !self.find.is_empty()
    }

    /// Whether this female is shown.
    pub fn takes(&self, female: &Candidate) -> bool {
        self.takes_next(female) && self.takes_phase(female) && self.finds(female)
    }

    fn takes_next(&self, female: &Candidate) -> bool {
        self.next.is_none_or(|next| next == Next::of(female))
    }

    fn takes_phase(&self, female: &Candidate) -> bool {
        self.phase.is_none_or(|phase| phase == female.standing.phase)
    }

    fn finds(&self, female: &Candidate) -> bool {
        self.find.split_whitespace().all(|word| female.words.contains(word))
    }

    /// The page's address without its day.
    pub fn path(&self) -> String {
        let mut path = "/season".to_owned();
        let mut field = |name: &str, value: &str| path = with_field(&path, name, value);
        if let Some(next) = self.next {
            field("next", next.word());
        }
        if let Some(phase) = self.phase {
            field("phase", phase.word());
        }
        if !self.find.is_empty() {
            field("find", &self.find);
        }
        if self.order != Order::default() {
            field("sort", self.order.word());
        }
        path
    }

    /// What is next, as choices with the page of each: every one that leaves somebody, and the one
    /// made.
    pub fn steps(&self, view: &View, females: &[Candidate]) -> Vec<(Choice, String)> {
        let others = || females.iter().filter(|f| self.takes_phase(f) && self.finds(f));
        let choice = |next: Option<Next>| {
            let n = others().filter(|f| next.is_none_or(|next| Next::of(f) == next)).count();
            let (word, said) = next.map_or(("", "all"), |next| (next.word(), next.said()));
            let link = view.link(&Self { next, ..self.clone() }.path());
            (Choice { word, said, n, is_on: self.next == next }, link)
        };
        let each = [None].into_iter().chain(Next::all().map(Some)).map(choice);
        each.filter(|(choice, _)| choice.is_offered()).collect()
    }

    /// Phases, as choices.
    pub fn phases(&self, females: &[Candidate]) -> Vec<Choice> {
        let others = || females.iter().filter(|f| self.takes_next(f) && self.finds(f));
        let choice = |phase: Option<Phase>| {
            let n =
                others().filter(|f| phase.is_none_or(|phase| f.standing.phase == phase)).count();
            let (word, said) =
                phase.map_or(("", "any phase"), |phase| (phase.word(), phase.word()));
            Choice { word, said, n, is_on: self.phase == phase }
        };
        let each = [None].into_iter().chain(PHASES.map(Some)).map(choice);
        each.filter(Choice::is_offered).collect()
    }

    /// The words of the orders, as a form offers them.
    pub fn orders(&self) -> Vec<(&'static str, &'static str, bool)> {
        Order::ALL.into_iter().map(|o| (o.word(), o.said(), self.order == o)).collect()
    }

    /// The field `next` of the form, to be carried on.
    pub fn next_word(&self) -> &'static str {
        self.next.map_or("", Next::word)
    }

    /// "laying is next; laid; \"clown\"; by name".
    pub fn said(&self) -> String {
        let next = self.next.map(|next| match next {
            Next::Step(step) => format!("{} is next", step.said()),
            Next::Nothing => "nothing ahead".to_owned(),
        });
        let phase = self.phase.map(|phase| phase.word().to_owned());
        let find = (!self.find.is_empty()).then(|| format!("“{}”", self.find));
        let parts: Vec<String> = next
            .into_iter()
            .chain(phase)
            .chain(find)
            .chain([self.order.said().to_owned()])
            .collect();
        parts.join("; ")
    }
}

impl Choice {
    fn is_offered(&self) -> bool {
        self.n > 0 || self.is_on || self.word.is_empty()
    }
}

/// One of those words, where the address names one.
fn chosen<T: Copy>(
    asked: &Fields,
    name: &str,
    among: impl Iterator<Item = T>,
    word: impl Fn(T) -> &'static str,
) -> Result<Option<T>, Failure> {
    let Some(text) = asked.get(name) else { return Ok(None) };
    let among: Vec<T> = among.collect();
    let found = among.iter().copied().find(|one| word(*one) == text);
    found.map(Some).ok_or_else(|| {
        let words: Vec<&str> = among.iter().map(|one| word(*one)).collect();
        Failure::typed(
            format!("The season cannot be sifted by \"{name}={text}\"."),
            format!("Take one of {}, or begin at Season again.", words.join(", ")),
        )
    })
}
