//! Doubts of a request, asked as users ask: what is carried into the answer, and what is said of it.

use floodbar::{Cache, Error, calculate, calculate_text, prepare, solve, sweep};
use floodbar_tests::budget::every;
use floodbar_tests::compare::{ask, at, near, noted, relative};
use serde_json::{Value, json};

/// Half-width of 95 % over the standard deviation, of a normal distribution.
const Z: f64 = 1.959_963_984_540_054;
/// Draws of a closed form: by them a standard deviation is known to 1 / sqrt(2 x 200 000) = 0.16 %, an end of the shortest interval of a
/// normal distribution to about 0.02 standard deviations (its width hardly changes while it is moved). Five of the one, four of the other.
const OF_STANDARD: f64 = 0.008;
const OF_END: f64 = 0.08;

fn text_of(id: &str, request: &Value) -> String {
    calculate_text(id, request.to_string().as_bytes()).unwrap_or_else(|error| panic!("{id} {request}: {error}"))
}

fn refused(done: Result<Value, Error>) -> (String, String) {
    let error = done.expect_err("refused");
    (error.code.text().to_owned(), error.field)
}

fn with(request: &Value, members: Value) -> Value {
    let mut request = request.clone();
    for (name, member) in members.as_object().unwrap() {
        request[name] = member.clone();
    }
    request
}

/// Leaves every half-width out, of a request or of an answer.
fn without(value: &mut Value) {
    match value {
        Value::Object(members) => {
            for name in ["plus_minus", "least", "most"] {
                if members.contains_key("value") {
                    members.remove(name);
                }
            }
            members.values_mut().for_each(without);
        }
        Value::Array(items) => items.iter_mut().for_each(without),
        _ => {}
    }
}

/// What is said of a field by a note of this code.
fn said<'a>(answer: &'a Value, code: &str, field: &str) -> Option<&'a str> {
    let notes = answer["notes"].as_array().unwrap();
    notes.iter().find(|note| note["code"] == code && note["field"] == field).and_then(|note| note["message"].as_str())
}

/// The entry of the list of doubts for a member of the answer.
fn doubt<'a>(answer: &'a Value, pointer: &str) -> Option<&'a Value> {
    answer["doubt"].as_array().unwrap().iter().find(|doubt| doubt["at"] == pointer)
}

fn half_width(answer: &Value, pointer: &str) -> f64 {
    let doubt = doubt(answer, pointer).unwrap_or_else(|| panic!("{pointer} of {}", answer["doubt"]));
    at(doubt, "/plus_minus")
}

/// Requests of all kinds with doubts in them, written as objects, so that they can be left out.
fn doubted() -> Vec<(&'static str, Value)> {
    let quantity = |value: f64, unit: &str, half: f64| json!({ "value": value, "unit": unit, "plus_minus": half });
    let number = |value: f64, half: f64| json!({ "value": value, "plus_minus": half });
    vec![
        (
            "mesh.geometry",
            json!({ "mesh": { "count": quantity(77.0, "/cm", 2.0), "thread": quantity(55.0, "um", 3.0) } }),
        ),
        (
            "ink.usage",
            json!({ "mesh": "55-64", "ink": { "from": "plastisol-white", "release_fraction": number(0.4, 0.08) }, "printed_area": quantity(460.0, "cm2", 20.0), "prints": 240, "waste_fraction": number(0.1, 0.05) }),
        ),
        ("exposure.step", json!({ "time": quantity(95.0, "s", 5.0), "solid_step": number(6.0, 0.5) })),
        (
            "exposure.rescale",
            json!({ "time": quantity(90.0, "s", 4.0), "distance": { "from": quantity(60.0, "cm", 1.0), "to": "75 cm" }, "mesh_factor": { "from": 1, "to": number(1.7, 0.2) } }),
        ),
        (
            "cure.equivalent",
            json!({ "from": { "temperature": quantity(320.0, "degF", 4.0), "hold": quantity(1.0, "min", 0.1) }, "activation_energy": quantity(90.0, "kJ/mol", 8.0), "to": { "temperature": "150 degC" }, "units": "us" }),
        ),
        ("press.overs", json!({ "pieces": 240, "spoilage_fraction": number(0.03, 0.01), "confidence": 0.9 })),
        (
            "register.budget",
            json!({ "sources": [{ "name": "a", "half_width": quantity(0.2, "mm", 0.02), "shape": "normal" }, "shirt-creep"], "colours": 3, "trap": "0.5 mm" }),
        ),
        (
            "tension.off_contact",
            json!({ "span_length": "500 mm", "span_width": "450 mm", "gap": quantity(3.0, "mm", 0.5), "tension": quantity(25.0, "N/cm", 1.0) }),
        ),
        (
            "heat.layers",
            json!({ "layers": [{ "name": "cloth", "thickness": "0.5 mm", "conductivity": "0.06 W/(m.K)", "density": "360 kg/m3", "specific_heat": quantity(1340.0, "J/(kg.K)", 50.0) }], "start": "25 degC", "stages": [{ "duration": "10 s", "top": { "air": "160 degC", "transfer": "30 W/(m2.K)" }, "bottom": {} }], "report_at": ["5 s", "10 s"] }),
        ),
        (
            "dryer.window",
            json!({ "dryer": { "from": "air-dryer-2m", "air": quantity(180.0, "degC", 3.0) }, "ink": "plastisol", "cloth": "cotton-jersey-180", "film": quantity(40.0, "um", 4.0) }),
        ),
        (
            "flash.dwell",
            json!({ "flash": "panel-flash", "ink": "plastisol", "cloth": "cotton-jersey-180", "platen": "rubber-topped", "platen_start": quantity(45.0, "degC", 5.0) }),
        ),
        (
            "job.plan",
            json!({ "pieces": 24, "cloth": "cotton-jersey-180", "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [{ "name": "a", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": number(0.1, 0.02) }] }], "shop": { "from": "starter-shop", "exposure": { "time": quantity(95.0, "s", 5.0), "solid_step": 6, "tested_on": "77-55" } } }),
        ),
    ]
}

