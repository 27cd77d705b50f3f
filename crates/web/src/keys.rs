//! The keys of the keyboard: which there are, shown in a dialog and on a page of their own.

use askama::Template;
use axum::response::Response;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::site::Site;

#[derive(Template)]
#[template(path = "keys.html")]
struct Page {
    frame: Frame,
}

/// `/keys`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    Ok(html(&Page { frame: Frame::around(&view, "Keys", "", "/keys") }))
}

/// The letter that leads to each page: the first of its name that no page before it has.
pub fn letters(names: impl Iterator<Item = &'static str>) -> Vec<char> {
    let mut taken: Vec<char> = Vec::new();
    for name in names {
        let mut free = name.chars().map(|c| c.to_ascii_lowercase()).chain('a'..='z');
        taken.extend(free.find(|c| c.is_ascii_lowercase() && !taken.contains(c)));
    }
    taken
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_has_a_letter_of_its_own() {
        let letters = |names: &[&'static str]| letters(names.iter().copied());
        assert_eq!(letters(&["Tonight", "Round", "Animals"]), ['t', 'r', 'a']);
        assert_eq!(letters(&["Season", "Sheets", "Eses", "SSS"]), ['s', 'h', 'e', 'a']);
    }
}
