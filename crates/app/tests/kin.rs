//! Kinship in pedigree files and in the colony.

use serde_json::{Value, json};

use crate::program::{Folder, Ran, run};

fn kin(csv: &str, more: &[&str]) -> Ran {
    let folder = Folder::new();
    let file = folder.write("line.csv", csv);
    let mut args = vec!["kin", "--pedigree", &file];
    args.extend(more);
    run(&args)
}

/// The blocks of a kind in docs/methods/kinship.md.
fn documented(kind: &str) -> String {
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/methods/kinship.md");
    let page = std::fs::read_to_string(page).unwrap().replace("\r\n", "\n");
    let (_, from) = page.split_once(&format!("```{kind}\n")).unwrap();
    from.split_once("```").unwrap().0.to_owned()
}

#[test]
fn the_worked_example_is_as_documented() {
    let pairs = ["M02", "F03", "M01", "F04", "M03", "F05"];
    let more: Vec<&str> = pairs.chunks(2).flat_map(|two| ["--pair", two[0], two[1]]).collect();
    assert_eq!(kin(&documented("csv"), &more).out, documented("text"));
}

/// Mrode 2005, table 2.1; rows upside down, the heading in another order.
#[test]
fn mrode_2005_upside_down() {
    let csv = "dam,id,sire\n2,6,5\n3,5,4\n,4,1\n2,3,1\n0,2,0\n0,1,0\n";
    let told = kin(csv, &["--json"]).json();
    let of = |list: &str, keys: [&str; 2]| -> Value {
        let is =
            |one: &&Value| one["id"] == keys[0] || (one["a"] == keys[0] && one["b"] == keys[1]);
        told[list].as_array().unwrap().iter().find(is).unwrap().clone()
    };
    assert_eq!(told["pairs"].as_array().unwrap().len(), 15);
    assert_eq!(of("animals", ["6", ""]), json!({"id": "6", "inbreeding": 0.125}));
    assert_eq!(of("animals", ["4", ""]), json!({"id": "4", "inbreeding": 0.0}));
    let kinship = |a, b| of("pairs", [a, b])["kinship"].as_f64().unwrap();
    assert_eq!([kinship("6", "5"), kinship("6", "3"), kinship("4", "2")], [0.34375, 0.28125, 0.0]);
}

#[test]
fn more_pairs_than_wanted_are_not_listed_and_said() {
    let told = kin("id,sire,dam\na,0,0\nb,0,0\nc,a,b\n", &["--json", "--most", "2"]).json();
    assert_eq!(told["pairs"], json!([]));
    assert!(told["notes"][0].as_str().unwrap().starts_with("There are 3 pairs, more than 2"));
}

#[test]
fn what_is_wrong_in_a_file_is_refused_with_its_line() {
    for (csv, wanted) in [
        (
            "id,sire,dam\na,b,0\nb,a,0\n",
            "line 2: An animal is its own ancestor: a (line 2) is young of b (line 3)",
        ),
        ("id,sire,dam\na,0,0\na,0,0\n", "line 3, column id: a has a row already, line 2."),
        (
            "id,sire,dam\nb,a,0\nc,0,a\n",
            "line 3, column dam: a is a dam here and a sire in line 2.",
        ),
        (
            "id,sire,dam,sex\na,0,0,f\nb,a,0,\n",
            "line 3, column sire: a is a sire here, but line 2 calls it female.",
        ),
        ("name,sire,dam\na,0,0\n", "No column is headed id."),
    ] {
        let ran = kin(csv, &["--json"]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""));
        let error: Value = serde_json::from_str(&ran.err).unwrap();
        assert!(error["error"].as_str().unwrap().contains(wanted), "{error}");
        assert!(!error["do"].as_str().unwrap().is_empty());
    }
    let ran = kin("id,sire,dam\nM01,0,0\n", &["--pair", "m01", "M01"]);
    assert!(ran.err.contains("has no animal m01.\nDid you mean M01?"), "{}", ran.err);
}

/// Parents as the sheets of the room have them: clutch C25-69 came of F07 and her son M14.
#[test]
fn prospective_pairs_of_the_room_with_their_reasons() {
    let folder = Folder::with_room();
    let told = folder.ask(&["kin", "--on", "2026-02-10", "--json"]).json();
    let pairs = told["pairs"].as_array().unwrap();
    let pair =
        |a: &str, b: &str| pairs.iter().find(|p| p["a"] == a && p["b"] == b).unwrap().clone();
    let sibs = pair("F24", "M09");
    assert_eq!((&sibs["kinship"], &sibs["relation"]), (&json!(0.25), &json!("full brother")));
    assert_eq!(
        sibs["behind"],
        json!([{"id": "M03", "share": 0.125}, {"id": "F14", "share": 0.125}])
    );
    assert_eq!(
        pair("F30", "M17")["said"][0],
        "young would be 6.25 % inbred: he is her half nephew; both come from M07 (her sire, his grandsire)."
    );
    let inbred = |id: &str| {
        let animals = told["animals"].as_array().unwrap();
        animals.iter().find(|a| a["id"] == id).unwrap()["inbreeding"].as_f64().unwrap()
    };
    assert_eq!((inbred("C25-69-1"), inbred("F24")), (0.25, 0.0));
    let asked = folder.ask(&["kin", "--on", "2026-02-10", "--pair", "F01", "M01"]);
    assert!(
        asked
            .out
            .contains("F01 and M01: no common ancestor is written. The parents of both are not"),
        "{}",
        asked.out
    );
    let nobody = folder.ask(&["kin", "--pair", "F01", "M0X"]);
    assert!(nobody.err.contains("No animal is called M0X"), "{}", nobody.err);
}
