//! Typical errors: medians, by weight.

/// The smallest value at or below which at least `share` of the weight lies: the inverse of the
/// weighted distribution function (definition 1 of Hyndman and Fan 1996, American Statistician 50:361).
/// `None` without weight.
#[must_use]
pub fn quantile(values: &[(f64, f64)], share: f64) -> Option<f64> {
    let mut sorted: Vec<(f64, f64)> =
        values.iter().copied().filter(|(value, weight)| *weight > 0.0 && !value.is_nan()).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = sorted.iter().map(|(_, weight)| weight).sum();
    let mut sum = 0.0;
    for (value, weight) in &sorted {
        sum += weight;
        if sum >= share * total * (1.0 - 1e-12) {
            return Some(*value);
        }
    }
    sorted.last().map(|(value, _)| *value)
}

/// The median; between the two middle values where the weight divides there.
#[must_use]
pub fn median(values: &[(f64, f64)]) -> Option<f64> {
    let low = quantile(values, 0.5)?;
    let turned: Vec<(f64, f64)> = values.iter().map(|(value, weight)| (-value, *weight)).collect();
    let high = -quantile(&turned, 0.5)?;
    Some(0.5 * (low + high))
}
