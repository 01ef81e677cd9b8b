//! The length of the edges.
//!
//! The boundary between printed and bare pixels runs along their sides, in steps. Steps are not a length: a slanted edge has up
//! to 1.41 times as many. Each step counts by the edge's true length per step there, that of a longest digital straight segment
//! around the step: sqrt((b - a)^2 + a^2) / b, where a of b steps turn aside (after Coeurjolly and Klette 2004, "A comparative
//! evaluation of length estimators of digital curves"). The segment is recognised by its arithmetic definition
//! 0 <= a x - b y - m < b (Debled-Rennesson and Reveilles 1995, "A linear algorithm for segmentation of digital curves").

use super::picture::Picture;
use crate::error::{Code, Error};

/// Steps on each side that can take part in a direction: with 49 steps a straight edge is right to a part in a thousand.
const REACH: usize = 24;
const WINDOW: usize = 2 * REACH + 1;

/// One closed line of the boundary, in pixels from the upper left corner of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Loop {
    pub left: i32,
    pub right: i32,
    pub top: i32,
    pub bottom: i32,
    pub length: f64,
}

/// The marks of the boundary's steps. To be reused.
#[derive(Debug, Clone, Default)]
pub(super) struct Tracer {
    /// One bit a pixel: its upper side has been walked along.
    walked: Vec<u64>,
}

/// Heading: right, down, left, up. Printed pixels lie to the right of the way.
type Heading = u8;

impl Tracer {
    /// Walks along all of the boundary: its length in pixels. `seen` hears of each closed line.
    pub fn walk(&mut self, picture: &Picture<'_>, mut seen: impl FnMut(&Loop)) -> Result<f64, Error> {
        let words = picture.wide().saturating_mul(picture.high()).div_ceil(64);
        self.walked.clear();
        self.walked
            .try_reserve_exact(words)
            .map_err(|_| Error::new(Code::TooLong, "/pixels_high", "there is no memory for this picture"))?;
        self.walked.resize(words, 0);
        let mut length = 0.0;
        let mut above: Option<super::picture::Row<'_>> = None;
        for (y, row) in (0_i32..).zip(picture.rows()) {
            let starts = (0_i32..).zip(row.levels()).filter(|(_, level)| super::picture::printed(*level));
            match above {
                None => {
                    for (x, _) in starts {
                        length += self.around(picture, x, y, &mut seen);
                    }
                }
                Some(above) => {
                    let pairs = (0_i32..).zip(row.levels().zip(above.levels()));
                    for (x, (level, over)) in pairs {
                        if super::picture::printed(level) && !super::picture::printed(over) {
                            length += self.around(picture, x, y, &mut seen);
                        }
                    }
                }
            }
            above = Some(row);
        }
        Ok(length)
    }

    /// The length of the closed line through the upper side of a pixel; 0 if it has been walked along.
    fn around(&mut self, picture: &Picture<'_>, x: i32, y: i32, seen: &mut impl FnMut(&Loop)) -> f64 {
        if self.mark(picture, x, y) {
            return 0.0;
        }
        let start = Walker { x, y, heading: 0 };
        let mut walker = start;
        let mut line = Loop { left: x, right: x, top: y, bottom: y, length: 0.0 };
        let mut window = [0_u8; WINDOW];
        // Once round, and on until the first steps have been the centre of the window too.
        let (mut steps, mut round) = (0_usize, None);
        loop {
            window.rotate_left(1);
            if let Some(last) = window.last_mut() {
                *last = walker.heading;
            }
            if steps >= WINDOW.saturating_sub(1) {
                line.length += step_length(&window);
            }
            steps = steps.saturating_add(1);
            if walker.heading == 0 && round.is_none() {
                self.mark(picture, walker.x, walker.y);
            }
            walker.step(picture);
            line.left = line.left.min(walker.x);
            line.right = line.right.max(walker.x);
            line.top = line.top.min(walker.y);
            line.bottom = line.bottom.max(walker.y);
            if walker == start && round.is_none() {
                round = Some(steps);
            }
            if round.is_some_and(|round| steps >= round.saturating_add(WINDOW.saturating_sub(1))) {
                seen(&line);
                return line.length;
            }
        }
    }

    /// Marks the upper side of a pixel; whether it was marked before.
    fn mark(&mut self, picture: &Picture<'_>, x: i32, y: i32) -> bool {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { return true };
        let at = y.wrapping_mul(picture.wide()).wrapping_add(x);
        let Some(word) = self.walked.get_mut(at.wrapping_shr(6)) else { return true };
        let bit = 1_u64.wrapping_shl((at & 63) as u32);
        let before = *word & bit != 0;
        *word |= bit;
        before
    }
}

/// Someone who walks along the boundary, at a corner of pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Walker {
    x: i32,
    y: i32,
    heading: Heading,
}

impl Walker {
    /// Goes one side of a pixel on, and turns to where the boundary goes. Printed pixels that touch at a corner are joined.
    fn step(&mut self, picture: &Picture<'_>) {
        let (across, down) = match self.heading {
            0 => (1, 0),
            1 => (0, 1),
            2 => (-1, 0),
            _ => (0, -1),
        };
        self.x = self.x.wrapping_add(across);
        self.y = self.y.wrapping_add(down);
        let (west, north) = (self.x.wrapping_sub(1), self.y.wrapping_sub(1));
        let (left, right) = match self.heading {
            0 => ((self.x, north), (self.x, self.y)),
            1 => ((self.x, self.y), (west, self.y)),
            2 => ((west, self.y), (west, north)),
            _ => ((west, north), (self.x, north)),
        };
        let turn = if picture.printed(left.0, left.1) {
            3
        } else if picture.printed(right.0, right.1) {
            0
        } else {
            1
        };
        self.heading = self.heading.wrapping_add(turn) & 3;
    }
}

