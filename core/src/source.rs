//! Sources: where a built-in number or a formula comes from, and how far to trust it.

use core::fmt;
use serde::ser::{Serialize, SerializeStruct, Serializer};

/// How a number is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SourceKind {
    /// Text of a standard or a regulator.
    Standard,
    /// Academic work, textbook or handbook.
    Published,
    /// Arithmetic or a law of physics.
    Physics,
    /// What shops and their suppliers do; no single source.
    CommonPractice,
    /// Remembered, not seen in print: replace it by a measurement.
    Memory,
    /// Given by the user in place of a built-in number.
    User,
}

impl SourceKind {
    /// Every kind.
    pub const ALL: [Self; 6] =
        [Self::Standard, Self::Published, Self::Physics, Self::CommonPractice, Self::Memory, Self::User];

    /// The kind on the wire.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Published => "published",
            Self::Physics => "physics",
            Self::CommonPractice => "common_practice",
            Self::Memory => "memory",
            Self::User => "user",
        }
    }

    /// The kind that is written `text` on the wire.
    #[must_use]
    pub fn find(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.text() == text)
    }
}

/// A source: its kind and its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    /// How the number is known.
    pub kind: SourceKind,
    /// The publication, or what is known of the origin.
    pub text: &'static str,
}

impl Source {
    /// A source of the given kind.
    #[must_use]
    pub const fn new(kind: SourceKind, text: &'static str) -> Self {
        Self { kind, text }
    }

    /// A fact of the trade without a single source.
    #[must_use]
    pub const fn common(text: &'static str) -> Self {
        Self::new(SourceKind::CommonPractice, text)
    }

    /// A value from memory.
    #[must_use]
    pub const fn memory(text: &'static str) -> Self {
        Self::new(SourceKind::Memory, text)
    }

    /// Arithmetic or physics.
    #[must_use]
    pub const fn physics(text: &'static str) -> Self {
        Self::new(SourceKind::Physics, text)
    }

    /// A published work.
    #[must_use]
    pub const fn published(text: &'static str) -> Self {
        Self::new(SourceKind::Published, text)
    }

    /// A standard or regulation.
    #[must_use]
    pub const fn standard(text: &'static str) -> Self {
        Self::new(SourceKind::Standard, text)
    }
}

/// A built-in number, by name: a field of the request that took its default, or `stock-name.field`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Of(Name);

#[derive(Debug, Clone, Eq)]
enum Name {
    Fixed(&'static str),
    OfRow(&'static str, &'static str),
    Worded(String),
}

impl PartialEq for Name {
    /// The field first: numbers of one row differ there.
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::OfRow(row, field), Self::OfRow(other_row, other_field)) => field == other_field && row == other_row,
            (Self::Fixed(name), Self::Fixed(other)) => name == other,
            (Self::Worded(name), Self::Worded(other)) => name == other,
            _ => false,
        }
    }
}

impl From<&'static str> for Of {
    fn from(name: &'static str) -> Self {
        Self(Name::Fixed(name))
    }
}

impl From<(&'static str, &'static str)> for Of {
    /// A stock row and a field of it.
    fn from((row, field): (&'static str, &'static str)) -> Self {
        Self(Name::OfRow(row, field))
    }
}

impl<F: FnOnce() -> String> From<F> for Of {
    /// A name that is put together when it is wanted.
    fn from(name: F) -> Self {
        Self(Name::Worded(name()))
    }
}

impl fmt::Display for Of {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Name::Fixed(name) => f.write_str(name),
            Name::OfRow(row, field) => write!(f, "{row}.{field}"),
            Name::Worded(name) => f.write_str(name),
        }
    }
}

/// Where one built-in number of an answer came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Basis {
    /// The number.
    pub of: Of,
    /// Its source.
    pub source: Source,
}

impl Serialize for Basis {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut members = to.serialize_struct("Basis", 3)?;
        members.serialize_field("for", &format_args!("{}", self.of))?;
        members.serialize_field("kind", self.source.kind.text())?;
        members.serialize_field("source", self.source.text)?;
        members.end()
    }
}
