//! What looks like a halftone, and what does not.

use super::draw::{Art, Errors, FINENESS, Measure, disc, random, rectangle};
use floodbar::quantity::units;
use floodbar_tests::budget::{cases, every};
use floodbar_tests::compare::near;
use std::f64::consts::TAU;

/// A halftone of round dots that join at half tone and become holes: lines per cm, degrees, tone.
fn halftone(side: u32, fine: u32, per_inch: f64, ruling: f64, degrees: f64, tone: f64) -> Art {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let turns = TAU * ruling * 2.54 / per_inch;
    let spot = |u: f64, v: f64| u.cos() + v.cos();
    // The level that this share of a cell is above.
    let at = |k: u32| TAU * f64::from(k) / 120.0;
    let mut levels: Vec<f64> = (0..120 * 120).map(|k| spot(at(k % 120), at(k / 120))).collect();
    levels.sort_by(f64::total_cmp);
    let level = levels[((1.0 - tone) * levels.len() as f64) as usize];
    // The slope of the spot function is at most the square root of 2 a radian.
    let steepest = 2.0_f64.sqrt() * turns;
    // Rows of dots run at this angle, counter-clockwise, where y runs down.
    Art::draw(side, side, fine, |x, y| {
        (level - spot((x * cos - y * sin) * turns, (x * sin + y * cos) * turns)) / steepest
    })
}

fn at(art: &Art, per_inch: f64) -> Measure {
    art.at(units::PER_IN.of(per_inch), 0.25)
}

/// Some 700 dots or holes, most of them away from the border.
#[test]
fn halftones_are_recognised() {
    let mut runs = every(13);
    for fine in FINENESS {
        let mut ruling_error = Errors::of(format!("halftone, {fine}, ruling"));
        let mut angle_error = Errors::of(format!("halftone, {fine}, angle, degrees"));
        for (per_inch, ruling) in [(300.0, 10.0), (300.0, 18.0), (600.0, 8.5), (600.0, 26.0), (1200.0, 22.0)] {
            for degrees in [0.0, 22.5, 45.0, 82.5] {
                for tone in [0.1, 0.25, 0.4, 0.6, 0.75, 0.9] {
                    if !runs() {
                        continue;
                    }
                    let what = (fine, per_inch, ruling, degrees, tone);
                    let side = (26.0 * per_inch / 2.54 / ruling) as u32;
                    let got = at(&halftone(side, fine, per_inch, ruling, degrees, tone), per_inch);
                    let found = got.halftone.unwrap_or_else(|| panic!("not seen: {what:?}"));
                    ruling_error.share(units::PER_CM.value(found.ruling), ruling);
                    let apart = (units::DEG.value(found.angle) - degrees + 45.0).rem_euclid(90.0) - 45.0;
                    angle_error.see(apart);
                    assert!((550..=900).contains(&found.dots.expect("dots")), "{what:?}: {found:?}");
                    assert!((0.0..90.0).contains(&units::DEG.value(found.angle)), "{what:?}: {found:?}");
                }
            }
        }
        ruling_error.within(0.03);
        angle_error.within(1.5);
    }
}

/// At half tone dots touch at their corners; in black and white they run together there, some here and some there. (Aligned with the
/// pixels every second dot of 22 /cm at 1200 pixels an inch does: the rest are a halftone of twice the pitch too, and not asked for here.)
#[test]
fn at_half_tone_too() {
    let mut runs = every(23);
    for fine in FINENESS {
        for (per_inch, ruling) in [(300.0, 10.0), (300.0, 18.0), (600.0, 8.5), (600.0, 26.0), (1200.0, 22.0)] {
            for degrees in [7.5, 15.0, 22.5, 30.0, 45.0, 61.0, 82.5] {
                for tone in [0.44, 0.47, 0.48, 0.49, 0.5, 0.51, 0.52, 0.53, 0.56] {
                    if !runs() {
                        continue;
                    }
                    let side = (14.0 * per_inch / 2.54 / ruling) as u32;
                    let got = at(&halftone(side, fine, per_inch, ruling, degrees, tone), per_inch);
                    let what = (fine, per_inch, ruling, degrees, tone);
                    let found = got.halftone.unwrap_or_else(|| panic!("not seen: {what:?}"));
                    near(units::PER_CM.value(found.ruling), ruling, 0.05 * ruling, what);
                    let apart = (units::DEG.value(found.angle) - degrees + 45.0).rem_euclid(90.0) - 45.0;
                    near(apart, 0.0, 2.0, what);
                }
            }
        }
    }
}

