//! What must hold whatever is asked.

use floodbar::quantity::{Dimension, System, UNITS, Unit, measure_text, units};
use floodbar::wire::Listed;
use floodbar::{Code, calculate, calculate_text, catalogue, ink};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::at;
use floodbar_tests::pointers::{admits, error_admits};
use floodbar_tests::vectors::{text, vectors};
use proptest::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use std::sync::LazyLock;

// ---- replies are sound ----

fn sound(value: &Value) -> Result<(), String> {
    match value {
        Value::Null => Err("a null in an answer".into()),
        Value::Number(number) => match number.as_f64() {
            Some(number) if number.is_finite() && number.to_bits() != (-0.0_f64).to_bits() => Ok(()),
            other => Err(format!("the number {other:?}")),
        },
        Value::Array(items) => items.iter().try_for_each(sound),
        Value::Object(members) => members.values().try_for_each(sound),
        Value::Bool(_) | Value::String(_) => Ok(()),
    }
}

fn admitted(id: &str, admits: impl FnOnce(&dyn Listed) -> bool) -> bool {
    catalogue::find(id).map_or(true, admits)
}

/// A note that points at a field which the request does not have.
fn nowhere(id: &str, request: &Value, answer: &Value) -> Option<String> {
    let fields =
        answer["notes"].as_array()?.iter().map(|note| (note["code"].clone(), note["field"].as_str().unwrap_or("?")));
    let mut wrong = fields.filter(|(_, field)| !admitted(id, |calculation| admits(calculation, request, field)));
    wrong.next().map(|(code, field)| format!("the note {code} points at `{field}`, which no request has"))
}

/// Asks, and checks the reply by itself: an answer of finite numbers, or an error of known form that blames the request.
fn reply(id: &str, request: &Value) -> Result<Value, String> {
    let reply = calculate(id, request);
    let fault = match &reply {
        Ok(answer) => sound(answer).err().or_else(|| nowhere(id, request, answer)),
        Err(error) if !admitted(id, |calculation| error_admits(calculation, request, error)) => {
            Some(format!("no request has the field `{}`", error.field))
        }
        Err(error) => {
            let text = error.to_json().to_string();
            if error.code == Code::Internal || error.code == Code::NullPointer {
                Some("the library blames itself".to_owned())
            } else if !error.field.is_empty() && !error.field.starts_with('/') {
                Some(format!("the field `{}` is no pointer", error.field))
            } else if error.message.is_empty() {
                Some("no message".into())
            } else if text.len() >= 64 * 1024 {
                Some(format!("an error of {} bytes", text.len()))
            } else {
                None
            }
        }
    };
    match fault {
        Some(fault) => Err(format!("{fault}: {id} {request:.300} -> {reply:.300?}")),
        None => Ok(reply.unwrap_or_else(|error| error.to_json())),
    }
}

/// As [`reply`], and the same by text.
fn both_ways(id: &str, request: &Value) -> Result<(), TestCaseError> {
    let by_value = reply(id, request).map_err(TestCaseError::fail)?;
    let by_text = calculate_text(id, request.to_string().as_bytes()).unwrap_or_else(|e| e.to_json().to_string());
    prop_assert_eq!(by_value.to_string(), by_text, "{} {}", id, request);
    Ok(())
}

/// Examples and vectors, whose notes and errors are the most various.
#[test]
fn what_is_known_points_at_fields_that_exist() {
    let known = vectors();
    let known = known.iter().filter_map(|v| Some((v["calculation"].as_str()?, v.get("request")?)));
    let examples = EXAMPLES.iter().map(|(id, request)| (*id, request));
    let wrong: Vec<_> = known.chain(examples).filter_map(|(id, request)| reply(id, request).err()).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

// ---- what is thrown at it ----

static EXAMPLES: LazyLock<Vec<(&str, Value)>> = LazyLock::new(|| {
    let example = |c: &&dyn Listed| (c.id(), serde_json::from_str(c.entry().prose.example).expect("an example"));
    catalogue::CALCULATIONS.iter().map(example).collect()
});

/// Names that mean something somewhere, and slips of them.
static NAMES: LazyLock<Vec<String>> = LazyLock::new(|| {
    fn gather(value: &Value, names: &mut BTreeSet<String>) {
        if let Some(Value::Object(properties)) = value.get("properties") {
            names.extend(properties.keys().cloned());
        }
        match value {
            Value::Array(items) => items.iter().for_each(|item| gather(item, names)),
            Value::Object(members) => members.values().for_each(|member| gather(member, names)),
            _ => {}
        }
    }
    let mut names: BTreeSet<_> = ["from", "value", "unit", "plus_minus", "", "/", "~"].map(String::from).into();
    gather(&catalogue::describe(), &mut names);
    let slips: Vec<_> = names.iter().map(|name| format!("{name}s")).collect();
    names.extend(slips);
    names.into_iter().collect()
});

fn unit_text() -> impl Strategy<Value = String> {
    let names: Vec<_> =
        UNITS.iter().flat_map(|u| u.spellings.iter().copied().chain([u.name])).map(String::from).collect();
    prop_oneof![8 => prop::sample::select(names), 1 => "\\PC{0,6}"]
}

fn number_text() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => (0.0..1000.0).prop_map(|n: f64| format!("{n:.3}")),
        2 => any::<f64>().prop_map(|n| format!("{n:e}")),
        2 => (0..100_u32, 0..20_u32, 0..20_u32).prop_map(|(whole, above, below)| format!("{whole} {above}/{below}")),
        1 => prop::sample::select(vec!["0", "-0", "1e999", "1e-320", "NaN", "inf", "1,5", "", "+5", ".5", "5.", "1e", "--1", "1/0"])
            .prop_map(String::from),
    ]
}

fn quantity_text() -> impl Strategy<Value = String> {
    let doubt = prop_oneof![6 => Just(String::new()), 1 => number_text().prop_map(|n| format!(" +/- {n}"))];
    let share = prop_oneof![6 => Just(""), 1 => Just(" \u{b1} 3 %"), 1 => Just(" +- 2 K")];
    (number_text(), doubt, prop::sample::select(vec!["", " ", "\u{a0}"]), unit_text(), share)
        .prop_map(|(number, doubt, blank, unit, share)| format!("{number}{doubt}{blank}{unit}{share}"))
}

