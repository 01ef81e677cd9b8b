//! What the types and the wire cost: ink usage typed against bare numbers, the checked answer to a typed request, and
//! `calculate` against JSON alone.
//!
//! The ratios at the end are the figures to keep: each compares two things timed in turn in this one run.

#![allow(missing_docs, clippy::unwrap_used, clippy::indexing_slicing, reason = "a benchmark, not the library")]

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use floodbar::ink::{USAGE, UsageRequest, edge_share_of_area, laid_down, mass_per_print, wet_film};
use floodbar::mesh::Mesh;
use floodbar::quantity::{Area, Density, Dimensioned, Length, Mass, units};
use floodbar::wire::Options;
use serde_json::Value;
use std::hint::black_box;
use std::time::Instant;

const ROWS: usize = 4096;
const REQUEST: &str = r#"{"mesh": "55-64", "ink": "plastisol-white", "width": "320 mm", "height": "380 mm", "coverage_fraction": 0.38, "prints": 240}"#;

/// One row of the typed formula.
#[derive(Clone)]
struct Typed {
    mesh: Mesh,
    over_mesh: Length,
    edge: Length,
    reach: Length,
    area: Area,
    density: Density,
    release: f64,
}

/// The same row in SI numbers.
#[derive(Clone, Copy)]
struct Bare {
    count: f64,
    thread: f64,
    over_mesh: f64,
    edge: f64,
    reach: f64,
    area: f64,
    density: f64,
    release: f64,
}

fn rows() -> (Vec<Typed>, Vec<Bare>) {
    (0..ROWS)
        .map(|i| {
            let varied = i as f64 / ROWS as f64;
            let typed = Typed {
                mesh: Mesh::new(units::PER_CM.of(43.0 + (77.0 * varied).floor()), units::UM.of(40.0)).unwrap(),
                over_mesh: units::UM.of(10.0 + 15.0 * varied),
                edge: units::M.of(5.0 * varied),
                reach: units::MM.of(0.25),
                area: units::CM2.of(100.0 + 500.0 * varied),
                density: units::G_PER_CM3.of(1.05 + 0.4 * varied),
                release: 0.3 + 0.25 * varied,
            };
            let bare = Bare {
                count: typed.mesh.count().si(),
                thread: typed.mesh.thread().si(),
                over_mesh: typed.over_mesh.si(),
                edge: typed.edge.si(),
                reach: typed.reach.si(),
                area: typed.area.si(),
                density: typed.density.si(),
                release: typed.release,
            };
            (typed, bare)
        })
        .unzip()
}

#[inline(never)]
fn typed(rows: &[Typed]) -> f64 {
    let mut sum = Mass::from_si(0.0);
    for row in rows {
        let share = edge_share_of_area(row.edge, row.reach, row.area);
        let film = wet_film(laid_down(1, 2, row.release, 0.15), row.mesh.ink_volume(), row.over_mesh, share);
        sum += mass_per_print(row.area, film, row.density);
    }
    sum.si()
}

#[inline(never)]
fn bare(rows: &[Bare]) -> f64 {
    let mut sum = 0.0;
    for row in rows {
        let share = (row.edge * row.reach / row.area).min(1.0);
        let pitch = 1.0 / row.count;
        let open = (pitch - row.thread) / pitch;
        let volume = open * open * (row.thread * 1.5);
        let laid = 1.0 * (row.release * (1.0 + 0.15 * (2.0 - 1.0)));
        let film = laid * (volume + row.over_mesh * share);
        sum += row.area * film * row.density;
    }
    sum
}

fn json_alone(request: &str, answer: &Value) -> (Value, String) {
    (serde_json::from_str(request).unwrap(), serde_json::to_string(answer).unwrap())
}

/// Median of the time of `a` over that of `b`, each timed in turn so that both meet the same machine.
fn ratio(mut a: impl FnMut(), mut b: impl FnMut()) -> f64 {
    let mut ratios: Vec<f64> = (0..201)
        .map(|_| {
            let start = Instant::now();
            a();
            let first = start.elapsed();
            let start = Instant::now();
            b();
            first.as_secs_f64() / start.elapsed().as_secs_f64()
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    ratios[ratios.len() / 2]
}

fn usage(c: &mut Criterion) {
    let (typed_rows, bare_rows) = rows();
    assert!((typed(&typed_rows) / bare(&bare_rows) - 1.0).abs() < 1e-12, "both must mean the same");
    c.bench_function("ink usage, typed, 4096 rows", |b| b.iter(|| typed(black_box(&typed_rows))));
    c.bench_function("ink usage, bare f64, 4096 rows", |b| b.iter(|| bare(black_box(&bare_rows))));

    let request: Value = serde_json::from_str(REQUEST).unwrap();
    let answer = floodbar::calculate("ink.usage", &request).unwrap();
    c.bench_function("calculate ink.usage, text to text", |b| {
        b.iter(|| floodbar::calculate_text("ink.usage", black_box(REQUEST.as_bytes())).unwrap());
    });
    c.bench_function("serde_json alone, the same texts", |b| {
        b.iter_batched(|| (), |()| json_alone(black_box(REQUEST), black_box(&answer)), BatchSize::SmallInput);
    });

    let asked = UsageRequest::from_json(&request).unwrap();
    let silent = Options::USUAL.explain(false);
    c.bench_function("USAGE.answer, explained", |b| b.iter(|| USAGE.answer(black_box(&asked)).unwrap()));
    c.bench_function("USAGE.answer, not explained", |b| {
        b.iter(|| USAGE.answer_as(black_box(&asked), silent).unwrap());
    });
    c.bench_function("calculate ink.usage, value to value", |b| {
        b.iter(|| floodbar::calculate("ink.usage", black_box(&request)).unwrap());
    });

    let types = ratio(
        || {
            for _ in 0..20 {
                black_box(typed(black_box(&typed_rows)));
            }
        },
        || {
            for _ in 0..20 {
                black_box(bare(black_box(&bare_rows)));
            }
        },
    );
    let wire = ratio(
        || {
            for _ in 0..200 {
                black_box(floodbar::calculate_text("ink.usage", black_box(REQUEST.as_bytes())).unwrap());
            }
        },
        || {
            for _ in 0..200 {
                black_box(json_alone(black_box(REQUEST), black_box(&answer)));
            }
        },
    );
    println!("ratio: ink usage, typed over bare f64: {types:.3} (aim: at most 1.05)");
    let value = ratio(
        || {
            for _ in 0..200 {
                black_box(floodbar::calculate("ink.usage", black_box(&request)).unwrap());
            }
        },
        || {
            for _ in 0..200 {
                black_box(json_alone(black_box(REQUEST), black_box(&answer)));
            }
        },
    );
    println!("ratio: calculate_text(\"ink.usage\") over serde_json alone: {wire:.2} (aim: at most 3)");
    println!("ratio: calculate(\"ink.usage\") over serde_json alone: {value:.2} (aim: at most calculate_text's)");
}

criterion_group!(benches, usage);
criterion_main!(benches);
