//! True genotypes, how they look, and what a keeper writes of them.

use super::dice::Dice;

/// How copies of a gene show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mode {
    /// Two copies are seen, one is not.
    Recessive,
    /// One copy is seen, two look otherwise.
    Incomplete,
    /// One and two copies look alike.
    Dominant,
}

struct Locus {
    mode: Mode,
    /// Names of the alleles; 0 stands for wild type and is not in the list.
    alleles: &'static [&'static str],
    /// The word for two copies of the first allele, where it is not "super NAME".
    double: Option<&'static str>,
}

const fn locus(
    mode: Mode,
    alleles: &'static [&'static str],
    double: Option<&'static str>,
) -> Locus {
    Locus { mode, alleles, double }
}

/// The loci of the room: common genes of the trade without a known harm in one copy.
const LOCI: [Locus; 13] = [
    locus(Mode::Recessive, &["clown"], None),
    locus(Mode::Recessive, &["piebald"], None),
    locus(Mode::Recessive, &["hypo"], None),
    locus(Mode::Recessive, &["albino"], None),
    locus(Mode::Incomplete, &["pastel"], None),
    locus(Mode::Incomplete, &["enchi"], None),
    locus(Mode::Incomplete, &["mojave", "lesser"], None),
    locus(Mode::Incomplete, &["yellow belly"], Some("ivory")),
    locus(Mode::Incomplete, &["orange dream"], None),
    locus(Mode::Incomplete, &["leopard"], None),
    locus(Mode::Incomplete, &["fire"], None),
    locus(Mode::Dominant, &["pinstripe"], None),
    locus(Mode::Incomplete, &["cinnamon"], None),
];

/// The recessive loci come first.
pub(super) const RECESSIVE: usize = 4;
const CINNAMON: usize = 12;

/// Two copies at each locus, wild type 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Genotype([[u8; 2]; LOCI.len()]);

pub(super) fn recessive_name(recessive: usize) -> &'static str {
    LOCI[recessive].alleles[0]
}

/// What is known or claimed of an animal: the chance that it carries each recessive unseen.
pub(super) type Claims = [f64; RECESSIVE];

impl Genotype {
    /// The words of what is seen, in order of the loci.
    pub fn look(&self) -> Vec<String> {
        self.0.iter().zip(&LOCI).filter_map(|(copies, locus)| seen(*copies, locus)).collect()
    }

    pub fn shows(&self, recessive: usize) -> bool {
        self.0[recessive] == [1, 1]
    }

    pub fn has_cinnamon(&self) -> bool {
        self.0[CINNAMON] != [0, 0]
    }

    /// How many visible genes two have between them, each once.
    pub fn visible_with(&self, other: &Self) -> usize {
        let has = |g: &Self, i: usize| g.0[i] != [0, 0];
        (RECESSIVE..LOCI.len()).filter(|i| has(self, *i) || has(other, *i)).count()
    }

    /// The whole truth, unseen copies included.
    pub fn told(&self) -> String {
        let mut words = self.look();
        for (copies, locus) in self.0.iter().zip(&LOCI) {
            let single = copies[0] != copies[1] && copies.contains(&0);
            if locus.mode == Mode::Recessive && single {
                words.push(format!("het {}", locus.alleles[0]));
            }
        }
        if words.is_empty() { "normal".to_owned() } else { words.join(" ") }
    }
}

fn seen(copies: [u8; 2], locus: &Locus) -> Option<String> {
    let [a, b] = [copies[0].min(copies[1]), copies[0].max(copies[1])];
    let name = |allele: u8| locus.alleles[usize::from(allele) - 1];
    match (locus.mode, a, b) {
        (_, 0, 0) | (Mode::Recessive, 0, _) => None,
        (Mode::Recessive | Mode::Dominant, _, b) => Some(name(b).to_owned()),
        (Mode::Incomplete, 0, b) => Some(name(b).to_owned()),
        // Two of mojave and lesser that are not both mojave.
        (Mode::Incomplete, _, 2) => Some("blue-eyed leucistic".to_owned()),
        (Mode::Incomplete, _, b) => {
            Some(locus.double.map_or_else(|| format!("super {}", name(b)), str::to_owned))
        }
    }
}

/// One animal of a breeding: at each locus one copy of each parent.
pub(super) fn young(sire: &Genotype, dam: &Genotype, dice: &mut Dice) -> Genotype {
    let mut own = Genotype::default();
    for (at, copies) in own.0.iter_mut().enumerate() {
        *copies =
            [sire.0[at][usize::from(dice.chance(0.5))], dam.0[at][usize::from(dice.chance(0.5))]];
    }
    own
}

/// An animal that was bought: one to three visible genes, and one recessive in most.
pub(super) fn founder(dice: &mut Dice) -> (Genotype, Claims) {
    let mut own = Genotype::default();
    let mut claims = Claims::default();
    let visible = dice.pick(&[1, 1, 2, 2, 2, 3]);
    let mut loci: Vec<usize> = (RECESSIVE..LOCI.len()).collect();
    dice.shuffle(&mut loci);
    let mut doubled = false;
    for at in loci.into_iter().take(visible) {
        let most = i32::try_from(LOCI[at].alleles.len()).unwrap_or(1);
        let allele = u8::try_from(dice.whole(1, most)).unwrap_or(1);
        let twice = !doubled && at != CINNAMON && allele == 1 && dice.chance(0.12);
        doubled |= twice;
        own.0[at] = [if twice { allele } else { 0 }, allele];
    }
    let recessive = dice.pick(&[0, 0, 0, 1, 1, 2, 3]);
    let kind = dice.unit();
    if kind < 0.25 {
        own.0[recessive] = [1, 1];
    } else if kind < 0.65 {
        own.0[recessive] = [0, 1];
        claims[recessive] = 1.0;
    } else if kind < 0.8 {
        own.0[recessive] = [0, u8::from(dice.chance(2.0 / 3.0))];
        claims[recessive] = 2.0 / 3.0;
    }
    (own, claims)
}

/// What a keeper may claim of a young animal that does not show the gene.
///
/// Given the chances that each parent hands a copy on, the chance of one copy when two are ruled
/// out: Mendel's ratio, 2 in 3 from two hets, 1 in 2 from one.
pub(super) fn claims(
    own: &Genotype,
    sire: (&Genotype, &Claims),
    dam: (&Genotype, &Claims),
) -> Claims {
    let mut claims = Claims::default();
    for (at, claim) in claims.iter_mut().enumerate() {
        let hands_on = |(g, c): (&Genotype, &Claims)| if g.shows(at) { 1.0 } else { c[at] / 2.0 };
        let (s, d) = (hands_on(sire), hands_on(dam));
        if !own.shows(at) && s * d < 1.0 {
            *claim = (s + d - 2.0 * s * d) / (1.0 - s * d);
        }
    }
    claims
}

/// "Pastel Enchi 66% het Clown": what is seen, then what is claimed.
pub(super) fn label(own: &Genotype, claims: &Claims) -> String {
    let mut words = own.look();
    for (claim, locus) in claims.iter().zip(&LOCI) {
        let name = locus.alleles[0];
        if *claim > 0.99 {
            words.push(format!("het {name}"));
        } else if *claim > 0.6 {
            words.push(format!("66% het {name}"));
        } else if *claim > 0.4 {
            words.push(format!("50% het {name}"));
        }
    }
    if words.is_empty() {
        return "Normal".to_owned();
    }
    words.join(" ").split(' ').map(titled).collect::<Vec<_>>().join(" ")
}

fn titled(word: &str) -> String {
    if word == "het" {
        return word.to_owned();
    }
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
