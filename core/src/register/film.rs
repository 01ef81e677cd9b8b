//! Films that grow: warmth and damp between the making of one colour's film and another's.

use super::{Cause, Shape};
use crate::quantity::{Dimensioned, Length, Rank, Rules, TemperatureDifference, units};
use crate::source::Source;
use crate::wire::{Choice, request};

const FILM: Rules = Rules::range(units::MM, 0.0, 10_000.0).usual(50.0, 1_000.0);
const WARMER: Rules = Rules::range(units::KELVIN_STEP, 0.0, 100.0).usual(0.0, 20.0);
const DAMPER: Rules = Rules::FRACTION.usual(0.0, 0.5);
const PER_KELVIN: Rules = Rules::range(units::ONE, 0.0, 1e-3)
    .usual(1e-6, 1e-4)
    .or(17e-6, Source::memory("polyester film grows by about 17 ppm/K"));
const PER_HUMIDITY: Rules = Rules::range(units::ONE, 0.0, 0.1)
    .usual(1e-5, 1e-2)
    .or(9e-4, Source::memory("polyester film grows by 6-12 ppm for each per cent of relative humidity"));

request! {
    /// How far the rooms differ in which the films of the colours were made or kept.
    pub struct FilmChange {
        /// From where the colours are set to each other to the farthest edge of the image.
        length "Distance to edge": Length where FILM,
        /// How much warmer or colder, to either side.
        temperature_difference "Temperature difference": Option<TemperatureDifference> where WARMER.rank(Rank::First),
        /// How much damper or drier, to either side: 0.10 is 10 points of relative humidity.
        humidity_difference_fraction "Humidity difference": Option<f64> where DAMPER.rank(Rank::First),
        /// Growth of the film per kelvin, as a share of its length.
        growth_per_kelvin_ratio "Growth with heat": f64 where PER_KELVIN.rank(Rank::Rare),
        /// Growth of the film over the whole scale of relative humidity, as a share of its length.
        growth_per_humidity_ratio "Growth with humidity": f64 where PER_HUMIDITY.rank(Rank::Rare),
        /// Whether all films of the job changed alike, made in the same hour.
        shared "All films alike": Option<bool> where Rules::NONE.unless_given("no"),
    }
    chooses(Choice::Any(&["temperature_difference", "humidity_difference_fraction"]))
}

/// The growth of films as a cause of misregister: uniform, of half-width
/// `length x (growth per kelvin x temperature difference + growth per humidity x humidity difference)`. It acts on every print: no
/// adjusting of a screen takes out what its film has grown.
#[must_use]
pub fn film_growth(film: &FilmChange) -> Cause {
    let warmer = film.temperature_difference.map_or(0.0, |d| d.si() * film.growth_per_kelvin_ratio);
    let damper = film.humidity_difference_fraction.map_or(0.0, |d| d * film.growth_per_humidity_ratio);
    Cause::new()
        .name("film growth")
        .half_width(film.length * (warmer + damper))
        .shape(Shape::Uniform)
        .shared(film.shared)
}
