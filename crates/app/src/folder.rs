//! Opening the data folder, and the moment a question is asked for.

use records::colony::Bearer;
use records::{AsOf, Colony};
use sheets::codes::near_codes;
use store::Store;
use units::{Day, Zone};

use crate::args::{Ask, InFolder};
use crate::refusal::Refusal;

/// Opens to read, also beside a running server.
pub fn reading(folder: &InFolder) -> Result<Store, Refusal> {
    Ok(Store::open_read_only(&folder.data)?)
}

/// Opens to write; refused while a server writes.
pub fn writing(folder: &InFolder) -> Result<Store, Refusal> {
    Ok(Store::open(&folder.data)?)
}

/// Reads a day off the command line.
pub fn day(text: &str, option: &str) -> Result<Day, Refusal> {
    sheets::typed::day(text).ok_or_else(|| {
        Refusal::new(
            format!("\"{text}\" is no day that can be written or asked about."),
            option,
            "Write it like 2026-02-10, from 1990 to 2199.",
        )
    })
}

/// The colony as of the day asked for.
pub fn colony(store: &Store, ask: &Ask) -> Result<(Colony, Zone), Refusal> {
    let zone = store.zone()?;
    let mut as_of = match &ask.on {
        Some(text) => AsOf::evening_of(day(text, "--on")?, &zone),
        None => AsOf::now(store.now(&zone), &zone),
    };
    as_of.known_on = ask.known_on.as_deref().map(|text| day(text, "--known-on")).transpose()?;
    Ok((Colony::fold(&store.standing(), &zone, as_of), zone))
}

/// The animal that bears a code on the day asked for.
pub fn animal(colony: &Colony, code: &str) -> Result<usize, Refusal> {
    let day = colony.as_of.day;
    match colony.bearer(code, Some(day)) {
        Bearer::One(place) => Ok(place),
        Bearer::Several(_) => Err(Refusal::new(
            format!("Several animals are called {code} on {day}."),
            code,
            "Ask as of a day on which only one is: --on 2026-02-10.",
        )),
        Bearer::Nobody => {
            let meant = match near_codes(colony, code).as_slice() {
                [] => "Write the code as it stands on the tub.".to_owned(),
                codes => format!("Did you mean {}?", codes.join(" or ")),
            };
            Err(Refusal::new(format!("No animal is called {code} on {day}."), code, meant))
        }
    }
}
