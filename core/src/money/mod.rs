//! Money: decimal amounts in a currency of ISO 4217, sums that cannot lose a cent, and shares in whole minor units.

mod amount;
mod rate;
mod ratio;
mod written;

pub use amount::{Amount, Share};
pub use rate::{AnyRate, EnergyRate, InkRate, Per, Price, Rate, SheetRate, TimeRate};
pub(crate) use ratio::Ratio;
#[cfg(feature = "schema")]
pub(crate) use written::{number_pattern, text_pattern, unit_pattern};

use crate::sharing::largest_remainders;
use core::fmt;
pub use rust_decimal;
use rust_decimal::{Decimal, RoundingStrategy};

/// The largest amount, either way: beyond it neither a sum of many nor a product with a quantity is sure to be exact.
pub const MOST: i64 = 1_000_000_000_000;
/// Decimals that an amount may be written with.
pub const MOST_DECIMALS: u32 = 9;

/// A currency of ISO 4217 that is divided into minor units.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Currency {
    code: iso_currency::Currency,
    minor_units: u32,
}

impl Currency {
    /// The currency of this code, such as `EUR`. None for a code that is not on the list, and for what is on it but has no minor unit
    /// (gold, special drawing rights).
    #[must_use]
    pub fn find(code: &str) -> Option<Self> {
        let known = iso_currency::Currency::from_code(code)?;
        Some(Self { code: known, minor_units: known.exponent()?.into() })
    }

    /// ISO 4217's own code where there is no currency: an answer holds it before it is filled in, and nobody can ask for it.
    pub(crate) const NONE: Self = Self { code: iso_currency::Currency::XXX, minor_units: 0 };

    /// Its code.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.code.code()
    }

    /// Digits of its minor unit after the decimal mark (ISO 4217): 2 for EUR, 0 for JPY, 3 for KWD.
    #[must_use]
    pub const fn minor_units(self) -> u32 {
        self.minor_units
    }

    /// So many minor units.
    #[must_use]
    pub fn minor(self, count: i64) -> Money {
        Money { amount: Decimal::new(count, self.minor_units), currency: self }
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// An amount of a currency, exact in decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    amount: Decimal,
    currency: Currency,
}

impl Money {
    /// An amount; none beyond [`MOST`] or with more than [`MOST_DECIMALS`].
    #[must_use]
    pub fn new(amount: Decimal, currency: Currency) -> Option<Self> {
        let amount = amount.normalize();
        let fits = amount.abs() <= Decimal::from(MOST) && amount.scale() <= MOST_DECIMALS;
        fits.then_some(Self { amount, currency })
    }

    /// A number in this currency, rounded once to the minor unit, half away from zero; none beyond [`MOST`].
    #[must_use]
    pub fn rounding(number: Decimal, currency: Currency) -> Option<Self> {
        Self::new(number.round_dp_with_strategy(currency.minor_units, RoundingStrategy::MidpointAwayFromZero), currency)
    }

    /// No money.
    #[must_use]
    pub fn nothing(currency: Currency) -> Self {
        currency.minor(0)
    }

    /// The amount.
    #[must_use]
    pub const fn amount(&self) -> Decimal {
        self.amount
    }

    /// The amount with all digits of the minor unit: `12.50`.
    #[must_use]
    pub fn digits(&self) -> String {
        let mut amount = self.amount;
        if amount.scale() < self.currency.minor_units {
            amount.rescale(self.currency.minor_units);
        }
        amount.to_string()
    }

    /// The currency.
    #[must_use]
    pub const fn currency(&self) -> Currency {
        self.currency
    }

    /// The amount in whole minor units, where it is that.
    #[must_use]
    pub fn in_minor_units(&self) -> Option<i64> {
        let scale = Decimal::from(10_i64.checked_pow(self.currency.minor_units)?);
        let units = self.amount.checked_mul(scale)?.normalize();
        if units.scale() == 0 { i64::try_from(units.mantissa()).ok() } else { None }
    }

    /// Rounded to the minor unit, half away from zero: 1.005 EUR is 1.01 EUR, -1.005 EUR is -1.01 EUR.
    #[must_use]
    pub fn rounded(&self) -> Self {
        let places = self.currency.minor_units;
        Self { amount: self.amount.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero), ..*self }
    }

    /// The sum; none of two currencies, or beyond [`MOST`].
    #[must_use]
    pub fn plus(&self, other: &Self) -> Option<Self> {
        if self.currency != other.currency {
            return None;
        }
        Self::new(self.amount.checked_add(other.amount)?, self.currency)
    }

    /// The difference, as the sum.
    #[must_use]
    pub fn less(&self, other: &Self) -> Option<Self> {
        let mut opposite = *other;
        opposite.amount.set_sign_positive(other.amount.is_sign_negative());
        self.plus(&opposite)
    }

    /// So many times it, rounded once to the minor unit; none beyond [`MOST`].
    #[must_use]
    pub fn times(&self, count: Decimal) -> Option<Self> {
        Self::rounding(self.amount.checked_mul(count)?, self.currency)
    }

    /// Whole minor units shared out by weights, by largest remainders ([`largest_remainders`]): the parts add up to it, and each is less
    /// than a minor unit from its exact share. None of an amount that is not whole.
    #[must_use]
    pub fn shared(&self, weights: &[u64]) -> Option<Vec<Self>> {
        let parts = largest_remainders(self.in_minor_units()?, weights);
        Some(parts.into_iter().map(|part| self.currency.minor(part)).collect())
    }
}

impl fmt::Display for Money {
    /// With all digits of the minor unit: `12.50 EUR`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.digits(), self.currency)
    }
}
