//! Reads a document strictly: no repeated key, no number that is not finite, no depth or length that could hurt.

use super::At;
use crate::error::{Code, Error, clip};
use serde::Deserializer;
use serde::de::{DeserializeSeed, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};
use std::cell::{Cell, RefCell};
use std::fmt;

/// Deepest nesting of arrays and objects.
pub const MOST_DEPTH: usize = 64;
/// Most entries of an array or members of an object.
pub const MOST_ITEMS: usize = 10_000;
/// Most entries and members of a document, or of each request of a list, in all: so that a text that is little but structure takes no
/// more than ten times the memory of the longest text.
pub const MOST_VALUES: usize = 100_000;
/// Longest text, in bytes.
pub const MOST_TEXT: usize = 4 << 20;
/// Longest text of a list of requests, in bytes.
pub const MOST_TEXT_OF_MANY: usize = 64 << 20;
/// Most requests of a list.
pub const MOST_REQUESTS: usize = 1_000_000;

/// Parses a JSON text.
///
/// # Errors
/// `bad_json` for text that is not UTF-8 or not JSON, or that repeats a key; `too_long` for a text, an array or a nesting beyond the limits.
pub fn document(text: &[u8]) -> Result<Value, Error> {
    parsed(text, MOST_TEXT, MOST_ITEMS)
}

/// Parses a JSON text that is a list of requests: a longer one.
///
/// # Errors
/// As [`document`].
pub fn many_requests(text: &[u8]) -> Result<Value, Error> {
    parsed(text, MOST_TEXT_OF_MANY, MOST_REQUESTS)
}

fn parsed(text: &[u8], most_text: usize, most_items: usize) -> Result<Value, Error> {
    if text.len() > most_text {
        return Err(Error::new(Code::TooLong, "", format!("the text has {} bytes", text.len()))
            .allowed([format!("at most {most_text} bytes")]));
    }
    let text = std::str::from_utf8(text).map_err(|e| {
        Error::new(Code::BadJson, "", format!("the text is not UTF-8: byte {} is wrong", e.valid_up_to()))
    })?;
    let mut parser = serde_json::Deserializer::from_str(text);
    let value = Strict::read(&mut parser, most_items)?;
    parser.end().map_err(|e| not_json(&e))?;
    Ok(value)
}

fn not_json(e: &impl fmt::Display) -> Error {
    Error::new(Code::BadJson, "", format!("not JSON: {e}"))
}

/// One value of a document.
struct Strict<'a> {
    at: At<'a>,
    depth: usize,
    /// Most entries of it.
    most_items: usize,
    /// Entries and members that the rest may have.
    left: &'a Cell<usize>,
    fault: &'a RefCell<Option<Error>>,
}

impl Strict<'_> {
    /// Reads a whole document.
    fn read<'de, D: Deserializer<'de>>(from: D, most_items: usize) -> Result<Value, Error> {
        let (fault, left) = (RefCell::new(None), Cell::new(MOST_VALUES));
        let read = Strict { at: At::ROOT, depth: 0, most_items, left: &left, fault: &fault }.deserialize(from);
        read.map_err(|e| fault.take().unwrap_or_else(|| not_json(&e)))
    }

    fn fail<E: serde::de::Error>(&self, error: Error) -> E {
        let wrapped = E::custom(&error);
        *self.fault.borrow_mut() = Some(error);
        wrapped
    }

    fn deeper<E: serde::de::Error>(&self) -> Result<usize, E> {
        let depth = self.depth.saturating_add(1);
        if depth > MOST_DEPTH {
            return Err(self.fail(
                Error::new(Code::TooLong, "", "arrays and objects are nested too deep")
                    .allowed([format!("at most {MOST_DEPTH} levels")]),
            ));
        }
        Ok(depth)
    }

    /// Makes room for one more entry beside so many.
    fn room<E: serde::de::Error>(&self, items: usize) -> Result<(), E> {
        let too_many = |place: At<'_>, what: &str, most: usize| {
            let error = Error::new(Code::TooLong, place, format!("too many {what}"));
            Err(self.fail(error.got(&format!("more than {most}").into()).allowed([format!("at most {most} {what}")])))
        };
        if items >= self.most_items {
            return too_many(self.at, "entries", self.most_items);
        }
        match self.left.get().checked_sub(1) {
            // The next request of a list has room of its own.
            _ if self.most_items > MOST_ITEMS => self.left.set(MOST_VALUES),
            Some(left) => self.left.set(left),
            None => return too_many(At::ROOT, "entries and members in all", MOST_VALUES),
        }
        Ok(())
    }

    /// One of its entries.
    fn entry<'b>(&'b self, at: At<'b>, depth: usize) -> Strict<'b> {
        Strict { at, depth, most_items: MOST_ITEMS, left: self.left, fault: self.fault }
    }
}

