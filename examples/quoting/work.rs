//! Prices the open orders: workers on all cores share one cache, one writer commits what they find in batches.
//!
//! An order leaves the state `open` in the transaction that writes its quote or its refusal. So the program may be killed at any
//! moment: what was committed is whole, what was not is still open, and the next run finishes it.

use crate::database::{self, Use};
use crate::failure::Failure;
use crate::pricing::{Order, Quote, price};
use crate::show::words;
use floodbar::{Cache, Error};
use indicatif::{ProgressBar, ProgressState, ProgressStyle};
use rayon::prelude::*;
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};
use std::path::Path;
use std::sync::mpsc::{Receiver, sync_channel};

/// Orders that are read at a time: all that is held of them, whatever their number.
const CHUNK: u32 = 1024;
/// Orders that are committed at a time.
const BATCH: usize = 256;
/// Runs through heat that are remembered: some kilobytes each.
pub const REMEMBERED: usize = 10_000;

/// What became of an order.
struct Outcome {
    order: Order,
    quote: Result<Quote, Error>,
}

/// Opens orders again whose quote is of another request than they would make today, and those that were refused.
///
/// # Errors
/// What the database refuses.
pub fn open_again(database: &mut Connection) -> Result<usize, Failure> {
    database.create_scalar_function("sha256", 1, rusqlite::functions::FunctionFlags::SQLITE_UTF8, |context| {
        Ok(context.get_raw(0).as_bytes().ok().map(crate::pricing::sha256))
    })?;
    let transaction = database.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let opened = transaction.execute(
        "UPDATE orders SET state = 'open' WHERE state = 'refused' OR state = 'quoted' AND
            (SELECT request_sha256 FROM latest_quotes WHERE order_id = orders.id)
            IS NOT (SELECT sha256(request) FROM requests WHERE order_id = orders.id)",
        [],
    )?;
    transaction.commit()?;
    Ok(opened)
}

/// Prices all open orders. `today` is the day that quotes are valid from, as SQLite's `date` takes it.
///
/// # Errors
/// What the database refuses; what was committed before stays.
pub fn price_open(path: &Path, how: &Use, cache: &Cache, today: &str) -> Result<(), Failure> {
    let mut writing = database::open(path, how)?;
    let reading = database::open_to_read(path, how)?;
    let open: u32 = reading.query_row("SELECT count(*) FROM orders WHERE state = 'open'", [], |row| row.get(0))?;
    if open == 0 {
        return Ok(());
    }
    let sql = "SELECT EXISTS (SELECT 1 FROM shop) AND EXISTS (SELECT 1 FROM rates)";
    if !reading.query_row(sql, [], |row| row.get::<_, bool>(0))? {
        return Err(Failure::Usage("there are open orders in the database, but no shop or no rates".to_owned()));
    }
    let bar = ProgressBar::new(open.into());
    let style = ProgressStyle::with_template("{bar:40} {pos} of {len} orders, {rate} a second, {eta} left");
    let rate = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
        // A bar that cannot be written is not worth an end of the work.
        let _ = write!(out, "{:.0}", state.per_sec());
    };
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()).with_key("rate", rate));
    // One pass leaves what was changed while it was priced; it is priced in the next.
    let done = loop {
        match one_pass(&mut writing, &reading, cache, today, &bar) {
            Ok(0) => break Ok(()),
            Ok(_) => {}
            Err(failure) => break Err(failure),
        }
    };
    bar.finish_and_clear();
    done?;
    let (remembered, worked_out) = cache.counts();
    crate::tell(&format!("heat of flash and dryer: {remembered} times remembered, {worked_out} times worked out"));
    Ok(())
}

/// Goes through the open orders once; how many were written.
fn one_pass(
    writing: &mut Connection,
    reading: &Connection,
    cache: &Cache,
    today: &str,
    bar: &ProgressBar,
) -> Result<usize, Failure> {
    let (sender, receiver) = sync_channel::<Outcome>(BATCH);
    std::thread::scope(|scope| {
        let writer = scope.spawn(|| write_all(writing, receiver, today, bar));
        let mut last = i64::MIN;
        let read = loop {
            let orders = match chunk(reading, last) {
                Ok(orders) => orders,
                Err(failure) => break Err(failure),
            };
            let Some(end) = orders.last() else { break Ok(()) };
            last = end.id;
            let sent = orders.into_par_iter().with_max_len(4).try_for_each_with(sender.clone(), |sender, order| {
                let quote = price(&order, cache);
                sender.send(Outcome { order, quote }).map_err(|_| ())
            });
            if sent.is_err() {
                // The writer has stopped, and says why.
                break Ok(());
            }
        };
        drop(sender);
        let written = writer.join().unwrap_or_else(|_| Err(Failure::Other("the writer broke off".to_owned())))?;
        read.map(|()| written)
    })
}

