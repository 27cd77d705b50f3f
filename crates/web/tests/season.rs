//! The season sifted and sorted, and its strips with every date.

use records::facts::{Laid, Moved, Ovulated, Shed};
use records::words::{Certainty, ShedKind};
use records::{AnimalId, Fact, Found, Tub};
use units::{Millimetres, When};

use crate::room::{Room, day, draft, drafts, room, serve};
use crate::wire::get;

/// The invented room in which F1 grows, F2 ovulated and shed, and F3 laid.
fn season() -> Room {
    let (mut all, ids) = drafts();
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    let on = |when: &str, fact: Fact| draft(When::Day(day(when)), fact);
    let (female, certainty) = (id("F2"), Certainty::Seen);
    all.push(on("2026-01-10", Fact::Ovulated(Ovulated { female, certainty, sire: None })));
    all.push(on("2026-01-30", Fact::Shed(Shed { animal: id("F2"), kind: ShedKind::PreLay })));
    let laid = Laid {
        female: id("F3"),
        sire: None,
        clutch: None,
        eggs: Some(6),
        slugs: Some(0),
        mass: None,
        kept: None,
    };
    all.push(on("2026-02-02", Fact::Laid(laid)));
    serve(all, ids)
}

/// Names of the females on a page, in order.
fn females(page: &str) -> Vec<&str> {
    let sections = page.split("<section class=\"female\">").skip(1);
    sections.map(|s| s.split("\">").nth(1).unwrap().split("</a>").next().unwrap()).collect()
}

/// What is next, as offered: link, words, count.
fn offered(page: &str) -> Vec<(String, &str, usize)> {
    let list = page.split("aria-label=\"What is next\"").nth(1).unwrap().split("</nav>").next();
    list.unwrap().split("<li><a href=\"").skip(1).map(choice).collect()
}

fn choice(link: &str) -> (String, &str, usize) {
    let (to, rest) = link.split_once('"').unwrap();
    let (_, rest) = rest.split_once('>').unwrap();
    let (said, rest) = rest.split_once("&nbsp;<b>").unwrap();
    (to.replace("&#38;", "&"), said, rest.split("</b>").next().unwrap().parse().unwrap())
}

#[test]
fn every_choice_leaves_as_many_as_it_says() {
    let room = season();
    for begin in ["/season", "/season?on=2026-02-10&sort=name", "/season?phase=building"] {
        let page = get(room.at, begin).body;
        let choices = offered(&page);
        let (_, first, all) = &choices[0];
        assert_eq!((*first, *all), ("all", females(&page).len()), "{begin}");
        let sum: usize = choices[1..].iter().map(|c| c.2).sum();
        assert_eq!(sum, *all, "{begin}: each female has one thing next");
        for (link, said, n) in &choices {
            let chosen = get(room.at, link);
            assert_eq!((chosen.status, females(&chosen.body).len()), (200, *n), "{said}: {link}");
            let is_kept = |part: &str| !begin.contains(part) || link.contains(part);
            assert!(is_kept("on=2026-02-10") && is_kept("sort=name"), "{link}");
        }
    }
    assert_eq!(females(&get(room.at, "/season?next=laying").body), ["F2 Sedge"]);
    assert_eq!(females(&get(room.at, "/season?next=hatch").body), ["F3"]);
    assert_eq!(females(&get(room.at, "/season?phase=laid").body), ["F3"]);
    assert_eq!(females(&get(room.at, "/season?phase=building").body), ["F1 Quill"]);
}

#[test]
fn it_is_sorted_as_asked() {
    // F2 was scanned at 30 mm, F1 at 24; F1 has moved to the end of the rack.
    let (mut all, ids) = drafts();
    for draft in &mut all {
        match &mut draft.fact {
            Fact::Checked(check) if check.female.0 == ids[1].1 => {
                check.found = Found::Scan(vec![Millimetres::new(30.0).unwrap()]);
            }
            _ => {}
        }
    }
    let (animal, tub) = (AnimalId(ids[0].1), Tub::new("R1-20").unwrap());
    all.push(draft(When::Day(day("2026-02-01")), Fact::Moved(Moved { animal, tub })));
    let room = serve(all, ids);
    let order = |sort: &str| {
        let page = get(room.at, &format!("/season?sort={sort}")).body;
        females(&page).join(", ")
    };
    assert_eq!(order("name"), "F1 Quill, F2 Sedge, F3");
    assert_eq!(order("size"), "F2 Sedge, F1 Quill, F3", "30 mm, 24 mm, not checked");
    assert_eq!(order("tub"), "F2 Sedge, F3, F1 Quill", "R1-02, R1-10, R1-20");
    assert_eq!(order("date"), "F2 Sedge, F1 Quill, F3", "32 mm is nearer to her at 30; no date");
    let season = season();
    let page = get(season.at, "/season").body;
    assert_eq!(*females(&page).last().unwrap(), "F3", "eggs of 2 Feb hatch after all else");
    for heading in [">This week", ">Within a month", ">Later"] {
        assert!(!get(season.at, "/season?sort=name").body.contains(heading), "{heading}");
    }
}

#[test]
fn words_are_looked_for_in_name_tub_and_genes() {
    let room = room();
    let found = |words: &str| {
        let page = get(room.at, &format!("/season?find={words}")).body;
        females(&page).join(", ")
    };
    assert_eq!(found("quill"), "F1 Quill");
    assert_eq!(found("R1-10"), "F3");
    assert_eq!(found("CLOWN+r1-0"), "F1 Quill, F2 Sedge", "every word is somewhere");
    let none = get(room.at, "/season?find=%3Cx-evil%3E&sort=size&on=2026-02-10");
    assert_eq!(none.status, 200);
    assert!(none.body.contains("No female is all of this at once"));
    assert!(none.body.contains("href=\"/season?on=2026-02-10\">show all 3</a>"), "and a way back");
    assert!(!none.body.contains("<x-evil>"));
    assert!(none.body.contains("name=\"on\" value=\"2026-02-10\""), "the form stays on the day");
}

