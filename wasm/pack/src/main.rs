//! Packs what is built for those who use it: `floodbar-pack LEAN_WASM WHOLE_WASM FOLDER` makes the npm package from the built
//! WebAssembly, `floodbar-pack c PREFIX` builds and installs the C library.
//!
//! Of the npm package: two binaries, without and with what only whole orders need, share one glue, and so do browsers and Node;
//! `wasm/js` holds what is written by hand around them. The catalogue lies beside the binaries, loaded only by who imports it, and
//! the types come from its schemas, so that a new calculation changes nothing here.

#[cfg(unix)]
mod c;
mod manual;
mod python;
mod types;

use serde_json::json;
use std::error::Error;
use std::fmt::Display;
use std::fs;
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::{Bindgen, Output};

fn main() -> Result<(), Box<dyn Error>> {
    let paths: Vec<_> = std::env::args_os().skip(1).map(PathBuf::from).collect();
    match paths.as_slice() {
        #[cfg(unix)]
        [what, prefix] if what == Path::new("c") => c::install(prefix),
        [what, folder] if what == Path::new("manual") => manual::write(folder),
        [what] if what == Path::new("python") => python::write(false),
        [what, flag] if what == Path::new("python") && flag == Path::new("--check") => python::write(true),
        [lean, whole, folder] => npm(lean, whole, folder),
        _ => Err("usage: floodbar-pack LEAN_WASM WHOLE_WASM FOLDER, or c PREFIX, or python [--check], or manual FOLDER".into()),
    }
}

fn npm(lean: &Path, whole: &Path, folder: &Path) -> Result<(), Box<dyn Error>> {
    let (mut lean, mut whole) = (bound(lean)?, bound(whole)?);
    if lean.js() != whole.js() {
        return Err("the two binaries want different glue: only what they calculate may differ".into());
    }
    lean.emit(folder)?;
    fs::write(folder.join("floodbar_whole_bg.wasm"), whole.wasm_mut().emit_wasm())?;
    // A script that declares one instance becomes a module that makes as many as there are binaries.
    let glue = fs::read_to_string(folder.join("floodbar.js"))?;

    let catalogue = floodbar::catalogue::describe();
    let types = format!("{}\n{}", include_str!("../../js/node.d.ts"), types::of_catalogue(&catalogue)?);
    let files = [
        ("floodbar.js", format!("export const glue = () => {{\n{glue}return wasm_bindgen;\n}};\n")),
        ("api.js", include_str!("../../js/api.js").to_owned()),
        ("binary.js", include_str!("../../js/binary.js").to_owned()),
        ("node.js", include_str!("../../js/node.js").to_owned()),
        ("node.d.ts", types),
        ("web.js", include_str!("../../js/web.js").to_owned()),
        ("web.d.ts", include_str!("../../js/web.d.ts").to_owned()),
        ("json.js", include_str!("../../js/json.js").to_owned()),
        ("schema.js", include_str!("../../js/schema.js").to_owned()),
        ("limits.js", limits()),
        ("catalogue.node.js", include_str!("../../js/catalogue.node.js").to_owned()),
        ("catalogue.web.js", include_str!("../../js/catalogue.web.js").to_owned()),
        ("catalogue.d.ts", include_str!("../../js/catalogue.d.ts").to_owned()),
        ("catalogue.json", catalogue.to_string()),
        ("package.json", format!("{:#}\n", package())),
    ];
    for (name, text) in files {
        fs::write(folder.join(name), text)?;
    }
    Ok(())
}

/// A binary with its glue: a script, because a module would have one instance only, which takes one binary and no second.
fn bound(wasm: &Path) -> Result<Output, Box<dyn Error>> {
    Ok(Bindgen::new()
        .no_modules(true)?
        .input_path(wasm)
        .out_name("floodbar")
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()?)
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

fn package() -> serde_json::Value {
    let node = json!({ "types": "./node.d.ts", "default": "./node.js" });
    let web = json!({ "types": "./web.d.ts", "default": "./web.js" });
    json!({
        "name": "floodbar",
        "version": env!("CARGO_PKG_VERSION"),
        "description": "Calculations for people who print garments through a screen: mesh, stencil, ink, press, flash, dryer, wash.",
        "license": env!("CARGO_PKG_LICENSE"),
        "type": "module",
        "exports": {
            ".": { "node": node, "default": web },
            "./web": web,
            "./catalogue": {
                "types": "./catalogue.d.ts", "node": "./catalogue.node.js", "default": "./catalogue.web.js",
            },
            "./catalogue.json": "./catalogue.json",
            "./floodbar_bg.wasm": "./floodbar_bg.wasm",
            "./floodbar_whole_bg.wasm": "./floodbar_whole_bg.wasm",
            "./package.json": "./package.json",
        },
        "types": "./node.d.ts",
        "sideEffects": ["./node.js"],
        "engines": { "node": ">=20.10" },
    })
}
