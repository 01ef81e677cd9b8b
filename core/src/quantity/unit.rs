//! The table of units: one row a unit, all its spellings, and its exact factor to SI.
//!
//! Factors are exact by definition (international yard and pound 1959, US gallon of 231 cubic inches) and kept as a
//! numerator and a divisor, so that a conversion rounds once: 55 um is 55 / 1e6 m, not 55 x 0.000001 m.

use super::Dimensioned;
use crate::sorted;
use core::fmt;
use core::marker::PhantomData;
use core::ops::Deref;
use std::sync::LazyLock;

macro_rules! dimensions {
    ($($name:ident $text:literal $example:literal;)*) => {
        /// What kind of thing a quantity measures, as the wire distinguishes it.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Dimension { $(#[doc = $text] $name),* }

        impl Dimension {
            /// Every dimension.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// With its article, for a sentence: `a length`.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { $(Self::$name => $text),* }
            }

            /// How such a quantity is written: `55 um`.
            #[must_use]
            pub const fn example(self) -> &'static str {
                match self { $(Self::$name => $example),* }
            }

            /// The name in schemas: `Length`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$name => stringify!($name)),* }
            }
        }
    };
}

dimensions! {
    Angle "an angle" "22.5 deg";
    Area "an area" "460 cm2";
    AreaPerMass "an area per mass" "40 m2/kg";
    Count "a count per length" "77 /cm";
    Density "a density" "1.15 g/cm3";
    Energy "an energy" "2 kWh";
    Force "a force" "12 N";
    Fraction "a fraction" "40 %";
    Frequency "a rate" "300 /h";
    HeatTransfer "a heat transfer coefficient" "20 W/(m2.K)";
    Irradiance "a power per area" "15 kW/m2";
    Length "a length" "55 um";
    Mass "a mass" "100 g";
    MassFlux "a mass per area and time" "60 g/(m2.h)";
    MassPerArea "a mass per area" "180 g/m2";
    MassRate "a mass per time" "2 g/min";
    MolarEnergy "an energy per amount of substance" "90 kJ/mol";
    PerMass "a number per mass" "400 /kg";
    Power "a power" "12 kW";
    RadiantExposure "an energy per area" "150 mJ/cm2";
    SpecificHeat "a specific heat" "1340 J/(kg.K)";
    Temperature "an absolute temperature" "160 degC";
    TemperatureDifference "a temperature difference" "3 K";
    Tension "a tension" "25 N/cm";
    ThermalConductivity "a thermal conductivity" "0.055 W/(m.K)";
    Time "a time" "60 s";
    Velocity "a speed" "12 ft/min";
    Volume "a volume" "1 l";
}

/// A unit of the wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// The spelling that answers use.
    pub name: &'static str,
    /// Other spellings, UCUM codes among them; micro signs and superscripts are folded before look-up.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    factor: f64,
    divisor: f64,
    zero: f64,
}

impl Unit {
    const fn new(
        name: &'static str,
        spellings: &'static [&'static str],
        dimension: Dimension,
        factor: f64,
        divisor: f64,
    ) -> Self {
        Self { name, spellings, dimension, factor, divisor, zero: 0.0 }
    }

    /// The same, of numbers that are in it already: they are told to the last bit.
    #[must_use]
    pub const fn as_told(&self) -> Self {
        Self { factor: 1.0, divisor: 1.0, zero: 0.0, ..*self }
    }

    /// The unit of an amount in this currency, as it is told beside a number.
    #[must_use]
    pub const fn of_money(code: &'static str) -> Self {
        Self::new(code, &[], Dimension::Fraction, 1.0, 1.0)
    }

    /// A value in this unit as SI base units.
    #[must_use]
    pub const fn to_si(&self, value: f64) -> f64 {
        (value + self.zero) * self.factor / self.divisor
    }

    /// SI base units as a value in this unit.
    #[must_use]
    pub const fn from_si(&self, si: f64) -> f64 {
        si * self.divisor / self.factor - self.zero
    }

    /// A difference (half-width, step) in this unit as SI base units: no shift of the zero.
    #[must_use]
    pub const fn span_to_si(&self, span: f64) -> f64 {
        span * self.factor / self.divisor
    }

    /// A difference in SI base units in this unit: no shift of the zero.
    #[must_use]
    pub const fn span_from_si(&self, span: f64) -> f64 {
        span * self.divisor / self.factor
    }
}