/// The next open orders.
fn chunk(reading: &Connection, after: i64) -> Result<Vec<Order>, Failure> {
    // Ids first, so that the shop's part is joined to these orders only.
    let mut statement = reading.prepare_cached(
        "SELECT orders.id, orders.press, orders.request, requests.request, rates_version, valid_days
         FROM (SELECT id FROM orders WHERE state = 'open' AND id > ?1 ORDER BY id LIMIT ?2) AS open
         JOIN orders ON orders.id = open.id JOIN requests ON requests.order_id = open.id ORDER BY orders.id",
    )?;
    let mut rows = statement.query(params![after, CHUNK])?;
    let mut orders = Vec::new();
    while let Some(row) = rows.next()? {
        // Text of a database need not be UTF-8: the library says what is wrong with it.
        let bytes = |index: usize| row.get_ref(index).map(|value| value.as_bytes().ok().map(<[u8]>::to_vec));
        orders.push(Order {
            id: row.get(0)?,
            press: words(row, 1)?,
            given: bytes(2)?.unwrap_or_default(),
            request: bytes(3)?,
            rates_version: row.get(4)?,
            valid_days: row.get(5)?,
        });
    }
    Ok(orders)
}

/// Commits what arrives in batches, until no more does; how many orders were written.
fn write_all(
    database: &mut Connection,
    outcomes: Receiver<Outcome>,
    today: &str,
    bar: &ProgressBar,
) -> Result<usize, Failure> {
    let mut count = 0_usize;
    while let Ok(first) = outcomes.recv() {
        // Others may write while a batch fills.
        let batch: Vec<Outcome> = std::iter::once(first).chain(outcomes.iter()).take(BATCH).collect();
        let transaction = database.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let mut written = Vec::new();
        for outcome in batch {
            if write(&transaction, &outcome, today)? {
                written.push((outcome.order.id, outcome.quote.err()));
            }
        }
        transaction.commit()?;
        for (id, error) in &written {
            if let Some(error) = error {
                bar.suspend(|| crate::tell(&format!("order {id} refused: {error}")));
            }
        }
        count = count.saturating_add(written.len());
        bar.inc(u64::try_from(written.len()).unwrap_or(0));
    }
    Ok(count)
}

/// Writes what became of an order, unless another program was faster, or the order is no longer the one that was priced.
fn write(transaction: &Transaction<'_>, outcome: &Outcome, today: &str) -> Result<bool, Failure> {
    let Outcome { order, quote } = outcome;
    let state = if quote.is_ok() { "quoted" } else { "refused" };
    let mut close = transaction.prepare_cached(
        "UPDATE orders SET state = ?2 WHERE id = ?1 AND state = 'open' AND request = CAST(?3 AS TEXT)",
    )?;
    if close.execute(params![order.id, state, order.given])? == 0 {
        return Ok(false);
    }
    transaction.prepare_cached("DELETE FROM refused WHERE order_id = ?1")?.execute([order.id])?;
    let mut latest = transaction.prepare_cached(
        "SELECT revision, sent_on IS NOT NULL FROM quotes WHERE order_id = ?1 ORDER BY revision DESC LIMIT 1",
    )?;
    let latest: Option<(i64, bool)> = latest.query_row([order.id], |row| Ok((row.get(0)?, row.get(1)?))).optional()?;
    let revision = match latest {
        None => 1,
        Some((revision, true)) => revision.saturating_add(1),
        Some((revision, false)) => {
            let mut delete = transaction.prepare_cached("DELETE FROM quotes WHERE order_id = ?1 AND revision = ?2")?;
            delete.execute(params![order.id, revision])?;
            revision
        }
    };
    match quote {
        Ok(quote) => write_quote(transaction, order, revision, quote, today)?,
        Err(error) => {
            let mut refuse = transaction.prepare_cached("INSERT INTO refused VALUES (?1, ?2, ?3, ?4)")?;
            refuse.execute(params![order.id, error.code.text(), error.field, error.message])?;
        }
    }
    Ok(true)
}

fn write_quote(
    transaction: &Transaction<'_>,
    order: &Order,
    revision: i64,
    quote: &Quote,
    today: &str,
) -> Result<(), Failure> {
    let mut insert = transaction.prepare_cached(
        "INSERT INTO quotes (order_id, revision, request_sha256, rates_version, valid_until, pieces, press, setup_seconds,
            run_seconds, currency, unit_price, cost, before_tax, tax, total, profit, profit_per_press_hour, stop)
         VALUES (?1, ?2, ?3, ?4, date(?5, '+' || ?6 || ' days'), ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19)",
    )?;
    insert.execute(params![
        order.id,
        revision,
        quote.request_sha256,
        order.rates_version,
        today,
        order.valid_days,
        quote.pieces,
        order.press,
        quote.setup_seconds,
        quote.run_seconds,
        quote.currency,
        quote.unit_price,
        quote.cost,
        quote.before_tax,
        quote.tax,
        quote.total,
        quote.profit,
        quote.profit_per_press_hour,
        quote.stop,
    ])?;
    let mut insert = transaction.prepare_cached("INSERT INTO quote_lines VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?;
    for (number, line) in (1_i64..).zip(&quote.lines) {
        insert.execute(params![order.id, revision, number, line.side, line.what, line.amount])?;
    }
    let mut insert = transaction.prepare_cached("INSERT INTO ink_demand VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")?;
    for (number, ink) in (1_i64..).zip(&quote.inks) {
        insert.execute(params![
            order.id,
            revision,
            number,
            ink.colour,
            ink.ink,
            ink.ready_milligrams,
            ink.used_milligrams
        ])?;
    }
    Ok(())
}
