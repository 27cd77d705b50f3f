//! Rows that wait are answered or left out; the records of a doubt are corrected or withdrawn.

use crate::room::{Room, day, draft, drafts, room, serve};
use crate::wire::{Answer, get, post, send_files};

fn import(room: &Room, sheet: &str) {
    import_as(room, "feeding.csv", sheet);
}

fn import_animals(room: &Room, sheet: &str) {
    import_as(room, "animals.csv", sheet);
}

fn import_as(room: &Room, name: &str, sheet: &str) {
    let sent = send_files(room.at, "/import", &[(name, sheet.as_bytes())]);
    let to = sent.header("location").unwrap().to_owned();
    let seen = get(room.at, &to).field("seen");
    assert_eq!(post(room.at, &format!("{to}/commit"), &[("seen", &seen)]).status, 303);
}

const TYPED_WRONG: &str = "Date,Animal,Prey,Ate\n2026-02-04,F1O,rat,y\n2026-02-05,F1O,rat,n\n\
    2026-02-05,F1O,rat,n\n2026-02-06,F2,rat,y\n";

fn answer(room: &Room, page: &Answer, path: &str, more: &[(&str, &str)]) -> Answer {
    let names = ["record", "held", "n"];
    let own = names.map(|name| {
        page.body.split("action=\"/desk/answer\"").nth(1).map_or_else(String::new, |form| {
            let mark = format!("name=\"{name}\" value=\"");
            form.split(&mark).nth(1).unwrap().split('"').next().unwrap().to_owned()
        })
    });
    let mut fields: Vec<(&str, &str)> =
        names.iter().zip(&own).map(|(n, v)| (*n, v.as_str())).collect();
    fields.extend(more);
    post(room.at, path, &fields)
}

fn undo(room: &Room, told: &Answer) {
    let fields = ["record", "target", "kind"].map(|name| (name, told.field(name)));
    let fields = fields.each_ref().map(|(n, v)| (*n, v.as_str()));
    assert_eq!(post(room.at, "/undo", &fields).status, 303);
}

#[test]
fn one_answer_serves_every_row_with_the_question() {
    let room = room();
    import(&room, TYPED_WRONG);
    let before = room.written();
    let desk = get(room.at, "/desk");
    assert!(desk.body.contains("3 rows waiting"), "{}", desk.body);
    assert!(desk.body.contains("Save for these 3 rows"));
    assert!(desk.body.contains("<option value=\"F1\">"), "a near match is offered");
    let bad = answer(&room, &desk, "/desk/answer", &[("rows", "all"), ("answer", "F99")]);
    assert!(bad.status == 400 && bad.body.contains("No animal has the code"), "{}", bad.body);
    assert_eq!(room.written(), before, "a wrong answer writes nothing");
    let good = answer(&room, &desk, "/desk/answer", &[("rows", "all"), ("answer", "F1")]);
    assert_eq!(good.status, 303, "{}", good.body);
    assert_eq!(room.written(), before + 6, "three meals, two of them alike, and three rows done");
    let again = answer(&room, &desk, "/desk/answer", &[("rows", "all"), ("answer", "F1")]);
    assert_eq!((again.status, room.written()), (303, before + 6), "sent twice, written once");
    let told = get(room.at, good.header("location").unwrap());
    assert!(told.body.contains("0 rows waiting"), "{}", told.body);
    assert!(told.body.contains("Written: F1 "), "{}", told.body);
    assert!(get(room.at, "/animal/F1").body.contains("feeding.csv"), "the sheet is named");
    undo(&room, &told);
    assert!(get(room.at, "/desk").body.contains("3 rows waiting"), "they wait again");
}

