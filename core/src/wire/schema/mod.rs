//! JSON Schemas (draft 2020-12) of requests and answers, from the tables that read and write them, made for drawing forms.
//!
//! What the words of JSON Schema do not say stands in keywords of our own, which [`KEYWORDS`] explains and the catalogue carries.

mod operators;
mod parts;

pub use operators::operators;

use super::field::{Form, Kind, MoneyForm};
use super::record::Table;
use super::{MOST_ITEMS, Prose};
use crate::quantity::{Dimension, Rules, Show, System, UNITS};
pub(crate) use parts::text_pattern;
use parts::{
    add_member, basis, choice, doubt, form_members, incoming, incoming_money, note, nullable, outgoing, outgoing_money,
    quantity, varied, wanted,
};
use serde_json::{Map, Value, json};

/// The keywords of our own, and what each says.
pub const KEYWORDS: &[(&str, &str)] = &[
    (
        "x-quantity",
        "of a field that takes a number: its dimension; the units it may be written in; unit, that of the numbers beside it; least and most, between which values are taken; usual, between which they cause no caution",
    ),
    ("x-default", "what stands in where the field is left out, in words: it is worked out from other fields"),
    ("x-basis", "where the default comes from: the kind and the name of its source"),
    ("x-rank", "how early a form shows the field: first, more or rare"),
    ("x-group", "fields with the same group stand together on a form"),
    (
        "x-unit",
        "of a field of an answer: the unit it comes in, by system of units; where that is chosen by the size, the smallest",
    ),
    ("x-stock", "the kind of thing whose stock names the field takes: see stock"),
    (
        "x-vary",
        "how operators vary a field or an entry of a list by its pointer: number (between two ends, by a search, by a column), or values (only those that are listed)",
    ),
    (
        "x-want",
        "how operators read a member of an answer, or an entry of a list, by its pointer: number, or word (1 where it equals one, else 0)",
    ),
];

