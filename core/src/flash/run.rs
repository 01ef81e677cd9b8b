//! How the flash must change as the platens heat up.

use super::dwell::{Ends, Set, cautions, cite};
use super::print::FILM;
use super::round::{BarePart, PlatenCycle, TOLERANCE, bare_share};
use super::turns::{March, Run, Turn, Turns};
use super::{Flash, Platen};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::ink::Ink;
use crate::press::{Press, PressKind};
use crate::quantity::{Dimensioned, Length, Rules, START, Show, Temperature, Time, units};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request};
use crate::work::Work;
use serde_json::Value;

const CYCLE: Rules = Rules::range(units::S, 0.5, 3_600.0).usual(2.0, 60.0);
/// A platen that warms by less than this over a stride of turns is settled, K.
const SETTLED: f64 = 0.02;
/// Most turns in a stride to where the platens settle.
const STRIDE: usize = 4;
/// Turns of a run; beyond them a platen is settled for good.
const MOST_ROTATIONS: u32 = 2_000;

request! {
    /// A run of prints on a carousel with a flash.
    pub struct FlashRunRequest {
        /// The flash over the press.
        flash "Flash": Flash where Rules::NONE.group("The machines"),
        /// The ink of the print.
        ink "Ink": Ink where Rules::NONE.group("The print"),
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM.group("The print"),
        /// The cloth under the ink.
        cloth "Cloth": Cloth where Rules::NONE.group("The print"),
        /// The platens of the press.
        platen "Platen": Platen where Rules::NONE.group("The machines"),
        /// Temperature of the platens when the run starts.
        platen_start "Platens at start": Temperature where START.group("The machines"),
        /// The press, for its stations and times.
        press "Press": Press where Rules::NONE.group("The machines"),
        /// Time from one piece to the next.
        cycle "Cycle time": Option<Time>
            where CYCLE.group("The run").unless_given("index and the longest of load, unload and the dwell in force"),
        /// Number of pieces to print.
        pieces "Pieces to print": u32 where Rules::count(1.0).group("The run"),
    }
}

answer! {
    /// One turn of the carousel: a platen from one load to the next.
    pub struct Rotation {
        /// Number of the turn, counted from 1.
        rotation "Turn": u32,
        /// Temperature of the platen's top when the shirt goes on.
        platen_start "Platen at load": Temperature,
        /// The film gels under the first flash after this, on a platen that comes to it in the cycle of the last turn's dwell.
        least "Shortest dwell": Option<Time>,
        /// Something gets too hot after this; of several flashes in a turn, under any, each kept for as long.
        most "Longest dwell": Option<Time>,
        /// The dwell in force.
        recommended "Dwell in force": Option<Time>,
        /// What the film's top would reach under the flashes of the turn, had the first shirt's dwell been kept all along.
        top_if_unchanged "Top if dwell kept": Temperature,
    }
}

answer! {
    /// The flash over a run.
    pub struct FlashRun {
        /// The turns of the carousel, one by one.
        rotations "Turns": Vec<Rotation>,
        /// Where the platens' temperature settles when a shirt goes on.
        settles_at "Platens settle at": Temperature,
        /// The first turn in which the first shirt's dwell, kept, overheats film or cloth under one of its flashes, by more than the
        /// 0.1 K that a temperature may be off.
        overheats_at "First overheated turn": Option<u32>,
        /// Marches through the solver.
        evaluations "Solver runs": u32 as Effort,
    }
}

