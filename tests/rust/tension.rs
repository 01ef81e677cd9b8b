//! Tension: facts of the trade, sets of screens in any order, and the triangles of off-contact by other ways round.

use floodbar::mesh::Mesh;
use floodbar::quantity::{Dimensioned, Length, units};
use floodbar::tension::{Frame, growth, print_growth, readings, stretch, stretch_across, target, target_range};
use floodbar::{Code, calculate};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{ask, at, noted};
use floodbar_tests::published::{number, table};
use proptest::prelude::*;
use serde_json::{Value, json};

fn mm(value: f64) -> Length {
    units::MM.of(value)
}

fn set(screens: &[Vec<f64>]) -> Value {
    let screen = |(index, readings): (usize, &Vec<f64>)| {
        let readings: Vec<_> = readings.iter().map(|r| json!({ "value": r, "unit": "N/cm" })).collect();
        json!({ "name": format!("screen {index}"), "readings": readings })
    };
    json!({ "screens": screens.iter().enumerate().map(screen).collect::<Vec<_>>() })
}

fn frame(span: f64, gap: f64) -> Value {
    json!({ "span_length": { "value": span, "unit": "mm" }, "span_width": "450 mm", "gap": { "value": gap, "unit": "mm" } })
}

/// Of three screens in even steps neither outer one stands out; of a dozen that all differ the first five are named.
#[test]
fn those_out_of_a_set_are_named() {
    let said = |means: &[f64], code: &str| {
        let answer = ask("tension.assess", set(&means.iter().map(|mean| vec![*mean]).collect::<Vec<_>>()));
        let note = answer["notes"].as_array().unwrap().iter().find(|note| note["code"] == code).cloned();
        note.unwrap_or_else(|| panic!("{code}: {answer}"))["message"].as_str().unwrap().to_owned()
    };
    let steps = said(&[20.0, 25.0, 30.0], "out_of_set");
    assert!(steps.starts_with("screen 0, screen 2: "), "{steps}");
    let dozen: Vec<f64> = (0..12).map(|step| 10.0 + 2.0 * f64::from(step)).collect();
    let few = said(&dozen, "few_readings");
    assert!(few.starts_with("screen 0, screen 1, screen 2, screen 3, screen 4 and 7 more: "), "{few}");
}

/// Of means that are evenly apart none stands out, though their tenths are not exact in binary.
#[test]
fn none_of_an_even_set_stands_out() {
    for step in 1..40_u32 {
        let means: Vec<Vec<f64>> = (0..3).map(|index| vec![f64::from(201 + index * step) / 10.0; 9]).collect();
        let answer = ask("tension.assess", set(&means));
        assert!(answer.get("odd_one").is_none(), "{means:?}: {}", answer["odd_one"]);
    }
}

/// Arithmetic that the trade passes on, rounded: what half a metre of mesh gains over a blade in its middle.
#[test]
fn half_a_metre_of_mesh() {
    for (gap, gains, within) in [(1.5, 0.009, 0.0005), (3.0, 0.036, 0.0005), (4.8, 0.09, 0.005), (6.0, 0.14, 0.005)] {
        let answer = ask("tension.off_contact", frame(500.0, gap));
        let got = at(&answer, "/image_growth/value");
        assert!((got - gains).abs() <= within, "{gap} mm: {got} is not {gains}");
        // The same by the small-angle formula, good to the square of gap over half span.
        let small = gap * gap / 2.0 * (2.0 / 250.0);
        assert!((got / small - 1.0).abs() < (gap / 250.0).powi(2), "{gap} mm: {got} {small}");
    }
}

/// Common practice, no source: near the ends of the image the mesh is stretched half as much again as in the middle.
#[test]
fn half_as_much_again_near_the_ends() {
    let mut request = frame(500.0, 3.0);
    // A blade that ends its stroke 10 to 11 cm from the frame: 500^2 / (4 x 105 x 395) = 1.507.
    request["blade_at"] = json!("105 mm");
    let answer = ask("tension.off_contact", &request);
    let ratio = at(&answer, "/at_blade/stretch_fraction") / at(&answer, "/stretch_fraction");
    assert!((1.4..1.6).contains(&ratio), "{ratio}");
}

