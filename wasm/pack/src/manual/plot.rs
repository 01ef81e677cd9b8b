//! A plot of an answer over a field of its example, where the catalogue says enough for one.
//!
//! The rule: a number that has a usual range is swept over it, and the first headline number of the answer drawn against it. First come
//! the numbers that the example gives, then those that it leaves out, then those of what it names or writes as a text. The first
//! that gives a curve is taken, else the first that gives a line that is no plain proportion; where there is none, neither is there a plot.

use super::html::{code, figures, table, text};
use super::words::reference;
use crate::schema::{list, string};
use serde_json::{Value, json};

/// Points of a sweep.
const POINTS: f64 = 25.0;
/// Ends further apart than this are spaced geometrically.
const WIDE: f64 = 50.0;
/// Of the greatest value: an answer that moves less does not follow the field.
const LEAST_MOVE: f64 = 0.01;
/// Of its span: an answer that is nowhere further from a straight line is one.
const LEAST_BEND: f64 = 0.02;

/// What a sweep gave.
pub struct Plot {
    /// The sweep as it was asked.
    pub spec: Value,
    /// JSON pointer of what is varied, its label and unit, and whether it is spaced geometrically.
    pub vary: String,
    x_label: String,
    pub x_unit: String,
    geometric: bool,
    /// JSON pointer of what is drawn, its label and unit.
    pub want: String,
    y_label: String,
    pub y_unit: String,
    pub points: Vec<(f64, Option<f64>)>,
}

/// A number of the request that may be varied.
struct Candidate<'a> {
    pointer: String,
    label: &'a str,
    quantity: &'a Value,
}

/// The plot of a calculation, by the rule.
pub fn of(catalogue: &Value, calculation: &Value) -> Option<Plot> {
    let (want, y_label) = wanted(calculation)?;
    let (request, example) = (calculation.get("request")?, calculation.get("example")?);
    let mut candidates = Vec::new();
    given(catalogue, request, example, "", &mut candidates);
    let fields = request.get("properties")?.as_object()?;
    for (name, field) in fields.iter().filter(|(name, _)| example.get(name).is_none()) {
        let has_default = field.get("default").or(field.get("x-default")).is_some();
        candidates.extend(has_default.then(|| candidate(format!("/{name}"), field)).flatten());
    }
    for (name, field) in fields.iter().filter(|(name, _)| example.get(name).is_some_and(Value::is_string)) {
        let record = definition(catalogue, field).and_then(|record| record.get("properties")?.as_object());
        candidates.extend(
            record.into_iter().flatten().filter_map(|(member, field)| candidate(format!("/{name}/{member}"), field)),
        );
    }
    let mut straight = None;
    for candidate in &candidates {
        match swept(calculation, example, candidate, &want, &y_label) {
            Some(plot) if plot.bends() => return Some(plot),
            Some(plot) if straight.is_none() && !plot.is_proportion() => straight = Some(plot),
            _ => {}
        }
    }
    straight
}

/// The first headline member that is a number, with its label.
fn wanted(calculation: &Value) -> Option<(String, String)> {
    list(calculation, "headline").iter().filter_map(Value::as_str).find_map(|name| {
        let member = calculation.pointer(&format!("/answer/properties/{name}"))?;
        let is_number = string(member, "x-want") == Some("number") && string(member, "type") != Some("boolean");
        is_number.then(|| (format!("/{name}"), string(member, "title").unwrap_or(name).to_owned()))
    })
}

fn candidate(pointer: String, field: &Value) -> Option<Candidate<'_>> {
    let quantity = field.get("x-quantity")?;
    let is_number = string(field, "x-vary") == Some("number") && !list(quantity, "usual").is_empty();
    is_number.then(|| Candidate { pointer, label: string(field, "title").unwrap_or_default(), quantity })
}

/// The numbers that the example gives, those within it too.
fn given<'a>(catalogue: &'a Value, schema: &'a Value, example: &Value, pointer: &str, found: &mut Vec<Candidate<'a>>) {
    for (name, content) in example.as_object().into_iter().flatten() {
        let Some(field) = schema.pointer(&format!("/properties/{name}")) else { continue };
        let pointer = format!("{pointer}/{name}");
        if content.is_object() {
            if let Some(record) = definition(catalogue, field) {
                given(catalogue, record, content, &pointer, found);
            }
        } else {
            found.extend(candidate(pointer, field));
        }
    }
}

