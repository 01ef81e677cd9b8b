//! Artwork: what a separation really covers, measured on its pixels.
//!
//! Ink fills the pixels by their grey; an edge runs where they are half covered. From there: the printed area, the length of its
//! edges, the integral of `exp(-x / L)` over it, x the distance to the nearest edge ([`edge_share`](Measured::edge_share) of
//! [`ink`](crate::ink)), the finest line and gap, and whether it is a halftone: [`MEASURE`], [`measure`].
//!
//! How well, on pictures drawn from formulas. Edge lengths: smooth edges within 1 % on discs from eight pixels of radius; black and
//! white within 1 % on strips at any angle, on discs from twelve pixels about most middles, but up to 4.6 % off on discs about the
//! middle or the corner of a pixel, and up to 12 % short on short sides between steps that go the same way (the arms of a plus, the
//! treads of a stair). Edge shares within 4 %. Widths mostly too narrow, by up to a pixel in black and white and 0.8 where edges are
//! smooth; the widest place of a wedge by up to 2.3.

mod contour;
mod distance;
mod edges;
mod finest;
mod halftone;
mod measure;
mod measured;
mod picture;

pub use distance::Nearest;
pub use measure::{MEASURE, Measure, MeasureRequest, Place, Workspace, measure, measure_bytes, measure_numbers};
pub use measured::{Halftone, Ignored, Measured};
pub use picture::{InkIs, MOST_PIXELS, Picture, Side};
