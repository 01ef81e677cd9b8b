//! One platen on its way round the carousel.

use super::dwell::{Ends, HORIZON, Limit, SHORTEST, Set};
use super::print::{hottest_cloth, hottest_ink};
use crate::error::Error;
use crate::heat::ROOM_HUMIDITY;
use crate::heat::{Energy, Face, Mark, Problem, Solver, Span, Stage};
use crate::quantity::Dimensioned;
use crate::root::{self, Bracket, Point, Search};
use std::ops::ControlFlow;

/// Convection and radiation of a shirt or platen in the room, W/(m2.K), and the room's temperature, K.
const ROOM: (f64, f64) = (10.0, 298.15);
/// How far a temperature may be off in a run, K: still a hundredth of a second of dwell, for some hundred and fifty marches.
pub(super) const TOLERANCE: f64 = 0.25;
/// Stops from the load to the first flash: load, print, flash.
const STOPS_BEFORE: f64 = 2.0;
/// How the most of a turn with several flashes is looked for: to a hundredth of a second.
const CLOSE: Search = Search { width: 0.01, relative_width: 0.0, value: 0.0, margin: 0.02, evaluations: 20 };

/// One platen with a solver that keeps its heat.
pub(super) struct PlatenCycle<'a> {
    set: &'a Set<'a>,
    pub solver: Solver,
    /// Platen temperature before the first shirt, K.
    start: f64,
    stations: u32,
    /// Flashes in a turn.
    flashes: u32,
    turns: u32,
    /// Where the first flash comes on, and where it may go off: at the dwell that is found, and at the customary one.
    on: Mark,
    off: [(Mark, Hottest); 2],
}

/// Hottest film and cloth under the flashes of a turn, K.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Hottest {
    pub film: f64,
    pub cloth: f64,
}

impl Hottest {
    fn look(&mut self, span: &Span<'_>) -> ControlFlow<()> {
        let moment = span.at(span.end);
        self.film = self.film.max(hottest_ink(&moment));
        self.cloth = self.cloth.max(hottest_cloth(&moment));
        ControlFlow::Continue(())
    }

    /// How far the worse of both is above its limit, K.
    pub fn excess(&self, set: &Set<'_>) -> (f64, Limit) {
        let film = self.film - set.ink.flash_never_above.si();
        let cloth = self.cloth - set.cloth.never_above.si();
        if cloth > film { (cloth, Limit::Cloth) } else { (film, Limit::Film) }
    }
}

impl<'a> PlatenCycle<'a> {
    /// `flashes` as far as the stations hold them: before each but the first there is a stop for a print.
    pub fn new(set: &'a Set<'a>, start: f64, stations: u32, flashes: u32) -> Self {
        let room = stations.saturating_sub(2).div_euclid(2);
        Self {
            set,
            solver: Solver::new(),
            start,
            stations,
            flashes: flashes.min(room).max(1),
            turns: 0,
            on: Mark::default(),
            off: Default::default(),
        }
    }

    fn room(&self, duration: f64) -> [Stage; 1] {
        let top = Face { air: ROOM.1, transfer: ROOM.0, humidity_ratio: ROOM_HUMIDITY, ..Face::default() };
        [Stage { duration, top, bottom: self.set.underside }]
    }

    fn flash(&self, duration: f64) -> [Stage; 1] {
        [Stage { duration, top: self.set.flashing, bottom: self.set.underside }]
    }

    fn march(&mut self, bare: bool, stages: &[Stage]) -> Result<Energy, Error> {
        let (all, print) = (&self.set.slabs, self.set.print.slabs.len());
        let platen = all.get(print..).unwrap_or_default();
        let starts = [ROOM.1, ROOM.1, self.start];
        let problem = Problem {
            slabs: if bare { platen } else { all },
            film_water: if bare { 0.0 } else { self.set.print.film_water },
            start: if bare { &starts[2..] } else { &starts },
            keep: if bare || self.turns > 0 { platen.len() } else { 0 },
            stages,
            shortest: SHORTEST,
            tolerance: TOLERANCE,
            refinement: 1.0,
        };
        self.solver.march(&problem, |_| ControlFlow::Continue(()))
    }

    /// A fresh shirt, and the stops before the first flash.
    pub fn set_out(&mut self, cycle: f64) -> Result<(), Error> {
        self.march(false, &self.room(STOPS_BEFORE * cycle)).map(|_| ())
    }

