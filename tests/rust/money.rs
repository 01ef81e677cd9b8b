//! Money against published tables: digits of currencies, rounding; and that sums and shares lose nothing.

use floodbar::money::rust_decimal::Decimal;
use floodbar::money::{Currency, InkRate, Money, Price, SheetRate, TimeRate};
use floodbar::{Code, calculate};
use floodbar_tests::published::table;
use proptest::prelude::*;
use serde_json::{Value, json};

fn euro(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::find("EUR").unwrap()).unwrap()
}

/// A quote that has an answer.
fn quote() -> Value {
    json!({
        "pieces": 24, "cloth": "cotton-jersey-180",
        "placements": [{"name": "front", "width": "200 mm", "height": "200 mm", "screens": [
            {"name": "mark", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.2}]}],
        "currency": "EUR", "rates": {"from": "starter-rates"}, "price": {"margin_fraction": 0.3},
    })
}

#[test]
fn minor_units_are_those_of_the_list() {
    let mut seen = 0;
    for row in table("iso4217_minor_units") {
        match row["minor_units"].parse::<u32>() {
            Ok(digits) => {
                let currency = Currency::find(&row["code"]).unwrap_or_else(|| panic!("{} is not known", row["code"]));
                assert_eq!((currency.code(), currency.minor_units()), (row["code"].as_str(), digits));
                assert_eq!(currency.minor(1).in_minor_units(), Some(1));
            }
            // Gold has no minor unit, and prices no shirts.
            Err(_) => assert_eq!(Currency::find(&row["code"]), None, "{}", row["code"]),
        }
        seen += 1;
    }
    assert!(seen > 45, "{seen}");
    assert_eq!((Currency::find("eur"), Currency::find("EURO"), Currency::find("")), (None, None, None));
}

/// The General Decimal Arithmetic cases of half-up rounding, to as many digits as some currency has.
#[test]
fn half_a_unit_goes_away_from_zero() {
    let currencies = [(0, "JPY"), (2, "EUR"), (3, "KWD"), (4, "CLF")];
    let mut seen = 0;
    for row in table("decimal_rounding_gda").iter().filter(|row| row["mode"] == "half_up") {
        let digits: u32 = row["decimals"].parse().unwrap();
        let Some((_, code)) = currencies.iter().find(|(of, _)| *of == digits) else { continue };
        let operand: Decimal = row["operand"].parse().unwrap();
        let Some(money) = Money::new(operand, Currency::find(code).unwrap()) else { continue };
        let wanted: Decimal = row["result"].parse().unwrap();
        assert_eq!(money.rounded().amount(), wanted, "{}", row["case"]);
        assert_eq!(money.times(Decimal::ONE).unwrap().amount(), wanted, "{}", row["case"]);
        seen += 1;
    }
    assert!(seen >= 10, "{seen}");
}

#[test]
fn amounts_and_rates_are_read_strictly() {
    let amount = |text: &str| text.parse::<Price>().map(|price| price.to_string()).map_err(|error| error.code);
    assert_eq!(amount("12.50 EUR"), Ok("12.50 EUR".into()));
    assert_eq!(amount(" 12.5  EUR "), Ok("12.50 EUR".into()));
    assert_eq!(amount("3 JPY"), Ok("3 JPY".into()));
    assert_eq!(amount("0.1 KWD"), Ok("0.100 KWD".into()));
    for wrong in [
        "12,50 EUR",
        "1/2 EUR",
        "1e3 EUR",
        "12.50",
        "EUR",
        "12.50 XAU",
        "12.50 XXX",
        "12.50 eur",
        ".5 EUR",
        "5. EUR",
        "1.2.3 EUR",
        "",
        "NaN EUR",
        "12.50EUR",
        "12 +/- EUR",
        "12 EUR +/- 1 USD",
        "12 +/- -1 EUR",
        "12 +/- 3 %",
    ] {
        assert_eq!(amount(wrong), Err(Code::BadQuantity), "{wrong}");
    }
    assert_eq!(amount("28 EUR/h"), Err(Code::WrongDimension));
    for wrong in ["1000000000001 EUR", "0.0000000001 EUR"] {
        assert_eq!(amount(wrong), Err(Code::OutOfRange), "{wrong}");
    }
    assert_eq!("28 EUR/h".parse::<TimeRate>().map(|rate| rate.to_string()), Ok("28 EUR/h".into()));
    for (text, told) in [("14 EUR / kg", "14 EUR/kg"), ("9 USD/lb", "9 USD/lb"), ("12 EUR/l", "12 EUR/l")] {
        assert_eq!(text.parse::<InkRate>().map(|rate| rate.to_string()), Ok(told.into()));
    }
    for text in ["0.02 USD/in2", "3.00 USD"] {
        assert_eq!(text.parse::<SheetRate>().map(|rate| rate.to_string()), Ok(text.into()));
    }
    let ink = |text: &str| text.parse::<InkRate>().map(|rate| rate.to_string()).map_err(|error| error.code);
    assert_eq!(ink("14 EUR/h"), Err(Code::WrongDimension));
    assert_eq!(ink("14 EUR"), Err(Code::WrongDimension));
    assert_eq!(ink("14 EUR/furlong"), Err(Code::BadQuantity));
}

