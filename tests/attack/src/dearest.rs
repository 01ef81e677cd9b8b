//! Hunts for the dearest requests: for each calculation, by mutation and selection, the text of at most 10 kB that takes most time and
//! the one that takes most memory; and what texts of 4 MiB take at most.
//!
//! `dearest [CALCULATION...] [--seconds N] [--state FOLDER] [--table FILE]`: so long for all of them. What was found stays in the
//! state folder and is where the next hunt begins; the table is what SECURITY.md shows.

use floodbar::wire::{MOST_ITEMS, MOST_TEXT, Remarks, from_json};
use floodbar_attack::draw::Draw;
use floodbar_attack::mutate::{mutate, request};
use floodbar_attack::seeds::{SEEDS, Seeds};
use floodbar_attack::weigh::{MOST_BYTES, Taken, weighed};
use lexopt::prelude::*;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};
use serde::Serialize;
use serde_json::Value;
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// Longest text of a request.
const MOST_REQUEST: usize = 10_000;
/// Longest time of a call.
const LONGEST: Duration = Duration::from_secs(1);
/// Memory of a text of the longest that is taken, over its length.
const MOST_OF_TEXT: usize = 10;
/// Longest time of a row that is counted, ns: one of the solver takes about 12.
const MOST_COUNTED: f64 = 60.0;
/// What an evaluation may take before it counts anything, in rows: that of a small closed form.
const UNCOUNTED: f64 = 200.0;
/// What a member of a request is worth, in rows.
const MEMBER: f64 = 8.0;
/// So many of the dearest are kept and changed.
const KEPT: usize = 12;

/// The dearest found of a calculation.
#[derive(Serialize)]
struct Dearest {
    calculation: &'static str,
    /// Of the request that takes longest: milliseconds, rows of work, bytes of text.
    longest_ms: String,
    longest_work: u64,
    longest_bytes: usize,
    /// Of the request that takes most memory: megabytes, bytes of text.
    largest_mb: String,
    largest_bytes: usize,
    /// Of the request whose work is counted worst: nanoseconds an evaluation takes for each row that it counts.
    counted_ns: String,
}

struct Found {
    request: Value,
    bytes: usize,
    taken: Taken,
    /// Nanoseconds of an evaluation for each row that it counts.
    counted: f64,
}

