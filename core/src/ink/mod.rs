//! Ink: what it is, how thick it prints, how much a run needs.
//!
//! - [`DEPOSIT`]: `wet = hits x (1 + stroke_gain (strokes - 1)) x release x (ink_volume + over_mesh x e)`, where the share e of the
//!   stencil is `-(2 L / W) expm1(-W / (2 L))` for a strip of width W, 0 for a wide solid; `dry = wet x solids by volume`: [`wet_film`].
//! - [`USAGE`]: `mass = area x wet film x density` a print, with waste and what stays in the screen.
//! - [`WEIGH`]: the same formula turned round, for the release from a weighing.
//! - [`HIDING`]: scattering and absorption from a film over black and white, by the layer of Kubelka and Munk: [`Optics`].
//! - [`OPACITY`]: lightness of a print on its cloth, and the film and hits that cover it.
//! - [`CHOOSE_MESH`]: the meshes that print the film, the lightness and the detail that are wanted.
//! - [`MIX`]: parts, and pots no larger than lasts.
//! - [`OPEN_TIME`]: how long water-based ink may stand in the screen, by the water that leaves it into the room's air.

mod choose;
mod deposit;
mod hiding;
mod kubelka_munk;
mod mix;
mod opacity;
mod open_time;
mod usage;
mod weigh;

pub(crate) use choose::nearest_mesh;
pub use choose::{CHOOSE_MESH, ChooseRequest, Chosen, MeshOffer, MeshReason};
pub(crate) use deposit::HITS;
pub use deposit::{
    DEPOSIT, Deposit, DepositRequest, Film, dry_film, edge_share_of_area, edge_share_of_width, laid_down, wet_film,
};
pub use hiding::{HIDING, Hiding, HidingRequest, ReadAs, Specular};
pub use kubelka_munk::{Fitted, Optics, Surface, absorbed, fitted, lightness, reflectance};
pub use mix::{MIX, Mix, MixRequest, Part, Pot, pots};
pub(crate) use opacity::{Covering, hits_for};
pub use opacity::{OPACITY, Opacity, OpacityRequest, OpacityVerdict};
pub(crate) use open_time::LIFTED;
pub use open_time::{Air, Drying, OPEN_TIME, OpenTime, OpenTimeRequest, drying, standing, time_open};
pub(crate) use usage::{AREA, COVERAGE, EDGE, LEFT, SIDE, WASTE};
pub use usage::{USAGE, Usage, UsageRequest, mass_per_print, mass_to_mix};
pub(crate) use weigh::WEIGHT;
pub use weigh::{WEIGH, Weigh, WeighRequest};

use crate::error::Error;
use crate::quantity::{
    Count, Density, Dimension, Dimensioned, ENERGY, HEAT, HOLD, Length, MolarEnergy, Rank, Rules, Temperature, Time,
    units,
};
use crate::wire::{
    At, Field, Form, Kind, OwnForm, OwnKind, Remarks, Slot, View, check_number, measure, request, typed, within, words,
};
use serde_json::Value;

const DENSITY: Rules = Rules::range(units::G_PER_CM3, 0.1, 25.0).usual(0.9, 2.5);
const SHARE: Rules = Rules::range(units::ONE, 1e-4, 1.0);
/// Share of water by mass; something is left when it is gone.
const WATER: Rules = Rules::range(units::ONE, 0.0, 0.99);
pub(crate) const RELEASE: Rules = Rules::range(units::ONE, 0.01, 1.0).usual(0.25, 0.8);
const STROKE_GAIN: Rules = Rules::range(units::ONE, 0.0, 2.0).usual(0.0, 0.5);
/// Strokes of one kind over one print.
pub(crate) const STROKES: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 4.0);
/// Floods over one print; none is possible.
pub(crate) const FLOODS: Rules = Rules::range(units::ONE, 0.0, 100.0).usual(0.0, 4.0);
const DWELL: Rules = Rules::range(units::S, 1.0, 86_400.0).usual(10.0, 900.0);
const POT_LIFE: Rules = Rules::range(units::MIN, 1.0, 1e6).usual(15.0, 10_000.0);
/// Scattering and absorption of a film.
const OPTICAL: Rules = Rules::range(units::PER_MM, 0.0, 1e5).usual(0.0, 500.0);
const PARTICLE: Rules = Rules::range(units::UM, 0.01, 5_000.0).usual(0.1, 500.0);
const ACTIVITY: Rules = Rules::range(units::ONE, 0.01, 1.0).usual(0.5, 1.0);
const ADDITIVE: Rules = Rules::range(units::ONE, 0.0, 1.0).usual(0.0, 0.3);

