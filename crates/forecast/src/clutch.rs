//! How many eggs she lays, how many of them are slugs, and how many hatch.

use crate::student::{self, ln_gamma};

/// Clutch mass beside the mass of the female before laying: Ellis and Chappell (1987).
pub const CLUTCH_SHARE: f64 = 0.32;
/// Mass of an egg, g: Amniote Life-History Database (Myhrvold et al. 2015).
pub const EGG_GRAMS: f64 = 94.07;
/// Eggs of a clutch whose female was not weighed: 5,344 eggs of 783 clutches, Morrill et al. (2011).
pub const USUAL_EGGS: f64 = 5344.0 / 783.0;
/// Clutches outside these are asked about: wild ones hold 4-15 eggs (Gorzula et al. 1997), and the
/// limits leave a margin.
pub const PLAUSIBLE_EGGS: (u16, u16) = (1, 16);
/// No clutch of more eggs is reckoned with.
const MOST: usize = 24;

/// Eggs that her mass before laying lets expect: 1,650 g give 5.6, 2,050 g give 7.0.
#[must_use]
pub fn eggs_by_mass(grams: Option<f64>) -> f64 {
    grams.map_or(USUAL_EGGS, |grams| CLUTCH_SHARE * grams / EGG_GRAMS)
}

/// A clutch that was laid and counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counted {
    /// Mass of the female before laying, g, where known.
    pub grams: Option<f64>,
    /// Eggs in all.
    pub eggs: u16,
    /// Slugs among them, where counted.
    pub slugs: Option<u16>,
    /// Hatchlings, where it hatched and they were counted.
    pub hatchlings: Option<u16>,
}

/// What the clutches of a room say of the next one.
///
/// Eggs are normal about a factor times what mass lets expect. Factor and variance have the
/// conjugate prior of a regression through the origin (Gelman et al. 2013, Bayesian Data Analysis,
/// 3rd edition, sections 3.3 and 14.8), so the next clutch is Student's t. Slugs, and hatchlings of
/// what is no slug, are beta-binomial: clutches differ more than eggs of one clutch do.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchModel {
    /// Eggs beside what mass lets expect.
    pub factor: f64,
    precision: f64,
    freedom: f64,
    scale: f64,
    /// Share of eggs that are slugs.
    pub slug_share: f64,
    /// Share of eggs that are no slugs and hatch.
    pub hatch_share: f64,
    /// Clutches behind the eggs, the slugs and the hatchlings.
    pub seen: (usize, usize, usize),
}

/// Spread of a clutch about what is expected before anything is seen, eggs; our own wide choice.
const SPREAD_EGGS: f64 = 1.8;
/// Clutches this counts for; our own choice.
const SPREAD_COUNTS_FOR: f64 = 6.0;
/// How far off the factor may be in a room; our own choice.
const FACTOR_OFF: f64 = 0.2;
/// Of the spread of clutches, variance between females beside that within one; our own choice.
const BETWEEN_FEMALES: f64 = 0.5;
/// Share of slugs before any is counted; our own choice, no source.
const USUAL_SLUG_SHARE: f64 = 0.1;
/// Share of eggs that hatch: 81 %, Morrill et al. (2011).
const USUAL_HATCH_SHARE: f64 = 0.81;
/// Eggs that the usual shares count for in a room, and those of the room for one female; our choice.
const SHARE_COUNTS_FOR: f64 = 10.0;
/// Correlation of eggs of one clutch in being slugs or hatching; the spread between clutches was not
/// published (Morrill et al. 2011 give the mean alone): our own wide choice.
pub const ALIKE: f64 = 0.2;

impl Default for ClutchModel {
    fn default() -> Self {
        Self {
            factor: 1.0,
            precision: (SPREAD_EGGS / FACTOR_OFF).powi(2),
            freedom: SPREAD_COUNTS_FOR,
            scale: SPREAD_EGGS,
            slug_share: USUAL_SLUG_SHARE,
            hatch_share: USUAL_HATCH_SHARE,
            seen: (0, 0, 0),
        }
    }
}

