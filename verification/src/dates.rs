//! How well dates hold, and the chances of passed, ahead and never.
//!
//! A date is scored where its own condition came true: not passed by then, and reached within forty
//! weeks. Horizons are told by what was forecast, never by what came. What comes is a whole day, so
//! that an interval of whole days holds more than its share; what must hold is the share below the
//! truth, drawn evenly from where the day begins and ends (Czado, Gneiting and Held 2009).

use forecast::calibration::brier::of_several;
use forecast::calibration::crps::by_share;
use forecast::{Hyper, Milestone, Model};
use rand::RngExt;
use testkit::follicle_rooms::{World, source};

use crate::made::{cycle, opening, shared};
use crate::report::Report;
use crate::sizes::{Asked, Bounds, FOREIGN, OWN, asked, last_and_slope};

const SEASONS: usize = 20_000;
/// Ends of the horizons, nights from tonight to the median.
const HORIZONS: [(i32, i32); 5] = [(3, 10), (11, 20), (21, 30), (31, 45), (46, 60)];
const LEAST: usize = 1_000;
/// Nights ahead that count.
const AHEAD: i32 = 273;

pub fn check(report: &mut Report) {
    println!(
        "\nDates of 12, 22, 32, 40 mm and ovulation, {SEASONS} female-seasons, 80 % intervals:"
    );
    run("own equations", &shared(&Hyper::default()), &OWN, 2051, report);
    run("foreign equations", &World::Foreign, &FOREIGN, 2052, report);
    run("foreign, unwatched when shrinking", &World::ForeignUnwatched, &FOREIGN, 2053, report);
}

#[derive(Clone, Copy, Default)]
struct Bin {
    dates: usize,
    before: usize,
    held: usize,
    /// Held by the interval of whole days that is shown.
    shown: usize,
}

#[derive(Default)]
struct Tally {
    bins: [Bin; HORIZONS.len()],
    dates: f64,
    score: [f64; 3],
    asked: f64,
    brier: f64,
    came: [f64; 3],
    /// By tenths of each forecast chance: how many, sum of chances, how many came.
    tenths: [[(f64, f64, f64); 10]; 3],
}

fn run(name: &str, world: &World, bounds: &Bounds, seed: u64, report: &mut Report) {
    println!(" {name}:");
    let model = Model::default();
    let mut tally = Tally::default();
    let mut rng = source(seed + 100);
    for a in asked(world, SEASONS, seed) {
        score(&model, &a, rng.random(), &mut tally);
    }
    tally.print(bounds, report);
}

fn score(model: &Model, a: &Asked, drawn: f64, tally: &mut Tally) {
    let known = a.known();
    let belief = model.follow(&cycle(&known), opening() + a.tonight);
    let sizes = [12.0, 22.0, 32.0, 40.0].map(|s| (Milestone::Size(s), a.season.passes(s)));
    let ovulates = (Milestone::Ovulation, a.season.ovulated);
    for (milestone, truth) in sizes.into_iter().chain([ovulates]) {
        let outlook = belief.outlook(milestone);
        let came = match truth {
            Some(day) if day <= a.tonight => 0,
            Some(day) if day <= a.tonight + AHEAD => 1,
            _ => 2,
        };
        let p = outlook.passage;
        tally.chances([p.passed.get(), p.ahead.get(), p.never.get()], came);
        let (Some(day), 1, Some(date)) = (truth, came, outlook.date()) else { continue };
        let nights = f64::from(day - a.tonight);
        let on = opening() + day;
        let median = date.median.days_since(opening() + a.tonight);
        let bin = HORIZONS.iter().position(|(from, to)| (*from..=*to).contains(&median));
        if let Some(bin) = bin.map(|i| &mut tally.bins[i]) {
            bin.dates += 1;
            let (begins, ends) = (outlook.share_within(nights - 1.0), outlook.share_within(nights));
            let share = begins + drawn * (ends - begins);
            bin.before += usize::from(share < 0.1);
            bin.held += usize::from((0.1..=0.9).contains(&share));
            bin.shown += usize::from(on >= date.low && on <= date.high);
        }
        let Milestone::Size(size) = milestone else { continue };
        // On what evening, counted in whole days: the share by the end of that day.
        let share = |days: f64| outlook.share_within(days);
        tally.dates += 1.0;
        tally.score[0] += by_share(share, (0.0, f64::from(AHEAD)), 10.0, nights - 0.5);
        let (last, slope) = last_and_slope(&known);
        let since = f64::from(a.tonight - last.0);
        let a_month = ((size - last.1) / 10.0 * 30.4 - since).max(1.0);
        let line = if slope > 0.0 { (size - last.1) / slope - since } else { a_month };
        tally.score[1] += (line.clamp(1.0, f64::from(AHEAD)) - nights).abs();
        tally.score[2] += (a_month - nights).abs();
    }
}

impl Tally {
    fn chances(&mut self, chances: [f64; 3], came: usize) {
        self.asked += 1.0;
        self.brier += of_several(&chances, came);
        self.came[came] += 1.0;
        for (i, chance) in chances.iter().enumerate() {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0..10")]
            let tenth = &mut self.tenths[i][((chance * 10.0) as usize).min(9)];
            tenth.0 += 1.0;
            tenth.1 += chance;
            tenth.2 += f64::from(u8::from(i == came));
        }
    }

    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    fn print(&self, bounds: &Bounds, report: &mut Report) {
        for ((from, to), bin) in HORIZONS.iter().zip(self.bins) {
            let share = |n: usize| n as f64 / bin.dates.max(1) as f64;
            let held = share(bin.held);
            let good = bin.dates >= LEAST && (bounds.held.0..=bounds.held.1).contains(&held);
            report.line(
                good,
                &format!(
                    "{from:>2} to {to} nights: {} dates, {:.1} % held, {:.1} % earlier, {:.1} % later; \
                     in whole days as shown {:.1} %",
                    bin.dates,
                    100.0 * held,
                    100.0 * share(bin.before),
                    100.0 * (1.0 - held - share(bin.before)),
                    100.0 * share(bin.shown),
                ),
            );
        }
        for (i, what) in [(1, "straight line"), (2, "a month between sizes")] {
            let better = 1.0 - self.score[0] / self.score[i];
            let text = format!(
                "score of {} dates {:.1} days, {what} {:.1}: {:.0} % better",
                self.dates,
                self.score[0] / self.dates,
                self.score[i] / self.dates,
                100.0 * better
            );
            report.line(better >= 0.25, &text);
        }
        // Always saying how often each comes.
        let usual: f64 = 1.0 - self.came.iter().map(|n| (n / self.asked).powi(2)).sum::<f64>();
        let brier = self.brier / self.asked;
        let text = format!("passed, ahead, never: Brier {brier:.3}, of usual shares {usual:.3}");
        report.line(brier < usual, &text);
        let off = |(n, chances, came): (f64, f64, f64)| (chances - came).powi(2) / n.max(1.0);
        let reliability = self.tenths.iter().flatten().map(|t| off(*t)).sum::<f64>() / self.asked;
        let text = format!("of which off the mark (Murphy 1973) {reliability:.4}");
        report.line(reliability <= bounds.off_the_mark, &text);
    }
}
