//! Random pictures: the distance transform by brute force, and what every measure keeps to.

use super::draw::{Art, mm, mm2};
use floodbar::artwork::{Nearest, Side};
use floodbar::quantity::units;
use floodbar_tests::budget::cases;
use proptest::prelude::*;

/// Pictures of any bytes; of full ink, ever sparser, in bare cloth and the other way round.
fn pictures(most: u32) -> impl Strategy<Value = Art> {
    (1..=most, 1..=most, 0..7_u32).prop_flat_map(|(wide, high, kind)| {
        prop::collection::vec(any::<[u8; 2]>(), (wide * high) as usize).prop_map(move |bytes| {
            let rare = [0, 128, 16, 1][(kind % 4) as usize];
            let level = |[one, other]: [u8; 2]| match kind {
                0 => one,
                1..=3 => {
                    if one < rare && (rare > 1 || other < 128) {
                        255
                    } else {
                        0
                    }
                }
                _ => {
                    if one < rare.max(3) {
                        0
                    } else {
                        255
                    }
                }
            };
            Art { wide, high, pixels: bytes.into_iter().map(level).collect() }
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(256, 2560)))]

    /// Ink is also near to what surrounds the picture, of which the first ring is the nearest.
    #[test]
    fn the_nearest_is_the_nearest(art in pictures(40)) {
        let picture = art.picture(units::PER_CM.of(10.0));
        let (wide, high) = (art.wide as i32, art.high as i32);
        let printed = |(x, y): (i32, i32)| {
            (0..wide).contains(&x) && (0..high).contains(&y) && art.pixels[(y * wide + x) as usize] >= 128
        };
        let mut nearest = Nearest::default();
        for side in [Side::Bare, Side::Printed] {
            nearest.find(&picture, side).unwrap();
            let inside = |at| printed(at) == (side == Side::Printed);
            let around = (-1..=high).flat_map(|y| (-1..=wide).map(move |x| (x, y)));
            let others: Vec<_> = around.filter(|at| !inside(*at)).collect();
            let mut distances = nearest.distances();
            for at in (0..high).flat_map(|y| (0..wide).map(move |x| (x, y))) {
                let apart = |other: (i32, i32)| {
                    let (across, down) = (i64::from(other.0 - at.0), i64::from(other.1 - at.1));
                    across * across + down * down
                };
                let wanted = if inside(at) { others.iter().map(|other| apart(*other)).min() } else { None };
                let (site, squared) = (nearest.site(at.0, at.1), nearest.squared(at.0, at.1));
                prop_assert_eq!(site.map(apart), wanted, "{:?} {:?}", side, at);
                prop_assert_eq!(squared, wanted.unwrap_or(0));
                prop_assert!(site.is_none_or(|site| !inside(site)));
                let wanted = match wanted {
                    Some(squared) => (squared as f64).sqrt() as f32,
                    None if inside(at) => f32::INFINITY,
                    None => 0.0,
                };
                prop_assert_eq!(distances.next(), Some(wanted));
            }
            prop_assert_eq!(distances.next(), None);
            drop(distances);
            for outside in [(-1, 0), (0, -1), (wide, 0), (0, high), (i32::MIN, i32::MAX)] {
                prop_assert_eq!(nearest.site(outside.0, outside.1), None);
            }
        }
    }

    #[test]
    fn every_measure_is_possible(art in pictures(40)) {
        let levels: u32 = art.pixels.iter().map(|pixel| u32::from(*pixel)).sum();
        prop_assume!(levels > 0);
        let got = art.measured();
        let sum = f64::from(levels) / 255.0;
        prop_assert!((mm2(got.printed_area) - sum).abs() <= 1e-12 * sum);
        prop_assert!(mm2(got.edge_share_area) >= 0.0 && got.edge_share_area <= got.printed_area, "{:?}", got);
        prop_assert!((0.0..=1.0).contains(&got.coverage_fraction), "{:?}", got);
        let (wide, high) = (f64::from(art.wide), f64::from(art.high));
        prop_assert!(mm(got.width) <= wide * (1.0 + 1e-12) && mm(got.height) <= high * (1.0 + 1e-12), "{:?}", got);
        let edged = art.pixels.iter().any(|pixel| *pixel >= 128);
        prop_assert_eq!(mm(got.edge_length) > 0.0, edged);
        prop_assert_eq!(got.finest_line.is_some(), edged);
        // A side of the boundary counts for no more than half the way between two crossings, which are sqrt(5) apart at most. Where all
        // is black or white it counts for one at most, and a slanted edge has no more than 1.42 times its length.
        let printed = |x: i64, y: i64| {
            (0..i64::from(art.wide)).contains(&x) && (0..i64::from(art.high)).contains(&y)
                && art.pixels[(y * i64::from(art.wide) + x) as usize] >= 128
        };
        let around = (-1..i64::from(art.high)).flat_map(|y| (-1..i64::from(art.wide)).map(move |x| (x, y)));
        let sides: u32 = around.map(|(x, y)| {
            u32::from(printed(x, y) != printed(x + 1, y)) + u32::from(printed(x, y) != printed(x, y + 1))
        }).sum();
        let sides = f64::from(sides);
        prop_assert!(mm(got.edge_length) <= sides * 1.1181, "{} {:?}", sides, got);
        let sharp = if edged { art.sharp().measured().edge_length } else { got.edge_length };
        prop_assert!(mm(sharp) <= sides * (1.0 + 1e-12) && mm(sharp) * 1.4143 >= sides, "{} {:?}", sides, sharp);
        for (place, width) in [(&got.finest_line_at, got.finest_line), (&got.finest_gap_at, got.finest_gap)] {
            prop_assert_eq!(place.is_some(), width.is_some());
            if let (Some(place), Some(width)) = (place, width.map(mm)) {
                prop_assert!(width > 0.0 && width <= wide.hypot(high), "{:?}", got);
                prop_assert!((0.0..=wide).contains(&mm(place.from_left)) && (0.0..=high).contains(&mm(place.from_top)));
            }
        }
    }
}
