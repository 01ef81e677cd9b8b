//! The belt speeds that a print bears: one march where the tunnel has one zone, else a scan with marches that part where the belts do.

use super::pass::{BeltPass, HEAT_RULES, Margins, RULES, SoFar, TOLERANCE};
use super::window::Rule;
use crate::error::Error;
use crate::flash::print::{Look, Trace};
use crate::heat::{Mark, Refusal, Solver, Span, Stage, rises};
use crate::quantity::Dimensioned;
use crate::root::{self, Bracket, Point, Search};
use crate::work::Work;
use std::ops::ControlFlow;

/// Belt speeds looked at, evenly in their logarithm.
const SCAN: u32 = 25;
/// How an end of a window is looked for: until two speeds are one, as logarithms, in so many looks.
const LOOKS: Search = Search { width: 2e-4, relative_width: 0.0, value: 0.0, margin: 0.02, evaluations: 12 };

/// A stretch of speeds, as logarithms, and the rule at each of its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub slow: (f64, Rule),
    pub fast: (f64, Rule),
}

/// A moment in the first zone, from which a faster and a slower belt part.
struct Fork {
    time: f64,
    mark: Mark,
    so_far: SoFar,
}

/// Looks at trips and counts them. All trips go the same way through the first zone, some shorter, some longer, so it is marched once.
pub(super) struct SpeedSearch<'a> {
    pass: &'a BeltPass<'a>,
    solver: Solver,
    work: &'a mut Work,
    forks: Vec<Fork>,
    pub looks: u32,
}

pub(super) fn refused(refusal: Refusal) -> Error {
    refusal.error(
        ("/dryer/zones", "fewer zones, a belt that goes no slower than it must, or a less extreme film and cloth"),
        "/cloth",
        "/dryer/zones",
    )
}

impl<'a> SpeedSearch<'a> {
    pub fn new(pass: &'a BeltPass<'a>, work: &'a mut Work) -> Self {
        Self { pass, solver: Solver::new(), work, forks: Vec::new(), looks: 0 }
    }

    /// The stretches of allowed speeds between the belt's ends, given as logarithms; in a tunnel of one zone `trace` is filled too.
    pub fn all(&mut self, ends: (f64, f64), trace: &mut Trace) -> Result<Found, Error> {
        if self.pass.zones.len() == 1 { self.one_zone(ends, trace) } else { self.stretches(ends.0, ends.1) }
    }

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
        root::illinois(bracket, &LOOKS.to_accuracy(self.pass.accuracy), |speed| {
            self.look(speed).map(|margins| margins.of(rule))
        })
        .map(|bracket| bracket.holds.at)
    }

    /// Every stretch of allowed speeds between the belt's ends.
    fn stretches(&mut self, slowest: f64, fastest: f64) -> Result<Found, Error> {
        let mut found = Vec::new();
        let mut seen = Vec::new();
        let step = (fastest - slowest) / f64::from(SCAN.saturating_sub(1));
        let first = self.pass.zones.first().map_or(0.0, |zone| zone.length.si());
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
                        (begin, _) => open = begin,
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
    pub fn whole_trip(&mut self, speed: f64, trace: &mut Trace) -> Result<(), Error> {
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
        let length = self.pass.length();
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
                for rule in HEAT_RULES.into_iter().filter(|rule| *rule != Rule::Scorch || pass.cloth.scorch.is_some()) {
                    let above = rises(span.begin, span.end, &|time| -at(time).of(rule));
                    if let Some(time) = above
                        && hot.is_none_or(|(first, _)| time < first)
                    {
                        hot = Some((time, rule));
                    }
                }
            }
            so_far = so_far.until(pass, &span, &look, span.end);
            let done = cured.is_some() && hot.is_some() && at_shortest.is_some();
            if done { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let marched = self.solver.march(&pass.problem(&stages, TOLERANCE), self.work, watch);
        self.work.spend(trace.work());
        marched.map_err(refused)?;
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
pub(super) type Found = (Vec<Stretch>, Vec<Margins>);
