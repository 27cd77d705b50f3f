//! Settings on the command line.

use crate::program::Folder;

#[test]
fn a_setting_is_listed_set_and_taken_back() {
    let folder = Folder::with_room();
    let all = folder.ask(&["setting", "--json"]).json();
    assert_eq!(all["zone"], "UTC");
    assert!(all["settings"].as_array().unwrap().len() > 40);
    let set = folder.ask(&["setting", "rest_after_lock", "4", "--on", "2026-02-10", "--json"]);
    assert_eq!(set.code, 0, "{}", set.err);
    let one = set.json()["settings"][0].clone();
    assert_eq!(
        (&one["value"], &one["default"], &one["since"]),
        (&"4".into(), &"2".into(), &"2026-02-10".into())
    );
    let before = folder.ask(&["setting", "rest_after_lock", "--on", "2026-02-09", "--json"]).json();
    assert_eq!(before["settings"][0]["value"], "2", "it holds from its day on");
    let back =
        folder.ask(&["setting", "rest_after_lock", "default", "--on", "2026-02-11", "--json"]);
    assert_eq!(back.json()["settings"][0]["value"], "2");
    let text = folder.ask(&["setting", "rest_after_lock"]).out;
    assert!(text.contains("nights a male rests after a lock"), "{text}");
}

#[test]
fn unknown_names_and_unreadable_values_are_refused_with_what_is_possible() {
    let folder = Folder::with_room();
    let unknown = folder.ask(&["setting", "rest_after_lunch", "4"]);
    assert_eq!(unknown.code, 1);
    assert!(unknown.err.contains("rest_after_lock"), "{}", unknown.err);
    let unreadable = folder.ask(&["setting", "second_clutch", "perhaps", "--json"]);
    assert_eq!(unreadable.code, 1);
    assert!(unreadable.err.contains("yes or no"), "{}", unreadable.err);
    assert_eq!(folder.ask(&["setting", "zone", "Mars/North"]).code, 1);
    assert_eq!(
        folder.ask(&["setting", "second_clutch", "--json"]).json()["settings"][0]["value"],
        "no"
    );
}
