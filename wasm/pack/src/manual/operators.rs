//! What can be asked of any calculation: the operators of the catalogue and doubts, each with an example worked out.

use super::Manual;
use super::calculation::{json_of, path as path_of};
use super::fields::{Way, members};
use super::ground::capital;
use super::html::{Found, Page, code, figures, link, table, text};
use super::plot::Plot;
use super::words::prose;
use crate::schema::string;
use serde_json::{Value, json};

fn path(name: &str) -> String {
    format!("operators/{name}.html")
}

/// A calculation that has a plot: what its examples vary and want.
pub struct Plotted<'a> {
    pub id: &'a str,
    pub example: &'a Value,
    pub plot: &'a Plot,
}

/// The page of each operator, of doubts, and the list of them.
///
/// # Errors
/// A sentence where no calculation makes an example.
pub fn pages(manual: &Manual<'_>, plotted: &[Plotted<'_>]) -> Result<Vec<Page>, String> {
    let operators = manual.catalogue.get("operators").and_then(Value::as_object).into_iter().flatten();
    let mut pages = Vec::new();
    let mut rows = Vec::new();
    for (name, operator) in operators {
        let example = plotted
            .iter()
            .find_map(|of| example(name, of))
            .ok_or_else(|| format!("no calculation makes an example of {name}"))?;
        let description = string(operator, "description").unwrap_or_default();
        let mut body = head(name, &prose(manual, description));
        for (part, anchor, title, way) in
            [("spec", "takes", "What it takes", Way::Asked), ("answer", "answers", "What it answers", Way::Answered)]
        {
            if let Some(schema) = operator.get(part) {
                body += &format!(
                    "<section>\n<h2 id=\"{anchor}\">{title}</h2>\n{}</section>\n",
                    members(manual, schema, way, &[])
                );
            }
        }
        body += &format!("<section>\n<h2 id=\"example\">Example</h2>\n{example}</section>\n");
        rows.push(vec![link(&path(name), &code(name)), prose(manual, description)]);
        pages.push(page(name, description, body));
    }
    let doubt = manual.definition("Doubt").ok_or("a catalogue without doubts")?;
    let carried = manual
        .calculations()
        .first()
        .and_then(|of| of.pointer("/request/properties/doubt/description")?.as_str())
        .unwrap_or_default();
    // The shortest is the plainest.
    let examples = plotted.iter().filter_map(doubted);
    let example = examples.min_by_key(String::len).ok_or("no calculation makes an example of doubt")?;
    let body = head("doubt", &prose(manual, carried))
        + &format!(
            "<section>\n<h2 id=\"answers\">What it answers</h2>\n<p>{}</p>\n{}</section>\n<section>\n<h2 id=\"example\">Example</h2>\n{example}</section>\n",
            prose(manual, string(doubt, "description").unwrap_or_default()),
            members(manual, doubt, Way::Answered, &[])
        );
    rows.push(vec![link(&path("doubt"), "doubt"), prose(manual, carried)]);
    pages.push(page("doubt", carried, body));
    let body = format!(
        "<h1>Operators</h1>\n<p class=\"lead\">What can be asked of any calculation beside one answer.</p>\n{}",
        table("Operators", &["Operator", "What it does"], &rows)
    );
    let found = Found { kind: "list".into(), asked: Vec::new(), places: Vec::new() };
    pages.push(Page { path: "operators.html".into(), title: "Operators".into(), step: None, body, found });
    Ok(pages)
}

fn head(name: &str, description: &str) -> String {
    format!(
        "<p class=\"kicker\">{}</p>\n<h1>{}</h1>\n<p class=\"lead\">{description}</p>\n",
        link("operators.html", "operator"),
        text(&capital(name))
    )
}

fn page(name: &str, description: &str, body: String) -> Page {
    let found = Found { kind: "operator".into(), asked: vec![description.to_owned()], places: Vec::new() };
    Page { path: path(name), title: capital(name), step: None, body, found }
}

