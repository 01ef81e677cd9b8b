//! Lays the C library down under a prefix, with all that finds it there: headers, pkg-config, CMake, licences.
//!
//! Nothing under the prefix knows where it lies: it may be moved, or packed up, as a whole.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fs;
use std::io::ErrorKind;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

type Done<T = ()> = Result<T, Box<dyn Error>>;

const VERSION: &str = env!("CARGO_PKG_VERSION");

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
    place(&doc.join("THIRD-PARTY.txt"), &notices()?)?;
    place(&doc.join("VERSION"), &format!("{VERSION}\n"))
}

/// The folder of the workspace.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
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

/// What a command prints on its standard output, and whether it succeeded. What it says on the other one is seen as it comes.
fn heard(command: &mut Command) -> Done<(String, Done)> {
    let name = command.get_program().to_string_lossy().into_owned();
    let heard = command.stderr(Stdio::inherit()).output().map_err(|error| format!("{name} does not run: {error}"))?;
    let done = if heard.status.success() { Ok(()) } else { Err(format!("{name}: {}", heard.status).into()) };
    Ok((String::from_utf8(heard.stdout)?, done))
}

fn cargo(arguments: &[&str]) -> Command {
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(root()).args(arguments);
    cargo
}

/// What cargo prints.
fn told(arguments: &[&str]) -> Done<String> {
    let (text, done) = heard(&mut cargo(arguments))?;
    done.map(|()| text)
}

struct Built {
    shared: PathBuf,
    archive: PathBuf,
    /// What a program links with the archive, as flags of the linker.
    native: String,
}

fn build() -> Done<Built> {
    let arguments = ["rustc", "--locked", "--release", "-p", "floodbar-ffi", "--lib", "--message-format=json"];
    let (messages, done) = heard(cargo(&arguments).args(["--", "--print", "native-static-libs"]))?;
    let (mut files, mut native) = (Vec::new(), None);
    for message in messages.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok()) {
        if message.pointer("/target/name").is_some_and(|name| name == "floodbar_ffi") {
            let named = message.get("filenames").and_then(Value::as_array).into_iter().flatten();
            files.extend(named.filter_map(Value::as_str).map(PathBuf::from));
        }
        let text = message.pointer("/message/message").and_then(Value::as_str).unwrap_or_default();
        native = text.strip_prefix("native-static-libs: ").map(str::to_owned).or(native);
        if message.pointer("/message/level").is_some_and(|level| level == "error") {
            eprint!("{}", message.pointer("/message/rendered").and_then(Value::as_str).unwrap_or(text));
        }
    }
    done?;
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

/// The libraries within the library: names, versions, licences, and each licence's text once.
fn notices() -> Done<String> {
    let tree =
        ["tree", "--locked", "-p", "floodbar-ffi", "-e", "normal,no-proc-macro", "--prefix", "none", "--format", "{p}"];
    let tree = told(&tree)?;
    let linked: BTreeSet<_> = tree
        .lines()
        .filter_map(|line| {
            let mut words = line.split(' ');
            Some((words.next()?, words.next()?.strip_prefix('v')?))
        })
        .collect();
    let host = told(&["version", "-v"])?;
    let host = host.lines().find_map(|line| line.strip_prefix("host: ")).ok_or("cargo does not say what it runs on")?;
    let metadata: Value =
        serde_json::from_str(&told(&["metadata", "--locked", "--format-version", "1", "--filter-platform", host])?)?;

    let mut list = String::new();
    let mut texts = BTreeMap::<String, Vec<String>>::new();
    for package in metadata.get("packages").and_then(Value::as_array).into_iter().flatten() {
        let text = |member: &str| package.get(member).and_then(Value::as_str);
        let (Some(name), Some(version), Some(manifest)) = (text("name"), text("version"), text("manifest_path")) else {
            return Err("cargo metadata has a package without name, version or manifest".into());
        };
        // Those without a source are this project's own.
        if !linked.contains(&(name, version)) || text("source").is_none() {
            continue;
        }
        let licence = text("license").ok_or_else(|| format!("{name} does not say its licence"))?;
        list += &format!("{name} {version}: {licence}\n");
        for file in fs::read_dir(Path::new(manifest).parent().unwrap_or(Path::new("/")))? {
            let file = file?;
            let title = file.file_name().to_string_lossy().to_uppercase();
            if ["LICENSE", "LICENCE", "UNLICENSE", "COPYING", "COPYRIGHT", "NOTICE"]
                .iter()
                .any(|start| title.starts_with(start))
                && file.file_type()?.is_file()
            {
                let text = fs::read_to_string(file.path())?.replace("\r\n", "\n");
                texts.entry(text.trim().to_owned()).or_default().push(format!("{name} {version}"));
            }
        }
    }
    let rust = told(&["version"])?;
    let mut notices = format!(
        "Libraries within libfloodbar {VERSION}, and their licences.\n\n{list}\
         the standard library of Rust (of {}): MIT OR Apache-2.0, as libfloodbar itself\n",
        rust.trim()
    );
    for (text, mut users) in texts {
        users.sort();
        users.dedup();
        notices += &format!("\n{}\n{}\n\n{text}\n", "-".repeat(80), users.join(", "));
    }
    Ok(notices)
}
