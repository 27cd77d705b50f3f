//! The report: a line for each thing that must hold.

/// What has been printed so far.
#[derive(Default)]
pub struct Report {
    failed: usize,
    lines: usize,
}

impl Report {
    /// A line that only tells.
    pub fn tell(&self, text: &str) {
        println!("         {text}");
    }

    /// A line that must hold.
    pub fn line(&mut self, held: bool, text: &str) {
        self.lines += 1;
        self.failed += usize::from(!held);
        println!("  {} {text}", if held { "held  " } else { "FAILED" });
    }

    /// Whether every line held; prints the sum.
    pub fn close(&self) -> bool {
        let Self { failed, lines } = self;
        println!("\n{} of {lines} checks held.", lines - failed);
        *failed == 0
    }
}
