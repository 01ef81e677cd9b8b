//! A print on its way through the tunnel: what it meets, and what that has done to it so far.

use super::window::Rule;
use super::{Dryer, Zone};
use crate::cloth::Cloth;
use crate::flash::print::{Look, Print};
use crate::heat::{Face, Problem, Span, Stage, step_errors};
use crate::ink::{Gel, Ink};
use crate::quantity::{Dimensioned, GAS_CONSTANT, Length, MolarEnergy, Temperature};
use crate::root;

/// Mass of vapour over mass of dry air in a dryer that takes water out of shirts.
pub(crate) const DRYER_HUMIDITY: f64 = 0.020;
/// How far a temperature may be off, K. A limit is passed when it is passed by this: air that is as hot as the limit must
/// not pass it by a rounding.
pub(super) const TOLERANCE: f64 = 0.05;
/// The shortest time that matters in a dryer, s.
const SHORTEST: f64 = 2.0;

/// A print that goes through a dryer.
pub(super) struct BeltPass<'a> {
    pub print: Print,
    pub ink: &'a Ink,
    pub cloth: &'a Cloth,
    pub zones: Vec<Zone>,
    pub start: f64,
    /// What the solver may be off, over what it usually may be.
    pub accuracy: f64,
}

/// How far each rule is from being met at the exit: cured at 0 and above, too hot above 0. Temperatures in kelvin, the dose that
/// scorches in hundredths of what the cloth bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Margins {
    pub cure: f64,
    pub ink: f64,
    pub cloth: f64,
    pub scorch: f64,
}

impl Margins {
    pub fn of(&self, rule: Rule) -> f64 {
        match rule {
            Rule::Cure => self.cure,
            Rule::Ink => -self.ink,
            Rule::Cloth => -self.cloth,
            Rule::Scorch => -self.scorch,
            Rule::Belt => 1.0,
        }
    }

    pub fn allowed(&self) -> bool {
        RULES.iter().all(|rule| self.of(*rule) >= 0.0)
    }
}

/// What a speed must keep.
pub(super) const RULES: [Rule; 4] = [Rule::Cure, Rule::Ink, Rule::Cloth, Rule::Scorch];
/// Those of them that are kept until they are broken, by heat.
pub(super) const HEAT_RULES: [Rule; 3] = [Rule::Ink, Rule::Cloth, Rule::Scorch];

impl<'a> BeltPass<'a> {
    pub fn new(dryer: &Dryer, ink: &'a Ink, film: Length, cloth: &'a Cloth, start: Temperature) -> Self {
        let (print, start) = (Print::new(ink, film, cloth), start.si());
        Self { print, ink, cloth, zones: dryer.tunnel(), start, accuracy: 1.0 }
    }

    /// The same to another accuracy.
    pub fn with_accuracy(self, accuracy: f64) -> Self {
        Self { accuracy, ..self }
    }

    /// Length under heat, m.
    pub fn length(&self) -> f64 {
        self.zones.iter().map(|zone| zone.length.si()).sum()
    }

    /// The stages of a pass at this belt speed, m/s.
    pub fn stages(&self, speed: f64) -> Vec<Stage> {
        let stage = |zone: &Zone| {
            let air = Face {
                air: zone.air.si(),
                humidity_ratio: zone.humidity_ratio.unwrap_or(DRYER_HUMIDITY),
                ..Face::default()
            };
            Stage {
                duration: zone.length.si() / speed,
                top: Face {
                    transfer: zone.transfer_top.si(),
                    panel: zone.panel.map_or(0.0, Temperature::si),
                    exchange: zone.panel.and(zone.exchange_fraction).unwrap_or(0.0),
                    ..air
                },
                bottom: Face { transfer: zone.transfer_bottom.si(), ..air },
            }
        };
        self.zones.iter().map(stage).collect()
    }

    pub fn problem<'p>(&'p self, stages: &'p [Stage], tolerance: f64) -> Problem<'p> {
        let tolerance = tolerance * self.accuracy;
        let (step, cell) = step_errors(tolerance);
        Problem {
            slabs: &self.print.slabs,
            below: 0,
            film_water: self.print.film_water,
            start: (self.start, self.start),
            stages,
            shortest: SHORTEST,
            tolerance,
            step,
            cell,
            refinement: 1,
        }
    }

    /// How far each rule is from being met after a way through the tunnel.
    pub fn margins(&self, so_far: &SoFar) -> Margins {
        let above = |hottest: f64, limit: Temperature| hottest - limit.si() - TOLERANCE;
        Margins {
            cure: so_far.cure.margin(self),
            ink: above(so_far.ink, self.ink.never_above),
            cloth: above(so_far.cloth, self.cloth.never_above),
            scorch: self
                .cloth
                .scorch
                .as_ref()
                .map_or(-1.0, |scorch| 100.0 * (so_far.scorch / scorch.hold.si().max(1e-9) - 1.0)),
        }
    }

    /// Seconds at the scorching temperature that a stretch of the way is worth to the hottest cloth.
    pub fn scorched(&self, look: &Look, begin: f64, end: f64) -> f64 {
        let Some(scorch) = &self.cloth.scorch else { return 0.0 };
        let rate = Some((scorch.activation_energy, scorch.temperature));
        time_above(&|time| look.hottest_cloth(time), (begin, end), 0.0, rate)
    }

