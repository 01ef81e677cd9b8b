//! The stock as its files and the library have it.

use floodbar::source::Source;
use floodbar::wire::{Declared, Shelf};

/// The shelf of a kind of thing.
///
/// # Panics
/// Where the kind is not kept in stock.
#[must_use]
pub fn shelf<T: Declared>() -> &'static Shelf {
    (T::TABLE.stock.expect("kept in stock").shelf)()
}

/// Where a stock value came from.
///
/// # Panics
/// Where there is no such value.
#[must_use]
pub fn source<T: Declared>(name: &str, field: &str) -> Source {
    let field = T::TABLE.find(field).expect("a field");
    shelf::<T>().row(name).expect("a row").source(field).expect("a source")
}
