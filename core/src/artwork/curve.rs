//! Where an edge runs beside the steps of a walk, and how long it is there.
//!
//! Beside each step the edge crosses the column of pixels across it: where it would if all ink in the column were moved up against the
//! solid side, as far as one edge by itself runs there, and else where the coverage, taken as linear, is one half. Pixels have few
//! greys, or none, and tell so much the less: so the edge is taken to run along the parabola that fits the crossings of the steps
//! around best (Savitzky and Golay 1964, "Smoothing and differentiation of data by simplified least squares procedures", Analytical
//! Chemistry 36, 1627-1639), up to sharp corners, and where pixels are black and white to those of sides that run along the pixels'
//! own way. A step is half as long as the way from the edge beside the one before to the edge beside the next.
//!
//! Where pixels are grey, so much is added as this way cuts short what bends. A chord c is shorter than the arc of curvature k over it
//! by a share of k^2 c^2 / 24; and as the ink of a column is that of its mean, the edge is found a little inside of a bend ([`INSIDE`]).
//!
//! Where a black and white edge bends little, the parabolas still wave from one step aside to the next, up to 1 % too long a way. So
//! there a step is as much shorter as their way, over a few steps to either side, is longer than the arc of a circle through its ends
//! and its middle, told by the two chords to the middle and the one across: (4 (one + other) - across) / 3 (Huygens 1654, "De circuli
//! magnitudine inventa").

use super::contour::Point;
use super::picture::Picture;
use super::step::{Heading, Step};

/// Steps on each side that tell where a black and white edge runs, and where one with greys does.
const BEND: usize = 5;
const GREY_BEND: usize = 3;
/// Steps on each side that must be black and white too, for a step to be so.
const NEAR: usize = 2;
/// Steps of one heading that make a side, which ends at corners; fewer may as well be a slope.
const SIDE: usize = 3;
/// The chord from crossing to crossing, of the two to the middle one: where it is less, there is a sharp corner on the way. Crossings at
/// whole parts of a pixel may make just four fifths, where rounding would tell.
const SHARP: f64 = 0.79;
/// Pixels on each side of a step within which an edge by itself ends; where it does not, it is blurred.
const WIDE: usize = 4;
/// Steps on each side that tell how a grey edge bends.
const CURVE: usize = 3;
/// The most it does, as a circle of a pixel's radius: a speck may bend more, but is told by too few pixels to say so.
const ROUND: f64 = 1.0;
/// By how much of its curvature an edge is found inside of a bend: 1/24 along the rows, 1/12 askew, and more across the steps that
/// lead aside; what discs want, by trial.
const INSIDE: f64 = 0.09;
/// The longest a step may be: half the way between the crossings beside those before and after, which are no more than the square root
/// of 5 apart. Smoothed noise, and bends told by it, would make it longer.
const LONGEST: f64 = 1.118_033_988_749_895;
/// Steps on each side over which the way along the parabolas is held against an arc.
const ARC: usize = 8;
/// The chord across, of the two to the middle: where it is more, the edge bends little, and has no corner.
const FLAT: f64 = 0.98;
/// How far the edge lies beside one chord and beside the other, in pixels: where that differs more, it bends one way and the other, or
/// at one place.
const UNEVEN: f64 = 0.7;
/// Steps from the last one to the one whose edge is known with it: as many as bend, and the one beyond them, which tells a corner from
/// a slope.
const EDGE: usize = BEND + 1;
/// To the one whose length between the edges before and after is known.
const LENGTH: usize = EDGE + 1;
/// To the one that has all: the middle of those that are remembered.
pub(super) const MIDDLE: usize = LENGTH + ARC;
/// Steps that are remembered: those around the middle, up to a power of two, so that they wrap round.
const KEPT: usize = (2 * MIDDLE + 1).next_power_of_two();
/// Half coverage, of 255.
const HALF: f64 = 127.5;
/// Levels that are neither ink nor bare cloth, of 255.
pub(super) const GREY: core::ops::RangeInclusive<u8> = 26..=229;

/// What is known of the step in the middle of the window.
#[derive(Debug, Clone, Copy)]
pub(super) struct Middle {
    pub step: Step,
    /// Where the edge runs beside it, from the middle between the two pixels towards the bare one.
    pub outward: f64,
    pub length: f64,
    /// Whether it is black and white.
    pub sharp: bool,
}

