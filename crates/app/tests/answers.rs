//! Held rows are answered, single facts recorded, pairs reckoned.

use crate::program::Folder;

fn held(folder: &Folder, value: &str) -> String {
    let all = folder.ask(&["doubts", "--json"]).json();
    let rows = all["held"].as_array().unwrap();
    let row = rows.iter().find(|h| h["value"] == value).unwrap();
    row["record"].as_str().unwrap().to_owned()
}

#[test]
fn an_answer_brings_the_row_in_and_an_undo_puts_it_back() {
    let folder = Folder::with_room();
    let id = held(&folder, "F35O");
    let bad = folder.ask(&["answer", &id, "Q99"]);
    assert_eq!(bad.code, 1, "{}", bad.out);
    let good = folder.ask(&["answer", &id, "F30"]);
    assert_eq!(good.code, 0, "{}", good.err);
    assert!(good.out.starts_with("in: 1 of 1 row answered, 1 record written."), "{}", good.out);
    let left = folder.ask(&["doubts", "--json"]).json();
    assert_eq!(left["held"].as_array().unwrap().len(), 2);
    // The sheet is read again, the row is not held a second time.
    let again = folder.ask(&["import", &crate::program::room(), "--yes", "--json"]).json();
    let feeding = again["files"].as_array().unwrap().iter().find(|f| f["kind"] == "feedings");
    assert_eq!(feeding.unwrap()["held"], 0);
}

