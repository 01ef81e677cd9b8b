//! What the doubts of a request make of its answer: every number with its half-width, the largest contributor, and cautions where an
//! answer is not what a half-width can tell.

use super::calculation::{Evaluate, Options, Propagation};
use super::memory::Shared;
use super::numbers::{self, Leaf, Path, leaves};
use super::record::Record;
use super::remarks::{Doubted, Held};
use super::{At, Remarks, View, read};
use crate::error::{Code, Error};
use crate::note::{Level, Note};
use crate::propagation::{self, COVERAGE, Combined, Uncertain};
use crate::quantity::{Dimension, Rules, Show, Unit, decimal};
use crate::sorted::Index;
use crate::work::Work;
use core::ops::ControlFlow;
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::Value;

/// Most fields of a request that may be in doubt.
const MOST_DOUBTS: usize = 100;
/// Work of all evaluations together, that of the answer among them, as so many evaluations at the limit of one; where doubts are drawn
/// too, the draws have half of it.
const MOST_WORK: u64 = 1;
/// What an evaluation is worth in rows beside what it counts itself, for all and for each content of request and answer.
const EVALUATION: u64 = 50;
const CONTENT: u64 = 4;
/// What a number is worth that draws keep, and sort in the end.
const KEPT: u64 = 4;
/// Work of differences to an accuracy, over that to the one before, at most.
const FINER_WORK: u64 = 4;
/// Differences are to be so many times what the solver may be off.
const CLEAR: f64 = 10.0;
/// By how much the accuracy is raised to make them so, and how far at most.
const FINER: f64 = 0.25;
const FINEST: f64 = 1.0 / 64.0;
/// What a solver is off, over the change where it may be off four times as much: its error goes with what it may be.
const OFF: f64 = 1.0 / 3.0;
/// Draws of all doubts (JCGM 101, 7.2), where nothing asks for fewer.
const MOST_DRAWS: u32 = 200_000;
/// Fewer draws tell nothing of the ends of an interval.
const FEWEST_DRAWS: u32 = 200;
/// Numbers that draws may keep.
const MOST_KEPT: u64 = 8_000_000;
/// Draws that may not be, as a share of all, from which on it is said.
const OUTSIDE: f64 = 0.01;
/// So many members are named in a caution, the others counted.
const NAMED: usize = 3;

/// How far a number of an answer may be off.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Doubt {
    /// JSON pointer into the answer.
    pub at: String,
    /// Half-width of the 95 % interval, in SI base units.
    pub half_width: f64,
    /// The doubted field of the request that contributes most.
    pub contributor: String,
    /// Its share of the variance.
    pub share_fraction: f64,
    /// The shortest 95 % interval of draws, in SI base units.
    pub interval: Option<(f64, f64)>,
    unit: Unit,
    /// Which of the numbers of the answer it is, in the order in which they are written.
    index: usize,
}

/// The doubts of an answer; nothing where the request has none.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Doubts(Option<Vec<Doubt>>);

impl Doubts {
    pub fn all(&self) -> &[Doubt] {
        self.0.as_deref().unwrap_or_default()
    }

    /// Whether the request has any.
    pub const fn is_some(&self) -> bool {
        self.0.is_some()
    }

    /// The half-width of a number of the answer, in SI base units.
    pub fn half_width(&self, index: usize) -> Option<f64> {
        let all = self.all();
        let found = all.binary_search_by_key(&index, |doubt| doubt.index).ok()?;
        all.get(found).map(|doubt| doubt.half_width)
    }
}

impl Serialize for Doubt {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut members = to.serialize_map(None)?;
        members.serialize_entry("at", &self.at)?;
        members.serialize_entry("plus_minus", &(self.unit.span_from_si(self.half_width) + 0.0))?;
        if self.unit.name != "1" {
            members.serialize_entry("unit", self.unit.name)?;
        }
        if let Some((least, most)) = self.interval {
            members.serialize_entry("least", &(self.unit.from_si(least) + 0.0))?;
            members.serialize_entry("most", &(self.unit.from_si(most) + 0.0))?;
        }
        members.serialize_entry("contributor", &self.contributor)?;
        members.serialize_entry("share_fraction", &self.share_fraction)?;
        members.end()
    }
}

