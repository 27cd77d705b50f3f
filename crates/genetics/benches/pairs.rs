//! One target for 100 x 500 animals over 60 loci: all pairs, and apart from them the pairs that take
//! a joint because both are undecided and connected.
//!
//! `cargo bench -p clutchwright-genetics --bench pairs`

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

use genetics::catalogue::{AlleleSpec, CatalogueSpec, Mode, Viability};
use genetics::chances::{ClutchSize, Connected, LocusPair, grid};
use genetics::genotype::Copies;
use genetics::{AlleleId, Belief, Catalogue, Target};

#[path = "peer/mod.rs"]
#[expect(dead_code, reason = "the dice only")]
mod peer;
#[path = "../tests/main/shelf.rs"]
#[expect(dead_code, reason = "the makers of loci only")]
mod shelf;
use peer::Dice;

const LOCI: usize = 60;
const SIRES: usize = 100;
const DAMS: usize = 500;

fn catalogue() -> Result<Catalogue, Box<dyn Error>> {
    let locus = |i: usize| {
        let mode = if i.is_multiple_of(2) { Mode::Recessive } else { Mode::IncompleteDominant };
        let super_viability = if i == 1 { Viability::LethalSuspected } else { Viability::Lives };
        let allele = shelf::allele(&format!("gene {i}"), mode);
        shelf::locus(&format!("locus {i}"), vec![AlleleSpec { super_viability, ..allele }])
    };
    let spec = CatalogueSpec { loci: (0..LOCI).map(locus).collect(), ..CatalogueSpec::default() };
    Ok(Catalogue::new(&spec)?)
}

/// At each locus a quarter undecided, each with chances of its own; the others known.
fn animals(catalogue: &Catalogue, n: usize, dice: &mut Dice) -> Option<Vec<Belief>> {
    let mut all = Vec::with_capacity(n);
    for _ in 0..n {
        let mut loci = Vec::with_capacity(LOCI);
        for i in 0..LOCI {
            let gene = catalogue.gene(&format!("gene {i}"))?;
            let of = |copies: usize| match copies {
                0 => Copies::WILD,
                1 => Copies { first: AlleleId::WILD, second: gene.allele },
                _ => Copies { first: gene.allele, second: gene.allele },
            };
            let chances = if dice.chance() < 0.25 {
                (0..3).map(|copies| (of(copies), dice.chance())).collect()
            } else {
                vec![(of(dice.below(3)), 1.0)]
            };
            loci.push((gene.locus, chances));
        }
        all.push(Belief::from_weights(loci)?);
    }
    Some(all)
}

/// Those pairs where both are undecided at a locus of the target, one in five of them related, with
/// a joint that is no product.
fn related(sires: &[Belief], dams: &[Belief], target: &Target, dice: &mut Dice) -> Vec<Connected> {
    let mut all = Vec::new();
    for (sire, he) in sires.iter().enumerate() {
        for (dam, she) in dams.iter().enumerate() {
            let mut loci = Vec::new();
            if dice.chance() < 0.2 {
                for locus in target.loci() {
                    let (his, hers) = (he.at(locus), she.at(locus));
                    if his.len() > 1 && hers.len() > 1 {
                        let mut joint: Vec<_> = his
                            .iter()
                            .flat_map(|(s, p)| hers.iter().map(move |(d, q)| (*s, *d, p * q)))
                            .collect();
                        joint.iter_mut().filter(|(s, d, _)| s == d).for_each(|j| j.2 *= 2.0);
                        let sum: f64 = joint.iter().map(|j| j.2).sum();
                        joint.iter_mut().for_each(|j| j.2 /= sum);
                        loci.push(LocusPair { locus, joint });
                    }
                }
            }
            if !loci.is_empty() {
                all.push(Connected { sire, dam, loci });
            }
        }
    }
    all
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    let catalogue = catalogue()?;
    let mut dice = Dice::new(60);
    let sires = animals(&catalogue, SIRES, &mut dice).ok_or("no belief")?;
    let dams = animals(&catalogue, DAMS, &mut dice).ok_or("no belief")?;
    let clutch = ClutchSize::usual();
    writeln!(out, "{SIRES} x {DAMS} animals over {LOCI} loci, a quarter undecided at each")?;
    for named in [1, 3, 8, 20, LOCI] {
        let gene = |i: usize| catalogue.gene(&format!("gene {i}"));
        let genes: Vec<_> = (0..named).filter_map(gene).collect();
        // Of a few genes all; of many, not to lose every pair: no gene twice.
        let target = Target::All(match named {
            1..=8 => genes.iter().map(|gene| catalogue.shows(*gene)).collect(),
            _ => genes.iter().map(|gene| catalogue.two_copies(*gene).negated()).collect(),
        });
        let connected = related(&sires, &dams, &target, &mut dice);
        let time = |connected: &[Connected]| -> Result<f64, Box<dyn Error>> {
            let mut millis = Vec::new();
            for _ in 0..5 {
                let start = Instant::now();
                black_box(grid(&catalogue, (&sires, &dams), connected, &target, &clutch)?);
                millis.push(start.elapsed().as_secs_f64() * 1e3);
            }
            millis.sort_by(f64::total_cmp);
            Ok(millis[2])
        };
        let products = time(&[])?;
        let whole = time(&connected)?;
        writeln!(
            out,
            "target of {named:2} genes: all pairs {products:6.1} ms; with {:5} joints {whole:6.1} ms",
            connected.len()
        )?;
    }
    Ok(())
}
