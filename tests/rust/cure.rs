//! Cure: published tables, a fact of the trade, and what must hold for any log.

use floodbar::cure::{Held, activation_energy, equivalent_hold, rate};
use floodbar::quantity::{Dimensioned, units};
use floodbar::stock;
use floodbar::{Code, calculate};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, noted, relative, seconds};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

fn held(row: &Row) -> Held {
    Held::new().temperature(units::DEG_F.of(number(row, "T_F"))).hold(units::S.of(number(row, "hold_s")))
}

/// The clock of an ink that must be dry starts at its gel temperature, where heat drives its cure.
#[test]
fn what_counts_of_a_log_is_told() {
    let ink = json!({ "from": "water-based", "activation_energy": "90 kJ/mol", "gel": "100 degC" });
    let log = json!([{ "time": "0 s", "temperature": "25 degC" }, { "time": "60 s", "temperature": "165 degC" }]);
    let answer = ask("cure.assess", json!({ "ink": ink, "log": log, "measured": "in_ink" }));
    let notes = answer["notes"].as_array().unwrap();
    let note = notes.iter().find(|note| note["code"] == "dryness_not_shown").unwrap();
    assert!(note["message"].as_str().unwrap().contains("all time at or above the gel temperature"), "{note}");
}

/// Pairs that two regulations hold for worth the same. The activation energy of two predicts a third.
#[test]
fn pasteurisation_pairs() {
    let rows = table("pasteurisation_cfr");
    let pair = |rule: &str, fahrenheit: f64| {
        held(rows.iter().find(|row| row["rule"].ends_with(rule) && number(row, "T_F") == fahrenheit).expect(rule))
    };
    // Egg: the albumen's energy takes the salt yolk's first pair to its second. Both rules lengthen 210 s to 372 s over
    // 2 degF, 5.5 K apart in level, which alone changes the energy by 4 % and so the hold by 2 %: good to 3 %.
    let energy = activation_energy(&pair("albumen", 134.0), &pair("albumen", 132.0));
    let yolk = pair("salt yolk", 144.0);
    let predicted = equivalent_hold(&pair("salt yolk", 146.0), yolk.temperature, energy);
    relative(predicted.si(), yolk.hold.si(), 0.03, energy);
    // Milk: 161 and 212 degF predict the hold at 204 degF between them. Holds of 0.01 and 0.05 s are law to one digit,
    // 0.005-0.015 and 0.045-0.055, so no closer than a factor of two can be asked.
    let [low, high] = [pair("milk/cream", 161.0), pair("milk/cream", 212.0)];
    let between = pair("milk/cream", 204.0);
    let predicted = equivalent_hold(&low, between.temperature, activation_energy(&low, &high));
    let factor = predicted.si() / between.hold.si();
    assert!((0.5..=2.0).contains(&factor), "{factor}");
    // And through the wire each pair gives back its fellow to the rounding.
    let wire = |held: &Held| {
        json!({ "temperature": { "value": units::DEG_F.value(held.temperature), "unit": "degF" },
                "hold": { "value": held.hold.si(), "unit": "s" } })
    };
    for (first, second) in rows.iter().zip(rows.iter().skip(1)).filter(|(a, b)| a["rule"] == b["rule"]) {
        let (first, second) = (held(first), held(second));
        let mut request =
            json!({ "from": wire(&first), "second": wire(&second), "to": { "hold": wire(&second)["hold"] } });
        let answer = ask("cure.equivalent", &request);
        let temperature = units::DEG_C.of(at(&answer, "/temperature/value"));
        relative(temperature.si(), second.temperature.si(), 1e-12, &answer);
        request["to"] = json!({ "temperature": wire(&second)["temperature"] });
        relative(seconds(&ask("cure.equivalent", &request), "/hold"), second.hold.si(), 1e-11, &request);
    }
}

/// The Arrhenius law by its exact arithmetic: the energy of a ratio of rates, and the ratio of an energy.
#[test]
fn arrhenius_checks() {
    for row in table("arrhenius_checks") {
        let [one, two] = ["T1_K", "T2_K"].map(|name| units::KELVIN.of(number(&row, name)));
        let printed = units::KJ_PER_MOL.of(number(&row, "Ea_kJ_mol"));
        let ratio = number(&row, "k2_over_k1");
        // The energy of the second row is a least-squares fit through five rates; its ends alone say 103.7: 0.7 %.
        let within = if row["case"].starts_with("N2O5") { 0.007 } else { 1e-5 };
        let pair = |temperature, seconds: f64| Held::new().temperature(temperature).hold(units::S.of(seconds));
        let found = activation_energy(&pair(one, ratio), &pair(two, 1.0));
        relative(found.si(), printed.si(), within, &row);
        relative(rate(found, two, one), ratio, 1e-12, &row);
    }
}

