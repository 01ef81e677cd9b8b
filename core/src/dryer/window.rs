//! Between which belt speeds a print is cured and not scorched.

use super::{Dryer, usual_pieces_per_hour};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::flash::print::{FILM, Print, Profile, bottom_of_ink, hottest_cloth, hottest_ink, rises};
use crate::heat::in_terms_of;
use crate::heat::{Face, Problem, Solver, Span, Stage};
use crate::ink::{Gel, Ink};
use crate::quantity::{Dimensioned, GAS_CONSTANT, Length, START, Show, Temperature, Time, Velocity};
use crate::root::{self, Bracket, Point, Search};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use std::ops::ControlFlow;

/// Mass of vapour over mass of dry air in a dryer that takes water out of shirts.
const DRYER_HUMIDITY: f64 = 0.020;
/// Belt speeds looked at, evenly in their logarithm.
const SCAN: u32 = 25;
/// How an end of a window is looked for: until two speeds are one, as logarithms, in so many looks.
const LOOKS: Search = Search { width: 2e-4, relative_width: 0.0, value: 0.0, margin: 0.02, evaluations: 12 };
/// What is recommended over the shortest dwell where the slow end is the belt's.
const MARGIN: f64 = 1.25;
/// How far a temperature may be off, K. A limit is passed when it is passed by this: air that is as hot as the limit must
/// not pass it by a rounding.
const TOLERANCE: f64 = 0.05;
/// The shortest time that matters in a dryer, s.
const SHORTEST: f64 = 2.0;

words! {
    /// What ends a window.
    pub enum Rule ("rule") {
        /// The ink just cures at the exit.
        Cure = "cure",
        /// The ink meets its never_above.
        Ink = "ink_never_above",
        /// The cloth meets its never_above.
        Cloth = "cloth_never_above",
        /// The belt goes no slower or faster.
        Belt = "belt",
    }
}

request! {
    /// A print and a dryer.
    pub struct WindowRequest {
        /// The dryer that cures the print.
        dryer "Dryer": Dryer,
        /// The ink to cure.
        ink "Ink": Ink,
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM,
        /// The cloth under the ink.
        cloth "Cloth": Cloth,
        /// Temperature of the shirt at the entry.
        start "Shirt at entry": Temperature where START,
    }
}

answer! {
    /// What ends the window on each side.
    pub struct Limits {
        /// What ends the window at the fastest belt.
        fastest "Fast end set by": Rule,
        /// What ends the window at the slowest belt.
        slowest "Slow end set by": Rule,
    }
}

answer! {
    /// A range of belt speeds.
    pub struct Range {
        /// Slowest belt of the range.
        slowest "Slow end": Velocity,
        /// Fastest belt of the range.
        fastest "Fast end": Velocity,
    }
}

answer! {
    /// The window of the belt.
    pub struct Window {
        /// Fastest belt that cures.
        fastest "Fastest that cures": Velocity,
        /// Slowest belt that does not scorch.
        slowest "Slowest without scorching": Velocity,
        /// Belt speed to start with.
        recommended "Starting belt speed": Velocity,
        /// Time under heat at the recommended speed.
        dwell "Dwell time": Time,
        /// What ends the window on each side.
        limits "Window limits": Limits,
        /// Every range of speeds that is allowed, where there are several; the widest is the window.
        ranges "Allowed belt ranges": Vec<Range>,
        /// Temperatures at the recommended speed.
        profile "Temperature profile": Profile,
        /// Pieces an hour at the recommended speed.
        pieces_per_hour "Pieces per hour": f64,
        /// Trips through the dryer that were worked out.
        evaluations "Solver runs": u32,
    }
}

calculation! {
    pub const WINDOW: WindowRequest => Window = window;
    id: "dryer.window",
    title: "Window of the belt",
    question: "Between which belt speeds is it cured and not scorched?",
    asked: ["How fast may the belt run?", "Does this ink cure in my dryer without scorching the shirt?"],
    headline: ["recommended", "fastest", "slowest"],
    formula: "heat.layers of film and cloth through the zones, each length / speed long; fastest: the bottom of the film just cures at the exit; slowest: the hottest point of ink or cloth meets its never_above; recommended: the geometric mean of the two dwells, 1.25 x the shortest dwell where the slow end is the belt's, and in a dryer that is not fitted never faster than the customary dwell where the window allows it",
    sources: &[
        Source::physics("conduction through the layers, as heat.layers"),
        Source::memory("stock dryers: air, transfer and panels, until a probe fits them (dryer.fit)"),
    ],
    example: r#"{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}"#,
}

/// A print that goes through a dryer.
pub(super) struct BeltPass<'a> {
    pub print: Print,
    pub ink: &'a Ink,
    pub cloth: &'a Cloth,
    pub dryer: &'a Dryer,
    pub start: f64,
}

