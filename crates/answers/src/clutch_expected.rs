//! "What will lie in the incubator, and what will come out?"

use genetics::Target;
use genetics::chances::{Among, ClutchSize, ClutchView, Laying, PairBelief, TargetTooTangled};
use genetics::{Catalogue, Label, Sex};
use records::Colony;
use units::Probability;

/// Share of eggs that hatch, captive: 81 % (Morrill et al. 2011, Herpetological Review 42:226).
const USUAL_HATCH_RATE: f64 = 0.81;
/// How many eggs the usual rate counts for beside the room's own; our own choice: a few clutches of
/// hers outweigh it, one clutch does not.
const USUAL_COUNTS_FOR: f64 = 30.0;
/// How many eggs the room's rate counts for beside her own; our own choice.
const ROOM_COUNTS_FOR: f64 = 30.0;

/// How many fertile eggs hatch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HatchRate {
    /// The share that is reckoned with, apart from genes.
    pub rate: f64,
    /// Hatchlings and fertile eggs of her clutches so far.
    pub hers: (u32, u32),
    /// The same of all clutches of the room.
    pub room: (u32, u32),
}

impl Default for HatchRate {
    /// Of a room that has no clutch yet.
    fn default() -> Self {
        Self { rate: USUAL_HATCH_RATE, hers: (0, 0), room: (0, 0) }
    }
}

/// The share of her fertile eggs that hatches: hers drawn towards the room's, the room's towards
/// the usual one (docs/methods/chances.md). Only clutches of which eggs and hatchlings are counted
/// say something.
#[must_use]
pub fn hatch_rate(colony: &Colony, her: Option<usize>) -> HatchRate {
    let (mut hers, mut room) = ((0, 0), (0, 0));
    for clutch in &colony.clutches {
        let counted = clutch.hatched.as_ref().and_then(|h| h.what).zip(clutch.eggs);
        let Some((hatchlings, eggs)) = counted else { continue };
        let fertile = u32::from(eggs.saturating_sub(clutch.slugs.unwrap_or(0)));
        // Twins, or a slip of the pen: no egg gives more than one here.
        let hatched = u32::from(hatchlings).min(fertile);
        room = (room.0 + hatched, room.1 + fertile);
        if Some(clutch.female) == her {
            hers = (hers.0 + hatched, hers.1 + fertile);
        }
    }
    let drawn = |(hatched, fertile): (u32, u32), towards: f64, counts_for: f64| {
        (f64::from(hatched) + towards * counts_for) / (f64::from(fertile) + counts_for)
    };
    let rooms = drawn(room, USUAL_HATCH_RATE, USUAL_COUNTS_FOR);
    HatchRate { rate: drawn(hers, rooms, ROOM_COUNTS_FOR), hers, room }
}

/// What is expected of one look.
#[derive(Clone, Debug, PartialEq)]
pub struct KindShown {
    /// Catalogue names of what is seen, sorted; empty looks normal.
    pub look: Vec<String>,
    /// Fertile eggs expected.
    pub laid: f64,
    /// Hatchlings expected; those of which it is not known whether they hatch among them.
    pub hatched: f64,
    /// Chance that no hatchling of the clutch looks so.
    pub none: f64,
    /// Sons and daughters expected to hatch, where the two differ.
    pub sexes: Option<(f64, f64)>,
}

/// The wish in the clutch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WishInClutch {
    /// Hatchlings expected that fit.
    pub expected: f64,
    /// Chance that none fits.
    pub none: f64,
    /// Chance that none fits, should none of those hatch of which it is not known.
    pub none_known: f64,
}

/// The clutch that is expected.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchShown {
    /// Fertile eggs expected.
    pub eggs: f64,
    /// Hatchlings expected.
    pub hatchlings: f64,
    /// The likeliest looks, likeliest first.
    pub kinds: Vec<KindShown>,
    /// The wish, where one was asked.
    pub wish: Option<WishInClutch>,
}

