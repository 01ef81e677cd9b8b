//! One step of the method over the folded stack.
//!
//! The unknowns of a stage are increments of temperature. A cell whose heat content bends with temperature is stepped in heat
//! content: its increment of heat is the slope at the begin of the step times the increment of temperature, and its temperature
//! at a stage is that of its heat there. In the film the increment of heat is that and what the leaving water took at the temperature
//! of the begin: so the rows stay three elements wide although all of them hang on the water, and the energies add up.

use super::faces::Face;
use super::halves::Halves;
use super::method::{COUPLING, FOURTH, GAMMA, STAGE, STAGES, THIRD};
use super::stack::{Crossing, Node, Stack};
use super::water::{LAST_SHARE, evaporating, fall_off};
use crate::air::latent_heat;

/// How the latent heat falls with temperature, J/(kg.K): for the Jacobian alone.
const LATENT_SLOPE: f64 = -2400.0;
/// A film with no more than this share of its water is dry.
pub(super) const DRY: f64 = 1e-4;
/// How much more than a single temperature the mean over what binds water weighs: its errors add up over the steps.
const MEAN: f64 = 10.0;
const MOST_ITERATIONS: usize = 30;

/// How fast water leaves, kg/(m2.s), its slopes with temperature and with the film's water, and its latent heat.
#[derive(Debug, Clone, Copy, Default)]
struct Drying {
    flow: f64,
    by_temperature: f64,
    by_water: f64,
    latent: f64,
}

impl Drying {
    fn of(face: &Face, wet: f64, temperature: f64, water: f64) -> Self {
        let (full, rise) = evaporating(face, temperature);
        let last = LAST_SHARE * wet;
        let (share, steep) = fall_off(water / last);
        let latent = if full.abs() > 0.0 { latent_heat(temperature) } else { 0.0 };
        Self { flow: full * share, by_temperature: rise * share, by_water: full * steep / last, latent }
    }
}

/// The film's row: what a step knows of its drying.
#[derive(Debug, Clone, Copy, Default)]
struct Film {
    first: Drying,
    /// Inverse of the water's own pivot, s.
    own: f64,
}

/// Increments, weighted.
#[inline]
fn sum<const N: usize>(weights: &[f64; STAGES - 1], increments: &[Halves; STAGES]) -> Halves {
    weights
        .iter()
        .zip(increments)
        .take(N)
        .fold(Halves::default(), |sum, (weight, increment)| sum + *increment * *weight)
}

fn weighted(weights: &[f64; STAGES - 1], increments: &[f64]) -> f64 {
    weights.iter().zip(increments).fold(0.0, |sum, (weight, increment)| sum + weight * increment)
}

impl Stack {
    /// Brings the faces into balance with the cells: after the start and after every change of what they meet.
    pub(super) fn meet(&mut self) {
        let (top, bottom, wet, water) = (self.top, self.bottom, self.wet, self.water);
        let Some((faces, [first, ..])) = self.nodes.split_first_mut() else { return };
        for (face, lower) in [(top, false), (bottom, true)] {
            let (inner, conductance) = (first.temperature.of(lower), faces.inward.of(lower));
            let mut temperature = face.held.unwrap_or(inner);
            for _ in 0..MOST_ITERATIONS {
                if face.held.is_some() {
                    break;
                }
                let drying =
                    if lower || water <= 0.0 { Drying::default() } else { Drying::of(&face, wet, temperature, water) };
                let balance =
                    face.heat(temperature) - drying.flow * drying.latent + conductance * (inner - temperature);
                let slope = face.slope(temperature)
                    - drying.by_temperature * drying.latent
                    - drying.flow * LATENT_SLOPE
                    - conductance;
                let change = (balance / slope).clamp(-200.0, 200.0);
                temperature = (temperature - change).max(1.0);
                if change.abs() < 1e-9 {
                    break;
                }
            }
            faces.temperature.set(lower, temperature);
        }
    }

