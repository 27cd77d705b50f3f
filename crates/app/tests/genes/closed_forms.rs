//! Likelihoods that have a formula: Vigeland, R package pedprobr, its own tests.
//!
//! p is the frequency of allele 1, q of 2.

use super::asked::{Answer, exactly, likelihood, try_files, typed, typed_on_x};

const PS: [f64; 3] = [0.1, 0.2, 0.3];

/// Likelihood of rows of `id,sire,dam,sex,m`, an autosomal locus.
#[track_caller]
fn auto(rows: &str, wanted: impl Fn(f64, f64) -> f64) {
    for p in PS {
        exactly(likelihood(&format!("id,sire,dam,sex,m\n{rows}"), &typed(p)), wanted(p, 1.0 - p));
    }
}

/// The same on the X.
#[track_caller]
fn on_x(rows: &str, wanted: impl Fn(f64, f64) -> f64) {
    for p in PS {
        exactly(
            likelihood(&format!("id,sire,dam,sex,m\n{rows}"), &typed_on_x(p)),
            wanted(p, 1.0 - p),
        );
    }
}

#[test]
fn nothing_seen() {
    auto("f,0,0,,\ng,0,0,,\nc,f,g,,\n", |_, _| 1.0);
    auto("a,0,0,,\nb,0,0,,\nc,a,b,,\nd,a,b,,\ne,c,d,,\nf,c,e,,\n", |_, _| 1.0);
    on_x("a,0,0,,\nb,0,0,,\nc,a,b,,\nd,a,b,,\ne,c,d,,\nf,c,e,,\n", |_, _| 1.0);
    on_x("a,0,0,m,\nb,0,0,f,\nc,a,b,m,\nd,a,b,f,\n", |_, _| 1.0);
}

#[test]
fn trio() {
    let rows = |f: &str, g: &str, c: &str| format!("f,0,0,,{f}\ng,0,0,,{g}\nc,f,g,,{c}\n");
    auto(&rows("1/1", "", ""), |p, _| p * p);
    auto(&rows("1/2", "", ""), |p, q| 2.0 * p * q);
    auto(&rows("", "", "1/1"), |p, _| p * p);
    auto(&rows("", "", "2/1"), |p, q| 2.0 * p * q);
    auto(&rows("1/1", "2/2", ""), |p, q| p * p * q * q);
    auto(&rows("1/1", "2/2", "1/2"), |p, q| p * p * q * q);
    auto(&rows("1/2", "1/2", "1/2"), |p, q| 2.0 * p * p * q * q);
    auto(&rows("1/2", "", "1/2"), |p, q| p * q);
    auto("f,0,0,,1/2\nc,f,0,,1/2\n", |p, q| p * q);
    let never =
        try_files(&format!("id,sire,dam,sex,m\n{}", rows("1/1", "", "2/2")), &typed(0.2), &[]);
    assert_eq!(never.code, 1, "{}", never.out);
}

#[test]
fn two_full_sibs() {
    auto("f,0,0,,\ng,0,0,,\na,f,g,,2/2\nb,f,g,,2/2\n", |_, q| q * q * (1.0 + q).powi(2) / 4.0);
    // p = .2: .5184.
    let sibs = "id,sire,dam,m\nf,0,0,\ng,0,0,\na,f,g,2/2\nb,f,g,2/2\n";
    exactly(likelihood(sibs, &typed(0.2)), 0.5184);
}

#[test]
fn three_generations() {
    let rows = "4,0,0,,1/2\n5,0,0,,\n6,0,0,,\n7,0,0,,1/2\n1,4,5,,\n2,6,7,,\n3,1,2,,1/2\n";
    auto(rows, |p, q| (2.0 * p * q).powi(2) * (3.0 / 8.0 + p * q / 2.0));
    exactly(likelihood(&format!("id,sire,dam,sex,m\n{rows}"), &typed(0.2)), 728.0 / 15_625.0);
}

#[test]
fn child_of_full_sibs() {
    let rows = |c: &str| format!("f,0,0,,\ng,0,0,,\na,f,g,,\nb,f,g,,\nc,a,b,,{c}\n");
    auto(&rows("1/1"), |p, _| p / 4.0 + 0.75 * p * p);
    auto(&rows("1/2"), |p, q| 0.75 * 2.0 * p * q);
}

#[test]
fn mother_who_is_a_grandmother_too() {
    let rows = "1,0,0,,\n2,0,0,,\n3,1,2,,\n4,1,2,,\n5,4,3,,\n6,5,3,,1/1\n";
    auto(rows, |p, q| p * p + 0.375 * p * q);
}

