//! Who writes: every command that writes takes a name, and keeps it.

use crate::program::{Folder, run};

#[test]
fn every_command_that_writes_takes_a_name() {
    for command in ["import", "record", "undo", "answer", "setting"] {
        let help = run(&[command, "--help"]).out;
        assert!(help.contains("--who") && help.contains("CLUTCHWRIGHT_WHO"), "{command}: {help}");
    }
    for command in ["tonight", "follicles", "doubts", "verify", "export"] {
        assert!(!run(&[command, "--help"]).out.contains("--who"), "{command} writes nothing");
    }
}

#[test]
fn the_name_is_kept_with_each_record() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--yes", "--who", "Anna"]);
    folder.ask(&["record", "weighed", "K1", "1500", "--who", "Ben"]);
    folder.ask(&["record", "weighed", "K1", "1501"]);
    folder.ask(&["setting", "rest_after_lock", "3", "--who", "Cleo"]);
    folder.ask(&["undo", "--yes", "--who", "Dan"]);
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    let journal = std::fs::read_to_string(std::path::Path::new(&out).join("journal.txt")).unwrap();
    for (who, what) in [
        ("Anna", "\"added\""),
        ("Ben", "\"weighed\""),
        ("Cleo", "\"set\""),
        ("Dan", "\"retracted\""),
    ] {
        let is_theirs = |line: &&str| line.contains(&format!("\"{who}\""));
        let theirs: Vec<&str> = journal.lines().filter(is_theirs).collect();
        assert!(theirs.iter().any(|line| line.contains(what)), "{who}: {journal}");
    }
    let unnamed = journal.lines().find(|line| line.contains("1501")).unwrap();
    assert!(unnamed.contains("\"who\":\"\""), "empty is allowed: {unnamed}");
}
