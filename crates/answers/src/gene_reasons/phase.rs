//! On which chromosome a male has a sex-linked gene, and so to whom it goes.
//!
//! Daughters have his X and sons his Y (XX female, XY male; Mallery & Carrillo 2016), but for the
//! recombination between the gene and the male-determining region.

use genetics::{AlleleId, Catalogue, Gene};
use records::Sex;
use units::Probability;

use super::words::roughly;
use crate::gene_chances::{LEAST_TOLD, LocusChances};

/// "coral glow on his X: passes mostly to daughters (94 % of the young that get it)"; none of a female
/// or of another gene, and of two copies.
pub fn said(
    catalogue: &Catalogue,
    locus: &LocusChances,
    sex: Option<Sex>,
    place: usize,
) -> Option<String> {
    let recombination = locus.recombination().filter(|_| sex == Some(Sex::Male))?;
    let named = locus.play.alleles.iter().filter(|allele| !allele.is_wild());
    let all: Vec<String> =
        named.filter_map(|allele| one(catalogue, locus, (*allele, recombination), place)).collect();
    (!all.is_empty()).then(|| all.join(" "))
}

fn one(
    catalogue: &Catalogue,
    locus: &LocusChances,
    (allele, recombination): (AlleleId, f64),
    place: usize,
) -> Option<String> {
    let (mut x, mut y) = (0.0, 0.0);
    for (copies, p) in locus.of(place) {
        match (copies.first == allele, copies.second == allele) {
            (true, false) => x += p,
            (false, true) => y += p,
            _ => {}
        }
    }
    if x + y < LEAST_TOLD {
        return None;
    }
    let on_x = x / (x + y);
    let name = catalogue.gene_name(Gene { locus: locus.play.id, allele });
    let daughters = on_x * (1.0 - recombination) + (1.0 - on_x) * recombination;
    let percent = |p: f64| Probability::clamped(p).to_a_tenth();
    let place = match on_x {
        p if p > 1.0 - LEAST_TOLD => format!("{name} on his X"),
        p if p < LEAST_TOLD => format!("{name} on his Y"),
        p if p >= 0.5 => format!("{name} on his X {} ({}), else on his Y", roughly(p), percent(p)),
        p => format!("{name} on his Y {} ({}), else on his X", roughly(1.0 - p), percent(1.0 - p)),
    };
    let goes = |to: &str, p: f64| {
        format!("passes mostly to {to} ({} of the young that get it)", percent(p))
    };
    let goes = match daughters {
        d if d > 0.6 => goes("daughters", d),
        d if d < 0.4 => goes("sons", 1.0 - d),
        d => format!("as yet as likely to daughters as to sons ({} daughters)", percent(d)),
    };
    Some(format!("{place}: {goes}."))
}