#[test]
fn child_of_half_sibs() {
    let rows = |c: &str| format!("1,0,0,,\n2,0,0,,\n3,0,0,,\n4,1,2,,\n5,1,3,,\n6,4,5,,{c}\n");
    auto(&rows("1/1"), |p, q| p * p + p * q / 8.0);
    auto(&rows("1/2"), |p, q| 2.0 * p * q * 7.0 / 8.0);
}

#[test]
fn trio_on_the_x() {
    let son = |f: &str, g: &str, c: &str| format!("f,0,0,m,{f}\ng,0,0,f,{g}\nc,f,g,m,{c}\n");
    let daughter = |f: &str, g: &str, c: &str| format!("f,0,0,m,{f}\ng,0,0,f,{g}\nc,f,g,f,{c}\n");
    on_x(&son("1", "", ""), |p, _| p);
    on_x(&son("", "1/2", ""), |p, q| 2.0 * p * q);
    on_x(&son("", "", "1"), |p, _| p);
    on_x(&son("1", "2/2", ""), |p, q| p * q * q);
    on_x(&son("", "2/2", "2"), |_, q| q * q);
    on_x(&daughter("1", "1/2", "1/2"), |p, q| p * 2.0 * p * q / 2.0);
    on_x(&daughter("1", "", "1/2"), |p, q| p * q);
    // A parent without a row, and one that nobody named.
    on_x("f,0,0,m,1\nc,f,g,f,1/2\n", |p, q| p * q);
    on_x("f,0,0,m,1\nc,f,0,f,1/2\n", |p, q| p * q);
    on_x("g,0,0,f,2/2\nc,0,g,m,2\n", |_, q| q * q);
    let never = format!("id,sire,dam,sex,m\n{}", son("", "1/1", "2"));
    assert_eq!(try_files(&never, &typed_on_x(0.2), &[]).code, 1);
}

#[test]
fn brothers_and_sisters_on_the_x() {
    on_x("f,0,0,m,\ng,0,0,f,\na,f,g,m,1\nb,f,g,m,1\n", |p, _| p * (1.0 + p) / 2.0);
    on_x("f,0,0,m,\ng,0,0,f,\na,f,g,f,1/1\nb,f,g,f,1/1\n", |p, _| p * p * (1.0 + p) / 2.0);
}

#[test]
fn half_sibs_through_their_mother_on_the_x() {
    let rows = "1,0,0,f,\n2,0,0,m,\n3,0,0,m,\n4,2,1,m,1\n5,3,1,f,\n6,4,5,m,1\n";
    on_x(rows, |p, q| p * p + p * q / 4.0);
}

#[test]
fn founder_with_an_inbreeding_coefficient() {
    let with = |m: &str, p: f64| {
        let catalogue = typed(p) + "[founders]\ninbreeding = \"F\"\n";
        likelihood(&format!("id,sire,dam,m,F\na,0,0,{m},0.25\n"), &catalogue)
    };
    for p in PS {
        exactly(with("1/1", p), 0.25 * p + 0.75 * p * p);
        exactly(with("1/2", p), 0.75 * 2.0 * p * (1.0 - p));
    }
}

#[test]
fn two_loci_of_one_typed_animal_say_nothing_about_recombination() {
    for r in [0.0, 0.1, 0.5] {
        let catalogue = format!(
            "{}{}[[linkage]]\nloci = [\"m\", \"n\"]\nrecombination = {{ male = {r}, female = {r} }}\n",
            typed(0.2),
            typed(0.3).replace("\"m\"", "\"n\"")
        );
        let csv = "id,sire,dam,m,n\nf,0,0,,\ng,0,0,,\nc,f,g,1/2,2/2\n";
        exactly(likelihood(csv, &catalogue), 0.32 * 0.49);
    }
}

#[test]
fn father_of_a_known_child() {
    for p in PS {
        let answer = Answer::of("id,sire,dam,m\nf,0,0,\ng,0,0,\nc,f,g,2/2\n", &typed(p));
        exactly(answer.chance("f", "m", "1/2"), p);
        exactly(answer.chance("f", "m", "2/2"), 1.0 - p);
        let csv = "id,sire,dam,sex,m\nf,0,0,m,\ng,0,0,f,\nc,f,g,f,2/2\n";
        let answer = Answer::of(csv, &typed_on_x(p));
        exactly(answer.chance("f", "m", "2"), 1.0);
        assert_eq!(answer.genes("f")["m"].as_object().unwrap().len(), 2);
    }
}
