//! What a step looks like inside: its dense output at the places that are looked at.

use super::faces::Face;
use super::halves::Halves;
use super::stack::{Node, Stack, Store};
use super::step::DRY;
use crate::root::{Bracket, Point, Search, illinois};

/// How an event is looked for: until it is met by less than a hundred-thousandth of a kelvin.
const EVENT: Search = Search { width: 1e-9, relative_width: 1e-12, value: 1e-5, margin: 0.0, evaluations: 40 };
/// Newton steps of a face towards the balance with its cell, from where the dense output has it.
const FACE_STEPS: u32 = 3;

/// A place in the stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The top face.
    Top,
    /// The joint under a layer, counted from 0; the bottom face under the last one.
    Joint(usize),
    /// The bottom face.
    Bottom,
}

/// The dense output of one unknown.
#[derive(Debug, Clone, Copy, Default)]
struct Quartic {
    begin: f64,
    end: f64,
    third: f64,
    fourth: f64,
}

impl Quartic {
    fn at(&self, x: f64) -> f64 {
        (1.0 - x) * self.begin + x * (self.end + (1.0 - x) * (self.third + x * self.fourth))
    }
}

/// A node over a step.
#[derive(Debug, Clone, Copy)]
struct NodePath {
    /// Of the temperature, K, or of the heat content above the start, J/m2.
    unknown: Quartic,
    /// Where it is known by its heat: what it had released before, its bound water's heat, its capacity, and the start.
    heat: Option<(f64, f64, Quartic, f64)>,
}

impl NodePath {
    fn of(stack: &Stack, index: usize) -> Self {
        let (place, lower) = stack.place(index);
        let Some(node) = stack.nodes.get(place) else { return Self { unknown: Quartic::default(), heat: None } };
        let pick = |halves: Halves| halves.of(lower);
        let by_heat =
            (1..stack.by_heat()).contains(&place) && (node.store.bound.of(lower) > 0.0 || node.film.of(lower) > 0.0);
        if !by_heat {
            let unknown = Quartic {
                begin: pick(node.temperature_before),
                end: pick(node.temperature),
                third: pick(node.third),
                fourth: pick(node.fourth),
            };
            return Self { unknown, heat: None };
        }
        let unknown = Quartic {
            begin: pick(node.heat_before),
            end: pick(node.heat),
            third: pick(node.slope * node.third + node.carried * stack.water_third),
            fourth: pick(node.slope * node.fourth + node.carried * stack.water_fourth),
        };
        let (dry, film) = (pick(node.store.capacity), pick(node.film));
        let capacity = Quartic {
            begin: dry + film * stack.water_before,
            end: dry + film * stack.water,
            third: film * stack.water_third,
            fourth: film * stack.water_fourth,
        };
        Self { unknown, heat: Some((pick(node.left_before), pick(node.store.bound), capacity, stack.start)) }
    }

    fn at(&self, x: f64) -> f64 {
        let value = self.unknown.at(x);
        let Some((left, bound, capacity, start)) = &self.heat else { return value };
        let store = Store::of(Halves::both(capacity.at(x)), Halves::both(*bound), *start);
        start + store.warmth(Halves::both(value), Halves::both(*left)).upper
    }
}

/// The temperature of a place over a step.
#[derive(Debug, Clone, Copy)]
pub struct Path {
    begin: f64,
    end: f64,
    what: What,
}

#[derive(Debug, Clone, Copy)]
enum What {
    Node(NodePath),
    /// Between two cells: both, and the share of the upper one.
    Between(NodePath, NodePath, f64),
    /// A face, whose cell bends where its own dense output does not: it is in balance with it.
    Face(NodePath, NodePath, Face, f64),
}

impl Path {
    pub(super) fn face(stack: &Stack, lower: bool, (begin, end): (f64, f64)) -> Self {
        let last = stack.cells().saturating_add(1);
        let (face, cell) = if lower { (last, last.saturating_sub(1)) } else { (0, 1) };
        let (own, cell) = (NodePath::of(stack, face), NodePath::of(stack, cell));
        let met = if lower { stack.bottom } else { stack.top };
        let conductance = stack.nodes.first().map_or(0.0, |node: &Node| node.inward.of(lower));
        let dries = !lower && stack.water_before > 0.0;
        let what = match cell.heat {
            Some((_, bound, ..)) if bound > 0.0 && !dries && met.held.is_none() => {
                What::Face(own, cell, met, conductance)
            }
            _ => What::Node(own),
        };
        Self { begin, end, what }
    }

    /// A face at the very start is as warm as its cell: what it meets has had no time.
    pub(super) fn cell(stack: &Stack, index: usize, (begin, end): (f64, f64)) -> Self {
        Self { begin, end, what: What::Node(NodePath::of(stack, index)) }
    }

    pub(super) fn joint(stack: &Stack, above: usize, share: f64, (begin, end): (f64, f64)) -> Self {
        let (above, below) = (NodePath::of(stack, above), NodePath::of(stack, above.saturating_add(1)));
        Self { begin, end, what: What::Between(above, below, share) }
    }

    /// Temperature at a moment of the step, K.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        let x = share(time, self.begin, self.end);
        match &self.what {
            What::Node(node) => node.at(x),
            What::Between(above, below, share) => share * above.at(x) + (1.0 - share) * below.at(x),
            What::Face(own, cell, face, conductance) => {
                let (mut temperature, cell) = (own.at(x), cell.at(x));
                for _ in 0..FACE_STEPS {
                    let balance = face.heat(temperature) + conductance * (cell - temperature);
                    temperature -= balance / (face.slope(temperature) - conductance);
                }
                temperature
            }
        }
    }
}

/// The film's water over a step, kg/m2.
#[derive(Debug, Clone, Copy)]
pub struct WaterPath {
    begin: f64,
    end: f64,
    water: Quartic,
    dry: f64,
}

impl WaterPath {
    pub(super) fn of(stack: &Stack, (begin, end): (f64, f64)) -> Self {
        let water = Quartic {
            begin: stack.water_before,
            end: stack.water,
            third: stack.water_third,
            fourth: stack.water_fourth,
        };
        Self { begin, end, water, dry: DRY * stack.wet }
    }

    /// Water left at a moment of the step.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        let left = self.water.at(share(time, self.begin, self.end));
        if left > self.dry { left } else { 0.0 }
    }
}

/// How far into a step a moment is.
pub(super) fn share(time: f64, begin: f64, end: f64) -> f64 {
    if end > begin { ((time - begin) / (end - begin)).clamp(0.0, 1.0) } else { 1.0 }
}

/// When a function first rises through zero between two moments: the far side of the root, so that it is met there. A peak
/// between them is seen where it stands out in the middle.
pub fn rises(begin: f64, end: f64, of: &dyn Fn(f64) -> f64) -> Option<f64> {
    let point = |at: f64| Point { at, value: of(at) };
    let first = point(begin);
    if first.value >= 0.0 {
        return Some(begin);
    }
    let (middle, last) = (point(begin.midpoint(end)), point(end));
    let reached = [middle, last].into_iter().find(|point| point.value >= 0.0)?;
    let bracket = Bracket::between(first, reached)?;
    let found = illinois(bracket, &EVENT, |at| Ok::<f64, core::convert::Infallible>(of(at)));
    found.ok().map(|bracket| bracket.holds.at)
}
