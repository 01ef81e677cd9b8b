//! The wash: published tables (copied unchanged to `tests/published`, the head of each names its source), and what must
//! hold whatever is asked.

use floodbar::chance::at_most;
use floodbar::wash::{
    Lab, change_grade, de_2000, de_ab, de_f, de_gs, prints_needed, shows, staining_grade, staining_rating,
    survival_lower_bound,
};
use floodbar::{Code, calculate};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, near};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

/// The colours of a row, with the endings of its columns.
fn colours(row: &Row, one: &str, two: &str) -> (Lab, Lab) {
    let of = |end: &str| {
        let at = |axis: &str| number(row, &format!("{axis}{end}"));
        Lab::new(at("L"), at("a"), at("b"))
    };
    (of(one), of(two))
}

fn faded(before: Lab, after: Lab) -> Value {
    let written = |c: Lab| json!([c.lightness, c.a, c.b]);
    ask("wash.colour", json!({ "before": written(before), "after": written(after) }))
}

/// A grade as the standards print it: `4-5` is 4.5.
fn grade(text: &str) -> f64 {
    match text.split_once('-') {
        Some((low, high)) => low.parse::<f64>().unwrap().midpoint(high.parse().unwrap()),
        None => text.parse().unwrap(),
    }
}

// ---- published tables ----

/// The paper's pairs, as printed and to forty digits, both ways round.
#[test]
fn ciede2000_of_the_paper() {
    for row in table("ciede2000_sharma34") {
        let (one, two) = colours(&row, "1", "2");
        for got in [at(&faded(one, two), "/de_2000"), de_2000(two, one)] {
            near(got, number(&row, "dE00_pub"), 1e-4, &row);
            near(got, number(&row, "dE00_40digit"), 1e-9, &row);
        }
    }
}

/// CIE 1976 differences of two public implementations; colours that no print can have go by the function alone.
#[test]
fn cie76() {
    for row in table("deltae_76_94_cmc") {
        let (one, two) = colours(&row, "1", "2");
        near(de_ab(one, two), number(&row, "dE76"), 1e-8, &row);
        if [one.a, one.b, two.a, two.b].iter().all(|axis| axis.abs() <= 200.0) {
            near(at(&faded(one, two), "/de_ab"), number(&row, "dE76"), 1e-8, &row);
        }
    }
}

/// The steps of the grey scales themselves, ISO 105-A02 and A03, as pure lightness: each has its own grade.
#[test]
fn the_grey_scales_grade_themselves() {
    for row in table("grey_scale_a02_a03") {
        let (of, step) =
            (if row["scale"] == "A02" { "/grey_scale_grade" } else { "/staining_grade" }, number(&row, "dE_CIELAB"));
        for (before, after) in [(95.0, 95.0 - step), (30.0, 30.0 + step)] {
            let answer = faded(Lab::new(before, 0.0, 0.0), Lab::new(after, 0.0, 0.0));
            near(at(&answer, of), grade(&row["grade"]), 1e-12, &row);
            near(at(&answer, "/de_f"), step, 1e-9, &row);
        }
    }
}

/// ISO 105-A05: differences and grades of an independent evaluation.
#[test]
fn grades_of_change() {
    for row in table("grey_scale_a05_vectors") {
        let (before, after) = colours(&row, "0", "t");
        let answer = faded(before, after);
        near(at(&answer, "/de_ab"), number(&row, "dE76"), 1e-6, &row);
        near(at(&answer, "/de_f"), number(&row, "dEF"), 1e-6, &row);
        near(at(&answer, "/grey_scale_grade"), grade(&row["grade_band"]), 1e-12, &row);
    }
}

/// ISO 105-A05: a band has its lower end and not its upper.
#[test]
fn bands_of_change() {
    for row in table("grey_scale_a05_ranges") {
        let (low, high) = (number(&row, "dEF_low"), number(&row, "dEF_high"));
        for inside in [low, low.midpoint(high.min(100.0)), high.min(1e6) - 1e-6] {
            near(change_grade(inside), grade(&row["grade"]), 1e-12, (inside, &row));
        }
    }
}

/// ISO 105-A04: differences, ratings and grades of an independent evaluation.
#[test]
fn grades_of_staining() {
    for row in table("grey_scale_a04_vectors") {
        let (before, after) = colours(&row, "0", "t");
        let difference = de_gs(before, after);
        near(difference, number(&row, "dE_GS"), 1e-6, &row);
        near(staining_rating(difference), number(&row, "SSR"), 6e-6, &row);
        near(at(&faded(before, after), "/staining_grade"), number(&row, "SSR_half_grade"), 1e-12, &row);
    }
}

