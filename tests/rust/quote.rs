//! Quotes: the heat of drying against a table, and what holds for every order.

use floodbar::job::{heat_of_air, heat_of_water};
use floodbar::quantity::{Dimensioned, units};
use floodbar::{Cache, Code};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{at, near, noted, relative, with};
use floodbar_tests::published::table;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::LazyLock;

/// Heat is marched through once for a print and its cloth.
static CACHE: LazyLock<Cache> = LazyLock::new(|| Cache::new(1_000));

fn quote(request: &Value) -> Value {
    CACHE.calculate("job.quote", request).unwrap_or_else(|error| panic!("{request}: {error}"))
}

/// The words of a text that are numbers.
fn numbers(text: &str) -> Vec<f64> {
    text.split([' ', ';']).filter_map(|word| word.parse().ok()).collect()
}

/// Half of the last digit of a number as it is printed.
fn half_a_digit(printed: &str) -> f64 {
    let places = printed.split_once('.').map_or(0, |(_, places)| places.len());
    format!("0.500001e-{places}").parse().unwrap()
}

/// Water is warmed with 4.186 kJ/(kg.K) here, with 4.19 in the table, from 20 degC.
#[test]
fn heat_of_drying() {
    let kg = units::G.of(1_000.0);
    let celsius = |number: f64| units::DEG_C.of(number);
    let (mut balances, mut least) = (0, 0);
    for row in table("drying_energy") {
        let (inputs, recomputed) = (numbers(&row["inputs"]), &row["recomputed"]);
        if row["source"].starts_with("convective dryer") {
            let [humidity, exhaust, fresh, fresh_humidity] = inputs[..] else { panic!("{row:?}") };
            assert_eq!(fresh_humidity, 0.007);
            let water = heat_of_water(kg, celsius(fresh), celsius(exhaust)).si() / 1e3 - (4.19 - 4.186) * fresh;
            let air = heat_of_air(kg, celsius(fresh), celsius(exhaust), humidity).si() / 1e3;
            let (heat, share) = recomputed.split_once("; ").unwrap();
            near(water + air, heat.parse().unwrap(), half_a_digit(heat), &row);
            near(air / (water + air), share.parse().unwrap(), half_a_digit(share), &row);
            balances += 1;
        } else if row["source"].starts_with("least heat") {
            // Properties of saturated water, against those of moist air.
            let (start, end) = (inputs[0], inputs[1]);
            relative(
                heat_of_water(kg, celsius(start), celsius(end)).si() / 1e3,
                recomputed.parse().unwrap(),
                6e-3,
                &row,
            );
            least += 1;
        }
    }
    assert_eq!((balances, least), (5, 4));
    // Air as moist as the room's carries nothing off.
    for humidity in [0.007, 0.0] {
        assert!(heat_of_air(kg, celsius(20.0), celsius(130.0), humidity).si().is_infinite());
    }
}

/// An amount of the answer in cents.
fn cents(amount: &Value) -> i64 {
    let digits = amount["value"].as_str().unwrap_or_else(|| panic!("{amount} is no amount"));
    assert_eq!(digits.split_once('.').map(|(_, places)| places.len()), Some(2), "{amount}");
    digits.replace('.', "").parse().unwrap()
}

fn sum(lines: &Value) -> i64 {
    lines.as_array().unwrap().iter().map(|line| cents(&line["amount"])).sum()
}

