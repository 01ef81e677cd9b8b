//! Between which belt speeds a print is cured and not scorched.

use super::{Dryer, usual_pieces_per_hour};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::flash::print::{FILM, Look, Print, Profile, Trace};
use crate::heat::{Face, Mark, Problem, Refusal, Solver, Span, Stage, rises, step_errors};
use crate::ink::{Gel, Ink};
use crate::quantity::{Dimensioned, GAS_CONSTANT, Length, START, Show, Temperature, Time, Velocity};
use crate::root::{self, Bracket, Point, Search};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use crate::work::Work;
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

    pub fn problem<'p>(&'p self, stages: &'p [Stage], tolerance: f64) -> Problem<'p> {
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
    fn margins(&self, so_far: &SoFar) -> Margins {
        let above = |hottest: f64, limit: Temperature| hottest - limit.si() - TOLERANCE;
        Margins {
            cure: so_far.cure.margin(self),
            ink: above(so_far.ink, self.ink.never_above),
            cloth: above(so_far.cloth, self.cloth.never_above),
        }
    }
}

/// What a print has met on its way so far: its cure, and its hottest ink and cloth, K.
#[derive(Debug, Clone, Copy)]
struct SoFar {
    cure: CureCount,
    ink: f64,
    cloth: f64,
}

impl SoFar {
    const NOTHING: Self = Self {
        cure: CureCount { dry: false, peak: f64::NEG_INFINITY, hold: 0.0 },
        ink: f64::NEG_INFINITY,
        cloth: f64::NEG_INFINITY,
    };

    /// Takes a step in, up to this moment of it.
    fn until(&self, pass: &BeltPass<'_>, span: &Span<'_>, look: &Look, time: f64) -> Self {
        let middle = span.begin.midpoint(time);
        Self {
            cure: self.cure.until(pass, span, look, time),
            ink: self.ink.max(look.hottest_ink(middle)).max(look.hottest_ink(time)),
            cloth: self.cloth.max(look.hottest_cloth(middle)).max(look.hottest_cloth(time)),
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
        let cure = &pass.ink.cure;
        let needs_dry = cure.after_dry || (pass.ink.activation_energy.is_some() && pass.ink.gel == Gel::Dry);
        let mut begin = span.begin;
        if needs_dry && !count.dry {
            let Some(dry) = pass.print.dries(span).filter(|dry| *dry <= end) else { return count };
            (count.dry, begin) = (true, dry);
        }
        let ink = |time: f64| look.bottom_of_ink(time);
        count.peak = count.peak.max(ink(begin)).max(ink(end));
        let hot = cure.temperature.si();
        // The count starts at the cure temperature, or at the gel point where a colder cure counts too.
        let threshold = match (pass.ink.activation_energy, pass.ink.gel) {
            (None, _) => hot,
            (Some(_), Gel::At(gel)) => gel.si(),
            (Some(_), Gel::Dry) => 0.0,
        };
        let (from, to) = match (ink(begin) >= threshold, ink(end) >= threshold) {
            (true, true) => (begin, end),
            (false, false) => return count,
            (first, _) => {
                let (low, high) = root::bisect(begin, end, 40, |time| (ink(time) >= threshold) == first);
                if first { (begin, low) } else { (high, end) }
            }
        };
        count.hold += match pass.ink.activation_energy {
            None => to - from,
            Some(energy) => {
                // Gauss-Legendre, three points: the rate hardly bends within a step.
                let rate = |time: f64| libm::exp(-energy.si() / GAS_CONSTANT * (1.0 / ink(time) - 1.0 / hot));
                let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
                let out = half * (0.6_f64).sqrt();
                half / 9.0 * (5.0 * rate(middle - out) + 8.0 * rate(middle) + 5.0 * rate(middle + out))
            }
        };
        count
    }
}

/// A stretch of speeds, as logarithms, and the rule at each of its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stretch {
    slow: (f64, Rule),
    fast: (f64, Rule),
}

/// A moment in the first zone, from which a faster and a slower belt part.
struct Fork {
    time: f64,
    mark: Mark,
    so_far: SoFar,
}

/// Looks at trips and counts them. All trips go the same way through the first zone, some shorter, some longer, so it is marched once.
struct SpeedSearch<'a> {
    pass: &'a BeltPass<'a>,
    solver: Solver,
    work: &'a mut Work,
    forks: Vec<Fork>,
    looks: u32,
}

fn refused(refusal: Refusal) -> Error {
    refusal.error(
        ("/dryer/zones", "fewer zones, a belt that goes no slower than it must, or a less extreme film and cloth"),
        "/cloth",
        "/dryer/zones",
    )
}