fn readings(log: &str) -> Value {
    let reading = |text: &str| {
        let (time, temperature) = text.split_once(':').expect("time:temperature");
        json!({ "time": format!("{time} s"), "temperature": format!("{temperature} degC") })
    };
    log.split(' ').map(reading).collect()
}

/// Random logs against scipy.integrate.quad; how they were made stands in the table's head.
#[test]
fn integrals_by_scipy() {
    let rows = table("cure_integral_scipy");
    for row in &rows {
        let value = |name: &str, unit: &str| format!("{} {unit}", row[name]);
        let ink = json!({
            "from": "silicone", "gel": value("gel", "degC"), "activation_energy": value("activation_energy", "kJ/mol"),
            "cure": { "temperature": value("cure", "degC"), "hold": "60 s", "after_dry": false },
            "never_above": "1500 degC",
        });
        let mut request = json!({ "ink": ink, "log": readings(&row["log"]), "measured": "in_ink" });
        let wanted = number(row, "equivalent_hold");
        let answer = ask("cure.assess", &request);
        relative(seconds(&answer, "/time_above"), number(row, "time_above"), 1e-12, row);
        relative(seconds(&answer, "/equivalent_hold"), wanted, 1e-11, row);
        relative(at(&answer, "/cured_fraction"), (wanted / 60.0).min(1.0), 1e-11, row);
        // Without an energy the equivalent hold is the plain time.
        request["ink"]["activation_energy"] = Value::Null;
        let answer = ask("cure.assess", &request);
        assert_eq!(answer["equivalent_hold"], answer["time_above"], "{row:?}");
    }
    assert!(rows.len() >= 40 && rows.iter().any(|row| number(row, "equivalent_hold") == 0.0));
}

/// Common practice, no source: full-cure plastisol is cured when the ink at the cloth reaches 160 degC (320 F), not
/// at the 135 degC that 320 F is often printed as.
#[test]
fn full_cure_plastisol_cures_at_320_f() {
    for name in ["plastisol", "plastisol-white"] {
        let cure = stock::ink(name).unwrap().cure.clone();
        let fahrenheit = units::DEG_F.value(cure.temperature);
        assert!((fahrenheit - 320.0).abs() < 0.01 && cure.hold.si() == 0.0, "{name}: {fahrenheit} F");
        for (peak, verdict) in [("275 F", "under"), ("319.9 F", "under"), ("320 F", "cured"), ("340 F", "cured")] {
            let log = json!([{ "time": "0 s", "temperature": "77 F" }, { "time": "40 s", "temperature": peak },
                             { "time": "60 s", "temperature": "120 F" }]);
            let answer = ask("cure.assess", json!({ "ink": name, "log": log, "measured": "in_ink" }));
            assert_eq!(answer["verdict"], verdict, "{name} to {peak}");
        }
    }
}