/// Evaluations of one calculation, and what they may still do together.
pub(crate) struct Evaluations<'a> {
    pub options: Options,
    memory: Option<&'a Shared>,
    held: Held,
    work: Evaluate<'a>,
    pool: Work,
    spent: bool,
    /// What each is worth in rows beside what it counts itself.
    each: u64,
    solves: bool,
    /// Rows that the draws of one answer may take.
    drawn: u64,
}

/// An answer that nothing was said about, and how many limits it met.
pub(crate) struct Silent {
    pub record: Box<dyn Record>,
    limits: u32,
}

impl<'a> Evaluations<'a> {
    pub fn new(options: Options, memory: Option<&'a Shared>, work: Evaluate<'a>) -> Self {
        Self {
            options,
            memory,
            held: Held::default(),
            work,
            pool: Work::of_evaluations(MOST_WORK),
            spent: false,
            each: 0,
            solves: false,
            drawn: Work::of_evaluations(MOST_WORK).left() / 2,
        }
    }

    /// With so much work for all, of so many answers.
    pub fn within(self, pool: Work, answers: usize) -> Self {
        let share = pool.left().checked_div(answers as u64).unwrap_or(0);
        Self { pool, drawn: self.drawn.min(share / 2), ..self }
    }

    /// With what another evaluation, that of the request as it stands, has left to be held.
    pub fn holding(self, held: Held) -> Self {
        Self { held, ..self }
    }

    /// After what was done before, of the same request.
    pub fn after(mut self, done: u64) -> Self {
        self.pool.count(done);
        self
    }

    /// Whether they took more than they may.
    pub const fn is_spent(&self) -> bool {
        self.spent
    }

    /// An answer with all that is said about it.
    pub fn explained(&mut self, request: &dyn Record) -> Result<(Box<dyn Record>, Remarks), Error> {
        self.held = Held::default();
        let remarks = Remarks::new(self.options.units, self.options.explain);
        let (answer, remarks) = self.evaluate(request, remarks, 1.0);
        answer.map(|answer| (answer, remarks))
    }

    /// An answer with nothing said, to an accuracy: what solvers may be off, over what they usually may be.
    pub fn silent(&mut self, request: &dyn Record, accuracy: f64) -> Result<Silent, Error> {
        let (answer, remarks) = self.evaluate(request, Remarks::counting(), accuracy);
        answer.map(|record| Silent { record, limits: remarks.counts()[1] })
    }

    fn evaluate(
        &mut self,
        request: &dyn Record,
        remarks: Remarks,
        accuracy: f64,
    ) -> (Result<Box<dyn Record>, Error>, Remarks) {
        let mut remarks = Remarks::with_held(&self.held)(Remarks::with_memory(self.memory)(remarks));
        *remarks.work() = Work::of_one_evaluation().to_accuracy(accuracy).at_most(self.pool.left());
        let answer = read::check(request, At::ROOT, &mut remarks).and_then(|()| (self.work)(request, &mut remarks));
        let done = remarks.work().done().saturating_add(self.each);
        self.solves |= remarks.work().solves();
        self.spent |= !self.pool.take(done);
        (answer, remarks)
    }
}

/// A doubted field: the way to it, its rules, and what is known of it.
struct Input<'a> {
    field: &'a str,
    got: &'a Value,
    path: Path,
    dimension: Dimension,
    rules: &'static Rules,
    number: Uncertain,
}

impl Input<'_> {
    fn set(&self, request: &mut dyn Record, value: f64) {
        // It is a number, not a count.
        let _ = numbers::put(request, &self.path, value, self.field);
    }
}

