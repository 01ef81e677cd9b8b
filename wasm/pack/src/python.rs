//! Writes the modules of the Python package: hands the catalogue to `ffi/python/write_modules.py`, because what writes Python is
//! best read in Python.

use std::error::Error;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// Writes the modules, stubs and records, or compares those that there are with the catalogue.
///
/// # Errors
/// No Python, or files that differ.
pub fn write(is_check: bool) -> Result<(), Box<dyn Error>> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../ffi/python/write_modules.py");
    let mut python = Command::new("python3")
        .arg("-B")
        .arg(script)
        .args(is_check.then_some("--check"))
        .stdin(Stdio::piped())
        .spawn()
        .map_err(|error| format!("python3 does not run: {error}"))?;
    let catalogue = floodbar::catalogue::describe().to_string();
    // Closed when it has been written, which is how the script learns of the end.
    let told = python.stdin.take().map_or(Ok(()), |mut stdin| stdin.write_all(catalogue.as_bytes()));
    if python.wait()?.success() { Ok(told?) } else { Err("the Python package is not as the catalogue has it".into()) }
}
