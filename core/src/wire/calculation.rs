//! A calculation: a question with a name, from a request to an answer.

use super::{At, Input, Output, Page, Remarks};
use crate::error::{Code, Error};
use crate::note::Note;
use crate::quantity::{Rules, Show, System};
use crate::source::Basis;
use serde::Serialize;
use serde_json::{Map, Value};

/// One entry of the catalogue. Written once, in the module of its trade step, with [`calculation!`](crate::wire).
#[derive(Debug, Clone, Copy)]
pub struct Calculation {
    /// Its name on the wire: `mesh.geometry`.
    pub id: &'static str,
    /// Reads the request, calculates, writes the answer.
    pub run: fn(&Value) -> Result<Answer, Error>,
    /// What a person wants to know before using it.
    #[cfg(feature = "schema")]
    pub prose: Prose,
}

/// An answer of the wire: its own members, then `notes` and `basis`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answer {
    #[serde(flatten)]
    members: Map<String, Value>,
    notes: Vec<Note>,
    basis: Vec<Basis>,
}

impl Answer {
    /// The answer as a JSON value.
    ///
    /// # Errors
    /// `internal`, should an answer not be writable.
    pub fn to_value(&self) -> Result<Value, Error> {
        serde_json::to_value(self).map_err(|e| Error::new(Code::Internal, "", e.to_string()))
    }

    /// The answer as JSON text.
    ///
    /// # Errors
    /// `internal`, should an answer not be writable.
    pub fn to_text(&self) -> Result<String, Error> {
        serde_json::to_string(self).map_err(|e| Error::new(Code::Internal, "", e.to_string()))
    }
}

/// The description of a calculation, for documents and forms.
#[cfg(feature = "schema")]
#[derive(Debug, Clone, Copy)]
pub struct Prose {
    /// A short title.
    pub title: &'static str,
    /// The question it answers, as a printer would ask it.
    pub question: &'static str,
    /// The formulas, in words and symbols.
    pub formula: &'static str,
    /// Where the formulas come from.
    pub sources: &'static [crate::source::Source],
    /// A worked request.
    pub example: &'static str,
    /// JSON Schema of the request.
    pub request: fn(&mut schemars::SchemaGenerator) -> schemars::Schema,
    /// JSON Schema of the answer.
    pub answer: fn(&mut schemars::SchemaGenerator) -> schemars::Schema,
}

/// Describes a calculation and ties it to its function.
macro_rules! calculation {
    (
        id: $id:literal,
        title: $title:literal,
        question: $question:literal,
        formula: $formula:literal,
        sources: $sources:expr,
        example: $example:literal,
        run: $function:path as $request:ty => $answer:ty,
    ) => {{
        // Checked in every build, though only the `schema` feature keeps the prose.
        const _: &[$crate::source::Source] = $sources;
        $crate::wire::Calculation {
            id: $id,
            run: |request| $crate::wire::run::<$request, $answer>(request, $function),
            #[cfg(feature = "schema")]
            prose: $crate::wire::Prose {
                title: $title,
                question: $question,
                formula: $formula,
                sources: $sources,
                example: $example,
                request: $crate::wire::schema::request::<$request>,
                answer: $crate::wire::schema::answer::<$answer>,
            },
        }
    }};
}

pub(crate) use calculation;

/// The one path of every calculation: units, request, refusal of doubt, function, answer, notes and basis.
pub(crate) fn run<R: Input, A: Output>(
    request: &Value,
    function: impl FnOnce(&R, &mut Remarks) -> Result<A, Error>,
) -> Result<Answer, Error> {
    let units = request.get("units").filter(|units| !units.is_null());
    let system = match units.and_then(Value::as_str) {
        Some("us") => System::Us,
        _ => System::Metric,
    };
    let mut remarks = Remarks::new(system);
    let asked = R::read(request, At::ROOT, &Rules::NONE, &mut remarks)?;
    if let Some(units) = units {
        super::word(
            units,
            At::ROOT.key("units"),
            &[("metric", System::Metric), ("us", System::Us)],
            "system of units",
        )?;
    }
    remarks.refuse_doubt()?;
    let answer = function(&asked, &mut remarks)?;
    remarks.refuse_doubt()?;
    let mut page = Page { system, broken: false };
    let Some(Value::Object(members)) = answer.write(Show::Usual, &mut page).filter(|_| !page.broken) else {
        return Err(Error::new(Code::Internal, "", "a number of the answer is too large to be written"));
    };
    Ok(Answer { members, notes: remarks.notes, basis: remarks.basis })
}
