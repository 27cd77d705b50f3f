//! The journal of the made-up room: what a visitor finds on its evening.

use std::collections::{BTreeSet, HashSet};
use std::fs::File;
use std::io::BufReader;
use std::path::PathBuf;

use answers::Phase;
use answers::tonight::{Asking, in_grams};
use records::colony::Presence;
use records::doubts::doubts;
use records::words::{PlannedMale, Sex};
use records::{Animal, AsOf, Colony, DoubtKind, Fact};
use units::Day;

use crate::program::run;

pub(crate) fn evening() -> Day {
    "2026-02-13".parse().unwrap()
}

pub(crate) fn store() -> (tempfile::TempDir, store::Store) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..").join("demo/journal.jsonl");
    let text = BufReader::new(File::open(path).unwrap());
    let folder = tempfile::tempdir().unwrap();
    let store = store::Store::create_from_text(&folder.path().join("room"), text).unwrap();
    (folder, store)
}

fn colony(store: &store::Store) -> Colony {
    let zone = store.zone().unwrap();
    Colony::fold(&store.standing(), &zone, AsOf::evening_of(evening(), &zone))
}

fn of_breeding_size(colony: &Colony, sex: Sex, least: f64) -> usize {
    let fits = |animal: &&Animal| {
        animal.presence(evening()) == Presence::InHouse
            && animal.sex() == Some(sex)
            && animal.last_weight().is_some_and(|w| w.what.get() >= least)
    };
    colony.animals.iter().filter(fits).count()
}

#[test]
fn twelve_males_forty_females_and_three_finished_seasons() {
    let (_folder, store) = store();
    let colony = colony(&store);
    assert_eq!(of_breeding_size(&colony, Sex::Male, 500.0), 12);
    assert_eq!(of_breeding_size(&colony, Sex::Female, 1500.0), 40);
    for year in [2023, 2024, 2025] {
        let laid = colony.clutches.iter().filter(|c| c.laid.is_some_and(|d| d.year() == year));
        assert!(laid.count() >= 12, "clutches of {year}");
    }
    // Everything that is written had happened by the evening.
    let zone = store.zone().unwrap();
    let all = Colony::fold(&store.standing(), &zone, AsOf::end_of_time());
    assert_eq!(all.records.len(), colony.records.len());
    assert!(store.verify().unwrap().findings.is_empty());
}

#[test]
fn only_the_two_slips_made_on_purpose_are_doubts() {
    let (_folder, store) = store();
    let found: Vec<_> = doubts(&colony(&store)).into_iter().map(|d| (d.kind, d.what)).collect();
    let kinds: Vec<DoubtKind> = found.iter().map(|(kind, _)| *kind).collect();
    assert_eq!(kinds, [DoubtKind::AfterLeaving, DoubtKind::FedTwice], "{found:?}");
}

#[test]
fn the_shorthand_of_every_animal_is_read_without_a_question() {
    let (_folder, store) = store();
    let catalogue = sheets::catalogue_file::builtin();
    let mut texts = BTreeSet::new();
    for record in store.records() {
        match &record.draft.fact {
            Fact::Added(f) => texts.extend(f.genes.clone()),
            Fact::Looked(f) => {
                texts.insert(f.look.clone());
            }
            _ => {}
        }
    }
    assert!(texts.len() > 100, "{} labels", texts.len());
    for text in texts {
        let reading = sheets::shorthand::read(&text, catalogue);
        assert!(reading.questions.is_empty(), "{text}: {reading:?}");
        let words: Vec<String> = reading.remarks.iter().map(|r| r.words.to_lowercase()).collect();
        assert!(words.iter().all(|word| word == "normal"), "{text}: {words:?}");
    }
}

