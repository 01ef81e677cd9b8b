//! The march: steps of controlled error from stage to stage, told to whoever watches.

use super::faces::Face;
use super::grid::Grid;
use super::halves::Halves;
use super::lay::{Cell, Joint};
use super::layers::Slab;
use super::method::STAGES;
use super::pace::Pace;
use super::path::{Path, Place, WaterPath, share};
use super::refusal::Refusal;
use super::stack::{Crossing, Stack, State};
use crate::work::Work;
use std::ops::ControlFlow;

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

/// A stack and how well it is to be known. SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Problem<'a> {
    /// Top to bottom.
    pub slabs: &'a [Slab],
    /// How many slabs, counted from the bottom, were laid under the others, at a temperature of their own: a platen.
    pub below: usize,
    /// Free water in the first slab, kg/m2.
    pub film_water: f64,
    /// Temperature at the start, K, and that of the slabs below.
    pub start: (f64, f64),
    /// What the faces meet, one after the other.
    pub stages: &'a [Stage],
    /// The shortest time between two moments of interest, s: the grid resolves how far heat gets in it.
    pub shortest: f64,
    /// How far a temperature may be off, K: the grid follows it.
    pub tolerance: f64,
    /// How far one step may be off, K.
    pub step: f64,
    /// How far it may be off in a single cell that binds water, K: that is so while the cell begins or ends to release it.
    pub cell: f64,
    /// Divides every cell: 1 but for studies of convergence.
    pub refinement: u32,
}