    /// Least and most of the first flash: one march on and on under it. It leaves marks where the flash may go off.
    pub fn ends(&mut self, customary: f64) -> Result<Ends, Error> {
        let stages = self.flash(HORIZON);
        let Self { set, solver, on, off: [found, custom], .. } = self;
        let (mut ends, mut hottest) = (Ends::default(), Hottest::default());
        solver.go_on(&stages, |span| {
            if span.begin <= 0.0 {
                span.mark(on);
            }
            let sought = ends.look(set, &span, 0.0);
            for ((mark, so_far), until) in
                [(&mut *found, ends.recommended().unwrap_or(HORIZON)), (&mut *custom, customary)]
            {
                if span.begin <= until {
                    span.mark(mark);
                    *so_far = hottest;
                }
            }
            let _ = hottest.look(&span);
            sought
        })?;
        Ok(ends)
    }

    /// The most that every flash of the turn allows, where the same dwell is kept at each.
    pub fn most(
        &mut self,
        first: Option<(f64, Limit)>,
        cycle: impl Fn(f64) -> f64,
    ) -> Result<Option<(f64, Limit)>, Error> {
        if self.flashes < 2 {
            return Ok(first);
        }
        let longest = first.map_or(HORIZON, |(most, _)| most);
        let mut try_dwell = |dwell: f64| {
            self.solver.back_to(&self.on);
            let mut hottest = Hottest::default();
            self.under_flashes(dwell, 0.0, cycle(dwell), &mut hottest).map(|()| hottest.excess(self.set))
        };
        let (excess, mut limit) = try_dwell(longest)?;
        // No dwell at all keeps every limit, by a margin that nobody knows.
        let none = Point { at: 0.0, value: f64::INFINITY };
        let Some(bracket) = Bracket::between(none, Point { at: longest, value: -excess }) else { return Ok(first) };
        let most = root::illinois(bracket, &CLOSE, |dwell| {
            let (excess, what) = try_dwell(dwell)?;
            if excess > 0.0 {
                limit = what;
            }
            Ok::<f64, Error>(-excess)
        })?;
        Ok(Some((most.holds.at, limit)))
    }

    /// From where the first flash has been on for `done` seconds to the end of the last one.
    fn under_flashes(&mut self, dwell: f64, done: f64, cycle: f64, hottest: &mut Hottest) -> Result<(), Error> {
        self.solver.go_on(&self.flash(dwell - done), |span| hottest.look(&span))?;
        for _ in 1..self.flashes {
            // The rest of the flash's stop and the stop of the next print.
            self.solver.go_on(&self.room(2.0 * cycle - dwell), |_| ControlFlow::Continue(()))?;
            self.solver.go_on(&self.flash(dwell), |span| hottest.look(&span))?;
        }
        Ok(())
    }

    /// Goes on from before the first flash, all the way round at this dwell, to the next load.
    pub fn go_round(&mut self, dwell: f64, cycle: f64) -> Result<Hottest, Error> {
        self.home(dwell, 0.0, cycle, Hottest::default())
    }

    /// The same after [`PlatenCycle::ends`], from the last mark before the flash goes off.
    pub fn go_round_from_mark(&mut self, dwell: f64, cycle: f64) -> Result<Hottest, Error> {
        let mut from = (&self.on, Hottest::default());
        for (mark, hottest) in &self.off {
            if mark.time <= dwell && mark.time >= from.0.time {
                from = (mark, *hottest);
            }
        }
        let (mark, hottest) = from;
        self.solver.back_to(mark);
        self.home(dwell, mark.time, cycle, hottest)
    }

    fn home(&mut self, dwell: f64, done: f64, cycle: f64, mut hottest: Hottest) -> Result<Hottest, Error> {
        self.under_flashes(dwell, done, cycle, &mut hottest)?;
        let stops = f64::from(self.stations.saturating_sub(2).saturating_sub(self.flashes.saturating_mul(2)));
        self.solver.go_on(&self.room(cycle - dwell + stops * cycle), |_| ControlFlow::Continue(()))?;
        self.march(true, &self.room(cycle))?;
        self.turns = self.turns.saturating_add(1);
        Ok(hottest)
    }

    /// Takes over how warm another platen is.
    pub fn follow(&mut self, other: &Self) {
        self.solver.take_temperatures(&other.solver);
        self.turns = other.turns;
    }

    /// The platen's top, K.
    pub fn top(&self) -> f64 {
        if self.turns > 0 { self.solver.top() } else { self.start }
    }
}
