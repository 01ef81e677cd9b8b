//! An answer as a person reads it: a member a line, lists of records as tables, numbers rounded.

use super::Manual;
use super::html::{code, figures, table, text};
use super::words::{prose, source};
use crate::schema::string;
use serde_json::{Map, Value};

/// Figures of a number that is shown; all of them stand in the JSON.
const FIGURES: usize = 4;
/// So many entries of a list of numbers are shown.
const ENTRIES: usize = 8;

/// The members of an answer, notes and basis apart.
pub fn answer(manual: &Manual<'_>, answer: &Value, schema: &Value) -> String {
    let members = answer.as_object().into_iter().flatten();
    let rows: String = members
        .filter(|(name, _)| !matches!(name.as_str(), "notes" | "basis" | "doubt"))
        .map(|(name, member)| {
            let label = schema.pointer(&format!("/properties/{name}/title")).and_then(Value::as_str).unwrap_or(name);
            format!(
                "<div><dt><a href=\"#answer-{0}\">{1}</a></dt><dd>{2}</dd></div>\n",
                text(name),
                text(label),
                value(member, label)
            )
        })
        .collect();
    format!("<dl class=\"values\">\n{rows}</dl>\n{}{}", notes(manual, answer), basis(manual, answer))
}

/// A value of an answer or of a stock row.
pub fn value(value: &Value, label: &str) -> String {
    match value {
        Value::Null => "none".into(),
        Value::Bool(is_so) => if *is_so { "yes" } else { "no" }.into(),
        Value::Number(number) => figures(number.as_f64().unwrap_or_default(), FIGURES),
        Value::String(words) => text(words),
        Value::Object(members) => measured(members).unwrap_or_else(|| nested(members)),
        Value::Array(entries) if entries.is_empty() => "none".into(),
        Value::Array(entries) => match records(entries, label) {
            Some(table) => table,
            None => {
                let more = entries.len().saturating_sub(ENTRIES);
                let shown: Vec<_> = entries.iter().take(ENTRIES).map(|entry| self::value(entry, label)).collect();
                let more = if more > 0 { format!(" and {more} more") } else { String::new() };
                shown.join("; ") + &more
            }
        },
    }
}

/// A quantity or an amount of money, with its doubt.
fn measured(members: &Map<String, Value>) -> Option<String> {
    let unit = is_measured(members).then(|| members.get("unit").and_then(Value::as_str).unwrap_or("1"))?;
    let number = |name: &str| match members.get(name)? {
        // Money is decimal, and never rounded again.
        Value::String(decimal) => Some(text(decimal)),
        number => Some(figures(number.as_f64()?, FIGURES)),
    };
    let doubt = number("plus_minus").map_or(String::new(), |doubt| format!(" \u{b1} {doubt}"));
    let unit = if unit == "1" { String::new() } else { format!("\u{a0}{}", text(unit)) };
    Some(format!("<span class=\"measured\">{}{doubt}{unit}</span>", number("value")?))
}

fn is_measured(members: &Map<String, Value>) -> bool {
    members.contains_key("value") && (members.contains_key("unit") || members.contains_key("plus_minus"))
}

fn nested(members: &Map<String, Value>) -> String {
    let rows: String = members
        .iter()
        .map(|(name, member)| {
            format!("<div><dt>{}</dt><dd>{}</dd></div>", text(&name.replace('_', " ")), value(member, name))
        })
        .collect();
    format!("<dl class=\"values inner\">{rows}</dl>")
}

/// A list of records as a table, if it is one.
fn records(entries: &[Value], label: &str) -> Option<String> {
    let entries: Vec<_> = entries.iter().map(Value::as_object).collect::<Option<Vec<_>>>()?;
    if entries.iter().any(|entry| is_measured(entry)) {
        return None;
    }
    // What is made of parts itself does not fit into a row.
    let is_made_of_parts = |member: &Value| match member {
        Value::Object(members) => !is_measured(members),
        Value::Array(entries) => entries.iter().any(|entry| entry.is_array() || entry.is_object()),
        _ => false,
    };
    if entries.iter().any(|entry| entry.values().any(is_made_of_parts)) {
        let entries: String = entries.iter().map(|entry| format!("<li>{}</li>", nested(entry))).collect();
        return Some(format!("<ul class=\"entries\">{entries}</ul>"));
    }
    let mut columns: Vec<&String> = Vec::new();
    for name in entries.iter().flat_map(|entry| entry.keys()) {
        if !columns.contains(&name) {
            columns.push(name);
        }
    }
    let head: Vec<_> = columns.iter().map(|name| name.replace('_', " ")).collect();
    let cell = |entry: &&Map<String, Value>, name: &&String| {
        entry.get(*name).map_or(String::new(), |member| value(member, name))
    };
    let rows: Vec<Vec<_>> =
        entries.iter().map(|entry| columns.iter().map(|name| cell(entry, name)).collect()).collect();
    Some(table(&label.replace('_', " "), &head.iter().map(String::as_str).collect::<Vec<_>>(), &rows))
}

fn notes(manual: &Manual<'_>, answer: &Value) -> String {
    let notes = answer.get("notes").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    if notes.is_empty() {
        return String::new();
    }
    let item = |note: &Value| {
        let part = |name| string(note, name).unwrap_or_default();
        let field = if part("field").is_empty() { String::new() } else { format!(" {}", code(part("field"))) };
        let (level, code) = (text(part("level")), code(part("code")));
        format!(
            "<li class=\"note {level}\"><p><strong>{level}</strong> {code}{field}</p><p>{}</p></li>\n",
            prose(manual, part("message"))
        )
    };
    format!("<h3>It notes</h3>\n<ul class=\"notes\">\n{}</ul>\n", notes.iter().map(item).collect::<String>())
}

fn basis(manual: &Manual<'_>, answer: &Value) -> String {
    let basis = answer.get("basis").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    if basis.is_empty() {
        return String::new();
    }
    let row = |of: &Value| {
        format!("<div><dt>{}</dt><dd>{}</dd></div>\n", text(string(of, "for").unwrap_or_default()), source(manual, of))
    };
    let rows: String = basis.iter().map(row).collect();
    format!("<h3>Where its built-in numbers came from</h3>\n<dl class=\"values\">\n{rows}</dl>\n")
}
