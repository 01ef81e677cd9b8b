//! Prepared calculations: a row has the bits of the call that it stands for, fails as that fails, and spoils no other.

use floodbar::catalogue::{CALCULATIONS, find};
use floodbar::quantity::Dimension;
use floodbar::wire::{from_json, numbers};
use floodbar::{Code, Error, calculate, prepare};
use floodbar_tests::budget::deep;
use floodbar_tests::compare::{at, relative};
use floodbar_tests::vectors::vectors;
use proptest::prelude::*;
use serde_json::{Value, json};

fn refused<T>(done: Result<T, Error>) -> (Code, String) {
    let error = done.map(|_| ()).expect_err("refused");
    (error.code, error.field)
}

fn usage() -> Value {
    json!({ "mesh": "77-55", "ink": "plastisol", "prints": 100, "printed_area": "250 cm2" })
}

/// JSON pointers to the numbers of a document's answer, with their values and units.
fn told(answer: &Value, pointer: &str, found: &mut Vec<(String, f64, Option<String>)>) {
    match answer {
        Value::Object(members) => match (members.get("value").and_then(Value::as_f64), members.get("unit")) {
            (Some(value), Some(Value::String(unit))) => found.push((pointer.to_owned(), value, Some(unit.clone()))),
            _ => {
                for (name, member) in
                    members.iter().filter(|(name, _)| !["notes", "basis", "doubt"].contains(&name.as_str()))
                {
                    told(member, &format!("{pointer}/{name}"), found);
                }
            }
        },
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                told(item, &format!("{pointer}/{index}"), found);
            }
        }
        Value::Number(number) => found.push((pointer.to_owned(), number.as_f64().expect("a number"), None)),
        _ => {}
    }
}

/// Whether a number of an answer is of any dimension, and read in the unit that it comes in.
fn of_any_dimension(id: &str, pointer: &str) -> bool {
    let learned = ["/built_in", "/value", "/half_width", "/expected"].iter().any(|member| pointer.ends_with(member));
    id == "unit.convert"
        || pointer.ends_with("/quantity")
        || (id == "shop.learn" && learned && !pointer.starts_with("/shop"))
}

