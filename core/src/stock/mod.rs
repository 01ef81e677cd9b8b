//! Built-in materials and machines, for a user who has measured nothing yet.
//!
//! One JSON file a kind stands beside this file. Each row is a named thing; each value stands with the kind and the name
//! of its source. A request takes a stock item by name, or `{"from": "name", ...}` with some values replaced, or gives the
//! whole object itself. In Rust: [`ink`] and its fellows, whose methods replace values.
//!
//! ```
//! use floodbar::quantity::units::G_PER_CM3;
//! let ink = floodbar::stock::ink("plastisol-white")?.density(G_PER_CM3.of(1.40));
//! assert_eq!(ink.called("own"), "plastisol-white (density changed)");
//! // A value that is taken out is a change as well.
//! let cloth = floodbar::stock::cloth("polyester-jersey-150")?.dye(None);
//! assert_eq!(cloth.called("own"), "polyester-jersey-150 (dye changed)");
//! # Ok::<(), floodbar::Error>(())
//! ```

mod list;

use crate::cloth::Cloth;
use crate::dryer::Dryer;
use crate::error::Error;
use crate::flash::{Flash, Platen};
use crate::ink::Ink;
#[cfg(feature = "whole")]
use crate::job::Rates;
use crate::job::Shop;
use crate::mesh::StockMesh;
use crate::press::Press;
use crate::register::Cause;
use crate::wire::{Declared, Table};
pub use list::{LIST, ListRequest, StockBasis, StockKind, StockList, StockRow, StockShelf};

macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $(#[cfg($cfg:meta)])? $name:ident: $type:ty;)*) => {
        $(
            $(#[doc = $doc])*
            $(#[cfg($cfg)])?
            ///
            /// # Errors
            /// `out_of_range` for a name that is not in stock.
            pub fn $name(name: &str) -> Result<$type, Error> {
                <$type>::in_stock(name)
            }
        )*

        /// Every kind of thing in stock.
        pub static KINDS: &[&Table] = &[$($(#[cfg($cfg)])? <$type as Declared>::TABLE),*];
    };
}

kinds! {
    /// An ink of the stock.
    ink: Ink;
    /// A cloth of the stock.
    cloth: Cloth;
    /// A press of the stock.
    press: Press;
    /// A flash of the stock.
    flash: Flash;
    /// A platen of the stock.
    platen: Platen;
    /// A dryer of the stock.
    dryer: Dryer;
    /// A shop of the stock: the machines and habits that stand in for one's own.
    shop: Shop;
    /// A cause of misregister of the stock.
    cause: Cause;
    /// A mesh of the stock: what the trade sells under a count.
    mesh: StockMesh;
    /// Rates of the stock: invented to start with. With the feature `whole`, as what asks for them.
    #[cfg(feature = "whole")]
    rates: Rates;
}