/// The true length of the step in the middle of a window: the mean over the straight segment around it.
fn step_length(window: &[Heading; WINDOW]) -> f64 {
    let Some(main) = window.get(REACH).copied() else { return 0.0 };
    let mut run = Run { line: Segment::STEP, main, other: None, turns: 0, last: [false; 2] };
    let mut ahead = window.iter().skip(REACH.saturating_add(1));
    let mut behind = window.iter().take(REACH).rev();
    // Both ways in turn, so that the step stays near the middle; at a corner, on along the one way that stays straight.
    let (mut forth, mut back) = (true, true);
    while forth || back {
        forth = forth && ahead.next().is_some_and(|step| run.take(*step, true));
        back = back && behind.next().is_some_and(|step| run.take(*step, false));
    }
    run.step_length()
}

/// A straight run of steps around one of them.
struct Run {
    line: Segment,
    main: Heading,
    /// The one other kind of step that a straight line has, at right angles.
    other: Option<Heading>,
    /// How many of them there are, and whether they are the last ahead and behind.
    turns: u32,
    last: [bool; 2],
}

impl Run {
    /// Takes in the next step at one end, if the run stays straight.
    fn take(&mut self, step: Heading, ahead: bool) -> bool {
        let turn = step != self.main;
        if turn {
            let other = *self.other.get_or_insert(step);
            if step != other || (step ^ self.main) & 1 == 0 {
                return false;
            }
        }
        if !self.line.take(turn.into(), ahead) {
            return false;
        }
        self.turns = self.turns.saturating_add(turn.into());
        let [last_behind, last_ahead] = &mut self.last;
        *(if ahead { last_ahead } else { last_behind }) = turn;
        true
    }

    fn step_length(&self) -> f64 {
        // A single turn at an end is the way round a corner, not a slope.
        if self.turns == 1 && self.last != [false; 2] { 1.0 } else { self.line.step_length() }
    }
}

/// A digital straight segment: the points with 0 <= a x - b y - m < b, after shearing its steps into (1, 0) and (1, 1).
#[derive(Debug, Clone, Copy)]
struct Segment {
    a: i64,
    b: i64,
    m: i64,
    /// First and last point of the segment.
    ends: [(i64, i64); 2],
    /// First and last point that lean on the upper line (remainder m), and on the lower one (remainder m + b - 1).
    upper: [(i64, i64); 2],
    lower: [(i64, i64); 2],
}

impl Segment {
    const STEP: Self =
        Self { a: 0, b: 1, m: 0, ends: [(0, 0), (1, 0)], upper: [(0, 0), (1, 0)], lower: [(0, 0), (1, 0)] };

    /// Takes in the next step at one end, if the segment stays straight.
    fn take(&mut self, up: i64, ahead: bool) -> bool {
        let [(first_x, first_y), (last_x, last_y)] = self.ends;
        let point = if ahead {
            (last_x.wrapping_add(1), last_y.wrapping_add(up))
        } else {
            (first_x.wrapping_sub(1), first_y.wrapping_sub(up))
        };
        self.grow(point, ahead)
    }

    /// Takes in a point at one end, if the segment stays straight.
    fn grow(&mut self, point: (i64, i64), ahead: bool) -> bool {
        let above = self.remainder(point).wrapping_sub(self.m);
        let [upper_first, upper_last] = self.upper;
        let [lower_first, lower_last] = self.lower;
        let (near, far) = if ahead { (1, 0) } else { (0, 1) };
        if above < -1 || above > self.b {
            return false;
        }
        let put = |pair: &mut [(i64, i64); 2], at: usize, value| {
            if let Some(place) = pair.get_mut(at) {
                *place = value;
            }
        };
        if above == -1 {
            // Above the upper line: a new slope through the far end of the upper points.
            let pivot = if ahead { upper_first } else { upper_last };
            put(&mut self.lower, far, if ahead { lower_last } else { lower_first });
            put(&mut self.upper, near, point);
            self.turn(pivot, point, ahead);
            self.m = self.remainder(point);
        } else if above == self.b {
            let pivot = if ahead { lower_first } else { lower_last };
            put(&mut self.upper, far, if ahead { upper_last } else { upper_first });
            put(&mut self.lower, near, point);
            self.turn(pivot, point, ahead);
            self.m = self.remainder(point).wrapping_sub(self.b).wrapping_add(1);
        } else {
            if above == 0 {
                put(&mut self.upper, near, point);
            }
            if above == self.b.wrapping_sub(1) {
                put(&mut self.lower, near, point);
            }
        }
        put(&mut self.ends, near, point);
        true
    }

    fn remainder(&self, (x, y): (i64, i64)) -> i64 {
        self.a.wrapping_mul(x).wrapping_sub(self.b.wrapping_mul(y))
    }

    fn turn(&mut self, pivot: (i64, i64), point: (i64, i64), ahead: bool) {
        let (from, to) = if ahead { (pivot, point) } else { (point, pivot) };
        self.a = to.1.wrapping_sub(from.1);
        self.b = to.0.wrapping_sub(from.0);
    }

    /// Length of its line, of direction (b - a, a) before shearing, per step.
    fn step_length(&self) -> f64 {
        let (along, across) = (self.b.wrapping_sub(self.a) as f64, self.a as f64);
        (along * along + across * across).sqrt() / self.b as f64
    }
}
