//! One step: TR-BDF2, second order, L-stable, with a third-order companion for its error (Hosea and Shampine, Appl. Numer.
//! Math. 20 (1996) 21; Bank et al., IEEE Trans. Electron Devices 32 (1985) 1992).
//!
//! Unknown are the temperatures of the cells and of both faces; a face has no heat capacity, so its balance holds at every
//! stage. Radiation, drying and bound water are solved inside the Newton iteration, none of them lagged. What is stepped is
//! heat content, so that the energies of the steps add up to the heat that is stored, whatever the step's error.

use super::faces::Face;
use super::water::{
    BOUND_HEAT, BOUND_RANGE, LAST_SHARE, WATER_SPECIFIC_HEAT, bound_left_off, evaporating, fall_off, latent_heat,
};

/// Where the middle stage stands in the step, 2 - sqrt 2.
pub(super) const MIDDLE: f64 = 2.0 - core::f64::consts::SQRT_2;
/// Weight of a stage in itself, MIDDLE / 2.
const OWN: f64 = MIDDLE / 2.0;
/// Weight of the first and the middle stage in the last one, sqrt 2 / 4.
const EARLIER: f64 = core::f64::consts::SQRT_2 / 4.0;
/// Weights of the three stages in the result.
const RESULT: [f64; 3] = [EARLIER, EARLIER, OWN];
/// Those less the weights of the companion.
const ERROR: [f64; 3] = [(4.0 * EARLIER - 1.0) / 3.0, -1.0 / 3.0, 2.0 * OWN / 3.0];

/// A Newton step this small is the last one, K: convergence is quadratic.
const CLOSE: f64 = 1e-4;
/// Balances that are off by no more than this need no further Newton step: K in a cell, W/m2 at a face. Where nothing bends,
/// the first step gets there.
const BALANCED: (f64, f64) = (1e-7, 1e-6);
const MOST_ITERATIONS: usize = 20;
/// How the latent heat falls with temperature, J/(kg.K): for the Newton iteration alone.
const LATENT_SLOPE: f64 = -2400.0;

/// A cell of the grid.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Cell {
    /// Heat capacity without the film's water, J/(m2.K).
    pub capacity: f64,
    /// Share of the film's water in it.
    pub film_share: f64,
    /// Bound water, kg/m2.
    pub bound: f64,
    /// Its hottest moment so far, K.
    pub hottest: f64,
    /// Its hottest moment before the last step, K.
    pub before: f64,
}

impl Cell {
    /// Heat content above the start, J/m2, at this temperature and film water, and its slope with temperature.
    pub(super) fn heat(&self, temperature: f64, film_water: f64, start: f64) -> (f64, f64) {
        let capacity = self.capacity + WATER_SPECIFIC_HEAT * self.film_share * film_water;
        let (mut heat, mut slope) = (capacity * (temperature - start), capacity);
        if self.bound > 0.0 {
            let (left, rise) = bound_left_off(temperature.max(self.hottest));
            heat += BOUND_HEAT * self.bound * left;
            if temperature >= self.hottest {
                slope += BOUND_HEAT * self.bound * rise;
            }
        }
        (heat, slope)
    }

    /// The temperature at a heat content above the start: the inverse of [`Cell::heat`].
    pub(super) fn temperature(&self, heat: f64, film_water: f64, start: f64) -> f64 {
        let capacity = self.capacity + WATER_SPECIFIC_HEAT * self.film_share * film_water;
        let bound = BOUND_HEAT * self.bound;
        let with = |left: f64| start + (heat - bound * left) / capacity;
        let as_before = with(bound_left_off(self.hottest).0);
        let (from, to) = BOUND_RANGE;
        if as_before <= self.hottest {
            as_before
        } else if with(0.0) <= from {
            with(0.0)
        } else if with(1.0) >= to {
            with(1.0)
        } else {
            let rise = bound / (to - from);
            (heat + capacity * start + rise * from) / (capacity + rise)
        }
    }
}

