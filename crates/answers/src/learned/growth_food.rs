//! "Do follicles grow faster when she ate more before?"

use forecast::effects::mixed::Mixed;
use forecast::effects::{Design, Grouping, least_squares};
use records::Colony;

use super::intake::eaten;
use super::said::{Scale, Words};
use super::scans::{Cycle, GROWING_FROM, cycles, weeks};
use super::{Counted, Draft, Found, Picture, Verdict};

/// Days of food looked at before the cycle opened. Our own choice: four months.
const DAYS_BEFORE: i32 = 120;
/// Meals in them below which it is not known what she ate. Our own choice.
const LEAST_MEALS: usize = 4;
/// Scans of a cycle, and days they span, from which its growth is read. Our own choice.
const LEAST_SCANS: usize = 3;
const LEAST_DAYS: i32 = 21;
/// Female-seasons and females from which anything is said. Our own choice.
const LEAST_SEASONS: usize = 8;
const LEAST_FEMALES: usize = 3;
/// Error of one scan, mm, and scatter of rates of one female's cycles, mm a week: only their ratio
/// matters here, for cycles with few scans to count for less. Weak priors of the follicle model.
const SCAN_ERROR: f64 = 1.5;
const RATE_SCATTER: f64 = 0.5;

/// One cycle with its food.
struct Grown {
    cycle: Cycle,
    growth: Growth,
    food_a_month: f64,
    /// Days after the season opened on which her cycle did.
    late: f64,
}

/// Growth of one cycle.
struct Growth {
    /// mm a week.
    rate: f64,
    /// In units of that of a cycle that is followed without error.
    variance: f64,
    /// At the first scan it is read from, mm.
    from: f64,
}

pub(super) fn ask(colony: &Colony) -> Draft {
    let (mut all, mut short, mut unfed) = (vec![], 0, 0);
    for cycle in cycles(colony) {
        let Some(growth) = growth(&cycle) else {
            short += 1;
            continue;
        };
        let opened = cycle.span.opened;
        let eaten = eaten(&colony.animals[cycle.female], opened - DAYS_BEFORE, opened);
        if eaten.meals < LEAST_MEALS {
            unfed += 1;
            continue;
        }
        let food_a_month = eaten.medium_rats * 30.0 / f64::from(DAYS_BEFORE);
        let late = f64::from(opened.days_since(cycle.season.opens()));
        all.push(Grown { cycle, growth, food_a_month, late });
    }
    let females = Grouping::of(all.iter().map(|g| g.cycle.female)).1.len();
    let counts = vec![
        Counted { n: all.len(), what: "female-seasons" },
        Counted { n: females, what: "females" },
    ];
    let left_out = vec![
        Counted { n: short, what: "cycles with fewer than three scans over three weeks" },
        Counted { n: unfed, what: "cycles without meals written before" },
    ];
    let found = if short + unfed + all.len() == 0 {
        Found::None(Verdict::NothingWritten, "No scans are written: nothing to compare.".into())
    } else if all.len() < LEAST_SEASONS || females < LEAST_FEMALES {
        let n = all.len();
        Found::None(
            Verdict::TooFew,
            format!(
                "Too few to tell: {n} female-seasons of {females} females have scans and meals."
            ),
        )
    } else {
        fitted(&all)
    };
    Draft {
        id: "growth_food",
        asked: "Do follicles grow faster when she ate more before?",
        needs: "8 female-seasons of 3 females, each with three scans over three weeks and with \
                meals in the four months before",
        write: "Scans every week or two, and every meal, also between seasons.",
        caution: "Eating and growing may both come from her being in good condition; only food \
                  from before the cycle counts, so growing cannot be the reason for the eating. It is no ground to feed a female less \
                  than her weight asks for.",
        how: "Growth of a cycle: the straight line through its scans from 10 mm to the largest. \
              Food: what she ate in the 120 days before its first check or placement, as medium \
              rats a month (a small rat is 0.7 of one, a large one 1.6). A linear model that allows for how late in the season the cycle opened and for its size \
              by then, with a value of its own for each female and each season; cycles with few scans \
              count for less.",
        counts,
        left_out,
        found,
    }
}

/// Growth from 10 mm to the largest scan.
fn growth(cycle: &Cycle) -> Option<Growth> {
    let largest = cycle.scans.iter().map(|s| s.1).fold(0.0, f64::max);
    let until = cycle.scans.iter().position(|s| s.1 >= largest)?;
    let from = cycle.scans[..=until].iter().position(|s| s.1 >= GROWING_FROM)?;
    let scans = &cycle.scans[from..=until];
    let (first, last) = (scans.first()?.0, scans.last()?.0);
    if scans.len() < LEAST_SCANS || last.days_since(first) < LEAST_DAYS {
        return None;
    }
    let along: Vec<f64> = scans.iter().map(|s| weeks(first, s.0)).collect();
    let cells = along.iter().flat_map(|x| [1.0, *x]).collect();
    let sizes: Vec<f64> = scans.iter().map(|s| s.1).collect();
    let fit = least_squares::fit(&Design::new(2, cells).ok()?, &sizes).ok()?;
    let mean = mean(&along);
    let spread: f64 = along.iter().map(|x| (x - mean).powi(2)).sum();
    let error = SCAN_ERROR * SCAN_ERROR / spread;
    let variance = 1.0 + error / (RATE_SCATTER * RATE_SCATTER);
    Some(Growth { rate: fit.effects[1], variance, from: sizes[0] })
}

