//! What is taken for granted of genes where no record says more.

use units::Probability;

/// How gene chances are reckoned here.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneRules {
    /// How far what a label claims of hidden genes is trusted.
    pub trust: Probability,
    /// The chance meant by a "possible het" without a number.
    pub possible_het: Probability,
    /// How often a laboratory is wrong that tells no error rate; below a half.
    pub lab_error: Probability,
    /// Chance that a founder carries an unlisted recessive once records clash without it.
    pub reopened: Probability,
    /// Whether a parent that nobody recorded carries genes as often as the catalogue says; else it
    /// carries no hidden ones.
    pub background_parents: bool,
    /// Chances set by hand that hidden genes are carried unlisted.
    pub carriers: Vec<CarrierChance>,
}

/// A chance to carry what no label lists, set by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct CarrierChance {
    /// A gene, the code of an animal, or a code and a gene.
    pub of: String,
    /// The chance that one copy is carried.
    pub chance: Probability,
}

impl Default for GeneRules {
    /// Our own choices, no source: hets are claimed by people who know the parents, and sometimes
    /// of the wrong hatchling; a laboratory errs in at most 2.7 % where 110 animals showed no error
    /// (Lederer et al. 2023, rule of three).
    fn default() -> Self {
        Self {
            trust: Probability::clamped(0.95),
            possible_het: Probability::clamped(0.5),
            lab_error: Probability::clamped(0.01),
            reopened: Probability::clamped(0.01),
            background_parents: true,
            carriers: Vec::new(),
        }
    }
}

/// Reads `clown = 3 %, F03 = 1 %, F03 piebald = 10 %`; none where a part has another form.
pub fn carriers(text: &str) -> Option<Vec<CarrierChance>> {
    let one = |part: &str| {
        let (of, chance) = part.rsplit_once('=')?;
        let of = of.split_whitespace().collect::<Vec<_>>().join(" ");
        let chance = super::form::percent(chance.trim())?;
        (!of.is_empty() && chance.get() < 1.0).then_some(CarrierChance { of, chance })
    };
    // A comma between digits is one of a number: "clown = 2,5 %".
    let mut parts = vec![String::new()];
    let all: Vec<char> = text.chars().collect();
    for (at, c) in all.iter().enumerate() {
        let is_digit =
            |at: Option<usize>| at.and_then(|at| all.get(at)).is_some_and(char::is_ascii_digit);
        let splits =
            *c == ';' || (*c == ',' && !(is_digit(at.checked_sub(1)) && is_digit(Some(at + 1))));
        match parts.last_mut() {
            Some(part) if !splits => part.push(*c),
            _ => parts.push(String::new()),
        }
    }
    parts.iter().filter(|part| !part.trim().is_empty()).map(|part| one(part)).collect()
}

/// The same as it could be typed.
pub fn told(carriers: &[CarrierChance]) -> String {
    if carriers.is_empty() {
        return "none".to_owned();
    }
    let one = |c: &CarrierChance| format!("{} = {}", c.of, super::form::in_percent(c.chance));
    carriers.iter().map(one).collect::<Vec<_>>().join(", ")
}
