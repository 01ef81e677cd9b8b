//! No door skips a check: a request built in Rust and the same written as JSON give the same answer, notes and basis, or are
//! refused with the same error (what was got aside, since a typed value has no text).

use floodbar::catalogue::CALCULATIONS;
use floodbar::quantity::{Dimension, Rules, UNITS, Unit};
use floodbar::wire::{
    At, FieldTable, Kind, Listed, Options, Record, Remarks, Slot, Table, from_json, from_stock, numbers,
};
use floodbar::{Code, Error, calculate};
use proptest::prelude::*;
use proptest::test_runner::TestRng;
use serde_json::{Map, Value, json};

/// March through heat, and are too dear for random values: their examples and their ranges are tested.
const DEAR: [&str; 7] =
    ["heat.layers", "dryer.window", "dryer.fit", "flash.dwell", "flash.run", "flash.fit", "job.plan"];

/// An answer as its text, or an error without what was got.
fn told(reply: Result<Value, Error>) -> Result<String, (Code, String, String, Vec<String>)> {
    reply.map(|answer| answer.to_string()).map_err(|e| (e.code, e.field, e.message, e.allowed))
}

fn typed(calculation: &dyn Listed, request: &dyn Record) -> Result<Value, Error> {
    calculation.answer_record(request, Options::USUAL)?.to_value()
}

// ---- a request built both ways at once ----

/// A unit of the dimension: that of the rules where it fits.
fn unit(dimension: Dimension, rules: &Rules, rng: &mut TestRng) -> Unit {
    let fitting: Vec<_> = UNITS.iter().filter(|unit| unit.dimension == dimension).collect();
    if rules.unit.dimension == dimension && rng.random_bool(0.7) {
        rules.unit
    } else {
        *fitting[rng.random_range(0..fitting.len())]
    }
}

/// A number for a field, in SI base units: mostly usual, sometimes at an end of its range, rarely beyond it.
fn number(rules: &Rules, rng: &mut TestRng) -> f64 {
    let (least, most) = rules.usual.map_or(rules.range.si, |usual| usual.si);
    let (least, most) = if rules.limits() { (least, most) } else { (-1e3, 1e3) };
    match rng.random_range(0..40) {
        0 => rules.range.si.0,
        1 => rules.range.si.1,
        2 if rules.limits() => rules.range.si.1 + rules.range.si.1.abs() * 0.1 + 1.0,
        3 if rules.limits() => rules.range.si.0 - rules.range.si.0.abs() * 0.1 - 1.0,
        _ if least > 0.0 => (least.ln() + (most / least).ln() * rng.random::<f64>()).exp(),
        _ => least + (most - least) * rng.random::<f64>(),
    }
}

/// Fills a place of a typed request, and gives the same as JSON.
fn fill(slot: Slot<'_>, kind: &Kind, rules: &Rules, rng: &mut TestRng) -> Value {
    match (slot, kind.content()) {
        (Slot::Number(dimension, place), _) => {
            let unit = unit(dimension, rules, rng);
            let value = unit.from_si(number(rules, rng));
            *place = unit.to_si(value) + 0.0;
            match dimension {
                Dimension::Fraction if unit.name == "1" => json!(value),
                _ => json!({ "value": value, "unit": unit.name }),
            }
        }
        (Slot::Count(place), _) => {
            let (least, most) = (rules.range.shown.0.max(0.0), rules.range.shown.1.min(1e7));
            let most = if rng.random_bool(0.9) { most.min(least + 12.0) } else { most };
            *place = rng.random_range(least as u32..=most as u32);
            if rng.random_bool(0.03) {
                *place = (rules.range.shown.1.min(1e7) as u32).saturating_add(1);
            }
            json!(*place)
        }
        (Slot::Flag(place), _) => {
            *place = rng.random();
            json!(*place)
        }
        (Slot::Text(place), _) => {
            *place = ["a", "b", "third", "a longer name"][rng.random_range(0..4)].to_owned();
            json!(*place)
        }
        (Slot::Word(place), _) => {
            let words = place.words();
            let index = rng.random_range(0..words.len());
            place.choose(index);
            json!(words[index])
        }
        (Slot::List(list, _), Kind::List(item, _)) => {
            let count = rng.random_range(0..4);
            (0..count).map(|_| fill(list.grow().expect("a list grows"), item, rules, rng)).collect()
        }
        (Slot::Record(record), _) => request(record, rng),
        (Slot::Own(own), Kind::Own(described)) => {
            let value = match described.wanted {
                wanted if wanted.contains("three numbers") => {
                    json!([rng.random_range(-1.0..101.0), rng.random_range(-130.0..130.0), 0])
                }
                "a currency of ISO 4217, such as EUR" => json!(["EUR", "JPY", "KWD", "EUR"][rng.random_range(0..4)]),
                wanted if wanted.contains("money") => {
                    let (_, unit) = wanted.rsplit_once(' ').expect("an example");
                    json!(
                        [format!("12.5 {unit}"), format!("0.001 {unit}"), format!("7 {unit}")][rng.random_range(0..3)]
                    )
                }
                wanted if wanted.contains("dry") => json!(["dry", "115 degC", "1400 degC"][rng.random_range(0..3)]),
                _ => json!(["0.5 m", "12 ft", "3 s", "12 ft/min"][rng.random_range(0..4)]),
            };
            // One that the wire refuses cannot be built, so it is not asked.
            match own.read(&value, At::ROOT, rules, &mut Remarks::counting()) {
                Ok(()) => value,
                Err(_) => {
                    let value =
                        json!(if described.wanted.contains("three") { json!([50, 1, 1]) } else { json!("1 m") });
                    own.read(&value, At::ROOT, rules, &mut Remarks::counting()).expect("a value that fits");
                    value
                }
            }
        }
        (_, kind) => panic!("no way to fill {kind:?}"),
    }
}

