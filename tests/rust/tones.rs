//! Tones of a halftone: the geometry and the densities against tables, quadrature and SciPy's least squares; that the curve is the growth turned
//! round; facts of the trade.

use floodbar::artwork::{
    DotShape, dots_cover, dots_radius, film_tone, grown_tone, key_tones, printed_share, usual_growth,
};
use floodbar::calculate;
use floodbar::quantity::{Count, Length, units};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, near, noted, quantity, relative};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const SHAPES: [DotShape; 2] = [DotShape::Round, DotShape::Euclidean];

/// Bare and solid have no edges; just beside them there is the edge of the smallest dot, and of the smallest hole.
#[test]
fn bare_and_solid_have_no_edges() {
    for shape in SHAPES {
        for reach in [-0.1, 0.0, shape.solid(), shape.solid() + 0.1] {
            assert_eq!(shape.edge(reach), 0.0, "{shape:?} {reach}");
        }
        let (dot, hole) = (shape.edge(1e-3), shape.edge(shape.solid() - 1e-3));
        relative(dot, 2.0 * std::f64::consts::PI * 1e-3, 1e-12, shape);
        assert!(hole > 0.0 && hole < 0.01, "{shape:?}: {hole}");
    }
}

fn um(value: f64) -> Length {
    units::UM.of(value)
}

fn per_cm(value: f64) -> Count {
    units::PER_CM.of(value)
}

/// Overlapping circles, to the digits that are printed.
#[test]
fn areas_and_radii_of_overlapping_dots() {
    for row in table("halftone_dot_overlap") {
        let (x, y) = (number(&row, "x"), number(&row, "y"));
        let got = match row["case"].as_str() {
            "area from radius" => 100.0 * dots_cover(x),
            _ => dots_radius(x / 100.0),
        };
        relative(got, y, 1e-12, &row);
    }
    for row in table("halftone_overlap_quadrature_scipy") {
        let wanted = number(&row, "area_fraction");
        relative(dots_cover(number(&row, "radius_over_pitch")), wanted, 1e-12, &row);
        // As far as the area tells the radius: the last holes close with the square of what is left of them.
        let flat = 1.0 / (1.0 - wanted).max(1e-16).sqrt();
        relative(dots_radius(wanted), number(&row, "radius_over_pitch"), 1e-14 * flat.max(10.0), &row);
    }
}

/// Every edge of a round dot moves out by so much, and back.
#[test]
fn growth_by_a_border() {
    for row in table("halftone_dot_growth") {
        let (ruling, by) = (per_cm(number(&row, "ruling_per_cm")), um(number(&row, "delta_um")));
        let (film, print) = (number(&row, "tone_in_pct") / 100.0, number(&row, "tone_out_pct") / 100.0);
        relative(grown_tone(DotShape::Round, film, ruling, by), print, 1e-11, &row);
        // Twelve digits of what is nearly solid tell less of the film.
        relative(film_tone(DotShape::Round, print, ruling, by), film, 1e-9, &row);
        let request = json!({
            "ruling": quantity(number(&row, "ruling_per_cm"), "/cm"),
            "readings": [{ "tone_fraction": film, "printed_fraction": print }],
        });
        let answer = ask("artwork.tone", request);
        near(at(&answer, "/growth/value"), number(&row, "delta_um"), 1e-7, &row);
        near(100.0 * at(&answer, "/readings/0/gain_fraction"), number(&row, "gain_points"), 1e-9, &row);
    }
}

/// Murray-Davies and Yule-Nielsen, both ways round; n without end is a very large one.
#[test]
fn tones_of_densities() {
    for row in table("halftone_murray_davies_yule_nielsen") {
        let n = if row["n"] == "inf" { 1e9 } else { number(&row, "n") };
        let [paper, tint, solid] = ["D_paper", "D_tint", "D_solid"].map(|column| number(&row, column));
        let tone = number(&row, "tone_pct");
        near(100.0 * printed_share(tint, paper, solid, n), tone, 5e-8, &row);
        if row["case"].starts_with("tint") {
            // The density's own digits, and those of the two that were published.
            let whole = 1.0 - 10_f64.powf((paper - solid) / n);
            let density = paper - n * (1.0 - tone / 100.0 * whole).log10();
            relative(density, tint, 1e-11, &row);
            if let Ok(published) = row["published"].parse::<f64>() {
                near(density, published, 5e-5, &row);
            }
        }
        if n <= 1000.0 {
            let request = json!({
                "ruling": "20 /cm", "bare_density": paper, "solid_density": solid, "yule_nielsen_ratio": n,
                "readings": [{ "tone_fraction": 0.5, "density": tint }, { "tone_fraction": 0.5, "printed_fraction": 0.5 }],
            });
            let got = 100.0 * at(&ask("artwork.tone", request), "/readings/0/printed_fraction");
            near(got, tone, 1e-9, &row);
        }
    }
}