/// Words that only doubts say.
fn of_doubts(note: &Value) -> bool {
    ["doubt_", "draws_", "fewer_draws"].iter().any(|start| note["code"].as_str().unwrap().starts_with(start))
}

/// A doubt changes no value: not the last bit of it, nor what is said of it.
#[test]
fn values_are_those_without_doubts() {
    for (id, request) in doubted() {
        let mut plain = request.clone();
        without(&mut plain);
        let wanted: Value = serde_json::from_str(&text_of(id, &plain)).unwrap();
        assert!(wanted.get("doubt").is_none(), "{id}: a doubt that nobody has");
        for way in ["propagate", "monte_carlo"] {
            // Draws take as long as thousands of answers.
            if way == "monte_carlo" && !["mesh.geometry", "ink.usage", "exposure.rescale"].contains(&id) {
                continue;
            }
            let mut answer: Value =
                serde_json::from_str(&text_of(id, &with(&request, json!({ "doubt": way })))).unwrap();
            let list = answer["doubt"].take();
            for doubt in list.as_array().unwrap() {
                // Beside every value of a list stands its half-width, in its unit.
                let place = &answer.pointer(doubt["at"].as_str().unwrap()).unwrap_or_else(|| panic!("{id}: {doubt}"));
                if place.is_object() {
                    assert_eq!(
                        (&place["plus_minus"], &place["unit"]),
                        (&doubt["plus_minus"], &doubt["unit"]),
                        "{id} {doubt}"
                    );
                } else {
                    assert!(place.is_number() && doubt.get("unit").is_none(), "{id} {doubt}");
                }
                assert!(at(doubt, "/plus_minus") > 0.0, "{id} {doubt}");
                assert_eq!(
                    (doubt.get("least").is_some(), way == "monte_carlo"),
                    (way == "monte_carlo", doubt.get("most").is_some())
                );
                let share = at(doubt, "/share_fraction");
                assert!(share > 0.0 && share <= 1.0 + 1e-12, "{id} {doubt}");
                assert!(request.pointer(doubt["contributor"].as_str().unwrap()).is_some(), "{id} {doubt}");
            }
            assert!(!list.as_array().unwrap().is_empty(), "{id}: no doubt in the answer");
            answer.as_object_mut().unwrap().remove("doubt");
            answer["notes"].as_array_mut().unwrap().retain(|note| !of_doubts(note));
            without(&mut answer);
            assert_eq!(answer.to_string(), wanted.to_string(), "{id} by {way}");
        }
    }
}

/// In whichever order the members of a request stand, its answer has the same bits.
#[test]
fn the_order_of_fields_changes_nothing() {
    let one = r#"{"mesh": "55-64", "ink": {"from": "plastisol", "release_fraction": "0.4 +/- 0.08", "density": "1.2 +/- 0.1 g/cm3"}, "printed_area": "460 +/- 20 cm2", "prints": 240"#;
    let other = r#"{"prints": 240, "printed_area": "460 +/- 20 cm2", "ink": {"density": "1.2 +/- 0.1 g/cm3", "release_fraction": "0.4 +/- 0.08", "from": "plastisol"}, "mesh": "55-64""#;
    for way in ["}", r#", "doubt": "monte_carlo"}"#] {
        let [one, other] =
            [one, other].map(|text| calculate_text("ink.usage", format!("{text}{way}").as_bytes()).unwrap());
        assert_eq!(one, other);
    }
}

/// Films are volumes: the ink's density has no part in them, whatever else is in doubt.
#[test]
fn what_has_no_influence_contributes_nothing() {
    let request = json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08" } });
    let idle = json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08", "density": "1.15 +/- 0.1 g/cm3" } });
    let (one, other) = (ask("ink.deposit", &request), ask("ink.deposit", &idle));
    assert_eq!(one["doubt"], other["doubt"]);
    assert_eq!(one["wet_film"], other["wet_film"]);
    let alone = json!({ "mesh": "55-64", "ink": { "from": "plastisol", "density": "1.15 +/- 0.1 g/cm3" } });
    for way in ["propagate", "monte_carlo"] {
        assert_eq!(ask("ink.deposit", with(&alone, json!({ "doubt": way })))["doubt"], json!([]), "{way}");
    }
}

