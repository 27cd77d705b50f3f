//! Logistic regression, Cox and Kaplan-Meier beside statsmodels, scikit-learn, lifelines and R's
//! survival, on the same 2,000 records of 12 covariates in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-forecast --bench effects`
//! where that Python has numpy, statsmodels, scikit-learn and lifelines; R is asked where `Rscript`
//! with survival is there. Prints the median time of each and their ratio, and stops if results are
//! further apart than said beside each.

use std::error::Error;
use std::hint::black_box;

use forecast::effects::kaplan_meier::{Spell, curve};
use forecast::effects::logistic::Logistic;
use forecast::effects::{Design, cox};

#[expect(dead_code, reason = "no die of a few sides is thrown here")]
#[path = "../../genetics/benches/peer/mod.rs"]
mod peer;
use peer::{Dice, median, run};

const N: usize = 2000;
const P: usize = 12;

fn main() -> Result<(), Box<dyn Error>> {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    let mut dice = Dice::new(1);
    // A sum of twelve is as good as normal here.
    let x: Vec<f64> =
        (0..N * P).map(|_| (0..12).map(|_| dice.chance()).sum::<f64>() - 6.0).collect();
    let truth = [0.8, -0.5, 0.3];
    let eta = |at: usize| truth.iter().enumerate().map(|(j, b)| b * x[at * P + j]).sum::<f64>();
    let y: Vec<f64> = (0..N)
        .map(|at| f64::from(u8::from(dice.chance() < 1.0 / (1.0 + (0.3 - eta(at)).exp()))))
        .collect();
    let (mut time, mut event) = (vec![], vec![]);
    for at in 0..N {
        let wait = 60.0 * (-dice.chance().ln()).powf(1.0 / 1.6) * (-0.3 * x[at * P]).exp();
        let censor = 20.0 + 100.0 * dice.chance();
        time.push(wait.min(censor).ceil());
        event.push(f64::from(u8::from(wait <= censor)));
    }
    let spells: Vec<Spell> = time
        .iter()
        .zip(&event)
        .map(|(exit, event)| Spell { entry: 0.0, exit: *exit, happened: *event > 0.5 })
        .collect();
    let sent: Vec<f64> = [&x, &y, &time, &event].into_iter().flatten().copied().collect();
    writeln!(out, "{:34} {:>9} {:>12} {:>8}", "", "ours us", "peer us", "ratio")?;

    let with_ones: Vec<f64> =
        x.chunks(P).flat_map(|row| [1.0].into_iter().chain(row.iter().copied())).collect();
    let wide = Design::new(P + 1, with_ones)?;
    let ones = vec![1.0; N];
    for (what, precision) in [("logit", 0.0), ("ridge", 1.0)] {
        let mut prior = vec![precision; P + 1];
        prior[0] = 0.0;
        let model = Logistic { design: &wide, successes: &y, trials: &ones, precision: &prior };
        let (micros, fit) = median(|| black_box(&model).fit());
        let effects = fit?.effects;
        for peer in run("effects.py", &[what.to_owned()], &sent)? {
            peer.agrees(&effects, 1e-10)?;
            peer.line(&mut out, "logistic", micros)?;
        }
    }
    let design = Design::new(P, x)?;
    let (micros, fit) = median(|| cox::fit(black_box(&design), &spells, &[0.0; P]));
    let effects = fit?.effects;
    for peer in run("effects.py", &["cox".to_owned()], &sent)? {
        peer.agrees(&effects, 1e-6)?;
        peer.line(&mut out, "Cox, Efron", micros)?;
    }
    let (micros, steps) = median(|| curve(black_box(&spells)));
    let still: Vec<f64> = steps.iter().map(|s| s.still).collect();
    for peer in run("effects.py", &["km".to_owned()], &sent)? {
        peer.agrees(&still, 1e-12)?;
        peer.line(&mut out, "Kaplan-Meier", micros)?;
    }
    Ok(())
}
