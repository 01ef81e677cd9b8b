//! The least, the fullest and the emptiest pictures, and those that are none.

use super::draw::{Art, REACH, finest, mm, mm2, rectangle_share};
use floodbar::artwork::{InkIs, MOST_PIXELS, Nearest, Picture, Side, Workspace, measure, measure_bytes};
use floodbar::error::Code;
use floodbar::quantity::units;
use floodbar_tests::compare::near;
use serde_json::{Value, json};

fn flat(wide: u32, high: u32, level: u8) -> Art {
    Art { wide, high, pixels: vec![level; (wide * high) as usize] }
}

fn spec(wide: u32, high: u32) -> Value {
    json!({ "pixels_wide": wide, "pixels_high": high, "resolution": "10 /cm", "ink": "light" })
}

/// Codes of the notes that a picture brings.
fn notes(art: &Art) -> Vec<String> {
    let answer = measure_bytes(&art.pixels, &spec(art.wide, art.high)).unwrap().to_value().unwrap();
    answer["notes"].as_array().unwrap().iter().map(|note| note["code"].as_str().unwrap().to_owned()).collect()
}

/// 40 by 30, edges on the border: everything as for a rectangle.
#[test]
fn all_ink() {
    let art = flat(40, 30, 255);
    let got = art.measured();
    near(mm2(got.printed_area), 1200.0, 1e-9, "area");
    near(mm(got.edge_length), 140.0, 1e-9, "edges");
    near(mm2(got.edge_share_area), rectangle_share(40.0, 30.0, REACH), 0.02 * 365.0, "edge share");
    near(finest(&got).0, 30.0, 1e-9, "finest line");
    assert_eq!((got.coverage_fraction, got.finest_gap, got.halftone), (1.0, None, None));
    let notes = notes(&art);
    assert!(["solid", "touches_border"].iter().all(|code| notes.iter().any(|note| note == code)), "{notes:?}");
}

#[test]
fn one_pixel() {
    for around in [0, 1, 5] {
        let mut art = flat(1 + 2 * around, 1 + 2 * around, 0);
        let middle = art.pixels.len() / 2;
        art.pixels[middle] = 255;
        let got = art.measured();
        assert_eq!((mm2(got.printed_area), got.coverage_fraction), (1.0, 1.0));
        near(mm(got.edge_length), 4.0, 1e-12, "edges");
        near(mm(got.width) + mm(got.height), 2.0, 1e-12, "box");
        assert!(finest(&got).0 <= 1.0, "{got:?}");
        // No place is farther from the edge than half a pixel.
        assert!(mm2(got.edge_share_area) <= 1.0 && mm2(got.edge_share_area) >= (-0.5 / REACH).exp(), "{got:?}");
    }
}

/// A speck at the end of a strip, or in the middle, lengthways and upright: near as far as 32 766 pixels, and nowhere beyond. All of a
/// full strip is near its border.
#[test]
fn print_far_away_is_nowhere() {
    let units = units::PER_CM.of(10.0);
    let long = 70_000_u32;
    let mut nearest = Nearest::default();
    for (wide, high) in [(long, 1), (1, long), (long, 3), (3, long)] {
        for speck in [0, long / 2, long - 1] {
            let mut art = flat(wide, high, 0);
            let (x, y) = if wide > high { (speck, high / 2) } else { (wide / 2, speck) };
            art.pixels[(y * wide + x) as usize] = 255;
            nearest.find(&art.picture(units), Side::Bare).expect("near pixels");
            for away in [1_i32, 100, 32_765, 32_766, 32_767, 32_768, 40_000, 65_536, 69_999] {
                for at in
                    [speck as i32 - away, speck as i32 + away].into_iter().filter(|at| (0..long as i32).contains(at))
                {
                    let (across, down) = if wide > high { (at, y as i32) } else { (x as i32, at) };
                    let wanted = (away <= 32_766).then_some((x as i32, y as i32));
                    assert_eq!(nearest.site(across, down), wanted, "{wide} x {high}, {speck}, {at}");
                }
            }
        }
        let full = flat(wide, high, 255);
        nearest.find(&full.picture(units), Side::Printed).expect("near pixels");
        let middle = (high.min(wide) / 2 + 1) as f32;
        assert_eq!(nearest.distances().fold(0.0, f32::max), middle);
        assert_eq!(finest(&full.measured()).0, f64::from(high.min(wide)));
    }
}

