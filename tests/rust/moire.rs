//! Beats of two lattices: published and computed tables, closed forms, and what must hold whatever is asked.

use floodbar::mesh::{Beat, HALFTONE_ORDERS, Lattice, MESH_ORDERS, beats, best_angle};
use floodbar::quantity::units::{DEG, MM, PER_CM};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{self, near, relative};
use floodbar_tests::published::{number, table};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;

fn ask(request: &Value) -> Value {
    compare::ask("mesh.moire", request)
}

fn asked(count: f64, mesh_angle: f64, ruling: f64, angles: &[f64]) -> Value {
    json!({
        "mesh": { "count": format!("{count} /cm"), "thread": "1 um" }, "mesh_angle": format!("{mesh_angle} deg"),
        "ruling": format!("{ruling} /cm"), "angles": angles.iter().map(|a| format!("{a} deg")).collect::<Vec<_>>(),
    })
}

fn lattice(per_cm: f64, degrees: f64) -> Lattice {
    Lattice { count: PER_CM.of(per_cm), angle: DEG.of(degrees) }
}

/// Every beat there is, visible or not: frequency per centimetre by order.
fn all(first: Lattice, second: Lattice, orders: [u8; 2]) -> BTreeMap<[i32; 4], f64> {
    let found = beats(&first, &second, orders, MM.of(1e-5));
    let frequencies: BTreeMap<_, _> = found.iter().map(|beat| (beat.order, frequency(beat))).collect();
    assert_eq!(frequencies.len(), found.len(), "an order twice");
    frequencies
}

fn frequency(beat: &Beat) -> f64 {
    beat.period.map_or(0.0, |period| 10.0 / MM.value(period))
}

/// Two gratings of a period each, at an angle: the formula of the file's head.
#[test]
fn two_gratings() {
    for row in table("moire_checks") {
        let first = lattice(10.0 / number(&row, "T1"), number(&row, "alpha_deg"));
        let second = lattice(10.0 / number(&row, "T2"), 0.0);
        let got = 10.0 / all(first, second, [1, 1])[&[1, 0, 1, 0]];
        let wanted = number(&row, "T_moire");
        relative(got, wanted, 1e-9, &row);
        if !row["T_over_2sin_half"].is_empty() {
            near(got, number(&row, "T_over_2sin_half"), 1e-9 * wanted, &row);
        }
    }
}

/// An enumeration of its own: the lowest beat with its orders.
#[test]
fn lowest_beat_of_mesh_and_halftone() {
    for row in table("moire_mesh_halftone_computed") {
        let [count, ruling, angle] = ["mesh_per_cm", "ruling_per_cm", "angle_deg"].map(|column| number(&row, column));
        let answer = ask(&asked(count, 0.0, ruling, &[angle]));
        near(answer["per_angle"][0]["worst_period"]["value"].as_f64().unwrap(), number(&row, "period_mm"), 5e-7, &row);
        let order = ["i", "j", "mx", "my"].map(|column| number(&row, column));
        let listed = answer["beats"].as_array().unwrap();
        let beat = listed.iter().find(|beat| beat["order"] == json!(order.map(|part| part as i32)));
        let beat = beat.unwrap_or_else(|| panic!("{row:?} is not among {listed:?}"));
        near(10.0 / beat["period"]["value"].as_f64().unwrap(), number(&row, "f_per_cm"), 5e-8, &row);
        let [h1, h2, m1, m2] = order;
        near(beat["strength"].as_f64().unwrap(), 1.0 / ((h1 * h1 + h2 * h2) * (m1 * m1 + m2 * m2)), 1e-15, &row);
    }
}

/// Equal rulings 30 degrees apart: 1 / (2 sin 15 deg) = 1.93 periods. The first dot against the diagonal one has the same:
/// |e^i30 - (1 + i)| is 2 sin 15 deg too. Longer ones are of higher orders and a tenth as strong.
#[test]
fn two_halftones_of_one_job() {
    let visible = MM.of(0.9);
    for (one, other) in [(15.0, 45.0), (45.0, 75.0), (75.0, 15.0), (75.0, 105.0)] {
        let found = beats(&lattice(20.0, one), &lattice(20.0, other), HALFTONE_ORDERS, visible);
        assert!(found.iter().any(|beat| beat.strength == 1.0), "the fundamental of {one} and {other}: {found:?}");
        for beat in found.iter().filter(|beat| beat.strength > 0.1) {
            near(MM.value(beat.period.unwrap()), 0.5 * 1.931_851_652_578, 1e-11, beat);
        }
    }
    assert!(
        beats(&lattice(20.0, 15.0), &lattice(20.0, 15.0), HALFTONE_ORDERS, visible).iter().any(|b| b.period.is_none())
    );
    // A ruling of twice another locks with its second order.
    let octave = beats(&lattice(40.0, 15.0), &lattice(20.0, 15.0), HALFTONE_ORDERS, visible);
    assert!(octave.iter().any(|b| b.period.is_none() && b.order == [1, 0, 2, 0]), "{octave:?}");
}