/// What is dear of what was taken.
type Price = fn(&Found) -> u128;

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let (mut ids, mut seconds) = (Vec::new(), 600);
    let (mut state, mut table) = (PathBuf::from("target/attack/dearest"), None);
    let mut arguments = lexopt::Parser::from_env();
    while let Some(argument) = arguments.next()? {
        match argument {
            Long("seconds") => seconds = arguments.value()?.parse()?,
            Long("state") => state = arguments.value()?.into(),
            Long("table") => table = Some(PathBuf::from(arguments.value()?)),
            Value(id) => ids.push(id.string()?),
            _ => return Err(argument.unexpected().into()),
        }
    }
    fs::create_dir_all(&state)?;
    let (mut rows, mut broken) = (Vec::new(), 0);
    let chosen: Vec<&Seeds> =
        SEEDS.iter().filter(|seeds| ids.is_empty() || ids.iter().any(|id| id == seeds.calculation.id())).collect();
    // A third each for time, for memory, and for time that is not counted.
    let each = Duration::from_secs(seconds) / u32::try_from(3 * chosen.len().max(1))?;
    for seeds in chosen {
        let longest = hunt(seeds, "longest", |found| found.taken.time.as_micros(), each, &state)?;
        let largest = hunt(seeds, "largest", |found| found.taken.bytes as u128, each, &state)?;
        let least_counted = hunt(seeds, "least-counted", |found| (1e3 * found.counted) as u128, each, &state)?;
        let row = Dearest {
            calculation: seeds.calculation.id(),
            longest_ms: format!("{:.2}", longest.taken.time.as_secs_f64() * 1e3),
            longest_work: work(seeds, &longest.request),
            longest_bytes: longest.bytes,
            largest_mb: format!("{:.2}", largest.taken.bytes as f64 / 1e6),
            largest_bytes: largest.bytes,
            counted_ns: format!("{:.1}", least_counted.counted),
        };
        println!(
            "{}: {} ms, {} rows of work, {} bytes; {} MB, {} bytes; {} ns a row",
            row.calculation,
            row.longest_ms,
            row.longest_work,
            row.longest_bytes,
            row.largest_mb,
            row.largest_bytes,
            row.counted_ns
        );
        broken += usize::from(longest.taken.time > LONGEST)
            + usize::from(largest.taken.bytes > MOST_BYTES)
            + usize::from(least_counted.counted > MOST_COUNTED);
        rows.push(row);
    }
    if ids.is_empty() {
        broken += texts() + long_lists();
    }
    if let Some(path) = table {
        let mut writer = csv::Writer::from_path(path)?;
        rows.iter().try_for_each(|row| writer.serialize(row))?;
        writer.flush()?;
    }
    println!("{} passed, {broken} failed", 3 * rows.len() - broken.min(3 * rows.len()));
    Ok(if broken == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Rows of equations that a request is worth, where it has an answer.
fn work(seeds: &Seeds, request: &Value) -> u64 {
    evaluated(seeds, request).map_or(0, |(work, _)| work)
}

/// Rows that an evaluation counts, and the shortest time of three; nothing where the request cannot be read.
fn evaluated(seeds: &Seeds, request: &Value) -> Option<(u64, Duration)> {
    let mut record = seeds.calculation.blank();
    from_json(&mut *record, request).ok()?;
    let once = || {
        let mut remarks = Remarks::counting();
        let time = weighed(|| drop(seeds.calculation.work(&*record, &mut remarks))).1.time;
        (remarks.work_done(), time)
    };
    (0..3).map(|_| once()).min_by_key(|(_, time)| *time)
}

/// Nanoseconds of an evaluation for each row that it counts, and for its members.
fn counted(seeds: &Seeds, request: &Value) -> f64 {
    evaluated(seeds, request).map_or(0.0, |(work, time)| {
        time.as_nanos() as f64 / (work as f64 + MEMBER * members(request) as f64 + UNCOUNTED)
    })
}

/// Members and entries of a request that hold no others.
fn members(value: &Value) -> usize {
    match value {
        Value::Array(items) => items.iter().map(members).sum(),
        Value::Object(object) => object.values().map(members).sum(),
        _ => 1,
    }
}

fn asked(seeds: &Seeds, text: &str) -> Taken {
    weighed(|| floodbar::calculate_text(seeds.calculation.id(), text.as_bytes())).1
}

fn hunt(seeds: &Seeds, name: &str, price: Price, time: Duration, state: &Path) -> Result<Found, Box<dyn Error>> {
    let id = seeds.calculation.id();
    let path = state.join(format!("{id}-{name}.json"));
    let mut known = seeds.requests.clone();
    if let Ok(text) = fs::read(&path) {
        known.push(serde_json::from_slice(&text)?);
    }
    let weigh = |request: Value| {
        let text = request.to_string();
        (text.len() <= MOST_REQUEST).then(|| Found {
            taken: asked(seeds, &text),
            bytes: text.len(),
            counted: counted(seeds, &request),
            request,
        })
    };
    let mut kept: Vec<Found> = known.iter().cloned().filter_map(weigh).collect();
    let mut random = Xoshiro256PlusPlus::seed_from_u64(id.len() as u64);
    let start = Instant::now();
    while start.elapsed() < time {
        kept.sort_by_key(|found| std::cmp::Reverse(price(found)));
        kept.truncate(KEPT);
        let mut bytes = [0; 600];
        random.fill_bytes(&mut bytes);
        let mut draw = Draw::new(&bytes);
        let mut next = match draw.below(6) {
            0 => request(&known, seeds.calculation.request(), 4, &mut draw),
            _ => draw.pick(&kept).request.clone(),
        };
        for _ in 0..=draw.below(4) {
            mutate(&mut next, seeds.calculation.request(), &mut draw);
        }
        if draw.one_in(3) {
            fill_one(&mut next, &mut draw);
        }
        kept.extend(weigh(next));
    }
    // What a busy machine made dear is asked again.
    kept.sort_by_key(|found| std::cmp::Reverse(price(found)));
    kept.truncate(3);
    for found in &mut kept {
        let text = found.request.to_string();
        found.taken.time = found.taken.time.min(asked(seeds, &text).time);
    }
    kept.sort_by_key(|found| std::cmp::Reverse(price(found)));
    let dearest = kept.into_iter().next().ok_or("no request is short enough")?;
    fs::write(path, dearest.request.to_string())?;
    Ok(dearest)
}

/// Makes one of the lists as long as the text allows.
fn fill_one(request: &mut Value, draw: &mut Draw<'_>) {
    let mut lists = Vec::new();
    lists_of(request, String::new(), &mut lists);
    if !lists.is_empty() {
        fill(request, draw.pick::<String>(&lists), draw.below(3), MOST_REQUEST);
    }
}

/// Makes a list as long as a text of so many bytes and the limit of lists allow, with copies of one of its entries.
fn fill(request: &mut Value, list: &str, entry: usize, most: usize) {
    let length = request.to_string().len();
    let Some(Value::Array(items)) = request.pointer_mut(list) else { return };
    if let Some(item) = items.get(entry).or(items.first()).cloned() {
        let count = most.saturating_sub(length) / (item.to_string().len() + 1);
        items.extend(std::iter::repeat_n(item, count.min(MOST_ITEMS.saturating_sub(items.len()))));
    }
}

/// Each list of each known request as long as it may be; how many take too much memory.
fn long_lists() -> usize {
    let mut broken = 0;
    for seeds in SEEDS.iter() {
        let mut worst: Option<(Taken, usize, String)> = None;
        for known in &seeds.requests {
            let mut lists = Vec::new();
            lists_of(known, String::new(), &mut lists);
            for list in lists {
                let mut request = known.clone();
                fill(&mut request, &list, 0, MOST_TEXT);
                let text = request.to_string();
                let taken = asked(seeds, &text);
                broken += usize::from(taken.bytes > MOST_OF_TEXT * MOST_TEXT);
                if worst.as_ref().is_none_or(|(worst, ..)| worst.time < taken.time) {
                    worst = Some((taken, text.len(), list));
                }
            }
        }
        if let Some((taken, bytes, list)) = worst {
            let (time, memory) = (taken.time.as_secs_f64() * 1e3, taken.bytes as f64 / 1e6);
            println!("{} with a long {list}: {bytes} bytes, {memory:.1} MB, {time:.0} ms", seeds.calculation.id());
        }
    }
    broken
}

fn lists_of(value: &Value, at: String, found: &mut Vec<String>) {
    match value {
        Value::Array(items) => {
            items.iter().enumerate().take(4).for_each(|(index, item)| lists_of(item, format!("{at}/{index}"), found));
            found.push(at);
        }
        Value::Object(members) => {
            members.iter().for_each(|(name, member)| lists_of(member, format!("{at}/{name}"), found));
        }
        _ => {}
    }
}

/// Texts of the greatest length that are little but structure; how many take too much memory.
fn texts() -> usize {
    let shapes = [
        ("{\"a\":0}", "{\"a\":0}"),
        ("{}", "{}"),
        ("[]", "[]"),
        ("0", "0"),
        ("\"\"", "\"\""),
        ("{\"\":{}}", "{\"\":{}}"),
        ("a number", "1.5"),
        ("a quantity", "{\"value\":1,\"unit\":\"m\"}"),
        ("nested", "[[[[[[[[0]]]]]]]]"),
    ];
    let mut broken = 0;
    for (name, item) in shapes {
        // Lists of lists, none longer than a list may be.
        let list = format!("[{}]", vec![item; 9_999].join(","));
        let count = (MOST_TEXT - 40) / (list.len() + 1);
        let text = format!("{{\"mesh\":[{}]}}", vec![list; count].join(","));
        let taken = weighed(|| floodbar::calculate_text("mesh.geometry", text.as_bytes()).map(drop)).1;
        let times = taken.bytes as f64 / text.len() as f64;
        println!(
            "text of {name}: {} bytes, {times:.1} times that in memory, {:.0} ms",
            text.len(),
            taken.time.as_secs_f64() * 1e3
        );
        broken += usize::from(taken.bytes > MOST_OF_TEXT * MOST_TEXT);
    }
    broken
}
