//! What all questions share: units and how numbers are written, errors, and the stock.

use super::Manual;
use super::calculation::json_of;
use super::html::{Found, Page, code, codes, figures, link, table, text};
use super::shown;
use super::words::{prose, source};
use crate::schema::string;
use floodbar::Code;
use floodbar::quantity::{Dimension, UNITS};
use serde_json::{Value, json};

fn page(path: &str, title: &str, asked: &[&str], places: Vec<[String; 3]>, body: String) -> Page {
    let asked = asked.iter().map(|asked| (*asked).to_owned()).collect();
    Page {
        path: path.into(),
        title: title.into(),
        step: None,
        body,
        found: Found { kind: "units".into(), asked, places },
    }
}

/// Every unit and spelling, by what it measures, and money.
pub fn units(manual: &Manual<'_>) -> Page {
    let mut body = String::from(
        "<h1>Units</h1>
<p class=\"lead\">A quantity comes with its unit, as a text or as an object; a bare number is taken only where a plain number belongs.</p>
<section>
<h2 id=\"forms\">How a number is written</h2>
",
    );
    let forms = [
        ("\"12 ft/min\"", "a number and its unit, with or without a space"),
        ("{\"value\": 12, \"unit\": \"ft/min\"}", "the same, as answers come too"),
        ("\"1/16 in\"", "a fraction"),
        ("\"3 1/2 in\"", "a whole number and a fraction"),
        ("\"1e-3 m\"", "a power of ten"),
        ("\"27 um +/- 3 um\"", "with doubt: the half-width of its 95 % interval, also after \u{b1} or +-"),
        ("\"27 um +/- 3 %\"", "with doubt, relative to the value; not of a temperature"),
        ("\"160 +/- 3 degC\"", "with doubt, the unit said once; a temperature's doubt is a difference"),
        ("{\"value\": 27, \"unit\": \"um\", \"plus_minus\": 3}", "with doubt, as an object"),
        ("\"40 %\"", "a fraction in per cent, where a plain number belongs"),
    ];
    let forms: Vec<_> = forms.map(|(form, says)| vec![code(form), text(says)]).into();
    body += &table("Forms", &["Written", "What it is"], &forms);
    body += "<p><code>\u{b5}</code>, <code>\u{3bc}</code> and <code>u</code> are the same, and so are <code>\u{b2}</code> and <code>2</code>, <code>\u{b3}</code> and <code>3</code>. A comma in a number is refused. Doubts are carried into the answer: see <a href=\"@root/operators/doubt.html\">doubt</a>.</p>\n</section>\n";
    let mut places = Vec::new();
    let mut dimensions: Vec<Dimension> = Dimension::ALL.to_vec();
    dimensions.sort_by_key(|of| manual.definitions().position(|(name, _)| name == anchor(*of)));
    for dimension in dimensions {
        let name = anchor(dimension);
        let units = || UNITS.iter().filter(|unit| unit.dimension == dimension);
        let base = units().find(|unit| is_base(unit.to_si(1.0), unit.to_si(0.0))).map_or("", |unit| unit.name);
        let base = if base == "1" { "" } else { base };
        let rows: Vec<_> = units()
            .map(|unit| {
                let zero = unit.to_si(0.0);
                let shift = if zero.abs() > 0.0 {
                    format!(", zero at {}\u{a0}{}", figures(zero, 7), text(base))
                } else {
                    String::new()
                };
                let worth = format!("{}\u{a0}{}{shift}", figures(unit.to_si(1.0) - zero, 10), text(base));
                vec![
                    code(unit.name),
                    codes(unit.spellings.iter().copied().filter(|spelling| !spelling.is_empty())),
                    worth,
                ]
            })
            .collect();
        let title = capital(dimension.text().split_once(' ').map_or(dimension.text(), |(_, noun)| noun));
        body += &format!(
            "<section>\n<h2 id=\"{name}\">{}</h2>\n<p>Such as {}.</p>\n{}</section>\n",
            text(&title),
            code(dimension.example()),
            table(&title, &["Unit", "Also written", "One is"], &rows)
        );
        let spelt: Vec<_> = units().map(|unit| unit.name).collect();
        places.push([name.to_owned(), title, spelt.join(" ")]);
    }
    body += &money(manual);
    page(
        "units.html",
        "Units",
        &["Which units are taken?", "How is a doubt written?", "Fractions of an inch"],
        places,
        body,
    )
}

/// Whether a unit is that of the SI by itself.
fn is_base(one: f64, zero: f64) -> bool {
    (one - 1.0).abs() <= 0.0 && zero.abs() <= 0.0
}

/// The name of a dimension in schemas.
fn anchor(dimension: Dimension) -> &'static str {
    if dimension == Dimension::Fraction { "Number" } else { dimension.name() }
}

pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn money(manual: &Manual<'_>) -> String {
    let forms =
        manual.definitions().filter(|(name, schema)| name.starts_with("Money") && manual.is_money(name, schema));
    let rows: Vec<_> = forms
        .map(|(name, schema)| {
            vec![
                format!("<span id=\"{0}\">{0}</span>", text(name)),
                prose(manual, string(schema, "description").unwrap_or_default()),
            ]
        })
        .collect();
    format!(
        "<section>\n<h2 id=\"money\">Money</h2>\n<p>A decimal and a currency of ISO 4217, where it is a rate also what it is per. A decimal is a text or a number, and is never rounded in binary.</p>\n{}</section>\n",
        table("Money", &["Form", "What it is"], &rows)
    )
}

