//! Requests made and changed with the tables of their records at hand, so that what comes out is often nearly right.

use crate::draw::Draw;
use floodbar::quantity::{Dimension, Rules, UNITS, Unit};
use floodbar::wire::{FieldTable, Form, Kind, Table};
use serde_json::{Map, Value, json};

/// What may hold other contents is made no deeper than this.
const MOST_DEPTH: usize = 6;

/// Numbers at which code goes wrong.
const EDGES: [f64; 18] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    0.5,
    2.0,
    1e-3,
    1e3,
    1e7,
    9_999_999.0,
    1e-9,
    1e12,
    1e-300,
    1e300,
    5e-324,
    f64::MAX,
    f64::EPSILON,
    0.1 + 0.2,
];

/// A content of a request: where it stands, and what belongs there where its record knows.
struct Place {
    pointer: String,
    known: Option<Known>,
}

/// What belongs somewhere.
#[derive(Clone, Copy)]
enum Known {
    Kind(&'static Kind, &'static Rules),
    Record(&'static Table),
}

impl Known {
    fn table(self) -> Option<&'static Table> {
        match self {
            Self::Record(table) => Some(table),
            Self::Kind(kind, _) => match kind.content() {
                Kind::Record(table) => Some(table),
                _ => None,
            },
        }
    }

    fn value(self, draw: &mut Draw<'_>, depth: usize) -> Value {
        match self {
            Self::Record(table) => record(table, draw, depth),
            Self::Kind(kind, rules) => content(kind, rules, draw, depth),
        }
    }
}

/// A number in SI base units: mostly usual, sometimes at an end of its range or beyond.
fn number(rules: &Rules, draw: &mut Draw<'_>) -> f64 {
    let (least, most) = rules.usual.map_or(rules.range.si, |usual| usual.si);
    let (least, most) = if rules.limits() { (least, most) } else { (-1e3, 1e3) };
    match draw.below(24) {
        0 => rules.range.si.0,
        1 => rules.range.si.1,
        2 => rules.range.si.0.next_down(),
        3 => rules.range.si.1.next_up(),
        4 => rules.range.si.0.next_up(),
        5 => *draw.pick(&EDGES),
        6 => draw.any(),
        7 | 8 if rules.range.si.0 > 0.0 && rules.limits() => {
            (rules.range.si.0.ln() + (rules.range.si.1 / rules.range.si.0).ln() * draw.share()).exp()
        }
        9 | 10 if rules.limits() => rules.range.si.0 + (rules.range.si.1 - rules.range.si.0) * draw.share(),
        _ if least > 0.0 => (least.ln() + (most / least).ln() * draw.share()).exp(),
        _ => least + (most - least) * draw.share(),
    }
}

fn unit(dimension: Dimension, rules: &Rules, draw: &mut Draw<'_>) -> Unit {
    let fitting: Vec<&Unit> = UNITS.iter().filter(|unit| unit.dimension == dimension).collect();
    match draw.below(12) {
        0 => *draw.pick(UNITS),
        1..=4 if !fitting.is_empty() => **draw.pick(&fitting),
        _ if rules.unit.dimension == dimension => rules.unit,
        _ => fitting.first().map_or(UNITS[0], |unit| **unit),
    }
}

/// A quantity or a plain number, in one of its forms, now and then in doubt.
pub fn quantity(dimension: Dimension, rules: &Rules, draw: &mut Draw<'_>) -> Value {
    let (unit, si) = (unit(dimension, rules, draw), number(rules, draw));
    let value = unit.from_si(si);
    let doubt = draw.one_in(16);
    match draw.below(4) {
        0 if doubt => json!(format!("{value} +/- {} {}", value.abs() * 0.1 * draw.share(), unit.name)),
        1 if doubt => json!(format!("{value} {} +/- {} %", unit.name, (10.0 * draw.share()).round())),
        2 | 3 if doubt => json!({ "value": value, "unit": unit.name, "plus_minus": value.abs() * 0.1 * draw.share() }),
        0 => json!(format!("{value} {}", unit.name)),
        1 => json!({ "value": value, "unit": unit.name }),
        _ if unit.name == "1" => json!(value),
        _ => json!(format!("{value} {}", unit.name)),
    }
}

