//! The catalogue: every calculation, one line each, and what can be asked of any of them. All layers reach them through this list.
//!
//! [`calculate`], [`calculate_many`], [`sweep`] (many points of one), [`solve`] (which input gives a wanted answer), [`prepare`] (rows
//! of plain numbers, without JSON); each with a [`Cache`] too.

mod cache;
mod prepare;
mod solve;
mod sweep;
mod target;

pub use cache::Cache;
pub use prepare::{BLOCK, MOST_COLUMNS, Prepared, Row, Rows, prepare};
pub use solve::solve;
pub use sweep::{MOST_POINTS, sweep};

use crate::error::{Code, Error, clip, nearest};
use crate::wire::{Answer, At, Listed, Shared, answer_json, document, many_requests, wrong_type};
use crate::{cure, dryer, exposure, flash, heat, ink, mesh, press, register, stencil, stock, tension, unit, wash};
use serde_json::Value;
use std::borrow::Cow;

/// Every calculation, in the order in which a print is made; those of the feature `whole`, which is on by default, are left out of the
/// smaller WebAssembly.
pub static CALCULATIONS: &[&dyn Listed] = &[
    &unit::CONVERT,
    &mesh::GEOMETRY,
    &mesh::DETAIL,
    &mesh::MOIRE,
    #[cfg(feature = "whole")]
    &ink::CHOOSE_MESH,
    &stencil::THICKNESS,
    &exposure::SERIES,
    &exposure::STEP_SCALE,
    &exposure::RESCALE,
    &exposure::CURVE,
    &exposure::UNDERCUT,
    &ink::DEPOSIT,
    &ink::USAGE,
    &ink::WEIGH,
    #[cfg(feature = "whole")]
    &ink::HIDING,
    #[cfg(feature = "whole")]
    &ink::OPACITY,
    &ink::MIX,
    #[cfg(feature = "whole")]
    &ink::OPEN_TIME,
    #[cfg(feature = "whole")]
    &crate::artwork::MEASURE,
    #[cfg(feature = "whole")]
    &crate::artwork::TONE,
    #[cfg(feature = "whole")]
    &crate::artwork::TONE_CURVE,
    &tension::ASSESS,
    &tension::OFF_CONTACT,
    &register::BUDGET,
    #[cfg(feature = "whole")]
    &register::MARKS,
    &press::SQUEEGEE,
    &press::RUN,
    &press::OVERS,
    &dryer::DWELL_TIME,
    &dryer::WINDOW,
    #[cfg(feature = "whole")]
    &dryer::FIT,
    &cure::ASSESS,
    &cure::EQUIVALENT,
    &flash::DWELL_TIME,
    &flash::RUN,
    #[cfg(feature = "whole")]
    &flash::FIT,
    &heat::LAYERS,
    &wash::COLOUR,
    &wash::SAMPLES,
    &wash::VERDICT,
    &wash::LAYERS,
    #[cfg(feature = "whole")]
    &crate::shop::LEARN,
    #[cfg(feature = "whole")]
    &crate::job::PLAN,
    #[cfg(feature = "whole")]
    &crate::job::QUOTE,
    &stock::LIST,
];

