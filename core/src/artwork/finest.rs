//! The finest line, or gap: the narrowest place of one side.
//!
//! Not the least distance to an edge, which is half a pixel everywhere along one, but a width: from edge to edge through a point
//! of the medial axis (as far from the edge to its left as from the one to its right). The medial axis also runs into every
//! corner, and there it falls to nothing without the corner being a line. So a point counts where the axis is level or has a
//! maximum (on a line of even width, in the middle of a dot) or a waist; not on the way into a corner.

use super::axis::{Axis, place};
use super::contour::{Contact, Contacts, Contour, ROUNDING};
use super::distance::Nearest;
use super::picture::{Picture, Side, printed, room};
use crate::error::Error;

/// A line keeps its depth along the axis for this many pixels, or depths, whichever is more; to see a waist, four times as far.
const LOOK: f64 = 6.0;
const DEPTHS: f64 = 3.0;
const WAIST_LOOKS: f64 = 4.0;
/// Climbing less, in pixels, is level; climbing more on both sides is a waist, and not just the steps of the pixels.
const LEVEL: f64 = 0.1;
const WAIST: f64 = 0.6;
/// Climbing less than this, in pixels a pixel, is level where it is slim: a taper runs out, a corner does not.
const TAPER: f64 = 0.07;
/// A pixel's centre is never nearer to the pixels beyond an edge than to the edge, nor farther by more than this.
const BETWEEN: f64 = 1.0;
/// Two edges that are seen at a wider angle than this from the axis face one another (the cosine of 110 degrees).
const FACING: f64 = -0.34;
/// Edges nearer to one another than this, in pixels, do not tell which way the axis runs between them; and than this, not well.
const UNTOLD: f64 = 0.5;
const SLIM: f64 = 2.0;
/// The ways to the pixels around one.
const AROUND: [(f64, f64); 8] = {
    const SLANT: f64 = core::f64::consts::FRAC_1_SQRT_2;
    [
        (1.0, 0.0),
        (-1.0, 0.0),
        (0.0, 1.0),
        (0.0, -1.0),
        (SLANT, SLANT),
        (SLANT, -SLANT),
        (-SLANT, SLANT),
        (-SLANT, -SLANT),
    ]
};
/// A pixel on the axis is nearer to the one edge than to the other by no more than this.
const UNEVEN: f64 = 1.42;

/// The narrowest place, in pixels: its width, and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Narrowest {
    pub width: f64,
    pub x: f64,
    pub y: f64,
}

/// Finds the narrowest place of one side, whose nearest pixels of the other side have been found.
///
/// `depths` are reused from picture to picture: a byte a pixel.
pub(super) fn narrowest(
    picture: &Picture<'_>,
    contour: &Contour,
    nearest: &Nearest,
    side: Side,
    depths: &mut Vec<u8>,
) -> Result<Option<Narrowest>, Error> {
    let count = picture.wide().saturating_mul(picture.high());
    depths.clear();
    room(depths, count)?;
    depths.resize(count, 0);
    let axis = Axis::new(picture, contour, nearest, side, depths);
    let places = || {
        let rows = (0_i32..).zip(picture.rows());
        let pixels = rows.flat_map(|(y, row)| (0_i32..).zip(row.levels()).map(move |(x, level)| ((x, y), level)));
        pixels.filter(|(_, level)| printed(*level) == (side == Side::Printed)).map(|(at, _)| at)
    };
    let mut best: Option<Narrowest> = None;
    let mut deepest = 0;
    for at in places() {
        let squared = nearest.squared(at.0, at.1);
        deepest = deepest.max(squared);
        let most = best.map_or(f64::INFINITY, |best| best.width);
        if squared > 0
            && 2.0 * ((squared as f64).sqrt() - BETWEEN) < most
            && let Some(width) = axis.width(at, most)
        {
            best = Some(Narrowest { width, x: at.0.into(), y: at.1.into() });
        }
    }
    if best.is_some() || side == Side::Bare {
        return Ok(best);
    }
    // Of specks of grey that no two edges face across, the deepest place.
    let depths = places().filter(|(x, y)| nearest.squared(*x, *y) == deepest).map(|at| (axis.depth_to_edge(at), at));
    let speck = depths.reduce(|one, other| if other.0 > one.0 { other } else { one });
    Ok(speck.map(|(depth, (x, y))| Narrowest { width: 2.0 * depth, x: x.into(), y: y.into() }))
}

