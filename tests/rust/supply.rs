//! What is taken from others: each dependency with its reason, and each script that runs where the shipped crates are built.

use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

/// The crates that are shipped, or linked into what is.
const SHIPPED: [&str; 3] = ["floodbar", "floodbar-ffi", "floodbar-wasm"];
/// What a script would reach out with.
const OUTWARDS: [&str; 8] = ["std::net", "TcpStream", "UdpSocket", "curl", "wget", "ureq", "reqwest", "git2"];

fn cargo(arguments: &[&str]) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let told = Command::new(env!("CARGO")).current_dir(root).args(arguments).output().expect("cargo");
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    String::from_utf8(told.stdout).expect("UTF-8")
}

fn metadata() -> Value {
    serde_json::from_str(&cargo(&["metadata", "--locked", "--format-version", "1"])).expect("cargo's JSON")
}

fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

#[test]
fn a_build_script_that_runs_is_known_and_does_not_reach_out() {
    let mut tree =
        vec!["tree", "--locked", "-e", "normal,build", "--target", "all", "--prefix", "none", "--format", "{p}"];
    tree.extend(SHIPPED.iter().flat_map(|name| ["-p", *name]));
    let tree = cargo(&tree);
    let built: BTreeSet<_> = tree
        .lines()
        .filter_map(|line| line.split_once(" v"))
        .map(|(name, rest)| (name, rest.split(' ').next().unwrap_or(rest)))
        .collect();
    let mut found = BTreeSet::new();
    for package in list(&metadata(), "packages") {
        let word = |name: &str| package[name].as_str().unwrap_or_default();
        if !built.contains(&(word("name"), word("version"))) {
            continue;
        }
        let scripts = list(package, "targets").iter().filter(|target| target["kind"][0] == "custom-build");
        for script in scripts.filter_map(|target| target["src_path"].as_str()) {
            let text = fs::read_to_string(script).expect("a build script");
            let outwards: Vec<_> = OUTWARDS.iter().filter(|word| text.contains(**word)).collect();
            assert!(outwards.is_empty(), "{script} has {outwards:?}");
            found.insert(format!("{} {}", word("name"), word("version")));
        }
    }
    let known = include_str!("build_scripts.txt").lines().filter(|line| !line.starts_with('#'));
    let known: BTreeSet<_> = known.map(|line| line.split(": ").next().unwrap_or(line).to_owned()).collect();
    assert_eq!(found, known, "read what is new, and write into build_scripts.txt what it does");
}

/// Lines of dependencies without a comment.
fn without_reason(manifest: &str) -> Vec<&str> {
    let mut depends = false;
    let mut missing = Vec::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            depends = line.ends_with("dependencies]") && line != "[workspace.dependencies]";
        } else if depends && line.contains('=') && !line.contains(" # ") {
            missing.push(line);
        }
    }
    missing
}

#[test]
fn a_dependency_has_its_reason_beside_it() {
    assert_eq!(
        without_reason("[dependencies]\none = \"1\"  # a reason\ntwo = \"2\"\n[lints]\nworkspace = true"),
        ["two = \"2\""]
    );
    let metadata = metadata();
    let own = list(&metadata, "packages").iter().filter(|package| package["source"].is_null());
    let mut manifests: Vec<_> =
        own.filter_map(|package| package["manifest_path"].as_str().map(str::to_owned)).collect();
    assert_eq!(manifests.len(), list(&metadata, "workspace_members").len());
    // No member of the workspace.
    manifests.push(concat!(env!("CARGO_MANIFEST_DIR"), "/speed/Cargo.toml").to_owned());
    for manifest in manifests {
        let text = fs::read_to_string(&manifest).expect("a manifest");
        assert_eq!(without_reason(&text), Vec::<&str>::new(), "{manifest}");
    }
}
