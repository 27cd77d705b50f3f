//! From the testkit's plain numbers to the forecast's types.

use forecast::follicle::hyper::HEAD_STARTS;
use forecast::{Check, Cycle, Found, Hyper};
use testkit::follicle_grid::{GridSettings, Look, Seen};
use units::{Day, Millimetres};

/// The day on which every made-up cycle opens.
pub fn opening() -> Day {
    Day::new(2025, 11, 4).unwrap()
}

pub fn cycle(looks: &[Look]) -> Cycle {
    let check = |look: &Look| Check {
        day: opening() + look.day,
        found: match look.seen {
            Seen::Scan(size) => Found::Scan(Millimetres::new(size).unwrap()),
            Seen::Felt(from, to, blur) => Found::Felt { from, to, blur },
        },
    };
    Cycle::new(opening(), looks.iter().map(check).collect())
}

pub fn scans(sizes: &[(i32, f64)]) -> Cycle {
    let look = |(day, size): &(i32, f64)| Look { day: *day, seen: Seen::Scan(*size) };
    cycle(&sizes.iter().map(look).collect::<Vec<_>>())
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
