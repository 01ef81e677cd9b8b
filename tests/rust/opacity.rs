//! Hiding and opacity, against the layer of Kubelka and Munk as others have it.

use floodbar::ink::{Fitted, Optics, Surface, absorbed, fitted, lightness, reflectance};
use floodbar::quantity::{Count, Dimensioned, Length, units};
use floodbar_tests::compare::{ask, at, near, noted, relative};
use floodbar_tests::published::{given, number, table};
use proptest::prelude::*;
use serde_json::json;

/// Coefficients per unit of length, whatever it is: units cancel.
fn optics(s: f64, k: f64) -> Optics {
    Optics { scattering: Count::from_si(s), absorption: Count::from_si(k) }
}

fn film(x: f64) -> Length {
    Length::from_si(x)
}

#[test]
fn layers_of_the_tables() {
    for row in table("km_layer_reflectance") {
        let [s, k, x, ground, wanted] = ["S", "K", "X", "Rg", "R"].map(|column| number(&row, column));
        relative(optics(s, k).over(ground, film(x)), wanted, 1e-12, &row);
        if let Some(published) = given(&row, "R_pub") {
            relative(optics(s, k).over(ground, film(x)), published, 1e-5, &row);
        }
    }
}

/// A film that neither scatters nor absorbs changes no cloth: what shows is the lightness that is taken for its shade.
#[test]
fn a_clear_film_shows_the_cloth() {
    let clear = json!({ "from": "plastisol-white", "scattering": "0.001 /mm", "absorption": "0 /mm" });
    let shown = |cloth: serde_json::Value| {
        at(&ask("ink.opacity", json!({ "ink": clear, "cloth": cloth, "film": "1 um" })), "/lightness")
    };
    let (light, dark) = (shown(json!("cotton-jersey-180")), shown(json!("cotton-jersey-180-dark")));
    // Common practice: white cotton has an L* of 90 to 95, black cotton of 15 to 25.
    assert!((90.0..=95.0).contains(&light) && (10.0..=25.0).contains(&dark), "{light} {dark}");
    near(shown(json!({ "from": "cotton-jersey-180", "lightness": light })), light, 1e-2, "given");
}

/// Glass has no film that hides, and no film hides more than wholly.
#[test]
fn what_no_film_hides() {
    let surface = Surface { outer: 0.04, inner: 0.6, specular: false };
    let film = |optics: Optics, contrast: f64| optics.film_for_contrast(contrast, [0.05, 0.8], surface);
    assert_eq!(film(optics(0.0, 0.0), 0.98), None);
    assert_eq!(film(optics(3e5, 3e2), 1.5), None);
    let hides = film(optics(3e5, 3e2), 0.98).expect("a film");
    relative(optics(3e5, 3e2).contrast(hides, [0.05, 0.8], surface), 0.98, 1e-6, hides);
}

/// The two-flux equations solved by SciPy.
#[test]
fn layers_of_the_differential_equation() {
    for row in table("km_two_flux_scipy") {
        let [s, k, x, ground, wanted] = ["S", "K", "X", "Rg", "R"].map(|column| number(&row, column));
        let ink = Optics { scattering: units::PER_MM.of(s), absorption: units::PER_MM.of(k) };
        let found = ink.over(ground, units::UM.of(x));
        assert!((found - wanted).abs() <= 1e-9 * wanted.max(1e-3), "{row:?}: {found}");
    }
}

#[test]
fn thick_layers_of_the_table() {
    for row in table("km_infinite_layer") {
        let (x, y) = (number(&row, "x"), number(&row, "y"));
        match row["case"].as_str() {
            "R_inf to K/S" => relative(absorbed(x), y, 1e-12, &row),
            "K/S to R_inf" => {
                relative(optics(1.0, x).thick(), y, 1e-12, &row);
                // So thick a film is as thick as any.
                relative(optics(1.0, x).over(0.0, film(1e9)), y, 1e-12, &row);
            }
            other => panic!("{other}"),
        }
    }
}

