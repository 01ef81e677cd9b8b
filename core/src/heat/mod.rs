//! Heat: conduction through layers, with faces that convect, radiate and dry.
//!
//! One dimension, top to bottom: ink film, cloth, platen. To be read in this order: the [`layers`], the [`faces`], the
//! [`water`], the grid, one step, the pace, the march.

pub mod faces;
mod grid;
pub mod layers;
mod march;
mod pace;
pub mod print;
mod solve;
mod step;
pub mod water;

pub use faces::{Face, FaceRequest};
pub use layers::{AirFace, Layer};
pub use march::{Energy, Instant, Mark, Problem, Solver, Span, Stage};
pub use print::Print;
pub use solve::{EnergyBalance, LAYERS, LayersRequest, StageRequest, Temperatures};