/// A step, and what is known of the edge beside it.
#[derive(Debug, Clone, Copy, Default)]
struct Place {
    step: Step,
    /// Whether both pixels are black or white, and those of the steps near too.
    sharp: bool,
    all_sharp: bool,
    /// Where the coverage, taken as linear, is one half, from the middle between the two pixels towards the bare one.
    half: f64,
    /// The point that ink reaches to.
    crossing: Point,
    /// Steps on each side that tell where the edge runs, none at a corner; and that point.
    bend: usize,
    edge: Point,
    /// Half the way from the edge beside the step before to the edge beside the next, and the sum of those up to here.
    length: f64,
    so_far: f64,
    /// Steps in a row up to here where as many tell where the edge runs as may.
    free: usize,
}

impl Place {
    fn new(step: Step, picture: &Picture<'_>) -> Self {
        let levels = step.pixels().map(|(x, y)| picture.level(x, y));
        let [ink, bare] = levels.map(f64::from);
        // Not 0: the one is at least half covered, the other is not.
        let half = (ink - HALF) / (ink - bare) - 0.5;
        // Most pixels are full or empty, and nothing beyond them is asked.
        let out = if levels == [u8::MAX, 0] { half } else { reach(step, picture).unwrap_or(half) };
        let crossing = step.point(out);
        let sharp = levels.iter().all(|level| !GREY.contains(level));
        Self { step, sharp, half, crossing, edge: crossing, ..Self::default() }
    }
}

/// How far out from the middle between the two pixels of a step ink would reach, all in the column across moved against the solid side;
/// if but one edge runs there.
///
/// Within half a pixel, so that all along an edge they come in order: across a step that leads aside from its way it is told badly.
fn reach(step: Step, picture: &Picture<'_>) -> Option<f64> {
    let [ink, bare] = step.pixels();
    let levels = |from: (i32, i32), to: (i32, i32)| {
        let (across, down) = (to.0.wrapping_sub(from.0), to.1.wrapping_sub(from.1));
        let next = move |(x, y): &(i32, i32)| Some((x.wrapping_add(across), y.wrapping_add(down)));
        core::iter::successors(Some(to), next).map(|(x, y)| picture.level(x, y))
    };
    let beyond = run_out(levels(ink, bare))?;
    let short = run_out(levels(bare, ink).map(|level| !level))?;
    Some(((beyond - short) / f64::from(u8::MAX)).clamp(-0.5, 0.5))
}

/// The sum of levels as long as they become less, if they become as good as none.
fn run_out(levels: impl Iterator<Item = u8>) -> Option<f64> {
    let (mut sum, mut last) = (0.0, u8::MAX);
    for level in levels.take(WIDE) {
        if level >= last {
            break;
        }
        sum += f64::from(level);
        last = level;
    }
    (last < *GREY.start()).then_some(sum)
}

/// The last steps of a walk.
#[derive(Default)]
pub(super) struct Window {
    places: [Place; KEPT],
    last: usize,
}

impl Window {
    /// Takes in the next step.
    pub fn push(&mut self, step: Step, picture: &Picture<'_>) {
        self.last = self.last.wrapping_add(1) % KEPT;
        self.set(0, Place::new(step, picture));
        let all_sharp = self.all_sharp(EDGE);
        let bend = self.bend(EDGE, if all_sharp { self.to_corner(EDGE) } else { GREY_BEND });
        let edge = self.fit(EDGE, bend);
        self.set(EDGE, Place { all_sharp, bend, edge, ..self.before(EDGE) });
        let place = self.before(LENGTH);
        let [before, after] = self.beside(LENGTH, 1);
        let chord = apart(before.edge, after.edge);
        let length = if !place.all_sharp {
            f64::min(0.5 * chord * (1.0 + self.curvature_squared(LENGTH) * (chord * chord / 24.0 + INSIDE)), LONGEST)
        } else if place.bend == 0 {
            // At a corner, or where too little is left to tell a direction by, a step is as long as it is.
            1.0
        } else {
            0.5 * chord
        };
        let free = if place.all_sharp && place.bend == BEND { before.free.saturating_add(1) } else { 0 };
        self.set(LENGTH, Place { length, so_far: before.so_far + length, free, ..place });
    }

    fn at(&self, back: usize) -> usize {
        self.last.wrapping_sub(back) % KEPT
    }

    fn set(&mut self, back: usize, place: Place) {
        let at = self.at(back);
        if let Some(kept) = self.places.get_mut(at) {
            *kept = place;
        }
    }