#[test]
fn readings_over_black_and_white_turn_round() {
    for row in table("km_contrast_ratio_inversion") {
        let [sx, kx, black, over_80, over_89] = ["SX", "KX", "R0", "R80", "R89"].map(|column| number(&row, column));
        let bare = Surface { outer: 0.0, inner: 0.0, specular: false };
        relative(optics(sx, kx).contrast(film(1.0), [0.0, 0.8], bare), number(&row, "CR80"), 1e-11, &row);
        for (ground, over) in [(0.8, over_80), (0.89, over_89)] {
            relative(optics(sx, kx).over(ground, film(1.0)), over, 1e-11, &row);
            // The table has twelve digits: where the readings are alike, few of them are left.
            let digits = 1e-11 / (over - black);
            let Fitted::Optics(found) = fitted(film(1.0), [0.0, ground], [black, over]) else { panic!("{row:?}") };
            relative(found.scattering.si(), sx, digits.max(1e-9), &row);
            assert!((found.absorption.si() - kx).abs() <= digits.max(1e-9) * (kx + sx), "{row:?}: {found:?}");
        }
    }
}

/// ISO 9416 has S and K of a sheet per mass per area, from black and from a pile.
#[test]
fn sheets_of_paper() {
    for row in table("km_scattering_iso9416") {
        let [mass, black, pile] = ["g_g_m2", "R0", "Rinf"].map(|column| number(&row, column));
        let mass = mass / 1000.0;
        let Fitted::Optics(found) = fitted(film(mass), [0.0, pile], [black, pile]) else { panic!("{row:?}") };
        relative(found.scattering.si(), number(&row, "s_m2_kg"), 1e-8, &row);
        relative(found.absorption.si(), number(&row, "k_m2_kg"), 1e-7, &row);
        relative(100.0 * black / pile, number(&row, "opacity_pct"), 1e-6, &row);
    }
}

