//! When the weeks of growth still to come will fall: the stalls ahead.

use super::hyper::Hyper;

/// How many weeks ahead a forecast looks; what would come later counts as never in this cycle.
pub const WEEKS_AHEAD: usize = 40;

const N: usize = WEEKS_AHEAD + 1;

/// From one state tonight: in row `n` the chance that calendar week `k` ahead is her `n`-th week of
/// growth from now, both counted from 0. She leaves the table by resorbing.
pub type Growing = Vec<[f64; N]>;

/// The three tables a forecast needs. Week 0 is the rest of the present one.
#[derive(Clone, Debug)]
pub struct Ahead {
    /// She grows tonight: her 0-th week of growth is the rest of the present one.
    pub from_growing: Growing,
    /// She is stalled tonight: growth restarts on a mark.
    pub from_stalled: Growing,
    /// She rests tonight and will begin on a mark.
    pub from_resting: Growing,
}

impl Ahead {
    /// Lays the tables out for these hazards.
    #[must_use]
    pub fn new(hyper: &Hyper) -> Self {
        Self {
            from_growing: table(hyper, [0.0, 1.0, 0.0]),
            from_stalled: table(hyper, [0.0, 0.0, 1.0]),
            from_resting: table(hyper, [1.0, 0.0, 0.0]),
        }
    }
}

/// Steps the chain (resting, growing, stalled) with a count of the weeks grown.
fn table(hyper: &Hyper, start: [f64; 3]) -> Growing {
    let goes_on = 1.0 - hyper.stall_hazard - hyper.resorb_growing_hazard;
    let stays = 1.0 - hyper.restart_hazard - hyper.resorb_stalled_hazard;
    let mut resting = start[0];
    let (mut growing, mut stalled) = ([0.0; N], [0.0; N]);
    growing[0] = start[1];
    stalled[0] = start[2];
    let mut rows = vec![[0.0; N]; N];
    for k in 0..N {
        for (row, share) in rows.iter_mut().zip(growing) {
            row[k] = share;
        }
        let mut next = [0.0; N];
        let mut held = [0.0; N];
        for n in 0..N {
            next[n] += stalled[n] * hyper.restart_hazard;
            held[n] += stalled[n] * stays;
            if n + 1 < N {
                next[n + 1] += growing[n] * goes_on;
                held[n + 1] += growing[n] * hyper.stall_hazard;
            }
        }
        next[0] += resting * hyper.start_hazard;
        resting *= 1.0 - hyper.start_hazard;
        (growing, stalled) = (next, held);
    }
    rows
}