impl SpeedSearch<'_> {
    /// The way through the first zone, with a fork at each of these dwells in it, ascending.
    fn first_zone(&mut self, dwells: &[f64]) -> Result<(), Error> {
        let stages = self.pass.stages(1.0);
        let Some(stage) = stages.first().copied() else { return Ok(()) };
        let longest = dwells.last().copied().unwrap_or(0.0);
        self.solver.lay_out(&self.pass.problem(&stages, TOLERANCE)).map_err(refused)?;
        let mut begin = Fork { time: 0.0, mark: Mark::default(), so_far: SoFar::NOTHING };
        self.solver.mark(&mut begin.mark);
        let mut so_far = begin.so_far;
        let Self { pass, solver, work, forks, .. } = self;
        forks.push(begin);
        let mut waiting = dwells.iter().peekable();
        let watch = |span: Span<'_>| {
            let look = Look::at(&span);
            while let Some(dwell) = waiting.next_if(|dwell| **dwell <= span.end) {
                let mut mark = Mark::default();
                span.mark(*dwell, &mut mark);
                forks.push(Fork { time: *dwell, mark, so_far: so_far.until(pass, &span, &look, *dwell) });
            }
            so_far = so_far.until(pass, &span, &look, span.end);
            ControlFlow::Continue(())
        };
        solver.go_on(&[Stage { duration: longest, ..stage }], work, watch).map_err(refused)?;
        Ok(())
    }

    /// One trip, told step by step; the steps begin at the last fork before the end of the first zone.
    fn look(&mut self, log_speed: f64) -> Result<Margins, Error> {
        self.looks = self.looks.saturating_add(1);
        let speed = libm::exp(log_speed);
        let mut stages = self.pass.stages(speed);
        let first = stages.first().map_or(0.0, |stage| stage.duration);
        let Self { pass, solver, work, forks, .. } = self;
        let Some(fork) = forks.iter().rev().find(|fork| fork.time <= first * (1.0 + 1e-12)) else {
            return Ok(pass.margins(&SoFar::NOTHING));
        };
        solver.back_to(&fork.mark);
        if let Some(stage) = stages.first_mut() {
            stage.duration = (first - fork.time).max(0.0);
        }
        if first - fork.time <= 1e-12 * first {
            stages.remove(0);
        }
        let mut so_far = fork.so_far;
        let step = |span: Span<'_>| {
            let look = Look::at(&span);
            so_far = so_far.until(pass, &span, &look, span.end);
            ControlFlow::Continue(())
        };
        solver.go_on(&stages, work, step).map_err(refused)?;
        Ok(pass.margins(&so_far))
    }

    /// Where a rule changes between two speeds: the side on which it is kept. A film that never dries has no finite margin.
    fn change(&mut self, rule: Rule, low: (f64, Margins), high: (f64, Margins)) -> Result<f64, Error> {
        let point = |(at, margins): (f64, Margins)| Point { at, value: margins.of(rule) };
        let Some(bracket) = Bracket::between(point(low), point(high)) else { return Ok(high.0) };
        root::illinois(bracket, &LOOKS, |speed| self.look(speed).map(|margins| margins.of(rule)))
            .map(|bracket| bracket.holds.at)
    }

    /// Every stretch of allowed speeds between the belt's ends.
    fn stretches(&mut self, slowest: f64, fastest: f64) -> Result<Found, Error> {
        let mut found = Vec::new();
        let mut seen = Vec::new();
        let step = (fastest - slowest) / f64::from(SCAN.saturating_sub(1));
        let first = self.pass.dryer.zones.first().map_or(0.0, |zone| zone.length.si());
        let dwells: Vec<f64> = (0..SCAN).rev().map(|i| first / libm::exp(slowest + step * f64::from(i))).collect();
        self.first_zone(&dwells)?;
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

    /// A whole trip, written down.
    fn whole_trip(&mut self, speed: f64, trace: &mut Trace) -> Result<(), Error> {
        self.looks = self.looks.saturating_add(1);
        let stages = self.pass.stages(speed);
        let watch = |span: Span<'_>| {
            trace.record(&span, &Look::at(&span));
            ControlFlow::Continue(())
        };
        self.solver.march(&self.pass.problem(&stages, TOLERANCE), self.work, watch).map_err(refused).map(|_| ())
    }

    /// The allowed speeds of a tunnel of one zone. The way to the exit does not depend on the belt there, so one march tells all: what
    /// is cured and what is too hot stays so, and when each comes about is an event of it.
    fn one_zone(&mut self, (slowest, fastest): (f64, f64), trace: &mut Trace) -> Result<Found, Error> {
        self.looks = self.looks.saturating_add(1);
        let length = self.pass.dryer.heated_length().si();
        let (shortest, longest) = (length / libm::exp(fastest), length / libm::exp(slowest));
        let stages = self.pass.stages(libm::exp(slowest));
        let pass = self.pass;
        let mut so_far = SoFar::NOTHING;
        let (mut cured, mut hot, mut at_shortest, mut at_cure) = (None, None, None, None);
        let watch = |span: Span<'_>| {
            let look = Look::at(&span);
            trace.record(&span, &look);
            let at = |time: f64| pass.margins(&so_far.until(pass, &span, &look, time));
            if at_shortest.is_none() && span.end >= shortest {
                at_shortest = Some(at(shortest));
            }
            if cured.is_none() {
                cured = rises(span.begin, span.end, &|time| 100.0 * at(time).cure);
                at_cure = cured.map(at);
            }
            if hot.is_none() {
                let above = |rule: Rule| rises(span.begin, span.end, &|time| -at(time).of(rule));
                hot = match (above(Rule::Ink), above(Rule::Cloth)) {
                    (Some(ink), Some(cloth)) if cloth < ink => Some((cloth, Rule::Cloth)),
                    (Some(ink), _) => Some((ink, Rule::Ink)),
                    (None, cloth) => cloth.map(|cloth| (cloth, Rule::Cloth)),
                };
            }
            so_far = so_far.until(pass, &span, &look, span.end);
            let done = cured.is_some() && hot.is_some() && at_shortest.is_some();
            if done { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        self.solver.march(&pass.problem(&stages, TOLERANCE), self.work, watch).map_err(refused)?;
        let seen = [Some(pass.margins(&so_far)), at_cure, at_shortest].into_iter().flatten().collect();
        let log_speed = |time: f64| libm::log(length / time);
        let fast = cured.map(|time| {
            if time <= shortest { (fastest, Rule::Belt) } else { (log_speed(time).max(slowest), Rule::Cure) }
        });
        let slow = match hot {
            Some((time, rule)) if time < longest => (log_speed(time).min(fastest), rule),
            _ => (slowest, Rule::Belt),
        };
        let too_soon = hot.is_some_and(|(time, _)| time < shortest);
        let found = fast.filter(|fast| !too_soon && slow.0 <= fast.0).map(|fast| Stretch { slow, fast });
        Ok((found.into_iter().collect(), seen))
    }
}

