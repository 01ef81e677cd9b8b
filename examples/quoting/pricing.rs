//! An order priced: from the request to what is written into the database, money in whole minor units.

use floodbar::money::rust_decimal::Decimal;
use floodbar::money::{Currency, Money};
use floodbar::quantity::{UNITS, Unit};
use floodbar::{Cache, Code, Error};
use serde_json::Value;
use sha2::{Digest, Sha256};

/// An order as the database holds it, with the shop's part.
#[derive(Debug)]
pub struct Order {
    pub id: i64,
    pub press: String,
    /// As the customer gave it.
    pub given: Vec<u8>,
    /// With the shop's part; none where the order is no JSON object.
    pub request: Option<Vec<u8>>,
    pub rates_version: i64,
    pub valid_days: i64,
}

/// A line of a quote.
#[derive(Debug)]
pub struct Line {
    pub side: &'static str,
    pub what: String,
    pub amount: i64,
}

/// What a colour takes of its ink.
#[derive(Debug)]
pub struct Ink {
    pub colour: String,
    pub ink: String,
    pub ready_milligrams: i64,
    pub used_milligrams: i64,
}

/// A quote as it is written into the database.
#[derive(Debug)]
pub struct Quote {
    pub request_sha256: String,
    pub pieces: i64,
    pub setup_seconds: i64,
    pub run_seconds: i64,
    pub currency: &'static str,
    pub unit_price: i64,
    pub cost: i64,
    pub before_tax: i64,
    pub tax: i64,
    pub total: i64,
    pub profit: i64,
    pub profit_per_press_hour: Option<i64>,
    /// Why the order cannot be printed as it stands, where the library says so.
    pub stop: Option<String>,
    pub lines: Vec<Line>,
    pub inks: Vec<Ink>,
}

/// The hash of a request, by which a change of it is noticed.
pub fn sha256(request: &[u8]) -> String {
    Sha256::digest(request).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Prices an order.
///
/// # Errors
/// What `job.quote` refuses.
pub fn price(order: &Order, cache: &Cache) -> Result<Quote, Error> {
    // The order's own text first: a fault in it is told as it stands there.
    let given = floodbar::wire::document(&order.given)?;
    let request = order
        .request
        .as_deref()
        .ok_or_else(|| Error::new(Code::WrongType, "", "an order is a JSON object").got(&given))?;
    let answer = cache.calculate("job.quote", &floodbar::wire::document(request)?)?;
    quote(&answer, sha256(request)).ok_or_else(|| {
        Error::new(Code::Internal, "", "the answer of job.quote has another form than this program knows")
    })
}

fn quote(answer: &Value, request_sha256: String) -> Option<Quote> {
    let currency = Currency::find(answer.get("currency")?.as_str()?)?;
    let money = |name: &str| minor(answer.get(name)?, currency);
    let seconds = |name: &str| whole(si(answer.pointer(name)?)?);
    let side = |side: &'static str, name: &str| -> Option<Vec<Line>> {
        let line = |line: &Value| {
            Some(Line {
                side,
                what: line.get("what")?.as_str()?.to_owned(),
                amount: minor(line.get("amount")?, currency)?,
            })
        };
        answer.get(name)?.as_array()?.iter().map(line).collect()
    };
    let mut lines = side("price", "price_lines")?;
    lines.extend(side("cost", "cost_lines")?);
    let costs = answer.get("cost_lines")?.as_array()?;
    let inks = answer.get("ink_totals")?.as_array()?.iter().map(|total| ink(total, costs)).collect::<Option<_>>()?;
    let notes = answer.get("notes")?.as_array()?;
    let stop = notes.iter().find(|note| note.get("level").and_then(Value::as_str) == Some("limit"));
    Some(Quote {
        request_sha256,
        pieces: answer.get("pieces")?.as_i64()?,
        setup_seconds: seconds("/hours/setup")?,
        run_seconds: seconds("/hours/run")?,
        currency: currency.code(),
        unit_price: money("unit_price")?,
        cost: money("cost")?,
        before_tax: money("price_before_tax")?,
        tax: if answer.get("tax").is_some_and(|tax| !tax.is_null()) { money("tax")? } else { 0 },
        total: money("total")?,
        profit: money("profit")?,
        profit_per_press_hour: money("profit_per_press_hour"),
        stop: stop.and_then(|note| Some(note.get("message")?.as_str()?.to_owned())),
        lines,
        inks,
    })
}

/// What is used up of an ink is the quantity of its cost line, by mass or by volume as the rate is.
fn ink(total: &Value, costs: &[Value]) -> Option<Ink> {
    let text = |name: &str| Some(total.get(name)?.as_str()?.to_owned());
    let (colour, ink) = (text("colour")?, text("ink")?);
    let (mass, volume) = (si(total.get("mass_to_mix")?)?, si(total.get("volume_to_mix")?)?);
    let what = format!("ink: {colour} ({ink})");
    let line = costs.iter().find(|line| line.get("what").and_then(Value::as_str) == Some(&what));
    let used = line.and_then(|line| {
        let quantity = line.get("quantity")?;
        let is_volume = unit(quantity)?.dimension == floodbar::quantity::units::L.unit().dimension;
        Some(if is_volume { si(quantity)? / volume * mass } else { si(quantity)? })
    });
    let milligrams = |kilograms: f64| whole(kilograms * 1e6);
    Some(Ink { colour, ink, ready_milligrams: milligrams(mass)?, used_milligrams: milligrams(used.unwrap_or(0.0))? })
}

/// Money of an answer in whole minor units.
pub fn minor(money: &Value, currency: Currency) -> Option<i64> {
    let amount = Decimal::from_str_exact(money.get("value")?.as_str()?).ok()?;
    Money::new(amount, currency)?.in_minor_units()
}

/// The unit of a quantity of an answer.
fn unit(quantity: &Value) -> Option<&'static Unit> {
    let name = quantity.get("unit")?.as_str()?;
    UNITS.iter().find(|unit| unit.name == name)
}

/// A quantity of an answer in SI base units.
pub fn si(quantity: &Value) -> Option<f64> {
    Some(unit(quantity)?.to_si(quantity.get("value")?.as_f64()?))
}

/// A number rounded to a whole one.
fn whole(number: f64) -> Option<i64> {
    let rounded = number.round();
    // Up to 2^53 every whole number has a double of its own.
    (rounded.abs() <= 9_007_199_254_740_992.0).then_some(rounded as i64)
}
