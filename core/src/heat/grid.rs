//! The grid: cells that are small where temperatures change sharply and grow away from there.
//!
//! Sharp changes come in through both faces, and through the joint between a print and what it is laid on. How far heat gets in a
//! time is a length by the root of the diffusivity, so the grid is laid out in `xi`, thickness over that root, in which all layers
//! are alike: a cell at a distance d in xi from the nearest source is `f (sqrt(shortest) + GROWTH d)` wide.

use super::faces::Face;
use super::layers::Slab;
use super::march::{Problem, Stage};
use super::water::{BOUND_HEAT, BOUND_RANGE};

/// The square of the width of a cell at the sharpest source, as a share of how far heat gets in the shortest time of interest, times
/// the rise of temperature there over what a temperature may be off: the error goes with both. This and the numbers below were found by
/// trial: dryer and flash of the benchmark err by about 0.1 K for each kelvin of rise and unit of that square.
const FINE: f64 = 3.0;
/// Within which that width is kept.
const FINEST: (f64, f64) = (1e-4, 0.3);
/// A rise below which no grid is coarser for it, K.
const SLIGHT: f64 = 5.0;
/// How much wider the cells may be at a source where less happens.
const COARSEST: f64 = 6.0;
/// How much further heat must go for the next cell, against a source.
const GROWTH: f64 = 0.5;
/// Least cells of a layer.
const LEAST: f64 = 2.0;
/// A share of a layer below which no cell is made smaller: the time steps would not notice.
const SMALLEST: f64 = 1e-6;

/// Where the layers and the sources are, in xi.
#[derive(Debug, Clone, Default)]
pub(super) struct Grid {
    sources: Vec<f64>,
    /// `sqrt(shortest) / GROWTH`: the distance at which a cell is twice as wide as at its source.
    reach: f64,
    /// Cells for each e-fold of distance.
    folds: f64,
}

/// Root of the diffusivity, m/sqrt(s), of a layer whose bound water is leaving.
fn root(slab: &Slab) -> f64 {
    let (from, to) = BOUND_RANGE;
    (slab.conductivity / (slab.heat_per_volume + BOUND_HEAT * slab.bound_water / slab.thickness / (to - from))).sqrt()
}

/// How far heat warms the top, the joint with what lies below, and the bottom in the shortest time of interest, K, about: of a flux q
/// into a deep body `2 q sqrt(t / (pi k rho c))` (Carslaw and Jaeger, 2.9).
fn rises(problem: &Problem<'_>, joint: f64) -> (f64, f64, f64) {
    let stages = problem.stages;
    let faces = || stages.iter().flat_map(|stage| [stage.top, stage.bottom]);
    let (own, under) = problem.start;
    let warmths = || faces().filter(|face| face.transfer > 0.0).map(|face| face.air).chain([own, under]);
    let (coldest, hottest) = (warmths().fold(own, f64::min), warmths().fold(own, f64::max));
    let effusivity = |slab: &Slab| slab.conductivity / root(slab);
    let least = problem.slabs.iter().map(effusivity).fold(f64::INFINITY, f64::min);
    let rise = |heat: f64| 2.0 * heat * (problem.shortest / core::f64::consts::PI).sqrt() / least;
    let met = |of: fn(&Stage) -> &Face| {
        let at = |face: &Face, warmth: f64| match face.held {
            // All of the rise at once bends more sharply than heat that comes in evenly.
            Some(held) => 2.0 * (held - warmth).abs(),
            None => {
                // Air and panel warm it to their own temperature at most.
                let air = if face.transfer > 0.0 { (face.air - warmth).abs() } else { 0.0 };
                let panel = if face.exchange > 0.0 { (face.panel - warmth).abs() } else { 0.0 };
                rise(face.heat(warmth)).abs().min(air.max(panel) + rise(face.flux).abs())
            }
        };
        stages.iter().map(|stage| at(of(stage), coldest).max(at(of(stage), hottest))).fold(0.0, f64::max)
    };
    (met(|stage| &stage.top), joint, met(|stage| &stage.bottom))
}

