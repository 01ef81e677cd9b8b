//! What a calculation has to say beside its numbers: notes, and the basis of every built-in number it used.
//!
//! Both come as closures or fixed texts: where nobody wants them nothing is put into words, only counted. A note stands
//! once for a code and a field, a basis once for a number.

use super::memory::{self, Kept, Shared};
use super::once::{Hash, Once};
use super::{At, Calculation, Declared, Record};
use crate::error::Error;
use crate::note::{Level, Note};
use crate::quantity::{Dimension, Dimensioned, Show, System, scientific, to_places};
use crate::source::{Basis, Of, Source};
use crate::work::Work;
use core::any::Any;
use core::fmt;
use serde_json::Value;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// The code of the caution for a value outside its usual range.
pub(super) const UNUSUAL: &str = "unusual_value";

/// So many of the basis are looked through one by one.
const FEW: usize = 16;

/// What is wanted beside the numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wanted {
    /// Notes and basis.
    All,
    /// Cautions and limits in words.
    Warnings,
    /// How many cautions and limits.
    Counts,
}

/// Collects notes and basis while a request is read and worked on.
#[derive(Clone)]
pub struct Remarks {
    notes: Vec<Note>,
    basis: Vec<Basis>,
    noted: Once,
    based: Once,
    counts: [u32; 2],
    wanted: Wanted,
    /// Of a step within another, whose notes get another field or are left out: they are kept, though not in words, even where
    /// they are only counted in the end.
    inner: bool,
    say: Say,
    doubts: Vec<Doubted>,
    /// Of a request whose other members are set later: none of it need be there yet.
    draft: bool,
    /// Of a stock row, whose money names no currency.
    of_stock: bool,
    work: Work,
    /// Where the numbers of heat are kept, if anywhere.
    memory: Option<Shared>,
    /// What doubts leave as it is, if they are carried.
    held: Option<Held>,
}

/// What doubts leave as it is.
pub(crate) type Held = Arc<Mutex<Vec<(u32, Arc<dyn Any + Send + Sync>)>>>;

/// What is held. Nothing is broken where a thread panicked while it held this.
fn locked(held: &Held) -> MutexGuard<'_, Vec<(u32, Arc<dyn Any + Send + Sync>)>> {
    held.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A field that carries a half-width.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Doubted {
    /// JSON pointer into the record.
    pub field: String,
    /// Half-width of the 95 % interval, in SI base units.
    pub half_width: f64,
    /// As it was given.
    pub got: Value,
}

/// Words quantities in the caller's units.
#[derive(Debug, Clone, Copy)]
pub struct Say {
    system: System,
}

impl Say {
    /// A quantity in words, to about three digits: `27.3 um`.
    #[must_use]
    pub fn say<Q: Dimensioned>(self, quantity: Q, show: Show) -> String {
        self.si(Q::DIMENSION, quantity.si(), show)
    }

    /// The same, of a number in SI base units.
    pub(crate) fn si(self, dimension: Dimension, si: f64, show: Show) -> String {
        let unit = show.unit(dimension, si, self.system);
        format!("{} {}", rounded(unit.from_si(si)), unit.name.replace("degC", "\u{b0}C").replace("degF", "\u{b0}F"))
    }
}

/// A message: a fixed text, or a closure that words it when it is wanted.
pub trait Message {
    /// In words.
    fn word(self, say: Say) -> String;
}

impl Message for &'static str {
    fn word(self, _say: Say) -> String {
        self.to_owned()
    }
}

impl<F: FnOnce(Say) -> String> Message for F {
    fn word(self, say: Say) -> String {
        self(say)
    }
}

impl Remarks {
    /// None yet; messages will be worded in `system`, and where `explain` is not wanted there are neither basis nor notes
    /// of level `info`.
    pub(crate) fn new(system: System, explain: bool) -> Self {
        Self::wanting(system, if explain { Wanted::All } else { Wanted::Warnings })
    }

    /// Counts cautions and limits, and words nothing.
    #[must_use]
    pub fn counting() -> Self {
        Self::wanting(System::Metric, Wanted::Counts)
    }

