//! The dryer: a belt through a heated tunnel.
//!
//! - [`DWELL_TIME`]: `dwell = heated length / belt speed`, and the pieces an hour.
//! - [`WINDOW`]: on the solver [`heat`](crate::heat), the belt speeds between cured and scorched.
//! - [`FIT`]: a dryer's factors from the readings of a probe, by least squares.

mod fit;
mod opening;
mod pass;
mod search;
mod window;

pub(crate) use fit::scaled;
pub use fit::{FIT, Fit, FitRequest, ProbePosition, ProbeReading, ProbeRun};
pub(crate) use opening::{Aim, opening};
pub(crate) use pass::DRYER_HUMIDITY;
pub(crate) use window::inside;
pub use window::{Limits, Range, Rule, WINDOW, Window, WindowRequest};

use crate::error::{Code, Error};
use crate::quantity::{
    BELT_SPEED, Dimensioned, EXCHANGE, HEAT, HUMIDITY, HeatTransfer, Length, Rank, Rules, TRANSFER, Temperature, Time,
    Velocity, decimal, units,
};
use crate::source::Source;
use crate::wire::{At, Choice, Record, Remarks, answer, calculation, lacks, one_of, request, words};
use serde_json::Value;

const LENGTH: Rules = Rules::range(units::M, 0.01, 100.0).usual(0.3, 15.0);
const WIDTH: Rules = Rules::range(units::M, 0.05, 10.0).usual(0.3, 2.5);
const DWELL: Rules = Rules::range(units::S, 0.1, 86_400.0).usual(10.0, 900.0);
const PIECE: Rules = Rules::range(units::M, 0.01, 10.0).usual(0.2, 1.5);
const GAP: Rules = Rules::range(units::M, 0.0, 10.0).usual(0.0, 1.0);
const LANES: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 4.0);

/// No tunnel has more.
const MOST_ZONES: usize = 50;

/// Belt that a shirt takes, along it and across it.
const ROW: Rules = PIECE.or(0.75, Source::memory("a shirt takes 0.75 m of the belt"));
const LANE: Rules = PIECE.or(0.6, Source::memory("a shirt takes 0.6 m of the belt's width"));

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

words! {
    /// How a dryer heats.
    pub enum DryerKind ("kind of dryer") {
        /// Hot air, moved slowly.
        Air = "air",
        /// Radiant panels over the belt.
        Infrared = "infrared",
        /// Jets of hot air, as from a gas burner.
        GasJet = "gas_jet",
    }
}

request! {
    /// A belt dryer: by its zones, or by what a shop knows of it.
    pub struct Dryer {
        /// The zones, in the order in which a shirt meets them; or give kind and heated length.
        zones "Zones": Option<Vec<Zone>> where Rules::NONE.rank(Rank::More),
        /// How it heats; its heat transfer is then that of the stock's dryer of that kind.
        kind "How it heats": Option<DryerKind> where Rules::NONE.rank(Rank::First),
        /// Length under heat; of a stock dryer, what its zones are stretched to.
        heated_length "Heated length": Option<Length> as Machine where LENGTH.rank(Rank::First),
        /// Temperature of the air in every zone.
        air "Air setting": Option<Temperature> where HEAT.rank(Rank::First),
        /// Temperature of the panel over every zone.
        panel "Panel setting": Option<Temperature> where HEAT.rank(Rank::First),
        /// Width of the belt.
        belt_width "Belt width": Option<Length> as Machine where WIDTH.unless_given("room for one lane"),
        /// Length of belt that a piece takes, its gap included.
        piece_length "Belt per piece": Length as Machine where ROW.rank(Rank::Rare),
        /// Width of belt that a piece takes.
        lane_width "Width of a lane": Length as Machine where LANE.rank(Rank::Rare),
        /// Slowest belt speed.
        belt_least "Slowest belt": Velocity where BELT_SPEED.or(0.3, Source::memory("about 1 ft/min")),
        /// Fastest belt speed.
        belt_most "Fastest belt": Velocity where BELT_SPEED.or(6.0, Source::memory("about 20 ft/min")),
        /// Whether the dryer's numbers were fitted to a probe.
        fitted "Fitted to a probe": Option<bool> where Rules::NONE.unless_given("no"),
    }
    stock("dryer", "../stock/dryers.json")
    chooses(Choice::One(&[&["zones"], &["kind", "heated_length"]]))
    fits(is_dryer)
}