/// Scattered patches: the growth, its error and the misfit of SciPy's least squares, areas by quadrature.
#[test]
fn least_squares_as_scipy_finds_them() {
    let mut scales: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in table("halftone_growth_fit_scipy") {
        scales.entry(row["scale"].clone()).or_default().push(row);
    }
    assert_eq!(scales.len(), 5);
    for rows in scales.values() {
        let head = &rows[0];
        let patch = |row: &Row| json!({ "tone_fraction": number(row, "film_fraction"), "printed_fraction": number(row, "printed_fraction") });
        let request = json!({
            "ruling": quantity(number(head, "ruling_per_cm"), "/cm"), "dot": head["dot"],
            "readings": rows.iter().map(patch).collect::<Vec<_>>(),
        });
        let answer = ask("artwork.tone", request);
        relative(at(&answer, "/growth/value"), number(head, "growth_um"), 1e-7, head);
        relative(at(&answer, "/growth_error/value"), number(head, "growth_error_um"), 1e-5, head);
        relative(at(&answer, "/rms_fraction"), number(head, "rms_fraction"), 1e-7, head);
    }
}

/// A fabric weaver's page, one process's line: middle tones gain up to 15 points, light ones are lost. No one border does both, and
/// that is said; that of the middle tones is one of the trade's at 55 to an inch (a ruling that the page does not tell).
#[test]
fn a_published_line_of_tones() {
    let patch = |row: &Row| json!({ "tone_fraction": number(row, "film_pct") / 100.0, "printed_fraction": number(row, "printed_pct") / 100.0 });
    let rows = table("halftone_print_curve_published");
    let scale = |least: f64| {
        let rows = rows.iter().filter(|row| number(row, "film_pct") >= least);
        ask("artwork.tone", json!({ "ruling": "55 lpi", "readings": rows.map(patch).collect::<Vec<_>>() }))
    };
    let (whole, middle) = (scale(0.0), scale(40.0));
    assert!(noted(&whole, "one_growth_misfits") && noted(&whole, "patches_lost"), "{whole}");
    let growth = at(&middle, "/growth/value");
    assert!((5.0..30.0).contains(&growth), "{growth} um");
    assert!(at(&middle, "/rms_fraction") < at(&whole, "/rms_fraction"));
    for (index, row) in rows.iter().enumerate() {
        // Row 53 is labelled 8 there, and gains 6.
        let printed = if row["film_pct"] == "53" { 6.0 } else { number(row, "gain_pub_pct") };
        near(100.0 * at(&whole, &format!("/readings/{index}/gain_fraction")), printed, 1e-9, row);
    }
}

/// Reckoned by the trade, whole percents: what a border of 10, 20 and 30 um makes of tones; and half a tone gains most among the three.
#[test]
fn borders_of_the_trade() {
    for (lpi, film, prints) in
        [(55.0, 0.5, [56.0, 61.0, 68.0]), (55.0, 0.1, [13.0, 15.0, 19.0]), (35.0, 0.5, [54.0, 57.0, 61.0])]
    {
        for (border, wanted) in [10.0, 20.0, 30.0].into_iter().zip(prints) {
            for shape in SHAPES {
                let got = 100.0 * grown_tone(shape, film, units::PER_IN.of(lpi), um(border));
                // Above half the euclidean screen has the shorter edges of its holes.
                let within = if shape == DotShape::Euclidean && film > 0.4 { 3.5 } else { 0.6 };
                near(got, wanted, within, (shape, lpi, border));
            }
        }
    }
    let [light, middle, dark] = key_tones(DotShape::Round, units::PER_IN.of(55.0), usual_growth());
    near(middle, 0.61, 0.006, "the usual growth");
    assert!(middle - 0.5 > light - 0.1 && middle - 0.5 > dark - 0.9);
}

/// What the page says of the euclidean model at half: the edges of squares are 13 % longer than reckoned.
#[test]
fn squares_at_half() {
    relative(2.0 * 2_f64.sqrt() / DotShape::Euclidean.edge(DotShape::Euclidean.reach(0.5)), 1.13, 0.002, "edge");
}

#[test]
fn what_kind_of_growth_it_is_is_said() {
    let scale = |n: f64| {
        json!({ "ruling": "55 lpi", "bare_density": 0.06, "solid_density": 1.46, "yule_nielsen_ratio": n, "dot": "elliptical",
            "readings": [{ "tone_fraction": 0.3, "density": 0.255 }, { "tone_fraction": 0.5, "density": 0.43 }] })
    };
    let message = |answer: &Value, code: &str| {
        let notes = answer["notes"].as_array().unwrap();
        notes.iter().find(|note| note["code"] == code).unwrap_or_else(|| panic!("no {code}: {answer}"))["message"]
            .to_string()
    };
    for id in ["artwork.tone", "artwork.curve"] {
        assert!(message(&ask(id, scale(1.0)), "apparent_growth").contains("optical gain"), "{id}");
        assert!(message(&ask(id, scale(1.7)), "apparent_growth").contains("takes out"), "{id}");
        assert!(noted(&ask(id, scale(1.0)), "elliptical_as_euclidean"), "{id}");
    }
}

