//! Lays a stack out: the slabs cut into cells, and the cells folded into nodes.

use super::halves::Halves;
use super::march::{Problem, Solver};
use super::refusal::Refusal;
use super::stack::{Node, Stack, Store};
use super::water::{BOUND_HEAT, WATER_SPECIFIC_HEAT};

/// Most cells of a stack.
pub(super) const MOST_CELLS: usize = 20_000;

/// Between two layers: the node above it, and how much that node counts for its temperature.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joint {
    pub above: usize,
    pub share: f64,
}

/// A cell as it is laid out: its capacity, the film's and bound water's share, its temperature at the start.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cell {
    capacity: f64,
    film: f64,
    bound: f64,
}

impl Solver {
    /// Lays the grid through the slabs and begins with all at the start.
    ///
    /// # Errors
    /// Too many cells.
    pub fn lay_out(&mut self, problem: &Problem<'_>) -> Result<(), Refusal> {
        self.lay(problem, 0)
    }

    /// Lays out only what lies below, bare, on the cells that it has under the print.
    ///
    /// # Errors
    /// Too many cells.
    pub fn lay_out_below(&mut self, problem: &Problem<'_>) -> Result<(), Refusal> {
        self.lay(problem, problem.slabs.len().saturating_sub(problem.below))
    }

    fn lay(&mut self, problem: &Problem<'_>, from: usize) -> Result<(), Refusal> {
        let Self { stack, grid, joints, sizes, halves, cells, .. } = self;
        joints.clear();
        halves.clear();
        cells.clear();
        grid.plan(problem);
        let print = problem.slabs.len().saturating_sub(problem.below);
        let pieces = problem.refinement.max(1);
        let (mut place, mut laid, mut print_cells) = (grid.top_of(problem.slabs, from), 0_usize, 0_usize);
        for (index, slab) in (0_usize..).zip(problem.slabs).skip(from) {
            sizes.clear();
            // The print and what it lies on are even in number each, so that what it lies on has the same cells by itself.
            let last = index.saturating_add(1);
            let even = (last == print || last == problem.slabs.len()).then_some(laid);
            place = grid.cells(slab, place, even, sizes);
            laid = laid.saturating_add(sizes.len());
            if cells.len().saturating_add(sizes.len().saturating_mul(pieces as usize)) > MOST_CELLS {
                return Err(Refusal::Cells);
            }
            let scale = 1.0 / f64::from(pieces);
            if let (Some(above), Some(size)) = (halves.last(), sizes.first()) {
                let below = 2.0 * slab.conductivity / (size * scale);
                joints.push(Joint { above: cells.len(), share: above / (above + below) });
            }
            let wet = if index == 0 && from == 0 { problem.film_water } else { 0.0 };
            for size in sizes.iter().flat_map(|size| (0..pieces).map(move |_| size * scale)) {
                let share = size / slab.thickness;
                cells.push(Cell {
                    capacity: slab.heat_per_volume * size - WATER_SPECIFIC_HEAT * share * wet,
                    film: if wet > 0.0 { WATER_SPECIFIC_HEAT * share } else { 0.0 },
                    bound: BOUND_HEAT * slab.bound_water * share,
                });
                halves.push(2.0 * slab.conductivity / size);
            }
            if index < print {
                print_cells = cells.len();
            }
        }
        let (own, under) = problem.start;
        self.steps = (0, 0);
        self.pace = 0.0;
        self.allowed = problem.step;
        stack.local = problem.step / problem.cell;
        stack.start = own;
        stack.wet = if from == 0 { problem.film_water } else { 0.0 };
        stack.water = stack.wet;
        fold(stack, cells, halves);
        let all = stack.cells();
        for index in 0..=all.saturating_add(1) {
            stack.set(index, (if index <= print_cells { own } else { under }, 0.0));
        }
        stack.fill();
        Ok(())
    }
}

/// Fills the nodes of a stack: cells with their halves' conductances, from both faces to the middle.
fn fold(stack: &mut Stack, cells: &[Cell], halves: &[f64]) {
    let count = cells.len();
    let cell = |from_top: usize| from_top.checked_sub(1).and_then(|index| cells.get(index));
    // Conductance between a node and the next one down.
    let below = |node: usize| {
        let half = |cell: usize| cell.checked_sub(1).and_then(|index| halves.get(index)).copied();
        match (half(node), half(node.saturating_add(1))) {
            (Some(above), Some(below)) => above * below / (above + below),
            (one, other) => one.or(other).unwrap_or(0.0),
        }
    };
    stack.nodes.clear();
    (stack.bound_nodes, stack.film_nodes) = (0, 0);
    for place in 0..=count / 2 {
        let mirror = count.saturating_add(1).saturating_sub(place);
        let pick = |of: fn(&Cell) -> f64| Halves::new(cell(place).map_or(0.0, of), cell(mirror).map_or(0.0, of));
        let outward =
            if place == 0 { Halves::default() } else { Halves::new(below(place.saturating_sub(1)), below(mirror)) };
        let inward = Halves::new(below(place), below(mirror.saturating_sub(1)));
        let (film, bound) = (pick(|cell| cell.film), pick(|cell| cell.bound));
        let store =
            if place == 0 { Store::default() } else { Store::of(pick(|cell| cell.capacity), bound, stack.start) };
        if bound != Halves::default() {
            stack.bound_nodes = place.saturating_add(1);
        }
        if film != Halves::default() {
            stack.film_nodes = place.saturating_add(1);
        }
        stack.nodes.push(Node { store, outward, inward, film, ..Node::default() });
    }
}
