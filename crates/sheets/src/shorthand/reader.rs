//! Reads a label.

use std::collections::BTreeMap;
use std::ops::Range;

use genetics::catalogue::Meaning;
use genetics::{Catalogue, ClaimedChance, Gene, LocusId, Statement};

use super::claims::{Claim, Said, Together, hidden, together};
use super::gene_words::trailing;
use super::phrase::{Found, Lead, Modifier, Span, lead_at, name_at};
use super::reading::{Question, Reading, Remark, WrittenSex};
use super::token::{Kind, Token, tokens};

/// Reads what a text says of an animal's genes, in any case and order.
///
/// "het" and percentages speak of the next name only ("double het" of the next two); other names
/// are what is seen. Every word ends up in the label, a remark or a question.
#[must_use]
pub fn read(text: &str, catalogue: &Catalogue) -> Reading {
    let tokens = tokens(text);
    let mut reader = Reader {
        text,
        catalogue,
        tokens: &tokens,
        at: 0,
        claims: Vec::new(),
        out: Reading::default(),
        normal: None,
    };
    while reader.at < tokens.len() {
        let before = reader.at;
        reader.step();
        // Each step takes a token; this keeps a mistake from becoming an endless loop.
        reader.at = reader.at.max(before + 1);
    }
    reader.finish()
}

pub(super) struct Reader<'t> {
    pub(super) text: &'t str,
    pub(super) catalogue: &'t Catalogue,
    pub(super) tokens: &'t [Token],
    pub(super) at: usize,
    pub(super) claims: Vec<Claim>,
    out: Reading,
    normal: Option<Range<usize>>,
}

impl<'t> Reader<'t> {
    fn step(&mut self) {
        let start = self.at;
        let Some(token) = self.tokens.get(start) else { return };
        match token.kind {
            Kind::Comma | Kind::Join | Kind::Open | Kind::Close | Kind::Slash => self.at += 1,
            Kind::Sex(sex) => self.sex(sex),
            _ if self
                .names(start, Lead { modifier: Modifier::Seen, names: Span::ONE, end: start }) => {}
            _ => {
                let lead = lead_at(self.tokens, start, self.catalogue);
                if lead.end == start {
                    self.unnamed(start);
                } else if !self.names(start, lead) {
                    self.nothing_named(start, lead);
                }
            }
        }
    }

    fn sex(&mut self, sex: WrittenSex) {
        let at = self.span(self.at, self.at + 1);
        self.at += 1;
        if self.out.sex.is_some_and(|before| before != sex) {
            self.ask(at, "a second sex is given: keep the one that holds".to_owned(), Vec::new());
            return;
        }
        self.out.sex = Some(sex);
        self.remark(at, "sex");
    }

    /// Takes the names after a lead; false, and nothing taken, if there is none.
    fn names(&mut self, start: usize, mut lead: Lead) -> bool {
        // "het (clown, pied)" is as good as "hets clown, pied".
        let open = self.tokens.get(lead.end).is_some_and(|t| t.kind == Kind::Open);
        let bracket = open && lead.modifier.is_het();
        if bracket {
            lead.end += 1;
            lead.names = Span::Listed;
        }
        let Some(first) = name_at(self.tokens, lead.end, self.catalogue) else { return false };
        let mut end = first.end;
        self.name(start, lead, &first);
        let mut done = 1;
        while lead.names.wants(done) {
            let next = self.skip_joins(end);
            let found = name_at(self.tokens, next, self.catalogue)
                .filter(|f| lead.names != Span::Listed || self.can_hide(f));
            let Some(found) = found else {
                self.short_of_names(start, end, lead, done);
                break;
            };
            self.name(next, lead, &found);
            end = found.end;
            done += 1;
        }
        self.at = self.at.max(end);
        true
    }

    fn can_hide(&self, found: &Found<'_>) -> bool {
        match found.meaning {
            Meaning::Gene(gene) => hidden(self.catalogue, *gene),
            Meaning::Ambiguous { .. } => true,
            _ => false,
        }
    }

    fn short_of_names(&mut self, start: usize, end: usize, lead: Lead, done: usize) {
        if let Span::Exactly(names) = lead.names {
            let why = format!(
                "speaks of {names} genes and names {done}: name the others or write \"het\""
            );
            self.ask(self.span(start, end), why, Vec::new());
        }
    }

    fn skip_joins(&self, mut at: usize) -> usize {
        let joins = |t: &Token| {
            matches!(t.kind, Kind::Comma | Kind::Join | Kind::Slash)
                || matches!(t.word(), Some("and" | "het" | "for"))
        };
        while self.tokens.get(at).is_some_and(joins) {
            at += 1;
        }
        at
    }

