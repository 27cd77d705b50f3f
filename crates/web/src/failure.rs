//! What a page says when it cannot do what was asked. Never a bare code: what is wrong, what next.

use askama::Template;
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use store::StoreError;

use crate::frame::{Frame, html};
use crate::phones::PhonesError;
use crate::refused::kept;

/// A request that was not done.
#[derive(Clone, Debug)]
pub struct Failure {
    status: StatusCode,
    what: String,
    todo: String,
}

#[derive(Template)]
#[template(path = "failure.html")]
struct Page {
    frame: Frame,
    what: String,
    todo: String,
    back: Option<String>,
}

impl Failure {
    /// Something typed that cannot be taken.
    pub fn typed(what: impl Into<String>, todo: impl Into<String>) -> Self {
        Self { status: StatusCode::BAD_REQUEST, what: what.into(), todo: todo.into() }
    }

    /// What a text refuses itself with, as "what is wrong: what to do"; `todo` where it does not say.
    pub fn of_text(why: &str, todo: &str) -> Self {
        let (what, todo) = why.split_once(": ").unwrap_or((why, todo));
        let mut letters = todo.chars();
        let first = letters.next().map_or_else(String::new, |c| c.to_uppercase().to_string());
        Self::typed(
            format!("{what}; nothing was written."),
            format!("{first}{}.", letters.as_str()),
        )
    }

    /// A form that is none.
    pub fn unread() -> Self {
        Self::typed(
            "The form could not be read; nothing was written.",
            "Open the page again and send its form once more.",
        )
    }

    /// Something asked for that is not there.
    pub fn missing(what: impl Into<String>, todo: impl Into<String>) -> Self {
        Self { status: StatusCode::NOT_FOUND, what: what.into(), todo: todo.into() }
    }

    /// The same form was sent twice with different answers.
    pub fn said_otherwise() -> Self {
        Self {
            status: StatusCode::CONFLICT,
            what: "This form was saved before with another answer; the first answer stands.".into(),
            todo: "Open the page again and look: undo what is wrong, then write it anew.".into(),
        }
    }

    /// A request under a name that this program does not go by.
    pub fn unnamed() -> Self {
        Self {
            status: StatusCode::MISDIRECTED_REQUEST,
            what: "This program does not answer to that name.".into(),
            todo: "Open the address that it printed when it was started.".into(),
        }
    }

    /// A form that another site's page sent.
    pub fn foreign() -> Self {
        Self {
            status: StatusCode::FORBIDDEN,
            what: "This form came from a page of another site, so nothing was written.".into(),
            todo: "Open the page here and send the form from it.".into(),
        }
    }

    /// A form from a phone that has not entered the key.
    pub fn unknown_phone() -> Self {
        Self {
            status: StatusCode::UNAUTHORIZED,
            what: "This phone is not known here (any more), so nothing was written.".into(),
            todo: "Open Tonight, enter the key, then write it again.".into(),
        }
    }

    /// The phone could not be written down.
    pub fn unkept(why: &PhonesError) -> Self {
        Self {
            status: StatusCode::SERVICE_UNAVAILABLE,
            what: format!("This phone could not be written down: {why}."),
            todo: "Put the cause right, then enter the key again.".into(),
        }
    }
}

impl From<StoreError> for Failure {
    fn from(why: StoreError) -> Self {
        Self {
            status: StatusCode::SERVICE_UNAVAILABLE,
            what: format!("The journal could not be used: {why}."),
            todo: "Nothing was written. Put the cause right, then send it again.".into(),
        }
    }
}

impl IntoResponse for Failure {
    fn into_response(self) -> Response {
        self.shown(None)
    }
}

impl Failure {
    fn shown(self, back: Option<String>) -> Response {
        let frame = Frame::bare("That did not work");
        let (what, todo) = (self.what.clone(), self.todo.clone());
        let mut response = html(&Page { frame, what, todo, back });
        *response.status_mut() = self.status;
        response.extensions_mut().insert(self);
        response
    }
}

/// A form with a slip in it comes back filled in; any other page that says what did not work leads
/// back to the page it was asked from.
pub async fn way_back(request: Request, next: Next) -> Response {
    let back = came_from(request.headers());
    let (request, sent) = match kept(request).await {
        Ok(kept) => kept,
        Err(failure) => return failure.shown(back),
    };
    // Some browsers are told not to say which page a form was sent from.
    let back = back.or_else(|| sent.as_ref()?.way_back().map(str::to_owned));
    let response = next.clone().run(request).await;
    let Some(failure) = response.extensions().get::<Failure>().cloned() else { return response };
    if let Some(sent) = sent.filter(|_| failure.status == StatusCode::BAD_REQUEST) {
        let said = format!("{} {}", failure.what, failure.todo);
        if let Some(page) = sent.again(back.as_deref(), &said, next).await {
            return page;
        }
    }
    if back.is_some() { failure.shown(back) } else { response }
}

/// The page of this site that a request came from, as a path.
fn came_from(headers: &HeaderMap) -> Option<String> {
    let text = |name| headers.get(name).and_then(|value: &HeaderValue| value.to_str().ok());
    let from: Uri = text(header::REFERER)?.parse().ok()?;
    let is_ours = from.authority().is_some_and(|a| Some(a.as_str()) == text(header::HOST));
    let path = from.path_and_query().map(ToString::to_string)?;
    (is_ours && path.starts_with('/') && !path.starts_with("//")).then_some(path)
}
