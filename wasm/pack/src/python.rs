//! Writes what of the Python package follows from the catalogue and from the lock file. The modules are written by
//! `ffi/python/write_modules.py`, to which the catalogue is handed, because what writes Python is best read in Python.

use crate::bill::{BILL, bill};
use crate::cargo::{Done, host, notices, root};
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

/// What tells of the libraries within the wheel, where its builder takes it from.
fn within() -> Done<[(String, String); 2]> {
    let (krate, host) = ("floodbar-ffi", host()?);
    Ok([
        ("ffi/THIRD-PARTY.txt".to_owned(), notices("floodbar", krate, &host)?),
        (format!("ffi/{BILL}"), bill("pypi", "floodbar", krate, &host)?),
    ])
}

/// Writes the modules, stubs and records, and what tells of what is linked.
///
/// # Errors
/// No Python, or what could not be written.
pub fn write() -> Done {
    modules(&[])?;
    for (file, text) in within()? {
        fs::write(root().join(file), text)?;
    }
    Ok(())
}

/// Compares those that there are.
///
/// # Errors
/// No Python, or files that differ.
pub fn check() -> Done {
    modules(&["--check"])?;
    for (file, text) in within()? {
        if fs::read_to_string(root().join(&file)).unwrap_or_default() != text {
            return Err(format!("{file} is not what is linked: run `floodbar-pack python`").into());
        }
    }
    Ok(())
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