    fn wanting(system: System, wanted: Wanted) -> Self {
        let say = Say { system };
        let (notes, basis) = (Vec::new(), Vec::new());
        Self {
            notes,
            basis,
            noted: Once::default(),
            based: Once::default(),
            counts: [0; 2],
            wanted,
            inner: false,
            say,
            doubts: Vec::new(),
            draft: false,
            of_stock: false,
            work: Work::of_one_evaluation(),
            memory: None,
            held: None,
        }
    }

    /// With a memory for the numbers of heat.
    pub(crate) fn with_memory(memory: Option<&Shared>) -> impl FnOnce(Self) -> Self {
        move |remarks| Self { memory: memory.cloned(), ..remarks }
    }

    /// The answer of a calculation that goes through heat, or the like part of one, from memory or from `work`. All that it hangs on
    /// stands in the request and in the calculation's name.
    pub(crate) fn remembered<T: Send + Sync + 'static>(
        &mut self,
        name: &str,
        request: &dyn Record,
        work: impl FnOnce(&mut Work) -> Result<T, Error>,
    ) -> Result<Arc<T>, Error> {
        let Some(memory) = self.memory.clone() else { return work(&mut self.work).map(Arc::new) };
        let key = memory::key(name, self.work.accuracy(), request);
        if let Some(kept) = memory.recall(&key)
            && let Ok(value) = kept.value.downcast()
            && self.work.take(kept.work)
        {
            return Ok(value);
        }
        let before = self.work.done();
        let value = Arc::new(work(&mut self.work)?);
        memory.keep(key, Kept { value: Arc::clone(&value) as _, work: self.work.done().saturating_sub(before) });
        Ok(value)
    }

    /// With what doubts leave as it is: the first evaluation fills it in, that of the request as it stands.
    pub(crate) fn with_held(held: &Held) -> impl FnOnce(Self) -> Self {
        move |remarks| Self { held: Some(Held::clone(held)), ..remarks }
    }

    /// What is worked out once and left as it is by doubts, such as a number of blanks: it would move in steps. `of` tells it from
    /// others of its type.
    pub(crate) fn held<T: Clone + Send + Sync + 'static>(
        &mut self,
        of: u32,
        work: impl FnOnce(&mut Self) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let Some(held) = self.held.clone() else { return work(self) };
        let known =
            |kept: &(u32, Arc<dyn Any + Send + Sync>)| kept.1.downcast_ref::<T>().filter(|_| kept.0 == of).cloned();
        if let Some(value) = locked(&held).iter().find_map(known) {
            return Ok(value);
        }
        let value = work(self)?;
        locked(&held).push((of, Arc::new(value.clone())));
        Ok(value)
    }

    /// For a request whose other members are set later: what is missing is no fault yet.
    pub(super) fn draft(mut self) -> Self {
        self.draft = true;
        self
    }

    /// Whether what is missing is no fault yet.
    pub(super) const fn is_draft(&self) -> bool {
        self.draft
    }

    /// For a row of the stock.
    pub(super) fn of_stock(mut self) -> Self {
        self.of_stock = true;
        self
    }

    /// Whether a row of the stock is read, whose money names no currency.
    pub(crate) const fn is_of_stock(&self) -> bool {
        self.of_stock
    }

    /// Forgets all for the next of many evaluations, but keeps its memory; `counts` are those of what is the same in all.
    pub(crate) fn again(&mut self, counts: [u32; 2]) {
        if !self.noted.is_empty() {
            self.notes.clear();
            self.noted.clear();
        }
        self.counts = counts;
        self.work = Work::of_one_evaluation();
    }

    /// Whether basis and notes of level `info` are wanted.
    pub(crate) fn explains(&self) -> bool {
        self.wanted == Wanted::All
    }

    /// Cautions and limits so far.
    #[must_use]
    pub const fn counts(&self) -> [u32; 2] {
        self.counts
    }

    /// The units that the caller reads.
    pub(crate) const fn system(&self) -> System {
        self.say.system
    }

    /// What the evaluation may still do: one count for it and all that it asks.
    pub(crate) const fn work(&mut self) -> &mut Work {
        &mut self.work
    }

    /// Rows of equations that were solved so far.
    #[must_use]
    pub const fn work_done(&self) -> u64 {
        self.work.done()
    }

    /// What was noted, and on what the numbers rest.
    pub(super) fn into_parts(self) -> (Vec<Note>, Vec<Basis>) {
        (self.notes, self.basis)
    }

    /// Adds a note of level `info`.
    pub(crate) fn info(&mut self, code: &'static str, field: impl fmt::Display, message: impl Message) {
        if self.explains() {
            self.note(Level::Info, code, field, message);
        }
    }

    /// Adds a note of level `caution`.
    pub(crate) fn caution(&mut self, code: &'static str, field: impl fmt::Display, message: impl Message) {
        self.note(Level::Caution, code, field, message);
    }

    /// Adds a note, unless one of the same code stands at the same field.
    pub(crate) fn note(&mut self, level: Level, code: &'static str, field: impl fmt::Display, message: impl Message) {
        if !self.noted.is_new(Hash::new().with_text(code).with(&field).bits()) {
            return;
        }
        let [cautions, limits] = &mut self.counts;
        match level {
            Level::Info => {}
            Level::Caution => *cautions = cautions.saturating_add(1),
            Level::Limit => *limits = limits.saturating_add(1),
        }
        let counted = self.wanted == Wanted::Counts;
        if !counted || self.inner {
            let message = if counted { String::new() } else { message.word(self.say) };
            self.notes.push(Note { level, code, field: field.to_string(), message });
        }
    }

    /// Says where the built-in number `of` came from.
    pub(crate) fn basis(&mut self, of: impl Into<Of>, source: Source) {
        if self.explains() {
            let basis = Basis { of: of.into(), source };
            if self.is_new(&basis) {
                if self.basis.is_empty() {
                    self.basis.reserve(FEW);
                }
                self.basis.push(basis);
            }
        }
    }

    /// Whether a basis does not stand yet: a few are looked through, more are hashed.
    fn is_new(&mut self, basis: &Basis) -> bool {
        let hash = |Basis { of, source }: &Basis| {
            Hash::new().with(of).with_text(source.kind.text()).with_text(source.text).bits()
        };
        if self.basis.len() < FEW {
            return !self.basis.contains(basis);
        }
        if self.basis.len() == FEW {
            for basis in &self.basis {
                self.based.is_new(hash(basis));
            }
        }
        self.based.is_new(hash(basis))
    }

    /// Whether the basis of any number was told.
    pub(super) fn has_basis(&self) -> bool {
        !self.basis.is_empty()
    }

    /// A quantity in words, in the caller's units: for what is put together before it is known whether it is wanted.
    pub(crate) fn say<Q: Dimensioned>(&self, quantity: Q, show: Show) -> String {
        self.say.say(quantity, show)
    }

    /// Asks another calculation within this one: the one way in which steps are combined.
    ///
    /// `place` says where a field of the inner request stands in the outer one, for errors and for notes; a note it gives
    /// no place for is left out, as all of level `info` are: they stand with the calculation itself. So is the basis, where
    /// its answer has no place.
    pub(crate) fn ask<R: Declared, A: Declared>(
        &mut self,
        calculation: &Calculation<R, A>,
        request: &R,
        place: impl Fn(&Asked<'_>) -> Option<String>,
    ) -> Result<A, Error> {
        self.within(place, |remarks| calculation.within(request, remarks))
    }

    /// Does a part of the work whose fields are those of another request, or stand elsewhere in this one: as [`Self::ask`].
    pub(crate) fn within<T>(
        &mut self,
        place: impl Fn(&Asked<'_>) -> Option<String>,
        work: impl FnOnce(&mut Self) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let (memory, held) = (self.memory.clone(), self.held.clone());
        let mut inner =
            Self { inner: true, work: self.work, memory, held, ..Self::wanting(self.say.system, self.wanted) };
        let done = work(&mut inner);
        self.work = inner.work;
        let done = done.map_err(|error| {
            let field = place(&Asked { of: Says::Error, code: error.code.text(), field: &error.field });
            Error { field: field.unwrap_or_default(), ..error }
        })?;
        for note in inner.notes {
            let field = place(&Asked { of: Says::Note, code: note.code, field: &note.field });
            // What is unusual was said of the field that the outer request has.
            if let Some(field) = field.filter(|_| note.level > Level::Info && note.code != UNUSUAL) {
                self.note(note.level, note.code, field, |_| note.message);
            }
        }
        if place(&Asked { of: Says::Basis, code: "", field: "" }).is_some() {
            for basis in inner.basis {
                self.basis(basis.of, basis.source);
            }
        }
        Ok(done)
    }

    /// Remembers that a field carries a half-width, for the operator that propagates it.
    pub(crate) fn doubted(&mut self, at: At<'_>, value: &Value, half_width: f64) {
        self.doubts.push(Doubted { field: at.to_string(), half_width, got: value.clone() });
    }

    /// The fields that carry a half-width.
    pub(crate) fn take_doubts(&mut self) -> Vec<Doubted> {
        core::mem::take(&mut self.doubts)
    }
}

/// What an inner calculation says about a field of its own request.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Asked<'a> {
    /// What it says.
    pub of: Says,
    /// The code of the error or note.
    pub code: &'a str,
    /// JSON pointer into the inner request.
    pub field: &'a str,
}

