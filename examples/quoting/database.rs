//! The database: opened, known by its kind and version, and brought up to date one version after the other.

use crate::failure::Failure;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};
use std::path::Path;
use std::time::Duration;

/// How each version follows from the one before. Those that were released stay as they are.
const VERSIONS: [&str; 2] = [include_str!("schema/1.sql"), include_str!("schema/2.sql")];
/// Marks a database as one of this program: "quot" in ASCII.
const KIND: i32 = 0x7175_6f74;

/// How a database is used.
#[derive(Debug, Clone)]
pub struct Use {
    /// How long to wait for another program to let go of it.
    pub wait: Duration,
    /// Pages that the file may have, unless as many as there is room for.
    pub most_pages: Option<u32>,
}

/// Opens the database to work in it, and makes it or brings it up to date where that is needed.
///
/// # Errors
/// A file of another kind, or of a version that is not known here, is left alone.
pub fn open(path: &Path, how: &Use) -> Result<Connection, Failure> {
    // Of a pipe or a device no more than a beginning could be read, and nothing would be kept.
    if path.exists() && !path.is_file() {
        return Err(Failure::Usage(format!("{} is no file", path.display())));
    }
    let mut database = Connection::open(path)?;
    database.busy_timeout(how.wait)?;
    let version = version(&database)?;
    // With a log beside it, readers see what was committed while the writer writes, and a killed writer leaves nothing half done.
    let kept: String = database.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get(0))?;
    if kept != "wal" {
        return Err(Failure::Other(format!("the database cannot keep a log beside it: {kept}")));
    }
    database.pragma_update(None, "synchronous", "NORMAL")?;
    database.pragma_update(None, "foreign_keys", true)?;
    if let Some(pages) = how.most_pages {
        database.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))?;
    }
    if version < VERSIONS.len() {
        let transaction = database.transaction_with_behavior(TransactionBehavior::Immediate)?;
        // Another program may have done it in the meantime.
        let version = self::version(&transaction)?;
        for step in VERSIONS.iter().skip(version) {
            transaction.execute_batch(step)?;
        }
        transaction.pragma_update(None, "user_version", VERSIONS.len() as i64)?;
        transaction.pragma_update(None, "application_id", KIND)?;
        transaction.commit()?;
        if version > 0 {
            crate::tell(&format!("the database was of version {version}, and is now of version {}", VERSIONS.len()));
        }
    }
    Ok(database)
}

/// Opens the database to look at it only.
///
/// # Errors
/// A file that is not there, or is no database.
pub fn open_to_read(path: &Path, how: &Use) -> Result<Connection, Failure> {
    if !path.is_file() {
        return Err(Failure::Usage(format!("there is no database {}", path.display())));
    }
    let database =
        Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    database.busy_timeout(how.wait)?;
    Ok(database)
}

/// The version of a database of this program; 0 of an empty one.
fn version(database: &Connection) -> Result<usize, Failure> {
    let number = |name: &str| database.pragma_query_value(None, name, |row| row.get::<_, i32>(0));
    let (kind, version) = (number("application_id")?, number("user_version")?);
    let tables: u32 = database.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if tables == 0 && version == 0 {
        return Ok(0);
    }
    let known = VERSIONS.len();
    match usize::try_from(version) {
        Ok(version) if kind == KIND && (1..=known).contains(&version) => Ok(version),
        _ if kind == KIND => Err(Failure::Schema(format!(
            "the database is of version {version}, and this program knows 1 to {known}: it is left as it is. \
             Use the program that made it, or a newer one"
        ))),
        _ => Err(Failure::Schema("the database was made by another program: it is left as it is".to_owned())),
    }
}
