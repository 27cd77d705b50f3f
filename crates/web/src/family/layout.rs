//! Where everybody of a family chart stands: one row each, parents above young, and beside the
//! rows a lane for every couple, along which its thread runs down to its young.
//!
//! Rows come in the order of a walk that puts both parents, with all their ancestors, before a
//! young: so the ancestors of a sire are one block, and threads of a family without loops never
//! cross. Lanes are shared by threads that do not overlap; the short ones lie next to the rows.

/// A couple: the rows that lead into its thread, and those that hang on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thread {
    /// Parents.
    pub above: Vec<usize>,
    /// Young, and what is told of their clutches.
    pub below: Vec<usize>,
}

/// The layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Items from top to bottom.
    pub order: Vec<usize>,
    /// The row of each item.
    pub row: Vec<usize>,
    /// The lane of each thread; 0 lies next to the rows.
    pub lane: Vec<usize>,
}

impl Layout {
    /// Of that many items; `wanted` tells in which order they come where threads leave it open.
    /// Threads must not lead in a circle: an item that does is put where it is first met.
    pub fn new(n_items: usize, threads: &[Thread], wanted: &[usize]) -> Self {
        let order = order(n_items, threads, wanted);
        let mut row = vec![0; n_items];
        for (at, item) in order.iter().enumerate() {
            row[*item] = at;
        }
        let mut layout = Self { order, row, lane: vec![0; threads.len()] };
        layout.first_lanes(threads);
        layout.fewer_crossings(threads);
        layout
    }

    /// How many lanes there are.
    pub fn n_lanes(&self) -> usize {
        self.lane.iter().max().map_or(0, |lane| lane + 1)
    }

    /// Height at which an item leads into a thread, and at which it hangs on one: every row has
    /// two levels, what it hangs on above what it leads to.
    fn leads(&self, item: usize) -> usize {
        2 * self.row[item] + 1
    }

    fn hangs(&self, item: usize) -> usize {
        2 * self.row[item]
    }

    /// First and last level of a thread.
    fn span(&self, thread: &Thread) -> (usize, usize) {
        let all = || {
            let above = thread.above.iter().map(|item| self.leads(*item));
            above.chain(thread.below.iter().map(|item| self.hangs(*item)))
        };
        (all().min().unwrap_or(0), all().max().unwrap_or(0))
    }

    /// The lowest lane that is free, short threads first.
    fn first_lanes(&mut self, threads: &[Thread]) {
        let spans: Vec<(usize, usize)> = threads.iter().map(|t| self.span(t)).collect();
        let mut by_length: Vec<usize> = (0..threads.len()).collect();
        by_length.sort_by_key(|at| (spans[*at].1 - spans[*at].0, spans[*at].0));
        let mut taken: Vec<Vec<(usize, usize)>> = Vec::new();
        for at in by_length {
            let free = |lane: &Vec<(usize, usize)>| lane.iter().all(|s| !overlap(*s, spans[at]));
            let lane = taken.iter().position(free).unwrap_or(taken.len());
            if lane == taken.len() {
                taken.push(Vec::new());
            }
            taken[lane].push(spans[at]);
            self.lane[at] = lane;
        }
    }

    /// Moves threads to other lanes, and lets two change places, while that takes away crossings.
    fn fewer_crossings(&mut self, threads: &[Thread]) {
        /// Larger charts are left as they are; a person would not see the difference.
        const MOST_THREADS: usize = 24;
        if threads.len() > MOST_THREADS {
            return;
        }
        let spans: Vec<(usize, usize)> = threads.iter().map(|t| self.span(t)).collect();
        let mut least = self.crossings(threads);
        // Each round takes one crossing at least; the bound only keeps a large tangle short.
        for _ in 0..8 {
            let before = least;
            for at in 0..threads.len() {
                for lane in 0..self.n_lanes() {
                    let old = self.lane.clone();
                    let in_way = |other: &usize| {
                        *other != at
                            && self.lane[*other] == lane
                            && overlap(spans[*other], spans[at])
                    };
                    let in_way: Vec<usize> = (0..threads.len()).filter(in_way).collect();
                    in_way.iter().for_each(|other| self.lane[*other] = old[at]);
                    self.lane[at] = lane;
                    let now = if self.is_clear(&spans) { self.crossings(threads) } else { least };
                    if now < least {
                        least = now;
                    } else {
                        self.lane = old;
                    }
                }
            }
            if least == before || least == 0 {
                break;
            }
        }
    }

    fn is_clear(&self, spans: &[(usize, usize)]) -> bool {
        (0..spans.len())
            .all(|a| (0..a).all(|b| self.lane[a] != self.lane[b] || !overlap(spans[a], spans[b])))
    }

    /// How often the line from a row to its lane crosses the thread of another couple.
    pub fn crossings(&self, threads: &[Thread]) -> usize {
        let spans: Vec<(usize, usize)> = threads.iter().map(|t| self.span(t)).collect();
        let crossed = |lane: usize, level: usize| {
            let others = spans.iter().zip(&self.lane);
            others.filter(|((from, to), of)| **of < lane && *from < level && level < *to).count()
        };
        let all = threads.iter().zip(&self.lane);
        all.map(|(thread, lane)| {
            let above = thread.above.iter().map(|item| crossed(*lane, self.leads(*item)));
            let below = thread.below.iter().map(|item| crossed(*lane, self.hangs(*item)));
            above.chain(below).sum::<usize>()
        })
        .sum()
    }
}

