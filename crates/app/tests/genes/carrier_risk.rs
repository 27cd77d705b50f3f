//! Chances that an animal carries a recessive, by Bayes.

use super::asked::{Answer, exactly, printed, recessive, typed_on_x};

const HEAD: &str = "id,sire,dam,sex,g,dna\n";
/// Two normal parents of an affected one, and its normal sib `c`.
const SIB: &str = "p,0,0,m,normal,\nq,0,0,f,normal,\na,p,q,,affected,\nc,p,q,f,normal,\n";
/// `c` out of a proven het and a proven non-carrier.
const HALF: &str = "p,0,0,m,,+/-\nq,0,0,f,,+/+\nc,p,q,f,normal,\n";
/// `c` out of the sib of an affected one and a proven non-carrier.
const THIRD: &str = "p,0,0,m,normal,\nq,0,0,f,normal,\na,p,q,,affected,\nb,p,q,m,normal,\n\
    n,0,0,f,,+/+\nc,b,n,f,normal,\n";

/// Chance that `c` is het after normal young with a mate of that genotype.
fn after(family: &str, mate: &str, young: usize) -> f64 {
    let mut csv = format!("{HEAD}{family}mate,0,0,m,,{mate}\n");
    (0..young).for_each(|i| csv += &format!("y{i},mate,c,,normal,\n"));
    Answer::of(&csv, &recessive(0.01)).het("c")
}

#[test]
fn unaffected_sib_of_a_recessive_homozygote() {
    // Textbook.
    exactly(after(SIB, "+/+", 0), 2.0 / 3.0);
}

#[test]
fn sib_of_an_affected_with_a_recessive_mate() {
    // Standard Bayes: 1 / (1 + 2^(k-1)).
    let table =
        [0.666_667, 0.5, 0.333_333, 0.2, 0.111_111, 0.058_824, 0.030_303, 0.015_385, 0.007_752];
    for (k, wanted) in table.into_iter().enumerate() {
        printed(after(SIB, "-/-", k), wanted, 6);
    }
}

#[test]
fn child_of_a_het_with_a_recessive_mate() {
    // Bridge 1997: 1 / (1 + 2^k). Three normal: 1/9, as posed in Ogino & Wilson 2004, J Mol Diagn 6:1.
    for (k, wanted) in [2.0, 3.0, 5.0, 9.0, 17.0, 33.0, 65.0].into_iter().enumerate() {
        exactly(after(HALF, "-/-", k), 1.0 / wanted);
    }
}

#[test]
fn daughter_of_a_carrier_with_normal_sons() {
    // X-linked; the same formula.
    for (k, wanted) in [2.0, 3.0, 5.0, 9.0, 17.0, 33.0, 65.0].into_iter().enumerate() {
        let mut csv = "id,sire,dam,sex,m\nf,0,0,m,1\ng,0,0,f,1/2\nc,f,g,f,\nh,0,0,m,1\n".to_owned();
        (0..k).for_each(|i| csv += &format!("s{i},h,c,m,1\n"));
        exactly(Answer::of(&csv, &typed_on_x(0.9)).chance("c", "m", "1/2"), 1.0 / wanted);
    }
}

#[test]
fn grandchild_with_a_third_and_a_recessive_mate() {
    for (k, wanted) in [0.333_333, 0.2, 0.111_111, 0.058_824, 0.030_303].into_iter().enumerate() {
        printed(after(THIRD, "-/-", k), wanted, 6);
    }
}

#[test]
fn sib_of_an_affected_with_a_proven_het() {
    // 2 (3/4)^k / (2 (3/4)^k + 1).
    let table = [
        0.666_667, 0.6, 0.529_412, 0.457_627, 0.387_560, 0.321_854, 0.262_514, 0.210_714, 0.166_823,
    ];
    for (k, wanted) in table.into_iter().enumerate() {
        printed(after(SIB, "+/-", k), wanted, 6);
    }
}

#[test]
fn child_of_a_het_with_a_proven_het() {
    let table =
        [0.5, 0.428_571, 0.36, 0.296_703, 0.240_356, 0.191_792, 0.151_088, 0.117_764, 0.091_002];
    for (k, wanted) in table.into_iter().enumerate() {
        printed(after(HALF, "+/-", k), wanted, 6);
    }
}

