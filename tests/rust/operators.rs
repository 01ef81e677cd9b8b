//! What can be asked of any calculation: many requests, sweeps and solving, against single calls and closed forms.

use floodbar::{Error, calculate, calculate_many, solve, sweep};
use floodbar_tests::compare::{at, near, relative};
use serde_json::{Value, json};

/// Where the pieces of an order are varied its sizes go with them.
#[test]
fn sizes_go_with_the_pieces() {
    let mut order: Value = floodbar_tests::compare::example("job.plan");
    order["sizes"] =
        json!([{ "size": "S", "pieces": 30 }, { "size": "M", "pieces": 50 }, { "size": "L", "pieces": 16 }]);
    let spec = json!({ "vary": "/pieces", "values": [25, 96, 480] });
    let swept = sweep("job.plan", &order, &spec).unwrap();
    let ordered = |answer: &Value| -> Vec<u64> {
        answer["blanks"]["sizes"].as_array().unwrap().iter().map(|size| size["pieces"].as_u64().unwrap()).collect()
    };
    // 25 x (30, 50, 16) / 96 is 7.81, 13.02, 4.17: one piece is left, and 7.81 was cut most.
    assert_eq!(ordered(&swept["answers"][0]), [8, 13, 4]);
    assert_eq!(ordered(&swept["answers"][1]), [30, 50, 16]);
    assert_eq!(ordered(&swept["answers"][2]), [150, 250, 80]);
    let spec = json!({ "vary": "/pieces", "from": 25, "to": 480, "points": 2, "want": ["/blanks/sizes/0/pieces"] });
    let swept = sweep("job.plan", &order, &spec).unwrap();
    assert_eq!(swept["columns"][0]["values"], json!([8.0, 150.0]));
    // Each look begins with the sizes that were ordered.
    let spec = json!({ "vary": "/pieces", "from": 3, "to": 960, "want": "/blanks/sizes/0/pieces", "equals": 100 });
    let solved = floodbar::solve("job.plan", &order, &spec).unwrap();
    assert_eq!(solved["reached"], json!(100.0), "{solved}");
    // A single call still wants sizes that add up.
    order["pieces"] = json!(25);
    assert_eq!(calculate("job.plan", &order).unwrap_err().field, "/sizes");
}

fn refused(done: Result<Value, Error>) -> (String, String) {
    let error = done.expect_err("refused");
    (error.code.text().to_owned(), error.field)
}

#[test]
fn many_are_answered_as_one_by_one() {
    let requests = json!([{ "mesh": "77-55" }, { "mesh": "0-55" }, {}, { "mesh": "120-34", "units": "us" }, 5]);
    let answers = calculate_many("mesh.geometry", &requests).unwrap();
    for (request, answer) in requests.as_array().unwrap().iter().zip(answers.as_array().unwrap()) {
        match calculate("mesh.geometry", request) {
            Ok(wanted) => assert_eq!(*answer, wanted),
            Err(error) => assert_eq!(*answer, error.to_json()),
        }
    }
    assert_eq!(answers.as_array().unwrap().len(), 5);
    assert_eq!(calculate_many("mesh.geometry", &json!([])).unwrap(), json!([]));
    assert_eq!(refused(calculate_many("mesh.geometry", &json!({}))).0, "wrong_type");
    assert_eq!(refused(calculate_many("mesh.geometri", &json!([]))).0, "unknown_calculation");
}

