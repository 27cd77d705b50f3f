//! Light, dark and night room, kept in a cookie; no script.

use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};

use crate::asking::Filled;
use crate::failure::Failure;
use crate::you::cookie;

const LIGHT: &str = ":root{color-scheme:light;--paper:#f6f2ea;--ink:#25211b;--soft:#6a6256;\
    --line:#d9d1c1;--edge:#8b8272;--ember:#a8431a;--mark:#a8431a;--raised:#fffdf8}";
const DARK: &str = ":root{color-scheme:dark;--paper:#15130f;--ink:#ece5d8;--soft:#a39a88;\
    --line:#3a352b;--edge:#7d7463;--ember:#e8854f;--mark:#e8854f;--raised:#1e1b16}";
const NIGHT: &str = ":root{color-scheme:dark;--paper:#0b0501;--ink:#ff9b45;--soft:#c8702a;\
    --line:#3a1c07;--edge:#9a531c;--ember:#ffb46b;--mark:#ff5a36;--raised:#160a03}\
    ::-webkit-calendar-picker-indicator{filter:sepia(1) saturate(6) hue-rotate(-12deg)}";

/// The colours of the theme the cookie names; without one, light or dark as the device asks.
pub async fn sheet(headers: HeaderMap) -> Response {
    let theme = cookie(&headers, "theme").unwrap_or_default();
    let mark = |name: &str| format!("button[value={name}]{{border-width:2px;font-weight:700}}");
    let css = match theme {
        "light" => format!("{LIGHT}{}", mark("light")),
        "dark" => format!("{DARK}{}", mark("dark")),
        "night" => format!("{NIGHT}{}", mark("night")),
        _ => format!("{LIGHT}@media (prefers-color-scheme:dark){{{DARK}}}"),
    };
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("text/css; charset=utf-8")),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    (headers, css).into_response()
}

/// Sets the cookie and goes back.
pub async fn choose(Filled(form): Filled) -> Result<Response, Failure> {
    let theme = form.get("theme").unwrap_or_default();
    let cookie = match theme {
        "light" => "theme=light; Path=/; Max-Age=31536000; SameSite=Lax",
        "dark" => "theme=dark; Path=/; Max-Age=31536000; SameSite=Lax",
        "night" => "theme=night; Path=/; Max-Age=31536000; SameSite=Lax",
        other => {
            return Err(Failure::typed(
                format!("There is no theme \"{other}\"."),
                "Choose light, dark or night room at the foot of a page.",
            ));
        }
    };
    let headers = [
        (header::SET_COOKIE, HeaderValue::from_static(cookie)),
        (
            header::LOCATION,
            HeaderValue::from_str(form.back()).unwrap_or(HeaderValue::from_static("/")),
        ),
    ];
    Ok((StatusCode::SEE_OTHER, headers).into_response())
}
