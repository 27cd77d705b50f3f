//! Rates of several males, incubators, ...: each drawn towards what is usual, each a look of its own.

use forecast::effects::bordered::Layout;
use forecast::effects::mixed_logistic::MixedLogistic;
use forecast::effects::{Design, Grouping, Mixture};

use super::said::{Scale, percent, share, signed};
use super::{Effect, Picture, Row, Verdict, shown, verdict};

/// One row: who, in which female and season, how often of how many.
pub struct Tried<W> {
    pub who: W,
    pub female: usize,
    pub season: units::Season,
    pub hits: f64,
    pub tries: f64,
}

/// One member as the model has it.
pub struct Member {
    pub name: String,
    pub place: Option<usize>,
    pub hits: f64,
    pub tries: f64,
    /// Log odds with a middling female in a middling season.
    rate: Mixture,
    /// Log odds from the average of all members.
    apart: Mixture,
}

/// All of them.
pub struct Members {
    members: Vec<Member>,
    usual: Mixture,
}

/// How they are told.
#[derive(Clone, Copy)]
pub struct MemberWords {
    /// "males".
    pub many: &'static str,
    /// "locks on": between a name and its share.
    pub does: &'static str,
    /// "of nights".
    pub of: &'static str,
    /// "on an average male".
    pub usual: &'static str,
    /// What is measured.
    pub axis: &'static str,
    /// "12 of 40 {nights}".
    pub counted: &'static str,
}

/// Fits rows whose members are those listed (name, place), of which `is_shown` says who has enough
/// to be told. Rows that share one clutch share more than their female and season: `is_clustered`
/// gives each row a value of its own.
pub fn fitted<W: PartialEq + Clone>(
    rows: &[Tried<W>],
    name: impl Fn(&W) -> (String, Option<usize>),
    is_shown: impl Fn(&W) -> bool,
    is_clustered: bool,
) -> Option<Members> {
    let (who, members) = Grouping::of(rows.iter().map(|r| r.who.clone()));
    let mut groupings = vec![];
    if is_clustered {
        groupings.push(Grouping { of_row: (0..rows.len()).collect(), levels: rows.len() });
    }
    let female = Grouping::of(rows.iter().map(|r| r.female)).0;
    let season = Grouping::of(rows.iter().map(|r| r.season)).0;
    groupings.push(female);
    let at_who = groupings.len();
    groupings.extend([who.clone(), season]);
    let design = Design::new(1, vec![1.0; rows.len()]).ok()?;
    let hits: Vec<f64> = rows.iter().map(|r| r.hits).collect();
    let tries: Vec<f64> = rows.iter().map(|r| r.tries).collect();
    let model = MixedLogistic {
        design: &design,
        groupings: &groupings,
        successes: &hits,
        trials: &tries,
        precision: &[0.16],
    };
    let layout = Layout::new(&design, &groupings).ok()?;
    #[expect(clippy::cast_precision_loss, reason = "counts of members")]
    let part = 1.0 / members.len() as f64;
    let all: Vec<(usize, f64)> =
        (0..members.len()).map(|m| (layout.place(at_who, m), part)).collect();
    let with = |mut contrast: Vec<(usize, f64)>, more: (usize, f64)| {
        contrast.push(more);
        contrast
    };
    let mut contrasts = vec![with(all.clone(), (0, 1.0))];
    let shown: Vec<usize> = (0..members.len()).filter(|m| is_shown(&members[*m])).collect();
    for m in &shown {
        let place = layout.place(at_who, *m);
        contrasts.push(vec![(0, 1.0), (place, 1.0)]);
        let away = all.iter().map(|(at, part)| (*at, -part)).collect();
        contrasts.push(with(away, (place, 1.0)));
    }
    let mut believed = model.posterior(&contrasts).ok()?.into_iter();
    let usual = believed.next()?;
    let mut told = vec![];
    for m in shown {
        let own = || rows.iter().zip(&who.of_row).filter(|(_, of)| **of == m).map(|(r, _)| r);
        let (name, place) = name(&members[m]);
        told.push(Member {
            name,
            place,
            hits: own().map(|r| r.hits).sum(),
            tries: own().map(|r| r.tries).sum(),
            rate: believed.next()?,
            apart: believed.next()?,
        });
    }
    told.sort_by(|a, b| b.rate.mean().total_cmp(&a.rate.mean()).then_with(|| a.name.cmp(&b.name)));
    Some(Members { members: told, usual })
}

