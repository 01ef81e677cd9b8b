//! What a request says of money: amounts and rates, each with the units that its field takes.

use super::written::{Written, of_members, of_text};
use super::{Currency, Money};
use crate::error::Error;
use crate::quantity::{Dimension, Fault, Rules, Unit, units};
use crate::wire::{
    At, Field, Form, Kind, MoneyForm, OwnForm, OwnKind, Priced, Remarks, Slot, View, check_number, missing, unknown,
    wrong_type,
};
use core::fmt;
use core::marker::PhantomData;
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;

/// Money of a request: none is negative.
const MONEY: Rules = Rules::range(units::ONE, 0.0, super::MOST as f64);

/// What a rate is per: a mark of its type.
pub trait Per: fmt::Debug + Clone + Copy + PartialEq + Send + Sync + 'static {
    /// The units that it may be per.
    const FORM: MoneyForm;
}

macro_rules! pers {
    ($($(#[doc = $doc:literal])* $mark:ident $rate:ident $wanted:literal: $($per:expr),+;)*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $mark;
        impl Per for $mark {
            const FORM: MoneyForm = MoneyForm { per: &[$($per),+], wanted: $wanted };
        }
        $(#[doc = $doc])*
        pub type $rate = Rate<$mark>;
    )* };
}

pers! {
    /// An amount: `12.50 EUR`.
    Once Price "an amount of money, such as 12.50 EUR": None;
    /// Money per time: `28 EUR/h`.
    ByTime TimeRate "money per time, such as 28 EUR/h": Some(Dimension::Time);
    /// Money per mass or volume: `14 EUR/kg`, `12 EUR/l`.
    ByAmount InkRate "money per mass or volume, such as 14 EUR/kg": Some(Dimension::Mass), Some(Dimension::Volume);
    /// Money for each, or per area: `3 EUR`, `20 EUR/m2`.
    ByArea SheetRate "money for each or per area, such as 3 EUR or 20 EUR/m2": None, Some(Dimension::Area);
    /// Money per energy: `0.30 EUR/kWh`.
    ByEnergy EnergyRate "money per energy, such as 0.30 EUR/kWh": Some(Dimension::Energy);
    /// Money by itself, or per unit of what a quote reckons with.
    ByAny AnyRate "money, by itself or per unit, such as 28 EUR/h":
        None, Some(Dimension::Time), Some(Dimension::Mass), Some(Dimension::Volume), Some(Dimension::Area), Some(Dimension::Energy);
}

/// Money, by itself or per unit of something.
///
/// ```
/// use floodbar::money::{Currency, TimeRate};
/// let labour: TimeRate = "28 EUR/h".parse()?;
/// assert_eq!((labour.to_string(), labour.currency()), ("28 EUR/h".to_owned(), Currency::find("EUR")));
/// # Ok::<(), floodbar::Error>(())
/// ```
/// ```compile_fail
/// use floodbar::money::{InkRate, TimeRate};
/// fn nonsense(ink: InkRate) -> TimeRate { ink }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate<P> {
    value: Decimal,
    /// The same in binary, which doubts and operators move.
    number: f64,
    currency: Option<Currency>,
    per: Option<&'static Unit>,
    of: PhantomData<P>,
}

impl<P: Per> Rate<P> {
    fn of_written(written: &Written) -> Self {
        let Written { value, currency, per, .. } = *written;
        Self { value, number: value.to_f64().unwrap_or(f64::NAN), currency, per, of: PhantomData }
    }

    /// Its number, exact: as it was written, or the shortest decimal of what an operator set.
    #[must_use]
    pub fn value(&self) -> Decimal {
        let moved = self.value.to_f64().is_none_or(|written| (written - self.number).abs() > 0.0);
        if !moved {
            return self.value;
        }
        shortest(self.number).map_or(self.value, |value| value.round_dp(super::MOST_DECIMALS).normalize())
    }

    /// The same in binary.
    #[must_use]
    pub const fn number(&self) -> f64 {
        self.number
    }

    /// Its currency; none of a starter rate, which is in that of the request.
    #[must_use]
    pub const fn currency(&self) -> Option<Currency> {
        self.currency
    }

    /// The unit that it is for; none of an amount.
    #[must_use]
    pub const fn per(&self) -> Option<&'static Unit> {
        self.per
    }

    /// It as a rate of any kind.
    #[must_use]
    pub const fn any(&self) -> AnyRate {
        Rate { value: self.value, number: self.number, currency: self.currency, per: self.per, of: PhantomData }
    }

    /// In this currency, where it names none.
    #[must_use]
    pub fn or_in(mut self, currency: Currency) -> Self {
        self.currency = self.currency.or(Some(currency));
        self
    }

    /// What so many of its units cost in this currency: the count is rounded to 6 decimals first, the amount once to the minor unit. The
    /// count as it was rounded, and the amount; none for what is no number or too much.
    #[must_use]
    pub fn times(&self, count: f64, currency: Currency) -> Option<(Decimal, Money)> {
        let exact = Decimal::from_f64_retain(count)?;
        let count = exact.round_dp_with_strategy(6, RoundingStrategy::MidpointAwayFromZero).normalize();
        Some((count, Money::new(self.value(), currency)?.times(count)?))
    }
}

