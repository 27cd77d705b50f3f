//! What a note says beyond doubt about an animal's leaving or its code: a note that is one short
//! statement and nothing else. Anything longer stays a note.

use records::words::Leaving;

/// A statement in a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Statement {
    /// It left, on the day written (as text) and to whom.
    Left(Leaving, Option<String>, Option<String>),
    /// From that day on it bears this code.
    Became(String, Option<String>),
    /// Until that day it bore this code.
    Was(String, Option<String>),
}

const LEAVING: &[(&str, Leaving)] = &[
    ("sold", Leaving::Sold),
    ("died", Leaving::Died),
    ("dead", Leaving::Died),
    ("deceased", Leaving::Died),
    ("passed away", Leaving::Died),
    ("passed", Leaving::Died),
    ("rip", Leaving::Died),
    ("traded", Leaving::Traded),
    ("swapped", Leaving::Traded),
    ("lent out", Leaving::Lent),
    ("lent", Leaving::Lent),
    ("on loan to", Leaving::Lent),
    ("on loan", Leaving::Lent),
    ("loaned out", Leaving::Lent),
    ("loaned to", Leaving::Lent),
    ("returned to owner", Leaving::Returned),
    ("returned to", Leaving::Returned),
];
const BECAME: &[&str] = &[
    "re-tagged as",
    "re-tagged to",
    "re-tagged",
    "retagged as",
    "retagged to",
    "retagged",
    "re-tag",
    "renamed",
    "now tagged",
    "new code",
    "new tag",
    "new id",
    "now",
];
const WAS: &[&str] =
    &["formerly", "was tagged", "previously", "old code", "old tag", "old id", "ex"];

/// The statements of a note, one for each part between semicolons or line ends.
#[must_use]
pub fn read(note: &str) -> Vec<Statement> {
    note.split([';', '\n'])
        .filter_map(|part| statement(part.trim().trim_end_matches('.')))
        .collect()
}

/// The words for a state in a column of its own; the inner option is none for "still here".
#[must_use]
pub fn state(cell: &str) -> Option<Option<Leaving>> {
    let word = super::plain(cell);
    if matches!(
        word.as_str(),
        "" | "-"
            | "active"
            | "here"
            | "in house"
            | "alive"
            | "present"
            | "owned"
            | "breeder"
            | "ok"
            | "in collection"
            | "current"
            | "kept"
            | "in the house"
    ) {
        return Some(None);
    }
    if let Some(leaving) = Leaving::from_word(&word) {
        return Some(Some(leaving));
    }
    LEAVING.iter().find(|(w, _)| *w == word).map(|(_, leaving)| Some(*leaving))
}

fn statement(part: &str) -> Option<Statement> {
    let lower = part.to_lowercase();
    if lower.len() != part.len() {
        return None;
    }
    for (word, leaving) in LEAVING {
        if let Some(rest) = after(part, &lower, word) {
            let to_is_said = word.ends_with(" to");
            let (day, to) = day_and_buyer(rest, to_is_said)?;
            return Some(Statement::Left(*leaving, day, to));
        }
    }
    let coded =
        |words: &[&str]| words.iter().find_map(|w| after(part, &lower, w)).and_then(code_and_day);
    coded(BECAME)
        .map(|(code, day)| Statement::Became(code, day))
        .or_else(|| coded(WAS).map(|(code, day)| Statement::Was(code, day)))
}

fn after<'a>(part: &'a str, lower: &str, word: &str) -> Option<&'a str> {
    let rest = lower.strip_prefix(word)?;
    let free = rest.is_empty() || rest.starts_with([' ', ',', ':', '(']);
    free.then(|| part[part.len() - rest.len()..].trim_matches([' ', ',', ':', '(', ')']))
}

/// `2022-07-16 to Kim`, `to Kim 3/4/24`, `on 3/4/24`, or nothing at all.
fn day_and_buyer(rest: &str, to_is_said: bool) -> Option<(Option<String>, Option<String>)> {
    let (day, rest) = first_date(rest.strip_prefix("on ").unwrap_or(rest));
    if rest.is_empty() {
        return Some((day, None));
    }
    let buyer = rest.strip_prefix("to ").or(to_is_said.then_some(rest))?;
    let (buyer, later) = last_date(buyer);
    let buyer = buyer.trim_end_matches(" on").trim_matches([' ', ',', '(', ')']).to_owned();
    if day.is_some() && later.is_some() || buyer.is_empty() || buyer.split_whitespace().count() > 4
    {
        return None;
    }
    Some((day.or(later), Some(buyer)))
}

