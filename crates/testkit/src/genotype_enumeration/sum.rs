//! The sum over all genotypes of all animals.

use super::carried::Chromosome;
use super::family::Descent;

/// What the sum gives.
#[derive(Clone, Debug)]
pub struct Summed {
    /// Log to the base 10 of the chance of everything seen, priors included.
    pub log10_likelihood: f64,
    /// Chance of each of [`Chromosome::all`], per animal; nothing where the likelihood is 0.
    pub of: Vec<Vec<f64>>,
    /// The joint chances of the asked pairs, by the first one's and then the second one's place.
    pub of_pairs: Vec<Vec<Vec<f64>>>,
}

/// Tries everything that all animals can carry.
///
/// `weights` has, per animal and per entry of [`Chromosome::all`], the chance of what was seen; for a
/// founder times its own chance beforehand. `kept` is the chance that young without a sire are as their
/// dam is.
///
/// # Panics
/// Where an animal is its own ancestor.
#[must_use]
pub fn sum_over_all(
    families: &[Descent],
    chromosome: &Chromosome,
    weights: &[Vec<f64>],
    kept: f64,
    pairs: &[(usize, usize)],
) -> Summed {
    let everything = vec![1.0; chromosome.all().len()];
    sum_over_hatched(families, chromosome, weights, (kept, &everything), pairs)
}

/// The same where every young one is one that hatched: `hatches` has the chance to, per entry of
/// [`Chromosome::all`]. Given its parents a young one is each thing with the chance of that thing among
/// their young that hatch; of parents of whom none does there is none.
///
/// # Panics
/// Where an animal is its own ancestor.
#[must_use]
pub fn sum_over_hatched(
    families: &[Descent],
    chromosome: &Chromosome,
    weights: &[Vec<f64>],
    (kept, hatches): (f64, &[f64]),
    pairs: &[(usize, usize)],
) -> Summed {
    let all = chromosome.all();
    let count = all.len();
    let hatched = |laid: Vec<(usize, f64)>| among_hatched(&laid, hatches);
    let of_pair = |sire, dam| hatched(chromosome.young(&all, sire, dam));
    let of_sire = |sire| all.iter().map(|dam| of_pair(sire, dam)).collect();
    let of_dam = |dam| hatched(chromosome.young_alone(&all, dam, kept));
    let mut sum = Sum {
        families,
        weights,
        pairs,
        order: parents_first(families),
        young: all.iter().map(of_sire).collect(),
        alone: all.iter().map(of_dam).collect(),
        taken: vec![0; families.len()],
        of: vec![vec![0.0; count]; families.len()],
        of_pairs: vec![vec![vec![0.0; count]; count]; pairs.len()],
    };
    let total = sum.from(0, 1.0);
    let share = |row: &mut Vec<f64>| row.iter_mut().for_each(|p| *p /= total);
    if total > 0.0 {
        sum.of.iter_mut().for_each(share);
        sum.of_pairs.iter_mut().flatten().for_each(share);
    }
    Summed { log10_likelihood: total.log10(), of: sum.of, of_pairs: sum.of_pairs }
}

fn among_hatched(laid: &[(usize, f64)], hatches: &[f64]) -> Vec<(usize, f64)> {
    let share: f64 = laid.iter().map(|(at, p)| p * hatches[*at]).sum();
    let hatching = laid.iter().filter(|(at, _)| hatches[*at] > 0.0);
    hatching.map(|(at, p)| (*at, p * hatches[*at] / share)).collect()
}

fn parents_first(families: &[Descent]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    while order.len() < families.len() {
        let next = (0..families.len())
            .find(|a| !order.contains(a) && families[*a].parents().all(|p| order.contains(&p)));
        order.push(next.expect("nobody is his own ancestor"));
    }
    order
}

struct Sum<'a> {
    families: &'a [Descent],
    weights: &'a [Vec<f64>],
    pairs: &'a [(usize, usize)],
    order: Vec<usize>,
    young: Vec<Vec<Vec<(usize, f64)>>>,
    alone: Vec<Vec<(usize, f64)>>,
    taken: Vec<usize>,
    of: Vec<Vec<f64>>,
    of_pairs: Vec<Vec<Vec<f64>>>,
}

impl Sum<'_> {
    /// The sum over the animals from `depth` on in the order, those before being settled.
    fn from(&mut self, depth: usize, so_far: f64) -> f64 {
        let Some(animal) = self.order.get(depth).copied() else {
            return so_far;
        };
        let mut total = 0.0;
        for (at, chance) in self.possible(animal) {
            let weight = self.weights[animal][at];
            if weight > 0.0 {
                self.taken[animal] = at;
                let part = self.from(depth + 1, so_far * chance * weight);
                self.of[animal][at] += part;
                self.note_pairs(animal, part, depth);
                total += part;
            }
        }
        total
    }

    fn possible(&self, animal: usize) -> Vec<(usize, f64)> {
        match self.families[animal] {
            Descent::Nobody => (0..self.weights[animal].len()).map(|at| (at, 1.0)).collect(),
            Descent::Both { sire, dam } => self.young[self.taken[sire]][self.taken[dam]].clone(),
            Descent::Alone { dam } => self.alone[self.taken[dam]].clone(),
        }
    }

    /// The later one of a pair knows what the earlier one has.
    fn note_pairs(&mut self, animal: usize, part: f64, depth: usize) {
        for (slot, (a, b)) in self.pairs.iter().enumerate() {
            let other = if *a == animal { *b } else { *a };
            let is_later = (*a == animal || *b == animal)
                && (other == animal || self.order[..depth].contains(&other));
            if is_later {
                self.of_pairs[slot][self.taken[*a]][self.taken[*b]] += part;
            }
        }
    }
}
