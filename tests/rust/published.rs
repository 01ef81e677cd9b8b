//! Published tables, copied unchanged to `tests/published`; the head of each file names its source.

use floodbar::cloth::Cloth;
use floodbar::mesh::Mesh;
use floodbar::quantity::{Dimension, Dimensioned, UNITS, Unit, units};
use floodbar::stock;
use floodbar::{Code, calculate, exposure, flash};
use floodbar_tests::compare::{ask, near, quantity, relative};
use floodbar_tests::published::{given, table};
use floodbar_tests::stock::{shelf, source as stock_source};
use serde_json::{Value, json};

fn convert(quantity: &str, to: &str) -> f64 {
    let answer = ask("unit.convert", json!({ "quantity": quantity, "to": to }));
    answer["quantity"]["value"].as_f64().unwrap()
}

fn unit(name: &str) -> &'static Unit {
    UNITS.iter().find(|u| u.name == name).unwrap_or_else(|| panic!("no unit {name}"))
}

/// NIST SP 811 (2008), appendix B: the exact values to their 12 digits, the printed ones to their 7.
#[test]
fn nist_sp811_factors() {
    let ours = |label: &str| {
        Some(match label {
            "inch" => ("in", "m"),
            "yard" => ("yd", "m"),
            "mil (0.001 in)" => ("mil", "m"),
            "foot per minute" => ("ft/min", "m/s"),
            "pound (avoirdupois)" => ("lb", "kg"),
            "ounce (avoirdupois)" => ("oz", "kg"),
            "ounce per square yard" => ("oz/yd2", "kg/m2"),
            "pound-force" => ("lbf", "N"),
            "pound-force per inch" => ("lbf/in", "N/m"),
            "gallon (US)" => ("gal", "m3"),
            _ => return None,
        })
    };
    let mut known = 0;
    for row in table("nist_sp811") {
        let Some((from, to)) = ours(&row["unit"]) else { continue };
        known += 1;
        let (exact, printed) = (given(&row, "exact_value").unwrap(), given(&row, "factor").unwrap());
        for got in [convert(&format!("1 {from}"), to), unit(from).to_si(1.0)] {
            relative(got, exact, 5e-12, &row);
            relative(got, printed, 3e-7, &row);
        }
    }
    assert_eq!(known, 10, "every row that the wire has a unit for");
}

/// Conversions of the trade, from exact definitions; ten digits are printed.
#[test]
fn conversions_of_the_trade() {
    for row in table("derived_conversions") {
        let wanted = given(&row, "value").unwrap();
        let got = match (row["from"].as_str(), row["to"].as_str()) {
            ("1 US gal over 1000 ft2", "um") => units::UM.from_si(units::GAL.to_si(1.0) / units::FT2.to_si(1000.0)),
            (from, "um film") => convert(from, "um"),
            (from, to) => convert(from, to),
        };
        relative(got, wanted, 1e-9, &row);
    }
}

/// A fabric weaver's page and a trade magazine; the tolerances are those of the file's head.
#[test]
fn polyester_fabric() {
    for row in table("screen_fabric_published") {
        let count = given(&row, "n_per_in").map_or_else(|| format!("{} /cm", row["n_per_cm"]), |n| format!("{n} /in"));
        let mut mesh = json!({ "count": count, "thread": format!("{} um", row["thread_um"]) });
        if let Some(thickness) = given(&row, "thickness_um_pub") {
            mesh["thickness"] = format!("{thickness} um").into();
        }
        let answer = ask("mesh.geometry", json!({ "mesh": mesh }));
        let detail = ask("mesh.detail", json!({ "mesh": mesh }));
        for (column, within) in [("opening_um_pub", 2.0), ("opening_um_calc", 0.005)] {
            if let Some(w) = given(&row, column) {
                let d = given(&row, "thread_um").unwrap();
                near(detail["smallest_dot_safe"]["value"].as_f64().unwrap(), 2.0 * d + w, within + 1e-9, &row);
                near(detail["smallest_dot_marginal"]["value"].as_f64().unwrap(), d + w, within + 1e-9, &row);
            }
        }
        let opening = answer["opening"]["value"].as_f64().unwrap();
        let open_area = answer["open_area_fraction"].as_f64().unwrap() * 100.0;
        let volume = answer["ink_volume"]["value"].as_f64().unwrap();
        let points = if row["n_per_cm"] == "120" && row["thread_um"] == "40" { 3.0 } else { 1.5 };
        for (got, column, within) in [
            (opening, "opening_um_pub", 2.0),
            (open_area, "open_area_pct_pub", points),
            (volume, "ink_volume_cm3m2_pub", 1.0),
            (opening, "opening_um_calc", 0.005),
            (open_area, "open_area_pct_calc", 0.005),
            (volume, "ink_volume_calc", 0.005),
        ] {
            if let Some(wanted) = given(&row, column) {
                near(got, wanted, within + 1e-9, (column, &row));
            }
        }
    }
}

