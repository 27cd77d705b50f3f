//! What an animal carries, and its family: on its page and on a page of its own.

use records::facts::{Change, Changed};
use records::{AnimalId, Fact};
use units::When;

use crate::chances::said;
use crate::room::{Room, draft, drafts, serve};
use crate::wire::get;

/// F2 is of F1 by M1; F3 is of F2, mated back to him.
fn room() -> Room {
    let (mut drafts, ids) = drafts();
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    for (young, change) in [
        ("F2", Change::Sire(id("M1"))),
        ("F2", Change::Dam(id("F1"))),
        ("F3", Change::Sire(id("M1"))),
        ("F3", Change::Dam(id("F2"))),
    ] {
        let changed = Changed { animal: id(young), change };
        drafts.push(draft(When::Undated, Fact::Changed(changed)));
    }
    serve(drafts, ids)
}

#[test]
fn everybody_is_drawn_once_as_a_link_and_the_loop_is_said() {
    let room = room();
    for page in ["/animal/F3", "/animal/F3/family", "/animal/M1/family?up=0&down=8&young=all"] {
        let answer = get(room.at, page);
        assert_eq!(answer.status, 200, "{page}");
        for form in ["class=\"kin narrow\"", "class=\"kin wide\""] {
            let chart = answer.body.split(form).nth(1).unwrap_or_else(|| panic!("{form}: {page}"));
            let chart = chart.split("</svg>").next().unwrap();
            for code in ["F1", "F2", "F3", "M1"] {
                let links = chart.matches(&format!("<a href=\"/animal/{code}\"")).count();
                assert_eq!(links, 1, "{code} in {page}: {chart}");
            }
        }
        let text = said(&answer);
        assert!(text.contains("M1 Slate is on both sides of"), "{page}: {text}");
    }
    let own = said(&get(room.at, "/animal/F3"));
    for words in [
        "M1 Slate is on both sides of F3.",
        // A daughter mated back to her sire: 1/4 (Wright 1922).
        "Inbreeding, by all written ancestors: 25 %",
        "F3 is of M1 Slate and F2 Sedge",
        "sire and dam&#39;s sire",
        "M1 Slate : parents not written.",
    ] {
        assert!(own.contains(words), "{words}: {own}");
    }
}

#[test]
fn an_animal_of_which_nothing_is_written_says_what_would_help() {
    let text = said(&get(room().at, "/animal/M2"));
    assert!(text.contains("No parents and no young are written"), "{text}");
}

/// Every animal of the room is "pastel het clown". Of F2, whose both parents are written, two hets'
/// young that shows nothing: 2 in 3 by textbook, whatever its label says.
#[test]
fn genes_are_told_with_the_label_beside_them_and_why() {
    let room = room();
    let page = get(room.at, "/animal/F2");
    let text = said(&page);
    for words in [
        "The label says het clown; all records together say",
        "Her sire M1 Slate is het clown",
        "Her label says het clown: not counted, as both parents are written.",
        "pastel",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let founder = said(&get(room.at, "/animal/M2"));
    assert!(
        founder.contains("counted with a trust of 95 %, as no parents are written"),
        "{founder}"
    );
    let blank = said(&get(crate::room::room_with("M2", None).at, "/animal/M2"));
    assert!(blank.contains("Nothing is known of its genes: no label, no look"), "{blank}");
}

#[test]
fn generations_that_cannot_be_drawn_are_refused_with_the_way_out() {
    let room = room();
    for asked in ["up=99", "down=-1", "up=x", "down=9"] {
        let answer = get(room.at, &format!("/animal/F3/family?{asked}"));
        assert_eq!(answer.status, 400, "{asked}");
        assert!(answer.body.contains("to up=8") || answer.body.contains("to down=8"), "{asked}");
    }
    assert_eq!(get(room.at, "/animal/nobody/family").status, 404);
}
