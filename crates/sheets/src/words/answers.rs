//! Words for "eaten" and "left".

use records::words::Meal;

/// What a cell says about a meal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Eaten or left.
    Meal(Meal),
    /// A cross: a tick in one sheet, a no in another; its column decides.
    Cross,
    /// Eaten and brought up again.
    BroughtUp,
}

/// Words for eaten (common practice, no source).
pub const EATEN: &[&str] = &[
    "y",
    "yes",
    "ate",
    "eat",
    "eaten",
    "took",
    "taken",
    "take",
    "took it",
    "ok",
    "okay",
    "✓",
    "✔",
    "✔️",
    "☑",
    "√",
    "1",
    "true",
    "t",
    "accepted",
    "accept",
    "consumed",
    "fed",
    "done",
    "good",
    "struck",
    "struck and ate",
    "ate well",
    "ate it",
    "all",
    "ate all",
    "finished",
    "swallowed",
    "down",
    "strike",
    "+",
    "yep",
    "yup",
    "ja",
    "j",
    "oui",
    "si",
    "ate overnight",
    "ate late",
    "eaten overnight",
    "left in, ate",
    "assist",
    "assisted",
];

/// Words for left (common practice, no source).
pub const LEFT: &[&str] = &[
    "n",
    "no",
    "nope",
    "refused",
    "refuse",
    "refusal",
    "ref",
    "rf",
    "r",
    "rej",
    "rejected",
    "reject",
    "declined",
    "0",
    "false",
    "did not eat",
    "didn't eat",
    "didnt eat",
    "dne",
    "not eaten",
    "not taken",
    "left",
    "left it",
    "untouched",
    "off",
    "off food",
    "off feed",
    "none",
    "no interest",
    "not interested",
    "nothing",
    "-",
    "–",
    "✗",
    "✘",
    "❌",
    "no thanks",
    "nein",
    "non",
    "ignored",
    "would not eat",
    "wouldn't eat",
    "won't eat",
    "missed",
    "no feed",
    "ate nothing",
];

/// Reads a cell; none where it is neither.
#[must_use]
pub fn read(cell: &str) -> Option<Answer> {
    let word = super::plain(cell);
    let word = word.as_str();
    if EATEN.contains(&word) {
        return Some(Answer::Meal(Meal::Taken));
    }
    if LEFT.contains(&word) {
        return Some(Answer::Meal(Meal::Refused));
    }
    if matches!(word, "x" | "×") {
        return Some(Answer::Cross);
    }
    let up = [
        "regurg",
        "regurgitated",
        "regurgitation",
        "regurgitate",
        "vomited",
        "threw up",
        "brought up",
    ];
    up.iter().any(|w| word == *w || word.starts_with("regurg")).then_some(Answer::BroughtUp)
}

/// What a cross means in a column with these other words; none where it cannot be told.
#[must_use]
pub const fn cross_means(other_yes: bool, other_no: bool) -> Option<Meal> {
    match (other_yes, other_no) {
        (true, false) => Some(Meal::Refused),
        (false, _) => Some(Meal::Taken),
        (true, true) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_forty_and_none_means_both() {
        assert!(EATEN.len() + LEFT.len() >= 40);
        assert!(EATEN.iter().all(|w| !LEFT.contains(w)));
        for word in EATEN {
            assert_eq!(
                read(&format!(" {}. ", word.to_uppercase())),
                Some(Answer::Meal(Meal::Taken)),
                "{word}"
            );
        }
        for word in LEFT {
            assert_eq!(read(&word.to_uppercase()), Some(Answer::Meal(Meal::Refused)), "{word}");
        }
    }
}
