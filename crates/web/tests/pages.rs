//! Every page answers, in words, on any day.

use crate::room::{room, room_at, serve};
use crate::wire::{get, get_as, get_with};

#[test]
fn every_page_answers() {
    let room = room();
    for (path, says) in [
        ("/", "Night of 10 to 11 February"),
        ("/round/evening", "Evening round"),
        ("/round/morning", "Morning round"),
        ("/round/feeding", "1 due"),
        ("/round/feeding?rack=R1", "All took it, but:"),
        ("/round/checks", "Follicle checks"),
        ("/round/weights?all=1", "Weights"),
        ("/season", "Season 2025/26"),
        ("/animals", "Quill"),
        ("/animal/F1", "F1 Quill"),
        ("/animal/f1", "F1 Quill"),
        ("/desk", "Desk"),
        ("/?on=2026-01-05", "As of the evening of 5 January 2026"),
        ("/season?on=2026-01-05", "14 mm"),
        ("/animal/M1?on=2021-01-05", "M1 Slate"),
    ] {
        let page = get(room.at, path);
        assert_eq!(page.status, 200, "{path}");
        assert!(page.body.contains(says), "{path} does not say {says}");
        assert!(!page.body.contains(" style=") && !page.body.contains(" onclick="), "{path}");
        let scripts: Vec<&str> = page.body.split("<script").skip(1).collect();
        let own = " type=\"module\" src=\"/keys.js\"></script>";
        assert!(scripts.len() == 1 && scripts[0].starts_with(own), "{path}: only our own file");
        let policy = page.header("content-security-policy").unwrap();
        assert!(policy.starts_with("default-src 'self'"), "{path}: {policy}");
        assert_eq!(page.header("x-content-type-options"), Some("nosniff"), "{path}");
    }
    assert_eq!(get(room.at, "/round").status, 303);
}

#[test]
fn tonight_walks_from_tub_to_tub_and_says_who_is_left_out() {
    let room = room();
    let page = get(room.at, "/").body;
    let walk = page.split("<ol class=\"walk\">").nth(1).unwrap().split("</ol>").next().unwrap();
    for part in ["R2-01", "R1-01", "M1 Slate", "F1 Quill", "<svg class=\"strip small\""] {
        assert!(walk.contains(part), "{part}");
    }
    assert!(!walk.contains("F2 Sedge"), "too small to want a mating");
    assert!(page.contains("F2 Sedge") && page.contains("<details>"));
}

#[test]
fn a_strip_has_a_title_words_and_its_four_lines() {
    let room = room();
    let page = get(room.at, "/animal/F1").body;
    let strip = page.split("<svg class=\"strip wide\"").nth(1).unwrap();
    let strip = strip.split("</svg>").next().unwrap();
    assert!(strip.contains("role=\"img\""));
    assert!(strip.contains("<title>Growth strip of F1 Quill</title>"));
    assert!(strip.contains("<desc>3 checks, the last 24 mm on 8 Feb; about "));
    assert_eq!(strip.matches("class=\"level\"").count(), 4);
    assert_eq!(strip.matches("class=\"dot\"").count(), 3);
    assert_eq!(strip.matches("class=\"middle\"").count(), 1);
    assert!(!strip.contains("NaN") && !strip.contains("inf"));
}

#[test]
fn what_is_not_there_is_said_with_the_next_step() {
    let room = room();
    for (path, status) in [
        ("/animal/F99", 404),
        ("/animal/%00", 404),
        ("/animal/%FF", 400),
        ("/correct/%FF", 400),
        ("/?on=%FF", 400),
        ("/season?on=1990-01-01", 200),
        ("/?on=2199-12-31", 200),
        ("/nowhere", 404),
        ("/placed", 404),
        ("/?on=2026-02-30", 400),
        ("/season?on=yesterday", 400),
        ("/?on=9999-12-31", 400),
        ("/animal/F1?on=-001-01-01", 400),
        ("/round/evening?tub=%3Cb%3E", 200),
        ("/?saved=nonsense&undone=nonsense", 200),
    ] {
        let page = get(room.at, path);
        assert_eq!(page.status, status, "{path}");
        assert!(page.body.contains("<main"), "{path}");
    }
}

#[test]
fn an_empty_journal_shows_how_to_begin() {
    let room = serve(vec![], vec![]);
    for path in ["/", "/season", "/animals"] {
        let page = get(room.at, path);
        assert_eq!(page.status, 200, "{path}");
        assert!(page.body.contains("href=\"/import\""), "{path}");
        assert!(page.body.contains("href=\"/animals\">Add an animal"), "{path}");
    }
    for path in ["/round/evening", "/round/morning", "/round/feeding", "/round/checks", "/desk"] {
        assert_eq!(get(room.at, path).status, 200, "{path}");
    }
}

#[test]
fn the_theme_is_a_cookie() {
    let room = room();
    let sheet = |cookie: &str| get_with(room.at, "/theme.css", &format!("Cookie: {cookie}")).body;
    assert!(sheet("theme=night").contains("--ink:#ff9b45"));
    assert!(sheet("a=b; theme=light").contains("--ink:#25211b"));
    assert!(sheet("theme=x").contains("prefers-color-scheme"));
}

