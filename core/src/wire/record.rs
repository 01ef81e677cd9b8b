//! What a record is: a static table of its fields, and access to them by number. Whatever a record can do (be read, checked,
//! written, visited, described) is one loop over that table, in the files beside this one.

use super::field::{Kind, Slot, View};
use super::shelf::{Row, Shelf};
use super::{At, Remarks};
use crate::error::Error;
use crate::quantity::{Rules, Show};
use crate::source::{Source, SourceKind};
use core::any::Any;
use core::fmt;
use serde_json::Value;

/// Most fields of a record: what was given is remembered in so many bits.
pub const MOST_FIELDS: usize = 64;

/// A record as the loops see it.
pub trait Record: Send + Sync + 'static {
    /// Its fields.
    fn table(&self) -> &'static Table;
    /// What the field at this place of the table holds; nothing beyond its end.
    fn view(&self, index: usize) -> View<'_>;
    /// The same, to be set; nothing for an answer.
    fn slot(&mut self, index: usize) -> Option<Slot<'_>>;
    /// Its numbers in SI base units, their signs left out, added up; infinite where that is not known.
    fn magnitude(&self) -> f64 {
        f64::INFINITY
    }
    /// Itself, to be told from records of other types; an answer never is.
    fn any(&self) -> Option<&dyn Any> {
        None
    }
    /// What was given; an answer does not ask.
    fn given(&self) -> Option<&Given> {
        None
    }
    /// The same, to be set.
    fn given_mut(&mut self) -> Option<&mut Given> {
        None
    }
    /// Becomes a copy of another record of the same type, or else stays as it is; blank for none. Only for what comes from stock or
    /// from a text.
    fn become_copy(&mut self, _of: Option<&dyn Record>) -> bool {
        false
    }
}

impl dyn Record {
    /// As the type that it is meant to be, if it is that.
    pub(crate) fn to<R: 'static>(&self) -> Option<&R> {
        self.any()?.downcast_ref()
    }
}

/// A type of record.
pub trait Declared: Record + Clone + Sized {
    /// Its table.
    const TABLE: &'static Table;
    /// Before anything is given.
    fn new_blank() -> Self;
}

/// A record, declared.
pub struct Table {
    /// The name of its type.
    pub name: &'static str,
    /// The module that declares it: its trade step.
    pub module: &'static str,
    /// What it is.
    #[cfg(feature = "schema")]
    pub meaning: &'static str,
    /// Its fields, in order.
    pub fields: &'static [FieldTable],
    /// Their names, close together, since they are looked up by name.
    pub names: &'static [&'static str],
    /// Bits of the fields that must be given: neither optional nor with a default.
    pub required: u64,
    /// Bits of the fields that have a default.
    pub defaulted: u64,
    /// The shelf that it may come from.
    pub stock: Option<Stocked>,
    /// How it is read from a text, where it may be one, and examples of such a text.
    pub text: Option<TextForm>,
    /// Fields of which some are needed, or which shut each other out.
    pub choices: &'static [Choice],
    /// What the fields cannot say one by one; the value is what was read, null for a record built in Rust.
    pub fits: Option<Fits>,
    /// What follows where an operator varies a field of it, by the field's place.
    pub varied: Option<fn(&mut dyn Record, usize)>,
    /// Members that are taken and not looked at: those that an answer has beside its own.
    pub ignored: &'static [&'static str],
    /// Whether it is asked for; some records are answered too.
    pub asked: bool,
}

/// The bits of the fields that must be given, and of those that have a default.
#[must_use]
pub const fn needs(fields: &[FieldTable]) -> (u64, u64) {
    let (mut required, mut defaulted, mut rest, mut bit) = (0, 0, fields, 1_u64);
    while let Some((field, further)) = rest.split_first() {
        if field.rules.default.is_some() {
            defaulted |= bit;
        } else if !field.kind.is_optional() {
            required |= bit;
        }
        (rest, bit) = (further, bit << 1);
    }
    (required, defaulted)
}

/// A field, declared.
#[derive(Debug)]
pub struct FieldTable {
    /// Its name on the wire.
    pub name: &'static str,
    /// Its name on a form: two or three words.
    #[cfg(feature = "schema")]
    pub label: &'static str,
    /// What it means.
    #[cfg(feature = "schema")]
    pub meaning: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// Its range, usual range, default and place on a form.
    pub rules: &'static Rules,
    /// How it is shown where an answer has it.
    pub show: Show,
}

/// A kind of thing that is kept in stock.
#[derive(Clone, Copy)]
pub struct Stocked {
    /// What it is, for messages: `ink`.
    pub what: &'static str,
    /// Its rows.
    pub shelf: fn() -> &'static Shelf,
}

