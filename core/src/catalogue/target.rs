//! What an operator varies in a request, and what it wants of an answer: JSON pointers, resolved before any work is done.

use super::find;
use crate::error::{Code, Error};
use crate::quantity::{Dimension, Rules, Show, System, UNITS, Unit, decimal};
use crate::wire::numbers::{self, Path};
use crate::wire::{
    Answer, At, Doubted, Form, Kind, Listed, Options, Record, Remarks, Shared, Slot, Table, Touched, View, check_rest,
    measure, missing, read_draft, unknown, wrong_type,
};
use serde_json::{Map, Value, json};

/// A calculation, and a request that stays as it is but for what is varied.
pub(super) struct Base {
    pub calculation: &'static dyn Listed,
    pub options: Options,
    pub memory: Option<Shared>,
    pub record: Box<dyn Record>,
    pub doubts: Vec<Doubted>,
    pub touched: Touched,
}

impl Base {
    /// Finds the calculation and reads the request; what is varied need not be there.
    pub fn read(memory: Option<&Shared>, id: &str, document: &Value) -> Result<Self, Error> {
        let calculation = find(id)?;
        let mut record = calculation.blank();
        let (options, doubts) = read_draft(document, &mut *record)?;
        Ok(Self { calculation, options, memory: memory.cloned(), record, doubts, touched: Touched::default() })
    }

    /// Finds the content at a pointer, which will be varied. `place` is where the pointer stands in the specification.
    pub fn vary(&mut self, pointer: &str, place: At<'_>) -> Result<Vary, Error> {
        let path = numbers::path(&mut *self.record, pointer)
            .map_err(|error| Error { field: place.to_string(), ..error }.got(&Value::from(pointer)))?;
        self.touched.add(&path);
        let system = self.options.units;
        let number = numbers::number(&mut *self.record, &path).and_then(|(slot, rules)| {
            let dimension = match slot {
                Slot::Number(dimension, _) => dimension,
                _ => Dimension::Fraction,
            };
            let unit = usual_unit(dimension, rules, system)?;
            Some(Number { dimension, unit, rules, is_whole: matches!(slot, Slot::Count(_)) })
        });
        let leads = numbers::leads(&mut *self.record, &path);
        Ok(Vary { pointer: pointer.to_owned(), path, number, leads })
    }

    /// Checks all that is not varied, and counts its cautions and limits.
    ///
    /// # Errors
    /// Those of the request.
    pub fn check(&self) -> Result<[u32; 2], Error> {
        let mut remarks = Remarks::counting();
        check_rest(&*self.record, &self.touched, At::ROOT, &mut remarks)?;
        Ok(remarks.counts())
    }

    /// The request, to be varied.
    pub fn copy(&self) -> Result<Box<dyn Record>, Error> {
        let other = || Error::new(Code::Internal, "", "the request of another calculation");
        self.calculation.copy(&*self.record).ok_or_else(other)
    }

    /// The work of the calculation.
    pub fn work(&self) -> impl Fn(&dyn Record, &mut Remarks) -> Result<Box<dyn Record>, Error> + use<> {
        let calculation = self.calculation;
        move |request, remarks| calculation.work(request, remarks)
    }
}

/// The unit of a number of a request, where none is named: that of the answers whose numbers are of its size, as its range tells.
fn usual_unit(dimension: Dimension, rules: &Rules, system: System) -> Option<&'static Unit> {
    let show = match rules.unit.name {
        "um" => Show::Film,
        "m" | "ft" => Show::Machine,
        "cm3/m2" => Show::InkVolume,
        "cm/s" => Show::Stroke,
        _ => Show::Usual,
    };
    // As its range is told, where that is metric as well.
    let own = UNITS
        .iter()
        .find(|unit| system == System::Metric && unit.dimension == dimension && unit.name == rules.unit.name);
    own.or_else(|| unit_of(dimension, show, system))
}

/// A number that is varied: what it measures, the unit in which it is told, its rules, and whether it is a whole number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number {
    pub dimension: Dimension,
    pub unit: &'static Unit,
    pub rules: &'static Rules,
    pub is_whole: bool,
}

