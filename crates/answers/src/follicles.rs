//! "Where does each female stand?"

use forecast::{Chain, Milestone, Passage, Seen, StateChances};
use records::words::{Sex, ShedKind};
use records::{Animal, Colony, Dated};
use units::{Day, Estimate, Grams, Millimetres, Probability, Season};

use crate::cycle::{Standing, standing};
use crate::incubation::durations_of;
use crate::room_forecasts::RoomForecasts;
use crate::room_forecasts::chain::{OVULATION_HOLDS_DAYS, firsts};
use crate::settings::rules;

/// Where a female is in her year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Checked, and follicles have most likely not begun.
    Resting,
    /// Follicles grow or stand still.
    Building,
    /// She ovulated.
    Ovulated,
    /// She had her pre-lay shed.
    Shed,
    /// She laid this season.
    Laid,
    /// Her follicles went back, or most likely do.
    Resorbed,
    /// No check in this cycle.
    Unchecked,
}

impl Phase {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Resting => "resting",
            Self::Building => "building",
            Self::Ovulated => "ovulated",
            Self::Shed => "shed",
            Self::Laid => "laid",
            Self::Resorbed => "resorbed",
            Self::Unchecked => "unchecked",
        }
    }
}

/// The sizes asked about, mm (common practice, no source: sizes at which a mating is wanted).
pub const MILESTONES: [(&str, Milestone); 5] = [
    ("12", Milestone::Size(12.0)),
    ("22", Milestone::Size(22.0)),
    ("32", Milestone::Size(32.0)),
    ("40", Milestone::Size(40.0)),
    ("ovulation", Milestone::Ovulation),
];

/// One milestone: how likely, and when.
#[derive(Clone, Debug)]
pub struct Ahead {
    /// "12", "22", "32", "40" or "ovulation".
    pub milestone: &'static str,
    /// Behind her, ahead, or not in this cycle.
    pub passage: Passage,
    /// When, on condition that it is ahead; none where it is passed or the cycle is closed.
    pub date: Option<Estimate<Day>>,
}

/// Where one female stands tonight.
#[derive(Clone, Debug)]
pub struct FemaleStanding {
    /// Her place in the colony.
    pub place: usize,
    /// Where she is in her year.
    pub phase: Phase,
    /// Size of her largest follicles tonight; none where she was not checked in this cycle, and none
    /// once she ovulated, written or most likely: then there are eggs and no follicles.
    pub size: Option<Estimate<Millimetres>>,
    /// The four states of the follicle model.
    pub state: StateChances,
    /// The four sizes and ovulation.
    pub ahead: Vec<Ahead>,
    /// Dates from ovulation to hatching, each seen one replacing its forecast.
    pub chain: Chain,
    /// What has been seen of them.
    pub seen: Seen,
    /// Her cycle, for whoever needs to ask it more.
    pub standing: Standing,
}

impl FemaleStanding {
    /// The phase as a page says it: where follicles are there, what they most likely do, named only
    /// where the chance of it allows.
    #[must_use]
    pub fn said(&self) -> &'static str {
        if self.phase != Phase::Building {
            return self.phase.word();
        }
        if self.has_most_likely_ovulated() {
            return "most likely ovulated";
        }
        let state = &self.state;
        let [growing, stalled, resorbing] =
            [state.growing, state.stalled, state.resorbing].map(Probability::get);
        if stalled >= NAMED_FROM {
            "stalled"
        } else if resorbing >= NAMED_FROM {
            "most likely going back"
        } else if growing < stalled || growing < resorbing {
            "undecided: growing, stalled or going back"
        } else {
            self.phase.word()
        }
    }

    /// Her last check and how many days ago it was, where follicles could have come anywhere since, so
    /// that it says no more what is next. Once she ovulated, dates go by that.
    #[must_use]
    pub fn checked_too_long_ago(&self) -> Option<(Day, i32)> {
        let last = self.seen.last_check?;
        let days = self.standing.belief.today().days_since(last);
        let holds = match self.phase {
            Phase::Building if self.has_most_likely_ovulated() => HOLDS_UNSEEN_DAYS,
            Phase::Building | Phase::Resting => HOLDS_DAYS,
            _ => return None,
        };
        (days > holds).then_some((last, days))
    }

    /// Whether ovulation, which nobody wrote down, is more likely behind her than not.
    #[must_use]
    pub fn has_most_likely_ovulated(&self) -> bool {
        self.phase == Phase::Building
            && self.ovulation().is_some_and(|passage| passage.passed.get() >= PASSED)
    }

    /// How likely she has ovulated, will, or will not in this cycle.
    #[must_use]
    pub fn ovulation(&self) -> Option<Passage> {
        self.ahead.iter().find(|a| a.milestone == "ovulation").map(|a| a.passage)
    }

    /// The next size or event that is more likely not behind her; none where follicles are not
    /// there or the cycle is closed. Its chance may be small: whoever shows it tells that too.
    #[must_use]
    pub fn next(&self) -> Option<&Ahead> {
        let is_building = self.phase == Phase::Building;
        self.ahead.iter().find(|a| is_building && a.passage.passed.get() < PASSED)
    }
}

