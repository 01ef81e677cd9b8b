//! Floodbar inside SQL: two functions that any report can call.
//!
//! - `floodbar(id, request)` is the answer of a calculation as JSON text, or its error (`{"error": {...}}`), so that one bad row
//!   spoils no report.
//! - `floodbar_number(id, request, pointer, unit)` is one number of the answer in that unit (NULL: the usual one), NULL where the
//!   request is refused or the number is absent. Money is refused: it would be a binary float.

use floodbar::{Cache, Code, Error};
use rusqlite::functions::{Context, FunctionFlags};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Result};
use serde_json::{Value, json};

/// Makes both functions known to a connection.
///
/// # Errors
/// What SQLite refuses.
pub fn register(database: &Connection, cache: &Cache) -> Result<()> {
    // Same request, same bits: a query may ask once where it would ask twice.
    let flags = FunctionFlags::SQLITE_UTF8 | FunctionFlags::SQLITE_DETERMINISTIC | FunctionFlags::SQLITE_DIRECTONLY;
    let with = cache.clone();
    database.create_scalar_function("floodbar", 2, flags, move |context| {
        let Some((id, request)) = asked(context)? else { return Ok(None) };
        let answer = request.and_then(|request| with.calculate(&id, &request));
        match answer {
            Err(error) if error.code == Code::UnknownCalculation => Err(fault(&error.to_string())),
            answer => Ok(Some(answer.unwrap_or_else(|error| error.to_json()).to_string())),
        }
    })?;
    let with = cache.clone();
    database.create_scalar_function("floodbar_number", 4, flags, move |context| {
        let Some((id, request)) = asked(context)? else { return Ok(None) };
        let at = text(context, 2)?.unwrap_or_default();
        let mut output = json!({ "at": at });
        if let (Some(unit), Some(members)) = (text(context, 3)?, output.as_object_mut()) {
            members.insert("unit".into(), unit.into());
        }
        let prepared =
            request.and_then(|request| with.prepare(&id, &request, &json!({ "inputs": [], "outputs": [output] })));
        let number = prepared.and_then(|prepared| {
            let mut number = [f64::NAN];
            prepared.rows()?.row(&[], &mut number);
            Ok(number)
        });
        match number {
            Ok([number]) => Ok((!number.is_nan()).then_some(number)),
            Err(error) if error.code == Code::UnknownCalculation => Err(fault(&error.to_string())),
            // The query asks for what there is not, in any row of it.
            Err(error) if error.field.starts_with("/outputs") => {
                let money = "; money is never made a binary float: take it from floodbar(id, request)";
                let money = if error.code == Code::WrongType { money } else { "" };
                Err(fault(&format!("{at}: {}{money}", error.message)))
            }
            Err(_) => Ok(None),
        }
    })
}

/// The calculation and the request that a function was called with; none where one of them is NULL.
fn asked(context: &Context<'_>) -> Result<Option<(String, Result<Value, Error>)>> {
    let Some(id) = text(context, 0)? else { return Ok(None) };
    let request = match context.get_raw(1) {
        ValueRef::Null => return Ok(None),
        ValueRef::Text(text) | ValueRef::Blob(text) => floodbar::wire::document(text),
        _ => Err(Error::new(Code::BadJson, "", "a request is JSON text")),
    };
    Ok(Some((id, request)))
}

fn text(context: &Context<'_>, index: usize) -> Result<Option<String>> {
    context.get(index)
}

fn fault(message: &str) -> rusqlite::Error {
    rusqlite::Error::UserFunctionError(message.into())
}
