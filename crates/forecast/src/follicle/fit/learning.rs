//! What a room's cycles say of a place, with its slopes; shared out between two workers.

use crate::follicle::number::{Number, Sloped};

use super::climb::Score;
use super::likelihood::of_each;
use super::season::Seasons;
use super::{Asked, Parameter};

/// Fewer cycles are not worth a worker of their own.
const WORTH_SHARING: usize = 40;

/// What each cycle says of the settings that stand at this place.
pub fn scores(females: &[Seasons], asked: &Asked, at: &[f64]) -> Vec<Score> {
    const { assert!(Parameter::ALL.len() <= 20, "every setting has its slope") }
    match at.len() {
        0..=4 => sloped::<4>(females, asked, at),
        5..=12 => sloped::<12>(females, asked, at),
        _ => sloped::<20>(females, asked, at),
    }
}

fn sloped<const N: usize>(females: &[Seasons], asked: &Asked, at: &[f64]) -> Vec<Score> {
    let n = at.len();
    let settings = at.iter().enumerate().map(|(k, at)| Sloped::<N>::setting(*at, k));
    let hyper = asked.settings(&settings.collect::<Vec<_>>());
    let of = |females: &[Seasons]| {
        let mut all = Vec::new();
        females.iter().for_each(|seasons| of_each(&hyper, seasons, &mut all));
        all
    };
    let score = |ln: Sloped<N>| Score {
        ln: ln.value(),
        slopes: ln.slopes[..n].iter().map(|slope| f64::from(*slope)).collect(),
    };
    shared_out(females, of).into_iter().map(score).collect()
}

/// The answers for all females, in their order.
fn shared_out<T: Send>(females: &[Seasons], of: impl Fn(&[Seasons]) -> Vec<T> + Sync) -> Vec<T> {
    let cycles: usize = females.iter().map(Vec::len).sum();
    if cycles < WORTH_SHARING {
        return of(females);
    }
    let (first, second) = females.split_at(half(females, cycles));
    std::thread::scope(|scope| {
        let second = scope.spawn(|| of(second));
        let mut all = of(first);
        match second.join() {
            Ok(rest) => all.extend(rest),
            Err(panic) => std::panic::resume_unwind(panic),
        }
        all
    })
}

/// How many females have half of all cycles.
fn half(females: &[Seasons], cycles: usize) -> usize {
    let mut so_far = 0;
    let is_first = |seasons: &&Seasons| {
        so_far += seasons.len();
        2 * so_far <= cycles
    };
    females.iter().take_while(is_first).count()
}
