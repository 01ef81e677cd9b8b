//! The exact distance transform: for each pixel of one side the nearest pixel of the other.
//!
//! Two passes, each linear in the pixels (Meijster, Roerdink and Hesselink 2000, "A general algorithm for computing distance
//! transforms in linear time"; Felzenszwalb and Huttenlocher 2012, "Distance transforms of sampled functions"): first the
//! nearest within the column, then along each row the lower envelope of the parabolas (x - i)^2 + rise(i)^2. A run of pixels of
//! one side ends at pixels of the other, nearer than anything beyond them: each run has its own envelope, and a short one is
//! sooner looked through.

use super::picture::{Picture, Side, printed, room};
use crate::error::Error;

/// Beyond any picture, and far from overflowing when a picture's side is added.
const FAR: i32 = 1 << 28;

/// Runs of no more pixels than this are looked through pixel by pixel.
const SHORT: usize = 24;

/// The nearest pixel of the other side, for each pixel of one side. To be reused from picture to picture.
///
/// Around the picture lies bare cloth: it is near to printed pixels, and no print is near beyond the border.
#[derive(Debug, Clone, Default)]
pub struct Nearest {
    wide: usize,
    /// How far above, in pixels, the nearest of the other side stands in the same column (below: negative); 0 on the other side.
    rise: Vec<i32>,
    /// The column in which the nearest of all stands.
    column: Vec<i32>,
    carry: Vec<i32>,
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

impl Nearest {
    /// Finds the nearest pixels of the other side, for all pixels of `side`.
    ///
    /// # Errors
    /// `too_long` where there is no memory for eight bytes a pixel.
    pub fn find(&mut self, picture: &Picture<'_>, side: Side) -> Result<(), Error> {
        let count = picture.wide().saturating_mul(picture.high());
        self.wide = picture.wide();
        // What stands beyond the first and the last row.
        let outside = if side == Side::Printed { 0 } else { FAR };
        for (plane, length) in [(&mut self.rise, count), (&mut self.column, count), (&mut self.carry, picture.wide())] {
            // What an earlier picture left behind is written over, or belongs to pixels that are not asked about.
            room(plane, length)?;
            plane.resize(length, 0);
        }
        self.carry.fill(outside);
        let inside = side == Side::Printed;
        let step = |level: u8, carry: i32| if printed(level) == inside { carry.wrapping_add(1) } else { 0 };
        for (row, rise) in picture.rows().zip(self.rise.chunks_exact_mut(self.wide)) {
            for ((level, carry), rise) in row.levels().zip(&mut self.carry).zip(rise) {
                *carry = step(level, *carry);
                *rise = *carry;
            }
        }
        self.carry.fill(outside);
        let rows = self.rise.chunks_exact_mut(self.wide).zip(self.column.chunks_exact_mut(self.wide));
        for (pixels, (rise, column)) in picture.rows().zip(rows).rev() {
            for ((level, carry), rise) in pixels.levels().zip(&mut self.carry).zip(&mut *rise) {
                *carry = step(level, *carry);
                *rise = if *carry < *rise { carry.wrapping_neg() } else { *rise };
            }
            row(rise, column, &mut self.envelope, side);
        }
        Ok(())
    }

    fn cell(&self, x: i32, y: i32) -> Option<usize> {
        let (x, y) = (usize::try_from(x).ok()?, usize::try_from(y).ok()?);
        (x < self.wide).then(|| y.wrapping_mul(self.wide).wrapping_add(x))
    }

    /// The nearest pixel of the other side; none for a pixel that is on the other side itself, or where there is none.
    #[must_use]
    pub fn site(&self, x: i32, y: i32) -> Option<(i32, i32)> {
        let cell = self.cell(x, y)?;
        if *self.rise.get(cell)? == 0 {
            return None;
        }
        let column = *self.column.get(cell)?;
        let rise = self.cell(column, y).map_or(Some(0), |at| self.rise.get(at).copied())?;
        (rise.abs() < FAR).then(|| (column, y.wrapping_sub(rise)))
    }

    /// The squared distance to it, in pixels; 0 for a pixel on the other side, and outside the picture.
    #[must_use]
    pub fn squared(&self, x: i32, y: i32) -> i64 {
        self.site(x, y).map_or(0, |(column, row)| {
            let (across, down) = (i64::from(column).wrapping_sub(x.into()), i64::from(row).wrapping_sub(y.into()));
            across.wrapping_mul(across).wrapping_add(down.wrapping_mul(down))
        })
    }

