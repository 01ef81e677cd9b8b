//! The exact distance transform: for each pixel of one side the nearest pixel of the other.
//!
//! Two passes, each linear in the pixels (Meijster, Roerdink and Hesselink 2000, "A general algorithm for computing distance
//! transforms in linear time"; Felzenszwalb and Huttenlocher 2012, "Distance transforms of sampled functions"): first the
//! nearest within the column, then along each row the lower envelope of the parabolas (x - i)^2 + rise(i)^2. A run of pixels of
//! one side ends at pixels of the other, nearer than anything beyond them: each run has its own envelope, and a short one is
//! sooner looked through.

use super::picture::{Picture, Side, printed, room};
use crate::error::Error;

/// As far above or below as that, or farther, in pixels, is nowhere. No printed pixel is: what is bare around a picture is nearer.
const FAR: i16 = i16::MAX;
/// As many columns aside is nowhere either.
const NOWHERE: i16 = i16::MIN;
const NEAR: core::ops::Range<i16> = 1 - FAR..FAR;

/// Up to so many pixels away all that are as near as the nearest are told; farther, which of them is matters less than 1 % to a width.
const TIED: i64 = 64;

/// Runs of no more pixels than this are looked through pixel by pixel.
const SHORT: usize = 24;

/// The nearest pixel of the other side, for each pixel of one side. To be reused from picture to picture.
///
/// Around the picture lies bare cloth: it is near to printed pixels, and no print is near beyond the border. Print more than 32 766
/// pixels above, below or aside of a bare one is not near it.
#[derive(Debug, Clone, Default)]
pub struct Nearest {
    wide: usize,
    /// Whether what lies around the picture is of the other side.
    bounded: bool,
    /// How far above, in pixels, the nearest of the other side stands in the same column (below: negative); 0 on the other side.
    rise: Vec<i16>,
    /// How many columns to the right the nearest of all stands.
    aside: Vec<i16>,
    carry: Vec<i16>,
    envelope: Vec<Parabola>,
}

/// A column whose nearest pixel is the nearest of all from column `from` on.
#[derive(Debug, Clone, Copy)]
struct Parabola {
    column: i32,
    /// Its rise, squared.
    height: i64,
    from: i32,
}

impl Parabola {
    fn at(&self, x: i32) -> i64 {
        let away = i64::from(x).wrapping_sub(i64::from(self.column));
        away.wrapping_mul(away).wrapping_add(self.height)
    }

    /// The last column where this one is not farther than `next`, which stands to its right.
    fn until(&self, next: &Self) -> i32 {
        let (i, u) = (i64::from(self.column), i64::from(next.column));
        let above =
            (u.wrapping_mul(u)).wrapping_sub(i.wrapping_mul(i)).wrapping_add(next.height).wrapping_sub(self.height);
        let twice = u.wrapping_sub(i).wrapping_mul(2);
        // Both below 2^53, so that the quotient is exact where it is whole, and else far enough from whole numbers. It is
        // nowhere negative, so that cutting off rounds down.
        ((above as f64) / (twice as f64)) as i32
    }
}

/// Two of a near pixel's add up to less than 2^31.
fn square(length: i16) -> i32 {
    i32::from(length).wrapping_mul(length.into())
}

impl Nearest {
    /// Finds the nearest pixels of the other side, for all pixels of `side`.
    ///
    /// # Errors
    /// `too_long` where there is no memory for four bytes a pixel.
    pub fn find(&mut self, picture: &Picture<'_>, side: Side) -> Result<(), Error> {
        let count = picture.wide().saturating_mul(picture.high());
        self.wide = picture.wide();
        self.bounded = side == Side::Printed;
        // What stands beyond the first and the last row.
        let outside = if side == Side::Printed { 0 } else { FAR };
        for (plane, length) in [(&mut self.rise, count), (&mut self.aside, count), (&mut self.carry, picture.wide())] {
            // What an earlier picture left behind is written over, or belongs to pixels that are not asked about.
            room(plane, length)?;
            plane.resize(length, 0);
        }
        self.carry.fill(outside);
        let inside = side == Side::Printed;
        let step = |level: u8, carry: i16| if printed(level) == inside { carry.saturating_add(1) } else { 0 };
        for (row, rise) in picture.rows().zip(self.rise.chunks_exact_mut(self.wide)) {
            for ((level, carry), rise) in row.levels().zip(&mut self.carry).zip(rise) {
                *carry = step(level, *carry);
                *rise = *carry;
            }
        }
        self.carry.fill(outside);
        let rows = self.rise.chunks_exact_mut(self.wide).zip(self.aside.chunks_exact_mut(self.wide));
        for (pixels, (rise, aside)) in picture.rows().zip(rows).rev() {
            for ((level, carry), rise) in pixels.levels().zip(&mut self.carry).zip(&mut *rise) {
                *carry = step(level, *carry);
                *rise = if *carry < *rise { carry.wrapping_neg() } else { *rise };
            }
            row(rise, aside, &mut self.envelope, side);
        }
        Ok(())
    }