/// Root of the sum of the squares of what each does; for a product that is linear in each, exactly. Twice the half-widths, twice the
/// doubt; US units, the same doubt.
#[test]
fn doubts_of_a_product_add_in_squares() {
    let request = |scale: f64| json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": { "value": 0.4, "plus_minus": 0.02 * scale }, "density": { "value": 1.15, "unit": "g/cm3", "plus_minus": 0.046 * scale } }, "printed_area": { "value": 460.0, "unit": "cm2", "plus_minus": 9.2 * scale }, "prints": 100 });
    // 5 %, 4 % and 2 %.
    let share = (0.05f64.powi(2) + 0.04f64.powi(2) + 0.02f64.powi(2)).sqrt();
    for scale in [1.0, 2.0] {
        let answer = ask("ink.usage", request(scale));
        for pointer in ["/mass_per_print", "/mass_printed"] {
            relative(
                half_width(&answer, pointer),
                scale * share * at(&answer, &format!("{pointer}/value")),
                1e-9,
                pointer,
            );
        }
        let doubt = doubt(&answer, "/mass_per_print").unwrap();
        assert_eq!(doubt["contributor"], "/ink/release_fraction");
        relative(at(doubt, "/share_fraction"), (0.05 / share).powi(2), 1e-9, doubt);
    }
    let (metric, us) =
        (ask("ink.usage", request(1.0)), ask("ink.usage", with(&request(1.0), json!({ "units": "us" }))));
    let (one, other) = (metric["doubt"].as_array().unwrap(), us["doubt"].as_array().unwrap());
    assert_eq!(one.len(), other.len());
    // NIST SP 811.
    let factor = |unit: &Value| match unit.as_str().unwrap() {
        "g" => 28.349_523_125,
        "ml" => 29.573_529_562_5,
        "m2/kg" => 0.092_903_04 / 0.453_592_37,
        "/kg" => 1.0 / 0.453_592_37,
        "um" => 1.0,
        unit => panic!("{unit}"),
    };
    for (one, other) in one.iter().zip(other) {
        relative(at(one, "/plus_minus"), factor(&one["unit"]) * at(other, "/plus_minus"), 1e-12, other);
        for same in ["at", "contributor", "share_fraction"] {
            assert_eq!(one[same], other[same], "{one}");
        }
    }
    // A span of temperature, not a temperature: 3 K are 5.4 degF.
    let log = |units: &str| {
        let log = [
            json!({ "time": "0 s", "temperature": "20 degC" }),
            json!({ "time": "9 s", "temperature": "170 +/- 3 degC" }),
        ];
        ask("cure.assess", json!({ "ink": "plastisol", "log": log, "measured": "in_ink", "units": units }))
    };
    relative(at(&log("us"), "/peak/plus_minus"), 5.4, 1e-12, "degF");
    relative(at(&log("metric"), "/peak/plus_minus"), 3.0, 1e-12, "degC");
}

/// Grams up to a kilogram, and the half-width in the unit of its value, also where an end of the doubt has another.
#[test]
fn a_half_width_is_in_the_unit_of_its_value() {
    let request = |area: f64| json!({ "mesh": "55-64", "ink": "plastisol", "printed_area": { "value": area, "unit": "cm2", "plus_minus": 0.05 * area }, "prints": 1000, "left_in_screen": "0 g", "doubt": "monte_carlo" });
    let per_area = at(&ask("ink.usage", request(100.0)), "/mass_per_print/value") * 1000.0 / 100.0;
    for (mass, unit, scale) in [(999.0, "g", 1.0), (1001.0, "kg", 1e-3)] {
        let answer = ask("ink.usage", request(mass / per_area));
        let printed = &answer["mass_printed"];
        assert_eq!(printed["unit"], unit);
        relative(at(printed, "/value"), mass * scale, 1e-9, printed);
        relative(at(printed, "/plus_minus"), 0.05 * mass * scale, OF_STANDARD, printed);
        let doubt = doubt(&answer, "/mass_printed").unwrap();
        assert_eq!(doubt["unit"], unit);
        let end = OF_END * 0.05 * mass * scale / Z;
        near(at(doubt, "/least"), 0.95 * mass * scale, end, doubt);
        near(at(doubt, "/most"), 1.05 * mass * scale, end, doubt);
    }
}

/// What a half-width cannot tell is said of the field that it stands at, and not said where it tells all.
#[test]
fn what_a_half_width_cannot_tell_is_said() {
    // A verdict that flips: 13.5 um over the mesh is good, from 12.375 um on (15 % of 82.5 um).
    let stencil = |half: f64| {
        ask("stencil.thickness", json!({ "mesh": "77-55", "coated_thickness": format!("96 +/- {half} um") }))
    };
    // The standard uncertainty is what is looked at: 1.125 um away is 2.2 um of half-width.
    let found = stencil(2.25);
    let message = said(&found, "doubt_changes_answer", "/coated_thickness").expect("a caution");
    assert!(message.contains("/verdict goes from good to thin"), "{message}");
    assert!(!noted(&stencil(2.15), "doubt_changes_answer"));
    // A kink: nothing is left of a line of twice what the light takes, and no less than nothing.
    let line = |width: f64| {
        let request = json!({ "film_gap": "50 +/- 20 um", "half_angle": "15 deg", "stencil_thickness": "90 um", "line": { "value": width, "unit": "um" } });
        ask("exposure.undercut", request)
    };
    let taken = 100.0 * 15f64.to_radians().tan();
    let closed = line(taken + 0.01);
    assert!(said(&closed, "doubt_uneven", "/film_gap").expect("a caution").ends_with("/line_left"));
    // The mean of both sides: 2 u tan 15 deg on the one, nothing on the other.
    near(
        half_width(&closed, "/line_left"),
        20.0 * 15f64.to_radians().tan() + 0.5 * Z * 0.01,
        1e-6,
        "half of 40 um x tan 15 deg",
    );
    assert!(!noted(&line(300.0), "doubt_uneven"));
    // An end without an answer: air of 157.4 degC heats nothing to 160 degC.
    let air = |air: &str| {
        ask(
            "dryer.window",
            json!({ "dryer": { "from": "air-dryer-2m", "air": air }, "ink": "plastisol", "cloth": "cotton-jersey-180" }),
        )
    };
    let shut = air("160 +/- 5 degC");
    assert!(said(&shut, "doubt_without_answer", "/dryer/air").expect("a caution").contains("157"), "{}", shut["notes"]);
    assert!(half_width(&shut, "/fastest") > 0.0);
    assert!(!noted(&air("180 +/- 5 degC"), "doubt_without_answer"));
    // A limit inside: this ink bears 195 degC, and 194 degC may be 195.5.
    let log = |peak: &str| {
        let log = [json!({ "time": "0 s", "temperature": "20 degC" }), json!({ "time": "30 s", "temperature": peak })];
        ask("cure.assess", json!({ "ink": "plastisol", "log": log, "measured": "in_ink" }))
    };
    let hot = log("194 +/- 3 degC");
    assert!(said(&hot, "doubt_reaches_limit", "/log/1/temperature").is_some(), "{}", hot["notes"]);
    assert!(
        said(&hot, "doubt_changes_answer", "/log/1/temperature")
            .expect("a caution")
            .contains("/verdict goes from cured to over")
    );
    assert!(
        !noted(&log("190 +/- 3 degC"), "doubt_reaches_limit") && !noted(&log("199 +/- 3 degC"), "doubt_reaches_limit")
    );
    // They come where nothing is explained too.
    let quiet = json!({ "mesh": "77-55", "coated_thickness": "96 +/- 2.25 um", "explain": false });
    assert!(noted(&ask("stencil.thickness", quiet), "doubt_changes_answer"));
}