request! {
    /// When an ink counts as cured.
    pub struct Cure {
        /// The temperature that the whole film must reach.
        temperature "Cure temperature": Temperature where HEAT,
        /// How long the film must stay at that temperature; 0 s for an ink that is cured once it gets there.
        hold "Hold at cure": Time where HOLD,
        /// Whether the clock starts only when the film is dry.
        after_dry "Clock starts dry": bool,
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

impl Field for Gel {
    const KIND: Kind = Kind::Own(&OwnKind {
        wanted: "an absolute temperature, such as 115 degC, or the word dry",
        forms: &[Form::Word("dry"), Form::Kind(Temperature::KIND, &HEAT)],
    });
    fn blank() -> Self {
        Self::Dry
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl OwnForm for Gel {
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        *self = if value.as_str() == Some("dry") {
            Self::Dry
        } else {
            let read = measure(value, at, Dimension::Temperature)?;
            Self::At(Temperature::from_si(within(read, value, at, &HEAT, remarks)?))
        };
        Ok(())
    }
    fn check(&self, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        match self {
            Self::At(gel) => {
                check_number(gel.si(), at, &HEAT, remarks, || typed(Dimension::Temperature, gel.si(), &HEAT))
            }
            Self::Dry => Ok(()),
        }
    }
    fn shown(&self) -> View<'_> {
        match self {
            Self::At(gel) => gel.view(),
            Self::Dry => View::Text("dry"),
        }
    }
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        match self {
            Self::At(gel) => Some((gel.slot(), &HEAT)),
            Self::Dry => None,
        }
    }
}

words! {
    /// What an additive is for.
    pub enum AdditiveRole ("role of an additive") {
        /// Takes the dye out of the cloth.
        Discharging = "discharging",
        /// Holds the print on nylon and on coated cloth.
        Bonding = "bonding",
        /// Makes the ink cross-link.
        CrossLinking = "cross_linking",
        /// Makes it cure at a lower temperature.
        LowCure = "low_cure",
        /// Thins it.
        Thinning = "thinning",
        /// Keeps it open in the screen.
        Retarding = "retarding",
        /// Anything else.
        Other = "other",
    }
}

request! {
    /// Something stirred into an ink before use.
    pub struct Additive {
        /// What the additive is.
        name "Additive": String,
        /// Mass of the additive over the mass of the ink.
        fraction "Share of ink mass": f64 where ADDITIVE,
        /// What it is for; rules go by this, never by the name.
        role "What it does": Option<AdditiveRole>,
    }
}

words! {
    /// What kind of ink it is.
    pub enum Chemistry ("chemistry") {
        /// Resin in plasticiser, which fuses.
        Plastisol = "plastisol",
        /// A binder in water.
        WaterBased = "water_based",
        /// Water-based, and it takes the dye out of the cloth.
        Discharge = "discharge",
        /// Silicone, which cross-links.
        Silicone = "silicone",
    }
}

words! {
    /// Whether an ink hides what it is printed on.
    pub enum Covers ("hiding") {
        /// It does.
        Opaque = "opaque",
        /// The cloth shows through.
        Transparent = "transparent",
    }
}

request! {
    /// An ink.
    pub struct Ink {
        /// Mass per volume, wet.
        density "Wet density": Density where DENSITY.group("Composition"),
        /// Share of water, by mass.
        water_fraction "Water by mass": f64 where WATER.group("Composition"),
        /// Share that stays when the ink is dry, by volume; not the same as by mass.
        solids_by_volume_fraction "Solids by volume": f64 where SHARE.group("Composition"),
        /// Share of the mesh's volume that one print stroke lays down.
        release_fraction "Released share": f64 where RELEASE.group("The strokes"),
        /// Flood strokes before the print strokes.
        flood_strokes "Flood strokes": u32 where FLOODS.group("The strokes"),
        /// Print strokes of one hit.
        print_strokes "Print strokes": u32 where STROKES.group("The strokes"),
        /// What each further print stroke adds, as a share of the first.
        stroke_gain_fraction "Gain per stroke": f64 where STROKE_GAIN.group("The strokes"),
        /// When the film is firm enough for the next colour.
        gel "Gels at": Gel where Rules::NONE.group("Flash and cure"),
        /// When the film is cured.
        cure "Cure": Cure where Rules::NONE.group("Flash and cure"),
        /// Activation energy of the cure, for an ink that has one.
        activation_energy "Activation energy": Option<MolarEnergy>
            where ENERGY.rank(Rank::Rare).group("Flash and cure"),
        /// Temperature above which the ink fumes, scorches or turns sticky.
        never_above "Never hotter than": Temperature where HEAT.group("Flash and cure"),
        /// Temperature above which the film cures under the flash: the next colour flakes off.
        flash_never_above "Flash never above": Temperature where HEAT.group("Flash and cure"),
        /// The dwell in a dryer that shops use.
        customary_dwell "Usual dryer dwell": Time where DWELL.group("Flash and cure"),
        /// How long it stays usable once mixed.
        pot_life "Pot life": Option<Time> where POT_LIFE.group("Composition"),
        /// What is stirred in before use.
        additives "Additives": Option<Vec<Additive>> where Rules::NONE.group("Composition"),
        /// What kind of ink it is.
        chemistry "Kind of ink": Option<Chemistry>
            where Rules::NONE.group("Composition").unless_given("water-based for an ink with water, else plastisol"),
        /// Whether the ink hides what it is printed on.
        covers "Opacity": Option<Covers> where Rules::NONE.group("Composition"),
        /// Scattering coefficient S of Kubelka and Munk, per length of dry film.
        scattering "Scattering coefficient": Option<Count> as Film where OPTICAL.rank(Rank::Rare).group("Optics"),
        /// Absorption coefficient K of Kubelka and Munk, per length of dry film.
        absorption "Absorption coefficient": Option<Count> as Film where OPTICAL.rank(Rank::Rare).group("Optics"),
        /// Size of the ink's largest particle: glitter, pigment clusters.
        largest_particle "Largest particle": Option<Length> where PARTICLE.group("Composition"),
        /// Vapour pressure over the ink against that over water: below 1 for a retarded ink.
        water_activity "Water activity": Option<f64> where ACTIVITY.rank(Rank::Rare).group("Flash and cure"),
    }
    stock("ink", "../stock/inks.json")
}

impl Chemistry {
    /// What an ink is: as it says, else by its water; never by a name.
    #[must_use]
    pub fn of(ink: &Ink) -> Self {
        ink.chemistry.unwrap_or(if ink.is_water_based() { Self::WaterBased } else { Self::Plastisol })
    }

    /// Its name in the trade.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plastisol => "plastisol",
            Self::WaterBased => "water-based",
            Self::Discharge => "discharge",
            Self::Silicone => "silicone",
        }
    }
}

impl Ink {
    /// Warns where water and solids together would be more than the ink: a share by mass was taken for one by volume.
    pub(crate) fn check_solids(&self, field: &str, remarks: &mut Remarks) {
        let water_by_volume = self.water_fraction * units::G_PER_CM3.value(self.density);
        if self.solids_by_volume_fraction + water_by_volume > 1.0 + 0.05 {
            remarks.caution(
                "solids_and_water",
                format_args!("{field}/solids_by_volume_fraction"),
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
