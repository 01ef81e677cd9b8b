//! Heat: conduction through layers, with faces that convect, radiate and dry.
//!
//! One dimension, top to bottom: ink film, cloth, platen. The method, in the order of its files:
//!
//! 1. **Matter** ([`layers`](Layer)), **faces** ([`FaceRequest`]) and `water`: what the equations hold. Each layer conducts by Fourier's
//!    law; a face without heat capacity meets air, a panel, a flux, or is held; water leaves a wet film through the top face, and
//!    bound water leaves a cell of cloth by the cell's heat content.
//! 2. `grid`: finite volumes, small at the faces and at the joint between a print and its platen, growing by the distance that heat has
//!    to go. Conductances between cells are those of two halves in series, so the error falls with the square of the cells.
//! 3. `stack`: the nodes, from both faces to the middle, two at a time (`halves`). The equations are those of an index-1 system:
//!    `C dT/dt = flux in - flux out` in the cells, `0 = heat met - heat conducted` at the faces.
//! 4. `method` and `step`: RODAS4P2, a linearly implicit Runge-Kutta method of order 4 (Steinebach 2020, after Rosenbrock, Comput.
//!    J. 5 (1963) 329, and Hairer and Wanner). Six stages, each solved by the same factored rows of three elements; no iteration. A cell
//!    with bound water, or with water of the film, is stepped in heat content, whose increments are the rows' own, so that the energies
//!    of the steps add up to what is stored, whatever the step's error.
//! 5. `pace`: how long the next step is, so that each errs by half of the tolerance at most, as its companion of order 3 tells (Gustafsson 1994);
//!    a cell that binds water by itself by more, since what it is off while it begins or ends to release it, its neighbours hardly see.
//! 6. `march` and `path`: steps from stage to stage, and what each looks like inside. A step is told as a polynomial of third order, so
//!    events (gel, cure, a limit, dryness) are found, and a march is taken up again, at any moment of it.
//!
//! All marches of an evaluation draw on one budget of work ([`crate::work`]). The solver knows no request: its refusals are worded by its
//! callers.

mod faces;
mod grid;
mod halves;
mod lay;
mod layers;
mod march;
mod method;
mod pace;
mod path;
mod refusal;
mod solve;
mod stack;
mod step;
mod water;

pub use faces::FaceRequest;
pub(crate) use faces::{Face, ROOM_HUMIDITY};
pub(crate) use layers::Slab;
pub use layers::{AirFace, Layer};
pub(crate) use march::{Mark, Problem, Solver, Span, Stage, step_errors};
pub(crate) use path::{Path, Place, rises};
pub(crate) use refusal::Refusal;
pub use solve::{EnergyBalance, LAYERS, LayersRequest, StageRequest, Temperatures};
pub(crate) use water::WATER_SPECIFIC_HEAT;

/// The solver in bare SI numbers, for the project's own tests and benchmarks. Nothing of it is promised.
#[cfg(feature = "internals")]
pub mod internals {
    pub use super::faces::Face;
    pub use super::layers::Slab;
    pub use super::march::{Energy, Mark, Problem, Solver, Span, Stage};
    pub use super::path::{Path, Place, rises};
    pub use super::refusal::Refusal;
    pub use super::water::WATER_SPECIFIC_HEAT;
    pub use crate::air::{latent_heat, saturation_pressure};
    pub use crate::work::Work;
}
