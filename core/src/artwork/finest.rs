//! The finest line, or gap: the narrowest place of one side.
//!
//! Not the least distance to an edge, which is half a pixel everywhere along one, but a width: from edge to edge through a point
//! of the medial axis (as far from the edge to its left as from the one to its right). The medial axis also runs into every
//! corner, and there it falls to nothing without the corner being a line. So a point counts where the axis is level or has a
//! maximum (on a line of even width, in the middle of a dot) or a waist; not on the way into a corner.

use super::contour::{Contact, Contour};
use super::distance::Nearest;
use super::picture::{Picture, Side, room};
use crate::error::Error;
use core::cell::Cell;

/// A line keeps its depth along the axis for this many pixels, or depths, whichever is more; to see a waist, four times as far.
const LOOK: f64 = 6.0;
const DEPTHS: f64 = 3.0;
const FAR: f64 = 4.0;
/// Strides to a depth, where it is deep.
const STRIDES: f64 = 16.0;
/// Climbing less, in pixels, is level; climbing more on both sides is a waist, and not just the steps of the pixels.
const LEVEL: f64 = 0.1;
const WAIST: f64 = 0.6;
/// A pixel's centre is never nearer to the pixels beyond an edge than to the edge, nor farther by more than this.
const BETWEEN: f64 = 0.71;
/// Two edges that are seen at a wider angle than this from the axis face one another (the cosine of 110 degrees).
const FACING: f64 = -0.34;
/// Nearer to the pixels beyond an edge than this, in pixels, its place between them matters to how deep a pixel is.
const THIN: f64 = 2.0;
/// Parts of a pixel that such a distance is noted to, and one that has not been.
const PARTS: f64 = 127.0;
const UNKNOWN: u8 = u8::MAX;
/// Edges nearer to one another than this, in pixels, do not tell which way the axis runs between them; and than this, not well.
const UNTOLD: f64 = 0.5;
const SLIM: f64 = 2.0;
/// Ways to look, as parts along the axis and across: the first two along it, then all round.
const WAYS: [(f64, f64); 8] = {
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
const ALONG: usize = 2;
/// Pixels around the picture that a point may lie in.
const AROUND: f64 = 16.0;
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
    depths.resize(count, UNKNOWN);
    let axis =
        Axis { picture, contour, nearest, side, depths: Cell::from_mut(depths.as_mut_slice()).as_slice_of_cells() };
    let mut best: Option<Narrowest> = None;
    let mut deepest = (0.0, (0, 0));
    for (y, row) in (0_i32..).zip(picture.rows()) {
        for (x, level) in (0_i32..).zip(row.levels()) {
            if super::picture::printed(level) != (side == Side::Printed) {
                continue;
            }
            let Some(site) = nearest.site(x, y) else { continue };
            let from_site = distance((x, y), site);
            if from_site > deepest.0 {
                deepest = (from_site, (x, y));
            }
            let most = best.map_or(f64::INFINITY, |best| best.width);
            if 2.0 * (from_site - BETWEEN) >= most {
                continue;
            }
            if let Some(width) = axis.width((x, y), site, from_site, most) {
                best = Some(Narrowest { width, x: x.into(), y: y.into() });
            }
        }
    }
    // Of specks of grey that no two edges face across, the deepest place.
    let (depth, (x, y)) = deepest;
    let (x, y) = (f64::from(x), f64::from(y));
    let speck = || Narrowest { width: 2.0 * axis.depth_to_edge(x, y), x, y };
    Ok(best.or_else(|| (side == Side::Printed && depth > 0.0).then(speck)))
}

fn distance(a: (i32, i32), b: (i32, i32)) -> f64 {
    let (across, down) = (f64::from(a.0.wrapping_sub(b.0)), f64::from(a.1.wrapping_sub(b.1)));
    (across * across + down * down).sqrt()
}

struct Axis<'a> {
    picture: &'a Picture<'a>,
    contour: &'a Contour,
    nearest: &'a Nearest,
    side: Side,
    /// Distances to the edge that have been looked for: many a place is passed on the way along the axis from many others.
    depths: &'a [Cell<u8>],
}