/// Less than half covered everywhere: 100 of 255 of the area, all of it edge, and no edge to be seen.
#[test]
fn faint_grey() {
    let art = flat(50, 40, 100);
    let got = art.measured();
    near(mm2(got.printed_area), 2000.0 * 100.0 / 255.0, 1e-9, "area");
    near(got.coverage_fraction, 100.0 / 255.0, 1e-15, "coverage");
    assert_eq!((mm(got.edge_length), got.finest_line, got.halftone), (0.0, None, None));
    near(mm2(got.edge_share_area), mm2(got.printed_area), 1e-9, "edge share");
    assert!(notes(&art).iter().any(|code| code == "no_edges"));
}

#[test]
fn noise() {
    let mut state = 1_u64;
    let mut art = flat(200, 180, 0);
    for pixel in &mut art.pixels {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        *pixel = (state >> 56) as u8;
    }
    let got = art.measured();
    let levels: u64 = art.pixels.iter().map(|pixel| u64::from(*pixel)).sum();
    near(mm2(got.printed_area), levels as f64 / 255.0, 1e-6, "area");
    assert!(mm2(got.edge_share_area) > 0.0 && got.edge_share_area <= got.printed_area, "{got:?}");
    assert!(finest(&got).0 < 3.0 && finest(&got).1 < 3.0, "{got:?}");
    assert!(notes(&art).iter().any(|code| code == "grey"));
}

/// Code and field of the error.
fn error(pixels: &[u8], spec: &Value) -> (String, String) {
    let error = measure_bytes(pixels, spec).map(|answer| answer.to_value()).expect_err("no answer").to_json();
    let text = |name: &str| error["error"][name].as_str().unwrap_or_default().to_owned();
    (text("code"), text("field"))
}

#[test]
fn no_pictures() {
    let pixels = [0, 255, 0, 255, 255, 0];
    let check = |name: &str, value: Value, code: &str, field: &str| {
        let mut spec = spec(3, 2);
        spec[name] = value;
        assert_eq!(error(&pixels, &spec), (code.to_owned(), field.to_owned()), "{spec}");
    };
    assert!(measure_bytes(&pixels, &spec(3, 2)).is_ok());
    for side in ["pixels_wide", "pixels_high"] {
        check(side, 0.into(), "out_of_range", &format!("/{side}"));
        check(side, (-3).into(), "out_of_range", &format!("/{side}"));
        check(side, 1.5.into(), "out_of_range", &format!("/{side}"));
        check(side, "3".into(), "wrong_type", &format!("/{side}"));
        check(side, 4_294_967_296_u64.into(), "out_of_range", &format!("/{side}"));
    }
    // One byte short, for a row more or a wider row.
    check("pixels_high", 3.into(), "impossible", "/pixels_high");
    check("pixels_wide", 4.into(), "impossible", "/pixels_high");
    check("stride", 4.into(), "impossible", "/pixels_high");
    check("stride", 10_000_000.into(), "impossible", "/pixels_high");
    check("stride", u32::MAX.into(), "out_of_range", "/stride");
    check("stride", 2.into(), "out_of_range", "/stride");
    check("stride", 0.into(), "out_of_range", "/stride");
    check("resolution", "0 /in".into(), "out_of_range", "/resolution");
    check("resolution", "-300 /in".into(), "out_of_range", "/resolution");
    check("resolution", "100001 /in".into(), "out_of_range", "/resolution");
    check("resolution", "300 in".into(), "wrong_dimension", "/resolution");
    check("resolution", Value::Null, "missing_field", "/resolution");
    check("ink", "black".into(), "out_of_range", "/ink");
    check("edge_length_scale", "0 mm".into(), "out_of_range", "/edge_length_scale");
    check("pixels", json!([0, 255, 0, 255, 255, 0]), "impossible", "/pixels");
    assert_eq!(error(&[], &spec(1, 1)), ("impossible".into(), "/pixels_high".into()));
    assert_eq!(error(&[0; 6], &spec(3, 2)), ("impossible".into(), "/ink".into()));
}

