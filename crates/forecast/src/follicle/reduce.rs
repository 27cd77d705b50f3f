//! Keeping the number of tracks small: dropping the hopeless, drawing together the alike.

use super::track::{State, Track};

/// Tracks with less than this share of belief are dropped, but for the likeliest of each state: a
/// date is given on condition that she grows, however unlikely that has become.
const HOPELESS: f64 = 3e-6;

/// Two neighbours are always drawn together when that costs less than this (see [`cost`]).
const ALIKE: f64 = 2e-4;

/// How much more a merger may cost on the next pass, when too many tracks are left.
const PATIENCE: f64 = 3.0;

/// After something was seen the first pass asks for this share of the cost that was enough before:
/// the shares have shifted, and what was alike need not be now.
const EASED: f64 = 0.25;

/// How many neighbours in order of size a track is compared with.
const REACH: usize = 3;

/// Newcomers to a state are grouped without reckoning the cost while their means lie within one
/// spread of each other (this is its square): each brings little, and against the dense grid the
/// difference did not show.
const CLOSE: f64 = 1.0;

/// The most tracks kept of one state.
const fn most(state: State) -> usize {
    match state {
        State::Never | State::Resting => 4,
        State::Growing => 16,
        State::Stalled => 10,
        State::Resorbing => 12,
    }
}

/// What a merger may cost, by state: as much as it took the last time to keep few enough tracks, so
/// that most often one pass will do.
#[derive(Clone, Copy, Debug)]
pub struct Limits([f64; 5]);

impl Default for Limits {
    fn default() -> Self {
        Self([ALIKE; 5])
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

/// Sorts tracks that are grouped by state by size within it. By insertion: they are nearly sorted.
pub fn in_order(tracks: &mut [Track]) {
    for i in 1..tracks.len() {
        let mut j = i;
        while j > 0 && is_before(&tracks[j], &tracks[j - 1]) {
            tracks.swap(j, j - 1);
            j -= 1;
        }
    }
}

/// One step towards order: enough after a week of growth, in which hardly any track overtakes two.
pub fn nearer_order(tracks: &mut [Track]) {
    for i in 1..tracks.len() {
        if is_before(&tracks[i], &tracks[i - 1]) {
            tracks.swap(i, i - 1);
        }
    }
}

fn is_before(t: &Track, other: &Track) -> bool {
    t.x < other.x && t.state == other.state
}

/// Draws the alike together after something was seen. The tracks must be in order.
pub fn thin(tracks: &mut Vec<Track>, limits: &mut Limits) {
    let (mut kept, mut from) = (0, 0);
    while from < tracks.len() {
        let state = tracks[from].state;
        let to = from + tracks[from..].iter().take_while(|t| t.state == state).count();
        let limit = &mut limits.0[state as usize];
        *limit = (*limit * EASED).max(ALIKE);
        let n = draw_together(&mut tracks[from..to], *limit);
        let n = few_enough(&mut tracks[from..from + n], limit);
        tracks.copy_within(from..from + n, kept);
        kept += n;
        from = to;
    }
    tracks.truncate(kept);
}

/// Tracks of one state, nearly in order of size, with the chance that they turn to another (or
/// stay).
#[derive(Clone, Copy, Debug)]
pub struct Turning<'a> {
    /// The tracks.
    pub tracks: &'a [Track],
    /// The chance, for each of them.
    pub chance: f64,
}

/// Appends to `into` what stays in a state or turns to it. The alike among the newcomers are drawn
/// together; those that stay were not alike before and are not now.
pub fn gather(
    state: State,
    mut turning: [Turning<'_>; 3],
    into: &mut Vec<Track>,
    limits: &mut Limits,
) {
    let start = into.len();
    let limit = &mut limits.0[state as usize];
    let mut group: Option<Track> = None;
    while let Some((t, chance)) = smallest(&mut turning) {
        let mut track = Track { weight: t.weight * chance, state, ..*t };
        if track.weight <= 0.0 {
            continue;
        }
        if t.state == state {
            into.push(track);
            continue;
        }
        if state == State::Resorbing {
            track.turn();
        }
        match &mut group {
            Some(g) if belongs(&track, g) => g.absorb(&track),
            Some(g) => {
                settle(into, start, g, *limit);
                *g = track;
            }
            None => group = Some(track),
        }
    }
    if let Some(g) = &group {
        settle(into, start, g, *limit);
    }
    let n = few_enough(&mut into[start..], limit);
    into.truncate(start + n);
}

/// Takes out the next in order of size of all that turn or stay.
fn smallest<'a>(turning: &mut [Turning<'a>; 3]) -> Option<(&'a Track, f64)> {
    let heads = turning.each_ref().map(|of| of.tracks.first().map_or(f64::INFINITY, |t| t.x));
    let first = match heads {
        [a, b, c] if a <= b && a <= c => 0,
        [_, b, c] if b <= c => 1,
        _ => 2,
    };
    let Turning { tracks, chance } = turning[first];
    let (t, rest) = tracks.split_first()?;
    turning[first].tracks = rest;
    Some((t, chance))
}