/// An answer at its greatest value has no doubt to first order, and it is said so.
#[test]
fn a_turning_point_is_said_to_be_one() {
    let request = json!({ "points": [{ "exposure": "40 mJ/cm2", "depth": "70 um" }, { "exposure": "80 mJ/cm2", "depth": "110 um" }, { "exposure": "160 mJ/cm2", "depth": "150 +/- 2 um" }], "stencil_thickness": "100 um" });
    // Three points on a line: the share of the scatter that the line explains is at its greatest, 1.
    let answer = ask("exposure.curve", &request);
    near(at(&answer, "/r_squared"), 1.0, 1e-12, "on a line");
    let message = said(&answer, "doubt_uneven", "/points/2/depth").expect("a caution");
    assert!(message.contains("/r_squared"), "{message}");
    assert!(doubt(&answer, "/penetration_depth").is_some());
}

#[test]
fn a_hundred_fields_may_be_in_doubt() {
    let readings = |count: usize| json!({ "screens": [{ "name": "a", "readings": vec!["25 +/- 1 N/cm"; count] }] });
    // The mean of n readings, each with 1: 1 / sqrt(n).
    let answer = ask("tension.assess", readings(100));
    relative(half_width(&answer, "/per_screen/0/mean"), 0.1, 1e-9, "a hundred");
    relative(at(doubt(&answer, "/per_screen/0/mean").unwrap(), "/share_fraction"), 0.01, 1e-9, "one of a hundred");
    let refused = refused(calculate("tension.assess", &readings(101)));
    assert_eq!(refused, ("too_long".to_owned(), "/screens/0/readings/100".to_owned()));
}

/// Nearly linear: draws have the half-width of the differences, and its ends, within what the sampling allows.
#[test]
fn draws_agree_with_differences_where_they_must() {
    for (id, request) in [
        (
            "ink.usage",
            json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.004" }, "printed_area": "460 +/- 3 cm2", "prints": 240, "waste_fraction": "0.1 +/- 0.01" }),
        ),
        ("exposure.step", json!({ "time": "95 +/- 1 s", "solid_step": "6 +/- 0.02" })),
        ("mesh.geometry", json!({ "mesh": { "count": "77 +/- 0.2 /cm", "thread": "55 +/- 0.2 um" } })),
        (
            "cure.equivalent",
            json!({ "from": { "temperature": "160 +/- 0.2 degC", "hold": "60 +/- 1 s" }, "activation_energy": "90 +/- 1 kJ/mol", "to": { "temperature": "150 degC" } }),
        ),
    ] {
        let (first_order, drawn) = (ask(id, &request), ask(id, with(&request, json!({ "doubt": "monte_carlo" }))));
        let pairs = first_order["doubt"].as_array().unwrap().iter().zip(drawn["doubt"].as_array().unwrap());
        for (one, other) in pairs {
            assert_eq!(
                (&one["at"], &one["contributor"], &one["share_fraction"]),
                (&other["at"], &other["contributor"], &other["share_fraction"])
            );
            let (half, pointer) = (at(one, "/plus_minus"), one["at"].as_str().unwrap());
            // Of second order at these sizes: a few thousandths.
            relative(at(other, "/plus_minus"), half, OF_STANDARD + 0.003, other);
            let place = drawn.pointer(pointer).unwrap();
            let value = place.get("value").unwrap_or(place).as_f64().unwrap();
            for (end, sign) in [("/least", -1.0), ("/most", 1.0)] {
                near(at(other, end), value + sign * half, (OF_END / Z + 0.015) * half, other);
            }
        }
        assert!(
            !drawn["doubt"].as_array().unwrap().is_empty() && !drawn["notes"].as_array().unwrap().iter().any(of_doubts),
            "{id} {}",
            drawn["notes"]
        );
    }
}

