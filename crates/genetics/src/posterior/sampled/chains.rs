//! Eight chains that sweep side by side.

use super::lanes::{LANES, Lanes, add, all, inverse, multiply};
use super::program::{Program, Step, Strides};
use super::random::Random;

/// Chains with their present states and room to compute.
pub(super) struct Chains {
    /// Of each unknown, its state in every chain.
    states: Vec<[u16; LANES]>,
    tables: Vec<Lanes>,
    ups: Vec<Lanes>,
    slices: Vec<Lanes>,
    down: Vec<Lanes>,
    /// Sums of joint chances of all that is asked for.
    pub(super) sums: Vec<Lanes>,
    random: Random,
}

impl Chains {
    pub(super) fn new(
        starts: &[Vec<u16>],
        programs: &[Program],
        n_asked: usize,
        random: Random,
    ) -> Self {
        let n = starts.first().map_or(0, Vec::len);
        let state = |u: usize| std::array::from_fn(|l| starts[l % starts.len()][u]);
        let most = |i: usize| programs.iter().map(|p| p.lengths[i]).max().unwrap_or(0);
        let message = programs.iter().flat_map(|p| &p.steps).map(|s| s.up.len()).max();
        Self {
            states: (0..n).map(state).collect(),
            tables: vec![all(0.0); most(0)],
            ups: vec![all(0.0); most(1)],
            slices: vec![all(0.0); most(2)],
            down: vec![all(0.0); message.unwrap_or(0)],
            sums: vec![all(0.0); n_asked],
            random,
        }
    }

    /// Draws all free unknowns of every program in turn; adds up their chances if asked to.
    pub(super) fn sweep(&mut self, programs: &[Program], adds_up: bool) {
        for program in programs {
            program.steps.iter().for_each(|step| self.inwards(step));
            for step in program.steps.iter().rev() {
                self.draw(step);
            }
            if adds_up {
                program.steps.iter().rev().for_each(|step| self.outwards(program, step));
                self.add_up(program);
            }
        }
    }

    // Afterwards the table holds the chances of the unknown given those later.
    fn inwards(&mut self, step: &Step) {
        for slice in &step.slices {
            let to = &mut self.slices[slice.to.clone()];
            for (l, from) in offsets(&self.states, &slice.cut).into_iter().enumerate() {
                let numbers = &slice.numbers[from..from + to.len()];
                to.iter_mut().zip(numbers).for_each(|(t, x)| t[l] = *x);
            }
        }
        let table = &mut self.tables[step.table.clone()];
        table.iter_mut().zip(&step.base).for_each(|(t, x)| *t = all(*x));
        let (before, rest) = self.ups.split_at_mut(step.up.start);
        for input in &step.inputs {
            let from = if input.is_slice { &self.slices } else { &*before };
            let from = &from[input.from.clone()];
            table
                .iter_mut()
                .zip(&input.places)
                .for_each(|(t, at)| multiply(t, &from[*at as usize]));
        }
        let up = &mut rest[..step.up.len()];
        let mut most = all(0.0);
        for (up, block) in up.iter_mut().zip(table.chunks_exact_mut(step.size)) {
            let mut sum = all(0.0);
            block.iter().for_each(|x| add(&mut sum, x));
            let scale = inverse(&sum);
            block.iter_mut().for_each(|x| multiply(x, &scale));
            most.iter_mut().zip(&sum).for_each(|(m, x)| *m = if *x > *m { *x } else { *m });
            *up = sum;
        }
        let scale = inverse(&most);
        up.iter_mut().for_each(|x| multiply(x, &scale));
    }

    fn draw(&mut self, step: &Step) {
        let table = &self.tables[step.table.clone()];
        let even = self.random.even();
        let rows = offsets(&self.states, &step.later);
        let drawn = &mut self.states[step.unknown as usize];
        for l in 0..LANES {
            let row = &table[rows[l] * step.size..(rows[l] + 1) * step.size];
            let (mut left, mut state) = (even[l], None);
            for (at, p) in (0_u16..).zip(row) {
                if p[l] > 0.0 {
                    state = Some(at);
                    left -= p[l];
                    if left < 0.0 {
                        break;
                    }
                }
            }
            // A row without chances comes from a state that cannot be, and no chain is ever there.
            if let Some(state) = state {
                drawn[l] = state;
            }
        }
    }

    // Afterwards the table holds the joint chances of its unknowns, given the cutset alone.
    fn outwards(&mut self, program: &Program, step: &Step) {
        let Some((above, places)) = &step.above else { return };
        let (here, higher) = self.tables.split_at_mut(step.table.end);
        let above = &program.steps[*above].table;
        let from = &higher[above.start - step.table.end..above.end - step.table.end];
        let down = &mut self.down[..step.up.len()];
        down.fill(all(0.0));
        from.iter().zip(places).for_each(|(x, at)| add(&mut down[*at as usize], x));
        let table = &mut here[step.table.start..];
        for (down, block) in down.iter().zip(table.chunks_exact_mut(step.size)) {
            block.iter_mut().for_each(|x| multiply(x, down));
        }
    }

    fn add_up(&mut self, program: &Program) {
        for asked in &program.asked {
            let sums = &mut self.sums[asked.at..];
            let shift = offsets(&self.states, &asked.cut);
            let Some((step, places)) = &asked.free else {
                (0..LANES).for_each(|l| sums[shift[l]][l] += 1.0);
                continue;
            };
            let table = &self.tables[program.steps[*step].table.clone()];
            if asked.cut.is_empty() {
                table.iter().zip(places).for_each(|(x, at)| add(&mut sums[*at as usize], x));
                continue;
            }
            for (x, at) in table.iter().zip(places) {
                (0..LANES).for_each(|l| sums[*at as usize + shift[l]][l] += x[l]);
            }
        }
    }
}

fn offsets(states: &[[u16; LANES]], strides: &Strides) -> [usize; LANES] {
    let mut at = [0_usize; LANES];
    for (unknown, stride) in strides {
        let states = &states[*unknown as usize];
        at.iter_mut().zip(states).for_each(|(at, s)| *at += usize::from(*s) * *stride as usize);
    }
    at
}
