//! Effects against statsmodels, scikit-learn, lifelines, R's survival and lme4, numpyro and SciPy;
//! files, scripts and versions in tests/published/effects.

mod chances;
mod lines;
mod means;
mod waiting;

use std::collections::BTreeMap;

use forecast::effects::{Design, Grouping};

const RECORDS: &str = include_str!("../../../../tests/published/effects/records.csv");
const VALUES: [&str; 2] = [
    include_str!("../../../../tests/published/effects/values.csv"),
    include_str!("../../../../tests/published/effects/values_r.csv"),
];

/// A sheet by its headings, numbers only.
struct Sheet(BTreeMap<String, Vec<f64>>);

impl Sheet {
    fn read(text: &str) -> Self {
        let mut lines = text.lines().map(|l| l.split(',').map(|c| c.trim_matches('"')));
        let headings: Vec<String> = lines.next().unwrap().map(str::to_owned).collect();
        let mut columns = vec![vec![]; headings.len()];
        let letter = |cell: &str| f64::from(cell.bytes().next().unwrap_or(0));
        for line in lines {
            for (column, cell) in columns.iter_mut().zip(line) {
                column.push(cell.parse().unwrap_or_else(|_| letter(cell)));
            }
        }
        Self(headings.into_iter().zip(columns).collect())
    }

    fn records() -> Self {
        Self::read(RECORDS)
    }

    fn column(&self, name: &str) -> &[f64] {
        &self.0[name]
    }

    fn len(&self) -> usize {
        self.0.values().next().unwrap().len()
    }

    fn first(&self, n: usize) -> Self {
        Self(self.0.iter().map(|(name, c)| (name.clone(), c[..n].to_vec())).collect())
    }

    /// A column of ones, then those named.
    fn design(&self, names: &[&str]) -> Design {
        let row = |at: usize| {
            [1.0].into_iter().chain(names.iter().map(move |name| self.column(name)[at]))
        };
        Design::new(names.len() + 1, (0..self.len()).flat_map(row).collect()).unwrap()
    }

    fn bare(&self, names: &[&str]) -> Design {
        let row = |at: usize| names.iter().map(move |name| self.column(name)[at]);
        Design::new(names.len(), (0..self.len()).flat_map(row).collect()).unwrap()
    }

    fn grouping(&self, name: &str) -> Grouping {
        Grouping::of(self.column(name).iter().map(|x| x.to_bits())).0
    }
}

/// Stored values of one kind, in order; of one library where it is named.
fn values(what: &str, library: &str) -> Vec<f64> {
    let rows = VALUES.iter().flat_map(|text| text.lines().skip(1));
    let rows = rows.map(|line| line.split(',').collect::<Vec<_>>());
    let found: Vec<f64> =
        rows.filter(|r| r[0] == what && r[3] == library).map(|r| r[2].parse().unwrap()).collect();
    assert!(!found.is_empty(), "no {what} of {library}");
    found
}

#[track_caller]
fn agree(ours: &[f64], theirs: &[f64], within: f64) {
    assert_eq!(ours.len(), theirs.len());
    for (a, b) in ours.iter().zip(theirs) {
        assert!((a - b).abs() <= within * b.abs().max(1.0), "{a} for {b}: {ours:?} {theirs:?}");
    }
}

/// The same numbers in every run: the 64-bit linear congruential generator of Knuth (MMIX).
struct Dice(u64);

impl Dice {
    fn chance(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A sum of twelve (normal but for the far tails).
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.chance()).sum::<f64>() - 6.0
    }
}
