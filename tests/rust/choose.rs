//! The choice of a mesh, against what each calculation says of it alone.

use floodbar_tests::compare::{ask, at};
use proptest::prelude::*;
use serde_json::{Value, json};

/// The offers, the best first; none where no mesh does it all.
fn offers(request: &Value) -> Option<Vec<Value>> {
    match floodbar::calculate("mesh.choose", request) {
        Ok(answer) => Some(answer["meshes"].as_array().unwrap().clone()),
        Err(error) => {
            assert_eq!(error.code, floodbar::Code::NoSolution, "{error:?}");
            None
        }
    }
}

fn count(offer: &Value) -> f64 {
    offer["mesh"].as_str().unwrap().split_once('-').unwrap().0.parse().unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// What it says holds, mesh.detail and ink.deposit say too; and what holds comes first.
    #[test]
    fn it_says_what_the_steps_say(line in 0.1_f64..1.5, ruling in 8.0_f64..30.0, film in 4.0_f64..60.0, particle in 1.0_f64..200.0, most in 1_u32..4) {
        let request = json!({
            "ink": {"from": "plastisol", "largest_particle": format!("{particle} um")}, "finest_line": format!("{line} mm"),
            "ruling": format!("{ruling} /cm"), "dry_film": format!("{film} um"), "most_hits": most,
        });
        let Some(offers) = offers(&request) else { return Ok(()) };
        let mut held = true;
        for offer in &offers {
            let holds = offer["holds"].as_bool().unwrap();
            prop_assert!(held || !holds, "one that holds stands below one that does not");
            held = holds;
            let mesh = &offer["mesh"];
            let detail = ask("mesh.detail", json!({"mesh": mesh, "ruling": request["ruling"]}));
            let geometry = ask("mesh.geometry", json!({"mesh": mesh}));
            let laid = ask("ink.deposit", json!({"mesh": mesh, "ink": request["ink"], "hits": offer["hits"]}));
            prop_assert!((at(&laid, "/dry_film/value") / at(offer, "/dry_film/value") - 1.0).abs() < 1e-12);
            let fits = at(&detail, "/finest_line/value") <= line * 1000.0
                && at(&detail, "/ruling_high/value") >= ruling
                && at(&geometry, "/opening/value") >= 3.0 * particle
                && (0.85..=1.5).contains(&(at(offer, "/dry_film/value") / film));
            prop_assert_eq!(holds, fits, "{}", offer);
        }
    }

    /// Less is wanted: none that held is lost, and no more hits are needed.
    #[test]
    fn a_smaller_wish_excludes_no_mesh(lightness in 40.0_f64..90.0, less in 0.0_f64..40.0) {
        let request = |lightness: f64| json!({"ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "lightness": lightness});
        let (Some(much), Some(little)) = (offers(&request(lightness)), offers(&request(lightness - less))) else { return Ok(()) };
        for offer in much.iter().filter(|offer| offer["holds"] == true) {
            let same = little.iter().find(|other| other["mesh"] == offer["mesh"]).unwrap();
            prop_assert!(same["holds"] == true && same["hits"].as_u64() <= offer["hits"].as_u64());
        }
    }
}

/// Common practice, no source: a mesh per use, in threads per centimetre.
#[test]
fn a_mesh_per_use() {
    let first = |request: Value| count(&offers(&request).unwrap()[0]);
    let white =
        first(json!({"ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "lightness": 88, "most_hits": 2}));
    assert!((34.0..=90.0).contains(&white), "white that covers in at most two hits: {white}");
    let halftone = first(json!({"ink": "plastisol", "ruling": "55 lpi", "dry_film": "9 um"}));
    assert!((77.0..=120.0).contains(&halftone), "a halftone of 55 lines per inch: {halftone}");
    let glitter = first(json!({"ink": {"from": "plastisol", "largest_particle": "200 um"}, "dry_film": "70 um"}));
    assert!((10.0..=24.0).contains(&glitter), "glitter of 200 um: {glitter}");
    let colour = first(json!({"ink": "plastisol", "dry_film": "11 um", "finest_line": "0.3 mm"}));
    assert!((62.0..=100.0).contains(&colour), "a colour on a light cloth: {colour}");
}

/// An order without a mesh gets one, which is what the same order with that mesh gets.
#[test]
fn an_order_without_a_mesh_is_planned_with_the_one_proposed() {
    let described = floodbar::catalogue::describe();
    let entries = described["calculations"].as_array().unwrap();
    let mut order = entries.iter().find(|entry| entry["id"] == "job.plan").unwrap()["example"].clone();
    let screens = order["placements"][0]["screens"].as_array_mut().unwrap();
    for screen in screens.iter_mut() {
        screen.as_object_mut().unwrap().remove("mesh");
    }
    let proposed = ask("job.plan", &order);
    let notes = proposed["notes"].as_array().unwrap();
    let said: Vec<&str> = notes
        .iter()
        .filter(|note| note["code"] == "mesh_proposed")
        .map(|note| note["field"].as_str().unwrap())
        .collect();
    assert_eq!(said, ["/placements/0/screens/0/mesh", "/placements/0/screens/1/mesh"]);
    for (index, screen) in order["placements"][0]["screens"].as_array_mut().unwrap().iter_mut().enumerate() {
        let mesh = &proposed["screens"][index]["mesh"];
        screen["mesh"] = json!(format!("{}-{}", at(mesh, "/count/value"), at(mesh, "/thread/value")));
    }
    let given = ask("job.plan", &order);
    for part in ["screens", "flash", "dryer", "press", "ink_totals"] {
        assert_eq!(proposed[part], given[part], "{part}");
    }
}

/// A lightness that no mesh brings is refused with the most that one brings, and that much is had.
#[test]
fn the_lightest_print_is_told() {
    let wanted = |lightness: f64| {
        let cloth = "cotton-jersey-180-dark";
        floodbar::calculate("mesh.choose", &json!({ "ink": "plastisol-white", "cloth": cloth, "lightness": lightness }))
    };
    let error = wanted(99.0).expect_err("refused");
    assert_eq!((error.code, error.field.as_str()), (floodbar::Code::NoSolution, "/lightness"));
    let most: f64 = error.allowed[0].split(' ').nth(2).expect("a number").parse().expect("a number");
    assert!(wanted(most - 0.1).is_ok() && wanted(most + 0.1).is_err(), "{most}");
}
