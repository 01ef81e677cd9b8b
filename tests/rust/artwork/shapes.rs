//! Shapes whose area, edge, edge integral and finest places are known in closed form.

use super::draw::{Art, Errors, FINENESS, REACH, SHADES, disc, finest, mm, mm2, random, rectangle, rectangle_share};
use floodbar_tests::budget::every;
use floodbar_tests::compare::near;
use std::f64::consts::PI;

/// Middles of a pixel, of its corner and of its side: a disc about one touches four or eight pixels at once.
const SYMMETRIC: [(f64, f64); 3] = [(100.5, 100.5), (100.0, 100.0), (100.0, 100.5)];

/// The radius of a disc as large as so many pixels.
fn as_large(pixels: f64) -> f64 {
    (pixels / PI).sqrt()
}

/// Samples a pixel, one way, and the radius in pixels from which an edge is told within 1 %: that of 18 samples, and three pixels; in
/// black and white from 16 at the radii tried here, up to 17 not at all. [`no_measure_tells_smaller_discs`] has why not from much less.
const TOLD: [(u32, f64); 6] = [(1, 16.0), (2, 9.0), (3, 6.0), (4, 4.5), (5, 3.6), (8, 3.0)];

/// Radius r: edge 2 pi r; the integral of exp(-(r - s) / L) 2 pi s ds over s from 0 to r is 2 pi (L r - L^2 (1 - exp(-r / L)));
/// the finest line is 2 r.
///
/// A pixel on the edge is off by at most half its area, either way: the sum over some 2 pi r pixels has a spread near
/// sqrt(r / 2); with n by n samples a pixel an n-th of it on each, and half a level of rounding. So in black and white a disc of
/// eight pixels radius is, by its area, one of 7.85 to 8.15, 2 % either way, and its edge is not told to 1 %: all are held against
/// discs as large as what is printed too, and about symmetric middles, where pixels are off alike, small ones only so.
#[test]
fn discs() {
    let mut runs = every(7);
    for (fine, _) in TOLD {
        let kind = |what: &str| Errors::of(format!("disc, {fine}, {what}"));
        let [mut edge, mut own, mut share, mut line, mut side] =
            ["edge length", "edge length to that of the area", "edge share", "finest line, px", "box, px"].map(kind);
        let [mut small, mut area, mut alike] =
            ["edge length, small", "area over sqrt(r)", "area over sqrt(r), symmetric"].map(kind);
        let elsewhere = (0..40).map(|k| (100.0 + 0.37 * f64::from(k), 100.0 + 0.41 * f64::from(k)));
        for ((x, y), symmetric) in SYMMETRIC.map(|at| (at, true)).into_iter().chain(elsewhere.map(|at| (at, false))) {
            for radius in [8.0_f64, 12.0, 20.0, 40.0, 90.0] {
                if !runs() {
                    continue;
                }
                let got = Art::draw(220, 220, fine, disc(x, y, radius)).measured();
                let printed = mm2(got.printed_area);
                own.share(mm(got.edge_length), 2.0 * PI * as_large(printed));
                if fine > 1 || radius > if symmetric { 15.0 } else { 11.0 } {
                    edge.share(mm(got.edge_length), 2.0 * PI * radius);
                } else if !symmetric {
                    small.share(mm(got.edge_length), 2.0 * PI * radius);
                }
                let wanted = 2.0 * PI * (REACH * radius - REACH * REACH * (1.0 - (-radius / REACH).exp()));
                share.share(mm2(got.edge_share_area), wanted);
                line.see(finest(&got).0 - 2.0 * radius);
                (if symmetric { &mut alike } else { &mut area }).see((printed - PI * radius * radius) / radius.sqrt());
                side.see(mm(got.width) - 2.0 * radius);
                side.see(mm(got.height) - 2.0 * radius);
                assert_eq!((got.finest_gap, got.halftone.is_some()), (None, false));
            }
        }
        edge.within(0.01);
        own.within(if fine > 3 { 0.002 } else { 0.006 });
        if fine == 1 {
            small.within(0.03);
        }
        share.within(if fine == 1 { 0.035 } else { 0.02 });
        line.within(if fine < 8 { 0.8 } else { 0.4 });
        area.within(if fine < 8 { 3.0 / f64::from(fine) } else { 0.4 });
        alike.within(3.5 / f64::from(fine));
        // Half a pixel at either end.
        side.within(1.0);
    }
}