/// The clutch of a pair. `eggs` are fertile eggs, of which the share `hatch_rate` hatches.
///
/// # Errors
/// [`TargetTooTangled`] as for [`crate::pair_chances::pair_chances`].
pub fn clutch_expected(
    pair: &PairBelief<'_>,
    eggs: &ClutchSize,
    hatch_rate: f64,
    wish: Option<&Target>,
    most: usize,
) -> Result<ClutchShown, TargetTooTangled> {
    let hatch_rate = Probability::clamped(hatch_rate);
    let laying = Laying { eggs: eggs.clone(), fertility: Probability::clamped(1.0), hatch_rate };
    let all = pair.clutch_view(&laying, most, Among::All)?;
    let sexes = if depends_on_sex(pair) {
        let of = |sex| pair.clutch_view(&laying, most, Among::Only(sex));
        Some((of(Sex::Male)?, of(Sex::Female)?))
    } else {
        None
    };
    let hatching = |view: &ClutchView<'_>, look: &[&str]| {
        view.kinds.iter().find(|k| k.outcome.look == look).map_or(0.0, |k| k.hatched)
    };
    let kinds = all.kinds.iter().map(|kind| {
        let look = &kind.outcome.look;
        KindShown {
            look: look.iter().map(|word| (*word).to_owned()).collect(),
            laid: kind.laid,
            hatched: kind.hatched,
            none: 1.0 - kind.at_least_one,
            sexes: sexes
                .as_ref()
                .map(|(sons, daughters)| (hatching(sons, look), hatching(daughters, look)))
                .filter(|(sons, daughters)| (sons - daughters).abs() > 1e-9),
        }
    });
    let wish = wish.map(|wish| wish_in(pair, &laying, wish));
    Ok(ClutchShown {
        eggs: all.eggs,
        hatchlings: all.hatchlings,
        kinds: kinds.collect(),
        wish: wish.transpose()?,
    })
}

fn wish_in(
    pair: &PairBelief<'_>,
    laying: &Laying,
    wish: &Target,
) -> Result<WishInClutch, TargetTooTangled> {
    let found = pair.in_clutch(wish, laying, Among::All, 1)?;
    let none_known = match pair.hatching_unknown() {
        None => found.miss,
        Some(doubted) => {
            let known = Target::All(vec![wish.clone(), doubted.negated()]);
            pair.in_clutch(&known, laying, Among::All, 1)?.miss
        }
    };
    Ok(WishInClutch { expected: found.expected, none: found.miss, none_known })
}

/// The wish alone, as [`clutch_expected`] has it.
///
/// # Errors
/// As [`clutch_expected`].
pub fn wish_in_clutch(
    pair: &PairBelief<'_>,
    eggs: &ClutchSize,
    hatch_rate: f64,
    wish: &Target,
) -> Result<WishInClutch, TargetTooTangled> {
    let (fertility, hatch_rate) = (Probability::clamped(1.0), Probability::clamped(hatch_rate));
    wish_in(pair, &Laying { eggs: eggs.clone(), fertility, hatch_rate }, wish)
}

/// The same for two labels.
///
/// # Errors
/// As [`clutch_expected`].
pub fn clutch_of_labels(
    catalogue: &Catalogue,
    (sire, dam): (&Label, &Label),
    eggs: (&ClutchSize, f64),
    wish: Option<&Target>,
    most: usize,
) -> Result<ClutchShown, TargetTooTangled> {
    clutch_expected(&PairBelief::from_labels(catalogue, sire, dam), eggs.0, eggs.1, wish, most)
}

/// Whether young of both sexes may differ in what they show.
fn depends_on_sex(pair: &PairBelief<'_>) -> bool {
    pair.loci().iter().any(|at| {
        let of = |sex| pair.young_at(at.locus, Among::Only(sex));
        of(Sex::Male) != of(Sex::Female)
    })
}
