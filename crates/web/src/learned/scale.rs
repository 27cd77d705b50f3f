//! A scale with round ends.

/// A scale with round ends.
pub struct Scale {
    low: f64,
    step: f64,
    steps: u8,
}

impl Scale {
    pub fn over(low: f64, high: f64, is_wide: bool) -> Self {
        let most = if is_wide { 8.0 } else { 5.0 };
        let span = (high - low).max(1e-6);
        let rounds = [0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0];
        let step = rounds.into_iter().find(|step| span / step <= most).unwrap_or(span / most);
        let low = (low / step + 1e-9).floor() * step;
        let mut steps = 1_u8;
        while low + f64::from(steps) * step < high - 1e-9 && steps < 20 {
            steps += 1;
        }
        Self { low, step, steps }
    }

    /// From 0 at the lower end to 1 at the upper.
    pub fn along(&self, value: f64) -> f64 {
        (value - self.low) / (self.step * f64::from(self.steps))
    }

    pub fn ticks(&self) -> Vec<f64> {
        let at = |i| self.low + self.step * f64::from(i);
        (0..=self.steps).map(|i| (at(i) * 100.0).round() / 100.0 + 0.0).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_has_round_ends_around_what_it_shows() {
        let scale = Scale::over(-0.13, 3.4, false);
        assert_eq!(scale.ticks(), [-1.0, 0.0, 1.0, 2.0, 3.0, 4.0]);
        assert!((scale.along(1.5) - 0.5).abs() < 1e-12);
        assert_eq!(Scale::over(0.0, 47.0, false).ticks(), [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]);
        assert_eq!(Scale::over(2.0, 2.0, true).ticks().len(), 2);
    }
}
