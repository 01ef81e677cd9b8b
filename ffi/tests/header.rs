//! The committed headers are those that the source gives.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fmt::Write;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn header() -> String {
    let mut written = Vec::new();
    cbindgen::Builder::new()
        .with_config(cbindgen::Config::from_file(folder().join("cbindgen.toml")).unwrap())
        .with_src(folder().join("src/lib.rs"))
        .generate()
        .unwrap()
        .write(&mut written);
    String::from_utf8(written).unwrap()
}

/// What readers of declarations take that have no preprocessor, such as PHP's: no comments, and an enumeration for the constants.
fn declarations(header: &str) -> String {
    let (mut constants, mut rest) = (String::new(), String::new());
    let mut in_comment = false;
    // What follows the guards and the includes, up to what C++ alone reads.
    let lines = header.lines().skip_while(|line| !line.starts_with("#include <stdint.h>")).skip(1);
    for line in lines.filter(|line| !line.is_empty() && !line.contains("extern \"C\"")) {
        in_comment |= line.starts_with("/**");
        if let Some(constant) = line.strip_prefix("#define ") {
            let (name, value) = constant.split_once(' ').unwrap();
            writeln!(constants, "    {name} = {value},").unwrap();
        } else if !in_comment && !line.starts_with('#') {
            writeln!(rest, "{line}").unwrap();
        }
        in_comment &= !line.ends_with("*/");
    }
    format!(
        "/* The declarations of floodbar.h for readers without a preprocessor, such as FFI::cdef of PHP.\n   \
         Generated: do not edit. SPDX-License-Identifier: MIT OR Apache-2.0 */\nenum {{\n{constants}}};\n{rest}"
    )
}

fn committed(name: &str, written: &str) {
    let file = folder().join("include").join(name);
    if std::env::var_os("FLOODBAR_WRITE_HEADER").is_some() {
        std::fs::write(&file, written).unwrap();
    }
    assert!(
        std::fs::read_to_string(&file).unwrap_or_default() == written,
        "ffi/include/{name} is not what the source gives; write it anew with: \
         FLOODBAR_WRITE_HEADER=1 cargo test -p floodbar-ffi --test header"
    );
}

#[test]
fn the_header_is_up_to_date() {
    committed("floodbar.h", &header());
}

#[test]
fn the_declarations_are_up_to_date() {
    committed("floodbar.ffi.h", &declarations(&header()));
}
