//! The likeliest products and clutches of random size beside NumPy and SciPy, on the same numbers
//! in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench beside_numpy`
//! where that Python has numpy and scipy. Prints the median time of each and their ratio, and stops
//! if the results are further apart than 1e-14.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;

use genetics::chances::{ClutchSize, likeliest};

#[path = "peer/mod.rs"]
mod peer;
use peer::{Dice, median, run};

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{:34} {:>9} {:>12} {:>8}", "", "ours us", "peer us", "ratio")?;
    for (loci, limit) in [(12, 20), (16, 20), (16, 1000), (30, 20), (30, 1000)] {
        products(&mut out, loci, limit)?;
    }
    for k in 1..=3 {
        clutches(&mut out, k)?;
    }
    Ok(())
}

/// Crosses of two to four looks a locus, drawn towards parents that are known only as chances.
fn locus(dice: &mut Dice) -> Vec<f64> {
    let crosses: [&[f64]; 5] =
        [&[0.5, 0.5], &[0.25, 0.5, 0.25], &[0.75, 0.25], &[1.0 / 3.0, 2.0 / 3.0], &[0.25; 4]];
    let cross = crosses[dice.below(5)];
    let spread: Vec<f64> = cross.iter().map(|_| dice.chance() + dice.chance()).collect();
    let sum: f64 = spread.iter().sum();
    let mut list: Vec<f64> =
        cross.iter().zip(&spread).map(|(p, s)| 0.7 * p + 0.3 * s / sum).collect();
    list.sort_by(|a, b| b.total_cmp(a));
    list
}

fn products(out: &mut impl Write, loci: usize, limit: usize) -> Result<(), Box<dyn Error>> {
    let mut dice = Dice::new(loci as u64);
    let lists: Vec<Vec<f64>> = (0..loci).map(|_| locus(&mut dice)).collect();
    let (micros, ranking) = median(|| likeliest(black_box(&lists), limit));
    let ours: Vec<f64> = ranking.values().collect();
    let padded =
        |list: &Vec<f64>| (0..4).map(|i| list.get(i).copied().unwrap_or(0.0)).collect::<Vec<_>>();
    let sent: Vec<f64> = lists.iter().flat_map(padded).collect();
    let what = ["products".to_owned(), limit.to_string()];
    for peer in run("beside_numpy.py", &what, &sent)? {
        peer.agrees(&ours, 1e-14)?;
        peer.line(out, &format!("top {limit} of {loci} loci"), micros)?;
    }
    Ok(())
}

fn clutches(out: &mut impl Write, k: usize) -> Result<(), Box<dyn Error>> {
    let mut dice = Dice::new(k as u64);
    let clutch = ClutchSize::usual();
    // Most targets are rare: three chances in a row.
    let chances: Vec<f64> =
        (0..10_000).map(|_| dice.chance() * dice.chance() * dice.chance()).collect();
    let (micros, ours) = median(|| black_box(&clutch).hits(k).at_least_each(black_box(&chances)));
    #[expect(clippy::cast_precision_loss, reason = "a clutch is small")]
    let mut sent = vec![clutch.chances().len() as f64];
    sent.extend(clutch.chances());
    sent.extend(&chances);
    for peer in run("beside_numpy.py", &["clutches".to_owned(), k.to_string()], &sent)? {
        peer.agrees(&ours, 1e-14)?;
        peer.line(out, &format!("at least {k} of a clutch, 10,000"), micros)?;
    }
    Ok(())
}
