//! The shared vectors, through the Rust layer.

use floodbar::Code;
use floodbar_tests::vectors::{faults, reply, vectors};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Where `FLOODBAR_OUT` names a folder, the replies go there, to be compared with the other layers' byte by byte.
#[test]
fn every_vector_is_answered_as_it_wants() {
    let mut wrong = String::new();
    let mut replies = String::new();
    let vectors = vectors();
    for vector in &vectors {
        let reply = reply(vector);
        for fault in faults(vector, &serde_json::from_str(&reply).expect("a reply is JSON")) {
            let _ = writeln!(wrong, "{} ({}): {fault}", vector["name"], vector["calculation"]);
        }
        replies.push_str(&reply);
        replies.push('\n');
    }
    if let Some(folder) = std::env::var_os("FLOODBAR_OUT") {
        std::fs::write(std::path::Path::new(&folder).join("rust.jsonl"), replies)
            .expect("a folder that can be written");
    }
    assert!(wrong.is_empty(), "of {} vectors:\n{wrong}", vectors.len());
}

#[test]
fn the_judge_finds_what_is_wrong() {
    let vector = |json: &str| serde_json::from_str::<Value>(json).unwrap();
    let answer = vector(r#"{"a": {"value": 1.5, "unit": "um"}, "n": 26}"#);
    let judged = |want: &str| faults(&vector(&format!(r#"{{"want": {want}}}"#)), &answer).len();
    assert_eq!(judged(r#"{"/a/value": {"value": 1.4, "within": 0.2}, "/a/unit": "um", "/b": null, "/n": 26.0}"#), 0);
    assert_eq!(judged(r#"{"/a/value": {"value": 1.4, "within": 0.05}, "/a/unit": "mm", "/a": null, "/n": 27}"#), 4);
    assert_eq!(judged(r#"{"/b": {"value": 0, "within": 1}, "/c": "um"}"#), 2);
    let error = vector(r#"{"error": {"code": "bad_json", "field": "", "got": 1, "allowed": ["a"]}}"#);
    let judged = |want: &str| faults(&vector(&format!(r#"{{"error": {want}}}"#)), &error).len();
    assert_eq!(judged(r#"{"code": "bad_json", "field": "", "got": 1.0, "allowed": ["a"]}"#), 0);
    assert_eq!(judged(r#"{"code": "internal", "field": "/a", "got": 2, "allowed": ["b"]}"#), 4);
    assert_eq!(faults(&vector(r#"{"want": {"/a": null}}"#), &error).len(), 1);
    assert_eq!(faults(&vector(r#"{"error": {"code": "bad_json", "field": ""}}"#), &answer).len(), 2);
}

#[test]
fn every_calculation_has_vectors_of_both_kinds() {
    let vectors = vectors();
    for calculation in floodbar::catalogue::CALCULATIONS {
        let of =
            |kind| vectors.iter().filter(|v| v["calculation"] == calculation.id() && v.get(kind).is_some()).count();
        let (good, bad) = (of("want"), of("error"));
        assert!(good >= 3 && bad >= 3, "{}: {good} answers and {bad} errors, wanted are 3 of each", calculation.id());
    }
}

#[test]
fn the_files_are_well_formed() {
    let mut names = BTreeSet::new();
    for vector in &vectors() {
        let members = vector.as_object().unwrap();
        let has = |name| members.contains_key(name);
        for name in members.keys() {
            assert!(
                ["name", "calculation", "request", "text", "source", "want", "error"].contains(&name.as_str()),
                "{name}"
            );
        }
        assert!(has("request") != has("text") && has("want") != has("error"), "{vector}");
        assert!(vector["source"].as_str().is_some_and(|s| s.len() > 5), "no source: {vector}");
        assert!(names.insert(vector["name"].as_str().unwrap().to_owned()), "twice: {}", vector["name"]);
        match vector.get("error") {
            Some(error) => {
                assert!(Code::ALL.iter().any(|code| error["code"] == code.text()), "{error}");
                assert!(error.as_object().unwrap().keys().all(|k| ["code", "field", "got", "allowed"].contains(&&**k)));
            }
            None => {
                let wanted = vector["want"].as_object().unwrap();
                assert!(!wanted.is_empty(), "{vector} wants nothing");
                for (pointer, wanted) in wanted {
                    let exact = wanted.is_string() || wanted.is_boolean() || wanted.is_null() || wanted.is_u64();
                    let near = wanted["value"].is_number() && wanted["within"].as_f64().is_some_and(|w| w >= 0.0);
                    assert!(pointer.starts_with('/') && (exact || near), "{pointer}: {wanted}");
                }
            }
        }
    }
}