/// The fabrics of the same pages are stocked, by the names that the trade gives them; of each count one thread is the usual one.
#[test]
fn the_published_fabrics_are_stocked() {
    let listed = ask("stock.list", json!({ "kind": "mesh" }));
    let rows = listed["kinds"][0]["rows"].as_array().unwrap();
    let number = |row: &Value, field: &str| row["values"][field]["value"].as_f64().unwrap();
    for row in table("screen_fabric_published") {
        let name = format!("{}-{}", row["n_per_cm"], row["thread_um"]);
        assert!(rows.iter().any(|stocked| stocked["name"] == name), "{name}");
    }
    for row in rows {
        let (name, count) = (row["name"].as_str().unwrap(), number(row, "count"));
        assert_eq!(name, format!("{}-{}", count.round(), number(row, "thread").round()));
        let of_count = |other: &&Value| number(other, "count") == count && other["values"]["usual"] == true;
        let usual: Vec<_> = rows.iter().filter(of_count).collect();
        assert_eq!(usual.len(), 1, "{name}");
        let alone = ask("mesh.geometry", json!({ "mesh": format!("{count} /cm") }));
        near(alone["thread"]["value"].as_f64().unwrap(), number(usual[0], "thread"), 1e-9, name);
        // What is stocked raises no doubt.
        let answer = ask("mesh.geometry", json!({ "mesh": name }));
        assert!(answer["notes"].as_array().unwrap().iter().all(|note| note["level"] == "info"), "{name}: {answer}");
    }
}

/// Common practice, no source: inch counts are rounded, and each of these names that mesh.
#[test]
fn inch_counts_of_the_trade() {
    let named = [
        ("10-260", &[24][..]),
        ("15-200", &[38]),
        ("24-140", &[60, 61]),
        ("34-100", &[85, 86]),
        ("43-80", &[109, 110]),
        ("48-70", &[122]),
        ("55-64", &[137, 140]),
        ("62-64", &[156, 157, 158, 160]),
        ("77-55", &[195, 196, 200]),
        ("90-48", &[225, 230]),
        ("100-40", &[255]),
        ("110-40", &[280]),
        ("120-40", &[305]),
        ("140-34", &[355]),
    ];
    for (name, counts) in named {
        let mesh: Mesh = name.parse().unwrap();
        let (metric, thread) = name.split_once('-').unwrap();
        for count in counts {
            for text in [format!("{count} tpi"), format!("{count}/in"), format!("{count}/{thread} tpi")] {
                let read: Mesh = text.parse().unwrap_or_else(|e| panic!("{text}: {e}"));
                assert!(read.same_cloth(&mesh), "{text} is not {name}");
                relative(units::PER_IN.value(read.count()), f64::from(*count), 1e-12, &text);
            }
            // Read as metric it is refused or doubted, and what was meant is named.
            let wrong = calculate("mesh.geometry", &json!({ "mesh": format!("{count}-{thread}") }));
            let said = match &wrong {
                Ok(answer) => answer["notes"][0]["message"].as_str().unwrap(),
                Err(error) => error.message.as_str(),
            };
            let meant = format!("was `{name}` meant, which is {count} threads per inch?");
            assert!(said.contains(&meant), "{count}-{thread}: {said}, not {metric}");
        }
    }
}

