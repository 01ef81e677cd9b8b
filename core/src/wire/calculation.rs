//! A calculation: a question with a name, from a request to an answer.

use super::doubt::{Doubt, Doubts, Evaluations, carried};
use super::memory::Shared;
use super::remarks::{Doubted, Held};
use super::write::{Document, is_finite};
use super::{At, Declared, Record, Remarks, Table, read};
use crate::error::{Code, Error};
use crate::note::Note;
use crate::quantity::System;
use crate::source::Basis;
use core::fmt;
use core::ops::Deref;
use serde_json::Value;

/// A calculation by its types: `ink::USAGE` is one from `UsageRequest` to `Usage`.
///
/// Written once, in the module of its trade step. Both doors lead here: [`Self::answer`], and
/// [`calculate`](crate::calculate) by name.
pub struct Calculation<R, A> {
    entry: Entry,
    run: fn(&R, &mut Remarks) -> Result<A, Error>,
}

/// What is known of a calculation beside its types.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    /// Its name on the wire: `mesh.geometry`.
    pub id: &'static str,
    /// What a person wants to know before using it.
    #[cfg(feature = "schema")]
    pub prose: Prose,
}

/// The description of a calculation, for documents and forms.
#[cfg(feature = "schema")]
#[derive(Debug, Clone, Copy)]
pub struct Prose {
    /// The name of its item in Rust.
    pub item: &'static str,
    /// A short title.
    pub title: &'static str,
    /// The question it answers, as a printer would ask it.
    pub question: &'static str,
    /// Other ways in which people ask it.
    pub asked: &'static [&'static str],
    /// The members of the answer that answer it, the first of them first; none where the whole answer does.
    pub headline: &'static [&'static str],
    /// The formulas, in words and symbols.
    pub formula: &'static str,
    /// Where the formulas come from.
    pub sources: &'static [crate::source::Source],
    /// A worked request.
    pub example: &'static str,
}

/// How the doubts of a request are carried into its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum Propagation {
    /// By differences at the ends of each (JCGM 100).
    #[default]
    Differences,
    /// By many draws of all (JCGM 101).
    Draws,
}

/// How an answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Options {
    /// The units that notes are worded in and answers are written in.
    pub units: System,
    /// Whether basis and notes of level `info` are wanted; cautions and limits always come.
    pub explain: bool,
    /// How doubts are carried.
    pub doubt: Propagation,
}

impl Options {
    /// Metric units, everything explained.
    pub const USUAL: Self = Self { units: System::Metric, explain: true, doubt: Propagation::Differences };

    /// In these units.
    #[must_use]
    pub const fn units(self, units: System) -> Self {
        Self { units, ..self }
    }

    /// With or without basis and notes of level `info`.
    #[must_use]
    pub const fn explain(self, explain: bool) -> Self {
        Self { explain, ..self }
    }

    /// With doubts carried like this.
    #[must_use]
    pub const fn doubt(self, doubt: Propagation) -> Self {
        Self { doubt, ..self }
    }

    /// The options that stand at the root of a document, `units`, `explain` and `doubt`.
    ///
    /// # Errors
    /// `out_of_range` for another system of units or another word, `wrong_type` for another type of JSON.
    pub fn from_json(document: &Value) -> Result<Self, Error> {
        const SYSTEMS: [System; 2] = [System::Metric, System::Us];
        const PROPAGATIONS: [Propagation; 2] = [Propagation::Differences, Propagation::Draws];
        let at_root = |name| document.get(name).filter(|value: &&Value| !value.is_null());
        let mut options = Self::USUAL;
        if let Some(units) = at_root("units") {
            let index = read::word(units, At::ROOT.key("units"), &["metric", "us"], "system of units")?;
            options.units = SYSTEMS.get(index).copied().unwrap_or_default();
        }
        if let Some(explain) = at_root("explain") {
            let other = || read::wrong_type(At::ROOT.key("explain"), explain, "true or false".into());
            options.explain = explain.as_bool().ok_or_else(other)?;
        }
        if let Some(doubt) = at_root("doubt") {
            let words = ["propagate", "monte_carlo"];
            let index = read::word(doubt, At::ROOT.key("doubt"), &words, "way to carry doubts")?;
            options.doubt = PROPAGATIONS.get(index).copied().unwrap_or_default();
        }
        Ok(options)
    }
}

