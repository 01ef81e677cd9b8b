//! Flash and dryer against closed forms, against independent scans of the bare solver, and against what must always hold.

use floodbar::cloth::Cloth;
use floodbar::ink::{Gel, Ink};
use floodbar::quantity::{Dimensioned, units};
use floodbar::stock;
use floodbar::{Code, calculate};
use floodbar_tests::compare::{self, at, near, noted, relative, seconds};
use floodbar_tests::stock::shelf;
use serde_json::{Value, json};

fn ask(id: &str, request: &Value) -> Value {
    let answer = compare::ask(id, request);
    if id == "dryer.window" {
        assert!(answer["evaluations"].as_u64().unwrap() <= 80, "too many trips: {}", answer["evaluations"]);
    }
    answer
}

// ---- lumps: films of 5 um on cloth and platens that conduct so well that each has one temperature ----

/// Heat per area and kelvin of the film below: 5 um x 1000 kg/m3 x 1500 J/(kg.K), J/(m2.K).
const LUMP_FILM: f64 = 7.5;

fn lump_ink(gel: f64, flash_limit: f64, cure: f64, hold: f64, limit: f64) -> Value {
    let celsius = |value: f64| json!({ "value": value, "unit": "degC" });
    json!({ "from": "plastisol", "density": "1 g/cm3", "gel": celsius(gel), "flash_never_above": celsius(flash_limit),
        "cure": { "temperature": celsius(cure), "hold": { "value": hold, "unit": "s" }, "after_dry": false },
        "never_above": celsius(limit) })
}

/// Cloth of 0.5 mm and 0.2 kg/m2 whose heat per area and kelvin is this.
fn lump_cloth(heat: f64, limit: f64) -> Value {
    json!({ "mass_per_area": "200 g/m2", "thickness": "0.5 mm", "conductivity": "400 W/(m.K)", "regain_fraction": 0,
        "specific_heat": { "value": heat / 0.2, "unit": "J/(kg.K)" }, "shade": "light",
        "never_above": { "value": limit, "unit": "degC" } })
}

/// A plate of 1 mm, 2430 J/(m2.K), all under cloth, whose underside loses nothing, or so much to the room.
fn plate(underside: f64) -> Value {
    json!({ "layers": [{ "name": "plate", "thickness": "1 mm", "conductivity": "200 W/(m.K)", "density": "2700 kg/m3",
        "specific_heat": "900 J/(kg.K)" }], "underside": { "transfer": { "value": underside, "unit": "W/(m2.K)" }, "air": "25 degC" },
        "bare_fraction": 0 })
}
const PLATE: f64 = 2430.0;

/// Physics: a lump in air, T = air - (air - T0) exp(-h t / C), T0 the mixing temperature of print and platen.
#[test]
fn a_lump_under_a_flash_of_air() {
    let cases = [
        (200.0, 50.0, 100.0, 25.0),
        (200.0, 120.0, 140.0, 60.0),
        (300.0, 30.0, 80.0, 25.0),
        (150.0, 200.0, 115.0, 90.0),
    ];
    for (air, h, gel, platen) in cases {
        let request = json!({
            "flash": { "air": { "value": air, "unit": "degC" }, "transfer": { "value": h, "unit": "W/(m2.K)" }, "customary_dwell": "6 s" },
            "ink": lump_ink(gel, gel + 5.0, 160.0, 0.0, 195.0), "film": "5 um", "cloth": lump_cloth(200.0, 180.0),
            "platen": plate(0.0), "platen_start": { "value": platen, "unit": "degC" },
        });
        let heat = LUMP_FILM + 200.0 + PLATE;
        let start = ((LUMP_FILM + 200.0) * 25.0 + PLATE * platen) / heat;
        // The film stands between air and lump: 1/h + d/k.
        let through = 1.0 / (1.0 / h + 5e-6 / 0.17);
        let after = |to: f64| heat / through * ((air - start) / (air - to)).ln();
        let least = after(gel);
        let answer = ask("flash.dwell", &request);
        if least > 60.0 {
            assert_eq!(answer["verdict"], "never_gels", "{request}");
            assert!(answer.get("least").is_none() && answer["why"].is_string());
            continue;
        }
        near(seconds(&answer, "/least"), least, 0.003 * least, "least");
        // The film's top is ahead of its bottom by q d / k.
        let ahead = through * (air - gel - 5.0) * 5e-6 / 0.17;
        let most = after(gel + 5.0 - ahead);
        near(seconds(&answer, "/most"), most, 0.003 * most, "most");
        near(seconds(&answer, "/recommended"), (1.1 * least).min(most), 0.003 * most, "recommended");
        assert_eq!(answer["verdict"], "works");
    }
}

/// Physics: the same exponential in a dryer, both faces in its air; with a hold the count goes on so long.
#[test]
fn a_lump_in_a_dryer() {
    for (air, top, bottom, cure, hold, limit, start) in [
        (185.0, 20.0, 10.0, 160.0, 0.0, 175.0, 25.0),
        (185.0, 30.0, 0.0, 140.0, 0.0, 150.0, 40.0),
        (210.0, 15.0, 25.0, 160.0, 5.0, 195.0, 25.0),
        (170.0, 12.0, 12.0, 135.0, 12.0, 165.0, 25.0),
    ] {
        let celsius = |value: f64| json!({ "value": value, "unit": "degC" });
        let transfer = |value: f64| json!({ "value": value, "unit": "W/(m2.K)" });
        let request = json!({
            "dryer": { "zones": [{ "length": "1 m", "air": celsius(air), "transfer_top": transfer(top), "transfer_bottom": transfer(bottom) }],
                "belt_least": "0.3 m/min", "belt_most": "6 m/min", "fitted": true },
            "ink": lump_ink(100.0, 120.0, cure, hold, 300.0), "film": "5 um", "cloth": lump_cloth(292.5, limit), "start": celsius(start),
        });
        let after = |to: f64| 300.0 / (top + bottom) * ((air - start) / (air - to)).ln();
        let (quick, slow) = (after(cure) + hold, after(limit));
        let answer = ask("dryer.window", &request);
        near(at(&answer, "/fastest/value"), 60.0 / quick, 0.002 * 60.0 / quick, "fastest");
        // Near the air's own temperature a moment says little, so the slow end is judged by the temperature at its exit.
        let dwell = 60.0 / at(&answer, "/slowest/value");
        let exit = air - (air - start) * (-(top + bottom) / 300.0 * dwell).exp();
        near(exit, limit, 0.15, "at the exit of the slowest belt");
        near(seconds(&answer, "/dwell"), (quick * slow).sqrt(), 0.004 * slow, "dwell");
        assert_eq!(answer["limits"], json!({ "fastest": "cure", "slowest": "cloth_never_above" }));
        assert_eq!(answer["ranges"].as_array().unwrap().len(), 1);
        assert_eq!(noted(&answer, "narrow_window"), slow / quick < 1.2, "{request}");
    }
}