impl Grid {
    /// A grid for a problem.
    pub(super) fn plan(&mut self, problem: &Problem<'_>) {
        let thickness = |slabs: &[Slab]| slabs.iter().map(|slab| slab.thickness / root(slab)).sum::<f64>();
        let (above, under) = problem.slabs.split_at(problem.slabs.len().saturating_sub(problem.below));
        let joint = thickness(above);
        let bottom = joint + thickness(under);
        let rises = rises(problem, if above.is_empty() { 0.0 } else { (problem.start.0 - problem.start.1).abs() });
        let sharpest = rises.0.max(rises.1).max(rises.2);
        let fine = (FINE * problem.tolerance / sharpest.max(SLIGHT)).sqrt().clamp(FINEST.0, FINEST.1);
        self.reach = problem.shortest.sqrt() / GROWTH;
        self.folds = 1.0 / (fine * GROWTH);
        // A source of less is one that is further away.
        let ratio =
            |most: f64, rise: f64| if rise > 0.0 { (most / rise).sqrt().clamp(1.0, COARSEST) } else { COARSEST };
        let away = |rise: f64| self.reach * (ratio(sharpest, rise) - 1.0);
        self.sources.clear();
        if !above.is_empty() {
            self.sources.push(-away(rises.0));
        }
        if !under.is_empty() {
            self.sources.push(joint);
        }
        self.sources.push(bottom + away(rises.2));
    }

    /// The place of the top of a layer.
    pub(super) fn top_of(&self, slabs: &[Slab], layer: usize) -> f64 {
        slabs.iter().take(layer).map(|slab| slab.thickness / root(slab)).sum()
    }

    /// Cells from the top to a place.
    fn cells_above(&self, place: f64) -> f64 {
        let folds = |distance: f64| self.folds * libm::log(1.0 + distance / self.reach);
        self.sources.windows(2).fold(0.0, |sum, pair| {
            let [begin, end] = pair else { return sum };
            let (half, into) = (0.5 * (end - begin), place.max(*begin).min(*end) - begin);
            sum + folds(into.min(half)) + folds(half) - folds((2.0 * half - into).min(half))
        })
    }

    /// The place above which there are so many cells.
    fn place(&self, cells: f64) -> f64 {
        let mut left = cells;
        for pair in self.sources.windows(2) {
            let [begin, end] = pair else { continue };
            let half = self.folds * libm::log(1.0 + 0.5 * (end - begin) / self.reach);
            let distance = |cells: f64| self.reach * (libm::exp(cells / self.folds) - 1.0);
            if left <= half {
                return begin + distance(left);
            }
            if left <= 2.0 * half {
                return end - distance(2.0 * half - left);
            }
            left -= 2.0 * half;
        }
        self.sources.last().copied().unwrap_or(0.0)
    }

    /// Appends the sizes of the cells of a layer that begins at this place, and gives the place where it ends. `even` cells are added
    /// to: so many that all of them are an even number.
    pub(super) fn cells(&self, slab: &Slab, begin: f64, even: Option<usize>, sizes: &mut Vec<f64>) -> f64 {
        let root = root(slab);
        let end = begin + slab.thickness / root;
        let (above, below) = (self.cells_above(begin), self.cells_above(end));
        let wanted = (below - above - 1e-9).ceil().clamp(LEAST, 1.0 / SMALLEST);
        let odd = even.is_some_and(|before| before.saturating_add(wanted as usize) % 2 == 1);
        let count = if odd { wanted + 1.0 } else { wanted };
        let mut place = begin;
        for index in 1..=count as u32 {
            let next = self.place(above + (below - above) * f64::from(index) / count);
            // Rounding must leave no cell without thickness.
            let size = (next - place).max(SMALLEST * (end - begin) / count);
            sizes.push(size * root);
            place = next;
        }
        end
    }
}
