//! Cargo, asked by the packer: to build, and what of others is linked.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What was made, or why not.
pub type Done<T = ()> = Result<T, Box<dyn Error>>;

/// The version of all that is packed.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The folder of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// What a command prints on its standard output, and whether it succeeded. What it says on the other one is seen as it comes.
pub fn heard(command: &mut Command) -> Done<(String, Done)> {
    let name = command.get_program().to_string_lossy().into_owned();
    let heard = command.stderr(Stdio::inherit()).output().map_err(|error| format!("{name} does not run: {error}"))?;
    let done = if heard.status.success() { Ok(()) } else { Err(format!("{name}: {}", heard.status).into()) };
    Ok((String::from_utf8(heard.stdout)?, done))
}

/// Cargo in the workspace.
pub fn cargo(arguments: &[&str]) -> Command {
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(root()).args(arguments);
    cargo
}

/// What cargo prints.
fn told(arguments: &[&str]) -> Done<String> {
    let (text, done) = heard(&mut cargo(arguments))?;
    done.map(|()| text)
}

/// What cargo, asked for `--message-format=json`, built of a crate, and each message of the compiler.
pub fn built(cargo: &mut Command, name: &str) -> Done<(Vec<PathBuf>, Vec<String>)> {
    let (messages, done) = heard(cargo)?;
    let (mut files, mut said) = (Vec::new(), Vec::new());
    for message in messages.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok()) {
        if message.pointer("/target/name").is_some_and(|own| own == name) {
            let named = message.get("filenames").and_then(Value::as_array).into_iter().flatten();
            files.extend(named.filter_map(Value::as_str).map(PathBuf::from));
        }
        let text = message.pointer("/message/message").and_then(Value::as_str).unwrap_or_default();
        said.push(text.to_owned());
        if message.pointer("/message/level").is_some_and(|level| level == "error") {
            eprint!("{}", message.pointer("/message/rendered").and_then(Value::as_str).unwrap_or(text));
        }
    }
    done.map(|()| (files, said))
}

/// The platform that cargo runs on.
pub fn host() -> Done<String> {
    let version = told(&["version", "-v"])?;
    let host = version.lines().find_map(|line| line.strip_prefix("host: "));
    Ok(host.ok_or("cargo does not say what it runs on")?.to_owned())
}

/// What cargo knows of all packages.
pub fn packages(platform: &str) -> Done<Vec<Value>> {
    let told = told(&["metadata", "--locked", "--format-version", "1", "--filter-platform", platform])?;
    let metadata: Value = serde_json::from_str(&told)?;
    Ok(metadata.get("packages").and_then(Value::as_array).cloned().unwrap_or_default())
}

/// Packages by name and version.
pub type Packages = BTreeSet<(String, String)>;

/// A library of others that is linked into a crate.
pub struct Linked {
    pub name: String,
    pub version: String,
    pub licence: String,
    /// Where its sources lie.
    folder: PathBuf,
    /// The others that it uses.
    pub uses: Packages,
}

/// The libraries of others that are linked into a crate, and those of them that the crate, or another of this project within it, uses.
pub fn linked(krate: &str, platform: &str) -> Done<(Vec<Linked>, Packages)> {
    let form = ["-e", "normal,no-proc-macro", "--prefix", "depth", "--no-dedupe", "--format", " {p}"];
    let tree = told(&[&["tree", "--locked", "-p", krate, "--target", platform], form.as_slice()].concat())?;
    // Which uses which, from the path that leads to each line.
    let mut uses = BTreeMap::<(String, String), Packages>::new();
    let mut path = Vec::<(String, String)>::new();
    for line in tree.lines() {
        let mut words = line.split(' ');
        let (Some(depth), Some(name), Some(version)) = (words.next(), words.next(), words.next()) else {
            return Err(format!("cargo tree says {line}").into());
        };
        let package = (name.to_owned(), version.trim_start_matches('v').to_owned());
        path.truncate(depth.parse()?);
        if let Some(user) = path.last() {
            uses.entry(user.clone()).or_default().insert(package.clone());
        }
        uses.entry(package.clone()).or_default();
        path.push(package);
    }

    let (mut others, mut used) = (Vec::new(), Packages::new());
    for package in packages(platform)? {
        let text = |member: &str| package.get(member).and_then(Value::as_str);
        let (Some(name), Some(version), Some(manifest)) = (text("name"), text("version"), text("manifest_path")) else {
            return Err("cargo metadata has a package without name, version or manifest".into());
        };
        let Some(uses) = uses.remove(&(name.to_owned(), version.to_owned())) else { continue };
        // Those without a source are this project's own.
        if text("source").is_none() {
            used.extend(uses);
            continue;
        }
        others.push(Linked {
            name: name.to_owned(),
            version: version.to_owned(),
            licence: text("license").ok_or_else(|| format!("{name} does not say its licence"))?.to_owned(),
            folder: Path::new(manifest).parent().unwrap_or(Path::new("/")).to_owned(),
            uses,
        });
    }
    used.retain(|used| others.iter().any(|other| (&other.name, &other.version) == (&used.0, &used.1)));
    Ok((others, used))
}

/// What is linked into a crate: names, versions, licences, and each licence's text once.
pub fn notices(of: &str, krate: &str, platform: &str) -> Done<String> {
    let mut list = String::new();
    let mut texts = BTreeMap::<String, Vec<String>>::new();
    for Linked { name, version, licence, folder, .. } in linked(krate, platform)?.0 {
        list += &format!("{name} {version}: {licence}\n");
        for file in fs::read_dir(folder)? {
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
    let mut notices = format!(
        "Libraries within {of} {VERSION}, and their licences.\n\n{list}\
         the standard library of Rust: MIT OR Apache-2.0, as {of} itself\n"
    );
    for (text, mut users) in texts {
        users.sort();
        users.dedup();
        notices += &format!("\n{}\n{}\n\n{text}\n", "-".repeat(80), users.join(", "));
    }
    Ok(notices)
}
