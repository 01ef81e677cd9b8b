//! HTML as text: what is escaped, numbers and JSON as people read them, and the frame around each page.

use super::Manual;
use serde_json::Value;

/// What stands before a path from the manual's root, until a page knows how deep it lies.
pub const ROOT: &str = "@root/";

/// A page: its path from the manual's root, and what is within.
pub struct Page {
    pub path: String,
    pub title: String,
    /// The step of the print's path that it belongs to.
    pub step: Option<String>,
    pub body: String,
    /// What a search finds it by.
    pub found: Found,
}

/// What a search finds a page by.
#[derive(Default)]
pub struct Found {
    pub kind: String,
    pub asked: Vec<String>,
    /// Places on the page: anchor, name and label.
    pub places: Vec<[String; 3]>,
}

/// Text, for an element or an attribute.
pub fn text(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => escaped += "&amp;",
            '<' => escaped += "&lt;",
            '>' => escaped += "&gt;",
            '"' => escaped += "&quot;",
            _ => escaped.push(c),
        }
    }
    escaped
}

pub fn code(name: &str) -> String {
    format!("<code>{}</code>", text(name))
}

pub fn codes<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    names.into_iter().map(code).collect::<Vec<_>>().join(" ")
}

/// A link to a page of the manual, its content being HTML.
pub fn link(path: &str, content: &str) -> String {
    format!("<a href=\"{ROOT}{}\">{content}</a>", text(path))
}

/// A table that scrolls in a box of its own where it is too wide.
pub fn table(caption: &str, head: &[&str], rows: &[Vec<String>]) -> String {
    let cells = |row: &Vec<String>| {
        let mut cells = row.iter();
        let first = cells.next().map_or(String::new(), |cell| format!("<th scope=\"row\">{cell}</th>"));
        first + &cells.map(|cell| format!("<td>{cell}</td>")).collect::<String>()
    };
    let head: String = head.iter().map(|cell| format!("<th scope=\"col\">{cell}</th>")).collect();
    let rows: String = rows.iter().map(|row| format!("<tr>{}</tr>\n", cells(row))).collect();
    format!(
        "<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{caption}\"><table>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody></table></div>\n",
        caption = text(caption),
    )
}

/// A number to so many figures, long ones in groups of three.
pub fn figures(value: f64, most: usize) -> String {
    let rounded = format!("{value:.*e}", most.saturating_sub(1)).parse::<f64>().unwrap_or(value);
    let plain = rounded.to_string();
    let (sign, digits) = plain.strip_prefix('-').map_or(("", plain.as_str()), |digits| ("\u{2212}", digits));
    let (whole, rest) = digits.split_once('.').map_or((digits, String::new()), |(w, r)| (w, format!(".{r}")));
    let mut grouped = String::new();
    for (index, digit) in whole.chars().enumerate() {
        let left = whole.len().saturating_sub(index);
        if whole.len() > 4 && index > 0 && left.is_multiple_of(3) {
            grouped.push('\u{202f}');
        }
        grouped.push(digit);
    }
    format!("{sign}{grouped}{rest}")
}

/// JSON over as few lines as are read easily: what fits into one stays in one.
pub fn json(value: &Value) -> String {
    const WIDTH: usize = 84;
    fn within(value: &Value, indent: usize, used: usize) -> String {
        let line = one_line(value);
        if line.chars().count().saturating_add(indent).saturating_add(used) <= WIDTH {
            return line;
        }
        let deeper = indent.saturating_add(2);
        let (open, close, items): (_, _, Vec<String>) = match value {
            Value::Object(members) => {
                let item = |(key, member): (&String, &Value)| {
                    let key = Value::from(key.as_str()).to_string();
                    format!("{key}: {}", within(member, deeper, key.len().saturating_add(3)))
                };
                ('{', '}', members.iter().map(item).collect())
            }
            Value::Array(items) => ('[', ']', items.iter().map(|item| within(item, deeper, 1)).collect()),
            _ => return line,
        };
        let inner = " ".repeat(deeper);
        format!("{open}\n{inner}{}\n{}{close}", items.join(&format!(",\n{inner}")), " ".repeat(indent))
    }
    within(value, 0, 0)
}

fn one_line(value: &Value) -> String {
    match value {
        Value::Object(members) if !members.is_empty() => {
            let member =
                |(key, member): (&String, &Value)| format!("{}: {}", Value::from(key.as_str()), one_line(member));
            format!("{{ {} }}", members.iter().map(member).collect::<Vec<_>>().join(", "))
        }
        Value::Array(items) => format!("[{}]", items.iter().map(one_line).collect::<Vec<_>>().join(", ")),
        other => other.to_string(),
    }
}

