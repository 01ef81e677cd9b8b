//! Facts of the trade, as wide bounds. Each is common practice, no source, unless it says otherwise: what shops,
//! suppliers and journals agree on, and what an answer that is wrong by a unit or a factor of two would break.

use floodbar::ink::Ink;
use floodbar::quantity::{Dimensioned, units};
use floodbar::stock;
use floodbar_tests::compare::{ask, at};
use floodbar_tests::stock::shelf;
use serde_json::json;

fn between(got: f64, least: f64, most: f64, what: &str) {
    assert!((least..=most).contains(&got), "{what}: {got} is not between {least} and {most}");
}

fn ink(name: &str) -> Ink {
    stock::ink(name).unwrap()
}

/// Common practice, no source: one flood and one stroke of plastisol, one flood and two strokes of water-based ink.
#[test]
fn strokes_by_ink() {
    let mut seen = 0;
    for name in shelf::<Ink>().names() {
        let ink = ink(name);
        assert_eq!(ink.flood_strokes, 1, "{name}");
        if name.starts_with("plastisol") {
            assert_eq!(ink.print_strokes, 1, "{name}");
            assert!(!ink.is_water_based(), "{name}");
            seen += 1;
        }
        if name.starts_with("water-based") || name == "discharge" {
            assert_eq!(ink.print_strokes, 2, "{name}");
            assert!(ink.is_water_based() && ink.cure.after_dry, "{name}");
            seen += 1;
        }
    }
    assert_eq!(seen, 7);
}

/// What a second stroke adds is said to stand under a film where there is a second stroke, and only there.
#[test]
fn gain_of_a_second_stroke_is_in_the_basis_of_two() {
    for (strokes, wanted) in [(1, false), (2, true), (3, true)] {
        let answer = ask("ink.deposit", json!({ "mesh": "43-80", "ink": "plastisol-white", "strokes": strokes }));
        let named = answer["basis"]
            .as_array()
            .unwrap()
            .iter()
            .any(|basis| basis["for"] == "plastisol-white.stroke_gain_fraction");
        assert_eq!(named, wanted, "{strokes}: {}", answer["basis"]);
    }
}

/// Common practice, no source: full-cure plastisol cures at 160 degC (320 F), at once when the whole film is there.
#[test]
fn plastisol_cures_at_320_f() {
    for name in ["plastisol", "plastisol-white"] {
        let ink = ink(name);
        between(units::DEG_F.value(ink.cure.temperature), 319.9, 320.1, name);
        assert!(ink.cure.hold.si() == 0.0 && !ink.cure.after_dry, "{name}");
    }
    let answer = ask("unit.convert", json!({ "quantity": "320 F", "to": "C" }));
    between(at(&answer, "/quantity/value"), 159.999_999, 160.000_001, "320 F, often printed as 135 C");
}

/// Common practice, no source: every ink gels before it cures, is not cured under the flash, and is not spoiled by its
/// own cure.
#[test]
fn gel_flash_cure_and_spoil_come_in_order() {
    for name in shelf::<Ink>().names() {
        let ink = ink(name);
        if let floodbar::ink::Gel::At(gel) = ink.gel {
            assert!(gel < ink.flash_never_above, "{name}");
            between(units::DEG_C.value(gel), 80.0, 125.0, name);
        }
        assert!(ink.flash_never_above < ink.cure.temperature, "{name}");
        assert!(ink.cure.temperature < ink.never_above, "{name}");
    }
}

/// Common practice, no source: water-based ink stays in the dryer half as long again to twice as long as plastisol.
#[test]
fn dwell_of_water_based_ink() {
    let plastisol = ink("plastisol").customary_dwell.si();
    between(plastisol, 45.0, 90.0, "plastisol, about a minute");
    for name in ["water-based", "water-based-high-solids", "discharge"] {
        between(ink(name).customary_dwell.si() / plastisol, 1.5, 2.0, name);
    }
}

/// Common practice, no source: water by weight is no measure of solids by volume; the rest is less than it seems, for
/// what stays is denser than water.
#[test]
fn solids_by_volume_are_not_the_rest_of_the_water() {
    for name in shelf::<Ink>().names() {
        let ink = ink(name);
        let by_mass = 1.0 - ink.water_fraction;
        assert!(ink.solids_by_volume_fraction <= by_mass, "{name}");
        assert!(ink.solids_by_volume_fraction >= by_mass * ink.density.si() / 3000.0, "{name}: solids over 3 g/cm3");
    }
}

