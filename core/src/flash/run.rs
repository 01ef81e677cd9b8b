//! How the flash must change as the platens heat up.

use super::dwell::{Ends, HORIZON, SHORTEST, START, Set, cautions, cite};
use super::{Flash, Platen};
use crate::error::{Code, Error};
use crate::heat::print::{FILM, TOLERANCE, hottest_cloth, hottest_ink};
use crate::heat::{Face, Problem, Solver, Stage};
use crate::ink::Ink;
use crate::press::Press;
use crate::quantity::{Dimensioned, Length, Rules, Show, Temperature, Time, units};
use crate::source::Source;
use crate::stock::{Cloth, Stock};
use crate::wire::{Calculation, Remarks, answer, calculation, request};
use serde_json::Value;
use std::ops::ControlFlow;

const CYCLE: Rules = Rules::range(units::S, 0.5, 3_600.0).usual(2.0, 60.0);
/// Convection and radiation of a shirt or platen in the room, W/(m2.K), and the room's temperature, K.
const ROOM: (f64, f64) = (10.0, 298.15);
/// Stops from the load to the first flash: load, print, flash.
const STOPS_BEFORE: f64 = 2.0;
/// Rotations nearer to one another than this are the same, K.
const SETTLED: f64 = 0.02;
/// Turns of a run; beyond them a platen is settled for good.
const MOST_ROTATIONS: u32 = 2_000;

request! {
    /// A run of prints on a carousel with a flash.
    pub struct FlashRunRequest {
        /// The flash.
        flash: Stock<Flash>,
        /// The ink.
        ink: Stock<Ink>,
        /// Wet thickness of the ink stack.
        film: Length where FILM,
        /// The cloth.
        cloth: Stock<Cloth>,
        /// The platens.
        platen: Stock<Platen>,
        /// Their temperature when the run starts.
        platen_start: Temperature where START,
        /// The press.
        press: Stock<Press>,
        /// From one piece to the next; index and the longest of load, unload and the dwell in force unless given.
        cycle: Option<Time> where CYCLE,
        /// Pieces to print.
        pieces: u32 where Rules::count(1.0),
    }
}

answer! {
    /// One turn of the carousel: a platen from one load to the next.
    pub struct Rotation {
        /// Counted from 1.
        rotation: u32,
        /// The platen's top when the shirt goes on.
        platen_start: Temperature,
        /// The film gels after this.
        least: Option<Time>,
        /// Something gets too hot after this.
        most: Option<Time>,
        /// The dwell in force.
        recommended: Option<Time>,
        /// What the film's top would reach, had the first shirt's dwell been kept all along.
        top_if_unchanged: Temperature,
    }
}

answer! {
    /// The flash over a run.
    pub struct FlashRun {
        /// Turn by turn.
        rotations: Vec<Rotation>,
        /// Where the platens' temperature settles when a shirt goes on.
        settles_at: Temperature,
        /// The first turn in which the first shirt's dwell, kept, overheats film or cloth.
        overheats_at: Option<u32>,
    }
}

/// `flash.run`.
pub const RUN: Calculation = calculation! {
    id: "flash.run",
    title: "Flash over a run",
    question: "How must the flash change as platens heat up?",
    formula: "heat.layers of film, cloth and platen, turn after turn: a fresh shirt at room temperature, two stops, the flash for the dwell in force (recommended of that turn), the other stops in room air, then the bare platen for one stop; the platen keeps its heat; cycle = index + the longest of load, unload and dwell",
    sources: &[
        Source::physics("conduction through the layers, as heat.layers"),
        Source::memory("10 W/(m2.K) between shirt or platen and the room"),
    ],
    example: r#"{"flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped", "press": "automatic-8", "pieces": 96}"#,
    run: run as FlashRunRequest => FlashRun,
};

/// One platen on its way round, with a dwell to keep or to find.
struct Platform<'a> {
    set: &'a Set<'a>,
    solver: Solver,
    /// Platen temperature before the first shirt, K.
    start: f64,
    stops: f64,
    flashes: u32,
    turns: u32,
}

/// What a turn came to.
struct Turn {
    /// Hottest film and cloth under the flash, K.
    film: f64,
    cloth: f64,
}

