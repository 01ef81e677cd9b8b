//! The straight line along the steps of a boundary.
//!
//! The boundary between printed and bare pixels runs along their sides, in steps. Steps are not a length: a slanted edge has up
//! to 1.41 times as many. Around each step the longest digital straight segment is recognised, by its arithmetic definition
//! 0 <= a x - b y - m < b (Debled-Rennesson and Reveilles 1995, "A linear algorithm for segmentation of digital curves"). The edge
//! is sqrt((b - a)^2 + a^2) / b long to a step, where a of b steps turn aside (after Coeurjolly and Klette 2004, "A comparative
//! evaluation of length estimators of digital curves").

use super::edges::Heading;

/// Steps on each side that can take part in a direction: with 49 steps a straight edge is right to a part in a thousand.
pub(super) const REACH: usize = 24;

/// The straight run of steps around one of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Straight {
    /// Its length to a step.
    pub length: f64,
    /// How many steps belong to it on the shorter side; none where it runs along the pixels' own way.
    pub steps: usize,
}

/// The straight run around a step, by the headings of the steps ahead of it and of those behind it, nearest first.
pub(super) fn straight(
    main: Heading,
    mut ahead: impl Iterator<Item = Heading>,
    mut behind: impl Iterator<Item = Heading>,
) -> Straight {
    let mut run = Run { line: Segment::STEP, main, other: None, turns: 0, last: [false; 2] };
    // Both ways in turn, so that the step stays near the middle; at a corner, on along the one way that stays straight.
    let (mut forth, mut back) = (true, true);
    let mut steps = 0_usize;
    while forth || back {
        forth = forth && ahead.next().is_some_and(|step| run.take(step, true));
        back = back && behind.next().is_some_and(|step| run.take(step, false));
        steps = steps.saturating_add((forth && back).into());
    }
    // A single turn at an end is the way round a corner, not a slope.
    if run.turns == 0 || run.turns == 1 && run.last != [false; 2] {
        return Straight { length: 1.0, steps: 0 };
    }
    Straight { length: run.line.length(), steps }
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
    fn length(&self) -> f64 {
        let (along, across) = (self.b.wrapping_sub(self.a) as f64, self.a as f64);
        (along * along + across * across).sqrt() / self.b as f64
    }
}
