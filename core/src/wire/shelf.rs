//! A shelf: the built-in rows of one kind of thing, each value beside its source.

use super::record::Record;
use super::{At, Remarks, document, read};
use crate::quantity::System;
use crate::source::{Source, SourceKind};
use serde_json::{Map, Value};

/// The rows of one kind.
pub struct Shelf {
    rows: Vec<Row>,
}

/// A built-in thing.
pub struct Row {
    name: &'static str,
    record: Box<dyn Record>,
    /// The source of each field, by its place.
    sources: Vec<Option<Source>>,
    /// Whether some of its values are defaults, which have a source of their own.
    has_defaults: bool,
}

impl Row {
    /// Its name.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// The thing itself.
    #[must_use]
    pub fn record(&self) -> &dyn Record {
        &*self.record
    }

    /// Whether some of its values are defaults, which have a source of their own.
    #[must_use]
    pub const fn has_defaults(&self) -> bool {
        self.has_defaults
    }

    /// Where the value of the field at this place came from.
    #[must_use]
    pub fn source(&self, index: usize) -> Option<Source> {
        self.sources.get(index).copied().flatten()
    }
}

impl Shelf {
    /// Reads a file of the stock: name -> field -> [value, kind of source, source], the names in order. It is read once and kept for
    /// good. A row that does not read is left out; the tests see to it that none is.
    #[must_use]
    pub fn read(text: &str, blank: fn() -> Box<dyn Record>) -> Self {
        let Ok(Value::Object(rows)) = document(text.as_bytes()) else { return Self { rows: Vec::new() } };
        Self { rows: rows.into_iter().filter_map(|(name, entries)| row(name, entries, blank())).collect() }
    }

    /// The names in stock, in order.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.rows.iter().map(Row::name)
    }

    /// The rows, in order.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.rows.iter()
    }

    /// The row of that name.
    #[must_use]
    pub fn row(&self, name: &str) -> Option<&Row> {
        self.rows.iter().find(|row| row.name == name)
    }
}

/// Reads a row of a file into a blank record.
fn row(name: String, entries: Value, mut record: Box<dyn Record>) -> Option<Row> {
    let Value::Object(entries) = entries else { return None };
    let table = record.table();
    let mut values = Map::new();
    let mut sources = vec![None; table.fields.len()];
    for (field, entry) in entries {
        let Value::Array(entry) = entry else { return None };
        let Ok([value, Value::String(kind), Value::String(source)]) = <[Value; 3]>::try_from(entry) else {
            return None;
        };
        *sources.get_mut(table.find(&field)?)? = Some(Source::new(SourceKind::find(&kind)?, source.leak()));
        values.insert(field, value);
    }
    let mut remarks = Remarks::new(System::Metric, true).of_stock();
    read::record(&mut *record, &values.into(), At::ROOT, &mut remarks).ok()?;
    *record.given_mut()? = super::record::Given::NONE;
    Some(Row { name: name.leak(), record, sources, has_defaults: remarks.has_basis() })
}
