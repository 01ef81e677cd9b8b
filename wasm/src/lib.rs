//! Floodbar for JavaScript: the WebAssembly half of the npm package.
//!
//! Text goes in and out, the answer or the error as every layer writes it; `js/api.js` makes plain objects and `FloodbarError`
//! of it. The core is total: it refuses instead of panicking, so there is no unwinding to guard against here.

use floodbar::catalogue::{self, Rows};
use floodbar::wire::document;
use floodbar::{Code, Error};
use serde_json::{Value, json};
use wasm_bindgen::prelude::*;

/// Answers a request that is JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::calculate_text`].
#[wasm_bindgen(js_name = calculateText)]
pub fn calculate_text(id: &JsValue, request: &JsValue) -> Result<String, String> {
    name(id).and_then(|id| floodbar::calculate_text(&id, text(request, "the request")?.as_bytes())).map_err(refusal)
}

/// Whether there is a calculation of that name.
///
/// # Errors
/// The error as JSON text, `unknown_calculation` where there is none.
#[wasm_bindgen]
pub fn find(id: &JsValue) -> Result<(), String> {
    name(id).and_then(|id| catalogue::find(&id).map(drop)).map_err(refusal)
}

/// Answers a calculation at many points; request and specification are JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::sweep`].
#[wasm_bindgen]
pub fn sweep(id: &JsValue, request: &str, spec: &str) -> Result<String, String> {
    operate(floodbar::sweep, id, request, spec).map(|answer| written(&answer))
}

/// Finds the input that gives a wanted answer; request and specification are JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::solve`].
#[wasm_bindgen]
pub fn solve(id: &JsValue, request: &str, spec: &str) -> Result<String, String> {
    operate(floodbar::solve, id, request, spec).map(|answer| written(&answer))
}

/// Makes a calculation ready for rows of plain numbers; request and columns are JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::prepare`].
#[wasm_bindgen]
pub fn prepare(id: &JsValue, request: &str, columns: &str) -> Result<Prepared, String> {
    operate(floodbar::prepare, id, request, columns).map(Prepared)
}

/// A calculation that is ready for rows of plain numbers.
#[wasm_bindgen]
pub struct Prepared(floodbar::Prepared);

#[wasm_bindgen]
impl Prepared {
    /// What a row sets and what it gives, as JSON text: `inputs` and `outputs`, lists of `at` and `unit`.
    pub fn columns(&self) -> String {
        let column = |(at, unit): (&str, &str)| json!({ "at": at, "unit": unit });
        let inputs: Value = self.0.inputs().map(column).collect();
        let outputs: Value = self.0.outputs().map(column).collect();
        written(&json!({ "inputs": inputs, "outputs": outputs }))
    }

    /// The number of rows of columns that are so long.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::Prepared::count`].
    pub fn count(&self, inputs: &[usize], outputs: &[usize]) -> Result<usize, String> {
        self.0.count(inputs, outputs).map_err(refusal)
    }

    /// Works out rows, one after the other: of each the inputs, then places for the outputs, for the number of its status and for how
    /// many cautions and limits it met.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::Prepared::rows`].
    pub fn run(&self, rows: &mut [f64]) -> Result<(), String> {
        let mut prepared = self.0.rows().map_err(refusal)?;
        let (inputs, outputs) = (self.0.inputs().len(), self.0.outputs().len());
        let width = inputs.saturating_add(outputs).saturating_add(3);
        for row in rows.chunks_exact_mut(width) {
            work(&mut prepared, row, inputs, outputs);
        }
        Ok(())
    }

    /// The full answer of one row, as JSON text.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::Prepared::explain`].
    pub fn explain(&self, values: &[f64]) -> Result<String, String> {
        self.0.explain(values).and_then(|answer| answer.to_text()).map_err(refusal)
    }
}

fn work(prepared: &mut Rows<'_>, row: &mut [f64], inputs: usize, outputs: usize) {
    let (given, found) = row.split_at_mut(inputs);
    let (found, told) = found.split_at_mut(outputs);
    let done = prepared.row(given, found);
    if let [status, cautions, limits] = told {
        *status = done.status.map_or_else(|code| f64::from(code as i32), |()| 0.0);
        *cautions = f64::from(done.cautions);
        *limits = f64::from(done.limits);
    }
}

/// Measures a separation whose pixels are bytes; the specification is JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::artwork::measure_bytes`], and `bad_json` or `too_long` for the specification.
#[wasm_bindgen(js_name = measureArtwork)]
pub fn measure_artwork(pixels: &[u8], spec: &str) -> Result<String, String> {
    measured(pixels, spec).map_err(refusal)
}

#[cfg(feature = "whole")]
fn measured(pixels: &[u8], spec: &str) -> Result<String, Error> {
    document(spec.as_bytes()).and_then(|spec| floodbar::artwork::measure_bytes(pixels, &spec)?.to_text())
}

/// The lean binary has no such calculation.
#[cfg(not(feature = "whole"))]
fn measured(_: &[u8], spec: &str) -> Result<String, Error> {
    floodbar::calculate_text("artwork.measure", spec.as_bytes())
}

/// What an operator makes of a request and a specification that are JSON text.
fn operate<T>(
    operator: fn(&str, &Value, &Value) -> Result<T, Error>,
    id: &JsValue,
    request: &str,
    spec: &str,
) -> Result<T, String> {
    let asked = || operator(&name(id)?, &document(request.as_bytes())?, &document(spec.as_bytes())?);
    asked().map_err(refusal)
}

/// The error as JSON text. The lean binary says where the calculations are that it lacks.
fn refusal(mut error: Error) -> String {
    if !cfg!(feature = "whole") && error.code == Code::UnknownCalculation {
        error.message += "; `initWhole()` loads more calculations";
    }
    written(&error.to_json())
}

/// As JSON text: by the writer of answers, not by that of messages.
fn written(value: &Value) -> String {
    serde_json::to_string(value).unwrap_or_default()
}

fn name(id: &JsValue) -> Result<String, Error> {
    text(id, "the name of the calculation")
}

fn text(value: &JsValue, what: &str) -> Result<String, Error> {
    value.as_string().ok_or_else(|| Error::new(Code::WrongType, "", format!("{what} must be a text")))
}
