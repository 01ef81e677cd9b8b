//! Screens whose artwork is a picture file: measured, before the order goes to the library.

use crate::told;
use floodbar::note::Level;
use floodbar_examples::picture;
use serde_json::{Map, Value, json};
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

/// A caution or limit from the measurement of a screen's artwork: the plan takes its numbers and not its notes.
pub struct Warning {
    pub screen: String,
    pub level: Level,
    pub message: String,
}

/// Puts the answer of `artwork.measure` in the place of `art`, `art_resolution` and `art_ink` in every screen that has `art`: a
/// file's path, from `folder`. Gives what was warned of, also where the order had the answer already.
pub fn measure(order: &mut Value, folder: &Path) -> Result<Vec<Warning>, String> {
    let mut warnings = Vec::new();
    let units = order.get("units").cloned();
    let placements = order.get_mut("placements").and_then(Value::as_array_mut).into_iter().flatten();
    let screens = placements.filter_map(|placement| placement.get_mut("screens")?.as_array_mut()).flatten();
    for screen in screens.filter_map(Value::as_object_mut) {
        let name = screen.get("name").and_then(Value::as_str).unwrap_or("without a name").to_owned();
        if let Some(art) = screen.remove("art") {
            let measured = artwork(&art, screen, units.as_ref(), folder).map_err(|e| {
                let file = art.as_str().map(|file| format!(", {file}")).unwrap_or_default();
                format!("screen {name}{file}: {e}")
            })?;
            screen.insert("artwork".into(), measured);
        }
        let notes = screen.get("artwork").and_then(|artwork| artwork.get("notes")?.as_array()).into_iter().flatten();
        warnings.extend(notes.filter_map(|note| {
            let level = [Level::Caution, Level::Limit].into_iter().find(|level| note["level"] == level.text())?;
            Some(Warning { screen: name.clone(), level, message: note.get("message")?.as_str()?.to_owned() })
        }));
    }
    Ok(warnings)
}

fn artwork(
    art: &Value,
    screen: &mut Map<String, Value>,
    units: Option<&Value>,
    folder: &Path,
) -> Result<Value, String> {
    let file = art.as_str().ok_or("art is the path of a picture file, a text")?;
    if screen.contains_key("artwork") {
        return Err("the artwork is given twice: give art or artwork".into());
    }
    let ink = screen.remove("art_ink").unwrap_or_else(|| "dark".into());
    let bare = if ink == "light" { 0 } else { 255 };
    let opened = File::open(folder.join(file)).map_err(|e| e.to_string())?;
    let picture = picture::read(BufReader::new(opened), bare)?;
    let resolution = screen.remove("art_resolution").or(picture.resolution.map(Value::from)).ok_or(
        "the file does not say how many pixels it has to the inch: add e.g. \"art_resolution\": \"300 /in\" to the screen",
    )?;
    let mut spec = json!({
        "pixels_wide": picture.wide, "pixels_high": picture.high, "resolution": resolution, "ink": ink,
    });
    if let (Some(units), Some(spec)) = (units, spec.as_object_mut()) {
        spec.insert("units".into(), units.clone());
    }
    let measured = floodbar::artwork::measure_bytes(&picture.pixels, &spec).and_then(|answer| answer.to_value());
    measured.map_err(|mut e| {
        for (asked, ours) in [("/resolution", "/art_resolution"), ("/ink", "/art_ink")] {
            if e.field == asked {
                e.field = ours.into();
            }
        }
        told(&e)
    })
}