    /// Tries a step of `h` seconds: its error in K, or nothing where it has no finite end.
    pub(super) fn attempt(&mut self, h: f64) -> Option<f64> {
        let film = self.linearise(h);
        let mut crossings = [Crossing::default(); STAGES];
        for index in 0..STAGES {
            match index {
                0 | 1 => self.combine::<1>(index),
                2 | 3 => self.combine::<3>(index),
                _ => self.combine::<5>(index),
            }
            self.stage(index, h, &film, &mut crossings);
        }
        self.end(&crossings)
    }

    /// Keeps the begin of the step, and factors the rows there, from the faces to the middle. Without pivoting, for they are
    /// diagonally dominant.
    fn linearise(&mut self, h: f64) -> Film {
        let (shift, per_time) = (1.0 / (GAMMA * h), 1.0 / h);
        let (start, water, by_heat) = (self.start, self.water, self.by_heat());
        self.water_before = water;
        self.water_increments = [0.0; STAGES];
        let surface = self.nodes.first().map_or(0.0, |node| node.temperature.upper);
        let first = if water > 0.0 { Drying::of(&self.top, self.wet, surface, water) } else { Drying::default() };
        let film = Film { first, own: 1.0 / (shift + first.by_water) };
        let mut before = Halves::default();
        for (index, node) in self.nodes.iter_mut().enumerate() {
            (node.temperature_before, node.heat_before, node.left_before) = (node.temperature, node.heat, node.left);
            let (slope, mut diagonal, mut inward) = if index == 0 {
                let dries =
                    first.by_temperature * first.latent * (1.0 - first.by_water * film.own) + first.flow * LATENT_SLOPE;
                let at = node.temperature;
                let falls = Halves::new(dries - self.top.slope(at.upper), -self.bottom.slope(at.lower));
                (Halves::default(), node.inward + falls, node.inward)
            } else {
                let slope = if index < by_heat {
                    node.carried = node.film * (node.temperature - Halves::both(start));
                    node.stored(water, start).slope(node.heat, node.left)
                } else {
                    node.store.capacity
                };
                (slope, slope * shift + node.outward + node.inward + node.film * first.flow, node.inward)
            };
            if index == 0 {
                for (face, lower) in [(&self.top, false), (&self.bottom, true)] {
                    if face.held.is_some() {
                        diagonal.set(lower, 1.0);
                        inward.set(lower, 0.0);
                    }
                }
            }
            (node.slope, node.by_time) = (slope, slope * per_time);
            node.pivot = (diagonal - node.outward * before).inverse();
            node.to_outward = node.outward * node.pivot;
            node.to_inward = inward * node.pivot;
            before = node.to_inward;
        }
        film
    }

    /// Where a stage is looked at, and what earlier stages bring to its rows. `N`: of how many stages the weights may not be zero.
    fn combine<const N: usize>(&mut self, index: usize) {
        let (Some(stage), Some(coupling)) = (STAGE.get(index), COUPLING.get(index)) else { return };
        for node in &mut self.nodes {
            node.stage = node.temperature_before + sum::<N>(stage, &node.increments);
            node.right = node.by_time * sum::<N>(coupling, &node.increments);
        }
    }

