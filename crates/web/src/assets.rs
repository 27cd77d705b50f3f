//! The stylesheet, the script and the icon, inside the program.

use axum::http::{HeaderValue, header};
use axum::response::IntoResponse;

fn file(kind: &'static str, text: &'static str) -> impl IntoResponse {
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static(kind)),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-cache")),
    ];
    (headers, text)
}

/// The stylesheet.
pub async fn style() -> impl IntoResponse {
    file("text/css; charset=utf-8", include_str!("../assets/style.css"))
}

/// The keys of the keyboard.
pub async fn keys() -> impl IntoResponse {
    file("text/javascript; charset=utf-8", include_str!("../assets/keys.js"))
}

/// The icon.
pub async fn icon() -> impl IntoResponse {
    file("image/svg+xml", include_str!("../assets/icon.svg"))
}
