//! The five parts of the round, with what is left to do in each.

use answers::FeedingDue;
use answers::tonight::Tonight;

use crate::site::View;

/// One part of the round.
pub struct Part {
    /// Its name.
    pub name: &'static str,
    /// Its address.
    pub link: String,
    /// What is left to do.
    pub left: usize,
    /// Whether it is the part shown.
    pub is_here: bool,
}

/// All five, in the order of a keeper's day.
pub fn parts(view: &View, tonight: &Tonight, feeding: &FeedingDue, here: &str) -> Vec<Part> {
    let due = |what: &str| tonight.due.iter().filter(|d| d.what == what).count();
    [
        ("Evening", "/round/evening", tonight.moves.len() + tonight.coming_out.len()),
        ("Morning", "/round/morning", view.unlooked()),
        ("Feeding", "/round/feeding", feeding.due.len()),
        ("Checks", "/round/checks", due("follicle check")),
        ("Weights", "/round/weights", due("weigh")),
    ]
    .map(|(name, path, left)| Part { name, link: view.link(path), left, is_here: path == here })
    .into()
}
