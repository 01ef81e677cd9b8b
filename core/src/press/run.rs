//! How long a run takes, and what holds it up.

use super::{Press, PressKind};
use crate::error::{Code, Error};
use crate::ink::{FLOODS, HITS, STROKES};
use crate::quantity::{Dimensioned, FLASH_DWELL, Frequency, Length, Rules, Show, Time, Velocity, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use serde_json::Value;
use std::ops::RangeInclusive;

/// Lengths of images along the stroke.
const IMAGE_LENGTH: Rules = Rules::range(units::MM, 1.0, 10_000.0).usual(10.0, 1_000.0);
const RATE: Rules = Rules::range(units::PER_H, 0.01, 1e6).usual(10.0, 5_000.0);
/// The share of the running time in which a press really prints.
pub(crate) const EFFICIENCY: Rules = Rules::range(units::ONE, 0.05, 1.0).usual(0.5, 1.0);
/// No press has more heads.
const MOST_COLOURS: usize = 100;
/// What takes less a piece, s, holds nothing up.
const NO_TIME: f64 = 1e-6;
/// Work on one screen before or after the run.
pub(crate) const PER_SCREEN: Rules = Rules::range(units::MIN, 0.0, 1_440.0).usual(0.0, 60.0);

request! {
    /// A colour of the run, in print order.
    pub struct Colour {
        /// What the colour is called.
        name "Colour": String,
        /// Length of the image along the stroke.
        image_length "Image length": Length where IMAGE_LENGTH,
        /// Flood strokes of one hit.
        flood_strokes "Flood strokes": u32 where FLOODS,
        /// Print strokes of one hit.
        print_strokes "Print strokes": u32 where STROKES,
        /// Dwell under the flash after the colour.
        flash "Flash dwell": Option<Time> where FLASH_DWELL.unless_given("none"),
        /// Prints of the same screen, on a carousel one in each round of the shirt.
        hits "Number of hits": Option<u32> where HITS,
    }
}

request! {
    /// A press, its colours and the run.
    pub struct RunRequest {
        /// The press.
        press "Press": Press,
        /// The colours, in print order.
        colours "Colours": Vec<Colour>,
        /// Pieces that the dryer takes in a given time.
        dryer_rate "Dryer rate": Option<Frequency> where RATE.unless_given("left out of the reckoning"),
        /// Number of pieces to print, blanks included.
        pieces "Pieces to print": u32 where Rules::count(1.0),
        /// Time for work on each screen before the run.
        setup_per_screen "Setup per screen": Time
            where PER_SCREEN.or(10.0, Source::common("trade journals: 9-10 min a screen")),
        /// Time for work on each screen after the run.
        teardown_per_screen "Teardown per screen": Time where PER_SCREEN.or(3.0, Source::memory("2-4 min a screen")),
        /// Share of the running time in which the press really prints, rest and stops taken off.
        efficiency_fraction "Share not stopped": Option<f64> where EFFICIENCY.unless_given("1: no rest and no stops"),
    }
}

words! {
    /// What a station does.
    pub enum StationRole ("role") {
        /// A shirt goes on.
        Load = "load",
        /// A colour is printed.
        Print = "print",
        /// The print is gelled.
        Flash = "flash",
        /// The shirt comes off.
        Unload = "unload",
    }
}

answer! {
    /// What one station is busy with, in each cycle.
    pub struct StationTime {
        /// The station's place from loading on, 1 being the load.
        station "Station": u32,
        /// What the station does.
        role "Used for": StationRole,
        /// The colour that the station serves.
        colour "Colour": Option<String>,
        /// How long the station is busy in a cycle, without the index.
        time "Time per cycle": Time,
    }
}

answer! {
    /// One round of a shirt on the carousel: which heads come down on it.
    pub struct PressRound {
        /// The round, 1 being the one after the shirt is loaded.
        round "Round": u32,
        /// The colours that print in this round, each followed by its flash.
        down "Heads down": Vec<String>,
        /// The colours whose head stays up, their flash off.
        up "Heads up": Vec<String>,
    }
}

answer! {
    /// A run.
    pub struct Run {
        /// Time from one index of the carousel to the next; by hand, from one finished piece to the next.
        cycle "Cycle time": Time,
        /// How often a shirt goes round the carousel; by hand, once.
        rounds "Rounds": u32,
        /// Which heads are down in each round, on a carousel.
        by_round "Heads by round": Vec<PressRound>,
        /// Time from one finished piece to the next on the press: rounds times cycle.
        time_per_piece "Time per piece": Time,
        /// Pieces an hour while running, the dryer taken into account.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace.
        bottleneck "Bottleneck": String,
        /// What would set the pace were the bottleneck gone.
        next_bottleneck "Next bottleneck": String,
        /// Pieces an hour if the first bottleneck were gone.
        next_pieces_per_hour "Next pieces per hour": f64,
        /// Time for printing all pieces, rest and stops included where a share of them was given.
        run_time "Printing time": Time,
        /// Time for work on the screens, before and after the run.
        setup_time "Work on screens": Time,
        /// What each station is busy with.
        stations "Stations": Vec<StationTime>,
    }
}

calculation! {
    pub const RUN: RunRequest => Run = run;
    id: "press.run",
    title: "Cycle and run time",
    question: "How long does the run take, and what holds it up?",
    asked: ["How many shirts an hour?", "What slows my press down?"],
    headline: ["pieces_per_hour", "run_time", "bottleneck"],
    formula: "stroke time = (flood + print strokes) x image length / stroke speed; automatic: cycle = index + the longest of load, each colour's stroke time, each flash dwell, unload; rounds = 1 + the sum of (hits - 1); time per piece = rounds x cycle; manual: hands = load + unload + the sum over colours of hits x (strokes + index, and one more index to the flash), flash = the sum of hits x (dwell + index) / flashes, time per piece = the longer of the two, or hands + dwells on one platen; pieces per hour = the less of press and dryer; run time = pieces / pieces per hour / efficiency_fraction",
    sources: &[Source::physics("the slowest station sets the pace")],
    example: r#"{"press": "automatic-8", "pieces": 250, "dryer_rate": "160 /h", "colours": [
        {"name": "base white", "image_length": "380 mm", "flood_strokes": 1, "print_strokes": 1, "flash": "6 s"},
        {"name": "pennant red", "image_length": "380 mm", "flood_strokes": 1, "print_strokes": 1}]}"#,
}