/// Physics: nothing is warmer than the room, so nothing warms.
#[test]
fn a_flash_that_is_off_leaves_the_platens_cold() {
    for platen in ["aluminium-6mm", "rubber-topped", "wood-core-18mm"] {
        let request = json!({ "flash": { "customary_dwell": "6 s" }, "ink": "plastisol", "cloth": "cotton-jersey-180",
            "platen": platen, "press": "automatic-8", "pieces": 17 });
        let answer = ask("flash.run", &request);
        let rotations = answer["rotations"].as_array().unwrap();
        assert_eq!(rotations.len(), 3);
        for rotation in rotations {
            near(at(rotation, "/platen_start/value"), 25.0, 1e-6, platen);
            near(at(rotation, "/top_if_unchanged/value"), 25.0, 1e-6, platen);
            assert!(rotation.get("least").is_none() && rotation.get("recommended").is_none());
        }
        near(at(&answer, "/settles_at/value"), 25.0, 1e-6, platen);
        assert!(noted(&answer, "no_dwell") && answer.get("overheats_at").is_none());
    }
}

/// One turn of a lumped carousel of eight stations, by hand: kelvin above the room.
struct Turn {
    dwell: f64,
    film: f64,
    next: f64,
}

const FLUX: f64 = 20_000.0;
const CYCLE: f64 = 12.0;
const ROOM: f64 = 10.0;

/// `gel` above the room; a dwell that is kept, or 1.1 times what gels.
fn turn(platen: f64, gel: f64, kept: Option<f64>, underside: f64) -> Turn {
    let print = LUMP_FILM + 200.0;
    let all = print + PLATE;
    let cool = |from: f64, heat: f64, time: f64| from * (-(ROOM + underside) * time / heat).exp();
    // Print and platen mix, and stand two stops in the room.
    let before = cool(PLATE * platen / all, all, 2.0 * CYCLE);
    // Under the flash only the underside loses heat.
    let heated = |time: f64| {
        if underside > 0.0 {
            let rest = FLUX / underside;
            rest + (before - rest) * (-underside * time / all).exp()
        } else {
            before + FLUX * time / all
        }
    };
    let least = if underside > 0.0 {
        let rest = FLUX / underside;
        all / underside * ((rest - before) / (rest - gel)).ln()
    } else {
        (gel - before) * all / FLUX
    };
    let dwell = kept.unwrap_or(1.1 * least);
    // The rest of the flash's stop and four more with the shirt, one without.
    let unloaded = cool(heated(dwell), all, CYCLE - dwell + 4.0 * CYCLE);
    Turn { dwell, film: heated(dwell), next: cool(unloaded, PLATE, CYCLE) }
}

/// Physics: a thin plate is one lump; each turn is a chain of exponentials, and the periodic state is where they repeat.
#[test]
fn a_thin_platen_comes_to_its_periodic_balance() {
    for underside in [0.0, 10.0] {
        let gel = 60.0;
        // The film's top is ahead of what gels by q d / k.
        let ahead = FLUX * 5e-6 / 0.17;
        let first = turn(0.0, gel - 25.0, None, underside);
        let (mut live, mut kept) = (vec![0.0], vec![0.0]);
        let (mut dwells, mut films) = (Vec::new(), Vec::new());
        for n in 0..40 {
            let one = turn(live[n], gel - 25.0, None, underside);
            let other = turn(kept[n], gel - 25.0, Some(first.dwell), underside);
            dwells.push(one.dwell);
            live.push(one.next);
            films.push(other.film + 25.0 + ahead);
            kept.push(other.next);
        }
        // Half way between the fifth and the sixth turn with the first dwell kept.
        let limit = 0.5 * (films[4] + films[5]);
        let request = json!({
            "flash": { "flux": { "value": FLUX / 1000.0, "unit": "kW/m2" }, "customary_dwell": "3 s" },
            "ink": lump_ink(gel, limit, 160.0, 0.0, 195.0), "film": "5 um", "cloth": lump_cloth(200.0, 180.0),
            "platen": plate(underside), "press": "automatic-8", "cycle": "12 s", "pieces": 240,
        });
        let answer = ask("flash.run", &request);
        let rotations = answer["rotations"].as_array().unwrap();
        assert_eq!(rotations.len(), 30);
        for (n, rotation) in rotations.iter().enumerate().take(12) {
            near(at(rotation, "/platen_start/value"), live[n] + 25.0, 0.1, format!("platen of turn {n}"));
            near(seconds(rotation, "/recommended"), dwells[n], 0.02, format!("dwell of turn {n}"));
            near(at(rotation, "/top_if_unchanged/value"), films[n], 0.2, format!("film of turn {n}"));
        }
        near(at(&answer, "/settles_at/value"), live[40] + 25.0, 0.5, "settles");
        near(seconds(&rotations[29], "/recommended"), dwells[39], 0.05, "last dwell");
        assert_eq!(answer["overheats_at"], 6);
        assert!(noted(&answer, "fixed_dwell_overheats") && noted(&answer, "shorten"));
        assert!(live[40] > 2.0, "the balance is a warm one: {}", live[40]);
    }
}

/// The same carousel with two flashes in a turn and an insulated underside: all is a chain of straight rises and exponentials.
/// The first flash must gel; the second, on a shirt that is still warm from the first, must not overheat, nor may it with the
/// first dwell kept.
#[test]
fn two_flashes_in_a_turn_both_count() {
    // Long enough for two flashes' heat to leave.
    let stop = 60.0;
    let all = LUMP_FILM + 200.0 + PLATE;
    let ahead = FLUX * 5e-6 / 0.17;
    let cool = |from: f64, heat: f64, time: f64| from * (-ROOM * time / heat).exp();
    let first = |platen: f64| cool(PLATE * platen / all, all, 2.0 * stop);
    // What the second flash begins with, and what it ends with: its stop, a print, the flash.
    let second = |platen: f64, dwell: f64| {
        let rise = FLUX * dwell / all;
        cool(first(platen) + rise, all, 2.0 * stop - dwell) + rise
    };
    // Two of eight stops are load and unload, two the flashes, and one before each a print: two are left.
    let next = |platen: f64, dwell: f64| cool(cool(second(platen, dwell), all, 3.0 * stop - dwell), PLATE, stop);
    let gel = 60.0 - 25.0;
    let recommended = |platen: f64| 1.1 * (gel - first(platen)) * all / FLUX;
    let unchanged = recommended(0.0);
    let (mut live, mut kept) = (vec![0.0], vec![0.0]);
    for n in 0..6 {
        live.push(next(live[n], recommended(live[n])));
        kept.push(next(kept[n], unchanged));
    }
    let tops: Vec<f64> = kept.iter().map(|platen| second(*platen, unchanged) + 25.0 + ahead).collect();
    let limit = 0.5 * (tops[0] + tops[1]);
    let request = json!({
        "flash": { "flux": { "value": FLUX / 1000.0, "unit": "kW/m2" }, "customary_dwell": "3 s" },
        "ink": lump_ink(60.0, limit, 160.0, 0.0, 195.0), "film": "5 um", "cloth": lump_cloth(200.0, 240.0),
        "platen": plate(0.0), "press": { "from": "automatic-8", "flashes": 2 }, "cycle": "60 s", "pieces": 48,
    });
    let answer = ask("flash.run", &request);
    for (n, rotation) in answer["rotations"].as_array().unwrap().iter().enumerate() {
        near(at(rotation, "/platen_start/value"), live[n] + 25.0, 0.15, format!("platen of turn {n}"));
        near(seconds(rotation, "/recommended"), recommended(live[n]), 0.02, format!("dwell of turn {n}"));
        near(at(rotation, "/top_if_unchanged/value"), tops[n], 0.2, format!("film of turn {n}"));
        // By bisection: the dwell that, at both flashes, brings the film's top to its limit under the second.
        let (mut low, mut high) = (0.0, stop);
        for _ in 0..60 {
            let dwell = 0.5 * (low + high);
            *(if second(live[n], dwell) + 25.0 + ahead > limit { &mut high } else { &mut low }) = dwell;
        }
        near(seconds(rotation, "/most"), low, 0.03, format!("most of turn {n}"));
        // The first flash alone would allow far longer.
        assert!((limit - ahead - 25.0 - first(live[n])) * all / FLUX > 1.2 * low);
    }
    assert_eq!(answer["overheats_at"], 2);
}

