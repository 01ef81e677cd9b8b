//! Open time: moist air by handbooks, evaporation by others' sums and by measured rates, and what operators see of it.

use floodbar::heat::internals::saturation_pressure;
use floodbar::{Code, calculate, sweep};
use floodbar_tests::compare::{ask, at, near, noted, relative, seconds};
use floodbar_tests::published::{number, table};
use serde_json::{Value, json};

const ICE: f64 = 273.15;

fn request(celsius: f64, humidity: f64, speed: f64, length: f64) -> Value {
    json!({
        "ink": "water-based", "mesh": "43-80", "screen_length": format!("{length} m"),
        "air": { "temperature": format!("{celsius} degC"), "relative_humidity_fraction": humidity, "speed": format!("{speed} m/s") }
    })
}

/// Mass per area and time in g/(m2.h).
fn rate(answer: &Value) -> f64 {
    assert_eq!(answer["rate"]["unit"], "g/(m2.h)");
    at(answer, "/rate/value")
}

/// The numbers of a text such as `t 20 C, RH 0.65`, by the names before them.
fn named(text: &str, name: &str) -> f64 {
    let words: Vec<_> = text.split([' ', ',', '(', ')', ';']).filter(|word| !word.is_empty()).collect();
    let place = words.iter().position(|word| *word == name).unwrap_or_else(|| panic!("no {name} in {text}"));
    words[place + 1].parse().unwrap_or_else(|_| panic!("{name} in {text}"))
}

/// ASHRAE Handbook, chapter 1. Its wet bulb is that of adiabatic saturation; a face in moving air without radiation lies a little
/// lower, since vapour diffuses faster than heat (Lewis number 0.85): by less than 4 % of the way to the air.
#[test]
fn moist_air() {
    let mut seen = [0; 3];
    for row in table("psychrometrics_ashrae") {
        let (quantity, inputs) = (&row["quantity"], &row["inputs"]);
        if quantity.starts_with("saturation pressure") {
            relative(saturation_pressure(named(inputs, "t") + ICE), number(&row, "published"), 3e-4, &row);
            seen[0] += 1;
        } else if quantity.starts_with("saturation humidity ratio") {
            let pressure = saturation_pressure(named(inputs, "t") + ICE);
            relative(0.621_945 * pressure / (101_325.0 - pressure), number(&row, "published"), 0.005, &row);
            seen[1] += 1;
        } else if quantity.starts_with("wet bulb") {
            let (air, adiabatic) = (named(inputs, "t"), number(&row, "recomputed"));
            let answer = ask("ink.open_time", request(air, named(inputs, "RH"), 0.2, 0.5));
            let wet_bulb = at(&answer, "/wet_bulb/value");
            assert!(wet_bulb < adiabatic && adiabatic - wet_bulb < 0.04 * (air - adiabatic), "{wet_bulb}: {row:?}");
            seen[2] += 1;
        }
    }
    assert_eq!(seen, [3, 2, 6]);
}

/// A flat plate as warm as the air, which loses more than one that cools itself. Set off against the difference of vapour at
/// the face that we find, the transfer is the table's but for two things: its diffusion of vapour is 5 % above ours, which
/// makes 3 %, and its film of air is as warm as the room.
#[test]
fn a_flat_plate() {
    for row in table("evaporation_flat_plate_computed") {
        let of = |column| number(&row, column);
        let (air, humidity) = (of("t_C"), of("RH"));
        let answer = ask("ink.open_time", request(air, humidity, of("V_m_s"), of("L_m")));
        let flux = rate(&answer);
        assert!(flux < of("flux_g_m2_h") && flux > 0.3 * of("flux_g_m2_h"), "{flux}: {row:?}");
        let vapour = |celsius: f64| saturation_pressure(celsius + ICE) * 0.018_015_28 / 8.314_462_6 / (celsius + ICE);
        relative(vapour(air), of("rho_sat_kg_m3"), 1e-3, &row);
        let driving = vapour(at(&answer, "/face/value")) - humidity * vapour(air);
        relative(flux / 3.6e6 / driving, of("h_m_m_s"), 0.08, &row);
    }
}

/// Rates of water as warm as its air, in large pools and undisturbed ones (0.74 of the formula, measured): an ink that cools itself
/// stays below. A wet cloth on a can takes the temperature of a textbook.
#[test]
fn wet_surfaces() {
    let rows = table("evaporation_wet_surface");
    let of = |source: &str, quantity: &str| {
        rows.iter()
            .filter(|row| row["source"].starts_with(source) && row["quantity"].starts_with(quantity))
            .collect::<Vec<_>>()
    };
    let measured: f64 = number(of("pool formula, measured", "measured")[0], "published");
    let pools = of("pool formula SI", "w kg");
    assert_eq!(pools.len(), 5);
    for row in pools {
        let inputs = &row["inputs"];
        let celsius: f64 = inputs.rsplit_once('(').unwrap().1.split_once(' ').unwrap().0.parse().unwrap();
        let formula: f64 = row["recomputed"].split_once("; ").unwrap().1.parse().unwrap();
        let answer = ask("ink.open_time", request(celsius, named(inputs, "RH"), named(inputs, "V"), 0.5));
        let ours = rate(&answer);
        assert!(ours < measured * formula && ours > 0.15 * formula, "{ours}: {row:?}");
    }
    let can = of("Cengel", "Ts C")[0];
    let answer = ask("ink.open_time", request(named(&can["inputs"], "air"), 0.4, 1.0, 0.5));
    near(at(&answer, "/wet_bulb/value"), number(can, "published"), 0.6, can);
}

