//! One egg, cut by what it may hold: each piece is as large as its chance.

use askama::Template;

/// How much blunter one end is than the other, 0..1; our choice of a pleasing egg.
const TAPER: f64 = 0.16;

/// A piece of the egg.
#[derive(Clone, Debug)]
pub struct Piece {
    /// What it stands for, for whoever cannot see the picture.
    pub words: String,
    /// The mark that leads to its line in the list.
    pub mark: String,
    /// Its share of the egg.
    pub share: f64,
    /// The part of it that never hatches, 0..=1.
    pub lost: f64,
    /// The part of it of which it is not known whether it hatches, 0..=1; beside the lost part.
    pub unknown: f64,
    /// The part of it that fits the wish, where one was asked.
    pub fits: Option<f64>,
}

/// How large the egg is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// In a list.
    Small,
    /// As the picture of a page.
    Large,
}

struct Drawn {
    words: String,
    mark: Option<(f64, String)>,
    shape: String,
    tone: usize,
    lost: Option<String>,
    unknown: Option<String>,
    fits: Option<(f64, f64)>,
}

#[derive(Template)]
#[template(path = "egg.svg", escape = "html")]
struct Drawing {
    is_small: bool,
    width: f64,
    height: f64,
    middle: f64,
    floor: f64,
    title: String,
    words: String,
    outline: String,
    hatch: String,
    dots: String,
    pieces: Vec<Drawn>,
}

/// Half the height of the egg at `t`, -1 (blunt end) to 1 (pointed end), 1 being about the largest.
fn half(t: f64) -> f64 {
    (1.0 - t * t).max(0.0).sqrt() * (1.0 - TAPER * t)
}

/// The share of the egg's area to the left of `t`: the integral of [`half`], closed form.
fn share_before(t: f64) -> f64 {
    let t = t.clamp(-1.0, 1.0);
    let root = (1.0 - t * t).max(0.0).sqrt();
    let half_disc = 0.5 * (t * root + t.asin() + std::f64::consts::FRAC_PI_2);
    (half_disc + TAPER / 3.0 * root.powi(3)) / std::f64::consts::FRAC_PI_2
}

