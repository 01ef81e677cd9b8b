//! Units: the same quantity in another unit.

use crate::error::{Code, Error, clip, nearest};
use crate::quantity::{Dimension, ParsedQuantity, Rules, UNITS, Unit, find, units};
use crate::source::Source;
use crate::wire::{
    At, Field, Form, Kind, OwnForm, OwnKind, Remarks, Slot, Takes, View, answer, calculation, measure, request,
};
use serde_json::Value;

/// A quantity of any dimension, as it came: what it is depends on the unit it is to become.
#[derive(Debug, Clone, PartialEq)]
pub struct AnyQuantity {
    written: Value,
    number: Option<Number>,
}

/// A quantity by the first dimension that its unit may have, in SI base units.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Number {
    dimension: Dimension,
    written: f64,
    now: f64,
}

impl AnyQuantity {
    /// As it came.
    fn new(written: Value) -> Self {
        let read = |dimension: &Dimension| {
            let si = measure(&written, At::ROOT, *dimension).ok()?.si;
            Some(Number { dimension: *dimension, written: si, now: si })
        };
        let number = Dimension::ALL.iter().find_map(read);
        Self { written, number }
    }

    /// As a quantity of this dimension, in SI base units, with the doubt that it was written with.
    fn measure(&self, at: At<'_>, dimension: Dimension) -> Result<ParsedQuantity, Error> {
        let read = measure(&self.written, at, dimension)?;
        let si = match self.number {
            Some(number) if number.dimension == dimension => number.now,
            // Kelvin may be a temperature or a difference.
            other => read.si + other.map_or(0.0, |number| number.now - number.written),
        };
        Ok(ParsedQuantity { si, ..read })
    }
}

impl Field for AnyQuantity {
    const KIND: Kind = Kind::Own(&OwnKind { wanted: "a quantity, such as 12 ft/min", forms: &[Form::AnyQuantity] });
    fn blank() -> Self {
        Self { written: Value::Null, number: None }
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl OwnForm for AnyQuantity {
    /// Read once to refuse what is no quantity of any kind; the dimension is looked at when the unit is known.
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        match measure(value, at, Dimension::Fraction) {
            Ok(_) => {}
            Err(e) if e.code == Code::WrongDimension => {}
            Err(e) if e.code == Code::BadQuantity => {
                let message = "not a quantity: write a number and a unit, such as `12 ft/min`";
                return Err(Error::new(e.code, at, message).got(value).allowed(UNITS.iter().map(|u| u.name)));
            }
            Err(e) => return Err(e),
        }
        *self = Self::new(value.clone());
        if let Some(number) = self.number
            && let Some(half) = measure(value, at, number.dimension)?.half_width
        {
            remarks.doubted(at, value, half);
        }
        Ok(())
    }
    fn check(&self, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        Self::blank().read(&self.written, at, rules, remarks)
    }
    fn shown(&self) -> View<'_> {
        self.written.as_str().map_or(View::Absent, View::Text)
    }
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        self.number.as_mut().map(|number| (Slot::Number(number.dimension, &mut number.now), &Rules::NONE))
    }
}

impl Takes<&str> for AnyQuantity {
    /// A quantity as it is written: `"12 ft/min"`.
    fn take(value: &str) -> Self {
        Self::new(value.into())
    }
}

/// A quantity in the unit that was asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InUnit {
    si: f64,
    unit: Unit,
}

impl InUnit {
    /// A number in a unit, as it is to be told.
    pub(crate) const fn of(value: f64, unit: &Unit) -> Self {
        Self { si: value, unit: unit.as_told() }
    }

    /// The value in the unit.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.unit.from_si(self.si)
    }

    /// The unit.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }
}

impl Field for InUnit {
    const KIND: Kind = Kind::InUnit;
    fn blank() -> Self {
        Self { si: 0.0, unit: units::ONE.unit() }
    }
    fn view(&self) -> View<'_> {
        View::InUnit(self.si, self.unit)
    }
}

request! {
    /// A quantity and a unit.
    pub struct ConvertRequest {
        /// The quantity.
        quantity "Quantity": AnyQuantity,
        /// The unit that it should be in.
        to "Unit wanted": String,
    }
}

answer! {
    /// The same quantity in another unit.
    pub struct Converted {
        /// The quantity in the unit asked for.
        quantity "Quantity": InUnit,
    }
}

calculation! {
    pub const CONVERT: ConvertRequest => Converted = convert;
    id: "unit.convert",
    title: "Unit conversion",
    question: "What is that in my unit?",
    asked: ["What is 110 mesh per inch in threads per centimetre?", "How much is 320 degF in degC?"],
    headline: ["quantity"],
    formula: "value x factor / factor', with a shift of zero for absolute temperatures only",
    sources: &[Source::standard("NIST SP 811 (2008), appendix B: exact definitions of the inch, pound and gallon")],
    example: r#"{"quantity": "12 ft/min", "to": "m/min"}"#,
}

/// A quantity in another unit of its dimension.
///
/// # Errors
/// `bad_quantity` for an unknown unit, `wrong_dimension` where the two do not measure the same, `out_of_range` below absolute zero.
pub(crate) fn convert(request: &ConvertRequest, remarks: &mut Remarks) -> Result<Converted, Error> {
    // Units are looked for among all their spellings.
    remarks.work().spend(2_000.0);
    let to = request.to.trim();
    let folded = crate::quantity::fold(to);
    let mut first_error = None;
    for unit in find(&folded) {
        match request.quantity.measure(At::ROOT.key("quantity"), unit.dimension) {
            Ok(read) if unit.dimension == Dimension::Temperature && read.si < 0.0 => {
                return Err(Error::new(Code::OutOfRange, "/quantity", "nothing is colder than absolute zero")
                    .got(&request.quantity.written)
                    .allowed(["at least 0 K"]));
            }
            Ok(read) if !unit.from_si(read.si).is_finite() => {
                return Err(Error::new(
                    Code::OutOfRange,
                    "/quantity",
                    format!("too large to be written in {}", unit.name),
                )
                .got(&request.quantity.written));
            }
            Ok(read) => {
                return Ok(Converted { quantity: InUnit { si: read.si, unit: *unit } });
            }
            Err(e) => {
                first_error.get_or_insert(e);
            }
        }
    }
    Err(first_error.unwrap_or_else(|| {
        let names = || UNITS.iter().map(|u| u.name);
        let hint = nearest(&folded, names()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
        Error::new(Code::BadQuantity, "/to", format!("unknown unit `{}`{hint}", clip(to)))
            .got(&Value::from(to))
            .allowed(names())
    }))
}
