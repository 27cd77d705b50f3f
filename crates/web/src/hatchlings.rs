//! The hatchlings of a clutch, one by one: what each looks like, chosen among what its parents can
//! give; and what is known by now of its father and its hidden genes.

use answers::sire::{
    CandidateShown, Father, GeneMaybe, HatchlingShown, PossibleLook, SURE, SireAnswer,
};
use askama::Template;
use axum::response::Response;
use records::colony::Clutch;
use records::facts::{Added, Looked, Weighed};
use records::{AnimalId, BatchId, ClutchId, Fact, RecordId, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand;
use units::{Day, When};

use crate::asking::{Asked, Fields, Filled};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::said::{dated, percent, unbroken};
use crate::site::{Site, View};
use crate::writing::reading::{unanswered, words};
use crate::writing::whereabouts::free_code;
use crate::writing::{mass_in, saved};

/// Looks that are offered at once; rarer ones are folded. Our choice: two columns of a phone.
const OFFERED: usize = 10;
/// Longest look typed by hand, in characters; our choice.
const LONGEST: usize = 200;
/// Days after hatching for which her page leads here.
const LED_TO: i32 = 400;

/// A hatchling that is written.
struct Written {
    name: String,
    link: String,
    says: String,
    may_carry: String,
    father: String,
}

/// A look that can be chosen.
struct Choice {
    /// As it is written.
    look: String,
    chance: String,
}

#[derive(Template)]
#[template(path = "hatchlings.html")]
struct Page {
    frame: Frame,
    dam: (String, String),
    fathers: Vec<String>,
    count: String,
    written: Vec<Written>,
    clashes: bool,
    form: Option<Form>,
}

struct Form {
    ids: [RecordId; 4],
    clutch: String,
    code: String,
    hatched: String,
    choices: Vec<Choice>,
    rarer: Vec<Choice>,
    warning: String,
    back: String,
}

/// Links from the page of the one that laid: clutches that hatched not long ago.
pub fn links(view: &View, place: usize) -> Vec<(String, String)> {
    let laid = view.colony.animals[place].laid.iter().map(|l| &view.colony.clutches[l.what]);
    let recent = laid.filter_map(|clutch| {
        let day = clutch.hatched_by(view.day)?;
        let is_recent = view.day.days_since(day) <= LED_TO && day <= view.day;
        is_recent.then(|| {
            let said = format!("Hatchlings of {}: {}", dated(day), count(clutch));
            (said, view.link(&format!("/hatchlings?clutch={}", clutch.id.0)))
        })
    });
    recent.collect()
}

/// The same of all clutches that hatched lately and of which young are still to be written.
pub fn of_late(view: &View) -> Vec<(String, String)> {
    /// Our own choice.
    const LATELY_DAYS: i32 = 60;
    let clutches = view.colony.clutches.iter().rev();
    let late = clutches.filter_map(|clutch| {
        let day = clutch.hatched_by(view.day)?;
        let all = clutch.hatched.as_ref().and_then(|h| h.what);
        let is_full = all.is_some_and(|all| clutch.young.len() >= usize::from(all));
        (view.day.days_since(day) <= LATELY_DAYS && !is_full).then(|| {
            let name = view.called(clutch.female);
            let said = format!("Hatchlings of {name}, {}: {}", dated(day), count(clutch));
            (said, view.link(&format!("/hatchlings?clutch={}", clutch.id.0)))
        })
    });
    late.collect()
}

/// "2 of 6 written", "2 written".
fn count(clutch: &Clutch) -> String {
    let n = clutch.young.len();
    match clutch.hatched.as_ref().and_then(|h| h.what) {
        Some(all) if usize::from(all) >= n => format!("{n} of {all} written"),
        _ => format!("{n} written"),
    }
}

/// `/hatchlings?clutch=`
pub async fn page(site: Site, Asked(fields): Asked) -> Result<Response, Failure> {
    let view = site.look(fields.on()?)?;
    let id = fields.record("clutch")?;
    let (at, clutch) = find(&view, ClutchId(id))?;
    let answer = site.sire(&view.colony, at);
    let path = format!("/hatchlings?clutch={id}");
    let title = clutch.code.as_ref().map_or_else(
        || format!("Hatchlings of {}", view.called(clutch.female)),
        |code| format!("Hatchlings of clutch {code}"),
    );
    let shown = |at: &usize| written(&view, *at, answer.as_ref());
    let hatched = clutch.hatched.as_ref().map(|h| h.day);
    let is_full = clutch.hatched.as_ref().and_then(|h| h.what);
    let is_full = is_full.is_some_and(|all| clutch.young.len() >= usize::from(all));
    let page = Page {
        frame: Frame::around(&view, title, "Animals", &path).with(notice(&site, &view, &fields)),
        dam: (view.called(clutch.female), view.animal_link(clutch.female)),
        fathers: answer.as_ref().map(|a| fathers(&view, a)).unwrap_or_default(),
        count: count(clutch),
        written: clutch.young.iter().map(shown).collect(),
        clashes: answer.as_ref().is_some_and(|a| !a.clashing.is_empty()),
        form: hatched
            .filter(|_| !is_full)
            .map(|day| form(&view, clutch, day, answer.as_ref(), &view.link(&path))),
    };
    Ok(html(&page))
}

fn find(view: &View, id: ClutchId) -> Result<(usize, &Clutch), Failure> {
    let mut all = view.colony.clutches.iter().enumerate();
    all.find(|(_, clutch)| clutch.id == id).ok_or_else(|| {
        Failure::missing(
            "There is no such clutch (any more).",
            "Open the page of the one that laid it.",
        )
    })
}

/// Who may have fathered it; with chances where several may, or somebody nobody wrote down.
fn fathers(view: &View, answer: &SireAnswer) -> Vec<String> {
    /// Below it the unknown is not worth a word; our own choice.
    const LEAST_UNKNOWN: f64 = 0.2;
    let is_told = |c: &&CandidateShown| match c.candidate.father {
        Father::Male(_) | Father::Stored(_) => c.any >= 0.01,
        Father::Unknown | Father::Nobody => c.any >= LEAST_UNKNOWN,
    };
    let told: Vec<&CandidateShown> = answer.candidates.iter().filter(is_told).collect();
    let said = |c: &&CandidateShown| {
        let name = match c.candidate.father {
            Father::Male(place) => view.called(place),
            Father::Stored(place) => format!("{}, stored from last season", view.called(place)),
            Father::Nobody => "no male at all".to_owned(),
            Father::Unknown => "a male nobody wrote down".to_owned(),
        };
        if told.len() == 1 { name } else { format!("{name} {}", percent(c.any)) }
    };
    told.iter().map(said).collect()
}

fn written(view: &View, place: usize, answer: Option<&SireAnswer>) -> Written {
    let animal = &view.colony.animals[place];
    let sex = animal.sex().map(|sex| sex.word().to_owned());
    let look = sheets::told::told(animal).map(str::to_owned);
    let mass = animal.weights.first().map(|w| unbroken(&view.you.measures.mass(w.what)));
    let says: Vec<String> = sex.into_iter().chain(look).chain(mass).collect();
    let shown = answer.and_then(|a| a.hatchlings.iter().find(|h| h.place == place).map(|h| (a, h)));
    Written {
        name: view.called(place),
        link: view.animal_link(place),
        says: says.join(", "),
        may_carry: shown.map_or_else(String::new, |(_, h)| may_carry(h)),
        father: shown.map_or_else(String::new, |(a, h)| father(view, a, h)),
    }
}

/// "het clown 66.7 %, het piebald".
fn may_carry(hatchling: &HatchlingShown) -> String {
    let hidden = hatchling.genes.iter().filter(|g| {
        let is_recessive = builtin().allele(g.gene).map(|a| a.mode);
        is_recessive == Some(genetics::catalogue::Mode::Recessive) && g.carries >= 0.01
    });
    let one = |g: &GeneMaybe| {
        let name = builtin().gene_name(g.gene);
        if g.carries > 0.995 {
            format!("het {name}")
        } else {
            format!("{} het {name}", percent(g.carries))
        }
    };
    hidden.map(one).collect::<Vec<_>>().join(", ")
}

/// Its likeliest father, where the clutch has several.
fn father(view: &View, answer: &SireAnswer, hatchling: &HatchlingShown) -> String {
    let likeliest = hatchling.fathers.iter().zip(&answer.candidates);
    let likeliest = likeliest.max_by(|a, b| a.0.total_cmp(b.0));
    match likeliest {
        Some((p, c)) if *p < SURE || answer.two > 1.0 - SURE => match c.candidate.father {
            Father::Male(place) | Father::Stored(place) => {
                format!("by {} {}", view.called(place), percent(*p))
            }
            Father::Unknown | Father::Nobody => String::new(),
        },
        _ => String::new(),
    }
}

fn form(
    view: &View,
    clutch: &Clutch,
    hatched: Day,
    answer: Option<&SireAnswer>,
    back: &str,
) -> Form {
    let looks: &[PossibleLook] = answer.map_or(&[], |a| a.looks.as_slice());
    // A look that the trade's words do not give back is written by hand.
    let all: Vec<Choice> = looks.iter().filter_map(choice).collect();
    let mut choices = all;
    let rarer = choices.split_off(choices.len().min(OFFERED));
    let code = clutch.code.clone().unwrap_or_else(|| {
        format!("{}-{}", view.colony.code(clutch.female), hatched.year().rem_euclid(100))
    });
    let used = |n: &usize| {
        let own = format!("{code}-{n}").to_lowercase();
        !view.colony.ever_bore(&own).is_empty()
    };
    let next = (1..).find(|n| !used(n)).unwrap_or(1);
    Form {
        ids: std::array::from_fn(|_| store::new_id()),
        clutch: clutch.id.0.to_string(),
        code: format!("{code}-{next}"),
        hatched: hatched.to_string(),
        choices,
        rarer,
        warning: warning(view, clutch, answer),
        back: back.to_owned(),
    }
}

fn choice(look: &PossibleLook) -> Option<Choice> {
    let text = if look.look.is_empty() { "normal".to_owned() } else { look.look.join(" ") };
    let is_read = shorthand::read(&text, builtin()).questions.is_empty();
    is_read.then(|| Choice { look: text, chance: percent(look.chance) })
}

fn warning(view: &View, clutch: &Clutch, answer: Option<&SireAnswer>) -> String {
    let dam = view.called(clutch.female);
    let males = answer.map(|a| {
        let known = a.candidates.iter().filter(|c| c.any >= 0.01);
        known
            .filter_map(|c| match c.candidate.father {
                Father::Male(place) | Father::Stored(place) => Some(view.called(place)),
                Father::Unknown | Father::Nobody => None,
            })
            .collect::<Vec<_>>()
    });
    let by = match males.unwrap_or_default().as_slice() {
        [] => return "No male is written with her, so that any look may come out.".to_owned(),
        males => males.join(" or "),
    };
    format!(
        "By all records the young of {dam} by {by} look as listed. Write another look if that is what you see: then another male, stored sperm, no male at all, or a word of a label is behind it, and the Desk names the records."
    )
}

/// A hatchling is written: the animal, its look and its weight as one batch.
pub async fn add(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let (id, look_id, mass_id) =
        (form.record("record")?, form.record("second")?, form.record("third")?);
    let batch = BatchId(form.record("batch")?);
    let (_, clutch) = find(&view, ClutchId(form.record("clutch")?))?;
    let Some(hatched) = clutch.hatched.as_ref().map(|h| h.day) else {
        return Err(Failure::typed(
            "That clutch is not written to have hatched; nothing was written.",
            "Write its hatching on the page of the one that laid it.",
        ));
    };
    let animal = AnimalId(id);
    let code = free_code(&form, &view, animal)?;
    let sex = match form.get("sex") {
        None => return Err(unanswered("its sex")),
        Some("not told") => None,
        Some(word) => Some(Sex::from_word(word).ok_or_else(|| unanswered("its sex"))?),
    };
    let look = looked(&form)?;
    let parent = |place: usize| view.colony.animals[place].id;
    let added = Added {
        sex,
        hatched: Some(hatched),
        sire: clutch.sire.map(parent),
        dam: Some(parent(clutch.female)),
        clutch: clutch.code.clone(),
        ..Added::with_code(code)
    };
    let when = When::Day(hatched);
    let mut drafts = vec![
        site.draft(id, when, Fact::Added(added)),
        site.draft(look_id, when, Fact::Looked(Looked { animal, look })),
    ];
    if let Some(mass) = mass_in(&form, "grams", site.you())? {
        drafts.push(site.draft(mass_id, when, Fact::Weighed(Weighed { animal, mass })));
    }
    for draft in &mut drafts {
        draft.batch = Some(batch);
    }
    site.append(drafts)?;
    Ok(saved(&form, batch.0))
}

/// The look chosen, else the one typed.
fn looked(form: &Fields) -> Result<String, Failure> {
    let typed = words(form, "other", LONGEST)?;
    let chosen = form.get("look").filter(|look| *look != "other").map(str::to_owned);
    match (chosen, typed) {
        (Some(_), Some(_)) => Err(Failure::typed(
            "A look is chosen and another one typed; nothing was written.",
            "Leave one of the two.",
        )),
        (Some(look), None) | (None, Some(look)) if look.chars().count() <= LONGEST => Ok(look),
        _ => Err(unanswered("what it looks like")),
    }
}
