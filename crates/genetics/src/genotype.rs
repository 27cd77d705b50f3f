//! Indices of loci, alleles and looks in a catalogue, and the genotypes made of them.

/// A locus, counted in catalogue order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LocusId(pub(crate) u16);

/// An allele of one locus; 0 is the wild type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AlleleId(pub(crate) u8);

/// A look word of one locus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LookId(pub(crate) u8);

/// A named allele together with its locus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Gene {
    /// Where the allele sits.
    pub locus: LocusId,
    /// Which allele; never the wild type in what a catalogue hands out.
    pub allele: AlleleId,
}

/// Sex of an animal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sex {
    /// XY in pythons (Gamble et al. 2017, Curr Biol 27:2148).
    Male,
    /// XX.
    Female,
}

/// The chromosome of a male that carries a sex-linked allele.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SexChromosome {
    /// Inherited from his dam, passed mostly to daughters.
    X,
    /// Inherited from his sire, passed mostly to sons.
    Y,
}

impl LocusId {
    /// Position in the catalogue, from 0.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl AlleleId {
    /// The allele that nobody names.
    pub const WILD: Self = Self(0);

    /// Position within the locus, from 0 (wild type).
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }

    /// Whether this is the wild type.
    #[must_use]
    pub const fn is_wild(self) -> bool {
        self.0 == 0
    }
}

impl LookId {
    /// Position among the looks of the locus, from 0.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// Most alleles one locus may have, wild type included: its genotypes then fit a [`GenotypeSet`].
pub const MOST_ALLELES: usize = 15;

/// The two alleles of an animal at one locus, in no order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Genotype {
    low: AlleleId,
    high: AlleleId,
}

impl Genotype {
    /// Two copies of the wild type.
    pub const WILD: Self = Self { low: AlleleId::WILD, high: AlleleId::WILD };

    /// The genotype of two alleles, whichever comes first.
    #[must_use]
    pub fn new(a: AlleleId, b: AlleleId) -> Self {
        Self { low: a.min(b), high: a.max(b) }
    }

    /// Both alleles, the one of the lower catalogue position first.
    #[must_use]
    pub const fn alleles(self) -> (AlleleId, AlleleId) {
        (self.low, self.high)
    }

    /// How many copies of `allele` it holds: 0, 1 or 2.
    #[must_use]
    pub fn copies(self, allele: AlleleId) -> u8 {
        u8::from(self.low == allele) + u8::from(self.high == allele)
    }

    /// Whether both copies are alike.
    #[must_use]
    pub fn is_homozygous(self) -> bool {
        self.low == self.high
    }

    /// Position in the triangular table of the locus.
    #[must_use]
    pub const fn index(self) -> usize {
        let high = self.high.0 as usize;
        high * (high + 1) / 2 + self.low.0 as usize
    }

    /// Every genotype of a locus with `alleles` alleles, in order of [`Self::index`].
    pub fn all(alleles: usize) -> impl Iterator<Item = Self> {
        let count = u8::try_from(alleles.min(MOST_ALLELES)).unwrap_or(0);
        (0..count).flat_map(|high| {
            (0..=high).map(move |low| Self { low: AlleleId(low), high: AlleleId(high) })
        })
    }
}

/// Two alleles with their places kept apart.
///
/// Order means something at a sex-linked locus of a male only: there `first` sits on the X and
/// `second` on the Y.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Copies {
    /// On the X of a male; else either copy.
    pub first: AlleleId,
    /// On the Y of a male; else the other copy.
    pub second: AlleleId,
}

impl Copies {
    /// Two copies of the wild type.
    pub const WILD: Self = Self { first: AlleleId::WILD, second: AlleleId::WILD };

    /// Forgets which copy is where.
    #[must_use]
    pub fn genotype(self) -> Genotype {
        Genotype::new(self.first, self.second)
    }
}

impl From<Genotype> for Copies {
    fn from(genotype: Genotype) -> Self {
        Self { first: genotype.low, second: genotype.high }
    }
}

/// A set of genotypes of one locus.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct GenotypeSet(u128);

impl GenotypeSet {
    /// Holds nothing.
    pub const EMPTY: Self = Self(0);
    /// Holds every genotype of any locus.
    pub const ALL: Self = Self(u128::MAX);

    /// Whether `genotype` is in it.
    #[must_use]
    pub const fn contains(self, genotype: Genotype) -> bool {
        self.0 >> genotype.index() & 1 == 1
    }

    /// Those in both.
    #[must_use]
    pub const fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Those in either.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Those not in it.
    #[must_use]
    pub const fn complement(self) -> Self {
        Self(!self.0)
    }
}

impl FromIterator<Genotype> for GenotypeSet {
    fn from_iter<I: IntoIterator<Item = Genotype>>(genotypes: I) -> Self {
        Self(genotypes.into_iter().fold(0, |set, g| set | 1 << g.index()))
    }
}
