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
        /// Mass per area of the cloth.
        mass_per_area "Cloth weight": MassPerArea where WEIGHT,
        /// Thickness of the cloth under no load.
        thickness "Cloth thickness": Length where THICKNESS,
        /// Thermal conductivity of the cloth.
        conductivity "Heat conductivity": ThermalConductivity where CONDUCTIVITY.group("How it takes heat"),
        /// Heat per mass and kelvin, dry.
        specific_heat "Specific heat": SpecificHeat where SPECIFIC_HEAT.group("How it takes heat"),
        /// Water bound in the fibre, over its dry mass.
        regain_fraction "Moisture regain": f64 where Rules::FRACTION.usual(0.0, 0.2).group("How it takes heat"),
        /// Temperature above which the cloth scorches, melts or shrinks.
        never_above "Never hotter than": Temperature where HEAT.group("What it bears"),
        /// Temperature above which the dye of the cloth starts to move.
        caution_above "Dye migrates above": Option<Temperature> where HEAT.group("What it bears"),
        /// Whether a print needs a base under it.
        shade "Shade": Shade,
    }
    stock("cloth", "stock/cloths.json")
}