/// Whether a newcomer is taken into a group of them without a closer look.
fn belongs(t: &Track, group: &Track) -> bool {
    let (dx, dv) = (t.x - group.x, t.v - group.v);
    dx * dx < CLOSE * group.xx && (t.state == State::Resorbing || dv * dv < CLOSE * group.vv)
}

fn settle(into: &mut Vec<Track>, start: usize, track: &Track, limit: f64) {
    if !absorbed(&mut into[start..], track, limit) {
        into.push(*track);
    }
}

/// Draws tracks of one state together until few enough are left; returns how many, at the front.
fn few_enough(tracks: &mut [Track], limit: &mut f64) -> usize {
    let mut n = tracks.len();
    while n > tracks.first().map_or(0, |t| most(t.state)) && *limit < 1e9 {
        *limit *= PATIENCE;
        n = draw_together(&mut tracks[..n], *limit);
    }
    n
}

/// One pass in order of size over tracks of one state; returns how many are left, at the front.
fn draw_together(tracks: &mut [Track], limit: f64) -> usize {
    let mut kept = 0;
    for i in 0..tracks.len() {
        let track = tracks[i];
        if !absorbed(&mut tracks[..kept], &track, limit) {
            tracks[kept] = track;
            kept += 1;
        }
    }
    kept
}

/// Lets that one of the last few kept absorb the track where it costs least; false where it costs
/// too much everywhere.
fn absorbed(kept: &mut [Track], track: &Track, limit: f64) -> bool {
    let (mut least, mut best) = (limit, None);
    for near in kept.iter_mut().rev().take(REACH) {
        if may_cost_less(near, track, least) {
            let cost = cost(near, track);
            if cost < least {
                (least, best) = (cost, Some(near));
            }
        }
    }
    best.map(|near| near.absorb(track)).is_some()
}

/// A quick look that spares most of the reckoning: the sizes alone may already cost too much.
fn may_cost_less(a: &Track, b: &Track, limit: f64) -> bool {
    let dx = b.x - a.x;
    2.0 * a.weight * b.weight * dx * dx < limit * (a.xx + b.xx) * (a.weight + b.weight)
}

/// What is lost by drawing two together: their joint share times the squared distance of their
/// means in units of their spread, and of the spreads. In the manner of Salmond (1990) and Runnalls
/// (2007), without the logarithms.
///
/// The distance is taken along the size and then along what is left of the other dimension.
fn cost(a: &Track, b: &Track) -> f64 {
    let (both, total) = (a.weight * b.weight, a.weight + b.weight);
    let per_xx = 1.0 / (a.xx + b.xx);
    let dx = b.x - a.x;
    let wide = (a.xx - b.xx) * per_xx;
    let apart = 2.0 * dx * dx * per_xx + wide * wide;
    let (dy, xy, yy) = match a.state {
        State::Never | State::Resting => return both * apart / total,
        State::Growing | State::Stalled => (b.v - a.v, a.xv + b.xv, a.vv + b.vv),
        State::Resorbing => (b.peak - a.peak, a.xp + b.xp, a.pp + b.pp),
    };
    let slope = xy * per_xx;
    let aside = dy - slope * dx;
    let left = (yy - slope * xy).max(1e-3 * yy);
    both * (apart * left + 2.0 * aside * aside) / (total * left)
}