/// A quote for one shirt, with this in the place of its labour.
fn with_labour(labour: &Value) -> Value {
    let mut request = quote();
    request["rates"]["labour"] = labour.clone();
    request
}

/// Through the wire: text, object, a number by its shortest decimal; and the error names the field.
#[test]
fn money_on_the_wire() {
    let rate = |labour: Value| {
        let answer = calculate("job.quote", &with_labour(&labour)).map_err(|error| (error.code, error.field))?;
        Ok(answer["cost_lines"][0]["rate"].clone())
    };
    let told = |value: &str| Ok(json!({"value": value, "unit": "EUR/h"}));
    assert_eq!(rate(json!("28 EUR/h")), told("28"));
    assert_eq!(rate(json!({"value": "28.10", "unit": "EUR/h"})), told("28.1"));
    assert_eq!(rate(json!({"value": 0.1, "unit": "EUR/h"})), told("0.1"));
    for (wrong, code, part) in [
        (json!(28), Code::BadQuantity, ""),
        (json!("28"), Code::BadQuantity, ""),
        (json!("28 /h"), Code::BadQuantity, ""),
        (json!("28 EUR"), Code::WrongDimension, ""),
        (json!("28 EUR/kg"), Code::WrongDimension, ""),
        (json!("-28 EUR/h"), Code::OutOfRange, ""),
        (json!({"value": 1e300, "unit": "EUR/h"}), Code::BadQuantity, ""),
        (json!({"value": null, "unit": "EUR/h"}), Code::MissingField, "/value"),
        (json!({"value": "28"}), Code::MissingField, "/unit"),
        (json!({"value": "28", "unit": 3}), Code::WrongType, "/unit"),
        (json!({"value": "28", "unit": "EUR/h", "per": 1}), Code::UnknownField, "/per"),
        (json!([28]), Code::WrongType, ""),
        (json!("28 USD/h"), Code::Impossible, ""),
    ] {
        assert_eq!(rate(wrong.clone()), Err((code, format!("/rates/labour{part}"))), "{wrong}");
    }
}

#[test]
fn a_line_is_rounded_once() {
    let (euro, rate) = (Currency::find("EUR").unwrap(), "28 EUR/h".parse::<TimeRate>().unwrap());
    let (hours, amount) = rate.times(1.0 / 3.0, euro).unwrap();
    assert_eq!((hours.to_string(), amount.to_string()), ("0.333333".into(), "9.33 EUR".into()));
    // 28 x 1.9123215 = 53.5450..., from 1.912322 hours: 53.545016 is 53.55.
    assert_eq!(rate.times(1.912_321_5, euro).unwrap().1.to_string(), "53.55 EUR");
    for wrong in [f64::NAN, f64::INFINITY, 1e300] {
        assert_eq!(rate.times(wrong, euro), None);
    }
}

proptest! {
    #[test]
    fn sums_lose_nothing(cents in proptest::collection::vec(-1_000_000_000_i64..1_000_000_000, 1..100)) {
        let currency = Currency::find("EUR").unwrap();
        let sum = cents.iter().try_fold(Money::nothing(currency), |sum, cents| sum.plus(&currency.minor(*cents)));
        prop_assert_eq!(sum.unwrap().in_minor_units(), Some(cents.iter().sum::<i64>()));
        let back = cents.iter().try_fold(sum.unwrap(), |sum, cents| sum.less(&currency.minor(*cents)));
        prop_assert_eq!(back, Some(Money::nothing(currency)));
    }

    #[test]
    fn shares_add_up(cents in -1_000_000_000_i64..1_000_000_000, weights in proptest::collection::vec(0_u64..1_000, 1..20)) {
        let money = Currency::find("EUR").unwrap().minor(cents);
        let shares = money.shared(&weights).unwrap();
        let sum = shares.iter().try_fold(Money::nothing(money.currency()), |sum, share| sum.plus(share));
        prop_assert_eq!(sum, Some(money));
    }

    #[test]
    fn written_and_read_again(cents in -1_000_000_000_000_i64..1_000_000_000_000, code in prop_oneof!["EUR", "JPY", "KWD"]) {
        let money = Currency::find(&code).unwrap().minor(cents);
        let read: Price = money.to_string().trim_start_matches('-').parse().unwrap();
        prop_assert_eq!(Money::new(read.value(), read.currency().unwrap()), Currency::find(&code).unwrap().minor(cents.abs()).into());
    }
}

#[test]
fn two_currencies_do_not_add() {
    assert_eq!(euro("1").plus(&Currency::find("USD").unwrap().minor(1)), None);
    assert_eq!(euro("1000000000000").plus(&euro("0.01")), None);
    assert_eq!(euro("0.005").in_minor_units(), None);
    assert_eq!(euro("0.005").shared(&[1, 1]), None);
}
