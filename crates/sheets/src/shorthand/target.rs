//! Reads what a keeper hopes for: `clown and (pastel or super enchi)`.

use std::ops::Range;

use genetics::catalogue::Meaning;
use genetics::{Catalogue, Gene, Genotype, GenotypeSet, Target};

use super::near::near;
use super::phrase::{Found, Modifier, Span, lead_at, name_at};
use super::reading::Question;
use super::token::{Kind, Token, tokens};

/// No target nests deeper or is longer; nobody writes such a one by hand.
const DEEPEST: usize = 40;
const MOST_TOKENS: usize = 400;

/// Reads a target.
///
/// - `X`: shows X, in one copy or two; the name of a look or a combo: looks exactly so
/// - `carries X`: one copy at least, seen or hidden
/// - `super X`: two copies; `het X`: one copy beside the wild type; `no X`: no copy, seen or hidden
/// - `and` (or nothing between two names) binds closer than `or`; parentheses as usual
///
/// # Errors
/// The [`Question`] that must be answered first.
pub fn read(text: &str, catalogue: &Catalogue) -> Result<Target, Question> {
    let tokens = tokens(text);
    let mut parser = Parser { text, tokens: &tokens, catalogue, at: 0 };
    if tokens.is_empty() {
        return Err(parser.ask(
            0..0,
            "no target: name a gene, such as \"clown and pastel\"",
            Vec::new(),
        ));
    }
    if tokens.len() > MOST_TOKENS {
        return Err(parser.ask(0..0, "the target is too long: ask in parts", Vec::new()));
    }
    let target = parser.either(0)?;
    if parser.at < tokens.len() {
        return Err(parser.ask(
            parser.at..parser.at + 1,
            "is left over: check the parentheses",
            Vec::new(),
        ));
    }
    Ok(target)
}

struct Parser<'t> {
    text: &'t str,
    tokens: &'t [Token],
    catalogue: &'t Catalogue,
    at: usize,
}

impl<'t> Parser<'t> {
    fn either(&mut self, depth: usize) -> Result<Target, Question> {
        let mut parts = vec![self.both(depth)?];
        while self.word() == Some("or") {
            self.at += 1;
            parts.push(self.both(depth)?);
        }
        Ok(if parts.len() == 1 { parts.remove(0) } else { Target::Any(parts) })
    }

    fn both(&mut self, depth: usize) -> Result<Target, Question> {
        let mut parts = vec![self.one(depth)?];
        loop {
            match self.tokens.get(self.at).map(|t| &t.kind) {
                Some(Kind::Comma | Kind::Join) => self.at += 1,
                Some(Kind::Word(word)) if word == "and" => self.at += 1,
                Some(Kind::Word(word)) if word == "or" => break,
                None | Some(Kind::Close) => break,
                Some(_) => {}
            }
            parts.push(self.one(depth)?);
        }
        Ok(if parts.len() == 1 { parts.remove(0) } else { Target::All(parts) })
    }

    fn one(&mut self, depth: usize) -> Result<Target, Question> {
        let start = self.at;
        if self.tokens.get(start).is_some_and(|t| t.kind == Kind::Open) {
            if depth >= DEEPEST {
                return Err(self.ask(start..start + 1, "nests too deep: ask in parts", Vec::new()));
            }
            self.at += 1;
            let inner = self.either(depth + 1)?;
            if self.tokens.get(self.at).is_none_or(|t| t.kind != Kind::Close) {
                return Err(self.ask(
                    start..self.at,
                    "a parenthesis is not closed: add \")\"",
                    Vec::new(),
                ));
            }
            self.at += 1;
            return Ok(inner);
        }
        if let Some(found) = name_at(self.tokens, start, self.catalogue) {
            return self.named(start, Modifier::Seen, &found);
        }
        if self.word() == Some("carries") {
            return self.carried(start);
        }
        let lead = lead_at(self.tokens, start, self.catalogue);
        if let Some(found) = name_at(self.tokens, lead.end, self.catalogue) {
            if lead.names != Span::ONE {
                return Err(self.ask(
                    start..found.end,
                    "write \"het\" before each gene",
                    Vec::new(),
                ));
            }
            return self.named(start, lead.modifier, &found);
        }
        Err(self.not_named(start, lead.end))
    }