/// What crosses the boundaries at one moment: heat in W/m2, water in kg/(m2.s).
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Crossing {
    pub top: f64,
    pub bottom: f64,
    pub latent: f64,
    /// Heat that the leaving water takes from the film, above the start.
    pub carried: f64,
    pub water: f64,
}

/// The state of the stack at one moment.
#[derive(Debug, Clone, Default)]
pub(super) struct State {
    /// Top face, cells, bottom face, K.
    pub temperatures: Vec<f64>,
    /// Water in the film, kg/m2.
    pub water: f64,
    /// Heat into each cell, W/m2.
    pub heating: Vec<f64>,
    pub crossing: Crossing,
}

/// The stack and its buffers; nothing is allocated while it steps.
#[derive(Debug, Clone, Default)]
pub(super) struct Stepper {
    pub cells: Vec<Cell>,
    /// Conductances from node to node, W/(m2.K): one more than cells.
    pub conductances: Vec<f64>,
    /// Film water at the start, kg/m2.
    pub wet: f64,
    /// Temperature at the start, K.
    pub start: f64,
    /// Share of the tolerance that one step may err by; a moment within it may be off by all of it.
    pub share: f64,
    pub top: Face,
    pub bottom: Face,
    /// The state at the beginning, in the middle and at the end of the step.
    pub now: State,
    pub middle: State,
    pub end: State,
    known: Vec<f64>,
    flux: Vec<f64>,
    /// How the heat content of each cell rises with its temperature, J/(m2.K).
    slopes: Vec<f64>,
    /// What is missing in the balances of the nodes, then the change of their temperatures.
    right: Vec<f64>,
    /// The matrix that was last solved, factored.
    rows: Vec<Row>,
}

/// A row of the tridiagonal matrix.
#[derive(Debug, Clone, Copy, Default)]
struct Row {
    lower: f64,
    diagonal: f64,
    upper: f64,
}

impl Stepper {
    /// Makes room for the cells; the temperatures are those of the start.
    pub(super) fn prepare(&mut self) {
        let cells = self.cells.len();
        for state in [&mut self.now, &mut self.middle, &mut self.end] {
            state.temperatures.clear();
            state.temperatures.resize(cells.saturating_add(2), self.start);
            state.heating.clear();
            state.heating.resize(cells, 0.0);
            state.water = self.wet;
            state.crossing = Crossing::default();
        }
        self.known.clear();
        self.known.resize(cells, 0.0);
        self.flux.clear();
        self.flux.resize(cells.saturating_add(1), 0.0);
        self.slopes.clear();
        self.slopes.resize(cells, 0.0);
        self.right.clear();
        self.right.resize(cells.saturating_add(2), 0.0);
        self.rows.clear();
        self.rows.resize(cells.saturating_add(2), Row::default());
    }

    /// Water that leaves at this face temperature, with what the stage already knows of the film's water and the weight of
    /// the stage itself: the flow, its slope with temperature, and the water then left.
    fn drying(&self, temperature: f64, known: f64, weight: f64) -> (f64, f64, f64) {
        if self.wet <= 0.0 || known.abs() <= 1e-9 * self.wet {
            return (0.0, 0.0, 0.0);
        }
        let (full, rise) = evaporating(&self.top, temperature);
        let last = LAST_SHARE * self.wet;
        let most = weight * full;
        // Water left w solves w + most x fall_off(w / last) = known.
        let left = if known - most >= last {
            known - most
        } else {
            let b = 2.0 * most + last;
            last * 2.0 * known / (b + (b * b - 4.0 * most * known).max(0.0).sqrt())
        };
        let (share, steep) = fall_off(left / last);
        (share * full, share * rise / (1.0 + most * steep / last), left)
    }

