//! The dryer: a belt through a heated tunnel.
//!
//! - [`DWELL_TIME`]: `dwell = heated length / belt speed`, and the pieces an hour.
//! - [`WINDOW`]: on the solver [`heat`](crate::heat), the belt speeds between cured and scorched.
//! - [`FIT`]: a dryer's factors from the readings of a probe, by least squares.

mod fit;
mod window;

pub use fit::{FIT, Fit, FitRequest, ProbePosition, ProbeReading, ProbeRun};
pub use window::{Limits, Range, Rule, WINDOW, Window, WindowRequest};

use crate::error::{Code, Error};
use crate::quantity::{
    BELT_SPEED, EXCHANGE, HEAT, HUMIDITY, HeatTransfer, Length, Rank, Rules, TRANSFER, Temperature, Time, Velocity,
    decimal, units,
};
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, answer, calculation, one_of, request};

const LENGTH: Rules = Rules::range(units::M, 0.01, 100.0).usual(0.3, 15.0);
const WIDTH: Rules = Rules::range(units::M, 0.05, 10.0).usual(0.3, 2.5);
const DWELL: Rules = Rules::range(units::S, 0.1, 86_400.0).usual(10.0, 900.0);
const PIECE: Rules = Rules::range(units::M, 0.01, 10.0).usual(0.2, 1.5);
const GAP: Rules = Rules::range(units::M, 0.0, 10.0).usual(0.0, 1.0);
const LANES: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 4.0);

/// No tunnel has more.
const MOST_ZONES: usize = 50;

/// What one piece takes of the belt where nothing else is said.
const ROW: f64 = 0.75;

request! {
    /// A heated zone of the tunnel.
    pub struct Zone {
        /// Length of the zone along the belt.
        length "Zone length": Length as Machine where LENGTH,
        /// Temperature of the air.
        air "Air temperature": Temperature where HEAT.group("The air"),
        /// Convection coefficient on the print's side.
        transfer_top "Heat transfer above": HeatTransfer where TRANSFER.group("The air"),
        /// Convection coefficient under the shirt.
        transfer_bottom "Heat transfer below": HeatTransfer where TRANSFER.group("The air"),
        /// Temperature of a radiant panel over the belt.
        panel "Panel temperature": Option<Temperature> where HEAT.group("The panel"),
        /// Share of black-body exchange between panel and print.
        exchange_fraction "Panel exchange share": Option<f64> where EXCHANGE.group("The panel"),
        /// Mass of water vapour over mass of dry air.
        humidity_ratio "Humidity ratio": Option<f64>
            where HUMIDITY.rank(Rank::Rare).group("The air").unless_given("0.020, a dryer at work"),
    }
    chooses(Choice::All(&["panel", "exchange_fraction"]))
}

request! {
    /// A belt dryer.
    pub struct Dryer {
        /// The zones, in the order in which a shirt meets them.
        zones "Zones": Vec<Zone>,
        /// Width of the belt.
        belt_width "Belt width": Option<Length> as Machine where WIDTH,
        /// Slowest belt speed.
        belt_least "Slowest belt": Velocity where BELT_SPEED,
        /// Fastest belt speed.
        belt_most "Fastest belt": Velocity where BELT_SPEED,
        /// Whether the dryer's numbers were fitted to a probe.
        fitted "Fitted to a probe": Option<bool> where Rules::NONE.unless_given("no"),
    }
    stock("dryer", "../stock/dryers.json")
}

impl Dryer {
    /// What the fields cannot say one by one; `at` is the dryer's place in the request.
    ///
    /// # Errors
    /// `out_of_range` without a zone, `impossible` for a belt whose least is above its most, `missing_field` for half a panel.
    pub(crate) fn check(&self, at: &str) -> Result<(), Error> {
        if self.zones.is_empty() {
            return Err(Error::new(Code::OutOfRange, format!("{at}/zones"), "a dryer has at least one zone")
                .allowed(["1 zone or more"]));
        }
        if self.zones.len() > MOST_ZONES {
            return Err(Error::new(Code::TooLong, format!("{at}/zones"), format!("{} zones", self.zones.len()))
                .allowed([format!("at most {MOST_ZONES} zones")]));
        }
        if self.belt_least > self.belt_most {
            return Err(Error::new(
                Code::Impossible,
                format!("{at}/belt_least"),
                "the slowest belt is faster than the fastest",
            )
            .allowed([format!("at most {} m/min", decimal(units::M_PER_MIN.value(self.belt_most)))]));
        }
        for (index, zone) in self.zones.iter().enumerate() {
            if zone.panel.is_some() != zone.exchange_fraction.is_some() {
                let absent = if zone.panel.is_some() { "exchange_fraction" } else { "panel" };
                let message = "`panel` and `exchange_fraction` go together";
                return Err(
                    Error::new(Code::MissingField, format!("{at}/zones/{index}/{absent}"), message).allowed([absent])
                );
            }
        }
        Ok(())
    }

