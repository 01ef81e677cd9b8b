//! What a schema says, in words: what a field takes, its range, what stands in where it is left out, and choices between fields.

use super::Manual;
use super::html::{code, codes, figures, text};
use crate::schema::{list, string};
use floodbar::wire::MOST_ITEMS;
use serde_json::Value;

/// The name that a schema refers to.
pub fn reference(schema: &Value) -> Option<&str> {
    string(schema, "$ref")?.strip_prefix("#/$defs/")
}

fn is_null(schema: &Value) -> bool {
    string(schema, "type") == Some("null")
}

/// The forms that a field takes, null aside: that means absent.
fn forms(schema: &Value) -> Vec<&Value> {
    match list(schema, "anyOf") {
        [] => vec![schema],
        forms => forms.iter().filter(|form| !is_null(form)).flat_map(self::forms).collect(),
    }
}

/// The stock that a field takes names of: said of the field, or of its content where that may be absent.
fn shelf(schema: &Value) -> Option<&str> {
    string(schema, "x-stock").or_else(|| list(schema, "anyOf").iter().find_map(shelf))
}

/// The numbers that a field takes: those of the field, of the entries of a list, or of its forms.
fn quantities(schema: &Value) -> Vec<&Value> {
    match schema.get("x-quantity") {
        Some(quantity) => vec![quantity],
        None => list(schema, "anyOf")
            .iter()
            .chain(list(schema, "prefixItems"))
            .chain(schema.get("items"))
            .flat_map(quantities)
            .collect(),
    }
}

/// What belongs into a field, or what a member of an answer is, as HTML.
pub fn takes(manual: &Manual<'_>, schema: &Value) -> String {
    let quantity = schema.get("x-quantity");
    let forms = forms(schema);
    let measured = forms.iter().any(|form| reference(form) == Some("Number"));
    let stock = shelf(schema);
    let said: Vec<String> = forms
        .into_iter()
        // A number and the same with its doubt are one form; so are a thing and a changed one.
        .filter(|form| !(measured && string(form, "type") == Some("number")))
        .filter(|form| {
            reference(form)
                .and_then(|name| name.strip_suffix("Changed"))
                .is_none_or(|base| manual.record(base).is_none())
        })
        .map(|form| one(manual, form, quantity.or_else(|| form.get("x-quantity")), stock))
        .collect();
    let changed = stock.map_or(String::new(), |_| {
        format!(", or a stock name with changes: {}", code("{\"from\": name, member: value}"))
    });
    said.join(", or ") + &changed
}

fn one(manual: &Manual<'_>, schema: &Value, quantity: Option<&Value>, stock: Option<&str>) -> String {
    if let Some(name) = reference(schema) {
        return manual.linked(name) + &units(schema, quantity);
    }
    if let Some(word) = schema.get("const").and_then(Value::as_str) {
        return format!("the word {}", code(word));
    }
    if let Some(Value::Array(words)) = schema.get("enum") {
        let words: Vec<_> = words.iter().filter_map(Value::as_str).collect();
        return match stock {
            Some(kind) => format!("the name of a stock {}", manual.shelf(kind)),
            None => format!("one of {}", codes(words)),
        };
    }
    let kind = match schema.get("type") {
        Some(Value::Array(kinds)) => kinds.iter().filter_map(Value::as_str).find(|kind| *kind != "null"),
        kind => kind.and_then(Value::as_str),
    };
    match kind {
        Some("integer") => "a whole number".into(),
        Some("number") => "a number".into(),
        Some("boolean") => format!("{} or {}", code("true"), code("false")),
        Some("string") => match list(schema, "examples") {
            [] => "a text".into(),
            examples => format!("a text such as {}", codes(examples.iter().filter_map(Value::as_str))),
        },
        Some("array") => array(manual, schema),
        Some("object") if manual.is_quantity(schema) => "a quantity".into(),
        Some("object") => object(manual, schema),
        // Operators take whatever belongs to the field that they vary.
        _ => "what belongs there".into(),
    }
}

/// An object that is no record of its own: its members.
fn object(manual: &Manual<'_>, schema: &Value) -> String {
    let Some(members) = schema.get("properties").and_then(Value::as_object) else {
        return format!("an object of {}", codes(list(schema, "required").iter().filter_map(Value::as_str)));
    };
    let member = |(name, member): (&String, &Value)| {
        let says = string(member, "description").map_or(String::new(), |says| format!(". {}", prose(manual, says)));
        format!("<li>{}: {}{says}</li>", code(name), takes(manual, member))
    };
    format!("an object of<ul>{}</ul>", members.iter().map(member).collect::<String>())
}

