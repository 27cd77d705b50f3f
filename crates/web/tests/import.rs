//! Sheets sent through the page: read, mapped, written once, taken back.

use crate::room::{Room, room, room_at};
use crate::wire::{Answer, get, post, send_files, send_multipart};

const WEIGHTS: &[u8] =
    b"Date,Animal,g\n2026-02-05,F1,2120\n2026-02-05,F9,1500\n2026-02-01,F1,2100\n";

/// Sends files and opens their preview.
fn sent(room: &Room, files: &[(&str, &[u8])]) -> (String, Answer) {
    let answer = send_files(room.at, "/import", files);
    assert_eq!(answer.status, 303, "{}", answer.body);
    let to = answer.header("location").unwrap().to_owned();
    let page = get(room.at, &to);
    assert_eq!(page.status, 200, "{}", page.body);
    (to, page)
}

fn commit(room: &Room, to: &str, seen: &str) -> Answer {
    post(room.at, &format!("{to}/commit"), &[("seen", seen)])
}

#[test]
fn a_sheet_is_previewed_written_once_and_undone() {
    let room = room();
    let before = room.written();
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS)]);
    for says in [
        "weights.csv · weights",
        "3 rows: 1 in, 1 already there, 1 held",
        "Line 3",
        "No animal has the code &#34;F9&#34;",
        "Near it: F1, F2, F3",
    ] {
        assert!(page.body.contains(says), "{says}\n{}", page.body);
    }
    assert_eq!(room.written(), before, "a preview writes nothing");
    let seen = page.field("seen");
    let saved = commit(&room, &to, &seen);
    assert_eq!(saved.status, 303);
    assert_eq!(room.written(), before + 2, "the weight and the held row");
    let again = commit(&room, &to, &seen);
    assert_eq!(again.header("location"), saved.header("location"), "sent twice, written once");
    assert_eq!(room.written(), before + 2);
    let told = get(room.at, saved.header("location").unwrap());
    assert!(told.body.contains("Written: F1 weighed 2120 g"), "{}", told.body);
    assert!(told.body.contains("1 row waits on the Desk"));
    let undo = [
        ("record", told.field("record")),
        ("target", told.field("target")),
        ("kind", told.field("kind")),
    ];
    let undo = undo.each_ref().map(|(n, v)| (*n, v.as_str()));
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    assert!(get(room.at, "/desk").body.contains("0 rows waiting"), "one undo takes all of it back");
    assert!(!get(room.at, "/animal/F1").body.contains("weighed 2120 g"));
    assert_eq!(get(room.at, &to).status, 404, "what was written is put away");
}

#[test]
fn columns_are_told_by_hand_and_everything_is_read_anew() {
    let room = room();
    let sheet = b"When seen,Critter,Heft,Lampe\n2026-02-05,F1,2120,on\n2026-02-06,F2,2310,off\n\
        2026-02-07,F3,1905,on\n";
    let (to, page) = sent(&room, &[("mystery.csv", sheet)]);
    assert!(page.body.contains("not recognised"), "{}", page.body);
    assert!(page.body.contains("Choose below what its rows are"));
    let told = post(
        room.at,
        &format!("{to}/read"),
        &[
            ("sheet", "0"),
            ("kind", "weights"),
            ("headed", "yes"),
            ("c0", "date"),
            ("c1", "animal"),
            ("c2", "weight"),
        ],
    );
    assert_eq!(told.status, 303, "{}", told.body);
    let page = get(room.at, &to);
    assert!(page.body.contains("mystery.csv · weights"), "{}", page.body);
    assert!(page.body.contains("3 rows: 3 in"), "{}", page.body);
    assert!(page.body.contains("as read: note"), "an unknown column is a note");
    assert_eq!(commit(&room, &to, &page.field("seen")).status, 303);
    let animal = get(room.at, "/animal/F2").body;
    assert!(animal.contains("F2 weighed 2310 g") && animal.contains("Lampe: off"));
}