/// An answer, its notes, and what its built-in numbers rest on. The answer's fields are read through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered<A> {
    answer: A,
    notes: Vec<Note>,
    basis: Vec<Basis>,
    doubts: Doubts,
}

impl<A> Answered<A> {
    /// What to know beside the numbers.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Where each built-in number came from.
    #[must_use]
    pub fn basis(&self) -> &[Basis] {
        &self.basis
    }

    /// How far its numbers may be off, where the request has doubts.
    #[must_use]
    pub fn doubts(&self) -> &[Doubt] {
        self.doubts.all()
    }

    /// How far the number at this JSON pointer may be off: half of its 95 % interval, in SI base units.
    #[must_use]
    pub fn half_width(&self, pointer: &str) -> Option<f64> {
        self.doubts().iter().find(|doubt| doubt.at == pointer).map(|doubt| doubt.half_width)
    }

    /// The answer alone.
    #[must_use]
    pub fn into_answer(self) -> A {
        self.answer
    }
}

impl<A: Declared> Answered<A> {
    /// The answer as every layer writes it.
    #[must_use]
    pub fn written(self, units: System) -> Answer {
        Answer { record: Box::new(self.answer), notes: self.notes, basis: self.basis, doubts: self.doubts, units }
    }
}

impl<A> Deref for Answered<A> {
    type Target = A;
    fn deref(&self) -> &A {
        &self.answer
    }
}

impl<R: Declared, A: Declared> Calculation<R, A> {
    pub(crate) const fn new(entry: Entry, run: fn(&R, &mut Remarks) -> Result<A, Error>) -> Self {
        Self { entry, run }
    }

    /// Its name on the wire.
    #[must_use]
    pub const fn id(&self) -> &'static str {
        self.entry.id
    }

    /// Answers a request that was built in Rust: the same checks, defaults, cautions and basis as for one that was read.
    ///
    /// # Errors
    /// Those of the wire, field and allowed range with them, and what the calculation itself refuses.
    pub fn answer(&self, request: &R) -> Result<Answered<A>, Error> {
        self.answer_as(request, Options::USUAL)
    }

    /// Answers in other units, or without explaining.
    ///
    /// # Errors
    /// As [`Self::answer`].
    pub fn answer_as(&self, request: &R, options: Options) -> Result<Answered<A>, Error> {
        answered(options, |remarks| self.within(request, remarks))
    }

    /// Answers a request of which some fields are in doubt: JSON pointers to quantities or plain numbers, each with the half-width of its
    /// 95 % interval, in SI base units.
    ///
    /// # Errors
    /// As [`Self::answer`]; `impossible` for a doubt that cannot be carried or has no answer at either end, `too_long` for too many.
    ///
    /// ```
    /// use floodbar::exposure::{STEP_SCALE, StepRequest};
    /// use floodbar::quantity::units::S;
    /// use floodbar::wire::Options;
    /// let request = StepRequest::new().time(S.of(95.0)).solid_step(6.0);
    /// let answer = STEP_SCALE.answer_doubted(&request, Options::USUAL, &[("/time", 5.0)])?;
    /// // As 95 s are to the answer, so are 5 s to its doubt.
    /// let half_width = answer.half_width("/time").unwrap_or_default();
    /// assert!((half_width / S.value(answer.time) - 5.0 / 95.0).abs() < 1e-12);
    /// # Ok::<(), floodbar::Error>(())
    /// ```
    pub fn answer_doubted(
        &self,
        request: &R,
        options: Options,
        half_widths: &[(&str, f64)],
    ) -> Result<Answered<A>, Error> {
        let (held, mut remarks) = (Held::default(), Remarks::new(options.units, options.explain));
        remarks = Remarks::with_held(&held)(remarks);
        let answer = self.within(request, &mut remarks)?;
        let done = remarks.work_done();
        let answer = told(answer, remarks)?;
        let doubt = |(field, half_width): &(&str, f64)| Doubted {
            field: (*field).to_owned(),
            half_width: *half_width,
            got: Value::Null,
        };
        let doubts: Vec<Doubted> = half_widths.iter().map(doubt).collect();
        self.doubted(answer, &mut request.clone(), &doubts, done, (options, held))
    }

    /// Answers a document, with the options and the doubts that stand in it, in types: the request as it was read, and its answer.
    ///
    /// # Errors
    /// As [`calculate`](crate::calculate).
    pub fn answer_document(&self, document: &Value) -> Result<(R, Answered<A>), Error> {
        let mut request = R::new_blank();
        let held = Held::default();
        let (mut remarks, options) = read_document(document, &mut request, Remarks::with_held(&held))?;
        let doubts = remarks.take_doubts();
        let answer = (self.run)(&request, &mut remarks)?;
        let done = remarks.work_done();
        let answer = self.doubted(told(answer, remarks)?, &mut request, &doubts, done, (options, held))?;
        Ok((request, answer))
    }

    fn doubted(
        &self,
        mut answer: Answered<A>,
        request: &mut R,
        doubts: &[Doubted],
        done: u64,
        (options, held): (Options, Held),
    ) -> Result<Answered<A>, Error> {
        let work = |request: &dyn Record, remarks: &mut Remarks| self.work(request, remarks);
        let mut evaluations = Evaluations::new(options, None, &work).holding(held).after(done);
        let (doubts, notes) = carried(&answer.answer, &answer.notes, request, doubts, &mut evaluations)?;
        answer.doubts = doubts;
        answer.notes.extend(notes);
        Ok(answer)
    }

    /// Answers a request that is a JSON value.
    ///
    /// # Errors
    /// As [`calculate`](crate::calculate).
    pub fn answer_json(&self, request: &Value) -> Result<Answer, Error> {
        answer_json(request, &mut R::new_blank(), None, &|request, remarks| self.work(request, remarks))
    }

    /// Answers within another calculation: with the checks and defaults of any request.
    pub(super) fn within(&self, request: &R, remarks: &mut Remarks) -> Result<A, Error> {
        read::check(request, At::ROOT, remarks)?;
        (self.run)(request, remarks)
    }
}

