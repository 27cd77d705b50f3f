//! The looks of a pair: what fits the wish first, what is not known, why chances are what they are.

use records::facts::{Added, Laid, Weighed};
use records::{AnimalId, Code, Fact, Sex};
use units::{Grams, When};

use crate::chances::{ask, plan, said};
use crate::room::{day, draft, drafts, room, serve};
use crate::wire::{get, post};

/// Two hets of clown give one clown in four, in whatever else it comes (Mendel 1866).
#[test]
fn what_fits_the_wish_comes_first_and_is_marked() {
    let room = room();
    let many = "pastel enchi fire mojave leopard het clown";
    let page = ask(&room, &[("her", many), ("him", "spotnose het clown"), ("wish", "clown")]);
    let text = said(&page);
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words}: {text}"));
    assert!(at("Looks that fit the wish") < at("The likeliest others"), "{text}");
    let first = &text[at("Looks that fit the wish")..at("The likeliest others")];
    assert!(first.matches("fits the wish").count() >= 12, "{first}");
    let others = &text[at("The likeliest others")..at("rarer looks")];
    assert!(!others.contains("fits the wish") && others.contains("normal"), "{others}");
    assert!(text.contains("of them fit the wish"), "{text}");
    let egg = page.body.split("<svg").nth(1).unwrap().split("</svg>").next().unwrap();
    assert!(egg.contains("class=\"fits\"") && egg.contains(", fits the wish"), "{egg}");

    let none = said(&ask(&room, &[("her", "pastel"), ("him", "enchi"), ("wish", "clown")]));
    assert!(
        none.contains("No look fits the wish") && none.contains("Cannot bring clown."),
        "{none}"
    );
}

