//! How the ground bends, learned on the way.

use crate::cholesky::{Cholesky, dot};

/// Steps remembered. The summit is no parabola, and the logarithm steps a little where tracks are drawn
/// together: what older ones told misleads.
const REMEMBERED: usize = 3;

/// What earlier steps told of the bend of the logarithm.
///
/// Outer products of slopes are the bend only where the model is true and members are many; where a
/// room is more even than the model allows, they are far from it, and steps overshoot or creep. How
/// much the slope changed along earlier steps corrects them: Broyden, Fletcher, Goldfarb and Shanno
/// (1970), in the recursion of Nocedal (1980), with the outer products in the middle.
#[derive(Debug, Default)]
pub struct Bend {
    steps: Vec<Step>,
}

#[derive(Debug)]
struct Step {
    moved: Vec<f64>,
    /// By how much the slope fell along it.
    fell: Vec<f64>,
    per: f64,
}

impl Bend {
    /// Remembers a step and the slopes at both of its ends. A step along which the slope rose says
    /// nothing of a summit.
    pub fn remember(&mut self, from: (&[f64], &[f64]), to: (&[f64], &[f64])) {
        let minus = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a - b).collect::<Vec<_>>();
        let (moved, fell) = (minus(to.0, from.0), minus(from.1, to.1));
        let bent = dot(&moved, &fell);
        if bent > 0.0 && bent.is_finite() {
            if self.steps.len() == REMEMBERED {
                self.steps.remove(0);
            }
            self.steps.push(Step { moved, fell, per: 1.0 / bent });
        }
    }

    /// Forgets everything.
    pub fn forget(&mut self) {
        self.steps.clear();
    }

    /// Whether nothing is remembered.
    pub fn is_plain(&self) -> bool {
        self.steps.is_empty()
    }

    /// The step that a slope asks for, about the one that outer products alone ask for.
    pub fn step(&self, information: &Cholesky, slope: &[f64]) -> Vec<f64> {
        let mut rest = slope.to_vec();
        let mut shares = Vec::with_capacity(self.steps.len());
        for Step { moved, fell, per } in self.steps.iter().rev() {
            let share = per * dot(moved, &rest);
            add(&mut rest, -share, fell);
            shares.push(share);
        }
        let mut step = information.solve(&rest);
        for (Step { moved, fell, per }, share) in self.steps.iter().zip(shares.into_iter().rev()) {
            let back = per * dot(fell, &step);
            add(&mut step, share - back, moved);
        }
        step
    }
}

fn add(to: &mut [f64], times: f64, what: &[f64]) {
    to.iter_mut().zip(what).for_each(|(to, what)| *to += times * what);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// On a quadratic summit, steps along it teach its bend: after as many independent ones as it has
    /// directions, the step leads to the summit whatever the outer products say.
    #[test]
    fn a_quadratic_is_known_after_as_many_steps_as_it_has_directions() {
        let bend = [3.0, 1.0, 0.2, 1.0, 2.0, 0.4, 0.2, 0.4, 5.0];
        let slope = |at: &[f64]| -> Vec<f64> {
            (0..3).map(|i| -(0..3).map(|j| bend[i * 3 + j] * at[j]).sum::<f64>()).collect()
        };
        let wrong = Cholesky::of(3, &[0.1, 0.0, 0.0, 0.0, 7.0, 0.0, 0.0, 0.0, 1.0]).unwrap();
        let mut learned = Bend::default();
        let mut at = vec![1.0, -2.0, 0.5];
        for _ in 0..3 {
            let toward = learned.step(&wrong, &slope(&at));
            // As far along as leads highest, found by the bend itself.
            let along: f64 = toward.iter().zip(slope(&at)).map(|(t, s)| t * s).sum();
            let bent: f64 = toward.iter().zip(slope(&toward)).map(|(t, s)| -t * s).sum();
            let next: Vec<f64> =
                at.iter().zip(&toward).map(|(at, t)| at + along / bent * t).collect();
            learned.remember((&at, &slope(&at)), (&next, &slope(&next)));
            at = next;
        }
        assert!(at.iter().all(|x| x.abs() < 1e-9), "{at:?}");
        let from = [0.7, 0.1, -0.9];
        let step = learned.step(&wrong, &slope(&from));
        assert!(from.iter().zip(&step).all(|(at, step)| (at + step).abs() < 1e-9), "{step:?}");
    }

    #[test]
    fn a_step_along_which_the_slope_rose_is_not_remembered() {
        let mut bend = Bend::default();
        bend.remember((&[0.0], &[1.0]), (&[1.0], &[2.0]));
        assert!(bend.is_plain());
        bend.remember((&[0.0], &[2.0]), (&[1.0], &[1.0]));
        assert!(!bend.is_plain());
        let plain = Cholesky::of(1, &[50.0]).unwrap();
        assert!((bend.step(&plain, &[3.0])[0] - 3.0).abs() < 1e-15);
        bend.forget();
        assert!((bend.step(&plain, &[3.0])[0] - 0.06).abs() < 1e-15);
    }
}
