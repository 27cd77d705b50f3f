//! `demo`: the made-up room opens, stands on its own evening, and is told from a real one.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use crate::program::{Folder, run};

/// The program while it serves; ended with the test.
struct Served {
    child: Child,
    said: String,
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn served(data: &str) -> Served {
    let mut child = Command::new(env!("CARGO_BIN_EXE_clutchwright"))
        .args(["demo", "--data", data])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut said = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut said).unwrap();
    Served { child, said }
}

#[test]
fn the_made_up_room_says_which_address_to_open_and_answers_as_of_its_evening() {
    let folder = Folder::new();
    let data = folder.at("demo");
    let open = served(&data);
    assert!(open.said.starts_with("Open http://127.0.0.1:"), "{}", open.said);

    let tonight = run(&["tonight", "--data", &data, "--json"]).json();
    assert_eq!(tonight["night"], "2026-02-13");
    assert!(!tonight["moves"].as_array().unwrap().is_empty());
    let asked = run(&["tonight", "--data", &data, "--json", "--on", "2026-02-13"]);
    assert_eq!(asked.json(), tonight);

    let again = run(&["demo", "--data", &data]);
    assert_eq!(again.code, 1);
    let address = open.said.split_whitespace().nth(1).unwrap();
    assert!(again.err.contains(address), "{}", again.err);
    drop(open);

    let wrote = run(&["record", "note", "--data", &data, "M01", "looks", "well"]);
    assert_eq!(wrote.code, 0, "{}", wrote.err);
    assert!(wrote.out.contains("M01: looks well, 13 Feb 2026"), "{}", wrote.out);
}

#[test]
fn a_real_room_is_never_taken_for_the_made_up_one() {
    let folder = Folder::with_room();
    let ran = folder.ask(&["demo"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("a real room") && ran.err.contains("--data"), "{}", ran.err);
}