/// Products beyond 32 and 64 bits, and one pixel too many.
#[test]
fn too_many_pixels() {
    let most = u32::try_from(MOST_PIXELS).unwrap();
    let resolution = units::PER_CM.of(10.0);
    for (wide, high) in
        [(u32::MAX, u32::MAX), (u32::MAX, 1), (65_536, 65_536), (most + 1, 1), (10_000_001, 1), (8_000_000, 51)]
    {
        for stride in [None, Some(u32::MAX)] {
            let error = Picture::new(&[255; 6], wide, high, stride, resolution, InkIs::Light).expect_err("no picture");
            let side = if wide > 10_000_000 { "/pixels_wide" } else { "/pixels_high" };
            assert_eq!((error.code, error.field.as_str()), (Code::TooLong, side), "{wide} {high}");
        }
    }
    assert_eq!(error(&[255; 6], &spec(65_536, 65_536)), ("too_long".into(), "/pixels_high".into()));
    assert_eq!(error(&[255; 6], &spec(20_000, 20_000)).0, "impossible");
    for stride in [u32::MAX, 3] {
        let error = Picture::new(&[255; 6], 3, u32::MAX / 1_000, Some(stride), resolution, InkIs::Light);
        assert_eq!(error.expect_err("no picture").code, Code::Impossible);
    }
    for (wide, high, side) in [(0, 2, "/pixels_wide"), (3, 0, "/pixels_high")] {
        let error = Picture::new(&[], wide, high, None, resolution, InkIs::Light).expect_err("no picture");
        assert_eq!((error.code, error.field.as_str()), (Code::OutOfRange, side));
    }
    for nothing in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let error = Picture::new(&[255; 6], 3, 2, None, units::PER_CM.of(nothing), InkIs::Light);
        assert_eq!(error.expect_err("no picture").field, "/resolution");
    }
}

/// A solid of 10 by 10 pixels of an inch: a strip of 0.01 mm along 40 inches is all that is near an edge.
#[test]
fn a_picture_far_coarser_than_the_reach_of_an_edge_has_a_thin_edge() {
    let spec = json!({ "pixels_wide": 10, "pixels_high": 10, "resolution": "1 /in", "ink": "dark", "edge_length_scale": "0.01 mm" });
    let answer = floodbar::artwork::measure_bytes(&[0; 100], &spec).unwrap().to_value().unwrap();
    let share = answer["edge_share_area"]["value"].as_f64().unwrap();
    assert!((share - 40.0 * 2.54 * 0.001).abs() < 1e-6, "{share} cm2");
}

/// Dots as dense as pixels allow, at a resolution where all of them lie within the reach of one: still quick, and no halftone.
#[test]
fn dense_dots_at_an_absurd_resolution_are_told_in_time() {
    let (wide, high) = (600_u32, 600_u32);
    let pixels: Vec<u8> = (0..wide * high).map(|at| if at % 2 == 0 && at / wide % 2 == 0 { 0 } else { 255 }).collect();
    let spec = json!({ "pixels_wide": wide, "pixels_high": high, "resolution": "100000 /in", "ink": "dark" });
    let answer = floodbar::artwork::measure_bytes(&pixels, &spec).unwrap().to_value().unwrap();
    assert!(answer["halftone"].is_null(), "{answer}");
}

/// A reach that the wire would refuse is refused to a Rust caller too.
#[test]
fn no_reach() {
    let art = flat(5, 4, 255);
    for reach in [f64::NAN, -1e-20, -1.0, 0.0, f64::INFINITY] {
        let picture = art.picture(units::PER_CM.of(10.0));
        let reach = units::MM.of(reach);
        let error = measure(&picture, reach, &mut Workspace::default()).expect_err("no measure");
        assert_eq!((error.code, error.field.as_str()), (Code::OutOfRange, "/edge_length_scale"));
    }
}

/// A square of 50.8 pixels whose outer ones are covered by 0.4: at any reach the integral over it in closed form.
#[test]
fn an_edge_within_a_pixel_counts_no_more_than_its_reach() {
    let art = Art::draw(80, 80, 10, super::draw::rectangle(40.0, 40.0, 50.8, 50.8, 0.0));
    for reach in [0.05, 0.3, 1.0, 3.0] {
        let got = mm2(art.at(units::PER_CM.of(10.0), reach).edge_share_area);
        let wanted = rectangle_share(50.8, 50.8, reach);
        near(got, wanted, 0.1 * wanted, reach);
    }
}