#[test]
fn the_evening_has_something_of_everything() {
    let (_folder, store) = store();
    let colony = colony(&store);
    let females = answers::follicles(&colony, &answers::RoomForecasts::usual());
    let count = |phase: Phase| females.iter().filter(|f| f.phase == phase).count();
    assert!(count(Phase::Resting) >= 5 && count(Phase::Building) >= 15);
    for phase in [Phase::Ovulated, Phase::Shed, Phase::Laid, Phase::Resorbed, Phase::Unchecked] {
        assert!((1..=4).contains(&count(phase)), "{} {phase:?}", count(phase));
    }
    // Building females in each of the four bands.
    let building = females.iter().filter(|f| f.phase == Phase::Building);
    let sizes: Vec<f64> = building.filter_map(|f| Some(f.size.as_ref()?.median.get())).collect();
    for (low, high) in [(10.0, 17.0), (17.0, 27.0), (27.0, 36.0), (36.0, 99.0)] {
        assert!(sizes.iter().any(|s| low <= *s && *s < high), "{low}-{high}: {sizes:?}");
    }
}

#[test]
fn tonight_has_moves_with_reasons_and_males_to_choose_from() {
    let (_folder, store) = store();
    let colony = colony(&store);
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    let tonight = answers::tonight(&colony, &answers::RoomForecasts::usual(), &asking);
    assert!(tonight.moves.len() >= 6, "{} moves", tonight.moves.len());
    assert!(tonight.moves.iter().all(|m| !m.reason.is_empty() && !m.facts.is_empty()));
    assert!(tonight.done.is_empty(), "nobody is placed yet");
    assert_eq!(tonight.left_alone.len(), 1, "one pair is still locked");
    let placed = tonight.moves.iter().map(|m| m.female);
    let left = tonight.left_out.iter().filter(|l| l.in_need).map(|l| l.female);
    let needy: Vec<usize> = placed.chain(left).collect();
    let two = needy.iter().filter(|female| eligible(&colony, **female) >= 2).count();
    assert!(3 * two >= needy.len(), "{two} of {} needy females have two males", needy.len());
}

#[test]
fn its_sheets_alone_come_in_again_with_the_same_answers() {
    let (folder, store) = store();
    let at = |name: &str| folder.path().join(name).display().to_string();
    drop(store);
    let (room, sheets, again) = (at("room"), at("sheets"), at("again"));
    assert_eq!(run(&["export", &sheets, "--data", &room]).code, 0);
    std::fs::remove_file(folder.path().join("sheets/journal.txt")).unwrap();
    let zone = "Europe/Prague";
    assert_eq!(run(&["import", &sheets, "--data", &again, "--zone", zone, "--yes"]).code, 0);
    let ask = |question: &str, data: &str| {
        run(&[question, "--data", data, "--on", "2026-02-13", "--json"])
    };
    for question in ["follicles", "tonight"] {
        let (before, after) = (ask(question, &room).out, ask(question, &again).out);
        assert!(before.len() > 1000 && before == after, "{question}");
    }
    let doubts = |data: &str| {
        let answer = ask("doubts", data).json();
        let all = answer["doubts"].as_array().unwrap().clone();
        all.iter().map(|d| d["what"].to_string()).collect::<Vec<_>>()
    };
    assert_eq!(doubts(&room), doubts(&again));
}

/// The shape of `learned --json` as docs/json.md has it, and that it agrees with the words.
#[test]
fn what_its_records_say_is_told_in_json_as_in_words() {
    let (folder, store) = store();
    drop(store);
    let data = folder.path().join("room");
    let data = data.to_str().unwrap();
    let ask = |json: &[&str]| {
        let args = [&["learned", "--data", data, "--on", "2026-02-13"], json].concat();
        run(&args)
    };
    let told = ask(&["--json"]).json();
    let all = told["questions"].as_array().unwrap();
    let ids: Vec<&str> = all.iter().map(|q| q["id"].as_str().unwrap()).collect();
    assert_eq!(
        ids,
        [
            "growth_food",
            "growth_lock",
            "repeat_laying",
            "lock_rates",
            "slugs_male",
            "slugs_heat",
            "hatch_rate",
            "wait_ovulation",
            "wait_sooner"
        ]
    );
    let words = ask(&[]).out;
    let mut looks = 0;
    for question in all {
        assert!(words.contains(question["sentence"].as_str().unwrap()), "{question}");
        let apart = question["rows"].as_array().unwrap().iter().filter(|r| !r["apart"].is_null());
        let apart = apart.count();
        looks += usize::from(!question["effect"].is_null()) + apart;
    }
    assert_eq!(told["looks"], looks);
    let wait = &all[7];
    assert_eq!((wait["verdict"].as_str(), wait["effect"].is_null()), (Some("told"), true));
    let steps = wait["curve"]["steps"].as_array().unwrap();
    let share = |at: usize| steps[at]["share"].as_f64().unwrap();
    assert!((1..steps.len()).all(|at| share(at - 1) < share(at)));
    let half = wait["curve"]["half"]["days"].as_f64().unwrap();
    assert!(wait["sentence"].as_str().unwrap().contains(&format!("{half:.0} days")));
    assert!(all[0]["curve"].is_null());
}