/// A point of a sweep has the bits of the call that it stands for, wherever the number stands: given, in a text, in a stock row, in a
/// default.
#[test]
fn a_sweep_is_its_single_calls() {
    let usage = json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 240 });
    // Calculation, request, what is varied, where, and the request of a point.
    type Case<'a> = (&'a str, Value, &'a str, Value, &'a dyn Fn(f64) -> Value);
    let cases: [Case<'_>; 5] = [
        (
            "ink.usage",
            usage.clone(),
            "/waste_fraction",
            json!({ "from": 0, "to": 0.5, "points": 11 }),
            &|x| json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 240, "waste_fraction": x }),
        ),
        (
            "ink.usage",
            usage.clone(),
            "/ink/release_fraction",
            json!({ "from": 0.3, "to": 0.6, "points": 7 }),
            &|x| json!({ "mesh": "55-64", "ink": { "from": "plastisol-white", "release_fraction": x }, "printed_area": "460 cm2", "prints": 240 }),
        ),
        (
            "ink.usage",
            usage,
            "/prints",
            json!({ "from": 1, "to": 1000, "points": 4, "spacing": "geometric" }),
            &|x| json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": x as u32 }),
        ),
        (
            "mesh.geometry",
            json!({ "mesh": "77-55" }),
            "/mesh/thread",
            json!({ "from": "30 um", "to": "200 um", "points": 18 }),
            &|x| json!({ "mesh": { "count": "77 /cm", "thread": { "value": x, "unit": "um" } } }),
        ),
        (
            "dryer.window",
            json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180" }),
            "/dryer/air",
            json!({ "from": "140 degC", "to": "260 degC", "points": 13 }),
            &|x| json!({ "dryer": { "from": "air-dryer-2m", "air": { "value": x, "unit": "degC" } }, "ink": "plastisol", "cloth": "cotton-jersey-180" }),
        ),
    ];
    for (id, request, vary, mut spec, single) in cases {
        spec["vary"] = vary.into();
        let swept = sweep(id, &request, &spec).unwrap();
        let (xs, answers) = (swept["x"]["values"].as_array().unwrap(), swept["answers"].as_array().unwrap());
        assert_eq!(
            (xs.len() as u64, answers.len() as u64),
            (spec["points"].as_u64().unwrap(), spec["points"].as_u64().unwrap()),
            "{id}"
        );
        let mut bad = 0;
        for (x, answer) in xs.iter().zip(answers) {
            let request = single(x.as_f64().unwrap());
            match calculate(id, &request) {
                // What the number is called in the basis may differ: it was changed in the record.
                Ok(wanted) => {
                    for (name, member) in
                        wanted.as_object().unwrap().iter().filter(|(name, _)| *name != "basis" && *name != "notes")
                    {
                        assert_eq!(answer[name], *member, "{id} {vary} at {x}: {name}");
                    }
                }
                Err(error) => {
                    bad += 1;
                    assert_eq!(answer["error"]["code"], error.code.text(), "{id} {vary} at {x}");
                }
            }
        }
        assert!(bad < xs.len(), "{id} {vary}: no point has an answer");
    }
}

/// What is varied is told in the unit in which its range is told, not in the one in which answers of its kind are: a cloth's density is
/// known in kg/m3, an ink's in g/cm3.
#[test]
fn what_is_varied_is_told_in_the_unit_of_its_range() {
    let layers = json!({
        "layers": [{ "name": "cloth", "thickness": "1 mm", "conductivity": "0.1 W/(m.K)", "density": "100 kg/m3", "specific_heat": "1000 J/(kg.K)" }],
        "start": "20 degC", "stages": [{ "duration": "1 s", "top": { "temperature": "30 degC" }, "bottom": { "temperature": "20 degC" } }], "report_at": ["1 s"],
    });
    for (units, unit, values) in
        [("metric", "kg/m3", [400.0, 600.0, 800.0]), ("us", "lb/gal", [3.338_162, 5.007_242, 6.676_323])]
    {
        let mut request = layers.clone();
        request["units"] = units.into();
        let spec = json!({ "vary": "/layers/0/density", "from": "400 kg/m3", "to": "800 kg/m3", "points": 3 });
        let x = sweep("heat.layers", &request, &spec).unwrap()["x"].take();
        assert_eq!(x["unit"], unit);
        for (got, wanted) in x["values"].as_array().unwrap().iter().zip(values) {
            // NIST SP 811: 1 lb/gal is 119.8264 kg/m3.
            relative(got.as_f64().unwrap(), wanted, 2e-7, &x);
        }
    }
}

