//! Reads the fields of a request: quantities, plain numbers, counts, words, lists.

use super::{At, MOST_ITEMS, Remarks};
use crate::error::{Code, Error, clip, nearest};
use crate::quantity::{Dimension, Dimensioned, Fault, Measure, Rules, measure_object, measure_text};
use serde_json::Value;

/// Longest text of a name or title, in characters.
const MOST_CHARACTERS: usize = 1_000;

/// Something that a request can hold.
pub trait Input: Sized {
    /// Reads the value at `at` under the field's rules.
    ///
    /// # Errors
    /// The error of the wire, with field, value and what is allowed.
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error>;

    /// What an absent field means: its default, nothing, or an error.
    ///
    /// # Errors
    /// `missing_field` where neither a default nor an absence makes sense.
    fn absent(at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<Self, Error> {
        Err(missing(at, Self::wanted()))
    }

    /// What belongs here, for messages: `a length, such as 55 um`.
    fn wanted() -> String;

    /// JSON Schema of the field.
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema;

    /// Whether a request without the field is complete.
    #[must_use]
    fn optional(rules: &Rules) -> bool {
        rules.default.is_some()
    }
}

fn missing(at: At<'_>, wanted: String) -> Error {
    Error::new(Code::MissingField, at, format!("`{}` is missing: wanted is {wanted}", at.name())).allowed([wanted])
}

pub(crate) fn wrong_type(at: At<'_>, value: &Value, wanted: String) -> Error {
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "an array",
        Value::Object(_) => "an object",
    };
    Error::new(Code::WrongType, at, format!("{kind} does not belong here: wanted is {wanted}"))
        .got(value)
        .allowed([wanted])
}

/// One of several fields must be there: the error that says so.
#[must_use]
pub fn one_of(at: At<'_>, fields: &[&str]) -> Error {
    Error::new(Code::MissingField, at, format!("one of these is needed: {}", fields.join(", ")))
        .allowed(fields.iter().copied())
}

impl<T: Input> Input for Option<T> {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        T::read(value, at, rules, remarks).map(Some)
    }
    fn absent(_at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<Self, Error> {
        Ok(None)
    }
    fn wanted() -> String {
        T::wanted()
    }
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        T::schema(rules, generator)
    }
    fn optional(_rules: &Rules) -> bool {
        true
    }
}

impl<T: Input> Input for Vec<T> {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        let Value::Array(items) = value else { return Err(wrong_type(at, value, Self::wanted())) };
        if items.len() > MOST_ITEMS {
            return Err(Error::new(Code::TooLong, at, format!("{} entries", items.len()))
                .got(value)
                .allowed([format!("at most {MOST_ITEMS} entries")]));
        }
        items.iter().enumerate().map(|(index, item)| T::read(item, at.index(index), rules, remarks)).collect()
    }
    fn wanted() -> String {
        format!("an array of entries, each {}", T::wanted())
    }
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let items = T::schema(rules, generator);
        schemars::json_schema!({ "type": "array", "items": items, "maxItems": MOST_ITEMS })
    }
}

impl Input for bool {
    fn read(value: &Value, at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<Self, Error> {
        value.as_bool().ok_or_else(|| wrong_type(at, value, Self::wanted()))
    }
    fn wanted() -> String {
        "true or false".into()
    }
    #[cfg(feature = "schema")]
    fn schema(_rules: &Rules, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "boolean" })
    }
}

impl Input for String {
    fn read(value: &Value, at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<Self, Error> {
        let text = value.as_str().ok_or_else(|| wrong_type(at, value, Self::wanted()))?;
        if text.chars().count() > MOST_CHARACTERS {
            return Err(Error::new(Code::TooLong, at, "the text is too long")
                .got(value)
                .allowed([format!("at most {MOST_CHARACTERS} characters")]));
        }
        Ok(text.to_owned())
    }
    fn wanted() -> String {
        "a text".into()
    }
    #[cfg(feature = "schema")]
    fn schema(_rules: &Rules, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "maxLength": MOST_CHARACTERS })
    }
}

impl Input for u32 {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        let Value::Number(number) = value else { return Err(wrong_type(at, value, Self::wanted())) };
        let given = number.as_f64().unwrap_or(f64::INFINITY);
        let outside = || {
            let allowed = format!("whole numbers from {} to {}", rules.least.max(0.0), rules.most.min(1e7));
            Error::new(Code::OutOfRange, at, format!("`{}` is {given}: allowed are {allowed}", at.name()))
                .got(value)
                .allowed([allowed])
        };
        if given.fract() != 0.0 || !(0.0..=1e7).contains(&given) || given < rules.least || given > rules.most {
            return Err(outside());
        }
        usual(given, at, rules, remarks);
        Ok(given as Self)
    }
    fn absent(at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        default(at, rules, remarks).map(|v| v as Self).ok_or_else(|| missing(at, Self::wanted()))
    }
    fn wanted() -> String {
        "a whole number".into()
    }
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let mut schema = schemars::json_schema!({ "type": "integer", "minimum": rules.least.max(0.0), "maximum": rules.most.min(1e7) });
        super::schema::add_rules(&mut schema, rules);
        schema
    }
}

/// A plain number: dimensionless, or listed as plain in the wire's rules.
impl Input for f64 {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        let measure = match value {
            Value::Number(number) => Measure { si: number.as_f64().unwrap_or(Self::NAN), half_width: None },
            _ => measure(value, at, Dimension::Fraction)?,
        };
        within(measure, value, at, rules, remarks)
    }
    fn absent(at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        default(at, rules, remarks).ok_or_else(|| missing(at, Self::wanted()))
    }
    fn wanted() -> String {
        "a number".into()
    }
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        super::schema::plain_number(rules, generator)
    }
}

