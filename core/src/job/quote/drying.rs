//! The heat that a dryer gives to what passes through it.

use super::sheet::DryingHeat;
use crate::dryer::{DRYER_HUMIDITY, Dryer};
use crate::quantity::{Dimensioned, Energy, Mass, SpecificHeat, Temperature, TemperatureDifference, room, units};
use crate::source::Source;
use crate::wire::Remarks;

/// Specific heats of dry air and water vapour, J/(kg.K), and heat of evaporation at 0 degC, J/kg: the enthalpies of moist air of
/// psychrometric tables, h = 1.006 t + x (2501 + 1.86 t) kJ/kg (ASHRAE Fundamentals, from memory).
const DRY_AIR: f64 = 1006.0;
const VAPOUR: f64 = 1860.0;
const EVAPORATION: f64 = 2.501e6;
/// Specific heat of liquid water, J/(kg.K).
const LIQUID: f64 = 4186.0;
/// Vapour in the air of a room, over the dry air: 20 degC at half its humidity (from memory).
const FRESH: f64 = 0.007;
/// Least vapour that the air is taken to carry off, over the dry air (from memory): drier than that no dryer at work is.
const LEAST_CARRIED: f64 = 0.001;

/// Heat that a mass of water takes up until it leaves as vapour at the temperature of the exhaust:
/// `m (2501 kJ/kg + 1.86 kJ/(kg.K) t_exhaust - 4.186 kJ/(kg.K) t_start)`, t in degC.
///
/// Source: enthalpies of moist air (ASHRAE Fundamentals, from memory).
#[must_use]
pub fn heat_of_water(water: Mass, start: Temperature, exhaust: Temperature) -> Energy {
    let [start, exhaust] = [start, exhaust].map(|t| units::DEG_C.value(t));
    Energy::from_si(water.si() * (EVAPORATION + VAPOUR * exhaust - LIQUID * start))
}

/// Heat of the fresh air that carries a mass of vapour off: `m / (x_exhaust - x_fresh)` of dry air is warmed from the room to the
/// temperature of the exhaust, with the vapour that it brings. Infinite where the exhaust is no moister than the room.
///
/// Source: mass and enthalpy balance of a dryer.
#[must_use]
pub fn heat_of_air(water: Mass, fresh: Temperature, exhaust: Temperature, humidity_ratio: f64) -> Energy {
    let taken = humidity_ratio - FRESH;
    if taken <= 0.0 {
        return Energy::from_si(f64::INFINITY);
    }
    Energy::from_si(water.si() / taken * (DRY_AIR + FRESH * VAPOUR) * (exhaust.si() - fresh.si()))
}

/// What a run takes up.
pub(super) struct Load {
    pub cloth: Mass,
    pub specific_heat: SpecificHeat,
    /// Bound in the cloth, and in the ink.
    pub water: Mass,
    /// What the cloth gets to.
    pub reaches: Temperature,
}

/// The heat that a dryer gives to a load.
pub(super) fn heat(dryer: &Dryer, load: &Load, efficiency: f64, remarks: &mut Remarks) -> DryingHeat {
    let zones = dryer.tunnel();
    let length: f64 = zones.iter().map(|zone| zone.length.si()).sum();
    let mean = |of: &dyn Fn(&crate::dryer::Zone) -> f64| {
        zones.iter().map(|zone| zone.length.si() * of(zone)).sum::<f64>() / length
    };
    let exhaust = Temperature::from_si(mean(&|zone| zone.air.si()));
    let humidity = mean(&|zone| zone.humidity_ratio.unwrap_or(DRYER_HUMIDITY));
    let least = FRESH + LEAST_CARRIED;
    if humidity < least {
        remarks.caution(
            "dryer_air_too_dry",
            "/shop/dryer",
            "air as dry as the room's carries no vapour off: its heat was reckoned at 0.008 kg of vapour a kg, and is then very high",
        );
    }
    let humidity = humidity.max(least);
    remarks.basis("drying.heat", Source::memory("ASHRAE Fundamentals: enthalpies of moist air"));
    remarks.basis("room.humidity_ratio", Source::memory("20 degC at half its humidity: 0.007 kg of vapour a kg"));
    if zones.iter().any(|zone| zone.humidity_ratio.is_none()) {
        remarks.basis("dryer.humidity_ratio", Source::memory("0.020 kg of vapour a kg: a dryer at work"));
    }
    let cloth: Energy =
        load.cloth * load.specific_heat * TemperatureDifference::from_si(load.reaches.si() - room().si());
    let water = heat_of_water(load.water, room(), exhaust);
    let air = heat_of_air(load.water, room(), exhaust, humidity);
    DryingHeat { cloth, water, air, drawn: (cloth + water + air) / efficiency }
}