    fn name(&mut self, start: usize, lead: Lead, found: &Found<'t>) {
        let mut at = self.span(start, found.end);
        let mut end = found.end;
        match found.meaning {
            Meaning::Gene(gene) => {
                let trailing = trailing(self.tokens, end, lead.modifier);
                let modifier = trailing.map_or(lead.modifier, |(modifier, _)| modifier);
                end = trailing.map_or(end, |(_, end)| end);
                if trailing.is_some() {
                    at = self.span(start, end);
                }
                end = self.gene(*gene, modifier, at.clone(), end);
                if lead.names == Span::ONE {
                    end = self.after_het(*gene, modifier, at, end);
                }
            }
            Meaning::Look(locus, look) => match lead.modifier {
                Modifier::Seen => {
                    self.claims.push(Claim { locus: *locus, said: Said::Look(*look), at });
                }
                _ => self.not_of_a_gene(*locus, found, at),
            },
            Meaning::Combo(i) => self.combo(*i, lead.modifier, at),
            Meaning::Ambiguous { means, ask } => {
                let before = self.words_between(start, lead.end);
                let choices =
                    means.iter().map(|m| [before.as_str(), m].join(" ").trim().to_owned());
                let choices = choices.collect();
                self.ask(at, ask.clone(), choices);
            }
            Meaning::Remark(why) => {
                if lead.modifier == Modifier::Seen {
                    self.remark(at, why);
                } else {
                    self.ask(at, format!("{why}: leave it out, or name a gene"), Vec::new());
                }
            }
        }
        self.at = end;
    }

    fn unnamed(&mut self, start: usize) {
        let at = self.span(start, start + 1);
        let word = self.tokens.get(start).and_then(Token::word);
        self.at = start + 1;
        match word {
            Some("normal" | "wildtype" | "wild" | "wt") => {
                let kind = self.tokens.get(start + 1).and_then(Token::word);
                self.at += usize::from(word == Some("wild") && kind == Some("type"));
                self.normal = Some(self.span(start, self.at));
                self.remark(self.span(start, self.at), "looks normal");
            }
            Some("male") => self.sex_word(WrittenSex::Male, at),
            Some("female") => self.sex_word(WrittenSex::Female, at),
            Some("and" | "with" | "gene" | "genes" | "morph" | "only") => {
                self.remark(at, "no gene");
            }
            _ => self.unknown(start, start),
        }
    }

    fn sex_word(&mut self, sex: WrittenSex, at: Range<usize>) {
        if self.out.sex.is_some_and(|before| before != sex) {
            self.ask(at, "a second sex is given: keep the one that holds".to_owned(), Vec::new());
            return;
        }
        self.out.sex = Some(sex);
        self.remark(at, "sex");
    }

    fn finish(mut self) -> Reading {
        let mut loci: BTreeMap<LocusId, Vec<Claim>> = BTreeMap::new();
        for claim in std::mem::take(&mut self.claims) {
            loci.entry(claim.locus).or_default().push(claim);
        }
        for (locus, claims) in loci {
            self.settle(locus, &claims);
        }
        let seen = !self.out.label.look(self.catalogue).is_empty();
        if let Some(at) = self.normal.take().filter(|_| seen) {
            self.ask(
                at,
                "normal, and a gene is named that is seen: leave one out".to_owned(),
                Vec::new(),
            );
        }
        self.out.questions.sort_by_key(|q| q.at.start);
        self.out
    }

    /// A gene that would be seen, and that is seen with some doubt.
    pub(super) fn unsure(&mut self, gene: Gene, chance: ClaimedChance, at: Range<usize>) {
        self.out.unsure.retain(|(known, _)| known.locus != gene.locus);
        self.out.unsure.push((gene, chance));
        self.remark(at, "seen, but not for sure");
    }

    fn settle(&mut self, locus: LocusId, claims: &[Claim]) {
        let start = claims.iter().map(|c| c.at.start).min().unwrap_or_default();
        let end = claims.iter().map(|c| c.at.end).max().unwrap_or_default();
        match together(self.catalogue, locus, claims) {
            Together::Statement(statement) => self.state(locus, statement, start..end),
            Together::Repeated(statement) => {
                self.state(locus, statement, start..end);
                self.remark(start..end, "said more than once");
            }
            Together::Unclear(why) => self.ask(start..end, why, Vec::new()),
        }
    }

    fn state(&mut self, locus: LocusId, statement: Statement, at: Range<usize>) {
        if let Err(error) = self.out.label.state(self.catalogue, locus, statement) {
            self.ask(at, error.to_string(), Vec::new());
        }
    }

    pub(super) fn span(&self, from: usize, to: usize) -> Range<usize> {
        let tokens = self.tokens.get(from..to.min(self.tokens.len())).unwrap_or_default();
        match (tokens.first(), tokens.last()) {
            (Some(first), Some(last)) => first.at.start..last.at.end,
            _ => self.text.len()..self.text.len(),
        }
    }

    pub(super) fn words_between(&self, from: usize, to: usize) -> String {
        let at = self.span(from, to);
        if from < to { self.text.get(at).unwrap_or_default().to_lowercase() } else { String::new() }
    }

    pub(super) fn ask(&mut self, at: Range<usize>, why: String, choices: Vec<String>) {
        let words = self.text.get(at.clone()).unwrap_or_default().to_owned();
        self.out.questions.push(Question { words, at, why, choices });
    }

    pub(super) fn remark(&mut self, at: Range<usize>, why: &str) {
        let words = self.text.get(at.clone()).unwrap_or_default().to_owned();
        self.out.remarks.push(Remark { words, at, why: why.to_owned() });
    }
}
