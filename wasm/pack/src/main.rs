//! Packs what is built for those who use it.

mod bill;
#[cfg(unix)]
mod c;
mod cargo;
#[cfg(feature = "catalogue")]
mod manual;
#[cfg(feature = "catalogue")]
mod npm;
#[cfg(feature = "catalogue")]
mod python;
#[cfg(feature = "catalogue")]
mod schema;
#[cfg(feature = "catalogue")]
mod types;

use std::ffi::OsString;
use std::path::Path;

const USAGE: &str = "usage: floodbar-pack c PREFIX (builds the C library and installs it), \
    floodbar-pack npm FOLDER (builds the WebAssembly and writes the npm package), \
    floodbar-pack decoder FOLDER (builds what reads picture files in a browser), \
    floodbar-pack python [--check] (writes the modules of the Python package, or compares them), \
    floodbar-pack manual FOLDER (writes the reference manual)";

fn main() -> cargo::Done {
    let asked: Vec<_> = std::env::args_os().skip(1).collect();
    match asked.as_slice() {
        #[cfg(unix)]
        [what, prefix] if what == "c" => c::install(Path::new(prefix)),
        asked => catalogued(asked),
    }
}

#[cfg(feature = "catalogue")]
fn catalogued(asked: &[OsString]) -> cargo::Done {
    match asked {
        [what, folder] if what == "npm" => npm::write(Path::new(folder)),
        [what, folder] if what == "decoder" => npm::write_decoder(Path::new(folder)),
        [what] if what == "python" => python::write(),
        [what, flag] if what == "python" && flag == "--check" => python::check(),
        [what, folder] if what == "manual" => manual::write(Path::new(folder)),
        _ => Err(USAGE.into()),
    }
}

/// What wants the catalogue is handed to the packer with it, which is compiled for that.
#[cfg(not(feature = "catalogue"))]
fn catalogued(asked: &[OsString]) -> cargo::Done {
    let is = |known: &[&str]| asked.first().is_some_and(|what| known.iter().any(|own| what == own));
    if !is(&["npm", "decoder", "python", "manual"]) {
        return Err(USAGE.into());
    }
    let mut whole = cargo::cargo(&["run", "--locked", "--features", "catalogue", "--manifest-path"]);
    whole.arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"));
    if !is(&["manual"]) {
        // Only the manual's examples are worth optimising the core for.
        whole.args(["--config", "profile.dev.package.floodbar.opt-level=0"]);
    }
    // Where this one was called: folders are named from there.
    std::process::exit(whole.current_dir(".").arg("--").args(asked).status()?.code().unwrap_or(1))
}