    /// Seconds of a stretch of the way in which the hottest cloth is warm enough for its dye to move; with an activation energy, what
    /// the whole stretch is worth at that temperature.
    pub fn dyed(&self, look: &Look, begin: f64, end: f64) -> f64 {
        let Some(temperature) = self.cloth.dye_moves_above() else { return 0.0 };
        let energy = self.cloth.dye.as_ref().and_then(|dye| dye.activation_energy);
        let from = if energy.is_some() { 0.0 } else { temperature.si() };
        time_above(&|time| look.hottest_cloth(time), (begin, end), from, energy.map(|energy| (energy, temperature)))
    }
}

/// Time of a stretch, in which a temperature hardly bends, that it is at or above `from`, s; with an activation energy each moment
/// counts by its rate over that at the reference, `exp(-(Ea/R) (1/T - 1/T_ref))`.
fn time_above(
    temperature: &dyn Fn(f64) -> f64,
    (begin, end): (f64, f64),
    from: f64,
    rate: Option<(MolarEnergy, Temperature)>,
) -> f64 {
    let hot = |time: f64| temperature(time) >= from;
    let (begin, end) = match (hot(begin), hot(end)) {
        (true, true) => (begin, end),
        (false, false) => return 0.0,
        (first, _) => {
            let (low, high) = root::bisect(begin, end, 40, |time| hot(time) == first);
            if first { (begin, low) } else { (high, end) }
        }
    };
    let Some((energy, reference)) = rate else { return end - begin };
    // Gauss-Legendre, three points: the rate hardly bends within a step.
    let (over, reference) = (energy.si() / GAS_CONSTANT, reference.si());
    let rate = |time: f64| libm::exp(-over * (1.0 / temperature(time) - 1.0 / reference));
    let (middle, half) = (0.5 * (begin + end), 0.5 * (end - begin));
    let out = half * (0.6_f64).sqrt();
    half / 9.0 * (5.0 * rate(middle - out) + 8.0 * rate(middle) + 5.0 * rate(middle + out))
}

/// What a print has met on its way so far: its cure, its hottest ink and cloth, K, and what scorched the cloth, s.
#[derive(Debug, Clone, Copy)]
pub(super) struct SoFar {
    cure: CureCount,
    ink: f64,
    cloth: f64,
    scorch: f64,
}

impl SoFar {
    pub const NOTHING: Self = Self {
        cure: CureCount { dry: false, peak: f64::NEG_INFINITY, hold: 0.0 },
        ink: f64::NEG_INFINITY,
        cloth: f64::NEG_INFINITY,
        scorch: 0.0,
    };

    /// Takes a step in, up to this moment of it.
    pub fn until(&self, pass: &BeltPass<'_>, span: &Span<'_>, look: &Look, time: f64) -> Self {
        let middle = span.begin.midpoint(time);
        Self {
            cure: self.cure.until(pass, span, look, time),
            ink: self.ink.max(look.hottest_ink(middle)).max(look.hottest_ink(time)),
            cloth: self.cloth.max(look.hottest_cloth(middle)).max(look.hottest_cloth(time)),
            scorch: self.scorch + pass.scorched(look, span.begin, time),
        }
    }
}

/// Counts the cure of the bottom of the film.
#[derive(Debug, Clone, Copy)]
struct CureCount {
    dry: bool,
    /// Hottest moment that counts, K.
    peak: f64,
    /// Equivalent hold at the cure temperature, s.
    hold: f64,
}

impl CureCount {
    /// Above zero once it is cured: a share of the hold, or hundreds of kelvin.
    fn margin(&self, pass: &BeltPass<'_>) -> f64 {
        let hold = pass.ink.cure.hold.si();
        if hold > 0.0 { self.hold / hold - 1.0 } else { (self.peak - pass.ink.cure.temperature.si()) / 100.0 }
    }

    /// Takes a step in, up to this moment of it.
    fn until(&self, pass: &BeltPass<'_>, span: &Span<'_>, look: &Look, end: f64) -> Self {
        let mut count = *self;
        let (ink, cure) = (pass.ink, &pass.ink.cure);
        let needs_dry = cure.after_dry || (ink.activation_energy.is_some() && ink.gel == Gel::Dry);
        let mut begin = span.begin;
        if needs_dry && !count.dry {
            let Some(dry) = pass.print.dries(span).filter(|dry| *dry <= end) else { return count };
            (count.dry, begin) = (true, dry);
        }
        let bottom = |time: f64| look.bottom_of_ink(time);
        count.peak = count.peak.max(bottom(begin)).max(bottom(end));
        // The count starts at the cure temperature, or at the gel point where a colder cure counts too.
        let from = match (ink.activation_energy, ink.gel) {
            (None, _) => cure.temperature.si(),
            (Some(_), Gel::At(gel)) => gel.si(),
            (Some(_), Gel::Dry) => 0.0,
        };
        let rate = ink.activation_energy.map(|energy| (energy, cure.temperature));
        count.hold += time_above(&bottom, (begin, end), from, rate);
        count
    }
}