/// Physics: where the platens settle does not hang on how long the run is; a shorter one foretells it to a tenth of what is to come.
#[test]
fn a_longer_run_settles_where_a_shorter_one_said() {
    let answers = [160, 200, 240, 280, 480].map(|pieces| stock_run("rubber-topped", "plastisol-white", pieces));
    let [.., last] = &answers;
    let rest = at(last, "/settles_at/value");
    for answer in &answers {
        let turns = answer["rotations"].as_array().unwrap();
        let to_come = rest - at(&turns[turns.len() - 1], "/platen_start/value");
        near(at(answer, "/settles_at/value"), rest, 0.2 + 0.1 * to_come, "settles");
    }
}

/// Physics: before the first flash the shirt stands on the platen for two stops, which are as long as the dwell in force makes
/// them; so a customary dwell, which is never in force here, changes nothing.
#[test]
fn a_customary_dwell_that_is_not_in_force_changes_nothing() {
    let of = |customary: &str| {
        let mut answer = ask(
            "flash.run",
            &json!({ "flash": { "from": "panel-flash", "customary_dwell": customary }, "ink": "plastisol-white",
                "cloth": "cotton-jersey-180", "platen": "rubber-topped", "platen_start": "60 degC", "press": "automatic-8",
                "pieces": 24 }),
        );
        answer["rotations"].take()
    };
    let (short, long) = (of("3 s"), of("40 s"));
    for (short, long) in short.as_array().unwrap().iter().zip(long.as_array().unwrap()) {
        for end in ["/least", "/most", "/recommended"] {
            near(seconds(short, end), seconds(long, end), 0.01, end);
        }
    }
}

/// The lumped carousel again, with a limit so near to the gel that the dwell is cut to the most: at the limit in the first
/// turn, which is not above it; kept, the second turn's warmer platen takes the film over it.
#[test]
fn a_dwell_cut_to_the_most_does_not_overheat() {
    let ahead = FLUX * 5e-6 / 0.17;
    let limit = 62.0;
    let request = json!({
        "flash": { "flux": { "value": FLUX / 1000.0, "unit": "kW/m2" }, "customary_dwell": "3 s" },
        "ink": lump_ink(60.0, limit, 160.0, 0.0, 195.0), "film": "5 um", "cloth": lump_cloth(200.0, 180.0),
        "platen": plate(0.0), "press": "automatic-8", "cycle": "12 s", "pieces": 16,
    });
    let answer = ask("flash.run", &request);
    let dwell = (limit - ahead - 25.0) * (LUMP_FILM + 200.0 + PLATE) / FLUX;
    near(seconds(&answer, "/rotations/0/recommended"), dwell, 0.02, "cut to the most");
    near(at(&answer, "/rotations/0/top_if_unchanged/value"), limit, 0.2, "at the limit");
    let second = turn(turn(0.0, 35.0, Some(dwell), 0.0).next, 35.0, Some(dwell), 0.0);
    assert!(second.film + 25.0 + ahead > limit + 5.0);
    assert_eq!(answer["overheats_at"], 2);
}

fn stock_run(platen: &str, ink: &str, pieces: u32) -> Value {
    ask(
        "flash.run",
        &json!({ "flash": "panel-flash", "ink": ink, "cloth": "cotton-jersey-180", "platen": platen, "press": "automatic-8",
        "pieces": pieces }),
    )
}

/// From memory, no source: over a run shops read 130 to 160 F on their platens.
#[test]
fn platens_settle_where_shops_read_them() {
    for platen in ["rubber-topped", "aluminium-6mm"] {
        let answer = stock_run(platen, "plastisol-white", 240);
        let fahrenheit = 32.0 + 1.8 * at(&answer, "/settles_at/value");
        assert!((130.0..=160.0).contains(&fahrenheit), "{platen}: {fahrenheit} F");
    }
}

/// Physics: what is bare is heated without a shirt between, so the more of a metal platen is bare the warmer it gets; wood does not
/// carry that heat under the print.
#[test]
fn a_barer_platen_gets_warmer_where_it_spreads_heat() {
    let settles = |platen: &str, bare: f64| {
        let request = json!({ "flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180",
            "platen": { "from": platen, "bare_fraction": bare }, "press": "automatic-8", "pieces": 240 });
        at(&ask("flash.run", &request), "/settles_at/value")
    };
    for platen in ["rubber-topped", "aluminium-6mm"] {
        let settled = [0.0, 0.15, 0.3, 0.6].map(|bare| settles(platen, bare));
        assert!(settled.windows(2).all(|pair| pair[1] > pair[0] + 1.0), "{platen}: {settled:?}");
    }
    let rise = settles("wood-core-18mm", 0.3) - settles("wood-core-18mm", 0.0);
    assert!((0.0..1.0).contains(&rise), "wood: {rise} K");
}

/// While a flash is not fitted its dwell is the longer of 1.1 times the least and what is customary at least, up to the most; in
/// every turn of a run too, and the cycle that the dwell makes heats the platens by it.
#[test]
fn an_unfitted_flash_is_no_shorter_than_custom() {
    for (ink, fitted, floor) in
        [("plastisol-low-cure", false, 3.0), ("silicone", false, 3.0), ("plastisol-low-cure", true, 0.0)]
    {
        let request = json!({ "flash": { "from": "panel-flash", "fitted": fitted }, "ink": ink, "cloth": "cotton-jersey-180",
            "platen": "rubber-topped", "press": "automatic-8", "pieces": 480 });
        let answer = ask("flash.run", &request);
        assert_eq!(noted(&answer, "flash_not_fitted"), !fitted);
        for rotation in answer["rotations"].as_array().unwrap() {
            let (least, most) = (seconds(rotation, "/least"), seconds(rotation, "/most"));
            near(seconds(rotation, "/recommended"), (1.1 * least).max(floor).min(most), 1e-9, rotation);
        }
        assert!(seconds(&answer["rotations"][59], "/least") * 1.1 < 3.0, "custom is longer by then");
    }
}

