//! What a screen that got its exposure is worth: hard through, to be exposed again from the other side, or made anew.

use super::step_factor;
use crate::quantity::{Length, RadiantExposure, Rules, reaches, units};
use crate::source::Source;
use crate::wire::words;
use core::f64::consts::LOG10_2;

words! {
    /// What to do with a screen that was exposed and washed out.
    pub enum ExposureVerdict ("verdict") {
        /// It is hard through: more light adds nothing.
        Through = "through",
        /// Expose it again from the squeegee side: that hardens what stayed soft.
        PostExpose = "post_expose",
        /// Strip it, coat it and expose it anew, for longer.
        ExposeAgain = "expose_again",
    }
}

/// Less than this share hard, and the wash-out takes the rest with it; from memory.
pub const LEAST_HARD: f64 = 0.5;
/// A gauge errs by so much, as a share of the thickness: less than this is no loss; from memory.
const GAUGE: f64 = 0.02;
/// Density short of the wanted step up to which a stencil that lost nothing is worth a second exposure: one stop; from memory.
const DENSITY_SHORT: f64 = LOG10_2;
/// Densities closer than this are one and the same: steps are sums and logarithms, too.
const SAME_DENSITY: f64 = 1e-9;
/// Where what is said by the share that is hard comes from.
pub(super) const BY_SHARE: Source =
    Source::memory("less than half hard: the wash-out takes the rest; a gauge errs by 2 % of the thickness");
/// Where what is said by a step scale comes from.
pub(crate) const BY_STEP: Source = Source::memory("up to one stop short is worth a second exposure");
/// What may be measured after washing out: nothing left, too.
pub(super) const LEFT: Rules = Rules::range(units::UM, 0.0, 20_000.0).usual(5.0, 1_000.0);

/// How deep an exposure hardens: `Dp ln(E / Ec)`, nothing below Ec and no deeper than the stencil.
#[must_use]
pub fn hardened_depth(
    penetration_depth: Length,
    critical: RadiantExposure,
    exposure: RadiantExposure,
    stencil: Length,
) -> Length {
    let ratio: f64 = (exposure / critical).into();
    let depth = penetration_depth * if ratio > 1.0 { libm::log(ratio) } else { 0.0 };
    if depth < stencil { depth } else { stencil }
}

/// The exposure from the squeegee side that hardens what the first left soft: `Ec exp((stencil - depth) / Dp)`.
#[must_use]
pub fn post_exposure(
    penetration_depth: Length,
    critical: RadiantExposure,
    hardened: Length,
    stencil: Length,
) -> RadiantExposure {
    let depths: f64 = ((stencil - hardened) / penetration_depth).into();
    critical * libm::exp(depths)
}

/// Whether a gauge shows more than there was before the wash-out, which says nothing of a loss.
pub(super) fn has_grown(stencil: Length, left: Length) -> bool {
    left > (1.0 + GAUGE) * stencil
}

/// Whether a gauge shows that the wash-out took some of the stencil.
#[must_use]
pub fn has_lost(stencil: Length, left: Length) -> bool {
    left < (1.0 - GAUGE) * stencil
}

/// What a screen is worth by the share of its stencil that its exposure hardened, and by whether the wash-out took any of it, as far as a
/// gauge tells: what stayed soft and was not lost is there to be hardened, however much it is.
#[must_use]
pub fn judge(hardened_fraction: f64, lost: Option<bool>) -> ExposureVerdict {
    match lost {
        Some(true) => ExposureVerdict::ExposeAgain,
        _ if reaches(hardened_fraction, 1.0) => ExposureVerdict::Through,
        Some(false) if hardened_fraction > 0.0 => ExposureVerdict::PostExpose,
        _ if hardened_fraction < LEAST_HARD => ExposureVerdict::ExposeAgain,
        _ => ExposureVerdict::PostExpose,
    }
}

/// What a step scale on a screen says of it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct StepAdvice {
    /// What to do with the screen that carried the scale.
    pub verdict: ExposureVerdict,
    /// How much longer the next one must be exposed.
    pub factor: f64,
    /// The same for a person.
    pub message: &'static str,
}

/// What can be said of a screen by the last solid step of a step scale, for ink with water or without.
///
/// A scale compares light with light: a step below the wanted one means too little, by `10^(density (wanted - solid))`. It knows
/// no depth, so a second exposure through the squeegee side is advised for up to one stop short (from memory), and only as long as
/// the wash-out took nothing; its light is that of the corrected time. Water attacks what is soft, so that under water-based and
/// discharge ink no short stencil goes unhardened.
#[must_use]
pub fn judge_step(density_per_step: f64, wanted: f64, solid: f64, water_based: bool) -> StepAdvice {
    let factor = step_factor(density_per_step, wanted, solid);
    let short = density_per_step * (wanted - solid);
    let (verdict, message) = if short <= SAME_DENSITY {
        let message = if water_based {
            "held to the wanted step: as hard as the scale can tell, and exposing again adds nothing; whether it lasts under water-based ink is a matter of the emulsion and its hardener"
        } else {
            "held to the wanted step: as hard as the scale can tell, and exposing again adds nothing"
        };
        (ExposureVerdict::Through, message)
    } else if short <= DENSITY_SHORT + SAME_DENSITY {
        let message = if water_based {
            "short of the wanted step: water takes what is soft, so expose this screen again from the squeegee side for the corrected time before it prints, if the wash-out took nothing; the next one for the corrected time at once"
        } else {
            "short of the wanted step: expose this screen again from the squeegee side if the wash-out took nothing and the run is long; the next one for the corrected time at once"
        };
        (ExposureVerdict::PostExpose, message)
    } else {
        let message = "more than a stop short: it was soft when it was washed out, and no second exposure brings back what went; strip it and expose anew for the corrected time";
        (ExposureVerdict::ExposeAgain, message)
    };
    StepAdvice { verdict, factor, message }
}

