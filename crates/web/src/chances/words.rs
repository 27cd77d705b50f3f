//! Looks and chances in the keeper's words.

use answers::clutch_expected::WishInClutch;
use answers::copies::CopiesShown;
use answers::listed::{any_of, first_of};
use answers::pair_chances::{CautionShown, LookShown, PairChances, WishShown};
use genetics::Sex;
use units::Probability;

use super::egg::Piece;
pub use crate::said::percent;
use crate::said::unbroken;

/// Looks named in one sentence; our choice.
const NAMED: usize = 3;
/// What sums of chances may be off by, below all.
const ALL: f64 = 1.0 - 1e-12;

/// Two of them, or one where they are the same: "0 to 1.5".
pub fn between(low: f64, high: f64) -> String {
    let (low, high) = (about(low), about(high));
    if low == high { high } else { format!("{low} to {high}") }
}

/// A number of eggs that is an expectation: "0.8", "12", "0.04".
pub fn about(eggs: f64) -> String {
    match eggs {
        e if e <= 1e-9 => "0".to_owned(),
        e if e < 0.005 => "under 0.01".to_owned(),
        e if e < 0.095 => format!("{e:.2}"),
        e if e < 9.95 => format!("{e:.1}"),
        e => format!("{e:.0}"),
    }
}

pub fn one_in(p: f64) -> String {
    unbroken(&Probability::clamped(p).one_in())
}

/// "enchi pastel", or "normal".
pub fn look(shown: &LookShown) -> String {
    if shown.look.is_empty() { "normal".to_owned() } else { shown.look.join(" ") }
}

/// "het clown, 66.7 % het albino".
pub fn hets(shown: &LookShown) -> String {
    shown.hets.iter().map(|(gene, p)| het(gene, *p)).collect::<Vec<_>>().join(", ")
}

/// "47.5 % het clown"; a certain one without its percent.
pub fn het(gene: &str, p: f64) -> String {
    if p > 1.0 - 1e-12 { format!("het {gene}") } else { format!("{} het {gene}", percent(p)) }
}

/// What becomes of eggs that look so, where not all are known to hatch.
pub fn fate(o: &LookShown) -> Option<String> {
    let dies = if o.hatching <= 0.0 {
        Some("none is known to hatch".to_owned())
    } else if o.hatching < ALL {
        Some(format!("{} of them can hatch", percent(o.hatching)))
    } else {
        None
    };
    let doubt = if o.unknown <= 1.0 - ALL {
        None
    } else if o.unknown > o.hatching * ALL && dies.is_none() {
        Some("not known whether it hatches".to_owned())
    } else {
        Some(format!("of {} it is not known whether they hatch", percent(o.unknown)))
    };
    match (dies, doubt) {
        (Some(dies), Some(doubt)) => Some(format!("{dies}, {doubt}")),
        (dies, doubt) => dies.or(doubt),
    }
}

/// What a clutch most likely brings. Hidden genes that all the looks named share are told once;
/// where more looks than are named are equally likely, none of them is called the likeliest.
pub fn most_likely(answer: &PairChances) -> String {
    let Some(first) = answer.looks.first() else { return "No egg can be reckoned.".to_owned() };
    if answer.n_looks == 1 {
        let fate = led(", ", &fate(first).unwrap_or_default());
        return format!("Every egg looks {}{}{fate}.", look(first), led(", ", &hets(first)));
    }
    let is_as_likely = |o: &LookShown, p: f64| (o.chance - p).abs() < 1e-9;
    let tied = answer.looks.iter().take_while(|o| is_as_likely(o, first.chance)).count();
    if tied > NAMED {
        return equals(answer, tied);
    }
    // A look is not named where another one, as likely, would not be.
    let mut named = answer.looks.len().min(NAMED);
    if let Some(next) = answer.looks.get(named) {
        while named > 1 && is_as_likely(&answer.looks[named - 1], next.chance) {
            named -= 1;
        }
    }
    let shown = &answer.looks[..named];
    let shared = Some(hets(first)).filter(|h| shown.iter().all(|o| hets(o) == *h));
    let said = |o: &LookShown| {
        let own = if shared.is_some() { String::new() } else { led(" ", &hets(o)) };
        let fate = led(", ", &fate(o).unwrap_or_default());
        format!("{}{own} ({}{fate})", look(o), one_in(o.chance))
    };
    let listed = any_of(&shown.iter().map(said).collect::<Vec<_>>());
    let shared = led(", each ", &shared.unwrap_or_default());
    match answer.n_looks {
        n if n <= NAMED as u128 => format!("Looks {listed}{shared}."),
        n => format!("Most likely {listed}{shared}; {n} looks in all."),
    }
}

