//! Where each female stands, and tonight, on the keeper's sheets.

use std::collections::HashSet;

use serde_json::Value;

use crate::program::Folder;

fn list<'a>(value: &'a Value, name: &str) -> &'a Vec<Value> {
    value[name].as_array().unwrap()
}

#[test]
fn every_chance_sums_to_one_and_every_date_has_its_interval() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["follicles", "--on", "2026-02-10", "--json"]).json();
    for f in list(&answer, "females") {
        let state: f64 =
            f["state"].as_object().unwrap().values().map(|p| p.as_f64().unwrap()).sum();
        assert!((state - 1.0).abs() < 1e-9, "{f}");
        for (size, chance) in f["chance"].as_object().unwrap() {
            let sum: f64 = chance.as_object().unwrap().values().map(|p| p.as_f64().unwrap()).sum();
            assert!((sum - 1.0).abs() < 1e-9, "{f}");
            let date = &f["reaches"][size];
            let passed = chance["passed"].as_f64().unwrap();
            if passed >= 0.95 {
                assert!(date.is_null(), "{f}");
            }
            if !date.is_null() {
                assert!(date["low"].as_str() <= date["median"].as_str(), "{f}");
                assert!(date["median"].as_str() <= date["high"].as_str(), "{f}");
                assert!((date["coverage"].as_f64().unwrap() - 0.8).abs() < 1e-9);
            }
        }
    }
}

/// Whoever is under way has every date of the chain that is not behind her, each after the one before.
#[test]
fn a_female_under_way_has_every_date_to_hatch() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["follicles", "--on", "2026-02-10", "--json"]).json();
    let steps = ["ovulation", "shed", "laying", "hatch", "first-shed", "first-meal"];
    let mut n_under_way = 0;
    for f in list(&answer, "females") {
        let ahead = list(f, "ahead");
        let phase = f["phase"].as_str().unwrap();
        let first = match phase {
            "building" => 0,
            "ovulated" => 1,
            _ => {
                assert!(ahead.is_empty(), "{f}");
                continue;
            }
        };
        n_under_way += 1;
        let has = |what: &str| ahead.iter().find(|a| a["what"] == what);
        let mut last = "2026-02-10".to_owned();
        for step in &steps[first..] {
            let coming = has(step).unwrap_or_else(|| panic!("no {step} of {f}"));
            assert_eq!(coming["date"], f["dates"][*step], "{f}");
            assert_eq!(coming["chance"].is_null(), phase == "ovulated", "{f}");
            let median = coming["date"]["median"].as_str().unwrap();
            assert!(last.as_str() < median, "{step} of {f}");
            last = median.to_owned();
        }
        for step in &steps[..first] {
            assert!(f["seen"][*step].is_string() && f["dates"][*step].is_null(), "{f}");
        }
    }
    assert!(n_under_way >= 10, "{n_under_way}");

    let table = folder.ask(&["follicles", "--on", "2026-02-10"]).out;
    let one = folder.ask(&["follicles", "--on", "2026-02-10", "--female", "F03"]);
    let line = table.lines().find(|line| line.starts_with("F03")).unwrap();
    for step in ["ovulation", "pre-lay shed", "laying", "hatch"] {
        let full = one.out.lines().find(|l| l.trim_start().starts_with(step)).unwrap();
        let span = full.trim_start()[step.len()..].trim_start().split("  ").next().unwrap();
        assert!(line.contains(span.trim()), "{step}: {span} in {line}");
        assert!(full.contains("% that it comes ("), "{full}");
    }
    let no = folder.ask(&["follicles", "--female", "M01"]);
    assert!(no.code == 1 && no.err.contains("is no female of breeding size"), "{}", no.err);
}

#[test]
fn the_females_stand_where_their_sheets_say() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["follicles", "--on", "2026-02-10", "--json"]).json();
    let phase = |code: &str| {
        let all = list(&answer, "females");
        all.iter().find(|f| f["female"] == code).map(|f| f["phase"].as_str().unwrap().to_owned())
    };
    // The last two rows of the clutches: ovulated on 2026-01-21 and on that very day.
    assert_eq!(phase("F26").as_deref(), Some("ovulated"));
    assert_eq!(phase("F30").as_deref(), Some("ovulated"));
    // Sold in 2022.
    assert_eq!(phase("F22"), None);
    // 1,088 g, never checked.
    assert_eq!(phase("F33"), None);
}

