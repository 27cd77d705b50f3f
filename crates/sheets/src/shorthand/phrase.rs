//! Finds names and the words before them.

use genetics::Catalogue;
use genetics::catalogue::{Meaning, normalise};

use super::token::{Kind, Token};

/// No name of a catalogue is tried over more tokens than this.
const LONGEST_NAME: usize = 10;

/// A name found in the text.
#[derive(Clone, Debug)]
pub(super) struct Found<'c> {
    pub(super) meaning: &'c Meaning,
    /// Normalised spelling.
    pub(super) name: String,
    /// First token after it.
    pub(super) end: usize,
}

/// The longest name that begins at token `start`.
///
/// Parentheses within a name are passed over, so "axanthic (line A)" is one name.
pub(super) fn name_at<'c>(
    tokens: &[Token],
    start: usize,
    catalogue: &'c Catalogue,
) -> Option<Found<'c>> {
    tokens.get(start)?.name_part()?;
    let mut name = String::new();
    let mut open = 0_usize;
    let mut longest = None;
    for (i, token) in tokens.iter().enumerate().skip(start).take(LONGEST_NAME) {
        match &token.kind {
            Kind::Open => open += 1,
            Kind::Close if open > 0 => open -= 1,
            Kind::Slash => name.push('/'),
            _ => {
                let Some(part) = token.name_part() else { break };
                if !(name.is_empty() || name.ends_with('/')) {
                    name.push(' ');
                }
                name.push_str(&normalise(part));
                if let Some(meaning) = catalogue.meaning(&name) {
                    let closed =
                        tokens[i + 1..].iter().take(open).take_while(|t| t.kind == Kind::Close);
                    let end = i + 1 + closed.count();
                    longest = Some(Found { meaning, name: name.clone(), end });
                }
            }
        }
    }
    longest
}

/// What is said of the name that follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Modifier {
    /// Nothing, or "visual".
    Seen,
    /// "super", "homozygous".
    Two,
    /// "het".
    Het,
    /// "66% het"; the number as written.
    Percent(f64),
    /// "possible het".
    Possible,
    /// "no".
    No,
    /// "possible" or "??" without het.
    Doubtful,
}

impl Modifier {
    /// Whether it speaks of a gene that may be hidden.
    pub(super) const fn is_het(self) -> bool {
        matches!(self, Self::Het | Self::Percent(_) | Self::Possible)
    }
}

/// How many names a lead speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Span {
    /// One, or two after "double het".
    Exactly(usize),
    /// All hidden genes that follow, after "hets".
    Listed,
}

impl Span {
    pub(super) const ONE: Self = Self::Exactly(1);

    /// Whether a further name belongs to it.
    pub(super) const fn wants(self, done: usize) -> bool {
        match self {
            Self::Exactly(names) => done < names,
            Self::Listed => true,
        }
    }
}

/// The words before a name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lead {
    pub(super) modifier: Modifier,
    /// How many names it speaks of.
    pub(super) names: Span,
    /// First token after it.
    pub(super) end: usize,
}

struct Cursor<'t> {
    tokens: &'t [Token],
    at: usize,
    catalogue: &'t Catalogue,
}

impl<'t> Cursor<'t> {
    /// "het", unless it begins the name of a gene, as in "het red axanthic".
    fn take_het(&mut self) -> bool {
        name_at(self.tokens, self.at, self.catalogue).is_none() && self.take(HET)
    }

    fn word(&self, ahead: usize) -> Option<&'t str> {
        self.tokens.get(self.at + ahead)?.word()
    }

    fn take(&mut self, words: &[&str]) -> bool {
        let hit = self.word(0).is_some_and(|w| words.contains(&w));
        self.at += usize::from(hit);
        hit
    }

    fn take_percent(&mut self) -> Option<f64> {
        let mut at = self.at;
        let open = self.tokens.get(at).is_some_and(|t| t.kind == Kind::Open);
        at += usize::from(open);
        let Some(Kind::Percent(value)) = self.tokens.get(at).map(|t| &t.kind) else { return None };
        at += 1;
        let close = open && self.tokens.get(at).is_some_and(|t| t.kind == Kind::Close);
        self.at = at + usize::from(close);
        Some(*value)
    }
}

