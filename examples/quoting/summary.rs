//! What a shop owner reads in the end: worth, hours, ink, jobs that pay too little, and what was refused. All sums are SQLite's, over
//! integers.

use crate::failure::Failure;
use crate::show::{cut, grouped, hours, kilograms, money, table, words};
use floodbar::money::{Currency, Money, TimeRate};
use rusqlite::{Connection, Row, params};

/// Rows of a list; how many more there are is said.
const MOST_ROWS: i64 = 12;

/// The profit that an hour of the press should bring.
#[derive(Debug, Clone, Copy)]
pub struct Target {
    minor: i64,
    currency: Currency,
}

impl Target {
    /// Reads `60 EUR/h`.
    ///
    /// # Errors
    /// Another form.
    pub fn read(text: &str) -> Result<Self, Failure> {
        let bad = |why: &str| Failure::Usage(format!("--target {text}: {why}"));
        let rate: TimeRate = text.parse().map_err(|fault: floodbar::Error| bad(&fault.message))?;
        let (Some(currency), true) = (rate.currency(), rate.per().is_some_and(|unit| unit.name == "h")) else {
            return Err(bad("money per hour, such as 60 EUR/h"));
        };
        let minor = Money::rounding(rate.value(), currency).and_then(|money| money.in_minor_units());
        minor.map(|minor| Self { minor, currency }).ok_or_else(|| bad("too much"))
    }
}

