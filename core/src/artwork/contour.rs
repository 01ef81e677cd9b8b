//! The contour of what is printed: where an edge runs between the centres of the pixels.
//!
//! Four neighbouring centres make a cell; the contour crosses those of its sides whose ends are on either side of the edge, and
//! runs straight from crossing to crossing (the marching squares of computer graphics). Where on a side it crosses, a walk along
//! the edges has found out ([`walk`](super::edges::walk)).

use super::picture::{Picture, Side, room};
use crate::error::Error;

/// Parts of the way from a pixel's centre to the next that a crossing is told to.
const PARTS: f64 = 256.0;
/// Rounding of numbers, in pixels: what differs by less is the same point, or as near.
pub(super) const ROUNDING: f64 = 1e-6;

/// A point of the contour, in pixels from the centre of the first one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Contact {
    pub x: f64,
    pub y: f64,
    /// How far it is from where it was looked for.
    pub distance: f64,
}

pub(super) type Point = (f64, f64);

/// Where the contour crosses the ways between pixels. To be reused from picture to picture.
#[derive(Debug, Clone, Default)]
pub(super) struct Contour {
    /// Pixels to a row, those beyond the right border among them; one row is below the picture.
    wide: usize,
    /// Of each pixel how far the crossing is from its left neighbour and from its upper one, in parts; 0 where there is none.
    crossings: Vec<[u8; 2]>,
}

/// Which neighbour.
const LEFT: usize = 0;
const UPPER: usize = 1;

impl Contour {
    /// Begins anew, without crossings.
    pub fn begin(&mut self, picture: &Picture<'_>) -> Result<(), Error> {
        self.wide = picture.wide().saturating_add(1);
        let count = self.wide.saturating_mul(picture.high().saturating_add(1));
        self.crossings.clear();
        room(&mut self.crossings, count)?;
        self.crossings.resize(count, [0; 2]);
        Ok(())
    }

    /// Notes that the contour crosses from a printed pixel to a bare one, so far outward from the middle between them.
    pub fn cross(&mut self, ink: (i32, i32), bare: (i32, i32), outward: f64) {
        let forward = bare.0 > ink.0 || bare.1 > ink.1;
        let pixel = if forward { bare } else { ink };
        // Rounded the same way from either side: a picture and its mirror image have the same contour.
        let parts = (PARTS * outward.abs() + 0.5).floor().copysign(outward);
        let share = (0.5 * PARTS + if forward { parts } else { -parts }).clamp(1.0, PARTS - 1.0);
        let Some(crossings) = self.cell(pixel.0, pixel.1).and_then(|at| self.crossings.get_mut(at)) else { return };
        let neighbour = if bare.0 == ink.0 { UPPER } else { LEFT };
        if let Some(crossing) = crossings.get_mut(neighbour) {
            *crossing = share as u8;
        }
    }

    /// Whether the contour is known to cross between a pixel and the one above.
    pub fn crosses_above(&self, x: i32, y: i32) -> bool {
        self.at(x, y)[UPPER] != 0
    }

    fn cell(&self, x: i32, y: i32) -> Option<usize> {
        let (x, y) = (usize::try_from(x).ok()?, usize::try_from(y).ok()?);
        (x < self.wide).then(|| y.wrapping_mul(self.wide).wrapping_add(x))
    }

    fn at(&self, x: i32, y: i32) -> [u8; 2] {
        self.cell(x, y).and_then(|at| self.crossings.get(at)).copied().unwrap_or_default()
    }

    /// The point of the contour nearest to `from`, in the four cells around the pixel `site` that lies beyond it, `from` on `side`.
    pub fn contact(&self, from: Point, site: (i32, i32), side: Side) -> Contact {
        let (mut nearest, mut least) = ((site.0.into(), site.1.into()), f64::INFINITY);
        self.feet(from, site, side, |foot, squared| {
            if squared < least {
                (nearest, least) = (foot, squared);
            }
        });
        Contact { x: nearest.0, y: nearest.1, distance: least.sqrt() }
    }

    /// Notes the points of the contour in these cells that are as near to `from` as any noted so far.
    pub fn contacts(&self, from: Point, site: (i32, i32), side: Side, contacts: &mut Contacts) {
        self.feet(from, site, side, |foot, squared| contacts.see(foot, squared));
    }

