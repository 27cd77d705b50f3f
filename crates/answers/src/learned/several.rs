//! Several effects on one outcome, each told as the chance to come first.

use forecast::effects::Mixture;

use crate::listed::any_of;

use super::said::{percent, share};
use super::{Effect, Picture, Row, Verdict, shown, verdict};

/// One of them: logarithm of a hazard ratio.
pub struct One {
    /// What differs between two females.
    pub name: &'static str,
    /// The same, said of one of two females.
    pub who: &'static str,
    /// What is looked at.
    pub about: &'static str,
    /// What there is of it in the records.
    pub counted: String,
    /// The effect.
    pub effect: Mixture,
}

/// All of them; each is a look.
pub struct Several(pub Vec<One>);

impl Several {
    /// The answer once it is known how many looks there are.
    pub fn finished(&self, coverage: f64) -> (Verdict, String, Picture) {
        // With proportional hazards the chance to come first is r / (1 + r), r the hazard ratio.
        let from_even = |x: f64| 100.0 * (share(x) - 0.5);
        let row = |one: &One| Row {
            name: one.name.to_owned(),
            place: None,
            counted: one.counted.clone(),
            median: share(one.effect.median()),
            eighty: one.effect.interval(0.8).map(share),
            ninety_five: one.effect.interval(0.95).map(share),
            apart: Some(shown(&one.effect, "percentage points from even", from_even, coverage)),
        };
        let rows: Vec<Row> = self.0.iter().map(row).collect();
        let (verdict, sentence) = self.sentence(&rows);
        let picture = Picture::Rows {
            axis: "chance that she ovulates first of two",
            is_share: true,
            rows,
            average: Some(0.5),
            dashed: "even",
        };
        (verdict, sentence, picture)
    }

    fn sentence(&self, rows: &[Row]) -> (Verdict, String) {
        let found = |what: Verdict| -> Vec<(&One, &Row)> {
            let is_it = |apart: &Effect| verdict(apart) == what;
            let both = self.0.iter().zip(rows);
            both.filter(|(_, row)| row.apart.as_ref().is_some_and(is_it)).collect()
        };
        let (clear, maybe) = (found(Verdict::Clear), found(Verdict::MayBeChance));
        if !clear.is_empty() {
            let said =
                format!("In your records, of two females first placed alike, {}.", list(&clear));
            return (Verdict::Clear, said);
        }
        if !maybe.is_empty() {
            let chance = match rows.len() {
                1 => "That may be chance.".to_owned(),
                n => format!("Of {n} things looked at that may be chance."),
            };
            let said = format!(
                "Perhaps: in your records, of two females first placed alike, {}. {chance}",
                list(&maybe)
            );
            return (Verdict::MayBeChance, said);
        }
        let about: Vec<&str> = self.0.iter().map(|one| one.about).collect();
        let said = format!("No difference seen by {} in your records.", any_of(&about));
        (Verdict::NoDifference, said)
    }
}

fn list(all: &[(&One, &Row)]) -> String {
    let said = |(one, row): &(&One, &Row)| {
        let [middle, low, high] = [row.median, row.eighty.low, row.eighty.high].map(percent);
        format!(
            "one that {} ovulates first with a chance of {middle} (80 %: {low} to {high})",
            one.who
        )
    };
    all.iter().map(said).collect::<Vec<_>>().join("; ")
}
