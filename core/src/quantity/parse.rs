//! Reads a quantity from text (`"3 1/2 in"`, `"160 +/- 3 degC"`) or from its parts (`{"value", "unit", "plus_minus"}`).
//!
//! Grammar: `number [pm number] unit` or `number unit pm number (% | unit)`, where `pm` is `+/-`, `±` or `+-`, spaces are
//! free, and a number is a decimal, a fraction `1/16` or a mixed fraction `3 1/2`. A comma is refused, never guessed.

use super::unit::{Dimension, UNITS, Unit, find, fold};
use crate::error::{Code, clip, nearest};

/// A measured value in SI base units, with the 95 % half-width it was given, if any.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ParsedQuantity {
    /// In SI base units.
    pub si: f64,
    /// Half-width of the 95 % interval, in SI base units.
    pub half_width: Option<f64>,
}

/// What was wrong, before the place in the request is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The error's code.
    pub code: Code,
    /// What is wrong and what would be right.
    pub message: String,
    /// What would be allowed.
    pub allowed: Vec<String>,
}

impl Fault {
    fn bad(message: impl Into<String>, dimension: Dimension) -> Self {
        Self { code: Code::BadQuantity, message: message.into(), allowed: spellings(dimension) }
    }
}

/// The unit names that fit a dimension.
fn spellings(dimension: Dimension) -> Vec<String> {
    UNITS.iter().filter(|u| u.dimension == dimension).map(|u| u.name.to_owned()).collect()
}

/// Reads `text` as a quantity of `dimension`; gives the unit it was written in too.
///
/// # Errors
/// `bad_quantity` for text of another form or an unknown unit, `wrong_dimension` for a unit of another dimension.
pub fn measure_text(text: &str, dimension: Dimension) -> Result<(ParsedQuantity, &'static Unit), Fault> {
    let folded;
    let text = if text.is_ascii() {
        text
    } else {
        folded = fold(text);
        &folded
    };
    if text.contains(',') {
        return Err(Fault::bad(format!("`{}` has a comma: write the decimals with a point", clip(text)), dimension));
    }
    let bad = || {
        let example = dimension.example();
        Fault::bad(
            format!("`{}` is not {}: write a number and a unit, such as `{example}`", clip(text), dimension.text()),
            dimension,
        )
    };
    let (value, rest) = number(text.trim()).ok_or_else(bad)?;
    let rest = rest.trim_start();
    if let Some(rest) = after_plus_minus(rest) {
        let (half, rest) = number(rest).ok_or_else(bad)?;
        let unit_text = rest.trim();
        let unit = unit_of(unit_text, dimension)?;
        if dimension == Dimension::Fraction && unit_text == "%" && value < 1.0 {
            return Err(Fault::bad(
                format!(
                    "`{}`: is the doubt a share of the value or in points? Write both as numbers, such as `0.40 +/- 0.08`",
                    clip(text)
                ),
                dimension,
            ));
        }
        return with_half_width(value, half, unit, dimension);
    }
    let (unit_text, doubt) = split_plus_minus(rest);
    let unit = unit_of(unit_text.trim(), dimension)?;
    let Some(doubt) = doubt else {
        return finite(unit.to_si(value), None, dimension).map(|m| (m, unit));
    };
    let (half, doubt_unit) = number(doubt).ok_or_else(bad)?;
    let si = unit.to_si(value);
    let half_si = match doubt_unit.trim() {
        "%" if dimension == Dimension::Temperature => {
            return Err(Fault::bad(
                "a doubt in per cent of a temperature depends on the scale: write `160 +/- 3 degC`",
                dimension,
            ));
        }
        "%" => si.abs() * half / 100.0,
        other => {
            let steps = if dimension == Dimension::Temperature { Dimension::TemperatureDifference } else { dimension };
            unit_of(other, steps)?.span_to_si(half)
        }
    };
    finite(si, Some(half_si), dimension).map(|m| (m, unit))
}

