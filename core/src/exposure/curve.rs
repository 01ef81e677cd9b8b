//! The working curve of an emulsion: how deep it hardens at which exposure.

use super::given::{BY_SHARE, ExposureVerdict, LEFT, hardened_depth, has_grown, has_lost, judge, post_exposure};
use super::{DEPTH, LIGHT, STENCIL};
use crate::chance::student;
use crate::error::{Code, Error};
use crate::quantity::{Irradiance, Length, RadiantExposure, Rules, Time, reaches, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};

const EXPOSURE: Rules = Rules::range(units::MJ_PER_CM2, 1e-4, 1e7).usual(1.0, 10_000.0);

request! {
    /// One strip of a test.
    pub struct CurvePoint {
        /// Exposure that the strip got.
        exposure "Exposure given": RadiantExposure where EXPOSURE,
        /// Thickness of the stencil that stayed, by gauge.
        depth "Stencil left": Length where DEPTH,
    }
}

request! {
    /// A series of exposures, each washed out and gauged.
    pub struct CurveRequest {
        /// The strips: at least two different exposures; three or more for the doubts.
        points "Test strips": Vec<CurvePoint>,
        /// The thickness that must be hardened through.
        stencil_thickness "Stencil thickness": Length where STENCIL,
        /// Light at the stencil; with it comes the time.
        irradiance "Light at stencil": Option<Irradiance> where LIGHT,
        /// The exposure that a screen of this coating got; with it comes what the screen is worth.
        given "Exposure it got": Option<RadiantExposure> where EXPOSURE.group("A screen exposed"),
        /// Its stencil after washing out and drying, by the gauge of stencil_thickness: thinner means that material was lost. Goes with
        /// given.
        stencil_left "Stencil after wash-out": Option<Length>
            where LEFT.group("A screen exposed").unless_given("nothing lost"),
    }
}

answer! {
    /// The working curve and what it asks for.
    pub struct Curve {
        /// Dp: the depth in which the light falls by a factor e.
        penetration_depth "Penetration depth": Length as Film,
        /// Standard error of the penetration depth, from three strips on.
        penetration_depth_error "Penetration depth error": Option<Length> as Film,
        /// Ec: the exposure at which hardening starts.
        critical_exposure "Critical exposure": RadiantExposure,
        /// Standard error of the critical exposure, from three strips on.
        critical_exposure_error "Critical exposure error": Option<RadiantExposure>,
        /// Share of the scatter in depth that the curve explains.
        r_squared "Scatter explained": f64,
        /// The exposure that hardens the stencil through.
        exposure "Exposure needed": RadiantExposure,
        /// Lower end of the 95 % interval of the exposure needed, from three strips on.
        exposure_low "Exposure at least": Option<RadiantExposure>,
        /// Upper end of the 95 % interval of the exposure needed, from three strips on.
        exposure_high "Exposure at most": Option<RadiantExposure>,
        /// Time that the exposure takes in this light.
        time "Exposure time": Option<Time>,
        /// Whether the series has strips on both sides of the stencil's thickness.
        brackets "Strips on both sides": bool,
        /// How deep the exposure it got hardened the stencil, from the print side.
        hardened_depth "Hardened depth": Option<Length> as Film,
        /// The same as a share of the stencil.
        hardened_fraction "Hardened share": Option<f64>,
        /// Exposure through the squeegee side that hardens the rest, where that helps.
        post_exposure "Post-exposure": Option<RadiantExposure>,
        /// Time that the post-exposure takes in this light.
        post_time "Post-exposure time": Option<Time>,
        /// What to do with the screen.
        verdict "Verdict": Option<ExposureVerdict>,
    }
}

calculation! {
    pub const CURVE: CurveRequest => Curve = curve;
    id: "exposure.curve",
    title: "Working curve of an emulsion",
    question: "What does my series say about this emulsion?",
    asked: ["What exposure hardens my stencil through?", "How thick does this emulsion cure?", "Can I save an underexposed screen?"],
    headline: ["exposure", "time"],
    formula: "depth = Dp ln(E / Ec), fitted by least squares of depth on ln E; exposure = Ec exp(stencil thickness / Dp); its 95 % interval by Fieller's theorem with Student's t of n - 2; time = exposure / irradiance; of a screen that got E: hardened = Dp ln(E / Ec), post-exposure = Ec exp((stencil thickness - hardened) / Dp), from the squeegee side",
    sources: &[
        Source::published("P. F. Jacobs, Rapid Prototyping & Manufacturing (1992): the working curve"),
        Source::published("E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175: limits of a ratio (from memory)"),
        Source::memory("less than half hard: the wash-out takes it; a gauge errs by 2 %"),
    ],
    example: r#"{"points": [{"exposure": "40 mJ/cm2", "depth": "72 um"}, {"exposure": "80 mJ/cm2", "depth": "113 um"}, {"exposure": "160 mJ/cm2", "depth": "156 um"}], "stencil_thickness": "110 um", "irradiance": "4 mW/cm2"}"#,
}

