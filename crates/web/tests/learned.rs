//! What the records say: the page with nothing to say, and with something.

use records::facts::LockLooked;
use records::words::Lock;
use records::{AnimalId, Fact};
use units::{Night, When};

use crate::room::{day, draft, drafts, room, serve};
use crate::wire::get;

#[test]
fn questions_without_an_answer_say_what_to_write() {
    let room = room();
    let page = get(room.at, "/learned");
    assert_eq!(page.status, 200);
    for words in ["Not to be told yet", "What to write down:", "nothing to compare.", "It takes "] {
        assert!(page.body.contains(words), "{words}");
    }
    assert!(page.body.contains("No effect could be looked at yet"));
    assert!(!page.body.contains("class=\"chart learned"));
    // From a desk by the navigation, from a phone by the foot.
    let home = get(room.at, "/").body;
    assert_eq!(home.matches("href=\"/learned\"").count(), 2);
}

#[test]
fn an_answer_has_its_picture_in_two_widths_and_in_words() {
    let (mut all, ids) = drafts();
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    for (male, every) in [("M1", 2), ("M2", 5)] {
        for n in 0..30 {
            let evening = day("2025-11-05") + 3 * n;
            let female = if n % 2 == 0 { id("F1") } else { id("F2") };
            let lock = if n % every == 0 { Lock::Seen } else { Lock::NoneSeen };
            let night = Night::beginning(evening);
            let fact = LockLooked { male: id(male), female, night, lock };
            all.push(draft(When::Day(evening + 1), Fact::LockLooked(fact)));
        }
    }
    let room = serve(all, ids);
    let page = get(room.at, "/learned").body;
    for form in ["narrow", "wide"] {
        assert!(page.contains(&format!("class=\"chart learned {form}\"")), "{form}");
    }
    assert!(page.contains("15 of 30 nights") && page.contains("6 of 30 nights"));
    let told = page.split("<desc>").nth(1).unwrap().split("</desc>").next().unwrap();
    assert!(told.starts_with("nights with a lock, 80 % intervals: M1 Slate "), "{told}");
    assert!(page.contains("Behind it: 60 nights somebody looked, 21 locks seen"));
    // Two males are compared with each other: one look.
    assert!(page.contains("One effect was looked at."));
    // As of a day before any night there is nothing to tell.
    let before = get(room.at, "/learned?on=2025-10-01").body;
    assert!(before.contains("No nights are written: nothing to compare."));
}