    /// Fills the heating and crossings of a state from its temperatures.
    fn settle(&mut self, which: Which, flow: f64) {
        let Self { cells, conductances, flux, top, bottom, start, .. } = self;
        let state = match which {
            Which::Now => &mut self.now,
            Which::Middle => &mut self.middle,
            Which::End => &mut self.end,
        };
        for ((flux, conductance), (above, below)) in flux.iter_mut().zip(&*conductances).zip(pairs(&state.temperatures))
        {
            *flux = conductance * (below - above);
        }
        let mut carried = 0.0;
        let inner = state.temperatures.iter().skip(1);
        for (((heating, (from_above, from_below)), cell), temperature) in
            state.heating.iter_mut().zip(pairs(flux)).zip(&*cells).zip(inner)
        {
            let lost = cell.film_share * flow * WATER_SPECIFIC_HEAT * (temperature - *start);
            *heating = from_below - from_above - lost;
            carried += lost;
        }
        let (first, last) = (edge(state.temperatures.first()), edge(state.temperatures.last()));
        state.crossing = Crossing {
            top: if top.held.is_some() { -edge(flux.first()) } else { top.heat(first) },
            bottom: if bottom.held.is_some() { edge(flux.last()) } else { bottom.heat(last) },
            latent: flow * latent_heat_if(flow, first),
            carried,
            water: flow,
        };
    }

    /// Brings the faces into balance with the cells: after the start and after every change of what they meet.
    pub(super) fn meet(&mut self) {
        let mut flow = 0.0;
        for bottom in [false, true] {
            let face = if bottom { self.bottom } else { self.top };
            let conductance = edge(if bottom { self.conductances.last() } else { self.conductances.first() });
            let nodes = &self.now.temperatures;
            let inner = edge(if bottom { nodes.iter().rev().nth(1) } else { nodes.get(1) });
            let mut temperature = face.held.unwrap_or(inner);
            for _ in 0..MOST_ITERATIONS {
                if face.held.is_some() {
                    break;
                }
                let (leaving, rise, _) =
                    if bottom { (0.0, 0.0, 0.0) } else { self.drying(temperature, self.now.water, 0.0) };
                let latent = latent_heat_if(leaving, temperature);
                let balance = face.heat(temperature) - leaving * latent + conductance * (inner - temperature);
                let slope = face.slope(temperature) - rise * latent - leaving * LATENT_SLOPE - conductance;
                let change = (balance / slope).clamp(-200.0, 200.0);
                temperature = (temperature - change).max(1.0);
                if change.abs() < 1e-9 {
                    break;
                }
            }
            let node = if bottom { self.now.temperatures.last_mut() } else { self.now.temperatures.first_mut() };
            if let Some(node) = node {
                *node = temperature;
            }
            if !bottom {
                flow = self.drying(temperature, self.now.water, 0.0).0;
            }
        }
        self.settle(Which::Now, flow);
    }

    /// Tries a step of `h` seconds from `now`: the error of its temperatures in K, or nothing where it did not converge.
    pub(super) fn attempt(&mut self, h: f64) -> Option<f64> {
        let first = self.now.crossing;
        self.know(h, &[OWN]);
        self.middle.temperatures.copy_from_slice(&self.now.temperatures);
        self.stage(Which::Middle, h * OWN, self.now.water - h * OWN * first.water)?;

        let second = self.middle.crossing;
        self.know(h, &[EARLIER, EARLIER]);
        let ahead = (1.0 - MIDDLE) / MIDDLE;
        for ((end, middle), now) in
            self.end.temperatures.iter_mut().zip(&self.middle.temperatures).zip(&self.now.temperatures)
        {
            *end = middle + ahead * (middle - now);
        }
        self.stage(Which::End, h * OWN, self.now.water - h * EARLIER * (first.water + second.water))?;

        // The companion's error, smoothed by the matrix that was last solved so that stiff parts do not shout.
        self.right.fill(0.0);
        let [one, two, three] = ERROR;
        for (((right, a), b), c) in
            self.right.iter_mut().skip(1).zip(&self.now.heating).zip(&self.middle.heating).zip(&self.end.heating)
        {
            *right = h * (one * a + two * b + three * c);
        }
        substitute(&self.rows, &mut self.right);
        let worst = self
            .right
            .iter()
            .map(|error| error.abs())
            .fold(0.0, |worst, error| if error > worst { error } else { worst });
        // A thousandth of the film's water weighs as much as 0.1 K.
        let water = h * (one * first.water + two * second.water + three * self.end.crossing.water);
        let water = if self.wet > 0.0 { 100.0 * water.abs() / self.wet } else { 0.0 };
        Some(worst.max(water).max(self.share * self.bend(h))).filter(|error| error.is_finite())
    }