impl Axis<'_> {
    /// Distance from a pixel to the nearest beyond an edge: 0 beyond it, none outside the picture.
    fn depth(&self, x: f64, y: f64) -> Option<f64> {
        let (x, y) = pixel(x, y);
        self.within(x, y).then(|| (self.nearest.squared(x, y) as f64).sqrt())
    }

    /// Distance from a pixel to the edge: 0 beyond it, and outside the picture.
    fn depth_to_edge(&self, x: f64, y: f64) -> f64 {
        let (x, y) = pixel(x, y);
        let Some(site) = self.nearest.site(x, y).filter(|_| self.within(x, y)) else { return 0.0 };
        let away = distance((x, y), site);
        if away > THIN {
            return away - 0.5;
        }
        let look = || self.contour.contact((x.into(), y.into()), site, self.side).distance;
        let at = (y as usize).wrapping_mul(self.picture.wide()).wrapping_add(x as usize);
        let Some(noted) = self.depths.get(at) else { return look() };
        if noted.get() == UNKNOWN {
            // The edge is on the way to the pixels beyond it: no farther than they are. No pixel on this side is beyond it, however
            // near.
            noted.set((look() * PARTS + 0.5).max(1.0) as u8);
        }
        f64::from(noted.get()) / PARTS
    }

    fn within(&self, x: i32, y: i32) -> bool {
        // What lies around the picture is bare, and no part of a gap.
        let inside = |at: i32, size: usize| usize::try_from(at).is_ok_and(|at| at < size);
        self.side == Side::Printed || inside(x, self.picture.wide()) && inside(y, self.picture.high())
    }

    /// The width at a pixel, if it is on the axis, counts, and is narrower than `most`.
    fn width(&self, at: (i32, i32), site: (i32, i32), depth: f64, most: f64) -> Option<f64> {
        let (x, y) = (f64::from(at.0), f64::from(at.1));
        let (toward_x, toward_y) = ((f64::from(site.0) - x) / depth, (f64::from(site.1) - y) / depth);
        // On the axis: no deeper place to the one side or the other.
        let one = self.depth(x + toward_x, y + toward_y)?;
        let other = self.depth(x - toward_x, y - toward_y)?;
        if one > depth || other > depth {
            return None;
        }
        let near = self.contour.contact((x, y), site, self.side);
        let counts = |width: f64, far: &Contact| width < most && self.counts((x, y), &near, far);
        match self.opposite((x, y), &near) {
            Some(far) => Some(apart(&near, &far)).filter(|width| counts(*width, &far)),
            None => self
                .around(at, &near)
                .filter(|(width, far)| counts(*width, far))
                .map(|(width, _)| width)
                .reduce(f64::min),
        }
    }

    /// Whether the axis, between two edges, is level or has a waist here, and does not just climb out of a corner.
    fn counts(&self, at: (f64, f64), near: &Contact, far: &Contact) -> bool {
        let apart = apart(near, far);
        let across = if apart > 0.0 { ((far.x - near.x) / apart, (far.y - near.y) / apart) } else { (1.0, 0.0) };
        let ways = |told: f64| {
            let count = if apart < told { WAYS.len() } else { ALONG };
            WAYS.iter()
                .take(count)
                .map(|(along, aside)| (aside * across.0 - along * across.1, aside * across.1 + along * across.0))
        };
        let (depth, _) = self.deepest(at, across);
        let look = LOOK.max(DEPTHS * depth);
        let climbs = |to: f64, way: f64| move |along: (f64, f64)| self.climbs(at, along, across, to, way);
        !ways(SLIM).any(climbs(depth + LEVEL, look)) || ways(UNTOLD).all(climbs(self.ridge(at) + WAIST, FAR * look))
    }

    /// How deep the axis is at a pixel on it, or beside it: where it runs aslant the pixel next to it may be deeper.
    fn ridge(&self, at: (f64, f64)) -> f64 {
        let beside = |(across, down): (f64, f64)| self.depth_to_edge(at.0 + across, at.1 + down);
        [(0.0, 0.0), (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].into_iter().map(beside).fold(0.0, f64::max)
    }

    /// Whether the axis gets deeper than so much within so many pixels along it.
    fn climbs(&self, at: (f64, f64), along: (f64, f64), across: (f64, f64), depth: f64, way: f64) -> bool {
        let (mut x, mut y) = at;
        // The wider the place, the longer the strides: a way is as long to walk at any width.
        let stride = (depth / STRIDES).max(1.0);
        for _ in 0..(way / stride) as u32 {
            let ahead = (x + stride * along.0, y + stride * along.1);
            let (deepest, place) = self.deepest(ahead, (stride * across.0, stride * across.1));
            if deepest <= 0.0 || self.barred(pixel(x, y), pixel(place.0, place.1)) {
                return false;
            }
            if deepest > depth {
                return true;
            }
            (x, y) = place;
        }
        false
    }

    /// Whether a step of a pixel or two leads over the other side: over a pixel, or through a joint.
    fn barred(&self, from: (i32, i32), to: (i32, i32)) -> bool {
        // Of the two middles of a knight's move either will do.
        let middle = |up: i32| {
            let half = |a: i32, b: i32| a.wrapping_add(b).wrapping_add(up) >> 1;
            (half(from.0, to.0), half(from.1, to.1))
        };
        match from.0.abs_diff(to.0).max(from.1.abs_diff(to.1)) {
            1 => self.side != Side::Printed && self.joint(from, to),
            2 => [0, 1].map(middle).iter().all(|(x, y)| self.picture.printed(*x, *y) != (self.side == Side::Printed)),
            _ => false,
        }
    }

    /// Whether two bare pixels lie on either side of a joint: between two printed ones that touch at a corner, of which one is no corner of
    /// something thick. Two thick ones have a gap between them.
    fn joint(&self, one: (i32, i32), other: (i32, i32)) -> bool {
        // So many times as far across as from the one to the other, and so many times as far down.
        let both = |a: (i32, i32), b: (i32, i32), times: i32| {
            let (across, down) = (b.0.wrapping_sub(a.0).wrapping_mul(times), b.1.wrapping_sub(a.1).wrapping_mul(times));
            self.picture.printed(a.0.wrapping_add(across), a.1) && self.picture.printed(a.0, a.1.wrapping_add(down))
        };
        let aslant = one.0 != other.0 && one.1 != other.1;
        aslant && both(one, other, 1) && !(both(one, other, 2) && both(other, one, 2))
    }

    /// The deepest of three places side by side, the middle one first.
    fn deepest(&self, middle: (f64, f64), across: (f64, f64)) -> (f64, (f64, f64)) {
        let mut deepest = (0.0, middle);
        for aside in [0.0, -1.0, 1.0] {
            let place = (middle.0 + aside * across.0, middle.1 + aside * across.1);
            let here = self.depth_to_edge(place.0, place.1);
            if here > deepest.0 && !self.barred(pixel(middle.0, middle.1), pixel(place.0, place.1)) {
                deepest = (here, place);
            }
        }
        deepest
    }

    /// The edge on the far side of the axis, seen from a pixel.
    fn opposite(&self, from: (f64, f64), near: &Contact) -> Option<Contact> {
        let (away_x, away_y) = ((from.0 - near.x) / near.distance, (from.1 - near.y) / near.distance);
        let mut far = 0.0;
        while far <= near.distance + UNEVEN + 1.0 {
            far += 0.5;
            let (x, y) = pixel(from.0 + far * away_x, from.1 + far * away_y);
            if !self.within(x, y) {
                return None;
            }
            if self.picture.printed(x, y) != (self.side == Side::Printed) {
                return Some(self.contour.contact(from, (x, y), self.side))
                    .filter(|found| found.distance <= near.distance + UNEVEN);
            }
        }
        None
    }

    /// Diameters of the circles that touch the edge here and where a pixel around touches an edge that faces it.
    fn around(&self, at: (i32, i32), near: &Contact) -> impl Iterator<Item = (f64, Contact)> {
        let ray = |c: &Contact, x: i32, y: i32| ((c.x - f64::from(x)) / c.distance, (c.y - f64::from(y)) / c.distance);
        let (ax, ay) = ray(near, at.0, at.1);
        [(-1, -1), (0, -1), (1, -1), (-1, 0), (1, 0), (-1, 1), (0, 1), (1, 1)].into_iter().filter_map(
            move |step: (i32, i32)| {
                let (x, y) = (at.0.wrapping_add(step.0), at.1.wrapping_add(step.1));
                if self.barred(at, (x, y)) {
                    return None;
                }
                let touch = self.contour.contact((x.into(), y.into()), self.nearest.site(x, y)?, self.side);
                let (bx, by) = ray(&touch, x, y);
                let cosine = ax * bx + ay * by;
                // Two touching points that are seen at an angle from the middle of a circle are a chord of it.
                (cosine < FACING).then(|| (apart(near, &touch) / (0.5 * (1.0 - cosine)).sqrt(), touch))
            },
        )
    }
}

fn apart(a: &Contact, b: &Contact) -> f64 {
    ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y)).sqrt()
}

/// The pixel that holds a point. Points lie in the picture or a few pixels around it.
fn pixel(x: f64, y: f64) -> (i32, i32) {
    // Cutting off rounds down where nothing is negative, and is far cheaper than rounding.
    let down = |v: f64| ((v + (AROUND + 0.5)) as i32).wrapping_sub(AROUND as i32);
    (down(x), down(y))
}
