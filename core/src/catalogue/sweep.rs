//! One calculation at many points.

use super::target::{Base, Vary, Want, members, text};
use crate::error::{Code, Error};
use crate::wire::{
    Answer, At, Doubted, Evaluations, Record, Remarks, Shared, answer_doubted, numbers, read_content, refuse_doubts,
    wrong_type,
};
use crate::work::Work;
use serde_json::{Map, Value, json};

/// Most points of a sweep.
pub const MOST_POINTS: usize = 10_000;
/// Work of all points together, as so many evaluations at the limit of one.
pub(super) const MOST_WORK: u64 = 10;

/// Where a point lies.
enum Point<'a> {
    /// In the unit in which it is told, so that it can be asked for by itself.
    Number(f64),
    Content(&'a Value),
}

/// Answers a calculation at many points: `vary` is a JSON pointer into the request's record, which need not stand in the document (a
/// number of a stock row, of a mesh in text, a default).
///
/// `spec` has `vary`, and either `from`, `to` and `points` (with `spacing`, `linear` or `geometric`) or `values`, a list of whatever
/// belongs there: meshes, inks, whole shops. With `want` (a list of pointers into the answer, or of objects with `at` and `unit` or
/// `equals`) the answer has a column for each, in one unit, else a list of whole answers. A point that fails is its error in the list,
/// or a null in each column and an entry of `errors`; it spoils no other. Doubts of the request are carried into each answer, and into
/// a list `plus_minus` beside the values of each column; a number that is varied keeps its own, `values` have none.
///
/// # Errors
/// What is wrong with the request's text or the specification, at the field of the specification; `too_long` for more than
/// [`MOST_POINTS`] points, and for more work than ten evaluations may be.
///
/// ```
/// use serde_json::json;
/// let request = json!({ "mesh": "77-55" });
/// let spec = json!({ "vary": "/mesh/thread", "from": "40 um", "to": "60 um", "points": 3, "want": ["/opening", "/open_area_fraction"] });
/// let swept = floodbar::sweep("mesh.geometry", &request, &spec)?;
/// assert_eq!(swept["columns"][0]["unit"], "um");
/// assert_eq!((&swept["x"]["unit"], swept["x"]["values"].as_array().map(Vec::len)), (&json!("um"), Some(3)));
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn sweep(id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
    within(None, id, request, spec, Work::of_evaluations(MOST_WORK))
}

/// The same, with a memory for heat.
pub(super) fn with(memory: Option<&Shared>, id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
    within(memory, id, request, spec, Work::of_evaluations(MOST_WORK))
}

/// The same with this much work for all points.
fn within(memory: Option<&Shared>, id: &str, request: &Value, spec: &Value, work: Work) -> Result<Value, Error> {
    let given = members(spec, &["vary", "from", "to", "points", "spacing", "values", "want"])?;
    let mut base = Base::read(memory, id, request)?;
    let vary = Vary::of(&mut base, spec)?;
    base.check()?;
    let wants = wants(&base, given)?;
    let points = points(&vary, spec, given)?;
    let evaluate = base.work();
    let mut evaluations = Evaluations::new(base.options, base.memory.as_ref(), &evaluate).within(work, points.len());
    let mut swept = Swept { answers: Vec::new(), columns: Vec::new(), errors: Vec::new() };
    swept.columns.resize(wants.as_ref().map_or(0, Vec::len), Column::default());
    // A number that is varied keeps its doubt; a content that is put in the place of another brings none.
    let numbers = matches!(points.first(), Some(Point::Number(_)));
    let is_replaced = |doubt: &Doubted| {
        let rest = doubt.field.strip_prefix(&vary.pointer);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
    };
    let doubts: Vec<Doubted> = base.doubts.iter().filter(|doubt| numbers || !is_replaced(doubt)).cloned().collect();
    for (index, point) in points.iter().enumerate() {
        let mut record = base.copy()?;
        let set = match point {
            Point::Number(told) => vary.set_told(&mut *record, *told),
            Point::Content(value) => content(&mut *record, &vary, value),
        };
        let answer = set.and_then(|()| match &wants {
            Some(_) if doubts.is_empty() => evaluations.silent(&*record, 1.0).map(|silent| Seen::Record(silent.record)),
            _ => answer_doubted(&mut *record, &doubts, &mut evaluations).map(Seen::Answer),
        });
        if evaluations.is_spent() {
            return Err(Error::new(Code::TooLong, "/points", "these points are more work than one sweep may be")
                .allowed([format!("about {MOST_WORK} seconds' work")]));
        }
        swept.add(index, answer, wants.as_deref())?;
    }
    Ok(swept.told(&vary, &points, !doubts.is_empty(), wants.as_deref()))
}

