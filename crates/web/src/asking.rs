//! Addresses and forms, read without trusting them.

use axum::extract::{Form, FromRequest, FromRequestParts, Path, Query, Request};
use axum::http::request::Parts;
use records::{AnimalId, RecordId};
use units::Day;

use crate::failure::Failure;
use crate::site::View;

/// The fields of an address or of a form, as typed.
pub struct Fields(Vec<(String, String)>);

/// The fields behind the `?` of an address.
pub struct Asked(pub Fields);

/// The fields of a form.
pub struct Filled(pub Fields);

/// The last part of an address, such as a code.
pub struct Named(pub String);

impl<S: Send + Sync> FromRequestParts<S> for Asked {
    type Rejection = Failure;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Failure> {
        match Query::<Vec<(String, String)>>::from_request_parts(parts, state).await {
            Ok(Query(fields)) => Ok(Self(Fields(fields))),
            Err(_) => Err(Failure::typed(
                "The end of the address, behind the question mark, cannot be read.",
                "Take it away, or follow a link from one of the pages.",
            )),
        }
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Named {
    type Rejection = Failure;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Failure> {
        match Path::<String>::from_request_parts(parts, state).await {
            Ok(Path(name)) => Ok(Self(name)),
            Err(_) => Err(Failure::typed(
                "The address holds characters that cannot be read.",
                "Follow a link from the list of animals.",
            )),
        }
    }
}

impl<S: Send + Sync> FromRequest<S> for Filled {
    type Rejection = Failure;

    async fn from_request(request: Request, state: &S) -> Result<Self, Failure> {
        match Form::<Vec<(String, String)>>::from_request(request, state).await {
            Ok(Form(fields)) => Ok(Self(Fields(fields))),
            Err(_) => Err(Failure::unread()),
        }
    }
}

impl Fields {
    /// A field that holds more than blanks, trimmed.
    pub fn get(&self, name: &str) -> Option<&str> {
        let field = self.0.iter().find(|(n, _)| n == name);
        field.map(|(_, value)| value.trim()).filter(|value| !value.is_empty())
    }

    /// Every value of a field that holds more than blanks, trimmed.
    pub fn all<'f>(&'f self, name: &'f str) -> impl Iterator<Item = &'f str> {
        let fields = self.0.iter().filter(move |(n, _)| n == name);
        fields.map(|(_, value)| value.trim()).filter(|value| !value.is_empty())
    }

    /// The day asked about.
    pub fn on(&self) -> Result<Option<Day>, Failure> {
        self.get("on").map(day).transpose()
    }

    /// A day that must be there.
    pub fn day(&self, name: &str) -> Result<Day, Failure> {
        self.get(name).map_or_else(|| Err(gone(name)), day)
    }

    /// The id of a record that must be there.
    pub fn record(&self, name: &str) -> Result<RecordId, Failure> {
        self.get(name).and_then(|text| text.parse().ok()).ok_or_else(|| gone(name))
    }

    /// An animal that must be there, by its id.
    pub fn animal(&self, name: &str, view: &View) -> Result<AnimalId, Failure> {
        let id = AnimalId(self.record(name)?);
        view.colony.place_of(id).map(|_| id).ok_or_else(|| {
            Failure::missing(
                "The animal of this form is not in the journal (any more); nothing was written.",
                "Open the list of animals and begin there.",
            )
        })
    }

    /// Everything, as it was sent.
    pub fn sent(&self) -> &[(String, String)] {
        &self.0
    }

    /// Where to go afterwards: a path of this site, else the first page.
    pub fn back(&self) -> &str {
        self.path("back").unwrap_or("/")
    }

    /// A path of this site.
    pub fn path(&self, name: &str) -> Option<&str> {
        let is_ours = |path: &&str| {
            path.starts_with('/')
                && !path.starts_with("//")
                && path.bytes().all(|b| (0x21..0x7f).contains(&b) && b != b'\\')
        };
        self.get(name).filter(is_ours)
    }
}

fn day(text: &str) -> Result<Day, Failure> {
    sheets::typed::day(text).ok_or_else(|| {
        Failure::typed(
            format!("\"{text}\" is no day that can be asked about."),
            "Write it like 2026-02-10, from 1990 to 2199.",
        )
    })
}

fn gone(name: &str) -> Failure {
    Failure::typed(
        format!("The field \"{name}\" of the form is missing or unreadable; nothing was written."),
        "Open the page again and send its form once more.",
    )
}

/// Text as one part of an address (RFC 3986: all but the unreserved characters as %XX).
pub fn in_address(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-_~".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

/// Reads what [`in_address`] wrote.
pub fn plain(text: &str) -> Option<String> {
    let mut out = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let digit = |byte: u8| char::from(byte).to_digit(16);
            let value = digit(rest.next()?)? * 16 + digit(rest.next()?)?;
            out.push(u8::try_from(value).ok()?);
        } else {
            out.push(byte);
        }
    }
    String::from_utf8(out).ok()
}

/// The address with one field more.
pub fn with_field(path: &str, name: &str, value: &str) -> String {
    let mark = if path.contains('?') { '&' } else { '?' };
    format!("{path}{mark}{name}={}", in_address(value))
}
