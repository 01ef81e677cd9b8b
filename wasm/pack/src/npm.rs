//! Writes the npm package.
//!
//! Two binaries, without and with what only whole orders need, share one glue. `wasm/js` holds what is written by hand around them:
//! modules, and for Node, whose `import` and `require` must find one and the same thing, what takes the same modules as one script.
//! The catalogue lies beside the binaries, loaded only by who imports it, and the types come from its schemas, so that a new
//! calculation changes nothing here.

use crate::bill::{BILL, bill};
use crate::cargo::{Done, VERSION, built, cargo, notices, packages, root};
use crate::types;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fmt::Display;
use std::fs;
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::{Bindgen, Output};

const PLATFORM: &str = "wasm32-unknown-unknown";

/// For speed, where the profile is for size. No profile of its own, for which macros and build scripts would be compiled once more.
const QUICK: [&str; 2] = ["--config", "profile.wasm.opt-level=2"];

/// What is written by hand: its name, and its text.
macro_rules! by_hand {
    ($($name:literal)*) => { [$(($name, include_str!(concat!("../../js/", $name)))),*] };
}

/// Builds the binaries and writes the package.
///
/// # Errors
/// What could not be built or written.
pub fn write(folder: &Path) -> Done {
    fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    // A script, because a module would have one instance only, which takes one binary and no second.
    let mut glue = Bindgen::new();
    glue.no_modules(true)?.out_name("floodbar").typescript(false);
    let mut lean = bound("floodbar-wasm", &["--no-default-features"], &mut glue)?;
    let mut whole = bound("floodbar-wasm", &QUICK, &mut glue)?;
    if lean.js() != whole.js() {
        return Err("the two binaries want different glue: only what they calculate may differ".into());
    }
    // A script that declares one instance becomes a module that makes as many as there are binaries.
    lean.emit(folder)?;
    let glue = folder.join("floodbar.js");
    let glue = format!("export const glue = () => {{\n{}return wasm_bindgen;\n}};\n", fs::read_to_string(glue)?);

    let by_hand = by_hand!["api.js" "binary.js" "catalogue.cjs" "catalogue.js" "client.js" "files.js" "json.js" "load.js" "node.cjs"
        "schema.js" "serve.js" "values.js" "web.js" "worker.cjs" "worker.js" "worker_script.cjs" "worker_script.js"
        "worker.d.cts" "catalogue.d.cts" "README.md"];
    let module = |name: &str| {
        let found = by_hand.iter().find(|(own, _)| *own == name);
        found.map(|(_, text)| *text).ok_or_else(|| format!("no {name} in wasm/js"))
    };
    let catalogue = floodbar::catalogue::describe();
    let limits = limits();
    let api = exports(module("api.js")?);
    let loads = ["init", "initWhole"];
    let with_loads = [api.as_slice(), &loads].concat();
    let mut modules = vec![limits.as_str(), glue.as_str()];
    for name in ["json.js", "values.js", "binary.js", "api.js", "client.js", "serve.js", "schema.js"] {
        modules.push(module(name)?);
    }
    let types = |of: &str| format!("export * from \"./{of}.cjs\";\n");
    let licence = |name: &str| fs::read_to_string(root().join(name));

    let mut files: Vec<(&str, String)> = by_hand.iter().map(|(name, text)| (*name, (*text).to_owned())).collect();
    files.extend([
        ("core.cjs", script(&modules, &api)?),
        ("floodbar.js", glue.clone()),
        ("limits.js", limits.clone()),
        ("document.js", format!("export default {catalogue};\n")),
        ("node.js", import("node", &with_loads)),
        ("worker.node.js", import("worker", &[with_loads.as_slice(), &["warm"]].concat())),
        ("node.d.cts", format!("{}\n{}", include_str!("../../js/node.d.cts"), types::of_catalogue(&catalogue)?)),
        ("node.d.ts", types("node")),
        ("worker.d.ts", types("worker")),
        ("catalogue.d.ts", types("catalogue")),
        ("LICENSE-APACHE", licence("LICENSE-APACHE")?),
        ("LICENSE-MIT", licence("LICENSE-MIT")?),
        ("THIRD-PARTY.txt", notices("floodbar", "floodbar-wasm", PLATFORM)?),
        (BILL, bill("npm", "floodbar", "floodbar-wasm", PLATFORM)?),
    ]);
    fs::write(folder.join("floodbar_whole_bg.wasm"), whole.wasm_mut().emit_wasm())?;
    let binaries = ["floodbar_bg.wasm", "floodbar_whole_bg.wasm"];
    let names: Vec<_> = files.iter().map(|(name, _)| *name).chain(binaries).collect();
    files.push(("package.json", format!("{:#}\n", package(&names))));
    for (name, text) in files {
        fs::write(folder.join(name), text)?;
    }
    Ok(())
}

/// Builds what reads picture files in a browser: a binary, and the module around it.
///
/// # Errors
/// What could not be built or written.
pub fn write_decoder(folder: &Path) -> Done {
    let mut glue = Bindgen::new();
    glue.web(true)?.omit_default_module_path(false).typescript(true).out_name("decoder");
    bound("floodbar-decoder", &QUICK, &mut glue)?.emit(folder)?;
    Ok(fs::write(folder.join("THIRD-PARTY.txt"), notices("its decoder of pictures", "floodbar-decoder", PLATFORM)?)?)
}