calculation! {
    pub const RUN: FlashRunRequest => FlashRun = run;
    id: "flash.run",
    title: "Flash over a run",
    question: "How must the flash change as platens heat up?",
    asked: ["Do I shorten the flash as the platens warm up?", "How hot do my platens get?"],
    headline: ["settles_at", "overheats_at"],
    formula: "heat.layers of film, cloth and platen, turn after turn: a fresh shirt at room temperature, two stops, the flash for the dwell in force (recommended of that turn; the same at each of the press's flashes, with a stop for a print between), the other stops in room air, then the bare platen for one stop; the platen keeps its heat, and takes in a share of what its bare part gets to directly under the same flashes: w = bare_fraction / (1 + D^2 h / (pi^2 K)), D = 0.2 m, K the sum of conductivity x thickness of its layers, h what both faces lose to the room; cycle = index + the longest of load, unload and dwell, before the flash that of the last turn's dwell, in the first turn of its own; of a long run some turns are marched, and those between are interpolated over the platen's top, within 0.03 K of marching each, and 0.01 s for the shortest dwell (0.03 s for inks that must dry)",
    sources: &[
        Source::physics("conduction through the layers, as heat.layers"),
        Source::memory("10 W/(m2.K) between shirt or platen and the room"),
        Source::physics("heat spreads along the platen with its slowest mode"),
    ],
    example: r#"{"flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped", "press": "automatic-8", "pieces": 96}"#,
}

/// The flash over a run, turn by turn of the carousel.
///
/// # Errors
/// `impossible` for a press with too few stations for load, print, flash and unload; what the solver refuses.
pub(crate) fn run(request: &FlashRunRequest, remarks: &mut Remarks) -> Result<FlashRun, Error> {
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
    let set = set.with_accuracy(remarks.work().accuracy());
    cite(&request.flash, &request.ink, &request.cloth, &request.platen, remarks);
    press.cite(&["index", "load", "unload", "flashes"], remarks);
    remarks.basis("room.transfer", Source::memory("10 W/(m2.K) between shirt or platen and the room"));
    remarks.basis("platen.reach", Source::memory("0.2 m from a platen's edge to its middle: platens are 40 cm wide"));
    let turns = request.pieces.div_ceil(press.stations);
    if turns > MOST_ROTATIONS {
        return Err(Error::new(Code::TooLong, "/pieces", format!("{turns} turns"))
            .allowed([format!("at most {MOST_ROTATIONS} turns")]));
    }
    let run = remarks.remembered(RUN.id(), request, |work| marched(request, &set, turns, work))?;
    let FlashRun { rotations, overheats_at, .. } = &*run;
    say(rotations, *overheats_at, remarks);
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
    request.flash.unfitted(remarks);
    Ok(FlashRun::clone(&run))
}

/// The run, marched.
fn marched(request: &FlashRunRequest, set: &Set<'_>, turns: u32, work: &mut Work) -> Result<FlashRun, Error> {
    let press = &request.press;
    let handling = press.load.si().max(press.unload.si());
    let cycle = |dwell: f64| request.cycle.map_or(press.index.si() + handling.max(dwell), Dimensioned::si).max(dwell);
    let customary = request.flash.customary_dwell.si();
    let start = request.platen_start.si();
    let stations = (press.stations, press.flashes.unwrap_or(1));
    // By hand a flash is swung away before the press turns, and lamps go off.
    let stays_hot = request.flash.panel.is_some() && press.kind == PressKind::Automatic;
    let lingers = if stays_hot { press.index.si() } else { 0.0 };
    let bare = BarePart { share: bare_share(&request.platen), lingers };
    let mut platen = PlatenCycle::new(set, &cycle, start, stations, bare)?;
    let found = Found { customary };
    // The first turn sets its own cycle.
    let cold_platen = platen.states();
    platen.set_out(customary, work)?;
    let cold = platen.dwell(work)?.unwrap_or(customary);
    let all = turns as usize;
    let mut live = Turns { platen: &mut platen, how: &found, work: &mut *work };
    let first = live.sample(&cold_platen, cold)?;
    let dwell = first.turn.dwell;
    let live = live.run(first.clone(), all)?;
    let parted = live.turns.iter().any(|turn| (turn.dwell - dwell).abs() > 0.0);
    let kept =
        if parted { &Turns { platen: &mut platen, how: &Kept { dwell }, work }.run(first.kept(), all)? } else { &live };

    let mut rotations: Vec<Rotation> = Vec::with_capacity(turns as usize);
    let mut overheats_at = None;
    // Once a platen is settled every further turn is the last one again.
    let turn =
        |run: &Run, rotation: u32| run.turns.get(rotation.saturating_sub(1) as usize).or(run.turns.last()).copied();
    for rotation in 1..=turns {
        let (Some(turn), Some(unchanged)) = (turn(&live, rotation), turn(kept, rotation)) else { break };
        // A dwell that was cut to the most is at the limit, as near as the march can tell.
        if unchanged.hottest.excess(set).0 > TOLERANCE && overheats_at.is_none() {
            overheats_at = Some(rotation);
        }
        rotations.push(Rotation {
            rotation,
            platen_start: Temperature::from_si(turn.platen),
            least: turn.ends.least.map(Time::from_si),
            most: turn.ends.most.map(|(most, _)| Time::from_si(most)),
            recommended: turn.ends.recommended().map(Time::from_si),
            top_if_unchanged: Temperature::from_si(unchanged.hottest.film),
        });
    }
    Ok(FlashRun {
        settles_at: Temperature::from_si(settles_at(&live)),
        rotations,
        overheats_at,
        evaluations: platen.marches,
    })
}

