//! The one error of the crate: a stable code, the field at fault, what was got and what is allowed.

use serde_json::{Map, Value, json};
use std::borrow::Cow;

macro_rules! codes {
    ($($name:ident = $number:literal $text:literal $meaning:literal;)*) => {
        /// What kind of fault it is. The numbers are the C layer's status codes: append-only.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[repr(i32)]
        pub enum Code { $(#[doc = $meaning] $name = $number),* }

        impl Code {
            /// Every code, in order of its number.
            pub const ALL: [Self; [$($number),*].len()] = [$(Self::$name),*];

            /// The code on the wire.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { $(Self::$name => $text),* }
            }

            /// What it says, for a reader.
            #[cfg(feature = "schema")]
            #[must_use]
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$name => $meaning),* }
            }
        }
    };
}

codes! {
    BadJson = 1 "bad_json" "The text is not JSON, or repeats a key.";
    UnknownCalculation = 2 "unknown_calculation" "No calculation of that name.";
    UnknownField = 3 "unknown_field" "A field that the request does not have.";
    MissingField = 4 "missing_field" "A field that the request needs is absent.";
    BadQuantity = 5 "bad_quantity" "Text that is not a quantity, or a bare number where one belongs.";
    WrongDimension = 6 "wrong_dimension" "A quantity of another dimension.";
    OutOfRange = 7 "out_of_range" "Outside what can exist, or a word that is not on the list.";
    Impossible = 8 "impossible" "Each value can exist, but not together.";
    NoSolution = 9 "no_solution" "The question has no answer for these values.";
    NullPointer = 10 "null_pointer" "A null pointer reached the C layer.";
    Internal = 11 "internal" "A fault of this library.";
    TooLong = 12 "too_long" "A limit of size, depth or steps.";
    WrongType = 13 "wrong_type" "A JSON type that the field does not take.";
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}{}{message}", .field, if .field.is_empty() { "" } else { ": " })]
#[non_exhaustive]
pub struct Error {
    /// What kind of fault it is.
    pub code: Code,
    /// JSON pointer to the field at fault; empty for the request as a whole.
    pub field: String,
    /// What is wrong, and what would be right.
    pub message: String,
    /// The value at fault, shortened where it is long.
    pub got: Value,
    /// The ranges, units or words that are allowed.
    pub allowed: Vec<String>,
}

impl Error {
    /// An error about the field at `field`.
    #[must_use]
    pub fn new(code: Code, field: impl ToString, message: impl Into<String>) -> Self {
        Self { code, field: field.to_string(), message: message.into(), got: Value::Null, allowed: Vec::new() }
    }

    /// With the value at fault.
    #[must_use]
    pub fn got(mut self, value: &Value) -> Self {
        self.got = short(value);
        self
    }

    /// With what is allowed.
    #[must_use]
    pub fn allowed<T: Into<String>>(mut self, allowed: impl IntoIterator<Item = T>) -> Self {
        self.allowed = allowed.into_iter().map(Into::into).collect();
        self
    }

    /// The same error about a field further down: `prefix` goes before its pointer.
    #[must_use]
    pub fn under(mut self, prefix: &str) -> Self {
        self.field.insert_str(0, prefix);
        self
    }

    /// `{"error": {...}}`, as every layer hands it out.
    #[must_use]
    pub fn to_json(&self) -> Value {
        let mut body = Map::new();
        body.insert("code".into(), self.code.text().into());
        body.insert("field".into(), self.field.as_str().into());
        body.insert("message".into(), self.message.as_str().into());
        body.insert("got".into(), self.got.clone());
        body.insert("allowed".into(), self.allowed.clone().into());
        json!({ "error": body })
    }
}

/// The start of a text that may be of any length: an error never grows with its input.
#[must_use]
pub fn clip(text: &str) -> Cow<'_, str> {
    const MOST: usize = 120;
    match text.char_indices().nth(MOST) {
        None => text.into(),
        Some((end, _)) => format!("{}...", text.get(..end).unwrap_or_default()).into(),
    }
}

/// The value itself where it is small, else its start or its kind.
fn short(value: &Value) -> Value {
    match value {
        Value::String(text) => clip(text).into(),
        Value::Array(items) if !items.is_empty() => format!("an array of {}", items.len()).into(),
        Value::Object(members) if members.len() > 3 || members.values().any(|v| v.is_array() || v.is_object()) => {
            let count = members.len();
            format!("an object with {count} member{}", if count == 1 { "" } else { "s" }).into()
        }
        Value::Object(members) => {
            members.iter().map(|(k, v)| (clip(k).into_owned(), short(v))).collect::<Map<_, _>>().into()
        }
        other => other.clone(),
    }
}

/// The known name nearest to `name`, if one is near enough to be a slip of the hand.
#[must_use]
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let name = name.chars().take(64).collect::<String>().to_ascii_lowercase();
    known
        .into_iter()
        .filter_map(|candidate| {
            let distance = strsim::osa_distance(&name, &candidate.to_ascii_lowercase());
            // A slip of the pen, else a part of the name: `white` of `plastisol-white`.
            if distance <= (candidate.chars().count() / 3).max(1) {
                Some((distance, candidate))
            } else {
                (name.len() > 2 && candidate.contains(&name)).then_some((distance.saturating_add(64), candidate))
            }
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_name_is_a_slip_away_and_no_further() {
        assert_eq!(nearest("mehs", ["mesh", "ink"]), Some("mesh"));
        assert_eq!(nearest("Plastisol-White", ["plastisol", "plastisol-white"]), Some("plastisol-white"));
        assert_eq!(nearest("temperature", ["mesh", "ink"]), None);
        assert_eq!(
            nearest("white", ["water-based", "plastisol-low-bleed-white", "plastisol-white"]),
            Some("plastisol-white")
        );
    }

    #[test]
    fn codes_number_from_one_without_a_gap() {
        for (index, code) in Code::ALL.iter().enumerate() {
            assert_eq!(*code as usize, index + 1);
        }
    }

    #[test]
    fn what_was_got_stays_small() {
        let long = Value::from("x".repeat(1_000_000));
        assert!(Error::new(Code::BadQuantity, "/a", "").got(&long).to_json().to_string().len() < 300);
        let key = json!({ "k".repeat(1_000_000): 1 });
        assert!(Error::new(Code::WrongType, "/a", "").got(&key).to_json().to_string().len() < 500);
        let wide = Value::from(vec![0; 1000]);
        assert!(Error::new(Code::WrongType, "/a", "").got(&wide).to_json().to_string().len() < 300);
    }
}
