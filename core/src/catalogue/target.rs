//! What an operator varies in a request, and what it wants of an answer: JSON pointers, resolved before any work is done.

use super::find;
use crate::error::{Code, Error};
use crate::quantity::{Dimension, Show, System, UNITS, Unit};
use crate::wire::{
    Answer, At, Kind, Listed, Options, Record, Slot, Table, View, from_json, measure, missing, numbers, unknown,
    wrong_type,
};
use crate::work::Work;
use serde_json::{Map, Value, json};

/// A calculation and the request that stays as it is but for what is varied.
pub(super) struct Asked<'a> {
    pub calculation: &'static dyn Listed,
    pub document: &'a Value,
    pub options: Options,
}

impl<'a> Asked<'a> {
    /// Finds the calculation and reads the options.
    pub fn new(id: &str, document: &'a Value) -> Result<Self, Error> {
        Ok(Self { calculation: find(id)?, document, options: Options::from_json(document)? })
    }

    /// The answer to the request with something of it set, and what is left of the work.
    pub fn answer(
        &self,
        set: &mut dyn FnMut(&mut dyn Record) -> Result<(), Error>,
        work: &mut Work,
    ) -> Result<Answer, Error> {
        let mut record = self.calculation.blank();
        from_json(&mut *record, self.document)?;
        set(&mut *record)?;
        self.calculation.answer_record_within(&*record, self.options, work)
    }
}

/// A member of the request that is varied.
#[derive(Debug, Clone)]
pub(super) struct Vary {
    pub pointer: String,
    /// What it measures and the unit in which its values are told; none where it is no number.
    pub number: Option<(Dimension, &'static Unit)>,
    /// Whether it is a whole number.
    pub whole: bool,
}

impl Vary {
    /// Finds the member that `vary` of a specification points to.
    pub fn of(asked: &Asked<'_>, spec: &Value) -> Result<Self, Error> {
        let pointer = text(spec, "vary")?;
        let mut record = asked.calculation.blank();
        from_json(&mut *record, asked.document)?;
        let mut vary = Self { pointer: pointer.to_owned(), number: None, whole: false };
        let system = asked.options.units;
        let reached = numbers::reach(&mut *record, pointer, &mut |slot, rules| {
            let dimension = match slot {
                Slot::Number(dimension, _) => dimension,
                Slot::Count(_) => Dimension::Fraction,
                _ => return Ok(()),
            };
            vary.whole = matches!(slot, Slot::Count(_));
            // As its range is told, where that is metric as well.
            let own = UNITS
                .iter()
                .find(|unit| system == System::Metric && unit.dimension == dimension && unit.name == rules.unit.name);
            vary.number = own.or_else(|| unit_of(dimension, Show::Usual, system)).map(|unit| (dimension, unit));
            Ok(())
        });
        reached.map_err(|error| Error { field: "/vary".into(), ..error }.got(&Value::from(pointer)))?;
        Ok(vary)
    }

    /// A number of the specification, such as `from`, in SI base units.
    pub fn end(&self, spec: &Value, name: &str) -> Result<f64, Error> {
        let (dimension, _) = self.number.ok_or_else(|| {
            Error::new(Code::WrongType, "/vary", "there is no number at this pointer: give `values`")
                .got(&Value::from(self.pointer.as_str()))
        })?;
        number(given(spec, name)?, At::ROOT.key(name), dimension)
    }

    /// Sets it, in SI base units.
    pub fn set(&self, record: &mut dyn Record, si: f64) -> Result<(), Error> {
        numbers::set(record, &self.pointer, si)
    }

    /// A number in SI base units in the unit in which it is told.
    pub fn in_unit(&self, si: f64) -> f64 {
        self.number.map_or(si, |(_, unit)| unit.from_si(si)) + 0.0
    }

    /// Sets it, in the unit in which it is told.
    pub fn set_told(&self, record: &mut dyn Record, told: f64) -> Result<(), Error> {
        self.set(record, self.number.map_or(told, |(_, unit)| unit.to_si(told)))
    }

    /// A value of it as operators tell it.
    pub fn told(&self, si: f64) -> Value {
        self.number.map_or(Value::Null, |(dimension, unit)| quantity(dimension, unit, si))
    }
}

/// A number of the answer that is wanted.
#[derive(Debug, Clone)]
pub(super) struct Want {
    pub pointer: String,
    pub dimension: Dimension,
    /// The unit in which it is told.
    pub unit: &'static Unit,
    /// The word that counts as 1, where it is a word.
    equals: Option<String>,
}

impl Want {
    /// Resolves what is wanted: a pointer, or an object with `at` and `unit` or `equals`. `place` is where it stands in the
    /// specification.
    pub fn of(asked: &Asked<'_>, wanted: &Value, place: At<'_>) -> Result<Self, Error> {
        let (pointer, unit, equals, at) = match wanted {
            Value::String(pointer) => (pointer.as_str(), None, None, place.to_string()),
            Value::Object(members) => {
                known(members, &["at", "unit", "equals"], place)?;
                let part = |name: &'static str| match members.get(name) {
                    None | Some(Value::Null) => Ok(None),
                    Some(Value::String(text)) => Ok(Some(text.as_str())),
                    Some(other) => Err(wrong_type(place.key(name), other, "a text".into())),
                };
                let pointer =
                    part("at")?.ok_or_else(|| missing(place.key("at"), "a pointer into the answer".into()))?;
                (pointer, part("unit")?, part("equals")?, place.key("at").to_string())
            }
            other => {
                return Err(wrong_type(
                    place,
                    other,
                    "a pointer into the answer, or an object with at, unit, equals".into(),
                ));
            }
        };
        let nowhere =
            || Error::new(Code::UnknownField, at.clone(), "the answer has no such member").got(&Value::from(pointer));
        let (kind, show) = member(asked.calculation.answer(), pointer).ok_or_else(nowhere)?;
        let dimension = match kind {
            Kind::Number(dimension) => *dimension,
            Kind::Count | Kind::Integer | Kind::Flag | Kind::InUnit => Dimension::Fraction,
            Kind::Text | Kind::Word(..) if equals.is_some() => Dimension::Fraction,
            Kind::Text | Kind::Word(..) => {
                return Err(Error::new(Code::WrongType, at, "this is a word: ask whether it is one, with `equals`")
                    .got(&Value::from(pointer)));
            }
            _ => {
                return Err(
                    Error::new(Code::WrongType, at, "there is no number at this pointer").got(&Value::from(pointer))
                );
            }
        };
        let usual = unit_of(dimension, show, asked.options.units).ok_or_else(nowhere)?;
        let unit = match unit {
            None => usual,
            Some(name) => UNITS
                .iter()
                .find(|unit| unit.dimension == dimension && (unit.name == name || unit.spellings.contains(&name)))
                .ok_or_else(|| {
                    let units = UNITS.iter().filter(|unit| unit.dimension == dimension).map(|unit| unit.name);
                    Error::new(Code::BadQuantity, place.key("unit"), "no unit of this member")
                        .got(&Value::from(name))
                        .allowed(units)
                })?,
        };
        Ok(Self { pointer: pointer.to_owned(), dimension, unit, equals: equals.map(ToOwned::to_owned) })
    }

