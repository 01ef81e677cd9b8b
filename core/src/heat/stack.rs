//! The stack as nodes: top face, cells, bottom face, folded in the middle, with their constants and their state.

use super::faces::Face;
use super::halves::Halves;
use super::method::STAGES;
use super::water::{BOUND_RANGE, gone, released};

/// A node of the upper half and its mirror image: both faces first, then the cells from there to the middle.
///
/// Bound water leaves by heat content, so a cell that holds some is known by its heat, above the start of the stack; any other by
/// its temperature, which is the same up to a factor.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Node {
    /// Its heat capacity without the film's water, none of a face, and its bound water.
    pub store: Store,
    /// Conductance to the next node outward and inward, W/(m2.K).
    pub outward: Halves,
    pub inward: Halves,
    /// Heat capacity of the film's water in it, J/(m2.K) for each kg/m2 in the film.
    pub film: Halves,
    /// Temperature, K.
    pub temperature: Halves,
    /// Heat content above the start, J/m2, where it has bound water or water of the film.
    pub heat: Halves,
    /// Share of the bound water that has left at most.
    pub left: Halves,
    /// The three at the begin of the step.
    pub temperature_before: Halves,
    pub heat_before: Halves,
    pub left_before: Halves,
    /// How its heat content rises with temperature, J/(m2.K), at the begin of the step; the same over the time of the step.
    pub slope: Halves,
    pub by_time: Halves,
    /// Heat in the film's water in it, J/m2 for each kg/m2 in the film, at the begin of the step.
    pub carried: Halves,
    /// Temperature at which a stage is looked at, and the right side of its row.
    pub stage: Halves,
    pub right: Halves,
    /// Increments of the temperature, stage by stage.
    pub increments: [Halves; STAGES],
    /// The row, factored: the inverse of the pivot, and the outward and the inward element times it.
    pub pivot: Halves,
    pub to_outward: Halves,
    pub to_inward: Halves,
    /// Third and fourth coefficient of the dense output of the last step, K.
    pub third: Halves,
    pub fourth: Halves,
}

/// How a cell turns heat content into temperature.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Store {
    /// Heat capacity with the water of the film that is in it, J/(m2.K), and its inverse.
    pub capacity: Halves,
    pub per_kelvin: Halves,
    /// Heat that all its bound water takes, J/m2.
    pub bound: Halves,
    /// Inverse of the heat from where bound water begins to leave to where all has left, m2/J, and how far on this way a cell is that
    /// is as warm as the start.
    pub way: Halves,
    pub ahead: Halves,
}

impl Store {
    #[inline]
    pub(super) fn of(capacity: Halves, bound: Halves, start: f64) -> Self {
        let (from, to) = BOUND_RANGE;
        let way = (capacity * (to - from) + bound).inverse();
        Self { capacity, per_kelvin: capacity.inverse(), bound, way, ahead: capacity * way * (start - from) }
    }

    /// Share of the bound water that has left by a heat content above the start, and its slope by the way.
    #[inline]
    pub(super) fn share(&self, heat: Halves) -> (Halves, Halves) {
        released(self.ahead + heat * self.way)
    }

    /// Temperature above the start, of which `left` had left at most.
    #[inline]
    pub(super) fn warmth(&self, heat: Halves, left: Halves) -> Halves {
        (heat - self.bound * gone(self.share(heat).0, left).0) * self.per_kelvin
    }

    /// Slope of the heat content with temperature, J/(m2.K).
    #[inline]
    pub(super) fn slope(&self, heat: Halves, left: Halves) -> Halves {
        let (share, steep) = self.share(heat);
        let taken = self.bound * steep * gone(share, left).1 * self.way;
        self.capacity * (Halves::both(1.0) - taken).inverse()
    }
}

/// The stack; nothing is allocated while it steps.
#[derive(Debug, Clone, Default)]
pub(super) struct Stack {
    pub nodes: Vec<Node>,
    /// Nodes, from the faces inward, up to the last that has bound water, and to the last that has water of the film.
    pub bound_nodes: usize,
    pub film_nodes: usize,
    /// Temperature from which heat contents count, K.
    pub start: f64,
    pub top: Face,
    pub bottom: Face,
    /// Film water at the start, now, and at the begin of the step, kg/m2; none once the film is dry.
    pub wet: f64,
    pub water: f64,
    pub water_before: f64,
    /// Increments of the film's water, and coefficients of its dense output.
    pub water_increments: [f64; STAGES],
    /// Weight of the error of a single cell that binds water.
    pub local: f64,
    pub water_third: f64,
    pub water_fourth: f64,
    /// What crossed in the last step.
    pub crossing: Crossing,
}

/// Heat that crossed the boundaries, J/m2: conducted in from both faces, which is less than meets a face that dries.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Crossing {
    pub conducted: Halves,
    pub latent: f64,
    /// What the leaving water took from the film, above the start.
    pub carried: f64,
}

impl Stack {
    /// Where a node is, counted from the top face: its place among the folded nodes, and whether in the lower half.
    pub(super) fn place(&self, index: usize) -> (usize, bool) {
        if index < self.nodes.len() {
            (index, false)
        } else {
            (self.nodes.len().saturating_mul(2).saturating_sub(1).saturating_sub(index), true)
        }
    }

