//! The parts of a schema that refer to nothing: quantities, choices between fields, what a form wants to know of a field.

use crate::money::{
    number_pattern as number_pattern_of_money, text_pattern as money_pattern, unit_pattern as money_unit_pattern,
};
use crate::quantity::{Dimension, Rank, Rules, UNITS, number_pattern, unit_pattern};
use crate::source::SourceKind;
use crate::wire::field::{Form, Kind, MoneyForm};
use crate::wire::record::Choice;
use serde_json::{Map, Value, json};

/// How early a form shows a field: what must be given first, what has a default later.
fn rank(rules: &Rules, kind: &Kind) -> &'static str {
    let later = kind.is_optional() || rules.default.is_some();
    rules.rank.map_or(if later { "more" } else { "first" }, Rank::text)
}

/// A note as every answer writes it.
pub(super) fn note() -> Value {
    json!({
        "description": "What an answer wants its reader to know.",
        "type": "object", "additionalProperties": false, "required": ["level", "code", "field", "message"],
        "properties": {
            "level": { "type": "string", "enum": ["info", "caution", "limit"], "title": "Level", "description": "An info explains; a caution wants a look; a limit means that the print as asked for cannot work or breaks something." },
            "code": { "type": "string", "title": "Code", "description": "What it is about: one code, one meaning." },
            "field": { "type": "string", "title": "Field", "description": "JSON pointer into the request; empty for the whole." },
            "message": { "type": "string", "title": "Message", "description": "In words, for the person at the press." },
        },
    })
}

/// The basis of a number as every answer writes it.
pub(super) fn basis() -> Value {
    json!({
        "description": "Where a built-in number came from.",
        "type": "object", "additionalProperties": false, "required": ["for", "kind", "source"],
        "properties": {
            "for": { "type": "string", "title": "Number", "description": "The number that was used." },
            "kind": { "title": "Kind of source", "description": "How far it can be trusted: a value from memory says so.", "type": "string", "enum": SourceKind::ALL.map(SourceKind::text) },
            "source": { "type": "string", "title": "Source", "description": "Where it came from." },
        },
    })
}

/// A regular expression of a quantity in text.
pub(crate) fn text_pattern(dimension: Dimension) -> String {
    let units = unit_pattern(dimension);
    // A doubt may be in per cent, or, of a temperature, in units of a difference.
    let doubted = match dimension {
        Dimension::Temperature => unit_pattern(Dimension::TemperatureDifference),
        _ => format!("{units}|%"),
    };
    let (number, sign) = (number_pattern(), "(?:\\+/-|\u{b1}|\\+-)");
    format!(
        "^\\s*{number}\\s*(?:{sign}\\s*{number}\\s*(?:{units})|(?:{units})\\s*(?:{sign}\\s*{number}\\s*(?:{doubted}))?)\\s*$"
    )
}

/// A quantity as it comes in: a text, or an object; a plain number may do without a unit.
pub(super) fn incoming(dimension: Dimension) -> Value {
    let plain = dimension == Dimension::Fraction;
    let required = if plain { json!(["value"]) } else { json!(["value", "unit"]) };
    let units = unit_pattern(dimension);
    let unit = match dimension {
        Dimension::Fraction => {
            json!({ "anyOf": [{ "type": "null" }, { "type": "string", "pattern": format!("^\\s*(?:{units})\\s*$") }] })
        }
        _ => json!({ "type": "string", "pattern": format!("^\\s*(?:{units})\\s*$") }),
    };
    let example = dimension.example();
    let what = match dimension {
        Dimension::Fraction => format!("a number without a unit, or a share such as \"{example}\""),
        _ => format!("{}, such as \"{example}\"", dimension.text()),
    };
    json!({
        "description": format!("{what}, or with its 95 % half-width after +/-."),
        "anyOf": [
            { "type": "string", "pattern": text_pattern(dimension), "examples": [dimension.example()] },
            { "type": "object", "additionalProperties": false, "required": required, "properties": {
                "value": { "type": "number" },
                "unit": unit,
                "plus_minus": { "anyOf": [{ "type": "number", "minimum": 0 }, { "type": "null" }] },
            } },
        ],
    })
}