/// Every answered vector, its own numbers put in through columns one after the other and all at once: the answer of the row, told in
/// full, is that of the vector, and every number that a row gives is the one that is told, cautions and limits are as many.
#[test]
fn rows_are_the_vectors_again() {
    let (mut rows, mut numbers_seen, mut cautioned) = (0, 0, 0);
    for vector in vectors().iter().filter(|vector| vector.get("want").is_some() && vector.get("request").is_some()) {
        let (id, request) = (vector["calculation"].as_str().expect("a name"), &vector["request"]);
        let Ok(answer) = calculate(id, request) else { continue };
        if answer.get("doubt").is_some() || id == "stock.list" {
            continue;
        }
        let calculation = find(id).expect("listed");
        // Heat is worked out for each row: the short run takes part of it.
        let heavy = ["job", "flash", "dryer", "heat", "shop"].iter().any(|step| id.starts_with(step));
        if heavy && !deep() && rows % 3 != 0 {
            rows += 1;
            continue;
        }
        let mut record = calculation.blank();
        from_json(&mut *record, request).expect("an answered request");
        let mut inputs: Vec<(String, f64)> = Vec::new();
        numbers::visit(&*record, &mut |at, _, si| inputs.push((at.to_string(), si)));
        // What is reached is a number, and no truth value.
        inputs.retain(|(pointer, si)| {
            let mut record = calculation.blank();
            from_json(&mut *record, request).expect("an answered request");
            numbers::set(&mut *record, pointer, *si).is_ok()
        });
        let mut outputs = Vec::new();
        told(&answer, "", &mut outputs);
        outputs.truncate(200);
        let wanted: Vec<Value> = outputs
            .iter()
            .map(|(pointer, _, unit)| match unit {
                Some(unit) if !of_any_dimension(id, pointer) => {
                    json!({ "at": pointer, "unit": unit })
                }
                _ => json!(pointer),
            })
            .collect();
        let take = if heavy { 1 } else { 12 };
        let one_by_one = inputs.iter().take(take).map(std::slice::from_ref);
        for given in one_by_one.chain([&inputs[..inputs.len().min(50)]]) {
            let at: Vec<&str> = given.iter().map(|(pointer, _)| pointer.as_str()).collect();
            let columns = json!({ "inputs": at, "outputs": wanted });
            let prepared =
                prepare(id, request, &columns).unwrap_or_else(|error| panic!("{id} {request} {columns}: {error}"));
            let row: Vec<f64> = given
                .iter()
                .zip(prepared.inputs())
                .map(|((_, si), (_, unit))| {
                    let unit = floodbar::quantity::UNITS.iter().find(|known| known.name == unit).expect("a unit");
                    if unit.dimension == Dimension::Fraction { *si } else { unit.from_si(*si) }
                })
                .collect();
            let mut found = vec![f64::NAN; outputs.len()];
            let row_was = prepared.rows().expect("rows").row(&row, &mut found);
            let explained = match prepared.explain(&row) {
                Ok(explained) => explained,
                // A value from stock may lie outside the range of a caller's, or a number and its rounding on two sides of one.
                Err(error) => {
                    assert_eq!(row_was.status, Err(error.code), "{id} {request} {at:?}");
                    continue;
                }
            };
            assert_eq!(row_was.status, Ok(()), "{id} {request} {at:?}");
            let mut again = Vec::new();
            told(&explained.to_value().expect("an answer"), "", &mut again);
            let levels =
                |level: &str| explained.notes().iter().filter(|note| note.level.text() == level).count() as u32;
            assert_eq!(
                (row_was.cautions, row_was.limits),
                (levels("caution"), levels("limit")),
                "{id} {request} {at:?}"
            );
            cautioned += row_was.cautions;
            for ((pointer, value, unit), got) in outputs.iter().zip(&found) {
                let told = again.iter().find(|(other, _, other_unit)| other == pointer && other_unit == unit);
                if let Some((_, told, _)) = told {
                    assert_eq!(told.to_bits(), got.to_bits(), "{id} {request} {at:?}: {pointer} is {told}, row {got}");
                    numbers_seen += 1;
                }
                // The unit of a column may round the last digit of what goes in, and some answers are not smooth.
                if unit.is_some() && !heavy && got.is_finite() && value.abs() > 1e-9 && given.len() == 1 {
                    relative(*got, *value, 1e-6, (id, pointer));
                }
            }
            rows += 1;
        }
    }
    assert!(rows > 1_000 && numbers_seen > 10_000 && cautioned > 500, "{rows} {numbers_seen} {cautioned}");
}

/// A row is the call with the same text: units and all.
#[test]
fn a_row_has_the_bits_of_calculate() {
    let columns = json!({
        "inputs": [{ "at": "/printed_area", "unit": "in2" }, "/prints", "/ink/release_fraction", { "at": "/mesh/thread", "unit": "mil" }],
        "outputs": ["/mass_to_mix", { "at": "/wet_film", "unit": "mil" }, { "at": "/area_per_mass", "unit": "ft2/lb" }],
    });
    let prepared =
        prepare("ink.usage", &json!({ "mesh": { "count": "77 /cm" }, "ink": "plastisol" }), &columns).unwrap();
    assert_eq!(prepared.inputs().map(|(_, unit)| unit).collect::<Vec<_>>(), ["in2", "1", "1", "mil"]);
    let mut rows = prepared.rows().unwrap();
    for index in 0..500 {
        let (area, prints) = (0.37 * f64::from(index + 1), f64::from(1 + index * 7));
        let (release, thread) = (0.2 + 0.001 * f64::from(index), 1.9 + 0.002 * f64::from(index));
        let request = json!({
            "mesh": { "count": "77 /cm", "thread": { "value": thread, "unit": "mil" } },
            "ink": { "from": "plastisol", "release_fraction": release },
            "printed_area": { "value": area, "unit": "in2" }, "prints": prints,
        });
        let mut found = [0.0; 3];
        let row = rows.row(&[area, prints, release, thread], &mut found);
        match calculate("ink.usage", &request) {
            Ok(answer) => {
                assert_eq!(row.status, Ok(()));
                let grams = answer["mass_to_mix"]["unit"] == "g";
                if grams {
                    assert_eq!(found[0].to_bits(), at(&answer, "/mass_to_mix/value").to_bits());
                }
                relative(found[1] * 25.4, at(&answer, "/wet_film/value"), 1e-13, index);
                assert_eq!(prepared.explain(&[area, prints, release, thread]).unwrap().to_value().unwrap(), answer);
            }
            Err(error) => assert_eq!(row.status, Err(error.code)),
        }
    }
}

