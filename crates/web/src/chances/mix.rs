//! What hatches of a clutch, where not all is known to.

use answers::pair_chances::{LookShown, PairChances};

use super::words;

/// Shares of the fertile eggs.
pub struct Mix {
    /// Those that can hatch, as far as genes decide it.
    pub hatching: f64,
    /// The part of them of which it is not known whether it does.
    unknown: f64,
}

impl Mix {
    pub const fn of(answer: &PairChances) -> Self {
        Self { hatching: answer.hatching, unknown: answer.unknown }
    }

    /// Whether of every egg it is known whether it can hatch.
    pub fn is_sure(&self) -> bool {
        self.unknown <= 1e-12
    }

    /// Whether some eggs do not hatch, or are not known to.
    pub fn is_thinned(&self) -> bool {
        self.hatching < 1.0 - 1e-12 || !self.is_sure()
    }

    /// The share of a look among the hatchlings: from none of those hatching of which it is not
    /// known to all of them.
    pub fn of_hatchlings(&self, o: &LookShown) -> Option<String> {
        if !self.is_thinned() || self.hatching <= 0.0 {
            return None;
        }
        let all = o.chance * o.hatching / self.hatching;
        if self.is_sure() {
            return Some(words::percent(all));
        }
        let known = self.hatching - self.unknown;
        let none = if known > 1e-12 { o.chance * (o.hatching - o.unknown) / known } else { 0.0 };
        if (all - none).abs() < 5e-4 {
            return Some(words::percent(all));
        }
        let (low, high) = (none.min(all).max(0.0), none.max(all).min(1.0));
        Some(format!("{} to {}", words::percent(low), words::percent(high)))
    }

    /// The sum of the table, as a sentence.
    pub fn said(&self) -> String {
        if self.is_sure() {
            return format!(
                "{} of the fertile eggs can hatch, as far as genes decide it.",
                words::percent(self.hatching)
            );
        }
        format!(
            "Of the fertile eggs {} can hatch, as far as genes decide it; of {} more it is not known whether they hatch. Shares of the hatchlings are told for none of these hatching and for all of them.",
            words::percent(self.hatching - self.unknown),
            words::percent(self.unknown)
        )
    }
}
