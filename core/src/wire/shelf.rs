//! A shelf: the built-in rows of one kind of thing, each value beside its source.

use super::record::{Declared, Record};
use super::{At, Remarks, read};
use crate::quantity::System;
use crate::source::{Kind, Source};
use serde::Deserialize;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

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

/// A row in its file: field -> [value, kind of source, source].
type Written = BTreeMap<&'static str, BTreeMap<&'static str, Entry>>;

#[derive(Deserialize)]
struct Entry(Value, &'static str, &'static str);

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
    /// Reads the rows of a file of the stock. A row that does not read is left out; the tests see to it that none is.
    #[must_use]
    pub fn read<T: Declared>(text: &'static str) -> Self {
        let written: Written = serde_json::from_str(text).unwrap_or_default();
        let row = |(name, entries): (&'static str, BTreeMap<&'static str, Entry>)| {
            let mut values = Map::new();
            let mut sources = vec![None; T::TABLE.fields.len()];
            for (field, Entry(value, kind, source)) in entries {
                *sources.get_mut(T::TABLE.find(field)?)? = Some(Source::new(Kind::find(kind)?, source));
                values.insert(field.to_owned(), value);
            }
            let mut record = Box::new(T::new_blank());
            let mut remarks = Remarks::new(System::Metric, true);
            read::record(&mut *record, &values.into(), At::ROOT, &mut remarks).ok()?;
            *record.given_mut()? = super::record::Given::NONE;
            Some(Row { name, record, sources, has_defaults: remarks.has_basis() })
        };
        Self { rows: written.into_iter().filter_map(row).collect() }
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
