//! Clashes in the keeper's words.

use genetics::Catalogue;
use records::Colony;

use crate::listed::first_of;

use super::super::said::lab_found;
use super::{Blamed, GeneClash, Instead, WayOut, gene_words};

/// Most young named in one sentence; our own choice.
const MOST_NAMED: usize = 3;

fn listed(colony: &Colony, young: &[usize]) -> String {
    let named: Vec<&str> = young.iter().take(MOST_NAMED).map(|y| colony.code(*y)).collect();
    first_of(&named, MOST_NAMED, young.len())
}

fn text_of(colony: &Colony, place: usize) -> &str {
    let animal = &colony.animals[place];
    let text = animal.genes.as_ref().or(animal.look.as_ref());
    text.map_or("", |(text, _)| text.as_str())
}

// "40 times", "30,000 times", "more than a million times".
fn times(powers: f64) -> String {
    if powers > 6.0 {
        return "more than a million times".to_owned();
    }
    let (power, digit) = (powers.floor(), 10_f64.powf(powers.fract()).round());
    let whole = digit * 10_f64.powf(power);
    let grouped = if whole >= 1_000.0 {
        format!("{:.0},{:03.0}", (whole / 1_000.0).floor(), whole % 1_000.0)
    } else {
        format!("{whole:.0}")
    };
    format!("{grouped} times")
}

impl Blamed {
    /// What the record says.
    #[must_use]
    pub fn sentence(&self, colony: &Colony) -> String {
        match self {
            Self::Written { animal, .. } => {
                format!(
                    "{} is written as \u{201c}{}\u{201d}",
                    colony.code(*animal),
                    text_of(colony, *animal)
                )
            }
            Self::Tested { animal, test } => {
                let told = colony.animals[*animal].tested.get(*test);
                let found = told.map_or_else(String::new, |(_, _, test)| lab_found(test));
                format!("the laboratory found {found} in {}", colony.code(*animal))
            }
            Self::Sire { sire, young } => {
                format!(
                    "{} is written as the sire of {}",
                    colony.code(*sire),
                    listed(colony, young)
                )
            }
            Self::Dam { dam, young } => {
                format!("{} is written as the dam of {}", colony.code(*dam), listed(colony, young))
            }
        }
    }
}

impl WayOut {
    /// What would be so if this record were wrong, and how much likelier all else is then.
    #[must_use]
    pub fn sentence(&self, colony: &Colony, catalogue: &Catalogue, clash: &GeneClash) -> String {
        let said = self.what(colony, catalogue, clash);
        match self.relief.filter(|relief| *relief >= 1.0) {
            Some(relief) => format!("{said} (all else is {} likelier then)", times(relief)),
            None => said,
        }
    }

    fn what(&self, colony: &Colony, catalogue: &Catalogue, clash: &GeneClash) -> String {
        let gene = gene_words(catalogue, clash.locus);
        match &self.blamed {
            Blamed::Written { animal, leaves_out: true } => {
                format!("{} carries {gene}, which its label leaves out", colony.code(*animal))
            }
            Blamed::Written { animal, .. } => format!(
                "{} looks otherwise than written, or is another animal than its label says",
                colony.code(*animal)
            ),
            Blamed::Tested { animal, .. } => format!(
                "the laboratory's result for {} is wrong, or the sample was another animal's",
                colony.code(*animal)
            ),
            Blamed::Dam { dam, young } => {
                format!("{} is not the dam of {}", colony.code(*dam), listed(colony, young))
            }
            Blamed::Sire { sire, young } => {
                let first =
                    format!("{} is not the sire of {}", colony.code(*sire), listed(colony, young));
                match self.instead.as_slice() {
                    [] => format!("{first}: a male nobody wrote down would fit"),
                    others => {
                        let all: Vec<String> = others.iter().map(|o| o.words(colony)).collect();
                        format!("{first}: what fits is {}", all.join(", or "))
                    }
                }
            }
        }
    }
}

impl Instead {
    fn words(&self, colony: &Colony) -> String {
        match self {
            Self::Male(male) => format!("{}, who was with her that season", colony.code(*male)),
            Self::KeptSperm(male) => {
                format!("kept sperm of {} from the season before", colony.code(*male))
            }
            Self::Nobody => "no male at all (parthenogenesis)".to_owned(),
        }
    }
}

impl GeneClash {
    /// The head of it.
    #[must_use]
    pub fn sentence(&self, catalogue: &Catalogue) -> String {
        let gene = gene_words(catalogue, self.locus);
        if self.is_soft {
            format!("{gene}: a label that all other records speak against")
        } else {
            format!("{gene}: {} records cannot all be true", self.members.len())
        }
    }

    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> &'static str {
        if self.is_soft {
            "Look at it again, and correct the label if it is wrong; until then it stays as written."
        } else if self.ways.is_empty() {
            "No single change resolves it: more than one of them is wrong, or the catalogue has a gene wrong."
        } else {
            "Correct the record that is wrong, the likeliest first; until then all of them stay as written."
        }
    }
}
