//! What cannot be done is refused with a way out.

use crate::program::{Folder, run};

#[test]
fn wrong_usage_is_two_and_a_refusal_is_one() {
    assert_eq!(run(&["no-such-command"]).code, 2);
    assert_eq!(run(&["import"]).code, 2);
    let folder = Folder::new();
    let ran = folder.ask(&["tonight", "--json"]);
    assert_eq!(ran.code, 1);
    let error: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    for key in ["error", "where", "do"] {
        assert!(!error[key].as_str().unwrap().is_empty(), "{error}");
    }
    let bad_day = Folder::with_room().ask(&["tonight", "--on", "2026-02-30"]);
    assert_eq!(bad_day.code, 1);
    assert!(bad_day.err.contains("2026-02-30"), "{}", bad_day.err);
}

#[test]
fn help_names_every_fact_and_every_way_to_ask_for_genes() {
    let help = run(&["record", "--help"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    let refused = Folder::with_room().ask(&["record", "no-such-fact", "F01"]).err;
    let all = refused.split("Write one of: ").nth(1).unwrap().split('.').next().unwrap();
    assert!(all.split(", ").count() > 25, "{all}");
    for kind in all.split(", ") {
        assert!(
            help.contains(&format!(" {kind},")) || help.contains(&format!(" {kind}.")),
            "{kind}"
        );
    }
    for args in [&["genes", "F1", "--pedigree", "a.csv"][..], &["genes", "--pedigree", "a.csv"]] {
        let ran = run(args);
        assert_eq!(ran.code, 2, "{}", ran.out);
        assert!(ran.err.contains("genes --pedigree <FILE> --catalogue <FILE>"), "{}", ran.err);
        assert!(!ran.err.contains("<FILE> [ANIMAL]"), "{}", ran.err);
    }
}

#[test]
fn a_number_that_cannot_be_taken_is_told_with_what_can() {
    let cases: &[(&[&str], &str, &str)] = &[
        (&["feeders", "--weeks", "x"], "\"x\" cannot be taken for --weeks.", "weeks from 1 to 26"),
        (&["feeders", "--weeks", "27"], "\"27\"", "weeks from 1 to 26, such as 4."),
        (&["due", "--days", "-1"], "\"-1\" cannot be taken for --days.", "days from 0 to 400"),
        (&["due", "--days=1.5"], "\"1.5\"", "a whole number of days"),
        (&["chances", "--sire", "a", "--dam", "b", "--eggs", "many"], "--eggs", "such as 7"),
        (&["kin", "--most", "-3"], "--most", "a whole number of lines"),
        (&["prove", "F1", "--lab-costs", "12,50"], "--lab-costs", "such as 40 or 12.50"),
        (&["prove", "F1", "--season-costs", "much"], "--season-costs", "with a point"),
        (&["serve", "--port", "99999"], "--port", "from 0 to 65535"),
        (&["import", "a.csv", "--dates", "english"], "--dates", "one of ymd, dmy, mdy"),
    ];
    for (args, what, todo) in cases {
        let ran = run(args);
        assert_eq!(ran.code, 2, "{args:?}: {}", ran.out);
        let (first, second) = ran.err.split_once('\n').unwrap();
        assert!(first.contains(what) && second.contains(todo), "{args:?}: {}", ran.err);
    }
    let ran = run(&["feeders", "--weeks", "x", "--json"]);
    let error: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    assert_eq!(error["where"], "--weeks", "{error}");
}

#[test]
fn a_file_with_nothing_in_it_is_refused() {
    let folder = Folder::new();
    for (name, text) in [("empty.csv", ""), ("words.csv", "nothing to see here\n")] {
        let path = folder.write(name, text);
        let ran = folder.ask(&["import", &path, "--yes"]);
        assert_eq!(ran.code, 1, "{name}: {} {}", ran.out, ran.err);
    }
    assert!(!std::path::Path::new(&folder.at("data")).exists());
}

#[test]
fn a_typing_error_is_asked_about_with_near_codes() {
    let folder = Folder::with_room();
    let path = folder.write("w.csv", "Date,Animal,g\n2026-02-01,F0l,1900\n2026-02-01,F01,2300\n");
    let answer = folder.ask(&["import", &path, "--yes", "--json"]).json();
    let file = &answer["files"][0];
    assert_eq!((file["in"].as_u64(), file["held"].as_u64()), (Some(1), Some(1)), "{answer}");
    assert!(answer["questions"][0]["why"].as_str().unwrap().contains("F01"), "{answer}");
}

#[test]
fn another_value_for_the_same_day_is_held_and_nothing_is_overwritten() {
    let folder = Folder::with_room();
    let text = "Date,Animal,g\n2025-10-12,F35,1163\n2025-10-12,F35,1063\n";
    let path = folder.write("w.csv", text);
    let file = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((file["held"].as_u64(), file["already"].as_u64()), (Some(1), Some(1)), "{file}");
}

#[test]
fn a_code_given_twice_in_one_list_is_held() {
    let folder = Folder::new();
    let text = "ID,Name,Sex,Hatch date\nK1,Moss,0.1,2019-05-01\nK1,Fern,1.0,2020-06-01\n";
    let path = folder.write("a.csv", text);
    let file = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((file["in"].as_u64(), file["held"].as_u64()), (Some(1), Some(1)), "{file}");
}

#[test]
fn two_identical_rows_are_two_events_and_a_grown_sheet_adds_only_what_is_new() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--yes"]);
    let head = "Date,Animal,Prey,Qty,Ate\n";
    let twice = "2026-01-05,K1,small rat,1,yes\n2026-01-05,K1,small rat,1,yes\n";
    let path = folder.write("f.csv", &format!("{head}{twice}"));
    let first = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((first["in"].as_u64(), first["doubt"].as_u64()), (Some(1), Some(1)), "{first}");
    let grown = format!("{head}{twice}2026-01-12,K1,small rat,1,no\n");
    let path = folder.write("f.csv", &grown);
    let second = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((second["in"].as_u64(), second["already"].as_u64()), (Some(1), Some(2)), "{second}");
}

/// Animals, weights, clutches and checks in which every second row has a mistake of its own.
fn sheets_with_mistakes(folder: &Folder) -> Vec<String> {
    let sheets = [
        (
            "animals.csv",
            "ID,Name,Sex,Hatch date,Sire\nK1,Moss,0.1,2019-05-01,\nK2,Fern,1.0,2018-06-01,\n\
             K3,Reed,0.1,2017-07-01,K2\nK4,Rush,0.1,2019-02-30,\nK1,Sorrel,1.0,2020-06-01,\n\
             K5,Tansy,womanly,2020-06-01,\n",
        ),
        (
            "weights.csv",
            "Date,Animal,g\n2026-01-05,K1,1731\n2026-01-05,K2,8858\n2026-31-12,K3,1500\n\
             2026-01-06,K9,1500\n2026-01-06,K3,heavy\n2026-01-07,K3,1499\n",
        ),
        (
            "clutches.csv",
            "Female,Male,Laid,Eggs,Slugs\nK1,K2,2025-04-10,7,1\nK2,K2,2025-05-10,6,0\n",
        ),
        ("checks.csv", "Date,Female,Follicles\n2026-01-05,K1,22 mm\n2026-01-12,K1,humongous\n"),
    ];
    sheets.iter().map(|(name, text)| folder.write(name, text)).collect()
}

fn import<'a>(paths: &'a [String], more: &[&'a str]) -> Vec<&'a str> {
    let paths = paths.iter().map(String::as_str);
    ["import"]
        .into_iter()
        .chain(paths)
        .chain(["--zone", "UTC"])
        .chain(more.iter().copied())
        .collect()
}

#[test]
fn each_mistake_names_its_file_line_column_value_and_what_to_do() {
    let folder = Folder::new();
    let paths = sheets_with_mistakes(&folder);
    let answer = folder.ask(&import(&paths, &["--yes", "--json"])).json();
    let questions = answer["questions"].as_array().unwrap();
    let told: Vec<[String; 5]> = questions
        .iter()
        .map(|q| {
            let text = |name: &str| q[name].as_str().unwrap().to_owned();
            let line = q["line"].as_u64().unwrap();
            let file = std::path::Path::new(q["file"].as_str().unwrap()).file_name().unwrap();
            let place = format!("{}:{line}", file.to_str().unwrap());
            [place, text("column"), text("value"), text("verdict"), text("why")]
        })
        .collect();
    for (place, column, value, verdict, why, todo) in [
        ("animals.csv:5", "Hatch date", "2019-02-30", "held", "on no calendar", "correct the date"),
        ("animals.csv:6", "Name", "Sorrel", "held", "another name", "Say which one is right"),
        ("animals.csv:7", "Sex", "womanly", "held", "no sex", "write 1.0 (male)"),
        ("checks.csv:3", "Follicles", "humongous", "held", "none of the classes", "say which"),
        ("weights.csv:3", "g", "8858", "held", "8,858 g is no possible weight", "Look it up"),
        ("weights.csv:4", "Date", "2026-31-12", "held", "would be 2026-12-31", "correct the date"),
        ("weights.csv:5", "Animal", "K9", "held", "Near it: K1, K2, K3", "Correct the code"),
        ("weights.csv:6", "g", "heavy", "held", "no weight", "write it as a number"),
    ] {
        let found = told.iter().find(|q| q[0] == place).unwrap_or_else(|| panic!("{place}"));
        assert_eq!((&*found[1], &*found[2], &*found[3]), (column, value, verdict), "{place}");
        assert!(found[4].contains(why) && found[4].contains(todo), "{place}: {}", found[4]);
    }
    // Readable, but at odds with another record: written, and both sides named.
    for (place, column, says, todo) in [
        (
            "animals.csv:4",
            "Sire",
            "K2 is the sire of K3 but hatched on 2018-06-01",
            "Correct the parent",
        ),
        ("clutches.csv:3", "Female", "K2 is told male but stands as a female", "Correct its sex"),
    ] {
        let found = told.iter().find(|q| q[0] == place).unwrap_or_else(|| panic!("{place}"));
        assert_eq!((&*found[1], &*found[2]), (column, "K2"), "{place}");
        assert_eq!(found[3], "in with doubt", "{place}");
        assert!(found[4].contains(says) && found[4].contains(todo), "{place}: {}", found[4]);
    }
    assert_eq!(told.len(), 10, "and nothing else: {told:#?}");
}

#[test]
fn good_rows_come_in_without_the_bad_as_one_batch_with_one_undo() {
    let folder = Folder::new();
    let paths = sheets_with_mistakes(&folder);
    let shown = folder.ask(&import(&paths, &["--json"])).json();
    let mut written = folder.ask(&import(&paths, &["--yes", "--json"])).json();
    let batch = written["batch"].take().as_str().unwrap().to_owned();
    assert_eq!(shown, written, "what is written is what was shown");
    let waiting = || {
        let doubts = folder.ask(&["doubts", "--json"]).json();
        doubts["held"].as_array().map(Vec::len)
    };
    assert_eq!(waiting(), Some(8), "the bad rows wait for an answer");
    assert_eq!(folder.ask(&["record", "weighed", "K1", "1800"]).code, 0, "the good ones are in");
    folder.ask(&["undo", &batch]);
    assert_eq!(waiting(), Some(0), "one undo takes all of it back");
    let gone = folder.ask(&["record", "weighed", "K1", "1800"]);
    assert_eq!(gone.code, 1, "the animals with it: {}", gone.out);
}

#[test]
fn every_refusal_says_what_where_and_what_to_do() {
    let folder = Folder::new();
    folder.ask(&import(&sheets_with_mistakes(&folder), &["--yes"]));
    let no_folder = folder.write("no-folder", "");
    let cases: &[&[&str]] = &[
        &["import", "/nowhere/at/all.csv", "--yes"],
        &["tonight", "--on", "2026-02-30"],
        &["tonight", "--known-on", "soon"],
        &["follicles", "--on", "yesterday"],
        &["doubts", "--on", "10/02/2026"],
        &["undo", "no-such-record"],
        &["answer", "no-such-record", "1500"],
        &["record", "weighed", "K1", "8858000"],
        &["record", "weighed", "nobody", "1500"],
        &["record", "lock", "K2", "K1", "perhaps"],
        &["record", "dreamt", "K1"],
        &["record", "weighed", "K1", "1500", "--day", "2026-02-30"],
        &["record", "check", "K1", "255"],
        &["chances", "--sire", "K2", "--dam", "hte clwon"],
        &["chances", "--sire", "K2", "--dam", "K1", "--target", "clown and"],
        &["export", &no_folder],
    ];
    for args in cases {
        let ran = folder.ask(&[args, &["--json"][..]].concat());
        assert_eq!(ran.code, 1, "{args:?}: {} {}", ran.out, ran.err);
        let error: serde_json::Value = serde_json::from_str(&ran.err)
            .unwrap_or_else(|why| panic!("{args:?}: {why}: {}", ran.err));
        for key in ["error", "where", "do"] {
            assert!(!error[key].as_str().unwrap().trim().is_empty(), "{args:?}: {error}");
        }
        let plain = folder.ask(args);
        assert!(plain.err.lines().count() >= 2, "{args:?}: {}", plain.err);
    }
}
