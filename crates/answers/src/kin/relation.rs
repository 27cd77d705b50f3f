//! Relations that have a name.

use records::Sex;

/// What one animal is to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// The animal itself.
    Itself,
    /// Sire or dam.
    Parent,
    /// Son or daughter.
    Young,
    /// Both parents are the same.
    FullSib,
    /// One parent is the same.
    HalfSib,
    /// Parent of a parent.
    Grandparent,
    /// Young of a young.
    Grandyoung,
    /// Full sib of a parent.
    Uncle,
    /// Half sib of a parent.
    HalfUncle,
    /// Young of a full sib.
    Nephew,
    /// Young of a half sib.
    HalfNephew,
    /// Parent of a grandparent.
    GreatGrandparent,
    /// Young of a grandyoung.
    GreatGrandyoung,
    /// A parent of one and a parent of the other are full sibs.
    FirstCousin,
    /// A parent of one and a parent of the other are half sibs.
    HalfCousin,
}

impl Relation {
    /// The word for it, such as "sire", "half brother", "first cousin".
    #[must_use]
    pub const fn word(self, sex: Option<Sex>) -> &'static str {
        match (self, sex) {
            (Self::Itself, _) => "same animal",
            (Self::Parent, Some(Sex::Male)) => "sire",
            (Self::Parent, Some(Sex::Female)) => "dam",
            (Self::Parent, None) => "parent",
            (Self::Young, Some(Sex::Male)) => "son",
            (Self::Young, Some(Sex::Female)) => "daughter",
            (Self::Young, None) => "young",
            (Self::FullSib, Some(Sex::Male)) => "full brother",
            (Self::FullSib, Some(Sex::Female)) => "full sister",
            (Self::FullSib, None) => "full sib",
            (Self::HalfSib, Some(Sex::Male)) => "half brother",
            (Self::HalfSib, Some(Sex::Female)) => "half sister",
            (Self::HalfSib, None) => "half sib",
            (Self::Grandparent, Some(Sex::Male)) => "grandsire",
            (Self::Grandparent, Some(Sex::Female)) => "granddam",
            (Self::Grandparent, None) => "grandparent",
            (Self::Grandyoung, Some(Sex::Male)) => "grandson",
            (Self::Grandyoung, Some(Sex::Female)) => "granddaughter",
            (Self::Grandyoung, None) => "young of a young",
            (Self::Uncle, Some(Sex::Male)) => "uncle",
            (Self::Uncle, Some(Sex::Female)) => "aunt",
            (Self::Uncle, None) => "full sib of a parent",
            (Self::HalfUncle, Some(Sex::Male)) => "half uncle",
            (Self::HalfUncle, Some(Sex::Female)) => "half aunt",
            (Self::HalfUncle, None) => "half sib of a parent",
            (Self::Nephew, Some(Sex::Male)) => "nephew",
            (Self::Nephew, Some(Sex::Female)) => "niece",
            (Self::Nephew, None) => "young of a full sib",
            (Self::HalfNephew, Some(Sex::Male)) => "half nephew",
            (Self::HalfNephew, Some(Sex::Female)) => "half niece",
            (Self::HalfNephew, None) => "young of a half sib",
            (Self::GreatGrandparent, Some(Sex::Male)) => "great-grandsire",
            (Self::GreatGrandparent, Some(Sex::Female)) => "great-granddam",
            (Self::GreatGrandparent, None) => "great-grandparent",
            (Self::GreatGrandyoung, Some(Sex::Male)) => "great-grandson",
            (Self::GreatGrandyoung, Some(Sex::Female)) => "great-granddaughter",
            (Self::GreatGrandyoung, None) => "great-grandyoung",
            (Self::FirstCousin, _) => "first cousin",
            (Self::HalfCousin, _) => "half first cousin",
        }
    }
}

type Parents = [[Option<usize>; 2]];

/// What `other` is to `one`, the closest first. A relation that another one always brings along is
/// left out: full sibs are no half sibs as well.
pub(super) fn relations(parents: &Parents, one: usize, other: usize) -> Vec<Relation> {
    if one == other {
        return vec![Relation::Itself];
    }
    let up = |animal: usize| parents[animal].into_iter().flatten();
    let (full, half) = (
        |a: usize, b: usize| sibs(parents, a, b) == 2,
        |a: usize, b: usize| sibs(parents, a, b) == 1,
    );
    let is_parent = |of: usize, parent: usize| up(of).any(|p| p == parent);
    let is_grand = |of: usize, grand: usize| up(of).any(|p| is_parent(p, grand));
    let is_great = |of: usize, great: usize| up(of).any(|p| is_grand(p, great));
    let any_cousin = |as_sibs: &dyn Fn(usize, usize) -> bool| {
        up(one).any(|ours| up(other).any(|theirs| as_sibs(ours, theirs)))
    };
    let found = [
        (Relation::Parent, is_parent(one, other)),
        (Relation::Young, is_parent(other, one)),
        (Relation::FullSib, full(one, other)),
        (Relation::HalfSib, half(one, other)),
        (Relation::Grandparent, is_grand(one, other)),
        (Relation::Grandyoung, is_grand(other, one)),
        (Relation::Uncle, up(one).any(|p| full(p, other))),
        (Relation::Nephew, up(other).any(|p| full(p, one))),
        (Relation::HalfUncle, up(one).any(|p| half(p, other))),
        (Relation::HalfNephew, up(other).any(|p| half(p, one))),
        (Relation::GreatGrandparent, is_great(one, other)),
        (Relation::GreatGrandyoung, is_great(other, one)),
        (Relation::FirstCousin, any_cousin(&full)),
        (Relation::HalfCousin, any_cousin(&half)),
    ];
    found.into_iter().filter(|(_, is)| *is).map(|(relation, _)| relation).collect()
}

/// How many parents two animals share; 0 for an animal and itself.
fn sibs(parents: &Parents, a: usize, b: usize) -> usize {
    let same = |side: usize| parents[a][side].is_some() && parents[a][side] == parents[b][side];
    if a == b { 0 } else { usize::from(same(0)) + usize::from(same(1)) }
}
