//! Why the program stops, in words, and the exit code that a script can tell it by.

use rusqlite::ErrorCode;
use std::process::ExitCode;

/// Why the program stops.
#[derive(Debug)]
pub enum Failure {
    /// What it was asked to do makes no sense.
    Usage(String),
    /// Another program holds the database.
    Locked,
    /// There is no room left for the database.
    Full,
    /// The database is of another kind or version, or damaged.
    Schema(String),
    /// Anything else.
    Other(String),
}

impl Failure {
    /// In words.
    pub fn text(&self) -> String {
        match self {
            Self::Usage(message) | Self::Schema(message) | Self::Other(message) => message.clone(),
            Self::Locked => "the database is locked by another program, and stayed so while this one waited (--wait). \
                             Quotes written before stay; start again to finish the rest"
                .to_owned(),
            Self::Full => {
                "there is no room left for the database: the disk is full, or it has as many pages as it may \
                           (--most-pages). Quotes written before stay; make room and start again to finish the rest"
                    .to_owned()
            }
        }
    }

    /// The program's exit code.
    pub fn exit_code(&self) -> ExitCode {
        ExitCode::from(match self {
            Self::Other(_) => 1,
            Self::Usage(_) => 2,
            Self::Locked => 3,
            Self::Full => 4,
            Self::Schema(_) => 5,
        })
    }
}

impl From<rusqlite::Error> for Failure {
    fn from(error: rusqlite::Error) -> Self {
        // No room for what stands beside the database, which SQLite tells as a fault of the disk.
        if error.sqlite_extended_error_code() == Some(rusqlite::ffi::SQLITE_IOERR_SHMSIZE) {
            return Self::Full;
        }
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Locked,
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::SystemIoFailure) => Self::Other(format!(
                "the database cannot be read or written: {error}. Quotes written before stay; start again to finish the rest"
            )),
            Some(ErrorCode::DatabaseCorrupt) => {
                Self::Schema(format!("the database is damaged: {error}. Put back a copy of it from before"))
            }
            Some(ErrorCode::NotADatabase) => Self::Schema("this file is no SQLite database".to_owned()),
            _ => Self::Other(format!("the database: {error}")),
        }
    }
}

impl From<floodbar::Error> for Failure {
    fn from(error: floodbar::Error) -> Self {
        Self::Other(error.to_string())
    }
}