/// A content of the request that is varied.
#[derive(Debug, Clone)]
pub(super) struct Vary {
    pub pointer: String,
    pub path: Path,
    /// Where it is a number.
    pub number: Option<Number>,
    /// Whether something else follows it.
    pub leads: bool,
}

impl Vary {
    /// The content that `vary` of a specification points to.
    pub fn of(base: &mut Base, spec: &Value) -> Result<Self, Error> {
        base.vary(text(spec, "vary")?, At::ROOT.key("vary"))
    }

    /// A number of the specification, such as `from`, in SI base units.
    pub fn end(&self, spec: &Value, name: &str) -> Result<f64, Error> {
        let number = self.number.ok_or_else(|| {
            Error::new(Code::WrongType, "/vary", "there is no number at this pointer: give `values`")
                .got(&Value::from(self.pointer.as_str()))
        })?;
        self::number(given(spec, name)?, At::ROOT.key(name), number.dimension)
    }

    /// Sets it, in SI base units.
    #[inline]
    pub fn set(&self, record: &mut dyn Record, si: f64) -> Result<(), Error> {
        numbers::put(record, &self.path, si, &self.pointer)?;
        if self.leads {
            numbers::follow(record, &self.path);
        }
        Ok(())
    }

    /// A number in SI base units in the unit in which it is told.
    pub fn in_unit(&self, si: f64) -> f64 {
        self.number.map_or(si, |number| number.unit.from_si(si)) + 0.0
    }

    /// Sets it, in the unit in which it is told.
    pub fn set_told(&self, record: &mut dyn Record, told: f64) -> Result<(), Error> {
        self.set(record, self.number.map_or(told, |number| number.unit.to_si(told)))
    }

    /// A value of it as operators tell it.
    pub fn told(&self, si: f64) -> Value {
        self.number.map_or(Value::Null, |number| quantity(number.dimension, number.unit, si))
    }
}

/// A number of the answer that is wanted.
#[derive(Debug, Clone)]
pub(super) struct Want {
    pub pointer: String,
    path: Path,
    pub dimension: Dimension,
    /// The unit in which it is told.
    pub unit: &'static Unit,
    /// The word that counts as 1, where it is a word.
    equals: Option<String>,
}

impl Want {
    /// Resolves what is wanted: a pointer, or an object with `at` and `unit` or `equals`. `place` is where it stands in the
    /// specification.
    pub fn of(base: &Base, wanted: &Value, place: At<'_>) -> Result<Self, Error> {
        let Pointed { pointer, at, unit, equals } = Pointed::of(wanted, place, &["at", "unit", "equals"])?;
        let nowhere =
            || Error::new(Code::UnknownField, at.clone(), "the answer has no such member").got(&Value::from(pointer));
        let (path, kind, show) = member(base.calculation.answer(), pointer).ok_or_else(nowhere)?;
        let dimension = match kind {
            Kind::Number(dimension) => *dimension,
            Kind::Count | Kind::Integer | Kind::Flag | Kind::InUnit => Dimension::Fraction,
            Kind::Text | Kind::Word(..) if equals.is_some() => Dimension::Fraction,
            Kind::Text | Kind::Word(..) => {
                return Err(Error::new(Code::WrongType, at, "this is a word: ask whether it is one, with `equals`")
                    .got(&Value::from(pointer)));
            }
            Kind::Own(own) if own.forms.iter().any(|form| matches!(form, Form::Money(_))) => {
                let message = "this is money: a decimal, which no column of binary numbers holds; take whole answers";
                return Err(Error::new(Code::WrongType, at, message).got(&Value::from(pointer)));
            }
            Kind::Own(own) if own.number().is_some() => own.number().unwrap_or(Dimension::Fraction),
            _ => {
                return Err(
                    Error::new(Code::WrongType, at, "there is no number at this pointer").got(&Value::from(pointer))
                );
            }
        };
        let usual = unit_of(dimension, show, base.options.units).ok_or_else(nowhere)?;
        let unit = unit.map_or(Ok(usual), |name| unit_named(name, dimension, place.key("unit")))?;
        Ok(Self { pointer: pointer.to_owned(), path, dimension, unit, equals: equals.map(ToOwned::to_owned) })
    }