/// Exposures closer than this, as a logarithm of their ratio, are one and the same.
const LEAST_SPREAD: f64 = 1e-6;
/// An upper bound this far above the exposure says that the test says little.
const TWO_STOPS: f64 = 4.0;

/// A straight line through points, by least squares.
#[derive(Debug, Clone, Copy)]
struct Line {
    slope: f64,
    intercept: f64,
    mean_x: f64,
    mean_y: f64,
    spread_x: f64,
    r_squared: f64,
    /// Residual standard deviation, from three points on.
    residual: Option<f64>,
    points: f64,
}

/// Least squares of y on x about the means, so that large offsets cost no digits.
fn fit(points: &[(f64, f64)]) -> Line {
    let n = points.len() as f64;
    let mean_x = points.iter().map(|(x, _)| x).sum::<f64>() / n;
    let mean_y = points.iter().map(|(_, y)| y).sum::<f64>() / n;
    let spread_x: f64 = points.iter().map(|(x, _)| (x - mean_x) * (x - mean_x)).sum();
    let spread_y: f64 = points.iter().map(|(_, y)| (y - mean_y) * (y - mean_y)).sum();
    let spread_xy: f64 = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let slope = spread_xy / spread_x;
    let intercept = mean_y - slope * mean_x;
    let left: f64 = points
        .iter()
        .map(|(x, y)| {
            let miss = (y - mean_y) - slope * (x - mean_x);
            miss * miss
        })
        .sum();
    let r_squared = if spread_y > 0.0 { 1.0 - left / spread_y } else { 1.0 };
    let residual = (n > 2.0).then(|| (left / (n - 2.0)).sqrt());
    Line { slope, intercept, mean_x, mean_y, spread_x, r_squared, residual, points: n }
}

impl Line {
    /// Standard error of the place at which the line reaches a height, to first order.
    fn error_of(&self, at: f64) -> Option<f64> {
        let from_mean = at - self.mean_x;
        self.residual.map(|r| r / self.slope * (1.0 / self.points + from_mean * from_mean / self.spread_x).sqrt())
    }

    /// Where the line reaches y, and the 95 % interval of that place (Fieller), where there is one.
    fn reaches(&self, y: f64) -> (f64, Option<(f64, f64)>) {
        let from_mean = (y - self.mean_y) / self.slope;
        let at = self.mean_x + from_mean;
        let interval = self.residual.and_then(|residual| {
            let t = student(0.95, (self.points - 2.0) as u32);
            let g = t * t * residual * residual / (self.slope * self.slope * self.spread_x);
            let root = ((1.0 - g) / self.points + from_mean * from_mean / self.spread_x).sqrt();
            let half = t * residual / self.slope * root;
            (g < 1.0)
                .then(|| (self.mean_x + (from_mean - half) / (1.0 - g), self.mean_x + (from_mean + half) / (1.0 - g)))
        });
        (at, interval)
    }
}

