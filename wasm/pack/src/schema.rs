//! Members of a schema, as those need them who write something from it.

use serde_json::Value;

/// A text; none where the member is no text, or absent.
pub fn string<'a>(schema: &'a Value, key: &str) -> Option<&'a str> {
    schema.get(key).and_then(Value::as_str)
}

/// A list; empty where the member is no list, or absent.
pub fn list<'a>(schema: &'a Value, key: &str) -> &'a [Value] {
    schema.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