/// How far each rule is from being met at the exit: cured at 0 and above, too hot above 0.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Margins {
    cure: f64,
    ink: f64,
    cloth: f64,
}

impl Margins {
    fn of(&self, rule: Rule) -> f64 {
        match rule {
            Rule::Cure => self.cure,
            Rule::Ink => -self.ink,
            Rule::Cloth => -self.cloth,
            Rule::Belt => 1.0,
        }
    }

    fn allowed(&self) -> bool {
        RULES.iter().all(|rule| self.of(*rule) >= 0.0)
    }
}

const RULES: [Rule; 3] = [Rule::Cure, Rule::Ink, Rule::Cloth];

impl BeltPass<'_> {
    /// The stages of a pass at this belt speed, m/s.
    pub fn stages(&self, speed: f64) -> Vec<Stage> {
        self.dryer
            .zones
            .iter()
            .map(|zone| {
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
            })
            .collect()
    }

    pub fn problem<'p>(&'p self, start: &'p [f64; 1], stages: &'p [Stage]) -> Problem<'p> {
        Problem {
            slabs: &self.print.slabs,
            film_water: self.print.film_water,
            start,
            keep: 0,
            stages,
            shortest: SHORTEST,
            tolerance: TOLERANCE,
            refinement: 1.0,
        }
    }

    fn margins(&self, solver: &mut Solver, speed: f64) -> Result<Margins, Error> {
        let stages = self.stages(speed);
        let mut clock = Clock::default();
        let (mut ink, mut cloth) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        solver.march(&self.problem(&[self.start], &stages), |span| {
            clock.watch(self, &span);
            let moment = span.at(span.end);
            ink = ink.max(hottest_ink(&moment));
            cloth = cloth.max(hottest_cloth(&moment));
            ControlFlow::Continue(())
        })?;
        let hold = self.ink.cure.hold.si();
        let cure =
            if hold > 0.0 { clock.hold / hold - 1.0 } else { (clock.peak - self.ink.cure.temperature.si()) / 100.0 };
        let above = |hottest: f64, limit: Temperature| hottest - limit.si() - TOLERANCE;
        Ok(Margins { cure, ink: above(ink, self.ink.never_above), cloth: above(cloth, self.cloth.never_above) })
    }
}

/// Counts the cure of the bottom of the film.
#[derive(Debug, Clone, Copy)]
struct Clock {
    dry_at: Option<f64>,
    /// Hottest moment that counts, K.
    peak: f64,
    /// Equivalent hold at the cure temperature, s.
    hold: f64,
}

impl Default for Clock {
    fn default() -> Self {
        Self { dry_at: None, peak: f64::NEG_INFINITY, hold: 0.0 }
    }
}

impl Clock {
    fn watch(&mut self, pass: &BeltPass<'_>, span: &Span<'_>) {
        let cure = &pass.ink.cure;
        let needs_dry = cure.after_dry || (pass.ink.activation_energy.is_some() && pass.ink.gel == Gel::Dry);
        let begin = if needs_dry {
            self.dry_at = self.dry_at.or_else(|| rises(span, |moment| -pass.print.wetness(moment)));
            match self.dry_at {
                Some(dry) => dry.max(span.begin),
                None => return,
            }
        } else {
            span.begin
        };
        let end = span.end;
        let ink = |time: f64| bottom_of_ink(&span.at(time));
        self.peak = self.peak.max(ink(begin)).max(ink(end));
        let hot = cure.temperature.si();
        // The count starts at the cure temperature, or at the gel point where a colder cure counts too.
        let threshold = match (pass.ink.activation_energy, pass.ink.gel) {
            (None, _) => hot,
            (Some(_), Gel::At(gel)) => gel.si(),
            (Some(_), Gel::Dry) => 0.0,
        };
        let (from, to) = match (ink(begin) >= threshold, ink(end) >= threshold) {
            (true, true) => (begin, end),
            (false, false) => return,
            (first, _) => {
                let (low, high) = root::bisect(begin, end, 40, |time| (ink(time) >= threshold) == first);
                if first { (begin, low) } else { (high, end) }
            }
        };
        self.hold += match pass.ink.activation_energy {
            None => to - from,
            Some(energy) => {
                // Gauss-Legendre, three points: the rate hardly bends within a step.
                let rate = |time: f64| libm::exp(-energy.si() / GAS_CONSTANT * (1.0 / ink(time) - 1.0 / hot));
                let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
                let out = half * (0.6_f64).sqrt();
                half / 9.0 * (5.0 * rate(middle - out) + 8.0 * rate(middle) + 5.0 * rate(middle + out))
            }
        };
    }
}

