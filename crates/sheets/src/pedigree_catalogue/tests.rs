use super::*;

fn refused(text: &str) -> Vec<String> {
    read(text).unwrap_err().iter().map(ToString::to_string).collect()
}

const LOCUS: &str =
    "[[locus]]\nname = \"cf\"\nalleles = [\"+\", \"-\"]\nfrequency = { \"-\" = 0.02 }\n";

#[test]
fn every_kind_of_entry_is_read() {
    let catalogue = read(
        r#"
        [[locus]]
        name = "md"
        alleles = ["D", "d"]
        frequency = { D = 1e-5, d = 0.99999 }
        viability = { "D/D" = 0 }
        [locus.looks]
        A = { "D/D" = 1, "d/D" = 0.9 }
        N = { "D/d" = 0.1, "d/d" = 1 }
        [[locus]]
        name = "se"
        alleles = ["1", "2", "3"]
        frequency = { 1 = 0.2, 2 = 0.3, 3 = 0.5 }
        [[locus]]
        name = "cg"
        alleles = ["+", "c"]
        frequency = { "+" = 0.9, "c" = 0.1 }
        [locus.looks]
        glow = { "+/c" = 1, "c/c" = 1 }
        "glow at last" = { "+|c" = 0.5 }
        [[linkage]]
        loci = ["md", "se"]
        recombination = { male = 0.08, female = 0.1 }
        [[sex_linked]]
        locus = "cg"
        y_copy = true
        recombination_male = 0.05
        [[observation]]
        column = "md test"
        locus = "md"
        error = 0.02
        [founders]
        inbreeding = "F"
        "#,
    )
    .unwrap();
    let [md, se, cg] = catalogue.loci.as_slice() else { panic!("three loci") };
    assert_eq!(md.viability, [0.0, 1.0, 1.0]);
    assert_eq!(
        se.genotypes.iter().map(|g| se.spelled(*g)).collect::<Vec<_>>(),
        ["1/1", "1/2", "1/3", "2/2", "2/3", "3/3"]
    );
    assert_eq!(cg.every_spelling(), "+/+, +/c, c/c, +|+, +|c, c|+, c|c");
    let groups: Vec<&[usize]> = catalogue.groups.iter().map(|g| g.loci.as_slice()).collect();
    assert_eq!(groups, [&[0, 1][..], &[2]]);
    let seen = |column: &str, cell: &str| {
        let found = catalogue.observations.iter().find(|o| o.column == column).unwrap();
        found.of_cell(cell, &catalogue.loci[found.locus])
    };
    assert_eq!(seen("md", "A"), Some(vec![1.0, 0.9, 0.0]));
    assert_eq!(seen("md", "n"), Some(vec![0.0, 0.1, 1.0]));
    assert_eq!(seen("md", ""), Some(vec![1.0; 3]));
    assert_eq!(seen("md", "X"), None);
    assert_eq!(seen("md test", "d/D"), Some(vec![0.01, 0.98, 0.01]));
    assert_eq!(seen("se", "3/1"), Some(vec![0.0, 0.0, 1.0, 0.0, 0.0, 0.0]));
    // "+|c" is named, so it does not look as "+/c" does; the others of males look like females.
    assert_eq!(seen("cg", "glow"), Some(vec![0.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.0]));
    assert_eq!(seen("cg", "glow at last"), Some(vec![0.0, 0.0, 0.0, 0.0, 0.5, 0.0, 0.0]));
    assert_eq!(catalogue.inbreeding.as_deref(), Some("F"));
}

#[test]
fn a_male_with_one_copy_looks_like_two_of_it_unless_it_is_said() {
    let text = format!(
        "{LOCUS}[locus.looks]\naffected = {{ \"-/-\" = 1 }}\n[[sex_linked]]\nlocus = \"cf\"\ny_copy = false\n"
    );
    let catalogue = read(&text).unwrap();
    let found = catalogue.observations[0].of_cell("affected", &catalogue.loci[0]);
    assert_eq!(catalogue.loci[0].every_spelling(), "+/+, +/-, -/-, +, -");
    assert_eq!(found, Some(vec![0.0, 0.0, 1.0, 0.0, 1.0]));
}

