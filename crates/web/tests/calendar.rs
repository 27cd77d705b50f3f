//! The calendar: its text against another reader, its address, and who may open it.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use answers::calendar::{CalendarEvent, Standing};
use records::{AnimalId, RecordId};
use units::{DaySpan, Instant};

use crate::room::{day, made_up, room};
use crate::wire::{get, get_with, post};

fn event(n: u8, standing: Standing, days: (&str, &str), title: &str, said: &str) -> CalendarEvent {
    CalendarEvent {
        place: 0,
        animal: AnimalId(RecordId::from_bytes([n; 16])),
        cycle: day("2025-11-09"),
        what: "laying".into(),
        standing,
        days: DaySpan::between(day(days.0), day(days.1)),
        title: title.into(),
        said: said.into(),
    }
}

/// Made-up events; the fourth has the days of the festival in RFC 5545, section 3.6.1.
fn events() -> Vec<CalendarEvent> {
    let long = "Ægir “Ærø” — 80 % of 🐍🐍🐍 lie between the third and the nineteenth, and so on; "
        .repeat(4);
    vec![
        event(
            1,
            Standing::Expected,
            ("2026-03-03", "2026-03-19"),
            "F03 laying expected 3–19 Mar (80 %)",
            "As likely before as after 9 Mar 2026; the chance that it comes at all is 62 %. F03 Juniper, tub R1-03.",
        ),
        event(
            2,
            Standing::Seen,
            ("2026-02-28", "2026-02-28"),
            "F10, laid; \"once\"",
            "a\\b\nc, d; e\\n f",
        ),
        event(3, Standing::Due, ("2025-12-31", "2026-01-01"), &long, &long),
        event(4, Standing::Expected, ("2007-06-28", "2007-07-08"), "Festival", ""),
        event(
            5,
            Standing::Expected,
            ("2028-02-28", "2028-02-29"),
            "名前 のへび",
            " begins with a blank",
        ),
    ]
}

fn published(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/published/calendar").join(name)
}

#[test]
fn another_reader_reads_what_was_meant() {
    let events = events();
    let stamp: Instant = "2026-02-10T18:00:00Z".parse().unwrap();
    let text = web::calendar_text(&events, stamp);
    let golden = std::fs::read_to_string(published("season.ics")).unwrap_or_default();
    if text != golden {
        let new = Path::new(env!("CARGO_TARGET_TMPDIR")).join("season.ics");
        std::fs::write(&new, &text).unwrap();
        panic!("the text changed: see {}, and tests/published/calendar/README.md", new.display());
    }
    // As Python's icalendar 7.3.2 reads it: tests/published/calendar/generate.py.
    let mut parsed = csv::Reader::from_path(published("parsed.csv")).unwrap();
    let rows: Vec<csv::StringRecord> = parsed.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows.len(), events.len());
    for (row, event) in rows.iter().zip(&events) {
        let end = event.days.last() + 1;
        let status = if event.standing == Standing::Expected { "TENTATIVE" } else { "CONFIRMED" };
        let meant = [
            web::calendar_uid(event),
            event.days.first().to_string(),
            end.to_string(),
            event.title.clone(),
            event.said.clone(),
            event.standing.word().to_owned(),
            status.to_owned(),
            "TRANSPARENT".to_owned(),
            (stamp.seconds() / 60).to_string(),
            stamp.to_string(),
        ];
        assert_eq!(row.iter().collect::<Vec<_>>(), meant);
    }
}

#[test]
fn a_calendar_without_events_still_holds_a_component() {
    let text = web::calendar_text(&[], "2026-02-10T18:00:00Z".parse().unwrap());
    assert!(text.contains("BEGIN:VTIMEZONE\r\n") && !text.contains("VEVENT"), "RFC 5545, 3.6");
}

/// An address is made on the page; its path.
fn address(at: std::net::SocketAddr) -> String {
    let page = post(at, "/calendar", &[("name", "Anna’s phone")]);
    assert_eq!(page.status, 200);
    let (_, rest) = page.body.split_once(&format!("<code>http://{at}")).unwrap();
    rest.split("</code>").next().unwrap().to_owned()
}

/// Name and value of every property, unfolded.
fn properties(text: &str) -> Vec<(String, String)> {
    let unfolded = text.replace("\r\n ", "");
    let line =
        |line: &str| line.split_once(':').map(|(n, v)| (n.to_owned(), v.to_owned())).unwrap();
    unfolded.split_terminator("\r\n").map(line).collect()
}