/// Discs of all sizes, where they touch whole rows of pixels, or of samples, as well: one more at each pole, or one less.
#[test]
fn discs_of_all_sizes() {
    let mut runs = every(17);
    for (fine, told) in TOLD {
        let mut edge = Errors::of(format!("disc, {fine}, edge length, from {told} px radius"));
        let mut own = Errors::of(format!("disc, {fine}, edge length to that of the area, from 6 px"));
        let sample = 0.5 / f64::from(fine);
        let centres = [(0.0, 0.0), (0.5, 0.5), (0.0, 0.5), (sample, sample), (0.1, 0.2), (0.37, 0.41)];
        for radius in (18..300).map(|sixths| f64::from(sixths) / 6.0).filter(|radius| *radius >= told.min(6.0)) {
            let half = radius.ceil() + 3.0;
            for (x, y) in centres {
                if !runs() {
                    continue;
                }
                let size = 2 * half as u32;
                let got = Art::draw(size, size, fine, disc(half + x, half + y, radius)).measured();
                if radius >= 6.0 {
                    own.share(mm(got.edge_length), 2.0 * PI * as_large(mm2(got.printed_area)));
                }
                if radius >= told {
                    edge.share(mm(got.edge_length), 2.0 * PI * radius);
                }
            }
        }
        own.within(if fine == 1 { 0.006 } else { 0.01 });
        edge.within(0.01);
    }
}

/// About a sample's middle, discs cover the same samples from one sum of two squares to the next: of 185 to 193 there is none. So those
/// of 13.605 and 13.89 samples radius are one picture, and no measure is within 1 % of the edges of both.
#[test]
fn no_measure_tells_smaller_discs() {
    for fine in [1, 2, 3] {
        let middle = 20.0 + 0.5 / f64::from(fine);
        let [less, more] = [13.605, 13.89].map(|samples| samples / f64::from(fine));
        let art = Art::draw(40, 40, fine, disc(middle, middle, less));
        assert_eq!(art, Art::draw(40, 40, fine, disc(middle, middle, more)));
        assert!(1.01 * less < 0.99 * more);
        let told = mm(art.measured().edge_length) / (2.0 * PI);
        assert!(less < told && told < more, "{told}");
    }
}

/// Radii R and r, m their mean, w their difference: edge 2 pi (R + r); the integral, symmetric about m, 4 pi m L (1 -
/// exp(-w / 2L)); the finest line is w, and the finest gap the hole, 2 r.
#[test]
fn rings() {
    let mut runs = every(7);
    for fine in SHADES {
        let kind = |what: &str| Errors::of(format!("ring, {fine}, {what}"));
        let [mut edge, mut own, mut share, mut line, mut gap] =
            ["edge length", "edge length to that of the area", "edge share", "finest line, px", "finest gap, px"]
                .map(kind);
        for (inner, outer) in [(8.0_f64, 13.0_f64), (10.0, 22.0), (20.0, 24.0), (40.0, 90.0), (70.0, 79.5)] {
            for k in 0..6 {
                if !runs() {
                    continue;
                }
                let (x, y) = (100.0 + 0.37 * f64::from(k), 100.0 + 0.61 * f64::from(k));
                let (all, hole) = (disc(x, y, outer), disc(x, y, inner));
                let got = Art::draw(210, 210, fine, |x, y| all(x, y).max(-hole(x, y))).measured();
                let hole = mm2(Art::draw(210, 210, fine, hole).measured().printed_area);
                own.share(mm(got.edge_length), 2.0 * PI * (as_large(hole) + as_large(hole + mm2(got.printed_area))));
                // A hole of eight pixels radius is by its area one of up to 2 % more or less in black and white.
                if fine > 1 || inner > 8.0 {
                    edge.share(mm(got.edge_length), 2.0 * PI * (inner + outer));
                }
                let wide = outer - inner;
                let wanted = 2.0 * PI * (inner + outer) * REACH * (1.0 - (-wide / 2.0 / REACH).exp());
                share.share(mm2(got.edge_share_area), wanted);
                line.see(finest(&got).0 - wide);
                gap.see(finest(&got).1 - 2.0 * inner);
            }
        }
        edge.within(if fine == 1 { 0.01 } else { 0.004 });
        own.within(0.004);
        share.within(0.03);
        line.within(if fine < 8 { 0.8 } else { 0.3 });
        gap.within(if fine < 8 { 0.8 } else { 0.3 });
    }
}

