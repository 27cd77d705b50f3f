use genetics::posterior::{Budget, Unanswered, posteriors};

use super::*;
use crate::pedigree_catalogue;
use crate::pedigree_file;
use crate::sheet::FileIn;

const FIBROSIS: &str = "[[locus]]\nname = \"cf\"\nalleles = [\"+\", \"-\"]\n\
    frequency = { \"+\" = 0.98, \"-\" = 0.02 }\n[locus.looks]\n\
    normal = { \"+/+\" = 1, \"+/-\" = 1 }\naffected = { \"-/-\" = 1 }\n";

fn joined(csv: &str, catalogue: &str) -> Result<PedigreeGenes, Vec<PedigreeProblem>> {
    let file = FileIn { name: "stud.csv".to_owned(), bytes: csv.as_bytes().to_vec() };
    let catalogue = pedigree_catalogue::read(catalogue).unwrap();
    PedigreeGenes::join(pedigree_file::read(&file)?, catalogue)
}

fn answer(genes: &PedigreeGenes) -> Result<(f64, Vec<Vec<f64>>), Unanswered> {
    let group = &genes.catalogue.groups[0];
    let asked = genes.ask(group).unwrap();
    let found = posteriors(&asked.pedigree, &group.linkage, &asked.evidence, &Budget::default())?;
    let of = |animal| asked.answered(genes, group, found.of(animal)).remove(0).chances;
    Ok((found.log10_likelihood().unwrap(), (0..genes.file.animals.len()).map(of).collect()))
}

fn clashing(genes: &PedigreeGenes) -> Vec<Vec<String>> {
    let found = genes.clashes(&genes.catalogue.groups[0], 5).unwrap();
    let said = |clash: &Clash| {
        assert_eq!(clash.records, clash.resolved_by);
        clash.records.iter().map(|record| genes.said(*record)).collect()
    };
    found.iter().map(said).collect()
}

#[test]
fn unaffected_sib_of_an_affected_is_a_carrier_with_two_thirds() {
    // Textbook; founders follow the frequencies, which does not matter here.
    let csv = "id,sire,dam,cf\na,0,0,normal\nb,0,0,normal\nc,a,b,affected\nd,a,b,normal\n";
    let (_, all) = answer(&joined(csv, FIBROSIS).unwrap()).unwrap();
    assert!((all[3][1] - 2.0 / 3.0).abs() < 1e-12);
    assert!((all[0][1] - 1.0).abs() < 1e-12);
}

#[test]
fn each_unknown_parent_is_a_founder_of_its_own() {
    let one = joined("id,sire,dam,cf\na,0,0,affected\nb,a,0,affected\nc,a,,affected\n", FIBROSIS);
    let genes = one.unwrap();
    let asked = genes.ask(&genes.catalogue.groups[0]).unwrap();
    assert_eq!(asked.pedigree.len(), 5);
    let (log10, _) = answer(&genes).unwrap();
    // Each young one needs the allele of an unrelated dam.
    assert!((log10 - (0.02_f64.powi(4)).log10()).abs() < 1e-12);
}

#[test]
fn an_inbred_founder_has_its_coefficient() {
    // Founder with F = .25: 11 with .25p + .75p², 12 with .75 2pq (Vigeland, R package pedprobr,
    // its own tests).
    let catalogue = "[[locus]]\nname = \"m\"\nalleles = [\"1\", \"2\"]\nfrequency = { 1 = 0.3 }\n\
                     [founders]\ninbreeding = \"F\"\n";
    let log10 = |m: &str| {
        answer(&joined(&format!("id,sire,dam,m,F\na,0,0,{m},\"0,25\"\n"), catalogue).unwrap())
            .unwrap()
            .0
    };
    assert!((10_f64.powf(log10("1/1")) - (0.25 * 0.3 + 0.75 * 0.09)).abs() < 1e-14);
    assert!((10_f64.powf(log10("1/2")) - 0.75 * 0.42).abs() < 1e-14);
    let refused = |row: &str| {
        joined(&format!("id,sire,dam,m,F\na,0,0,,\nb,a,,,{row}\n"), catalogue).unwrap_err()
    };
    assert!(refused("0.25")[0].why.contains("has parents"));
    assert!(refused("x")[0].why.contains("no inbreeding coefficient"));
}