/// Time of the strokes of one hit.
fn stroke_time(colour: &Colour, speed: Velocity) -> Time {
    let strokes = f64::from(colour.flood_strokes) + f64::from(colour.print_strokes);
    strokes * colour.image_length / speed
}

/// The rounds of the carousel in which each screen prints, counted from 1.
///
/// A shirt passes each head once a round. The layers keep their order, so a screen that prints again does so a round later, and no
/// later screen prints before its last hit: screen `k` prints in rounds `f(k)` to `f(k) + hits(k) - 1`, and the next one begins in
/// the round in which it ends. So a piece takes `1 + sum(hits - 1)` rounds. Hits are counts; none is taken for one.
///
/// Source: physics, the order of the layers.
#[must_use]
pub fn printing_rounds(hits: &[u32]) -> Vec<RangeInclusive<u32>> {
    let mut begin = 1_u32;
    hits.iter()
        .map(|hits| {
            let rounds = begin..=begin.saturating_add(hits.saturating_sub(1));
            begin = *rounds.end();
            rounds
        })
        .collect()
}

/// Time of a piece by hand, in the unit of the times given, all of them 0 or more.
///
/// One person does one thing at a time, so all that takes hands adds up: loading, floods and prints, a turn to each screen and to
/// each flash, unloading. A dwell takes no hands: where there is another platen the printer goes on with that, and a piece takes the
/// longer of `hands` and `dwells` with the turns that bring a print under one of the flashes, shared among these. On one platen
/// there is nothing else to do, and the dwells are waited out.
///
/// Source: physics; that the printer goes on while a print is under the flash is common practice.
#[must_use]
pub fn time_by_hand(hands: f64, dwells: f64, turns_to_flash: f64, platens: u32, flashes: u32) -> f64 {
    if platens < 2 { hands + dwells } else { hands.max((dwells + turns_to_flash) / f64::from(flashes.max(1))) }
}