    /// It in an answer, in SI base units; none where it is absent.
    pub fn read(&self, answer: &dyn Record) -> Option<f64> {
        // As a rule it is a quantity of the answer itself, and looked at where it is.
        if let [index] = *self.path
            && let View::Number(_, si) = answer.view(index)
        {
            return Some(si);
        }
        match (numbers::view(answer, &self.path), &self.equals) {
            (View::Text(text), Some(word)) => Some(f64::from(u8::from(text == word))),
            (View::Number(_, si), _) => Some(si),
            (View::InUnit(si, unit), _) => Some(unit.from_si(si)),
            (View::Rounded(value, _), _) => Some(value),
            (View::Count(count), _) => Some(f64::from(count)),
            (View::Integer(integer), _) => Some(f64::from(integer)),
            (View::Flag(flag), _) => Some(f64::from(u8::from(flag))),
            _ => None,
        }
    }

    /// Its half-width in an answer, in its unit.
    pub fn half_width(&self, answer: &Answer) -> Option<f64> {
        let doubt = answer.doubts().iter().find(|doubt| doubt.at == self.pointer)?;
        Some(self.unit.span_from_si(doubt.half_width))
    }

    /// A value of it as operators tell it.
    pub fn told(&self, si: f64) -> Value {
        quantity(self.dimension, self.unit, si)
    }

    /// A value of it in words.
    pub fn worded(&self, si: f64) -> String {
        let value = decimal(self.unit.from_si(si)).to_string();
        if self.dimension == Dimension::Fraction { value } else { format!("{value} {}", self.unit.name) }
    }
}

/// A pointer of a specification, by itself or in an object.
pub(super) struct Pointed<'a> {
    pub pointer: &'a str,
    /// Where the pointer stands in the specification.
    pub at: String,
    pub unit: Option<&'a str>,
    pub equals: Option<&'a str>,
}

impl<'a> Pointed<'a> {
    pub fn of(spec: &'a Value, place: At<'_>, names: &[&str]) -> Result<Self, Error> {
        match spec {
            Value::String(pointer) => Ok(Self { pointer, at: place.to_string(), unit: None, equals: None }),
            Value::Object(members) => {
                known(members, names, place)?;
                let part = |name: &'static str| match members.get(name) {
                    None | Some(Value::Null) => Ok(None),
                    Some(Value::String(text)) => Ok(Some(text.as_str())),
                    Some(other) => Err(wrong_type(place.key(name), other, "a text".into())),
                };
                let pointer = part("at")?.ok_or_else(|| missing(place.key("at"), "a JSON pointer".into()))?;
                Ok(Self { pointer, at: place.key("at").to_string(), unit: part("unit")?, equals: part("equals")? })
            }
            other => Err(wrong_type(place, other, format!("a JSON pointer, or an object with {}", names.join(", ")))),
        }
    }
}

/// The way to the member at a pointer into an answer, its kind, and how it is shown.
fn member(table: &'static Table, pointer: &str) -> Option<(Path, &'static Kind, Show)> {
    let mut path = Path::new();
    let (mut inside, mut kind, mut show): (_, Option<&'static Kind>, _) = (Some(table), None, Show::Usual);
    for step in pointer.strip_prefix('/')?.split('/') {
        let (index, next) = match (inside, kind) {
            (Some(table), _) => {
                let index = table.find(step)?;
                let field = table.fields.get(index)?;
                show = field.show;
                (index, field.kind.content())
            }
            (None, Some(Kind::List(items, _))) => (step.parse().ok()?, items.content()),
            _ => return None,
        };
        path.push(index);
        inside = if let Kind::Record(table) = next { Some(*table) } else { None };
        kind = Some(next);
    }
    Some((path, kind?, show))
}

/// The unit of a dimension with this name or spelling.
pub(super) fn unit_named(name: &str, dimension: Dimension, at: At<'_>) -> Result<&'static Unit, Error> {
    let fits = |unit: &&Unit| unit.dimension == dimension;
    let named = |unit: &&Unit| unit.name == name || unit.spellings.contains(&name);
    UNITS.iter().filter(fits).find(named).ok_or_else(|| {
        Error::new(Code::BadQuantity, at, "no unit of this number")
            .got(&Value::from(name))
            .allowed(UNITS.iter().filter(fits).map(|unit| unit.name))
    })
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