impl<R, A> fmt::Debug for Calculation<R, A> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Calculation").field(&self.entry.id).finish()
    }
}

/// Does the work of an answer and gathers what is said on the way.
pub(crate) fn answered<A: Declared>(
    options: Options,
    work: impl FnOnce(&mut Remarks) -> Result<A, Error>,
) -> Result<Answered<A>, Error> {
    let mut remarks = Remarks::new(options.units, options.explain);
    let answer = work(&mut remarks)?;
    told(answer, remarks)
}

fn told<A: Declared>(answer: A, remarks: Remarks) -> Result<Answered<A>, Error> {
    if !is_finite(&answer, remarks.system()) {
        return Err(too_large());
    }
    let (notes, basis) = remarks.into_parts();
    Ok(Answered { answer, notes, basis, doubts: Doubts::default() })
}

fn too_large() -> Error {
    Error::new(Code::Internal, "", "a number of the answer is too large to be written")
}

/// A calculation of the catalogue, its types erased.
pub trait Listed: Sync {
    /// What is known of it.
    fn entry(&self) -> &Entry;
    /// The fields of its request.
    fn request(&self) -> &'static Table;
    /// The fields of its answer.
    fn answer(&self) -> &'static Table;
    /// A request with nothing given yet.
    fn blank(&self) -> Box<dyn Record>;
    /// Works on a request that was read or checked.
    ///
    /// # Errors
    /// What the calculation refuses; `internal` for a request of another calculation.
    fn work(&self, request: &dyn Record, remarks: &mut Remarks) -> Result<Box<dyn Record>, Error>;
    /// The same, the answer shown instead of kept.
    ///
    /// # Errors
    /// As [`Self::work`].
    fn show(&self, request: &dyn Record, remarks: &mut Remarks, seen: &mut dyn FnMut(&dyn Record))
    -> Result<(), Error>;
    /// A copy of a request; nothing for the request of another calculation.
    fn copy(&self, request: &dyn Record) -> Option<Box<dyn Record>>;
}

impl dyn Listed + '_ {
    /// Its name on the wire.
    #[must_use]
    pub fn id(&self) -> &'static str {
        self.entry().id
    }

    /// Answers a request that was built in Rust, its type unknown here: as [`Calculation::answer_as`].
    ///
    /// # Errors
    /// As [`Calculation::answer_as`]; `internal` for the request of another calculation.
    pub fn answer_record(&self, request: &dyn Record, options: Options) -> Result<Answer, Error> {
        let mut remarks = Remarks::new(options.units, options.explain);
        read::check(request, At::ROOT, &mut remarks)?;
        let answer = self.work(request, &mut remarks)?;
        finished(answer, remarks, options.units)
    }
}

