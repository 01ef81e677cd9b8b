//! One platen on its way round the carousel.

use super::Platen as Board;
use super::dwell::{Ends, HORIZON, Limit, Set, refused};
use super::print::Look;
use crate::error::Error;
use crate::heat::{Face, Mark, Problem, ROOM_HUMIDITY, Solver, Span, Stage};
use crate::quantity::Dimensioned;
use crate::root::{self, Bracket, Point, Search};
use crate::work::Work;
use std::ops::ControlFlow;

/// Convection and radiation of a shirt or platen in the room, W/(m2.K), and the room's temperature, K.
const ROOM: (f64, f64) = (10.0, 298.15);
/// What a shirt or a platen meets in the room.
pub(super) fn room_face() -> Face {
    Face { air: ROOM.1, transfer: ROOM.0, humidity_ratio: ROOM_HUMIDITY, ..Face::default() }
}

/// From a platen's edge to its middle, m.
const REACH: f64 = 0.2;
/// How far a temperature may be off in a run, K: still a hundredth of a second of dwell.
pub(super) const TOLERANCE: f64 = 0.1;
/// How far one step may be off in a run, K, and how far in a cell that binds water.
const STEP: (f64, f64) = (0.4, 0.4);
/// The same on the platen by itself, whose top is laid bare to the flash.
const BARE_STEP: f64 = 0.1;
/// What a bare platen meets in the room while a turn of it is only guessed: that, a shirt as cold as the room in each turn, the cloth
/// between, and a part without any, W/(m2.K). By it how warm the platen is below its top carries on; the rest is interpolated.
const GUESS: f64 = 12.0;
/// Steps of a turn that is guessed.
const GUESS_STEPS: u32 = 1;
/// How much warmer than at the start a platen may become, K, for the grid alone.
const WARMER: f64 = 40.0;
/// Stops from the load to the first flash: load, print, flash.
const STOPS_BEFORE: f64 = 2.0;
/// How the most of a turn with several flashes is looked for: to a hundredth of a second.
const CLOSE: Search = Search { width: 0.01, relative_width: 0.0, value: 0.0, margin: 0.02, evaluations: 20 };

/// How much of the platen's heat counts as its bare part's.
///
/// The flash heats more of a platen than the print covers: where no cloth lies, its heat goes straight in. Metal spreads that heat
/// along itself. The slowest mode over the way `D` from edge to middle dies away in `D^2 / (pi^2 a)`, with `a` the diffusivity of all
/// layers side by side: in about a minute for 6 mm of aluminium, a turn or so of a carousel, while the room takes a quarter of an hour
/// to cool it. So the platen has one temperature, the area-weighted mean of both parts, taken at each load. In wood the same takes
/// seven hours: the room has long had what the bare part took in, and the print's part stays by itself. Between the two, of the heat
/// that the bare part gains over the print's, what spreads stands against what is lost on the spot, as their rates do:
///
/// `w = bare_fraction / (1 + h D^2 / (pi^2 K))`, with `K` the sum of conductivity x thickness, W/K, and `h` the loss of both faces,
/// W/(m2.K). As the mean is taken at once, a metal platen warms up a turn or so too soon.
pub(super) fn bare_share(platen: &Board) -> f64 {
    let along: f64 = platen.layers.iter().map(|layer| layer.conductivity.si() * layer.thickness.si()).sum();
    let lost = ROOM.0 + platen.underside.transfer.si();
    let pi = core::f64::consts::PI;
    platen.bare_fraction / (1.0 + lost * REACH * REACH / (pi * pi * along))
}

/// What the platen's bare part adds to it.
#[derive(Debug, Clone, Copy)]
pub(super) struct BarePart {
    /// Its share of the platen's heat.
    pub share: f64,
    /// How long it sees the flash beside the dwell, s: a panel stays hot while a platen comes in under it and leaves.
    pub lingers: f64,
}

