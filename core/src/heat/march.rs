//! The march: steps of controlled error from stage to stage, told to whoever watches.

use super::faces::Face;
use super::grid;
use super::layers::Slab;
use super::pace::Pace;
use super::step::{Cell, Crossing, MIDDLE, State, Stepper, pairs};
use crate::error::{Code, Error};
use std::ops::ControlFlow;

/// Most cells of a stack, most steps of a march, most of both multiplied: beyond them the answer is `too_long`.
const MOST_CELLS: usize = 20_000;
const MOST_STEPS: u64 = 200_000;
const MOST_WORK: u64 = 40_000_000;
/// Share of a tolerance of 0.05 K that one step may err by. What steps so controlled add up to goes with the power 2/3 of it, the
/// order of the method over that of its error, so the share goes with the root of the tolerance; up to 0.2 K, beyond which a
/// film's last water would be lost in one step.
const STEP_SHARE: (f64, f64) = (0.1, 0.05);
const WIDEST: f64 = 0.2;

/// What both faces meet for a while.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// How long, s.
    pub duration: f64,
    /// What the top face meets.
    pub top: Face,
    /// What the bottom face meets.
    pub bottom: Face,
}

/// A stack and what happens to it. SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Problem<'a> {
    /// Top to bottom.
    pub slabs: &'a [Slab],
    /// Free water in the first slab, kg/m2.
    pub film_water: f64,
    /// Temperature of each slab at the start, K; the last one stands for all slabs below it.
    pub start: &'a [f64],
    /// How many slabs, counted from the bottom, keep the temperatures that the solver's last march left in them, cell by cell:
    /// a platen under the next shirt. They must be the same slabs, on the same grid.
    pub keep: usize,
    /// One after the other.
    pub stages: &'a [Stage],
    /// The shortest time between two moments of interest, s: the grid resolves how far heat gets in it.
    pub shortest: f64,
    /// How far a temperature may be off, K.
    pub tolerance: f64,
    /// Divides every cell: 1 but for studies of convergence.
    pub refinement: f64,
}

/// Energies since the start, J/m2.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Energy {
    /// In through the top face.
    pub in_top: f64,
    /// In through the bottom face.
    pub in_bottom: f64,
    /// Stored above the start.
    pub stored: f64,
    /// Gone with water: latent heat of film and bound water, and what the film's water took with it.
    pub evaporated: f64,
    /// Latent heat of the film's water alone.
    pub latent: f64,
    /// What does not add up, as a share of all heat that crossed the faces.
    pub imbalance: f64,
}

/// One moment of a march: looks into the step that holds it.
#[derive(Debug, Clone, Copy)]
pub struct Instant<'a> {
    solver: &'a Solver,
    /// When, s since the start.
    pub time: f64,
    share: f64,
}