/// JSON in a box, which a test or a reader finds by its name.
pub fn json_box(id: &str, what: &str, value: &Value) -> String {
    format!(
        "<pre id=\"{id}\" role=\"group\" tabindex=\"0\" aria-label=\"{what}\"><code>{}</code></pre>\n",
        text(&json(value)),
        what = text(what)
    )
}

/// The whole page.
pub fn frame(manual: &Manual<'_>, page: &Page) -> String {
    const PARTS: [(&str, &str); 6] = [
        ("index.html", "Questions"),
        ("operators.html", "Operators"),
        ("units.html", "Units"),
        ("records.html", "Records"),
        ("stock.html", "Stock"),
        ("errors.html", "Errors"),
    ];
    let current = |is_current: bool| if is_current { " aria-current=\"page\"" } else { "" };
    let parts: String = PARTS
        .iter()
        .map(|(path, name)| format!("<li><a href=\"{ROOT}{path}\"{}>{name}</a></li>", current(*path == page.path)))
        .collect();
    let steps: String = manual
        .steps()
        .iter()
        .map(|(step, _)| {
            let here = page.step.as_deref() == Some(step);
            let here = if here { " aria-current=\"true\"" } else { "" };
            format!("<li><a href=\"{ROOT}index.html#{step}\"{here}>{step}</a></li>")
        })
        .collect();
    let title = text(&page.title);
    let name = if page.path == "index.html" { String::new() } else { "Floodbar: ".into() };
    let html = format!(
        "<!doctype html>
<html lang=\"en\">
<head>
<meta charset=\"utf-8\">
<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">
<meta name=\"color-scheme\" content=\"light dark\">
<title>{name}{title}</title>
<link rel=\"icon\" href=\"data:,\">
<link rel=\"stylesheet\" href=\"{ROOT}manual.css\">
<script src=\"{ROOT}index.js\" defer></script>
<script src=\"{ROOT}search.js\" defer></script>
<script src=\"{ROOT}head.js\" defer></script>
</head>
<body data-root=\"{ROOT}\">
<a class=\"skip\" href=\"#main\">To the text</a>
<header>
<div class=\"bar\">
<p class=\"name\"><a href=\"{ROOT}index.html\">Floodbar</a></p>
<nav aria-label=\"Parts of the manual\"><ul>{parts}</ul></nav>
<div class=\"search\" role=\"search\" hidden>
<label for=\"query\">Search</label>
<input id=\"query\" type=\"search\" autocomplete=\"off\" spellcheck=\"false\" aria-describedby=\"count\">
<p id=\"count\" role=\"status\"></p>
<ul id=\"hits\" aria-label=\"What was found\" hidden></ul>
</div>
</div>
<nav class=\"path\" aria-label=\"The path of a print\"><ol>{steps}</ol></nav>
</header>
<main id=\"main\">
{body}</main>
<footer><p>Floodbar {version}. Written from the catalogue of the library; every example was worked out by it as these pages were made.</p></footer>
</body>
</html>
",
        body = page.body,
        version = text(manual.catalogue.get("version").and_then(Value::as_str).unwrap_or_default()),
    );
    let up = "../".repeat(page.path.matches('/').count());
    html.replace(ROOT, &up)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_text_stays_text() {
        assert_eq!(text("<a href=\"x\">&amp;"), "&lt;a href=&quot;x&quot;&gt;&amp;amp;");
    }

    #[test]
    fn numbers_are_rounded_and_long_ones_grouped() {
        let shown = [12_345.678, 0.000_001, -2.5, 1e7, 9999.9].map(|value| figures(value, 4));
        assert_eq!(shown, ["12\u{202f}350", "0.000001", "\u{2212}2.5", "10\u{202f}000\u{202f}000", "10\u{202f}000"]);
    }

    #[test]
    fn json_is_the_same_however_it_is_broken() {
        let value =
            json!({ "short": { "a": [1, 2.5, "x"] }, "long": (0..60).collect::<Vec<_>>(), "none": {}, "e": [] });
        let shown = json(&value);
        assert_eq!(serde_json::from_str::<Value>(&shown).ok(), Some(value));
        assert!(shown.contains("{ \"a\": [1, 2.5, \"x\"] }") && shown.lines().count() > 60);
    }
}
