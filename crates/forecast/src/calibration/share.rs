//! A share with the range in which it may lie.

/// A share of cases, with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The share, 0 to 1.
    pub share: f64,
    /// Lower end of its 95 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Standard normal value of a 95 % interval.
const NINETY_FIVE: f64 = 1.959_963_984_540_054;

impl Share {
    /// `share` seen among `cases` (not necessarily a whole number; 0 tells nothing): the interval of
    /// Wilson (1927), Journal of the American Statistical Association 22:209.
    #[must_use]
    pub fn of(share: f64, cases: f64) -> Self {
        if cases <= 0.0 {
            return Self { share, low: 0.0, high: 1.0 };
        }
        let z2 = NINETY_FIVE * NINETY_FIVE / cases;
        let middle = (share + 0.5 * z2) / (1.0 + z2);
        let inner = share * (1.0 - share) / cases + 0.25 * z2 / cases;
        let half = NINETY_FIVE * inner.max(0.0).sqrt() / (1.0 + z2);
        Self { share, low: (middle - half).max(0.0), high: (middle + half).min(1.0) }
    }

    /// Whether the interval holds a value.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

/// One case: which source it came from (cases of one source are not independent), its weight, and
/// how much of it counts as held, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Case {
    /// The source.
    pub source: usize,
    /// Its weight.
    pub weight: f64,
    /// How much of it held.
    pub held: f64,
}

/// The weighted share that held, and how many independent cases would tell it as surely.
///
/// Variance between sources (the linearized estimator for clusters: Cochran 1977, Sampling
/// Techniques, 3rd edition, section 6.3 and chapter 11) set against that of independent cases, as
/// Korn and Graubard (1998), Survey Methodology 24:193, do. Never fewer than the sources and never
/// more than the cases, so that agreement by luck is not taken for certainty. `None` without cases.
#[must_use]
pub fn clustered(cases: &[Case]) -> Option<(Share, f64)> {
    let total: f64 = cases.iter().map(|c| c.weight).sum();
    if total <= 0.0 {
        return None;
    }
    let share = cases.iter().map(|c| c.weight * c.held).sum::<f64>() / total;
    let by_source = sums_by_source(cases, share);
    #[expect(clippy::cast_precision_loss, reason = "counts")]
    let (sources, most) = (by_source.len() as f64, cases.len() as f64);
    let most = most.min(total.max(sources));
    let squares: f64 = by_source.iter().map(|sum| sum * sum).sum();
    let variance = squares / (total * total) * sources / (sources - 1.0).max(1.0);
    let plain = share * (1.0 - share);
    let cases = if variance > 1e-12 && plain > 1e-12 { plain / variance } else { sources };
    let cases = cases.clamp(sources.min(total), most);
    Some((Share::of(share, cases), cases))
}

/// Standard error of the share by the same estimator.
#[must_use]
pub fn standard_error(cases: &[Case]) -> f64 {
    let total: f64 = cases.iter().map(|c| c.weight).sum();
    let share = cases.iter().map(|c| c.weight * c.held).sum::<f64>() / total;
    let sums = sums_by_source(cases, share);
    #[expect(clippy::cast_precision_loss, reason = "counts")]
    let sources = sums.len() as f64;
    let squares: f64 = sums.iter().map(|sum| sum * sum).sum();
    (squares * sources / (sources - 1.0).max(1.0)).sqrt() / total
}

fn sums_by_source(cases: &[Case], share: f64) -> Vec<f64> {
    let mut sorted: Vec<&Case> = cases.iter().collect();
    sorted.sort_by_key(|c| c.source);
    let of_one = |chunk: &[&Case]| chunk.iter().map(|c| c.weight * (c.held - share)).sum();
    sorted.chunk_by(|a, b| a.source == b.source).map(of_one).collect()
}