impl Axis<'_> {
    /// The width at a pixel, if it is on the axis, counts, and is narrower than `most`.
    fn width(&self, at: (i32, i32), most: f64) -> Option<f64> {
        if !self.passes(at) {
            return None;
        }
        let (mut least, touches) = (most, self.touches(at));
        // No narrower than the circle that touches the edge.
        let circle = 2.0 * touches.distance();
        let mut see = |width: f64, near: &Contact, far: &Contact| {
            let width = width.max(circle);
            if width < least && self.counts(at, near, far) {
                least = width;
            }
        };
        for near in touches.iter().filter(|_| circle < most) {
            let opposite = self.opposite(at, near);
            opposite.iter().for_each(|far| see(apart(near, far), near, far));
            if opposite.iter().next().is_none() {
                self.around(at, near, |width, far| see(width, near, far));
            }
        }
        (least < most).then_some(least)
    }

    /// Whether the axis, between two edges, is level or has a waist here, and does not just climb out of a corner.
    fn counts(&self, at: (i32, i32), near: &Contact, far: &Contact) -> bool {
        let apart = apart(near, far);
        let across = if apart > 0.0 { ((far.x - near.x) / apart, (far.y - near.y) / apart) } else { (1.0, 0.0) };
        let along = (-across.1, across.0);
        let depth = self.deepest(at, (0.0, 0.0), across).depth;
        let look = LOOK.max(DEPTHS * depth);
        let ways = [along, (-along.0, -along.1)];
        let (around, taper) = if apart < SLIM { (AROUND.as_slice(), TAPER) } else { (&[][..], 0.0) };
        let level = |gone: f64| depth + LEVEL.max(taper * gone);
        let waist = |_| self.ridge(at) + WAIST;
        !ways.iter().chain(around).any(|way| self.climbs(at, *way, level, look))
            || apart >= UNTOLD && ways.iter().all(|way| self.climbs(at, *way, waist, WAIST_LOOKS * look))
    }

    /// The edge on the far side of the axis, seen from a pixel.
    fn opposite(&self, at: (i32, i32), near: &Contact) -> Contacts {
        let from = (f64::from(at.0), f64::from(at.1));
        let (away_x, away_y) = ((from.0 - near.x) / near.distance, (from.1 - near.y) / near.distance);
        let most = near.distance + UNEVEN;
        let mut opposite = Contacts::NONE;
        let mut far = 0.0;
        while far <= most + 1.0 {
            far += 0.5;
            let (x, y) = place(at, (far * away_x, far * away_y));
            if !self.within(x, y) {
                break;
            }
            if self.beyond(x, y) {
                self.contour.contacts(from, (x, y), self.side, &mut opposite);
                break;
            }
        }
        if opposite.distance() <= most + ROUNDING { opposite } else { Contacts::NONE }
    }

    /// Shows the diameters of the circles that touch the edge here and where a pixel around touches an edge that faces it.
    fn around(&self, at: (i32, i32), near: &Contact, mut see: impl FnMut(f64, &Contact)) {
        let ray = |c: &Contact, x: i32, y: i32| ((c.x - f64::from(x)) / c.distance, (c.y - f64::from(y)) / c.distance);
        let (ax, ay) = ray(near, at.0, at.1);
        for step in [(-1, -1), (0, -1), (1, -1), (-1, 0), (1, 0), (-1, 1), (0, 1), (1, 1)] {
            let (x, y) = (at.0.wrapping_add(step.0), at.1.wrapping_add(step.1));
            if self.barred(at, (x, y)) {
                continue;
            }
            for touch in self.touches((x, y)).iter() {
                let (bx, by) = ray(touch, x, y);
                let cosine = ax * bx + ay * by;
                // Two touching points that are seen at an angle from the middle of a circle are a chord of it.
                if cosine < FACING {
                    see(apart(near, touch) / (0.5 * (1.0 - cosine)).sqrt(), touch);
                }
            }
        }
    }
}

fn apart(a: &Contact, b: &Contact) -> f64 {
    ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y)).sqrt()
}