/// Each code with its number and its meaning, and one error as it comes.
///
/// # Errors
/// A sentence where what must be refused is not.
pub fn errors(manual: &Manual<'_>) -> Result<Page, String> {
    let rows: Vec<_> = Code::ALL
        .iter()
        .map(|of| {
            let more = manual.catalogue.pointer(&format!("/beyond_schemas/{}", of.text())).and_then(Value::as_str);
            let more = more.map_or(String::new(), |more| prose(manual, &capital(more)) + ".");
            vec![format!("<code id=\"{0}\">{0}</code>", of.text()), (*of as i32).to_string(), text(of.meaning()), more]
        })
        .collect();
    let first = manual.calculations().first().ok_or("a catalogue without calculations")?;
    let id = string(first, "id").unwrap_or_default();
    let mut request = first.get("example").cloned().unwrap_or_default();
    if let Some(members) = request.as_object_mut() {
        members.insert("qantity".into(), json!(12));
    }
    let Err(error) = floodbar::calculate(id, &request) else {
        return Err(format!("{id} takes a field that it does not have"));
    };
    let body = format!(
        "<h1>Errors</h1>
<p class=\"lead\">A request that has no answer gets one error: the first fault, with the field at fault as a JSON pointer, what was got and what is allowed.</p>
{}<section>
<h2 id=\"form\">As it comes</h2>
<p>{} asked with a field that it does not have:</p>
{}{}<p>The C layer gives the number as its status, Python and JavaScript raise the same members, Rust returns them as <code>Error</code>. Refusals that a schema tells of need no further reason; the last column tells what only the reader can know.</p>
</section>
",
        table("Codes of errors", &["Code", "Status", "Meaning", "Also, though the schema takes it"], &rows),
        link(&super::calculation::path(id), &code(id)),
        json_of(&request),
        json_of(&error.to_json()),
    );
    let places =
        Code::ALL.iter().map(|of| [of.text().to_owned(), of.text().to_owned(), of.meaning().to_owned()]).collect();
    Ok(page("errors.html", "Errors", &["Why was my request refused?"], places, body))
}

pub fn shelf_path(kind: &str) -> String {
    format!("stock/{kind}.html")
}

/// A page a shelf, and the list of them.
pub fn stock(manual: &Manual<'_>) -> Vec<Page> {
    let rows = |shelf: &Value| shelf.get("rows").and_then(Value::as_array).cloned().unwrap_or_default();
    let mut pages = Vec::new();
    let mut shelves = Vec::new();
    for shelf in manual.shelves() {
        let kind = string(shelf, "kind").unwrap_or_default();
        let named = |row: &Value| {
            (string(row, "name").unwrap_or_default().to_owned(), string(row, "label").unwrap_or_default().to_owned())
        };
        let rows = rows(shelf);
        let names = rows.iter().map(|row| {
            let (name, label) = named(row);
            format!("<li><a href=\"#row-{0}\">{1}</a> {2}</li>", text(&name), text(&label), code(&name))
        });
        let mut body = format!(
            "<p class=\"kicker\">{}</p>\n<h1>Stock: {}</h1>\n<p class=\"lead\">Each value with where it comes from. A name stands for its whole row; any value of it can be replaced in a request.</p>\n<ul class=\"contents\">{}</ul>\n",
            link("stock.html", "stock"),
            text(kind),
            names.collect::<String>()
        );
        for row in &rows {
            body += &stocked(manual, row, manual.shelved(kind));
        }
        let list: Vec<_> = rows
            .iter()
            .map(&named)
            .map(|(name, _)| link(&format!("{}#row-{name}", shelf_path(kind)), &code(&name)))
            .collect();
        shelves.push(vec![link(&shelf_path(kind), &text(kind)), list.join(", ")]);
        let places = rows.iter().map(&named).map(|(name, label)| [format!("row-{name}"), name, label]).collect();
        let title = format!("Stock: {kind}");
        let asked = vec![format!("Which {kind} is in stock?")];
        pages.push(Page {
            path: shelf_path(kind),
            title,
            step: None,
            body,
            found: Found { kind: "stock".into(), asked, places },
        });
    }
    let body = format!(
        "<h1>Stock</h1>\n<p class=\"lead\">Materials and machines that a request may name. They are starting points: what was measured in the own shop is better.</p>\n{}",
        table("Shelves", &["Kind", "Rows"], &shelves)
    );
    let found = Found { kind: "stock".into(), asked: vec!["What is built in?".into()], places: Vec::new() };
    pages.push(Page { path: "stock.html".into(), title: "Stock".into(), step: None, body, found });
    pages
}

fn stocked(manual: &Manual<'_>, row: &Value, record: Option<&str>) -> String {
    let (name, label) = (string(row, "name").unwrap_or_default(), string(row, "label").unwrap_or_default());
    let basis = row.get("basis").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let values = row.get("values").and_then(Value::as_object).into_iter().flatten();
    let rows: Vec<_> = values
        .map(|(field, value)| {
            let of = basis.iter().filter(|of| string(of, "field") == Some(field));
            let mut sources: Vec<_> = of.map(|of| source(manual, of)).collect();
            let member = record.and_then(|record| manual.definition(record)?.pointer(&format!("/properties/{field}")));
            if sources.is_empty() {
                // The row leaves the field out, and its default stands in.
                let basis = member.and_then(|member| member.get("x-basis"));
                sources.extend(basis.map(|basis| format!("the default: {}", source(manual, basis))));
            }
            let name = match record.filter(|_| member.is_some()) {
                Some(record) => link(&format!("{}#field-{field}", super::records::path(record)), &code(field)),
                None => code(field),
            };
            vec![name, shown::value(value, field), sources.join("<br>")]
        })
        .collect();
    format!(
        "<section>\n<h2 id=\"row-{0}\">{1} <code>{0}</code></h2>\n{2}</section>\n",
        text(name),
        text(label),
        table(label, &["Field", "Value", "Source"], &rows)
    )
}
