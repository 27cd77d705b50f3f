//! Where one cycle ends and the next opens.

use units::Day;

/// Days without a check or placement after which a cycle is over.
pub const QUIET_DAYS: i32 = 120;

/// The same once she ovulated: nobody checks or places a gravid female, and one that never laid must
/// not be forgotten before her next season. Our own choice.
pub const OVULATED_QUIET_DAYS: i32 = 270;

/// Something that opens, carries on or closes a cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// A follicle check.
    Check,
    /// A male put in with her.
    Placement,
    /// Seen to ovulate, or to shed before laying.
    Ovulation,
    /// She laid: closes the cycle.
    Laying,
    /// Seen to have resorbed: closes the cycle.
    Resorption,
}

/// An event on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Happening {
    /// When.
    pub day: Day,
    /// What.
    pub event: Event,
}

/// Why a cycle is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closing {
    /// She laid on this day.
    Laid(Day),
    /// She was seen to have resorbed by this day.
    Resorbed(Day),
    /// Nothing for [`QUIET_DAYS`], or for [`OVULATED_QUIET_DAYS`] once she ovulated; the last day of
    /// anything.
    Quiet(Day),
}

/// The days of one cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CycleSpan {
    /// Its first check or placement.
    pub opened: Day,
    /// How it ended; `None` while it is under way on the day asked about.
    pub closed: Option<Closing>,
}

/// Splits what happened up to and including `today` into cycles, in order of time.
///
/// A cycle opens with the first check or placement after her last laying, resorption or
/// [`QUIET_DAYS`] quiet days. On the day she lays, whatever else is written belongs to the cycle
/// that ends. An ovulation carries a cycle on and opens none.
#[must_use]
pub fn cycles(happenings: &[Happening], today: Day) -> Vec<CycleSpan> {
    let mut sorted: Vec<Happening> =
        happenings.iter().copied().filter(|h| h.day <= today).collect();
    sorted.sort_by_key(|h| (h.day, matches!(h.event, Event::Laying | Event::Resorption)));
    let mut spans: Vec<CycleSpan> = Vec::new();
    let (mut last, mut quiet) = (today, QUIET_DAYS);
    for h in sorted {
        if let Some(open) = spans.last_mut().filter(|s| s.closed.is_none())
            && h.day.days_since(last) >= quiet
            && h.event != Event::Laying
        {
            open.closed = Some(Closing::Quiet(last));
        }
        let under_way = spans.last_mut().filter(|s| s.closed.is_none());
        match (h.event, under_way) {
            (Event::Check | Event::Placement, None) => {
                spans.push(CycleSpan { opened: h.day, closed: None });
                quiet = QUIET_DAYS;
            }
            (Event::Ovulation, Some(_)) => quiet = OVULATED_QUIET_DAYS,
            (Event::Laying, Some(open)) => open.closed = Some(Closing::Laid(h.day)),
            (Event::Resorption, Some(open)) => open.closed = Some(Closing::Resorbed(h.day)),
            _ => {}
        }
        last = h.day;
    }
    if let Some(open) = spans.last_mut().filter(|s| s.closed.is_none())
        && today.days_since(last) >= quiet
    {
        open.closed = Some(Closing::Quiet(last));
    }
    spans
}
