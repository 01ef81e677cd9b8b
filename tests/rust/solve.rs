//! Solving against roots that SciPy found of the same formulas, and against asking back.

use floodbar::{Error, calculate, solve};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{at, relative};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A number in a unit as a request has it.
fn quantity(value: f64, unit: &str) -> Value {
    if unit == "1" { json!(value) } else { json!({ "value": value, "unit": unit }) }
}

fn value(told: &Value) -> f64 {
    told.get("value").unwrap_or(told).as_f64().unwrap_or_else(|| panic!("{told}"))
}

/// What a row asks for: the request, and the specification.
fn asked(row: &Row) -> (Value, Value) {
    let end = |name: &str| quantity(number(row, name), &row["unit"]);
    let spec = json!({ "vary": row["vary"], "from": end("from"), "to": end("to"), "want": { "at": row["want"], "unit": row["equals_unit"] }, "equals": quantity(number(row, "equals"), &row["equals_unit"]) });
    (serde_json::from_str(&row["request"]).unwrap(), spec)
}

/// A value in the unit of the row.
fn in_unit(told: &Value, unit: &str) -> f64 {
    let request =
        json!({ "quantity": if told.is_object() { told.clone() } else { json!(told.to_string()) }, "to": unit });
    at(&calculate("unit.convert", &request).unwrap(), "/quantity/value")
}

/// The roots of the table were found by SciPy's brentq (its head names the version) on formulas in tests/python/solve_roots.py.
#[test]
fn roots_are_those_of_scipy() {
    let rows = table("solve_roots");
    assert!(rows.len() >= 10);
    for row in &rows {
        let (request, spec) = asked(row);
        let id = row["calculation"].as_str();
        let found = solve(id, &request, &spec).unwrap_or_else(|error| panic!("{id} {spec}: {error}"));
        let wanted: Vec<f64> = row["roots"].split(';').map(|root| root.parse().unwrap()).collect();
        let others = found["others"].as_array().unwrap();
        let got: Vec<f64> =
            std::iter::once(&found["value"]).chain(others).map(|told| in_unit(told, &row["unit"])).collect();
        assert_eq!(got.len(), wanted.len(), "{row:?} {found}");
        for (got, wanted) in got.iter().zip(&wanted) {
            relative(*got, *wanted, number(row, "within"), (row, &found));
        }
        relative(value(&found["reached"]), number(row, "equals"), 1e-10, &found);
        assert!(found["jump"] == false && found["vary"] == row["vary"].as_str(), "{found}");
        // Seventeen points, sixty evaluations more, and one at the solution.
        assert!(at(&found, "/evaluations") <= 78.0, "{found}");
    }
}

/// Asked back with the number that was found, the calculation gives what was wanted. The request is one without stock names and texts
/// on the way, so that the number can be put where it was varied.
#[test]
fn a_solution_asked_back_gives_what_was_wanted() {
    let mut asked_back = 0;
    for row in table("solve_roots") {
        let (mut request, spec) = asked(&row);
        let id = row["calculation"].as_str();
        let found = solve(id, &request, &spec).unwrap();
        let Some(place) = request.pointer_mut(&row["vary"]) else { continue };
        *place = found["value"].clone();
        let answer = calculate(id, &request).unwrap();
        let told = answer.pointer(&row["want"]).unwrap();
        relative(in_unit(told, &row["equals_unit"]), number(&row, "equals"), 1e-9, &found);
        asked_back += 1;
    }
    assert!(asked_back >= 9, "{asked_back}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(40, 1000), failure_persistence: None, ..ProptestConfig::default() })]

    /// What a calculation gives at a number is found to be given there: once each where the formula rises or falls throughout.
    #[test]
    fn what_an_input_gives_leads_back_to_it(thread in 26.0..89.0_f64, angle in 1.0..44.0_f64, step in 1.5..20.0_f64) {
        let cases = [
            ("mesh.geometry", json!({ "mesh": { "count": "77 /cm", "thread": "55 um" } }), "/mesh/thread", quantity(thread, "um"), ["25 um", "90 um"].map(Value::from), "/opening"),
            ("exposure.undercut", json!({ "film_gap": "50 um", "half_angle": "15 deg", "stencil_thickness": "90 um" }), "/half_angle", quantity(angle, "deg"), ["0 deg", "45 deg"].map(Value::from), "/spread"),
            ("exposure.step", json!({ "time": "95 s", "solid_step": 6 }), "/solid_step", json!(step), [json!(1), json!(21)], "/factor"),
        ];
        for (id, mut request, vary, at_value, [from, to], want) in cases {
            *request.pointer_mut(vary).unwrap() = at_value.clone();
            let wanted = calculate(id, &request).unwrap().pointer(want).unwrap().clone();
            let spec = json!({ "vary": vary, "from": from, "to": to, "want": want, "equals": wanted });
            let found = solve(id, &request, &spec).map_err(|error: Error| TestCaseError::fail(format!("{id}: {error}")))?;
            prop_assert!((value(&found["value"]) / value(&at_value) - 1.0).abs() < 1e-10, "{} {}", found, at_value);
            prop_assert_eq!(&found["others"], &json!([]));
        }
    }
}
