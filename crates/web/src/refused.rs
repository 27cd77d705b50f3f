//! A form that was refused comes back on its own page, with everything that was typed and the
//! sentence above it. Done here once for every form, so that no page has to keep what was typed.

mod form;
mod tags;

use axum::body::{Body, Bytes, to_bytes};
use axum::extract::{FromRequest, Request};
use axum::http::{HeaderMap, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::Response;

use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::serve::LARGEST_FORM;
use form::{PAGE, filled};

/// A page larger than this is not filled in; the largest of two thousand animals is far below.
const LARGEST_PAGE: usize = 16 * 1024 * 1024;

/// A form as sent, and all that is needed to ask for its page again.
pub struct SentForm {
    /// Where it was sent.
    action: String,
    fields: Fields,
    request: axum::http::request::Parts,
}

/// The request as it came, and the form in it where it is one.
///
/// # Errors
/// The sentence for a body that could not be read, or is too long for a form.
pub async fn kept(request: Request) -> Result<(Request, Option<SentForm>), Failure> {
    let kind = request.headers().get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok());
    let is_form = kind.is_some_and(|k| k.starts_with("application/x-www-form-urlencoded"));
    if request.method() != Method::POST || !is_form {
        return Ok((request, None));
    }
    let (parts, body) = request.into_parts();
    let body: Bytes = to_bytes(body, LARGEST_FORM).await.map_err(|_| Failure::unread())?;
    let again = || Request::from_parts(parts.clone(), Body::from(body.clone()));
    let Filled(fields) = Filled::from_request(again(), &()).await?;
    let request = again();
    Ok((request, Some(SentForm { action: parts.uri.path().to_owned(), fields, request: parts })))
}

impl SentForm {
    /// Where the form leads back to once it is saved: most often the page it stands on.
    pub fn way_back(&self) -> Option<&str> {
        self.fields.path("back")
    }

    /// The page of the form again, filled in; none where it stands there no more.
    pub async fn again(self, came_from: Option<&str>, said: &str, next: Next) -> Option<Response> {
        let address = without_notice(self.fields.path(PAGE).or(came_from).or(self.way_back())?);
        let mut parts = self.request;
        parts.method = Method::GET;
        parts.uri = address.parse::<Uri>().ok()?;
        let of_body = [header::CONTENT_TYPE, header::CONTENT_LENGTH, header::TRANSFER_ENCODING];
        of_body.iter().for_each(|name| drop(parts.headers.remove(name)));
        let (parts, body) = next.run(Request::from_parts(parts, Body::empty())).await.into_parts();
        if parts.status != StatusCode::OK || !is_page(&parts.headers) {
            return None;
        }
        let page = String::from_utf8(to_bytes(body, LARGEST_PAGE).await.ok()?.to_vec()).ok()?;
        let page = filled(&page, &address, &self.action, self.fields.sent(), said)?;
        let mut response = Response::from_parts(parts, Body::from(page));
        response.headers_mut().remove(header::CONTENT_LENGTH);
        *response.status_mut() = StatusCode::BAD_REQUEST;
        Some(response)
    }
}

fn is_page(headers: &HeaderMap) -> bool {
    let kind = headers.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok());
    kind.is_some_and(|kind| kind.starts_with("text/html"))
}

/// The address without what was written before: it must not stand beside what was not.
fn without_notice(address: &str) -> String {
    let (path, query) = address.split_once('?').unwrap_or((address, ""));
    let is_notice = |field: &&str| field.starts_with("saved=") || field.starts_with("undone=");
    let kept: Vec<&str> = query.split('&').filter(|f| !f.is_empty() && !is_notice(f)).collect();
    if kept.is_empty() { path.to_owned() } else { format!("{path}?{}", kept.join("&")) }
}
