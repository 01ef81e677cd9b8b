//! What each calculation refuses, and what it warns of: its example with one member changed, and the code and field that the change brings.
//! The codes are those of the design: a limit of size is `too_long`, what contradicts itself `impossible`.

use floodbar::{Cache, calculate, calculate_many_text, calculate_text, prepare, solve, sweep};
use floodbar_tests::compare::{self, example};
use serde_json::{Value, json};

/// The example with members put in place, or taken out where nothing is given.
fn changed(id: &str, changes: &Value) -> Value {
    let changes = changes.as_object().expect("pointers and values");
    compare::changed(id, changes.iter().map(|(pointer, value)| (pointer.as_str(), value)))
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
        (
            "job.quote",
            json!({ "/rates/labour": { "value": true, "unit": "EUR/h" } }),
            "wrong_type",
            "/rates/labour/value",
        ),
        ("job.quote", json!({ "/rates/labour": "1000000000000 EUR/h" }), "out_of_range", ""),
        ("ink.usage", json!({ "/width": null }), "missing_field", "/width"),
        ("ink.usage", json!({ "/height": null }), "missing_field", "/height"),
        // On the third mark of that colour.
        (
            "register.marks",
            json!({ "/colours/0/marks/1/x": "150 mm", "/colours/0/marks/1/y": "400 mm" }),
            "impossible",
            "/colours/0/marks/2",
        ),
        // The printed area, and a part of a box.
        (
            "ink.usage",
            json!({ "/printed_area": "100 cm2", "/height": null, "/coverage_fraction": null }),
            "impossible",
            "/printed_area",
        ),
        (
            "ink.usage",
            json!({ "/printed_area": "100 cm2", "/width": null, "/coverage_fraction": null }),
            "impossible",
            "/printed_area",
        ),
        (
            "ink.usage",
            json!({ "/printed_area": "100 cm2", "/width": null, "/height": null }),
            "impossible",
            "/printed_area",
        ),
        ("ink.usage", json!({ "/coverage_fraction": null }), "missing_field", "/coverage_fraction"),
        (
            "ink.usage",
            json!({ "/width": null, "/height": null, "/coverage_fraction": null, "/artwork": { "printed_area": "100 cm2", "edge_share_area": "120 cm2" } }),
            "impossible",
            "/artwork/edge_share_area",
        ),
        // Darker than the patch of 50 %, which is then the one that does not fit.
        ("artwork.tone", json!({ "/readings/1/density": 0.55 }), "impossible", "/readings/2/density"),
        // 600 times as fast by one kelvin more.
        (
            "cure.equivalent",
            json!({ "/second": { "temperature": "161 degC", "hold": "0.1 s" } }),
            "impossible",
            "/second",
        ),
        // Hot, cold and hot again along one tunnel.
        (
            "dryer.fit",
            json!({ "/runs/0/readings/0/temperature": "240 degC", "/runs/0/readings/1/temperature": "40 degC", "/runs/0/readings/2/temperature": "240 degC", "/runs/0/readings/3/temperature": "40 degC" }),
            "no_solution",
            "/runs",
        ),
        // No panel gives a print more than all of its heat.
        (
            "dryer.fit",
            json!({ "/dryer": "infrared-dryer-1m2", "/runs/0/readings": [{ "at": "0.6 m", "temperature": "320 degC" }, { "at": "1.2 m", "temperature": "420 degC" }] }),
            "no_solution",
            "/runs",
        ),
        ("heat.layers", json!({ "/stages/0/top": { "flux": "-20 kW/m2" } }), "impossible", "/stages"),
        ("ink.mix", json!({ "/parts/0/name": "n".repeat(1_001) }), "too_long", "/parts/0/name"),
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
        // Edges that draw back by a fifth of the pitch leave no solid.
        ("artwork.curve", json!({ "/mesh": null, "/growth": "-100 um" }), "dark_tones_cut_off", "/ruling"),
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
    // Without a ruling there is no tone to be found; an opening has nothing within, nor has a count.
    let ask = |vary: &str, want: &str| {
        let spec = json!({ "vary": vary, "from": "30 um", "to": "40 um", "want": want, "equals": 0.05 });
        let error = solve("mesh.detail", &json!({ "mesh": "120-34" }), &spec).expect_err("nothing");
        (error.code.text(), error.field)
    };
    assert_eq!(ask("/mesh/thread", "/tone_min_fraction"), ("no_solution", "/equals".to_owned()));
    assert_eq!(ask("/mesh/thread", "/finest_line/value"), ("unknown_field", "/want".to_owned()));
    assert_eq!(ask("/mesh/thread/value", "/finest_line"), ("unknown_field", "/vary".to_owned()));
    // A gel that is the word dry is no number.
    let dry = json!({ "flash": "panel-flash", "ink": "water-based", "cloth": "cotton-jersey-180", "platen": "rubber-topped" });
    let spec = json!({ "vary": "/ink/gel", "from": "80 degC", "to": "120 degC", "want": "/least", "equals": "6 s" });
    let error = solve("flash.dwell", &dry, &spec).expect_err("no number");
    assert_eq!((error.code.text(), error.field.as_str()), ("wrong_type", "/vary"));
    // A colour has three numbers.
    let spec = json!({ "vary": "/before/7", "from": 1, "to": 2, "points": 2 });
    let error = sweep("wash.colour", &example("wash.colour"), &spec).expect_err("no eighth number");
    assert_eq!((error.code.text(), error.field.as_str()), ("unknown_field", "/vary"));
    // A member of what the answer does not hold is null.
    let gap = json!({ "span_length": "500 mm", "span_width": "450 mm", "gap": "3 mm" });
    let spec =
        json!({ "vary": "/gap", "from": "2 mm", "to": "3 mm", "points": 2, "want": ["/compared/half_width_along"] });
    let swept = sweep("tension.off_contact", &gap, &spec).expect("columns");
    assert_eq!(swept["columns"][0]["values"], json!([null, null]));
    // A rate is told in the unit of such rates.
    let rate =
        prepare("press.run", &example("press.run"), &json!({ "inputs": ["/dryer_rate"], "outputs": ["/cycle"] }));
    assert_eq!(rate.expect("prepared").inputs().next(), Some(("/dryer_rate", "/h")));
    // A name as long as a text is not repeated.
    let error = calculate(&"mesh".repeat(1_000), &request).expect_err("no such calculation");
    assert!(error.code == floodbar::Code::UnknownCalculation && error.message.len() < 100, "{error}");
    let prepared = prepare("ink.deposit", &request, &json!({ "inputs": ["/over_mesh"], "outputs": ["/wet_film"] }));
    let shown = format!("{:?}", prepared.expect("prepared"));
    assert!(shown.contains("/over_mesh") && shown.contains("/wet_film"), "{shown}");
}

