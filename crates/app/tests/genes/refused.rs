//! What cannot be true, and files that cannot be read.

use super::asked::{recessive, try_files, typed, typed_on_x};

fn refused(csv: &str, catalogue: &str) -> String {
    let ran = try_files(csv, catalogue, &[]);
    assert_eq!(ran.code, 1, "{}", ran.out);
    let as_json = try_files(csv, catalogue, &["--json"]);
    let error: serde_json::Value = serde_json::from_str(&as_json.err).unwrap();
    for key in ["error", "where", "do"] {
        assert!(!error[key].as_str().unwrap().is_empty(), "{error}");
    }
    ran.err
}

/// The records of the only clash, any of which explains it.
fn clash(csv: &str, catalogue: &str) -> Vec<String> {
    let said = refused(csv, catalogue);
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines[1], "These cannot all be true:", "{said}");
    let explained = "Any one of them, if it is wrong, explains it.";
    assert_eq!(lines[lines.len() - 2], explained, "{said}");
    lines[2..lines.len() - 2].iter().map(|line| line.trim().to_owned()).collect()
}

#[test]
fn father_11_with_child_22() {
    let csv = "id,sire,dam,m\nf,0,0,1/1\ng,0,0,1/2\nc,f,g,2/2\nd,f,g,1/2\n";
    let wanted = ["f: m 1/1 (line 2)", "c: m 2/2 (line 4)", "c: sire f (line 4)"];
    assert_eq!(clash(csv, &typed(0.2)), wanted);
}

#[test]
fn mother_11_with_son_2_on_the_x() {
    let csv = "id,sire,dam,sex,m\nf,0,0,m,2\ng,0,0,f,1/1\nc,f,g,m,2\n";
    let wanted = ["g: m 1/1 (line 3)", "c: m 2 (line 4)", "c: dam g (line 4)"];
    assert_eq!(clash(csv, &typed_on_x(0.2)), wanted);
}

#[test]
fn visual_of_two_lines_that_are_different_genes() {
    let loci = recessive(0.1) + &recessive(0.1).replace("\"g\"", "\"h\"").replace("dna", "dna h");
    let csv = "id,sire,dam,g,h,dna,dna h\nf,0,0,affected,normal,,+/+\ng,0,0,normal,affected,+/+,\n\
               c,f,g,affected,normal,,\n";
    assert_eq!(
        clash(csv, &loci),
        ["g: dna +/+ (line 3)", "c: g affected (line 4)", "c: dam g (line 4)"]
    );
}

#[test]
fn wild_young_of_a_super() {
    let csv = "id,sire,dam,m\nsuper,0,0,2/2\nwild,0,0,1/1\nc,super,wild,1/1\n";
    let wanted = ["super: m 2/2 (line 2)", "c: m 1/1 (line 4)", "c: sire super (line 4)"];
    assert_eq!(clash(csv, &typed(0.9)), wanted);
}

#[test]
fn allele_that_no_founder_can_have() {
    assert_eq!(clash("id,sire,dam,m\na,0,0,2/2\nb,0,0,\n", &typed(1.0)), ["a: m 2/2 (line 2)"]);
}

#[test]
fn young_without_a_sire_that_is_het() {
    // One gamete doubled has two copies alike (half-clones: Booth et al. 2014).
    let csv = "id,sire,dam,m\nf,0,0,1/2\nc,parthenogenesis,f,1/2\n";
    let wanted = ["c: m 1/2 (line 3)", "c: sire parthenogenesis (line 3)"];
    assert_eq!(clash(csv, &typed(0.5)), wanted);
    let kept = typed(0.5) + "[parthenogenesis]\nkept = 0.1\n";
    assert_eq!(try_files(csv, &kept, &[]).code, 0);
}

#[test]
fn two_clashes_are_told_apart() {
    let csv = "id,sire,dam,m\nf,0,0,1/1\ng,0,0,1/1\nc,f,g,2/2\nh,0,0,1/1\nd,h,0,2/2\n";
    let said = refused(csv, &typed(0.5));
    assert_eq!(said.matches("These cannot all be true:").count(), 2, "{said}");
    // Each is resolved by itself, whatever is wrong with the other.
    assert!(said.contains("Alone, one of these explains it: c: m 2/2 (line 4)."), "{said}");
    assert!(said.contains("Any one of them, if it is wrong, explains it."), "{said}");
}

#[test]
fn an_animal_that_is_its_own_ancestor() {
    let said = refused("id,sire,dam,m\na,b,0,\nb,a,0,\n", &typed(0.5));
    assert!(said.contains("its own ancestor") && said.contains("line 2"), "{said}");
}

#[test]
fn female_written_as_a_sire() {
    // As in a public ataxia sample, whose sex column and father column disagree.
    let said = refused("id,sire,dam,sex,m\n9,0,0,f,\n10,0,0,f,\n16,10,9,,\n", &typed(0.5));
    assert!(said.contains("line 4, column sire") && said.contains("10 is a sire here"), "{said}");
}

#[test]
fn words_and_files_that_nobody_can_read() {
    let said = refused("id,sire,dam,m\na,0,0,1/3\n", &typed(0.5));
    assert!(said.contains("line 2, column m") && said.contains("1/1, 1/2, 2/2"), "{said}");
    let said = refused("id,sire,dam,m\na,0,0,\n", "[[locus]\n");
    assert!(said.contains("catalogue.toml, line 1"), "{said}");
    let said = refused("id,sire,dam,m\na,0,0,\n", &typed(1.5));
    assert!(said.contains("1.5"), "{said}");
    assert!(refused("", &typed(0.5)).contains("empty"));
}
