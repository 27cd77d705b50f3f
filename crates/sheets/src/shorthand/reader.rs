//! Reads a label.

use std::collections::BTreeMap;
use std::ops::Range;

use genetics::catalogue::{Linkage, Meaning};
use genetics::{
    AlleleId, Catalogue, ClaimedChance, Gene, Genotype, LocusId, SexChromosome, Statement,
};

use super::claims::{Claim, Said, Together, hidden, together};
use super::near::near;
use super::phrase::{Found, Lead, Modifier, lead_at, name_at};
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

struct Reader<'t> {
    text: &'t str,
    catalogue: &'t Catalogue,
    tokens: &'t [Token],
    at: usize,
    claims: Vec<Claim>,
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
            _ if self.names(start, Lead { modifier: Modifier::Seen, names: 1, end: start }) => {}
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
    fn names(&mut self, start: usize, lead: Lead) -> bool {
        let Some(first) = name_at(self.tokens, lead.end, self.catalogue) else { return false };
        let mut end = first.end;
        self.name(start, lead, &first);
        for done in 1..lead.names {
            let next = self.skip_joins(end);
            let Some(found) = name_at(self.tokens, next, self.catalogue) else {
                let at = self.span(start, end);
                let why = format!(
                    "speaks of {} genes and names {done}: name the others or write \"het\"",
                    lead.names
                );
                self.ask(at, why, Vec::new());
                break;
            };
            self.name(next, lead, &found);
            end = found.end;
        }
        self.at = self.at.max(end);
        true
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
                let trailing = trailing_percent(self.tokens, end, lead.modifier);
                let modifier = trailing.map_or(lead.modifier, |(modifier, _)| modifier);
                end = trailing.map_or(end, |(_, end)| end);
                if trailing.is_some() {
                    at = self.span(start, end);
                }
                end = self.gene(*gene, modifier, at.clone(), end);
                if lead.names == 1 {
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

    /// Notes what is said of a gene; hands back the first token after all of it.
    fn gene(&mut self, gene: Gene, modifier: Modifier, at: Range<usize>, end: usize) -> usize {
        let name = self.catalogue.gene_name(gene).to_owned();
        let one = Said::Genotype(Genotype::new(AlleleId::WILD, gene.allele));
        let said = match modifier {
            Modifier::Seen => {
                if let Some(end) = self.slash(gene, &at, end).or_else(|| self.maker(gene, &at, end))
                {
                    return end;
                }
                Said::Bare(gene)
            }
            Modifier::Two => Said::Genotype(Genotype::new(gene.allele, gene.allele)),
            Modifier::Het => one,
            Modifier::No => Said::No(gene),
            Modifier::Percent(100.0) => one,
            Modifier::Percent(0.0) => Said::No(gene),
            Modifier::Percent(_) | Modifier::Possible if !hidden(self.catalogue, gene) => {
                let why = format!("one copy of {name} is seen: is it there or not?");
                self.ask(at, why, vec![name.clone(), format!("no {name}")]);
                return end;
            }
            Modifier::Possible => Said::May(gene, None),
            Modifier::Percent(percent) => match ClaimedChance::percent(percent) {
                Some(chance) => Said::May(gene, Some(chance)),
                None => {
                    let why =
                        "is no chance: write a percentage from 0.01 to 99.99, or 100".to_owned();
                    self.ask(at, why, vec![format!("het {name}"), format!("possible het {name}")]);
                    return end;
                }
            },
            Modifier::Doubtful => {
                let mut choices = vec![name.clone(), format!("no {name}")];
                if hidden(self.catalogue, gene) {
                    choices.push(format!("possible het {name}"));
                }
                self.ask(at, format!("is it {name} or not?"), choices);
                return end;
            }
        };
        self.claims.push(Claim { locus: gene.locus, said, at });
        end
    }

    /// "lesser/mojave": two alleles of one locus.
    fn slash(&mut self, gene: Gene, at: &Range<usize>, end: usize) -> Option<usize> {
        self.tokens.get(end).filter(|t| t.kind == Kind::Slash)?;
        let found = name_at(self.tokens, end + 1, self.catalogue)?;
        let Meaning::Gene(other) = *found.meaning else { return None };
        if other.locus != gene.locus {
            return None;
        }
        let at = at.start..self.span(end, found.end).end;
        let said = Said::Genotype(Genotype::new(gene.allele, other.allele));
        self.claims.push(Claim { locus: gene.locus, said, at });
        Some(found.end)
    }

    /// "coral glow male maker": on which chromosome a male has it.
    fn maker(&mut self, gene: Gene, at: &Range<usize>, end: usize) -> Option<usize> {
        let linked = self.catalogue.locus(gene.locus)?.linkage() != Linkage::Autosomal;
        let chromosome = match self.tokens.get(end)?.word()? {
            "male" => SexChromosome::Y,
            "female" => SexChromosome::X,
            _ => return None,
        };
        let maker = matches!(self.tokens.get(end + 1)?.word()?, "maker" | "producer");
        if !(linked && maker) {
            return None;
        }
        let at = at.start..self.span(end, end + 2).end;
        self.claims.push(Claim { locus: gene.locus, said: Said::On(gene, chromosome), at });
        Some(end + 2)
    }

    /// "het clown/pied" is both; "het clown and pied" is asked; "het clown pied" is remarked on.
    fn after_het(&mut self, gene: Gene, modifier: Modifier, at: Range<usize>, end: usize) -> usize {
        let het = matches!(modifier, Modifier::Het | Modifier::Percent(_) | Modifier::Possible);
        if !het || !hidden(self.catalogue, gene) {
            return end;
        }
        let joined = self.tokens.get(end);
        let slash = joined.is_some_and(|t| t.kind == Kind::Slash);
        let and = joined.is_some_and(|t| t.kind == Kind::Join || t.word() == Some("and"));
        let next = end + usize::from(slash || and);
        let Some(found) = name_at(self.tokens, next, self.catalogue) else { return end };
        let Meaning::Gene(other) = *found.meaning else { return end };
        if !hidden(self.catalogue, other) {
            return end;
        }
        let other_at = self.span(next, found.end);
        let name = self.catalogue.gene_name(other).to_owned();
        if slash {
            let end = self.gene(other, modifier, other_at.clone(), found.end);
            return self.after_het(other, modifier, other_at, end);
        }
        if and {
            let why = format!("is {name} seen, or hidden as well?");
            let before = self.text.get(at).unwrap_or_default();
            let choices = vec![format!("{name} {before}"), format!("{before} het {name}")];
            self.ask(other_at, why, choices);
            return found.end;
        }
        self.remark(other_at, "read as seen; write \"het\" before it if it is hidden");
        end
    }

    fn not_of_a_gene(&mut self, locus: LocusId, found: &Found<'t>, at: Range<usize>) {
        let genes = self.catalogue.locus(locus).map_or(&[][..], |l| l.alleles());
        let choices =
            genes.iter().skip(1).map(|a| a.name.clone()).chain([found.name.clone()]).collect();
        let why =
            "is the name of a look, not of one copy of a gene: which gene is meant?".to_owned();
        self.ask(at, why, choices);
    }

    fn combo(&mut self, i: usize, modifier: Modifier, at: Range<usize>) {
        let Some(combo) = self.catalogue.combos().get(i) else { return };
        let name =
            |(locus, look): &(LocusId, _)| self.catalogue.look_name(*locus, *look).to_owned();
        if modifier != Modifier::Seen {
            let genes: Vec<_> = combo.parts.iter().filter_map(|p| p.first()).map(name).collect();
            let why = format!(
                "{} is several genes ({}): write each of them",
                combo.name,
                genes.join(", ")
            );
            return self.ask(at, why, Vec::new());
        }
        for part in &combo.parts {
            if let [(locus, look)] = part.as_slice() {
                self.claims.push(Claim { locus: *locus, said: Said::Look(*look), at: at.clone() });
            }
        }
        let open: Vec<_> = combo.parts.iter().filter(|p| p.len() > 1).collect();
        let said: Vec<_> = combo
            .parts
            .iter()
            .filter(|p| p.len() == 1)
            .filter_map(|p| p.first())
            .map(name)
            .collect();
        for part in open {
            let choices = part
                .iter()
                .map(|p| [said.join(" "), name(p)].join(" ").trim().to_owned())
                .collect();
            self.ask(at.clone(), format!("{}: which one is it?", combo.name), choices);
        }
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

    fn nothing_named(&mut self, start: usize, lead: Lead) {
        let next = self.tokens.get(lead.end);
        if next.is_some_and(|t| t.word().is_some() || matches!(t.kind, Kind::Number(..))) {
            return self.unknown(start, lead.end);
        }
        self.at = lead.end;
        let at = self.span(start, lead.end);
        self.ask(at, "of which gene? Write its name after these words".to_owned(), Vec::new());
    }

    /// Asks about words from `word` on; `start` is where the words before them begin.
    fn unknown(&mut self, start: usize, word: usize) {
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

    fn span(&self, from: usize, to: usize) -> Range<usize> {
        let tokens = self.tokens.get(from..to.min(self.tokens.len())).unwrap_or_default();
        match (tokens.first(), tokens.last()) {
            (Some(first), Some(last)) => first.at.start..last.at.end,
            _ => self.text.len()..self.text.len(),
        }
    }

    fn words_between(&self, from: usize, to: usize) -> String {
        let at = self.span(from, to);
        if from < to { self.text.get(at).unwrap_or_default().to_lowercase() } else { String::new() }
    }

    fn ask(&mut self, at: Range<usize>, why: String, choices: Vec<String>) {
        let words = self.text.get(at.clone()).unwrap_or_default().to_owned();
        self.out.questions.push(Question { words, at, why, choices });
    }

    fn remark(&mut self, at: Range<usize>, why: &str) {
        let words = self.text.get(at.clone()).unwrap_or_default().to_owned();
        self.out.remarks.push(Remark { words, at, why: why.to_owned() });
    }
}

// "het clown 66%" and "het clown (66%)"; not "het clown 66% het piebald".
fn trailing_percent(tokens: &[Token], end: usize, modifier: Modifier) -> Option<(Modifier, usize)> {
    if !matches!(modifier, Modifier::Het | Modifier::Possible) {
        return None;
    }
    let open = tokens.get(end).is_some_and(|t| t.kind == Kind::Open);
    let number = end + usize::from(open);
    let Some(Kind::Percent(value)) = tokens.get(number).map(|t| &t.kind) else { return None };
    let after = number + 1;
    if open {
        let closed = tokens.get(after).is_some_and(|t| t.kind == Kind::Close);
        return closed.then_some((Modifier::Percent(*value), after + 1));
    }
    let belongs_on = tokens.get(after).is_some_and(|t| t.word().is_some());
    (!belongs_on).then_some((Modifier::Percent(*value), after))
}
