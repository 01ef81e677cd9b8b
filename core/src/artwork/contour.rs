//! The half-coverage contour: where an edge runs between the centres of the pixels.
//!
//! Four neighbouring centres make a cell; along its sides the coverage is taken as linear, and the contour crosses a side
//! where it is one half (the marching squares of computer graphics). In a cell whose corners alternate the mean decides.

use super::picture::{Picture, printed};

/// Half coverage, of 255.
const HALF: f64 = 127.5;

/// A point of the contour, in pixels from the centre of the first one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Contact {
    pub x: f64,
    pub y: f64,
    /// How far it is from where it was looked for.
    pub distance: f64,
}

type Point = (f64, f64);

/// The point of the contour nearest to `from`, in the four cells around the pixel `site` that lies beyond it.
pub(super) fn contact(picture: &Picture<'_>, from: Point, site: (i32, i32)) -> Contact {
    let (west, east) = (site.0.wrapping_sub(1), site.0.wrapping_add(1));
    let (north, south) = (site.1.wrapping_sub(1), site.1.wrapping_add(1));
    let row = |y: i32| [picture.level(west, y), picture.level(site.0, y), picture.level(east, y)];
    let [[nw, n, ne], [w, c, e], [sw, s, se]] = [row(north), row(site.1), row(south)];
    let (x, y) = (f64::from(site.0), f64::from(site.1));
    let cells = [
        (x - 1.0, y - 1.0, [nw, n, c, w]),
        (x, y - 1.0, [n, ne, e, c]),
        (x - 1.0, y, [w, c, s, sw]),
        (x, y, [c, e, se, s]),
    ];
    let mut nearest = Contact { x, y, distance: f64::INFINITY };
    for (left, top, corners) in cells {
        for (a, b) in segments(left, top, corners).into_iter().flatten() {
            let (x, y) = foot(from, a, b);
            let squared = (x - from.0) * (x - from.0) + (y - from.1) * (y - from.1);
            if squared < nearest.distance {
                nearest = Contact { x, y, distance: squared };
            }
        }
    }
    Contact { distance: nearest.distance.sqrt(), ..nearest }
}

/// The pieces of the contour in a cell, by its upper left corner and the levels of its corners, clockwise from there.
fn segments(left: f64, top: f64, [a, b, c, d]: [u8; 4]) -> [Option<(Point, Point)>; 2] {
    let inside = [printed(a), printed(b), printed(c), printed(d)];
    let share = |from: u8, to: u8| (HALF - f64::from(from)) / (f64::from(to) - f64::from(from));
    let up = || (left + share(a, b), top);
    let right = || (left + 1.0, top + share(b, c));
    let down = || (left + share(d, c), top + 1.0);
    let side = || (left, top + share(a, d));
    match inside {
        [true, true, true, true] | [false, false, false, false] => [None, None],
        [true, false, false, false] | [false, true, true, true] => [Some((side(), up())), None],
        [false, true, false, false] | [true, false, true, true] => [Some((up(), right())), None],
        [false, false, true, false] | [true, true, false, true] => [Some((right(), down())), None],
        [false, false, false, true] | [true, true, true, false] => [Some((down(), side())), None],
        [true, true, false, false] | [false, false, true, true] => [Some((side(), right())), None],
        [true, false, false, true] | [false, true, true, false] => [Some((up(), down())), None],
        [true, false, true, false] | [false, true, false, true] => {
            let mean = [a, b, c, d].iter().map(|level| f64::from(*level)).sum::<f64>() / 4.0;
            // Joined across the middle: the contour cuts off the two corners of the other kind.
            if (mean >= HALF) == printed(a) {
                [Some((up(), right())), Some((down(), side()))]
            } else {
                [Some((side(), up())), Some((right(), down()))]
            }
        }
    }
}

/// The point of the piece from `a` to `b` that is nearest to `from`.
fn foot(from: Point, a: Point, b: Point) -> Point {
    let (along_x, along_y) = (b.0 - a.0, b.1 - a.1);
    let length = along_x * along_x + along_y * along_y;
    if length <= 0.0 {
        return a;
    }
    let share = (((from.0 - a.0) * along_x + (from.1 - a.1) * along_y) / length).clamp(0.0, 1.0);
    (a.0 + share * along_x, a.1 + share * along_y)
}
