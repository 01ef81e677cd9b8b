//! Pointers into records, for what addresses a record and not its text.

use crate::draw::Draw;
use floodbar::quantity::Rules;
use floodbar::wire::{Kind, Table};
use serde_json::Value;

/// A content of a request's record: its pointer, kind and rules.
pub struct Place {
    /// Where it stands.
    pub pointer: String,
    /// What it holds.
    pub kind: &'static Kind,
    /// Within these.
    pub rules: &'static Rules,
}

/// Contents of a record of this kind, with the lists as long as those that were sent.
#[must_use]
pub fn of_request(table: &'static Table, request: &Value) -> Vec<Place> {
    let mut found = Vec::new();
    walk(table, Some(request), "", 0, &mut found);
    found
}

fn walk(table: &'static Table, sent: Option<&Value>, at: &str, depth: usize, found: &mut Vec<Place>) {
    const MOST_DEPTH: usize = 5;
    for field in table.fields {
        let pointer = format!("{at}/{}", field.name);
        let sent = sent.and_then(|sent| sent.get(field.name));
        match field.kind.content() {
            Kind::Record(inner) if depth < MOST_DEPTH => walk(inner, sent, &pointer, depth + 1, found),
            Kind::List(item, _) => {
                for (index, entry) in sent.and_then(Value::as_array).into_iter().flatten().enumerate().take(3) {
                    let pointer = format!("{pointer}/{index}");
                    match item {
                        Kind::Record(inner) => walk(inner, Some(entry), &pointer, depth + 1, found),
                        kind => found.push(Place { pointer, kind, rules: field.rules }),
                    }
                }
            }
            _ => {}
        }
        found.push(Place { pointer, kind: &field.kind, rules: field.rules });
    }
}

/// Pointers to the numbers, words and truth values of an answer.
#[must_use]
pub fn of_answer(answer: &Value) -> Vec<String> {
    let mut found = Vec::new();
    leaves(answer, "", &mut found);
    found
}

fn leaves(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(members) if members.contains_key("value") => found.push(at.to_owned()),
        Value::Object(members) => {
            let own = members.iter().filter(|(name, _)| !at.is_empty() || !["notes", "basis"].contains(&name.as_str()));
            own.for_each(|(name, member)| leaves(member, &format!("{at}/{name}"), found));
        }
        Value::Array(items) => {
            items.iter().enumerate().take(4).for_each(|(index, item)| leaves(item, &format!("{at}/{index}"), found));
        }
        Value::Null => {}
        _ => found.push(at.to_owned()),
    }
}

/// One of these pointers, or now and then one that leads nowhere.
pub fn pointer(places: &[String], draw: &mut Draw<'_>) -> String {
    match draw.below(24) {
        0 => String::new(),
        1 => "/nowhere/0".to_owned(),
        2 => format!("{}/value", draw.pick(&["/mesh", "/ink", "/0", "/notes/0"])),
        _ if places.is_empty() => "/".to_owned(),
        _ => draw.pick(places).clone(),
    }
}