fn money(wanted: &str, draw: &mut Draw<'_>) -> Value {
    let unit = wanted.rsplit_once(' ').map_or("EUR", |(_, unit)| unit);
    let unit = match draw.below(8) {
        0 => unit.replace("EUR", ["USD", "JPY", "KWD", "XXX", "EU", "eur"][draw.below(6)]),
        1 => format!("{unit}/{}", draw.pick(UNITS).name),
        _ => unit.to_owned(),
    };
    let number = match draw.below(12) {
        0 => "0".to_owned(),
        1 => "0.005".to_owned(),
        2 => "79228162514264337593543950335".to_owned(),
        3 => "0.0000000000000000000000000001".to_owned(),
        4 => format!("-{:.2}", 100.0 * draw.share()),
        5 => format!("{:.0}", 1e12 * draw.share()),
        6 => format!("{:.28}", draw.share()),
        _ => format!("{:.2}", 100.0 * draw.share()),
    };
    match draw.below(4) {
        0 => json!({ "value": number, "unit": unit }),
        1 => number.parse::<f64>().map_or(Value::Null, |number| json!(number)),
        _ => json!(format!("{number} {unit}")),
    }
}

/// Something of this kind.
pub fn content(kind: &'static Kind, rules: &'static Rules, draw: &mut Draw<'_>, depth: usize) -> Value {
    match kind.content() {
        Kind::Number(dimension) => quantity(*dimension, rules, draw),
        Kind::Count | Kind::Integer => {
            let (least, most) = (rules.range.shown.0.max(0.0), rules.range.shown.1.min(1e7));
            match draw.below(12) {
                0 => json!(most),
                1 => json!(most + 1.0),
                2 => json!(least - 1.0),
                3 => json!(0.5 + least),
                4 => json!((least + (most - least) * draw.share()).round()),
                _ => json!(least + draw.below(12) as f64),
            }
        }
        Kind::Flag => json!(draw.one_in(2)),
        Kind::Text => text(draw),
        Kind::Word(_, words) => json!(draw.pick(words)),
        Kind::InUnit => json!("1 m"),
        Kind::Record(table) => record(table, draw, depth),
        Kind::List(item, fixed) => list(item, *fixed, rules, draw, depth),
        Kind::Own(own) if own.forms.is_empty() => stranger(draw),
        Kind::Own(own) => match draw.pick(own.forms) {
            Form::Word(word) => json!(word),
            Form::Kind(kind, rules) => content(kind, rules, draw, depth),
            Form::Numbers(each) => each.iter().map(|rules| json!(number(rules, draw))).collect(),
            Form::AnyQuantity => quantity(draw.pick(UNITS).dimension, &Rules::NONE, draw),
            Form::Money(form) => money(form.wanted, draw),
            Form::Text(_) => json!(draw.pick(&["EUR", "JPY", "KWD", "USD", "XXX", "eur"])),
            Form::Anything => stranger(draw),
        },
        Kind::Optional(_) => Value::Null,
    }
}

fn list(item: &'static Kind, fixed: Option<usize>, rules: &'static Rules, draw: &mut Draw<'_>, depth: usize) -> Value {
    let count = match fixed {
        Some(count) if !draw.one_in(12) => count,
        _ => draw.below(5),
    };
    let mut items: Vec<Value> = (0..count).map(|_| content(item, rules, draw, depth)).collect();
    if draw.one_in(16) {
        repeat(&mut items, draw);
    }
    items.into()
}

/// A record: a stock name, a text, or members.
fn record(table: &'static Table, draw: &mut Draw<'_>, depth: usize) -> Value {
    let mut members = Map::new();
    if let Some(stock) = table.stock {
        let names: Vec<&str> = (stock.shelf)().names().collect();
        let name = *draw.pick(&names);
        match draw.below(3) {
            0 => return json!(name),
            1 => drop(members.insert("from".into(), json!(name))),
            _ => {}
        }
    }
    if let Some(form) = table.text.filter(|form| !form.examples.is_empty() && draw.one_in(2)) {
        return json!(draw.pick(form.examples));
    }
    let from_row = !members.is_empty();
    for field in table.fields {
        let needed = !(from_row || field.kind.is_optional() || field.rules.default.is_some());
        let is_given = if needed { !draw.one_in(32) } else { depth < MOST_DEPTH && draw.one_in(4) };
        if is_given {
            members.insert(field.name.into(), content(&field.kind, field.rules, draw, depth + 1));
        }
    }
    members.into()
}

fn text(draw: &mut Draw<'_>) -> Value {
    match draw.below(8) {
        0 => json!(""),
        1 => json!("x".repeat(1 + draw.below(2_000))),
        2 => json!("\u{0}\u{1f}\u{7f}\"\\/~0~1"),
        3 => json!("\u{202e}\u{10ffff}\u{fb03} ⅓ µ"),
        4 => json!(String::from_utf8_lossy(draw.bytes(12))),
        _ => json!(draw.pick(&["a", "b", "white", "front", "S", "red"])),
    }
}

