//! Register: whether the colours of a print meet.
//!
//! Half-widths become standard deviations (GUM: `a / 1.959964`, `a / sqrt 3`, `a / sqrt 6`); colour k lies off the first by
//! `x_k - x_1`, of variance `2 sum u^2`, and by `(k - 1) s^2` more where each is set to the one before it. The chance that all lie
//! within the trap is a quadrature over the first one's error, common to all differences: [`BUDGET`], [`Errors`]. Causes that act once
//! per set-up are shown by a test print and adjusted out; the others move every print anew ([`Per`]). What a test print shows, and how
//! far to move which screen, is read off its marks: [`MARKS`].

mod budget;
mod cosine;
mod errors;
mod film;
mod marks;
mod spread;

pub use budget::{BUDGET, Budget, BudgetRequest, ColourWithin, Contribution, Method, MethodCompared};
pub(crate) use budget::{TRAP, WANTED_WITHIN};
pub use errors::Errors;
pub use film::{FilmChange, film_growth};
pub use marks::{
    ColourMarks, ColourRegister, MARKS, MarkOffset, MarksRead, MarksRequest, MovedBy, Pivot, RegisterMark,
};

use crate::quantity::{Length, Rules, units};
use crate::wire::{request, words};

const HALF_WIDTH: Rules = Rules::range(units::MM, 0.0, 100.0).usual(0.0, 2.0);

words! {
    /// How an error is spread over its half-width.
    pub enum Shape ("shape") {
        /// Bell-shaped; the half-width holds 95 %.
        Normal = "normal",
        /// Anywhere within the half-width alike.
        Uniform = "uniform",
        /// Likeliest in the middle, never beyond the half-width.
        Triangular = "triangular",
    }
}

words! {
    /// How often a cause acts anew.
    pub enum Per ("rhythm") {
        /// Once: a test print shows it, and adjusting takes it out.
        Setup = "setup",
        /// On every print.
        Print = "print",
    }
}

request! {
    /// Something that moves a colour out of register.
    pub struct Cause {
        /// What the cause is.
        name "Cause": String,
        /// How far the cause moves a colour to either side, along one axis: the half-width of its spread.
        half_width "Half-width": Length where HALF_WIDTH,
        /// How the error is spread over its half-width.
        shape "Shape of spread": Shape,
        /// Whether the cause moves all colours alike, so that they still meet.
        shared "Moves all alike": Option<bool> where Rules::NONE.unless_given("no"),
        /// Whether each colour is set to the print of the one before it, so that errors add up.
        accumulates "Errors add up": Option<bool> where Rules::NONE.unless_given("no"),
        /// Whether the cause acts once per set-up (film, tape, pins, frame) or anew on every print (shirt creep, platen play).
        per "Acts once per": Option<Per> where Rules::NONE.unless_given("print"),
    }
    stock("cause", "../stock/causes.json")
}

impl Cause {
    /// Whether it moves all colours alike.
    #[must_use]
    pub fn is_shared(&self) -> bool {
        self.shared == Some(true)
    }

    /// Whether its error adds up from colour to colour.
    #[must_use]
    pub fn is_accumulating(&self) -> bool {
        self.accumulates == Some(true)
    }

    /// Whether it acts once per set-up, so that adjusting takes it out.
    #[must_use]
    pub fn is_per_setup(&self) -> bool {
        self.per == Some(Per::Setup)
    }
}
