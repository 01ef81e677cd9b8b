//! Reads a record from a document, or checks one that was built in Rust: the same loop over its fields, the same rules,
//! defaults, cautions and errors.

use super::field::{Kind, Slot, View};
use super::record::{FieldTable, Given, Record, Stocked};
use super::remarks::UNUSUAL;
use super::shelf::Row;
use super::{At, MOST_ITEMS, Remarks};
use crate::error::{Code, Error, clip, nearest};
use crate::quantity::{Dimension, Fault, ParsedQuantity, Rules, UNITS, decimal, measure_object, measure_text};
use serde_json::{Map, Value, json};

/// Longest text of a name or title, in characters.
const MOST_CHARACTERS: usize = 1_000;
/// Most of anything that is counted.
const MOST_COUNT: f64 = 1e7;
/// What every request may carry at its root beside its own members.
const AT_THE_ROOT: [&str; 3] = ["units", "explain", "doubt"];

/// Reads a record. What is left out takes its default, or is missing.
pub(super) fn record(record: &mut dyn Record, value: &Value, at: At<'_>, remarks: &mut Remarks) -> Result<(), Error> {
    let table = record.table();
    match value {
        Value::Object(members) => {
            known(record, members, at)?;
            if let Some(stock) = table.stock {
                match members.get("from") {
                    None | Some(Value::Null) => {}
                    Some(from @ Value::String(name)) => load(record, stock, name, at.key("from"), from)?,
                    Some(other) => return Err(wrong_type(at.key("from"), other, "a text".into())),
                }
            }
            for (index, field) in table.fields.iter().enumerate() {
                let at = at.key(field.name);
                match members.get(field.name) {
                    None | Some(Value::Null) => absent(record, index, field, at, remarks)?,
                    Some(value) => {
                        if let Some(given) = record.given_mut() {
                            given.mark(index, true);
                        }
                        if let Some(slot) = record.slot(index) {
                            content(slot, value, at, field.rules, remarks)?;
                        }
                    }
                }
            }
        }
        Value::String(text) => match (&table.stock, &table.text) {
            (Some(stock), _) => {
                load(record, *stock, text, at, value)?;
                return check(record, at, remarks);
            }
            (None, Some(form)) => (form.read)(record, text, at, value, remarks)?,
            (None, None) => return Err(wrong_type(at, value, table.wanted())),
        },
        other => {
            let error = wrong_type(at, other, table.wanted());
            return Err(match table.stock {
                Some(stock) => error.allowed((stock.shelf)().names()),
                None => error,
            });
        }
    }
    if remarks.is_draft() {
        return Ok(());
    }
    table.fits.map_or(Ok(()), |fits| fits(record, at, value, remarks))
}

/// What an operator sets anew in a record: the places of fields in their table, or of entries in their list, each with what is set
/// within it. Where nothing is, the whole of it is set.
#[derive(Debug, Clone, Default)]
pub(crate) struct Touched(Vec<(usize, Self)>);

impl Touched {
    /// Adds the end of a way; in the order of the record, so that of two faults the same one is told as of a whole request.
    pub(crate) fn add(&mut self, path: &[usize]) {
        let Some((index, rest)) = path.split_first() else { return };
        let place = self.0.partition_point(|(known, _)| known < index);
        if self.0.get(place).is_none_or(|(known, _)| known != index) {
            self.0.insert(place, (*index, Self::default()));
        }
        if let Some((_, within)) = self.0.get_mut(place) {
            within.add(rest);
        }
    }

    fn within(&self, index: usize) -> Option<&Self> {
        self.0.iter().find(|(known, _)| *known == index).map(|(_, within)| within)
    }

    fn is_whole(&self) -> bool {
        self.0.is_empty()
    }
}

/// Checks of a record what is set anew, and what its fields cannot say one by one.
pub(crate) fn check_touched(
    record: &dyn Record,
    touched: &Touched,
    at: At<'_>,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    let table = record.table();
    for (index, within) in &touched.0 {
        let Some(field) = table.fields.get(*index) else { continue };
        check_content_touched(&record.view(*index), within, at.key(field.name), field.rules, remarks)?;
    }
    table.fits.map_or(Ok(()), |fits| fits(record, at, &Value::Null, remarks))
}