/// Contrast of text by WCAG 2.1 (relative luminance), at least 4.5 for every pair used.
#[test]
fn every_text_colour_is_readable_in_every_theme() {
    let room = room();
    for theme in ["light", "dark", "night"] {
        let css = get_with(room.at, "/theme.css", &format!("Cookie: theme={theme}")).body;
        let colour = |name: &str| {
            let text = css.split(&format!("--{name}:#")).nth(1).unwrap();
            [0, 2, 4].map(|at| u8::from_str_radix(&text[at..at + 2], 16).unwrap())
        };
        for ground in ["paper", "raised"] {
            for text in ["ink", "soft", "ember", "mark"] {
                let found = contrast(colour(text), colour(ground));
                assert!(found >= 4.5, "{theme}: {text} on {ground} {found:.2}");
            }
        }
        // A diamond beside a dot in one picture: their tones differ, and not their shapes alone.
        let apart = contrast(colour("mark"), colour("ink"));
        assert!(apart >= 1.4, "{theme}: mark beside ink {apart:.2}");
    }
}

fn contrast(a: [u8; 3], b: [u8; 3]) -> f64 {
    let luminance = |rgb: [u8; 3]| {
        let linear = rgb.map(|c| {
            let c = f64::from(c) / 255.0;
            if c <= 0.03928 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn only_an_address_or_localhost_is_answered() {
    let room = room();
    let status = |host: &str| get_as(room.at, host, "/").status;
    assert_eq!(status("localhost:7313"), 200);
    assert_eq!(status("192.168.1.20"), 200);
    assert_eq!(status("[::1]:80"), 200);
    for foreign in ["evil.example", "127.0.0.1.evil.example:80", "localhost.evil.example"] {
        assert_eq!(status(foreign), 421, "{foreign}");
    }
}

#[test]
fn animals_are_found_by_code_name_tub_and_gene() {
    let room = room();
    let by_code = get(room.at, "/animals?find=m2");
    assert_eq!((by_code.status, by_code.header("location")), (303, Some("/animal/M2")));
    let by_name = get(room.at, "/animals?find=qui").body;
    assert!(by_name.contains("F1 Quill") && !by_name.contains("F2 Sedge"));
    let by_tub = get(room.at, "/animals?find=r1-1").body;
    assert!(by_tub.contains("/animal/F3") && !by_tub.contains("/animal/F1"));
    assert!(get(room.at, "/animals?find=clown").body.contains("F2 Sedge"));
    assert!(!get(room.at, "/animals?find=nobody").body.contains("/animal/"));
}

#[test]
fn past_midnight_it_is_still_the_evening_before() {
    let late = room_at("2026-02-10T23:30:00Z");
    assert!(get(late.at, "/").body.contains("Night of 10 to 11 February"));
    assert_eq!(get(late.at, "/round").header("location"), Some("/round/morning"), "unanswered");
    let early = room_at("2026-02-11T06:30:00Z");
    assert!(get(early.at, "/").body.contains("Night of 11 to 12 February"));
    assert_eq!(get(early.at, "/round").header("location"), Some("/round/morning"));
    let morning = get(early.at, "/round/morning").body;
    assert!(morning.contains("night of 10 to 11 February") && morning.contains("R1-10"));
}

#[test]
fn old_records_are_said_to_be_old() {
    let room = room_at("2026-11-25T12:00:00Z");
    let page = get(room.at, "/season").body;
    assert!(page.contains("The newest record is of 9 February 2026"));
    assert!(page.contains("href=\"/season?on=2026-02-09\""));
    let asked = get(room.at, "/season?on=2026-02-09").body;
    assert!(!asked.contains("The newest record"));
    assert!(!get(room_at("2026-04-01T12:00:00Z").at, "/").body.contains("The newest record"));
}

#[test]
fn every_key_is_listed_and_leads_somewhere() {
    let room = room();
    let page = get(room.at, "/keys").body;
    let main = page.split("<main").nth(1).unwrap().split("</main>").next().unwrap();
    for entry in page.split("data-key=\"").skip(1) {
        let (letter, name) = (&entry[..1], entry.split(['>', '<']).nth(1).unwrap());
        let line = format!("<kbd>g</kbd> <kbd>{letter}</kbd></dt><dd>{name}</dd>");
        assert!(main.contains(&line), "{line}");
    }
    let script = get(room.at, "/keys.js");
    assert_eq!(script.header("content-type"), Some("text/javascript; charset=utf-8"));
    for key in ["?", "j", "k", "/", "u", "Enter", "Esc", "1", "4", "5", "6"] {
        assert!(main.contains(&format!("<kbd>{key}</kbd>")), "{key}");
    }
    let elsewhere = get(room.at, "/season").body;
    assert!(elsewhere.contains("<dialog id=\"keys\"") && elsewhere.contains("<kbd>j</kbd>"));
}

#[test]
fn a_page_that_says_what_did_not_work_leads_back() {
    let room = room();
    let from = |page: &str| get_with(room.at, "/?on=soon", &format!("Referer: {page}"));
    let answer = from(&format!("http://{}/season?on=2026-02-09", room.at));
    assert_eq!(answer.status, 400);
    assert!(answer.body.contains("href=\"/season?on=2026-02-09\">Back to the page"));
    for foreign in ["http://example.org/season", "javascript:alert(1)", "//example.org", "nonsense"]
    {
        assert!(!from(foreign).body.contains("Back to the page"), "{foreign}");
    }
}

#[test]
fn a_history_tells_times_by_the_clock_of_the_room() {
    let (mut drafts, ids) = crate::room::drafts();
    let weighed = drafts.iter_mut().find(|d| matches!(d.fact, records::Fact::Weighed(_))).unwrap();
    weighed.when = units::When::Instant("2026-02-01T22:30:00Z".parse().unwrap());
    let room = serve(drafts, ids);
    let page = get(room.at, "/animal/F1").body;
    // Europe/Berlin is an hour ahead of UTC in winter.
    assert!(page.contains("1\u{a0}Feb\u{a0}2026, 23:30"), "{page}");
}