/// Puts a content of any kind where the pointer leads.
fn content(record: &mut dyn Record, vary: &Vary, value: &Value) -> Result<(), Error> {
    let Some((slot, rules)) = numbers::place(record, &vary.path) else { return Ok(()) };
    let mut remarks = Remarks::counting();
    read_content(slot, value, At::ROOT, rules, &mut remarks)
        .and_then(|()| refuse_doubts(&remarks.take_doubts()))
        .map_err(|error| Error { field: format!("{}{}", vary.pointer, error.field), ..error })?;
    numbers::follow(record, &vary.path);
    Ok(())
}

/// What there is of a point.
enum Seen {
    /// Its numbers alone.
    Record(Box<dyn Record>),
    Answer(Answer),
}

/// The values of what is wanted, and their half-widths where the request has doubts.
#[derive(Debug, Clone, Default)]
struct Column {
    values: Vec<Value>,
    half_widths: Vec<Value>,
}

/// What was found at the points so far.
struct Swept {
    answers: Vec<Value>,
    columns: Vec<Column>,
    errors: Vec<Value>,
}

impl Swept {
    fn add(&mut self, index: usize, answer: Result<Seen, Error>, wants: Option<&[Want]>) -> Result<(), Error> {
        let told = |value: Option<f64>| value.map_or(Value::Null, |value| json!(value + 0.0));
        match (answer, wants) {
            (Ok(seen), None) => {
                // Where no columns are wanted, answers were asked for.
                if let Seen::Answer(answer) = seen {
                    self.answers.push(answer.to_value()?);
                }
            }
            (Ok(seen), Some(wants)) => {
                for (column, want) in self.columns.iter_mut().zip(wants) {
                    let read = |record: &dyn Record| told(want.read(record).map(|si| want.unit.from_si(si)));
                    match &seen {
                        Seen::Record(record) => column.values.push(read(&**record)),
                        Seen::Answer(answer) => {
                            column.values.push(read(answer.record()));
                            column.half_widths.push(told(want.half_width(answer)));
                        }
                    }
                }
            }
            (Err(error), None) => self.answers.push(error.to_json()),
            (Err(error), Some(_)) => {
                for column in &mut self.columns {
                    column.values.push(Value::Null);
                    column.half_widths.push(Value::Null);
                }
                let error = error.to_json();
                self.errors.push(json!({ "index": index, "error": error.get("error") }));
            }
        }
        Ok(())
    }

    fn told(self, vary: &Vary, points: &[Point<'_>], doubted: bool, wants: Option<&[Want]>) -> Value {
        let mut x = Map::new();
        if let Some(number) = vary.number.filter(|_| matches!(points.first(), Some(Point::Number(_)))) {
            x.insert("unit".into(), number.unit.name.into());
        }
        let values = points.iter().map(|point| match point {
            Point::Number(told) => json!(told),
            Point::Content(value) => (*value).clone(),
        });
        x.insert("values".into(), values.collect());
        let Some(wants) = wants else { return json!({ "x": x, "answers": self.answers }) };
        let columns = self.columns.into_iter().zip(wants).map(|(column, want)| {
            let mut told = json!({ "at": want.pointer, "unit": want.unit.name, "values": column.values });
            if let Some(members) = told.as_object_mut().filter(|_| doubted) {
                members.insert("plus_minus".into(), column.half_widths.into());
            }
            told
        });
        json!({ "x": x, "columns": columns.collect::<Vec<_>>(), "errors": self.errors })
    }
}

fn wants(base: &Base, given: &Map<String, Value>) -> Result<Option<Vec<Want>>, Error> {
    let (root, name) = (At::ROOT, "want");
    let at = root.key(name);
    match given.get(name) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::Array(list)) => {
            let each = list.iter().enumerate().map(|(index, wanted)| Want::of(base, wanted, at.index(index)));
            each.collect::<Result<_, _>>().map(Some)
        }
        Some(other) => Err(wrong_type(at, other, "a list of pointers into the answer".into())),
    }
}