/// A rectangle of 160 by w at every degree, its ends counted.
///
/// Strips of few pixels have few rows of centres: 3 px at 45 degrees, where rows are 0.71 px apart, four or five for 4.24. So the
/// edges' share is that of a rectangle as wide as what is printed.
///
/// Near a square end the axis leaves the middle for the corners, and turns narrow a little before it counts as a corner's.
#[test]
fn strips() {
    let mut runs = every(13);
    for fine in SHADES {
        for wide in [3.0_f64, 6.0, 12.0, 40.0] {
            let kind = |what: &str| Errors::of(format!("strip of {wide}, {fine}, {what}"));
            let [mut edge, mut share, mut line, mut area] =
                ["edge length", "edge share", "finest line, px", "area"].map(kind);
            for degrees in 0..90 {
                if !runs() {
                    continue;
                }
                let strip = rectangle(110.3, 110.4, 160.0, wide, degrees.into());
                let got = Art::draw(220, 220, fine, strip).measured();
                edge.share(mm(got.edge_length), 2.0 * (160.0 + wide));
                let wanted = rectangle_share(160.0, mm2(got.printed_area) / 160.0, REACH);
                share.share(mm2(got.edge_share_area), wanted);
                line.see(finest(&got).0 - wide);
                area.share(mm2(got.printed_area), 160.0 * wide);
            }
            edge.within(0.01);
            share.within(0.04);
            line.within(if fine < 8 { 0.7 } else { 0.3 });
            area.within(if fine < 8 { 0.18 / f64::from(fine) } else { 0.002 });
        }
    }
}

/// What lies below a line through a picture: the edge along it is one corner to corner, whatever its angle and its place, also where it
/// steps from row to row but seldom.
#[test]
fn straight_edges_at_any_angle() {
    let mut runs = every(23);
    let (wide, high) = (200.0, 240.0);
    for fine in SHADES {
        let mut edge = Errors::of(format!("straight edge, {fine}, length"));
        for degrees in (0..180).map(|k| 0.25 * f64::from(k)) {
            let (sin, cos) = f64::to_radians(degrees).sin_cos();
            let rise = sin / cos;
            for from_top in [20.0, 20.21, 20.5, 20.77] {
                if !runs() {
                    continue;
                }
                let below = |x: f64, y: f64| ((from_top + rise * x - y) * cos).max(x - wide).max(-x).max(y - high);
                let got = Art::draw(wide as u32, high as u32, fine, below).measured();
                let others = wide + (high - from_top) + (high - from_top - rise * wide);
                edge.share(mm(got.edge_length) - others, wide / cos);
            }
        }
        edge.within(if fine == 1 { 0.0085 } else { 0.0065 });
    }
}

/// Long strips and hairlines at finer steps of the angle: nothing in the steps that an edge repeats adds up.
#[test]
fn long_strips() {
    let mut runs = every(23);
    for (long, wide) in [(800.0, 6.0), (300.0, 1.5), (300.0, 3.0)] {
        let mut edge = Errors::of(format!("strip of {long} by {wide}, edge length"));
        let fine_steps = (0..240).map(|k| 0.05 * f64::from(k));
        for degrees in fine_steps.chain((0..60).map(|k| 0.7 * f64::from(k) + 6.2)) {
            if !runs() {
                continue;
            }
            let middle = long / 2.0 + 15.3;
            let size = (long + 30.0) as u32;
            let got = Art::draw(size, size, 1, rectangle(middle, middle + 0.1, long, wide, degrees)).measured();
            edge.share(mm(got.edge_length), 2.0 * (long + wide));
        }
        edge.within(0.0075);
    }
}

