//! Against SciPy's `linear_sum_assignment`; see `tests/published/assignment` for the versions.

use schedule::assignment::assign;

use crate::assignment::{SplitMix64, total};

const OPTIMA: &str = include_str!("../../../tests/published/assignment/optima.csv");

fn worth(kind: &str, i: usize, j: usize, draw: u64) -> f64 {
    let number = match kind {
        "product" => (i as u64 % 7 + 1) * (j as u64 % 11 + 1) * 100 + draw % 50,
        "uniform" => draw % 1000 + 1,
        "ties" => draw % 4,
        "sparse" if draw.is_multiple_of(5) => (draw >> 8) % 1000 + 1,
        "sparse" => 0,
        other => panic!("{other}"),
    };
    number as f64
}

#[test]
fn same_optimum_as_scipy() {
    let mut seen = 0;
    for line in OPTIMA.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [kind, rows, columns, seed, optimum] = cells[..] else { panic!("{line}") };
        let (rows, columns): (usize, usize) = (rows.parse().unwrap(), columns.parse().unwrap());
        let mut draws = SplitMix64(seed.parse().unwrap());
        let worths: Vec<f64> = (0..rows * columns)
            .map(|k| worth(kind, k / columns, k % columns, draws.draw()))
            .collect();
        let matched = assign(rows, columns, &worths);
        let optimum: f64 = optimum.parse().unwrap();
        assert_eq!(total(columns, &worths, &matched), optimum, "{line}");
        seen += 1;
    }
    assert_eq!(seen, 120);
}
