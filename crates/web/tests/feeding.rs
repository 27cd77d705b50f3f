//! A rack is fed in one step; checks and weights are walked one by one.

use crate::room::{Room, room};
use crate::wire::{Answer, get, post};

type Pairs = Vec<(String, String)>;

fn borrowed(fields: &[(String, String)]) -> Vec<(&str, &str)> {
    fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect()
}

/// Every hidden, text and date field of the page's form of feeding, as a browser sends it.
fn fields(page: &Answer) -> Pairs {
    let form = page.body.split("action=\"/fed/rack\"").nth(1).unwrap();
    let form = form.split("</form>").next().unwrap();
    let attribute = |input: &str, name: &str| {
        let mark = format!(" {name}=\"");
        let rest = input.split(&mark).nth(1)?;
        Some(rest.split('"').next().unwrap().to_owned())
    };
    let inputs = form.split("<input").skip(1).map(|i| i.split('>').next().unwrap());
    let sent = inputs.filter(|i| !i.contains("type=\"checkbox\""));
    sent.map(|i| (attribute(i, "name").unwrap(), attribute(i, "value").unwrap_or_default()))
        .collect()
}

/// The room without its plans, so that nobody is to be placed.
fn unplanned() -> Room {
    let (mut drafts, ids) = crate::room::drafts();
    drafts.retain(|draft| !matches!(draft.fact, records::Fact::Planned(_)));
    crate::room::serve(drafts, ids)
}

fn rack(room: &Room, name: &str) -> Pairs {
    fields(&get(room.at, &format!("/round/feeding?rack={name}")))
}

#[test]
fn feeding_opens_with_who_is_due_and_what_to_thaw() {
    let room = room();
    let page = get(room.at, "/round/feeding").body;
    assert!(page.contains("<h1>1 due</h1>"), "F2; M2 and F3 are together, F1 was fed");
    let (before, after) = page.split_once("To be placed tonight: feed after").unwrap();
    assert!(before.contains("<strong>1</strong> <span>medium rat</span>"), "{before}");
    assert!(!before.contains("small rat"), "M1 goes in with F1 tonight");
    assert!(after.contains("1 more due, not counted above"), "{after}");
    assert!(after.contains("<strong>1</strong> <span>small rat</span>"), "{after}");
    assert!(page.contains("href=\"/round/feeding?rack=R1\">Begin at R1"));
    let sheet = page.split("class=\"paper-only sheet\"").nth(1).unwrap();
    assert!(sheet.contains("F2 Sedge") && sheet.contains("not tonight: in company"));
    let one = get(room.at, "/round/feeding?rack=R1").body;
    assert!(one.contains("All took it, but:") && one.contains("with M2 tonight"));
    assert!(!one.contains(" checked"), "nothing is ticked beforehand");
    let his = get(room.at, "/round/feeding?rack=R2").body;
    assert!(his.contains("to be placed with F1 Quill tonight"), "{his}");
    assert!(his.contains(&format!("name=\"also.{}\" value=\"taken\"", room.id("M1"))));
}

#[test]
fn a_rack_is_one_batch_written_once_and_undone_at_once() {
    let room = unplanned();
    let before = room.written();
    let mut form = rack(&room, "R1");
    assert_eq!(room.written(), before, "looking writes nothing");
    form.push((format!("also.{}", room.id("F1")), "taken".into()));
    form.push((format!("but.{}", room.id("F2")), "refused".into()));
    let saved = post(room.at, "/fed/rack", &borrowed(&form));
    assert_eq!(saved.status, 303, "{}", saved.body);
    assert_eq!(post(room.at, "/fed/rack", &borrowed(&form)).status, 303);
    assert_eq!(room.written(), before + 2, "the same form twice is one batch");
    let next = get(room.at, saved.header("location").unwrap());
    assert!(next.body.contains("<h1>R2</h1>"), "the next rack where somebody is due");
    assert!(next.body.contains("F2 refused medium rat; F1 ate rat"), "{}", next.body);
    assert_eq!(next.field("kind"), "batch");
    assert!(get(room.at, "/animal/F1").body.contains("F1 ate rat"));
    let undo = [("record", next.field("record")), ("target", next.field("target"))];
    let mut undo: Pairs = undo.map(|(n, v)| (n.to_owned(), v)).into();
    undo.push(("kind".into(), "batch".into()));
    assert_eq!(post(room.at, "/undo", &borrowed(&undo)).status, 303);
    let again = get(room.at, "/round/feeding").body;
    assert!(again.contains("<h1>2 due</h1>"), "everybody is due again");
}

#[test]
fn the_others_took_it_and_prey_can_be_changed_for_one() {
    let room = unplanned();
    let mut form = rack(&room, "R2");
    let m1 = room.id("M1");
    for (name, value) in &mut form {
        if *name == format!("prey.{m1}") {
            *value = "weaned rat".into();
        }
        if *name == format!("count.{m1}") {
            *value = "2".into();
        }
    }
    let saved = post(room.at, "/fed/rack", &borrowed(&form));
    assert_eq!(saved.status, 303);
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(next.contains("M1 ate 2 × weaned rat"), "{next}");
    assert!(next.contains("<h1>1 due</h1>"), "behind the last rack come the counts");
}