/// A unit of one kind of quantity, told by its type: what it makes is that kind and no other.
///
/// ```
/// use floodbar::quantity::{Area, units::CM2};
/// let print: Area = CM2.of(460.0);
/// assert!((CM2.value(print) - 460.0).abs() < 1e-9);
/// ```
/// ```compile_fail
/// use floodbar::quantity::{Time, units::UM};
/// let film: Time = UM.of(27.0);
/// ```
#[derive(Clone, Copy)]
pub struct UnitOf<Q> {
    unit: Unit,
    quantity: PhantomData<fn() -> Q>,
}

impl<Q> UnitOf<Q> {
    /// The row of the table.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }
}

impl<Q: Dimensioned> UnitOf<Q> {
    const fn new(unit: Unit) -> Self {
        Self { unit, quantity: PhantomData }
    }

    /// A quantity of `value` in this unit.
    #[must_use]
    pub fn of(&self, value: f64) -> Q {
        Q::from_si(self.unit.to_si(value))
    }

    /// The value of a quantity in this unit.
    #[must_use]
    pub fn value(&self, quantity: Q) -> f64 {
        self.unit.from_si(quantity.si())
    }
}

impl<Q> fmt::Debug for UnitOf<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.unit.fmt(f)
    }
}

impl<Q> Deref for UnitOf<Q> {
    type Target = Unit;
    fn deref(&self) -> &Unit {
        &self.unit
    }
}

const INCH: f64 = 0.0254;
const POUND: f64 = 0.453_592_37;
const POUND_FORCE: f64 = 4.448_221_615_260_5;
const GALLON: f64 = 0.003_785_411_784;

macro_rules! unit_table {
    ($($id:ident: $dimension:ident $name:literal [$($spelling:literal),*] $factor:expr, $divisor:expr $(, zero $zero:expr)?;)*) => {
        /// The rows of the table by name, whatever they measure.
        pub(super) mod rows {
            use super::*;
            $(pub(in super::super) const $id: Unit = Unit {
                $(zero: $zero,)?
                ..Unit::new($name, &[$($spelling),*], Dimension::$dimension, $factor, $divisor)
            };)*
        }
        #[allow(missing_docs)] // each is a row of the table; its name says it
        pub mod units {
            use super::{UnitOf, rows};
            $(pub const $id: UnitOf<super::super::$dimension> = UnitOf::new(rows::$id);)*
        }
        /// Every unit of the wire.
        pub static UNITS: &[Unit] = &[$(rows::$id),*];
    };
}