#[test]
fn columns_are_the_answers_in_one_unit() {
    let request = json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 240 });
    let want = json!(["/mass_to_mix", { "at": "/mass_to_mix", "unit": "lb" }, "/wet_film"]);
    let spec =
        json!({ "vary": "/prints", "from": 100, "to": 100_000, "points": 4, "spacing": "geometric", "want": want });
    let swept = sweep("ink.usage", &request, &spec).unwrap();
    // Never by size: the largest is over a kilogram.
    let units: Vec<_> = swept["columns"].as_array().unwrap().iter().map(|column| column["unit"].clone()).collect();
    assert_eq!(units, ["g", "lb", "um"]);
    for i in 0..4 {
        let [grams, pounds] = [0, 1].map(|column| at(&swept, &format!("/columns/{column}/values/{i}")));
        // NIST SP 811: a pound is 453.592 37 g exactly.
        relative(grams / pounds, 453.592_37, 1e-12, "grams in a pound");
    }
    assert_eq!(swept["errors"], json!([]));
    // A word, a flag, and points without an answer.
    let request = json!({ "ink": "plastisol", "log": [{ "time": "0 s", "temperature": "25 degC" }, { "time": "30 s", "temperature": "150 degC" }], "measured": "in_ink" });
    let spec = json!({ "vary": "/log/1/temperature", "values": ["150 degC", "165 degC", "9000 degC", "warm"], "want": [{ "at": "/verdict", "equals": "cured" }] });
    let swept = sweep("cure.assess", &request, &spec).unwrap();
    assert_eq!(swept["columns"][0]["values"], json!([0.0, 1.0, null, null]));
    let codes: Vec<_> = swept["errors"]
        .as_array()
        .unwrap()
        .iter()
        .map(|error| (error["index"].clone(), error["error"]["code"].clone()))
        .collect();
    assert_eq!(codes, [(json!(2), json!("out_of_range")), (json!(3), json!("bad_quantity"))]);
}

#[test]
fn whatever_belongs_there_can_be_listed() {
    let request = json!({ "mesh": "77-55", "ink": "plastisol-white" });
    let meshes = json!(["43-80", "195 tpi", { "count": "120 /cm", "thread": "34 um" }, "5-6-7"]);
    let swept =
        sweep("ink.deposit", &request, &json!({ "vary": "/mesh", "values": meshes, "want": ["/wet_film"] })).unwrap();
    for (i, mesh) in meshes.as_array().unwrap().iter().enumerate() {
        let single = calculate("ink.deposit", &json!({ "mesh": mesh, "ink": "plastisol-white" }));
        assert_eq!(
            swept["columns"][0]["values"][i],
            single.map_or(Value::Null, |answer| answer["wet_film"]["value"].clone()),
            "{mesh}"
        );
    }
    let inks = json!(["plastisol", "water-based", { "from": "silicone", "density": "2 g/cm3" }]);
    let swept = sweep("ink.deposit", &request, &json!({ "vary": "/ink", "values": inks })).unwrap();
    assert_eq!(
        swept["answers"][1]["wet_film"],
        calculate("ink.deposit", &json!({ "mesh": "77-55", "ink": "water-based" })).unwrap()["wet_film"]
    );
    assert_eq!(swept["x"]["values"], inks);
}

/// Closed forms: opening = pitch - thread; volume = (1 - n d)^2 1.5 d, which two threads share; mass in proportion to the coverage.
#[test]
fn solutions_are_those_of_closed_forms() {
    let solved = |id: &str, request: Value, spec: Value| {
        solve(id, &request, &spec).unwrap_or_else(|e| panic!("{id} {spec}: {e}"))
    };
    let mesh = json!({ "mesh": "77-55" });
    let found = solved(
        "mesh.geometry",
        mesh.clone(),
        json!({ "vary": "/mesh/thread", "from": "10 um", "to": "120 um", "want": "/opening", "equals": "70 um" }),
    );
    relative(at(&found, "/value/value"), 10_000.0 / 77.0 - 70.0, 1e-12, &found);
    relative(at(&found, "/reached/value"), 70.0, 1e-12, &found);
    assert!(found["value"]["unit"] == "um" && found["jump"] == false && found["others"] == json!([]), "{found}");

    let found = solved(
        "mesh.geometry",
        mesh,
        json!({ "vary": "/mesh/thread", "from": "5 um", "to": "110 um", "want": "/ink_volume", "equals": "20 cm3/m2" }),
    );
    assert_eq!(found["others"].as_array().unwrap().len(), 1, "{found}");
    for value in [at(&found, "/value/value"), at(&found, "/others/0/value")] {
        let d = value * 1e-6;
        relative((1.0 - 7700.0 * d).powi(2) * 1.5 * d, 20e-6, 1e-11, &found);
    }
    assert!(at(&found, "/value/value") < at(&found, "/others/0/value"));

    // Which coverage makes a kilogram do: 4 / (0.3 m x 0.4 m x film x density), by the answer at another coverage.
    let request = json!({ "mesh": "55-64", "ink": "plastisol-white", "width": "300 mm", "height": "400 mm", "coverage_fraction": 0.1, "prints": 400, "left_in_screen": "0 g" });
    let tenth = at(&calculate("ink.usage", &request).unwrap(), "/mass_printed/value");
    let found = solved(
        "ink.usage",
        request,
        json!({ "vary": "/coverage_fraction", "from": 0.01, "to": 1, "want": "/mass_printed", "equals": "1 kg" }),
    );
    relative(at(&found, "/value"), 0.1 * 1000.0 / tenth, 1e-11, &found);
    assert_eq!(found["reached"]["unit"], "g");

    // Which dryer air makes 2 m/min cure: asked back.
    let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180" });
    let found = solved(
        "dryer.window",
        request,
        json!({ "vary": "/dryer/air", "from": "165 degC", "to": "190 degC", "want": "/fastest", "equals": "3 m/min" }),
    );
    let air = json!({ "from": "air-dryer-2m", "air": found["value"] });
    let back =
        calculate("dryer.window", &json!({ "dryer": air, "ink": "plastisol", "cloth": "cotton-jersey-180" })).unwrap();
    relative(at(&back, "/fastest/value"), 3.0, 1e-5, &found);
    assert!(found["evaluations"].as_u64().unwrap() <= 77, "{found}");
}