/// Stretches of allowed speeds, and margins from the slowest to the fastest that were looked at.
type Found = (Vec<Stretch>, Vec<Margins>);

/// The belt speeds that cure and do not scorch.
///
/// # Errors
/// `no_solution` where no speed does, with the rules that conflict; `impossible` for a belt whose least is above its most;
/// what the solver refuses.
pub(crate) fn window(request: &WindowRequest, remarks: &mut Remarks) -> Result<Window, Error> {
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
    let ends = (libm::log(dryer.belt_least.si()), libm::log(dryer.belt_most.si()));
    let mut work = *remarks.work();
    let mut search = SpeedSearch { pass: &pass, solver: Solver::new(), work: &mut work, forks: Vec::new(), looks: 0 };
    let mut trace = Trace::default();
    let one_zone = dryer.zones.len() == 1;
    let (stretches, seen) =
        if one_zone { search.one_zone(ends, &mut trace)? } else { search.stretches(ends.0, ends.1)? };
    let width = |stretch: &Stretch| stretch.fast.0 - stretch.slow.0;
    let Some(main) = stretches.iter().copied().max_by(|a, b| width(a).total_cmp(&width(b))) else {
        return Err(conflict(&seen, &pass, remarks));
    };
    let recommended = recommend(&main, &pass, remarks);
    if !one_zone {
        search.whole_trip(recommended, &mut trace)?;
    }
    let looks = search.looks;
    *remarks.work() = work;
    let dwell: Time = dryer.heated_length() / Velocity::from_si(recommended);
    let profile = trace.profile(dwell.si());
    about(&main, &stretches, &profile, &pass, remarks);
    let speed = |log: f64| Velocity::from_si(libm::exp(log));
    let recommended = Velocity::from_si(recommended);
    Ok(Window {
        fastest: speed(main.fast.0),
        slowest: speed(main.slow.0),
        recommended,
        dwell,
        limits: Limits { fastest: main.fast.1, slowest: main.slow.1 },
        ranges: stretches.iter().map(|s| Range { slowest: speed(s.slow.0), fastest: speed(s.fast.0) }).collect(),
        profile,
        pieces_per_hour: usual_pieces_per_hour(recommended, remarks),
        evaluations: looks,
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
