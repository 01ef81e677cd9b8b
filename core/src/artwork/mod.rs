//! Artwork: what a separation really covers, measured on its pixels.
//!
//! Ink fills the pixels by their grey; an edge runs where they are half covered. From there: the printed area, the length of
//! its edges, the share of it that lies near an edge ([`edge_share`](Measured::edge_share)), the finest line and gap.

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
