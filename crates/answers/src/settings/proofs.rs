//! What is taken for granted of sires in doubt, and what a proof costs here.

use units::Probability;

/// Who else may have fathered a clutch than the males that were with her.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SireRules {
    /// Chance that sperm kept from the season before fathered it.
    pub stored: Probability,
    /// Chance that a male nobody wrote down did.
    pub unknown: Probability,
    /// Chance that she had it without a male.
    pub alone: Probability,
    /// Chance that two shared it, where there are two.
    pub two: Probability,
    /// Share of a dam's unlike copies that her young without a sire keep.
    pub kept: Probability,
}

impl Default for SireRules {
    /// Our own choices, no source: no count of clutches by stored sperm, of two sires, or without
    /// one is known for ball pythons. Parthenogenesis by terminal fusion is (Booth et al. 2014): it
    /// leaves hardly any unlike copies.
    fn default() -> Self {
        Self {
            stored: Probability::clamped(0.03),
            unknown: Probability::clamped(0.01),
            alone: Probability::clamped(0.002),
            two: Probability::clamped(0.05),
            kept: Probability::ZERO,
        }
    }
}

/// What a proof costs, in the keeper's money; none is known until it is set.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ProofCosts {
    /// One result of a laboratory.
    pub lab: Option<f64>,
    /// One season of a female that is spent on a test pair.
    pub season: Option<f64>,
}
