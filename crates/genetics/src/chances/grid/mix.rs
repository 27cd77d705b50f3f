//! Chances of an egg with the weight of the parents' genotypes that give them.

/// Chance and weight, the chances rising and no two alike.
#[derive(Clone, Debug, Default)]
pub(super) struct Mix {
    points: Vec<(f64, f64)>,
    // Kept so that a pair costs no allocation.
    spare: Vec<(f64, f64)>,
}

impl Mix {
    pub(super) fn certain(&mut self) {
        self.points.clear();
        self.points.push((1.0, 1.0));
    }

    pub(super) fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    pub(super) fn mean(&self) -> f64 {
        self.points.iter().map(|(p, w)| p * w).sum::<f64>().clamp(0.0, 1.0)
    }

    /// 1 - p for every chance p.
    pub(super) fn complement(&mut self) {
        self.points.reverse();
        self.points.iter_mut().for_each(|(p, _)| *p = 1.0 - *p);
    }

    /// Times an independent chance, whose values rise.
    pub(super) fn times(&mut self, values: impl Iterator<Item = (f64, f64)> + Clone) {
        let mut weighted = values.filter(|(_, w)| *w > 0.0);
        let (first, second) = (weighted.next(), weighted.next());
        let (Some((value, weight)), None) = (first, second) else {
            return self.spread(first.into_iter().chain(second).chain(weighted));
        };
        // One value only: the order stays, unless all falls to 0.
        if value > 0.0 {
            self.points.iter_mut().for_each(|(p, w)| (*p, *w) = (*p * value, *w * weight));
        } else {
            let sum: f64 = self.points.iter().map(|(_, w)| w).sum();
            self.points.clear();
            self.points.push((0.0, sum * weight));
        }
    }

    fn spread(&mut self, values: impl Iterator<Item = (f64, f64)>) {
        let old = std::mem::take(&mut self.points);
        let mut sum: Vec<(f64, f64)> = std::mem::take(&mut self.spare);
        sum.clear();
        let mut merged = Vec::with_capacity(old.len() * 2);
        for (value, weight) in values {
            merge(&sum, old.iter().map(|(p, w)| (p * value, w * weight)), &mut merged);
            std::mem::swap(&mut sum, &mut merged);
        }
        self.points = sum;
        self.spare = old;
    }
}

/// Two rising lists as one; equal chances (to the bit) become one point.
fn merge(a: &[(f64, f64)], b: impl Iterator<Item = (f64, f64)>, out: &mut Vec<(f64, f64)>) {
    out.clear();
    let mut push = |(p, w): (f64, f64)| match out.last_mut() {
        Some((last, sum)) if *last == p => *sum += w,
        _ => out.push((p, w)),
    };
    let mut a = a.iter().copied().peekable();
    for point in b {
        while let Some(before) = a.next_if(|before| before.0 <= point.0) {
            push(before);
        }
        push(point);
    }
    a.for_each(push);
}
