//! The kind of a table from what its columns mean, and what its columns mean given that kind.

use crate::kind::SheetKind;
use crate::meaning::Meaning::{self, *};

/// The kind of a table, with a sentence that says how it was recognised.
#[must_use]
pub fn kind_of(meanings: &[Meaning]) -> Option<(SheetKind, &'static str)> {
    let has = |m: Meaning| meanings.contains(&m);
    let any = |list: &[Meaning]| list.iter().any(|m| has(*m));
    let count = |list: &[Meaning]| list.iter().filter(|m| has(**m)).count();
    let somebody = any(&[Animal, Name, Female, Male, Dam, Sire, Hatchling]);
    let pair = has(Pair) || any(&[Male, Sire]) && any(&[Female, Dam]);
    let dated = any(&[Date, Night, When]);
    let laying = count(&[Laid, Ovulation, PrelayShed, Eggs, Slugs, ClutchMass]);
    if has(Fact) && any(&[When, Record, Date, Value]) {
        return Some((SheetKind::Facts, "It has columns for the kind of fact and for when."));
    }
    if any(&[Choice, PlanWeight, Gene, MaleOrGene]) && (any(&[Female, Dam, Pair]) || has(Animal)) {
        return Some((
            SheetKind::Plans,
            "It names females and the males or genes wanted for them.",
        ));
    }
    let of_animals = any(&[Animal, Female, Male, Dam, Sire, Hatchling, Weight]);
    if has(Temperature) && (dated || has(Time)) && !of_animals {
        return Some((SheetKind::Temperatures, "It has temperatures and when they were read."));
    }
    let young = any(&[Hatchling, Kept])
        || has(Clutch) && (has(Look) || any(&[Sex, Genes]) && !any(&[Name, Tub, Rack]));
    if young && laying == 0 {
        return Some((SheetKind::Hatchlings, "It lists the young of clutches."));
    }
    if laying >= 2
        || laying == 1 && (somebody || has(Clutch))
        || has(Hatchlings) && any(&[Female, Dam, Clutch])
    {
        return Some((SheetKind::Clutches, "It has columns for laying, eggs or ovulation."));
    }
    if pair && (dated || has(Lock)) {
        return Some((SheetKind::Nights, "It has a male, a female and a night."));
    }
    if any(&[Prey, Taken, Refused, PreySize]) && somebody || has(Count) && somebody && dated {
        return Some((SheetKind::Feedings, "It says what was offered or eaten."));
    }
    if any(&[Size, Felt, How]) && somebody {
        return Some((SheetKind::Checks, "It has follicle sizes of females."));
    }
    let identity = count(&[Genes, Look, Hatched, Sire, Dam, Left, Retag, WasCode]);
    let named = any(&[Animal, Name]);
    if named && (identity >= 1 || any(&[Sex, Tub]) && !(has(Date) && has(Weight))) {
        return Some((SheetKind::Animals, "It describes animals."));
    }
    if has(Weight) && somebody {
        return Some((SheetKind::Weights, "It has an animal and its weight."));
    }
    if pair {
        return Some((SheetKind::Plans, "It has males and females without nights."));
    }
    None
}

