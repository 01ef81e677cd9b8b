//! Register: published tables (copied unchanged to `tests/published`, the head of each names its source), closed forms,
//! and what must hold whatever is asked.

use floodbar::quantity::{Dimensioned, Length, units};
use floodbar::register::{Cause, Errors, FilmChange, Per, Shape, film_growth};
use floodbar::{Code, calculate};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{self, near};
use floodbar_tests::published::table;
use proptest::prelude::*;
use serde_json::{Value, json};

fn mm(value: f64) -> Length {
    units::MM.of(value)
}

fn cause(half_width: f64, shape: Shape) -> Cause {
    Cause::new().name("a cause").half_width(mm(half_width)).shape(shape)
}

fn accumulating(half_width: f64, shape: Shape) -> Cause {
    cause(half_width, shape).accumulates(true)
}

fn errors(causes: &[Cause]) -> Errors {
    Errors::of(causes.iter())
}

fn ask(request: &Value) -> Value {
    compare::ask("register.budget", request)
}

fn refusal(request: &Value) -> (Code, String) {
    let error = calculate("register.budget", request).expect_err("a refusal");
    (error.code, error.field)
}

/// A normal half-width of so many standard deviations holds 95 %.
const NORMAL_95: f64 = 1.959_963_984_540_054;

// ---- published tables ----

/// Worst case and root sum of squares of exact cases. A pair has two colours: twice the one, root two times the other.
/// The tolerances are taken for standard uncertainties, so that the half-width of each shape is a known factor larger.
#[test]
fn tolerance_stacks() {
    for row in table("tolerance_stack") {
        let numbers = |column: &str| row[column].split(';').map(|t| t.parse::<f64>().unwrap()).collect::<Vec<_>>();
        let (parts, worst, rss) = (numbers("tolerances"), numbers("worst_case")[0], numbers("rss")[0]);
        for (shape, factor) in
            [(Shape::Normal, NORMAL_95), (Shape::Uniform, 3f64.sqrt()), (Shape::Triangular, 6f64.sqrt())]
        {
            let list: Vec<_> = parts.iter().map(|part| cause(part * factor, shape)).collect();
            let got = errors(&list);
            near(units::MM.value(got.standard(2)), 2f64.sqrt() * rss, 1e-12 * worst, &row);
            near(units::MM.value(got.worst_case(2)), 2.0 * factor * worst, 1e-12 * worst, &row);
        }
    }
}

/// JCGM 101 clause 9.2: the sum of four normal or four even errors of one standard deviation each. Two colours with two
/// such errors each differ by the sum of four; the half-widths that hold 95 % are printed to two places.
#[test]
fn sums_of_four() {
    for row in table("register_quadrature_example") {
        let printed: f64 = row["half_width_95"].parse().unwrap();
        let one = match row["case"].as_str() {
            "4 x N(0,1)" => cause(NORMAL_95, Shape::Normal),
            "4 x U sd 1" => cause(3f64.sqrt(), Shape::Uniform),
            other => panic!("{other}"),
        };
        let pair = errors(&[one.clone(), one]);
        near(units::MM.value(pair.standard(2)), row["u"].parse().unwrap(), 1e-12, &row);
        // The chance is that of both axes.
        let needed = units::MM.value(pair.trap_needed(2, 0.95 * 0.95));
        near(needed, printed, 0.005, &row);
        near(pair.within(2, mm(printed)).sqrt(), 0.95, 0.001, &row);
    }
}

