//! Pointers that exist: what an error or a note points at is a field that the request's record has, in a list entry that was sent.

use floodbar::wire::{Kind, Listed, Table};
use floodbar::{Code, Error};
use serde_json::Value;

/// Whether the request's record admits this pointer. A member on the way may be absent, or lie inside of a stock name.
#[must_use]
pub fn admits(calculation: &dyn Listed, request: &Value, pointer: &str) -> bool {
    let Some(steps) = pointer.strip_prefix('/') else { return pointer.is_empty() };
    let steps: Vec<&str> = steps.split('/').collect();
    ["units", "explain", "doubt"].iter().any(|option| steps == [*option])
        || in_record(calculation.request(), &steps, Some(request))
}

/// Whether an error points at something that exists: a name that the record does not have is where it was sent.
#[must_use]
pub fn error_admits(calculation: &dyn Listed, request: &Value, error: &Error) -> bool {
    let field = match error.code {
        Code::UnknownField => error.field.rsplit_once('/').map_or("", |(place, _)| place),
        _ => &error.field,
    };
    admits(calculation, request, field)
}

fn in_record(table: &Table, steps: &[&str], sent: Option<&Value>) -> bool {
    let Some((step, rest)) = steps.split_first() else { return true };
    if (table.stock.is_some() && *step == "from") || table.ignored.contains(step) {
        return rest.is_empty();
    }
    let field = table.fields.iter().find(|field| field.name == *step);
    field.is_some_and(|field| in_kind(&field.kind, rest, sent.and_then(|sent| sent.get(step))))
}

fn in_kind(kind: &Kind, steps: &[&str], sent: Option<&Value>) -> bool {
    let part = |steps: &[&str]| steps.len() <= 1 && steps.iter().all(|s| ["value", "unit", "plus_minus"].contains(s));
    match (kind.content(), steps) {
        (_, []) => true,
        (Kind::Record(table), steps) => in_record(table, steps, sent),
        (Kind::List(item, _), [index, rest @ ..]) => {
            let entry = index.parse::<usize>().ok().and_then(|index| sent?.as_array()?.get(index));
            entry.is_some() && in_kind(item, rest, entry)
        }
        (Kind::Number(_), steps) => part(steps),
        // L, a and b of a colour are entries; a quantity of any dimension has the parts of one.
        (Kind::Own(_), [first, rest @ ..]) => match first.parse::<usize>() {
            Ok(index) => sent.and_then(Value::as_array).is_some_and(|list| index < list.len()) && part(rest),
            Err(_) => part(steps),
        },
        _ => false,
    }
}
