//! One female and one male: every look their young can have.

use answers::clutch_expected::{ClutchShown, clutch_expected};
use answers::pair_chances::{LookShown, PairChances, chances_of};
use answers::pair_genes::PairGenes;
use answers::{ColonyKin, PairPlanned, Wanted};
use askama::Template;
use axum::response::Response;
use records::RecordId;
use sheets::catalogue_file::builtin;

use super::asked::{Asks, Parent, Query, Wish};
use super::clutch::Clutch;
use super::egg::{Piece, Size, egg};
use super::kin::Kin;
use super::mix::Mix;
use super::nest::{Fill, Portion, nest};
use super::order::Ordered;
use super::{PlanLine, plan_line, plans, words};
use crate::frame::{Frame, html};
use crate::notice::Notice;
use crate::said::unbroken;
use crate::site::{Site, View};

/// Looks reckoned at most: what a keeper will read; our choice.
const MOST: usize = 200;
/// Looks with a mark and a piece of their own.
const MARKED: usize = 24;

/// One look.
struct Line {
    mark: String,
    look: String,
    combo: Option<String>,
    hets: String,
    percent: String,
    one_in: String,
    /// Share of what hatches, where not everything does.
    hatched: Option<String>,
    /// What becomes of its eggs, where not all are known to hatch.
    fate: Option<String>,
    fits: Option<String>,
    clutch: Option<InClutch>,
}

/// One look in the clutch.
struct InClutch {
    eggs: String,
    hatch: Vec<String>,
    none: String,
}

/// What the wish comes to.
struct Wished {
    says: (String, Option<String>),
    per_egg: String,
    one_in: String,
    /// The chance to miss it, hatching told apart.
    missed: Option<String>,
}