/// Common practice, no source: the blade is 1 to 2 cm wider than the image on each side, with 5 to 6 cm of mesh free
/// at each end.
#[test]
fn blade_and_frame() {
    let answer = ask("press.squeegee", json!({ "image_width": "320 mm", "image_length": "380 mm" }));
    let blade = at(&answer, "/blade_length/value");
    between(blade - 320.0, 20.0, 40.0, "blade over image");
    between(at(&answer, "/frame_least/width/value") - blade, 100.0, 120.0, "free mesh across");
    between(at(&answer, "/frame_least/length/value") - 380.0, 100.0, 120.0, "free mesh along");
}

/// Common practice, no source: step 7 is the last solid one, at a density of 0.15 a step, about half a stop.
#[test]
fn step_seven_is_solid() {
    let answer = ask("exposure.step", json!({ "time": "60 s", "solid_step": 7 }));
    between(at(&answer, "/factor"), 1.0, 1.0, "on step 7");
    let answer = ask("exposure.step", json!({ "time": "60 s", "solid_step": 5 }));
    between(at(&answer, "/factor"), 1.95, 2.05, "two steps are a stop");
}

/// Common practice, no source: counts, threads and the uses of garment mesh, with w, A0, D = 1.5 d and Vth by arithmetic
/// (rounded as shops print them), and the wet deposit at a third to a half release.
#[test]
fn mesh_columns() {
    // count /cm, thread um, opening um, open area %, thickness um, volume cm3/m2, deposit from and to um
    let rows: [[f64; 8]; 15] = [
        [10.0, 260.0, 740.0, 55.0, 390.0, 214.0, 70.0, 107.0],
        [15.0, 200.0, 467.0, 49.0, 300.0, 147.0, 49.0, 73.0],
        [24.0, 140.0, 277.0, 44.0, 210.0, 93.0, 31.0, 46.0],
        [34.0, 100.0, 194.0, 44.0, 150.0, 65.0, 22.0, 33.0],
        [43.0, 80.0, 153.0, 43.0, 120.0, 52.0, 17.0, 26.0],
        [48.0, 70.0, 138.0, 44.0, 105.0, 46.0, 15.0, 23.0],
        [55.0, 64.0, 118.0, 42.0, 96.0, 40.0, 13.0, 20.0],
        [62.0, 64.0, 97.0, 36.0, 96.0, 35.0, 12.0, 17.0],
        [77.0, 55.0, 75.0, 33.0, 82.0, 27.0, 9.0, 14.0],
        [77.0, 48.0, 82.0, 40.0, 72.0, 29.0, 9.0, 14.0],
        [90.0, 48.0, 63.0, 32.0, 72.0, 23.0, 8.0, 12.0],
        [90.0, 40.0, 71.0, 41.0, 60.0, 25.0, 8.0, 12.0],
        [110.0, 40.0, 51.0, 31.0, 60.0, 19.0, 6.0, 9.0],
        [120.0, 40.0, 43.0, 27.0, 60.0, 16.0, 5.0, 8.0],
        [120.0, 34.0, 49.0, 35.0, 51.0, 18.0, 6.0, 9.0],
    ];
    for [count, thread, opening, open_area, thickness, volume, low, high] in rows {
        let mesh = format!("{count}-{thread}");
        let answer = ask("mesh.geometry", json!({ "mesh": mesh }));
        between(at(&answer, "/opening/value"), opening - 1.0, opening + 1.0, &mesh);
        between(at(&answer, "/open_area_fraction") * 100.0, open_area - 1.0, open_area + 1.0, &mesh);
        between(at(&answer, "/thickness/value"), thickness - 1.0, thickness + 1.0, &mesh);
        between(at(&answer, "/ink_volume/value"), volume - 1.0, volume + 1.0, &mesh);
        for (release, wanted) in [(1.0 / 3.0, low), (0.5, high)] {
            let ink = json!({ "from": "plastisol", "release_fraction": release });
            let film = at(&ask("ink.deposit", json!({ "mesh": mesh, "ink": ink })), "/wet_film/value");
            between(film, wanted - 1.5, wanted + 1.5, &mesh);
        }
        let film = at(&ask("ink.deposit", json!({ "mesh": mesh, "ink": "plastisol" })), "/wet_film/value");
        between(film, low - 1.0, high + 1.0, &mesh);
    }
}