impl ClutchModel {
    /// The usual one moved by the clutches of a room.
    #[must_use]
    pub fn learned(clutches: &[Counted]) -> Self {
        let usual = Self::default();
        let (mut n, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0);
        for clutch in clutches.iter().filter(|c| c.eggs > 0) {
            let (x, y) = (eggs_by_mass(clutch.grams), f64::from(clutch.eggs));
            n += 1.0;
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        let precision = usual.precision + xx;
        let factor = (usual.precision * usual.factor + xy) / precision;
        let freedom = usual.freedom + n;
        let squares = usual.freedom * usual.scale * usual.scale
            + yy
            + usual.precision * usual.factor * usual.factor
            - precision * factor * factor;
        let (slugs, hatched) = (pairs(clutches, slugs_of), pairs(clutches, hatched_of));
        Self {
            factor,
            precision,
            freedom,
            scale: (squares / freedom).sqrt(),
            slug_share: drawn(&slugs, USUAL_SLUG_SHARE),
            hatch_share: drawn(&hatched, USUAL_HATCH_SHARE),
            seen: (clutches.iter().filter(|c| c.eggs > 0).count(), slugs.len(), hatched.len()),
        }
    }

    /// Location, scale and degrees of freedom of the eggs of her next clutch.
    ///
    /// Her own clutches draw her away from the room: by n r / (1 + n r) of how far they lay off on
    /// average, r being the variance between females beside that within one.
    #[must_use]
    pub fn eggs(&self, grams: Option<f64>, hers: &[Counted]) -> (f64, f64, f64) {
        let x = eggs_by_mass(grams);
        let off = |c: &Counted| f64::from(c.eggs) - self.factor * eggs_by_mass(c.grams);
        let (mut n, mut sum) = (0.0, 0.0);
        for clutch in hers.iter().filter(|c| c.eggs > 0) {
            n += 1.0;
            sum += off(clutch);
        }
        let own = BETWEEN_FEMALES / (1.0 + n * BETWEEN_FEMALES);
        let within = 1.0 / (1.0 + BETWEEN_FEMALES);
        let variance = self.scale.powi(2) * (within * (1.0 + own) + x * x / self.precision);
        (self.factor * x + own * sum, variance.sqrt(), self.freedom)
    }

    /// The number of eggs of her next clutch, slugs included.
    #[must_use]
    pub fn next_eggs(&self, grams: Option<f64>, hers: &[Counted]) -> Counts {
        Counts::of_student(self.eggs(grams, hers))
    }

    /// Her next clutch. `laid` are its eggs where they are counted already, with the slugs among them
    /// where those are.
    #[must_use]
    pub fn next(
        &self,
        grams: Option<f64>,
        hers: &[Counted],
        laid: Option<(u16, Option<u16>)>,
    ) -> NextClutch {
        let eggs = match laid {
            Some((eggs, _)) => Counts::fixed(usize::from(eggs)),
            None => self.next_eggs(grams, hers),
        };
        let slug_share = drawn(&pairs(hers, slugs_of), self.slug_share);
        let hatch_share = drawn(&pairs(hers, hatched_of), self.hatch_share);
        let counted = laid.and_then(|(_, slugs)| slugs).map(usize::from);
        let (mut slugs, mut hatchlings) =
            (vec![0.0; eggs.chance.len()], vec![0.0; eggs.chance.len()]);
        for (n, p) in eggs.chance.iter().enumerate().filter(|(_, p)| **p > 0.0) {
            for (s, slug) in slugs.iter_mut().enumerate().take(n + 1) {
                let chance = match counted {
                    Some(counted) => f64::from(u8::from(s == counted.min(n))),
                    None => beta_binomial(s, n, slug_share),
                };
                *slug += p * chance;
                for (h, out) in hatchlings.iter_mut().enumerate().take(n - s + 1) {
                    *out += p * chance * beta_binomial(h, n - s, hatch_share);
                }
            }
        }
        NextClutch {
            eggs,
            slugs: Counts { chance: slugs },
            hatchlings: Counts { chance: hatchlings },
        }
    }
}

/// What is expected of a clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct NextClutch {
    /// Eggs in all.
    pub eggs: Counts,
    /// Slugs among them.
    pub slugs: Counts,
    /// Hatchlings.
    pub hatchlings: Counts,
}

