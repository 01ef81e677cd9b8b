//! Which input gives a wanted answer.

use super::sweep::MOST_WORK;
use super::target::{Base, Vary, Want, given, members, number};
use crate::error::{Code, Error};
use crate::root::{self, Bracket, Point, Search};
use crate::wire::{At, Evaluations, Record, Shared, refuse_doubts};
use crate::work::Work;
use serde_json::{Value, json};

/// Points looked at first, evenly from end to end.
const SCAN: u32 = 17;
/// Most evaluations after them.
const MOST_EVALUATIONS: u32 = 60;
/// A bracket is narrow enough at this share of the argument.
const NARROW: f64 = 1e-13;
/// An answer that comes no nearer than this share of all that it changes between the ends jumps over what is wanted.
const JUMP: f64 = 1e-6;

/// Finds the value of an input at which a number of the answer is what is wanted.
///
/// `spec` has `vary` (a pointer into the request's record), `from` and `to`, `want` (a pointer into the answer, or an object with
/// `at` and `unit`) and `equals`. Seventeen points are looked at; each change of sign between two neighbours is closed in on by the
/// Illinois method, whole numbers by bisection, in 60 evaluations more at the most. Inside all is in SI base units.
///
/// The answer has `value`, the first of them, `reached`, what the answer is there, `others`, `evaluations`, and `jump`: whether the
/// answer passes over the wanted value there without taking it.
///
/// # Errors
/// `no_solution` where nothing changes its sign, with what the answer is at both ends; what is wrong with the request or the
/// specification.
///
/// ```
/// use serde_json::json;
/// let request = json!({ "mesh": "77-55", "ink": "plastisol" });
/// let spec = json!({ "vary": "/over_mesh", "from": "0 um", "to": "200 um", "want": "/wet_film", "equals": "14 um" });
/// let error = floodbar::solve("ink.deposit", &request, &spec).unwrap_err();
/// assert_eq!(error.code.text(), "no_solution"); // a wide solid takes nothing from its stencil
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn solve(id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
    with(None, id, request, spec)
}

/// The same, with a memory for heat.
pub(super) fn with(memory: Option<&Shared>, id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
    members(spec, &["vary", "from", "to", "want", "equals"])?;
    let mut base = Base::read(memory, id, request)?;
    let vary = Vary::of(&mut base, spec)?;
    base.check()?;
    refuse_doubts(&base.doubts)?;
    let (from, to) = (vary.end(spec, "from")?, vary.end(spec, "to")?);
    if from >= to {
        return Err(Error::new(Code::Impossible, "/from", "`from` is not below `to`"));
    }
    let want = Want::of(&base, given(spec, "want")?, At::ROOT.key("want"))?;
    let equals = number(given(spec, "equals")?, At::ROOT.key("equals"), want.dimension)?;
    let evaluate = base.work();
    let evaluations =
        Evaluations::new(base.options, base.memory.as_ref(), &evaluate).within(Work::of_evaluations(MOST_WORK), 1);
    let record = base.copy()?;
    let mut search =
        Looks { base: &base, evaluations, record, vary: &vary, want: &want, equals, looks: 0, fault: None };
    let whole = vary.number.is_some_and(|number| number.is_whole);
    let mut seen: Vec<Point> = Vec::new();
    for step in 0..SCAN {
        let at = from + (to - from) * (f64::from(step) / f64::from(SCAN.saturating_sub(1)));
        let at = if step.saturating_add(1) == SCAN { to } else { at };
        let at = if whole { at.round() } else { at };
        if seen.last().is_none_or(|last| at > last.at) {
            seen.push(Point { at, value: search.off(at) });
        }
    }
    let span = seen.iter().map(|point| point.value).filter(|value| value.is_finite());
    let (least, most) =
        span.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), value| (least.min(value), most.max(value)));
    let brackets: Vec<(Point, Point)> = seen
        .windows(2)
        .filter_map(|pair| match pair {
            [one, other] if one.value.is_finite() && other.value.is_finite() => Some((*one, *other)),
            _ => None,
        })
        .filter(|(one, other)| (one.value >= 0.0) != (other.value >= 0.0))
        .collect();
    let each = MOST_EVALUATIONS.checked_div(u32::try_from(brackets.len()).unwrap_or(u32::MAX)).unwrap_or(0);
    let mut found: Vec<(f64, bool)> =
        seen.iter().filter(|point| point.value.abs() <= 0.0).map(|point| (point.at, false)).collect();
    for (one, other) in brackets.into_iter().filter(|(one, other)| one.value.abs() > 0.0 && other.value.abs() > 0.0) {
        let narrowed = search.narrowed(one, other, each);
        let Bracket { holds, fails } = narrowed;
        let jump = holds.value.min(-fails.value) > JUMP * (most - least);
        found.push((if holds.value <= -fails.value { holds.at } else { fails.at }, jump));
    }
    if search.evaluations.is_spent() {
        return Err(Error::new(Code::TooLong, "/vary", "finding this is more work than one search may be"));
    }
    crate::sorted::by_number(&mut found, |(at, _)| *at);
    let Some((value, jump)) = found.first().copied() else {
        return Err(none(&seen, &search));
    };
    let reached = search.off(value) + equals;
    Ok(json!({
        "vary": vary.pointer,
        "value": vary.told(value),
        "reached": want.told(reached),
        "jump": jump,
        "evaluations": search.looks,
        "others": found.iter().skip(1).map(|(at, _)| vary.told(*at)).collect::<Vec<_>>(),
    }))
}