/// The thickest thread that a mesh is said to bear is borne, and one that is a little thicker is not.
#[test]
fn the_thickest_thread_is_told() {
    for (count, thickest) in [("10 /cm", 999.0), ("77 /cm", 125.0), ("180 /cm", 55.0)] {
        let of = |thread: f64| {
            calculate("mesh.geometry", &json!({ "mesh": { "count": count, "thread": format!("{thread:.1} um") } }))
        };
        let message = of(thickest).expect_err("too thick").message;
        let told: f64 = message.split("thinner than ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
        of(told - 0.1).unwrap_or_else(|error| panic!("{count} {told}: {error}"));
        of(told + 0.1).expect_err("thicker than told");
    }
}

/// What was got is shown whole where it is small, else by its size.
#[test]
fn what_was_got_is_shown_or_counted() {
    let got = |prints: Value| {
        calculate("ink.usage", &changed("ink.usage", &json!({ "/prints": prints }))).expect_err("no number").got
    };
    let three = json!({ "a": 1, "b": 2, "c": 3 });
    assert_eq!(got(three.clone()), three);
    assert_eq!(got(json!({ "a": 1, "b": 2, "c": 3, "d": 4 })), "an object with 4 members");
    assert_eq!(got(json!({ "a": [1], "b": 2 })), "an object with 2 members");
    assert_eq!(got(json!({ "a": [1] })), "an object with 1 member");
    assert_eq!(got(json!([1, 2])), "an array of 2");
    assert_eq!(got(json!([])), json!([]));
}
