//! "How long from the first placement to ovulation?"

use forecast::effects::kaplan_meier::{Reached, Step, curve, grouped_variance, reached};

use super::said::{of, percent};
use super::waits::Waits;
use super::{Counted, Curve, CurveStep, Draft, Found, Picture, Verdict};

/// Ovulations and females from which anything is said. Our own choice.
const LEAST_OVULATIONS: usize = 8;
const LEAST_FEMALES: usize = 3;
/// The curve is told as far as so many are waiting: the last few would draw it at random. Our own
/// choice.
const LEAST_WAITING: usize = 5;

pub(super) fn ask(waits: &Waits) -> Draft {
    let ovulations = waits.ovulations();
    let females = waits.by_female().levels;
    let mut counts = vec![
        Counted { n: waits.all.len(), what: "cycles with a placement" },
        Counted { n: ovulations, what: "came to ovulation" },
        Counted { n: females, what: "females" },
    ];
    if waits.by_laying > 0 {
        counts.insert(2, Counted { n: waits.by_laying, what: "of these counted back from laying" });
    }
    let left_out = vec![
        Counted { n: waits.unplaced, what: "cycles without a placement" },
        Counted { n: waits.before, what: "cycles that had come to ovulation before a placement" },
    ];
    let found = if waits.all.is_empty() {
        let why = "No placements are written: nothing to count from.";
        Found::None(Verdict::NothingWritten, why.into())
    } else if ovulations < LEAST_OVULATIONS || females < LEAST_FEMALES {
        let cycles = of(waits.all.len(), "cycle", "cycles");
        let why = format!("Too few to tell: {ovulations} of {cycles} came to ovulation.");
        Found::None(Verdict::TooFew, why)
    } else {
        told(waits)
    };
    Draft {
        id: "wait_ovulation",
        asked: "How long from the first placement to ovulation?",
        needs: "8 ovulations or layings after a placement, of 3 females",
        write: "The first night of a male with each female, and the day she ovulates or lays.",
        caution: "A cycle that stopped counts until then, as if it might have gone on: the curve \
                  tells how long it takes, not how many come to it. Who is first placed late or \
                  large waits less.",
        how: "Days from the evening of the first placement of each cycle. Where no ovulation is \
              written but she laid, it is counted back by the days the room usually has between the \
              two. Cycles that stopped or went back are followed to their last check or placement, \
              those under way to tonight, and count as waiting until then (Kaplan and Meier 1958). \
              The band allows for cycles of one female being alike; the curve ends where fewer than \
              five are waiting.",
        counts,
        left_out,
        found,
    }
}

fn told(waits: &Waits) -> Found {
    let spells: Vec<_> = waits.all.iter().map(|w| w.spell).collect();
    let mut steps = curve(&spells);
    let by_female = grouped_variance(&steps, &spells, &waits.by_female());
    // With few females the error by female may come out too small by chance.
    steps.iter_mut().zip(by_female).for_each(|(s, v)| s.variance = s.variance.max(v));
    steps.retain(|s| s.waiting >= LEAST_WAITING);
    let quarters = [0.25, 0.5, 0.75].map(|share| reached(&steps, share, 0.8));
    Found::Told {
        sentence: sentence(&steps, &quarters),
        picture: Picture::Curve(Curve {
            along: "days after the first placement",
            up: "came to ovulation",
            steps: steps.iter().map(shown).collect(),
            half: quarters[1].time.map(|time| (time, quarters[1].low, quarters[1].high)),
            waiting: spells.iter().map(|s| s.exit).collect(),
        }),
    }
}

/// One step as the share that is through.
fn shown(step: &Step) -> CurveStep {
    let through = |coverage| {
        let still = step.interval(coverage);
        forecast::effects::Interval { low: 1.0 - still.high, high: 1.0 - still.low }
    };
    CurveStep {
        days: step.time,
        waiting: step.waiting,
        share: 1.0 - step.still,
        eighty: through(0.8),
        ninety_five: through(0.95),
    }
}

fn sentence(steps: &[Step], [first, half, third]: &[Reached; 3]) -> String {
    let days = |r: &Reached| r.time.map(|t| format!("{t:.0} days"));
    let Some(middle) = days(half) else {
        let Some(last) = steps.last().map(shown) else { return String::new() };
        return format!(
            "In your records {} (80 %: {} to {}) had come to ovulation {:.0} days after the first \
             placement; fewer than half were seen to.",
            percent(last.share),
            percent(last.eighty.low),
            percent(last.eighty.high),
            last.days,
        );
    };
    let ends = match (half.low, half.high) {
        (Some(low), Some(high)) => format!("80 %: {low:.0} to {high:.0}"),
        (Some(low), None) => format!("80 %: from {low:.0} on, no upper end yet"),
        (None, _) => "how surely cannot be told yet".to_owned(),
    };
    let others = match (days(first), days(third)) {
        (Some(first), Some(third)) => format!("; a quarter by {first}, three quarters by {third}"),
        (Some(first), None) => format!("; a quarter by {first}"),
        _ => String::new(),
    };
    format!(
        "In your records half of the cycles had come to ovulation {middle} after the first \
         placement ({ends}){others}."
    )
}
