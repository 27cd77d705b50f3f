//! A made-up room goes on by a day, or back.

use axum::response::{IntoResponse, Redirect, Response};

use crate::asking::Filled;
use crate::failure::Failure;
use crate::site::Site;

/// From the day the page showed to the next one, or to the one before.
pub async fn step(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let from = form.day("day")?;
    let to = if form.get("to") == Some("before") { from - 1 } else { from + 1 };
    site.step(from, to)?;
    Ok(Redirect::to(form.back()).into_response())
}