/// The leaves of an answer that are compared.
#[derive(Default)]
struct Flat {
    /// Their places, with what they hold: a number in SI base units, or a word by its place among those below.
    numbers: Vec<(u64, f64)>,
    words: Vec<(u64, String)>,
    /// Whether there are the same as in another answer is told by this number.
    shape: u64,
}

impl Flat {
    fn of(record: &dyn Record) -> Self {
        let mut flat = Self::default();
        leaves(record, &mut |leaf| {
            if leaf.show == Show::Effort {
                return;
            }
            if let Some((_, _, si)) = leaf.number() {
                flat.numbers.push((leaf.key, si));
                flat.shape = (flat.shape ^ leaf.key).rotate_left(7);
            } else if let Some(word) = word(leaf) {
                flat.words.push((leaf.key, word.to_owned()));
            }
        });
        flat
    }

    /// The numbers of another answer in the places of this one's; not a number where it has none.
    fn aligned(&self, other: &Self) -> Vec<f64> {
        if self.shape == other.shape && self.numbers.len() == other.numbers.len() {
            return other.numbers.iter().map(|(_, si)| *si).collect();
        }
        let index = Index::of(other.numbers.iter().map(|(key, _)| *key));
        let found = |key| other.numbers.get(index.place(key)?).map(|(_, si)| *si);
        self.numbers.iter().map(|(key, _)| found(*key).unwrap_or(f64::NAN)).collect()
    }

    fn values(&self) -> Vec<f64> {
        self.numbers.iter().map(|(_, si)| *si).collect()
    }
}

/// A word or a truth value.
fn word<'a>(leaf: &'a Leaf<'_>) -> Option<&'a str> {
    match leaf.view {
        View::Text(text) if leaf.is_word => Some(text),
        View::Flag(true) => Some("true"),
        View::Flag(false) => Some("false"),
        _ => None,
    }
}

/// What is to be said of a doubted field.
#[derive(Default)]
struct Found {
    /// Members of the answer that become another word, come or go.
    changes: Vec<String>,
    /// Limits that come up.
    limits: u32,
    /// The end at which there is no answer, and why.
    fails: Option<(f64, Error)>,
    fails_twice: bool,
    /// Members whose differences to both sides disagree.
    uneven: Vec<String>,
}