/// Readings made by heat.layers under a flash that is known are fitted from one that is off: panel alone by probe and gun, during the
/// flash and after it, the air held; panel and air together where hot air does enough to tell.
#[test]
fn a_known_flash_is_found_again() {
    let (ink, cloth) = (stock::ink("plastisol-white").unwrap(), stock::cloth("cotton-jersey-180").unwrap());
    let of = |value: f64, unit: &str| json!({ "value": value, "unit": unit });
    let (mass, thickness) = (cloth.mass_per_area.si(), cloth.thickness.si());
    let read = |flash: &Value, dwell: f64, moments: &[f64]| {
        let request = json!({
            "layers": [
                { "name": "film", "thickness": "40 um", "conductivity": "0.17 W/(m.K)",
                    "density": of(ink.density.si(), "kg/m3"), "specific_heat": "1500 J/(kg.K)" },
                { "name": "cloth", "thickness": of(thickness * 1e3, "mm"), "conductivity": of(cloth.conductivity.si(), "W/(m.K)"),
                    "density": of(mass / thickness, "kg/m3"), "specific_heat": of(cloth.specific_heat.si(), "J/(kg.K)"),
                    "bound_water": of(mass * cloth.regain_fraction * 1e3, "g/m2") },
                { "name": "aluminium", "thickness": "6 mm", "conductivity": "160 W/(m.K)", "density": "2750 kg/m3",
                    "specific_heat": "880 J/(kg.K)" }],
            "start": "25 degC", "report_at": moments.iter().map(|time| of(*time, "s")).collect::<Vec<_>>(), "tolerance": "0.01 K",
            "stages": [
                { "duration": of(dwell, "s"), "top": flash, "bottom": { "air": "25 degC", "transfer": "5 W/(m2.K)" } },
                { "duration": "10 s", "top": { "air": "25 degC", "transfer": "10 W/(m2.K)" },
                    "bottom": { "air": "25 degC", "transfer": "5 W/(m2.K)" } }],
        });
        let answer = ask("heat.layers", &request);
        let readings: Vec<_> = (0..moments.len())
            .flat_map(|i| {
                [(&answer["interfaces"][0][i], "in_ink"), (&answer["top"][i], "surface")]
                    .map(|(read, place)| json!({ "time": of(moments[i], "s"), "temperature": read, "measured": place }))
            })
            .rev()
            .collect();
        json!({ "dwell": of(dwell, "s"), "readings": readings })
    };
    // The true flash, what is believed of it, and the factors between.
    for (air, transfer, exchange, believed_transfer, believed_exchange, told) in [
        (60.0, 8.0, 0.36, 8.0, 0.45, false),
        (60.0, 8.0, 0.30, 8.0, 0.40, false),
        (180.0, 60.0, 0.20, 40.0, 0.25, true),
        (180.0, 30.0, 0.30, 45.0, 0.20, true),
    ] {
        let face = |transfer: f64, exchange: f64| json!({ "air": of(air, "degC"), "transfer": of(transfer, "W/(m2.K)"), "panel": "550 degC", "exchange_fraction": exchange });
        let truth = face(transfer, exchange);
        let runs = [read(&truth, 4.0, &[2.0, 4.0, 5.0]), read(&truth, 15.0, &[3.0, 6.0, 10.0, 15.0, 16.5])];
        let mut flash = face(believed_transfer, believed_exchange);
        flash["customary_dwell"] = json!("6 s");
        let request = json!({ "flash": flash, "ink": "plastisol-white", "cloth": "cotton-jersey-180", "platen": "aluminium-6mm", "runs": runs });
        let fit = ask("flash.fit", &request);
        assert_eq!(fit["distinguishable"], told, "{fit}");
        assert_eq!(noted(&fit, "not_distinguishable"), !told);
        let (heat, convection) = (exchange / believed_exchange, transfer / believed_transfer);
        relative(at(&fit, "/panel_factor"), heat, 0.005, "panel");
        relative(at(&fit, "/transfer_factor"), convection, 0.03, "air");
        near(at(&fit, "/rms/value"), 0.0, 0.1, "rms");
        relative(at(&fit, "/flash/exchange_fraction"), exchange, 0.005, "fitted share");
        assert_eq!((&fit["flash"]["fitted"], fit.get("flux_factor")), (&json!(true), None));
        // A fitted flash goes on as it stands.
        let mut again = request.clone();
        again["flash"] = fit["flash"].clone();
        relative(at(&ask("flash.fit", &again), "/panel_factor"), 1.0, 0.002, "again");
    }
}

/// Physics: before the flash a shirt in the run stands two stops on its warm platen, so it needs no more than flash.dwell
/// says from the same temperatures, and only a little less.
#[test]
fn a_turn_of_the_run_is_a_dwell_from_its_platen() {
    let answer = stock_run("rubber-topped", "plastisol-white", 24);
    for rotation in answer["rotations"].as_array().unwrap() {
        let request = json!({ "flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180",
            "platen": "rubber-topped", "platen_start": rotation["platen_start"] });
        let dwell = ask("flash.dwell", &request);
        for end in ["/least", "/most"] {
            let (in_run, alone) = (seconds(rotation, end), seconds(&dwell, end));
            assert!(in_run <= alone * 1.002 && in_run >= alone * 0.94, "{end}: {in_run} in the run, {alone} alone");
        }
    }
}

/// Physics: what comes later changes nothing before it; and the dwell in force is what heats the platen, so an ink that
/// needs longer leaves it warmer.
#[test]
fn the_dwell_in_force_heats_the_platen() {
    let (short, long) = (stock_run("rubber-topped", "plastisol", 16), stock_run("rubber-topped", "plastisol", 17));
    let turns = |answer: &Value| answer["rotations"].as_array().unwrap().clone();
    assert_eq!((turns(&short).len(), turns(&long).len()), (2, 3));
    assert_eq!(turns(&short)[..], turns(&long)[..2]);
    let low = turns(&stock_run("rubber-topped", "plastisol-low-cure", 16));
    let (low, high) = (&low[1], &turns(&short)[1]);
    let starts = (at(low, "/platen_start/value"), at(high, "/platen_start/value"));
    assert!(25.1 < starts.0 && starts.0 + 0.1 < starts.1, "{starts:?}");
    assert!(seconds(high, "/recommended") < seconds(&short["rotations"][0], "/recommended"));
    assert!(at(high, "/top_if_unchanged/value") > at(&short, "/rotations/0/top_if_unchanged/value"));
}

/// What is to come changes nothing of what was: the first turns of a long run are those of a short one, which is marched turn by turn.
/// A platen whose felt is damp too, which warms otherwise once it is dry.
#[test]
fn a_longer_run_begins_as_a_shorter_one() {
    let layer = |name: &str, thickness: &str, conductivity: f64, density: f64, specific_heat: f64, water: &str| {
        json!({ "name": name, "thickness": thickness, "conductivity": { "value": conductivity, "unit": "W/(m.K)" },
            "density": { "value": density, "unit": "kg/m3" }, "specific_heat": { "value": specific_heat, "unit": "J/(kg.K)" },
            "bound_water": water })
    };
    for water in ["0 g/m2", "100 g/m2", "300 g/m2"] {
        let platen = json!({ "layers": [layer("felt", "2 mm", 0.06, 200.0, 1400.0, water), layer("board", "10 mm", 0.15, 700.0, 1600.0, "0 g/m2")], "underside": { "transfer": "10 W/(m2.K)", "air": "25 degC" } });
        let run = |pieces: u32| {
            let request = json!({ "flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180", "platen": platen,
                "press": "automatic-8", "pieces": pieces });
            ask("flash.run", &request)["rotations"].as_array().unwrap().clone()
        };
        let (short, long) = (run(64), run(8 * 60));
        assert_eq!(short.len(), 8);
        // As near as a turn that is interpolated promises to be.
        for (short, long) in short.iter().zip(&long) {
            near(at(short, "/platen_start/value"), at(long, "/platen_start/value"), 0.02, water);
            near(seconds(short, "/recommended"), seconds(long, "/recommended"), 0.003, water);
        }
    }
}