    /// The step so many before the last one.
    fn before(&self, back: usize) -> Place {
        self.places.get(self.at(back)).copied().unwrap_or_default()
    }

    /// The steps so many before and after one.
    fn beside(&self, back: usize, steps: usize) -> [Place; 2] {
        [back.saturating_add(steps), back.saturating_sub(steps)].map(|back| self.before(back))
    }

    pub fn middle(&self) -> Middle {
        let Place { step, all_sharp: sharp, half, bend, edge, length, .. } = self.before(MIDDLE);
        if !sharp || bend == 0 {
            return Middle { step, outward: half, length, sharp };
        }
        let [from, to] = self.beside(MIDDLE, 1).map(|place| place.edge);
        let (along, outward) = step.split(way(step.point(0.0), edge));
        let (ahead, aside) = step.split(way(from, to));
        let outward = if ahead > 0.0 { outward - along * aside / ahead } else { 0.0 };
        Middle { step, outward: outward.clamp(-0.5, 0.5), length: length * self.straightened(), sharp }
    }

    /// The arc through the edge beside the middle and those at either end, of the way between them along the parabolas: 1 where the
    /// edge may have a corner, or bend one way and the other.
    fn straightened(&self) -> f64 {
        let [from, to] = self.beside(MIDDLE, ARC);
        let [behind, ahead] = self.beside(MIDDLE, ARC / 2);
        let middle = self.before(MIDDLE).edge;
        let chords = apart(from.edge, middle) + apart(middle, to.edge);
        let across = apart(from.edge, to.edge);
        let uneven = aside(from.edge, behind.edge, middle) - aside(middle, ahead.edge, to.edge);
        if to.free > 2 * ARC && across > FLAT * chords && uneven.abs() < UNEVEN {
            let way = to.so_far - from.so_far + 0.5 * (from.length - to.length);
            (4.0 * chords - across) / (3.0 * way)
        } else {
            1.0
        }
    }

    /// Whether a step is black and white, and those near too.
    fn all_sharp(&self, back: usize) -> bool {
        let near = back.saturating_sub(NEAR)..=back.saturating_add(NEAR);
        near.into_iter().all(|back| self.before(back).sharp)
    }

    /// Steps on each side of one up to a corner at the end of its side, if it is black and white.
    fn to_corner(&self, back: usize) -> usize {
        let [behind, ahead] = self.ends(back);
        // Steps aside in turn, one way and the other, are a slope; between two the same way round, a side is one at any length.
        let long = behind.steps.saturating_add(ahead.steps).saturating_add(1) >= SIDE;
        let round = behind.corner.zip(ahead.corner).is_some_and(|(from, to)| from ^ to == 2);
        let to_corner = |end: End| if end.corner.is_some() && (long || round) { end.steps } else { BEND };
        to_corner(behind).min(to_corner(ahead))
    }

    /// Steps on each side of one that tell where the edge runs: only so many that it turns no more than at a blunt corner on the way.
    /// At a sharp one the parabola would cut it, and around the tip of a hair, or a speck, the middle says nothing.
    fn bend(&self, back: usize, most: usize) -> usize {
        let middle = self.before(back).crossing;
        let leads_on = |steps: &usize| {
            let [from, to] = self.beside(back, *steps).map(|place| place.crossing);
            apart(from, to) > SHARP * (apart(from, middle) + apart(middle, to))
        };
        (1..=most).rev().find(leads_on).unwrap_or(0)
    }

    /// The curvature, squared, of the circle through the crossing beside a step and those of two around; none at a corner.
    fn curvature_squared(&self, back: usize) -> f64 {
        let Place { bend, crossing: middle, .. } = self.before(back);
        if bend == 0 {
            return 0.0;
        }
        let [from, to] = self.beside(back, CURVE).map(|place| place.crossing);
        let chords = apart(from, middle) * apart(middle, to);
        let curvature = (2.0 * aside(from, middle, to) / chords.max(f64::MIN_POSITIVE)).clamp(-ROUND, ROUND);
        curvature * curvature
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

/// How far a place lies to the right of the chord past it.
fn aside(from: Point, place: Point, to: Point) -> f64 {
    let (chord, there) = (way(from, to), way(from, place));
    (chord.0 * there.1 - chord.1 * there.0) / apart(from, to).max(f64::MIN_POSITIVE)
}
