//! The slow oracle of kinship: the table of relationships row by row (Emik and Terrill 1949; the
//! "tabular method" of textbooks).

use genetics::kinship::Descent;

/// Relationships, twice the kinships. `oldest_first` names parents before young.
pub fn relationships(descents: &[Descent], oldest_first: &[usize]) -> Vec<Vec<f64>> {
    let n = descents.len();
    let mut a = vec![vec![0.0; n]; n];
    for (done, x) in oldest_first.iter().copied().enumerate() {
        let (parents, part) = match descents[x] {
            Descent::Of { sire, dam } => ([sire, dam], 0.5),
            Descent::Alone { dam } => ([None, Some(dam)], 1.0),
        };
        for y in oldest_first[..done].iter().copied() {
            let value: f64 = parents.iter().flatten().map(|p| part * a[*p][y]).sum();
            (a[x][y], a[y][x]) = (value, value);
        }
        a[x][x] = match descents[x] {
            Descent::Of { sire: Some(sire), dam: Some(dam) } => 1.0 + 0.5 * a[sire][dam],
            Descent::Of { .. } => 1.0,
            Descent::Alone { .. } => 2.0,
        };
    }
    a
}
