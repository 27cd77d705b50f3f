//! Text that a keeper, or somebody who sent them a sheet, could have meant as markup.

use std::collections::BTreeSet;

use records::facts::{
    Added, Borrowed, Change, Changed, Checked, Fed, HatchedOut, Held, Incubated, Laid, Left,
    Looked, Noted, Placed, Planned, Reading, Set, SexTold, Tested, Treated, Weighed,
};
use records::words::{Choice, LabFound, Leaving};
use records::{
    AnimalId, ClutchId, Code, Draft, Fact, Found, Meal, Place, PlannedMale, ReadingKind, Sex,
    Source, StayEnd, Tub,
};
use store::{new_id, now};
use units::{Celsius, Grams, Millimetres, Night, When};

use crate::room::{Room, day, serve};
use crate::routes;
use crate::wire::{Answer, escaped, get_with, post_with, send_files};

const HOSTILE: &str = "</title><script>alert(1)</script>\"'><x-evil src=x onerror=alert(2)>&amp;";
/// What must not stand in any page as it was typed.
const MARKS: [&str; 4] = ["<script>", "<x-evil", "\"'>", "'><"];
/// Pages walked at most.
const MOST: usize = 600;

fn written(when: When, fact: Fact) -> Draft {
    let source = Some(Source { file: HOSTILE.into(), line: 1 });
    Draft { id: new_id(), when, written: now(), who: HOSTILE.into(), batch: None, source, fact }
}

fn on(text: &str, fact: Fact) -> Draft {
    written(When::Day(day(text)), fact)
}

fn added(code: &str, sex: Sex) -> Draft {
    let mut added = Added::with_code(Code::new(code).unwrap());
    added.name = Some(HOSTILE.into());
    added.sex = Some(sex);
    added.genes = Some(HOSTILE.into());
    added.clutch = Some(HOSTILE.into());
    added.tub = Some(Tub::new("<x-evil>\"'>1").unwrap());
    on("2020-01-01", Fact::Added(added))
}

fn tested(animal: AnimalId) -> Fact {
    let (gene, lab) = (HOSTILE.to_owned(), Some(HOSTILE.to_owned()));
    Fact::Tested(Tested { animal, gene, found: LabFound::Carries, lab, error: None })
}

/// A clutch that waits in a place of such a name.
fn in_a_box(female: AnimalId) -> Vec<Draft> {
    let clutch = Some(HOSTILE.to_owned());
    let laid =
        Laid { female, sire: None, clutch, eggs: Some(6), slugs: Some(1), mass: None, kept: None };
    let laid = on("2026-01-05", Fact::Laid(laid));
    let clutch = ClutchId(laid.id);
    let place = Place::new("<x-evil>\"'>2").unwrap();
    let put = on("2026-01-05", Fact::Incubated(Incubated { clutch, place: place.clone() }));
    let (kind, celsius) = (ReadingKind::Measured, Celsius::new(31.0).unwrap());
    let reading = Reading { place, kind, celsius, humidity: Some(80) };
    vec![laid, put, on("2026-01-06", Fact::Reading(reading))]
}

/// A room in which everything that can be text is hostile.
fn hostile_room() -> Room {
    let (f, m) = (added("F<x-evil>/\"'>?#% .", Sex::Female), added("M<x-evil>", Sex::Male));
    let gone = added("<script>", Sex::Female);
    let (female, male, left) = (AnimalId(f.id), AnimalId(m.id), AnimalId(gone.id));
    let mass = |grams| Grams::new(grams).unwrap();
    let treated = |animal| Treated { animal, begins: true, what: Some(HOSTILE.into()) };
    let scan = Found::Scan(vec![Millimetres::new(24.0).unwrap()]);
    let words = || HOSTILE.to_owned();
    let fed = |meal| Fact::Fed(Fed { animal: female, prey: words(), count: 2, meal });
    let planned = |male| Planned { female, male, choice: Choice::First, weight: 1.0 };
    let held = |readable| {
        Fact::Held(Held {
            sheet: words(),
            headings: vec![words()],
            cells: vec![words()],
            column: words(),
            value: words(),
            readable,
            why: words(),
            read_as: None,
        })
    };
    let night = When::Night(Night::beginning(day("2026-02-09")));
    let clutch = Some(words());
    let laid = Laid {
        female: left,
        sire: None,
        clutch,
        eggs: Some(3),
        slugs: Some(9),
        mass: None,
        kept: None,
    };
    let clutch_laid = on("2025-10-01", Fact::Laid(laid));
    let facts = vec![
        on("2026-02-01", Fact::Changed(Changed { animal: female, change: Change::Sire(male) })),
        on("2026-02-01", Fact::Weighed(Weighed { animal: female, mass: mass(2000.0) })),
        on("2026-02-01", Fact::Weighed(Weighed { animal: male, mass: mass(900.0) })),
        on("2026-02-01", Fact::Checked(Checked { female, found: Found::Felt(words()) })),
        on("2026-02-05", Fact::Checked(Checked { female, found: scan })),
        on("2026-02-02", Fact::Noted(Noted { animal: Some(female), text: words() })),
        on("2026-02-02", Fact::Noted(Noted { animal: None, text: words() })),
        on("2026-02-03", fed(Meal::Taken)),
        on("2026-02-03", fed(Meal::Refused)),
        on("2026-02-03", Fact::Looked(Looked { animal: female, look: words() })),
        on("2026-02-03", tested(female)),
        on("2026-01-01", Fact::Planned(planned(PlannedMale::Carrying(words())))),
        on("2026-01-02", Fact::Planned(planned(PlannedMale::Animal(male)))),
        on("2026-02-01", Fact::Quarantine(treated(left))),
        on("2026-02-01", Fact::Treatment(treated(left))),
        clutch_laid.clone(),
        on(
            "2025-12-01",
            Fact::HatchedOut(HatchedOut { clutch: ClutchId(clutch_laid.id), hatchlings: None }),
        ),
        on(
            "2026-02-02",
            Fact::SexTold(SexTold { animal: left, sex: Sex::Male, how: Some(words()) }),
        ),
        on("2026-02-03", Fact::Left(Left { animal: left, how: Leaving::Sold, to: Some(words()) })),
        on(
            "2026-01-01",
            Fact::Borrowed(Borrowed {
                animal: male,
                owner: words(),
                due: Some(day("2026-02-12")),
                share: Some(words()),
            }),
        ),
        written(night, Fact::Placed(Placed { male, female, ends: StayEnd::Open })),
        written(When::Undated, Fact::Set(Set { name: words(), value: words() })),
        written(
            When::Undated,
            Fact::Set(Set { name: "felt_words".into(), value: format!("{HOSTILE} = 1") }),
        ),
        written(When::Undated, held(true)),
        written(When::Undated, held(false)),
    ];
    serve([vec![f, m, gone], facts, in_a_box(female)].concat(), vec![])
}

