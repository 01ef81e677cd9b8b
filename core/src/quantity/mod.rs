//! Quantities: what the wire's units mean, and the typed values that the formulas use.
//!
//! Inside the crate every dimensional value is a [`uom`] quantity in SI base units, so a length cannot be added to a
//! time. Absolute temperature is a type of our own, [`Temperature`]: with `uom`'s, a heat capacity times an absolute
//! temperature compiles, and that product means nothing.
//!
//! ```compile_fail
//! use floodbar::quantity::{Length, Time};
//! fn nonsense(film: Length, dwell: Time) { let _ = film + dwell; }
//! ```
//! ```compile_fail
//! use floodbar::quantity::{SpecificHeat, Temperature};
//! fn nonsense(heat: SpecificHeat, shirt: Temperature) { let _ = heat * shirt; }
//! ```
//! ```compile_fail
//! use floodbar::quantity::Temperature;
//! fn nonsense(a: Temperature, b: Temperature) { let _ = a + b; }
//! ```
//! ```
//! use floodbar::quantity::{SpecificHeat, Temperature, TemperatureDifference};
//! fn heat_of_a_rise(heat: SpecificHeat, from: Temperature, to: Temperature) {
//!     let rise: TemperatureDifference = to - from;
//!     let _per_mass = heat * rise;
//! }
//! ```

mod decimal;
mod parse;
mod ranges;
mod rules;
mod show;
mod unit;

pub(crate) use decimal::{decimal, scientific, to_places};
#[cfg(feature = "schema")]
pub use parse::number_pattern;
pub use parse::{Fault, ParsedQuantity, measure_object, measure_text, number};
pub(crate) use ranges::{
    BELT_SPEED, CONDUCTIVITY, ENERGY, EXCHANGE, FLASH_DWELL, HEAT, HOLD, HUMIDITY, OVERLAP, SPECIFIC_HEAT, START,
    TRANSFER, room,
};
pub use rules::{Ends, Rank, Rules};
pub use show::{Show, System};
#[cfg(feature = "schema")]
pub use unit::unit_pattern;
pub use unit::{Dimension, UNITS, Unit, UnitOf, find, fold};
pub mod units {
    //! The units by name, for the rules of a field and for typed values: `units::UM.of(27.0)` is a length.
    pub use super::unit::units::*;
}

use core::marker::PhantomData;
use core::ops::{Add, Sub};

pub use uom::si::f64::{
    Angle, Area, Energy, Force, Frequency, HeatTransfer, Length, Mass, MassFlux, MassRate, MolarEnergy, Power,
    RadiantExposure, ThermalConductivity, Time, Velocity, Volume,
};
/// A plain number: dimensionless, or one that the wire lists as plain.
pub type Fraction = f64;
/// Mass per area: cloth weight, ink laid down.
pub type MassPerArea = uom::si::f64::ArealMassDensity;
/// Area covered by a mass of ink.
pub type AreaPerMass = uom::si::f64::SpecificArea;
/// Things per mass: prints per kilogram of ink.
pub type PerMass = uom::si::Quantity<
    uom::si::ISQ<
        uom::typenum::Z0,
        uom::typenum::N1,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
    >,
    uom::si::SI<f64>,
    f64,
>;
/// Count per length: threads of a mesh, lines of a halftone ruling.
pub type Count = uom::si::f64::LinearNumberDensity;
/// Force per length: what a tension meter reads.
pub type Tension = uom::si::f64::SurfaceTension;
/// Power per area, such as the light at a stencil or the flux of a lamp.
pub type Irradiance = uom::si::f64::HeatFluxDensity;
/// Mass per volume.
pub type Density = uom::si::f64::MassDensity;
/// Heat per mass and kelvin.
pub type SpecificHeat = uom::si::f64::SpecificHeatCapacity;
/// A difference of two temperatures. Never mixes with [`Temperature`].
pub type TemperatureDifference = uom::si::f64::TemperatureInterval;

/// An absolute temperature, in kelvin inside.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::from_si(self.0 - other.0)
    }
}

impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, rise: TemperatureDifference) -> Self {
        Self(self.0 + rise.si())
    }
}

impl Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, fall: TemperatureDifference) -> Self {
        Self(self.0 - fall.si())
    }
}

/// Molar gas constant, J/(mol.K): SI brochure, 9th edition (2019), exact.
pub(crate) const GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// A typed quantity that the wire knows: it has a [`Dimension`] and a value in SI base units.
pub trait Dimensioned: Copy {
    /// Its dimension on the wire.
    const DIMENSION: Dimension;
    /// From a value in SI base units.
    fn from_si(value: f64) -> Self;
    /// The value in SI base units.
    fn si(self) -> f64;
    /// The same, to be set.
    fn si_mut(&mut self) -> &mut f64;
}

impl Dimensioned for f64 {
    const DIMENSION: Dimension = Dimension::Fraction;
    fn from_si(value: f64) -> Self {
        value
    }
    fn si(self) -> f64 {
        self
    }
    fn si_mut(&mut self) -> &mut f64 {
        self
    }
}

impl Dimensioned for Temperature {
    const DIMENSION: Dimension = Dimension::Temperature;
    fn from_si(value: f64) -> Self {
        Self(value)
    }
    fn si(self) -> f64 {
        self.0
    }
    fn si_mut(&mut self) -> &mut f64 {
        &mut self.0
    }
}

/// Whether `value` is at least `limit`, the rounding of unit conversions aside: 0.072 mm reaches 72 um.
#[must_use]
pub fn reaches<Q: Dimensioned>(value: Q, limit: Q) -> bool {
    value.si() >= limit.si() - 1e-12 * limit.si().abs()
}

macro_rules! dimensioned {
    ($($quantity:ident),* $(,)?) => { $(
        impl Dimensioned for $quantity {
            const DIMENSION: Dimension = Dimension::$quantity;
            fn from_si(value: f64) -> Self {
                Self { dimension: PhantomData, units: PhantomData, value }
            }
            fn si(self) -> f64 {
                self.value
            }
            fn si_mut(&mut self) -> &mut f64 {
                &mut self.value
            }
        }
    )* };
}

dimensioned!(
    Angle,
    Area,
    AreaPerMass,
    Count,
    Density,
    Energy,
    Force,
    Frequency,
    HeatTransfer,
    Irradiance,
    Length,
    Mass,
    MassFlux,
    MassPerArea,
    MassRate,
    MolarEnergy,
    PerMass,
    Power,
    RadiantExposure,
    SpecificHeat,
    TemperatureDifference,
    Tension,
    ThermalConductivity,
    Time,
    Velocity,
    Volume,
);

#[cfg(test)]
mod tests;
