//! A calculation made ready for rows of plain numbers.

use super::target::{Base, Pointed, Vary, Want, members, unit_named};
use crate::error::{Code, Error};
use crate::quantity::{Dimension, Unit};
use crate::wire::{
    Answer, At, Evaluations, Record, Remarks, Shared, answer_doubted, check_touched, is_finite, missing, refuse_doubts,
    wrong_type,
};
use serde_json::{Value, json};
use std::fmt;

/// Most columns of either kind.
pub const MOST_COLUMNS: usize = 1_000;

/// Makes a calculation ready for rows of plain numbers: the request is read once, the named numbers are then set and read in the named
/// units, without JSON.
///
/// `columns` has `inputs`, a list of JSON pointers into the request's record or of objects with `at` and `unit`, and `outputs`, a list
/// of pointers into the answer or of objects with `at` and `unit`, or `at` and `equals` for a word. A unit left out is the one that
/// [`Prepared::inputs`] and [`Prepared::outputs`] name. What an input sets need not stand in the request.
///
/// # Errors
/// What is wrong with the request, or with the columns at their field; `impossible` for a request with doubts.
///
/// ```
/// use serde_json::json;
/// let request = json!({ "mesh": "77-55", "ink": "plastisol", "prints": 100 });
/// let columns = json!({ "inputs": [{ "at": "/printed_area", "unit": "cm2" }], "outputs": [{ "at": "/mass_to_mix", "unit": "g" }] });
/// let prepared = floodbar::prepare("ink.usage", &request, &columns)?;
/// let mut mass = [0.0; 2];
/// let rows = prepared.run(&[&[250.0, -1.0]], &mut [&mut mass])?;
/// assert!(rows[0].status.is_ok() && mass[0] > 100.0);
/// assert_eq!(rows[1].status, Err(floodbar::Code::OutOfRange));
/// assert!(mass[1].is_nan());
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn prepare(id: &str, request: &Value, columns: &Value) -> Result<Prepared, Error> {
    with(None, id, request, columns)
}

/// The same, with a memory for heat.
pub(super) fn with(memory: Option<&Shared>, id: &str, request: &Value, columns: &Value) -> Result<Prepared, Error> {
    let given = members(columns, &["inputs", "outputs"])?;
    let mut base = Base::read(memory, id, request)?;
    let list = |name: &'static str| match given.get(name) {
        None | Some(Value::Null) => Err(missing(At::ROOT.key(name), "a list of columns".into())),
        Some(Value::Array(list)) if list.len() > MOST_COLUMNS => {
            Err(Error::new(Code::TooLong, At::ROOT.key(name), format!("{} columns", list.len()))
                .allowed([format!("at most {MOST_COLUMNS}")]))
        }
        Some(Value::Array(list)) => Ok(list),
        Some(other) => Err(wrong_type(At::ROOT.key(name), other, "a list of columns".into())),
    };
    let (root, name) = (At::ROOT, "inputs");
    let place = root.key(name);
    let mut inputs: Vec<Input> = Vec::new();
    for (index, column) in list(name)?.iter().enumerate() {
        let input = input(&mut base, column, place.index(index))?;
        if inputs.iter().any(|other| other.vary.path == input.vary.path) {
            return Err(Error::new(Code::Impossible, place.index(index), "another column sets this number already"));
        }
        inputs.push(input);
    }
    let name = "outputs";
    let place = root.key(name);
    let outputs = list(name)?.iter().enumerate().map(|(index, column)| Want::of(&base, column, place.index(index)));
    let outputs = outputs.collect::<Result<Vec<_>, _>>()?;
    refuse_doubts(&base.doubts)?;
    let counts = base.check()?;
    Ok(Prepared { base, inputs, outputs, counts })
}

/// A number of the request that is set row by row.
struct Input {
    vary: Vary,
    unit: &'static Unit,
}

fn input(base: &mut Base, column: &Value, place: At<'_>) -> Result<Input, Error> {
    let Pointed { pointer, unit, at, .. } = Pointed::of(column, place, &["at", "unit"])?;
    let vary = base.vary(pointer, place).map_err(|error| Error { field: at.clone(), ..error })?;
    let Some(number) = vary.number else {
        return Err(Error::new(Code::WrongType, at, "there is no number at this pointer").got(&Value::from(pointer)));
    };
    let unit = unit.map_or(Ok(number.unit), |name| unit_named(name, number.dimension, place.key("unit")))?;
    Ok(Input { vary, unit })
}

