//! Every male of the house beside one female.

use std::collections::HashMap;

use answers::pair_chances::chances_of;
use answers::pair_genes::{PairGenes, Side};
use answers::suitors::Suitor;
use answers::{ColonyKin, PairPlanned, Wanted, suitors, wish_in_clutch};
use askama::Template;
use axum::response::Response;
use records::RecordId;
use records::words::Choice;
use sheets::catalogue_file::builtin;

use super::asked::{Asks, Parent, Query, Wish};
use super::clutch::Clutch;
use super::egg::{Piece, Size, egg};
use super::kin::Kin;
use super::order::Ordered;
use super::{PlanLine, choice, code_or_id, plan_line, plans, words};
use crate::frame::{Frame, html};
use crate::notice::Notice;
use crate::rack;
use crate::site::{Site, View};
use crate::tonight::tub;

/// Pieces of the small egg before the rest becomes one.
const PIECES: usize = 5;
/// Looks reckoned for a male: enough to tell how many share the highest chance; our choice.
const RECKONED: usize = 24;

/// One male.
struct Row {
    tub: String,
    name: String,
    link: String,
    genes: String,
    plan: String,
    most: String,
    egg: String,
    wish: Option<(String, Option<String>)>,
    wished: f64,
    kin: Option<String>,
    cautions: Vec<String>,
    asks: Vec<Asks>,
}

#[derive(Template)]
#[template(path = "chances_her.html")]
struct Page {
    frame: Frame,
    name: String,
    link: Option<String>,
    genes: String,
    hidden: Option<String>,
    her: Query,
    on: String,
    asks: Vec<Asks>,
    wish_asks: Vec<Asks>,
    problem: Option<String>,
    males: Vec<Row>,
    n_small: usize,
    with_small: String,
    small: Vec<Row>,
    clutch: String,
    by_wish: Option<String>,
    is_by_wish: bool,
    genes_planned: Vec<PlanLine>,
    female: Option<String>,
    record: RecordId,
    batch: RecordId,
    genes_record: RecordId,
    day: String,
}

pub fn page(
    site: &Site,
    view: &View,
    query: &Query,
    her: &Parent,
    notice: Option<Notice>,
) -> Response {
    let wish = Wish::of(query, view);
    let (clutch, problem) = Clutch::of(query, view, her.place);
    let males = suitors(&view.colony);
    let sides: Vec<Side<'_>> = males.iter().map(|m| Side::Animal(m.male)).collect();
    let chances = site.genes(&view.colony);
    let genes = PairGenes::of_dam(builtin(), &chances, her.side(), &sides);
    let asking = Asking {
        view,
        query,
        her,
        wish: &wish,
        clutch,
        plans: plans(site, view),
        carrying: site.carrying(&view.colony),
        kin: ColonyKin::of(&view.colony),
        genes: males.iter().map(|m| m.male).zip(genes).collect(),
    };
    let mut males = males;
    males.sort_by_key(|m| asking.order(m));
    let (large, small): (Vec<Suitor>, Vec<Suitor>) = males.into_iter().partition(|m| m.takes_part);
    let mut rows: Vec<Row> = large.iter().map(|m| asking.row(m)).collect();
    let is_by_wish = query.sort.is_some() && wish.target().is_some();
    if is_by_wish {
        rows.sort_by(|a, b| b.wished.total_cmp(&a.wished));
    }
    let hers =
        |p: &&PairPlanned| Some(p.female) == her.place && matches!(p.wanted, Wanted::Carrying(_));
    let title = format!("Chances of {}", her.name);
    let page = Page {
        frame: Frame::around(view, title, "Chances", &query.path()).with(notice),
        name: her.name.clone(),
        link: her.link.clone(),
        genes: her.rests_on("hers"),
        hidden: her.hidden(&chances),
        her: query.clone(),
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        asks: her.asks.clone(),
        wish_asks: wish.asks().into_iter().cloned().collect(),
        problem,
        males: rows,
        n_small: small.len(),
        with_small: Query { small: Some("1".into()), ..query.clone() }.link(view),
        small: if query.small.is_some() {
            small.iter().map(|m| Row { egg: String::new(), ..asking.row(m) }).collect()
        } else {
            Vec::new()
        },
        clutch: match wish.target() {
            Some(_) => format!("{} {}", asking.clutch.why(), asking.clutch.hatch_why()),
            None => asking.clutch.why(),
        },
        by_wish: (wish.target().is_some() && !is_by_wish)
            .then(|| Query { sort: Some("wish".into()), ..query.clone() }.link(view)),
        is_by_wish,
        genes_planned: asking.plans.iter().filter(hers).map(|p| plan_line(view, p)).collect(),
        female: her.place.map(|place| view.colony.animals[place].id.to_string()),
        record: store::new_id(),
        batch: store::new_id(),
        genes_record: store::new_id(),
        day: view.day.to_string(),
    };
    html(&page)
}

