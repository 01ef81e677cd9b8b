//! A query of one's own, with Floodbar's functions in it, printed as a table.

use crate::failure::Failure;
use crate::show::table_of;
use rusqlite::Connection;
use rusqlite::types::ValueRef;

/// Runs one statement that only reads.
///
/// # Errors
/// A statement that writes, more than one, and what SQLite or the library refuses.
pub fn text(database: &Connection, sql: &str) -> Result<String, Failure> {
    // A statement that could write is refused by SQLite itself, whatever its text looks like.
    database.pragma_update(None, "query_only", true)?;
    let refused = |error: rusqlite::Error| match Failure::from(error) {
        Failure::Other(message) => Failure::Usage(message.replacen("the database", "--query", 1)),
        other => other,
    };
    let mut statement = database.prepare(sql).map_err(refused)?;
    if !statement.readonly() {
        return Err(Failure::Usage("--query: this would write; it may only read".to_owned()));
    }
    let head: Vec<String> = statement.column_names().into_iter().map(str::to_owned).collect();
    let mut rows = statement.query([]).map_err(refused)?;
    let mut cells: Vec<Vec<String>> = Vec::new();
    while let Some(row) = rows.next().map_err(refused)? {
        let cell = |index: usize| {
            Ok::<_, rusqlite::Error>(match row.get_ref(index)? {
                ValueRef::Null => "-".to_owned(),
                ValueRef::Integer(number) => number.to_string(),
                ValueRef::Real(number) => number.to_string(),
                ValueRef::Text(bytes) => String::from_utf8_lossy(bytes).into_owned(),
                ValueRef::Blob(bytes) => format!("{} bytes", bytes.len()),
            })
        };
        cells.push((0..head.len()).map(cell).collect::<Result<_, _>>()?);
    }
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    Ok(table_of(&head, cells))
}
