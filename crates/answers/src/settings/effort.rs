//! What a follicle check costs, and what a wrong guess of her size does.

/// What looks at follicles are weighed by. All are our own choice.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckEffort {
    /// Minutes of a scan, fetching her and writing it down included. About five for the scan alone
    /// in the study of 129 females (Bertocchi and others 2018).
    pub scan_minutes: f64,
    /// Minutes of feeling her.
    pub palpation_minutes: f64,
    /// Days of date error that holding her to be of the wrong size for a mating counts as.
    pub wrong_band_days: f64,
}

impl Default for CheckEffort {
    fn default() -> Self {
        Self { scan_minutes: 5.0, palpation_minutes: 1.0, wrong_band_days: 7.0 }
    }
}
