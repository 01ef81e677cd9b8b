//! What a wash test proves.

use super::samples::{FAILED, PRINTS, RELIABILITY, looked_for, prints_needed, shows};
use crate::chance::{at_most, summed};
use crate::error::{Code, Error};
use crate::note::Level;
use crate::press::CONFIDENCE;
use crate::quantity::{Rules, units};
use crate::root::bisect;
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};
use serde_json::Value;

/// Washes of one print.
const CYCLES: Rules = Rules::range(units::ONE, 1.0, 10_000.0).usual(1.0, 50.0);
const WANTED: Rules = RELIABILITY.or(0.90, Source::memory("nine prints in ten; a buyer may want more"));

/// Halvings that look for the bound, each a chance.
const HALVINGS: f64 = f64::MANTISSA_DIGITS as f64;
/// The wash before which a bad bond may look sound.
const TRAP: u32 = 3;

/// What fails when: the last wash of each stage, and what it speaks for.
const STAGES: [(u32, Level, &str, &str); 3] = [
    (
        3,
        Level::Caution,
        "early_failure",
        "failures by the third wash speak for heavy under-cure or a bad bond between inks: probe the dryer and look at what is printed on what",
    ),
    (
        10,
        Level::Info,
        "fading",
        "failures up to the tenth wash are mostly fading: pigment that is bound too weakly, by too little fixer or a slight under-cure",
    ),
    (
        u32::MAX,
        Level::Info,
        "late_cracking",
        "failures after the tenth wash are mostly cracking: a thick film that is slightly under-cured or too stiff for the cloth",
    ),
];
const STAGES_SOURCE: Source = Source::common(
    "ink makers and trade journals: heavy under-cure shows at 2-3 washes, fading at 5-10, cracking at 12-28",
);

words! {
    /// What a wash test says of a batch.
    pub enum ShipVerdict ("verdict") {
        /// It is shown that enough survive.
        Pass = "pass",
        /// It is shown that too few survive.
        Fail = "fail",
        /// Neither is shown.
        NotProven = "not_proven",
    }
}

request! {
    /// What a wash test came to.
    pub struct VerdictRequest {
        /// Number of prints washed.
        washed "Prints washed": u32 where PRINTS,
        /// Number of prints that peeled, cracked or faded.
        failed "Prints failed": u32 where FAILED,
        /// How sure the verdict must be.
        confidence "Confidence wanted": f64 where CONFIDENCE,
        /// Washes that each print went through.
        cycles "Washes per print": u32 where CYCLES,
        /// The share of the run that must survive.
        reliability_fraction "Share to survive": f64 where WANTED,
        /// The wash at which each failure was seen, as far as it is known.
        failed_at "Failed at wash": Option<Vec<u32>> where CYCLES,
    }
}

answer! {
    /// What it proves.
    pub struct WashVerdict {
        /// The share of the run that survives, at least, at the confidence.
        survival_lower_bound_fraction "Least surviving share": f64,
        /// Whether it is shown that enough survive.
        verdict "Verdict": ShipVerdict,
    }
}

calculation! {
    pub const VERDICT: VerdictRequest => WashVerdict = verdict;
    id: "wash.verdict",
    title: "What a wash test proves",
    question: "May this batch ship?",
    asked: ["One print failed in the wash: what now?", "Are these wash results good enough?"],
    headline: ["verdict", "survival_lower_bound_fraction"],
    formula: "lower bound s: P(failures <= failed) = 1 - confidence for a binomial with washed tries and chance 1 - s (one-sided Clopper-Pearson); after three washes at least, pass: s >= reliability, fail: the one-sided upper bound lies below the reliability; else not_proven",
    sources: &[
        Source::published("Clopper, Pearson, Biometrika 26 (1934) 404-413 (from memory)"),
        Source::physics("binomial distribution, summed term by term"),
        Source::memory("a discharge base under plastisol may hold for two washes and peel at the third"),
        STAGES_SOURCE,
    ],
    example: r#"{"washed": 22, "failed": 0, "confidence": 0.9, "cycles": 5}"#,
}

