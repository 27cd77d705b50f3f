//! Whatever is typed into an address or a form: an answer in words, never a fault of the server.

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

use crate::room::{Room, room};
use crate::routes::{self, Route};
use crate::wire::{Answer, escaped, get_with, post, post_from, send_files, send_multipart};

/// Names of fields: those of every template, and those that only addresses carry.
fn fields() -> Vec<String> {
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/templates");
    let files = std::fs::read_dir(dir).unwrap().map(|file| file.unwrap().path());
    let text: String = files.map(|path| std::fs::read_to_string(path).unwrap()).collect();
    let named = text.split(" name=\"").skip(1).map(|rest| rest.split('"').next().unwrap());
    let mut names: Vec<String> =
        named.filter(|name| !name.contains("{{")).map(str::to_owned).collect();
    names.sort();
    names.dedup();
    assert!(names.len() > 40, "the templates are read as they are written: {names:?}");
    let more = "all changed from meal on only prey rack saved tub undone nobody";
    names.extend(more.split(' ').map(str::to_owned));
    names
}

/// Values that were trouble somewhere once.
#[rustfmt::skip]
const NASTY: &[&str] = &[
    "", " ", "\u{0}", "\r\n", "\u{feff}", "\u{202e}", "🐍", "ß", "Ｆ１", "'", "\"", "\\", "%",
    "%00", "%ff", "<x-evil>", "{{7*7}}", "${x}", "../../etc/passwd", "=1+1", "NaN", "inf",
    "-inf", "-0", "1e308", "1e-308", "0", "-1", "1", "2", "66 g", "2.3 oz", "1,500", "1.500,5",
    "8,858", "99999999999999999999", "9223372036854775807", "-9223372036854775808",
    "2026-02-10", "2026-02-30", "2199-12-31", "1990-01-01", "9999-12-31", "-0001-01-01",
    "0000-00-00", "10/02/2026", "yes", "no", "seen", "scan", "felt", "nothing", "batch",
    "record", "first", "second", "taken", "refused", "night", "before", "oz", "F", "clown",
    "super clown and het pied", "((((((((", "no no no", "66% het", "R1", "R1-01", "F1", "M1",
    "00000000-0000-0000-0000-000000000000", "ffffffff-ffff-ffff-ffff-ffffffffffff", "/", "//x",
    "/animal/F1", "/\\x", "?", "#", "&", ";",
];

/// One of those, or anything at all.
fn nasty() -> impl Strategy<Value = String> {
    let fixed = prop::sample::select(NASTY.to_vec());
    prop_oneof![
        6 => fixed.prop_map(str::to_owned),
        1 => any::<String>(),
        1 => "[0-9.,: -]{1,14}",
        1 => prop::sample::select(vec!['x', '(', '9', '\u{0}', '🐍'])
            .prop_flat_map(|sign| (1usize..3000).prop_map(move |n| sign.to_string().repeat(n))),
    ]
}

/// What is asked for: an entry of the address book, how its open part is filled, and the fields.
fn asked(ids: Vec<String>) -> impl Strategy<Value = (Route, String, Vec<(String, String)>)> {
    let value = move || {
        let own = prop::sample::select(ids.clone());
        let fresh = Just(()).prop_map(|()| store::new_id().to_string());
        prop_oneof![3 => own, 1 => fresh, 6 => nasty()]
    };
    let field = (prop::sample::select(fields()), value());
    let fields = prop::collection::vec(field, 0..12);
    (prop::sample::select(routes::all()), value(), fields)
}

/// An answer in words: no fault of the server, nothing half, nothing hostile let through.
fn is_in_words(answer: &Answer, what: &str) -> Result<(), TestCaseError> {
    prop_assert!(answer.status < 500, "{what}: {}", answer.status);
    prop_assert!(!answer.body.contains("<x-evil>"), "{what} lets markup through");
    let is_page = answer.header("content-type").is_some_and(|kind| kind.starts_with("text/html"));
    if is_page {
        prop_assert!(answer.body.trim_end().ends_with("</html>"), "{what} is half a page");
    }
    if answer.status >= 400 {
        prop_assert!(is_page, "{what}: {} without words", answer.status);
    }
    Ok(())
}

