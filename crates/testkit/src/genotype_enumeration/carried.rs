//! What an animal can carry on one chromosome, and what it passes on.

/// A chromosome pair with its loci in order.
#[derive(Clone, Debug)]
pub enum Chromosome {
    /// Alike in both sexes.
    Ordinary {
        /// Number of alleles of each locus.
        alleles: Vec<u8>,
        /// Chance that neighbours are parted, (in males, in females).
        crossing: Vec<(f64, f64)>,
    },
    /// One locus that sits on X and Y both.
    OnXAndY {
        /// Number of alleles.
        alleles: u8,
        /// Chance that the locus and the sex-determining region are parted, in males.
        crossing_male: f64,
    },
    /// One locus that the Y does not have.
    OnX {
        /// Number of alleles.
        alleles: u8,
    },
}

/// What one animal carries. Of a male with X and Y the strand on the X comes first; else the strands
/// are sorted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Carried {
    /// Whether it is a male; none where the chromosome does not tell.
    pub is_male: Option<bool>,
    /// Two strands; one in a male whose Y lacks the locus.
    pub strands: Vec<Vec<u8>>,
}

/// What comes from one parent: a strand, and whether it makes a son.
type Passed = (Option<Vec<u8>>, bool, f64);

impl Carried {
    fn sorted(is_male: Option<bool>, a: &[u8], b: &[u8]) -> Self {
        let mut strands = vec![a.to_vec(), b.to_vec()];
        strands.sort();
        Self { is_male, strands }
    }
}

impl Chromosome {
    /// Everything an animal can carry.
    #[must_use]
    pub fn all(&self) -> Vec<Carried> {
        let strands = self.strands();
        let mut all = Vec::new();
        let is_male = self.is_sexed().then_some(false);
        for a in &strands {
            for b in &strands {
                if a <= b {
                    all.push(Carried::sorted(is_male, a, b));
                }
                if matches!(self, Self::OnXAndY { .. }) {
                    all.push(Carried { is_male: Some(true), strands: vec![a.clone(), b.clone()] });
                }
            }
            if matches!(self, Self::OnX { .. }) {
                all.push(Carried { is_male: Some(true), strands: vec![a.clone()] });
            }
        }
        all
    }

    /// Chance of each of [`Self::all`] in an animal of unknown parents, from the frequencies of the
    /// alleles of each locus; sexes even, strands drawn one by one, loci one by one.
    #[must_use]
    pub fn of_founders(&self, frequencies: &[Vec<f64>]) -> Vec<f64> {
        let drawn = |strand: &[u8]| -> f64 {
            strand.iter().zip(frequencies).map(|(a, f)| f[usize::from(*a)]).product()
        };
        let chance = |carried: &Carried| {
            let sex = if carried.is_male.is_some() { 0.5 } else { 1.0 };
            let is_ordered = carried.is_male == Some(true);
            let orders = match carried.strands.as_slice() {
                [a, b] if a != b && !is_ordered => 2.0,
                _ => 1.0,
            };
            sex * orders * carried.strands.iter().map(|s| drawn(s)).product::<f64>()
        };
        self.all().iter().map(chance).collect()
    }

    /// Chance of each young of a sire and a dam, as places in [`Self::all`]; empty where one of
    /// them cannot be what it should be.
    #[must_use]
    pub fn young(&self, all: &[Carried], sire: &Carried, dam: &Carried) -> Vec<(usize, f64)> {
        if sire.is_male == Some(false) || dam.is_male == Some(true) {
            return Vec::new();
        }
        let mut chances = vec![0.0; all.len()];
        for (of_sire, is_son, p) in self.passed(sire, true) {
            for (of_dam, _, q) in self.passed(dam, false) {
                let young = self.joined(of_sire.as_deref(), of_dam.as_deref(), is_son);
                if let Some(at) = all.iter().position(|c| *c == young) {
                    chances[at] += p * q;
                }
            }
        }
        chances.into_iter().enumerate().filter(|(_, p)| *p > 0.0).collect()
    }

