//! A transmission step scale: what its last solid step says of the exposure.

use super::{TIME, exposable};
use crate::error::Error;
use crate::quantity::{Rank, Rules, Time, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};

/// Steps of a transmission step scale.
pub(crate) const STEP: Rules = Rules::range(units::ONE, 1.0, 41.0).usual(1.0, 21.0);
pub(crate) const WANTED: Rules = STEP.or(7.0, Source::common("emulsion suppliers: step 7 must stay solid, at least"));
pub(crate) const DENSITY_STEP: Rules = Rules::range(units::ONE, 0.01, 1.0)
    .usual(0.05, 0.31)
    .or(0.15, Source::common("step scales of 21 steps: density 0.15 a step (a platemaking page)"));

request! {
    /// What a step scale showed after washing out.
    pub struct StepRequest {
        /// The exposure that was tried.
        time "Time tried": Time where TIME,
        /// The last step that stayed solid.
        solid_step "Last solid step": f64 where STEP,
        /// The step that should be the last solid one.
        wanted_step "Step wanted": f64 where WANTED,
        /// Optical density from step to step.
        density_per_step "Density per step": f64 where DENSITY_STEP.rank(Rank::Rare),
    }
}

answer! {
    /// The corrected exposure.
    pub struct Step {
        /// New time over old time.
        factor "Time factor": f64,
        /// The time to use.
        time "New time": Time,
    }
}

calculation! {
    pub const STEP_SCALE: StepRequest => Step = step;
    id: "exposure.step",
    title: "Exposure from a step scale",
    question: "What time does my step scale give?",
    asked: ["My scale holds at step 5: what time now?", "Do I expose longer or shorter?"],
    headline: ["time"],
    formula: "a step passes 10^-density of the light, so time' = time x 10^(density_per_step (wanted_step - solid_step))",
    sources: &[Source::standard("ISO 5-2: transmission density is -log10 of transmittance (from memory)")],
    example: r#"{"time": "95 s", "solid_step": 6}"#,
}

/// The time that moves the last solid step to the wanted one.
///
/// `time' = time x 10^(density_per_step (wanted_step - solid_step))`; times in any unit, steps and densities plain.
///
/// # Errors
/// `out_of_range` where the time would lie beyond 0.01 s to a day.
pub(crate) fn step(request: &StepRequest, remarks: &mut Remarks) -> Result<Step, Error> {
    let factor = step_factor(request.density_per_step, request.wanted_step, request.solid_step);
    if !(0.25..=4.0).contains(&factor) {
        remarks.caution(
            "far_from_wanted",
            "/solid_step",
            "more than two stops away: expose again at the new time and read the scale again before relying on it",
        );
    }
    remarks.info(
        "same_screen",
        "",
        "good for this lamp, distance, mesh and coating; a damp stencil reads wrong, so dry it through first. Keep the lamp's light off eyes and skin",
    );
    Ok(Step { factor, time: exposable(request.time * factor)? })
}

/// 10^(density (wanted - solid)): how much longer an exposure must be.
#[must_use]
pub fn step_factor(density_per_step: f64, wanted: f64, solid: f64) -> f64 {
    libm::exp10(density_per_step * (wanted - solid))
}
