//! Floodbar: calculations for people who print garments through a screen.
//!
//! One module a trade step, in the order in which a print is made, each readable alone; under all of them the ground floor
//! ([`quantity`], [`error`], [`note`], [`source`], [`chance`], [`stock`], [`wire`]); over all of them one [`catalogue`].
//!
//! Two ways in: typed, with quantities that cannot be mixed up ([`mesh::Mesh`], [`ink::wet_film`]), and by name with JSON
//! ([`calculate`]), the way the C, Python and JavaScript layers take.
//!
//! The numbers judge work with heat, ultraviolet light, fumes and moving machines. They never replace the maker's data
//! sheet, local rules or licensed practice.

pub mod artwork;
pub mod catalogue;
pub mod chance;
pub mod cure;
pub mod dryer;
pub mod error;
pub mod exposure;
pub mod flash;
pub mod heat;
pub mod ink;
pub mod job;
pub mod mesh;
pub mod note;
pub mod press;
pub mod quantity;
pub mod register;
pub mod source;
pub mod stencil;
pub mod stock;
pub mod tension;
pub mod unit;
pub mod wash;
pub mod wire;

pub use catalogue::{calculate, calculate_text};
pub use error::{Code, Error};
