//! TypeScript types from the schemas of the catalogue.
//!
//! The schemas use few keywords. One that is not known here stops the build: a type that says less than its schema
//! would mislead.

use crate::schema::{list, string};
use floodbar::Code;
use serde_json::Value;
use std::collections::BTreeSet;
use std::iter::Peekable;
use std::str::Chars;

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
    let definition = |name: &str| catalogue.get("$defs").and_then(|defs| defs.get(name));
    while let Some(name) = used.waiting.pop() {
        let schema = definition(&name).ok_or(format!("no $defs/{name}"))?;
        let mut written = declaration(&name, schema, &mut used)?;
        // What is answered may be asked: in one of the units in which such a quantity comes in.
        if let Some(asked) = name.strip_suffix("Shown")
            && definition(asked).and_then(unit).and_then(|(pattern, _)| spellings(pattern)).is_some()
        {
            used.mention(asked);
            written = written.replace("  unit: string;\n", &format!("  unit: {asked}Unit;\n"));
        }
        text += &written;
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
    if let Some(quantity) = quantity(name, schema) {
        return Ok(quantity);
    }
    let body = of_schema(schema, "", used)?;
    let doc = doc(&remark(schema), "");
    Ok(if schema.get("properties").is_some() {
        format!("\n{doc}export interface {name} {body}\n")
    } else {
        format!("\n{doc}export type {name} = {body};\n")
    })
}

/// A quantity, which comes as a text of number and unit or as both apart; its units get a type of their own. Of money, whose units
/// are any currency's, the texts are told by their form alone.
fn quantity(name: &str, schema: &Value) -> Option<String> {
    let (pattern, optional) = unit(schema)?;
    let remark = doc(&remark(schema), "");
    let Some(units) = spellings(pattern) else {
        let apart = "value: number | string; unit: string; plus_minus?: number | string | null";
        return Some(format!("\n{remark}export type {name} = `${{number}} ${{string}}` | {{ {apart} }};\n"));
    };
    let units = words(&units.iter().map(String::as_str).collect::<Vec<_>>());
    let what = string(schema, "description").and_then(|text| text.split(',').next()).unwrap_or_default();
    let apart = if optional {
        format!("Omit<Parts<unknown>, \"unit\"> & {{ readonly unit?: {name}Unit | null }}")
    } else {
        format!("Parts<{name}Unit>")
    };
    Some(format!(
        "\n/** The units of {what}, in all their spellings. */\nexport type {name}Unit = {units};\n\
         \n{remark}export type {name} = Quantity<{name}Unit> | {apart};\n"
    ))
}

/// The regular expression of the units of a quantity, and whether it may do without one.
fn unit(schema: &Value) -> Option<(&str, bool)> {
    let [text, parts] = list(schema, "anyOf") else { return None };
    string(text, "pattern")?;
    let unit = parts.pointer("/properties/unit")?;
    let optional = list(unit, "anyOf").iter().find_map(|form| string(form, "pattern"));
    let pattern = string(unit, "pattern").or(optional)?;
    Some((pattern.strip_prefix("^\\s*")?.strip_suffix("\\s*$")?, optional.is_some()))
}

/// All texts that a regular expression of letters, sets of them, groups and choices stands for; none where it has anything else.
fn spellings(pattern: &str) -> Option<Vec<String>> {
    let mut letters = pattern.chars().peekable();
    let found = choice(&mut letters)?;
    letters.next().is_none().then_some(found)
}

/// What a choice stands for, up to the end of its group.
fn choice(letters: &mut Peekable<Chars<'_>>) -> Option<Vec<String>> {
    let mut found = Vec::new();
    let mut texts = vec![String::new()];
    loop {
        let part = match letters.peek() {
            None | Some(')') => {
                found.append(&mut texts);
                return Some(found);
            }
            Some('|') => {
                letters.next();
                found.append(&mut texts);
                texts.push(String::new());
                continue;
            }
            Some(_) => part(letters)?,
        };
        texts = texts.iter().flat_map(|text| part.iter().map(move |end| format!("{text}{end}"))).collect();
    }
}

/// What a letter, a set or a group stands for.
fn part(letters: &mut Peekable<Chars<'_>>) -> Option<Vec<String>> {
    match letters.next()? {
        '\\' => letters.next().filter(|letter| !letter.is_alphanumeric()).map(|letter| vec![letter.to_string()]),
        '[' => {
            let set: Vec<_> = letters.by_ref().take_while(|letter| *letter != ']').collect();
            // A range is no list of letters.
            (!set.contains(&'-')).then(|| set.iter().map(char::to_string).collect())
        }
        '(' => {
            let plain = letters.next() == Some('?') && letters.next() == Some(':');
            let found = choice(letters)?;
            (plain && letters.next() == Some(')')).then_some(found)
        }
        '{' | '*' | '+' | '?' | '.' | '^' | '$' => None,
        letter => Some(vec![letter.to_string()]),
    }
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
    fn units_are_all_that_their_pattern_stands_for() {
        let all = |pattern| spellings(pattern).map(|found| found.join(" "));
        assert_eq!(all("(?:[uµ]m|cm[2²]|\\[in_i\\]|(?:degC|℃))").as_deref(), Some("um µm cm2 cm² [in_i] degC ℃"));
        assert_eq!(all("(?:1||%)").as_deref(), Some("1  %"));
        for beyond in ["[A-Z]{3}", "a+", "a{2}", "\\s", "(a)", "(?:a", "a)", "^a$", "."] {
            assert_eq!(spellings(beyond), None, "{beyond}");
        }
    }

    #[test]
    fn a_quantity_is_a_text_or_number_and_unit_apart() {
        let quantity = |unit: Value| {
            let parts = json!({ "type": "object", "properties": { "unit": unit } });
            quantity(
                "Length",
                &json!({ "description": "a length, such as 5 mm", "anyOf": [{ "type": "string", "pattern": "x" }, parts] }),
            )
        };
        let given = |pattern: &str| json!({ "type": "string", "pattern": pattern });
        let length = quantity(given("^\\s*(?:m|mm)\\s*$")).unwrap();
        assert!(
            length.contains(
                "/** The units of a length, in all their spellings. */\nexport type LengthUnit = \"m\" | \"mm\";"
            ),
            "{length}"
        );
        assert!(length.ends_with("export type Length = Quantity<LengthUnit> | Parts<LengthUnit>;\n"), "{length}");
        let optional = quantity(json!({ "anyOf": [{ "type": "null" }, given("^\\s*(?:1|%)\\s*$")] })).unwrap();
        assert!(optional.contains("unit?: LengthUnit | null"), "{optional}");
        let money = quantity(given("^\\s*(?:[A-Z]{3})\\s*$")).unwrap();
        assert!(money.contains("type Length = `${number} ${string}` |"), "{money}");
        assert_eq!(quantity(json!({ "type": "string" })), None);
    }

    #[test]
    fn a_schema_beyond_the_vocabulary_stops_the_build() {
        for schema in [json!({ "not": {} }), json!({ "type": "tuple" }), json!({ "$ref": "elsewhere" })] {
            assert!(written(&schema).is_err(), "{schema}");
        }
    }
}