/// Common practice, no source: gaps of garment presses, 1/16 to 1/8 in on frames of 20 in, part colours by hundredths of a
/// millimetre, not by the tenths of a good register (0.2 to 0.5 mm, from memory); and a gap that is doubled quadruples it.
#[test]
fn usual_gaps_do_not_spoil_a_good_register() {
    let grows = |gap: &str| {
        let request = json!({ "span_length": "20 in", "span_width": "18 in", "gap": gap, "image_length": "14 in" });
        at(&ask("tension.off_contact", &request), "/print_growth_along/value")
    };
    let (low, high) = (grows("1/16 in"), grows("1/8 in"));
    assert!(low > 0.01 && high / 2.0 < 0.1, "{low} {high}");
    assert!((high / low - 4.0).abs() < 0.01, "{low} {high}");
    assert!(grows("3/16 in") > 0.2);
}

/// Trade journals, unbranded: the tensions of groups of counts, with the threads that go with them. They step, so no rule fits them
/// all; how far off this one is, its description says.
#[test]
fn targets_by_mesh() {
    let rows = table("screen_tension_published");
    let published = |counts: &str| {
        let row = rows.iter().find(|row| row["threads_per_cm"] == counts && !row["tension_N_cm"].contains("tried"));
        let ends: Vec<f64> = row.unwrap()["tension_N_cm"].split('-').map(|end| end.parse().unwrap()).collect();
        (ends[0], *ends.last().unwrap())
    };
    // How far below or above its group, in per cent.
    let meshes = [
        ("43-80", "43-55", 6.0),
        ("55-64", "43-55", 21.0),
        ("62-64", "62-90", 12.0),
        ("77-55", "62-90", 6.0),
        ("90-48", "62-90", 0.0),
        ("100-40", "100-120", 0.0),
        ("110-40", "100-120", 6.0),
        ("120-34", "100-120", 6.0),
        ("120-40", "100-120", 16.0),
        ("150-34", "150 (380/in)", 6.0),
    ];
    let mut squares = 0.0;
    for (mesh, counts, percent) in meshes {
        let (low, high) = published(counts);
        let got = newtons(mesh, None);
        let off = (low - got).max(got - high).max(0.0) / if got < low { low } else { high };
        assert!(off <= percent / 100.0, "{mesh}: {got} is not {low} to {high}");
        squares += (2.0 * got / (low + high)).ln().powi(2);
    }
    let average = (squares / meshes.len() as f64).sqrt();
    assert!(average < 0.13, "{average}");
    // Another magazine: 34 um thread holds 3 to 4 N/cm more than 31 um at 150 /cm.
    let more = newtons("150-34", None) - newtons("150-31", None);
    assert!((3.0..=4.0).contains(&more), "{more}");
}

/// The strength of the threads, computed elsewhere for tenacities of a table of fibres; ours differ by what drawing adds smoothly.
#[test]
fn targets_are_a_share_of_the_strength() {
    let fibres = table("pet_monofilament_tensile");
    let tenacity =
        |material: &str| number(fibres.iter().find(|row| row["material"] == material).unwrap(), "tenacity_N_tex");
    let (medium, high) = (tenacity("polyester, medium tenacity"), tenacity("polyester, high tenacity"));
    let (least, most) = (tenacity("screen monofilament, lower end"), tenacity("screen monofilament, upper end"));
    for row in table("screen_tension_formula_computed") {
        let mesh = format!("{}-{}", row["threads_per_cm"], row["thread_um"]);
        let got = newtons(&mesh, None);
        // The share that is published is 0.21 to 0.33 of the strength with these threads; coarse meshes end at the frame.
        let share = got / number(&row, "strength_N_cm");
        assert!((0.21..=0.33).contains(&share) || got == 40.0, "{mesh}: {share}");
        let tex = number(&row, "tex") * number(&row, "threads_per_cm");
        let ours = got / 0.23 / tex;
        assert!((least..=most).contains(&ours) || got == 40.0, "{mesh}: {ours}");
        if number(&row, "thread_um") < 100.0 {
            assert!((medium..=high).contains(&ours), "{mesh}: {ours}");
            assert!((ours / number(&row, "tenacity_N_tex") - 1.0).abs() < 0.13, "{mesh}: {ours}");
        }
    }
}