/// The same balance by SciPy, with other formulas for water.
#[test]
fn the_balance_of_a_peer() {
    for row in table("open_time_scipy") {
        let of = |column| number(&row, column);
        let mut asked = request(of("air_C"), of("RH"), of("speed_m_s"), of("length_m"));
        asked["ink"] = json!({ "from": "water-based", "water_activity": of("activity") });
        let answer = ask("ink.open_time", &asked);
        // The peer's is that over the ink.
        if of("activity") == 1.0 {
            near(at(&answer, "/wet_bulb/value"), of("wet_bulb_C"), 0.01, &row);
        }
        near(at(&answer, "/face/value"), of("face_C"), 0.01, &row);
        relative(rate(&answer), of("flux_g_m2_h"), 2e-3, &row);
        let water = at(&answer, "/water/value");
        relative(seconds(&answer, "/time"), 0.2 * water / rate(&answer) * 3600.0, 1e-12, &row);
    }
}

/// A humidifier lengthens it until nothing dries any more, where the time is absent and no row fails; so does a retarder.
#[test]
fn sweeps_of_humidity_and_of_a_retarder() {
    let want = json!([{ "at": "/time", "unit": "min" }, { "at": "/rate", "unit": "g/(m2.h)" }, { "at": "/wet_bulb" }]);
    let cases = [
        ("/air/relative_humidity_fraction", json!([0.0, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0])),
        ("/ink/water_activity", json!([1.0, 0.9, 0.8, 0.6, 0.5, 0.45, 0.3])),
    ];
    for (vary, values) in cases {
        let spec = json!({ "vary": vary, "values": values, "want": want });
        let swept = sweep("ink.open_time", &request(23.0, 0.45, 0.15, 0.5), &spec).unwrap();
        assert_eq!(swept["errors"], json!([]), "{swept}");
        let column = |index: usize| {
            swept["columns"][index]["values"].as_array().unwrap().iter().map(Value::as_f64).collect::<Vec<_>>()
        };
        let (times, rates) = (column(0), column(1));
        let told: Vec<f64> = times.iter().copied().flatten().collect();
        assert!(told.len() >= 5 && told.windows(2).all(|pair| pair[0] < pair[1]), "{times:?}");
        assert_eq!(times[6], None);
        assert!(rates.windows(2).all(|pair| pair[0] >= pair[1]) && rates[6] == Some(0.0), "{rates:?}");
    }
}

#[test]
fn what_does_not_dry_says_so() {
    let answer = ask("ink.open_time", request(23.0, 1.0, 0.15, 0.5));
    assert!(answer.get("time").is_none() && noted(&answer, "does_not_dry"));
    near(at(&answer, "/face/value"), 23.0, 1e-9, &answer);
    let dry = json!({ "ink": "plastisol", "mesh": "43-80", "air": request(23.0, 0.5, 0.1, 0.5)["air"] });
    assert_eq!(calculate("ink.open_time", &dry).unwrap_err().code, Code::Impossible);
}

/// A shop has its own air, and the starter shop one from memory.
#[test]
fn the_air_of_a_shop() {
    let shops = ask("stock.list", json!({ "kind": "shop" }));
    let air = &shops["kinds"][0]["rows"][0]["values"]["air"];
    relative(at(air, "/relative_humidity_fraction"), 0.45, 1e-12, air);
    let mut order: Value = json!({
        "title": "Air", "pieces": 12, "cloth": "cotton-jersey-180-dark",
        "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [
            { "name": "ink", "ink": "water-based", "mesh": "62-64", "coverage_fraction": 0.2 }] }],
        "shop": { "from": "starter-shop", "air": { "temperature": "28 degC", "relative_humidity_fraction": 0.6 } }
    });
    let plan = ask("job.plan", &order);
    let alone = json!({ "ink": "water-based", "mesh": "62-64", "air": order["shop"]["air"] });
    let wanted = ask("ink.open_time", &alone);
    relative(seconds(&plan, "/screens/0/open_time"), seconds(&wanted, "/time"), 1e-12, &plan);
    assert!(noted(&plan, "stop_no_longer"));
    for default in ["flood_thickness", "most_loss_fraction", "screen_length"] {
        let told =
            plan["basis"].as_array().unwrap().iter().any(|basis| basis["for"].as_str().unwrap().contains(default));
        assert!(told, "{default}: {}", plan["basis"]);
    }
    order["placements"][0]["screens"][0]["ink"] = json!("plastisol");
    let plan = ask("job.plan", &order);
    assert!(plan.pointer("/screens/0/open_time").is_none() && !noted(&plan, "stop_no_longer"));
    order["placements"][0]["screens"][0]["ink"] = json!("water-based");
    order["shop"]["air"]["relative_humidity_fraction"] = json!(1.2);
    let refused = calculate("job.plan", &order).unwrap_err();
    assert_eq!((refused.code, refused.field.as_str()), (Code::OutOfRange, "/shop/air/relative_humidity_fraction"));
}
