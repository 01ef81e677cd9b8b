//! Floodbar: calculations for people who print garments through a screen.
//!
//! A manual of the trade in the order in which a print is made, one module a step, each readable alone:
//!
//! 1. [`cloth`]: what is printed on.
//! 2. [`mesh`]: what the cloth of the screen holds, how fine it prints, whether a halftone beats against it.
//! 3. [`stencil`]: how far it stands over the mesh.
//! 4. [`exposure`]: how long it needs the light, and what the light takes from the art.
//! 5. [`artwork`]: what a separation really covers.
//! 6. [`ink`]: how thick it prints, how much a run needs.
//! 7. [`tension`]: whether the screens are a set, and what the gap under them does to the image.
//! 8. [`register`]: whether the colours meet.
//! 9. [`press`]: blades and frames, the cycle of a run, the blanks to start with.
//! 10. [`flash`]: how long under it, while the platens warm up.
//! 11. [`dryer`]: between which belt speeds a print is cured and not scorched.
//! 12. [`cure`]: whether a logged print got there.
//! 13. [`heat`]: the conduction solver under flash and dryer.
//! 14. [`wash`]: what fades, what peels, and what a wash test proves.
//! 15. [`job`]: the whole order, on one run sheet, and what to charge for it.
//! 16. [`shop`]: what a shop's own records teach of its numbers.
//!
//! Under all of them the ground floor ([`quantity`], [`error`], [`note`], [`source`], [`chance`], [`root`], [`fitting`],
//! [`propagation`], [`sharing`], [`money`], [`wire`];
//! [`mod@unit`] converts); over all of them one roof: the [`catalogue`] of calculations and the [`stock`] of built-in things.
//!
//! Two doors, the same checks behind both. Typed, with units that cannot be mixed up:
//!
//! ```
//! use floodbar::quantity::units::{CM2, G};
//! use floodbar::{ink, stock};
//!
//! let request = ink::UsageRequest::new()
//!     .mesh("55-64".parse()?)
//!     .ink(stock::ink("plastisol-white")?)
//!     .prints(240)
//!     .printed_area(CM2.of(460.0));
//! let usage = ink::USAGE.answer(&request)?;
//! println!("{:.0} g", G.value(usage.mass_to_mix));
//! for basis in usage.basis() {
//!     println!("{}: {}", basis.of, basis.source.text);
//! }
//! assert_eq!(ink::USAGE.answer(&request.prints(0)).unwrap_err().field, "/prints");
//! # Ok::<(), floodbar::Error>(())
//! ```
//!
//! And by name with JSON ([`calculate`]), the way the C, Python and JavaScript layers take. The formulas themselves, on
//! quantities and without a request, are functions of their steps ([`ink::wet_film`]).
//!
//! The numbers judge work with heat, ultraviolet light, fumes and moving machines. They never replace the maker's data
//! sheet, local rules or licensed practice.

mod air;
pub mod artwork;
pub mod catalogue;
pub mod chance;
pub mod cloth;
pub mod cure;
pub mod dryer;
pub mod error;
pub mod exposure;
pub mod fitting;
pub mod flash;
pub mod heat;
pub mod ink;
pub mod job;
pub mod mesh;
pub mod money;
pub mod note;
pub mod press;
pub mod propagation;
pub mod quantity;
pub mod register;
pub mod root;
pub mod sharing;
pub mod shop;
mod sorted;
pub mod source;
pub mod stencil;
pub mod stock;
pub mod tension;
pub mod unit;
pub mod wash;
pub mod wire;
pub mod work;

pub use catalogue::{
    Cache, Prepared, calculate, calculate_many, calculate_many_text, calculate_text, prepare, solve, sweep,
};
pub use error::{Code, Error};
/// The units of measurement under [`quantity`], in the version that its types are of.
pub use uom;
