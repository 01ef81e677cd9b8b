//! Money against published tables: digits of currencies, rounding; and that sums and shares lose nothing.

use floodbar::Code;
use floodbar::money::rust_decimal::Decimal;
use floodbar::money::{Currency, Money, rate_of_object, rate_of_text};
use floodbar::quantity::Dimension;
use floodbar_tests::published::table;
use proptest::prelude::*;
use serde_json::json;

fn euro(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::find("EUR").unwrap()).unwrap()
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
    let amount = |text: &str| rate_of_text(text, None).map(|rate| rate.money.to_string()).map_err(|fault| fault.code);
    assert_eq!(amount("12.50 EUR"), Ok("12.50 EUR".into()));
    assert_eq!(amount(" 12.5  EUR "), Ok("12.50 EUR".into()));
    assert_eq!(amount("-3 JPY"), Ok("-3 JPY".into()));
    assert_eq!(amount("0.1 KWD"), Ok("0.100 KWD".into()));
    for wrong in [
        "12,50 EUR",
        "1/2 EUR",
        "1e3 EUR",
        "12.50",
        "EUR",
        "12.50 XAU",
        "12.50 eur",
        ".5 EUR",
        "1.2.3 EUR",
        "",
        "NaN EUR",
        "12.50EUR",
    ] {
        assert_eq!(amount(wrong), Err(Code::BadQuantity), "{wrong}");
    }
    assert_eq!(amount("28 EUR/h"), Err(Code::WrongDimension));
    assert_eq!(amount("1000000000001 EUR"), Err(Code::OutOfRange));
    assert_eq!(amount("0.0000000001 EUR"), Err(Code::OutOfRange));
    let rate =
        |text: &str, per| rate_of_text(text, Some(per)).map(|rate| rate.per.unwrap().name).map_err(|fault| fault.code);
    assert_eq!(rate("28 EUR/h", Dimension::Time), Ok("h"));
    assert_eq!(rate("14 EUR / kg", Dimension::Mass), Ok("kg"));
    assert_eq!(rate("9 USD/lb", Dimension::Mass), Ok("lb"));
    assert_eq!(rate("0.02 USD/in2", Dimension::Area), Ok("in2"));
    assert_eq!(rate("14 EUR/h", Dimension::Mass), Err(Code::WrongDimension));
    assert_eq!(rate("14 EUR", Dimension::Mass), Err(Code::WrongDimension));
    assert_eq!(rate("14 EUR/furlong", Dimension::Mass), Err(Code::BadQuantity));
    // A JSON number counts by its shortest decimal.
    let object = |value| rate_of_object(&value, "EUR", None).map(|rate| rate.money).map_err(|fault| fault.code);
    assert_eq!(object(json!(0.1)), Ok(euro("0.1")));
    assert_eq!(object(json!("12.50")), Ok(euro("12.5")));
    assert_eq!(object(json!(1e300)), Err(Code::BadQuantity));
    assert_eq!(object(json!(null)), Err(Code::BadQuantity));
}

#[test]
fn a_line_is_rounded_once() {
    let rate = rate_of_text("28 EUR/h", Some(Dimension::Time)).unwrap();
    let (hours, amount) = rate.of(1.0 / 3.0).unwrap();
    assert_eq!((hours.to_string(), amount.to_string()), ("0.333333".into(), "9.33 EUR".into()));
    // 28 x 1.9123215 = 53.5450..., from 1.912322 hours: 53.545016 is 53.55.
    assert_eq!(rate.of(1.912_321_5).unwrap().1.to_string(), "53.55 EUR");
    assert_eq!((rate.of(f64::NAN), rate.of(f64::INFINITY), rate.of(1e300)), (None, None, None));
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
        prop_assert_eq!(rate_of_text(&money.to_string(), None).map(|rate| rate.money), Ok(money));
    }
}

#[test]
fn two_currencies_do_not_add() {
    assert_eq!(euro("1").plus(&Currency::find("USD").unwrap().minor(1)), None);
    assert_eq!(euro("1000000000000").plus(&euro("0.01")), None);
    assert_eq!(euro("0.005").in_minor_units(), None);
    assert_eq!(euro("0.005").shared(&[1, 1]), None);
}
