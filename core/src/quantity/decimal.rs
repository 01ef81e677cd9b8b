//! Numbers as messages write them: without an exponent, by the printer that writes JSON. That of the standard library prints alike,
//! and is 20 kB of a WebAssembly which then carries both.

use core::fmt;
use serde_json::Number;

/// A number to be written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Decimal {
    value: f64,
    places: Option<u8>,
}

/// As few digits as read back to the same number: `0.35`, `1200`.
pub(crate) const fn decimal(value: f64) -> Decimal {
    Decimal { value, places: None }
}

/// So many places, at most 9, rounded to nearest: `3.0`.
pub(crate) const fn to_places(value: f64, places: u8) -> Decimal {
    Decimal { value, places: Some(if places < 9 { places } else { 9 }) }
}

/// Three digits and a power of ten: `1.25e-5`.
pub(crate) fn scientific(value: f64) -> String {
    // Beyond this range a power of ten is infinite or nothing.
    let exponent = (Digits::of(value).point.saturating_sub(1)).clamp(-300, 300);
    let mantissa = to_places(value * libm::pow(10.0, f64::from(exponent.saturating_neg())), 2).to_string();
    // Rounding may have carried into a further digit.
    match mantissa.strip_prefix("10.").or(mantissa.strip_prefix("-10.")) {
        Some(_) => format!("{}1.00e{}", if value < 0.0 { "-" } else { "" }, exponent.saturating_add(1)),
        None => format!("{mantissa}e{exponent}"),
    }
}

/// A number as `0.digits` times ten to the power of `point`.
struct Digits {
    negative: bool,
    digits: String,
    point: i32,
}

impl Digits {
    fn of(value: f64) -> Self {
        let text = Number::from_f64(value).map(|number| number.to_string()).unwrap_or_default();
        let (negative, text) = text.strip_prefix('-').map_or((false, &*text), |text| (true, text));
        let (mantissa, exponent) = text.split_once('e').unwrap_or((text, "0"));
        let (whole, fraction) = mantissa.split_once('.').unwrap_or((mantissa, ""));
        let all = format!("{whole}{fraction}");
        let significant = all.trim_start_matches('0');
        let count = |text: &str| i32::try_from(text.len()).unwrap_or(i32::MAX);
        let point = count(whole)
            .saturating_sub(count(&all).saturating_sub(count(significant)))
            .saturating_add(exponent.parse().unwrap_or(0));
        Self { negative, digits: significant.trim_end_matches('0').to_owned(), point }
    }

    /// Whole part and fraction.
    fn parts(&self) -> (String, String) {
        let zeros = |count: i32| "0".repeat(usize::try_from(count).unwrap_or(0));
        let digits = i32::try_from(self.digits.len()).unwrap_or(i32::MAX);
        let split = self.point.max(0).min(digits);
        let (whole, fraction) = self.digits.split_at(usize::try_from(split).unwrap_or(0));
        let whole = format!("{whole}{}", zeros(self.point.saturating_sub(digits)));
        (whole, format!("{}{fraction}", zeros(self.point.saturating_neg().min(400))))
    }
}

/// Whole numbers below this have no digits that a double does not tell.
const EXACT: f64 = 9e15;

/// Writes a whole number with the point before its last places.
fn write_whole(value: f64, places: usize, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let mut left = value.abs() as u64;
    let mut digits = [b'0'; 32];
    let mut from = digits.len();
    for (index, digit) in digits.iter_mut().enumerate().rev() {
        if left == 0 && digits_after(index) > places {
            break;
        }
        *digit = b'0'.saturating_add((left % 10) as u8);
        left /= 10;
        from = index;
    }
    let text = digits.get(from..).and_then(|digits| core::str::from_utf8(digits).ok()).unwrap_or_default();
    let (whole, fraction) = text.split_at(text.len().saturating_sub(places));
    f.write_str(if value < 0.0 { "-" } else { "" })?;
    f.write_str(whole)?;
    if fraction.is_empty() {
        return Ok(());
    }
    f.write_str(".")?;
    f.write_str(fraction)
}