/// The plan says what the key tones print as by the shop's own growth, and which of them the mesh does not hold.
#[test]
fn the_tones_of_a_plan() {
    let order = |mesh: &str, ruling: &str| {
        json!({ "title": "Tones", "pieces": 12, "cloth": "cotton-jersey-180",
            "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [
                { "name": "ink", "ink": "plastisol", "mesh": mesh, "coverage_fraction": 0.2, "halftone": { "ruling": ruling, "angle": "22.5 deg" } }] }],
            "shop": { "from": "starter-shop", "dot_growth": "25 um" } })
    };
    let fine = ask("job.plan", order("120-34", "45 lpi"));
    let wanted = key_tones(DotShape::Round, units::PER_IN.of(45.0), um(25.0));
    for (index, wanted) in wanted.into_iter().enumerate() {
        let tone = &fine["screens"][0]["halftone"]["tones"][index];
        relative(at(tone, "/printed_fraction"), wanted, 1e-12, tone);
        assert_eq!(tone["held"], json!(true), "{tone}");
    }
    let coarse = ask("job.plan", order("43-80", "65 lpi"));
    let held: Vec<&Value> =
        coarse["screens"][0]["halftone"]["tones"].as_array().unwrap().iter().map(|tone| &tone["held"]).collect();
    assert_eq!(held, [&json!(false), &json!(true), &json!(false)]);
}

/// A light patch may read a hair lighter than the cloth, and densities without a use are named.
#[test]
fn readings_scatter_about_bare_cloth() {
    let scale = |light: f64| {
        json!({ "ruling": "55 lpi", "bare_density": 0.06, "solid_density": 1.4,
            "readings": [{ "tone_fraction": 0.02, "density": light }, { "tone_fraction": 0.5, "density": 0.5 }] })
    };
    let answer = ask("artwork.tone", scale(0.059));
    assert!(noted(&answer, "patches_lost") && at(&answer, "/readings/0/printed_fraction") == 0.0, "{answer}");
    assert_eq!(calculate("artwork.tone", &scale(0.02)).unwrap_err().field, "/readings/0/density");
    let shares = json!({ "ruling": "55 lpi", "yule_nielsen_ratio": 2.0, "readings": [{ "tone_fraction": 0.5, "printed_fraction": 0.6 }] });
    assert!(noted(&ask("artwork.tone", &shares), "not_used"));
    let curve = json!({ "ruling": "55 lpi", "yule_nielsen_ratio": 2.0, "growth": "20 um" });
    assert!(noted(&ask("artwork.curve", &curve), "not_used"));
}

/// The least dot of any film prints with its growth all round, of every screen cell the share `pi (growth ruling)^2`: lighter tones are lost,
/// and without a mesh the ruling is to blame.
#[test]
fn the_growth_alone_is_the_lightest_tone() {
    let answer = ask("artwork.curve", json!({ "ruling": "65 lpi", "growth": "60 um" }));
    let lightest = std::f64::consts::PI * (60e-6_f64 * 65.0 / 0.0254).powi(2);
    relative(at(&answer, "/lightest_fraction"), lightest, 1e-9, "the lightest tone");
    let notes = answer["notes"].as_array().expect("notes");
    let lost = notes.iter().find(|note| note["code"] == "light_tones_cut_off").expect("a caution");
    assert_eq!(lost["field"], "/ruling");
}