#[rustfmt::skip]
unit_table! {
    // id: dimension "name" [other spellings] numerator, divisor
    UM: Length "um" ["micron", "micrometer", "micrometre"] 1.0, 1e6;
    MM: Length "mm" [] 1.0, 1e3;
    CM: Length "cm" [] 1.0, 1e2;
    M: Length "m" [] 1.0, 1.0;
    IN: Length "in" ["\"", "[in_i]", "inch", "inches"] INCH, 1.0;
    FT: Length "ft" ["'", "[ft_i]", "foot", "feet"] 0.3048, 1.0;
    YD: Length "yd" ["[yd_i]"] 0.9144, 1.0;
    MIL: Length "mil" ["thou", "[mil_i]"] INCH, 1e3;
    CM3_PER_M2: Length "cm3/m2" ["ml/m2", "mL/m2"] 1.0, 1e6;
    M2: Area "m2" [] 1.0, 1.0;
    CM2: Area "cm2" [] 1.0, 1e4;
    MM2: Area "mm2" [] 1.0, 1e6;
    IN2: Area "in2" ["[in_i]2", "[sin_i]"] 0.000_645_16, 1.0;
    FT2: Area "ft2" ["[ft_i]2", "[sft_i]"] 0.092_903_04, 1.0;
    M3: Volume "m3" [] 1.0, 1.0;
    CM3: Volume "cm3" [] 1.0, 1e6;
    ML: Volume "ml" ["mL"] 1.0, 1e6;
    L: Volume "l" ["L"] 1.0, 1e3;
    GAL: Volume "gal" ["[gal_us]"] GALLON, 1.0;
    FLOZ: Volume "floz" ["fl oz", "[foz_us]"] GALLON, 128.0;
    G: Mass "g" [] 1.0, 1e3;
    MG: Mass "mg" [] 1.0, 1e6;
    KG: Mass "kg" [] 1.0, 1.0;
    OZ: Mass "oz" ["[oz_av]"] POUND, 16.0;
    LB: Mass "lb" ["lbs", "[lb_av]"] POUND, 1.0;
    S: Time "s" ["sec"] 1.0, 1.0;
    MS: Time "ms" [] 1.0, 1e3;
    US: Time "us" [] 1.0, 1e6;
    MIN: Time "min" [] 60.0, 1.0;
    H: Time "h" ["hr"] 3600.0, 1.0;
    D: Time "d" ["day", "days"] 86400.0, 1.0;
    M_PER_MIN: Velocity "m/min" [] 1.0, 60.0;
    M_PER_S: Velocity "m/s" [] 1.0, 1.0;
    CM_PER_S: Velocity "cm/s" [] 1.0, 1e2;
    MM_PER_S: Velocity "mm/s" [] 1.0, 1e3;
    FT_PER_MIN: Velocity "ft/min" ["fpm", "[ft_i]/min"] 0.3048, 60.0;
    IN_PER_S: Velocity "in/s" ["[in_i]/s"] INCH, 1.0;
    PER_S: Frequency "/s" ["1/s", "Hz"] 1.0, 1.0;
    PER_MIN: Frequency "/min" ["1/min"] 1.0, 60.0;
    PER_H: Frequency "/h" ["1/h"] 1.0, 3600.0;
    PER_CM: Count "/cm" ["1/cm", "T/cm"] 100.0, 1.0;
    PER_MM: Count "/mm" ["1/mm"] 1000.0, 1.0;
    PER_IN: Count "/in" ["1/in", "tpi", "lpi", "dpi", "ppi", "/[in_i]", "1/[in_i]"] 1.0, INCH;
    PER_M: Count "/m" ["1/m"] 1.0, 1.0;
    N: Force "N" [] 1.0, 1.0;
    LBF: Force "lbf" ["[lbf_av]"] POUND_FORCE, 1.0;
    N_PER_CM: Tension "N/cm" [] 100.0, 1.0;
    N_PER_M: Tension "N/m" [] 1.0, 1.0;
    LBF_PER_IN: Tension "lbf/in" ["[lbf_av]/[in_i]"] POUND_FORCE, INCH;
    G_PER_M2: MassPerArea "g/m2" ["gsm"] 1.0, 1e3;
    KG_PER_M2: MassPerArea "kg/m2" [] 1.0, 1.0;
    OZ_PER_YD2: MassPerArea "oz/yd2" ["[oz_av]/[yd_i]2", "[oz_av]/[syd_i]"] POUND, 16.0 * 0.836_127_36;
    G_PER_M2_H: MassFlux "g/(m2.h)" ["g/m2/h", "g/m2.h", "g/m2h", "g/(m2 h)", "g/(m2h)", "g.m-2.h-1"] 1.0, 3_600_000.0;
    KG_PER_M2_H: MassFlux "kg/(m2.h)" ["kg/m2/h", "kg/m2.h", "kg/m2h", "kg/(m2 h)", "kg/(m2h)", "kg.m-2.h-1"] 1.0, 3_600.0;
    KG_PER_M2_S: MassFlux "kg/(m2.s)" ["kg/m2/s", "kg/m2.s", "kg/m2s", "kg/(m2 s)", "kg/(m2s)", "kg.m-2.s-1"] 1.0, 1.0;
    OZ_PER_FT2_H: MassFlux "oz/(ft2.h)" ["oz/ft2/h", "oz/ft2.h", "[oz_av]/[ft_i]2/h", "[oz_av]/[sft_i]/h"] POUND, 16.0 * 3_600.0 * 0.092_903_04;
    LB_PER_FT2_H: MassFlux "lb/(ft2.h)" ["lb/ft2/h", "lb/ft2.h", "[lb_av]/[ft_i]2/h", "[lb_av]/[sft_i]/h"] POUND, 3_600.0 * 0.092_903_04;
    G_PER_MIN: MassRate "g/min" [] 1.0, 60_000.0;
    G_PER_H: MassRate "g/h" [] 1.0, 3_600_000.0;
    KG_PER_H: MassRate "kg/h" [] 1.0, 3_600.0;
    KG_PER_S: MassRate "kg/s" [] 1.0, 1.0;
    OZ_PER_MIN: MassRate "oz/min" ["[oz_av]/min"] POUND, 960.0;
    LB_PER_H: MassRate "lb/h" ["[lb_av]/h"] POUND, 3_600.0;
    M2_PER_KG: AreaPerMass "m2/kg" [] 1.0, 1.0;
    FT2_PER_LB: AreaPerMass "ft2/lb" ["[ft_i]2/[lb_av]", "[sft_i]/[lb_av]"] 0.092_903_04, POUND;
    PER_KG: PerMass "/kg" ["1/kg"] 1.0, 1.0;
    PER_LB: PerMass "/lb" ["1/lb", "/[lb_av]", "1/[lb_av]"] 1.0, POUND;
    MJ_PER_CM2: RadiantExposure "mJ/cm2" [] 10.0, 1.0;
    J_PER_M2: RadiantExposure "J/m2" [] 1.0, 1.0;
    KJ_PER_M2: RadiantExposure "kJ/m2" [] 1e3, 1.0;
    MW_PER_CM2: Irradiance "mW/cm2" [] 10.0, 1.0;
    W_PER_CM2: Irradiance "W/cm2" [] 1e4, 1.0;
    W_PER_M2: Irradiance "W/m2" [] 1.0, 1.0;
    KW_PER_M2: Irradiance "kW/m2" [] 1e3, 1.0;
    W_PER_IN2: Irradiance "W/in2" ["W/[in_i]2", "W/[sin_i]"] 1.0, 0.000_645_16;
    J: Energy "J" [] 1.0, 1.0;
    KJ: Energy "kJ" [] 1e3, 1.0;
    MJ: Energy "MJ" [] 1e6, 1.0;
    WH: Energy "Wh" ["W.h"] 3600.0, 1.0;
    KWH: Energy "kWh" ["kW.h"] 3.6e6, 1.0;
    W: Power "W" [] 1.0, 1.0;
    KW: Power "kW" [] 1e3, 1.0;
    W_PER_M2_K: HeatTransfer "W/(m2.K)" ["W/m2/K", "W/m2.K", "W/m2K", "W/(m2 K)", "W.m-2.K-1"] 1.0, 1.0;
    W_PER_M_K: ThermalConductivity "W/(m.K)" ["W/m/K", "W/m.K", "W/mK", "W/(m K)", "W.m-1.K-1"] 1.0, 1.0;
    J_PER_KG_K: SpecificHeat "J/(kg.K)" ["J/kg/K", "J/kg.K", "J/kgK", "J/(kg K)", "J.kg-1.K-1"] 1.0, 1.0;
    KJ_PER_KG_K: SpecificHeat "kJ/(kg.K)" ["kJ/kg/K", "kJ/(kg K)"] 1e3, 1.0;
    KJ_PER_MOL: MolarEnergy "kJ/mol" [] 1e3, 1.0;
    J_PER_MOL: MolarEnergy "J/mol" [] 1.0, 1.0;
    G_PER_CM3: Density "g/cm3" ["g/ml", "g/mL"] 1e3, 1.0;
    KG_PER_M3: Density "kg/m3" [] 1.0, 1.0;
    KG_PER_L: Density "kg/l" ["kg/L"] 1e3, 1.0;
    LB_PER_GAL: Density "lb/gal" ["[lb_av]/[gal_us]"] POUND, GALLON;
    DEG_C: Temperature "degC" ["C", "Cel", "°C"] 1.0, 1.0, zero 273.15;
    DEG_F: Temperature "degF" ["F", "[degF]", "°F"] 5.0, 9.0, zero 459.67;
    KELVIN: Temperature "K" [] 1.0, 1.0;
    KELVIN_STEP: TemperatureDifference "K" ["delta_degC"] 1.0, 1.0;
    DEG_F_STEP: TemperatureDifference "delta_degF" [] 5.0, 9.0;
    DEG: Angle "deg" ["°"] core::f64::consts::PI, 180.0;
    RAD: Angle "rad" [] 1.0, 1.0;
    ONE: Fraction "1" [""] 1.0, 1.0;
    PERCENT: Fraction "%" [] 1.0, 100.0;
}

