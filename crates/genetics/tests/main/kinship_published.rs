//! Inbreeding and kinship of published and classical pedigrees, to all printed digits.

use genetics::kinship::{Descent, Kinship, Lines};

/// Rows `animal sire dam`; 0 is unknown. Names are numbered as they come.
struct Family {
    names: Vec<String>,
    kinship: Kinship,
}

impl Family {
    fn of(rows: &str) -> Self {
        let rows: Vec<Vec<&str>> = rows
            .split([';', '\n'])
            .map(|row| row.split_whitespace().collect())
            .filter(|row: &Vec<&str>| !row.is_empty())
            .collect();
        let mut names: Vec<String> = Vec::new();
        let mut place = |name: &str| {
            names.iter().position(|n| n == name).unwrap_or_else(|| {
                names.push(name.to_owned());
                names.len() - 1
            })
        };
        let placed: Vec<[Option<usize>; 3]> = rows
            .iter()
            .map(|row| [0, 1, 2].map(|i| (row[i] != "0").then(|| place(row[i]))))
            .collect();
        let mut descents = vec![Descent::Of { sire: None, dam: None }; names.len()];
        for [animal, sire, dam] in placed {
            descents[animal.unwrap()] = Descent::Of { sire, dam };
        }
        Self { kinship: Kinship::new(&Lines::new(&descents).unwrap()), names }
    }

    fn place(&self, name: &str) -> usize {
        self.names.iter().position(|n| n == name).unwrap()
    }

    fn f(&self, name: &str) -> f64 {
        self.kinship.inbreeding(self.place(name)).unwrap()
    }

    fn a(&self, x: &str, y: &str) -> f64 {
        2.0 * self.kinship.pair(self.place(x), self.place(y)).unwrap()
    }

    fn behind(&self, x: &str, y: &str) -> Vec<(&str, f64)> {
        let shares = self.kinship.behind(self.place(x), self.place(y));
        let mut named: Vec<(&str, f64)> =
            shares.iter().map(|s| (self.names[s.ancestor].as_str(), s.share)).collect();
        named.sort_by(|a, b| a.0.cmp(b.0));
        named
    }
}

/// Inbreeding of `x` in each of these families. Values of Wright 1922 and of every textbook; all
/// are dyadic, so they hold exactly.
#[test]
fn single_matings_after_wright_1922() {
    for (shape, rows, f) in [
        ("selfing", "x a a", 1.0 / 2.0),
        ("parent and child", "b a 0; x a b", 1.0 / 4.0),
        ("full sibs", "c a b; d a b; x c d", 1.0 / 4.0),
        ("half sibs", "c a b; d a e; x c d", 1.0 / 8.0),
        ("grandsire and granddaughter", "b a 0; c 0 b; x a c", 1.0 / 8.0),
        ("uncle and niece", "c a b; d a b; e d f; x c e", 1.0 / 8.0),
        ("double first cousins", "c a b; d a b; g e f; h e f; i c g; j d h; x i j", 1.0 / 8.0),
        ("half uncle and niece", "c a b; d a g; e d f; x c e", 1.0 / 16.0),
        ("first cousins", "c a b; d a b; i c e; j d f; x i j", 1.0 / 16.0),
        ("half first cousins", "c a b; d a g; i c e; j d f; x i j", 1.0 / 32.0),
        ("second cousins", "c a b; d a b; i c e; j d f; k i g; l j h; x k l", 1.0 / 64.0),
        ("three-quarter sibs", "c a b; d a b; i c e; j d e; x i j", 3.0 / 16.0),
        ("sire, his daughter, and her daughter by him", "d s a; g s d; x s g", 3.0 / 8.0),
    ] {
        assert_eq!(Family::of(rows).f("x"), f, "{shape}");
    }
}

