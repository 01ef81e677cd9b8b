//! The medial axis of one side: where it passes, how deep it is there, and where it goes on.
//!
//! All of it is the same however a picture is turned or mirrored: of pixels or points of the edge that are as near as one another
//! none is preferred, and where the axis forks it is followed on the one hand and then on the other.

use super::contour::{Contacts, Contour, ROUNDING};
use super::distance::Nearest;
use super::picture::{Picture, Side};
use core::cell::Cell;

/// Strides to a depth, where it is deep.
const STRIDES: f64 = 16.0;
/// Nearer to the pixels beyond an edge than this, in pixels, its place between them matters to how deep a pixel is.
const THIN: i64 = 2;
/// Parts of a pixel that such a distance is noted to, and one that has not been. Halves, thirds and quarters are whole.
const PARTS: f64 = 120.0;
const UNKNOWN: u8 = u8::MAX;

/// The axis of one side of a picture.
pub(super) struct Axis<'a> {
    pub picture: &'a Picture<'a>,
    pub contour: &'a Contour,
    nearest: &'a Nearest,
    pub side: Side,
    /// Distances to the edge that have been looked for: many a place is passed on the way along the axis from many others.
    depths: &'a [Cell<u8>],
}

impl<'a> Axis<'a> {
    /// `depths` is room for a byte a pixel.
    pub fn new(
        picture: &'a Picture<'a>,
        contour: &'a Contour,
        nearest: &'a Nearest,
        side: Side,
        depths: &'a mut [u8],
    ) -> Self {
        depths.fill(UNKNOWN);
        Self { picture, contour, nearest, side, depths: Cell::from_mut(depths).as_slice_of_cells() }
    }

    /// Distance from a pixel to the edge: 0 beyond it, and outside the picture.
    pub fn depth_to_edge(&self, (x, y): (i32, i32)) -> f64 {
        let squared = if self.within(x, y) { self.nearest.squared(x, y) } else { 0 };
        if squared == 0 {
            return 0.0;
        }
        if squared > THIN * THIN {
            return (squared as f64).sqrt() - 0.5;
        }
        let look = || self.touches((x, y)).distance();
        let at = (y as usize).wrapping_mul(self.picture.wide()).wrapping_add(x as usize);
        let Some(noted) = self.depths.get(at) else { return look() };
        if noted.get() == UNKNOWN {
            // The edge is on the way to the pixels beyond it: no farther than they are. No pixel on this side is beyond it, however
            // near.
            noted.set((look().min(THIN as f64) * PARTS + 0.5).max(1.0) as u8);
        }
        f64::from(noted.get()) / PARTS
    }

    /// The points of the edge that are nearest to a pixel.
    pub fn touches(&self, (x, y): (i32, i32)) -> Contacts {
        let mut touches = Contacts::NONE;
        for site in self.nearest.sites(x, y) {
            self.contour.contacts((x.into(), y.into()), site, self.side, &mut touches);
        }
        touches
    }

    /// Whether a pixel is on the other side.
    pub fn beyond(&self, x: i32, y: i32) -> bool {
        self.picture.printed(x, y) != (self.side == Side::Printed)
    }

    /// Whether a pixel is in the picture. What lies around it is bare, and no part of a gap.
    pub fn within(&self, x: i32, y: i32) -> bool {
        let inside = |at: i32, size: usize| usize::try_from(at).is_ok_and(|at| at < size);
        self.side == Side::Printed || inside(x, self.picture.wide()) && inside(y, self.picture.high())
    }

