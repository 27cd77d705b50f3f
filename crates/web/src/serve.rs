//! The address book of the site, its guards, and the server.

use std::net::{Ipv4Addr, SocketAddr};

use axum::extract::{DefaultBodyLimit, Request};
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::{self, Next};
use axum::response::IntoResponse;
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Router, http};
use store::{Store, StoreError};
use thiserror::Error;
use tower_http::compression::CompressionLayer;
use tower_http::csrf::{CsrfLayer, ProtectionError};
use tower_http::set_header::SetResponseHeaderLayer;

use crate::failure::{Failure, way_back};
use crate::phones::Phones;
use crate::phones::door::{Door, guard};
use crate::site::{Clock, Site};
use crate::writing::{breeding, care, identity, lab, meals, morning, warmth, whereabouts};
use crate::you::Unasked;
use crate::{
    animal, animals, assets, calendar, chances, correct, desk, eggs, family, hatchlings, import,
    keys, learned, round, season, settings, step, theme, tonight, track, writing, you,
};

/// How the pages are served.
pub struct Options {
    /// Where to listen; port 0 takes any free one.
    pub address: SocketAddr,
    /// Tells what time it is.
    pub clock: Clock,
    /// The phones that may come in beside this machine; where there are none to tell apart,
    /// whoever reaches the address may.
    pub phones: Option<Phones>,
    /// Called once with the address that answers.
    pub ready: Box<dyn FnOnce(SocketAddr) + Send>,
}

/// Why the pages could not be served.
#[derive(Debug, Error)]
pub enum ServeError {
    /// The journal refused.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The address could not be taken.
    #[error("could not listen on {address}: {source}. Name another with --port")]
    Address {
        /// The address.
        address: SocketAddr,
        /// Why.
        source: std::io::Error,
    },
    /// The server stopped.
    #[error("the server stopped: {0}. Start it again; what was saved is on disk")]
    Stopped(std::io::Error),
}

const POLICY: &str = "default-src 'self'; base-uri 'none'; object-src 'none'; \
    form-action 'self'; frame-ancestors 'none'";

/// A form with everything a keeper could type stays far below this.
pub const LARGEST_FORM: usize = 256 * 1024;

/// All pages over one journal, behind a door that knows the phones.
pub fn router(site: Site, phones: Option<Phones>) -> Router {
    let door = Door::new(&site, phones);
    let pages = Router::new()
        .route("/", get(tonight::page))
        .route("/round", get(round::either))
        .route("/round/evening", get(round::evening))
        .route("/round/morning", get(round::morning))
        .route("/round/feeding", get(round::feeding))
        .route("/round/checks", get(round::checks))
        .route("/round/weights", get(round::weights))
        .route("/season", get(season::page))
        .route("/track", get(track::page))
        .route("/learned", get(learned::page))
        .route("/calendar", get(calendar::page).post(calendar::make))
        .route("/calendar/away", post(calendar::away))
        .route("/calendar/{name}", get(calendar::feed))
        .route("/chances", get(chances::page))
        .route("/planned", post(chances::planning::planned))
        .route("/genes", post(chances::planning::genes))
        .route("/animals", get(animals::page))
        .route("/animal/{code}", get(animal::page))
        .route("/animal/{code}/family", get(family::page))
        .route("/hatchlings", get(hatchlings::page))
        .route("/hatchling", post(hatchlings::add))
        .route("/correct/{record}", get(correct::page))
        .route("/desk", get(desk::page))
        .route("/desk/right", post(desk::right))
        .route("/desk/answer", post(desk::answered))
        .route("/desk/left-out", post(desk::left_out))
        .route("/settings", get(settings::page))
        .route("/set", post(settings::set))
        .merge(importing())
        .merge(incubating())
        .route("/placed", post(writing::placed))
        .route("/morning", post(morning::morning))
        .route("/checked", post(writing::checked))
        .route("/weighed", post(writing::weighed))
        .route("/fed", post(meals::fed))
        .route("/fed/rack", post(meals::rack))
        .route("/shed", post(care::shed))
        .route("/apart", post(care::apart))
        .route("/noted", post(care::noted))
        .route("/lab", post(lab::tested))
        .route("/looked", post(identity::looked))
        .route("/parent", post(identity::parent))
        .route("/breeding", post(breeding::event))
        .route("/together", post(breeding::together))
        .route("/laid", post(breeding::laid))
        .route("/hatched", post(breeding::hatched))
        .route("/moved", post(whereabouts::moved))
        .route("/left", post(whereabouts::left))
        .route("/came-back", post(whereabouts::came_back))
        .route("/sex-told", post(whereabouts::sex_told))
        .route("/added", post(whereabouts::added))
        .route("/corrected", post(correct::corrected))
        .route("/undo", post(writing::undo))
        .route("/step", post(step::step))
        .route("/theme", post(theme::choose))
        .route("/you", get(you::page::page).post(you::page::choose))
        .route("/theme.css", get(theme::sheet))
        .route("/style.css", get(assets::style))
        .route("/keys", get(keys::page))
        .route("/keys.js", get(assets::keys))
        .route("/icon.svg", get(assets::icon))
        .fallback(nowhere)
        .method_not_allowed_fallback(nowhere)
        .with_state(Unasked(site))
        .merge(door.clone().page())
        .layer(middleware::from_fn_with_state(door, guard))
        .layer(middleware::from_fn(own_name));
    guarded(pages)
}