/// A verdict never says more than the log shows.
#[test]
fn verdicts() {
    let log = |top: &str| readings(&format!("0:25 30:{top} 130:{top} 150:40"));
    let judge = |ink: Value, cloth: Value, top: &str, measured: &str| {
        ask("cure.assess", json!({ "ink": ink, "cloth": cloth, "log": log(top), "measured": measured }))
    };
    let cases = [
        ("plastisol", None, "159", "in_ink", "under", None),
        ("plastisol", None, "165", "in_ink", "cured", Some("cloth_not_judged")),
        ("plastisol", Some("cotton-jersey-180"), "196", "in_ink", "over", Some("ink_never_above")),
        ("plastisol-low-cure", Some("nylon-shell-90"), "150", "in_ink", "over", Some("cloth_never_above")),
        // 100 s at 185 degC are 141 s at 180 by exp(120000 / 8.314 (1 / 453.15 - 1 / 458.15)), and cotton bears 120.
        ("plastisol", Some("cotton-jersey-180"), "185", "in_ink", "over", Some("cloth_scorch")),
        ("plastisol", Some("cotton-jersey-180"), "180", "in_ink", "cured", None),
        ("plastisol-low-cure", Some("polyester-jersey-150"), "140", "in_ink", "cured", Some("dye_migration")),
        ("plastisol", None, "165", "surface", "not_proven", Some("surface_only")),
        ("plastisol", None, "159", "surface", "under", Some("surface_only")),
        ("plastisol", None, "196", "surface", "over", Some("ink_never_above")),
        ("water-based", None, "170", "in_ink", "not_proven", Some("dryness_not_shown")),
        ("water-based", None, "159", "in_ink", "under", Some("dryness_not_shown")),
        ("water-based", None, "190", "in_ink", "over", Some("dryness_not_shown")),
        ("silicone", None, "127", "in_ink", "cured", None),
        ("silicone", None, "126.9", "in_ink", "under", None),
    ];
    for (ink, cloth, top, measured, verdict, code) in cases {
        let answer = judge(json!(ink), json!(cloth), top, measured);
        assert_eq!(answer["verdict"], verdict, "{ink} {top} {measured}: {answer}");
        assert!(code.is_none_or(|code| noted(&answer, code)), "{code:?} {answer}");
        assert!(noted(&answer, "heat_and_fumes"), "{answer}");
        // An ink of no hold is cured or not; any other by its share.
        let fraction = at(&answer, "/cured_fraction");
        let cured = verdict != "under";
        assert!(if cured { fraction == 1.0 } else { fraction < 1.0 }, "{answer}");
    }
    // A limit note names the limit.
    let answer = judge(json!("plastisol"), json!("nylon-shell-90"), "196", "in_ink");
    let limits: Vec<_> = answer["notes"].as_array().unwrap().iter().filter(|n| n["level"] == "limit").collect();
    assert_eq!(limits.len(), 2, "{answer}");
    assert_eq!((&limits[0]["field"], &limits[1]["field"]), (&json!("/ink/never_above"), &json!("/cloth/never_above")));
    // With an energy, an ink that gels when dry is counted from the boiling point and proves nothing.
    let ink = json!({ "from": "water-based", "activation_energy": "90 kJ/mol",
                      "cure": { "temperature": "160 degC", "hold": "30 s", "after_dry": false } });
    let answer = judge(ink.clone(), Value::Null, "170", "in_ink");
    assert_eq!(answer["verdict"], "not_proven");
    assert!(noted(&answer, "dryness_not_shown"));
    let answer = judge(ink, Value::Null, "99", "in_ink");
    assert_eq!((seconds(&answer, "/equivalent_hold"), &answer["verdict"]), (0.0, &json!("under")));
    // Too hot and too short at once is said.
    let short = readings("0:25 10:171 12:25");
    let answer = ask("cure.assess", json!({ "ink": "silicone", "log": short, "measured": "in_ink" }));
    assert!(answer["verdict"] == "over" && noted(&answer, "over_and_under"), "{answer}");
}

/// What is odd in a log is said, or refused with its place.
#[test]
fn odd_logs() {
    let ask_log =
        |log: Value| calculate("cure.assess", &json!({ "ink": "plastisol", "log": log, "measured": "in_ink" }));
    let said = |log: &str, code: &str| noted(&ask_log(readings(log)).unwrap_or_else(|e| panic!("{log}: {e}")), code);
    let even = "0:25 5:60 10:100 15:150 20:165 25:140 30:100";
    for code in ["log_gap", "log_cut_off", "repeated_reading", "unusual_value"] {
        assert!(!said(even, code), "{code}");
    }
    // 26 s where the others take 5, across 160 degC; the same gap far below it does not matter.
    assert!(said("0:25 5:60 10:100 36:165 41:140 46:100", "log_gap"));
    assert!(!said("0:25 26:60 31:100 36:150 41:165 46:100", "log_gap"));
    // Near it: 10 K below matters, 10.1 K does not.
    assert!(said("0:25 5:60 10:100 36:150 41:140 46:100", "log_gap"));
    assert!(!said("0:25 5:60 10:100 36:149.9 41:140 46:100", "log_gap"));
    // Five times the median is not yet longer than it.
    assert!(!said("0:25 5:60 10:100 35:165 40:140 45:100", "log_gap"));
    assert!(said("0:160 5:100", "log_cut_off") && said("0:100 5:160", "log_cut_off"));
    assert!(said("0:25 5:60 5:60 10:165 15:60", "repeated_reading"));
    assert!(said("0:25 5:301 10:25", "unusual_value") && said("0:25 2000:165 2100:25", "unusual_value"));
    for (log, code, field) in [
        ("0:25 5:60 10:100 9:165 20:60", Code::Impossible, "/log/3/time"),
        ("0:25 5:60 5:61 10:165", Code::Impossible, "/log/2/time"),
        ("0:25", Code::OutOfRange, "/log"),
        ("5:25 5:25", Code::OutOfRange, "/log"),
    ] {
        let error = ask_log(readings(log)).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (code, field), "{log}");
    }
    assert_eq!(ask_log(json!([])).unwrap_err().code, Code::OutOfRange);
}