impl<R: Declared, A: Declared> Listed for Calculation<R, A> {
    fn entry(&self) -> &Entry {
        &self.entry
    }
    fn request(&self) -> &'static Table {
        R::TABLE
    }
    fn answer(&self) -> &'static Table {
        A::TABLE
    }
    fn blank(&self) -> Box<dyn Record> {
        Box::new(R::new_blank())
    }
    fn work(&self, request: &dyn Record, remarks: &mut Remarks) -> Result<Box<dyn Record>, Error> {
        Ok(Box::new((self.run)(own(request)?, remarks)?))
    }
    fn show(
        &self,
        request: &dyn Record,
        remarks: &mut Remarks,
        seen: &mut dyn FnMut(&dyn Record),
    ) -> Result<(), Error> {
        // Looked at where it is, and not moved.
        let answer = (self.run)(own(request)?, remarks);
        if let Ok(answer) = &answer {
            seen(answer);
        }
        answer.map(|_| ())
    }
    fn copy(&self, request: &dyn Record) -> Option<Box<dyn Record>> {
        Some(Box::new(request.to::<R>()?.clone()))
    }
}

/// A request as the type that it is meant to be.
fn own<R: 'static>(request: &dyn Record) -> Result<&R, Error> {
    request.to().ok_or_else(|| Error::new(Code::Internal, "", "the request of another calculation"))
}

/// An answer of the wire: its own members, then `notes`, `basis` and, where the request has doubts, `doubt`.
pub struct Answer {
    record: Box<dyn Record>,
    notes: Vec<Note>,
    basis: Vec<Basis>,
    doubts: Doubts,
    units: System,
}

impl Answer {
    /// With what the doubts of its request do to it.
    fn with_doubts(
        mut self,
        request: &mut dyn Record,
        doubts: &[Doubted],
        evaluations: &mut Evaluations<'_>,
    ) -> Result<Self, Error> {
        let (doubts, notes) = carried(&*self.record, &self.notes, request, doubts, evaluations)?;
        self.doubts = doubts;
        self.notes.extend(notes);
        Ok(self)
    }

    fn written(&self) -> Document<'_> {
        Document {
            record: &*self.record,
            notes: &self.notes,
            basis: &self.basis,
            doubts: &self.doubts,
            system: self.units,
        }
    }

    /// The units that it is written in.
    #[must_use]
    pub const fn units(&self) -> System {
        self.units
    }

    /// The answer's own record.
    #[must_use]
    pub fn record(&self) -> &dyn Record {
        &*self.record
    }

    /// What to know beside the numbers.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// How far its numbers may be off, where the request has doubts.
    #[must_use]
    pub fn doubts(&self) -> &[Doubt] {
        self.doubts.all()
    }

    /// The answer as a JSON value.
    ///
    /// # Errors
    /// `internal`, should an answer not be writable.
    pub fn to_value(&self) -> Result<Value, Error> {
        serde_json::to_value(self.written()).map_err(|e| Error::new(Code::Internal, "", e.to_string()))
    }

    /// The answer as JSON text.
    ///
    /// # Errors
    /// `internal`, should an answer not be writable.
    pub fn to_text(&self) -> Result<String, Error> {
        serde_json::to_string(&self.written()).map_err(|e| Error::new(Code::Internal, "", e.to_string()))
    }
}

impl fmt::Debug for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.to_text().unwrap_or_default())
    }
}

/// The work of a calculation, from a request that was read or checked.
pub(crate) type Evaluate<'a> = &'a dyn Fn(&dyn Record, &mut Remarks) -> Result<Box<dyn Record>, Error>;

/// The one path of every calculation from a document: options, request, work, answer, notes and basis, and what its doubts do.
pub(crate) fn answer_json(
    request: &Value,
    blank: &mut dyn Record,
    memory: Option<&Shared>,
    work: Evaluate<'_>,
) -> Result<Answer, Error> {
    let (mut remarks, options) = read_document(request, blank, Remarks::with_memory(memory))?;
    let (doubts, held) = (remarks.take_doubts(), Held::default());
    if !doubts.is_empty() {
        remarks = Remarks::with_held(&held)(remarks);
    }
    let record = work(blank, &mut remarks)?;
    let done = remarks.work_done();
    let answer = finished(record, remarks, options.units)?;
    answer.with_doubts(blank, &doubts, &mut Evaluations::new(options, memory, work).holding(held).after(done))
}

