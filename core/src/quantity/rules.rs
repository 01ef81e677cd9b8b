//! The rules of one field: what can exist, what is usual, what stands in when it is not given.

use super::unit::{Unit, units};
use crate::source::Source;

/// Physical range (outside is an error), plausible range (outside is a caution), default and its source. All numbers
/// are in `unit`, which also words the messages.
#[derive(Debug, Clone, Copy)]
pub struct Rules {
    /// The unit of the numbers below.
    pub unit: Unit,
    /// Least value that can exist.
    pub least: f64,
    /// Most that can exist.
    pub most: f64,
    /// Least and most of what is usual.
    pub usual: Option<(f64, f64)>,
    /// What stands in for an absent value, and where it comes from.
    pub default: Option<(f64, Source)>,
}

impl Rules {
    /// No rule: for fields whose type says it all.
    pub const NONE: Self = Self { unit: units::ONE, least: f64::MIN, most: f64::MAX, usual: None, default: None };

    /// Values from `least` to `most`, both included, in `unit`.
    #[must_use]
    pub const fn range(unit: Unit, least: f64, most: f64) -> Self {
        Self { unit, least, most, usual: None, default: None }
    }

    /// A share from none to all.
    pub const FRACTION: Self = Self::range(units::ONE, 0.0, 1.0);

    /// A whole number of things, `least` to ten million.
    #[must_use]
    pub const fn count(least: f64) -> Self {
        Self::range(units::ONE, least, 1e7)
    }

    /// With a plausible range: values outside it are answered, with a caution.
    #[must_use]
    pub const fn usual(mut self, least: f64, most: f64) -> Self {
        self.usual = Some((least, most));
        self
    }

    /// With a value that stands in when none is given.
    #[must_use]
    pub const fn or(mut self, value: f64, source: Source) -> Self {
        self.default = Some((value, source));
        self
    }

    /// The physical range in words: `1 um to 5000 um`.
    #[must_use]
    pub fn range_text(&self) -> String {
        self.span_text(self.least, self.most)
    }

    /// The plausible range in words.
    #[must_use]
    pub fn usual_text(&self) -> Option<String> {
        self.usual.map(|(least, most)| self.span_text(least, most))
    }

    fn span_text(&self, least: f64, most: f64) -> String {
        match self.unit.name {
            "1" => format!("{least} to {most}"),
            unit => format!("{least} {unit} to {most} {unit}"),
        }
    }
}