/// Two blocks of 50 by 20, 0.7 to 4.3 apart. A gap of less than 1.5 pixels, askew, falls apart into holes, where printed corners are joined:
/// its edges are told badly, but not absurdly.
#[test]
fn gaps_between_blocks() {
    for fine in SHADES {
        let [mut narrow, mut wide] = ["up to 1.5 px", "from 1.5 px"]
            .map(|kind| Errors::of(format!("gap between blocks, {fine}, {kind}, edge length")));
        let mut next = random(9);
        for number in 0..120 {
            let gap = 0.7 + 0.03 * f64::from(number);
            let (x, y, degrees) = (45.0 + next(), 45.0 + next(), 180.0 * next());
            let (sin, cos) = f64::to_radians(degrees).sin_cos();
            let off = 10.0 + gap / 2.0;
            let one = rectangle(x - off * sin, y + off * cos, 50.0, 20.0, degrees);
            let other = rectangle(x + off * sin, y - off * cos, 50.0, 20.0, degrees);
            let got = Art::draw(90, 90, fine, |x, y| one(x, y).min(other(x, y))).measured();
            if gap < 1.5 { &mut narrow } else { &mut wide }.share(mm(got.edge_length), 280.0);
        }
        narrow.within(0.3);
        wide.within(0.02);
    }
}

/// Wavy edges, a sine's: they bend one way and the other within a few pixels. Their length by 4,000 chords.
#[test]
fn waves() {
    let mut runs = every(7);
    let (wide, high) = (200.0_f64, 142.0_f64);
    for fine in SHADES {
        for (period, height) in [(12.0, 1.0), (16.0, 0.75), (16.0, 1.0), (20.0, 1.0), (24.0, 1.5)] {
            let mut edge = Errors::of(format!("wave of {period} by {height}, {fine}, edge length"));
            for k in 0..40 {
                if !runs() {
                    continue;
                }
                let (phase, middle, slope) =
                    (0.157 * f64::from(k), 70.0 + 0.37 * f64::from(k % 9), 0.015 * f64::from(k - 20));
                let wave = |x: f64| middle + slope * (x - 100.0) + height * (2.0 * PI * x / period + phase).sin();
                let step = wide / 4000.0;
                let chord = |x: f64| step.hypot(wave(x + step) - wave(x));
                let long: f64 = (0..4000).map(|k| chord(step * f64::from(k))).sum();
                // No more than the distance to the edge, which nowhere is steeper.
                let steepest = slope.abs() + 2.0 * PI * height / period;
                let below = |x: f64, y: f64| ((wave(x) - y) / steepest.hypot(1.0)).max(y - high + 2.0);
                let got = Art::draw(wide as u32, high as u32, fine, below).measured();
                let others = wide + 2.0 * (high - 2.0) - wave(0.0) - wave(wide);
                edge.share(mm(got.edge_length) - others, long);
            }
            edge.within(if fine == 1 { 0.015 } else { 0.012 });
        }
    }
}

/// Strips with round ends: their axis ends without corners. Without greys either edge is known to half a pixel's diagonal; with them
/// a line of two pixels, a few degrees off the pixels' own way, still has steps where its edges cross from row to row.
#[test]
fn strokes() {
    let mut runs = every(7);
    for fine in FINENESS {
        let mut line = Errors::of(format!("stroke, {fine}, finest line, px"));
        for wide in [2.0_f64, 3.0, 4.5, 6.0, 12.0, 40.0] {
            for degrees in 0..90 {
                if !runs() {
                    continue;
                }
                let (sin, cos) = f64::from(degrees).to_radians().sin_cos();
                let stroke = |x: f64, y: f64| {
                    let (u, v) = ((x - 110.3) * cos + (y - 110.4) * sin, (y - 110.4) * cos - (x - 110.3) * sin);
                    (u.abs() - 80.0).max(0.0).hypot(v) - wide / 2.0
                };
                line.see(finest(&Art::draw(220, 220, fine, stroke).measured()).0 - wide);
            }
        }
        line.within(if fine == 1 { 0.75 } else { 0.6 });
    }
}

