//! Visits the numbers of a record, and sets one by its pointer: without JSON, in SI base units.

use super::At;
use super::field::{Slot, View};
use super::record::Record;
use crate::error::{Code, Error};
use crate::quantity::{Dimension, Rules, Show};

/// Calls `visit` for every number of the record (quantities, plain numbers, counts; a truth value is 0 or 1), with its
/// place, its dimension and its value in SI base units.
pub fn visit(record: &dyn Record, visit: &mut dyn FnMut(At<'_>, Dimension, f64)) {
    within(record, At::ROOT, visit);
}

fn within(record: &dyn Record, at: At<'_>, visit: &mut dyn FnMut(At<'_>, Dimension, f64)) {
    for (index, field) in record.table().fields.iter().enumerate() {
        content(&record.view(index), at.key(field.name), visit);
    }
}

fn content(view: &View<'_>, at: At<'_>, visit: &mut dyn FnMut(At<'_>, Dimension, f64)) {
    match view {
        View::Number(dimension, si) => visit(at, *dimension, *si),
        View::InUnit(si, unit) => visit(at, unit.dimension, *si),
        View::Count(count) => visit(at, Dimension::Fraction, f64::from(*count)),
        View::Integer(integer) => visit(at, Dimension::Fraction, f64::from(*integer)),
        View::Flag(flag) => visit(at, Dimension::Fraction, f64::from(u8::from(*flag))),
        View::Record(record) => within(*record, at, visit),
        View::List(list) => (0..list.count()).for_each(|index| content(&list.item(index), at.index(index), visit)),
        View::Own(own) => content(&own.shown(), at, visit),
        View::Absent | View::Text(_) => {}
    }
}

/// What to do with the place that a pointer leads to: its slot, and the rules of its field.
type Found<'a> = &'a mut dyn FnMut(Slot<'_>, &'static Rules) -> Result<(), Error>;

/// Goes to the place at a JSON pointer into the record; from then on it counts as given. A record on the way that was absent begins
/// blank.
///
/// # Errors
/// `unknown_field` for a pointer that leads nowhere, and those of `found`.
pub(crate) fn reach(record: &mut dyn Record, pointer: &str, found: Found<'_>) -> Result<(), Error> {
    let steps = pointer.strip_prefix('/').ok_or_else(|| nowhere(pointer))?;
    reach_in(record, steps, pointer, found)
}

fn reach_in(record: &mut dyn Record, steps: &str, pointer: &str, found: Found<'_>) -> Result<(), Error> {
    let (step, rest) = head(steps);
    let table = record.table();
    let index = table.find(step).ok_or_else(|| nowhere(pointer))?;
    let rules = table.fields.get(index).map_or(&Rules::NONE, |field| field.rules);
    if let Some(given) = record.given_mut() {
        given.mark(index, true);
    }
    reach_slot(record.slot(index).ok_or_else(|| nowhere(pointer))?, rest, rules, pointer, found)
}

fn reach_slot(
    slot: Slot<'_>,
    rest: Option<&str>,
    rules: &'static Rules,
    pointer: &str,
    found: Found<'_>,
) -> Result<(), Error> {
    match (slot, rest) {
        (slot, None) => found(slot, rules),
        (Slot::Record(record), Some(rest)) => reach_in(record, rest, pointer, found),
        (Slot::List(list), Some(rest)) => {
            let (step, rest) = head(rest);
            let index: usize = step.parse().map_err(|_| nowhere(pointer))?;
            reach_slot(list.item_mut(index).ok_or_else(|| nowhere(pointer))?, rest, rules, pointer, found)
        }
        (_, Some(_)) => Err(nowhere(pointer)),
    }
}

/// The first step of a pointer, and what is left of it.
fn head(steps: &str) -> (&str, Option<&str>) {
    steps.split_once('/').map_or((steps, None), |(step, rest)| (step, Some(rest)))
}

/// Sets the number at a JSON pointer into the record, in SI base units; from then on it was given. A record on the way
/// that was absent begins blank. Ranges are those of the record's check, which every answer makes.
///
/// # Errors
/// `unknown_field` for a pointer that leads nowhere, `wrong_type` for one that leads to no number, `out_of_range` for a
/// count that is no whole number.
pub fn set(record: &mut dyn Record, pointer: &str, value: f64) -> Result<(), Error> {
    reach(record, pointer, &mut |slot, _| {
        match slot {
            Slot::Number(_, place) => *place = value + 0.0,
            Slot::Count(place) => {
                if value.fract() != 0.0 || !(0.0..=f64::from(u32::MAX)).contains(&value) {
                    return Err(Error::new(Code::OutOfRange, pointer, "a count is a whole number"));
                }
                *place = value as u32;
            }
            _ => return Err(Error::new(Code::WrongType, pointer, "there is no number at this pointer")),
        }
        Ok(())
    })
}

/// What stands at a JSON pointer into a record, and how an answer shows it.
///
/// # Errors
/// `unknown_field` for a pointer that no such record has. What is absent, an entry beyond the end of a list among it, is no error.
pub(crate) fn read(
    record: &dyn Record,
    pointer: &str,
    found: &mut dyn FnMut(&View<'_>, Show) -> Result<(), Error>,
) -> Result<(), Error> {
    let steps = pointer.strip_prefix('/').ok_or_else(|| nowhere(pointer))?;
    read_in(record, steps, pointer, found)
}

type Seen<'a> = &'a mut dyn FnMut(&View<'_>, Show) -> Result<(), Error>;

fn read_in(record: &dyn Record, steps: &str, pointer: &str, found: Seen<'_>) -> Result<(), Error> {
    let (step, rest) = head(steps);
    let index = record.table().find(step).ok_or_else(|| nowhere(pointer))?;
    let show = record.table().fields.get(index).map_or(Show::Usual, |field| field.show);
    read_view(&record.view(index), rest, show, pointer, found)
}

fn read_view(view: &View<'_>, rest: Option<&str>, show: Show, pointer: &str, found: Seen<'_>) -> Result<(), Error> {
    match (view, rest) {
        (View::Own(own), rest) => read_view(&own.shown(), rest, show, pointer, found),
        (view, None) => found(view, show),
        (View::Absent, Some(_)) => found(&View::Absent, show),
        (View::Record(record), Some(rest)) => read_in(*record, rest, pointer, found),
        (View::List(list), Some(rest)) => {
            let (step, rest) = head(rest);
            let index: usize = step.parse().map_err(|_| nowhere(pointer))?;
            if index < list.count() {
                read_view(&list.item(index), rest, show, pointer, found)
            } else {
                found(&View::Absent, show)
            }
        }
        (_, Some(_)) => Err(nowhere(pointer)),
    }
}

fn nowhere(pointer: &str) -> Error {
    Error::new(Code::UnknownField, pointer, "the request has no such field")
}
