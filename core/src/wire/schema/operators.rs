//! What can be asked of any calculation, beside its answer: JSON Schemas of the specifications and of what comes back.

use serde_json::{Value, json};

/// The operators: what each does, its specification and its answer.
///
/// `points` and `columns` are the most that a sweep and a prepared calculation take.
#[must_use]
pub fn operators(points: usize, columns: usize) -> Value {
    let pointer = |of: &str| json!({ "type": "string", "description": format!("JSON pointer into the {of}.") });
    let unit = json!({ "type": "string", "description": "The unit of its numbers; else the usual one, never chosen by size." });
    let quantity = json!({ "description": "A quantity, or a plain number where the field is one." });
    let of_request = json!({ "anyOf": [pointer("request"), {
        "type": "object", "additionalProperties": false, "required": ["at"],
        "properties": { "at": pointer("request"), "unit": unit },
    }] });
    let of_answer = json!({ "anyOf": [pointer("answer"), {
        "type": "object", "additionalProperties": false, "required": ["at"],
        "properties": {
            "at": pointer("answer"),
            "unit": unit,
            "equals": { "type": "string", "description": "The word that counts as 1, any other as 0." },
        },
    }] });
    let error = json!({ "type": "object", "required": ["code", "field", "message"] });
    let numbers = json!({ "type": "array", "items": { "type": ["number", "null"] } });
    json!({
        "sweep": {
            "description": "The calculation at many points: a member of the request between two ends, or one listed value after the other.",
            "spec": {
                "type": "object", "additionalProperties": false, "required": ["vary"],
                "properties": {
                    "vary": pointer("request"),
                    "from": quantity, "to": quantity,
                    "points": { "type": "integer", "minimum": 1, "maximum": points },
                    "spacing": { "enum": ["linear", "geometric"], "default": "linear" },
                    "values": { "type": "array", "minItems": 1, "maxItems": points, "description": "In the place of from, to and points: whatever belongs there." },
                    "want": { "type": "array", "items": of_answer, "description": "Columns in the place of whole answers." },
                },
                "oneOf": [{ "required": ["values"] }, { "required": ["from", "to", "points"] }],
            },
            "answer": {
                "type": "object", "required": ["x"],
                "properties": {
                    "x": { "type": "object", "required": ["values"], "properties": { "unit": { "type": "string" }, "values": { "type": "array" } } },
                    "answers": { "type": "array", "description": "An answer or {error} for each point." },
                    "columns": { "type": "array", "items": { "type": "object", "required": ["at", "unit", "values"], "properties": {
                        "at": pointer("answer"), "unit": { "type": "string" }, "values": numbers,
                        "plus_minus": { "description": "Half-widths, where the request has doubts.", "type": "array", "items": { "type": ["number", "null"] } },
                    } } },
                    "errors": { "type": "array", "items": { "type": "object", "required": ["index", "error"], "properties": { "index": { "type": "integer" }, "error": error } } },
                },
            },
        },
        "solve": {
            "description": "Which value of a field of the request makes a number of the answer what is wanted.",
            "spec": {
                "type": "object", "additionalProperties": false, "required": ["vary", "from", "to", "want", "equals"],
                "properties": { "vary": pointer("request"), "from": quantity, "to": quantity, "want": of_answer, "equals": quantity },
            },
            "answer": {
                "type": "object", "required": ["vary", "value", "reached", "jump", "evaluations", "others"],
                "properties": {
                    "vary": pointer("request"),
                    "value": { "description": "The first value." },
                    "reached": { "description": "What the answer is there." },
                    "jump": { "type": "boolean", "description": "Whether the answer passes over what is wanted without taking it." },
                    "evaluations": { "type": "integer" },
                    "others": { "type": "array", "description": "Further values." },
                },
            },
        },
        "prepare": {
            "description": "The calculation made ready for rows of plain numbers, which are set and read without JSON.",
            "spec": {
                "type": "object", "additionalProperties": false, "required": ["inputs", "outputs"],
                "properties": {
                    "inputs": { "type": "array", "items": of_request, "maxItems": columns },
                    "outputs": { "type": "array", "items": of_answer, "maxItems": columns },
                },
            },
        },
    })
}
