//! Asking the library, finding numbers in its answers, and holding them against others. All of it panics where it must fail.
#![allow(clippy::missing_panics_doc)]

use floodbar::calculate;
use floodbar::catalogue::find;
use serde_json::{Value, json};
use std::borrow::Borrow;
use std::fmt::Debug;

/// The answer to a request that has one.
pub fn ask(id: &str, request: impl Borrow<Value>) -> Value {
    let request = request.borrow();
    calculate(id, request).unwrap_or_else(|error| panic!("{id} {request}: {error}"))
}

/// The example of a calculation.
#[must_use]
pub fn example(id: &str) -> Value {
    find(id).expect("a calculation").entry().prose.example.parse().expect("an example")
}

/// Puts a value where a pointer leads: what stands there is replaced, a member that is absent is added. Tells whether there is such a place.
#[must_use]
pub fn put(request: &mut Value, pointer: &str, value: Value) -> bool {
    let Some((holder, name)) = pointer.rsplit_once('/') else { return false };
    match request.pointer_mut(holder) {
        Some(Value::Object(members)) => {
            members.insert(name.to_owned(), value);
            true
        }
        Some(Value::Array(entries)) => {
            name.parse().ok().and_then(|index: usize| entries.get_mut(index)).map(|entry| *entry = value).is_some()
        }
        _ => false,
    }
}

/// A copy with a value put where a pointer leads.
#[must_use]
pub fn with(request: &Value, pointer: &str, value: Value) -> Value {
    let mut request = request.clone();
    assert!(put(&mut request, pointer, value), "{request} has no {pointer}");
    request
}

/// The example with members put in their places, or taken out where null is given.
pub fn changed<'a>(id: &str, changes: impl IntoIterator<Item = (&'a str, &'a Value)>) -> Value {
    let mut request = example(id);
    for (pointer, value) in changes {
        let (place, name) = pointer.rsplit_once('/').expect("a pointer");
        match (request.pointer_mut(place), value) {
            (Some(Value::Object(members)), Value::Null) => drop(members.shift_remove(name)),
            _ => assert!(put(&mut request, pointer, value.clone()), "{id} has no {pointer}"),
        }
    }
    request
}

/// A quantity as a request has it.
#[must_use]
pub fn quantity(value: f64, unit: &str) -> Value {
    json!({ "value": value, "unit": unit })
}

/// The number at a JSON pointer.
#[must_use]
pub fn at(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer} of {answer}"))
}

/// The time at a JSON pointer in seconds, whichever unit it is shown in.
#[must_use]
pub fn seconds(answer: &Value, pointer: &str) -> f64 {
    let unit = answer.pointer(&format!("{pointer}/unit")).and_then(Value::as_str);
    let scale = match unit {
        Some("s") => 1.0,
        Some("min") => 60.0,
        Some("h") => 3600.0,
        _ => panic!("{pointer} in {unit:?}"),
    };
    scale * at(answer, &format!("{pointer}/value"))
}

/// Whether an answer has a note of this code.
#[must_use]
pub fn noted(answer: &Value, code: &str) -> bool {
    answer["notes"].as_array().expect("notes").iter().any(|note| note["code"] == code)
}

/// Holds a number against the wanted one.
pub fn near(got: f64, wanted: f64, within: f64, what: impl Debug) {
    assert!((got - wanted).abs() <= within, "{got} is not {wanted} within {within}: {what:?}");
}

/// Holds a number against the wanted one, to a share of it.
pub fn relative(got: f64, wanted: f64, share: f64, what: impl Debug) {
    near(got, wanted, share * wanted.abs(), what);
}
