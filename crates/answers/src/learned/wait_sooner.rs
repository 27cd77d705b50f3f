//! "What goes with ovulating sooner after the first placement?"

use forecast::Found;
use forecast::effects::mixed_cox::MixedCox;
use forecast::effects::{Design, Grouping, cox, kaplan_meier::Spell};
use records::Colony;
use units::Day;

use super::intake::eaten;
use super::several::{One, Several};
use super::waits::{Wait, Waits};
use super::{Counted, Draft, Found as Answer, Verdict};
use crate::felt::as_seen;

/// Ovulations and females from which anything is said. Our own choice.
const LEAST_OVULATIONS: usize = 20;
const LEAST_FEMALES: usize = 5;
/// Ovulations for each thing looked at, the lateness among them: ten are asked for (Peduzzi and
/// others 1995, Journal of Clinical Epidemiology 48:1503); five to nine are often enough
/// (Vittinghoff and McCulloch 2007, American Journal of Epidemiology 165:710), the more so with
/// priors.
const OVULATIONS_EACH: usize = 5;
/// What is not written for so many of the cycles is not looked at. Our own choice.
const KNOWN_FOR: f64 = 0.8;
/// Only the newest cycles are looked at, so that the page does not wait. Our own choice.
const MOST_CYCLES: usize = 300;
/// A weight from so many days before the first placement still counts. Our own choice.
const WEIGHT_HOLDS_DAYS: i32 = 90;
/// Days of food looked at before the cycle opened, and meals in them below which it is not known.
const FOOD_DAYS: i32 = 120;
const LEAST_MEALS: usize = 4;

/// Something known of a cycle before its first placement.
struct Known {
    name: &'static str,
    /// What one of two females does or is.
    who: &'static str,
    /// What is looked at.
    about: &'static str,
    /// What its numbers are of.
    of_what: &'static str,
    /// The difference that is told.
    unit: f64,
    /// Less scatter than this tells nothing.
    least_spread: f64,
    of: fn(&Colony, &Wait) -> Option<f64>,
}

/// In the order in which they are looked at where ovulations are few.
const ALL: [Known; 4] = [
    Known {
        name: "200 g heavier",
        who: "is 200 g heavier",
        about: "her weight",
        of_what: " g",
        unit: 200.0,
        least_spread: 30.0,
        of: grams,
    },
    Known {
        name: LAID_BEFORE,
        who: LAID_BEFORE,
        about: "an earlier clutch",
        of_what: "",
        unit: 1.0,
        least_spread: 0.2,
        of: laid_before,
    },
    Known {
        name: "ate 1 rat a month more",
        who: "ate 1 medium rat a month more before",
        about: "what she ate before",
        of_what: " rats",
        unit: 1.0,
        least_spread: 0.1,
        of: food,
    },
    Known {
        name: "2 years older",
        who: "is 2 years older",
        about: "her age",
        of_what: " years",
        unit: 2.0,
        least_spread: 0.5,
        of: years,
    },
];
const LAID_BEFORE: &str = "has laid before";

fn grams(colony: &Colony, wait: &Wait) -> Option<f64> {
    let weights = &colony.animals[wait.female].weights;
    let last = weights.iter().rev().find(|w| w.day <= wait.placed)?;
    (wait.placed.days_since(last.day) <= WEIGHT_HOLDS_DAYS).then(|| last.what.get())
}

#[expect(clippy::unnecessary_wraps, reason = "one of several, others of which may be unknown")]
fn laid_before(colony: &Colony, wait: &Wait) -> Option<f64> {
    let laid = &colony.animals[wait.female].laid;
    Some(f64::from(u8::from(laid.iter().any(|l| l.day < wait.opened))))
}

fn food(colony: &Colony, wait: &Wait) -> Option<f64> {
    let eaten = eaten(&colony.animals[wait.female], wait.opened - FOOD_DAYS, wait.opened);
    (eaten.meals >= LEAST_MEALS).then(|| eaten.medium_rats * 30.0 / f64::from(FOOD_DAYS))
}

fn years(colony: &Colony, wait: &Wait) -> Option<f64> {
    let hatched = colony.animals[wait.female].hatched?;
    Some(f64::from(wait.placed.days_since(hatched)) / 365.25)
}

