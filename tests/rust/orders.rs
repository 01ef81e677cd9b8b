//! Orders with something rare in them: what their plans and quotes come to by hand, or by what each step says alone.

use floodbar::{Error, calculate};
use floodbar_tests::compare::{ask, at, changed, near, relative, seconds};
use serde_json::{Value, json};

const BASE_INK: &str = "/placements/0/screens/0/ink";
const BASE_MESH: &str = "/placements/0/screens/0/mesh";
const INK: &str = "/placements/0/screens/1/ink";
const MESH: &str = "/placements/0/screens/1/mesh";

/// The example of a plan or a quote, with members put in place.
fn order(id: &str, changes: &[(&str, Value)]) -> Value {
    changed(id, changes.iter().map(|(pointer, value)| (*pointer, value)))
}

fn plan(changes: &[(&str, Value)]) -> Value {
    ask("job.plan", order("job.plan", changes))
}

fn quote(changes: &[(&str, Value)]) -> Value {
    ask("job.quote", order("job.quote", changes))
}

fn refused(id: &str, changes: &[(&str, Value)]) -> (String, String, Error) {
    let error = calculate(id, &order(id, changes)).expect_err("refused");
    (error.code.text().to_owned(), error.field.clone(), error)
}

/// What a note says.
fn said(answer: &Value, code: &str, field: &str) -> String {
    let notes = answer["notes"].as_array().expect("notes");
    let note = notes.iter().find(|note| note["code"] == code && note["field"] == field);
    note.unwrap_or_else(|| panic!("{code} at {field} is not in {notes:?}"))["message"]
        .as_str()
        .expect("a text")
        .to_owned()
}

/// The first line of a quote whose name begins so.
fn line<'a>(quote: &'a Value, what: &str) -> &'a Value {
    let lines = quote["cost_lines"].as_array().expect("lines");
    lines.iter().find(|line| line["what"].as_str().expect("a name").starts_with(what)).expect("a line")
}

/// A stock row, as a request may give it.
fn stocked(kind: &str) -> Value {
    ask("stock.list", json!({ "kind": kind }))["kinds"][0]["rows"][0]["values"].clone()
}

#[test]
fn one_colour_in_two_places_is_one_pot() {
    let front = order("job.plan", &[])["placements"][0].clone();
    let mut back = front.clone();
    back["name"] = json!("back");
    for screen in back["screens"].as_array_mut().expect("screens") {
        screen["colour"] = screen["name"].clone();
        screen["name"] = json!(format!("{} on the back", screen["name"].as_str().expect("a name")));
    }
    let plan = plan(&[("/placements", json!([&front, back]))]);
    let totals = plan["ink_totals"].as_array().expect("totals");
    assert_eq!(totals.len(), 2);
    for total in totals {
        let names = total["screens"].as_array().expect("names");
        let screens: Vec<&Value> = plan["screens"]
            .as_array()
            .expect("screens")
            .iter()
            .filter(|screen| names.contains(&screen["name"]))
            .collect();
        assert_eq!((names.len(), screens.len()), (2, 2), "{total}");
        let sum: f64 = screens.iter().map(|screen| at(screen, "/mass_to_mix/value")).sum();
        relative(at(total, "/mass_to_mix/value"), sum, 1e-12, total);
        let density = if total["ink"] == "plastisol" { 1.15 } else { 1.44 };
        relative(at(total, "/volume_to_mix/value"), sum / density, 1e-12, total);
    }
    // Screens of one name in both places are named once.
    let mut back = order("job.plan", &[])["placements"][0].clone();
    back["name"] = json!("back");
    let again = self::plan(&[("/placements", json!([front, back]))]);
    assert_eq!(again["ink_totals"][1]["screens"], json!(["buoy orange"]));
    assert_eq!(again["ink_totals"][1]["mass_to_mix"], totals[1]["mass_to_mix"]);
}