/// A binary with its glue.
fn bound(package: &str, arguments: &[&str], glue: &mut Bindgen) -> Done<Output> {
    let build = ["build", "--locked", "-p", package, "--profile", "wasm", "--target", PLATFORM];
    // Messages of panics name source files: not by where they lie on the machine that packs.
    let short = |folder: &PathBuf| json!(format!("--remap-path-prefix={}=", folder.display())).to_string();
    let flags: Vec<_> = sources(PLATFORM)?.iter().map(short).collect();
    let flags = format!("target.{PLATFORM}.rustflags=[{}]", flags.join(", "));
    let mut cargo = cargo(&build);
    cargo.args(["--message-format=json", "--config", &flags]).args(arguments);
    let (files, _) = built(&mut cargo, &package.replace('-', "_"))?;
    let wasm = files.iter().find(|file| file.extension().is_some_and(|own| own == "wasm"));
    Ok(glue
        .input_path(wasm.ok_or("cargo built no .wasm")?)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()?)
}

/// Where the sources of others lie on this machine.
fn sources(platform: &str) -> Done<BTreeSet<PathBuf>> {
    let others = packages(platform)?.into_iter().filter(|package| package.get("source").is_some_and(Value::is_string));
    let manifest = |package: Value| package.get("manifest_path").and_then(Value::as_str).map(PathBuf::from);
    Ok(others.filter_map(manifest).filter_map(|file| Some(file.parent()?.parent()?.to_owned())).collect())
}

/// The limits of a document, which `json.js` does not write far beyond, that of a list, and the status of a row by its number.
fn limits() -> String {
    use floodbar::Code;
    use floodbar::wire::{MOST_DEPTH, MOST_ITEMS, MOST_REQUESTS, MOST_TEXT};
    let line = |name, value: &dyn Display| format!("export const {name} = {value};\n");
    let statuses: Vec<_> = std::iter::once("success").chain(Code::ALL.map(Code::text)).collect();
    [
        line("DEEPEST", &MOST_DEPTH),
        line("LONGEST", &MOST_TEXT),
        line("MOST_ENTRIES", &MOST_ITEMS),
        line("MOST_REQUESTS", &MOST_REQUESTS),
        line("STATUSES", &json!(statuses)),
    ]
    .concat()
}

/// What a line of a module exports.
fn exported(line: &str) -> Option<&str> {
    let name = line.strip_prefix("export ")?.trim_start_matches("async ");
    let name = ["const ", "let ", "function ", "class ", "{ "].iter().find_map(|kind| name.strip_prefix(kind))?;
    name.split(|letter: char| !letter.is_alphanumeric() && letter != '_').next()
}

fn exports(module: &str) -> Vec<&str> {
    module.lines().filter_map(exported).collect()
}

/// Modules, each after those that it imports from, as one script for `require`: their names become its own.
fn script(modules: &[&str], api: &[&str]) -> Result<String, String> {
    let mut text = String::from("// The modules of this package that Node needs, as one.\n\"use strict\";\n");
    let mut names = Vec::new();
    for module in modules {
        for line in module.lines() {
            if line.starts_with("import ") || line.starts_with("export {") {
                if !line.ends_with(';') {
                    return Err(format!("an import or export goes over more than one line: {line}"));
                }
            } else if line.starts_with("export ") {
                names.push(exported(line).ok_or_else(|| format!("no name is known of: {line}"))?);
                text += line.trim_start_matches("export ");
                text += "\n";
            } else {
                text += line;
                text += "\n";
            }
        }
    }
    let named = |list: &[&str]| list.join(", ");
    Ok(format!("{text}\nmodule.exports = {{ {}, api: {{ {} }} }};\n", named(&names), named(api)))
}

/// What `import` finds is what `require` does.
fn import(of: &str, names: &[&str]) -> String {
    format!("import required from \"./{of}.cjs\";\n\nexport const {{ {} }} = required;\n", names.join(", "))
}

fn package(files: &[&str]) -> Value {
    let door = |web: &str, node: &str, required: &str| {
        let types = |ending: &str| format!("./{required}.d.{ending}");
        json!({
            "node": {
                "import": { "types": types("ts"), "default": format!("./{node}.js") },
                "require": { "types": types("cts"), "default": format!("./{required}.cjs") },
            },
            "default": { "types": types("ts"), "default": format!("./{web}.js") },
        })
    };
    json!({
        "name": "floodbar",
        "version": VERSION,
        "description": "Calculations for people who print garments through a screen: mesh, stencil, ink, press, flash, dryer, wash.",
        "keywords": ["screen-printing", "garments", "ink", "curing", "units", "calculation", "wasm"],
        "author": "The Floodbar developers",
        "license": env!("CARGO_PKG_LICENSE"),
        "type": "module",
        "exports": {
            ".": door("web", "node", "node"),
            "./worker": door("worker", "worker.node", "worker"),
            "./worker_script.js": "./worker_script.js",
            "./catalogue": door("catalogue", "catalogue", "catalogue"),
            "./floodbar_bg.wasm": "./floodbar_bg.wasm",
            "./floodbar_whole_bg.wasm": "./floodbar_whole_bg.wasm",
            "./package.json": "./package.json",
        },
        // For those who do not read `exports`.
        "main": "./node.cjs",
        "types": "./node.d.cts",
        "files": files,
        // Nothing is done by loading a module but this.
        "sideEffects": ["./node.js", "./node.cjs", "./worker_script.js", "./worker_script.cjs"],
        "engines": { "node": ">=20.10" },
    })
}