#[test]
fn daughter_of_a_carrier_with_normal_grandsons_through_one_daughter() {
    // Bridge 1997: (2^n + 1) / (3 2^n + 1).
    let table = [(1.0, 2.0), (3.0, 7.0), (5.0, 13.0), (9.0, 25.0), (17.0, 49.0), (33.0, 97.0)];
    for (n, (above, below)) in table.into_iter().enumerate() {
        let mut csv = "id,sire,dam,sex,m\nf,0,0,m,1\ng,0,0,f,1/2\nc,f,g,f,\nh,0,0,m,1\nd,h,c,f,\n\
                       i,0,0,m,1\n"
            .to_owned();
        (0..n).for_each(|k| csv += &format!("s{k},i,d,m,1\n"));
        exactly(Answer::of(&csv, &typed_on_x(0.9)).chance("c", "m", "1/2"), above / below);
    }
}

#[test]
fn sib_of_an_affected_with_an_unrelated_mate() {
    // (2/3) c (1/4), c being how many normal-looking ones are carriers; 1/132 and 1/150.
    for (carriers, wanted) in [(22.0, 132.0), (25.0, 150.0)] {
        let c: f64 = 1.0 / carriers;
        let csv = format!("{HEAD}{SIB}mate,0,0,m,normal,\ny,mate,c,,,\n");
        let risk = Answer::of(&csv, &recessive(c / (2.0 - c))).chance("y", "g", "-/-");
        exactly(risk, 1.0 / wanted);
    }
}

#[test]
fn sib_of_an_affected_with_a_first_cousin() {
    let csv = format!(
        "{HEAD}a,0,0,m,,\nb,0,0,f,,\nc,a,b,f,normal,\nd,a,b,m,normal,\ne,0,0,m,normal,\n\
         f,0,0,f,normal,\nsib,e,c,,affected,\ng,e,c,f,normal,\nh,d,f,m,normal,\ny,h,g,,,\n"
    );
    // 1/24; other carriers next to none.
    printed(Answer::of(&csv, &recessive(1e-9)).chance("y", "g", "-/-"), 0.041_666_67, 8);
}

#[test]
fn normal_man_of_unknown_genotype() {
    // E. A. Thompson, course notes, examples 2 and 3: q = 1/4.
    let csv = format!("{HEAD}w,0,0,f,,+/-\nm,0,0,m,normal,\ny,m,w,,,\n");
    let one = Answer::of(&csv, &recessive(0.25));
    exactly(one.chance("m", "g", "+/+"), 0.6);
    exactly(one.het("m"), 0.4);
    for (genotype, wanted) in [("+/+", 0.4), ("+/-", 0.5), ("-/-", 0.1)] {
        exactly(one.chance("y", "g", genotype), wanted);
    }
    let csv = format!("{HEAD}w,0,0,f,normal,\nm,0,0,m,normal,\ny,m,w,,,\n");
    let both = Answer::of(&csv, &recessive(0.25));
    for (genotype, wanted) in [("+/+", 0.64), ("+/-", 0.32), ("-/-", 0.04)] {
        exactly(both.chance("y", "g", genotype), wanted);
    }
}

#[test]
fn three_affected_children_of_a_parent_in_doubt() {
    // Class notes: Dd or dd with 1/2, mate dd, three children dd: 1/9 for Dd.
    let csv = format!(
        "{HEAD}a,0,0,m,,+/-\nb,0,0,f,affected,\nc,a,b,f,,\nmate,0,0,m,affected,\n\
         x,mate,c,,affected,\ny,mate,c,,affected,\nz,mate,c,,affected,\n"
    );
    exactly(Answer::of(&csv, &recessive(0.1)).het("c"), 1.0 / 9.0);
}

#[test]
fn tree_of_known_founders() {
    // Rosalind, exercise on genetic trees: ((((Aa,aa),(Aa,Aa)),((aa,aa),(aa,AA))),Aa).
    let csv = format!(
        "{HEAD}a,0,0,,,+/-\nb,0,0,,,-/-\nc,0,0,,,+/-\nd,0,0,,,+/-\ne,0,0,,,-/-\nf,0,0,,,-/-\n\
         g,0,0,,,-/-\nh,0,0,,,+/+\ni,0,0,,,+/-\nab,a,b,,,\ncd,c,d,,,\nef,e,f,,,\ngh,g,h,,,\n\
         abcd,ab,cd,,,\nefgh,ef,gh,,,\nj,abcd,efgh,,,\ny,j,i,,,\n"
    );
    let answer = Answer::of(&csv, &recessive(0.3));
    for (genotype, wanted) in [("+/+", 5.0 / 32.0), ("+/-", 0.5), ("-/-", 11.0 / 32.0)] {
        exactly(answer.chance("y", "g", genotype), wanted);
    }
}
