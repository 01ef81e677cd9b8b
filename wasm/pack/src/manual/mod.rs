//! `floodbar-pack manual FOLDER`: the reference manual, static pages written from the catalogue.
//!
//! `words` puts schemas into words, `fields` lists the members of a record, `shown` the values of an answer, `plot` draws; `calculation`, `operators`,
//! `records`, `ground` (units, errors, stock) and `start` are the pages, `html` is what they are written with. `manual.css`, `search.js` and `head.js`
//! go along as they are. Paths within pages begin with `html::ROOT` until they are framed.

mod calculation;
mod fields;
mod ground;
mod html;
mod operators;
mod plot;
mod records;
mod shown;
mod start;
mod words;

use crate::schema::{list, string};
use html::{Page, code, link, text};
use operators::Plotted;
use serde_json::{Value, json};
use std::error::Error;
use std::fs;
use std::path::Path;
use words::reference;

/// Writes the manual into a folder.
///
/// # Errors
/// A sentence where an example has no answer, or a file cannot be written.
pub fn write(folder: &Path) -> Result<(), Box<dyn Error>> {
    let catalogue = floodbar::catalogue::describe();
    let manual = Manual { catalogue: &catalogue };
    let pages = manual.pages()?;
    for page in &pages {
        put(folder, &page.path, &html::frame(&manual, page))?;
    }
    put(folder, "index.js", &index(&pages))?;
    put(folder, "search.js", include_str!("search.js"))?;
    put(folder, "head.js", include_str!("head.js"))?;
    put(folder, "manual.css", include_str!("manual.css"))
}

fn put(folder: &Path, path: &str, content: &str) -> Result<(), Box<dyn Error>> {
    let path = folder.join(path);
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
    }
    Ok(fs::write(&path, content).map_err(|error| format!("{} cannot be written: {error}", path.display()))?)
}

/// What a search looks through: of each page its path, title, kind, other questions, and places with their names.
fn index(pages: &[Page]) -> String {
    let entries = pages
        .iter()
        .map(|page| json!([page.path, page.title, page.found.kind, page.found.asked, page.found.places]).to_string());
    format!("globalThis.floodbarIndex = [\n{}\n];\n", entries.collect::<Vec<_>>().join(",\n"))
}

/// The catalogue, and what of it is referred to from many pages.
pub struct Manual<'a> {
    catalogue: &'a Value,
}

impl<'a> Manual<'a> {
    fn pages(&self) -> Result<Vec<Page>, String> {
        let plots: Vec<_> = self.calculations().iter().map(|of| plot::of(self.catalogue, of)).collect();
        let mut pages = vec![start::page(self)];
        for (calculation, plot) in self.calculations().iter().zip(&plots) {
            pages.push(calculation::page(self, calculation, plot.as_ref())?);
        }
        let plotted = self.calculations().iter().zip(&plots).filter_map(|(of, plot)| {
            Some(Plotted { id: string(of, "id")?, example: of.get("example")?, plot: plot.as_ref()? })
        });
        pages.extend(operators::pages(self, &plotted.collect::<Vec<_>>())?);
        pages.push(ground::units(self));
        pages.push(ground::errors(self)?);
        pages.extend(ground::stock(self));
        pages.extend(records::pages(self));
        Ok(pages)
    }

    fn calculations(&self) -> &'a [Value] {
        list(self.catalogue, "calculations")
    }

    fn is_calculation(&self, id: &str) -> bool {
        self.calculations().iter().any(|of| string(of, "id") == Some(id))
    }

    /// The steps of a print's path with their calculations, in the order of the catalogue.
    fn steps(&self) -> Vec<(&'a str, Vec<&'a Value>)> {
        let mut steps: Vec<(&str, Vec<&Value>)> = Vec::new();
        for of in self.calculations() {
            let step = calculation::step(string(of, "id").unwrap_or_default());
            match steps.iter_mut().find(|(known, _)| *known == step) {
                Some((_, known)) => known.push(of),
                None => steps.push((step, vec![of])),
            }
        }
        steps
    }

    fn shelves(&self) -> &'a [Value] {
        list(self.catalogue, "stock")
    }

    /// A link to the shelf of that kind.
    fn shelf(&self, kind: &str) -> String {
        let is_known = self.shelves().iter().any(|shelf| string(shelf, "kind") == Some(kind));
        if is_known { link(&ground::shelf_path(kind), &text(kind)) } else { text(kind) }
    }

    /// The name of the record whose rows stand on that shelf.
    fn shelved(&self, kind: &str) -> Option<&'a str> {
        fn within<'a>(schema: &'a Value, kind: &str) -> Option<&'a str> {
            let own =
                (string(schema, "x-stock") == Some(kind)).then(|| list(schema, "anyOf").iter().find_map(reference));
            own.flatten().or_else(|| match schema {
                Value::Object(members) => members.values().find_map(|member| within(member, kind)),
                Value::Array(items) => items.iter().find_map(|item| within(item, kind)),
                _ => None,
            })
        }
        within(self.catalogue, kind)
    }

    fn definitions(&self) -> impl Iterator<Item = (&'a str, &'a Value)> {
        let definitions = self.catalogue.get("$defs").and_then(Value::as_object);
        definitions.into_iter().flatten().map(|(name, schema)| (name.as_str(), schema))
    }

    fn definition(&self, name: &str) -> Option<&'a Value> {
        self.catalogue.get("$defs")?.get(name)
    }

    /// Whether a schema is that of a number with its unit.
    fn is_quantity(&self, schema: &Value) -> bool {
        match schema.get("properties").and_then(Value::as_object) {
            Some(members) => members.contains_key("value") && members.contains_key("unit"),
            None => list(schema, "anyOf").iter().any(|form| reference(form).is_none() && self.is_quantity(form)),
        }
    }

    /// Whether a quantity is money, which has no dimension of its own.
    fn is_money(&self, name: &str, schema: &Value) -> bool {
        name.starts_with("Money") && self.is_quantity(schema)
    }

    /// The name under which a definition has its page: its own, or that of what it is a changed or an answered one of.
    fn base<'n>(&self, name: &'n str) -> &'n str {
        let stripped = name.strip_suffix("Changed").or_else(|| name.strip_suffix("Shown"));
        stripped.filter(|base| self.definition(base).is_some()).unwrap_or(name)
    }

    /// The record of that name, if it has a page of its own.
    fn record(&self, name: &str) -> Option<&'a Value> {
        self.definition(name).filter(|schema| self.base(name) == name && !self.is_quantity(schema))
    }

    fn records(&self) -> impl Iterator<Item = (&'a str, &'a Value)> {
        self.definitions().filter(|(name, _)| self.record(name).is_some())
    }

    /// A link to what a definition is: the units of a quantity, or the page of a record.
    fn linked(&self, name: &str) -> String {
        let base = self.base(name);
        let schema = self.definition(base);
        match schema {
            Some(schema) if self.is_quantity(schema) => {
                let description = string(schema, "description").unwrap_or_default();
                let (what, _) = description.split_once(", ").unwrap_or((description, ""));
                let (what, _) = what.split_once(": ").unwrap_or((what, ""));
                // What is of no dimension need not be a share of something.
                let what = if base == "Number" { "a number" } else { what };
                link(&format!("units.html#{base}"), &text(what))
            }
            Some(_) => link(&records::path(base), &code(base)),
            None => text(name),
        }
    }
}
