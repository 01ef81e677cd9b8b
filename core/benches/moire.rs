//! What a protractor of angles costs: `mesh.moire` from request to answer.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark, not the library")]

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::json;
use std::hint::black_box;

fn moire(c: &mut Criterion) {
    let angles: Vec<String> = (0..=180).map(|half| format!("{} deg", f64::from(half) / 2.0)).collect();
    let request = json!({ "mesh": "120-34", "ruling": "55 lpi", "angles": angles });
    println!("mesh.moire over {} angles (aim: 2 ms)", angles.len());
    c.bench_function("mesh.moire, 181 angles", |b| {
        b.iter(|| floodbar::calculate("mesh.moire", black_box(&request)).unwrap());
    });
}

criterion_group!(benches, moire);
criterion_main!(benches);