impl Members {
    /// Two that are compared with their common middle are one look.
    pub fn looks(&self) -> usize {
        if self.members.len() == 2 { 1 } else { self.members.len() }
    }

    /// The answer once it is known how many looks there are.
    pub fn finished(&self, words: &MemberWords, coverage: f64) -> (Verdict, String, Picture) {
        let usual = share(self.usual.median());
        let scale = Scale::PointsAround(usual);
        let rows: Vec<Row> = self
            .members
            .iter()
            .map(|member| Row {
                name: member.name.clone(),
                place: member.place,
                counted: format!("{} of {} {}", member.hits, member.tries, words.counted),
                median: share(member.rate.median()),
                eighty: member.rate.interval(0.8).map(share),
                ninety_five: member.rate.interval(0.95).map(share),
                apart: Some(shown(
                    &member.apart,
                    "percentage points from the average",
                    |x| scale.of(x),
                    coverage,
                )),
            })
            .collect();
        let (verdict, sentence) = sentence(&rows, words, usual);
        let (axis, average) = (words.axis, Some(usual));
        (
            verdict,
            sentence,
            Picture::Rows { axis, is_share: true, rows, average, dashed: "average" },
        )
    }
}

/// So many are told one by one; more are listed beside the average.
const MOST_TOLD_IN_FULL: usize = 2;

fn sentence(rows: &[Row], words: &MemberWords, usual: f64) -> (Verdict, String) {
    let found = |what: Verdict| -> Vec<(&Row, &Effect)> {
        let apart = rows.iter().filter_map(|row| row.apart.as_ref().map(|apart| (row, apart)));
        apart.filter(|(_, apart)| verdict(apart) == what).collect()
    };
    let n = rows.len();
    let (clear, maybe) = (found(Verdict::Clear), found(Verdict::MayBeChance));
    if !clear.is_empty() {
        return (Verdict::Clear, format!("In your records {}.", list(&clear, words, usual)));
    }
    if !maybe.is_empty() {
        let chance = if n == 2 {
            "That may be chance.".to_owned()
        } else {
            format!("Of {n} {} that may be chance.", words.many)
        };
        let list = list(&maybe, words, usual);
        return (Verdict::MayBeChance, format!("Perhaps: in your records {list}. {chance}"));
    }
    let usual = percent(usual);
    let said = format!(
        "No difference seen between {n} {}: in your records {} {usual} {}.",
        words.many, words.usual, words.of
    );
    (Verdict::NoDifference, said)
}

fn list(all: &[(&Row, &Effect)], words: &MemberWords, usual: f64) -> String {
    let range = |row: &Row| [row.eighty.low, row.eighty.high].map(percent).join(" to ");
    let in_full = |(row, apart): &(&Row, &Effect)| {
        let [low, high] = [apart.eighty.low, apart.eighty.high].map(|x| signed(x, 0));
        format!(
            "{} {} {} {} (80 %: {}), {} percentage points from the average ({low} to {high})",
            row.name,
            words.does,
            percent(row.median),
            words.of,
            range(row),
            signed(apart.median, 0),
        )
    };
    if all.len() <= MOST_TOLD_IN_FULL {
        return all.iter().map(in_full).collect::<Vec<_>>().join("; ");
    }
    let short = |(row, _): &(&Row, &Effect)| {
        let [low, middle, high] = [row.eighty.low, row.median, row.eighty.high].map(|x| 100.0 * x);
        format!("{} {middle:.0} % ({low:.0} to {high:.0} %)", row.name)
    };
    let side = |is_above: bool| {
        let own = all.iter().filter(|(_, apart)| (apart.median > 0.0) == is_above);
        own.map(short).collect::<Vec<_>>().join(", ")
    };
    let sides = [("more", side(true)), ("less", side(false))];
    let sides = sides.iter().filter(|(_, who)| !who.is_empty());
    let sides: Vec<String> = sides.map(|(word, who)| format!("{word} {who}")).collect();
    format!(
        "{} {} {}; {}; in brackets, where it lies with a chance of 80 %",
        words.usual,
        percent(usual),
        words.of,
        sides.join("; "),
    )
}
