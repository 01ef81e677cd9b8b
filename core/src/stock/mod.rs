//! Built-in materials and machines, for a user who has measured nothing yet.
//!
//! One JSON file a kind stands beside this file. Each row is a named thing; each value stands with the kind and the name
//! of its source. A request takes a stock item by name, or `{"from": "name", ...}` with some values replaced, or gives the
//! whole object itself.

mod cloth;

pub use cloth::{Cloth, Shade};

use crate::error::{Code, Error};
use crate::quantity::Rules;
use crate::source::{Kind, Source};
use crate::wire::{At, Input, Remarks, unknown_word};
use serde::Deserialize;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::ops::Deref;

/// A kind of thing that is kept in stock.
pub trait InStock: Input + 'static {
    /// What it is, for messages: `ink`.
    const WHAT: &'static str;
    /// Its rows.
    fn shelf() -> &'static Shelf;
    /// The names of its fields, in order.
    fn fields() -> &'static [&'static str];
}

/// The rows of one kind.
#[derive(Debug)]
pub struct Shelf {
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    name: &'static str,
    values: Value,
    sources: BTreeMap<&'static str, Source>,
}

/// A row in its file: field -> [value, kind of source, source].
type Written = BTreeMap<&'static str, BTreeMap<&'static str, Entry>>;

#[derive(Deserialize)]
struct Entry(Value, &'static str, &'static str);

impl Shelf {
    /// Reads the rows of a file of this folder. An entry that does not parse is left out; the tests see to it that none is.
    #[must_use]
    pub fn read(text: &'static str) -> Self {
        let written: Written = serde_json::from_str(text).unwrap_or_default();
        let row = |(name, entries): (&'static str, BTreeMap<&'static str, Entry>)| {
            let mut values = Map::new();
            let mut sources = BTreeMap::new();
            for (field, Entry(value, kind, source)) in entries {
                values.insert(field.to_owned(), value);
                if let Some(kind) = Kind::find(kind) {
                    sources.insert(field, Source::new(kind, source));
                }
            }
            Row { name, values: values.into(), sources }
        };
        Self { rows: written.into_iter().map(row).collect() }
    }

    /// The names in stock, in order.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.rows.iter().map(|row| row.name)
    }

    fn row(&self, name: &str) -> Option<&Row> {
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
                let item = T::read(&row.values, at, rules, remarks)?;
                Ok(Self { item, name: Some(row.name), replaced: Vec::new() })
            }
            Value::Object(members) if members.get("from").is_some_and(|from| !from.is_null()) => {
                let from = at.key("from");
                let name = String::read(members.get("from").unwrap_or(&Value::Null), from, rules, remarks)?;
                let row = find(&name, from, &Value::from(name.as_str()))?;
                let mut whole = row.values.as_object().cloned().unwrap_or_default();
                let mut replaced = Vec::new();
                for (field, value) in members.iter().filter(|(field, value)| *field != "from" && !value.is_null()) {
                    replaced.extend(T::fields().iter().find(|known| *known == field));
                    whole.insert(field.clone(), value.clone());
                }
                let item = T::read(&whole.into(), at, rules, remarks)?;
                Ok(Self { item, name: Some(row.name), replaced })
            }
            Value::Object(_) => T::read(value, at, rules, remarks).map(Self::from),
            _ => Err(Error::new(Code::WrongType, at, format!("wanted is {}", Self::wanted()))
                .got(value)
                .allowed(T::shelf().names())),
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
            fn shelf() -> &'static $crate::stock::Shelf {
                static SHELF: std::sync::LazyLock<$crate::stock::Shelf> =
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