static BY_SPELLING: LazyLock<Vec<(&'static str, &'static Unit)>> = LazyLock::new(|| {
    let mut index: Vec<_> = UNITS
        .iter()
        .flat_map(|unit| core::iter::once(unit.name).chain(unit.spellings.iter().copied()).map(move |s| (s, unit)))
        .collect();
    sorted::by_text(&mut index, |(spelling, _)| spelling);
    index
});

/// Every unit written `text`: none, one, or (for `K`) one of each dimension that uses the spelling.
pub fn find(text: &str) -> impl Iterator<Item = &'static Unit> {
    let start = BY_SPELLING.partition_point(|(spelling, _)| *spelling < text);
    BY_SPELLING.iter().skip(start).take_while(move |(spelling, _)| *spelling == text).map(|(_, unit)| *unit)
}

/// Folds what keyboards and word processors write into the table's spelling: the three micro signs, superscript
/// digits, the middle dot, and the single characters for degrees Celsius and Fahrenheit.
pub fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\u{b5}' | '\u{3bc}' => out.push('u'),
            '\u{b2}' => out.push('2'),
            '\u{b3}' => out.push('3'),
            '\u{b7}' | '\u{22c5}' => out.push('.'),
            '\u{2103}' => out.push_str("degC"),
            '\u{2109}' => out.push_str("degF"),
            '\u{2033}' | '\u{201d}' => out.push('"'),
            '\u{2032}' | '\u{2019}' => out.push('\''),
            c => out.push(c),
        }
    }
    out
}