/// Not linear: the ends are not alike, and they are those of the distribution.
#[test]
fn draws_have_the_ends_of_the_distribution() {
    // (to / 60 cm)^2 of to = 75 +- 30 cm, normal: standard deviation sqrt(4 m^2 u^2 + 2 u^4); the shortest 95 % interval by SciPy 1.17.1,
    // least of ppf(a + 0.95) - ppf(a) of the squared normal variable.
    let request =
        json!({ "time": "90 s", "distance": { "from": "60 cm", "to": "75 +/- 30 cm" }, "doubt": "monte_carlo" });
    let answer = ask("exposure.rescale", &request);
    let factor = doubt(&answer, "/factor").unwrap();
    let u = 30.0 / Z;
    let standard = (4.0 * 75f64.powi(2) * u * u + 2.0 * u.powi(4)).sqrt() / 3600.0;
    relative(at(factor, "/plus_minus"), Z * standard, OF_STANDARD, factor);
    near(at(factor, "/least"), 0.460_684_086, OF_END * standard, factor);
    near(at(factor, "/most"), 2.905_049_057, OF_END * standard, factor);
    let middle = at(&answer, "/factor");
    assert!(at(factor, "/most") - middle > 1.15 * (middle - at(factor, "/least")), "{factor}");
    // What cannot be is drawn again: half a normal distribution, from 0 to U x tan 15 deg, of standard deviation sqrt(1 - 2 / pi) u.
    let request = json!({ "film_gap": "0 +/- 20 um", "half_angle": "15 deg", "stencil_thickness": "90 um", "doubt": "monte_carlo" });
    let answer = ask("exposure.undercut", &request);
    let spread = doubt(&answer, "/spread").unwrap();
    let whole = 20.0 * 15f64.to_radians().tan();
    relative(at(spread, "/plus_minus"), (1.0 - 2.0 / std::f64::consts::PI).sqrt() * whole, OF_STANDARD, spread);
    near(at(spread, "/least"), 0.0, 1e-3, spread);
    relative(at(spread, "/most"), whole, 0.012, spread);
    assert!(said(&answer, "doubt_outside", "/film_gap").expect("a caution").starts_with("50"), "{}", answer["notes"]);
    // 2.33 standard deviations from nothing are 1 %: said above, not below.
    let gap = |half: f64| {
        ask(
            "exposure.undercut",
            json!({ "film_gap": format!("50 +/- {half} um"), "half_angle": "15 deg", "stencil_thickness": "90 um", "doubt": "monte_carlo" }),
        )
    };
    assert!(noted(&gap(44.0), "doubt_outside") && !noted(&gap(40.0), "doubt_outside"));
}

/// Draws whose answer is another, or none, are counted.
#[test]
fn draws_that_are_another_answer_are_counted() {
    let percent = |message: &str| -> f64 {
        let words: Vec<&str> = message.split_whitespace().collect();
        let place = words.iter().position(|word| *word == "%").unwrap();
        words[place - 1].parse().unwrap()
    };
    // 13.5 um over the mesh with u = 1.53 um, thin below 12.375 um, thick above 20.625: by the normal distribution 23.1 %.
    let request = json!({ "mesh": "77-55", "coated_thickness": "96 +/- 3 um", "doubt": "monte_carlo" });
    let answer = ask("stencil.thickness", &request);
    near(percent(said(&answer, "draws_change_answer", "/coated_thickness").expect("a caution")), 23.1, 0.5, "thin");
    // A thread so thick that it is no cloth: less than 5 % is open from 100.8 um on, 2 standard deviations, 2.3 %.
    let most = (1.0 - 0.05f64.sqrt()) * 1e4 / 77.0;
    let half = (most - 55.0) / 2.0 * Z;
    let request = json!({ "mesh": { "count": "77 /cm", "thread": { "value": 55, "unit": "um", "plus_minus": half } }, "doubt": "monte_carlo" });
    let answer = ask("mesh.geometry", &request);
    near(
        percent(said(&answer, "draws_without_answer", "/mesh/thread").expect("a caution")),
        2.3,
        0.3,
        &answer["notes"],
    );
}

/// Work that is no march counts too: colours that are to meet are drawn fewer times, and said to be; the same bits each time. Where not
/// even the fewest can be drawn, it is refused.
#[test]
fn long_sums_are_drawn_fewer_times() {
    let mut again = every(2);
    for (id, request) in [
        (
            "register.budget",
            json!({ "sources": [{ "name": "a", "half_width": "0.2 +/- 0.02 mm", "shape": "normal" }], "colours": 4, "trap": "0.5 mm" }),
        ),
        ("mesh.moire", json!({ "mesh": "120-34", "ruling": "24 /cm", "angles": ["22.5 +/- 0.5 deg"] })),
        (
            "wash.verdict",
            json!({ "washed": 800_000, "failed": 1_000, "cycles": 5, "confidence": 0.9, "reliability_fraction": { "value": 0.9, "plus_minus": 0.01 } }),
        ),
        (
            "ink.open_time",
            json!({ "ink": "water-based", "mesh": "43-80", "air": { "temperature": "23 +/- 1 degC", "relative_humidity_fraction": 0.45, "speed": "0.15 m/s" } }),
        ),
        (
            "cure.assess",
            json!({ "ink": { "from": "silicone", "activation_energy": "300 +/- 10 kJ/mol" }, "measured": "in_ink",
                "log": (0..200).map(|i| json!({ "time": format!("{i} s"), "temperature": if i % 2 == 0 { "20 degC" } else { "900 degC" } })).collect::<Vec<_>>() }),
        ),
    ] {
        let request = with(&request, json!({ "doubt": "monte_carlo" }));
        let answer = text_of(id, &request);
        assert!(answer.contains("fewer_draws"), "{id}: {answer}");
        if again() {
            assert_eq!(answer, text_of(id, &request), "{id}");
        }
    }
    let source = |half_width: &str| json!([{ "name": "a", "half_width": half_width, "shape": "normal" }]);
    let method = |i: u32| json!({ "name": format!("way {i}"), "sources": source("0.1 mm") });
    let methods: Vec<Value> = (0..8).map(method).collect();
    let request = json!({ "sources": source("0.2 +/- 0.02 mm"), "methods": methods, "colours": 30, "trap": "0.5 mm", "doubt": "monte_carlo" });
    assert_eq!(
        refused(calculate("register.budget", &request)),
        ("too_long".to_owned(), "/sources/0/half_width".to_owned())
    );
}

