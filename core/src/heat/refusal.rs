//! Why the solver gives no answer, and how its callers say so: it knows no request, so it names no field.

use super::lay::MOST_CELLS;
use crate::error::{Code, Error};

/// Why the solver gives no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// More work than an evaluation may be.
    Work,
    /// More cells than a stack may have.
    Cells,
    /// No step, however short, converges.
    Step,
    /// A face came below absolute zero.
    Cold,
}

impl Refusal {
    /// As an error of a request. `time`: the field that makes it so much work, and what to do about it. `matter`: the field with the
    /// layers. `faces`: the field that says what the faces meet.
    #[must_use]
    pub fn error(self, (time, instead): (&str, &str), matter: &str, faces: &str) -> Error {
        match self {
            Self::Work => {
                Error::new(Code::TooLong, time, format!("this is more work than one evaluation may be: {instead}"))
                    .allowed(["about a second's work"])
            }
            Self::Cells => Error::new(
                Code::TooLong,
                matter,
                "these layers need more cells than are allowed: fewer layers, less extreme ones, or a wider tolerance",
            )
            .allowed([format!("at most {MOST_CELLS} cells")]),
            Self::Step => Error::new(
                Code::NoSolution,
                matter,
                "heat through these layers cannot be worked out: one of them is too thin, too conductive or too dense beside the others",
            ),
            Self::Cold => Error::new(
                Code::Impossible,
                faces,
                "a face would be colder than absolute zero: more heat is taken out of it than there is",
            ),
        }
    }
}