/// JCGM 100 example H.1: what of it a budget of this kind does, the root sum of squares of u(d) and the even half-widths
/// of thermal expansion. Sensitivities, degrees of freedom and the arcsine part have no counterpart here.
#[test]
fn gum_end_gauge() {
    let rows = table("gum_h1");
    let value =
        |item: &str| rows.iter().find(|row| row["item"] == item).unwrap_or_else(|| panic!("{item}"))["value"].clone();
    let first = |item: &str| value(item).split(';').next().unwrap().trim().parse::<f64>().unwrap();
    let parts = ["u(d) repeat nm; dof", "u(d1) random nm; dof", "u(d2) systematic nm; dof"].map(first);
    let list = parts.map(|u| cause(u * NORMAL_95, Shape::Normal));
    let pair = units::MM.value(errors(&list).standard(2));
    near(pair / 2f64.sqrt(), first("u(d) combined nm; dof"), 0.05, "u(d), printed to one place");
    // 11.5e-6 uniform +- 2e-6 has u = 1.2e-6 (printed so in H.1.3.3); theta_d +- 0.05 has 0.029.
    for (row, half_width, printed, within) in [("alpha_s 1/K", 2.0, 1.2, 0.05), ("d_theta C", 0.05, 0.029, 5e-4)] {
        assert!(value(row).contains("uniform +-"), "{row}");
        let got = units::MM.value(errors(&[accumulating(half_width, Shape::Uniform)]).standard(2));
        near(got, printed, within, row);
    }
}

/// NIST TN 1900: its examples propagate through other models than a sum; E3's independent relative parts multiply. What is
/// like a budget is the surface temperature's k u = half-width: u 0.872, k 2.08 against the printed interval.
#[test]
fn nist_surface_temperature_is_a_sum_of_one() {
    let rows = table("nist_tn1900_examples");
    let row = rows.iter().find(|row| row["input"] == "mean;u;k;95% interval").expect("E2");
    let parts: Vec<&str> = row["value"].split(';').collect();
    let [mean, u, k] = [0, 1, 2].map(|i| parts[i].parse::<f64>().unwrap());
    let (low, high) = parts[3].trim_matches(['(', ')']).split_once(',').unwrap();
    near(mean - k * u, low.parse().unwrap(), 0.05, row);
    near(mean + k * u, high.parse().unwrap(), 0.05, row);
    let one = errors(&[accumulating(u * NORMAL_95, Shape::Normal)]);
    near(units::MM.value(one.standard(2)), u, 1e-12, row);
    // Normal with that u, the half-width of 95 % is 1.96 u: Student's k of 21 degrees of freedom is wider.
    let normal = units::MM.value(one.trap_needed(2, 0.95 * 0.95));
    assert!(normal < k * u && normal > 0.9 * k * u, "{normal}");
}

// ---- closed forms ----

/// The chance that a normal error stays within `z` standard deviations, by the published table of erf.
#[test]
fn two_colours_of_normal_errors_are_erf() {
    for row in table("erf_table") {
        let (x, erf): (f64, f64) = (row["x"].parse().unwrap(), row["erf"].parse().unwrap());
        // Pair: standard deviation root two; z = x root two.
        let pair = errors(&[cause(NORMAL_95, Shape::Normal)]).within(2, mm(2.0 * x));
        near(pair, erf * erf, 1e-8, &row);
        let step = errors(&[accumulating(NORMAL_95, Shape::Normal)]).within(2, mm(2f64.sqrt() * x));
        near(step, erf * erf, 1e-8, &row);
    }
}

/// A small even error beside a normal one is told from it by its variance alone: its fourth cumulant, -2/15 of the fourth power of its
/// half-width, moves the chance by less than 1e-7 here.
#[test]
fn a_small_even_error_adds_its_variance() {
    for row in table("erf_table") {
        let (x, erf): (f64, f64) = (row["x"].parse().unwrap(), row["erf"].parse().unwrap());
        for half_width in [1e-4_f64, 1e-3, 1e-2, 3e-2, 5e-2] {
            let both = errors(&[cause(NORMAL_95, Shape::Normal), cause(half_width, Shape::Uniform)]);
            let sd = (1.0 + half_width * half_width / 3.0).sqrt();
            near(both.within(2, mm(2.0 * x * sd)), erf * erf, 1e-7, (x, half_width));
        }
    }
}

