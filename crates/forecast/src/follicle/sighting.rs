//! What one evening's check does to the tracks.

use super::check::Found;
use super::hyper::Hyper;
use super::normal::share_between;
use super::number::Number;
use super::track::Track;

/// Sizes beyond these say nothing more than the end itself: no follicle is larger.
const SCAN_LIMITS: (f64, f64) = (0.0, 80.0);

/// Two ways to read a scan (ordinary or badly off) are kept apart when the rarer one has at least
/// this share; below it the two are drawn together.
const KEEP_APART: f64 = 0.02;

/// Logarithm of the least likelihood that anything seen is given: one wrong number must not decide
/// what is learned. Our choice.
const UNFORESEEN: f64 = -30.0;

/// Lighter tracks are not divided, neither into these two nor before a felt class: it would not
/// show.
const WORTH_SPLITTING: f64 = 0.01;

/// Everything seen of one female in one evening, boiled down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sighting<S = f64> {
    /// Mean of the evening's scans with the two error variances and the share of gross errors.
    Scan {
        /// Mean size on the screen, mm.
        size: f64,
        /// Error variance of an ordinary evening.
        fine: S,
        /// Error variance of a bad one.
        gross: S,
        /// Share of bad ones.
        share: f64,
    },
    /// One felt class.
    Felt {
        /// Lower cut, mm.
        from: f64,
        /// Upper cut, mm.
        to: f64,
        /// Blur, mm.
        blur: S,
    },
}

impl<S: Number> Sighting<S> {
    /// Boils down the checks of one evening. Scans are averaged: the own errors average out, the
    /// error shared by an evening's scans does not. Numbers that are not finite are left out.
    pub fn of_evening(hyper: &Hyper<S>, found: &[Found], into: &mut Vec<Self>) {
        let (mut n, mut sum) = (0.0, 0.0);
        for f in found {
            match *f {
                Found::Scan(size) => {
                    n += 1.0;
                    sum += size.get().clamp(SCAN_LIMITS.0, SCAN_LIMITS.1);
                }
                Found::Felt { from, to, blur } => {
                    if from < to && blur.is_finite() {
                        let blur = (hyper.felt_blur_times * blur).at_least(0.05).at_most(20.0);
                        into.push(Self::Felt { from, to, blur });
                    }
                }
            }
        }
        if n > 0.0 {
            let own = hyper.scan_own * hyper.scan_own / n;
            let shared = hyper.scan_shared * hyper.scan_shared;
            let times = hyper.scan_gross_times * hyper.scan_gross_times;
            into.push(Self::Scan {
                size: sum / n,
                fine: own + shared,
                gross: own * times + shared,
                share: hyper.scan_gross,
            });
        }
    }

    /// Takes the sighting in: each track gives one or two, weighted by how well it foresaw it.
    /// Returns the logarithm of how well all of them did.
    pub fn weigh(&self, tracks: &[Track<S>], into: &mut Vec<Track<S>>) -> S {
        into.clear();
        match *self {
            Self::Scan { size, fine, gross, share } => {
                for t in tracks {
                    let (mut a, mut b) = (*t, *t);
                    let foreseen = [a.see(size, fine), b.see(size, gross)];
                    a.weight *= foreseen[0] * (1.0 - share);
                    b.weight *= foreseen[1] * share;
                    let (often, seldom) = (a.weight.value(), b.weight.value());
                    let is_told_apart = often.min(seldom) >= KEEP_APART * (often + seldom);
                    if t.weight.value() > WORTH_SPLITTING && is_told_apart {
                        into.push(b);
                    } else {
                        a.absorb(&b);
                    }
                    into.push(a);
                }
            }
            Self::Felt { from, to, blur } => {
                for t in tracks {
                    if t.weight.value() > WORTH_SPLITTING && straddles(t, from, to, blur.value()) {
                        into.extend(thirds(t).map(|part| felt(part, from, to, blur)));
                    } else {
                        into.push(felt(*t, from, to, blur));
                    }
                }
            }
        }
        // A sighting that no track could foresee at all says nothing that can be believed.
        let foreseen: S = into.iter().map(|t| t.weight).sum();
        if !level(into) {
            into.clear();
            into.extend_from_slice(tracks);
            return S::of(UNFORESEEN);
        }
        foreseen.ln().at_least(UNFORESEEN)
    }
}

/// Whether the track is so wide about a cut that what lies on one side of it is no Gaussian.
fn straddles<S: Number>(t: &Track<S>, from: f64, to: f64, blur: f64) -> bool {
    let near = |cut: f64| (cut - t.x.value()).abs() < 2.5 * t.xx.value().sqrt();
    t.xx.value() > 0.6 * blur * blur && (near(from) || near(to))
}

/// Three narrower tracks side by side that add up to nearly the same Gaussian (mean and variance
/// exactly); the division of the standard normal that DeMars, Bishop and Jah (2013) give.
fn thirds<S: Number>(t: &Track<S>) -> [Track<S>; 3] {
    const OUTER: f64 = 0.225_224_624_9;
    const AWAY: f64 = 1.057_515_4;
    let narrower = 2.0 * OUTER * AWAY * AWAY;
    [(OUTER, -AWAY), (1.0 - 2.0 * OUTER, 0.0), (OUTER, AWAY)].map(|(share, step)| {
        let mut part = *t;
        part.weight *= share;
        part.pull(S::of(step) / t.xx.sqrt(), S::of(narrower) / t.xx);
        part
    })
}

/// Moment matching of an interval seen through blur: mean and variance of a truncated normal
/// (Johnson, Kotz and Balakrishnan 1994, section 13.10).
fn felt<S: Number>(mut t: Track<S>, from: f64, to: f64, blur: S) -> Track<S> {
    let spread = (t.xx + blur * blur).sqrt();
    // An end that is open stays so, whatever the settings.
    let cut = |at: f64| {
        if at.is_finite() { (S::of(at) - t.x) / spread } else { S::of(at) }
    };
    let (low, high) = (cut(from), cut(to));
    let (chance, [at_low, at_high]) = share_between(low, high);
    t.weight *= chance;
    if chance.value() > 1e-100 {
        let edge = |z: S, d: S| if z.value().is_finite() { z * d } else { S::of(0.0) };
        let mean = (at_low - at_high) / chance;
        let shrink = mean * mean + (edge(high, at_high) - edge(low, at_low)) / chance;
        t.pull(mean / spread, shrink.at_least(0.0).at_most(1.0) / (spread * spread));
    }
    t
}

/// Brings the weights back to a sum of one; false where they sum to nothing.
pub fn level<S: Number>(tracks: &mut [Track<S>]) -> bool {
    let total: S = tracks.iter().map(|t| t.weight).sum();
    let scale = S::of(1.0) / total;
    let sound = total.value() > 0.0 && total.value().is_finite() && scale.value().is_finite();
    if sound {
        tracks.iter_mut().for_each(|t| t.weight *= scale);
    }
    sound
}