fn fitted(all: &[Grown]) -> Found {
    let food: Vec<f64> = all.iter().map(|g| g.food_a_month).collect();
    let (middle, spread, steps) = standard(food.iter().copied());
    let alike = || {
        let why = "All females ate alike before: nothing to compare.".to_owned();
        Found::None(Verdict::TooFew, why)
    };
    if spread < 0.05 {
        return alike();
    }
    // Who is first looked at late has fasted by then, and is seen from a larger size on.
    let late = standard(all.iter().map(|g| g.late)).2;
    let from = standard(all.iter().map(|g| g.growth.from)).2;
    let cells = (0..all.len()).flat_map(|i| [1.0, steps[i], late[i], from[i]]).collect();
    let Ok(design) = Design::new(4, cells) else { return alike() };
    let rates: Vec<f64> = all.iter().map(|g| g.growth.rate).collect();
    let variance: Vec<f64> = all.iter().map(|g| g.growth.variance).collect();
    let model = Mixed {
        design: &design,
        groupings: &[
            Grouping::of(all.iter().map(|g| g.cycle.female)).0,
            Grouping::of(all.iter().map(|g| g.cycle.season)).0,
        ],
        y: &rates,
        variance: &variance,
        // An effect of one spread of food as large as the scatter of rates would surprise.
        precision: &[0.0, 1.0, 1.0, 1.0],
    };
    let (least, most) =
        food.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), f| (a.min(*f), b.max(*f)));
    let along: Vec<f64> = (0..=8).map(|i| least + (most - least) * f64::from(i) / 8.0).collect();
    let mut contrasts = vec![vec![(1, 1.0)]];
    contrasts.extend(along.iter().map(|x| vec![(0, 1.0), (1, (x - middle) / spread)]));
    let Ok(mut believed) = model.posterior(&contrasts) else { return alike() };
    let effect = believed.remove(0);
    Found::One {
        effect,
        words: Words {
            more: "More food, faster growth",
            less: "More food, slower growth",
            between: "between more food and less",
            unit: "mm a week for each medium rat a month more",
            digits: 2,
            scale: Scale::Times(1.0 / spread),
        },
        picture: Picture::Points {
            along: "medium rats a month before the cycle",
            up: "mm a week",
            points: food.iter().copied().zip(rates.iter().copied()).collect(),
            line: along.iter().copied().zip(believed.iter().map(|b| b.median())).collect(),
            band: believed.iter().map(|b| b.interval(0.8)).collect(),
        },
    }
}

/// Mean and standard deviation, and every value from the one in units of the other.
fn standard(values: impl Iterator<Item = f64>) -> (f64, f64, Vec<f64>) {
    let values: Vec<f64> = values.collect();
    let middle = mean(&values);
    let squares: Vec<f64> = values.iter().map(|v| (v - middle).powi(2)).collect();
    let spread = mean(&squares).sqrt();
    let steps = values.iter().map(|v| (v - middle) / spread.max(1e-9)).collect();
    (middle, spread, steps)
}

#[expect(clippy::cast_precision_loss, reason = "counts of cycles")]
fn mean(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len() as f64
}

#[cfg(test)]
mod tests {
    use forecast::CycleSpan;
    use units::{Day, Season};

    use super::*;

    #[test]
    fn growth_is_a_line_and_short_ones_count_for_less() {
        let opened = Day::from_number(20_000);
        let cycle = |scans: &[(i32, f64)]| Cycle {
            female: 0,
            season: Season::holding(opened, Season::DEFAULT_OPENING),
            span: CycleSpan { opened, closed: None },
            scans: scans.iter().map(|(week, mm)| (opened + 7 * week, *mm)).collect(),
        };
        let read = growth(&cycle(&[(0, 12.0), (2, 16.0), (4, 20.0)]));
        let read = read.map(|g| (g.rate, g.variance, g.from));
        let (rate, variance, from) = read.unwrap_or_default();
        assert!((rate - 2.0).abs() < 1e-12 && (from - 12.0).abs() < 1e-12);
        // Weeks from their mean: -2, 0, 2.
        assert!((variance - 2.125).abs() < 1e-12, "{variance}");
        assert!(growth(&cycle(&[(0, 12.0), (4, 20.0)])).is_none(), "two scans are no line");
    }
}
