//! Runs the targets by a stable, seeded driver: case after case, whose bytes follow from the target and the number of the case.
//!
//! `attack [TARGET...] [--seconds N] [--state FOLDER] [--counts FILE]`, or `attack TARGET --input FILE` for one input, such as a finding.
//! First comes what `tests/fuzz/corpus` keeps of the target, such as past findings. Whatever is found is saved in the state folder, and told
//! with how to run it again. `--counts` is a table of what ran so far: the cases
//! begin where it ends, and are added to it; `--ran DRIVER INPUTS SECONDS` adds what another driver ran of a target.

use floodbar_attack::targets::{TARGETS, Target};
use lexopt::prelude::*;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::error::Error;
use std::fs;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// Most bytes of a case; most cases have fewer.
const MOST_BYTES: u64 = 512;
/// So many findings of a target are told: the rest are likely the same.
const MOST_FOUND: usize = 8;

struct Asked {
    targets: Vec<(&'static str, Target)>,
    seconds: u64,
    input: Option<PathBuf>,
    ran: Option<(String, u64, f64)>,
    counts: Option<PathBuf>,
    state: PathBuf,
}

/// What ran of a target so far.
#[derive(Serialize, Deserialize)]
struct Ran {
    target: String,
    driver: String,
    inputs: u64,
    seconds: f64,
}

/// The driver of this program, in the table of what ran.
const OWN: &str = "seeded";

/// The table of what ran; none where no file was named.
struct Counts(Option<PathBuf>, Vec<Ran>);

impl Counts {
    fn read(path: Option<PathBuf>) -> Result<Self, Box<dyn Error>> {
        let rows = match path.as_ref().filter(|path| path.exists()) {
            Some(path) => csv::Reader::from_path(path)?.deserialize().collect::<Result<_, _>>()?,
            None => Vec::new(),
        };
        Ok(Self(path, rows))
    }

    fn of(&self, target: &str, driver: &str) -> u64 {
        self.1.iter().find(|ran| ran.target == target && ran.driver == driver).map_or(0, |ran| ran.inputs)
    }