fn request(record: &mut dyn Record, rng: &mut TestRng) -> Value {
    let table = record.table();
    let mut members = Map::new();
    let mut from_row = false;
    if let Some(stock) = table.stock {
        let names: Vec<_> = (stock.shelf)().names().collect();
        let name = names[rng.random_range(0..names.len())];
        from_stock(record, name).expect("a stock name");
        if rng.random_bool(0.6) {
            return json!(name);
        }
        members.insert("from".into(), json!(name));
        from_row = true;
    } else if table.name == "MeshParts" && rng.random_bool(0.7) {
        let (count, thread) = (rng.random_range(5..160), rng.random_range(20..120));
        set(record, table, "count", f64::from(count) * 100.0);
        if rng.random_bool(0.3) {
            return json!(format!("{count} /cm"));
        }
        set(record, table, "thread", f64::from(thread) / 1e6);
        return json!(format!(
            "{count}{}",
            ["-{}", " - {}", "/{} /cm"][rng.random_range(0..3)].replace("{}", &thread.to_string())
        ));
    }
    for (index, field) in table.fields.iter().enumerate() {
        let needed = !(from_row || field.kind.is_optional() || field.rules.default.is_some());
        let chance = if from_row {
            0.15
        } else if needed {
            0.99
        } else {
            0.3
        };
        if rng.random_bool(chance) {
            record.given_mut().expect("it is asked for").mark(index, true);
            clear(record, index, field);
            let value = fill(record.slot(index).expect("a field"), &field.kind, field.rules, rng);
            members.insert(field.name.into(), value);
        }
    }
    members.into()
}

/// What stock put there goes before a list or a record is filled anew.
fn clear(record: &mut dyn Record, index: usize, field: &FieldTable) {
    match (record.slot(index), field.kind.content()) {
        (Some(Slot::List(list, _)), _) => list.empty(),
        (Some(Slot::Record(inner)), _) => {
            inner.become_copy(None);
        }
        _ => {}
    }
}

fn set(record: &mut dyn Record, table: &Table, name: &str, si: f64) {
    let index = table.find(name).expect("a field");
    record.given_mut().expect("it is asked for").mark(index, true);
    match record.slot(index) {
        Some(Slot::Number(_, place)) => *place = si,
        _ => panic!("{name} is no number"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(floodbar_tests::budget::cases(60, 5_000)))]

    #[test]
    fn a_typed_request_is_answered_as_its_json(seed in any::<[u8; 32]>()) {
        let mut rng = TestRng::from_seed(prop::test_runner::RngAlgorithm::ChaCha, &seed);
        for calculation in CALCULATIONS.iter().filter(|calculation| !DEAR.contains(&calculation.id())) {
            let mut record = calculation.blank();
            let json = request(&mut *record, &mut rng);
            prop_assert_eq!(told(typed(*calculation, &*record)), told(calculate(calculation.id(), &json)), "{} {}", calculation.id(), json);
        }
    }
}

// ---- examples, and the ends of every range ----

fn example(calculation: &dyn Listed) -> (Value, Box<dyn Record>) {
    let json: Value = serde_json::from_str(calculation.entry().prose.example).expect("an example");
    let mut record = calculation.blank();
    from_json(&mut *record, &json).expect("an example that is read");
    (json, record)
}

#[test]
fn every_example_is_answered_alike() {
    for calculation in CALCULATIONS {
        let (json, record) = example(*calculation);
        assert_eq!(
            told(typed(*calculation, &*record)),
            told(calculate(calculation.id(), &json)),
            "{}",
            calculation.id()
        );
    }
}

