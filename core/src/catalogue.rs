//! The catalogue: every calculation, one line each. All layers reach them through this list.

use crate::error::{Code, Error, clip, nearest};
use crate::wire::{Calculation, document};
use crate::{
    artwork, cure, dryer, exposure, flash, heat, ink, job, mesh, press, register, stencil, tension, unit, wash,
};
use serde_json::Value;

/// Every calculation, in the order in which a print is made.
pub static CALCULATIONS: &[Calculation] = &[
    unit::CONVERT,
    mesh::GEOMETRY,
    mesh::DETAIL,
    mesh::MOIRE,
    stencil::THICKNESS,
    exposure::SERIES,
    exposure::STEP_SCALE,
    exposure::RESCALE,
    exposure::CURVE,
    exposure::UNDERCUT,
    ink::DEPOSIT,
    ink::USAGE,
    ink::WEIGH,
    ink::MIX,
    artwork::MEASURE,
    tension::ASSESS,
    tension::OFF_CONTACT,
    register::BUDGET,
    press::SQUEEGEE,
    press::RUN,
    press::OVERS,
    dryer::DWELL_TIME,
    dryer::WINDOW,
    dryer::FIT,
    cure::ASSESS,
    cure::EQUIVALENT,
    flash::DWELL_TIME,
    flash::RUN,
    heat::LAYERS,
    wash::COLOUR,
    wash::SAMPLES,
    wash::VERDICT,
    wash::LAYERS,
    job::PLAN,
];

/// The calculation of that name.
///
/// # Errors
/// `unknown_calculation`, with the nearest known name.
pub fn find(id: &str) -> Result<&'static Calculation, Error> {
    let names = || CALCULATIONS.iter().map(|c| c.id);
    CALCULATIONS.iter().find(|c| c.id == id).ok_or_else(|| {
        let hint = nearest(id, names()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
        Error::new(Code::UnknownCalculation, "", format!("no calculation is called `{}`{hint}", clip(id)))
            .got(&Value::from(id))
            .allowed(names())
    })
}

/// Answers a request.
///
/// # Errors
/// `unknown_calculation`, or what the calculation refuses.
///
/// ```
/// let answer = floodbar::calculate("mesh.geometry", &serde_json::json!({ "mesh": "77-55" }))?;
/// assert_eq!(answer["thread"]["unit"], "um");
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn calculate(id: &str, request: &Value) -> Result<Value, Error> {
    (find(id)?.run)(request)?.to_value()
}

/// Answers a request that is JSON text, as text.
///
/// # Errors
/// As [`calculate`], and `bad_json` or `too_long` for the text.
pub fn calculate_text(id: &str, request: &[u8]) -> Result<String, Error> {
    let calculation = find(id)?;
    (calculation.run)(&document(request)?)?.to_text()
}

/// The catalogue as a document: questions, formulas, sources, examples and JSON Schemas (draft 2020-12).
#[cfg(feature = "schema")]
#[must_use]
pub fn describe() -> Value {
    use serde_json::json;
    let mut generator = schemars::generate::SchemaSettings::draft2020_12().into_generator();
    let entries: Vec<Value> = CALCULATIONS
        .iter()
        .map(|calculation| {
            let prose = &calculation.prose;
            let sources: Vec<_> =
                prose.sources.iter().map(|s| json!({ "kind": s.kind.text(), "source": s.text })).collect();
            json!({
                "id": calculation.id,
                "title": prose.title,
                "question": prose.question,
                "formula": prose.formula,
                "sources": sources,
                "example": serde_json::from_str::<Value>(prose.example).unwrap_or_default(),
                "request": (prose.request)(&mut generator),
                "answer": (prose.answer)(&mut generator),
            })
        })
        .collect();
    json!({
        "name": "floodbar",
        "version": env!("CARGO_PKG_VERSION"),
        "calculations": entries,
        "$defs": generator.take_definitions(true),
    })
}
