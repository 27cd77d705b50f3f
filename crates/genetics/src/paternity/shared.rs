//! Several sires of one clutch whose genotypes are known up to chances.

use super::cases::{Cases, Scaled};

/// What several sires together make of a clutch.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    pub(super) log10_likelihood: f64,
    /// For each hatchling, the chance of each sire of the set.
    pub(super) hatchlings: Vec<Vec<f64>>,
}

/// Most ways to give hatchlings to sires that are tried one by one.
const MOST_WAYS: usize = 1 << 22;

/// Sums over who fathered whom; groups multiply inside.
///
/// Hatchlings of whom the same was seen are alike: only how many of them each sire has matters. None
/// where the ways are too many.
pub(super) fn shared(cases: &Cases, set: &[usize]) -> Option<Shared> {
    let alike = Alike::of(cases);
    let ways = alike.sizes.iter().try_fold(1_usize, |n, size| {
        let here = compositions(*size, set.len()).len();
        n.checked_mul(here).filter(|n| *n <= MOST_WAYS)
    });
    ways?;
    let places = Places::new(cases, set);
    let mut walk = Walk {
        cases,
        alike: &alike,
        places: &places,
        choices: alike.sizes.iter().map(|size| compositions(*size, set.len())).collect(),
        counts: vec![0; set.len()],
        chosen: Vec::with_capacity(alike.sizes.len()),
        products: vec![vec![1.0; places.cases.len()]; alike.sizes.len() + 1],
        total: 0.0,
        shares: vec![vec![0.0; set.len()]; alike.sizes.len()],
    };
    walk.down(0, 1.0);
    let (total, mut shares) = (walk.total, walk.shares);
    shares.iter_mut().flatten().for_each(|s| *s = if total > 0.0 { *s / total } else { 0.0 });
    Some(Shared {
        log10_likelihood: total.log10() + places.scale.log10(),
        hatchlings: alike.class_of.iter().map(|class| shares[*class].clone()).collect(),
    })
}

/// Hatchlings with the same likelihoods in every case.
struct Alike {
    class_of: Vec<usize>,
    /// One hatchling of each class, and how many there are.
    first: Vec<usize>,
    sizes: Vec<usize>,
}

impl Alike {
    fn of(cases: &Cases) -> Self {
        let mut alike = Self { class_of: Vec::new(), first: Vec::new(), sizes: Vec::new() };
        let n_cases = cases.groups().last().map_or(0, |group| group.end);
        for hatchling in 0..cases.hatchlings {
            let same = |other: &usize| {
                (0..n_cases).all(|case| {
                    let young = cases.young(case);
                    young[hatchling].to_bits() == young[*other].to_bits()
                })
            };
            let class = alike.first.iter().position(same).unwrap_or_else(|| {
                alike.first.push(hatchling);
                alike.sizes.push(0);
                alike.first.len() - 1
            });
            alike.sizes[class] += 1;
            alike.class_of.push(class);
        }
        alike
    }
}

/// The cases of the set, group by group and in each by the state of the dam, with the chance of a
/// sire's state given hers.
struct Places {
    cases: Vec<Placed>,
    /// Groups: the chance of each state of the dam, and the cases that go with it.
    groups: Vec<Vec<(f64, std::ops::Range<usize>)>>,
    scale: Scaled,
    /// Per group, what its factor is divided by so that nothing underflows.
    divisors: Vec<f64>,
}

struct Placed {
    case: usize,
    sire: usize,
    given_dam: f64,
}

impl Places {
    fn new(cases: &Cases, set: &[usize]) -> Self {
        let mut places = Self {
            cases: Vec::new(),
            groups: Vec::new(),
            scale: Scaled::ONE,
            divisors: Vec::new(),
        };
        for group in cases.groups() {
            let mut dams: Vec<usize> = group.clone().map(|at| cases.case(at).dam).collect();
            dams.sort_unstable();
            dams.dedup();
            let mut of_group = Vec::with_capacity(dams.len());
            for dam in dams {
                let from = places.cases.len();
                let mut hers = 0.0;
                for (sire, candidate) in set.iter().enumerate() {
                    let his = |at: &usize| {
                        let case = cases.case(*at);
                        case.candidate == *candidate && case.dam == dam
                    };
                    let together: f64 =
                        group.clone().filter(his).map(|at| cases.case(at).chance).sum();
                    if sire == 0 {
                        hers = together;
                    }
                    places.cases.extend(group.clone().filter(his).map(|case| Placed {
                        case,
                        sire,
                        given_dam: cases.case(case).chance / together,
                    }));
                }
                of_group.push((hers, from..places.cases.len()));
            }
            let largest = group.map(|at| cases.young(at).iter().product()).fold(0.0, f64::max);
            let divisor = if largest > 0.0 { largest } else { 1.0 };
            places.scale.times(divisor);
            places.divisors.push(divisor);
            places.groups.push(of_group);
        }
        places
    }
}