#[test]
fn a_lock_recorded_on_the_command_line_is_seen_the_next_day() {
    let folder = Folder::with_room();
    let ran =
        folder.ask(&["record", "lock", "F06", "M07", "seen", "--night", "2026-02-10", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let evening = folder.ask(&["tonight", "--on", "2026-02-11", "--json"]).out;
    assert!(evening.contains(ran.json()["record"].as_str().unwrap()), "{evening}");
    let wrong = folder.ask(&["record", "lock", "F06", "M07", "perhaps"]);
    assert_eq!(wrong.code, 1);
    assert!(wrong.err.contains("record lock"), "{}", wrong.err);
}

/// Mendel (1866): a het to a het gives one in four; tables of 1-(1-p)^n.
#[test]
fn chances_of_two_hets_are_one_in_four() {
    let folder = Folder::new();
    let args = [
        "chances",
        "--sire",
        "het clown",
        "--dam",
        "het clown",
        "--target",
        "clown",
        "--eggs",
        "6",
        "--json",
    ];
    let answer = folder.ask(&args).json();
    let close = |value: &serde_json::Value, to: f64| (value.as_f64().unwrap() - to).abs() < 1e-12;
    assert!(close(&answer["target"]["per_egg"], 0.25), "{answer}");
    assert!(close(&answer["target"]["at_least_one"], 1.0 - 0.75_f64.powi(6)), "{answer}");
    let clown = answer["outcomes"].as_array().unwrap().iter().find(|o| o["look"][0] == "clown");
    assert!(close(&clown.unwrap()["p"], 0.25));
    assert_eq!(clown.unwrap()["fits"], 1.0);
    assert_eq!((&answer["looks"], &answer["hatching"]), (&2.into(), &1.0.into()));
    // Where no room says more 81 % of the eggs hatch (Morrill et al. 2011).
    let clutch = &answer["clutch"];
    assert!(close(&clutch["hatchlings"], 6.0 * 0.81), "{clutch}");
    assert!(close(&clutch["target"]["expected"], 1.5 * 0.81), "{clutch}");
    assert!(close(&clutch["target"]["none"], (1.0 - 0.81 / 4.0_f64).powi(6)), "{clutch}");
    assert_eq!(
        (&clutch["kinds"][0]["look"], &clutch["kinds"][0]["sons"]),
        (&serde_json::json!([]), &serde_json::Value::Null)
    );
    let unknown = folder.ask(&["chances", "--sire", "het clwn", "--dam", "normal"]);
    assert_eq!(unknown.code, 1);
    assert!(unknown.err.contains("clown"), "{}", unknown.err);
}

#[test]
fn every_kind_of_fact_can_be_written_down_and_taken_back() {
    let folder = Folder::new();
    let sheet = folder.write("animals.csv", "code,sex,name\nM02,1.0,Slate\nF06,0.1,Quill\n");
    assert_eq!(folder.ask(&["import", &sheet, "--yes"]).code, 0);
    let lines: [&[&str]; 30] = [
        &["added", "F99", "female", "pastel", "66%", "het", "clown"],
        &["named", "F99", "Bramble"],
        &["genes", "F99", "pastel", "het", "clown"],
        &["look", "F99", "pastel"],
        &["lab", "F99", "pied", "carries", "0,5%", "skin,", "by", "post"],
        &["lab", "F99", "axanthic (line A)", "none"],
        &["sex", "F99", "female", "probed"],
        &["moved", "F99", "R9-01"],
        &["retagged", "F99", "F98"],
        &["left", "F98", "lent", "a", "friend"],
        &["came-back", "F98"],
        &["borrowed", "F98", "Neighbour", "2026-06-01"],
        &["weighed", "F98", "1731,5"],
        &["fed", "F98", "refused", "small", "rat"],
        &["shed", "F98", "ordinary"],
        &["in-blue", "F98"],
        &["quarantine", "F98", "begins", "new", "here"],
        &["treatment", "F98", "begins", "mites"],
        &["planned", "F98", "M02", "second", "2"],
        &["planned", "F98", "pastel clown"],
        &["check", "F98", "nothing"],
        &["placed", "M02", "F98"],
        &["lock", "F98", "M02", "seen"],
        &["taken-out", "M02", "F98"],
        &["warmed-up", "F98"],
        &["settled", "F98"],
        &["ovulated", "F98", "suspected"],
        &["laid", "F98", "7", "1", "incubator"],
        &["hatched", "F98", "6"],
        &["note", "F98", "coils", "around", "her", "eggs"],
    ];
    let mut last = String::new();
    for words in lines {
        let ran = folder.ask(&[&["record"], words, &["--json"]].concat());
        assert_eq!(ran.code, 0, "{words:?}: {}", ran.err);
        last = ran.json()["record"].as_str().unwrap().to_owned();
    }
    assert_eq!(folder.ask(&["undo", &last]).code, 0);
    for wrong in [
        &["added", "F98"][..],
        &["added", "F97", "hen"],
        &["hatched", "F06", "many"],
        &["laid", "F06", "3", "4"],
        &["laid", "F06", "4", "3", "fridge"],
        &["planned", "F06", "M77"],
        &["planned", "F06", "M02", "third"],
        &["planned", "F06", "M02", "first", "200"],
        &["borrowed", "F06", "Neighbour", "soon"],
        &["weighed"],
        &["lab", "F06", "axanthic", "none"],
        &["lab", "F06", "clown", "maybe"],
        &["lab", "F06", "clown", "two", "70%"],
        &["sings", "F06"],
    ] {
        let ran = folder.ask(&[&["record"], wrong].concat());
        assert_eq!(ran.code, 1, "{wrong:?}: {}", ran.out);
        assert!(ran.err.lines().count() >= 2, "{wrong:?}: {}", ran.err);
    }
}

/// The refusals and their ways out are those of the pages.
#[test]
fn impossible_facts_are_refused_with_a_way_out() {
    let folder = Folder::new();
    let sheet = folder.write("animals.csv", "code,sex\nM01,1.0\nF01,0.1\n");
    assert_eq!(folder.ask(&["import", &sheet, "--yes"]).code, 0);
    let refused: &[(&[&str], &str)] = &[
        (&["weighed", "F01", "2,3"], "grams from 20 to 6000"),
        (&["weighed", "F01", "1e309"], "grams from 20 to 6000"),
        (&["weighed", "F01", "22 mm"], "grams from 20 to 6000"),
        (&["weighed", "F01", "1500", "--day", "1800-01-01"], "from 1990 to 2199"),
        (&["weighed", "F01", "1500", "--day", "2199-01-01"], "still to come"),
        (&["weighed", "F01", "1500", "--night", "2199-01-01"], "still to come"),
        (&["weighed", "F01", "1500", "--at", "2199-01-01T10:00:00Z"], "still to come"),
        (&["laid", "M01", "7", "2"], "record sex M01 female"),
        (&["laid", "F01", "700"], "record laid"),
        (&["check", "M01", "22"], "record sex M01 female"),
        (&["settled", "M01"], "record sex M01 female"),
        (&["shed", "M01", "pre-lay"], "record sex M01 female"),
        (&["placed", "F01", "F01"], "record sex F01 male"),
        (&["lock", "M01", "M01", "seen"], "record sex M01 female"),
        (&["check", "F01", "1e309"], "millimetres from 1 to 60"),
        (&["check", "F01", "0"], "millimetres from 1 to 60"),
        (&["check", "F01", "dragon"], "pea, marble-ping pong, hen egg, python egg, two neighbours"),
        (&["check", "F01", "dragon"], "setting felt_words"),
    ];
    for (words, says) in refused {
        let ran = folder.ask(&[&["record"], *words].concat());
        assert_eq!(ran.code, 1, "{words:?}: {}", ran.out);
        assert!(ran.err.contains(says), "{words:?}: {}", ran.err);
    }
    let on = folder.ask(&["tonight", "--on", "1800-01-01"]);
    assert_eq!(on.code, 1, "{}", on.out);
    assert!(on.err.contains("from 1990 to 2199"), "{}", on.err);
}

#[test]
fn what_was_recorded_is_said_back() {
    let folder = Folder::new();
    let sheet = folder.write("animals.csv", "code,sex\nM01,1.0\nF01,0.1\n");
    assert_eq!(folder.ask(&["import", &sheet, "--yes"]).code, 0);
    let own = folder.ask(&["setting", "felt_words", "knuckle = 1"]);
    assert_eq!(own.code, 0, "{}", own.err);
    let day = ["--day", "2026-02-13"];
    let lines: &[(&[&str], &str)] = &[
        (&["weighed", "F01", "2,300"], "F01 weighed 2300 g, 13 Feb 2026 (record "),
        (&["weighed", "F01", "2300 g"], "F01 weighed 2300 g, 13 Feb 2026 (record "),
        (&["weighed", "F01", "2.3", "kg"], "F01 weighed 2300 g, 13 Feb 2026 (record "),
        (&["check", "F01", "22,5", "21"], "F01 follicle check: 22.5, 21 mm, 13 Feb 2026"),
        (&["check", "F01", "Knuckle"], "F01 follicle check: felt Knuckle, 13 Feb 2026"),
        (&["check", "F01", "no", "follicles"], "F01 follicle check: nothing felt, 13 Feb"),
        (
            &["check", "F01", "hen egg to python egg"],
            "F01 follicle check: felt hen egg to python egg",
        ),
        (&["laid", "F01", "7", "2"], "F01 laid 7 eggs, 2 slugs, 13 Feb 2026"),
        (&["note", "F01", "calm"], "F01: calm, 13 Feb 2026"),
    ];
    for (words, says) in lines {
        let ran = folder.ask(&[&["record"], *words, &day].concat());
        assert_eq!(ran.code, 0, "{words:?}: {}", ran.err);
        assert!(ran.out.starts_with(says), "{words:?}: {}", ran.out);
    }
    let ran = folder.ask(&[&["record", "laid", "F01", "6", "7"], &day[..]].concat());
    assert_eq!(ran.code, 1, "{}", ran.out);
    assert!(ran.err.contains("7 slugs are more than 6 eggs."), "{}", ran.err);
}

#[test]
fn an_animal_without_written_genes_says_so() {
    let folder = Folder::new();
    let sheet = folder.write("animals.csv", "ID,Sex,Hatch date\nM1,1.0,2020-07-01\n");
    let data = folder.at("data");
    let import =
        crate::program::run(&["import", &sheet, "--data", &data, "--zone", "UTC", "--yes"]);
    assert_eq!(import.code, 0, "{}", import.err);
    let args = ["chances", "--sire", "M1", "--dam", "clown"];
    let text = folder.ask(&args).out;
    assert!(text.contains("No genes of the sire are written"), "{text}");
    let mut args = args.to_vec();
    args.push("--json");
    assert_eq!(folder.ask(&args).json()["unwritten"], serde_json::json!(["sire"]));
}

/// The dam's own clutches, a code nobody bears, and a pair ruled out, all on the command line.
#[test]
fn a_dam_of_the_house_is_reckoned_with_her_own_clutches() {
    let folder = Folder::new();
    let sheet = folder.write("animals.csv", "ID,Sex,Genes\nM1,1.0,clown\nF1,0.1,het clown\n");
    let data = folder.at("data");
    let import =
        crate::program::run(&["import", &sheet, "--data", &data, "--zone", "UTC", "--yes"]);
    assert_eq!(import.code, 0, "{}", import.err);
    let eggs = |dam: &str| {
        let ran = folder.ask(&["chances", "--sire", "M1", "--dam", dam, "--json"]);
        ran.json()["eggs"].as_f64().unwrap()
    };
    let usual = eggs("F1");
    assert!((usual - eggs("het clown")).abs() < 1e-12);
    let laid = folder.ask(&["record", "laid", "F1", "12", "--day", "2024-05-01"]);
    assert_eq!(laid.code, 0, "{}", laid.err);
    // (12 + 3 x 6.825) / 4, and a little less for being kept within 1 to 18 eggs.
    assert!((eggs("F1") - 8.1).abs() < 0.05, "{}", eggs("F1"));
    assert!((usual - eggs("het clown")).abs() < 1e-12);

    let nobody = folder.ask(&["chances", "--sire", "M2", "--dam", "F1"]);
    assert_eq!(nobody.code, 1);
    assert!(nobody.err.contains("No animal is called M2"), "{}", nobody.err);
    assert!(nobody.err.contains("Did you mean M1"), "{}", nobody.err);

    let out = folder.ask(&["record", "planned", "F1", "M1", "first", "0", "--day", "2025-11-20"]);
    assert_eq!(out.code, 0, "{}", out.err);
    assert!(out.out.starts_with("pair ruled out: F1 and M1"), "{}", out.out);
    let minus =
        folder.ask(&["record", "planned", "F1", "M1", "first", "-1", "--day", "2025-11-20"]);
    assert_ne!(minus.code, 0);
}

#[test]
fn due_lists_everything_by_date_with_its_records() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["due", "--on", "2026-02-10", "--days", "14", "--json"]).json();
    let all = answer["due"].as_array().unwrap();
    let day = |d: &serde_json::Value| d["day"].as_str().unwrap().to_owned();
    let dated: Vec<String> = all.iter().filter(|d| d["kind"] != "vet").map(day).collect();
    assert!(dated.is_sorted() && dated.iter().all(|d| d.as_str() <= "2026-02-24"));
    for kind in ["follicle check", "meal", "weigh", "expected"] {
        assert!(all.iter().any(|d| d["kind"] == kind), "{kind}");
    }
    for d in all.iter().filter(|d| d["kind"] == "expected") {
        assert!(d["median"].is_string() && d["until"].is_string(), "{d}");
        assert!(!d["records"].as_array().unwrap().is_empty(), "{d}");
    }
    let said = folder.ask(&["due", "--on", "2026-02-10"]).out;
    assert!(said.starts_with("Due on 10 February 2026, and up to 24 February 2026"), "{said}");
}

