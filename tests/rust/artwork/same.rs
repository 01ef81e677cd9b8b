//! What changes nothing, or only what it must.

use super::draw::{Art, FINENESS, Measure, SHADES, disc, finest, mm, mm2, random, rectangle};
use floodbar::artwork::{InkIs, Picture, Workspace, measure, measure_bytes};
use floodbar::quantity::units;
use floodbar_tests::budget::cases;
use floodbar_tests::compare::near;
use serde_json::json;
use std::f64::consts::TAU;

/// A ring, a disc, slanted bars near one another, a triangle, away from the border.
fn art(fine: u32) -> Art {
    let (ring, hole, dot) = (disc(70.3, 64.1, 31.0), disc(72.0, 66.0, 17.3), disc(150.2, 60.7, 13.4));
    let (bar, other) = (rectangle(100.0, 125.0, 110.0, 7.3, 23.0), rectangle(95.0, 137.5, 110.0, 6.1, 23.0));
    let wedge = |x: f64, y: f64| (155.0 - x).max(0.6 * (x - 155.0) + 0.8 * (y - 112.0)).max(90.0 - y);
    Art::draw(220, 200, fine, move |x, y| {
        ring(x, y).max(-hole(x, y)).min(dot(x, y)).min(bar(x, y)).min(other(x, y)).min(wedge(x, y))
    })
}

/// Within 1 %, finest places within half a pixel.
fn alike(got: &Measure, wanted: &Measure) {
    near(mm(got.edge_length), mm(wanted.edge_length), 0.01 * mm(wanted.edge_length), "edge length");
    for (got, wanted) in [(got.printed_area, wanted.printed_area), (got.edge_share_area, wanted.edge_share_area)] {
        near(mm2(got), mm2(wanted), 0.01 * mm2(wanted), "area");
    }
    near(got.coverage_fraction, wanted.coverage_fraction, 1e-12, "coverage");
    near(finest(got).0, finest(wanted).0, 0.5, "finest line");
    near(finest(got).1, finest(wanted).1, 0.5, "finest gap");
}

#[test]
fn turned_and_mirrored() {
    for fine in FINENESS {
        let art = art(fine);
        let (wide, high, still) = (art.wide, art.high, art.measured());
        alike(&art.moved(high, wide, |x, y| (y, high - 1 - x)).measured(), &still);
        alike(&art.moved(high, wide, |x, y| (wide - 1 - y, x)).measured(), &still);
        alike(&art.moved(wide, high, |x, y| (wide - 1 - x, high - 1 - y)).measured(), &still);
        alike(&art.moved(wide, high, |x, y| (wide - 1 - x, y)).measured(), &still);
    }
}

/// Pictures of six kinds in turn: no measure changes beyond 1 % in any of the eight positions.
#[test]
fn turned_and_mirrored_at_random() {
    for fine in SHADES {
        let mut next = random(11);
        for number in 0..cases(18, 240) {
            let art = at_random(number % 6, fine, &mut next);
            let (wide, high, still) = (art.wide, art.high, art.measured());
            let (right, low) = (wide - 1, high - 1);
            for (turn, moved) in [
                art.moved(wide, high, |x, y| (right - x, y)),
                art.moved(wide, high, |x, y| (x, low - y)),
                art.moved(wide, high, |x, y| (right - x, low - y)),
                art.moved(high, wide, |x, y| (y, x)),
                art.moved(high, wide, |x, y| (right - y, x)),
                art.moved(high, wide, |x, y| (y, low - x)),
                art.moved(high, wide, |x, y| (right - y, low - x)),
            ]
            .into_iter()
            .enumerate()
            {
                let measures = |of: &Measure| {
                    let (line, gap) = finest(of);
                    [mm2(of.printed_area), of.coverage_fraction, mm(of.edge_length), mm2(of.edge_share_area), line, gap]
                };
                let got = moved.measured();
                for (got, wanted) in measures(&got).into_iter().zip(measures(&still)) {
                    let alike = got.is_nan() && wanted.is_nan() || (got - wanted).abs() <= 0.01 * wanted;
                    assert!(
                        alike,
                        "picture {number} of {fine} by {fine} samples, turned {turn}: {wanted} becomes {got}"
                    );
                }
            }
        }
    }
}