/// ISO 105-A04: both ends of a band of ratings, which are stated to two decimals, have its grade.
#[test]
fn bands_of_staining() {
    for row in table("grey_scale_a04_ranges") {
        for end in [number(&row, "SSR_low"), number(&row, "SSR_high")] {
            near(staining_grade(end), grade(&row["grade"]), 1e-12, &row);
        }
    }
}

/// Success runs by logarithms, and the well-known counts that the file's head names.
#[test]
fn success_runs() {
    let run = |reliability: f64, confidence: f64| {
        ask("wash.samples", json!({ "reliability_fraction": reliability, "confidence": confidence }))["samples"].clone()
    };
    for row in table("success_run") {
        assert_eq!(run(number(&row, "R"), number(&row, "C")).as_f64(), Some(number(&row, "n")), "{row:?}");
    }
    for (reliability, confidence, n) in [
        (0.9, 0.9, 22),
        (0.9, 0.95, 29),
        (0.95, 0.9, 45),
        (0.95, 0.95, 59),
        (0.95, 0.99, 90),
        (0.99, 0.9, 230),
        (0.99, 0.95, 299),
        (0.99, 0.99, 459),
    ] {
        assert_eq!(run(reliability, confidence), n, "{reliability} at {confidence}");
    }
}

/// Clopper-Pearson intervals of k events in n at the two-sided confidence c. Each end is a one-sided bound at (1 + c) / 2,
/// so that our bound at C is the lower end at c = 2 C - 1. With k prints failed, the survival bound is 1 - the upper end;
/// with k prints good, it is the lower end.
#[test]
fn clopper_pearson() {
    for row in table("clopper_pearson_wilson") {
        let (k, n) = (number(&row, "k") as u32, number(&row, "n") as u32);
        let one_sided = (1.0 + number(&row, "conf")) / 2.0;
        for (failed, wanted) in [(k, 1.0 - number(&row, "cp_high")), (n - k, number(&row, "cp_low"))] {
            let request = json!({ "washed": n, "failed": failed, "confidence": one_sided, "cycles": 5 });
            let bound = at(&ask("wash.verdict", &request), "/survival_lower_bound_fraction");
            near(bound, wanted, 6e-9, (failed, &row));
        }
    }
}

// ---- what must hold whatever is asked ----

fn any_colour() -> impl Strategy<Value = Lab> {
    (0.0..100.0_f64, -128.0..128.0_f64, -128.0..128.0_f64).prop_map(|(lightness, a, b)| Lab::new(lightness, a, b))
}