/// Of square dots that touch at their corners, c apart, each has an edge of 4 c / sqrt(2). Beside wide bars they make a halftone where six
/// tenths of all edges are theirs (border and pixels take some of the dots).
#[test]
fn at_half_tone_most_edges_must_be_the_dots() {
    let (side, pitch) = (400_u32, 12.0);
    let dots = halftone(side, 1, 300.0, 300.0 / 2.54 / pitch, 30.0, 0.5);
    let of_dots = f64::from(side * side) / pitch / pitch * 4.0 * pitch / 2.0_f64.sqrt();
    for (share, seen) in [(0.52, false), (0.55, false), (0.68, true), (0.75, true)] {
        // Bars of 24 pixels and gaps as wide, with two edges each, below the dots.
        let high = (of_dots * (1.0 - share) / share / f64::from(2 * side) * 48.0) as u32;
        let mut art = dots.clone();
        art.high += high;
        art.pixels.extend((0..high).flat_map(|y| vec![if y % 48 < 24 { 0 } else { 255 }; side as usize]));
        assert_eq!(at(&art, 300.0).halftone.is_some(), seen, "{share}");
    }
}

/// A halftone is one however it is turned or mirrored, its ruling the same within 1 %, and its angle that or the mirrored one.
#[test]
fn turned_and_mirrored() {
    for (degrees, tone) in [(11.0, 0.3), (22.5, 0.48), (40.0, 0.5), (67.0, 0.53), (75.0, 0.8)] {
        let art = halftone(200, 1, 300.0, 16.0, degrees, tone);
        let told = |art: &Art| {
            let halftone = at(art, 300.0).halftone.expect("a halftone");
            (units::PER_CM.value(halftone.ruling), units::DEG.value(halftone.angle))
        };
        let still = told(&art);
        for (moved, hand) in [
            (art.moved(200, 200, |x, y| (199 - x, y)), -1.0),
            (art.moved(200, 200, |x, y| (x, 199 - y)), -1.0),
            (art.moved(200, 200, |x, y| (y, 199 - x)), 1.0),
            (art.moved(200, 200, |x, y| (y, x)), -1.0),
        ] {
            let got = told(&moved);
            near(got.0, still.0, 0.01 * still.0, (degrees, tone));
            near((got.1 - hand * still.1 + 45.0).rem_euclid(90.0), 45.0, 0.1, (degrees, tone));
        }
    }
}

/// Where stripes run aslant they are thicker here and thinner there, in rows like those of dots.
#[test]
fn stripes_are_no_halftone() {
    let mut runs = every(7);
    for degrees in (0..46).step_by(3) {
        let (sin, cos) = f64::from(degrees).to_radians().sin_cos();
        for period in [3.3, 4.0, 5.0, 6.0, 8.0, 9.1, 12.0, 17.0] {
            for share in [0.3, 0.5] {
                if !runs() {
                    continue;
                }
                let beyond = |across: f64| (across.rem_euclid(period) - period / 2.0).abs() - share * period / 2.0;
                let art = Art::draw(250, 250, 1, |x, y| beyond(x * cos + y * sin));
                assert_eq!(at(&art, 300.0).halftone, None, "{degrees} {period} {share}");
            }
        }
    }
}

/// Stripes that step aside by a pixel in five or six: their steps lie in square rows, and only that they are joined along them tells
/// them from dots.
#[test]
fn slightly_slanted_stripes_are_no_halftone() {
    for (slope, period) in [(5.0_f64, 5.0), (5.0, 6.0), (6.0, 5.0), (6.0, 6.0)] {
        let (sin, cos) = (1.0 / slope).atan().sin_cos();
        let beyond = |across: f64| (across.rem_euclid(period) - period / 2.0).abs() - period / 4.0;
        for fine in FINENESS {
            let art = Art::draw(160, 160, fine, |x, y| beyond(x * cos + y * sin));
            assert_eq!(at(&art, 300.0).halftone, None, "{slope} {period} {fine}");
        }
    }
}

