//! The window of the belt: its ends marched again by `heat.layers`, and what must always hold of a recommendation, of the limits that
//! heat sets, and of the advice where there is no window.

use floodbar::calculate;
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, near, seconds};
use proptest::prelude::RngExt as _;
use proptest::test_runner::{RngAlgorithm, TestRng};
use serde_json::{Value, json};

fn rng(seed: u8) -> TestRng {
    TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32])
}

fn window(dryer: &Value, ink: &Value, cloth: &Value) -> Option<Value> {
    let request = json!({ "dryer": dryer, "ink": ink, "cloth": cloth });
    match calculate("dryer.window", &request) {
        Ok(answer) => Some(answer),
        Err(error) => {
            assert_eq!(error.code.text(), "no_solution", "{request}: {error}");
            None
        }
    }
}

fn speed(answer: &Value, end: &str) -> f64 {
    at(answer, &format!("/{end}/value"))
}

/// One dryer, ink and cloth out of many.
fn draw(rng: &mut TestRng) -> (Value, Value, Value) {
    let pick = |rng: &mut TestRng, of: &[&str]| of[rng.random_range(0..of.len())].to_owned();
    let celsius = |value: f64| json!({ "value": value, "unit": "degC" });
    let mut dryer = match rng.random_range(0..4) {
        0 => json!({ "from": "infrared-dryer-1m2", "panel": celsius(rng.random_range(350.0..560.0)) }),
        1 => {
            json!({ "kind": "gas_jet", "heated_length": { "value": rng.random_range(1.0..6.0), "unit": "m" }, "air": celsius(rng.random_range(140.0..220.0)) })
        }
        _ => json!({ "from": "air-dryer-2m", "air": celsius(rng.random_range(140.0..220.0)) }),
    };
    if rng.random_bool(0.5) {
        dryer["fitted"] = json!(true);
    }
    let inks =
        ["plastisol", "plastisol-white", "plastisol-low-cure", "plastisol-low-bleed-white", "water-based", "silicone"];
    let cloths =
        ["cotton-jersey-180", "cotton-fleece-280", "polyester-jersey-150", "blend-jersey-160", "nylon-shell-90"];
    (dryer, pick(rng, &inks).into(), pick(rng, &cloths).into())
}

/// A recommendation lies inside of its window, by a tenth of it at least.
#[test]
fn a_recommendation_is_never_near_an_end() {
    let mut rng = rng(19);
    let (mut found, wanted) = (0, cases(150, 1000));
    while found < wanted {
        let (dryer, ink, cloth) = draw(&mut rng);
        let Some(answer) = window(&dryer, &ink, &cloth) else { continue };
        found += 1;
        let [slow, at, fast] = ["slowest", "recommended", "fastest"].map(|end| speed(&answer, end).ln());
        let tenth = 0.0999 * (fast - slow);
        assert!(slow + tenth <= at && at <= fast - tenth, "{dryer} {ink} {cloth}: {answer}");
    }
}

/// A trip through the one zone of a stock dryer for so long, as `heat.layers` has it: the film's bottom and the cloth's hottest face at
/// even moments, degC.
fn trip(zone: &Value, film: &Value, cloth: &Value, dwell: f64) -> Vec<(f64, f64, f64)> {
    const MOMENTS: usize = 2000;
    let face = |transfer: &str, panel: bool| {
        let mut face = json!({ "air": zone["air"], "transfer": zone[transfer], "humidity_ratio": 0.020 });
        if panel && zone.get("panel").is_some() {
            face["panel"] = zone["panel"].clone();
            face["exchange_fraction"] = zone["exchange_fraction"].clone();
        }
        face
    };
    let time = |seconds: f64| json!({ "value": seconds, "unit": "s" });
    let moments: Vec<f64> = (0..=MOMENTS).map(|i| dwell * i as f64 / MOMENTS as f64).collect();
    let request = json!({
        "layers": [film, cloth], "start": "25 degC", "tolerance": "0.01 K",
        "stages": [{ "duration": time(dwell), "top": face("transfer_top", true), "bottom": face("transfer_bottom", false) }],
        "report_at": moments.iter().map(|moment| time(*moment)).collect::<Vec<_>>(),
    });
    let answer = ask("heat.layers", &request);
    let read = |pointer: String| at(&answer, &pointer);
    moments
        .iter()
        .enumerate()
        .map(|(i, moment)| {
            let joint = read(format!("/interfaces/0/{i}/value"));
            (*moment, joint, joint.max(read(format!("/bottom/{i}/value"))))
        })
        .collect()
}

