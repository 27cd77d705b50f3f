//! Random pedigree files with random catalogues, against the sum over every genotype of every animal.

use genetics::posterior::{Budget, Unanswered, posteriors};
use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use sheets::pedigree_catalogue;
use sheets::pedigree_file;
use sheets::pedigree_genes::PedigreeGenes;
use sheets::sheet::FileIn;
use testkit::genotype_enumeration::{Carried, Case, Chromosome, Descent, Shape, sum_over_hatched};

const SLACK: f64 = 1e-12;
const WORDS: [&str; 3] = ["plain", "marked", "visual"];

/// The two files, and the same as families and weights.
struct Drawn {
    chromosome: Chromosome,
    csv: String,
    catalogue: String,
    families: Vec<Descent>,
    weights: Vec<Vec<f64>>,
    /// Chance of each of [`Chromosome::all`] to live.
    lives: Vec<f64>,
    known_sexes: usize,
    kept: f64,
}

/// A locus as it stands in the catalogue: words with their chances by genotype.
struct Table {
    name: char,
    looks: Vec<Vec<(String, f64)>>,
    viability: Vec<(String, f64)>,
    males_named: bool,
}

fn strands_written(carried: &Carried, locus: usize) -> String {
    let name = |strand: &Vec<u8>| format!("a{}", strand[locus]);
    match (carried.strands.as_slice(), carried.is_male) {
        ([x], _) => name(x),
        ([x, y], Some(true)) => format!("{}|{}", name(x), name(y)),
        ([a, b], _) => {
            let (low, high) = if a[locus] <= b[locus] { (a, b) } else { (b, a) };
            format!("{}/{}", name(low), name(high))
        }
        _ => unreachable!("one or two strands"),
    }
}

/// The female genotype with the copies of a male one.
fn as_female(written: &str) -> String {
    match written.split_once('|') {
        Some((x, y)) => format!("{}/{}", x.min(y), x.max(y)),
        None if written.contains('/') => written.to_owned(),
        None => format!("{written}/{written}"),
    }
}

impl Table {
    fn drawn(random: &mut impl Rng, name: char, genotypes: &[String]) -> Self {
        let males_named = random.random_bool(0.3);
        let named: Vec<&String> =
            genotypes.iter().filter(|g| males_named || g.contains('/')).collect();
        let row = |random: &mut dyn FnMut() -> f64| -> Vec<(String, f64)> {
            named.iter().map(|g| ((*g).clone(), random())).collect()
        };
        let mut chance =
            || if random.random_bool(0.3) { 0.0 } else { random.random_range(0.05..1.0) };
        let mut looks: Vec<_> = WORDS.iter().map(|_| row(&mut chance)).collect();
        // A word that no genotype shows is refused.
        looks
            .iter_mut()
            .filter(|row| row.iter().all(|(_, p)| *p == 0.0))
            .for_each(|row| row[0].1 = 0.5);
        let viability = row(&mut || if chance() > 0.9 { 0.5 } else { 1.0 });
        Self { name, looks, viability, males_named }
    }

    fn of(&self, list: &[(String, f64)], written: &str) -> f64 {
        let key = if self.males_named { written.to_owned() } else { as_female(written) };
        list.iter().find(|(g, _)| *g == key).map_or(0.0, |(_, p)| *p)
    }

    fn text(&self, frequency: &[f64]) -> String {
        let list = |pairs: &[(String, f64)]| {
            pairs.iter().map(|(g, p)| format!("\"{g}\" = {p}")).collect::<Vec<_>>().join(", ")
        };
        let names: Vec<String> = (0..frequency.len()).map(|a| format!("\"a{a}\"")).collect();
        let f: Vec<(String, f64)> =
            frequency.iter().enumerate().map(|(a, f)| (format!("a{a}"), *f)).collect();
        let mut text = format!(
            "[[locus]]\nname = \"{}\"\nalleles = [{}]\nfrequency = {{ {} }}\nviability = {{ {} }}\n\
             [locus.looks]\n",
            self.name,
            names.join(", "),
            list(&f),
            list(&self.viability)
        );
        for (word, row) in WORDS.iter().zip(&self.looks) {
            text += &format!("{word} = {{ {} }}\n", list(row));
        }
        text
    }
}

fn tables(random: &mut impl Rng, all: &[Carried], loci: usize) -> Vec<Table> {
    let mut table = |(locus, name): (usize, char)| {
        let mut genotypes: Vec<String> = all.iter().map(|c| strands_written(c, locus)).collect();
        genotypes.sort();
        genotypes.dedup();
        Table::drawn(random, name, &genotypes)
    };
    ['g', 'h'].into_iter().take(loci).enumerate().map(&mut table).collect()
}

/// Sex as a parent; none for those who are none.
fn role(families: &[Descent], animal: usize) -> Option<bool> {
    families.iter().find_map(|family| match *family {
        Descent::Both { sire, .. } if sire == animal => Some(true),
        Descent::Both { dam, .. } | Descent::Alone { dam } if dam == animal => Some(false),
        _ => None,
    })
}

