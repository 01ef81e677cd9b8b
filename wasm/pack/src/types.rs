//! TypeScript types from the schemas of the catalogue.
//!
//! The schemas use few keywords. One that is not known here stops the build: a type that says less than its schema
//! would mislead.

use floodbar::Code;
use serde_json::Value;
use std::collections::BTreeSet;

/// Keywords that make a type, and those that only say more about it.
const KNOWN: &[&str] = &[
    "$ref",
    "type",
    "properties",
    "required",
    "additionalProperties",
    "items",
    "enum",
    "const",
    "anyOf",
    "prefixItems", // the type
    "allOf",       // choices between fields, which stand in the record's remark
    "title",
    "description",
    "default",
    "examples",
    "format",
    "pattern",
    "minimum",
    "maximum",
    "exclusiveMinimum",
    "exclusiveMaximum",
    "minItems",
    "maxItems",
    "minLength",
    "maxLength",
];

/// Declares the error codes, every request and answer, what they refer to, and the table of calculations.
///
/// # Errors
/// A message for a schema that this module cannot express.
pub fn of_catalogue(catalogue: &Value) -> Result<String, String> {
    let mut text = format!(
        "/** What kind of fault an error is. */\nexport type ErrorCode = {};\n",
        words(&Code::ALL.map(Code::text))
    );
    let mut table = String::from(
        "\n/** Every calculation: what it asks and what it answers. */\nexport interface Calculations {\n",
    );
    let mut used = References::default();
    for entry in list(catalogue, "calculations") {
        let id = string(entry, "id").unwrap_or_default();
        let name = pascal(id);
        for (part, suffix) in [("request", "Request"), ("answer", "Answer")] {
            text += &declaration(&format!("{name}{suffix}"), entry.get(part).unwrap_or(&Value::Null), &mut used)?;
        }
        table += &doc(string(entry, "question").unwrap_or_default(), "  ");
        table += &format!("  {}: {{ request: {name}Request; answer: {name}Answer }};\n", quoted(id));
    }
    while let Some(name) = used.waiting.pop() {
        let schema = catalogue.get("$defs").and_then(|defs| defs.get(&name)).ok_or(format!("no $defs/{name}"))?;
        text += &declaration(&name, schema, &mut used)?;
    }
    Ok(text + &table + "}\n")
}

/// Definitions that a type mentions: each is declared once.
#[derive(Default)]
struct References {
    seen: BTreeSet<String>,
    waiting: Vec<String>,
}

impl References {
    fn mention(&mut self, name: &str) {
        if self.seen.insert(name.to_owned()) {
            self.waiting.push(name.to_owned());
        }
    }
}

fn declaration(name: &str, schema: &Value, used: &mut References) -> Result<String, String> {
    let body = of_schema(schema, "", used)?;
    let doc = doc(&remark(schema), "");
    Ok(if schema.get("properties").is_some() {
        format!("\n{doc}export interface {name} {body}\n")
    } else {
        format!("\n{doc}export type {name} = {body};\n")
    })
}

fn of_schema(schema: &Value, indent: &str, used: &mut References) -> Result<String, String> {
    let unknown = |key: &&String| !KNOWN.contains(&key.as_str()) && !key.starts_with("x-");
    if let Some(key) = schema.as_object().and_then(|members| members.keys().find(unknown)) {
        return Err(format!("the types do not know the schema keyword `{key}`, in {schema}"));
    }
    if let Some(path) = string(schema, "$ref") {
        let name =
            path.strip_prefix("#/$defs/").ok_or_else(|| format!("the types do not know the reference {path}"))?;
        used.mention(name);
        return Ok(name.to_owned());
    }
    if let Some(value) = schema.get("const") {
        return Ok(value.to_string());
    }
    if let Some(Value::Array(values)) = schema.get("enum") {
        return Ok(union(values.iter().map(ToString::to_string)));
    }
    if let Some(Value::Array(forms)) = schema.get("anyOf") {
        return Ok(union(forms.iter().map(|form| of_schema(form, indent, used)).collect::<Result<Vec<_>, _>>()?));
    }
    match schema.get("type") {
        Some(Value::Array(types)) => {
            let one = |name| of_type(name, schema, indent, used);
            Ok(union(types.iter().filter_map(Value::as_str).map(one).collect::<Result<Vec<_>, _>>()?))
        }
        Some(Value::String(name)) => of_type(name, schema, indent, used),
        _ => Ok("unknown".into()),
    }
}

fn of_type(name: &str, schema: &Value, indent: &str, used: &mut References) -> Result<String, String> {
    match name {
        "string" | "boolean" | "null" => Ok(name.to_owned()),
        "number" | "integer" => Ok("number".to_owned()),
        "array" => match (schema.get("items"), schema.get("prefixItems")) {
            (_, Some(Value::Array(items))) => {
                let items: Vec<_> = items.iter().map(|item| of_schema(item, indent, used)).collect::<Result<_, _>>()?;
                Ok(format!("[{}]", items.join(", ")))
            }
            (Some(items), _) => Ok(format!("Array<{}>", of_schema(items, indent, used)?)),
            _ => Ok("unknown[]".to_owned()),
        },
        "object" => match schema.get("properties") {
            Some(Value::Object(properties)) => {
                let required: Vec<_> = list(schema, "required").iter().filter_map(Value::as_str).collect();
                let deeper = format!("{indent}  ");
                let mut text = String::from("{\n");
                for (key, member) in properties {
                    let mark = if required.contains(&key.as_str()) { "" } else { "?" };
                    let member_type = of_schema(member, &deeper, used)?;
                    text += &doc(&remark(member), &deeper);
                    text += &format!("{deeper}{}{mark}: {member_type};\n", quoted(key));
                }
                Ok(text + indent + "}")
            }
            _ => Ok("{ [member: string]: unknown }".to_owned()),
        },
        other => Err(format!("the types do not know the schema type `{other}`")),
    }
}