fn check_content_touched(
    view: &View<'_>,
    touched: &Touched,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    match view {
        View::Record(record) if !touched.is_whole() => check_touched(*record, touched, at, remarks),
        View::List(list) if !touched.is_whole() => touched.0.iter().try_for_each(|(index, within)| {
            check_content_touched(&list.item(*index), within, at.index(*index), rules, remarks)
        }),
        view => check_content(view, at, rules, remarks),
    }
}

/// Whether the check of what is set anew looks at more than the ranges of its numbers.
pub(crate) fn checks_more(view: &View<'_>, touched: &Touched) -> bool {
    match view {
        View::Number(..) | View::Count(_) => false,
        View::Record(record) => {
            record.table().fits.is_some()
                || touched.0.iter().any(|(index, within)| checks_more(&record.view(*index), within))
        }
        View::List(list) => touched.0.iter().any(|(index, within)| checks_more(&list.item(*index), within)),
        _ => true,
    }
}

/// Least and most, in SI base units, of the numbers of which those rules say nothing.
pub(crate) fn unremarkable(rules: &Rules, is_count: bool) -> (f64, f64) {
    let within = |one: (f64, f64), other: (f64, f64)| (one.0.max(other.0), one.1.min(other.1));
    let range = if is_count { within(rules.range.shown, (0.0, MOST_COUNT)) } else { rules.range.si };
    rules.usual.map_or(range, |usual| within(range, usual.si))
}

/// Checks a record that was built in Rust, as if it had been read.
pub(crate) fn check(record: &dyn Record, at: At<'_>, remarks: &mut Remarks) -> Result<(), Error> {
    check_rest(record, &Touched::default(), at, remarks)
}

/// Checks all of a record but what is set anew later, and the records around that.
pub(crate) fn check_rest(
    record: &dyn Record,
    touched: &Touched,
    at: At<'_>,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    let table = record.table();
    // What stands in stock was checked when it was read.
    if record.given().is_some_and(|given| given.is_stock() && !(remarks.explains() && has_defaults(given))) {
        return Ok(());
    }
    // In the order of the fields, but only those that have something to be said about.
    let given = record.given().map_or(u64::MAX, Given::bits);
    let from_stock = record.given().is_some_and(|given| given.row().is_some());
    let absent_too = match (from_stock, remarks.explains()) {
        (true, true) => u64::MAX,
        (true, false) => 0,
        (false, true) => table.required | table.defaulted,
        (false, false) => table.required,
    };
    let mut left = given | absent_too;
    while left != 0 {
        let index = left.trailing_zeros() as usize;
        left &= left.wrapping_sub(1);
        let Some(field) = table.fields.get(index) else { break };
        let at = at.key(field.name);
        match touched.within(index) {
            None if given >> index & 1 == 1 => check_content(&record.view(index), at, field.rules, remarks)?,
            None => absent(record, index, field, at, remarks)?,
            Some(within) => check_content_rest(&record.view(index), within, at, field.rules, remarks)?,
        }
    }
    match table.fits.filter(|_| touched.is_whole()) {
        Some(fits) => fits(record, at, &Value::Null, remarks),
        None => Ok(()),
    }
}

fn check_content_rest(
    view: &View<'_>,
    touched: &Touched,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    match view {
        View::Record(record) if !touched.is_whole() => check_rest(*record, touched, at, remarks),
        View::List(list) if !touched.is_whole() => {
            let count = list.count();
            check_length(count, at)?;
            (0..count).try_for_each(|index| match touched.within(index) {
                None => check_content(&list.item(index), at.index(index), rules, remarks),
                Some(within) => check_content_rest(&list.item(index), within, at.index(index), rules, remarks),
            })
        }
        _ => Ok(()),
    }
}

/// A field that was not given: from stock, by default, absent, or missing.
fn absent(
    record: &dyn Record,
    index: usize,
    field: &FieldTable,
    at: At<'_>,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    if let Some(row) = record.given().and_then(Given::row) {
        if remarks.explains() && row.has_defaults() {
            match field.rules.default.filter(|_| row.source(index).is_none()) {
                Some((_, source)) => remarks.basis(|| dotted(at), source),
                None => defaults_within(&record.view(index), at, remarks),
            }
        }
        return Ok(());
    }
    if field.kind.is_optional() {
        return Ok(());
    }
    match field.rules.default {
        Some((_, source)) if at.is_at_root() => remarks.basis(field.name, source),
        Some((_, source)) => remarks.basis(|| dotted(at), source),
        None if remarks.is_draft() => {}
        None => {
            let mut error = missing(at, field.kind.wanted());
            if let Some(stock) = record.table().stock {
                error.message.push_str(&format!(": give it, or start from a stock {} with `from`", stock.what));
            }
            return Err(error);
        }
    }
    Ok(())
}