#[test]
fn order_of_dates_sign_and_empty_locks_are_told_by_hand() {
    let room = room();
    let sheet = b"Date;Animal;g\n03/04/2024;F1;1.731\n";
    let (to, page) = sent(&room, &[("w.csv", sheet)]);
    assert!(page.body.contains("1 row: 1 held"), "{}", page.body);
    let say = |fields: &[(&str, &str)]| {
        assert_eq!(post(room.at, &format!("{to}/read"), fields).status, 303);
        get(room.at, &to)
    };
    assert!(say(&[("sheet", "0"), ("dates", "dmy")]).body.contains("1 row: 1 in"));
    let page = say(&[("sheet", "0"), ("dates", "dmy"), ("decimal", "point")]).body;
    // 1.731 g is no snake, whatever the sign of decimals.
    assert!(page.contains("1 row: 1 in") && page.contains("value=\"point\" selected"));
    let nights = b"Night,Male,Female,Lock\n2026-01-05,M1,F1,\n2026-01-06,M1,F1,yes\n";
    let (to, page) = sent(&room, &[("nights.csv", nights)]);
    assert!(page.body.contains("counts as looked at and none seen"));
    let none_seen = page.field("seen");
    let told = [("sheet", "0"), ("empty_lock", "not-looked")];
    assert_eq!(post(room.at, &format!("{to}/read"), &told).status, 303);
    let not_looked = get(room.at, &to).field("seen");
    assert_ne!(none_seen, not_looked, "other records would be written");
    assert_eq!(
        commit(&room, &to, &none_seen).header("location"),
        Some(&*format!("{to}?changed=yes"))
    );
}

#[test]
fn what_was_written_meanwhile_is_shown_before_it_is_written_over() {
    let room = room();
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS)]);
    let seen = page.field("seen");
    let f1 = room.id("F1");
    let id = store::new_id().to_string();
    let fields =
        [("record", id.as_str()), ("animal", &f1), ("day", "2026-02-05"), ("grams", "2120")];
    assert_eq!(post(room.at, "/weighed", &fields).status, 303);
    let before = room.written();
    let answer = commit(&room, &to, &seen);
    assert_eq!(answer.header("location"), Some(&*format!("{to}?changed=yes")));
    assert_eq!(room.written(), before, "nothing is written that was not shown");
    let page = get(room.at, &format!("{to}?changed=yes"));
    assert!(page.body.contains("nothing was written. This is how it stands now."));
    assert!(page.body.contains("2 already there, 1 held"), "{}", page.body);
    assert_eq!(commit(&room, &to, &page.field("seen")).status, 303);
    assert_eq!(room.written(), before + 1);
}

#[test]
fn a_long_table_is_paged_with_its_questions_first() {
    let room = room();
    let mut sheet = String::from("Date,Animal,g\n");
    for n in 0..250 {
        let code = if n == 240 { "F9" } else { "F1" };
        sheet.push_str(&format!("{},{code},{}\n", crate::room::day("2021-01-01") + n, 1000 + n));
    }
    let (to, page) = sent(&room, &[("long.csv", sheet.as_bytes())]);
    assert!(page.body.contains("The first 12 of 250 rows"));
    let rows = get(room.at, &format!("{to}/rows?sheet=0")).body;
    assert!(rows.contains("1 to 100 of 250"), "{rows}");
    assert!(rows.find("Line 242").unwrap() < rows.find("Line 2<").unwrap());
    let last = get(room.at, &format!("{to}/rows?sheet=0&from=200")).body;
    assert!(last.contains("201 to 250 of 250") && !last.contains("Further rows"));
    let held = get(room.at, &format!("{to}/rows?sheet=0&only=held")).body;
    assert!(held.contains("1 to 1 of 1"), "{held}");
    for odd in ["sheet=9", "sheet=x&from=y", "from=999999999999", "only=nonsense", "from=-1"] {
        let status = get(room.at, &format!("{to}/rows?{odd}")).status;
        assert!(status == 200 || status == 404, "{odd}: {status}");
    }
}

