//! Keeping the number of tracks small: dropping the hopeless, drawing together the alike.

use super::number::Number;
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
pub fn drop_hopeless<S: Number>(tracks: &mut Vec<Track<S>>) {
    let mut best = [f64::MIN_POSITIVE; 5];
    for t in tracks.iter() {
        let b = &mut best[t.state as usize];
        *b = b.max(t.weight.value());
    }
    tracks.retain(|t| {
        let weight = t.weight.value();
        weight > HOPELESS || weight >= best[t.state as usize]
    });
}

/// Sorts tracks that are grouped by state by size within it. By insertion: they are nearly sorted.
pub fn in_order<S: Number>(tracks: &mut [Track<S>]) {
    for i in 1..tracks.len() {
        let mut j = i;
        while j > 0 && is_before(&tracks[j], &tracks[j - 1]) {
            tracks.swap(j, j - 1);
            j -= 1;
        }
    }
}

/// One step towards order: enough after a week of growth, in which hardly any track overtakes two.
pub fn nearer_order<S: Number>(tracks: &mut [Track<S>]) {
    for i in 1..tracks.len() {
        if is_before(&tracks[i], &tracks[i - 1]) {
            tracks.swap(i, i - 1);
        }
    }
}

fn is_before<S: Number>(t: &Track<S>, other: &Track<S>) -> bool {
    t.x.value() < other.x.value() && t.state == other.state
}

/// Draws the alike together after something was seen. The tracks must be in order.
pub fn thin<S: Number>(tracks: &mut Vec<Track<S>>, limits: &mut Limits) {
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
pub struct Turning<'a, S> {
    /// The tracks.
    pub tracks: &'a [Track<S>],
    /// The chance, for each of them.
    pub chance: S,
}

/// Appends to `into` what stays in a state or turns to it. The alike among the newcomers are drawn
/// together; those that stay were not alike before and are not now.
pub fn gather<S: Number>(
    state: State,
    mut turning: [Turning<'_, S>; 3],
    into: &mut Vec<Track<S>>,
    limits: &mut Limits,
) {
    let start = into.len();
    let limit = &mut limits.0[state as usize];
    let mut group: Option<Track<S>> = None;
    while let Some((t, chance)) = smallest(&mut turning) {
        let weight = t.weight * chance;
        if weight.value() <= 0.0 {
            continue;
        }
        if t.state == state {
            into.extend_from_slice(std::slice::from_ref(t));
            into.last_mut().into_iter().for_each(|stays| stays.weight = weight);
            continue;
        }
        match &mut group {
            Some(g) if belongs(t, g) => g.absorb_share(t, &weight),
            Some(g) => {
                settle(into, start, g, *limit);
                g.clone_from(t);
                g.turn_to(state, weight);
            }
            None => group.insert(*t).turn_to(state, weight),
        }
    }
    if let Some(g) = &group {
        settle(into, start, g, *limit);
    }
    let n = few_enough(&mut into[start..], limit);
    into.truncate(start + n);
}

/// Takes out the next in order of size of all that turn or stay.
fn smallest<'a, S: Number>(turning: &mut [Turning<'a, S>; 3]) -> Option<(&'a Track<S>, S)> {
    let heads =
        turning.each_ref().map(|of| of.tracks.first().map_or(f64::INFINITY, |t| t.x.value()));
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
fn belongs<S: Number>(t: &Track<S>, group: &Track<S>) -> bool {
    let dx = t.x.value() - group.x.value();
    let dv = t.v.value() - group.v.value();
    dx * dx < CLOSE * group.xx.value()
        && (group.state == State::Resorbing || dv * dv < CLOSE * group.vv.value())
}

fn settle<S: Number>(into: &mut Vec<Track<S>>, start: usize, track: &Track<S>, limit: f64) {
    if !absorbed(&mut into[start..], track, limit) {
        into.push(*track);
    }
}

/// Draws tracks of one state together until few enough are left; returns how many, at the front.
fn few_enough<S: Number>(tracks: &mut [Track<S>], limit: &mut f64) -> usize {
    let mut n = tracks.len();
    while n > tracks.first().map_or(0, |t| most(t.state)) && *limit < 1e9 {
        *limit *= PATIENCE;
        n = draw_together(&mut tracks[..n], *limit);
    }
    n
}

/// One pass in order of size over tracks of one state; returns how many are left, at the front.
fn draw_together<S: Number>(tracks: &mut [Track<S>], limit: f64) -> usize {
    let mut kept = 0;
    for i in 0..tracks.len() {
        let (before, from) = tracks.split_at_mut(i);
        if !absorbed(&mut before[..kept], &from[0], limit) {
            if kept < i {
                before[kept] = from[0];
            }
            kept += 1;
        }
    }
    kept
}

/// Lets that one of the last few kept absorb the track where it costs least; false where it costs
/// too much everywhere.
fn absorbed<S: Number>(kept: &mut [Track<S>], track: &Track<S>, limit: f64) -> bool {
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
fn may_cost_less<S: Number>(a: &Track<S>, b: &Track<S>, limit: f64) -> bool {
    let dx = b.x.value() - a.x.value();
    let (wa, wb) = (a.weight.value(), b.weight.value());
    2.0 * wa * wb * dx * dx < limit * (a.xx.value() + b.xx.value()) * (wa + wb)
}

/// What is lost by drawing two together: their joint share times the squared distance of their
/// means in units of their spread, and of the spreads. In the manner of Salmond (1990) and Runnalls
/// (2007), without the logarithms.
///
/// The distance is taken along the size and then along what is left of the other dimension.
fn cost<S: Number>(a: &Track<S>, b: &Track<S>) -> f64 {
    let less = |b: S, a: S| b.value() - a.value();
    let both_of = |a: S, b: S| a.value() + b.value();
    let (wa, wb) = (a.weight.value(), b.weight.value());
    let (axx, bxx) = (a.xx.value(), b.xx.value());
    let (both, total) = (wa * wb, wa + wb);
    let per_xx = 1.0 / (axx + bxx);
    let dx = b.x.value() - a.x.value();
    let wide = (axx - bxx) * per_xx;
    let apart = 2.0 * dx * dx * per_xx + wide * wide;
    let (dy, xy, yy) = match a.state {
        State::Never | State::Resting => return both * apart / total,
        State::Growing | State::Stalled => {
            (less(b.v, a.v), both_of(a.xv, b.xv), both_of(a.vv, b.vv))
        }
        State::Resorbing => (less(b.peak, a.peak), both_of(a.xp, b.xp), both_of(a.pp, b.pp)),
    };
    let slope = xy * per_xx;
    let aside = dy - slope * dx;
    let left = (yy - slope * xy).max(1e-3 * yy);
    both * (apart * left + 2.0 * aside * aside) / (total * left)
}