/// A regular expression of the ways in which a unit of that dimension is written, for schemas: [`fold`] read backwards.
#[cfg(feature = "schema")]
#[must_use]
pub fn unit_pattern(dimension: Dimension) -> String {
    let spelled = |unit: &'static Unit| core::iter::once(unit.name).chain(unit.spellings.iter().copied());
    let written = |spelling: &str| -> String {
        let folded = fold(spelling);
        let characters = folded.chars().map(|c| match c {
            'u' => "[u\u{b5}\u{3bc}]".to_owned(),
            '2' => "[2\u{b2}]".to_owned(),
            '3' => "[3\u{b3}]".to_owned(),
            '.' => "[.\u{b7}\u{22c5}]".to_owned(),
            '"' => "[\"\u{2033}\u{201d}]".to_owned(),
            '\'' => "['\u{2032}\u{2019}]".to_owned(),
            c if "^$*+?()[]{}|/\\".contains(c) => format!("\\{c}"),
            c => c.to_string(),
        });
        characters.collect::<String>().replace("degC", "(?:degC|\u{2103})").replace("degF", "(?:degF|\u{2109})")
    };
    let units = UNITS.iter().filter(|unit| unit.dimension == dimension).flat_map(spelled);
    units.map(written).collect::<Vec<_>>().join("|")
}
