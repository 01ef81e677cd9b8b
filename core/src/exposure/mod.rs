//! Exposure: how long the stencil needs the light, and what the light takes from the art.
//!
//! - [`SERIES`]: times in even ratios, for a step test with a mask.
//! - [`STEP_SCALE`]: a transmission scale passes `10^-density`, so `time' = time x 10^(density_per_step (wanted - solid))`.
//! - [`RESCALE`]: another distance, lamp, mesh or coating: inverse square, Schwarzschild's `t ~ I^(-1/p)`, `exp((b - a) / Dp)`.
//! - [`CURVE`]: the working curve `depth = Dp ln(E / Ec)` from a series (Jacobs 1992), and what a screen that got its exposure is worth.
//! - [`UNDERCUT`]: `film gap x tan(half angle)` is lost on each side of a line.

mod curve;
mod given;
mod rescale;
mod series;
mod step;
mod undercut;

pub use curve::{CURVE, Curve, CurvePoint, CurveRequest};
pub(crate) use given::BY_STEP;
pub use given::{ExposureVerdict, LEAST_HARD, StepAdvice, hardened_depth, has_lost, judge, judge_step, post_exposure};
pub use rescale::{
    DistanceChange, ExposureFactor, FactorChange, IrradianceChange, RESCALE, Rescale, RescaleRequest, StencilChange,
    distance_factor, irradiance_factor, stencil_factor,
};
pub use series::{SERIES, Series, SeriesRequest};
pub(crate) use step::{DENSITY_STEP, STEP, WANTED};
pub use step::{STEP_SCALE, Step, StepRequest, step_factor};
pub use undercut::{UNDERCUT, Undercut, UndercutRequest};

use crate::error::{Code, Error};
use crate::quantity::{Dimensioned, Rules, Time, units};
use crate::wire::Remarks;

/// Exposure times: flash lamps to weak bulbs.
pub(crate) const TIME: Rules = Rules::range(units::S, 0.01, 86_400.0).usual(1.0, 5_400.0);
/// How deep light reaches into a stencil before it falls by a factor e.
pub(crate) const DEPTH: Rules = Rules::range(units::UM, 0.1, 10_000.0).usual(10.0, 500.0);
/// Thickness of a coated screen or of its stencil.
pub(crate) const STENCIL: Rules = Rules::range(units::UM, 0.1, 20_000.0).usual(5.0, 1_000.0);
/// Light at the stencil.
pub(crate) const LIGHT: Rules = Rules::range(units::MW_PER_CM2, 1e-6, 1e5).usual(0.01, 500.0);
/// Exposure factor of a mesh against white mesh.
pub(crate) const MESH_FACTOR: Rules = Rules::range(units::ONE, 0.1, 20.0).usual(0.9, 4.0);

/// A time that someone can expose for.
///
/// # Errors
/// `out_of_range` beyond 0.01 s to a day.
pub(crate) fn exposable(time: Time) -> Result<Time, Error> {
    if TIME.range.holds(time.si()) {
        return Ok(time);
    }
    Err(Error::new(Code::OutOfRange, "", "this leads beyond any exposure: check the steps and factors, and test anew")
        .allowed([TIME.range_text()]))
}

/// When more light after washing out helps, and when it cannot.
fn about_post_exposure(remarks: &mut Remarks) {
    remarks.info(
        "post_exposure",
        "",
        "exposing again after washing out hardens a stencil whose squeegee side stayed a little soft, and helps it through water-based ink and long runs; it cannot bring back detail that was washed away, nor save a stencil that is soft right through (from memory)",
    );
}