/// Lines with joints half their distance high, staggered like those of a wall: what is bare between them is as deep in square rows.
#[test]
fn walls_are_no_halftone() {
    for fine in FINENESS {
        for pitch in [6.031, 7.19, 8.223, 10.0] {
            let away = |u: f64| (u.rem_euclid(1.0) - 0.5).abs();
            let wall = |x: f64, y: f64| {
                let shift = (y / pitch).floor().rem_euclid(2.0) * pitch;
                ((away((x + shift) / (2.0 * pitch)) - 0.06) * 2.0 * pitch).min((away(y / pitch) - 0.1) * pitch)
            };
            assert_eq!(at(&Art::draw(300, 300, fine, wall), 300.0).halftone, None, "{pitch}");
        }
    }
}

/// Blots of a size, strewn: twelve waves of about one length to all sides.
#[test]
fn blots_are_no_halftone() {
    let mut next = random(7);
    for _ in 0..cases(10, 40) {
        let waves = [(); 12].map(|()| (0.5 + 0.1 * next(), (TAU * next()).sin_cos(), TAU * next()));
        let sum = |x: f64, y: f64| {
            waves.iter().map(|(k, (sin, cos), phase)| (k * (x * cos + y * sin) + phase).sin()).sum::<f64>()
        };
        assert_eq!(at(&Art::draw(400, 400, 1, sum), 300.0).halftone, None);
    }
}

/// Lines of small letters, of bars on a grid of five by seven, proportionally spaced, at 600 pixels an inch.
fn text() -> Art {
    let (mut next, mut art) = (random(7), Art::draw(700, 700, 1, |_, _| 1.0));
    for line in 0..28 {
        let (top, mut left) = (10 + 24 * line, 10);
        while left < 670 {
            let wide = [1, 3, 4, 4, 5, 7][(next() * 6.0) as usize];
            for cell in 0..7 * wide {
                // A stem to the left, and bars as chance has them.
                if cell % wide == 0 || next() < 0.35 {
                    for pixel in 0..4 {
                        let (x, y) = (left + 2 * (cell % wide) + pixel % 2, top + 2 * (cell / wide) + pixel / 2);
                        art.pixels[(y * art.wide + x) as usize] = 255;
                    }
                }
            }
            left += 2 * wide + if next() < 0.18 { 8 } else { 2 };
        }
    }
    art
}

#[test]
fn text_is_no_halftone() {
    let got = at(&text(), 600.0);
    assert_eq!(got.halftone, None);
    assert!(got.edge_length > units::MM.of(1000.0), "{got:?}");
}

/// Three hundred discs and bars of 0.1 to 0.5 mm strewn about.
#[test]
fn specks_are_no_halftone() {
    for fine in FINENESS {
        let (mut next, mut art) = (random(7), Art::draw(600, 600, 1, |_, _| 1.0));
        for k in 0..300 {
            let (x, y, size, turn) = (10.0 + next(), 10.0 + next(), 2.0 + 10.0 * next(), 90.0 * next());
            let (round, bar) = (disc(x, y, size / 2.0), rectangle(x, y, size, 2.0, turn));
            let speck = Art::draw(20, 20, fine, |x, y| if k % 2 == 0 { round(x, y) } else { bar(x, y) });
            let [left, top] = [next(), next()].map(|share| (580.0 * share) as u32);
            for (place, level) in (0_u32..).zip(&speck.pixels) {
                let pixel = &mut art.pixels[((top + place / 20) * 600 + left + place % 20) as usize];
                *pixel = (*pixel).max(*level);
            }
        }
        assert_eq!(at(&art, 600.0).halftone, None);
    }
}

/// Fine stripes, rings in rings, and a chequered cloth whose squares are larger than any dot.
#[test]
fn line_art_is_no_halftone() {
    let middle = |x: f64, y: f64| (x - 250.0).hypot(y - 250.0);
    for fine in FINENESS {
        for art in [
            Art::draw(500, 500, fine, |x, y| ((x * 0.8 + y * 0.6).rem_euclid(6.0) - 3.0).abs() - 1.5),
            Art::draw(500, 500, fine, |x, y| ((middle(x, y)).rem_euclid(8.0) - 4.0).abs() - 2.0),
            Art::draw(500, 500, fine, |x, y| {
                (x.rem_euclid(40.0) - 20.0).abs().max((y.rem_euclid(40.0) - 20.0).abs()) - 14.0
            }),
        ] {
            assert_eq!(at(&art, 600.0).halftone, None);
        }
    }
}
