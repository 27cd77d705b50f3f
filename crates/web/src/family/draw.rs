//! The chart as SVG: rows of words, threads beside them.

use answers::Family;
use answers::family::{Couple, Parents, Who};
use askama::Template;
use records::Sex;

use super::layout::{Layout, Thread};
use super::said;
use crate::site::View;

/// How wide it is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// For a phone: what is seen under the name.
    Narrow,
    /// For a desk and for paper: one line each.
    Wide,
}

/// What a row is about.
#[derive(Clone, Copy)]
enum Item {
    Member(usize),
    Brood(usize, usize),
}

#[derive(Clone, Default)]
struct Row {
    /// Upper edge and height.
    y: f64,
    height: f64,
    baseline: f64,
    /// Lines under the name, on a narrow chart: what it is to the animal, what it shows.
    lines: [f64; 2],
    kind: &'static str,
    name: String,
    sex: &'static str,
    kin: String,
    look: String,
    link: Option<String>,
    label: String,
    /// Whether what it is to the animal stands below its name.
    is_below: bool,
}

#[derive(Clone)]
struct Line {
    /// Where it begins, from above.
    y: f64,
    d: String,
    class: &'static str,
}

#[derive(Template)]
#[template(path = "family.svg", escape = "html")]
struct Drawing {
    form: &'static str,
    is_wide: bool,
    title: String,
    width: f64,
    left: f64,
    /// Where kin and look begin, on a wide chart.
    columns: (f64, f64),
    sheets: Vec<Sheet>,
    uprights: Vec<Line>,
}

/// So many rows as go onto one sheet of paper: a picture of its own that continues the one before.
struct Sheet {
    y: f64,
    height: f64,
    rows: Vec<Row>,
    gaps: Vec<(f64, String)>,
    stubs: Vec<Line>,
    dots: Vec<(f64, f64)>,
}

const NARROW: f64 = 320.0;
const WIDE: f64 = 880.0;
/// Radius of the bend where a thread begins and where somebody hangs on it.
const BEND: f64 = 5.0;
/// Between the levels of a row, half of it: what hangs comes in above what leads out.
const LEVEL: f64 = 3.5;
/// Height of a sheet: A4 with its margins holds about 1,300 units of a wide chart.
const SHEET: f64 = 1000.0;
/// Between the threads and the words.
const MARGIN: f64 = 12.0;
/// Where kin and look begin on a wide chart, from where the words begin.
const KIN: f64 = 215.0;
const LOOK: f64 = 405.0;
/// Widths of a letter, on the generous side: no font is known on the server.
const LETTER: f64 = 7.2;
const NAME_LETTER: f64 = 8.6;

/// Letters that fit.
struct Room {
    is_narrow: bool,
    name: usize,
    kin: usize,
    look: usize,
}

impl Room {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a few hundred units by a letter; a negative room is none"
    )]
    fn of(form: Form, width: f64) -> Self {
        let fit = |width: f64, letter: f64| (width / letter) as usize;
        match form {
            Form::Narrow => {
                let all = fit(width - 8.0, LETTER);
                let name = fit(width - 44.0, NAME_LETTER);
                Self { is_narrow: true, name, kin: all, look: all }
            }
            Form::Wide => Self {
                is_narrow: false,
                name: fit(KIN - 44.0, NAME_LETTER),
                kin: fit(LOOK - KIN - 8.0, LETTER),
                look: fit(width - LOOK - 4.0, LETTER),
            },
        }
    }
}

/// Heights of rows.
struct Measures {
    width: f64,
    pitch: f64,
    row: f64,
    slim: f64,
    /// Where the middle of the name lies below the upper edge.
    middle: f64,
}

