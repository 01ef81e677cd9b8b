//! The catalogue describes itself: examples run, schemas fit what is read and written, stock is whole.

use floodbar::calculate;
use floodbar::catalogue::{CALCULATIONS, describe};
use floodbar::source::SourceKind;
use floodbar::stock;
use floodbar::wire::Table;
use jsonschema::Validator;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

fn entries() -> Vec<Value> {
    describe()["calculations"].as_array().unwrap().clone()
}

/// Validators of requests or of answers, by calculation.
fn validators(which: &str) -> BTreeMap<String, Validator> {
    let described = describe();
    let of = |entry: &Value| {
        let mut schema = entry[which].clone();
        schema["$schema"] = "https://json-schema.org/draft/2020-12/schema".into();
        schema["$defs"] = described["$defs"].clone();
        (entry["id"].as_str().unwrap().to_owned(), jsonschema::validator_for(&schema).expect("a schema"))
    };
    described["calculations"].as_array().unwrap().iter().map(of).collect()
}

fn faults(validator: &Validator, value: &Value) -> String {
    validator.iter_errors(value).map(|e| format!("{} at {}; ", e, e.instance_path())).collect()
}

/// A calculation is `step.name`, once, in the module of its step, beside the others of that step.
#[test]
fn ids_name_their_steps() {
    let ids: Vec<_> = CALCULATIONS.iter().map(|c| c.id()).collect();
    let mut steps: Vec<&str> = Vec::new();
    for (index, calculation) in CALCULATIONS.iter().enumerate() {
        let id = calculation.id();
        assert!(!ids[..index].contains(&id), "{id} twice");
        let (step, name) = id.split_once('.').expect("step.name");
        let plain = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
        assert!(plain(step) && plain(name), "{id} is not step.name");
        for table in [calculation.request(), calculation.answer()] {
            // Which mesh: it asks of the mesh what only the ink, a later step, can tell.
            let module = if id == "mesh.choose" { "ink" } else { step };
            assert_eq!(table.module.split("::").nth(1), Some(module), "{id}: {}", table.name);
        }
        if steps.last() != Some(&step) {
            assert!(!steps.contains(&step), "{id} stands apart from the others of its step");
            steps.push(step);
        }
    }
}

#[test]
fn every_entry_says_what_it_is() {
    for entry in entries() {
        for name in ["title", "question", "formula"] {
            assert!(entry[name].as_str().is_some_and(|text| text.len() > 5), "{name} of {}", entry["id"]);
        }
        assert!(entry["question"].as_str().unwrap().ends_with('?'), "{}", entry["id"]);
        let asked = entry["asked"].as_array().unwrap();
        assert!(asked.len() >= 2 && asked.iter().all(|way| way.as_str().unwrap().ends_with('?')), "{}", entry["id"]);
        for member in entry["headline"].as_array().unwrap() {
            assert!(entry["answer"]["properties"].get(member.as_str().unwrap()).is_some(), "{}: {member}", entry["id"]);
        }
        let sources = entry["sources"].as_array().unwrap();
        assert!(!sources.is_empty(), "{} names no source", entry["id"]);
        for source in sources {
            assert!(
                SourceKind::find(source["kind"].as_str().unwrap()).is_some()
                    && !source["source"].as_str().unwrap().is_empty()
            );
        }
    }
}

#[test]
fn every_example_runs_and_fits_its_schemas() {
    let (requests, answers) = (validators("request"), validators("answer"));
    for entry in entries() {
        let id = entry["id"].as_str().unwrap();
        let example = &entry["example"];
        assert_eq!(faults(&requests[id], example), "", "the example of {id}");
        let answer = calculate(id, example).unwrap_or_else(|e| panic!("the example of {id}: {e}"));
        assert_eq!(faults(&answers[id], &answer), "", "the answer of {id}");
        for broken in [json!({}), json!([]), json!(null)] {
            assert!(!answers[id].is_valid(&broken), "the answer schema of {id} takes {broken}");
        }
    }
}

