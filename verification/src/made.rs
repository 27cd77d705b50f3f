//! From the testkit's made-up seasons to the forecast's types.

use forecast::follicle::hyper::HEAD_STARTS;
use forecast::{Check, Cycle, Found, Hyper};
use testkit::follicle_grid::{GridSettings, Look, Seen};
use testkit::follicle_rooms::World;
use units::{Day, Millimetres};

/// The day on which every made-up cycle opens: 2025-11-04.
pub fn opening() -> Day {
    Day::from_number(20_396)
}

pub fn cycle(looks: &[Look]) -> Cycle {
    let check = |look: &Look| Check {
        day: opening() + look.day,
        found: match look.seen {
            Seen::Scan(size) => {
                Found::Scan(Millimetres::new(size).unwrap_or(Millimetres::from_steps(0)))
            }
            Seen::Felt(from, to, blur) => Found::Felt { from, to, blur },
        },
    };
    Cycle::new(opening(), looks.iter().map(check).collect())
}

/// The world that shares the model's equations and constants.
pub fn shared(hyper: &Hyper) -> World {
    World::Shared(Box::new(settings(hyper)), hyper.ovulation_size, hyper.ovulation_spread)
}

pub fn settings(h: &Hyper) -> GridSettings {
    GridSettings {
        rest_size: h.rest_size,
        rest_spread: h.rest_spread,
        rate: h.rate,
        rate_spread: h.rate_spread,
        wobble: h.wobble,
        never_starts: h.never_starts,
        begun_before: h.begun_before,
        head_starts: HEAD_STARTS.to_vec(),
        start_hazard: h.start_hazard,
        stall_hazard: h.stall_hazard,
        restart_hazard: h.restart_hazard,
        resorb_growing_hazard: h.resorb_growing_hazard,
        resorb_stalled_hazard: h.resorb_stalled_hazard,
        resorb_keeps: h.resorb_keeps,
        resorb_wobble: h.resorb_wobble,
        scan_own: h.scan_own,
        scan_shared: h.scan_shared,
        scan_gross: h.scan_gross,
        scan_gross_times: h.scan_gross_times,
    }
}
