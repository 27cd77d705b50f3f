//! What every animal of a keeper's sheets carries.

use serde_json::Value;

use crate::program::Folder;

fn room() -> (Folder, Value) {
    let folder = Folder::with_room();
    let answer = folder.ask(&["genes", "--on", "2026-02-10", "--json"]).json();
    (folder, answer)
}

fn typed<'a>(answer: &'a Value, id: &str, locus: &str) -> &'a Value {
    let animals = answer["animals"].as_array().unwrap();
    let animal = animals.iter().find(|a| a["id"] == id).unwrap();
    let typed = animal["typed"].as_array().unwrap();
    typed.iter().find(|t| t["locus"] == locus).unwrap_or_else(|| panic!("{animal}"))
}

/// The label counts as its trust allows where no parents are recorded, and not at all where both
/// are; numbers by hand, with background q = .01 and one look in 100 missed.
#[test]
fn every_animal_of_the_room_is_answered_and_typed_hets_stand_beside() {
    let (_folder, answer) = room();
    let animals = answer["animals"].as_array().unwrap();
    assert_eq!(animals.len(), 414);
    for animal in animals {
        for (locus, genes) in animal["genes"].as_object().unwrap() {
            let chances = genes.as_object().unwrap().values().map(|p| p.as_f64().unwrap());
            let sum: f64 = chances.sum();
            assert!((sum - 1.0).abs() < 1e-9, "{} {locus}: {sum}", animal["id"]);
        }
    }
    assert_eq!(answer["clashes"], serde_json::json!([]), "no records contradict each other");
    assert!(answer["log10_likelihood"].as_f64().unwrap() < 0.0);
    let background = 2.0 * 0.01 / 1.01;
    let founder: f64 = 0.95 + 0.05 * background;
    // Six young with F23, who is a het by her visual sire: each is normal with .75 + .25 x .01.
    let young = 0.7525_f64.powi(6);
    let expected = [
        ("F04", "albino", "het albino", "as the prior", founder),
        ("M09", "axanthic (line A)", "50% het axanthic (line A)", "no", young / (young + 1.0)),
        ("F23", "piebald", "50% het piebald", "no", founder / 2.0),
        ("F25", "axanthic (line A)", "het axanthic (line A)", "no", 1.0),
        ("M15", "albino", "50% het albino", "no", 0.5),
    ];
    for (id, locus, said, counts, carries) in expected {
        let typed = typed(&answer, id, locus);
        assert_eq!((typed["said"].as_str(), typed["counts"].as_str()), (Some(said), Some(counts)));
        let found = typed["carries"].as_f64().unwrap();
        assert!((found - carries).abs() < 1e-6, "{id} {locus}: {found} is not {carries}");
    }
}

#[test]
fn one_animal_is_told_with_what_made_it_so() {
    let folder = Folder::with_room();
    let ran = folder.ask(&["genes", "m09", "--on", "2026-02-10"]);
    for sentence in [
        "axanthic (line A): het axanthic (line A) about 1 in 7 (15.4 %), without axanthic (line A) about 5 in 6 (84.6 %)",
        "His label says 50% het axanthic (line A): not counted, as both parents are written.",
        "His sire M03 Tuff is het axanthic (line A).",
        "Before his young spoke: het axanthic (line A) 1 in 2 (50 %).",
        "His young with F23 Nettle, who is het axanthic (line A): none of 6 shows axanthic (line A).",
        "His young with F05 Myrtle, who is albino: 2 of 5 show albino, which takes a copy of his.",
    ] {
        assert!(ran.out.contains(sentence), "{sentence}\n{}", ran.out);
    }
    assert!(!ran.out.contains("het mojave") && !ran.out.contains("het pinstripe"), "{}", ran.out);
    let answer = folder.ask(&["genes", "m09", "--on", "2026-02-10", "--json"]).json();
    let because = answer["animals"][0]["because"].as_object().unwrap();
    let loci: Vec<&String> = because.keys().collect();
    assert_eq!(loci, ["axanthic (line A)", "albino", "blue-eyed leucistic group"]);
    for sentence in because["albino"].as_array().unwrap() {
        assert!(ran.out.contains(sentence.as_str().unwrap()), "{sentence}\n{}", ran.out);
    }
    let nobody = folder.ask(&["genes", "M99", "--on", "2026-02-10"]);
    assert_eq!(nobody.code, 1);
}

/// A clown out of two animals of whom nobody said so: the locus is reopened and both are named.
#[test]
fn a_carrier_nobody_named_is_named() {
    let folder = Folder::new();
    let sheet = "code,sex,genes,sire,dam,hatched\nM1,1.0,pastel,,,2018-06-01\n\
                 F1,0.1,enchi,,,2018-06-01\nC1,0.1,clown,M1,F1,2022-06-01\n\
                 C2,0.1,pastel,M1,F1,2022-06-01\n";
    let path = folder.write("a.csv", sheet);
    let ran = folder.ask(&["import", &path, "--zone", "UTC", "--yes"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let answer = folder.ask(&["genes", "--json"]).json();
    let clash = &answer["clashes"][0];
    assert_eq!((clash["locus"].as_str(), clash["resolved"].as_bool()), (Some("clown"), Some(true)));
    let carriers = clash["carriers"].as_array().unwrap();
    assert_eq!(carriers.len(), 2, "{clash}");
    assert!(carriers.iter().all(|c| c["p"].as_f64().unwrap() > 0.999), "{clash}");
    let said = folder.ask(&["genes", "C2"]).out;
    assert!(said.contains("a carrier nobody named: "), "{said}");
}

/// A pair whose male has gone through young is reckoned by them: M09 with a visual female.
#[test]
fn chances_of_a_pair_follow_from_all_records() {
    let folder = Folder::with_room();
    let args = ["chances", "--sire", "M09", "--dam", "F20", "--target", "axanthic (line A)"];
    let answer = folder.ask(&[&args[..], &["--on", "2026-02-10", "--json"]].concat()).json();
    let young = 0.7525_f64.powi(6);
    let per_egg = answer["target"]["per_egg"].as_f64().unwrap();
    assert!((per_egg - young / (young + 1.0) / 2.0).abs() < 1e-6, "{per_egg}");
    assert_eq!(answer["joint"], serde_json::json!([]), "{answer}");
}