/// The summary as text.
///
/// # Errors
/// What the database refuses.
pub fn text(database: &Connection, target: Target) -> Result<String, Failure> {
    let parts = [
        orders(database)?,
        value(database)?,
        presses(database)?,
        inks(database)?,
        stops(database)?,
        poor(database, target)?,
        refused(database)?,
    ];
    Ok(parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n"))
}

/// Rows of a query, so many at most, and how many there are in all.
fn list<const N: usize>(
    database: &Connection,
    sql: &str,
    most: i64,
    parameters: impl rusqlite::Params,
    row: impl Fn(&Row<'_>) -> rusqlite::Result<[String; N]>,
) -> Result<(Vec<[String; N]>, i64), Failure> {
    let mut statement = database.prepare(sql)?;
    let mut rows = statement.query(parameters)?;
    let (mut kept, mut count) = (Vec::new(), 0_i64);
    while let Some(found) = rows.next()? {
        // A row that is not shown is not worked out.
        if count < most {
            kept.push(row(found)?);
        }
        count = count.saturating_add(1);
    }
    Ok((kept, count))
}

fn more(count: i64) -> String {
    let left = count.saturating_sub(MOST_ROWS);
    if left > 0 { format!("\n... and {left} more") } else { String::new() }
}

fn number(row: &Row<'_>, index: usize) -> rusqlite::Result<String> {
    row.get::<_, i64>(index).map(|number| grouped(&number.to_string()))
}

fn orders(database: &Connection) -> Result<String, Failure> {
    let count = |state: &str| {
        database.query_row("SELECT count(*) FROM orders WHERE state = ?1", [state], |row| row.get::<_, i64>(0))
    };
    let told = |count: i64| grouped(&count.to_string());
    let (quoted, refused, open) = (count("quoted")?, count("refused")?, count("open")?);
    let open = if open > 0 { format!(", {} still open", told(open)) } else { String::new() };
    let sql = "SELECT min(valid_until), max(valid_until) FROM latest_quotes WHERE sent_on IS NULL";
    let until: (Option<String>, Option<String>) = database.query_row(sql, [], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let until = match until {
        (Some(first), Some(last)) if first == last => format!("\nQuotes not yet sent stand until {first}."),
        (Some(first), Some(last)) => format!("\nQuotes not yet sent stand until {first} to {last}."),
        _ => String::new(),
    };
    Ok(format!("ORDERS    {} quoted, {} refused{open}{until}", told(quoted), told(refused)))
}

fn value(database: &Connection) -> Result<String, Failure> {
    let sql = "SELECT currency, count(*), sum(pieces), sum(cost), sum(profit), sum(before_tax), sum(tax), sum(total)
               FROM latest_quotes GROUP BY currency ORDER BY currency";
    let (rows, _) = list(database, sql, i64::MAX, [], |row| {
        let currency: String = row.get(0)?;
        let sum = |index: usize| row.get::<_, i64>(index).map(|minor| money(minor, &currency));
        Ok([currency.clone(), number(row, 1)?, number(row, 2)?, sum(3)?, sum(4)?, sum(5)?, sum(6)?, sum(7)?])
    })?;
    if rows.is_empty() {
        return Ok(String::new());
    }
    let head = ["currency", "quotes", "pieces", "cost", "profit", "before tax", "tax", "total"];
    Ok(format!("VALUE OF THE QUOTES\n{}", table(head, rows)))
}

fn presses(database: &Connection) -> Result<String, Failure> {
    let sql =
        "SELECT press, count(*), sum(pieces), sum(setup_seconds), sum(run_seconds), sum(setup_seconds + run_seconds)
               FROM latest_quotes GROUP BY press ORDER BY press";
    let (rows, _) = list(database, sql, i64::MAX, [], |row| {
        let time = |index: usize| row.get(index).map(hours);
        Ok([words(row, 0)?, number(row, 1)?, number(row, 2)?, time(3)?, time(4)?, time(5)?])
    })?;
    if rows.is_empty() {
        return Ok(String::new());
    }
    let head = ["press", "jobs", "pieces", "setting up, h", "printing, h", "in all, h"];
    Ok(format!("HOURS OF THE PRESSES\n{}", table(head, rows)))
}

fn inks(database: &Connection) -> Result<String, Failure> {
    let sql = "SELECT colour, count(DISTINCT order_id), sum(used_milligrams), max(ready_milligrams)
               FROM latest_quotes JOIN ink_demand USING (order_id, revision)
               GROUP BY colour ORDER BY sum(used_milligrams) DESC, colour";
    let (rows, _) = list(database, sql, i64::MAX, [], |row| {
        Ok([words(row, 0)?, number(row, 1)?, kilograms(row.get(2)?), kilograms(row.get(3)?)])
    })?;
    if rows.is_empty() {
        return Ok(String::new());
    }
    let head = ["colour", "jobs", "used up, kg", "ready for the largest job, kg"];
    Ok(format!("INK TO BUY\n{}", table(head, rows)))
}

fn stops(database: &Connection) -> Result<String, Failure> {
    let sql = "SELECT order_id, customer, stop FROM latest_quotes JOIN orders ON orders.id = order_id
               WHERE stop IS NOT NULL ORDER BY order_id";
    let (rows, count) = list(database, sql, MOST_ROWS, [], |row| {
        Ok([row.get::<_, i64>(0)?.to_string(), words(row, 1)?, cut(&words(row, 2)?, 100)])
    })?;
    if rows.is_empty() {
        return Ok(String::new());
    }
    let head = ["order", "customer", "why it cannot be printed like this"];
    Ok(format!("STOP: LOOK AT THESE {count} BEFORE THE QUOTE GOES OUT\n{}{}", table(head, rows), more(count)))
}

/// Jobs whose press hours bring too little. What holds them up is asked of the library in the query itself.
fn poor(database: &Connection, target: Target) -> Result<String, Failure> {
    let sql =
        "SELECT order_id, customer, pieces, latest_quotes.press, total, profit, setup_seconds + run_seconds, profit_per_press_hour,
                   floodbar_number('job.quote', requests.request, '/pieces_per_hour', NULL),
                   floodbar('job.quote', requests.request) ->> '$.held_up_by'
               FROM latest_quotes JOIN orders ON orders.id = order_id JOIN requests USING (order_id)
               WHERE order_id IN (SELECT order_id FROM latest_quotes WHERE currency = ?1 AND profit_per_press_hour < ?2
                                  ORDER BY profit_per_press_hour, order_id LIMIT ?3)
               ORDER BY profit_per_press_hour, order_id";
    let code = target.currency.code();
    let (rows, _) = list(database, sql, MOST_ROWS, params![code, target.minor, MOST_ROWS], |row| {
        let amount = |index: usize| row.get::<_, i64>(index).map(|minor| money(minor, code));
        let rate: Option<f64> = row.get(8)?;
        Ok([
            row.get::<_, i64>(0)?.to_string(),
            words(row, 1)?,
            number(row, 2)?,
            words(row, 3)?,
            amount(4)?,
            amount(5)?,
            hours(row.get(6)?),
            amount(7)?,
            rate.map_or_else(|| "-".to_owned(), |rate| format!("{rate:.0}")),
            row.get::<_, Option<String>>(9)?.unwrap_or_else(|| "-".to_owned()),
        ])
    })?;
    let sql = "SELECT count(*) FROM latest_quotes WHERE currency = ?1 AND profit_per_press_hour < ?2";
    let count: i64 = database.query_row(sql, params![code, target.minor], |row| row.get(0))?;
    let wanted = format!("{} {code}", money(target.minor, code));
    if rows.is_empty() {
        return Ok(format!("No job brings less than {wanted} of profit for an hour of the press."));
    }
    let profit = format!("profit, {code}/h");
    let head = [
        "order",
        "customer",
        "pieces",
        "press",
        &format!("total, {code}"),
        &format!("profit, {code}"),
        "hours",
        &profit,
        "pieces/h",
        "held up by",
    ];
    Ok(format!("JOBS BELOW {wanted} OF PROFIT FOR AN HOUR OF THE PRESS: {count}\n{}{}", table(head, rows), more(count)))
}

fn refused(database: &Connection) -> Result<String, Failure> {
    let sql =
        "SELECT order_id, customer, field, message FROM refused JOIN orders ON orders.id = order_id ORDER BY order_id";
    let (rows, count) = list(database, sql, MOST_ROWS, [], |row| {
        let field: String = row.get(2)?;
        let field = if field.is_empty() { "the whole order".to_owned() } else { cut(&field, 44) };
        Ok([row.get::<_, i64>(0)?.to_string(), words(row, 1)?, field, cut(&row.get::<_, String>(3)?, 64)])
    })?;
    if rows.is_empty() {
        return Ok(String::new());
    }
    let head = ["order", "customer", "where", "why"];
    Ok(format!("REFUSED: ASK THE CUSTOMER\n{}{}", table(head, rows), more(count)))
}
