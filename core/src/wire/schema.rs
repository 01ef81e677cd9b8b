//! JSON Schemas (draft 2020-12) of requests and answers, from the same declarations that read and write them.

use super::{Input, Output};
use crate::quantity::{Dimension, Dimensioned, Rules, Show, System, UNITS};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};
use std::borrow::Cow;
use std::marker::PhantomData;

/// Schema of a request: its fields, and `units`.
pub fn request<R: Input>(generator: &mut SchemaGenerator) -> Schema {
    let mut schema = inlined(R::schema(&Rules::NONE, generator), generator);
    if let Some(Value::Object(properties)) = schema.get_mut("properties") {
        properties.insert(
            "units".into(),
            json!({ "type": "string", "enum": ["metric", "us"], "default": "metric", "description": "The units of the answer." }),
        );
    }
    schema
}

/// Schema of an answer: its fields, `notes` and `basis`.
pub fn answer<A: Output>(generator: &mut SchemaGenerator) -> Schema {
    let mut schema = inlined(A::schema(Show::Usual, generator), generator);
    let notes = json!({ "type": "array", "items": generator.subschema_for::<NoteWritten>(), "description": "What to know beside the numbers." });
    let basis = json!({ "type": "array", "items": generator.subschema_for::<BasisWritten>(), "description": "Where each built-in number came from." });
    if let Some(Value::Object(properties)) = schema.get_mut("properties") {
        properties.insert("notes".into(), notes);
        properties.insert("basis".into(), basis);
    }
    if let Some(Value::Array(required)) = schema.get_mut("required") {
        required.extend([json!("notes"), json!("basis")]);
    }
    schema
}

/// A note as every answer writes it.
struct NoteWritten;

impl JsonSchema for NoteWritten {
    fn schema_name() -> Cow<'static, str> {
        "Note".into()
    }
    fn json_schema(_generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
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
}

/// The basis of a number as every answer writes it.
struct BasisWritten;

impl JsonSchema for BasisWritten {
    fn schema_name() -> Cow<'static, str> {
        "Basis".into()
    }
    fn json_schema(_generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "Where a built-in number came from.",
            "type": "object", "additionalProperties": false, "required": ["for", "kind", "source"],
            "properties": {
                "for": { "type": "string" },
                "kind": { "type": "string", "enum": crate::source::Kind::ALL.map(crate::source::Kind::text) },
                "source": { "type": "string" },
            },
        })
    }
}

/// The schema itself in place of a reference to it.
fn inlined(schema: Schema, generator: &mut SchemaGenerator) -> Schema {
    let name = schema.get("$ref").and_then(Value::as_str).and_then(|r| r.rsplit('/').next()).map(ToOwned::to_owned);
    let found = name.and_then(|name| generator.definitions().get(&name).cloned());
    found.and_then(|definition| Schema::try_from(definition).ok()).unwrap_or(schema)
}

/// Collects the members of an object's schema.
#[derive(Debug)]
pub struct Members {
    description: &'static str,
    properties: Map<String, Value>,
    required: Vec<Value>,
}

impl Members {
    /// None yet.
    #[must_use]
    pub fn new(description: &'static str) -> Self {
        Self { description: description.trim(), properties: Map::new(), required: Vec::new() }
    }

    /// Adds a member.
    pub fn add(&mut self, name: &'static str, description: &'static str, schema: Schema, required: bool) {
        let mut schema = schema.to_value();
        if let Value::Object(members) = &mut schema {
            members.insert("description".into(), description.trim().into());
        }
        self.properties.insert(name.into(), schema);
        if required {
            self.required.push(name.into());
        }
    }

    /// The schema of the object: these members and no others.
    #[must_use]
    pub fn close(self) -> Schema {
        json_schema!({
            "type": "object",
            "description": self.description,
            "properties": self.properties,
            "required": self.required,
            "additionalProperties": false,
        })
    }
}

/// A quantity as it comes in; the definition has the dimension's name.
struct Incoming<Q>(PhantomData<Q>);

impl<Q: Dimensioned> JsonSchema for Incoming<Q> {
    fn schema_name() -> Cow<'static, str> {
        Q::DIMENSION.name().into()
    }
    fn json_schema(_generator: &mut SchemaGenerator) -> Schema {
        incoming(Q::DIMENSION)
    }
}

struct Plain;

impl JsonSchema for Plain {
    fn schema_name() -> Cow<'static, str> {
        "Number".into()
    }
    fn json_schema(_generator: &mut SchemaGenerator) -> Schema {
        let mut schema = incoming(Dimension::Fraction);
        if let Some(Value::Array(forms)) = schema.get_mut("anyOf") {
            forms.insert(0, json!({ "type": "number" }));
        }
        schema
    }
}

fn incoming(dimension: Dimension) -> Schema {
    let units: Vec<_> = UNITS.iter().filter(|u| u.dimension == dimension).map(|u| u.name).collect();
    let required = if dimension == Dimension::Fraction { json!(["value"]) } else { json!(["value", "unit"]) };
    json_schema!({
        "description": format!("{}, such as \"{}\", or with its 95 % half-width after +/-.", dimension.text(), dimension.example()),
        "anyOf": [
            { "type": "string", "examples": [dimension.example()] },
            { "type": "object", "additionalProperties": false, "required": required, "properties": {
                "value": { "type": "number" },
                "unit": { "type": "string", "examples": units },
                "plus_minus": { "type": "number", "minimum": 0 },
            } },
        ],
        "x-units": units,
    })
}

/// A quantity as it goes out.
struct Outgoing<Q>(PhantomData<Q>);

impl<Q: Dimensioned> JsonSchema for Outgoing<Q> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}Shown", Q::DIMENSION.name()).into()
    }
    fn json_schema(_generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": Q::DIMENSION.text(),
            "type": "object", "additionalProperties": false, "required": ["value", "unit"],
            "properties": { "value": { "type": "number" }, "unit": { "type": "string" } },
        })
    }
}

pub(super) fn quantity<Q: Dimensioned>(rules: &Rules, generator: &mut SchemaGenerator) -> Schema {
    let mut schema = generator.subschema_for::<Incoming<Q>>();
    add_rules(&mut schema, rules);
    schema
}

pub(super) fn plain_number(rules: &Rules, generator: &mut SchemaGenerator) -> Schema {
    let mut schema = generator.subschema_for::<Plain>();
    add_rules(&mut schema, rules);
    schema
}

pub(super) fn shown<Q: Dimensioned>(show: Show, generator: &mut SchemaGenerator) -> Schema {
    let mut schema = generator.subschema_for::<Outgoing<Q>>();
    let unit = |system| show.unit(Q::DIMENSION, 0.0, system).name;
    schema.insert("x-unit".into(), json!({ "metric": unit(System::Metric), "us": unit(System::Us) }));
    schema
}

/// The field's ranges and default beside its type.
pub(super) fn add_rules(schema: &mut Schema, rules: &Rules) {
    if rules.least > f64::MIN {
        schema.insert("x-allowed".into(), rules.range_text().into());
    }
    if let Some(usual) = rules.usual_text() {
        schema.insert("x-usual".into(), usual.into());
    }
    if let Some((value, source)) = rules.default {
        let shown = match rules.unit.name {
            "1" => json!(value),
            unit => json!(format!("{value} {unit}")),
        };
        schema.insert("default".into(), shown);
        schema.insert("x-basis".into(), json!({ "kind": source.kind.text(), "source": source.text }));
    }
}