/// The evaluations of a search.
struct Looks<'a> {
    base: &'a Base,
    evaluations: Evaluations<'a>,
    record: Box<dyn Record>,
    vary: &'a Vary,
    want: &'a Want,
    equals: f64,
    looks: u32,
    /// The first error that a point gave.
    fault: Option<Error>,
}

impl Looks<'_> {
    /// How far the answer is above what is wanted; not a number where there is none.
    fn off(&mut self, at: f64) -> f64 {
        self.looks = self.looks.saturating_add(1);
        // What followed the value before is as it was.
        let copied = if self.vary.leads { self.base.copy().map(|copy| self.record = copy) } else { Ok(()) };
        let set = copied.and_then(|()| self.vary.set(&mut *self.record, at));
        match set.and_then(|()| self.evaluations.silent(&*self.record, 1.0)) {
            Ok(answer) => self.want.read(&*answer.record).map_or(f64::NAN, |value| value - self.equals),
            Err(error) => {
                self.fault.get_or_insert(error);
                f64::NAN
            }
        }
    }

    /// Closes in on a change of sign.
    fn narrowed(&mut self, one: Point, other: Point, evaluations: u32) -> Bracket {
        let (holds, fails) = if one.value >= 0.0 { (one, other) } else { (other, one) };
        let bracket = Bracket { holds, fails };
        if self.vary.number.is_some_and(|number| number.is_whole) {
            return self.halved(bracket);
        }
        let search = Search { width: 0.0, relative_width: NARROW, value: 0.0, margin: 0.0, evaluations };
        let found = root::illinois(bracket, &search, |at| Ok::<_, core::convert::Infallible>(self.off(at)));
        found.unwrap_or(bracket)
    }

    /// Two whole numbers that are neighbours.
    fn halved(&mut self, mut bracket: Bracket) -> Bracket {
        while bracket.width() > 1.0 {
            let at = bracket.holds.at.midpoint(bracket.fails.at).floor();
            let point = Point { at, value: self.off(at) };
            if point.value >= 0.0 {
                bracket.holds = point;
            } else {
                bracket.fails = point;
            }
        }
        bracket
    }
}

/// Nothing changes its sign: what the answer is at both ends, or why there is none.
fn none(seen: &[Point], search: &Looks<'_>) -> Error {
    let end = |point: Option<&Point>| match point {
        Some(point) if point.value.is_finite() => Some(search.want.worded(point.value + search.equals)),
        _ => None,
    };
    let message = match (end(seen.first()), end(seen.last()), &search.fault) {
        (Some(first), Some(last), _) => format!("the answer goes from {first} to {last} and never takes this value"),
        (_, _, Some(fault)) => format!("not every point has an answer, and none takes this value: {fault}"),
        _ => "no point has this member of the answer".to_owned(),
    };
    Error::new(Code::NoSolution, "/equals", message)
}
