//! The members of a record, as a list: what is asked for with its ranges and defaults, or what is answered with its units.

use super::Manual;
use super::html::{code, text};
use super::words::{choices, is_chosen, left_out, prose, range, takes};
use crate::schema::{list, string};
use serde_json::Value;

/// Which way a record goes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Way {
    Asked,
    Answered,
}

impl Way {
    /// Before the names of members in anchors.
    pub const fn anchor(self) -> &'static str {
        match self {
            Self::Asked => "field",
            Self::Answered => "answer",
        }
    }
}

/// The members of a record. Those of `first` are marked: they are what the answer is asked for.
pub fn members(manual: &Manual<'_>, schema: &Value, way: Way, first: &[&str]) -> String {
    let required: Vec<_> = list(schema, "required").iter().filter_map(Value::as_str).collect();
    let mut groups: Vec<(&str, String)> = vec![("", String::new())];
    for (name, member) in schema.get("properties").and_then(Value::as_object).into_iter().flatten() {
        let group = string(member, "x-group").unwrap_or(match way {
            Way::Asked if is_of_all(name, member) => "Of every question",
            Way::Answered if is_of_all(name, member) => "Of every answer",
            _ => "",
        });
        let standing = match way {
            _ if required.contains(&name.as_str()) => Standing::Needed,
            Way::Asked if is_chosen(schema, name) => Standing::Chosen,
            _ => Standing::Optional,
        };
        let html = one(manual, name, member, way, standing, first.contains(&name.as_str()));
        match groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, text)) => *text += &html,
            None => groups.push((group, html)),
        }
    }
    let mut html: String = if way == Way::Asked { choices(schema) } else { Vec::new() }
        .iter()
        .map(|said| format!("<p class=\"choice\">{said}</p>\n"))
        .collect();
    for (group, members) in groups.iter().filter(|(_, members)| !members.is_empty()) {
        if !group.is_empty() {
            html += &format!("<h3>{}</h3>\n", text(group));
        }
        html += &format!("<dl class=\"members\">\n{members}</dl>\n");
    }
    html
}

/// What every request may carry and every answer tells, which is no field of a record.
fn is_of_all(name: &str, member: &Value) -> bool {
    let is_asked = matches!(name, "units" | "explain" | "doubt") && member.get("default").is_some();
    let is_answered = matches!(name, "notes" | "basis" | "doubt") && member.get("title").is_none();
    is_asked && member.get("x-rank").is_none() || is_answered && member.get("items").is_some()
}

/// Whether a member may be absent.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Standing {
    Needed,
    /// Given in the place of others, or together with them.
    Chosen,
    Optional,
}

fn one(manual: &Manual<'_>, name: &str, member: &Value, way: Way, standing: Standing, is_first: bool) -> String {
    let anchor = format!("{}-{name}", way.anchor());
    let label =
        string(member, "title").map_or(String::new(), |label| format!(" <span class=\"label\">{}</span>", text(label)));
    let mark = match way {
        Way::Asked if standing == Standing::Needed => " <span class=\"mark\">needed</span>",
        Way::Answered if is_first => " <span class=\"mark\">headline</span>",
        _ => "",
    };
    let meaning = string(member, "description").map_or(String::new(), |text| format!("<p>{}</p>", prose(manual, text)));
    let what = takes(manual, member);
    let mut facts = Vec::new();
    if way == Way::Asked {
        facts.push(("Takes", what));
        facts.extend(range(member).map(|range| ("Range", range)));
        let default = left_out(manual, member).or_else(|| match standing {
            Standing::Needed => None,
            Standing::Chosen => Some("where the choice above allows it".into()),
            Standing::Optional => Some("allowed".into()),
        });
        facts.extend(default.map(|default| ("Left out", default)));
    } else {
        facts.push(("Is", what));
        facts.extend((standing == Standing::Optional).then(|| ("Absent", "where it does not apply".into())));
    }
    let facts: String = facts
        .iter()
        .map(|(what, fact)| format!("<li><span class=\"what\">{what}</span> <div>{fact}</div></li>\n"))
        .collect();
    format!(
        "<div id=\"{anchor}\"><dt><a href=\"#{anchor}\">{}</a>{label}{mark}</dt><dd>{meaning}<ul class=\"facts\">{facts}</ul></dd></div>\n",
        code(name)
    )
}
