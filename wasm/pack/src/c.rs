//! Lays the C library down under a prefix, with all that finds it there: headers, pkg-config, CMake, licences.
//!
//! Nothing under the prefix knows where it lies: it may be moved, or packed up, as a whole.

use crate::bill::{BILL, bill};
use crate::cargo::{Done, VERSION, built, cargo, heard, host, notices, root};
use std::fs;
use std::io::ErrorKind;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Builds the library and installs it.
///
/// # Errors
/// What could not be built or written.
pub fn install(prefix: &Path) -> Done {
    let prefix = std::path::absolute(prefix)?;
    let soname = format!("libfloodbar.so.{}", env!("CARGO_PKG_VERSION_MAJOR"));
    let built = build()?;
    let root = root();

    for header in ["floodbar.h", "floodbar.hpp", "floodbar.ffi.h"] {
        place(&prefix.join("include").join(header), &fs::read_to_string(root.join("ffi/include").join(header))?)?;
    }

    let lib = prefix.join("lib");
    let shared = format!("libfloodbar.so.{VERSION}");
    strip("--strip-unneeded", &built.shared, &lib.join(&shared))?;
    strip("--strip-debug", &built.archive, &lib.join("libfloodbar.a"))?;
    for (name, leads_to) in [(soname.as_str(), shared.as_str()), ("libfloodbar.so", soname.as_str())] {
        symlink(leads_to, fresh(&lib.join(name))?)?;
    }

    let fill = |template: &str| {
        template
            .replace("@VERSION@", VERSION)
            .replace("@SONAME@", &soname)
            .replace("@NATIVE@", &built.native)
            .replace("@NATIVE_LIST@", &built.native.replace(' ', ";"))
            .replace("@POINTER@", &size_of::<usize>().to_string())
    };
    let templates = [
        ("pkgconfig/floodbar.pc", include_str!("../../../ffi/install/floodbar.pc.in")),
        ("cmake/floodbar/floodbarConfig.cmake", include_str!("../../../ffi/install/floodbarConfig.cmake.in")),
        (
            "cmake/floodbar/floodbarConfigVersion.cmake",
            include_str!("../../../ffi/install/floodbarConfigVersion.cmake.in"),
        ),
        ("cmake/floodbar/floodbarTargets.cmake", include_str!("../../../ffi/install/floodbarTargets.cmake.in")),
    ];
    for (name, template) in templates {
        place(&lib.join(name), &fill(template))?;
    }

    let doc = prefix.join("share/doc/floodbar");
    for licence in ["LICENSE-APACHE", "LICENSE-MIT"] {
        place(&doc.join(licence), &fs::read_to_string(root.join(licence))?)?;
    }
    place(&doc.join("THIRD-PARTY.txt"), &notices("libfloodbar", "floodbar-ffi", &host()?)?)?;
    place(&doc.join(BILL), &bill("generic", "libfloodbar", "floodbar-ffi", &host()?)?)?;
    place(&doc.join("VERSION"), &format!("{VERSION}\n"))
}

/// A file that is not there yet, in a folder that is. A library that a program runs on is not overwritten under it.
fn fresh(path: &Path) -> Done<&Path> {
    let made = path.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::remove_file(path));
    match made {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(format!("{}: {error}", path.display()).into()),
        _ => Ok(path),
    }
}

fn place(path: &Path, text: &str) -> Done {
    Ok(fs::write(fresh(path)?, text)?)
}

/// Copies a library without what only debuggers read.
fn strip(what: &str, from: &Path, to: &Path) -> Done {
    heard(Command::new("strip").arg(what).arg("-o").arg(fresh(to)?).arg(from))?.1
}

struct Built {
    shared: PathBuf,
    archive: PathBuf,
    /// What a program links with the archive, as flags of the linker.
    native: String,
}

fn build() -> Done<Built> {
    let arguments = ["rustc", "--locked", "--release", "-p", "floodbar-ffi", "--lib", "--message-format=json"];
    // The crate types of the library without that for Rust: what it stands on is compiled for linking alone, as it is for Python.
    let types = ["--crate-type", "cdylib,staticlib", "--", "--print", "native-static-libs"];
    let (files, said) = built(cargo(&arguments).args(types), "floodbar_ffi")?;
    let native = said.iter().rev().find_map(|text| text.strip_prefix("native-static-libs: ").map(str::to_owned));
    let file = |ending: &str| {
        files
            .iter()
            .find(|file| file.extension().is_some_and(|own| own == ending))
            .cloned()
            .ok_or_else(|| format!("no .{ending} was built: this lays down libraries of systems with ELF only"))
    };
    let (shared, archive) = (file("so")?, file("a")?);
    Ok(Built { shared, archive, native: native.ok_or("rustc did not say which native libraries the archive needs")? })
}
