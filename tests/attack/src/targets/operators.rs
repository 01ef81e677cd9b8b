//! Sweeps and solutions.

use crate::draw::Draw;
use crate::mutate::{content, request, stranger};
use crate::places::{Place, of_answer, of_request, pointer};
use crate::seeds::{SEEDS, Seeds, is_dear};
use crate::weigh::bounded;
use crate::{judge, telling};
use floodbar::wire::Kind;
use floodbar::{Error, calculate};
use floodbar_tests::compare;
use serde_json::{Map, Value, json};

/// What an operator is asked.
struct Asked {
    seeds: &'static Seeds,
    request: Value,
    spec: Value,
}

impl Asked {
    fn id(&self) -> &'static str {
        self.seeds.calculation.id()
    }

    fn told(&self) -> String {
        format!("{} {} {}", self.id(), self.request, self.spec)
    }

    /// An error points into the request or into the specification.
    fn judge_error(&self, error: &Error) {
        let place = error.field.rsplit_once('/').map_or("", |(place, _)| place);
        let is_there = |at: &str| self.spec.pointer(at).is_some();
        if !(is_there(&error.field) || is_there(place)) {
            judge::judge_error(self.id(), None, error);
            assert!(
                floodbar_tests::pointers::error_admits(self.seeds.calculation, &self.request, error),
                "an error points at {}: {error}",
                error.field
            );
        }
    }
}

