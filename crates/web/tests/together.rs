//! Pairs left together, mornings not yet answered, and an evening all of whose moves are made.

use crate::room::{Room, made_up, room};
use crate::wire::{get, post};

fn answer_morning(room: &Room, lock: &str, out: &str) {
    let page = get(room.at, "/round/morning");
    let names = ["record", "second", "batch", "male", "female", "night"];
    let mut fields = names.map(|name| (name, page.field(name))).to_vec();
    fields.extend([("lock", lock.to_owned()), ("out", out.to_owned())]);
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/morning", &fields).status, 303);
}

fn place(room: &Room, female: &str) {
    let page = get(room.at, &format!("/round/evening?tub={}", room.id(female)));
    let fields = ["record", "male", "female", "night"].map(|name| (name, page.field(name)));
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/placed", &fields).status, 303);
}

#[test]
fn an_unanswered_morning_is_said_and_opened_whatever_the_hour() {
    let room = room();
    let link = "<a class=\"do\" href=\"/round/morning\">1 pair of last night not yet looked at</a>";
    assert!(get(room.at, "/").body.contains(link));
    assert_eq!(get(room.at, "/round").header("location"), Some("/round/morning"));
    answer_morning(&room, "none seen", "yes");
    assert!(!get(room.at, "/").body.contains("not yet looked at"));
    assert_eq!(get(room.at, "/round").header("location"), Some("/round/evening"));
}

#[test]
fn a_male_that_comes_out_is_named_once_with_the_tub_he_is_in() {
    let room = room();
    let page = get(room.at, "/").body;
    // M2 has been with F3, in R1-10, since the night before, and nobody wants him there tonight.
    let line = page.split("<span class=\"tub\">R1-10</span>").nth(1).unwrap_or_default();
    let line = line.split("</li>").next().unwrap();
    assert!(line.contains(">M2</a></b> from <b>F3</b> today"), "{page}");
    assert!(line.contains("He has been with her for 1 night; no check yet"), "{line}");
    assert_eq!(page.matches(">M2</a>").count(), 1, "one line");
    let first = page.split("<h2>Due</h2>").nth(1).unwrap();
    let first = first.split("<summary>").nth(1).unwrap();
    assert!(first.starts_with("Take out"), "part of the walk, so it comes first");
    let his = get(room.at, "/animal/M2").body;
    assert!(his.contains("with F3 in R1-10 since 9\u{a0}Feb"), "{his}");
    assert!(get(room.at, "/animal/F3").body.contains("with M2 since 9\u{a0}Feb"));
    // The round takes him out with one button.
    let stop = get(room.at, &format!("/round/evening?tub={}", room.id("F3")));
    assert!(stop.body.contains("Take out <b>M2</b>"), "{}", stop.body);
    let fields = ["record", "animal", "with", "day"].map(|name| (name, stop.field(name)));
    let mut fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    fields.push(("what", "taken out"));
    assert_eq!(post(room.at, "/together", &fields).status, 303);
    let page = get(room.at, "/").body;
    assert!(!page.contains(">M2</a>"), "{page}");
    assert!(!get(room.at, "/animal/M2").body.contains("since 9\u{a0}Feb"));
}

#[test]
fn when_every_move_is_made_it_is_said_so() {
    let room = room();
    assert!(get(room.at, "/").body.contains("1 move in rack order"));
    place(&room, "F1");
    let page = get(room.at, "/").body;
    for says in ["The one move is made", "href=\"/round/evening\">Evening round</a>"] {
        assert!(page.contains(says), "{says}: {page}");
    }
    assert!(!page.contains("0 moves") && !page.contains("Nobody is moved"), "{page}");
}

/// The next evening a pair that is still wanted stays, and no second placement is asked.
#[test]
fn a_pair_still_wanted_stays_without_a_walk() {
    let room = made_up("2026-02-10");
    place(&room, "F1");
    let next = [("day", "2026-02-10"), ("to", "next"), ("back", "/")];
    assert_eq!(post(room.at, "/step", &next).status, 303);
    let page = get(room.at, "/").body;
    let together = page.split("<h2>Together already</h2>").nth(1).unwrap();
    let together = together.split("</ol>").next().unwrap();
    assert!(together.contains("M1 Slate") && together.contains("leave him there"), "{together}");
    assert!(!page.contains("M1 Slate</b> to"), "no walk");
    assert!(!page.contains(">M1 Slate</a></b> from"), "no take out");
    let round = get(room.at, "/round/evening").body;
    let left = round.split("Left together tonight").nth(1).unwrap();
    assert!(left.contains("R1-01 M1 Slate with F1 Quill"), "{left}");
    assert!(!round.contains("→ R1-01"), "{round}");
}

/// A heading at the foot of a sheet stands over nothing, and paper unfolds no details.
#[test]
fn on_paper_a_heading_keeps_to_what_follows() {
    let css = get(room().at, "/style.css").body;
    let paper = css.split("@media print").nth(1).unwrap();
    for rule in [
        "summary,legend{break-after:avoid}",
        "summary{list-style:none}",
        ".group{break-inside:avoid}",
    ] {
        assert!(paper.contains(rule), "{rule}");
    }
}