/// A stretch of speeds, as logarithms, and the rule at each of its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stretch {
    slow: (f64, Rule),
    fast: (f64, Rule),
}

/// Looks at trips and counts them.
struct SpeedSearch<'a> {
    pass: &'a BeltPass<'a>,
    solver: Solver,
    looks: u32,
}

impl SpeedSearch<'_> {
    fn look(&mut self, log_speed: f64) -> Result<Margins, Error> {
        self.looks = self.looks.saturating_add(1);
        self.pass.margins(&mut self.solver, libm::exp(log_speed))
    }

    /// Where a rule changes between two speeds: the side on which it is kept. A film that never dries has no finite margin.
    fn change(&mut self, rule: Rule, low: (f64, Margins), high: (f64, Margins)) -> Result<f64, Error> {
        let point = |(at, margins): (f64, Margins)| Point { at, value: margins.of(rule) };
        let Some(bracket) = Bracket::between(point(low), point(high)) else { return Ok(high.0) };
        root::illinois(bracket, &LOOKS, |speed| self.look(speed).map(|margins| margins.of(rule)))
            .map(|bracket| bracket.holds.at)
    }

    /// Every stretch of allowed speeds between the belt's ends.
    fn stretches(&mut self, slowest: f64, fastest: f64) -> Result<(Vec<Stretch>, Vec<Margins>), Error> {
        let mut found = Vec::new();
        let mut seen = Vec::new();
        let step = (fastest - slowest) / f64::from(SCAN.saturating_sub(1));
        let mut last: Option<(f64, Margins)> = None;
        let mut open: Option<(f64, Rule)> = None;
        for i in 0..SCAN {
            let speed = slowest + step * f64::from(i);
            let margins = self.look(speed)?;
            seen.push(margins);
            match last {
                None => {
                    if margins.allowed() {
                        open = Some((speed, Rule::Belt));
                    }
                }
                Some(before) => {
                    // Rules that begin to hold open a stretch, rules that cease to hold close it; in between all must hold.
                    let mut opens: Option<(f64, Rule)> = None;
                    let mut closes: Option<(f64, Rule)> = None;
                    let mut never = false;
                    for rule in RULES {
                        match (before.1.of(rule) >= 0.0, margins.of(rule) >= 0.0) {
                            (false, false) => never = true,
                            (true, true) => {}
                            (false, true) => {
                                let at = self.change(rule, before, (speed, margins))?;
                                if opens.is_none_or(|(known, _)| at > known) {
                                    opens = Some((at, rule));
                                }
                            }
                            (true, false) => {
                                let at = self.change(rule, before, (speed, margins))?;
                                if closes.is_none_or(|(known, _)| at < known) {
                                    closes = Some((at, rule));
                                }
                            }
                        }
                    }
                    let begin = opens.or(open);
                    match (begin, closes) {
                        _ if never => open = None,
                        (Some(slow), Some(fast)) => {
                            if slow.0 <= fast.0 {
                                found.push(Stretch { slow, fast });
                            }
                            open = None;
                        }
                        (begin, None) => open = begin,
                        (None, Some(_)) => open = None,
                    }
                }
            }
            last = Some((speed, margins));
        }
        if let (Some(slow), Some((speed, _))) = (open, last) {
            found.push(Stretch { slow, fast: (speed, Rule::Belt) });
        }
        Ok((found, seen))
    }
}

/// The belt speeds that cure and do not scorch.
///
/// # Errors
/// `no_solution` where no speed does, with the rules that conflict; `impossible` for a belt whose least is above its most;
/// what the solver refuses.
pub(crate) fn window(request: &WindowRequest, remarks: &mut Remarks) -> Result<Window, Error> {
    marched(request, remarks).map_err(|error| in_terms_of(error, "/dryer", "/cloth"))
}