#[test]
fn both_records_of_a_doubt_can_be_right() {
    let (mut drafts, ids) = drafts();
    let animal = records::AnimalId(ids.iter().find(|(code, _)| *code == "F2").unwrap().1);
    for _ in 0..2 {
        let (prey, count, meal) = ("quail".to_owned(), 1, records::Meal::Taken);
        let fed = records::facts::Fed { animal, prey, count, meal };
        drafts.push(draft(units::When::Day(day("2026-01-01")), records::Fact::Fed(fed)));
    }
    let room = serve(drafts, ids);
    let feeding = get(room.at, "/round/feeding?rack=R1").body;
    assert!(feeding.contains("value=\"1\" inputmode"), "written twice, it is one ration");
    let before = room.written();
    let desk = get(room.at, "/desk").body;
    assert!(desk.contains("1 doubt") && desk.contains("Both are right"), "{desk}");
    let form = desk.split("action=\"/desk/right\"").nth(1).unwrap();
    let form = form.split("</form>").next().unwrap();
    let value =
        |input: &str| input.split("value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    let inputs: Vec<String> = form.split("<input").skip(1).map(value).collect();
    let names = ["record", "right", "right", "back"];
    let fields: Vec<(&str, &str)> =
        names.into_iter().zip(inputs.iter().map(String::as_str)).collect();
    for _ in 0..2 {
        let sent = post(room.at, "/desk/right", &fields);
        assert_eq!(sent.status, 303, "{}", sent.body);
        assert_eq!(room.written(), before + 2, "sent twice, written once");
        let told = get(room.at, sent.header("location").unwrap());
        assert!(told.body.contains("0 doubts"), "{}", told.body);
        assert!(told.body.contains("both are right: F2 ate quail; F2 ate quail"), "{}", told.body);
    }
    let feeding = get(room.at, "/round/feeding?rack=R1").body;
    assert!(feeding.contains("value=\"2\" inputmode"), "{feeding}");
    let other = store::new_id().to_string();
    let gone = post(room.at, "/desk/right", &[("record", other.as_str()), fields[1], fields[2]]);
    assert_eq!((gone.status, room.written()), (404, before + 2), "{}", gone.body);
    undo(&room, &get(room.at, &format!("/desk?saved={}", inputs[0])));
    assert!(get(room.at, "/desk").body.contains("1 doubt"), "an undo puts it back");
}

#[test]
fn one_row_is_answered_alone_and_the_others_are_left_out() {
    let room = room();
    import(&room, TYPED_WRONG);
    let desk = get(room.at, "/desk");
    let one = answer(&room, &desk, "/desk/answer", &[("rows", "first"), ("answer", "F1")]);
    assert_eq!(one.status, 303, "{}", one.body);
    let desk = get(room.at, "/desk");
    assert!(desk.body.contains("2 rows waiting"), "{}", desk.body);
    let out = answer(&room, &desk, "/desk/left-out", &[("rows", "all")]);
    let told = get(room.at, out.header("location").unwrap());
    assert!(told.body.contains("Written: 2 rows left out"), "{}", told.body);
    assert!(told.body.contains("0 rows waiting"));
    import_again_asks_nothing(&room);
    undo(&room, &told);
    assert!(get(room.at, "/desk").body.contains("2 rows waiting"), "an undo puts them back");
}

fn import_again_asks_nothing(room: &Room) {
    let sent = send_files(room.at, "/import", &[("feeding.csv", TYPED_WRONG.as_bytes())]);
    let page = get(room.at, sent.header("location").unwrap());
    assert!(page.body.contains("4 rows: 4 already there"), "{}", page.body);
}

#[test]
fn an_unrecognised_sheet_is_answered_with_what_it_lists() {
    let room = room();
    import(&room, "What,Whither\nblue,up\nred,down\n");
    let desk = get(room.at, "/desk");
    assert!(desk.body.contains("2 rows waiting"), "{}", desk.body);
    let bad = answer(&room, &desk, "/desk/answer", &[("rows", "all"), ("answer", "wombats")]);
    assert!(bad.status == 400 && bad.body.contains("one of: animals, weights"), "{}", bad.body);
}

#[test]
fn rows_that_come_in_with_their_sheet_wait_no_longer() {
    let room = room();
    let sheet = "What,Whither,Heft\nF1,2026-02-04,2110\nF1,2026-02-05,2112\n";
    import(&room, sheet);
    let desk = get(room.at, "/desk").body;
    assert!(desk.contains("2 rows waiting"), "{desk}");
    let sent = send_files(room.at, "/import", &[("weights.csv", sheet.as_bytes())]);
    let to = sent.header("location").unwrap().to_owned();
    let told =
        [("sheet", "0"), ("kind", "weights"), ("c0", "animal"), ("c1", "date"), ("c2", "weight")];
    assert_eq!(post(room.at, &format!("{to}/read"), &told).status, 303);
    let page = get(room.at, &to);
    assert!(page.body.contains("2 rows: 2 in"), "{}", page.body);
    let seen = page.field("seen");
    assert_eq!(post(room.at, &format!("{to}/commit"), &[("seen", &seen)]).status, 303);
    assert!(get(room.at, "/desk").body.contains("0 rows waiting"));
}

#[test]
fn answers_full_of_nonsense_are_refused_in_words() {
    let room = room();
    import(&room, TYPED_WRONG);
    let before = room.written();
    let desk = get(room.at, "/desk");
    let long = "x".repeat(10_000);
    for value in ["", "  ", "\u{0}", "<script>", "\"\n\",,", &long] {
        let more = [("rows", "all"), ("answer", value)];
        let answer = answer(&room, &desk, "/desk/answer", &more);
        assert_eq!(answer.status, 400, "{value:?}");
        assert!(!answer.body.contains("<script>"));
    }
    let other = [("rows", "all"), ("answer", "F1"), ("record", "x")];
    assert_eq!(post(room.at, "/desk/answer", &other).status, 400);
    let id = store::new_id().to_string();
    for path in ["/desk/answer", "/desk/left-out"] {
        let fields = [("record", id.as_str()), ("held", &id), ("answer", "F1"), ("rows", "all")];
        assert_eq!(post(room.at, path, &fields).status, 404, "{path}");
    }
    assert_eq!(room.written(), before);
}

#[test]
fn the_records_of_a_doubt_are_corrected_or_withdrawn_from_the_desk() {
    use records::Fact;
    use records::facts::Placed;
    let (mut all, ids) = drafts();
    let id = |code: &str| records::AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    let placed = Placed { male: id("M1"), female: id("F3"), ends: records::StayEnd::NextNoon };
    let night = units::When::Night(units::Night::beginning(day("2026-02-09")));
    all.push(draft(night, Fact::Placed(placed)));
    let room = serve(all, ids);
    let desk = get(room.at, "/desk");
    assert!(desk.body.contains("1 doubt"), "{}", desk.body);
    let form = desk.body.split("action=\"/undo\"").nth(1).unwrap();
    let field = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        form.split(&mark).nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let (record, target) = (field("record"), field("target"));
    let fields =
        [("record", record.as_str()), ("target", &target), ("kind", "record"), ("back", "/desk")];
    let gone = post(room.at, "/undo", &fields);
    assert_eq!(gone.status, 303);
    let after = get(room.at, gone.header("location").unwrap());
    assert!(
        after.body.contains("0 doubts") && after.body.contains("Put it back"),
        "{}",
        after.body
    );
}

const DOES_NOT_FIT: &str = "ID,Sex,Hatch date,Genetics,Sire,Dam\nM7,1.0,2019-06-01,Super Pastel,,\n\
    F7,0.1,2018-06-01,Normal,,\nK1,0.1,2022-07-01,Pastel,M7,F7\nK2,0.1,2022-07-01,Normal,M7,F7\n";

#[test]
fn records_about_genes_that_do_not_fit_are_named_with_what_resolves_it() {
    let room = room();
    assert!(!get(room.at, "/desk").body.contains("Genes that do not fit"));
    import_animals(&room, DOES_NOT_FIT);
    let desk = get(room.at, "/desk").body;
    for said in [
        "pastel: 3 records cannot all be true",
        "K2 is written as \u{201c}Normal\u{201d}",
        "All else fits if one of these is so",
        "M7 is not the sire of K1, K2",
    ] {
        assert!(desk.contains(said), "{said} is missing in {desk}");
    }
    for (said, form) in [
        ("Correct the label", "/animal/K2?write=genes#write-genes"),
        ("Correct the sire of K1", "/animal/K1?write=sire#write-sire"),
    ] {
        assert!(desk.contains(&format!("href=\"{form}\">{said}</a>")), "{form}: {desk}");
        let page = get(room.at, form.split('#').next().unwrap()).body;
        let opened = page.split(" open>").nth(1).unwrap();
        let opened = opened.split("</details>").next().unwrap();
        assert!(opened.contains("name=\"record\""), "{opened}");
    }
    let page = get(room.at, "/animal/K2").body;
    assert!(page.contains("cannot all be true") && page.contains("href=\"/desk\""), "{page}");
    assert!(get(room.at, "/animals").body.contains("genes do not fit: see Desk"));
}

const MALE_AS_DAM: &str = "ID,Sex,Hatch date,Genetics,Sire,Dam\nM7,1.0,2019-06-01,Pastel,,\n\
    M8,1.0,2019-06-01,Normal,,\nK1,0.1,2022-07-01,Pastel,M7,M8\nK2,0.1,2022-07-01,Normal,M7,M8\n";

/// A male written as a dam: she may be another, or he a female after all.
#[test]
fn a_male_written_as_a_dam_leads_to_the_dam_and_to_his_sex() {
    let room = room();
    import_animals(&room, MALE_AS_DAM);
    let desk = get(room.at, "/desk").body;
    let said =
        "M8 is told male but written as the dam of K1, K2, and so left out of their parents.";
    assert_eq!(desk.matches(said).count(), 1, "{desk}");
    for (said, form, title) in [
        ("Correct the dam of K1", "/animal/K1?write=dam#write-dam", "<summary>Dam</summary>"),
        ("Correct the sex of M8", "/animal/M8?write=sex#write-sex", "<summary>Sex: male</summary>"),
    ] {
        assert!(desk.contains(&format!("href=\"{form}\">{said}</a>")), "{form}: {desk}");
        let page = get(room.at, form.split('#').next().unwrap()).body;
        let opened = page.split(" open>").nth(1).unwrap();
        assert!(opened.starts_with(title), "{opened}");
    }
    let sexed = get(room.at, "/animal/M8?write=sex").body;
    let form = sexed.split("action=\"/sex-told\"").nth(1).unwrap();
    let field = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        form.split(&mark).nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let (record, animal, day) = (field("record"), field("animal"), field("day"));
    let fields =
        [("record", record.as_str()), ("animal", &animal), ("day", &day), ("sex", "female")];
    assert_eq!(post(room.at, "/sex-told", &fields).status, 303);
    let desk = get(room.at, "/desk").body;
    assert!(!desk.contains("M8 is told"), "{desk}");
}

/// The doubts about sexes lead to the same forms, and a female that stands with males and lays to hers.
#[test]
fn a_doubt_about_a_sex_leads_to_the_forms_that_settle_it() {
    let room = room();
    import_animals(&room, MALE_AS_DAM);
    let form = get(room.at, "/animal/F1?write=sex").body;
    let form = form.split("action=\"/sex-told\"").nth(1).unwrap();
    let field = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        form.split(&mark).nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let (record, animal, day) = (field("record"), field("animal"), field("day"));
    let fields = [("record", record.as_str()), ("animal", &animal), ("day", &day), ("sex", "male")];
    assert_eq!(post(room.at, "/sex-told", &fields).status, 303);
    let desk = get(room.at, "/desk").body;
    let doubts = desk.split("<h2>Doubts</h2>").nth(1).unwrap();
    for (said, form) in [
        ("M8 is told male but is the dam of K1.", "/animal/K1?write=dam#write-dam"),
        ("M8 is told male but is the dam of K1.", "/animal/M8?write=sex#write-sex"),
        ("F1 is told male but stands as a female in", "/animal/F1?write=sex#write-sex"),
    ] {
        let of = doubts.split("<b>wrong sex</b>").find(|doubt| doubt.contains(said)).unwrap();
        assert!(of.contains(&format!("href=\"{form}\"")), "{form}: {of}");
    }
}

#[test]
fn a_logger_without_a_place_asks_one_question() {
    let room = room();
    let rows: String = (1..=9).map(|n| format!("2026-02-0{n},08:00,31.{n}\n")).collect();
    let sheet = format!("Date,Time,Temperature C\n{rows}");
    let sent = send_files(room.at, "/import", &[("logger.csv", sheet.as_bytes())]);
    let to = sent.header("location").unwrap().to_owned();
    let preview = get(room.at, &to).body;
    let asked = preview.split("How it is read").next().unwrap();
    assert_eq!(asked.matches("recognised as place").count(), 1, "{asked}");
    import_as(&room, "logger.csv", &sheet);
    let before = room.written();
    let desk = get(room.at, "/desk");
    assert!(desk.body.contains("Save for these 9 rows"), "{}", desk.body);
    assert_eq!(desk.body.matches("action=\"/desk/answer\"").count(), 1, "{}", desk.body);
    let good = answer(&room, &desk, "/desk/answer", &[("rows", "all"), ("answer", "incubator 1")]);
    assert_eq!((good.status, room.written()), (303, before + 18), "{}", good.body);
    let told = get(room.at, good.header("location").unwrap());
    assert!(told.body.contains("0 rows waiting"), "{}", told.body);
    assert!(get(room.at, "/eggs").body.contains("incubator 1: 31.4 °C"));
    undo(&room, &told);
    assert!(get(room.at, "/desk").body.contains("Save for these 9 rows"), "one undo takes it back");
}
