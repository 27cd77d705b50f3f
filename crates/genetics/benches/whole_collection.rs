//! All posteriors of 20,000 animals over 60 loci, a quarter of the founders of unknown status.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench whole_collection`, any
//! Python 3. Two threads. Prints the time from evidence to all posteriors, kept, for all loci, the
//! slowest locus, and the largest memory the process has held.

use std::error::Error;
use std::io::Write;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

use genetics::posterior::{Budget, Workspace, posteriors_in};
use genetics::{Evidence, LinkageGroup, Origin, Pedigree};

const LOCI: usize = 60;
const FREQUENCY: f64 = 0.05;

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    for animals in [2_000, 5_000, 20_000] {
        let (pedigree, evidence) = read(&made(animals)?)?;
        let begun = Instant::now();
        let each = all(&pedigree, &evidence)?;
        let took = begun.elapsed().as_secs_f64() * 1e3;
        let slowest = each.iter().copied().fold(0.0, f64::max);
        writeln!(
            out,
            "{animals:6} animals x {LOCI} loci: {took:7.1} ms, slowest locus {slowest:6.2} ms, most memory {}",
            memory()?
        )?;
    }
    Ok(())
}

fn made(animals: usize) -> Result<String, Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/whole_collection.py");
    let (loci, frequency) = (LOCI.to_string(), FREQUENCY.to_string());
    let output =
        Command::new(python).args([script, &animals.to_string(), &loci, &frequency]).output()?;
    Ok(String::from_utf8(output.stdout)?)
}

fn read(text: &str) -> Result<(Pedigree, Vec<Evidence>), Box<dyn Error>> {
    let lines: Vec<Vec<&str>> = text.lines().map(|l| l.split(' ').collect()).collect();
    let origin = |fields: &Vec<&str>| -> Result<Origin, Box<dyn Error>> {
        Ok(match fields[0] {
            "-1" => Origin::Founder,
            sire => Origin::Parents { sire: sire.parse()?, dam: fields[1].parse()? },
        })
    };
    let origins = lines.iter().map(origin).collect::<Result<Vec<_>, _>>()?;
    let group = LinkageGroup::autosomal(2)?;
    let random_mating = group.founder_weights(&[vec![1.0 - FREQUENCY, FREQUENCY]]);
    let mut evidence = vec![Evidence::flat(lines.len(), group.n_states()); LOCI];
    for (animal, fields) in lines.iter().enumerate() {
        for (known, letter) in evidence.iter_mut().zip(fields[2].chars()) {
            if origins[animal] == Origin::Founder {
                let is_unknown = letter.is_ascii_uppercase() || letter == '!';
                known.see(animal, if is_unknown { &random_mating } else { &[1.0, 0.0, 0.0] });
            }
            match letter.to_ascii_lowercase() {
                'n' => known.see(animal, &[1.0, 1.0, 0.0]),
                'v' => known.see(animal, &[0.0, 0.0, 1.0]),
                _ => {}
            }
        }
    }
    Ok((Pedigree::new(origins)?, evidence))
}

fn all(pedigree: &Pedigree, evidence: &[Evidence]) -> Result<Vec<f64>, Box<dyn Error>> {
    let group = LinkageGroup::autosomal(2)?;
    let next = AtomicUsize::new(0);
    let work = || {
        let mut workspace = Workspace::default();
        let mut mine = Vec::new();
        while let Some(known) = evidence.get(next.fetch_add(1, Ordering::Relaxed)) {
            let start = Instant::now();
            let found = posteriors_in(&mut workspace, pedigree, &group, known, &Budget::default());
            mine.push((found, start.elapsed().as_secs_f64() * 1e3));
        }
        mine
    };
    let done = std::thread::scope(|scope| {
        let other = scope.spawn(work);
        let mut mine = work();
        mine.extend(other.join().unwrap_or_default());
        mine
    });
    done.into_iter().map(|(found, ms)| found.map(|_| ms).map_err(Into::into)).collect()
}

fn memory() -> Result<String, Box<dyn Error>> {
    let status = std::fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find(|l| l.starts_with("VmHWM")).unwrap_or("VmHWM: not known");
    Ok(line.trim_start_matches("VmHWM:").trim().to_owned())
}
