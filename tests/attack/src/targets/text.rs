//! The text door. Bytes are choices of what to change in a known request; or, where they begin with the name of a calculation on a line of
//! its own, the request itself, which is how findings are kept.

use crate::draw::Draw;
use crate::mutate::{request, spoil};
use crate::seeds::{Seeds, among, is_dear};
use crate::{judge, telling};
use serde_json::Value;

/// All that is no march through heat.
pub fn closed(data: &[u8]) {
    asked(data, &among(|id| !is_dear(id)));
}

/// What marches through heat.
pub fn heat(data: &[u8]) {
    asked(data, &among(|id| is_dear(id) && id != "job.quote"));
}

/// An order and its prices.
pub fn quote(data: &[u8]) {
    asked(data, &among(|id| id == "job.quote"));
}

fn asked(data: &[u8], seeds: &[&'static Seeds]) {
    let (id, text) = kept(data).unwrap_or_else(|| drawn(data, seeds));
    telling(|| format!("{id}\n{}", String::from_utf8_lossy(&text)), || judge::text(&id, &text));
}

/// A finding that was kept.
fn kept(data: &[u8]) -> Option<(String, Vec<u8>)> {
    let end = data.iter().position(|byte| *byte == b'\n')?;
    let id = std::str::from_utf8(&data[..end]).ok()?;
    floodbar::catalogue::find(id).ok()?;
    Some((id.to_owned(), data[end + 1..].to_vec()))
}

fn drawn(data: &[u8], seeds: &[&'static Seeds]) -> (String, Vec<u8>) {
    let mut draw = Draw::new(data);
    let seeds = *draw.pick(seeds);
    let mut request = request(&seeds.requests, seeds.calculation.request(), 4, &mut draw);
    // Many draws of a march through heat take longer than a minute of all targets leaves: `tests/deep dearest` weighs them.
    if is_dear(seeds.calculation.id()) && request["doubt"] == "monte_carlo" {
        request["doubt"] = Value::Null;
    }
    let mut text = request.to_string().into_bytes();
    if draw.one_in(12) {
        spoil(&mut text, &mut draw);
    }
    (seeds.calculation.id().to_owned(), text)
}