fn all<'p>(properties: &'p [(String, String)], name: &str) -> Vec<&'p str> {
    properties.iter().filter(|(n, _)| n == name).map(|(_, value)| value.as_str()).collect()
}

#[test]
fn an_address_leads_to_the_season_until_it_is_taken_back() {
    let room = made_up("2026-02-10");
    assert!(get(room.at, "/calendar").body.contains("None yet."));
    let path = address(room.at);
    assert_eq!(path.len(), "/calendar/".len() + 64 + ".ics".len(), "256 bits");
    let answer = get(room.at, &path);
    assert_eq!(answer.status, 200);
    assert_eq!(answer.header("content-type"), Some("text/calendar; charset=utf-8"));
    assert!(answer.body.split_terminator("\r\n").all(|line| line.len() <= 75));
    assert!(!answer.body.replace("\r\n", "").contains(['\r', '\n']));
    let properties = properties(&answer.body);
    let uids = all(&properties, "UID");
    assert!(uids.len() >= 6, "F1 grows: {uids:?}");
    assert_eq!(uids.iter().collect::<HashSet<_>>().len(), uids.len());
    let (starts, ends) =
        (all(&properties, "DTSTART;VALUE=DATE"), all(&properties, "DTEND;VALUE=DATE"));
    assert_eq!((starts.len(), ends.len()), (uids.len(), uids.len()));
    assert!(starts.iter().zip(&ends).all(|(start, end)| start < end));
    assert!(
        all(&properties, "SUMMARY").iter().any(|title| title.starts_with("F1 laying expected "))
    );
    for name in ["DTSTAMP", "LAST-MODIFIED", "SEQUENCE", "DESCRIPTION", "CATEGORIES", "TRANSP"] {
        assert_eq!(all(&properties, name).len(), uids.len(), "{name}");
    }
    // Asked again, it is known already.
    let mark = answer.header("etag").unwrap();
    assert_eq!(get_with(room.at, &path, &format!("If-None-Match: {mark}")).status, 304);
    // The next day: the same events, later revised.
    let next = [("day", "2026-02-10"), ("to", "next"), ("back", "/")];
    assert_eq!(post(room.at, "/step", &next).status, 303);
    let later = get(room.at, &path).body;
    let later = self::properties(&later);
    assert_eq!(all(&later, "UID").iter().collect::<HashSet<_>>(), uids.iter().collect());
    let number = |p: &[(String, String)]| all(p, "SEQUENCE")[0].parse::<u64>().unwrap();
    assert!(number(&later) > number(&properties), "RFC 5545, 3.8.7.4: it grows");
    assert!(all(&later, "LAST-MODIFIED")[0] > all(&properties, "LAST-MODIFIED")[0]);

    let page = get(room.at, "/calendar");
    assert!(page.body.contains("Anna’s phone") && !page.body.contains(&path), "shown once");
    let secret = path.trim_start_matches("/calendar/").trim_end_matches(".ics");
    let kept = std::fs::read_to_string(room.dir.join("calendar.txt")).unwrap();
    assert!(kept.contains("Anna’s phone") && !kept.contains(secret), "only its hash is kept");
    let other = address(room.at);
    assert_eq!(post(room.at, "/calendar/away", &[("which", &page.field("which"))]).status, 303);
    assert_eq!(get(room.at, &path).status, 404, "taken back");
    assert_eq!(get(room.at, &other).status, 200, "the other stays");
}

#[test]
fn a_wrong_address_says_nothing() {
    let room = room();
    let path = address(room.at);
    let changed = path.replace(&path[20..21], if &path[20..21] == "0" { "1" } else { "0" });
    for wrong in [
        &changed,
        "/calendar/.ics",
        "/calendar/x.ics",
        &path[..path.len() - 4],
        "/calendar/%00.ics",
    ] {
        let answer = get(room.at, wrong);
        assert_eq!(answer.status, 404, "{wrong}");
        assert!(!answer.body.contains("F1") && !answer.body.contains("BEGIN:"), "{wrong}");
    }
    assert_eq!(post(room.at, &path, &[]).status, 404, "it is read, never written");
}

#[test]
fn addresses_have_an_end_and_names_stand_in_one_line() {
    let room = room();
    assert_eq!(post(room.at, "/calendar", &[("name", "a\nb")]).status, 400);
    for _ in 0..50 {
        address(room.at);
    }
    let full = post(room.at, "/calendar", &[("name", "")]);
    assert!(full.status == 400 && full.body.contains("50 addresses already"));
}
