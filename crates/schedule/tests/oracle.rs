//! Slow obvious answers: every matching tried, the greedy night, worths written out anew.

use schedule::{Choice, Female, LockOutcome, Male, Room, Size, StayState};

/// Greatest total worth over all matchings, by trying each. For up to about eight rows.
pub fn best_by_trying(rows: usize, columns: usize, worth: &[f64]) -> f64 {
    fn go(i: usize, rows: usize, columns: usize, worth: &[f64], taken: &mut [bool]) -> f64 {
        if i == rows {
            return 0.0;
        }
        let mut best = go(i + 1, rows, columns, worth, taken);
        for j in 0..columns {
            let w = worth[i * columns + j];
            if !taken[j] && w > 0.0 {
                taken[j] = true;
                best = best.max(w + go(i + 1, rows, columns, worth, taken));
                taken[j] = false;
            }
        }
        best
    }
    go(0, rows, columns, worth, &mut vec![false; columns])
}

/// The greedy night: the pair of greatest worth first, then the next that is still free.
pub fn greedy(rows: usize, columns: usize, worth: &[f64]) -> (f64, Vec<(usize, usize)>) {
    let mut order: Vec<usize> = (0..rows * columns).filter(|&k| worth[k] > 0.0).collect();
    order.sort_by(|&a, &b| worth[b].total_cmp(&worth[a]).then(a.cmp(&b)));
    let (mut row_used, mut column_used) = (vec![false; rows], vec![false; columns]);
    let (mut total, mut pairs) = (0.0, Vec::new());
    for k in order {
        let (i, j) = (k / columns, k % columns);
        if !row_used[i] && !column_used[j] {
            (row_used[i], column_used[j]) = (true, true);
            total += worth[k];
            pairs.push((i, j));
        }
    }
    (total, pairs)
}

fn lock_weight(lock: LockOutcome) -> f64 {
    match lock {
        LockOutcome::Seen => 1.0,
        LockOutcome::Suspected => 0.5,
        LockOutcome::NotLooked => 0.3,
        LockOutcome::NoneSeen => 0.1,
    }
}

/// wanted(k), written out from the definition with the default weights.
pub fn wanted(female: &Female) -> Option<[f64; 4]> {
    let Size::Followed(f) = &female.size else { return None };
    let mut wanted = [0.0; 4];
    for (k, w) in wanted.iter_mut().enumerate() {
        let mut not_mated = 1.0;
        for night in &f.nights {
            not_mated *= 1.0 - night.in_band[k].get() * lock_weight(night.lock);
        }
        *w = f.in_band[k].get() * not_mated;
    }
    Some(wanted)
}

fn locks_and_nights(male: &Male) -> (f64, f64) {
    let looked = male.nights.iter().filter(|n| n.lock != LockOutcome::NotLooked);
    let locks = male.nights.iter().map(|n| match n.lock {
        LockOutcome::Seen => 1.0,
        LockOutcome::Suspected => 0.5,
        _ => 0.0,
    });
    (locks.sum(), looked.count() as f64)
}

/// Nights of the seven before the night `ahead` on which he is placed, tonight among them.
fn placed(male: &Male, ahead: i64, tonight: bool) -> usize {
    (ahead - 7..ahead)
        .filter(|&night| {
            (night == 0 && tonight)
                || male.nights.iter().any(|n| n.ago > 0 && -i64::from(n.ago) == night)
        })
        .count()
}

fn rests(male: &Male, ahead: i64) -> bool {
    male.nights.iter().any(|n| {
        matches!(n.lock, LockOutcome::Seen | LockOutcome::Suspected)
            && i64::from(n.ago) + ahead <= 2
    })
}

/// Whether turns and rests let him go on the night `ahead` (0 = tonight).
pub fn has_turn(male: &Male, ahead: i64, tonight: bool) -> bool {
    placed(male, ahead, tonight) < 5 && !rests(male, ahead)
}

/// P(lock): his own rate shrunk by ten nights to the room's, which ten nights at .3 hold.
pub fn lock_rate(room: &Room, i: usize) -> f64 {
    let mut room_tally = (3.0, 10.0);
    for male in &room.males {
        let (l, n) = locks_and_nights(male);
        room_tally = (room_tally.0 + l, room_tally.1 + n);
    }
    let (l, n) = locks_and_nights(&room.males[i]);
    (l + 10.0 * room_tally.0 / room_tally.1) / (n + 10.0)
}