/// Something that has nothing to do with the place.
pub fn stranger(draw: &mut Draw<'_>) -> Value {
    match draw.below(16) {
        0 => Value::Null,
        1 => json!(true),
        2 => json!([]),
        3 => json!({}),
        4 => json!(draw.pick(&EDGES)),
        5 => json!(draw.any()),
        6 => quantity(draw.pick(UNITS).dimension, &Rules::NONE, draw),
        7 => json!({ "value": draw.pick(&EDGES), "unit": draw.pick(UNITS).name, "plus_minus": draw.pick(&EDGES) }),
        8 => json!({ "from": draw.pick(&["plastisol", "cotton-jersey-180", "starter-shop", "77-55", ""]) }),
        9 => json!(draw.pick(&[
            "77-55",
            "plastisol-white",
            "starter-shop",
            "dry",
            "metric",
            "-1",
            "1e999 m",
            "1/0 in",
            "NaN"
        ])),
        10 => json!(u64::MAX),
        11 => json!(i64::MIN),
        12 => json!([[[[]]]]),
        _ => text(draw),
    }
}

/// A list that goes on with copies of what is in it.
fn repeat(items: &mut Vec<Value>, draw: &mut Draw<'_>) {
    let Some(last) = items.last().cloned() else { return };
    let more = if draw.one_in(4) { draw.below(400) } else { draw.below(8) };
    items.extend(std::iter::repeat_n(last, more));
}

fn escaped(name: &str) -> String {
    name.replace('~', "~0").replace('/', "~1")
}

fn places(value: &Value, pointer: String, known: Option<Known>, found: &mut Vec<Place>) {
    // Of a long list the first entries are as good as all.
    const FEW: usize = 40;
    match value {
        Value::Object(members) => {
            let table = known.and_then(Known::table);
            for (name, member) in members.iter().take(FEW) {
                let field = table.and_then(|table| Some(&table.fields[table.find(name)?]));
                let known = field.map(|field| Known::Kind(&field.kind, field.rules));
                places(member, format!("{pointer}/{}", escaped(name)), known, found);
            }
        }
        Value::Array(items) => {
            let known = match known {
                Some(Known::Kind(kind, rules)) => match kind.content() {
                    Kind::List(item, _) => Some(Known::Kind(item, rules)),
                    _ => None,
                },
                _ => None,
            };
            for (index, item) in items.iter().enumerate().take(FEW) {
                places(item, format!("{pointer}/{index}"), known, found);
            }
        }
        _ => {}
    }
    found.push(Place { pointer, known });
}

/// Changes one thing of a request.
pub fn mutate(request: &mut Value, table: &'static Table, draw: &mut Draw<'_>) {
    let mut all = Vec::new();
    places(request, String::new(), Some(Known::Record(table)), &mut all);
    let place = draw.pick(&all);
    let depth = place.pointer.matches('/').count();
    let Some(here) = request.pointer_mut(&place.pointer) else { return };
    match draw.below(20) {
        0..=4 => {
            if let Some(known) = place.known {
                *here = known.value(draw, depth);
            }
        }
        5 | 6 => nudge(here, draw),
        7 => {
            let (parent, name) = place.pointer.rsplit_once('/').unwrap_or_default();
            match request.pointer_mut(parent) {
                Some(Value::Object(members)) => drop(members.shift_remove(name)),
                Some(Value::Array(items)) => drop(name.parse().map(|index: usize| items.remove(index))),
                _ => {}
            }
        }
        8 | 9 => match here {
            Value::Array(items) => repeat(items, draw),
            _ => nudge(here, draw),
        },
        10..=12 => add(here, place.known, draw, depth),
        13 => *here = stranger(draw),
        14 => {
            let other = draw.pick(&all).pointer.clone();
            let copy = request.pointer(&other).cloned();
            if let (Some(here), Some(copy)) = (request.pointer_mut(&place.pointer), copy) {
                *here = copy;
            }
        }
        15 => {
            let inner = here.take();
            *here = match draw.below(4) {
                0 => json!([inner]),
                1 => json!({ "from": inner }),
                2 => json!({ "value": inner, "unit": "mm" }),
                _ => (0..draw.below(70)).fold(inner, |inner, _| json!([inner])),
            };
        }
        16 => {
            if let Value::Object(members) = here {
                members.insert(
                    draw.pick(&["widht", "from", "value", "", "a/b~c", "notes", "basis"]).to_string(),
                    stranger(draw),
                );
            }
        }
        17 => doubt(here, draw),
        _ => {
            let (name, value) = match draw.below(6) {
                0 => ("doubt", json!("monte_carlo")),
                1 => ("doubt", json!("propagate")),
                2 => ("explain", json!(false)),
                3 => ("units", json!("us")),
                4 => ("units", stranger(draw)),
                _ => ("units", json!("metric")),
            };
            if let Value::Object(members) = request {
                members.insert(name.into(), value);
            }
        }
    }
}

