//! How long an ink may stand in the screen before it dries in the mesh.

use super::{Ink, laid_down};
use crate::air::{STEFAN_BOLTZMANN, along_a_plate, evaporating, in_still_air, latent_heat, saturation_pressure};
use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{
    Dimensioned, Length, MassFlux, MassPerArea, Rank, Rules, Show, Temperature, Time, Velocity, units,
};
use crate::root::{Bracket, Point, Search, illinois};
use crate::source::Source;
use crate::stencil::OVER_MESH;
use crate::wire::{Remarks, Say, answer, calculation, request};
use core::convert::Infallible;

const ROOM: Rules = Rules::range(units::DEG_C, 0.0, 60.0).usual(10.0, 40.0);
const HUMIDITY: Rules = Rules::FRACTION.usual(0.15, 0.9);
const SPEED: Rules = Rules::range(units::M_PER_S, 0.0, 20.0)
    .usual(0.0, 2.0)
    .or(0.15, Source::memory("air of a room in which people and machines move; a fan makes 1 m/s and more"));
const FLOOD: Rules = Rules::range(units::UM, 0.0, 5_000.0)
    .usual(20.0, 1_000.0)
    .or(150.0, Source::memory("a light flood through which the image still shows; gauge or weigh your own"));
const SCREEN: Rules = Rules::range(units::MM, 10.0, 5_000.0)
    .usual(100.0, 1_500.0)
    .or(500.0, Source::memory("inside of a usual frame"))
    .rank(Rank::Rare);
const LOSS: Rules = Rules::range(units::ONE, 0.001, 1.0)
    .usual(0.05, 0.5)
    .or(0.2, Source::memory("water gone before fine detail closes; try your own ink"));

/// Emissivity of a wet face (Incropera, table A.11: water 0.96, from memory).
const EMISSIVITY: f64 = 0.95;
/// The least share of the mesh's ink that print strokes leave behind: the walls stay wet.
const LEAST_LEFT: f64 = 0.1;
/// Longer than this is not told as a time.
const WEEK: Rules = Rules::range(units::D, 0.0, 7.0);
/// Of the open time of a lowered screen a lifted one has this much at most: both of its faces dry.
pub(crate) const LIFTED: f64 = 0.5;
/// Work of finding at what temperature a wet face stays, in rows.
const BALANCED: f64 = 2_000.0;
/// Shorter than this and a stop between two shirts is too long.
const SHORT: f64 = 120.0;

request! {
    /// The air over a screen.
    pub struct Air {
        /// Temperature of the room.
        temperature "Air temperature": Temperature where ROOM,
        /// Relative humidity.
        relative_humidity_fraction "Relative humidity": f64 where HUMIDITY,
        /// Speed of the air over the screen.
        speed "Air speed": Velocity where SPEED,
    }
    inside("stock")
}

request! {
    /// Ink that stands in a screen.
    pub struct OpenTimeRequest {
        /// The ink.
        ink "Ink": Ink,
        /// The mesh of the screen.
        mesh "Mesh": Mesh,
        /// Stencil over the mesh on the print side, where ink fills it too: narrow images.
        over_mesh "Stencil over mesh": Option<Length>
            where OVER_MESH.group("The ink in the screen").unless_given("none, as in a wide image"),
        /// Whether the screen is flooded while it stands.
        flooded "Flooded": Option<bool> where Rules::NONE.group("The ink in the screen").unless_given("yes"),
        /// Ink over the mesh after a flood stroke.
        flood_thickness "Flood thickness": Length where FLOOD.group("The ink in the screen"),
        /// Length of the screen along the air's way.
        screen_length "Screen length": Length where SCREEN.group("The air"),
        /// The air over the screen.
        air "Room air": Air where Rules::NONE.group("The air"),
        /// Share of the ink's water that may leave before it must be wiped.
        most_loss_fraction "Water it may lose": f64 where LOSS,
    }
}