    /// It in an answer, in SI base units; none where it is absent.
    pub fn read(&self, answer: &Answer) -> Option<f64> {
        let mut value = None;
        let found = numbers::read(answer.record(), &self.pointer, &mut |view, _| {
            value = match (view, &self.equals) {
                (View::Text(text), Some(word)) => Some(f64::from(u8::from(text == word))),
                (View::Number(_, si), _) => Some(*si),
                (View::InUnit(si, unit), _) => Some(unit.from_si(*si)),
                (View::Count(count), _) => Some(f64::from(*count)),
                (View::Integer(integer), _) => Some(f64::from(*integer)),
                (View::Flag(flag), _) => Some(f64::from(u8::from(*flag))),
                _ => None,
            };
            Ok(())
        });
        found.ok().and(value)
    }

    /// A value of it as operators tell it.
    pub fn told(&self, si: f64) -> Value {
        quantity(self.dimension, self.unit, si)
    }
}

/// The kind of the member at a pointer into an answer, and how it is shown.
fn member(table: &'static Table, pointer: &str) -> Option<(&'static Kind, Show)> {
    let mut steps = pointer.strip_prefix('/')?.split('/');
    let field = |table: &'static Table, step: &str| table.fields.get(table.find(step)?);
    let first = field(table, steps.next()?)?;
    let (mut kind, mut show) = (first.kind.content(), first.show);
    for step in steps {
        match kind {
            Kind::Record(table) => {
                let field = field(table, step)?;
                (kind, show) = (field.kind.content(), field.show);
            }
            Kind::List(items, _) => {
                step.parse::<usize>().ok()?;
                kind = items.content();
            }
            _ => return None,
        }
    }
    Some((kind, show))
}

/// The unit of a dimension that is never chosen by size.
fn unit_of(dimension: Dimension, show: Show, system: System) -> Option<&'static Unit> {
    let usual = show.unit(dimension, 0.0, system);
    UNITS.iter().find(|unit| unit.dimension == dimension && unit.name == usual.name)
}

fn quantity(dimension: Dimension, unit: &Unit, si: f64) -> Value {
    let value = unit.from_si(si) + 0.0;
    if dimension == Dimension::Fraction { json!(value) } else { json!({ "value": value, "unit": unit.name }) }
}

/// A quantity, or a plain number, of the specification.
pub(super) fn number(value: &Value, at: At<'_>, dimension: Dimension) -> Result<f64, Error> {
    let si = match value {
        Value::Number(number) if dimension == Dimension::Fraction => number.as_f64().unwrap_or(f64::NAN),
        _ => {
            let read = measure(value, at, dimension)?;
            if read.half_width.is_some() {
                return Err(Error::new(Code::Impossible, at, "an end of a range has no doubt").got(value));
            }
            read.si
        }
    };
    if si.is_finite() { Ok(si) } else { Err(Error::new(Code::OutOfRange, at, "not a finite number").got(value)) }
}

/// A member of the specification that must be there.
pub(super) fn given<'a>(spec: &'a Value, name: &str) -> Result<&'a Value, Error> {
    spec.get(name).filter(|value| !value.is_null()).ok_or_else(|| missing(At::ROOT.key(name), "a value".into()))
}

pub(super) fn text<'a>(spec: &'a Value, name: &str) -> Result<&'a str, Error> {
    let value = given(spec, name)?;
    value.as_str().ok_or_else(|| wrong_type(At::ROOT.key(name), value, "a text".into()))
}

/// The members of a specification, none of them unknown.
pub(super) fn members<'a>(spec: &'a Value, names: &[&str]) -> Result<&'a Map<String, Value>, Error> {
    let Value::Object(members) = spec else {
        return Err(wrong_type(At::ROOT, spec, format!("an object with {}", names.join(", "))));
    };
    known(members, names, At::ROOT)?;
    Ok(members)
}

fn known(members: &Map<String, Value>, names: &[&str], at: At<'_>) -> Result<(), Error> {
    match members.iter().find(|(name, _)| !names.contains(&name.as_str())) {
        Some((name, member)) => Err(unknown(name, member, at, names.iter().copied())),
        None => Ok(()),
    }
}
