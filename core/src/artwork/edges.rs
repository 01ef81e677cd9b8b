//! Along the edges: a walk around all that is printed, for their length and the places where they run.
//!
//! The walk steps along the sides of the pixels. Beside each step the edge crosses the way from the printed pixel's centre to the
//! bare one's: where their coverage, taken as linear, is one half. Black and white pixels only say that it is somewhere between,
//! half way on the average: there it runs along the parabola that fits the crossings of the steps around best (Savitzky and Golay
//! 1964, "Smoothing and differentiation of data by simplified least squares procedures", Analytical Chemistry 36, 1627-1639), up to
//! the corners of sides that run along the pixels' own way. A step is half as long as the way from the edge beside the one before
//! to the edge beside the next.
//!
//! Steps by themselves are not a length: a slanted edge has up to 1.41 times as many. It has no more: a closed line is at least as long
//! as its black and white steps make a slanted one.

use super::contour::{Contour, Point};
use super::picture::{Picture, Row, printed};
use crate::error::Error;

/// Steps on each side that tell where a black and white edge runs.
const BEND: usize = 5;
/// Steps on each side that must be black and white too, for a step to be so.
const NEAR: usize = 2;
/// Steps of one heading that make a side, which ends at corners; fewer may as well be a slope.
const SIDE: usize = 3;
/// Steps from the last one to the middle of the window. Where the edge runs is told one step before that, by as many steps as bend and
/// the one beyond them, which tells a corner from a slope.
const MIDDLE: usize = BEND + 2;
/// Steps that are remembered: those around the middle, up to a power of two, so that they wrap round.
const KEPT: usize = (2 * MIDDLE + 1).next_power_of_two();
/// Half coverage, of 255.
const HALF: f64 = 127.5;
/// Levels that are neither ink nor bare cloth, of 255.
pub(super) const GREY: core::ops::RangeInclusive<u8> = 26..=229;

/// One closed line of the boundary, in pixels from the upper left corner of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Loop {
    pub left: i32,
    pub right: i32,
    pub top: i32,
    pub bottom: i32,
    pub length: f64,
}

/// Right, down, left, up. Printed pixels lie to the right of the way.
type Heading = u8;

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
            let (outward, length) = window.middle();
            let Place { step, bend, .. } = window.before(MIDDLE);
            let [ink, bare] = step.pixels();
            contour.cross(ink, bare, outward);
            if bend.is_some() {
                sharp += length;
                sharp_steps += 1.0;
            } else {
                grey += length;
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

/// A step along the side of a pixel, from a corner.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Step {
    x: i32,
    y: i32,
    heading: Heading,
}

