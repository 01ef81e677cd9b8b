//! A calculation made ready for rows of plain numbers.

use super::target::{Base, Pointed, Vary, Want, members, unit_named};
use crate::error::{Code, Error};
use crate::quantity::{Unit, units};
use crate::wire::{
    Answer, At, Evaluations, Record, Remarks, Shared, View, answer_doubted, check, check_touched, checks_more,
    is_finite, missing, refuse_doubts, unremarkable, wrong_type,
};
use serde_json::{Value, json};
use std::fmt;

/// Most columns of either kind.
pub const MOST_COLUMNS: usize = 1_000;
/// So many rows at a time stay close to the processor.
pub const BLOCK: usize = 256;

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
    // What follows a number is no longer what was checked here.
    let whole = inputs.iter().any(|input| input.vary.leads);
    let counts = if whole { [0; 2] } else { counts };
    // Where rules look at more than one number, or the number stands in a form of its own, each row is checked in full.
    if checks_more(&View::Record(&*base.record), &base.touched) {
        inputs.iter_mut().for_each(|input| input.unremarkable = (f64::INFINITY, f64::NEG_INFINITY));
    }
    Ok(Prepared { base, inputs, outputs, counts, whole })
}

/// A number of the request that is set row by row.
struct Input {
    vary: Vary,
    unit: &'static Unit,
    /// Least and most, in SI base units, of what needs no further check.
    unremarkable: (f64, f64),
}

fn input(base: &mut Base, column: &Value, place: At<'_>) -> Result<Input, Error> {
    let Pointed { pointer, unit, at, .. } = Pointed::of(column, place, &["at", "unit"])?;
    let vary = base.vary(pointer, place).map_err(|error| Error { field: at.clone(), ..error })?;
    let Some(number) = vary.number else {
        return Err(Error::new(Code::WrongType, at, "there is no number at this pointer").got(&Value::from(pointer)));
    };
    let unit = unit.map_or(Ok(number.unit), |name| unit_named(name, number.dimension, place.key("unit")))?;
    Ok(Input { vary, unit, unremarkable: unremarkable(number.rules, number.is_whole) })
}

/// A calculation that is ready for rows. It never changes, so threads may share it; what a row needs belongs to the call.
pub struct Prepared {
    base: Base,
    inputs: Vec<Input>,
    outputs: Vec<Want>,
    /// Cautions and limits of all that no row sets.
    counts: [u32; 2],
    /// Whether something follows a number, so that each row begins with a copy and is checked as a whole.
    whole: bool,
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
        let remarks = Remarks::with_memory(self.base.memory.as_ref())(Remarks::counting());
        let block = Block {
            given: vec![Vec::new(); self.inputs.len()],
            found: vec![Vec::new(); self.outputs.len()],
            remarkable: Vec::new(),
        };
        Ok(Rows { prepared: self, record: self.base.copy()?, remarks, block })
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
        let mut seen = Vec::with_capacity(count);
        while seen.len() < count {
            let begin = seen.len();
            rows.begin(BLOCK.min(count.saturating_sub(begin)));
            for (index, column) in inputs.iter().enumerate() {
                rows.give(index, column.iter().skip(begin).copied());
            }
            rows.work(|row| seen.push(row));
            for (index, column) in outputs.iter_mut().enumerate() {
                let places = column.iter_mut().skip(begin);
                places.zip(rows.taken(index)).for_each(|(place, found)| *place = found);
            }
        }
        Ok(seen)
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
        for (input, value) in self.inputs.iter().zip(values) {
            input.vary.set(&mut *record, input.unit.to_si(*value))?;
        }
        let work = self.base.work();
        let mut evaluations = Evaluations::new(self.base.options, self.base.memory.as_ref(), &work);
        answer_doubted(&mut *record, &[], &mut evaluations)
    }
}

impl fmt::Debug for Prepared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let inputs: Vec<_> = self.inputs().collect();
        let outputs: Vec<_> = self.outputs().collect();
        f.debug_struct("Prepared").field("inputs", &inputs).field("outputs", &outputs).finish_non_exhaustive()
    }
}

/// What rows of a prepared calculation need to be worked out, some at a time: [`Self::begin`], [`Self::give`] each column,
/// [`Self::work`], and each column is [taken](Self::taken). A row of a closed form allocates nothing.
///
/// Numbers are turned from and into their units column by column, which is quicker than row by row.
pub struct Rows<'a> {
    prepared: &'a Prepared,
    record: Box<dyn Record>,
    remarks: Remarks,
    block: Block,
}

