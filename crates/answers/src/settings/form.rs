//! How the text of a setting is read, and how its value is written.

use std::ops::RangeInclusive;

use forecast::Classes;
use schedule::ByBand;
use units::{Grams, Millimetres, Probability, Season};

use super::InForce;
use super::feeding::{MealClass, classes, told};
use super::genes::{self, CarrierChance};
use crate::felt;

/// Where a value stands among all that is in force.
pub type At<T> = fn(&mut InForce) -> &mut T;

/// What a setting may hold, and where.
pub enum Form {
    /// A mass, or `off`.
    Mass(At<Option<Grams>>),
    /// A share in percent, or `off`.
    ShareOrOff(At<Option<Probability>>),
    /// A share in percent.
    Share(At<Probability>),
    /// Whole nights, or `off`.
    NightsOrOff(At<Option<u32>>),
    /// A whole number of these things.
    Whole(RangeInclusive<u32>, &'static str, At<u32>),
    /// A number without a unit.
    Number(RangeInclusive<f64>, At<f64>),
    /// An amount of money, or `off`.
    AmountOrOff(At<Option<f64>>),
    /// A size in mm.
    Size(At<f64>),
    /// Lower edges of the four bands, mm.
    Bands(At<ByBand<Millimetres>>),
    /// `yes` or `no`.
    YesNo(At<bool>),
    /// Usual meals by weight.
    Meals(At<Vec<MealClass>>),
    /// Chances by gene or animal.
    Carriers(At<Vec<CarrierChance>>),
    /// Month and day.
    SeasonOpens,
    /// Words with their class.
    FeltWords,
}

/// Greatest mass a limit may be, g; our choice, above any ball python.
const MOST_GRAMS: f64 = 10_000.0;
/// Sizes of follicles, mm; our choice.
const SIZES: RangeInclusive<f64> = 1.0..=60.0;
/// Most a proof may cost; our choice.
const MOST_MONEY: f64 = 1e6;
/// Most nights a limit may be.
const MOST_NIGHTS: u32 = 365;

impl Form {
    /// Reads a text into what is in force; none, and nothing changed, where it cannot be read.
    pub fn read(&self, text: &str, force: &mut InForce) -> Option<()> {
        let plain = text.trim().to_lowercase();
        match self {
            Self::Mass(at) => *at(force) = or_off(&plain, grams)?,
            Self::ShareOrOff(at) => *at(force) = or_off(&plain, percent)?,
            Self::Share(at) => *at(force) = percent(&plain)?,
            Self::NightsOrOff(at) => *at(force) = or_off(&plain, nights)?,
            Self::Whole(range, unit, at) => {
                let plain = plain.trim_end_matches(unit).trim_end();
                *at(force) = whole(plain).filter(|n| range.contains(n))?;
            }
            Self::Number(range, at) => {
                *at(force) = number(&plain).filter(|n| range.contains(n))?;
            }
            Self::AmountOrOff(at) => {
                let amount = |text: &str| number(text).filter(|n| (0.0..=MOST_MONEY).contains(n));
                *at(force) = or_off(&plain, amount)?;
            }
            Self::Size(at) => *at(force) = size(&plain)?,
            Self::Bands(at) => *at(force) = bands(&plain)?,
            Self::YesNo(at) => *at(force) = yes_no(&plain)?,
            Self::Meals(at) => *at(force) = classes(text)?,
            Self::Carriers(at) => {
                *at(force) = if plain == "none" { vec![] } else { genes::carriers(text)? };
            }
            Self::SeasonOpens => drop(Season::read_opening(&plain)?),
            Self::FeltWords => {
                let known = Classes::default();
                let is_read = |pair: &str| {
                    felt::own_word(pair).is_some_and(|(_, class)| known.felt(class).is_some())
                };
                (plain == "none" || text.split(',').all(is_read)).then_some(())?;
            }
        }
        Some(())
    }

