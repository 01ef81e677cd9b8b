//! Writes the fields of an answer: quantities in the caller's units, numbers finite, nothing rounded.

use crate::quantity::{Dimensioned, Show, System};
use serde_json::{Map, Number, Value};

/// The answer being written: its units, and whether a number in it failed to be finite.
#[derive(Debug, Clone, Copy, Default)]
pub struct Page {
    /// Which units to show.
    pub system: System,
    /// Set when a value was not finite: such an answer is withheld.
    pub broken: bool,
}

impl Page {
    fn number(&mut self, value: f64) -> Value {
        // A negative zero is written 0.
        Number::from_f64(value + 0.0).map_or_else(
            || {
                self.broken = true;
                Value::Null
            },
            Value::Number,
        )
    }
}

/// Something that an answer can hold.
pub trait Output {
    /// Whether the answer may leave it out.
    const OPTIONAL: bool = false;

    /// The JSON value; nothing for what is absent.
    fn write(&self, show: Show, page: &mut Page) -> Option<Value>;

    /// JSON Schema of what is written.
    #[cfg(feature = "schema")]
    fn schema(show: Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema;
}

impl<T: Output> Output for Option<T> {
    const OPTIONAL: bool = true;
    fn write(&self, show: Show, page: &mut Page) -> Option<Value> {
        self.as_ref().and_then(|value| value.write(show, page))
    }
    #[cfg(feature = "schema")]
    fn schema(show: Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        T::schema(show, generator)
    }
}

impl<T: Output> Output for Vec<T> {
    fn write(&self, show: Show, page: &mut Page) -> Option<Value> {
        Some(Value::Array(self.iter().filter_map(|item| item.write(show, page)).collect()))
    }
    #[cfg(feature = "schema")]
    fn schema(show: Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let items = T::schema(show, generator);
        schemars::json_schema!({ "type": "array", "items": items })
    }
}

impl<T: Output, const N: usize> Output for [T; N] {
    fn write(&self, show: Show, page: &mut Page) -> Option<Value> {
        Some(Value::Array(self.iter().filter_map(|item| item.write(show, page)).collect()))
    }
    #[cfg(feature = "schema")]
    fn schema(show: Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let items = T::schema(show, generator);
        schemars::json_schema!({ "type": "array", "items": items, "minItems": N, "maxItems": N })
    }
}

impl Output for f64 {
    fn write(&self, _show: Show, page: &mut Page) -> Option<Value> {
        Some(page.number(*self))
    }
    #[cfg(feature = "schema")]
    fn schema(_show: Show, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "number" })
    }
}

impl<Q: Dimensioned> Output for Q {
    fn write(&self, show: Show, page: &mut Page) -> Option<Value> {
        let unit = show.unit(Q::DIMENSION, self.si(), page.system);
        let mut members = Map::with_capacity(2);
        members.insert("value".to_owned(), page.number(unit.from_si(self.si())));
        members.insert("unit".to_owned(), unit.name.into());
        Some(members.into())
    }
    #[cfg(feature = "schema")]
    fn schema(show: Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        super::schema::shown::<Q>(show, generator)
    }
}

macro_rules! plain {
    ($($type:ty => $schema:expr),*) => { $(
        impl Output for $type {
            fn write(&self, _show: Show, _page: &mut Page) -> Option<Value> {
                Some(Value::from(self.clone()))
            }
            #[cfg(feature = "schema")]
            fn schema(_show: Show, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                $schema
            }
        }
    )* };
}

plain!(
    bool => schemars::json_schema!({ "type": "boolean" }),
    u32 => schemars::json_schema!({ "type": "integer", "minimum": 0 }),
    i32 => schemars::json_schema!({ "type": "integer" }),
    String => schemars::json_schema!({ "type": "string" })
);
