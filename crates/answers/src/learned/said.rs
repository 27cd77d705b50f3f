//! The answers as sentences. "In your records", never "is so".

use super::{Effect, Verdict};

/// How an effect of the model becomes the number a keeper is told. Rises, and takes 0 to 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// Times a factor above zero.
    Times(f64),
    /// From log odds to percentage points, between two chances that lie around this one.
    PointsAround(f64),
}

impl Scale {
    /// The number told.
    pub fn of(self, x: f64) -> f64 {
        match self {
            Self::Times(factor) => x * factor,
            Self::PointsAround(chance) => {
                let middle = log_odds(chance);
                100.0 * (share(middle + 0.5 * x) - share(middle - 0.5 * x))
            }
        }
    }
}

/// A share from its log odds.
pub fn share(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

/// Log odds of a share, kept away from 0 and 1.
pub fn log_odds(share: f64) -> f64 {
    let share = share.clamp(0.01, 0.99);
    (share / (1.0 - share)).ln()
}

/// The words of one effect.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// Where the effect is above zero.
    pub more: &'static str,
    /// Where it is below.
    pub less: &'static str,
    /// What is compared, after "No difference seen: ".
    pub between: &'static str,
    /// What one unit of the effect is.
    pub unit: &'static str,
    /// Digits behind the point.
    pub digits: usize,
    /// From the model's effect to the number told.
    pub scale: Scale,
}

impl Words {
    /// The answer.
    pub fn sentence(&self, verdict: Verdict, effect: &Effect) -> String {
        let number = |x: f64| signed(x, self.digits);
        let size = number(effect.median);
        let [low, high] = [effect.eighty.low, effect.eighty.high].map(number);
        let size = format!("{size} {} (80 %: {low} to {high})", self.unit);
        let side = if effect.median > 0.0 { self.more } else { self.less };
        match verdict {
            Verdict::Clear => format!("{side}: in your records {size}."),
            Verdict::MayBeChance if effect.ninety_five.excludes(0.0) => {
                format!("{side}, perhaps: in your records {size}. That may be chance.")
            }
            Verdict::MayBeChance => {
                let [low, high] = [effect.ninety_five.low, effect.ninety_five.high].map(number);
                format!(
                    "{side}, if anything: in your records {size}. That may well be chance: with \
                     95 % it lies from {low} to {high}."
                )
            }
            _ => format!("No difference seen {}: in your records {size}.", self.between),
        }
    }
}

/// "+0.31", "−2", "0.00".
pub fn signed(x: f64, digits: usize) -> String {
    let text = format!("{:.digits$}", x.abs());
    let is_zero = text.bytes().all(|b| matches!(b, b'0' | b'.'));
    match (is_zero, x > 0.0) {
        (true, _) => text,
        (false, true) => format!("+{text}"),
        (false, false) => format!("\u{2212}{text}"),
    }
}

/// "34 %".
pub fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// "1 clutch", "7 clutches".
pub fn of(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// What is counted, where there is one of it: the first noun and the verb that goes with it.
pub fn singular(what: &str) -> String {
    const NOUNS: [(&str, &str); 10] = [
        ("female-seasons", "female-season"),
        ("females", "female"),
        ("males", "male"),
        ("cycles", "cycle"),
        ("clutches", "clutch"),
        ("places", "place"),
        ("pairs", "pair"),
        ("nights", "night"),
        ("locks", "lock"),
        ("temperatures", "temperature"),
    ];
    const VERBS: [(&str, &str); 2] = [(" that have ", " that has "), (" that are ", " that is ")];
    let mut words: Vec<String> = what.split(' ').map(str::to_owned).collect();
    let noun = words.iter_mut().find_map(|word| {
        let one = NOUNS.iter().find(|(many, _)| many == word)?.1;
        Some((word, one))
    });
    if let Some((word, one)) = noun {
        one.clone_into(word);
    }
    VERBS.iter().fold(words.join(" "), |text, (many, one)| text.replace(many, one))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_counted_as_many() {
        for (many, one) in [
            ("clutches that have not hatched yet", "clutch that has not hatched yet"),
            ("males with fewer nights", "male with fewer nights"),
            ("pairs of scans without one", "pair of scans without one"),
            ("older cycles", "older cycle"),
            ("came to ovulation", "came to ovulation"),
        ] {
            assert_eq!(singular(many), one);
        }
    }

    #[test]
    fn the_words_follow_the_interval() {
        use forecast::effects::Interval;

        let words = Words {
            more: "More food, faster growth",
            less: "More food, slower growth",
            between: "between more food and less",
            unit: "mm a week",
            digits: 2,
            scale: Scale::Times(1.0),
        };
        let around = |median: f64, half: [f64; 3]| {
            let [eighty, ninety_five, for_clear] =
                half.map(|half| Interval { low: median - half, high: median + half });
            Effect { unit: "mm a week", median, eighty, ninety_five, for_clear }
        };
        let said = |effect: &Effect| words.sentence(super::super::verdict(effect), effect);
        let wide = said(&around(-0.14, [0.3, 0.5, 0.9]));
        assert!(wide.starts_with("No difference seen between more food and less"), "{wide}");
        let hardly = said(&around(-0.14, [0.12, 0.2, 0.3]));
        assert!(hardly.starts_with("More food, slower growth, if anything: in your"), "{hardly}");
        assert!(hardly.ends_with("with 95 % it lies from \u{2212}0.34 to +0.06."), "{hardly}");
        let perhaps = said(&around(-0.14, [0.05, 0.1, 0.3]));
        assert!(perhaps.starts_with("More food, slower growth, perhaps: in your"), "{perhaps}");
        let clear = said(&around(0.14, [0.05, 0.08, 0.12]));
        assert!(clear.starts_with("More food, faster growth: in your records +0.14"), "{clear}");
    }

    #[test]
    fn signs_are_told_and_nothing_has_none() {
        assert_eq!(signed(0.314, 2), "+0.31");
        assert_eq!(signed(-0.314, 1), "\u{2212}0.3");
        assert_eq!(signed(-0.004, 2), "0.00");
    }

    #[test]
    fn a_scale_rises_and_keeps_zero() {
        for scale in [Scale::Times(0.4), Scale::PointsAround(0.2)] {
            assert!(scale.of(0.0).abs() < 1e-12);
            assert!(scale.of(-1.0) < 0.0 && scale.of(1.0) < scale.of(2.0));
        }
        // At an even chance log odds of 2 ln 3 are from 25 to 75 %.
        let wide = Scale::PointsAround(0.5).of(2.0 * 3.0_f64.ln());
        assert!((wide - 50.0).abs() < 1e-9);
        // With a hazard of one and a half the one comes first in three cases of five.
        assert!((share(1.5_f64.ln()) - 0.6).abs() < 1e-12);
    }
}
