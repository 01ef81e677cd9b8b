//! Visits the numbers of a record, and sets one by its pointer: without JSON, in SI base units.

use super::field::{Kind, Slot, View};
use super::read::check_count;
use super::record::Record;
use super::{At, Remarks};
use crate::error::{Code, Error};
use crate::quantity::{Dimension, Rules, Show, Unit};
use serde_json::Value;

/// A content of a record that holds no others.
pub(crate) struct Leaf<'a> {
    pub at: At<'a>,
    /// Tells its place from others by a number.
    pub key: u64,
    pub view: View<'a>,
    pub show: Show,
    /// Whether it is a word of a list of words, which says more than its text.
    pub is_word: bool,
    /// Whether it stands in a list of numbers.
    pub is_listed: bool,
}

impl Leaf<'_> {
    /// The number here, with the unit that it is shown in where that is its own, in SI base units; a truth value is none.
    pub fn number(&self) -> Option<(Dimension, Option<Unit>, f64)> {
        match self.view {
            View::Number(dimension, si) => Some((dimension, None, si)),
            View::InUnit(si, unit) => Some((unit.dimension, Some(unit), si)),
            View::Count(count) => Some((Dimension::Fraction, None, f64::from(count))),
            View::Integer(integer) => Some((Dimension::Fraction, None, f64::from(integer))),
            View::Rounded(_, unrounded) => Some((Dimension::Fraction, None, unrounded)),
            // Before any rounding, in its own unit.
            View::Money(money) => Some((
                Dimension::Fraction,
                Some(Unit::of_money(money.currency().unwrap_or_default())),
                money.unrounded(),
            )),
            _ => None,
        }
    }
}

/// Calls `visit` for every number of the record (quantities, plain numbers, counts; a truth value is 0 or 1), with its
/// place, its dimension and its value in SI base units.
pub fn visit(record: &dyn Record, visit: &mut dyn FnMut(At<'_>, Dimension, f64)) {
    leaves(record, &mut |leaf| match (leaf.number(), &leaf.view) {
        (Some((dimension, _, si)), _) => visit(leaf.at, dimension, si),
        (None, View::Flag(flag)) => visit(leaf.at, Dimension::Fraction, f64::from(u8::from(*flag))),
        _ => {}
    });
}

/// Calls `visit` for every leaf of the record that is not absent, in the order in which it is written; an empty list is one.
pub(crate) fn leaves(record: &dyn Record, visit: &mut dyn FnMut(&Leaf<'_>)) {
    within(record, At::ROOT, 0, visit);
}

fn within(record: &dyn Record, at: At<'_>, key: u64, visit: &mut dyn FnMut(&Leaf<'_>)) {
    for (index, field) in record.table().fields.iter().enumerate() {
        let place = Place { at: at.key(field.name), key: inner(key, index), show: field.show, is_listed: false };
        content(record.view(index), field.kind.content(), place, visit);
    }
}

/// Where a content stands.
struct Place<'a> {
    at: At<'a>,
    key: u64,
    show: Show,
    is_listed: bool,
}

fn inner(key: u64, index: usize) -> u64 {
    (key.rotate_left(5) ^ (index as u64).wrapping_add(1)).wrapping_mul(0x9e37_79b9_7f4a_7c15)
}

fn content(view: View<'_>, kind: &Kind, place: Place<'_>, visit: &mut dyn FnMut(&Leaf<'_>)) {
    let Place { at, key, show, is_listed } = place;
    match view {
        View::Record(record) => within(record, at, key, visit),
        View::List(list) if list.count() > 0 => {
            let item = if let Kind::List(item, _) = kind { item.content() } else { kind };
            for index in 0..list.count() {
                let place = Place { at: at.index(index), key: inner(key, index), show, is_listed: true };
                content(list.item(index), item, place, visit);
            }
        }
        View::Own(own) => content(own.shown(), kind, Place { at, key, show, is_listed }, visit),
        View::Absent => {}
        view => visit(&Leaf { at, key, view, show, is_word: matches!(kind, Kind::Word(..)), is_listed }),
    }
}

/// The way to a content of a record: places of fields in their tables, and of entries in their lists, from the root.
pub(crate) type Path = Vec<usize>;

/// The way to where a JSON pointer leads in a request. All on it counts as given from then on; a record on it that was absent begins
/// blank.
///
/// # Errors
/// `unknown_field` for a pointer that leads nowhere.
pub(crate) fn path(record: &mut dyn Record, pointer: &str) -> Result<Path, Error> {
    let mut path = Path::new();
    let steps = pointer.strip_prefix('/').ok_or_else(|| nowhere(pointer))?;
    let mut slot = Slot::Record(record);
    for step in steps.split('/') {
        let index;
        slot = match contents(slot) {
            Slot::Record(record) => {
                index = record.table().find(step).ok_or_else(|| nowhere(pointer))?;
                if let Some(given) = record.given_mut() {
                    given.mark(index, true);
                }
                record.slot(index)
            }
            Slot::List(list, _) => {
                index = step.parse().map_err(|_| nowhere(pointer))?;
                list.item_mut(index)
            }
            _ => return Err(nowhere(pointer)),
        }
        .ok_or_else(|| nowhere(pointer))?;
        path.push(index);
    }
    Ok(path)
}

/// What is within a form of its own, if there is something with places of its own.
fn contents(slot: Slot<'_>) -> Slot<'_> {
    match slot {
        Slot::Own(own) => own.inside().map_or(Slot::AnswerOnly, |(slot, _)| slot),
        slot => slot,
    }
}

/// The content at the end of a way into a request, and the rules of its field.
pub(crate) fn place<'a>(record: &'a mut dyn Record, path: &[usize]) -> Option<(Slot<'a>, &'static Rules)> {
    let mut rules = &Rules::NONE;
    let mut slot = Slot::Record(record);
    for index in path {
        slot = match contents(slot) {
            Slot::Record(record) => {
                rules = record.table().fields.get(*index)?.rules;
                record.slot(*index)?
            }
            Slot::List(list, _) => list.item_mut(*index)?,
            _ => return None,
        };
    }
    Some((slot, rules))
}

/// The number at the end of a way into a request, and its rules.
pub(crate) fn number<'a>(record: &'a mut dyn Record, path: &[usize]) -> Option<(Slot<'a>, &'static Rules)> {
    let (slot, rules) = match place(record, path)? {
        (Slot::Own(own), _) => own.inside()?,
        found => found,
    };
    matches!(slot, Slot::Number(..) | Slot::Count(_)).then_some((slot, rules))
}