    /// How far a moment within the step may be off where bound water begins or ceases to leave in it, or a film falls dry, K.
    ///
    /// The end of such a step is good, for heat is conserved; but temperatures bend on the way, in dry neighbours too. How much
    /// shows in how the slopes of the parabola of a cell's heat differ from the heating; an eighth of that may be missed.
    fn bend(&self, h: f64) -> f64 {
        let Self { cells, now, middle, end, start, .. } = self;
        let last = LAST_SHARE * self.wet;
        let temperatures = now.temperatures.iter().zip(&middle.temperatures).zip(&end.temperatures).skip(1);
        let nodes = cells.iter().zip(temperatures);
        let bends = |(cell, ((begin, _), end)): (&Cell, ((&f64, &f64), &f64))| {
            let (before, after) = (cell.heat(*begin, 0.0, *start).1, cell.heat(*end, 0.0, *start).1);
            (before - after).abs() > 1e-3 * before
        };
        let falls_dry = now.water > last && end.water < last;
        if !falls_dry && !nodes.clone().filter(|(cell, _)| cell.bound > 0.0).any(bends) {
            return 0.0;
        }
        let rates = now.heating.iter().zip(&end.heating);
        let missed = nodes.zip(rates).fold(0.0_f64, |worst, ((cell, ((t0, t1), t2)), rates)| {
            let (first, _) = cell.heat(*t0, now.water, *start);
            let (second, _) = cell.heat(*t1, middle.water, *start);
            let (third, slope) = cell.heat(*t2, end.water, *start);
            let (before, after) = parabola_slopes(first, second, third);
            worst.max((before - h * rates.0).abs().max((after - h * rates.1).abs()) / slope)
        });
        missed / 8.0
    }

    /// What a stage knows of each cell's heat: that of `now`, and what the earlier stages bring.
    fn know(&mut self, h: f64, weights: &[f64]) {
        let Self { cells, known, now, middle, start, .. } = self;
        let inner = now.temperatures.iter().skip(1);
        for ((known, cell), temperature) in known.iter_mut().zip(cells).zip(inner) {
            *known = cell.heat(*temperature, now.water, *start).0;
        }
        for (weight, state) in weights.iter().zip([&*now, &*middle]) {
            for (known, heating) in known.iter_mut().zip(&state.heating) {
                *known += h * weight * heating;
            }
        }
    }