    /// Whether the axis passes through a pixel: no place is deeper toward the pixels beyond the edge, or away from them.
    pub fn passes(&self, at: (i32, i32)) -> bool {
        let squared = self.nearest.squared(at.0, at.1);
        let depth = (squared as f64).sqrt();
        let level = |away: (f64, f64)| {
            let no_deeper = |(x, y): (i32, i32)| self.within(x, y) && self.nearest.squared(x, y) <= squared;
            no_deeper(place(at, away)) && no_deeper(place(at, (-away.0, -away.1)))
        };
        // Most pixels are deeper than their neighbours one way or the other: looking for all pixels that are as near takes longer.
        let any = [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, -1.0)].into_iter().any(level);
        any && self.nearest.sites(at.0, at.1).any(|(x, y)| {
            let toward = |from: i32, to: i32| f64::from(to.wrapping_sub(from)) / depth;
            level((toward(at.0, x), toward(at.1, y)))
        })
    }

    /// How deep the axis is at a pixel on it, or beside it: where it runs aslant the pixel next to it may be deeper.
    pub fn ridge(&self, (x, y): (i32, i32)) -> f64 {
        let beside = |(across, down): (i32, i32)| self.depth_to_edge((x.wrapping_add(across), y.wrapping_add(down)));
        [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)].into_iter().map(beside).fold(0.0, f64::max)
    }

    /// Whether the axis gets deeper, within so many pixels along it, than it may get on as long a way.
    pub fn climbs(&self, at: (i32, i32), along: (f64, f64), most: impl Fn(f64) -> f64 + Copy, way: f64) -> bool {
        let across = (along.1, -along.0);
        let (climbed, forked) = self.walk(at, along, across, most, way);
        climbed || forked && self.walk(at, along, (-across.0, -across.1), most, way).0
    }

    /// Walks along the axis: whether it gets deeper than it may, and whether it forked on the way.
    fn walk(
        &self,
        at: (i32, i32),
        along: (f64, f64),
        across: (f64, f64),
        most: impl Fn(f64) -> f64,
        way: f64,
    ) -> (bool, bool) {
        let mut here = (0.0, 0.0);
        let mut forked = false;
        // The wider the place, the longer the strides: a way is as long to walk at any width.
        let stride = (most(0.0) / STRIDES).max(1.0);
        for step in 1..=(way / stride) as u32 {
            let ahead = (here.0 + stride * along.0, here.1 + stride * along.1);
            let deepest = self.deepest(at, ahead, (stride * across.0, stride * across.1));
            forked |= deepest.tied;
            if deepest.depth <= 0.0 || self.barred(place(at, here), place(at, deepest.from)) {
                return (false, forked);
            }
            if deepest.depth > most(stride * f64::from(step)) {
                return (true, forked);
            }
            here = deepest.from;
        }
        (false, forked)
    }

    /// Whether a step of a pixel or two leads over the other side: over a pixel, or through a joint.
    pub fn barred(&self, from: (i32, i32), to: (i32, i32)) -> bool {
        // Of the two middles of a knight's move either will do.
        let middle = |up: i32| {
            let half = |a: i32, b: i32| a.wrapping_add(b).wrapping_add(up) >> 1;
            (half(from.0, to.0), half(from.1, to.1))
        };
        match from.0.abs_diff(to.0).max(from.1.abs_diff(to.1)) {
            1 => self.joint(from, to),
            2 => [0, 1].map(middle).iter().all(|(x, y)| self.beyond(*x, *y)),
            _ => false,
        }
    }

    /// Whether two pixels that touch at a corner only are apart. Printed ones are where both are corners of something thick: there
    /// is a gap between; bare ones are where the printed ones between them are not.
    fn joint(&self, one: (i32, i32), other: (i32, i32)) -> bool {
        let ends = if self.side == Side::Printed { [one, other] } else { [(other.0, one.1), (one.0, other.1)] };
        let printed = |x: i32, y: i32| self.picture.printed(x, y);
        let [a, b] = ends;
        let touch = a.0 != b.0
            && a.1 != b.1
            && printed(a.0, a.1)
            && printed(b.0, b.1)
            && !printed(a.0, b.1)
            && !printed(b.0, a.1);
        // The pixels beside it that are not beside the other one.
        let thick = |own: (i32, i32), other: (i32, i32)| {
            let away = |own: i32, other: i32| own.wrapping_add(own.wrapping_sub(other));
            printed(away(own.0, other.0), own.1) && printed(own.0, away(own.1, other.1))
        };
        touch && (self.side == Side::Printed) == (thick(a, b) && thick(b, a))
    }

    /// The deepest of three places side by side, `middle` away from a pixel: the one in the middle first, then the one against `across`.
    pub fn deepest(&self, at: (i32, i32), middle: (f64, f64), across: (f64, f64)) -> Deepest {
        let mut deepest = Deepest { depth: 0.0, from: middle, tied: false };
        for aside in [0.0, -1.0, 1.0] {
            let from = (middle.0 + aside * across.0, middle.1 + aside * across.1);
            let depth = self.depth_to_edge(place(at, from));
            if depth < deepest.depth || depth <= 0.0 || self.barred(place(at, middle), place(at, from)) {
                continue;
            }
            if depth > deepest.depth {
                deepest = Deepest { depth, from, tied: false };
            } else {
                deepest.tied = deepest.from != middle;
            }
        }
        deepest
    }
}

/// The deepest of a few places.
pub(super) struct Deepest {
    pub depth: f64,
    /// How far it is from where the walk began.
    from: (f64, f64),
    /// Whether one to the other side of the way is as deep.
    tied: bool,
}

/// The pixel so far from another. Halves are rounded away from it: the same to all sides.
pub(super) fn place(at: (i32, i32), (across, down): (f64, f64)) -> (i32, i32) {
    // Cutting off is far cheaper than rounding.
    let whole = |v: f64| (v.abs() + (0.5 + ROUNDING)).copysign(v) as i32;
    (at.0.wrapping_add(whole(across)), at.1.wrapping_add(whole(down)))
}
