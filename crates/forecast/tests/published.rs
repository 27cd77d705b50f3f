//! Values made by general-purpose libraries; files, script and versions in tests/published/follicle.

use forecast::follicle::normal::below;
use forecast::follicle::passage::{Level, reached};
use forecast::follicle::track::{State, Track};

fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    text.lines().skip(1).map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

#[test]
fn first_passage_is_scipys_inverse_gaussian() {
    let rows = rows(include_str!("../../../tests/published/follicle/first_passage.csv"));
    assert_eq!(rows.len(), 288);
    for r in rows {
        let [a, v, s, t, p] = [0, 1, 2, 3, 4].map(|i| number(r[i]));
        let ours = reached(a, v, s, t);
        assert!((ours - p).abs() < 1e-12, "{a} mm at {v} ± {s} in {t}: {ours} for {p}");
    }
}

#[test]
fn the_normal_distribution_is_scipys() {
    let rows = rows(include_str!("../../../tests/published/follicle/normal.csv"));
    assert_eq!(rows.len(), 77);
    for r in rows {
        let (z, p) = (number(r[0]), number(r[1]));
        assert!((below(z) - p).abs() < 1e-14 + 1e-9 * p.min(1e-3), "{z}: {} for {p}", below(z));
    }
}

#[test]
fn one_track_is_filterpys_and_statsmodels_filter() {
    let rows = rows(include_str!("../../../tests/published/follicle/one_track.csv"));
    for library in ["filterpy", "statsmodels"] {
        let mut female = "";
        let start = || Track::new(State::Growing, 1.0, [9.0, 2.0], [6.25, 0.0, 0.49]);
        let mut track = start();
        let mut n = 0;
        for r in rows.iter().filter(|r| r[8] == library) {
            if r[0] != female {
                (female, track) = (r[0], start());
            }
            track.grow(number(r[1]), 0.5);
            track.see(number(r[2]), 2.25);
            let ours = [track.x, track.v, track.xx, track.xv, track.vv];
            for (i, value) in ours.into_iter().enumerate() {
                let theirs = number(r[3 + i]);
                assert!((value - theirs).abs() < 1e-12, "{library} {female}: {value} {theirs}");
            }
            n += 1;
        }
        assert_eq!(n, 71);
    }
}

/// The closed form used for tracks against the inverse Gaussian integrated over 41 x 41 nodes of
/// size and rate, over what tracks look like after one, three and six checks.
#[test]
fn a_track_passes_as_the_integrated_inverse_gaussian_does() {
    let wobble = 0.5;
    let mut worst: f64 = 0.0;
    for cov in [[6.0, 0.0, 0.49], [2.0, 0.5, 0.35], [1.2, 0.2, 0.12], [0.8, 0.05, 0.06]] {
        for (x, v) in [(9.0, 2.0), (20.0, 1.6), (20.0, 2.4), (29.0, 1.2), (31.3, 2.0)] {
            let track = Track::new(State::Growing, 1.0, [x, v], cov);
            let level = Level { size: 32.0, variance: 0.0 };
            for weeks in [0.5, 1.0, 2.0, 4.0, 7.0, 12.0, 20.0] {
                let fast = level.passed_after(&track, weeks, wobble);
                let slow = integrated(&track, 32.0, weeks, wobble);
                worst = worst.max((fast - slow).abs());
            }
        }
    }
    assert!(worst < 0.012, "off by {worst}");
}

fn integrated(t: &Track, level: f64, weeks: f64, wobble: f64) -> f64 {
    let nodes: Vec<(f64, f64)> =
        (-40..=40).map(|k| f64::from(k) / 8.0).map(|z| (z, (-0.5 * z * z).exp())).collect();
    let along = t.xv / t.vv;
    let own = (t.xx - t.xv * along).sqrt();
    let (mut sum, mut total) = (0.0, 0.0);
    for (zv, wv) in &nodes {
        let v = t.v + zv * t.vv.sqrt();
        for (zx, wx) in &nodes {
            let x = t.x + along * (v - t.v) + own * zx;
            sum += wv * wx * reached(level - x, v, wobble, weeks);
            total += wv * wx;
        }
    }
    sum / total
}