    /// Solves a stage by Newton's method, from the guess in its temperatures.
    ///
    /// The water that leaves during the stage leaves each cell at that cell's temperature: both terms cancel, and the cell
    /// keeps the capacity of the water that the stage already knows.
    fn stage(&mut self, which: Which, weight: f64, water: f64) -> Option<()> {
        let mut close = false;
        for _ in 0..MOST_ITERATIONS {
            let nodes = match which {
                Which::Now => &self.now.temperatures,
                Which::Middle => &self.middle.temperatures,
                Which::End => &self.end.temperatures,
            };
            let surface = edge(nodes.first());
            let (flow, rise, left) = self.drying(surface, water, weight);
            let mut balanced = true;
            for ((flux, conductance), (above, below)) in self.flux.iter_mut().zip(&self.conductances).zip(pairs(nodes))
            {
                *flux = conductance * (below - above);
            }
            let cells = self.cells.iter().zip(&self.known).zip(nodes.iter().skip(1));
            for (((right, slope), ((cell, known), temperature)), (from_above, from_below)) in
                self.right.iter_mut().skip(1).zip(&mut self.slopes).zip(cells).zip(pairs(&self.flux))
            {
                let heat;
                (heat, *slope) = cell.heat(*temperature, water, self.start);
                *right = heat - known - weight * (from_below - from_above);
                balanced &= right.abs() <= BALANCED.0 * *slope;
            }
            let ground = edge(nodes.last());
            let latent = latent_heat_if(flow, surface);
            let top = match self.top.held {
                Some(held) => surface - held,
                None => flow * latent - self.top.heat(surface) - edge(self.flux.first()),
            };
            let bottom = match self.bottom.held {
                Some(held) => ground - held,
                None => edge(self.flux.last()) - self.bottom.heat(ground),
            };
            if let [first, .., last] = self.right.as_mut_slice() {
                (*first, *last) = (top, bottom);
            }
            balanced &= top.abs().max(bottom.abs()) <= BALANCED.1;
            if balanced || close {
                // The flow that belongs to the last temperatures, so that the energies close.
                let state = match which {
                    Which::Now => &mut self.now,
                    Which::Middle => &mut self.middle,
                    Which::End => &mut self.end,
                };
                state.water = left;
                self.settle(which, flow);
                return Some(());
            }
            for ((row, slope), (above, below)) in
                self.rows.iter_mut().skip(1).zip(&self.slopes).zip(pairs(&self.conductances))
            {
                *row =
                    Row { lower: -weight * above, diagonal: slope + weight * (above + below), upper: -weight * below };
            }
            let (first, last) = (edge(self.conductances.first()), edge(self.conductances.last()));
            let held = Row { diagonal: 1.0, ..Row::default() };
            let top = Row {
                lower: 0.0,
                diagonal: first - self.top.slope(surface) + rise * latent + flow * LATENT_SLOPE,
                upper: -first,
            };
            let bottom = Row { lower: -last, diagonal: last - self.bottom.slope(ground), upper: 0.0 };
            if let [first, .., last] = self.rows.as_mut_slice() {
                *first = if self.top.held.is_some() { held } else { top };
                *last = if self.bottom.held.is_some() { held } else { bottom };
            }
            factor(&mut self.rows);
            substitute(&self.rows, &mut self.right);
            let state = match which {
                Which::Now => &mut self.now,
                Which::Middle => &mut self.middle,
                Which::End => &mut self.end,
            };
            close = true;
            let mut lost = false;
            for (temperature, change) in state.temperatures.iter_mut().zip(&self.right) {
                close &= change.abs() < CLOSE;
                lost |= change.is_nan();
                *temperature = (*temperature - change.clamp(-200.0, 200.0)).max(1.0);
            }
            if lost {
                return None;
            }
        }
        None
    }

    /// Takes the step that was last attempted; gives the energies that crossed in it, J/m2, and the water, kg/m2.
    pub(super) fn accept(&mut self, h: f64) -> Crossing {
        let [a, b, c] = RESULT;
        let (one, two, three) = (self.now.crossing, self.middle.crossing, self.end.crossing);
        let sum = |part: fn(&Crossing) -> f64| h * (a * part(&one) + b * part(&two) + c * part(&three));
        let crossed = Crossing {
            top: sum(|x| x.top),
            bottom: sum(|x| x.bottom),
            latent: sum(|x| x.latent),
            carried: sum(|x| x.carried),
            water: sum(|x| x.water),
        };
        core::mem::swap(&mut self.now, &mut self.end);
        for (cell, temperature) in self.cells.iter_mut().zip(self.now.temperatures.iter().skip(1)) {
            cell.before = cell.hottest;
            cell.hottest = cell.hottest.max(*temperature);
        }
        crossed
    }