/// Common practice, no source: 3 g of white at 1.44 g/cm3 cover 800 to 1230 cm2 through 43-80 at a half to a third
/// release, a full front.
#[test]
fn three_grams_are_a_full_front() {
    for (release, wanted) in [(0.5, 800.0), (1.0 / 3.0, 1230.0)] {
        let ink = json!({ "from": "plastisol-white", "release_fraction": release });
        let request =
            json!({ "mesh": "43-80", "ink": ink, "printed_area": { "value": wanted, "unit": "cm2" }, "prints": 1 });
        between(at(&ask("ink.usage", request), "/mass_per_print/value"), 2.85, 3.15, "a full front");
    }
}

/// Common practice, no source: a kilogram of ink makes 300 to 800 prints of the usual size, and a left chest takes at
/// most 2 g of white.
#[test]
fn mileage() {
    for area in ["1000 cm2", "700 cm2"] {
        let request = json!({ "mesh": "55-64", "ink": "plastisol-white", "printed_area": area, "prints": 100 });
        between(at(&ask("ink.usage", request), "/prints_per_mass/value"), 300.0, 800.0, area);
    }
    let chest =
        json!({ "mesh": "43-80", "ink": "plastisol-white", "hits": 2, "printed_area": "60 cm2", "prints": 100 });
    between(at(&ask("ink.usage", chest), "/mass_per_print/value"), 0.25, 2.0, "left chest");
}

/// Common practice, no source: printing, flashing and printing again about doubles the ink.
#[test]
fn print_flash_print_doubles_the_ink() {
    let film = |hits: u32| {
        at(&ask("ink.deposit", json!({ "mesh": "43-80", "ink": "plastisol-white", "hits": hits })), "/wet_film/value")
    };
    between(film(2) / film(1), 1.7, 2.0, "print, flash, print");
    let film = |strokes: u32| {
        let request = json!({ "mesh": "43-80", "ink": "plastisol-white", "strokes": strokes });
        at(&ask("ink.deposit", request), "/wet_film/value")
    };
    between(film(2) / film(1), 1.15, 1.40, "a second stroke");
}

/// Common practice, no source: a stencil adds ink only where the image is narrower than some 9.5 mm.
#[test]
fn a_stencil_thickens_lines_and_no_solids() {
    let share = |width: &str| {
        let request = json!({ "mesh": "55-64", "ink": "plastisol", "feature_width": width });
        at(&ask("ink.deposit", request), "/edge_share_fraction")
    };
    between(share("0.1 mm"), 0.8, 1.0, "hairline");
    between(share("3 mm"), 0.05, 0.3, "a wide line");
    between(share("9.5 mm"), 0.0, 0.1, "a solid");
}

/// Common practice, no source: 20 % of the mesh stands over it, about 23 um on 43-80; 15 % is thin enough, 25 % the ceiling.
#[test]
fn stencil_over_mesh() {
    let verdict = |coated: &str| {
        ask("stencil.thickness", json!({ "mesh": "43-80", "coated_thickness": coated }))["verdict"].clone()
    };
    assert_eq!(verdict("143 um"), "good");
    assert_eq!(verdict("132 um"), "thin");
    assert_eq!(verdict("155 um"), "thick");
}

/// Common practice, no source: on 120-34 a dot of 117 um is sure and one of 83 um is not; at 55 lines per inch a 5 % dot
/// is 117 um, at 65 it is 99 um.
#[test]
fn the_smallest_dots() {
    let answer = ask("mesh.detail", json!({ "mesh": "120-34", "ruling": "55 lpi" }));
    between(at(&answer, "/smallest_dot_safe/value"), 116.5, 117.5, "sure");
    between(at(&answer, "/smallest_dot_marginal/value"), 82.5, 83.5, "marginal");
    between(at(&answer, "/tone_min_fraction"), 0.0475, 0.0525, "a 5 % dot at 55 lines");
    between(at(&answer, "/tone_max_fraction"), 0.9475, 0.9525, "its counterpart");
    for (um, lines) in [(117.0, 55.0), (99.0, 65.0)] {
        let share = floodbar::mesh::tone(units::UM.of(um), units::PER_IN.of(lines));
        between(share, 0.0495, 0.0510, "a 5 % dot");
    }
}