/// The record that a field takes.
fn definition<'a>(catalogue: &'a Value, field: &'a Value) -> Option<&'a Value> {
    match reference(field) {
        Some(name) => catalogue.get("$defs")?.get(name).filter(|of| of.get("properties").is_some()),
        None => list(field, "anyOf").iter().find_map(|form| definition(catalogue, form)),
    }
}

fn swept(calculation: &Value, example: &Value, of: &Candidate<'_>, want: &str, y_label: &str) -> Option<Plot> {
    let usual = list(of.quantity, "usual");
    let (least, most) = (usual.first()?.as_f64()?, usual.get(1)?.as_f64()?);
    let unit = string(of.quantity, "unit")?;
    let end = |value: f64| if unit == "1" { json!(value) } else { json!({ "value": value, "unit": unit }) };
    let is_count = string(of.quantity, "dimension") == Some("count");
    let points = if is_count { POINTS.min(most - least + 1.0) } else { POINTS };
    let geometric = least > 0.0 && most / least >= WIDE;
    let spec = json!({
        "vary": of.pointer, "from": end(least), "to": end(most), "points": points,
        "spacing": if geometric { "geometric" } else { "linear" }, "want": [want],
    });
    let answer = floodbar::sweep(string(calculation, "id")?, example, &spec).ok()?;
    let values = |of: &Value| list(of, "values").iter().map(Value::as_f64).collect::<Vec<_>>();
    let column = answer.pointer("/columns/0")?;
    let x = values(answer.get("x")?).into_iter().flatten();
    let points: Vec<_> = x.zip(values(column)).collect();
    let told: Vec<_> = points.iter().filter_map(|(_, y)| *y).collect();
    let (low, high) = ends(&told);
    let is_enough = points.len() >= 5 && told.len().saturating_mul(3) >= points.len().saturating_mul(2);
    let follows = high - low > LEAST_MOVE * high.abs().max(low.abs());
    (is_enough && follows).then(|| Plot {
        spec,
        vary: of.pointer.clone(),
        x_label: of.label.to_owned(),
        x_unit: answer.pointer("/x/unit").and_then(Value::as_str).unwrap_or(unit).to_owned(),
        geometric,
        want: want.to_owned(),
        y_label: y_label.to_owned(),
        y_unit: string(column, "unit").unwrap_or("1").to_owned(),
        points,
    })
}

fn ends(values: &[f64]) -> (f64, f64) {
    values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(*value), high.max(*value)))
}

fn power_of_ten(power: i32) -> f64 {
    libm::pow(10.0, f64::from(power))
}

/// An axis: where its numbers lie between 0 and 1, and where its ticks stand.
struct Axis {
    from: f64,
    to: f64,
    geometric: bool,
    ticks: Vec<f64>,
}

impl Axis {
    fn new(low: f64, high: f64, geometric: bool) -> Self {
        if geometric {
            let powers = libm::log10(low).floor() as i32..=libm::log10(high).ceil() as i32;
            let of = |times: &'static [f64]| {
                let all = powers.clone().flat_map(move |power| times.iter().map(move |by| by * power_of_ten(power)));
                all.filter(|tick| (low * 0.999..=high * 1.001).contains(tick)).collect::<Vec<_>>()
            };
            let decades = of(&[1.0]);
            let ticks = if decades.len() < 3 { of(&[1.0, 2.0, 5.0]) } else { decades };
            return Self { from: low, to: high, geometric, ticks };
        }
        let span = if high > low { high - low } else { 1.0 };
        let power = power_of_ten(libm::log10(span / 4.0).floor() as i32);
        let step = [1.0, 2.0, 2.5, 5.0, 10.0]
            .map(|times| times * power)
            .into_iter()
            .find(|step| span / step <= 5.0)
            .unwrap_or(span);
        let (first, last) = ((low / step).floor(), (high / step).ceil());
        let count = (last - first) as i32;
        let ticks = (0..=count).map(|index| (first + f64::from(index)) * step).collect();
        Self { from: first * step, to: last * step, geometric, ticks }
    }

    /// The place of a value, in hundredths of the axis.
    fn place(&self, value: f64) -> f64 {
        let of = |value: f64| if self.geometric { libm::log(value) } else { value };
        let share = (of(value) - of(self.from)) / (of(self.to) - of(self.from));
        (share * 1e4).round() / 1e2
    }
}

