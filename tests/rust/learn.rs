//! What records teach: SciPy's tables of conjugate updates, and what must hold for any records.

use floodbar::press::{blanks, blanks_known_from};
use floodbar::shop::{Belief, LEARN, LearnRequest, RecordKind, ShareBelief, ShopRecord};
use floodbar::{Code, calculate};
use floodbar_tests::compare::{at, noted, relative};
use floodbar_tests::published::{number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

fn learn(records: &[Value], shop: &Value) -> Value {
    calculate("shop.learn", &json!({ "records": records, "shop": shop })).unwrap_or_else(|error| panic!("{error}"))
}

fn starter() -> Value {
    json!("starter-shop")
}

#[test]
fn overs_of_a_share_in_doubt() {
    for row in table("overs_beta_binomial_scipy") {
        let of = |column| number(&row, column);
        let start = |confidence: f64| {
            blanks_known_from(of("pieces") as u32, of("spoiled"), Some(of("known_from")), confidence).unwrap()
        };
        let (start_with, probability) = start(of("conf"));
        assert_eq!(f64::from(start_with), of("n_start"), "{row:?}");
        relative(probability, of("P_at_n"), 1e-9, &row);
        if of("P_at_n_minus_1") > 0.0 {
            let (below, probability) = start(of("P_at_n_minus_1") * (1.0 - 1e-8));
            assert_eq!(f64::from(below), of("n_start") - 1.0, "{row:?}");
            relative(probability, of("P_at_n_minus_1"), 1e-9, &row);
        }
    }
}

/// Numerical integration of prior times likelihood.
#[test]
fn normal_with_normal() {
    for row in table("conjugate_normal_scipy") {
        let of = |column| number(&row, column);
        let records: Vec<f64> = row["records"].split(' ').map(|record| record.parse().unwrap()).collect();
        let mean = records.iter().sum::<f64>() / records.len() as f64;
        let prior = Belief { mean: of("mean"), sd: of("sd") };
        let after = prior.after(mean, u32::try_from(records.len()).unwrap(), of("own"));
        relative(after.mean, of("posterior_mean"), 1e-9, &row);
        relative(after.sd, of("posterior_sd"), 1e-9, &row);
        relative(prior.next(of("own")).sd, of("next_sd"), 1e-8, &row);
    }
}

#[test]
fn beta_with_binomial() {
    for row in table("conjugate_beta_scipy") {
        let of = |column| number(&row, column);
        let after = ShareBelief::of(of("mean"), of("known")).after(of("spoiled"), of("pieces"));
        relative(after.mean(), of("posterior_mean"), 1e-8, &row);
        relative(after.sd(), of("posterior_sd"), 1e-7, &row);
        relative(after.next_sd(50.0), of("next_sd"), 1e-8, &row);
    }
}

/// The shop that comes back is the one that was given, to the last bit, given or not.
#[test]
fn without_records_nothing_changes() {
    let own = json!({ "from": "starter-shop", "spoilage_fraction": 0.0375, "spoilage_known_from": 77, "setup_per_screen": "7.3 min",
        "exposure": { "time": "95.7 s", "solid_step": 6, "tested_on": "77-55" } });
    for shop in [starter(), own] {
        let request = LearnRequest::from_json(&json!({ "records": [], "shop": shop })).unwrap();
        let learned = LEARN.answer(&request).unwrap();
        assert_eq!(Some(&learned.shop), request.shop.as_ref());
        assert!(learned.rows.is_empty() && learned.outliers.is_empty() && learned.notes().is_empty());
        let bits =
            |shop: &floodbar::job::Shop| [shop.spoilage_fraction.to_bits(), shop.setup_per_screen.value.to_bits()];
        assert_eq!(bits(&learned.shop), bits(request.shop.as_ref().unwrap()));
    }
    let nobody = calculate("shop.learn", &json!({ "records": [] })).unwrap();
    assert_eq!(nobody["shop"], learn(&[], &starter())["shop"]);
}

/// A thirteenth fit, and one record over a thousand, are refused before any work.
#[test]
fn records_are_bounded() {
    let probe = json!({ "kind": "probe", "ink": "plastisol", "cloth": "cotton-jersey-180",
        "runs": [{ "belt_speed": "2 m/min", "readings": [{ "at": "1 m", "temperature": "150 degC" }] }] });
    let setup = json!({ "kind": "setup", "setup_time": "30 min", "screens": 3 });
    for (record, count) in [(probe, 13), (setup, 1_001)] {
        let request = json!({ "records": vec![record; count] });
        let error = calculate("shop.learn", &request).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (Code::TooLong, "/records"));
    }
}