/// The difference of two even errors is triangular: P(|d| <= t) = 1 - (1 - t / 2a)^2; one even step is even.
#[test]
fn two_colours_of_even_errors_are_a_triangle() {
    for t in [0.05, 0.1, 0.3, 0.62, 0.799, 0.8, 0.9, 5.0] {
        let rest = (1.0 - t / 0.8_f64).max(0.0);
        let wanted = 1.0 - rest * rest;
        near(errors(&[cause(0.4, Shape::Uniform)]).within(2, mm(t)), wanted * wanted, 2e-8, t);
        let even = (t / 0.4_f64).min(1.0);
        near(errors(&[accumulating(0.4, Shape::Uniform)]).within(2, mm(t)), even * even, 2e-8, t);
    }
}

/// Irwin-Hall: the sum of n even errors from 0 to 1 is below x with the chance sum (-1)^k (x - k)^n / (k! (n - k)!).
#[test]
fn sums_of_even_steps_are_irwin_hall() {
    let irwin_hall = |n: u32, x: f64| {
        let factorial = |n: u32| (1..=n).map(f64::from).product::<f64>();
        let term = |k: u32| {
            let sign = if k.is_multiple_of(2) { 1.0 } else { -1.0 };
            sign * (x - f64::from(k)).powi(n as i32) / (factorial(k) * factorial(n - k))
        };
        (0..=n).filter(|k| f64::from(*k) < x).map(term).sum::<f64>()
    };
    let steps = errors(&[accumulating(0.5, Shape::Uniform)]);
    for colour in 2..=9_u32 {
        let n = colour - 1;
        for t in [0.1, 0.25, 0.5, 0.77, 1.3] {
            let (low, high) = (f64::from(n) / 2.0 - t, f64::from(n) / 2.0 + t);
            let wanted = (irwin_hall(n, high.min(f64::from(n))) - irwin_hall(n, low.max(0.0))).min(1.0);
            near(steps.within(colour, mm(t)), wanted * wanted, 5e-8, (colour, t));
        }
    }
}

/// Two steps of half-width 1 within a trap below it: one axis, by hand from the integral of the overlap of [-t, t] with
/// [y - 1, y + 1]: P = integral over |y| <= t of (1/2) P(|y + e| <= t) dy. For t <= 1/2 the whole trap lies within reach of
/// every place in it: (t)(t). For t = 0.75: (1/2)(1/2) [integral over |y| <= 0.25 of 1.5 + 2 integral from 0.25 to 0.75 of
/// (1.75 - y) dy] = (1/4)(0.75 + 2 (0.875 - 0.25)) = 0.5.
#[test]
fn two_steps_in_a_trap_by_hand() {
    let steps = errors(&[accumulating(1.0, Shape::Uniform)]);
    for (t, wanted) in [(0.2, 0.04), (0.5, 0.25), (0.75, 0.5)] {
        near(steps.all_within(3, mm(t)), wanted * wanted, 1e-7, t);
    }
}

/// Even errors of half-width 1, trap 1, three colours, by hand: given x, P(|X - x| <= 1) = 1 - |x|/2, so for one axis the
/// mean of (1 - |x|/2)^(n-1) over x, which is 2 (1 - 2^-n) / n.
#[test]
fn even_errors_in_a_trap_of_their_half_width() {
    let own = errors(&[cause(1.0, Shape::Uniform)]);
    for n in 2..=30_u32 {
        let wanted = 2.0 * (1.0 - 0.5_f64.powi(n as i32)) / f64::from(n);
        near(own.all_within(n, mm(1.0)), wanted * wanted, 1e-7, n);
    }
}

#[test]
fn nothing_that_moves_always_meets() {
    let shared = cause(0.5, Shape::Normal).shared(true);
    for list in [vec![], vec![cause(0.0, Shape::Uniform)], vec![shared]] {
        let none = errors(&list);
        for t in [0.0, 0.3] {
            assert_eq!((none.within(2, mm(t)), none.all_within(9, mm(t))), (1.0, 1.0));
        }
        assert_eq!(none.trap_needed(9, 0.95).si(), 0.0);
    }
    let some = errors(&[cause(0.2, Shape::Triangular)]);
    assert_eq!((some.within(2, mm(0.0)), some.all_within(3, mm(0.0)), some.all_within(1, mm(0.0))), (0.0, 0.0, 1.0));
    // What can never be farther off than the worst case is within it.
    near(some.all_within(8, some.worst_case(8)), 1.0, 1e-9, "worst case");
}