impl Platform<'_> {
    fn room() -> Face {
        Face { air: ROOM.1, transfer: ROOM.0, humidity_ratio: crate::heat::faces::ROOM_HUMIDITY, ..Face::default() }
    }

    /// Slabs of the platen, which keep their heat from turn to turn.
    fn platen(&self) -> usize {
        self.set.slabs.len().saturating_sub(self.set.print.slabs.len())
    }

    fn problem<'p>(&'p self, starts: &'p [f64; 3], stages: &'p [Stage]) -> Problem<'p> {
        Problem {
            slabs: &self.set.slabs,
            film_water: self.set.print.film_water,
            start: starts,
            keep: if self.turns > 0 { self.platen() } else { 0 },
            stages,
            shortest: SHORTEST,
            tolerance: TOLERANCE,
            refinement: 1.0,
        }
    }

    fn before(&self, cycle: f64) -> Stage {
        Stage { duration: STOPS_BEFORE * cycle, top: Self::room(), bottom: self.set.underside }
    }

    /// Least and most of this turn's flash, found on a copy of the platen.
    fn ends(&self, scout: &mut Solver, cycle: f64) -> Result<Ends, Error> {
        let flash = Stage { duration: HORIZON, top: self.set.flashing, bottom: self.set.underside };
        let stages = [self.before(cycle), flash];
        let starts = [ROOM.1, ROOM.1, self.start];
        let from = STOPS_BEFORE * cycle;
        let mut ends = Ends::default();
        scout.take_temperatures(&self.solver);
        scout.march(&self.problem(&starts, &stages), |span| ends.look(self.set, &span, from))?;
        Ok(ends)
    }

    /// Goes round once at this dwell.
    fn turn(&mut self, dwell: f64, cycle: f64) -> Result<Turn, Error> {
        let room = |duration: f64| Stage { duration, top: Self::room(), bottom: self.set.underside };
        let flash = Stage { duration: dwell, top: self.set.flashing, bottom: self.set.underside };
        // After each flash the rest of its stop and the stop of the next print; then the way to the unload.
        let rest = (cycle - dwell).max(1e-3);
        let mut stages = vec![self.before(cycle)];
        let mut stops = self.stops - STOPS_BEFORE - 1.0;
        for flashes in 0..self.flashes {
            stages.push(flash);
            stops -= 1.0;
            let more = flashes.saturating_add(1) < self.flashes && stops >= 2.0;
            stages.push(room(rest + if more { cycle } else { 0.0 }));
            if !more {
                break;
            }
            stops -= 1.0;
        }
        if stops > 0.0 {
            stages.push(room(stops * cycle));
        }
        let starts = [ROOM.1, ROOM.1, self.start];
        let (begin, end) = (STOPS_BEFORE * cycle, STOPS_BEFORE * cycle + dwell);
        let mut turn = Turn { film: 0.0, cloth: 0.0 };
        let mut solver = core::mem::take(&mut self.solver);
        let marched = solver.march(&self.problem(&starts, &stages), |span| {
            if span.end > begin && span.begin < end {
                let moment = span.at(span.end.min(end));
                turn.film = turn.film.max(hottest_ink(&moment));
                turn.cloth = turn.cloth.max(hottest_cloth(&moment));
            }
            ControlFlow::Continue(())
        });
        let bare = [room(cycle)];
        let platen = self.platen();
        let slabs = self.set.slabs.get(self.set.print.slabs.len()..).unwrap_or_default();
        let cooled = marched.and_then(|_| {
            let problem = Problem {
                slabs,
                film_water: 0.0,
                start: &[self.start],
                keep: platen,
                stages: &bare,
                shortest: SHORTEST,
                tolerance: TOLERANCE,
                refinement: 1.0,
            };
            solver.march(&problem, |_| ControlFlow::Continue(()))
        });
        self.solver = solver;
        self.turns = self.turns.saturating_add(1);
        cooled.map(|_| turn)
    }

    /// The platen's top, K.
    fn top(&self) -> f64 {
        if self.turns > 0 { self.solver.top() } else { self.start }
    }
}

