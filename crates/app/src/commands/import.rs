//! `import`: sheets, or an exported folder, into the records.

use std::fmt::Write;
use std::fs;
use std::io::{BufReader, IsTerminal};
use std::path::{Path, PathBuf};

use records::{BatchId, Draft, Fact, Record};
use serde_json::json;
use sheets::import::{Options, Preview, Question, preview};
use sheets::open::may_be_a_sheet;
use sheets::row::NO_COLUMN;
use sheets::sheet::{FileIn, Hints, Reading};
use store::Store;
use units::{Instant, Zone};

use crate::args::Import;
use crate::refusal::Refusal;
use crate::told;

pub fn run(args: &Import) -> Result<String, Refusal> {
    let mut paths = Vec::new();
    for path in &args.paths {
        gather(path, &mut paths)?;
    }
    let (journals, sheets): (Vec<_>, Vec<_>) = paths.into_iter().partition(|p| is_journal(p));
    for journal in &journals {
        bring_journal(args, journal)?;
    }
    let files = sheets.iter().map(|p| read_file(p)).collect::<Result<Vec<_>, _>>()?;
    let zone = zone(args)?;
    let (journal, now) = journal_so_far(args, &zone)?;
    let (reading, preview) = look(args, &files, &journal, (&zone, now))?;
    let mut said = if args.folder.json { String::new() } else { as_text(args, &reading, &preview) };
    let is_known = preview.files.iter().any(|f| !f.kind.is_empty() && f.counts.rows() > 0);
    if !is_known && journals.is_empty() {
        let why =
            reading.refused.first().map_or("Nothing in it could be read.", |r| r.why.as_str());
        let place = files.first().map_or("", |f| f.name.as_str());
        if args.folder.json {
            said = as_json(&reading, &preview, None);
        }
        return Err(Refusal {
            said,
            ..Refusal::new(why, place, "Name a sheet with headings and rows.")
        });
    }
    let mut batch = None;
    if wanted(args)? {
        batch = preview.drafts.first().and_then(|draft| draft.batch);
        commit(args, &zone, preview.drafts.clone())?;
    }
    if args.folder.json {
        said = as_json(&reading, &preview, batch);
    } else if let Some(batch) = batch {
        let n = preview.drafts.len();
        let _ = writeln!(
            said,
            "\n{n} records written as one batch. To take it back: clutchwright undo {batch}"
        );
    }
    Ok(said)
}

fn gather(path: &Path, files: &mut Vec<PathBuf>) -> Result<(), Refusal> {
    let unreadable = |e: std::io::Error| unreadable(path, &e);
    if !fs::metadata(path).map_err(unreadable)?.is_dir() {
        files.push(path.to_owned());
        return Ok(());
    }
    let mut inside: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(path).map_err(unreadable)? {
        let file = entry.map_err(unreadable)?.path();
        let name = entry_name(&file);
        if file.is_file() && may_be_a_sheet(&name) {
            inside.push(file);
        }
    }
    inside.sort();
    files.extend(inside);
    Ok(())
}

/// Known by its first line, not by its name.
fn is_journal(path: &Path) -> bool {
    use std::io::{BufRead, Read};
    let Ok(file) = fs::File::open(path) else { return false };
    let mut first = String::new();
    let read = BufReader::new(file.take(4096)).read_line(&mut first);
    read.is_ok() && first.starts_with('{') && first.contains("clutchwright journal")
}

/// A journal text makes a new folder whole, or adds to one what it lacks.
fn bring_journal(args: &Import, path: &Path) -> Result<(), Refusal> {
    let open = || fs::File::open(path).map(BufReader::new).map_err(|e| unreadable(path, &e));
    if !wanted(args)? {
        return Ok(());
    }
    if !Store::exists(&args.folder.data) {
        Store::create_from_text(&args.folder.data, open()?)?;
        return Ok(());
    }
    let rows = store::text::read(open()?).map_err(store::StoreError::from)?;
    let drafts =
        rows.iter().map(|row| row.draft()).collect::<Result<Vec<_>, _>>().map_err(|e| {
            Refusal::new(e.to_string(), path.display().to_string(), "Export it anew.")
        })?;
    let appended = Store::open(&args.folder.data)?.append(drafts)?;
    if let Some(refused) = appended.refused.first() {
        return Err(Refusal::new(
            format!("{} records have the id of another one: {refused:?}.", appended.refused.len()),
            path.display().to_string(),
            "Import it into an empty folder.",
        ));
    }
    Ok(())
}

fn entry_name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

pub fn read_file(path: &Path) -> Result<FileIn, Refusal> {
    let name = entry_name(path);
    let bytes = fs::read(path).map_err(|e| unreadable(path, &e))?;
    Ok(FileIn { name, bytes })
}

fn unreadable(path: &Path, e: &std::io::Error) -> Refusal {
    let place = path.display().to_string();
    Refusal::new(format!("{place} cannot be read: {e}."), place, "Check the path.")
}

fn zone(args: &Import) -> Result<Zone, Refusal> {
    if Store::exists(&args.folder.data) {
        return Ok(Store::open_read_only(&args.folder.data)?.zone()?);
    }
    match &args.zone {
        Some(name) => Zone::named(name)
            .map_err(|e| Refusal::new(e, "--zone", "Give a name like Europe/Berlin or UTC.")),
        None => Ok(Zone::of_this_machine()),
    }
}

/// What is in the folder, and what time it is there.
fn journal_so_far(args: &Import, zone: &Zone) -> Result<(Vec<Record>, Instant), Refusal> {
    if Store::exists(&args.folder.data) {
        let store = Store::open_read_only(&args.folder.data)?;
        Ok((store.read_all()?, store.now(zone)))
    } else {
        Ok((vec![], store::now()))
    }
}

