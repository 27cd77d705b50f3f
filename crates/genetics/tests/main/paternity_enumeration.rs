//! Paternity against every assignment of every hatchling and every genotype of every parent, and
//! against the likelihood of the pedigree.

use genetics::LinkageGroup;
use genetics::evidence::Evidence;
use genetics::linkage::SexLink;
use genetics::paternity::{
    ClutchSeen, GroupSeen, Parents, PaternityError, Prior, hatchling_states,
};
use genetics::pedigree::{Origin, Pedigree};
use genetics::posterior::{Budget, posteriors};
use proptest::prelude::*;

/// What is drawn of one group: weights of the dam's states, of each candidate's states given hers,
/// and of each hatchling.
#[derive(Clone, Debug)]
struct Drawn {
    linked: bool,
    dam: Vec<f64>,
    sires: Vec<Vec<Vec<f64>>>,
    young: Vec<Vec<f64>>,
    hatches: Option<Vec<f64>>,
}

const STATES: usize = 7;

fn drawn(candidates: usize, hatchlings: usize) -> impl Strategy<Value = Drawn> {
    let weight = prop_oneof![Just(0.0), Just(1.0), 0.01_f64..1.0];
    let row = prop::collection::vec(weight, STATES);
    let given = prop::collection::vec(row.clone(), STATES);
    (
        any::<bool>(),
        row.clone(),
        prop::collection::vec(given, candidates),
        prop::collection::vec(row.clone(), hatchlings),
        prop::option::of(row),
    )
        .prop_map(|(linked, dam, sires, young, hatches)| Drawn {
            linked,
            dam,
            sires,
            young,
            hatches,
        })
}

/// Chances that sum to 1; the first state that fits where all weights are 0.
fn normal(weights: &[f64], fits: impl Fn(usize) -> bool, n: usize) -> Vec<f64> {
    let mut chances: Vec<f64> = (0..n).map(|s| if fits(s) { weights[s] } else { 0.0 }).collect();
    let sum: f64 = chances.iter().sum();
    if sum <= 0.0 {
        let first = (0..n).find(|s| fits(*s)).unwrap();
        chances[first] = 1.0;
        return chances;
    }
    chances.iter_mut().for_each(|w| *w /= sum);
    chances
}

/// One group as tables: chances of the dam, of each candidate given her (none: alone), and each
/// hatchling's likelihood given both.
struct Table {
    dam: Vec<f64>,
    sires: Vec<Option<Vec<Vec<f64>>>>,
    young: Vec<Vec<f64>>,
    hatches: Option<Vec<f64>>,
    group: LinkageGroup,
    of_hatchlings: LinkageGroup,
}

impl Table {
    fn new(drawn: &Drawn, alone: Option<usize>) -> Self {
        let link = SexLink::BothChromosomes { recombination_male: 0.1 };
        let group = if drawn.linked {
            LinkageGroup::sex_linked(2, link).unwrap()
        } else {
            LinkageGroup::autosomal(2).unwrap().keeping_alone(0.2)
        };
        let n = group.n_states();
        let is = |state: usize, sex| group.sex(state).is_none_or(|s| s == sex);
        let dam = normal(&drawn.dam, |s| is(s, genetics::Sex::Female), n);
        let sires = drawn.sires.iter().enumerate().map(|(c, given)| {
            let male = |s| is(s, genetics::Sex::Male);
            (alone != Some(c)).then(|| given.iter().take(n).map(|w| normal(w, male, n)).collect())
        });
        let sires = sires.collect();
        let hatches = drawn.hatches.as_ref().map(|row| row[..n].to_vec());
        // Who was looked at has hatched: what does not hatch is not seen.
        let hatched = |state: usize| hatches.as_ref().map_or(1.0, |row: &Vec<f64>| row[state]);
        let seen = |row: &Vec<f64>| (0..n).map(|state| row[state] * hatched(state)).collect();
        let young = drawn.young.iter().map(seen).collect();
        let of_hatchlings = match &hatches {
            Some(hatches) => group.clone().per_hatchling(hatches),
            None => group.clone(),
        };
        Self { dam, sires, young, hatches, group, of_hatchlings }
    }

