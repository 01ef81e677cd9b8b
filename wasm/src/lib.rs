//! Floodbar for JavaScript: the WebAssembly half of the npm package.
//!
//! Text goes in and out, the answer or the error as every layer writes it; `js/api.js` makes plain objects and `FloodbarError`
//! of it. The core is total: it refuses instead of panicking, so there is no unwinding to guard against here.

use floodbar::{Code, Error};
use wasm_bindgen::prelude::*;

/// Answers a request that is JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::calculate_text`].
#[wasm_bindgen(js_name = calculateText)]
pub fn calculate_text(id: &JsValue, request: &JsValue) -> Result<String, String> {
    text(id, "the name of the calculation")
        .and_then(|id| floodbar::calculate_text(&id, text(request, "the request")?.as_bytes()))
        .map_err(refusal)
}

/// Measures a separation whose pixels are bytes; the specification is JSON text.
///
/// # Errors
/// The error as JSON text: as [`floodbar::artwork::measure_bytes`], and `bad_json` or `too_long` for the specification.
#[wasm_bindgen(js_name = measureArtwork)]
pub fn measure_artwork(pixels: &[u8], spec: &str) -> Result<String, String> {
    floodbar::wire::document(spec.as_bytes())
        .and_then(|spec| floodbar::artwork::measure_bytes(pixels, &spec)?.to_text())
        .map_err(refusal)
}

/// The error as JSON text. The lean binary says where whole orders are: the module `job`, with which their names begin, is left out.
fn refusal(mut error: Error) -> String {
    let whole_order = || error.got.as_str().is_some_and(|id| id.starts_with("job."));
    if !cfg!(feature = "job") && error.code == Code::UnknownCalculation && whole_order() {
        error.message += "; whole orders need `initWhole()`";
    }
    error.to_json().to_string()
}

fn text(value: &JsValue, what: &str) -> Result<String, Error> {
    value.as_string().ok_or_else(|| Error::new(Code::WrongType, "", format!("{what} must be a text")))
}