impl Instant<'_> {
    /// A parabola through the three stages of the step: as good as the step itself.
    fn between(&self, now: f64, middle: f64, end: f64) -> f64 {
        let (x, m) = (self.share, MIDDLE);
        now * (x - m) * (x - 1.0) / m + middle * x * (x - 1.0) / (m * (m - 1.0)) + end * x * (x - m) / (1.0 - m)
    }

    fn node(&self, index: usize) -> f64 {
        let stepper = &self.solver.stepper;
        let of = |state: &State| state.temperatures.get(index).copied().unwrap_or(0.0);
        // After a step is taken its start and its end have changed places.
        self.between(of(&stepper.end), of(&stepper.middle), of(&stepper.now)) + self.bend(index)
    }

    /// How far the parabola of a node misses the bend that bound water makes when it begins or ceases to leave. Heat content
    /// has no such bend, so it is what tells the temperature; a face follows its cell.
    fn bend(&self, index: usize) -> f64 {
        let stepper = &self.solver.stepper;
        let index = index.clamp(1, stepper.cells.len().max(1));
        let Some(cell) = stepper.cells.get(index.saturating_sub(1)).filter(|cell| cell.bound > 0.0) else { return 0.0 };
        let cell = Cell { hottest: cell.before, ..*cell };
        let of = |state: &State| state.temperatures.get(index).copied().unwrap_or(0.0);
        let heat = |state: &State| cell.heat(of(state), state.water, stepper.start).0;
        let states = (&stepper.end, &stepper.middle, &stepper.now);
        let parabola = self.between(of(states.0), of(states.1), of(states.2));
        let heat = self.between(heat(states.0), heat(states.1), heat(states.2));
        cell.temperature(heat, self.film_water(), stepper.start) - parabola
    }

    /// Temperature of the top face, K.
    #[must_use]
    pub fn top(&self) -> f64 {
        self.face(0, 1)
    }

    /// A face at the very start is as warm as its cell: what it meets has had no time.
    fn face(&self, face: usize, cell: usize) -> f64 {
        self.node(if self.time > 0.0 { face } else { cell })
    }

    /// Temperature of the bottom face, K.
    #[must_use]
    pub fn bottom(&self) -> f64 {
        let cells = self.solver.stepper.cells.len();
        self.face(cells.saturating_add(1), cells)
    }

    /// Temperature of the joint under a layer, counted from 0, K.
    #[must_use]
    pub fn joint(&self, layer: usize) -> f64 {
        let Some(joint) = self.solver.joints.get(layer) else { return self.bottom() };
        joint.share * self.node(joint.above) + (1.0 - joint.share) * self.node(joint.above.saturating_add(1))
    }

    /// Water left in the film, kg/m2.
    #[must_use]
    pub fn film_water(&self) -> f64 {
        let stepper = &self.solver.stepper;
        self.between(stepper.end.water, stepper.middle.water, stepper.now.water).max(0.0)
    }
}

/// Between two layers: the node above it, and how much that node counts for its temperature.
#[derive(Debug, Clone, Copy)]
struct Joint {
    above: usize,
    share: f64,
}

/// The beginning of a step, to come back to.
#[derive(Debug, Clone, Default)]
pub struct Mark {
    /// When, s since the start of the march or of its continuation.
    pub time: f64,
    temperatures: Vec<f64>,
    hottest: Vec<f64>,
    water: f64,
    length: f64,
}

/// Owns the buffers of a march. One solver may march many problems, and allocates only for a larger grid than before.
#[derive(Debug, Clone, Default)]
pub struct Solver {
    stepper: Stepper,
    joints: Vec<Joint>,
    sizes: Vec<f64>,
    halves: Vec<f64>,
    starts: Vec<f64>,
    kept: Vec<f64>,
    /// What a step may err by, K.
    allowed: f64,
    /// How long a step the last one leaves to be expected, s; 0 at the start.
    pace: f64,
    /// Steps taken and steps refused in the last march.
    pub steps: (u64, u64),
    /// Marches so far, and returns to a mark.
    pub marches: u32,
}

impl Solver {
    /// A solver with nothing in it yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes over the temperatures that another solver's last march left, for layers that keep theirs.
    pub fn take_temperatures(&mut self, other: &Self) {
        self.stepper.now.temperatures.clone_from(&other.stepper.now.temperatures);
    }

    /// Temperature of the top face at the end of the last march, K.
    #[must_use]
    pub fn top(&self) -> f64 {
        self.stepper.now.temperatures.first().copied().unwrap_or(0.0)
    }