/// Both ends of the window, marched by `heat.layers`: at the fastest belt the ink has just cured, at the slowest the cloth has just had
/// the dose that scorches it, by the trapezoid rule over 2,000 moments.
#[test]
fn the_ends_are_where_the_solver_says() {
    let film = json!({ "name": "film", "thickness": "40 um", "conductivity": "0.17 W/(m.K)", "density": "1.15 g/cm3", "specific_heat": "1500 J/(kg.K)" });
    let cloth = json!({ "name": "jersey", "thickness": "0.55 mm", "conductivity": "0.055 W/(m.K)",
        "density": { "value": 180.0 / 0.55e-3 / 1000.0, "unit": "kg/m3" }, "specific_heat": "1340 J/(kg.K)", "bound_water": "13.5 g/m2" });
    let (hold, reference, energy) = (120.0, 453.15, 120e3 / 8.314_462_618_153_24);
    for air in [172.0, 180.0, 190.0] {
        let air = json!({ "value": air, "unit": "degC" });
        let dryer = json!({ "from": "air-dryer-2m", "air": air });
        let answer = window(&dryer, &"plastisol".into(), &"cotton-jersey-180".into()).unwrap();
        assert_eq!(answer["limits"], json!({ "fastest": "cure", "slowest": "cloth_scorch" }), "{air}");
        let zone = json!({ "air": air, "transfer_top": "20 W/(m2.K)", "transfer_bottom": "12 W/(m2.K)" });
        let dwell = |end: &str| 2.0 / (speed(&answer, end) / 60.0);
        let fastest = trip(&zone, &film, &cloth, dwell("fastest"));
        // The exit is where it cures; how fast the ink still warms there is what an error in the dwell is worth.
        let [.., (before, cooler, _), (exit, ink, _)] = fastest[..] else { panic!("no trip") };
        let rate = (ink - cooler) / (exit - before);
        near((160.0 - ink) / rate, 0.0, 1e-3 * exit, "seconds from cure at the fastest belt");
        let slowest = trip(&zone, &film, &cloth, dwell("slowest"));
        let rate = |celsius: f64| (-energy * (1.0 / (celsius + 273.15) - 1.0 / reference)).exp();
        let dose: f64 =
            slowest.windows(2).map(|pair| (pair[1].0 - pair[0].0) * 0.5 * (rate(pair[0].2) + rate(pair[1].2))).sum();
        near(dose, hold, 2e-3 * hold, "dose at the slowest belt");
    }
}

/// A degree more of the air never changes at a stroke how long cotton may stay.
#[test]
fn the_limit_of_scorching_has_no_cliff() {
    let ink = json!({ "from": "plastisol", "never_above": "250 degC" });
    let mut last: Option<f64> = None;
    for step in 0..=180 {
        let air = 170.0 + 0.25 * f64::from(step);
        let dryer = json!({ "from": "air-dryer-2m", "air": { "value": air, "unit": "degC" } });
        let slowest = speed(&window(&dryer, &ink, &"cotton-jersey-180".into()).unwrap(), "slowest").ln();
        if let Some(last) = last {
            assert!(slowest >= last - 1e-4, "{air}: hotter air may not give more time");
            assert!(slowest - last < 0.06, "{air}: {} more", slowest - last);
        }
        last = Some(slowest);
    }
}

/// A wider belt never carries less, and three lanes carry three times as much.
#[test]
fn a_wider_belt_carries_more() {
    let rate = |width: f64| {
        let dryer = json!({ "from": "air-dryer-2m", "belt_width": { "value": width, "unit": "m" } });
        at(&window(&dryer, &"plastisol".into(), &"cotton-jersey-180".into()).unwrap(), "/pieces_per_hour")
    };
    let widths: Vec<f64> = (3..30).map(|tenth| f64::from(tenth) / 10.0).collect();
    assert!(widths.windows(2).all(|pair| rate(pair[0]) <= rate(pair[1])));
    near(rate(1.8) / rate(0.75), 3.0, 1e-9, "three lanes of 0.6 m");
}

/// What a refusal names does open a window.
#[test]
fn the_setting_that_is_named_opens_a_window() {
    let mut rng = rng(20);
    let (mut named, mut tried) = (0, 0);
    while named < cases(25, 200) {
        let (dryer, ink, cloth) = draw(&mut rng);
        tried += 1;
        assert!(tried < 20_000, "only {named} refusals name a setting");
        let request = json!({ "dryer": dryer, "ink": ink, "cloth": cloth });
        let Err(error) = calculate("dryer.window", &request) else { continue };
        let Some((_, rest)) = error.message.split_once(": set the ") else { continue };
        let setting: f64 = rest.split_once(" to ").and_then(|(_, to)| to.split(' ').next()?.parse().ok()).unwrap();
        let word = if rest.starts_with("panel") { "panel" } else { "air" };
        let mut set = dryer.clone();
        set[word] = json!({ "value": setting, "unit": "degC" });
        assert!(window(&set, &ink, &cloth).is_some(), "{dryer} {ink} {cloth}: {}", error.message);
        named += 1;
    }
}

