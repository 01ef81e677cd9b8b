//! JSON Schemas (draft 2020-12) of requests and answers, from the tables that read and write them.

use super::field::{Form, Kind};
use super::record::Table;
use super::{MOST_ITEMS, Prose};
use crate::quantity::{Dimension, Rules, Show, System, UNITS};
use crate::source;
use serde_json::{Map, Value, json};

/// The definitions that schemas refer to, by name.
#[derive(Debug, Default)]
pub struct Definitions(Map<String, Value>);

/// Which way a schema goes: a request is read, an answer is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    In,
    Out,
}

impl Definitions {
    /// All of them.
    #[must_use]
    pub fn into_value(self) -> Value {
        self.0.into()
    }

    /// Schema of a request: its fields, and what every request may carry.
    pub fn request(&mut self, table: &'static Table) -> Value {
        let mut schema = self.object(table, Way::In);
        add(
            &mut schema,
            "properties",
            "units",
            json!({ "type": "string", "enum": ["metric", "us"], "default": "metric", "description": "The units of the answer." }),
        );
        add(
            &mut schema,
            "properties",
            "explain",
            json!({ "type": "boolean", "default": true, "description": "Whether the answer says where its built-in numbers come from and what is only worth knowing." }),
        );
        schema
    }

    /// Schema of an answer: its fields, `notes` and `basis`.
    pub fn answer(&mut self, table: &'static Table) -> Value {
        let mut schema = self.object(table, Way::Out);
        let notes = self.named("Note", |_| note());
        let basis = self.named("Basis", |_| basis());
        let list = |items, description: &str| json!({ "type": "array", "items": items, "description": description });
        add(&mut schema, "properties", "notes", list(notes, "What to know beside the numbers."));
        add(&mut schema, "properties", "basis", list(basis, "Where each built-in number came from."));
        if let Some(Value::Array(required)) = schema.get_mut("required") {
            required.extend([json!("notes"), json!("basis")]);
        }
        schema
    }

    /// A reference to the definition of that name, which is made on first use.
    fn named(&mut self, name: &str, make: impl FnOnce(&mut Self) -> Value) -> Value {
        if !self.0.contains_key(name) {
            // Stands in while its parts are made.
            self.0.insert(name.to_owned(), Value::Null);
            let made = make(self);
            self.0.insert(name.to_owned(), made);
        }
        json!({ "$ref": format!("#/$defs/{name}") })
    }

    fn object(&mut self, table: &'static Table, way: Way) -> Value {
        let mut properties = Map::new();
        let mut required = Vec::new();
        for field in table.fields {
            let mut schema = self.kind(&field.kind, field.rules, field.show, way);
            if let Value::Object(members) = &mut schema {
                members.insert("title".into(), field.label.into());
                members.insert("description".into(), field.meaning.trim().into());
                if way == Way::In {
                    members.insert("x-rank".into(), rank(field.rules, &field.kind).into());
                    if let Some(group) = field.rules.group {
                        members.insert("x-group".into(), group.into());
                    }
                    if let Some(computed) = field.rules.computed {
                        members.insert("x-default".into(), computed.into());
                    }
                }
            }
            properties.insert(field.name.into(), schema);
            let optional = field.kind.is_optional() || (way == Way::In && field.rules.default.is_some());
            if !optional {
                required.push(field.name.into());
            }
        }
        for name in table.ignored.iter().filter(|_| way == Way::In) {
            properties.insert((*name).into(), json!({ "description": "Taken and not looked at." }));
        }
        json!({
            "type": "object",
            "description": table.meaning.trim(),
            "properties": properties,
            "required": Value::Array(required),
            "additionalProperties": false,
        })
    }

