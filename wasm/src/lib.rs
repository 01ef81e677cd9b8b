//! Floodbar for JavaScript: the WebAssembly half of the npm package.
//!
//! Text goes in and out, the answer or the error as every layer writes it; `js/api.js` makes plain objects and `FloodbarError`
//! of it. The core is total: it refuses instead of panicking, so there is no unwinding to guard against here.

use floodbar::catalogue::{self, Rows};
use floodbar::wire::document;
use floodbar::{Cache, Code, Error};
use serde_json::{Value, json};
use wasm_bindgen::prelude::*;

/// Whether there is a calculation of that name.
///
/// # Errors
/// The error as JSON text, `unknown_calculation` where there is none.
#[wasm_bindgen]
pub fn find(id: &JsValue) -> Result<(), String> {
    name(id).and_then(|id| catalogue::find(&id).map(drop)).map_err(refusal)
}

/// What answers: the calculations, with a memory for the numbers of heat or without.
#[wasm_bindgen]
pub struct Calculations(Option<Cache>);

#[wasm_bindgen]
impl Calculations {
    /// With a memory of so many runs, if that is said.
    #[wasm_bindgen(constructor)]
    pub fn new(entries: Option<usize>) -> Self {
        Self(entries.map(Cache::new))
    }

    /// How often a run was found in the memory.
    #[allow(clippy::cast_precision_loss)] // exact below 2^53
    pub fn hits(&self) -> f64 {
        self.0.as_ref().map_or(0, |cache| cache.counts().0) as f64
    }

    /// How often a run was not found in the memory.
    #[allow(clippy::cast_precision_loss)] // exact below 2^53
    pub fn misses(&self) -> f64 {
        self.0.as_ref().map_or(0, |cache| cache.counts().1) as f64
    }

    /// Answers a request that is JSON text.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::calculate_text`].
    #[wasm_bindgen(js_name = calculateText)]
    pub fn calculate_text(&self, id: &JsValue, request: &JsValue) -> Result<String, String> {
        let asked = || {
            let (id, request) = (name(id)?, text(request, "the request")?);
            match &self.0 {
                Some(cache) => cache.calculate_text(&id, request.as_bytes()),
                None => floodbar::calculate_text(&id, request.as_bytes()),
            }
        };
        asked().map_err(refusal)
    }

    /// Answers a calculation at many points; request and specification are JSON text.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::sweep`].
    pub fn sweep(&self, id: &JsValue, request: &str, spec: &str) -> Result<String, String> {
        self.operate(Cache::sweep, floodbar::sweep, id, request, spec).map(|answer| written(&answer))
    }

    /// Finds the input that gives a wanted answer; request and specification are JSON text.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::solve`].
    pub fn solve(&self, id: &JsValue, request: &str, spec: &str) -> Result<String, String> {
        self.operate(Cache::solve, floodbar::solve, id, request, spec).map(|answer| written(&answer))
    }

    /// Makes a calculation ready for rows of plain numbers; request and columns are JSON text. It keeps what it needs of the memory.
    ///
    /// # Errors
    /// The error as JSON text: as [`floodbar::prepare`].
    pub fn prepare(&self, id: &JsValue, request: &str, columns: &str) -> Result<Prepared, String> {
        self.operate(Cache::prepare, floodbar::prepare, id, request, columns).map(Prepared)
    }

    /// What an operator, with a cache or without, makes of a request and a specification that are JSON text.
    fn operate<T>(
        &self,
        with: fn(&Cache, &str, &Value, &Value) -> Result<T, Error>,
        without: fn(&str, &Value, &Value) -> Result<T, Error>,
        id: &JsValue,
        request: &str,
        spec: &str,
    ) -> Result<T, String> {
        let asked = || {
            let (id, request, spec) = (name(id)?, document(request.as_bytes())?, document(spec.as_bytes())?);
            self.0.as_ref().map_or_else(|| without(&id, &request, &spec), |cache| with(cache, &id, &request, &spec))
        };
        asked().map_err(refusal)
    }
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