/// Fits the working curve and reads the exposure off it.
///
/// # Errors
/// `out_of_range` for fewer than two points, `impossible` where all have one exposure, `no_solution` where more light did
/// not harden deeper or the curve reaches the thickness nowhere within reason.
pub(crate) fn curve(request: &CurveRequest, remarks: &mut Remarks) -> Result<Curve, Error> {
    let points: Vec<(f64, f64)> = request
        .points
        .iter()
        .map(|point| (libm::log(units::MJ_PER_CM2.value(point.exposure)), units::UM.value(point.depth)))
        .collect();
    if points.len() < 2 {
        return Err(Error::new(
            Code::OutOfRange,
            "/points",
            "a curve needs two strips, and three to know how sure it is",
        )
        .allowed(["2 points or more"]));
    }
    let range = |of: fn(&(f64, f64)) -> f64| {
        points.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
    };
    let (weakest, strongest) = range(|(log, _)| *log);
    if strongest - weakest < LEAST_SPREAD {
        return Err(Error::new(
            Code::Impossible,
            "/points",
            "all strips got the same exposure: a curve needs two different ones",
        ));
    }
    let line = fit(&points);
    if line.slope <= 0.0 {
        return Err(Error::new(
            Code::NoSolution,
            "/points",
            "more light did not harden deeper: the series does not follow a working curve; check order and gauge",
        ));
    }
    let wanted = units::UM.value(request.stencil_thickness);
    let (at, interval) = line.reaches(wanted);
    let interval = interval.filter(|(low, high)| *low > -200.0 && *high < 200.0);
    let log_critical = -line.intercept / line.slope;
    if [at, log_critical].iter().any(|log| !(-100.0..=100.0).contains(log)) {
        return Err(Error::new(
            Code::NoSolution,
            "/points",
            "the curve is so flat that it reaches this thickness at no exposure within reason",
        ));
    }
    let light = |log: f64| units::MJ_PER_CM2.of(libm::exp(log));
    let (least, most) =
        points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, y)| (low.min(*y), high.max(*y)));
    // The depth of a strip itself is bracketed, however its unit rounds.
    let brackets = reaches(wanted, least) && reaches(most, wanted);
    if !brackets {
        remarks.caution(
            "not_bracketed",
            "/points",
            "no strips on both sides of this thickness: the exposure is a guess beyond the test; expose a wider series",
        );
    }
    if line.residual.is_none() {
        remarks.caution("two_points", "/points", "two strips always lie on a line: a third one shows how sure it is");
    } else if interval.is_none() {
        remarks.caution(
            "no_interval",
            "/points",
            "the scatter is so large that the exposure has no upper bound: gauge again or expose more strips",
        );
    }
    if interval.is_some_and(|(_, high)| high - at > libm::log(TWO_STOPS)) {
        remarks.caution(
            "wide_interval",
            "/points",
            "the strips scatter so much that the exposure may be off by more than two stops: gauge again or expose more strips",
        );
    }
    remarks.info(
        "needs_a_gauge",
        "/points",
        "this needs a thickness gauge on the washed-out, dried strips; without one, use a step scale (exposure.step). Keep ultraviolet light off eyes and skin",
    );
    let exposure = light(at);
    let (penetration_depth, critical_exposure) = (units::UM.of(line.slope), light(log_critical));
    let (exposure_low, exposure_high) = interval.unzip();
    let exposure_high = exposure_high.map(light);
    let needed = Needed { penetration_depth, critical: critical_exposure, exposure, at_most: exposure_high };
    let screen = exposed(request, &needed, remarks)?;
    Ok(Curve {
        penetration_depth,
        penetration_depth_error: line.residual.map(|residual| units::UM.of(residual / line.spread_x.sqrt())),
        critical_exposure,
        critical_exposure_error: line.error_of(log_critical).map(|error| critical_exposure * error),
        r_squared: line.r_squared,
        exposure,
        exposure_low: exposure_low.map(light),
        exposure_high,
        time: request.irradiance.map(|irradiance| exposure / irradiance),
        brackets,
        hardened_depth: screen.as_ref().map(|screen| screen.depth),
        hardened_fraction: screen.as_ref().map(|screen| screen.fraction),
        post_exposure: screen.as_ref().and_then(|screen| screen.post),
        post_time: screen
            .as_ref()
            .and_then(|screen| screen.post)
            .zip(request.irradiance)
            .map(|(post, light)| post / light),
        verdict: screen.map(|screen| screen.verdict),
    })
}

/// What the curve says that a screen needs.
struct Needed {
    penetration_depth: Length,
    critical: RadiantExposure,
    exposure: RadiantExposure,
    /// The upper end of the doubt of the exposure, where there is one.
    at_most: Option<RadiantExposure>,
}

/// A screen that got its exposure.
struct Exposed {
    depth: Length,
    fraction: f64,
    post: Option<RadiantExposure>,
    verdict: ExposureVerdict,
}

