//! Writes the catalogue's text, which the library hands out as it stands.

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=build.rs");
    let folder = PathBuf::from(std::env::var_os("OUT_DIR").ok_or("OUT_DIR is not set: run by cargo")?);
    std::fs::write(folder.join("catalogue.json"), floodbar::catalogue::describe().to_string())?;
    Ok(())
}
