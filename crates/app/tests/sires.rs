//! Who fathered a clutch, and what proves a het, in the keeper's sample room.

use serde_json::Value;

use crate::program::{Folder, Ran};

fn sum(list: &Value, key: &str) -> f64 {
    list.as_array().unwrap().iter().map(|one| one[key].as_f64().unwrap()).sum()
}

fn clutch(ran: &Ran) -> Value {
    let all = ran.json();
    assert_eq!(all["clutches"].as_array().unwrap().len(), 1);
    all["clutches"][0].clone()
}

#[test]
fn a_clutch_and_its_fathers() {
    let folder = Folder::with_room();
    let on = ["--on", "2026-02-10"];
    let told = folder.ask(&[&["sire", "C25-67", "--json"][..], &on].concat());
    let told = clutch(&told);
    assert_eq!((&told["dam"], &told["laid"]), (&"F10".into(), &"2025-06-05".into()));
    let first = &told["candidates"][0];
    assert_eq!((&first["kind"], &first["sire"]), (&"male".into(), &"M03".into()));
    assert_eq!(first["credited"], true);
    assert!(first["p_any"].as_f64().unwrap() > 0.99);
    let two = told["two"].as_f64().unwrap();
    assert!((sum(&told["candidates"], "p") + two - 1.0).abs() < 1e-9);
    assert!((sum(&told["candidates"], "before") - 1.0).abs() < 1e-9);
    assert_eq!(told["hatchlings"].as_array().unwrap().len(), 6);
    for young in told["hatchlings"].as_array().unwrap() {
        assert!((sum(&young["sires"], "p") - 1.0).abs() < 1e-9);
    }
    let text = folder.ask(&[&["sire", "c25-67"][..], &on].concat()).out;
    assert!(text.contains("Clutch C25-67 of F10, laid 5 June 2025: 6 young"), "{text}");
    assert!(text.contains("M03: 16 nights, 4 locks"), "{text}");
    // Her other clutches come with hers, the last first.
    let hers = folder.ask(&[&["sire", "F10", "--json"][..], &on].concat()).json();
    let codes: Vec<&str> =
        hers["clutches"].as_array().unwrap().iter().filter_map(|c| c["clutch"].as_str()).collect();
    assert_eq!(codes.first(), Some(&"C25-67"));
    assert!(codes.contains(&"C21-01"));
}

/// The young of C25-69 show nothing of a yellow belly that M14 should give to half: both commands
/// say the same of him, and reckon alike where one father is taken for all.
#[test]
fn a_clutch_that_speaks_against_the_sire_who_is_written() {
    let folder = Folder::with_room();
    let on = ["--on", "2026-02-10"];
    let alone = clutch(&folder.ask(&[&["sire", "C25-69", "--json"][..], &on].concat()));
    let one = 1.0 - alone["two"].as_f64().unwrap();
    let genes = folder.ask(&[&["genes", "C25-69-1", "--json"][..], &on].concat()).json();
    let of_it = |c: &&Value| c["clutch"] == "C25-69";
    let weighed = genes["sires"].as_array().unwrap().iter().find(of_it).unwrap();
    assert_eq!(weighed["written"], "M14");
    let mut told = 0;
    for candidate in alone["candidates"].as_array().unwrap() {
        let is_it =
            |s: &&Value| (&s["kind"], &s["sire"]) == (&candidate["kind"], &candidate["sire"]);
        let found = weighed["sires"].as_array().unwrap().iter().find(is_it);
        told += usize::from(found.is_some());
        let (p, found) = (
            candidate["p"].as_f64().unwrap() / one,
            found.map_or(0.0, |s| s["p"].as_f64().unwrap()),
        );
        assert!((p - found).abs() < 0.002, "{candidate} {found}");
    }
    assert_eq!(told, 2, "M14 and a stranger: {weighed}");
    // What a keeper reads is what `sire` prints.
    let tenth = |p: f64| format!("{:.1} %", 100.0 * p).replace(".0 %", " %");
    let likely = |c: &&Value| c["p_any"].as_f64().unwrap() >= 0.01;
    let of_each = alone["candidates"].as_array().unwrap().iter().filter(likely).map(|c| {
        let sire = c["sire"].as_str().unwrap_or_default();
        let who = match c["kind"].as_str().unwrap() {
            "unknown male" => "one nobody wrote down".to_owned(),
            "male" => sire.to_owned(),
            _ => format!("kept sperm of {sire}"),
        };
        format!("{who} {}", tenth(c["p_any"].as_f64().unwrap()))
    });
    let (of_each, two) = (of_each.collect::<Vec<_>>().join(", "), tenth(1.0 - one));
    let said = format!(
        "What is seen of clutch C25-69 speaks against M14, who is written as its sire: \
         {of_each} (to have fathered some or all; that two males did: {two})."
    );
    let printed = folder.ask(&[&["sire", "C25-69"][..], &on].concat()).out;
    assert!(said.contains("M14 35 %") && printed.contains(" 35 %  M14"), "{printed}");
    assert_eq!(weighed["said"], said);
    let ran = folder.ask(&[&["genes", "C25-69-4"][..], &on].concat());
    assert!(ran.out.contains(&said), "{}", ran.out);
    assert!(folder.ask(&[&["genes"][..], &on].concat()).out.contains(&said));
}

#[test]
fn a_het_and_its_proofs_and_what_is_refused() {
    let folder = Folder::with_room();
    let costs = ["--lab-costs", "45", "--season-costs", "400", "--on", "2026-02-10"];
    let told = folder.ask(&[&["prove", "M17", "hypo", "--json"][..], &costs].concat()).json();
    let gene = &told["genes"][0];
    assert_eq!((&gene["gene"], &gene["question"]), (&"hypo".into(), &"carries".into()));
    let proofs = gene["proofs"].as_array().unwrap();
    assert_eq!(proofs[0]["how"], "laboratory");
    let price = |p: &Value| p["cost"].as_f64().unwrap() / p["bits"].as_f64().unwrap();
    assert!(proofs.windows(2).all(|two| price(&two[0]) <= price(&two[1])));
    let bits = gene["bits"].as_f64().unwrap();
    assert!(proofs.iter().all(|p| p["bits"].as_f64().unwrap() <= bits));
    let text = folder.ask(&[&["prove", "M17", "hypo"][..], &costs].concat()).out;
    assert!(text.starts_with("M17 carries hypo:"), "{text}");
    assert!(text.contains(" leaves ") && !text.contains(" bits"), "{text}");
    // What nobody is called.
    for (ask, wanted) in [
        (&["sire", "C99-1"][..], "No clutch and no animal is called C99-1"),
        (&["sire", "M01"], "M01 has no clutch"),
        (&["prove", "F99"], "No animal is called F99"),
        (&["prove", "F12", "colour"], "no gene called colour"),
        (&["prove", "F12", "--lab-costs", "nan"], "A cost is a number from 0."),
    ] {
        let ran = folder.ask(ask);
        assert_eq!(ran.code, 1, "{ask:?}");
        assert!(ran.err.contains(wanted), "{ask:?}: {}", ran.err);
    }
}

#[test]
fn a_label_that_leaves_a_question_is_not_written() {
    let folder = Folder::with_room();
    for label in ["klown", "Axanthic", "coral glow male maker", " "] {
        let ran = folder.ask(&["record", "genes", "F01", label]);
        assert_ne!(ran.code, 0, "{label}: {}", ran.out);
    }
    let ran = folder.ask(&["record", "genes", "F01", "hypo yellow belly"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
}
