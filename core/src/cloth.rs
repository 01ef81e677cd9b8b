//! The cloth of the shirt.

use crate::error::{Code, Error};
use crate::quantity::{
    CONDUCTIVITY, ENERGY, HEAT, HOLD, Length, MassPerArea, MolarEnergy, Rank, Rules, SPECIFIC_HEAT, SpecificHeat,
    Temperature, ThermalConductivity, Time, to_places, units,
};
use crate::wire::{At, Record, Remarks, request, words};
use serde_json::Value;

const WEIGHT: Rules = Rules::range(units::G_PER_M2, 1.0, 5000.0).usual(60.0, 500.0);
/// CIELAB lightness.
pub(crate) const LIGHTNESS: Rules = Rules::range(units::ONE, 0.0, 100.0).rank(Rank::Rare);
/// Ink that sinks into a surface.
pub(crate) const SURFACE: Rules = Rules::range(units::CM3_PER_M2, 0.0, 1000.0).usual(0.0, 100.0).rank(Rank::Rare);
const THICKNESS: Rules = Rules::range(units::MM, 0.01, 50.0).usual(0.1, 5.0);

words! {
    /// Whether a print needs a base under it.
    pub enum Shade ("shade") {
        /// Colours show without a base.
        Light = "light",
        /// Colours need a base.
        Dark = "dark",
    }
}

request! {
    /// The dye of a cloth.
    pub struct Dye {
        /// Temperature above which the dye moves into the print.
        temperature "Dye migrates above": Temperature where HEAT,
        /// Activation energy of its migration, where it is known.
        activation_energy "Activation energy": Option<MolarEnergy> where ENERGY,
    }
    inside("stock")
}

request! {
    /// What scorches a cloth: as much heat as a hold at a temperature, by its activation energy.
    pub struct Scorch {
        /// Temperature of the hold.
        temperature "Scorches at": Temperature where HEAT,
        /// How long the cloth bears that temperature.
        hold "For as long as": Time where HOLD,
        /// Activation energy of the scorching.
        activation_energy "Activation energy": MolarEnergy where ENERGY,
    }
}

request! {
    /// What a cloth is spun of, by mass; the shares add up to 1.
    pub struct Fibres {
        /// Share of cotton.
        cotton_fraction "Cotton": Option<f64> where Rules::FRACTION,
        /// Share of polyester.
        polyester_fraction "Polyester": Option<f64> where Rules::FRACTION,
        /// Share of nylon.
        nylon_fraction "Nylon": Option<f64> where Rules::FRACTION,
        /// Share of anything else.
        other_fraction "Other fibres": Option<f64> where Rules::FRACTION,
    }
    fits(are_the_whole)
    inside("stock")
}

/// Refuses shares that are not the whole cloth.
fn are_the_whole(fibres: &dyn Record, at: At<'_>, value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(fibres) = fibres.to::<Fibres>() else { return Ok(()) };
    let shares = [fibres.cotton_fraction, fibres.polyester_fraction, fibres.nylon_fraction, fibres.other_fraction];
    let sum: f64 = shares.iter().flatten().sum();
    if (sum - 1.0).abs() > 0.005 {
        return Err(Error::new(
            Code::Impossible,
            at,
            format!("the shares of the fibres add up to {}", to_places(sum, 3)),
        )
        .got(value)
        .allowed(["shares that add up to 1"]));
    }
    Ok(())
}

request! {
    /// A cloth.
    pub struct Cloth {
        /// Mass per area of the cloth.
        mass_per_area "Cloth weight": MassPerArea where WEIGHT,
        /// Thickness of the cloth under no load.
        thickness "Cloth thickness": Length where THICKNESS,
        /// Thermal conductivity of the cloth.
        conductivity "Heat conductivity": ThermalConductivity where CONDUCTIVITY.group("How it takes heat"),
        /// Heat per mass and kelvin, dry.
        specific_heat "Specific heat": SpecificHeat where SPECIFIC_HEAT.group("How it takes heat"),
        /// Water bound in the fibre, over its dry mass.
        regain_fraction "Moisture regain": f64 where Rules::FRACTION.usual(0.0, 0.2).group("How it takes heat"),
        /// Temperature above which the cloth scorches, melts or shrinks.
        never_above "Never hotter than": Temperature where HEAT.group("What it bears"),
        /// Temperature above which the dye of the cloth starts to move.
        caution_above "Dye migrates above": Option<Temperature> where HEAT.group("What it bears"),
        /// Dye that heat moves into the print; it takes the place of the temperature alone.
        dye "Dye": Option<Dye> where Rules::NONE.rank(Rank::Rare),
        /// Heat that scorches the cloth, as a dose.
        scorch "Scorch": Option<Scorch> where Rules::NONE.rank(Rank::Rare),
        /// Whether a print needs a base under it.
        shade "Shade": Shade,
        /// Lightness L* of the cloth.
        lightness "Lightness": Option<f64> where LIGHTNESS.unless_given("as its shade"),
        /// What the cloth is spun of.
        fibres "Fibres": Option<Fibres>,
        /// Whether a discharge agent takes the dye out.
        dischargeable "Dischargeable": Option<bool>,
        /// Whether the cloth is coated, so that ink finds no fibre.
        coated "Coated": Option<bool>,
        /// Ink that sinks into the surface before a film lies on it, as a volume per area.
        surface_take "Ink the surface takes": Option<Length> as InkVolume where SURFACE,
    }
    stock("cloth", "stock/cloths.json")
}

impl Cloth {
    /// The temperature from which its dye moves into the print, where it has one that does.
    #[must_use]
    pub fn dye_moves_above(&self) -> Option<Temperature> {
        self.dye.as_ref().map(|dye| dye.temperature).or(self.caution_above)
    }
}
