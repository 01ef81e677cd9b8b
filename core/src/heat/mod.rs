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

/// An error of the solver, which points into stages and layers, for a request that has a machine and materials instead.
pub(crate) fn in_terms_of(error: crate::error::Error, machine: &str, material: &str) -> crate::error::Error {
    let field = match error.field.as_str() {
        "/stages" => machine.to_owned(),
        "/layers" => material.to_owned(),
        _ => return error,
    };
    crate::error::Error { field, ..error }
}
