//! What a calculation has to say beside its numbers: notes, and the basis of every built-in number it used.

use super::At;
use crate::error::{Code, Error};
use crate::note::{Level, Note};
use crate::quantity::{Dimensioned, Show, System};
use crate::source::{Basis, Source};
use serde_json::Value;

/// Collects notes and basis while a request is read and worked on.
#[derive(Debug, Clone, Default)]
pub struct Remarks {
    /// Notes so far.
    pub notes: Vec<Note>,
    /// Basis so far, each number once.
    pub basis: Vec<Basis>,
    system: System,
    doubt: Option<Error>,
}

impl Remarks {
    /// None yet; messages will be worded in `system`.
    #[must_use]
    pub fn new(system: System) -> Self {
        Self { system, ..Self::default() }
    }

    /// The units that messages are worded in.
    #[must_use]
    pub const fn system(&self) -> System {
        self.system
    }

    /// Adds a note of level `info`.
    pub fn info(&mut self, code: &'static str, field: impl ToString, message: impl Into<String>) {
        self.note(Level::Info, code, field, message);
    }

    /// Adds a note of level `caution`.
    pub fn caution(&mut self, code: &'static str, field: impl ToString, message: impl Into<String>) {
        self.note(Level::Caution, code, field, message);
    }

    /// Adds a note, unless the same one stands already.
    pub fn note(&mut self, level: Level, code: &'static str, field: impl ToString, message: impl Into<String>) {
        let note = Note { level, code, field: field.to_string(), message: message.into() };
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
    }

    /// Says where the built-in number `of` came from.
    pub fn basis(&mut self, of: impl Into<String>, source: Source) {
        let basis = Basis { of: of.into(), source };
        if !self.basis.contains(&basis) {
            self.basis.push(basis);
        }
    }

    /// Takes over what another calculation said, with `prefix` before the fields of its notes.
    pub fn absorb(&mut self, other: Self, prefix: &str) {
        for note in other.notes {
            self.note(note.level, note.code, format!("{prefix}{}", note.field), note.message);
        }
        for basis in other.basis {
            self.basis(basis.of, basis.source);
        }
    }

    /// A quantity in words, in the caller's units, to about three digits: `27.3 um`.
    #[must_use]
    pub fn say<Q: Dimensioned>(&self, quantity: Q, show: Show) -> String {
        let unit = show.unit(Q::DIMENSION, quantity.si(), self.system);
        format!(
            "{} {}",
            rounded(unit.from_si(quantity.si())),
            unit.name.replace("degC", "\u{b0}C").replace("degF", "\u{b0}F")
        )
    }

    /// Remembers that a field carries a half-width, for the operator that propagates it.
    pub(crate) fn doubted(&mut self, at: At<'_>, value: &Value) {
        if self.doubt.is_none() {
            self.doubt = Some(Error::new(
                Code::Impossible,
                at,
                "this field carries a doubt (plus-minus), which is understood but not yet carried through this calculation; ask without it",
            ).got(value));
        }
    }

    /// The first field that carries a doubt, as the error that refuses it.
    pub(super) fn refuse_doubt(&mut self) -> Result<(), Error> {
        self.doubt.take().map_or(Ok(()), Err)
    }
}

/// About three significant digits, without an exponent in the range of the trade.
fn rounded(value: f64) -> String {
    let decimals = match value.abs() {
        a if a >= 100.0 || a <= 0.0 => 0,
        a if a >= 10.0 => 1,
        a if a >= 1.0 => 2,
        a if a >= 0.1 => 3,
        a if a >= 0.01 => 4,
        _ => return format!("{value:.2e}"),
    };
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Length, units};

    #[test]
    fn words_round_and_numbers_do_not() {
        let remarks = Remarks::new(System::Metric);
        assert_eq!(remarks.say::<Length>(units::UM.of(27.272_727), Show::Film), "27.3 um");
        assert_eq!(remarks.say::<Length>(units::MM.of(350.0), Show::Print), "350 mm");
        assert_eq!(rounded(0.0), "0");
        assert_eq!(rounded(0.104), "0.104");
    }

    #[test]
    fn a_note_said_twice_stands_once() {
        let mut remarks = Remarks::default();
        remarks.info("a", "/x", "y");
        remarks.info("a", "/x", "y");
        remarks.info("a", "/z", "y");
        assert_eq!(remarks.notes.len(), 2);
    }
}