/// A quantity from the members of its object form. An absent unit is right for a fraction only.
///
/// # Errors
/// As [`measure_text`].
pub fn measure_object(
    value: f64,
    unit: &str,
    plus_minus: Option<f64>,
    dimension: Dimension,
) -> Result<(ParsedQuantity, &'static Unit), Fault> {
    let unit = unit_of(fold(unit).trim(), dimension)?;
    match plus_minus {
        Some(half) => with_half_width(value, half, unit, dimension),
        None => finite(unit.to_si(value), None, dimension).map(|m| (m, unit)),
    }
}

fn with_half_width(
    value: f64,
    half: f64,
    unit: &'static Unit,
    dimension: Dimension,
) -> Result<(ParsedQuantity, &'static Unit), Fault> {
    finite(unit.to_si(value), Some(unit.span_to_si(half)), dimension).map(|m| (m, unit))
}

fn finite(si: f64, half_width: Option<f64>, dimension: Dimension) -> Result<ParsedQuantity, Fault> {
    if !si.is_finite() || half_width.is_some_and(|h| !h.is_finite()) {
        return Err(Fault::bad("the number is too large to be a measurement", dimension));
    }
    if half_width.is_some_and(|h| h < 0.0) {
        return Err(Fault::bad("the half-width after plus-minus is negative", dimension));
    }
    Ok(ParsedQuantity { si, half_width })
}

fn unit_of(text: &str, dimension: Dimension) -> Result<&'static Unit, Fault> {
    let mut other = None;
    for unit in find(text) {
        if unit.dimension == dimension {
            return Ok(unit);
        }
        other = Some(unit);
    }
    match other {
        Some(unit) if !unit.name.is_empty() && !text.is_empty() => Err(Fault {
            code: Code::WrongDimension,
            message: match (unit.dimension, dimension) {
                (Dimension::Temperature, Dimension::TemperatureDifference) => {
                    format!("`{text}` is an absolute temperature; a difference is written in K or delta_degF")
                }
                (from, to) => format!(
                    "`{text}` is the unit of {}; wanted is {}, such as `{}`",
                    from.text(),
                    to.text(),
                    to.example()
                ),
            },
            allowed: spellings(dimension),
        }),
        _ if text.is_empty() => Err(Fault::bad(
            format!("the unit is missing: wanted is {}, such as `{}`", dimension.text(), dimension.example()),
            dimension,
        )),
        _ => {
            let known = UNITS.iter().flat_map(|u| core::iter::once(u.name).chain(u.spellings.iter().copied()));
            let hint = nearest(text, known).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
            Err(Fault::bad(format!("unknown unit `{}`{hint}", clip(text)), dimension))
        }
    }
}

const PLUS_MINUS: [&str; 3] = ["+/-", "\u{b1}", "+-"];

fn after_plus_minus(text: &str) -> Option<&str> {
    PLUS_MINUS.iter().find_map(|sign| text.strip_prefix(sign)).map(str::trim_start)
}

fn split_plus_minus(text: &str) -> (&str, Option<&str>) {
    text.char_indices()
        .filter(|(_, c)| matches!(c, '+' | '\u{b1}'))
        .find_map(|(at, _)| {
            text.split_at_checked(at).and_then(|(unit, rest)| after_plus_minus(rest).map(|doubt| (unit, Some(doubt))))
        })
        .unwrap_or((text, None))
}

/// Reads a number at the start of `text` (decimal, fraction or mixed fraction) and gives the rest.
#[must_use]
pub fn number(text: &str) -> Option<(f64, &str)> {
    let (first, rest) = decimal(text)?;
    let whole = text.len().checked_sub(rest.len()).and_then(|n| text.get(..n))?;
    if let Some((below, after)) = rest.strip_prefix('/').and_then(digits) {
        return fraction(digits_only(whole)?, below).map(|f| (f, after));
    }
    // `3 1/2`: a whole number, blanks, then a fraction; `77 1/cm` is a number and a unit.
    let spaced = rest.trim_start();
    if spaced.len() < rest.len()
        && digits_only(whole).is_some()
        && let Some((above, tail)) = digits(spaced)
        && let Some((below, after)) = tail.strip_prefix('/').and_then(digits)
    {
        return fraction(above, below).map(|f| (first + f, after));
    }
    Some((first, rest))
}

