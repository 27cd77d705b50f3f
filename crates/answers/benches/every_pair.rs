//! One wish for 100 males and 500 females of a colony of 2,000, from all records: all pairs, and what the pairs cost whose genotypes depend on each other.
//!
//! `cargo bench -p clutchwright-answers --bench every_pair`

use std::error::Error;
use std::io::Write;
use std::time::Instant;

use answers::gene_chances::LabelRead;
use answers::{GeneBook, pair_grid};
use genetics::catalogue::Mode;
use genetics::chances::{ClutchSize, grid};
use records::facts::Added;
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Live, RecordId, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand::{self, Question, target};
use units::{Day, Instant as Moment, When, Zone};

const ANIMALS: usize = 2_000;
const MALES: usize = 12;
const FEMALES: usize = 60;

/// The same numbers in every run: the 64-bit linear congruential generator of Knuth (MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % n
    }
}

/// Names of one hidden gene a locus.
fn hidden() -> Vec<String> {
    let first = builtin().numbered_loci().filter_map(|(locus, of)| {
        let gene = builtin().gene(&of.alleles().get(1)?.name)?;
        let hides = builtin().allele(gene).is_some_and(|a| a.mode == Mode::Recessive);
        (gene.locus == locus && hides).then(|| builtin().gene_name(gene).to_owned())
    });
    first.collect()
}

/// An animal as it truly is: copies of each hidden gene.
struct Animal {
    year: i16,
    copies: Vec<usize>,
    label: String,
    parents: Option<(usize, usize)>,
}

/// Founders with two hets each, half of them possible ones; then clutches of five, a tenth of the
/// breeders replaced by home-bred young every year. Young are labelled with what they show.
fn animals(names: &[String]) -> Vec<Animal> {
    let mut dice = Dice(11);
    let mut all: Vec<Animal> = Vec::new();
    for _ in 0..MALES + FEMALES {
        let mut copies = vec![0; names.len()];
        let mut hets = Vec::new();
        for _ in 0..2 {
            let at = dice.below(names.len());
            let (chance, word) = [(1, "66% het"), (1, "50% het"), (2, "100% het")][dice.below(3)];
            copies[at] = usize::from(dice.below(2) < chance);
            hets.push(format!("{word} {}", names[at]));
        }
        hets.sort();
        hets.dedup_by(|a, b| a.split_once("het").map(|x| x.1) == b.split_once("het").map(|x| x.1));
        all.push(Animal { year: 2008, copies, label: hets.join(" "), parents: None });
    }
    let mut males: Vec<usize> = (0..MALES).collect();
    let mut females: Vec<usize> = (MALES..MALES + FEMALES).collect();
    let mut year = 2010;
    while all.len() < ANIMALS {
        let born = all.len();
        for (at, dam) in
            females.iter().enumerate().filter(|_| dice.below(10) < 6).collect::<Vec<_>>()
        {
            let sire = males[(at + usize::from(dice.0 >> 40 & 7 == 0)) % males.len()];
            for _ in 0..5 {
                let mut pass = |n: usize| if n == 1 { dice.below(2) } else { n / 2 };
                let copies: Vec<usize> = (0..names.len())
                    .map(|l| pass(all[sire].copies[l]) + pass(all[*dam].copies[l]))
                    .collect();
                let shown: Vec<&str> = copies
                    .iter()
                    .zip(names)
                    .filter(|(n, _)| **n == 2)
                    .map(|(_, name)| name.as_str())
                    .collect();
                let label = if shown.is_empty() { "normal".to_owned() } else { shown.join(" ") };
                all.push(Animal { year, copies, label, parents: Some((sire, *dam)) });
            }
        }
        let young = all.len() - born;
        // Even places are males.
        for (list, sex, n) in [(&mut males, 0, MALES / 10 + 1), (&mut females, 1, FEMALES / 10)] {
            for _ in 0..n {
                let at = dice.below(list.len());
                list[at] = born + dice.below(young) / 2 * 2 + sex - born % 2;
            }
        }
        year += 1;
    }
    all
}

fn sex(at: usize) -> Sex {
    let is_male = if at < MALES + FEMALES { at < MALES } else { at.is_multiple_of(2) };
    if is_male { Sex::Male } else { Sex::Female }
}

fn colony() -> Result<Colony, Box<dyn Error>> {
    let mut lives = Vec::new();
    let id = |at: usize| RecordId::from_bytes((at as u128 + 1).to_be_bytes());
    for (at, animal) in animals(&hidden()).into_iter().enumerate() {
        let mut added = Added::with_code(Code::new(&format!("A{at}"))?);
        added.sex = Some(sex(at));
        let hatched = Day::new(animal.year, 7, 1)?;
        added.hatched = Some(hatched);
        added.genes = Some(animal.label);
        if let Some((sire, dam)) = animal.parents {
            (added.sire, added.dam) = (Some(AnimalId(id(sire))), Some(AnimalId(id(dam))));
        }
        let draft = Draft {
            id: id(at),
            when: When::Day(hatched),
            written: Moment::from_seconds(0),
            who: String::new(),
            batch: None,
            source: None,
            fact: Fact::Added(added),
        };
        lives.push(Live::of(&draft, at as u64 + 1));
    }
    let zone = Zone::named("Europe/Berlin")?;
    Ok(Colony::fold(&lives, &zone, AsOf::evening_of("2026-02-10".parse()?, &zone)))
}

fn read(text: &str) -> LabelRead {
    let reading = shorthand::read(text, builtin());
    let open = reading.open_loci(builtin());
    let questions = reading.questions.iter().map(Question::sentence).collect();
    LabelRead { label: reading.label, open, unsure: reading.unsure, questions }
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    let colony = colony()?;
    let start = Instant::now();
    let genes = GeneBook::new(builtin()).answer(&colony, &read);
    let millis = |start: Instant| start.elapsed().as_secs_f64() * 1e3;
    let loci = genes.loci.len();
    writeln!(out, "{ANIMALS} animals, {loci} loci in play: genes in {:.0} ms", millis(start))?;
    let of = |sex: Sex, most: usize| {
        let all = (MALES + FEMALES..colony.animals.len()).rev();
        all.filter(|p| colony.animals[*p].sex() == Some(sex)).take(most).collect::<Vec<_>>()
    };
    let (males, females) = (of(Sex::Male, 100), of(Sex::Female, 500));
    let usual = ClutchSize::usual();
    for wish in ["clown", "clown and piebald", "clown and piebald and (albino or hypo)"] {
        let target = target::read(wish, builtin()).map_err(|q| q.to_string())?;
        let start = Instant::now();
        let beliefs =
            |places: &[usize]| places.iter().map(|p| genes.belief(*p)).collect::<Vec<_>>();
        let (his, hers) = (beliefs(&males), beliefs(&females));
        std::hint::black_box(grid(builtin(), (&his, &hers), &[], &target, &usual)?);
        let products = millis(start);
        let start = Instant::now();
        let told = pair_grid(&genes, builtin(), (&males, &females), &target, &usual)?;
        let whole = millis(start);
        let pairs = males.len() * females.len();
        writeln!(
            out,
            "{wish}: {pairs} pairs as products {products:.0} ms; with {} connected ones {whole:.0} ms",
            told.connected
        )?;
    }
    Ok(())
}