/// What an input sets need not be in the request; what nothing sets must be.
#[test]
fn columns_stand_in_for_what_is_missing() {
    let columns = json!({ "inputs": ["/printed_area", "/prints"], "outputs": ["/mass_printed"] });
    let prepared = prepare("ink.usage", &json!({ "mesh": "77-55", "ink": "plastisol" }), &columns).unwrap();
    let mut mass = [0.0];
    assert!(prepared.run(&[&[250.0], &[100.0]], &mut [&mut mass]).unwrap()[0].status.is_ok());
    assert!(mass[0] > 10.0);
    assert_eq!(
        refused(prepare("ink.usage", &json!({ "mesh": "77-55" }), &columns)),
        (Code::MissingField, "/ink".into())
    );
    let columns = json!({ "inputs": ["/mesh/count"], "outputs": ["/opening"] });
    let prepared = prepare("mesh.geometry", &json!({ "mesh": { "thread": "55 um" } }), &columns).unwrap();
    let (mut opening, counts) = ([0.0; 2], [77.0, 400.0]);
    let rows = prepared.run(&[&counts], &mut [&mut opening]).unwrap();
    // Of 400 threads a centimetre of 55 um there is no opening.
    assert_eq!((rows[0].status, rows[1].status), (Ok(()), Err(Code::Impossible)));
    relative(opening[0], 1e4 / 77.0 - 55.0, 1e-12, "opening");
}

#[test]
fn a_row_that_fails_spoils_no_other() {
    let columns = json!({ "inputs": ["/printed_area", "/prints"], "outputs": ["/mass_printed", "/wet_film"] });
    let prepared = prepare("ink.usage", &usage(), &columns).unwrap();
    let areas = [250.0, f64::NAN, -1.0, 250.0, 250.0, f64::INFINITY, 1e9, 250.0];
    let prints = [100.0, 100.0, 100.0, 1.5, 0.0, 100.0, 100.0, 100.0];
    let before = areas.map(f64::to_bits);
    let (mut mass, mut film) = ([7.0; 8], [7.0; 8]);
    let rows = prepared.run(&[&areas, &prints], &mut [&mut mass, &mut film]).unwrap();
    let good: Vec<usize> = (0..8).filter(|index| rows[*index].status.is_ok()).collect();
    assert_eq!(good, [0, 7]);
    for index in 1..7 {
        assert_eq!(rows[index].status, Err(Code::OutOfRange), "{index}");
        assert!(mass[index].is_nan() && film[index].is_nan(), "{index}");
    }
    assert_eq!((mass[0].to_bits(), film[0].to_bits()), (mass[7].to_bits(), film[7].to_bits()));
    assert_eq!(areas.map(f64::to_bits), before);
}

/// Words and truth values count as 1 or 0; what an answer does not have is NaN, and the row is good all the same.
#[test]
fn outputs_may_be_words_flags_and_absent() {
    let request = json!({ "mesh": "77-55", "coated_thickness": "96 um" });
    let columns = json!({ "inputs": ["/coated_thickness"], "outputs": [
        { "at": "/verdict", "equals": "good" }, { "at": "/verdict", "equals": "thin" }, { "at": "/verdict", "equals": "no such word" },
    ] });
    let prepared = prepare("stencil.thickness", &request, &columns).unwrap();
    let [mut good, mut thin, mut none] = [[0.0; 2]; 3];
    prepared.run(&[&[100.0, 85.0]], &mut [&mut good, &mut thin, &mut none]).unwrap();
    assert_eq!((good, thin, none), ([1.0, 0.0], [0.0, 1.0], [0.0, 0.0]));
    let columns = json!({ "inputs": ["/mesh/thread"], "outputs": ["/thickness_estimated"] });
    let prepared = prepare("mesh.geometry", &json!({ "mesh": "77-55" }), &columns).unwrap();
    let mut estimated = [0.0];
    prepared.run(&[&[55.0]], &mut [&mut estimated]).unwrap();
    assert_eq!(estimated, [1.0]);
    let request = json!({ "image_width": "300 mm", "image_length": "300 mm" });
    let columns = json!({ "inputs": ["/image_width"], "outputs": ["/fits", "/blade_length"] });
    let prepared = prepare("press.squeegee", &request, &columns).unwrap();
    let [mut fits, mut blade] = [[0.0]; 2];
    assert!(prepared.run(&[&[300.0]], &mut [&mut fits, &mut blade]).unwrap()[0].status.is_ok());
    assert!(fits[0].is_nan() && (blade[0] - 330.0).abs() < 1e-9, "{fits:?} {blade:?}");
}