/// A platen from its top face to its bottom one: temperatures, K, and shares of bound water that have left.
pub(super) type Platen = Vec<(f64, f64)>;

/// One platen, with its shirt and bare, each with a solver of its own on the same cells: the platen keeps its heat between them.
pub(super) struct PlatenCycle<'a> {
    set: &'a Set<'a>,
    /// The cycle of a dwell, s.
    cycle: &'a dyn Fn(f64) -> f64,
    full: Solver,
    bare: Solver,
    stations: u32,
    bare_part: BarePart,
    /// As it was at the load, and the dwell before, s.
    at_load: (Platen, f64),
    /// Flashes in a turn.
    flashes: u32,
    /// Marches so far.
    pub marches: u32,
    /// Where the first flash comes on, and where it goes off at the recommended dwell, with what was hottest until then.
    on: Mark,
    off: Mark,
    off_at: Option<(f64, Hottest)>,
}

/// Hottest film and cloth under the flashes of a turn, K, and how many of them left water in the film.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Hottest {
    pub film: f64,
    pub cloth: f64,
    pub wet: u32,
}

impl Hottest {
    fn see(&mut self, look: &Look, time: f64) {
        self.film = self.film.max(look.hottest_ink(time));
        self.cloth = self.cloth.max(look.hottest_cloth(time));
    }