    /// Solves a stage: its increments.
    fn stage(&mut self, index: usize, h: f64, film: &Film, crossings: &mut [Crossing; STAGES]) {
        let (Some(stage), Some(coupling)) = (STAGE.get(index), COUPLING.get(index)) else { return };
        let (start, by_heat) = (self.start, self.by_heat());
        let drained = weighted(stage, &self.water_increments);
        let water = self.water_before + drained;
        for node in self.nodes.iter_mut().take(by_heat).skip(1) {
            node.heat = node.heat_before + node.slope * (node.stage - node.temperature_before) + node.carried * drained;
            node.stage = Halves::both(start) + node.stored(water, start).warmth(node.heat, node.left);
        }

        let (top, bottom, dries) = (self.top, self.bottom, self.water_before > 0.0);
        let surface = self.nodes.first().map_or(0.0, |node| node.stage.upper);
        let drying = if dries { Drying::of(&top, self.wet, surface, water) } else { Drying::default() };
        let right_of_water = weighted(coupling, &self.water_increments) / h - drying.flow;
        if dries {
            for node in self.nodes.iter_mut().take(self.film_nodes).skip(1) {
                node.right = node.right - node.film * (node.stage - node.temperature_before) * drying.flow;
            }
        }

        // Down from the faces: the heat into each node, eliminated as far as the node.
        let mut nodes = self.nodes.iter_mut();
        let Some(mut node) = nodes.next() else { return };
        let at = node.stage;
        let met = Halves::new(
            top.heat(at.upper)
                - drying.flow * drying.latent
                - film.first.latent * film.first.by_water * right_of_water * film.own,
            bottom.heat(at.lower),
        );
        let (mut outer, mut before) = (Halves::default() - met, Halves::default());
        let mut is_face = true;
        loop {
            let next = nodes.next();
            let beyond = next.as_ref().map_or(node.stage.swapped(), |next| next.stage);
            let inner = node.inward * (beyond - node.stage);
            let mut right = inner - outer + node.right;
            if is_face {
                for (face, lower) in [(&top, false), (&bottom, true)] {
                    if let Some(held) = face.held {
                        right.set(lower, held - node.stage.of(lower));
                    }
                }
                is_face = false;
            }
            before = right * node.pivot + node.to_outward * before;
            node.right = before;
            outer = inner;
            match next {
                Some(next) => node = next,
                None => break,
            }
        }

        // Two rows with two unknowns where the halves meet, then back to the faces.
        let across = node.to_inward;
        let mut beyond = (before.swapped() + across.swapped() * before) * (1.0 / (1.0 - across.upper * across.lower));
        for node in self.nodes.iter_mut().rev() {
            beyond = node.right + node.to_inward * beyond;
            if let Some(increment) = node.increments.get_mut(index) {
                *increment = beyond;
            }
        }
        self.cross(index, h, film, &drying, right_of_water, coupling, crossings);
    }

    /// What crosses the boundaries in a stage, by the same rows, so that it adds up to what is stored.
    #[allow(clippy::too_many_arguments, reason = "what a stage knows")]
    fn cross(
        &mut self,
        index: usize,
        h: f64,
        film: &Film,
        drying: &Drying,
        right_of_water: f64,
        coupling: &[f64; STAGES - 1],
        crossings: &mut [Crossing; STAGES],
    ) {
        let increment = |node: &Node| node.increments.get(index).copied().unwrap_or_default();
        let [face, first, ..] = self.nodes.as_slice() else { return };
        let mut now = Crossing {
            conducted: face.inward * ((face.stage - first.stage) + (increment(face) - increment(first))),
            ..Crossing::default()
        };
        if self.water_before > 0.0 {
            let surface = increment(face).upper;
            let drained = (right_of_water - film.first.by_temperature * surface) * film.own;
            if let Some(water) = self.water_increments.get_mut(index) {
                *water = drained;
            }
            // How much faster water leaves for the increments.
            let faster = film.first.by_temperature * surface + film.first.by_water * drained;
            now.latent =
                drying.flow * drying.latent + film.first.latent * faster + film.first.flow * LATENT_SLOPE * surface;
            for node in self.nodes.iter().take(self.film_nodes).skip(1) {
                let taken = node.film * (node.stage - Halves::both(self.start)) * drying.flow
                    + node.carried * faster
                    + node.film * increment(node) * film.first.flow;
                now.carried += taken.upper + taken.lower;
            }
        }
        let earlier = crossings.iter().zip(coupling).fold(Crossing::default(), |sum, (crossing, weight)| Crossing {
            conducted: sum.conducted + crossing.conducted * *weight,
            latent: sum.latent + crossing.latent * weight,
            carried: sum.carried + crossing.carried * weight,
        });
        if let Some(crossing) = crossings.get_mut(index) {
            *crossing = Crossing {
                conducted: (now.conducted * h + earlier.conducted) * GAMMA,
                latent: (now.latent * h + earlier.latent) * GAMMA,
                carried: (now.carried * h + earlier.carried) * GAMMA,
            };
        }
    }

