//! The parser of quantities: texts and objects of every dimension.

use crate::draw::Draw;
use crate::mutate::quantity as form;
use crate::telling;
use floodbar::quantity::{Dimension, Rules, UNITS, measure_object, measure_text, number};

/// What is read is finite, and is read again from how it is written.
pub fn quantity(data: &[u8]) {
    let mut draw = Draw::new(data);
    let dimension = draw.pick(UNITS).dimension;
    let text = match draw.below(3) {
        0 => String::from_utf8_lossy(draw.rest()).into_owned(),
        1 => composed(&mut draw),
        _ => match form(dimension, &Rules::NONE, &mut draw) {
            serde_json::Value::String(text) => text,
            other => other.to_string(),
        },
    };
    telling(|| format!("{dimension:?} {text:?}"), || read(&text, dimension));
}

fn composed(draw: &mut Draw<'_>) -> String {
    const PARTS: [&str; 30] = [
        "1", "12", ".5", "1/16", "3 1/2", "1e-3", "1E+400", "-", "+", "+/-", "±", "+-", " ", "  ", "%", "/", "0", "00",
        "1/0", "½", "\u{a0}", "\u{3000}", "²", "µ", "μ", "mm", "/cm", "e", ".", ",",
    ];
    let mut text = String::new();
    for _ in 0..=draw.below(6) {
        match draw.below(3) {
            0 => text.push_str(draw.pick(UNITS).name),
            _ => text.push_str(PARTS[draw.below(PARTS.len())]),
        }
    }
    text
}

fn read(text: &str, dimension: Dimension) {
    let _ = number(text);
    let Ok((measure, unit)) = measure_text(text, dimension) else { return };
    assert!(measure.si.is_finite() && measure.half_width.is_none_or(f64::is_finite), "{measure:?}");
    assert_eq!(unit.dimension, dimension);
    assert_eq!(measure_text(text, dimension).map(|(again, _)| again).ok(), Some(measure), "read twice");
    // As answers write it: the value in its unit, where that can be written.
    let value = unit.from_si(measure.si);
    let told = serde_json::to_string(&value).expect("a number");
    if value.is_finite() {
        let written = measure_text(&format!("{told} {}", unit.name), dimension).expect("what is written is read");
        let object = measure_object(value, unit.name, None, dimension).expect("an object is read");
        assert_eq!(written.0.si.to_bits(), object.0.si.to_bits(), "as text and as an object");
        let near = (object.0.si - measure.si).abs() <= 1e-12 * (measure.si.abs() + unit.to_si(0.0).abs());
        assert!(near || value.abs() < f64::MIN_POSITIVE / f64::EPSILON, "{} became {}", measure.si, object.0.si);
    }
}
