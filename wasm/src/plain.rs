//! Reads a JavaScript value as a document. Only what JSON has goes in: a `Date` is not an empty object, a `BigInt` no
//! number, and a getter or proxy that throws is an error of the request.

use floodbar::wire::{At, MOST_TEXT, Strict};
use floodbar::{Code, Error};
use serde::de::value::{Error as Told, MapDeserializer, SeqDeserializer};
use serde::de::{Error as _, IntoDeserializer, Visitor};
use serde::{Deserializer, forward_to_deserialize_any};
use serde_json::Value;
use std::cell::{Cell, RefCell};
use wasm_bindgen::prelude::*;

/// The largest number below which JavaScript has every whole number.
const MOST_WHOLE: f64 = 9_007_199_254_740_991.0;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = Array, js_name = isArray)]
    fn is_array(value: &JsValue) -> Result<bool, JsValue>;
    #[wasm_bindgen(catch, js_namespace = Object, js_name = getPrototypeOf)]
    fn prototype(value: &JsValue) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(catch, js_namespace = Object)]
    fn keys(value: &JsValue) -> Result<Vec<JsValue>, JsValue>;
    #[wasm_bindgen(catch, js_namespace = Reflect)]
    fn get(value: &JsValue, key: &JsValue) -> Result<JsValue, JsValue>;
}

/// Reads a whole request; an undefined member is an absent one.
///
/// # Errors
/// `bad_json` for what JSON does not have; `too_long` for a text, an array or a nesting beyond the limits.
pub fn read(value: JsValue) -> Result<Value, Error> {
    let walk = Walk { room: Cell::new(MOST_TEXT), fault: RefCell::new(None) };
    let read = Strict::read(Plain { value: Ok(value), field: String::new(), walk: &walk });
    read.map_err(|e| walk.fault.take().unwrap_or(e))
}

/// What the parts of one request share.
struct Walk {
    /// Text and values that may still come: objects that hold one another many times would never end.
    room: Cell<usize>,
    fault: RefCell<Option<Error>>,
}

/// A part of the request, or what its getter threw.
struct Plain<'a> {
    value: Result<JsValue, JsValue>,
    field: String,
    walk: &'a Walk,
}

impl<'a> Plain<'a> {
    fn fail(&self, code: Code, message: &str) -> Told {
        let error = Error::new(code, &self.field, message);
        let told = Told::custom(&error);
        *self.walk.fault.borrow_mut() = Some(error);
        told
    }

    fn unreadable(&self) -> Told {
        self.fail(Code::BadJson, "reading the value threw an exception")
    }

    fn spend(&self, size: usize) -> Result<(), Told> {
        let left = self.walk.room.get().checked_sub(size);
        self.walk.room.set(left.ok_or_else(|| self.fail(Code::TooLong, "the request is too large"))?);
        Ok(())
    }

    fn part(&self, value: Result<JsValue, JsValue>, at: At<'_>) -> Plain<'a> {
        Plain { value, field: format!("{}{at}", self.field), walk: self.walk }
    }

    /// Made by braces, not by a class: its prototype is none, or the one at the root, of whichever page or frame.
    fn is_plain_object(value: &JsValue) -> Result<bool, JsValue> {
        let parent = prototype(value)?;
        Ok(parent.is_null() || prototype(&parent)?.is_null())
    }
}

impl<'de> Deserializer<'de> for Plain<'_> {
    type Error = Told;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Told> {
        let value = self.value.as_ref().map_err(|_| self.unreadable())?;
        self.spend(1)?;
        if value.is_null() || value.is_undefined() {
            visitor.visit_unit()
        } else if let Some(truth) = value.as_bool() {
            visitor.visit_bool(truth)
        } else if let Some(number) = value.as_f64() {
            // Whole numbers are integers, as in text.
            if number.fract() == 0.0 && number.abs() <= MOST_WHOLE {
                visitor.visit_i64(number as i64)
            } else {
                visitor.visit_f64(number)
            }
        } else if let Some(text) = value.as_string() {
            self.spend(text.len())?;
            visitor.visit_string(text)
        } else if is_array(value).map_err(|_| self.unreadable())? {
            let length = get(value, &"length".into()).ok().and_then(|n| n.as_f64()).ok_or_else(|| self.unreadable())?;
            let parts = (0..length as usize)
                .map(|index| self.part(get(value, &JsValue::from_f64(index as f64)), At::ROOT.index(index)));
            visitor.visit_seq(SeqDeserializer::new(parts))
        } else if value.is_object() && Self::is_plain_object(value).map_err(|_| self.unreadable())? {
            let keys = keys(value).map_err(|_| self.unreadable())?;
            let members = keys.into_iter().filter_map(|key| {
                let member = get(value, &key);
                let name = key.as_string().unwrap_or_default();
                let absent = member.as_ref().is_ok_and(JsValue::is_undefined);
                (!absent).then(|| {
                    let part = self.part(member, At::ROOT.key(&name));
                    (name, part)
                })
            });
            visitor.visit_map(MapDeserializer::new(members))
        } else {
            Err(self.fail(
                Code::BadJson,
                "not JSON: only plain objects, arrays, texts, numbers, true, false and null, not a Map, Date, BigInt, \
                 function, symbol or instance of a class",
            ))
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map struct enum identifier ignored_any
    }
}

impl<'de> IntoDeserializer<'de, Told> for Plain<'_> {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}