/// Answers a request that was put together by an operator, with what its doubts do.
pub(crate) fn answer_doubted(
    request: &mut dyn Record,
    doubts: &[Doubted],
    evaluations: &mut Evaluations<'_>,
) -> Result<Answer, Error> {
    let (record, remarks) = evaluations.explained(request)?;
    let answer = finished(record, remarks, evaluations.options.units)?;
    answer.with_doubts(request, doubts, evaluations)
}

fn finished(record: Box<dyn Record>, remarks: Remarks, units: System) -> Result<Answer, Error> {
    if !is_finite(&*record, units) {
        return Err(too_large());
    }
    let (notes, basis) = remarks.into_parts();
    Ok(Answer { record, notes, basis, doubts: Doubts::default(), units })
}

/// Reads a document into a blank record; `units` and `explain` may stand at its root, and a doubt is refused, since only the answer
/// to a document carries it. What is remarked on it is left to the calculation that will check the record.
///
/// # Errors
/// Those of the wire.
pub fn from_json(blank: &mut dyn Record, document: &Value) -> Result<(), Error> {
    let (mut remarks, _) = read_document(document, blank, |remarks| remarks)?;
    refuse_doubts(&remarks.take_doubts())
}

/// Refuses the first of the doubts.
pub(crate) fn refuse_doubts(doubts: &[Doubted]) -> Result<(), Error> {
    let Some(doubt) = doubts.first() else { return Ok(()) };
    let message = "this field carries a doubt (plus-minus), which answers to a document and sweeps carry, but not this: ask without it";
    Err(Error::new(Code::Impossible, doubt.field.as_str(), message).got(&doubt.got))
}

/// Reads a document of which some is set later, and what is missing is no fault yet: its options and its doubts.
pub(crate) fn read_draft(document: &Value, blank: &mut dyn Record) -> Result<(Options, Vec<Doubted>), Error> {
    let (mut remarks, options) = read_document(document, blank, Remarks::draft)?;
    Ok((options, remarks.take_doubts()))
}

/// Reads a document: what is remarked on it, and its options.
fn read_document(
    request: &Value,
    blank: &mut dyn Record,
    how: impl FnOnce(Remarks) -> Remarks,
) -> Result<(Remarks, Options), Error> {
    // Where they are at fault the usual ones word what the request itself may refuse before.
    let read = Options::from_json(request);
    let options = *read.as_ref().unwrap_or(&Options::USUAL);
    let mut remarks = how(Remarks::new(options.units, options.explain));
    read::record(blank, request, At::ROOT, &mut remarks)?;
    read?;
    Ok((remarks, options))
}

/// Describes a calculation and ties it to its function.
macro_rules! calculation {
    (
        $(#[doc = $doc:literal])*
        pub const $name:ident: $request:ty => $answer:ty = $function:path;
        id: $id:literal,
        title: $title:literal,
        question: $question:literal,
        asked: [$($asked:literal),*],
        headline: [$($headline:literal),*],
        formula: $formula:literal,
        sources: $sources:expr,
        example: $example:literal,
    ) => {
        #[doc = concat!("`", $id, "`: ", $question)]
        #[doc = ""]
        $(#[doc = $doc])*
        // Written from the tables of its records by tests/rust/manual.rs.
        #[cfg_attr(any(doc, doctest), doc = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/", $id, ".md")))]
        pub const $name: $crate::wire::Calculation<$request, $answer> = {
            // Checked in every build, though only the `schema` feature keeps the prose.
            const _: (&str, &[$crate::source::Source], &str) = ($title, $sources, $example);
            $crate::wire::Calculation::new(
                $crate::wire::Entry {
                    id: $id,
                    #[cfg(feature = "schema")]
                    prose: $crate::wire::Prose {
                        item: stringify!($name),
                        title: $title,
                        question: $question,
                        asked: &[$($asked),*],
                        headline: &[$($headline),*],
                        formula: $formula,
                        sources: $sources,
                        example: $example,
                    },
                },
                $function,
            )
        };
    };
}

pub(crate) use calculation;