/// A cycle that is shorter than the dwell cannot be: the run says that it was stretched.
#[test]
fn a_cycle_shorter_than_the_dwell_is_said() {
    for (cycle, said) in [("3 s", true), ("12 s", false)] {
        let request = json!({ "flash": "panel-flash", "ink": "plastisol", "cloth": "cotton-jersey-180", "platen": "aluminium-6mm",
            "press": "automatic-8", "pieces": 8, "cycle": cycle });
        assert_eq!(noted(&ask("flash.run", &request), "short_cycle"), said, "{cycle}");
    }
}

/// Physics: heat goes from hot to cold, so a hotter platen never asks for a longer dwell, nor gives a longer most.
#[test]
fn a_hotter_platen_never_needs_longer() {
    for flash in ["panel-flash", "quartz-flash"] {
        for platen in ["aluminium-6mm", "rubber-topped", "wood-core-18mm"] {
            for ink in ["plastisol", "water-based-high-solids"] {
                let mut last = [f64::INFINITY; 2];
                for start in [20, 45, 70] {
                    let request = json!({ "flash": flash, "ink": ink, "cloth": "cotton-jersey-180", "platen": platen,
                        "platen_start": { "value": start, "unit": "degC" } });
                    let answer = ask("flash.dwell", &request);
                    for (last, end) in last.iter_mut().zip(["/least", "/most"]) {
                        if answer.pointer(end).is_some() {
                            let now = seconds(&answer, end);
                            assert!(now <= *last, "{end} of {request}: {now} after {last}");
                            *last = now;
                        } else {
                            assert!(last.is_infinite(), "{end} is gone: {request}");
                        }
                    }
                }
            }
        }
    }
}

/// Physics: a thicker film holds more heat and stands further from the flash at its bottom.
#[test]
fn a_thicker_film_never_gels_sooner() {
    for flash in ["panel-flash", "quartz-flash"] {
        let mut last = 0.0;
        for film in [8, 20, 40, 100, 250] {
            let request = json!({ "flash": flash, "ink": "plastisol-white", "cloth": "cotton-jersey-180", "platen": "rubber-topped",
                "film": { "value": film, "unit": "um" } });
            let least = seconds(&ask("flash.dwell", &request), "/least");
            assert!(least > last, "{film} um under {flash}: {least} after {last}");
            last = least;
        }
    }
}

// ---- the window, judged from outside: heat.layers for the temperatures, cure.assess for the cure ----

/// A print and what its trip through zones comes to.
struct Print {
    ink: Ink,
    cloth: Cloth,
    ink_name: &'static str,
    /// Temperature, degC, and hold, s, of a cure that begins when dry.
    cure: (f64, f64),
}

/// Hottest film and cloth, degC, and the log of the film's bottom with the water left in the film, g/m2.
struct Trip {
    film: f64,
    cloth: f64,
    log: Vec<(f64, f64, f64)>,
}

impl Print {
    fn of(ink_name: &'static str, cloth: &str) -> Self {
        let ink = stock::ink(ink_name).unwrap();
        let cure = (units::DEG_C.value(ink.cure.temperature), ink.cure.hold.si());
        Self { ink, cloth: stock::cloth(cloth).unwrap(), ink_name, cure }
    }

    /// A film of 40 um on the cloth, both at 25 degC: films and cloth as the design describes them.
    fn through(&self, zones: &[Value], speed: f64) -> Trip {
        const FILM: f64 = 40e-6;
        let wet = self.ink.water_fraction;
        let mixed = |dry: f64, water: f64| dry * (1.0 - wet) + water * wet;
        let density = self.ink.density.si();
        let (mass, thickness) = (self.cloth.mass_per_area.si(), self.cloth.thickness.si());
        let of = |value: f64, unit: &str| json!({ "value": value, "unit": unit });
        let mut total = 0.0;
        let stages: Vec<_> = zones
            .iter()
            .map(|zone| {
                let duration = at(zone, "/length/value") / (speed / 60.0);
                total += duration;
                let humidity = zone.get("humidity_ratio").cloned().unwrap_or(json!(0.020));
                json!({ "duration": of(duration, "s"),
                    "top": { "air": zone["air"], "transfer": zone["transfer_top"], "humidity_ratio": humidity,
                        "panel": zone["panel"], "exchange_fraction": zone["exchange_fraction"] },
                    "bottom": { "air": zone["air"], "transfer": zone["transfer_bottom"] } })
            })
            .collect();
        let moments: Vec<_> = (0..=400).map(|i| total * f64::from(i) / 400.0).collect();
        let request = json!({
            "layers": [
                { "name": "film", "thickness": of(FILM * 1e6, "um"), "conductivity": of(mixed(0.17, 0.60), "W/(m.K)"),
                    "density": of(density, "kg/m3"), "specific_heat": of(mixed(1500.0, 4186.0), "J/(kg.K)") },
                { "name": "cloth", "thickness": of(thickness * 1e3, "mm"), "conductivity": of(self.cloth.conductivity.si(), "W/(m.K)"),
                    "density": of(mass / thickness, "kg/m3"), "specific_heat": of(self.cloth.specific_heat.si(), "J/(kg.K)"),
                    "bound_water": of(mass * self.cloth.regain_fraction * 1e3, "g/m2") },
            ],
            "film_water": of(density * FILM * wet * 1e3, "g/m2"), "start": "25 degC", "stages": stages,
            "report_at": moments.iter().map(|time| of(*time, "s")).collect::<Vec<_>>(),
        });
        let answer = ask("heat.layers", &request);
        let mut trip = Trip { film: f64::MIN, cloth: f64::MIN, log: Vec::new() };
        for (i, time) in moments.into_iter().enumerate() {
            let top = at(&answer, &format!("/top/{i}/value"));
            let joint = at(&answer, &format!("/interfaces/0/{i}/value"));
            let back = at(&answer, &format!("/bottom/{i}/value"));
            trip.film = trip.film.max(top).max(joint);
            trip.cloth = trip.cloth.max(joint).max(back);
            trip.log.push((time, joint, at(&answer, &format!("/film_water/{i}/value"))));
        }
        trip
    }

    fn cured(&self, trip: &Trip) -> bool {
        if self.ink.cure.after_dry {
            // The time above the cure temperature, from where 1 % of the water is left.
            let dry = 0.01 * trip.log[0].2;
            let (cure, hold) = self.cure;
            let counts = |pair: &&[(f64, f64, f64)]| pair[0].2 <= dry && pair[0].1 >= cure && pair[1].1 >= cure;
            let held: f64 = trip.log.windows(2).filter(counts).map(|pair| pair[1].0 - pair[0].0).sum();
            return held >= hold;
        }
        let log: Vec<_> = trip
            .log
            .iter()
            .map(|(time, heat, _)| json!({ "time": { "value": time, "unit": "s" }, "temperature": { "value": heat, "unit": "degC" } }))
            .collect();
        let answer = ask("cure.assess", &json!({ "ink": self.ink_name, "log": log, "measured": "in_ink" }));
        answer["verdict"] != "under"
    }

    fn scorched(&self, trip: &Trip) -> bool {
        trip.film > units::DEG_C.value(self.ink.never_above) || trip.cloth > units::DEG_C.value(self.cloth.never_above)
    }
}

