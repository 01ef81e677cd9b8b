//! How long a run takes, and what holds it up.

use super::{Press, PressKind};
use crate::error::{Code, Error};
use crate::ink::{FLOODS, HITS, STROKES};
use crate::quantity::{Dimensioned, FLASH_DWELL, Frequency, Length, Rules, Show, Time, Velocity, decimal, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use serde_json::Value;

/// Lengths of images along the stroke.
const IMAGE_LENGTH: Rules = Rules::range(units::MM, 1.0, 10_000.0).usual(10.0, 1_000.0);
const RATE: Rules = Rules::range(units::PER_H, 0.01, 1e6).usual(10.0, 5_000.0);
/// No press has more heads.
const MOST_COLOURS: usize = 100;
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
        /// Prints of the same screen, one in each turn of the carousel.
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
        time "StationTime per cycle": Time,
    }
}

answer! {
    /// A run.
    pub struct Run {
        /// Time from one finished piece to the next on the press, in one turn of the carousel.
        cycle "Cycle time": Time,
        /// Pieces an hour while running, the dryer taken into account.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace.
        bottleneck "Bottleneck": String,
        /// What would set the pace were the bottleneck gone.
        next_bottleneck "Next bottleneck": String,
        /// Pieces an hour if the first bottleneck were gone.
        next_pieces_per_hour "Next pieces per hour": f64,
        /// Time for printing all pieces.
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
    formula: "stroke time = (flood + print strokes) x image length / stroke speed; automatic: cycle = index + the longest of load, each colour's stroke time, each flash dwell, unload, and a piece takes as many turns as the most hits; manual: hands = load + unload + the sum over colours of hits x (strokes + index), the flash = sum of hits x dwell / flashes, cycle = the longer of the two, or their sum on one station; pieces per hour = the less of press and dryer",
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
    let (cycle, turns, mut paces) = match press.kind {
        PressKind::Automatic => automatic(press, request, &stations, remarks),
        PressKind::Manual => manual(press, request, remarks),
    };
    if let Some(rate) = request.dryer_rate {
        paces.push(("dryer".into(), 1.0 / rate));
    }
    // Slowest first; at a tie the one that comes first on the press.
    sorted::by_number(&mut paces, |(_, pace)| -pace.si());
    let mut paces = paces.into_iter();
    let (bottleneck, slowest) = paces.next().unwrap_or_else(|| ("press".into(), cycle * turns));
    let (next_bottleneck, next) = paces.next().unwrap_or_else(|| (bottleneck.clone(), slowest));
    let per_hour = |piece: Time| 3600.0 / units::S.value(piece);
    let screens = request.colours.len() as f64;
    remarks.info(
        "while_running",
        "",
        "pieces per hour while the press runs: stops for ink, tape, misprints and rest are not in it. Keep hands clear of a moving press and lock it out before reaching in",
    );
    Ok(Run {
        cycle,
        pieces_per_hour: per_hour(slowest),
        bottleneck,
        next_bottleneck,
        next_pieces_per_hour: per_hour(next),
        run_time: slowest * f64::from(request.pieces),
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

fn hits(colour: &Colour) -> f64 {
    f64::from(colour.hits.unwrap_or(1))
}

fn label(station: &StationTime) -> String {
    station
        .colour
        .as_ref()
        .map_or_else(|| station.role.text().to_owned(), |colour| format!("{} {colour}", station.role.text()))
}

/// Every platen moves at once: the slowest station and the index make the cycle.
fn automatic(
    press: &Press,
    request: &RunRequest,
    stations: &[StationTime],
    remarks: &mut Remarks,
) -> (Time, f64, Vec<Pace>) {
    let turns = request.colours.iter().map(hits).fold(1.0, f64::max);
    if turns > 1.0 {
        remarks.info("more_turns", "/colours", |_| {
            format!("a piece goes round {} times, so that a screen can print again after its flash", decimal(turns))
        });
    }
    let units_needed = stations.iter().filter(|s| s.role == StationRole::Flash).count();
    if units_needed > press.flashes.unwrap_or(1) as usize {
        remarks.caution("more_flashes", "/press/flashes", |_| {
            format!("the colours need {units_needed} flash units on the carousel")
        });
    }
    let longest = stations.iter().fold(units::S.of(0.0), |most, s| if s.time > most { s.time } else { most });
    let paces = stations.iter().map(|s| (label(s), (press.index + s.time) * turns)).collect();
    (press.index + longest, turns, paces)
}

/// One pair of hands does everything in turn; a flash works over one shirt while the hands print the next.
fn manual(press: &Press, request: &RunRequest, remarks: &mut Remarks) -> (Time, f64, Vec<Pace>) {
    let zero = units::S.of(0.0);
    let hands = request.colours.iter().fold(press.load + press.unload, |sum, colour| {
        sum + hits(colour) * (stroke_time(colour, press.stroke_speed) + press.index)
    });
    let flashing = request.colours.iter().fold(zero, |sum, colour| sum + hits(colour) * colour.flash.unwrap_or(zero));
    let flash = flashing / f64::from(press.flashes.unwrap_or(1));
    if press.stations < 2 {
        let both = hands + flashing;
        return (both, 1.0, vec![("printer and flash in turn".into(), both)]);
    }
    if flashing > zero {
        remarks.info("flash_overlaps", "", |say: Say| {
            format!(
                "the printer works on other platens while one is under the flash, {} of flash a piece",
                say.say(flashing, Show::Usual)
            )
        });
    }
    let mut paces = vec![("printer".to_owned(), hands)];
    if flashing > zero {
        paces.push(("flash".to_owned(), flash));
    }
    (if flash > hands { flash } else { hands }, 1.0, paces)
}
