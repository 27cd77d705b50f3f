//! Where one cycle ends and the next opens.

use forecast::{Closing, CycleSpan, Event, Happening, cycles};
use proptest::prelude::*;
use units::Day;

fn at(day: i32, event: Event) -> Happening {
    Happening { day: Day::from_number(day), event }
}

fn span(opened: i32, closed: Option<Closing>) -> CycleSpan {
    CycleSpan { opened: Day::from_number(opened), closed }
}

#[test]
fn a_cycle_opens_with_the_first_check_or_placement_after_an_end() {
    let day = Day::from_number;
    let story = [
        at(0, Event::Placement),
        at(14, Event::Check),
        at(100, Event::Laying),
        at(100, Event::Check),
        at(160, Event::Check),
        at(200, Event::Resorption),
        at(230, Event::Placement),
        at(230 + 120, Event::Check),
    ];
    let expected = [
        span(0, Some(Closing::Laid(day(100)))),
        span(160, Some(Closing::Resorbed(day(200)))),
        span(230, Some(Closing::Quiet(day(230)))),
        span(350, None),
    ];
    assert_eq!(cycles(&story, day(360)), expected);
    assert_eq!(
        cycles(&story, day(349)),
        expected[..2].iter().copied().chain([span(230, None)]).collect::<Vec<_>>()
    );
    assert_eq!(cycles(&story, day(470))[3], span(350, Some(Closing::Quiet(day(350)))));
    assert!(cycles(&[], day(0)).is_empty());
}

#[test]
fn she_may_lay_long_after_the_last_check() {
    let story = [at(0, Event::Check), at(135, Event::Laying)];
    let laid = Closing::Laid(Day::from_number(135));
    assert_eq!(cycles(&story, Day::from_number(140)), [span(0, Some(laid))]);
}

/// Nobody checks or places a gravid female: her cycle must not end for that.
#[test]
fn an_ovulation_keeps_a_cycle_open_until_the_next_season() {
    let day = Day::from_number;
    let story = [at(0, Event::Check), at(60, Event::Ovulation)];
    assert_eq!(cycles(&story, day(329)), [span(0, None)]);
    assert_eq!(cycles(&story, day(330)), [span(0, Some(Closing::Quiet(day(60))))]);
    let next = [&story[..], &[at(350, Event::Check)]].concat();
    let ended = span(0, Some(Closing::Quiet(day(60))));
    assert_eq!(cycles(&next, day(350)), [ended, span(350, None)]);
    // The next cycle is again over after 120 days.
    assert_eq!(cycles(&next, day(470))[1], span(350, Some(Closing::Quiet(day(350)))));
    assert!(cycles(&[at(5, Event::Ovulation)], day(9)).is_empty(), "it opens none");
}

proptest! {
    /// The slow way: walk every day.
    #[test]
    fn a_walk_through_the_days_agrees(
        story in prop::collection::btree_map(0i32..900, 0usize..8, 0..30),
        end in 0i32..1000,
    ) {
        let kinds = [Event::Check, Event::Check, Event::Check, Event::Placement,
            Event::Placement, Event::Placement, Event::Laying, Event::Resorption];
        let happenings: Vec<_> = story.iter().map(|(d, k)| at(*d, kinds[*k])).collect();
        let mut open: Vec<(i32, bool)> = Vec::new();
        let mut last: Option<i32> = None;
        for day in 0..=end {
            match story.get(&day).map(|k| kinds[*k]) {
                Some(Event::Laying | Event::Resorption) => {
                    if let Some(o) = open.last_mut() { o.1 = true; }
                    last = None;
                }
                Some(_) => {
                    let quiet = last.is_none_or(|l| day - l >= 120);
                    if quiet {
                        if let Some(o) = open.last_mut() { o.1 = true; }
                        open.push((day, false));
                    }
                    last = Some(day);
                }
                None => {}
            }
        }
        if last.is_none_or(|l| end - l >= 120) && let Some(o) = open.last_mut() { o.1 = true; }
        let ours: Vec<_> = cycles(&happenings, Day::from_number(end))
            .iter()
            .map(|s| (s.opened.number(), s.closed.is_some()))
            .collect();
        prop_assert_eq!(ours, open);
    }
}