    /// Length under heat: all zones together.
    #[must_use]
    pub fn heated_length(&self) -> Length {
        self.zones.iter().fold(units::M.of(0.0), |sum, zone| sum + zone.length)
    }
}

/// Pieces per hour on the belt: lanes x speed / (piece + gap).
#[must_use]
pub fn pieces_per_hour(speed: Velocity, piece: Length, gap: Length, lanes: u32) -> f64 {
    let per_second = units::M_PER_S.value(speed) / units::M.value(piece + gap);
    f64::from(lanes) * per_second * 3600.0
}

/// Pieces per hour with one piece in a row every 0.75 m of belt.
pub fn usual_pieces_per_hour(speed: Velocity, remarks: &mut Remarks) -> f64 {
    remarks.basis("dryer.piece_length", Source::memory("a shirt takes 0.75 m of the belt, one lane"));
    pieces_per_hour(speed, units::M.of(ROW), units::M.of(0.0), 1)
}

request! {
    /// A belt, by its speed or by its dwell.
    pub struct BeltDwellRequest {
        /// Length under heat.
        heated_length "Heated length": Length where LENGTH,
        /// Belt speed; or give the dwell.
        belt_speed "Belt speed": Option<Velocity> where BELT_SPEED.rank(Rank::First),
        /// Time under heat; or give the belt speed.
        dwell "Dwell time": Option<Time> where DWELL.rank(Rank::First),
        /// Length of belt that a piece takes; with it comes the throughput.
        piece_length "Belt per piece": Option<Length> where PIECE,
        /// Gap between two pieces along the belt.
        gap "Gap between pieces": Option<Length> where GAP.unless_given("none"),
        /// Pieces that lie side by side on the belt.
        lanes "Pieces side by side": Option<u32> where LANES.unless_given("one"),
    }
    chooses(Choice::One(&[&["belt_speed"], &["dwell"]]))
}

answer! {
    /// Dwell, speed and throughput of a belt.
    pub struct Dwell {
        /// Time under heat.
        dwell "Dwell time": Time,
        /// Belt speed.
        belt_speed "Belt speed": Velocity,
        /// Throughput, where the piece is known.
        pieces_per_hour "Pieces per hour": Option<f64>,
    }
}

calculation! {
    pub const DWELL_TIME: BeltDwellRequest => Dwell = dwell;
    id: "dryer.dwell",
    title: "Dryer dwell and throughput",
    question: "Dwell, belt speed, throughput?",
    asked: ["How long is a shirt in the dryer?", "How fast does my belt run for a minute of heat?"],
    headline: ["dwell", "belt_speed"],
    formula: "dwell = heated length / belt speed; pieces per hour = lanes x belt speed / (piece length + gap)",
    sources: &[Source::physics("distance over speed")],
    example: r#"{"heated_length": "2 m", "dwell": "60 s", "piece_length": "0.75 m"}"#,
}

/// Dwell from speed or speed from dwell, and the throughput of the belt.
///
/// # Errors
/// `missing_field` without speed and dwell, `impossible` with both or with a gap or lanes but no piece.
pub(crate) fn dwell(request: &BeltDwellRequest, remarks: &mut Remarks) -> Result<Dwell, Error> {
    let length = request.heated_length;
    let (dwell, belt_speed): (Time, Velocity) = match (request.belt_speed, request.dwell) {
        (Some(speed), None) => (length / speed, speed),
        (None, Some(dwell)) => (dwell, length / dwell),
        (Some(_), Some(_)) => {
            return Err(Error::new(
                Code::Impossible,
                "/dwell",
                "belt speed and dwell are one and the same thing here: give one of them",
            ));
        }
        (None, None) => return Err(one_of::<BeltDwellRequest>(At::ROOT)),
    };
    let pieces_per_hour = match request.piece_length {
        Some(piece) => {
            let nothing = Source::physics("nothing unless given");
            if request.gap.is_none() {
                remarks.basis("gap", nothing);
            }
            if request.lanes.is_none() {
                remarks.basis("lanes", Source::physics("one unless given"));
            }
            let gap = request.gap.unwrap_or_else(|| units::M.of(0.0));
            Some(pieces_per_hour(belt_speed, piece, gap, request.lanes.unwrap_or(1)))
        }
        None if request.gap.is_some() || request.lanes.is_some() => {
            return Err(Error::new(
                Code::Impossible,
                "/piece_length",
                "a gap or lanes say nothing without the length of a piece",
            ));
        }
        None => None,
    };
    remarks.info(
        "dwell_is_not_cure",
        "",
        "dwell is time under heat, not time at temperature: prove the cure with a probe in the ink. Hot belt, hot air and fumes: keep to the maker's sheet and to local rules on exhaust",
    );
    Ok(Dwell { dwell, belt_speed, pieces_per_hour })
}