/// A place as the name of a number: `shop.register.wanted_probability`.
fn dotted(at: At<'_>) -> String {
    at.to_string().trim_start_matches('/').replace('/', ".")
}

fn has_defaults(given: &Given) -> bool {
    given.row().is_some_and(Row::has_defaults)
}

/// The basis of defaults inside of a stock value.
fn defaults_within(view: &View<'_>, at: At<'_>, remarks: &mut Remarks) {
    match view {
        View::Record(record) => {
            for (index, field) in record.table().fields.iter().enumerate() {
                let at = at.key(field.name);
                let given = record.given().is_none_or(|given| given.has(index) || given.row().is_some());
                match field.rules.default.filter(|_| !given) {
                    Some((_, source)) => remarks.basis(|| dotted(at), source),
                    None => defaults_within(&record.view(index), at, remarks),
                }
            }
        }
        View::List(list) => {
            (0..list.count()).for_each(|index| defaults_within(&list.item(index), at.index(index), remarks));
        }
        _ => {}
    }
}

/// Refuses a member that the record does not have.
fn known(record: &dyn Record, members: &Map<String, Value>, at: At<'_>) -> Result<(), Error> {
    let table = record.table();
    let stock = table.stock.map(|_| "from");
    let root = AT_THE_ROOT.iter().copied().filter(|_| at.is_root());
    for (name, member) in members {
        let name = name.as_str();
        if table.find(name).is_some()
            || Some(name) == stock
            || table.ignored.contains(&name)
            || (at.is_root() && AT_THE_ROOT.contains(&name))
        {
            continue;
        }
        return Err(unknown(name, member, at, table.names().chain(stock).chain(root)));
    }
    Ok(())
}

