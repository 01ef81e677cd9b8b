//! Visits the numbers of a record, and sets one by its pointer: without JSON, in SI base units.

use super::At;
use super::field::{Slot, View};
use super::record::Record;
use crate::error::{Code, Error};
use crate::quantity::Dimension;

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

/// Sets the number at a JSON pointer into the record, in SI base units; from then on it was given. A record on the way
/// that was absent begins blank. Ranges are those of the record's check, which every answer makes.
///
/// # Errors
/// `unknown_field` for a pointer that leads nowhere, `wrong_type` for one that leads to no number, `out_of_range` for a
/// count that is no whole number.
pub fn set(record: &mut dyn Record, pointer: &str, value: f64) -> Result<(), Error> {
    let steps = pointer.strip_prefix('/').ok_or_else(|| nowhere(pointer))?;
    set_in(record, steps, pointer, value)
}

fn set_in(record: &mut dyn Record, steps: &str, pointer: &str, value: f64) -> Result<(), Error> {
    let (step, rest) = steps.split_once('/').map_or((steps, None), |(step, rest)| (step, Some(rest)));
    let index = record.table().find(step).ok_or_else(|| nowhere(pointer))?;
    if let Some(given) = record.given_mut() {
        given.mark(index, true);
    }
    set_slot(record.slot(index).ok_or_else(|| nowhere(pointer))?, rest, pointer, value)
}

fn set_slot(slot: Slot<'_>, rest: Option<&str>, pointer: &str, value: f64) -> Result<(), Error> {
    match (slot, rest) {
        (Slot::Number(_, place), None) => *place = value + 0.0,
        (Slot::Count(place), None) => {
            if value.fract() != 0.0 || !(0.0..=f64::from(u32::MAX)).contains(&value) {
                return Err(Error::new(Code::OutOfRange, pointer, "a count is a whole number"));
            }
            *place = value as u32;
        }
        (Slot::Record(record), Some(rest)) => return set_in(record, rest, pointer, value),
        (Slot::List(list), Some(rest)) => {
            let (step, rest) = rest.split_once('/').map_or((rest, None), |(step, rest)| (step, Some(rest)));
            let index: usize = step.parse().map_err(|_| nowhere(pointer))?;
            return set_slot(list.item_mut(index).ok_or_else(|| nowhere(pointer))?, rest, pointer, value);
        }
        (_, None) => return Err(Error::new(Code::WrongType, pointer, "there is no number at this pointer")),
        (_, Some(_)) => return Err(nowhere(pointer)),
    }
    Ok(())
}

fn nowhere(pointer: &str) -> Error {
    Error::new(Code::UnknownField, pointer, "the request has no such field")
}