/// An isosceles triangle with its apex to the left, and the diameter of its inscribed circle.
fn wedge(half_angle: f64) -> (impl Fn(f64, f64) -> f64 + Copy, f64) {
    let (sin, cos) = half_angle.to_radians().sin_cos();
    let height = if half_angle > 20.0 { 100.0 } else { 190.0 };
    let half_base = height * sin / cos;
    let beyond = move |x: f64, y: f64| ((y - 110.3).abs() * cos - (x - 10.0) * sin).max(x - 10.0 - height);
    // Area over half the perimeter.
    let inscribed = half_base * height / (half_base + height / cos);
    (beyond, 2.0 * inscribed)
}

/// The corners of a wedge of 20 degrees and more are no lines: its finest line is the diameter of its inscribed circle.
#[test]
fn wedges() {
    for fine in FINENESS {
        let mut line = Errors::of(format!("wedge, {fine}, finest line, px"));
        for half_angle in [10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0] {
            let (beyond, widest) = wedge(half_angle);
            line.see(finest(&Art::draw(220, 220, fine, beyond).measured()).0 - widest);
        }
        line.within(2.3);
    }
}

/// Whichever way a wedge points, its finest line is the diameter of its inscribed circle, and there is no gap beside a shape without
/// hollows: not at its tip either, where pixels touch at corners only.
#[test]
fn wedges_turned() {
    let mut runs = every(23);
    for fine in FINENESS {
        let mut line = Errors::of(format!("wedge turned, {fine}, finest line, px"));
        // A tip that the pixels break off is a speck.
        let mut broken = 0;
        for half_angle in [10.0, 12.5, 15.0, 20.0, 25.0, 30.0, 40.0] {
            let (upright, widest) = wedge(half_angle);
            for turn in 0..60 {
                if !runs() {
                    continue;
                }
                let (sin, cos) = (6.0 * f64::from(turn)).to_radians().sin_cos();
                // About its tip, and moved by less than a pixel.
                let turned = |x: f64, y: f64| {
                    let (x, y) = (x - 200.0 - 0.13 * f64::from(turn % 7), y - 200.0);
                    upright(10.0 + x * cos + y * sin, 110.3 + y * cos - x * sin)
                };
                let art = Art::draw(400, 400, fine, turned);
                if art.pieces() > 1 {
                    broken += 1;
                    continue;
                }
                let got = art.measured();
                if half_angle >= 15.0 {
                    line.see(finest(&got).0 - widest);
                }
                assert_eq!(got.finest_gap, None, "{fine}, {half_angle}, {turn}");
            }
        }
        line.within(3.0);
        assert!(broken < 12, "{broken} of 420 pictures are in pieces");
    }
}

/// A slimmer taper widens too little to tell from a line, and runs out: it is as fine as its tip, a pixel or so.
#[test]
fn tapers_run_out() {
    for fine in FINENESS {
        for half_angle in [1.5, 2.5, 4.0] {
            let got = Art::draw(220, 220, fine, wedge(half_angle).0).measured();
            assert!(finest(&got).0 < 1.0, "{half_angle}: {:?}", finest(&got));
        }
    }
}

