//! How the room eats: how often food is taken after a meal taken, and after one refused.

use records::{Colony, Meal};

use super::offered::{Eater, Offered};

/// Days back over which meals are counted; our choice.
const DAYS_BACK: i32 = 730;
/// What is taken for granted before the room's own meals: nine in ten are taken after a meal taken,
/// half after a refused one, as if seen ten and four times. Our choice.
const BEFORE: [[f64; 2]; 2] = [[9.0, 10.0], [2.0, 4.0]];

/// How food is taken, by what became of the meal before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Appetite {
    /// Meals after one taken: of them taken, and how many.
    pub after_taken: (u32, u32),
    /// Meals after one refused: of them taken, and how many.
    pub after_refused: (u32, u32),
}

impl Appetite {
    /// Of all animals of the room, over two years back.
    pub(super) fn of(colony: &Colony) -> Self {
        let mut counts = [(0, 0); 2];
        for animal in &colony.animals {
            let mut days: Vec<(units::Day, bool)> = Vec::new();
            for meal in &animal.meals {
                let ate = meal.what.meal == Meal::Taken;
                match days.last_mut() {
                    Some(last) if last.0 == meal.day => last.1 |= ate,
                    _ => days.push((meal.day, ate)),
                }
            }
            let recent = |d: &(units::Day, bool)| colony.as_of.day.days_since(d.0) <= DAYS_BACK;
            for two in days.windows(2).filter(|two| recent(&two[1])) {
                let count = &mut counts[usize::from(!two[0].1)];
                count.0 += u32::from(two[1].1);
                count.1 += 1;
            }
        }
        Self { after_taken: counts[0], after_refused: counts[1] }
    }

    /// Chance that food is taken after a meal taken (0) or refused (1).
    fn takes(&self, after: usize) -> f64 {
        let (taken, n) = if after == 0 { self.after_taken } else { self.after_refused };
        (f64::from(taken) + BEFORE[after][0]) / (f64::from(n) + BEFORE[after][1])
    }

    /// Share of meals taken in the long run.
    pub(super) fn share(&self) -> f64 {
        let (after_taken, after_refused) = (self.takes(0), self.takes(1));
        after_refused / (1.0 - after_taken + after_refused)
    }

    /// Chances that an animal takes 0, 1, 2 ... feeders in the meals meant. What became of a meal
    /// carries over to the next; a phase in which such animals fast thins what is taken. `is_meant` is
    /// the chance that a meal is of the kind asked about.
    pub(super) fn taken(&self, eater: &Eater, is_meant: impl Fn(&Offered) -> f64) -> Vec<f64> {
        // By what became of the last meal, chances of each number so far.
        let mut by_last = [vec![0.0], vec![0.0]];
        by_last[usize::from(!eater.ate_last)][0] = 1.0;
        for meal in &eater.meals {
            let meant = is_meant(meal);
            let n = if meant > 0.0 { usize::from(meal.count) } else { 0 };
            let length = by_last[0].len() + n;
            let mut next = [vec![0.0; length], vec![0.0; length]];
            for (after, chances) in by_last.iter().enumerate() {
                let takes = self.takes(after) * (1.0 - meal.fasts);
                for (i, p) in chances.iter().enumerate() {
                    next[0][i + n] += p * takes * meant;
                    next[0][i] += p * takes * (1.0 - meant);
                    next[1][i] += p * (1.0 - takes);
                }
            }
            by_last = next;
        }
        let [a, b] = by_last;
        let one: Vec<f64> = a.iter().zip(&b).map(|(x, y)| x + y).collect();
        several(&one, eater.animals)
    }
}

/// The same for so many animals at once, a part of an animal being the chance that it is there.
fn several(one: &[f64], animals: f64) -> Vec<f64> {
    let mut sum = vec![1.0];
    let mut left = animals;
    while left > 1e-9 {
        let share = left.min(1.0);
        let mut own: Vec<f64> = one.iter().map(|p| p * share).collect();
        own[0] += 1.0 - share;
        let mut next = vec![0.0; sum.len() + own.len() - 1];
        for (i, p) in sum.iter().enumerate() {
            for (j, q) in own.iter().enumerate() {
                next[i + j] += p * q;
            }
        }
        sum = next;
        left -= 1.0;
    }
    sum
}
