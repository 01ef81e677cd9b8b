//! How many prints a wash test needs.

use crate::chance::{at_most, summed};
use crate::error::{Code, Error};
use crate::press::CONFIDENCE;
use crate::quantity::{Rules, units};
use crate::root::first;
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};

/// More prints than any wash test has.
const MOST_PRINTS: u32 = 1_000_000;
/// Prints of a wash test.
pub(super) const PRINTS: Rules = Rules::range(units::ONE, 1.0, MOST_PRINTS as f64).usual(1.0, 1000.0);
/// Prints that failed.
pub(super) const FAILED: Rules = Rules::range(units::ONE, 0.0, MOST_PRINTS as f64).usual(0.0, 100.0);
const FAILURES: Rules = FAILED.or(0.0, Source::common("a wash test is passed when nothing fails"));
/// The share of the run that must survive; none and all cannot be shown by any test.
pub(super) const RELIABILITY: Rules = Rules::range(units::ONE, 1e-6, 1.0 - 1e-9).usual(0.5, 0.9999);

request! {
    /// What a wash test is to show.
    pub struct SamplesRequest {
        /// The share of the run that must survive.
        reliability_fraction "Share to survive": f64 where RELIABILITY,
        /// How sure the test must make it.
        confidence "Confidence wanted": f64 where CONFIDENCE,
        /// Most prints that may fail.
        failures "Failures allowed": u32 where FAILURES,
    }
}

answer! {
    /// How many prints to wash.
    pub struct Samples {
        /// Prints to wash; they show it when no more than `failures` of them fail.
        samples "Prints to wash": u32,
    }
}

calculation! {
    pub const SAMPLES: SamplesRequest => Samples = samples;
    id: "wash.samples",
    title: "Prints to wash",
    question: "How many test prints?",
    asked: ["How many shirts do I wash?", "How many test prints prove the batch?"],
    headline: ["samples"],
    formula: "the smallest n with P(failed <= failures) <= 1 - confidence, failed binomial with n tries and chance 1 - reliability; with no failure n = ceil(ln(1 - confidence) / ln(reliability))",
    sources: &[
        Source::physics("binomial distribution, summed term by term"),
        Source::published("Clopper, Pearson, Biometrika 26 (1934) 404-413 (from memory)"),
    ],
    example: r#"{"reliability_fraction": 0.9, "confidence": 0.9}"#,
}

/// The smallest number of prints that shows the reliability.
///
/// # Errors
/// `no_solution` where more than a million prints would be needed.
pub(crate) fn samples(request: &SamplesRequest, remarks: &mut Remarks) -> Result<Samples, Error> {
    let needed = prints_needed(request.failures, request.reliability_fraction, request.confidence);
    remarks.work().spend(looked_for(&needed, request.reliability_fraction));
    let samples = needed?;
    remarks.info(
        "n_not_n_plus_one",
        "",
        "counted by R^n = 1 - C, one print for each factor R; tables made for a flat prior count R^(n + 1) = 1 - C and ask for one print less",
    );
    remarks.info(
        "over_the_whole_run",
        "",
        "holds for prints taken at random over the whole run and washed alike: prints of one minute say nothing of a dryer that drifts",
    );
    Ok(Samples { samples })
}

/// The work of [`prints_needed`], in rows: a chance for each doubling up to the number, and each halving down to it.
pub(super) fn looked_for(needed: &Result<u32, Error>, reliability: f64) -> f64 {
    let needed = *needed.as_ref().unwrap_or(&MOST_PRINTS);
    let chances = 2.0 * libm::log2(f64::from(needed).max(2.0));
    chances * summed(needed.saturating_mul(2), 1.0 - reliability)
}

/// The smallest number of prints, no more than `failures` of them failed, that shows the reliability at the confidence.
///
/// # Errors
/// `no_solution` where more than a million prints would be needed.
pub fn prints_needed(failures: u32, reliability: f64, confidence: f64) -> Result<u32, Error> {
    let shown = |washed: u32| shows(failures, washed, reliability, confidence);
    // As many prints as failures show nothing; double until they show it, then close in.
    let (mut low, mut high) = (failures, failures.max(1));
    while !shown(high) {
        if high >= MOST_PRINTS {
            return Err(Error::new(
                Code::NoSolution,
                "/reliability_fraction",
                format!(
                    "it would take more than {MOST_PRINTS} prints: ask for less reliability, less confidence or fewer failures"
                ),
            ));
        }
        low = high;
        high = high.saturating_mul(2).min(MOST_PRINTS);
    }
    Ok(first(low, high, shown))
}

/// Whether `failed` of `washed` show that at least `reliability` of the run survives, at the confidence: with just that
/// much, so few failures would come up no more often than 1 - confidence.
#[must_use]
pub fn shows(failed: u32, washed: u32, reliability: f64, confidence: f64) -> bool {
    // A chance that equals the wanted one must not miss it by a rounding.
    at_most(failed, washed, 1.0 - reliability) <= 1.0 - confidence * (1.0 - 1e-12)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chance_that_is_met_exactly_is_enough() {
        // 0.9^2 = 0.81, 0.5^10 = 1/1024, 0.8^3 = 0.512.
        for (reliability, confidence, prints) in [(0.9, 0.19, 2), (0.5, 1.0 - 1.0 / 1024.0, 10), (0.8, 0.488, 3)] {
            assert_eq!(prints_needed(0, reliability, confidence).ok(), Some(prints), "{reliability} at {confidence}");
        }
    }

    #[test]
    fn what_no_test_can_show_is_refused() {
        let fault = prints_needed(0, 0.999_999_9, 0.99).unwrap_err();
        assert_eq!((fault.code, fault.field.as_str()), (Code::NoSolution, "/reliability_fraction"));
        assert!(prints_needed(MOST_PRINTS, 0.9, 0.9).is_err(), "as many failures as prints");
    }
}
