//! All posteriors of a collection at one locus, beside pyAgrum's exact inference in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench beside_agrum [-- N,N,...]`
//! where that Python has numpy and pyagrum. Prints the median time of ours from evidence to
//! posteriors with the pedigree in memory, the peer's time where it gives an answer (it is stopped
//! after 4 GB or two minutes), the ratio, the largest difference of a chance, and both log
//! likelihoods.

use std::error::Error;
use std::io::Write;
use std::process::{Command, Output};
use std::time::Instant;

use genetics::posterior::{Budget, Workspace, posteriors_in};
use genetics::{Evidence, LinkageGroup, Origin, Pedigree};

const CASES: [&str; 6] =
    ["carriers named", "recessive .25", "recessive .05", "dominant .05", "4 alleles", "8 alleles"];
/// Where the peer runs out of memory or time, it is not asked.
const PEER: [(usize, &[usize]); 3] =
    [(200, &[0, 1, 2, 3, 4, 5]), (2_000, &[0, 1, 2, 3]), (20_000, &[])];

struct Collection {
    pedigree: Pedigree,
    alleles: usize,
    /// Weights of each animal, none where nothing is known.
    known: Vec<Vec<Vec<f64>>>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{:7} {:16} {:>11} {:>11} {:>10} {:>9}  log likelihoods",
        "animals", "locus", "ours us", "peer us", "ratio", "differ"
    )?;
    let asked = std::env::args().find(|a| a.chars().all(|c| c.is_ascii_digit() || c == ','));
    for (n, asks) in PEER {
        let wanted = asked.as_ref().is_none_or(|a| a.split(',').any(|x| x == n.to_string()));
        for (i, case) in CASES.iter().enumerate().filter(|_| wanted) {
            let collection = read(&python("make", n, case)?.stdout)?;
            match ours(&collection) {
                Ok((micros, log, chances)) => {
                    let peer = if asks.contains(&i) { peer(n, case)? } else { None };
                    row(&mut out, (n, case), (micros, log, &chances), peer)?;
                }
                Err(why) => writeln!(out, "{n:7} {case:16} {why}")?,
            }
        }
    }
    Ok(())
}

type Peer = Option<(f64, f64, Vec<f64>)>;

fn row(
    out: &mut impl Write,
    (n, case): (usize, &str),
    (micros, log, chances): (f64, f64, &[f64]),
    peer: Peer,
) -> Result<(), Box<dyn Error>> {
    let Some((theirs, their_log, their_chances)) = peer else {
        writeln!(
            out,
            "{n:7} {case:16} {micros:11.1} {:>11} {:>10} {:>9}  {log:.4}",
            "-", "-", "-"
        )?;
        return Ok(());
    };
    let differ = chances.iter().zip(&their_chances).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    if differ > 1e-9 || (log - their_log).abs() > 1e-6 {
        return Err(format!("{case}: a chance differs by {differ}, logs {log} {their_log}").into());
    }
    let ratio = theirs / micros;
    writeln!(
        out,
        "{n:7} {case:16} {micros:11.1} {theirs:11.0} {ratio:10.0} {differ:9.1e}  {log:.4} {their_log:.4}"
    )?;
    Ok(())
}

fn python(verb: &str, n: usize, case: &str) -> Result<Output, Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/beside_agrum.py");
    let limited =
        format!("ulimit -v 8000000; exec timeout 120 {python} {script} {verb} {n} '{case}'");
    Ok(Command::new("sh").args(["-c", &limited]).output()?)
}

fn peer(n: usize, case: &str) -> Result<Peer, Box<dyn Error>> {
    let output = python("time", n, case)?;
    if !output.status.success() {
        return Ok(None);
    }
    let text = String::from_utf8(output.stdout)?;
    let mut numbers = text.split_ascii_whitespace().map(str::parse::<f64>);
    let seconds = numbers.next().ok_or("no time")??;
    let log = numbers.next().ok_or("no likelihood")??;
    Ok(Some((seconds * 1e6, log, numbers.collect::<Result<_, _>>()?)))
}

fn read(csv: &[u8]) -> Result<Collection, Box<dyn Error>> {
    let text = std::str::from_utf8(csv)?;
    let mut lines = text.lines();
    let head: Vec<usize> =
        lines.next().ok_or("empty")?.split(' ').map(str::parse).collect::<Result<_, _>>()?;
    let (alleles, looks) = head.split_first().ok_or("no alleles")?;
    let (mut origins, mut known) = (Vec::new(), Vec::new());
    for line in lines {
        let fields: Vec<f64> = line.split(' ').map(str::parse).collect::<Result<_, _>>()?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places")]
        let place = |x: f64| x as usize;
        let is_founder = fields[0] < 0.0;
        origins.push(if is_founder {
            Origin::Founder
        } else {
            Origin::Parents { sire: place(fields[0]), dam: place(fields[1]) }
        });
        let mut own = Vec::new();
        if is_founder {
            own.push(fields[3..].to_vec());
        }
        if fields[2] >= 0.0 {
            let fits = |l: &usize| f64::from(u8::from(*l == place(fields[2])));
            own.push(looks.iter().map(fits).collect());
        }
        known.push(own);
    }
    Ok(Collection { pedigree: Pedigree::new(origins)?, alleles: *alleles, known })
}

fn ours(collection: &Collection) -> Result<(f64, f64, Vec<f64>), Box<dyn Error>> {
    let group = LinkageGroup::autosomal(collection.alleles)?;
    let mut evidence = Evidence::flat(collection.pedigree.len(), group.n_states());
    for (animal, own) in collection.known.iter().enumerate() {
        own.iter().for_each(|weights| evidence.see(animal, weights));
    }
    let budget = Budget { table_entries: 1 << 28, sampling: None };
    let mut workspace = Workspace::default();
    let mut micros = Vec::new();
    let begun = Instant::now();
    loop {
        let start = Instant::now();
        let found = posteriors_in(
            &mut workspace,
            &collection.pedigree,
            &group,
            std::hint::black_box(&evidence),
            &budget,
        )?;
        micros.push(start.elapsed().as_secs_f64() * 1e6);
        if begun.elapsed().as_secs_f64() > 1.0 && micros.len() >= 3 {
            micros.sort_by(f64::total_cmp);
            let chances = (0..collection.pedigree.len()).flat_map(|a| found.of(a).to_vec());
            let log = found.log10_likelihood().unwrap_or(f64::NAN) * std::f64::consts::LN_10;
            return Ok((micros[micros.len() / 2], log, chances.collect()));
        }
    }
}
