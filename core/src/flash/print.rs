//! A print on a shirt, as layers for the solver: the ink film with its water, and the cloth.

use crate::cloth::Cloth;
use crate::heat::{Path, Place, Slab, Span, WATER_SPECIFIC_HEAT, rises};
use crate::ink::Ink;
use crate::quantity::{Dimensioned, Length, Rules, Temperature, Time, units};
use crate::source::Source;
use crate::wire::{Remarks, answer};

/// Wet thickness of the ink stack.
pub(crate) const FILM: Rules =
    Rules::range(units::UM, 1.0, 5_000.0).usual(5.0, 400.0).or(40.0, Source::memory("a base and a colour on it"));

/// Conductivity and specific heat of ink without water: flexible PVC has 0.14-0.17 W/(m.K) and 900-1000 J/(kg.K), the liquid
/// more.
const INK: (f64, f64) = (0.17, 1500.0);
/// Conductivity of water, W/(m.K).
const WATER_CONDUCTIVITY: f64 = 0.60;
/// How far a temperature may be off where a flash dwell is sought, K: about a hundredth of a second under it.
pub(crate) const TOLERANCE: f64 = 0.05;
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
}

/// A print over one step of a march.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// Begin and end of the step, s.
    pub begin: f64,
    pub end: f64,
    top: Path,
    bottom: Path,
    back: Path,
}

impl Look {
    pub fn at(span: &Span<'_>) -> Self {
        let [top, bottom, back] = [Place::Top, Place::Joint(0), Place::Joint(1)].map(|place| span.path(place));
        Self { begin: span.begin, end: span.end, top, bottom, back }
    }

    /// The bottom of the film: the coldest ink, on a shirt that is heated from above, K.
    pub fn bottom_of_ink(&self, time: f64) -> f64 {
        self.bottom.at(time)
    }

    /// The hottest point of the cloth, K: one of its faces.
    pub fn hottest_cloth(&self, time: f64) -> f64 {
        self.bottom.at(time).max(self.back.at(time))
    }

    /// The hottest point of the film, K: one of its faces.
    pub fn hottest_ink(&self, time: f64) -> f64 {
        self.top.at(time).max(self.bottom.at(time))
    }
}

impl Print {
    /// When the film is dry, if it falls dry within this step.
    pub fn dries(&self, span: &Span<'_>) -> Option<f64> {
        let water = span.water();
        // A thousandth of the water counts as a tenth of a kelvin.
        rises(span.begin, span.end, &|time| 100.0 * (DRY - water.at(time) / self.film_water.max(f64::MIN_POSITIVE)))
    }
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

/// The steps of a march, to be read once it is known how far.
#[derive(Debug, Clone, Default)]
pub struct Trace {
    steps: Vec<(Look, [Temperature; 3])>,
}

/// Work of looking for what comes about in a step, in rows: some hundred moments of it.
const WATCHED: f64 = 800.0;

impl Trace {
    /// The work of watching its steps, in rows.
    pub fn work(&self) -> f64 {
        WATCHED * self.steps.len() as f64
    }

    /// Writes down a step.
    pub fn record(&mut self, span: &Span<'_>, look: &Look) {
        let places = [Place::Top, Place::Joint(0), Place::Joint(1)];
        self.steps.push((*look, places.map(|place| Temperature::from_si(span.at(place, span.begin)))));
    }

    /// The steps up to a moment, each with where it ends by then.
    pub fn until(&self, moment: f64) -> impl Iterator<Item = (&Look, f64)> {
        self.steps
            .iter()
            .take_while(move |(look, _)| look.begin < moment)
            .map(move |(look, _)| (look, look.end.min(moment)))
    }

    /// The temperatures at even moments up to this one.
    pub fn profile(&self, until: f64) -> Profile {
        let mut profile = Profile { time: Vec::new(), top: Vec::new(), bottom_of_ink: Vec::new(), cloth: Vec::new() };
        let mut steps = self.steps.iter();
        let mut step = steps.next();
        for moment in 0..=MOMENTS {
            let time = until * f64::from(moment) / f64::from(MOMENTS);
            while let Some((look, _)) = step
                && look.end < time
                && let Some(next) = steps.next()
            {
                step = Some(next);
            }
            let Some((look, begin)) = step else { break };
            let read = |path: &Path, begin: &Temperature| {
                if time > 0.0 { Temperature::from_si(path.at(time)) } else { *begin }
            };
            let [top, bottom, back] = begin;
            profile.time.push(Time::from_si(time));
            profile.top.push(read(&look.top, top));
            profile.bottom_of_ink.push(read(&look.bottom, bottom));
            profile.cloth.push(read(&look.back, back));
        }
        profile
    }
}