    /// All distances, in pixels, row by row; 0 on the other side, infinite where there is no other side.
    pub fn distances(&self) -> impl Iterator<Item = f32> + '_ {
        self.rise.chunks_exact(self.wide.max(1)).zip(self.column.chunks_exact(self.wide.max(1))).flat_map(
            |(rise, column)| {
                (0_i32..).zip(rise.iter().zip(column)).map(move |(x, (own, column))| {
                    if *own == 0 {
                        return 0.0;
                    }
                    let rise = usize::try_from(*column).ok().and_then(|at| rise.get(at)).copied().unwrap_or(0);
                    if rise.abs() >= FAR {
                        return f32::INFINITY;
                    }
                    let across = f64::from(x.wrapping_sub(*column));
                    let rise = f64::from(rise);
                    (across * across + rise * rise).sqrt() as f32
                })
            },
        )
    }
}

/// The column of the nearest, for each pixel of a row.
fn row(rise: &[i32], column: &mut [i32], envelope: &mut Vec<Parabola>, side: Side) {
    let wide = rise.len();
    let mut begin = 0;
    while let Some(skip) = rise.get(begin..).and_then(|rest| rest.iter().position(|rise| *rise != 0)) {
        begin = begin.saturating_add(skip);
        let length = rise.get(begin..).map_or(0, |rest| rest.iter().position(|rise| *rise == 0).unwrap_or(rest.len()));
        let end = begin.saturating_add(length);
        let (Some(rise), Some(column)) = (rise.get(begin..end), column.get_mut(begin..end)) else { return };
        let Ok(first) = i32::try_from(begin) else { return };
        // Whether pixels of the other side stand at either end.
        let ends = [begin > 0 || side == Side::Printed, end < wide || side == Side::Printed];
        if length <= SHORT && ends == [true; 2] {
            short_run(first, rise, column);
        } else {
            long_run(first, rise, column, envelope, ends);
        }
        begin = end;
    }
}

/// The columns of the nearest, for a short run with pixels of the other side at both ends: looked for outwards from each pixel. No
/// column as far away as the nearest pixel so far holds a nearer one, and neither end is farther than half the run.
fn short_run(first: i32, rise: &[i32], column: &mut [i32]) {
    let square = |length: i32| length.wrapping_mul(length);
    let after = first.wrapping_add(rise.len() as i32);
    for (at, (x, (own, column))) in (first..).zip(rise.iter().zip(column)).enumerate() {
        let (left, right) = (x.wrapping_sub(first).wrapping_add(1), after.wrapping_sub(x));
        let (away, end) = if left <= right { (left, left.wrapping_neg()) } else { (right, right) };
        let (mut nearest, mut aside) = if own.abs() <= away { (square(*own), 0) } else { (square(away), end) };
        let mut step = 1_i32;
        while square(step) < nearest {
            for there in [step.wrapping_neg(), step] {
                let height = rise.get(at.wrapping_add_signed(there as isize)).map_or(away, |rise| rise.abs().min(away));
                let squared = square(height).wrapping_add(square(step));
                if squared < nearest {
                    (nearest, aside) = (squared, there);
                }
            }
            step = step.wrapping_add(1);
        }
        *column = x.wrapping_add(aside);
    }
}

/// The columns of the nearest, for a run of any length: those of the lower envelope's parabolas.
fn long_run(first: i32, rise: &[i32], column: &mut [i32], envelope: &mut Vec<Parabola>, ends: [bool; 2]) {
    let after = first.wrapping_add(rise.len() as i32);
    envelope.clear();
    if ends[0] {
        envelope.push(Parabola { column: first.wrapping_sub(1), height: 0, from: first });
    }
    for (x, rise) in (first..).zip(rise) {
        if rise.abs() < FAR {
            let height = i64::from(*rise).wrapping_mul(i64::from(*rise));
            add(envelope, Parabola { column: x, height, from: first }, after);
        }
    }
    if ends[1] {
        add(envelope, Parabola { column: after, height: 0, from: first }, after);
    }
    // Where there is none at all, the first pixel of the run is as far from any as all others.
    let mut rest = column;
    let mut nearest = first;
    let mut from = first;
    for part in envelope.iter() {
        let (done, more) = rest.split_at_mut_checked(part.from.wrapping_sub(from) as usize).unwrap_or_default();
        done.fill(nearest);
        (rest, nearest, from) = (more, part.column, part.from);
    }
    rest.fill(nearest);
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
