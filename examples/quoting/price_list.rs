//! What a shop hands to its customers: the price of a shirt by number of pieces and colours, on light and on dark shirts.

use crate::failure::Failure;
use crate::show::table_of;
use floodbar::Cache;
use rusqlite::{Connection, TransactionBehavior, params};
use serde_json::{Value, json};

const PIECES: [u32; 8] = [12, 24, 36, 48, 72, 144, 288, 576];
const COLOURS: usize = 6;

/// The list as text. `press` is the stock name of the press that prints.
///
/// # Errors
/// What the database or the library refuses.
pub fn text(database: &mut Connection, cache: &Cache, press: &str) -> Result<String, Failure> {
    let inks: Vec<Value> = {
        let mut statement =
            database.prepare("SELECT colour, ink FROM inks WHERE colour NOT LIKE '%white%' ORDER BY rowid LIMIT ?1")?;
        let row = |row: &rusqlite::Row<'_>| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?));
        let found = statement.query_map([COLOURS as i64], row)?.collect::<Result<Vec<_>, _>>()?;
        let screen = |(colour, ink): &(String, String)| {
            let ink = serde_json::from_str(ink).unwrap_or(Value::Null);
            json!({ "name": colour, "ink": ink, "mesh": "77-55", "coverage_fraction": 0.1 })
        };
        found.iter().map(screen).collect()
    };
    if inks.is_empty() {
        return Err(Failure::Usage("there are no inks in the database: nothing to make a list of (--demo)".to_owned()));
    }
    let sql = "SELECT currency FROM rates ORDER BY version DESC LIMIT 1";
    let currency: String = database.query_row(sql, [], |row| row.get(0))?;
    let mut parts = vec![format!(
        "PRICE LIST    {currency} for each piece, without tax: one print of 300 x 340 mm on the front, on {press}"
    )];
    for (shade, said) in [("light", "LIGHT SHIRTS"), ("dark", "DARK SHIRTS, with a white under the colours")] {
        parts.push(format!("{said}\n{}", of_shade(database, cache, press, shade, &inks)?));
    }
    Ok(parts.join("\n\n"))
}

fn of_shade(
    database: &mut Connection,
    cache: &Cache,
    press: &str,
    shade: &str,
    inks: &[Value],
) -> Result<String, Failure> {
    let base = json!({ "name": "base white", "colour": "white", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.3, "flash": true });
    let screens = |colours: usize| -> Value {
        let white = (shade == "dark").then(|| base.clone());
        white.into_iter().chain(inks.iter().take(colours).cloned()).collect()
    };
    let request = request(database, press, shade, &screens(1))?;
    // Point by point another list of screens; in each answer the prices for all numbers of pieces.
    let values: Value = (1..=COLOURS).map(screens).collect();
    let swept = cache.sweep("job.quote", &request, &json!({ "vary": "/placements/0/screens", "values": values }))?;
    let answers = swept.get("answers").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let cell = |answer: &Value, row: usize| {
        let price = answer.pointer(&format!("/price_breaks/{row}/unit_price/value"));
        price.and_then(Value::as_str).unwrap_or("-").to_owned()
    };
    let rows = PIECES.iter().enumerate().map(|(row, pieces)| {
        std::iter::once(pieces.to_string()).chain(answers.iter().map(move |answer| cell(answer, row)))
    });
    let head = ["pieces", "1 colour", "2 colours", "3 colours", "4 colours", "5 colours", "6 colours"];
    let refusals = answers.iter().enumerate().filter_map(|(index, answer)| {
        let why = answer.pointer("/error/message")?.as_str()?;
        Some(format!("\n{} colours: {why}", index.saturating_add(1)))
    });
    let larger = larger_sizes(&request, "/rates/blank_by_size");
    Ok(format!("{}{}{larger}", table_of(&head, rows), refusals.collect::<String>()))
}

/// Sizes that cost more say so by their price in the quote; the list names them.
fn larger_sizes(request: &Value, pointer: &str) -> String {
    let sizes: Vec<&str> = request
        .pointer(pointer)
        .and_then(Value::as_array)
        .map_or_else(Vec::new, |sizes| sizes.iter().filter_map(|size| size.get("size")?.as_str()).collect());
    if sizes.is_empty() { String::new() } else { format!("\nSizes up to XL; {} cost more.", sizes.join(" and ")) }
}

/// The request of the list: an order that is put in for a moment and taken out again, so that it is joined with the shop's part as all
/// others are.
fn request(database: &mut Connection, press: &str, shade: &str, screens: &Value) -> Result<Value, Failure> {
    let order = json!({
        "title": "price list", "pieces": 48, "quantities": PIECES,
        "placements": [{ "name": "front", "width": "300 mm", "height": "340 mm", "screens": screens }],
    });
    let known: i64 = database.query_row("SELECT count(*) FROM presses WHERE name = ?1", [press], |row| row.get(0))?;
    if known == 0 {
        return Err(Failure::Usage(format!("there is no press {press} in the database")));
    }
    let transaction = database.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let inserted = transaction.execute(
        "INSERT INTO orders (customer, garment, press, request)
         SELECT 'price list', name, ?1, json_set(?2, '$.cloth', json(cloth)) FROM garments WHERE shade = ?3 ORDER BY rowid LIMIT 1",
        params![press, order.to_string(), shade],
    )?;
    if inserted == 0 {
        return Err(Failure::Usage(format!("there are no {shade} garments in the database (--demo)")));
    }
    let sql = "SELECT request FROM requests WHERE order_id = ?1";
    let text: Option<String> = transaction.query_row(sql, [transaction.last_insert_rowid()], |row| row.get(0))?;
    transaction.rollback()?;
    Ok(floodbar::wire::document(text.unwrap_or_default().as_bytes())?)
}
