//! Water: how fast it leaves a wet film, what that takes, and what bound water in cloth takes.

use super::Face;
use super::halves::Halves;
use crate::air;

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

/// Mass of water that leaves a wet face, kg/(m2.s), at the face's temperature in K, and how it rises with that.
pub(super) fn evaporating(face: &Face, temperature: f64) -> (f64, f64) {
    air::evaporating(face.transfer, face.air, air::vapour_pressure(face.humidity_ratio), 1.0, temperature)
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
