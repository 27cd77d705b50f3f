//! One growing track from scans only: three hundred females, beside filterpy and statsmodels on the
//! same numbers in the same run. Times are per female.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-forecast --bench beside_filterpy` where that
//! Python has numpy, filterpy and statsmodels. The bench stops where size, rate, their covariance or
//! the log likelihood of any female differs by more than 1e-12.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;

use forecast::follicle::scans::filter;
use forecast::follicle::track::{State, Track};

#[path = "peer/mod.rs"]
mod peer;
use peer::{Scans, females, median, run};

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    // The constants with which they were made; the peers have the same.
    let start = Track::new(State::Growing, 1.0, [6.0, 1.9], [1.5 * 1.5, 0.0, 0.45 * 0.45]);
    let weeks = |scans: &Scans| -> Vec<(f64, f64, f64)> {
        scans.iter().map(|(day, size)| (f64::from(*day) / 7.0, *size, 0.0)).collect()
    };
    let females: Vec<Vec<(f64, f64, f64)>> = females()?.iter().map(weeks).collect();
    let all = || -> Vec<(f64, Track)> {
        let one = |scans: &Vec<(f64, f64, f64)>| {
            filter(start, 0.4, [1.25 * 1.25, 0.0], black_box(scans).iter().copied())
        };
        females.iter().map(one).collect()
    };
    let (micros, tracks) = median(all);
    #[expect(clippy::cast_precision_loss, reason = "three hundred")]
    let each = micros / females.len() as f64;
    let ours: Vec<f64> =
        tracks.iter().flat_map(|(ln, t)| [t.x, t.v, t.xx, t.xv, t.vv, *ln]).collect();
    writeln!(
        out,
        "{:34} {:>10} {:>12} {:>8}",
        "a female, scans only", "ours us", "peer us", "ratio"
    )?;
    for peer in run("PYTHON", "python3", "beside_filterpy.py")? {
        peer.line(&mut out, (each, &ours), 1e-12)?;
    }
    Ok(())
}
