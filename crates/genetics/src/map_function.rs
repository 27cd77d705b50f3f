//! From map distance to recombination.

/// Recombination of loci `centimorgan` (from 0) apart when crossovers fall independently: Haldane 1919,
/// r = (1 - e^(-2d)) / 2 with d in Morgan.
#[must_use]
pub fn haldane(centimorgan: f64) -> f64 {
    -0.5 * (-centimorgan / 50.0).exp_m1()
}

/// Recombination of loci `centimorgan` (from 0) apart when a crossover keeps others away: Kosambi 1944,
/// r = tanh(2d) / 2 with d in Morgan.
#[must_use]
pub fn kosambi(centimorgan: f64) -> f64 {
    0.5 * (centimorgan / 50.0).tanh()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Recombination at centimorgans after Haldane and after Kosambi.
    #[test]
    fn map_functions_give_the_printed_tables() {
        // From the formulas, to the digits of the table.
        let table = [
            (1.0, 0.0099, 0.01),
            (5.0, 0.047_58, 0.049_83),
            (10.0, 0.090_63, 0.098_69),
            (20.0, 0.164_84, 0.189_97),
            (50.0, 0.316_06, 0.3808),
            (100.0, 0.432_33, 0.482_01),
        ];
        for (cm, by_haldane, by_kosambi) in table {
            assert!((haldane(cm) - by_haldane).abs() <= 5.1e-6 + 4.6e-5 * f64::from(cm == 1.0));
            assert!((kosambi(cm) - by_kosambi).abs() <= 5.1e-6);
        }
        // Distances of r = .30 (45.8 cM, a worked lesson), .392 (76.6) and of Lange's sample pedigree.
        assert!((haldane(45.8145) - 0.3).abs() < 1e-6);
        assert!((haldane(76.6) - 0.392).abs() < 1e-3);
        assert!((kosambi(34.6574) - 0.3).abs() < 1e-6);
        assert!((haldane(8.717_669_36) - 0.08).abs() < 1e-10);
    }

    #[test]
    fn distances_on_a_map_add_up() {
        // Haldane: r13 = r12 + r23 - 2 r12 r23; .2 and .2 give .32.
        let half = 25.541_28;
        assert!((haldane(half) - 0.2).abs() < 1e-7);
        assert!((haldane(2.0 * half) - 0.32).abs() < 1e-7);
        assert!(haldane(1e9) <= 0.5 && kosambi(1e9) <= 0.5);
    }
}