    fn cell(&self, x: i32, y: i32) -> Option<usize> {
        let (x, y) = (usize::try_from(x).ok()?, usize::try_from(y).ok()?);
        (x < self.wide).then(|| y.wrapping_mul(self.wide).wrapping_add(x))
    }

    /// The nearest pixel of the other side; none for a pixel that is on the other side itself, or where none is near.
    #[must_use]
    pub fn site(&self, x: i32, y: i32) -> Option<(i32, i32)> {
        let cell = self.cell(x, y)?;
        if *self.rise.get(cell)? == 0 {
            return None;
        }
        let aside = *self.aside.get(cell).filter(|aside| **aside != NOWHERE)?;
        let column = x.wrapping_add(aside.into());
        let rise = self.cell(column, y).map_or(Some(0), |at| self.rise.get(at).copied())?;
        Some((column, y.wrapping_sub(rise.into())))
    }

    /// All pixels of the other side that are as near as the nearest; farther than [`TIED`] that one only.
    pub(super) fn sites(&self, x: i32, y: i32) -> impl Iterator<Item = (i32, i32)> + '_ {
        let squared = self.squared(x, y);
        let far = squared > TIED * TIED;
        // The sides of right angles across which it is as far, the shorter side first.
        let across = move |a: i64, b: i64| a.wrapping_mul(a).wrapping_add(b.wrapping_mul(b));
        let mut b = if far { -1 } else { (squared as f64).sqrt() as i64 };
        let shorter = (0_i64..).map_while(move |a| {
            while a <= b && across(a, b) > squared {
                b = b.wrapping_sub(1);
            }
            (a <= b).then_some((a, b))
        });
        let sides =
            shorter.filter(move |(a, b)| *b > 0 && across(*a, *b) == squared).map(|(a, b)| (a as i32, b as i32));
        let turned = |a: i32, b: i32| {
            [(a, b), (b, a.wrapping_neg()), (a.wrapping_neg(), b.wrapping_neg()), (b.wrapping_neg(), a)]
        };
        let all = sides.flat_map(move |(a, b)| {
            let mirrored = (a != 0 && a != b).then_some(turned(b, a));
            turned(a, b).into_iter().chain(mirrored.into_iter().flatten())
        });
        all.map(move |(across, down)| (x.wrapping_add(across), y.wrapping_add(down)))
            .filter(|(x, y)| self.beyond(*x, *y))
            .chain(self.site(x, y).filter(|_| far))
    }

    /// Whether a pixel is on the other side.
    fn beyond(&self, x: i32, y: i32) -> bool {
        self.cell(x, y).and_then(|at| self.rise.get(at)).map_or(self.bounded, |rise| *rise == 0)
    }

    /// The squared distance to it, in pixels; 0 for a pixel on the other side, and outside the picture.
    #[must_use]
    pub fn squared(&self, x: i32, y: i32) -> i64 {
        self.site(x, y).map_or(0, |(column, row)| {
            let (across, down) = (i64::from(column).wrapping_sub(x.into()), i64::from(row).wrapping_sub(y.into()));
            across.wrapping_mul(across).wrapping_add(down.wrapping_mul(down))
        })
    }

    /// All distances, in pixels, row by row; 0 on the other side, infinite where none is near.
    pub fn distances(&self) -> impl Iterator<Item = f32> + '_ {
        self.rise.chunks_exact(self.wide.max(1)).zip(self.aside.chunks_exact(self.wide.max(1))).flat_map(
            |(rise, aside)| {
                rise.iter().zip(aside).enumerate().map(move |(x, (own, aside))| {
                    if *own == 0 {
                        return 0.0;
                    }
                    if *aside == NOWHERE {
                        return f32::INFINITY;
                    }
                    let column = x.wrapping_add_signed((*aside).into());
                    let rise = rise.get(column).copied().unwrap_or(0);
                    let squared = square(*aside).wrapping_add(square(rise));
                    // Up to 2^24 exact in 32 bits too, where the root is quicker.
                    if squared <= 1 << 24 { (squared as f32).sqrt() } else { f64::from(squared).sqrt() as f32 }
                })
            },
        )
    }
}