/// As long a log as the wire takes, all of it odd: answered, with a handful of notes and the right time.
#[test]
fn ten_thousand_readings() {
    let log: Value = (0..10_000)
        .map(|i| json!({ "time": format!("{} s", f64::from(i) / 20.0), "temperature": format!("{} degC", if i % 2 == 0 { 340 } else { 140 }) }))
        .collect();
    let answer = ask("cure.assess", json!({ "ink": "silicone", "log": log, "measured": "in_ink" }));
    // Above 127 degC throughout: 9999 intervals of 1/20 s.
    relative(seconds(&answer, "/time_above"), 499.95, 1e-12, "time above");
    assert!(answer["notes"].as_array().unwrap().len() < 10, "{answer}");
    let longer: Value = (0..10_001).map(|i| json!({ "time": format!("{i} s"), "temperature": "20 degC" })).collect();
    let error =
        calculate("cure.assess", &json!({ "ink": "silicone", "log": longer, "measured": "in_ink" })).unwrap_err();
    assert_eq!((error.code, error.field.as_str()), (Code::TooLong, "/log"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(256, 2560), failure_persistence: None, ..ProptestConfig::default() })]

    /// Seconds and degC, or minutes and degF, reading by reading: the same answer.
    #[test]
    fn units_of_the_log_do_not_matter(
        steps in prop::collection::vec((1..400_u32, 200..2300_u32, any::<bool>()), 2..12), energy in prop::option::of(30..300_u32),
    ) {
        let mut tenths = 0;
        let (mut plain, mut mixed) = (Vec::new(), Vec::new());
        for (step, decikelvin, other) in steps {
            tenths += step;
            let (s, c) = (f64::from(tenths) / 10.0, f64::from(decikelvin) / 10.0);
            let reading = json!({ "time": format!("{s} s"), "temperature": format!("{c} degC") });
            let same = json!({ "time": { "value": s / 60.0, "unit": "min" },
                               "temperature": { "value": c * 1.8 + 32.0, "unit": "degF" } });
            mixed.push(if other { same } else { reading.clone() });
            plain.push(reading);
        }
        let ink = json!({ "from": "silicone", "activation_energy": energy.map(|e| format!("{e} kJ/mol")) });
        let [a, b] = [plain, mixed].map(|log| ask("cure.assess", json!({ "ink": ink, "log": log, "measured": "in_ink" })));
        for name in ["/time_above", "/equivalent_hold"] {
            let (a, b) = (seconds(&a, name), seconds(&b, name));
            // A crossing on a slope of 0.1 K in 40 s moves by 1e-9 s for a rounding of 1e-13 of a temperature.
            prop_assert!((a - b).abs() <= 1e-10 * a.max(10.0), "{} {} {}", name, a, b);
        }
        prop_assert_eq!(&a["verdict"], &b["verdict"]);
    }

    /// The hold found for a temperature finds that temperature again, through the wire.
    #[test]
    fn equivalent_there_and_back(from in 120..180_u32, hold in 10..300_u32, to in 120..180_u32, energy in 40..200_u32) {
        let known = |temperature: Value, hold: Value| json!({ "temperature": temperature, "hold": hold });
        let energy = format!("{energy} kJ/mol");
        let start = known(json!(format!("{from} degC")), json!(format!("{hold} s")));
        let there = ask("cure.equivalent", json!({ "from": start, "activation_energy": energy, "to": { "temperature": format!("{to} degC") } }));
        prop_assume!((1e-3..=86_400.0).contains(&seconds(&there, "/hold")));
        let back = ask("cure.equivalent", json!({ "from": start, "activation_energy": energy, "to": { "hold": there["hold"] } }));
        prop_assert!((at(&back, "/temperature/value") - f64::from(to)).abs() < 1e-9);
        prop_assert!(there.get("temperature").is_none() && back.get("hold").is_none());
        let far = (f64::from(to) - f64::from(from)).abs() > 30.0;
        prop_assert_eq!(noted(&there, "extrapolated"), far);
    }
}
