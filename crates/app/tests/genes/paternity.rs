//! Two pedigrees compared: a man is the father, or somebody unknown is.

use super::asked::{likelihood, printed, try_files, typed, typed_on_x};

/// A locus with these frequencies, all other alleles as one.
fn locus(name: &str, frequencies: &[(&str, f64)]) -> String {
    let names: Vec<String> = frequencies.iter().map(|(a, _)| format!("\"{a}\"")).collect();
    let said: Vec<String> = frequencies.iter().map(|(a, f)| format!("\"{a}\" = {f}")).collect();
    format!(
        "[[locus]]\nname = \"{name}\"\nalleles = [{}, \"other\"]\nfrequency = {{ {} }}\n",
        names.join(", "),
        said.join(", ")
    )
}

/// Likelihood ratio; mother may be unknown.
fn ratio(columns: &str, mother: Option<&str>, child: &str, man: &str, catalogue: &str) -> f64 {
    let (dam, row) = mother.map_or(("0", String::new()), |m| ("m", format!("m,0,0,{m}\n")));
    let csv =
        |sire: &str| format!("id,sire,dam,{columns}\n{row}f,0,0,{man}\nc,{sire},{dam},{child}\n");
    likelihood(&csv("f"), catalogue) / likelihood(&csv("0"), catalogue)
}

#[test]
fn trio_of_the_justice_institute() {
    // National Institute of Justice, DNA training, paternity statistics: four loci; the page cuts its
    // digits off.
    let rest = 0.05;
    let catalogue = [
        locus("a", &[("15", rest), ("16", 0.2315)]),
        locus("b", &[("17", 0.2627), ("18", 0.2219), ("20", rest)]),
        locus("c", &[("21", rest), ("23", 0.1581), ("25", rest), ("27", rest)]),
        locus("d", &[("14", rest), ("18", 0.0918), ("20", rest)]),
    ];
    let cases = [
        ("a", "16/16", "16/16", "15/16", 2.1598),
        ("b", "17/18", "17/18", "18/20", 1.0317),
        ("c", "25/27", "23/25", "21/23", 3.1625),
        ("d", "14/18", "18/18", "18/20", 5.4466),
    ];
    for ((column, mother, child, man, wanted), catalogue) in cases.into_iter().zip(&catalogue) {
        let found = ratio(column, Some(mother), child, man, catalogue);
        assert!((0.0..1e-4).contains(&(found - wanted)), "{column}: {found}");
    }
    let joined =
        |of: fn(&(&'static str, &'static str, &'static str, &'static str, f64)) -> &'static str| {
            cases.iter().map(of).collect::<Vec<_>>().join(",")
        };
    let (columns, mother) = (joined(|c| c.0), joined(|c| c.1));
    let (child, man) = (joined(|c| c.2), joined(|c| c.3));
    let whole = ratio(&columns, Some(&mother), &child, &man, &catalogue.concat());
    printed(whole, 38.385_841, 6);
    // Posterior at prior 1/2 (Essen-Möller 1938).
    printed(whole / (whole + 1.0), 0.974_610, 6);
}

#[test]
fn homozygous_man_and_child() {
    // Egeland, Kling & Mostad, example 2.1: 20, and 200 with a second locus; the duo alone also in
    // Vigeland's R package forrel, its own tests.
    let a = locus("a", &[("A", 0.05)]);
    printed(ratio("a", None, "A/A", "A/A", &a), 20.0, 9);
    let both = a + &locus("b", &[("a", 0.1)]);
    printed(ratio("a,b", None, "A/A,a/a", "A/A,a/a", &both), 200.0, 8);
}

#[test]
fn table_of_ratios() {
    // The cells of the standard table; i, j, k, l differ.
    let p = [("i", 0.1), ("j", 0.2), ("k", 0.25), ("l", 0.15)];
    let [pi, pj, ..] = p.map(|(_, f)| f);
    let table = locus("a", &p);
    let cases = [
        ("i/j", "i/i", "i/i", 1.0 / pi),
        ("i/j", "i/i", "i/j", 0.5 / pi),
        ("i/j", "i/j", "i/i", 1.0 / (pi + pj)),
        ("i/j", "i/j", "i/j", 1.0 / (pi + pj)),
        ("i/j", "i/j", "j/k", 0.5 / (pi + pj)),
        ("i/k", "i/j", "j/j", 1.0 / pj),
        ("i/k", "i/j", "j/l", 0.5 / pj),
    ];
    for (mother, child, man, wanted) in cases {
        printed(ratio("a", Some(mother), child, man, &table), wanted, 10);
    }
}

#[test]
fn random_man_is_excluded() {
    // Vigeland's R package forrel, its own tests; p = .1: 2p²q² = .0162, on the X pq = .09 for a
    // daughter and nothing for a son.
    let pair = |man: &str, sex: &str, child: &str| {
        format!("id,sire,dam,sex,m\nf,0,0,m,{man}\nc,0,0,{sex},{child}\n")
    };
    let fits = |csv: &str, catalogue: &str| {
        try_files(&csv.replace("c,0,0", "c,f,0"), catalogue, &[]).code == 0
    };
    let excluded = |men: &[&str], sex: &str, children: &[&str], catalogue: &str| -> f64 {
        let mut sum = 0.0;
        for man in men {
            for child in children {
                let csv = pair(man, sex, child);
                if !fits(&csv, catalogue) {
                    sum += likelihood(&csv, catalogue);
                }
            }
        }
        sum
    };
    let genotypes = ["1/1", "1/2", "2/2"];
    printed(excluded(&genotypes, "m", &genotypes, &typed(0.1)), 0.0162, 12);
    printed(excluded(&["1", "2"], "m", &["1", "2"], &typed_on_x(0.1)), 0.0, 12);
    printed(excluded(&["1", "2"], "f", &genotypes, &typed_on_x(0.1)), 0.09, 12);
}

#[test]
fn young_with_two_alike_everywhere_speaks_for_no_sire() {
    // Both copies from one gamete: 1/2 at each locus where the dam is het; with a sire p/2. By hand.
    let catalogue =
        locus("a", &[("i", 0.1), ("j", 0.2)]) + &locus("b", &[("k", 0.25), ("l", 0.15)]);
    let csv = |sire: &str| format!("id,sire,dam,a,b\nm,0,0,i/j,k/l\nc,{sire},m,i/i,l/l\n");
    let ratio = likelihood(&csv("parthenogenesis"), &catalogue) / likelihood(&csv("0"), &catalogue);
    printed(ratio, 1.0 / (0.1 * 0.15), 9);
}
