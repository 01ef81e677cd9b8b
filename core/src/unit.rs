//! Units: the same quantity in another unit.

use crate::error::{Code, Error, clip, nearest};
use crate::quantity::{Dimension, Rules, UNITS, Unit, find, units};
use crate::source::Source;
use crate::wire::{
    At, Field, Form, Kind, OwnForm, OwnKind, Remarks, Slot, Takes, View, answer, calculation, measure, request,
};
use serde_json::Value;

/// A quantity of any dimension, as it came: what it is depends on the unit it is to become.
#[derive(Debug, Clone, PartialEq)]
pub struct AnyQuantity(Value);

impl Field for AnyQuantity {
    const KIND: Kind = Kind::Own(&OwnKind { wanted: "a quantity, such as 12 ft/min", forms: &[Form::AnyQuantity] });
    fn blank() -> Self {
        Self(Value::Null)
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
            Ok(read) if read.half_width.is_some() => remarks.doubted(at, value),
            Ok(_) => {}
            Err(e) if e.code == Code::WrongDimension => {}
            Err(e) if e.code == Code::BadQuantity => {
                let message = "not a quantity: write a number and a unit, such as `12 ft/min`";
                return Err(Error::new(e.code, at, message).got(value).allowed(UNITS.iter().map(|u| u.name)));
            }
            Err(e) => return Err(e),
        }
        self.0.clone_from(value);
        Ok(())
    }
    fn check(&self, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        Self::blank().read(&self.0, at, rules, remarks)
    }
    fn shown(&self) -> View<'_> {
        self.0.as_str().map_or(View::Absent, View::Text)
    }
    fn wanted(&self) -> String {
        Self::KIND.wanted()
    }
}

impl Takes<&str> for AnyQuantity {
    /// A quantity as it is written: `"12 ft/min"`.
    fn take(value: &str) -> Self {
        Self(value.into())
    }
}

/// A quantity in the unit that was asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InUnit {
    si: f64,
    unit: Unit,
}

impl InUnit {
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
    fn slot(&mut self) -> Slot<'_> {
        Slot::AnswerOnly
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
    let to = request.to.trim();
    let folded = crate::quantity::fold(to);
    let mut first_error = None;
    for unit in find(&folded) {
        match measure(&request.quantity.0, At::ROOT.key("quantity"), unit.dimension) {
            Ok(read) if unit.dimension == Dimension::Temperature && read.si < 0.0 => {
                return Err(Error::new(Code::OutOfRange, "/quantity", "nothing is colder than absolute zero")
                    .got(&request.quantity.0)
                    .allowed(["at least 0 K"]));
            }
            Ok(read) if !unit.from_si(read.si).is_finite() => {
                return Err(Error::new(
                    Code::OutOfRange,
                    "/quantity",
                    format!("too large to be written in {}", unit.name),
                )
                .got(&request.quantity.0));
            }
            Ok(read) => {
                if read.half_width.is_some() {
                    remarks.doubted(At::ROOT.key("quantity"), &request.quantity.0);
                }
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