fn one_verdict(washed: u32, failed: u32, confidence: f64, reliability: f64, cycles: u32) -> String {
    let request = json!({ "washed": washed, "failed": failed, "confidence": confidence,
        "reliability_fraction": reliability, "cycles": cycles });
    ask("wash.verdict", &request)["verdict"].as_str().unwrap().to_owned()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(256, 2560)))]

    #[test]
    fn a_difference_is_the_same_both_ways(one in any_colour(), two in any_colour()) {
        for (difference, name) in [(de_ab as fn(Lab, Lab) -> f64, "76"), (de_2000, "2000"), (de_f, "F"), (de_gs, "GS")] {
            let (there, back) = (difference(one, two), difference(two, one));
            prop_assert!((there - back).abs() <= 1e-9 * (1.0 + there), "{name}: {there} and {back}");
            prop_assert!(there >= 0.0 && difference(one, one) == 0.0, "{name}: {there}");
        }
    }

    #[test]
    fn a_greater_difference_never_grades_better(one in 0.0..40.0_f64, two in 0.0..40.0_f64) {
        let (small, great) = (one.min(two), one.max(two));
        prop_assert!(change_grade(small) >= change_grade(great));
        prop_assert!(staining_grade(staining_rating(small)) >= staining_grade(staining_rating(great)));
        for grade in [change_grade(one), staining_grade(staining_rating(one))] {
            prop_assert!((1.0..=5.0).contains(&grade) && (2.0 * grade).fract() == 0.0);
        }
    }

    #[test]
    fn failures_lower_the_bound_and_prints_raise_it(washed in 1..400_u32, failed in 0..400_u32, confidence in 0.01..0.999_f64) {
        let failed = failed % (washed + 1);
        let bound = survival_lower_bound(failed, washed, confidence);
        prop_assert!((0.0..1.0).contains(&bound));
        prop_assert!(survival_lower_bound(failed + 1, washed, confidence) <= bound);
        prop_assert!(survival_lower_bound(failed, washed + 1, confidence) >= bound);
        prop_assert!(survival_lower_bound(failed, washed, confidence.midpoint(1.0)) <= bound);
        // The definition: at the bound, so few failures come up with the chance 1 - confidence.
        if failed < washed {
            prop_assert!((at_most(failed, washed, 1.0 - bound) - (1.0 - confidence)).abs() < 1e-10);
        }
    }

    #[test]
    fn the_samples_pass_and_one_less_does_not(failures in 0..20_u32, reliability in 0.5..0.999_f64, confidence in 0.5..0.999_f64) {
        let request = json!({ "reliability_fraction": reliability, "confidence": confidence, "failures": failures });
        let samples = ask("wash.samples", &request)["samples"].as_u64().unwrap() as u32;
        prop_assert_eq!(one_verdict(samples, failures, confidence, reliability, 3), "pass");
        prop_assert_eq!(one_verdict(samples, failures, confidence, reliability, 2), "not_proven");
        prop_assert!(survival_lower_bound(failures, samples, confidence) >= reliability - 1e-9);
        if samples - 1 > failures {
            prop_assert_ne!(one_verdict(samples - 1, failures, confidence, reliability, 3), "pass");
            prop_assert!(survival_lower_bound(failures, samples - 1, confidence) < reliability + 1e-9);
        }
        prop_assert!(prints_needed(failures + 1, reliability, confidence).unwrap() > samples);
    }

    /// Pass is at or above the reliability by the lower bound, fail below it by the upper one, which is the lower bound of
    /// the prints that failed.
    #[test]
    fn verdicts_go_by_both_bounds(washed in 1..200_u32, failed in 0..200_u32, reliability in 0.05..0.99_f64, confidence in 0.5..0.999_f64) {
        let failed = failed % (washed + 1);
        let lower = survival_lower_bound(failed, washed, confidence);
        let upper = 1.0 - survival_lower_bound(washed - failed, washed, confidence);
        prop_assume!((lower - reliability).abs() > 1e-9 && (upper - reliability).abs() > 1e-9);
        let wanted = if lower > reliability { "pass" } else if upper < reliability { "fail" } else { "not_proven" };
        prop_assert_eq!(one_verdict(washed, failed, confidence, reliability, 5), wanted);
        prop_assert_eq!(shows(failed, washed, reliability, confidence), wanted == "pass");
    }

    /// With no failure it is the success run: n good prints come up with the chance R^n.
    #[test]
    fn no_failure_is_the_success_run(reliability in 0.01..0.999_f64, confidence in 0.01..0.9999_f64) {
        let all_good = |prints: u32| (0..prints).map(|_| reliability).product::<f64>();
        let samples = prints_needed(0, reliability, confidence).unwrap();
        prop_assert!(all_good(samples) <= (1.0 - confidence) * (1.0 + 1e-9));
        prop_assert!(all_good(samples - 1) > (1.0 - confidence) * (1.0 - 1e-9));
    }
}

// ---- facts of the trade ----

fn risks(request: &Value) -> Vec<String> {
    let answer = ask("wash.layers", request);
    let pairs = answer["pairs"].as_array().unwrap();
    assert!(pairs.iter().all(|pair| pair["why"].as_str().is_some_and(|why| why.len() > 20)), "{answer}");
    assert!(answer["notes"].to_string().contains("past three cycles"), "{answer}");
    let sources = answer["basis"].as_array().unwrap();
    for (index, _) in pairs.iter().enumerate() {
        let of = format!("pairs.{index}.risk");
        let basis = sources.iter().find(|basis| basis["for"] == of).unwrap_or_else(|| panic!("{of}: {answer}"));
        assert!(basis["kind"] == "common_practice" || basis["kind"] == "memory", "{basis}");
    }
    pairs.iter().map(|pair| pair["risk"].as_str().unwrap().to_owned()).collect()
}

/// Common practice or memory, no source in print: which ink on which peels.
#[test]
fn which_ink_on_which_peels() {
    for (lower, upper, between, risk) in [
        ("discharge", "plastisol", None, "high"),
        ("discharge", "plastisol-white", Some("wet"), "high"),
        ("discharge", "plastisol", Some("set"), "medium"),
        ("plastisol", "plastisol", Some("cured"), "high"),
        ("plastisol", "water-based", None, "high"),
        ("plastisol-white", "discharge", Some("set"), "high"),
        ("plastisol", "silicone", None, "high"),
        ("silicone", "plastisol", Some("set"), "high"),
        ("plastisol-white", "plastisol", None, "low"),
        ("plastisol", "plastisol", Some("set"), "low"),
        ("water-based", "plastisol", None, "medium"),
        ("water-based-high-solids", "plastisol", Some("set"), "medium"),
        ("water-based", "plastisol", Some("wet"), "high"),
        ("plastisol", "plastisol-low-cure", None, "high"),
        ("plastisol-white", "plastisol-low-bleed-white", Some("set"), "high"),
        ("plastisol-low-cure", "plastisol", None, "low"),
        ("plastisol-low-bleed-white", "plastisol-low-cure", None, "low"),
        ("water-based", "water-based-high-solids", None, "low"),
        ("silicone", "silicone", Some("set"), "low"),
    ] {
        let mut request = json!({ "cloth": "cotton-jersey-180-dark", "layers": [lower, upper] });
        if let Some(state) = between {
            request["between"] = json!([state]);
        }
        assert_eq!(risks(&request), [risk], "{upper} on {lower}, {between:?}");
    }
}