    /// Heat stored above the start, and heat that bound water took, J/m2.
    pub(super) fn stored(&self) -> (f64, f64) {
        let mut stored = 0.0;
        let mut bound = 0.0;
        for (cell, temperature) in self.cells.iter().zip(self.now.temperatures.iter().skip(1)) {
            let left = BOUND_HEAT * cell.bound * bound_left_off(cell.hottest).0;
            bound += left;
            stored += cell.heat(*temperature, self.now.water, self.start).0 - left;
        }
        (stored, bound)
    }
}

/// Slopes at both ends, for each step, of the parabola through what the three stages have.
fn parabola_slopes(now: f64, middle: f64, end: f64) -> (f64, f64) {
    let m = MIDDLE;
    (
        middle / (m * (1.0 - m)) - now * (1.0 + m) / m - end * m / (1.0 - m),
        now * (1.0 - m) / m - middle / (m * (1.0 - m)) + end * (2.0 - m) / (1.0 - m),
    )
}

/// Which state of the step.
#[derive(Debug, Clone, Copy)]
enum Which {
    Now,
    Middle,
    End,
}

fn edge(value: Option<&f64>) -> f64 {
    value.copied().unwrap_or(0.0)
}

/// Each value with the next one.
pub(super) fn pairs(values: &[f64]) -> impl Iterator<Item = (f64, f64)> {
    values.iter().zip(values.get(1..).unwrap_or_default()).map(|(one, next)| (*one, *next))
}

/// The latent heat, where there is a flow that needs it.
fn latent_heat_if(flow: f64, temperature: f64) -> f64 {
    if flow.abs() > 0.0 { latent_heat(temperature) } else { 0.0 }
}

/// Eliminates from both ends to the middle, which halves the chain of divisions that wait for each other. Without pivoting,
/// for the rows are diagonally dominant; they are even in number, for the cells of a layer are symmetric. Leaves the inverse
/// of each pivot in `diagonal`, and the other two scaled by it.
fn factor(rows: &mut [Row]) {
    let (head, tail) = rows.split_at_mut(rows.len() / 2);
    let (mut above, mut below) = (Row { diagonal: 1.0, ..Row::default() }, Row { diagonal: 1.0, ..Row::default() });
    for (down, up) in head.iter_mut().zip(tail.iter_mut().rev()) {
        down.diagonal -= down.lower * above.upper / above.diagonal;
        up.diagonal -= up.upper * below.lower / below.diagonal;
        (above, below) = (*down, *up);
        for row in [down, up] {
            row.diagonal = 1.0 / row.diagonal;
            row.lower *= row.diagonal;
            row.upper *= row.diagonal;
        }
    }
}

/// Solves factored rows for a right side, in place.
fn substitute(rows: &[Row], right: &mut [f64]) {
    let (head, tail) = rows.split_at(rows.len() / 2);
    let (right_head, right_tail) = right.split_at_mut(head.len());
    let (mut above, mut below) = (0.0, 0.0);
    let pairs = head.iter().zip(tail.iter().rev());
    for ((down, up), (x, y)) in pairs.zip(right_head.iter_mut().zip(right_tail.iter_mut().rev())) {
        *x = *x * down.diagonal - down.lower * above;
        *y = *y * up.diagonal - up.upper * below;
        (above, below) = (*x, *y);
    }
    // Two rows with two unknowns where the ends meet, then back to the ends.
    let (across, back) = (head.last().map_or(0.0, |row| row.upper), tail.first().map_or(0.0, |row| row.lower));
    let determinant = 1.0 - across * back;
    (above, below) = ((above - across * below) / determinant, (below - back * above) / determinant);
    let pairs = head.iter().rev().zip(tail);
    for ((down, up), (x, y)) in pairs.zip(right_head.iter_mut().rev().zip(right_tail)) {
        (*x, *y) = (*x - down.upper * below, *y - up.lower * above);
        (below, above) = (*x, *y);
    }
}
