//! The typed door: doubts, options and documents in types are those of the wire, and what a program reads off types.

use floodbar::cloth::Dye;
use floodbar::exposure::{STEP_SCALE, StepRequest};
use floodbar::ink::{USAGE, UsageRequest};
use floodbar::job::{Order, QUOTE};
use floodbar::mesh::{Mesh, MeshParts, Weave};
use floodbar::money::Currency;
use floodbar::money::rust_decimal::prelude::ToPrimitive;
use floodbar::press::{SQUEEGEE, SqueegeeRequest};
use floodbar::quantity::System;
use floodbar::quantity::units::{CM2, MM, PER_CM, PER_IN, S, UM};
use floodbar::stock::{self, LIST, ListRequest, StockKind};
use floodbar::unit::{CONVERT, ConvertRequest};
use floodbar::wire::{Options, Propagation, Shelf};
use floodbar::{Code, calculate};
use floodbar_tests::compare::{near, relative};
use serde_json::json;

/// 95 s tried, and the scale a step short.
fn scale() -> StepRequest {
    StepRequest::new().time(S.of(95.0)).solid_step(6.0)
}

/// The new time is 10^0.15 times the old one, so it is off by as large a share.
#[test]
fn a_doubt_in_types_is_that_of_the_document() {
    let answer = STEP_SCALE.answer_doubted(&scale(), Options::USUAL, &[("/time", 5.0)]).expect("an answer");
    relative(answer.half_width("/time").expect("a doubt"), 5.0 * 10_f64.powf(0.15), 1e-12, &answer);
    assert_eq!(answer.half_width("/factor"), None, "a factor has no time in it");
    let [doubt] = answer.doubts() else { panic!("{:?}", answer.doubts()) };
    assert_eq!((doubt.at.as_str(), doubt.contributor.as_str(), doubt.interval), ("/time", "/time", None));

    let document = json!({ "time": "95 +/- 5 s", "solid_step": 6 });
    let (request, told) = STEP_SCALE.answer_document(&document).expect("an answer");
    assert_eq!((request, &told), (scale(), &answer));
    let written = told.written(System::Metric);
    assert_eq!(written.to_value(), calculate("exposure.step", &document));
    assert_eq!(Ok(format!("{written:?}")), written.to_text());
}

/// What is linear in one normal number is normal: 200,000 draws are off by some thousandths of the half-width.
#[test]
fn draws_in_types() {
    let options = Options::USUAL.doubt(Propagation::Draws);
    let answer = STEP_SCALE.answer_doubted(&scale(), options, &[("/time", 5.0)]).expect("an answer");
    let (factor, [doubt]) = (10_f64.powf(0.15), answer.doubts()) else { panic!("{:?}", answer.doubts()) };
    relative(doubt.half_width, 5.0 * factor, 0.02, doubt);
    let (least, most) = doubt.interval.expect("an interval");
    near(least, 90.0 * factor, 0.3, doubt);
    near(most, 100.0 * factor, 0.3, doubt);
}

#[test]
fn what_cannot_be_in_doubt_is_refused() {
    let request = UsageRequest::new()
        .mesh("55-64".parse::<Mesh>().expect("a mesh"))
        .ink(stock::ink("plastisol").expect("an ink"));
    let request = request.prints(240).printed_area(CM2.of(460.0));
    for (field, half_width, code) in [
        ("/printed_area", 1e-3, None),
        // A count is what it is.
        ("/prints", 3.0, Some(Code::Impossible)),
        ("/mesh/weave", 1.0, Some(Code::Impossible)),
        ("/colour", 1.0, Some(Code::Impossible)),
        ("/printed_area", -1e-3, Some(Code::OutOfRange)),
        ("/printed_area", f64::NAN, Some(Code::OutOfRange)),
    ] {
        let told = USAGE.answer_doubted(&request, Options::USUAL, &[(field, half_width)]);
        let refused = told.err().map(|error| (error.code, error.field));
        assert_eq!(refused, code.map(|code| (code, field.to_owned())), "{field} {half_width}");
    }
}

/// Without explaining there is no basis and nothing that only informs; the numbers are the same.
#[test]
fn options_in_types() {
    let request = SqueegeeRequest::new().image_width(MM.of(320.0)).image_length(MM.of(380.0));
    let full = SQUEEGEE.answer(&request).expect("an answer");
    // An overlap and a free mesh that were not given.
    assert_eq!(full.basis().iter().map(|basis| basis.of.to_string()).collect::<Vec<_>>(), ["overlap", "free_mesh"]);
    let quiet = SQUEEGEE.answer_as(&request, Options::USUAL.units(System::Us).explain(false)).expect("an answer");
    assert!(quiet.basis().is_empty() && quiet.notes().is_empty(), "{quiet:?}");
    assert_eq!(quiet.clone().into_answer(), full.into_answer());
    let written = quiet.written(System::Us);
    assert_eq!(written.units(), System::Us);
    let blade = &written.to_value().expect("JSON")["blade_length"];
    assert_eq!(blade["unit"], "in");
    // 320 mm and 15 mm a side.
    relative(blade["value"].as_f64().expect("a number"), 350.0 / 25.4, 1e-12, blade);
}