    /// Cells of the last march.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.stepper.cells.len()
    }

    /// Marches through all stages. After each step `watch` is told its begin and end, and may look at any moment in it; it may
    /// end the march. Gives the energies of what was marched.
    ///
    /// # Errors
    /// `too_long` for more cells or steps than the limits, `no_solution` where no step, however short, converges.
    pub fn march(
        &mut self,
        problem: &Problem<'_>,
        watch: impl FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Error> {
        self.lay_out(problem)?;
        self.go_on(problem.stages, watch)
    }

    /// Goes on from where the last march, or the return to a mark, left the stack. Times and energies begin anew.
    ///
    /// # Errors
    /// As [`Solver::march`].
    pub fn go_on(
        &mut self,
        stages: &[Stage],
        mut watch: impl FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Error> {
        self.watched(stages, &mut watch)
    }

    /// As [`Solver::go_on`], compiled once for all that watch.
    fn watched(
        &mut self,
        stages: &[Stage],
        watch: &mut dyn FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Error> {
        let stored_at_start = self.stepper.stored().0;
        let mut sum = Crossing::default();
        let mut throughput = 0.0;
        let mut clock = 0.0;
        'stages: for stage in stages {
            let changed = self.pace <= 0.0 || self.stepper.top != stage.top || self.stepper.bottom != stage.bottom;
            self.stepper.top = stage.top;
            self.stepper.bottom = stage.bottom;
            self.stepper.meet();
            let mut into = 0.0;
            let mut pace = Pace::default();
            let mut h = if changed { self.first_step(stage.duration) } else { self.pace };
            while into < stage.duration {
                let left = stage.duration - into;
                // Two even steps rather than a long one and a splinter.
                let try_h = if h >= left { left } else { h.min(if 2.0 * h > left { 0.5 * left } else { h }) };
                let error = self.stepper.attempt(try_h);
                let (ratio, refused) = pace.next(try_h, error, self.allowed);
                h = try_h * ratio;
                if refused {
                    self.steps.1 = self.steps.1.saturating_add(1);
                    // No shorter than the clock of the stage can tell; thin metal against a held face begins very short.
                    if h < 1e-14 * into || h < 1e-20 {
                        return Err(Error::new(
                            Code::NoSolution,
                            "/stages",
                            "no step, however short, converges: check the layers and faces",
                        ));
                    }
                    continue;
                }
                let crossed = self.stepper.accept(try_h);
                self.steps.0 = self.steps.0.saturating_add(1);
                let work = self.steps.0.saturating_add(self.steps.1);
                if work > MOST_STEPS || work.saturating_mul(self.cells() as u64) > MOST_WORK {
                    return Err(Error::new(
                        Code::TooLong,
                        "/stages",
                        "the march takes more steps than allowed: ask for a wider tolerance or less time",
                    )
                    .allowed([format!("at most {MOST_STEPS} steps")]));
                }
                sum.top += crossed.top;
                sum.bottom += crossed.bottom;
                sum.latent += crossed.latent;
                sum.carried += crossed.carried;
                throughput += crossed.top.abs() + crossed.bottom.abs() + crossed.latent.abs();
                let begin = clock + into;
                into = if try_h >= left { stage.duration } else { into + try_h };
                self.pace = h;
                if watch(Span { solver: self, begin, end: clock + into }).is_break() {
                    break 'stages;
                }
            }
            clock += stage.duration;
        }
        let (stored, bound) = self.stepper.stored();
        let stored = stored - stored_at_start;
        let evaporated = sum.latent + sum.carried + bound;
        let open = sum.top + sum.bottom - stored - evaporated;
        Ok(Energy {
            in_top: sum.top,
            in_bottom: sum.bottom,
            stored,
            evaporated,
            latent: sum.latent,
            imbalance: if throughput > 0.0 { open / throughput } else { 0.0 },
        })
    }

    /// Goes back to a mark of the last march.
    pub fn back_to(&mut self, mark: &Mark) {
        let stepper = &mut self.stepper;
        stepper.now.temperatures.clone_from(&mark.temperatures);
        stepper.now.water = mark.water;
        for (cell, hottest) in stepper.cells.iter_mut().zip(&mark.hottest) {
            (cell.hottest, cell.before) = (*hottest, *hottest);
        }
        self.pace = mark.length;
        self.marches = self.marches.saturating_add(1);
    }

    /// Lays the grid through the slabs.
    fn lay_out(&mut self, problem: &Problem<'_>) -> Result<(), Error> {
        let stepper = &mut self.stepper;
        stepper.cells.clear();
        self.joints.clear();
        self.halves.clear();
        self.steps = (0, 0);
        self.marches = self.marches.saturating_add(1);
        self.pace = 0.0;
        stepper.share = STEP_SHARE.0 * (problem.tolerance.min(WIDEST) / STEP_SHARE.1).sqrt();
        self.allowed = problem.tolerance * stepper.share;
        stepper.wet = problem.film_water;
        stepper.start = problem.start.first().copied().unwrap_or(0.0);
        let mut starts = problem.start.iter();
        let mut start = stepper.start;
        // A finer grid for a finer answer: its error falls with the square of the cells.
        let fineness = (0.05 / problem.tolerance).sqrt().max(0.4);
        let mut first = true;
        self.kept.clear();
        self.kept.extend(stepper.now.temperatures.iter().rev().skip(1));
        self.starts.clear();
        let keep_from = problem.slabs.len().saturating_sub(problem.keep);
        let mut kept_cells = 0_usize;
        for (index, slab) in problem.slabs.iter().enumerate() {
            start = starts.next().copied().unwrap_or(start);
            let reach = (slab.diffusivity() * problem.shortest).sqrt();
            self.sizes.clear();
            grid::cells(slab, reach, fineness, problem.refinement, &mut self.sizes);
            if stepper.cells.len().saturating_add(self.sizes.len()) > MOST_CELLS {
                return Err(Error::new(
                    Code::TooLong,
                    "/layers",
                    "the stack needs more cells than allowed: fewer layers or a wider tolerance",
                )
                .allowed([format!("at most {MOST_CELLS} cells")]));
            }
            if let (Some(above), Some(size)) = (self.halves.last(), self.sizes.first()) {
                let below = 2.0 * slab.conductivity / size;
                self.joints.push(Joint { above: stepper.cells.len(), share: above / (above + below) });
            }
            for size in &self.sizes {
                let share = size / slab.thickness;
                let film_share = if first { share } else { 0.0 };
                stepper.cells.push(Cell {
                    capacity: slab.heat_per_volume * size - WATER * film_share * problem.film_water,
                    film_share,
                    bound: slab.bound_water * share,
                    hottest: start,
                    before: start,
                });
                self.halves.push(2.0 * slab.conductivity / size);
                self.starts.push(start);
            }
            if index >= keep_from {
                kept_cells = kept_cells.saturating_add(self.sizes.len());
            }
            first = false;
        }
        stepper.conductances.clear();
        stepper.conductances.extend(self.halves.first());
        stepper.conductances.extend(pairs(&self.halves).map(|(above, below)| above * below / (above + below)));
        stepper.conductances.extend(self.halves.last());
        stepper.prepare();
        for (start, kept) in self.starts.iter_mut().rev().zip(&self.kept).take(kept_cells) {
            *start = *kept;
        }
        for ((node, cell), start) in
            stepper.now.temperatures.iter_mut().skip(1).zip(&mut stepper.cells).zip(&self.starts)
        {
            *node = *start;
            cell.hottest = *start;
            cell.before = *start;
        }
        // Room for the temperatures that the next march may keep.
        self.kept.clear();
        self.kept.reserve(stepper.cells.len().saturating_add(1));
        Ok(())
    }

    /// A first step that moves no cell by more than a step may err, as far as the rates at the start tell.
    fn first_step(&self, duration: f64) -> f64 {
        let stepper = &self.stepper;
        let fastest = stepper
            .cells
            .iter()
            .zip(&stepper.now.heating)
            .fold(0.0_f64, |fastest, (cell, heating)| fastest.max((heating / cell.capacity).abs()));
        if fastest > 0.0 { (10.0 * self.allowed / fastest).max(duration * 1e-9).min(duration) } else { duration * 1e-3 }
    }
}

const WATER: f64 = super::water::WATER_SPECIFIC_HEAT;

/// A step that was taken.
#[derive(Debug, Clone, Copy)]
pub struct Span<'a> {
    solver: &'a Solver,
    /// Its begin, s since the start.
    pub begin: f64,
    /// Its end, s since the start.
    pub end: f64,
}

impl<'a> Span<'a> {
    /// Marks the beginning of the step.
    pub fn mark(&self, mark: &mut Mark) {
        // After a step is taken its start and its end have changed places.
        let stepper = &self.solver.stepper;
        mark.temperatures.clone_from(&stepper.end.temperatures);
        mark.hottest.clear();
        mark.hottest.extend(stepper.cells.iter().map(|cell| cell.before));
        mark.water = stepper.end.water;
        mark.time = self.begin;
        mark.length = self.end - self.begin;
    }

    /// A moment of the step.
    #[must_use]
    pub fn at(&self, time: f64) -> Instant<'a> {
        let length = self.end - self.begin;
        let share = if length > 0.0 { ((time - self.begin) / length).clamp(0.0, 1.0) } else { 1.0 };
        Instant { solver: self.solver, time, share }
    }
}
