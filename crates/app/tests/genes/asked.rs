//! The two files and the answer.

use serde_json::Value;

use crate::program::{Folder, Ran, run};

/// Alleles + and -, the second recessive, with a test of the genotype in the column `dna`.
pub(crate) fn recessive(frequency: f64) -> String {
    format!(
        "[[locus]]\nname = \"g\"\nalleles = [\"+\", \"-\"]\nfrequency = {{ \"-\" = {frequency} }}\n\
         [locus.looks]\nnormal = {{ \"+/+\" = 1, \"+/-\" = 1 }}\naffected = {{ \"-/-\" = 1 }}\n\
         [[observation]]\ncolumn = \"dna\"\nlocus = \"g\"\n"
    )
}

/// Alleles 1 and 2, whose genotypes are seen; p is the frequency of 1.
pub(crate) fn typed(p: f64) -> String {
    format!("[[locus]]\nname = \"m\"\nalleles = [\"1\", \"2\"]\nfrequency = {{ 1 = {p} }}\n")
}

/// The same on the X.
pub(crate) fn typed_on_x(p: f64) -> String {
    typed(p) + "[[sex_linked]]\nlocus = \"m\"\ny_copy = false\n"
}

pub(crate) fn try_files(csv: &str, catalogue: &str, more: &[&str]) -> Ran {
    let folder = Folder::new();
    let pedigree = folder.write("pedigree.csv", csv);
    let catalogue = folder.write("catalogue.toml", catalogue);
    let mut args = vec!["genes", "--pedigree", &pedigree, "--catalogue", &catalogue];
    args.extend(more);
    run(&args)
}

pub(crate) struct Answer {
    whole: Value,
}

impl Answer {
    pub(crate) fn of(csv: &str, catalogue: &str) -> Self {
        let ran = try_files(csv, catalogue, &["--json"]);
        assert_eq!(ran.code, 0, "{csv}{catalogue}{}", ran.err);
        Self { whole: ran.json() }
    }

    /// Files kept in tests/published/genes.
    pub(crate) fn of_files(pedigree: &str, catalogue: &str) -> Self {
        let at = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/published/genes/");
        let read = |name: &str| std::fs::read_to_string(format!("{at}{name}")).unwrap();
        Self::of(&read(pedigree), &read(catalogue))
    }

    pub(crate) fn log10(&self) -> f64 {
        self.whole["log10_likelihood"].as_f64().unwrap()
    }

    pub(crate) fn likelihood(&self) -> f64 {
        10_f64.powf(self.log10())
    }

    pub(crate) fn animals(&self) -> &[Value] {
        self.whole["animals"].as_array().unwrap()
    }

    pub(crate) fn genes(&self, id: &str) -> &Value {
        &self.animals().iter().find(|a| a["id"] == id).unwrap()["genes"]
    }

    pub(crate) fn chance(&self, id: &str, locus: &str, genotype: &str) -> f64 {
        let chance = self.genes(id)[locus][genotype].as_f64();
        chance.unwrap_or_else(|| panic!("{id} {locus} {genotype}: {}", self.genes(id)))
    }

    /// Of the locus of [`recessive`].
    pub(crate) fn het(&self, id: &str) -> f64 {
        self.chance(id, "g", "+/-")
    }
}

pub(crate) fn likelihood(csv: &str, catalogue: &str) -> f64 {
    Answer::of(csv, catalogue).likelihood()
}

/// Equal to the digits printed: half a unit of the last one.
#[track_caller]
pub(crate) fn printed(found: f64, wanted: f64, digits: i32) {
    let slack = 0.5 * 10_f64.powi(-digits) + 1e-13;
    assert!((found - wanted).abs() <= slack, "{found} instead of {wanted}");
}

/// Equal but for rounding of doubles.
#[track_caller]
pub(crate) fn exactly(found: f64, wanted: f64) {
    assert!(
        (found - wanted).abs() <= 1e-12 * wanted.abs().max(1e-3),
        "{found} instead of {wanted}"
    );
}