/// Falconer and Mackay (from memory), table 5.1; the fractions follow from the recurrences.
#[test]
fn full_sib_mating_generation_by_generation() {
    let mut rows = "a0 0 0; b0 0 0".to_owned();
    for t in 1..=12 {
        let p = t - 1;
        rows += &format!("; a{t} a{p} b{p}; b{t} a{p} b{p}");
    }
    let family = Family::of(&rows);
    let wanted = [
        1.0 / 4.0,
        3.0 / 8.0,
        1.0 / 2.0,
        19.0 / 32.0,
        43.0 / 64.0,
        47.0 / 64.0,
        201.0 / 256.0,
        423.0 / 512.0,
        55.0 / 64.0,
        1815.0 / 2048.0,
        3719.0 / 4096.0,
    ];
    let printed =
        [".250", ".375", ".500", ".594", ".672", ".734", ".785", ".826", ".859", ".886", ".908"];
    for ((t, f), printed) in (2..).zip(wanted).zip(printed) {
        assert_eq!(family.f(&format!("a{t}")), f, "generation {}", t - 1);
        assert_eq!(format!("{f:.3}"), format!("0{printed}"));
    }
}

/// The same values as full sib mating.
#[test]
fn parent_and_offspring_with_the_younger_parent() {
    let mut rows = "x0 0 0; x1 0 0; x2 x0 x1".to_owned();
    for t in 3..=7 {
        rows += &format!("; x{t} x{} x{}", t - 2, t - 1);
    }
    let family = Family::of(&rows);
    let wanted = [1.0 / 4.0, 3.0 / 8.0, 1.0 / 2.0, 19.0 / 32.0, 43.0 / 64.0];
    for (t, f) in (3..).zip(wanted) {
        assert_eq!(family.f(&format!("x{t}")), f);
    }
}

/// One male a generation with his half sisters, each of another dam.
#[test]
fn half_sib_mating_generation_by_generation() {
    let mut rows = "m0 0 0".to_owned();
    for t in 1..=7 {
        let p = t - 1;
        rows += &format!("; m{t} m{p} f{p}-0");
        for i in 0..=7 - t {
            rows += &format!("; f{t}-{i} m{p} f{p}-{}", i + 1);
        }
    }
    let family = Family::of(&rows);
    let wanted =
        [1.0 / 8.0, 7.0 / 32.0, 39.0 / 128.0, 195.0 / 512.0, 919.0 / 2048.0, 4171.0 / 8192.0];
    let printed = ["0.125", "0.219", "0.305", "0.381", "0.449", "0.509"];
    for ((t, f), printed) in (2..).zip(wanted).zip(printed) {
        assert_eq!(family.f(&format!("m{t}")), f, "generation {}", t - 1);
        assert_eq!(format!("{f:.3}"), printed);
    }
}

#[test]
fn backcross_to_one_animal_that_is_not_inbred() {
    let mut rows = "x0 a b".to_owned();
    for t in 1..=5 {
        rows += &format!("; x{t} a x{}", t - 1);
    }
    let family = Family::of(&rows);
    for (t, f) in (1..).zip([1.0 / 4.0, 3.0 / 8.0, 7.0 / 16.0, 15.0 / 32.0, 31.0 / 64.0]) {
        assert_eq!(family.f(&format!("x{t}")), f);
    }
}

/// The fully inbred animal is one without a sire.
#[test]
fn backcross_to_one_fully_inbred_animal() {
    let unknown = Descent::Of { sire: None, dam: None };
    let mut descents = vec![unknown, unknown, Descent::Alone { dam: 0 }];
    descents.push(Descent::Of { sire: Some(1), dam: Some(2) });
    for t in 3..8 {
        descents.push(Descent::Of { sire: Some(t), dam: Some(2) });
    }
    let kinship = Kinship::new(&Lines::new(&descents).unwrap());
    assert_eq!(kinship.inbreedings()[2..], [1.0, 0.0, 0.5, 0.75, 0.875, 0.9375, 0.96875]);
}

#[test]
fn selfing_generation_by_generation() {
    let family = Family::of("b a a; c b b; d c c; e d d; g e e");
    let f = ["b", "c", "d", "e", "g"].map(|x| family.f(x));
    assert_eq!(f, [1.0 / 2.0, 3.0 / 4.0, 7.0 / 8.0, 15.0 / 16.0, 31.0 / 32.0]);
}

