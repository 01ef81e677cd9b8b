//! Along the edges: a walk around all that is printed, for their length and the places where they run.
//!
//! The walk steps along the sides of the pixels; where the edge runs beside each step, and how long it is there, is told by the steps
//! around it ([`Window`]). Steps by themselves are not a length: a slanted edge has up to 1.41 times as many. It has no more: a closed
//! line is at least as long as its black and white steps make a slanted one.

use super::contour::Contour;
use super::curve::{MIDDLE, Window};
use super::picture::{Picture, Row, printed};
use super::step::Step;
use crate::error::Error;

/// One closed line of the boundary, in pixels from the upper left corner of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Loop {
    pub left: i32,
    pub right: i32,
    pub top: i32,
    pub bottom: i32,
    pub length: f64,
}

/// Walks along all of the boundary, and notes where it runs: its length in pixels. `seen` hears of each closed line.
pub(super) fn walk(picture: &Picture<'_>, contour: &mut Contour, mut seen: impl FnMut(&Loop)) -> Result<f64, Error> {
    contour.begin(picture)?;
    let mut length = 0.0;
    let mut above: Option<Row<'_>> = None;
    for (y, row) in (0_i32..).zip(picture.rows()) {
        let mut start = |x: i32| {
            if !contour.crosses_above(x, y) {
                length += around(picture, contour, x, y, &mut seen);
            }
        };
        match above {
            None => (0_i32..).zip(row.levels()).filter(|(_, level)| printed(*level)).for_each(|(x, _)| start(x)),
            Some(above) => {
                for (x, (level, over)) in (0_i32..).zip(row.levels().zip(above.levels())) {
                    if printed(level) && !printed(over) {
                        start(x);
                    }
                }
            }
        }
        above = Some(row);
    }
    Ok(length)
}

/// The length of the closed line through the upper side of a pixel.
fn around(picture: &Picture<'_>, contour: &mut Contour, x: i32, y: i32, seen: &mut impl FnMut(&Loop)) -> f64 {
    let start = Step { x, y, heading: 0 };
    let mut step = start;
    let mut line = Loop { left: x, right: x, top: y, bottom: y, length: 0.0 };
    // Of the black and white steps their length, and how many they are; of all others their length.
    let (mut sharp, mut sharp_steps, mut grey) = (0.0, 0.0, 0.0);
    let mut window = Window::default();
    // Once round, and on until the first steps have been in the middle of the window too.
    let (mut steps, mut round) = (0_usize, None);
    loop {
        window.push(step, picture);
        steps = steps.saturating_add(1);
        if steps > 2 * MIDDLE {
            let middle = window.middle();
            let [ink, bare] = middle.step.pixels();
            contour.cross(ink, bare, middle.outward);
            if middle.sharp {
                sharp += middle.length;
                sharp_steps += 1.0;
            } else {
                grey += middle.length;
            }
        }
        step = step.next(picture);
        line.left = line.left.min(step.x);
        line.right = line.right.max(step.x);
        line.top = line.top.min(step.y);
        line.bottom = line.bottom.max(step.y);
        if step == start && round.is_none() {
            round = Some(steps);
        }
        if round.is_some_and(|round| steps >= round.saturating_add(2 * MIDDLE)) {
            // Nothing around which one walks in so many steps has a shorter edge, whatever is made of its corners.
            line.length = grey + f64::max(sharp, sharp_steps * core::f64::consts::FRAC_1_SQRT_2);
            seen(&line);
            return line.length;
        }
    }
}
