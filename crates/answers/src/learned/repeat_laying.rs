//! "Does a female that ate more since she laid lay again?" The rule of more than 20 rats.

use forecast::effects::mixed_logistic::MixedLogistic;
use forecast::effects::{Design, Grouping, Mixture};
use records::colony::Presence;
use records::{Animal, Colony};
use units::{Day, Season};

use super::intake::eaten;
use super::said::{Scale, Words, of, share};
use super::{Counted, Draft, Found, Picture, Row, Verdict};

/// Rats since laying above which a female is held to lay again more likely (common practice, no
/// source).
const RULE: f64 = 20.0;
/// Meals between laying and the next season below which it is not known what she ate. Our choice.
const LEAST_MEALS: usize = 4;
/// Female-seasons in all, and on each side of the rule, from which anything is said. Our choice.
const LEAST_SEASONS: usize = 8;
const LEAST_A_SIDE: usize = 3;

/// One female in the season after one in which she laid.
struct Again {
    female: usize,
    season: Season,
    rats: f64,
    laid: bool,
}

enum Seen {
    Known(Again),
    /// The season after is not over.
    Open,
    /// She was neither checked nor placed in it, or left before it was over.
    Untried,
    /// Her meals are not written.
    Unfed,
}

pub(super) fn ask(colony: &Colony) -> Draft {
    let (mut all, mut open, mut untried, mut unfed) = (vec![], 0, 0, 0);
    for (female, animal) in colony.animals.iter().enumerate() {
        let mut layings: Vec<(Season, Day)> = vec![];
        for laid in &animal.laid {
            let season = Season::holding(laid.day, colony.season_opening());
            layings.retain(|l| l.0 != season);
            layings.push((season, laid.day));
        }
        for (_, laid) in layings {
            match after(colony, female, animal, laid) {
                Seen::Known(again) => all.push(again),
                Seen::Open => open += 1,
                Seen::Untried => untried += 1,
                Seen::Unfed => unfed += 1,
            }
        }
    }
    let over = all.iter().filter(|a| a.rats > RULE).count();
    let under = all.len() - over;
    let counts = vec![
        Counted { n: over, what: "female-seasons after more than 20 rats" },
        Counted { n: under, what: "female-seasons after 20 rats or fewer" },
        Counted { n: Grouping::of(all.iter().map(|a| a.female)).1.len(), what: "females" },
    ];
    let left_out = vec![
        Counted { n: open, what: "whose next season is not over" },
        Counted { n: untried, what: "neither checked nor placed in it, or gone before its end" },
        Counted { n: unfed, what: "without meals written since she laid" },
    ];
    let found = if all.len() + open + untried + unfed == 0 {
        Found::None(Verdict::NothingWritten, "No clutches are written: nothing to compare.".into())
    } else if all.len() < LEAST_SEASONS || over.min(under) < LEAST_A_SIDE {
        let known = of(all.len(), "female-season", "female-seasons");
        Found::None(
            Verdict::TooFew,
            format!(
                "Too few to tell: {known} after a clutch, {over} of them after more than 20 rats."
            ),
        )
    } else {
        fitted(&all)
    };
    Draft {
        id: "repeat_laying",
        asked: "Does a female lay again if she ate more than 20 rats since she laid?",
        needs: "8 female-seasons after a clutch, 3 of them after more than 20 rats and 3 after fewer",
        write: "Every clutch, every meal between seasons, and checks or placements of each female \
                that is tried.",
        caution: "The rule of 20 rats is common practice without a source. Females that recover \
                  well both eat more and lay again: food need not be the reason.",
        how: "Rats eaten from her last clutch until the next season opens, the same stretch for those \
              that laid again and those that did not; a mouse counts a third, a rat that is not weaned \
              a quarter. Only seasons that are over and in which she was checked or placed count. A \
              logistic model with a value of its own for each female and each season; told as the \
              difference of two chances.",
        counts,
        left_out,
        found,
    }
}

fn after(colony: &Colony, female: usize, animal: &Animal, laid: Day) -> Seen {
    let opening = colony.season_opening();
    let next = |season: Season| Season::holding(season.opens() + 370, opening);
    let season = next(Season::holding(laid, opening));
    let (from, until) = (season.opens(), next(season).opens());
    // Those that laid already are not taken before the others had their time too.
    if colony.as_of.day < until {
        return Seen::Open;
    }
    let is_in = |day: Day| from <= day && day < until;
    let again = animal.laid.iter().any(|l| is_in(l.day));
    let nights = animal.stays.iter().map(|at| colony.stays[*at].night.evening());
    let is_tried = animal.checks.iter().map(|c| c.day).chain(nights).any(is_in);
    let stayed = animal.presence(until - 1) == Presence::InHouse;
    let counts = again || (is_tried && stayed);
    if !counts {
        return Seen::Untried;
    }
    let eaten = eaten(animal, laid, from);
    if eaten.meals < LEAST_MEALS {
        return Seen::Unfed;
    }
    Seen::Known(Again { female, season, rats: eaten.rats, laid: again })
}

fn fitted(all: &[Again]) -> Found {
    let is_over = |a: &Again| f64::from(u8::from(a.rats > RULE));
    let cells = all.iter().flat_map(|a| [1.0, is_over(a) - 0.5]).collect();
    let none = || Found::None(Verdict::TooFew, "Too few to tell.".into());
    let Ok(design) = Design::new(2, cells) else { return none() };
    let laid: Vec<f64> = all.iter().map(|a| f64::from(u8::from(a.laid))).collect();
    let ones = vec![1.0; all.len()];
    let model = MixedLogistic {
        design: &design,
        groupings: &[
            Grouping::of(all.iter().map(|a| a.female)).0,
            Grouping::of(all.iter().map(|a| a.season)).0,
        ],
        successes: &laid,
        trials: &ones,
        // Weak: three times the odds, or a third, is one standard deviation.
        precision: &[0.16, 1.0],
    };
    let at = |over: f64| vec![(0, 1.0), (1, over - 0.5)];
    let Ok(believed) = model.posterior(&[vec![(1, 1.0)], at(1.0), at(0.0)]) else { return none() };
    let [effect, over, under] = <[_; 3]>::try_from(believed).unwrap_or_else(|_| unreachable!());
    let row = |name: &str, over: bool, of: &Mixture| {
        let own = || all.iter().filter(|a| (a.rats > RULE) == over);
        let (n, again) = (own().count(), own().filter(|a| a.laid).count());
        Row {
            name: name.into(),
            place: None,
            counted: format!("{again} of {n} laid again"),
            median: share(of.median()),
            eighty: of.interval(0.8).map(share),
            ninety_five: of.interval(0.95).map(share),
            apart: None,
        }
    };
    let rows = vec![row("more than 20 rats", true, &over), row("20 rats or fewer", false, &under)];
    #[expect(clippy::cast_precision_loss, reason = "counts of females")]
    let usual = laid.iter().sum::<f64>() / all.len() as f64;
    Found::One {
        effect,
        words: Words {
            more: "More than 20 rats, more likely to lay again",
            less: "More than 20 rats, less likely to lay again",
            between: "between females that ate more than 20 rats since laying and those that ate fewer",
            unit: "percentage points",
            digits: 0,
            scale: Scale::PointsAround(usual),
        },
        picture: Picture::Rows {
            axis: "chance that she lays again",
            is_share: true,
            rows,
            average: None,
            dashed: "",
        },
    }
}