/// Digits from this place of the buffer to its end, before one is written there.
const fn digits_after(index: usize) -> usize {
    31_usize.saturating_sub(index)
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (scaled, places) = match self.places.map(usize::from) {
            Some(places) => ((self.value * TENS.get(places).copied().unwrap_or(1.0)).round_ties_even(), places),
            None => shortest(self.value),
        };
        if scaled.abs() < EXACT && scaled.fract() == 0.0 {
            return write_whole(scaled, places, f);
        }
        let shortest = Digits::of(scaled);
        let (whole, fraction) = if shortest.digits.is_empty() { Default::default() } else { shortest.parts() };
        f.write_str(if shortest.negative && !shortest.digits.is_empty() { "-" } else { "" })?;
        // So large a number has no fraction, and its last places are not known.
        let (whole, places) = whole.split_at(whole.len().saturating_sub(places));
        f.write_str(if whole.is_empty() { "0" } else { whole })?;
        if !(places.is_empty() && fraction.is_empty()) {
            f.write_str(".")?;
        }
        f.write_str(places)?;
        f.write_str(&fraction)
    }
}

/// A number as a whole one and so many places, where few do: a quotient of whole numbers is what their decimal reads as.
fn shortest(value: f64) -> (f64, usize) {
    let whole = TENS.iter().take(7).enumerate().map(|(places, ten)| ((value * ten).round_ties_even(), places, ten));
    let mut told = whole.filter(|(whole, _, ten)| whole.abs() < 1e15 && whole / *ten - value == 0.0);
    told.next().map_or((value, 0), |(whole, places, _)| (whole, places))
}

/// Powers of ten up to the most places.
const TENS: [f64; 10] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn numbers_read_as_those_of_the_standard_library(value in prop_oneof![any::<f64>(), -1e6..1e6_f64, -1.0..1.0_f64]) {
            let value = value + 0.0;
            if value.is_finite() {
                let (ours, theirs) = (decimal(value).to_string(), value.to_string());
                // Of two shortest texts that are as near, such as for 618194435732339.25, each takes its own.
                let as_good = ours.len() == theirs.len() && ours.parse::<f64>().is_ok_and(|read| read.to_bits() == value.to_bits());
                prop_assert!(ours == theirs || as_good, "{ours} {theirs}");
            }
        }

        #[test]
        fn places_are_within_half_of_the_last(value in -1e6..1e6_f64, places in 0..7_u8) {
            let text = to_places(value, places).to_string();
            prop_assert_eq!(text.split_once('.').map_or(0, |(_, fraction)| fraction.len()), usize::from(places));
            // Half of the last place, and the roundings of the text read back.
            let most = 0.5 * libm::pow(0.1, f64::from(places)) + f64::EPSILON * value.abs();
            prop_assert!((text.parse::<f64>().unwrap() - value).abs() <= most, "{value}: {text}");
        }

        #[test]
        fn three_digits_are_those_of_the_standard_library(value in -1.0..1.0_f64, power in -30..5_i32) {
            let value = value * libm::pow(10.0, f64::from(power));
            let (ours, theirs) = (scientific(value), format!("{value:.2e}"));
            prop_assert!(ours == theirs || (ours.parse::<f64>().unwrap() - value).abs() <= 0.00501 * value.abs(), "{ours} {theirs}");
        }
    }

    #[test]
    fn places_are_written_out() {
        assert_eq!(to_places(3.0, 1).to_string(), "3.0");
        assert_eq!(to_places(-0.04, 1).to_string(), "0.0");
        assert_eq!(to_places(0.056, 2).to_string(), "0.06");
        assert_eq!(to_places(1234.5678, 0).to_string(), "1235");
        assert_eq!(scientific(9.999e-4), "1.00e-3");
    }
}
