//! Who is at this browser: a name for what is written, and the units they read.
//!
//! Kept in three cookies of the browser, so that a phone is set once and a room needs no accounts.

mod measures;
pub mod page;

use std::convert::Infallible;

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::header::COOKIE;
use axum::http::request::Parts;

use crate::asking::{in_address, plain};
use crate::site::Site;

pub use measures::{HeatUnit, MassUnit, Measures, heat_typed, mass_typed};

/// Longest name of a person, in characters; our choice.
pub const LONGEST_NAME: usize = 40;

/// The person at this browser.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct You {
    /// What they go by; empty where they did not say.
    pub name: String,
    /// The units they read and type.
    pub measures: Measures,
}

impl You {
    /// As the cookies say; what cannot be read counts as not said.
    pub fn of(headers: &HeaderMap) -> Self {
        let name = cookie(headers, "name").and_then(plain).and_then(|name| person(&name));
        Self {
            name: name.unwrap_or_default(),
            measures: Measures {
                mass: cookie(headers, "mass").and_then(MassUnit::from_word).unwrap_or_default(),
                heat: cookie(headers, "heat").and_then(HeatUnit::from_word).unwrap_or_default(),
            },
        }
    }

    /// One line at the foot of a page.
    pub fn said(&self) -> String {
        let name = if self.name.is_empty() { "Who are you?" } else { &self.name };
        let heat = self.measures.heat.word();
        format!("{name} · {} · °{heat}", self.measures.mass.word())
    }

    /// The cookies that say it again, for a year.
    pub fn cookies(&self) -> [String; 3] {
        let kept = |name: &str, value: &str| {
            format!("{name}={value}; Path=/; Max-Age=31536000; SameSite=Lax; HttpOnly")
        };
        [
            kept("name", &in_address(&self.name)),
            kept("mass", self.measures.mass.word()),
            kept("heat", self.measures.heat.word()),
        ]
    }
}

/// A person's name as typed: trimmed, of printable characters, not too long. An empty one is one.
pub fn person(typed: &str) -> Option<String> {
    let name = typed.trim();
    let is_name = name.chars().count() <= LONGEST_NAME && !name.chars().any(char::is_control);
    is_name.then(|| name.to_owned())
}

/// The value of a cookie, as sent.
pub fn cookie<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    let lines = headers.get_all(COOKIE).iter().filter_map(|line| line.to_str().ok());
    lines
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find_map(|(n, value)| (n == name).then_some(value))
}

/// The site before anybody asks. Pages cannot take it as it is: what they write would be nobody's.
#[derive(Clone)]
pub struct Unasked(pub Site);

impl FromRequestParts<Unasked> for Site {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, site: &Unasked) -> Result<Self, Infallible> {
        Ok(site.0.asked_by(You::of(&parts.headers)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(cookies: &str) -> You {
        let mut headers = HeaderMap::new();
        headers.insert(COOKIE, cookies.parse().unwrap());
        You::of(&headers)
    }

    #[test]
    fn cookies_say_it_again() {
        let measures = Measures { mass: MassUnit::Ounces, heat: HeatUnit::Fahrenheit };
        for name in ["", "Anna", "Zoë; Path=/", "a=b \"c\" %41", "名前"] {
            let you = You { name: name.into(), measures };
            let sent = you.cookies().map(|c| c.split("; ").next().unwrap().to_owned()).join("; ");
            assert_eq!(of(&sent), you, "{sent}");
        }
    }

    #[test]
    fn what_cannot_be_read_counts_as_not_said() {
        for bad in ["name=%FF", "name=a%0Ab", "mass=stone; heat=", "name", ";;=", "mass"] {
            assert_eq!(of(bad), You::default(), "{bad}");
        }
        assert_eq!(of(&format!("name={}", "x".repeat(41))), You::default());
    }
}