/// Orders up to 8 of a halftone and 1 of a mesh: 17 x 17 - 1 by half of 3 x 3 - 1; up to 2 both ways: 24 x 24 halves, less
/// those doubled from orders up to 1, 8 x 8 halves.
#[test]
fn each_beat_is_listed_once() {
    for (orders, count) in [(MESH_ORDERS, 288 * 4), (HALFTONE_ORDERS, 24 * 12 - 8 * 4)] {
        let found = all(lattice(97.3, 12.3), lattice(61.9, 0.0), orders);
        assert_eq!(found.len(), count);
        assert!(found.keys().all(|order| !found.contains_key(&order.map(|part| -part))));
        assert!(found.keys().all(|[h1, h2, m1, m2]| (*h1, *h2) != (0, 0) && (*m2 > 0 || *m2 == 0 && *m1 > 0)));
    }
}

/// A whole number of threads to a line, set along the threads, locks wherever both point; so does 5 at the angle of the
/// triangle 3, 4, 5. A millionth of a degree off it does not.
#[test]
fn locks_whatever_the_rounding() {
    let locked = |answer: &Value, order: [i32; 4]| {
        answer["beats"]
            .as_array()
            .unwrap()
            .iter()
            .any(|beat| beat["order"] == json!(order) && beat["locked"] == true && beat.get("period").is_none())
    };
    for step in 0..400 {
        let angle = 0.45 * f64::from(step) - 90.0;
        for times in 2..=8 {
            let ruling = 7.3 + f64::from(step) / 37.0;
            let answer = ask(&asked(ruling * f64::from(times), angle, ruling, &[angle]));
            assert!(locked(&answer, [times, 0, 1, 0]), "{ruling} x {times} at {angle}: {answer}");
            assert_eq!(answer["per_angle"][0]["locked"], true);
        }
        let triangle = (3.0_f64 / 4.0).atan().to_degrees();
        let answer = ask(&asked(110.0, angle, 22.0, &[angle + triangle, angle + triangle + 1e-6]));
        assert!(locked(&answer, [4, -3, 1, 0]) && locked(&answer, [3, 4, 0, 1]), "{angle}: {answer}");
        assert!(answer["per_angle"][1].get("locked").is_none(), "{answer}");
        assert!(answer["per_angle"][1]["worst_period"]["value"].as_f64().unwrap() > 1e6, "{answer}");
    }
}

/// One thread to a line: between the lock at 0 and the one towards the diagonal at 45 degrees, 30 is the farthest from both.
#[test]
fn thirty_degrees_of_equal_counts() {
    let best = best_angle(PER_CM.of(20.0), PER_CM.of(20.0), MM.of(1.0), DEG.of(0.0));
    near(DEG.value(best), 30.0, 1e-12, best);
}

fn pair() -> impl Strategy<Value = (f64, f64)> {
    (10.0..200.0_f64, 1.2..8.0_f64).prop_map(|(count, threads)| (count, count / threads))
}

/// The same frequencies by order, but for rounding: 1e-9 of the count, below which a beat is locked, or a few last digits.
fn same(got: &BTreeMap<[i32; 4], f64>, wanted: impl Fn([i32; 4]) -> f64, count: f64) -> Result<(), TestCaseError> {
    for (&order, &frequency) in got {
        let wanted = wanted(order);
        let within = if wanted * frequency == 0.0 { 1.1e-9 } else { 1e-12 } * count;
        prop_assert!((frequency - wanted).abs() <= within, "{:?}: {} and {}", order, frequency, wanted);
    }
    Ok(())
}

