//! Artwork: what a separation really covers, measured on its pixels.
//!
//! Ink fills the pixels by their grey; an edge runs where they are half covered. From there: the printed area, the length of its
//! edges, the integral of `exp(-x / L)` over it, x the distance to the nearest edge ([`edge_share`](Measured::edge_share) of
//! [`ink`](crate::ink)), the finest line and gap, and whether it is a halftone: [`MEASURE`], [`measure`].
//!
//! How well, on pictures drawn from formulas: edge lengths within 1 % on straight edges at any angle and on discs, from eight
//! pixels of radius where edges are smooth and from twelve in black and white (where a disc of eight is itself up to 2 % another,
//! and off by up to 2.7 %); edge shares within 3.5 %; widths mostly too narrow, by up to a pixel in black and white and 0.6 where edges
//! are smooth.

mod contour;
mod distance;
mod edges;
mod finest;
mod halftone;
mod measure;
mod measured;
mod picture;
mod straight;

pub use distance::Nearest;
pub use measure::{MEASURE, Measure, MeasureRequest, Place, Workspace, measure, measure_bytes, measure_numbers};
pub use measured::{Halftone, Ignored, Measured};
pub use picture::{InkIs, MOST_PIXELS, Picture, Side};