/// What the doubts of a request do to its answer, and what is to be said of that beside its notes.
///
/// # Errors
/// `impossible` for a doubt that nothing can be set by, and one at neither end of which there is an answer; `too_long` for more than
/// [`MOST_DOUBTS`], and for more work than all evaluations may be.
pub(super) fn carried(
    answer: &dyn Record,
    notes: &[Note],
    request: &mut dyn Record,
    doubts: &[Doubted],
    evaluations: &mut Evaluations<'_>,
) -> Result<(Doubts, Vec<Note>), Error> {
    if doubts.is_empty() {
        return Ok((Doubts::default(), Vec::new()));
    }
    let Options { units, explain, .. } = evaluations.options;
    if let Some(doubt) = doubts.get(MOST_DOUBTS) {
        return Err(Error::new(Code::TooLong, doubt.field.as_str(), format!("{} fields are in doubt", doubts.len()))
            .allowed([format!("at most {MOST_DOUBTS}")]));
    }
    let inputs: Vec<Input<'_>> = doubts.iter().map(|doubt| input(request, doubt)).collect::<Result<_, _>>()?;
    evaluations.each =
        contents(request).saturating_add(contents(answer)).saturating_mul(CONTENT).saturating_add(EVALUATION);
    let draws = evaluations.options.doubt == Propagation::Draws;
    if draws {
        evaluations.pool.count(evaluations.drawn);
    }
    let mut propagation = Carrying {
        numbers: inputs.iter().map(|input| input.number).collect(),
        found: inputs.iter().map(|_| Found::default()).collect(),
        inputs,
        nominal: Flat::of(answer),
        pointers: pointers(answer),
        limits: notes.iter().filter(|note| note.level == Level::Limit).count(),
        request,
        evaluations,
    };
    let (combined, unclear) = propagation.combined()?;
    let drawn = draws.then(|| propagation.draws()).transpose()?;
    let mut remarks = Remarks::new(units, explain);
    propagation.say(&combined, &unclear, &mut remarks);
    let fields: Vec<String> = propagation.inputs.iter().map(|input| input.field.to_owned()).collect();
    let mut list = Vec::new();
    let mut index = 0_usize;
    let mut known = combined.iter().enumerate();
    leaves(answer, &mut |leaf| {
        let Some((dimension, own, si)) = leaf.number() else { return };
        let place = index;
        index = index.saturating_add(1);
        if leaf.show == Show::Effort {
            return;
        }
        let Some((number, combined)) = known.next() else { return };
        let spread = drawn.as_ref().and_then(|drawn| drawn.of(number));
        let half_width = spread.map_or(COVERAGE * combined.standard, |(standard, _)| COVERAGE * standard);
        if half_width > 0.0 && half_width.is_finite() {
            let contributor = combined.contributor.and_then(|index| fields.get(index)).cloned();
            list.push(Doubt {
                at: leaf.at.to_string(),
                half_width,
                contributor: contributor.or_else(|| fields.first().cloned()).unwrap_or_default(),
                share_fraction: combined.share,
                interval: spread.map(|(_, interval)| interval),
                unit: own.unwrap_or_else(|| leaf.show.unit(dimension, si, units)),
                index: place,
            });
        }
    });
    if let Some(drawn) = &drawn {
        drawn.say(&fields, &mut remarks);
    }
    Ok((Doubts(Some(list)), remarks.into_parts().0))
}

fn input<'d>(request: &mut dyn Record, doubt: &'d Doubted) -> Result<Input<'d>, Error> {
    let refused = || {
        Error::new(Code::Impossible, doubt.field.as_str(), "a doubt of this field cannot be carried").got(&doubt.got)
    };
    let path = numbers::path(request, &doubt.field).map_err(|_| refused())?;
    match numbers::number(request, &path) {
        Some((super::Slot::Number(dimension, value), rules)) => {
            let (least, most) = rules.range.si;
            if !(0.0..=most - least).contains(&doubt.half_width) {
                let message = "this doubt is no half-width, or wider than all that the field may be";
                let allowed = if rules.limits() { rules.range_text() } else { "a finite number".to_owned() };
                return Err(Error::new(Code::OutOfRange, doubt.field.as_str(), message)
                    .got(&doubt.got)
                    .allowed([allowed]));
            }
            let number = Uncertain::of_half_width(*value, doubt.half_width);
            Ok(Input { field: &doubt.field, got: &doubt.got, path, dimension, rules, number })
        }
        _ => Err(refused()),
    }
}

/// How many contents a record has.
fn contents(record: &dyn Record) -> u64 {
    let mut count = 0_u64;
    leaves(record, &mut |_| count = count.saturating_add(1));
    count
}

/// The pointers of the numbers that are compared.
fn pointers(record: &dyn Record) -> Vec<(String, bool)> {
    let mut pointers = Vec::new();
    leaves(record, &mut |leaf| {
        if leaf.number().is_some() && leaf.show != Show::Effort {
            pointers.push((leaf.at.to_string(), leaf.is_listed));
        }
    });
    pointers
}

/// The doubts of a request on their way into the answer.
struct Carrying<'a, 'e> {
    inputs: Vec<Input<'a>>,
    numbers: Vec<Uncertain>,
    found: Vec<Found>,
    nominal: Flat,
    pointers: Vec<(String, bool)>,
    limits: usize,
    request: &'a mut dyn Record,
    evaluations: &'a mut Evaluations<'e>,
}