/// Mrode 2005, table 2.1: inbreeding, relationships, and the diagonal of D.
#[test]
fn mrode_2005_table_2_1() {
    let family = Family::of("1 0 0; 2 0 0; 3 1 2; 4 1 0; 5 4 3; 6 5 2");
    let names = ["1", "2", "3", "4", "5", "6"];
    let a = [
        [1.0, 0.0, 0.5, 0.5, 0.5, 0.25],
        [0.0, 1.0, 0.5, 0.0, 0.25, 0.625],
        [0.5, 0.5, 1.0, 0.25, 0.625, 0.5625],
        [0.5, 0.0, 0.25, 1.0, 0.625, 0.3125],
        [0.5, 0.25, 0.625, 0.625, 1.125, 0.6875],
        [0.25, 0.625, 0.5625, 0.3125, 0.6875, 1.125],
    ];
    assert_eq!(names.map(|x| names.map(|y| family.a(x, y))), a);
    assert_eq!(names.map(|x| family.f(x)), [0.0, 0.0, 0.0, 0.0, 0.125, 0.125]);
    let d = names.map(|x| family.kinship.sampling(family.place(x)).unwrap());
    assert_eq!(d, [1.0, 1.0, 0.5, 0.75, 0.5, 0.46875]);
}

/// The ancestors of Charles II of Spain in 29 rows; .230957 is the value printed with them. The whole
/// pedigree of sixteen generations gives .254 (Alvarez, Ceballos and Quinteiro 2009, PLoS ONE 4:e5174).
const HABSBURG: &str = "CV PhI Jo; FeI PhI Jo; Isa2 PhI Jo; Ph2 CV Isa; Mar CV Isa; Max2 FeI An; Ch2A FeI An
    An2 FeI An; Chr Ch2D Isa2; An3 Max2 Mar; MA1 AlV An2; WV AlV An2; Ren Fr1 Chr; Ph3 Ph2 An3
    Marg Ch2A MA1; Fe2 Ch2A MA1; MA2 WV Ren; Ph4 Ph3 Marg; MA3 Ph3 Marg; Fe3 Fe2 MA2; Mariana Fe3 MA3
    Ch2 Ph4 Mariana";

#[test]
fn habsburg_in_29_rows() {
    let family = Family::of(HABSBURG);
    assert_eq!(family.names.len(), 29);
    for (name, f) in [
        ("An3", 1.0 / 16.0),
        ("Ph3", 5.0 / 32.0),
        ("Marg", 1.0 / 8.0),
        ("Fe2", 1.0 / 8.0),
        ("MA2", 1.0 / 64.0),
        ("Ph4", 21.0 / 256.0),
        ("MA3", 21.0 / 256.0),
        ("Fe3", 27.0 / 256.0),
        ("Mariana", 139.0 / 1024.0),
        ("Ch2", 473.0 / 2048.0),
    ] {
        assert_eq!(family.f(name), f, "{name}");
    }
    assert_eq!(format!("{:.6}", family.f("Ch2")), "0.230957");
    let shares: f64 = family.behind("Ph4", "Mariana").iter().map(|(_, share)| share).sum();
    assert_eq!(shares, 473.0 / 2048.0);
}

/// Path pairs counted by hand after Wright 1922: `(1/2)^(n1 + n2 + 1) (1 + F_A)`.
#[test]
fn ancestors_behind_a_kinship_counted_by_hand() {
    let half_sibs = Family::of("a g h; c a b; d a e");
    assert_eq!(half_sibs.behind("c", "d"), [("a", 1.0 / 8.0)]);
    let full_sibs = Family::of("c a b; d a b");
    assert_eq!(full_sibs.behind("c", "d"), [("a", 1.0 / 8.0), ("b", 1.0 / 8.0)]);
    let cousins = Family::of("c a b; d a b; i c e; j d f");
    assert_eq!(cousins.behind("i", "j"), [("a", 1.0 / 32.0), ("b", 1.0 / 32.0)]);
    assert_eq!(Family::of("d s a").behind("d", "s"), [("s", 1.0 / 4.0)]);
    // 3 is dam of 5 and half sister of hers through 1.
    let looped = Family::of("3 1 2; 4 1 2; 5 1 3");
    assert_eq!(looped.behind("5", "3"), [("1", 1.0 / 8.0), ("3", 1.0 / 4.0)]);
    // An inbred common sire counts 1 + F: he comes of full sibs.
    let inbred = Family::of("p a b; q a b; s p q; x s e; y s f");
    assert_eq!(inbred.behind("x", "y"), [("s", 1.25 / 8.0)]);
    assert!(inbred.behind("e", "f").is_empty());
}
