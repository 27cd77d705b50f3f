//! Runs the binary in a folder of its own.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e}: {} {}", self.out, self.err))
    }
}

pub(crate) fn run(args: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_clutchwright"))
        .args(args)
        .env_remove("CLUTCHWRIGHT_DATA")
        .env_remove("CLUTCHWRIGHT_WHO")
        .stdin(std::process::Stdio::null())
        .output()
        .unwrap();
    Ran {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8_lossy(&output.stdout).into_owned(),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// The mistakes the room has by itself; see its README.
pub(crate) const KNOWN: [(&str, usize, &str); 8] = [
    ("feeding.csv", 2830, "in with doubt"),
    ("feeding.csv", 5403, "held"),
    ("feeding.csv", 5412, "in with doubt"),
    ("follicles.csv", 405, "held"),
    ("pairings.csv", 438, "in with doubt"),
    ("pairings.csv", 655, "in with doubt"),
    ("pairings.csv", 656, "in with doubt"),
    ("weights.csv", 47, "held"),
];

/// The sheets every test may read.
pub(crate) fn room() -> String {
    let path: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/room");
    path.canonicalize().unwrap().display().to_string()
}

pub(crate) struct Folder {
    dir: tempfile::TempDir,
}

impl Folder {
    pub(crate) fn new() -> Self {
        Self { dir: tempfile::tempdir().unwrap() }
    }

    pub(crate) fn at(&self, name: &str) -> String {
        self.dir.path().join(name).display().to_string()
    }

    pub(crate) fn write(&self, name: &str, text: &str) -> String {
        let path = self.at(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    /// A data folder with the keeper's sheets in it.
    pub(crate) fn with_room() -> Self {
        let folder = Self::new();
        let ran = run(&["import", &room(), "--data", &folder.at("data"), "--zone", "UTC", "--yes"]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        folder
    }

    pub(crate) fn ask(&self, args: &[&str]) -> Ran {
        let data = self.at("data");
        let mut all = args.to_vec();
        all.extend(["--data", &data]);
        run(&all)
    }
}