/// Puts a number, in SI base units, at the end of a way into a request.
///
/// # Errors
/// `out_of_range` for a count that cannot be; what else is out of range is found by the check.
#[inline]
pub(crate) fn put(record: &mut dyn Record, path: &[usize], value: f64, pointer: &str) -> Result<(), Error> {
    // Rows of numbers come this way: the fields of the request itself are set where they are, since it takes long to hand a slot on.
    if let [index] = path {
        match record.slot(*index) {
            Some(Slot::Number(_, place)) => {
                *place = value + 0.0;
                return Ok(());
            }
            Some(Slot::Count(place)) => {
                *place = value as u32;
                if f64::from(*place) - value == 0.0 {
                    return Ok(());
                }
            }
            _ => {}
        }
    }
    put_anywhere(record, path, value, pointer)
}

#[cold]
fn put_anywhere(record: &mut dyn Record, path: &[usize], value: f64, pointer: &str) -> Result<(), Error> {
    match number(record, path) {
        Some((Slot::Number(_, place), _)) => {
            *place = value + 0.0;
            Ok(())
        }
        Some((Slot::Count(place), rules)) => {
            let at = At::ROOT.key(pointer.rsplit('/').next().unwrap_or_default());
            check_count(value, at, rules, &mut Remarks::counting(), || Value::from(value))
                .map_err(|error| Error { field: pointer.to_owned(), ..error })?;
            *place = value as u32;
            Ok(())
        }
        _ => Err(no_number(pointer)),
    }
}

/// The record that holds the end of a way, and the place of that in it.
fn holder<'a>(record: &'a mut dyn Record, path: &[usize]) -> Option<(&'a mut dyn Record, usize)> {
    let (last, way) = path.split_last()?;
    if way.is_empty() {
        return Some((record, *last));
    }
    match place(record, way)? {
        (Slot::Record(holder), _) => Some((holder, *last)),
        _ => None,
    }
}

/// Whether something follows where this is varied.
pub(crate) fn leads(record: &mut dyn Record, path: &[usize]) -> bool {
    holder(record, path).is_some_and(|(holder, _)| holder.table().varied.is_some())
}

/// Lets what hangs on a content that was varied follow it, in the record that holds it.
pub(crate) fn follow(record: &mut dyn Record, path: &[usize]) {
    if let Some((holder, index)) = holder(record, path)
        && let Some(varied) = holder.table().varied
    {
        varied(holder, index);
    }
}

/// Sets the number at a JSON pointer into the record, in SI base units; from then on it was given. A record on the way
/// that was absent begins blank. Ranges are those of the record's check, which every answer makes.
///
/// # Errors
/// `unknown_field` for a pointer that leads nowhere, `wrong_type` for one that leads to no number, `out_of_range` for a
/// count that is no whole number.
pub fn set(record: &mut dyn Record, pointer: &str, value: f64) -> Result<(), Error> {
    let path = path(record, pointer)?;
    put(record, &path, value, pointer)
}

/// What stands at the end of a way into a record; absent beyond the end of a list.
pub(crate) fn view<'a>(record: &'a dyn Record, path: &[usize]) -> View<'a> {
    let mut view = View::Record(record);
    for index in path {
        view = match shown(view) {
            View::Record(record) => record.view(*index),
            View::List(list) if *index < list.count() => list.item(*index),
            _ => return View::Absent,
        };
    }
    shown(view)
}

fn shown(view: View<'_>) -> View<'_> {
    match view {
        View::Own(own) => own.shown(),
        view => view,
    }
}

fn nowhere(pointer: &str) -> Error {
    Error::new(Code::UnknownField, pointer, "the request has no such field")
}

pub(crate) fn no_number(pointer: &str) -> Error {
    Error::new(Code::WrongType, pointer, "there is no number at this pointer")
}
