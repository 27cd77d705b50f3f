//! "Will she lay again?" The chance that a female that laid last year lays this season, by what she
//! ate since: common practice as a weak prior, moved by the room's own years.

use forecast::student::beta_share;
use records::{Animal, Colony, Meal, RecordId, Sex};
use units::{Day, Estimate, Probability, Season};

use crate::settings::in_force;

/// Chances taken for granted, as if seen of so many females: one in two lays again, and one and a
/// half times as many of those that ate more (common practice, no source, says "about 50 % better"
/// and gives no base; that it counts for four females each is our choice).
const ATE_LESS: [f64; 2] = [2.0, 2.0];
const ATE_MORE: [f64; 2] = [3.0, 1.0];

/// What became of the room's females of one group.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Group {
    /// Females that had laid the season before, one a season.
    pub females: u32,
    /// Of them laid again.
    pub laid: u32,
}

/// The room's years, by what was eaten between two seasons.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RepeatYears {
    /// Ate more than the setting says.
    pub more: Group,
    /// Ate less.
    pub less: Group,
}

/// One female that laid last season.
#[derive(Clone, Debug, PartialEq)]
pub struct RepeatLaying {
    /// Her place in the colony.
    pub place: usize,
    /// The day she laid.
    pub laid: Day,
    /// Feeders she took since, up to the season's opening or today.
    pub eaten: u32,
    /// Whether that is more than the setting.
    pub ate_more: bool,
    /// The chance that she lays in this season.
    pub chance: Estimate<Probability>,
    /// What it rests on of the room's own years.
    pub years: RepeatYears,
    /// The sentence.
    pub reason: String,
    /// Her laying and the meals counted.
    pub records: Vec<RecordId>,
}

/// Every female in the house that laid last season and not yet in this one, likeliest first.
#[must_use]
pub fn repeat_laying(colony: &Colony) -> Vec<RepeatLaying> {
    let years = repeat_years(colony);
    let season = colony.season();
    let today = colony.as_of.day;
    let here = |a: &Animal| a.presence(today) == records::colony::Presence::InHouse;
    let asked = (0..colony.animals.len()).filter(|p| here(&colony.animals[*p]));
    let mut all: Vec<RepeatLaying> =
        asked.filter_map(|place| of_one(colony, &years, place, season)).collect();
    all.sort_by(|a, b| {
        let by = b.chance.median.get().total_cmp(&a.chance.median.get());
        by.then_with(|| colony.code(a.place).cmp(colony.code(b.place)))
    });
    all
}

fn of_one(
    colony: &Colony,
    years: &RepeatYears,
    place: usize,
    season: Season,
) -> Option<RepeatLaying> {
    let animal = &colony.animals[place];
    let (laid, record) = laid_in(colony, animal, before(colony, season))?;
    let again = laid_in(colony, animal, season).is_some();
    let counted = eaten(animal, laid, season.opens().min(colony.as_of.day));
    // What she ate says nothing more once it shows what she does.
    let today = colony.as_of.day;
    let shows = |day: Day| day >= season.opens() && day <= today;
    let is_decided = again
        || animal.ovulated.iter().any(|o| shows(o.day))
        || animal.resorbed.iter().any(|r| shows(r.day));
    if animal.sex() != Some(Sex::Female) || is_decided || counted.is_empty() {
        return None;
    }
    let over = in_force(colony).feeding.repeat_over;
    let n: u32 = counted.iter().map(|(n, _)| n).sum();
    let ate_more = n > over;
    let group = if ate_more { years.more } else { years.less };
    let chance = chance(group, ate_more);
    let mut records = vec![record];
    records.extend(counted.iter().map(|(_, record)| *record));
    let than = if ate_more { "more than" } else { "no more than" };
    let of_room = match group.females {
        0 => format!("no female of the room that ate {than} {over} is on record yet"),
        females => format!(
            "of {females} in your records that ate {than} {over}, {} laid again",
            group.laid
        ),
    };
    let reason = format!(
        "{} that she lays again ({} to {}, 80 %): laid on {} and took {n} feeders from then to the \
         season's opening; {of_room}; common practice counts as four more.",
        chance.median,
        chance.low,
        chance.high,
        laid.spoken_with_year()
    );
    Some(RepeatLaying { place, laid, eaten: n, ate_more, chance, years: *years, reason, records })
}

/// Beta and binomial are conjugate (Gelman and others 2013, section 2.4).
fn chance(group: Group, ate_more: bool) -> Estimate<Probability> {
    let [a, b] = if ate_more { ATE_MORE } else { ATE_LESS };
    let (a, b) = (a + f64::from(group.laid), b + f64::from(group.females - group.laid));
    let at = |share: f64| {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if beta_share(middle, a, b) < share { low = middle } else { high = middle }
        }
        Probability::clamped(0.5 * (low + high))
    };
    Estimate {
        median: Probability::clamped(a / (a + b)),
        low: at(0.1),
        high: at(0.9),
        coverage: Probability::clamped(0.8),
        method: "mean of a beta distribution, prior from common practice",
    }
}

/// What became of every female that had laid the season before, over the seasons that are over.
///
/// Only those count that stayed in the house to the season's end and of which meals are written: of
/// others nobody knows. What is eaten once the season is open counts no more: by then follicles may
/// grow, and who grows them stops eating.
#[must_use]
pub fn repeat_years(colony: &Colony) -> RepeatYears {
    let over = in_force(colony).feeding.repeat_over;
    let mut years = RepeatYears::default();
    for animal in &colony.animals {
        let mut seasons: Vec<Season> =
            animal.laid.iter().map(|l| Season::holding(l.day, colony.season_opening())).collect();
        seasons.dedup();
        for first in seasons {
            let next = after(colony, first);
            let Some((laid, _)) = laid_in(colony, animal, first) else { continue };
            let end = after(colony, next).opens();
            let is_over = end <= colony.as_of.day;
            let is_here = animal.left.iter().all(|l| l.day < laid || l.day >= end);
            let counted = eaten(animal, laid, next.opens());
            if !is_over || !is_here || counted.is_empty() {
                continue;
            }
            let n: u32 = counted.iter().map(|(n, _)| n).sum();
            let group = if n > over { &mut years.more } else { &mut years.less };
            group.females += 1;
            group.laid += u32::from(laid_in(colony, animal, next).is_some());
        }
    }
    years
}

/// The last laying within a season.
fn laid_in(colony: &Colony, animal: &Animal, season: Season) -> Option<(Day, RecordId)> {
    let end = after(colony, season).opens();
    let within = |day: Day| season.opens() <= day && day < end;
    animal.laid.iter().rfind(|l| within(l.day)).map(|l| (l.day, l.record))
}

/// Feeders taken after one day and before another, with the records.
fn eaten(animal: &Animal, after: Day, before: Day) -> Vec<(u32, RecordId)> {
    let taken = animal.meals.iter().filter(|m| m.what.meal == Meal::Taken);
    let between = taken.filter(|m| after < m.day && m.day < before);
    between.map(|m| (u32::from(m.what.count), m.record)).collect()
}

fn before(colony: &Colony, season: Season) -> Season {
    Season::holding(season.opens() - 1, colony.season_opening())
}

fn after(colony: &Colony, season: Season) -> Season {
    // A year and a day on: past the next opening whatever the length of the year.
    Season::holding(season.opens() + 367, colony.season_opening())
}
