//! One record as a line of words.

use records::facts::{Change, Fed, Laid, Reading, Tested};
use records::{AnimalId, Colony, Fact, Found, LabFound, Meal, PlannedMale, ReadingKind, StayEnd};
use units::Grams;

/// What a record says. `mass`: a weight as whoever asks reads it.
#[must_use]
pub fn told(colony: &Colony, mass: &dyn Fn(Grams) -> String, fact: &Fact) -> String {
    let who = |id: &AnimalId| {
        colony.place_of(*id).map_or_else(|| "?".to_owned(), |place| colony.code(place).to_owned())
    };
    match fact {
        Fact::Added(f) => format!("{} added", f.code),
        Fact::Changed(f) => format!("{}: {}", who(&f.animal), change(&f.change, who)),
        Fact::SexTold(f) => format!("{} is {}", who(&f.animal), f.sex),
        Fact::Retagged(f) => format!("{} is called {}", who(&f.animal), f.code),
        Fact::Moved(f) => format!("{} moved to {}", who(&f.animal), f.tub),
        Fact::Left(f) => {
            let to = f.to.as_ref().map_or_else(String::new, |to| format!(" to {to}"));
            format!("{} {}{to}", who(&f.animal), f.how)
        }
        Fact::Borrowed(f) => format!("{} borrowed from {}", who(&f.animal), f.owner),
        Fact::Weighed(f) => {
            format!("{} weighed {}", who(&f.animal), mass(f.mass))
        }
        Fact::Fed(f) => fed(f, who),
        Fact::Shed(f) => format!("{} shed ({})", who(&f.animal), f.kind),
        Fact::Quarantine(f) => spell("quarantine", f.begins, &who(&f.animal)),
        Fact::Treatment(f) => spell("treatment", f.begins, &who(&f.animal)),
        Fact::Checked(f) => format!("{} follicle check: {}", who(&f.female), found(&f.found)),
        Fact::Placed(f) => {
            let until = if f.ends == StayEnd::NextNoon { " for the night" } else { "" };
            format!("{} placed with {}{until}", who(&f.male), who(&f.female))
        }
        Fact::TakenOut(f) => format!("{} taken out from {}", who(&f.male), who(&f.female)),
        Fact::LockLooked(f) => {
            format!("lock of {} with {}: {}", who(&f.male), who(&f.female), f.lock)
        }
        Fact::Ovulated(f) => format!("{} ovulated ({})", who(&f.female), f.certainty),
        Fact::Laid(f) => laid(f, who),
        Fact::Incubated(f) => format!("eggs put into {}", f.place),
        Fact::Reading(f) => {
            let fahrenheit = f.celsius.get() * 1.8 + 32.0;
            reading(f, &format!("{} °C ({fahrenheit:.1} °F)", f.celsius))
        }
        Fact::HatchedOut(f) => {
            let n =
                f.hatchlings.map_or_else(String::new, |n| format!(": {}", counted(n, "hatchling")));
            format!("clutch hatched{n}")
        }
        Fact::Looked(f) => format!("{} looks {}", who(&f.animal), f.look),
        Fact::Tested(f) => lab_result(f, &who(&f.animal)),
        Fact::Planned(f) => {
            let male = match &f.male {
                PlannedMale::Animal(id) => who(id),
                PlannedMale::Carrying(genes) => format!("a male with {genes}"),
            };
            if f.weight <= 0.0 {
                return format!("pair ruled out: {} and {male}", who(&f.female));
            }
            format!("planned pair: {} and {male}, {} choice", who(&f.female), f.choice)
        }
        Fact::Noted(f) => f.text.clone(),
        Fact::Set(f) => {
            let value = if f.value.is_empty() { "the default again" } else { &f.value };
            format!("setting {}: {value}", f.name)
        }
        Fact::Held(f) => f.why.clone(),
        Fact::Corrected(f) => format!("corrected: {}", told(colony, mass, &f.fact)),
        Fact::CameBack(_)
        | Fact::InBlue(_)
        | Fact::WarmedUp(_)
        | Fact::Settled(_)
        | Fact::Resorbed(_)
        | Fact::Retracted(_) => simple(fact, who),
    }
}

