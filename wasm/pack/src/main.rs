//! Packs what is built for those who use it: `floodbar-pack c PREFIX` builds and installs the C library, `floodbar-pack npm FOLDER`
//! builds the WebAssembly and makes the npm package.

#[cfg(unix)]
mod c;
mod cargo;
mod npm;
mod types;

use std::path::PathBuf;

fn main() -> cargo::Done {
    let asked: Vec<_> = std::env::args_os().skip(1).collect();
    let (what, folder) = match asked.as_slice() {
        [what, folder] => (what.to_str().unwrap_or_default(), PathBuf::from(folder)),
        _ => ("", PathBuf::new()),
    };
    match what {
        #[cfg(unix)]
        "c" => c::install(&folder),
        "npm" => npm::write(&folder),
        _ => Err("usage: floodbar-pack c PREFIX, or floodbar-pack npm FOLDER".into()),
    }
}
