//! What the examples share: wording quantities for a person, and reading the picture file of a separation.

pub mod picture;

use core::fmt;
use floodbar::quantity::{Dimensioned, Length, Show, System, Velocity};

/// Words quantities for a person, in a system of units.
///
/// ```
/// use floodbar::quantity::{System, units::{OZ, S, UM}};
/// use floodbar_examples::Say;
/// let say = Say(System::Metric);
/// assert_eq!(say.film(UM.of(16.1243)).to_string(), "16 um");
/// assert_eq!(say.usual(S.of(134.19)).to_string(), "134 s");
/// assert_eq!(Say(System::Us).usual(OZ.of(0.0955)).to_string(), "0.0955 oz");
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Say(pub System);

/// A quantity in words, rounded to what can be set or read.
#[derive(Debug, Clone)]
pub struct Said {
    /// Its number alone, for a range whose end names the unit.
    pub number: String,
    /// Its unit.
    pub unit: String,
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number, self.unit)
    }
}

impl Say {
    /// A film, a thread, an opening.
    #[must_use]
    pub fn film(self, length: Length) -> Said {
        self.shown(length, Show::Film)
    }

    /// A size of a print, a screen, a blade.
    #[must_use]
    pub fn print(self, length: Length) -> Said {
        self.shown(length, Show::Print)
    }

    /// A length of a machine.
    #[must_use]
    pub fn machine(self, length: Length) -> Said {
        self.shown(length, Show::Machine)
    }

    /// The speed of a stroke.
    #[must_use]
    pub fn stroke(self, speed: Velocity) -> Said {
        self.shown(speed, Show::Stroke)
    }

    /// What every answer shows in the same unit.
    #[must_use]
    pub fn usual<Q: Dimensioned>(self, quantity: Q) -> Said {
        self.shown(quantity, Show::Usual)
    }

    /// Two sizes of a print, so closely that they are told apart where they differ.
    ///
    /// ```
    /// use floodbar::quantity::{System, units::MM};
    /// use floodbar_examples::Say;
    /// let [one, other] = Say(System::Us).apart(MM.of(0.5), MM.of(0.517));
    /// assert_eq!((one.number, other.number), ("0.0197".into(), "0.0204".into()));
    /// ```
    #[must_use]
    pub fn apart(self, one: Length, other: Length) -> [Said; 2] {
        let both = |closer| [one, other].map(|length| self.closer(length, Show::Print, closer));
        (0..6).map(both).find(|[one, other]| one.number != other.number).unwrap_or_else(|| both(0))
    }

    fn shown<Q: Dimensioned>(self, quantity: Q, show: Show) -> Said {
        self.closer(quantity, show, 0)
    }

    fn closer<Q: Dimensioned>(self, quantity: Q, show: Show, closer: i32) -> Said {
        let unit = show.unit(Q::DIMENSION, quantity.si(), self.0);
        let (digits, most_decimals): (i32, i32) = match unit.name {
            "um" => (2, 3), // a film is known to two digits at best
            "in" => (3, 3), // a thousandth of an inch is finer than anyone sets
            _ => (3, 5),
        };
        Said {
            number: round(
                unit.from_si(quantity.si()),
                digits.saturating_add(closer),
                most_decimals.saturating_add(closer),
            ),
            unit: unit.name.replace("degC", "°C").replace("degF", "°F"),
        }
    }
}

/// A number without a unit, in words.
#[must_use]
pub fn number(number: f64) -> String {
    round(number, 3, 3)
}

/// Rounds to so many significant digits and decimals, but never away the digits before the point.
fn round(number: f64, digits: i32, most_decimals: i32) -> String {
    let number = number + 0.0; // a negative zero is a zero
    let exponent = format!("{number:e}").split_once('e').and_then(|(_, e)| e.parse().ok()).unwrap_or(0);
    let decimals =
        usize::try_from(digits.saturating_sub(1).saturating_sub(exponent).clamp(0, most_decimals)).unwrap_or(0);
    let text = format!("{number:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