fn simple(fact: &Fact, who: impl Fn(&AnimalId) -> String) -> String {
    match fact {
        Fact::CameBack(f) => format!("{} came back", who(&f.animal)),
        Fact::InBlue(a) => format!("{} in blue", who(a)),
        Fact::WarmedUp(a) => format!("{} warmed up", who(a)),
        Fact::Settled(a) => format!("{} settled on the hot spot", who(a)),
        Fact::Resorbed(a) => format!("{}: follicles gone back", who(a)),
        other => other.kind().to_owned(),
    }
}

fn change(change: &Change, who: impl Fn(&AnimalId) -> String) -> String {
    match change {
        Change::Name(name) => format!("name {name}"),
        Change::Hatched(day) => format!("hatched {day}"),
        Change::Genes(genes) => format!("genes {genes}"),
        Change::Sire(id) => format!("sire {}", who(id)),
        Change::Dam(id) => format!("dam {}", who(id)),
    }
}

fn fed(f: &Fed, who: impl Fn(&AnimalId) -> String) -> String {
    let count = if f.count == 1 { String::new() } else { format!("{} × ", f.count) };
    let meal = match f.meal {
        Meal::Taken => "ate",
        Meal::Refused => "refused",
    };
    format!("{} {meal} {count}{}", who(&f.animal), f.prey)
}

/// "1 egg", "7 eggs".
fn counted(n: u16, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

fn laid(f: &Laid, who: impl Fn(&AnimalId) -> String) -> String {
    let eggs =
        f.eggs.map_or_else(|| ", not counted".to_owned(), |n| format!(" {}", counted(n, "egg")));
    let slugs = f.slugs.filter(|n| *n > 0);
    let slugs = slugs.map_or_else(String::new, |n| format!(", {}", counted(n, "slug")));
    let kept = f.kept.map_or_else(String::new, |kept| format!(", {kept}"));
    format!("{} laid{eggs}{slugs}{kept}", who(&f.female))
}

/// A temperature of a place, `heat` being its degrees as whoever asks reads them.
#[must_use]
pub fn reading(f: &Reading, heat: &str) -> String {
    let humidity = f.humidity.map_or_else(String::new, |h| format!(", {h} % humidity"));
    match f.kind {
        ReadingKind::Measured => format!("{}: {heat}{humidity}", f.place),
        ReadingKind::Set => format!("{} set to {heat}{humidity}", f.place),
    }
}

fn spell(what: &str, begins: bool, who: &str) -> String {
    format!("{who} {what} {}", if begins { "begins" } else { "ends" })
}

fn lab_result(f: &Tested, who: &str) -> String {
    let lab = f.lab.as_ref().map_or_else(String::new, |lab| format!(" ({lab})"));
    let error = f.error.map_or_else(String::new, |e| format!(", wrong in {}", e.to_a_tenth()));
    format!("{who} lab result: {}{error}{lab}", lab_found(f.found, &f.gene))
}

/// What a laboratory found, in words: "carries clown", "one copy of pinstripe".
fn lab_found(found: LabFound, gene: &str) -> String {
    match found {
        LabFound::Lacks | LabFound::Carries => format!("{found} {gene}"),
        LabFound::OneCopy | LabFound::TwoCopies => format!("{found} of {gene}"),
    }
}

/// What a check found, in words.
#[must_use]
pub fn found(found: &Found) -> String {
    match found {
        Found::Scan(sizes) => {
            let sizes: Vec<String> = sizes.iter().map(ToString::to_string).collect();
            format!("{} mm", sizes.join(", "))
        }
        Found::Felt(word) => format!("felt {word}"),
        Found::NothingFelt => "nothing felt".into(),
    }
}