impl Carrying<'_, '_> {
    /// Combined uncertainties, at an accuracy at which differences are clear of what the solver may be off; and the members of which
    /// they are not.
    fn combined(&mut self) -> Result<(Vec<Combined>, Vec<String>), Error> {
        let mut accuracy = 1.0;
        let mut nominal = self.nominal.values();
        let before = self.evaluations.pool.left();
        let mut combined = self.differences(&nominal, accuracy)?;
        if !self.evaluations.solves {
            return Ok((combined, Vec::new()));
        }
        let mut next = before.saturating_sub(self.evaluations.pool.left());
        let Some(mut coarser) = self.again(accuracy / FINER) else { return Ok((combined, Vec::new())) };
        loop {
            let off = nominal.iter().zip(&coarser).map(|(now, coarser)| OFF * (now - coarser).abs());
            let unclear: Vec<String> = combined
                .iter()
                .zip(off)
                .zip(&self.pointers)
                .filter(|((combined, off), (_, listed))| {
                    !listed && combined.standard > 0.0 && 2.0 * combined.standard < CLEAR * off
                })
                .map(|(_, (pointer, _))| pointer.clone())
                .collect();
            next = next.saturating_mul(FINER_WORK);
            // As well as the work allows.
            if unclear.is_empty() || accuracy <= FINEST || next > self.evaluations.pool.left() {
                return Ok((combined, unclear));
            }
            accuracy *= FINER;
            let Some(finer) = self.again(accuracy) else { return Ok((combined, unclear)) };
            coarser = core::mem::replace(&mut nominal, finer);
            match self.differences(&nominal, accuracy) {
                Ok(finer) => combined = finer,
                Err(error) if error.code == Code::TooLong => {
                    self.evaluations.spent = false;
                    return Ok((combined, unclear));
                }
                Err(error) => return Err(error),
            }
        }
    }

    /// The answer again, at another accuracy.
    fn again(&mut self, accuracy: f64) -> Option<Vec<f64>> {
        let answer = self.evaluations.silent(self.request, accuracy);
        // Work that did not suffice for more accuracy leaves what there is.
        self.evaluations.spent = false;
        Some(self.nominal.aligned(&Flat::of(&*answer.ok()?.record)))
    }

    fn differences(&mut self, nominal: &[f64], accuracy: f64) -> Result<Vec<Combined>, Error> {
        let numbers = self.numbers.clone();
        let combined = propagation::differences(&numbers, nominal, &mut |index, value| {
            self.at(index, value, accuracy).unwrap_or_else(|| vec![f64::NAN; nominal.len()])
        });
        if self.evaluations.is_spent() {
            return Err(too_much(self.inputs.first()));
        }
        for (input, found) in self.inputs.iter().zip(&self.found) {
            if let Some((_, error)) = found.fails.as_ref().filter(|_| found.fails_twice) {
                let message = format!("at neither end of this doubt is there an answer: {}", error.message);
                return Err(Error::new(Code::Impossible, input.field, message).got(input.got));
            }
        }
        Ok(combined)
    }

    /// The numbers with one input at another value.
    fn at(&mut self, index: usize, value: f64, accuracy: f64) -> Option<Vec<f64>> {
        let (input, found) = (self.inputs.get(index)?, self.found.get_mut(index)?);
        input.set(self.request, value);
        let answer = self.evaluations.silent(self.request, accuracy);
        input.set(self.request, input.number.value);
        let answer = match answer {
            Ok(answer) => answer,
            Err(error) => {
                let before = found.fails.replace((value, error));
                // Twice, and not the same end again at another accuracy.
                found.fails_twice |= before.is_some_and(|(other, _)| (other - value).abs() > 0.0);
                return None;
            }
        };
        let flat = Flat::of(&*answer.record);
        let changes = changes(&self.nominal, &flat, &*answer.record);
        for change in changes {
            if !found.changes.contains(&change) {
                found.changes.push(change);
            }
        }
        found.limits = found.limits.max(answer.limits.saturating_sub(u32::try_from(self.limits).unwrap_or(u32::MAX)));
        Some(self.nominal.aligned(&flat))
    }