/// A quantity as it goes out.
pub(super) fn outgoing(text: &str) -> Value {
    json!({
        "description": text,
        "type": "object", "additionalProperties": false, "required": ["value", "unit"],
        "properties": {
            "value": { "type": "number" },
            "unit": { "type": "string" },
            "plus_minus": { "type": "number", "minimum": 0, "description": "Half-width of its 95 % interval, where the request has doubts that it depends on." },
        },
    })
}

/// Money as it comes in: a text, or an object whose numbers are text or plain.
pub(super) fn incoming_money(form: &MoneyForm) -> Value {
    let number = || json!({ "anyOf": [{ "type": "string", "pattern": format!("^\\s*{}\\s*$", number_pattern_of_money()) }, { "type": "number" }] });
    json!({
        "description": format!("{}, or with its 95 % half-width after +/-.", form.wanted),
        "anyOf": [
            { "type": "string", "pattern": money_pattern(form) },
            { "type": "object", "additionalProperties": false, "required": ["value", "unit"], "properties": {
                "value": number(),
                "unit": { "type": "string", "pattern": format!("^\\s*{}\\s*$", money_unit_pattern(form)) },
                "plus_minus": { "anyOf": [number(), { "type": "null" }] },
            } },
        ],
    })
}

/// Money as it goes out: decimals, never binary numbers.
pub(super) fn outgoing_money() -> Value {
    json!({
        "description": "money: a decimal, as text",
        "type": "object", "additionalProperties": false, "required": ["value", "unit"],
        "properties": {
            "value": { "type": "string" },
            "unit": { "type": "string", "description": "A currency (ISO 4217), and what it is per." },
            "plus_minus": { "type": "string", "description": "Half-width of its 95 % interval before any rounding, where the request has doubts that it depends on." },
        },
    })
}

/// How far a number of an answer may be off.
pub(super) fn doubt() -> Value {
    json!({
        "description": "How far a number of the answer may be off.",
        "type": "object", "additionalProperties": false,
        "required": ["at", "plus_minus", "contributor", "share_fraction"],
        "properties": {
            "at": { "type": "string", "description": "JSON pointer into the answer." },
            "plus_minus": { "type": "number", "minimum": 0, "description": "Half-width of the 95 % interval." },
            "unit": { "type": "string", "description": "The unit of these numbers, that of the value; none of a plain number." },
            "least": { "type": "number", "description": "Low end of the shortest 95 % interval of draws." },
            "most": { "type": "number", "description": "High end of it." },
            "contributor": { "type": "string", "description": "JSON pointer to the field of the request that contributes most." },
            "share_fraction": { "type": "number", "minimum": 0, "maximum": 1, "description": "Its share of the variance." },
        },
    })
}

/// What can be asked of a field of a request by its pointer: a range of numbers, or listed values.
pub(super) fn varied(kind: &Kind) -> &'static str {
    match kind.content() {
        Kind::Number(_) | Kind::Count => "number",
        Kind::Own(own)
            if own
                .forms
                .iter()
                .any(|form| matches!(form, Form::Kind(Kind::Number(_), _) | Form::AnyQuantity | Form::Money(_))) =>
        {
            "number"
        }
        _ => "values",
    }
}

/// What can be asked of a member of an answer by its pointer: a number, or whether it is a word.
pub(super) fn wanted(kind: &Kind) -> Option<&'static str> {
    match kind.content() {
        Kind::Number(_) | Kind::Count | Kind::Integer | Kind::Flag | Kind::InUnit => Some("number"),
        Kind::Text | Kind::Word(..) => Some("word"),
        Kind::Own(own) => own.number().map(|_| "number"),
        _ => None,
    }
}

