//! Artwork: what a separation really covers, measured on its pixels ([`MEASURE`]); how much the dots of a halftone grow on the way from
//! film to print ([`TONE`]), and what the film must carry to make up for it ([`TONE_CURVE`]).
//!
//! Ink fills the pixels by their grey; an edge runs where they are half covered. From there: the printed area, the length of its
//! edges, the integral of `exp(-x / L)` over it, x the distance to the nearest edge ([`edge_share`](ArtworkMeasure::edge_share) of
//! [`ink`](crate::ink)), the finest line and gap, and whether it is a halftone: [`MEASURE`], [`measure`].
//!
//! How well, on pictures drawn from formulas. Edge lengths of discs within 1 % from a radius of 18 samples on, and of three pixels: 18
//! pixels in black and white, nine where two by two samples make four greys, three where there are 64. From less than 14 samples no
//! measure can: discs more than 2 % apart are one picture there. Black and white ones are within 0.6 % of a disc as large as what is
//! printed from a radius of six pixels on. Straight edges at any angle within 1 % where they are 200 pixels long, ends counted.
//! Corners off the rows up to 1.9 pixels short each or 1.3 long, those of a needle more; waves of 16 pixels up to 2 % short, of 12 up
//! to 3.5 %; details of one or two pixels up to a pixel a corner; gaps of 0.7 to 1.5 pixels askew, which fall apart into holes, up
//! to 14 % long or 30 % short. Edge shares within 4 %. Widths mostly too narrow, by up to 0.95 pixels in black and white and 0.65
//! where edges are smooth (1.6 where slim, or a corner); the widest place of a wedge by up to 2.9. A corner of 40 degrees and more is
//! no line, one of 30 seldom is; a slim taper runs out at a pixel or so. A bar across another, longer by less than its width to either
//! side, is as wide as the circle in their crossing. No measure changes by more than 1 % where the picture is turned by quarters, or
//! mirrored.
//!
//! A halftone is recognised by dots and holes of 8 to 200 a centimetre in square rows, if theirs are most of the edges; at half tone,
//! where they run together, from five pixels' pitch on. Its ruling is told within 3 %, there within 5 %, and its angle within two
//! degrees.

mod axis;
mod contour;
mod curve;
mod distance;
mod dots;
mod edges;
mod finest;
mod halftone;
mod measure;
mod measured;
mod picture;
mod step;
mod tone;
mod tone_curve;

pub use distance::Nearest;
pub use dots::{DotShape, dots_cover, dots_radius, film_tone, grown_tone};
pub use measure::{MEASURE, MeasureRequest, Workspace, measure, measure_bytes};
pub use measured::{ArtworkMeasure, Halftone, PicturePoint};
pub use picture::{InkIs, MOST_PIXELS, Picture, Side};
pub(crate) use tone::{GROWTH, shape};
pub use tone::{
    KEY_TONES, PrintedTone, TONE, ToneGrowth, ToneReading, ToneRequest, USUAL_GROWTH, key_tones, printed_share,
    usual_growth,
};
pub use tone_curve::{CurvePoint8, FilmTone, TONE_CURVE, ToneCurve, ToneCurveRequest};