/// A calculation that is ready for rows. It never changes, so threads may share it; what a row needs belongs to the call.
pub struct Prepared {
    base: Base,
    inputs: Vec<Input>,
    outputs: Vec<Want>,
    /// Cautions and limits of all that no row sets.
    counts: [u32; 2],
}

/// What became of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// Whether it has an answer, else why not.
    pub status: Result<(), Code>,
    /// How many cautions it met.
    pub cautions: u32,
    /// How many limits it met.
    pub limits: u32,
}

impl Prepared {
    /// The numbers that a row sets: JSON pointers into the request, and units (`1` for a plain number).
    pub fn inputs(&self) -> impl ExactSizeIterator<Item = (&str, &'static str)> {
        self.inputs.iter().map(|input| (input.vary.pointer.as_str(), input.unit.name))
    }

    /// The numbers that a row gives: JSON pointers into the answer, and units.
    pub fn outputs(&self) -> impl ExactSizeIterator<Item = (&str, &'static str)> {
        self.outputs.iter().map(|output| (output.pointer.as_str(), output.unit.name))
    }

    /// What a row needs to be worked out, for as many rows as wanted, one after the other.
    ///
    /// # Errors
    /// `internal`, should the request not be of this calculation.
    pub fn rows(&self) -> Result<Rows<'_>, Error> {
        Ok(Rows { prepared: self, record: self.base.copy()?, remarks: Remarks::counting() })
    }

    /// Works out whole columns, all as long as one another: one for each input, one for each output. A number that an answer does not
    /// have, and all of a row that fails, is NaN.
    ///
    /// # Errors
    /// `impossible` for another number of columns, or columns that are not alike; then nothing is written.
    pub fn run(&self, inputs: &[&[f64]], outputs: &mut [&mut [f64]]) -> Result<Vec<Row>, Error> {
        let lengths: Vec<usize> = inputs.iter().map(|column| column.len()).collect();
        let places: Vec<usize> = outputs.iter().map(|column| column.len()).collect();
        let count = self.count(&lengths, &places)?;
        let mut rows = self.rows()?;
        let (mut values, mut found) = (vec![0.0; inputs.len()], vec![0.0; outputs.len()]);
        let row = |index: usize| {
            for (value, column) in values.iter_mut().zip(inputs) {
                *value = column.get(index).copied().unwrap_or(f64::NAN);
            }
            let row = rows.row(&values, &mut found);
            for (column, found) in outputs.iter_mut().zip(&found) {
                if let Some(place) = column.get_mut(index) {
                    *place = *found;
                }
            }
            row
        };
        Ok((0..count).map(row).collect())
    }

    /// The number of rows of columns that are so long, those of the inputs and those of the outputs.
    ///
    /// # Errors
    /// As [`Self::run`].
    pub fn count(&self, inputs: &[usize], outputs: &[usize]) -> Result<usize, Error> {
        let kinds = [("/inputs", inputs, self.inputs.len()), ("/outputs", outputs, self.outputs.len())];
        for (name, given, wanted) in kinds {
            if given.len() != wanted {
                return Err(Error::new(Code::Impossible, name, format!("{} columns for {wanted}", given.len()))
                    .got(&Value::from(given.len()))
                    .allowed([format!("{wanted} columns")]));
            }
        }
        let count = inputs.first().or(outputs.first()).copied().unwrap_or(0);
        for (name, given, _) in kinds {
            if let Some(index) = given.iter().position(|length| *length != count) {
                let place = format!("{name}/{index}");
                return Err(Error::new(Code::Impossible, place, "this column is not as long as the first")
                    .allowed([format!("{count} rows")]));
            }
        }
        Ok(count)
    }

    /// Works out columns that are JSON: a list of lists of numbers for the inputs. The answer has `columns` as a
    /// [`sweep`](super::sweep()) has them, with null for a number that there is not, `status`, `cautions` and `limits`, a list each with
    /// an entry for each row.
    ///
    /// # Errors
    /// As [`Self::run`]; `wrong_type` for what is no number.
    pub fn run_json(&self, inputs: &Value) -> Result<Value, Error> {
        let (root, name) = (At::ROOT, "inputs");
        let at = root.key(name);
        let lists = inputs.as_array().ok_or_else(|| wrong_type(at, inputs, "a list of columns".into()))?;
        let column = |(index, list): (usize, &Value)| {
            let at = at.index(index);
            let list = list.as_array().ok_or_else(|| wrong_type(at, list, "a list of numbers".into()))?;
            let number = |(row, value): (usize, &Value)| {
                value.as_f64().ok_or_else(|| wrong_type(at.index(row), value, "a number".into()))
            };
            list.iter().enumerate().map(number).collect::<Result<Vec<f64>, _>>()
        };
        let columns = lists.iter().enumerate().map(column).collect::<Result<Vec<_>, _>>()?;
        let rows = columns.first().map_or(0, Vec::len);
        let mut found = vec![vec![f64::NAN; rows]; self.outputs.len()];
        let given: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
        let mut places: Vec<&mut [f64]> = found.iter_mut().map(Vec::as_mut_slice).collect();
        let rows = self.run(&given, &mut places)?;
        let told =
            self.outputs().zip(&found).map(|((at, unit), values)| json!({ "at": at, "unit": unit, "values": values }));
        Ok(json!({
            "columns": told.collect::<Vec<_>>(),
            "status": rows.iter().map(|row| row.status.map_or_else(Code::text, |()| "success")).collect::<Vec<_>>(),
            "cautions": rows.iter().map(|row| row.cautions).collect::<Vec<_>>(),
            "limits": rows.iter().map(|row| row.limits).collect::<Vec<_>>(),
        }))
    }

    /// The full answer of one row.
    ///
    /// # Errors
    /// As [`Self::run`] for another number of values, and what the calculation refuses.
    pub fn explain(&self, values: &[f64]) -> Result<Answer, Error> {
        self.count(&vec![1; values.len()], &vec![1; self.outputs.len()])?;
        let mut record = self.base.copy()?;
        self.set(&mut *record, values)?;
        let work = self.base.work();
        let mut evaluations = Evaluations::new(self.base.options, self.base.memory.as_ref(), &work);
        answer_doubted(&mut *record, &[], &mut evaluations)
    }

    fn set(&self, record: &mut dyn Record, values: &[f64]) -> Result<(), Error> {
        self.inputs.iter().zip(values).try_for_each(|(input, value)| {
            let si = if input.unit.dimension == Dimension::Fraction { *value } else { input.unit.to_si(*value) };
            input.vary.set(record, si)
        })
    }
}