impl Step {
    /// The next one, where the boundary goes. Printed pixels that touch at a corner are joined.
    fn next(self, picture: &Picture<'_>) -> Self {
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
    fn pixels(self) -> [(i32, i32); 2] {
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
    fn split(self, (x, y): (f64, f64)) -> (f64, f64) {
        match self.heading {
            0 => (x, -y),
            1 => (y, x),
            2 => (-x, y),
            _ => (-y, -x),
        }
    }

    /// The point so far from the middle towards the bare pixel, in pixels from the centre of the first one.
    fn point(self, outward: f64) -> (f64, f64) {
        let (x, y) = (f64::from(self.x), f64::from(self.y));
        match self.heading {
            0 => (x, y - 0.5 - outward),
            1 => (x - 0.5 + outward, y),
            2 => (x - 1.0, y - 0.5 + outward),
            _ => (x - 0.5 - outward, y - 1.0),
        }
    }
}

/// A step, and where the edge runs beside it.
#[derive(Debug, Clone, Copy, Default)]
struct Place {
    step: Step,
    /// Whether both pixels are black or white.
    sharp: bool,
    /// Where the coverage is one half, from the middle between the two pixels towards the bare one; and that point.
    half: f64,
    crossing: Point,
    /// Steps on each side that tell where the edge runs, where they are black and white; and that point.
    bend: Option<usize>,
    edge: Point,
}

impl Place {
    fn new(step: Step, picture: &Picture<'_>) -> Self {
        let levels = step.pixels().map(|(x, y)| picture.level(x, y));
        let [ink, bare] = levels.map(f64::from);
        // Not 0: the one is at least half covered, the other is not.
        let half = (ink - HALF) / (ink - bare) - 0.5;
        let crossing = step.point(half);
        let sharp = levels.iter().all(|level| !GREY.contains(level));
        Self { step, sharp, half, crossing, bend: None, edge: crossing }
    }
}

/// The last steps of a walk.
#[derive(Default)]
struct Window {
    places: [Place; KEPT],
    last: usize,
}

impl Window {
    /// Takes in the next step. Where the edge runs beside the one after the middle is known with it.
    fn push(&mut self, step: Step, picture: &Picture<'_>) {
        self.last = self.last.wrapping_add(1) % KEPT;
        if let Some(last) = self.places.get_mut(self.last) {
            *last = Place::new(step, picture);
        }
        let next = MIDDLE - 1;
        let bend = self.bend(next);
        let edge = self.fit(next, bend.unwrap_or(0));
        let at = self.at(next);
        if let Some(place) = self.places.get_mut(at) {
            *place = Place { bend, edge, ..*place };
        }
    }

    fn at(&self, back: usize) -> usize {
        self.last.wrapping_sub(back) % KEPT
    }

    /// The step so many before the last one.
    fn before(&self, back: usize) -> Place {
        self.places.get(self.at(back)).copied().unwrap_or_default()
    }

    /// The steps so many before and after one.
    fn beside(&self, back: usize, steps: usize) -> [Place; 2] {
        [back.saturating_add(steps), back.saturating_sub(steps)].map(|back| self.before(back))
    }

    /// Where the edge runs beside the step in the middle, from there towards the bare pixel, and how long it is there.
    fn middle(&self) -> (f64, f64) {
        let Place { step, half, edge, bend, .. } = self.before(MIDDLE);
        let [from, to] = self.beside(MIDDLE, 1).map(|place| place.edge);
        let length = 0.5 * apart(from, to);
        match bend {
            None => (half, length),
            // At a corner, or where too little is left to tell a direction by.
            Some(0) => (half, 1.0),
            Some(_) => {
                let (along, outward) = step.split(way(step.point(0.0), edge));
                let (ahead, aside) = step.split(way(from, to));
                let outward = if ahead > 0.0 { outward - along * aside / ahead } else { 0.0 };
                (outward.clamp(-0.5, 0.5), length)
            }
        }
    }

    /// Steps on each side of one that tell where the edge runs: none where it is not black and white.
    ///
    /// No more than to a corner at the end of its side, and only so many that the crossings at either end lie more than half their
    /// steps apart: around the tip of a hair, or a speck, the middle says nothing.
    fn bend(&self, back: usize) -> Option<usize> {
        let near = back.saturating_sub(NEAR)..=back.saturating_add(NEAR);
        if !near.into_iter().all(|back| self.before(back).sharp) {
            return None;
        }
        let [behind, ahead] = self.ends(back);
        // Steps aside in turn, one way and the other, are a slope; between two the same way round, a side is one at any length.
        let long = behind.steps.saturating_add(ahead.steps).saturating_add(1) >= SIDE;
        let round = behind.corner.zip(ahead.corner).is_some_and(|(from, to)| from ^ to == 2);
        let to_corner = |end: End| if end.corner.is_some() && (long || round) { end.steps } else { BEND };
        let most = to_corner(behind).min(to_corner(ahead));
        let leads_away = |steps: &usize| {
            let [from, to] = self.beside(back, *steps).map(|place| place.crossing);
            apart(from, to) > *steps as f64
        };
        Some((1..=most).rev().find(leads_away).unwrap_or(0))
    }

    /// How the steps of one heading around one end, behind and ahead, as far as they may matter.
    fn ends(&self, back: usize) -> [End; 2] {
        let main = self.before(back).step.heading;
        [0, 1].map(|way| {
            let turn = |steps: usize| {
                let heading = self.beside(back, steps).get(way)?.step.heading;
                (heading != main).then_some(heading)
            };
            let steps = (0..BEND).find(|steps| turn(steps.saturating_add(1)).is_some()).unwrap_or(BEND);
            // An edge that steps aside goes on; at a corner it does not.
            let corner = turn(steps.saturating_add(2)).and(turn(steps.saturating_add(1))).filter(|_| steps < BEND);
            End { steps, corner }
        })
    }

    /// The middle of the parabola that fits the crossings of so many steps on each side best.
    fn fit(&self, back: usize, steps: usize) -> Point {
        let count = steps as f64;
        let whole = (2.0 * count - 1.0) * (2.0 * count + 1.0) * (2.0 * count + 3.0) / 3.0;
        let weight = |number: f64| (3.0 * count * count + 3.0 * count - 1.0 - 5.0 * number * number) / whole;
        let middle = self.before(back).crossing;
        let add = |sum: Point, weight: f64, point: Point| (sum.0 + weight * point.0, sum.1 + weight * point.1);
        (1..=steps).fold(add((0.0, 0.0), weight(0.0), middle), |sum, number| {
            let [from, to] = self.beside(back, number).map(|place| place.crossing);
            let weight = weight(number as f64);
            add(add(sum, weight, from), weight, to)
        })
    }
}

/// The end of the steps of one heading: how many there are up to it, and the heading beyond it if it is a corner.
#[derive(Debug, Clone, Copy)]
struct End {
    steps: usize,
    corner: Option<Heading>,
}

fn way(a: Point, b: Point) -> Point {
    (b.0 - a.0, b.1 - a.1)
}

fn apart(a: Point, b: Point) -> f64 {
    let (across, down) = way(a, b);
    (across * across + down * down).sqrt()
}
