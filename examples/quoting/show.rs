//! Tables and money for people to read.

use comfy_table::{Cell, CellAlignment, Table, presets};
use floodbar::money::Currency;
use rusqlite::Row;

/// A table with its numbers to the right.
pub fn table<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    table_of(&head, rows)
}

/// The same for a number of columns that only the program's run knows.
pub fn table_of<R: IntoIterator<Item = String>>(head: &[&str], rows: impl IntoIterator<Item = R>) -> String {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING);
    let rows: Vec<Vec<String>> = rows.into_iter().map(|row| row.into_iter().collect()).collect();
    let is_number = |column: usize| {
        let mut cells = rows.iter().filter_map(|row| row.get(column)).filter(|cell| !cell.is_empty() && *cell != "-");
        cells.all(|cell| cell.starts_with(|c: char| c == '-' || c.is_ascii_digit()))
    };
    let right: Vec<bool> = (0..head.len()).map(is_number).collect();
    let cell = |(text, right): (String, &bool)| {
        Cell::new(text).set_alignment(if *right { CellAlignment::Right } else { CellAlignment::Left })
    };
    table.set_header(head.iter().map(|text| (*text).to_owned()).zip(&right).map(cell));
    for row in &rows {
        table.add_row(row.iter().cloned().zip(&right).map(cell));
    }
    table.trim_fmt()
}

/// Money in minor units as text, with all digits: `12.50`. The minor units themselves for a currency that is not known.
pub fn money(minor: i64, currency: &str) -> String {
    Currency::find(currency)
        .map_or_else(|| format!("{minor} (minor units)"), |currency| grouped(&currency.minor(minor).digits()))
}

/// A number with its thousands set apart.
pub fn grouped(number: &str) -> String {
    let (sign, rest) = number.strip_prefix('-').map_or(("", number), |rest| ("-", rest));
    let (whole, fraction) = rest.split_once('.').map_or((rest, None), |(whole, fraction)| (whole, Some(fraction)));
    let mut text = String::from(sign);
    for (index, digit) in whole.chars().enumerate() {
        let left = whole.len().saturating_sub(index);
        if index > 0 && left.is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    if let Some(fraction) = fraction {
        text.push('.');
        text.push_str(fraction);
    }
    text
}

/// Hours of so many seconds, to a tenth.
pub fn hours(seconds: i64) -> String {
    grouped(&format!("{:.1}", seconds as f64 / 3600.0))
}

/// Kilograms of so many milligrams, to ten grams.
pub fn kilograms(milligrams: i64) -> String {
    grouped(&format!("{:.2}", milligrams as f64 / 1e6))
}

/// A text of the database, which need not be UTF-8: what is not is shown as such.
pub fn words(row: &Row<'_>, index: usize) -> rusqlite::Result<String> {
    Ok(String::from_utf8_lossy(row.get_ref(index)?.as_bytes()?).into_owned())
}

/// A text cut to a width.
pub fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most.saturating_sub(3)).chain("...".chars()).collect()
}
