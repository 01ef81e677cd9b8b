//! Floodbar: calculations for people who print garments through a screen.
//!
//! A manual of the trade in the order in which a print is made, one module a step, each readable alone:
//!
//! 1. [`mesh`]: what the cloth of the screen holds, how fine it prints, whether a halftone beats against it.
//! 2. [`stencil`]: how far it stands over the mesh.
//! 3. [`exposure`]: how long it needs the light, and what the light takes from the art.
//! 4. [`artwork`]: what a separation really covers.
//! 5. [`ink`]: how thick it prints, how much a run needs.
//! 6. [`tension`]: whether the screens are a set, and what the gap under them does to the image.
//! 7. [`register`]: whether the colours meet.
//! 8. [`press`]: blades and frames, the cycle of a run, the blanks to start with.
//! 9. [`flash`]: how long under it, while the platens warm up.
//! 10. [`dryer`]: between which belt speeds a print is cured and not scorched.
//! 11. [`cure`]: whether a logged print got there.
//! 12. [`heat`]: the conduction solver under flash and dryer.
//! 13. [`wash`]: what fades, what peels, and what a wash test proves.
//! 14. [`job`]: the whole order, on one run sheet.
//!
//! Under all of them the ground floor ([`quantity`], [`error`], [`note`], [`source`], [`chance`], [`root`], [`stock`], [`wire`];
//! [`mod@unit`] converts); over all of them one [`catalogue`].
//!
//! Two ways in: typed, with quantities that cannot be mixed up ([`mesh::Mesh`], [`ink::wet_film`]), and by name with JSON
//! ([`calculate`]), the way the C, Python and JavaScript layers take.
//!
//! The numbers judge work with heat, ultraviolet light, fumes and moving machines. They never replace the maker's data
//! sheet, local rules or licensed practice.

pub mod artwork;
pub mod catalogue;
pub mod chance;
pub mod cloth;
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
pub mod root;
pub mod source;
pub mod stencil;
pub mod stock;
pub mod tension;
pub mod unit;
pub mod wash;
pub mod wire;

pub use catalogue::{calculate, calculate_text};
pub use error::{Code, Error};
