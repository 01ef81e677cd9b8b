//! The setting of a dryer that opens a window where the present one has none.

use super::Dryer;
use super::pass::BeltPass;
use super::search::{SpeedSearch, Stretch};
use super::window::{inside, widest};
use crate::cloth::Cloth;
use crate::flash::print::Trace;
use crate::ink::Ink;
use crate::quantity::{Dimensioned, Length, Show, System, Temperature, Velocity, units};
use crate::wire::Remarks;
use crate::work::Work;

/// Settings that are looked at: as many steps of the dial to each side.
const STEPS: u32 = 25;
/// A print that a setting must cure.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Aim<'a> {
    pub ink: &'a Ink,
    pub film: Length,
    pub cloth: &'a Cloth,
    pub start: Temperature,
}

/// A setting, and the belt speeds that it allows.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Setting {
    panel: bool,
    temperature: Temperature,
    slowest: f64,
    fastest: f64,
}

impl Setting {
    /// What to do, in words.
    pub fn words(&self, remarks: &Remarks) -> String {
        let speed = |log: f64| remarks.say(Velocity::from_si(libm::exp(log)), Show::Usual);
        format!(
            "set the {} to {} (`{}` of the dryer) and run the belt between {} and {}",
            if self.panel { "panel" } else { "air of every zone" },
            remarks.say(self.temperature, Show::Usual),
            if self.panel { "panel" } else { "air" },
            speed(self.slowest),
            speed(self.fastest)
        )
    }
}

/// The nearest setting of the panel, or else of the air, at which the customary dwell lies well inside the window that all these prints
/// have in common; the one with the widest window where it never does. None where no setting helps, or the work of the evaluation is done.
pub(crate) fn opening(dryer: &Dryer, aims: &[Aim<'_>], system: System, work: &mut Work) -> Option<Setting> {
    let zones = dryer.tunnel();
    let panel = zones.iter().find_map(|zone| zone.panel);
    let now = panel.or_else(|| zones.first().map(|zone| zone.air))?;
    // What a dial can be set to.
    let (unit, step) = match (system, panel) {
        (System::Metric, None) => (units::DEG_C, 5.0),
        (System::Metric, Some(_)) => (units::DEG_C, 10.0),
        (System::Us, None) => (units::DEG_F, 10.0),
        (System::Us, Some(_)) => (units::DEG_F, 25.0),
    };
    let customary = aims.iter().map(|aim| aim.ink.customary_dwell.si()).fold(0.0, f64::max);
    let usual = libm::log(dryer.length_under_heat().si() / customary.max(1.0));
    let near = (unit.value(now) / step).round();
    let mut best: Option<Setting> = None;
    for steps in 0..=STEPS {
        for side in [-1.0, 1.0] {
            let temperature = unit.of(step * (near + side * f64::from(steps)));
            let set = if panel.is_some() {
                dryer.reset(None, Some(temperature))
            } else {
                dryer.reset(Some(temperature), None)
            };
            let Some((slowest, fastest)) = common(&set, aims, work) else { continue };
            let wider = best.is_none_or(|best| fastest - slowest > best.fastest - best.slowest);
            if wider {
                best = Some(Setting { panel: panel.is_some(), temperature, slowest, fastest });
            }
            if (inside(usual, slowest, fastest) - usual).abs() < 1e-9 {
                return Some(Setting { panel: panel.is_some(), temperature, slowest, fastest });
            }
        }
    }
    best
}

/// The belt speeds, as logarithms, that all prints have in common.
fn common(dryer: &Dryer, aims: &[Aim<'_>], work: &mut Work) -> Option<(f64, f64)> {
    let mut window = dryer.belt();
    for aim in aims {
        let pass = BeltPass::new(dryer, aim.ink, aim.film, aim.cloth, aim.start);
        let (stretches, _) = SpeedSearch::new(&pass, work).all(dryer.belt(), &mut Trace::default()).ok()?;
        let Stretch { slow, fast } = widest(&stretches)?;
        window = (window.0.max(slow.0), window.1.min(fast.0));
    }
    (window.0 < window.1).then_some(window)
}