answer! {
    /// How long the ink may stand.
    pub struct OpenTime {
        /// Time until that share of the water is gone; absent where it does not dry within a week.
        time "Open time": Option<Time>,
        /// Water that leaves at first, per area of the open face.
        rate "Water leaving": MassFlux,
        /// Temperature that pure water would take from the air alone, as a psychrometer reads it.
        wet_bulb "Wet bulb": Temperature,
        /// Temperature of the ink's face, which the room's radiation warms too.
        face "Ink surface": Temperature,
        /// Water in the ink, per area of the screen.
        water "Water in the ink": MassPerArea,
    }
}

calculation! {
    pub const OPEN_TIME: OpenTimeRequest => OpenTime = open_time;
    id: "ink.open_time",
    title: "Open time in the screen",
    question: "How long may it stand in the screen?",
    asked: ["When does my ink dry in the mesh?", "Is my room too dry for water-based ink?", "How much does a flood help?"],
    headline: ["time", "rate"],
    formula: "time = most_loss_fraction x water / rate; water = density x water_fraction x ink over each area: what mesh and stencil hold and the flood, or what the print strokes leave of it; rate = h / (rho cp) Le^(-2/3) P M / (R T) ln((P - humidity p) / (P - activity p_face)); h the larger of forced (0.664 Re^(1/2) Pr^(1/3), mixed above 5e5) and free convection (0.27 Ra^(1/4)); face: h (T_air - T) + 0.95 sigma (T_air^4 - T^4) = latent heat x rate, with activity 1 and without the radiation the wet bulb",
    sources: &[
        Source::published("Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183: evaporation from heat transfer"),
        Source::published("Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783: saturation pressure and latent heat"),
        Source::published("Incropera, Fundamentals of Heat and Mass Transfer, chapters 7 and 9: a flat plate in moving and in still air (from memory)"),
        Source::memory("which share of the water may leave: try your own ink"),
    ],
    example: r#"{"ink": "water-based", "mesh": "43-80", "air": {"temperature": "23 degC", "relative_humidity_fraction": 0.45, "speed": "0.15 m/s"}}"#,
}

/// Water leaving the open face of an ink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drying {
    /// Mass per area and time.
    pub rate: MassFlux,
    /// Temperature that pure water would take from the air alone.
    pub wet_bulb: Temperature,
    /// Temperature of the face.
    pub face: Temperature,
}

/// How fast water leaves an ink of a water activity into the air over a screen of a length.
///
/// The face takes the heat of evaporation out of the air and, by radiation, out of a room as warm as the air. Free convection is
/// taken at the coldest that the face can be, the wet bulb over this ink. Nothing leaves where the air's relative humidity is the activity or more.
#[must_use]
pub fn drying(air: &Air, water_activity: f64, screen_length: Length) -> Drying {
    let (room, length) = (air.temperature.si(), screen_length.si());
    let vapour = air.relative_humidity_fraction * saturation_pressure(room);
    let leaves = |transfer: f64, activity: f64, face: f64| evaporating(transfer, room, vapour, activity, face).0;
    // Heat that comes less the heat that evaporation takes: it falls as the face warms.
    let balance = |transfer: f64, emissivity: f64, activity: f64, face: f64| {
        let radiation = room * room * room * room - face * face * face * face;
        transfer * (room - face) + emissivity * STEFAN_BOLTZMANN * radiation
            - latent_heat(face) * leaves(transfer, activity, face)
    };
    let settles = |transfer: f64, emissivity: f64, activity: f64, coldest: f64| {
        let balance = |face: f64| balance(transfer, emissivity, activity, face);
        let at = |face: f64| Point { at: face, value: balance(face) };
        let bracket = Bracket::between(at(coldest), at(room))?;
        let search = Search { width: 0.0, relative_width: 1e-14, value: 0.0, margin: 0.0, evaluations: 60 };
        let Ok(found) = illinois::<Infallible>(bracket, &search, |face| Ok(balance(face)));
        Some(found.holds.at)
    };
    // The wet bulb does not hang on the transfer: heat and vapour share it. That of the ink is warmer where water is bound in it.
    let wet_bulb = settles(1.0, 0.0, 1.0, COLDEST).map_or(air.temperature, Temperature::from_si);
    let still = Drying { rate: MassFlux::from_si(0.0), wet_bulb, face: air.temperature };
    if water_activity <= air.relative_humidity_fraction {
        return still;
    }
    let Some(coldest) = settles(1.0, 0.0, water_activity, COLDEST) else { return still };
    let film = 0.5 * (room + coldest);
    let transfer = along_a_plate(air.speed.si(), length, film).max(in_still_air(room, coldest, length));
    let face = settles(transfer, EMISSIVITY, water_activity, coldest).unwrap_or(coldest);
    Drying {
        rate: MassFlux::from_si(leaves(transfer, water_activity, face).max(0.0)),
        wet_bulb,
        face: Temperature::from_si(face),
    }
}

