//! What each calculation refuses, and what it warns of: its example with one member changed, and the code and field that the change brings.
//! The codes are those of the design: a limit of size is `too_long`, what contradicts itself `impossible`.

use floodbar::catalogue::CALCULATIONS;
use floodbar::{Cache, calculate, calculate_many_text, calculate_text, prepare, solve, sweep};
use serde_json::{Value, json};

fn example(id: &str) -> Value {
    let calculation = CALCULATIONS.iter().find(|calculation| calculation.id() == id).expect("a calculation");
    serde_json::from_str(calculation.entry().prose.example).expect("an example")
}

/// The example with members put in place, or taken out where nothing is given.
fn changed(id: &str, changes: &Value) -> Value {
    let mut request = example(id);
    for (pointer, value) in changes.as_object().expect("pointers and values") {
        let (place, name) = pointer.rsplit_once('/').expect("a pointer");
        let holder = request.pointer_mut(place).unwrap_or_else(|| panic!("{id} has {place}"));
        match (holder, value) {
            (Value::Object(members), Value::Null) => drop(members.shift_remove(name)),
            (holder, value) => holder[name] = value.clone(),
        }
    }
    request
}

fn times(item: &Value, count: usize) -> Value {
    Value::Array(vec![item.clone(); count])
}

#[test]
fn one_change_of_an_example_is_refused_where_it_stands() {
    let reading = json!({ "at": "1.0 m", "temperature": "157 degC" });
    let run = json!({ "belt_speed": "2 m/min", "readings": [reading] });
    let flashed = json!({ "time": "4.2 s", "temperature": "93 degC", "measured": "surface" });
    let zone =
        json!({ "length": "1 m", "air": "160 degC", "transfer_top": "40 W/(m2.K)", "transfer_bottom": "20 W/(m2.K)" });
    let layer = json!({ "name": "board", "thickness": "1 mm", "conductivity": "0.2 W/(m.K)", "density": "700 kg/m3", "specific_heat": "1700 J/(kg.K)" });
    let source = json!({ "name": "a", "half_width": "0.1 mm", "shape": "normal" });
    let order = example("job.plan");
    let screen = order["placements"][0]["screens"][1].clone();
    let cases = [
        ("dryer.fit", json!({ "/runs": times(&run, 21) }), "too_long", "/runs"),
        ("dryer.fit", json!({ "/runs/0/readings": times(&reading, 2_001) }), "too_long", "/runs"),
        (
            "dryer.window",
            json!({ "/dryer": { "zones": times(&zone, 51), "belt_least": "1 m/min", "belt_most": "4 m/min" } }),
            "too_long",
            "/dryer/zones",
        ),
        ("dryer.window", json!({ "/dryer": { "kind": "air", "heated_length": "2 m" } }), "missing_field", "/dryer/air"),
        (
            "dryer.window",
            json!({ "/dryer": { "kind": "infrared", "heated_length": "2 m" } }),
            "missing_field",
            "/dryer/panel",
        ),
        (
            "dryer.window",
            json!({ "/dryer": { "belt_least": "1 m/min", "belt_most": "4 m/min" } }),
            "missing_field",
            "/dryer",
        ),
        (
            "flash.dwell",
            json!({ "/platen": { "from": "rubber-topped", "layers": [] } }),
            "out_of_range",
            "/platen/layers",
        ),
        (
            "flash.dwell",
            json!({ "/platen": { "from": "rubber-topped", "layers": times(&layer, 21) } }),
            "out_of_range",
            "/platen/layers",
        ),
        (
            "flash.fit",
            json!({ "/runs": times(&json!({ "dwell": "4 s", "readings": [flashed] }), 21) }),
            "too_long",
            "/runs",
        ),
        ("flash.fit", json!({ "/runs/0/readings": times(&flashed, 2_000) }), "too_long", "/runs"),
        ("register.budget", json!({ "/sources": times(&source, 101) }), "too_long", "/sources"),
        (
            "register.marks",
            json!({ "/colours": times(&example("register.marks")["colours"][0], 33) }),
            "too_long",
            "/colours",
        ),
        ("press.run", json!({ "/colours": times(&example("press.run")["colours"][0], 101) }), "too_long", "/colours"),
        ("ink.opacity", json!({ "/film": "60 um", "/mesh": null }), "impossible", "/hits"),
        ("ink.opacity", json!({ "/film": "60 um" }), "impossible", "/film"),
        (
            "job.plan",
            json!({ "/pieces": 101, "/sizes": times(&json!({ "size": "M", "pieces": 1 }), 101) }),
            "too_long",
            "/sizes",
        ),
        ("job.plan", json!({ "/sizes/1/size": "M" }), "impossible", "/sizes/1/size"),
        ("job.plan", json!({ "/due": "2027-13-02" }), "out_of_range", "/due"),
        ("job.plan", json!({ "/placements": times(&order["placements"][0], 13) }), "too_long", "/placements"),
        ("job.plan", json!({ "/placements/0/screens": times(&screen, 25) }), "too_long", "/placements/0/screens"),
        (
            "job.plan",
            json!({ "/placements/0/screens/1/name": "base white" }),
            "impossible",
            "/placements/0/screens/1/name",
        ),
        (
            "job.plan",
            json!({ "/placements/0/screens/1/coverage_fraction": null, "/placements/0/screens/1/artwork": { "printed_area": "2000 cm2", "edge_share_area": "1 cm2" } }),
            "impossible",
            "/placements/0/screens/1/artwork/printed_area",
        ),
        (
            "job.quote",
            json!({ "/price/round_unit_price_to": "0.001 EUR" }),
            "out_of_range",
            "/price/round_unit_price_to",
        ),
        (
            "job.quote",
            json!({ "/rates/blank_by_size": [{ "size": "M", "each": "3 EUR" }, { "size": "M", "each": "4 EUR" }] }),
            "impossible",
            "/rates/blank_by_size/1/size",
        ),
    ];
    let mut other = Vec::new();
    for (id, change, code, field) in cases {
        let request = changed(id, &change);
        match calculate(id, &request) {
            Ok(_) => other.push(format!("{id}, {code} at {field}: an answer")),
            Err(error) if (error.code.text(), error.field.as_str()) == (code, field) => {}
            Err(error) => other.push(format!("{id}, {code} at {field}: {} at {error}", error.code.text())),
        }
    }
    assert!(other.is_empty(), "{other:#?}");
}