    /// The value in force, as it could be typed.
    pub fn written(&self, force: &mut InForce) -> String {
        let off = |value: Option<String>| value.unwrap_or_else(|| "off".to_owned());
        match self {
            Self::Mass(at) => off(at(force).map(|mass| format!("{mass} g"))),
            Self::ShareOrOff(at) => off(at(force).map(in_percent)),
            Self::Share(at) => in_percent(*at(force)),
            Self::NightsOrOff(at) => off(at(force).map(|n| n.to_string())),
            Self::Whole(_, _, at) => at(force).to_string(),
            Self::Number(_, at) => at(force).to_string(),
            Self::AmountOrOff(at) => off(at(force).map(|n| n.to_string())),
            Self::Size(at) => format!("{} mm", at(force)),
            Self::Bands(at) => {
                at(force).iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
            }
            Self::YesNo(at) => if *at(force) { "yes" } else { "no" }.to_owned(),
            Self::Meals(at) => told(at(force)),
            Self::Carriers(at) => genes::told(at(force)),
            Self::SeasonOpens => {
                let (month, day) = Season::DEFAULT_OPENING;
                format!("{month:02}-{day:02}")
            }
            Self::FeltWords => "none".to_owned(),
        }
    }

    /// What can be written, as the end of a sentence.
    pub fn possible(&self) -> String {
        match self {
            Self::Mass(_) => "grams up to 10000, such as 1500, or off".to_owned(),
            Self::ShareOrOff(_) => "a share from 0 to 100 %, such as 12, or off".to_owned(),
            Self::Share(_) => "a share from 0 to 100 %, such as 50".to_owned(),
            Self::NightsOrOff(_) => format!("whole nights from 0 to {MOST_NIGHTS}, or off"),
            Self::Whole(range, unit, _) => {
                format!("whole {unit} from {} to {}", range.start(), range.end())
            }
            Self::Number(range, _) => format!("a number from {} to {}", range.start(), range.end()),
            Self::AmountOrOff(_) => "an amount of your money, such as 45, or off".to_owned(),
            Self::Size(_) => "millimetres from 1 to 60, such as 20".to_owned(),
            Self::Bands(_) => {
                "four sizes in mm, each above the one before, such as 10 17 27 36".to_owned()
            }
            Self::YesNo(_) => "yes or no".to_owned(),
            Self::Meals(_) => {
                "classes by weight, the last one \"more\", such as 150 = rat fuzzy 7, more = medium rat 14"
                    .to_owned()
            }
            Self::Carriers(_) => {
                "names with a share below 100 %, such as clown = 3 %, F03 = 1 %, F03 piebald = 10 %, or none".to_owned()
            }
            Self::SeasonOpens => "month and day, such as 11-01".to_owned(),
            Self::FeltWords => {
                let last = Classes::default().n_words() - 1;
                format!("words with a class from 0, the smallest, to {last}, such as bean = 0, egg = 2, or none")
            }
        }
    }
}

fn or_off<T>(text: &str, read: impl Fn(&str) -> Option<T>) -> Option<Option<T>> {
    if text == "off" { Some(None) } else { read(text).map(Some) }
}

/// A number with a point or a comma.
fn number(text: &str) -> Option<f64> {
    text.trim().replace(',', ".").parse().ok().filter(|n: &f64| n.is_finite())
}

/// Grams, with or without their letter.
pub(super) fn grams(text: &str) -> Option<Grams> {
    let grams = number(text.trim_end_matches('g'))?;
    Grams::new(grams).ok().filter(|g| g.get() > 0.0 && g.get() <= MOST_GRAMS)
}

pub(super) fn percent(text: &str) -> Option<Probability> {
    Probability::new(number(text.trim_end_matches('%'))? / 100.0).ok()
}

/// A share as it could be typed: 12.5 %.
pub(super) fn in_percent(share: Probability) -> String {
    // Percent of hundredths are not whole in binary; what was typed has few digits.
    let percent = (share.get() * 1e6).round() / 1e4;
    format!("{percent} %")
}

/// A whole number.
pub(super) fn whole(text: &str) -> Option<u32> {
    text.trim().parse().ok()
}

fn nights(text: &str) -> Option<u32> {
    whole(text.trim_end_matches("nights")).filter(|n| *n <= MOST_NIGHTS)
}

fn size(text: &str) -> Option<f64> {
    number(text.trim_end_matches("mm")).filter(|mm| SIZES.contains(mm))
}

fn bands(text: &str) -> Option<ByBand<Millimetres>> {
    let edges: Vec<Millimetres> = text
        .split([' ', ';', '/'])
        .map(|part| part.trim_matches(','))
        .filter(|part| !part.is_empty() && *part != "mm")
        .map(|part| Millimetres::new(size(part)?).ok())
        .collect::<Option<_>>()?;
    let is_rising = edges.windows(2).all(|two| two[0] < two[1]);
    edges.try_into().ok().filter(|_| is_rising)
}

fn yes_no(text: &str) -> Option<bool> {
    match text {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}