const HET: &[&str] = &["het", "hets", "heterozygous", "hetero"];
const POSSIBLE: &[&str] = &["possible", "poss", "pos", "possibly", "maybe", "probable", "prob"];

/// Reads the words before a name, from token `start`.
pub(super) fn lead_at(tokens: &[Token], start: usize, catalogue: &Catalogue) -> Lead {
    let mut cursor = Cursor { tokens, at: start, catalogue };
    let mut names = Span::ONE;
    let doubt = cursor.tokens.get(start).is_some_and(|t| t.kind == Kind::Doubt);
    cursor.at += usize::from(doubt);
    let mut percent = leading_number(&mut cursor);
    let mut possible = cursor.take(POSSIBLE);
    percent = percent.or_else(|| leading_number(&mut cursor));
    let het = match cursor.word(0) {
        Some("ph" | "poshet" | "posshet") => {
            possible = true;
            cursor.at += 1;
            true
        }
        Some(word) => {
            let times = match word {
                "dh" | "dbl" | "double" => 2,
                "th" | "triple" | "trip" => 3,
                "qh" | "quad" | "quadruple" => 4,
                _ => 1,
            };
            let short = matches!(word, "dh" | "th" | "qh");
            let spelled = times > 1 && cursor.word(1).is_some_and(|w| HET.contains(&w));
            if short || spelled {
                names = Span::Exactly(times);
                cursor.at += 1;
            }
            if names == Span::ONE && word == "hets" {
                names = Span::Listed;
            }
            cursor.take_het() || short
        }
        None => false,
    };
    if het {
        percent = percent.or_else(|| cursor.take_percent());
        cursor.take(&["for"]);
    }
    let modifier = match (het, percent) {
        _ if doubt => Modifier::Doubtful,
        (true, Some(value)) => Modifier::Percent(value),
        (true, None) if possible => Modifier::Possible,
        (true, None) => Modifier::Het,
        (false, Some(value)) => Modifier::Percent(value),
        (false, None) if possible => Modifier::Doubtful,
        (false, None) => plain(&mut cursor),
    };
    Lead { modifier, names, end: cursor.at }
}

// A bare number is a percentage only before "het" or "possible": "8 ball" and "66 het" are no kin.
fn leading_number(cursor: &mut Cursor<'_>) -> Option<f64> {
    if let Some(value) = cursor.take_percent() {
        return Some(value);
    }
    let Some(Kind::Number(_, value)) = cursor.tokens.get(cursor.at).map(|t| &t.kind) else {
        return None;
    };
    let next = cursor.word(1)?;
    let het = HET.contains(&next)
        || POSSIBLE.contains(&next)
        || matches!(next, "ph" | "dh" | "th")
        || (matches!(next, "double" | "dbl" | "triple")
            && cursor.word(2).is_some_and(|w| HET.contains(&w)));
    if het {
        cursor.at += 1;
        return Some(*value);
    }
    None
}

fn plain(cursor: &mut Cursor<'_>) -> Modifier {
    if cursor.take(&["super", "homozygous", "homo", "hom"]) {
        return Modifier::Two;
    }
    if cursor.take(&["no", "not", "non", "without"]) {
        if cursor.take_het() {
            cursor.take(&["for"]);
        }
        return Modifier::No;
    }
    let one = |w: &str| matches!(w, "single" | "one");
    if cursor.word(0).is_some_and(one)
        && cursor.word(1).is_some_and(|w| matches!(w, "copy" | "gene"))
    {
        cursor.at += 2;
        return Modifier::Het;
    }
    cursor.take(&["visual", "vis"]);
    Modifier::Seen
}