#[test]
fn columns_that_do_not_fit_are_refused() {
    let refuse = |columns: Value| refused(prepare("ink.usage", &usage(), &columns));
    let outputs = json!(["/wet_film"]);
    let with = |inputs: Value| refuse(json!({ "inputs": inputs, "outputs": outputs }));
    assert_eq!(with(json!(["/no_such"])), (Code::UnknownField, "/inputs/0".into()));
    assert_eq!(with(json!([{ "at": "/ink/no_such" }])), (Code::UnknownField, "/inputs/0/at".into()));
    assert_eq!(with(json!(["/prints", "/ink"])), (Code::WrongType, "/inputs/1".into()));
    assert_eq!(with(json!([{ "at": "/printed_area", "unit": "mm" }])), (Code::BadQuantity, "/inputs/0/unit".into()));
    assert_eq!(with(json!([{ "at": "/printed_area", "unit": 5 }])), (Code::WrongType, "/inputs/0/unit".into()));
    assert_eq!(
        with(json!([{ "at": "/printed_area", "units": "cm2" }])),
        (Code::UnknownField, "/inputs/0/units".into())
    );
    assert_eq!(with(json!(["/prints", { "at": "/prints" }])), (Code::Impossible, "/inputs/1".into()));
    assert_eq!(with(json!([5])), (Code::WrongType, "/inputs/0".into()));
    assert_eq!(with(json!("/prints")), (Code::WrongType, "/inputs".into()));
    assert_eq!(with(json!(vec!["/prints"; 1_001])), (Code::TooLong, "/inputs".into()));
    assert_eq!(refuse(json!({ "inputs": [] })), (Code::MissingField, "/outputs".into()));
    assert_eq!(refuse(json!({ "inputs": [], "outputs": ["/no_such"] })), (Code::UnknownField, "/outputs/0".into()));
    assert_eq!(refuse(json!({ "inputs": [], "outputs": [], "output": [] })), (Code::UnknownField, "/output".into()));
    assert_eq!(refuse(json!([])).0, Code::WrongType);
    let doubted = json!({ "mesh": "77-55", "ink": "plastisol", "prints": 1, "printed_area": "250 +/- 5 cm2" });
    let columns = json!({ "inputs": ["/prints"], "outputs": ["/wet_film"] });
    assert_eq!(refused(prepare("ink.usage", &doubted, &columns)), (Code::Impossible, "/printed_area".into()));
    assert_eq!(refused(prepare("ink.use", &usage(), &columns)).0, Code::UnknownCalculation);

    let prepared = prepare("ink.usage", &usage(), &columns).unwrap();
    let [mut one, mut two] = [[0.0; 2]; 2];
    assert_eq!(refused(prepared.run(&[], &mut [&mut one])), (Code::Impossible, "/inputs".into()));
    assert_eq!(refused(prepared.run(&[&[1.0; 2]], &mut [&mut one, &mut two])), (Code::Impossible, "/outputs".into()));
    assert_eq!(refused(prepared.run(&[&[1.0; 3]], &mut [&mut one])), (Code::Impossible, "/outputs/0".into()));
    assert_eq!(one, [0.0; 2]);
    assert_eq!(prepared.run(&[&[]], &mut [&mut []]).unwrap(), []);
    assert_eq!(refused(prepared.explain(&[])), (Code::Impossible, "/inputs".into()));
    assert_eq!(refused(prepared.explain(&[0.0])), (Code::OutOfRange, "/prints".into()));
    assert_eq!(refused(prepared.run_json(&json!([["1"]]))), (Code::WrongType, "/inputs/0/0".into()));
    assert_eq!(refused(prepared.run_json(&json!({}))), (Code::WrongType, "/inputs".into()));
}