/// What a form wants to know of a field beside its type.
pub(super) fn form_members(kind: &'static Kind, rules: &Rules) -> Map<String, Value> {
    let mut members = Map::new();
    members.insert("x-rank".into(), rank(rules, kind).into());
    members.insert("x-vary".into(), varied(kind).into());
    if let Some(group) = rules.group {
        members.insert("x-group".into(), group.into());
    }
    if let Some(quantity) = quantity(kind.content(), rules) {
        members.insert("x-quantity".into(), quantity);
    }
    if let Some(computed) = rules.computed {
        members.insert("x-default".into(), computed.into());
    }
    if let Some((value, source)) = rules.default {
        let shown = match (rules.unit.name, kind) {
            ("1", Kind::Count) => json!(value as u32),
            ("1", _) => json!(value),
            (unit, _) => json!(format!("{value} {unit}")),
        };
        members.insert("default".into(), shown);
        members.insert("x-basis".into(), json!({ "kind": source.kind.text(), "source": source.text }));
    }
    members
}

/// What a field that takes a number may hold, in numbers.
pub(super) fn quantity(kind: &Kind, rules: &Rules) -> Option<Value> {
    let (dimension, units) = match kind {
        Kind::Number(Dimension::Fraction) => ("number", vec!["1", "%"]),
        Kind::Number(dimension) => {
            let units = UNITS.iter().filter(|unit| unit.dimension == *dimension).map(|unit| unit.name);
            (dimension.name(), units.collect())
        }
        Kind::Count => ("count", vec!["1"]),
        _ => return None,
    };
    let mut quantity = json!({ "dimension": dimension, "unit": rules.unit.name, "units": units });
    if rules.limits() {
        add_member(&mut quantity, "least", rules.range.shown.0.into());
        add_member(&mut quantity, "most", rules.range.shown.1.into());
    }
    if let Some(usual) = &rules.usual {
        add_member(&mut quantity, "usual", json!([usual.shown.0, usual.shown.1]));
    }
    Some(quantity)
}

/// A choice between fields: a null is no value.
pub(super) fn choice(choice: &Choice) -> Value {
    let given = |fields: &[&str]| json!({ "required": fields, "properties": each(fields, &json!({ "not": { "type": "null" } })) });
    let none = |fields: &[&str]| json!({ "properties": each(fields, &json!({ "type": "null" })) });
    match choice {
        Choice::One(sets) => {
            let branch = |own: &&[&str]| {
                let others: Vec<_> =
                    sets.iter().flat_map(|set| set.iter().copied()).filter(|field| !own.contains(field)).collect();
                json!({ "allOf": [given(own), none(&others)] })
            };
            json!({ "oneOf": sets.iter().map(branch).collect::<Vec<_>>() })
        }
        Choice::Any(fields) => json!({ "anyOf": fields.iter().map(|field| given(&[field])).collect::<Vec<_>>() }),
        Choice::Most(fields) => {
            let others = |own: &&str| fields.iter().copied().filter(|field| field != own).collect::<Vec<_>>();
            json!({ "anyOf": fields.iter().map(|field| none(&others(field))).collect::<Vec<_>>() })
        }
        Choice::All(fields) => json!({ "oneOf": [given(fields), none(fields)] }),
    }
}

fn each(fields: &[&str], schema: &Value) -> Value {
    fields.iter().map(|field| ((*field).to_owned(), schema.clone())).collect::<Map<_, _>>().into()
}

/// Takes null too, what its schema says of the field staying outside.
pub(super) fn nullable(schema: &mut Value) {
    let Value::Object(members) = schema else { return };
    let is_null = |form: &Value| form.get("type").is_some_and(|kind| kind == "null");
    if members.get("anyOf").and_then(Value::as_array).is_some_and(|forms| forms.iter().any(is_null)) {
        return;
    }
    let outside = |name: &str| ["title", "description", "default"].contains(&name) || name.starts_with("x-");
    let (kept, inner): (Map<_, _>, Map<_, _>) =
        core::mem::take(members).into_iter().partition(|(name, _)| outside(name));
    *members = kept;
    members.insert("anyOf".into(), json!([inner, { "type": "null" }]));
}

pub(super) fn add_member(schema: &mut Value, name: &str, value: Value) {
    if let Value::Object(members) = schema {
        members.insert(name.into(), value);
    }
}
