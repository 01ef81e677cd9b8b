//! The schemas say what the reader does: they take all that it takes, and refuse what its rules for names, types, words, dimensions,
//! choices and plain numbers refuse.

use floodbar::catalogue::{CALCULATIONS, describe, schemas};
use floodbar::wire::schema::BEYOND;
use floodbar::{Error, calculate};
use floodbar_tests::budget::{cases, every};
use floodbar_tests::vectors::vectors;
use jsonschema::Validator;
use proptest::prelude::RngExt as _;
use proptest::test_runner::{RngAlgorithm, TestRng};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Validators of requests and of answers, by calculation.
fn validators() -> (BTreeMap<&'static str, Validator>, BTreeMap<&'static str, Validator>) {
    let built = |schema: &Value| jsonschema::validator_for(schema).expect("a schema");
    let of = |id: &'static str| {
        let (request, answer) = schemas(id).expect("a calculation");
        ((id, built(&request)), (id, built(&answer)))
    };
    CALCULATIONS.iter().map(|calculation| of(calculation.id())).unzip()
}

fn faults(validator: &Validator, value: &Value) -> String {
    validator.iter_errors(value).map(|e| format!("{} at {}; ", e, e.instance_path())).collect()
}

#[test]
fn what_is_answered_fits_the_schemas() {
    let (requests, answers) = validators();
    let mut wrong = String::new();
    for vector in vectors().iter().filter(|v| v.get("want").is_some() && v.get("request").is_some()) {
        let id = vector["calculation"].as_str().unwrap();
        let mut judge = |what: &str, faults: String| {
            if !faults.is_empty() {
                wrong.push_str(&format!("{what} of {id}, {}: {faults}\n", vector["name"]));
            }
        };
        judge("request", faults(&requests[id], &vector["request"]));
        if let Ok(answer) = calculate(id, &vector["request"]) {
            judge("answer", faults(&answers[id], &answer));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// Why a schema cannot know what the reader refuses, by the error's code; none for what it must refuse too.
fn beyond(id: &str, error: &Error) -> bool {
    let message = error.message.as_str();
    match error.code.text() {
        // The one calculation that takes any quantity.
        "wrong_dimension" | "bad_quantity" | "missing_field" if id == "unit.convert" => true,
        "unknown_field" | "wrong_type" | "wrong_dimension" => false,
        // Some needs depend on the values of other fields.
        "missing_field" => message.contains("needs") || message.contains("go together"),
        // Numbers beyond all measure, and doubts.
        "bad_quantity" => {
            ["too large", "is negative", "the doubt", "a doubt"].iter().any(|fault| message.contains(fault))
        }
        // Plain numbers stand in the schema with their range; quantities in a unit do not.
        "out_of_range" => !(error.got.is_number() && message.contains("is out of range: allowed")),
        // What the catalogue says that only the reader can know.
        code => BEYOND.iter().any(|(listed, _)| *listed == code),
    }
}

/// Where the schema takes what the reader refuses, or refuses what it takes.
fn disagreement(validator: &Validator, id: &str, request: &Value) -> Option<String> {
    match (calculate(id, request), validator.is_valid(request)) {
        (Ok(_), false) => {
            Some(format!("{id} answers {request}, which its schema refuses: {}", faults(validator, request)))
        }
        (Err(error), true) if !beyond(id, &error) => {
            Some(format!("{id} refuses {request}, which its schema takes: {error} at {}", error.field))
        }
        _ => None,
    }
}

#[test]
fn what_is_refused_fails_the_schema() {
    let (requests, _) = validators();
    let refused: Vec<Value> =
        vectors().into_iter().filter(|v| v.get("request").is_some() && v.get("error").is_some()).collect();
    let known = refused
        .iter()
        .filter_map(|v| Some((v["calculation"].as_str()?, requests.get(v["calculation"].as_str()?)?, &v["request"])));
    let wrong: Vec<String> = known.filter_map(|(id, schema, request)| disagreement(schema, id, request)).collect();
    assert!(refused.len() > 150, "{} vectors", refused.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What takes the place of a value.
fn strangers() -> Vec<Value> {
    vec![
        json!(null),
        json!(true),
        json!(-1),
        json!(0.5),
        json!(2),
        json!(2.5),
        json!(1e9),
        json!("x"),
        json!("5 mm"),
        json!("5"),
        json!("12 ft/min"),
        json!("40 \u{3bc}m"),
        json!("1/16 in"),
        json!("2 1/2 in"),
        json!("160 \u{2103}"),
        json!("30 %"),
        json!("20 s"),
        json!("0.4 +/- 0.1"),
        json!({ "value": 5, "unit": "mm" }),
        json!({ "value": 5 }),
        json!({ "value": "5", "unit": "mm" }),
        json!({ "value": 5, "unit": "mm", "plus_minus": null }),
        json!({ "value": 5, "unit": "mm", "of": 1 }),
        json!([]),
        json!({}),
        json!("plastisol"),
        json!({ "from": "plastisol" }),
        json!({ "from": "cotton-jersey-180", "thickness": null }),
        json!("metric"),
    ]
}

/// Puts something else in one place of a request: a stranger, or nothing, or one member more.
fn mutate(request: &mut Value, rng: &mut TestRng, strangers: &[Value]) {
    let mut place = request;
    loop {
        let children = match &*place {
            Value::Object(members) => members.len(),
            Value::Array(items) => items.len(),
            _ => 0,
        };
        let deeper = children > 0 && rng.random_bool(0.67);
        if !deeper {
            break;
        }
        let index = rng.random_range(0..children);
        place = match place {
            Value::Object(members) => members.values_mut().nth(index).expect("a member"),
            Value::Array(items) => &mut items[index],
            _ => return,
        };
    }
    let stranger = strangers[rng.random_range(0..strangers.len())].clone();
    match place {
        Value::Object(members) if rng.random_bool(0.67) => {
            let names: Vec<String> = members.keys().cloned().collect();
            match (rng.random_range(0..3), names.is_empty()) {
                (0, false) => drop(members.shift_remove(&names[rng.random_range(0..names.len())])),
                (1, _) => drop(members.insert("stranger".into(), stranger)),
                _ => drop(members.insert(MEMBERS[rng.random_range(0..MEMBERS.len())].into(), stranger)),
            }
        }
        other => *other = stranger,
    }
}

/// Names that one record or another has, for members that may fit.
const MEMBERS: &[&str] = &[
    "units",
    "explain",
    "from",
    "width",
    "height",
    "coverage_fraction",
    "printed_area",
    "edge_length",
    "strokes",
    "hold",
    "temperature",
    "second",
    "air",
    "transfer",
    "panel",
    "exchange_fraction",
    "flux",
    "weave",
    "thread",
    "pot_life",
    "use_rate",
    "gap",
    "dwell",
    "belt_speed",
];

#[test]
fn mutated_requests_are_judged_alike() {
    let (requests, _) = validators();
    let entries = describe()["calculations"].as_array().unwrap().clone();
    let mut sources: Vec<(String, Value)> =
        entries.iter().map(|entry| (entry["id"].as_str().unwrap().to_owned(), entry["example"].clone())).collect();
    let answered = vectors().into_iter().filter(|v| v.get("want").is_some() && v.get("request").is_some());
    sources.extend(answered.map(|v| (v["calculation"].as_str().unwrap().to_owned(), v["request"].clone())));
    // Marches through heat cost more than they tell here.
    let dear =
        ["heat.layers", "dryer.window", "dryer.fit", "flash.dwell", "flash.run", "flash.fit", "job.plan", "shop.learn"];
    let strangers = strangers();
    let mut rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let (mut wrong, mut seen, mut valid) = (BTreeSet::new(), 0, 0);
    while seen < 10_000 {
        let (id, request) = &sources[rng.random_range(0..sources.len())];
        if dear.contains(&id.as_str()) && !rng.random_bool(0.05) {
            continue;
        }
        let mut request = request.clone();
        for _ in 0..rng.random_range(1..3) {
            mutate(&mut request, &mut rng, &strangers);
        }
        seen += 1;
        valid += usize::from(requests[id.as_str()].is_valid(&request));
        wrong.extend(disagreement(&requests[id.as_str()], id, &request));
    }
    assert!(valid * 20 > seen, "{valid} of {seen} fit their schemas");
    assert!(wrong.is_empty(), "{} of {seen}: {:#?}", wrong.len(), wrong.iter().take(12).collect::<Vec<_>>());
}

/// A mesh in text: every joint of these parts.
#[test]
fn texts_of_a_mesh_are_judged_alike() {
    let (requests, _) = validators();
    let numbers = ["77", "61.5", ".5", "5.", "1..2", "1/2", "77 1/2", "1e2", "-77", "+77", "1e999", "x", ""];
    let joints = ["-", " \u{2013} ", "/", " / ", "--", "x", " ", "+/-", ""];
    let units = ["", "tpi", " /in", " 1/cm", "/cm", " um", " /[in_i]", " /cm +/- 1 %"];
    let mut texts = vec![String::new()];
    for parts in [&numbers[..], &joints, &numbers, &units] {
        texts = texts.iter().flat_map(|text| parts.iter().map(move |part| format!("{text}{part}"))).collect();
    }
    let (mut wrong, mut read) = (Vec::new(), 0);
    let mut runs = every(7);
    for text in texts.into_iter().filter(|_| runs()) {
        let request = json!({ "mesh": text });
        read += usize::from(calculate("mesh.geometry", &request).is_ok());
        wrong.extend(disagreement(&requests["mesh.geometry"], "mesh.geometry", &request));
    }
    assert!(read > cases(7, 50) as usize, "{read} meshes");
    assert!(wrong.is_empty(), "{} of them: {:#?}", wrong.len(), wrong.iter().take(12).collect::<Vec<_>>());
}