/// Where the belt is too fast for the customary dwell at any setting, the widest window of all marks of the dial is named.
#[test]
fn the_widest_window_is_named() {
    let mut named = Vec::new();
    for belt_least in ["2.2 m/min", "2.5 m/min", "3 m/min"] {
        let request = |air: i32| {
            json!({
                "dryer": { "from": "air-dryer-2m", "air": { "value": air, "unit": "degC" }, "belt_least": belt_least, "belt_most": "12 m/min" },
                "ink": { "from": "plastisol", "customary_dwell": "100 s" },
                "cloth": "cotton-jersey-180",
            })
        };
        let width = |air: i32| {
            let window = calculate("dryer.window", &request(air)).ok()?;
            Some(speed(&window, "fastest") / speed(&window, "slowest"))
        };
        let (widest, _) =
            (0..=225).step_by(5).filter_map(|air| Some((air, width(air)?))).max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
        let error = calculate("dryer.window", &request(100)).expect_err("too cold");
        assert!(
            error.message.contains(&format!(": set the air of every zone to {widest} \u{b0}C")),
            "{belt_least}: {error}"
        );
        named.push(widest);
    }
    // A faster belt asks for hotter air: that is told from a setting that is named whatever the belt.
    assert!(named.is_sorted_by(|a, b| a < b), "{named:?}");
}

/// In the units of the United States a setting is a mark of such a dial: 10 degF of the air, 25 degF of a panel; and it opens a window.
#[test]
fn a_setting_in_degrees_fahrenheit() {
    for (dryer, word, step) in [
        (json!({ "from": "air-dryer-2m", "air": "150 degC" }), "air", 10.0),
        (json!({ "from": "infrared-dryer-1m2", "panel": "200 degC" }), "panel", 25.0),
    ] {
        let mut request = json!({ "dryer": dryer, "ink": "plastisol", "cloth": "cotton-jersey-180", "units": "us" });
        let error = calculate("dryer.window", &request).unwrap_err();
        let set = error.message.split_once(": set the ").and_then(|(_, rest)| rest.split_once(" to ")).unwrap().1;
        let setting: f64 = set.split(' ').next().unwrap().parse().unwrap();
        assert!(set.contains("\u{b0}F") && setting % step == 0.0, "{error}");
        request["dryer"][word] = json!({ "value": setting, "unit": "degF" });
        assert!(calculate("dryer.window", &request).is_ok(), "{error}");
    }
}

/// A print that is as hot as its ink must be when it goes in is cured on the fastest belt.
#[test]
fn a_print_that_goes_in_hot() {
    let request = |start: &str| json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180", "start": start });
    let (hot, cold) = (ask("dryer.window", request("165 degC")), ask("dryer.window", request("25 degC")));
    assert_eq!((&hot["limits"]["fastest"], &cold["limits"]["fastest"]), (&json!("belt"), &json!("cure")));
    near(speed(&hot, "fastest"), 6.0, 1e-9, "the belt's own end");
}

/// What a shop knows of an infrared dryer, as the stock has it, is that dryer.
#[test]
fn an_infrared_dryer_by_what_a_shop_knows() {
    let known = json!({ "kind": "infrared", "heated_length": "1.2 m", "panel": "430 degC", "belt_width": "0.6 m", "belt_least": "0.3 m/min", "belt_most": "6 m/min" });
    let [known, stocked] = [known, json!("infrared-dryer-1m2")]
        .map(|dryer| window(&dryer, &"plastisol".into(), &"cotton-jersey-180".into()).unwrap());
    for member in ["fastest", "slowest", "recommended", "profile", "pieces_per_hour"] {
        assert_eq!(known[member], stocked[member], "{member}");
    }
}

/// A cure that heat drives counts below its temperature too: it lets the belt run faster, and more so the less of it must be hot.
#[test]
fn a_cure_that_heat_drives_is_had_sooner() {
    let fastest = |ink: &str, more: Value| {
        let mut ink = json!({ "from": ink });
        ink.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        speed(&window(&"long-air-dryer-4m".into(), &ink, &"cotton-jersey-180".into()).unwrap(), "fastest")
    };
    let energy = json!({ "activation_energy": "90 kJ/mol" });
    let warm = json!({ "activation_energy": "90 kJ/mol", "gel": "100 degC" });
    let hot = json!({ "activation_energy": "90 kJ/mol", "gel": "150 degC" });
    let [plain, hot, warm, dry] = [json!({}), hot, warm, energy].map(|more| fastest("water-based", more));
    assert!(plain < hot && hot < warm && warm <= dry, "{plain} {hot} {warm} {dry}");
}

/// `dye`: the hottest cloth's time above its temperature, from the profile that the same answer gives.
#[test]
fn the_time_for_dye_is_that_of_the_profile() {
    let dryer = json!({ "from": "air-dryer-2m", "air": "152 degC" });
    let answer = window(&dryer, &"plastisol-low-cure".into(), &"polyester-jersey-150".into()).unwrap();
    let moments = answer["profile"]["time"].as_array().unwrap().len();
    let read = |of: &str, i: usize| at(&answer, &format!("/profile/{of}/{i}/value"));
    // Air on both sides: the hottest face of this cloth is its back or the film's bottom.
    let hot = (0..moments).filter(|i| read("cloth", *i).max(read("bottom_of_ink", *i)) >= 129.0).count();
    let step = seconds(&answer, "/dwell") / (moments - 1) as f64;
    near(seconds(&answer, "/dye_time"), hot as f64 * step, 1.01 * step, "time above 129 degC");
    // The fast half: common practice, no source, is a minute, in which dye would have moved three times as long.
    assert!(seconds(&answer, "/dwell") < 35.0 && seconds(&answer, "/dye_time") < 20.0, "{}", answer["dwell"]);
}
