//! One order by hand and on an automatic, and from how many pieces on the other one is cheaper.

use crate::failure::Failure;
use crate::show::{table_of, words};
use floodbar::money::Currency;
use floodbar::{Cache, Error};
use rusqlite::{Connection, OptionalExtension};
use serde_json::{Value, json};

/// Numbers of pieces that are shown, and between which a crossing is looked for.
const PIECES: [u32; 13] = [1, 12, 24, 48, 72, 96, 144, 288, 576, 1_000, 2_500, 5_000, 10_000];
const MANUAL: &str = "manual-4x4";

/// The comparison as text.
///
/// # Errors
/// An order that is not there, and what the library refuses on either press.
pub fn text(database: &Connection, cache: &Cache, order: i64) -> Result<String, Failure> {
    let sql = "SELECT requests.request, orders.press, customer FROM requests JOIN orders ON id = order_id WHERE order_id = ?1";
    let row = |row: &rusqlite::Row<'_>| Ok((row.get::<_, Option<String>>(0)?, words(row, 1)?, words(row, 2)?));
    let found = database.query_row(sql, [order], row).optional()?;
    let (request, press, customer) = found.ok_or_else(|| Failure::Usage(format!("there is no order {order}")))?;
    let request = floodbar::wire::document(request.unwrap_or_default().as_bytes())
        .map_err(|error| Failure::Other(format!("order {order}: {error}")))?;
    let automatic = if press == MANUAL { "automatic-8".to_owned() } else { press };
    let on = |press: &str, pieces: &[u32]| {
        breaks(cache, &request, press_of(database, press)?, pieces)
            .map_err(|error| Failure::Other(format!("order {order} on {press}: {error}")))
    };
    let (by_hand, by_machine) = (on(MANUAL, &PIECES)?, on(&automatic, &PIECES)?);
    let currency = request.get("currency").and_then(Value::as_str).unwrap_or_default().to_owned();
    let rows = PIECES.iter().zip(by_hand.iter().zip(&by_machine)).map(|(pieces, (one, other))| {
        [pieces.to_string(), one.unit_price.clone(), other.unit_price.clone(), one.hours.clone(), other.hours.clone()]
    });
    let head = [
        "pieces".to_owned(),
        format!("{MANUAL}, {currency} each"),
        format!("{automatic}, {currency} each"),
        format!("{MANUAL}, h"),
        format!("{automatic}, h"),
    ];
    let table = table_of(&head.each_ref().map(String::as_str), rows);
    // A price is a step function of the pieces: what is looked for is where the cheaper press changes, by halving whole numbers.
    let cheaper = |pieces: u32| -> Result<bool, Failure> {
        let one = |press: &str| on(press, &[pieces]).map(|list| list.first().map_or(0, |told| told.total));
        Ok(one(&automatic)? < one(MANUAL)?)
    };
    let is_cheaper: Vec<bool> = by_hand.iter().zip(&by_machine).map(|(one, other)| other.total < one.total).collect();
    let mut crossings = Vec::new();
    for (ends, which) in PIECES.windows(2).zip(is_cheaper.windows(2)) {
        if let ([mut low, mut high], [before, after]) = (<[u32; 2]>::try_from(ends).unwrap_or_default(), which)
            && before != after
        {
            while high.saturating_sub(low) > 1 {
                let middle = low.midpoint(high);
                if cheaper(middle)? == *before { low = middle } else { high = middle }
            }
            let better = if *after { &automatic } else { MANUAL };
            crossings.push(format!("From {high} pieces on {better} is the cheaper one."));
        }
    }
    if crossings.is_empty() {
        let better = if is_cheaper.first() == Some(&true) { &automatic } else { MANUAL };
        crossings.push(format!("They never cross from 1 to 10,000 pieces: {better} is the cheaper one throughout."));
    }
    Ok(format!("WHICH PRESS    order {order}, {customer}: the price without tax\n{table}\n\n{}", crossings.join("\n")))
}

/// A press as the library takes it, and what an hour of it costs.
fn press_of(database: &Connection, name: &str) -> Result<[Value; 2], Failure> {
    let sql = "SELECT press, rate FROM presses WHERE name = ?1";
    let row = |row: &rusqlite::Row<'_>| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?));
    let found = database.query_row(sql, [name], row).optional()?;
    let (press, rate) = found.ok_or_else(|| Failure::Usage(format!("there is no press {name} in the database")))?;
    Ok([floodbar::wire::document(press.as_bytes())?, rate.into()])
}

/// A price break in short.
struct Break {
    unit_price: String,
    hours: String,
    /// In minor units.
    total: i64,
}

/// The order on a press, for so many pieces.
fn breaks(cache: &Cache, request: &Value, press: [Value; 2], pieces: &[u32]) -> Result<Vec<Break>, Error> {
    let mut request = request.clone();
    if let Some(members) = request.as_object_mut() {
        members.insert("quantities".into(), json!(pieces));
    }
    for (pointer, value) in ["/shop/press", "/rates/press"].into_iter().zip(press) {
        if let Some(place) = request.pointer_mut(pointer) {
            *place = value;
        }
    }
    let answer = cache.calculate("job.quote", &request)?;
    let currency = answer.get("currency").and_then(Value::as_str).and_then(Currency::find);
    let list = answer.get("price_breaks").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let told = |told: &Value| {
        let seconds = crate::pricing::si(told.get("hours")?)?;
        Some(Break {
            unit_price: told.pointer("/unit_price/value")?.as_str()?.to_owned(),
            hours: format!("{:.1}", seconds / 3600.0),
            total: crate::pricing::minor(told.get("total")?, currency?)?,
        })
    };
    let bad =
        || Error::new(floodbar::Code::Internal, "", "the answer of job.quote has another form than this program knows");
    list.iter().map(|entry| told(entry).ok_or_else(bad)).collect()
}
