//! What is learned of a room, and what is believed of it before anything is seen.

use crate::follicle::hyper::Hyper;
use crate::follicle::number::Number;

/// One setting that is learned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Parameter {
    /// Size of follicles that have not begun: mean.
    RestSize,
    /// Spread of that between cycles.
    RestSpread,
    /// Mean rate of growth of the room.
    Rate,
    /// Spread of the rate between females.
    FemaleSpread,
    /// Spread of the rate between cycles of one female.
    SeasonSpread,
    /// Wobble of growth.
    Wobble,
    /// Chance that a cycle never begins.
    NeverStarts,
    /// Chance that one that begins had begun before anybody looked.
    BegunBefore,
    /// Chance a week to begin.
    StartHazard,
    /// Chance a week to stall.
    StallHazard,
    /// Chance a week that a stall ends.
    RestartHazard,
    /// Chance a week to resorb while growing.
    ResorbGrowing,
    /// Chance a week to resorb while stalled.
    ResorbStalled,
    /// Error of one scan.
    ScanOwn,
    /// How many times wider than told felt classes are blurred.
    FeltBlur,
    /// Size at ovulation: mean.
    OvulationSize,
    /// Spread of that between cycles.
    OvulationSpread,
    /// Effect of food before the cycle on the rate.
    Food,
    /// How much faster growth is after a seen lock.
    Lock,
}

/// On which scale a setting is learned.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Scale {
    Plain,
    Log,
    /// Logarithm of the odds.
    Odds,
}

/// A normal distribution on the scale on which a setting is learned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub spread: f64,
}

/// Chances a week stay below this, so that what may happen in one week never sums beyond one.
const HIGHEST_HAZARD: f64 = 0.5;

impl Parameter {
    /// Every one, in the order in which they are reported.
    pub const ALL: [Self; 19] = [
        Self::Rate,
        Self::FemaleSpread,
        Self::SeasonSpread,
        Self::Wobble,
        Self::Food,
        Self::Lock,
        Self::ScanOwn,
        Self::FeltBlur,
        Self::OvulationSize,
        Self::OvulationSpread,
        Self::RestSize,
        Self::RestSpread,
        Self::NeverStarts,
        Self::BegunBefore,
        Self::StartHazard,
        Self::StallHazard,
        Self::RestartHazard,
        Self::ResorbGrowing,
        Self::ResorbStalled,
    ];

