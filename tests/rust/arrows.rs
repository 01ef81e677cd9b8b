//! Arrows run one way: a trade step uses the ground floor and the steps before it, and nothing uses the roof.

use std::fs;
use std::path::{Path, PathBuf};

/// Under all steps, and the steps in the order in which a print is made.
const GROUND: [&str; 14] = [
    "quantity",
    "air",
    "work",
    "error",
    "note",
    "source",
    "sorted",
    "sharing",
    "money",
    "chance",
    "root",
    "fitting",
    "propagation",
    "wire",
];
/// Over all steps: the lists of calculations and of built-in things.
const ROOF: [&str; 2] = ["catalogue", "stock"];
const STEPS: [&str; 17] = [
    "unit", "cloth", "mesh", "stencil", "exposure", "artwork", "ink", "tension", "register", "press", "flash", "dryer",
    "cure", "heat", "wash", "job", "shop",
];
/// The conduction solver, which flash and dryer call.
const ASIDE: [(&str, &str); 2] = [("flash", "heat"), ("dryer", "heat")];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("core's sources").map(|entry| entry.expect("an entry").path()) {
        if entry.is_dir() {
            sources(&entry, found);
        } else if entry.extension().is_some_and(|extension| extension == "rs") {
            found.push(entry);
        }
    }
}

/// The modules of this crate that a source names, `crate::{a, b::c}` included.
fn named(text: &str) -> Vec<&str> {
    let code =
        text.lines().filter(|line| !line.trim_start().starts_with("//")).flat_map(|line| line.split("crate::").skip(1));
    let mut names = Vec::new();
    for rest in code {
        let list = rest.strip_prefix('{').map_or(rest, |list| list.split('}').next().unwrap_or(list));
        let pieces = if rest.starts_with('{') { list.split(',').collect() } else { vec![list] };
        for piece in pieces {
            let word = piece.trim();
            names.push(&word[..word.find(|c: char| !c.is_ascii_lowercase() && c != '_').unwrap_or(word.len())]);
        }
    }
    names
}

#[test]
fn no_step_uses_a_later_one() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src");
    let mut files = Vec::new();
    sources(&root, &mut files);
    let place = |name: &str| STEPS.iter().position(|step| *step == name);
    let (mut seen, mut wrong) = (0, Vec::new());
    for file in &files {
        let inside = file.strip_prefix(&root).expect("inside core");
        let module = inside.iter().next().expect("a name").to_str().expect("text").trim_end_matches(".rs");
        if ROOF.contains(&module) || module == "lib" {
            continue;
        }
        let own = place(module);
        assert!(own.is_some() || GROUND.contains(&module), "{module} is neither a step nor ground floor: list it here");
        let text = fs::read_to_string(file).expect("a source");
        for name in named(&text) {
            seen += usize::from(GROUND.contains(&name) || place(name).is_some());
            let later = match own {
                Some(own) => place(name).is_some_and(|used| used > own) && !ASIDE.contains(&(module, name)),
                None => place(name).is_some(),
            };
            if later || ROOF.contains(&name) {
                wrong.push(format!("{} uses {name}", inside.display()));
            }
        }
    }
    assert!(seen > 200, "only {seen} arrows were found: is `named` blind?");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The front page of the documents is the manual's table of contents.
#[test]
fn the_front_page_lists_the_steps_in_order() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/lib.rs");
    let page = fs::read_to_string(path).expect("core's front page");
    let listed: Vec<&str> = page
        .lines()
        .filter_map(|line| line.strip_prefix("//! ")?.split_once(". [`")?.1.split_once("`]: "))
        .map(|(step, _)| step)
        .collect();
    assert_eq!(listed, STEPS[1..]);
}

#[test]
fn names_are_found_in_every_form() {
    let text = "use crate::{mesh, ink::Ink};\n// crate::job\nlet x = crate::heat::Face::default() + crate::wash::y;\n";
    assert_eq!(named(text), ["mesh", "ink", "heat", "wash"]);
}