fn leaf() -> impl Strategy<Value = Value> {
    prop_oneof![
        1 => Just(Value::Null),
        1 => any::<bool>().prop_map(Value::from),
        2 => any::<i64>().prop_map(Value::from),
        2 => (0..50_u32).prop_map(Value::from),
        2 => any::<f64>().prop_filter("JSON has finite numbers only", |n| n.is_finite()).prop_map(Value::from),
        2 => (0.0..1.0).prop_map(|n: f64| Value::from(n)),
        4 => quantity_text().prop_map(Value::from),
        1 => "\\PC{0,200}".prop_map(Value::from),
        1 => prop::sample::select(vec!["77-55", "plastisol", "water-based", "automatic-8", "starter-shop", "dry", "us", "m"]).prop_map(Value::from),
        1 => (number_text(), unit_text()).prop_map(|(n, unit)| json!({ "value": n.parse::<f64>().ok().filter(|n| n.is_finite()), "unit": unit })),
    ]
}

fn anything() -> impl Strategy<Value = Value> {
    let name = prop_oneof![8 => prop::sample::select(NAMES.clone()), 1 => "\\PC{0,80}"];
    leaf().prop_recursive(4, 40, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::vec((name.clone(), inner), 0..6)
                .prop_map(|members| Value::Object(members.into_iter().collect::<Map<_, _>>())),
        ]
    })
}

/// Pointers to every value of a document, the document itself aside.
fn places(value: &Value, at: &str, into: &mut Vec<String>) {
    let mut child = |key: String, value: &Value| {
        let at = format!("{at}/{}", key.replace('~', "~0").replace('/', "~1"));
        into.push(at.clone());
        places(value, &at, into);
    };
    match value {
        Value::Array(items) => items.iter().enumerate().for_each(|(index, item)| child(index.to_string(), item)),
        Value::Object(members) => members.iter().for_each(|(key, member)| child(key.clone(), member)),
        _ => {}
    }
}

