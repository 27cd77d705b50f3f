//! Keeping the number of tracks small: dropping the hopeless, drawing together the alike.

use super::track::{State, Track};

/// Tracks with less than this share of belief are dropped, but for the likeliest of each state: a
/// date is given on condition that she grows, however unlikely that has become.
const HOPELESS: f64 = 3e-6;

/// Two neighbours are drawn together when that costs less than this: their joint share times the
/// squared distance of their means in units of their spread.
const ALIKE: f64 = 2e-4;

/// The most tracks kept of one state.
const fn most(state: State) -> usize {
    match state {
        State::Never | State::Resting => 4,
        State::Growing => 20,
        State::Stalled => 12,
        State::Resorbing => 14,
    }
}

/// Drops the hopeless, in place. Weights must sum to one and still do afterwards, nearly.
pub fn drop_hopeless(tracks: &mut Vec<Track>) {
    let mut best = [f64::MIN_POSITIVE; 5];
    for t in tracks.iter() {
        let b = &mut best[t.state as usize];
        *b = b.max(t.weight);
    }
    tracks.retain(|t| t.weight > HOPELESS || t.weight >= best[t.state as usize]);
}

/// Drops the hopeless and draws the alike together, in place.
pub fn reduce(tracks: &mut Vec<Track>) {
    drop_hopeless(tracks);
    tracks.sort_unstable_by(|a, b| a.state.cmp(&b.state).then(a.x.total_cmp(&b.x)));
    let mut kept = 0;
    let mut from = 0;
    while from < tracks.len() {
        let state = tracks[from].state;
        let to = from + tracks[from..].iter().take_while(|t| t.state == state).count();
        let n = draw_together(&mut tracks[from..to], most(state));
        tracks.copy_within(from..from + n, kept);
        kept += n;
        from = to;
    }
    tracks.truncate(kept);
}

/// How many neighbours in order of size a track is compared with.
const REACH: usize = 5;

/// How much more a merger may cost on the next pass, when too many tracks are left.
const PATIENCE: f64 = 4.0;

/// Draws together tracks of one state, sorted by size, until few enough are left; returns how many,
/// at the front.
fn draw_together(tracks: &mut [Track], most: usize) -> usize {
    let mut n = tracks.len();
    let mut limit = ALIKE;
    loop {
        for i in 0..n {
            if tracks[i].weight <= 0.0 {
                continue;
            }
            for j in i + 1..n.min(i + 1 + REACH) {
                if tracks[j].weight > 0.0
                    && may_cost_less(&tracks[i], &tracks[j], limit)
                    && cost(&tracks[i], &tracks[j]) < limit
                {
                    let other = tracks[j];
                    tracks[i].absorb(&other);
                    tracks[j].weight = 0.0;
                }
            }
        }
        let mut kept = 0;
        for i in 0..n {
            if tracks[i].weight > 0.0 {
                tracks[kept] = tracks[i];
                kept += 1;
            }
        }
        n = kept;
        if n <= most || limit > 1e9 {
            return n.max(1).min(tracks.len());
        }
        limit *= PATIENCE;
    }
}

/// A quick look that spares most of the reckoning: the sizes alone may already cost too much.
fn may_cost_less(a: &Track, b: &Track, limit: f64) -> bool {
    let dx = b.x - a.x;
    a.weight * b.weight * dx * dx < limit * 0.5 * (a.xx + b.xx) * (a.weight + b.weight)
}

/// What is lost by drawing two together: the smaller the shares and the closer the Gaussians, the
/// less. In the manner of Salmond (1990) and Runnalls (2007), without the logarithms.
fn cost(a: &Track, b: &Track) -> f64 {
    let share = a.weight * b.weight / (a.weight + b.weight);
    let xx = 0.5 * (a.xx + b.xx);
    let dx = b.x - a.x;
    let wide = (a.xx - b.xx) / xx;
    let (by, xy, yy) = match a.state {
        State::Never | State::Resting => return share * (dx * dx / xx + 0.25 * wide * wide),
        State::Growing | State::Stalled => (b.v - a.v, a.xv + b.xv, a.vv + b.vv),
        State::Resorbing => (b.peak - a.peak, a.xp + b.xp, a.pp + b.pp),
    };
    let (xy, yy) = (0.5 * xy, 0.5 * yy);
    let det = (xx * yy - xy * xy).max(1e-3 * xx * yy);
    let apart = (dx * dx * yy - 2.0 * dx * by * xy + by * by * xx) / det;
    share * (apart + 0.25 * wide * wide)
}
