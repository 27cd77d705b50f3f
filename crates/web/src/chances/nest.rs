//! A clutch as it is expected: as many eggs as she will lay, filled look by look.
//!
//! The eggs are one row of area, cut where one look ends and the next begins, so that .8 of an egg
//! is drawn as .8 of an egg. What does not hatch comes last.

use askama::Template;

use super::egg::{Canvas, cut};

/// So many eggs, or so much of one, that one thing becomes of.
#[derive(Clone, Debug)]
pub struct Portion {
    /// What, for whoever cannot see the picture.
    pub words: String,
    /// The mark that leads to its line in the list.
    pub mark: String,
    /// How many eggs.
    pub eggs: f64,
    /// Which tone fills it; those that do not hatch are striped, those of which nobody knows dotted.
    pub fill: Fill,
}

/// How a portion is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// It hatches; a tone by its place in the list.
    Tone(usize),
    /// It does not hatch.
    Lost,
    /// Nobody knows.
    Unknown,
}

struct Piece {
    shape: String,
    fill: Fill,
    mark: Option<(f64, f64, String)>,
}

struct Egg {
    outline: String,
    /// The last one, of which only a part is expected.
    is_part: bool,
}

#[derive(Template)]
#[template(path = "nest.svg", escape = "html")]
struct Drawing {
    width: f64,
    height: f64,
    words: String,
    pieces: Vec<Piece>,
    eggs: Vec<Egg>,
}

/// Beyond that many eggs a picture says nothing more.
pub const MOST_EGGS: f64 = 24.0;

const WIDTH: f64 = 328.0;
/// Eggs in a row, and in the one above or below it.
const ROW: usize = 4;
const EGG: (f64, f64) = (76.0, 46.0);
const STEP: (f64, f64) = (82.0, 50.0);
/// Room for a mark, as width within an egg.
const MARK: f64 = 11.0;

/// Upper left corner of an egg: rows of four and three by turns, as eggs lie.
fn corner(at: usize) -> (f64, f64) {
    let (pair, within) = (at / (2 * ROW - 1), at % (2 * ROW - 1));
    let is_short = within >= ROW;
    let (row, column) = if is_short { (2 * pair + 1, within - ROW) } else { (2 * pair, within) };
    let indent = if is_short { STEP.0 / 2.0 } else { 0.0 };
    #[expect(clippy::cast_precision_loss, reason = "a few dozen eggs")]
    let (row, column) = (row as f64, column as f64);
    (2.0 + indent + STEP.0 * column, 2.0 + STEP.1 * row)
}

fn canvas(at: usize) -> Canvas {
    let (x, y) = corner(at);
    Canvas::within(x, y, EGG.0, EGG.1)
}

/// The picture; none where there is no egg, or more than anybody would count.
pub fn nest(portions: &[Portion]) -> Option<String> {
    let all: f64 = portions.iter().map(|p| p.eggs).sum();
    if !(all > 1e-9 && all <= MOST_EGGS + 1e-9) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "at most MOST_EGGS")]
    #[expect(clippy::cast_sign_loss, reason = "above 0")]
    let n = (all - 1e-9).ceil() as usize;
    let mut pieces = Vec::new();
    let mut before = 0.0;
    for portion in portions {
        pieces.extend(cuts(portion, before, n));
        before += portion.eggs;
    }
    #[expect(clippy::cast_precision_loss, reason = "a few dozen eggs")]
    let is_whole = |at: usize| (at + 1) as f64 <= all + 1e-9;
    let eggs: Vec<Egg> = (0..n)
        .map(|at| Egg { outline: canvas(at).between(-1.0, 1.0), is_part: !is_whole(at) })
        .collect();
    let height = (0..n).map(|at| corner(at).1 + EGG.1).fold(0.0, f64::max) + 2.0;
    let words = portions.iter().map(|p| p.words.as_str()).collect::<Vec<_>>().join("; ");
    Drawing { width: WIDTH, height, words, pieces, eggs }.render().ok()
}

/// The parts of the eggs that a portion fills.
fn cuts(portion: &Portion, before: f64, n: usize) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut widest = MARK;
    let mut marked = None;
    for at in 0..n {
        #[expect(clippy::cast_precision_loss, reason = "a few dozen eggs")]
        let first = at as f64;
        let (from, to) = ((before - first).max(0.0), (before + portion.eggs - first).min(1.0));
        if to - from < 1e-6 {
            continue;
        }
        let (canvas, from, to) = (canvas(at), cut(from), cut(to));
        let (left, right) = (canvas.x(from), canvas.x(to));
        if right - left > widest {
            widest = right - left;
            marked = Some((found.len(), (left + right) / 2.0, canvas.middle() + 4.0));
        }
        let shape = canvas.between(from, to);
        found.push(Piece { shape, fill: portion.fill, mark: None });
    }
    if let Some((piece, x, y)) = marked.filter(|_| !portion.mark.is_empty()) {
        found[piece].mark = Some((x, y, portion.mark.clone()));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{EGG, Fill, Portion, WIDTH, corner, nest};

    fn portion(eggs: f64) -> Portion {
        Portion { words: format!("{eggs}"), mark: "a".into(), eggs, fill: Fill::Tone(0) }
    }

    #[test]
    fn as_many_eggs_as_expected_and_a_part_of_the_last() {
        let drawn = nest(&[portion(2.5), portion(4.0)]).unwrap();
        assert_eq!(drawn.matches("class=\"shell\"").count(), 6);
        assert_eq!(drawn.matches("class=\"shell part\"").count(), 1);
        // Three eggs hold the first, five the second; the third holds some of both.
        assert_eq!(drawn.matches("class=\"piece tone0\"").count(), 3 + 5);
        assert_eq!(drawn.matches("<text").count(), 2);
        let whole = nest(&[0.25; 4].map(portion)).unwrap();
        assert_eq!(whole.matches("class=\"shell\"").count(), 1);
    }

    #[test]
    fn no_two_eggs_lie_on_each_other() {
        for at in 0..24 {
            let (x, y) = corner(at);
            assert!(x >= 0.0 && x + EGG.0 <= WIDTH, "{at}");
            for other in 0..at {
                let (u, v) = corner(other);
                assert!((x - u).abs() >= EGG.0 || (y - v).abs() >= EGG.1, "{at} and {other}");
            }
        }
    }

    #[test]
    fn nothing_is_drawn_of_no_egg_or_of_too_many() {
        assert!(nest(&[]).is_none() && nest(&[portion(0.0)]).is_none());
        assert!(nest(&[portion(200.0)]).is_none() && nest(&[portion(f64::NAN)]).is_none());
    }
}
