//! What the keeper says by hand about the sheets of one import, off the command line.

use sheets::heading::plain;
use sheets::kind::SheetKind;
use sheets::meaning::Meaning;
use sheets::sheet::{DateOrder, DecimalMark, FileHints, FileIn, Hints, Reading};

use crate::args::Import;
use crate::refusal::Refusal;

/// Takes every answer into the hints; what is not there to be told about is refused, with the list
/// of what is.
pub fn tell(args: &Import, files: &[FileIn], hints: &mut Hints) -> Result<(), Refusal> {
    let is_any = !(args.map.is_empty()
        && args.kind.is_empty()
        && args.empty_lock.is_empty()
        && args.decimal.is_empty()
        && args.year.is_empty());
    if !is_any {
        return Ok(());
    }
    let told = Told { reading: sheets::read::read(files, hints) };
    for text in &args.map {
        told.map(text, hints)?;
    }
    for text in &args.kind {
        let (at, word) = told.of_file(text, "--kind", hints)?;
        let kind =
            SheetKind::from_word(word).or_else(|| SheetKind::from_word(&word.replace('-', " ")));
        let all: Vec<&str> = SheetKind::ALL.iter().map(|k| k.word()).collect();
        at.kind = Some(kind.ok_or_else(|| none_of(word, "--kind", "a kind of sheet", &all))?);
    }
    for text in &args.empty_lock {
        let (at, word) = told.of_file(text, "--empty-lock", hints)?;
        use records::words::Lock::{NoneSeen, NotLooked};
        at.empty_lock = Some(match word {
            "none-seen" => NoneSeen,
            "not-looked" => NotLooked,
            _ => {
                let all = ["none-seen", "not-looked"];
                return Err(none_of(word, "--empty-lock", "what an empty cell means", &all));
            }
        });
    }
    for text in &args.decimal {
        let (at, word) = told.of_file(text, "--decimal", hints)?;
        let mark = DecimalMark::from_word(word);
        let all = ["comma", "point"];
        at.decimal = Some(mark.ok_or_else(|| none_of(word, "--decimal", "a decimal sign", &all))?);
    }
    for text in &args.year {
        let (at, word) = told.of_file(text, "--year", hints)?;
        let year = word.parse().ok().filter(|y| (1950..=2199).contains(y));
        at.year = Some(year.ok_or_else(|| none_of(word, "--year", "a year", &["2025", "2026"]))?);
    }
    Ok(())
}

/// The order of dates off the command line.
pub fn dates(args: &Import) -> Option<DateOrder> {
    use crate::args::Dates;
    args.dates.map(|dates| match dates {
        Dates::Ymd => DateOrder::Ymd,
        Dates::Dmy => DateOrder::Dmy,
        Dates::Mdy => DateOrder::Mdy,
    })
}

fn none_of(word: &str, option: &str, what: &str, all: &[&str]) -> Refusal {
    Refusal::new(
        format!("\"{word}\" is not {what}."),
        option,
        format!("Choose one of: {}.", all.join(", ")),
    )
}

/// The sheets as they read by themselves.
struct Told {
    reading: Reading,
}

impl Told {
    /// Names by which a sheet can be spoken of: its file, and its worksheet behind `#`.
    fn names(&self) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for sheet in &self.reading.sheets {
            for name in [sheet.file.clone(), sheet.name()] {
                if !all.contains(&name) {
                    all.push(name);
                }
            }
        }
        all
    }

    /// `FILE=WORD` or `WORD` for all files.
    fn of_file<'t, 'h>(
        &self,
        text: &'t str,
        option: &str,
        hints: &'h mut Hints,
    ) -> Result<(&'h mut FileHints, &'t str), Refusal> {
        let Some((file, word)) = text.rsplit_once('=') else {
            return Ok((&mut hints.general, text.trim()));
        };
        let names = self.names();
        if !names.iter().any(|name| name == file) {
            let all: Vec<&str> = names.iter().map(String::as_str).collect();
            return Err(none_of(file, option, "a file of this import", &all));
        }
        Ok((hints.files.entry(file.to_owned()).or_default(), word.trim()))
    }

    /// `HEADING=MEANING`, or `FILE:HEADING=MEANING` for one file.
    fn map(&self, text: &str, hints: &mut Hints) -> Result<(), Refusal> {
        let Some((place, word)) = text.rsplit_once('=') else {
            return Err(Refusal::new(
                format!("\"{text}\" says nothing of a column."),
                "--map",
                "Write HEADING=MEANING, or FILE:HEADING=MEANING for one file.",
            ));
        };
        let meaning = Meaning::from_word(word.trim()).ok_or_else(|| {
            let all: Vec<&str> = Meaning::ALL.iter().map(|m| m.word()).collect();
            none_of(word, "--map", "a meaning", &all)
        })?;
        let names = self.names();
        let file = names.iter().filter(|name| {
            place.strip_prefix(name.as_str()).is_some_and(|rest| rest.starts_with(':'))
        });
        let file = file.max_by_key(|name| name.len());
        let heading = file.map_or(place, |name| &place[name.len() + 1..]);
        let at = match file {
            Some(name) => hints.files.entry(name.clone()).or_default(),
            None => &mut hints.general,
        };
        if let Some(n) = self.place(heading, file) {
            at.columns.insert(n, meaning);
            return Ok(());
        }
        let headings = self.headings(file);
        if !headings.iter().any(|h| plain(h) == plain(heading)) {
            let all: Vec<&str> = headings.iter().map(String::as_str).collect();
            return Err(none_of(heading, "--map", "a column of these sheets", &all));
        }
        at.headings.insert(heading.to_owned(), meaning);
        Ok(())
    }

    /// `column 3` where no heading is called so.
    fn place(&self, heading: &str, file: Option<&String>) -> Option<usize> {
        let n: usize = heading.trim().to_lowercase().strip_prefix("column ")?.parse().ok()?;
        let is_heading = self.headings(file).iter().any(|h| plain(h) == plain(heading));
        let width = self.of(file).map(|s| s.columns.len()).max().unwrap_or(0);
        (!is_heading && (1..=width).contains(&n)).then(|| n - 1)
    }

    fn of(&self, file: Option<&String>) -> impl Iterator<Item = &sheets::sheet::Sheet> {
        let is_meant = move |s: &&sheets::sheet::Sheet| {
            file.is_none_or(|name| s.file == *name || s.name() == *name)
        };
        self.reading.sheets.iter().filter(is_meant)
    }

    /// Every heading; of a table without them, the places of its columns. The first line of such a
    /// table may hold headings nobody recognised.
    fn headings(&self, file: Option<&String>) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for sheet in self.of(file) {
            let first = sheet.rows.first().filter(|_| sheet.heading_line == 0);
            let own = sheet.headings.iter().filter(|h| !h.is_empty());
            let below =
                first.into_iter().flat_map(|row| row.cells.iter().filter(|c| !c.is_empty()));
            for heading in own.chain(below) {
                if !all.contains(heading) {
                    all.push(heading.clone());
                }
            }
        }
        all
    }
}
