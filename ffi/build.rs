//! Names the shared library.

use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=build.rs");
    // Programs ask for a library by the name that it has where it is installed, which `cargo build` does not give its file. Rust's
    // compiler sets none.
    if ["linux", "freebsd", "netbsd", "openbsd"].contains(&std::env::var("CARGO_CFG_TARGET_OS")?.as_str()) {
        println!("cargo::rustc-cdylib-link-arg=-Wl,-soname,libfloodbar.so.{}", env!("CARGO_PKG_VERSION_MAJOR"));
    }
    Ok(())
}
