//! Floodbar inside a quoting system: orders, prices and quotes in a database, `quoting --database shop.db [--demo 1000]`.

mod database;
mod demo;
mod failure;
mod functions;
mod price_list;
mod pricing;
mod query;
mod show;
mod summary;
mod which_press;
mod work;

use database::Use;
use failure::Failure;
use floodbar::Cache;
use lexopt::prelude::*;
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

const HELP: &str = "\
Prices the open orders of a database and says what came of it. It may be stopped at any moment, and
started again finishes the rest.

  quoting --database FILE    the SQLite database; made where there is none
      --demo N               first fill an empty one with a shop and N orders
      --seed N               other demo orders (1)
      --orders-only          stop when the demo orders are there
      --again                also price anew what was refused, and what its order, the shop or the rates
                             have changed since; a quote that was sent stays, a new revision stands beside it
      --target MONEY         jobs whose profit for an hour of the press is less are listed (\"60 EUR/h\")
      --today DATE           the day that quotes stand from (today's)
      --query SQL            instead, run a query that reads, and print its rows. It may call
                             floodbar(id, request), the answer as JSON, and
                             floodbar_number(id, request, pointer, unit), one number of it
      --price-list           instead, prices by pieces and colours on light and dark shirts
      --press NAME           on this press (automatic-14)
      --which-press ORDER    instead, an order by hand and on an automatic, and where they cross
      --wait SECONDS         for another program that holds the database (10)
      --most-pages N         the database may have so many pages and no more
      --help                 this text

It ends with 0; with 1 where something is wrong, 2 where it is asked for nonsense, 3 where the database
stays locked, 4 where there is no room for it, 5 where it is of another kind or version, or damaged.";

fn main() -> ExitCode {
    let printed = |text| {
        let told = |error| Failure::Other(format!("all is done, but not all of this could be printed: {error}"));
        writeln!(std::io::stdout(), "{text}").map_err(told)
    };
    match run().and_then(printed) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            tell(&failure.text());
            failure.exit_code()
        }
    }
}

/// Says something beside the output.
fn tell(message: &str) {
    // Where nobody listens there is nobody to tell.
    let _ = writeln!(std::io::stderr(), "quoting: {message}");
}

/// What the arguments ask for.
struct Asked {
    file: Option<PathBuf>,
    demo: Option<u32>,
    seed: u64,
    orders_only: bool,
    again: bool,
    target: String,
    today: String,
    query: Option<String>,
    price_list: bool,
    press: String,
    which_press: Option<i64>,
    how: Use,
}

fn asked() -> Result<Option<Asked>, lexopt::Error> {
    let mut asked = Asked {
        file: None,
        demo: None,
        seed: 1,
        orders_only: false,
        again: false,
        target: "60 EUR/h".into(),
        today: "now".into(),
        query: None,
        price_list: false,
        press: "automatic-14".into(),
        which_press: None,
        how: Use { wait: Duration::from_secs(10), most_pages: None },
    };
    let mut arguments = lexopt::Parser::from_env();
    while let Some(argument) = arguments.next()? {
        match argument {
            Long("database") => asked.file = Some(arguments.value()?.into()),
            Long("demo") => asked.demo = Some(arguments.value()?.parse()?),
            Long("seed") => asked.seed = arguments.value()?.parse()?,
            Long("orders-only") => asked.orders_only = true,
            Long("again") => asked.again = true,
            Long("target") => asked.target = arguments.value()?.string()?,
            Long("today") => asked.today = arguments.value()?.string()?,
            Long("query") => asked.query = Some(arguments.value()?.string()?),
            Long("price-list") => asked.price_list = true,
            Long("press") => asked.press = arguments.value()?.string()?,
            Long("which-press") => asked.which_press = Some(arguments.value()?.parse()?),
            Long("wait") => asked.how.wait = Duration::from_secs(arguments.value()?.parse::<u16>()?.into()),
            Long("most-pages") => asked.how.most_pages = Some(arguments.value()?.parse()?),
            Short('h') | Long("help") => return Ok(None),
            other => return Err(other.unexpected()),
        }
    }
    Ok(Some(asked))
}

/// Does what is asked for, and gives the text to print.
fn run() -> Result<String, Failure> {
    let Some(asked) = asked().map_err(|error| Failure::Usage(format!("{error} (--help)")))? else {
        return Ok(HELP.to_owned());
    };
    let file = asked.file.ok_or_else(|| Failure::Usage("which database? --database FILE (--help)".to_owned()))?;
    // So that every name is one of a file, also those by which SQLite would keep everything in memory.
    let file = std::path::absolute(file).map_err(|error| Failure::Usage(format!("--database: {error}")))?;
    let target = summary::Target::read(&asked.target)?;
    let cache = Cache::new(work::REMEMBERED);
    if let Some(sql) = &asked.query {
        let database = database::open_to_read(&file, &asked.how)?;
        functions::register(&database, &cache)?;
        return query::text(&database, sql);
    }
    let mut database = database::open(&file, &asked.how)?;
    functions::register(&database, &cache)?;
    // Today as the shop's own calendar has it, which in the morning or at night is not the day in Greenwich.
    let sql = "SELECT iif(?1 = 'now', date('now', 'localtime'), date(?1))";
    let today: Option<String> = database.query_row(sql, [&asked.today], |row| row.get(0))?;
    let today = today.ok_or_else(|| Failure::Usage(format!("--today {}: a date, such as 2027-05-14", asked.today)))?;
    if let Some(orders) = asked.demo {
        demo::fill(&mut database, orders, asked.seed)?;
        if asked.orders_only {
            return Ok("The orders are there; none is priced yet.".to_owned());
        }
    }
    if asked.price_list {
        return price_list::text(&mut database, &cache, &asked.press);
    }
    if let Some(order) = asked.which_press {
        return which_press::text(&database, &cache, order);
    }
    if asked.again {
        let opened = work::open_again(&mut database)?;
        tell(&format!("{opened} orders are priced anew"));
    }
    work::price_open(&file, &asked.how, &cache, &today)?;
    summary::text(&database, target)
}