/// From this chance of being behind her a size or ovulation counts as passed.
pub(crate) const PASSED: f64 = 0.5;

/// A check says for so many days what is next: twice the four weeks between checks of a female that
/// rests. Our own choice.
pub const HOLDS_DAYS: i32 = 56;
/// The same where she most likely ovulated unseen: then dates of laying rest on it, which comes about
/// 50 days after (common practice, no source), and four weeks more. Our own choice.
const HOLDS_UNSEEN_DAYS: i32 = 84;
/// Below this chance a stall or going back is never named (our choice).
const NAMED_FROM: f64 = 0.6;
/// Beyond this chance a female counts as resorbing.
const RESORBING: f64 = 0.8;

/// Each female in the house that is of breeding size, or was checked or placed in this cycle.
#[must_use]
pub fn follicles(colony: &Colony, room: &RoomForecasts) -> Vec<FemaleStanding> {
    let today = colony.as_of.day;
    let least = rules(colony).female_at_least;
    let is_hers = |place: &usize| {
        let animal = &colony.animals[*place];
        let is_here = animal.presence(today) == records::colony::Presence::InHouse;
        is_here && animal.sex() == Some(Sex::Female)
    };
    let females: Vec<usize> = (0..colony.animals.len()).filter(is_hers).collect();
    let some = |places: &[usize]| -> Vec<FemaleStanding> {
        places.iter().filter_map(|place| of_breeding(colony, room, least, *place)).collect()
    };
    let mut all = if females.len() < WORTH_SHARING {
        some(&females)
    } else {
        let (first, second) = females.split_at(females.len() / 2);
        std::thread::scope(|scope| {
            let second_half = scope.spawn(|| some(second));
            let mut all = some(first);
            // A worker that fell over is made up for here, where its reason will show.
            all.extend(second_half.join().unwrap_or_else(|_| some(second)));
            all
        })
    };
    all.sort_by(|a, b| colony.code(a.place).cmp(colony.code(b.place)));
    all
}

/// Of fewer females a worker of its own is not worth its start.
const WORTH_SHARING: usize = 40;

/// Her standing, where she is large enough to breed or in a cycle.
fn of_breeding(
    colony: &Colony,
    room: &RoomForecasts,
    least: Option<Grams>,
    place: usize,
) -> Option<FemaleStanding> {
    let weight = colony.animals[place].last_weight();
    let is_large = weight.is_some_and(|weight| least.is_none_or(|least| weight.what >= least));
    let standing = standing(colony, room, place, colony.as_of.day);
    (is_large || standing.is_open()).then(|| of_one(colony, room, place, standing))
}