/// Common practice, no source: 3.5 to 4 threads to a line, so 65 lines per inch want a mesh of 230 to 265 per inch; and
/// no line under 0.3 mm is safe on a garment, no gap under 0.5 mm.
#[test]
fn threads_to_a_line() {
    let detail = |count: f64| {
        let mesh = json!({ "count": { "value": count, "unit": "/in" }, "thread": "40 um" });
        ask("mesh.detail", json!({ "mesh": mesh, "ruling": "65 lpi", "units": "us" }))
    };
    for count in [230.0, 265.0] {
        let answer = detail(count);
        between(65.0, at(&answer, "/ruling_low/value"), at(&answer, "/ruling_high/value"), "65 lines");
        assert!(!answer["notes"].to_string().contains("ruling_too_fine"), "{count}");
    }
    between(at(&detail(265.0), "/ruling_high/value") * 3.5 / 4.0, 65.0, 67.0, "265 threads at 4 to a line");
    for count in [195.0, 225.0] {
        assert!(detail(count)["notes"].to_string().contains("ruling_too_fine"), "{count}");
    }
    for mesh in ["43-80", "77-55", "120-34"] {
        let answer = ask("mesh.detail", json!({ "mesh": mesh }));
        between(at(&answer, "/finest_line/value"), 300.0, 400.0, mesh);
        between(at(&answer, "/finest_gap/value"), 500.0, 500.0, mesh);
    }
}

/// Common practice, no source: dyed mesh wants 1.5 to 2 times the exposure of white, steel 2 to 4 times; both are usual.
#[test]
fn dyed_mesh_wants_longer() {
    for (factor, kind) in [(1.5, "dyed"), (2.0, "dyed"), (4.0, "steel")] {
        let answer = ask("exposure.rescale", json!({ "time": "60 s", "mesh_factor": { "from": 1, "to": factor } }));
        between(at(&answer, "/time/value"), 60.0 * factor - 0.1, 60.0 * factor + 0.1, kind);
        assert!(answer["notes"].as_array().unwrap().iter().all(|note| note["level"] == "info"), "{kind}: {answer}");
    }
}

/// Common practice, no source: a test of five strips at half, 0.71, once, 1.41 times and twice the time covers two stops.
#[test]
fn five_strips_cover_two_stops() {
    let answer = ask("exposure.series", json!({ "middle": "100 s", "steps": 5 }));
    for (strip, wanted) in [50.0, 71.0, 100.0, 141.0, 200.0].into_iter().enumerate() {
        between(at(&answer, &format!("/times/{strip}/value")), wanted - 0.5, wanted + 0.5, "a strip");
    }
}

/// Common practice, no source: stencils want 30 to 1200 mJ/cm2 and light falls in them over tens of micrometres; a lamp
/// at arm's length that meets a stencil squarely eats less than 20 um of each edge.
#[test]
fn light_in_a_stencil() {
    let points = json!([
        { "exposure": "60 mJ/cm2", "depth": "70 um" }, { "exposure": "120 mJ/cm2", "depth": "105 um" },
        { "exposure": "240 mJ/cm2", "depth": "145 um" },
    ]);
    let answer = ask("exposure.curve", json!({ "points": points, "stencil_thickness": "115 um" }));
    between(at(&answer, "/exposure/value"), 120.0, 240.0, "between the strips around it");
    between(at(&answer, "/penetration_depth/value"), 20.0, 100.0, "tens of micrometres");
    assert!(answer["notes"].as_array().unwrap().iter().all(|note| note["level"] == "info"), "{answer}");
    let request =
        json!({ "film_gap": "20 um", "half_angle": "10 deg", "stencil_thickness": "80 um", "line": "300 um" });
    between(at(&ask("exposure.undercut", request), "/spread_through/value"), 0.0, 20.0, "undercut");
}

/// Common practice, no source: 3 g of white at 1.44 g/cm3 on 800 to 1230 cm2 through 43-80 are a release of a half to a
/// third.
#[test]
fn a_weighing_shows_a_third_to_a_half() {
    for (area, least, most) in [("800 cm2", 0.48, 0.52), ("1000 cm2", 0.38, 0.42), ("1230 cm2", 0.32, 0.345)] {
        let request = json!({ "mesh": "43-80", "ink": "plastisol-white", "printed_area": area, "prints": 100,
            "mass_before": "20 kg", "mass_after": "20.3 kg" });
        between(at(&ask("ink.weigh", request), "/release_fraction"), least, most, area);
    }
}