    /// Adds what ran, and writes the table.
    fn add(&mut self, target: &str, driver: &str, inputs: u64, seconds: f64) -> Result<(), Box<dyn Error>> {
        let Self(Some(path), rows) = self else { return Ok(()) };
        match rows.iter_mut().find(|ran| ran.target == target && ran.driver == driver) {
            Some(ran) => {
                ran.inputs += inputs;
                ran.seconds = (ran.seconds + seconds).round();
            }
            None => rows.push(Ran { target: target.into(), driver: driver.into(), inputs, seconds: seconds.round() }),
        }
        rows.sort_by(|a, b| (&a.target, &a.driver).cmp(&(&b.target, &b.driver)));
        let mut writer = csv::Writer::from_path(path)?;
        rows.iter().try_for_each(|ran| writer.serialize(ran))?;
        Ok(writer.flush()?)
    }
}

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let asked = asked()?;
    fs::create_dir_all(&asked.state)?;
    if let Some(input) = &asked.input {
        let bytes = fs::read(input)?;
        asked.targets.iter().for_each(|(_, target)| target(&bytes));
        return Ok(ExitCode::SUCCESS);
    }
    let mut counts = Counts::read(asked.counts)?;
    if let Some((driver, inputs, seconds)) = &asked.ran {
        for (name, _) in &asked.targets {
            counts.add(name, driver, *inputs, *seconds)?;
        }
        return Ok(ExitCode::SUCCESS);
    }
    let each = Duration::from_secs(asked.seconds) / u32::try_from(asked.targets.len())?;
    let (mut good, mut bad) = (0, 0);
    for (name, target) in &asked.targets {
        let from = counts.of(name, OWN);
        let ran = run(name, *target, each, from, &asked.state)?;
        counts.add(name, OWN, ran.inputs, ran.seconds)?;
        if ran.found == 0 { good += 1 } else { bad += 1 }
    }
    println!("{good} passed, {bad} failed");
    Ok(if bad == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn asked() -> Result<Asked, Box<dyn Error>> {
    let state = PathBuf::from("target/attack");
    let mut asked = Asked { targets: Vec::new(), seconds: 60, input: None, ran: None, counts: None, state };
    let mut arguments = lexopt::Parser::from_env();
    while let Some(argument) = arguments.next()? {
        match argument {
            Long("seconds") => asked.seconds = arguments.value()?.parse()?,
            Long("counts") => asked.counts = Some(arguments.value()?.into()),
            Long("ran") => {
                let driver = arguments.value()?.string()?;
                asked.ran = Some((driver, arguments.value()?.parse()?, arguments.value()?.parse()?));
            }
            Long("input") => asked.input = Some(arguments.value()?.into()),
            Long("state") => asked.state = arguments.value()?.into(),
            Value(name) => {
                let name = name.string()?;
                let known = TARGETS.iter().find(|(known, _)| *known == name);
                asked.targets.push(*known.ok_or_else(|| format!("no target is called {name}"))?);
            }
            _ => return Err(argument.unexpected().into()),
        }
    }
    if asked.targets.is_empty() {
        asked.targets = TARGETS.to_vec();
    }
    Ok(asked)
}

/// The bytes of a case.
fn case(name: &str, number: u64) -> Vec<u8> {
    let of_target = name.bytes().fold(0, |sum: u64, byte| sum.wrapping_mul(31).wrapping_add(byte.into()));
    let mut random = Xoshiro256PlusPlus::seed_from_u64(of_target.wrapping_mul(0x9e37_79b9).wrapping_add(number));
    let most = 1 + random.next_u64() % MOST_BYTES;
    let length = 8 + random.next_u64() % most;
    let mut bytes = vec![0; usize::try_from(length).unwrap_or_default()];
    random.fill_bytes(&mut bytes);
    bytes
}

/// What the repository keeps of a target's inputs.
fn kept(name: &str) -> Result<Vec<Vec<u8>>, Box<dyn Error>> {
    let folder = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../fuzz/corpus")).join(name);
    if !folder.is_dir() {
        return Ok(Vec::new());
    }
    let mut paths: Vec<PathBuf> =
        fs::read_dir(folder)?.map(|entry| Ok(entry?.path())).collect::<Result<_, std::io::Error>>()?;
    paths.sort();
    paths.iter().map(|path| Ok(fs::read(path)?)).collect()
}

/// What a run of a target was.
struct Outcome {
    inputs: u64,
    seconds: f64,
    /// How many findings that differ.
    found: usize,
}

/// Runs a target for so long, and tells how many cases it was.
fn run(name: &str, target: Target, time: Duration, from: u64, state: &Path) -> Result<Outcome, Box<dyn Error>> {
    let start = Instant::now();
    let mut found = BTreeSet::new();
    let (kept, mut inputs) = (kept(name)?, 0);
    while (inputs < kept.len() || start.elapsed() < time) && found.len() < MOST_FOUND {
        let number = from + inputs.saturating_sub(kept.len()) as u64;
        let bytes = kept.get(inputs).cloned().unwrap_or_else(|| case(name, number));
        if let Err(panic) = catch_unwind(|| target(&bytes)) {
            let message = panic.downcast_ref::<String>().map_or("a panic", String::as_str);
            // Alike but for their numbers.
            let kind: String = message.chars().filter(|c| !c.is_ascii_digit()).take(60).collect();
            if found.insert(kind) {
                let path = state.join(format!("{name}-{number}"));
                fs::write(&path, &bytes)?;
                println!("{name}: again by `attack {name} --input {}`", path.display());
            }
        }
        inputs += 1;
    }
    let outcome = Outcome { inputs: inputs as u64, seconds: start.elapsed().as_secs_f64(), found: found.len() };
    println!("{name}: {} inputs, {:.1} s, {} findings", outcome.inputs, outcome.seconds, outcome.found);
    Ok(outcome)
}
