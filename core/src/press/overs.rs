//! How many blanks to start with, so that enough come out good.

use crate::chance::at_most;
use crate::error::{Code, Error};
use crate::quantity::{Rules, units};
use crate::root::first;
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};

/// Spoiled pieces of those started. Beyond a half no one starts a run.
pub(crate) const SPOILAGE: Rules = Rules::range(units::ONE, 0.0, 0.5).usual(0.0, 0.1);
/// A chance that is neither nothing nor certainty.
pub(crate) const CONFIDENCE: Rules = Rules::range(units::ONE, 1e-6, 1.0 - 1e-9).usual(0.5, 0.999);

request! {
    /// An order and how often a piece is spoiled.
    pub struct OversRequest {
        /// Good pieces ordered.
        pieces "Pieces ordered": u32 where Rules::count(1.0),
        /// Share of the pieces started that are spoiled, whichever colour spoils them.
        spoilage_fraction "Spoiled share": f64 where SPOILAGE,
        /// The chance wanted of having enough.
        confidence "Wanted chance of enough": f64 where CONFIDENCE,
    }
}

answer! {
    /// Blanks to start with.
    pub struct Overs {
        /// Blanks to start with.
        start_with "Blanks to start": u32,
        /// Good pieces to expect from the blanks.
        expected_good "Expected good pieces": f64,
        /// The chance that at least the ordered pieces are good.
        probability "Chance of enough": f64,
    }
}

calculation! {
    pub const OVERS: OversRequest => Overs = overs;
    id: "press.overs",
    title: "Blanks to start with",
    question: "How many blanks do I start with?",
    asked: ["How many spares do I order?", "How many shirts will be spoiled?"],
    headline: ["start_with"],
    formula: "the smallest n with P(good >= pieces) >= confidence, good binomial with n tries and chance 1 - spoilage",
    sources: &[Source::physics("binomial distribution, summed term by term")],
    example: r#"{"pieces": 240, "spoilage_fraction": 0.025, "confidence": 0.9}"#,
}

/// The smallest start that gives enough good pieces with the wanted chance.
///
/// Pieces spoil independently: one cause that spoils many at once (a wrong ink, a cold dryer) is outside this count.
///
/// # Errors
/// None for a request that was read.
pub(crate) fn overs(request: &OversRequest, remarks: &mut Remarks) -> Result<Overs, Error> {
    let (start_with, probability) = blanks(request.pieces, request.spoilage_fraction, request.confidence)?;
    remarks.work().spend(looked_at(request, start_with));
    remarks.info(
        "pieces_not_impressions",
        "/spoilage_fraction",
        "counted in pieces, spoiled one by one: a fault that spoils a whole batch, such as a cold dryer, is not in it",
    );
    Ok(Overs { start_with, expected_good: f64::from(start_with) * (1.0 - request.spoilage_fraction), probability })
}

/// The work of looking for a start, in rows: half of one for a term, 40 standard deviations of them for a chance (`at_most`), and a chance
/// for each step of a sixty-fourth and each halving of it.
fn looked_at(request: &OversRequest, start: u32) -> f64 {
    let start = f64::from(start);
    let terms = 40.0 * (start * request.spoilage_fraction * (1.0 - request.spoilage_fraction)).sqrt() + 10.0;
    let chances = 20.0 + 64.0 * libm::log(start / f64::from(request.pieces));
    0.5 * terms * chances
}

/// The smallest start n for `pieces` good ones, and the chance that it is enough.
///
/// # Errors
/// `internal` where a start does not fit a count, which ten million pieces at one half spoiled do not reach.
pub fn blanks(pieces: u32, spoilage: f64, confidence: f64) -> Result<(u32, f64), Error> {
    let chance = |start: u32| at_most(start.saturating_sub(pieces), start, spoilage);
    // The tail is good to about 1e-12: a chance that equals the wanted one must not miss it by a rounding.
    let confidence = confidence * (1.0 - 1e-12);
    let (mut low, mut high) = (pieces, pieces);
    while chance(high) < confidence {
        if high == u32::MAX {
            return Err(Error::new(Code::Internal, "", "more blanks than can be counted"));
        }
        low = high;
        high = high.saturating_add((high / 64).max(8));
    }
    let start = first(low, high, |start| chance(start) >= confidence);
    Ok((start, chance(start)))
}