    /// Cells of the stack.
    pub(super) fn cells(&self) -> usize {
        self.nodes.len().saturating_mul(2).saturating_sub(2)
    }

    /// Temperature of a node, counted from the top face, K, and the share of its bound water that has left.
    pub(super) fn state(&self, index: usize) -> (f64, f64) {
        let (place, lower) = self.place(index);
        self.nodes.get(place).map_or((0.0, 0.0), |node| (node.temperature.of(lower), node.left.of(lower)))
    }

    /// Sets a cell's temperature and the share of its bound water that has left at most; heat contents must be worked out then.
    pub(super) fn set(&mut self, index: usize, (temperature, left): (f64, f64)) {
        let (place, lower) = self.place(index);
        if let Some(node) = self.nodes.get_mut(place) {
            node.temperature.set(lower, temperature);
            node.left.set(lower, left);
        }
    }

    /// Nodes, from the faces inward, that are known by their heat content.
    pub(super) fn by_heat(&self) -> usize {
        self.bound_nodes.max(self.film_nodes)
    }

    /// Works out the heat contents from the temperatures; what must have left at them has left.
    pub(super) fn fill(&mut self) {
        let (start, water, reach) = (self.start, self.water, self.by_heat());
        for node in self.nodes.iter_mut().take(reach).skip(1) {
            let store = node.stored(water, start);
            let wanted = node.temperature - Halves::both(start);
            if node.left == Halves::default() && store.share(store.capacity * wanted).0 == Halves::default() {
                node.heat = store.capacity * wanted;
                continue;
            }
            // Between the heat with all and with none of the bound water, the temperature only rises with it.
            let (mut least, mut most) = (store.capacity * wanted, store.capacity * wanted + store.bound);
            for _ in 0..60 {
                let middle = (least + most) * 0.5;
                let reached = store.warmth(middle, node.left);
                for lower in [false, true] {
                    let end = if reached.of(lower) < wanted.of(lower) { &mut least } else { &mut most };
                    end.set(lower, middle.of(lower));
                }
            }
            node.heat = (least + most) * 0.5;
            node.left = node.left.max(store.share(node.heat).0);
        }
    }

    /// Heat stored above the start, and heat that bound water took, J/m2.
    pub(super) fn stored(&self) -> (f64, f64) {
        let reach = self.by_heat();
        let mut sums = (Halves::default(), Halves::default());
        for (index, node) in self.nodes.iter().enumerate() {
            if (1..reach).contains(&index) {
                let store = node.stored(self.water, self.start);
                let taken = store.bound * gone(store.share(node.heat).0, node.left).0;
                sums = (sums.0 + node.heat - taken, sums.1 + taken);
            } else {
                sums.0 = sums.0 + node.store.capacity * (node.temperature - Halves::both(self.start));
            }
        }
        (sums.0.upper + sums.0.lower, sums.1.upper + sums.1.lower)
    }
}

/// A state to come back to.
#[derive(Debug, Clone, Default)]
pub(super) struct State {
    nodes: Vec<[Halves; 3]>,
    water: f64,
}

impl Stack {
    /// Writes down the state at a share of the last step.
    pub(super) fn write(&self, x: f64, state: &mut State) {
        let mix = |begin: Halves, end: Halves, third: Halves, fourth: Halves| {
            begin * (1.0 - x) + (end + (third + fourth * x) * (1.0 - x)) * x
        };
        let water = |begin: f64, end: f64| {
            (1.0 - x) * begin + x * (end + (1.0 - x) * (self.water_third + x * self.water_fourth))
        };
        state.water = water(self.water_before, self.water).max(0.0);
        state.nodes.clear();
        state.nodes.extend(self.nodes.iter().enumerate().map(|(index, node)| {
            let plain = mix(node.temperature_before, node.temperature, node.third, node.fourth);
            if !(1..self.by_heat()).contains(&index) {
                return [plain, Halves::default(), Halves::default()];
            }
            let third = node.slope * node.third + node.carried * self.water_third;
            let fourth = node.slope * node.fourth + node.carried * self.water_fourth;
            let heat = mix(node.heat_before, node.heat, third, fourth);
            let store = node.stored(state.water, self.start);
            let left = node.left_before.max(store.share(heat).0);
            [Halves::both(self.start) + store.warmth(heat, left), heat, left]
        }));
    }

    /// Comes back to a state of the same stack.
    pub(super) fn come_back(&mut self, state: &State) {
        self.water = state.water;
        for (node, [temperature, heat, left]) in self.nodes.iter_mut().zip(&state.nodes) {
            (node.temperature, node.heat, node.left) = (*temperature, *heat, *left);
        }
    }
}

impl Node {
    /// How it turns heat content into temperature with so much water in the film, kg/m2.
    #[inline]
    pub(super) fn stored(&self, water: f64, start: f64) -> Store {
        if self.film == Halves::default() {
            self.store
        } else {
            Store::of(self.store.capacity + self.film * water, self.store.bound, start)
        }
    }
}
