//! Steps of a walk along the sides of pixels, around what is printed.

use super::contour::Point;
use super::picture::Picture;

/// Right, down, left, up. Printed pixels lie to the right of the way.
pub(super) type Heading = u8;

/// A step along the side of a pixel, from a corner.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Step {
    pub x: i32,
    pub y: i32,
    pub heading: Heading,
}

impl Step {
    /// The next one, where the boundary goes. Printed pixels that touch at a corner are joined.
    pub fn next(self, picture: &Picture<'_>) -> Self {
        let (across, down) = match self.heading {
            0 => (1, 0),
            1 => (0, 1),
            2 => (-1, 0),
            _ => (0, -1),
        };
        let (x, y) = (self.x.wrapping_add(across), self.y.wrapping_add(down));
        let straight_on = Self { x, y, ..self };
        let [right, left] = straight_on.pixels();
        let turn = if picture.printed(left.0, left.1) {
            3
        } else if picture.printed(right.0, right.1) {
            0
        } else {
            1
        };
        Self { heading: self.heading.wrapping_add(turn) & 3, ..straight_on }
    }

    /// The pixels to the right of it and to the left.
    pub fn pixels(self) -> [(i32, i32); 2] {
        let (x, y) = (self.x, self.y);
        let (west, north) = (x.wrapping_sub(1), y.wrapping_sub(1));
        match self.heading {
            0 => [(x, y), (x, north)],
            1 => [(west, y), (x, y)],
            2 => [(west, north), (west, y)],
            _ => [(x, north), (west, north)],
        }
    }

    /// A way as (along the step, towards the bare side).
    pub fn split(self, (x, y): Point) -> Point {
        match self.heading {
            0 => (x, -y),
            1 => (y, x),
            2 => (-x, y),
            _ => (-y, -x),
        }
    }

    /// The point so far from the middle towards the bare pixel, in pixels from the centre of the first one.
    pub fn point(self, outward: f64) -> Point {
        let (x, y) = (f64::from(self.x), f64::from(self.y));
        match self.heading {
            0 => (x, y - 0.5 - outward),
            1 => (x - 0.5 + outward, y),
            2 => (x - 1.0, y - 0.5 + outward),
            _ => (x - 0.5 - outward, y - 1.0),
        }
    }
}