/// Levels around half coverage, whose edges cross at even parts of a pixel: rounding does not tell corners from bends, not where the
/// picture is mirrored, nor where it is set in bare cloth.
#[test]
fn noise_mirrored_and_moved() {
    let corner = [
        134, 100, 137, 131, 110, 115, 152, 131, 100, 103, 106, 142, 122, 122, 123, 149, 114, 115, 127, 143, 128, 105,
        136, 111, 149, 152, 131, 114, 103, 150, 141, 113, 109, 138, 103, 111,
    ];
    let mut next = random(17);
    let noise = (0..cases(1000, 3000)).map(|_| (0..36).map(|_| 96 + (64.0 * next()) as u8).collect());
    for pixels in [corner.to_vec()].into_iter().chain(noise).filter(|pixels| pixels.iter().any(|level| *level > 127)) {
        let art = Art { wide: 6, high: 6, pixels };
        let within = |x: u32, y: u32| x.checked_sub(6).zip(y.checked_sub(6)).filter(|(x, y)| *x < 6 && *y < 6);
        let around = (0..18).flat_map(|y| (0..18).map(move |x| within(x, y)));
        let pixels = around.map(|at| at.map_or(0, |(x, y)| art.pixels[(6 * y + x) as usize])).collect();
        let moved = Art { wide: 18, high: 18, pixels };
        let wanted = mm(art.measured().edge_length);
        for got in [moved, art.moved(6, 6, |x, y| (5 - x, y)), art.moved(6, 6, |x, y| (y, x))] {
            near(mm(got.measured().edge_length), wanted, 1e-9, &art);
        }
    }
}

/// A picture of 90 by 88: polygons, bars, discs, blocks along the pixels, a blob of waves, or dots of one size in rows.
fn at_random(kind: u32, fine: u32, next: &mut impl FnMut() -> f64) -> Art {
    type Shape = Box<dyn Fn(f64, f64) -> f64>;
    let mut from = |low: f64, high: f64| low + (high - low) * next();
    let count = if kind < 4 { 1 + from(0.0, 6.0) as u32 } else { 1 };
    let mut shape = || -> Shape {
        let (x, y) = (from(20.0, 70.0), from(20.0, 70.0));
        match kind {
            0 => {
                let (inner, turn, corners) = (from(3.0, 14.0), from(0.0, TAU), from(3.0, 9.0) as u32);
                let side = move |k: u32| (turn + TAU * f64::from(k) / f64::from(corners)).sin_cos();
                let beyond =
                    move |u: f64, v: f64| (0..corners).map(side).map(move |(sin, cos)| u * cos + v * sin - inner);
                Box::new(move |at_x, at_y| beyond(at_x - x, at_y - y).fold(f64::NEG_INFINITY, f64::max))
            }
            1 => Box::new(rectangle(x, y, from(10.0, 50.0), from(1.0, 12.0), from(0.0, 180.0))),
            2 => Box::new(disc(x, y, from(1.5, 18.0))),
            3 => Box::new(rectangle(
                x.round(),
                y.round(),
                2.0 * from(1.0, 16.0).round(),
                2.0 * from(1.0, 8.0).round(),
                0.0,
            )),
            4 => {
                let waves = [(); 8].map(|()| (from(0.1, 0.5), from(0.0, TAU).sin_cos(), from(0.0, TAU)));
                let at = move |x: f64, y: f64| {
                    waves.iter().map(move |(k, (sin, cos), phase)| (k * (x * cos + y * sin) + phase).sin()).sum::<f64>()
                };
                let round = disc(45.0, 45.0, 40.0);
                // No steeper than all waves together.
                Box::new(move |x, y| round(x, y).max(at(x, y) / 4.0))
            }
            _ => {
                let (pitch, radius, (sin, cos)) = (from(4.0, 12.0), from(0.2, 0.6), from(0.0, TAU).sin_cos());
                let round = disc(45.0, 45.0, 40.0);
                Box::new(move |x, y| {
                    let away = |along: f64| along - along.round();
                    let (u, v) = ((x * cos + y * sin) / pitch, (y * cos - x * sin) / pitch);
                    round(x, y).max(pitch * (away(u).hypot(away(v)) - radius))
                })
            }
        }
    };
    let shapes: Vec<Shape> = (0..count).map(|_| shape()).collect();
    Art::draw(90, 88, fine, move |x, y| shapes.iter().map(|shape| shape(x, y)).fold(f64::INFINITY, f64::min))
}