    fn kind(&mut self, kind: &'static Kind, rules: &Rules, show: Show, way: Way) -> Value {
        match (kind, way) {
            (Kind::Optional(kind), _) => self.kind(kind, rules, show, way),
            (Kind::Number(dimension), Way::In) => {
                let name = if *dimension == Dimension::Fraction { "Number" } else { dimension.name() };
                let mut schema = self.named(name, |_| incoming(*dimension));
                add_rules(&mut schema, rules);
                schema
            }
            (Kind::Number(Dimension::Fraction), Way::Out) => json!({ "type": "number" }),
            (Kind::Number(dimension), Way::Out) => {
                let mut schema = self.named(&format!("{}Shown", dimension.name()), |_| outgoing(dimension.text()));
                let unit = |system| show.unit(*dimension, 0.0, system).name;
                let units = json!({ "metric": unit(System::Metric), "us": unit(System::Us) });
                if let Value::Object(members) = &mut schema {
                    members.insert("x-unit".into(), units);
                }
                schema
            }
            (Kind::InUnit, _) => outgoing("a quantity"),
            (Kind::Count, Way::In) => {
                let (least, most) = (rules.range.shown.0.max(0.0), rules.range.shown.1.min(1e7));
                let mut schema = json!({ "type": "integer", "minimum": least, "maximum": most });
                add_rules(&mut schema, rules);
                schema
            }
            (Kind::Count, Way::Out) => json!({ "type": "integer", "minimum": 0 }),
            (Kind::Integer, _) => json!({ "type": "integer" }),
            (Kind::Flag, _) => json!({ "type": "boolean" }),
            (Kind::Text, Way::In) => json!({ "type": "string", "maxLength": 1000 }),
            (Kind::Text, Way::Out) => json!({ "type": "string" }),
            (Kind::Word(_, words), _) => json!({ "type": "string", "enum": words }),
            (Kind::List(item, count), _) => {
                let items = self.kind(item, rules, show, way);
                match (count, way) {
                    (Some(count), _) => {
                        json!({ "type": "array", "items": items, "minItems": count, "maxItems": count })
                    }
                    (None, Way::In) => json!({ "type": "array", "items": items, "maxItems": MOST_ITEMS }),
                    (None, Way::Out) => json!({ "type": "array", "items": items }),
                }
            }
            (Kind::Record(table), way) => self.record(table, way),
            (Kind::Own(own), _) => {
                let forms: Vec<_> = own.forms.iter().map(|form| self.form(form, way)).collect();
                match <[Value; 1]>::try_from(forms) {
                    Ok([form]) => form,
                    Err(forms) => json!({ "anyOf": forms }),
                }
            }
        }
    }

    fn form(&mut self, form: &'static Form, way: Way) -> Value {
        match form {
            Form::Word(word) => json!({ "const": word }),
            Form::Kind(kind, rules) => self.kind(kind, rules, Show::Usual, way),
            Form::Numbers(count, allowed, rules) => {
                let items = self.kind(&Kind::Number(Dimension::Fraction), rules, Show::Usual, way);
                json!({ "type": "array", "minItems": count, "maxItems": count, "items": items, "x-allowed": allowed })
            }
            Form::AnyQuantity => json!({ "anyOf": [
                { "type": "string", "examples": ["12 ft/min"] },
                { "type": "object", "additionalProperties": false, "required": ["value", "unit"], "properties": {
                    "value": { "type": "number" },
                    "unit": { "type": "string" },
                    "plus_minus": { "type": "number", "minimum": 0 },
                } },
            ] }),
            Form::Anything => json!({}),
        }
    }

    fn record(&mut self, table: &'static Table, way: Way) -> Value {
        let name = definition_name(table);
        if way == Way::Out {
            let name = if table.asked { format!("{name}Shown") } else { name };
            return self.named(&name, |all| all.object(table, way));
        }
        let own = self.named(&name, |all| all.object(table, way));
        if let Some(stock) = table.stock {
            let names: Vec<_> = (stock.shelf)().names().collect();
            // As `own`, with the stock row it starts from and every other member optional.
            let mut changed = self.0.get(&name).cloned().unwrap_or_default();
            if let Some(members) = changed.as_object_mut() {
                members.insert("required".into(), json!(["from"]));
            }
            let from = json!({ "type": "string", "enum": names, "description": "The stock item to start from." });
            add(&mut changed, "properties", "from", from);
            return json!({ "anyOf": [{ "type": "string", "enum": names }, own, changed] });
        }
        match table.text {
            Some(text) => {
                let text = match text.shelf {
                    Some(shelf) => json!({ "type": "string", "enum": shelf().names().collect::<Vec<_>>() }),
                    None => json!({ "type": "string", "pattern": text.pattern, "examples": text.examples }),
                };
                json!({ "anyOf": [text, own] })
            }
            None => own,
        }
    }
}

