//! Small random families with all kinds of loops, and what is seen of them.

use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::carried::Chromosome;

/// Where an animal comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Descent {
    /// Parents unknown.
    Nobody,
    /// Out of a sire and a dam.
    Both {
        /// The male.
        sire: usize,
        /// The female.
        dam: usize,
    },
    /// Out of a female alone.
    Alone {
        /// The female.
        dam: usize,
    },
}

impl Descent {
    /// The recorded parents.
    pub fn parents(self) -> impl Iterator<Item = usize> {
        match self {
            Self::Nobody => [None, None],
            Self::Both { sire, dam } => [Some(sire), Some(dam)],
            Self::Alone { dam } => [Some(dam), None],
        }
        .into_iter()
        .flatten()
    }
}

/// How large and how tangled a drawn family is.
#[derive(Clone, Copy, Debug)]
pub struct Shape {
    /// Animals.
    pub animals: usize,
    /// Founders among them, at the least 2.
    pub founders: usize,
    /// Chance that a young one has no sire.
    pub alone: f64,
}

/// A drawn family with what is seen of it.
#[derive(Clone, Debug)]
pub struct Case {
    /// Where each animal comes from. Not in order of age.
    pub families: Vec<Descent>,
    /// Frequencies of the alleles of each locus.
    pub frequencies: Vec<Vec<f64>>,
    /// Per animal and entry of [`Chromosome::all`]; founders' chances beforehand included.
    pub weights: Vec<Vec<f64>>,
}

impl Case {
    /// The case of that seed. Some cases cannot be: their likelihood is 0.
    #[must_use]
    pub fn drawn(seed: u64, shape: Shape, chromosome: &Chromosome) -> Self {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let (families, is_male) = drawn_families(&mut random, shape);
        let frequencies = drawn_frequencies(&mut random, chromosome);
        let mut case = Self { families, frequencies, weights: Vec::new() };
        case.see(&mut random, chromosome, &is_male);
        case
    }

    fn see(&mut self, random: &mut impl Rng, chromosome: &Chromosome, is_male: &[bool]) {
        let all = chromosome.all();
        let before = chromosome.of_founders(&self.frequencies);
        let fits = [0.25, 0.5, 1.0][random.random_range(0..3)];
        for (animal, male) in is_male.iter().enumerate() {
            let mut row = if self.families[animal] == Descent::Nobody {
                before.clone()
            } else {
                vec![1.0; all.len()]
            };
            let knows_sex = random.random_bool(0.8);
            for (weight, carried) in row.iter_mut().zip(&all) {
                if knows_sex && carried.is_male.is_some_and(|sex| sex != *male) {
                    *weight = 0.0;
                }
            }
            let seen = drawn_sight(random, all.len(), fits);
            row.iter_mut().zip(seen).for_each(|(w, s)| *w *= s);
            self.weights.push(row);
        }
    }
}

/// Young take their parents from those before them, so that backcrosses, sibs and generations mix.
fn drawn_families(random: &mut impl Rng, shape: Shape) -> (Vec<Descent>, Vec<bool>) {
    let count = shape.animals;
    let mut places: Vec<usize> = (0..count).collect();
    for at in (1..count).rev() {
        places.swap(at, random.random_range(0..=at));
    }
    let mut families = vec![Descent::Nobody; count];
    let mut is_male = vec![false; count];
    for (age, place) in places.iter().enumerate() {
        is_male[*place] = if age < 2 { age == 0 } else { random.random_bool(0.5) };
        if age < shape.founders.max(2) {
            continue;
        }
        let mut parent = |male: bool| loop {
            let p = places[random.random_range(0..age)];
            if is_male[p] == male {
                break p;
            }
        };
        let (sire, dam) = (parent(true), parent(false));
        families[*place] = if random.random_bool(shape.alone) {
            is_male[*place] = false;
            Descent::Alone { dam }
        } else {
            Descent::Both { sire, dam }
        };
    }
    (families, is_male)
}

fn drawn_frequencies(random: &mut impl Rng, chromosome: &Chromosome) -> Vec<Vec<f64>> {
    let alleles = match chromosome {
        Chromosome::Ordinary { alleles, .. } => alleles.clone(),
        Chromosome::OnXAndY { alleles, .. } | Chromosome::OnX { alleles } => vec![*alleles],
    };
    let drawn = |count: u8| {
        let parts: Vec<f64> = (0..count).map(|_| random.random_range(0.01..1.0)).collect();
        let whole: f64 = parts.iter().sum();
        parts.iter().map(|p| p / whole).collect()
    };
    alleles.into_iter().map(drawn).collect()
}

/// Nothing, a set of genotypes, or a weight for each.
fn drawn_sight(random: &mut impl Rng, count: usize, fits: f64) -> Vec<f64> {
    match random.random_range(0..4) {
        0 => vec![1.0; count],
        1 => (0..count).map(|_| f64::from(random.random_bool(fits))).collect(),
        2 => {
            let hidden = random.random_range(0..count);
            (0..count).map(|at| f64::from(u8::from(at != hidden))).collect()
        }
        _ => (0..count).map(|_| random.random_range(0.01..1.0)).collect(),
    }
}
