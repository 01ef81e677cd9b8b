//! What an answer says of money: amounts that are whole in the minor unit, beside what they would be without any rounding.

use super::{Currency, Money, Price};
use crate::error::{Code, Error};
use crate::wire::{Field, Kind, Priced, View};
use core::fmt;
use core::ops::Deref;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// An amount of an answer, which reads as [`Money`]; beside it the amount before any rounding, by which doubts are carried: rounded ones
/// move in steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    money: Money,
    unrounded: f64,
}

/// More money than can be reckoned with.
fn too_much() -> Error {
    Error::new(Code::OutOfRange, "", "this comes to more money than can be reckoned with")
        .allowed([format!("amounts up to {}", super::MOST)])
}

impl Amount {
    /// No money.
    #[must_use]
    pub fn nothing(currency: Currency) -> Self {
        Self { money: Money::nothing(currency), unrounded: 0.0 }
    }

    /// An amount, rounded to the minor unit; and what it would be unrounded.
    ///
    /// # Errors
    /// `out_of_range` for none.
    pub(crate) fn new(money: Option<Money>, unrounded: f64) -> Result<Self, Error> {
        let money = money.ok_or_else(too_much)?.rounded();
        if unrounded.is_finite() { Ok(Self { money, unrounded }) } else { Err(too_much()) }
    }

    /// A number in this currency, rounded once to the minor unit; and what it would be unrounded.
    ///
    /// # Errors
    /// `out_of_range` for none, and beyond [`MOST`](super::MOST).
    pub(crate) fn rounding(number: Option<Decimal>, unrounded: f64, currency: Currency) -> Result<Self, Error> {
        Self::new(number.and_then(|number| Money::rounding(number, currency)), unrounded)
    }

    /// It unrounded.
    #[must_use]
    pub const fn unrounded(&self) -> f64 {
        self.unrounded
    }

    /// It, or nothing where it is less.
    pub(crate) fn or_nothing(self) -> Self {
        let money =
            if self.money.amount().is_sign_negative() { Money::nothing(self.in_currency()) } else { self.money };
        Self { money, unrounded: self.unrounded.max(0.0) }
    }

    pub(crate) fn plus(&self, other: &Self) -> Result<Self, Error> {
        Self::new(self.money.plus(&other.money), self.unrounded + other.unrounded)
    }

    pub(crate) fn less(&self, other: &Self) -> Result<Self, Error> {
        Self::new(self.money.less(&other.money), self.unrounded - other.unrounded)
    }

    pub(crate) fn sum<'a>(currency: Currency, amounts: impl IntoIterator<Item = &'a Self>) -> Result<Self, Error> {
        amounts.into_iter().try_fold(Self::nothing(currency), |sum, amount| sum.plus(amount))
    }

    /// It over another; none of nothing.
    pub(crate) fn over(&self, other: &Self) -> Option<Share> {
        let (part, whole) = (self.money.amount().to_f64()?, other.money.amount().to_f64()?);
        let unrounded = if other.unrounded.abs() > 0.0 { self.unrounded / other.unrounded } else { 0.0 };
        (whole.abs() > 0.0).then(|| Share { value: part / whole, unrounded })
    }

    /// Its currency.
    pub(crate) const fn in_currency(&self) -> Currency {
        self.money.currency()
    }
}

impl Deref for Amount {
    type Target = Money;
    fn deref(&self) -> &Money {
        &self.money
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.money.fmt(f)
    }
}

impl Priced for Amount {
    fn value(&self) -> String {
        self.money.digits()
    }
    fn unit(&self) -> String {
        self.money.currency().code().to_owned()
    }
    fn currency(&self) -> Option<&'static str> {
        Some(self.money.currency().code())
    }
    fn unrounded(&self) -> f64 {
        self.unrounded
    }
}

impl Field for Amount {
    const KIND: Kind = <Price as Field>::KIND;
    fn blank() -> Self {
        Self::nothing(Currency::NONE)
    }
    fn view(&self) -> View<'_> {
        View::Money(self)
    }
    fn magnitude(&self) -> f64 {
        self.unrounded.abs()
    }
}

/// An amount as a share of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    value: f64,
    unrounded: f64,
}

impl Share {
    /// The share.
    #[must_use]
    pub const fn value(&self) -> f64 {
        self.value
    }
}

impl Field for Share {
    const KIND: Kind = <f64 as Field>::KIND;
    fn blank() -> Self {
        Self { value: 0.0, unrounded: 0.0 }
    }
    fn view(&self) -> View<'_> {
        View::Rounded(self.value, self.unrounded)
    }
    fn magnitude(&self) -> f64 {
        self.value.abs() + self.unrounded.abs()
    }
}