/// An example with one value replaced, or one member of some name added.
fn poked(with: impl Strategy<Value = Value>) -> impl Strategy<Value = (&'static str, Value)> {
    let add = prop::option::weighted(0.3, prop::sample::select(NAMES.clone()));
    (prop::sample::select(EXAMPLES.clone()), any::<prop::sample::Index>(), with, add).prop_map(
        |((id, mut request), at, value, add)| {
            if let Some(name) = add {
                request[name] = value;
                return (id, request);
            }
            let mut all = Vec::new();
            places(&request, "", &mut all);
            *request.pointer_mut(at.get::<String>(&all)).expect("a place of the example") = value;
            (id, request)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(400, 4000), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_json_is_answered_or_refused(request in anything()) {
        for (id, _) in EXAMPLES.iter() {
            both_ways(id, &request)?;
        }
    }

    #[test]
    fn any_value_in_an_example_is_answered_or_refused((id, request) in poked(anything())) {
        both_ways(id, &request)?;
    }

    #[test]
    fn any_text_is_answered_or_refused(text in "\\PC{0,60}", bytes in prop::collection::vec(any::<u8>(), 0..60)) {
        for (id, _) in EXAMPLES.iter() {
            for sent in [text.as_bytes(), &bytes] {
                if let Err(error) = calculate_text(id, sent) {
                    prop_assert!(error.code != Code::Internal, "{id} {sent:?}: {error}");
                }
            }
        }
        let known = EXAMPLES.iter().any(|(id, _)| *id == text);
        prop_assert!(known || calculate_text(&text, b"{}").is_err(), "a calculation called {text}");
    }

    #[test]
    fn an_example_cut_anywhere_is_no_json(at in any::<prop::sample::Index>()) {
        for (id, example) in EXAMPLES.iter() {
            let whole = example.to_string();
            let sent = &whole.as_bytes()[..at.index(whole.len())];
            prop_assert_eq!(calculate_text(id, sent).map_err(|e| e.code), Err(Code::BadJson));
        }
    }
}

proptest! {
    // Thousands of requests each.
    #![proptest_config(ProptestConfig { cases: cases(15, 400), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_quantity_at_every_place_of_every_example(quantity in quantity_text()) {
        for (id, example) in EXAMPLES.iter() {
            let mut all = Vec::new();
            places(example, "", &mut all);
            for place in all {
                let mut request = example.clone();
                *request.pointer_mut(&place).expect("a place of the example") = quantity.clone().into();
                reply(id, &request).map_err(TestCaseError::fail)?;
            }
        }
    }
}

/// An error never grows with what was sent: names, texts and keys of a hundred kilobytes, at every place.
#[test]
fn errors_stay_small() {
    let long = "x".repeat(100_000);
    let mut wrong = Vec::new();
    let huge = [
        json!(long),
        json!({ long.as_str(): 1 }),
        json!({ "from": long }),
        json!({ "value": 1, "unit": long }),
        json!([long]),
    ];
    for (id, example) in EXAMPLES.iter() {
        let mut all = Vec::new();
        places(example, "", &mut all);
        for value in &huge {
            for place in &all {
                let mut request = example.clone();
                *request.pointer_mut(place).expect("a place of the example") = value.clone();
                if let Err(fault) = reply(id, &request) {
                    wrong.push(format!("{fault:.60} at {place}: {:.40}", value.to_string()));
                }
            }
        }
        let mut unknown = example.clone();
        unknown[&long] = 1.into();
        wrong.extend(reply(id, &unknown).err().map(|fault| format!("{fault:.60} for an unknown field of {id}")));
    }
    wrong.extend(reply(&long, &json!({})).err().map(|fault| format!("{fault:.60} for a calculation")));
    for sent in [
        format!(r#"{{"{long}": 1, "{long}": 1}}"#),
        format!(r#"{{"{long}": [1e999]}}"#),
        format!(r#"{{"mesh": {long}}}"#),
    ] {
        let error = calculate_text("mesh.geometry", sent.as_bytes()).expect_err("not JSON").to_json().to_string();
        if error.len() >= 64 * 1024 {
            wrong.push(format!("an error of {} bytes for the text {sent:.20}", error.len()));
        }
    }
    assert!(wrong.is_empty(), "{} errors grow:\n{}", wrong.len(), wrong.join("\n"));
}

// ---- quantities ----

/// Half an ulp or two of the larger of the value and the unit's zero.
fn same(unit: &Unit, a: f64, b: f64) -> bool {
    let zero = unit.from_si(0.0).abs();
    (a - b).abs() <= 1e-14 * a.abs().max(b.abs()).max(zero)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(400, 4000), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_quantity_survives_parsing_and_printing(value in prop_oneof![-1e6..1e6_f64, 1e-9..1e-3_f64, 1e6..1e12_f64]) {
        for unit in UNITS {
            for spelling in unit.spellings.iter().chain([&unit.name]) {
                let (read, found) = measure_text(&format!("{value} {spelling}"), unit.dimension).map_err(|f| TestCaseError::fail(f.message))?;
                prop_assert_eq!(found.name, unit.name);
                let shown = unit.from_si(read.si);
                prop_assert!(same(unit, shown, value), "{value} {spelling} comes back as {shown}");
                let (again, _) = measure_text(&format!("{shown} {spelling}"), unit.dimension).map_err(|f| TestCaseError::fail(f.message))?;
                prop_assert!(same(unit, unit.from_si(again.si), value), "{value} {spelling}, twice");
            }
        }
    }

    #[test]
    fn conversion_there_and_back(value in 0.001..1e6_f64, from in prop::sample::select(UNITS.to_vec()), to in prop::sample::select(UNITS.to_vec())) {
        let ask = |value: f64, from: &Unit, to: &Unit| {
            let quantity = json!({ "value": value, "unit": from.name });
            calculate("unit.convert", &json!({ "quantity": quantity, "to": to.name })).map(|a| a["quantity"]["value"].as_f64())
        };
        // `K` alone is both a temperature and a difference, so it goes either way.
        let kelvin = |u: &Unit| u.name == "K";
        match ask(value, &from, &to) {
            Ok(there) => {
                prop_assert!(from.dimension == to.dimension || kelvin(&from) || kelvin(&to));
                let back = ask(there.unwrap_or_default(), &to, &from).map_err(|e| TestCaseError::fail(e.to_string()))?;
                let back = back.unwrap_or_default();
                let slack = 1e-12 * value.max(from.from_si(0.0).abs()).max(500.0 * f64::from(u8::from(from.dimension == Dimension::Temperature)));
                prop_assert!((back - value).abs() <= slack, "{value} {} to {} and back: {back}", from.name, to.name);
            }
            Err(e) => {
                prop_assert_eq!(e.code, Code::WrongDimension, "{} to {}: {}", from.name, to.name, e);
                prop_assert!(from.dimension != to.dimension);
            }
        }
    }
}

#[test]
fn no_spelling_is_two_units_of_one_dimension() {
    let mut seen = BTreeSet::new();
    for unit in UNITS {
        for spelling in unit.spellings.iter().chain([&unit.name]) {
            assert!(seen.insert((unit.dimension.name(), *spelling)), "{spelling} is {} twice", unit.dimension.text());
        }
    }
}

/// The same request in metric and in US units: every quantity of the answer is the same.
#[test]
fn both_systems_of_units_say_the_same() {
    fn compare(metric: &Value, us: &Value, at: &str, shown: &mut usize) {
        let unit = |v: &Value| v["unit"].as_str().map(ToOwned::to_owned);
        match (metric, us) {
            // A quantity, or an entry of the list of doubts.
            (Value::Object(m), Value::Object(u))
                if m.contains_key("unit") && (m.contains_key("value") || m.contains_key("plus_minus")) =>
            {
                let (m_unit, u_unit) = (unit(metric).unwrap(), unit(us).unwrap());
                assert!(m.keys().eq(u.keys()), "{at}: {metric} is not {us}");
                for (name, member) in m.iter().filter(|(name, _)| *name != "unit") {
                    let (Some(of_m), Some(of_u)) = (member.as_f64(), u[name].as_f64()) else {
                        assert_eq!(*member, u[name], "{at}");
                        continue;
                    };
                    if name == "share_fraction" {
                        assert_eq!(of_m, of_u, "{at}");
                        continue;
                    }
                    let to_si: fn(&Unit, f64) -> f64 =
                        if name == "plus_minus" { Unit::span_to_si } else { Unit::to_si };
                    let candidates = UNITS.iter().filter(|x| x.name == m_unit);
                    let agree = candidates.flat_map(|x| UNITS.iter().map(move |y| (x, y))).any(|(x, y)| {
                        let (a, b) = (to_si(x, of_m), to_si(y, of_u));
                        y.name == u_unit && x.dimension == y.dimension && (a - b).abs() <= 1e-12 * a.abs().max(b.abs())
                    });
                    assert!(agree, "{at}/{name}: {metric} is not {us}");
                }
                *shown += usize::from(m_unit != u_unit);
            }
            (Value::Object(m), Value::Object(u)) => {
                assert!(m.keys().eq(u.keys()), "{at}");
                m.iter().for_each(|(key, value)| compare(value, &u[key], &format!("{at}/{key}"), shown));
            }
            (Value::Array(m), Value::Array(u)) => {
                assert_eq!(m.len(), u.len(), "{at}");
                (0..).zip(m.iter().zip(u)).for_each(|(i, (m, u)): (u32, _)| compare(m, u, &format!("{at}/{i}"), shown));
            }
            // Words may name quantities in the caller's units.
            (Value::String(_), Value::String(_)) => {}
            _ => assert_eq!(metric, us, "{at}"),
        }
    }
    let mut shown = 0;
    let good = vectors().into_iter().filter(|v| v.get("want").is_some() && v.get("request").is_some());
    let good = good.map(|v| (v["calculation"].as_str().unwrap().to_owned(), text(&v)));
    let examples = EXAMPLES.iter().map(|(id, example)| ((*id).to_owned(), example.to_string()));
    for (id, text) in good.chain(examples) {
        let ask = |system: &str| {
            let mut request: Value = serde_json::from_str(&text).unwrap();
            request["units"] = system.into();
            calculate(&id, &request)
        };
        // What is refused is refused in both.
        match (ask("metric"), ask("us")) {
            (Ok(metric), Ok(us)) => compare(&metric, &us, &id, &mut shown),
            (metric, us) => assert_eq!(metric.map_err(|e| e.code), us.map_err(|e| e.code), "{id} {text}"),
        }
    }
    assert!(shown > 50, "{shown} quantities differ in unit");
    assert_eq!(System::default(), System::Metric);
}

// ---- the trade's laws ----

fn ask(id: &str, request: &Value) -> Result<Value, TestCaseError> {
    calculate(id, request).map_err(|e| TestCaseError::fail(format!("{id} {request}: {e}")))
}

fn si(answer: &Value, name: &str) -> f64 {
    shown_si(&answer[name])
}

fn shown_si(shown: &Value) -> f64 {
    let unit = UNITS.iter().find(|u| shown["unit"] == u.name).expect("a unit of the wire");
    unit.to_si(shown["value"].as_f64().expect("a value"))
}

/// P(good >= pieces) of `start`, each good with chance 1 - spoilage: terms by their ratio from the mode on, normalised
/// by their sum. Nothing of the library is in it.
fn chance(start: u32, spoilage: f64, pieces: u32) -> f64 {
    let (good, n) = (1.0 - spoilage, f64::from(start));
    let mode = (n * good).floor();
    let (mut all, mut enough) = (0.0, 0.0);
    let mut add = |k: f64, term: f64| {
        all += term;
        if k >= f64::from(pieces) {
            enough += term;
        }
    };
    let (mut k, mut term) = (mode, 1.0);
    while k <= n && term > 1e-30 {
        add(k, term);
        term *= (n - k) / (k + 1.0) * good / spoilage;
        k += 1.0;
    }
    (k, term) = (mode, 1.0);
    while k > 0.0 && term > 1e-30 {
        term *= k / (n - k + 1.0) * spoilage / good;
        k -= 1.0;
        add(k, term);
    }
    enough / all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(400, 4000), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_of_anything_is_never_less_ink(
        strokes in 1..5_u32, hits in 1..3_u32, area in 1.0..2000.0_f64, prints in 1..1000_u32, edge in 0.0..50.0_f64,
        waste in 0.0..0.5_f64, which in 0..6_usize, more in 1.0..3.0_f64,
        ink in prop::sample::select(vec!["plastisol", "water-based", "silicone"]),
        mesh in prop::sample::select(vec!["10-260", "43-80", "77-55", "120-34"]),
    ) {
        let mut amounts = [f64::from(strokes), f64::from(hits), area, f64::from(prints), edge, waste];
        let usage = |a: &[f64; 6]| ask("ink.usage", &json!({
            "mesh": mesh, "ink": ink, "strokes": a[0], "hits": a[1], "printed_area": { "value": a[2], "unit": "cm2" },
            "prints": a[3], "edge_length": { "value": a[4], "unit": "m" }, "waste_fraction": a[5],
        }));
        let before = usage(&amounts)?;
        amounts[which] = if [0, 1, 3].contains(&which) { (amounts[which] * more).ceil() } else { amounts[which] * more };
        let after = usage(&amounts)?;
        for name in ["mass_printed", "mass_to_mix", "volume_to_mix"] {
            prop_assert!(si(&after, name) >= si(&before, name) * (1.0 - 1e-12), "{name} falls: {amounts:?}, {which}");
        }
        // What the answer says of itself: the printed mass is the area's, and its inverse is the mileage.
        let each = si(&after, "mass_per_print");
        prop_assert!((each * amounts[3] / si(&after, "mass_printed") - 1.0).abs() < 1e-12);
        prop_assert!((each * si(&after, "prints_per_mass") - 1.0).abs() < 1e-12);
        prop_assert!((each * si(&after, "area_per_mass") / (amounts[2] / 1e4) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_finer_line_takes_more_of_the_stencil(width in 1.0..1e6_f64, wider in 1.0001..10.0_f64, reach in 10.0..10_000.0_f64) {
        let share = |width: f64| ink::edge_share_of_width(units::UM.of(width), units::UM.of(reach));
        let (fine, wide) = (share(width), share(width * wider));
        prop_assert!((0.0..=1.0).contains(&fine) && wide <= fine, "{fine} {wide}");
        // (1 - exp(-r)) / r lies between 1 - r / 2 and 1, and under 1 / r.
        let r = width / (2.0 * reach);
        prop_assert!(fine >= 1.0 - r / 2.0 - 1e-15 && fine <= (1.0 / r) * (1.0 + 1e-15));
        let deposit = |w: f64| ask("ink.deposit", &json!({
            "mesh": "55-64", "ink": "plastisol", "feature_width": { "value": w.clamp(1.0, 1e7), "unit": "um" },
            "edge_length_scale": { "value": reach, "unit": "um" },
        }));
        prop_assert!(si(&deposit(width)?, "wet_film") >= si(&deposit(width * wider)?, "wet_film"));
    }

    #[test]
    fn a_step_forward_and_back_is_no_step(time in 10.0..500.0_f64, solid in 1.0..10.0_f64, wanted in 1.0..10.0_f64, density in 0.01..0.2_f64) {
        let step = |time: f64, solid: f64, wanted: f64| ask("exposure.step", &json!({
            "time": { "value": time, "unit": "s" }, "solid_step": solid, "wanted_step": wanted, "density_per_step": density,
        }));
        let there = step(time, solid, wanted)?;
        prop_assume!((0.01..86_400.0).contains(&si(&there, "time")));
        let back = step(si(&there, "time"), wanted, solid)?;
        prop_assert!((si(&back, "time") / time - 1.0).abs() < 1e-12);
        prop_assert!((at(&there, "/factor") * at(&back, "/factor") - 1.0).abs() < 1e-12);
        prop_assert_eq!(at(&there, "/factor") > 1.0, wanted > solid);
    }

    #[test]
    fn blanks_are_enough_and_one_less_is_not(pieces in 1..3000_u32, spoilage in 1e-4..0.5_f64, confidence in 0.01..0.9999_f64, more in 0.0..1.0_f64) {
        let overs = |confidence: f64| ask("press.overs", &json!({ "pieces": pieces, "spoilage_fraction": spoilage, "confidence": confidence }));
        let answer = overs(confidence)?;
        let start = answer["start_with"].as_u64().and_then(|n| u32::try_from(n).ok()).expect("a count");
        let probability = at(&answer, "/probability");
        prop_assert!(start >= pieces && probability >= confidence * (1.0 - 1e-11));
        prop_assert!((probability - chance(start, spoilage, pieces)).abs() < 1e-9);
        if start > pieces {
            prop_assert!(chance(start - 1, spoilage, pieces) < confidence + 1e-9);
        }
        let surer = overs(confidence + more * (0.9999 - confidence))?;
        prop_assert!(at(&surer, "/start_with") >= f64::from(start));
    }

    #[test]
    fn dwell_times_speed_is_length(length in 0.05..50.0_f64, given in 0.5..500.0_f64, by_speed in any::<bool>(), lanes in 1..5_u32, piece in 0.1..2.0_f64, gap in 0.0..1.0_f64) {
        let mut request = json!({ "heated_length": { "value": length, "unit": "m" }, "lanes": lanes,
            "piece_length": { "value": piece, "unit": "m" }, "gap": { "value": gap, "unit": "m" } });
        if by_speed {
            request["belt_speed"] = json!({ "value": given, "unit": "m/min" });
        } else {
            request["dwell"] = json!({ "value": given, "unit": "s" });
        }
        let answer = ask("dryer.dwell", &request)?;
        let speed = si(&answer, "belt_speed");
        prop_assert!((si(&answer, "dwell") * speed / length - 1.0).abs() < 1e-12);
        prop_assert!((at(&answer, "/pieces_per_hour") * (piece + gap) / (f64::from(lanes) * speed * 3600.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_mesh_is_its_own_arithmetic(count in 1.0..1000.0_f64, share in 0.001..0.999_f64) {
        let thread = 1e4 / count * share;
        prop_assume!((1.0..=5000.0).contains(&thread));
        let request = json!({ "mesh": format!("{count}-{thread}") });
        // Below 5 um or 5 % it is no screen cloth.
        if 1e4 / count - thread < 5.0 || (1.0 - share) * (1.0 - share) < 0.05 {
            prop_assert_eq!(calculate("mesh.geometry", &request).map_err(|e| (e.code, e.field)), Err((Code::Impossible, "/mesh/thread".to_owned())));
            return Ok(());
        }
        let answer = ask("mesh.geometry", &request)?;
        let (pitch, opening) = (si(&answer, "pitch"), si(&answer, "opening"));
        prop_assert!((opening + si(&answer, "thread") - pitch).abs() < 1e-12 * pitch);
        prop_assert!((at(&answer, "/open_area_fraction") / ((1.0 - share) * (1.0 - share)) - 1.0).abs() < 1e-10);
        prop_assert!((si(&answer, "ink_volume") - at(&answer, "/open_area_fraction") * si(&answer, "thickness")).abs() <= 1e-12 * pitch);
        prop_assert!(si(&answer, "ink_volume") < si(&answer, "thickness"));
    }

    #[test]
    fn a_run_is_as_fast_as_its_slowest_place(
        strokes in prop::collection::vec((0..3_u32, 1..4_u32, prop::option::of(0.5..20.0_f64)), 1..3),
        rate in prop::option::of(20.0..2000.0_f64), pieces in 1..5000_u32,
        press in prop::sample::select(vec!["automatic-8", "automatic-14", "manual-4x4"]),
    ) {
        let colours: Vec<_> = strokes.iter().enumerate().map(|(i, (flood, print, flash))| {
            let mut colour = json!({ "name": i.to_string(), "image_length": "400 mm", "flood_strokes": flood, "print_strokes": print });
            if let Some(dwell) = flash {
                colour["flash"] = json!({ "value": dwell, "unit": "s" });
            }
            colour
        }).collect();
        let mut request = json!({ "press": press, "colours": colours, "pieces": pieces });
        let free = ask("press.run", &request)?;
        if let Some(rate) = rate {
            request["dryer_rate"] = json!({ "value": rate, "unit": "/h" });
        }
        let answer = ask("press.run", &request)?;
        let per_hour = at(&answer, "/pieces_per_hour");
        let wanted = rate.map_or(at(&free, "/pieces_per_hour"), |rate| rate.min(at(&free, "/pieces_per_hour")));
        prop_assert!((per_hour / wanted - 1.0).abs() < 1e-12);
        prop_assert!(at(&answer, "/next_pieces_per_hour") >= per_hour * (1.0 - 1e-12));
        prop_assert!((si(&answer, "run_time") * per_hour / 3600.0 / f64::from(pieces) - 1.0).abs() < 1e-12);
        prop_assert!((3600.0 / si(&free, "cycle") / at(&free, "/pieces_per_hour") - 1.0).abs() < 1e-12);
    }

    /// A hit more, a longer dwell, more rest: never faster. The rounds keep the order of the layers: each screen is down in as many
    /// rounds as it has hits, one after the other, and no later screen before its last.
    #[test]
    fn more_hits_longer_dwells_and_rest_are_never_faster(
        list in prop::collection::vec((1..5_u32, 0.5..40.0_f64), 1..4), more in 0..3_usize, longer in 1.0..3.0_f64,
        share in 0.1..1.0_f64, press in prop::sample::select(vec!["automatic-8", "automatic-14", "manual-4x4"]),
    ) {
        let run = |list: &[(u32, f64)], share: f64| {
            let colours: Vec<_> = list.iter().enumerate().map(|(i, (hits, dwell))| json!({ "name": i.to_string(),
                "image_length": "400 mm", "flood_strokes": 1, "print_strokes": 1, "hits": hits,
                "flash": { "value": dwell, "unit": "s" } })).collect();
            ask("press.run", &json!({ "press": press, "colours": colours, "pieces": 100, "efficiency_fraction": share }))
        };
        let one = run(&list, 1.0)?;
        let more = more % list.len();
        let mut other = list.clone();
        other[more].0 += 1;
        let hit = run(&other, 1.0)?;
        other = list.clone();
        other[more].1 *= longer;
        let dwell = run(&other, 1.0)?;
        for slower in [&hit, &dwell] {
            prop_assert!(at(slower, "/pieces_per_hour") <= at(&one, "/pieces_per_hour") * (1.0 + 1e-12));
        }
        prop_assert!(si(&run(&list, share)?, "run_time") >= si(&one, "run_time"));
        let rounds = one["by_round"].as_array().expect("a list");
        if press == "manual-4x4" {
            prop_assert!(rounds.is_empty() && one["rounds"] == 1);
        } else {
            prop_assert!(si(&hit, "time_per_piece") > si(&one, "time_per_piece"));
            prop_assert_eq!(one["rounds"].as_u64().expect("a count") as usize, rounds.len());
            let mut before = 0;
            for (i, (hits, _)) in list.iter().enumerate() {
                let name = json!(i.to_string());
                let has = |round: &Value, which: &str| round[which].as_array().expect("a list").contains(&name);
                let down: Vec<_> = (0..rounds.len()).filter(|r| has(&rounds[*r], "down")).collect();
                prop_assert!(rounds.iter().all(|round| has(round, "down") != has(round, "up")));
                prop_assert!(down.len() == *hits as usize && down[down.len() - 1] - down[0] == down.len() - 1);
                prop_assert!(down[0] >= before);
                before = down[down.len() - 1];
            }
        }
    }

    #[test]
    fn a_coarser_ruling_never_raises_the_lightest_tone(count in 5.0..200.0_f64, share in 0.05..0.77_f64, ruling in 0.5..150.0_f64, finer in 1.0..1.3_f64) {
        let thread = 1e4 / count * share;
        prop_assume!((1.0..=5000.0).contains(&thread));
        let mesh = format!("{count}-{thread}");
        let detail = |ruling: f64| ask("mesh.detail", &json!({ "mesh": mesh, "ruling": { "value": ruling, "unit": "/cm" } }));
        let (coarse, fine) = (detail(ruling)?, detail(ruling * finer)?);
        prop_assert!(at(&coarse, "/tone_min_fraction") <= at(&fine, "/tone_min_fraction"));
        prop_assert!(at(&coarse, "/tone_max_fraction") >= at(&fine, "/tone_max_fraction"));
        prop_assert!((at(&fine, "/tone_min_fraction") + at(&fine, "/tone_max_fraction") - 1.0).abs() < 1e-15);
        // A dot that holds safely is larger than one that holds at times, by a thread; a line is no finer than a dot.
        let (safe, marginal) = (si(&fine, "smallest_dot_safe"), si(&fine, "smallest_dot_marginal"));
        prop_assert!((safe - marginal - thread * 1e-6).abs() < 1e-12 * safe);
        prop_assert!(si(&fine, "finest_line") >= safe && si(&fine, "finest_gap") >= si(&fine, "finest_line"));
        prop_assert!(si(&fine, "ruling_low") < si(&fine, "ruling_high"));
    }

    #[test]
    fn a_step_test_is_a_geometric_series(time in 1.0..2000.0_f64, steps in 2..31_usize, ratio in 1.01..1.5_f64, by_longest in any::<bool>()) {
        let name = if by_longest { "longest" } else { "middle" };
        // Strips beyond 0.01 s to a day are refused: vectors show it.
        let beyond = (steps as f64 - 1.0) * ratio.ln() * if by_longest { 1.0 } else { 0.5 };
        prop_assume!(time * (-beyond).exp() > 0.0101 && (by_longest || time * beyond.exp() < 86_000.0));
        let answer = ask("exposure.series", &json!({ (name): { "value": time, "unit": "s" }, "steps": steps, "ratio": ratio }))?;
        let list = |name: &str| answer[name].as_array().expect("a list").iter().map(shown_si).collect::<Vec<_>>();
        let (times, uncover) = (list("times"), list("uncover"));
        prop_assert!(times.len() == steps && uncover.len() == steps);
        for pair in times.windows(2) {
            prop_assert!(pair[1] > pair[0] && (pair[1] / pair[0] / ratio - 1.0).abs() < 1e-12, "{pair:?}");
        }
        // What a strip gets is what was exposed until it was covered.
        let mut exposed = 0.0;
        for (time, more) in times.iter().zip(&uncover) {
            exposed += more;
            prop_assert!(*more > 0.0 && (exposed / time - 1.0).abs() < 1e-12);
        }
        let anchor = if by_longest { times[steps - 1] } else { (times[0] * times[steps - 1]).sqrt() };
        prop_assert!((anchor / time - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_change_and_its_undoing_is_no_change(
        // Within what together stays between 0.01 s and a day.
        time in 10.0..500.0_f64, p in 0.7..1.05_f64, distance in (50.0..150.0_f64, 50.0..150.0_f64), light in (2.0..10.0_f64, 2.0..10.0_f64),
        mesh in (0.9..2.0_f64, 0.9..2.0_f64), coat in (50.0..150.0_f64, 50.0..150.0_f64), depth in 100.0..300.0_f64,
        chosen in prop::sample::subsequence(vec!["distance", "irradiance", "mesh_factor", "stencil"], 1..=4),
    ) {
        prop_assume!(!(chosen.contains(&"distance") && chosen.contains(&"irradiance")));
        let um = |value: f64| json!({ "value": value, "unit": "um" });
        let change = |cause: &str, back: bool| {
            let turn = |(from, to): (f64, f64), unit: &str| {
                let (from, to) = if back { (to, from) } else { (from, to) };
                json!({ "from": { "value": from, "unit": unit }, "to": { "value": to, "unit": unit } })
            };
            match cause {
                "distance" => turn(distance, "cm"),
                "irradiance" => turn(light, "mW/cm2"),
                "mesh_factor" => turn(mesh, "1"),
                _ => {
                    let mut stencil = turn(coat, "um");
                    stencil["penetration_depth"] = um(depth);
                    stencil
                }
            }
        };
        let rescale = |time: f64, causes: &[&str], back: bool| {
            let mut request = json!({ "time": { "value": time, "unit": "s" }, "reciprocity_exponent": p });
            for cause in causes {
                request[*cause] = change(cause, back);
            }
            ask("exposure.rescale", &request)
        };
        let there = rescale(time, &chosen, false)?;
        let factor = at(&there, "/factor");
        prop_assert!((si(&there, "time") / (time * factor) - 1.0).abs() < 1e-12);
        // Each cause alone is what the answer lists for it, and together they multiply.
        let causes = there["causes"].as_array().expect("a list");
        prop_assert_eq!(causes.iter().map(|cause| cause["cause"].as_str().expect("a name")).collect::<Vec<_>>(), chosen.clone());
        let mut product = 1.0;
        for (cause, name) in causes.iter().zip(&chosen) {
            let alone = at(&rescale(time, &[*name], false)?, "/factor");
            prop_assert_eq!(alone.to_bits(), at(cause, "/factor").to_bits());
            product *= alone;
        }
        prop_assert!((product / factor - 1.0).abs() < 1e-12);
        let longer = |name: &str| match name {
            "distance" => distance.1 > distance.0,
            "irradiance" => light.1 < light.0,
            "mesh_factor" => mesh.1 > mesh.0,
            _ => coat.1 > coat.0,
        };
        prop_assert!(causes.iter().zip(&chosen).all(|(cause, name)| (at(cause, "/factor") > 1.0) == longer(name)));
        prop_assume!((0.01..86_400.0).contains(&si(&there, "time")));
        let back = rescale(si(&there, "time"), &chosen, true)?;
        prop_assert!((at(&back, "/factor") * factor - 1.0).abs() < 1e-12);
        prop_assert!((si(&back, "time") / time - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_curve_is_found_again_from_its_points(
        depth in 10.0..500.0_f64, critical in 1.0..500.0_f64, shares in prop::collection::btree_set(1..400_u32, 2..9), wanted in 0.05..4.0_f64,
    ) {
        let points: Vec<_> = shares.iter().map(|share| {
            let log = f64::from(*share) / 100.0;
            json!({ "exposure": { "value": critical * log.exp(), "unit": "mJ/cm2" }, "depth": { "value": depth * log, "unit": "um" } })
        }).collect();
        let request = json!({ "points": points, "stencil_thickness": { "value": depth * wanted, "unit": "um" }, "irradiance": "1 mW/cm2" });
        let answer = ask("exposure.curve", &request)?;
        // Points that lie close together fix the line less well.
        let spread = f64::from(shares.last().expect("a point") - shares.first().expect("a point")) / 100.0;
        let within = 1e-12 * (4.0 / spread).max(1.0);
        prop_assert!((si(&answer, "penetration_depth") / (depth * 1e-6) - 1.0).abs() < within);
        prop_assert!((si(&answer, "critical_exposure") / (critical * 10.0) - 1.0).abs() < 10.0 * within);
        prop_assert!((si(&answer, "exposure") / (critical * 10.0 * wanted.exp()) - 1.0).abs() < 10.0 * within);
        prop_assert!((si(&answer, "time") * 10.0 / si(&answer, "exposure") - 1.0).abs() < 1e-12);
        prop_assert!((at(&answer, "/r_squared") - 1.0).abs() < within);
        prop_assert_eq!(answer.get("exposure_low").is_some(), shares.len() > 2);
    }

    #[test]
    fn an_interval_holds_its_exposure_and_scales_with_the_lamp(
        scatter in prop::collection::vec(-8.0..8.0_f64, 3..8), depth in 30.0..200.0_f64, wanted in 30.0..300.0_f64, scale in 0.1..10.0_f64,
    ) {
        let curve = |scale: f64| {
            let points: Vec<_> = (0_u32..).zip(&scatter).map(|(i, off)| {
                let times = 2.0 * f64::from(2_u32.pow(i));
                json!({ "exposure": { "value": 20.0 * scale * times, "unit": "mJ/cm2" }, "depth": { "value": depth * times.ln() + off, "unit": "um" } })
            }).collect();
            ask("exposure.curve", &json!({ "points": points, "stencil_thickness": { "value": wanted, "unit": "um" } }))
        };
        let (answer, scaled) = (curve(1.0)?, curve(scale)?);
        for name in ["exposure_low", "exposure_high"] {
            prop_assert_eq!(answer.get(name).is_some(), scaled.get(name).is_some());
        }
        let r_squared = at(&answer, "/r_squared");
        prop_assert!((0.0..=1.0).contains(&r_squared));
        let mut names = vec!["critical_exposure", "exposure"];
        if answer.get("exposure_low").is_some() {
            names.extend(["exposure_low", "exposure_high"]);
            prop_assert!(si(&answer, "exposure_low") < si(&answer, "exposure") && si(&answer, "exposure") < si(&answer, "exposure_high"));
        } else {
            prop_assert!(answer["notes"].to_string().contains("no_interval"), "an interval is missing without a word: {answer}");
        }
        for name in names {
            prop_assert!((si(&scaled, name) / si(&answer, name) / scale - 1.0).abs() < 1e-8, "{name}: {answer} {scaled}");
        }
        let depth = si(&answer, "penetration_depth");
        for name in ["penetration_depth", "penetration_depth_error"] {
            // The error of points on a line is what rounding leaves of their depths.
            let (before, after) = (si(&answer, name), si(&scaled, name));
            prop_assert!((after - before).abs() < 1e-9 * before + 1e-12 * depth, "{name}");
        }
    }

    /// A slope needs two exposures, however often the one is repeated and whatever its digits.
    #[test]
    fn one_exposure_is_no_curve(exposure in 5_u32..9000, depths in prop::collection::vec(50_u32..150, 2..12)) {
        let points: Vec<_> = depths.iter().map(|um| {
            json!({ "exposure": format!("{} mJ/cm2", f64::from(exposure) / 10.0), "depth": format!("{um} um") })
        }).collect();
        let reply = calculate("exposure.curve", &json!({ "points": points, "stencil_thickness": "100 um" }));
        prop_assert_eq!(reply.map_err(|e| e.code), Err(Code::Impossible));
    }

    #[test]
    fn undercut_grows_with_gap_and_angle(gap in 0.0..2000.0_f64, angle in 0.0..80.0_f64, stencil in 5.0..500.0_f64, line in 1.0..10_000.0_f64, more in 1.0..1.06_f64, which in 0..3_usize) {
        let undercut = |at: [f64; 3]| ask("exposure.undercut", &json!({
            "film_gap": { "value": at[0], "unit": "um" }, "half_angle": { "value": at[1], "unit": "deg" },
            "stencil_thickness": { "value": at[2], "unit": "um" }, "line": { "value": line, "unit": "um" },
        }));
        let mut at = [gap, angle, stencil];
        let less = undercut(at)?;
        at[which] *= more;
        let most = undercut(at)?;
        for (spread, left) in [("spread", "line_left"), ("spread_through", "line_left_through")] {
            prop_assert!(si(&most, spread) >= si(&less, spread) && si(&most, left) <= si(&less, left));
            let wanted = (line * 1e-6 - 2.0 * si(&less, spread)).max(0.0);
            prop_assert!((si(&less, left) - wanted).abs() < 1e-12 * line * 1e-6);
        }
        prop_assert!(si(&less, "spread_through") >= si(&less, "spread"));
        prop_assert!((si(&less, "spread") - gap * 1e-6 * angle.to_radians().tan()).abs() <= 1e-12 * si(&less, "spread_through"));
    }

    #[test]
    fn a_weighing_undoes_the_usage(
        release in 0.02..1.0_f64, strokes in 1..5_u32, hits in 1..4_u32, area in 1.0..3000.0_f64, prints in 1..2000_u32, over in 0.0..200.0_f64,
        edge in prop::option::of((0.0..50.0_f64, 0.05..1.0_f64)), before in 0.0..2000.0_f64, us in any::<bool>(), pot in any::<bool>(),
        ink in prop::sample::select(vec!["plastisol-white", "water-based", "silicone"]), mesh in prop::sample::select(vec!["10-260", "43-80", "77-55", "120-34"]),
    ) {
        let mut request = json!({ "mesh": mesh, "ink": { "from": ink, "release_fraction": release }, "strokes": strokes, "hits": hits, "prints": prints,
            "over_mesh": { "value": over, "unit": "um" }, "printed_area": { "value": area, "unit": "cm2" }, "units": if us { "us" } else { "metric" } });
        if let Some((length, reach)) = edge {
            request["edge_length"] = json!({ "value": length, "unit": "m" });
            request["edge_length_scale"] = json!({ "value": reach, "unit": "mm" });
        }
        let used = ask("ink.usage", &request)?;
        let ink_on = si(&used, "mass_printed") * 1000.0;
        let grams = |value: f64| json!({ "value": value, "unit": "g" });
        let (light, heavy) = (grams(before), grams(before + ink_on));
        (request["mass_before"], request["mass_after"]) = if pot { (heavy, light) } else { (light, heavy) };
        let weighed = ask("ink.weigh", &request)?;
        // A difference of two weights has their last digit, not its own.
        let within = 1e-12 + 1e-15 * (before + ink_on) / ink_on;
        prop_assert!((at(&weighed, "/release_fraction") / release - 1.0).abs() < within, "{used} {weighed}");
        prop_assert!((si(&weighed, "wet_film") / si(&used, "wet_film") - 1.0).abs() < within);
        prop_assert!((si(&weighed, "mass_per_print") / si(&used, "mass_per_print") - 1.0).abs() < within);
    }

    #[test]
    fn a_mix_is_its_batch(
        batch in 1.0..1e5_f64, parts in prop::collection::vec(1e-3..1e3_f64, 1..12), life in 10.0..2000.0_f64, rate in 0.5..500.0_f64, us in any::<bool>(),
    ) {
        let named: Vec<_> = parts.iter().enumerate().map(|(i, parts)| json!({ "name": format!("part {i}"), "parts": parts })).collect();
        let mut request = json!({ "batch": { "value": batch, "unit": "g" }, "parts": named, "units": if us { "us" } else { "metric" } });
        let plain = ask("ink.mix", &request)?;
        prop_assert_eq!(plain["pots"].as_array().expect("a list").len(), 1);
        let kg = batch / 1000.0;
        let masses: Vec<_> = plain["masses"].as_array().expect("a list").iter().map(shown_si).collect();
        let fractions: Vec<_> = plain["fractions"].as_array().expect("a list").iter().map(|f| f.as_f64().expect("a number")).collect();
        prop_assert!((masses.iter().sum::<f64>() / kg - 1.0).abs() < 1e-14);
        prop_assert!((fractions.iter().sum::<f64>() - 1.0).abs() < 1e-14);
        for ((mass, fraction), part) in masses.iter().zip(&fractions).zip(&parts) {
            prop_assert!((mass - fraction * kg).abs() < 1e-14 * kg);
            prop_assert!((fraction * parts[0] - fractions[0] * part).abs() < 1e-14 * parts[0].max(*part));
        }
        request["pot_life"] = json!({ "value": life, "unit": "min" });
        request["use_rate"] = json!({ "value": rate, "unit": "g/min" });
        prop_assume!(batch / (life * rate) < 999.0);
        let planned = ask("ink.mix", &request)?;
        prop_assert_eq!(&planned["masses"], &plain["masses"]);
        let pots = planned["pots"].as_array().expect("a list");
        prop_assert!((pots.iter().map(|pot| si(pot, "mass")).sum::<f64>() / kg - 1.0).abs() < 1e-12);
        // Each is mixed when the ones before it are used up, and is used up within its life; one pot fewer would not be.
        let mut used = 0.0;
        for pot in pots {
            prop_assert!((si(pot, "mix_at") - used * 1000.0 / rate * 60.0).abs() < 1e-9 * (1.0 + si(pot, "mix_at")));
            prop_assert!(si(pot, "mass") * 1000.0 / rate <= life * (1.0 + 1e-9));
            used += si(pot, "mass");
        }
        let fewer = pots.len() as f64 - 1.0;
        prop_assert!(fewer == 0.0 || batch / fewer / rate > life * (1.0 - 1e-9));
    }

    /// A gauge may read under an estimated mesh; the film of ink is still a film.
    #[test]
    fn no_film_and_no_mass_is_negative(coated in 1.0..2000.0_f64, share in 0.0..1.0_f64, mesh in prop::sample::select(vec!["10-260", "43-80", "77-55", "120-34"])) {
        let artwork = json!({ "printed_area": "100 cm2", "edge_share_area": { "value": 100.0 * share, "unit": "cm2" } });
        let screen = json!({ "name": "a", "ink": "plastisol", "mesh": mesh, "artwork": artwork, "coated_thickness": { "value": coated, "unit": "um" } });
        let request = json!({ "pieces": 10, "cloth": "cotton-jersey-180",
            "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [screen] }] });
        let answer = ask("job.plan", &request)?;
        for name in ["wet_film", "dry_film", "mass_per_print", "mass_to_mix"] {
            prop_assert!(si(&answer["screens"][0], name) > 0.0, "{name} on {mesh}, coated {coated} um, edge share {share}");
        }
    }
}

#[test]
fn the_edge_share_has_its_limits() {
    let share = |um: f64| ink::edge_share_of_width(units::UM.of(um), units::MM.of(0.25));
    assert!(share(0.0) >= 1.0 && (share(1e-6) - 1.0).abs() < 1e-8, "a hairline takes it all");
    assert!(share(1e9) < 1e-6, "a wide solid takes none");
}
