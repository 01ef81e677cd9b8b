//! How money and rates are written: `12.50 EUR`, `28 EUR/h`, or the same as an object.

use super::{Currency, MOST, MOST_DECIMALS, Money};
use crate::error::{Code, clip};
use crate::quantity::{Dimension, Fault, Unit, find};
use rust_decimal::Decimal;
use serde_json::Value;

/// Money per unit of something: `14 EUR/kg`, `0.02 USD/in2`; per nothing it is an amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// What one unit costs.
    pub money: Money,
    /// The unit; none of an amount.
    pub per: Option<&'static Unit>,
}

impl Rate {
    /// What so many of its units cost: the count is rounded to 6 decimals first, the amount once to the minor unit. The count as it was
    /// rounded, and the amount; none for what is no number or too much.
    #[must_use]
    pub fn of(&self, count: f64) -> Option<(Decimal, Money)> {
        let count = in_decimals(count)?;
        Some((count, self.money.times(count)?))
    }
}

/// A number to 6 decimals, half away from zero.
fn in_decimals(number: f64) -> Option<Decimal> {
    use rust_decimal::RoundingStrategy::MidpointAwayFromZero;
    let exact = Decimal::from_f64_retain(number)?;
    Some(exact.round_dp_with_strategy(6, MidpointAwayFromZero).normalize())
}

/// A decimal number as it is written: digits, with a point and a sign at most. No fraction, no exponent.
fn decimal(text: &str) -> Option<Decimal> {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    if !plain || !digits.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    Decimal::from_str_exact(text).ok()
}

fn bad(text: &str, wanted: &str) -> Fault {
    let message = if text.contains(',') {
        format!("`{}` has a comma: write the decimals with a point", clip(text))
    } else {
        format!("`{}` is no {wanted}: a decimal number and a currency of ISO 4217", clip(text))
    };
    Fault { code: Code::BadQuantity, message, allowed: vec![wanted.to_owned()] }
}

/// Reads an amount, `12.50 EUR`, or a rate per a unit of this dimension, `28 EUR/h`.
///
/// # Errors
/// `bad_quantity` for another form or an unknown currency or unit, `wrong_dimension` for a unit of another dimension,
/// `out_of_range` beyond [`MOST`].
pub fn rate_of_text(text: &str, per: Option<Dimension>) -> Result<Rate, Fault> {
    let wanted = wanted(per);
    let (number, unit) = text.trim().split_once(' ').ok_or_else(|| bad(text, &wanted))?;
    rate_of_parts(number, unit.trim(), per).map_err(|fault| fault.unwrap_or_else(|| bad(text, &wanted)))
}

/// Reads an amount or a rate from the members of its object form: the value as text or as a number, which counts by its shortest
/// decimal.
///
/// # Errors
/// As [`rate_of_text`].
pub fn rate_of_object(value: &Value, unit: &str, per: Option<Dimension>) -> Result<Rate, Fault> {
    let number = match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    rate_of_parts(&number, unit.trim(), per).map_err(|fault| fault.unwrap_or_else(|| bad(&number, &wanted(per))))
}

/// What is wanted, for messages.
fn wanted(per: Option<Dimension>) -> String {
    match per {
        None => "amount, such as 12.50 EUR".to_owned(),
        Some(per) => format!("rate per {}, such as 12.50 EUR/{}", per.text(), example_unit(per)),
    }
}

fn example_unit(dimension: Dimension) -> &'static str {
    dimension.example().rsplit(' ').next().unwrap_or("1")
}

fn rate_of_parts(number: &str, unit: &str, per: Option<Dimension>) -> Result<Rate, Option<Fault>> {
    let number = decimal(number.trim()).ok_or(None)?;
    let (code, unit) = match unit.split_once('/') {
        Some((code, unit)) => (code.trim(), Some(unit.trim())),
        None => (unit, None),
    };
    let currency = Currency::find(code).ok_or(None)?;
    let dimension_fault =
        |message: String| Some(Fault { code: Code::WrongDimension, message, allowed: vec![wanted(per)] });
    let per = match (unit, per) {
        (None, None) => None,
        (Some(unit), Some(dimension)) => {
            let fits = find(unit).find(|known| known.dimension == dimension);
            if fits.is_none() && find(unit).next().is_some() {
                return Err(dimension_fault(format!("`{code}/{unit}` is no rate per {}", dimension.text())));
            }
            Some(fits.ok_or(None)?)
        }
        (Some(unit), None) => return Err(dimension_fault(format!("`{code}/{unit}` is a rate, wanted is an amount"))),
        (None, Some(dimension)) => {
            return Err(dimension_fault(format!("an amount of `{code}` is no rate per {}", dimension.text())));
        }
    };
    let money = Money::new(number, currency).ok_or_else(|| {
        Some(Fault {
            code: Code::OutOfRange,
            message: "this amount is too large, or has too many decimals".to_owned(),
            allowed: vec![format!("up to {MOST}, with at most {MOST_DECIMALS} decimals")],
        })
    })?;
    Ok(Rate { money, per })
}