/// An ink is what its data say it is, whatever row it started from.
#[test]
fn data_before_names() {
    let agent = json!([{ "name": "Discharge agent", "fraction": 0.06 }]);
    let high_cure = json!({ "temperature": "160 degC", "hold": "0 s", "after_dry": false });
    for (lower, upper, risk) in [
        (json!({ "from": "water-based", "chemistry": "discharge" }), json!("plastisol"), "high"),
        // The name of an additive is a name.
        (json!({ "from": "water-based", "additives": agent }), json!("plastisol"), "medium"),
        (json!({ "from": "discharge", "chemistry": "water_based" }), json!("plastisol"), "medium"),
        (json!({ "from": "silicone", "chemistry": "plastisol", "cure": high_cure }), json!("plastisol"), "low"),
        (json!("plastisol"), json!({ "from": "plastisol", "water_fraction": 0.3 }), "high"),
        (json!("plastisol"), json!({ "from": "plastisol", "chemistry": "silicone" }), "high"),
        (
            json!("plastisol"),
            json!({ "from": "plastisol", "cure": { "temperature": "150.1 degC", "hold": "0 s", "after_dry": false } }),
            "low",
        ),
        (
            json!("plastisol"),
            json!({ "from": "plastisol", "cure": { "temperature": "149.9 degC", "hold": "0 s", "after_dry": false } }),
            "high",
        ),
    ] {
        let request = json!({ "cloth": "cotton-jersey-180", "layers": [lower, upper] });
        assert_eq!(risks(&request), [risk], "{request}");
    }
}

/// Each pair is judged by itself: a third layer changes nothing below it.
#[test]
fn pairs_are_neighbours_in_order() {
    let request = json!({ "cloth": "cotton-jersey-180-dark", "layers": ["discharge", "plastisol-white", "plastisol", "silicone"] });
    assert_eq!(risks(&request), ["high", "low", "high"]);
    let pairs = ask("wash.layers", &request)["pairs"].clone();
    assert_eq!((&pairs[1]["lower"], &pairs[1]["upper"]), (&json!("plastisol-white"), &json!("plastisol")));
}

/// Memory, no source in print: the third wash is where a bad bond shows, so that two prove nothing, however many prints.
#[test]
fn nothing_passes_before_the_third_wash() {
    for cycles in [1, 2] {
        let request = json!({ "washed": 1000, "failed": 0, "confidence": 0.9, "cycles": cycles });
        let answer = ask("wash.verdict", &request);
        assert_eq!(answer["verdict"], "not_proven");
        let named = |note: &Value| note["code"] == "third_wash" && note["message"].to_string().contains("discharge");
        assert!(answer["notes"].as_array().unwrap().iter().any(named), "{answer}");
    }
    assert_eq!(one_verdict(1000, 0, 0.9, 0.9, 3), "pass");
}

#[test]
fn what_cannot_be_is_refused() {
    let code = |id: &str, request: Value| calculate(id, &request).map_err(|e| (e.code, e.field)).unwrap_err();
    let washed = |failed: u32| json!({ "washed": 3, "failed": failed, "confidence": 0.9, "cycles": 5 });
    assert_eq!(code("wash.verdict", washed(4)), (Code::Impossible, "/failed".into()));
    let sure = |reliability: f64| json!({ "reliability_fraction": reliability, "confidence": 0.9 });
    assert_eq!(code("wash.samples", sure(1.0)), (Code::OutOfRange, "/reliability_fraction".into()));
    assert_eq!(code("wash.samples", sure(0.999_999_99)), (Code::NoSolution, "/reliability_fraction".into()));
    let stack = json!({ "cloth": "cotton-jersey-180", "layers": ["plastisoll"] });
    assert_eq!(code("wash.layers", stack), (Code::OutOfRange, "/layers/0".into()));
}