#[test]
fn what_cannot_be_chosen_is_named() {
    let room = room();
    for bad in ["next=37", "phase=happy", "sort=random"] {
        let page = get(room.at, &format!("/season?{bad}"));
        assert_eq!(page.status, 400, "{bad}");
        assert!(page.body.contains("begin at Season again"), "{bad}");
    }
}

#[test]
fn a_made_up_room_steps_on_within_the_same_choice() {
    let room = crate::room::made_up("2026-02-10");
    let page = get(room.at, "/season?next=32&sort=size");
    assert_eq!(page.field("back"), "/season?next=32&#38;sort=size");
}

/// The day and the span behind a step of one strip's words.
fn told<'w>(words: &'w str, step: &str) -> &'w str {
    let part = words.split("; ").find(|part| part.starts_with(step));
    part.unwrap_or_else(|| panic!("no {step} in {words}"))
}

#[test]
fn a_strip_tells_and_draws_every_date() {
    let room = season();
    for (code, seen, ahead) in [
        ("F1", &[][..], &["32 mm", "40 mm", "ovulation", "pre-lay shed", "laying", "hatch"][..]),
        ("F2", &["ovulation seen 10 Jan", "pre-lay shed seen 30 Jan"], &["laying", "hatch"]),
        ("F3", &["laying seen 2 Feb"], &["hatch", "first shed", "first meal"]),
    ] {
        let page = get(room.at, &format!("/animal/{code}")).body;
        let strip = page.split("<svg class=\"strip wide\"").nth(1).unwrap();
        let strip = strip.split("</svg>").next().unwrap();
        let words = strip.split("<desc>").nth(1).unwrap().split(".</desc>").next().unwrap();
        for seen in seen {
            assert_eq!(told(words, seen), *seen, "{code}");
        }
        for step in ahead {
            let told = told(words, step);
            assert!(told.contains(", about "), "{code}: {told}");
            // The bar's label is the step with the very span of the words.
            let span = told.strip_prefix(step).unwrap().split(", about ").next().unwrap();
            let label = format!(">{step}{span}</text>");
            assert_eq!(strip.contains(&label), !step.ends_with("mm"), "{code}: {label}");
        }
        let n_bars = ahead.iter().filter(|step| !step.ends_with("mm")).count();
        assert_eq!(strip.matches("<rect class=\"span\"").count(), n_bars, "{code}");
        assert_eq!(strip.matches("class=\"span seen\"").count(), seen.len(), "{code}");
        assert!(words.contains("each span holds the day with 80 %"), "{code}");
    }
    let resting = get(crate::room::room().at, "/animal/F2").body;
    assert!(resting.contains("no dates: follicles have most likely not begun"));
}

#[test]
fn long_after_the_last_check_no_date_is_told_but_what_to_do() {
    let room = season();
    // F1 was scanned at 24 mm on 8 February: a fortnight on that says what is next.
    let soon = get(room.at, "/season?on=2026-02-22").body;
    assert!(soon.contains("next: 32 mm") && !soon.contains("too long to say"), "{soon}");
    assert!(!soon.contains("The last follicle check is of"));
    let late = get(room.at, "/season?on=2026-04-20&sort=name").body;
    let of = |page: &str, name: &str| {
        let section = page.split("<section class=\"female\">").find(|s| s.contains(name)).unwrap();
        section.split("<svg").next().unwrap().to_owned()
    };
    let hers = of(&late, "F1 Quill");
    let said =
        "last checked 8\u{a0}Feb\u{a0}2026, 71\u{a0}days\u{a0}ago: too long to say what is next";
    assert!(hers.contains(said) && !hers.contains("next: "), "{hers}");
    assert!(get(room.at, "/animal/F1?on=2026-04-20").body.contains(said));
    // What was seen to come after ovulation does not go by checks.
    assert!(!of(&late, "F2 Sedge").contains("last checked"));
    // She has no date ahead, and is counted so.
    let nothing = get(room.at, "/season?on=2026-04-20&next=nothing").body;
    assert!(females(&nothing).contains(&"F1 Quill"), "{:?}", females(&nothing));
}

#[test]
fn a_season_in_which_nobody_looked_says_so() {
    let room = room();
    let page = get(room.at, "/season?on=2026-08-20").body;
    let said = "The last follicle check is of 8 February 2026, 193 days ago";
    assert!(
        page.contains(said) && page.contains("href=\"/round/checks?on=2026-08-20\">"),
        "{page}"
    );
    assert!(page.contains("last checked 8\u{a0}Feb\u{a0}2026, before this cycle"), "{page}");
    assert!(page.contains("The newest record is of 9 February 2026"), "asked for a day, too");
    assert!(!get(room.at, "/season?on=2026-02-10").body.contains("The last follicle check"));
    // A room without any check is told what is missing.
    let (mut all, ids) = drafts();
    all.retain(|draft| !matches!(draft.fact, Fact::Checked(_)));
    let page = get(serve(all, ids).at, "/season").body;
    assert!(page.contains("No follicle check is written"), "{page}");
}

#[test]
fn a_strip_with_nothing_on_it_is_not_drawn() {
    let room = season();
    let now = get(room.at, "/season?on=2026-02-10").body;
    let years_on = get(room.at, "/season?on=2031-02-10").body;
    assert!(now.matches("<svg class=\"strip narrow\"").count() >= 3);
    assert_eq!(females(&years_on).len(), females(&now).len());
    assert!(!years_on.contains("<svg class=\"strip"), "five seasons on nothing is on it");
}