#[test]
fn tonight_moves_nobody_twice_and_breaks_no_rule() {
    let folder = Folder::with_room();
    for fresh in [false, true] {
        let mut args = vec!["tonight", "--on", "2026-02-10", "--json"];
        if fresh {
            args.push("--fresh");
        }
        let answer = folder.ask(&args).json();
        assert_eq!(answer["night"], "2026-02-10");
        let mut busy = HashSet::new();
        for m in list(&answer, "moves").iter().chain(list(&answer, "done")) {
            assert!(busy.insert(m["male"].clone()), "{m}");
            assert!(busy.insert(m["female"].clone()), "{m}");
        }
        for m in list(&answer, "moves") {
            assert!(m["worth"].as_f64().unwrap() > 0.0, "{m}");
            assert!(!m["reason"].as_str().unwrap().is_empty());
            for f in list(m, "facts") {
                let (value, limit) = (f["value"].as_f64(), f["limit"].as_f64());
                match (f["rule"].as_str().unwrap(), value, limit) {
                    ("female_weight" | "male_weight", Some(v), Some(l)) => assert!(v >= l, "{m}"),
                    ("male_loss" | "resorbing", Some(v), Some(l)) => assert!(v <= l, "{m}"),
                    ("nights_placed", Some(v), Some(l)) => assert!(v < l, "{m}"),
                    ("rest_after_lock", Some(v), Some(l)) => assert!(v > l, "{m}"),
                    _ => {}
                }
            }
        }
        for l in list(&answer, "left_out") {
            assert!(!l["reason"].as_str().unwrap().is_empty(), "{l}");
        }
    }
}

#[test]
fn placements_of_the_evening_are_done_and_planned_around() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["tonight", "--on", "2026-02-10", "--json"]).json();
    let done: Vec<(&str, &str)> = list(&answer, "done")
        .iter()
        .map(|m| (m["male"].as_str().unwrap(), m["female"].as_str().unwrap()))
        .collect();
    assert_eq!(done, [("M06", "F13"), ("M07", "F06")]);
    let fresh = folder.ask(&["tonight", "--on", "2026-02-10", "--fresh", "--json"]).json();
    assert!(list(&fresh, "done").is_empty());
}

/// Each fact is held against the sheets themselves, read here by a few lines of our own.
#[test]
fn weights_in_facts_are_those_of_the_sheet() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["tonight", "--on", "2026-02-10", "--json"]).json();
    let path = std::path::Path::new(&crate::program::room()).join("weights.csv");
    let sheet = std::fs::read_to_string(path).unwrap();
    let last = |code: &str| {
        let rows = sheet.lines().filter(|l| l.split(',').nth(1) == Some(code));
        let newest = rows.max_by_key(|l| l.split(',').next().unwrap().to_owned()).unwrap();
        let grams: String =
            newest.splitn(3, ',').nth(2).unwrap().chars().filter(char::is_ascii_digit).collect();
        grams.parse::<f64>().unwrap()
    };
    let mut checked = 0;
    for m in list(&answer, "moves") {
        for f in list(m, "facts") {
            let who = match f["rule"].as_str().unwrap() {
                "female_weight" => "female",
                "male_weight" => "male",
                _ => continue,
            };
            assert_eq!(f["value"].as_f64().unwrap(), last(m[who].as_str().unwrap()), "{m}");
            checked += 1;
        }
    }
    assert!(checked > 0 || list(&answer, "moves").is_empty());
}

#[test]
fn a_day_asked_for_knows_nothing_later() {
    let folder = Folder::with_room();
    let early = folder.ask(&["follicles", "--on", "2021-01-10", "--json"]).json();
    let f10 = list(&early, "females").iter().find(|f| f["female"] == "F10").unwrap();
    // She ovulated on 2021-01-24, two weeks later.
    assert_eq!(f10["phase"], "building");
}

/// The rows of the feeding sheet, and nothing else, say what is due and what to thaw.
#[test]
fn feeding_is_what_the_sheet_says() {
    let folder = Folder::with_room();
    let answer = folder.ask(&["feeding", "--on", "2026-02-10", "--json"]).json();
    assert_eq!(answer["day"], "2026-02-10");
    let due = list(&answer, "due");
    let needed: u64 = due.iter().map(|m| m["count"].as_u64().unwrap()).sum();
    let thawed: u64 = list(&answer, "thaw").iter().map(|t| t["count"].as_u64().unwrap()).sum();
    assert!(needed > 0 && needed == thawed);
    // Offered on 12 and 20 December, 1, 13, 21 and 30 January: gaps of 8, 12, 12, 8 and 9 days. Of
    // the four meals eaten two were small rats, the last of them too.
    let f16 = due.iter().find(|m| m["animal"] == "F16").unwrap();
    assert_eq!(
        (f16["every_days"].as_u64(), f16["every_from"].as_str()),
        (Some(9), Some("own meals"))
    );
    assert_eq!(f16["prey"], "small rat");
    assert_eq!(f16["last_offered"], "2026-01-30");
    assert_eq!(f16["refusal"], Value::Null);
    // M01 ate on the evening before.
    assert!(due.iter().all(|m| m["animal"] != "M01"));
    assert!(list(&answer, "later").iter().any(|m| m["animal"] == "M01"));
    let said = folder.ask(&["feeding", "--on", "2026-02-10"]);
    assert!(said.out.contains("Thaw") && said.out.contains("F16 Catkin"), "{}", said.out);
}
