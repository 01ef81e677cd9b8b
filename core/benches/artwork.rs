//! What measuring a separation costs: a print of 33 by 41 cm at 300 pixels an inch, as line art and as a halftone.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark, not the library")]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use floodbar::artwork::{InkIs, Nearest, Picture, Side, Workspace, measure};
use floodbar::quantity::units;
use std::hint::black_box;

const WIDE: u32 = 3900;
const HIGH: u32 = 4800;

fn draw(level: impl Fn(f64, f64) -> f64) -> Vec<u8> {
    let places = (0..HIGH).flat_map(|y| (0..WIDE).map(move |x| (f64::from(x), f64::from(y))));
    // Soft over a pixel, dark ink.
    places.map(|(x, y)| (127.5 + 127.5 * level(x, y).clamp(-1.0, 1.0)) as u8).collect()
}

/// Rings about two middles, and large fields between them.
fn line_art() -> Vec<u8> {
    draw(|x, y| {
        let ring = |mx: f64, my: f64| {
            let away = ((x - mx) * (x - mx) + (y - my) * (y - my)).sqrt();
            if away < 1300.0 { 12.0 * libm::sin(away / 24.0) } else { away - 1300.0 }
        };
        ring(1500.0, 1500.0).min(ring(2400.0, 3300.0))
    })
}

/// 18 dots a centimetre at 22.5 degrees, from light to full.
fn halftone() -> Vec<u8> {
    let turns = core::f64::consts::TAU * 18.0 * 2.54 / 300.0;
    let (sin, cos) = (libm::sin(core::f64::consts::FRAC_PI_8), libm::cos(core::f64::consts::FRAC_PI_8));
    draw(|x, y| {
        let (u, v) = (turns * (x * cos - y * sin), turns * (x * sin + y * cos));
        let tone = 4.0 * x / f64::from(WIDE) - 2.0;
        2.0 * (libm::cos(u) + libm::cos(v) - tone)
    })
}

fn artwork(c: &mut Criterion) {
    let mut group = c.benchmark_group("3900 x 4800 pixels");
    group.sample_size(10);
    for (name, pixels) in [("line art", line_art()), ("halftone", halftone())] {
        group.throughput(Throughput::Elements(pixels.len() as u64));
        let picture = Picture::new(&pixels, WIDE, HIGH, None, units::PER_IN.of(300.0), InkIs::Dark).unwrap();
        let mut nearest = Nearest::default();
        group.bench_function(format!("distance transform, {name}"), |b| {
            b.iter(|| {
                nearest.find(black_box(&picture), Side::Printed).unwrap();
                nearest.distances().fold(0.0, f32::max)
            });
        });
        let (mut workspace, reach) = (Workspace::default(), units::MM.of(0.25));
        group.bench_function(format!("artwork.measure, {name}"), |b| {
            b.iter(|| measure(black_box(&picture), reach, &mut workspace).unwrap());
        });
    }
    let pixels = vec![0_u8; (WIDE * HIGH) as usize];
    let mut copy = pixels.clone();
    group.bench_function("a copy of the pixels", |b| b.iter(|| copy.copy_from_slice(black_box(&pixels))));
}

criterion_group!(benches, artwork);
criterion_main!(benches);