#[test]
fn genotypes_that_do_not_live_are_left_out() {
    // Yellow mice: two of three young of two yellows are yellow (Castle & Little 1910).
    let catalogue = "[[locus]]\nname = \"a\"\nalleles = [\"Y\", \"+\"]\nfrequency = { Y = 0.1 }\n\
                     viability = { \"Y/Y\" = 0 }\n";
    let csv = "id,sire,dam,a\na,0,0,Y/+\nb,0,0,Y/+\nc,a,b,\n";
    let (_, all) = answer(&joined(csv, catalogue).unwrap()).unwrap();
    assert_eq!(all[2][0], 0.0);
    assert!((all[2][1] - 2.0 / 3.0).abs() < 1e-12);
}

/// By hand: q = .1, and who lives among founders carries with 2q / (1 + q) = 2/11. How many young stand
/// there says nothing; a young carrier is 2/3 of those that live with such a mate and 1/2 with another.
#[test]
fn young_that_live_speak_as_those_that_live() {
    let catalogue = "[[locus]]\nname = \"a\"\nalleles = [\"+\", \"l\"]\nfrequency = { l = 0.1 }\n\
                     viability = { \"l/l\" = 0 }\n";
    let csv = "id,sire,dam,a\na,0,0,+/l\nb,0,0,\nc,a,b,\nd,a,b,\ne,a,b,\nf,a,b,\n";
    let (log10, all) = answer(&joined(csv, catalogue).unwrap()).unwrap();
    assert!((all[1][1] - 2.0 / 11.0).abs() < 1e-12, "{:?}", all[1]);
    assert!((10_f64.powf(log10) - 2.0 / 11.0).abs() < 1e-12);
    let young = 2.0 / 11.0 * 2.0 / 3.0 + 9.0 / 11.0 / 2.0;
    assert!((all[2][1] - young).abs() < 1e-12);
    let csv = csv.replace("c,a,b,\n", "c,a,b,+/l\n");
    let (_, all) = answer(&joined(&csv, catalogue).unwrap()).unwrap();
    assert!((all[1][1] - 4.0 * 2.0 / (4.0 * 2.0 + 3.0 * 9.0)).abs() < 1e-12);
}

/// Where every egg stands in the file, what died is a look of its own: four that lived of a carrier are
/// (3/4)^4 as likely with a carrier as with another.
#[test]
fn where_the_dead_are_told_of_life_is_a_look() {
    let catalogue = "[[locus]]\nname = \"a\"\nalleles = [\"+\", \"l\"]\nfrequency = { l = 0.1 }\n\
                     [locus.looks]\nlived = { \"+/+\" = 1, \"+/l\" = 1 }\ndied = { \"l/l\" = 1 }\n\
                     [[observation]]\ncolumn = \"a test\"\nlocus = \"a\"\nerror = 0.0\n";
    let csv = "id,sire,dam,a,a test\na,0,0,lived,+/l\nb,0,0,lived,\nc,a,b,lived,\nd,a,b,lived,\n\
               e,a,b,lived,\nf,a,b,lived,\n";
    let (_, all) = answer(&joined(csv, catalogue).unwrap()).unwrap();
    let carrier = 2.0 * 0.75_f64.powi(4);
    assert!((all[1][1] - carrier / (carrier + 9.0)).abs() < 1e-12, "{:?}", all[1]);
}

#[test]
fn words_nobody_explained_are_refused_by_line() {
    let said = joined("id,sire,dam,cf,mass\na,0,0,white,5\nb,0,0,normal,\n", FIBROSIS).unwrap_err();
    assert_eq!(
        said[0].to_string(),
        "line 2, column cf: \"white\" of a is not in the catalogue. Write one of: affected, normal; or \
         nothing where it is not known."
    );
    let genes = joined("id,sire,dam,mass\na,0,0,5\n", FIBROSIS).unwrap();
    assert_eq!(
        genes.notes,
        [
            "The column mass is not read: the catalogue does not name it.",
            "The file has no column cf: nothing is seen there."
        ]
    );
}

#[test]
fn records_that_clash_are_the_fewest() {
    let csv = "id,sire,dam,cf\na,0,0,affected\nb,0,0,affected\nc,a,b,normal\nd,a,b,affected\ne,c,,normal\n";
    let genes = joined(csv, FIBROSIS).unwrap();
    assert!(matches!(answer(&genes), Err(Unanswered::Impossible { .. })));
    assert_eq!(
        clashing(&genes),
        [[
            "a: cf affected (line 2)",
            "b: cf affected (line 3)",
            "c: cf normal (line 4)",
            "c: sire a (line 4)",
            "c: dam b (line 4)"
        ]]
    );
}

