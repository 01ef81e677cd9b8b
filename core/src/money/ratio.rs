//! Shares of amounts: a markup, a discount, a tax.

use super::Amount;
use crate::error::{Code, Error};
use rust_decimal::Decimal;

/// What an amount is multiplied with, as a fraction of two decimals, so that it is divided last and rounded once; and in binary, for
/// amounts before any rounding.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ratio {
    pub above: Decimal,
    pub below: Decimal,
    pub number: f64,
}

fn beyond() -> Error {
    Error::new(Code::OutOfRange, "/price", "these shares come to more than can be reckoned with")
}

impl Ratio {
    /// All of it.
    pub const ONE: Self = Self { above: Decimal::ONE, below: Decimal::ONE, number: 1.0 };

    /// A number by its shortest decimal.
    ///
    /// # Errors
    /// `out_of_range` for one that no decimal can hold.
    pub fn of(number: f64) -> Result<Self, Error> {
        let above = super::rate::shortest(number).ok_or_else(beyond)?;
        Ok(Self { above, number, ..Self::ONE })
    }

    /// 1 + it.
    pub fn one_more(self) -> Result<Self, Error> {
        let above = self.above.checked_add(self.below).ok_or_else(beyond)?;
        Ok(Self { above, number: 1.0 + self.number, ..self })
    }

    /// 1 - it.
    pub fn one_less(self) -> Result<Self, Error> {
        let above = self.below.checked_sub(self.above).ok_or_else(beyond)?;
        Ok(Self { above, number: 1.0 - self.number, ..self })
    }

    pub fn times(self, other: Self) -> Result<Self, Error> {
        Ok(Self {
            above: self.above.checked_mul(other.above).ok_or_else(beyond)?,
            below: self.below.checked_mul(other.below).ok_or_else(beyond)?,
            number: self.number * other.number,
        })
    }

    pub fn over(self, other: Self) -> Result<Self, Error> {
        let turned = Self { above: other.below, below: other.above, number: 1.0 / other.number };
        if other.above.is_zero() { Err(beyond()) } else { self.times(turned) }
    }

    /// This share of an amount, rounded once.
    pub fn on(self, amount: &Amount) -> Result<Amount, Error> {
        let whole = amount.amount().checked_mul(self.above).and_then(|whole| whole.checked_div(self.below));
        Amount::rounding(whole, amount.unrounded() * self.number, amount.in_currency())
    }
}