/// Males planned for her this season that are in the house, well and heavy enough.
fn eligible(colony: &Colony, female: usize) -> usize {
    let opens = colony.season().opens();
    let planned = colony.planned.iter().filter(|p| p.day >= opens);
    let own = planned.filter(|p| colony.place_of(p.what.female) == Some(female));
    let males: HashSet<usize> = own
        .filter_map(|p| match p.what.male {
            PlannedMale::Animal(id) => colony.place_of(id),
            PlannedMale::Carrying(_) => None,
        })
        .filter(|male| {
            let male = &colony.animals[*male];
            male.presence(evening()) == Presence::InHouse
                && male.last_weight().is_some_and(|w| w.what.get() >= 500.0)
                && Animal::under_way(&male.quarantine).is_none()
                && Animal::under_way(&male.treatment).is_none()
        })
        .collect();
    males.len()
}

/// The genes nobody wrote down, against what is worked out from what was written. Labels of this room
/// are true as often as they say; nothing in it is missed. About as many carry as are expected to:
/// within four standard errors, eight young of a clutch reckoned as one.
#[test]
fn what_its_animals_carry_fits_the_hidden_truth() {
    let (_folder, store) = store();
    let mut colony = colony(&store);
    let trusted = ("100".to_owned(), store.records()[0].id());
    colony.settings.insert("het_claims_trusted".to_owned(), trusted);
    let catalogue = sheets::catalogue_file::builtin();
    let chances = answers::GeneBook::new(catalogue).answer(&colony, &web::read_label);
    assert!(chances.loci.iter().all(|locus| locus.clash.is_none()));
    let truth = testkit::season_room::room(25).truth;
    // A clutch is written down with the male who was with her last, and is another's in truth.
    let is_anothers = |place: usize| {
        let of = |(code, key): &(String, Option<usize>)| {
            let clutch = colony.clutches.iter().find(|c| c.code.as_deref() == Some(code))?;
            let written = colony.animals[place].sire.map(|sire| colony.code(sire).to_owned());
            let true_sire = key.map(|key| truth.codes[key].clone());
            (clutch.young.contains(&place) && written.is_some()).then_some(written != true_sire)
        };
        truth.sires.iter().find_map(of).unwrap_or(false)
    };
    let (mut n, mut expected, mut found, mut spread) = (0, 0.0, 0.0, 0.0);
    let mut n_anothers = 0;
    for (code, genes) in truth.codes.iter().zip(&truth.genotypes) {
        let records::colony::Bearer::One(place) = colony.bearer(code, Some(evening())) else {
            continue;
        };
        if is_anothers(place) {
            n_anothers += 1;
            continue;
        }
        for gene in ["clown", "piebald", "hypo", "albino"] {
            let has = genes.split(gene).count() > 1;
            let p = chances.carries(place, catalogue.gene(gene).unwrap()).get();
            assert!(p > 0.0 || !has, "{code} has {gene}: {genes}");
            assert!(p < 1.0 - 1e-9 || has, "{code} has no {gene}: {genes}");
            if (0.02..0.98).contains(&p) {
                (n, expected, spread) = (n + 1, expected + p, spread + p * (1.0 - p));
                found += f64::from(u8::from(has));
            }
        }
    }
    assert!(n > 100 && n_anothers < 12, "{n} {n_anothers}");
    let error: f64 = (8.0 * spread).sqrt();
    assert!((found - expected).abs() < 4.0 * error, "{found} of {expected}, {n} chances");
}