    /// What a half-width cannot tell.
    fn say(&mut self, combined: &[Combined], unclear: &[String], remarks: &mut Remarks) {
        // Of a profile single moments matter less than what they are read for.
        for (combined, (pointer, _)) in combined.iter().zip(&self.pointers).filter(|(_, (_, listed))| !listed) {
            for index in &combined.uneven {
                if let Some(found) = self.found.get_mut(*index) {
                    found.uneven.push(pointer.clone());
                }
            }
        }
        for (input, found) in self.inputs.iter().zip(&self.found) {
            let field = input.field;
            if !found.changes.is_empty() {
                remarks.caution("doubt_changes_answer", field, |_| {
                    format!("within this doubt the answer becomes another: {}", named(&found.changes))
                });
            }
            if found.limits > 0 {
                remarks.caution(
                    "doubt_reaches_limit",
                    field,
                    "within this doubt the print cannot work, or breaks something: ask at both of its ends",
                );
            }
            if let Some((value, error)) = &found.fails {
                remarks.caution("doubt_without_answer", field, |say: super::Say| {
                    format!(
                        "at {} there is no answer ({}): what the doubt does is told from its other end",
                        say.si(input.dimension, *value, Show::Usual),
                        error.message
                    )
                });
            }
            if !found.uneven.is_empty() {
                remarks.caution("doubt_uneven", field, |_| {
                    format!(
                        "to one side of this value the answer moves more than twice as far as to the other, or turns back: the half-width is a mean of both for {}",
                        named(&found.uneven)
                    )
                });
            }
        }
        if !unclear.is_empty() {
            remarks.info("doubt_near_accuracy", "", |_| {
                format!(
                    "these doubts do less than ten times what the solver may be off, and what they do is known that well only: {}",
                    named(unclear)
                )
            });
        }
    }
}

fn too_much(input: Option<&Input<'_>>) -> Error {
    let field = input.map_or("", |input| input.field);
    Error::new(
        Code::TooLong,
        field,
        "carrying these doubts is more work than one answer may be: fewer doubts, or a smaller request",
    )
    .allowed([format!("about {MOST_WORK} second's work")])
}

/// Some members by name, the others by their number.
fn named(members: &[String]) -> String {
    let mut text = members.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    let further = members.len().saturating_sub(NAMED);
    if further > 0 {
        text.push_str(&format!(" and {further} more"));
    }
    text
}

/// Words that become others, and members that come or go.
fn changes(nominal: &Flat, other: &Flat, record: &dyn Record) -> Vec<String> {
    let same_words =
        nominal.words.iter().map(|(key, word)| (key, word)).eq(other.words.iter().map(|(key, word)| (key, word)));
    if same_words && nominal.shape == other.shape {
        return Vec::new();
    }
    let words = Index::of(nominal.words.iter().map(|(key, _)| *key));
    let numbers = Index::of(nominal.numbers.iter().map(|(key, _)| *key));
    let mut changes = Vec::new();
    let mut seen = 0_usize;
    leaves(record, &mut |leaf| match (leaf.number(), word(leaf)) {
        (Some(_), _) if leaf.show != Show::Effort => {
            if numbers.place(leaf.key).is_some() {
                seen = seen.saturating_add(1);
            } else {
                changes.push(format!("{} comes", leaf.at));
            }
        }
        (None, Some(word)) => match words.place(leaf.key).and_then(|place| nominal.words.get(place)) {
            Some((_, before)) if before != word => changes.push(format!("{} goes from {before} to {word}", leaf.at)),
            _ => {}
        },
        _ => {}
    });
    let gone = nominal.numbers.len().saturating_sub(seen);
    if gone > 0 {
        changes.push(format!("{gone} numbers go"));
    }
    changes
}

/// What draws gave.
struct Drawn {
    /// Standard deviation and interval of each number.
    spreads: Vec<Option<(f64, (f64, f64))>>,
    draws: u32,
    /// Draws of each kind as shares of all: of inputs that could not be, of answers that there were not, of answers that were another.
    outside: f64,
    failed: f64,
    changed: f64,
}

