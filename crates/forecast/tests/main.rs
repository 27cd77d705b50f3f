//! Tests of the forecasts against something outside them.
//!
//! - `published`: values from scipy, statsmodels and filterpy
//! - `many_females`: filter, felt classes and fit against filterpy, statsmodels, scipy and lme4
//! - `oracle`: the dense grid of the testkit, over random cycles
//! - `keepers`: rules of thumb and what a keeper would expect
//! - `properties`: what must hold for any input
//! - `cycles`: where one cycle ends and the next opens
//! - `fit`: learned growth against the dense normal distribution
//! - `chain`: from ovulation to the first meal of the young
//! - `clutch`: eggs, slugs and hatchlings, against published means, sums and moments
//! - `incubation`: rows of the Reptile Development Database, and what is derived from them
//! - `durations`: durations that learn, against scipy and by hand
//! - `scan_worth`: what a look would tell, against thousands of made-up females
//! - `weight_trend`: a robust line through weights, against statsmodels
//! - `calibration`: scores of forecasts against scipy, statsmodels, scikit-learn and numpy
//! - `slopes`: derivatives of what is learned from, against differences
//! - `effects`: regressions, rates and survival against general-purpose libraries

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up should stop")]

mod calibration;
mod chain;
mod clutch;
mod cycles;
mod durations;
mod effects;
mod fit;
mod incubation;
mod keepers;
mod many_females;
mod oracle;
mod properties;
mod published;
mod rooms;
mod scan_worth;
mod slopes;
mod weight_trend;
