//! The pages of the manual that rustdoc includes, `core/docs`: written from the declarations, so that no range, default, formula or
//! source is written twice. `FLOODBAR_WRITE=1 cargo test -p floodbar-tests manual` writes them; otherwise they are compared.

use floodbar::catalogue::CALCULATIONS;
use floodbar::quantity::Rules;
use floodbar::stock;
use floodbar::wire::{Choice, Kind, Listed, Table};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// What a reader calls a kind of content.
fn kind(of: &Kind) -> String {
    match of {
        Kind::Number(dimension) => dimension.text().to_owned(),
        Kind::Count | Kind::Integer => "a whole number".into(),
        Kind::Flag => "true or false".into(),
        Kind::Text => "a text".into(),
        Kind::Word(_, words) => words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", "),
        Kind::InUnit => "a quantity".into(),
        Kind::Record(table) => record(table),
        Kind::List(item, None) => format!("a list, each {}", kind(item)),
        Kind::List(item, Some(count)) => format!("{count} times {}", kind(item)),
        Kind::Optional(content) => kind(content),
        Kind::Own(own) => own.wanted.into(),
    }
}

fn record(table: &Table) -> String {
    let step = table.module.split("::").nth(1).expect("a module of a step");
    let link = format!("[{}](crate::{step}::{})", table.name, table.name);
    match (table.stock, table.text) {
        (Some(stock), _) => format!("{link}, or the name of a stock {}", stock.what),
        (None, Some(text)) if !text.examples.is_empty() => {
            format!("{link}, or a text such as `{}`", text.examples.join("`, `"))
        }
        (None, Some(_)) => format!("{link}, or a stock name"),
        (None, None) => link,
    }
}

/// The range, the usual range and the default of a field, as far as it has them.
fn limits(of: &Kind, rules: &Rules) -> [String; 2] {
    let range = match (rules.limits(), rules.usual_text()) {
        (false, None) => String::new(),
        (true, None) => rules.range_text(),
        (true, Some(usual)) => format!("{}, usual {usual}", rules.range_text()),
        (false, Some(usual)) => format!("usual {usual}"),
    };
    let default = match (rules.default, rules.computed) {
        (Some((value, source)), _) => {
            let unit = if rules.unit.name == "1" { String::new() } else { format!(" {}", rules.unit.name) };
            format!("{value}{unit} ({}: {})", source.kind.text().replace('_', " "), source.text)
        }
        (None, Some(computed)) => computed.to_owned(),
        (None, None) if of.is_optional() => "may be left out".into(),
        (None, None) => "needed".into(),
    };
    [range, default]
}

fn cell(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace('|', "\\|")
}

/// The table of what a record asks for.
fn asked(table: &Table) -> String {
    let mut text = String::from("\n| field | what | takes | range | default |\n|---|---|---|---|---|\n");
    for field in table.fields {
        let [range, default] = limits(&field.kind, field.rules);
        let cells = [field.meaning, &kind(&field.kind), &range, &default].map(cell);
        writeln!(text, "| `{}` | {} |", field.name, cells.join(" | ")).expect("a text");
    }
    for choice in table.choices {
        let list = |fields: &[&str], word: &str| fields.iter().map(|f| format!("`{f}`")).collect::<Vec<_>>().join(word);
        let said = match choice {
            Choice::One(sets) => {
                format!("one of: {}", sets.iter().map(|set| list(set, " and ")).collect::<Vec<_>>().join("; "))
            }
            Choice::Any(fields) => format!("at least one of {}", list(fields, ", ")),
            Choice::Most(fields) => format!("not more than one of {}", list(fields, ", ")),
            Choice::All(fields) => format!("{} together or not at all", list(fields, " and ")),
        };
        writeln!(text, "\nGiven is {said}.").expect("a text");
    }
    text
}

fn answered(table: &Table) -> String {
    let mut text = String::from("\n| member | what | is |\n|---|---|---|\n");
    for field in table.fields {
        writeln!(text, "| `{}` | {} | {} |", field.name, cell(field.meaning), cell(&kind(&field.kind)))
            .expect("a text");
    }
    text
}

/// The page of a calculation.
fn page(calculation: &dyn Listed) -> String {
    let prose = &calculation.entry().prose;
    let (request, answer) = (calculation.request(), calculation.answer());
    // Where it stands in Rust: mesh.choose in the module of the ink.
    let module = request.module.split("::").nth(1).expect("a module");
    let mut text =
        format!("Also asked as: {}\n\nFormula: {}.\n\n# Request\n", prose.asked.join(" "), cell(prose.formula));
    text += &asked(request);
    text += "\n# Answer\n";
    text += &answered(answer);
    text += "\n# Errors\n\nThose of the wire (a missing or unknown field, another type or dimension, a value out of its range), with the field at fault; and\nwhat the function says for itself.\n\n# Sources\n\n";
    for source in prose.sources {
        writeln!(text, "- {}: {}", source.kind.text().replace('_', " "), cell(source.text)).expect("a text");
    }
    let example: Value = serde_json::from_str(prose.example).expect("an example");
    let example = serde_json::to_string_pretty(&example).expect("JSON");
    let path = format!("floodbar::{module}");
    let shown = prose.headline.first().map_or("println!(\"{:?}\", answer.notes());".into(), |member| {
        format!("println!(\"{{:?}}\", answer.{member});")
    });
    write!(
        text,
        "\n# Example\n\n```\nlet request = {path}::{}::from_json(&serde_json::json!({example}))?;\nlet answer = {path}::{}.answer(&request)?;\n{shown}\n# Ok::<(), floodbar::Error>(())\n```\n",
        request.name, prose.item
    )
    .expect("a text");
    text
}

/// The tables of all records that are asked for, by name.
fn records(table: &'static Table, found: &mut BTreeMap<&'static str, &'static Table>) {
    if !table.asked {
        return;
    }
    if let Some(known) = found.insert(table.name, table) {
        assert_eq!(known.module, table.module, "two records are called {}", table.name);
        return;
    }
    for field in table.fields {
        let mut of = &field.kind;
        while let Kind::Optional(content) | Kind::List(content, _) = of {
            of = content;
        }
        if let Kind::Record(inner) = of {
            records(inner, found);
        }
    }
}

#[test]
fn the_manual_is_what_the_declarations_say() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/docs");
    let mut pages: BTreeMap<String, String> =
        CALCULATIONS.iter().map(|calculation| (format!("{}.md", calculation.id()), page(*calculation))).collect();
    let mut found = BTreeMap::new();
    CALCULATIONS.iter().for_each(|calculation| records(calculation.request(), &mut found));
    stock::KINDS.iter().for_each(|table| records(table, &mut found));
    pages.extend(found.into_iter().map(|(name, table)| (format!("records/{name}.md"), asked(table))));
    let write = std::env::var_os("FLOODBAR_WRITE").is_some_and(|value| value == "1");
    for (name, text) in &pages {
        let path = folder.join(name);
        if write {
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            fs::write(&path, text).expect("a page");
        }
        let stands = fs::read_to_string(&path).unwrap_or_default();
        assert_eq!(&stands, text, "core/docs/{name} is not what the declarations say: write it with FLOODBAR_WRITE=1");
    }
    let files = |folder: &Path| {
        fs::read_dir(folder).expect("a folder").filter(|f| f.as_ref().expect("a file").path().is_file()).count()
    };
    assert_eq!(files(&folder) + files(&folder.join("records")), pages.len(), "core/docs has pages of nothing");
}