fn cookies() -> String {
    format!("Cookie: name={}", escaped("\"'><x-evil>"))
}

fn is_inert(page: &Answer, path: &str) {
    assert!(page.status < 500, "{path}: {}", page.status);
    for mark in MARKS {
        assert!(!page.body.contains(mark), "{path} lets {mark} through");
    }
}

/// The addresses a page leads to.
fn links(page: &str) -> impl Iterator<Item = String> + '_ {
    let links = page.split("href=\"").skip(1).map(|rest| rest.split('"').next().unwrap());
    links
        .map(|link| link.replace("&#38;", "&").replace("&amp;", "&").replace("&#39;", "'"))
        .filter(|link| link.starts_with('/'))
        .map(|link| link.split('#').next().unwrap().to_owned())
}

#[test]
fn markup_in_names_stays_text_on_every_page() {
    let room = hostile_room();
    let sheet = format!("Date,Animal,{HOSTILE}\n2026-02-01,{HOSTILE},\"\"\"{HOSTILE}\"\n");
    let name = "x-evil.csv";
    let sent = send_files(room.at, "/import", &[(name, sheet.as_bytes())]);
    let preview = sent.header("location").unwrap();
    let mut waiting: Vec<String> = vec![preview.to_owned(), format!("{preview}/rows?sheet=0")];
    let hostile = escaped(HOSTILE);
    for route in routes::all().iter().filter(|route| route.is_page) {
        waiting.push(route.filled("1"));
        waiting.push(format!(
            "{}?find={hostile}&back=/{hostile}&her={hostile}",
            route.filled(HOSTILE)
        ));
    }
    waiting.push("/?on=2026-02-11".into());
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut answered: BTreeSet<String> = BTreeSet::new();
    while let Some(path) = waiting.pop() {
        if seen.len() >= MOST || !seen.insert(path.clone()) {
            continue;
        }
        let page = get_with(room.at, &path, &cookies());
        is_inert(&page, &path);
        if page.status == 200 {
            answered.insert(path.split('?').next().unwrap().to_owned());
        }
        // Every page leads to this one and back; once is enough. So is one size of a family.
        let is_new = |link: &String| {
            let is_family = link.contains("/family?up=") && !link.contains("?up=4&down=1");
            !link.starts_with("/you?back=") && !is_family
        };
        waiting.extend(links(&page.body).filter(is_new));
        waiting.extend(page.header("location").map(str::to_owned));
    }
    assert!(seen.len() < MOST, "the walk came to its end");
    for route in routes::all().iter().filter(|route| route.is_page) {
        // The key is asked for on the network only, /round leads on at once, a calendar is no page.
        let is_elsewhere = ["/key", "/round", "/calendar/{name}"].contains(&route.path);
        let is_walked = answered.iter().any(|path| route.is(path));
        assert!(is_walked || is_elsewhere, "{} was not met", route.path);
    }
    let name: String = HOSTILE.chars().take(40).collect();
    let calendar = crate::wire::post(room.at, "/calendar", &[("name", &name)]);
    assert_eq!(calendar.status, 200);
    is_inert(&calendar, "/calendar");
    let season = get_with(room.at, "/season", &cookies()).body;
    assert!(season.contains("&#60;x-evil") && season.contains("x-evil&#62; · g"), "shown as text");
}

#[test]
fn markup_in_a_form_stays_text_in_the_answer() {
    let room = hostile_room();
    for route in routes::all().iter().filter(|route| route.is_form) {
        let path = route.filled("1");
        for name in
            ["animal", "her", "grams", "mm", "word", "theme", "name", "key", "genes", "back"]
        {
            let fields = [("record", new_id().to_string()), (name, HOSTILE.to_owned())];
            let fields = fields.each_ref().map(|(n, v)| (*n, v.as_str()));
            let cookie = cookies();
            is_inert(&post_with(room.at, &path, &fields, &cookie["Cookie: ".len()..]), &path);
        }
    }
}