/// The share that survives, at least, and whether it is enough.
///
/// `pass` where the lower bound reaches the reliability, `fail` where the upper bound, at the same confidence, falls short of
/// it. With fewer than three washes nothing is proven.
///
/// # Errors
/// `impossible` for more failures than prints, more entries of `failed_at` than failures, or a failure after the last wash.
pub(crate) fn verdict(request: &VerdictRequest, remarks: &mut Remarks) -> Result<WashVerdict, Error> {
    let (washed, failed, cycles) = (request.washed, request.failed, request.cycles);
    let (confidence, reliability) = (request.confidence, request.reliability_fraction);
    if failed > washed {
        return Err(Error::new(Code::Impossible, "/failed", format!("{failed} of {washed} prints cannot fail"))
            .got(&Value::from(failed))
            .allowed([format!("at most {washed}")]));
    }
    let failed_at = request.failed_at.as_deref().unwrap_or_default();
    check_failed_at(failed_at, failed, cycles)?;
    let verdict = if cycles >= TRAP && falls_short(failed, washed, reliability, confidence) {
        ShipVerdict::Fail
    } else if cycles >= TRAP && shows(failed, washed, reliability, confidence) {
        ShipVerdict::Pass
    } else {
        ShipVerdict::NotProven
    };
    if cycles < TRAP {
        remarks.caution(
            "third_wash",
            "/cycles",
            "fewer than three washes prove nothing: a discharge base under plastisol that was not dried through looks sound after the first wash and peels at the second or third",
        );
    }
    // The first halvings come down from one half, the others are near the share that failed.
    let share = f64::from(failed) / f64::from(washed.max(1));
    remarks.work().spend(4.0 * summed(washed, 0.5) + HALVINGS * summed(washed, share));
    if failed > 0 {
        remarks.caution(
            "prints_failed",
            "/failed",
            "a print that failed is a fault to find, whatever the count proves: keep it, and hold the batch until the cause is known",
        );
    }
    about_failures(failed_at, remarks);
    let needed = (verdict == ShipVerdict::NotProven).then(|| prints_needed(failed, reliability, confidence));
    if let Some(needed) = &needed {
        remarks.work().spend(looked_for(needed, reliability));
    }
    if let Some(Ok(needed)) = needed
        && needed > washed
    {
        remarks.info("more_prints", "/washed", |_| {
            format!(
                "it takes {needed} prints with no more than {failed} failed to show this reliability at this confidence"
            )
        });
    }
    remarks.info(
        "over_the_whole_run",
        "",
        "holds for prints of one ink stack taken at random over the whole run and washed alike; it speaks for as many washes as were done and no more",
    );
    Ok(WashVerdict { survival_lower_bound_fraction: survival_lower_bound(failed, washed, confidence), verdict })
}

fn check_failed_at(failed_at: &[u32], failed: u32, cycles: u32) -> Result<(), Error> {
    if failed_at.len() > failed as usize {
        let message = format!("{} failures are placed, but {failed} prints failed", failed_at.len());
        return Err(Error::new(Code::Impossible, "/failed_at", message).allowed([format!("at most {failed} entries")]));
    }
    match failed_at.iter().enumerate().find(|(_, wash)| **wash > cycles) {
        None => Ok(()),
        Some((index, wash)) => {
            let message = format!("a failure at wash {wash}, but there were {cycles}");
            Err(Error::new(Code::Impossible, format!("/failed_at/{index}"), message)
                .got(&Value::from(*wash))
                .allowed([format!("1 to {cycles}")]))
        }
    }
}

/// What the washes at which prints failed speak for.
fn about_failures(failed_at: &[u32], remarks: &mut Remarks) {
    let mut first = 1;
    for (last, level, code, message) in STAGES {
        if failed_at.iter().any(|wash| (first..=last).contains(wash)) {
            remarks.note(level, code, "/failed_at", message);
            remarks.basis("failed_at", STAGES_SOURCE);
        }
        first = last.saturating_add(1);
    }
}

/// Whether it is shown that fewer than `reliability` survive: the upper bound lies below it. With just that much, so many
/// failures would come up less often than 1 - confidence.
fn falls_short(failed: u32, washed: u32, reliability: f64, confidence: f64) -> bool {
    // A bound that equals the reliability is not below it; a rounding must not put it there.
    failed.checked_sub(1).is_some_and(|fewer| at_most(fewer, washed, 1.0 - reliability) > confidence + 1e-12)
}

