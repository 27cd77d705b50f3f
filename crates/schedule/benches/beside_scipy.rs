//! Our assignment beside SciPy's on the same matrices in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-schedule --bench beside_scipy`
//! where that Python has numpy and scipy. Prints the median time of each and their ratio, and
//! stops if the optima differ.

use std::error::Error;
use std::io::Write;
use std::process::{Command, Stdio};
use std::time::Instant;

use schedule::assignment::assign;

#[path = "draws/mod.rs"]
mod draws;

const SHAPES: [(usize, usize); 2] = [(100, 400), (500, 2000)];

fn main() -> Result<(), Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/beside_scipy.py");
    let mut out = std::io::stdout().lock();
    writeln!(out, "{:22} {:>10} {:>10} {:>7}", "matrix", "ours us", "scipy us", "ratio")?;
    for (rows, columns) in SHAPES {
        for kind in draws::KINDS {
            let worth = draws::matrix(kind, rows, columns, 1);
            let (ours, optimum) = time_ours(rows, columns, &worth);
            let theirs = run(&python, script, rows, columns, &worth)?;
            let (theirs, peer) = theirs.trim().split_once(' ').ok_or("two numbers expected")?;
            let (theirs, peer): (f64, f64) = (theirs.parse()?, peer.parse()?);
            if (optimum - peer).abs() > 1e-9 * peer.abs() {
                return Err(format!("optimum {optimum} but scipy has {peer}").into());
            }
            let name = format!("{kind} {rows}x{columns}");
            writeln!(out, "{name:22} {ours:10.1} {theirs:10.1} {:7.2}", theirs / ours)?;
        }
    }
    Ok(())
}

fn time_ours(rows: usize, columns: usize, worth: &[f64]) -> (f64, f64) {
    let mut micros = Vec::new();
    let mut optimum = 0.0;
    for _ in 0..200_000 / columns {
        let start = Instant::now();
        let matched = std::hint::black_box(assign(rows, columns, std::hint::black_box(worth)));
        micros.push(start.elapsed().as_secs_f64() * 1e6);
        let pairs = matched.iter().enumerate();
        optimum = pairs.filter_map(|(i, j)| j.map(|j| worth[i * columns + j])).sum();
    }
    micros.sort_by(f64::total_cmp);
    (micros[micros.len() / 2], optimum)
}

fn run(
    python: &str,
    script: &str,
    rows: usize,
    columns: usize,
    worth: &[f64],
) -> Result<String, Box<dyn Error>> {
    let mut child = Command::new(python)
        .args([script, &rows.to_string(), &columns.to_string()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    let bytes: Vec<u8> = worth.iter().flat_map(|w| w.to_le_bytes()).collect();
    child.stdin.take().ok_or("no stdin")?.write_all(&bytes)?;
    Ok(String::from_utf8(child.wait_with_output()?.stdout)?)
}
