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

/// A flash of hot air that gives a fifth more than is believed: its readings, made by `flash.dwell`, are found to say so, and the shop's
/// flash moves that way, not all of it by one record.
#[test]
fn a_flash_of_air_is_learned() {
    let flash = |transfer: f64| json!({ "air": "200 degC", "transfer": { "value": transfer, "unit": "W/(m2.K)" }, "customary_dwell": "6 s" });
    let mut request = json!({ "flash": flash(72.0), "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped" });
    let profile = calculate("flash.dwell", &request).unwrap()["profile"].clone();
    let reading = |moment: usize| json!({ "time": profile["time"][moment], "temperature": profile["top"][moment], "measured": "surface" });
    let readings = [8, 16, 24, 32, 40].map(reading);
    let runs = json!([{ "dwell": profile["time"][40], "readings": readings }]);
    (request["flash"], request["runs"]) = (flash(60.0), runs.clone());
    let fit = calculate("flash.fit", &request).unwrap();
    relative(at(&fit, "/transfer_factor"), 1.2, 1e-3, &fit);
    let record =
        json!({ "kind": "flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "flashes": runs });
    let learned = learn(&[record], &json!({ "from": "starter-shop", "flash": flash(60.0) }));
    let factor = at(&learned, "/rows/0/value/value");
    assert!(learned["rows"][0]["field"] == "transfer_factor" && 1.05 < factor && factor < 1.2, "{}", learned["rows"]);
    relative(at(&learned, "/shop/flash/transfer/value"), 60.0 * factor, 1e-12, &learned["shop"]["flash"]);
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
    let fit = floodbar_tests::compare::example("dryer.fit");
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

/// Sums of fractions of whole numbers (Python's fractions.Fraction).
#[test]
fn the_tail_of_the_beta_binomial() {
    for (a, b, count, pieces, chance) in [
        (1.0, 1.0, 3, 4, 0.4),
        (1.0, 39.0, 1, 1, 0.025),
        (1.0, 39.0, 3, 4, 0.000_324_122_842_557_329_23),
        (1.25, 48.75, 12, 240, 0.148_705_267_344_098_6),
        (1.25, 48.75, 120, 200, 1.222_209_280_847_655_8e-16),
        (10.0, 30.0, 60, 100, 7.604_287_932_135_954e-5),
        (2.0, 98.0, 0, 5, 1.0),
        (2.0, 98.0, 6, 5, 0.0),
    ] {
        let got = ShareBelief { a, b }.next_reach(count, pieces);
        assert!((got - chance).abs() < 1e-11, "{count} of {pieces}: {got}, not {chance}");
    }
}

fn spoiled(jobs: &[(usize, u32, u32)]) -> Vec<Value> {
    let one = |(_, of, bad): &(usize, u32, u32)| json!({ "kind": "spoilage", "pieces": of, "spoiled": bad });
    jobs.iter().flat_map(|job| vec![one(job); job.0]).collect()
}

/// By hand: beta of 0.025 n and 0.975 n with n = 50.84, as 5 of 100 and 15 of 400 pieces are counted. A spoiled piece of one, or one of
/// four, is no fault of the batch, nor is 12 of 240 for a shop that knows its mean well: the chance of so many or more is 15 %.
#[test]
fn small_counts_are_not_far_off() {
    let known = |share: f64| json!({ "from": "starter-shop", "spoilage_fraction": share, "spoilage_known_from": 5000 });
    for (jobs, shop, share) in [
        (spoiled(&[(95, 1, 0), (5, 1, 1)]), starter(), 0.041_573_879_931_308_6),
        (spoiled(&[(85, 4, 0), (15, 4, 1)]), starter(), 0.036_090_415_023_691_64),
        (spoiled(&[(1, 240, 12)]), known(0.02), 112.0 / 5240.0),
        (spoiled(&[(1, 240, 12), (1, 200, 120)]), known(0.02), 112.0 / 5240.0),
    ] {
        let learned = learn(&jobs, &shop);
        relative(at(&learned, "/rows/0/value/value"), share, 1e-8, &learned["rows"]);
        let out = learned["outliers"].as_array().unwrap();
        assert!(out.iter().all(|outlier| at(outlier, "/value/value") == 0.6), "{out:?}");
        assert_eq!(out.len() + at(&learned, "/rows/0/records") as usize, jobs.len());
    }
    // Nor is such a count let pass where three agree on less.
    let batch = learn(&spoiled(&[(4, 200, 4), (1, 200, 40)]), &starter());
    assert_eq!((at(&batch, "/outliers/0/record"), at(&batch, "/outliers/0/expected/value")), (4.0, 0.02));
}

/// A job of which exactly half was spoiled is left out, but not as one of which more than half was.
#[test]
fn half_is_not_more_than_half() {
    for (bad, more) in [(30, false), (31, true)] {
        let learned = learn(&spoiled(&[(1, 200, 4), (1, 150, 3), (1, 300, 7), (1, 60, bad)]), &starter());
        let said = learned["notes"].as_array().unwrap().iter().find(|note| note["code"] == "record_left_out").unwrap();
        assert_eq!(
            (&said["field"], said["message"].as_str().unwrap().contains("more than half")),
            (&json!("/records/3"), more)
        );
    }
}

/// What a record cannot be has no say in what others are: two barred ones are no third and fourth.
#[test]
fn barred_records_judge_no_other() {
    // By hand: a release of 1 is 12 x 460 cm2 x 1.44 g/cm3 x 40.310 um = 32.04 g.
    let weighed = |release: f64| {
        json!({ "kind": "weigh", "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 12,
            "mass_before": "0 g", "mass_after": { "value": 32.042 * release, "unit": "g" } })
    };
    let learned = learn(&[weighed(0.399), weighed(3.99), weighed(4.37)], &starter());
    let out: Vec<f64> = learned["outliers"].as_array().unwrap().iter().map(|one| at(one, "/record")).collect();
    assert_eq!(out, [1.0, 2.0]);
    assert_eq!((at(&learned, "/rows/0/records"), at(&learned, "/outliers/0/expected/value")), (1.0, 0.4));
    let learned = learn(&spoiled(&[(1, 200, 4), (1, 200, 120), (1, 200, 150)]), &starter());
    assert_eq!((at(&learned, "/outliers/0/record"), at(&learned, "/outliers/0/expected/value")), (1.0, 0.025));
}

/// The learned shop is a shop that can be asked with, however much was counted, and none spoiled is no certainty.
#[test]
fn the_learned_shop_can_be_asked_with() {
    let shop = |share: f64, known: f64| json!({ "from": "starter-shop", "spoilage_fraction": share, "spoilage_known_from": known });
    let many = learn(&spoiled(&[(120, 10_000_000, 200_000)]), &starter());
    assert_eq!(at(&many, "/shop/spoilage_known_from"), 1e9);
    learn(&[], &many["shop"]);
    // By hand: (5 + 40) of (10 + 40) is more than a half.
    let half = learn(&spoiled(&[(20, 2, 2)]), &shop(0.5, 10.0));
    assert_eq!((at(&half, "/shop/spoilage_fraction"), at(&half, "/rows/0/records")), (0.5, 20.0));
    learn(&[], &half["shop"]);
    // By hand: half a piece of 100, and none of 20.
    let none = learn(&spoiled(&[(1, 20, 0)]), &shop(0.0, 100.0));
    relative(at(&none, "/shop/spoilage_fraction"), 0.5 / 120.0, 1e-12, &none["rows"]);
    assert!(at(&none, "/rows/0/half_width/value") > 0.0);
}

/// A fit's factor is moved towards 1: where that makes the machine hotter than its readings it is told, and one fit makes none fitted.
/// What cannot tell air from panel is left out.
#[test]
fn a_learned_dryer_is_no_hotter_than_probed_unless_told() {
    let runs = |speed: &str, readings: &[(&str, f64)]| {
        let readings: Vec<Value> =
            readings.iter().map(|(at, t)| json!({ "at": at, "temperature": { "value": t, "unit": "degC" } })).collect();
        json!({ "belt_speed": speed, "readings": readings })
    };
    let infrared = |t: [f64; 3]| runs("1.2 m/min", &[("0.4 m", t[0]), ("0.8 m", t[1]), ("1.2 m", t[2])]);
    let air = |t: [f64; 3]| runs("2 m/min", &[("0.5 m", t[0]), ("1.0 m", t[1]), ("1.5 m", t[2])]);
    let (mut told, mut barred) = (0, 0);
    for (dryer, run) in [
        ("infrared-dryer-1m2", infrared([100.0, 135.0, 155.0])),
        ("air-dryer-2m", air([75.0, 105.0, 125.0])),
        ("air-dryer-2m", air([118.0, 157.0, 169.0])),
    ] {
        let request = json!({ "dryer": dryer, "ink": "plastisol", "cloth": "cotton-jersey-180", "runs": [run] });
        let fit = calculate("dryer.fit", &request).unwrap();
        let probe = json!({ "kind": "probe", "ink": "plastisol", "cloth": "cotton-jersey-180", "runs": [run] });
        let learned = learn(&[probe], &json!({ "from": "starter-shop", "dryer": dryer }));
        assert!(learned["shop"]["dryer"].get("fitted").is_none(), "{dryer}");
        let rows = learned["rows"].as_array().unwrap();
        let hotter = rows
            .iter()
            .any(|row| at(row, "/value/value") > 1.02 * at(&fit, &format!("/{}", row["field"].as_str().unwrap())));
        assert_eq!(noted(&learned, "hotter_than_probed"), hotter, "{dryer}");
        assert_eq!(rows.is_empty(), fit["distinguishable"] == false, "{dryer}");
        if rows.is_empty() {
            assert!(learned["outliers"][0]["why"].as_str().unwrap().contains("tell air from panel"));
            barred += 1;
        }
        told += usize::from(hotter);
    }
    assert!(told >= 1 && told + barred >= 2, "{told} {barred}");
}

fn scale(mesh: Value, time: f64, solid: f64) -> Value {
    json!({ "kind": "step_scale", "mesh": mesh, "time": { "value": time, "unit": "s" }, "solid_step": solid })
}

fn plan_of(shop: &Value, screen: &Value) -> Value {
    calculate(
        "job.plan",
        &json!({ "pieces": 24, "cloth": "cotton-jersey-180", "shop": shop,
        "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [screen] }] }),
    )
    .unwrap_or_else(|error| panic!("{error}"))
}

/// A lamp that ages: the test stays what was tried, its scale is read lower, and the plan asks for the learned time.
#[test]
fn a_learned_exposure_is_no_test_that_held() {
    let shop = json!({ "from": "starter-shop", "exposure": { "time": "95 s", "solid_step": 7, "tested_on": "77-55" } });
    let learned = learn(&[scale(json!("77-55"), 95.0, 5.0), scale(json!("77-55"), 95.0, 5.0)], &shop);
    let time = at(&learned, "/rows/0/value/value");
    // By hand: the records say 95 x 10^0.3 = 189.55 s, which two of them do not quite reach against the shop's 95 s.
    assert!((140.0..175.0).contains(&time) && noted(&learned, "shorter_than_the_records"));
    assert_eq!(at(&learned, "/shop/exposure/time/value"), 95.0);
    relative(at(&learned, "/shop/exposure/solid_step"), 7.0 - (time / 95.0).log10() / 0.15, 1e-12, &learned["shop"]);
    let screen = json!({ "name": "a", "ink": "water-based", "mesh": "77-55", "coverage_fraction": 0.1 });
    let plan = plan_of(&learned["shop"], &screen);
    relative(at(&plan, "/screens/0/stencil/exposure_time/value"), time, 1e-9, &plan["screens"]);
    assert_eq!(plan["screens"][0]["stencil"]["after_test"], "post_expose");
    // Of many alike the records are all that counts, and none is cautioned of.
    let many = learn(&vec![scale(json!("77-55"), 95.0, 5.0); 40], &shop);
    assert!(!noted(&many, "shorter_than_the_records"));
    // Where no scale has such a step the learned time stands in the test's place.
    let short = json!({ "from": "starter-shop", "exposure": { "time": "95 s", "solid_step": 1, "wanted_step": 1, "tested_on": "77-55" } });
    let one = json!({ "kind": "step_scale", "mesh": "77-55", "time": "120 s", "solid_step": 1 });
    let learned = learn(&[one], &short);
    relative(at(&learned, "/shop/exposure/time/value"), at(&learned, "/rows/0/value/value"), 1e-12, &learned["shop"]);
    assert_eq!(at(&learned, "/shop/exposure/solid_step"), 1.0);
}

/// A shop without a test takes the step and the density that its records were read by.
#[test]
fn a_first_test_is_read_as_its_records() {
    let mut record = scale(json!("77-55"), 95.0, 6.0);
    record["wanted_step"] = json!(8);
    record["density_per_step"] = json!(0.1);
    let learned = learn(&[record], &starter());
    let of = |member: &str| at(&learned, &format!("/shop/exposure/{member}"));
    assert_eq!((of("wanted_step"), of("solid_step"), of("density_per_step")), (8.0, 8.0, 0.1));
    relative(of("time/value"), 95.0 * 10_f64.powf(0.2), 1e-12, &learned["shop"]);
}

/// Two meshes, or two inks, of one name are two.
#[test]
fn a_name_is_no_identity() {
    let woven = |thread: &str| json!({ "count": "50 /cm", "thread": thread });
    let shop = json!({ "from": "starter-shop", "exposure": { "time": "95 s", "solid_step": 7, "tested_on": woven("70.4 um") } });
    let learned = learn(&[scale(woven("69.6 um"), 200.0, 7.0)], &shop);
    assert_eq!((&learned["rows"][0]["name"], at(&learned, "/shop/exposure/solid_step")), (&json!("50-70"), 7.0));
    assert!(noted(&learned, "exposure_of_other_meshes"));
    let weighed = |density: &str, grams: f64| {
        json!({ "kind": "weigh", "mesh": "55-64", "ink": { "from": "plastisol-white", "density": density }, "printed_area": "460 cm2",
            "prints": 12, "mass_before": "0 g", "mass_after": { "value": grams, "unit": "g" } })
    };
    let mut records = vec![weighed("1.2 g/cm3", 12.0), weighed("1.4 g/cm3", 13.0), weighed("1.2 g/cm3", 11.0)];
    let learned = learn(&records, &starter());
    assert_eq!(learned["rows"].as_array().unwrap().len(), 2);
    records.rotate_left(1);
    assert_eq!(learn(&records, &starter())["rows"], learned["rows"]);
}

/// Under ink with water a short screen is cautioned of, and a full one told; under plastisol neither, and nothing is said of a screen
/// that would be hard if its mesh were the tested one.
#[test]
fn the_plan_tells_what_the_test_makes_of_a_screen() {
    for (ink, mesh, solid, level) in [
        ("water-based", "77-55", 7, Some("info")),
        ("discharge", "77-55", 7, Some("info")),
        ("plastisol", "77-55", 7, None),
        ("water-based", "77-55", 6, Some("caution")),
        ("discharge", "77-55", 4, Some("caution")),
        ("plastisol", "77-55", 4, None),
        ("water-based", "120-34", 7, None),
        ("water-based", "120-34", 6, Some("caution")),
    ] {
        let shop = json!({ "from": "starter-shop", "exposure": { "time": "95 s", "solid_step": solid, "tested_on": "77-55" } });
        let plan = plan_of(&shop, &json!({ "name": "a", "ink": ink, "mesh": mesh, "coverage_fraction": 0.1 }));
        let note = plan["notes"].as_array().unwrap().iter().find(|note| note["code"] == "post_exposure");
        assert_eq!(note.and_then(|note| note["level"].as_str()), level, "{ink} on {mesh} at {solid}");
    }
}

#[derive(Debug, Clone)]
enum Job {
    Weigh(f64),
    Setup(f64, u32),
    Scale(f64, f64),
    Spoiled(u32, u32),
}

fn job() -> impl Strategy<Value = Job> {
    prop_oneof![
        (5.0_f64..40.0).prop_map(Job::Weigh),
        (1.0_f64..200.0, 1_u32..8).prop_map(|(minutes, screens)| Job::Setup(minutes, screens)),
        (40.0_f64..400.0, 4.0_f64..9.0).prop_map(|(time, step)| Job::Scale(time, step)),
        (prop_oneof![1_u32..13, 1_u32..2000], 0.0_f64..0.2, any::<u64>()).prop_map(|(pieces, share, seed)| {
            // SplitMix64 (Steele, Lea, Flood, 2014): each piece is spoiled or not.
            let mut state = seed;
            let mut drawn = || {
                state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
                let mut mixed = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
                mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
                (mixed ^ (mixed >> 31)) as f64 / 2.0_f64.powi(64)
            };
            Job::Spoiled(pieces, (0..pieces).filter(|_| drawn() < share).count() as u32)
        }),
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
        Job::Spoiled(pieces, spoiled) => json!({ "kind": "spoilage", "pieces": pieces, "spoiled": spoiled }),
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