    fn seen(&self) -> GroupSeen<'_> {
        let n = self.group.n_states();
        let parents = self.sires.iter().map(|given| match given {
            Some(given) => Parents::Pair(
                (0..n)
                    .flat_map(|d| (0..n).map(move |s| (s, d)))
                    .map(|(s, d)| (s, d, self.dam[d] * given[d][s]))
                    .collect(),
            ),
            None => Parents::Alone(self.dam.iter().copied().enumerate().collect()),
        });
        GroupSeen {
            group: &self.of_hatchlings,
            parents: parents.collect(),
            young: self.young.clone(),
        }
    }

    /// Likelihood of this group for one assignment: every state of the dam and, for each candidate
    /// of the set, every state of his.
    fn given(&self, fathers: &[usize], set: &[usize]) -> f64 {
        let n = self.group.n_states();
        let mut sum = 0.0;
        for d in 0..n {
            for way in 0..n.pow(set.len() as u32) {
                let state = |place: usize| way / n.pow(place as u32) % n;
                let mut chance = self.dam[d];
                for (place, candidate) in set.iter().enumerate() {
                    chance *= match &self.sires[*candidate] {
                        Some(given) => given[d][state(place)],
                        None => f64::from(u8::from(state(place) == 0)),
                    };
                }
                if chance == 0.0 {
                    continue;
                }
                for (row, place) in self.young.iter().zip(fathers) {
                    let young = match &self.sires[set[*place]] {
                        Some(_) => self.group.young(state(*place), d),
                        None => self.group.young_alone(d),
                    };
                    let share = |row: &[f64]| {
                        young.iter().map(|(y, p)| p * row[usize::from(*y)]).sum::<f64>()
                    };
                    let hatching = self.hatches.as_deref().map_or(1.0, share);
                    chance *= share(row) / if hatching > 0.0 { hatching } else { 1.0 };
                }
                sum += chance;
            }
        }
        sum
    }
}

/// Sum over all assignments, with the share that each candidate of the set has of each hatchling.
fn enumerate(tables: &[Table], set: &[usize]) -> (f64, Vec<Vec<f64>>) {
    let n = tables[0].young.len();
    let s = set.len();
    let factorial = |n: usize| (1..=n).map(|i| i as f64).product::<f64>();
    let (mut sum, mut shares) = (0.0, vec![vec![0.0; s]; n]);
    for way in 0..s.pow(n as u32) {
        let fathers: Vec<usize> = (0..n).map(|h| way / s.pow(h as u32) % s).collect();
        let counts = (0..s).map(|c| fathers.iter().filter(|f| **f == c).count());
        let chance =
            counts.map(factorial).product::<f64>() * factorial(s - 1) / factorial(n + s - 1);
        let value = chance * tables.iter().map(|t| t.given(&fathers, set)).product::<f64>();
        sum += value;
        fathers.iter().enumerate().for_each(|(h, f)| shares[h][*f] += value);
    }
    shares.iter_mut().flatten().for_each(|x| *x /= sum);
    (sum, shares)
}

fn close(log10: f64, likelihood: f64) -> bool {
    let found = 10_f64.powf(log10);
    (found - likelihood).abs() <= 1e-12 * likelihood
}

