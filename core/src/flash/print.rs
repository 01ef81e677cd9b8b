//! A print on a shirt, as layers for the solver: the ink film with its water, and the cloth.

use crate::cloth::Cloth;
use crate::error::Error;
use crate::heat::{Instant, Problem, Slab, Solver, Span, WATER_SPECIFIC_HEAT};
use crate::ink::Ink;
use crate::quantity::{Dimensioned, Length, Rules, Temperature, Time, units};
use crate::root::bisect;
use crate::source::Source;
use crate::wire::{Remarks, answer};
use std::ops::ControlFlow;

/// Wet thickness of the ink stack.
pub(crate) const FILM: Rules =
    Rules::range(units::UM, 1.0, 5_000.0).usual(5.0, 400.0).or(40.0, Source::memory("a base and a colour on it"));

/// Conductivity and specific heat of ink without water: flexible PVC has 0.14-0.17 W/(m.K) and 900-1000 J/(kg.K), the liquid
/// more.
const INK: (f64, f64) = (0.17, 1500.0);
/// Conductivity of water, W/(m.K).
const WATER_CONDUCTIVITY: f64 = 0.60;
/// How far a temperature may be off where a flash dwell is sought, K: about a hundredth of a second under it.
pub(crate) const TOLERANCE: f64 = 0.2;
/// A film is dry when this share of its water is left.
const DRY: f64 = 0.01;

/// A print on a cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Print {
    /// Ink film, then cloth.
    pub slabs: [Slab; 2],
    /// Water in the film, kg/m2.
    pub film_water: f64,
}

impl Print {
    /// The print of this ink, so thick when wet, on this cloth. A film with water conducts and stores heat as its parts by mass.
    #[must_use]
    pub fn new(ink: &Ink, film: Length, cloth: &Cloth) -> Self {
        let wet = ink.water_fraction;
        let mixed = |dry: f64, water: f64| dry * (1.0 - wet) + water * wet;
        let thickness = cloth.thickness.si();
        Self {
            slabs: [
                Slab {
                    thickness: film.si(),
                    conductivity: mixed(INK.0, WATER_CONDUCTIVITY),
                    heat_per_volume: ink.density.si() * mixed(INK.1, WATER_SPECIFIC_HEAT),
                    bound_water: 0.0,
                },
                Slab {
                    thickness,
                    conductivity: cloth.conductivity.si(),
                    heat_per_volume: cloth.mass_per_area.si() / thickness * cloth.specific_heat.si(),
                    bound_water: cloth.regain_fraction * cloth.mass_per_area.si(),
                },
            ],
            film_water: ink.density.si() * film.si() * wet,
        }
    }

    /// Says where the numbers of the film came from.
    pub fn cite(remarks: &mut Remarks) {
        remarks.basis(
            "film.conductivity",
            Source::published("flexible PVC, DIN EN 12524: 0.14 W/(m.K), others 0.17; liquid ink from memory"),
        );
        remarks.basis("film.specific_heat", Source::memory("liquid ink; flexible PVC has 900-1000 J/(kg.K)"));
    }

    /// How far the film is from dry, in kg/m2; not above 0 when it is.
    #[must_use]
    pub fn wetness(&self, moment: &Instant<'_>) -> f64 {
        moment.film_water() - DRY * self.film_water
    }
}

/// The bottom of the film: the coldest ink, on a shirt that is heated from above.
#[must_use]
pub fn bottom_of_ink(moment: &Instant<'_>) -> f64 {
    moment.joint(0)
}

/// The hottest point of the cloth: one of its faces.
#[must_use]
pub fn hottest_cloth(moment: &Instant<'_>) -> f64 {
    moment.joint(0).max(moment.joint(1))
}

/// The hottest point of the film: one of its faces.
#[must_use]
pub fn hottest_ink(moment: &Instant<'_>) -> f64 {
    moment.top().max(moment.joint(0))
}

answer! {
    /// Temperatures of a print over time.
    pub struct Profile {
        /// The moments, from the start.
        time "Times": Vec<Time>,
        /// Temperature of the film's top at each moment.
        top "Top of film": Vec<Temperature>,
        /// Temperature of the film's bottom, the coldest ink, at each moment.
        bottom_of_ink "Bottom of film": Vec<Temperature>,
        /// Temperature of the cloth's back at each moment.
        cloth "Back of cloth": Vec<Temperature>,
    }
}

/// Moments of a profile, less one.
const MOMENTS: u32 = 40;

impl Profile {
    /// Marches to the end and reads the temperatures at even moments.
    ///
    /// # Errors
    /// What the solver refuses.
    pub fn of(solver: &mut Solver, problem: &Problem<'_>) -> Result<Self, Error> {
        let until: f64 = problem.stages.iter().map(|stage| stage.duration).sum();
        let mut profile = Self { time: Vec::new(), top: Vec::new(), bottom_of_ink: Vec::new(), cloth: Vec::new() };
        let mut moments = (0..=MOMENTS).map(|i| until * f64::from(i) / f64::from(MOMENTS)).peekable();
        solver.march(problem, |span| {
            while let Some(time) = moments.next_if(|time| *time <= span.end || span.end >= until) {
                let moment = span.at(time);
                profile.time.push(Time::from_si(time));
                profile.top.push(Temperature::from_si(moment.top()));
                profile.bottom_of_ink.push(Temperature::from_si(bottom_of_ink(&moment)));
                profile.cloth.push(Temperature::from_si(moment.joint(1)));
            }
            ControlFlow::Continue(())
        })?;
        Ok(profile)
    }
}

/// When a quantity first rises through zero in a span that began below it, by bisection.
pub fn rises(span: &Span<'_>, of: impl Fn(&Instant<'_>) -> f64) -> Option<f64> {
    let below = |time: f64| of(&span.at(time)) < 0.0;
    if below(span.end) {
        return None;
    }
    if of(&span.at(span.begin)) >= 0.0 {
        return Some(span.begin);
    }
    Some(bisect(span.begin, span.end, 48, below).1)
}