    fn look(&mut self, span: &Span<'_>) -> ControlFlow<()> {
        self.see(&Look::at(span), span.end);
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
    pub fn new(
        set: &'a Set<'a>,
        cycle: &'a dyn Fn(f64) -> f64,
        start: f64,
        (stations, flashes): (u32, u32),
        bare_part: BarePart,
    ) -> Result<Self, Error> {
        let stops = stations.saturating_sub(2).div_euclid(2);
        let (mut full, mut bare) = (Solver::new(), Solver::new());
        let stages = [Stage { duration: HORIZON, top: set.flashing, bottom: set.underside }];
        let problem = set.problem((ROOM.1, start + WARMER), &stages, TOLERANCE, STEP);
        full.lay_out(&problem).map_err(|refusal| refused(refusal, "/pieces"))?;
        // The mean of both parts bears less than a print, and by itself a platen is little work.
        bare.lay_out_below(&Problem { step: BARE_STEP * set.accuracy, ..problem })
            .map_err(|refusal| refused(refusal, "/pieces"))?;
        bare.begin(start);
        let flashes = flashes.min(stops).max(1);
        let (on, off) = (Mark::default(), Mark::default());
        let at_load = (Platen::new(), 0.0);
        Ok(Self { set, cycle, full, bare, stations, bare_part, at_load, flashes, marches: 0, on, off, off_at: None })
    }

    fn room(&self, duration: f64) -> [Stage; 1] {
        [Stage { duration, top: room_face(), bottom: self.set.underside }]
    }

    fn flash(&self, duration: f64) -> [Stage; 1] {
        [Stage { duration, top: self.set.flashing, bottom: self.set.underside }]
    }

    /// Marches shirt and platen on.
    fn go_on(
        &mut self,
        stages: &[Stage],
        work: &mut Work,
        watch: impl FnMut(Span<'_>) -> ControlFlow<()>,
    ) -> Result<(), Error> {
        self.marches = self.marches.saturating_add(1);
        self.full.go_on(stages, work, watch).map_err(|refusal| refused(refusal, "/pieces")).map(|_| ())
    }

    /// A fresh shirt, and the stops before the first flash.
    pub fn set_out(&mut self, in_force: f64, work: &mut Work) -> Result<(), Error> {
        self.full.begin_on(ROOM.1, &self.bare, self.bare.cells());
        self.off_at = None;
        self.at_load = (self.bare.states(), in_force);
        self.go_on(&self.room(STOPS_BEFORE * (self.cycle)(in_force)), work, |_| ControlFlow::Continue(()))?;
        self.full.mark(&mut self.on);
        Ok(())
    }

    /// Least and most of the first flash: one march on and on under it, or no further than what is recommended. It leaves a mark where
    /// the flash may go off.
    fn first_ends(&mut self, further: bool, work: &mut Work) -> Result<Ends, Error> {
        let stages = self.flash(HORIZON);
        self.marches = self.marches.saturating_add(1);
        let Self { set, full, off, off_at, .. } = self;
        let (mut ends, mut hottest) = (set.ends(), Hottest::default());
        let watch = |span: Span<'_>| {
            let look = Look::at(&span);
            let sought = ends.look(set, &span, &look);
            if let Some(until) = ends.recommended().filter(|until| off_at.is_none() && *until <= span.end) {
                span.mark(until, off);
                hottest.see(&look, until);
                *off_at = Some((until, hottest));
            }
            hottest.see(&look, span.end);
            if off_at.is_some() && !further { ControlFlow::Break(()) } else { sought }
        };
        full.go_on(&stages, work, watch).map_err(|refusal| refused(refusal, "/pieces"))?;
        Ok(ends)
    }

    /// Shortest and longest dwell of a turn that has set out.
    pub fn ends(&mut self, work: &mut Work) -> Result<Ends, Error> {
        let ends = self.first_ends(true, work)?;
        Ok(Ends { most: self.most(ends.most, work)?, ..ends })
    }

    /// The recommended dwell alone.
    pub fn dwell(&mut self, work: &mut Work) -> Result<Option<f64>, Error> {
        let ends = if self.flashes > 1 { self.ends(work)? } else { self.first_ends(false, work)? };
        Ok(ends.recommended())
    }

    /// The most that every flash of the turn allows, where the same dwell is kept at each.
    fn most(&mut self, first: Option<(f64, Limit)>, work: &mut Work) -> Result<Option<(f64, Limit)>, Error> {
        if self.flashes < 2 {
            return Ok(first);
        }
        let longest = first.map_or(HORIZON, |(most, _)| most);
        let close = CLOSE.to_accuracy(self.set.accuracy);
        let mut try_dwell = |dwell: f64| {
            self.full.back_to(&self.on);
            let mut hottest = Hottest::default();
            self.under_flashes(dwell, 0.0, &mut hottest, work).map(|()| hottest.excess(self.set))
        };
        let (excess, mut limit) = try_dwell(longest)?;
        // No dwell at all keeps every limit, by a margin that nobody knows.
        let none = Point { at: 0.0, value: f64::INFINITY };
        let Some(bracket) = Bracket::between(none, Point { at: longest, value: -excess }) else { return Ok(first) };
        let most = root::illinois(bracket, &close, |dwell| {
            let (excess, what) = try_dwell(dwell)?;
            if excess > 0.0 {
                limit = what;
            }
            Ok::<f64, Error>(-excess)
        })?;
        Ok(Some((most.holds.at, limit)))
    }

    /// From where the first flash has been on for `done` seconds to the end of the last one.
    fn under_flashes(&mut self, dwell: f64, done: f64, hottest: &mut Hottest, work: &mut Work) -> Result<(), Error> {
        if dwell > done {
            self.go_on(&self.flash(dwell - done), work, |span| hottest.look(&span))?;
        }
        hottest.wet = u32::from(self.full.is_wet());
        for _ in 1..self.flashes {
            // The rest of the flash's stop and the stop of the next print.
            self.go_on(&self.room(2.0 * (self.cycle)(dwell) - dwell), work, |_| ControlFlow::Continue(()))?;
            self.go_on(&self.flash(dwell), work, |span| hottest.look(&span))?;
            hottest.wet = hottest.wet.saturating_add(u32::from(self.full.is_wet()));
        }
        Ok(())
    }

    /// Goes on from where the first flash comes on, all the way round at this dwell, to the next load.
    pub fn go_round(&mut self, dwell: f64, work: &mut Work) -> Result<Hottest, Error> {
        let cycle = (self.cycle)(dwell);
        let (done, mut hottest) = match self.off_at {
            Some((off, hottest)) if (off - dwell).abs() <= 0.0 => {
                self.full.back_to(&self.off);
                (off, hottest)
            }
            _ => {
                self.full.back_to(&self.on);
                (0.0, Hottest::default())
            }
        };
        self.under_flashes(dwell, done, &mut hottest, work)?;
        let stops = f64::from(self.stations.saturating_sub(2).saturating_sub(self.flashes.saturating_mul(2)));
        self.go_on(&self.room(cycle - dwell + stops * cycle), work, |_| ControlFlow::Continue(()))?;
        self.bare.begin_on(ROOM.1, &self.full, self.bare.cells());
        self.go_bare(&self.room(cycle), work)?;
        if self.bare_part.share > 0.0 {
            self.mix_bare_part(dwell, stops, work)?;
        }
        Ok(hottest)
    }

    /// Marches the platen on by itself.
    fn go_bare(&mut self, stages: &[Stage], work: &mut Work) -> Result<(), Error> {
        self.marches = self.marches.saturating_add(1);
        let done = self.bare.go_on(stages, work, |_| ControlFlow::Continue(()));
        done.map_err(|refusal| refused(refusal, "/pieces")).map(|_| ())
    }

    /// The bare part through the same turn, from the same load: the platen becomes the mean of both.
    fn mix_bare_part(&mut self, dwell: f64, stops: f64, work: &mut Work) -> Result<(), Error> {
        let printed = self.bare.states();
        let (cycle, at_load) = ((self.cycle)(dwell), core::mem::take(&mut self.at_load));
        self.bare.begin_at(&at_load.0);
        let around = 0.5 * self.bare_part.lingers.min(cycle - dwell);
        let [room] = self.room(STOPS_BEFORE * (self.cycle)(at_load.1) - around);
        let ([flash], [between]) = (self.flash(dwell + 2.0 * around), self.room(2.0 * (cycle - around) - dwell));
        let [rest] = self.room((stops + 2.0) * cycle - dwell - around);
        let mut stages = vec![room, flash];
        for _ in 1..self.flashes {
            stages.extend([between, flash]);
        }
        stages.push(rest);
        self.go_bare(&stages, work)?;
        let mut mixed = self.bare.states();
        for ((heat, gone), (printed_heat, printed_gone)) in mixed.iter_mut().zip(&printed) {
            *heat = printed_heat + self.bare_part.share * (*heat - printed_heat);
            *gone = printed_gone + self.bare_part.share * (*gone - printed_gone);
        }
        self.bare.begin_at(&mixed);
        self.at_load = at_load;
        Ok(())
    }

    /// Whether there is water in the film.
    pub fn dries(&self) -> bool {
        self.set.print.film_water > 0.0
    }

    /// The platen's top, K.
    pub fn top(&self) -> f64 {
        self.bare.top()
    }

    /// The platen, from its top face to its bottom one.
    pub fn states(&self) -> Platen {
        self.bare.states()
    }

    /// Makes the platen like this.
    pub fn place(&mut self, platen: &Platen) {
        self.bare.begin_at(platen);
    }

    /// Whether a layer of the platen holds water that can leave.
    pub fn binds_water(&self) -> bool {
        self.set.slabs.iter().skip(self.set.print.slabs.len()).any(|slab| slab.bound_water > 0.0)
    }

    /// Where a bare platen would get in the room in a turn of this dwell.
    pub fn bare_round(&mut self, platen: &Platen, dwell: f64, work: &mut Work) -> Result<Platen, Error> {
        self.bare.begin_at(platen);
        let top = Face { air: ROOM.1, transfer: GUESS, ..Face::default() };
        let duration = (self.cycle)(dwell) * f64::from(self.stations);
        let stage = Stage { duration, top, bottom: self.set.underside };
        self.bare.leap(&stage, GUESS_STEPS, work).map_err(|refusal| refused(refusal, "/pieces"))?;
        Ok(self.bare.states())
    }
}
