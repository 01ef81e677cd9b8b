//! How many blanks to start with, so that enough come out good.

use crate::chance::{Waiting, at_most, summed};
use crate::error::{Code, Error};
use crate::quantity::{Rules, units};
use crate::root::first;
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};
use serde_json::Value;

/// Spoiled pieces of those started. Beyond a half no one starts a run.
pub(crate) const SPOILAGE: Rules = Rules::range(units::ONE, 0.0, 0.5).usual(0.0, 0.1);
/// A chance that is neither nothing nor certainty.
pub(crate) const CONFIDENCE: Rules = Rules::range(units::ONE, 1e-6, 1.0 - 1e-9).usual(0.5, 0.999);

/// Pieces that a spoiled share is known from.
pub(crate) const KNOWN_FROM: Rules =
    Rules::range(units::ONE, 1.0, 1e9).usual(10.0, 1e7).unless_given("the share is exact");
/// More blanks than these to a piece no one starts with.
const MOST_BLANKS: u32 = 5;

request! {
    /// An order and how often a piece is spoiled.
    pub struct OversRequest {
        /// Good pieces ordered.
        pieces "Pieces ordered": u32 where Rules::count(1.0),
        /// Share of the pieces started that are spoiled, whichever colour spoils them.
        spoilage_fraction "Spoiled share": f64 where SPOILAGE,
        /// Pieces that the spoiled share is as well known from as by counting it on them; shop.learn tells them.
        spoilage_known_from "Pieces behind that share": Option<f64> where KNOWN_FROM,
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
    formula: "the smallest n with P(good >= pieces) >= confidence, good binomial with n tries and chance 1 - spoilage; with spoilage_known_from = N the share itself is beta distributed, a = spoilage N, b = (1 - spoilage) N, and good beta-binomial",
    sources: &[
        Source::physics("binomial distribution, summed term by term"),
        Source::published("Johnson, Kemp, Kotz, Univariate Discrete Distributions, 2005: beta-binomial and its waiting time (from memory)"),
    ],
    example: r#"{"pieces": 240, "spoilage_fraction": 0.025, "confidence": 0.9}"#,
}

/// The smallest start that gives enough good pieces with the wanted chance.
///
/// Pieces spoil independently: one cause that spoils many at once (a wrong ink, a cold dryer) is outside this count.
///
/// # Errors
/// `no_solution` where a share is known so badly that five blanks to a piece, and a thousand more, would not do.
pub(crate) fn overs(request: &OversRequest, remarks: &mut Remarks) -> Result<Overs, Error> {
    let (pieces, spoilage, known_from) = (request.pieces, request.spoilage_fraction, request.spoilage_known_from);
    let found = blanks_known_from(pieces, spoilage, known_from, request.confidence);
    let start = found.as_ref().map_or_else(|_| most_blanks(pieces), |(start, _)| *start);
    remarks.work().spend(match known_from {
        None => looked_at(request, start),
        // A term for each that may be spoiled.
        Some(_) => 0.5 * f64::from(start.saturating_sub(pieces)),
    });
    let (start_with, probability) =
        found.map_err(|error| error.under(if known_from.is_some() { "/spoilage_known_from" } else { "" }))?;
    remarks.info(
        "pieces_not_impressions",
        "/spoilage_fraction",
        "counted in pieces, spoiled one by one: a fault that spoils a whole batch, such as a cold dryer, is not in it",
    );
    Ok(Overs { start_with, expected_good: f64::from(start_with) * (1.0 - request.spoilage_fraction), probability })
}

/// The work of looking for a start, in rows: a chance for each step of a sixty-fourth and each halving of it.
fn looked_at(request: &OversRequest, start: u32) -> f64 {
    let chances = 20.0 + 64.0 * libm::log(f64::from(start) / f64::from(request.pieces));
    chances * summed(start, request.spoilage_fraction)
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

/// The same for a share that is itself in doubt: known as well as from counting `known_from` pieces, or exactly where there are none.
///
/// The share is beta distributed with `a = spoilage known_from` and `b = (1 - spoilage) known_from`, so that the good ones of n are
/// beta-binomial. The fewest blanks are the pieces and those that are spoiled before the last good one: the chances of 0, 1, 2 ... of
/// those are added up until they reach the confidence ([`Waiting`]).
///
/// # Errors
/// As [`blanks`]; `no_solution` where five blanks to a piece, and a thousand more, would not do.
pub fn blanks_known_from(
    pieces: u32,
    spoilage: f64,
    known_from: Option<f64>,
    confidence: f64,
) -> Result<(u32, f64), Error> {
    let Some(known_from) = known_from else { return blanks(pieces, spoilage, confidence) };
    let wanted = confidence * (1.0 - 1e-12);
    let chances = Waiting::of(pieces, spoilage * known_from, (1.0 - spoilage) * known_from);
    let enough = (pieces..=most_blanks(pieces)).zip(chances).find(|(_, chance)| *chance >= wanted);
    enough.ok_or_else(|| {
        let message = format!(
            "so badly known is the share that {} blanks are too few for this chance: count more pieces, or want less certainty",
            most_blanks(pieces)
        );
        Error::new(Code::NoSolution, "", message).got(&Value::from(known_from))
    })
}

/// The most blanks that are looked at: five to a piece, and a thousand more for small orders.
fn most_blanks(pieces: u32) -> u32 {
    pieces.saturating_mul(MOST_BLANKS).saturating_add(1_000)
}
