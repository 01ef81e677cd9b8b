//! The page of a calculation: what it is asked, what it takes and answers, its formula and sources, and its example worked out.

use super::Manual;
use super::fields::{Way, members};
use super::html::{Found, Page, code, json, json_box, link, text};
use super::plot::Plot;
use super::shown;
use super::words::{prose, source};
use crate::schema::{list, string};
use serde_json::Value;

pub fn path(id: &str) -> String {
    format!("calculations/{id}.html")
}

/// How the layers are asked.
const CALLS: [(&str, &str); 4] = [
    ("Rust", "let answer = floodbar::calculate(\"{id}\", &request)?;"),
    ("C", "floodbar_status status = floodbar_calculate(\"{id}\", request, &answer);"),
    ("Python", "answer = floodbar.calculate(\"{id}\", **request)"),
    ("JavaScript", "const answer = calculate(\"{id}\", request);"),
];

/// # Errors
/// A sentence where the example has no answer.
pub fn page(manual: &Manual<'_>, calculation: &Value, plot: Option<&Plot>) -> Result<Page, String> {
    let part = |name| string(calculation, name).unwrap_or_default();
    let (id, question, title) = (part("id"), part("question"), part("title"));
    let (null, example) = (Value::Null, calculation.get("example").unwrap_or(&Value::Null));
    let answer =
        floodbar::calculate(id, example).map_err(|error| format!("the example of {id} has no answer: {error}"))?;
    let (request, answered) = (calculation.get("request").unwrap_or(&null), calculation.get("answer").unwrap_or(&null));
    let asked: Vec<_> = list(calculation, "asked").iter().filter_map(Value::as_str).collect();
    let headline: Vec<_> = list(calculation, "headline").iter().filter_map(Value::as_str).collect();
    let step = step(id);

    let mut body = format!(
        "<p class=\"kicker\"><a href=\"{root}index.html#{step}\">{step}</a> {}</p>\n<h1>{}</h1>\n<p class=\"lead\">{}.</p>\n",
        code(id),
        text(question),
        text(title),
        root = super::html::ROOT,
    );
    if !asked.is_empty() {
        let items: String = asked.iter().map(|question| format!("<li>{}</li>", text(question))).collect();
        body += &format!("<div class=\"asked\"><p>Also asked as</p><ul>{items}</ul></div>\n");
    }
    body += "<nav class=\"here\" aria-label=\"On this page\"><ul><li><a href=\"#formula\">Formula</a></li><li><a href=\"#takes\">What it takes</a></li><li><a href=\"#answers\">What it answers</a></li><li><a href=\"#example\">Example</a></li>";
    if plot.is_some() {
        body += "<li><a href=\"#plot\">How it moves</a></li>";
    }
    body += "<li><a href=\"#sources\">Sources</a></li></ul></nav>\n";
    body += &format!("<section>\n<h2 id=\"formula\">Formula</h2>\n{}</section>\n", formula(manual, part("formula")));
    body += &section("takes", "What it takes", request, manual, &members(manual, request, Way::Asked, &[]));
    body +=
        &section("answers", "What it answers", answered, manual, &members(manual, answered, Way::Answered, &headline));
    body += &format!(
        "<section>\n<h2 id=\"example\">Example</h2>\n<p>Asked:</p>\n{}",
        json_box("request", "The request of the example as JSON", example)
    );
    body += &format!("<p>Answered, rounded to four figures:</p>\n{}", shown::answer(manual, &answer, answered));
    body += &format!(
        "<details><summary>The answer in full, as JSON</summary>\n{}</details>\n",
        json_box("answer", "The answer of the example as JSON", &answer)
    );
    let calls: String = CALLS
        .iter()
        .map(|(language, call)| format!("<div><dt>{language}</dt><dd>{}</dd></div>", code(&call.replace("{id}", id))))
        .collect();
    body += &format!(
        "<details><summary>The same call from Rust, C, Python and JavaScript</summary>\n<p><code>request</code> is the JSON above; in C its text.</p>\n<dl class=\"values calls\">{calls}</dl></details>\n</section>\n"
    );
    if let Some(plot) = plot {
        body += &format!("<section>\n<h2 id=\"plot\">How it moves</h2>\n{}</section>\n", plot.html());
    }
    let sources: String =
        list(calculation, "sources").iter().map(|of| format!("<li>{}</li>\n", source(manual, of))).collect();
    body +=
        &format!("<section>\n<h2 id=\"sources\">Sources</h2>\n<ul class=\"sources\">\n{sources}</ul>\n</section>\n");
    body += &neighbours(manual, id);

    let place = |way: Way, schema: &Value| {
        let members = schema.get("properties").and_then(Value::as_object).into_iter().flatten();
        let own = members.filter(|(_, member)| {
            string(member, "title").is_some() && (way == Way::Answered || member.get("x-rank").is_some())
        });
        own.map(|(name, member)| {
            [format!("{}-{name}", way.anchor()), name.clone(), string(member, "title").unwrap_or_default().to_owned()]
        })
        .collect::<Vec<_>>()
    };
    let mut places = place(Way::Asked, request);
    places.extend(place(Way::Answered, answered));
    let mut also: Vec<String> = asked.into_iter().map(str::to_owned).collect();
    also.extend([title.to_owned(), id.to_owned()]);
    Ok(Page {
        path: path(id),
        title: question.to_owned(),
        step: Some(step.to_owned()),
        body,
        found: Found { kind: id.to_owned(), asked: also, places },
    })
}

