//! `export`: a folder of sheets and the journal as text.

use std::fs;

use serde_json::json;

use crate::args::Export;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &Export) -> Result<String, Refusal> {
    let store = folder::reading(&args.folder)?;
    let place = args.to.display().to_string();
    let failed = |e: std::io::Error| {
        Refusal::new(format!("It cannot be written: {e}."), &place, "Name a folder you may write to.")
    };
    let taken = fs::read_dir(&args.to).is_ok_and(|mut d| d.next().is_some());
    if taken {
        return Err(Refusal::new("The folder is not empty.", &place, "Name a new folder."));
    }
    fs::create_dir_all(&args.to).map_err(failed)?;
    store.export_text_to(&args.to.join("journal.txt"))?;
    let written = vec!["journal.txt".to_owned()];
    if args.folder.json {
        return Ok(format!("{}\n", json!({"folder": place, "files": written})));
    }
    Ok(format!("{}: {}\n", place, written.join(", ")))
}
