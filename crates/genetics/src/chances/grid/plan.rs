//! A target read once for all pairs.

use super::Connected;
use super::leaf::{Leaf, Pair};
use super::mix::Mix;
use crate::belief::Belief;
use crate::catalogue::Catalogue;
use crate::chances::clutch::ClutchSize;
use crate::chances::hits::Hits;
use crate::chances::mixture::TargetChance;
use crate::chances::pair::LocusPair;
use crate::genotype::{GenotypeSet, LocusId};
use crate::target::Target;

/// A target in which every locus stands once, so that its parts are independent in each clutch.
#[derive(Debug)]
pub(super) struct Plan {
    tree: Node,
    /// The loci at which some egg may not live.
    hatching: Vec<Leaf>,
}

#[derive(Debug)]
enum Node {
    Is(Leaf),
    All(Vec<Node>),
    Any(Vec<Node>),
}

impl Plan {
    /// None where a locus stands in several parts of the target.
    pub(super) fn new(
        catalogue: &Catalogue,
        target: &Target,
        animals: (&[Belief], &[Belief]),
        connected: &[Connected],
    ) -> Option<Self> {
        let joined = |id| connected.iter().flat_map(|pair| &pair.loci).any(|l| l.locus == id);
        let matters = |id| carried(id, animals) || joined(id);
        let lives: Vec<(LocusId, GenotypeSet)> = catalogue
            .numbered_loci()
            .map(|(id, locus)| (id, locus.lethal()))
            .filter(|(id, lethal)| *lethal != GenotypeSet::EMPTY && matters(*id))
            .map(|(id, lethal)| (id, lethal.complement()))
            .collect();
        let mut parts: Vec<Target> = lives.iter().map(|(id, set)| Target::Is(*id, *set)).collect();
        parts.push(target.clone());
        let whole = Target::All(parts).gathered();
        let mut named = 0;
        let leaf = |at| Leaf::new(catalogue, at, animals);
        let tree = node(&whole, &mut named, &leaf);
        let hatching = lives.into_iter().map(leaf).collect();
        (named == whole.loci().len()).then_some(Self { tree, hatching })
    }

    /// Whether the joints hold no genotype that nobody of the grid has.
    pub(super) fn knows(&self, joints: &[LocusPair]) -> bool {
        self.hatching.iter().all(|leaf| leaf.knows(joints)) && self.tree.knows(joints)
    }

    pub(super) fn asked(&self, clutch: &ClutchSize) -> Asked<'_> {
        Asked { plan: self, one: clutch.hits(1), weights: Vec::new(), mix: Mix::default() }
    }
}

impl Node {
    fn knows(&self, joints: &[LocusPair]) -> bool {
        match self {
            Self::Is(leaf) => leaf.knows(joints),
            Self::All(parts) | Self::Any(parts) => parts.iter().all(|part| part.knows(joints)),
        }
    }
}

fn carried(locus: LocusId, (sires, dams): (&[Belief], &[Belief])) -> bool {
    let names = |animal: &Belief| animal.loci().iter().any(|(id, _)| *id == locus);
    sires.iter().any(names) && dams.iter().any(names)
}

fn node(
    target: &Target,
    named: &mut usize,
    leaf: &impl Fn((LocusId, GenotypeSet)) -> Leaf,
) -> Node {
    match target {
        Target::Is(locus, set) => {
            *named += 1;
            Node::Is(leaf((*locus, *set)))
        }
        Target::All(parts) => Node::All(parts.iter().map(|p| node(p, named, leaf)).collect()),
        Target::Any(parts) => Node::Any(parts.iter().map(|p| node(p, named, leaf)).collect()),
    }
}

/// A plan with what is kept from pair to pair.
pub(super) struct Asked<'p> {
    plan: &'p Plan,
    one: Hits,
    weights: Vec<f64>,
    mix: Mix,
}

impl Asked<'_> {
    pub(super) fn chance(&mut self, pair: &Pair<'_>) -> TargetChance {
        let mut hatches = 1.0;
        for leaf in &self.plan.hatching {
            leaf.weigh(pair, &mut self.weights);
            hatches *= leaf.values().iter().zip(&self.weights).map(|(p, w)| p * w).sum::<f64>();
        }
        let mut mix = std::mem::take(&mut self.mix);
        mix.certain();
        times(&mut mix, &self.plan.tree, pair, false, &mut self.weights);
        let per_egg = mix.mean();
        let hit = |(p, w): &(f64, f64)| if *p > 0.0 { w * self.one.at_least(*p) } else { 0.0 };
        let at_least_one = mix.points().iter().map(hit).sum();
        self.mix = mix;
        let per_hatchling = (hatches > 0.0).then(|| (per_egg / hatches).min(1.0));
        TargetChance { per_egg, per_hatchling, at_least_one }
    }
}

/// Multiplies a mix by a node, or by its complement.
fn times(mix: &mut Mix, node: &Node, pair: &Pair<'_>, complement: bool, weights: &mut Vec<f64>) {
    let (parts, all) = match node {
        Node::Is(leaf) => {
            leaf.weigh(pair, weights);
            let points = leaf.values().iter().copied().zip(weights.iter().copied());
            return if complement {
                mix.times(points.rev().map(|(p, w)| (1.0 - p, w)));
            } else {
                mix.times(points);
            };
        }
        Node::All(parts) => (parts, true),
        Node::Any(parts) => (parts, false),
    };
    // The complement of "any" is "all" of the complements.
    if all != complement {
        parts.iter().for_each(|part| times(mix, part, pair, !all, weights));
        return;
    }
    let mut inner = Mix::default();
    inner.certain();
    parts.iter().for_each(|part| times(&mut inner, part, pair, !all, weights));
    inner.complement();
    mix.times(inner.points().iter().copied());
}
