//! A whole calendar, RFC 5545 (Desruisseaux 2009) with the refresh interval of RFC 7986 (Daboo 2016).

use answers::CalendarEvent;
use answers::calendar::Standing;
use units::{Day, Instant};

use super::ics::Lines;

/// How often a program is asked to read it again; our choice: a record in the evening is there by night.
const REFRESH: &str = "PT4H";

/// The events as a calendar, as they stood at that moment. Their order is kept.
#[must_use]
pub fn text(events: &[CalendarEvent], revised: Instant) -> String {
    let mut lines = Lines::default();
    lines.line("BEGIN", "VCALENDAR");
    lines.line("VERSION", "2.0");
    lines.line(
        "PRODID",
        concat!("-//Clutchwright//Clutchwright ", env!("CARGO_PKG_VERSION"), "//EN"),
    );
    lines.line("CALSCALE", "GREGORIAN");
    lines.text("NAME", "Season");
    lines.text("X-WR-CALNAME", "Season");
    lines.line("REFRESH-INTERVAL;VALUE=DURATION", REFRESH);
    lines.line("X-PUBLISHED-TTL", REFRESH);
    if events.is_empty() {
        nothing_yet(&mut lines);
    }
    for event in events {
        write(&mut lines, event, revised);
    }
    lines.line("END", "VCALENDAR");
    lines.whole()
}

/// The same on every day for the same event, and no other's anywhere: the animal's id is in it.
#[must_use]
pub fn uid(event: &CalendarEvent) -> String {
    format!("{}@clutchwright", event.identity())
}

fn write(lines: &mut Lines, event: &CalendarEvent, revised: Instant) {
    let stamp = utc(revised);
    lines.line("BEGIN", "VEVENT");
    lines.line("UID", &uid(event));
    lines.line("DTSTAMP", &stamp);
    lines.line("LAST-MODIFIED", &stamp);
    // It only has to grow where the days change (section 3.8.7.4): the minutes of the revision do.
    lines.line("SEQUENCE", &revised.seconds().div_euclid(60).max(0).to_string());
    lines.line("DTSTART;VALUE=DATE", &date(event.days.first()));
    // The end is the first day that is no longer in it (section 3.6.1).
    lines.line("DTEND;VALUE=DATE", &date(event.days.last() + 1));
    lines.text("SUMMARY", &event.title);
    lines.text("DESCRIPTION", &event.said);
    lines.text("CATEGORIES", event.standing.word());
    let is_open = event.standing == Standing::Expected;
    lines.line("STATUS", if is_open { "TENTATIVE" } else { "CONFIRMED" });
    // Weeks of waiting make nobody busy.
    lines.line("TRANSP", "TRANSPARENT");
    lines.line("END", "VEVENT");
}

/// A calendar must hold a component (section 3.6), so one without events tells the zone UTC.
fn nothing_yet(lines: &mut Lines) {
    for (name, value) in [
        ("BEGIN", "VTIMEZONE"),
        ("TZID", "UTC"),
        ("BEGIN", "STANDARD"),
        ("DTSTART", "19700101T000000"),
        ("TZOFFSETFROM", "+0000"),
        ("TZOFFSETTO", "+0000"),
        ("END", "STANDARD"),
        ("END", "VTIMEZONE"),
    ] {
        lines.line(name, value);
    }
}

/// "20260210"
fn date(day: Day) -> String {
    day.to_string().replace('-', "")
}

/// "20260210T180000Z"
fn utc(at: Instant) -> String {
    at.to_string().replace(['-', ':'], "")
}
