//! What holds of every answer and every error, whatever was asked.

use crate::weigh::bounded;
use floodbar::catalogue::{CALCULATIONS, schemas};
use floodbar::quantity::{UNITS, Unit};
use floodbar::wire::{Listed, document};
use floodbar::{Code, Error, calculate, calculate_text};
use floodbar_tests::pointers::{admits, error_admits};
use jsonschema::Validator;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::LazyLock;

static ANSWERS: LazyLock<BTreeMap<&str, Validator>> = LazyLock::new(|| {
    let of = |calculation: &&'static dyn Listed| {
        let (_, answer) = schemas(calculation.id()).expect("a calculation");
        (calculation.id(), jsonschema::validator_for(&answer).expect("a schema"))
    };
    CALCULATIONS.iter().map(of).collect()
});

/// Longest text of an error: what was sent is told by its start.
const LONGEST_ERROR: usize = 8_000;

/// Asks with a text, and judges what comes.
pub fn text(id: &str, text: &[u8]) {
    let reply = bounded(text.len(), || calculate_text(id, text));
    let again = calculate_text(id, text);
    assert_eq!(reply, again, "asked twice");
    let request = document(text);
    match (&reply, &request) {
        (Ok(answer), Ok(request)) => {
            let answer = serde_json::from_str(answer).expect("the answer is JSON");
            judge_answer(id, request, &answer);
            us_and_metric(id, request);
        }
        (Err(error), _) => judge_error(id, request.as_ref().ok(), error),
        (Ok(_), Err(error)) => panic!("an answer to what cannot be read: {error}"),
    }
}

fn listed(id: &str) -> &'static dyn Listed {
    floodbar::catalogue::find(id).expect("a calculation")
}

/// An answer fits its schema, and its notes point at what exists.
pub fn judge_answer(id: &str, request: &Value, answer: &Value) {
    let faults: Vec<String> =
        ANSWERS[id].iter_errors(answer).map(|fault| format!("{fault} at {}", fault.instance_path())).collect();
    assert!(faults.is_empty(), "the answer does not fit its schema: {faults:?}");
    for note in answer["notes"].as_array().expect("notes") {
        let field = note["field"].as_str().expect("a field");
        assert!(admits(listed(id), request, field), "a note points at {field}: {note}");
    }
}

/// An error is short, and points at what exists.
pub fn judge_error(id: &str, request: Option<&Value>, error: &Error) {
    let told = error.to_json().to_string();
    assert!(told.len() <= LONGEST_ERROR, "an error of {} bytes: {}", told.len(), error.message);
    assert_ne!(error.code, Code::Internal, "{told}");
    if let (Ok(calculation), Some(request)) = (floodbar::catalogue::find(id), request) {
        assert!(error_admits(calculation, request, error), "an error points at {}: {error}", error.field);
    }
}

/// The same request in US and in metric units has the same answer.
fn us_and_metric(id: &str, request: &Value) {
    let in_units = |units: &str| {
        let mut request = request.clone();
        request.as_object_mut().expect("an object").insert("units".to_owned(), json!(units));
        calculate(id, &request).unwrap_or_else(|error| panic!("answered, but not in {units} units: {error}"))
    };
    same(&in_units("metric"), &in_units("us"), "");
}

/// Members in words, which may tell numbers in their units.
const WORDED: [&str; 4] = ["message", "source", "why", "check"];

fn unit(members: &serde_json::Map<String, Value>) -> Option<&'static Unit> {
    let name = members.get("unit")?.as_str()?;
    UNITS.iter().find(|unit| unit.name == name)
}

fn same(metric: &Value, us: &Value, at: &str) {
    match (metric, us) {
        (Value::Object(a), Value::Object(b)) => {
            let names = |members: &serde_json::Map<String, Value>| members.keys().cloned().collect::<Vec<_>>();
            assert_eq!(names(a), names(b), "members at {at}");
            let units = unit(a).zip(unit(b));
            for (name, member) in a {
                let (other, at) = (&b[name], format!("{at}/{name}"));
                match (units, member.as_f64(), other.as_f64()) {
                    (Some((metric, us)), Some(x), Some(y)) if name == "plus_minus" => {
                        near(metric.span_to_si(x), us.span_to_si(y), &at);
                    }
                    (Some((metric, us)), Some(x), Some(y)) if ["value", "least", "most"].contains(&name.as_str()) => {
                        near(metric.to_si(x), us.to_si(y), &at);
                    }
                    (Some(_), ..) if name == "unit" => {}
                    _ if WORDED.contains(&name.as_str()) => {}
                    _ => same(member, other, &at),
                }
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "entries at {at}");
            a.iter().zip(b).enumerate().for_each(|(index, (a, b))| same(a, b, &format!("{at}/{index}")));
        }
        (Value::Number(a), Value::Number(b)) => {
            near(a.as_f64().unwrap_or_default(), b.as_f64().unwrap_or_default(), at);
        }
        _ => assert_eq!(metric, us, "metric and US at {at}"),
    }
}

fn near(metric: f64, us: f64, at: &str) {
    let within = 1e-9 * metric.abs().max(us.abs());
    assert!((metric - us).abs() <= within, "metric {metric}, US {us} at {at}");
}