/// ISO 3310-1:2016, open area as ISO 9044 has it. Cloth coarser than 1 /cm or of wire over 5 mm is refused.
#[test]
fn sieve_cloth() {
    let mut answered = 0;
    for row in table("sieve_iso3310_1") {
        let (w, d) = (given(&row, "w_um").unwrap(), given(&row, "d_um").unwrap());
        let count = 10_000.0 / (w + d);
        let mesh = json!({ "count": { "value": count, "unit": "/cm" }, "thread": { "value": d, "unit": "um" } });
        match calculate("mesh.geometry", &json!({ "mesh": mesh })) {
            Ok(answer) => {
                answered += 1;
                relative(answer["opening"]["value"].as_f64().unwrap(), w, 1e-12, &row);
                near(answer["open_area_fraction"].as_f64().unwrap(), given(&row, "open_area").unwrap(), 6e-7, &row);
                near(count, given(&row, "threads_per_cm").unwrap(), 6e-5, &row);
                let per_inch = ask("mesh.geometry", json!({ "mesh": mesh, "units": "us" }));
                near(per_inch["count"]["value"].as_f64().unwrap(), given(&row, "mesh_per_inch").unwrap(), 6e-5, &row);
                let detail = ask("mesh.detail", json!({ "mesh": mesh }));
                relative(detail["smallest_dot_safe"]["value"].as_f64().unwrap(), 2.0 * d + w, 1e-12, &row);
                relative(detail["smallest_dot_marginal"]["value"].as_f64().unwrap(), d + w, 1e-12, &row);
            }
            Err(e) => assert!(e.code == Code::OutOfRange && (count < 1.0 || d > 5000.0), "{row:?}: {e}"),
        }
    }
    assert_eq!(answered, 45, "the rows from 8 mm down");
}

/// A 21-step transmission tablet: factors from step to step, both ways, and their transmittances.
#[test]
fn step_tablet() {
    let rows = table("step_tablet_21");
    for solid in &rows {
        for wanted in &rows {
            let of = |row, column| given(row, column).unwrap();
            let request = json!({ "time": "60 s", "solid_step": of(solid, "step"), "wanted_step": of(wanted, "step") });
            let answer = ask("exposure.step", &request);
            let factor = answer["factor"].as_f64().unwrap();
            let published = of(wanted, "relative_exposure_factor") / of(solid, "relative_exposure_factor");
            relative(factor, published, 1e-6, &request);
            relative(factor, of(solid, "transmittance") / of(wanted, "transmittance"), 1e-5, &request);
            let shown = &answer["time"];
            let seconds = unit(shown["unit"].as_str().unwrap()).to_si(shown["value"].as_f64().unwrap());
            relative(seconds, 60.0 * published, 1e-6, &request);
        }
    }
}

/// Schwarzschild's law E = I t^p, p = 0.86 in his work of 1899-1900: the time for a part of the light, told by a light
/// meter and, where a point source would give that part, by the distance.
#[test]
fn schwarzschild() {
    let rows = table("schwarzschild");
    for row in &rows {
        for (part, column) in [(2.0, "t_factor_I/2"), (4.0, "t_factor_I/4"), (10.0, "t_factor_I/10")] {
            let wanted = given(row, column).unwrap();
            for (cause, from, to) in [
                ("irradiance", quantity(20.0, "mW/cm2"), quantity(20.0 / part, "mW/cm2")),
                ("distance", quantity(50.0, "cm"), quantity(50.0 * part.sqrt(), "cm")),
            ] {
                let p = given(row, "p").unwrap();
                let request = json!({ "time": "10 s", "reciprocity_exponent": p, (cause): { "from": from, "to": to } });
                let answer = ask("exposure.rescale", &request);
                near(answer["factor"].as_f64().unwrap(), wanted, 5.1e-7, &request);
                near(answer["time"]["value"].as_f64().unwrap(), 10.0 * wanted, 5.1e-6, &request);
                assert_eq!(answer["causes"][0]["cause"], cause);
            }
        }
    }
    assert_eq!(rows.len(), 5);
}

