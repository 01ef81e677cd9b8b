//! The layers: the matter that heat goes through.

use crate::quantity::{
    CONDUCTIVITY, Density, Dimensioned, HEAT, HeatTransfer, Length, MassPerArea, Rules, SPECIFIC_HEAT, SpecificHeat,
    TRANSFER, Temperature, ThermalConductivity, units,
};
use crate::wire::request;

const THICKNESS: Rules = Rules::range(units::UM, 0.1, 1e7).usual(1.0, 1e5);
const DENSITY: Rules = Rules::range(units::KG_PER_M3, 0.1, 30_000.0).usual(0.5, 12_000.0);
const BOUND: Rules = Rules::range(units::G_PER_M2, 0.0, 1e5).usual(0.0, 100.0);

request! {
    /// A layer of one material.
    pub struct Layer {
        /// What the layer is made of.
        name "Material": String,
        /// How thick it is.
        thickness "Layer thickness": Length where THICKNESS,
        /// How well it conducts heat.
        conductivity "Heat conductivity": ThermalConductivity where CONDUCTIVITY,
        /// Mass per volume of the layer.
        density "Density": Density where DENSITY,
        /// Heat per mass and kelvin.
        specific_heat "Specific heat": SpecificHeat where SPECIFIC_HEAT,
        /// Water bound in the fibre, spread evenly; it leaves between 60 and 120 degC and does not come back.
        bound_water "Bound water": Option<MassPerArea> where BOUND,
    }
}

request! {
    /// A face in air.
    pub struct AirFace {
        /// Convection coefficient of the face.
        transfer "Heat transfer": HeatTransfer where TRANSFER,
        /// Temperature of the air.
        air "Air temperature": Temperature where HEAT,
    }
}

/// A layer in SI units, ready for the solver.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slab {
    /// Thickness, m.
    pub thickness: f64,
    /// Conductivity, W/(m.K).
    pub conductivity: f64,
    /// Heat per volume and kelvin, J/(m3.K).
    pub heat_per_volume: f64,
    /// Bound water, kg/m2.
    pub bound_water: f64,
}

impl From<&Layer> for Slab {
    fn from(layer: &Layer) -> Self {
        Self {
            thickness: layer.thickness.si(),
            conductivity: layer.conductivity.si(),
            heat_per_volume: layer.density.si() * layer.specific_heat.si(),
            bound_water: layer.bound_water.map_or(0.0, Dimensioned::si),
        }
    }
}