/// As listed: m2 >= 0, and m1 > 0 where m2 is nought.
fn listed(order: [i32; 4]) -> [i32; 4] {
    if order[3] < 0 || order[3] == 0 && order[2] < 0 { order.map(|part| -part) } else { order }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(256, 2560)))]

    /// By its orders: the difference of the vectors, by the platform's sine and cosine.
    #[test]
    fn a_beat_is_a_difference_of_vectors((count, ruling) in pair(), at in -180.0..180.0_f64, mesh_at in -45.0..45.0_f64) {
        let vector = |f: f64, degrees: f64, i: i32, j: i32| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            (f * (f64::from(i) * cos - f64::from(j) * sin), f * (f64::from(i) * sin + f64::from(j) * cos))
        };
        same(&all(lattice(ruling, at), lattice(count, mesh_at), MESH_ORDERS), |[h1, h2, m1, m2]| {
            let (a, u) = (vector(ruling, at, h1, h2), vector(count, mesh_at, m1, m2));
            (a.0 - u.0).hypot(a.1 - u.1)
        }, count)?;
    }

    #[test]
    fn turning_both_changes_nothing((count, ruling) in pair(), at in 0.0..90.0_f64, by in -90.0..90.0_f64) {
        let still = all(lattice(ruling, at), lattice(count, 0.0), MESH_ORDERS);
        same(&all(lattice(ruling, at + by), lattice(count, by), MESH_ORDERS), |order| still[&order], count)?;
        let (one, other) = (ask(&asked(count, 0.0, ruling, &[at])), ask(&asked(count, by, ruling, &[at + by])));
        for (name, sign) in [("best_angle", 1.0), ("best_angle_mirrored", -1.0)] {
            let best = one["best_angle"]["value"].as_f64().unwrap();
            let turned = other[name]["value"].as_f64().unwrap();
            prop_assert!((0.0..90.0).contains(&turned));
            let apart = (turned - sign * best - by).rem_euclid(90.0);
            prop_assert!(apart.min(90.0 - apart) < 1e-9, "{}: {} and {} turned by {}", name, best, turned, by);
        }
    }

    /// A quarter turn maps a to a' and a' to -a.
    #[test]
    fn a_quarter_turn_renames_the_orders((count, ruling) in pair(), at in -90.0..90.0_f64) {
        let still = all(lattice(ruling, at), lattice(count, 0.0), MESH_ORDERS);
        let turned = all(lattice(ruling, at + 90.0), lattice(count, 0.0), MESH_ORDERS);
        same(&turned, |[h1, h2, m1, m2]| still[&[-h2, h1, m1, m2]], count)?;
    }

    #[test]
    fn the_mirror_image_beats_alike((count, ruling) in pair(), at in -90.0..90.0_f64) {
        let still = all(lattice(ruling, at), lattice(count, 0.0), MESH_ORDERS);
        let mirrored = all(lattice(ruling, -at), lattice(count, 0.0), MESH_ORDERS);
        same(&mirrored, |[h1, h2, m1, m2]| still[&listed([h1, -h2, m1, -m2])], count)?;
    }

    #[test]
    fn first_and_second_may_swap(one in 10.0..60.0_f64, other in 10.0..60.0_f64, at in -90.0..90.0_f64) {
        let forth = all(lattice(one, at), lattice(other, 0.0), HALFTONE_ORDERS);
        let back = all(lattice(other, 0.0), lattice(one, at), HALFTONE_ORDERS);
        same(&back, |[h1, h2, m1, m2]| forth[&listed([m1, m2, h1, h2])], one + other)?;
    }

    #[test]
    fn periods_scale((count, ruling) in pair(), at in 0.0..90.0_f64, scale in 0.2..5.0_f64) {
        let small = all(lattice(ruling, at), lattice(count, 0.0), MESH_ORDERS);
        let large = all(lattice(ruling * scale, at), lattice(count * scale, 0.0), MESH_ORDERS);
        same(&large, |order| small[&order] * scale, count * scale)?;
    }

    #[test]
    fn equal_gratings(period in 0.05..1.0_f64, at in 0.01..90.0_f64) {
        let frequencies = all(lattice(10.0 / period, at), lattice(10.0 / period, 0.0), [1, 1]);
        let wanted = period / (2.0 * (at.to_radians() / 2.0).sin());
        let got = 10.0 / frequencies[&[1, 0, 1, 0]];
        prop_assert!((got - wanted).abs() <= 1e-11 * wanted, "{} and {}", got, wanted);
    }

    /// Clear, and no longer than said, wherever the film lands within its tolerance.
    #[test]
    fn the_best_angle_keeps_its_word(
        (count, ruling) in pair(), tolerance in 0.0..2.0_f64, share in -1.0..1.0_f64, steps in prop::collection::vec(0..900_u32, 1..20),
    ) {
        prop_assume!((0.5..200.0).contains(&ruling));
        let grid: Vec<f64> = steps.iter().map(|step| f64::from(*step) / 10.0).collect();
        let mut request = asked(count, 0.0, ruling, &grid);
        request["angle_tolerance"] = format!("{tolerance} deg").into();
        let answer = ask(&request);
        let clear = answer["best_angle_clear"] == true;
        let others = answer["per_angle"].as_array().unwrap();
        prop_assert!(clear || others.iter().all(|angle| angle["clear"] == false), "{}", answer);
        for name in ["best_angle", "best_angle_mirrored"] {
            let set_at = answer[name]["value"].as_f64().unwrap() + share * tolerance;
            let found = all(lattice(ruling, set_at), lattice(count, 0.0), MESH_ORDERS);
            let lowest = found.values().copied().fold(f64::INFINITY, f64::min);
            if let Some(longest) = answer["best_angle_period"]["value"].as_f64() {
                prop_assert!(10.0 / lowest <= longest * (1.0 + 1e-9), "{} mm at {}: {}", 10.0 / lowest, set_at, answer);
                prop_assert_eq!(clear, longest <= 1.0 + 1e-9, "{}", answer);
            }
        }
    }
}