/// What the fields of a dryer cannot say one by one.
///
/// # Errors
/// `missing_field` where neither zones nor kind and length are there, for the setting that a kind needs and for half a panel;
/// `out_of_range` without a zone; `impossible` for settings beside zones of one's own, a panel setting where there is no panel, and
/// a belt whose least is above its most.
fn is_dryer(dryer: &dyn Record, at: At<'_>, _value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(dryer) = dryer.to::<Dryer>() else { return Ok(()) };
    let row = dryer.given().is_some_and(|given| given.row().is_some());
    let own = dryer.zones.is_some() && (!row || was_given(dryer, "zones"));
    let shut = |field: &str, message: &str| Err(Error::new(Code::Impossible, at.key(field), message));
    let settings = [
        ("kind", dryer.kind.is_some()),
        ("heated_length", dryer.heated_length.is_some()),
        ("air", dryer.air.is_some()),
        ("panel", dryer.panel.is_some()),
    ];
    if own && let Some((field, _)) = settings.iter().find(|(_, given)| *given) {
        return shut(field, "zones of one's own say this already: give it in the zones, or leave the zones out");
    }
    if row && dryer.kind.is_some() {
        return shut("kind", "a stock dryer has its kind: leave this out, or give no stock name");
    }
    if dryer.zones.is_none() {
        let needs =
            |field: &str, message: &str| Err(Error::new(Code::MissingField, at.key(field), message).allowed([field]));
        match (dryer.kind, dryer.heated_length) {
            (Some(_), None) => return Err(lacks(at, "heated_length")),
            (None, _) => return Err(one_of::<Dryer>(at)),
            (Some(DryerKind::Infrared), _) if dryer.panel.is_none() => {
                return needs("panel", "an infrared dryer needs the temperature of its panel");
            }
            (Some(DryerKind::Air | DryerKind::GasJet), _) if dryer.air.is_none() => {
                return needs("air", "a hot-air dryer needs the temperature of its air");
            }
            (Some(_), Some(_)) => {}
        }
    }
    let zones = dryer.zones.as_deref().unwrap_or_default();
    if dryer.zones.is_some() && zones.is_empty() {
        return Err(
            Error::new(Code::OutOfRange, at.key("zones"), "a dryer has at least one zone").allowed(["1 zone or more"])
        );
    }
    if zones.len() > MOST_ZONES {
        return Err(Error::new(Code::TooLong, at.key("zones"), format!("{} zones", zones.len()))
            .allowed([format!("at most {MOST_ZONES} zones")]));
    }
    for (index, zone) in zones.iter().enumerate() {
        if zone.panel.is_some() != zone.exchange_fraction.is_some() {
            let absent = if zone.panel.is_some() { "exchange_fraction" } else { "panel" };
            let message = "`panel` and `exchange_fraction` go together";
            return Err(
                Error::new(Code::MissingField, at.key("zones").index(index).key(absent), message).allowed([absent])
            );
        }
    }
    if dryer.panel.is_some() && dryer.tunnel().iter().all(|zone| zone.panel.is_none()) {
        return shut("panel", "this dryer has no panel to set");
    }
    if dryer.belt_least > dryer.belt_most {
        return Err(Error::new(Code::Impossible, at.key("belt_least"), "the slowest belt is faster than the fastest")
            .allowed([format!("at most {} m/min", decimal(units::M_PER_MIN.value(dryer.belt_most)))]));
    }
    Ok(())
}

/// Whether a field was given, not taken from a stock row.
fn was_given(dryer: &Dryer, field: &str) -> bool {
    dryer.given().zip(dryer.table().find(field)).is_some_and(|(given, index)| given.has(index))
}