/// How far one step may be off, and in it a cell that binds water, for temperatures that are to be within a tolerance, K.
pub const fn step_errors(tolerance: f64) -> (f64, f64) {
    (0.5 * tolerance, 2.0 * tolerance)
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

/// A moment to come back to.
#[derive(Debug, Clone, Default)]
pub struct Mark {
    state: State,
    pace: f64,
}

/// Owns the buffers of a march. One solver may march many problems, and allocates only for a larger grid than before.
#[derive(Debug, Clone, Default)]
pub struct Solver {
    pub(super) stack: Stack,
    pub(super) grid: Grid,
    pub(super) joints: Vec<Joint>,
    pub(super) sizes: Vec<f64>,
    pub(super) halves: Vec<f64>,
    pub(super) cells: Vec<Cell>,
    /// What a step may err by, K.
    pub(super) allowed: f64,
    /// How long a step the last one leaves to be expected, s; 0 at the start.
    pub(super) pace: f64,
    /// Steps taken and steps refused since the stack was laid out.
    pub steps: (u64, u64),
}

/// What a step is worth in rows beside those of its equations.
const STEP: u64 = 12;
/// What it is worth in rows to lay a cell out.
const LAID: u64 = 20;

impl Solver {
    /// A solver with nothing in it yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Temperature of the top face now, K.
    #[must_use]
    pub fn top(&self) -> f64 {
        self.stack.state(0).0
    }

    /// Conductance of half a cell, from its middle to its face, of each from the top, W/(m2.K).
    #[cfg(feature = "internals")]
    #[must_use]
    pub fn half_conductances(&self) -> &[f64] {
        &self.halves
    }

    /// Whether there is water of the film left.
    #[must_use]
    pub fn is_wet(&self) -> bool {
        self.stack.water > 0.0
    }

    /// Cells of the stack.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.stack.cells()
    }

    /// Lays out a problem and marches it through all stages. After each step `watch` is told its begin and end, and may look at any
    /// moment in it; it may end the march. Gives the energies of what was marched.
    ///
    /// # Errors
    /// Too many cells, too much work, no step that converges, a face below absolute zero.
    pub fn march(
        &mut self,
        problem: &Problem<'_>,
        work: &mut Work,
        watch: impl FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Refusal> {
        self.lay_out(problem)?;
        work.count(LAID.saturating_mul(self.cells() as u64));
        self.go_on(problem.stages, work, watch)
    }

    /// Goes on from where the stack is. Times and energies begin anew.
    ///
    /// # Errors
    /// As [`Solver::march`].
    pub fn go_on(
        &mut self,
        stages: &[Stage],
        work: &mut Work,
        mut watch: impl FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Refusal> {
        self.watched(stages, work, &mut watch)
    }

    /// As [`Solver::go_on`], compiled once for all that watch.
    fn watched(
        &mut self,
        stages: &[Stage],
        work: &mut Work,
        watch: &mut dyn FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<Energy, Refusal> {
        let (stored_at_start, bound_at_start) = self.stack.stored();
        let mut sum = Crossing::default();
        let mut throughput = 0.0;
        let mut clock = 0.0;
        let rows = self.rows();
        'stages: for stage in stages {
            let changed = self.pace <= 0.0 || self.stack.top != stage.top || self.stack.bottom != stage.bottom;
            (self.stack.top, self.stack.bottom) = (stage.top, stage.bottom);
            self.stack.meet();
            let mut into = 0.0;
            let mut pace = Pace::default();
            let mut h = if changed { self.first_step(stage.duration) } else { self.pace };
            while into < stage.duration {
                if !work.take(rows) {
                    return Err(Refusal::Work);
                }
                let left = stage.duration - into;
                // Two even steps rather than a long one and a splinter.
                let try_h = if h >= left { left } else { h.min(if 2.0 * h > left { 0.5 * left } else { h }) };
                let error = self.stack.attempt(try_h);
                let (ratio, refused) = pace.next(try_h, error, self.allowed);
                h = try_h * ratio;
                if refused {
                    self.stack.refuse();
                    self.steps.1 = self.steps.1.saturating_add(1);
                    // No shorter than the clock of the stage can tell; thin metal against a held face begins very short.
                    if h < 1e-14 * into || h < 1e-20 {
                        return Err(Refusal::Step);
                    }
                    continue;
                }
                self.stack.accept();
                if self.coldest() < 0.0 {
                    return Err(Refusal::Cold);
                }
                self.steps.0 = self.steps.0.saturating_add(1);
                let mut crossing = self.stack.crossing;
                // Not even a rounding crosses an insulated face.
                if stage.top.is_insulated() {
                    crossing.conducted.upper = -crossing.latent;
                }
                if stage.bottom.is_insulated() {
                    crossing.conducted.lower = 0.0;
                }
                sum.conducted = sum.conducted + crossing.conducted;
                sum.latent += crossing.latent;
                sum.carried += crossing.carried;
                throughput += (crossing.conducted.upper + crossing.latent).abs()
                    + crossing.conducted.lower.abs()
                    + crossing.latent.abs();
                let begin = clock + into;
                into = if try_h >= left { stage.duration } else { into + try_h };
                self.pace = h;
                if watch(Span { solver: self, begin, end: clock + into }).is_break() {
                    break 'stages;
                }
            }
            clock += stage.duration;
        }
        let (stored, bound) = self.stack.stored();
        let (stored, bound) = (stored - stored_at_start, bound - bound_at_start);
        let (in_top, in_bottom) = (sum.conducted.upper + sum.latent, sum.conducted.lower);
        let evaporated = sum.latent + sum.carried + bound;
        let open = in_top + in_bottom - stored - evaporated;
        let imbalance = if throughput > 0.0 { open / throughput } else { 0.0 };
        Ok(Energy { in_top, in_bottom, stored, evaporated, latent: sum.latent, imbalance })
    }

    /// Goes on in even steps of whatever error: linear in the temperatures, where faces only meet air and no water is bound.
    ///
    /// # Errors
    /// Too much work, no step that is finite.
    pub fn leap(&mut self, stage: &Stage, steps: u32, work: &mut Work) -> Result<(), Refusal> {
        (self.stack.top, self.stack.bottom) = (stage.top, stage.bottom);
        self.stack.meet();
        for _ in 0..steps {
            if !work.take(self.rows()) {
                return Err(Refusal::Work);
            }
            if self.stack.attempt(stage.duration / f64::from(steps)).is_none() {
                return Err(Refusal::Step);
            }
            self.stack.accept();
        }
        Ok(())
    }

    /// Rows of equations in a step, and what one is worth whatever the stack.
    fn rows(&self) -> u64 {
        (self.cells() as u64).saturating_add(2).saturating_mul(STAGES as u64).saturating_add(STEP)
    }

    /// The colder face, K: nothing between is colder than both and the start.
    fn coldest(&self) -> f64 {
        self.stack.nodes.first().map_or(0.0, |faces| faces.temperature.upper.min(faces.temperature.lower))
    }

    /// Marks the moment that the last march ended with.
    pub fn mark(&self, mark: &mut Mark) {
        self.stack.write(1.0, &mut mark.state);
        mark.pace = self.pace;
    }

    /// Goes back to a mark on the same stack.
    pub fn back_to(&mut self, mark: &Mark) {
        self.stack.come_back(&mark.state);
        self.pace = mark.pace;
    }

    /// Begins anew, all at this temperature, K.
    pub fn begin(&mut self, start: f64) {
        for index in 0..=self.cells().saturating_add(1) {
            self.stack.set(index, (start, 0.0));
        }
        self.stack.water = self.stack.wet;
        self.stack.fill();
        self.pace = 0.0;
    }

    /// From the top face to the bottom one: temperature, K, and share of the bound water that has left.
    #[must_use]
    pub fn states(&self) -> Vec<(f64, f64)> {
        (0..=self.cells().saturating_add(1)).map(|index| self.stack.state(index)).collect()
    }

    /// Begins anew from such states.
    pub fn begin_at(&mut self, states: &[(f64, f64)]) {
        for (index, state) in states.iter().enumerate() {
            self.stack.set(index, *state);
        }
        self.stack.water = self.stack.wet;
        self.stack.fill();
        self.pace = 0.0;
    }

    /// Begins anew: a print of this temperature on what another solver's stack ends with, cell by cell from the bottom.
    pub fn begin_on(&mut self, start: f64, other: &Self, below: usize) {
        let (cells, others) = (self.cells(), other.cells());
        self.stack.water = self.stack.wet;
        let kept = below.min(cells).min(others);
        for index in 1..=cells.saturating_sub(kept) {
            self.stack.set(index, (start, 0.0));
        }
        for back in 0..kept {
            let state = other.stack.state(others.saturating_sub(back));
            self.stack.set(cells.saturating_sub(back), state);
        }
        self.stack.fill();
        self.pace = 0.0;
    }

    /// A first step that moves no cell by much more than a step may err, as far as the rates at the start tell.
    fn first_step(&self, duration: f64) -> f64 {
        let fastest = self.stack.fastest();
        if fastest > 0.0 { (10.0 * self.allowed / fastest).max(duration * 1e-9).min(duration) } else { duration * 1e-3 }
    }
}

/// A step that was taken.
#[derive(Debug, Clone, Copy)]
pub struct Span<'a> {
    solver: &'a Solver,
    /// Its begin, s since the start.
    pub begin: f64,
    /// Its end, s since the start.
    pub end: f64,
}

impl Span<'_> {
    /// The temperature of a place over the step.
    #[must_use]
    pub fn path(&self, place: Place) -> Path {
        let (stack, joints, span) = (&self.solver.stack, &self.solver.joints, (self.begin, self.end));
        let joint = match place {
            Place::Joint(layer) => joints.get(layer),
            Place::Top | Place::Bottom => None,
        };
        match (place, joint) {
            (Place::Top, _) => Path::face(stack, false, span),
            (_, Some(joint)) => Path::joint(stack, joint.above, joint.share, span),
            _ => Path::face(stack, true, span),
        }
    }

    /// Temperature of a place at a moment of the step, K. A face at the very start is as warm as its cell: what it meets has had no
    /// time.
    #[must_use]
    pub fn at(&self, place: Place, time: f64) -> f64 {
        let stack = &self.solver.stack;
        let cell = match place {
            Place::Top => 1,
            Place::Joint(layer) if layer < self.solver.joints.len() => return self.path(place).at(time),
            Place::Joint(_) | Place::Bottom => stack.cells(),
        };
        if time > 0.0 { self.path(place).at(time) } else { Path::cell(stack, cell, (self.begin, self.end)).at(time) }
    }

    /// The hotter face at the end of the step, K: no place is hotter that was not so at the start.
    #[must_use]
    pub fn hottest_face(&self) -> f64 {
        let faces = self.solver.stack.nodes.first().map_or(Halves::default(), |node| node.temperature);
        faces.upper.max(faces.lower)
    }

    /// The film's water over the step.
    #[must_use]
    pub fn water(&self) -> WaterPath {
        WaterPath::of(&self.solver.stack, (self.begin, self.end))
    }

    /// Marks a moment of the step.
    pub fn mark(&self, time: f64, mark: &mut Mark) {
        self.solver.stack.write(share(time, self.begin, self.end), &mut mark.state);
        mark.pace = self.end - self.begin;
    }
}