/// A turn at the dwell that is found for it.
struct Found {
    /// The dwell where none is found, s.
    customary: f64,
}

impl March for Found {
    fn march(&self, platen: &mut PlatenCycle<'_>, in_force: f64, work: &mut Work) -> Result<Turn, Error> {
        let top = platen.top();
        platen.set_out(in_force, work)?;
        let ends = platen.ends(work)?;
        let dwell = self.dwell(&ends);
        Ok(Turn { platen: top, ends, dwell, hottest: platen.go_round(dwell, work)? })
    }

    fn dwell(&self, ends: &Ends) -> f64 {
        ends.recommended().unwrap_or(self.customary)
    }
}

/// A turn at the first shirt's dwell.
struct Kept {
    dwell: f64,
}

impl March for Kept {
    fn march(&self, platen: &mut PlatenCycle<'_>, _in_force: f64, work: &mut Work) -> Result<Turn, Error> {
        let top = platen.top();
        platen.set_out(self.dwell, work)?;
        Ok(Turn { platen: top, dwell: self.dwell, hottest: platen.go_round(self.dwell, work)?, ..Turn::default() })
    }

    fn dwell(&self, _ends: &Ends) -> f64 {
        self.dwell
    }
}

/// Where a temperature that rises by less each turn comes to rest (Aitken). Taken over strides of several turns, for what the
/// march may be off would shake the ratio of two single ones.
fn settles_at(run: &Run) -> f64 {
    let tops: Vec<f64> = run.turns.iter().map(|turn| turn.platen).chain([run.last]).collect();
    let stride = tops.len().saturating_sub(1).div_euclid(5).clamp(1, STRIDE);
    let mut back = tops.iter().rev().step_by(stride);
    match (back.next(), back.next(), back.next()) {
        (Some(now), Some(before), Some(earlier)) => {
            let (rise, earlier_rise) = (now - before, before - earlier);
            let ratio = rise / earlier_rise;
            if rise.abs() >= SETTLED && ratio > 0.0 && ratio < 1.0 { now + rise * ratio / (1.0 - ratio) } else { *now }
        }
        _ => run.last,
    }
}

fn say(rotations: &[Rotation], overheats_at: Option<u32>, remarks: &mut Remarks) {
    if rotations.iter().any(|rotation| rotation.recommended.is_none()) {
        remarks.caution(
            "no_dwell",
            "/flash",
            "in some turns no dwell gels the film without overheating something; the customary dwell was taken to go on: see flash.dwell for why",
        );
    }
    if let Some(turn) = overheats_at {
        remarks.caution(
            "fixed_dwell_overheats",
            "/flash",
            |_| match rotations.first().and_then(|first| first.recommended) {
                Some(_) => format!("the dwell that is right for the first shirt overheats from turn {turn} on: shorten it as the platens warm up"),
                None => format!("the customary dwell overheats from turn {turn} on"),
            },
        );
    }
    if let (Some(first), Some(last)) = (rotations.first(), rotations.last())
        && let (Some(cold), Some(warm)) = (first.recommended, last.recommended)
    {
        remarks.info("shorten", "/flash", |say: Say| {
            format!(
                "from {} on the first shirt to {} on the last",
                say.say(cold, Show::Usual),
                say.say(warm, Show::Usual)
            )
        });
    }
}
