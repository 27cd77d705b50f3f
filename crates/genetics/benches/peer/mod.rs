//! A Python script beside us: what it is sent, what it says, what that makes.

use std::error::Error;
use std::io::Write;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The same numbers in every run: the 64-bit linear congruential generator of Knuth (MMIX).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        let mut dice = Self(seed);
        (0..8).for_each(|_| {
            dice.chance();
        });
        dice
    }

    /// From 0 to 1.
    #[expect(clippy::cast_precision_loss, reason = "53 bits")]
    pub fn chance(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few")]
    pub fn below(&mut self, n: usize) -> usize {
        (self.chance() * n as f64) as usize
    }
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
    pub fn agrees(&self, ours: &[f64], within: f64) -> Result<(), Box<dyn Error>> {
        let apart = ours.iter().zip(&self.results).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        if ours.len() != self.results.len() || apart > within {
            return Err(format!("{} differs by {apart:e}", self.name).into());
        }
        Ok(())
    }

    pub fn line(&self, out: &mut impl Write, what: &str, ours: f64) -> std::io::Result<()> {
        let Self { name, micros, .. } = self;
        let name = format!("{what}, {name}");
        writeln!(out, "{name:34} {ours:9.2} {micros:12.1} {:8.1}", micros / ours)
    }
}

/// Runs a script of this folder; each line it prints is one peer.
pub fn run(script: &str, what: &[String], sent: &[f64]) -> Result<Vec<Peer>, Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = format!("{}/benches/{script}", env!("CARGO_MANIFEST_DIR"));
    let mut child = Command::new(python)
        .arg(script)
        .args(what)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    let bytes: Vec<u8> = sent.iter().flat_map(|x| x.to_le_bytes()).collect();
    child.stdin.take().ok_or("no stdin")?.write_all(&bytes)?;
    let said = String::from_utf8(child.wait_with_output()?.stdout)?;
    let peers: Vec<Peer> = said.lines().map(peer).collect::<Result<_, _>>()?;
    if peers.is_empty() { Err("the peer said nothing".into()) } else { Ok(peers) }
}

fn peer(line: &str) -> Result<Peer, Box<dyn Error>> {
    let mut words = line.split(' ');
    let name = words.next().ok_or("no name")?.to_owned();
    let micros = words.next().ok_or("no time")?.parse()?;
    let results = words.map(str::parse).collect::<Result<_, _>>()?;
    Ok(Peer { name, micros, results })
}