/// Common practice, no source: 2 to 4 % of fixer, 6 to 10 % of discharge agent, and a pot of either lasts a working day
/// at most, 4 to 8 h.
#[test]
fn pots_of_a_working_day() {
    for (share, life) in [(3.0, "4 h"), (6.0, "6 h"), (10.0, "8 h")] {
        let parts = json!([{ "name": "ink", "parts": 100.0 - share }, { "name": "agent", "parts": share, "most_fraction": 0.1 }]);
        let request = json!({ "batch": "2 kg", "parts": parts, "pot_life": life, "use_rate": "5 g/min" });
        let answer = ask("ink.mix", request);
        between(at(&answer, "/masses/1/value"), 59.9, 200.1, "agent for 2 kg");
        between(answer["pots"].as_array().unwrap().len() as f64, 1.0, 2.0, "pots for 2 kg");
    }
}

/// Common practice, no source: six shirts a minute are 360 an hour; a widely copied page says 60.
#[test]
fn six_shirts_a_minute() {
    let request = json!({ "heated_length": "2 m", "belt_speed": "4.5 m/min", "piece_length": "0.75 m" });
    between(at(&ask("dryer.dwell", request), "/pieces_per_hour"), 359.999, 360.001, "six a minute");
}

/// Common practice, no source: a small automatic runs 300 to 900 pieces an hour, a manual press 40 to 120: by
/// hand one person prints one colour 80 to 120 times an hour while running, and less over a day.
#[test]
fn output_of_presses() {
    let rate = |press: &str, flash: &str| {
        let colours = json!([
            { "name": "white", "image_length": "350 mm", "flood_strokes": 1, "print_strokes": 1, "flash": flash },
            { "name": "red", "image_length": "350 mm", "flood_strokes": 1, "print_strokes": 1 },
        ]);
        at(&ask("press.run", json!({ "press": press, "pieces": 100, "colours": colours })), "/pieces_per_hour")
    };
    between(rate("automatic-8", "6 s"), 300.0, 900.0, "automatic-8");
    between(rate("automatic-14", "6 s"), 300.0, 900.0, "automatic-14");
    between(rate("manual-4x4", "8 s"), 40.0, 120.0, "manual-4x4");
    for length in ["100 mm", "380 mm", "500 mm"] {
        let colours = json!([{ "name": "red", "image_length": length, "flood_strokes": 1, "print_strokes": 1 }]);
        let run = ask("press.run", json!({ "press": "manual-4x4", "pieces": 100, "colours": colours }));
        between(at(&run, "/pieces_per_hour"), 80.0, 120.0, "one colour by hand");
    }
}

/// What takes no time, or next to none, holds nothing up: 400 mm at 400 mm/s are a second a piece, and nothing comes next.
#[test]
fn nothing_waits_for_what_takes_no_time() {
    for index in ["0 s", "1e-318 s", "1e-9 s"] {
        let press = json!({ "kind": "automatic", "stations": 4, "heads": 2, "index": index, "stroke_speed": "400 mm/s", "load": "0 s", "unload": "0 s" });
        let colours = json!([{ "name": "red", "image_length": "400 mm", "flood_strokes": 0, "print_strokes": 1 }]);
        let run = ask("press.run", json!({ "press": press, "pieces": 10, "colours": colours }));
        assert_eq!(
            (&run["bottleneck"], &run["next_bottleneck"]),
            (&json!("print red"), &json!("print red")),
            "{index}"
        );
        for rate in ["/pieces_per_hour", "/next_pieces_per_hour"] {
            between(at(&run, rate), 3_599.99, 3_600.01, index);
        }
    }
}

/// Common practice, no source: shops start 2 to 8 % over on orders of a gross to a thousand.
#[test]
fn blanks_over() {
    for pieces in [144.0, 500.0, 1000.0] {
        let request = json!({ "pieces": pieces, "spoilage_fraction": 0.025, "confidence": 0.9 });
        let over = at(&ask("press.overs", request), "/start_with") / pieces - 1.0;
        between(over, 0.02, 0.08, "over");
    }
}

