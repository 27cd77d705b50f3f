//! What the reader makes of one gene's name and the words about it.

use std::ops::Range;

use genetics::catalogue::{Linkage, Meaning};
use genetics::{AlleleId, ClaimedChance, Gene, Genotype, LocusId, SexChromosome};

use super::claims::{Claim, Said, hidden};
use super::phrase::{Found, Modifier, name_at};
use super::reader::Reader;
use super::token::{Kind, Token};

impl<'t> Reader<'t> {
    /// Notes what is said of a gene; hands back the first token after all of it.
    pub(super) fn gene(
        &mut self,
        gene: Gene,
        modifier: Modifier,
        at: Range<usize>,
        end: usize,
    ) -> usize {
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
            Modifier::Possible if !hidden(self.catalogue, gene) => {
                self.sure_or_not(at, &name, "one copy is seen: is it there or not?");
                return end;
            }
            Modifier::Possible => Said::May(gene, None),
            Modifier::Percent(percent) => match ClaimedChance::percent(percent) {
                Some(chance) if !hidden(self.catalogue, gene) => {
                    // "66% het pastel" may be meant as a het: no such thing is there.
                    if self.text.get(at.clone()).is_some_and(|t| t.to_lowercase().contains("het")) {
                        self.sure_or_not(at, &name, "one copy is seen: is it there or not?");
                    } else {
                        self.unsure(gene, chance, at);
                    }
                    return end;
                }
                Some(chance) => Said::May(gene, Some(chance)),
                None => {
                    let why =
                        "is no chance: write a percentage from 0.01 to 99.99, or 100".to_owned();
                    self.ask(at, why, vec![format!("het {name}"), format!("possible het {name}")]);
                    return end;
                }
            },
            Modifier::Doubtful if hidden(self.catalogue, gene) => {
                let choices = [name.clone(), format!("no {name}"), format!("possible het {name}")];
                self.ask(at, format!("is it {name} or not?"), choices.to_vec());
                return end;
            }
            Modifier::Doubtful => {
                self.sure_or_not(at, &name, &format!("is it {name} or not?"));
                return end;
            }
        };
        self.claims.push(Claim { locus: gene.locus, said, at });
        end
    }

    fn sure_or_not(&mut self, at: Range<usize>, name: &str, why: &str) {
        let choices = [name.to_owned(), format!("no {name}"), format!("80% {name}")];
        let why = format!("{why} Or say how sure you are of it");
        self.ask(at, why, choices.to_vec());
    }

    /// "lesser/mojave": two alleles of one locus.
    pub(super) fn slash(&mut self, gene: Gene, at: &Range<usize>, end: usize) -> Option<usize> {
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
    pub(super) fn maker(&mut self, gene: Gene, at: &Range<usize>, end: usize) -> Option<usize> {
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

    /// "het clown/pied" is both; "het clown and pied" is asked; "het clown pied" or "het clown,
    /// pied" is remarked on.
    pub(super) fn after_het(
        &mut self,
        gene: Gene,
        modifier: Modifier,
        at: Range<usize>,
        end: usize,
    ) -> usize {
        if !modifier.is_het() || !hidden(self.catalogue, gene) {
            return end;
        }
        let joined = self.tokens.get(end);
        let slash = joined.is_some_and(|t| t.kind == Kind::Slash);
        let and = joined.is_some_and(|t| t.kind == Kind::Join || t.word() == Some("and"));
        let comma = joined.is_some_and(|t| t.kind == Kind::Comma);
        let next = end + usize::from(slash || and || comma);
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

    pub(super) fn not_of_a_gene(&mut self, locus: LocusId, found: &Found<'t>, at: Range<usize>) {
        let genes = self.catalogue.locus(locus).map_or(&[][..], |l| l.alleles());
        let choices =
            genes.iter().skip(1).map(|a| a.name.clone()).chain([found.name.clone()]).collect();
        let why =
            "is the name of a look, not of one copy of a gene: which gene is meant?".to_owned();
        self.ask(at, why, choices);
    }

    pub(super) fn combo(&mut self, i: usize, modifier: Modifier, at: Range<usize>) {
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
}

// "het clown 66%" and "het clown (66%)", not "het clown 66% het piebald"; "pastel?".
pub(super) fn trailing(
    tokens: &[Token],
    end: usize,
    modifier: Modifier,
) -> Option<(Modifier, usize)> {
    if modifier == Modifier::Seen {
        // "pastel?", but not "pastel ?clown".
        let doubt = tokens.get(end).filter(|t| t.kind == Kind::Doubt)?;
        let is_joined = end > 0 && tokens[end - 1].at.end == doubt.at.start;
        return is_joined.then_some((Modifier::Doubtful, end + 1));
    }
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
