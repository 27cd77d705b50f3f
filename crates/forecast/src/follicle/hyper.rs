//! The settings of the follicle model.

use std::fmt;

use super::number::Number;

/// How long before the opening a female who had begun by then may have begun: weeks and shares.
///
/// Our own choice: up to three months, the shorter the likelier.
pub const HEAD_STARTS: [(f64, f64); 5] =
    [(1.0, 0.30), (3.0, 0.25), (5.0, 0.20), (8.0, 0.15), (11.0, 0.10)];

/// So long growth may be another one after a seen lock, days. Our own choice.
pub const LOCK_DAYS: i32 = 14;

/// Every constant of the follicle model.
///
/// The defaults are weak priors of our own choosing, guided by common practice (growth of 1-3 mm a
/// week, ovulation at 40-45 mm: no source). A room's own records are meant to replace them.
/// Lengths are millimetres, times weeks, spreads standard deviations.
#[derive(Clone, Debug, PartialEq)]
pub struct Hyper<S = f64> {
    /// Size of follicles that have not begun: mean.
    pub rest_size: S,
    /// Size of follicles that have not begun: spread between females.
    pub rest_spread: S,
    /// Growth of a female while she grows: mean of the room, mm a week.
    pub rate: S,
    /// Spread of that rate between cycles, whoever's they are.
    pub rate_spread: S,
    /// Share of that variance that is the female's own and comes back in each of her cycles.
    pub same_female: S,
    /// What one spread more of food before the cycle opened adds to the rate, mm a week.
    pub food_effect: S,
    /// What she grows faster while she grows in the [`LOCK_DAYS`] after a seen lock, mm a week. An
    /// association: he goes in because she grows.
    pub lock_effect: S,
    /// Wobble of growth, mm per square root of a week.
    pub wobble: S,
    /// Chance that a cycle never begins.
    pub never_starts: S,
    /// Chance that a female who will begin had begun before anybody looked.
    pub begun_before: S,
    /// How long before the opening those had begun: weeks and shares, which sum to one.
    pub head_starts: [(f64, f64); 5],
    /// Chance a week that a resting female who will begin does so.
    pub start_hazard: S,
    /// Chance a week that growth stalls.
    pub stall_hazard: S,
    /// Chance a week that stalled growth goes on.
    pub restart_hazard: S,
    /// Chance a week that a growing female begins to resorb.
    pub resorb_growing_hazard: S,
    /// Chance a week that a stalled female begins to resorb.
    pub resorb_stalled_hazard: S,
    /// Share of the excess over the resting size that resorption leaves after one week.
    pub resorb_keeps: f64,
    /// Wobble of resorption, mm per square root of a week.
    pub resorb_wobble: f64,
    /// Error of one scan that is its own.
    pub scan_own: S,
    /// Error that all scans of one evening share.
    pub scan_shared: f64,
    /// Share of scans that are badly off.
    pub scan_gross: f64,
    /// How many times larger the own error of those is.
    pub scan_gross_times: f64,
    /// How many times wider than told the blur of felt classes is.
    pub felt_blur_times: S,
    /// Size at ovulation: mean.
    pub ovulation_size: S,
    /// Size at ovulation: spread between females.
    pub ovulation_spread: S,
}

impl Default for Hyper {
    fn default() -> Self {
        Self {
            rest_size: 8.0,
            rest_spread: 2.0,
            rate: 2.0,
            rate_spread: 0.7,
            same_female: 0.5,
            food_effect: 0.0,
            lock_effect: 0.0,
            wobble: 0.5,
            never_starts: 0.25,
            begun_before: 0.5,
            head_starts: HEAD_STARTS,
            start_hazard: 0.10,
            stall_hazard: 0.05,
            restart_hazard: 0.20,
            resorb_growing_hazard: 0.015,
            resorb_stalled_hazard: 0.05,
            resorb_keeps: 0.80,
            resorb_wobble: 1.2,
            scan_own: 1.3,
            scan_shared: 0.75,
            scan_gross: 0.05,
            scan_gross_times: 3.5,
            felt_blur_times: 1.0,
            ovulation_size: 42.0,
            ovulation_spread: 3.0,
        }
    }
}

/// A setting outside the range in which the model means anything.
#[derive(Clone, Debug, PartialEq)]
pub struct HyperError {
    /// Name of the setting.
    pub setting: &'static str,
    /// The value refused.
    pub value: f64,
    /// Lowest value allowed.
    pub low: f64,
    /// Highest value allowed.
    pub high: f64,
}