#[test]
fn hostile_cells_names_and_headings_are_inert() {
    let room = room();
    let evil = "<script>alert(1)</script>\"'&";
    let quoted = evil.replace('"', "\"\"");
    let sheet = format!(
        "Date,Animal,g,\"{quoted}\"\n2026-02-05,F1,2120,\"{quoted}\"\n2026-02-05,\"{quoted}\",1,x\n"
    );
    let (to, page) = sent(
        &room,
        &[("<img src=x onerror=alert(1)>.csv", sheet.as_bytes()), ("../../etc/passwd", WEIGHTS)],
    );
    let rows = get(room.at, &format!("{to}/rows?sheet=0"));
    assert_eq!(commit(&room, &to, &page.field("seen")).status, 303);
    let desk = get(room.at, "/desk");
    for page in [&page, &rows, &desk, &get(room.at, "/animal/F1")] {
        assert_eq!(page.status, 200);
        assert!(!page.body.contains("<script>") && !page.body.contains("<img"), "{}", page.body);
    }
    assert!(page.body.contains("passwd") && !page.body.contains(".."));
}

#[test]
fn wrong_requests_are_refused_in_words() {
    let room = room();
    let before = room.written();
    for body in [&b""[..], b"--edge\r\n", b"no edge at all", b"--edge\r\nContent-Disposition: form-data; name=\"files\"; filename=\"a\"\r\n\r\nnever ends"] {
        let answer = send_multipart(room.at, "/import", body);
        assert_eq!(answer.status, 400, "{:?}", String::from_utf8_lossy(body));
    }
    let none = send_files(room.at, "/import", &[("", b"")]);
    assert!(none.status == 400 && none.body.contains("No file was chosen"));
    let form = post(room.at, "/import", &[("files", "x")]);
    assert_eq!(form.status, 400, "a form without files");
    let journal =
        send_files(room.at, "/import", &[("j.txt", b"{\"format\":\"clutchwright journal\"}\n")]);
    assert!(journal.status == 400 && journal.body.contains("import command"), "{}", journal.body);
    let nowhere = store::new_id().to_string();
    for id in [nowhere.as_str(), "x", "%00"] {
        for (path, method) in
            [("", "get"), ("/rows", "get"), ("/read", "post"), ("/commit", "post")]
        {
            let path = format!("/import/{id}{path}");
            let answer = if method == "get" {
                get(room.at, &path)
            } else {
                post(room.at, &path, &[("seen", "x")])
            };
            assert_eq!(answer.status, 404, "{path}");
        }
    }
    let (to, _) = sent(&room, &[("weights.csv", WEIGHTS)]);
    for (name, value) in [("kind", "wombats"), ("c0", "heft"), ("dates", "yes"), ("sheet", "7")] {
        let fields = [("sheet", "0"), (name, value)];
        let fields = if name == "sheet" { &fields[1..] } else { &fields };
        let status = post(room.at, &format!("{to}/read"), fields).status;
        assert!(status == 400 || status == 404, "{name}={value}: {status}");
    }
    let away = post(room.at, &format!("{to}/away"), &[]);
    assert_eq!(away.status, 303);
    assert_eq!(get(room.at, &to).status, 404, "put away");
    assert_eq!(room.written(), before);
}

#[test]
fn too_much_at_once_is_said() {
    let room = room();
    let large = vec![b'x'; 33 << 20];
    let answer = send_files(room.at, "/import", &[("large.csv", &large)]);
    assert_eq!(answer.status, 400);
    assert!(answer.body.contains("more than 32 MiB"), "{}", answer.body);
    let many: Vec<(&str, &[u8])> = vec![("w.csv", WEIGHTS); 61];
    assert_eq!(send_files(room.at, "/import", &many).status, 400);
}

#[test]
fn files_that_are_no_sheets_are_named_with_what_to_do() {
    let room = room_at("2026-02-10T18:00:00Z");
    let (_, page) = sent(
        &room,
        &[
            ("photo.jpg", &[0xff, 0xd8, 0xff, 0xe0, 0, 0, 1]),
            ("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest"),
            ("w.csv", WEIGHTS),
            ("w.csv", WEIGHTS),
        ],
    );
    assert!(page.body.contains("Could not be read"), "{}", page.body);
    assert!(page.body.contains("save it as .xlsx or .csv"));
    assert!(page.body.contains("w.csv (2)"), "two files of one name are told apart");
}