#[test]
fn distances_on_a_map_become_recombination() {
    // Two lists of the sample pedigree of myotonic dystrophy and secretor (Lange et al. 2013,
    // Bioinformatics 29:1568): .0871766936 Morgan is a recombination of .08.
    let two = format!("{LOCUS}{}", LOCUS.replace("cf", "se"));
    let with = |line: &str| read(&format!("{two}[[linkage]]\nloci = [\"cf\", \"se\"]\n{line}\n"));
    let young = |text: &str| with(text).unwrap().groups[0].linkage.young(4, 0).to_vec();
    let by_map = young("centimorgan = 8.71766936\nmap = \"haldane\"");
    for ((a, p), (b, q)) in by_map.iter().zip(young("recombination = 0.08")) {
        assert!(*a == b && (p - q).abs() < 1e-9);
    }
    assert!(with("centimorgan = 8\nmap = \"kosambi\"").is_ok());
    for bad in [
        "",
        "centimorgan = 8",
        "recombination = 0.6",
        "recombination = [0.1, 0.1]",
        "centimorgan = -1\nmap = \"haldane\"",
        "recombination = 0.1\nmap = \"haldane\"",
    ] {
        assert!(with(bad).is_err(), "{bad}");
    }
}

#[test]
fn what_is_wrong_is_named_with_its_place_and_remedy() {
    let said = refused("[[locus]]\nname = \"cf\"\nallels = []\n");
    assert!(said[0].starts_with("line 3: unknown field `allels`"), "{said:?}");
    let said = refused(&format!("{LOCUS}[locus.looks]\naffected = {{ \"-/x\" = 1.5 }}\n"));
    assert_eq!(
        said,
        [
            "locus \"cf\", looks, word \"affected\": 1.5 at \"-/x\" is no chance. Write a number from 0 to 1.",
            "locus \"cf\", looks, word \"affected\": \"-/x\" is no genotype of cf. Write one of: +/+, +/-, -/-.",
            "locus \"cf\", looks, word \"affected\": No genotype looks so. Give its chance for each genotype \
         that does: { \"-/-\" = 1 }.",
        ]
    );
    let said = refused(
        "[[locus]]\nname = \"a\"\nalleles = [\"x\", \"y\"]\nfrequency = { x = 0.5, y = 0.4 }\n",
    );
    assert_eq!(said, ["locus \"a\", frequency: They sum to 0.9. Make them sum to 1."]);
    let bad = [
        "",
        "[[locus]]\nname = \"a\"\nalleles = [\"x\"]\nfrequency = { x = 1 }\n",
        "[[locus]]\nname = \"a\"\nalleles = [\"x\", \"x/y\"]\nfrequency = { x = 1 }\n",
        "[[locus]]\nname = \"a\"\nalleles = [\"x\", \"y\"]\n",
        "[[locus]]\nname = \"a\"\nalleles = [\"x\", \"y\"]\nfrequency = { z = 1, x = 0.5 }\n",
        &format!("{LOCUS}{LOCUS}"),
        &format!("{LOCUS}[[linkage]]\nloci = [\"cf\", \"x\"]\nrecombination = 0.1\n"),
        &format!("{LOCUS}[[sex_linked]]\nlocus = \"cf\"\ny_copy = true\n"),
        &format!("{LOCUS}[[sex_linked]]\nlocus = \"x\"\ny_copy = false\n"),
        &format!(
            "{LOCUS}[[sex_linked]]\nlocus = \"cf\"\ny_copy = true\nrecombination_male = 0.7\n"
        ),
        &format!("{LOCUS}[[observation]]\nlocus = \"cf\"\ncolumn = \"cf\"\n"),
        &format!("{LOCUS}[[observation]]\nlocus = \"x\"\ncolumn = \"y\"\n"),
        &format!("{LOCUS}[[observation]]\nlocus = \"cf\"\ncolumn = \"y\"\nerror = 2\n"),
        &format!("{LOCUS}viability = {{ \"-/-\" = -1 }}\n"),
    ];
    for text in bad {
        for problem in refused(text) {
            assert!(problem.ends_with('.') && problem.contains(": "), "{problem}");
        }
    }
}

#[test]
fn more_genotypes_than_can_be_computed_are_refused() {
    let names: Vec<String> = (0..17).map(|i| format!("\"a{i}\"")).collect();
    let of = |n: usize| {
        let f: Vec<String> =
            names[..n].iter().map(|a| format!("{a} = {}", 1.0 / n as f64)).collect();
        let (names, f) = (names[..n].join(", "), f.join(", "));
        read(&format!("[[locus]]\nname = \"x\"\nalleles = [{names}]\nfrequency = {{ {f} }}\n"))
    };
    assert!(of(8).is_ok());
    assert!(of(17).unwrap_err()[0].why.contains("128 genotypes"));
}

proptest::proptest! {
    #[test]
    fn any_text_ends(text in "(\\[\\[(locus|linkage|sex_linked|observation)\\]\\]|name = \"a\"|locus = \"a\"|alleles = \\[\"x\", \"y\"\\]|frequency = \\{ x = [01] \\}|loci = \\[\"a\"\\]|recombination = 0.1|y_copy = false|column = \"b\"|\\[locus.looks\\]|x = \\{\\}|\n){0,9}") {
        let _ = read(&text);
        let _ = read(&text.replace(' ', "\n"));
    }
}