/// Common practice, no source: wood holds 7-12 N/cm, glued metal 15-25, roller frames 30-40.
#[test]
fn a_frame_holds_so_much() {
    for (frame, most) in [(Frame::Wood, 12.0), (Frame::GluedMetal, 25.0), (Frame::Retensionable, 40.0)] {
        for mesh in ["10-260", "43-80", "77-55", "120-34", "150-31"] {
            assert_eq!(newtons(mesh, Some(frame)), newtons(mesh, None).min(most), "{mesh}");
        }
    }
    // One thread more is no step.
    for (fewer, more) in [("58-64", "59-64"), ("77-48", "78-48"), ("95-48", "96-48")] {
        assert!((newtons(more, None) / newtons(fewer, None) - 1.0).abs() < 0.02, "{more}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(200, 5000)))]

    /// In proportion to the count and, at most, to the square of the thread, up to what the frame holds.
    #[test]
    fn targets_have_no_step(count in 5.0..200.0_f64, share in 0.05..0.7_f64, more in 1.0..1.05_f64) {
        let thread = 1e4 / count * share;
        let of = |count: f64, thread: f64| {
            let mesh = Mesh::new(units::PER_CM.of(count), units::UM.of(thread)).unwrap();
            units::N_PER_CM.value(target(&mesh, None))
        };
        let here = of(count, thread);
        let (finer, thicker) = (of(count * more, thread) / here, of(count, thread * more) / here);
        prop_assert!((1.0 - 1e-12..=more * (1.0 + 1e-12)).contains(&finer), "{}", finer);
        prop_assert!((1.0 - 1e-12..=more * more * (1.0 + 1e-12)).contains(&thicker), "{}", thicker);
        prop_assert!(here <= 40.0);
        if of(count * more, thread * more) < 40.0 && more > 1.0 {
            prop_assert!((finer / more - 1.0).abs() < 1e-12 && thicker > 1.0);
        }
    }
}

/// The target of a mesh, N/cm, as the screens of a set are held against it and as it is typed.
fn newtons(mesh: &str, frame: Option<Frame>) -> f64 {
    let value = units::N_PER_CM.value(target(&mesh.parse().unwrap(), frame));
    let (low, high) = target_range(&mesh.parse().unwrap(), frame);
    assert!(low < high && units::N_PER_CM.value(low) <= value && value <= units::N_PER_CM.value(high), "{mesh}");
    value
}

#[test]
fn screens_are_held_against_their_targets() {
    for mesh in ["43-80", "77-55", "156 tpi"] {
        let screen = json!({ "screens": [{ "name": "a", "mesh": mesh, "readings": ["25 N/cm"] }] });
        let answer = ask("tension.assess", &screen);
        let (low, high) = target_range(&mesh.parse().unwrap(), None);
        assert_eq!(at(&answer, "/per_screen/0/target_low/value"), units::N_PER_CM.value(low), "{mesh}");
        assert_eq!(at(&answer, "/per_screen/0/target_high/value"), units::N_PER_CM.value(high), "{mesh}");
    }
}

/// Common practice, no source: act below 20 N/cm, scrap below 18, moire on roller frames above 27.
#[test]
fn floors_and_ceilings() {
    for (mean, code) in [(17.9, "below_scrap"), (18.0, "below_act"), (19.9, "below_act"), (27.1, "moire_on_rollers")] {
        let answer = ask("tension.assess", set(&[vec![mean; 9]]));
        assert!(noted(&answer, code), "{mean}: {answer}");
        assert_eq!(noted(&answer, "below_scrap"), mean < 18.0);
        assert!(!noted(&answer, "few_readings") && answer["verdict"] == "matched");
    }
    for mean in [20.0, 27.0] {
        let answer = ask("tension.assess", set(&[vec![mean; 9]]));
        assert!(["below_scrap", "below_act", "moire_on_rollers"].iter().all(|code| !noted(&answer, code)), "{answer}");
    }
    // Nine tenths of a fresh 20 N/cm, as it is the next morning, is about where it is scrapped.
    assert!(noted(&ask("tension.assess", set(&[vec![20.0 * 0.89; 9]])), "below_scrap"));
}

#[test]
fn targets_too_far_apart_for_one_set() {
    let of = |meshes: [&str; 2]| {
        let screens = meshes.map(|mesh| json!({ "name": mesh, "mesh": mesh, "readings": ["25 N/cm"] }));
        noted(&ask("tension.assess", json!({ "screens": screens })), "targets_differ")
    };
    assert!(of(["43-80", "120-34"]));
    assert!(!of(["77-55", "90-48"]));
}

/// Where the blade stands when it prints a mark at `mark` from the edge, by halving the share la / (la + lb) itself.
fn printed_at(span: f64, gap: f64, mark: f64) -> f64 {
    let share = |x: f64| {
        let (la, lb) = (x.hypot(gap), (span - x).hypot(gap));
        la / (la + lb)
    };
    let (mut low, mut high) = (0.0, span);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if share(middle) * span < mark { low = middle } else { high = middle }
    }
    low
}

fn screens() -> impl Strategy<Value = Vec<Vec<f64>>> {
    // Near each other, so that every verdict comes up.
    let screen = (20.0..27.0_f64, prop::collection::vec(-2.0..2.0_f64, 1..10));
    prop::collection::vec(screen.prop_map(|(mean, off)| off.iter().map(|o| mean + o).collect()), 1..6)
}

/// Multiples of 1/64 N/cm, whose sums and differences in N/m do not round.
fn exact_screens() -> impl Strategy<Value = Vec<Vec<f64>>> {
    let reading = (640..2560_u32).prop_map(|n| f64::from(n) / 64.0);
    prop::collection::vec(prop::collection::vec(reading, 1..10), 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(300, 3000), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_set_is_matched_by_the_rule(screens in screens()) {
        let answer = ask("tension.assess", set(&screens));
        let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
        let means: Vec<f64> = screens.iter().map(|s| mean(s)).collect();
        let all = mean(&means);
        let off = |of: &[f64], from: f64| of.iter().map(|v| (v - from).abs()).fold(0.0, f64::max);
        let worst = screens.iter().zip(&means).map(|(s, m)| off(s, *m)).fold(0.0, f64::max);
        let apart = off(&means, all);
        // On a limit either may round.
        prop_assume!((worst - 1.5).abs() > 1e-9 && (apart - 2.0).abs() > 1e-9);
        prop_assert_eq!(answer["verdict"] == "matched", worst < 1.5 && apart < 2.0, "{:?}", &answer);
        let spread = means.iter().copied().fold(f64::MIN, f64::max) - means.iter().copied().fold(f64::MAX, f64::min);
        prop_assert!((at(&answer, "/set_spread/value") - spread).abs() < 1e-9);
        for (index, m) in means.iter().enumerate() {
            let got = at(&answer, &format!("/per_screen/{index}/mean/value"));
            prop_assert!((got - m).abs() < 1e-9);
        }
    }

    #[test]
    fn no_order_counts(screens in screens(), seed in any::<prop::sample::Index>()) {
        let answer = ask("tension.assess", set(&screens));
        let turned: Vec<Vec<f64>> = screens.iter().map(|s| {
            let mut s = s.clone();
            let by = seed.index(s.len());
            s.rotate_left(by);
            if by % 2 == 1 { s.reverse() }
            s
        }).collect();
        // The readings of each screen in another order: the same answer to the last bit.
        prop_assert_eq!(&answer, &ask("tension.assess", set(&turned)));
        // The screens in another order: the same set.
        let mut other = screens.clone();
        other.reverse();
        let other = ask("tension.assess", set(&other));
        for name in ["verdict", "set_mean", "set_spread", "set_spread_without"] {
            prop_assert_eq!(&answer[name], &other[name], "{}", name);
        }
        prop_assert_eq!(answer["odd_one"].is_string(), other["odd_one"].is_string());
    }

    #[test]
    fn tightening_all_alike_spreads_nothing(screens in exact_screens(), more in 0..640_u32) {
        let tighter: Vec<Vec<f64>> = screens.iter().map(|s| s.iter().map(|r| r + f64::from(more) / 64.0).collect()).collect();
        let (before, after) = (ask("tension.assess", set(&screens)), ask("tension.assess", set(&tighter)));
        for index in 0..screens.len() {
            let pointer = format!("/per_screen/{index}/spread/value");
            prop_assert_eq!(at(&before, &pointer), at(&after, &pointer));
        }
        prop_assert!((at(&before, "/set_spread/value") - at(&after, "/set_spread/value")).abs() < 1e-10);
        prop_assert_eq!(before["verdict"] == "matched", after["verdict"] == "matched");
    }

    #[test]
    fn without_the_odd_one_the_set_spreads_less(screens in exact_screens()) {
        let answer = ask("tension.assess", set(&screens));
        let spread = |without: usize| {
            let rest: Vec<_> = screens.iter().enumerate().filter(|(index, _)| *index != without).map(|(_, s)| s.clone()).collect();
            at(&ask("tension.assess", set(&rest)), "/set_spread/value")
        };
        let Some(odd) = answer["odd_one"].as_str() else {
            prop_assert!(answer.get("set_spread_without").is_none());
            return Ok(());
        };
        let odd: usize = odd.trim_start_matches("screen ").parse().unwrap();
        prop_assert!(screens.len() > 2);
        let left = spread(odd);
        prop_assert!(left <= at(&answer, "/set_spread/value"));
        prop_assert!((left - at(&answer, "/set_spread_without/value")).abs() < 1e-10);
        for other in (0..screens.len()).filter(|other| *other != odd) {
            prop_assert!(left < spread(other) + 1e-10, "{} leaves less than {}", other, odd);
        }
    }

    #[test]
    fn equal_readings_are_their_own_mean(reading in 0.0..200.0_f64, count in 1..40_usize) {
        let reading = units::N_PER_CM.of(reading);
        let all = readings(&vec![reading; count]).unwrap();
        prop_assert_eq!((all.mean, all.least, all.most), (reading, reading, reading));
    }

    #[test]
    fn triples_are_exact(m in 2..60_u32, n in any::<prop::sample::Index>(), k in any::<prop::sample::Index>(), scale in 0.01..3.0_f64) {
        let [n, k] = [n, k].map(|below| 1 + below.index(m as usize - 1) as u32);
        // With legs m^2 - n^2 and 2 m n the hypotenuse is m^2 + n^2; two of them on one gap: scale each to the other's gap.
        let [m, n, k] = [m, n, k].map(f64::from);
        let (ga, gb) = (2.0 * m * n, 2.0 * m * k);
        let (a, la) = ((m * m - n * n) * gb, (m * m + n * n) * gb);
        let (b, lb) = ((m * m - k * k) * ga, (m * m + k * k) * ga);
        // All whole numbers below 2^53, so this difference is exact.
        let wanted = (la + lb - a - b) / (a + b);
        let got = stretch(mm(a * scale), mm(b * scale), mm(ga * gb * scale));
        prop_assert!((got / wanted - 1.0).abs() < 1e-14, "{} {}", got, wanted);
        let blade = stretch_across(mm((2.0 * a + lb) * scale), mm(lb * scale), mm(ga * gb * scale));
        // Span less blade rounds, which counts where the triangle is small against the blade.
        prop_assert!((blade * (2.0 * a + lb) / (2.0 * (la - a)) - 1.0).abs() < 1e-12, "{}", blade);
    }

    #[test]
    fn marks_print_where_the_mesh_lies_under_the_blade(span in 100.0..2000.0_f64, gap in 0.5..20.0_f64, share in 0.05..0.8_f64, at_share in 0.05..0.95_f64) {
        let image = span * share;
        prop_assume!((span - image).powi(2) > 4.5 * gap * gap * share);
        let (from, to) = ((span - image) / 2.0, (span + image) / 2.0);
        let wanted = printed_at(span, gap, to) - printed_at(span, gap, from) - image;
        let got = units::MM.value(growth(mm(span), mm(gap), mm(from), mm(to)).unwrap());
        // Theirs is a difference of lengths of the size of the span.
        prop_assert!((got - wanted).abs() < 1e-12 * span, "{} {}", got, wanted);
        let whole = print_growth(mm(span), mm(gap), mm(image)).unwrap() * image;
        prop_assert!((got - whole).abs() < 1e-12 * span);
        // Twice the mesh's own stretch, and more.
        let middle = stretch(mm(span / 2.0), mm(span / 2.0), mm(gap));
        prop_assert!(whole > 2.0 * middle * image);
        // A blade anywhere: what it prints stands where the calculation says.
        let blade = span * at_share;
        let mut request = frame(span, gap);
        request["blade_at"] = json!({ "value": blade, "unit": "mm" });
        let answer = ask("tension.off_contact", &request);
        let (la, lb) = (blade.hypot(gap), (span - blade).hypot(gap));
        let stands = span * la / (la + lb);
        let out = (blade - span / 2.0).abs() - (stands - span / 2.0).abs();
        prop_assert!((at(&answer, "/at_blade/print_shift/value") - out).abs() < 1e-12 * span);
    }

    #[test]
    fn gaps_stretch_and_spans_ease(span in 100.0..2000.0_f64, gap in 0.0..20.0_f64, share in 0.05..0.7_f64, more in 1.001..2.0_f64, times in 0.5..2.0_f64, blade in 0.02..0.98_f64) {
        let (a, b) = (mm(span * blade), mm(span * (1.0 - blade)));
        let (image, wider) = (mm(span * share), (gap + 0.1) * more);
        let stretched = stretch(a, b, mm(gap));
        prop_assert!(stretch(a, b, mm(wider)) > stretched);
        prop_assert_eq!(stretched, stretch(b, a, mm(gap)));
        prop_assert!(stretched >= stretch((a + b) / 2.0, (a + b) / 2.0, mm(gap)) * (1.0 - 1e-14));
        prop_assert_eq!(stretched > 0.0, gap > 0.0);
        let grows = |times: f64, gap: f64| print_growth(mm(span * times), mm(gap * times), image * times);
        if let (Some(one), Some(scaled)) = (grows(1.0, gap), grows(times, gap)) {
            prop_assert!((one - scaled).abs() <= 1e-13 * one);
            prop_assert!(grows(1.0, wider).is_none_or(|more| more > one));
        }
        let peel = |span: f64| at(&ask("tension.off_contact", frame(span, gap)), "/peel_angle/value");
        prop_assert!(peel(span) >= peel(span * more) && (gap == 0.0 || peel(span) > peel(span * more)));
    }

    #[test]
    fn an_image_prints_until_its_ends_are_out_of_reach(span in 100.0..2000.0_f64, gap in 1.0..60.0_f64, share in 0.05..0.999_f64) {
        let image = span * share;
        let mut request = frame(span, gap);
        request["image_length"] = json!({ "value": image, "unit": "mm" });
        let reach = (span - image).powi(2) / (4.0 * gap * gap * share);
        prop_assume!((reach - 1.0).abs() > 1e-9);
        match calculate("tension.off_contact", &request) {
            Ok(answer) => {
                prop_assert!(reach > 1.0);
                let print = image + at(&answer, "/print_growth_along/value");
                prop_assert!(print < span, "a print of {} in a frame of {}", print, span);
            }
            Err(error) => prop_assert!(reach < 1.0 && error.code == Code::Impossible && error.field == "/gap", "{}", error),
        }
    }
}

#[test]
fn two_prints_part_by_half_the_difference_at_each_end() {
    let mut request = frame(500.0, 3.0);
    request["image_length"] = json!("380 mm");
    request["image_width"] = json!("320 mm");
    request["compare"] = json!({ "gap": "3 mm" });
    let same = ask("tension.off_contact", &request);
    assert_eq!(
        (at(&same, "/compared/half_width_along/value"), at(&same, "/compared/half_width_across/value")),
        (0.0, 0.0)
    );
    request["compare"] = json!({ "gap": "4.8 mm" });
    let other = ask("tension.off_contact", &request);
    request["gap"] = json!("4.8 mm");
    let swapped = ask("tension.off_contact", &request);
    for axis in ["along", "across"] {
        let grown = |answer: &Value| at(answer, &format!("/print_growth_{axis}/value"));
        let half = at(&other, &format!("/compared/half_width_{axis}/value"));
        assert!((half - (grown(&swapped) - grown(&other)) / 2.0).abs() < 1e-15, "{axis}: {half}");
    }
    assert!(noted(&other, "for_register") && noted(&other, "pinch_points") && noted(&swapped, "growth_shows"));
    // Back to the same place by the plain function.
    let ends = growth(mm(500.0), mm(4.8), mm(60.0), mm(440.0)).unwrap();
    assert!((units::MM.value(ends) - at(&swapped, "/print_growth_along/value")).abs() < 1e-13);
    assert_eq!(growth(mm(500.0), mm(4.8), mm(440.0), mm(60.0)), Some(ends));
    assert_eq!(growth(mm(500.0), mm(50.0), mm(40.0), mm(440.0)), None);
    assert!(growth(mm(500.0), mm(0.0), mm(40.0), mm(440.0)).unwrap().si() == 0.0);
}
