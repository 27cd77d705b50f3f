//! The three hundred females of `tests/published/growth`, and a script beside us that is timed on
//! them: what it says, what that makes.

use std::error::Error;
use std::io::Write;
use std::process::Command;
use std::time::{Duration, Instant};

/// The scans both sides are given.
const SCANS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/published/growth/scans.csv");

/// Day and size (mm) of a female's scans.
pub type Scans = Vec<(i32, f64)>;

/// The scans of each; a few have none.
pub fn females() -> Result<Vec<Scans>, Box<dyn Error>> {
    let mut all: Vec<Scans> = vec![Scans::new(); 300];
    for line in std::fs::read_to_string(SCANS)?.lines().skip(1) {
        let mut cells = line.split(',');
        let mut next = || cells.next().ok_or("a row is short");
        let female: usize = next()?.parse()?;
        let scan = (next()?.parse()?, next()?.parse()?);
        all.get_mut(female).ok_or("a female too many")?.push(scan);
    }
    Ok(all)
}

/// Median time of a piece of work in microseconds, taken in batches of about 50 us, and its result.
pub fn median<R>(mut work: impl FnMut() -> R) -> (f64, R) {
    let once = Instant::now();
    let mut result = work();
    let batch = 50_000 / once.elapsed().as_nanos().clamp(50, 50_000);
    let mut micros = Vec::new();
    let began = Instant::now();
    while micros.len() < 5 || began.elapsed() < Duration::from_millis(300) {
        let start = Instant::now();
        for _ in 0..batch {
            result = std::hint::black_box(work());
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 1,000")]
        micros.push(start.elapsed().as_secs_f64() * 1e6 / batch as f64);
    }
    micros.sort_by(f64::total_cmp);
    (micros[micros.len() / 2], result)
}

/// What a peer said.
pub struct Peer {
    name: String,
    micros: f64,
    results: Vec<f64>,
}

impl Peer {
    /// Prints a line; an error where the results are further apart than `within`.
    pub fn line(
        &self,
        out: &mut impl Write,
        (micros, ours): (f64, &[f64]),
        within: f64,
    ) -> Result<(), Box<dyn Error>> {
        let Self { name, micros: theirs, results } = self;
        let apart = ours.iter().zip(results).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        writeln!(
            out,
            "{name:34} {micros:10.2} {theirs:12.1} {:8.0}  differs by {apart:.1e}",
            theirs / micros
        )?;
        if ours.len() != results.len() || apart > within {
            return Err(format!("{name} differs by {apart:e} ({} values)", results.len()).into());
        }
        Ok(())
    }
}

/// Runs a script of this folder with the program that variable names; each line it prints is one
/// peer: its name, its median time in microseconds, its results.
pub fn run(variable: &str, usual: &str, script: &str) -> Result<Vec<Peer>, Box<dyn Error>> {
    let program = std::env::var(variable).unwrap_or_else(|_| usual.to_owned());
    let script = format!("{}/benches/{script}", env!("CARGO_MANIFEST_DIR"));
    let output = Command::new(program).args([&script, SCANS]).output()?;
    let said = String::from_utf8(output.stdout)?;
    let peers: Vec<Peer> = said.lines().map(peer).collect::<Result<_, _>>()?;
    if peers.is_empty() {
        return Err(format!("nothing said: {}", String::from_utf8_lossy(&output.stderr)).into());
    }
    Ok(peers)
}

fn peer(line: &str) -> Result<Peer, Box<dyn Error>> {
    let mut words = line.split(' ');
    let name = words.next().ok_or("no name")?.to_owned();
    let micros = words.next().ok_or("no time")?.parse()?;
    let results = words.map(str::parse).collect::<Result<_, _>>()?;
    Ok(Peer { name, micros, results })
}