/// The error for a member that is not among the known ones.
pub(crate) fn unknown<'a>(
    name: &str,
    member: &Value,
    at: At<'_>,
    known: impl Iterator<Item = &'a str> + Clone,
) -> Error {
    let hint = nearest(name, known.clone()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
    Error::new(Code::UnknownField, at.key(name), format!("unknown field `{}`{hint}", clip(name)))
        .got(member)
        .allowed(known)
}

/// Fills a record from the stock row of that name.
fn load(record: &mut dyn Record, stock: Stocked, name: &str, at: At<'_>, value: &Value) -> Result<(), Error> {
    let shelf = (stock.shelf)();
    let Some(row) = shelf.row(name) else {
        return Err(unknown_word(name, value, at, shelf.names(), stock.what));
    };
    take_row(record, row);
    Ok(())
}

fn take_row(record: &mut dyn Record, row: &'static Row) {
    record.become_copy(Some(row.record()));
    if let Some(given) = record.given_mut() {
        given.row = Some(row);
    }
}

/// Fills a record from the stock row of that name; one of a kind that is not in stock stays as it is.
///
/// # Errors
/// `out_of_range` for a name that is not in stock.
pub fn from_stock(record: &mut dyn Record, name: &str) -> Result<(), Error> {
    let Some(stock) = record.table().stock else { return Ok(()) };
    load(record, stock, name, At::ROOT, &Value::from(name))
}

/// Reads one content.
pub(crate) fn content(
    slot: Slot<'_>,
    value: &Value,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
) -> Result<(), Error> {
    match slot {
        Slot::Number(dimension, place) => {
            let measure = match value {
                Value::Number(number) if dimension == Dimension::Fraction => {
                    ParsedQuantity { si: number.as_f64().unwrap_or(f64::NAN), half_width: None }
                }
                _ => measure(value, at, dimension)?,
            };
            *place = within(measure, value, at, rules, remarks)?;
        }
        Slot::Count(place) => {
            let Value::Number(number) = value else { return Err(wrong_type(at, value, Kind::Count.wanted())) };
            let given = number.as_f64().unwrap_or(f64::INFINITY);
            check_count(given, at, rules, remarks, || value.clone())?;
            *place = given as u32;
        }
        Slot::Flag(place) => {
            *place = value.as_bool().ok_or_else(|| wrong_type(at, value, Kind::Flag.wanted()))?;
        }
        Slot::Text(place) => {
            let text = value.as_str().ok_or_else(|| wrong_type(at, value, Kind::Text.wanted()))?;
            check_text(text, at)?;
            text.clone_into(place);
        }
        Slot::Word(place) => {
            let words = place.words();
            let index = word(value, at, words, place.what())?;
            place.choose(index);
        }
        Slot::Record(place) => {
            // Nothing of what stood here stays.
            place.become_copy(None);
            record(place, value, at, remarks)?;
        }
        Slot::List(place, kind) => {
            place.empty();
            let Value::Array(items) = value else { return Err(wrong_type(at, value, kind.wanted())) };
            check_length(items.len(), at)?;
            for (index, item) in items.iter().enumerate() {
                if let Some(slot) = place.grow() {
                    content(slot, item, at.index(index), rules, remarks)?;
                }
            }
        }
        Slot::Own(place) => place.read(value, at, rules, remarks)?,
        Slot::AnswerOnly => {}
    }
    Ok(())
}

/// Checks one content that was built in Rust.
fn check_content(view: &View<'_>, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
    match view {
        View::Number(dimension, si) => check_number(*si, at, rules, remarks, || typed(*dimension, *si, rules)),
        View::Count(count) => check_count(f64::from(*count), at, rules, remarks, || json!(count)),
        View::Text(text) => check_text(text, at),
        View::Record(record) => check(*record, at, remarks),
        View::List(list) => {
            let count = list.count();
            check_length(count, at)?;
            (0..count).try_for_each(|index| check_content(&list.item(index), at.index(index), rules, remarks))
        }
        View::Own(own) => own.check(at, rules, remarks),
        View::Absent | View::Integer(_) | View::Flag(_) | View::InUnit(..) | View::Rounded(..) | View::Money(_) => {
            Ok(())
        }
    }
}

/// A typed number as the wire would write it; null where it is not finite.
pub(crate) fn typed(dimension: Dimension, si: f64, rules: &Rules) -> Value {
    match dimension {
        Dimension::Fraction => json!(si),
        _ if rules.unit.dimension == dimension && si.is_finite() => {
            json!({ "value": rules.unit.from_si(si), "unit": rules.unit.name })
        }
        _ => Value::Null,
    }
}

pub(crate) fn missing(at: At<'_>, wanted: String) -> Error {
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

/// One of several fields must be there, by the first choice of the record: the error that says so.
#[must_use]
pub(crate) fn one_of<R: super::Declared>(at: At<'_>) -> Error {
    needed(at, R::TABLE.choice())
}

/// A field must be there beside what was given: the error that says so.
#[must_use]
pub(crate) fn lacks(at: At<'_>, field: &str) -> Error {
    needed(at.key(field), vec![field.to_owned()])
}

/// One of these must be there: the error that says so.
#[must_use]
pub(crate) fn needed(at: At<'_>, fields: Vec<String>) -> Error {
    Error::new(Code::MissingField, at, format!("one of these is needed: {}", fields.join(", "))).allowed(fields)
}

/// Reads a value as a quantity of the dimension, in SI base units.
pub(crate) fn measure(value: &Value, at: At<'_>, dimension: Dimension) -> Result<ParsedQuantity, Error> {
    let placed = |fault: Fault| Error::new(fault.code, at, fault.message).got(value).allowed(fault.allowed);
    match value {
        Value::String(text) => measure_text(text, dimension).map(|(m, _)| m).map_err(placed),
        Value::Object(members) => {
            const PARTS: [&str; 3] = ["value", "unit", "plus_minus"];
            if let Some((name, member)) = members.iter().find(|(name, _)| !PARTS.contains(&name.as_str())) {
                return Err(unknown(name, member, at, PARTS.into_iter()));
            }
            let part = |name: &'static str| match members.get(name) {
                None | Some(Value::Null) => Ok(None),
                Some(Value::Number(number)) => Ok(number.as_f64()),
                Some(other) => Err(wrong_type(at.key(name), other, "a number".into())),
            };
            let number = part("value")?.ok_or_else(|| missing(at.key("value"), "a number".into()))?;
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
            allowed: UNITS.iter().filter(|u| u.dimension == dimension).map(|u| u.name.to_owned()).collect(),
        })),
        _ => Err(wrong_type(at, value, format!("{}, such as {}", dimension.text(), dimension.example()))),
    }
}

