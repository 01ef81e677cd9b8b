//! Ranges of what several trade steps ask for.

use super::Temperature;
use super::rules::Rules;
use super::unit::units;
use crate::source::Source;

/// Temperatures of inks, cloth and machines.
pub(crate) const HEAT: Rules = Rules::range(units::DEG_C, -40.0, 1500.0).usual(0.0, 700.0);
/// Times under heat.
pub(crate) const HOLD: Rules = Rules::range(units::S, 0.0, 86_400.0).usual(0.0, 900.0);
/// Times under a flash.
pub(crate) const FLASH_DWELL: Rules = Rules::range(units::S, 0.1, 600.0).usual(1.0, 30.0);
/// Activation energies of cures.
pub(crate) const ENERGY: Rules = Rules::range(units::KJ_PER_MOL, 1.0, 1000.0).usual(30.0, 300.0);
/// Thermal conductivities.
pub(crate) const CONDUCTIVITY: Rules = Rules::range(units::W_PER_M_K, 1e-4, 5000.0).usual(0.02, 450.0);
/// Specific heats.
pub(crate) const SPECIFIC_HEAT: Rules = Rules::range(units::J_PER_KG_K, 10.0, 20_000.0).usual(100.0, 5_000.0);
/// Convection coefficients: still air to jets.
pub(crate) const TRANSFER: Rules = Rules::range(units::W_PER_M2_K, 0.0, 1e6).usual(0.0, 500.0);
/// Share of black-body exchange with a panel.
pub(crate) const EXCHANGE: Rules = Rules::FRACTION;
/// Mass of water vapour over mass of dry air.
pub(crate) const HUMIDITY: Rules = Rules::range(units::ONE, 0.0, 1.0).usual(0.0, 0.2);
/// Speeds of a dryer's belt.
pub(crate) const BELT_SPEED: Rules = Rules::range(units::M_PER_MIN, 1e-3, 1000.0).usual(0.1, 15.0);
/// How far the blade stands over the image on each side.
pub(crate) const OVERLAP: Rules = Rules::range(units::MM, 0.0, 500.0)
    .usual(5.0, 50.0)
    .or(15.0, Source::common("1 to 2 cm wider than the image on each side"));

/// The air of a room, and whatever has stood in it.
pub(crate) fn room() -> Temperature {
    units::DEG_C.of(ROOM)
}

/// The same in degrees Celsius.
const ROOM: f64 = 25.0;
/// What a print starts from.
pub(crate) const START: Rules = HEAT.or(ROOM, Source::common("room temperature"));