fn clutch() -> impl Strategy<Value = (Vec<Drawn>, Option<usize>, [f64; 3])> {
    (1_usize..5).prop_flat_map(|hatchlings| {
        (
            prop::collection::vec(drawn(3, hatchlings), 1..3),
            prop::option::of(0_usize..3),
            prop::array::uniform3(0.05_f64..1.0),
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn equals_enumeration((groups, alone, weights) in clutch(), two in 0.05_f64..0.95) {
        let tables: Vec<Table> = groups.iter().map(|g| Table::new(g, alone)).collect();
        let seen: Vec<GroupSeen<'_>> = tables.iter().map(Table::seen).collect();
        let clutch = ClutchSeen::new(&seen).unwrap();
        let sum: f64 = weights.iter().sum();
        let n = tables[0].young.len();
        let mut whole = 0.0;
        let mut alone_is = [0.0; 3];
        let mut young = vec![[0.0; 3]; n];
        for c in 0..3 {
            let (likelihood, _) = enumerate(&tables, &[c]);
            prop_assert!(close(clutch.log10_by_one(c), likelihood));
            alone_is[c] = (1.0 - two) * weights[c] / sum * likelihood;
            whole += alone_is[c];
            young.iter_mut().for_each(|row| row[c] += alone_is[c]);
        }
        let pairs = [[0, 1], [0, 2], [1, 2]];
        let prior = |[a, b]: [usize; 2]| weights[a] * weights[b];
        let all: f64 = pairs.into_iter().map(prior).sum();
        let mut both = 0.0;
        for set in pairs {
            let (likelihood, shares) = enumerate(&tables, &set);
            prop_assert!(close(clutch.log10_by_several(&set).unwrap(), likelihood));
            let value = two * prior(set) / all * likelihood;
            both += value;
            if value > 0.0 {
                for (row, share) in young.iter_mut().zip(&shares) {
                    set.iter().zip(share).for_each(|(c, p)| row[*c] += value * p);
                }
            }
        }
        whole += both;
        let (likelihood, _) = enumerate(&tables, &[0, 1, 2]);
        prop_assert!(close(clutch.log10_by_several(&[0, 1, 2]).unwrap(), likelihood));
        match clutch.weigh(&Prior { candidates: weights.to_vec(), two }) {
            Err(error) => {
                prop_assert_eq!(error, PaternityError::Impossible);
                prop_assert_eq!(whole, 0.0);
            }
            Ok(verdict) => {
                prop_assert!((verdict.two - both / whole).abs() < 1e-12);
                for c in 0..3 {
                    prop_assert!((verdict.candidates[c].alone - alone_is[c] / whole).abs() < 1e-12);
                    for (row, counted) in verdict.hatchlings.iter().zip(&young) {
                        prop_assert!((row[c] - counted[c] / whole).abs() < 1e-12);
                    }
                }
            }
        }
    }

    /// A clutch of one sire is a small pedigree.
    #[test]
    fn one_sire_is_a_pedigree(drawn in drawn(1, 3)) {
        let mut drawn = drawn;
        drawn.hatches = None;
        // A sire who does not depend on the dam.
        let first = drawn.sires[0][0].clone();
        drawn.sires[0].iter_mut().for_each(|row| row.clone_from(&first));
        let table = Table::new(&drawn, None);
        let clutch = ClutchSeen::new(&[table.seen()]).unwrap();
        let mut origins = vec![Origin::Founder; 2];
        origins.extend(vec![Origin::Parents { sire: 0, dam: 1 }; 3]);
        let pedigree = Pedigree::new(origins).unwrap();
        let mut evidence = Evidence::flat(5, table.group.n_states());
        evidence.see(0, &table.sires[0].as_ref().unwrap()[0]);
        evidence.see(1, &table.dam);
        table.young.iter().enumerate().for_each(|(i, row)| evidence.see(2 + i, row));
        match posteriors(&pedigree, &table.group, &evidence, &Budget::default()) {
            Ok(p) => {
                prop_assert!((p.log10_likelihood().unwrap() - clutch.log10_by_one(0)).abs() < 1e-12);
                let young = hatchling_states(&table.seen(), 0).unwrap();
                for (i, row) in young.iter().enumerate() {
                    for (a, b) in row.iter().zip(p.of(2 + i)) {
                        prop_assert!((a - b).abs() < 1e-12);
                    }
                }
            }
            Err(_) => prop_assert_eq!(clutch.log10_by_one(0), f64::NEG_INFINITY),
        }
    }
}

/// Sires and dam known: the sum over counts against the one over assignments.
#[test]
fn known_parents_by_counts() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let parents: Vec<Parents> =
        [(0, 1), (1, 1), (2, 1), (1, 1)].map(|(s, d)| Parents::Pair(vec![(s, d, 1.0)])).into();
    let young: Vec<Vec<f64>> =
        (0..7).map(|i| vec![0.1 * f64::from(i), 0.9, 1.0 - 0.13 * f64::from(i)]).collect();
    let seen = GroupSeen { group: &group, parents, young: young.clone() };
    let clutch = ClutchSeen::new(&[seen]).unwrap();
    let egg = |h: usize, s: usize| {
        group
            .young([0, 1, 2, 1][s], 1)
            .iter()
            .map(|(y, p)| p * young[h][usize::from(*y)])
            .sum::<f64>()
    };
    for set in [vec![2], vec![1, 3], vec![0, 1, 2], vec![3, 0, 2, 1]] {
        let s = set.len();
        let factorial = |n: usize| (1..=n).map(|i| i as f64).product::<f64>();
        let mut sum = 0.0;
        for way in 0..s.pow(7) {
            let fathers: Vec<usize> = (0..7).map(|h| way / s.pow(h as u32) % s).collect();
            let counts = (0..s).map(|c| fathers.iter().filter(|f| **f == c).count());
            let chance =
                counts.map(factorial).product::<f64>() * factorial(s - 1) / factorial(6 + s);
            sum +=
                chance * fathers.iter().enumerate().map(|(h, f)| egg(h, set[*f])).product::<f64>();
        }
        assert!(close(clutch.log10_by_several(&set).unwrap(), sum), "{set:?}");
    }
    assert_eq!(clutch.log10_by_several(&[0, 0]), None);
    assert_eq!(clutch.log10_by_several(&[4]), None);
}

#[test]
fn refuses_what_does_not_fit() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let sound = GroupSeen {
        group: &group,
        parents: vec![Parents::Alone(vec![(1, 1.0)])],
        young: vec![vec![1.0, 0.0, 0.0]],
    };
    let with = |change: fn(&mut GroupSeen<'_>)| {
        let mut seen = sound.clone();
        change(&mut seen);
        ClutchSeen::new(&[sound.clone(), seen]).map(|_| ())
    };
    assert_eq!(with(|_| ()), Ok(()));
    let misfit = Err(PaternityError::Misfit);
    assert_eq!(with(|s| s.parents.clear()), misfit);
    assert_eq!(with(|s| s.young.clear()), misfit);
    assert_eq!(with(|s| s.young[0].clear()), misfit);
    assert_eq!(with(|s| s.parents[0] = Parents::Alone(vec![(3, 1.0)])), misfit);
    assert_eq!(with(|s| s.parents[0] = Parents::Alone(vec![(0, 0.5)])), misfit);
    let clutch = ClutchSeen::new(&[sound]).unwrap();
    for prior in [(vec![], 0.0), (vec![0.0], 0.0), (vec![-1.0], 0.0), (vec![1.0], 1.5)] {
        let prior = Prior { candidates: prior.0, two: prior.1 };
        assert_eq!(clutch.weigh(&prior).map(|_| ()), misfit);
    }
}
