//! Writes what of the Python package follows from the catalogue and from the lock file. The modules are written by
//! `ffi/python/write_modules.py`, to which the catalogue is handed, because what writes Python is best read in Python.

use crate::cargo::{Done, host, notices, root};
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

/// The licences of what is within the wheel, where its builder takes them from.
const NOTICES: &str = "ffi/THIRD-PARTY.txt";

/// Writes the modules, stubs and records, and the licences of what is linked.
///
/// # Errors
/// No Python, or what could not be written.
pub fn write() -> Done {
    modules(&[])?;
    Ok(fs::write(root().join(NOTICES), notices("floodbar", "floodbar-ffi", &host()?)?)?)
}

/// Compares those that there are.
///
/// # Errors
/// No Python, or files that differ.
pub fn check() -> Done {
    modules(&["--check"])?;
    match fs::read_to_string(root().join(NOTICES))? == notices("floodbar", "floodbar-ffi", &host()?)? {
        true => Ok(()),
        false => Err(format!("{NOTICES} is not what is linked: run `floodbar-pack python`").into()),
    }
}

fn modules(flags: &[&str]) -> Done {
    let mut python = Command::new("python3")
        .arg("-B")
        .arg(root().join("ffi/python/write_modules.py"))
        .args(flags)
        .stdin(Stdio::piped())
        .spawn()
        .map_err(|error| format!("python3 does not run: {error}"))?;
    let catalogue = floodbar::catalogue::describe().to_string();
    // Closed when it has been written, which is how the script learns of the end.
    let told = python.stdin.take().map_or(Ok(()), |mut stdin| stdin.write_all(catalogue.as_bytes()));
    if python.wait()?.success() { Ok(told?) } else { Err("write_modules.py failed".into()) }
}
