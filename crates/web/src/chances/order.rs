//! The order in which looks are shown: what fits the wish first, then the likeliest others.

use answers::pair_chances::{LookShown, PairChances};

/// The looks of a pair in two parts, each likeliest first.
pub struct Ordered<'a> {
    /// Those that fit the wish; empty where none was asked.
    pub fitting: Vec<&'a LookShown>,
    /// All others.
    pub others: Vec<&'a LookShown>,
}

impl<'a> Ordered<'a> {
    pub fn of(answer: &'a PairChances) -> Self {
        let fits = |o: &&LookShown| o.fits.is_some_and(|f| f > 0.0);
        let others = answer.looks.iter().filter(|o| !fits(o)).collect();
        Self { fitting: answer.fitting.iter().collect(), others }
    }

    /// The first `most` of them; a third of the places is kept for the likeliest others.
    pub fn first(&self, most: usize) -> Vec<&'a LookShown> {
        let (fitting, others) = self.shares(most);
        self.fitting[..fitting].iter().chain(&self.others[..others]).copied().collect()
    }

    /// How many of each are among the first `most`.
    pub fn shares(&self, most: usize) -> (usize, usize) {
        let kept = self.others.len().min(most / 3);
        let fitting = self.fitting.len().min(most - kept);
        (fitting, self.others.len().min(most - fitting))
    }
}
