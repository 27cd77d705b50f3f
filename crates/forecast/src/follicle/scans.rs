//! The plain case: one growing track, seen by scans only.

use super::number::Number;
use super::track::Track;

/// Follows scans: weeks since the start (ascending), size in mm, and by how much more than her rate
/// lets expect she grew since the scan before, mm. `error` is the
/// variance of one scan's own error and of the error an evening shares, mm²; scans of one evening
/// are averaged. Returns the logarithm of the likelihood and the track after the last scan.
///
/// The Kalman filter (Kalman 1960) of `dx = v dt + wobble dW` with an unknown constant rate.
pub fn filter<S: Number>(
    start: Track<S>,
    wobble: S,
    [own, shared]: [S; 2],
    scans: impl Iterator<Item = (f64, f64, S)>,
) -> (S, Track<S>) {
    let mut scans = scans.peekable();
    let (mut track, mut weeks) = (start, 0.0);
    // Logarithms are dear: densities are gathered as an exponent and a product.
    let (mut exponent, mut product, mut ln) = (S::of(0.0), S::of(1.0), S::of(0.0));
    while let Some((at, size, grown)) = scans.next() {
        track.grow(at - weeks, wobble);
        track.x += grown;
        weeks = at;
        let (mut sum, mut n) = (size, 1.0);
        while let Some((_, more, _)) = scans.next_if(|(next, ..)| *next == at) {
            sum += more;
            n += 1.0;
        }
        let total = track.xx + own / n + shared;
        let off = S::of(sum / n) - track.x;
        let per = S::of(1.0) / total;
        track.pull(off * per, per);
        exponent -= off * off * per * 0.5;
        product *= total * std::f64::consts::TAU;
        if !(1e-200..=1e200).contains(&product.value()) {
            ln -= product.ln() * 0.5;
            product = S::of(1.0);
        }
    }
    (exponent + ln - product.ln() * 0.5, track)
}