/// What an inner calculation says: why there is no answer, a note, or the basis of all its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Says {
    Error,
    Note,
    Basis,
}

/// About three significant digits, without an exponent in the range of the trade.
fn rounded(value: f64) -> String {
    let decimals = match value.abs() {
        a if a >= 100.0 || a <= 0.0 => 0,
        a if a >= 10.0 => 1,
        a if a >= 1.0 => 2,
        a if a >= 0.1 => 3,
        a if a >= 0.01 => 4,
        _ => return scientific(value),
    };
    let text = to_places(value, decimals).to_string();
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::units;

    fn all() -> Remarks {
        Remarks::new(System::Metric, true)
    }

    #[test]
    fn words_round_and_numbers_do_not() {
        assert_eq!(all().say(units::UM.of(27.272_727), Show::Film), "27.3 um");
        assert_eq!(all().say(units::MM.of(350.0), Show::Print), "350 mm");
        assert_eq!(rounded(0.0), "0");
        assert_eq!(rounded(0.104), "0.104");
    }

    #[test]
    fn a_note_stands_once_for_its_code_and_field() {
        let mut remarks = all();
        remarks.info("a", "/x", "y");
        remarks.info("a", "/x", "z");
        remarks.info("a", "/z", "y");
        for index in 0..200 {
            remarks.caution("b", format_args!("/list/{}", index % 100), "y");
        }
        assert_eq!((remarks.notes.len(), remarks.counts()), (102, [100, 0]));
    }

    #[test]
    fn what_is_counted_is_what_would_be_told() {
        let work = |mut remarks: Remarks| {
            let place = |asked: &Asked<'_>| (asked.field != "/left_out").then(|| "/outer".to_owned());
            let done = remarks.within(place, |inner| {
                inner.caution("a", "/x", "y");
                inner.caution("a", "/left_out", "y");
                inner.caution(UNUSUAL, "/x", "y");
                inner.note(Level::Limit, "b", "/x", "y");
                inner.within(
                    |_| Some("/x".to_owned()),
                    |innermost| {
                        innermost.caution("a", "/z", "y");
                        innermost.caution("c", "/z", "y");
                        Ok(())
                    },
                )
            });
            assert_eq!(done, Ok(()));
            remarks
        };
        let (told, counted) = (work(all()), work(Remarks::counting()));
        assert_eq!((told.counts(), told.notes.len()), ([2, 1], 3));
        assert_eq!((counted.counts(), counted.notes.len()), ([2, 1], 0));
    }

    #[test]
    fn what_nobody_wants_is_not_put_into_words() {
        let say = |_: Say| -> String { panic!("nobody asked") };
        let mut quiet = Remarks::counting();
        quiet.caution("a", "/x", say);
        quiet.note(Level::Limit, "b", "/x", say);
        quiet.basis(|| -> String { panic!("nobody asked") }, Source::memory("x"));
        assert_eq!((quiet.notes.len(), quiet.counts()), (0, [1, 1]));
        let mut warnings = Remarks::new(System::Metric, false);
        warnings.info("a", "/x", say);
        warnings.caution("a", "/x", "kept");
        assert_eq!((warnings.notes.len(), warnings.basis.len()), (1, 0));
    }
}