impl<'de> DeserializeSeed<'de> for Strict<'_> {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Value, D::Error> {
        from.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }
    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }
    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }
    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }
    // Finite: the parser refuses what is beyond.
    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }
    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut from: A) -> Result<Value, A::Error> {
        let depth = self.deeper()?;
        let mut items = Vec::new();
        loop {
            let Some(item) = from.next_element_seed(self.entry(self.at.index(items.len()), depth))? else { break };
            self.room(items.len())?;
            items.push(item);
        }
        Ok(Value::Array(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut from: A) -> Result<Value, A::Error> {
        let depth = self.deeper()?;
        let mut members = Map::new();
        while let Some(key) = from.next_key::<String>()? {
            self.room(members.len())?;
            let at = self.at.key(&key);
            if members.contains_key(&key) {
                return Err(self.fail(Error::new(Code::BadJson, at, format!("the key `{}` stands twice", clip(&key)))));
            }
            let value = from.next_value_seed(self.entry(at, depth))?;
            members.insert(key, value);
        }
        Ok(Value::Object(members))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(text: &str) -> (Code, String) {
        let error = document(text.as_bytes()).unwrap_err();
        (error.code, error.field)
    }

    #[test]
    fn a_repeated_key_is_named_with_its_place() {
        assert_eq!(code(r#"{"a":[{"b":1,"b":2}]}"#), (Code::BadJson, "/a/0/b".into()));
    }

    #[test]
    fn broken_text_is_bad_json() {
        for text in ["", "{", "{\"a\":1", "{\"a\":1}x", "nul", "{a:1}", "NaN", "{\"a\":1e999}", "{\"a\":}"] {
            assert_eq!(code(text).0, Code::BadJson, "{text}");
        }
        assert_eq!(document(b"{\"a\":\"\xff\"}").unwrap_err().code, Code::BadJson);
    }

    #[test]
    fn depth_and_size_have_limits_and_no_stack_is_spent_on_them() {
        let deep = |n: usize| format!("{}{}", "[".repeat(n), "]".repeat(n));
        assert!(document(deep(MOST_DEPTH).as_bytes()).is_ok());
        assert_eq!(code(&deep(MOST_DEPTH + 1)).0, Code::TooLong);
        assert_eq!(code(&deep(20_000)).0, Code::TooLong);
        let wide = |n: usize| format!("[{}]", vec!["0"; n].join(","));
        assert!(document(wide(MOST_ITEMS).as_bytes()).is_ok());
        let error = document(wide(MOST_ITEMS + 1).as_bytes()).unwrap_err();
        assert_eq!((error.code, error.got), (Code::TooLong, "more than 10000".into()));
        assert_eq!(code(&" ".repeat(MOST_TEXT + 1)).0, Code::TooLong);
    }

    #[test]
    fn all_values_together_have_a_limit_and_those_of_each_request_of_a_list() {
        // Nine lists of 10,000 numbers, 8,999 numbers beside them, and a list of the rest: each an entry of what holds it.
        let list = format!("[{}]", vec!["0"; MOST_ITEMS].join(","));
        let with = |more: usize| {
            let rest = vec!["0"; 8_999].join(",");
            format!("[{},{rest},[{}]]", [list.as_str(); 9].join(","), vec!["0"; more].join(","))
        };
        let room = MOST_VALUES - 9 * (MOST_ITEMS + 1) - 8_999 - 1;
        assert!(document(with(room).as_bytes()).is_ok());
        let error = document(with(room + 1).as_bytes()).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (Code::TooLong, ""));
        assert!(many_requests(format!("[{0},{0}]", with(room)).as_bytes()).is_ok());
        assert_eq!(many_requests(format!("[{}]", with(room + 1)).as_bytes()).unwrap_err().code, Code::TooLong);
    }

    #[test]
    fn numbers_keep_every_bit() {
        for bits in [0.1_f64, 1.0 / 3.0, 5e-324, f64::MAX, 123_456_789.123_456_78] {
            let text = serde_json::to_string(&bits).unwrap();
            assert_eq!(document(text.as_bytes()).unwrap().as_f64().unwrap().to_bits(), bits.to_bits());
        }
    }
}