impl Dryer {
    /// The zones as a shirt meets them: its own, else those of the stock's dryer of its kind; stretched to the heated length, and
    /// with the settings of air and panel in every zone that has them.
    #[must_use]
    pub fn tunnel(&self) -> Vec<Zone> {
        let row = match self.kind {
            Some(DryerKind::Air) => "air-dryer-2m",
            Some(DryerKind::Infrared) => "infrared-dryer-1m2",
            Some(DryerKind::GasJet) => "long-air-dryer-4m",
            None => "",
        };
        let mut zones = match &self.zones {
            Some(zones) => zones.clone(),
            None => Dryer::in_stock(row).ok().and_then(|dryer| dryer.zones.clone()).unwrap_or_default(),
        };
        let length = zones.iter().fold(units::M.of(0.0), |sum, zone| sum + zone.length);
        let stretch: f64 = self.heated_length.map_or(1.0, |wanted| (wanted / length).into());
        for zone in &mut zones {
            let mut set = zone.clone();
            if self.heated_length.is_some() {
                set = set.length(zone.length * stretch);
            }
            if let Some(air) = self.air {
                set = set.air(air);
            }
            if let Some(panel) = self.panel.filter(|_| zone.panel.is_some()) {
                set = set.panel(panel);
            }
            *zone = set;
        }
        zones
    }

    /// The same with zones of its own, in the place of whatever made them.
    pub(crate) fn with_zones(&self, zones: Vec<Zone>) -> Self {
        let mut own = self.clone().zones(zones);
        if self.kind.is_some() {
            own = own.kind(None);
        }
        if self.heated_length.is_some() {
            own = own.heated_length(None);
        }
        if self.air.is_some() {
            own = own.air(None);
        }
        if self.panel.is_some() {
            own = own.panel(None);
        }
        own
    }

    /// The same with another setting of air or panel in every zone that has it.
    pub(crate) fn reset(&self, air: Option<Temperature>, panel: Option<Temperature>) -> Self {
        let mut zones = self.tunnel();
        for zone in &mut zones {
            if let Some(air) = air {
                *zone = zone.clone().air(air);
            }
            if let Some(panel) = panel.filter(|_| zone.panel.is_some()) {
                *zone = zone.clone().panel(panel);
            }
        }
        self.with_zones(zones)
    }

    /// The slowest and the fastest belt, as logarithms of m/s.
    pub(crate) fn belt(&self) -> (f64, f64) {
        (libm::log(self.belt_least.si()), libm::log(self.belt_most.si()))
    }

    /// Length under heat: all zones together.
    #[must_use]
    pub fn length_under_heat(&self) -> Length {
        self.tunnel().iter().fold(units::M.of(0.0), |sum, zone| sum + zone.length)
    }

    /// Pieces that lie side by side: as many lanes as fit on the belt, and one at least.
    #[must_use]
    pub fn lanes(&self) -> u32 {
        let lanes: f64 = self.belt_width.map_or(1.0, |width| (width / self.lane_width).into());
        // A belt of three lanes' width holds three, whatever the rounding.
        (lanes + 1e-9).max(1.0) as u32
    }

    /// Pieces per hour at this belt speed: lanes x speed / length of belt that a piece takes.
    #[must_use]
    pub fn pieces_per_hour(&self, speed: Velocity) -> f64 {
        pieces_per_hour(speed, self.piece_length, units::M.of(0.0), self.lanes())
    }

    /// Says where its numbers came from.
    pub(crate) fn cite_all(&self, remarks: &mut Remarks) {
        self.cite(&["zones", "belt_width", "belt_least", "belt_most"], remarks);
        if self.kind.is_some() {
            remarks.basis(
                "dryer.zones",
                Source::memory("heat transfer of the stock's dryer of that kind, until it is fitted to a probe"),
            );
        }
    }
}

/// Pieces per hour on the belt: lanes x speed / (piece + gap).
#[must_use]
pub fn pieces_per_hour(speed: Velocity, piece: Length, gap: Length, lanes: u32) -> f64 {
    let per_second = units::M_PER_S.value(speed) / units::M.value(piece + gap);
    f64::from(lanes) * per_second * 3600.0
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
