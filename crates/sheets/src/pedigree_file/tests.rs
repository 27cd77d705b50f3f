use super::*;

fn file(text: &str) -> FileIn {
    FileIn { name: "stud.csv".to_owned(), bytes: text.as_bytes().to_vec() }
}

fn refused(text: &str) -> Vec<String> {
    read(&file(text)).unwrap_err().iter().map(ToString::to_string).collect()
}

#[test]
fn rows_in_any_order_with_observations() {
    let text =
        "id;sire;dam;sex;clown;Mass\n7;M 1;F1;f;affected;\nM 1;0;;1.0;;1,5\nF1;-;?;;normal\n";
    let pedigree = read(&file(text)).unwrap();
    assert_eq!(pedigree.columns, ["clown", "Mass"]);
    assert_eq!(pedigree.column("CLOWN"), Some(0));
    let [young, sire, dam] = pedigree.animals.as_slice() else { panic!("three animals") };
    assert_eq!((young.sire, young.dam, young.sex), (Some(1), Some(2), Some(Sex::Female)));
    assert_eq!((young.line, young.id.as_str()), (Some(2), "7"));
    assert_eq!((sire.sire, sire.dam, sire.sex), (None, None, Some(Sex::Male)));
    assert_eq!(
        (dam.sex, dam.cells.as_slice()),
        (Some(Sex::Female), &["normal".into(), String::new()][..])
    );
    assert!(pedigree.notes.is_empty());
}

#[test]
fn a_parent_without_a_row_becomes_a_founder() {
    let pedigree = read(&file("dam,sire,id\nF1,M1,a\nF1,M1,b\n")).unwrap();
    let ids: Vec<&str> = pedigree.animals.iter().map(|a| a.id.as_str()).collect();
    assert_eq!(ids, ["a", "b", "M1", "F1"]);
    assert_eq!(pedigree.animals[1].sire, Some(2));
    assert_eq!(pedigree.animals[3].sex, Some(Sex::Female));
    assert_eq!(pedigree.notes[1], "F1 (line 2) has no row of its own and is taken as a founder.");
}

#[test]
fn young_of_a_female_alone() {
    let pedigree = read(&file("id,sire,dam,sex\na,Parthenogenesis,F1,\n")).unwrap();
    assert!(pedigree.animals[0].is_alone && pedigree.animals[0].sire.is_none());
    assert_eq!(pedigree.animals.len(), 2);
    let said = refused("id,sire,dam,sex\na,parthenogenesis,0,\nb,parthenogenesis,F1,m\n");
    assert!(said[0].starts_with("line 2, column dam: Without a sire"), "{said:?}");
    assert!(said[1].starts_with("line 3, column sex: Young of a female alone"), "{said:?}");
}

#[test]
fn sexes_of_linkage_files_are_numbers() {
    let pedigree = read(&file("id,father,mother,sex\n1,0,0,1\n2,0,0,2\n3,1,2,0\n")).unwrap();
    let sexes: Vec<_> = pedigree.animals.iter().map(|a| a.sex).collect();
    assert_eq!(sexes, [Some(Sex::Male), Some(Sex::Female), None]);
}

/// A slip seen in a public copy of the Habsburg pedigree: two children of Charles II of Austria stand
/// under Charles II of Spain.
#[test]
fn habsburg_with_two_charleses_mixed_up_is_a_circle() {
    let said = refused(
        "id,sire,dam\nMarg,Ch2,MA1\nFe2,Ch2,MA1\nFe3,Fe2,MA2\nPh4,Ph3,Marg\nMA3,Ph3,Marg\n\
         Mariana,Fe3,MA3\nCh2,Ph4,Mariana\n",
    );
    assert_eq!(
        said,
        [
            "line 2: An animal is its own ancestor: Marg (line 2) is young of Ch2 (line 8), young of \
             Ph4 (line 5), young of Marg (line 2). Correct a parent in one of these lines."
        ]
    );
}

#[test]
fn sexes_that_clash_are_refused_by_line() {
    let said = refused("id,sire,dam,sex\n9,0,0,2\n10,0,0,2\n16,10,9,1\n17,9,16,\n");
    assert_eq!(
        said,
        [
            "line 4, column sire: 10 is a sire here, but line 3 calls it female. Correct the parent, \
             or the sex.",
            "line 5, column sire: 9 is a sire here and a dam in line 4. Correct the parent in one of \
             the two lines.",
            "line 5, column dam: 16 is a dam here, but line 4 calls it male. Correct the parent, or \
             the sex.",
        ]
    );
}

#[test]
fn ids_that_cannot_be_are_refused_by_line() {
    let said = refused("id,sire,dam,sex\na,0,0,\na,0,0,\n,0,0,\n0,0,0,\nb,b,0,\nc,A,0,x,5\n");
    assert_eq!(said.len(), 6, "{said:#?}");
    assert!(said[0].starts_with("line 3, column id: a has a row already, line 2."));
    assert!(said[1].starts_with("line 4, column id: The animal has no id."));
    assert!(said[2].starts_with("line 5, column id: \"0\" stands for an unknown parent"));
    assert!(said[3].starts_with("line 6, column sire: b is written as its own parent."));
    assert!(said[4].starts_with("line 7: There are more cells than the 4 headings."));
    assert!(said[5].starts_with("line 7, column sex: \"x\" is no word for a sex."));
    let near = refused("id,sire,dam\nM01,0,0\nb,m01,0\n");
    assert_eq!(
        near,
        [
            "line 3, column sire: m01 has no row, but line 2 has M01. Write the id the same way in both lines."
        ]
    );
}

#[test]
fn headings_that_are_missing_or_doubled_are_refused() {
    assert_eq!(
        refused("animal,father\n1,2\n"),
        [
            "No column is headed dam. Begin the file with a line of headings: id,sire,dam,sex and any others."
        ]
    );
    assert!(refused("id,sire,dam,father\n1,0,0,0\n")[0].contains("Two columns are headed father"));
    assert!(refused("id,sire,dam,cf,CF\n1,0,0,,\n")[0].contains("Two columns are headed CF"));
    assert!(refused("")[0].contains("empty"));
}

proptest::proptest! {
    #[test]
    fn any_text_ends(text in "(id,sire,dam,sex\n)?([0-4a],[0-4a],[0-4b],[mf12]\n|[\",;\n]){0,9}") {
        let _ = read(&file(&text));
    }
}
