//! What changes nothing, or only what it must.

use crate::draw::{Art, FINENESS, disc, finest, mm, mm2, near, rectangle};
use floodbar::artwork::{InkIs, Measure, Picture, Workspace, measure, measure_bytes};
use floodbar::quantity::{Length, units};
use floodbar::wire::Remarks;
use serde_json::json;

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
    for (got, wanted) in [(got.edge_length, wanted.edge_length)].map(|(a, b)| (mm(a), mm(b))) {
        near(got, wanted, 0.01 * wanted, &"edge length");
    }
    for (got, wanted) in [(got.printed_area, wanted.printed_area), (got.edge_share_area, wanted.edge_share_area)] {
        near(mm2(got), mm2(wanted), 0.01 * mm2(wanted), &"area");
    }
    near(got.coverage_fraction, wanted.coverage_fraction, 1e-12, &"coverage");
    near(finest(got).0, finest(wanted).0, 0.5, &"finest line");
    near(finest(got).1, finest(wanted).1, 0.5, &"finest gap");
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

/// Without its border a picture and its negative swap sides; the negative's border is an edge too.
#[test]
fn inverted() {
    for fine in FINENESS {
        let art = art(fine);
        let (one, other) = (art.measured(), art.inverted().measured());
        near(finest(&other).0, finest(&one).1, 1e-9, &"line");
        near(finest(&other).1, finest(&one).0, 1e-9, &"gap");
        near(mm2(other.printed_area), 220.0 * 200.0 - mm2(one.printed_area), 1e-6, &"area");
        let border = 2.0 * (220.0 + 200.0);
        near(mm(other.edge_length), mm(one.edge_length) + border, 0.01 * mm(one.edge_length), &"edge");
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
            near(mm(other), 4.0 * mm(one), 1e-13 * mm(other), &"length");
        }
        for (one, other) in [(one.printed_area, other.printed_area), (one.edge_share_area, other.edge_share_area)] {
            near(mm2(other), 16.0 * mm2(one), 1e-13 * mm2(other), &"area");
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
        let reach = units::MM.of::<Length>(crate::draw::REACH);
        assert_eq!(measure(&picture, reach, &mut workspace, &mut Remarks::default()).unwrap(), wanted);
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