fn of_one(
    colony: &Colony,
    room: &RoomForecasts,
    place: usize,
    standing: Standing,
) -> FemaleStanding {
    let animal = &colony.animals[place];
    let opened = standing.span.filter(|s| s.closed.is_none()).map(|s| s.opened);
    let last_check = standing.checks.last().map(|check| check.day);
    let seen = seen(colony, animal, (opened, last_check), colony.as_of.day);
    let phase = phase(&standing, &seen);
    let outlook = standing.belief.outlook(Milestone::Ovulation);
    let from = (!standing.resorbed()).then_some(&outlook);
    let today = colony.as_of.day;
    let durations = durations_of(colony, room, place, &seen, today);
    let mut chain = Chain::ahead(&durations, &seen, from, today);
    room.widening.widen(&mut chain, today);
    let is_behind = seen.last().is_some();
    let ahead: Vec<Ahead> = MILESTONES
        .iter()
        .map(|(milestone, what)| {
            let outlook = match what {
                Milestone::Ovulation => outlook.clone(),
                size => standing.belief.outlook(*size),
            };
            let certain = |passed: bool| Passage {
                passed: if passed { Probability::ONE } else { Probability::ZERO },
                ahead: Probability::ZERO,
                never: if passed { Probability::ZERO } else { Probability::ONE },
            };
            if is_behind {
                Ahead { milestone, passage: certain(true), date: None }
            } else if standing.resorbed() {
                Ahead { milestone, passage: certain(false), date: None }
            } else {
                let date = match what {
                    Milestone::Ovulation => chain.ovulation.clone(),
                    Milestone::Size(mm) => {
                        outlook.date().map(|date| room.widening.at_size(*mm, date, today))
                    }
                };
                Ahead { milestone, passage: outlook.passage, date }
            }
        })
        .collect();
    let has_follicles = !is_behind && outlook.passage.passed.get() < PASSED;
    let size = (has_follicles && !standing.checks.is_empty()).then(|| standing.belief.size());
    let state = standing.belief.states();
    FemaleStanding { place, phase, size, state, ahead, chain, seen, standing }
}

/// What has been seen of the chain this season: ovulation, or the pre-lay shed where that was
/// missed, and what followed. What the colony knows of days after `today` is left out. Of a cycle
/// under way the day it opened and that of its last check are told.
pub(crate) fn seen(
    colony: &Colony,
    animal: &Animal,
    (opened, last_check): (Option<Day>, Option<Day>),
    today: Day,
) -> Seen {
    let season = Season::holding(today, colony.season_opening()).opens();
    let by_now = |day: &Day| *day <= today;
    let laid = || animal.laid.iter().map(|l| l.day).filter(by_now);
    let laying = laid().rfind(|d| *d >= season);
    let since = laid().rfind(|d| laying.is_none_or(|l| *d < l));
    let holds = |day: Day| {
        day <= today
            && since.is_none_or(|since| day > since)
            // Until she lays it holds for all of its season: she may be egg-bound.
            && (laying.is_none() && day >= season
                || laying.unwrap_or(today).days_since(day) <= OVULATION_HOLDS_DAYS)
            && laying.is_none_or(|laying| day <= laying)
    };
    let ovulation = animal.ovulated.iter().map(|o| o.day).rfind(|day| holds(*day));
    let pre_lay = animal.sheds.iter().filter(|s| s.what == ShedKind::PreLay).map(|s| s.day);
    let mut pre_lay = pre_lay.filter(|day| holds(*day));
    let shed = match ovulation {
        Some(ovulation) => pre_lay.find(|day| *day > ovulation),
        None => pre_lay.next_back(),
    };
    let clutch = laying.and_then(|laid| {
        let is_hers = |female: usize| colony.animals[female].id == animal.id;
        colony.clutches.iter().rfind(|c| c.laid == Some(laid) && is_hers(c.female))
    });
    let hatch = clutch.and_then(|c| c.hatched_by(today));
    let (first_shed, first_meal) =
        clutch.map_or((None, None), |clutch| firsts(colony, clutch, hatch));
    let warm = |days: &[Dated<()>]| {
        days.iter().map(|d| d.day).filter(by_now).rfind(|d| Some(*d) >= opened)
    };
    Seen {
        last_check,
        warmed: opened.and_then(|_| warm(&animal.warmed)),
        settled: opened.and_then(|_| warm(&animal.settled)),
        ovulation,
        shed,
        laying,
        hatch,
        first_shed: first_shed.filter(by_now),
        first_meal: first_meal.filter(by_now),
        none_hatches: clutch.is_some_and(|c| c.is_lost_by(today)),
    }
}

fn phase(standing: &Standing, seen: &Seen) -> Phase {
    if seen.laying.is_some() {
        Phase::Laid
    } else if seen.shed.is_some() {
        Phase::Shed
    } else if seen.ovulation.is_some() {
        Phase::Ovulated
    } else if standing.resorbed() {
        Phase::Resorbed
    } else if standing.checks.is_empty() {
        Phase::Unchecked
    } else {
        let states = standing.belief.states();
        if states.resorbing.get() > RESORBING {
            Phase::Resorbed
        } else if states.resting.get() >= 0.5 {
            Phase::Resting
        } else {
            Phase::Building
        }
    }
}