/// Without its border a picture and its negative swap sides; the negative's border is an edge too.
#[test]
fn inverted() {
    for fine in FINENESS {
        let art = art(fine);
        let (one, other) = (art.measured(), art.inverted().measured());
        near(finest(&other).0, finest(&one).1, 1e-9, "line");
        near(finest(&other).1, finest(&one).0, 1e-9, "gap");
        near(mm2(other.printed_area), 220.0 * 200.0 - mm2(one.printed_area), 1e-6, "area");
        let border = 2.0 * (220.0 + 200.0);
        near(mm(other.edge_length), mm(one.edge_length) + border, 0.01 * mm(one.edge_length), "edge");
    }
}

/// Powers of two scale exactly, if the reach of an edge goes with them.
#[test]
fn scaled() {
    for fine in FINENESS {
        let art = art(fine);
        let at = |scale: f64| art.at(units::PER_CM.of(64.0 / scale), 0.25 * scale);
        let (one, other) = (at(1.0), at(4.0));
        for (one, other) in [
            (one.width, other.width),
            (one.height, other.height),
            (one.edge_length, other.edge_length),
            (one.finest_line.unwrap(), other.finest_line.unwrap()),
            (one.finest_gap.unwrap(), other.finest_gap.unwrap()),
        ] {
            near(mm(other), 4.0 * mm(one), 1e-13 * mm(other), "length");
        }
        for (one, other) in [(one.printed_area, other.printed_area), (one.edge_share_area, other.edge_share_area)] {
            near(mm2(other), 16.0 * mm2(one), 1e-13 * mm2(other), "area");
        }
        assert_eq!(one.coverage_fraction, other.coverage_fraction);
    }
}

/// Bytes between the rows, and after the last one or not; ink at either end of the scale; a workspace used before.
#[test]
fn told_otherwise() {
    let art = art(8);
    let wanted = art.measured();
    let mut workspace = Workspace::default();
    let mut check = |pixels: &[u8], stride: u32, ink: InkIs| {
        let picture = Picture::new(pixels, art.wide, art.high, Some(stride), units::PER_CM.of(10.0), ink).unwrap();
        let reach = units::MM.of(super::draw::REACH);
        assert_eq!(Measure::from(&*measure(&picture, reach, &mut workspace).unwrap()), wanted);
    };
    for (stride, padding) in [(art.wide, 0), (art.wide + 13, 255), (2 * art.wide, 77)] {
        let mut padded = vec![padding; (stride * art.high) as usize];
        for (from, to) in art.pixels.chunks(art.wide as usize).zip(padded.chunks_mut(stride as usize)) {
            to[..from.len()].copy_from_slice(from);
        }
        check(&padded, stride, InkIs::Light);
        padded.truncate((stride * (art.high - 1) + art.wide) as usize);
        check(&padded, stride, InkIs::Light);
        padded.iter_mut().for_each(|pixel| *pixel = 255 - *pixel);
        check(&padded, stride, InkIs::Dark);
    }
}

/// Bytes, and the same as numbers within the request.
#[test]
fn as_bytes_and_as_numbers() {
    let art = Art::draw(60, 50, 8, disc(29.3, 24.8, 17.1));
    let mut request = json!({ "pixels_wide": 60, "pixels_high": 50, "resolution": "300 /in", "ink": "light" });
    let bytes = measure_bytes(&art.pixels, &request).unwrap().to_value().unwrap();
    request["pixels"] = art.pixels.clone().into();
    assert_eq!(floodbar::calculate("artwork.measure", &request).unwrap(), bytes);
}