/// "8 looks, each 1 in 8: normal, leopard, pastel and 5 more."
fn equals(answer: &PairChances, tied: usize) -> String {
    // One look more takes no more room than "and 1 more".
    let named = if tied == NAMED + 1 { tied } else { NAMED };
    let shown = &answer.looks[..named];
    let said = |o: &LookShown| {
        let fate = fate(o).map(|fate| format!("({fate})")).unwrap_or_default();
        format!("{}{}", look(o), led(" ", &fate))
    };
    let names = first_of(&shown.iter().map(said).collect::<Vec<_>>(), named, tied);
    let each = one_in(shown[0].chance);
    let all = answer.n_looks;
    if tied as u128 == all {
        return format!("{all} looks, each {each}: {names}.");
    }
    if tied < answer.looks.len() {
        return format!("Most likely {tied} looks, each {each}: {names}; {all} looks in all.");
    }
    #[expect(clippy::cast_precision_loss, reason = "only compared with 1")]
    let are_all = (shown[0].chance * all as f64 - 1.0).abs() < 1e-6;
    if are_all {
        return format!("{all} looks, each {each}: {names} and so on.");
    }
    format!(
        "Most likely more than {tied} looks, each {each}: {names} and so on; {all} looks in all."
    )
}

fn led(before: &str, text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("{before}{text}") }
}

/// How likely the wish comes true, as a sentence and the number it ends with.
pub fn wished(shown: &WishShown, wish: &str, clutch: &str) -> (String, Option<String>) {
    if shown.at_least_one <= 0.0 {
        return (format!("Cannot bring {wish}."), None);
    }
    let most = percent(shown.at_least_one);
    if shown.unknown <= 1.0 - ALL {
        return (format!("At least one {wish} in {clutch}:"), Some(most));
    }
    let known = percent(shown.at_least_one_known);
    (
        format!("At least one {wish} in {clutch}, as it is not known whether all of them hatch:"),
        Some(format!("{known} to {most}")),
    )
}

/// The same among hatchlings, of eggs that fail for whatever reason too.
pub fn hatching(shown: &WishInClutch, wish: &str, clutch: &str) -> (String, Option<String>) {
    if shown.none > ALL {
        return (format!("Cannot bring {wish}."), None);
    }
    let unsure = if shown.none_known - shown.none > 1.0 - ALL {
        ", as it is not known whether all of them hatch"
    } else {
        ""
    };
    (
        format!("At least one {wish} among the hatchlings of {clutch}{unsure}:"),
        Some(range(1.0 - shown.none_known, 1.0 - shown.none, percent)),
    )
}

/// What else is to be said of it: how many fit, how likely none does, and if no egg failed.
pub fn missed(shown: &WishInClutch, (known, most): (f64, f64)) -> String {
    format!(
        "About {} hatchlings fit; the chance that none does: {}. Should no fertile egg fail but for its genes, at least one: {}.",
        about(shown.expected),
        range(shown.none, shown.none_known, percent),
        range(known, most, percent)
    )
}

/// Two chances, or one where they are said alike: "12.5 % to 37.5 %".
pub fn range(low: f64, high: f64, said: fn(f64) -> String) -> String {
    let (low, high) = (said(low.max(0.0)), said(high));
    if low == high { high } else { format!("{low} to {high}") }
}

/// Why chances are not the round ones a keeper reckons, one sentence for each parent.
pub fn copies(shown: &CopiesShown) -> String {
    let (he, his) = match shown.sex {
        Sex::Male => ("He", "His"),
        Sex::Female => ("She", "Her"),
    };
    let look = &shown.look;
    if !shown.is_one_gene {
        return format!(
            "{his} look, {look}, may come of several pairs of genes: each counts by how common its genes are taken to be."
        );
    }
    format!(
        "{he} shows {look}, and one copy or two look alike: two are reckoned with a chance of {}, so chances come out a little off the round ones; proven single, they would be exact.",
        percent(shown.two_copies)
    )
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
    let fits = if shown.fits.is_some_and(|f| f > 0.0) { ", fits the wish" } else { "" };
    let fate = led(", ", &fate(shown).unwrap_or_default());
    Piece {
        words: format!("{} {}{fits}{fate}", look(shown), percent(shown.chance)),
        mark: String::new(),
        share: shown.chance,
        lost: 1.0 - shown.hatching,
        unknown: shown.unknown,
        fits: shown.fits,
    }
}

/// All looks that got no piece of their own as one piece.
pub fn rest(left: f64) -> Option<Piece> {
    (left > 1e-9).then(|| Piece {
        words: format!("all other looks {}", percent(left)),
        mark: "…".to_owned(),
        share: left,
        lost: 0.0,
        unknown: 0.0,
        fits: None,
    })
}