/// Notes a doubt and checks the range.
pub(crate) fn within(
    measure: ParsedQuantity,
    value: &Value,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
) -> Result<f64, Error> {
    check_number(measure.si, at, rules, remarks, || value.clone())?;
    if let Some(half) = measure.half_width {
        remarks.doubted(at, value, half);
    }
    // A negative zero is a zero.
    Ok(measure.si + 0.0)
}

/// Checks a number, in SI base units, against the field's rules: an error outside what can exist (NaN and infinities among
/// it), a caution outside what is usual.
pub(crate) fn check_number(
    si: f64,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
    got: impl FnOnce() -> Value,
) -> Result<(), Error> {
    if !rules.range.holds(si) {
        let allowed = if rules.limits() { rules.range_text() } else { "a finite number".to_owned() };
        let mut message = format!("`{}` is out of range: allowed is {allowed}", at.name());
        if rules.unit.name == "1" && rules.range.shown.1 <= 1.0 && si > 1.0 && si <= 100.0 {
            message.push_str(&format!("; did you mean `{} %`?", decimal(si)));
        }
        return Err(Error::new(Code::OutOfRange, at, message).got(&got()).allowed([allowed]));
    }
    usual(si, at, rules, remarks);
    Ok(())
}

pub(super) fn check_count(
    given: f64,
    at: At<'_>,
    rules: &Rules,
    remarks: &mut Remarks,
    got: impl FnOnce() -> Value,
) -> Result<(), Error> {
    let (least, most) = (rules.range.shown.0.max(0.0), rules.range.shown.1.min(MOST_COUNT));
    if given.fract() != 0.0 || given < least || given > most {
        let allowed = format!("whole numbers from {} to {}", decimal(least), decimal(most));
        let message = format!("`{}` is {}: allowed are {allowed}", at.name(), decimal(given));
        return Err(Error::new(Code::OutOfRange, at, message).got(&got()).allowed([allowed]));
    }
    usual(given, at, rules, remarks);
    Ok(())
}

fn usual(si: f64, at: At<'_>, rules: &Rules, remarks: &mut Remarks) {
    if rules.usual.is_some_and(|usual| !usual.holds(si)) {
        remarks.caution(UNUSUAL, at, |_| {
            let range = rules.usual_text().unwrap_or_default();
            format!("`{}` can exist but is unusual: usual is {range}; check the number and its unit", at.name())
        });
    }
}

fn check_text(text: &str, at: At<'_>) -> Result<(), Error> {
    // A text of so many bytes has no more characters.
    if text.len() > MOST_CHARACTERS && text.chars().count() > MOST_CHARACTERS {
        return Err(Error::new(Code::TooLong, at, "the text is too long")
            .got(&Value::from(text))
            .allowed([format!("at most {MOST_CHARACTERS} characters")]));
    }
    Ok(())
}

fn check_length(count: usize, at: At<'_>) -> Result<(), Error> {
    if count > MOST_ITEMS {
        return Err(Error::new(Code::TooLong, at, format!("{count} entries"))
            .got(&format!("an array of {count}").into())
            .allowed([format!("at most {MOST_ITEMS} entries")]));
    }
    Ok(())
}

/// The place of a word in its list.
pub(super) fn word(value: &Value, at: At<'_>, words: &[&'static str], what: &str) -> Result<usize, Error> {
    let names = words.iter().copied();
    let Value::String(text) = value else {
        return Err(wrong_type(at, value, format!("one of: {}", words.join(", "))).allowed(names));
    };
    words.iter().position(|word| word == text).ok_or_else(|| unknown_word(text, value, at, names, what))
}

/// The error for a word that is not on the list.
fn unknown_word<'a>(
    text: &str,
    value: &Value,
    at: At<'_>,
    names: impl Iterator<Item = &'a str> + Clone,
    what: &str,
) -> Error {
    let hint = nearest(text, names.clone()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
    Error::new(Code::OutOfRange, at, format!("no {what} is called `{}`{hint}", clip(text))).got(value).allowed(names)
}