/// The description of a calculation beside its schemas.
#[must_use]
pub fn prose(prose: &Prose) -> Map<String, Value> {
    let sources: Vec<_> = prose.sources.iter().map(|s| json!({ "kind": s.kind.text(), "source": s.text })).collect();
    let mut members = Map::new();
    members.insert("title".into(), prose.title.into());
    members.insert("question".into(), prose.question.into());
    members.insert("formula".into(), prose.formula.into());
    members.insert("sources".into(), sources.into());
    members.insert("example".into(), serde_json::from_str(prose.example).unwrap_or_default());
    members
}

/// The name of a record's definition: its trade step, then its type.
fn definition_name(table: &Table) -> String {
    let step = table.module.split("::").nth(1).unwrap_or_default();
    let mut letters = step.chars();
    let step: String = letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters).collect();
    if table.name.starts_with(&step) { table.name.to_owned() } else { format!("{step}{}", table.name) }
}

/// How early a form shows a field: what must be given first, what has a default later.
fn rank(rules: &Rules, kind: &Kind) -> &'static str {
    let later = kind.is_optional() || rules.default.is_some();
    rules.rank.map_or(if later { "more" } else { "first" }, crate::quantity::Rank::text)
}

fn add(schema: &mut Value, part: &str, name: &str, value: Value) {
    if let Some(Value::Object(members)) = schema.get_mut(part) {
        members.insert(name.into(), value);
    }
}

/// A note as every answer writes it.
fn note() -> Value {
    json!({
        "description": "What an answer wants its reader to know.",
        "type": "object", "additionalProperties": false, "required": ["level", "code", "field", "message"],
        "properties": {
            "level": { "type": "string", "enum": ["info", "caution", "limit"] },
            "code": { "type": "string" },
            "field": { "type": "string", "description": "JSON pointer; empty for the whole." },
            "message": { "type": "string" },
        },
    })
}

/// The basis of a number as every answer writes it.
fn basis() -> Value {
    json!({
        "description": "Where a built-in number came from.",
        "type": "object", "additionalProperties": false, "required": ["for", "kind", "source"],
        "properties": {
            "for": { "type": "string" },
            "kind": { "type": "string", "enum": source::Kind::ALL.map(source::Kind::text) },
            "source": { "type": "string" },
        },
    })
}

/// A quantity as it comes in; a plain number may be bare.
fn incoming(dimension: Dimension) -> Value {
    let units: Vec<_> = UNITS.iter().filter(|u| u.dimension == dimension).map(|u| u.name).collect();
    let plain = dimension == Dimension::Fraction;
    let required = if plain { json!(["value"]) } else { json!(["value", "unit"]) };
    let mut forms = vec![
        json!({ "type": "string", "examples": [dimension.example()] }),
        json!({ "type": "object", "additionalProperties": false, "required": required, "properties": {
            "value": { "type": "number" },
            "unit": { "type": "string", "examples": units },
            "plus_minus": { "type": "number", "minimum": 0 },
        } }),
    ];
    if plain {
        forms.insert(0, json!({ "type": "number" }));
    }
    json!({
        "description": format!("{}, such as \"{}\", or with its 95 % half-width after +/-.", dimension.text(), dimension.example()),
        "anyOf": forms,
        "x-units": units,
    })
}

/// A quantity as it goes out.
fn outgoing(text: &str) -> Value {
    json!({
        "description": text,
        "type": "object", "additionalProperties": false, "required": ["value", "unit"],
        "properties": { "value": { "type": "number" }, "unit": { "type": "string" } },
    })
}

/// The field's ranges and default beside its type.
fn add_rules(schema: &mut Value, rules: &Rules) {
    let Value::Object(members) = schema else { return };
    if rules.limits() {
        members.insert("x-allowed".into(), rules.range_text().into());
    }
    if let Some(usual) = rules.usual_text() {
        members.insert("x-usual".into(), usual.into());
    }
    if let Some((value, source)) = rules.default {
        let shown = match rules.unit.name {
            "1" => json!(value),
            unit => json!(format!("{value} {unit}")),
        };
        members.insert("default".into(), shown);
        members.insert("x-basis".into(), json!({ "kind": source.kind.text(), "source": source.text }));
    }
}
