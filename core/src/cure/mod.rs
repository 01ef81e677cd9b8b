//! Cure: what an ink film must reach and for how long, whether a logged print got there, and which hold at another
//! temperature is worth the same.

mod assess;
mod equivalent;
mod kinetics;

pub use assess::{ASSESS, AssessRequest, Assessed, Measured, Verdict, assess};
pub use equivalent::{
    EQUIVALENT, Equivalent, EquivalentRequest, Held, HeldTo, activation_energy, equivalent, equivalent_hold,
    equivalent_temperature,
};
pub use kinetics::{Reading, equivalent_time, rate, time_at_or_above};

use crate::quantity::{Rules, Temperature, Time, units};
use crate::source::Source;
use crate::wire::request;

/// Temperatures of inks, cloth and machines.
pub(crate) const HEAT: Rules = Rules::range(units::DEG_C, -40.0, 1500.0).usual(0.0, 700.0);
/// Times under heat.
pub(crate) const HOLD: Rules = Rules::range(units::S, 0.0, 86_400.0).usual(0.0, 900.0);
/// Activation energies of cures.
pub(crate) const ENERGY: Rules = Rules::range(units::KJ_PER_MOL, 1.0, 1000.0).usual(30.0, 300.0);

const ARRHENIUS: Source = Source::physics("Arrhenius law: the rate of a cure goes with exp(-Ea / (R T)), T in kelvin");
const GAS_CONSTANT: Source =
    Source::standard("SI brochure, 9th edition (2019): R = 8.31446261815324 J/(mol.K), exact by definition");

request! {
    /// When an ink counts as cured.
    pub struct Cure {
        /// The temperature that the whole film must reach.
        temperature: Temperature where HEAT,
        /// How long it must stay there; 0 s for an ink that is cured once it gets there.
        hold: Time where HOLD,
        /// Whether the clock starts only when the film is dry.
        after_dry: bool,
    }
}