/// The points, of their number or as they are listed.
fn points<'a>(vary: &Vary, spec: &Value, given: &'a Map<String, Value>) -> Result<Vec<Point<'a>>, Error> {
    let at = |name: &'static str| format!("/{name}");
    let present = |name: &str| given.get(name).filter(|value| !value.is_null());
    let too_many = |count: usize, name| {
        Error::new(Code::TooLong, at(name), format!("{count} points")).allowed([format!("1 to {MOST_POINTS} points")])
    };
    if let Some(values) = present("values") {
        if let Some(name) = ["from", "to", "points", "spacing"].into_iter().find(|name| present(name).is_some()) {
            return Err(Error::new(Code::Impossible, at(name), "the points are listed in `values`: leave this out"));
        }
        let Value::Array(values) = values else {
            return Err(wrong_type(At::ROOT.key("values"), values, "a list".into()));
        };
        if values.is_empty() || values.len() > MOST_POINTS {
            return Err(too_many(values.len(), "values"));
        }
        return Ok(values.iter().map(Point::Content).collect());
    }
    let (from, to) = (vary.end(spec, "from")?, vary.end(spec, "to")?);
    let count = super::target::given(spec, "points")?;
    let count = count.as_f64().filter(|count| count.fract() == 0.0 && *count >= 1.0).ok_or_else(|| {
        Error::new(Code::OutOfRange, "/points", "a number of points")
            .got(count)
            .allowed([format!("1 to {MOST_POINTS}")])
    })?;
    if count > MOST_POINTS as f64 {
        return Err(too_many(count as usize, "points"));
    }
    if from > to {
        return Err(Error::new(Code::Impossible, "/from", "`from` is above `to`"));
    }
    let geometric = match present("spacing").map(|_| text(spec, "spacing")).transpose()? {
        None | Some("linear") => false,
        Some("geometric") => true,
        Some(other) => {
            return Err(Error::new(Code::OutOfRange, "/spacing", "no such spacing")
                .got(&Value::from(other))
                .allowed(["linear", "geometric"]));
        }
    };
    if geometric && from <= 0.0 {
        return Err(Error::new(Code::Impossible, "/from", "a geometric sweep goes neither through zero nor below it"));
    }
    let steps = (count - 1.0).max(1.0);
    let point = |index: f64| {
        let share = index / steps;
        // Both ends as they were given.
        let si = match (share <= 0.0, share >= 1.0, geometric) {
            (true, ..) => from,
            (_, true, _) => to,
            (.., true) => from * libm::exp(share * libm::log(to / from)),
            (.., false) => from + share * (to - from),
        };
        Point::Number(vary.in_unit(if vary.number.is_some_and(|number| number.is_whole) { si.round() } else { si }))
    };
    Ok((0..count as u32).map(|index| point(f64::from(index))).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points that march heat use up the total, and the sweep is refused as a whole; points that march nothing do not.
    #[test]
    fn all_points_share_a_total_of_work() {
        let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180" });
        let spec = json!({ "vary": "/start", "from": "20 degC", "to": "30 degC", "points": 3, "want": ["/fastest"] });
        let error = within(None, "dryer.window", &request, &spec, Work::of_evaluations(0)).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (Code::TooLong, "/points"));
        assert!(within(None, "dryer.window", &request, &spec, Work::of_evaluations(1)).is_ok());
        let spec = json!({ "vary": "/mesh/thread", "from": "40 um", "to": "60 um", "points": 3 });
        assert!(within(None, "mesh.geometry", &json!({ "mesh": "77-55" }), &spec, Work::of_evaluations(0)).is_ok());
    }
}