impl fmt::Display for HyperError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { setting, value, low, high } = self;
        write!(f, "{setting} is {value}: give a number from {low} to {high}")
    }
}

impl std::error::Error for HyperError {}

impl<S: Number> Hyper<S> {
    /// Whether nothing but growth can happen: then a cycle is one track, and no mark changes it.
    #[must_use]
    pub fn is_plain_growth(&self) -> bool {
        let hazards = self.stall_hazard.value() + self.resorb_growing_hazard.value();
        let head = self.head_starts.iter().all(|(weeks, _)| *weeks == 0.0);
        self.never_starts.value() == 0.0
            && self.begun_before.value() == 1.0
            && head
            && hazards == 0.0
    }
}

impl Hyper {
    /// The same in other numbers, none of which a setting moves.
    #[must_use]
    pub fn lifted<S: Number>(&self) -> Hyper<S> {
        Hyper {
            rest_size: S::of(self.rest_size),
            rest_spread: S::of(self.rest_spread),
            rate: S::of(self.rate),
            rate_spread: S::of(self.rate_spread),
            same_female: S::of(self.same_female),
            food_effect: S::of(self.food_effect),
            lock_effect: S::of(self.lock_effect),
            wobble: S::of(self.wobble),
            never_starts: S::of(self.never_starts),
            begun_before: S::of(self.begun_before),
            head_starts: self.head_starts,
            start_hazard: S::of(self.start_hazard),
            stall_hazard: S::of(self.stall_hazard),
            restart_hazard: S::of(self.restart_hazard),
            resorb_growing_hazard: S::of(self.resorb_growing_hazard),
            resorb_stalled_hazard: S::of(self.resorb_stalled_hazard),
            resorb_keeps: self.resorb_keeps,
            resorb_wobble: self.resorb_wobble,
            scan_own: S::of(self.scan_own),
            scan_shared: self.scan_shared,
            scan_gross: self.scan_gross,
            scan_gross_times: self.scan_gross_times,
            felt_blur_times: S::of(self.felt_blur_times),
            ovulation_size: S::of(self.ovulation_size),
            ovulation_spread: S::of(self.ovulation_spread),
        }
    }

    /// Checks every setting.
    ///
    /// # Errors
    /// [`HyperError`] for the first setting that is out of range.
    pub fn check(&self) -> Result<(), HyperError> {
        let within = |setting, value: f64, low: f64, high: f64| {
            if (low..=high).contains(&value) {
                Ok(())
            } else {
                Err(HyperError { setting, value, low, high })
            }
        };
        within("rest_size", self.rest_size, 1.0, 30.0)?;
        within("rest_spread", self.rest_spread, 0.05, 20.0)?;
        within("rate", self.rate, 0.05, 20.0)?;
        within("rate_spread", self.rate_spread, 0.001, 10.0)?;
        within("same_female", self.same_female, 0.0, 1.0)?;
        within("food_effect", self.food_effect, -2.0, 2.0)?;
        within("lock_effect", self.lock_effect, -2.0, 2.0)?;
        within("felt_blur_times", self.felt_blur_times, 0.1, 10.0)?;
        within("wobble", self.wobble, 0.01, 10.0)?;
        within("never_starts", self.never_starts, 0.0, 1.0)?;
        within("begun_before", self.begun_before, 0.0, 1.0)?;
        within("start_hazard", self.start_hazard, 0.0, 1.0)?;
        within("stall_hazard", self.stall_hazard, 0.0, 0.5)?;
        within("restart_hazard", self.restart_hazard, 0.0, 0.5)?;
        within("resorb_growing_hazard", self.resorb_growing_hazard, 0.0, 0.5)?;
        within("resorb_stalled_hazard", self.resorb_stalled_hazard, 0.0, 0.5)?;
        within("resorb_keeps", self.resorb_keeps, 0.01, 0.99)?;
        within("resorb_wobble", self.resorb_wobble, 0.01, 10.0)?;
        within("scan_own", self.scan_own, 0.05, 10.0)?;
        within("scan_shared", self.scan_shared, 0.0, 10.0)?;
        within("scan_gross", self.scan_gross, 0.0, 0.5)?;
        within("scan_gross_times", self.scan_gross_times, 1.0, 20.0)?;
        within("ovulation_size", self.ovulation_size, 10.0, 100.0)?;
        within("ovulation_spread", self.ovulation_spread, 0.05, 20.0)
    }
}
