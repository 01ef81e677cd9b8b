//! The shared vectors: read from the files of `vectors`, asked, judged.

use serde_json::Value;
use std::fs;

/// The vectors of all files, in the order of the files' names, as every layer takes them.
///
/// # Panics
/// Where a file cannot be read or is no list.
#[must_use]
pub fn vectors() -> Vec<Value> {
    let folder = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/vectors")).expect("the folder of vectors");
    let mut paths: Vec<_> = folder.map(|entry| entry.expect("an entry").path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    paths.sort();
    let read =
        |path| serde_json::from_slice::<Vec<Value>>(&fs::read(path).expect("a file")).expect("a list of vectors");
    paths.iter().flat_map(read).collect()
}

/// What a vector sends: its raw text, or its request as text.
#[must_use]
pub fn text(vector: &Value) -> String {
    vector["text"].as_str().map_or_else(|| vector["request"].to_string(), str::to_owned)
}

/// What the library answers: an answer or `{"error": ...}`, as text.
#[must_use]
pub fn reply(vector: &Value) -> String {
    let id = vector["calculation"].as_str().unwrap_or_default();
    floodbar::calculate_text(id, text(vector).as_bytes()).unwrap_or_else(|error| error.to_json().to_string())
}

/// Everything in the reply that is not as the vector wants it.
#[must_use]
pub fn faults(vector: &Value, reply: &Value) -> Vec<String> {
    match vector.get("error") {
        Some(wanted) => error_faults(wanted, &reply["error"]),
        None if reply.get("error").is_some() => vec![format!("an answer is wanted, got {reply}")],
        None => {
            let wanted = vector["want"].as_object().into_iter().flatten();
            wanted.filter_map(|(pointer, wanted)| value_fault(pointer, wanted, reply.pointer(pointer))).collect()
        }
    }
}

fn error_faults(wanted: &Value, got: &Value) -> Vec<String> {
    let same =
        ["code", "field", "got"].into_iter().filter(|name| wanted.get(*name).is_some_and(|w| !equal(w, &got[*name])));
    let mut faults: Vec<_> = same.map(|name| format!("{name}: wanted {}, got {got}", wanted[name])).collect();
    let listed = got["allowed"].as_array().map_or(&[][..], Vec::as_slice);
    for entry in wanted["allowed"].as_array().into_iter().flatten().filter(|entry| !listed.contains(entry)) {
        faults.push(format!("allowed lacks {entry}: {got}"));
    }
    faults
}

fn value_fault(pointer: &str, wanted: &Value, got: Option<&Value>) -> Option<String> {
    let as_wanted = match (wanted.get("value").and_then(Value::as_f64), wanted.get("within").and_then(Value::as_f64)) {
        (Some(value), Some(within)) => got.and_then(Value::as_f64).is_some_and(|got| (got - value).abs() <= within),
        _ if wanted.is_null() => got.is_none(),
        _ => got.is_some_and(|got| equal(wanted, got)),
    };
    (!as_wanted).then(|| format!("{pointer}: wanted {wanted}, got {got:?}"))
}

/// Equal as JSON has it: 26 and 26.0 are one number.
fn equal(a: &Value, b: &Value) -> bool {
    match (a.as_f64(), b.as_f64()) {
        (Some(a), Some(b)) => a == b,
        _ => a == b,
    }
}
