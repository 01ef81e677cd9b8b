//! The cloth of the shirt.

use crate::quantity::{
    CONDUCTIVITY, HEAT, Length, MassPerArea, Rules, SPECIFIC_HEAT, SpecificHeat, Temperature, ThermalConductivity,
    units,
};
use crate::wire::{request, words};

const WEIGHT: Rules = Rules::range(units::G_PER_M2, 1.0, 5000.0).usual(60.0, 500.0);
const THICKNESS: Rules = Rules::range(units::MM, 0.01, 50.0).usual(0.1, 5.0);

words! {
    /// Whether a print needs a base under it.
    pub enum Shade ("shade") {
        /// Colours show without a base.
        Light = "light",
        /// Colours need a base.
        Dark = "dark",
    }
}

request! {
    /// A cloth.
    pub struct Cloth {
        /// Weight.
        mass_per_area "Mass per area": MassPerArea where WEIGHT,
        /// Thickness under no load.
        thickness "Thickness": Length where THICKNESS,
        /// Thermal conductivity.
        conductivity "Conductivity": ThermalConductivity where CONDUCTIVITY,
        /// Specific heat, dry.
        specific_heat "Specific heat": SpecificHeat where SPECIFIC_HEAT,
        /// Water bound in the fibre, over its dry mass.
        regain_fraction "Regain": f64 where Rules::FRACTION.usual(0.0, 0.2),
        /// It scorches, melts or shrinks above this.
        never_above "Never above": Temperature where HEAT,
        /// Its dye starts to move above this.
        caution_above "Caution above": Option<Temperature> where HEAT,
        /// Whether a print needs a base under it.
        shade "Shade": Shade,
    }
    stock("cloth", "stock/cloths.json")
}