/// A curve on a mesh that holds next to nothing still rises, and says what it cannot do.
#[test]
fn a_mesh_too_coarse_for_its_ruling() {
    let answer = ask("artwork.curve", json!({ "ruling": "65 lpi", "growth": "20 um", "mesh": "43-80" }));
    assert!(
        noted(&answer, "no_tones") && noted(&answer, "light_tones_cut_off") && noted(&answer, "dark_tones_cut_off")
    );
    let films: Vec<f64> = (0..=20).map(|i| at(&answer, &format!("/tones/{i}/film_fraction"))).collect();
    assert!(films.windows(2).all(|pair| pair[0] <= pair[1]), "{films:?}");
    let asked = ask("artwork.curve", json!({ "ruling": "65 lpi", "growth": "20 um", "mesh": "43-80", "tones": [0.2] }));
    let notes = asked["notes"].as_array().unwrap();
    assert!(notes.iter().any(|note| note["code"] == "tone_cut_off" && note["field"] == "/tones/0"), "{asked}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(64, 1_000)))]

    /// What the curve puts on the film prints as wanted; a tone that no film prints gets one that prints no further off than either end.
    #[test]
    fn the_curve_turns_the_growth_round(
        ruling in 8.0_f64..40.0, border in -40.0_f64..40.0, shape in 0_usize..2, wanted in prop::collection::vec(0.0_f64..=1.0, 1..12), mesh in any::<bool>(),
    ) {
        let shape = SHAPES[shape];
        let mut request = json!({ "ruling": quantity(ruling, "/cm"), "growth": quantity(border, "um"), "dot": shape.text(), "tones": wanted });
        if mesh {
            request["mesh"] = json!("120-34");
        }
        let answer = ask("artwork.curve", request);
        let (lightest, darkest) = (at(&answer, "/lightest_fraction"), at(&answer, "/darkest_fraction"));
        let mut pairs = Vec::new();
        for (index, wanted) in wanted.iter().copied().enumerate() {
            let [film, told] = ["film", "printed"].map(|of| at(&answer, &format!("/tones/{index}/{of}_fraction")));
            let print = grown_tone(shape, film, per_cm(ruling), um(border));
            prop_assert!([film, told, print].iter().all(|share| (0.0..=1.0).contains(share)));
            near(told, print, 1e-9, index);
            if (lightest..=darkest).contains(&wanted) {
                // Where a loss leaves film holes that are next to nothing their size is lost among the digits of the film's tone.
                let within = if film > 1.0 - 1e-12 && film < 1.0 { 1e-7 } else { 1e-9 };
                near(print, wanted, within, (film, border));
            } else {
                let off = (print - wanted).abs();
                let ends = (wanted - lightest).abs().min((wanted - darkest).abs());
                prop_assert!(off <= ends.min(wanted).min(1.0 - wanted) + 1e-9, "{wanted} {print}");
            }
            pairs.push((wanted, film));
        }
        pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
        prop_assert!(pairs.windows(2).all(|pair| pair[0].1 <= pair[1].1 + 1e-15), "{pairs:?}");
        let levels: Vec<f64> = (0..16).map(|i| at(&answer, &format!("/points/{i}/output"))).collect();
        prop_assert!(levels.windows(2).all(|pair| pair[0] <= pair[1]) && levels[0] == 0.0 && levels[15] == 255.0);
    }

    /// Patches without scatter give back the growth that made them; so does the curve from them.
    #[test]
    fn a_growth_without_scatter_is_found(
        ruling in 10.0_f64..35.0, size in 1.0_f64..40.0, loss in any::<bool>(), shape in 0_usize..2, films in prop::collection::vec(0.2_f64..0.75, 1..8),
    ) {
        let (shape, border) = (SHAPES[shape], if loss { -0.5 * size } else { size });
        let patch = |film: &f64| json!({ "tone_fraction": film, "printed_fraction": grown_tone(shape, *film, per_cm(ruling), um(border)) });
        let patches: Vec<Value> = films.iter().map(patch).collect();
        prop_assume!(patches.iter().all(|patch| patch["printed_fraction"].as_f64().unwrap() < 0.999));
        let request = json!({ "ruling": quantity(ruling, "/cm"), "dot": shape.text(), "readings": patches });
        for id in ["artwork.tone", "artwork.curve"] {
            relative(at(&ask(id, &request), "/growth/value"), border, 1e-9, id);
        }
        let answer = ask("artwork.tone", &request);
        near(at(&answer, "/rms_fraction"), 0.0, 1e-12, "misfit");
        prop_assert_eq!(answer["growth_error"].is_null(), films.len() < 2);
    }

    /// The order of the patches makes no growth, and units change nothing.
    #[test]
    fn the_order_of_patches_is_free(films in prop::collection::btree_set(5_u32..95, 3..8), bits in any::<u32>()) {
        let scatter = |index: usize| -> f64 { if bits >> index & 1 == 1 { 1.012 } else { 0.988 } };
        let mut patches: Vec<Value> = films.iter().enumerate().map(|(index, film)| {
            let film = f64::from(*film) / 100.0;
            json!({ "tone_fraction": film, "printed_fraction": (grown_tone(DotShape::Round, film, per_cm(20.0), um(20.0)) * scatter(index)).min(0.999) })
        }).collect();
        let growth = |ruling: Value, patches: &[Value]| ask("artwork.tone", json!({ "ruling": ruling, "readings": patches }));
        let forward = growth(json!("20 /cm"), &patches);
        patches.reverse();
        let backward = growth(json!("50.8 /in"), &patches);
        for pointer in ["/growth/value", "/growth_error/value", "/rms_fraction"] {
            near(at(&forward, pointer), at(&backward, pointer), 1e-9 * at(&forward, pointer).abs().max(1e-6), pointer);
        }
    }
}
