//! Chances of a pair from labels alone.

use answers::pair_chances::{PairChances, pair_chances};
use genetics::chances::ClutchSize;
use sheets::catalogue_file::builtin;
use sheets::shorthand::{read, target};

fn chances(sire: &str, dam: &str, wish: Option<&str>, eggs: Option<usize>) -> PairChances {
    let label = |text: &str| read(text, builtin()).settled().unwrap();
    let wish = wish.map(|text| target::read(text, builtin()).unwrap());
    let clutch = eggs.map_or_else(ClutchSize::usual, |n| ClutchSize::fixed(n).unwrap());
    pair_chances(builtin(), (&label(sire), &label(dam)), wish.as_ref(), &clutch, 200).unwrap()
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} is not {b}");
}

fn chance(answer: &PairChances, look: &[&str]) -> f64 {
    answer.looks.iter().find(|l| l.look == look).map_or(0.0, |l| l.chance)
}

/// Mendel (1866): two hybrids of two characters give 9:3:3:1, of three 27:9:9:9:3:3:3:1.
#[test]
fn hidden_characters_come_out_in_mendels_ratios() {
    let both = "het clown het albino";
    let answer = chances(both, both, None, None);
    for (look, of16) in
        [(&[][..], 9.0), (&["clown"], 3.0), (&["albino"], 3.0), (&["albino", "clown"], 1.0)]
    {
        close(chance(&answer, look), of16 / 16.0);
    }
    let three = "het clown het albino het piebald";
    let answer = chances(three, three, None, None);
    assert_eq!(answer.n_looks, 8);
    close(chance(&answer, &[]), 27.0 / 64.0);
    close(chance(&answer, &["albino", "clown", "piebald"]), 1.0 / 64.0);
    close(answer.looks.iter().map(|l| l.chance).sum(), 1.0);
}

/// A sib of a recessive homozygote that does not show it carries it with 2/3 (textbook): so does a
/// normal-looking young of two hets.
#[test]
fn a_normal_young_of_two_hets_carries_with_two_thirds() {
    let answer = chances("het clown", "het clown", None, None);
    let normal = answer.looks.iter().find(|l| l.look.is_empty()).unwrap();
    assert_eq!(normal.hets[0].0, "clown");
    close(normal.hets[0].1, 2.0 / 3.0);
}

/// 1-(1-p)^n from tables of the binomial distribution, four digits.
#[test]
fn at_least_one_follows_the_tables() {
    let of = |sire: &str, dam: &str, wish: &str, eggs: usize| {
        chances(sire, dam, Some(wish), Some(eggs)).wish.unwrap().at_least_one
    };
    let both = "het clown het albino";
    for (eggs, quarter, sixteenth) in
        [(1, 0.25, 0.0625), (4, 0.6836, 0.2275), (7, 0.8665, 0.3635), (12, 0.9683, 0.5390)]
    {
        assert!((of("het clown", "het clown", "clown", eggs) - quarter).abs() < 5e-5);
        assert!((of(both, both, "clown and albino", eggs) - sixteenth).abs() < 5e-5);
    }
    // A clutch shares the unknown genotype of its parent: 2/3 (1 - .5^6), not 1 - (2/3)^6.
    close(of("clown", "66% het clown", "clown", 6), 0.65625);
}

/// Where two copies do not live, one copy is seen in 2 of 3 that hatch (Castle and Little 1910 for
/// yellow mice); for spider this is common practice, no source.
#[test]
fn what_does_not_live_is_counted_as_laid_and_not_as_hatched() {
    let answer = chances("spider", "spider", Some("spider"), Some(1));
    close(answer.hatching, 0.75);
    let wish = answer.wish.unwrap();
    close(wish.per_egg, 0.5);
    close(wish.per_hatchling.unwrap(), 2.0 / 3.0);
    let fits = |look: &[&str]| answer.looks.iter().find(|l| l.look == look).unwrap().fits;
    assert_eq!(fits(&["spider"]), Some(1.0));
    assert_eq!(fits(&["super spider"]), Some(0.0), "it never hatches");
    assert_eq!(fits(&[]), Some(0.0));
}