/// What a heading means in a sheet of this kind. `whole_numbers`: all its cells are small counts.
#[must_use]
pub fn in_kind(kind: SheetKind, meaning: Meaning, all: &[Meaning], whole_numbers: bool) -> Meaning {
    let lacks = |m: Meaning| !all.contains(&m);
    match (kind, meaning) {
        (SheetKind::Animals, Look) if lacks(Genes) => Genes,
        (SheetKind::Animals, HatchedOn) if lacks(Hatched) => Hatched,
        (SheetKind::Animals, Date) if lacks(Weighed) && !lacks(Weight) => Weighed,
        (SheetKind::Animals, Date | Night) => Unknown,
        (
            SheetKind::Animals | SheetKind::Weights | SheetKind::Feedings | SheetKind::Checks,
            Name,
        ) if lacks(Animal) => Animal,
        (SheetKind::Weights | SheetKind::Feedings | SheetKind::Checks, Female | Male | Dam)
            if lacks(Animal) && lacks(Name) =>
        {
            Animal
        }
        (SheetKind::Weights, Weighed) if lacks(Date) => Date,
        (
            SheetKind::Weights | SheetKind::Feedings | SheetKind::Checks | SheetKind::Clutches,
            Night | When,
        ) if lacks(Date) => Date,
        (SheetKind::Feedings, Size) if lacks(PreySize) => PreySize,
        (SheetKind::Checks, Taken) if lacks(Size) => Size,
        (SheetKind::Checks, Prey) if lacks(How) => How,
        (SheetKind::Checks, Felt) if lacks(Size) => Size,
        (SheetKind::Nights, Date | When) if lacks(Night) => Night,
        (SheetKind::Nights | SheetKind::Clutches | SheetKind::Plans, Sire) if lacks(Male) => Male,
        (SheetKind::Nights | SheetKind::Clutches | SheetKind::Plans, Dam) if lacks(Female) => {
            Female
        }
        (SheetKind::Nights, Taken) if lacks(Lock) => Lock,
        (SheetKind::Clutches, Animal) if lacks(Female) && lacks(Dam) => Female,
        (SheetKind::Clutches, Animal) if lacks(Clutch) => Clutch,
        (SheetKind::Clutches, Laid) if whole_numbers && lacks(Eggs) => Eggs,
        (SheetKind::Clutches, Clutch) if whole_numbers && lacks(Eggs) => Eggs,
        (SheetKind::Clutches, Hatched | HatchedOn) if whole_numbers && lacks(Hatchlings) => {
            Hatchlings
        }
        (SheetKind::Clutches, Hatched) if lacks(HatchedOn) => HatchedOn,
        (SheetKind::Clutches, Hatchling) if lacks(Hatchlings) => Hatchlings,
        (SheetKind::Clutches, Date) if lacks(Laid) => Laid,
        (SheetKind::Clutches, Weight) if lacks(ClutchMass) => ClutchMass,
        (SheetKind::Hatchlings, Hatched | HatchedOn) if lacks(Date) => Date,
        (SheetKind::Hatchlings, Hatchlings) if lacks(Hatchling) => Hatchling,
        (SheetKind::Hatchlings, Animal) if lacks(Hatchling) && lacks(Hatchlings) => Hatchling,
        (SheetKind::Hatchlings, Name) if lacks(Hatchling) && lacks(Hatchlings) && lacks(Animal) => {
            Hatchling
        }
        (SheetKind::Hatchlings, Female) if lacks(Dam) => Dam,
        (SheetKind::Hatchlings, Male) if lacks(Sire) => Sire,
        (SheetKind::Hatchlings, Genes) if lacks(Look) => Look,
        (SheetKind::Plans, Weight) if lacks(PlanWeight) => PlanWeight,
        (SheetKind::Plans, Animal) if lacks(Female) => Female,
        (SheetKind::Plans, Genes) if lacks(Gene) => Gene,
        (SheetKind::Plans, Night | When) if lacks(Date) => Date,
        (SheetKind::Temperatures, Night | When) if lacks(Date) => Date,
        (SheetKind::Temperatures, Time) if lacks(Date) && lacks(Night) && lacks(When) => Date,
        (SheetKind::Temperatures, Tub) if lacks(Place) => Place,
        (SheetKind::Temperatures, Rack) if lacks(Place) && lacks(Tub) => Place,
        (SheetKind::Temperatures, Name | Animal)
            if lacks(Place) && lacks(Tub) && lacks(Rack) && (meaning == Name || lacks(Name)) =>
        {
            Place
        }
        // What else a logger writes, its battery and row numbers, is read past.
        (SheetKind::Temperatures, meaning) if !belongs(kind, meaning) || meaning == Unknown => {
            Ignored
        }
        (SheetKind::Facts, Date) if lacks(When) => When,
        // Beside an event these only repeat what the list of animals says.
        (
            SheetKind::Weights | SheetKind::Feedings | SheetKind::Checks | SheetKind::Nights,
            Name | Sex | Tub | Rack | Genes | Look | Hatched,
        ) => Ignored,
        (_, meaning) if belongs(kind, meaning) => meaning,
        _ => Unknown,
    }
}

/// Whether the reader of that kind has a use for that meaning.
#[must_use]
pub fn belongs(kind: SheetKind, meaning: Meaning) -> bool {
    let of_kind: &[Meaning] = match kind {
        SheetKind::Animals => &[
            Animal, Name, Sex, Hatched, Genes, Sire, Dam, Clutch, Weight, Weighed, Tub, Rack, Left,
            LeftOn, LeftTo, Retag, RetagOn, WasCode, WasUntil,
        ],
        SheetKind::Weights => &[Date, Animal, Weight],
        SheetKind::Feedings => &[Date, Animal, Prey, PreySize, Count, Taken, Refused],
        SheetKind::Checks => &[Date, Animal, How, Size, Felt],
        SheetKind::Nights => &[Night, Male, Female, Pair, Lock],
        SheetKind::Clutches => &[
            Female, Male, Pair, Ovulation, PrelayShed, Laid, Eggs, Slugs, HatchedOn, Hatchlings,
            Clutch, ClutchMass, EggsKept,
        ],
        SheetKind::Hatchlings => &[Date, Clutch, Hatchling, Dam, Sire, Sex, Look, Weight, Kept],
        SheetKind::Plans => &[Date, Female, Male, Pair, Gene, MaleOrGene, Choice, PlanWeight],
        SheetKind::Temperatures => {
            &[Date, Time, Place, Tub, Rack, Temperature, ReadOrSet, Humidity]
        }
        SheetKind::Facts => &[When, Fact, Animal, Other, Value],
    };
    of_kind.contains(&meaning) || matches!(meaning, Notes | Record | Ignored | Unknown)
}

/// What a row of that kind cannot do without, each as alternatives.
#[must_use]
pub const fn needs(kind: SheetKind) -> &'static [Meaning] {
    match kind {
        SheetKind::Animals => &[Animal],
        SheetKind::Weights => &[Date, Animal, Weight],
        SheetKind::Feedings => &[Date, Animal, Taken],
        SheetKind::Checks => &[Date, Animal, Size],
        SheetKind::Nights => &[Night, Male, Female],
        SheetKind::Clutches => &[Female],
        SheetKind::Hatchlings => &[Hatchling],
        SheetKind::Plans => &[Female],
        SheetKind::Temperatures => &[Date, Place, Temperature],
        SheetKind::Facts => &[When, Fact],
    }
}
