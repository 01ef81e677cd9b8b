//! The bill of materials of a package: what is linked into it, as CycloneDX 1.6 in JSON.
//!
//! Nothing in it is of the machine or of the hour, so that the same sources make the same bill.

use crate::cargo::{Done, Linked, VERSION, linked, root};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;

/// What it is called in each package.
pub const BILL: &str = "floodbar.cdx.json";

/// The bill of a package of that kind (`npm`, `pypi`, `generic`) and name, into which a crate is linked.
///
/// # Errors
/// What cargo does not know of it.
pub fn bill(kind: &str, name: &str, krate: &str, platform: &str) -> Done<String> {
    let (others, used) = linked(krate, platform)?;
    let checksums = checksums()?;
    let own = reference(kind, name, VERSION);
    let licence = |expression: &str| json!([{ "expression": expression }]);
    let component = |other: &Linked| {
        let checksum = checksums.get(&(other.name.clone(), other.version.clone()));
        let checksum = checksum.ok_or_else(|| format!("Cargo.lock has no checksum of {}", other.name))?;
        Done::Ok(json!({
            "type": "library", "bom-ref": crate_of(&other.name, &other.version),
            "name": other.name, "version": other.version, "scope": "required",
            "hashes": [{ "alg": "SHA-256", "content": checksum }],
            // Older crates part their licences by a stroke, which meant that one may choose.
            "licenses": licence(&other.licence.replace('/', " OR ")),
            "purl": crate_of(&other.name, &other.version),
        }))
    };
    let mut components = others.iter().map(component).collect::<Done<Vec<_>>>()?;
    let depends = |of: &str, on: &mut dyn Iterator<Item = &(String, String)>| json!({ "ref": of, "dependsOn": on.map(|(name, version)| crate_of(name, version)).collect::<Vec<_>>() });
    let mut dependencies = vec![depends(&own, &mut used.iter())];
    dependencies
        .extend(others.iter().map(|other| depends(&crate_of(&other.name, &other.version), &mut other.uses.iter())));
    // Of the compiler that builds it, whichever that is.
    components.push(json!({
        "type": "library", "bom-ref": "rust-std", "name": "the standard library of Rust", "scope": "required",
        "licenses": licence("MIT OR Apache-2.0"),
    }));
    if let Some(Value::Array(on)) = dependencies.first_mut().and_then(|own| own.get_mut("dependsOn")) {
        on.push("rust-std".into());
    }
    let bill = json!({
        "bomFormat": "CycloneDX", "specVersion": "1.6", "version": 1,
        "metadata": { "component": {
            "type": "library", "bom-ref": own, "name": name, "version": VERSION,
            "licenses": licence(env!("CARGO_PKG_LICENSE")), "purl": own,
        } },
        "components": components, "dependencies": dependencies,
    });
    Ok(format!("{bill:#}\n"))
}

/// A package URL.
fn reference(kind: &str, name: &str, version: &str) -> String {
    format!("pkg:{kind}/{name}@{version}")
}

fn crate_of(name: &str, version: &str) -> String {
    // All that a version may have and a package URL may not.
    reference("cargo", name, &version.replace('+', "%2B"))
}

/// The checksum of each package in the lock file.
fn checksums() -> Done<BTreeMap<(String, String), String>> {
    let lock = fs::read_to_string(root().join("Cargo.lock"))?;
    let value = |package: &str, name: &str| {
        let line = package.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(" = \""));
        line.and_then(|line| line.strip_suffix('"')).map(str::to_owned)
    };
    let entry =
        |package: &str| Some(((value(package, "name")?, value(package, "version")?), value(package, "checksum")?));
    Ok(lock.split("[[package]]").filter_map(entry).collect())
}
