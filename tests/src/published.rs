//! The published tables.

use std::collections::BTreeMap;

/// A row of a table: text by the name of its column.
pub type Row = BTreeMap<String, String>;

/// The rows of `published/NAME.csv`.
///
/// # Panics
/// Where the file is absent, empty or not of the form that its head says.
#[must_use]
pub fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/published/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("a published table");
    let rows: Vec<Row> = reader.deserialize().collect::<Result<_, _>>().expect("rows of the head's columns");
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// A number of a row.
///
/// # Panics
/// Where there is none.
#[must_use]
pub fn number(row: &Row, column: &str) -> f64 {
    given(row, column).unwrap_or_else(|| panic!("no {column}: {row:?}"))
}

/// A number of a row, or none where the row leaves it empty.
///
/// # Panics
/// Where something else stands there.
#[must_use]
pub fn given(row: &Row, column: &str) -> Option<f64> {
    let text = &row[column];
    (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text}")))
}
