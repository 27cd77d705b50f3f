//! Learning growth from three hundred females where it is a linear model with random intercept and
//! slope, `scan ~ week + (week || female)` by maximum likelihood, beside lme4 on the same scans in the
//! same run.
//!
//! `RSCRIPT=/path/to/Rscript cargo bench -p clutchwright-forecast --bench beside_lme4` where that R
//! has lme4. Times are of the whole fit, data in memory. The bench stops where an estimate differs by
//! more than 1e-5. The last line is ours of everything that is learned, on the same females.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

use forecast::follicle::fit::{Asked, Care, Outcome, Parameter, Prior, Season, Seasons, fit};
use forecast::{Check, Cycle, Found, Hyper};
use units::{Day, Millimetres};

#[path = "peer/mod.rs"]
mod peer;
use peer::{Scans, females, median, run};

fn season(scans: &[(i32, f64)]) -> Result<Season, Box<dyn Error>> {
    let opened = Day::from_number(20_396);
    let check = |(day, size): &(i32, f64)| -> Result<Check, Box<dyn Error>> {
        let size = Millimetres::new(*size).map_err(|_| "a size out of range")?;
        Ok(Check { day: opened + *day, found: Found::Scan(size) })
    };
    let checks = scans.iter().map(check).collect::<Result<_, _>>()?;
    Ok(Season {
        cycle: Cycle { opened, checks, locks: Vec::new() },
        outcome: Outcome::Unknown,
        fed: 0.0,
    })
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    let one = |scans: &Scans| Ok(vec![season(scans)?]);
    let females: Vec<Seasons> =
        females()?.iter().map(one).collect::<Result<_, Box<dyn Error>>>()?;
    let base = Hyper {
        never_starts: 0.0,
        begun_before: 1.0,
        head_starts: [(0.0, 1.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)],
        stall_hazard: 0.0,
        resorb_growing_hazard: 0.0,
        scan_shared: 0.0,
        scan_gross: 0.0,
        wobble: 0.0,
        same_female: 1.0,
        ..Hyper::default()
    };
    use Parameter::{FemaleSpread, Rate, RestSize, RestSpread, ScanOwn};
    let flat = |p: Parameter| (p, Prior { mean: p.read(&base), spread: 1e6 });
    let free = [RestSize, Rate, RestSpread, FemaleSpread, ScanOwn].map(flat).to_vec();
    let asked = Asked { base: base.clone(), free, care: CARE };
    let (micros, learned) = median(|| fit(black_box(&females), &asked));
    let ours: Vec<f64> = learned.found.iter().map(|f| f.value).collect();
    writeln!(
        out,
        "{:34} {:>10} {:>12} {:>8}",
        "fit of 300 females", "ours us", "peer us", "ratio"
    )?;
    for peer in run("RSCRIPT", "Rscript", "beside_lme4.R")? {
        peer.line(&mut out, (micros, &ours), 1e-5)?;
    }
    writeln!(out, "ours took {} rounds", learned.summit.rounds)?;
    // Once: it takes seconds.
    let began = Instant::now();
    let all = fit(&females, &Asked::everything());
    let micros = began.elapsed().as_secs_f64() * 1e6;
    writeln!(out, "{:34} {micros:10.0}  ({} rounds)", "everything learned", all.summit.rounds)?;
    Ok(())
}

/// As close as lme4 goes.
const CARE: Care = Care { gain: 1e-9, rounds: 80 };