/// Where the pieces of an order are a column its sizes go with them, and are checked as in a call.
#[test]
fn sizes_go_with_a_column_of_pieces() {
    let mut order: Value = serde_json::from_str(find("job.plan").unwrap().entry().prose.example).unwrap();
    order["sizes"] =
        json!([{ "size": "S", "pieces": 30 }, { "size": "M", "pieces": 50 }, { "size": "L", "pieces": 16 }]);
    let columns = json!({ "inputs": ["/pieces"], "outputs": ["/blanks/sizes/0/pieces", "/blanks/sizes/2/pieces"] });
    let prepared = prepare("job.plan", &order, &columns).unwrap();
    let [mut small, mut large] = [[0.0; 3]; 2];
    let rows = prepared.run(&[&[480.0, 1.0, 96.0]], &mut [&mut small, &mut large]).unwrap();
    assert!(rows.iter().all(|row| row.status.is_ok()));
    // One piece is one of M, and none of S and L.
    assert_eq!((small, large), ([150.0, 0.0, 30.0], [80.0, 0.0, 16.0]));
    let explained = prepared.explain(&[96.0]).unwrap();
    let cautions = explained.notes().iter().filter(|note| note.level.text() == "caution").count();
    assert_eq!(rows[2].cautions as usize, cautions);
}

/// JSON columns have null where binary ones have NaN.
#[test]
fn json_columns_say_the_same() {
    let columns = json!({ "inputs": ["/prints"], "outputs": [{ "at": "/mass_printed", "unit": "kg" }] });
    let told = prepare("ink.usage", &usage(), &columns).unwrap().run_json(&json!([[100, 0, 200.0]])).unwrap();
    assert_eq!(told["status"], json!(["success", "out_of_range", "success"]));
    assert_eq!(told["columns"][0]["values"][1], Value::Null);
    assert_eq!((&told["columns"][0]["at"], &told["columns"][0]["unit"]), (&json!("/mass_printed"), &json!("kg")));
    relative(at(&told, "/columns/0/values/2"), 2.0 * at(&told, "/columns/0/values/0"), 1e-13, "twice as many");
}

/// A prepared calculation is shared by threads, whose rows do not meet.
#[test]
fn threads_share_what_is_prepared() {
    let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180" });
    let columns = json!({ "inputs": ["/dryer/air", "/film"], "outputs": ["/fastest", "/slowest"] });
    let prepared = prepare("dryer.window", &request, &columns).unwrap();
    let work = |air: f64| {
        let mut found = [0.0; 2];
        prepared.rows().unwrap().row(&[air, 40.0], &mut found);
        found.map(f64::to_bits)
    };
    let alone: Vec<_> = (0..8).map(|index| work(170.0 + f64::from(index))).collect();
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..8).map(|index| scope.spawn(move || work(170.0 + f64::from(index)))).collect();
        for (thread, alone) in threads.into_iter().zip(alone) {
            assert_eq!(thread.join().unwrap(), alone);
        }
    });
}

/// Every number of every request can be set by a column, and every number of every answer read by one, as the tables say.
#[test]
fn every_number_of_the_catalogue_is_a_column() {
    let mut read = 0;
    for calculation in CALCULATIONS {
        let entry = calculation.entry();
        let example: Value = serde_json::from_str(entry.prose.example).unwrap();
        let answer = calculate(entry.id, &example).unwrap();
        let mut outputs = Vec::new();
        told(&answer, "", &mut outputs);
        // What is in stock is of many forms, and has no place in a table.
        for (pointer, value, unit) in outputs.iter().filter(|_| entry.id != "stock.list") {
            // A quantity of any dimension is read in the unit that was asked for.
            let output = unit
                .as_ref()
                .filter(|_| !of_any_dimension(entry.id, pointer))
                .map_or_else(|| json!(pointer), |unit| json!({ "at": pointer, "unit": unit }));
            let columns = json!({ "inputs": [], "outputs": [output] });
            let prepared =
                prepare(entry.id, &example, &columns).unwrap_or_else(|error| panic!("{} {pointer}: {error}", entry.id));
            if read % 50 == 0 || !entry.id.starts_with("job") {
                let mut found = [0.0];
                let row = prepared.rows().unwrap().row(&[], &mut found);
                assert_eq!((row.status, found[0].to_bits()), (Ok(()), value.to_bits()), "{} {pointer}", entry.id);
            }
            read += 1;
        }
    }
    assert!(read > 500, "{read}");
}