    /// The end of the step, and its error, K: the largest of its temperatures, where a cell that binds water weighs less by itself, since
    /// it is off while it begins or ends to release it, and their mean the more.
    fn end(&mut self, crossings: &[Crossing; STAGES]) -> Option<f64> {
        let [.., weights] = &STAGE;
        let (start, by_heat) = (self.start, self.by_heat());
        let [.., drained] = self.water_increments;
        self.water = (self.water_before + weighted(weights, &self.water_increments) + drained).max(0.0);
        if self.water <= DRY * self.wet {
            self.water = 0.0;
        }
        let mut worst = Halves::default();
        let (mut bound, mut heat, mut capacity) = (Halves::default(), Halves::default(), Halves::default());
        let mut finite = true;
        for (index, node) in self.nodes.iter_mut().enumerate() {
            let [.., last] = node.increments;
            if (1..self.bound_nodes).contains(&index) {
                bound = bound.max(last).max(Halves::default() - last);
                (heat, capacity) = (heat + node.slope * last, capacity + node.store.capacity);
            } else {
                worst = worst.max(last).max(Halves::default() - last);
            }
            finite &= last.upper.is_finite() & last.lower.is_finite();
            node.temperature = node.stage + last;
            if (1..by_heat).contains(&index) {
                node.heat = node.heat + node.slope * last + node.carried * drained;
                node.temperature = Halves::both(start) + node.stored(self.water, start).warmth(node.heat, node.left);
            }
        }
        self.crossing =
            crossings.iter().zip(weights.iter().chain([&1.0])).fold(Crossing::default(), |sum, (crossing, weight)| {
                Crossing {
                    conducted: sum.conducted + crossing.conducted * *weight,
                    latent: sum.latent + crossing.latent * weight,
                    carried: sum.carried + crossing.carried * weight,
                }
            });
        // A thousandth of the film's water weighs as much as 0.1 K.
        let water = if self.water_before > 0.0 { 100.0 * drained.abs() / self.wet } else { 0.0 };
        let capacity = capacity.upper + capacity.lower;
        let mean = if capacity > 0.0 { (heat.upper + heat.lower).abs() / capacity } else { 0.0 };
        let worst =
            worst.upper.max(worst.lower).max(water).max(MEAN * mean).max(self.local * bound.upper.max(bound.lower));
        (finite && water.is_finite()).then_some(worst)
    }

    /// Goes back to the begin of the step.
    pub(super) fn refuse(&mut self) {
        self.water = self.water_before;
        for node in &mut self.nodes {
            (node.temperature, node.heat) = (node.temperature_before, node.heat_before);
            // What is not finite would stay so even with a weight of zero.
            node.increments = [Halves::default(); STAGES];
        }
    }

    /// Takes the step that was last attempted, and prepares to be looked into.
    pub(super) fn accept(&mut self) {
        let by_heat = self.by_heat();
        (self.water_third, self.water_fourth) =
            (weighted(&THIRD, &self.water_increments), weighted(&FOURTH, &self.water_increments));
        for (index, node) in self.nodes.iter_mut().enumerate() {
            node.third = sum::<5>(&THIRD, &node.increments);
            node.fourth = sum::<5>(&FOURTH, &node.increments);
            if (1..by_heat).contains(&index) {
                let share = node.stored(self.water, self.start).share(node.heat).0;
                node.left = node.left.max(share);
            }
        }
    }

    /// The fastest change of a cell's temperature, K/s, as far as heat that is conducted tells.
    pub(super) fn fastest(&self) -> f64 {
        let Some((mut node, rest)) = self.nodes.split_first() else { return 0.0 };
        let mut outer = Halves::default();
        let mut fastest = Halves::default();
        let mut next = rest.iter();
        loop {
            let inward = next.next();
            let beyond = inward.map_or(node.temperature.swapped(), |next| next.temperature);
            let inner = node.inward * (beyond - node.temperature);
            if node.store.capacity.upper > 0.0 {
                let rate = (inner - outer) * node.store.per_kelvin;
                fastest = fastest.max(rate).max(Halves::default() - rate);
            }
            outer = inner;
            match inward {
                Some(inward) => node = inward,
                None => break,
            }
        }
        fastest.upper.max(fastest.lower)
    }
}