/// Every field of every request has a description, and every quantity and number its range.
#[test]
fn every_field_is_described() {
    struct Walk<'a> {
        defs: &'a Value,
        seen: BTreeSet<&'a str>,
        fields: usize,
        quantities: usize,
        wrong: Vec<String>,
    }
    impl<'a> Walk<'a> {
        /// Numbers of ranges are numbers, in a unit of the list.
        fn quantity(&mut self, property: &Value, at: &str) {
            let Some(quantity) = property.get("x-quantity") else { return };
            let number = |name: &str| quantity.get(name).map(|value| value.as_f64().expect("a number"));
            let ends = (number("least"), number("most"));
            let usual = quantity["usual"].as_array().map(|ends| (ends[0].as_f64().unwrap(), ends[1].as_f64().unwrap()));
            let units = quantity["units"].as_array().unwrap();
            let (least, most) = (ends.0.unwrap_or(f64::MIN), ends.1.unwrap_or(f64::MAX));
            let usual_fits = usual.is_none_or(|(low, high)| least <= low && low < high && high <= most);
            if !units.contains(&quantity["unit"])
                || least >= most
                || ends.0.is_some() != ends.1.is_some()
                || !usual_fits
            {
                self.wrong.push(format!("{at}: {quantity}"));
            }
            self.quantities += 1;
        }

        fn schema(&mut self, schema: &'a Value, at: &str) {
            if let Some(name) = schema["$ref"].as_str().and_then(|reference| reference.strip_prefix("#/$defs/")) {
                let target = &self.defs[name];
                assert!(target.is_object(), "{at} refers to {name}");
                if self.seen.insert(name) {
                    self.schema(target, name);
                }
            }
            for (name, property) in schema["properties"].as_object().into_iter().flatten() {
                self.fields += 1;
                // The parts of a quantity are described with it.
                let part = ["value", "unit", "plus_minus"].contains(&name.as_str());
                if !part && property["description"].as_str().is_none_or(str::is_empty) {
                    self.wrong.push(format!("{at}.{name} has no description"));
                }
                self.quantity(property, &format!("{at}.{name}"));
                self.schema(property, &format!("{at}.{name}"));
            }
            if schema["items"].is_object() {
                self.schema(&schema["items"], at);
            }
            for forms in ["anyOf", "prefixItems"] {
                schema[forms].as_array().into_iter().flatten().for_each(|form| self.schema(form, at));
            }
        }
    }
    let described = describe();
    let mut walk =
        Walk { defs: &described["$defs"], seen: BTreeSet::new(), fields: 0, quantities: 0, wrong: Vec::new() };
    for entry in described["calculations"].as_array().unwrap() {
        walk.schema(&entry["request"], entry["id"].as_str().unwrap());
    }
    let asked = walk.fields;
    for entry in described["calculations"].as_array().unwrap() {
        walk.schema(&entry["answer"], entry["id"].as_str().unwrap());
    }
    let defined: BTreeSet<&str> = described["$defs"].as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(defined, walk.seen, "definitions and what refers to them");
    assert!(asked > 100 && walk.quantities > 100, "{} fields, {} quantities", walk.fields, walk.quantities);
    assert!(walk.wrong.is_empty(), "{:#?}", walk.wrong);
}

/// Labels stand beside fields on a form: one to four words, no two alike in a record.
fn label_faults(at: &str, schema: &Value, wrong: &mut Vec<String>) {
    let mut seen = BTreeSet::new();
    for (field, member) in schema["properties"].as_object().into_iter().flatten() {
        let Some(label) = member["title"].as_str() else { continue };
        let words = label.split(' ').count();
        let tidy =
            label.starts_with(|c: char| c.is_ascii_uppercase()) && !label.ends_with(|c: char| c.is_ascii_punctuation());
        // A capital within a word is the name of a type, or of a unit.
        let named = |word: &str| {
            word.len() > 3
                && word.chars().skip(1).any(|c| c.is_ascii_uppercase())
                && word.chars().any(|c| c.is_ascii_lowercase())
        };
        let tidy = tidy && !label.split(' ').any(named);
        if !tidy || !(1..=4).contains(&words) || !seen.insert(label.to_owned()) {
            wrong.push(format!("{at}/{field}: `{label}`"));
        }
    }
}

#[test]
fn labels_fit_on_a_form() {
    let described = describe();
    let mut wrong = Vec::new();
    for (name, schema) in described["$defs"].as_object().unwrap() {
        label_faults(name, schema, &mut wrong);
    }
    for entry in described["calculations"].as_array().unwrap() {
        for which in ["request", "answer"] {
            label_faults(&format!("{}/{which}", entry["id"]), &entry[which], &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Every row of a shelf is read, is usual by its own rules, and every value in it has its source.
fn shelf(table: &Table) -> usize {
    let kind = table.stock.expect("kept in stock");
    let shelf = (kind.shelf)();
    let files = ["inks", "cloths", "presses", "flashes", "platens", "dryers", "shops", "causes", "meshes", "rates"];
    let file = files.iter().find(|file| file.starts_with(&kind.what[..3])).expect("a file of that kind");
    let path = format!("{}/../core/src/stock/{file}.json", env!("CARGO_MANIFEST_DIR"));
    let written: Value = serde_json::from_str(&std::fs::read_to_string(&path).expect("a shelf")).expect("JSON");
    let written = written.as_object().unwrap();
    assert_eq!(shelf.names().count(), written.len(), "{file}: rows left out");
    let mut values = 0;
    for row in shelf.rows() {
        let name = row.name();
        for (field, entry) in written[name].as_object().expect("a row") {
            let of = format!("{name}.{field}");
            let index = table.find(field).unwrap_or_else(|| panic!("{of} is no field"));
            let source = row.source(index).unwrap_or_else(|| panic!("{of} has no source"));
            assert_eq!(entry[1], source.kind.text(), "{of}");
            assert!(entry[2] == source.text && source.text.len() > 3, "{of}");
            values += 1;
        }
    }
    values
}

#[test]
fn stock_is_whole_and_sourced() {
    let values: usize = stock::KINDS.iter().map(|table| shelf(table)).sum();
    assert!(values > 200, "{values} values");
    // Each kind can be asked for by its word, in the same order.
    let listed = calculate("stock.list", &json!({})).unwrap();
    let kinds: Vec<_> = stock::KINDS.iter().map(|table| table.stock.unwrap().what).collect();
    let words: Vec<_> =
        listed["kinds"].as_array().unwrap().iter().map(|shelf| shelf["kind"].as_str().unwrap()).collect();
    assert_eq!(words, kinds);
    for kind in kinds {
        let one = calculate("stock.list", &json!({ "kind": kind })).unwrap();
        assert_eq!(one["kinds"].as_array().map(Vec::len), Some(1), "{kind}");
    }
    let files = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../core/src/stock")).unwrap();
    let files = files.filter(|f| f.as_ref().unwrap().path().extension().is_some_and(|e| e == "json")).count();
    assert_eq!(files, 10, "a shelf that no line above looks at");
}