/// What the catalogue says of a field is what operators find: whether a column, a search or a range may vary it.
#[test]
fn the_catalogue_says_what_can_be_varied_and_wanted() {
    let document = floodbar::catalogue::describe();
    let (mut numbers, mut others, mut words) = (0, 0, 0);
    for entry in document["calculations"].as_array().unwrap() {
        let id = entry["id"].as_str().unwrap();
        let ask = |columns: Value| {
            prepare(id, &entry["example"], &columns).map(|_| ()).map_err(|error| (error.code, error.field))
        };
        let options = ["units", "explain", "doubt"];
        let fields = entry["request"]["properties"].as_object().unwrap();
        for (name, schema) in
            fields.iter().filter(|(name, schema)| !options.contains(&name.as_str()) && schema.get("x-vary").is_some())
        {
            let found = ask(json!({ "inputs": [format!("/{name}")], "outputs": [] }));
            if schema["x-vary"] == "number" {
                assert_ne!(found, Err((Code::WrongType, "/inputs/0".to_owned())), "{id} {name}");
                numbers += 1;
            } else {
                assert_eq!(found, Err((Code::WrongType, "/inputs/0".to_owned())), "{id} {name}");
                others += 1;
            }
        }
        for (name, schema) in entry["answer"]["properties"].as_object().unwrap() {
            if ["notes", "basis", "doubt"].contains(&name.as_str()) {
                continue;
            }
            let found = ask(json!({ "inputs": [], "outputs": [format!("/{name}")] }));
            match schema.get("x-want").and_then(Value::as_str) {
                Some("number") => assert_eq!(found, Ok(()), "{id} {name}"),
                Some(_) => {
                    assert_eq!(found, Err((Code::WrongType, "/outputs/0".to_owned())), "{id} {name}");
                    let output = json!({ "at": format!("/{name}"), "equals": "x" });
                    assert_eq!(ask(json!({ "inputs": [], "outputs": [output] })), Ok(()), "{id} {name}");
                    words += 1;
                }
                None => assert_eq!(found, Err((Code::WrongType, "/outputs/0".to_owned())), "{id} {name}"),
            }
        }
    }
    assert!(numbers > 80 && others > 60 && words > 5, "{numbers} {others} {words}");
    // The specifications of the operators are what the operators take.
    for operator in ["sweep", "solve", "prepare"] {
        assert!(document["operators"][operator]["spec"]["properties"].is_object());
    }
}

proptest! {
    /// Rows against calls, on values inside and outside of what may be.
    #[test]
    fn any_row_is_as_good_as_its_call(area in -10.0..20_000.0_f64, waste in -0.1..1.2_f64, over in 0.0..60.0_f64) {
        let columns = json!({ "inputs": ["/printed_area", "/waste_fraction", "/over_mesh"], "outputs": [{ "at": "/mass_to_mix", "unit": "g" }] });
        let prepared = prepare("ink.usage", &usage(), &columns).unwrap();
        let mut found = [0.0];
        let row = prepared.rows().unwrap().row(&[area, waste, over], &mut found);
        let mut request = usage();
        request["printed_area"] = json!({ "value": area, "unit": "cm2" });
        request["waste_fraction"] = json!(waste);
        request["over_mesh"] = json!({ "value": over, "unit": "um" });
        match calculate("ink.usage", &request) {
            Ok(answer) => {
                prop_assert_eq!(row.status, Ok(()));
                let scale = if answer["mass_to_mix"]["unit"] == "kg" { 1000.0 } else { 1.0 };
                relative(found[0], scale * at(&answer, "/mass_to_mix/value"), 1e-14, "mass");
                let cautions = answer["notes"].as_array().unwrap().iter().filter(|note| note["level"] == "caution").count();
                prop_assert_eq!(row.cautions as usize, cautions);
            }
            Err(error) => prop_assert_eq!(row.status, Err(error.code)),
        }
    }
}