#[test]
fn what_cannot_be_taken_is_said_and_nothing_is_written() {
    let room = room();
    let before = room.written();
    let f2 = room.id("F2");
    let form = rack(&room, "R1");
    let with = |name: &str, value: &str| {
        let mut form: Pairs = form.iter().filter(|(n, _)| n != name).cloned().collect();
        form.push((name.to_owned(), value.to_owned()));
        form
    };
    let mut both = with(&format!("but.{f2}"), "refused");
    both.push((format!("but.{f2}"), "not offered".into()));
    let said = post(room.at, "/fed/rack", &borrowed(&both));
    assert!(said.status == 400 && said.body.contains("Two answers are ticked for F2 Sedge"));
    let future = post(room.at, "/fed/rack", &borrowed(&with("day", "2026-02-11")));
    assert!(future.status == 400 && future.body.contains("11 February 2026 is still to come"));
    let long = "x".repeat(65);
    for (name, value) in [("prey", ""), ("prey", long.as_str()), ("count", "0"), ("count", "many")]
    {
        let bad = with(&format!("{name}.{f2}"), value);
        assert_eq!(post(room.at, "/fed/rack", &borrowed(&bad)).status, 400, "{name} {value}");
    }
    let nobody = with(&format!("but.{f2}"), "not offered");
    let said = post(room.at, "/fed/rack", &borrowed(&nobody));
    assert!(said.status == 400 && said.body.contains("Nobody was offered food"));
    for path in ["/fed", "/fed/rack"] {
        for value in ["", "0", "🐍", "\u{0}"] {
            let names = ["record", "batch", "animal", "due", "day", "meal", "prey"];
            let nonsense: Vec<(&str, &str)> = names.iter().map(|n| (*n, value)).collect();
            assert!((400..500).contains(&post(room.at, path, &nonsense).status), "{path}");
        }
    }
    assert_eq!(room.written(), before);
}

#[test]
fn checks_are_walked_in_rack_order_and_can_be_skipped() {
    let room = room();
    // F3 was never checked and is placed: hers is the one check that is due.
    let page = get(room.at, "/round/checks");
    assert!(page.body.contains("<h1>R1-10</h1>"), "{}", page.body);
    for answer in ["Save scan, next", "Nothing felt", "hen egg", "Skip"] {
        assert!(page.body.contains(answer), "{answer}");
    }
    let skip = format!("/round/checks?after={}", room.id("F3"));
    assert!(get(room.at, &skip).body.contains("<h1>End of the walk</h1>"));
    let names = ["record", "animal", "after", "back"];
    let mut form: Pairs = names.map(|n| (n.to_owned(), page.field(n))).into();
    form.push(("day".into(), "2026-02-10".into()));
    form.push(("felt".into(), "hen egg".into()));
    let saved = post(room.at, "/checked", &borrowed(&form));
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(next.contains("F3 follicle check: felt hen egg"), "{next}");
    assert!(next.contains("✓ R1-10 F3"), "she stays on the walk");
}

#[test]
fn weights_go_by_the_list_then_by_everybody() {
    let room = room();
    let list = get(room.at, "/round/weights").body;
    assert!(list.contains("Nobody to weigh") && list.contains("/round/weights?all=1"));
    let page = get(room.at, "/round/weights?all=1");
    assert!(page.body.contains("<h1>R1-01</h1>"));
    let names = ["record", "animal", "after", "back"];
    let mut form: Pairs = names.map(|n| (n.to_owned(), page.field(n))).into();
    form.push(("day".into(), "2026-02-10".into()));
    form.push(("grams".into(), "2 155".into()));
    let saved = post(room.at, "/weighed", &borrowed(&form));
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(next.contains("F1 weighed 2155 g") && next.contains("<h1>R1-02</h1>"), "{next}");
}

#[test]
fn every_part_of_the_round_leads_to_the_others() {
    let room = room();
    for part in ["evening", "morning", "feeding", "checks", "weights"] {
        let page = get(room.at, &format!("/round/{part}?on=2026-02-10"));
        assert_eq!(page.status, 200, "{part}");
        for other in ["evening", "morning", "feeding", "checks", "weights"] {
            let link = format!("href=\"/round/{other}?on=2026-02-10\"");
            assert!(page.body.contains(&link), "{part} to {other}");
        }
    }
    assert_eq!(get(room.at, "/round/feeding?rack=nowhere").status, 200);
}

#[test]
fn a_whole_rack_is_fed_along_but_nobody_twice_on_a_day() {
    let room = room();
    let due = get(room.at, "/round/feeding?rack=R1").body;
    assert!(due.contains("Feed the whole rack: 1 more"), "F1 is not due yet");
    let whole = get(room.at, "/round/feeding?rack=R1&whole=1");
    assert!(whole.body.contains("2 on the whole rack"), "{}", whole.body);
    let form = fields(&whole);
    let saved = post(room.at, "/fed/rack", &borrowed(&form));
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(next.contains("F1 ate rat; F2 ate medium rat"), "{next}");
    let again = get(room.at, "/round/feeding?rack=R1&whole=1").body;
    assert!(again.contains("0 on the whole rack"), "{again}");
}
