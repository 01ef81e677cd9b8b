//! Notes: what an answer wants its reader to know beside the numbers.

use serde::{Serialize, Serializer};

/// How much a note matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Worth knowing.
    Info,
    /// Act on it or know why not.
    Caution,
    /// The print as asked for cannot work, or it breaks something.
    Limit,
}

impl Level {
    /// The level on the wire.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Info => "info",
            Self::Caution => "caution",
            Self::Limit => "limit",
        }
    }
}

/// One note of an answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Note {
    /// How much it matters.
    pub level: Level,
    /// A stable name for programs.
    pub code: &'static str,
    /// JSON pointer to the field it is about; empty for the whole.
    pub field: String,
    /// The note, for a person.
    pub message: String,
}

impl Serialize for Level {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.text())
    }
}