/// An order of so many colours, priced by the starter rates with labour and blanks of their own.
fn order(pieces: u32, colours: usize, labour: u32, blank: u32) -> Value {
    let screen = |name: usize| json!({ "name": format!("colour {name}"), "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.15 });
    json!({
        "pieces": pieces, "cloth": "cotton-jersey-180", "shop": "starter-shop",
        "placements": [{ "name": "front", "width": "300 mm", "height": "300 mm", "screens": (0..colours).map(screen).collect::<Vec<_>>() }],
        "currency": "EUR",
        "rates": { "from": "starter-rates", "labour": format!("{labour}.50 EUR/h"), "blank": format!("{blank}.35 EUR") },
        "price": { "margin_fraction": 0.3 },
    })
}

/// The same order without a price.
fn plan(pieces: u32) -> Value {
    let mut order = order(pieces, 1, 10, 9);
    order.as_object_mut().unwrap().retain(|name, _| !["currency", "rates", "price"].contains(&name.as_str()));
    order
}

fn orders() -> impl Strategy<Value = Value> {
    (1_u32..500, 1_usize..4, 10_u32..60, 1_u32..9)
        .prop_map(|(pieces, colours, labour, blank)| order(pieces, colours, labour, blank))
}

/// Ways to make a price.
fn prices() -> impl Strategy<Value = Value> {
    let thousandths = |most: u32| (0..most).prop_map(|share| f64::from(share) / 1e3);
    let profit = prop_oneof![
        thousandths(800).prop_map(|share| json!({ "margin_fraction": share })),
        thousandths(2_000).prop_map(|share| json!({ "markup_fraction": share })),
    ];
    let some = |share: BoxedStrategy<f64>| proptest::option::of(share.prop_map(Value::from));
    let cents = |most: u32| {
        proptest::option::of((1..most).prop_map(|c| Value::from(format!("{}.{:02} EUR", c / 100, c % 100))))
    };
    (
        profit,
        some(thousandths(900).boxed()),
        some(thousandths(500).boxed()),
        some(thousandths(400).boxed()),
        some(thousandths(300).boxed()),
        any::<Option<bool>>(),
        cents(60_000),
        cents(200),
    )
        .prop_map(|(mut price, blank_markup, rush, discount, tax, included, least, step)| {
            let included = included.filter(|_| tax.is_some()).map(Value::from);
            for (name, member) in [
                ("blank_markup_fraction", blank_markup),
                ("rush_fraction", rush),
                ("discount_fraction", discount),
                ("tax_fraction", tax),
                ("prices_include_tax", included),
                ("least_order", least),
                ("round_unit_price_to", step),
            ] {
                if let Some(member) = member {
                    price[name] = member;
                }
            }
            price
        })
}

/// The price before the unit price is rounded, in cents: all lines above that one.
fn before_rounding(answer: &Value) -> i64 {
    let lines = answer["price_lines"].as_array().unwrap();
    let above = lines
        .iter()
        .take_while(|line| !["rounding of the unit price", "freight", "tax"].contains(&line["what"].as_str().unwrap()));
    above.map(|line| cents(&line["amount"])).sum()
}

/// A quote without the words and numbers that units change: its money.
fn money(answer: &Value) -> Vec<String> {
    fn walk(value: &Value, found: &mut Vec<String>) {
        match value {
            Value::Object(members) => {
                if members.get("value").is_some_and(Value::is_string) {
                    found.push(value.to_string());
                }
                members.values().for_each(|member| walk(member, found));
            }
            Value::Array(items) => items.iter().for_each(|item| walk(item, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    walk(answer, &mut found);
    found
}

/// A shirt that costs most of its print makes the first piece dear that needs a second one: the third print for the wash test, or one more
/// spare.
#[test]
fn why_a_unit_price_rises() {
    let blanks = |pieces: u32, which: &str| {
        CACHE.calculate("job.plan", &plan(pieces)).unwrap()["blanks"][which].as_u64().unwrap()
    };
    for (few, charged, which, why) in [
        (23, "expected", "for_wash_test", "from here on more prints go to the wash test"),
        (94, "all", "start_with", "the spares come in whole shirts, and one more starts here"),
    ] {
        assert_eq!(blanks(few + 1, which), blanks(few, which) + 2);
        let request = with(&order(few, 1, 10, 9), "/price/blanks_charged", json!(charged));
        let answer = quote(&with(&request, "/quantities", json!([few, few + 1, few + 2])));
        let prices: Vec<i64> =
            answer["price_breaks"].as_array().unwrap().iter().map(|each| cents(&each["unit_price"])).collect();
        assert!(prices[0] < prices[1] && prices[1] > prices[2], "{prices:?}");
        let said: Vec<&Value> =
            answer["notes"].as_array().unwrap().iter().filter(|note| note["code"] == "unit_price_rises").collect();
        assert_eq!(said.len(), 1, "{said:?}");
        assert_eq!(said[0]["field"], "/quantities/1");
        assert_eq!(said[0]["message"], format!("{} pieces cost more each than {few}: {why}", few + 1));
    }
}

/// What is kept from before is neither filmed nor made again, and the quote says so.
#[test]
fn screens_that_are_kept_are_not_made() {
    let order = order(100, 3, 20, 4);
    let materials = |kept: u32| {
        let stored = (0..kept).fold(order.clone(), |order, index| {
            with(&order, &format!("/placements/0/screens/{index}/stored"), json!(true))
        });
        let lines = quote(&stored)["cost_lines"].take();
        lines.as_array().unwrap().iter().find(|line| line["what"] == "screens: materials").cloned()
    };
    for (kept, made, why) in
        [(0, 3.0, "one for each screen"), (1, 2.0, "one for each screen, but for the 1 that are kept from before")]
    {
        let line = materials(kept).unwrap();
        assert_eq!((line["why"].as_str(), line["quantity"]["value"].as_f64()), (Some(why), Some(made)), "{line}");
    }
    assert_eq!(materials(3), None);
}

/// Who works is told in words: a person, two persons, a person and a half.
#[test]
fn a_person_is_one() {
    let order = order(100, 1, 20, 4);
    for (setup, run, told) in [
        (1.0, 1.0, ["1 person", "1 person"]),
        (2.0, 1.5, ["2 persons", "1.5 persons"]),
        (0.5, 3.0, ["0.5 persons", "3 persons"]),
    ] {
        let answer = quote(&with(&order, "/rates/crew", json!({ "setup": setup, "run": run })));
        let lines = answer["cost_lines"].as_array().unwrap();
        for (what, told) in ["labour: setting up and clearing", "labour: printing"].into_iter().zip(told) {
            let line = lines.iter().find(|line| line["what"] == what).unwrap();
            assert!(line["why"].as_str().unwrap().ends_with(&format!(" by {told}")), "{line}");
        }
    }
}

/// An ink has the price of its colour, or else of its kind, or else that of all inks.
#[test]
fn an_ink_is_priced_by_its_colour_before_its_kind() {
    let order = with(&order(100, 1, 20, 4), "/rates/ink", json!("20 EUR/kg"));
    let listed = |names: &[(&str, &str)]| {
        names.iter().map(|(name, rate)| json!({ "ink": name, "rate": rate })).collect::<Value>()
    };
    let (colour, kind, other) =
        (("colour 0", "50 EUR/kg"), ("plastisol", "30 EUR/kg"), ("plastisol-white", "40 EUR/kg"));
    for (names, rate) in [
        (vec![], "20"),
        (vec![other], "20"),
        (vec![other, kind], "30"),
        (vec![colour], "50"),
        (vec![kind, colour], "50"),
    ] {
        let answer = quote(&with(&order, "/rates/ink_by_name", listed(&names)));
        let lines = answer["cost_lines"].as_array().unwrap();
        let line = lines.iter().find(|line| line["what"].as_str().unwrap().starts_with("ink: ")).unwrap();
        assert_eq!(line["rate"]["value"], rate, "{names:?}: {line}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(48, 500)))]

    #[test]
    fn lines_add_up(order in orders(), price in prices()) {
        let request = with(&order, "/price", price);
        let request = with(&request, "/rates/extras", json!([
            { "name": "folding", "each": "0.35 EUR", "as": "price" },
            { "name": "colour match", "once": "17.50 EUR", "as": "price" },
            { "name": "neck label", "each": "0.12 EUR", "as": "cost" },
        ]));
        let answer = quote(&with(&request, "/rates/freight", json!("12.90 EUR")));
        prop_assert_eq!(sum(&answer["cost_lines"]), cents(&answer["cost"]));
        prop_assert_eq!(sum(&answer["price_lines"]), cents(&answer["total"]));
        let tax = answer.get("tax").map_or(0, cents);
        prop_assert_eq!(cents(&answer["price_before_tax"]) + tax, cents(&answer["total"]));
    }

    #[test]
    fn more_pieces_cost_more(order in orders(), price in prices(), more in 1_u32..100) {
        let request = with(&order, "/price", price);
        let pieces = u32::try_from(request["pieces"].as_u64().unwrap()).unwrap();
        let (few, many) = (quote(&request), quote(&with(&request, "/pieces", json!(pieces + more))));
        prop_assert!(cents(&few["cost"]) <= cents(&many["cost"]));
        prop_assert!(before_rounding(&few) <= before_rounding(&many));
        // What is rounded up is rounded by less than a step for each piece.
        prop_assert!(cents(&few["unit_price"]) * i64::from(pieces) >= before_rounding(&few));
    }

    #[test]
    fn a_unit_price_falls_or_it_is_said(order in orders(), price in prices(), quantities in proptest::collection::vec(1_u32..200, 2..6)) {
        let request = with(&with(&order, "/price", price), "/quantities", json!(quantities));
        let answer = quote(&request);
        let breaks = answer["price_breaks"].as_array().unwrap();
        let mut by_pieces: Vec<usize> = (0..quantities.len()).collect();
        by_pieces.sort_by_key(|index| quantities[*index]);
        for pair in by_pieces.windows(2) {
            let [few, many] = [pair[0], pair[1]].map(|index| cents(&breaks[index]["unit_price"]));
            let field = format!("/quantities/{}", pair[1]);
            let said = answer["notes"].as_array().unwrap().iter().any(|note| note["code"] == "unit_price_rises" && note["field"] == field.as_str());
            prop_assert_eq!(said, many > few, "{} {}", quantities[pair[0]], quantities[pair[1]]);
        }
    }

    #[test]
    fn another_colour_never_costs_less(pieces in 1_u32..300, colours in 1_usize..3, labour in 10_u32..60) {
        let [one, other] = [colours, colours + 1].map(|colours| quote(&order(pieces, colours, labour, 4)));
        prop_assert!(cents(&one["cost"]) < cents(&other["cost"]));
        prop_assert!(cents(&one["total"]) <= cents(&other["total"]));
    }

    #[test]
    fn a_margin_is_a_markup(order in orders(), margin in 0_u32..900) {
        let margin = f64::from(margin) / 1e3;
        let by = |name: &str, share: f64| quote(&with(&order, "/price", json!({ name: share })));
        let (one, other) = (by("margin_fraction", margin), by("markup_fraction", margin / (1.0 - margin)));
        let [one, other] = [one, other].map(|answer| before_rounding(&answer));
        prop_assert!((one - other).abs() <= 1, "{one} {other}");
    }

    #[test]
    fn its_own_unit_price_earns_its_profit(order in orders(), price in prices()) {
        let request = with(&order, "/price", price);
        let answer = quote(&request);
        let unit_price = &answer["unit_price"];
        let asked = quote(&with(&request, "/at_unit_price", unit_price.clone()));
        for name in ["unit_price", "total", "profit", "margin_fraction", "profit_per_press_hour"] {
            prop_assert_eq!(&asked["at_unit_price"][name], &answer[name], "{}", name);
        }
    }

    /// With sizes too, which go with the pieces as they do where an operator varies these.
    #[test]
    fn a_break_is_the_quote_for_so_many(order in orders(), price in prices(), pieces in 10_u32..300, sizes in any::<bool>()) {
        let mut request = with(&order, "/price", price);
        if sizes {
            request["pieces"] = json!(100);
            request["sizes"] = json!([{ "size": "S", "pieces": 30 }, { "size": "M", "pieces": 45 }, { "size": "XXL", "pieces": 25 }]);
            request["rates"]["blank_by_size"] = json!([{ "size": "XXL", "each": "9.99 EUR" }]);
        }
        let other = CACHE.sweep("job.quote", &request, &json!({ "vary": "/pieces", "values": [pieces] })).unwrap();
        let other = &other["answers"][0];
        let answer = quote(&with(&request, "/quantities", json!([pieces])));
        let told = &answer["price_breaks"][0];
        for name in ["pieces", "unit_price", "total", "cost", "profit", "held_up_by"] {
            prop_assert_eq!(&told[name], &other[name], "{}", name);
        }
        prop_assert_eq!(&told["hours"], &other["hours"]["total"]);
    }

    #[test]
    fn units_change_no_money(order in orders(), price in prices()) {
        let request = with(&with(&order, "/price", price), "/quantities", json!([10, 100]));
        let (metric, us) = (quote(&request), quote(&with(&request, "/units", json!("us"))));
        prop_assert_eq!(money(&metric), money(&us));
        prop_assert!(money(&metric).len() > 20);
        prop_assert_eq!(&metric["cost_lines"], &us["cost_lines"]);
    }
}

/// The half-width that is listed for a member of the answer.
fn doubt(answer: &Value, pointer: &str) -> Option<f64> {
    let listed = answer["doubt"].as_array().unwrap().iter().find(|doubt| doubt["at"] == pointer)?;
    Some(at(listed, "/plus_minus"))
}

/// The total is linear in a rate: its half-width times the hours, with their overhead, profit and tax.
#[test]
fn a_doubt_of_labour_is_carried_into_the_total() {
    let request = with(&order(120, 2, 30, 4), "/price", json!({ "margin_fraction": 0.3, "tax_fraction": 0.19 }));
    let [plain, answer] =
        ["30 EUR/h", "30 +/- 2 EUR/h"].map(|labour| quote(&with(&request, "/rates/labour", json!(labour))));
    assert_eq!(plain["total"]["value"], answer["total"]["value"]);
    let lines = answer["cost_lines"].as_array().unwrap();
    let labour = lines.iter().filter(|line| line["what"].as_str().unwrap().starts_with("labour"));
    let hours: f64 = labour.map(|line| at(line, "/quantity/value")).sum();
    let cost = 2.0 * hours * 1.4;
    for (pointer, wanted) in [
        ("/cost", cost),
        ("/total", cost / 0.7 * 1.19),
        ("/profit", cost / 0.7 - cost),
        ("/unit_price", cost / 0.7 / 120.0),
    ] {
        let told = doubt(&answer, pointer).unwrap_or_else(|| panic!("{pointer} of {}", answer["doubt"]));
        relative(told, wanted, 1e-6, pointer);
        // Beside the amount it is a decimal text, as the amount is.
        let beside = &answer.pointer(pointer).unwrap()["plus_minus"];
        near(beside.as_str().unwrap().parse().unwrap(), told, 1e-6, pointer);
    }
}

/// Whatever an hour costs, the margin is the one that was asked for: in doubt are amounts before they are rounded.
#[test]
fn a_margin_that_is_given_is_in_no_doubt() {
    for pieces in [24, 120] {
        let answer = quote(&with(&order(pieces, 2, 30, 4), "/rates/labour", json!("30 +/- 2 EUR/h")));
        assert_eq!(doubt(&answer, "/margin_fraction"), None, "{pieces}");
        assert!(!noted(&answer, "doubt_uneven"), "{pieces}: {}", answer["notes"]);
    }
}

/// A half-width is told in the unit of what it belongs to.
#[test]
fn the_doubt_of_a_rate_has_its_unit() {
    let answer = quote(&with(&order(24, 1, 30, 4), "/rates/labour", json!("30 +/- 2 EUR/h")));
    for listed in answer["doubt"].as_array().unwrap() {
        let member = answer.pointer(listed["at"].as_str().unwrap()).unwrap();
        assert_eq!(member.get("unit"), listed.get("unit"), "{listed}");
    }
}

/// A share of an amount as its half-width, however large: an error, and no end of the program.
#[test]
fn a_half_width_beyond_reckoning_is_refused() {
    let labour = json!("1000000000 EUR/h +/- 79228162514264337593543950335 %");
    let error = CACHE.calculate("job.quote", &with(&order(24, 1, 30, 4), "/rates/labour", labour)).unwrap_err();
    assert!([Code::BadQuantity, Code::OutOfRange].contains(&error.code), "{error}");
    assert_eq!(error.field, "/rates/labour");
}

/// Amounts up to 10^12 are read; what comes to more, wherever it comes together, is refused and never rounded.
#[test]
fn more_money_than_can_be_reckoned_with_is_refused() {
    const MOST: &str = "1000000000000 EUR";
    const HALF: &str = "600000000000 EUR";
    let extras = |pay: &str, amount: &str, side: &str, count: usize| {
        let extra = json!({ "name": "extra", pay: amount, "as": side });
        ("/rates/extras", Value::Array(vec![extra; count]))
    };
    let price = |more: Value| {
        let mut price = json!({ "markup_fraction": 0.3 });
        price.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        ("/price", price)
    };
    let plain = order(96, 2, 30, 4);
    // Costs of some 6 x 10^11 EUR.
    let dear = with(&plain, "/rates/labour", json!("100000000000 EUR/h"));
    let of_plain = [
        ("/rates/labour", json!("1000000000000 EUR/h")),
        ("/rates/press", json!("1000000000000 EUR/h")),
        ("/rates/energy", json!("1000000000000 EUR/kWh")),
        ("/rates/film", json!(MOST)),
        ("/rates/packing", json!(MOST)),
        ("/rates/blank", json!(MOST)),
        ("/rates/freight", json!(MOST)),
        extras("each", MOST, "cost", 1),
        extras("once", MOST, "cost", 1),
        extras("each", MOST, "price", 1),
        extras("once", HALF, "price", 2),
        price(json!({ "least_order": MOST })),
        price(json!({ "least_order": "900000000000 EUR", "tax_fraction": 0.2 })),
        price(json!({ "round_unit_price_to": MOST })),
        ("/at_unit_price", json!(MOST)),
    ];
    let of_dear = [
        price(json!({ "markup_fraction": 1 })),
        price(json!({ "rush_fraction": 1 })),
        price(json!({ "tax_fraction": 0.5 })),
        price(json!({ "blank_markup_fraction": 0.1, "markup_fraction": 1 })),
        ("/rates/overhead_fraction", json!(1)),
        extras("once", HALF, "cost", 1),
        extras("once", HALF, "price", 1),
    ];
    let of = |base: &Value, cases: &[(&str, Value)]| {
        for (pointer, value) in cases {
            let error = CACHE.calculate("job.quote", &with(base, pointer, value.clone())).expect_err(pointer);
            assert_eq!((error.code, error.field.as_str()), (Code::OutOfRange, ""), "{pointer} {value}: {error}");
        }
    };
    of(&plain, &of_plain);
    of(&dear, &of_dear);
    assert!(cents(&quote(&dear)["total"]) > 10_000_000_000_000);
}

/// A doubt of the spoilage moves what blanks are charged for, not how many there are to print.
#[test]
fn a_doubt_of_spoilage_leaves_the_blanks() {
    let request = with(&order(200, 1, 30, 4), "/price", json!({ "markup_fraction": 0.5 }));
    let spoiled =
        |share: Value| quote(&with(&request, "/shop", json!({ "from": "starter-shop", "spoilage_fraction": share })));
    let (plain, answer) = (spoiled(json!(0.025)), spoiled(json!("0.025 +/- 0.01")));
    assert_eq!(answer["blanks"]["start_with"], plain["blanks"]["start_with"]);
    for doubt in answer["doubt"].as_array().unwrap() {
        let at = doubt["at"].as_str().unwrap();
        let of_prints = ["/blanks/start_with", "/ink_totals", "/hours", "/drying"];
        assert!(!of_prints.iter().any(|start| at.starts_with(start)), "{doubt}");
    }
    // d/ds of pieces / (1 - s), by the blank's 4.35 EUR.
    let cost = 0.01 * 4.35 * 200.0 / (0.975 * 0.975);
    relative(doubt(&answer, "/cost").unwrap(), cost, 1e-3, "cost");
    relative(doubt(&answer, "/total").unwrap(), 1.5 * cost, 1e-3, "total");
}

/// What the doubt of a price is worth goes by the prints as ordered, whatever a doubt of spoilage beside it would make of them: 10 % of an
/// ink's price are 10 % of what its mass to mix costs.
#[test]
fn a_doubt_of_spoilage_leaves_what_other_doubts_are_worth() {
    let shop = json!({ "from": "starter-shop", "spoilage_fraction": "0.1 +/- 0.08" });
    let request = with(&with(&order(200, 1, 30, 4), "/shop", shop), "/rates/ink", json!("20 EUR/kg +/- 10 %"));
    let answer = quote(&request);
    let lines = answer["cost_lines"].as_array().unwrap();
    let ink = lines.iter().position(|line| line["what"].as_str().unwrap().starts_with("ink")).unwrap();
    let mass = at(&answer, &format!("/cost_lines/{ink}/quantity/value"));
    relative(doubt(&answer, &format!("/cost_lines/{ink}/amount")).unwrap(), 2.0 * mass, 1e-3, "2 EUR/kg");
}

/// A dryer whose air is as dry as the room's is said to carry nothing off; what a zone says of its air is not laid to memory.
#[test]
fn air_that_carries_nothing_off_is_told_of() {
    let remembers =
        |answer: &Value| answer["basis"].as_array().unwrap().iter().any(|basis| basis["for"] == "dryer.humidity_ratio");
    let dryer = |humidity: Value| {
        let zone = json!({
            "length": "2 m", "air": "175 degC", "transfer_top": "20 W/(m2.K)", "transfer_bottom": "12 W/(m2.K)",
            "humidity_ratio": humidity,
        });
        let shop = json!({ "from": "starter-shop", "dryer": { "zones": [zone] } });
        quote(&with(&order(24, 1, 30, 4), "/shop", shop))
    };
    let [silent, usual, moist, dry] = [Value::Null, json!(0.02), json!(0.05), json!(0.0)].map(dryer);
    assert_eq!([&silent, &usual, &moist, &dry].map(remembers), [true, false, false, false]);
    assert_eq!(
        [&silent, &usual, &moist, &dry].map(|answer| noted(answer, "dryer_air_too_dry")),
        [false, false, false, true]
    );
    assert_eq!(silent["drying"], usual["drying"]);
    let air = |answer: &Value| at(answer, "/drying/air/value");
    assert!(air(&moist) < air(&usual) && air(&usual) < air(&dry));
}