/// Crosses and stairs along the pixels' own ways: short sides between corners that turn the same way are no slopes.
#[test]
fn crosses_and_stairs() {
    let mut edge = Errors::of("cross or stair, edge length");
    for arm in [4.0, 5.0, 8.0, 12.0, 20.0, 30.0] {
        // The sides lie between pixels.
        let middle = 60.0 + arm / 2.0 % 1.0;
        let bar = |wide: f64, high: f64| rectangle(middle, middle, wide, high, 0.0);
        let (along, across) = (bar(3.0 * arm, arm), bar(arm, 3.0 * arm));
        let cross = Art::draw(120, 120, 1, |x, y| along(x, y).min(across(x, y)));
        edge.share(mm(cross.measured().edge_length), 12.0 * arm);
        // Four treads up a square of four by four: as long as its perimeter.
        let tread = |x: f64| ((x - 5.0) / arm).floor() * arm + 5.0;
        let stairs = Art::draw(140, 140, 1, |x, y| {
            let beyond = (5.0 - x).max(x - 5.0 - 4.0 * arm).max(5.0 - y).max(y - tread(x) - arm);
            if beyond <= 0.0 { -1.0 } else { 1.0 }
        });
        edge.share(mm(stairs.measured().edge_length), 16.0 * arm);
    }
    edge.within(0.01);
}

/// Nineteen teeth of 4 by 110, 7 apart, under a back of 202 by 30: all sides run along the pixels' own.
#[test]
fn combs_are_exact() {
    let back = rectangle(111.0, 25.0, 202.0, 30.0, 0.0);
    let comb = |x: f64, y: f64| {
        let tooth = ((x - 10.0).rem_euclid(11.0) - 2.0).abs() - 2.0;
        back(x, y).min(tooth.max(y - 150.0).max(10.0 - y).max(10.0 - x).max(x - 212.0))
    };
    for fine in FINENESS {
        let art = Art::draw(222, 160, fine, comb);
        for art in [art.moved(160, 222, |x, y| (y, x)), art] {
            let got = art.measured();
            assert_eq!(finest(&got).0, 4.0);
            assert_eq!(finest(&got).1, 7.0);
            near(mm2(got.printed_area), 202.0 * 30.0 + 19.0 * 4.0 * 110.0, 1e-9, &got);
            near(mm(got.edge_length), 2.0 * (202.0 + 30.0) + 19.0 * 2.0 * 110.0, 1e-9, &got);
            near(mm(got.width).max(mm(got.height)), 202.0, 1e-9, &got);
            near(mm(got.width).min(mm(got.height)), 140.0, 1e-9, &got);
        }
    }
}

/// Two wedges that meet in a waist: the nearest edge of its middle is the two vertices.
#[test]
fn a_waist_is_a_line() {
    for fine in FINENESS {
        for (half_waist, rise) in [(4.3_f64, 0.3_f64), (2.8, 0.5), (7.1, 0.2)] {
            let slope = (1.0 + rise * rise).sqrt();
            let hourglass = |x: f64, y: f64| {
                let beyond = ((y - 110.3).abs() - half_waist - rise * (x - 111.2).abs()) / slope;
                beyond.max((x - 110.0).abs() - 90.0)
            };
            let got = Art::draw(220, 220, fine, hourglass).measured();
            near(finest(&got).0, 2.0 * half_waist, if fine == 1 { 1.3 } else { 0.5 }, (fine, half_waist));
            let at = got.finest_line_at.expect("a place");
            near(mm(at.from_left), 111.2, 3.0, &at);
            near(mm(at.from_top), 110.3, 1.0, &at);
        }
    }
}

/// Two blocks of 80 by 60, a little apart, then joined across.
#[test]
fn gaps_and_bridges() {
    let near_by = |fine: u32| if fine == 1 { 1.0 } else { 0.2 };
    for fine in FINENESS {
        for gap in [1.0, 2.0, 3.0, 4.4, 9.6] {
            let (upper, lower) =
                (rectangle(60.0, 40.0, 80.0, 60.0, 0.0), rectangle(60.0, 100.0 + gap, 80.0, 60.0, 0.0));
            let got = Art::draw(120, 180, fine, |x, y| upper(x, y).min(lower(x, y))).measured();
            near(finest(&got).1, gap, near_by(fine), (fine, gap));
            near(finest(&got).0, 60.0, near_by(fine), (fine, gap));
            let place = got.finest_gap_at.expect("a place");
            near(mm(place.from_top), 70.0 + gap / 2.0, 1.0, &place);
        }
        for bridge in [2.0, 3.0, 5.0, 8.7] {
            let (left, right) = (rectangle(40.0, 60.0, 60.0, 80.0, 0.0), rectangle(140.0, 60.0, 60.0, 80.0, 0.0));
            let across = rectangle(90.0, 61.5, 60.0, bridge, 0.0);
            let got = Art::draw(180, 120, fine, |x, y| left(x, y).min(right(x, y)).min(across(x, y))).measured();
            near(finest(&got).0, bridge, near_by(fine), (fine, bridge));
            let place = got.finest_line_at.expect("a place");
            assert!((65.0..115.0).contains(&mm(place.from_left)), "{place:?}");
            near(mm(place.from_top), 61.5, 1.0, &place);
        }
    }
}