struct Asking<'a> {
    view: &'a View,
    query: &'a Query,
    her: &'a Parent,
    wish: &'a Wish,
    clutch: Clutch,
    plans: Vec<PairPlanned>,
    carrying: crate::carrying::Carrying<'a>,
    kin: ColonyKin,
    /// The genes of her with each male.
    genes: HashMap<usize, PairGenes<'static>>,
}

/// Planned first choices, second choices, everybody else, then who is ruled out; each in rack order.
type Order = (u8, (bool, Vec<(String, u64)>), (bool, Vec<(String, u64)>));

impl Asking<'_> {
    fn plans_with(&self, male: usize) -> impl Iterator<Item = &PairPlanned> {
        let means = move |p: &&PairPlanned| {
            let carries =
                |animal: &records::Animal, wanted: &str| self.carrying.chance(animal, wanted);
            Some(p.female) == self.her.place && p.fits(&self.view.colony, &carries, male)
        };
        self.plans.iter().filter(means)
    }

    fn order(&self, suitor: &Suitor) -> Order {
        let rank = |p: &PairPlanned| match p.choice {
            _ if p.is_ruled_out() => 3,
            Choice::First => 0,
            Choice::Second => 1,
        };
        let ranks: Vec<u8> = self.plans_with(suitor.male).map(rank).collect();
        let is_ruled_out = ranks.contains(&3);
        let rank = if is_ruled_out { 3 } else { ranks.into_iter().min().unwrap_or(2) };
        let code = self.view.colony.code(suitor.male);
        (rank, rack::order(tub(self.view, suitor.male)), rack::order(Some(code)))
    }

    fn row(&self, suitor: &Suitor) -> Row {
        let him = Parent::of_house(self.view, suitor.male);
        let planned = |p: &PairPlanned| match choice(p) {
            _ if p.is_ruled_out() => "Ruled out".to_owned(),
            choice => format!("Planned, {choice}"),
        };
        let said = |p: &PairPlanned| match &p.wanted {
            Wanted::Male(_) => planned(p),
            Wanted::Carrying(genes) => format!("{} as a male with {genes}", planned(p)),
        };
        let plan = self.plans_with(suitor.male).map(said).collect::<Vec<_>>().join("; ");
        let kin = Kin::of(self.view, &self.kin, self.her.place, Some(suitor.male));
        let code = code_or_id(self.view, suitor.male);
        let mut row = Row {
            tub: self.view.tub(suitor.male),
            link: self.query.with_him(code).link(self.view),
            name: him.name.clone(),
            genes: if him.genes.is_empty() {
                "genes not written".into()
            } else {
                him.genes.clone()
            },
            plan,
            most: String::new(),
            egg: String::new(),
            wish: None,
            wished: -1.0,
            kin: kin.plain,
            cautions: kin.caution.into_iter().collect(),
            asks: him.asks.clone(),
        };
        if let Some(genes) = self.genes.get(&suitor.male)
            && him.asks.is_empty()
            && self.her.asks.is_empty()
        {
            self.reckon(&mut row, genes);
        }
        row
    }

    fn reckon(&self, row: &mut Row, genes: &PairGenes<'_>) {
        let wish = self.wish.target();
        let answer = match chances_of(genes, wish, self.clutch.size(), RECKONED) {
            Ok(answer) => answer,
            Err(why) => {
                row.most = format!("Not reckoned: {why}.");
                return;
            }
        };
        row.most = words::most_likely(&answer);
        row.cautions.extend(answer.cautions.iter().map(words::caution));
        if let Some(shown) = answer.wish {
            let text = self.query.wish.as_deref().unwrap_or_default();
            let (eggs, rate) = (self.clutch.size(), self.clutch.hatch_rate());
            let hatching = wish.and_then(|w| wish_in_clutch(&genes.belief, eggs, rate, w).ok());
            (row.wished, row.wish) = match hatching {
                Some(hatching) => {
                    let said = words::hatching(&hatching, text, &self.clutch.said());
                    (1.0 - hatching.none, Some(said))
                }
                None => {
                    let said = words::wished(&shown, text, &self.clutch.said());
                    (shown.at_least_one, Some(said))
                }
            };
        }
        let shown = Ordered::of(&answer).first(PIECES);
        let mut pieces: Vec<Piece> = shown.iter().map(|o| words::piece(o)).collect();
        pieces.extend(words::rest(1.0 - pieces.iter().map(|p| p.share).sum::<f64>()));
        row.egg = egg(Size::Small, "", &format!("One egg by {}", row.name), &pieces);
    }
}
