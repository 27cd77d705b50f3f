//! Against SciPy's `linear_sum_assignment`; see `tests/published/assignment` for the versions.

use schedule::assignment::assign;

use crate::assignment::{SplitMix64, total};

const OPTIMA: &str = include_str!("../../../tests/published/assignment/optima.csv");

fn worth(kind: &str, draw: u64) -> u32 {
    let number = match kind {
        "uniform" => draw % 1000 + 1,
        "ties" => draw % 4,
        "sparse" if draw.is_multiple_of(5) => (draw >> 8) % 1000 + 1,
        "sparse" => 0,
        other => panic!("{other}"),
    };
    u32::try_from(number).unwrap()
}

#[test]
fn same_optimum_as_scipy() {
    let mut seen = 0;
    for line in OPTIMA.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [kind, rows, columns, seed, optimum] = cells[..] else { panic!("{line}") };
        let (rows, columns): (usize, usize) = (rows.parse().unwrap(), columns.parse().unwrap());
        let mut draws = SplitMix64(seed.parse().unwrap());
        let worths: Vec<f64> =
            (0..rows * columns).map(|_| f64::from(worth(kind, draws.draw()))).collect();
        let matched = assign(rows, columns, &worths);
        let optimum: f64 = optimum.parse().unwrap();
        assert_eq!(total(columns, &worths, &matched), optimum, "{line}");
        seen += 1;
    }
    assert_eq!(seen, 90);
}
