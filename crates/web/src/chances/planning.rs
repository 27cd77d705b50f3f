//! The forms: a pair is planned, or an animal's genes are written anew.

use axum::response::Response;
use records::facts::{Change, Changed, Planned, Retracted, Target};
use records::words::Choice;
use records::{BatchId, Fact, PlannedMale, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand::{self, target};
use sheets::typed::{Typed, number};
use units::When;

use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::site::{Site, View};
use crate::writing::saved;

/// Longest text of genes, in characters; our choice.
const LONGEST: usize = 300;
/// What rules the pair out: it is not to be placed.
const NEVER: &str = "never";
/// How much a pair may be wanted; the journal's own limits, and 0 has a button of its own.
const WEIGHTS: std::ops::RangeInclusive<f64> = 0.01..=100.0;

/// A pair is planned; an earlier plan of the same pair is withdrawn with it.
pub async fn planned(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let (day, when) = (form.day("day")?, site.happened(&form)?);
    let view = site.look(Some(day))?;
    let (id, batch) = (form.record("record")?, form.record("batch")?);
    let female = form.animal("female", &view)?;
    of_sex(&view, female, Sex::Female)?;
    let fact = Fact::Planned(Planned {
        female,
        male: male(&form, &view)?,
        choice: choice(&form)?,
        weight: if form.get("choice") == Some(NEVER) { 0.0 } else { weight(&form)? },
    });
    let mut drafts = vec![site.draft(id, when, fact)];
    if form.get("replaces").is_some() {
        let replaced = form.record("replaces")?;
        let is_hers = view
            .colony
            .record(replaced)
            .is_some_and(|live| matches!(&live.fact, Fact::Planned(plan) if plan.female == female));
        let was_sent_before = !site.written(id).0.is_empty();
        if !is_hers && !was_sent_before {
            return Err(Failure::missing(
                "The plan that this one replaces does not stand any more; nothing was written.",
                "Open the page of the pair again and plan it anew.",
            ));
        }
        let what = Target::Record(replaced);
        let why = "planned otherwise".to_owned();
        let fact = Fact::Retracted(Retracted { what, why });
        drafts.push(site.draft(form.record("second")?, When::Undated, fact));
    }
    for draft in &mut drafts {
        draft.batch = Some(BatchId(batch));
    }
    site.append(drafts)?;
    Ok(saved(&form, batch))
}

fn of_sex(view: &View, animal: records::AnimalId, sex: Sex) -> Result<(), Failure> {
    let place = view.colony.place_of(animal);
    let told = place.and_then(|place| view.colony.animals[place].sex());
    if told == Some(sex) {
        return Ok(());
    }
    Err(Failure::typed(
        format!("A planned pair needs a {sex} on this side; nothing was written."),
        "Open Chances, choose a female and one of the males of the house.",
    ))
}

fn male(form: &Fields, view: &View) -> Result<PlannedMale, Failure> {
    if form.get("male").is_some() {
        let male = form.animal("male", view)?;
        of_sex(view, male, Sex::Male)?;
        return Ok(PlannedMale::Animal(male));
    }
    let text = form.get("carrying").filter(|text| text.chars().count() <= LONGEST);
    let text = text.ok_or_else(|| {
        Failure::typed(
            "Nothing says which male, or what he must carry; nothing was written.",
            "Write a gene, such as \"enchi\".",
        )
    })?;
    target::read(text, builtin()).map_err(|question| {
        Failure::typed(
            format!(
                "What he must carry cannot be read: {} Nothing was written.",
                question.sentence()
            ),
            "Write it like \"enchi\", \"clown or pastel\" or \"pastel and carries clown\".",
        )
    })?;
    Ok(PlannedMale::Carrying(text.to_owned()))
}

fn choice(form: &Fields) -> Result<Choice, Failure> {
    match form.get("choice") {
        Some("first" | NEVER) => Ok(Choice::First),
        Some("second") => Ok(Choice::Second),
        _ => Err(Failure::typed(
            "Nothing says whether he is her first or second choice; nothing was written.",
            "Press First choice or Second choice.",
        )),
    }
}

fn weight(form: &Fields) -> Result<f64, Failure> {
    let Some(text) = form.get("weight") else { return Ok(1.0) };
    match number(text, "x", WEIGHTS) {
        Typed::Number(weight) => Ok(weight),
        _ => Err(Failure::typed(
            format!("\"{text}\" does not say how much the pair is wanted; nothing was written."),
            "Write a number from 0.01 to 100; 1 is ordinary, 2 counts twice. What must not be is ruled out by its own button.",
        )),
    }
}

/// An animal's genes are written anew.
pub async fn genes(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let day = form.day("day")?;
    let view = site.look(Some(day))?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let text = form.get("genes").filter(|text| text.chars().count() <= LONGEST);
    let text = text.ok_or_else(|| {
        Failure::typed(
            "No genes were written, or too many words; nothing was written.",
            "Write them as the trade does: Pastel Enchi het Clown; or normal.",
        )
    })?;
    let reading = shorthand::read(text, builtin());
    if let Some(question) = reading.questions.first() {
        return Err(Failure::typed(
            format!("The genes leave a question: {} Nothing was written.", question.sentence()),
            "Write the words the catalogue knows.",
        ));
    }
    // What an animal's genes are held from the beginning, whenever they were told.
    let change = Change::Genes(text.to_owned());
    let fact = Fact::Changed(Changed { animal, change });
    site.append(vec![site.draft(id, When::Undated, fact)])?;
    Ok(saved(&form, id))
}
