//! The wire: what a record is, how a request is read or checked, how an answer is written, and what a calculation is.
//!
//! A record is declared once, field by field (`declare.rs`), which makes a static table ([`Table`]) and access to the fields
//! by number ([`Record`]). Reading and checking, writing, visiting and setting [`numbers`] and documents are each one loop
//! over that table, so that no door skips a rule.

mod at;
mod calculation;
pub(crate) mod declare;
mod document;
mod doubt;
mod field;
mod memory;
pub mod numbers;
mod once;
mod read;
mod record;
mod remarks;
#[cfg(feature = "schema")]
pub mod schema;
mod shelf;
mod write;

pub(crate) use write::is_finite;

pub use at::At;
#[cfg(feature = "schema")]
pub use calculation::Prose;
pub use calculation::from_json;
pub use calculation::{Answer, Answered, Calculation, Entry, Listed, Options, Propagation};
pub(crate) use calculation::{answer_doubted, answer_json, answered, calculation, read_draft, refuse_doubts};
pub(crate) use declare::{answer, request, words};
pub use document::{
    MOST_DEPTH, MOST_ITEMS, MOST_REQUESTS, MOST_TEXT, MOST_TEXT_OF_MANY, MOST_VALUES, document, many_requests,
};
pub use doubt::Doubt;
pub(crate) use doubt::Evaluations;
pub(crate) use field::record_field;
pub use field::{Field, Form, Kind, List, MoneyForm, OwnForm, OwnKind, Priced, Slot, Takes, View, Word};
pub(crate) use memory::{Kept, Memory, Shared};
pub use read::from_stock;
pub(crate) use read::{
    Touched, check, check_number, check_rest, check_touched, checks_more, content as read_content, lacks, measure,
    missing, needed, one_of, typed, unknown, unremarkable, within, wrong_type,
};
pub use record::{Choice, Declared, FieldTable, Given, Record, Stocked, Table, TextForm, needs};
pub(crate) use record::{called, cite};
pub(crate) use remarks::{Asked, Doubted, Says};
pub use remarks::{Remarks, Say};
pub use shelf::{Row, Shelf};

/// The values behind a record that is asked for.
pub trait Valued {
    /// One member a field.
    type Values;
}