#[test]
fn a_son_shows_what_his_dam_lacks() {
    // X-linked: mother 11, son 2.
    let catalogue = "[[locus]]\nname = \"x\"\nalleles = [\"1\", \"2\"]\nfrequency = { 1 = 0.3 }\n\
                     [[sex_linked]]\nlocus = \"x\"\ny_copy = false\n";
    let csv = "id,sire,dam,sex,x\nf,0,0,m,1\ng,0,0,f,1/1\ns,f,g,m,2\n";
    let genes = joined(csv, catalogue).unwrap();
    assert_eq!(clashing(&genes), [["g: x 1/1 (line 3)", "s: x 2 (line 4)", "s: dam g (line 4)"]]);
}

/// X-linked, lethal in males before they breed, one affected son, b normal brothers of his dam and s
/// normal sons more. Carriers are 4 mu, for 2 mu come new in each generation and half are lost (Haldane
/// 1935, from memory): her odds are 2 mu (1 + 2^-b) / 2 * 2^-s to mu, which is (2^b + 1) : 2^(b+s).
///
/// As read, the formula of Bridge 1997, Table A.5, has 2^s for the last 2^b of the denominator. That is no
/// share of the two: one normal son more would make 2/3 into 2/5, where he halves odds of 2 to 1.
#[test]
fn an_isolated_case_may_be_a_new_mutation() {
    let rate = 1e-7;
    let catalogue = format!(
        "[[locus]]\nname = \"x\"\nalleles = [\"+\", \"l\"]\nfrequency = {{ l = {} }}\n\
         mutation = [{{ from = \"+\", to = \"l\", rate = {rate} }}]\n\
         [[sex_linked]]\nlocus = \"x\"\ny_copy = false\n",
        2.0 * rate
    );
    let chance = |b: usize, s: usize| {
        let mut csv =
            "id,sire,dam,sex,x\ng,0,0,m,+\nh,0,0,f,\nd,g,h,f,\nm,0,0,m,+\na,m,d,m,l\n".to_owned();
        (0..b).for_each(|i| csv += &format!("b{i},g,h,m,+\n"));
        (0..s).for_each(|i| csv += &format!("s{i},m,d,m,+\n"));
        answer(&joined(&csv, &catalogue).unwrap()).unwrap().1[2][1]
    };
    for (b, s) in [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (2, 1), (2, 3)] {
        let two = |n: usize| 2_f64.powi(i32::try_from(n).unwrap());
        let wanted = (two(b) + 1.0) / (two(b + s) + two(b) + 1.0);
        assert!((chance(b, s) - wanted).abs() < 1e-5, "{b} {s}: {} {wanted}", chance(b, s));
    }
    // The textbook's: two thirds.
    assert!((chance(0, 0) - 2.0 / 3.0).abs() < 1e-5);
}

/// One allele in a hundred changes: of a dam without it all sons show it that often, a daughter of such
/// a dam and sire carries one copy with 2 x .01 x .99.
#[test]
fn what_is_passed_on_changes_at_its_rate() {
    let locus = "[[locus]]\nname = \"m\"\nalleles = [\"1\", \"2\"]\nfrequency = { 1 = 0.5 }\n\
                 mutation = [{ from = \"1\", to = \"2\", rate = 0.01 }]\n";
    let csv = "id,sire,dam,m\na,0,0,1/1\nb,0,0,1/1\nc,a,b,\nd,parthenogenesis,b,\n";
    let (_, all) = answer(&joined(csv, locus).unwrap()).unwrap();
    for (found, wanted) in all[2].iter().zip([0.99 * 0.99, 2.0 * 0.01 * 0.99, 0.01 * 0.01]) {
        assert!((found - wanted).abs() < 1e-12, "{:?}", all[2]);
    }
    assert!((all[3][2] - 0.01).abs() < 1e-12 && all[3][1] == 0.0, "{:?}", all[3]);
    for wrong in ["to = \"3\", rate = 0.1", "to = \"1\", rate = 0.1", "to = \"2\", rate = 2.0"] {
        let refused = pedigree_catalogue::read(&locus.replace("to = \"2\", rate = 0.01", wrong));
        assert!(refused.is_err(), "{wrong}");
    }
}