fn zones_of(dryer: &str) -> Vec<Value> {
    let zone = |length: f64, air: f64, top: f64, bottom: f64| {
        json!({ "length": { "value": length, "unit": "m" }, "air": { "value": air, "unit": "degC" },
            "transfer_top": { "value": top, "unit": "W/(m2.K)" }, "transfer_bottom": { "value": bottom, "unit": "W/(m2.K)" } })
    };
    match dryer {
        "air" => vec![zone(2.0, 175.0, 20.0, 12.0)],
        "long" => vec![zone(4.0, 165.0, 22.0, 14.0)],
        "infrared" => {
            let mut zone = zone(1.2, 120.0, 10.0, 8.0);
            zone["panel"] = json!({ "value": 430.0, "unit": "degC" });
            zone["exchange_fraction"] = json!(0.16);
            vec![zone]
        }
        "hot, then cool" => vec![zone(0.8, 240.0, 25.0, 12.0), zone(1.2, 110.0, 15.0, 10.0)],
        other => panic!("no dryer {other}"),
    }
}

fn window_of(print: &Print, cloth: &str, zones: &[Value]) -> Value {
    let request = json!({ "dryer": { "zones": zones, "belt_least": "0.3 m/min", "belt_most": "6 m/min", "fitted": true },
        "ink": print.ink_name, "cloth": cloth });
    ask("dryer.window", &request)
}

/// Physics, by heat.layers and cure.assess: half a per cent inside the ends of the window the print cures and does not
/// scorch, half a per cent outside one of the two fails, and it is the rule that the answer names.
#[test]
fn the_ends_of_a_window_are_where_the_rules_change() {
    for (dryer, ink, cloth) in [
        ("infrared", "plastisol", "cotton-jersey-180"),
        ("air", "plastisol-low-cure", "cotton-jersey-180"),
        ("infrared", "plastisol-low-bleed-white", "polyester-jersey-150"),
        ("long", "silicone", "cotton-jersey-180"),
        ("hot, then cool", "plastisol", "cotton-jersey-180"),
    ] {
        let print = Print::of(ink, cloth);
        let zones = zones_of(dryer);
        let answer = window_of(&print, cloth, &zones);
        let (slow, fast) = (at(&answer, "/slowest/value"), at(&answer, "/fastest/value"));
        assert!(slow < fast && answer["limits"]["fastest"] == "cure", "{dryer}, {ink}: {}", answer["limits"]);
        for speed in [fast * 0.995, slow * 1.005, (slow * fast).sqrt()] {
            let trip = print.through(&zones, speed);
            assert!(
                print.cured(&trip) && !print.scorched(&trip),
                "{dryer}, {ink}: at {speed} m/min inside {slow} to {fast}"
            );
        }
        assert!(!print.cured(&print.through(&zones, fast * 1.005)), "{dryer}, {ink}: cured above {fast}");
        let trip = print.through(&zones, slow * 0.995);
        match answer["limits"]["slowest"].as_str().unwrap() {
            "ink_never_above" => {
                assert!(trip.film > units::DEG_C.value(print.ink.never_above), "{dryer}, {ink}: {}", trip.film)
            }
            "cloth_never_above" => {
                assert!(trip.cloth > units::DEG_C.value(print.cloth.never_above), "{dryer}, {ink}: {}", trip.cloth);
            }
            "belt" => near(slow, 0.3, 1e-9, "the belt's slow end"),
            // The dose itself is marched again in dryer.rs.
            "cloth_scorch" => assert!(!print.scorched(&trip), "{dryer}, {ink}: scorched before the dose"),
            other => panic!("{dryer}, {ink}: ends at {other}"),
        }
    }
}

/// Physics, by heat.layers: a water-based ink counts its hold from where its film is dry, and not from where it is hot: one
/// that cured at 45 degC would be hot long before it is dry.
#[test]
fn a_wet_ink_counts_from_where_it_is_dry() {
    let zones = zones_of("air");
    let mut print = Print::of("water-based", "cotton-jersey-180");
    assert!(print.ink.cure.after_dry && print.ink.gel == Gel::Dry);
    for (cure, hold) in [(160.0, 30.0), (45.0, 20.0)] {
        print.cure = (cure, hold);
        let request = json!({ "dryer": { "zones": zones, "belt_least": "0.3 m/min", "belt_most": "6 m/min" }, "cloth": "cotton-jersey-180",
            "ink": { "from": "water-based", "cure": { "temperature": { "value": cure, "unit": "degC" }, "hold": { "value": hold, "unit": "s" }, "after_dry": true } } });
        let fast = at(&ask("dryer.window", &request), "/fastest/value");
        // Four hundred moments: a trip is told to within a quarter of a per cent.
        assert!(print.cured(&print.through(&zones, fast * 0.985)), "{cure} degC at {fast}");
        assert!(!print.cured(&print.through(&zones, fast * 1.015)), "{cure} degC at {fast}");
    }
}

/// Physics, by heat.layers: where a hot zone comes first and a cool one last, the allowed speeds are those of a scan.
#[test]
fn a_hot_zone_and_a_cool_one_agree_with_a_scan() {
    let (ink, cloth) = ("plastisol", "cotton-jersey-180");
    let print = Print::of(ink, cloth);
    let zones = zones_of("hot, then cool");
    let answer = window_of(&print, cloth, &zones);
    let ranges: Vec<_> = answer["ranges"]
        .as_array()
        .unwrap()
        .iter()
        .map(|range| (at(range, "/slowest/value"), at(range, "/fastest/value")))
        .collect();
    let (mut allowed, mut refused) = (0, 0);
    for i in 0..40 {
        let speed = 0.3 * 20.0_f64.powf(f64::from(i) / 39.0);
        // Right at an end either will do.
        if ranges.iter().any(|(slow, fast)| (speed / slow - 1.0).abs() < 0.005 || (speed / fast - 1.0).abs() < 0.005) {
            continue;
        }
        let trip = print.through(&zones, speed);
        let fine = print.cured(&trip) && !print.scorched(&trip);
        let within = ranges.iter().any(|(slow, fast)| (*slow..*fast).contains(&speed));
        assert_eq!(fine, within, "at {speed} m/min, ranges {ranges:?}");
        if fine { allowed += 1 } else { refused += 1 }
    }
    assert!(allowed >= 1 && refused >= 10, "{allowed} and {refused}");
}

