//! Notes: what an answer wants its reader to know beside the numbers.

use serde_json::{Value, json};

/// How much a note matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Worth knowing.
    Info,
    /// Act on it or know why not.
    Caution,
    /// A limit was met: the answer stops there.
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
#[derive(Debug, Clone, PartialEq, Eq)]
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

impl Note {
    /// As on the wire.
    #[must_use]
    pub fn to_json(&self) -> Value {
        json!({ "level": self.level.text(), "code": self.code, "field": self.field, "message": self.message })
    }
}
