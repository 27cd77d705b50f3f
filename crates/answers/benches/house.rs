//! A house of 200 males beside one female: each label read from shorthand, five looks, a wish and
//! the cautions. A page asks this; it must stay far below 100 ms.
#![expect(clippy::unwrap_used, reason = "a bench stops at the first surprise")]

use std::hint::black_box;

use answers::pair_chances::pair_chances;
use criterion::{Criterion, criterion_group, criterion_main};
use genetics::chances::ClutchSize;
use sheets::catalogue_file::builtin;
use sheets::shorthand::{read, target};

const SEEN: [&str; 8] =
    ["Pastel", "Enchi", "Super Mojave", "Spider", "Leopard", "Fire", "Yellow Belly", "Cinnamon"];
const HIDDEN: [&str; 4] = ["66% het Clown", "50% het Albino", "het Piebald", "possible het Hypo"];

fn males() -> Vec<String> {
    let pick = |from: &[&'static str], n: usize, i: usize| {
        let words = (0..n).map(|k| from[(i * 7 + k * 3) % from.len()]);
        let mut words: Vec<&str> = words.collect();
        words.sort_unstable();
        words.dedup();
        words.join(" ")
    };
    (0..200).map(|i| format!("{} {}", pick(&SEEN, 1 + i % 4, i), pick(&HIDDEN, 2, i))).collect()
}

fn house_of_200_males(c: &mut Criterion) {
    let males = males();
    let her = "Pastel Lesser Pinstripe 66% het Clown 50% het Albino het Piebald 33% het Hypo";
    let wish = target::read("clown and (pastel or super enchi)", builtin()).unwrap();
    let usual = ClutchSize::usual();
    c.bench_function("house_of_200_males", |b| {
        b.iter(|| {
            let her = read(black_box(her), builtin()).settled().unwrap();
            let answers = males.iter().map(|male| {
                let male = read(male, builtin()).settled().unwrap();
                pair_chances(builtin(), (&male, &her), Some(&wish), &usual, 24).unwrap()
            });
            answers.filter_map(|answer| Some(answer.wish?.at_least_one)).sum::<f64>()
        });
    });
}

criterion_group!(benches, house_of_200_males);
criterion_main!(benches);
