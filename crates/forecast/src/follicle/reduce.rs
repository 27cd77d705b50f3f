//! Keeping the number of tracks small: dropping the hopeless, drawing together the alike.

use super::track::{State, Track};

/// Tracks with less than this share of belief are dropped, but for the likeliest of each state: a
/// date is given on condition that she grows, however unlikely that has become.
const HOPELESS: f64 = 1e-6;

/// Two neighbours are drawn together when that costs less than this: their joint share times the
/// squared distance of their means in units of their spread.
const ALIKE: f64 = 4e-4;

/// The most tracks kept of one state.
const fn most(state: State) -> usize {
    match state {
        State::Never | State::Resting => 3,
        State::Growing => 12,
        State::Stalled => 7,
        State::Resorbing => 5,
    }
}

/// Drops and draws together, in place. Weights must sum to one and still do afterwards, nearly.
pub fn reduce(tracks: &mut Vec<Track>) {
    let mut best = [f64::MIN_POSITIVE; 5];
    for t in tracks.iter() {
        let b = &mut best[t.state as usize];
        *b = b.max(t.weight);
    }
    tracks.retain(|t| t.weight > HOPELESS || t.weight >= best[t.state as usize]);
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

/// Draws together neighbours among tracks of one state, sorted by size; returns how many are left,
/// at the front.
fn draw_together(tracks: &mut [Track], most: usize) -> usize {
    let mut n = 1;
    for i in 1..tracks.len() {
        let next = tracks[i];
        if cost(&tracks[n - 1], &next) < ALIKE {
            tracks[n - 1].absorb(&next);
        } else {
            tracks[n] = next;
            n += 1;
        }
    }
    while n > most {
        let cheapest = (1..n)
            .map(|i| (cost(&tracks[i - 1], &tracks[i]), i))
            .fold((f64::INFINITY, 1), |best, c| if c.0 < best.0 { c } else { best });
        let i = cheapest.1;
        let next = tracks[i];
        tracks[i - 1].absorb(&next);
        tracks.copy_within(i + 1..n, i);
        n -= 1;
    }
    n
}

/// What is lost by drawing two together: the smaller the shares and the closer the Gaussians, the
/// less. In the manner of Salmond (1990) and Runnalls (2007), without the logarithms.
fn cost(a: &Track, b: &Track) -> f64 {
    let share = a.weight * b.weight / (a.weight + b.weight);
    let xx = 0.5 * (a.xx + b.xx);
    let dx = b.x - a.x;
    let wide = (a.xx - b.xx) / xx;
    let apart = match a.state {
        State::Never | State::Resting => dx * dx / xx,
        State::Growing | State::Stalled => {
            let (xv, vv) = (0.5 * (a.xv + b.xv), 0.5 * (a.vv + b.vv));
            let dv = b.v - a.v;
            let det = (xx * vv - xv * xv).max(1e-3 * xx * vv);
            (dx * dx * vv - 2.0 * dx * dv * xv + dv * dv * xx) / det
        }
        State::Resorbing => {
            let dp = b.peak - a.peak;
            dx * dx / xx + dp * dp / (0.5 * (a.pp + b.pp))
        }
    };
    share * (apart + 0.25 * wide * wide)
}