/// What a reader wants to know beside the type.
fn remark(schema: &Value) -> String {
    let default = schema.get("default").map(|value| value.as_str().map_or_else(|| value.to_string(), str::to_owned));
    let quantity = schema.get("x-quantity");
    let unit = quantity.and_then(|of| string(of, "unit")).filter(|unit| *unit != "1");
    let span = |least: &Value, most: &Value| {
        let shown = |end: &Value| end.as_f64().map_or_else(|| end.to_string(), |end| end.to_string());
        format!("{} to {}{}", shown(least), shown(most), unit.map_or(String::new(), |u| format!(" {u}")))
    };
    let allowed = quantity.and_then(|of| Some(span(of.get("least")?, of.get("most")?)));
    let usual = quantity.and_then(|of| Some(span(of.get("usual")?.get(0)?, of.get("usual")?.get(1)?)));
    let facts = [
        ("Allowed", allowed),
        ("Usual", usual),
        ("Default", default.or_else(|| string(schema, "x-default").map(str::to_owned))),
        ("Choices", choices(schema)),
    ];
    let facts = facts.into_iter().filter_map(|(label, fact)| Some(format!("{label}: {}.", fact?)));
    string(schema, "description").map(str::to_owned).into_iter().chain(facts).collect::<Vec<_>>().join(" ")
}

/// What the types of a record cannot say: which fields are given in the place of one another, or together.
fn choices(schema: &Value) -> Option<String> {
    let names =
        |branch: &Value| list(branch, "required").iter().filter_map(Value::as_str).collect::<Vec<_>>().join(" and ");
    let of = |choice: &Value| {
        let branches = ["oneOf", "anyOf"].into_iter().flat_map(|key| list(choice, key));
        let sets: Vec<_> = branches.map(|branch| names(list(branch, "allOf").first().unwrap_or(branch))).collect();
        let sets: Vec<_> = sets.into_iter().filter(|set| !set.is_empty()).collect();
        (sets.len() > 1).then(|| sets.join(", or "))
    };
    let all: Vec<_> = list(schema, "allOf").iter().filter_map(of).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

fn doc(text: &str, indent: &str) -> String {
    match text.split_whitespace().collect::<Vec<_>>().join(" ").replace("*/", "*\\/") {
        text if text.is_empty() => text,
        text => format!("{indent}/** {text} */\n"),
    }
}

fn union(types: impl IntoIterator<Item = String>) -> String {
    types.into_iter().collect::<Vec<_>>().join(" | ")
}

fn words(words: &[&str]) -> String {
    union(words.iter().map(|word| Value::from(*word).to_string()))
}

fn quoted(key: &str) -> String {
    if key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') {
        key.to_owned()
    } else {
        Value::from(key).to_string()
    }
}

/// `mesh.geometry` becomes `MeshGeometry`.
fn pascal(id: &str) -> String {
    id.split(['.', '_'])
        .flat_map(|word| {
            let mut letters = word.chars();
            letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters.collect::<Vec<_>>())
        })
        .collect()
}

fn string<'a>(schema: &'a Value, key: &str) -> Option<&'a str> {
    schema.get(key).and_then(Value::as_str)
}

fn list<'a>(schema: &'a Value, key: &str) -> &'a [Value] {
    schema.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn written(schema: &Value) -> Result<String, String> {
        of_schema(schema, "", &mut References::default())
    }

    #[test]
    fn members_that_may_be_left_out_are_marked_and_remarks_stay_comments() {
        let schema = json!({ "type": "object", "required": ["a"], "properties": {
            "a": { "$ref": "#/$defs/Length", "description": "Ends */ early.", "x-quantity": { "unit": "mm", "least": 1, "most": 2 } },
            "b-c": { "type": ["integer", "null"], "default": 2 },
        } });
        let want = "{\n  /** Ends *\\/ early. Allowed: 1 to 2 mm. */\n  a: Length;\n  /** Default: 2. */\n  \"b-c\"?: number | null;\n}";
        assert_eq!(written(&schema).unwrap(), want);
    }

    #[test]
    fn words_and_forms_are_unions() {
        let schema =
            json!({ "anyOf": [{ "enum": ["plain", 2] }, { "const": "dry" }, { "type": "array", "items": {} }] });
        assert_eq!(written(&schema).unwrap(), "\"plain\" | 2 | \"dry\" | Array<unknown>");
    }

    #[test]
    fn a_schema_beyond_the_vocabulary_stops_the_build() {
        for schema in [json!({ "not": {} }), json!({ "type": "tuple" }), json!({ "$ref": "elsewhere" })] {
            assert!(written(&schema).is_err(), "{schema}");
        }
    }
}
