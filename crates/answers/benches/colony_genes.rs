//! Gene chances of a whole colony, and after one more record.
//!
//! `cargo bench -p clutchwright-answers --bench colony_genes`; the size is the first number of
//! `GENES_ANIMALS`, 5,000 where it is not set.

#![expect(
    clippy::unwrap_used,
    clippy::cast_precision_loss,
    clippy::print_stdout,
    reason = "a bench"
)]

mod collection;

use std::hint::black_box;
use std::time::{Duration, Instant};

use answers::gene_chances::{GeneBook, LabelRead};
use collection::Collection;
use sheets::catalogue_file::builtin;
use sheets::shorthand::{self, Question};

fn read(text: &str) -> LabelRead {
    let reading = shorthand::read(text, builtin());
    let open = reading.open_loci(builtin());
    let questions = reading.questions.iter().map(Question::sentence).collect();
    LabelRead { label: reading.label, open, unsure: reading.unsure, questions }
}

fn median(mut all: Vec<Duration>) -> f64 {
    all.sort_unstable();
    all[all.len() / 2].as_secs_f64() * 1e3
}

fn main() {
    let animals = std::env::var("GENES_ANIMALS").ok().and_then(|n| n.parse().ok()).unwrap_or(5_000);
    let mut collection = Collection::new(builtin(), animals, 50, 20_261_125);
    let colony = collection.colony();
    let began = Instant::now();
    let mut book = GeneBook::new(builtin());
    let first = book.answer(&colony, &read);
    println!(
        "{} animals, {} loci: from nothing {:.1} ms; {} loci clash, {} too wide; log10 likelihood {:.1}",
        colony.animals.len(),
        first.loci.len(),
        began.elapsed().as_secs_f64() * 1e3,
        first.loci.iter().filter(|l| l.clash.is_some()).count(),
        first.loci.iter().filter(|l| l.too_wide() > 0).count(),
        first.log10_likelihood(),
    );
    let told = collection.truth().map(|(place, gene, has)| (first.carries(place, gene).get(), has));
    let open: Vec<(f64, bool)> = told.filter(|(p, _)| (0.02..0.98).contains(p)).collect();
    println!(
        "{} chances from 2 to 98 %: {:.1} carriers expected, {} true",
        open.len(),
        open.iter().map(|(p, _)| p).sum::<f64>(),
        open.iter().filter(|(_, has)| *has).count()
    );
    let (sire, dam) = collection.pair(0);
    let (mut folding, mut asking) = (Vec::new(), Vec::new());
    for _ in 0..15 {
        collection.hatch(sire, dam, 2035);
        let began = Instant::now();
        let colony = collection.colony();
        folding.push(began.elapsed());
        let began = Instant::now();
        black_box(book.answer(&colony, &read));
        asking.push(began.elapsed());
    }
    println!(
        "one more hatchling: {:.2} ms (folding the colony, which every page does: {:.2} ms)",
        median(asking),
        median(folding)
    );
    let colony = collection.colony();
    let again: Vec<Duration> = (0..15)
        .map(|_| {
            let began = Instant::now();
            black_box(book.answer(&colony, &read));
            began.elapsed()
        })
        .collect();
    println!("nothing new: {:.2} ms", median(again));
    let began = Instant::now();
    let clashes = book.clashes(&colony, &read);
    println!(
        "contradictions sought at every locus: {:.0} ms, {} found",
        began.elapsed().as_secs_f64() * 1e3,
        clashes.len()
    );
}