impl Plot {
    /// The points that have an answer.
    fn told(&self) -> Vec<(f64, f64)> {
        self.points.iter().filter_map(|(x, y)| Some((*x, (*y)?))).collect()
    }

    /// How far the answer is from a straight line between its first and its last, of its span.
    fn bends(&self) -> bool {
        let told = self.told();
        let (Some((x0, y0)), Some((x1, y1))) = (told.first(), told.last()) else { return false };
        let (low, high) = ends(&told.iter().map(|(_, y)| *y).collect::<Vec<_>>());
        told.iter().any(|(x, y)| (y - (y0 + (y1 - y0) * (x - x0) / (x1 - x0))).abs() > LEAST_BEND * (high - low))
    }

    fn is_proportion(&self) -> bool {
        let told = self.told();
        let factor = told.last().map_or(0.0, |(x, y)| y / x);
        told.iter().all(|(x, y)| (y - factor * x).abs() <= LEAST_MOVE * y.abs())
    }

    fn axis(label: &str, unit: &str) -> String {
        if unit == "1" { label.to_owned() } else { format!("{label}, {unit}") }
    }

    /// The figure, with a table of its points.
    pub fn html(&self) -> String {
        let told = self.told();
        let (low, high) = ends(&told.iter().map(|(_, y)| *y).collect::<Vec<_>>());
        let (left, right) = ends(&self.points.iter().map(|(x, _)| *x).collect::<Vec<_>>());
        let mut x_axis = Axis::new(left, right, self.geometric);
        if !self.geometric {
            (x_axis.from, x_axis.to) = (left, right);
            x_axis.ticks.retain(|tick| (left..=right).contains(tick));
        }
        // An axis that is not far from zero begins there.
        let floor = if low > 0.0 && low < 0.5 * high { 0.0 } else { low };
        let is_wide = self.geometric && low > 0.0 && high / low >= WIDE;
        let y_axis = Axis::new(if is_wide { low } else { floor }, high, is_wide);
        let at = |(x, y): &(f64, f64)| format!("{} {}", x_axis.place(*x), 100.0 - y_axis.place(*y));
        let line: Vec<_> = told.iter().map(at).collect();
        let dots: String = line.iter().map(|at| format!("M{at}h0")).collect();
        let grid: String = y_axis
            .ticks
            .iter()
            .map(|tick| format!("M0 {}H100", 100.0 - y_axis.place(*tick)))
            .chain(x_axis.ticks.iter().map(|tick| format!("M{} 0V100", x_axis.place(*tick))))
            .collect();
        let label =
            |place: f64, side: &str, tick: f64| format!("<span style=\"{side}:{place}%\">{}</span>", figures(tick, 4));
        let rows: String = y_axis.ticks.iter().map(|tick| label(y_axis.place(*tick), "bottom", *tick)).collect();
        let columns: String = x_axis.ticks.iter().map(|tick| label(x_axis.place(*tick), "left", *tick)).collect();
        let (x, y) = (Self::axis(&self.x_label, &self.x_unit), Self::axis(&self.y_label, &self.y_unit));
        let cell = |y: &Option<f64>| y.map_or("no answer".into(), |y| figures(y, 4));
        let values: Vec<_> = self.points.iter().map(|(x, y)| vec![figures(*x, 4), cell(y)]).collect();
        format!(
            "<figure class=\"plot\">
<figcaption>{y_name} over {x_name} of the example, all else as it stands there{scale}.</figcaption>
<p class=\"y-name\" aria-hidden=\"true\">{y}</p>
<div class=\"drawn\" aria-hidden=\"true\"><div class=\"y-ticks\">{rows}</div>
<svg viewBox=\"0 0 100 100\" preserveAspectRatio=\"none\" focusable=\"false\"><path class=\"grid\" d=\"{grid}\"/><path class=\"line\" d=\"M{line}\"/><path class=\"dots\" d=\"{dots}\"/></svg>
<div class=\"x-ticks\">{columns}</div></div>
<p class=\"x-name\" aria-hidden=\"true\">{x}</p>
<details><summary>The points as a table</summary>
{table}</details>
</figure>
",
            y_name = code(self.want.trim_start_matches('/')),
            x_name = code(self.vary.trim_start_matches('/')),
            scale = if self.geometric { "; equal steps are equal ratios" } else { "" },
            x = text(&x),
            y = text(&y),
            line = line.join("L"),
            table = table(&format!("{y} over {x}"), &[&text(&x), &text(&y)], &values),
        )
    }
}