/// Codes and fields of the cautions that job.plan gives for two halftone screens.
fn cautions(first: [&str; 2], second: [&str; 2]) -> Vec<(String, String)> {
    let screen = |name: &str, [ruling, angle]: [&str; 2]| {
        json!({ "name": name, "ink": "plastisol", "mesh": "120-34", "coverage_fraction": 0.1,
            "halftone": { "ruling": ruling, "angle": angle } })
    };
    let order = json!({ "pieces": 24, "cloth": "cotton-jersey-180", "placements": [{ "name": "front",
        "width": "300 mm", "height": "300 mm", "screens": [screen("a", first), screen("b", second)] }] });
    let plan = compare::ask("job.plan", order);
    let text = |note: &Value, member: &str| note[member].as_str().unwrap().to_owned();
    let notes = plan["notes"].as_array().unwrap().iter();
    notes.map(|note| (text(note, "code"), text(note, "field"))).filter(|(code, _)| code.starts_with("moire")).collect()
}

/// moire_mesh_halftone_computed.csv: 24 /cm at 22.5 degrees on 120 /cm shows bands of 1.067 mm. Films 30 degrees apart, by hand:
/// (1 / 12 cm) / (2 sin 15 deg) = 1.61 mm, and 0.81 mm at 24 /cm, which is not seen; films alike do not beat.
#[test]
fn a_job_is_warned_of_beats_on_the_mesh_and_between_its_films() {
    let on_mesh = |screen: usize| ("moire".to_owned(), format!("/placements/0/screens/{screen}/halftone/angle"));
    let between = ("moire_between".to_owned(), "/placements/0/screens/1/halftone".to_owned());
    let alike = cautions(["24 /cm", "22.5 deg"], ["24 /cm", "22.5 deg"]);
    assert_eq!(alike, [on_mesh(0), on_mesh(1)]);
    assert!(!cautions(["24 /cm", "22.5 deg"], ["24 /cm", "52.5 deg"]).contains(&between));
    assert!(cautions(["12 /cm", "15 deg"], ["12 /cm", "45 deg"]).contains(&between));
    // Two films of one set, measured: 1 / (22.02 - 22 /cm) is half a metre, wider than the print.
    assert!(!cautions(["22 /cm", "22.5 deg"], ["22.02 /cm", "22.5 deg"]).contains(&between));
    // At the best angle, or its mirror image, there is none to recommend.
    let asked = json!({ "mesh": "120-34", "ruling": "24 /cm", "angles": ["22.5 deg"] });
    let best = ask(&asked);
    for member in ["best_angle", "best_angle_mirrored"] {
        let angle = format!("{} deg", best[member]["value"]);
        assert_eq!(cautions(["24 /cm", &angle], ["24 /cm", &angle]), []);
    }
}