#[test]
fn lightness_of_the_table() {
    for row in table("cie_lightness") {
        let (x, value) = (number(&row, "x"), number(&row, "value"));
        let white = given(&row, "Yn").unwrap_or(100.0);
        let found = match row["case"].as_str() {
            "Y to L*" => lightness(x / white),
            "L* to Y" => white * reflectance(x),
            other => panic!("{other}"),
        };
        assert!((found - value).abs() <= 1e-10 * value.abs().max(1e-3), "{row:?}: {found}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// A thicker white never darkens a black, and lies between the ground and the thick film.
    #[test]
    fn a_thicker_white_never_darkens(s in 1.0_f64..1000.0, k in 0.0_f64..5.0, x in 0.0_f64..0.5, more in 0.0_f64..0.5, ground in 0.0_f64..0.2) {
        let ink = optics(s, k);
        prop_assume!(ink.thick() > ground);
        let (thin, thick) = (ink.over(ground, film(x)), ink.over(ground, film(x + more)));
        prop_assert!(thick >= thin - 1e-15 && thin >= ground - 1e-15 && thick <= ink.thick() + 1e-15);
    }

    /// The film that a reflectance takes reflects so; S and K come back from two grounds.
    #[test]
    fn inverses(s in 10.0_f64..500.0, k in 0.0_f64..50.0, x in 0.001_f64..0.02, black in 0.0_f64..0.1, white in 0.6_f64..0.95) {
        let ink = optics(s, k);
        let over = [black, white].map(|ground| ink.over(ground, film(x)));
        let needed = ink.film_for(over[0], black);
        prop_assert!(needed.is_some_and(|needed| (needed.si() / x - 1.0).abs() < 1e-6), "{needed:?}");
        let found = fitted(film(x), [black, white], over);
        let Fitted::Optics(found) = found else { return Err(TestCaseError::fail(format!("{found:?}"))) };
        prop_assert!((found.scattering.si() / s - 1.0).abs() < 1e-9);
        prop_assert!((found.absorption.si() - k).abs() < 1e-9 * (s + k));
        let surface = Surface { outer: 0.04, inner: 0.6, specular: x > 0.01 };
        prop_assert!((surface.inside(surface.read(over[0])) - over[0]).abs() < 1e-12);
        let hides = ink.film_for_contrast(0.98, [black, white], surface).unwrap();
        prop_assert!((ink.contrast(hides, [black, white], surface) - 0.98).abs() < 1e-9);
    }

    /// A drawdown that is foretold is read as the ink it was foretold with, gloss or not.
    #[test]
    fn a_drawdown_gives_back_its_ink(s in 20.0_f64..250.0, k in 0.01_f64..10.0, um in 2.0_f64..12.0, gloss in any::<bool>()) {
        let specular = if gloss { "included" } else { "excluded" };
        let read = |cloth: f64| ask("ink.opacity", json!({
            "ink": {"from": "plastisol-white", "scattering": format!("{s} /mm"), "absorption": format!("{k} /mm")}, "film": format!("{um} um"),
            "lightness": cloth, "specular": specular,
        }));
        let [black, white] = [30.0, 95.0];
        let hiding = floodbar::calculate("ink.hiding", &json!({
            "film": format!("{um} um"), "over_black": at(&read(black), "/lightness"), "over_white": at(&read(white), "/lightness"),
            "black": black, "white": white, "specular": specular,
        })).unwrap();
        if !noted(&hiding, "nearly_opaque") {
            let per_mm = |name: &str| at(&hiding, &format!("/{name}/value"));
            prop_assert_eq!(&hiding["scattering"]["unit"], "/mm");
            prop_assert!((per_mm("scattering") / s - 1.0).abs() < 1e-6, "{hiding}");
            prop_assert!((per_mm("absorption") - k).abs() < 1e-6 * (s + k), "{hiding}");
        }
    }

    /// So many hits cover, and one less does not.
    #[test]
    fn the_hits_that_are_needed_cover(count in 30.0_f64..120.0, wanted in 40.0_f64..93.0) {
        let request = |hits: u64| json!({
            "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "mesh": {"count": format!("{count} /cm"), "thread": "40 um"},
            "hits": hits, "wanted_lightness": wanted,
        });
        let one = ask("ink.opacity", request(1));
        let Some(hits) = one["hits_needed"].as_u64().filter(|hits| *hits <= 20) else { return Ok(()) };
        prop_assert_eq!(&ask("ink.opacity", request(hits))["verdict"], "covers");
        if hits > 1 {
            prop_assert_eq!(&ask("ink.opacity", request(hits - 1))["verdict"], "shows_through");
        }
    }
}

/// Common practice, no source: white on black wants a coarse mesh or a second hit. The stock's optics were chosen so; this keeps them there,
/// and is no proof of them.
#[test]
fn white_on_black_as_shops_know_it() {
    let print = |mesh: &str, hits: u32| {
        let answer = ask(
            "ink.opacity",
            json!({"ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "mesh": mesh, "hits": hits}),
        );
        (at(&answer, "/lightness"), answer["verdict"] == "covers")
    };
    assert!((86.0..=93.0).contains(&print("55-64", 2).0) && print("55-64", 2).1);
    assert!(!print("77-55", 1).1 && !print("120-34", 1).1);
    assert!(print("43-80", 2).1);
}

/// From a drawdown that hides, a lower bound: an ink at the bound would show as much contrast as can be read.
#[test]
fn an_opaque_drawdown_gives_a_bound() {
    let answer =
        ask("ink.hiding", json!({"film": "120 um", "over_black": 93.0, "over_white": 93.2, "black": 8, "white": 95}));
    assert!(noted(&answer, "nearly_opaque"));
    relative(at(&answer, "/film_for_contrast/value"), 120.0, 1e-9, "the film itself");
    // So does one that hides altogether, whose two readings are the same.
    let answer = ask(
        "ink.hiding",
        json!({"film": "120 um", "over_black": 0.8, "over_white": 0.8, "black": 0.05, "white": 0.9, "read_as": "reflectance",
               "surface_reflection_fraction": 0.0, "inner_reflection_fraction": 0.0}),
    );
    assert!(noted(&answer, "nearly_opaque"));
    // K / S = (1 - R)^2 / 2 R of a layer that is thick.
    relative(at(&answer, "/absorption/value") / at(&answer, "/scattering/value"), 0.2 * 0.2 / 1.6, 1e-9, "K / S");
}