impl Form {
    fn measures(self, n_lanes: usize) -> Measures {
        #[expect(clippy::cast_precision_loss, reason = "a few lanes")]
        let lanes = n_lanes.max(1) as f64;
        match self {
            Self::Narrow => Measures {
                width: NARROW,
                pitch: (78.0 / lanes).clamp(4.0, 13.0),
                row: 50.0,
                slim: 30.0,
                middle: 17.0,
            },
            Self::Wide => Measures {
                width: WIDE,
                pitch: (170.0 / lanes).clamp(5.0, 18.0),
                row: 32.0,
                slim: 26.0,
                middle: 16.0,
            },
        }
    }
}

/// The chart of a family. `all` is the page that draws every young.
pub fn draw(view: &View, family: &Family, form: Form, all: &str) -> String {
    let items = items(family);
    let threads = threads(family, &items);
    let wanted = wanted(family, &items);
    let layout = Layout::new(items.len(), &threads, &wanted);
    let measures = form.measures(layout.n_lanes());
    #[expect(clippy::cast_precision_loss, reason = "a few lanes")]
    let left = layout.n_lanes() as f64 * measures.pitch + MARGIN;
    let room = Room::of(form, measures.width - left);
    let rows = rows(view, family, &room, &measures, (&items, &layout), all);
    let ink = Ink { family, items: &items, threads: &threads, layout: &layout, rows: &rows };
    let drawn = ink.all(&measures, left);
    let Who::Animal(place) = family.members[0].who else { return String::new() };
    let drawing = Drawing {
        form: if form == Form::Wide { "wide" } else { "narrow" },
        is_wide: form == Form::Wide,
        title: format!("Family of {}", view.called(place)),
        width: measures.width,
        left,
        columns: (left + KIN, left + LOOK),
        sheets: sheets(layout.order.iter().map(|item| rows[*item].clone()), &drawn),
        uprights: drawn.uprights,
    };
    drawing.render().unwrap_or_default()
}

fn sheets(rows: impl Iterator<Item = Row>, drawn: &Drawn) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for row in rows {
        match sheets.last_mut().filter(|sheet| row.y + row.height - sheet.y <= SHEET) {
            Some(sheet) => {
                sheet.height = row.y + row.height - sheet.y;
                sheet.rows.push(row);
            }
            None => sheets.push(Sheet {
                y: if sheets.is_empty() { 0.0 } else { row.y },
                height: row.height,
                rows: vec![row],
                gaps: vec![],
                stubs: vec![],
                dots: vec![],
            }),
        }
    }
    if let Some(last) = sheets.last_mut() {
        last.height += 2.0;
    }
    for sheet in &mut sheets {
        let is_on = |y: f64| sheet.y <= y && y < sheet.y + sheet.height;
        sheet.gaps = drawn.gaps.iter().filter(|gap| is_on(gap.0)).cloned().collect();
        sheet.stubs = drawn.stubs.iter().filter(|line| is_on(line.y)).cloned().collect();
        sheet.dots = drawn.dots.iter().filter(|dot| is_on(dot.1)).copied().collect();
    }
    sheets
}

/// Members first, so that their number is that of their row; then broods.
fn items(family: &Family) -> Vec<Item> {
    let members = (0..family.members.len()).map(Item::Member);
    let couples = family.couples.iter().enumerate();
    let broods =
        couples.flat_map(|(at, c)| (0..c.broods.len()).map(move |brood| Item::Brood(at, brood)));
    members.chain(broods).collect()
}

fn threads(family: &Family, items: &[Item]) -> Vec<Thread> {
    let couples = family.couples.iter().enumerate();
    couples
        .map(|(at, couple)| {
            let is_its = |item: &Item| matches!(item, Item::Brood(of, _) if *of == at);
            let broods = (0..items.len()).filter(|n| is_its(&items[*n]));
            let below = broods.chain(couple.young.iter().copied()).collect();
            Thread { above: vec![couple.sire, couple.dam], below }
        })
        .collect()
}

/// The animal itself, then clutch by clutch what is told of it and its young.
fn wanted(family: &Family, items: &[Item]) -> Vec<usize> {
    let mut wanted = vec![0];
    for (at, item) in items.iter().enumerate() {
        if let Item::Brood(couple, brood) = item {
            wanted.push(at);
            wanted.extend(&family.couples[*couple].broods[*brood].drawn);
        }
    }
    wanted
}