/// Whole numbers end on neighbours, and a step over the wanted value is said to be one.
#[test]
fn whole_numbers_and_jumps() {
    let request = json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 1 });
    let spec = json!({ "vary": "/prints", "from": 1, "to": 5000, "want": "/mass_to_mix", "equals": "1 kg" });
    let found = solve("ink.usage", &request, &spec).unwrap();
    let prints = at(&found, "/value");
    assert!(prints.fract() == 0.0 && found["jump"] == true, "{found}");
    let mass = |prints: f64| {
        let mut request = request.clone();
        request["prints"] = json!(prints as u32);
        request["units"] = json!("metric");
        let answer = calculate("ink.usage", &request).unwrap();
        at(&answer, "/mass_to_mix/value") * if answer["mass_to_mix"]["unit"] == "kg" { 1000.0 } else { 1.0 }
    };
    near(mass(prints), 1000.0, (mass(prints + 1.0) - mass(prints)).abs(), "nearest whole number");
    // Blanks are whole: their number steps from 105 to 106 somewhere, and 105.5 is never taken.
    let request = json!({ "pieces": 100, "spoilage_fraction": 0.01, "confidence": 0.9 });
    let spec =
        json!({ "vary": "/spoilage_fraction", "from": 0.001, "to": 0.2, "want": "/start_with", "equals": 105.5 });
    let found = solve("press.overs", &request, &spec).unwrap();
    assert_eq!(found["jump"], true, "{found}");
}

/// A solution that is exact at an end of the range is found once, where the answer rises and where it falls.
#[test]
fn an_exact_solution_is_found_once() {
    for (vary, from, to, value) in [
        ("/heated_length", "1 m", "2 m", 2.0),
        ("/heated_length", "2 m", "3 m", 2.0),
        ("/belt_speed", "0.5 m/s", "1 m/s", 30.0),
        ("/belt_speed", "0.25 m/s", "0.5 m/s", 30.0),
    ] {
        let request = json!({ "heated_length": "2 m", "belt_speed": "0.5 m/s" });
        let spec = json!({ "vary": vary, "from": from, "to": to, "want": "/dwell", "equals": "4 s" });
        let found = solve("dryer.dwell", &request, &spec).unwrap();
        assert_eq!(
            (&found["value"]["value"], &found["reached"]["value"], &found["others"], &found["jump"]),
            (&json!(value), &json!(4.0), &json!([]), &json!(false)),
            "{vary} {from} {to}: {found}"
        );
    }
}

/// What stands beside the number that is varied, in its record or list, is checked before any point of it is asked.
#[test]
fn what_stands_beside_the_varied_is_checked() {
    let layer = |density: &str| json!({ "name": "cloth", "thickness": "1 mm", "conductivity": "0.1 W/(m.K)", "density": density, "specific_heat": "1000 J/(kg.K)" });
    let stack = |densities: [&str; 2]| json!({ "layers": densities.map(layer), "start": "20 degC", "stages": [{ "duration": "1 s" }], "report_at": ["1 s"] });
    for (id, request, vary, field) in [
        ("mesh.geometry", json!({ "mesh": { "count": "2 /km", "thread": "55 um" } }), "/mesh/thread", "/mesh/count"),
        ("mesh.geometry", json!({ "mesh": { "thread": "55 um" } }), "/mesh/thread", "/mesh/count"),
        ("heat.layers", stack(["-1 kg/m3", "300 kg/m3"]), "/layers/0/thickness", "/layers/0/density"),
        ("heat.layers", stack(["300 kg/m3", "-1 kg/m3"]), "/layers/0/thickness", "/layers/1/density"),
    ] {
        let wanted = calculate(id, &request).unwrap_err();
        assert_eq!(wanted.field, field);
        let spec = json!({ "vary": vary, "from": "50 um", "to": "60 um", "points": 2 });
        let error = sweep(id, &request, &spec).expect_err("refused as a whole");
        assert_eq!((error.code, &error.field, &error.got), (wanted.code, &wanted.field, &wanted.got), "{id}");
    }
}