fn drawn(seed: u64, chromosome: Chromosome, animals: usize) -> Drawn {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let founders = 2 + usize::from(random.random_bool(0.5));
    let shape = Shape { animals, founders, alone: if seed.is_multiple_of(3) { 0.2 } else { 0.0 } };
    let case = Case::drawn(seed, shape, &chromosome);
    let all = chromosome.all();
    let loci = case.frequencies.len();
    let tables = tables(&mut random, &all, loci);
    let mut catalogue: String =
        tables.iter().zip(&case.frequencies).map(|(t, f)| t.text(f)).collect();
    catalogue += &linkage_text(&chromosome);
    if loci == 1 {
        catalogue += "[founders]\ninbreeding = \"F\"\n";
    }
    let kept = if seed.is_multiple_of(2) { 0.25 } else { 0.0 };
    catalogue += &format!("[parthenogenesis]\nkept = {kept}\n");
    let before = chromosome.of_founders(&case.frequencies);
    let alive = |carried: &Carried| {
        let of = |(locus, table): (usize, &Table)| {
            table.of(&table.viability, &strands_written(carried, locus))
        };
        tables.iter().enumerate().map(of).product()
    };
    let lives: Vec<f64> = all.iter().map(alive).collect();
    let csv = format!("id,sire,dam,sex,{}F\n", if loci == 1 { "g," } else { "g,h," });
    let families = case.families.clone();
    let weights = Vec::new();
    let mut drawn =
        Drawn { csv, catalogue, families, weights, lives, known_sexes: 0, kept, chromosome };
    let mut unrecorded = Vec::new();
    for animal in 0..animals {
        let told = random.random_bool(0.6).then(|| random.random_bool(0.5));
        let is_alone = matches!(case.families[animal], Descent::Alone { .. });
        // Young of a female alone are females, which need not be told.
        let sex = role(&case.families, animal).or(if is_alone { None } else { told });
        let [sire, dam] =
            parents(&mut random, &mut drawn.families, animal, animals, &mut unrecorded);
        let is_founder = case.families[animal] == Descent::Nobody;
        let is_inbred = is_founder && loci == 1 && random.random_bool(0.3);
        let f = if is_inbred { 0.25 } else { 0.0 };
        let mut row = if is_founder {
            drawn.among_living(inbred(&all, &before, &case.frequencies[0], f))
        } else {
            vec![1.0; all.len()]
        };
        let mut cells = String::new();
        for (locus, table) in tables.iter().enumerate() {
            let word = random.random_bool(0.7).then(|| random.random_range(0..WORDS.len()));
            cells += word.map_or("", |w| WORDS[w]);
            cells.push(',');
            for (weight, carried) in row.iter_mut().zip(&all) {
                let written = strands_written(carried, locus);
                *weight *= word.map_or(1.0, |w| table.of(&table.looks[w], &written));
            }
        }
        drawn.keep(row, &all, sex.filter(|_| !is_alone));
        let sex = sex.map_or("", |male| if male { "m" } else { "f" });
        let f = if is_inbred { "0.25" } else { "" };
        drawn.csv += &format!("x{animal},{sire},{dam},{sex},{cells}{f}\n");
    }
    for is_male in unrecorded {
        drawn.families.push(Descent::Nobody);
        let living = drawn.among_living(before.clone());
        drawn.keep(living, &all, Some(is_male));
    }
    drawn
}

/// Both as written; at times one of them is not, and is somebody behind all animals.
fn parents(
    random: &mut impl Rng,
    families: &mut [Descent],
    animal: usize,
    animals: usize,
    unrecorded: &mut Vec<bool>,
) -> [String; 2] {
    let (sire, dam) = match families[animal] {
        Descent::Both { sire, dam } => (sire, dam),
        Descent::Alone { dam } => return ["parthenogenesis".to_owned(), format!("x{dam}")],
        Descent::Nobody => return ["0".to_owned(), String::new()],
    };
    let mut written = [format!("x{sire}"), format!("x{dam}")];
    if random.random_bool(0.1) {
        let somebody = animals + unrecorded.len();
        let is_male = random.random_bool(0.5);
        unrecorded.push(is_male);
        written[usize::from(!is_male)] = "0".to_owned();
        let (sire, dam) = if is_male { (somebody, dam) } else { (sire, somebody) };
        families[animal] = Descent::Both { sire, dam };
    }
    written
}

impl Drawn {
    fn among_living(&self, mut before: Vec<f64>) -> Vec<f64> {
        before.iter_mut().zip(&self.lives).for_each(|(p, l)| *p *= l);
        let sum: f64 = before.iter().sum();
        before.iter_mut().for_each(|p| *p /= sum);
        before
    }

    /// A row of weights, perhaps with a known sex.
    fn keep(&mut self, mut row: Vec<f64>, all: &[Carried], sex: Option<bool>) {
        for (weight, carried) in row.iter_mut().zip(all) {
            if sex.is_some() && carried.is_male.is_some_and(|male| Some(male) != sex) {
                *weight = 0.0;
            }
        }
        self.known_sexes += usize::from(sex.is_some() && all[0].is_male.is_some());
        self.weights.push(row);
    }
}

