//! Writes a record: quantities in the caller's units, numbers finite, nothing rounded, what is absent left out.

use super::doubt::Doubts;
use super::field::{List, Priced, View};
use super::record::Record;
use crate::note::Note;
use crate::quantity::{Dimension, Show, System, Unit, to_places};
use crate::source::Basis;
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};
use std::cell::Cell;

/// An answer to be written: its record, then what is said about it.
pub(super) struct Document<'a> {
    pub record: &'a dyn Record,
    pub notes: &'a [Note],
    pub basis: &'a [Basis],
    pub doubts: &'a Doubts,
    pub system: System,
}

impl Serialize for Document<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let fields = self.record.table().fields.len();
        // Room for all members, should none be absent.
        let mut members = to.serialize_map(Some(fields.saturating_add(3)))?;
        let paper = Paper { system: self.system, doubts: self.doubts, numbers: Cell::new(0) };
        write(self.record, &paper, &mut members)?;
        members.serialize_entry("notes", self.notes)?;
        members.serialize_entry("basis", self.basis)?;
        if self.doubts.is_some() {
            members.serialize_entry("doubt", self.doubts.all())?;
        }
        members.end()
    }
}

/// What is the same for all of an answer, and how many of its numbers are written.
struct Paper<'a> {
    system: System,
    doubts: &'a Doubts,
    numbers: Cell<usize>,
}

impl Paper<'_> {
    /// The half-width of the next number, in SI base units.
    fn half_width(&self) -> Option<f64> {
        let index = self.numbers.get();
        self.numbers.set(index.saturating_add(1));
        self.doubts.half_width(index)
    }
}

fn write<M: SerializeMap>(record: &dyn Record, paper: &Paper<'_>, members: &mut M) -> Result<(), M::Error> {
    for (index, field) in record.table().fields.iter().enumerate() {
        let view = record.view(index);
        if !matches!(view, View::Absent) {
            members.serialize_entry(field.name, &Shown { view, show: field.show, paper })?;
        }
    }
    Ok(())
}

/// One content to be written.
struct Shown<'a> {
    view: View<'a>,
    show: Show,
    paper: &'a Paper<'a>,
}

impl Serialize for Shown<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self { show, paper, .. } = *self;
        let half_width = match self.view {
            View::Number(..)
            | View::InUnit(..)
            | View::Count(_)
            | View::Integer(_)
            | View::Money(_)
            | View::Rounded(..) => paper.half_width(),
            _ => None,
        };
        match &self.view {
            View::Absent => to.serialize_unit(),
            // A negative zero is written 0.
            View::Number(Dimension::Fraction, value) => to.serialize_f64(value + 0.0),
            View::Number(dimension, si) => quantity(*si, half_width, &show.unit(*dimension, *si, paper.system), to),
            View::InUnit(si, unit) => quantity(*si, half_width, unit, to),
            View::Count(count) => to.serialize_u32(*count),
            View::Integer(integer) => to.serialize_i32(*integer),
            View::Flag(flag) => to.serialize_bool(*flag),
            View::Text(text) => to.serialize_str(text),
            View::Record(record) => {
                let mut members = to.serialize_map(Some(record.table().fields.len()))?;
                write(*record, paper, &mut members)?;
                members.end()
            }
            View::List(list) => {
                let mut items = to.serialize_seq(Some(list.count()))?;
                for index in 0..list.count() {
                    items.serialize_element(&Shown { view: list.item(index), show, paper })?;
                }
                items.end()
            }
            View::Rounded(value, _) => to.serialize_f64(value + 0.0),
            View::Money(money) => priced(*money, half_width, to),
            View::Own(own) => Shown { view: own.shown(), show, paper }.serialize(to),
        }
    }
}

fn quantity<S: Serializer>(si: f64, half_width: Option<f64>, unit: &Unit, to: S) -> Result<S::Ok, S::Error> {
    let mut members = to.serialize_map(Some(if half_width.is_some() { 3 } else { 2 }))?;
    members.serialize_entry("value", &(unit.from_si(si) + 0.0))?;
    members.serialize_entry("unit", unit.name)?;
    if let Some(half_width) = half_width {
        members.serialize_entry("plus_minus", &(unit.span_from_si(half_width) + 0.0))?;
    }
    members.end()
}

/// Money goes out as decimals; how far it may be off to six of them.
fn priced<S: Serializer>(money: &dyn Priced, half_width: Option<f64>, to: S) -> Result<S::Ok, S::Error> {
    let mut members = to.serialize_map(Some(if half_width.is_some() { 3 } else { 2 }))?;
    members.serialize_entry("value", &money.value())?;
    members.serialize_entry("unit", &money.unit())?;
    if let Some(half_width) = half_width {
        members.serialize_entry("plus_minus", &to_places(half_width, 6).to_string())?;
    }
    members.end()
}

/// No unit is so small that it would take a number of this size beyond what can be written.
const LARGE: f64 = 1e200;

/// Whether every number can be written: an answer with one that is not finite is withheld.
pub(crate) fn is_finite(record: &dyn Record, system: System) -> bool {
    let fields = || record.table().fields.iter().enumerate();
    record.magnitude() < LARGE || fields().all(|(index, field)| shows(&record.view(index), field.show, system))
}

fn shows(view: &View<'_>, show: Show, system: System) -> bool {
    match view {
        View::Number(dimension, si) => show.unit(*dimension, *si, system).from_si(*si).is_finite(),
        View::InUnit(si, unit) => unit.from_si(*si).is_finite(),
        View::Record(record) => is_finite(*record, system),
        View::List(list) => all(*list, show, system),
        View::Own(own) => shows(&own.shown(), show, system),
        View::Absent | View::Count(_) | View::Integer(_) | View::Flag(_) | View::Text(_) | View::Money(_) => true,
        View::Rounded(value, unrounded) => value.is_finite() && unrounded.is_finite(),
    }
}

fn all(list: &dyn List, show: Show, system: System) -> bool {
    (0..list.count()).all(|index| shows(&list.item(index), show, system))
}