/// Colder than any wet bulb in a room, K.
const COLDEST: f64 = 230.0;

/// Thickness of the ink over each area of the open image: what mesh and stencil hold and the flood over it, or where it was not
/// flooded (`None`) what the print strokes left in them.
#[must_use]
pub fn standing(ink: &Ink, mesh: &Mesh, over_mesh: Length, flood_thickness: Option<Length>) -> Length {
    let holds = mesh.ink_volume() + over_mesh;
    match flood_thickness {
        Some(flood) => holds + flood,
        None => {
            let gone = laid_down(1, ink.print_strokes, ink.release_fraction, ink.stroke_gain_fraction);
            holds * (1.0 - gone).max(LEAST_LEFT)
        }
    }
}

/// Time until a share of the water of a standing ink is gone; none where that takes more than a week.
#[must_use]
pub fn time_open(water: MassPerArea, most_loss: f64, rate: MassFlux) -> Option<Time> {
    let seconds = most_loss * water.si() / rate.si();
    WEEK.range.holds(seconds).then(|| Time::from_si(seconds))
}

/// How long the ink may stand in the screen.
///
/// # Errors
/// `impossible` for an ink without water.
pub(crate) fn open_time(request: &OpenTimeRequest, remarks: &mut Remarks) -> Result<OpenTime, Error> {
    let (ink, mesh, flooded) = (&request.ink, &request.mesh, request.flooded.unwrap_or(true));
    let over_mesh = request.over_mesh.unwrap_or_else(|| units::UM.of(0.0));
    if !ink.is_water_based() {
        return Err(Error::new(
            Code::Impossible,
            "/ink",
            "an ink without water does not dry in the mesh: it may stand as long as dust and its pot life allow",
        ));
    }
    ink.cite(&["density", "water_fraction"], remarks);
    mesh.cite("mesh", remarks);
    if !flooded {
        ink.cite(&["release_fraction", "print_strokes", "stroke_gain_fraction"], remarks);
    }
    if ink.water_activity.is_none() {
        remarks.basis("ink.water_activity", Source::memory("1, as over water: an ink with a retarder lies lower"));
    }
    remarks.work().spend(BALANCED);
    let drying = drying(&request.air, ink.water_activity.unwrap_or(1.0), request.screen_length);
    let water = |flooded: bool| {
        standing(ink, mesh, over_mesh, flooded.then_some(request.flood_thickness)) * ink.density * ink.water_fraction
    };
    let time = |flooded: bool| time_open(water(flooded), request.most_loss_fraction, drying.rate);
    let open = time(flooded);
    say(request, open, time(!flooded), flooded, remarks);
    Ok(OpenTime { time: open, rate: drying.rate, wet_bulb: drying.wet_bulb, face: drying.face, water: water(flooded) })
}

