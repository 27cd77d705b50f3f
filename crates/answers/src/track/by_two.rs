//! Pieces of work shared out between two workers.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// What is done by now.
struct Line<T, Take> {
    begun: usize,
    handed_on: usize,
    waiting: BTreeMap<usize, T>,
    take: Take,
}

/// Does pieces `0..n` of some work side by side, and hands on the outcomes in the order of the pieces,
/// each as soon as all before it are done: two workers come to the same as one.
pub fn by_two<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync, take: impl FnMut(T) + Send) {
    let line = Line { begun: 0, handed_on: 0, waiting: BTreeMap::new(), take };
    let line = Mutex::new(line);
    let worker = || {
        while let Some(piece) = begin(&line, n) {
            let outcome = work(piece);
            hand_on(&line, piece, outcome);
        }
    };
    std::thread::scope(|scope| {
        if n > 1 {
            scope.spawn(worker);
        }
        worker();
    });
}

fn begin<T, Take>(line: &Mutex<Line<T, Take>>, n: usize) -> Option<usize> {
    let mut line = line.lock().unwrap_or_else(PoisonError::into_inner);
    let piece = line.begun;
    line.begun += 1;
    (piece < n).then_some(piece)
}

fn hand_on<T, Take: FnMut(T)>(line: &Mutex<Line<T, Take>>, piece: usize, outcome: T) {
    let mut line = line.lock().unwrap_or_else(PoisonError::into_inner);
    line.waiting.insert(piece, outcome);
    loop {
        let next = line.handed_on;
        let Some(outcome) = line.waiting.remove(&next) else { return };
        (line.take)(outcome);
        line.handed_on += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outcomes_come_in_order_whoever_is_done_first() {
        let slow_first = |n: usize| {
            std::thread::sleep(std::time::Duration::from_millis(if n == 0 { 40 } else { 1 }));
            n * n
        };
        let mut taken = Vec::new();
        by_two(9, slow_first, |square| taken.push(square));
        assert_eq!(taken, [0, 1, 4, 9, 16, 25, 36, 49, 64]);
        by_two(0, slow_first, |_| unreachable!("nothing to do"));
    }
}
