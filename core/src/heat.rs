//! Heat: the matter that heat goes through.

use crate::cure::HEAT;
use crate::quantity::{Density, HeatTransfer, Length, Rules, SpecificHeat, Temperature, ThermalConductivity, units};
use crate::wire::request;

const THICKNESS: Rules = Rules::range(units::UM, 0.1, 1e6);
pub(crate) const CONDUCTIVITY: Rules = Rules::range(units::W_PER_M_K, 1e-4, 5000.0);
const DENSITY: Rules = Rules::range(units::KG_PER_M3, 0.1, 30_000.0);
pub(crate) const SPECIFIC_HEAT: Rules = Rules::range(units::J_PER_KG_K, 10.0, 20_000.0);
/// Convection coefficients: still air to jets.
pub(crate) const TRANSFER: Rules = Rules::range(units::W_PER_M2_K, 0.0, 10_000.0).usual(0.0, 200.0);

request! {
    /// A layer of one material.
    pub struct Layer {
        /// What it is.
        name: String,
        /// How thick it is.
        thickness: Length where THICKNESS,
        /// How well it conducts heat.
        conductivity: ThermalConductivity where CONDUCTIVITY,
        /// Mass per volume.
        density: Density where DENSITY,
        /// Heat per mass and kelvin.
        specific_heat: SpecificHeat where SPECIFIC_HEAT,
    }
}

request! {
    /// A face in air.
    pub struct AirFace {
        /// Convection coefficient.
        transfer: HeatTransfer where TRANSFER,
        /// Temperature of the air.
        air: Temperature where HEAT,
    }
}
