//! Cure: what an ink film must reach and for how long, whether a logged print got there, and which hold at another
//! temperature is worth the same.
//!
//! - [`ASSESS`]: the time at or above the cure temperature, or with an activation energy the integral of
//!   `exp(-(Ea / R) (1 / T - 1 / T_cure))` over the log.
//! - [`EQUIVALENT`]: `hold' = hold x exp((Ea / R) (1 / T' - 1 / T))`, T in kelvin.

mod assess;
mod equivalent;
mod kinetics;

pub use crate::flash::ProbeDepth;
pub use assess::{ASSESS, AssessRequest, CureAssessed, CureVerdict};
pub use equivalent::{
    EQUIVALENT, Equivalent, EquivalentRequest, Held, HeldTo, activation_energy, equivalent_hold, equivalent_temperature,
};
pub use kinetics::{LogReading, equivalent_time, rate, time_at_or_above};

use crate::source::Source;

const ARRHENIUS: Source = Source::physics("Arrhenius law: the rate of a cure goes with exp(-Ea / (R T)), T in kelvin");
const GAS_CONSTANT: Source =
    Source::standard("SI brochure, 9th edition (2019): R = 8.31446261815324 J/(mol.K), exact by definition");