/// The inverse square law of a point source: light and distance before and after; six decimals are printed.
#[test]
fn inverse_square() {
    for row in table("inverse_square") {
        let of = |column| given(&row, column).unwrap();
        let factor = |cause: &str, from: Value, to: Value| {
            let answer = ask("exposure.rescale", json!({ "time": "60 s", (cause): { "from": from, "to": to } }));
            answer["factor"].as_f64().unwrap()
        };
        let wanted = of("E1") / of("E2");
        for unit in ["cm", "in"] {
            relative(factor("distance", quantity(of("d1"), unit), quantity(of("d2"), unit)), wanted, 1e-7, &row);
        }
        let light = |column| quantity(of(column), "mW/cm2");
        relative(factor("irradiance", light("E1"), light("E2")), wanted, 1e-12, &row);
    }
}

/// The working curve of Jacobs (1992): a series on it finds its Dp and Ec again, and the exposure of its row; two
/// coatings of one emulsion want exposures in the ratio of the curve.
#[test]
fn jacobs_working_curve() {
    for row in table("jacobs_working_curve") {
        let of = |column| given(&row, column).unwrap();
        let (depth, critical, exposure, cured) = (of("Dp_um"), of("Ec_mJcm2"), of("E_mJcm2"), of("Cd_um"));
        let point = |e: f64, d: f64| json!({ "exposure": quantity(e, "mJ/cm2"), "depth": quantity(d, "um") });
        let on_the_curve = [1.5_f64, 2.2, 3.9, 7.0].map(|times| point(critical * times, depth * times.ln()));
        let request =
            json!({ "points": on_the_curve, "stencil_thickness": quantity(cured, "um"), "irradiance": "2 mW/cm2" });
        let answer = ask("exposure.curve", &request);
        let value = |name: &str| answer[name]["value"].as_f64().unwrap();
        relative(value("penetration_depth"), depth, 1e-12, &row);
        relative(value("critical_exposure"), critical, 1e-12, &row);
        near(answer["r_squared"].as_f64().unwrap(), 1.0, 1e-12, &row);
        relative(value("exposure"), exposure, 2e-8, &row);
        relative(answer["time"]["value"].as_f64().unwrap(), exposure / 2.0, 2e-8, &row);
        // The row itself and the start of hardening, where a hundredth of Dp is left.
        let printed = [point(exposure, cured), point(critical * 0.01_f64.exp(), 0.01 * depth)];
        let answer = ask("exposure.curve", json!({ "points": printed, "stencil_thickness": quantity(cured, "um") }));
        relative(answer["penetration_depth"]["value"].as_f64().unwrap(), depth, 2e-8, &row);
        relative(answer["critical_exposure"]["value"].as_f64().unwrap(), critical, 2e-8, &row);
        let um = |um: f64| units::UM.of(um);
        relative(exposure::stencil_factor(um(0.0), um(cured), um(depth)), exposure / critical, 2e-8, &row);
    }
}

/// JCGM 100:2008, example H.3: the line of a thermometer, its slope with the error of it, and the error of its height at 30 C. Turned round,
/// so that it hardens deeper with more light, and raised, so that it starts at 30 C: there the error of the height is that of where it starts.
#[test]
fn errors_of_a_line_gum_h3() {
    let rows = table("gum_h3");
    let row = |item: &str| rows.iter().find(|row| row["item"].starts_with(item)).unwrap();
    let list = |item: &str, column: &str| -> Vec<f64> {
        row(item)[column].split(';').map(|part| part.trim().parse().unwrap()).collect()
    };
    let (slope, height) = (list("y2", "recomputed"), list("b(30 C)", "recomputed"));
    // A degree is a fifth of the logarithm of the light, a thousandth of a degree of correction ten micrometres.
    let (light, um) = (0.2, 10_000.0);
    let points: Vec<Value> = list("data", "published")
        .iter()
        .zip(list("data", "recomputed"))
        .map(|(t, b)| {
            let exposure = 10.0 * (light * (30.0 - t)).exp();
            json!({ "exposure": quantity(exposure, "mJ/cm2"), "depth": quantity(um * (height[0] - b), "um") })
        })
        .collect();
    let answer = ask("exposure.curve", json!({ "points": points, "stencil_thickness": "100 um" }));
    let value = |name: &str| answer[name]["value"].as_f64().unwrap();
    relative(value("penetration_depth"), um * slope[0] / light, 1e-6, "slope");
    relative(value("penetration_depth_error"), um * slope[1] / light, 1e-5, "error of the slope");
    relative(value("critical_exposure"), 10.0, 1e-5, "where the line starts");
    relative(value("critical_exposure_error"), 10.0 * light * height[1] / slope[0], 1e-4, "error of where it starts");
}

