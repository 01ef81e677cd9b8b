//! One calculation at many points.

use super::target::{Asked, Vary, Want, members, text};
use crate::error::{Code, Error};
use crate::wire::{Answer, At, Record, Remarks, numbers, read_content, wrong_type};
use crate::work::Work;
use serde_json::{Map, Value, json};

/// Most points of a sweep.
pub const MOST_POINTS: usize = 10_000;
/// Work of all points together, as so many evaluations at the limit of one.
const MOST_WORK: u64 = 10;

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
/// or a null in each column and an entry of `errors`; it spoils no other.
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
    sweep_within(id, request, spec, Work::of_evaluations(MOST_WORK))
}

/// The same with this much work for all points.
fn sweep_within(id: &str, request: &Value, spec: &Value, mut left: Work) -> Result<Value, Error> {
    let given = members(spec, &["vary", "from", "to", "points", "spacing", "values", "want"])?;
    let asked = Asked::new(id, request)?;
    let vary = Vary::of(&asked, spec)?;
    let wants = wants(&asked, given)?;
    let points = points(&vary, spec, given)?;
    let mut swept = Swept {
        answers: Vec::new(),
        columns: vec![Vec::new(); wants.as_ref().map_or(0, Vec::len)],
        errors: Vec::new(),
    };
    for (index, point) in points.iter().enumerate() {
        let mut set = |record: &mut dyn Record| match point {
            Point::Number(told) => vary.set_told(record, *told),
            Point::Content(value) => numbers::reach(record, &vary.pointer, &mut |slot, rules| {
                read_content(slot, value, At::ROOT, rules, &mut Remarks::counting())
                    .map_err(|error| Error { field: format!("{}{}", vary.pointer, error.field), ..error })
            }),
        };
        let mut work = Work::of_one_evaluation();
        let answer = asked.answer(&mut set, &mut work);
        if !left.take(work.done()) {
            return Err(Error::new(Code::TooLong, "/points", "these points are more work than one sweep may be")
                .allowed([format!("about {MOST_WORK} seconds' work")]));
        }
        swept.add(index, answer, wants.as_deref())?;
    }
    Ok(swept.told(&vary, &points, wants.as_deref()))
}

/// What was found at the points so far.
struct Swept {
    answers: Vec<Value>,
    columns: Vec<Vec<Value>>,
    errors: Vec<Value>,
}

impl Swept {
    fn add(&mut self, index: usize, answer: Result<Answer, Error>, wants: Option<&[Want]>) -> Result<(), Error> {
        match (answer, wants) {
            (Ok(answer), None) => self.answers.push(answer.to_value()?),
            (Err(error), None) => self.answers.push(error.to_json()),
            (Ok(answer), Some(wants)) => {
                for (column, want) in self.columns.iter_mut().zip(wants) {
                    column.push(want.read(&answer).map_or(Value::Null, |si| json!(want.unit.from_si(si) + 0.0)));
                }
            }
            (Err(error), Some(_)) => {
                self.columns.iter_mut().for_each(|column| column.push(Value::Null));
                let error = error.to_json();
                self.errors.push(json!({ "index": index, "error": error.get("error") }));
            }
        }
        Ok(())
    }

    fn told(self, vary: &Vary, points: &[Point<'_>], wants: Option<&[Want]>) -> Value {
        let mut x = Map::new();
        if let Some((_, unit)) = vary.number.filter(|_| matches!(points.first(), Some(Point::Number(_)))) {
            x.insert("unit".into(), unit.name.into());
        }
        let values = points.iter().map(|point| match point {
            Point::Number(told) => json!(told),
            Point::Content(value) => (*value).clone(),
        });
        x.insert("values".into(), values.collect());
        let Some(wants) = wants else { return json!({ "x": x, "answers": self.answers }) };
        let columns = self
            .columns
            .into_iter()
            .zip(wants)
            .map(|(values, want)| json!({ "at": want.pointer, "unit": want.unit.name, "values": values }));
        json!({ "x": x, "columns": columns.collect::<Vec<_>>(), "errors": self.errors })
    }
}

fn wants(asked: &Asked<'_>, given: &Map<String, Value>) -> Result<Option<Vec<Want>>, Error> {
    let (root, name) = (At::ROOT, "want");
    let at = root.key(name);
    match given.get(name) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::Array(list)) => {
            let each = list.iter().enumerate().map(|(index, wanted)| Want::of(asked, wanted, at.index(index)));
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
        Point::Number(vary.in_unit(if vary.whole { si.round() } else { si }))
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
        let error = sweep_within("dryer.window", &request, &spec, Work::of_evaluations(0)).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (Code::TooLong, "/points"));
        assert!(sweep_within("dryer.window", &request, &spec, Work::of_evaluations(1)).is_ok());
        let spec = json!({ "vary": "/mesh/thread", "from": "40 um", "to": "60 um", "points": 3 });
        assert!(sweep_within("mesh.geometry", &json!({ "mesh": "77-55" }), &spec, Work::of_evaluations(0)).is_ok());
    }
}
