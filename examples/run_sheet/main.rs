//! Prints the run sheet of an order: `run_sheet [ORDER.json] [--units us|metric] [--sources] [--quote] [--json]`, the customer's
//! `--offer`, or what the order does as one of its numbers changes: `--sweep /pieces --from 24 --to 480`.

mod art;
mod quote;
mod sheet;
mod sweep;

use floodbar::job::{Order, PLAN, QUOTE, QuoteRequest};
use floodbar::wire::{Answer, Declared, MOST_TEXT, Options};
use floodbar_examples::Say;
use lexopt::prelude::*;
use serde_json::Value as Json;
use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const HELP: &str = "\
Prints the run sheet of an order.

  run_sheet [ORDER.json]   the order; orders/regatta.json of the examples unless given. A screen may have
                           \"art\", the path of its separation from the order (PNG or TIFF), in the place of
                           coverage_fraction; \"art_resolution\", e.g. \"300 /in\", in the place of the file's own;
                           and \"art_ink\", \"dark\" (unless given) or \"light\"
      --units us           inches, ounces and degrees Fahrenheit
      --sources            after it, on a page of its own, where its numbers come from
      --quote              after it, on a page of its own, what the order costs, what is charged, and what is earned;
                           the order then has currency, rates and price as well
      --offer              instead, the customer's copy: what is printed and what it is charged, without costs
      --json               the raw answer of job.plan, with --quote or --offer that of job.quote
      --sweep POINTER      instead, what the order does as the number at this JSON pointer into it changes
      --from A --to B      between these, each with its unit unless it is a plain number
      --points N           at so many points (9)
      --want POINTER       what is shown, a pointer into the plan, or \"POINTER UNIT\"; may be given several
                           times (\"/hours/total h\" and /ink_totals/0/mass_to_mix unless given)
      --help               this text";

fn main() -> ExitCode {
    let printed =
        |text| writeln!(std::io::stdout(), "{text}").map_err(|e| format!("not all of the sheet could be printed: {e}"));
    match run().and_then(printed) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            // Where nobody listens there is nobody to tell.
            let _ = writeln!(std::io::stderr(), "run_sheet: {message}");
            ExitCode::FAILURE
        }
    }
}

/// Reads the arguments and the order, and gives the text to print or why there is none.
fn run() -> Result<String, String> {
    let mut file = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/orders/regatta.json"));
    let (mut units, mut raw, mut sources, mut quoted, mut offered) = (None, false, false, false, false);
    let mut sweep = sweep::Sweep::default();
    let mut arguments = lexopt::Parser::from_env();
    let text_of =
        |arguments: &mut lexopt::Parser| arguments.value().and_then(|v| v.string()).map_err(|e| e.to_string());
    while let Some(argument) = arguments.next().map_err(|e| e.to_string())? {
        match argument {
            Long("units") => units = Some(text_of(&mut arguments)?),
            Long("sweep") => sweep.vary = text_of(&mut arguments)?,
            Long("from") => sweep.from = Some(text_of(&mut arguments)?),
            Long("to") => sweep.to = Some(text_of(&mut arguments)?),
            Long("points") => {
                sweep.points = Some(arguments.value().and_then(|v| v.parse()).map_err(|e| e.to_string())?)
            }
            Long("want") => sweep.want.push(text_of(&mut arguments)?),
            Long("json") => raw = true,
            Long("sources") => sources = true,
            Long("quote") => quoted = true,
            Long("offer") => offered = true,
            Short('h') | Long("help") => return Ok(HELP.to_owned()),
            Value(path) => file = path.into(),
            other => return Err(other.unexpected().to_string()),
        }
    }
    let of_order = |message: String| format!("{}: {message}", file.display());
    let text = read(&file).map_err(|e| of_order(e.to_string()))?;
    let refused = |e: floodbar::Error| of_order(told(&e));
    let mut document = floodbar::wire::document(&text).map_err(refused)?;
    if let (Some(units), Json::Object(members)) = (units, &mut document) {
        members.insert("units".into(), units.into());
    }
    let warnings = art::measure(&mut document, file.parent().unwrap_or(Path::new(""))).map_err(of_order)?;
    if !sweep.vary.is_empty() {
        return sweep.text(&document).map_err(refused);
    }
    let options = Options::from_json(&document).map_err(refused)?;
    let mut pages = Vec::new();
    if quoted || offered {
        let (request, quote) = QUOTE.answer_document(&document).map_err(refused)?;
        if raw {
            return pretty(quote.written(options.units)).map_err(refused);
        }
        let made = quote::Pages { quote: &quote, request: &request, say: Say(options.units) };
        if offered {
            return Ok(made.offer());
        }
        pages.push(made.costs());
    }
    if let Json::Object(members) = &mut document {
        members.retain(|name, _| !only_quotes_have().any(|other| other == name));
    }
    let (order, plan) = PLAN.answer_document(&document).map_err(refused)?;
    if raw {
        return pretty(plan.written(options.units)).map_err(refused);
    }
    let sheet = sheet::Sheet { plan: &plan, order: &order, warnings: &warnings, say: Say(options.units) };
    // A form feed begins a page.
    if sources {
        pages.insert(0, sheet.sources());
    }
    pages.insert(0, sheet.text());
    Ok(pages.join("\n\x0c"))
}

/// A file's bytes, no more than shows that there are too many: a device has no end.
fn read(file: &Path) -> std::io::Result<Vec<u8>> {
    let mut text = Vec::new();
    File::open(file)?.take((MOST_TEXT as u64).saturating_add(1)).read_to_end(&mut text)?;
    Ok(text)
}

/// Members of a quote's request that a plan's does not have.
fn only_quotes_have() -> impl Iterator<Item = &'static str> {
    QuoteRequest::TABLE.names().filter(|name| Order::TABLE.find(name).is_none())
}

fn pretty(answer: Answer) -> Result<String, floodbar::Error> {
    let internal = |e: serde_json::Error| floodbar::Error::new(floodbar::Code::Internal, "", e.to_string());
    serde_json::to_string_pretty(&answer.to_value()?).map_err(internal)
}

/// An error of the library, with what was given and what is allowed.
fn told(e: &floodbar::Error) -> String {
    let allowed = if e.allowed.is_empty() { String::new() } else { format!("\n  allowed: {}", e.allowed.join(", ")) };
    let got = if e.got.is_null() { String::new() } else { format!("\n  got: {}", e.got) };
    format!("{e}{got}{allowed}")
}