/// The calculation of that name.
///
/// # Errors
/// `unknown_calculation`, with the nearest known name.
pub fn find(id: &str) -> Result<&'static dyn Listed, Error> {
    let names = || CALCULATIONS.iter().map(|c| c.id());
    CALCULATIONS.iter().copied().find(|c| c.id() == id).ok_or_else(|| {
        let hint = nearest(id, names()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
        // A long text is told once, by its start.
        let message = match clip(id) {
            Cow::Borrowed(id) => format!("no calculation is called `{id}`{hint}"),
            Cow::Owned(_) => "no calculation has so long a name".to_owned(),
        };
        Error::new(Code::UnknownCalculation, "", message).got(&Value::from(id)).allowed(names())
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
    answered(None, id, request)?.to_value()
}

/// Answers a request that is JSON text, as text.
///
/// # Errors
/// As [`calculate`], and `bad_json` or `too_long` for the text.
pub fn calculate_text(id: &str, request: &[u8]) -> Result<String, Error> {
    answer_text(None, id, request)
}

/// Answers many requests, in their order: a list of answers and errors, where a bad request spoils no other.
///
/// # Errors
/// `unknown_calculation`; `wrong_type` where the requests are no list.
///
/// ```
/// let answers = floodbar::calculate_many("mesh.geometry", &serde_json::json!([{ "mesh": "77-55" }, {}]))?;
/// assert_eq!(answers[0]["count"]["value"], 77.0);
/// assert_eq!(answers[1]["error"]["code"], "missing_field");
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn calculate_many(id: &str, requests: &Value) -> Result<Value, Error> {
    answers(None, id, requests)
}

/// Answers a list of requests that is JSON text, as text: as [`calculate_many`], in less memory.
///
/// # Errors
/// As [`calculate_many`], and `bad_json` or `too_long` for the text.
pub fn calculate_many_text(id: &str, requests: &[u8]) -> Result<String, Error> {
    answers_text(None, id, requests)
}

fn answer_text(memory: Option<&Shared>, id: &str, request: &[u8]) -> Result<String, Error> {
    find(id)?;
    answered(memory, id, &document(request)?)?.to_text()
}

fn answers(memory: Option<&Shared>, id: &str, requests: &Value) -> Result<Value, Error> {
    find(id)?;
    let each = listed(requests)?.iter().map(|request| answered(memory, id, request)?.to_value());
    Ok(each.map(|answer| answer.unwrap_or_else(|error| error.to_json())).collect())
}

fn answers_text(memory: Option<&Shared>, id: &str, requests: &[u8]) -> Result<String, Error> {
    find(id)?;
    let requests = many_requests(requests)?;
    let mut text = String::from("[");
    for (index, request) in listed(&requests)?.iter().enumerate() {
        if index > 0 {
            text.push(',');
        }
        let answer = answered(memory, id, request).and_then(|answer| answer.to_text());
        text.push_str(&answer.unwrap_or_else(|error| error.to_json().to_string()));
    }
    text.push(']');
    Ok(text)
}

fn listed(requests: &Value) -> Result<&Vec<Value>, Error> {
    requests.as_array().ok_or_else(|| wrong_type(At::ROOT, requests, "a list of requests".into()))
}

fn answered(memory: Option<&Shared>, id: &str, request: &Value) -> Result<Answer, Error> {
    let calculation = find(id)?;
    answer_json(request, &mut *calculation.blank(), memory, &|request, remarks| calculation.work(request, remarks))
}

/// The catalogue as a document: questions, formulas, sources, examples and JSON Schemas (draft 2020-12), whose references lead into
/// its `$defs`; the keywords of our own in them; what only the reader can know; the operators over all of them; and all that is in stock.
#[cfg(feature = "schema")]
#[must_use]
pub fn describe() -> Value {
    use crate::wire::schema::{BEYOND, Definitions, KEYWORDS, operators, prose};
    use serde_json::{Map, json};
    let mut definitions = Definitions::default();
    let entries: Vec<Value> = CALCULATIONS
        .iter()
        .map(|calculation| {
            let mut entry = Map::new();
            entry.insert("id".into(), calculation.id().into());
            entry.extend(prose(&calculation.entry().prose));
            entry.insert("request".into(), definitions.request(calculation.request()));
            entry.insert("answer".into(), definitions.answer(calculation.answer()));
            entry.into()
        })
        .collect();
    let told = |list: &[(&str, &str)]| -> Value {
        list.iter().map(|(name, text)| ((*name).to_owned(), Value::from(*text))).collect::<Map<_, _>>().into()
    };
    let stock = calculate("stock.list", &json!({ "explain": false })).unwrap_or_default();
    json!({
        "name": "floodbar",
        "version": env!("CARGO_PKG_VERSION"),
        "keywords": told(KEYWORDS),
        "beyond_schemas": told(BEYOND),
        "calculations": entries,
        "operators": operators(MOST_POINTS, MOST_COLUMNS),
        "stock": stock.get("kinds"),
        "$defs": definitions.into_value(),
    })
}

/// The JSON Schemas of one calculation's request and answer, each whole in itself.
///
/// # Errors
/// `unknown_calculation`.
#[cfg(feature = "schema")]
pub fn schemas(id: &str) -> Result<(Value, Value), Error> {
    use crate::wire::schema::Definitions;
    let calculation = find(id)?;
    let whole = |make: &dyn Fn(&mut Definitions) -> Value| {
        let mut definitions = Definitions::default();
        let mut schema = make(&mut definitions);
        if let Some(members) = schema.as_object_mut() {
            members.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
            members.insert("$defs".into(), definitions.into_value());
        }
        schema
    };
    Ok((whole(&|all| all.request(calculation.request())), whole(&|all| all.answer(calculation.answer()))))
}
