//! Register marks: a peer's fits of two stretches with their errors, and what must hold whatever is read.

use floodbar::calculate;
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, near, noted, quantity, relative};
use floodbar_tests::published::{number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

type Point = [f64; 2];

fn points(text: &str) -> Vec<Point> {
    let point = |text: &str| {
        let (x, y) = text.split_once(' ').expect("two numbers");
        [x.parse().unwrap(), y.parse().unwrap()]
    };
    text.split(';').map(point).collect()
}

/// A colour of these marks, with the offsets of each print, mm.
fn colour(name: &str, marks: &[Point], prints: &[Vec<Point>]) -> Value {
    let point = |[x, y]: Point| json!({ "x": quantity(x, "mm"), "y": quantity(y, "mm") });
    let mark = |(index, [x, y]): (usize, &Point)| {
        let offsets: Vec<Value> = prints.iter().map(|print| point(print[index])).collect();
        json!({ "x": quantity(*x, "mm"), "y": quantity(*y, "mm"), "offsets": offsets })
    };
    json!({ "name": name, "marks": marks.iter().enumerate().map(mark).collect::<Vec<_>>() })
}

fn one(marks: &[Point], prints: &[Vec<Point>], pivot: Option<Point>) -> Value {
    let mut request = json!({ "reference": "black", "colours": [colour("red", marks, prints)], "trap": "0.3 mm" });
    if let Some([x, y]) = pivot {
        request["pivot"] = json!({ "x": quantity(x, "mm"), "y": quantity(y, "mm") });
    }
    request
}

/// A print that came off nearly upside down: its marks are where the turn puts them.
#[test]
fn a_print_upside_down() {
    let marks = [[0.0, 0.0], [30.0, 0.0], [15.0, 40.0]];
    for turn in [-170.0_f64, 100.0, 170.0] {
        let (sine, cosine) = turn.to_radians().sin_cos();
        let offset = |[x, y]: Point| [x * cosine - y * sine - x, x * sine + y * cosine - y];
        let answer = ask("register.marks", one(&marks, &[marks.map(offset).to_vec()], None));
        near(at(&answer, "/colours/0/turn/value"), turn, 1e-9, &answer["colours"]);
        near(at(&answer, "/colours/0/stretch_x_fraction"), 0.0, 1e-12, turn);
        assert!(noted(&answer, "large_turn"), "{turn}");
    }
}

/// Gauss-Newton on SciPy's least squares: five parameters and their standard errors.
#[test]
fn fits_of_two_stretches() {
    for row in table("register_marks_scipy") {
        let marks = points(&row["marks"]);
        let prints: Vec<Vec<Point>> = row["offsets"].split('|').map(points).collect();
        let pivot = points_or_none(&row["pivot"]);
        let answer = ask("register.marks", one(&marks, &prints, pivot));
        let got = |field: &str| {
            let number = answer.pointer(&format!("/colours/0/{field}/value"));
            number.map_or_else(|| at(&answer, &format!("/colours/0/{field}")), |number| number.as_f64().unwrap())
        };
        for (field, column) in [
            ("shift_x", "shift_x"),
            ("shift_y", "shift_y"),
            ("stretch_x_fraction", "stretch_x"),
            ("stretch_y_fraction", "stretch_y"),
        ] {
            relative(got(field), number(&row, column), 1e-9, (&row["case"], field));
            let (field, column) = (format!("{field}_error"), format!("{column}_error"));
            relative(got(&field), number(&row, &column), 1e-9, (&row["case"], field));
        }
        for field in ["turn", "turn_error"] {
            relative(got(field).to_radians(), number(&row, field), 1e-9, (&row["case"], field));
        }
        let bound = three_errors(prints.len());
        let beyond = ["stretch_x", "stretch_y"]
            .iter()
            .any(|column| number(&row, column).abs() > bound * number(&row, &format!("{column}_error")));
        assert_eq!(answer["colours"][0]["film_or_frame"], json!(beyond), "{}", row["case"]);
        assert_eq!(noted(&answer, "film_or_frame"), beyond);
    }
}

/// Standard errors that Student's t stays within as surely as a normal error within three, by prints (SciPy: `t.ppf(0.99865010197, n - 1)`).
fn three_errors(prints: usize) -> f64 {
    match prints {
        2 => 235.801_497_96,
        3 => 19.206_744_21,
        4 => 9.218_940_46,
        5 => 6.620_205_97,
        6 => 5.507_079_71,
        8 => 4.529_973_68,
        10 => 4.094_255_21,
        12 => 3.849_936_43,
        20 => 3.447_233_15,
        _ => panic!("no bound for {prints} prints"),
    }
}

/// Four corners of 300 x 400 mm, mm.
const CORNERS: [Point; 4] = [[0.0, 0.0], [300.0, 0.0], [300.0, 400.0], [0.0, 400.0]];

/// Offsets of prints that scatter about means, each mark by itself, without a stretch.
fn scattered(prints: usize, size: f64, seed: u64) -> Vec<Vec<Point>> {
    let mut state = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut uniform = move || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    // The sum of twelve uniform numbers is near a normal one.
    let mut normal = move || (0..12).map(|_| uniform()).sum::<f64>() - 6.0;
    (0..prints).map(|_| CORNERS.map(|_| [size * normal(), size * normal()]).to_vec()).collect()
}

/// One corner read a millimetre off is a misread mark, no film that grew; a film that grew is no misread mark.
#[test]
fn a_misread_mark_is_no_stretch() {
    let mut prints = scattered(6, 0.05, 7);
    for print in &mut prints {
        print[2][0] += 1.0;
    }
    let answer = ask("register.marks", one(&CORNERS, &prints, None));
    assert!(noted(&answer, "marks_do_not_fit") && !noted(&answer, "film_or_frame"), "{answer}");
    assert_eq!(answer["colours"][0].get("film_or_frame"), None);
    assert!(!answer["colours"][0]["moved_by"].as_array().unwrap().contains(&json!("stretch")));
    let mut grown = scattered(6, 0.05, 7);
    for print in &mut grown {
        for (offset, corner) in print.iter_mut().zip(CORNERS) {
            offset[0] += 0.002 * corner[0];
        }
    }
    let answer = ask("register.marks", one(&CORNERS, &grown, None));
    assert!(!noted(&answer, "marks_do_not_fit") && noted(&answer, "film_or_frame"), "{answer}");
}

/// Of prints that only scatter few are told to be stretched, however few prints were read: two axes of three normal standard errors fail
/// in 0.54 % of the trials, so of 400 trials more than 12 in one of ten thousand sets.
#[test]
fn noise_is_no_stretch() {
    for prints in [2, 3, 5, 8] {
        let told = (0..400).filter(|seed| {
            let answer =
                ask("register.marks", one(&CORNERS, &scattered(prints, 0.05, seed * 101 + prints as u64), None));
            noted(&answer, "film_or_frame")
        });
        assert!(told.count() <= 12, "{prints} prints");
    }
}

/// What a turn and stretches about the pivot do to marks, by sine and cosine.
fn placed(marks: &[Point], pivot: Point, shift: Point, turn: f64, [ex, ey]: Point) -> Vec<Point> {
    let (sine, cosine) = turn.sin_cos();
    let offset = |[x, y]: &Point| {
        let (px, py) = ((x - pivot[0]) * (1.0 + ex), (y - pivot[1]) * (1.0 + ey));
        [pivot[0] + shift[0] + cosine * px - sine * py - x, pivot[1] + shift[1] + sine * px + cosine * py - y]
    };
    marks.iter().map(offset).collect()
}

fn points_or_none(text: &str) -> Option<Point> {
    (!text.is_empty()).then(|| points(text)[0])
}

/// The chances of several colours are multiplied, and there are none from one print.
#[test]
fn colours_are_taken_for_independent() {
    let marks = [[0.0, 0.0], [300.0, 0.0], [150.0, 400.0]];
    let red = vec![vec![[0.1, 0.0], [0.2, 0.1], [0.0, 0.1]], vec![[0.3, 0.1], [0.1, 0.2], [0.1, -0.1]]];
    let blue = vec![vec![[-0.1, 0.2], [0.0, 0.1], [0.1, 0.1]], vec![[0.2, 0.0], [0.1, -0.2], [0.1, 0.1]]];
    let request = json!({ "reference": "black", "colours": [colour("red", &marks, &red), colour("blue", &marks, &blue)], "trap": "0.4 mm" });
    let answer = ask("register.marks", &request);
    for field in ["within_trap_now", "within_trap_adjusted"] {
        let product: f64 = (0..2).map(|index| at(&answer, &format!("/colours/{index}/{field}"))).product();
        relative(at(&answer, &format!("/{field}")), product, 1e-15, field);
        assert!(product > 0.1 && product < 1.0, "{product}");
    }
    assert!(noted(&answer, "colours_independent") && noted(&answer, "few_prints") && noted(&answer, "leave_it"));
    let once = ask("register.marks", one(&marks, &red[..1], None));
    assert!(noted(&once, "one_print"));
    assert_eq!(once.get("within_trap_now"), None);
    assert_eq!(once.pointer("/colours/0/shift_x_error"), None);
}

/// Three corners, noise and all: places and offsets of each print, mm.
fn read() -> impl Strategy<Value = (Vec<Point>, Vec<Vec<Point>>, Point)> {
    let offset = || [-0.5..0.5_f64, -0.5..0.5_f64];
    let marks = prop::collection::vec([-200.0..200.0_f64, -200.0..200.0_f64], 0..3);
    (marks, 2..6_usize, [-300.0..300.0_f64, -300.0..300.0_f64]).prop_flat_map(move |(more, prints, pivot)| {
        let mut marks = vec![[-150.0, -210.0], [160.0, -205.0], [90.0, 250.0]];
        marks.extend(more);
        let print = prop::collection::vec(offset(), marks.len());
        (Just(marks), prop::collection::vec(print, prints), Just(pivot))
    })
}

/// The numbers of the one colour, by name; a spread and a chance only where there are any.
fn numbers(answer: &Value, fields: &[&str]) -> Vec<f64> {
    let colour = &answer["colours"][0];
    let number = |field: &&str| colour[*field].get("value").unwrap_or(&colour[*field]).as_f64();
    fields.iter().filter_map(number).collect()
}

const REST: &[&str] = &[
    "turn",
    "turn_error",
    "turn_by",
    "stretch_x_fraction",
    "stretch_x_fraction_error",
    "stretch_y_fraction",
    "stretch_y_fraction_error",
    "misfit",
    "spread_per_print",
    "spread_x",
    "spread_y",
    "remaining",
    "shift_x_error",
    "shift_y_error",
    "within_trap_adjusted",
];
const SHIFTS: &[&str] = &["shift_x", "shift_y", "move_x", "move_y", "within_trap_now"];

fn alike(one: &[f64], other: &[f64]) {
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        // Offsets of half a millimetre, spans of half a metre: numbers of the size of 1e-3 come out of 16 digits.
        near(*one, *other, 1e-9 * one.abs().max(1e-3), (one, other));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(48, 2000)))]

    /// Two equal prints without noise give back what was put in, as far as such marks can tell it, with errors of nothing.
    #[test]
    fn what_was_put_in_comes_out(
        pivot in [-300.0..300.0_f64, -300.0..300.0_f64], shift in [-2.0..2.0_f64, -2.0..2.0_f64], turn in -0.02..0.02_f64,
        stretch in [-0.01..0.01_f64, -0.01..0.01_f64],
    ) {
        let [even, x] = [stretch[0]; 2];
        let layouts: [(&[Point], Point, &[&str]); 6] = [
            (&[[10.0, 20.0]], [0.0, 0.0], &["shift_x", "shift_y"]),
            (&[[0.0, 0.0], [300.0, 0.0]], [even, even], &["turn", "stretch_fraction"]),
            (&[[0.0, 0.0], [300.0, 400.0]], [even, even], &["turn", "stretch_fraction"]),
            (&[[0.0, 5.0], [100.0, 5.0], [300.0, 5.0]], [x, 0.0], &["turn", "stretch_x_fraction"]),
            (&[[5.0, 0.0], [5.0, 100.0], [5.0, 300.0]], [0.0, stretch[1]], &["turn", "stretch_y_fraction"]),
            (&CORNERS, stretch, &["turn", "stretch_x_fraction", "stretch_y_fraction"]),
        ];
        for (marks, stretch, tells) in layouts {
            // One mark stands for the whole print.
            let turn = if marks.len() == 1 { 0.0 } else { turn };
            let print = placed(marks, pivot, shift, turn, stretch);
            let answer = ask("register.marks", one(marks, &[print.clone(), print], Some(pivot)));
            let colour = &answer["colours"][0];
            for name in ["turn", "stretch_fraction", "stretch_x_fraction", "stretch_y_fraction"] {
                prop_assert_eq!(colour.get(name).is_some(), tells.contains(&name), "{}", name);
            }
            let number = |name: &str| colour[name].get("value").unwrap_or(&colour[name]).as_f64().unwrap();
            near(number("shift_x"), shift[0], 1e-9, colour);
            near(number("shift_y"), shift[1], 1e-9, colour);
            for name in tells {
                let wanted = match *name {
                    "turn" => turn.to_degrees(),
                    "stretch_y_fraction" => stretch[1],
                    "shift_x" | "shift_y" => continue,
                    _ => stretch[0],
                };
                near(number(name), wanted, 1e-11, (name, colour));
                near(number(&format!("{name}_error")), 0.0, 1e-15, (name, colour));
            }
        }
    }

    /// What moves all offsets alike changes the shift and the move by as much, and nothing else.
    #[test]
    fn a_shift_of_all_is_a_shift((marks, prints, pivot) in read(), by in [-1.0..1.0_f64, -1.0..1.0_f64]) {
        let moved: Vec<Vec<Point>> =
            prints.iter().map(|print| print.iter().map(|[x, y]| [x + by[0], y + by[1]]).collect()).collect();
        let [before, after] = [&prints, &moved].map(|prints| ask("register.marks", one(&marks, prints, Some(pivot))));
        alike(&numbers(&before, REST), &numbers(&after, REST));
        let [before, after] = [before, after].map(|answer| numbers(&answer, &SHIFTS[..4]));
        let expected = [before[0] + by[0], before[1] + by[1], before[2] - by[0], before[3] - by[1]];
        alike(&expected, &after);
    }

    /// The order of prints is nothing, nor is that of marks.
    #[test]
    fn order_is_nothing((marks, prints, pivot) in read()) {
        let turned: Vec<Vec<Point>> = prints.iter().rev().map(|print| print.iter().rev().copied().collect()).collect();
        let backwards: Vec<Point> = marks.iter().rev().copied().collect();
        let before = ask("register.marks", one(&marks, &prints, Some(pivot)));
        let after = ask("register.marks", one(&backwards, &turned, Some(pivot)));
        for fields in [REST, SHIFTS] {
            alike(&numbers(&before, fields), &numbers(&after, fields));
        }
        prop_assert_eq!(&before["colours"][0]["moved_by"], &after["colours"][0]["moved_by"]);
    }

    /// Prints of a screen that was moved and then turned as told ask for no further move, and as many of them are within the trap as told.
    #[test]
    fn doing_as_told_leaves_nothing_to_do((marks, prints, pivot) in read()) {
        let answer = ask("register.marks", one(&marks, &prints, Some(pivot)));
        let told = numbers(&answer, &["move_x", "move_y", "turn_by"]);
        let (sine, cosine) = told[2].to_radians().sin_cos();
        let adjusted: Vec<Vec<Point>> = prints.iter().map(|print| {
            let at = |([x, y], [dx, dy]): (&Point, &Point)| {
                let (px, py) = (x + dx + told[0] - pivot[0], y + dy + told[1] - pivot[1]);
                [pivot[0] + cosine * px - sine * py - x, pivot[1] + sine * px + cosine * py - y]
            };
            marks.iter().zip(print).map(at).collect()
        }).collect();
        let after = ask("register.marks", one(&marks, &adjusted, Some(pivot)));
        for left in numbers(&after, &["move_x", "move_y", "turn_by"]) {
            // A billionth of the offsets that were read.
            near(left, 0.0, 5e-10, &after);
        }
        // The spread was turned with the print, by a thousandth or so, and the mean of so few prints is off by as much as before.
        if let ([told], [got]) = (&numbers(&answer, &["within_trap_adjusted"])[..], &numbers(&after, &["within_trap_adjusted"])[..]) {
            near(*got, *told, 0.02, (&prints, &marks));
        }
    }

    /// Chances are chances, and a wider trap holds no fewer prints.
    #[test]
    fn a_wider_trap_holds_no_fewer((marks, prints, pivot) in read(), trap in 0.0..2.0_f64, wider in 0.0..1.0_f64) {
        let within = |trap: f64| {
            let mut request = one(&marks, &prints, Some(pivot));
            request["trap"] = quantity(trap, "mm");
            let answer = calculate("register.marks", &request).expect("an answer");
            numbers(&answer, &["within_trap_now", "within_trap_adjusted"])
        };
        for (narrow, wide) in within(trap).iter().zip(within(trap + wider)) {
            prop_assert!((0.0..=1.0).contains(narrow) && wide <= 1.0 && wide >= narrow - 1e-9, "{} {}", narrow, wide);
        }
    }
}