#[cfg(test)]
mod tests {
    use super::super::{CURVE, CurvePoint, CurveRequest};
    use super::*;
    use proptest::prelude::*;

    fn request(dp: f64, ec: f64, stencil: f64, given: f64) -> CurveRequest {
        let point = |times: f64| {
            CurvePoint::new().exposure(units::MJ_PER_CM2.of(ec * times)).depth(units::UM.of(dp * libm::log(times)))
        };
        CurveRequest::new()
            .points(vec![point(1.3), point(2.0), point(4.0)])
            .stencil_thickness(units::UM.of(stencil))
            .given(units::MJ_PER_CM2.of(given))
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

        /// Both depths make up the stencil exactly, and more light never hardens less.
        #[test]
        fn the_second_exposure_closes_the_gap(
            dp in 20.0_f64..300.0, ec in 2.0_f64..300.0, depths in 0.2_f64..4.0, given in 0.3_f64..80.0, more in 1.0_f64..10.0,
        ) {
            let stencil = dp * depths;
            let answer = |given: f64| CURVE.answer(&request(dp, ec, stencil, given)).unwrap();
            let (first, then) = (answer(ec * given), answer(ec * given * more));
            let depth = first.hardened_depth.unwrap();
            prop_assert!(then.hardened_depth.unwrap() >= depth * (1.0 - 1e-12));
            prop_assert!(depth <= units::UM.of(stencil));
            let fraction = first.hardened_fraction.unwrap();
            match first.verdict.unwrap() {
                ExposureVerdict::PostExpose => {
                    let second = first.post_exposure.unwrap();
                    let of = |light: RadiantExposure| {
                        let ratio: f64 = (light / first.critical_exposure).into();
                        units::UM.value(first.penetration_depth) * libm::log(ratio)
                    };
                    approx::assert_relative_eq!(
                        of(units::MJ_PER_CM2.of(ec * given)) + of(second), stencil, epsilon = 0.0, max_relative = 1e-10
                    );
                    prop_assert!((LEAST_HARD..1.0).contains(&fraction));
                }
                other => {
                    prop_assert!(first.post_exposure.is_none());
                    let wanted = if fraction < LEAST_HARD { ExposureVerdict::ExposeAgain } else { ExposureVerdict::Through };
                    prop_assert_eq!(other, wanted);
                }
            }
            // The exposure that the curve asks for is enough, to the last bit.
            let exact = units::MJ_PER_CM2.value(first.exposure);
            prop_assert_eq!(answer(exact).verdict, Some(ExposureVerdict::Through));
            // Where a gauge shows no loss, the second exposure completes whatever the first began.
            let kept = CURVE.answer(&request(dp, ec, stencil, ec * given).stencil_left(units::UM.of(stencil))).unwrap();
            prop_assert_eq!(kept.verdict == Some(ExposureVerdict::ExposeAgain), fraction <= 0.0);
            // What was lost stays lost, at any exposure.
            let lost = CURVE.answer(&request(dp, ec, stencil, ec * given).stencil_left(units::UM.of(0.9 * stencil))).unwrap();
            prop_assert_eq!(lost.verdict, Some(ExposureVerdict::ExposeAgain));
            prop_assert!(lost.post_exposure.is_none());
        }
    }

    /// Arithmetic on the step of 0.15: one step is 10^0.15 = 1.412538, which a 21-step tablet prints.
    #[test]
    fn a_step_scale_compares_light_alone() {
        for (density, solid, verdict) in [
            (0.15, 8.0, ExposureVerdict::Through),
            (0.15, 7.0, ExposureVerdict::Through),
            (0.15, 6.0, ExposureVerdict::PostExpose),
            (0.15, 5.0, ExposureVerdict::PostExpose),
            (0.15, 4.5, ExposureVerdict::ExposeAgain),
            // One stop is a density of 0.30103: one step of 0.30, six of 0.05.
            (0.30, 6.0, ExposureVerdict::PostExpose),
            (0.30, 5.0, ExposureVerdict::ExposeAgain),
            (0.05, 1.0, ExposureVerdict::PostExpose),
            (0.05, 0.5, ExposureVerdict::ExposeAgain),
            (LOG10_2, 6.0, ExposureVerdict::PostExpose),
        ] {
            for water in [false, true] {
                assert_eq!(judge_step(density, 7.0, solid, water).verdict, verdict, "{solid} of {density}");
            }
        }
        let one = judge_step(0.15, 7.0, 6.0, true).factor;
        approx::assert_relative_eq!(one, 1.412_538, epsilon = 0.0, max_relative = 1e-6);
    }
}
