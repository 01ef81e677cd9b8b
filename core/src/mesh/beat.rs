//! Beats of two square lattices laid over each other: a halftone and a mesh, or two halftones.

use crate::quantity::{Angle, Count, Dimensioned, Length, units};
use crate::sorted;

/// The highest order looked at in either direction of a lattice.
pub const MOST_ORDER: u8 = 8;
/// Orders of a halftone and of a mesh. A mesh has several threads to a halftone line, so it beats against the dots'
/// fourth or fifth harmonic; of the mesh the threads and their diagonals count.
pub const MESH_ORDERS: [u8; 2] = [MOST_ORDER, 1];
/// Orders of two halftones, rosettes included. Their rulings are alike, so the low orders beat: the second orders find rosettes
/// and rulings of 1 : 2, the third are a hundredth of the first.
pub const HALFTONE_ORDERS: [u8; 2] = [2, 2];

/// A frequency below this share of the second lattice's count is none: the rounding of angles and counts leaves 1e-15.
const LOCKED: f64 = 1e-9;
/// Step of the search for the best angle in degrees, finer than a film is ever set, and its steps to half a quadrant.
const STEPS_PER_DEGREE: u32 = 10;
const STEPS: u32 = 45 * STEPS_PER_DEGREE;
/// Two angles are equally good within this share: mirror images differ by rounding only.
const SAME: f64 = 1e-9;

/// A square lattice: the threads of a mesh, the dots of a halftone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lattice {
    /// Lines per length, in both directions.
    pub count: Count,
    /// Where the first direction points.
    pub angle: Angle,
}

/// A beat of two lattices.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beat {
    /// Orders h1, h2 of the first lattice and m1, m2 of the second.
    pub order: [i32; 4],
    /// Distance from band to band; none where the two are locked.
    pub period: Option<Length>,
    /// 1 / ((h1^2 + h2^2) (m1^2 + m2^2)).
    pub strength: f64,
}

/// The visible beats of two lattices, strongest first, among equals the longest first.
///
/// A lattice of count f at the angle t has the vectors a = f (cos t, sin t) and a' = f (-sin t, cos t), u and u' likewise. A
/// beat is the vector h1 a + h2 a' - (m1 u + m2 u'), its period 1 / |beat|, its strength 1 / ((h1^2 + h2^2) (m1^2 + m2^2)).
/// Visible is a period longer than `visible`; a beat of less than 1e-9 of the second count is locked: no bands at all, as
/// long as neither lattice turns or stretches.
///
/// `orders` are the highest |h| and |m|, at most [`MOST_ORDER`] each. Turning all orders by a quarter turns the beat by a
/// quarter: such pairs have one period and are both listed, for both sets of bands are there. Turning them by a half gives
/// the same beat: it is listed with m2 >= 0. Multiples of a beat are its own overtones and are not listed.
///
/// Source: Amidror, The Theory of the Moire Phenomenon, vol. 1, ch. 2. The strength is a rule: dots and threads with hard
/// edges have harmonics that fall about as the order.
///
/// ```
/// use floodbar::mesh::{HALFTONE_ORDERS, Lattice, beats};
/// use floodbar::quantity::units::{DEG, MM, PER_CM};
/// let film = |degrees| Lattice { count: PER_CM.of(20.0), angle: DEG.of(degrees) };
/// let found = beats(&film(45.0), &film(15.0), HALFTONE_ORDERS, MM.of(0.9));
/// // Half a millimetre from dot to dot, films 30 degrees apart: 0.5 / (2 sin 15 deg).
/// let strongest = found.first().and_then(|beat| beat.period).map(|period| MM.value(period));
/// assert!(strongest.is_some_and(|period| (period - 0.965_926).abs() < 1e-6));
/// ```
#[must_use]
pub fn beats(first: &Lattice, second: &Lattice, orders: [u8; 2], visible: Length) -> Vec<Beat> {
    Pairs::new(first.count, second.count, orders, visible).beats((first.angle - second.angle).si())
}

