//! The wire: how a request is read, how an answer is written, and what a calculation is.
//!
//! A request type is declared once with [`request!`](crate::wire), field by field with its rules; an answer type with
//! [`answer!`](crate::wire). Reading, writing, defaults, ranges, unknown names and JSON Schemas all follow from these
//! declarations, so that every calculation keeps the same rules.

mod at;
mod calculation;
mod document;
pub(crate) mod object;
mod read;
mod remarks;
#[cfg(feature = "schema")]
pub mod schema;
mod write;

pub use at::At;
#[cfg(feature = "schema")]
pub use calculation::Prose;
pub(crate) use calculation::calculation;
pub(crate) use calculation::run;
pub use calculation::{Answer, Calculation};
pub use document::{MOST_DEPTH, MOST_ITEMS, MOST_TEXT, Strict, document};
pub use object::Object;
pub(crate) use object::{answer, request, words};
pub use read::{Input, one_of};
pub(crate) use read::{in_range, measure, unknown_word, within, word, wrong_type};
pub use remarks::Remarks;
pub use write::{Output, Page};
