//! Our inbreeding and kinship beside sgkit's on the same pedigrees in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench beside_sgkit`
//! where that Python has numpy and sgkit. Prints the best time of each and their ratio, and stops
//! where a number differs in any bit. sgkit knows only the kinship of all pairs, which does not fit
//! in memory for 100,000 animals: there its answer is checked on some males, females and their
//! ancestors.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::process::Command;
use std::time::Instant;

use genetics::kinship::{Descent, Kinship, Lines};

const SHAPES: [(u32, u32); 6] =
    [(1_000, 6), (1_000, 20), (10_000, 6), (10_000, 20), (100_000, 6), (100_000, 20)];

fn main() -> Result<(), Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut out = std::io::stdout().lock();
    for (animals, years) in SHAPES {
        let peer = Peer::run(&python, animals, years)?;
        writeln!(out, "{} animals, {years} years", peer.descents.len())?;
        inbreeding(&mut out, &peer)?;
        block(&mut out, &peer)?;
        clutch(&mut out, &peer)?;
    }
    Ok(())
}

fn inbreeding(out: &mut impl Write, peer: &Peer) -> Result<(), Box<dyn Error>> {
    let lines = Lines::new(&peer.descents)?;
    let checked = best(|| Lines::new(black_box(&peer.descents)));
    let ours = best(|| Kinship::new(black_box(&lines)).inbreedings());
    let inbreedings = Kinship::new(&lines).inbreedings();
    if inbreedings.iter().map(|f| f.to_bits()).ne(peer.inbreeding.iter().map(|f| f.to_bits())) {
        return Err("inbreeding differs".into());
    }
    let theirs = peer.inbreeding_us;
    writeln!(
        out,
        "  inbreeding of all: {ours:.1} us, sgkit {theirs:.0} us: {:.0} times; with checking the \
         parents ({checked:.1} us) {:.0} times",
        theirs / ours,
        theirs / (ours + checked)
    )?;
    Ok(())
}

fn block(out: &mut impl Write, peer: &Peer) -> Result<(), Box<dyn Error>> {
    let kinship = Kinship::new(&Lines::new(&peer.descents)?);
    let ours = best(|| kinship.block(black_box(&peer.males), &peer.females));
    let block = kinship.block(&peer.males, &peer.females).ok_or("an animal is missing")?;
    let n = peer.checked_males.len();
    let mut related = 0;
    for (row, female) in peer.checked_females.iter().enumerate() {
        for (column, male) in peer.checked_males.iter().enumerate() {
            let (own, theirs) = (block.of_female(*female)[*male], peer.block[row * n + column]);
            related += u32::from(own > 0.0);
            if f64::from(own).to_bits() != theirs.to_bits() {
                return Err(format!("kinship {own} but sgkit has {theirs}").into());
            }
        }
    }
    let (m, f) = (peer.males.len(), peer.females.len());
    write!(
        out,
        "  {m} males x {f} females: {ours:.1} us; {related} of {} checked are related",
        peer.block.len()
    )?;
    match peer.kinship_us {
        0.0 => writeln!(out)?,
        theirs => writeln!(out, "; sgkit, all pairs, {theirs:.0} us: {:.0} times", theirs / ours)?,
    }
    Ok(())
}

/// A clutch of seven by each of the males with one of the females, after all others.
fn clutch(out: &mut impl Write, peer: &Peer) -> Result<(), Box<dyn Error>> {
    let kinship = Kinship::new(&Lines::new(&peer.descents)?);
    let pairs: Vec<(usize, usize)> =
        peer.males.iter().zip(&peer.females).map(|(m, f)| (*m, *f)).collect();
    let mut micros = f64::INFINITY;
    for _ in 0..20 {
        let mut grown = kinship.clone();
        let start = Instant::now();
        for (sire, dam) in &pairs {
            for _ in 0..7 {
                grown.extend(Descent::Of { sire: Some(*sire), dam: Some(*dam) })?;
            }
        }
        micros = micros.min(start.elapsed().as_secs_f64() * 1e6);
    }
    let each = micros / f64::from(u32::try_from(pairs.len())?);
    writeln!(out, "  one clutch of seven more: {each:.3} us")?;
    Ok(())
}

/// Best time of many runs, in microseconds.
fn best<T>(mut ask: impl FnMut() -> T) -> f64 {
    let mut least = f64::INFINITY;
    let begin = Instant::now();
    while begin.elapsed().as_secs_f64() < 1.0 {
        let start = Instant::now();
        let answer = black_box(ask());
        least = least.min(start.elapsed().as_secs_f64() * 1e6);
        drop(answer);
    }
    least
}

/// What the script gave.
struct Peer {
    descents: Vec<Descent>,
    inbreeding: Vec<f64>,
    males: Vec<usize>,
    females: Vec<usize>,
    checked_males: Vec<usize>,
    checked_females: Vec<usize>,
    block: Vec<f64>,
    inbreeding_us: f64,
    kinship_us: f64,
}

impl Peer {
    fn run(python: &str, animals: u32, years: u32) -> Result<Self, Box<dyn Error>> {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/beside_sgkit.py");
        let done = Command::new(python)
            .args([script, &animals.to_string(), &years.to_string()])
            .output()?;
        if !done.status.success() {
            return Err(String::from_utf8_lossy(&done.stderr).into_owned().into());
        }
        let end = done.stdout.iter().position(|b| *b == b'\n').ok_or("no first line")?;
        let first: Vec<f64> = std::str::from_utf8(&done.stdout[..end])?
            .split(' ')
            .map(str::parse)
            .collect::<Result<_, _>>()?;
        let [n, males, females, some_males, some_females, inbreeding_us, kinship_us] = first[..]
        else {
            return Err("seven numbers expected".into());
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "counts")]
        let [n, males, females, some_males, some_females] =
            [n, males, females, some_males, some_females].map(|count| count as usize);
        let mut rest = Rest(&done.stdout[end + 1..]);
        let (sire, dam) = (rest.places(n), rest.places(n));
        let descent =
            |(sire, dam): (&Option<usize>, &Option<usize>)| Descent::Of { sire: *sire, dam: *dam };
        Ok(Self {
            descents: sire.iter().zip(&dam).map(descent).collect(),
            inbreeding: rest.numbers(n),
            males: rest.places(males).into_iter().flatten().collect(),
            females: rest.places(females).into_iter().flatten().collect(),
            checked_males: rest.places(some_males).into_iter().flatten().collect(),
            checked_females: rest.places(some_females).into_iter().flatten().collect(),
            block: rest.numbers(some_males * some_females),
            inbreeding_us,
            kinship_us,
        })
    }
}

/// What is not read yet.
struct Rest<'a>(&'a [u8]);

impl Rest<'_> {
    fn chunks<const N: usize>(&mut self, count: usize) -> Vec<[u8; N]> {
        let (now, later) = self.0.split_at((count * N).min(self.0.len()));
        self.0 = later;
        now.as_chunks().0.to_vec()
    }

    /// Places; none for -1.
    fn places(&mut self, count: usize) -> Vec<Option<usize>> {
        let place = |bytes| usize::try_from(i32::from_le_bytes(bytes)).ok();
        self.chunks(count).into_iter().map(place).collect()
    }

    fn numbers(&mut self, count: usize) -> Vec<f64> {
        self.chunks(count).into_iter().map(f64::from_le_bytes).collect()
    }
}