/// Independent binomial evaluation: the smallest start, and the chances at it and one below.
#[test]
fn overs() {
    for row in table("overs_binomial") {
        let of = |column| given(&row, column).unwrap();
        let request = |confidence: f64| {
            let spoilage = 1.0 - of("yield");
            json!({ "pieces": of("good"), "spoilage_fraction": spoilage, "confidence": confidence })
        };
        let answer = ask("press.overs", request(of("conf")));
        assert_eq!(answer["start_with"].as_f64(), given(&row, "n_start"), "{row:?}");
        near(answer["probability"].as_f64().unwrap(), of("P_at_n"), 1e-7, &row);
        let below = ask("press.overs", request(of("P_at_n_minus_1") - 1e-7));
        assert_eq!(below["start_with"].as_f64().unwrap(), of("n_start") - 1.0, "{row:?}");
        near(below["probability"].as_f64().unwrap(), of("P_at_n_minus_1"), 1e-7, &row);
    }
}

/// A C++ maths library's documentation: trials for more than five events, the same question as blanks for six good
/// pieces. Where a chance is met exactly, the start is enough. Only the rows that a shop can ask: half are good.
#[test]
fn trials_for_events() {
    let rows = table("negative_binomial_trials");
    let rows: Vec<_> = rows.iter().filter(|row| row["p_event"] == "0.5").collect();
    assert_eq!(rows.len(), 6);
    for row in rows {
        for (pieces, column) in [(6, "n_pub"), (5, "n_at_least_5")] {
            let confidence = 1.0 - given(row, "alpha").unwrap();
            let request = json!({ "pieces": pieces, "spoilage_fraction": 0.5, "confidence": confidence });
            assert_eq!(ask("press.overs", &request)["start_with"].as_f64(), given(row, column), "{column} {row:?}");
        }
    }
}

fn material(name: &str, column: &str) -> f64 {
    let rows = table("thermophysical");
    given(rows.iter().find(|row| row["material"] == name).expect(name), column).unwrap()
}

/// DIN EN 12524:2000-07 and handbook tables, for the stock values that name them.
#[test]
fn stock_values_that_name_a_table_of_materials() {
    let mut found = 0;
    // The aluminium's density is its own, from memory; it must still be that of such an alloy.
    for (platen, source, row, density_within) in [
        ("aluminium-6mm", "aluminium alloys, DIN EN 12524", "aluminium alloys", 0.03),
        ("wood-core-18mm", "plywood 500, DIN EN 12524", "plywood 500", 1e-9),
    ] {
        assert!(stock_source::<flash::Platen>(platen, "layers").text.contains(source), "{platen} names its table");
        for layer in &stock::platen(platen).unwrap().layers {
            found += 1;
            relative(layer.conductivity.si(), material(row, "k"), 1e-9, platen);
            relative(layer.specific_heat.si(), material(row, "cp"), 1e-9, platen);
            relative(layer.density.si(), material(row, "rho"), density_within, platen);
        }
    }
    for name in ["cotton-jersey-180", "cotton-jersey-180-dark"] {
        let cloth = stock::cloth(name).unwrap();
        // A knit is no batt: within a tenth.
        assert!(stock_source::<Cloth>(name, "conductivity").text.contains("cotton batt 0.06"));
        relative(cloth.conductivity.si(), material("cotton (batt) 300K", "k"), 0.1, name);
        assert!(stock_source::<Cloth>(name, "specific_heat").text.contains("cotton batt 1300"));
        relative(cloth.specific_heat.si(), material("cotton (batt) 300K", "cp"), 0.1, name);
        found += 1;
    }
    assert_eq!(found, 4);
}