/// What a request can be refused for though its schema takes it, by the code of the error.
pub const BEYOND: &[(&str, &str)] = &[
    (
        "bad_quantity",
        "a number too large to be a measurement, a doubt that is negative or ambiguous, and a currency that is not on the list",
    ),
    (
        "out_of_range",
        "a quantity in text or with its unit that lies out of its range, a doubt that is wider than it, a mesh by a count that nobody stocks, and lists too short or too long for the calculation",
    ),
    ("impossible", "values that contradict one another, and a doubt at neither end of which there is an answer"),
    ("missing_field", "a field that only some values of others ask for"),
    ("wrong_dimension", "of unit.convert: another dimension than that of the quantity"),
    ("no_solution", "a question without an answer"),
    ("too_long", "more work than an evaluation may take, and more than 100,000 entries and members in all"),
];

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
            json!({ "enum": ["metric", "us", null], "default": "metric", "title": "Units", "description": "The units of the answer." }),
        );
        add(
            &mut schema,
            "properties",
            "explain",
            json!({ "type": ["boolean", "null"], "default": true, "title": "Explain", "description": "Whether the answer says where its built-in numbers come from and what is only worth knowing." }),
        );
        add(
            &mut schema,
            "properties",
            "doubt",
            json!({ "enum": ["propagate", "monte_carlo", null], "default": "propagate", "title": "Doubt", "description": "How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by draws (JCGM 101)." }),
        );
        schema
    }

    /// Schema of an answer: its fields, `notes`, `basis` and, where the request has doubts, `doubt`.
    pub fn answer(&mut self, table: &'static Table) -> Value {
        let mut schema = self.object(table, Way::Out);
        let notes = self.named("Note", |_| note());
        let basis = self.named("Basis", |_| basis());
        let doubt = self.named("Doubt", |_| doubt());
        let list = |items, description: &str| json!({ "type": "array", "items": items, "description": description });
        add(&mut schema, "properties", "notes", list(notes, "What to know beside the numbers."));
        add(&mut schema, "properties", "basis", list(basis, "Where each built-in number came from."));
        add(
            &mut schema,
            "properties",
            "doubt",
            list(doubt, "How far the numbers may be off, where the request has doubts."),
        );
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
            let optional = field.kind.is_optional() || (way == Way::In && field.rules.default.is_some());
            if optional && way == Way::In {
                // Null means absent.
                schema = json!({ "anyOf": [schema, { "type": "null" }] });
            }
            if let Value::Object(members) = &mut schema {
                members.insert("title".into(), field.label.into());
                members.insert("description".into(), field.meaning.trim().into());
                match way {
                    Way::In => members.extend(form_members(&field.kind, field.rules)),
                    Way::Out => members.extend(wanted(&field.kind).map(|how| ("x-want".to_owned(), how.into()))),
                }
            }
            properties.insert(field.name.into(), schema);
            if !optional {
                required.push(field.name.into());
            }
        }
        for name in table.ignored.iter().filter(|_| way == Way::In) {
            properties.insert((*name).into(), json!({ "description": "Taken and not looked at." }));
        }
        let mut schema = json!({
            "type": "object",
            "description": table.meaning.trim(),
            "properties": properties,
            "required": Value::Array(required),
            "additionalProperties": false,
        });
        if way == Way::In && !table.choices.is_empty() {
            add_member(&mut schema, "allOf", table.choices.iter().map(choice).collect());
        }
        schema
    }

    fn kind(&mut self, kind: &'static Kind, rules: &Rules, show: Show, way: Way) -> Value {
        match (kind, way) {
            (Kind::Optional(kind), _) => self.kind(kind, rules, show, way),
            (Kind::Number(Dimension::Fraction), Way::In) => {
                let measured = self.named("Number", |_| incoming(Dimension::Fraction));
                let mut plain = json!({ "type": "number" });
                if rules.limits() {
                    add_member(&mut plain, "minimum", rules.range.shown.0.into());
                    add_member(&mut plain, "maximum", rules.range.shown.1.into());
                }
                json!({ "anyOf": [plain, measured] })
            }
            (Kind::Number(dimension), Way::In) => self.named(dimension.name(), |_| incoming(*dimension)),
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
                json!({ "type": "integer", "minimum": least, "maximum": most })
            }
            (Kind::Count, Way::Out) => json!({ "type": "integer", "minimum": 0 }),
            (Kind::Integer, _) => json!({ "type": "integer" }),
            (Kind::Flag, _) => json!({ "type": "boolean" }),
            (Kind::Text, Way::In) => json!({ "type": "string", "maxLength": 1000 }),
            (Kind::Text, Way::Out) => json!({ "type": "string" }),
            (Kind::Word(_, words), _) => json!({ "type": "string", "enum": words }),
            (Kind::List(item, count), _) => {
                let mut items = self.kind(item, rules, show, way);
                if let Value::Object(members) = &mut items {
                    match way {
                        Way::In => {
                            members.extend(quantity(item, rules).map(|quantity| ("x-quantity".to_owned(), quantity)));
                            members.insert("x-vary".into(), varied(item).into());
                        }
                        Way::Out => members.extend(wanted(item).map(|how| ("x-want".to_owned(), how.into()))),
                    }
                }
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
            Form::Kind(kind, rules) => {
                let mut schema = self.kind(kind, rules, Show::Usual, way);
                if let (Some(quantity), Value::Object(members), Way::In) = (quantity(kind, rules), &mut schema, way) {
                    members.insert("x-quantity".into(), quantity);
                }
                schema
            }
            Form::Numbers(rules) => {
                let kind = &Kind::Number(Dimension::Fraction);
                let mut item = |rules: &&'static Rules| {
                    let mut schema = self.kind(kind, rules, Show::Usual, way);
                    if let (Some(quantity), Way::In) = (quantity(kind, rules), way) {
                        add_member(&mut schema, "x-quantity", quantity);
                    }
                    schema
                };
                let items: Vec<_> = rules.iter().map(&mut item).collect();
                json!({ "type": "array", "minItems": rules.len(), "maxItems": rules.len(), "prefixItems": items })
            }
            Form::AnyQuantity => {
                let mut dimensions: Vec<Dimension> = Vec::new();
                for unit in UNITS {
                    if !dimensions.contains(&unit.dimension) {
                        dimensions.push(unit.dimension);
                    }
                }
                let name =
                    |dimension: Dimension| if dimension == Dimension::Fraction { "Number" } else { dimension.name() };
                let forms: Vec<_> = dimensions.into_iter().map(|of| self.named(name(of), |_| incoming(of))).collect();
                json!({ "anyOf": forms })
            }
            Form::Money(form) => self.money(form, way),
            Form::Text(pattern) => json!({ "type": "string", "pattern": pattern }),
            Form::Anything => json!({}),
        }
    }

    /// Money as it comes in, text or object, its number text or a number; or as it goes out, its number text.
    fn money(&mut self, form: &MoneyForm, way: Way) -> Value {
        let per = |of: &Option<Dimension>| of.map_or("Money", Dimension::name);
        let name =
            format!("MoneyPer{}", form.per.iter().map(per).collect::<String>()).replace("MoneyPerMoney", "Money");
        match way {
            Way::In => self.named(&name, |_| incoming_money(form)),
            Way::Out => self.named("MoneyShown", |_| outgoing_money()),
        }
    }

    fn record(&mut self, table: &'static Table, way: Way) -> Value {
        let name = definition_name(table);
        if way == Way::Out {
            let name = if table.asked { format!("{name}Shown") } else { name };
            return self.named(&name, |all| all.object(table, way));
        }
        let own = self.named(&name, |all| {
            let mut own = all.object(table, way);
            if table.stock.is_some() {
                add(
                    &mut own,
                    "properties",
                    "from",
                    json!({ "type": "null", "description": "No stock item: all stands here." }),
                );
            }
            own
        });
        if let Some(stock) = table.stock {
            let names: Vec<_> = (stock.shelf)().names().collect();
            // As `own`, with the stock row it starts from and every other member optional.
            let mut changed = self.0.get(&name).cloned().unwrap_or_default();
            if let Some(members) = changed.as_object_mut() {
                members.insert("required".into(), json!(["from"]));
                members.remove("allOf");
                for property in members.get_mut("properties").and_then(Value::as_object_mut).into_iter().flatten() {
                    nullable(property.1);
                }
            }
            let from = json!({ "type": "string", "enum": names, "description": "The stock item to start from." });
            add(&mut changed, "properties", "from", from);
            let changed = self.named(&format!("{name}Changed"), |_| changed);
            return json!({ "anyOf": [{ "type": "string", "enum": names }, own, changed], "x-stock": stock.what });
        }
        match table.text {
            Some(text) => {
                let text = match text.shelf {
                    Some(shelf) => json!({ "type": "string", "enum": shelf().names().collect::<Vec<_>>() }),
                    None => json!({ "type": "string", "pattern": (text.pattern)(), "examples": text.examples }),
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
    members.insert("asked".into(), prose.asked.into());
    members.insert("headline".into(), prose.headline.into());
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

fn add(schema: &mut Value, part: &str, name: &str, value: Value) {
    if let Some(Value::Object(members)) = schema.get_mut(part) {
        members.insert(name.into(), value);
    }
}