/// A check from so many days before the first placement still tells how large her follicles were.
/// Our own choice.
const CHECK_HOLDS_DAYS: i32 = 30;
/// Follicles are about to ovulate from this size on, mm (common practice, no source): where the
/// largest felt class ends.
const LARGEST: f64 = 45.0;

/// How large her follicles were when he was first put in, mm; of a felt class its middle.
fn size(colony: &Colony, wait: &Wait) -> Option<f64> {
    let own = colony.setting("felt_words");
    let holds = |day: Day| {
        wait.opened <= day && day <= wait.placed && wait.placed.days_since(day) <= CHECK_HOLDS_DAYS
    };
    let checks = colony.animals[wait.female].checks.iter().rev().filter(|c| holds(c.day));
    checks.filter_map(|c| as_seen(&c.what, own)).next().map(|found| match found {
        Found::Scan(size) => size.get(),
        Found::Felt { from, to, .. } => 0.5 * (from.max(0.0) + to.min(LARGEST)),
    })
}

pub(super) fn ask(colony: &Colony, waits: &Waits) -> Draft {
    let newest = waits.all.len().saturating_sub(MOST_CYCLES);
    let (older, all) = waits.all.split_at(newest);
    let looked_at = looked_at(colony, all);
    let rows: Vec<(&Wait, Vec<f64>)> = all
        .iter()
        .filter_map(|wait| {
            let values: Option<Vec<f64>> = looked_at.iter().map(|k| (k.of)(colony, wait)).collect();
            Some((wait, values?))
        })
        .collect();
    let ovulations = rows.iter().filter(|(wait, _)| wait.spell.happened).count();
    let females = Grouping::of(rows.iter().map(|(wait, _)| wait.female)).1.len();
    let counts = vec![
        Counted { n: rows.len(), what: "cycles with a placement and all of this written" },
        Counted { n: ovulations, what: "came to ovulation" },
        Counted { n: females, what: "females" },
    ];
    let left_out = vec![
        Counted { n: all.len() - rows.len(), what: "cycles of which some of it is not written" },
        Counted { n: older.len(), what: "older cycles" },
    ];
    let found = if all.is_empty() {
        let why = "No placements are written: nothing to compare.";
        Answer::None(Verdict::NothingWritten, why.into())
    } else if ovulations < LEAST_OVULATIONS || females < LEAST_FEMALES || looked_at.is_empty() {
        let why = format!(
            "Too few to tell: {ovulations} cycles of {females} females came to ovulation with her \
             weight, age or food known from before."
        );
        Answer::None(Verdict::TooFew, why)
    } else {
        fitted(colony, &rows, &looked_at).unwrap_or_else(|| {
            Answer::None(Verdict::TooFew, "The cycles do not differ: nothing to compare.".into())
        })
    };
    Draft {
        id: "wait_sooner",
        asked: "What goes with ovulating sooner after the first placement?",
        needs: "20 ovulations or layings after a placement, of 5 females, with weights, meals and \
                hatch dates of most of them",
        write: "Weights, meals between seasons, hatch dates, the first night of a male with each \
                female, and the day she ovulates or lays.",
        caution: "This is association, and each is what goes with it at equal others. What works \
                  before he is put in, such as food that made her follicles large by then, is not \
                  in it.",
        how: "Only what was known by the first placement counts: her last weight, whether she had \
              laid before, what she ate in the 120 days before the cycle opened, her age. \
              Proportional hazards (Cox 1972) within each season, allowing for how late in it she was \
              first placed and how large her follicles were by the last check of the month before, with a value of its own for each female; cycles that stopped count until \
              then. Told as the chance that of two females placed alike this one ovulates first: 50 % \
              is no difference.",
        counts,
        left_out,
        found,
    }
}