fn rows(
    view: &View,
    family: &Family,
    room: &Room,
    measures: &Measures,
    (items, layout): (&[Item], &Layout),
    all: &str,
) -> Vec<Row> {
    let mut y = 2.0;
    let mut rows: Vec<Option<Row>> = items.iter().map(|_| None).collect();
    for at in &layout.order {
        let mut row = match items[*at] {
            Item::Member(member) => member_row(view, family, member),
            Item::Brood(couple, brood) => brood_row(view, &family.couples[couple], brood, all),
        };
        let is_slim = row.kind == "unknown" || row.kind == "clutch" && row.look.is_empty();
        row.y = y;
        row.height = if is_slim { measures.slim } else { measures.row };
        row.baseline = y + measures.middle.min(row.height / 2.0) + 5.0;
        row.lines = [row.baseline + 18.0; 2];
        row.shorten(room);
        y += row.height;
        rows[*at] = Some(row);
    }
    rows.into_iter().flatten().collect()
}

fn member_row(view: &View, family: &Family, member: usize) -> Row {
    let row = Row::default();
    match family.members[member].who {
        Who::NotWritten(sex) => {
            let word = if sex == Sex::Male { "sire" } else { "dam" };
            Row { kind: "unknown", kin: format!("{word} not written"), ..row }
        }
        Who::Animal(place) => {
            let name = view.called(place);
            let (kin, look) = (said::kin(view, family, member), said::look(view, place));
            let sex = said::sex(view.colony.animals[place].sex());
            let kind = if member == 0 { "self" } else { "one" };
            let parents = said::parents(&family.members[member]);
            let said = [name.as_str(), sex, &kin, &look, parents];
            let said: Vec<&str> = said.into_iter().filter(|s| !s.is_empty()).collect();
            let label = said.join(", ");
            let link = Some(view.animal_link(place));
            Row { kind, name, sex, kin, look, link, label, ..row }
        }
    }
}

fn brood_row(view: &View, couple: &Couple, brood: usize, all: &str) -> Row {
    let brood = &couple.broods[brood];
    let kin = said::clutch(brood);
    let row = Row { kind: "clutch", kin, ..Row::default() };
    if brood.drawn.len() == brood.young.len() {
        return row;
    }
    let look = said::counted(view, brood);
    let label = format!("{}, {look}. Draw all young", row.kin);
    Row { look, label, link: Some(all.to_owned()), ..row }
}

impl Row {
    /// Cuts what has no room; the label keeps all of it.
    fn shorten(&mut self, room: &Room) {
        self.name = cut(&self.name, room.name);
        let is_alone = !room.is_narrow && self.kind == "clutch";
        self.kin = cut(&self.kin, if is_alone { 2 * room.kin } else { room.kin });
        self.look = cut(&self.look, room.look);
        // What it is to the animal stands beside the name where there is room, else below.
        let taken = self.name.chars().count() * 6 / 5 + self.sex.len() + 2;
        let is_beside = taken + self.kin.chars().count() <= room.kin;
        if room.is_narrow && !self.name.is_empty() && !self.kin.is_empty() && !is_beside {
            self.is_below = true;
            self.lines[1] += 18.0;
            self.height += 18.0;
        }
    }
}

/// At most that many letters.
fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end_matches([' ', ',', '·']))
}

/// What is drawn beside the rows.
struct Ink<'a> {
    family: &'a Family,
    items: &'a [Item],
    threads: &'a [Thread],
    layout: &'a Layout,
    rows: &'a [Row],
}

#[derive(Default)]
struct Drawn {
    uprights: Vec<Line>,
    /// Where a line crosses a thread, the thread is interrupted.
    gaps: Vec<(f64, String)>,
    stubs: Vec<Line>,
    dots: Vec<(f64, f64)>,
}

