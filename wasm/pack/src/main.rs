//! Packs what is built for those who use it.

mod bill;
#[cfg(unix)]
mod c;
mod cargo;
mod manual;
mod npm;
mod python;
mod schema;
mod types;

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
        [what, folder] if what == "npm" => npm::write(Path::new(folder)),
        [what, folder] if what == "decoder" => npm::write_decoder(Path::new(folder)),
        [what] if what == "python" => python::write(),
        [what, flag] if what == "python" && flag == "--check" => python::check(),
        [what, folder] if what == "manual" => manual::write(Path::new(folder)),
        _ => Err(USAGE.into()),
    }
}