/// The first night after tonight with a turn for him.
pub fn free_again(male: &Male, tonight: bool) -> Option<i64> {
    (1..=60).find(|&ahead| has_turn(male, ahead, tonight))
}

/// Chance that she leaves band `k` before his next free night.
fn leaves(male: &Male, f: &schedule::Follicles, k: usize) -> f64 {
    let Some(free) = free_again(male, true) else { return 1.0 };
    let row = f.leaves.get(usize::try_from(free - 1).unwrap()).or(f.leaves.last());
    row.map_or(0.0, |row| row[k].get())
}

/// The chance, given that a mating is wanted, that her window closes before his next free night.
pub fn closing(room: &Room, i: usize, j: usize) -> Option<f64> {
    let female = &room.females[j];
    let (Size::Followed(f), Some(wanted)) = (&female.size, wanted(female)) else { return None };
    let sum: f64 = wanted.iter().sum();
    let leaving: f64 = (0..4).map(|k| wanted[k] * leaves(&room.males[i], f, k)).sum();
    Some(if sum > 0.0 { leaving / sum } else { 0.0 })
}

/// Plan weight of (male, female), the best of its entries, the choice counted in.
pub fn plan_weight(room: &Room, i: usize, j: usize) -> f64 {
    let plans = room.planned.iter().filter(|p| p.female == j && p.males.contains(&i));
    plans.map(|p| p.weight * if p.choice == Choice::First { 1.0 } else { 0.5 }).fold(0.0, f64::max)
}

/// Worth of planned pair (male, female) under the default rules.
pub fn worth(room: &Room, i: usize, j: usize) -> f64 {
    let gain = match (&room.females[j].size, wanted(&room.females[j])) {
        (Size::Followed(f), Some(wanted)) => {
            (0..4).map(|k| wanted[k] * (1.0 + leaves(&room.males[i], f, k))).sum()
        }
        _ => 0.1,
    };
    plan_weight(room, i, j) * lock_rate(room, i) * gain
}

/// Whether the default rules let the pair be placed tonight, written out one by one.
pub fn allowed(room: &Room, i: usize, j: usize) -> bool {
    let (m, f) = (&room.males[i], &room.females[j]);
    let busy = room.stays.iter().any(|s| {
        !matches!(s.state, StayState::LeftTogether { .. }) && (s.male == i || s.female == j)
    });
    let heavy = |mass: Option<f64>, least| mass.is_some_and(|mass| mass >= least);
    let mass = |w: Option<schedule::Weighing>| w.map(|w| w.mass.get());
    let thin = match (mass(m.keeping.weight), m.weight_at_opening) {
        (Some(now), Some(then)) => now < then.get() * 0.88 - 1e-9,
        _ => false,
    };
    let due = match (&f.size, wanted(f)) {
        (Size::Unchecked { nights_since_placed }, _) => nights_since_placed.is_none_or(|n| n >= 30),
        (_, Some(wanted)) => wanted.iter().sum::<f64>() >= 0.5,
        _ => false,
    };
    let well = |k: &schedule::Keeping| k.in_house && !k.quarantine && !k.treatment;
    !busy
        && !room.ruled_out.contains(&(i, j))
        && well(&m.keeping)
        && well(&f.keeping)
        && heavy(mass(f.keeping.weight), 1500.0)
        && heavy(mass(m.keeping.weight), 500.0)
        && !thin
        && !m.in_blue
        && has_turn(m, 0, false)
        && !f.ovulated
        && f.resorbing.get() <= 0.8
        && (!f.laid_this_season || f.second_clutch)
        && (!f.in_shed || outgrows_in_a_week(f) >= 0.5)
        && due
}

/// Chance that she outgrows her size within the week that a shed takes.
pub fn outgrows_in_a_week(female: &Female) -> f64 {
    let (Size::Followed(f), Some(wanted)) = (&female.size, wanted(female)) else { return 0.0 };
    let Some(row) = f.leaves.get(6).or(f.leaves.last()) else { return 0.0 };
    let sum: f64 = wanted.iter().sum();
    let leaving: f64 = (0..4).map(|k| wanted[k] * row[k].get()).sum();
    if sum > 0.0 { leaving / sum } else { 0.0 }
}

/// The allowed worths as a matrix, row by male.
pub fn matrix(room: &Room) -> Vec<f64> {
    let pairs = (0..room.males.len()).flat_map(|i| (0..room.females.len()).map(move |j| (i, j)));
    pairs.map(|(i, j)| if allowed(room, i, j) { worth(room, i, j) } else { 0.0 }).collect()
}