/// The sheet of clutches, counted and averaged by itself: 71 of 73 rows carry all dates.
#[test]
fn a_step_that_cannot_be_true_is_left_out_and_named() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--zone", "UTC", "--yes"]);
    folder.ask(&["record", "laid", "K1", "6", "--day", "2024-03-03"]);
    let hatched = folder.ask(&["record", "hatched", "K1", "5", "--day", "2024-09-01"]);
    assert_eq!(hatched.code, 0, "{}", hatched.err);
    let said = folder.ask(&["durations", "--on", "2026-02-10"]).out;
    let named = "K1: 3 Mar 2024 to 1 Sep 2024, 182 days: laying to hatch takes 45 to 95";
    assert!(said.contains("1 left out") && said.contains(named), "{said}");
    let answer = folder.ask(&["durations", "--on", "2026-02-10", "--json"]).json();
    let all = answer["durations"].as_array().unwrap();
    let hatch = all.iter().find(|d| d["duration"] == "laying to hatch").unwrap();
    assert_eq!((&hatch["seen"], &hatch["left_out"]), (&0.into(), &1.into()), "{hatch}");
    let out = &hatch["left_out_of"][0];
    assert_eq!((&out["female"], &out["from"]), (&"K1".into(), &"2024-03-03".into()), "{out}");
    assert!(all.iter().filter(|d| d["left_out"] == 0).all(|d| d["left_out_of"][0].is_null()));
}

