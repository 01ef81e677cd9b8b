//! All that is built in, with the source of every value.

use super::KINDS;
use crate::error::{Code, Error};
use crate::quantity::Rules;
use crate::source::Source;
use crate::wire::{Field, Form, Kind, OwnKind, Record, Remarks, Row, Table, View, answer, calculation, request, words};
use serde_json::Value;

words! {
    /// A kind of thing in stock.
    pub enum StockKind ("kind of stock") {
        /// Inks.
        Ink = "ink",
        /// What is printed on.
        Cloth = "cloth",
        /// Presses.
        Press = "press",
        /// Flashes.
        Flash = "flash",
        /// Platens.
        Platen = "platen",
        /// Dryers.
        Dryer = "dryer",
        /// Shops.
        Shop = "shop",
        /// Causes of misregister.
        Cause = "cause",
        /// Meshes.
        Mesh = "mesh",
        /// What things cost a shop.
        Rates = "rates",
    }
}

request! {
    /// What of the stock is wanted.
    pub struct ListRequest {
        /// One kind only.
        kind "Kind of stock": Option<StockKind> where Rules::NONE.unless_given("all kinds"),
    }
}

answer! {
    /// Where a value came from.
    pub struct StockBasis {
        /// The field of the row.
        field "Field": String,
        /// The kind of source.
        kind "Kind of source": String,
        /// The source.
        source "Source": String,
    }
}

answer! {
    /// A built-in thing.
    pub struct StockRow {
        /// Its name in requests.
        name "Name": String,
        /// Its name on a form.
        label "Label": String,
        /// Its values, as an answer writes them.
        values "Values": StockValues,
        /// Where each value came from.
        basis "Sources": Vec<StockBasis>,
    }
}

answer! {
    /// All things of a kind.
    pub struct StockShelf {
        /// The kind.
        kind "Kind of stock": String,
        /// The things.
        rows "Stock rows": Vec<StockRow>,
    }
}

answer! {
    /// What is built in.
    pub struct StockList {
        /// The kinds, in the order in which a print meets them.
        kinds "Kinds of stock": Vec<StockShelf>,
    }
}

/// The values of a row: whatever record its kind is.
#[derive(Clone, Copy)]
pub struct StockValues(Option<&'static Row>);

impl StockValues {
    /// The record.
    #[must_use]
    pub fn record(&self) -> Option<&'static dyn Record> {
        self.0.map(Row::record)
    }
}

impl core::fmt::Debug for StockValues {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_tuple("StockValues").field(&self.0.map(Row::name)).finish()
    }
}

impl PartialEq for StockValues {
    /// Alike where they are of the same row.
    fn eq(&self, other: &Self) -> bool {
        self.0.map(core::ptr::from_ref) == other.0.map(core::ptr::from_ref)
    }
}

impl Field for StockValues {
    const KIND: Kind = Kind::Own(&OwnKind { wanted: "the values of a stock row", forms: &[Form::Anything] });
    fn blank() -> Self {
        Self(None)
    }
    fn view(&self) -> View<'_> {
        self.record().map_or(View::Absent, View::Record)
    }
}

calculation! {
    /// A row is taken by its name wherever a request asks for a thing of its kind, whole or with changes.
    pub const LIST: ListRequest => StockList = list;
    id: "stock.list",
    title: "What is built in",
    question: "What is built in, and where do its numbers come from?",
    asked: ["Which inks do you know?", "Where does this number come from?"],
    headline: ["kinds"],
    formula: "none: the rows as they stand, each value with its source",
    sources: &[Source::common("each value names its own")],
    example: r#"{"kind": "platen"}"#,
}

/// Lists the stock.
///
/// # Errors
/// `impossible` for a kind that a build without the feature `whole` lacks.
fn list(request: &ListRequest, _remarks: &mut Remarks) -> Result<StockList, Error> {
    let wanted = KINDS
        .iter()
        .filter(|table| table.stock.is_some_and(|stock| request.kind.is_none_or(|kind| kind.text() == stock.what)));
    let kinds: Vec<StockShelf> = wanted.map(|table| shelf(table)).collect();
    match request.kind {
        Some(kind) if kinds.is_empty() => Err(Error::new(
            Code::Impossible,
            "/kind",
            "this build cannot plan or price an order, and has none of these",
        )
        .got(&Value::from(kind.text()))),
        _ => Ok(StockList { kinds }),
    }
}

fn shelf(table: &'static Table) -> StockShelf {
    let (kind, rows) = table.stock.map_or(("", None), |stock| (stock.what, Some((stock.shelf)().rows())));
    StockShelf { kind: kind.to_owned(), rows: rows.into_iter().flatten().map(|row| stock_row(table, row)).collect() }
}

fn stock_row(table: &'static Table, row: &'static Row) -> StockRow {
    let basis = |(index, field): (usize, &str)| {
        let source = row.source(index)?;
        let kind = source.kind.text().to_owned();
        Some(StockBasis { field: field.to_owned(), kind, source: source.text.to_owned() })
    };
    StockRow {
        name: row.name().to_owned(),
        label: label(row.name()),
        values: StockValues(Some(row)),
        basis: table.names().enumerate().filter_map(basis).collect(),
    }
}

/// `plastisol-white` on a form: `Plastisol white`.
fn label(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters.map(|letter| if letter == '-' { ' ' } else { letter })).collect()
}
