//! Undercut: light that comes in at a slant gets under the edges of the film.

use crate::error::Error;
use crate::quantity::{Angle, Length, Rules, Show, units};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request};

const GAP: Rules = Rules::range(units::UM, 0.0, 50_000.0).usual(0.0, 2_000.0);
const SLANT: Rules = Rules::range(units::DEG, 0.0, 85.0).usual(0.5, 45.0);
const LINE: Rules = Rules::range(units::UM, 1.0, 100_000.0).usual(50.0, 10_000.0);

request! {
    /// Film, stencil and light.
    pub struct UndercutRequest {
        /// Gap between film and stencil: dust, poor vacuum, the film on the wrong side.
        film_gap "Gap under film": Length where GAP,
        /// Half of the angle over which light reaches a point of the stencil.
        half_angle "Half angle of light": Angle where SLANT,
        /// Thickness of the stencil.
        stencil_thickness "Stencil thickness": Length where super::STENCIL,
        /// Width of a line of the art.
        line "Line in art": Option<Length> where LINE,
    }
}

answer! {
    /// What the light takes.
    pub struct Undercut {
        /// How far the light spreads on each side, where it enters the stencil.
        spread "Spread at near face": Length as Film,
        /// What is left of the line where the light enters the stencil.
        line_left "Line at near face": Option<Length> as Film,
        /// How far the light spreads on each side at the far face of the stencil, were it not bent in it: an upper
        /// bound.
        spread_through "Spread at far face": Length as Film,
        /// What is left of the line at the far face, at least.
        line_left_through "Line at far face": Option<Length> as Film,
    }
}

calculation! {
    pub const UNDERCUT: UndercutRequest => Undercut = undercut;
    id: "exposure.undercut",
    title: "Undercut",
    question: "How much detail does the light eat?",
    asked: ["Why do my fine lines close up?", "Does my film touch the screen well enough?"],
    headline: ["line_left", "spread"],
    formula: "spread = film gap x tan(half angle) on each side; line left = line - 2 spread; through the stencil (film gap + stencil thickness) x tan(half angle) at most, since the stencil bends the light inwards",
    sources: &[Source::physics("similar triangles")],
    example: r#"{"film_gap": "50 um", "half_angle": "15 deg", "stencil_thickness": "90 um", "line": "300 um"}"#,
}

/// Spread of the light under each edge, and what is left of a line.
///
/// # Errors
/// None for a request that was read.
pub(crate) fn undercut(request: &UndercutRequest, remarks: &mut Remarks) -> Result<Undercut, Error> {
    let slope = libm::tan(units::RAD.value(request.half_angle));
    let spread = request.film_gap * slope;
    let spread_through = (request.film_gap + request.stencil_thickness) * slope;
    let none = units::UM.of(0.0);
    let left = |spread: Length| {
        request.line.map(|line| {
            let left = line - 2.0 * spread;
            if left > none { left } else { none }
        })
    };
    let (line_left, line_left_through) = (left(spread), left(spread_through));
    if line_left == Some(none) {
        remarks.caution(
            "line_closed",
            "/line",
            "the light closes this line altogether: better contact, or a lamp further away",
        );
    } else if line_left_through.is_some_and(|left| request.line.is_some_and(|line| left < 0.5 * line)) {
        remarks.caution("line_narrowed", "/line", |say: Say| {
            format!(
                "through the stencil the line may lose up to {} on each side: test it",
                say.say(spread_through, Show::Film)
            )
        });
    }
    remarks.info(
        "mesh_scatters",
        "",
        "white mesh scatters light sideways on top of this; dyed mesh does so less. Ultraviolet light: keep it off eyes and skin, and lamp covers closed",
    );
    Ok(Undercut { spread, line_left, spread_through, line_left_through })
}
