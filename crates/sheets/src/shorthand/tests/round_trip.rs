//! Reading back what was written, and reading anything at all.

use std::collections::BTreeMap;

use genetics::catalogue::{Linkage, Mode};
use genetics::{AlleleId, ClaimedChance, Genotype, Label, LocusId, SexChromosome, Statement};
use proptest::prelude::*;

use super::BUILTIN;
use crate::shorthand::{read, write};

fn alleles(locus: LocusId) -> Vec<AlleleId> {
    let locus = BUILTIN.locus(locus).unwrap();
    locus.genotypes().filter(|g| g.is_homozygous()).map(|g| g.alleles().0).collect()
}

fn pick<T: Copy>(from: &[T], i: usize) -> T {
    from[i % from.len()]
}

fn statement(id: LocusId, kind: u8, i: usize, j: usize, percent: u16) -> Option<Statement> {
    let locus = BUILTIN.locus(id)?;
    let all = alleles(id);
    let named = &all[1..];
    let hidden: Vec<_> = named
        .iter()
        .copied()
        .filter(|a| locus.alleles()[a.index()].mode == Mode::Recessive)
        .collect();
    let looks: Vec<_> = locus.genotypes().filter_map(|g| locus.entry(g).look).collect();
    let chance = |p: u16| ClaimedChance::percent(f64::from(p) / 100.0);
    Some(match kind {
        0 => Statement::Look(pick(&looks, i)),
        1 => Statement::Genotype(Genotype::new(pick(&all, i), pick(&all, j))),
        2 if !hidden.is_empty() => {
            let mut claims = BTreeMap::from([(pick(&hidden, i), chance(percent))]);
            claims.insert(pick(&hidden, j), chance(percent.wrapping_mul(7)));
            Statement::MayCarry(claims)
        }
        3 => Statement::Lacks(vec![pick(named, i), pick(named, j)]),
        4 if locus.linkage() != Linkage::Autosomal => {
            let on = if j.is_multiple_of(2) { SexChromosome::X } else { SexChromosome::Y };
            Statement::OnChromosome(pick(named, i), on)
        }
        _ => return None,
    })
}

fn label() -> impl Strategy<Value = Label> {
    let one = (0_usize..200, 0_u8..5, 0_usize..60, 0_usize..60, any::<u16>());
    prop::collection::vec(one, 0..8).prop_map(|all| {
        let mut label = Label::normal();
        for (at, kind, i, j, percent) in all {
            let (id, _) = BUILTIN.numbered_loci().nth(at % BUILTIN.loci().len()).unwrap();
            if let Some(statement) = statement(id, kind, i, j, percent) {
                // A locus drawn a second time stays as it is.
                let _ = label.state(&BUILTIN, id, statement);
            }
        }
        label
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn what_is_written_reads_back(label in label()) {
        let text = write(&label, &BUILTIN);
        let reading = read(&text, &BUILTIN);
        prop_assert!(reading.questions.is_empty(), "{}: {:?}", text, reading.questions);
        prop_assert_eq!(&reading.label, &label, "{}", text);
        let shouted = read(&text.to_uppercase(), &BUILTIN);
        prop_assert_eq!(&shouted.label, &label, "{}", text);
    }

    /// No text breaks the reader, and no letter or digit of it is left out of everything.
    #[test]
    fn every_word_is_accounted_for(words in prop::collection::vec(word(), 0..9)) {
        let text = words.join(" ");
        let reading = read(&text, &BUILTIN);
        let accounted = |word: &str| {
            let asked = reading.questions.iter().any(|q| q.words.to_lowercase().contains(word));
            asked || reading.remarks.iter().any(|r| r.words.to_lowercase().contains(word))
        };
        for word in &words {
            if word.starts_with("qq") {
                prop_assert!(accounted(word), "{}: {}", text, word);
            }
        }
    }

    #[test]
    fn anything_can_be_read(text in "\\PC{0,60}") {
        let reading = read(&text, &BUILTIN);
        for question in &reading.questions {
            prop_assert_eq!(text.get(question.at.clone()), Some(question.words.as_str()));
        }
        let _ = crate::shorthand::target::read(&text, &BUILTIN);
    }
}

fn word() -> impl Strategy<Value = String> {
    prop_oneof![
        "qq[a-z0-9]{3,9}",
        prop::sample::select(vec![
            "pastel", "super", "het", "66%", "clown", "(line", "A)", "axanthic", "double", "poss",
            "no", "0.1", "/", "&", ",", "??", "albino", "lesser", "mojave", "8", "ball", "ivory",
            "normal", "100%",
        ])
        .prop_map(str::to_owned),
    ]
}