/// Columns of some rows, in SI base units.
struct Block {
    given: Vec<Vec<f64>>,
    found: Vec<Vec<f64>>,
    /// Whether a row has an input that must be checked further.
    remarkable: Vec<bool>,
}

impl Rows<'_> {
    /// Begins with so many rows, whose inputs are NaN until they are given; [`BLOCK`] are a good number.
    pub fn begin(&mut self, rows: usize) {
        let Block { given, found, remarkable } = &mut self.block;
        for column in given.iter_mut().chain(found) {
            column.clear();
            column.resize(rows, f64::NAN);
        }
        remarkable.clear();
        remarkable.resize(rows, false);
    }

    /// Gives the input at this place of all rows, in its unit.
    pub fn give(&mut self, index: usize, values: impl IntoIterator<Item = f64>) {
        let Block { given, remarkable, .. } = &mut self.block;
        let Some((input, column)) = self.prepared.inputs.iter().zip(given).nth(index) else { return };
        let (unit, (least, most)) = (*input.unit, input.unremarkable);
        for ((place, remarkable), value) in column.iter_mut().zip(remarkable).zip(values) {
            let si = unit.to_si(value);
            *place = si;
            *remarkable |= !(least <= si && si <= most);
        }
    }

    /// Works out all rows, in their order.
    pub fn work(&mut self, mut seen: impl FnMut(Row)) {
        for index in 0..self.block.remarkable.len() {
            seen(self.worked(index));
        }
    }

    /// The output at this place of all rows, in its unit. Where a row failed, or has no such number, it is NaN.
    pub fn taken(&self, index: usize) -> impl Iterator<Item = f64> {
        let column = self.prepared.outputs.iter().zip(&self.block.found).nth(index);
        let (unit, column) = column.map_or((units::ONE.unit(), &[][..]), |(want, column)| (*want.unit, column));
        // Arithmetic with NaN may give any NaN: the same bits everywhere are those of the constant.
        column.iter().map(move |si| if si.is_nan() { f64::NAN } else { unit.from_si(*si) + 0.0 })
    }

    /// Works out one row: a value for each input, a place for each output. Where it fails, or has no such number, the place is NaN.
    pub fn row(&mut self, values: &[f64], outputs: &mut [f64]) -> Row {
        self.begin(1);
        for (index, value) in values.iter().enumerate() {
            self.give(index, [*value]);
        }
        let row = self.worked(0);
        for (index, place) in outputs.iter_mut().enumerate() {
            *place = self.taken(index).next().unwrap_or(f64::NAN);
        }
        row
    }

    /// Works out a row; what fails is NaN.
    fn worked(&mut self, index: usize) -> Row {
        self.remarks.again(self.prepared.counts);
        let status = self.found(index).map_err(|error| {
            self.block.places(index).for_each(|place| *place = f64::NAN);
            error.code
        });
        let [cautions, limits] = self.remarks.counts();
        Row { status, cautions, limits }
    }

    fn found(&mut self, index: usize) -> Result<(), Error> {
        let Self { prepared: Prepared { base, inputs, outputs, .. }, record, remarks, block } = self;
        if self.prepared.whole {
            // What followed the numbers of the row before is as it was.
            *record = base.copy()?;
        }
        let record = &mut **record;
        let mut remarkable = block.remarkable.get(index) != Some(&false);
        for (input, column) in inputs.iter().zip(&block.given) {
            let si = column.get(index).copied().unwrap_or(f64::NAN);
            // It was not given.
            remarkable |= si.is_nan();
            input.vary.set(record, si)?;
        }
        if self.prepared.whole {
            check(record, At::ROOT, remarks)?;
        } else if remarkable {
            check_touched(record, &base.touched, At::ROOT, remarks)?;
        }
        let mut whole = false;
        base.calculation.show(record, remarks, &mut |answer| {
            whole = is_finite(answer, base.options.units);
            for (place, want) in block.places(index).zip(outputs) {
                *place = want.read(answer).unwrap_or(f64::NAN);
            }
        })?;
        if whole { Ok(()) } else { Err(Error::new(Code::Internal, "", "too large to be written")) }
    }
}