    /// Chance of each young of a dam alone: with chance `kept` her like, else what she passes on,
    /// doubled.
    #[must_use]
    pub fn young_alone(&self, all: &[Carried], dam: &Carried, kept: f64) -> Vec<(usize, f64)> {
        if dam.is_male == Some(true) {
            return Vec::new();
        }
        let mut chances = vec![0.0; all.len()];
        for (strand, _, p) in self.passed(dam, false) {
            let strand = strand.unwrap_or_default();
            let young = Carried::sorted(dam.is_male, &strand, &strand);
            if let Some(at) = all.iter().position(|c| *c == young) {
                chances[at] += p * (1.0 - kept);
            }
        }
        if let Some(at) = all.iter().position(|c| c == dam) {
            chances[at] += kept;
        }
        chances.into_iter().enumerate().filter(|(_, p)| *p > 0.0).collect()
    }

    const fn is_sexed(&self) -> bool {
        !matches!(self, Self::Ordinary { .. })
    }

    fn strands(&self) -> Vec<Vec<u8>> {
        let alleles = match self {
            Self::Ordinary { alleles, .. } => alleles.clone(),
            Self::OnXAndY { alleles, .. } | Self::OnX { alleles } => vec![*alleles],
        };
        let mut strands = vec![Vec::new()];
        for count in alleles {
            strands = strands
                .iter()
                .flat_map(|s: &Vec<u8>| (0..count).map(move |a| [s.as_slice(), &[a]].concat()))
                .collect();
        }
        strands
    }

    fn joined(&self, of_sire: Option<&[u8]>, of_dam: Option<&[u8]>, is_son: bool) -> Carried {
        let (sire, dam) = (of_sire.unwrap_or_default(), of_dam.unwrap_or_default());
        if !self.is_sexed() {
            return Carried::sorted(None, sire, dam);
        }
        if !is_son {
            return Carried::sorted(Some(false), sire, dam);
        }
        let strands = of_dam.into_iter().chain(of_sire).map(<[u8]>::to_vec).collect();
        Carried { is_male: Some(true), strands }
    }

    fn passed(&self, parent: &Carried, as_sire: bool) -> Vec<Passed> {
        match self {
            Self::Ordinary { crossing, .. } => crossed(parent, crossing, as_sire),
            Self::OnXAndY { crossing_male: r, .. } if as_sire => {
                let (on_x, on_y) = (parent.strands[0].clone(), parent.strands[1].clone());
                vec![
                    (Some(on_y.clone()), true, 0.5 * (1.0 - r)),
                    (Some(on_x.clone()), true, 0.5 * r),
                    (Some(on_x), false, 0.5 * (1.0 - r)),
                    (Some(on_y), false, 0.5 * r),
                ]
            }
            Self::OnX { .. } if as_sire => {
                vec![(None, true, 0.5), (Some(parent.strands[0].clone()), false, 0.5)]
            }
            _ => parent.strands.iter().map(|s| (Some(s.clone()), false, 0.5)).collect(),
        }
    }
}

/// Every way to start on one of two strands and to change or stay between neighbours.
fn crossed(parent: &Carried, crossing: &[(f64, f64)], as_sire: bool) -> Vec<Passed> {
    let loci = crossing.len() + 1;
    let way = |turns: usize| {
        let mut chance = 0.5;
        let mut strand = Vec::with_capacity(loci);
        for locus in 0..loci {
            let side = turns >> locus & 1;
            strand.push(parent.strands[side][locus]);
            if locus > 0 {
                let (male, female) = crossing[locus - 1];
                let r = if as_sire { male } else { female };
                let turned = turns >> (locus - 1) & 1 != side;
                chance *= if turned { r } else { 1.0 - r };
            }
        }
        (Some(strand), false, chance)
    };
    (0..1 << loci).map(way).collect()
}