/// The shortest decimal of a number, to as many places as a decimal has.
pub(super) fn shortest(number: f64) -> Option<Decimal> {
    number.to_string().parse().ok().map(|exact: Decimal| exact.normalize())
}

impl<P: Per> core::str::FromStr for Rate<P> {
    type Err = Error;

    /// Reads it as the wire does.
    fn from_str(text: &str) -> Result<Self, Error> {
        let written = of_text(text, &P::FORM, false);
        written.map(|written| Self::of_written(&written)).map_err(|fault| placed(fault, At::ROOT, &Value::from(text)))
    }
}

fn placed(fault: Fault, at: At<'_>, got: &Value) -> Error {
    Error::new(fault.code, at, fault.message).got(got).allowed(fault.allowed)
}

impl<P: Per> fmt::Display for Rate<P> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Priced::value(self), Priced::unit(self))
    }
}

impl<P: Per> Priced for Rate<P> {
    fn value(&self) -> String {
        let mut value = Self::value(self);
        // An amount has all digits of the minor unit.
        if let (None, Some(currency)) = (self.per, self.currency)
            && value.scale() < currency.minor_units()
        {
            value.rescale(currency.minor_units());
        }
        value.to_string()
    }
    fn unit(&self) -> String {
        let code = self.currency.map_or("", Currency::code);
        self.per.map_or_else(|| code.to_owned(), |per| format!("{code}/{}", per.name))
    }
    fn currency(&self) -> Option<&'static str> {
        self.currency.map(Currency::code)
    }
    fn unrounded(&self) -> f64 {
        self.number
    }
}

impl<P: Per> Field for Rate<P> {
    const KIND: Kind = Kind::Own(&OwnKind { wanted: P::FORM.wanted, forms: &[Form::Money(&P::FORM)] });
    fn blank() -> Self {
        Self { value: Decimal::ZERO, number: 0.0, currency: None, per: None, of: PhantomData }
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl<P: Per> OwnForm for Rate<P> {
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        let written = written(value, at, &P::FORM, remarks.is_of_stock())?;
        *self = Self::of_written(&written);
        self.check(at, &MONEY, remarks)?;
        if let Some(half_width) = written.half_width {
            remarks.doubted(at, value, half_width);
        }
        Ok(())
    }
    fn check(&self, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        check_number(self.number, at, &MONEY, remarks, || Value::from(self.to_string()))
    }
    fn shown(&self) -> View<'_> {
        View::Money(self)
    }
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        Some((Slot::Number(Dimension::Fraction, &mut self.number), &MONEY))
    }
}

/// Reads money from text, or from its members.
fn written(value: &Value, at: At<'_>, form: &MoneyForm, bare: bool) -> Result<Written, Error> {
    const PARTS: [&str; 3] = ["value", "unit", "plus_minus"];
    match value {
        Value::String(text) => of_text(text, form, bare).map_err(|fault| placed(fault, at, value)),
        Value::Object(members) => {
            if let Some((name, member)) = members.iter().find(|(name, _)| !PARTS.contains(&name.as_str())) {
                return Err(unknown(name, member, at, PARTS.into_iter()));
            }
            // A number counts by its shortest decimal.
            let part = |name: &'static str| match members.get(name) {
                None | Some(Value::Null) => Ok(None),
                Some(Value::String(text)) => Ok(Some(text.trim().to_owned())),
                Some(Value::Number(number)) => Ok(Some(number.to_string())),
                Some(other) => Err(wrong_type(at.key(name), other, "a decimal number, as text or as a number".into())),
            };
            let number = part("value")?.ok_or_else(|| missing(at.key("value"), "a decimal number".into()))?;
            let unit = match members.get("unit") {
                None | Some(Value::Null) if bare => "",
                None | Some(Value::Null) => return Err(missing(at.key("unit"), "a currency of ISO 4217".into())),
                Some(Value::String(unit)) => unit,
                Some(other) => return Err(wrong_type(at.key("unit"), other, "a currency of ISO 4217".into())),
            };
            of_members(&number, unit, part("plus_minus")?.as_deref(), form, bare)
                .map_err(|fault| placed(fault, at, value))
        }
        Value::Number(_) => Err(placed(
            Fault {
                code: crate::error::Code::BadQuantity,
                message: format!("a bare number has no currency: wanted is {}", form.wanted),
                allowed: vec![form.wanted.to_owned()],
            },
            at,
            value,
        )),
        _ => Err(wrong_type(at, value, form.wanted.to_owned())),
    }
}

impl Field for Currency {
    const KIND: Kind =
        Kind::Own(&OwnKind { wanted: "a currency of ISO 4217, such as EUR", forms: &[Form::Text("^[A-Z]{3}$")] });
    fn blank() -> Self {
        Self::NONE
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl OwnForm for Currency {
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<(), Error> {
        let Value::String(code) = value else { return Err(wrong_type(at, value, Self::KIND.wanted())) };
        let unlisted = || {
            let message = "no currency of ISO 4217 with a minor unit is called that";
            Error::new(crate::error::Code::OutOfRange, at, message).got(value).allowed([Self::KIND.wanted()])
        };
        *self = Self::find(code).ok_or_else(unlisted)?;
        Ok(())
    }
    fn check(&self, _at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<(), Error> {
        Ok(())
    }
    fn shown(&self) -> View<'_> {
        View::Text(self.code())
    }
}
