//! Matrices for the benches: drawn from SplitMix64 (Steele, Lea and Flood 2014).

/// Random; products of a male's and a female's part with noise; such products with about three
/// planned males for every female and no worth elsewhere.
pub const KINDS: [&str; 3] = ["random", "structured", "planned"];

pub struct SplitMix64(pub u64);

impl SplitMix64 {
    pub fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = self.0;
        let z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Uniform on 0..1 with 32 bits.
    pub fn unit(&mut self) -> f64 {
        f64::from(u32::try_from(self.draw() >> 32).unwrap_or(0)) / f64::from(u32::MAX)
    }
}

/// Worths row by row.
pub fn matrix(kind: &str, rows: usize, columns: usize, seed: u64) -> Vec<f64> {
    let mut draws = SplitMix64(seed);
    let males: Vec<f64> = (0..rows).map(|_| 0.2 + draws.unit()).collect();
    let females: Vec<f64> = (0..columns).map(|_| 0.2 + draws.unit()).collect();
    let mut worth = Vec::with_capacity(rows * columns);
    for male in &males {
        for female in &females {
            let product = male * female * (0.9 + 0.2 * draws.unit());
            let planned = draws.unit() * (rows as f64) < 3.0;
            worth.push(match kind {
                "structured" => product,
                "planned" if planned => product,
                "planned" => 0.0,
                _ => draws.unit(),
            });
        }
    }
    worth
}