/// Strips with round bites from both sides, which leave a neck, and the same bare: below two pixels too.
#[test]
fn necks() {
    let mut runs = every(7);
    for fine in FINENESS {
        let mut line = Errors::of(format!("neck, {fine}, finest line, px"));
        let mut gap = Errors::of(format!("neck, bare, {fine}, finest gap, px"));
        for neck in [1.2, 1.5, 1.8, 2.5, 4.0] {
            for k in 0..30 {
                if !runs() {
                    continue;
                }
                let (bite, degrees) = (6.0 + 0.3 * f64::from(k), 6.1 * f64::from(k));
                let (sin, cos) = degrees.to_radians().sin_cos();
                let (x0, y0) = (80.0 + 0.13 * f64::from(k % 7), 80.3);
                let necked = |x: f64, y: f64| {
                    let (u, v) = ((x - x0) * cos + (y - y0) * sin, (y - y0) * cos - (x - x0) * sin);
                    (u.abs() - 50.0).max(v.abs() - 8.0).max(bite - u.hypot(v.abs() - bite - neck / 2.0))
                };
                let art = Art::draw(160, 160, fine, necked);
                line.see(finest(&art.measured()).0 - neck);
                gap.see(finest(&art.inverted().measured()).1 - neck);
            }
        }
        line.within(if fine == 1 { 0.75 } else { 0.5 });
        gap.within(if fine == 1 { 0.75 } else { 0.5 });
    }
}

/// A strip of three pixels with a pixel bare in its middle, a pixel away from either edge; and a speck in a gap of three.
#[test]
fn single_pixels_count() {
    let strip = rectangle(30.0, 10.5, 40.0, 3.0, 0.0);
    let mut art = Art::draw(60, 21, 1, strip);
    art.pixels[10 * 60 + 30] = 0;
    for art in [art.moved(21, 60, |x, y| (y, x)), art] {
        let (holed, specked) = (art.measured(), art.inverted().measured());
        near(finest(&holed).0, 1.0, 0.01, "line beside the hole");
        near(finest(&specked).1, 1.0, 0.01, "gap beside the speck");
        assert!(finest(&holed).1 <= 1.0, "hole {:?}", finest(&holed));
        assert!(finest(&specked).0 <= 1.0, "speck {:?}", finest(&specked));
    }
}

/// An equilateral triangle whose sides, sampled two by two, cover many pixels by just half: its finest line is the diameter of the
/// inscribed circle, the circumradius. Its corners, and pixels on the very edge, are no lines; its mirror image has the same.
#[test]
fn pixels_on_the_very_edge_are_no_lines() {
    let mut line = Errors::of("triangle, finest line, px");
    for degrees in 0..120 {
        let triangle = |x: f64, y: f64| {
            let side = |turn: f64| {
                let (sin, cos) = (f64::from(degrees) + turn).to_radians().sin_cos();
                (x - 40.0) * cos + (y - 40.0) * sin - 15.0
            };
            side(60.0).max(side(180.0)).max(side(300.0))
        };
        let art = Art::draw(80, 80, 2, triangle);
        for art in [art.moved(80, 80, |x, y| (79 - x, y)), art] {
            line.see(finest(&art.measured()).0 - 30.0);
        }
    }
    line.within(2.0);
}
