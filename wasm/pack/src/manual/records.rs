//! The records that requests and answers are made of: a page each, and the list of them.

use super::Manual;
use super::calculation;
use super::fields::{Way, members};
use super::html::{Found, Page, code, link, table, text};
use super::words::{prose, reference};
use crate::schema::string;
use serde_json::Value;
use std::collections::BTreeMap;

pub fn path(name: &str) -> String {
    format!("records/{name}.html")
}

/// The page of each record, and of all.
pub fn pages(manual: &Manual<'_>) -> Vec<Page> {
    let users = users(manual);
    let mut pages: Vec<Page> = manual.records().map(|(name, schema)| page(manual, name, schema, &users)).collect();
    pages.push(index(manual));
    pages
}

fn page(manual: &Manual<'_>, name: &str, schema: &Value, users: &BTreeMap<String, Vec<String>>) -> Page {
    let mut body = format!(
        "<p class=\"kicker\">{}</p>\n<h1>{}</h1>\n<p class=\"lead\">{}</p>\n",
        link("records.html", "record"),
        text(name),
        prose(manual, string(schema, "description").unwrap_or_default())
    );
    let used: String = users.get(name).into_iter().flatten().map(|user| format!("<li>{user}</li>")).collect();
    if !used.is_empty() {
        body += &format!("<div class=\"used\"><p>Stands in</p><ul>{used}</ul></div>\n");
    }
    let mut places = Vec::new();
    let shown = manual.definition(&format!("{name}Shown"));
    let changed = manual.definition(&format!("{name}Changed")).and_then(|changed| changed.pointer("/properties/from"));
    let schema = &changed.map_or_else(|| schema.clone(), |from| with_stock(schema, from));
    let own = if is_asked(schema) { Way::Asked } else { Way::Answered };
    for (way, schema) in [Some((own, schema)), shown.map(|shown| (Way::Answered, shown))].into_iter().flatten() {
        let (anchor, title) =
            if way == Way::Asked { ("takes", "What it takes") } else { ("answers", "As it is answered") };
        let from = match changed.filter(|_| way == Way::Asked) {
            Some(_) => {
                "<p class=\"choice\">With <a href=\"#field-from\"><code>from</code></a> every other field may be left out: it is then that of the stock row.</p>\n"
            }
            None => "",
        };
        body += &format!(
            "<section>\n<h2 id=\"{anchor}\">{title}</h2>\n{from}{}</section>\n",
            members(manual, schema, way, &[])
        );
        for (field, member) in schema.get("properties").and_then(Value::as_object).into_iter().flatten() {
            let label = string(member, "title").unwrap_or_default();
            places.push([format!("{}-{field}", way.anchor()), field.clone(), label.to_owned()]);
        }
    }
    let meaning = string(schema, "description").unwrap_or_default().to_owned();
    Page {
        path: path(name),
        title: name.to_owned(),
        step: None,
        body,
        found: Found { kind: "record".into(), asked: vec![meaning], places },
    }
}

/// A record whose `from` tells both what it names and what it means where it is left out.
fn with_stock(schema: &Value, from: &Value) -> Value {
    let (mut schema, mut from) = (schema.clone(), from.clone());
    if let Some(own) = schema.pointer_mut("/properties/from") {
        if let (Some(members), Some(none)) = (from.as_object_mut(), own.get("description")) {
            members.insert("x-default".into(), none.clone());
        }
        *own = from;
    }
    schema
}

/// Whether a record is asked for: its members then tell how a form shows them, or how operators vary them.
fn is_asked(schema: &Value) -> bool {
    let mut members = schema.get("properties").and_then(Value::as_object).into_iter().flatten();
    members.any(|(_, member)| member.get("x-rank").is_some())
}

/// Links to what refers to each record.
fn users(manual: &Manual<'_>) -> BTreeMap<String, Vec<String>> {
    let mut users: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut note = |schema: &Value, user: String, own: &str| {
        let mut names = Vec::new();
        references(schema, &mut names);
        for name in names {
            let name = manual.base(&name);
            let known = users.entry(name.to_owned()).or_default();
            if name != own && !known.contains(&user) {
                known.push(user.clone());
            }
        }
    };
    // What every answer carries would list every calculation.
    for calculation in manual.calculations() {
        let id = string(calculation, "id").unwrap_or_default();
        for part in ["request", "answer"] {
            let properties = calculation.get(part).and_then(|part| part.get("properties")).and_then(Value::as_object);
            let own = properties
                .into_iter()
                .flatten()
                .filter(|(name, _)| !matches!(name.as_str(), "notes" | "basis" | "doubt"));
            own.for_each(|(_, member)| note(member, link(&calculation::path(id), &code(id)), ""));
        }
    }
    for (name, schema) in manual.definitions() {
        let base = manual.base(name);
        if manual.record(base).is_some() {
            note(schema, link(&path(base), &text(base)), base);
        }
    }
    users
}

fn references(schema: &Value, names: &mut Vec<String>) {
    if let Some(name) = reference(schema) {
        names.push(name.to_owned());
    }
    match schema {
        Value::Object(members) => members.values().for_each(|member| references(member, names)),
        Value::Array(items) => items.iter().for_each(|item| references(item, names)),
        _ => {}
    }
}

fn index(manual: &Manual<'_>) -> Page {
    let rows: Vec<_> = manual
        .records()
        .map(|(name, schema)| {
            vec![link(&path(name), &text(name)), prose(manual, string(schema, "description").unwrap_or_default())]
        })
        .collect();
    let keywords = manual.catalogue.get("keywords").and_then(Value::as_object).into_iter().flatten();
    let keywords: Vec<_> =
        keywords.map(|(name, meaning)| vec![code(name), prose(manual, meaning.as_str().unwrap_or_default())]).collect();
    let body = format!(
        "<h1>Records</h1>\n<p class=\"lead\">What requests and answers are made of, by name: the step, then the thing.</p>\n{}<section>\n<h2 id=\"keywords\">Keywords of the schemas</h2>\n<p>The schemas are JSON Schema, draft 2020-12, with these keywords of their own.</p>\n{}</section>\n",
        table("Records", &["Record", "What it is"], &rows),
        table("Keywords", &["Keyword", "What it says"], &keywords),
    );
    let asked = vec!["Which keywords do the schemas have?".to_owned()];
    Page {
        path: "records.html".into(),
        title: "Records".into(),
        step: None,
        body,
        found: Found { kind: "list".into(), asked, places: Vec::new() },
    }
}
