//! What the larger questions cost: the window of a belt, the flash over a run, the register of eight colours, a whole order.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark, not the library")]

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::Value;
use std::hint::black_box;

const ORDER: &str = include_str!("../../examples/orders/regatta.json");
const WINDOW: &str = r#"{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}"#;
const RUN: &str = r#"{"flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped", "press": "automatic-8", "pieces": 240}"#;
const COLOURS: &str = r#"{"sources": ["film-on-platen", "printed-tape", "pins", "shirt-creep", {"name": "twist", "half_width": "0.1 mm", "shape": "triangular"}, {"name": "tape play", "half_width": "0.1 mm", "shape": "uniform", "accumulates": true}], "colours": 8, "trap": "0.5 mm"}"#;

fn machines(c: &mut Criterion) {
    let ask = |id: &str, text: &str| floodbar::calculate(id, &serde_json::from_str(text).unwrap()).unwrap();
    let count = |answer: &Value, pointer: &str| answer.pointer(pointer).unwrap().to_string();
    let window = ask("dryer.window", WINDOW);
    println!("dryer.window: {} trips through the solver (at most 80)", count(&window, "/evaluations"));
    let run = ask("flash.run", RUN);
    let turns = run.pointer("/rotations").unwrap().as_array().unwrap().len();
    println!("flash.run: {turns} turns, {} marches through the solver (aim: 30 ms)", count(&run, "/evaluations"));
    c.bench_function("dryer.window, stock", |b| b.iter(|| ask("dryer.window", black_box(WINDOW))));
    c.bench_function("flash.run, 240 shirts on 8 platens", |b| b.iter(|| ask("flash.run", black_box(RUN))));
    c.bench_function("register.budget, 8 colours, 6 sources", |b| {
        b.iter(|| ask("register.budget", black_box(COLOURS)))
    });
    println!("job.plan of the sample order (aim: 60 ms)");
    c.bench_function("job.plan, regatta", |b| b.iter(|| ask("job.plan", black_box(ORDER))));
}

criterion_group!(benches, machines);
criterion_main!(benches);
