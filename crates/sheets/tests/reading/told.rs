//! What a reading says, as short lines that can stand in a test.

use records::words::Sex;
use sheets::read::read;
use sheets::rows::{AnimalRow, ClutchRow, Found, HatchlingRow, PlanMale, Retag, RowData};
use sheets::sheet::{FileIn, Hints, ProblemKind, ReadRow, Reading, Sheet};

/// Standing on 2026-02-11.
pub fn hints() -> Hints {
    Hints { today: "2026-02-11".parse().ok(), ..Hints::default() }
}

pub fn file(text: &str) -> FileIn {
    FileIn { name: "some.csv".to_owned(), bytes: text.as_bytes().to_vec() }
}

pub fn one(text: &str) -> Sheet {
    sheet(read(&[file(text)], &hints()))
}

pub fn sheet(mut reading: Reading) -> Sheet {
    assert_eq!(reading.refused, []);
    assert_eq!(reading.sheets.len(), 1, "{:?}", reading.sheets);
    reading.sheets.remove(0)
}

/// Kind and rows of a text, one a line.
pub fn told(text: &str) -> String {
    lines(&one(text))
}

/// Kind and rows of a sheet, one a line.
pub fn lines(sheet: &Sheet) -> String {
    let mut out = vec![sheet.kind.map_or("not recognised", |k| k.word()).to_owned()];
    out.extend(sheet.rows.iter().map(line));
    out.extend(sheet.set_aside.iter().map(|s| format!("{} aside", s.line)));
    out.join("\n")
}

fn line(row: &ReadRow) -> String {
    let mut line = row.line.to_string();
    if row.problems.is_empty() {
        line.push_str(
            &row.data.as_ref().map_or(" nothing".to_owned(), |d| format!(" {}", data(d))),
        );
    }
    for problem in &row.problems {
        let sign = if problem.verdict == ProblemKind::Held { '?' } else { '!' };
        line.push_str(&format!(" {sign} {}: {}", problem.column, problem.why));
    }
    for note in &row.notes {
        line.push_str(&format!(" note <{note}>"));
    }
    line
}

fn shown<T: ToString>(value: Option<&T>) -> String {
    value.map_or("_".to_owned(), ToString::to_string)
}

fn data(data: &RowData) -> String {
    match data {
        RowData::Animal(a) => animal(a),
        RowData::Weight(w) => format!("{} {} {} g", shown(w.day.as_ref()), w.code, w.grams),
        RowData::Feeding(f) => {
            format!("{} {} {} {} {}", f.day, f.code, f.count, shown(f.prey.as_ref()), f.meal)
        }
        RowData::Check(c) => {
            let found = match &c.found {
                Found::Scan(sizes) => {
                    sizes.iter().map(ToString::to_string).collect::<Vec<_>>().join("+") + " mm"
                }
                Found::Felt { word, class } => format!("felt {word} ({})", shown(class.as_ref())),
                Found::NothingFelt => "nothing felt".to_owned(),
            };
            format!("{} {} {found}", c.day, c.code)
        }
        RowData::Night(n) => {
            let empty = if n.empty_lock { " (empty)" } else { "" };
            format!("{} {} {} {}{empty}", n.night, n.male, n.female, shown(n.lock.as_ref()))
        }
        RowData::Clutch(c) => clutch(c),
        RowData::Hatchling(h) => hatchling(h),
        RowData::Plan(p) => {
            let male = match &p.male {
                PlanMale::Code(text) => text.clone(),
                PlanMale::Carrying(text) => format!("gene {text}"),
                PlanMale::Either(text) => format!("either {text}"),
            };
            format!("{} {male} {} {}", p.female, p.choice, p.weight)
        }
        RowData::Temperature(t) => format!(
            "{} {} {} {} {} °C {}",
            t.day,
            shown(t.time.as_ref()),
            t.place,
            t.kind,
            t.celsius,
            shown(t.humidity.as_ref())
        ),
        RowData::Fact(f) => format!(
            "{} {} {} {} {} {}",
            f.when,
            f.fact,
            shown(f.animal.as_ref()),
            shown(f.other.as_ref()),
            shown(f.value.as_ref()),
            shown(f.note.as_ref())
        ),
    }
}

fn animal(a: &AnimalRow) -> String {
    let sex = a.sex.map_or("_", Sex::word);
    let mut out =
        format!("{} {} {sex} {}", a.code, shown(a.name.as_ref()), shown(a.hatched.as_ref()));
    out.push_str(&format!(
        " [{}] {}x{}",
        shown(a.genes.as_ref()),
        shown(a.sire.as_ref()),
        shown(a.dam.as_ref())
    ));
    out.push_str(&format!(" {}g {}", shown(a.grams.as_ref()), shown(a.tub.as_ref())));
    if let Some(left) = &a.left {
        out.push_str(&format!(
            " {} {} to {}",
            left.how,
            shown(left.day.as_ref()),
            shown(left.to.as_ref())
        ));
    }
    match &a.retag {
        Some(Retag::Became { code, day }) => {
            out.push_str(&format!(" became {code} {}", shown(day.as_ref())));
        }
        Some(Retag::Was { code, day }) => {
            out.push_str(&format!(" was {code} {}", shown(day.as_ref())));
        }
        None => {}
    }
    out
}

fn clutch(c: &ClutchRow) -> String {
    let days =
        [c.ovulation, c.prelay_shed, c.laid, c.hatched_on].map(|d| shown(d.as_ref())).join(" ");
    let counts = [c.eggs, c.slugs, c.hatchlings].map(|n| shown(n.as_ref())).join("/");
    format!(
        "{} {} {} {days} {counts} {}g",
        shown(c.clutch_code.as_ref()),
        c.female,
        shown(c.male.as_ref()),
        shown(c.mass.as_ref())
    )
}

fn hatchling(h: &HatchlingRow) -> String {
    let kept =
        h.kept.as_ref().map_or(String::new(), |k| format!(" kept {}", shown(k.code.as_ref())));
    let sex = h.sex.map_or("_", Sex::word);
    format!(
        "{} {} {} {}x{} {sex} [{}] {}g{kept}",
        shown(h.day.as_ref()),
        shown(h.clutch.as_ref()),
        h.code,
        shown(h.sire.as_ref()),
        shown(h.dam.as_ref()),
        shown(h.look.as_ref()),
        shown(h.grams.as_ref())
    )
}