/// Mendel (1866) and the binomial: of 6 eggs of two hets a quarter is 1.5; 81 % of all hatch (Morrill
/// et al. 2011), so 1.2 clowns, and none with (1 - .81/4)^6 = .2572.
#[test]
fn the_clutch_is_drawn_and_told_egg_by_egg() {
    let room = room();
    let page =
        ask(&room, &[("her", "het clown"), ("him", "het clown"), ("eggs", "6"), ("wish", "clown")]);
    let text = said(&page);
    for words in [
        "About 6.0 fertile eggs, of which about 4.9 hatch.",
        "1.5 eggs 1.2 hatch none: 25.7 %",
        "About 1.2 hatchlings fit; the chance that none does: 25.7 %.",
        "Of fertile eggs 81 % are taken to hatch: the 81 % of a large collection",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let nest = page.body.split("nest-eggs").nth(1).unwrap().split("</svg>").next().unwrap();
    assert_eq!(nest.matches("class=\"shell\"").count(), 6, "{nest}");
    assert!(nest.contains("1.2 clown; ") && nest.contains("1.1 that do not hatch"), "{nest}");
    let sexes =
        said(&ask(&room, &[("her", "normal"), ("him", "banana male maker"), ("eggs", "10")]));
    assert!(sexes.contains("hatch: 3.8 sons, 0.2 daughters"), "{sexes}");
    let many = ask(&room, &[("her", "pastel"), ("him", "enchi"), ("eggs", "100")]);
    assert!(!many.body.contains("nest-eggs"), "a hundred eggs are not drawn");
}

#[test]
fn what_nobody_knows_is_said_in_list_egg_and_sums() {
    let room = room();
    let page = ask(&room, &[("her", "spider"), ("him", "champagne"), ("wish", "champagne")]);
    let text = said(&page);
    for words in [
        "champagne spider not known whether it hatches",
        "Of the fertile eggs 75 % can hatch, as far as genes decide it; of 25 % more it is not known whether they hatch.",
        "said to be not viable or severe, not known whether it hatches (25 %)",
        "normal 25 % 1 in 4 of hatchlings 25 % to 33.3 %",
        "1.7 eggs 0 to 1.4 hatch none:",
        "% or more",
        "of which about 4.1 to 5.5 hatch",
        "as it is not known whether all of them hatch",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(
        page.body
            .contains("champagne spider 25\u{a0}%, fits the wish, not known whether it hatches")
    );
    assert!(page.body.contains("fill=\"url(#unknown-laid)\""), "{}", page.body);
    let sure = said(&ask(&room, &[("her", "pastel"), ("him", "champagne")]));
    assert!(!sure.contains("not known whether"), "{sure}");
}

#[test]
fn none_of_equals_is_called_the_likeliest() {
    let room = crate::room::room_with("M2", Some("leopard pastel enchi"));
    let text = said(&ask(&room, &[("her", "normal")]));
    assert!(
        text.contains("8 looks, each 1 in 8: normal, enchi, enchi leopard and 5 more."),
        "{text}"
    );
    let text = said(&ask(&room, &[("her", "pastel het clown")]));
    let equals = "Most likely 4 looks, each 1 in 8: enchi leopard pastel, enchi pastel, leopard pastel, pastel; 12 looks in all.";
    assert!(text.contains(equals), "{text}");
}

/// Hardy (1908), Weinberg (1908): with an allele frequency of .01 two copies have .01 / 1.99.
#[test]
fn a_chance_off_the_round_one_says_why() {
    let room = room();
    let text = said(&ask(&room, &[("her", "het clown"), ("him", "pinstripe het clown")]));
    assert!(text.contains("37.7 %") && text.contains("37.3 %"), "{text}");
    let why = "He shows pinstripe, and one copy or two look alike: two are reckoned with a chance of 0.5 %";
    assert!(text.contains(why), "{text}");
    let text = said(&ask(&room, &[("her", "het clown"), ("him", "pastel het clown")]));
    assert!(!text.contains("two are reckoned"), "{text}");
}

#[test]
fn her_own_clutches_tell_how_many_eggs() {
    let (mut all, ids) = drafts();
    let female = AnimalId(ids[0].1);
    for (on, eggs, slugs) in [("2023-05-01", 8, 0), ("2024-05-01", 9, 2), ("2025-05-01", 9, 0)] {
        let slugs = Some(slugs);
        let laid = Laid {
            female,
            sire: None,
            clutch: None,
            eggs: Some(eggs),
            slugs,
            mass: None,
            kept: None,
        };
        all.push(draft(When::Day(day(on)), Fact::Laid(laid)));
    }
    let room = serve(all, ids);
    let text = said(&ask(&room, &[("her", "F1"), ("him", "M1"), ("wish", "clown")]));
    let why = "Reckoned for 7.4 fertile eggs on average, 4 to 11 with a chance of 80 %: her 3 clutches so far had 8, 7 and 9, drawn towards the usual 6.8.";
    assert!(text.contains(why), "{text}");
    let text = said(&ask(&room, &[("her", "F2")]));
    assert!(text.contains("the usual clutch, as none of hers is counted yet."), "{text}");
    let text = said(&ask(&room, &[("her", "F1"), ("him", "M1"), ("eggs", "5")]));
    assert!(text.contains("Reckoned for a clutch of 5 fertile eggs."), "{text}");
}

#[test]
fn small_males_are_reckoned_when_asked_for() {
    let (mut all, ids) = drafts();
    let mut added = Added::with_code(Code::new("H7").unwrap());
    added.sex = Some(Sex::Male);
    added.genes = Some("albino".into());
    let added = draft(When::Day(day("2025-08-01")), Fact::Added(added));
    let animal = AnimalId(added.id);
    all.push(added);
    let mass = Grams::new(90.0).unwrap();
    all.push(draft(When::Day(day("2026-01-01")), Fact::Weighed(Weighed { animal, mass })));
    let room = serve(all, ids);
    let page = ask(&room, &[("her", "F1")]);
    assert!(!said(&page).contains("H7"), "{}", said(&page));
    assert!(page.body.contains("small=1#small"), "{}", page.body);
    assert!(said(&page).contains("Reckon 1 male not of breeding size too"));
    let text = said(&ask(&room, &[("her", "F1"), ("small", "1")]));
    assert!(text.contains("1 male not of breeding size") && text.contains("H7"), "{text}");
}

#[test]
fn a_pair_is_ruled_out_by_a_button_and_brought_back_by_undo() {
    let room = room();
    // M2 had a night with F3, which plans the pair.
    let pair = ask(&room, &[("her", "F3"), ("him", "M2")]);
    assert!(said(&pair).contains("first choice, by their night"), "{}", said(&pair));
    let saved = plan(&room, &pair, &[("choice", "never"), ("weight", "")]);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let page = get(room.at, saved.header("location").unwrap());
    let text = said(&page);
    assert!(text.contains("pair ruled out: F3 and M2") && text.contains("M2: ruled out"), "{text}");
    let list = said(&ask(&room, &[("her", "F3")]));
    assert!(list.contains("Ruled out") && !list.contains("Planned,"), "{list}");
    let tonight = said(&get(room.at, "/"));
    assert!(tonight.contains("M2 with her is ruled out"), "{tonight}");
    let undo = ["record", "target", "kind"].map(|n| (n, page.field(n)));
    let undo: Vec<(&str, &str)> = undo.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    let text = said(&ask(&room, &[("her", "F3"), ("him", "M2")]));
    assert!(text.contains("first choice, by their night"), "{text}");
}

#[test]
fn a_code_that_nobody_bears_is_said_to_be_nobodys() {
    let room = room();
    let page = ask(&room, &[("her", "F1"), ("him", "M3")]);
    let text = said(&page);
    assert!(text.contains("No animal is called M3 on 10 February"), "{text}");
    assert!(text.contains("Meant: F3 M1 M2"), "near codes: {text}");
    assert!(page.body.contains("him=M1"), "each is a link: {}", page.body);
    assert!(!text.contains("add the gene"), "{text}");
    let text = said(&ask(&room, &[("her", "F1"), ("him", "clwnish")]));
    assert!(!text.contains("No animal is called"), "{text}");
}

/// Sentences are joined from parts that may end with a mark of their own.
#[test]
fn no_sentence_ends_twice() {
    let room = room();
    let page = ask(&room, &[("her", "F3")]);
    for genes in ["xyzzy", "clwn", "het", "axanthic", "66%", "pastl or"] {
        let refused = plan(&room, &page, &[("choice", "first"), ("carrying", genes)]);
        let (text, asked) = (said(&refused), said(&ask(&room, &[("her", genes), ("wish", genes)])));
        for twice in ["?.", "..", "!.", ".?", "?:", ",."] {
            assert!(!text.contains(twice), "{twice} for {genes}: {text}");
            assert!(!asked.contains(twice), "{twice} for {genes}: {asked}");
        }
    }
}