/// Chances of 0, 1, 2 and more; they sum to one.
#[derive(Clone, Debug, PartialEq)]
pub struct Counts {
    /// By number.
    pub chance: Vec<f64>,
}

impl Counts {
    fn fixed(n: usize) -> Self {
        let mut chance = vec![0.0; n + 1];
        chance[n] = 1.0;
        Self { chance }
    }

    /// At least one egg, as a clutch is asked about.
    fn of_student((location, scale, freedom): (f64, f64, f64)) -> Self {
        let below = |eggs: f64| student::below((eggs - location) / scale, freedom);
        let mut chance = vec![0.0; MOST + 1];
        let mut before = below(0.5);
        let mut n = 1.0;
        for p in chance.iter_mut().skip(1) {
            let by = below(n + 0.5);
            *p = by - before;
            before = by;
            n += 1.0;
        }
        let total: f64 = chance.iter().sum();
        chance.iter_mut().for_each(|p| *p /= total.max(1e-300));
        Self { chance }
    }

    /// Mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        let mut n = -1.0;
        self.chance
            .iter()
            .map(|p| {
                n += 1.0;
                n * p
            })
            .sum()
    }

    /// The smallest number that is not exceeded with a chance of at least `share`.
    #[must_use]
    pub fn quantile(&self, share: f64) -> usize {
        let mut by = 0.0;
        let reached = self.chance.iter().position(|p| {
            by += p;
            by >= share - 1e-12
        });
        reached.unwrap_or(self.chance.len().max(1) - 1)
    }
}

fn slugs_of(c: &Counted) -> Option<(f64, f64)> {
    Some((f64::from(c.slugs?.min(c.eggs)), f64::from(c.eggs)))
}

/// Twins, or a slip of the pen: no egg gives more than one here.
fn hatched_of(c: &Counted) -> Option<(f64, f64)> {
    let fertile = c.eggs.saturating_sub(c.slugs?);
    Some((f64::from(c.hatchlings?.min(fertile)), f64::from(fertile)))
}

fn pairs(clutches: &[Counted], of: impl Fn(&Counted) -> Option<(f64, f64)>) -> Vec<(f64, f64)> {
    clutches.iter().filter_map(of).filter(|(_, n)| *n > 0.0).collect()
}

/// A share drawn towards another, each clutch weighed for the likeness of its eggs: n eggs count for
/// n / (1 + (n - 1) r), the variance of a beta-binomial.
fn drawn(counted: &[(f64, f64)], towards: f64) -> f64 {
    let (mut some, mut all) = (towards * SHARE_COUNTS_FOR, SHARE_COUNTS_FOR);
    for (k, n) in counted {
        let weight = 1.0 / (1.0 + (n - 1.0) * ALIKE);
        some += weight * k;
        all += weight * n;
    }
    some / all
}

/// Chance of `k` of `n` where the share differs from clutch to clutch about `share`, eggs of one
/// clutch being correlated by [`ALIKE`]: beta-binomial.
#[must_use]
pub fn beta_binomial(k: usize, n: usize, share: f64) -> f64 {
    let counts = 1.0 / ALIKE - 1.0;
    let (a, b) = (share * counts, (1.0 - share) * counts);
    #[expect(clippy::cast_precision_loss, reason = "some eggs")]
    let (k, n) = (k as f64, n as f64);
    let ln_beta = |a: f64, b: f64| ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b);
    let ln_choose = ln_gamma(n + 1.0) - ln_gamma(k + 1.0) - ln_gamma(n - k + 1.0);
    (ln_choose + ln_beta(k + a, n - k + b) - ln_beta(a, b)).exp()
}