#[test]
fn the_rooms_own_years_move_its_durations() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["durations", "--on", "2026-02-10", "--json"]).json();
    let of = |name: &str| {
        let all = answer["durations"].as_array().unwrap();
        all.iter().find(|d| d["duration"] == name).unwrap().clone()
    };
    let prior = [("ovulation to pre-lay shed", 19.0), ("laying to hatch", 61.0)];
    let sheet = [("ovulation to pre-lay shed", 19.901), ("laying to hatch", 59.338)];
    for ((name, usual), (_, average)) in prior.into_iter().zip(sheet) {
        let found = of(name);
        assert_eq!(found["seen"], 71, "{found}");
        // The usual one counts for three beside the 71.
        let expected = (3.0 * usual + 71.0 * average) / 74.0;
        assert!((found["mean"].as_f64().unwrap() - expected).abs() < 0.001, "{found}");
    }
    // Nothing of it was known before the first clutch.
    let early = folder.ask(&["durations", "--on", "2021-03-01", "--json"]).json();
    assert!(early["durations"].as_array().unwrap().iter().all(|d| d["seen"] == 0), "{early}");
    let text = folder.ask(&["durations", "--on", "2026-02-10"]).out;
    assert!(text.contains("from 71 seen here"), "{text}");
}

/// Worked out by hand: at 31.5 °C eggs develop 1.107 times as fast as at 29.2 (docs/methods/incubation.md),
/// so that 64 days become 57.8.
#[test]
fn eggs_hatch_as_warm_as_they_lie() {
    let folder = Folder::new();
    let sheet = folder.write("a.csv", "ID,Sex,Hatch date\nF06,0.1,2019-06-01\n");
    assert_eq!(folder.ask(&["import", &sheet, "--zone", "UTC", "--yes"]).code, 0);
    let record = |words: &[&str]| {
        let ran = folder.ask(&[&["record"], words].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
    };
    record(&["laid", "F06", "6", "0", "incubator", "--day", "2026-03-01"]);
    let of = |on: &str| {
        let answer = folder.ask(&["eggs", "--on", on, "--json"]).json();
        let all = answer["eggs"].as_array().unwrap();
        all.iter().find(|e| e["female"] == "F06").unwrap().clone()
    };
    assert!(of("2026-03-02")["warmth_unknown"].as_str().unwrap().contains("record incubated"));
    record(&["incubated", "F06", "incubator", "1", "--day", "2026-03-01"]);
    record(&["reading", "Incubator", "1", "set", "31.5", "--day", "2026-02-20"]);
    record(&["weighed", "F06", "1650", "--day", "2026-02-15"]);
    let set = of("2026-03-02");
    assert_eq!(set["expected"]["eggs"]["median"], 6, "counted");
    // 81 % of six (Morrill et al. 2011).
    let hatching = set["expected"]["hatchlings"]["mean"].as_f64().unwrap();
    assert!((hatching - 0.81 * 6.0).abs() < 1e-6, "{set}");
    assert_eq!(set["expected"]["grams"], 1650.0);
    assert_eq!(set["place"], "incubator 1");
    assert_eq!(set["hatch"]["median"], "2026-04-28", "{set}");
    assert_eq!(set["cautions"].as_array().unwrap().len(), 0, "{set}");
    // A thermometer that says 92.3 °F, which is 33.5 °C, is believed for its own time, and told; one
    // hot reading is not how it goes on.
    record(&["reading", "incubator", "1", "92.3F", "80%", "--day", "2026-03-02"]);
    let hot = of("2026-03-02");
    assert!((hot["warmth"]["goes_on_at"].as_f64().unwrap() - 31.5).abs() < 1e-9, "{hot}");
    let caution = hot["cautions"][0].as_str().unwrap();
    assert!(
        caution.starts_with("Above 33 °C (91.4 °F) for 6 hours, 33.5 °C (92.3 °F) read: "),
        "{caution}"
    );
    let text = folder.ask(&["eggs", "--on", "2026-03-02"]).out;
    assert!(text.contains("F06: laid") && text.contains("incubator 1, hatch"), "{text}");
    let wrong = folder.ask(&["record", "reading", "incubator", "1", "95"]);
    assert!(wrong.code == 1 && wrong.err.contains("Fahrenheit"), "{}", wrong.err);
}
