//! The pages on the network: the key is printed, kept, and changed where asked.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use crate::program::{Folder, run};

struct Served(Child);

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Starts the pages and ends them again; what they printed up to the key.
fn printed(data: &str, more: &[&str]) -> String {
    let child = Command::new(env!("CARGO_BIN_EXE_clutchwright"))
        .args(["serve", "--lan", "--port", "0", "--data", data])
        .args(more)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut served = Served(child);
    let lines = BufReader::new(served.0.stdout.take().unwrap()).lines();
    let mut text = String::new();
    for line in lines {
        let line = line.unwrap();
        text.push_str(&line);
        text.push('\n');
        if line.contains("key that each new phone") {
            break;
        }
    }
    text
}

fn key(printed: &str) -> &str {
    printed.trim_end().rsplit_once(": ").unwrap().1
}

#[test]
fn the_key_is_kept_until_another_is_asked_for() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--yes"]);
    let data = folder.at("data");
    let first = printed(&data, &[]);
    assert!(first.contains("http://127.0.0.1:"), "{first}");
    assert!(first.contains("On a phone") || first.contains("on no network"), "{first}");
    assert_eq!((key(&first).len(), key(&first).matches('-').count()), (14, 2), "{first}");
    assert_eq!(key(&printed(&data, &[])), key(&first), "kept");
    let other = printed(&data, &["--new-key"]);
    assert_ne!(key(&other), key(&first));
    assert_eq!(key(&printed(&data, &[])), key(&other), "kept");
    let file = std::path::Path::new(&data).join("phones.txt");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(std::fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
    }
    std::fs::write(&file, "key of no kind\n").unwrap();
    let refused = folder.ask(&["serve", "--lan", "--port", "0"]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("line 1") && refused.err.contains("--new-key"), "{}", refused.err);
}

#[test]
fn beside_the_pages_commands_read_and_are_told_who_writes() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--yes"]);
    let child = Command::new(env!("CARGO_BIN_EXE_clutchwright"))
        .args(["serve", "--port", "0", "--data", &folder.at("data")])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut served = Served(child);
    let mut line = String::new();
    BufReader::new(served.0.stdout.take().unwrap()).read_line(&mut line).unwrap();
    let address = line.split_whitespace().find(|word| word.starts_with("http://")).unwrap();
    assert!(address.starts_with("http://127.0.0.1:"), "on this machine only: {line}");
    for reads in [&["tonight", "--json"][..], &["follicles", "--json"], &["doubts", "--json"]] {
        assert_eq!(folder.ask(reads).code, 0, "{reads:?}");
    }
    for writes in
        [&["record", "weighed", "K1", "1500"][..], &["undo"], &["import", &animals, "--yes"]]
    {
        let ran = folder.ask(writes);
        assert_eq!(ran.code, 1, "{writes:?}: {}", ran.out);
        assert!(ran.err.contains(address), "{writes:?}: {}", ran.err);
    }
}

#[test]
fn a_new_key_is_only_for_the_network() {
    assert_eq!(run(&["serve", "--new-key"]).code, 2);
}

#[test]
fn serving_a_new_folder_makes_a_room_and_says_so() {
    let folder = Folder::new();
    let said = printed(&folder.at("data"), &["--zone", "Pacific/Auckland"]);
    assert!(said.contains("A new room in") && said.contains("Pacific/Auckland"), "{said}");
    assert_eq!(folder.ask(&["rebuild", "--json"]).json()["animals"], 0);
    // The second time it is there.
    let again = printed(&folder.at("data"), &[]);
    assert!(!again.contains("A new room"), "{again}");
    let other = Folder::new();
    let refused = other.ask(&["serve", "--port", "0", "--zone", "Middle/Earth"]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("Europe/Berlin"), "{}", refused.err);
    assert!(!std::path::Path::new(&other.at("data")).exists(), "nothing is made then");
    // The zone can be changed, and past records keep their moments.
    assert_eq!(folder.ask(&["setting", "zone", "UTC"]).code, 0);
    assert!(folder.ask(&["setting", "zone"]).out.contains("UTC"));
    assert_eq!(folder.ask(&["setting", "zone", "Middle/Earth"]).code, 1);
}
