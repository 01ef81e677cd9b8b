//! Water: how fast it leaves a wet film, what that takes, and what bound water in cloth takes.

use super::Face;
use super::halves::Halves;
use crate::quantity::GAS_CONSTANT;

/// Molar masses of water and of dry air, kg/mol.
const WATER: f64 = 0.018_015_268;
const AIR: f64 = 0.028_965_46;
/// Pressure of the room, Pa.
pub const PRESSURE: f64 = 101_325.0;
/// Specific heat of dry air, J/(kg.K), 250-400 K (Incropera, table A.4, from memory).
const AIR_SPECIFIC_HEAT: f64 = 1007.0;
/// Specific heat of liquid water, J/(kg.K), 0-100 degC (Incropera, table A.6, from memory).
pub const WATER_SPECIFIC_HEAT: f64 = 4186.0;
/// Heat that bound water takes to leave the fibre, J/kg, from memory: latent heat and heat of sorption.
pub const BOUND_HEAT: f64 = 2.6e6;
/// Temperatures between which a cell gives up its bound water, K, from memory.
pub const BOUND_RANGE: (f64, f64) = (333.15, 393.15);
/// How far, as a share of the way, the corners of the release of bound water are rounded: a part of the model, from memory.
pub const CORNER: f64 = 0.01;
/// Over how much of the bound water the turn from releasing to keeping is rounded: a part of the model, from memory.
pub const TURN: f64 = 0.003;
/// Drying falls off over this last share of the water.
pub const LAST_SHARE: f64 = 0.01;

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
#[cfg(feature = "internals")]
#[must_use]
pub fn saturation_pressure(temperature: f64) -> f64 {
    saturation(temperature).0
}

/// Saturation pressure, Pa, and its slope, Pa/K: `-(p / T) (ln(p / pc) + d(bracket)/dv)`.
fn saturation(temperature: f64) -> (f64, f64) {
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

/// Mass of water that leaves a wet face, kg/(m2.s), at the face's temperature in K.
///
/// `h_m P M / (R T) ln((P - p_air) / (P - p_surface))`: Stefan flow through the film of air, with
/// `h_m = h / (rho cp) Le^(-2/3)` from the heat transfer (Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183), Lewis
/// number Le = (k / (rho cp)) / D. Air at the mean of both temperatures: conductivity as in the U.S. Standard Atmosphere
/// 1976, diffusion of vapour `1.87e-10 T^2.072 / atm` (Marrero and Mason, J. Phys. Chem. Ref. Data 1 (1972) 3); both from
/// memory. Nearer to boiling than a thousandth of the pressure the logarithm goes on as its tangent, so that boiling is
/// steep but finite. Without convection (`h = 0`) nothing leaves.
///
/// With it comes how it rises with temperature, kg/(m2.s.K), at the transfer of this temperature.
pub(super) fn evaporating(face: &Face, temperature: f64) -> (f64, f64) {
    const NEAR: f64 = 1e-3;
    if face.transfer <= 0.0 {
        return (0.0, 0.0);
    }
    let mean = (0.5 * (face.air + temperature)).clamp(200.0, 2000.0);
    let conductivity =
        2.646_38e-3 * mean * mean.sqrt() / (mean + 245.4 * libm::exp(-12.0 * core::f64::consts::LN_10 / mean));
    let heat_per_volume = PRESSURE * AIR / (GAS_CONSTANT * mean) * AIR_SPECIFIC_HEAT;
    let diffusion = 1.87e-10 * libm::pow(mean, 2.072);
    let lewis = libm::cbrt(conductivity / heat_per_volume / diffusion);
    let transfer = face.transfer / heat_per_volume / (lewis * lewis);
    let (pressure, rise) = saturation(temperature);
    let left = 1.0 - pressure / PRESSURE;
    let driving = if left > NEAR { -libm::log(left) } else { -libm::log(NEAR) + (NEAR - left) / NEAR };
    let air = libm::log(1.0 - vapour_pressure(face.humidity_ratio) / PRESSURE);
    let mass = transfer * PRESSURE * WATER / (GAS_CONSTANT * mean);
    (mass * (driving + air), mass * rise / PRESSURE / left.max(NEAR))
}

/// How far drying has fallen off, and its slope with the share `x` of the water that is left over [`LAST_SHARE`]:
/// 1 while there is plenty, then `x (2 - x)`, which ends smoothly.
#[must_use]
pub fn fall_off(x: f64) -> (f64, f64) {
    if x >= 1.0 { (1.0, 0.0) } else { (x * (2.0 - x), 2.0 - 2.0 * x) }
}

/// Share of the bound water that has left a cell, and its slope, by the cell's heat content: `x` is how far it is on the way from
/// the begin of [`BOUND_RANGE`] with all of it to the end with none. The share is x, with its two corners rounded to parabolas
/// within [`CORNER`] of 0 and of 1.
#[inline]
pub(super) fn released(x: Halves) -> (Halves, Halves) {
    // What a slope that rises from 0 to 1 within the first corner, and falls back within the second, has summed up to.
    let corner = |x: Halves| (x + Halves::both(CORNER)).clamp(0.0, 2.0 * CORNER);
    let (first, second) = (corner(x), corner(x - Halves::both(1.0)));
    let share = (first - second) * (first + second) * (0.25 / CORNER) + (x - Halves::both(CORNER)).clamp(0.0, 1.0);
    (share, (first - second) * (0.5 / CORNER))
}

/// Share of the bound water that is gone where `share` is what the heat content says and `most` what has left before, and how it
/// goes with `share`: water is not taken back, but the turn from releasing to keeping is rounded over [`TURN`] of it.
#[inline]
pub(super) fn gone(share: Halves, most: Halves) -> (Halves, Halves) {
    let below = (most - share).clamp(0.0, TURN);
    let turned = most - (below - below * below * (0.5 / TURN));
    (share.max(turned), Halves::both(1.0) - below * (1.0 / TURN))
}