/// Two threads may end and begin at one row: the one ends above where the other begins.
const fn overlap(a: (usize, usize), b: (usize, usize)) -> bool {
    a.0 <= b.1 && b.0 <= a.1
}

/// Everybody once, parents before young.
fn order(n_items: usize, threads: &[Thread], wanted: &[usize]) -> Vec<usize> {
    let mut from: Vec<Vec<usize>> = vec![Vec::new(); n_items];
    for (at, thread) in threads.iter().enumerate() {
        thread.below.iter().for_each(|item| from[*item].push(at));
    }
    let mut order = Vec::with_capacity(n_items);
    let mut is_met = vec![false; n_items];
    // A stack instead of a recursion: a long line of ancestors must not exhaust the other.
    for start in wanted.iter().copied().chain(0..n_items) {
        let mut open = vec![(start, false)];
        while let Some((item, is_ready)) = open.pop() {
            if is_ready {
                order.push(item);
            } else if !is_met[item] {
                is_met[item] = true;
                open.push((item, true));
                let above = from[item].iter().flat_map(|at| &threads[*at].above);
                let above: Vec<usize> = above.copied().collect();
                open.extend(above.into_iter().rev().map(|parent| (parent, false)));
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::{Layout, Thread, overlap};

    fn thread(above: &[usize], below: &[usize]) -> Thread {
        Thread { above: above.to_vec(), below: below.to_vec() }
    }

    /// A full tree of ancestors: item 0, its parents 1 and 2, theirs 3 to 6 and so on.
    fn tree(generations: u32) -> (usize, Vec<Thread>) {
        let inner = 2_usize.pow(generations) - 1;
        let threads = (0..inner).map(|at| thread(&[2 * at + 1, 2 * at + 2], &[at])).collect();
        (2 * inner + 1, threads)
    }

    fn check(n_items: usize, threads: &[Thread]) -> Layout {
        let layout = Layout::new(n_items, threads, &[0]);
        let mut sorted = layout.order.clone();
        sorted.sort_unstable();
        assert_eq!(sorted, (0..n_items).collect::<Vec<_>>(), "everybody once");
        for thread in threads {
            for (parent, young) in
                thread.above.iter().flat_map(|p| thread.below.iter().map(move |y| (p, y)))
            {
                assert!(layout.row[*parent] < layout.row[*young], "{parent} above {young}");
            }
        }
        for a in 0..threads.len() {
            for b in 0..a {
                let together = overlap(layout.span(&threads[a]), layout.span(&threads[b]));
                assert!(!together || layout.lane[a] != layout.lane[b], "threads {a} and {b}");
            }
        }
        layout
    }

    #[test]
    fn a_tree_without_loops_has_no_crossing_and_a_lane_a_generation() {
        for generations in 0..6 {
            let (n_items, threads) = tree(generations);
            let layout = check(n_items, &threads);
            assert_eq!(layout.crossings(&threads), 0);
            assert_eq!(layout.n_lanes(), generations as usize);
        }
    }

    #[test]
    fn the_sire_with_his_ancestors_comes_before_the_dam_with_hers() {
        let (n_items, threads) = tree(2);
        assert_eq!(check(n_items, &threads).order, [3, 4, 1, 5, 6, 2, 0]);
    }

    #[test]
    fn full_siblings_mated_meet_in_one_pair_without_a_crossing() {
        // 3 and 4 are the parents of both 1 and 2, whose young is 0.
        let threads = [thread(&[1, 2], &[0]), thread(&[3, 4], &[1, 2])];
        let layout = check(5, &threads);
        assert_eq!(layout.order, [3, 4, 1, 2, 0]);
        // The line of 1 into the pair's thread, or that of 2 from its parents' one, must cross.
        assert_eq!(layout.crossings(&threads), 1);
    }

    #[test]
    fn a_daughter_mated_back_stands_between_her_sire_and_her_young() {
        // 0 and 1 have 2; 0 and 2 have 3.
        let threads = [thread(&[0, 1], &[2]), thread(&[0, 2], &[3])];
        let layout = check(4, &threads);
        assert_eq!(layout.order, [0, 1, 2, 3]);
        assert_eq!(layout.crossings(&threads), 0);
    }

    #[test]
    fn loops_at_random_keep_every_rule() {
        let mut seed = 20_260_210_u64;
        let mut below = |n: usize| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 33) as usize % n
        };
        for round in 0..300 {
            let n_items = 3 + round % 40;
            // Item 0 is the youngest; parents have higher numbers.
            let mut threads: Vec<Thread> = Vec::new();
            for item in 0..n_items - 2 {
                let mut parent = || item + 1 + below(n_items - item - 1);
                let (sire, dam) = (parent(), parent());
                if sire == dam || round % 3 == 0 && item % 4 == 3 {
                    continue;
                }
                match threads.iter_mut().find(|t| t.above == [sire, dam]) {
                    Some(known) => known.below.push(item),
                    None => threads.push(thread(&[sire, dam], &[item])),
                }
            }
            check(n_items, &threads);
        }
    }

    #[test]
    fn a_circle_does_not_hang() {
        let threads = [thread(&[1], &[0]), thread(&[0], &[1])];
        assert_eq!(Layout::new(2, &threads, &[0]).order.len(), 2);
    }
}
