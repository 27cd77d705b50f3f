//! Cuts a text into words, numbers and marks.

use std::ops::Range;

use super::reading::WrittenSex;

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Kind {
    /// Letters and digits, lower case.
    Word(String),
    /// A number without a percent sign, as written.
    Number(String, f64),
    Percent(f64),
    Sex(WrittenSex),
    Slash,
    /// `&` or `+`.
    Join,
    Comma,
    Open,
    Close,
    /// One or more question marks.
    Doubt,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) at: Range<usize>,
}

impl Token {
    pub(super) fn word(&self) -> Option<&str> {
        match &self.kind {
            Kind::Word(word) => Some(word),
            _ => None,
        }
    }

    /// What it adds to a name.
    pub(super) fn name_part(&self) -> Option<&str> {
        match &self.kind {
            Kind::Word(text) | Kind::Number(text, _) => Some(text),
            _ => None,
        }
    }
}

/// All of a text: what is left out is white space and `- _ . : " *`, nothing else.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    let mut rest = text.char_indices().peekable();
    while let Some((start, c)) = rest.next() {
        let mut end = start + c.len_utf8();
        let mut run = |fits: &dyn Fn(char) -> bool| {
            while let Some((i, next)) = rest.next_if(|(_, next)| fits(*next)) {
                end = i + next.len_utf8();
            }
            end
        };
        match c {
            _ if c.is_whitespace() || "-_.:\"*'\u{2019}".contains(c) => {}
            '(' | '[' => out.push(Token { kind: Kind::Open, at: start..end }),
            ')' | ']' => out.push(Token { kind: Kind::Close, at: start..end }),
            ',' | ';' | '|' => out.push(Token { kind: Kind::Comma, at: start..end }),
            '/' => out.push(Token { kind: Kind::Slash, at: start..end }),
            '&' | '+' => out.push(Token { kind: Kind::Join, at: start..end }),
            '?' => {
                let end = run(&|c| c == '?');
                out.push(Token { kind: Kind::Doubt, at: start..end });
            }
            '%' => percent(&mut out, start..end),
            _ if c.is_ascii_digit() => {
                let end = run(&|c| c.is_alphanumeric() || c == '.' || c == ',');
                number(&mut out, text, start..end);
            }
            _ if c.is_alphanumeric() => {
                let end = run(&|c| c.is_alphanumeric() || matches!(c, '\'' | '\u{2019}'));
                push_word(&mut out, text, start..end);
            }
            _ => push_word(&mut out, text, start..end),
        }
    }
    settle_sex(&mut out);
    out
}

fn push_word(out: &mut Vec<Token>, text: &str, at: Range<usize>) {
    let written = text.get(at.clone()).unwrap_or_default();
    let word = written.replace(['\'', '\u{2019}'], "").to_lowercase();
    out.push(Token { kind: Kind::Word(word), at });
}

fn percent(out: &mut Vec<Token>, at: Range<usize>) {
    if let Some(Token { kind, at: number_at }) = out.last_mut()
        && let Kind::Number(_, value) = *kind
    {
        *kind = Kind::Percent(value);
        number_at.end = at.end;
        return;
    }
    out.push(Token { kind: Kind::Word("%".to_owned()), at });
}

// "66", "66.6", "66,6", "0.0.1", "66het", "8ball"; a comma or full stop at the end is none of it.
fn number(out: &mut Vec<Token>, text: &str, at: Range<usize>) {
    let written = text.get(at.clone()).unwrap_or_default();
    let digits = written
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(written.len());
    let (numeral, tail) = written.split_at(digits);
    let trimmed = numeral.trim_end_matches(['.', ',']);
    if !tail.is_empty() && trimmed.len() == numeral.len() && !splits_off(tail) {
        return push_word(out, text, at);
    }
    let end = at.start + trimmed.len();
    match trimmed.replace(',', ".").parse::<f64>() {
        Ok(value) => {
            out.push(Token { kind: Kind::Number(trimmed.to_owned(), value), at: at.start..end });
        }
        Err(_) => out.push(Token { kind: Kind::Word(trimmed.to_owned()), at: at.start..end }),
    }
    if numeral[trimmed.len()..].contains(',') {
        out.push(Token { kind: Kind::Comma, at: end..at.start + numeral.len() });
    }
    let mut offset = at.start + numeral.len();
    for piece in tail.split_inclusive([',', '.']) {
        let word = piece.trim_end_matches([',', '.']);
        if !word.is_empty() {
            push_word(out, text, offset..offset + word.len());
        }
        if piece.ends_with(',') {
            out.push(Token { kind: Kind::Comma, at: offset + word.len()..offset + piece.len() });
        }
        offset += piece.len();
    }
}

fn splits_off(tail: &str) -> bool {
    let lower = tail.to_lowercase();
    ["het", "poss", "pos", "ph", "dh", "double"].iter().any(|w| lower.starts_with(w))
}

fn settle_sex(tokens: &mut [Token]) {
    for token in tokens {
        let written = match &token.kind {
            Kind::Number(written, _) | Kind::Word(written) => written.as_str(),
            _ => continue,
        };
        token.kind = Kind::Sex(match written {
            "1.0" => WrittenSex::Male,
            "0.1" => WrittenSex::Female,
            "0.0.1" => WrittenSex::Unknown,
            "\u{2642}" => WrittenSex::Male,
            "\u{2640}" => WrittenSex::Female,
            _ => continue,
        });
    }
}
