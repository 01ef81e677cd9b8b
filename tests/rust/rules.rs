//! Prints that cannot work, or often fail: each rule of `job.plan` broken by one order and kept by its neighbour. All are common practice,
//! no source, but for what physics says.

use floodbar::calculate;
use floodbar_tests::compare::with;
use serde_json::{Value, json};

/// One screen of white on a dark cotton shirt, flashed, with a colour on it.
fn order() -> Value {
    json!({
        "pieces": 48, "cloth": { "from": "cotton-jersey-180-dark", "dischargeable": true },
        "shop": { "from": "starter-shop", "stencil_resists": "both" },
        "placements": [{ "name": "front", "width": "300 mm", "height": "340 mm", "screens": [
            { "name": "base", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.3, "flash": true },
            { "name": "red", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.1 }] }],
    })
}

fn set(order: &Value, pointer: &str, value: &Value) -> Value {
    with(order, pointer, value.clone())
}

/// The level and field of a note, if the plan has it.
fn said(order: &Value, code: &str) -> Option<(String, String)> {
    let plan = calculate("job.plan", order).unwrap_or_else(|error| panic!("{order}: {error}"));
    let notes = plan["notes"].as_array().unwrap();
    let note = notes.iter().find(|note| note["code"] == code)?;
    Some((note["level"].as_str().unwrap().into(), note["field"].as_str().unwrap().into()))
}

#[test]
fn each_rule_is_broken_by_one_order_and_kept_by_its_neighbour() {
    const SCREEN: &str = "/placements/0/screens/0";
    let base = |ink: &str| set(&order(), &format!("{SCREEN}/ink"), &ink.into());
    let one = |ink: &str, cloth: Value| {
        let order = set(&order(), "/cloth", &cloth);
        let screen = json!({ "name": "a", "ink": ink, "mesh": "77-48", "coverage_fraction": 0.2 });
        set(&order, "/placements/0/screens", &json!([screen]))
    };
    let dark = |changes: Value| {
        let mut cloth = json!({ "from": "cotton-jersey-180-dark" });
        cloth.as_object_mut().unwrap().extend(changes.as_object().unwrap().clone());
        cloth
    };
    let light: Value = "cotton-jersey-180".into();
    let cool = |order: Value| set(&order, "/shop/dryer", &json!({ "from": "air-dryer-2m", "air": "150 degC" }));
    let nylon = |changes: Value| {
        let order = cool(one("plastisol-low-cure", "nylon-shell-90".into()));
        let mut ink = json!({ "from": "plastisol-low-cure" });
        ink.as_object_mut().unwrap().extend(changes.as_object().unwrap().clone());
        set(&order, "/placements/0/screens/0/ink", &ink)
    };
    let bonding = json!({ "additives": [{ "name": "stuff", "fraction": 0.08, "role": "bonding" }] });
    let named = json!({ "additives": [{ "name": "bonding agent", "fraction": 0.08 }] });
    let wide = |width: &str| set(&order(), "/placements/0/width", &width.into());
    let frame = |width: &str| set(&order(), "/shop/frame_inside", &json!({ "width": width, "length": "800 mm" }));
    let tiny = set(&set(&order(), "/placements/0/width", &"10 mm".into()), "/placements/0/height", &"12 mm".into());
    let resists = |what: &str| set(&one("water-based", light.clone()), "/shop/stencil_resists", &what.into());
    // The code, its level, an order that breaks it and where, and one that keeps it.
    let cases = [
        (
            "transparent_on_dark",
            "limit",
            one("water-based", dark(json!({}))),
            format!("{SCREEN}/ink"),
            one("water-based", light.clone()),
        ),
        (
            "transparent_on_dark",
            "limit",
            one("water-based", dark(json!({}))),
            format!("{SCREEN}/ink"),
            one("discharge", dark(json!({ "dischargeable": true }))),
        ),
        (
            "thin_on_dark",
            "caution",
            set(&base("water-based-high-solids"), &format!("{SCREEN}/mesh"), &"120-34".into()),
            format!("{SCREEN}/mesh"),
            base("water-based-high-solids"),
        ),
        (
            "shows_through",
            "caution",
            set(&order(), &format!("{SCREEN}/mesh"), &"120-34".into()),
            format!("{SCREEN}/mesh"),
            order(),
        ),
        (
            "shows_through",
            "caution",
            set(&order(), &format!("{SCREEN}/mesh"), &"120-34".into()),
            format!("{SCREEN}/mesh"),
            set(&set(&order(), &format!("{SCREEN}/mesh"), &"120-34".into()), "/cloth", &light),
        ),
        (
            "nothing_to_discharge",
            "caution",
            one("discharge", light.clone()),
            "/cloth".into(),
            one("discharge", dark(json!({ "dischargeable": true }))),
        ),
        (
            "does_not_discharge",
            "limit",
            one("discharge", dark(json!({ "dischargeable": false }))),
            "/cloth".into(),
            one("discharge", dark(json!({ "dischargeable": true }))),
        ),
        (
            "does_not_discharge",
            "limit",
            one("discharge", dark(json!({ "fibres": { "polyester_fraction": 1 } }))),
            "/cloth".into(),
            one("water-based", dark(json!({ "fibres": { "polyester_fraction": 1 } }))),
        ),
        (
            "discharges_unevenly",
            "caution",
            one(
                "discharge",
                dark(json!({ "dischargeable": true, "fibres": { "cotton_fraction": 0.5, "polyester_fraction": 0.5 } })),
            ),
            "/cloth".into(),
            one("discharge", dark(json!({ "dischargeable": true }))),
        ),
        ("no_bond_on_nylon", "limit", nylon(json!({})), format!("{SCREEN}/ink"), nylon(bonding.clone())),
        ("no_bond_on_nylon", "limit", nylon(named), format!("{SCREEN}/ink"), nylon(bonding)),
        ("stencil_dissolves", "limit", resists("solvent"), "/shop/stencil_resists".into(), resists("water")),
        ("larger_than_platen", "limit", wide("401 mm"), "/placements/0".into(), wide("399 mm")),
        ("larger_than_frame", "limit", frame("320 mm"), "/shop/frame_inside".into(), frame("460 mm")),
        ("tiny_print", "caution", tiny, "/placements/0".into(), order()),
        (
            "base_not_flashed",
            "caution",
            set(&order(), &format!("{SCREEN}/flash"), &false.into()),
            "/placements/0/screens".into(),
            base("discharge"),
        ),
    ];
    for (code, level, broken, field, kept) in cases {
        assert_eq!(said(&broken, code), Some((level.into(), field)), "{code}: {broken}");
        assert_eq!(said(&kept, code), None, "{code}: {kept}");
    }
}

