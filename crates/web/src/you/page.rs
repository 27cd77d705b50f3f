//! The small page on which a person says who they are and what they read.

use askama::Template;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use units::{Celsius, Grams};

use super::{HeatUnit, LONGEST_NAME, MassUnit, Measures, You, person};
use crate::asking::{Asked, Fields, Filled};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::site::Site;

#[derive(Template)]
#[template(path = "you.html")]
struct Page {
    frame: Frame,
    longest: usize,
    mass: [(MassUnit, &'static str); 2],
    heat: [(HeatUnit, &'static str); 2],
    example: String,
    back: String,
}

/// `/you`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let measures = view.you.measures;
    let page = Page {
        longest: LONGEST_NAME,
        mass: [(MassUnit::Grams, "Grams"), (MassUnit::Ounces, "Ounces")],
        heat: [(HeatUnit::Celsius, "°C"), (HeatUnit::Fahrenheit, "°F")],
        example: format!(
            "A hatchling weighs {}, a hot spot has {}.",
            measures.mass(Grams::from_steps(660)),
            measures.heat(Celsius::from_steps(3200))
        ),
        back: asked.back().to_owned(),
        frame: Frame::around(&view, "You", "", "/you"),
    };
    Ok(html(&page))
}

/// The form of that page.
pub async fn choose(Filled(form): Filled) -> Result<Response, Failure> {
    let you = You { name: name(&form)?, measures: measures(&form)? };
    Ok(known(&you, form.back()))
}

/// The name in the field `name`.
pub fn name(form: &Fields) -> Result<String, Failure> {
    person(form.get("name").unwrap_or_default()).ok_or_else(|| {
        Failure::typed(
            format!("This is no name that can be kept, or it is longer than {LONGEST_NAME} signs."),
            "Write a short one, such as Anna; it may also be left empty.",
        )
    })
}

fn measures(form: &Fields) -> Result<Measures, Failure> {
    let mass = form.get("mass").and_then(MassUnit::from_word);
    let heat = form.get("heat").and_then(HeatUnit::from_word);
    let chosen = mass.zip(heat).map(|(mass, heat)| Measures { mass, heat });
    chosen.ok_or_else(|| {
        Failure::typed(
            "Nothing says in which units you read weights and temperatures.",
            "Press grams or ounces, and °C or °F.",
        )
    })
}

/// Back to where they came from, with the cookies that remember the person.
pub fn known(you: &You, back: &str) -> Response {
    let to = HeaderValue::from_str(back).unwrap_or(HeaderValue::from_static("/"));
    let mut response = (StatusCode::SEE_OTHER, [(header::LOCATION, to)]).into_response();
    for cookie in you.cookies() {
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            response.headers_mut().append(header::SET_COOKIE, cookie);
        }
    }
    response
}
