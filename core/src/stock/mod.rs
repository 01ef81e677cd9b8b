//! Built-in materials and machines, for a user who has measured nothing yet.
//!
//! One JSON file a kind stands beside this file. Each row is a named thing; each value stands with the kind and the name
//! of its source. A request takes a stock item by name, or `{"from": "name", ...}` with some values replaced, or gives the
//! whole object itself.

mod cloth;

pub use cloth::{Cloth, Shade};

use crate::error::Error;
use crate::quantity::Rules;
use crate::source::{Kind, Source};
use crate::wire::{At, Input, Object, Remarks, unknown_word, wrong_type};
use serde::Deserialize;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::ops::Deref;

/// A kind of thing that is kept in stock.
pub trait InStock: Input + Clone + Send + Sync + 'static {
    /// What it is, for messages: `ink`.
    const WHAT: &'static str;
    /// Its rows.
    fn shelf() -> &'static Shelf<Self>;
    /// The names of its fields, in order.
    fn fields() -> &'static [&'static str];
}

/// The rows of one kind.
#[derive(Debug)]
pub struct Shelf<T> {
    rows: Vec<Row<T>>,
}

#[derive(Debug)]
struct Row<T> {
    name: &'static str,
    item: T,
    values: Map<String, Value>,
    sources: BTreeMap<&'static str, Source>,
}

/// A row in its file: field -> [value, kind of source, source].
type Written = BTreeMap<&'static str, BTreeMap<&'static str, Entry>>;

#[derive(Deserialize)]
struct Entry(Value, &'static str, &'static str);

impl<T: InStock> Shelf<T> {
    /// Reads the rows of a file of this folder. A row that does not read is left out; the tests see to it that none is.
    #[must_use]
    pub fn read(text: &'static str) -> Self {
        let written: Written = serde_json::from_str(text).unwrap_or_default();
        let row = |(name, entries): (&'static str, BTreeMap<&'static str, Entry>)| {
            let mut values = Map::new();
            let mut sources = BTreeMap::new();
            for (field, Entry(value, kind, source)) in entries {
                values.insert(field.to_owned(), value);
                sources.insert(field, Source::new(Kind::find(kind)?, source));
            }
            let item = T::read(&Value::from(values.clone()), At::ROOT, &Rules::NONE, &mut Remarks::default()).ok()?;
            Some(Row { name, item, values, sources })
        };
        Self { rows: written.into_iter().filter_map(row).collect() }
    }

    /// The names in stock, in order.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.rows.iter().map(|row| row.name)
    }

    fn row(&self, name: &str) -> Option<&Row<T>> {
        self.rows.iter().find(|row| row.name == name)
    }
}

/// A thing that may come from stock, and which of its values do.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock<T> {
    /// The thing itself.
    pub item: T,
    /// The stock row it came from, if any.
    pub name: Option<&'static str>,
    replaced: Vec<&'static str>,
}

impl<T> Deref for Stock<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.item
    }
}

impl<T> From<T> for Stock<T> {
    /// A thing of the caller's own, every value measured.
    fn from(item: T) -> Self {
        Self { item, name: None, replaced: Vec::new() }
    }
}

impl<T: InStock> Stock<T> {
    /// A stock item by name.
    ///
    /// # Errors
    /// `out_of_range` for a name that is not in stock.
    pub fn find(name: &str) -> Result<Self, Error> {
        Self::read(&Value::from(name), At::ROOT, &Rules::NONE, &mut Remarks::default())
    }

    /// What it is called: its stock name, with a word where values were replaced, or `own` for the caller's own thing.
    #[must_use]
    pub fn called(&self, own: &str) -> String {
        match self.name {
            Some(name) if self.replaced.is_empty() => name.to_owned(),
            Some(name) => format!("{name} ({} changed)", self.replaced.join(", ")),
            None => own.to_owned(),
        }
    }

    /// Says where the values of these fields came from: built-in, or given by the user in place of one.
    pub fn cite(&self, fields: &[&'static str], remarks: &mut Remarks) {
        let Some(row) = self.name.and_then(|name| T::shelf().row(name)) else { return };
        for field in fields {
            let of = || format!("{}.{field}", row.name);
            if self.replaced.contains(field) {
                remarks.basis(of(), Source::new(Kind::User, "given in place of the stock value"));
            } else if let Some(source) = row.sources.get(field) {
                remarks.basis(of(), *source);
            }
        }
    }
}

impl<T: InStock> Input for Stock<T> {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        let find = |name: &str, at: At<'_>, value: &Value| {
            T::shelf().row(name).ok_or_else(|| unknown_word(name, value, at, T::shelf().names(), T::WHAT))
        };
        match value {
            Value::String(name) => {
                let row = find(name, at, value)?;
                Ok(Self { item: row.item.clone(), name: Some(row.name), replaced: Vec::new() })
            }
            Value::Object(members) => {
                let known: Vec<_> = T::fields().iter().copied().chain(["from"]).collect();
                Object::open(value, at, &known)?;
                let mut own = members.clone();
                let from = own.shift_remove("from").unwrap_or_default();
                if from.is_null() {
                    return T::read(&own.into(), at, rules, remarks).map(Self::from);
                }
                let name = String::read(&from, at.key("from"), rules, remarks)?;
                let row = find(&name, at.key("from"), &from)?;
                let mut whole = row.values.clone();
                let mut replaced = Vec::new();
                for (field, value) in own {
                    let known = T::fields().iter().find(|known| **known == field);
                    // Null is absent, and what is absent comes from stock.
                    if !value.is_null() {
                        replaced.extend(known);
                        whole.insert(field, value);
                    }
                }
                let item = T::read(&whole.into(), at, rules, remarks)?;
                Ok(Self { item, name: Some(row.name), replaced })
            }
            _ => Err(wrong_type(at, value, Self::wanted()).allowed(T::shelf().names())),
        }
    }

    fn wanted() -> String {
        format!("the name of a stock {}, {}, or {{\"from\": \"a stock name\"}} with changes", T::WHAT, T::wanted())
    }

    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let own = T::schema(rules, generator);
        let names: Vec<_> = T::shelf().names().collect();
        // As `own`, with the stock row it starts from and every other member optional.
        let reference = own.get("$ref").and_then(Value::as_str).and_then(|r| r.rsplit('/').next()).unwrap_or_default();
        let mut changed = generator.definitions().get(reference).cloned().unwrap_or_default();
        if let Some(members) = changed.as_object_mut() {
            members.insert("required".into(), serde_json::json!(["from"]));
            if let Some(Value::Object(properties)) = members.get_mut("properties") {
                let from = serde_json::json!({ "type": "string", "enum": names, "description": "The stock item to start from." });
                properties.insert("from".into(), from);
            }
        }
        schemars::json_schema!({ "anyOf": [{ "type": "string", "enum": names }, own, changed] })
    }
}

/// Ties a type to its file of rows.
macro_rules! in_stock {
    ($type:ty, $what:literal, $file:literal) => {
        impl $crate::stock::InStock for $type {
            const WHAT: &'static str = $what;
            fn shelf() -> &'static $crate::stock::Shelf<Self> {
                static SHELF: std::sync::LazyLock<$crate::stock::Shelf<$type>> =
                    std::sync::LazyLock::new(|| $crate::stock::Shelf::read(include_str!($file)));
                &SHELF
            }
            fn fields() -> &'static [&'static str] {
                Self::FIELDS
            }
        }
    };
}

pub(crate) use in_stock;
