//! The flash: gels a print on the press so that the next colour does not pick it up.
//!
//! On the conduction solver [`heat`](crate::heat), film, cloth and platen:
//!
//! - [`DWELL_TIME`]: least, when the film's bottom gels; most, when its top or the cloth gets too hot; `1.1 x least` between.
//! - [`RUN`]: the same, turn after turn of the carousel, while the platens warm up.

mod dwell;
pub(crate) mod print;
mod round;
mod run;
mod turns;

pub use dwell::{DWELL_TIME, FlashDwell, FlashDwellRequest, FlashVerdict};
pub use print::Profile;
pub use run::{FlashRun, FlashRunRequest, RUN, Rotation};

use crate::heat::{AirFace, Layer};
use crate::quantity::{
    EXCHANGE, FLASH_DWELL, HEAT, HeatTransfer, Irradiance, Length, Rank, Rules, TRANSFER, Temperature, Time, units,
};
use crate::wire::request;

/// Sides of a platen.
const SIDE: Rules = Rules::range(units::MM, 10.0, 5_000.0).usual(80.0, 1_200.0);
const FLUX: Rules = Rules::range(units::KW_PER_M2, 0.0, 1000.0).usual(0.0, 200.0);

request! {
    /// A flash unit.
    pub struct Flash {
        /// Temperature of a radiant panel.
        panel "Panel temperature": Option<Temperature> where HEAT.rank(Rank::First),
        /// Share of black-body exchange between panel and print.
        exchange_fraction "Panel exchange share": Option<f64> where EXCHANGE.rank(Rank::First),
        /// Heat flux that the print takes up from lamps.
        flux "Lamp heat flux": Option<Irradiance> where FLUX.rank(Rank::First),
        /// Temperature of the air over the print.
        air "Air temperature": Option<Temperature> where HEAT,
        /// Convection coefficient over the print.
        transfer "Heat transfer": Option<HeatTransfer> where TRANSFER,
        /// The dwell that shops use.
        customary_dwell "Usual flash dwell": Time where FLASH_DWELL,
    }
    stock("flash", "../stock/flashes.json")
}

request! {
    /// What a shirt lies on while it is printed.
    pub struct Platen {
        /// The layers, from the shirt down.
        layers "Layers": Vec<Layer>,
        /// What the platen's lower face meets.
        underside "Underside": AirFace,
        /// Width of the platen, across the stroke.
        width "Platen width": Option<Length> where SIDE,
        /// Length of the platen, along the stroke.
        length "Platen length": Option<Length> where SIDE,
    }
    stock("platen", "../stock/platens.json")
}