impl Block {
    /// Where the outputs of a row go.
    fn places(&mut self, index: usize) -> impl Iterator<Item = &mut f64> {
        self.found.iter_mut().filter_map(move |column| column.get_mut(index))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn usage() -> Prepared {
        let request = json!({ "mesh": "77-55", "ink": "plastisol" });
        let columns = json!({ "inputs": ["/printed_area", "/prints"], "outputs": ["/mass_to_mix", "/wet_film"] });
        prepare("ink.usage", &request, &columns).unwrap()
    }

    #[test]
    fn blocks_are_rows_one_after_the_other() {
        let prepared = usage();
        let count = 2 * BLOCK + 3;
        let areas: Vec<f64> = (0..count).map(|index| 1.0 + (index % 37) as f64 * 40.0).collect();
        let prints: Vec<f64> = (0..count).map(|index| (index % 11) as f64).collect();
        let (mut masses, mut films) = (vec![0.0; count], vec![0.0; count]);
        let rows = prepared.run(&[&areas, &prints], &mut [&mut masses, &mut films]).unwrap();
        let (mut one, mut found) = (prepared.rows().unwrap(), [0.0; 2]);
        for index in 0..count {
            assert_eq!(one.row(&[areas[index], prints[index]], &mut found), rows[index]);
            assert_eq!(found.map(f64::to_bits), [masses[index].to_bits(), films[index].to_bits()]);
            // No prints cannot be.
            assert_eq!(rows[index].status.is_ok(), index % 11 > 0);
        }
    }

    #[test]
    fn what_is_not_given_is_no_number() {
        let prepared = usage();
        let mut rows = prepared.rows().unwrap();
        rows.begin(2);
        rows.give(0, [300.0, 300.0]);
        rows.give(1, [20.0]);
        rows.give(2, [1.0, 1.0]);
        let mut seen = Vec::new();
        rows.work(|row| seen.push(row.status));
        assert_eq!(seen, [Ok(()), Err(Code::OutOfRange)]);
        let films: Vec<f64> = rows.taken(1).collect();
        assert!(films[0] > 0.0 && films[1].is_nan() && rows.taken(2).next().is_none());
    }

    /// A thread within its own range may leave no opening.
    #[test]
    fn rules_beyond_ranges_are_checked_in_each_row() {
        let columns = json!({ "inputs": [{ "at": "/mesh/thread", "unit": "um" }], "outputs": ["/opening"] });
        let prepared = prepare("mesh.geometry", &json!({ "mesh": "77-55" }), &columns).unwrap();
        let mut openings = [0.0; 3];
        let rows = prepared.run(&[&[60.0, 128.0, 50.0]], &mut [&mut openings]).unwrap();
        assert_eq!(rows.iter().map(|row| row.status).collect::<Vec<_>>(), [Ok(()), Err(Code::Impossible), Ok(())]);
        assert!((openings[0] - (10_000.0 / 77.0 - 60.0)).abs() < 1e-9 && openings[1].is_nan());
    }

    /// A reading out of its range, and before it in the request a count at which the thread leaves no opening.
    #[test]
    fn of_two_faults_of_a_row_the_first_in_the_request_is_told() {
        let request = json!({ "screens": [{ "name": "a", "readings": ["25 N/cm"], "mesh": "90-48" }, { "name": "b", "readings": ["25 N/cm"] }] });
        let columns = json!({ "inputs": ["/screens/1/readings/0", { "at": "/screens/0/mesh/count", "unit": "/cm" }], "outputs": ["/set_mean"] });
        let prepared = prepare("tension.assess", &request, &columns).unwrap();
        let row = prepared.rows().unwrap().row(&[-1.0, 220.0], &mut [0.0]);
        assert_eq!(row.status, Err(Code::Impossible));
        assert_eq!(prepared.explain(&[-1.0, 220.0]).unwrap_err().code, Code::Impossible);
    }

    #[test]
    fn a_share_may_be_told_in_percent() {
        let request = json!({ "mesh": "77-55", "ink": "plastisol", "printed_area": "300 cm2", "prints": 10 });
        let run = |column: Value, share: f64| {
            let columns = json!({ "inputs": [column], "outputs": ["/mass_to_mix"] });
            let prepared = prepare("ink.usage", &request, &columns).unwrap();
            let mut mass = [0.0];
            prepared.run(&[&[share]], &mut [&mut mass]).unwrap();
            mass[0].to_bits()
        };
        assert_eq!(run(json!({ "at": "/waste_fraction", "unit": "%" }), 25.0), run(json!("/waste_fraction"), 0.25));
    }
}
