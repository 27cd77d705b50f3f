//! Tables of numbers over some unknowns.

/// Numbers over the states of `scope`, the last one innermost.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub(super) scope: Vec<u32>,
    pub(super) numbers: Vec<f64>,
}

impl Table {
    /// All ones.
    pub(super) fn even(scope: Vec<u32>, sizes: &[u16]) -> Self {
        let numbers = vec![1.0; n_entries(&scope, sizes)];
        Self { scope, numbers }
    }

    /// Multiplies by a table over some of the same unknowns.
    pub(super) fn multiply(&mut self, other: &Self, sizes: &[u16]) {
        let places = entries(&self.scope, &other.scope, sizes);
        self.numbers
            .iter_mut()
            .zip(places)
            .for_each(|(number, place)| *number *= other.numbers[place as usize]);
    }
}

/// Numbers in a table over `scope`.
pub(super) fn n_entries(scope: &[u32], sizes: &[u16]) -> usize {
    scope.iter().map(|u| usize::from(sizes[*u as usize])).product()
}

/// How far a table over `scope` moves with one step of each unknown in it.
pub(super) fn strides(scope: &[u32], sizes: &[u16]) -> Vec<u32> {
    let mut strides = vec![1; scope.len()];
    for i in (1..scope.len()).rev() {
        strides[i - 1] = strides[i] * u32::from(sizes[scope[i] as usize]);
    }
    strides
}

/// For every entry of a table over `large` the entry of a table over `small`; unknowns that only
/// `small` has stand at their first state.
pub(super) fn entries(large: &[u32], small: &[u32], sizes: &[u16]) -> Vec<u32> {
    let own = strides(small, sizes);
    let mut places: Vec<u32> = vec![0];
    for unknown in large {
        let stride = small.iter().position(|u| u == unknown).map_or(0, |i| own[i]);
        let states = u32::from(sizes[*unknown as usize]);
        places = places.iter().flat_map(|at| (0..states).map(move |s| at + s * stride)).collect();
    }
    places
}
