//! A writer killed at any moment loses nothing that it acknowledged.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use records::Fact;
use records::facts::Noted;
use store::{Store, new_id, now};
use units::{When, Zone};

const FOLDER: &str = "KILLED_WRITER_FOLDER";

/// What the child does until it is killed: write two records, then say their numbers.
fn write_for_ever(dir: &Path) -> ! {
    let mut store = Store::open(dir).unwrap();
    let note = || records::Draft {
        id: new_id(),
        when: When::Undated,
        written: now(),
        who: String::new(),
        batch: None,
        source: None,
        fact: Fact::Noted(Noted { animal: None, text: "x".repeat(200) }),
    };
    loop {
        let done = store.append(vec![note(), note()]).unwrap();
        let mut out = std::io::stdout().lock();
        for record in done.written {
            writeln!(out, "wrote {} {}", record.sequence, record.id()).unwrap();
        }
        out.flush().unwrap();
    }
}

/// Plays both parts: run by itself in a child process, it is the writer.
#[test]
fn a_killed_writer_loses_nothing_acknowledged() {
    if let Ok(dir) = std::env::var(FOLDER) {
        write_for_ever(Path::new(&dir));
    }
    let room = tempfile::tempdir().unwrap();
    drop(Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap());
    for round in 1..=4 {
        let acknowledged = run_and_kill(room.path(), 25 * round);
        let store = Store::open(room.path()).unwrap();
        assert_eq!(store.verify().unwrap().findings, []);
        assert_eq!(store.head().unwrap() % 2, 1, "the zone, then whole pairs");
        for (sequence, id) in acknowledged {
            assert_eq!(store.records()[sequence - 1].id().to_string(), id);
        }
    }
}

/// Lets a child acknowledge at least `enough` records, kills it, and returns all it acknowledged.
fn run_and_kill(dir: &Path, enough: usize) -> Vec<(usize, String)> {
    let own = std::env::current_exe().unwrap();
    let test = "killed::a_killed_writer_loses_nothing_acknowledged";
    let mut child = Command::new(own)
        .args(["--exact", test, "--nocapture"])
        .env(FOLDER, dir)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let mut acknowledged = Vec::new();
    for line in lines.map_while(Result::ok) {
        let words: Vec<&str> = line.split(' ').collect();
        if let ["wrote", sequence, id] = words[..]
            && id.len() == 36
        {
            acknowledged.push((sequence.parse().unwrap(), id.to_owned()));
        }
        if acknowledged.len() == enough {
            child.kill().unwrap();
        }
    }
    child.wait().unwrap();
    assert!(acknowledged.len() >= enough);
    acknowledged
}