    /// Shows the point of each piece of the contour in these cells that is nearest to `from`, and how far it is, squared.
    fn feet(&self, from: Point, site: (i32, i32), side: Side, mut see: impl FnMut(Point, f64)) {
        let (west, east) = (site.0.wrapping_sub(1), site.0.wrapping_add(1));
        let (north, south) = (site.1.wrapping_sub(1), site.1.wrapping_add(1));
        let [n, ne] = [self.at(site.0, north), self.at(east, north)];
        let [w, c, e] = [self.at(west, site.1), self.at(site.0, site.1), self.at(east, site.1)];
        let [sw, s, se] = [self.at(west, south), self.at(site.0, south), self.at(east, south)];
        let (x, y) = (f64::from(site.0), f64::from(site.1));
        let bare = side == Side::Printed;
        // Of each cell the crossings of its upper, right, lower and left side. Printed corners that face one another are joined:
        // the contour cuts off the bare ones.
        let cells = [
            Cell { x: x - 1.0, y: y - 1.0, sides: [n[LEFT], c[UPPER], c[LEFT], w[UPPER]], cuts_first: bare },
            Cell { x, y: y - 1.0, sides: [ne[LEFT], e[UPPER], e[LEFT], c[UPPER]], cuts_first: !bare },
            Cell { x: x - 1.0, y, sides: [c[LEFT], s[UPPER], s[LEFT], sw[UPPER]], cuts_first: !bare },
            Cell { x, y, sides: [e[LEFT], se[UPPER], se[LEFT], s[UPPER]], cuts_first: bare },
        ];
        for cell in cells {
            for (a, b) in cell.pieces().into_iter().flatten() {
                let (x, y) = foot(from, a, b);
                see((x, y), (x - from.0) * (x - from.0) + (y - from.1) * (y - from.1));
            }
        }
    }
}

/// The points of the contour that are as near as the nearest: mostly one, between two edges more of them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contacts {
    points: [Contact; MOST],
    count: usize,
}

/// Most of them that are kept. Twelve pixels are five away, and nearer nowhere more; farther the points of the contour beside so many
/// are hardly ever as near as one another.
const MOST: usize = 12;

impl Contacts {
    pub const NONE: Self = Self { points: [Contact { x: 0.0, y: 0.0, distance: f64::INFINITY }; MOST], count: 0 };

    fn see(&mut self, (x, y): Point, squared: f64) {
        let least = self.distance();
        if squared > (least + ROUNDING) * (least + ROUNDING) {
            return;
        }
        let distance = squared.sqrt();
        if distance < least - ROUNDING {
            self.count = 0;
        }
        let same = |point: &Contact| (point.x - x).abs() < ROUNDING && (point.y - y).abs() < ROUNDING;
        if !self.iter().any(same)
            && let Some(free) = self.points.get_mut(self.count)
        {
            *free = Contact { x, y, distance };
            self.count = self.count.saturating_add(1);
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = &Contact> {
        self.points.iter().take(self.count)
    }

    /// How far they are; infinite where there are none.
    pub fn distance(&self) -> f64 {
        self.iter().next().map_or(f64::INFINITY, |first| first.distance)
    }
}

/// Four neighbouring centres.
struct Cell {
    /// The upper left one.
    x: f64,
    y: f64,
    /// Crossings of the upper, right, lower and left side, from the left or from above.
    sides: [u8; 4],
    /// Where the contour crosses all four: whether it cuts off the first corner, and the one that faces it.
    cuts_first: bool,
}

impl Cell {
    /// The pieces of the contour.
    fn pieces(&self) -> [Option<(Point, Point)>; 2] {
        let share = |crossing: u8| f64::from(crossing) / PARTS;
        let [upper, right, lower, left] = self.sides;
        let up = || (self.x + share(upper), self.y);
        let east = || (self.x + 1.0, self.y + share(right));
        let down = || (self.x + share(lower), self.y + 1.0);
        let west = || (self.x, self.y + share(left));
        match self.sides.map(|crossing| crossing != 0) {
            [true, true, true, true] if self.cuts_first => [Some((west(), up())), Some((east(), down()))],
            [true, true, true, true] => [Some((up(), east())), Some((down(), west()))],
            [true, _, _, true] => [Some((west(), up())), None],
            [true, true, _, _] => [Some((up(), east())), None],
            [_, true, true, _] => [Some((east(), down())), None],
            [_, _, true, true] => [Some((down(), west())), None],
            [true, _, true, _] => [Some((up(), down())), None],
            [_, true, _, true] => [Some((west(), east())), None],
            _ => [None, None],
        }
    }
}

/// The point of the piece from `a` to `b` that is nearest to `from`.
fn foot(from: Point, a: Point, b: Point) -> Point {
    let (along_x, along_y) = (b.0 - a.0, b.1 - a.1);
    let length = along_x * along_x + along_y * along_y;
    if length <= 0.0 {
        return a;
    }
    let share = (((from.0 - a.0) * along_x + (from.1 - a.1) * along_y) / length).clamp(0.0, 1.0);
    (a.0 + share * along_x, a.1 + share * along_y)
}