/// The step of the print's path that a calculation belongs to.
pub fn step(id: &str) -> &str {
    id.split('.').next().unwrap_or(id)
}

fn section(anchor: &str, title: &str, schema: &Value, manual: &Manual<'_>, content: &str) -> String {
    let meaning = prose(manual, string(schema, "description").unwrap_or_default());
    format!("<section>\n<h2 id=\"{anchor}\">{title}</h2>\n<p>{meaning}</p>\n{content}</section>\n")
}

/// A formula, a statement a line: they are separated by semicolons outside of brackets.
fn formula(manual: &Manual<'_>, formula: &str) -> String {
    let mut depth = 0_i32;
    let mut lines = vec![String::new()];
    for c in formula.chars() {
        match c {
            '(' | '[' => depth = depth.saturating_add(1),
            ')' | ']' => depth = depth.saturating_sub(1),
            ';' if depth == 0 => {
                lines.push(String::new());
                continue;
            }
            _ => {}
        }
        if let Some(line) = lines.last_mut() {
            line.push(c);
        }
    }
    let lines: String = lines.iter().map(|line| format!("<li>{}</li>\n", prose(manual, line.trim()))).collect();
    format!("<ul class=\"formula\">\n{lines}</ul>\n")
}

/// The calculations before and after this one.
fn neighbours(manual: &Manual<'_>, id: &str) -> String {
    let all: Vec<_> = manual.calculations().iter().collect();
    let place = all.iter().position(|of| string(of, "id") == Some(id)).unwrap_or_default();
    let to = |of: Option<&&Value>, class: &str, word: &str| {
        let of = of?;
        let question = text(string(of, "question").unwrap_or_default());
        Some(format!("<li class=\"{class}\"><span>{word}</span> {}</li>", link(&path(string(of, "id")?), &question)))
    };
    let before = place.checked_sub(1).and_then(|before| to(all.get(before), "before", "Before"));
    let after = to(all.get(place.saturating_add(1)), "after", "Next");
    let items: String = before.into_iter().chain(after).collect();
    format!("<nav class=\"along\" aria-label=\"Along the path\"><ul>{items}</ul></nav>\n")
}

/// A request or an answer on a page that shows several.
pub fn json_of(value: &Value) -> String {
    format!("<pre role=\"group\" tabindex=\"0\" aria-label=\"JSON\"><code>{}</code></pre>\n", text(&json(value)))
}
