//! Words that the reader does not know.

use super::near::near;
use super::phrase::{Lead, lead_at, name_at};
use super::reader::Reader;
use super::token::{Kind, Token};

impl Reader<'_> {
    pub(super) fn nothing_named(&mut self, start: usize, lead: Lead) {
        let next = self.tokens.get(lead.end);
        if next.is_some_and(|t| t.word().is_some() || matches!(t.kind, Kind::Number(..))) {
            return self.unknown(start, lead.end);
        }
        self.at = lead.end;
        let at = self.span(start, lead.end);
        self.ask(at, "of which gene? Write its name after these words".to_owned(), Vec::new());
    }

    /// Asks about words from `word` on; `start` is where the words before them begin.
    pub(super) fn unknown(&mut self, start: usize, word: usize) {
        let before = self.words_between(start, word);
        let mut best: Option<(usize, usize, Vec<String>)> = None;
        for length in 1..=3 {
            let end = word + length;
            let Some(window) = self.tokens.get(word..end) else { break };
            if !window.iter().all(|t| t.name_part().is_some()) {
                break;
            }
            let parts: Vec<_> = window.iter().filter_map(Token::name_part).collect();
            let Some((distance, names)) = near(&parts.join(" "), self.catalogue) else { continue };
            // More words must be nearer; as near will do if the last of them means nothing by
            // itself or the name has as many words.
            let stray = name_at(self.tokens, end - 1, self.catalogue).is_none()
                && lead_at(self.tokens, end - 1, self.catalogue).end == end - 1;
            let whole = names.first().is_some_and(|n| n.split(' ').count() == length);
            let as_near = |d: usize| distance < d || (distance == d && (stray || whole));
            let better = best.as_ref().is_none_or(|(d, _, _)| as_near(*d));
            if better && (length == 1 || stray || (whole && distance <= 1)) {
                best = Some((distance, end, names));
            }
        }
        let (end, names) = best.map_or((word + 1, Vec::new()), |(_, end, names)| (end, names));
        self.at = end;
        let why = if names.is_empty() {
            "unknown: correct it, or add the gene to the catalogue".to_owned()
        } else {
            "unknown: which of these is meant, or is it a gene the catalogue lacks?".to_owned()
        };
        let choices =
            names.iter().map(|n| [before.as_str(), n].join(" ").trim().to_owned()).collect();
        self.ask(self.span(start, end), why, choices);
    }
}