/// The inch is 25.4 mm and the foot twelve of them.
#[test]
fn a_quantity_of_any_kind_in_types() {
    let answer = CONVERT.answer(&ConvertRequest::new().quantity("12 ft/min").to("m/min")).expect("an answer");
    relative(answer.quantity.value(), 12.0 * 0.3048, 1e-15, &answer);
    assert_eq!(answer.quantity.unit().name, "m/min");
}

#[test]
fn a_text_that_may_be_left_out_is_taken_as_it_is() {
    assert_eq!(Order::new().title("Harbour run").title.as_deref(), Some("Harbour run"));
    assert_eq!(Order::new().title, None);
}

/// 195 threads per inch are sold with threads of 55 um; cloth in plain weave is 1.5 threads thick, twill 1.77.
#[test]
fn a_mesh_from_what_is_known_of_it() {
    let mesh = Mesh::of_count(PER_IN.of(195.0)).expect("a mesh");
    near(UM.value(mesh.thread()), 55.0, 1e-9, &mesh);
    assert!(mesh.same_cloth(&"77-55".parse().expect("a mesh")), "{mesh:?}");
    assert!(mesh.same_cloth(&Mesh::from(MeshParts::new().count(PER_CM.of(77.0)).thread(UM.of(55.0)))));
    near(UM.value(mesh.thickness()), 1.5 * 55.0, 1e-9, &mesh);
    near(UM.value(mesh.clone().woven(Weave::Twill).thickness()), 1.77 * 55.0, 1e-9, &mesh);
    let gauged = mesh.clone().with_thickness(UM.of(84.0)).expect("a mesh");
    assert!(mesh.thickness_estimated() && !gauged.thickness_estimated());
    let pitch: f64 = 25_400.0 / 195.0;
    relative(UM.value(gauged.ink_volume()), 84.0 * ((pitch - 55.0) / pitch).powi(2), 1e-12, &gauged);
    let refused = |mesh: Result<Mesh, floodbar::Error>| mesh.map_err(|error| (error.code, error.field)).err();
    assert_eq!(refused(Mesh::of_count(PER_CM.of(1e4))), Some((Code::OutOfRange, "/count".to_owned())));
    assert_eq!(refused(mesh.with_thickness(MM.of(100.0))), Some((Code::OutOfRange, "/thickness".to_owned())));
}

/// The margin of a quote is its profit over its price before tax, where it has no freight.
#[test]
fn a_quote_in_types() {
    let order = json!({
        "pieces": 24, "cloth": "cotton-jersey-180", "currency": "EUR", "rates": "starter-rates",
        "price": { "margin_fraction": 0.3, "tax_fraction": 0.19 },
        "placements": [{ "name": "front", "width": "200 mm", "height": "200 mm", "screens": [
            { "name": "mark", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.2 }] }],
    });
    let (request, quote) = QUOTE.answer_document(&order).expect("a quote");
    assert_eq!((request.currency, format!("{:?}", quote.currency)), (Currency::find("EUR").unwrap(), "EUR".to_owned()));
    let euro = |amount: &floodbar::money::Amount| amount.amount().to_f64().expect("a number");
    let margin = quote.margin_fraction.expect("a margin").value();
    relative(margin, euro(&quote.profit) / euro(&quote.price_before_tax), 1e-12, quote.profit);
    // It is what was asked for, as far as cents go.
    near(margin, 0.3, 24.0 * 0.01 / euro(&quote.price_before_tax), quote.profit);
}

/// Rows are told apart and shown by their names.
#[test]
fn stock_in_types() {
    let list = LIST.answer(&ListRequest::new().kind(StockKind::Platen)).expect("the platens");
    assert_eq!(*LIST.answer(&ListRequest::new().kind(StockKind::Platen)).expect("the platens"), *list);
    let [shelf] = list.kinds.as_slice() else { panic!("{list:?}") };
    let (first, other) = (&shelf.rows[0], &shelf.rows[1]);
    assert_ne!(first.values, other.values);
    assert!(format!("{:?}", first.values).contains(&first.name), "{:?}", first.values);
}

/// A row of a stock file that does not read is left out, whatever is wrong with it; the others stay.
#[test]
fn a_shelf_leaves_out_what_does_not_read() {
    let rows = json!({
        "good": { "temperature": ["129 degC", "memory", "read off"] },
        "no object": 3,
        "no list": { "temperature": "129 degC" },
        "no source": { "temperature": ["129 degC", "memory"] },
        "no such field": { "colour": ["red", "memory", "seen"] },
        "no such kind": { "temperature": ["129 degC", "hearsay", "heard"] },
        "too hot": { "temperature": ["99999 degC", "memory", "read off"] },
    });
    let read = |text: &str| {
        let shelf = Shelf::read(text, || Box::new(Dye::new()));
        shelf.names().map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(read(&rows.to_string()), ["good"]);
    assert!(read("no JSON").is_empty());
}

/// What a failed check of a program prints: what was given, by name, and the quantity's unit.
#[test]
fn what_debugging_shows() {
    let request = format!("{:?}", scale());
    assert!(request.contains("solid_step: 6.0") && request.contains("given"), "{request}");
    let calculation = format!("{STEP_SCALE:?}");
    assert!(calculation.contains("exposure.step"), "{calculation}");
    assert!(format!("{UM:?}").contains("um"), "{UM:?}");
    let table = format!("{:?}", floodbar::wire::Record::table(&scale()));
    assert!(table.contains("StepRequest") && table.contains("solid_step"), "{table}");
}
