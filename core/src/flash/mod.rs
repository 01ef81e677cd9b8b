//! The flash: gels a print on the press so that the next colour does not pick it up.
//!
//! On the conduction solver [`heat`](crate::heat), film, cloth and platen:
//!
//! - [`DWELL_TIME`]: least, when the film's bottom gels; most, when its top or the cloth gets too hot; `1.1 x least` between.
//! - [`RUN`]: the same, turn after turn of the carousel, while the platens warm up.

mod dwell;
mod round;
mod run;

pub(crate) use dwell::START;
pub use dwell::{DWELL_TIME, DwellRequest, FlashDwell, FlashVerdict, dwell};
pub use run::{FlashRun, FlashRunRequest, RUN, Rotation, run};

use crate::heat::{AirFace, Layer};
use crate::quantity::{
    EXCHANGE, FLASH_DWELL, HEAT, HeatTransfer, Irradiance, Rules, TRANSFER, Temperature, Time, units,
};
use crate::stock::in_stock;
use crate::wire::request;

const FLUX: Rules = Rules::range(units::KW_PER_M2, 0.0, 1000.0).usual(0.0, 200.0);

request! {
    /// A flash unit.
    pub struct Flash {
        /// Temperature of a radiant panel.
        panel: Option<Temperature> where HEAT,
        /// Share of black-body exchange between panel and print.
        exchange_fraction: Option<f64> where EXCHANGE,
        /// Heat flux that the print takes up from lamps.
        flux: Option<Irradiance> where FLUX,
        /// Air over the print.
        air: Option<Temperature> where HEAT,
        /// Convection coefficient over the print.
        transfer: Option<HeatTransfer> where TRANSFER,
        /// The dwell that shops use.
        customary_dwell: Time where FLASH_DWELL,
    }
}
in_stock!(Flash, "flash", "../stock/flashes.json");

request! {
    /// What a shirt lies on while it is printed.
    pub struct Platen {
        /// From the shirt down.
        layers: Vec<Layer>,
        /// Its lower face.
        underside: AirFace,
    }
}
in_stock!(Platen, "platen", "../stock/platens.json");