impl Ink<'_> {
    fn all(&self, measures: &Measures, left: f64) -> Drawn {
        let mut drawn = Drawn::default();
        let end = left - 6.0;
        let middle: Vec<f64> = self.rows.iter().map(|row| row.y + middle(row, measures)).collect();
        for (at, thread) in self.threads.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a few lanes")]
            let x = left - MARGIN - (self.layout.lane[at] as f64 + 0.5) * measures.pitch;
            let meeting = &self.family.couples[at].meeting;
            self.upright(thread, x, &middle, meeting, &mut drawn);
            for item in &thread.above {
                let y = middle[*item] + LEVEL;
                let d = format!("M{end:.1} {y:.1}H{:.1}q-{BEND} 0 -{BEND} {BEND}", x + BEND);
                drawn.stub(d, self.class(*item, meeting), (x, end, y));
            }
            for item in &thread.below {
                let y = middle[*item] - LEVEL;
                let d = format!("M{x:.1} {:.1}q0 {BEND} {BEND} {BEND}H{end:.1}", y - BEND);
                drawn.stub(d, self.class(*item, meeting), (x, end, y));
                if matches!(self.items[*item], Item::Member(_)) {
                    drawn.dots.push((end, y));
                }
            }
        }
        self.open_ends(&middle, end, &mut drawn);
        drawn
    }

    /// The thread itself, from the first parent to the last young; heavy where sides meet.
    fn upright(&self, thread: &Thread, x: f64, middle: &[f64], meeting: &[usize], to: &mut Drawn) {
        let mut line = |class, is_in: &dyn Fn(&usize) -> bool| {
            let above = thread.above.iter().filter(|at| is_in(at));
            let below = thread.below.iter().filter(|at| is_in(at));
            let above: Vec<f64> = above.map(|at| middle[*at] + LEVEL + BEND).collect();
            let below = below.map(|at| middle[*at] - LEVEL - BEND);
            let last = above.iter().copied().chain(below).fold(0.0, f64::max);
            let first = above.into_iter().fold(f64::INFINITY, f64::min);
            if first < last {
                let d = format!("M{x:.1} {first:.1}V{last:.1}");
                to.uprights.push(Line { y: first, d, class });
            }
        };
        line("thread", &|_| true);
        line("thread meets", &|at| meeting.contains(at));
    }

    fn class(&self, item: usize, meeting: &[usize]) -> &'static str {
        match self.items[item] {
            _ if meeting.contains(&item) => "thread meets",
            Item::Member(at) if matches!(self.family.members[at].who, Who::NotWritten(_)) => {
                "thread open"
            }
            _ => "thread",
        }
    }

    /// A line that comes from nowhere, where an ancestor's parents are not drawn; broken where
    /// nobody wrote them down.
    fn open_ends(&self, middle: &[f64], end: f64, to: &mut Drawn) {
        for (at, member) in self.family.members.iter().enumerate() {
            let is_open = member.parents != Parents::Drawn && matches!(member.who, Who::Animal(_));
            if is_open && said::is_ancestor(member) {
                let y = middle[at] - LEVEL;
                let d = format!("M{:.1} {:.1}v4q0 5 5 5H{end:.1}", end - 11.0, y - 9.0);
                let is_written = member.parents == Parents::NotDrawn;
                to.stubs.push(Line {
                    y,
                    d,
                    class: if is_written { "thread" } else { "thread open" },
                });
            }
        }
    }
}

impl Drawn {
    fn stub(&mut self, d: String, class: &'static str, (x, end, y): (f64, f64, f64)) {
        let from = x + BEND;
        if from < end {
            self.gaps.push((y, format!("M{from:.1} {y:.1}H{end:.1}")));
        }
        self.stubs.push(Line { y, d, class });
    }
}

/// Where the middle of its name lies below the upper edge of a row.
fn middle(row: &Row, measures: &Measures) -> f64 {
    measures.middle.min(row.height / 2.0)
}