fn marched(request: &WindowRequest, remarks: &mut Remarks) -> Result<Window, Error> {
    let (dryer, ink, cloth) = (&request.dryer, &request.ink, &request.cloth);
    dryer.check("/dryer")?;
    dryer.cite(&["zones", "belt_least", "belt_most"], remarks);
    ink.cite(&["density", "water_fraction", "cure", "never_above", "customary_dwell"], remarks);
    cloth.cite(
        &["mass_per_area", "thickness", "conductivity", "specific_heat", "regain_fraction", "never_above"],
        remarks,
    );
    Print::cite(remarks);
    let pass = BeltPass { print: Print::new(ink, request.film, cloth), ink, cloth, dryer, start: request.start.si() };
    let mut search = SpeedSearch { pass: &pass, solver: Solver::new(), looks: 0 };
    let ends = (libm::log(dryer.belt_least.si()), libm::log(dryer.belt_most.si()));
    let (stretches, seen) = search.stretches(ends.0, ends.1)?;
    let width = |stretch: &Stretch| stretch.fast.0 - stretch.slow.0;
    let Some(main) = stretches.iter().copied().max_by(|a, b| width(a).total_cmp(&width(b))) else {
        return Err(conflict(&seen, &pass, remarks));
    };
    let recommended = recommend(&main, &pass, remarks);
    let stages = pass.stages(recommended);
    let profile = Profile::of(&mut search.solver, &pass.problem(&[pass.start], &stages))?;
    about(&main, &stretches, &profile, &pass, remarks);
    let speed = |log: f64| Velocity::from_si(libm::exp(log));
    let recommended = Velocity::from_si(recommended);
    Ok(Window {
        fastest: speed(main.fast.0),
        slowest: speed(main.slow.0),
        recommended,
        dwell: dryer.heated_length() / recommended,
        limits: Limits { fastest: main.fast.1, slowest: main.slow.1 },
        ranges: stretches.iter().map(|s| Range { slowest: speed(s.slow.0), fastest: speed(s.fast.0) }).collect(),
        profile,
        pieces_per_hour: usual_pieces_per_hour(recommended, remarks),
        evaluations: search.looks.saturating_add(1),
    })
}

/// The belt speed to start with, m/s.
fn recommend(main: &Stretch, pass: &BeltPass<'_>, remarks: &mut Remarks) -> f64 {
    let (slowest, fastest) = (libm::exp(main.slow.0), libm::exp(main.fast.0));
    let balanced = if main.slow.1 == Rule::Belt { (fastest / MARGIN).max(slowest) } else { (slowest * fastest).sqrt() };
    if pass.dryer.fitted == Some(true) {
        return balanced;
    }
    remarks.caution(
        "dryer_not_fitted",
        "/dryer",
        "these are the numbers of no dryer that was measured: run a wired probe in the ink, fit the dryer to it (dryer.fit), and until then run no faster than is customary",
    );
    let customary = pass.dryer.heated_length().si() / pass.ink.customary_dwell.si();
    balanced.min(customary.max(slowest))
}

/// No speed is allowed: which rules stand against each other, and what would open a window.
fn conflict(seen: &[Margins], pass: &BeltPass<'_>, remarks: &Remarks) -> Error {
    let cures = seen.iter().any(|margins| margins.cure >= 0.0);
    let cure = remarks.say(pass.ink.cure.temperature, Show::Usual);
    let (rule, what, limit) = if seen.iter().any(|m| m.cure >= 0.0 && m.cloth > 0.0) {
        (Rule::Cloth, "the cloth", pass.cloth.never_above)
    } else {
        (Rule::Ink, "the ink", pass.ink.never_above)
    };
    let hot = format!("{what} is above {}", remarks.say(limit, Show::Usual));
    let too_hot = rule.text();
    // Speeds are looked at from the slowest to the fastest.
    let message = if seen.last().is_some_and(|margins| margins.cure >= 0.0) {
        format!(
            "even on the fastest belt, which cures the ink at {cure}, {hot} (belt against {too_hot}): a faster belt, a cooler or shorter tunnel, or another cloth would open a window"
        )
    } else if cures {
        format!(
            "at every speed that cures the ink at {cure} {hot} (cure against {too_hot}): an ink that cures lower, gentler heat for longer, or another cloth would open a window"
        )
    } else {
        format!(
            "even on the slowest belt the ink does not cure at {cure} (cure against belt): an ink that cures lower, a longer or hotter tunnel, or a second pass would open a window"
        )
    };
    Error::new(Code::NoSolution, "/dryer", message)
}

fn about(main: &Stretch, stretches: &[Stretch], profile: &Profile, pass: &BeltPass<'_>, remarks: &mut Remarks) {
    if stretches.len() > 1 {
        remarks.caution("several_windows", "/dryer", "more than one range of speeds is allowed, with forbidden speeds between them: the widest is given, see ranges");
    }
    if main.fast.0 - main.slow.0 < libm::log(1.2) {
        remarks.caution("narrow_window", "/dryer", "less than a fifth between too fast and too slow: watch belt and temperature, or take an ink that cures lower");
    }
    if let Some(caution) = pass.cloth.caution_above
        && profile.bottom_of_ink.iter().chain(&profile.cloth).any(|temperature| *temperature > caution)
    {
        remarks.caution(
            "dye_migration",
            "/cloth",
            |say: Say| format!("the cloth passes {}, from where its dye moves into the print, at once or within two weeks: an ink that cures lower, and a blocker under it", say.say(caution, Show::Usual)),
        );
    }
    remarks.caution(
        "hot_belt",
        "",
        "hot air, panels and belts burn; overheated ink and discharge agents fume: exhaust to the open air, electrical load and guards as the makers' sheets and local code say, and by licensed hands",
    );
}
