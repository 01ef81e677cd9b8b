//! The same stencil under changed light, mesh or coating.

use super::{DEPTH, LIGHT, MESH_FACTOR, STENCIL, TIME, exposable};
use crate::error::{Code, Error};
use crate::quantity::{Irradiance, Length, Rank, Rules, Time, units};
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, answer, calculation, one_of, request};

const DISTANCE: Rules = Rules::range(units::CM, 0.1, 10_000.0).usual(5.0, 300.0);
const RECIPROCITY: Rules = Rules::range(units::ONE, 0.3, 1.5).usual(0.7, 1.05);
const RECIPROCITY_HOLDS: Source =
    Source::physics("reciprocity: the product of irradiance and time counts, until a test shows otherwise");

request! {
    /// A lamp moved.
    pub struct DistanceChange {
        /// Distance from lamp to stencil before.
        from "Lamp distance before": Length where DISTANCE,
        /// Distance from lamp to stencil now.
        to "Lamp distance now": Length where DISTANCE,
    }
}

request! {
    /// A lamp changed, by a light meter.
    pub struct IrradianceChange {
        /// Light at the stencil before.
        from "Light before": Irradiance where LIGHT,
        /// Light at the stencil now.
        to "Light now": Irradiance where LIGHT,
    }
}

request! {
    /// A mesh changed for one that wants another time.
    pub struct FactorChange {
        /// Exposure factor of the old mesh against white mesh.
        from "Mesh factor before": f64 where MESH_FACTOR,
        /// Exposure factor of the new mesh against white mesh; 1.5 to 2 for dyed (from memory).
        to "Mesh factor now": f64 where MESH_FACTOR,
    }
}

request! {
    /// A coating of another thickness.
    pub struct StencilChange {
        /// Coated thickness before.
        from "Coating before": Length where STENCIL,
        /// Coated thickness now.
        to "Coating now": Length where STENCIL,
        /// The depth in which the light falls by a factor e: exposure.curve finds it.
        penetration_depth "Penetration depth": Length where DEPTH,
    }
}

request! {
    /// A time that was right, and what has changed since.
    pub struct RescaleRequest {
        /// The time that was right.
        time "Time that worked": Time where TIME,
        /// The lamp was moved.
        distance "Lamp moved": Option<DistanceChange> where Rules::NONE.rank(Rank::First),
        /// The lamp was changed.
        irradiance "Lamp changed": Option<IrradianceChange> where Rules::NONE.rank(Rank::First),
        /// The mesh was changed.
        mesh_factor "Mesh changed": Option<FactorChange> where Rules::NONE.rank(Rank::First),
        /// The coating was changed.
        stencil "Coating changed": Option<StencilChange> where Rules::NONE.rank(Rank::First),
        /// Exponent p of the light in Schwarzschild's law.
        reciprocity_exponent "Reciprocity exponent": Option<f64> where RECIPROCITY.rank(Rank::Rare).unless_given("1"),
    }
    chooses(Choice::Any(&["distance", "irradiance", "mesh_factor", "stencil"]), Choice::Most(&["distance", "irradiance"]))
}

answer! {
    /// One reason for another time.
    pub struct ExposureFactor {
        /// What changed, in words.
        cause "Reason": String,
        /// New time over old time, for this reason alone.
        factor "Time factor": f64,
    }
}

answer! {
    /// The new time and its reasons.
    pub struct Rescale {
        /// New time over old time.
        factor "Time factor": f64,
        /// The time to expose for now.
        time "New time": Time,
        /// Each reason with its factor.
        causes "Reasons": Vec<ExposureFactor>,
    }
}

calculation! {
    pub const RESCALE: RescaleRequest => Rescale = rescale;
    id: "exposure.rescale",
    title: "Exposure after a change",
    question: "I changed lamp, distance, mesh or coating: what time now?",
    asked: ["How long do I expose with a new lamp?", "How long do I expose a yellow mesh?"],
    headline: ["time"],
    formula: "time' = time x the product of: distance (to / from)^(2 / p); irradiance (from / to)^(1 / p); mesh factor to / from; stencil exp((to - from) / penetration depth)",
    sources: &[
        Source::published("K. Schwarzschild, Astrophys. J. 11 (1900) 89: blackening goes with I t^p (from memory)"),
        Source::published("P. F. Jacobs, Rapid Prototyping & Manufacturing (1992): cured depth Dp ln(E / Ec)"),
        Source::physics("inverse square law of a point source"),
    ],
    example: r#"{"time": "90 s", "distance": {"from": "60 cm", "to": "75 cm"}, "mesh_factor": {"from": 1.0, "to": 1.7}}"#,
}

/// (to / from)^(2 / p): a point source at another distance.
#[must_use]
pub fn distance_factor(from: Length, to: Length, p: f64) -> f64 {
    libm::pow((to / from).into(), 2.0 / p)
}

/// (from / to)^(1 / p): a lamp of another strength (Schwarzschild).
#[must_use]
pub fn irradiance_factor(from: Irradiance, to: Irradiance, p: f64) -> f64 {
    libm::pow((from / to).into(), 1.0 / p)
}

/// exp((to - from) / Dp): a coating of another thickness (the working curve turned round).
#[must_use]
pub fn stencil_factor(from: Length, to: Length, penetration_depth: Length) -> f64 {
    libm::exp(((to - from) / penetration_depth).into())
}

/// The time after independent changes: their factors multiply.
///
/// # Errors
/// `missing_field` where nothing changed, `impossible` where distance and irradiance both tell of the light, and
/// `out_of_range` where the time would lie beyond 0.01 s to a day.
pub(crate) fn rescale(request: &RescaleRequest, remarks: &mut Remarks) -> Result<Rescale, Error> {
    let p = request.reciprocity_exponent.unwrap_or(1.0);
    if request.reciprocity_exponent.is_none() && (request.distance.is_some() || request.irradiance.is_some()) {
        remarks.basis("reciprocity_exponent", RECIPROCITY_HOLDS);
    }
    let mut causes = Vec::new();
    let mut cause = |name: &str, factor: f64| causes.push(ExposureFactor { cause: name.to_owned(), factor });
    if let Some(change) = &request.distance {
        if request.irradiance.is_some() {
            return Err(Error::new(
                Code::Impossible,
                "/irradiance",
                "distance and irradiance both tell how the light changed: give one of them",
            ));
        }
        cause("distance", distance_factor(change.from, change.to, p));
        remarks.caution(
            "point_source",
            "/distance",
            "the inverse square law holds for a point source further away than one and a half image diagonals; a bank of tubes or LEDs close by hardly changes with distance: measure it with a light meter and give irradiance",
        );
    }
    if let Some(change) = &request.irradiance {
        cause("irradiance", irradiance_factor(change.from, change.to, p));
    }
    if let Some(change) = &request.mesh_factor {
        cause("mesh_factor", change.to / change.from);
    }
    if let Some(change) = &request.stencil {
        cause("stencil", stencil_factor(change.from, change.to, change.penetration_depth));
    }
    if causes.is_empty() {
        return Err(one_of::<RescaleRequest>(At::ROOT));
    }
    let factor: f64 = causes.iter().fold(1.0, |product, cause| product * cause.factor);
    let time = exposable(request.time * factor)?;
    if !(0.25..=4.0).contains(&factor) {
        remarks.caution(
            "large_change",
            "",
            "more than two stops: take this as the middle of a step test (exposure.series), not as the time",
        );
    }
    super::about_post_exposure(remarks);
    Ok(Rescale { factor, time, causes })
}
