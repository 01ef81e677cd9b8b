//! Cure: what an ink film must reach, and for how long.

use crate::quantity::{Rules, Temperature, Time, units};
use crate::wire::request;

/// Temperatures of inks, cloth and machines.
pub(crate) const HEAT: Rules = Rules::range(units::DEG_C, -40.0, 1500.0).usual(0.0, 700.0);
/// Times under heat.
pub(crate) const HOLD: Rules = Rules::range(units::S, 0.0, 86_400.0).usual(0.0, 900.0);

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