// ---- sweeps, and what carries no doubt ----

/// A point of a sweep has the bits of the call that it stands for, its half-widths and their list with it.
#[test]
fn a_sweep_with_doubts_is_its_single_calls() {
    type Case<'a> = (&'a str, Value, Value, &'a [&'a str], &'a dyn Fn(f64) -> Value);
    let cases: [Case<'_>; 4] = [
        (
            "exposure.step",
            json!({ "time": "95 s", "solid_step": "6 +/- 0.5" }),
            json!({ "vary": "/time", "from": "20 s", "to": "200 s", "points": 7 }),
            &["/time", "/factor"],
            &|x| json!({ "time": { "value": x, "unit": "s" }, "solid_step": "6 +/- 0.5" }),
        ),
        // The field in doubt itself: its half-width stays.
        (
            "exposure.step",
            json!({ "time": "95 +/- 5 s", "solid_step": "6 +/- 0.5" }),
            json!({ "vary": "/solid_step", "from": 3, "to": 9, "points": 7 }),
            &["/time", "/factor"],
            &|x| json!({ "time": "95 +/- 5 s", "solid_step": { "value": x, "plus_minus": 0.5 } }),
        ),
        (
            "ink.usage",
            json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08" }, "printed_area": "460 cm2", "prints": 100, "doubt": "monte_carlo" }),
            json!({ "vary": "/waste_fraction", "from": 0, "to": 0.5, "points": 3 }),
            &["/mass_to_mix", "/wet_film"],
            &|x| json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08" }, "printed_area": "460 cm2", "prints": 100, "waste_fraction": x, "doubt": "monte_carlo" }),
        ),
        (
            "dryer.window",
            json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180", "film": "40 +/- 5 um" }),
            json!({ "vary": "/dryer/air", "from": "150 degC", "to": "190 degC", "points": 3 }),
            &["/fastest", "/slowest"],
            &|x| json!({ "dryer": { "from": "air-dryer-2m", "air": { "value": x, "unit": "degC" } }, "ink": "plastisol", "cloth": "cotton-jersey-180", "film": "40 +/- 5 um" }),
        ),
    ];
    for (id, request, spec, want, single) in cases {
        let whole = sweep(id, &request, &spec).unwrap();
        let columns = sweep(id, &request, &with(&spec, json!({ "want": want }))).unwrap();
        let xs = whole["x"]["values"].as_array().unwrap();
        let mut answered = 0;
        for (index, x) in xs.iter().enumerate() {
            let answer = &whole["answers"][index];
            let single = match calculate(id, &single(x.as_f64().unwrap())) {
                Ok(single) => single,
                Err(error) => {
                    assert_eq!(answer["error"]["code"], error.code.text(), "{id} at {x}");
                    assert_eq!(
                        (&columns["columns"][0]["values"][index], &columns["columns"][0]["plus_minus"][index]),
                        (&Value::Null, &Value::Null)
                    );
                    continue;
                }
            };
            answered += 1;
            // What the number is called in the basis may differ: it was changed in the record.
            for (name, member) in single.as_object().unwrap().iter().filter(|(name, _)| *name != "basis") {
                assert_eq!(answer[name].to_string(), member.to_string(), "{id} at {x}: {name}");
            }
            for (column, pointer) in columns["columns"].as_array().unwrap().iter().zip(want) {
                let place = single.pointer(pointer).unwrap();
                if place.get("unit").is_none_or(|unit| *unit == column["unit"]) {
                    assert_eq!(column["values"][index], *place.get("value").unwrap_or(place), "{id} at {x}: {pointer}");
                    let doubt = doubt(&single, pointer).map_or(&Value::Null, |doubt| &doubt["plus_minus"]);
                    assert_eq!(column["plus_minus"][index], *doubt, "{id} at {x}: {pointer}");
                }
            }
        }
        assert!(answered >= 2, "{id}");
    }
    // What is put in the place of something in doubt is not in doubt.
    let doubted = json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08" }, "over_mesh": "10 +/- 1 um", "feature_width": "0.4 mm" });
    let whole = sweep("ink.deposit", &doubted, &json!({ "vary": "/ink", "values": ["water-based"] })).unwrap();
    let single = ask("ink.deposit", with(&doubted, json!({ "ink": "water-based" })));
    assert_eq!(
        (&whole["answers"][0]["doubt"], &whole["answers"][0]["wet_film"]),
        (&single["doubt"], &single["wet_film"])
    );
    let release =
        json!({ "vary": "/ink/release_fraction", "values": [0.3, 0.4], "want": ["/dry_film", "/release_fraction"] });
    let columns = sweep("ink.deposit", &doubted, &release).unwrap();
    assert_eq!(columns["columns"][1]["plus_minus"], json!([null, null]));
    assert!(at(&columns, "/columns/0/plus_minus/1") > at(&columns, "/columns/0/plus_minus/0"));
    let alone = json!({ "mesh": "55-64", "ink": { "from": "plastisol", "release_fraction": "0.4 +/- 0.08" } });
    let columns = sweep("ink.deposit", &alone, &release).unwrap();
    assert!(
        columns["columns"][0].get("plus_minus").is_none() && at(&columns, "/columns/0/values/1") > 0.0,
        "{columns}"
    );
    // Without doubts there is no list of them.
    let plain = sweep(
        "mesh.geometry",
        &json!({ "mesh": "77-55" }),
        &json!({ "vary": "/mesh/thread", "from": "40 um", "to": "60 um", "points": 2, "want": ["/opening"] }),
    )
    .unwrap();
    assert!(plain["columns"][0].get("plus_minus").is_none());
}