/// How many columns aside the nearest stands, for each pixel of a row.
fn row(rise: &[i16], aside: &mut [i16], envelope: &mut Vec<Parabola>, side: Side) {
    let wide = rise.len();
    let mut begin = 0;
    while let Some(skip) = rise.get(begin..).and_then(|rest| rest.iter().position(|rise| *rise != 0)) {
        begin = begin.saturating_add(skip);
        let length = rise.get(begin..).map_or(0, |rest| rest.iter().position(|rise| *rise == 0).unwrap_or(rest.len()));
        let end = begin.saturating_add(length);
        let (Some(rise), Some(aside)) = (rise.get(begin..end), aside.get_mut(begin..end)) else { return };
        // Whether pixels of the other side stand at either end.
        let ends = [begin > 0 || side == Side::Printed, end < wide || side == Side::Printed];
        if length <= SHORT && ends == [true; 2] {
            short_run(rise, aside);
        } else {
            long_run(rise, aside, envelope, ends);
        }
        begin = end;
    }
}

/// For a short run with pixels of the other side at both ends: looked for outwards from each pixel. No column as far away as the
/// nearest pixel so far holds a nearer one, and neither end is farther than half the run.
fn short_run(rise: &[i16], aside: &mut [i16]) {
    let length = rise.len() as i16;
    for (at, (x, (own, aside))) in (0_i16..).zip(rise.iter().zip(aside)).enumerate() {
        let (left, right) = (x.wrapping_add(1), length.wrapping_sub(x));
        let (away, end) = if left <= right { (left, left.wrapping_neg()) } else { (right, right) };
        let (mut nearest, mut found) = if own.abs() <= away { (square(*own), 0) } else { (square(away), end) };
        let mut step = 1_i16;
        while square(step) < nearest {
            for there in [step.wrapping_neg(), step] {
                let height = rise.get(at.wrapping_add_signed(there.into())).map_or(away, |rise| rise.abs().min(away));
                let squared = square(height).wrapping_add(square(step));
                if squared < nearest {
                    (nearest, found) = (squared, there);
                }
            }
            step = step.wrapping_add(1);
        }
        *aside = found;
    }
}

/// For a run of any length: the columns of the lower envelope's parabolas, counted from its first pixel.
fn long_run(rise: &[i16], aside: &mut [i16], envelope: &mut Vec<Parabola>, ends: [bool; 2]) {
    let after = rise.len() as i32;
    envelope.clear();
    if ends[0] {
        envelope.push(Parabola { column: -1, height: 0, from: 0 });
    }
    for (x, rise) in (0_i32..).zip(rise) {
        if rise.abs() < FAR {
            let height = i64::from(*rise).wrapping_mul(i64::from(*rise));
            add(envelope, Parabola { column: x, height, from: 0 }, after);
        }
    }
    if ends[1] {
        add(envelope, Parabola { column: after, height: 0, from: 0 }, after);
    }
    if envelope.is_empty() {
        aside.fill(NOWHERE);
        return;
    }
    let mut rest = aside;
    let mut x = 0_i32;
    let ends = envelope.iter().skip(1).map(|next| next.from).chain([after]);
    for (part, end) in envelope.iter().zip(ends) {
        let (done, more) = rest.split_at_mut_checked(end.wrapping_sub(x) as usize).unwrap_or_default();
        for (x, aside) in (x..).zip(done) {
            *aside =
                i16::try_from(part.column.wrapping_sub(x)).ok().filter(|aside| NEAR.contains(aside)).unwrap_or(NOWHERE);
        }
        (rest, x) = (more, end);
    }
}

/// Adds a parabola to the right of all others.
fn add(envelope: &mut Vec<Parabola>, next: Parabola, last: i32) {
    while let Some(top) = envelope.last() {
        if top.at(top.from) > next.at(top.from) {
            envelope.pop();
            continue;
        }
        let from = top.until(&next).wrapping_add(1);
        if from < last {
            envelope.push(Parabola { from, ..next });
        }
        return;
    }
    envelope.push(next);
}