/// The best angle of a ruling on a mesh, from the mesh's threads, 0 to 45 degrees: its mirror image is as good, and so is
/// each a quarter turn on.
///
/// The angle whose worst visible beat is the least, on a grid of 0.1 degrees. A beat counts strength times period, with the
/// longest period that it takes while the angle errs by up to `tolerance`: one that can lock counts without limit. Where
/// several angles have no visible beat, or the same worst, that one whose longest beat of any order is the shortest, since
/// it stays farthest from visible when the cloth stretches; among equals the smallest.
///
/// Symbols and orders as in [`beats`]. The weighting is our own rule.
#[must_use]
pub fn best_angle(mesh: Count, ruling: Count, visible: Length, tolerance: Angle) -> Angle {
    units::DEG.of(Pairs::new(ruling, mesh, MESH_ORDERS, visible).best(tolerance.si()).0)
}

/// The [`best_angle`], if no beat is visible there even with the angle off by the tolerance.
#[must_use]
pub fn clear_angle(mesh: Count, ruling: Count, visible: Length, tolerance: Angle) -> Option<Angle> {
    let (angle, worst) = Pairs::new(ruling, mesh, MESH_ORDERS, visible).best(tolerance.si());
    worst.clear().then(|| units::DEG.of(angle))
}

/// A rotation.
#[derive(Debug, Clone, Copy)]
struct Turn {
    sin: f64,
    cos: f64,
}

impl Turn {
    fn by(radians: f64) -> Self {
        let (sin, cos) = libm::sincos(radians);
        Self { sin, cos }
    }

    fn of(self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.cos * x - self.sin * y, self.sin * x + self.cos * y]
    }
}

/// A vector of the first lattice, unturned, and one of the second, in the frame of the second. It stands for itself and its
/// quarter turns, which beat alike.
#[derive(Debug, Clone, Copy)]
struct Pair {
    first: [f64; 2],
    second: [f64; 2],
    /// The least that the frequency can be at any angle: the difference of the lengths.
    gap: f64,
    strength: f64,
    order: [i32; 4],
}

impl Pair {
    fn new(counts: [f64; 2], order: [i32; 4]) -> Self {
        let [h1, h2, m1, m2] = order.map(f64::from);
        let (h, m) = (h1 * h1 + h2 * h2, m1 * m1 + m2 * m2);
        let [f, n] = counts;
        Self {
            first: [f * h1, f * h2],
            second: [n * m1, n * m2],
            gap: (f * h.sqrt() - n * m.sqrt()).abs(),
            strength: 1.0 / (h * m),
            order,
        }
    }

    fn frequency(&self, turn: Turn) -> f64 {
        let ([x, y], [u, v]) = (turn.of(self.first), self.second);
        ((x - u) * (x - u) + (y - v) * (y - v)).sqrt()
    }

    /// The least frequency while the first lattice turns from one angle to another, less than a quarter turn on.
    fn least(&self, from: Turn, to: Turn) -> f64 {
        let ([x, y], [p, q], [u, v]) = (from.of(self.first), to.of(self.first), self.second);
        let aligned_between = u * y - v * x <= 0.0 && u * q - v * p >= 0.0 && u * x + v * y > 0.0;
        if aligned_between { self.gap } else { self.frequency(from).min(self.frequency(to)) }
    }
}

/// How bad an angle is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Worst {
    /// The greatest strength over frequency among the visible; 0 where none is.
    weighted: f64,
    /// The least frequency of any order.
    least: f64,
}

impl Worst {
    /// Whether no beat is visible.
    pub(super) fn clear(self) -> bool {
        self.weighted <= 0.0
    }

    /// The longest period of any order; none where one can lock.
    pub(super) fn period(self) -> Option<Length> {
        (self.least > 0.0).then(|| Length::from_si(1.0 / self.least))
    }

    /// Whether this is less bad, beyond rounding.
    pub(super) fn better(self, than: Self) -> bool {
        self.weighted < than.weighted * (1.0 - SAME)
            || self.weighted <= than.weighted * (1.0 + SAME) && self.least > than.least * (1.0 + SAME)
    }
}

/// All pairs of orders of two counts, those that can beat longest first.
#[derive(Debug, Clone)]
pub(super) struct Pairs {
    pairs: Vec<Pair>,
    /// Frequencies below are visible; rounding aside, so that a period of just the limit is not.
    visible: f64,
    /// Frequencies up to here are none.
    locked: f64,
}