/// Physics: a lump that comes in hot, cools and is warmed again. Fast, it never falls under the cure temperature; slow, it is
/// brought back above it; in between it is neither, so there are two ranges. Their ends by a scan of the exponentials.
#[test]
fn two_ranges_are_both_given() {
    let (length, cool, warm, start, cure, hold, tau) = (1.0, 20.0, 95.0, 100.0, 90.0, 18.0, 100.0);
    let held = |speed: f64| {
        let through = 60.0 * length / speed;
        let above_at_first = through.min(tau * f64::ln((start - cool) / (cure - cool)));
        let between = cool + (start - cool) * f64::exp(-through / tau);
        let until_warm = if between >= cure { 0.0 } else { tau * f64::ln((warm - between) / (warm - cure)) };
        above_at_first + (through - until_warm).max(0.0)
    };
    let mut ends = Vec::new();
    let speeds: Vec<_> = (0..=40_000).map(|i| 0.1 * 100.0_f64.powf(f64::from(i) / 40_000.0)).collect();
    for pair in speeds.windows(2) {
        if (held(pair[0]) >= hold) != (held(pair[1]) >= hold) {
            ends.push(pair[0]);
        }
    }
    assert!(held(0.1) >= hold && ends.len() == 3, "{ends:?}");
    let zone = |air: f64| json!({ "length": "1 m", "air": { "value": air, "unit": "degC" }, "transfer_top": "20 W/(m2.K)", "transfer_bottom": "10 W/(m2.K)" });
    let request = json!({
        "dryer": { "zones": [zone(cool), zone(warm)], "belt_least": "0.1 m/min", "belt_most": "10 m/min", "fitted": true },
        "ink": lump_ink(60.0, 80.0, cure, hold, 195.0), "film": "5 um", "cloth": lump_cloth(2992.5, 180.0), "start": "100 degC",
    });
    let answer = ask("dryer.window", &request);
    assert_eq!(answer["ranges"].as_array().unwrap().len(), 2, "{}", answer["ranges"]);
    assert!(noted(&answer, "several_windows"));
    near(at(&answer, "/ranges/0/slowest/value"), 0.1, 1e-9, "the belt's slow end");
    let found = ["/ranges/0/fastest/value", "/ranges/1/slowest/value", "/ranges/1/fastest/value"];
    for (pointer, wanted) in found.into_iter().zip(ends) {
        near(at(&answer, pointer), wanted, 0.01 * wanted, pointer);
    }
    // The wider of the two is the window.
    assert_eq!(answer["slowest"], answer["ranges"][0]["slowest"]);
}

/// A stock cloth that no heat spoils.
fn bears_all(cloth: &str) -> Value {
    json!({ "from": cloth, "never_above": "400 degC",
        "scorch": { "temperature": "400 degC", "hold": "24 h", "activation_energy": "120 kJ/mol" } })
}

/// Physics: more time in air and under panels that are hotter than the shirt never lowers its peak.
#[test]
fn a_slower_belt_never_lowers_the_peak() {
    for (dryer, ink, cloth) in [
        ("air", "plastisol", "cotton-fleece-280"),
        ("infrared", "plastisol", "polyester-jersey-150"),
        ("hot, then cool", "plastisol", "cotton-jersey-180"),
    ] {
        let print = Print::of(ink, cloth);
        let zones = zones_of(dryer);
        let peaks = |speed: f64| {
            // A belt of one speed, with an ink and a cloth that allow it whatever it does.
            let own = json!({ "from": ink, "never_above": "400 degC", "cure": { "temperature": "30 degC", "hold": "0 s", "after_dry": false } });
            let request = json!({ "dryer": { "zones": zones, "belt_least": { "value": speed, "unit": "m/min" }, "belt_most": { "value": speed, "unit": "m/min" } },
                "ink": own, "cloth": bears_all(cloth) });
            let answer = ask("dryer.window", &request);
            near(at(&answer, "/recommended/value"), speed, 1e-9 * speed, "the belt's only speed");
            ["top", "bottom_of_ink", "cloth"].map(|point| {
                answer["profile"][point].as_array().unwrap().iter().map(|t| at(t, "/value")).fold(f64::MIN, f64::max)
            })
        };
        let mut last = [f64::MIN; 3];
        for speed in [6.0, 3.0, 2.0, 1.0] {
            let now = peaks(speed);
            for (now, last) in now.iter().zip(last) {
                assert!(*now >= last - 0.1, "{dryer}, {ink} on {cloth} at {speed} m/min: {now} after {last}");
            }
            last = now;
        }
        // The profile is the trip that heat.layers tells.
        let trip = print.through(&zones, 1.0);
        near(last[0].max(last[1]), trip.film, 0.5, "hottest film");
        near(last[1].max(last[2]), trip.cloth, 0.5, "hottest cloth");
    }
}

/// Physics: what is cured at a higher temperature was at every lower one before.
#[test]
fn a_lower_cure_never_narrows_the_fast_end() {
    for dryer in ["air", "infrared"] {
        let mut last = 0.0;
        for cure in [165, 155, 145, 130] {
            let request = json!({ "dryer": { "zones": zones_of(dryer), "belt_least": "0.3 m/min", "belt_most": "10 m/min" },
                "ink": { "from": "plastisol", "cure": { "temperature": { "value": cure, "unit": "degC" }, "hold": "0 s", "after_dry": false } },
                "cloth": "cotton-jersey-180" });
            let fastest = at(&ask("dryer.window", &request), "/fastest/value");
            assert!(fastest > last, "{dryer} at {cure} degC: {fastest} after {last}");
            last = fastest;
        }
    }
}

/// Physics: more cloth of one kind takes more heat.
#[test]
fn a_fleece_is_never_faster_than_jersey() {
    for (dryer, ink) in [
        ("air-dryer-2m", "plastisol"),
        ("air-dryer-2m", "plastisol-low-cure"),
        ("air-dryer-2m", "discharge"),
        ("long-air-dryer-4m", "water-based"),
        ("infrared-dryer-1m2", "plastisol"),
    ] {
        let fastest = |cloth: &str| {
            at(&ask("dryer.window", &json!({ "dryer": dryer, "ink": ink, "cloth": cloth })), "/fastest/value")
        };
        let (jersey, fleece) = (fastest("cotton-jersey-180"), fastest("cotton-fleece-280"));
        assert!(fleece < jersey, "{ink} in {dryer}: {fleece} and {jersey}");
    }
}

/// A film that is not dry has no cure at all; where its cure asks for no hold, the fast end is still found, and by no scan's
/// grid: a belt that ends elsewhere has another grid and the same end.
#[test]
fn a_cure_that_begins_with_dryness_is_found_off_the_grid() {
    let fastest = |cure: u32, most: f64| {
        let request = json!({ "dryer": { "from": "air-dryer-2m", "belt_most": { "value": most, "unit": "m/min" } },
            "ink": { "from": "water-based", "cure": { "temperature": { "value": cure, "unit": "degC" }, "hold": "0 s", "after_dry": true } },
            "cloth": "cotton-jersey-180" });
        at(&ask("dryer.window", &request), "/fastest/value")
    };
    for cure in [60, 150] {
        let (one, other) = (fastest(cure, 6.0), fastest(cure, 7.3));
        near(other / one, 1.0, 0.003, format!("cure at {cure} degC"));
    }
}

/// Physics: nothing gets hotter than its air. Air that is just as hot as the limit never passes it, so the belt ends the
/// window; air a little hotter does.
#[test]
fn air_as_hot_as_the_limit_never_passes_it() {
    for limit in [150.0, 170.0] {
        for (air, rule) in [(limit, "belt"), (limit + 0.5, "ink_never_above")] {
            let mut zone = zones_of("long");
            zone[0]["air"] = json!({ "value": air, "unit": "degC" });
            let request = json!({ "dryer": { "zones": zone, "belt_least": "0.3 m/min", "belt_most": "6 m/min" }, "cloth": bears_all("cotton-jersey-180"),
                "ink": { "from": "plastisol-low-cure", "never_above": { "value": limit, "unit": "degC" } } });
            assert_eq!(ask("dryer.window", &request)["limits"]["slowest"], rule, "air of {air} degC");
        }
    }
}