/// An example of that operator with a calculation, as HTML, if it answers.
fn example(name: &str, of: &Plotted<'_>) -> Option<String> {
    let (spec, answer) = match name {
        "sweep" => {
            let mut spec = of.plot.spec.clone();
            spec.as_object_mut()?.insert("points".into(), json!(5));
            let answer = floodbar::sweep(of.id, of.example, &spec).ok()?;
            (spec, json_of(&answer))
        }
        "solve" => solved(of)?,
        "prepare" => prepared(of)?,
        _ => return None,
    };
    let asked = link(&path_of(of.id), &code(of.id));
    Some(format!("<p>Of {asked}:</p>\n{}<p>with</p>\n{}<p>answers</p>\n{answer}", json_of(of.example), json_of(&spec)))
}

/// Solving for what the answer is midway.
fn solved(of: &Plotted<'_>) -> Option<(Value, String)> {
    let (_, middle) = of.plot.points.get(of.plot.points.len() / 2)?;
    let wanted = figures((*middle)?, 3).replace('\u{202f}', "").replace('\u{2212}', "-").parse::<f64>().ok()?;
    let unit = of.plot.y_unit.as_str();
    let equals = if unit == "1" { json!(wanted) } else { json!({ "value": wanted, "unit": unit }) };
    let spec = json!({ "vary": of.plot.vary, "from": of.plot.spec.get("from"), "to": of.plot.spec.get("to"), "want": of.plot.want, "equals": equals });
    let answer = floodbar::solve(of.id, of.example, &spec).ok()?;
    Some((spec, json_of(&answer)))
}

/// Rows at both ends, between them, and one that is refused.
fn prepared(of: &Plotted<'_>) -> Option<(Value, String)> {
    let column =
        |at: &str, unit: &str| if unit == "1" { json!({ "at": at }) } else { json!({ "at": at, "unit": unit }) };
    let spec = json!({ "inputs": [column(&of.plot.vary, &of.plot.x_unit)], "outputs": [column(&of.plot.want, &of.plot.y_unit)] });
    let prepared = floodbar::prepare(of.id, of.example, &spec).ok()?;
    let given = |place: usize| of.plot.points.get(place).map(|(x, _)| *x);
    let rows = [given(0)?, given(of.plot.points.len() / 2)?, given(of.plot.points.len().saturating_sub(1))?, -1.0];
    let mut numbers = [0.0; 4];
    let said = prepared.run(&[&rows], &mut [&mut numbers]).ok()?;
    let (first, rest) = said.split_first()?;
    if first.status.is_err() || rest.last()?.status.is_ok() {
        return None;
    }
    let row = |((x, y), said): ((&f64, &f64), &floodbar::catalogue::Row)| {
        let status = said.status.map_or_else(|code| code.text().to_owned(), |()| "success".into());
        let y = if said.status.is_ok() { figures(*y, 6) } else { "NaN".into() };
        vec![figures(*x, 6), y, code(&status), said.cautions.to_string(), said.limits.to_string()]
    };
    let rows: Vec<_> = rows.iter().zip(&numbers).zip(&said).map(row).collect();
    let name = |at: &str, unit: &str| if unit == "1" { text(at) } else { format!("{}, {}", text(at), text(unit)) };
    let head = [name(&of.plot.vary, &of.plot.x_unit), name(&of.plot.want, &of.plot.y_unit)];
    let head: Vec<&str> = head.iter().map(String::as_str).chain(["Status", "Cautions", "Limits"]).collect();
    Some((spec, table("Rows of numbers", &head, &rows)))
}

/// The example of a calculation with a doubt of one of its numbers.
fn doubted(of: &Plotted<'_>) -> Option<String> {
    let mut request = of.example.clone();
    let given = request.pointer_mut(&of.plot.vary)?;
    *given = json!(format!("{} +/- 2 %", given.as_str()?));
    request.as_object_mut()?.insert("explain".into(), json!(false));
    let answer = floodbar::calculate(of.id, &request).ok()?;
    let doubts = answer.get("doubt")?.as_array().filter(|doubts| !doubts.is_empty())?;
    let want = answer.pointer(&of.plot.want).filter(|want| want.get("plus_minus").is_some())?;
    let asked = link(&path_of(of.id), &code(of.id));
    Some(format!(
        "<p>Of {asked}:</p>\n{}<p>answers {} with its doubt, and says where that comes from:</p>\n{}{}",
        json_of(&request),
        code(of.plot.want.trim_start_matches('/')),
        json_of(want),
        json_of(&Value::from(doubts.clone()))
    ))
}