/// Every number that a record of the request holds or could hold, as a pointer, with its field.
fn places(record: &dyn Record, at: &str, found: &mut Vec<(String, &'static FieldTable)>) {
    use floodbar::wire::View;
    for (index, field) in record.table().fields.iter().enumerate() {
        let at = format!("{at}/{}", field.name);
        match (record.view(index), field.kind.content()) {
            (_, Kind::Number(_) | Kind::Count) => found.push((at, field)),
            (View::Record(inner), _) => places(inner, &at, found),
            (View::List(list), _) => {
                for index in 0..list.count() {
                    if let View::Record(inner) = list.item(index) {
                        places(inner, &format!("{at}/{index}"), found);
                    }
                }
            }
            _ => {}
        }
    }
}

/// The JSON of a request with one member set, stock names and meshes on the way written out. A part of a stock value cannot
/// be sent without the rest of it.
fn with(json: &Value, pointer: &str, value: Value) -> Option<Value> {
    let mut json = json.clone();
    let mut here = &mut json;
    let steps: Vec<&str> = pointer[1..].split('/').collect();
    for (index, step) in steps.iter().enumerate() {
        if let Some(name) = here.as_str() {
            if index + 1 < steps.len() {
                return None;
            }
            *here = match name.split_once('-') {
                Some((count, thread)) if count.parse::<f64>().is_ok() => {
                    json!({ "count": format!("{count} /cm"), "thread": format!("{thread} um") })
                }
                _ => json!({ "from": name }),
            };
        }
        here = match here {
            Value::Array(items) => &mut items[step.parse::<usize>().expect("an index")],
            Value::Object(members) => members.entry(*step).or_insert(Value::Null),
            _ => return None,
        };
    }
    *here = value;
    Some(json)
}

/// The next number beyond an end of a range, and infinitely far beyond; NaN, which JSON cannot write.
#[test]
fn the_ends_of_every_range_hold_at_every_door() {
    let mut refused = 0;
    for calculation in CALCULATIONS {
        let (json, record) = example(*calculation);
        let mut found = Vec::new();
        places(&*record, "", &mut found);
        for (pointer, field) in found {
            let rules = field.rules;
            let ask = |value: f64| {
                let mut record = example(*calculation).1;
                numbers::set(&mut *record, &pointer, value).map(|()| typed(*calculation, &*record))
            };
            let check = |told: Result<Value, Error>, what: f64| {
                let error = told.expect_err(&format!("{} takes {what} at {pointer}", calculation.id()));
                assert_eq!((error.code, &error.field), (Code::OutOfRange, &pointer), "{} {what}", calculation.id());
                error
            };
            if let Kind::Count = field.kind.content() {
                let most = rules.range.shown.1.min(1e7) + 1.0;
                // A count is no other number even before the record is checked.
                let typed = check(ask(most).unwrap_or_else(Err), most);
                refused += 1;
                if let Some(json) = with(&json, &pointer, json!(most)) {
                    let json = check(calculate(calculation.id(), &json), most);
                    assert_eq!((typed.message, typed.allowed), (json.message, json.allowed), "{pointer}");
                    refused += 1;
                }
                continue;
            }
            for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                check(ask(value).expect("a number"), value);
                refused += 1;
            }
            if !rules.limits() {
                continue;
            }
            let (least, most) = rules.range.si;
            for value in [least.next_down(), most.next_up()] {
                // In SI base units, in which no conversion rounds.
                let base = UNITS.iter().find(|unit| unit.dimension == rules.unit.dimension && unit.to_si(1.0) == 1.0);
                let written = match base {
                    Some(unit) if unit.to_si(value) == value && unit.name != "1" => {
                        json!({ "value": value, "unit": unit.name })
                    }
                    _ if rules.unit.dimension == Dimension::Fraction => json!(value),
                    _ => continue,
                };
                let typed = check(ask(value).expect("a number"), value);
                refused += 1;
                if let Some(json) = with(&json, &pointer, written) {
                    let json = check(calculate(calculation.id(), &json), value);
                    assert_eq!((typed.message, typed.allowed), (json.message, json.allowed), "{pointer}");
                    refused += 1;
                }
            }
        }
    }
    assert!(refused > 1_500, "{refused} refusals");
}

/// What is required and not given is missing, as in JSON.
#[test]
fn every_required_field_is_missed() {
    let mut missed = 0;
    for calculation in CALCULATIONS {
        let (json, record) = example(*calculation);
        for (index, field) in record.table().fields.iter().enumerate() {
            if field.kind.is_optional() || field.rules.default.is_some() {
                continue;
            }
            let mut record = example(*calculation).1;
            record.given_mut().expect("it is asked for").mark(index, false);
            let mut json = json.clone();
            json.as_object_mut().expect("an object").shift_remove(field.name);
            let typed = told(typed(*calculation, &*record));
            assert_eq!(typed, told(calculate(calculation.id(), &json)), "{} {}", calculation.id(), field.name);
            assert_eq!(typed.map_err(|e| (e.0, e.1)), Err((Code::MissingField, format!("/{}", field.name))));
            missed += 1;
        }
    }
    assert!(missed > 70, "{missed} fields");
}
