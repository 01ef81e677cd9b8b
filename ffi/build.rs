//! Writes the catalogue's text, which the library hands out as it stands, and names the shared library.

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=build.rs");
    let folder = PathBuf::from(std::env::var_os("OUT_DIR").ok_or("OUT_DIR is not set: run by cargo")?);
    std::fs::write(folder.join("catalogue.json"), floodbar::catalogue::describe().to_string())?;
    // Programs ask for a library by the name that it has where it is installed, which `cargo build` does not give its file. Rust's
    // compiler sets none.
    if ["linux", "freebsd", "netbsd", "openbsd"].contains(&std::env::var("CARGO_CFG_TARGET_OS")?.as_str()) {
        println!("cargo::rustc-cdylib-link-arg=-Wl,-soname,libfloodbar.so.{}", env!("CARGO_PKG_VERSION_MAJOR"));
    }
    Ok(())
}