/// Common practice, no source: cotton turns faintly yellow within minutes at 350-375 F, other cloth is marked below, and dye of polyester
/// moves from 129 degC (265 F) on.
#[test]
fn cloth_limits() {
    use floodbar::cloth::Cloth;
    for name in shelf::<Cloth>().names() {
        let cloth = stock::cloth(name).unwrap();
        between(units::DEG_C.value(cloth.never_above), 145.0, 205.0, name);
        between(units::G_PER_M2.value(cloth.mass_per_area), 60.0, 500.0, name);
        if let Some(caution) = cloth.dye_moves_above() {
            between(units::DEG_F.value(caution), 264.0, 281.0, name);
            assert!(caution < cloth.never_above, "{name}");
        }
        assert!(cloth.regain_fraction < 0.1, "{name}: a page prints 35 %");
    }
    let polyester = stock::cloth("polyester-jersey-150").unwrap();
    between(units::DEG_F.value(polyester.never_above), 280.0, 310.0, "polyester");
    for name in ["cotton-jersey-180", "cotton-jersey-180-dark", "cotton-fleece-280"] {
        let scorch = stock::cloth(name).unwrap().scorch.clone().unwrap();
        let bears = |fahrenheit: f64| {
            let rate = floodbar::cure::rate(scorch.activation_energy, units::DEG_F.of(fahrenheit), scorch.temperature);
            units::MIN.value(scorch.hold) / rate
        };
        between(bears(350.0), 1.0, 5.0, name);
        between(bears(375.0), 0.5, 2.0, name);
    }
}

fn dwell_under(flash: &str, platen: &str, platen_start: &str) -> f64 {
    let request = json!({ "flash": flash, "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": platen,
        "platen_start": platen_start });
    at(&ask("flash.dwell", request), "/recommended/value")
}

/// Common practice, no source: 3 to 15 s under a panel, 1 to 5 s under quartz lamps, cold platens or warm.
#[test]
fn seconds_under_a_flash() {
    for platen in ["aluminium-6mm", "rubber-topped", "wood-core-18mm"] {
        for start in ["24 degC", "60 degC"] {
            between(dwell_under("panel-flash", platen, start), 3.0, 15.0, platen);
            between(dwell_under("quartz-flash", platen, start), 1.0, 5.0, platen);
        }
    }
}

/// Common practice, no source: the time under a panel falls by a quarter to a half as rubber-topped platens warm from 24 to
/// 60 degC (75 to 140 degF); bare metal, the worst sink, may save more, and lamps that are quick anyhow less.
#[test]
fn warm_platens_save_a_quarter_to_a_half() {
    let saved =
        |flash: &str, platen: &str| 1.0 - dwell_under(flash, platen, "60 degC") / dwell_under(flash, platen, "24 degC");
    between(saved("panel-flash", "rubber-topped"), 0.25, 0.50, "a panel over rubber");
    between(saved("panel-flash", "wood-core-18mm"), 0.20, 0.50, "a panel over wood");
    between(saved("panel-flash", "aluminium-6mm"), 0.25, 0.65, "a panel over metal");
    between(saved("quartz-flash", "rubber-topped"), 0.10, 0.50, "lamps over rubber");
}

fn dwell_in(dryer: &str, ink: &str) -> f64 {
    let answer = ask("dryer.window", json!({ "dryer": dryer, "ink": ink, "cloth": "cotton-jersey-180" }));
    let unit = if answer["dwell"]["unit"] == "min" { 60.0 } else { 1.0 };
    at(&answer, "/dwell/value") * unit
}

/// Common practice, no source: plastisol takes about a minute in an unfitted hot-air tunnel, water-based ink half as much
/// again to double, so its belt is at most about half as fast.
#[test]
fn a_minute_of_hot_air_and_more_for_water() {
    for dryer in ["air-dryer-2m", "long-air-dryer-4m"] {
        let plastisol = dwell_in(dryer, "plastisol");
        between(plastisol, 45.0, 75.0, dryer);
        for ink in ["water-based", "water-based-high-solids"] {
            between(dwell_in(dryer, ink) / plastisol, 1.5, 2.25, ink);
        }
    }
}

/// Common practice, no source: discharge dwells 2 to 3 minutes, a little more at the edge of a recommendation.
#[test]
fn discharge_takes_minutes() {
    between(dwell_in("air-dryer-2m", "discharge"), 100.0, 200.0, "discharge");
}

/// Common practice, no source: an infrared tunnel of about 37 s brings the shirt to about 177 degC (350 degF).
#[test]
fn an_infrared_tunnel() {
    let dryer = json!({ "from": "infrared-dryer-1m2", "fitted": true });
    let answer = ask("dryer.window", json!({ "dryer": dryer, "ink": "plastisol", "cloth": "cotton-jersey-180" }));
    between(at(&answer, "/dwell/value"), 28.0, 46.0, "dwell");
    let hottest = at(&answer, "/profile/top/40/value").max(at(&answer, "/profile/cloth/40/value"));
    between(hottest, 160.0, 195.0, "shirt at the exit");
}
