//! How closely the two are related, in the place where a pair is chosen.

use answers::ColonyKin;

use crate::site::View;

/// From here on a kinship is a caution: first cousins, half uncle and niece. Our choice; below it
/// the sentence stands without the mark.
const CAUTION: f64 = 1.0 / 16.0;

/// What is said of it.
#[derive(Default)]
pub struct Kin {
    /// Close kin, as a caution.
    pub caution: Option<String>,
    /// Distant kin, as a sentence.
    pub plain: Option<String>,
    /// What is not written; empty where the grandparents of both are, and for an animal only
    /// thought of.
    pub beyond: String,
}

impl Kin {
    pub fn of(view: &View, kin: &ColonyKin, her: Option<usize>, him: Option<usize>) -> Self {
        let (Some(her), Some(him)) = (her, him) else { return Self::default() };
        let pair = kin.pair(&view.colony, her, him);
        let mut beyond = pair.beyond(&view.colony);
        let said = pair.sentence(&view.colony);
        if said.is_none() {
            beyond.insert(0, "No ancestor common to both is written.".to_owned());
        }
        let beyond = beyond.join(" ");
        match said {
            Some(said) if pair.kinship >= CAUTION => {
                Self { caution: Some(said), plain: None, beyond }
            }
            Some(said) => {
                let sentence = said.replacen('y', "Y", 1) + ".";
                Self { caution: None, plain: Some(sentence), beyond }
            }
            None => Self { caution: None, plain: None, beyond },
        }
    }
}
