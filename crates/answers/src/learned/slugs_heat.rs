//! "Do slugs go with the temperature of the hot spot?"

use forecast::effects::mixed_logistic::MixedLogistic;
use forecast::effects::{Design, Grouping};
use forecast::follicle::opening::Closing;
use records::{Clutch, Colony};
use units::{Day, Season};

use super::hot_spots::HotSpots;
use super::said::{Scale, Words, of, share};
use super::{Counted, Draft, Found, Picture, Verdict};
use crate::cycle::cycles_of;

/// Clutches and females from which anything is said. Our own choice.
const LEAST_CLUTCHES: usize = 8;
const LEAST_FEMALES: usize = 3;
/// Hot spots that differ by less are alike, °C as a standard deviation. Our own choice.
const LEAST_SPREAD: f64 = 0.2;

/// One clutch.
struct Warmed {
    female: usize,
    season: Season,
    celsius: f64,
    eggs: f64,
    slugs: f64,
}

pub(super) fn ask(colony: &Colony) -> Draft {
    let spots = HotSpots::of(colony);
    let (mut all, mut uncounted, mut unopened, mut unread) = (vec![], 0, 0, 0);
    for clutch in &colony.clutches {
        let (Some(laid), Some(eggs), Some(slugs)) = (clutch.laid, clutch.eggs, clutch.slugs) else {
            uncounted += 1;
            continue;
        };
        if eggs == 0 {
            uncounted += 1;
            continue;
        }
        let Some(opened) = opened(colony, clutch, laid) else {
            unopened += 1;
            continue;
        };
        let Some(celsius) = spots.mean(&colony.animals[clutch.female], opened, laid) else {
            unread += 1;
            continue;
        };
        let season = Season::holding(laid, colony.season_opening());
        let (eggs, slugs) = (f64::from(eggs), f64::from(slugs.min(eggs)));
        all.push(Warmed { female: clutch.female, season, celsius, eggs, slugs });
    }
    let females = Grouping::of(all.iter().map(|w| w.female)).1.len();
    let counts = vec![
        Counted { n: all.len(), what: "clutches with the temperature of her hot spot" },
        Counted { n: females, what: "females" },
    ];
    let left_out = vec![
        Counted { n: uncounted, what: "clutches not counted or not dated" },
        Counted { n: unopened, what: "clutches without a check or placement before" },
        Counted { n: unread, what: "clutches with fewer than three days of hot-spot temperatures" },
        Counted {
            n: spots.of_nobody(colony),
            what: "temperatures of hot spots that are no female's tub or rack",
        },
    ];
    Draft {
        id: "slugs_heat",
        asked: "Do slugs go with the temperature of the hot spot?",
        needs: "8 clutches of 3 females, each with hot-spot temperatures on three days of her cycle",
        write: "Temperatures of the hot spot from the first check or placement until she lays, with \
                the tub or the rack in the name of the place, such as \"hot spot R1-03\" or \"hot spot R1\".",
        caution: "This is association: a hot spot is warmer in one rack or one year for reasons of \
                  its own. Where it is warm by day and cool by night, read it at the same hours, or \
                  the hour is in the mean.",
        how: "Slugs among the eggs of each clutch, against the mean temperature of her hot spot from \
              the first check or placement of her cycle until she laid: of her tub, else of her rack, \
              else of the room; what was read, or where nothing was, what it was set to. A logistic \
              model with a value of its own for each clutch (eggs of one clutch share their fate), \
              female and season; told as the difference of two chances a degree apart.",
        counts,
        left_out,
        found: found(&spots, &all, females),
    }
}

/// The day the cycle opened that ended with this clutch.
fn opened(colony: &Colony, clutch: &Clutch, laid: Day) -> Option<Day> {
    let spans = cycles_of(colony, &colony.animals[clutch.female], colony.as_of.day);
    spans.iter().find(|s| s.closed == Some(Closing::Laid(laid))).map(|s| s.opened)
}

fn found(spots: &HotSpots, all: &[Warmed], females: usize) -> Found {
    let n = all.len();
    if spots.len() == 0 {
        let why = "No hot-spot temperatures are written: nothing to compare.";
        Found::None(Verdict::NothingWritten, why.into())
    } else if n < LEAST_CLUTCHES || females < LEAST_FEMALES {
        let why = format!(
            "Too few to tell: {} with hot-spot temperatures from the female's cycle.",
            of(n, "clutch", "clutches")
        );
        Found::None(Verdict::TooFew, why)
    } else {
        fitted(all).unwrap_or_else(|| {
            let why = "The hot spots were all about as warm: nothing to compare.";
            Found::None(Verdict::TooFew, why.into())
        })
    }
}

fn fitted(all: &[Warmed]) -> Option<Found> {
    #[expect(clippy::cast_precision_loss, reason = "counts of clutches")]
    let n = all.len() as f64;
    let middle = all.iter().map(|w| w.celsius).sum::<f64>() / n;
    let spread = (all.iter().map(|w| (w.celsius - middle).powi(2)).sum::<f64>() / n).sqrt();
    if spread < LEAST_SPREAD {
        return None;
    }
    let step = |celsius: f64| (celsius - middle) / spread;
    let design = Design::new(2, all.iter().flat_map(|w| [1.0, step(w.celsius)]).collect()).ok()?;
    let slugs: Vec<f64> = all.iter().map(|w| w.slugs).collect();
    let eggs: Vec<f64> = all.iter().map(|w| w.eggs).collect();
    let model = MixedLogistic {
        design: &design,
        groupings: &[
            Grouping { of_row: (0..all.len()).collect(), levels: all.len() },
            Grouping::of(all.iter().map(|w| w.female)).0,
            Grouping::of(all.iter().map(|w| w.season)).0,
        ],
        successes: &slugs,
        trials: &eggs,
        // Weak: three times the odds for one spread of temperatures is one standard deviation.
        precision: &[0.16, 1.0],
    };
    let ends = all
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), w| (a.min(w.celsius), b.max(w.celsius)));
    let along: Vec<f64> =
        (0..=8).map(|i| ends.0 + (ends.1 - ends.0) * f64::from(i) / 8.0).collect();
    let mut contrasts = vec![vec![(1, 1.0)]];
    contrasts.extend(along.iter().map(|x| vec![(0, 1.0), (1, step(*x))]));
    let mut believed = model.posterior(&contrasts).ok()?;
    let effect = believed.remove(0).scaled(1.0 / spread);
    let percent = |log_odds: f64| 100.0 * share(log_odds);
    Some(Found::One {
        effect,
        words: Words {
            more: "Warmer, more slugs",
            less: "Warmer, fewer slugs",
            between: "between warmer hot spots and cooler ones",
            unit: "percentage points for each °C (1.8 °F) more",
            digits: 1,
            scale: Scale::PointsAround(slugs.iter().sum::<f64>() / eggs.iter().sum::<f64>()),
        },
        picture: Picture::Points {
            along: super::HOT_SPOT_CELSIUS,
            up: "slugs among eggs, %",
            points: all.iter().map(|w| (w.celsius, 100.0 * w.slugs / w.eggs)).collect(),
            line: along.iter().zip(&believed).map(|(x, b)| (*x, percent(b.median()))).collect(),
            band: believed.iter().map(|b| b.interval(0.8).map(percent)).collect(),
        },
    })
}