impl Pairs {
    pub(super) fn new(first: Count, second: Count, orders: [u8; 2], visible: Length) -> Self {
        let counts = [first.si(), second.si()];
        let [h, m] = orders.map(|order| i32::from(order.min(MOST_ORDER)));
        let of_first = h.saturating_neg()..=h;
        let all = (1..=m).flat_map(|m1| (0..=m).map(move |m2| (m1, m2))).flat_map(|(m1, m2)| {
            let across = of_first.clone();
            of_first.clone().flat_map(move |h1| across.clone().map(move |h2| [h1, h2, m1, m2]))
        });
        let mut pairs: Vec<Pair> = all.filter(primitive).map(|order| Pair::new(counts, order)).collect();
        sorted::by_number(&mut pairs, |pair| pair.gap);
        Self { pairs, visible: (1.0 - 1e-12) / visible.si(), locked: LOCKED * second.si() }
    }

    /// The visible beats where the first lattice is turned by so many radians against the second.
    pub(super) fn beats(&self, radians: f64) -> Vec<Beat> {
        let turn = Turn::by(radians);
        let mut found: Vec<(f64, &Pair)> = self
            .pairs
            .iter()
            .take_while(|pair| pair.gap < self.visible)
            .map(|pair| (self.bounded(pair.frequency(turn)), pair))
            .filter(|(frequency, _)| *frequency < self.visible)
            .collect();
        found.sort_unstable_by(|(f, a), (g, b)| {
            b.strength.total_cmp(&a.strength).then(f.total_cmp(g)).then_with(|| a.order.cmp(&b.order))
        });
        let beat = |frequency: f64, pair: &Pair| {
            let [h1, h2, m1, m2] = pair.order;
            [pair.order, [h2.saturating_neg(), h1, m2.saturating_neg(), m1]].map(|order| Beat {
                order,
                period: (frequency > 0.0).then(|| Length::from_si(1.0 / frequency)),
                strength: pair.strength,
            })
        };
        found.into_iter().flat_map(|(frequency, pair)| beat(frequency, pair)).collect()
    }

    /// How bad an angle in radians is that may err by up to `tolerance`.
    pub(super) fn worst(&self, radians: f64, tolerance: f64) -> Worst {
        let (from, to) = (Turn::by(radians - tolerance), Turn::by(radians + tolerance));
        let mut worst = Worst { weighted: 0.0, least: f64::INFINITY };
        for pair in &self.pairs {
            // From here on no pair is visible, nor lower than the lowest.
            if pair.gap >= self.visible.max(worst.least) {
                break;
            }
            let frequency = self.bounded(pair.least(from, to));
            worst.least = worst.least.min(frequency);
            if frequency < self.visible {
                worst.weighted = worst.weighted.max(pair.strength / frequency);
            }
        }
        worst
    }

    /// The best angle in degrees, and how bad it is.
    pub(super) fn best(&self, tolerance: f64) -> (f64, Worst) {
        let at = |step: u32| {
            let degrees = f64::from(step) / f64::from(STEPS_PER_DEGREE);
            (degrees, self.worst(units::DEG.to_si(degrees), tolerance))
        };
        (1..=STEPS).map(at).fold(at(0), |best, next| if next.1.better(best.1) { next } else { best })
    }

    /// The work of judging so many angles and the best of all, in rows: one for a pair at an angle.
    pub(super) fn work(&self, angles: usize) -> f64 {
        let visible = self.pairs.partition_point(|pair| pair.gap < self.visible);
        // Some that are not visible are looked at for the longest period.
        (f64::from(STEPS) + 2.0 * angles as f64) * (visible as f64 + 64.0)
    }

    fn bounded(&self, frequency: f64) -> f64 {
        if frequency <= self.locked { 0.0 } else { frequency }
    }
}

/// Whether these orders are no multiple of lower ones, and the first lattice takes part.
fn primitive(order: &[i32; 4]) -> bool {
    let [h1, h2, ..] = order;
    let multiple_of = |divisor: i32| order.iter().all(|part| part.checked_rem(divisor) == Some(0));
    (*h1 != 0 || *h2 != 0) && !(2..=i32::from(MOST_ORDER)).any(multiple_of)
}
