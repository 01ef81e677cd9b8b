//! Ink: what it is, how thick it prints, how much a run needs.
//!
//! - [`DEPOSIT`]: `wet = hits x (1 + stroke_gain (strokes - 1)) x release x (ink_volume + over_mesh x e)`, where the share e of the
//!   stencil is `-(2 L / W) expm1(-W / (2 L))` for a strip of width W, 0 for a wide solid; `dry = wet x solids by volume`: [`wet_film`].
//! - [`USAGE`]: `mass = area x wet film x density` a print, with waste and what stays in the screen.
//! - [`WEIGH`]: the same formula turned round, for the release from a weighing.
//! - [`MIX`]: parts, and pots no larger than lasts.

mod deposit;
mod mix;
mod usage;
mod weigh;

pub(crate) use deposit::HITS;
pub use deposit::{
    DEPOSIT, Deposit, DepositRequest, Film, deposit, dry_film, edge_share_of_area, edge_share_of_width, laid_down,
    wet_film,
};
pub use mix::{MIX, Mix, MixRequest, Part, Pot, mix, pots};
pub(crate) use usage::{COVERAGE, LEFT, SIDE, WASTE};
pub use usage::{USAGE, Usage, UsageRequest, mass_per_print, usage};

pub use weigh::{WEIGH, Weigh, WeighRequest, weigh};

use crate::error::Error;
use crate::quantity::{
    Density, Dimension, Dimensioned, ENERGY, HEAT, HOLD, MolarEnergy, Rules, Temperature, Time, units,
};
use crate::stock::in_stock;
use crate::wire::{At, Input, Remarks, measure, request, within};
use serde_json::Value;

const DENSITY: Rules = Rules::range(units::G_PER_CM3, 0.1, 25.0).usual(0.9, 2.5);
const SHARE: Rules = Rules::range(units::ONE, 1e-4, 1.0);
/// Share of water by mass; something is left when it is gone.
const WATER: Rules = Rules::range(units::ONE, 0.0, 0.99);
const RELEASE: Rules = Rules::range(units::ONE, 0.01, 1.0).usual(0.25, 0.65);
const STROKE_GAIN: Rules = Rules::range(units::ONE, 0.0, 2.0).usual(0.0, 0.5);
/// Strokes of one kind over one print.
pub(crate) const STROKES: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 4.0);
/// Floods over one print; none is possible.
pub(crate) const FLOODS: Rules = Rules::range(units::ONE, 0.0, 100.0).usual(0.0, 4.0);
const DWELL: Rules = Rules::range(units::S, 1.0, 86_400.0).usual(10.0, 900.0);
const POT_LIFE: Rules = Rules::range(units::MIN, 1.0, 1e6).usual(15.0, 10_000.0);
const ADDITIVE: Rules = Rules::range(units::ONE, 0.0, 1.0).usual(0.0, 0.3);

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

/// When a film under the flash is firm enough for the next colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gel {
    /// At this temperature.
    At(Temperature),
    /// When its water is gone.
    Dry,
}

impl Input for Gel {
    fn read(value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        if value.as_str() == Some("dry") {
            return Ok(Self::Dry);
        }
        let read = measure(value, at, Dimension::Temperature)?;
        within(read, value, at, &HEAT, remarks).map(|si| Self::At(Temperature::from_si(si)))
    }
    fn wanted() -> String {
        "an absolute temperature, such as 115 degC, or the word dry".into()
    }
    #[cfg(feature = "schema")]
    fn schema(_rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let temperature = Temperature::schema(&HEAT, generator);
        schemars::json_schema!({ "anyOf": [{ "const": "dry" }, temperature] })
    }
}

request! {
    /// Something stirred into an ink before use.
    pub struct Additive {
        /// What it is.
        name: String,
        /// Its mass over the mass of the ink.
        fraction: f64 where ADDITIVE,
    }
}

request! {
    /// An ink.
    pub struct Ink {
        /// Mass per volume, wet.
        density: Density where DENSITY,
        /// Water, by mass.
        water_fraction: f64 where WATER,
        /// What stays when it is dry, by volume; not the same as by mass.
        solids_by_volume_fraction: f64 where SHARE,
        /// Share of the mesh's volume that one print stroke lays down.
        release_fraction: f64 where RELEASE,
        /// Flood strokes before the print strokes.
        flood_strokes: u32 where FLOODS,
        /// Print strokes of one hit.
        print_strokes: u32 where STROKES,
        /// What each further print stroke adds, as a share of the first.
        stroke_gain_fraction: f64 where STROKE_GAIN,
        /// When the film is firm enough for the next colour.
        gel: Gel,
        /// When it is cured.
        cure: Cure,
        /// Activation energy of the cure, for an ink that has one.
        activation_energy: Option<MolarEnergy> where ENERGY,
        /// It fumes, scorches or turns sticky above this.
        never_above: Temperature where HEAT,
        /// Cured under the flash above this: the next colour flakes off.
        flash_never_above: Temperature where HEAT,
        /// The dwell in a dryer that shops use.
        customary_dwell: Time where DWELL,
        /// How long it stays usable once mixed.
        pot_life: Option<Time> where POT_LIFE,
        /// What is stirred in before use.
        additives: Option<Vec<Additive>>,
    }
}
in_stock!(Ink, "ink", "../stock/inks.json");

impl Ink {
    /// Warns where water and solids together would be more than the ink: a share by mass was taken for one by volume.
    pub(crate) fn check_solids(&self, field: &str, remarks: &mut Remarks) {
        let water_by_volume = self.water_fraction * units::G_PER_CM3.value(self.density);
        if self.solids_by_volume_fraction + water_by_volume > 1.0 + 0.05 {
            remarks.caution(
                "solids_and_water",
                format!("{field}/solids_by_volume_fraction"),
                "solids by volume and water together are more than the ink: a share by mass is not one by volume; ask the maker",
            );
        }
    }

    /// Whether it holds water that must leave before it can cure.
    #[must_use]
    pub fn is_water_based(&self) -> bool {
        self.water_fraction > 0.0
    }
}