/// What is reckoned of the pair.
struct Shown {
    eggs: Vec<(&'static str, String)>,
    /// Looks in groups under a heading, which is empty where there is one group alone.
    groups: Vec<(&'static str, Vec<Line>)>,
    more: Vec<Line>,
    /// How many there are of them, in words.
    more_said: String,
    rest: Option<String>,
    wish: Option<Wished>,
    cautions: Vec<String>,
    copies: Vec<String>,
    clutch: String,
    expected: Option<String>,
    nest: Option<String>,
    joint: Option<String>,
    is_thinned: bool,
    is_unsure: bool,
    hatching: String,
}

#[derive(Template)]
#[template(path = "chances_pair.html")]
struct Page {
    frame: Frame,
    her: (String, Option<String>, String),
    him: (String, Option<String>, String),
    hidden: [Option<String>; 2],
    back: String,
    query: Query,
    on: String,
    her_asks: Vec<Asks>,
    him_asks: Vec<Asks>,
    wish_asks: Vec<Asks>,
    problem: Option<String>,
    kin: Kin,
    shown: Option<Shown>,
    is_ruled_out: bool,
    planned: Vec<PlanLine>,
    replaces: Option<RecordId>,
    ids: Option<(String, String)>,
    record: RecordId,
    batch: RecordId,
    second: RecordId,
    day: String,
}

pub fn page(
    site: &Site,
    view: &View,
    query: &Query,
    (her, him): (&Parent, &Parent),
    notice: Option<Notice>,
) -> Response {
    let wish = Wish::of(query, view);
    let (clutch, mut problem) = Clutch::of(query, view, her.place);
    let mut shown = None;
    let chances = site.genes(&view.colony);
    if her.asks.is_empty() && him.asks.is_empty() {
        let genes = PairGenes::of(builtin(), &chances, (him.side(), her.side()));
        match chances_of(&genes, wish.target(), clutch.size(), MOST) {
            Ok(answer) => {
                let (eggs, rate) = (clutch.size(), clutch.hatch_rate());
                let expected = clutch_expected(&genes.belief, eggs, rate, wish.target(), MOST);
                shown = Some(Shown {
                    joint: joint(&genes),
                    ..show(&answer, query, &clutch, expected.ok().as_ref())
                });
            }
            Err(why) => problem = Some(format!("Not reckoned: {why}.")),
        }
    }
    let kin = Kin::of(view, &ColonyKin::of(&view.colony), her.place, him.place);
    let meant = |p: &&PairPlanned| {
        Some(p.female) == her.place && him.place.is_some_and(|him| p.wanted == Wanted::Male(him))
    };
    let plans = plans(site, view);
    let planned: Vec<PlanLine> = plans.iter().filter(meant).map(|p| plan_line(view, p)).collect();
    let id = |parent: &Parent| Some(view.colony.animals[parent.place?].id.to_string());
    let about = |p: &Parent, whose| (p.name.clone(), p.link.clone(), p.rests_on(whose));
    let title = format!("A clutch of {} by {}", her.name, him.name);
    let page = Page {
        frame: Frame::around(view, title, "Chances", &query.path()).with(notice),
        her: about(her, "hers"),
        him: about(him, "his"),
        hidden: [her, him].map(|parent| parent.hidden(&chances)),
        back: Query { him: None, ..query.clone() }.link(view),
        query: query.clone(),
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        her_asks: her.asks.clone(),
        him_asks: him.asks.clone(),
        wish_asks: wish.asks().into_iter().cloned().collect(),
        problem,
        kin,
        shown,
        is_ruled_out: plans.iter().filter(meant).any(PairPlanned::is_ruled_out),
        replaces: planned.iter().find_map(|p| p.record),
        planned,
        ids: id(her).zip(id(him)),
        record: store::new_id(),
        batch: store::new_id(),
        second: store::new_id(),
        day: view.day.to_string(),
    };
    html(&page)
}

fn show(
    answer: &PairChances,
    query: &Query,
    clutch: &Clutch,
    expected: Option<&ClutchShown>,
) -> Shown {
    let mix = Mix::of(answer);
    let ordered = Ordered::of(answer);
    let (fitting, others) = ordered.shares(MARKED);
    let line = |at: usize, o: &&LookShown| line(at, o, &mix, expected);
    let lines = |from: usize, looks: &[&LookShown]| -> Vec<Line> {
        looks.iter().enumerate().map(|(i, o)| line(from + i, o)).collect()
    };
    let known = if answer.hatching > 0.0 { 1.0 - answer.unknown / answer.hatching } else { 1.0 };
    let groups = match (answer.wish.is_some(), fitting) {
        (false, _) => vec![("", lines(0, &ordered.others[..others]))],
        (true, 0) => vec![("No look fits the wish", lines(0, &ordered.others[..others]))],
        (true, _) => vec![
            ("Looks that fit the wish", lines(0, &ordered.fitting[..fitting])),
            ("The likeliest others", lines(fitting, &ordered.others[..others])),
        ],
    };
    let groups: Vec<_> = groups.into_iter().filter(|(_, lines)| !lines.is_empty()).collect();
    let mut more = lines(MARKED, &ordered.fitting[fitting..]);
    let n_fit = more.len();
    more.extend(lines(MARKED, &ordered.others[others..]));
    let listed = ordered.fitting.iter().chain(&ordered.others).map(|o| o.chance).sum::<f64>();
    Shown {
        eggs: eggs(&ordered.first(MARKED), answer, &mix),
        groups,
        more_said: more_said(more.len(), n_fit),
        more,
        rest: (answer.rest > 1e-12 && listed < 1.0 - 1e-12).then(|| words::percent(1.0 - listed)),
        wish: answer.wish.zip(query.wish.as_ref()).map(|(w, text)| Wished {
            says: match expected.and_then(|e| e.wish) {
                Some(hatching) => words::hatching(&hatching, text, &clutch.said()),
                None => words::wished(&w, text, &clutch.said()),
            },
            per_egg: words::range(w.per_egg - w.unknown, w.per_egg, words::percent),
            one_in: words::range(w.per_egg - w.unknown, w.per_egg, words::one_in),
            missed: expected
                .and_then(|e| e.wish)
                .filter(|w| w.none < 1.0 - 1e-12)
                .map(|hatching| words::missed(&hatching, (w.at_least_one_known, w.at_least_one))),
        }),
        cautions: answer.cautions.iter().map(words::caution).collect(),
        copies: answer.copies.iter().map(words::copies).collect(),
        clutch: match expected {
            Some(_) => format!("{} {}", clutch.why(), clutch.hatch_why()),
            None => clutch.why(),
        },
        expected: expected.map(|e| {
            format!(
                "About {} fertile eggs, of which about {} hatch.",
                words::about(e.eggs),
                words::between(e.hatchlings * known, e.hatchlings)
            )
        }),
        nest: expected.and_then(|e| nest(&portions(&ordered.first(MARKED), e))),
        joint: None,
        is_thinned: mix.is_thinned(),
        is_unsure: !mix.is_sure(),
        hatching: mix.said(),
    }
}

/// Where both are undecided and what one is depends on what the other is.
fn joint(genes: &PairGenes<'_>) -> Option<String> {
    let name = |id: &genetics::LocusId| Some(builtin().locus(*id)?.name());
    let names: Vec<&str> = genes.joint.iter().filter_map(name).collect();
    (!names.is_empty()).then(|| {
        let names = names.join(", ");
        format!(
            "What the one carries of {names} depends on what the other does: reckoned together."
        )
    })
}

fn more_said(more: usize, fit: usize) -> String {
    let looks = if more == 1 { "1 rarer look".to_owned() } else { format!("{more} rarer looks") };
    match fit {
        0 => looks,
        1 => format!("{looks}, 1 of them fits the wish"),
        n => format!("{looks}, {n} of them fit the wish"),
    }
}

/// The egg as laid, and the one that hatches where not all do.
fn eggs(shown: &[&LookShown], answer: &PairChances, mix: &Mix) -> Vec<(&'static str, String)> {
    let laid = pieces(shown, mix, false);
    if !mix.is_thinned() {
        return vec![("One fertile egg", egg(Size::Large, "laid", "As laid", &laid))];
    }
    let mut drawn = vec![("One fertile egg, as laid", egg(Size::Large, "laid", "As laid", &laid))];
    if answer.hatching > 0.0 && answer.hatching < 1.0 - 1e-12 {
        let hatched = pieces(shown, mix, true);
        let name = if mix.is_sure() {
            "One that hatches"
        } else {
            "One that hatches, should all those do of which it is not known"
        };
        drawn.push((name, egg(Size::Large, "hatched", "That hatches", &hatched)));
    }
    drawn
}

/// A letter for each of the likeliest looks.
fn mark(i: usize) -> String {
    let letter = u8::try_from(i).ok().filter(|i| usize::from(*i) < MARKED);
    letter.map_or_else(String::new, |i| char::from(b'a' + i).to_string())
}

/// What becomes of the eggs of a clutch, what does not hatch last.
fn portions(shown: &[&LookShown], expected: &ClutchShown) -> Vec<Portion> {
    let mut portions = Vec::new();
    let (mut told, mut unknown) = (0.0, 0.0);
    for (i, o) in shown.iter().enumerate() {
        let Some(kind) = expected.kinds.iter().find(|k| k.look == o.look) else { continue };
        let doubt = if o.hatching > 0.0 { kind.hatched * o.unknown / o.hatching } else { 0.0 };
        unknown += doubt;
        told += kind.hatched;
        let eggs = kind.hatched - doubt;
        if eggs > 1e-9 {
            let words = format!("{} {}", words::about(eggs), words::look(o));
            portions.push(Portion { words, mark: mark(i), eggs, fill: Fill::Tone(i % 4) });
        }
    }
    let rest = [
        (expected.hatchlings - told, "of other looks", "…", Fill::Tone(shown.len() % 4)),
        (unknown, "of which it is not known whether they hatch", "", Fill::Unknown),
        (expected.eggs - expected.hatchlings, "that do not hatch", "", Fill::Lost),
    ];
    for (eggs, words, mark, fill) in rest {
        if eggs > 1e-6 {
            let words = format!("{} {words}", words::about(eggs));
            portions.push(Portion { words, mark: mark.to_owned(), eggs, fill });
        }
    }
    portions
}

fn in_clutch(o: &LookShown, expected: &ClutchShown) -> Option<InClutch> {
    let kind = expected.kinds.iter().find(|k| k.look == o.look)?;
    let doubt = if o.hatching > 0.0 { kind.hatched * o.unknown / o.hatching } else { 0.0 };
    let hatch = words::between(kind.hatched - doubt, kind.hatched);
    let hatch = match kind.sexes {
        None => vec![format!("{hatch} hatch")],
        Some((sons, daughters)) => vec![
            format!("{hatch} hatch:"),
            format!("{} sons,", words::about(sons)),
            format!("{} daughters", words::about(daughters)),
        ],
    };
    let or_more = if doubt > 1e-9 { " or more" } else { "" };
    Some(InClutch {
        eggs: unbroken(&format!("{} eggs", words::about(kind.laid))),
        hatch,
        none: format!("{}{or_more}", words::percent(kind.none)),
    })
}

fn line(i: usize, o: &LookShown, mix: &Mix, expected: Option<&ClutchShown>) -> Line {
    Line {
        clutch: expected.and_then(|expected| in_clutch(o, expected)),
        mark: mark(i),
        look: words::look(o),
        combo: o.combo.clone(),
        hets: words::hets(o),
        percent: words::percent(o.chance),
        one_in: words::one_in(o.chance),
        hatched: mix.of_hatchlings(o),
        fate: words::fate(o),
        fits: o.fits.filter(|f| *f > 0.0).map(|f| {
            if f > o.hatching - 1e-12 {
                "fits the wish".to_owned()
            } else {
                format!("{} of those that hatch fit the wish", words::percent(f / o.hatching))
            }
        }),
    }
}

fn pieces(shown: &[&LookShown], mix: &Mix, hatched: bool) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = shown
        .iter()
        .enumerate()
        .map(|(i, o)| {
            let mut piece = words::piece(o);
            piece.mark = mark(i);
            if hatched {
                piece.share = o.chance * o.hatching / mix.hatching;
                piece.lost = 0.0;
                piece.unknown = if o.hatching > 0.0 { o.unknown / o.hatching } else { 0.0 };
                piece.fits = o.fits.filter(|_| o.hatching > 0.0).map(|f| f / o.hatching);
                let doubt = if o.unknown > 0.0 { ", not known whether it hatches" } else { "" };
                piece.words = format!("{} {}{doubt}", words::look(o), words::percent(piece.share));
            }
            piece
        })
        .collect();
    pieces.retain(|p| p.share > 0.0);
    pieces.extend(words::rest(1.0 - pieces.iter().map(|p| p.share).sum::<f64>()));
    pieces
}