fn array(manual: &Manual<'_>, schema: &Value) -> String {
    if let Some(items) = schema.get("prefixItems").and_then(Value::as_array) {
        let of = items.first().map_or(String::new(), |item| takes(manual, item));
        return format!("a list of {}, each {of}", items.len());
    }
    let each = schema.get("items").map_or(String::new(), |items| format!(", each {}", takes(manual, items)));
    let most = schema.get("maxItems").and_then(Value::as_u64);
    match (schema.get("minItems").and_then(Value::as_u64), most) {
        (Some(least), Some(most)) if least == most => format!("a list of {most}{each}"),
        (_, Some(most)) if most != MOST_ITEMS as u64 => format!("a list of at most {most}{each}"),
        _ => format!("a list{each}"),
    }
}

/// The units that a number may be written in, or that an answer comes in.
fn units(schema: &Value, quantity: Option<&Value>) -> String {
    if let Some(shown) = schema.get("x-unit") {
        let unit = |system| string(shown, system).unwrap_or_default();
        let us =
            if unit("us") == unit("metric") { String::new() } else { format!(", in US units {}", code(unit("us"))) };
        return format!(", in {}{us}", code(unit("metric")));
    }
    let units: Vec<_> = quantity.map_or(&[][..], |of| list(of, "units")).iter().filter_map(Value::as_str).collect();
    match units.as_slice() {
        [] => String::new(),
        ["1", "%"] => format!(", plain or in {}", code("%")),
        units => format!(", in {}", codes(units.iter().copied())),
    }
}

/// Between which numbers a field is taken, and which are usual.
pub fn range(schema: &Value) -> Option<String> {
    let ranges: Vec<_> = quantities(schema).into_iter().filter_map(range_of).collect();
    let in_turn = schema.get("prefixItems").is_some();
    (!ranges.is_empty()).then(|| ranges.join(if in_turn { ", then " } else { ", or " }))
}

fn range_of(of: &Value) -> Option<String> {
    let unit = string(of, "unit").filter(|unit| *unit != "1").map_or(String::new(), |unit| format!(" {}", code(unit)));
    let span = |least: &Value, most: &Value| {
        Some(format!("{} to {}{unit}", figures(least.as_f64()?, 6), figures(most.as_f64()?, 6)))
    };
    let allowed = of.get("least").zip(of.get("most")).and_then(|(least, most)| span(least, most));
    let usual = match list(of, "usual") {
        [least, most] => span(least, most),
        _ => None,
    };
    match (allowed, usual) {
        (Some(allowed), Some(usual)) => Some(format!("{allowed} (usual {usual})")),
        (Some(allowed), None) => Some(allowed),
        (None, usual) => usual.map(|usual| format!("usual {usual}")),
    }
}

/// Whether a field is given in the place of others, or together with them.
pub fn is_chosen(schema: &Value, name: &str) -> bool {
    let names = |branch: &Value| {
        let properties = branch.get("properties").and_then(Value::as_object);
        properties.is_some_and(|properties| properties.contains_key(name))
    };
    let branches =
        list(schema, "allOf").iter().flat_map(|choice| list(choice, "anyOf").iter().chain(list(choice, "oneOf")));
    branches.into_iter().any(|branch| names(branch) || list(branch, "allOf").iter().any(names))
}

/// What stands in where a field is left out, and where that comes from.
pub fn left_out(manual: &Manual<'_>, schema: &Value) -> Option<String> {
    if let Some(words) = string(schema, "x-default") {
        return Some(prose(manual, words));
    }
    let default = match schema.get("default")? {
        Value::String(default) => code(default),
        Value::Number(default) => figures(default.as_f64()?, 6),
        other => code(&other.to_string()),
    };
    let basis = schema.get("x-basis").map_or(String::new(), |basis| format!(" ({})", source(manual, basis)));
    Some(default + &basis)
}

/// A source: its kind, then its name.
pub fn source(manual: &Manual<'_>, source: &Value) -> String {
    let kind = string(source, "kind").unwrap_or_default();
    format!(
        "<span class=\"kind {kind}\">{}</span> {}",
        text(&kind.replace('_', " ")),
        prose(manual, string(source, "source").unwrap_or_default())
    )
}

