//! The grid: cells that are small at faces and joints, where temperatures bend, and grow away from them.

use super::layers::Slab;
use crate::root::bisect;

/// A cell is larger than its neighbour by at most this share, at a fineness of 1.
const GROWTH: f64 = 0.03;
/// Size of the cell at a face or joint, as a share of how far heat gets in the shortest time of interest.
const FINE: f64 = 0.045;
/// Least cells of a layer, at a fineness of 1.
const LEAST: f64 = 10.0;

/// Sizes of the cells of a layer of this thickness, from face to face: symmetric, graded towards both ends.
///
/// `reach` is how far heat gets in the shortest time of interest, sqrt(diffusivity x time). The error in temperature falls
/// with the square of `fineness`, which makes cells smaller and their growth slower; `refinement` divides every cell.
pub(super) fn cells(slab: &Slab, reach: f64, fineness: f64, refinement: f64, out: &mut Vec<f64>) {
    let half = slab.thickness / 2.0;
    let growth = 1.0 + GROWTH / fineness;
    // No finer than a millionth of the layer: the time steps would not notice.
    let fine = (FINE * reach / fineness).max(slab.thickness * 1e-6).min(slab.thickness / (LEAST * fineness));
    // Cells from the end to the middle of a geometric series that starts at `fine`.
    let count =
        (libm::log(1.0 + half * (growth - 1.0) / fine) / libm::log(growth)).ceil().max((LEAST / 2.0 * fineness).ceil());
    let pieces = refinement.max(1.0).round();
    let ratio = ratio(half / fine, count as u32, growth);
    let count = count as u32;
    let first = half / series(ratio, count);
    let sizes = (0..count).chain((0..count).rev()).map(|index| first * power(ratio, index));
    for size in sizes {
        out.extend((0..pieces as u32).map(|_| size / pieces));
    }
}

/// The ratio, at most `most`, of a geometric series of `count` terms, the first being 1, that adds up to `sum`; 1 where it is shorter.
fn ratio(sum: f64, count: u32, most: f64) -> f64 {
    if sum <= f64::from(count) {
        return 1.0;
    }
    // To a hundred-millionth: what is left over is spread over all terms.
    let (low, high) = bisect(1.0, most, 24, |ratio| series(ratio, count) < sum);
    low.midpoint(high)
}

/// 1 + ratio + ratio^2 + ..., so many terms.
fn series(ratio: f64, count: u32) -> f64 {
    (0..count).fold(0.0, |sum, _| 1.0 + ratio * sum)
}

/// The ratio to a whole power.
fn power(ratio: f64, times: u32) -> f64 {
    (0..times).fold(1.0, |product, _| product * ratio)
}