fn fraction(above: &str, below: &str) -> Option<f64> {
    let (above, below) = (value(above), value(below));
    (below != 0.0).then(|| above / below)
}

/// A regular expression of the numbers that are read, for schemas.
#[cfg(feature = "schema")]
#[must_use]
pub fn number_pattern() -> &'static str {
    "(?:[0-9]+(?:\\s+[0-9]+)?/0*[1-9][0-9]*|[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
}

fn digits_only(text: &str) -> Option<&str> {
    (!text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())).then_some(text)
}

fn digits(text: &str) -> Option<(&str, &str)> {
    let end = text.bytes().position(|b| !b.is_ascii_digit()).unwrap_or(text.len());
    if end == 0 { None } else { text.split_at_checked(end) }
}

/// A decimal number: `[+-] digits [. digits] [e [+-] digits]`. Words such as `inf` and `nan` do not pass.
fn decimal(text: &str) -> Option<(f64, &str)> {
    let sign = usize::from(text.starts_with(['+', '-']));
    let tail = |at: usize| text.get(at..).unwrap_or_default();
    let count = |at: usize| digits(tail(at)).map_or(0, |(d, _)| d.len());
    let whole = count(sign);
    let mut end = sign.checked_add(whole)?;
    let mut found = whole;
    if tail(end).starts_with('.') {
        let places = count(end.checked_add(1)?);
        found = found.checked_add(places)?;
        end = end.checked_add(1)?.checked_add(places)?;
    }
    if found == 0 {
        return None;
    }
    if tail(end).starts_with(['e', 'E']) {
        let mut at = end.checked_add(1)?;
        if tail(at).starts_with(['+', '-']) {
            at = at.checked_add(1)?;
        }
        let places = count(at);
        if places > 0 {
            end = at.checked_add(places)?;
        }
    }
    let (number, rest) = text.split_at_checked(end)?;
    Some((value(number), rest))
}

/// The value of a decimal number, rounded to nearest; infinite beyond the largest.
///
/// By the parser that reads JSON, not by that of the standard library: it rounds alike, and one table of powers will do. What JSON
/// does not take (`.5`, `5.`, `+5`, `007`) is written its way first.
fn value(decimal: &str) -> f64 {
    // Read as any document: a parser that wants a number carries the words for all else.
    let read = |text: &str| crate::wire::document(text.as_bytes()).ok().and_then(|value| value.as_f64());
    read(decimal).unwrap_or_else(|| {
        let (mantissa, exponent) = decimal.split_once(['e', 'E']).unwrap_or((decimal, "0"));
        let unsigned = mantissa.trim_start_matches(['+', '-']);
        let (whole, places) = unsigned.split_once('.').unwrap_or((unsigned, ""));
        let sign = if mantissa.starts_with('-') { "-" } else { "" };
        let whole = whole.trim_start_matches('0');
        // A digit more before and after changes no value.
        read(&format!("{sign}{}{whole}.{places}0e{exponent}", if whole.is_empty() { "0" } else { "" }))
            .unwrap_or(if sign.is_empty() { f64::INFINITY } else { f64::NEG_INFINITY })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn numbers_are_those_of_the_standard_library(
            text in "[+-]?([0-9]{1,25}(\\.[0-9]{0,25})?|\\.[0-9]{1,25})([eE][+-]?[0-9]{1,3})?"
        ) {
            let std: f64 = text.parse().unwrap();
            prop_assert_eq!(value(&text).to_bits(), std.to_bits(), "{}", text);
        }
    }
}
