//! "Do more eggs hatch in one place than in another?"

use records::{Clutch, Colony};
use units::Season;

use super::members::{MemberWords, Tried, fitted};
use super::said::of as counted;
use super::{Counted, Draft, Found, Verdict};

/// Clutches from which a place is told of, and in all. Our own choice.
const LEAST_CLUTCHES: usize = 3;
const LEAST_IN_ALL: usize = 8;
/// Days after laying beyond which a clutch of which no hatching is written is no longer waited for:
/// 60 days (common practice, no source) and a month.
const WAITED_FOR_DAYS: i32 = 90;

/// Where the eggs of a clutch are kept: the incubator they lay in last, by name, or in words.
fn place(clutch: &Clutch) -> Option<String> {
    let named = clutch.incubated.last().map(|put| put.what.as_str().to_owned());
    named.or_else(|| clutch.kept.map(|kept| kept.word().to_owned()))
}

pub(super) fn ask(colony: &Colony) -> Draft {
    let (mut rows, mut open, mut uncounted, mut nowhere) = (vec![], 0, 0, 0);
    for clutch in &colony.clutches {
        let hatched = clutch.hatched.as_ref().and_then(|h| h.what);
        let fertile = clutch.eggs.map(|eggs| eggs.saturating_sub(clutch.slugs.unwrap_or(0)));
        let (Some(laid), Some(fertile)) = (clutch.laid, fertile.filter(|n| *n > 0)) else {
            uncounted += 1;
            continue;
        };
        let Some(hatched) = hatched else {
            let is_open =
                clutch.hatched.is_none() && colony.as_of.day.days_since(laid) <= WAITED_FOR_DAYS;
            if is_open {
                open += 1;
            } else {
                uncounted += 1;
            }
            continue;
        };
        let Some(who) = place(clutch) else {
            nowhere += 1;
            continue;
        };
        rows.push(Tried {
            who,
            female: clutch.female,
            season: Season::holding(laid, colony.season_opening()),
            hits: f64::from(hatched.min(fertile)),
            tries: f64::from(fertile),
        });
    }
    let of = |place: &String| rows.iter().filter(|r| r.who == *place).count();
    let mut places: Vec<String> = rows.iter().map(|r| r.who.clone()).collect();
    places.sort();
    places.dedup();
    let n_enough = places.iter().filter(|p| of(p) >= LEAST_CLUTCHES).count();
    let counts = vec![
        Counted { n: rows.len(), what: "clutches that hatched, counted, with their place" },
        Counted { n: n_enough, what: "places with 3 such clutches or more" },
    ];
    let left_out = vec![
        Counted { n: open, what: "clutches that have not hatched yet" },
        Counted { n: uncounted, what: "clutches not counted, not dated or without fertile eggs" },
        Counted { n: nowhere, what: "clutches of which it is not written where they were kept" },
    ];
    let found = if rows.is_empty() {
        let why = "It is not written where eggs were kept: nothing to compare.";
        Found::None(Verdict::NothingWritten, why.into())
    } else if n_enough < 2 || rows.len() < LEAST_IN_ALL {
        let clutches = counted(rows.len(), "clutch", "clutches");
        let enough = counted(n_enough, "place", "places");
        let why = format!("Too few to tell: {clutches}, {enough} with 3 or more of them.");
        Found::None(Verdict::TooFew, why)
    } else {
        match fitted(&rows, |p| (p.clone(), None), |p| of(p) >= LEAST_CLUTCHES, true) {
            Some(members) => Found::Members { members, words: WORDS },
            None => Found::None(Verdict::TooFew, "Too few to tell.".into()),
        }
    };
    Draft {
        id: "hatch_rate",
        asked: "Do more eggs hatch in one place than in another?",
        needs: "8 clutches that hatched, and two places with 3 clutches each",
        write: "Where the eggs of each clutch are kept, and how many hatched.",
        caution: "Clutches are not dealt out to places by lot: what was wrong with a clutch may be \
                  why it was kept there.",
        how: "Hatchlings among the fertile eggs of each clutch that hatched; clutches that have not \
              hatched yet wait. A logistic model with a value of its own for each clutch, place, \
              female and season; each place is drawn towards the average.",
        counts,
        left_out,
        found,
    }
}

const WORDS: MemberWords = MemberWords {
    many: "places",
    does: "hatched",
    of: "of fertile eggs",
    usual: "an average place hatched",
    axis: "hatched of fertile eggs",
    counted: "fertile eggs",
};
