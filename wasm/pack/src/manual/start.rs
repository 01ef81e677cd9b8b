//! The start page: every question, in the order in which a print is made.

use super::Manual;
use super::calculation::path;
use super::ground::capital;
use super::html::{Found, Page, code, link, text};
use crate::schema::string;
use serde_json::Value;

pub fn page(manual: &Manual<'_>) -> Page {
    let mut body = format!(
        "{}<h1>The Floodbar manual</h1>\n<p class=\"lead\">Every question that the library answers, in the order in which a print is made: from the mesh to the wash.</p>\n",
        screen()
    );
    for (step, calculations) in manual.steps() {
        let items = calculations.into_iter().map(|of| {
            let part = |name| string(of, name).unwrap_or_default();
            format!(
                "<li>{}<span>{}. {}</span></li>\n",
                link(&path(part("id")), &text(part("question"))),
                text(part("title")),
                code(part("id"))
            )
        });
        body += &format!(
            "<section class=\"step\">\n<h2 id=\"{step}\">{}</h2>\n<ul>\n{}</ul>\n</section>\n",
            text(&capital(step)),
            items.collect::<String>()
        );
    }
    let asked = manual.catalogue.get("name").and_then(Value::as_str).map(str::to_owned).into_iter().collect();
    let found = Found { kind: "start".into(), asked, places: Vec::new() };
    Page { path: "index.html".into(), title: "The Floodbar manual".into(), step: None, body, found }
}

/// A print of dots that run from open to closed: an ornament.
fn screen() -> String {
    const COLUMNS: u32 = 48;
    const ROWS: u32 = 4;
    let mut dots = String::new();
    for row in 0..ROWS {
        for column in 0..COLUMNS {
            // Every second row is shifted by half a column, as in a screen at 45 degrees.
            let shift = if row % 2 == 0 { 0.0 } else { 4.0 };
            let x = f64::from(column) * 8.0 + shift + 4.0;
            let radius = 0.5 + 3.9 * f64::from(column) / f64::from(COLUMNS);
            dots += &format!("<circle cx=\"{x}\" cy=\"{}\" r=\"{radius:.2}\"/>", f64::from(row) * 4.0 + 4.0);
        }
    }
    format!("<svg class=\"screen\" viewBox=\"0 0 384 20\" aria-hidden=\"true\" focusable=\"false\">{dots}</svg>\n")
}