/// The share of each look that fits adds up to the chance of the wish itself.
#[test]
fn shares_that_fit_add_up_to_the_wish() {
    for wish in
        ["het clown", "no clown", "pastel and (clown or het albino)", "super pastel or spider"]
    {
        let (sire, dam) = ("pastel spider 66% het clown", "pastel spider het clown het albino");
        let answer = chances(sire, dam, Some(wish), None);
        let sum: f64 = answer.looks.iter().map(|l| l.chance * l.fits.unwrap()).sum();
        assert!((sum - answer.wish.unwrap().per_egg).abs() < 1e-12, "{wish}: {sum}");
    }
    let plain = chances("pastel", "clown", None, None);
    assert!(plain.looks.iter().all(|l| l.fits.is_none()));
}

#[test]
fn trade_names_stand_beside_looks_that_are_exactly_so() {
    let answer = chances("pastel", "spider", None, None);
    let combo = |look: &[&str]| answer.looks.iter().find(|l| l.look == look).unwrap().combo.clone();
    assert_eq!(combo(&["pastel", "spider"]).as_deref(), Some("bumblebee"));
    assert_eq!(combo(&["pastel"]), None);
}

/// Every look is tried one by one: the slow way, against the search by the wish's own loci.
#[test]
fn looks_that_fit_a_wish_are_found_however_rare_they_are() {
    let (sire, dam) = (
        "pastel enchi spider pinstripe het clown het albino",
        "fire mojave champagne 66% het clown het albino",
    );
    for wish in ["clown", "albino and (clown or spider)", "no pastel and clown", "het clown"] {
        let all = chances_of(sire, dam, wish, 100_000);
        let expected: Vec<_> =
            all.looks.iter().filter(|l| l.fits.unwrap() > 0.0).cloned().collect();
        assert!(all.n_looks as usize == all.looks.len() && expected.len() > 30, "{wish}");
        assert_eq!(all.n_fitting, expected.len() as u128, "{wish}");
        let few = chances_of(sire, dam, wish, 20);
        assert_eq!(few.fitting.len(), 20);
        assert_eq!(few.n_fitting, all.n_fitting);
        for (found, expected) in few.fitting.iter().zip(&expected) {
            close(found.chance, expected.chance);
            assert!(found.fits.unwrap() > 0.0, "{wish}: {:?}", found.look);
        }
    }
    assert_eq!(chances("pastel", "pastel", Some("clown"), None).n_fitting, 0);
}

fn chances_of(sire: &str, dam: &str, wish: &str, most: usize) -> PairChances {
    let label = |text: &str| read(text, builtin()).settled().unwrap();
    let wish = target::read(wish, builtin()).unwrap();
    let labels = (&label(sire), &label(dam));
    pair_chances(builtin(), labels, Some(&wish), &ClutchSize::usual(), most).unwrap()
}

/// Champagne with spider is said to be not viable or severe (common practice, suspected): it stays
/// among what can hatch, and what is not known of it is told everywhere.
#[test]
fn what_is_only_said_not_to_live_is_told_as_not_known() {
    let answer = chances("spider", "champagne", Some("spider"), Some(1));
    close(answer.hatching, 1.0);
    close(answer.unknown, 0.25);
    let unknown = |look: &[&str]| answer.looks.iter().find(|l| l.look == look).unwrap().unknown;
    close(unknown(&["champagne", "spider"]), 1.0);
    close(unknown(&["champagne"]), 0.0);
    let wish = answer.wish.unwrap();
    close(wish.per_egg, 0.5);
    close(wish.unknown, 0.25);
    close(wish.at_least_one, 0.5);
    close(wish.at_least_one_known, 0.25);
    // Two copies of either never hatch: of those that are both, 2/3 x 2/3 can.
    let answer = chances("spider champagne", "spider champagne", None, None);
    close(answer.hatching, 9.0 / 16.0);
    close(answer.unknown, 0.25);
    let answer = chances("pastel spider", "clown", None, None);
    close(answer.unknown, 0.0);
}

/// Of a dominant with allele frequency q, two copies have the chance q / (2 - q): Hardy (1908),
/// Weinberg (1908).
#[test]
fn a_look_that_does_not_tell_its_copies_is_named() {
    let answer = chances("pinstripe het clown", "het clown", None, None);
    let [shown] = answer.copies.as_slice() else { panic!("{:?}", answer.copies) };
    assert_eq!(
        (shown.parent(), shown.look.as_str(), shown.is_one_gene),
        ("sire", "pinstripe", true)
    );
    close(shown.two_copies, 0.01 / 1.99);
    assert!(chances("pastel het clown", "super enchi", None, None).copies.is_empty());
}