/// ASTM D1909 commercial regain, for the stock cloths that name it.
#[test]
fn stock_regain() {
    let rows = table("moisture_regain");
    let regain = |fibre: &str| {
        given(rows.iter().find(|row| row["fibre"] == fibre).expect(fibre), "commercial_regain_pct").unwrap() / 100.0
    };
    let mut found = 0;
    for name in
        shelf::<Cloth>().names().filter(|name| stock_source::<Cloth>(name, "regain_fraction").text.contains("D1909"))
    {
        let (least, most) = match name.split('-').next() {
            Some("cotton") => (regain("cotton yarn (natural)"), regain("cotton (raw)")),
            Some("polyester") => (regain("polyester"), regain("polyester")),
            Some("nylon") => (regain("nylon"), regain("nylon")),
            other => panic!("no row for {other:?}"),
        };
        let ours = stock::cloth(name).unwrap().regain_fraction;
        assert!((least - 1e-9..=most + 1e-9).contains(&ours), "{name}: {ours}");
        found += 1;
    }
    assert_eq!(found, 5);
}

macro_rules! against_uom {
    ($($name:literal = $quantity:ident::$unit:ident within $within:literal;)*) => {
        /// The units that an independent library, uom, has too. It keeps seven digits of what is not decimal.
        #[test]
        fn units_as_an_independent_library_has_them() {
            let mut checked = Vec::new();
            $({
                use uom::si::$quantity::$unit as Theirs;
                let theirs = |value: f64| {
                    <Theirs as uom::Conversion<f64>>::constant(uom::ConstantOp::Add)
                        * <Theirs as uom::Conversion<f64>>::coefficient()
                        + value * <Theirs as uom::Conversion<f64>>::coefficient()
                };
                // `K` is a temperature and a difference.
                let step = stringify!($quantity) == "temperature_interval";
                let same = |u: &&Unit| u.name == $name && (u.dimension == Dimension::TemperatureDifference) == step;
                let ours = UNITS.iter().find(same).expect($name);
                for value in [1.0, 37.5, -12.25] {
                    relative(ours.to_si(value), theirs(value), $within, &$name);
                }
                checked.push((ours.dimension, $name));
            })*
            let absent: Vec<_> = UNITS.iter().filter(|u| !checked.contains(&(u.dimension, u.name))).map(|u| u.name).collect();
            // A film as volume per area, what uom lacks, and what it has under no simple name.
            assert_eq!(absent, ["cm3/m2", "m/min", "N/cm", "oz/yd2", "g/(m2.h)", "kg/(m2.h)", "oz/(ft2.h)", "lb/(ft2.h)", "oz/min", "ft2/lb", "/kg", "/lb", "mW/cm2", "W/in2", "kg/l"]);
        }
    };
}