/// What stands around the whole address book: the page of a refused form is asked for anew.
fn guarded(pages: Router) -> Router {
    let always = |name: HeaderName, value: &'static str| {
        SetResponseHeaderLayer::overriding(name, HeaderValue::from_static(value))
    };
    let foreign = |_: ProtectionError| Failure::foreign().into_response();
    Router::new()
        .fallback_service(pages)
        .layer(middleware::from_fn(way_back))
        .layer(CsrfLayer::new().with_rejection_response(foreign))
        .layer(DefaultBodyLimit::max(LARGEST_FORM))
        .layer(CompressionLayer::new())
        .layer(always(header::CONTENT_SECURITY_POLICY, POLICY))
        .layer(always(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .layer(always(header::REFERRER_POLICY, "same-origin"))
}

/// Sheets come in by pages of their own; only they take large requests.
fn importing() -> Router<Unasked> {
    let large = DefaultBodyLimit::max(import::LARGEST_REQUEST);
    Router::new()
        .route("/import", get(import::page).merge(post(import::upload).layer(large)))
        .route("/import/{id}", get(import::preview))
        .route("/import/{id}/rows", get(import::rows))
        .route("/import/{id}/read", post(import::told))
        .route("/import/{id}/leave", post(import::leave))
        .route("/import/{id}/away", post(import::away))
        .route("/import/{id}/commit", post(import::commit))
}

/// Eggs and how warm they lie.
fn incubating() -> Router<Unasked> {
    Router::new()
        .route("/eggs", get(eggs::page))
        .route("/temperature", post(warmth::temperature))
        .route("/incubated", post(warmth::incubated))
}

/// Answers only to an IP address or `localhost`: a foreign page that has a name of its own point at
/// this machine would else pass for one of ours.
async fn own_name(request: Request, next: Next) -> Response {
    let named = request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    let authority = named.and_then(|host| host.parse::<http::uri::Authority>().ok());
    let is_ours = authority.is_some_and(|authority| {
        let host = authority.host().trim_matches(['[', ']']);
        host.eq_ignore_ascii_case("localhost") || host.parse::<std::net::IpAddr>().is_ok()
    });
    if is_ours { next.run(request).await } else { Failure::unnamed().into_response() }
}

async fn nowhere() -> Failure {
    Failure::missing(
        "There is no such page.",
        "Begin at Tonight, or find the animal in the list of animals.",
    )
}

/// The address under which this machine itself reaches a listener.
#[must_use]
pub fn on_this_machine(mut bound: SocketAddr) -> SocketAddr {
    if bound.ip().is_unspecified() {
        bound.set_ip(Ipv4Addr::LOCALHOST.into());
    }
    bound
}

/// Serves until the process ends.
///
/// # Errors
/// [`ServeError`].
pub fn serve(store: Store, options: Options) -> Result<(), ServeError> {
    let Options { address, clock, phones, ready } = options;
    let site = Site::new(store, clock)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(ServeError::Stopped)?;
    runtime.block_on(async {
        let taken = |source| ServeError::Address { address, source };
        let listener = tokio::net::TcpListener::bind(address).await.map_err(taken)?;
        let bound = listener.local_addr().map_err(taken)?;
        site.announce(&format!("http://{}", on_this_machine(bound)))?;
        ready(bound);
        let pages = router(site, phones).into_make_service_with_connect_info::<SocketAddr>();
        axum::serve(listener, pages).await.map_err(ServeError::Stopped)
    })
}