/// Adds a member that is not there.
fn add(here: &mut Value, known: Option<Known>, draw: &mut Draw<'_>, depth: usize) {
    let Some(table) = known.and_then(Known::table) else { return };
    if let (Some(_), Value::String(name)) = (table.stock, &*here) {
        *here = json!({ "from": name });
    }
    let Value::Object(members) = here else { return };
    let absent: Vec<&FieldTable> = table.fields.iter().filter(|field| !members.contains_key(field.name)).collect();
    if !absent.is_empty() {
        let field = *draw.pick(&absent);
        members.insert(field.name.into(), content(&field.kind, field.rules, draw, depth + 1));
    }
}

/// Changes a number a little or a lot, whichever form it has.
fn nudge(here: &mut Value, draw: &mut Draw<'_>) {
    let changed = |value: f64, draw: &mut Draw<'_>| match draw.below(10) {
        0 => value.next_up(),
        1 => value.next_down(),
        2 => -value,
        3 => value * 10.0,
        4 => value / 10.0,
        5 => value.round(),
        6 => *draw.pick(&EDGES),
        7 => value * 2.0,
        _ => value * (0.5 + draw.share()),
    };
    match here {
        Value::Number(number) => *here = json!(changed(number.as_f64().unwrap_or_default(), draw)),
        Value::String(text) => {
            let end = text.find(|c: char| !(c.is_ascii_digit() || ".-+eE".contains(c))).unwrap_or(text.len());
            if let Ok(value) = text[..end].parse::<f64>() {
                *here = json!(format!("{}{}", changed(value, draw), &text[end..]));
            }
        }
        Value::Object(members) => {
            if let Some(value) = members.get_mut("value") {
                nudge(value, draw);
            }
        }
        Value::Array(items) if !items.is_empty() => {
            let index = draw.below(items.len());
            nudge(&mut items[index], draw);
        }
        _ => {}
    }
}

/// Puts a doubt beside a number.
fn doubt(here: &mut Value, draw: &mut Draw<'_>) {
    match here {
        Value::Number(number) => *here = json!(format!("{number} +/- {}", 0.1 * draw.share())),
        Value::String(text) => *here = json!(format!("{text} +/- {} %", draw.below(30))),
        Value::Object(members) => {
            if let Some(value) = members.get("value").and_then(Value::as_f64) {
                members.insert("plus_minus".into(), json!(value.abs() * 0.2 * draw.share()));
            }
        }
        _ => {}
    }
}

/// A request of the calculation whose record this is: a known one, changed a few times, or one made anew.
pub fn request(known: &[Value], table: &'static Table, most: usize, draw: &mut Draw<'_>) -> Value {
    if draw.one_in(16) {
        return record(table, draw, 0);
    }
    let mut request = draw.pick(known).clone();
    for _ in 0..draw.below(most + 1) {
        if draw.is_spent() {
            break;
        }
        mutate(&mut request, table, draw);
    }
    request
}

/// A text that was spoilt as text.
pub fn spoil(text: &mut Vec<u8>, draw: &mut Draw<'_>) {
    for _ in 0..=draw.below(3) {
        let at = draw.below(text.len() + 1);
        match draw.below(6) {
            0 => text.truncate(at),
            1 => drop(text.splice(at..at, draw.bytes(8).iter().copied())),
            2 => {
                if let Some(byte) = text.get_mut(at) {
                    *byte ^= 1 << draw.below(8);
                }
            }
            3 => {
                let end = (at + draw.below(64)).min(text.len());
                let copy = text[at..end].to_vec();
                text.splice(at..at, copy);
            }
            4 => {
                let end = (at + draw.below(16)).min(text.len());
                text.drain(at..end);
            }
            _ => {
                const WORDS: [&str; 12] =
                    ["{", "}", "[", "\"", ",", ":", "null", "1e999", "-0", "\\u0000", "\\ud800", "\u{feff}"];
                text.splice(at..at, draw.pick(&WORDS).bytes());
            }
        }
    }
}