/// As many probes as may be are within the work of one answer, and a dozen alike pull the factor nearly all the way.
#[test]
fn twelve_probes_are_answered() {
    let fit: Value = floodbar::catalogue::find("dryer.fit").unwrap().entry().prose.example.parse().unwrap();
    let factor = at(&calculate("dryer.fit", &fit).unwrap(), "/transfer_factor").ln();
    let probe = json!({ "kind": "probe", "ink": fit["ink"], "cloth": fit["cloth"], "runs": fit["runs"] });
    let learned = learn(&vec![probe; 12], &starter());
    // Prior ln 2 / 1.96; twelve alike: 0.15^2 x 4 / (4 + 11).
    let (prior, found) = ((1.959_963_984_540_054 / 2.0_f64.ln()).powi(2), 12.0 * 15.0 / (4.0 * 0.15 * 0.15));
    relative(at(&learned, "/rows/0/value/value").ln(), factor * found / (prior + found), 1e-9, &learned["rows"]);
    assert_eq!(learned["shop"]["dryer"]["fitted"], true);
}

/// What was learned goes back into the plan and the blanks: the shop of an answer is a shop of a request.
#[test]
fn the_learned_spoilage_reaches_the_blanks() {
    let records: Vec<Value> =
        [(240, 5), (96, 1), (500, 9)].map(|(n, bad)| json!({ "kind": "spoilage", "pieces": n, "spoiled": bad })).into();
    let learned = learn(&records, &starter());
    let (share, known) = (at(&learned, "/shop/spoilage_fraction"), at(&learned, "/shop/spoilage_known_from"));
    let plan = json!({ "pieces": 300, "cloth": "cotton-jersey-180", "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm",
        "screens": [{ "name": "a", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.1 }] }],
        "shop": { "from": "starter-shop", "spoilage_fraction": share, "spoilage_known_from": known } });
    let planned = calculate("job.plan", &plan).unwrap();
    let (start_with, probability) = blanks_known_from(300, share, Some(known), 0.9).unwrap();
    assert_eq!(at(&planned, "/blanks/start_with"), f64::from(start_with));
    relative(at(&planned, "/blanks/probability"), probability, 1e-12, &plan);
}

/// Three that agree outweigh the built-in value; two do not, and are named.
#[test]
fn few_are_judged_by_the_built_in_value_and_three_by_one_another() {
    let setup = |minutes: f64| json!({ "kind": "setup", "setup_time": format!("{minutes} min"), "screens": 1 });
    let two = learn(&[setup(100.0), setup(104.0)], &starter());
    assert!(two["rows"].as_array().unwrap().is_empty() && noted(&two, "record_left_out"));
    assert_eq!(two["outliers"].as_array().unwrap().len(), 2);
    assert_eq!(two["shop"], learn(&[], &starter())["shop"]);
    let three = learn(&[setup(100.0), setup(104.0), setup(97.0)], &starter());
    assert_eq!(at(&three, "/rows/0/records"), 3.0);
    assert!(at(&three, "/rows/0/value/value") > 40.0 && !noted(&three, "record_left_out"));
}

#[derive(Debug, Clone)]
enum Job {
    Weigh(f64),
    Setup(f64, u32),
    Scale(f64, f64),
    Spoiled(u32, f64),
}

fn job() -> impl Strategy<Value = Job> {
    prop_oneof![
        (5.0_f64..40.0).prop_map(Job::Weigh),
        (1.0_f64..200.0, 1_u32..8).prop_map(|(minutes, screens)| Job::Setup(minutes, screens)),
        (40.0_f64..400.0, 4.0_f64..9.0).prop_map(|(time, step)| Job::Scale(time, step)),
        (1_u32..2000, 0.0_f64..0.2).prop_map(|(pieces, share)| Job::Spoiled(pieces, share)),
    ]
}

fn written(job: &Job) -> Value {
    match job {
        Job::Weigh(grams) => {
            json!({ "kind": "weigh", "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 12,
            "mass_before": "0 g", "mass_after": { "value": grams, "unit": "g" } })
        }
        Job::Setup(minutes, screens) => {
            json!({ "kind": "setup", "setup_time": { "value": minutes, "unit": "min" }, "screens": screens })
        }
        Job::Scale(time, step) => {
            json!({ "kind": "step_scale", "mesh": "77-55", "time": { "value": time, "unit": "s" }, "solid_step": step })
        }
        Job::Spoiled(pieces, share) => {
            json!({ "kind": "spoilage", "pieces": pieces, "spoiled": (f64::from(*pieces) * share) as u32 })
        }
    }
}

fn tested() -> Value {
    json!({ "from": "starter-shop", "exposure": { "time": "95 s", "solid_step": 6, "tested_on": "77-55" } })
}