fn linkage_text(chromosome: &Chromosome) -> String {
    match chromosome {
        Chromosome::Ordinary { crossing, .. } => crossing.first().map_or_else(String::new, |(m, f)| {
            format!("[[linkage]]\nloci = [\"g\", \"h\"]\nrecombination = {{ male = {m}, female = {f} }}\n")
        }),
        Chromosome::OnXAndY { crossing_male, .. } => format!(
            "[[sex_linked]]\nlocus = \"g\"\ny_copy = true\nrecombination_male = {crossing_male}\n"
        ),
        Chromosome::OnX { .. } => "[[sex_linked]]\nlocus = \"g\"\ny_copy = false\n".to_owned(),
    }
}

fn inbred(all: &[Carried], before: &[f64], frequency: &[f64], f: f64) -> Vec<f64> {
    let one = |(carried, random): (&Carried, &f64)| {
        let [a, b] = carried.strands.as_slice() else { return *random };
        if carried.is_male == Some(true) {
            return *random;
        }
        let half = if carried.is_male.is_some() { 0.5 } else { 1.0 };
        let same = if a == b { half * frequency[usize::from(a[0])] } else { 0.0 };
        f * same + (1.0 - f) * random
    };
    all.iter().zip(before).map(one).collect()
}

/// Whether it can be.
fn agree(seed: u64, drawn: &Drawn) -> bool {
    let of_living = (drawn.kept, drawn.lives.as_slice());
    let slow = sum_over_hatched(&drawn.families, &drawn.chromosome, &drawn.weights, of_living, &[]);
    let file = FileIn { name: "drawn.csv".to_owned(), bytes: drawn.csv.clone().into_bytes() };
    let said = || format!("case {seed}\n{}{}", drawn.csv, drawn.catalogue);
    let file = pedigree_file::read(&file).unwrap_or_else(|e| panic!("{e:?} {}", said()));
    let catalogue =
        pedigree_catalogue::read(&drawn.catalogue).unwrap_or_else(|e| panic!("{e:?} {}", said()));
    let genes = PedigreeGenes::join(file, catalogue).unwrap_or_else(|e| panic!("{e:?} {}", said()));
    let group = &genes.catalogue.groups[0];
    let asked = genes.ask(group).unwrap_or_else(|e| panic!("{e} {}", said()));
    let budget = Budget::default();
    let found = match posteriors(&asked.pedigree, &group.linkage, &asked.evidence, &budget) {
        Ok(found) => found,
        Err(Unanswered::Impossible { .. }) => {
            assert!(slow.log10_likelihood.is_infinite(), "{}", said());
            return false;
        }
        Err(other) => panic!("{other} {}", said()),
    };
    let sexes = f64::from(u32::try_from(drawn.known_sexes).unwrap_or(0)) * 2_f64.log10();
    let wanted = slow.log10_likelihood + sexes;
    assert!(
        (found.log10_likelihood().unwrap_or(f64::NAN) - wanted).abs() <= SLACK * 10.0,
        "{}",
        said()
    );
    let all = drawn.chromosome.all();
    for (animal, written) in genes.file.animals.iter().enumerate() {
        let place: usize = written.id[1..].parse().unwrap_or(usize::MAX);
        for answered in asked.answered(&genes, group, found.of(animal)) {
            let locus = &genes.catalogue.loci[answered.locus];
            for (genotype, ours) in locus.genotypes.iter().zip(&answered.chances) {
                let text = locus.spelled(*genotype);
                let theirs: f64 = all
                    .iter()
                    .zip(&slow.of[place])
                    .filter(|(c, _)| strands_written(c, answered.locus) == text)
                    .map(|(_, p)| p)
                    .sum();
                assert!((ours - theirs).abs() <= SLACK, "{} {text}: {ours}, {theirs}", written.id);
            }
        }
    }
    true
}

fn many(cases: u64, animals: usize, chromosome: &Chromosome) {
    let possible =
        (0..cases).filter(|seed| agree(*seed, &drawn(*seed, chromosome.clone(), animals))).count();
    assert!(possible * 4 > usize::try_from(cases).unwrap_or(0), "only {possible} of {cases}");
}

#[test]
fn files_of_one_locus() {
    many(150, 8, &Chromosome::Ordinary { alleles: vec![2], crossing: Vec::new() });
    many(100, 6, &Chromosome::Ordinary { alleles: vec![3], crossing: Vec::new() });
}

#[test]
fn files_of_linked_loci() {
    many(80, 5, &Chromosome::Ordinary { alleles: vec![2, 2], crossing: vec![(0.08, 0.2)] });
}

#[test]
fn files_of_sex_linked_loci() {
    many(150, 7, &Chromosome::OnXAndY { alleles: 2, crossing_male: 0.05 });
    many(150, 7, &Chromosome::OnX { alleles: 2 });
}
