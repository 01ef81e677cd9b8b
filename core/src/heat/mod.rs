//! Heat: conduction through layers, with faces that convect, radiate and dry.
//!
//! One dimension, top to bottom: ink film, cloth, platen. To be read in this order: layers, faces, water, the grid, one step, the
//! pace, the march.

mod faces;
mod grid;
mod layers;
mod march;
mod pace;
mod solve;
mod step;
mod water;

pub use faces::FaceRequest;
pub(crate) use faces::{Face, ROOM_HUMIDITY};
pub(crate) use layers::Slab;
pub use layers::{AirFace, Layer};
pub(crate) use march::{Energy, Instant, Mark, Problem, Solver, Span, Stage};
pub use solve::{EnergyBalance, LAYERS, LayersRequest, StageRequest, Temperatures};
pub(crate) use water::WATER_SPECIFIC_HEAT;

/// The solver in bare SI numbers, for the project's own tests and benchmarks. Nothing of it is promised.
#[cfg(feature = "internals")]
pub mod internals {
    pub use super::faces::Face;
    pub use super::layers::Slab;
    pub use super::march::{Energy, Instant, Mark, Problem, Solver, Span, Stage};
    pub use super::water::{WATER_SPECIFIC_HEAT, latent_heat, saturation_pressure};
}

/// An error of the solver, which points into stages and layers, for a request that has a machine and materials instead.
pub(crate) fn in_terms_of(error: crate::error::Error, machine: &str, material: &str) -> crate::error::Error {
    let field = match error.field.as_str() {
        "/stages" => machine.to_owned(),
        "/layers" => material.to_owned(),
        _ => return error,
    };
    crate::error::Error { field, ..error }
}