/// `M25 2024-03-01`, `as M25 on 1 Mar 2024`, `M25 until 2024-03-01`.
fn code_and_day(rest: &str) -> Option<(String, Option<String>)> {
    let mut words = rest.split_whitespace();
    let code = words.next()?.trim_matches([',', ':', '"', '(', ')']).to_owned();
    let shaped = code.chars().any(|c| c.is_ascii_digit())
        && code.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/'))
        && crate::date::written(&code, false).is_none()
        && crate::number::written(&code).is_none();
    if !shaped {
        return None;
    }
    let rest = words.collect::<Vec<_>>().join(" ");
    let rest = ["until ", "on ", "from ", "since ", "till "]
        .iter()
        .find_map(|w| rest.strip_prefix(w))
        .unwrap_or(&rest);
    match first_date(rest.trim_matches(['(', ')', ' ', ','])) {
        (day, "") => Some((code, day)),
        _ => None,
    }
}

/// A date at the front, and what follows it.
fn first_date(text: &str) -> (Option<String>, &str) {
    let ends = text.match_indices(' ').map(|(at, _)| at).chain([text.len()]);
    let fits = |end: &usize| crate::date::written(&text[..*end], false).is_some();
    match ends.take(6).filter(fits).last() {
        Some(end) => (Some(text[..end].to_owned()), text[end..].trim_matches([' ', ',', ':'])),
        None => (None, text),
    }
}

/// A date at the end, and what stands before it.
fn last_date(text: &str) -> (&str, Option<String>) {
    let mut starts = text.match_indices(' ').map(|(at, _)| at + 1);
    let fits = |start: &usize| {
        crate::date::written(text[*start..].trim_matches(['(', ')']), false).is_some()
    };
    match starts.find(fits) {
        Some(start) => {
            (text[..start].trim(), Some(text[start..].trim_matches(['(', ')']).to_owned()))
        }
        None => (text, None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unmistakable_notes_are_read() {
        let left = |how, day: &str, to: &str| {
            let some = |t: &str| (!t.is_empty()).then(|| t.to_owned());
            vec![Statement::Left(how, some(day), some(to))]
        };
        for (note, wanted) in [
            ("sold 2022-07-16", left(Leaving::Sold, "2022-07-16", "")),
            ("Sold", left(Leaving::Sold, "", "")),
            ("SOLD on 16 Jul 2022", left(Leaving::Sold, "16 Jul 2022", "")),
            ("sold to Kim, 2022-07-16", left(Leaving::Sold, "2022-07-16", "Kim")),
            ("sold 2022-07-16 to Kim B.", left(Leaving::Sold, "2022-07-16", "Kim B")),
            ("died 3/4/24", left(Leaving::Died, "3/4/24", "")),
            ("Died (2024-04-03)", left(Leaving::Died, "2024-04-03", "")),
            ("traded 2024-01-01.", left(Leaving::Traded, "2024-01-01", "")),
            ("on loan to Sam", left(Leaving::Lent, "", "Sam")),
            ("on loan", left(Leaving::Lent, "", "")),
            (
                "re-tagged M25 2024-03-01",
                vec![Statement::Became("M25".into(), Some("2024-03-01".into()))],
            ),
            ("Re-tagged as M25", vec![Statement::Became("M25".into(), None)]),
            (
                "formerly M09 until 1 Mar 2024",
                vec![Statement::Was("M09".into(), Some("1 Mar 2024".into()))],
            ),
            ("good eater; sold 2022-07-16", left(Leaving::Sold, "2022-07-16", "")),
        ] {
            assert_eq!(read(note), wanted, "{note}");
        }
    }

    #[test]
    fn others_stay_notes() {
        for note in [
            "",
            "sold her sister in 2022",
            "almost died in 2021",
            "soldier",
            "may be sold",
            "deadpan",
            "now eats rats",
            "was slow to start",
            "returned",
            "sold? ask Kim",
            "on loan from Sam",
            "ex breeder female",
            "died in shed of 2022, no, recovered",
            "now 1500 g",
        ] {
            assert_eq!(read(note), vec![], "{note}");
        }
    }
}