/// What the reader must know beside the time.
fn say(request: &OpenTimeRequest, open: Option<Time>, other: Option<Time>, flooded: bool, remarks: &mut Remarks) {
    let pot_life = request.ink.pot_life.filter(|life| open.is_none_or(|time| *life < time));
    let ends_first = |remarks: &mut Remarks| {
        if pot_life.is_some() {
            remarks.info("pot_life", "/ink/pot_life", "its pot life ends before it dries in the screen");
        }
    };
    let Some(time) = open else {
        remarks.info(
            "does_not_dry",
            "/air/relative_humidity_fraction",
            "this air takes up so little water that the ink does not dry within a week, or takes up water itself",
        );
        ends_first(remarks);
        return;
    };
    if time.si() < SHORT {
        remarks.caution(
            "dries_fast",
            "/air",
            "it dries within a stop between two shirts: flood after each print, still and moisten the air, or retard the ink as its maker allows",
        );
    }
    if let Some(other) = other {
        remarks.info("flood", "/flooded", move |say: Say| {
            let other = say.say(other, Show::Usual);
            if flooded {
                format!("left without a flood after printing it would stand for {other}")
            } else {
                format!("flooded it would stand for {other}")
            }
        });
    }
    ends_first(remarks);
    remarks.info(
        "an_estimate",
        "",
        "reckoned at the rate of the first minutes, from the open face alone: in a lifted screen both faces dry, so take half at most; a skin, a salt or a binder slows it, so stop a press for so long and print on paper before you rely on it",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn air(celsius: f64, humidity: f64, speed: f64) -> Air {
        Air::new()
            .temperature(units::DEG_C.of(celsius))
            .relative_humidity_fraction(humidity)
            .speed(units::M_PER_S.of(speed))
    }

    fn time(air: Air, activity: f64, flood: f64) -> f64 {
        let ink = Ink::in_stock("water-based").unwrap().water_activity(activity);
        let request = OpenTimeRequest::new()
            .ink(ink)
            .mesh("55-64".parse().unwrap())
            .air(air)
            .flood_thickness(units::UM.of(flood));
        OPEN_TIME.answer(&request).unwrap().time.map_or(f64::INFINITY, Dimensioned::si)
    }

    /// What solving for the face's temperature leaves of noise.
    const NOISE: f64 = 1.0 + 1e-8;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

        #[test]
        fn what_dries_more_never_lengthens_it(
            celsius in 0.0_f64..60.0, humidity in 0.0_f64..1.0, drier in 0.0_f64..1.0, speed in 0.0_f64..20.0, faster in 1.0_f64..5.0,
            activity in 0.05_f64..1.0, lower in 0.2_f64..1.0, flood in 0.0_f64..2000.0, more in 0.0_f64..500.0,
        ) {
            let here = air(celsius, humidity, speed);
            let open = time(here.clone(), activity, flood);
            prop_assert!(open > 0.0);
            prop_assert!(time(air(celsius, humidity * drier, speed), activity, flood) <= open * NOISE);
            prop_assert!(time(air(celsius, humidity, (speed * faster).min(20.0)), activity, flood) <= open * NOISE);
            prop_assert!(time(here.clone(), (activity * lower).max(0.01), flood) * NOISE >= open);
            prop_assert!(time(here, activity, flood + more) >= open);
        }

        /// The face lies between the wet bulb and the air, its energy balances, and a flood keeps ink open for longer than none.
        #[test]
        fn the_face_balances(celsius in 0.0_f64..60.0, humidity in 0.0_f64..0.95, speed in 0.0_f64..20.0, length in 0.05_f64..2.0) {
            let room = air(celsius, humidity, speed);
            let dries = drying(&room, 1.0, units::M.of(length));
            prop_assert!(dries.wet_bulb <= dries.face && dries.face <= room.temperature);
            let (warm, cold) = (room.temperature.si(), dries.face.si());
            let film = 0.5 * (warm + dries.wet_bulb.si());
            let transfer = along_a_plate(speed, length, film).max(in_still_air(warm, dries.wet_bulb.si(), length));
            let fourth = |kelvin: f64| kelvin * kelvin * kelvin * kelvin;
            let comes = transfer * (warm - cold) + EMISSIVITY * STEFAN_BOLTZMANN * (fourth(warm) - fourth(cold));
            approx::assert_relative_eq!(comes, dries.rate.si() * latent_heat(cold), epsilon = 0.0, max_relative = 1e-7);
            let ink = Ink::in_stock("discharge").unwrap();
            let asked = OpenTimeRequest::new().ink(ink).mesh("62-64".parse().unwrap()).air(room);
            let opens = |flooded| OPEN_TIME.answer(&asked.clone().flooded(flooded)).unwrap().time.unwrap();
            prop_assert!(opens(true) > opens(false));
        }
    }

    #[test]
    fn air_as_moist_as_the_ink_dries_nothing() {
        for (humidity, activity) in [(1.0, 1.0), (0.7, 0.7), (0.8, 0.6)] {
            assert!(time(air(23.0, humidity, 0.1), activity, 150.0).is_infinite());
        }
    }
}