#[test]
fn what_is_asked_wrongly_is_named() {
    let mesh = json!({ "mesh": "77-55" });
    let base = json!({ "vary": "/mesh/thread", "from": "30 um", "to": "60 um", "points": 3 });
    let with = |name: &str, value: Value| {
        let mut spec = base.clone();
        spec[name] = value;
        refused(sweep("mesh.geometry", &mesh, &spec))
    };
    let named = |code: &str, field: &str| (code.to_owned(), field.to_owned());
    assert_eq!(with("vary", json!("/mesh/tread")), named("unknown_field", "/vary"));
    assert_eq!(with("vary", json!("mesh")), named("unknown_field", "/vary"));
    assert_eq!(with("vary", json!("/mesh")), named("wrong_type", "/vary"));
    assert_eq!(with("vary", json!(3)), named("wrong_type", "/vary"));
    assert_eq!(with("from", json!("30 g")), named("wrong_dimension", "/from"));
    assert_eq!(with("from", json!(30)), named("bad_quantity", "/from"));
    assert_eq!(with("from", json!("70 um")), named("impossible", "/from"));
    assert_eq!(with("from", json!("30 +/- 2 um")), named("impossible", "/from"));
    assert_eq!(with("to", Value::Null), named("missing_field", "/to"));
    assert_eq!(with("points", json!(0)), named("out_of_range", "/points"));
    assert_eq!(with("points", json!(2.5)), named("out_of_range", "/points"));
    assert_eq!(with("points", json!(10_001)), named("too_long", "/points"));
    assert_eq!(with("values", json!(["30 um"])), named("impossible", "/from"));
    assert_eq!(with("spacing", json!("even")), named("out_of_range", "/spacing"));
    assert_eq!(with("step", json!(1)), named("unknown_field", "/step"));
    assert_eq!(with("want", json!(["/opening", "/openings"])), named("unknown_field", "/want/1"));
    assert_eq!(with("want", json!([{ "at": "/opening", "unit": "g" }])), named("bad_quantity", "/want/0/unit"));
    assert_eq!(with("want", json!([{ "at": "/opening", "units": "mm" }])), named("unknown_field", "/want/0/units"));
    assert_eq!(with("want", json!("/opening")), named("wrong_type", "/want"));
    assert_eq!(refused(sweep("mesh.geometry", &json!({ "mesh": 5 }), &base)), named("wrong_type", "/mesh"));
    assert_eq!(refused(sweep("mesh.geometry", &mesh, &json!([]))), named("wrong_type", ""));
    let zero = json!({ "vary": "/waste_fraction", "from": 0, "to": 1, "points": 3, "spacing": "geometric" });
    let usage = json!({ "mesh": "55-64", "ink": "plastisol", "printed_area": "1 cm2", "prints": 1 });
    assert_eq!(refused(sweep("ink.usage", &usage, &zero)), named("impossible", "/from"));
    // A verdict is a word.
    let stencil = json!({ "mesh": "77-55", "coated_thickness": "100 um" });
    let spec =
        json!({ "vary": "/coated_thickness", "from": "80 um", "to": "120 um", "points": 3, "want": ["/verdict"] });
    assert_eq!(refused(sweep("stencil.thickness", &stencil, &spec)), named("wrong_type", "/want/0"));
    // Nothing to find: the message says what the answer does at the ends.
    let spec =
        json!({ "vary": "/mesh/thread", "from": "30 um", "to": "60 um", "want": "/opening", "equals": "200 um" });
    let error = solve("mesh.geometry", &mesh, &spec).unwrap_err();
    assert_eq!((error.code.text(), error.field.as_str()), ("no_solution", "/equals"));
    assert!(error.message.contains("99.87") && error.message.contains("69.87"), "{}", error.message);
    let mut spec = spec;
    spec["from"] = json!("60 um");
    assert_eq!(refused(solve("mesh.geometry", &mesh, &spec)), named("impossible", "/from"));
}
