//! Every kind of fact goes out as sheets and comes in again, with all that may be left out of it.

use std::collections::BTreeMap;
use std::path::Path;

use records::facts::{Retagged, Set, SexTold};
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Live, Sex};
use store::Store;
use units::{When, Zone};

use crate::program::{Folder, run};

#[path = "../../store/tests/every_kind.rs"]
mod every_kind;

use every_kind::{day, draft, every_kind, id};

fn made(folder: &Folder, drafts: Vec<Draft>) -> Vec<Live> {
    let data = folder.at("data");
    let mut store =
        Store::create(Path::new(&data), &Zone::named("Europe/Berlin").unwrap()).unwrap();
    let n = drafts.len();
    assert_eq!(store.append(drafts).unwrap().written.len(), n);
    store.standing().iter().cloned().collect()
}

/// What is told, with how often; rows that wait and the zone of the folder are no matter of sheets.
fn told(lives: &[Live]) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    for live in lives {
        // Told all along: it stands in the row of the animal, whose colony is compared below.
        let is_of_row = match &live.fact {
            Fact::Added(_) => true,
            Fact::SexTold(told) => told.how.is_none() && live.when == When::Undated,
            Fact::Changed(_) | Fact::Moved(_) => live.when == When::Undated,
            _ => false,
        };
        let is_zone = matches!(&live.fact, Fact::Set(Set { name, .. }) if name == "zone");
        if !is_zone && !is_of_row && !matches!(live.fact, Fact::Held(_)) {
            *all.entry(format!("{} {:?}", live.when, live.fact)).or_default() += 1;
        }
    }
    all
}

/// Every animal on that day, in a few words.
fn animals(lives: &[Live], on: &str) -> Vec<String> {
    let zone = Zone::named("Europe/Berlin").unwrap();
    let colony = Colony::fold(lives, &zone, AsOf::evening_of(day(on), &zone));
    let code = |at: Option<usize>| at.map(|at| colony.code(at).to_owned());
    let mut all: Vec<String> = colony
        .animals
        .iter()
        .map(|a| {
            let tub = a.tubs.last().map(|tub| tub.what.clone());
            let genes = a.genes.as_ref().map(|(genes, _)| genes);
            let looks = a.look.as_ref().map(|(look, _)| look);
            format!(
                "{:?} {:?} {:?} {:?} {genes:?} {looks:?} {:?} {:?} {:?} {tub:?}",
                a.codes,
                a.name,
                a.sex(),
                a.hatched,
                code(a.sire),
                code(a.dam),
                a.clutch
            )
        })
        .collect();
    all.sort();
    all
}

#[test]
fn every_kind_of_fact_comes_through_the_sheets() {
    let mut drafts = every_kind();
    drafts.retain(|d| !matches!(d.fact, Fact::Retracted(_)));
    let young = AnimalId(id(4));
    let retagged =
        |code: &str| Fact::Retagged(Retagged { animal: young, code: Code::new(code).unwrap() });
    let evening = |n: u64| When::Instant(format!("2026-01-20T19:{n}:00Z").parse().unwrap());
    let again = |n: u64, like: u64| {
        let fact = every_kind().into_iter().find(|d| d.id == id(like)).unwrap().fact;
        draft(n, evening(n - 50), fact)
    };
    drafts.extend([
        // A second re-tag, another sex told later, and things of a moment instead of a day.
        draft(80, When::Day(day("2025-11-20")), retagged("M10")),
        draft(
            81,
            When::Undated,
            Fact::SexTold(SexTold {
                animal: AnimalId(id(2)),
                sex: Sex::Female,
                how: Some("popped".into()),
            }),
        ),
        again(82, 21),
        again(83, 23),
        again(84, 42),
        again(85, 43),
        again(86, 44),
    ]);
    let folder = Folder::new();
    let before = made(&folder, drafts);
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    std::fs::remove_file(format!("{out}/journal.txt")).unwrap();
    let other = Folder::new();
    let ran =
        run(&["import", &out, "--data", &other.at("data"), "--zone", "Europe/Berlin", "--yes"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let after = Store::open_read_only(Path::new(&other.at("data"))).unwrap();
    let after: Vec<Live> = after.standing().iter().cloned().collect();
    for on in ["2025-09-01", "2025-10-30", "2026-07-01"] {
        assert_eq!(animals(&before, on), animals(&after, on), "{on}");
    }
    let (before, after) = (told(&before), told(&after));
    let lost: Vec<_> = before.iter().filter(|(fact, n)| after.get(*fact) != Some(n)).collect();
    let more: Vec<_> = after.iter().filter(|(fact, n)| before.get(*fact) != Some(n)).collect();
    assert!(lost.is_empty(), "lost: {lost:#?}\nmore: {more:#?}\n{}", ran.out);
    for asked in ["feeding", "follicles", "tonight", "doubts"] {
        let args = [asked, "--on", "2026-05-01", "--json"];
        let (one, two) = (folder.ask(&args).json(), other.ask(&args).json());
        let without_held = |mut all: serde_json::Value| {
            all.as_object_mut().unwrap().remove("held");
            all
        };
        assert_eq!(without_held(one), without_held(two), "{asked}");
    }
}
