//! "Do some males lock more often than others?"

use records::{Colony, Lock};
use units::Season;

use super::members::{MemberWords, Tried, fitted};
use super::said::of;
use super::{Counted, Draft, Found, Verdict};
use crate::tonight::called;

/// Nights somebody looked from which a male is told of. Our own choice.
const LEAST_NIGHTS: f64 = 20.0;

pub(super) fn ask(colony: &Colony) -> Draft {
    let (rows, suspected, unseen) = nights(colony);
    let mut males: Vec<(usize, f64)> = vec![];
    for row in &rows {
        match males.iter_mut().find(|m| m.0 == row.who) {
            Some(male) => male.1 += row.tries,
            None => males.push((row.who, row.tries)),
        }
    }
    let enough = |male: &usize| males.iter().any(|m| m.0 == *male && m.1 >= LEAST_NIGHTS);
    let n_enough = males.iter().filter(|m| m.1 >= LEAST_NIGHTS).count();
    let nights: f64 = rows.iter().map(|r| r.tries).sum();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
    let nights = nights as usize;
    let locks = rows.iter().map(|r| r.hits).sum::<f64>();
    let counts = vec![
        Counted { n: nights, what: "nights somebody looked" },
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
        Counted { n: locks as usize, what: "locks seen" },
        Counted { n: n_enough, what: "males with 20 such nights or more" },
    ];
    let left_out = vec![
        Counted { n: suspected, what: "nights with a lock only suspected" },
        Counted { n: unseen, what: "nights nobody looked" },
        Counted { n: males.len() - n_enough, what: "males with fewer nights" },
    ];
    let found = if nights == 0 {
        Found::None(Verdict::NothingWritten, "No nights are written: nothing to compare.".into())
    } else if n_enough < 2 {
        let males = of(n_enough, "male has", "males have");
        let why = format!("Too few to tell: {males} 20 nights that somebody looked.");
        Found::None(Verdict::TooFew, why)
    } else {
        let name = |male: &usize| (called(&colony.animals[*male], colony.as_of.day), Some(*male));
        match fitted(&rows, name, enough, false) {
            Some(members) => Found::Members { members, words: WORDS },
            None => Found::None(Verdict::TooFew, "Too few to tell.".into()),
        }
    };
    Draft {
        id: "lock_rates",
        asked: "Do some males lock more often than others?",
        needs: "two males with 20 nights each that somebody looked",
        write: "Where each male spends the night, and what is seen in the morning, also where it is \
                no lock.",
        caution: "Males go to different females at different sizes; females and seasons are allowed \
                  for, sizes are not.",
        how: "Nights placed on which somebody looked; a lock seen counts, one only suspected is left \
              out. A logistic model with a value of its own for each male, female and season; each \
              male is drawn towards the average, the more so the fewer his nights.",
        counts,
        left_out,
        found,
    }
}

const WORDS: MemberWords = MemberWords {
    many: "males",
    does: "locks on",
    of: "of his nights",
    usual: "an average male locks on",
    axis: "nights with a lock",
    counted: "nights",
};

/// Nights by male, female and season; those with a lock only suspected, and those nobody looked.
fn nights(colony: &Colony) -> (Vec<Tried<usize>>, usize, usize) {
    let (mut rows, mut suspected, mut unseen): (Vec<Tried<usize>>, _, _) = (vec![], 0, 0);
    for stay in &colony.stays {
        let hit = match stay.lock.as_ref().map(|l| l.0) {
            Some(Lock::Seen) => 1.0,
            Some(Lock::NoneSeen) => 0.0,
            Some(Lock::Suspected) => {
                suspected += 1;
                continue;
            }
            Some(Lock::NotLooked) | None => {
                unseen += 1;
                continue;
            }
        };
        let season = Season::holding(stay.night.evening(), colony.season_opening());
        let (who, female) = (stay.male, stay.female);
        let same = |r: &&mut Tried<usize>| (r.who, r.female, r.season) == (who, female, season);
        match rows.iter_mut().rev().find(same) {
            Some(row) => {
                row.hits += hit;
                row.tries += 1.0;
            }
            None => rows.push(Tried { who, female, season, hits: hit, tries: 1.0 }),
        }
    }
    (rows, suspected, unseen)
}
