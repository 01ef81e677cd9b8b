//! What the examples share: wording quantities for a person, and reading the picture file of a separation.

pub mod picture;

use core::fmt;
use floodbar::quantity::{Dimensioned, Length, Mass, Show, System, Temperature, Velocity, units};

/// Words quantities for a person, in a system of units.
///
/// ```
/// use floodbar::quantity::{System, units::{DEG_C, OZ, S, UM}};
/// use floodbar_examples::Say;
/// let say = Say(System::Metric);
/// assert_eq!(say.film(UM.of(16.1243)).to_string(), "16 um");
/// assert_eq!(say.usual(S.of(134.19)).to_string(), "134 s");
/// let us = Say(System::Us);
/// assert_eq!(us.usual(OZ.of(0.0955)).to_string(), "0.0955 oz");
/// assert_eq!(us.mass(OZ.of(0.0955)).to_string(), "2.71 g");
/// assert_eq!(us.gap(UM.of(2500.0)).to_string(), "3/32 in");
/// assert_eq!(us.blade(UM.of(350_000.0)).to_string(), "13\u{a0}3/4 in");
/// assert_eq!(us.setting(DEG_C.of(550.0)).to_string(), "1020 °F");
/// assert_eq!((us.least(DEG_C.of(160.0)).to_string(), us.most(DEG_C.of(195.0)).to_string()), ("320 °F".into(), "380 °F".into()));
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

    /// A gap under a screen: in US units to a 32nd of an inch.
    #[must_use]
    pub fn gap(self, length: Length) -> Said {
        self.inches(length, 32.0)
    }

    /// A blade, or a height over a print: in US units to a quarter of an inch.
    #[must_use]
    pub fn blade(self, length: Length) -> Said {
        self.inches(length, 4.0)
    }

    /// A length as a rule shows it: in US units in so many parts of an inch, as long as that leaves something.
    fn inches(self, length: Length, parts: f64) -> Said {
        let said = self.print(length);
        let count = (units::IN.value(length) * parts).round();
        if self.0 == System::Metric || count < 1.0 {
            return said;
        }
        let (whole, mut over, mut of) = ((count / parts).floor(), count.rem_euclid(parts), parts);
        while over > 0.0 && over.rem_euclid(2.0) == 0.0 {
            (over, of) = (over / 2.0, of / 2.0);
        }
        let fraction = if over > 0.0 { format!("{over}/{of}") } else { String::new() };
        let whole = if whole > 0.0 { whole.to_string() } else { String::new() };
        // A space that no line breaks at.
        Said { number: format!("{whole}\u{a0}{fraction}").trim().to_owned(), ..said }
    }

    /// A mass of ink: in US units in grams where ounces are tiny.
    #[must_use]
    pub fn mass(self, mass: Mass) -> Said {
        if self.0 == System::Us && units::OZ.value(mass) < 2.0 {
            Self(System::Metric).usual(mass)
        } else {
            self.usual(mass)
        }
    }

    /// A temperature that a dial is set to, or a probe is expected to show: to a degree, in US units to five.
    #[must_use]
    pub fn setting(self, temperature: Temperature) -> Said {
        self.dial(temperature, f64::round)
    }

    /// A temperature that must be reached: rounded up.
    #[must_use]
    pub fn least(self, temperature: Temperature) -> Said {
        self.dial(temperature, f64::ceil)
    }

    /// A temperature that must not be passed: rounded down.
    #[must_use]
    pub fn most(self, temperature: Temperature) -> Said {
        self.dial(temperature, f64::floor)
    }

    fn dial(self, temperature: Temperature, round: fn(f64) -> f64) -> Said {
        let (unit, name, step) = match self.0 {
            System::Metric => (units::DEG_C, "°C", 1.0),
            System::Us => (units::DEG_F, "°F", 5.0),
        };
        // What a conversion leaves behind is no reason to go a step further.
        let shown = unit.value(temperature) / step;
        let near = shown.round();
        let steps = if (shown - near).abs() < 1e-6 { near } else { round(shown) };
        Said { number: (step * steps).to_string(), unit: name.to_owned() }
    }

    /// The speed of a belt: to a tenth of a foot a minute in US units.
    #[must_use]
    pub fn belt(self, speed: Velocity) -> Said {
        let said = self.usual(speed);
        if self.0 == System::Metric {
            return said;
        }
        Said { number: round(units::FT_PER_MIN.value(speed), 3, 1), ..said }
    }

    /// A length of a machine.
    #[must_use]
    pub fn machine(self, length: Length) -> Said {
        self.shown(length, Show::Machine)
    }

    /// The speed of a stroke.
    #[must_use]
    pub fn stroke(self, speed: Velocity) -> Said {
        let said = self.shown(speed, Show::Stroke);
        if self.0 == System::Metric {
            return said;
        }
        Said { number: units::IN_PER_S.value(speed).round().to_string(), ..said }
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

/// A half-width: its first two digits are all that is known of it.
#[must_use]
pub fn half_width(number: f64) -> String {
    round(number, 2, 4)
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
