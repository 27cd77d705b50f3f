//! How fast eggs develop by temperature, and so when a clutch hatches.

mod history;

pub use history::{GAP_DAYS, GoesBy, Incubation, Reading, SANE_CELSIUS, Source, incubate};

/// Temperature beside which rates are told, °C: that of the eggs of Ellis and Chappell (1987), which
/// took 58-70 days.
pub const BASE_CELSIUS: f64 = 29.2;
/// How much faster eggs develop at 10 °C more, up to [`FLATTENS_FROM`]: the python Liasis fuscus,
/// 80.0 days at 27.05 °C and 67.97 at 30.15 °C (Shine et al. 1997, in Noble et al. 2018).
pub const Q10: f64 = 1.69;
/// From here on heat quickens development less, °C.
pub const FLATTENS_FROM: f64 = 31.0;
/// The same above that: least squares over the four snakes with rows at 30 and at 32 or 33 °C in
/// Noble et al. (2018): Elaphe carinata, Naja atra, Ptyas dhumnades, Pituophis melanoleucus.
pub const Q10_ABOVE: f64 = 1.15;
/// The curve rests on data between these, °C: the coolest python eggs, and where fewer eggs of other
/// snakes begin to hatch.
pub const VALID: (f64, f64) = (27.0, 32.0);
/// Below or above these an incubator is looked at, °C. Our limits: hatching of other snakes' eggs
/// falls at 32-33 °C (Noble et al. 2018); set points used on 783 clutches were 30.9-31.7 °C
/// (Morrill et al. 2011).
pub const ALARM: (f64, f64) = (28.0, 33.0);

/// Rate of development beside that at [`BASE_CELSIUS`]. Outside [`VALID`] the curve goes on as it
/// was, which nothing supports: whoever shows it says so.
#[must_use]
pub fn rate(celsius: f64) -> f64 {
    let below = celsius.min(FLATTENS_FROM) - BASE_CELSIUS;
    let above = (celsius - FLATTENS_FROM).max(0.0);
    (0.1 * (Q10.ln() * below + Q10_ABOVE.ln() * above)).exp()
}