/// What is not known is not judged, and is said.
#[test]
fn a_rule_without_its_member_is_silent_and_says_so() {
    let order = json!({
        "pieces": 48, "cloth": "cotton-jersey-180-dark",
        "placements": [{ "name": "front", "width": "300 mm", "height": "340 mm", "screens": [
            { "name": "a", "ink": "discharge", "mesh": "77-48", "coverage_fraction": 0.2 }] }],
    });
    let plan = calculate("job.plan", &order).unwrap();
    let silent = plan["notes"].as_array().unwrap().iter().find(|note| note["code"] == "rules_silent").unwrap();
    let message = silent["message"].as_str().unwrap();
    assert!(
        message.contains("dischargeable of the cloth") && message.contains("stencil_resists of the shop"),
        "{message}"
    );
    assert_eq!(silent["level"], "info");
}

/// A pot that lasts 6 h: a run that prints for less, but with rest and stops stands for longer, takes two.
#[test]
fn rest_and_stops_count_for_the_pot() {
    let pots = |pieces: u32, efficiency: f64| {
        let order = json!({
            "pieces": pieces, "cloth": "cotton-jersey-180",
            "shop": { "from": "starter-shop", "efficiency_fraction": efficiency, "stencil_resists": "both" },
            "placements": [{ "name": "front", "width": "300 mm", "height": "340 mm", "screens": [
                { "name": "a", "ink": "water-based", "mesh": "77-48", "coverage_fraction": 0.2 }] }],
        });
        let plan = calculate("job.plan", &order).unwrap();
        let hours = plan["hours"]["run"].clone();
        assert_eq!(hours["unit"], "h", "{hours}");
        (plan["screens"][0]["pots"].as_array().unwrap().len(), hours["value"].as_f64().unwrap())
    };
    let (without, hours) = pots(420, 1.0);
    assert!(without == 1 && (5.0..6.0).contains(&hours), "{without} pots in {hours} h");
    let (with, longer) = pots(420, 0.85);
    assert!(with == 2 && longer > 6.0, "{with} pots in {longer} h");
    assert!((longer * 0.85 / hours - 1.0).abs() < 1e-12);
}