#[test]
fn what_carries_no_doubt_names_the_field() {
    let request = json!({ "mesh": { "count": "77 /cm", "thread": "55 +/- 2 um" } });
    let named = ("impossible".to_owned(), "/mesh/thread".to_owned());
    let spec =
        json!({ "vary": "/mesh/count", "from": "60 /cm", "to": "90 /cm", "want": "/opening", "equals": "70 um" });
    assert_eq!(refused(solve("mesh.geometry", &request, &spec)), named);
    let columns = json!({ "inputs": ["/mesh/count"], "outputs": ["/opening"] });
    let error = prepare("mesh.geometry", &request, &columns).map(|_| ()).expect_err("refused");
    assert_eq!((error.code.text().to_owned(), error.field.clone()), named);
    assert_eq!(error.to_json()["error"]["got"], "55 +/- 2 um");
    // Nor do ends, wanted values and listed points of a sweep.
    let plain = json!({ "mesh": "77-55" });
    let spec = json!({ "vary": "/mesh/thread", "values": ["50 um", "55 +/- 2 um"] });
    let swept = sweep("mesh.geometry", &plain, &spec).unwrap();
    assert!(swept["answers"][0].get("error").is_none());
    assert_eq!(
        (&swept["answers"][1]["error"]["code"], &swept["answers"][1]["error"]["field"]),
        (&json!("impossible"), &json!("/mesh/thread"))
    );
    let spec =
        json!({ "vary": "/mesh/thread", "from": "30 um", "to": "90 um", "want": "/opening", "equals": "70 +/- 2 um" });
    assert_eq!(refused(solve("mesh.geometry", &plain, &spec)), ("impossible".to_owned(), "/equals".to_owned()));
}

// ---- where heat stands behind ----

/// The difference of two marches is a small one of large numbers: it must not be that of what the solver may be off. Held against
/// differences of two marches each at a hundredth of the usual error, for doubts as small as anyone has.
#[test]
fn differences_of_heat_are_clear_of_its_solver() {
    let layers = |air: Value, transfer: Value, thickness: Value, tolerance: Option<&str>| {
        let mut request = json!({
            "layers": [
                { "name": "film", "thickness": thickness, "conductivity": "0.17 W/(m.K)", "density": "1150 kg/m3", "specific_heat": "1500 J/(kg.K)" },
                { "name": "cloth", "thickness": "0.5 mm", "conductivity": "0.06 W/(m.K)", "density": "360 kg/m3", "specific_heat": "1340 J/(kg.K)" },
            ],
            "start": "25 degC",
            "stages": [
                { "duration": "15 s", "top": { "air": air, "transfer": transfer, "panel": "400 degC", "exchange_fraction": 0.1 }, "bottom": { "air": "180 degC", "transfer": "15 W/(m2.K)" } },
                { "duration": "5 s", "top": { "air": "25 degC", "transfer": "8 W/(m2.K)" }, "bottom": { "air": "25 degC", "transfer": "8 W/(m2.K)" } },
            ],
            "report_at": ["2 s", "15 s", "20 s"],
        });
        if let Some(tolerance) = tolerance {
            request["tolerance"] = tolerance.into();
        }
        request
    };
    let quantity = |value: f64, unit: &str| json!({ "value": value, "unit": unit });
    let in_doubt = |value: f64, unit: &str, half: f64| json!({ "value": value, "unit": unit, "plus_minus": half });
    let usual = [(180.0, "degC", 0.1), (30.0, "W/(m2.K)", 0.3), (40.0, "um", 0.4)];
    for (which, (value, unit, half)) in usual.into_iter().enumerate() {
        let request = |content: Value, tolerance| {
            let mut contents = usual.map(|(value, unit, _)| quantity(value, unit));
            contents[which] = content;
            let [air, transfer, thickness] = contents;
            layers(air, transfer, thickness, tolerance)
        };
        let answer = ask("heat.layers", request(in_doubt(value, unit, half), None));
        let ends = [1.0, -1.0]
            .map(|sign| ask("heat.layers", request(quantity(value + sign * half / Z, unit), Some("0.0005 K"))));
        let mut clear = 0;
        for pointer in ["/top/0", "/top/1", "/top/2", "/bottom/0", "/bottom/1", "/bottom/2"] {
            let [above, below] = [0, 1].map(|end| at(&ends[end], &format!("{pointer}/value")));
            let wanted = 0.5 * Z * (above - below).abs();
            // What is less than a hundredth of a kelvin is no concern of anyone.
            if wanted > 0.01 {
                clear += 1;
                relative(half_width(&answer, pointer), wanted, 0.1, format!("{unit} at {pointer}"));
            }
        }
        assert!(clear >= 2, "{unit}: {}", answer["doubt"]);
    }
}