/// What could set the pace: its name and the time a piece takes there.
type Pace = (String, Time);

/// Cycle, throughput and time of a run.
///
/// # Errors
/// `out_of_range` without a colour; `impossible` where the colours and flashes do not fit on the heads.
pub(crate) fn run(request: &RunRequest, remarks: &mut Remarks) -> Result<Run, Error> {
    let press = &request.press;
    let fields: &[&'static str] = &["index", "stroke_speed", "load", "unload", "flashes"];
    press.cite(fields, remarks);
    if request.colours.is_empty() {
        return Err(
            Error::new(Code::OutOfRange, "/colours", "a run has at least one colour").allowed(["1 colour or more"])
        );
    }
    if request.colours.iter().any(|colour| colour.hits.unwrap_or(1) > 1 && colour.flash.is_none()) {
        remarks.caution(
            "hits_without_flash",
            "/colours",
            "a screen prints again over itself without a flash between: the second hit picks the first one up",
        );
    }
    if request.colours.len() > MOST_COLOURS {
        return Err(Error::new(Code::TooLong, "/colours", format!("{} colours", request.colours.len()))
            .allowed([format!("at most {MOST_COLOURS} colours")]));
    }
    let stations = stations(request);
    fit(press, request, &stations)?;
    let (cycle, by_round, mut paces) = match press.kind {
        PressKind::Automatic => automatic(press, request, &stations, remarks),
        PressKind::Manual => manual(press, request, remarks),
    };
    let rounds = by_round.last().map_or(1, |last| last.round);
    let time_per_piece = cycle * f64::from(rounds);
    if let Some(rate) = request.dryer_rate {
        paces.push(("dryer".into(), 1.0 / rate));
    }
    // Slowest first; at a tie the one that comes first on the press.
    sorted::by_number(&mut paces, |(_, pace)| -pace.si());
    let mut paces = paces.into_iter().filter(|(_, pace)| pace.si() > NO_TIME);
    let (bottleneck, slowest) = paces.next().unwrap_or_else(|| ("press".into(), time_per_piece));
    let (next_bottleneck, next) = paces.next().unwrap_or_else(|| (bottleneck.clone(), slowest));
    let per_hour = |piece: Time| 3600.0 / units::S.value(piece);
    let screens = request.colours.len() as f64;
    remarks.info(
        "while_running",
        "",
        "pieces per hour while the press runs: stops for ink, tape, misprints and rest are not in it, and in the printing time only by efficiency_fraction. Keep hands clear of a moving press and lock it out before reaching in",
    );
    Ok(Run {
        cycle,
        rounds,
        by_round,
        time_per_piece,
        pieces_per_hour: per_hour(slowest),
        bottleneck,
        next_bottleneck,
        next_pieces_per_hour: per_hour(next),
        run_time: slowest * f64::from(request.pieces) / request.efficiency_fraction.unwrap_or(1.0),
        setup_time: screens * (request.setup_per_screen + request.teardown_per_screen),
        stations,
    })
}

fn stations(request: &RunRequest) -> Vec<StationTime> {
    let press = &request.press;
    let mut list = vec![(StationRole::Load, None, press.load)];
    for colour in &request.colours {
        list.push((StationRole::Print, Some(colour.name.clone()), stroke_time(colour, press.stroke_speed)));
        if let Some(dwell) = colour.flash {
            list.push((StationRole::Flash, Some(colour.name.clone()), dwell));
        }
    }
    list.push((StationRole::Unload, None, press.unload));
    (1..).zip(list).map(|(station, (role, colour, time))| StationTime { station, role, colour, time }).collect()
}

fn fit(press: &Press, request: &RunRequest, stations: &[StationTime]) -> Result<(), Error> {
    let count = |role| stations.iter().filter(|s| s.role == role).count();
    let (prints, flashes) = (count(StationRole::Print), count(StationRole::Flash));
    let needed = match press.kind {
        // On a carousel a flash takes the place of a screen.
        PressKind::Automatic => prints.saturating_add(flashes),
        // By hand the flash swings in over any platen.
        PressKind::Manual => prints,
    };
    if needed > press.heads as usize {
        let message = format!("the colours and flashes need {needed} heads, the press has {}", press.heads);
        return Err(Error::new(Code::Impossible, "/colours", message)
            .got(&Value::from(request.colours.len()))
            .allowed([format!("at most {} colours and flashes together", press.heads)]));
    }
    if press.kind == PressKind::Automatic && needed.saturating_add(2) > press.stations as usize {
        let message = format!(
            "the run needs {} stations with load and unload, the press has {}",
            needed.saturating_add(2),
            press.stations
        );
        return Err(Error::new(Code::Impossible, "/press/stations", message)
            .got(&Value::from(press.stations))
            .allowed([format!("at least {}", needed.saturating_add(2))]));
    }
    Ok(())
}

fn hits(colour: &Colour) -> u32 {
    colour.hits.unwrap_or(1)
}

fn label(station: &StationTime) -> String {
    station
        .colour
        .as_ref()
        .map_or_else(|| station.role.text().to_owned(), |colour| format!("{} {colour}", station.role.text()))
}

/// Which heads are down in each round.
fn by_round(colours: &[Colour]) -> Vec<PressRound> {
    let printing = printing_rounds(&colours.iter().map(hits).collect::<Vec<_>>());
    let last = printing.last().map_or(1, |rounds| *rounds.end());
    (1..=last)
        .map(|round| {
            let named = |down: bool| {
                let these = colours.iter().zip(&printing).filter(|(_, rounds)| rounds.contains(&round) == down);
                these.map(|(colour, _)| colour.name.clone()).collect()
            };
            PressRound { round, down: named(true), up: named(false) }
        })
        .collect()
}

/// Every platen moves at once: the slowest station and the index make the cycle.
fn automatic(
    press: &Press,
    request: &RunRequest,
    stations: &[StationTime],
    remarks: &mut Remarks,
) -> (Time, Vec<PressRound>, Vec<Pace>) {
    let by_round = by_round(&request.colours);
    let rounds = by_round.len();
    if rounds > 1 {
        remarks.info("more_turns", "/colours", |_| {
            format!("a piece goes round {rounds} times, so that a screen can print again after its flash: on each round only the heads that by_round names are down, and shirts are loaded and taken off on one round of {rounds}")
        });
    }
    let units_needed = stations.iter().filter(|s| s.role == StationRole::Flash).count();
    if units_needed > press.flashes.unwrap_or(1) as usize {
        remarks.caution("more_flashes", "/press/flashes", |_| {
            format!("the colours need {units_needed} flash units on the carousel")
        });
    }
    let longest = stations.iter().fold(units::S.of(0.0), |most, s| if s.time > most { s.time } else { most });
    let paces = stations.iter().map(|s| (label(s), (press.index + s.time) * rounds as f64)).collect();
    (press.index + longest, by_round, paces)
}

/// One pair of hands does everything in turn: [`time_by_hand`].
fn manual(press: &Press, request: &RunRequest, remarks: &mut Remarks) -> (Time, Vec<PressRound>, Vec<Pace>) {
    let (mut hands, mut dwells, mut turns) = (press.load + press.unload, units::S.of(0.0), units::S.of(0.0));
    for colour in &request.colours {
        let hits = f64::from(hits(colour));
        hands += hits * (stroke_time(colour, press.stroke_speed) + press.index);
        if let Some(dwell) = colour.flash {
            hands += hits * press.index;
            turns += hits * press.index;
            dwells += hits * dwell;
        }
    }
    let (platens, flashes) = (press.stations, press.flashes.unwrap_or(1));
    let time = Time::from_si(time_by_hand(hands.si(), dwells.si(), turns.si(), platens, flashes));
    if platens < 2 {
        return (time, Vec::new(), vec![("printer and flash in turn".into(), time)]);
    }
    let mut paces = vec![("printer".to_owned(), hands)];
    if dwells.si() > 0.0 {
        remarks.info("flash_overlaps", "", |say: Say| {
            format!(
                "the printer works on other platens while one is under the flash, {} of flash a piece",
                say.say(dwells, Show::Usual)
            )
        });
        paces.push(("flash".to_owned(), Time::from_si(time_by_hand(0.0, dwells.si(), turns.si(), platens, flashes))));
    }
    (time, Vec::new(), paces)
}
