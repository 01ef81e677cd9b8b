//! Measuring the pixels of a separation.

use crate::draw::Draw;
use crate::judge;
use crate::mutate::stranger;
use crate::telling;
use crate::weigh::bounded;
use floodbar::Error;
use floodbar::artwork::measure_bytes;
use serde_json::{Value, json};

/// A picture has the same measure twice, and in reversed greys where ink is said to be the reverse.
pub fn measure(data: &[u8]) {
    let mut draw = Draw::new(data);
    let (wide, high) = (draw.below(48), draw.below(48));
    let beyond = draw.below(4);
    let mut spec = json!({
        "pixels_wide": wide, "pixels_high": high, "resolution": draw.pick(&["300 /in", "12 /cm", "1 /m", "1e5 /mm", "72 /in"]),
        "ink": draw.pick(&["dark", "light"]), "stride": wide + beyond,
    });
    let members = spec.as_object_mut().expect("an object");
    match draw.below(16) {
        0 => drop(members.insert("edge_length_scale".into(), stranger(&mut draw))),
        1 => drop(members.insert("stride".into(), stranger(&mut draw))),
        2 => drop(members.insert("pixels_high".into(), json!(10_000_000))),
        3 => {
            drop(members.insert(draw.pick(&["ink", "resolution", "pixels_wide", "x"]).to_string(), stranger(&mut draw)))
        }
        4 => drop(members.insert("edge_length_scale".into(), json!(format!("{} mm", 2.0 * draw.share())))),
        5 => drop(members.shift_remove("stride")),
        _ => {}
    }
    let count = (wide + beyond) * high + draw.below(3) * draw.below(3);
    let pattern = draw.below(6);
    let rest = draw.rest();
    let pixel = |index: usize| {
        let (x, y) = (index % (wide + beyond).max(1), index / (wide + beyond).max(1));
        let drawn = rest.get(index % rest.len().max(1)).copied().unwrap_or(255);
        match pattern {
            0 => drawn,
            1 => 255 * u8::from(drawn & 1 == 1),
            2 => 255 * u8::from((x + y) % 2 == 0),
            3 => 255 * u8::from(x % 5 == 0 || y == x),
            4 => 255 * u8::from(usize::from(drawn) % wide.max(1) == x),
            _ => 255,
        }
    };
    let pixels: Vec<u8> = (0..count).map(pixel).collect();
    telling(|| format!("{spec} {pixels:?}"), || judge(&pixels, &spec));
}

fn judge(pixels: &[u8], spec: &Value) {
    let asked = |pixels: &[u8], spec: &Value| -> Result<Value, Error> { measure_bytes(pixels, spec)?.to_value() };
    let measured = bounded(pixels.len(), || asked(pixels, spec));
    assert_eq!(measured, asked(pixels, spec), "measured twice");
    match &measured {
        Ok(answer) => {
            judge::judge_answer("artwork.measure", spec, answer);
            let reversed: Vec<u8> = pixels.iter().map(|pixel| 255 - pixel).collect();
            let mut other = spec.clone();
            other["ink"] = json!(if spec["ink"] == "dark" { "light" } else { "dark" });
            assert_eq!(
                asked(&reversed, &other).map(|answer| numbers(&answer)),
                Ok(numbers(answer)),
                "in reversed greys"
            );
        }
        Err(error) => judge::judge_error("artwork.measure", Some(spec), error),
    }
}

/// What was measured, without what is said of it.
fn numbers(answer: &Value) -> Value {
    let mut answer = answer.clone();
    if let Some(members) = answer.as_object_mut() {
        members.retain(|name, _| name != "notes" && name != "basis");
    }
    answer
}
