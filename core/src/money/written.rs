//! How money and rates are written: `12.50 EUR`, `28 EUR/h`, `14 +/- 1 EUR/kg`, or the same as an object.

use super::{Currency, MOST, MOST_DECIMALS};
use crate::error::{Code, clip};
use crate::quantity::{Fault, Unit, find, fold};
use crate::wire::MoneyForm;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// An amount of money, by itself or per unit, as it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Written {
    /// The number.
    pub value: Decimal,
    /// The currency, if one was named.
    pub currency: Option<Currency>,
    /// The unit that it is for; none of an amount.
    pub per: Option<&'static Unit>,
    /// Half-width of its 95 % interval, in the same unit.
    pub half_width: Option<f64>,
}

/// Signs between a number and its half-width.
const PLUS_MINUS: [&str; 3] = ["+/-", "\u{b1}", "+-"];

/// A decimal number as it is written: digits, with a point and a sign at most. No fraction, no exponent.
fn decimal(text: &str) -> Option<Decimal> {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let (whole, places) = digits.split_once('.').unwrap_or((digits, "0"));
    let plain = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(plain(whole) && plain(places)) {
        return None;
    }
    Decimal::from_str_exact(text).ok()
}

fn bad(text: &str, form: &MoneyForm) -> Fault {
    let message = if text.contains(',') {
        format!("`{}` has a comma: write the decimals with a point", clip(text))
    } else {
        format!("`{}` is not {}: a decimal number, and a currency of ISO 4217", clip(text), form.wanted)
    };
    Fault { code: Code::BadQuantity, message, allowed: vec![form.wanted.to_owned()] }
}

/// Reads an amount or a rate, `12.50 EUR`, `28 EUR/h`, with its half-width if any. What is `bare` may leave the currency out.
///
/// # Errors
/// `bad_quantity` for another form or an unknown currency or unit, `wrong_dimension` for a unit of another dimension, `out_of_range`
/// beyond [`MOST`].
pub fn of_text(text: &str, form: &MoneyForm, bare: bool) -> Result<Written, Fault> {
    let folded = fold(text);
    let split = PLUS_MINUS.iter().find_map(|sign| folded.split_once(sign));
    let (first, doubt) = split.map_or((&*folded, None), |(first, doubt)| (first, Some(doubt)));
    let parts = |part: &str| -> (String, String) {
        let part = part.trim();
        let (number, unit) = part.split_once(char::is_whitespace).unwrap_or((part, ""));
        (number.to_owned(), unit.trim().to_owned())
    };
    let whole = || bad(text, form);
    let (number, unit) = parts(first);
    let Some(doubt) = doubt else {
        return of_parts(&number, &unit, None, form, bare).map_err(|f| f.unwrap_or_else(whole));
    };
    let (half, half_unit) = parts(doubt);
    // The unit stands once, behind the half-width or before the sign, or in both places.
    let share = half_unit == "%";
    let unit = if unit.is_empty() && !share { half_unit.clone() } else { unit };
    if !(share || half_unit.is_empty() || half_unit == unit) {
        return Err(whole());
    }
    let half = super::written::decimal(&half).ok_or_else(whole)?;
    let mut written = of_parts(&number, &unit, Some(half), form, bare).map_err(|f| f.unwrap_or_else(whole))?;
    if share {
        written.half_width =
            written.value.to_f64().zip(half.to_f64()).map(|(value, half)| (value * half / 100.0).abs());
    }
    Ok(written)
}

/// The same from the members of an object.
///
/// # Errors
/// As [`of_text`].
pub fn of_members(value: &str, unit: &str, half: Option<&str>, form: &MoneyForm, bare: bool) -> Result<Written, Fault> {
    let whole = |text: &str| bad(text, form);
    let half = half.map(|half| decimal(half).ok_or_else(|| whole(half))).transpose()?;
    of_parts(value, fold(unit).trim(), half, form, bare)
        .map_err(|f| f.unwrap_or_else(|| whole(&format!("{value} {unit}"))))
}

fn of_parts(
    number: &str,
    unit: &str,
    half: Option<Decimal>,
    form: &MoneyForm,
    bare: bool,
) -> Result<Written, Option<Fault>> {
    let value = decimal(number.trim()).ok_or(None)?;
    let (code, unit) = match unit.split_once('/') {
        Some((code, unit)) => (code.trim(), Some(unit.trim())),
        None => (unit, None),
    };
    let currency = match code {
        "" if bare => None,
        code => Some(Currency::find(code).ok_or(None)?),
    };
    let mismatch =
        |message: String| Some(Fault { code: Code::WrongDimension, message, allowed: vec![form.wanted.to_owned()] });
    let per = match unit {
        None if form.per.contains(&None) => None,
        None => return Err(mismatch(format!("an amount by itself does not belong here: wanted is {}", form.wanted))),
        Some(unit) => {
            let known = find(unit).find(|known| form.per.contains(&Some(known.dimension)));
            if known.is_none() && find(unit).next().is_some() {
                return Err(mismatch(format!("`{code}/{unit}` does not belong here: wanted is {}", form.wanted)));
            }
            Some(known.ok_or(None)?)
        }
    };
    let value = value.normalize();
    if value.abs() > Decimal::from(MOST) || value.scale() > MOST_DECIMALS {
        return Err(Some(Fault {
            code: Code::OutOfRange,
            message: "this amount is too large, or has too many decimals".to_owned(),
            allowed: vec![format!("up to {MOST}, with at most {MOST_DECIMALS} decimals")],
        }));
    }
    let half_width = half.map(|half| half.to_f64().unwrap_or(f64::NAN));
    if half_width.is_some_and(|half| half.is_nan() || half < 0.0) {
        return Err(Some(Fault {
            code: Code::BadQuantity,
            message: "the half-width after plus-minus is negative".to_owned(),
            allowed: vec![form.wanted.to_owned()],
        }));
    }
    Ok(Written { value, currency, per, half_width })
}

/// A regular expression of what is read as such money, in text, for schemas.
#[cfg(feature = "schema")]
#[must_use]
pub fn text_pattern(form: &MoneyForm) -> String {
    let (number, sign, unit) = (number_pattern(), "(?:\\+/-|\u{b1}|\\+-)", unit_pattern(form));
    format!(
        "^\\s*{number}(?:\\s+{unit}(?:\\s*{sign}\\s*{number}(?:\\s+(?:{unit}|%))?)?|\\s*{sign}\\s*{number}\\s+{unit})\\s*$"
    )
}

/// A regular expression of a decimal number.
#[cfg(feature = "schema")]
#[must_use]
pub const fn number_pattern() -> &'static str {
    "[+-]?[0-9]+(?:\\.[0-9]+)?"
}

/// A regular expression of the units of such money: a currency, and what it is per.
#[cfg(feature = "schema")]
#[must_use]
pub fn unit_pattern(form: &MoneyForm) -> String {
    let each = |per: &Option<crate::quantity::Dimension>| match per {
        None => "[A-Z]{3}".to_owned(),
        Some(per) => format!("[A-Z]{{3}}\\s*/\\s*(?:{})", crate::quantity::unit_pattern(*per)),
    };
    format!("(?:{})", form.per.iter().map(each).collect::<Vec<_>>().join("|"))
}
