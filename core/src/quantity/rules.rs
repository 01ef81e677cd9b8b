//! The rules of one field: what can exist, what is usual, what stands in when it is not given, and where a form shows it.

use super::decimal::decimal;
use super::unit::{Unit, UnitOf, units};
use crate::source::Source;

/// Which fields of a record a form shows first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rank {
    /// At once.
    First,
    /// When more is asked for.
    More,
    /// For those who know that they want it.
    Rare,
}

impl Rank {
    /// The rank in documents.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::More => "more",
            Self::Rare => "rare",
        }
    }
}

/// Two ends of a range, in the rules' unit and in SI base units.
#[derive(Debug, Clone, Copy)]
pub struct Ends {
    /// Least and most in the unit of the rules.
    pub shown: (f64, f64),
    /// The same in SI base units.
    pub si: (f64, f64),
}

impl Ends {
    const fn new(unit: &Unit, least: f64, most: f64) -> Self {
        Self { shown: (least, most), si: (unit.to_si(least), unit.to_si(most)) }
    }

    /// Whether a number in SI base units lies within, the ends included; NaN does not.
    #[must_use]
    pub const fn holds(&self, si: f64) -> bool {
        self.si.0 <= si && si <= self.si.1
    }
}

/// Physical range (outside is an error), plausible range (outside is a caution), default and its source, and where a form
/// shows the field. Numbers are in `unit`, which also words the messages.
#[derive(Debug, Clone, Copy)]
pub struct Rules {
    /// The unit of the numbers below.
    pub unit: Unit,
    /// What can exist.
    pub range: Ends,
    /// What is usual.
    pub usual: Option<Ends>,
    /// What stands in for an absent value, and where it comes from.
    pub default: Option<(f64, Source)>,
    /// What stands in for an absent value, where it is worked out from others.
    pub computed: Option<&'static str>,
    /// How early a form shows the field; optional fields come later unless said otherwise.
    pub rank: Option<Rank>,
    /// Fields that a form shows together.
    pub group: Option<&'static str>,
}

impl Rules {
    /// No rule but that a number is finite: for fields whose type says it all.
    pub const NONE: Self = Self::range(units::ONE, f64::MIN, f64::MAX);

    /// Values from `least` to `most`, both included, in `unit`.
    #[must_use]
    pub const fn range<Q>(unit: UnitOf<Q>, least: f64, most: f64) -> Self {
        let unit = unit.unit();
        let range = Ends::new(&unit, least, most);
        Self { unit, range, usual: None, default: None, computed: None, rank: None, group: None }
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
        self.usual = Some(Ends::new(&self.unit, least, most));
        self
    }

    /// With a value that stands in when none is given.
    #[must_use]
    pub const fn or(mut self, value: f64, source: Source) -> Self {
        self.default = Some((value, source));
        self
    }

    /// With what stands in when none is given, in words, where it is worked out from other values.
    #[must_use]
    pub const fn unless_given(mut self, what: &'static str) -> Self {
        self.computed = Some(what);
        self
    }

    /// With its rank on a form.
    #[must_use]
    pub const fn rank(mut self, rank: Rank) -> Self {
        self.rank = Some(rank);
        self
    }

    /// With the group that a form shows it in.
    #[must_use]
    pub const fn group(mut self, group: &'static str) -> Self {
        self.group = Some(group);
        self
    }

    /// Whether any number is refused by the range.
    #[must_use]
    pub const fn limits(&self) -> bool {
        self.range.shown.0 > f64::MIN
    }

    /// The physical range in words: `1 um to 5000 um`.
    #[must_use]
    pub fn range_text(&self) -> String {
        self.span_text(&self.range)
    }

    /// The plausible range in words.
    #[must_use]
    pub fn usual_text(&self) -> Option<String> {
        self.usual.as_ref().map(|ends| self.span_text(ends))
    }

    fn span_text(&self, ends: &Ends) -> String {
        let (least, most) = (decimal(ends.shown.0), decimal(ends.shown.1));
        match self.unit.name {
            "1" => format!("{least} to {most}"),
            unit => format!("{least} {unit} to {most} {unit}"),
        }
    }
}