against_uom! {
    "um" = length::micrometer within 1e-12;
    "mm" = length::millimeter within 1e-12;
    "cm" = length::centimeter within 1e-12;
    "m" = length::meter within 1e-12;
    "in" = length::inch within 1e-12;
    "ft" = length::foot within 1e-12;
    "yd" = length::yard within 1e-12;
    "mil" = length::mil within 1e-12;
    "m2" = area::square_meter within 1e-12;
    "cm2" = area::square_centimeter within 1e-12;
    "mm2" = area::square_millimeter within 1e-12;
    "in2" = area::square_inch within 1e-12;
    "ft2" = area::square_foot within 1e-12;
    "m3" = volume::cubic_meter within 1e-12;
    "cm3" = volume::cubic_centimeter within 1e-12;
    "ml" = volume::milliliter within 1e-12;
    "l" = volume::liter within 1e-12;
    "gal" = volume::gallon within 1e-6;
    "floz" = volume::fluid_ounce within 1e-6;
    "g" = mass::gram within 1e-12;
    "mg" = mass::milligram within 1e-12;
    "kg" = mass::kilogram within 1e-12;
    "oz" = mass::ounce within 1e-6;
    "lb" = mass::pound within 1e-6;
    "s" = time::second within 1e-12;
    "ms" = time::millisecond within 1e-12;
    "us" = time::microsecond within 1e-12;
    "min" = time::minute within 1e-12;
    "h" = time::hour within 1e-12;
    "d" = time::day within 1e-12;
    "m/s" = velocity::meter_per_second within 1e-12;
    "cm/s" = velocity::centimeter_per_second within 1e-12;
    "mm/s" = velocity::millimeter_per_second within 1e-12;
    "ft/min" = velocity::foot_per_minute within 1e-12;
    "in/s" = velocity::inch_per_second within 1e-12;
    "/s" = frequency::hertz within 1e-12;
    "/min" = frequency::cycle_per_minute within 1e-12;
    "/h" = frequency::cycle_per_hour within 1e-12;
    "/cm" = linear_number_density::per_centimeter within 1e-12;
    "/mm" = linear_number_density::per_millimeter within 1e-12;
    "/in" = linear_number_density::per_inch within 1e-12;
    "/m" = linear_number_density::per_meter within 1e-12;
    "N" = force::newton within 1e-12;
    "lbf" = force::pound_force within 1e-6;
    "N/m" = surface_tension::newton_per_meter within 1e-12;
    "lbf/in" = surface_tension::pound_force_per_inch within 1e-6;
    "g/m2" = areal_mass_density::gram_per_square_meter within 1e-12;
    "kg/m2" = areal_mass_density::kilogram_per_square_meter within 1e-12;
    "kg/(m2.s)" = mass_flux::kilogram_per_square_meter_second within 1e-12;
    "g/min" = mass_rate::gram_per_minute within 1e-12;
    "g/h" = mass_rate::gram_per_hour within 1e-12;
    "kg/h" = mass_rate::kilogram_per_hour within 1e-12;
    "kg/s" = mass_rate::kilogram_per_second within 1e-12;
    "lb/h" = mass_rate::pound_per_hour within 1e-6;
    "m2/kg" = specific_area::square_meter_per_kilogram within 1e-12;
    "mJ/cm2" = radiant_exposure::millijoule_per_square_centimeter within 1e-12;
    "J/m2" = radiant_exposure::joule_per_square_meter within 1e-12;
    "kJ/m2" = radiant_exposure::kilojoule_per_square_meter within 1e-12;
    "W/cm2" = heat_flux_density::watt_per_square_centimeter within 1e-12;
    "J" = energy::joule within 1e-12;
    "kJ" = energy::kilojoule within 1e-12;
    "MJ" = energy::megajoule within 1e-12;
    "Wh" = energy::watt_hour within 1e-12;
    "kWh" = energy::kilowatt_hour within 1e-12;
    "W" = power::watt within 1e-12;
    "kW" = power::kilowatt within 1e-12;
    "W/m2" = heat_flux_density::watt_per_square_meter within 1e-12;
    "kW/m2" = heat_flux_density::kilowatt_per_square_meter within 1e-12;
    "W/(m2.K)" = heat_transfer::watt_per_square_meter_kelvin within 1e-12;
    "W/(m.K)" = thermal_conductivity::watt_per_meter_kelvin within 1e-12;
    "J/(kg.K)" = specific_heat_capacity::joule_per_kilogram_kelvin within 1e-12;
    "kJ/(kg.K)" = specific_heat_capacity::kilojoule_per_kilogram_kelvin within 1e-12;
    "kJ/mol" = molar_energy::kilojoule_per_mole within 1e-12;
    "J/mol" = molar_energy::joule_per_mole within 1e-12;
    "g/cm3" = mass_density::gram_per_cubic_centimeter within 1e-12;
    "kg/m3" = mass_density::kilogram_per_cubic_meter within 1e-12;
    "lb/gal" = mass_density::pound_per_gallon within 1e-6;
    "degC" = thermodynamic_temperature::degree_celsius within 1e-12;
    "degF" = thermodynamic_temperature::degree_fahrenheit within 1e-12;
    "K" = thermodynamic_temperature::kelvin within 1e-12;
    "K" = temperature_interval::kelvin within 1e-12;
    "delta_degF" = temperature_interval::degree_fahrenheit within 1e-12;
    "deg" = angle::degree within 1e-12;
    "rad" = angle::radian within 1e-12;
    "1" = ratio::ratio within 1e-12;
    "%" = ratio::percent within 1e-12;
}