    fn carried(&mut self, start: usize) -> Result<Target, Question> {
        match name_at(self.tokens, start + 1, self.catalogue) {
            Some(Found { meaning: Meaning::Gene(gene), end, .. }) => {
                self.at = end;
                Ok(self.catalogue.carries(*gene))
            }
            // Looks, and names that mean several genes, are asked about as without the word.
            Some(found) => self.named(start, Modifier::Het, &found),
            None => Err(self.not_named(start, start + 1)),
        }
    }

    fn named(
        &mut self,
        start: usize,
        modifier: Modifier,
        found: &Found<'t>,
    ) -> Result<Target, Question> {
        let cat = self.catalogue;
        self.at = found.end;
        let here = start..found.end;
        let target = match (found.meaning, modifier) {
            (Meaning::Gene(gene), Modifier::Seen) => self.seen(*gene, found),
            (Meaning::Gene(gene), Modifier::Two) => cat.two_copies(*gene),
            (Meaning::Gene(gene), Modifier::Het | Modifier::Percent(100.0)) => cat.one_copy(*gene),
            (Meaning::Gene(gene), Modifier::No) => cat.without(*gene),
            (Meaning::Look(locus, look), Modifier::Seen) => cat.looks_like(*locus, *look),
            (Meaning::Look(locus, look), Modifier::No) => cat.looks_like(*locus, *look).negated(),
            (Meaning::Combo(i), Modifier::Seen) => self.combo(*i),
            (Meaning::Combo(i), Modifier::No) => self.combo(*i).negated(),
            (Meaning::Ambiguous { means, ask }, _) => {
                return Err(self.ask(here, ask, means.clone()));
            }
            (Meaning::Remark(why), _) => {
                return Err(self.ask(here, &format!("{why}: name a gene"), Vec::new()));
            }
            (Meaning::Gene(_), Modifier::Percent(_) | Modifier::Possible | Modifier::Doubtful) => {
                let choices = vec![found.name.clone(), format!("het {}", found.name)];
                return Err(self.ask(
                    here,
                    "a target is met or not: write it without a chance",
                    choices,
                ));
            }
            (Meaning::Look(..) | Meaning::Combo(_), _) => {
                let why = "is the name of a look, not of a gene: write it alone, or name the gene";
                return Err(self.ask(here, why, vec![found.name.clone()]));
            }
        };
        Ok(target)
    }

    fn seen(&mut self, gene: Gene, found: &Found<'t>) -> Target {
        let slash = self.tokens.get(found.end).is_some_and(|t| t.kind == Kind::Slash);
        let other = name_at(self.tokens, found.end + 1, self.catalogue).filter(|_| slash);
        if let Some(Found { meaning: Meaning::Gene(other), end, .. }) = other
            && other.locus == gene.locus
        {
            self.at = end;
            let both = Genotype::new(gene.allele, other.allele);
            return Target::Is(gene.locus, [both].into_iter().collect::<GenotypeSet>());
        }
        // "het red axanthic" is the name of a gene, and asks for one copy all the same.
        if found.name.starts_with("het ") {
            self.catalogue.one_copy(gene)
        } else {
            self.catalogue.shows(gene)
        }
    }

    fn combo(&self, i: usize) -> Target {
        let parts = self.catalogue.combos().get(i).map_or(&[][..], |c| &c.parts);
        let part = |any: &Vec<_>| {
            Target::Any(
                any.iter().map(|(locus, look)| self.catalogue.looks_like(*locus, *look)).collect(),
            )
        };
        Target::All(parts.iter().map(part).collect())
    }

    fn not_named(&self, start: usize, word: usize) -> Question {
        let token = self.tokens.get(word);
        let Some(text) = token.and_then(Token::name_part) else {
            let here = start..(word + 1).min(self.tokens.len());
            return self.ask(here, "here the name of a gene is missing: add it", Vec::new());
        };
        let names = near(text, self.catalogue).map(|(_, names)| names).unwrap_or_default();
        self.ask(start..word + 1, "unknown: correct it, or add the gene to the catalogue", names)
    }

    fn word(&self) -> Option<&str> {
        self.tokens.get(self.at)?.word()
    }

    fn ask(&self, tokens: Range<usize>, why: &str, choices: Vec<String>) -> Question {
        let taken = self.tokens.get(tokens).unwrap_or_default();
        let end = self.text.len();
        let at = match (taken.first(), taken.last()) {
            (Some(first), Some(last)) => first.at.start..last.at.end,
            _ => end..end,
        };
        let words = self.text.get(at.clone()).unwrap_or_default().to_owned();
        Question { words, at, why: why.to_owned(), choices }
    }
}