impl Places {
    /// Mean over a sire's states, the dam's being known, of what the cases have so far.
    fn passed(&self, range: std::ops::Range<usize>, sire: usize, products: &[f64]) -> f64 {
        let his = self.cases[range.clone()].iter().zip(&products[range]);
        his.filter(|(placed, _)| placed.sire == sire).map(|(placed, p)| placed.given_dam * p).sum()
    }
}

struct Walk<'a> {
    cases: &'a Cases,
    alike: &'a Alike,
    places: &'a Places,
    /// For each class, every way to divide it among the sires.
    choices: Vec<Vec<Vec<usize>>>,
    counts: Vec<usize>,
    chosen: Vec<usize>,
    /// For each class done, the likelihood of what each case has so far.
    products: Vec<Vec<f64>>,
    total: f64,
    shares: Vec<Vec<f64>>,
}

impl Walk<'_> {
    /// Divides the classes from `class` on; `ways` counts the assignments of those before.
    fn down(&mut self, class: usize, ways: f64) {
        let Some(size) = self.alike.sizes.get(class).copied() else { return self.leaf(ways) };
        let hatchling = self.alike.first[class];
        for choice in 0..self.choices[class].len() {
            for (at, placed) in self.places.cases.iter().enumerate() {
                let n = self.choices[class][choice][placed.sire];
                let power = self.cases.young(placed.case)[hatchling].powi(exponent(n));
                self.products[class + 1][at] = self.products[class][at] * power;
            }
            let mut here = ways;
            let mut left = size;
            for (sire, n) in self.choices[class][choice].iter().enumerate() {
                self.counts[sire] += n;
                here *= choose(left, *n);
                left -= n;
            }
            self.chosen.push(choice);
            self.down(class + 1, here);
            self.chosen.pop();
            for (sire, n) in self.choices[class][choice].iter().enumerate() {
                self.counts[sire] -= n;
            }
        }
    }

    fn leaf(&mut self, ways: f64) {
        let Some(products) = self.products.last() else { return };
        let mut value = ways * chance_of(&self.counts);
        let (places, sires) = (self.places, self.counts.len());
        for (group, divisor) in places.groups.iter().zip(&places.divisors) {
            let given = |(hers, range): &(f64, std::ops::Range<usize>)| {
                let sire = |sire| places.passed(range.clone(), sire, products);
                hers * (0..sires).map(sire).product::<f64>()
            };
            value *= group.iter().map(given).sum::<f64>() / divisor;
        }
        self.total += value;
        for (class, choice) in self.chosen.iter().enumerate() {
            let size = self.alike.sizes[class];
            for (share, n) in self.shares[class].iter_mut().zip(&self.choices[class][*choice]) {
                *share += value * ratio(*n, size);
            }
        }
    }
}

/// Chance of one assignment with these counts when all shares are alike:
/// (S - 1)! n1! n2! ... / (n + S - 1)!.
fn chance_of(counts: &[usize]) -> f64 {
    let mut chance = 1.0;
    let mut done = 0;
    for n in counts {
        for i in 1..=*n {
            done += 1;
            chance *= ratio(i, done);
        }
    }
    let others = counts.len().saturating_sub(1);
    (1..=others).fold(chance, |chance, i| chance * ratio(i, done + i))
}

fn compositions(n: usize, parts: usize) -> Vec<Vec<usize>> {
    match parts {
        0 => Vec::new(),
        1 => vec![vec![n]],
        _ => (0..=n)
            .flat_map(|first| {
                compositions(n - first, parts - 1).into_iter().map(move |mut rest| {
                    rest.insert(0, first);
                    rest
                })
            })
            .collect(),
    }
}

fn choose(n: usize, k: usize) -> f64 {
    (0..k).map(|i| ratio(n - i, i + 1)).product()
}

#[expect(clippy::cast_precision_loss, reason = "hatchlings of a clutch")]
fn ratio(a: usize, b: usize) -> f64 {
    a as f64 / b as f64
}

fn exponent(n: usize) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX)
}
