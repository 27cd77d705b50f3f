//! Chances of one pair over twelve loci, five of them uncertain in a parent, beside plain
//! enumeration of all looks in the same run.
#![expect(clippy::unwrap_used, reason = "a bench stops at the first surprise")]

use std::collections::BTreeMap;
use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use genetics::catalogue::{CatalogueSpec, Mode};
use genetics::chances::{Among, ClutchSize, PairBelief};
use genetics::{AlleleId, Catalogue, ClaimedChance, Genotype, Label, LocusId, Statement, Target};

#[path = "../tests/main/shelf.rs"]
#[expect(dead_code, reason = "the makers of loci only")]
mod shelf;

fn catalogue() -> Catalogue {
    let mode = |i: usize| match i {
        0..=5 => Mode::Recessive,
        6..=9 => Mode::IncompleteDominant,
        _ => Mode::Dominant,
    };
    let locus = |i: usize| {
        shelf::locus(&format!("locus {i}"), vec![shelf::allele(&format!("gene {i}"), mode(i))])
    };
    Catalogue::new(&CatalogueSpec {
        loci: (0..12).map(locus).collect(),
        ..CatalogueSpec::default()
    })
    .unwrap()
}

/// Four possible hets on each side of loci 0 to 3, proven hets, visibles, and two dominants of
/// unknown copies: six loci are uncertain in at least one parent.
fn parent(cat: &Catalogue, dam: bool) -> Label {
    let mut label = Label::normal();
    for (i, (id, _)) in cat.numbered_loci().enumerate() {
        let gene = cat.gene(&format!("gene {i}")).unwrap();
        let one = Genotype::new(AlleleId::WILD, gene.allele);
        let look = cat.look_of_gene(gene).unwrap().1;
        let statement = match i {
            0..=3 if dam => Statement::Genotype(one),
            0..=3 => {
                let chance = ClaimedChance::percent([66.0, 50.0, 66.0, 33.0][i]);
                Statement::MayCarry(BTreeMap::from([(gene.allele, chance)]))
            }
            4..=8 => Statement::Genotype(one),
            9 if dam => continue,
            _ => Statement::Look(look),
        };
        label.state(cat, id, statement).unwrap();
    }
    label
}

/// Every combination of every locus's young, merged by look at the end.
fn enumerate(cat: &Catalogue, pair: &PairBelief<'_>) -> BTreeMap<Vec<String>, f64> {
    let young: Vec<(LocusId, Vec<(Genotype, f64)>)> =
        pair.loci().iter().map(|l| (l.locus, pair.young_at(l.locus, Among::All))).collect();
    let mut all = vec![(Vec::<Genotype>::new(), 1.0)];
    for (_, here) in &young {
        let mut longer = Vec::with_capacity(all.len() * here.len());
        for (before, p) in &all {
            for (genotype, q) in here {
                let mut genotypes = before.clone();
                genotypes.push(*genotype);
                longer.push((genotypes, p * q));
            }
        }
        all = longer;
    }
    let mut looks = BTreeMap::new();
    for (genotypes, p) in all {
        let mut look: Vec<String> = young
            .iter()
            .zip(&genotypes)
            .filter_map(|((at, _), g)| {
                Some(cat.look_name(*at, cat.locus(*at)?.entry(*g).look?).to_owned())
            })
            .collect();
        look.sort();
        *looks.entry(look).or_insert(0.0) += p;
    }
    looks
}

fn chances_12_loci(c: &mut Criterion) {
    let cat = catalogue();
    let (sire, dam) = (parent(&cat, false), parent(&cat, true));
    let pair = PairBelief::from_labels(&cat, &sire, &dam);
    let gene = |i: usize| cat.gene(&format!("gene {i}")).unwrap();
    let target = Target::All(vec![
        cat.shows(gene(0)),
        Target::Any(vec![cat.shows(gene(6)), cat.shows(gene(7))]),
        cat.shows(gene(10)),
    ]);
    let all_uncertain = Target::All((0..12).map(|i| cat.shows(gene(i))).collect());
    let clutch = ClutchSize::usual();

    let mut group = c.benchmark_group("chances_12_loci");
    group.bench_function("labels_to_pair", |b| {
        b.iter(|| PairBelief::from_labels(&cat, black_box(&sire), &dam));
    });
    group.bench_function("top_20", |b| b.iter(|| black_box(&pair).outcomes(20)));
    group.bench_function("all_looks", |b| b.iter(|| black_box(&pair).outcomes(usize::MAX)));
    group.bench_function("target_4_loci", |b| b.iter(|| black_box(&pair).target(&target, &clutch)));
    group.bench_function("target_12_loci", |b| {
        b.iter(|| black_box(&pair).target(&all_uncertain, &clutch));
    });
    group.bench_function("labels_to_top_20_and_target", |b| {
        b.iter(|| {
            let pair = PairBelief::from_labels(&cat, black_box(&sire), &dam);
            (pair.outcomes(20), pair.target(&target, &clutch))
        });
    });
    group.sample_size(10);
    group.bench_function("plain_enumeration_of_all_looks", |b| {
        b.iter(|| enumerate(&cat, black_box(&pair)));
    });
    group.finish();
}

criterion_group!(benches, chances_12_loci);
criterion_main!(benches);