/// What is written for most cycles and differs between them, no more than the ovulations bear.
fn looked_at(colony: &Colony, all: &[Wait]) -> Vec<Known> {
    let ovulations = all.iter().filter(|w| w.spell.happened).count();
    let most = (ovulations / OVULATIONS_EACH).saturating_sub(1);
    let is_told = |known: &Known| {
        let values: Vec<f64> = all.iter().filter_map(|w| (known.of)(colony, w)).collect();
        #[expect(clippy::cast_precision_loss, reason = "counts of cycles")]
        let is_written = values.len() as f64 >= KNOWN_FOR * all.len() as f64;
        is_written && standard(&values).1 >= known.least_spread
    };
    ALL.into_iter().filter(is_told).take(most).collect()
}

fn fitted(colony: &Colony, rows: &[(&Wait, Vec<f64>)], looked_at: &[Known]) -> Option<Answer> {
    let column = |at: usize| rows.iter().map(|(_, values)| values[at]).collect::<Vec<f64>>();
    let columns: Vec<Vec<f64>> = (0..looked_at.len()).map(column).collect();
    let scales: Vec<(f64, f64)> = columns.iter().map(|c| standard(c)).collect();
    let beside = beside(colony, rows);
    let all: Vec<(&Vec<f64>, (f64, f64))> = columns
        .iter()
        .zip(scales.iter().copied())
        .chain(beside.iter().map(|column| (column, standard(column))))
        .collect();
    let cell = |row: usize| {
        all.iter().map(move |(c, (middle, spread))| (c[row] - middle) / spread.max(1e-9))
    };
    let p = all.len();
    let design = Design::new(p, (0..rows.len()).flat_map(cell).collect()).ok()?;
    let spells: Vec<Spell> = rows.iter().map(|(wait, _)| wait.spell).collect();
    let seasons = Grouping::of(rows.iter().map(|(wait, _)| wait.season)).0;
    let model = MixedCox {
        design: &design,
        levels: &Grouping::of(rows.iter().map(|(wait, _)| wait.female)).0,
        spells: &cox::stratified(&spells, &seasons),
        // Weak: nearly three times the hazard for one spread of it is one standard deviation.
        precision: &vec![1.0; p],
    };
    let contrast = |(at, known): (usize, &Known)| vec![(at, known.unit / scales[at].1.max(1e-9))];
    let contrasts: Vec<_> = looked_at.iter().enumerate().map(contrast).collect();
    let believed = model.posterior(&contrasts).ok()?;
    let all = looked_at.iter().zip(&columns).zip(believed).map(|((known, column), effect)| One {
        name: known.name,
        who: known.who,
        about: known.about,
        counted: counted(known, column),
        effect,
    });
    Some(Answer::Several(Several(all.collect())))
}

/// What is allowed for: how late in the season she was first placed, how large her follicles were
/// then, and whether that is known.
fn beside(colony: &Colony, rows: &[(&Wait, Vec<f64>)]) -> Vec<Vec<f64>> {
    let late = rows.iter().map(|(wait, _)| f64::from(wait.placed.days_since(wait.season.opens())));
    let sizes: Vec<Option<f64>> = rows.iter().map(|(wait, _)| size(colony, wait)).collect();
    let known: Vec<f64> = sizes.iter().flatten().copied().collect();
    let middle = standard(&known).0;
    let is_known = |size: &Option<f64>| f64::from(u8::from(size.is_some()));
    let all = [
        late.collect(),
        sizes.iter().map(|size| size.unwrap_or(middle)).collect(),
        sizes.iter().map(is_known).collect::<Vec<f64>>(),
    ];
    all.into_iter().filter(|column| standard(column).1 > 1e-9).collect()
}

/// What there is of it in the records.
fn counted(known: &Known, column: &[f64]) -> String {
    if known.name == LAID_BEFORE {
        let n = column.iter().filter(|v| **v > 0.5).count();
        return format!("{n} of {} cycles", column.len());
    }
    let (low, high) =
        column.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(*v), b.max(*v)));
    let digits = usize::from(high < 100.0);
    format!("from {low:.digits$} to {high:.digits$}{}", known.of_what)
}

/// Mean and standard deviation.
fn standard(values: &[f64]) -> (f64, f64) {
    #[expect(clippy::cast_precision_loss, reason = "counts of cycles")]
    let n = values.len().max(1) as f64;
    let middle = values.iter().sum::<f64>() / n;
    (middle, (values.iter().map(|v| (v - middle).powi(2)).sum::<f64>() / n).sqrt())
}