/// Ids that mean something in the room: of animals, and of records on their pages.
fn ids(room: &Room) -> Vec<String> {
    let animals = ["F1", "F2", "F3", "M1", "M2"];
    let page = get_with(room.at, "/animal/F1", "Accept: */*").body;
    let targets = page.split("name=\"target\" value=\"").skip(1);
    let targets = targets.map(|rest| rest.split('"').next().unwrap().to_owned());
    let file: &[u8] = b"Date,Animal,g\n2026-02-05,F1,2120\n2026-02-05,F9,8858\n";
    let sent = send_files(room.at, "/import", &[("w.csv", file)]);
    let sheet = sent.header("location").unwrap().rsplit('/').next().unwrap().to_owned();
    animals.iter().map(|code| room.id(code)).chain(targets).chain([sheet]).collect()
}

/// What hyper takes at most, in bytes: one less than a 16-bit length can tell.
const LONGEST_ADDRESS: usize = 65_534;

fn runner(cases: u32) -> TestRunner {
    TestRunner::new(Config { cases, failure_persistence: None, ..Config::default() })
}

#[test]
fn whatever_is_asked_for_is_answered_in_words() {
    let room = room();
    let ask = asked(ids(&room));
    let run = runner(700).run(&ask, |(route, part, fields)| {
        let path = route.filled(&part);
        let query: Vec<String> =
            fields.iter().map(|(n, v)| format!("{}={}", escaped(n), escaped(v))).collect();
        let address = format!("{path}?{}", query.join("&"));
        let answer = get_with(room.at, &address, "Cookie: mass=oz");
        // Longer addresses never reach a page: the HTTP library turns them away (RFC 9110, 15.5.15).
        if answer.status == 414 {
            prop_assert!(address.len() >= LONGEST_ADDRESS, "{address:.300}");
        } else {
            is_in_words(&answer, &format!("GET {address:.300}"))?;
        }
        let fields: Vec<(&str, &str)> =
            fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        is_in_words(&post(room.at, &path, &fields), &format!("POST {path} {fields:?}"))
    });
    run.unwrap();
    // And the room is still there.
    assert_eq!(get_with(room.at, "/", "Accept: */*").status, 200);
    store::Store::open_read_only(&room.dir).unwrap().verify().unwrap();
}

#[test]
fn bytes_that_are_no_form_are_answered_in_words() {
    let room = room();
    let strategy = (
        prop::sample::select(routes::all()),
        prop::collection::vec(any::<u8>(), 0..300),
        "[ -~]{0,80}",
        prop::sample::select(vec![
            "application/x-www-form-urlencoded",
            "multipart/form-data; boundary=edge",
            "multipart/form-data",
            "application/json",
            "text/plain",
            "nonsense",
        ]),
    );
    let run = runner(250).run(&strategy, |(route, bytes, cookie, kind)| {
        let path = route.filled("1");
        let raw: String = bytes.iter().map(|b| format!("%{b:02X}")).collect();
        let address = format!("{path}?{raw}");
        is_in_words(&get_with(room.at, &address, &format!("Cookie: {cookie}")), &address)?;
        let foreign =
            format!("http://{}\r\nCookie: name={raw}; mass={cookie}\r\nX-Kind: {kind}", room.at);
        is_in_words(&post_from(room.at, &path, &[("record", &cookie)], &foreign), &path)?;
        is_in_words(
            &crate::wire::send_body(room.at, &path, kind, &bytes),
            &format!("{path} {kind}"),
        )?;
        let body = [b"--edge\r\n".as_slice(), &bytes, b"\r\n--edge--\r\n"].concat();
        is_in_words(&send_multipart(room.at, &path, &body), &path)
    });
    run.unwrap();
}
