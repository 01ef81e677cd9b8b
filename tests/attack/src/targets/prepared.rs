//! Prepared calculations: a row is what the calculation answers to the same numbers.

use crate::draw::Draw;
use crate::mutate::{request, stranger};
use crate::places::{of_answer, of_request, pointer};
use crate::seeds::{SEEDS, is_dear};
use crate::telling;
use crate::weigh::bounded;
use floodbar::quantity::UNITS;
use floodbar::wire::Kind;
use floodbar::{Code, Prepared, calculate, prepare};
use serde_json::{Value, json};

/// Rows of a prepared calculation, judged by the full answer of each.
pub fn prepared(data: &[u8]) {
    let mut draw = Draw::new(data);
    let mut seeds = draw.pick(&SEEDS);
    if is_dear(seeds.calculation.id()) && !draw.one_in(16) {
        seeds = &SEEDS[draw.below(14)];
    }
    let (id, table) = (seeds.calculation.id(), seeds.calculation.request());
    let request = request(&seeds.requests, table, 1, &mut draw);
    let answer = calculate(id, &request).unwrap_or_default();
    let numbers: Vec<_> = of_request(table, &request)
        .into_iter()
        .filter(|place| matches!(place.kind.content(), Kind::Number(_) | Kind::Count))
        .collect();
    let pointers: Vec<String> = numbers.iter().map(|place| place.pointer.clone()).collect();
    let outputs = of_answer(&answer);
    let inputs: Vec<Value> = (0..draw.below(4)).map(|_| named(&pointers, &mut draw)).collect();
    let wanted: Vec<Value> = (0..=draw.below(4)).map(|_| named(&outputs, &mut draw)).collect();
    let columns = match draw.one_in(16) {
        true => stranger(&mut draw),
        false => json!({ "inputs": inputs, "outputs": wanted }),
    };
    telling(
        || format!("{id} {request} {columns}"),
        || {
            let Ok(prepared) = bounded(0, || prepare(id, &request, &columns)) else { return };
            let rules = |pointer: &str| numbers.iter().find(|place| place.pointer == pointer).map(|place| place.rules);
            let rows = if is_dear(id) { 1 } else { 1 + draw.below(4) };
            let mut given = vec![Vec::new(); prepared.inputs().len()];
            for (column, (pointer, unit)) in given.iter_mut().zip(prepared.inputs()) {
                let unit = UNITS.iter().find(|known| known.name == unit);
                column.extend((0..rows).map(|_| match (draw.below(8), rules(pointer), unit) {
                    (0, ..) => draw.any(),
                    (_, Some(rules), Some(unit)) => {
                        let (least, most) = rules.usual.unwrap_or(rules.range).si;
                        unit.from_si(least + (most - least) * draw.share())
                    }
                    _ => (100.0 * draw.share()).round(),
                }));
            }
            judge(&prepared, &given, rows);
        },
    );
}

fn named(pointers: &[String], draw: &mut Draw<'_>) -> Value {
    let at = pointer(pointers, draw);
    match draw.below(6) {
        0 => json!({ "at": at, "unit": draw.pick(UNITS).name }),
        1 => json!({ "at": at, "equals": draw.pick(&["good", "cured", "ok", "yes"]) }),
        _ => json!(at),
    }
}

fn judge(prepared: &Prepared, given: &[Vec<f64>], rows: usize) {
    let names: Vec<(&str, &str)> = prepared.outputs().collect();
    let inputs: Vec<&[f64]> = given.iter().map(Vec::as_slice).collect();
    let mut found = vec![vec![0.5; rows]; names.len()];
    let mut outputs: Vec<&mut [f64]> = found.iter_mut().map(Vec::as_mut_slice).collect();
    let told = prepared.run(&inputs, &mut outputs).expect("columns as prepared");
    // Without columns there are no rows to count.
    for (index, row) in told.iter().enumerate() {
        let values: Vec<f64> = given.iter().map(|column| column[index]).collect();
        let explained = prepared.explain(&values).and_then(|answer| answer.to_value());
        match (&row.status, &explained) {
            (Ok(()), Ok(answer)) => {
                let count = |level: &str| {
                    answer["notes"].as_array().expect("notes").iter().filter(|note| note["level"] == level).count()
                };
                assert_eq!(
                    (row.cautions as usize, row.limits as usize),
                    (count("caution"), count("limit")),
                    "cautions and limits of {values:?}: {}",
                    answer["notes"]
                );
                for ((pointer, unit), column) in names.iter().zip(&found) {
                    let number = answer.pointer(pointer);
                    let told =
                        number.filter(|number| number["unit"] == *unit).map_or(number, |number| number.get("value"));
                    // A bare number is told as it is, a share too where its column is in per cent.
                    let bare = number.is_some_and(Value::is_number);
                    let asked = UNITS.iter().find(|known| bare && known.name == *unit);
                    let told = told.and_then(Value::as_f64).map(|told| asked.map_or(told, |unit| unit.from_si(told)));
                    if let Some(told) = told {
                        assert_eq!(told.to_bits(), column[index].to_bits(), "{pointer} in {unit} of {values:?}");
                    }
                    assert!(!column[index].is_infinite(), "{pointer} is infinite");
                }
            }
            (Err(code), Err(error)) => {
                assert_eq!(*code, error.code, "{error}");
                assert_ne!(*code, Code::Internal, "{error}");
                assert!(found.iter().all(|column| column[index].is_nan()), "a row that failed has numbers");
            }
            (row, explained) => panic!("the row is {row:?}, and explained {explained:?}: {values:?}"),
        }
    }
}