/// Which two rules conflict, and that what the refusal offers does open a window.
#[test]
fn no_window_says_why() {
    let refused = |dryer: Value, ink: &str| {
        let request = json!({ "dryer": dryer, "ink": ink, "cloth": "polyester-jersey-150" });
        calculate("dryer.window", &request).expect_err("no speed is right")
    };
    let error = refused(json!("air-dryer-2m"), "plastisol");
    assert_eq!((error.code, error.field.as_str()), (Code::NoSolution, "/dryer"));
    assert!(error.message.contains("154") && error.message.contains("cloth_never_above"), "{}", error.message);
    let cool = json!({ "zones": [{ "length": "2 m", "air": "120 degC", "transfer_top": "20 W/(m2.K)", "transfer_bottom": "12 W/(m2.K)" }],
        "belt_least": "0.3 m/min", "belt_most": "6 m/min" });
    let error = refused(cool, "plastisol-low-cure");
    assert!(
        error.message.contains("cure against belt") && error.message.contains("set the air of every zone to 14"),
        "{}",
        error.message
    );
    // Cured and scorched on the fastest belt: cooler air helps, and so does a faster one.
    let error = refused(json!("air-dryer-2m"), "plastisol-low-cure");
    assert!(error.message.contains("set the air") && error.message.contains("belt against"), "{}", error.message);
    let faster = json!({ "dryer": { "from": "air-dryer-2m", "belt_most": "12 m/min" }, "ink": "plastisol-low-cure", "cloth": "polyester-jersey-150" });
    assert_eq!(ask("dryer.window", &faster)["limits"]["slowest"], "cloth_never_above");
}

/// A fit that would take longer than one evaluation may is refused; it is not answered by the factors that it had come to by then.
#[test]
fn a_fit_that_is_too_much_work_is_refused() {
    let readings: Vec<Value> =
        [("0.5 m", "118 degC"), ("1.0 m", "157 degC"), ("1.5 m", "169 degC"), ("2.0 m", "173 degC")]
            .map(|(place, temperature)| json!({ "at": place, "temperature": temperature }))
            .into();
    for count in [8, 20_u32] {
        let runs: Vec<Value> =
            (0..count).map(|run| json!({ "belt_speed": format!("2.{run:02} m/min"), "readings": readings })).collect();
        let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol",
            "cloth": { "from": "cotton-jersey-180", "thickness": "30 mm" }, "runs": runs });
        let error = calculate("dryer.fit", &request).expect_err("too much work");
        assert_eq!((error.code.text(), error.field.as_str()), ("too_long", "/runs"), "{count}");
    }
}

/// A fitted dryer goes into dryer.window and job.plan as it stands, and is not cautioned against there.
#[test]
fn a_fitted_dryer_goes_on_as_it_stands() {
    for units in ["metric", "us"] {
        let readings = json!([{ "at": "0.5 m", "temperature": "118 degC" }, { "at": "1.0 m", "temperature": "157 degC" }, { "at": "2.0 m", "temperature": "173 degC" }]);
        let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180", "units": units,
            "runs": [{ "belt_speed": "2 m/min", "readings": readings }] });
        let fit = ask("dryer.fit", &request);
        let ratio = at(&fit, "/dryer/zones/0/transfer_top/value") / 20.0;
        near(ratio, at(&fit, "/transfer_factor"), 1e-9, "the factor is in the zones");
        let window =
            ask("dryer.window", &json!({ "dryer": fit["dryer"], "ink": "plastisol", "cloth": "cotton-jersey-180" }));
        assert!(!noted(&window, "dryer_not_fitted"));
        let order = json!({ "pieces": 24, "cloth": "cotton-jersey-180", "shop": { "from": "starter-shop", "dryer": fit["dryer"] },
            "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm",
                "screens": [{ "name": "a", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.1 }] }] });
        let plan = ask("job.plan", &order);
        assert!(!noted(&plan, "dryer_not_fitted"), "{}", plan["notes"]);
        assert_eq!(plan["dryer"]["limits"]["fastest"], "cure");
    }
}

/// Every further flash on the way round gives the platens more heat, and they settle where they lose as much: hotter.
#[test]
fn more_flashes_settle_hotter() {
    let settles = |flashes: u32| {
        let press = json!({ "from": "automatic-8", "flashes": flashes });
        let request = json!({ "flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped", "press": press, "pieces": 96 });
        at(&ask("flash.run", &request), "/settles_at/value")
    };
    let [one, two, three] = [1, 2, 3].map(settles);
    assert!(25.0 < one && one + 5.0 < two && two + 5.0 < three && three < 145.0, "{one} {two} {three}");
}

/// What is too hot before the film is firm is named, and where no dwell will do the customary one is judged.
#[test]
fn a_flash_says_what_it_overheats() {
    let ask = |id: &str, change: (&str, Value)| {
        let mut request = json!({ "flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped" });
        if id == "flash.run" {
            (request["press"], request["pieces"]) = (json!("automatic-8"), json!(96));
        }
        request[change.0] = change.1;
        ask(id, &request)
    };
    let tender = json!({ "from": "cotton-jersey-180-dark", "never_above": "70 degC" });
    let dwell = ask("flash.dwell", ("cloth", tender));
    assert_eq!(dwell["verdict"], "overheats");
    assert!(dwell["why"].as_str().unwrap().starts_with("the cloth reaches 70 \u{b0}C before"), "{}", dwell["why"]);
    // Under a weak panel the top is too hot soon, and the bottom not firm in a minute.
    let ink = json!({ "from": "plastisol-white", "gel": "170 degC", "flash_never_above": "45 degC" });
    let weak = json!({ "flash": { "from": "panel-flash", "panel": "250 degC" }, "ink": ink, "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped" });
    let never = compare::ask("flash.dwell", &weak);
    assert!(never["verdict"] == "overheats" && never.get("least").is_none(), "{}", never["verdict"]);
    assert!(never["why"].as_str().unwrap().contains("nowhere within 60 s"), "{}", never["why"]);
    let late = json!({ "from": "plastisol-white", "gel": "170 degC", "flash_never_above": "120 degC" });
    let run = ask("flash.run", ("ink", late));
    // Six seconds are customary, and the film's top is at 120 degC before.
    let notes = run["notes"].as_array().unwrap();
    let note = notes.iter().find(|note| note["code"] == "fixed_dwell_overheats").unwrap();
    assert_eq!(note["message"], "the customary dwell overheats from turn 1 on");
    assert_eq!(run["overheats_at"], 1);
}

/// Whatever is in stock: an answer in order, or a refusal that is `no_solution`.
#[test]
fn stock_prints_have_a_window_in_order_or_none() {
    let (mut windows, mut none) = (0, 0);
    for ink in shelf::<Ink>().names() {
        for cloth in ["nylon-shell-90", "triblend-jersey-150"] {
            let request = json!({ "dryer": "infrared-dryer-1m2", "ink": ink, "cloth": cloth });
            match calculate("dryer.window", &request) {
                Ok(answer) => {
                    let (slow, set, fast) = (
                        at(&answer, "/slowest/value"),
                        at(&answer, "/recommended/value"),
                        at(&answer, "/fastest/value"),
                    );
                    assert!(slow <= set && set <= fast, "{request}: {slow} {set} {fast}");
                    near(seconds(&answer, "/dwell"), 72.0 / set, 1e-9 * 72.0 / set, "dwell");
                    assert!(answer["evaluations"].as_u64().unwrap() <= 80);
                    windows += 1;
                }
                Err(error) => {
                    assert_eq!(error.code, Code::NoSolution, "{request}: {error}");
                    none += 1;
                }
            }
        }
    }
    assert!(windows >= 2 && none >= 2, "{windows} and {none}");
}