#[test]
fn one_change_of_an_example_is_warned_of() {
    let cases = [
        ("ink.opacity", json!({ "/wanted_lightness": 99.5 }), "never_so_light", "/wanted_lightness"),
        (
            "job.plan",
            json!({ "/placements/0/screens/1/coverage_fraction": null, "/placements/0/screens/1/artwork": { "printed_area": "120 cm2", "edge_share_area": "1 cm2", "width": "400 mm", "height": "100 mm" } }),
            "artwork_too_large",
            "/placements/0/screens/1/artwork",
        ),
        (
            "job.plan",
            json!({ "/placements/0/screens/1/coverage_fraction": null, "/placements/0/screens/1/artwork": { "printed_area": "120 cm2", "edge_share_area": "1 cm2", "finest_gap": "0.02 mm" } }),
            "gap_too_fine",
            "/placements/0/screens/1/mesh",
        ),
    ];
    for (id, change, code, field) in cases {
        let answer = calculate(id, &changed(id, &change)).unwrap_or_else(|error| panic!("{id} {change}: {error}"));
        let notes = answer["notes"].as_array().expect("notes");
        assert!(notes.iter().any(|note| note["code"] == code && note["field"] == field), "{id} {change}: {notes:?}");
        // The example as it stands has no such fault.
        let plain = calculate(id, &example(id)).expect("an answer");
        assert!(plain["notes"].as_array().expect("notes").iter().all(|note| note["code"] != code), "{id}: {code}");
    }
}

/// Every door to the same work gives the same text, with a cache and without.
#[test]
fn a_cache_has_every_door() {
    let cache = Cache::new(10);
    let request = example("dryer.window");
    let text = request.to_string();
    let many = format!("[{text}, {{}}, {text}]");
    let plain = calculate_text("dryer.window", text.as_bytes()).expect("an answer");
    assert_eq!(cache.calculate_text("dryer.window", text.as_bytes()).as_deref(), Ok(plain.as_str()));
    let told = cache.calculate_many_text("dryer.window", many.as_bytes()).expect("answers");
    assert_eq!(calculate_many_text("dryer.window", many.as_bytes()).as_deref(), Ok(told.as_str()));
    let answers: Vec<Value> = serde_json::from_str(&told).expect("a list");
    assert_eq!(
        (answers.len(), answers[0] == answers[2], &answers[1]["error"]["code"]),
        (3, true, &json!("missing_field"))
    );
    let spec = json!({ "vary": "/film", "from": "40 um", "to": "160 um", "want": "/fastest", "equals": answers[0]["fastest"] });
    assert_eq!(cache.solve("dryer.window", &request, &spec), solve("dryer.window", &request, &spec));
    assert!(format!("{cache:?}").contains("entries: 10"), "{cache:?}");
}

/// What a search and a sweep say where there is nothing to find, and what they refuse.
#[test]
fn operators_say_why_there_is_nothing() {
    let request = json!({ "mesh": "77-55", "ink": "plastisol" });
    let spec = |values: Value| json!({ "vary": "/over_mesh", "values": values, "want": ["/wet_film"] });
    let refused = |values: Value| {
        let error = sweep("ink.deposit", &request, &spec(values)).expect_err("refused");
        (error.code.text(), error.field)
    };
    assert_eq!(refused(json!("20 um")), ("wrong_type", "/values".to_owned()));
    assert_eq!(refused(times(&json!("20 um"), 10_001)), ("too_long", "/values".to_owned()));
    // No thread of this count is so thick as all these are.
    let spec =
        json!({ "vary": "/mesh/thread", "from": "140 um", "to": "200 um", "want": "/opening", "equals": "40 um" });
    let error = solve("mesh.geometry", &json!({ "mesh": "77-55" }), &spec).expect_err("no answer anywhere");
    assert_eq!((error.code.text(), error.field.as_str()), ("no_solution", "/equals"));
    assert!(error.message.starts_with("not every point has an answer"), "{error}");
    let prepared = prepare("ink.deposit", &request, &json!({ "inputs": ["/over_mesh"], "outputs": ["/wet_film"] }));
    let shown = format!("{:?}", prepared.expect("prepared"));
    assert!(shown.contains("/over_mesh") && shown.contains("/wet_film"), "{shown}");
}
