//! Chances: she first, every male of the house beside her, one pair in full, plans by hand.

use crate::room::{Room, room, room_with};
use crate::wire::{Answer, get, post};

fn path(fields: &[(&str, &str)]) -> String {
    let escaped = |text: &str| -> String { text.bytes().map(|b| format!("%{b:02X}")).collect() };
    let fields: Vec<String> = fields.iter().map(|(n, v)| format!("{n}={}", escaped(v))).collect();
    format!("/chances?{}", fields.join("&"))
}

pub fn ask(room: &Room, fields: &[(&str, &str)]) -> Answer {
    let answer = get(room.at, &path(fields));
    assert_eq!(answer.status, 200, "{fields:?}");
    answer
}

/// The text of a page without its tags, blanks made one.
pub fn said(page: &Answer) -> String {
    let mut text = String::new();
    let mut is_tag = false;
    for c in page.body.chars() {
        match c {
            '<' => is_tag = true,
            '>' => {
                is_tag = false;
                text.push(' ');
            }
            c if !is_tag => text.push(if c == '\u{a0}' { ' ' } else { c }),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn it_begins_with_her_and_puts_every_male_beside_her() {
    let room = room();
    let first = get(room.at, "/chances").body;
    assert!(first.contains("href=\"/chances?her=F1\""), "{first}");
    let page = ask(&room, &[("her", "F1"), ("wish", "clown")]);
    let text = said(&page);
    for code in ["M1 Slate", "M2"] {
        assert!(text.contains(code), "{code}: {text}");
    }
    let order = (text.find("M1 Slate").unwrap(), text.find("M2").unwrap());
    assert!(order.0 < order.1, "the planned male comes first");
    assert!(text.contains("Planned, first choice"), "{text}");
    assert!(
        text.contains(
            "At least one clown among the hatchlings of a clutch of about 7 fertile eggs:"
        ),
        "{text}"
    );
}

/// Mendel (1866): two characters of which both parents carry one copy each give 9:3:3:1; for one
/// copy that is seen by itself, 1:2:1 among the looks.
#[test]
fn one_pair_shows_every_look_with_its_chance() {
    let room = room();
    let text =
        said(&ask(&room, &[("her", "het clown het albino"), ("him", "het clown het albino")]));
    for expected in [
        "normal 44.4 % het albino".to_owned(),
        "9 in 16".to_owned(),
        "albino 66.7 % het clown 18.8 % 3 in 16".to_owned(),
        "clown 66.7 % het albino 18.8 % 3 in 16".to_owned(),
        "albino clown 6.3 % 1 in 16".to_owned(),
    ] {
        let stated = expected.replace("44.4", "66.7");
        assert!(text.contains(&stated), "{stated}: {text}");
    }
    let text = said(&ask(&room, &[("her", "F1"), ("him", "M1")]));
    // Labels of animals without parents are trusted to 95 %, the rest is as common as .0198: each
    // carries clown with .9510, and .9510^2 / 4 = .2261 of the young show it.
    for expected in [
        "clown super pastel (killer clown) 5.7 % about 1 in 18",
        "clown pastel 11.3 % about 1 in 9",
        "pastel 64.5 % het clown 38.7 %",
    ] {
        assert!(text.contains(expected), "{expected}: {text}");
    }
}

/// 1-(1-p)^n by the table of binomial chances for n = 6: p = 1/4 gives .8220, 1/16 gives .3211; a
/// clutch shares the unknown genotype of a parent: 2/3 (1 - .5^6) = .65625, not .9122.
#[test]
fn at_least_one_is_reckoned_for_the_whole_clutch() {
    let room = room();
    for (her, him, wish, expected) in [
        ("het clown", "het clown", "clown", "82.2 %"),
        ("het clown het albino", "het clown het albino", "clown and albino", "32.1 %"),
        ("clown", "66% het clown", "clown", "65.6 %"),
    ] {
        let fields = [("her", her), ("him", him), ("wish", wish), ("eggs", "6")];
        let text = said(&ask(&room, &fields));
        let sentence =
            format!("Should no fertile egg fail but for its genes, at least one: {expected}");
        assert!(text.contains(&sentence), "{sentence}: {text}");
    }
}

/// By hatchlings on both pages, with the word that says so: of one normal egg by two visuals the 81 %
/// that hatch (Morrill et al. 2011), of two 1 - .19^2.
#[test]
fn at_least_one_is_told_alike_beside_every_male_and_of_one_pair() {
    let room = room_with("M1", Some("clown"));
    for (eggs, clutch, expected) in
        [("1", "a clutch of 1 fertile egg", "81 %"), ("2", "a clutch of 2 fertile eggs", "96.4 %")]
    {
        let sentence = format!("At least one clown among the hatchlings of {clutch}: {expected}");
        let fields = [("her", "clown"), ("wish", "clown"), ("eggs", eggs)];
        let house = said(&ask(&room, &fields));
        assert!(house.contains(&sentence), "{sentence}: {house}");
        assert!(house.contains("Of fertile eggs 81 % are taken to hatch"), "{house}");
        let pair = said(&ask(&room, &[&fields[..], &[("him", "M1")]].concat()));
        assert!(pair.contains(&sentence), "{sentence}: {pair}");
    }
}

#[test]
fn what_does_not_live_is_told_apart_from_what_hatches() {
    let room = room();
    let page = ask(&room, &[("her", "spider"), ("him", "spider")]);
    let text = said(&page);
    assert!(text.contains("none is known to hatch"), "{text}");
    assert!(text.contains("75 % of the fertile eggs can hatch"), "{text}");
    assert!(
        text.contains("spider 50 % 1 in 2 of hatchlings 66.7 %"),
        "two in three that hatch: {text}"
    );
    assert!(text.contains("Caution:"), "{text}");
    assert_eq!(page.body.matches("<figure>").count(), 3, "as laid, as hatched, the clutch");
}

#[test]
fn what_cannot_be_read_is_asked_and_nothing_is_reckoned() {
    let room = room();
    let text = said(&ask(&room, &[("her", "pastel clwn"), ("him", "M1")]));
    assert!(text.contains("“clwn”") && text.contains("clown"), "{text}");
    assert!(!text.contains("Look and hidden genes"), "nothing is reckoned: {text}");
    let page = ask(&room, &[("her", "F1"), ("wish", "clwn")]);
    assert!(page.body.contains("wish=clown"), "the near match is a link: {}", page.body);
    assert!(said(&page).contains("M1 Slate"), "the males stay");
    let text = said(&ask(&room, &[("her", "F1"), ("wish", "clown"), ("eggs", "many")]));
    assert!(text.contains("no number of eggs"), "{text}");
    let text = said(&ask(&room, &[("her", "M1")]));
    assert!(text.contains("M1 Slate is a male, and a female is needed here"), "{text}");
}

#[test]
fn a_male_whose_genes_leave_a_question_stays_in_the_list_with_it() {
    let room = room_with("M2", Some("pastel axanthic"));
    let page = ask(&room, &[("her", "F1")]);
    let text = said(&page);
    assert!(text.contains("His genes leave a question") && text.contains("“axanthic”"), "{text}");
    // Written anew, and taken back.
    let pair = ask(&room, &[("her", "F1"), ("him", "M2")]);
    let fields = [
        ("record", pair.field("record")),
        ("animal", room.id("M2")),
        ("day", pair.field("day")),
        ("genes", "pastel axanthic (line a)".to_owned()),
        ("back", "/chances?her=F1".to_owned()),
    ];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    let saved = post(room.at, "/genes", &fields);
    assert_eq!(saved.status, 303);
    let text = said(&get(room.at, saved.header("location").unwrap()));
    assert!(text.contains("Written: M2: genes pastel axanthic (line a)"), "{text}");
    assert!(!text.contains("leave a question"), "{text}");
    let unread = [fields[0], fields[1], fields[2], ("genes", "pastel axantic")];
    let record = store::new_id().to_string();
    let unread: Vec<_> =
        unread.into_iter().map(|(n, v)| (n, if n == "record" { &record } else { v })).collect();
    assert_eq!(post(room.at, "/genes", &unread).status, 400);
}

#[test]
fn an_animal_without_genes_says_so() {
    let room = room_with("M2", None);
    let text = said(&ask(&room, &[("her", "F1"), ("him", "M2")]));
    assert!(
        text.contains("No genes of his are written: reckoned by relatives, and by what is common"),
        "{text}"
    );
}

pub fn plan(room: &Room, page: &Answer, more: &[(&str, &str)]) -> Answer {
    let names = ["record", "batch", "female", "day", "back"];
    let mut fields: Vec<(&str, String)> = names.iter().map(|n| (*n, form_field(page, n))).collect();
    if page.body.contains("name=\"male\"") {
        fields.push(("male", form_field(page, "male")));
        fields.push(("second", form_field(page, "second")));
    }
    if page.body.contains("name=\"replaces\"") {
        fields.push(("replaces", form_field(page, "replaces")));
    }
    let mut fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    fields.extend(more);
    post(room.at, "/planned", &fields)
}

/// A field of the form that plans.
fn form_field(page: &Answer, name: &str) -> String {
    let form = page.body.split("action=\"/planned\"").nth(1).unwrap();
    let mark = format!("name=\"{name}\" value=\"");
    form.split(&mark).nth(1).unwrap().split('"').next().unwrap().replace("&#38;", "&")
}

#[test]
fn a_pair_planned_on_the_page_makes_tonight_move_her() {
    let room = room();
    // F3 has no plan by hand; F2 is planned with M1 and small still. M2 is free tonight and
    // still with F3. Plan M2 for F1, twice as much wanted as M1 is.
    let before = said(&get(room.at, "/"));
    assert!(before.contains("M1 Slate to F1 Quill"), "{before}");
    let pair = ask(&room, &[("her", "F1"), ("him", "M2")]);
    let written = room.written();
    let first = plan(&room, &pair, &[("choice", "first"), ("weight", "2,5")]);
    let again = plan(&room, &pair, &[("choice", "first"), ("weight", "2,5")]);
    assert_eq!((first.status, again.status), (303, 303), "{}", first.body);
    assert_eq!(room.written(), written + 1, "the same form twice is one record");
    let tonight = said(&get(room.at, "/"));
    assert!(tonight.contains("M2 , now with F3, to F1 Quill"), "{tonight}");

    let saved = get(room.at, first.header("location").unwrap());
    let text = said(&saved);
    assert!(text.contains("planned pair: F1 and M2, first choice"), "{text}");
    assert!(text.contains("Make it second choice"), "{text}");
    // Planned otherwise: one batch, one plan stands.
    let second = plan(&room, &saved, &[("choice", "second")]);
    assert_eq!(second.status, 303, "{}", second.body);
    let list = said(&ask(&room, &[("her", "F1")]));
    assert!(list.contains("Planned, second choice"), "{list}");
    assert!(!list.contains("weight 2.5"), "{list}");
    // Undone: the first plan stands again.
    let page = get(room.at, second.header("location").unwrap());
    let undo = ["record", "target", "kind"].map(|n| (n, page.field(n)));
    let undo: Vec<(&str, &str)> = undo.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    let list = said(&ask(&room, &[("her", "F1")]));
    assert!(list.contains("first choice, weight 2.5"), "{list}");
}

#[test]
fn a_female_nobody_planned_is_moved_once_a_gene_is_planned_for_her() {
    let room = room();
    let f2 = ask(&room, &[("her", "F3")]);
    let unread = plan(&room, &f2, &[("choice", "first"), ("carrying", "pastl")]);
    assert_eq!(unread.status, 400);
    let done = plan(&room, &f2, &[("choice", "first"), ("carrying", "clown or pastel")]);
    assert_eq!(done.status, 303, "{}", done.body);
    let text = said(&get(room.at, done.header("location").unwrap()));
    assert!(text.contains("any male with clown or pastel: first choice"), "{text}");
    assert!(text.contains("Planned, first choice as a male with clown or pastel"), "{text}");
}

#[test]
fn nonsense_is_refused_in_words() {
    let room = room();
    let pair = ask(&room, &[("her", "F1"), ("him", "M2")]);
    let before = room.written();
    for more in [
        &[][..],
        &[("choice", "third")],
        &[("choice", "first"), ("weight", "0")],
        &[("choice", "first"), ("weight", "much")],
        &[("choice", "first"), ("weight", "1000")],
    ] {
        assert_eq!(plan(&room, &pair, more).status, 400, "{more:?}");
    }
    assert_eq!(room.written(), before);
    let long = "clown and ".repeat(300);
    for path in [
        path(&[("her", "<script>alert(1)</script>")]),
        path(&[("her", "F1"), ("him", "\u{0}\"'><b>")]),
        path(&[("her", "F1"), ("wish", "((((((((((((((")]),
        path(&[("her", "F1"), ("wish", &long)]),
        path(&[("her", ""), ("him", "M1")]),
    ] {
        let answer = get(room.at, &path);
        assert!(answer.status < 500, "{path}: {}", answer.status);
        assert!(!answer.body.contains("<script>"), "{path}");
        assert!(!answer.body.contains("'><b>"), "{path}");
    }
}

/// Half sibs have young that are 12.5 % inbred, sire and daughter 25 % (Wright 1922).
#[test]
fn close_kin_is_a_caution_with_its_number_and_reason() {
    let (mut drafts, ids) = crate::room::drafts();
    let m1 = ids.iter().find(|(code, _)| *code == "M1").unwrap().1;
    for draft in &mut drafts {
        if let records::Fact::Added(added) = &mut draft.fact
            && ["F1", "M2"].contains(&added.code.as_str())
        {
            added.sire = Some(records::AnimalId(m1));
        }
    }
    let room = crate::room::serve(drafts, ids);
    let text = said(&ask(&room, &[("her", "F1")]));
    for wanted in [
        "Caution: young would be 25 % inbred: he is her sire",
        "Caution: young would be 12.5 % inbred: he is her half brother; both come from M1 (sire of both)",
    ] {
        assert!(text.contains(wanted), "{text}");
    }
    let text = said(&ask(&room, &[("her", "F1"), ("him", "M2")]));
    assert!(text.contains("he is her half brother; both come from M1 (sire of both)"), "{text}");
    assert!(text.contains("Only one parent of F1 is written."), "{text}");
    let text = said(&ask(&room, &[("her", "F2"), ("him", "M1")]));
    assert!(
        text.contains("No ancestor common to both is written. The parents of both are"),
        "{text}"
    );
}