impl fmt::Debug for Prepared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let inputs: Vec<_> = self.inputs().collect();
        let outputs: Vec<_> = self.outputs().collect();
        f.debug_struct("Prepared").field("inputs", &inputs).field("outputs", &outputs).finish_non_exhaustive()
    }
}

/// What rows of a prepared calculation need to be worked out. A row of a closed form allocates nothing.
pub struct Rows<'a> {
    prepared: &'a Prepared,
    record: Box<dyn Record>,
    remarks: Remarks,
}

impl Rows<'_> {
    /// Works out a row: a value for each input, a place for each output. Where it fails, or has no such number, the place is NaN.
    pub fn row(&mut self, values: &[f64], outputs: &mut [f64]) -> Row {
        outputs.fill(f64::NAN);
        let Self { prepared, record, remarks } = self;
        let Prepared { base, outputs: wants, counts, .. } = prepared;
        remarks.again(*counts);
        let record = &mut **record;
        let done = prepared
            .set(record, values)
            .and_then(|()| check_touched(record, &base.touched, At::ROOT, remarks))
            .and_then(|()| {
                let mut whole = false;
                base.calculation.show(record, remarks, &mut |answer| {
                    whole = is_finite(answer, base.options.units);
                    if whole {
                        for (place, want) in outputs.iter_mut().zip(wants) {
                            *place = want.read(answer).map_or(f64::NAN, |si| want.unit.from_si(si) + 0.0);
                        }
                    }
                })?;
                if whole { Ok(()) } else { Err(Error::new(Code::Internal, "", "too large to be written")) }
            });
        let [cautions, limits] = remarks.counts();
        Row { status: done.map_err(|error| error.code), cautions, limits }
    }
}