/// The flash over a run, turn by turn of the carousel.
///
/// # Errors
/// `impossible` for a press with too few stations for load, print, flash and unload; what the solver refuses.
pub fn run(request: &FlashRunRequest, remarks: &mut Remarks) -> Result<FlashRun, Error> {
    let press = &request.press;
    if press.stations < 4 {
        return Err(Error::new(
            Code::Impossible,
            "/press/stations",
            "a run with a flash needs stations to load, print, flash and unload",
        )
        .got(&Value::from(press.stations))
        .allowed(["at least 4"]));
    }
    let set = Set::new(&request.flash, &request.ink, request.film, &request.cloth, &request.platen)?;
    cite(&request.flash, &request.ink, &request.cloth, &request.platen, remarks);
    press.cite(&["index", "load", "unload", "flashes"], remarks);
    remarks.basis("room.transfer", Source::memory("10 W/(m2.K) between shirt or platen and the room"));
    let handling = press.load.si().max(press.unload.si());
    let cycle = |dwell: f64| request.cycle.map_or(press.index.si() + handling.max(dwell), Dimensioned::si).max(dwell);
    let customary = request.flash.customary_dwell.si();
    let turns = request.pieces.div_ceil(press.stations);
    if turns > MOST_ROTATIONS {
        return Err(Error::new(Code::TooLong, "/pieces", format!("{turns} turns"))
            .allowed([format!("at most {MOST_ROTATIONS} turns")]));
    }
    let platform = |start: f64| Platform {
        set: &set,
        solver: Solver::new(),
        start,
        stops: f64::from(press.stations),
        flashes: press.flashes.unwrap_or(1),
        turns: 0,
    };
    let start = request.platen_start.si();
    let (mut live, mut kept, mut scout) = (platform(start), platform(start), Solver::new());
    let mut rotations: Vec<Rotation> = Vec::new();
    let mut first_dwell = None;
    let mut overheats_at = None;
    let mut warmed = Vec::new();
    for rotation in 1..=turns {
        let before = live.top();
        // Once both platens are settled every further turn is the last one again.
        let settled = rotation > 2
            && warmed.last().is_some_and(|last: &[f64; 2]| last.iter().all(|change| change.abs() < SETTLED));
        if let (true, Some(last)) = (settled, rotations.last().cloned()) {
            rotations.push(Rotation { rotation, ..last });
            continue;
        }
        let guess = first_dwell.unwrap_or(customary);
        let ends = live.ends(&mut scout, cycle(guess))?;
        let dwell = ends.recommended().unwrap_or(customary);
        let unchanged = *first_dwell.get_or_insert(dwell);
        let kept_before = kept.top();
        live.turn(dwell, cycle(dwell))?;
        let fixed = kept.turn(unchanged, cycle(unchanged))?;
        let too_hot = fixed.film > set.ink.flash_never_above.si() || fixed.cloth > set.cloth.never_above.si();
        if too_hot && overheats_at.is_none() {
            overheats_at = Some(rotation);
        }
        warmed.push([live.top() - before, kept.top() - kept_before]);
        rotations.push(Rotation {
            rotation,
            platen_start: Temperature::from_si(before),
            least: ends.least.map(Time::from_si),
            most: ends.most.map(|(most, _)| Time::from_si(most)),
            recommended: ends.recommended().map(Time::from_si),
            top_if_unchanged: Temperature::from_si(fixed.film),
        });
    }
    say(&rotations, overheats_at, remarks);
    if let Some(cycle) = request.cycle
        && rotations.iter().any(|rotation| rotation.recommended.is_some_and(|dwell| dwell > cycle))
    {
        remarks.caution(
            "short_cycle",
            "/cycle",
            "the flash takes longer than this cycle: it was stretched to the dwell",
        );
    }
    cautions(remarks);
    Ok(FlashRun { settles_at: Temperature::from_si(settles_at(live.top(), &warmed)), rotations, overheats_at })
}

/// Where a temperature that rises by less each turn comes to rest (Aitken).
fn settles_at(now: f64, warmed: &[[f64; 2]]) -> f64 {
    match warmed {
        [.., [before, _], [last, _]] if last.abs() >= SETTLED && last / before > 0.0 && last / before < 1.0 => {
            let ratio = last / before;
            now + last * ratio / (1.0 - ratio)
        }
        _ => now,
    }
}

fn say(rotations: &[Rotation], overheats_at: Option<u32>, remarks: &mut Remarks) {
    if rotations.iter().any(|rotation| rotation.recommended.is_none()) {
        remarks.caution(
            "no_dwell",
            "/rotations",
            "in some turns no dwell gels the film without overheating something; the customary dwell was taken to go on: see flash.dwell for why",
        );
    }
    if let Some(turn) = overheats_at {
        remarks.caution(
            "fixed_dwell_overheats",
            "/rotations",
            format!("the dwell that is right for the first shirt overheats from turn {turn} on: shorten it as the platens warm up"),
        );
    }
    if let (Some(first), Some(last)) = (rotations.first(), rotations.last())
        && let (Some(cold), Some(warm)) = (first.recommended, last.recommended)
    {
        remarks.info(
            "shorten",
            "/rotations",
            format!(
                "from {} on the first shirt to {} on the last",
                remarks.say(cold, Show::Usual),
                remarks.say(warm, Show::Usual)
            ),
        );
    }
}
