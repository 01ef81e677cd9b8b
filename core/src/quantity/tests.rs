use super::*;
use crate::error::Code;

fn read(text: &str, dimension: Dimension) -> f64 {
    measure_text(text, dimension).map(|(m, _)| m.si).unwrap_or(f64::NAN)
}

fn code(text: &str, dimension: Dimension) -> Code {
    measure_text(text, dimension).unwrap_err().code
}

#[test]
fn every_spelling_means_one_unit_of_a_dimension() {
    let mut seen = std::collections::BTreeSet::new();
    for unit in UNITS {
        for spelling in std::iter::once(unit.name).chain(unit.spellings.iter().copied()) {
            assert!(seen.insert((spelling, unit.dimension.name())), "{spelling} stands twice for {:?}", unit.dimension);
            assert!(find(spelling).any(|found| found.name == unit.name), "{spelling}");
            // What has no spelling of its own after folding could never be typed.
            let folded = fold(spelling);
            assert!(find(&folded).any(|found| found.name == unit.name), "{spelling} folds to {folded}");
        }
    }
    for dimension in Dimension::ALL {
        assert!(UNITS.iter().any(|unit| unit.dimension == *dimension), "{dimension:?} has no unit");
        assert!(measure_text(dimension.example(), *dimension).is_ok(), "{}", dimension.example());
    }
}

#[test]
fn spellings_of_the_wire_are_all_known() {
    // The list of the wire format, with UCUM codes.
    let list = "um µm μm Cel degC °C C degF °F F [degF] K delta_degF mm cm m in \" [in_i] ft yd mil thou m2 cm2 mm2 in2 /cm 1/cm \
        /in 1/in tpi N N/cm N/m lbf/in m/min m/s cm/s ft/min in/s g/m2 oz/yd2 cm3/m2 mJ/cm2 J/m2 mW/cm2 W/m2 kW/m2 W/in2 kJ/m2 \
        W/(m2.K) W/(m.K) J/(kg.K) kJ/mol J/mol g/cm3 kg/m3 lb/gal g kg oz lb ml l gal floz m2/kg /kg s min h d /h deg %";
    for spelling in list.split_whitespace() {
        assert!(find(&fold(spelling)).next().is_some(), "{spelling}");
    }
}

#[test]
fn numbers_come_as_decimals_and_fractions() {
    let inch = 0.0254;
    for (text, si) in [
        ("1/16 in", inch / 16.0),
        ("3 1/2 in", 3.5 * inch),
        ("3 1/2in", 3.5 * inch),
        ("  12\" ", 12.0 * inch),
        ("1e-3 m", 1e-3),
        (".5 m", 0.5),
        ("5. m", 5.0),
        ("+2 m", 2.0),
        ("-2 m", -2.0),
        ("55 \u{b5}m", 55e-6),
        ("55 \u{3bc}m", 55e-6),
        ("55um", 55e-6),
        ("12\u{2033}", 12.0 * inch),
        ("12\u{201d}", 12.0 * inch),
        ("2\u{2032}", 24.0 * inch),
        ("2\u{2019}", 24.0 * inch),
    ] {
        approx::assert_relative_eq!(read(text, Dimension::Length), si, epsilon = 0.0, max_relative = 1e-15);
    }
    approx::assert_relative_eq!(read("77 1/cm", Dimension::Count), 7700.0, epsilon = 0.0);
    approx::assert_relative_eq!(read("1.15 g/cm\u{b3}", Dimension::Density), 1150.0, epsilon = 0.0);
    approx::assert_relative_eq!(read("1/cm", Dimension::Count), 100.0, epsilon = 0.0);
}

#[test]
fn what_is_not_a_quantity_is_refused_and_never_guessed() {
    for text in [
        "",
        " ",
        "um",
        "12",
        "1,5 mm",
        "1.000,5 mm",
        "inf m",
        "nan m",
        "NaN m",
        "0x10 m",
        "1e999 m",
        "1/0 m",
        "1 1/0 m",
        "5 m m",
        "5 5 m",
        "--5 m",
        "5e m",
        "1 2/3/4 m",
        "5 +/- m",
        "5 +/- 1",
        "5 m +/- 1",
        "5 m +/- -1 m",
        "5 furlong",
        "1/2/3 m",
        "\u{0}5 m",
    ] {
        assert_eq!(code(text, Dimension::Length), Code::BadQuantity, "{text:?}");
    }
    assert_eq!(code("5 kg", Dimension::Length), Code::WrongDimension);
    assert_eq!(code("5 degC", Dimension::TemperatureDifference), Code::WrongDimension);
    assert_eq!(code("5 delta_degF", Dimension::Temperature), Code::WrongDimension);
}

#[test]
fn kelvin_is_both_and_the_field_decides() {
    assert_eq!(read("300 K", Dimension::Temperature).to_bits(), 300.0_f64.to_bits());
    assert_eq!(read("3 K", Dimension::TemperatureDifference).to_bits(), 3.0_f64.to_bits());
    approx::assert_relative_eq!(read("320 degF", Dimension::Temperature), 433.15, epsilon = 0.0, max_relative = 1e-14);
    approx::assert_relative_eq!(
        read("9 delta_degF", Dimension::TemperatureDifference),
        5.0,
        epsilon = 0.0,
        max_relative = 1e-14
    );
}

#[test]
fn doubt_is_read_in_every_form() {
    let half = |text: &str, dimension| measure_text(text, dimension).unwrap().0.half_width.unwrap();
    for text in ["160 +/- 3 degC", "160 \u{b1} 3 degC", "160 +- 3 degC", "160\u{b1}3 degC", "160 degC +/- 3 K"] {
        approx::assert_relative_eq!(half(text, Dimension::Temperature), 3.0, epsilon = 0.0);
    }
    approx::assert_relative_eq!(
        half("320 +/- 9 degF", Dimension::Temperature),
        5.0,
        epsilon = 0.0,
        max_relative = 1e-14
    );
    approx::assert_relative_eq!(half("27 um +/- 3 %", Dimension::Length), 0.81e-6, epsilon = 0.0, max_relative = 1e-14);
    approx::assert_relative_eq!(half("0.40 +/- 0.08", Dimension::Fraction), 0.08, epsilon = 0.0);
    approx::assert_relative_eq!(half("40 +/- 8 %", Dimension::Fraction), 0.08, epsilon = 0.0);
    assert_eq!(code("0.40 +/- 20 %", Dimension::Fraction), Code::BadQuantity);
    assert_eq!(code("160 degC +/- 3 %", Dimension::Temperature), Code::BadQuantity);
    assert_eq!(code("5 +/- -1 m", Dimension::Length), Code::BadQuantity);
}

#[test]
fn a_temperature_and_a_difference_have_their_own_arithmetic() {
    let shirt: Temperature = units::DEG_C.of(25.0);
    let cured: Temperature = units::DEG_F.of(320.0);
    let rise = cured - shirt;
    approx::assert_relative_eq!(units::KELVIN_STEP.value(rise), 135.0, epsilon = 0.0, max_relative = 1e-12);
    approx::assert_relative_eq!(units::DEG_C.value(shirt + rise), 160.0, epsilon = 0.0, max_relative = 1e-12);
    approx::assert_relative_eq!(units::DEG_C.value(cured - rise), 25.0, epsilon = 0.0, max_relative = 1e-12);
}