impl<Q: Dimensioned> Input for Q {
    fn read(value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        within(measure(value, at, Q::DIMENSION)?, value, at, rules, remarks).map(Q::from_si)
    }
    fn absent(at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        default(at, rules, remarks).map(Q::from_si).ok_or_else(|| missing(at, Self::wanted()))
    }
    fn wanted() -> String {
        format!("{}, such as {}", Q::DIMENSION.text(), Q::DIMENSION.example())
    }
    #[cfg(feature = "schema")]
    fn schema(rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        super::schema::quantity::<Q>(rules, generator)
    }
}

/// Reads a value as a quantity of the dimension, in SI base units.
pub(crate) fn measure(value: &Value, at: At<'_>, dimension: Dimension) -> Result<Measure, Error> {
    let placed = |fault: Fault| Error::new(fault.code, at, fault.message).got(value).allowed(fault.allowed);
    match value {
        Value::String(text) => measure_text(text, dimension).map(|(m, _)| m).map_err(placed),
        Value::Object(members) => {
            let object = super::Object::open(value, at, &["value", "unit", "plus_minus"])?;
            let part = |name: &'static str| match members.get(name) {
                None | Some(Value::Null) => Ok(None),
                Some(Value::Number(number)) => Ok(number.as_f64()),
                Some(other) => Err(wrong_type(at.key(name), other, "a number".into())),
            };
            let number = part("value")?.ok_or_else(|| missing(object.at.key("value"), "a number".into()))?;
            let unit = match members.get("unit") {
                None | Some(Value::Null) if dimension == Dimension::Fraction => "1",
                None | Some(Value::Null) => {
                    return Err(missing(at.key("unit"), format!("the unit of {}", dimension.text())));
                }
                Some(Value::String(unit)) => unit,
                Some(other) => return Err(wrong_type(at.key("unit"), other, "the name of a unit".into())),
            };
            measure_object(number, unit, part("plus_minus")?, dimension).map(|(m, _)| m).map_err(placed)
        }
        Value::Number(_) => Err(placed(Fault {
            code: Code::BadQuantity,
            message: format!(
                "a bare number has no unit: wanted is {}, such as `{}`",
                dimension.text(),
                dimension.example()
            ),
            allowed: crate::quantity::UNITS
                .iter()
                .filter(|u| u.dimension == dimension)
                .map(|u| u.name.to_owned())
                .collect(),
        })),
        _ => Err(wrong_type(at, value, format!("{}, such as {}", dimension.text(), dimension.example()))),
    }
}

/// Notes a doubt and checks the range.
pub(crate) fn within(
    measure: Measure,
    value: &Value,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
) -> Result<f64, Error> {
    if measure.half_width.is_some() {
        remarks.doubted(at, value);
    }
    in_range(measure.si, value, at, rules, remarks)
}

/// Checks a number, in SI base units, against the field's rules: an error outside what can exist, a caution outside what is usual.
///
/// # Errors
/// `out_of_range`.
pub(crate) fn in_range(si: f64, value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<f64, Error> {
    if !(rules.unit.to_si(rules.least)..=rules.unit.to_si(rules.most)).contains(&si) {
        let allowed = rules.range_text();
        let message = format!("`{}` is out of range: allowed is {allowed}", at.name());
        return Err(Error::new(Code::OutOfRange, at, message).got(value).allowed([allowed]));
    }
    usual(si, at, rules, remarks);
    // A negative zero is a zero.
    Ok(si + 0.0)
}

fn usual(si: f64, at: At<'_>, rules: &Rules, remarks: &mut Remarks) {
    let Some((least, most)) = rules.usual else { return };
    if !(rules.unit.to_si(least)..=rules.unit.to_si(most)).contains(&si) {
        let range = rules.usual_text().unwrap_or_default();
        let message =
            format!("`{}` can exist but is unusual: usual is {range}; check the number and its unit", at.name());
        remarks.caution("unusual_value", at, message);
    }
}

fn default(at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Option<f64> {
    rules.default.map(|(value, source)| {
        remarks.basis(at.to_string().trim_start_matches('/').replace('/', "."), source);
        rules.unit.to_si(value)
    })
}

/// Reads a word of a list.
pub(crate) fn word<T: Copy>(value: &Value, at: At<'_>, words: &[(&'static str, T)], what: &str) -> Result<T, Error> {
    let names = || words.iter().map(|(name, _)| *name);
    let Value::String(text) = value else {
        return Err(
            wrong_type(at, value, format!("one of: {}", names().collect::<Vec<_>>().join(", "))).allowed(names())
        );
    };
    words
        .iter()
        .find(|(name, _)| name == text)
        .map(|(_, word)| *word)
        .ok_or_else(|| unknown_word(text, value, at, names(), what))
}

/// The error for a word that is not on the list.
pub(crate) fn unknown_word<'a>(
    text: &str,
    value: &Value,
    at: At<'_>,
    names: impl Iterator<Item = &'a str> + Clone,
    what: &str,
) -> Error {
    let hint = nearest(text, names.clone()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
    Error::new(Code::OutOfRange, at, format!("no {what} is called `{}`{hint}", clip(text))).got(value).allowed(names)
}