/// Checks what the fields of a record cannot say one by one; the value is what was read.
pub type Fits = fn(&dyn Record, At<'_>, &Value, &mut Remarks) -> Result<(), Error>;

/// Reads a text into a blank record; the value is that text.
pub type ReadText = fn(&mut dyn Record, &str, At<'_>, &Value, &mut Remarks) -> Result<(), Error>;

/// A record that may be written as a text.
#[derive(Clone, Copy)]
pub struct TextForm {
    /// What it looks like, for messages.
    pub wanted: &'static str,
    /// A regular expression for schemas, where it is no name in stock.
    #[cfg(feature = "schema")]
    pub pattern: fn() -> String,
    /// Examples.
    pub examples: &'static [&'static str],
    /// The shelf whose names it may be.
    pub shelf: Option<fn() -> &'static Shelf>,
    /// Reads it into a blank record.
    pub read: ReadText,
}

/// Fields of a record that are given in the place of one another, or together. A calculation refuses what does not fit, in its own
/// words; documents and the errors for what is missing follow from here.
#[derive(Debug, Clone, Copy)]
pub enum Choice {
    /// All of one of these sets, and nothing of the others.
    One(&'static [&'static [&'static str]]),
    /// At least one of these.
    Any(&'static [&'static str]),
    /// At most one of these.
    Most(&'static [&'static str]),
    /// All of these or none.
    All(&'static [&'static str]),
}

impl Table {
    /// What of its first choice would do, for messages: `width, height and coverage_fraction`.
    #[must_use]
    pub fn choice(&self) -> Vec<String> {
        let set = |fields: &&[&str]| match fields.split_last() {
            Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
            _ => fields.concat(),
        };
        self.choices.first().map_or_else(Vec::new, |choice| match choice {
            Choice::One(sets) => sets.iter().map(set).collect(),
            Choice::Any(fields) | Choice::Most(fields) | Choice::All(fields) => {
                fields.iter().map(|field| (*field).to_owned()).collect()
            }
        })
    }

    /// The names of the fields, in order.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.names.iter().copied()
    }

    /// The place of a field.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|known| *known == name)
    }

    /// What belongs here, for messages.
    #[must_use]
    pub fn wanted(&self) -> String {
        let own = format!("an object with {}", self.names().collect::<Vec<_>>().join(", "));
        match (&self.stock, &self.text) {
            (Some(stock), _) => {
                format!("the name of a stock {}, {own}, or {{\"from\": \"a stock name\"}} with changes", stock.what)
            }
            (None, Some(text)) => text.wanted.to_owned(),
            (None, None) => own,
        }
    }
}

impl fmt::Debug for Table {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Table").field("name", &self.name).field("fields", &self.fields).finish_non_exhaustive()
    }
}

/// What was given of a record, and the stock row that the rest comes from.
#[derive(Clone, Copy, Default)]
pub struct Given {
    fields: u64,
    pub(super) row: Option<&'static Row>,
}

impl Given {
    /// Nothing yet.
    pub const NONE: Self = Self { fields: 0, row: None };

    /// Whether the field at this place was given.
    #[must_use]
    pub const fn has(&self, index: usize) -> bool {
        index < MOST_FIELDS && self.fields >> index & 1 == 1
    }

    /// Remembers that it was given, or was not.
    pub const fn mark(&mut self, index: usize, given: bool) {
        if index < MOST_FIELDS {
            let bit = 1 << index;
            self.fields = if given { self.fields | bit } else { self.fields & !bit };
        }
    }

    /// The bits of the fields that were given.
    pub(super) const fn bits(&self) -> u64 {
        self.fields
    }

    /// Whether all comes from a stock row as it is.
    #[must_use]
    pub const fn is_stock(&self) -> bool {
        self.fields == 0 && self.row.is_some()
    }

    /// The stock row, if any.
    #[must_use]
    pub const fn row(&self) -> Option<&'static Row> {
        self.row
    }
}

impl PartialEq for Given {
    /// Alike where the same was given, on top of the same stock row.
    fn eq(&self, other: &Self) -> bool {
        self.fields == other.fields && self.row.map(Row::name) == other.row.map(Row::name)
    }
}

impl fmt::Debug for Given {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Given").field("fields", &self.fields).field("row", &self.row.map(Row::name)).finish()
    }
}

/// A value that stands in place of a stock value.
const CHANGED: Source = Source::new(SourceKind::User, "given in place of the stock value");

/// Says where the values of these fields of a stock record came from: built-in, or given by the user in place of one.
pub(crate) fn cite(record: &impl Record, fields: &[&'static str], remarks: &mut Remarks) {
    let Some(given) = record.given() else { return };
    let Some(row) = given.row else { return };
    let table = record.table();
    for field in fields {
        let Some(index) = table.find(field) else { continue };
        if given.has(index) {
            remarks.basis((row.name(), *field), CHANGED);
        } else if let Some(source) = row.source(index) {
            remarks.basis((row.name(), *field), source);
        }
    }
}

/// What a record is called: its stock name, with a word where values were changed, or `own` for the caller's own thing.
pub(crate) fn called(record: &impl Record, own: &str) -> String {
    let Some((given, row)) = record.given().and_then(|given| Some((given, given.row?))) else { return own.to_owned() };
    let fields = record.table().fields.iter().enumerate();
    let changed: Vec<_> = fields.filter(|(index, _)| given.has(*index)).map(|(_, field)| field.name).collect();
    if changed.is_empty() { row.name().to_owned() } else { format!("{} ({} changed)", row.name(), changed.join(", ")) }
}
