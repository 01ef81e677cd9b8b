//! What an order does as one of its numbers changes: a small table, and bars.

use comfy_table::{Table, presets};
use floodbar_examples::number;
use serde_json::{Value, json};

/// Points of a sweep, unless told.
pub const POINTS: u32 = 9;
/// Characters of the longest bar.
const BAR: f64 = 40.0;
/// What is shown, unless told: pointers into the plan, with units.
const WANTED: [&str; 2] = ["/hours/total h", "/ink_totals/0/mass_to_mix"];

/// What is varied, and between which ends.
#[derive(Debug, Default)]
pub struct Sweep {
    pub vary: String,
    pub from: Option<String>,
    pub to: Option<String>,
    pub points: Option<u32>,
    pub want: Vec<String>,
}

impl Sweep {
    /// The table and the bars of an order.
    ///
    /// # Errors
    /// What the library refuses.
    pub fn text(&self, order: &Value) -> Result<String, floodbar::Error> {
        let wanted: Vec<&str> =
            if self.want.is_empty() { WANTED.to_vec() } else { self.want.iter().map(String::as_str).collect() };
        let column = |want: &&str| match want.split_once(' ') {
            Some((at, unit)) => json!({ "at": at, "unit": unit }),
            None => json!(want),
        };
        // A plain number is one; all else has a unit.
        let end = |text: &Option<String>| match text {
            Some(text) => text.parse::<f64>().map_or_else(|_| json!(text), |plain| json!(plain)),
            None => Value::Null,
        };
        let spec = json!({
            "vary": self.vary, "from": end(&self.from), "to": end(&self.to),
            "points": self.points.unwrap_or(POINTS),
            "want": wanted.iter().map(column).collect::<Vec<_>>(),
        });
        let swept = floodbar::sweep("job.plan", order, &spec)?;
        let title = order.get("title").and_then(Value::as_str).unwrap_or("Untitled order");
        let mut table = Table::new();
        let head = |pointer: &str, unit: &Value| {
            format!("{pointer}\n{}", unit.as_str().filter(|unit| *unit != "1").unwrap_or(""))
        };
        let columns = list(&swept, "columns");
        let heads =
            columns.iter().map(|column| head(at(column, "/at").as_str().unwrap_or_default(), at(column, "/unit")));
        table
            .load_preset(presets::NOTHING)
            .set_header([head(&self.vary, at(&swept, "/x/unit"))].into_iter().chain(heads).chain([String::new()]));
        let bars = columns.first().map_or(&[][..], |column| list(column, "values"));
        let longest = bars.iter().filter_map(Value::as_f64).fold(0.0, f64::max);
        for (index, x) in list(at(&swept, "/x"), "values").iter().enumerate() {
            let cells = columns.iter().map(|column| match list(column, "values").get(index).and_then(Value::as_f64) {
                Some(value) => with_doubt(value, list(column, "plus_minus").get(index).and_then(Value::as_f64)),
                None => "none".to_owned(),
            });
            let share =
                bars.get(index).and_then(Value::as_f64).map_or(0.0, |value| value / longest.max(f64::MIN_POSITIVE));
            let bar = "#".repeat((BAR * share).round() as usize);
            table.add_row([x.as_f64().map_or_else(String::new, number)].into_iter().chain(cells).chain([bar]));
        }
        let refused = list(&swept, "errors").iter().map(|entry| {
            format!(
                "\nno plan at point {}: {}",
                at(entry, "/index"),
                at(entry, "/error/message").as_str().unwrap_or_default()
            )
        });
        Ok(format!(
            "{title}: {} varied, bars of {}\n\n{}{}",
            self.vary,
            wanted.first().unwrap_or(&""),
            table.trim_fmt(),
            refused.collect::<String>()
        ))
    }
}

/// A number with its half-width.
fn with_doubt(value: f64, half_width: Option<f64>) -> String {
    match half_width {
        Some(half_width) => format!("{} +/- {}", number(value), floodbar_examples::half_width(half_width)),
        None => number(value),
    }
}

/// What stands at a JSON pointer; null for nothing.
fn at<'a>(value: &'a Value, pointer: &str) -> &'a Value {
    value.pointer(pointer).unwrap_or(&Value::Null)
}

fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value.get(name).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
