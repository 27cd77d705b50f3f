//! Meals: one animal's, or a whole rack's in one step.

use axum::response::{IntoResponse, Redirect, Response};
use records::facts::Fed;
use records::{AnimalId, BatchId, Draft, Fact, Meal, RecordId};
use sheets::typed::LONGEST_PREY;
use units::When;

use super::saved;
use crate::asking::{Fields, Filled, with_field};
use crate::failure::Failure;
use crate::site::{Site, View};

/// Most prey at one meal; our choice.
const MOST: u16 = 50;
/// Animals of one rack at most: a form with more was not made by a page.
const MOST_ANIMALS: usize = 1000;

/// One animal was offered food.
pub async fn fed(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    site.append(vec![site.draft(id, when, told(&form, animal)?)])?;
    Ok(saved(&form, id))
}

/// What a form about one meal says.
pub fn told(form: &Fields, animal: AnimalId) -> Result<Fact, Failure> {
    let meal = form.get("meal").and_then(Meal::from_word).ok_or_else(|| {
        Failure::typed(
            "Nothing says whether the meal was taken; nothing was written.",
            "Press Took it or Refused.",
        )
    })?;
    offered(form, animal, meal, ("prey", "count"))
}

/// A rack was fed: everybody on it took the meal but those ticked.
pub async fn rack(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let batch = form.record("batch")?;
    let when = site.happened(&form)?;
    let mut drafts = Vec::new();
    for id in form.all("due").chain(form.all("later")).take(MOST_ANIMALS) {
        drafts.extend(one(&site, &view, &form, (id, when))?);
    }
    if drafts.is_empty() {
        return Err(Failure::typed(
            "Nobody was offered food by this form; nothing was written.",
            "Mark who ate, or open the next rack.",
        ));
    }
    for draft in &mut drafts {
        draft.batch = Some(BatchId(batch));
    }
    site.append(drafts)?;
    let to = with_field(form.back(), "saved", &batch.to_string());
    let to = match form.get("after_rack") {
        Some(rack) => with_field(&to, "after_rack", rack),
        None => to,
    };
    Ok(Redirect::to(&to).into_response())
}

/// What the rows of one animal say; none where it was not offered food.
fn one(
    site: &Site,
    view: &View,
    form: &Fields,
    (id, when): (&str, When),
) -> Result<Option<Draft>, Failure> {
    let animal = id.parse().ok().map(AnimalId).filter(|id| view.colony.place_of(*id).is_some());
    let animal = animal.ok_or_else(|| {
        Failure::missing(
            "An animal of this form is not in the journal (any more); nothing was written.",
            "Open the rack again and send its form once more.",
        )
    })?;
    let is_due = form.all("due").any(|due| due == id);
    let name = format!("{}.{id}", if is_due { "but" } else { "also" });
    let mut ticked: Vec<&str> = form.all(&name).collect();
    ticked.sort_unstable();
    ticked.dedup();
    let meal = match (ticked.as_slice(), is_due) {
        ([], true) | (["taken"], false) => Meal::Taken,
        (["refused"], _) => Meal::Refused,
        ([], false) | (["not offered"], true) => return Ok(None),
        _ => {
            let who = view.colony.place_of(animal).map_or_else(String::new, |p| view.called(p));
            return Err(Failure::typed(
                format!("Two answers are ticked for {who}; nothing was written."),
                "Leave one of the two.",
            ));
        }
    };
    let record: RecordId = form.record(&format!("record.{id}"))?;
    let names = (format!("prey.{id}"), format!("count.{id}"));
    let fact = offered(form, animal, meal, (&names.0, &names.1))?;
    Ok(Some(site.draft(record, when, fact)))
}

fn offered(
    form: &Fields,
    animal: AnimalId,
    meal: Meal,
    (prey, count): (&str, &str),
) -> Result<Fact, Failure> {
    let name = form.get(prey).unwrap_or_default();
    let is_printable = !name.chars().any(char::is_control);
    if name.is_empty() || name.chars().count() > LONGEST_PREY || !is_printable {
        return Err(Failure::typed(
            format!(
                "\"{}\" is no prey; nothing was written.",
                name.chars().take(80).collect::<String>()
            ),
            "Write its size and kind in up to 64 characters, such as small rat.",
        ));
    }
    let text = form.get(count).unwrap_or("1");
    let count: u16 = text.parse().ok().filter(|n| (1..=MOST).contains(n)).ok_or_else(|| {
        Failure::typed(
            format!(
                "\"{}\" is no count of prey; nothing was written.",
                text.chars().take(20).collect::<String>()
            ),
            "Write a whole number from 1 to 50.",
        )
    })?;
    Ok(Fact::Fed(Fed { animal, prey: name.to_owned(), count, meal }))
}
