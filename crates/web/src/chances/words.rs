//! Looks and chances in the keeper's words.

use answers::pair_chances::{CautionShown, LookShown, PairChances};
use genetics::chances::ClutchSize;
use units::Probability;

use super::egg::Piece;

/// Looks named in one sentence; our choice.
const NAMED: usize = 3;

pub fn percent(p: f64) -> String {
    unbroken(&Probability::clamped(p).to_a_tenth())
}

pub fn one_in(p: f64) -> String {
    unbroken(&Probability::clamped(p).one_in())
}

fn unbroken(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// "enchi pastel", or "normal".
pub fn look(shown: &LookShown) -> String {
    if shown.look.is_empty() { "normal".to_owned() } else { shown.look.join(" ") }
}

/// "het clown, 66.7 % het albino".
pub fn hets(shown: &LookShown) -> String {
    let said = |(gene, p): &(String, f64)| {
        if *p > 1.0 - 1e-12 { format!("het {gene}") } else { format!("{} het {gene}", percent(*p)) }
    };
    shown.hets.iter().map(said).collect::<Vec<_>>().join(", ")
}

/// What a clutch most likely brings. Hidden genes that all the looks named share are told once.
pub fn most_likely(answer: &PairChances) -> String {
    let shown = &answer.looks[..answer.looks.len().min(NAMED)];
    let Some(first) = shown.first() else { return "No egg can be reckoned.".to_owned() };
    let shared = Some(hets(first)).filter(|h| shown.iter().all(|o| hets(o) == *h));
    if answer.n_looks == 1 {
        return format!("Every egg looks {}{}.", look(first), led(", ", &hets(first)));
    }
    let named = |o: &LookShown| {
        let own = if shared.is_some() { String::new() } else { led(" ", &hets(o)) };
        format!("{}{own} ({})", look(o), one_in(o.chance))
    };
    let mut all: Vec<String> = shown.iter().map(named).collect();
    let last = all.pop().unwrap_or_default();
    let listed = if all.is_empty() { last } else { format!("{} or {last}", all.join(", ")) };
    let shared = led(", each ", &shared.unwrap_or_default());
    match answer.n_looks {
        n if n <= NAMED as u128 => format!("Looks {listed}{shared}."),
        n => format!("Most likely {listed}{shared}; {n} looks in all."),
    }
}

fn led(before: &str, text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("{before}{text}") }
}

/// How likely the wish comes true, as a sentence and the number it ends with.
pub fn wished(at_least_one: f64, wish: &str, clutch: &str) -> (String, Option<String>) {
    if at_least_one <= 0.0 {
        return (format!("Cannot bring {wish}."), None);
    }
    (format!("At least one {wish} in {clutch}:"), Some(percent(at_least_one)))
}

/// "about 7 fertile eggs", or the number asked for.
pub fn clutch(asked: Option<usize>) -> String {
    match asked {
        Some(1) => "a clutch of 1 fertile egg".to_owned(),
        Some(n) => format!("a clutch of {n} fertile eggs"),
        None => format!("a clutch of about {:.0} fertile eggs", ClutchSize::usual().mean()),
    }
}

/// A harm as a sentence.
pub fn caution(caution: &CautionShown) -> String {
    match caution.chance {
        Some(p) if p < 1.0 - 1e-12 => format!("{} ({})", caution.reason, percent(p)),
        _ => caution.reason.clone(),
    }
}

/// A look as a piece of the egg, without a mark.
pub fn piece(shown: &LookShown) -> Piece {
    Piece {
        words: format!("{} {}", look(shown), percent(shown.chance)),
        mark: String::new(),
        share: shown.chance,
        lost: 1.0 - shown.hatching,
        fits: shown.fits,
    }
}

/// The looks not listed as one piece.
pub fn rest(answer: &PairChances) -> Option<Piece> {
    (answer.rest > 1e-9).then(|| Piece {
        words: format!("all other looks {}", percent(answer.rest)),
        mark: String::new(),
        share: answer.rest,
        lost: 0.0,
        fits: None,
    })
}
