//! Moist air: what it holds, how heat and vapour cross the film of air over a face.
//!
//! Bare SI numbers: kelvin, pascal, W/(m2.K), kg/(m2.s). The heat solver dries films with it, and ink in a screen dries by it.

use crate::quantity::GAS_CONSTANT;

/// Molar masses of water and of dry air, kg/mol.
pub const WATER: f64 = 0.018_015_268;
const AIR: f64 = 0.028_965_46;
/// Pressure of the room, Pa.
pub const PRESSURE: f64 = 101_325.0;
/// Specific heat of dry air, J/(kg.K), 250-400 K (Incropera, table A.4, from memory).
const AIR_SPECIFIC_HEAT: f64 = 1007.0;
/// Stefan-Boltzmann constant, W/(m2.K4): exact from the 2019 SI (CODATA 2018).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Standard acceleration of gravity, m/s2.
const GRAVITY: f64 = 9.806_65;

const CRITICAL_TEMPERATURE: f64 = 647.096;
const CRITICAL_PRESSURE: f64 = 22.064e6;
const CRITICAL_DENSITY: f64 = 322.0;

/// 1 - T / Tc, within the range in which the saturation equations are used.
fn distance(temperature: f64) -> f64 {
    1.0 - temperature.clamp(200.0, 640.0) / CRITICAL_TEMPERATURE
}

/// Saturation pressure of water, Pa, at a temperature in K.
///
/// `ln(p / pc) = (Tc / T) (a1 v + a2 v^1.5 + a3 v^3 + a4 v^3.5 + a5 v^4 + a6 v^7.5)`, v = 1 - T / Tc: IAPWS SR1-86 (1992),
/// Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783. From 273.16 K to the critical point; continued below for
/// supercooled water, held constant outside 200-640 K.
#[must_use]
pub fn saturation_pressure(temperature: f64) -> f64 {
    saturation(temperature).0
}

/// Saturation pressure, Pa, and its slope, Pa/K: `-(p / T) (ln(p / pc) + d(bracket)/dv)`.
pub fn saturation(temperature: f64) -> (f64, f64) {
    let v = distance(temperature);
    let root = v.sqrt();
    let (v2, v3) = (v * v, v * v * v);
    let bracket = -7.859_517_83 * v + 1.844_082_59 * v * root - 11.786_649_7 * v3 + 22.680_741_1 * v3 * root
        - 15.961_871_9 * v3 * v
        + 1.801_225_02 * v3 * v3 * v * root;
    let rise = -7.859_517_83 + 1.5 * 1.844_082_59 * root - 3.0 * 11.786_649_7 * v2 + 3.5 * 22.680_741_1 * v2 * root
        - 4.0 * 15.961_871_9 * v2 * v
        + 7.5 * 1.801_225_02 * v2 * v2 * v2 * root;
    let exponent = bracket / (1.0 - v);
    let pressure = CRITICAL_PRESSURE * libm::exp(exponent);
    (pressure, -pressure / ((1.0 - v) * CRITICAL_TEMPERATURE) * (exponent + rise))
}

/// Latent heat of evaporation, J/kg, at a temperature in K.
///
/// Clapeyron: `T (1 / rho'' - 1 / rho') dp/dT`, with the saturated densities of IAPWS SR1-86 (1992).
#[must_use]
pub fn latent_heat(temperature: f64) -> f64 {
    let v = distance(temperature);
    let t = (1.0 - v) * CRITICAL_TEMPERATURE;
    // Powers of v by sixths.
    let third = libm::cbrt(v);
    let sixth = third.sqrt();
    let (v2, v3) = (v * v, v * v * v);
    let v6 = v3 * v3;
    let v12 = v6 * v6;
    let liquid = 1.0 + 1.992_740_64 * third + 1.099_653_42 * third * third
        - 0.510_839_303 * v * third * third
        - 1.754_934_79 * v3 * v2 * third
        - 45.517_035_2 * v12 * v2 * third
        - 6.746_944_5e5 * v12 * v12 * v12 * third * third;
    let vapour = -2.031_502_40 * third
        - 2.683_029_40 * third * third
        - 5.386_264_92 * v * third
        - 17.299_160_5 * v3
        - 44.758_658_1 * v6 * sixth
        - 63.920_106_3 * v6 * v3 * v2 * third * third * sixth;
    let density = CRITICAL_DENSITY * libm::exp(vapour);
    t * (1.0 / density - 1.0 / (CRITICAL_DENSITY * liquid)) * saturation(t).1
}

/// Partial pressure of the vapour in air of a humidity ratio, Pa.
#[must_use]
pub fn vapour_pressure(humidity_ratio: f64) -> f64 {
    humidity_ratio * PRESSURE / (WATER / AIR + humidity_ratio)
}

/// Conductivity of air, W/(m.K), at a temperature in K: U.S. Standard Atmosphere 1976, from memory.
#[must_use]
pub fn conductivity(temperature: f64) -> f64 {
    2.646_38e-3 * temperature * temperature.sqrt()
        / (temperature + 245.4 * libm::exp(-12.0 * core::f64::consts::LN_10 / temperature))
}

