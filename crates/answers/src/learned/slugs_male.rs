//! "Do some males leave more slugs than others?"

use records::Colony;
use units::Season;

use super::members::{MemberWords, Tried, fitted};
use super::said::of as counted;
use super::{Counted, Draft, Found, Verdict};
use crate::tonight::called;

/// Clutches from which a male is told of. Our own choice.
const LEAST_CLUTCHES: usize = 3;
/// Clutches in all. Our own choice.
const LEAST_IN_ALL: usize = 8;

pub(super) fn ask(colony: &Colony) -> Draft {
    let (mut rows, mut uncounted, mut unknown) = (vec![], 0, 0);
    for clutch in &colony.clutches {
        let (Some(laid), Some(eggs), Some(slugs)) = (clutch.laid, clutch.eggs, clutch.slugs) else {
            uncounted += 1;
            continue;
        };
        let Some(sire) = clutch.sire.filter(|_| eggs > 0) else {
            unknown += 1;
            continue;
        };
        rows.push(Tried {
            who: sire,
            female: clutch.female,
            season: Season::holding(laid, colony.season_opening()),
            hits: f64::from(slugs.min(eggs)),
            tries: f64::from(eggs),
        });
    }
    let of = |male: usize| rows.iter().filter(|r| r.who == male).count();
    let mut males: Vec<usize> = rows.iter().map(|r| r.who).collect();
    males.sort_unstable();
    males.dedup();
    let n_enough = males.iter().filter(|m| of(**m) >= LEAST_CLUTCHES).count();
    let counts = vec![
        Counted { n: rows.len(), what: "clutches with eggs, slugs and male written" },
        Counted { n: n_enough, what: "males with 3 such clutches or more" },
    ];
    let left_out = vec![
        Counted { n: uncounted, what: "clutches not counted or not dated" },
        Counted { n: unknown, what: "clutches without a male" },
        Counted { n: males.len() - n_enough, what: "males with fewer clutches" },
    ];
    let found = if colony.clutches.is_empty() {
        Found::None(Verdict::NothingWritten, "No clutches are written: nothing to compare.".into())
    } else if n_enough < 2 || rows.len() < LEAST_IN_ALL {
        let clutches = counted(rows.len(), "clutch", "clutches");
        let enough = counted(n_enough, "male", "males");
        let why = format!("Too few to tell: {clutches}, {enough} with 3 or more of them.");
        Found::None(Verdict::TooFew, why)
    } else {
        let name = |male: &usize| (called(&colony.animals[*male], colony.as_of.day), Some(*male));
        match fitted(&rows, name, |male| of(*male) >= LEAST_CLUTCHES, true) {
            Some(members) => Found::Members { members, words: WORDS },
            None => Found::None(Verdict::TooFew, "Too few to tell.".into()),
        }
    };
    Draft {
        id: "slugs_male",
        asked: "Do some males leave more slugs than others?",
        needs: "8 clutches, and two males with 3 clutches each",
        write: "Eggs, slugs and the male of every clutch.",
        caution: "The male written for a clutch is the keeper's word; where several were with her, \
                  it may have been another.",
        how: "Slugs among the eggs of each clutch. A logistic model with a value of its own for each \
              clutch (eggs of one clutch share their fate), male, female and season; each male is \
              drawn towards the average, the more so the fewer his clutches.",
        counts,
        left_out,
        found,
    }
}

const WORDS: MemberWords = MemberWords {
    many: "males",
    does: "leaves",
    of: "slugs",
    usual: "an average male leaves",
    axis: "slugs among eggs",
    counted: "eggs",
};