/// White on white lies as one film, wet on dry: what `ink.opacity` says of a film as thick as both.
#[test]
fn two_whites_hide_as_one_film() {
    let base = order("job.plan", &[])["placements"][0]["screens"][0].clone();
    let thin = |name: &str| {
        let mut screen = base.clone();
        (screen["name"], screen["mesh"]) = (json!(name), json!("120-34"));
        screen
    };
    let plan = plan(&[("/placements/0/screens", json!([thin("first"), thin("second")]))]);
    let films = [0, 1].map(|index| at(&plan, &format!("/screens/{index}/dry_film/value")));
    for (index, film) in [films[0], films[0] + films[1]].into_iter().enumerate() {
        let alone = ask(
            "ink.opacity",
            json!({ "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "film": format!("{film} um") }),
        );
        relative(
            at(&plan, &format!("/screens/{index}/hiding/lightness")),
            at(&alone, "/lightness"),
            1e-9,
            &plan["screens"][index],
        );
        // Neither is enough: less is lacking once the first is down.
        said(&plan, "shows_through", &format!("/placements/0/screens/{index}/mesh"));
    }
    // An ink that lets nearly all light by hides with no number of hits that anyone prints.
    let clear = json!({ "from": "plastisol-white", "scattering": "1 /mm", "absorption": "0 /mm" });
    let glass = self::plan(&[(BASE_INK, clear), (BASE_MESH, json!("165-31"))]);
    assert!(said(&glass, "shows_through", BASE_MESH).contains("no number of hits would do"));
}

/// A panel at 120 degC brings no film to 115 degC within a minute.
#[test]
fn a_flash_that_is_too_weak_leaves_its_customary_dwell() {
    let weak = json!({ "from": "panel-flash", "panel": "120 degC" });
    let plan = plan(&[("/shop/flash", weak)]);
    said(&plan, "flash_from_custom", "/placements/0/screens/0");
    for dwell in ["dwell_cold", "dwell_warm"] {
        near(seconds(&plan, &format!("/flash/0/{dwell}")), 6.0, 1e-12, dwell);
    }
}

/// Fleece drinks 8 cm3/m2 before a film lies on it, and but once: of 30 % of 300 by 340 mm 0.245 ml, of an ink of 1.44 g/cm3.
#[test]
fn fleece_drinks_from_the_first_screen() {
    let each = |take: &str| {
        let plan = plan(&[("/cloth", json!({ "from": "cotton-fleece-280", "surface_take": take }))]);
        [0, 1].map(|index| at(&plan, &format!("/screens/{index}/mass_per_print/value")))
    };
    let ([first, second], [on_none, again]) = (each("8 cm3/m2"), each("0 cm3/m2"));
    near(first - on_none, 8.0 * 0.30 * 0.340 * 0.30 * 1.44, 1e-9, "grams");
    near(second, again, 1e-12, "the colour above");
}

/// One ink wants 160 degC through the film, another bears no more on its top: the first holds the belt back, the second drives it on, as
/// `dryer.window` says of each alone.
#[test]
fn inks_that_no_one_belt_speed_cures() {
    let usual = plan(&[]);
    let film: f64 = (0..2).map(|index| at(&usual, &format!("/screens/{index}/wet_film/value"))).sum();
    let tender = json!({ "from": "plastisol", "never_above": "161 degC" });
    for (dryer, word) in [("air-dryer-2m", "air of every zone"), ("infrared-dryer-1m2", "panel")] {
        let end = |ink: &Value, end: &str| {
            let request =
                json!({ "dryer": dryer, "ink": ink, "film": format!("{film} um"), "cloth": "cotton-jersey-180-dark" });
            at(&ask("dryer.window", request), &format!("/{end}/value"))
        };
        let (fastest, slowest) = (end(&json!("plastisol-white"), "fastest"), end(&tender, "slowest"));
        let changes = [("/shop/dryer", json!(dryer)), (INK, tender.clone())];
        let (code, field, error) = refused("job.plan", &changes);
        assert_eq!((code.as_str(), field.as_str()), ("no_solution", "/shop/dryer"), "{error}");
        let told: Vec<f64> = error.message.split(' ').filter_map(|word| word.parse().ok()).collect();
        assert!(fastest < slowest, "{fastest} {slowest}");
        near(told[0], fastest, 0.005, &error);
        near(told[1], slowest, 0.005, &error);
        assert!(error.message.contains(&format!("set the {word} to ")), "{error}");
    }
}

/// A quarter of an hour at 160 degC, beside an ink that bears no more than that: no air does both.
#[test]
fn no_setting_cures_what_contradicts_itself() {
    let slow = json!({ "from": "plastisol-white", "cure": { "temperature": "160 degC", "hold": "900 s", "after_dry": false } });
    let tender = json!({ "from": "plastisol", "never_above": "160 degC" });
    let (code, field, error) = refused("job.plan", &[(BASE_INK, slow), (INK, tender)]);
    assert_eq!((code.as_str(), field.as_str()), ("no_solution", "/placements/0/screens/0"));
    assert!(!error.message.contains("set the air"), "{error}");
}

/// A halftone that shows no bands where it stands, but would a little off: the next best angles are named.
#[test]
fn a_halftone_beside_bands() {
    let halftone = json!({ "ruling": "22 /cm", "angle": "2.5 deg" });
    let plan = plan(&[("/placements/0/screens/1/halftone", halftone)]);
    let alone = json!({ "mesh": "77-55", "mesh_angle": "0 deg", "ruling": "22 /cm", "angles": ["2.5 deg"] });
    let beat = &ask("mesh.moire", alone)["per_angle"][0];
    assert!(beat["clear"] == false && beat.get("worst_period").is_none(), "{beat}");
    let message = said(&plan, "moire", "/placements/0/screens/1/halftone/angle");
    assert!(message.contains("a little off this angle bands appear"), "{message}");
}

/// What the step scale does not say: the colour of the mesh, or how thick it was coated.
#[test]
fn an_exposure_on_another_mesh_says_what_is_open() {
    let coated = [
        ("/shop/exposure/coated_thickness", json!("100 um")),
        ("/shop/exposure/penetration_depth", json!("50 um")),
        ("/placements/0/screens/1/coated_thickness", json!("110 um")),
        (MESH, json!("90-48")),
    ];
    let dyed = [
        ("/shop/exposure/mesh_factor", json!(1.0)),
        ("/placements/0/screens/1/mesh_factor", json!(1.5)),
        (MESH, json!("90-48")),
    ];
    for (plan, open) in [(plan(&coated), "the mesh's colour is not known"), (plan(&dyed), "the coating is not known")] {
        let message = said(&plan, "tested_on_another_mesh", MESH);
        assert!(message.contains(open), "{message}");
    }
}

#[test]
fn what_is_not_known_of_a_shop_is_not_judged() {
    let mut shop = stocked("shop");
    shop.as_object_mut().expect("a shop").shift_remove("register");
    shop["platen"] = stocked("platen");
    for side in ["width", "length"] {
        shop["platen"].as_object_mut().expect("a platen").shift_remove(side);
    }
    let plan = plan(&[("/shop", shop)]);
    said(&plan, "register_not_judged", "/shop/register");
    assert!(plan.get("register").is_none(), "{}", plan["register"]);
    assert!(said(&plan, "rules_silent", "").contains("width and length of the platen"));
}

/// A cloth of one's own that says nothing of its fibres.
#[test]
fn inks_on_unknown_fibres_are_not_judged() {
    let mut cloth = stocked("cloth");
    cloth.as_object_mut().expect("a cloth").shift_remove("fibres");
    (cloth["shade"], cloth["dischargeable"]) = (json!("dark"), json!(true));
    // Plastisol holds badly on nylon, if it is that.
    for ink in ["discharge", "plastisol-white"] {
        let plan = plan(&[("/cloth", cloth.clone()), (BASE_INK, json!(ink))]);
        assert!(said(&plan, "rules_silent", "").contains("fibres of the cloth"), "{ink}");
    }
}

/// An ink priced by volume: its mass over 1.15 g/cm3.
#[test]
fn ink_by_the_litre() {
    let [by_mass, by_volume] = ["20 EUR/kg", "20 EUR/l"].map(|rate| quote(&[("/rates/ink", json!(rate))]));
    let used = |quote: &Value| at(line(quote, "ink: buoy orange"), "/quantity/value");
    near(used(&by_volume), used(&by_mass) / 1.15, 1e-6, "litres");
    assert_eq!(line(&by_volume, "ink: buoy orange")["quantity"]["unit"], "l");
}

/// Ink with a fixer in it is used up or thrown away: all that is mixed is paid for.
#[test]
fn ink_that_does_not_keep() {
    let screen = json!({ "name": "tone", "ink": "water-based", "mesh": "77-48", "coverage_fraction": 0.2 });
    let quote = quote(&[("/cloth", json!("cotton-jersey-180")), ("/placements/0/screens", json!([screen]))]);
    let paid = line(&quote, "ink: tone");
    near(at(paid, "/quantity/value"), at(&quote, "/ink_totals/0/mass_to_mix/value") / 1e3, 1e-6, paid);
    assert!(paid["why"].as_str().expect("a text").contains("does not keep"), "{paid}");
}

/// By hand one person prints, where two stand at an automatic: 32 EUR for each hour that is told.
#[test]
fn one_person_prints_by_hand() {
    let shop = json!({ "from": "starter-shop", "press": "manual-4x4" });
    for (quote, persons) in [(quote(&[("/shop", shop)]), 1.0), (quote(&[]), 2.0)] {
        let printing = line(&quote, "labour: printing");
        relative(at(printing, "/quantity/value"), persons * seconds(&quote, "/hours/run") / 3600.0, 1e-5, printing);
    }
}

/// All blanks that are started with are paid for, and those of the wash test.
#[test]
fn all_blanks_are_charged() {
    let quote = quote(&[("/price/blanks_charged", json!("all"))]);
    let blanks = line(&quote, "blanks");
    let begun = at(&quote, "/blanks/start_with") + at(&quote, "/blanks/for_wash_test");
    near(at(blanks, "/quantity/value"), begun, 1e-9, blanks);
    assert!(blanks["why"].as_str().expect("a text").starts_with("all that are started with"), "{blanks}");
}

/// Rates of one's own that price one size alone.
#[test]
fn a_size_without_a_price_is_missing() {
    let own = |more: Value| {
        let mut rates = json!({
            "labour": "30 EUR/h", "productive_fraction": 0.6, "press": "15 EUR/h", "art": { "minutes": "25 min" }, "film": "3 EUR",
            "screen": { "materials": "4 EUR", "minutes": "25 min" }, "ink": "25 EUR/kg", "energy": "0.3 EUR/kWh",
            "dryer_efficiency_fraction": 0.4, "packing": "0.1 EUR", "overhead_fraction": 0.4,
        });
        rates.as_object_mut().expect("rates").extend(more.as_object().expect("members").clone());
        rates
    };
    let some = own(json!({ "blank_by_size": [{ "size": "M", "each": "4 EUR" }] }));
    let (code, field, error) = refused("job.quote", &[("/rates", some)]);
    assert_eq!((code.as_str(), field.as_str()), ("missing_field", "/rates/blank"));
    assert!(error.message.contains("of size L"), "{error}");
    let (code, field, _) = refused("job.quote", &[("/rates", own(json!({}))), ("/sizes", Value::Null)]);
    assert_eq!((code.as_str(), field.as_str()), ("missing_field", "/rates/blank"));
    // All sizes at one price cost what a price for any size comes to.
    let each = |size: &str| json!({ "size": size, "each": "4 EUR" });
    let sized = quote(&[("/rates", own(json!({ "blank_by_size": [each("M"), each("L")] })))]);
    let any = quote(&[("/rates", own(json!({ "blank": "4 EUR" })))]);
    assert_eq!(sized["cost"], any["cost"]);
}

/// A screen without a mesh gets one that its particles pass, though no such mesh prints as thin as is usual.
#[test]
fn a_coarse_ink_gets_a_coarse_mesh() {
    let ask = |size: &str| {
        let ink = json!({ "from": "plastisol", "largest_particle": size });
        calculate("job.plan", &order("job.plan", &[(MESH, Value::Null), (INK, ink)]))
    };
    let plan = ask("200 um").expect("a plan");
    let mesh = &plan["screens"][1]["mesh"];
    let opening = 1e4 / at(mesh, "/count/value") - at(mesh, "/thread/value");
    assert!(opening >= 3.0 * 200.0, "{mesh}");
    // A third of the widest opening in stock.
    let rows = floodbar_tests::compare::ask("stock.list", json!({ "kind": "mesh" }));
    let openings = rows["kinds"][0]["rows"].as_array().expect("rows").iter().map(|row| {
        let values = &row["values"];
        1e4 / at(values, "/count/value") - at(values, "/thread/value")
    });
    let widest = openings.fold(0.0, f64::max);
    let error = ask("1000 um").expect_err("refused");
    assert_eq!(error.field, "/placements/0/screens/1/ink/largest_particle", "{error}");
    let most: f64 = error.allowed[0].split(' ').nth(2).expect("a number").parse().expect("a number");
    near(most, widest / 3.0, 0.05, &error);
    for (member, value) in [
        ("/placements/0/screens/1/halftone", json!({ "ruling": "80 /cm", "angle": "22.5 deg" })),
        ("/placements/0/screens/1/finest_line", json!("0.01 mm")),
    ] {
        let (code, at, _) = refused("job.plan", &[(MESH, Value::Null), (member, value)]);
        assert_eq!((code.as_str(), at.as_str()), ("no_solution", member));
    }
}

/// The hottest cure of an order decides whether its cloth bears it, wherever its screen stands.
#[test]
fn the_hottest_cure_decides() {
    let polyester = ("/cloth", json!("polyester-jersey-150"));
    for (base, top) in [("plastisol-low-cure", "plastisol"), ("plastisol", "plastisol-low-cure")] {
        let (code, field, _) = refused("job.plan", &[polyester.clone(), (BASE_INK, json!(base)), (INK, json!(top))]);
        assert_eq!((code.as_str(), field.as_str()), ("no_solution", "/cloth"), "{base}, {top}");
    }
}

/// A name is refused from the first character on that is too many, and told how many may be.
#[test]
fn names_have_their_length() {
    let named = |length: usize| calculate("job.plan", &order("job.plan", &[("/title", json!("n".repeat(length)))]));
    let error = named(200).expect_err("refused");
    let most: usize = error.allowed[0].split(' ').nth(2).expect("1 to so many").parse().expect("a number");
    assert!(named(most).is_ok());
    for beyond in [most + 1, most + 2, 3 * most] {
        let error = named(beyond).expect_err("refused");
        assert_eq!((error.code.text(), error.field.as_str()), ("out_of_range", "/title"));
    }
}

/// All money of a quote is in its currency, the offer of a customer too.
#[test]
fn an_offer_in_another_currency_is_refused() {
    let (code, field, _) = refused("job.quote", &[("/at_unit_price", json!("9 USD"))]);
    assert_eq!((code.as_str(), field.as_str()), ("impossible", "/at_unit_price"));
    assert!(quote(&[("/at_unit_price", json!("9 EUR"))])["at_unit_price"].is_object());
}

/// What is left over where shares are added in binary, 0.1 + 0.2 - 0.3, is a share like any other, and next to nothing.
#[test]
fn a_share_next_to_nothing_is_nothing() {
    let priced =
        |markup: f64| quote(&[("/price", json!({ "markup_fraction": markup }))])["price_before_tax"]["value"].clone();
    assert!(priced(0.0).is_string());
    for left in [0.1 + 0.2 - 0.3, 1.234_567_890_123_456_7e-13, 1e-29] {
        assert_eq!(priced(left), priced(0.0), "{left}");
    }
}

/// The probe is read at every quarter of the tunnel, which the belt reaches in its part of the dwell; the print gets warmer all along, and
/// at the end is as warm as its ink must be.
#[test]
fn the_probe_is_read_at_every_quarter() {
    let dryer = plan(&[])["dryer"].take();
    let length: f64 = dryer["zones"].as_array().unwrap().iter().map(|zone| at(zone, "/length/value")).sum();
    let readings = dryer["probe_readings"].as_array().unwrap();
    assert_eq!(readings.len(), 4);
    let (mut before, air) = (25.0, at(&dryer, "/zones/0/air/value"));
    for (reading, share) in readings.iter().zip([0.25, 0.5, 0.75, 1.0]) {
        let expect = at(reading, "/expect/value");
        assert!(before + 1.0 < expect && expect < air, "{expect} after {before}");
        before = expect;
        relative(at(reading, "/at/value"), share * length, 1e-12, "place");
        relative(seconds(reading, "/time"), share * seconds(&dryer, "/dwell"), 1e-12, "time");
        assert_eq!(reading.get("least").is_some(), share == 1.0, "{reading}");
    }
    assert!(before > at(&readings[3], "/least/value"));
}

/// Of a size that nobody ordered there is always enough: it takes no share of the confidence.
#[test]
fn a_size_that_nobody_ordered_changes_nothing() {
    let blanks = |sizes: &[(&str, u32)]| {
        let pieces: u32 = sizes.iter().map(|(_, pieces)| pieces).sum();
        let sizes: Value = sizes.iter().map(|(size, pieces)| json!({ "size": size, "pieces": pieces })).collect();
        plan(&[("/pieces", json!(pieces)), ("/sizes", sizes)])["blanks"].take()
    };
    for pieces in 40..60 {
        let (without, with) =
            (blanks(&[("M", pieces), ("L", 50)]), blanks(&[("S", 0), ("M", pieces), ("L", 50), ("XL", 0)]));
        assert_eq!(
            (&with["start_with"], &with["probability"]),
            (&without["start_with"], &without["probability"]),
            "{pieces}"
        );
    }
}

/// A colour whose art asks for nothing is printed through 77-55, as most are (common practice, no source), whichever ink it is.
#[test]
fn a_colour_without_a_mesh_gets_the_usual_one() {
    for ink in ["plastisol", "water-based"] {
        let request = json!({ "pieces": 48, "cloth": "cotton-jersey-180", "shop": "starter-shop", "placements": [{ "name": "front",
            "width": "300 mm", "height": "300 mm", "screens": [{ "name": "red", "ink": ink, "coverage_fraction": 0.15 }] }] });
        let mesh = ask("job.plan", &request)["screens"][0]["mesh"].take();
        assert_eq!((at(&mesh, "/count/value"), at(&mesh, "/thread/value")), (77.0, 55.0), "{ink}");
    }
}
