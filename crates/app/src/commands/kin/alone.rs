//! Kinship in a pedigree of its own.

use std::path::Path;

use answers::kin::percent;
use genetics::PedigreeError;
use genetics::kinship::{Descent, Kinship, Lines};
use sheets::pedigree_file::{PedigreeAnimal, PedigreeFile};

use super::{PairTold, Told, named, too_many};
use crate::args::Kin;
use crate::pedigree;
use crate::refusal::Refusal;

pub(super) fn told(path: &Path, args: &Kin) -> Result<Told, Refusal> {
    let file = pedigree::read(path)?;
    let descent = |a: &PedigreeAnimal| match a.dam {
        Some(dam) if a.is_alone => Descent::Alone { dam },
        _ => Descent::Of { sire: a.sire, dam: a.dam },
    };
    let descents: Vec<Descent> = file.animals.iter().map(descent).collect();
    let lines = Lines::new(&descents).map_err(|error| broken(&file, &error))?;
    let kinship = Kinship::new(&lines);
    let mut notes = file.notes.clone();
    let n = file.animals.len();
    let asked = named(args, |id| place(&file, id))?;
    let is_named = !asked.is_empty();
    let count = n * n.saturating_sub(1) / 2;
    let pairs = if is_named {
        asked
    } else if count <= args.most {
        (0..n).flat_map(|a| (a + 1..n).map(move |b| (a, b))).collect()
    } else {
        notes.push(too_many(count, args.most));
        Vec::new()
    };
    let id = |place: usize| file.animals[place].id.clone();
    let animals = (0..n).map(id).zip(kinship.inbreedings()).collect();
    let kinships = kinship.pairs(&pairs);
    let pairs = pairs.iter().zip(kinships).map(|((a, b), value)| {
        let behind = is_named.then(|| kinship.behind(*a, *b));
        let behind: Option<Vec<(Option<String>, f64)>> =
            behind.map(|all| all.iter().map(|s| (Some(id(s.ancestor)), s.share)).collect());
        let kinship = value.unwrap_or_default();
        let said = behind.as_ref().and_then(|behind| said(kinship, behind)).into_iter().collect();
        PairTold { a: id(*a), b: id(*b), kinship, relation: None, said, behind }
    });
    let pairs = pairs.collect();
    Ok(Told { about: format!("{}, {n} animals", file.file), animals, pairs, is_named, notes })
}

/// "kinship 25 %: by M01 12.5 %, by F01 12.5 %."
fn said(kinship: f64, behind: &[(Option<String>, f64)]) -> Option<String> {
    let one = |(id, share): &(Option<String>, f64)| {
        format!("by {} {}", id.as_deref().unwrap_or("?"), percent(*share))
    };
    let all: Vec<String> = behind.iter().map(one).collect();
    (!all.is_empty()).then(|| format!("kinship {}: {}.", percent(kinship), all.join(", ")))
}

fn place(file: &PedigreeFile, id: &str) -> Result<usize, Refusal> {
    file.place(id).ok_or_else(|| {
        let lower = id.to_lowercase();
        let near = file.animals.iter().find(|a| a.id.to_lowercase() == lower);
        let meant = match near {
            Some(near) => format!("Did you mean {}?", near.id),
            None => "Write the id as it stands in the file.".to_owned(),
        };
        Refusal::new(format!("{} has no animal {id}.", file.file), "--pair", meant)
    })
}

fn broken(file: &PedigreeFile, error: &PedigreeError) -> Refusal {
    Refusal::new(format!("{error}."), &file.file, "Correct the parents in the file.")
}