/// The cut to the left of which lies that share of the area.
pub fn cut(share: f64) -> f64 {
    if share <= 0.0 {
        return -1.0;
    }
    if share >= 1.0 {
        return 1.0;
    }
    let (mut low, mut high) = (-1.0, 1.0);
    for _ in 0..48 {
        let middle = 0.5 * (low + high);
        if share_before(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Where an egg is drawn.
pub struct Canvas {
    size: Size,
    width: f64,
    left: f64,
    right: f64,
    middle: f64,
    height: f64,
}

impl Canvas {
    const fn of(size: Size) -> Self {
        match size {
            Size::Small => {
                Self { size, width: 150.0, left: 2.0, right: 148.0, middle: 36.0, height: 66.0 }
            }
            Size::Large => {
                Self { size, width: 328.0, left: 4.0, right: 324.0, middle: 92.0, height: 160.0 }
            }
        }
    }

    /// One of many eggs, by its upper left corner.
    pub fn within(x: f64, y: f64, width: f64, height: f64) -> Self {
        // The taper makes the thickest place a little higher than the ends of the short axis.
        let (middle, height) = (y + height / 2.0, height / 1.03);
        Self { size: Size::Small, width, left: x, right: x + width, middle, height }
    }

    pub const fn middle(&self) -> f64 {
        self.middle
    }

    pub fn x(&self, t: f64) -> f64 {
        self.left + 0.5 * (t + 1.0) * (self.right - self.left)
    }

    fn reach(&self, t: f64) -> f64 {
        0.5 * self.height * half(t)
    }

    /// The outline between two cuts.
    pub fn between(&self, from: f64, to: f64) -> String {
        let fineness = if self.size == Size::Small { 14.0 } else { 40.0 };
        #[expect(clippy::cast_possible_truncation, reason = "at most 80 steps")]
        #[expect(clippy::cast_sign_loss, reason = "cuts are sorted")]
        let steps = ((to - from).max(0.0) * fineness).ceil().max(3.0) as u32;
        // Evenly by angle: the ends of an egg are round, and need the points.
        let (a, b) = (from.clamp(-1.0, 1.0).acos(), to.clamp(-1.0, 1.0).acos());
        let at = |k: u32| (a + (b - a) * f64::from(k) / f64::from(steps)).cos();
        let point = |t: f64, side: f64| {
            format!("{:.1} {:.1}", self.x(t), self.middle + side * self.reach(t))
        };
        let upper = (0..=steps).map(|k| point(at(k), -1.0));
        let lower = (0..=steps).rev().map(|k| point(at(k), 1.0));
        format!("M{}Z", upper.chain(lower).collect::<Vec<_>>().join("L"))
    }
}

/// A mark needs that much width.
const MARK_WIDTH: f64 = 11.0;

/// The picture. `name` tells two pictures of one page apart.
pub fn egg(size: Size, name: &str, title: &str, pieces: &[Piece]) -> String {
    let canvas = Canvas::of(size);
    let is_small = size == Size::Small;
    let mut before = 0.0;
    let drawn = pieces.iter().enumerate().map(|(i, piece)| {
        let (from, fitting) = (cut(before), before + piece.share * piece.fits.unwrap_or(0.0));
        before += piece.share;
        let to = cut(before);
        let (left, right) = (canvas.x(from), canvas.x(to));
        let lost_from = cut(before - piece.share * piece.lost);
        let unknown_from = cut(before - piece.share * (piece.lost + piece.unknown).min(1.0));
        let fits = canvas.x(cut(fitting.min(before)));
        Drawn {
            words: piece.words.clone(),
            mark: (!is_small && right - left >= MARK_WIDTH)
                .then(|| (0.5 * (left + right), piece.mark.clone())),
            shape: canvas.between(from, to),
            tone: i % 4,
            lost: (piece.lost > 0.0).then(|| canvas.between(lost_from, to)),
            unknown: (piece.unknown > 0.0).then(|| canvas.between(unknown_from, lost_from)),
            fits: (fits - left > 1.0).then_some((left + 0.5, fits - 0.5)),
        }
    });
    let drawing = Drawing {
        is_small,
        width: canvas.width,
        height: 2.0 * canvas.middle,
        middle: canvas.middle + 4.5,
        floor: 2.0 * canvas.middle - 3.0,
        title: title.to_owned(),
        words: pieces.iter().map(|p| p.words.as_str()).collect::<Vec<_>>().join("; "),
        outline: canvas.between(-1.0, 1.0),
        hatch: format!("lost-{name}"),
        dots: format!("unknown-{name}"),
        pieces: drawn.collect(),
    };
    drawing.render().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twice the area of a polygon (shoelace).
    fn area(path: &str) -> f64 {
        let points: Vec<(f64, f64)> = path
            .trim_matches(['M', 'Z'])
            .split('L')
            .map(|p| {
                p.split_once(' ').map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap())).unwrap()
            })
            .collect();
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    #[test]
    fn a_piece_is_as_large_as_its_chance() {
        let canvas = Canvas::of(Size::Large);
        let whole = area(&canvas.between(-1.0, 1.0));
        for shares in [vec![0.25, 0.5, 0.25], vec![9.0 / 16.0, 3.0 / 16.0, 3.0 / 16.0, 1.0 / 16.0]]
        {
            let mut before = 0.0;
            for share in shares {
                let piece = area(&canvas.between(cut(before), cut(before + share)));
                before += share;
                assert!((piece / whole - share).abs() < 0.005, "{} for {share}", piece / whole);
            }
        }
    }

    #[test]
    fn cuts_and_shares_are_each_others_inverse() {
        for n in 0..=100 {
            let share = f64::from(n) / 100.0;
            assert!((share_before(cut(share)) - share).abs() < 1e-9, "{share}");
        }
        // The integral, by the trapezium rule.
        let step = 1e-4;
        let sum: f64 = (0..20_000).map(|k| half(-1.0 + (f64::from(k) + 0.5) * step) * step).sum();
        assert!((sum - std::f64::consts::FRAC_PI_2).abs() < 1e-5, "{sum}");
    }
}