    /// What it is, and its unit.
    #[must_use]
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Rate => ("growth of follicles", "mm a week"),
            Self::FemaleSpread => ("how growth differs from female to female", "mm a week"),
            Self::SeasonSpread => ("how it differs from cycle to cycle of one female", "mm a week"),
            Self::Wobble => ("unevenness of growth", "mm in a week"),
            Self::Food => ("growth that goes with clearly more food before the cycle", "mm a week"),
            Self::Lock => {
                ("growth in the two weeks after a seen lock, more than else", "mm a week")
            }
            Self::ScanOwn => ("error of one scan", "mm"),
            Self::FeltBlur => ("blur of felt sizes, against what was told", "times"),
            Self::OvulationSize => ("size at ovulation", "mm"),
            Self::OvulationSpread => ("how that differs from female to female", "mm"),
            Self::RestSize => ("size before follicles begin", "mm"),
            Self::RestSpread => ("how that differs from female to female", "mm"),
            Self::NeverStarts => ("cycles that never begin", ""),
            Self::BegunBefore => ("begun before the first check, of those that begin", ""),
            Self::StartHazard => ("chance to begin", "a week"),
            Self::StallHazard => ("chance to stall", "a week"),
            Self::RestartHazard => ("chance that a stall ends", "a week"),
            Self::ResorbGrowing => ("chance to go back while growing", "a week"),
            Self::ResorbStalled => ("chance to go back while stalled", "a week"),
        }
    }

    /// The weak prior. Means are [`Hyper::default`]'s, spreads of our own choosing; see there for
    /// what guides them.
    #[must_use]
    pub fn prior(self) -> Prior {
        let spread = match self {
            Self::RestSize => 3.0,
            Self::OvulationSize => 2.5,
            Self::Food | Self::Lock => 0.15,
            Self::ScanOwn | Self::OvulationSpread => 0.3,
            Self::RestSpread | Self::FeltBlur => 0.4,
            Self::Rate | Self::FemaleSpread | Self::SeasonSpread | Self::Wobble => 0.5,
            Self::StartHazard => 0.5,
            Self::NeverStarts | Self::BegunBefore => 0.6,
            Self::StallHazard | Self::RestartHazard => 0.6,
            Self::ResorbGrowing | Self::ResorbStalled => 0.7,
        };
        Prior { mean: self.read(&Hyper::default()), spread }
    }

    const fn scale(self) -> Scale {
        match self {
            Self::RestSize | Self::Rate | Self::OvulationSize | Self::Food | Self::Lock => {
                Scale::Plain
            }
            Self::NeverStarts | Self::BegunBefore => Scale::Odds,
            _ => Scale::Log,
        }
    }

    /// The setting's own value at a place on the scale on which it is learned.
    #[must_use]
    pub fn value<S: Number>(self, at: S) -> S {
        match self.scale() {
            Scale::Plain => at,
            Scale::Log if self.is_hazard() => at.exp().at_most(HIGHEST_HAZARD),
            Scale::Log => at.exp(),
            Scale::Odds => S::of(1.0) / ((-at).exp() + 1.0),
        }
    }

    /// The place beyond which it changes nothing; infinite where there is none.
    pub(super) fn edge(self) -> f64 {
        if self.is_hazard() { HIGHEST_HAZARD.ln() } else { f64::INFINITY }
    }

    const fn is_hazard(self) -> bool {
        matches!(
            self,
            Self::StartHazard
                | Self::StallHazard
                | Self::RestartHazard
                | Self::ResorbGrowing
                | Self::ResorbStalled
        )
    }

    /// Where it stands, on the scale on which it is learned.
    #[must_use]
    pub fn read(self, h: &Hyper) -> f64 {
        let value = match self {
            Self::RestSize => h.rest_size,
            Self::RestSpread => h.rest_spread,
            Self::Rate => h.rate,
            Self::FemaleSpread => h.rate_spread * h.same_female.sqrt(),
            Self::SeasonSpread => h.rate_spread * (1.0 - h.same_female).sqrt(),
            Self::Wobble => h.wobble,
            Self::NeverStarts => h.never_starts,
            Self::BegunBefore => h.begun_before,
            Self::StartHazard => h.start_hazard,
            Self::StallHazard => h.stall_hazard,
            Self::RestartHazard => h.restart_hazard,
            Self::ResorbGrowing => h.resorb_growing_hazard,
            Self::ResorbStalled => h.resorb_stalled_hazard,
            Self::ScanOwn => h.scan_own,
            Self::FeltBlur => h.felt_blur_times,
            Self::OvulationSize => h.ovulation_size,
            Self::OvulationSpread => h.ovulation_spread,
            Self::Food => h.food_effect,
            Self::Lock => h.lock_effect,
        };
        match self.scale() {
            Scale::Plain => value,
            Scale::Log => value.ln(),
            Scale::Odds => (value / (1.0 - value)).ln(),
        }
    }

    /// Sets it to a place on the scale on which it is learned; what would lie outside the model's
    /// range is drawn to its edge.
    pub fn write<S: Number>(self, h: &mut Hyper<S>, at: S) {
        let value = self.value(at);
        let within = |low: f64, high: f64| value.at_least(low).at_most(high);
        match self {
            Self::RestSize => h.rest_size = within(1.0, 30.0),
            Self::RestSpread => h.rest_spread = within(0.05, 20.0),
            Self::Rate => h.rate = within(0.05, 20.0),
            Self::FemaleSpread => {
                let season = h.same_female.rest() * h.rate_spread * h.rate_spread;
                set_spreads(h, value * value, season);
            }
            Self::SeasonSpread => {
                let female = h.same_female * h.rate_spread * h.rate_spread;
                set_spreads(h, female, value * value);
            }
            Self::Wobble => h.wobble = within(0.01, 10.0),
            Self::NeverStarts => h.never_starts = value,
            Self::BegunBefore => h.begun_before = value,
            Self::StartHazard => h.start_hazard = value,
            Self::StallHazard => h.stall_hazard = value,
            Self::RestartHazard => h.restart_hazard = value,
            Self::ResorbGrowing => h.resorb_growing_hazard = value,
            Self::ResorbStalled => h.resorb_stalled_hazard = value,
            Self::ScanOwn => h.scan_own = within(0.05, 10.0),
            Self::FeltBlur => h.felt_blur_times = within(0.1, 10.0),
            Self::OvulationSize => h.ovulation_size = within(10.0, 100.0),
            Self::OvulationSpread => h.ovulation_spread = within(0.05, 20.0),
            Self::Food => h.food_effect = within(-2.0, 2.0),
            Self::Lock => h.lock_effect = within(-2.0, 2.0),
        }
    }
}

/// From the variances of the rate between females and between cycles of one.
fn set_spreads<S: Number>(h: &mut Hyper<S>, female: S, season: S) {
    let total = (female + season).at_least(1e-6).at_most(100.0);
    h.rate_spread = total.sqrt();
    h.same_female = (female / total).at_least(0.0).at_most(1.0);
}
