//! Along the edges: a walk around all that is printed, for their length and the places where they run.
//!
//! The walk steps along the sides of the pixels. Beside each step the edge crosses the way from the printed pixel's centre to the
//! bare one's. Where the pixels are grey, it does so where their coverage, taken as linear, is one half, and its length is half the
//! way from the crossing before to the next. Where they are black and white they only say that it is somewhere between: there it
//! runs along the parabola that fits the middles of the steps around best (Savitzky and Golay 1964, "Smoothing and
//! differentiation of data by simplified least squares procedures"), as far as they make a straight run
//! ([`straight`](super::straight)), and is as long as that says. The middles of steps lie on either side of an edge alike; their
//! outermost corners do not.

use super::contour::Contour;
use super::picture::{Picture, Row, printed};
use super::straight::{REACH, straight};
use crate::error::Error;

/// Steps that are remembered: those that a direction takes part in, a power of two.
const KEPT: usize = 64;
/// Steps from the middle of the window to the last one.
const LEAD: usize = REACH;
/// Steps on each side that must be black and white too, for a step to be so.
const NEAR: usize = 2;
/// Steps on each side that tell where a black and white edge runs.
const BEND: usize = 4;
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
pub(super) type Heading = u8;

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
    let mut window = Window { steps: [(start, false); KEPT], last: 0 };
    // Once round, and on until the first steps have been in the middle of the window too.
    let (mut steps, mut round) = (0_usize, None);
    loop {
        window.push(step, step.sharp(picture));
        steps = steps.saturating_add(1);
        if steps > 2 * LEAD {
            line.length += window.middle(picture, contour);
        }
        step = step.next(picture);
        line.left = line.left.min(step.x);
        line.right = line.right.max(step.x);
        line.top = line.top.min(step.y);
        line.bottom = line.bottom.max(step.y);
        if step == start && round.is_none() {
            round = Some(steps);
        }
        if round.is_some_and(|round| steps >= round.saturating_add(2 * LEAD)) {
            seen(&line);
            return line.length;
        }
    }
}

/// A step along the side of a pixel, from a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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

    /// Levels of the pixels to the right of it and to the left.
    fn levels(self, picture: &Picture<'_>) -> [u8; 2] {
        self.pixels().map(|(x, y)| picture.level(x, y))
    }

    /// Whether both pixels are black or white.
    fn sharp(self, picture: &Picture<'_>) -> bool {
        self.levels(picture).iter().all(|level| !GREY.contains(level))
    }

    /// Where the coverage is one half, from the middle between the two pixels towards the bare one.
    fn half_way(self, picture: &Picture<'_>) -> f64 {
        let [ink, bare] = self.levels(picture).map(f64::from);
        // Not 0: the one is at least half covered, the other is not.
        (ink - HALF) / (ink - bare) - 0.5
    }

    fn crossing(self, picture: &Picture<'_>) -> (f64, f64) {
        self.point(self.half_way(picture))
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

/// The last steps of a walk, and whether they are between black and white.
struct Window {
    steps: [(Step, bool); KEPT],
    last: usize,
}

impl Window {
    fn push(&mut self, step: Step, sharp: bool) {
        self.last = self.last.wrapping_add(1) % KEPT;
        if let Some(last) = self.steps.get_mut(self.last) {
            *last = (step, sharp);
        }
    }

    /// The step so many before the last one, and whether it is between black and white.
    fn kept(&self, back: usize) -> (Step, bool) {
        let at = self.last.wrapping_sub(back) % KEPT;
        self.steps.get(at).copied().unwrap_or((Step { x: 0, y: 0, heading: 0 }, false))
    }

    fn before(&self, back: usize) -> Step {
        self.kept(back).0
    }

    /// Notes where the edge runs beside the step in the middle: its length there.
    fn middle(&self, picture: &Picture<'_>, contour: &mut Contour) -> f64 {
        let step = self.before(LEAD);
        let (outward, length) = if (LEAD - NEAR..=LEAD + NEAR).all(|back| self.kept(back).1) {
            let heading = |back: usize| match self.kept(back) {
                (step, true) => Some(step.heading),
                _ => None,
            };
            let run =
                straight(step.heading, (0..LEAD).rev().map_while(heading), (LEAD + 1..=2 * LEAD).map_while(heading));
            (self.parabola(run.steps.min(BEND)), run.length)
        } else {
            let [from, to] = [LEAD + 1, LEAD - 1].map(|back| self.before(back).crossing(picture));
            (step.half_way(picture), 0.5 * apart(from, to))
        };
        let [ink, bare] = step.pixels();
        contour.cross(ink, bare, outward);
        length
    }

    /// How far outward the parabola runs that fits the middles of so many steps on each side best.
    fn parabola(&self, most: usize) -> f64 {
        let step = self.before(LEAD);
        let here = step.point(0.0);
        let count = most as f64;
        let whole = (2.0 * count - 1.0) * (2.0 * count + 1.0) * (2.0 * count + 3.0) / 3.0;
        // Its middle, and its direction there, along the step and outward.
        let (mut middle, mut way) = ((0.0, 0.0), (0.0, 0.0));
        for steps in 1..=most {
            let number = steps as f64;
            let weight = (3.0 * count * count + 3.0 * count - 1.0 - 5.0 * number * number) / whole;
            for (back, sign) in [(LEAD.saturating_sub(steps), number), (LEAD.saturating_add(steps), -number)] {
                let (x, y) = self.before(back).point(0.0);
                let (along, outward) = step.split((x - here.0, y - here.1));
                middle = (middle.0 + weight * along, middle.1 + weight * outward);
                way = (way.0 + sign * along, way.1 + sign * outward);
            }
        }
        if way.0 > 0.0 { (middle.1 - middle.0 * way.1 / way.0).clamp(-0.5, 0.5) } else { 0.0 }
    }
}

fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    ((b.0 - a.0) * (b.0 - a.0) + (b.1 - a.1) * (b.1 - a.1)).sqrt()
}
