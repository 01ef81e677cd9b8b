//! Writes a record: quantities in the caller's units, numbers finite, nothing rounded, what is absent left out.

use super::field::{List, View};
use super::record::Record;
use crate::note::Note;
use crate::quantity::{Dimension, Show, System, Unit};
use crate::source::Basis;
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};

/// A record to be written; an answer's notes and basis go with it.
pub(super) struct Written<'a> {
    pub record: &'a dyn Record,
    pub remarks: Option<(&'a [Note], &'a [Basis])>,
    pub system: System,
}

impl Serialize for Written<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let fields = self.record.table().fields;
        // Room for all members, should none be absent.
        let mut members = to.serialize_map(Some(fields.len().saturating_add(2)))?;
        for (index, field) in fields.iter().enumerate() {
            let view = self.record.view(index);
            if !matches!(view, View::Absent) {
                members.serialize_entry(field.name, &Shown { view, show: field.show, system: self.system })?;
            }
        }
        if let Some((notes, basis)) = self.remarks {
            members.serialize_entry("notes", notes)?;
            members.serialize_entry("basis", basis)?;
        }
        members.end()
    }
}

/// One content to be written.
struct Shown<'a> {
    view: View<'a>,
    show: Show,
    system: System,
}

impl Serialize for Shown<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self { show, system, .. } = *self;
        match &self.view {
            View::Absent => to.serialize_unit(),
            // A negative zero is written 0.
            View::Number(Dimension::Fraction, value) => to.serialize_f64(value + 0.0),
            View::Number(dimension, si) => quantity(*si, &show.unit(*dimension, *si, system), to),
            View::InUnit(si, unit) => quantity(*si, unit, to),
            View::Count(count) => to.serialize_u32(*count),
            View::Integer(integer) => to.serialize_i32(*integer),
            View::Flag(flag) => to.serialize_bool(*flag),
            View::Text(text) => to.serialize_str(text),
            View::Record(record) => Written { record: *record, remarks: None, system }.serialize(to),
            View::List(list) => {
                let mut items = to.serialize_seq(Some(list.count()))?;
                for index in 0..list.count() {
                    items.serialize_element(&Shown { view: list.item(index), show, system })?;
                }
                items.end()
            }
            View::Own(own) => Shown { view: own.shown(), show, system }.serialize(to),
        }
    }
}

fn quantity<S: Serializer>(si: f64, unit: &Unit, to: S) -> Result<S::Ok, S::Error> {
    let mut members = to.serialize_map(Some(2))?;
    members.serialize_entry("value", &(unit.from_si(si) + 0.0))?;
    members.serialize_entry("unit", unit.name)?;
    members.end()
}

/// A number that is finite in any unit.
const LARGE: f64 = 1e200;

/// Whether every number can be written: an answer with one that is not finite is withheld.
pub(super) fn is_finite(record: &dyn Record, system: System) -> bool {
    record.table().fields.iter().enumerate().all(|(index, field)| match record.view(index) {
        // No unit is so small that it would take a number of this size beyond what can be written.
        View::Number(_, si) if si.abs() < LARGE => true,
        view => shows(&view, field.show, system),
    })
}

fn shows(view: &View<'_>, show: Show, system: System) -> bool {
    match view {
        View::Number(dimension, si) => show.unit(*dimension, *si, system).from_si(*si).is_finite(),
        View::InUnit(si, unit) => unit.from_si(*si).is_finite(),
        View::Record(record) => is_finite(*record, system),
        View::List(list) => all(*list, show, system),
        View::Own(own) => shows(&own.shown(), show, system),
        View::Absent | View::Count(_) | View::Integer(_) | View::Flag(_) | View::Text(_) => true,
    }
}

fn all(list: &dyn List, show: Show, system: System) -> bool {
    (0..list.count()).all(|index| shows(&list.item(index), show, system))
}