/// The survival rate that `failed` of `washed` test prints show at the given confidence: the one-sided Clopper-Pearson lower
/// bound, s with P(failures <= failed) = 1 - confidence. None of none, or all failed, show nothing: 0.
///
/// Source: Biometrika 26 (1934) 404 (from memory).
#[must_use]
pub fn survival_lower_bound(failed: u32, washed: u32, confidence: f64) -> f64 {
    if failed >= washed {
        return 0.0;
    }
    if failed == 0 {
        return survival_shown(washed, confidence);
    }
    // The chance of so few failures rises with the survival rate; each halving gains a bit.
    bisect(0.0, 1.0, f64::MANTISSA_DIGITS, |survival| at_most(failed, washed, 1.0 - survival) <= 1.0 - confidence).0
}

/// The survival rate that `good` of `good` test prints show at the given confidence: (1 - confidence)^(1 / good).
///
/// Three good of three at 90 % show that at least 46 % of the run survive: it finds a bad batch and proves no good one.
/// Source: the zero-failure case of the one-sided Clopper-Pearson bound, Biometrika 26 (1934) 404 (from memory).
#[must_use]
pub fn survival_shown(good: u32, confidence: f64) -> f64 {
    if good == 0 { 0.0 } else { libm::pow(1.0 - confidence, 1.0 / f64::from(good)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn ask(washed: u32, failed: u32, cycles: u32, failed_at: &[u32]) -> Result<Value, (Code, String)> {
        let request =
            json!({ "washed": washed, "failed": failed, "confidence": 0.9, "cycles": cycles, "failed_at": failed_at });
        VERDICT.answer_json(&request).map_err(|e| (e.code, e.field)).map(|answer| answer.to_value().unwrap())
    }

    fn notes(answer: &Value) -> Vec<&str> {
        answer["notes"].as_array().unwrap().iter().filter_map(|note| note["code"].as_str()).collect()
    }

    #[test]
    fn three_words_and_the_third_wash() {
        // 0.9^22 = 0.0985 and 0.9^21 = 0.1094: 22 good prints pass. 1 - 0.9^3 = 0.271: one failed of three proves no
        // shortfall; 0.1^3 = 0.001: three of three do.
        for (washed, failed, cycles, word) in [
            (22, 0, 5, "pass"),
            (22, 0, 3, "pass"),
            (22, 0, 2, "not_proven"),
            (21, 0, 5, "not_proven"),
            (3, 1, 5, "not_proven"),
            (3, 3, 5, "fail"),
            (3, 3, 1, "not_proven"),
        ] {
            let answer = ask(washed, failed, cycles, &[]).unwrap();
            assert_eq!(answer["verdict"], word, "{failed} of {washed} after {cycles}");
            assert_eq!(notes(&answer).contains(&"third_wash"), cycles < 3);
            assert_eq!(notes(&answer).contains(&"prints_failed"), failed > 0);
            assert_eq!(notes(&answer).contains(&"more_prints"), word == "not_proven" && washed < 22);
        }
    }

    #[test]
    fn a_bound_at_the_reliability_is_not_below_it() {
        // One failed of one, when nine in ten must survive: it comes up one time in ten, so 90 % are just not passed.
        assert!(!falls_short(1, 1, 0.9, 0.9));
        assert!(falls_short(1, 1, 0.9, 0.899));
    }

    #[test]
    fn failures_have_their_washes() {
        assert_eq!(ask(3, 4, 5, &[]), Err((Code::Impossible, "/failed".into())));
        assert_eq!(ask(9, 1, 5, &[2, 3]), Err((Code::Impossible, "/failed_at".into())));
        assert_eq!(ask(9, 2, 5, &[2, 6]), Err((Code::Impossible, "/failed_at/1".into())));
        assert_eq!(ask(9, 2, 5, &[2, 0]), Err((Code::OutOfRange, "/failed_at/1".into())));
        let answer = ask(30, 3, 20, &[3, 4, 11]).unwrap();
        for code in ["early_failure", "fading", "late_cracking"] {
            assert!(notes(&answer).contains(&code), "{code}");
        }
        let answer = ask(30, 3, 20, &[10]).unwrap();
        assert!(notes(&answer).contains(&"fading"));
        assert!(!notes(&answer).contains(&"early_failure") && !notes(&answer).contains(&"late_cracking"));
    }

    #[test]
    fn three_good_prints_show_46_percent() {
        // By hand: 0.1^(1/3) = 0.46416.
        assert!((survival_shown(3, 0.9) - 0.464_159).abs() < 1e-6);
        assert!(survival_shown(0, 0.9) <= 0.0 && survival_lower_bound(3, 3, 0.9) <= 0.0);
    }
}