impl Carrying<'_, '_> {
    /// Draws all inputs, as often as work and memory allow.
    fn draws(&mut self) -> Result<Drawn, Error> {
        let outputs = self.nominal.numbers.len();
        let most = MOST_KEPT.checked_div(outputs as u64).unwrap_or(u64::MAX).min(u64::from(MOST_DRAWS));
        let (mut failed, mut changed) = (0_u32, 0_u32);
        let Self { inputs, numbers, nominal, request, evaluations, .. } = self;
        evaluations.each = evaluations.each.saturating_add(KEPT.saturating_mul(outputs as u64));
        let rest =
            core::mem::replace(&mut evaluations.pool, Work::of_evaluations(MOST_WORK).at_most(evaluations.drawn));
        let holds = |index: usize, value: f64| inputs.get(index).is_none_or(|input| input.rules.range.holds(value));
        let drawn = propagation::draws(numbers, most as u32, outputs, &holds, &mut |values, found| {
            for (input, value) in inputs.iter().zip(values) {
                input.set(*request, *value);
            }
            let answer = evaluations.silent(*request, 1.0);
            if evaluations.is_spent() {
                return ControlFlow::Break(());
            }
            let Ok(answer) = answer else {
                failed = failed.saturating_add(1);
                return ControlFlow::Continue(());
            };
            let flat = Flat::of(&*answer.record);
            let same = nominal.words.iter().zip(&flat.words).all(|(one, other)| one.1 == other.1);
            if !same || nominal.shape != flat.shape {
                changed = changed.saturating_add(1);
            }
            for (found, value) in found.iter_mut().zip(nominal.aligned(&flat)) {
                *found = value;
            }
            ControlFlow::Continue(())
        });
        (evaluations.pool, evaluations.spent) = (rest, false);
        for input in inputs.iter() {
            input.set(*request, input.number.value);
        }
        if drawn.count < FEWEST_DRAWS {
            return Err(too_much(inputs.first()));
        }
        let count = drawn.count;
        let spread = |draws: &Vec<f64>| {
            let interval = propagation::shortest(draws)?;
            (interval.1 > interval.0).then(|| (propagation::moments(draws).1, interval))
        };
        let share = |part: u32| f64::from(part) / f64::from(count);
        Ok(Drawn {
            spreads: drawn.outputs.iter().map(spread).collect(),
            draws: count,
            outside: drawn.redrawn as f64 / drawn.drawn.max(1) as f64,
            failed: share(failed),
            changed: share(changed),
        })
    }
}

impl Drawn {
    fn of(&self, number: usize) -> Option<(f64, (f64, f64))> {
        self.spreads.get(number).copied().flatten()
    }

    fn say(&self, fields: &[String], remarks: &mut Remarks) {
        let field = fields.first().map_or("", String::as_str);
        let percent = |share: f64| decimal((share * 1000.0).round() / 10.0);
        if self.outside > OUTSIDE {
            remarks.caution("doubt_outside", field, |_| {
                format!(
                    "{} % of what was drawn of the doubted fields cannot exist and was drawn again: the doubts are too wide for a normal distribution",
                    percent(self.outside)
                )
            });
        }
        if self.failed > 0.0 {
            remarks.caution("draws_without_answer", field, |_| {
                format!("{} % of the draws have no answer and do not count", percent(self.failed))
            });
        }
        if self.changed > 0.0 {
            remarks.caution("draws_change_answer", field, |_| {
                format!(
                    "in {} % of the draws a word of the answer, or what it holds, is another",
                    percent(self.changed)
                )
            });
        }
        if self.draws < MOST_DRAWS {
            remarks.info("fewer_draws", "", |_| {
                format!("{} draws, as many as the work of this calculation allows", self.draws)
            });
        }
    }
}
