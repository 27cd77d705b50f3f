//! The plain case: one growing track, seen by scans only.

use super::track::Track;

/// Follows scans: weeks since the start (ascending), size in mm, and by how much more than her rate
/// lets expect she grew since the scan before, mm. `error` is the
/// variance of one scan's own error and of the error an evening shares, mm²; scans of one evening
/// are averaged. Returns the logarithm of the likelihood and the track after the last scan.
///
/// The Kalman filter (Kalman 1960) of `dx = v dt + wobble dW` with an unknown constant rate.
pub fn filter(
    start: Track,
    wobble: f64,
    [own, shared]: [f64; 2],
    scans: impl Iterator<Item = (f64, f64, f64)>,
) -> (f64, Track) {
    let mut scans = scans.peekable();
    let (mut track, mut weeks) = (start, 0.0);
    // Logarithms are dear: densities are gathered as an exponent and a product.
    let (mut exponent, mut product, mut ln) = (0.0, 1.0, 0.0);
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
        let off = sum / n - track.x;
        track.pull(off / total, 1.0 / total);
        exponent -= 0.5 * off * off / total;
        product *= std::f64::consts::TAU * total;
        if !(1e-200..=1e200).contains(&product) {
            ln -= 0.5 * product.ln();
            product = 1.0;
        }
    }
    (exponent + ln - 0.5 * product.ln(), track)
}
