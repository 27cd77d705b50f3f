//! Posteriors that are drawn because the exact answer is too wide: every founder may carry.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench sampled [-- N]`, any Python 3;
//! N: only collections of so many animals. Two threads. Prints the time from evidence to posteriors, the largest standard error it claims and
//! the one that 95 of 100 animals stay under. Where the exact answer is feasible it is made to draw
//! by a small budget, and the true errors stand beside: the largest, the root mean square in
//! standard errors, and the share of chances within two of them.

use std::error::Error;
use std::io::Write;
use std::process::Command;
use std::time::Instant;

use genetics::posterior::{Accuracy, Budget, Posteriors, Sampling, posteriors};
use genetics::{Evidence, LinkageGroup, Origin, Pedigree};

/// Animals, alleles, inheritance, frequency, and whether the exact answer is feasible.
const CASES: [(usize, usize, &str, f64, bool); 7] = [
    (2_000, 2, "recessive", 0.10, true),
    (2_000, 2, "recessive", 0.05, true),
    (2_000, 4, "mixed", 0.30, true),
    (4_000, 2, "recessive", 0.10, false),
    (20_000, 2, "recessive", 0.10, false),
    (20_000, 2, "recessive", 0.02, false),
    (20_000, 4, "mixed", 0.30, false),
];

struct Collection {
    pedigree: Pedigree,
    group: LinkageGroup,
    evidence: Evidence,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    let asked = std::env::args().find_map(|argument| argument.parse::<usize>().ok());
    let is_asked = |animals: usize| asked.is_none_or(|n| n == animals);
    for (animals, alleles, mode, frequency, is_feasible) in CASES {
        if !is_asked(animals) {
            continue;
        }
        let collection = read(&made(animals, alleles, mode, frequency)?, alleles)?;
        let entries = if is_feasible { 1 << 12 } else { Budget::default().table_entries };
        let budget = Budget { table_entries: entries, sampling: Some(Sampling::default()) };
        let begun = Instant::now();
        let found = collection.ask(&budget)?;
        let took = begun.elapsed().as_secs_f64();
        write!(out, "{animals:6} {alleles} alleles, {mode} {frequency:.2}: {took:6.2} s, ")?;
        match found.accuracy() {
            Accuracy::Exact => writeln!(out, "exact")?,
            Accuracy::Sampled { worst_error, error_95, sweeps, chains } => writeln!(
                out,
                "worst error {worst_error:.5}, 95 % {error_95:.5}; {sweeps} sweeps of {chains} chains"
            )?,
        }
        if is_feasible {
            let exact = collection.ask(&Budget { table_entries: 1 << 26, sampling: None })?;
            writeln!(out, "{}", collection.beside(&found, &exact))?;
        }
    }
    Ok(())
}

impl Collection {
    fn ask(&self, budget: &Budget) -> Result<Posteriors, Box<dyn Error>> {
        Ok(posteriors(&self.pedigree, &self.group, std::hint::black_box(&self.evidence), budget)?)
    }

    fn beside(&self, found: &Posteriors, exact: &Posteriors) -> String {
        let misses = |animal: usize| {
            let pairs = found.of(animal).iter().zip(exact.of(animal));
            let misses = pairs.map(|(a, b)| (a - b).abs());
            misses.zip(found.errors_of(animal)).map(|(miss, error)| (miss, *error)).collect()
        };
        let all: Vec<(f64, f64)> = (0..self.pedigree.len()).flat_map::<Vec<_>, _>(misses).collect();
        let worst = all.iter().map(|(miss, _)| *miss).fold(0.0, f64::max);
        let drawn: Vec<f64> = all.iter().filter(|(_, e)| *e > 1e-9).map(|(m, e)| m / e).collect();
        #[expect(clippy::cast_precision_loss, reason = "counts of animals are small")]
        let share = |n: usize| n as f64 / drawn.len() as f64;
        let square = drawn.iter().map(|z| z * z).sum::<f64>() * share(1);
        let within = share(drawn.iter().filter(|z| **z <= 2.0).count());
        format!(
            "{:7}true: worst error {worst:.5}; in standard errors, root mean square {:.2}, within two {:.1} %",
            "",
            square.sqrt(),
            100.0 * within
        )
    }
}

fn made(animals: usize, k: usize, mode: &str, q: f64) -> Result<String, Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/sampled.py");
    let (animals, k, q) = (animals.to_string(), k.to_string(), q.to_string());
    let output = Command::new(python).args([script, &animals, &k, mode, &q]).output()?;
    Ok(String::from_utf8(output.stdout)?)
}

fn read(text: &str, alleles: usize) -> Result<Collection, Box<dyn Error>> {
    let rows = text.lines().map(|line| line.split(' ').map(str::parse).collect());
    let rows: Vec<Vec<f64>> = rows.collect::<Result<_, _>>()?;
    let (looks, rows) = rows.split_first().ok_or("nothing was made")?;
    let group = LinkageGroup::autosomal(alleles)?;
    let mut evidence = Evidence::flat(rows.len(), group.n_states());
    let mut origins = Vec::new();
    for (animal, row) in rows.iter().enumerate() {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places")]
        let place = |x: f64| x as usize;
        if row[0] < 0.0 {
            origins.push(Origin::Founder);
            evidence.see(animal, &row[3..]);
        } else {
            origins.push(Origin::Parents { sire: place(row[0]), dam: place(row[1]) });
        }
        if row[2] >= 0.0 {
            let fits = |look: &f64| f64::from(u8::from(place(*look) == place(row[2])));
            evidence.see(animal, &looks.iter().map(fits).collect::<Vec<_>>());
        }
    }
    Ok(Collection { pedigree: Pedigree::new(origins)?, group, evidence })
}