/// The window of a belt is worked out closer where a doubt does little to it: of a hundredth of a gram of cloth to 1 % of what a gram does. A
/// doubt that is lost even in that is said to be.
#[test]
fn a_window_is_worked_out_closer_for_a_small_doubt() {
    let of = |half: f64| {
        let mass = json!({ "value": 180, "unit": "g/m2", "plus_minus": half });
        let cloth = json!({ "from": "cotton-jersey-180", "mass_per_area": mass });
        ask("dryer.window", json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": cloth }))
    };
    let (lost, small, usual) = (of(2e-5), of(0.01), of(1.0));
    for end in ["/fastest", "/slowest"] {
        relative(100.0 * half_width(&small, end), half_width(&usual, end), 0.01, end);
    }
    assert!(noted(&lost, "doubt_near_accuracy") && !noted(&usual, "doubt_near_accuracy"), "{}", lost["notes"]);
}

/// A search for a speed or a dwell stands over the marches, and its own accuracy over that: half a small doubt does half as much.
#[test]
fn small_doubts_of_searches_scale() {
    type Ask = fn(f64) -> Value;
    let air: Ask = |half| {
        let air = json!({ "value": 180, "unit": "degC", "plus_minus": half });
        ask(
            "dryer.window",
            json!({ "dryer": { "from": "air-dryer-2m", "air": air }, "ink": "plastisol", "cloth": "cotton-jersey-180" }),
        )
    };
    let film: Ask = |half| {
        let film = json!({ "value": 40, "unit": "um", "plus_minus": 4.0 * half });
        ask(
            "dryer.window",
            json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180", "film": film }),
        )
    };
    let panel: Ask = |half| {
        let panel = json!({ "value": 500, "unit": "degC", "plus_minus": 10.0 * half });
        ask(
            "flash.dwell",
            json!({ "flash": { "from": "panel-flash", "panel": panel }, "ink": "plastisol", "cloth": "cotton-jersey-180", "platen": "rubber-topped" }),
        )
    };
    let platen: Ask = |half| {
        let start = json!({ "value": 40, "unit": "degC", "plus_minus": 10.0 * half });
        ask(
            "flash.dwell",
            json!({ "flash": "panel-flash", "ink": "plastisol", "cloth": "cotton-jersey-180", "platen": "rubber-topped", "platen_start": start }),
        )
    };
    let cases: [(&str, Ask, &[&str]); 4] = [
        ("air of 0.1 K", air, &["/fastest", "/slowest"]),
        ("a film of 1 %", film, &["/fastest", "/slowest"]),
        ("a panel of 1 K", panel, &["/least", "/most"]),
        ("a platen of 1 K", platen, &["/least", "/most"]),
    ];
    for (name, ask, pointers) in cases {
        let answers = [0.05, 0.1, 0.2, 2.0].map(ask);
        for pointer in pointers {
            let [half, one, twice, many] = [0, 1, 2, 3].map(|index: usize| half_width(&answers[index], pointer));
            relative(one / half, 2.0, 0.1, format!("{name} at {pointer}, halved"));
            relative(twice / one, 2.0, 0.1, format!("{name} at {pointer}, doubled"));
            // Twenty times as much, at the accuracy of everyday: the same slope but for the curve.
            relative(many / one, 20.0, 0.15, format!("{name} at {pointer}, twenty times"));
        }
    }
}

/// opening = pitch - thread. Thicker by one standard deviation there is no screen cloth, so what the doubt does is told from the other
/// end: as much as the thread is in doubt.
#[test]
fn a_doubt_with_one_end_is_told_from_that() {
    let thread = |thread: &str| ask("mesh.geometry", json!({ "mesh": { "count": "77 /cm", "thread": thread } }));
    let answer = thread("90 +/- 30 um");
    relative(half_width(&answer, "/opening"), 30.0, 1e-9, &answer);
    assert!(noted(&answer, "doubt_without_answer") && !noted(&thread("60 +/- 3 um"), "doubt_without_answer"));
}

/// A dryer that may take fewer than no shirts an hour: the end without an answer is told in shirts an hour.
#[test]
fn an_end_without_an_answer_is_told_in_its_unit() {
    let colour = json!({ "name": "red", "image_length": "380 mm", "flood_strokes": 1, "print_strokes": 1 });
    let request = json!({ "press": "automatic-8", "pieces": 250, "dryer_rate": "160 +/- 320 /h", "colours": [colour] });
    let answer = ask("press.run", request);
    let notes = answer["notes"].as_array().unwrap();
    let note = notes.iter().find(|note| note["code"] == "doubt_without_answer").unwrap();
    // 160 less 320 / 1.96.
    assert!(note["message"].as_str().unwrap().starts_with("at -3.27 /h there is no answer"), "{note}");
}

/// 2 g/min for the 6 h that a pot lasts are 720 g: 1,440 g are two pots, and a little more or less is another number of them.
#[test]
fn what_comes_and_goes_within_a_doubt_is_named() {
    let said = |batch: &str| {
        let parts = json!([{ "name": "ink", "parts": 97 }, { "name": "fixer", "parts": 3 }]);
        let answer =
            ask("ink.mix", json!({ "batch": batch, "parts": parts, "pot_life": "6 h", "use_rate": "2 g/min" }));
        let notes = answer["notes"].as_array().unwrap().clone();
        let note = notes.into_iter().find(|note| note["code"] == "doubt_changes_answer");
        note.map(|note| note["message"].as_str().unwrap().to_owned())
    };
    assert_eq!(said("1400 +/- 20 g"), None);
    let comes = said("1430 +/- 100 g").unwrap();
    assert!(comes.contains("/pots/2/mass comes, /pots/2/mix_at comes"), "{comes}");
    let goes = said("1450 +/- 100 g").unwrap();
    assert!(goes.contains("2 numbers go"), "{goes}");
}

/// Answers do not hang on a memory of heat, doubts and all.
#[test]
fn a_cache_changes_nothing() {
    let cache = Cache::new(1_000);
    for (id, request) in doubted() {
        let plain = calculate(id, &request).unwrap().to_string();
        for _ in 0..2 {
            assert_eq!(cache.calculate(id, &request).unwrap().to_string(), plain, "{id}");
        }
    }
    let (hits, misses) = cache.counts();
    assert!(hits > 0 && misses > 0, "{hits} {misses}");
}