/// Which fields are given in the place of one another, or together: sentences, as HTML.
pub fn choices(schema: &Value) -> Vec<String> {
    let field = |name: &str| format!("<a href=\"#field-{0}\"><code>{0}</code></a>", text(name));
    let joined = |names: &[&str], word: &str| names.iter().map(|name| field(name)).collect::<Vec<_>>().join(word);
    let sentence = |choice: &Value| {
        let (any, one) = (list(choice, "anyOf"), list(choice, "oneOf"));
        let branches = if one.is_empty() { any } else { one };
        let needed = |branch: &Value| {
            let branch = list(branch, "allOf").first().unwrap_or(branch);
            list(branch, "required").iter().filter_map(Value::as_str).map(str::to_owned).collect::<Vec<_>>()
        };
        let sets: Vec<Vec<String>> = branches.iter().map(needed).filter(|set| !set.is_empty()).collect();
        let sets: Vec<Vec<&str>> = sets.iter().map(|set| set.iter().map(String::as_str).collect()).collect();
        match sets.as_slice() {
            [] => {
                let mut barred: Vec<&str> = Vec::new();
                let names =
                    branches.iter().filter_map(|branch| branch.get("properties")?.as_object()).flat_map(|of| of.keys());
                names.for_each(|name| {
                    if !barred.contains(&name.as_str()) {
                        barred.push(name)
                    }
                });
                format!("Give at most one of {}.", joined(&barred, " and "))
            }
            [set] if one.is_empty() => format!("Give {}.", joined(set, " and ")),
            [set] => format!("Give {} together, or none of them.", joined(set, " and ")),
            sets => {
                let how = if one.is_empty() { "at least one of" } else { "one of" };
                let sets: Vec<_> = sets.iter().map(|set| joined(set, " with ")).collect();
                format!("Give {how}: {}.", sets.join("; or "))
            }
        }
    };
    list(schema, "allOf").iter().map(sentence).collect()
}

/// A text of the catalogue: escaped, names between backticks as code, names of calculations linked.
pub fn prose(manual: &Manual<'_>, words: &str) -> String {
    let linked = |word: &str| {
        let name = word.trim_matches(|c: char| !c.is_ascii_alphanumeric());
        match word.split_once(name) {
            Some((before, after)) if manual.is_calculation(name) => {
                let to = super::html::link(&super::calculation::path(name), &code(name));
                format!("{}{to}{}", text(before), text(after))
            }
            _ => text(word),
        }
    };
    let plain = |words: &str| words.split(' ').map(linked).collect::<Vec<_>>().join(" ");
    words
        .split('`')
        .enumerate()
        .map(|(index, part)| if index.is_multiple_of(2) { plain(part) } else { code(part) })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn choices_are_sentences() {
        let given = |names: &[&str]| {
            let properties: serde_json::Map<_, _> = names.iter().map(|name| ((*name).to_owned(), json!({}))).collect();
            json!({ "required": names, "properties": properties })
        };
        let absent = |name: &str| json!({ "properties": { name: { "type": "null" } } });
        let schema = json!({ "allOf": [
            { "oneOf": [{ "allOf": [given(&["a", "b"]), absent("c")] }, { "allOf": [given(&["c"]), absent("a")] }] },
            { "oneOf": [given(&["d", "e"]), absent("d")] },
            { "anyOf": [given(&["f"]), given(&["g"])] },
            { "anyOf": [absent("h"), absent("i")] },
        ] });
        let plain = |html: &String| {
            html.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text).collect::<String>()
        };
        let said: Vec<_> = choices(&schema).iter().map(|html| format!("<>{html}")).map(|html| plain(&html)).collect();
        assert_eq!(
            said,
            [
                "Give one of: a with b; or c.",
                "Give d and e together, or none of them.",
                "Give at least one of: f; or g.",
                "Give at most one of h and i.",
            ]
        );
        assert!(is_chosen(&schema, "b") && !is_chosen(&schema, "z"));
    }

    #[test]
    fn ranges_of_forms_and_of_lists_stand_beside_one_another() {
        let of = |least: f64, most: f64| json!({ "x-quantity": { "unit": "1", "least": least, "most": most } });
        let list = json!({ "prefixItems": [of(0.0, 100.0), of(-200.0, 200.0)] });
        assert_eq!(range(&list).as_deref(), Some("0 to 100, then \u{2212}200 to 200"));
        let forms = json!({ "anyOf": [
            { "x-quantity": { "unit": "m", "least": 0.0, "most": 5.0, "usual": [1.0, 2.0] } }, of(1.0, 2.0),
        ] });
        let wanted = "0 to 5 <code>m</code> (usual 1 to 2 <code>m</code>), or 1 to 2";
        assert_eq!(range(&forms).as_deref(), Some(wanted));
    }
}