fn look(
    args: &Import,
    files: &[FileIn],
    journal: &[Record],
    (zone, now): (&Zone, Instant),
) -> Result<(Reading, Preview), Refusal> {
    let today = zone.day_of(now);
    let standing = records::standing(journal);
    let felt = standing.iter().rev().find_map(|live| match &live.fact {
        Fact::Set(set) if set.name == "felt_words" => Some(set.value.as_str()),
        _ => None,
    });
    let felt = answers::felt::own_words(felt);
    let mut hints = Hints { today: Some(today), felt, ..Hints::default() };
    hints.general.dates = told::dates(args);
    told::tell(args, files, &mut hints)?;
    let reading = sheets::read::read(files, &hints);
    let batch = BatchId(store::new_id());
    let options = Options { today, now, who: &args.by.who, batch, felt: &hints.felt };
    let preview = preview(&reading, journal, zone, &options);
    Ok((reading, preview))
}

/// With `--yes`, or a person at the terminal who says so.
fn wanted(args: &Import) -> Result<bool, Refusal> {
    Ok(args.yes || (std::io::stdin().is_terminal() && !args.folder.json && ask()?))
}

fn ask() -> Result<bool, Refusal> {
    eprint!("Write this? [y/N] ");
    let mut line = String::new();
    std::io::stdin().read_line(&mut line).map_err(|e| {
        Refusal::new(format!("No answer could be read: {e}."), "terminal", "Use --yes.")
    })?;
    Ok(matches!(line.trim(), "y" | "Y" | "yes"))
}

fn commit(args: &Import, zone: &Zone, drafts: Vec<Draft>) -> Result<(), Refusal> {
    let mut store = if Store::exists(&args.folder.data) {
        Store::open(&args.folder.data)?
    } else {
        Store::create(&args.folder.data, zone)?
    };
    let n = drafts.len();
    let appended = store.append(drafts)?;
    if appended.written.len() == n {
        return Ok(());
    }
    Err(Refusal::new(
        format!(
            "{} of {n} records were not written: somebody wrote meanwhile.",
            n - appended.written.len()
        ),
        args.folder.data.display().to_string(),
        "Run the same import again; what is there already stays as it is.",
    ))
}

fn as_json(reading: &Reading, preview: &Preview, batch: Option<BatchId>) -> String {
    let files: Vec<_> = preview
        .files
        .iter()
        .zip(&reading.sheets)
        .map(|(f, sheet)| {
            let c = &f.counts;
            json!({
                "file": f.file, "kind": f.kind, "rows": c.rows(), "in": c.is_in,
                "already": c.already, "doubt": c.doubt, "held": c.held,
                "unreadable": c.unreadable, "remarks": sheet.remarks,
            })
        })
        .collect();
    let questions: Vec<_> = preview
        .questions
        .iter()
        .map(|q| {
            json!({
                "file": q.file, "line": q.line, "column": q.column, "value": q.value,
                "verdict": q.verdict.word(), "why": q.why,
            })
        })
        .collect();
    let waited: Vec<_> = preview
        .waited
        .iter()
        .map(|f| json!({"file": f.file, "kind": f.kind, "in": f.counts.is_in, "doubt": f.counts.doubt}))
        .collect();
    format!(
        "{}\n",
        json!({
            "files": files, "questions": questions, "waited": waited,
            "batch": batch.map(|batch| batch.to_string()),
        })
    )
}

/// Questions with how many rows ask each; only what a whole sheet lacks is asked of many at once.
fn each_once(questions: &[Question]) -> Vec<(&Question, usize)> {
    let mut all: Vec<(&Question, usize)> = Vec::new();
    for q in questions {
        let is_of_sheet = q.why.starts_with(NO_COLUMN);
        match all.iter_mut().find(|(of, _)| is_of_sheet && (&of.file, &of.why) == (&q.file, &q.why))
        {
            Some((_, n)) => *n += 1,
            None => all.push((q, 1)),
        }
    }
    all
}

fn as_text(args: &Import, reading: &Reading, preview: &Preview) -> String {
    let mut text = String::new();
    for (f, sheet) in preview.files.iter().zip(&reading.sheets) {
        let c = &f.counts;
        let kind = if f.kind.is_empty() { "not recognised" } else { &f.kind };
        let _ = writeln!(
            text,
            "{:<20} {kind:<16} {:>6} rows: {} in, {} already there, {} in with doubt, {} held, {} unreadable",
            f.file,
            c.rows(),
            c.is_in,
            c.already,
            c.doubt,
            c.held,
            c.unreadable
        );
        for remark in &sheet.remarks {
            let _ = writeln!(text, "    {remark}");
        }
    }
    for refused in &reading.refused {
        let _ = writeln!(text, "{}: {}", refused.file, refused.why);
    }
    for f in &preview.waited {
        let (n, kind) = (f.rows.len(), &f.kind);
        let _ = writeln!(text, "{:<20} {kind:<16} {n:>6} rows that waited can be read now", f.file);
    }
    for (q, n) in each_once(&preview.questions) {
        let more = if n > 1 { format!(" and {} more rows", n - 1) } else { String::new() };
        let (file, line, verdict) = (&q.file, q.line, q.verdict.word());
        let _ = writeln!(text, "\n{file} line {line}{more}, {verdict}\n    {}", q.why);
    }
    if !args.yes && !std::io::stdin().is_terminal() {
        text.push_str(
            "\nNothing is written yet. The same command with --yes writes it as one batch.\n",
        );
    }
    text
}
