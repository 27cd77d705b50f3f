//! Text that a keeper, or somebody who sent them a sheet, could have meant as markup.

use records::facts::{Added, Checked, Held, Noted};
use records::{AnimalId, Code, Draft, Fact, Found, Sex};
use store::{new_id, now};
use units::When;

use crate::room::{day, serve};
use crate::wire::get;

const HOSTILE: &str = "</title><script>alert(1)</script>\"'><img src=x onerror=alert(2)>&amp;";

fn draft(when: When, fact: Fact) -> Draft {
    let (id, written) = (new_id(), now());
    Draft { id, when, written, who: HOSTILE.into(), batch: None, source: None, fact }
}

#[test]
fn markup_in_names_stays_text_on_every_page() {
    let code = "F<i>/\"'?#% .";
    let mut added = Added::with_code(Code::new(code).unwrap());
    added.name = Some(HOSTILE.into());
    added.sex = Some(Sex::Female);
    added.genes = Some(HOSTILE.into());
    added.tub = Some(records::Tub::new("<b>1").unwrap());
    let added = draft(When::Day(day("2020-01-01")), Fact::Added(added));
    let animal = AnimalId(added.id);
    let felt = Found::Felt(HOSTILE.into());
    let held = Held {
        sheet: HOSTILE.into(),
        headings: vec![HOSTILE.into()],
        cells: vec![HOSTILE.into()],
        column: HOSTILE.into(),
        value: HOSTILE.into(),
        readable: true,
        why: HOSTILE.into(),
        read_as: None,
    };
    let drafts = vec![
        added,
        draft(When::Day(day("2026-02-01")), Fact::Checked(Checked { female: animal, found: felt })),
        draft(
            When::Day(day("2026-02-02")),
            Fact::Noted(Noted { animal: Some(animal), text: HOSTILE.into() }),
        ),
        draft(When::Undated, Fact::Held(held)),
    ];
    let room = serve(drafts, vec![]);
    let list = get(room.at, "/animals").body;
    let link = list.split("<a href=\"/animal/").nth(1).unwrap().split('"').next().unwrap();
    let own = format!("/animal/{link}");
    let nowhere = format!("/animal/{}", "%3Cscript%3Ealert(1)%3C/script%3E".replace('/', "%2F"));
    for path in [
        "/",
        "/season",
        "/animals",
        "/desk",
        "/round/evening",
        "/round/feeding",
        "/round/feeding?rack=%3Cb%3E",
        "/round/checks",
        "/round/weights?all=1",
        &own,
        &nowhere,
    ] {
        let page = get(room.at, path);
        assert_eq!(page.status, if path == nowhere { 404 } else { 200 }, "{path}");
        for mark in ["<script>", "<img", "<i>", "<b>1", "\"'>"] {
            assert!(!page.body.contains(mark), "{path} lets {mark} through");
        }
    }
    assert!(get(room.at, &own).body.contains("&#60;script"), "and it is shown as text");
}