// ---- the wire ----

#[test]
fn methods_stand_side_by_side() {
    let asked = json!({
        "sources": ["shirt-creep"], "methods": ["film-on-platen", "printed-tape"], "colours": 6, "trap": "0.6 mm",
    });
    let answer = ask(&asked);
    let compared = answer["compared"].as_array().unwrap();
    assert_eq!(
        compared.iter().map(|c| c["name"].as_str().unwrap()).collect::<Vec<_>>(),
        ["film-on-platen", "printed-tape"]
    );
    for name in ["standard", "worst_case", "pair_within_probability", "all_within_probability", "trap_needed"] {
        assert_eq!(answer[name], compared[0][name], "{name} is the first method's");
        // Each is what its sources alone give.
        let alone = ask(&json!({ "sources": ["printed-tape", "shirt-creep"], "colours": 6, "trap": "0.6 mm" }));
        assert_eq!(alone[name], compared[1][name], "{name}");
    }
    // By hand, 95 % half-widths: film sqrt(2 (0.25^2 + 0.2^2)) / 1.96, tape sqrt(0.4^2 + 2 x 0.2^2) / 1.96.
    near(compared[0]["standard"]["value"].as_f64().unwrap(), 0.205f64.sqrt() / NORMAL_95, 1e-12, &answer);
    near(compared[1]["standard"]["value"].as_f64().unwrap(), 0.24f64.sqrt() / NORMAL_95, 1e-12, &answer);
    // By hand: the worst of the tape's colours, 0.16 (k - 1) + 0.08, passes 0.6 / 2.236 (95 % of both axes) at k = 2:
    // sqrt(0.24) = 0.49 < 0.6 x 1.96 / 2.236 = 0.526 < sqrt(0.40) = 0.63 of k = 3. The film never does: 0.453.
    assert_eq!(compared[1]["leaves_trap_at"], 3);
    assert!(compared[0].get("leaves_trap_at").is_none());
    let notes: Vec<_> = answer["notes"].as_array().unwrap().iter().map(|n| n["code"].as_str().unwrap()).collect();
    assert!(notes.contains(&"methods_compared") && notes.contains(&"accumulates"), "{notes:?}");
    let shares: Vec<f64> =
        answer["contributions"].as_array().unwrap().iter().map(|c| c["share_fraction"].as_f64().unwrap()).collect();
    near(shares[0], 0.0625 / 0.1025, 1e-12, "the film, by hand");
    near(shares.iter().sum(), 1.0, 1e-12, &shares);
}

#[test]
fn films_grow() {
    // By hand: 500 mm x (17e-6 x 10 + 9e-4 x 0.10) = 0.085 + 0.045 mm.
    let film = FilmChange::new()
        .length(mm(500.0))
        .temperature_difference(units::KELVIN_STEP.of(10.0))
        .humidity_difference_fraction(0.1)
        .growth_per_kelvin_ratio(17e-6)
        .growth_per_humidity_ratio(9e-4);
    near(units::MM.value(film_growth(&film).half_width), 0.13, 1e-12, &film);
    let asked = |shared: bool| {
        let film = json!({ "length": "500 mm", "temperature_difference": "10 K", "humidity_difference_fraction": "10 %", "shared": shared });
        ask(&json!({ "sources": [], "film": film, "colours": 3, "trap": "0.2 mm" }))
    };
    near(asked(false)["worst_case"]["value"].as_f64().unwrap(), 0.26, 1e-12, "twice that");
    assert_eq!(asked(true)["all_within_probability"], 1.0);
}