#[test]
fn a_letter_among_the_sheets_is_left_out_and_a_file_can_be() {
    let room = room();
    let letter: &[u8] = b"# My room\n\nSeven sheets, kept by hand.\n";
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS), ("README.md", letter)]);
    assert!(page.body.contains("README.md</b> Not a sheet: left out."), "{}", page.body);
    assert!(page.body.contains("1 file ·"), "{}", page.body);
    assert!(!page.body.contains("README.md · "), "{}", page.body);
    let leave = |file: &str, out: &str| {
        let answer = post(room.at, &format!("{to}/leave"), &[("file", file), ("out", out)]);
        assert_eq!(answer.status, 303);
        get(room.at, &to)
    };
    // It can be read all the same, and so can a sheet be left out.
    let both = leave("README.md", "no");
    assert!(both.body.contains("2 files ·"), "{}", both.body);
    let less = leave("weights.csv", "yes");
    assert!(less.body.contains("weights.csv</b> You left it out."), "{}", less.body);
    assert!(!less.body.contains("weights.csv · weights"), "{}", less.body);
    // One file alone is meant, whatever its name.
    let (_, alone) = sent(&room, &[("weights.md", WEIGHTS)]);
    assert!(alone.body.contains("weights.md · weights"), "{}", alone.body);
}

#[test]
fn past_imports_are_listed_undone_and_put_back() {
    let room = room();
    assert!(!get(room.at, "/import").body.contains("Past imports"));
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS)]);
    commit(&room, &to, &page.field("seen"));
    let listed = get(room.at, "/import");
    assert!(listed.body.contains("2 records of weights.csv"), "{}", listed.body);
    assert!(listed.body.contains("10 Feb 2026 at 19:00"), "{}", listed.body);
    let press = |page: &Answer| {
        let fields = ["record", "target", "kind", "back"].map(|name| (name, page.field(name)));
        let fields = fields.each_ref().map(|(name, value)| (*name, value.as_str()));
        assert_eq!(post(room.at, "/undo", &fields).status, 303);
        get(room.at, "/import")
    };
    let weighed = || get(room.at, "/animal/F1").body.contains("weighed 2120 g");
    assert!(weighed());
    let undone = press(&listed);
    assert!(undone.body.contains("taken back") && undone.body.contains(">Put back<"));
    assert!(!weighed());
    let back = press(&undone);
    assert!(!back.body.contains("taken back"), "{}", back.body);
    assert!(weighed());
    // The same sheet again after an undo, and then the first one cannot be put back beside it.
    let undone = press(&back);
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS)]);
    assert!(page.body.contains("3 rows: 1 in, 1 already there, 1 held"), "{}", page.body);
    commit(&room, &to, &page.field("seen"));
    let fields = ["record", "target", "kind"].map(|name| (name, undone.field(name)));
    let fields = fields.each_ref().map(|(name, value)| (*name, value.as_str()));
    let refused = post(room.at, "/undo", &fields);
    assert_eq!(refused.status, 400, "{}", refused.body);
    assert!(refused.body.contains("imported again since"), "{}", refused.body);
}

#[test]
fn rows_that_waited_for_an_animal_come_in_with_its_list() {
    let room = room();
    let (to, page) = sent(&room, &[("weights.csv", WEIGHTS)]);
    commit(&room, &to, &page.field("seen"));
    let list: &[u8] = b"ID,Sex,Hatch date\nF9,0.1,2019-05-01\n";
    let (to, page) = sent(&room, &[("animals.csv", list)]);
    assert!(page.body.contains("Rows that waited"), "{}", page.body);
    assert!(page.body.contains("weights.csv · weights · 1 row: 1 in"), "{}", page.body);
    commit(&room, &to, &page.field("seen"));
    assert!(get(room.at, "/animal/F9").body.contains("weighed 1500 g"));
    assert!(get(room.at, "/desk").body.contains("0 rows waiting"));
}