/// Density of dry air, kg/m3, at a temperature in K.
fn density(temperature: f64) -> f64 {
    PRESSURE * AIR / (GAS_CONSTANT * temperature)
}

/// Kinematic viscosity of air, m2/s, at a temperature in K: U.S. Standard Atmosphere 1976 (Sutherland), from memory.
fn viscosity(temperature: f64) -> f64 {
    1.458e-6 * temperature * temperature.sqrt() / (temperature + 110.4) / density(temperature)
}

/// Mass of water that leaves a wet face, kg/(m2.s), at the face's temperature in K.
///
/// `h_m P M / (R T) ln((P - p_air) / (P - a p_surface))`: Stefan flow through the film of air, a the water activity of the face, with
/// `h_m = h / (rho cp) Le^(-2/3)` from the heat transfer (Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183), Lewis
/// number Le = (k / (rho cp)) / D. Air at the mean of both temperatures: conductivity as in the U.S. Standard Atmosphere
/// 1976, diffusion of vapour `1.87e-10 T^2.072 / atm` (Marrero and Mason, J. Phys. Chem. Ref. Data 1 (1972) 3); both from
/// memory. Nearer to boiling than a thousandth of the pressure the logarithm goes on as its tangent, so that boiling is
/// steep but finite. Without convection (`transfer = 0`) nothing leaves.
///
/// `vapour` is the partial pressure in the air. With it comes how it rises with temperature, kg/(m2.s.K), at the transfer of this
/// temperature.
#[must_use]
pub fn evaporating(transfer: f64, air: f64, vapour: f64, activity: f64, temperature: f64) -> (f64, f64) {
    const NEAR: f64 = 1e-3;
    if transfer <= 0.0 {
        return (0.0, 0.0);
    }
    let mean = (0.5 * (air + temperature)).clamp(200.0, 2000.0);
    let conductivity = conductivity(mean);
    let heat_per_volume = density(mean) * AIR_SPECIFIC_HEAT;
    let diffusion = 1.87e-10 * libm::pow(mean, 2.072);
    let lewis = libm::cbrt(conductivity / heat_per_volume / diffusion);
    let transfer = transfer / heat_per_volume / (lewis * lewis);
    let (pressure, rise) = saturation(temperature);
    let (pressure, rise) = (activity * pressure, activity * rise);
    let left = 1.0 - pressure / PRESSURE;
    let driving = if left > NEAR { -libm::log(left) } else { -libm::log(NEAR) + (NEAR - left) / NEAR };
    let air = libm::log(1.0 - vapour / PRESSURE);
    let mass = transfer * PRESSURE * WATER / (GAS_CONSTANT * mean);
    (mass * (driving + air), mass * rise / PRESSURE / left.max(NEAR))
}

/// Where a flat plate's flow turns turbulent.
const TURNS: f64 = 5e5;

/// Mean heat transfer to a flat plate of a length, m, in air of a speed, m/s, W/(m2.K), at a film temperature in K.
///
/// `Nu = 0.664 Re^(1/2) Pr^(1/3)`; above Re = 5e5 `Nu = (0.037 Re^(4/5) - 871) Pr^(1/3)` (Incropera, chapter 7).
/// Measured to Re = 1e8; below Re of some hundreds the layer is no longer thin and it tells too little.
#[must_use]
pub fn along_a_plate(speed: f64, length: f64, film: f64) -> f64 {
    let (conductivity, viscosity) = (conductivity(film), viscosity(film));
    let reynolds = speed * length / viscosity;
    let number = if reynolds <= TURNS { 0.664 * reynolds.sqrt() } else { 0.037 * libm::pow(reynolds, 0.8) - 871.0 };
    let prandtl = viscosity * density(film) * AIR_SPECIFIC_HEAT / conductivity;
    number * libm::cbrt(prandtl) * conductivity / length
}

/// Heat transfer to a cooler plate that lies in still air, W/(m2.K): temperatures in K, its side in m.
///
/// `Nu = 0.27 Ra^(1/4)` over area by circumference, a quarter of the side of a square: a cooled plate facing up (Incropera, chapter 9).
/// Measured for Ra of 1e5 to 1e10; a side under a few centimetres lies below, where it tells too little.
#[must_use]
pub fn in_still_air(air: f64, face: f64, side: f64) -> f64 {
    let film = 0.5 * (air + face);
    let (conductivity, viscosity) = (conductivity(film), viscosity(film));
    let diffusivity = conductivity / (density(film) * AIR_SPECIFIC_HEAT);
    let length = 0.25 * side;
    let buoyancy = GRAVITY * (air - face).max(0.0) / film;
    let rayleigh = buoyancy * length * length * length / (viscosity * diffusivity);
    0.27 * rayleigh.sqrt().sqrt() * conductivity / length
}
