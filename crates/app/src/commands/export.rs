//! `export`: a folder of sheets and the journal as text.

use std::fs;

use records::{AsOf, Colony};
use serde_json::json;
use sheets::export::{csv, file_name};
use sheets::outgoing::outgoing;

use crate::args::Export;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &Export) -> Result<String, Refusal> {
    let store = folder::reading(&args.folder)?;
    let place = args.to.display().to_string();
    let failed = |e: std::io::Error| {
        Refusal::new(
            format!("It cannot be written: {e}."),
            &place,
            "Name a folder you may write to.",
        )
    };
    let taken = fs::read_dir(&args.to).is_ok_and(|mut d| d.next().is_some());
    if taken {
        return Err(Refusal::new("The folder is not empty.", &place, "Name a new folder."));
    }
    fs::create_dir_all(&args.to).map_err(failed)?;
    store.export_text_to(&args.to.join("journal.txt"))?;
    let mut written = vec!["journal.txt".to_owned()];
    let colony = Colony::fold(&store.standing(), &store.zone()?, AsOf::end_of_time());
    for (kind, rows) in outgoing(&colony) {
        let rows = rows.iter().map(|row| (&row.data, row.ids.as_slice()));
        fs::write(args.to.join(file_name(kind)), csv(kind, rows)).map_err(failed)?;
        written.push(file_name(kind).to_owned());
    }
    if args.folder.json {
        return Ok(format!("{}\n", json!({"folder": place, "files": written})));
    }
    Ok(format!("{}: {}\n", place, written.join(", ")))
}