#[test]
fn what_contradicts_itself_is_refused() {
    let with = |sources: Value| json!({ "sources": sources, "colours": 3, "trap": "0.5 mm" });
    let both = json!([{ "from": "printed-tape", "shared": true }]);
    assert_eq!(refusal(&with(both.clone())), (Code::Impossible, "/sources/0/accumulates".into()));
    let mut asked = with(json!([]));
    asked["methods"] = json!(["pins", { "name": "tape", "sources": both }]);
    assert_eq!(refusal(&asked), (Code::Impossible, "/methods/1/sources/0/accumulates".into()));
    asked["methods"] = json!([]);
    assert_eq!(refusal(&asked), (Code::OutOfRange, "/methods".into()));
    asked["methods"] = json!(["pin"]);
    assert_eq!(refusal(&asked), (Code::OutOfRange, "/methods/0".into()));
    asked["methods"] = Value::Null;
    asked["film"] = json!({ "length": "500 mm" });
    assert_eq!(refusal(&asked), (Code::MissingField, "/film/temperature_difference".into()));
}

// ---- what must hold whatever is asked ----

fn shape() -> impl Strategy<Value = Shape> {
    prop_oneof![Just(Shape::Normal), Just(Shape::Uniform), Just(Shape::Triangular)]
}

prop_compose! {
    fn any_cause()(half_width in 0.01_f64..0.6, shape in shape(), accumulates in any::<bool>()) -> Cause {
        cause(half_width, shape).accumulates(accumulates)
    }
}

fn any_causes() -> impl Strategy<Value = Vec<Cause>> {
    proptest::collection::vec(any_cause(), 1..5)
}