/// What one record tells alone, as far as it can be told from outside.
fn tells(record: &Value) -> f64 {
    let of = |pointer: &str| at(record, pointer);
    match record["kind"].as_str().unwrap() {
        "weigh" => {
            let mut request = record.clone();
            request.as_object_mut().unwrap().remove("kind");
            at(&calculate("ink.weigh", &request).unwrap(), "/release_fraction")
        }
        "setup" => of("/setup_time/value") / of("/screens"),
        "step_scale" => of("/time/value") * 10_f64.powf(0.15 * (7.0 - of("/solid_step"))),
        _ => of("/spoiled") / of("/pieces"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Neither the answer's rows nor the shop hang on the order of the records; each value lies between the built-in one and those that
    /// count; every record either counts or is named.
    #[test]
    fn any_records(jobs in proptest::collection::vec(job(), 1..14), turn in 0_usize..14) {
        let records: Vec<Value> = jobs.iter().map(written).collect();
        let answer = learn(&records, &tested());
        let mut other = records.clone();
        other.rotate_left(turn % records.len());
        other.reverse();
        let turned = learn(&other, &tested());
        prop_assert_eq!(&answer["rows"], &turned["rows"]);
        prop_assert_eq!(&answer["shop"], &turned["shop"]);
        let (rows, outliers) = (answer["rows"].as_array().unwrap(), answer["outliers"].as_array().unwrap());
        let counted: f64 = rows.iter().map(|row| at(row, "/records")).sum();
        prop_assert_eq!(counted as usize + outliers.len(), records.len());
        let out: Vec<usize> = outliers.iter().map(|outlier| at(outlier, "/record") as usize).collect();
        for row in rows {
            let (built_in, value) = (at(row, "/built_in/value"), at(row, "/value/value"));
            let of_kind = records.iter().enumerate().filter(|(index, record)| record["kind"] == row["kind"] && !out.contains(index));
            let told: Vec<f64> = of_kind.map(|(_, record)| tells(record)).collect();
            let low = told.iter().copied().fold(built_in, f64::min);
            let high = told.iter().copied().fold(built_in, f64::max);
            prop_assert!(low * (1.0 - 1e-9) <= value && value <= high * (1.0 + 1e-9), "{row}: {told:?}");
            prop_assert!(at(row, "/half_width/value") >= 0.0);
        }
    }

    /// The same record again and again pulls its number towards it, and makes it surer.
    #[test]
    fn the_same_again_pulls_further(job in job()) {
        let record = written(&job);
        let told = tells(&record);
        let mut before: Option<(f64, f64)> = None;
        for count in [1, 2, 3, 5, 9, 20] {
            let answer = learn(&vec![record.clone(); count], &tested());
            let Some(row) = answer["rows"].get(0) else { continue };
            let (off, built_in) = ((at(row, "/value/value") - told).abs(), at(row, "/built_in/value"));
            prop_assert!(off <= (built_in - told).abs() * (1.0 + 1e-9) + 1e-12 * told);
            if let Some((further, wider)) = before {
                prop_assert!(off <= further * (1.0 + 1e-9) + 1e-12 * told, "{count}: {off} after {further}");
                let width = at(row, "/half_width/value") / at(row, "/value/value").max(1e-300);
                prop_assert!(record["kind"] == "spoilage" || width <= wider * (1.0 + 1e-9), "{count}");
            }
            before = Some((off, at(row, "/half_width/value") / at(row, "/value/value").max(1e-300)));
        }
    }

    /// A share in doubt takes no fewer blanks than an exact one where much certainty is wanted, and as many where the doubt is gone.
    #[test]
    fn doubt_costs_blanks(pieces in 1_u32..3000, share in 0.0_f64..0.3, known in 30.0_f64..5000.0) {
        let (exact, _) = blanks(pieces, share, 0.95).unwrap();
        let (doubted, chance) = blanks_known_from(pieces, share, Some(known), 0.95).unwrap();
        prop_assert!(doubted >= exact.saturating_sub(1), "{doubted} and {exact}");
        prop_assert!((0.95 * (1.0 - 1e-11)..=1.0).contains(&chance));
        let (sure, near) = blanks_known_from(pieces, share, Some(1e9), 0.95).unwrap();
        prop_assert!(sure.abs_diff(exact) <= 1, "{sure} and {exact}, {near}");
    }
}

/// What is built in Rust is checked as what is read.
#[test]
fn records_built_in_rust_are_checked() {
    let request = LearnRequest::new().records([ShopRecord::new().kind(RecordKind::Spoilage).pieces(10_u32)]);
    let error = LEARN.answer(&request).unwrap_err();
    assert_eq!((error.code, error.field.as_str()), (Code::MissingField, "/records/0/spoiled"));
}
