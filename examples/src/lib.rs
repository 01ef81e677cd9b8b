//! What the examples share: reading an answer of Floodbar and wording its quantities for a person, and
//! reading the picture file of a separation.

pub mod picture;

use serde_json::Value;

/// The member at a JSON pointer, or null.
#[must_use]
pub fn at<'a>(value: &'a Value, pointer: &str) -> &'a Value {
    value.pointer(pointer).unwrap_or(&Value::Null)
}

/// The members of a list; none where there is no list.
pub fn list<'a>(value: &'a Value, pointer: &str) -> std::slice::Iter<'a, Value> {
    at(value, pointer).as_array().map(Vec::as_slice).unwrap_or_default().iter()
}

/// A value for a person: a quantity rounded to what can be set or read, a text, a number; empty where it is absent.
///
/// ```
/// use serde_json::json;
/// assert_eq!(floodbar_examples::say(&json!({ "value": 16.1243, "unit": "um" })), "16 um");
/// assert_eq!(floodbar_examples::say(&json!({ "value": 134.19, "unit": "s" })), "134 s");
/// assert_eq!(floodbar_examples::say(&json!({ "value": 0.0955, "unit": "oz" })), "0.0955 oz");
/// ```
#[must_use]
pub fn say(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Number(number) => round(number.as_f64().unwrap_or_default(), 3, 3),
        Value::Object(_) => {
            let unit = at(value, "/unit").as_str().unwrap_or_default();
            let number = at(value, "/value").as_f64().unwrap_or_default();
            let (digits, most_decimals) = match unit {
                "um" => (2, 3), // a film is known to two digits at best
                "in" => (3, 3), // a thousandth of an inch is finer than anyone sets
                _ => (3, 5),
            };
            format!("{} {}", round(number, digits, most_decimals), unit.replace("degC", "°C").replace("degF", "°F"))
        }
        _ => String::new(),
    }
}

/// Rounds to so many significant digits and decimals, but never away the digits before the point.
fn round(number: f64, digits: i32, most_decimals: i32) -> String {
    let exponent = format!("{number:e}").split_once('e').and_then(|(_, e)| e.parse().ok()).unwrap_or(0);
    let decimals =
        usize::try_from(digits.saturating_sub(1).saturating_sub(exponent).clamp(0, most_decimals)).unwrap_or(0);
    let text = format!("{number:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