fn drawn(data: &[u8], specify: impl FnOnce(&Asked, &[Place], &[String], &mut Draw<'_>) -> Map<String, Value>) -> Asked {
    let mut draw = Draw::new(data);
    let mut seeds = draw.pick(&SEEDS);
    // What marches through heat is asked now and then.
    if is_dear(seeds.calculation.id()) && !draw.one_in(16) {
        seeds = &SEEDS[draw.below(14)];
    }
    let request = request(&seeds.requests, seeds.calculation.request(), 1, &mut draw);
    let answer = calculate(seeds.calculation.id(), &request).unwrap_or_default();
    let mut asked = Asked { seeds, request, spec: Value::Null };
    let (inputs, outputs) = (of_request(seeds.calculation.request(), &asked.request), of_answer(&answer));
    let mut spec = specify(&asked, &inputs, &outputs, &mut draw);
    if draw.one_in(12) {
        let name = spec.keys().nth(draw.below(spec.len())).cloned().unwrap_or_default();
        match draw.one_in(3) {
            true => drop(spec.shift_remove(&name)),
            false => drop(spec.insert(name, stranger(&mut draw))),
        }
    }
    asked.spec = spec.into();
    asked
}

fn varied<'a>(places: &'a [Place], draw: &mut Draw<'_>) -> Option<&'a Place> {
    let numbers: Vec<&Place> =
        places.iter().filter(|place| matches!(place.kind.content(), Kind::Number(_) | Kind::Count)).collect();
    match draw.one_in(8) {
        false if !numbers.is_empty() => Some(*draw.pick(&numbers)),
        _ if places.is_empty() => None,
        _ => Some(draw.pick(places)),
    }
}

fn put(spec: &mut Map<String, Value>, name: &str, value: Value) {
    spec.insert(name.to_owned(), value);
}

fn ends(spec: &mut Map<String, Value>, place: Option<&Place>, draw: &mut Draw<'_>) {
    for name in ["from", "to"] {
        put(spec, name, place.map_or(json!(1), |place| content(place.kind, place.rules, draw, 0)));
    }
}

/// A sweep has an entry for each point, and each answer is as good as one that is asked by itself.
pub fn sweep(data: &[u8]) {
    let asked = drawn(data, |asked, inputs, outputs, draw| {
        let mut spec = Map::new();
        let place = varied(inputs, draw);
        put(&mut spec, "vary", json!(place.map_or("/nowhere", |place| place.pointer.as_str())));
        match place.filter(|_| draw.one_in(3)) {
            Some(place) => {
                let values = (0..draw.below(5)).map(|_| content(place.kind, place.rules, draw, 0));
                let values = values.collect();
                put(&mut spec, "values", values);
            }
            None => {
                ends(&mut spec, place, draw);
                let most = if is_dear(asked.id()) { 3 } else { 12 };
                put(&mut spec, "points", json!(draw.below(most)));
                if draw.one_in(3) {
                    put(&mut spec, "spacing", json!("geometric"));
                }
            }
        }
        if draw.one_in(2) {
            let wants: Vec<String> = (0..=draw.below(3)).map(|_| pointer(outputs, draw)).collect();
            put(&mut spec, "want", json!(wants));
        }
        spec
    });
    telling(
        || asked.told(),
        || {
            let swept = bounded(0, || floodbar::sweep(asked.id(), &asked.request, &asked.spec));
            assert_eq!(swept, floodbar::sweep(asked.id(), &asked.request, &asked.spec), "swept twice");
            match &swept {
                Ok(swept) => judge_swept(&asked, swept),
                Err(error) => asked.judge_error(error),
            }
        },
    );
}

/// The request of a point where values are listed: what is varied may be absent from the request, and what is said of it points into it.
fn of_point(asked: &Asked, index: usize) -> Value {
    let mut request = asked.request.clone();
    if let (Some(vary), Some(value)) = (asked.spec["vary"].as_str(), asked.spec["values"].get(index)) {
        // Within a name of the stock there is no place, and notes lead into the name.
        let _is_there = compare::put(&mut request, vary, value.clone());
    }
    request
}

fn judge_swept(asked: &Asked, swept: &Value) {
    let points = swept["x"]["values"].as_array().expect("points").len();
    for (index, answer) in swept["answers"].as_array().into_iter().flatten().enumerate() {
        if answer.get("error").is_none() {
            judge::judge_answer(asked.id(), &of_point(asked, index), answer);
        }
    }
    match swept.get("columns").and_then(Value::as_array) {
        Some(columns) => {
            let lengths = columns.iter().map(|column| column["values"].as_array().expect("values").len());
            assert!(lengths.into_iter().all(|length| length == points), "columns of another length");
        }
        None => assert_eq!(swept["answers"].as_array().expect("answers").len(), points),
    }
}

/// A solution lies between the ends, and gives what was wanted.
pub fn solve(data: &[u8]) {
    let asked = drawn(data, |_, inputs, outputs, draw| {
        let mut spec = Map::new();
        let place = varied(inputs, draw);
        put(&mut spec, "vary", json!(place.map_or("/nowhere", |place| place.pointer.as_str())));
        ends(&mut spec, place, draw);
        put(&mut spec, "want", json!(pointer(outputs, draw)));
        put(&mut spec, "equals", json!(1));
        spec
    });
    // What the answer is without solving is what is wanted: so there is a solution now and then.
    let answer = calculate(asked.id(), &asked.request).unwrap_or_default();
    let mut asked = asked;
    if let Some(equals) = asked.spec["want"].as_str().and_then(|want| answer.pointer(want)).cloned()
        && let Some(spec) = asked.spec.as_object_mut()
        && spec.contains_key("equals")
    {
        spec["equals"] = equals;
    }
    telling(
        || asked.told(),
        || {
            let solved = bounded(0, || floodbar::solve(asked.id(), &asked.request, &asked.spec));
            assert_eq!(solved, floodbar::solve(asked.id(), &asked.request, &asked.spec), "solved twice");
            match &solved {
                Ok(solved) => {
                    let evaluations = solved["evaluations"].as_u64().expect("a number of evaluations");
                    assert!(evaluations <= MOST_EVALUATIONS, "{evaluations} evaluations");
                }
                Err(error) => asked.judge_error(error),
            }
        },
    );
}

/// 17 points are scanned, and 60 evaluations more for each change of sign between two of them.
const MOST_EVALUATIONS: u64 = 17 + 16 * 60;