/// Arithmetic: shirt creep of 0.2 mm parts two colours by sqrt 2 x 0.2 / 1.959964 mm, so 30.4 % of the prints leave a trap of 0.2 mm
/// and 0.1 % one of 0.5 mm, against the 2.5 % that a shop plans for (common practice, no source).
#[test]
fn prints_out_of_register_are_held_against_the_spoilage() {
    let plan = |trap: &str, spoilage: f64| {
        let screen =
            |name: &str| json!({ "name": name, "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.1 });
        let placement =
            json!({ "name": "front", "width": "300 mm", "height": "300 mm", "screens": [screen("a"), screen("b")] });
        let request = json!({
            "pieces": 24, "cloth": "cotton-jersey-180", "trap": trap, "placements": [placement],
            "shop": { "from": "starter-shop", "spoilage_fraction": spoilage },
        });
        let answer = compare::ask("job.plan", &request);
        let notes = answer["notes"].as_array().unwrap().clone();
        notes.into_iter().find(|note| note["code"] == "register_beyond_spoilage")
    };
    let note = plan("0.2 mm", 0.025).expect("a caution");
    let message = note["message"].as_str().unwrap();
    assert!(note["level"] == "caution" && message.contains("30.4 %") && message.contains("2.5 %"), "{note}");
    assert_eq!(plan("0.5 mm", 0.025), None);
    assert!(plan("0.5 mm", 0.001).is_some() && plan("0.2 mm", 0.31).is_none());
}

/// What the chances are promised to be good to.
const GOOD_TO: f64 = 1e-6;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(48, 480)))]

    #[test]
    fn a_larger_trap_never_lowers_the_chance(list in any_causes(), colours in 1..9_u32, trap in 0.0_f64..2.0, more in 0.0_f64..0.5) {
        let errors = errors(&list);
        let (small, large) = (mm(trap), mm(trap + more));
        prop_assert!(errors.within(2, large) >= errors.within(2, small) - GOOD_TO);
        prop_assert!(errors.all_within(colours, large) >= errors.all_within(colours, small) - GOOD_TO);
    }

    #[test]
    fn a_further_colour_never_raises_the_chance(list in any_causes(), trap in 0.0_f64..2.0) {
        let errors = errors(&list);
        let chances: Vec<f64> = (1..8).map(|colours| errors.all_within(colours, mm(trap))).collect();
        prop_assert!(chances.iter().all(|p| (0.0..=1.0).contains(p)));
        prop_assert!(chances.is_sorted_by(|a, b| a >= b), "{chances:?}");
        // All are never likelier than the last alone, nor less likely than if they were independent of each other.
        let alone: Vec<f64> = (1..8).map(|colour| errors.within(colour, mm(trap))).collect();
        prop_assert!(chances[6] <= alone[6] + GOOD_TO);
        prop_assert!(chances[6] >= alone.iter().product::<f64>() - GOOD_TO, "{chances:?} {alone:?}");
    }

    #[test]
    fn a_shared_cause_changes_nothing(list in any_causes(), moved in any_cause(), colours in 1..6_u32, trap in 0.05_f64..2.0) {
        let mut with = list.clone();
        with.push(moved.shared(true).accumulates(None));
        let (with, without) = (errors(&with), errors(&list));
        prop_assert_eq!(with.all_within(colours, mm(trap)).to_bits(), without.all_within(colours, mm(trap)).to_bits());
        prop_assert_eq!(with.within(2, mm(trap)).to_bits(), without.within(2, mm(trap)).to_bits());
        prop_assert_eq!((with.standard(2), with.worst_case(2)), (without.standard(2), without.worst_case(2)));
    }

    #[test]
    fn adjusting_never_lowers_the_chance(list in any_causes(), marks in proptest::collection::vec(any::<bool>(), 5), colours in 1..6_u32, trap in 0.05_f64..2.0) {
        let per = |setup: &dyn Fn(usize) -> bool| -> Vec<Cause> {
            let marked = |(index, cause): (usize, &Cause)| cause.clone().per(if setup(index) { Per::Setup } else { Per::Print });
            list.iter().enumerate().map(marked).collect()
        };
        let chance = |list: &[Cause]| Errors::adjusted(list.iter()).all_within(colours, mm(trap));
        let unadjusted = errors(&list).all_within(colours, mm(trap));
        // Errors that are even or peak at nothing only part colours (Anderson 1955).
        prop_assert!(chance(&per(&|index| marks[index])) >= unadjusted - GOOD_TO);
        prop_assert_eq!(chance(&per(&|_| true)), 1.0);
        prop_assert_eq!(chance(&per(&|_| false)), unadjusted);
        prop_assert_eq!(chance(&list), unadjusted);
    }

    #[test]
    fn the_order_of_causes_does_not_matter(list in any_causes(), turn in 0..5_usize, trap in 0.05_f64..2.0) {
        let written = |list: &[Cause]| {
            let source = |c: &Cause| json!({
                "name": format!("{:?} {}", c.shape, c.half_width.si()), "half_width": { "value": c.half_width.si(), "unit": "m" },
                "shape": c.shape.text(), "accumulates": c.accumulates,
            });
            let sources: Vec<_> = list.iter().map(source).collect();
            json!({ "sources": sources, "colours": 4, "trap": { "value": trap, "unit": "mm" } })
        };
        let mut other = list.clone();
        other.reverse();
        other.rotate_left(turn % list.len());
        prop_assert_eq!(ask(&written(&list)), ask(&written(&other)));
    }

    #[test]
    fn a_scale_changes_no_chance(list in any_causes(), colours in 1..6_u32, trap in 0.05_f64..2.0, scale in 0.01_f64..100.0) {
        let scaled: Vec<_> = list.iter().map(|c| c.clone().half_width(c.half_width * scale)).collect();
        let (one, other) = (errors(&list), errors(&scaled));
        near(other.all_within(colours, mm(trap * scale)), one.all_within(colours, mm(trap)), GOOD_TO, &list);
        near(other.within(2, mm(trap * scale)), one.within(2, mm(trap)), GOOD_TO, &list);
        let (a, b) = (one.trap_needed(colours, 0.9).si() * scale, other.trap_needed(colours, 0.9).si());
        near(a, b, 1e-5 * b, &list);
    }

    #[test]
    fn the_trap_needed_gives_the_chance_wanted(list in any_causes(), colours in 2..9_u32, wanted in 0.01_f64..0.999) {
        let errors = errors(&list);
        let trap = errors.trap_needed(colours, wanted);
        near(errors.all_within(colours, trap), wanted, GOOD_TO, (&list, trap));
        prop_assert!(errors.all_within(colours, trap * 0.99) < wanted + GOOD_TO);
    }
}
