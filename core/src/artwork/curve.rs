//! Where an edge runs beside the steps of a walk, and how long it is there.
//!
//! Beside each step the edge crosses the way from the printed pixel's centre to the bare one's: where their coverage, taken as
//! linear, is one half. Black and white pixels only say that it is somewhere between, half way on the average: there it runs along
//! the parabola that fits the crossings of the steps around best (Savitzky and Golay 1964, "Smoothing and differentiation of data by
//! simplified least squares procedures", Analytical Chemistry 36, 1627-1639), up to the corners of sides that run along the pixels'
//! own way. A step is half as long as the way from the edge beside the one before to the edge beside the next.
//!
//! Where an edge bends little, those parabolas still wave from one step aside to the next, up to 1 % too long a way. So there a step
//! is as much shorter as their way, over a few steps to either side, is longer than the arc of a circle through its ends and its
//! middle, told by the two chords to the middle and the one across: (4 (one + other) - across) / 3 (Huygens 1654, "De circuli
//! magnitudine inventa").

use super::contour::Point;
use super::picture::Picture;
use super::step::{Heading, Step};

/// Steps on each side that tell where a black and white edge runs.
const BEND: usize = 5;
/// Steps on each side that must be black and white too, for a step to be so.
const NEAR: usize = 2;
/// Steps of one heading that make a side, which ends at corners; fewer may as well be a slope.
const SIDE: usize = 3;
/// The chord from crossing to crossing, of the two to the middle one: where it is less, there is a sharp corner on the way.
const SHARP: f64 = 0.8;
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
    /// Whether both pixels are black or white.
    sharp: bool,
    /// Where the coverage is one half, from the middle between the two pixels towards the bare one; and that point.
    half: f64,
    crossing: Point,
    /// Steps on each side that tell where the edge runs, where they are black and white; and that point.
    bend: Option<usize>,
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
        let crossing = step.point(half);
        let sharp = levels.iter().all(|level| !GREY.contains(level));
        Self { step, sharp, half, crossing, edge: crossing, ..Self::default() }
    }
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
        let bend = self.bend(EDGE);
        let edge = self.fit(EDGE, bend.unwrap_or(0));
        self.set(EDGE, Place { bend, edge, ..self.before(EDGE) });
        let place = self.before(LENGTH);
        let [before, after] = self.beside(LENGTH, 1);
        // At a corner, or where too little is left to tell a direction by, a step is as long as it is.
        let length = if place.bend == Some(0) { 1.0 } else { 0.5 * apart(before.edge, after.edge) };
        let free = if place.bend == Some(BEND) { before.free.saturating_add(1) } else { 0 };
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
        let Place { step, half, bend, edge, length, .. } = self.before(MIDDLE);
        let sharp = bend.is_some();
        if matches!(bend, None | Some(0)) {
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

    /// Steps on each side of one that tell where the edge runs: none where it is not black and white.
    ///
    /// No more than to a corner at the end of its side, and only so many that it turns no more than at a blunt corner on the way:
    /// at a sharp one the parabola would cut it, and around the tip of a hair, or a speck, the middle says nothing.
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
        let middle = self.before(back).crossing;
        let leads_on = |steps: &usize| {
            let [from, to] = self.beside(back, *steps).map(|place| place.crossing);
            apart(from, to) > SHARP * (apart(from, middle) + apart(middle, to))
        };
        Some((1..=most).rev().find(leads_on).unwrap_or(0))
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