/// The hours of an order: two screens of 10 minutes to set up and 3 to clear (the starter shop's), the run between.
#[test]
fn the_hours_add_up() {
    let plan = calculate("job.plan", &order()).unwrap();
    let minutes = |name: &str| floodbar_tests::compare::seconds(&plan, &format!("/hours/{name}")) / 60.0;
    assert_eq!((minutes("setup").round(), minutes("clearing").round()), (20.0, 6.0));
    let run = floodbar_tests::compare::seconds(&plan, "/press/run_time") / 60.0;
    assert!((minutes("total") - 26.0 - run).abs() < 1e-9 && run > 10.0, "{}", plan["hours"]);
}

/// Where the dryer is to blame the plan points to it, and the setting that it names cures the order.
#[test]
fn a_plan_names_the_setting_that_cures_it() {
    let team = |dryer: Value| {
        json!({ "pieces": 36, "cloth": "polyester-jersey-150", "shop": { "from": "starter-shop", "dryer": dryer },
            "placements": [{ "name": "back", "width": "300 mm", "height": "300 mm", "screens": [
                { "name": "white", "ink": "plastisol-low-bleed-white", "mesh": "43-80", "coverage_fraction": 0.3, "flash": true },
                { "name": "gold", "ink": "plastisol-low-cure", "mesh": "62-64", "coverage_fraction": 0.1 }] }] })
    };
    let error = calculate("job.plan", &team("air-dryer-2m".into())).unwrap_err();
    assert_eq!((error.code.text(), error.field.as_str()), ("no_solution", "/shop/dryer"), "{error}");
    let air =
        error.message.split("set the air of every zone to ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap();
    let set = json!({ "from": "air-dryer-2m", "air": format!("{air} degC") });
    let plan = calculate("job.plan", &team(set)).unwrap_or_else(|again| panic!("{error}: {again}"));
    assert!(plan["dryer"]["slowest"]["value"].as_f64() < plan["dryer"]["fastest"]["value"].as_f64());
}

/// What was probably meant is asked back.
#[test]
fn refusals_ask_back() {
    let message = |order: &Value| calculate("job.plan", order).unwrap_err().message;
    let screen = "/placements/0/screens/0";
    let percent = message(&set(&order(), &format!("{screen}/coverage_fraction"), &json!(38)));
    assert!(percent.contains("did you mean `38 %`?"), "{percent}");
    let white = message(&set(&order(), &format!("{screen}/ink"), &"white".into()));
    assert!(white.contains("did you mean `plastisol-white`?"), "{white}");
    let shop = message(&set(&order(), "/shop", &json!({ "dryer": "air-dryer-2m" })));
    assert!(shop.contains("start from a stock shop with `from`"), "{shop}");
}

/// Another hit never lays down less: film and ink grow with the hits, in the deposit and in the order.
#[test]
fn more_hits_never_lay_down_less() {
    let wet = |hits: u32| {
        let screen =
            json!({ "name": "a", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.2, "hits": hits });
        let order = set(&order(), "/placements/0/screens", &json!([screen]));
        let plan = calculate("job.plan", &order).unwrap();
        let read = |pointer: &str| plan.pointer(pointer).unwrap().as_f64().unwrap();
        [
            read("/screens/0/wet_film/value"),
            read("/screens/0/mass_per_print/value"),
            read("/press/runs/0/time_per_piece/value"),
        ]
    };
    let all: Vec<_> = (1..=4).map(wet).collect();
    for pair in all.windows(2) {
        for (less, more) in pair[0].iter().zip(pair[1]) {
            assert!(*less < more, "{all:?}");
        }
    }
}