/// What the screen that was exposed is worth, where there is one.
fn exposed(request: &CurveRequest, needed: &Needed, remarks: &mut Remarks) -> Result<Option<Exposed>, Error> {
    let stencil = request.stencil_thickness;
    // The record's own memory of what was given bears the same name.
    let Some(given) = (**request).given else {
        if request.stencil_left.is_some() {
            return Err(Error::new(
                Code::Impossible,
                "/stencil_left",
                "what is left of a stencil says nothing without the exposure that it got: give `given`",
            ));
        }
        return Ok(None);
    };
    let Needed { penetration_depth, critical, exposure, at_most } = *needed;
    // The exposure that the curve asks for is enough, whatever the rounding on the way back to a depth.
    let depth =
        if reaches(given, exposure) { stencil } else { hardened_depth(penetration_depth, critical, given, stencil) };
    let fraction: f64 = (depth / stencil).into();
    let grown = request.stencil_left.is_some_and(|left| has_grown(stencil, left));
    if grown {
        remarks.caution(
            "thicker_than_before",
            "/stencil_left",
            "thicker than before the wash-out: dry it through and gauge it at the same places; until then nothing is known of a loss",
        );
    }
    let lost = request.stencil_left.filter(|_| !grown).map(|left| has_lost(stencil, left));
    remarks.basis("verdict", BY_SHARE);
    let verdict = judge(fraction, lost);
    let post =
        (verdict == ExposureVerdict::PostExpose).then(|| post_exposure(penetration_depth, critical, depth, stencil));
    match verdict {
        ExposureVerdict::Through if !at_most.is_some_and(|most| reaches(given, most)) => remarks.caution(
            "perhaps_not_through",
            "/given",
            "hard through by the curve, but the strips leave in doubt whether this exposure is enough: for a screen that must last give it exposure_high, or expose more strips",
        ),
        ExposureVerdict::Through => remarks.info(
            "hard_through",
            "/given",
            "hard through: exposing it again hardens nothing more",
        ),
        ExposureVerdict::PostExpose => {
            if request.stencil_left.is_none() {
                remarks.caution(
                    "gauge_it",
                    "/stencil_left",
                    "a second exposure helps only as long as the wash-out took nothing: gauge the dried stencil, and strip the screen if it is thinner than before",
                );
            }
            remarks.info(
                "post_expose",
                "/given",
                "dry it through, then expose it from the squeegee side without a film; what both sides harden meets inside",
            );
        }
        ExposureVerdict::ExposeAgain if lost == Some(true) => remarks.caution(
            "material_lost",
            "/stencil_left",
            if fraction < 1.0 {
                "the wash-out took what was soft, and no light brings it back: strip the screen and expose anew"
            } else {
                "by the curve it is hard through, and yet the wash-out took some of it: strip the screen; the curve is not that of this coating, lamp or washing"
            },
        ),
        ExposureVerdict::ExposeAgain => remarks.caution(
            "too_little_hardened",
            "/given",
            if fraction > 0.0 {
                "less than half of it is hard: the wash-out takes the rest along; strip the screen and expose anew"
            } else {
                "less than the critical exposure: nothing hardened; strip the screen and expose anew"
            },
        ),
    }
    Ok(Some(Exposed { depth, fraction, post, verdict }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the strips lie on 100 um ln(E / 10), the last one 4 um off: what a screen gets between the exposure and the upper end of
    /// its doubt is perhaps not enough, and of two strips there is no such end.
    #[test]
    fn hard_through_only_beyond_the_doubt() {
        let strip =
            |light: f64, depth: f64| CurvePoint::new().exposure(units::MJ_PER_CM2.of(light)).depth(units::UM.of(depth));
        let strips = [strip(20.0, 69.3), strip(40.0, 138.6), strip(80.0, 207.9), strip(160.0, 281.3)];
        let answer = |strips: &[CurvePoint], given: f64| {
            let request = CurveRequest::new().points(strips.to_vec()).stencil_thickness(units::UM.of(150.0));
            CURVE.answer(&request.given(units::MJ_PER_CM2.of(given))).unwrap()
        };
        let most = units::MJ_PER_CM2.value(answer(&strips, 100.0).exposure_high.unwrap());
        let least = units::MJ_PER_CM2.value(answer(&strips, 100.0).exposure);
        assert!(least < most);
        for (strips, given, sure) in
            [(&strips[..], 0.5 * (least + most), false), (&strips[..], 1.01 * most, true), (&strips[..2], 500.0, false)]
        {
            let answer = answer(strips, given);
            assert_eq!(answer.verdict, Some(ExposureVerdict::Through));
            let noted = |code: &str| answer.notes().iter().any(|note| note.code == code);
            assert_eq!((noted("hard_through"), noted("perhaps_not_through")), (sure, !sure), "{given}");
        }
    }

    /// NIST Statistical Reference Datasets, linear regression, Norris: certified values, to 1e-9.
    #[test]
    fn the_fitter_reproduces_the_certified_values_of_norris() {
        let text = include_str!("../../../tests/published/nist_strd_norris.csv");
        let points: Vec<(f64, f64)> = text
            .lines()
            .filter(|line| !line.starts_with('#'))
            .skip(1)
            .map(|line| {
                let (y, x) = line.split_once(',').unwrap();
                (x.parse().unwrap(), y.parse().unwrap())
            })
            .collect();
        assert_eq!(points.len(), 36);
        let line = fit(&points);
        for (got, certified) in [
            (line.intercept, -0.262_323_073_774_029),
            (line.slope, 1.002_116_818_020_45),
            (line.residual.unwrap(), 0.884_796_396_144_373),
            (line.r_squared, 0.999_993_745_883_712),
            (line.residual.unwrap() / line.spread_x.sqrt(), 0.429_796_848_199_937e-3),
        ] {
            approx::assert_relative_eq!(got, certified, epsilon = 0.0, max_relative = 1e-9);
        }
    }
}
