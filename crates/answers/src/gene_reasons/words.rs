//! Genotypes and chances in the keeper's words.

use genetics::{Catalogue, Gene, Genotype, LocusId};
use records::Sex;
use units::Probability;

use crate::gene_chances::{GenotypeChance, LEAST_TOLD, LocusChances, genotype_said};
use crate::listed::any_of;

/// How genotypes of a locus are spoken of.
pub struct Words<'a> {
    catalogue: &'a Catalogue,
    at: LocusId,
    /// The genes in play: "clown", "mojave or lesser".
    pub genes: String,
}

impl<'a> Words<'a> {
    /// `of` has the genes in play; without it nothing is.
    pub fn new(catalogue: &'a Catalogue, at: LocusId, of: Option<&LocusChances>) -> Self {
        let alleles = of.map_or(&[][..], |locus| locus.play.alleles.as_slice());
        let named = alleles.iter().filter(|allele| !allele.is_wild());
        let genes: Vec<&str> =
            named.map(|a| catalogue.gene_name(Gene { locus: at, allele: *a })).collect();
        Self { catalogue, at, genes: any_of(&genes) }
    }

    /// "het clown", "without clown".
    pub fn of(&self, genotype: Genotype) -> String {
        if genotype == Genotype::WILD {
            return format!("without {}", self.genes);
        }
        genotype_said(self.catalogue, self.at, genotype)
    }

    /// "het clown 2 in 3 (66.7 %)": what is not the wild type, with its chance; what is as good as
    /// certain alone, and where nothing else is worth telling, that it has none.
    pub fn said(&self, all: &[GenotypeChance]) -> String {
        let said = |g: &GenotypeChance| (self.of(g.genotype), g.chance);
        let one = |(word, p): &(String, f64)| format!("{word} {}", both(*p));
        if let Some(sure) = all.iter().find(|g| g.chance > 1.0 - LEAST_TOLD) {
            let is_exact = sure.chance > 1.0 - 1e-12;
            return if is_exact { self.of(sure.genotype) } else { one(&said(sure)) };
        }
        let is_told = |g: &&GenotypeChance| g.genotype != Genotype::WILD && g.chance >= LEAST_TOLD;
        let mut told: Vec<&GenotypeChance> = all.iter().filter(is_told).collect();
        if told.is_empty() {
            told = all.iter().filter(|g| g.genotype == Genotype::WILD).collect();
        }
        told.sort_by(|a, b| b.chance.total_cmp(&a.chance));
        let told = likeliest(told.into_iter().map(said).collect());
        told.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// "is het clown", "is het clown about 1 in 2 (50.3 %)", "is without clown".
    pub fn is_so(&self, all: &[GenotypeChance]) -> String {
        format!("is {}", self.said(all).replace(", ", ", or "))
    }
}

/// Genotypes that are told one by one; our choice.
const MOST_GENOTYPES: usize = 3;

/// The likeliest, and what is left of them as one: "7 others". Takes them likeliest first.
pub fn likeliest(mut all: Vec<(String, f64)>) -> Vec<(String, f64)> {
    // One more takes no more room than "1 other".
    if all.len() > MOST_GENOTYPES + 1 {
        let others = all.split_off(MOST_GENOTYPES);
        let chance = others.iter().map(|(_, p)| p).sum();
        all.push((format!("{} others", others.len()), chance));
    }
    all
}

/// The chances of an animal at a locus, in one place's words: "het clown 2 in 3 (66.7 %)".
#[must_use]
pub fn chances_said(catalogue: &Catalogue, locus: &LocusChances, place: usize) -> String {
    Words::new(catalogue, locus.play.id, Some(locus)).said(&locus.genotypes(place))
}

/// "2 in 3", "about 2 in 3", "about 1 in 40", "nearly certain".
#[must_use]
pub fn roughly(p: f64) -> String {
    const LARGEST: u8 = 6;
    let nearest = (2..=LARGEST).flat_map(|of| (1..of).map(move |n| (n, of)));
    let gap = |(n, of): &(u8, u8)| (p - f64::from(*n) / f64::from(*of)).abs();
    let nearest = nearest.min_by(|a, b| gap(a).total_cmp(&gap(b)).then(a.1.cmp(&b.1)));
    match nearest {
        Some((n, of)) if gap(&(n, of)) < 5e-5 => format!("{n} in {of}"),
        Some((n, of)) if n > 1 && gap(&(n, of)) < 0.035 => format!("about {n} in {of}"),
        Some((1, of)) if gap(&(1, of)) < 0.035 => Probability::clamped(p).about_one_in(),
        _ if p > 0.95 => "nearly certain".to_owned(),
        _ if p > 1.0 / f64::from(LARGEST) => format!("about {:.0} in 10", p * 10.0),
        _ => Probability::clamped(p).one_in(),
    }
}

/// "2 in 3 (66.7 %)", "(97.1 %)".
pub fn both(p: f64) -> String {
    if p > 0.95 {
        return format!("({})", Probability::clamped(p).to_a_tenth());
    }
    format!("{} ({})", roughly(p), Probability::clamped(p).to_a_tenth())
}

/// "she", "her"; of an animal whose sex is not told "it", "its".
pub const fn pronouns(sex: Option<Sex>) -> (&'static str, &'static str) {
    match sex {
        Some(Sex::Female) => ("she", "her"),
        Some(Sex::Male) => ("he", "his"),
        None => ("it", "its"),
    }
}

/// The same with a large first letter.
pub fn large(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::{likeliest, roughly};

    #[test]
    fn of_many_genotypes_none_goes_missing() {
        // The ten genotypes of four alleles at one locus.
        let ten: Vec<(String, f64)> = (0..10).map(|n| (n.to_string(), 0.1)).collect();
        let told = likeliest(ten);
        let words: Vec<&str> = told.iter().map(|(word, _)| word.as_str()).collect();
        assert_eq!(words, ["0", "1", "2", "7 others"]);
        assert!((told.iter().map(|(_, p)| p).sum::<f64>() - 1.0).abs() < 1e-12);
        let four: Vec<(String, f64)> = (0..4).map(|n| (n.to_string(), 0.25)).collect();
        assert_eq!(likeliest(four.clone()), four);
    }

    #[test]
    fn chances_are_said_by_the_nearest_small_fraction() {
        for (p, said) in [
            (0.5, "1 in 2"),
            (2.0 / 3.0, "2 in 3"),
            (0.6656, "about 2 in 3"),
            (0.201, "about 1 in 5"),
            (0.03, "about 1 in 33"),
            (0.111, "about 1 in 9"),
            (0.121, "about 1 in 8"),
            (0.145, "about 1 in 7"),
            (0.182, "about 1 in 5"),
            (0.28, "about 1 in 4"),
            (0.97, "nearly certain"),
            (0.9, "about 9 in 10"),
            (0.71, "about 7 in 10"),
        ] {
            assert_eq!(roughly(p), said, "{p}");
        }
    }
}
