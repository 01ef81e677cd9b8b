//! How far a print has faded, and how far it has stained its neighbour.

use crate::error::{Code, Error};
use crate::quantity::{Rules, units};
use crate::source::Source;
use crate::wire::{
    At, Field, Form, Kind, List, OwnForm, OwnKind, Remarks, Slot, View, answer, calculation, check_number,
    read_content, request, wrong_type,
};
use serde_json::Value;

const LIGHTNESS: Rules = Rules::range(units::ONE, 0.0, 100.0);
const AXIS: Rules = Rules::range(units::ONE, -200.0, 200.0).usual(-128.0, 128.0);

const CHANGE_SOURCE: Source = Source::memory(
    "ISO 105-A05: formula and bands, checked against the grey scale's own steps of ISO 105-A02 and one independent evaluation",
);
const STAINING_SOURCE: Source = Source::memory(
    "ISO 105-A04: formula and bands, checked against the grey scale's own steps of ISO 105-A03 and one independent evaluation",
);
/// The grade of change that buyers ask for.
const CUSTOMARY_GRADE: f64 = 4.0;
const CUSTOMARY_SOURCE: Source = Source::common("a retailer's guide: shade change 4 or better, staining 3 or better");

/// A colour in CIELAB.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness L*, 0 to 100.
    pub lightness: f64,
    /// a*, green to red.
    pub a: f64,
    /// b*, blue to yellow.
    pub b: f64,
}

impl Lab {
    /// The colour at these coordinates.
    #[must_use]
    pub const fn new(lightness: f64, a: f64, b: f64) -> Self {
        Self { lightness, a, b }
    }

    /// C*: the distance from grey.
    #[must_use]
    pub fn chroma(self) -> f64 {
        libm::hypot(self.a, self.b)
    }

    /// The hue angle in degrees, 0 to 360; 0 for a grey.
    #[must_use]
    pub fn hue(self) -> f64 {
        // Adding a zero takes the sign off a negative one, which would turn a grey's hue half round.
        let hue = libm::atan2(self.b + 0.0, self.a + 0.0).to_degrees();
        if hue < 0.0 { hue + 360.0 } else { hue }
    }
}

impl Field for Lab {
    const KIND: Kind = Kind::Own(&OwnKind {
        wanted: "an array of three numbers, L, a and b of CIELAB, such as [52.1, 48.0, 21.5]",
        forms: &[Form::Numbers(&[&LIGHTNESS, &AXIS, &AXIS])],
    });
    fn blank() -> Self {
        Self::new(0.0, 0.0, 0.0)
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl OwnForm for Lab {
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        let Value::Array(items) = value else { return Err(wrong_type(at, value, Self::KIND.wanted())) };
        let [lightness, a, b] = items.as_slice() else {
            let message = format!("`{}` has {} numbers: wanted is {}", at.name(), items.len(), Self::KIND.wanted());
            return Err(Error::new(Code::OutOfRange, at, message).got(value).allowed([Self::KIND.wanted()]));
        };
        let mut number = |index, value: &Value, rules| {
            let mut number = 0.0;
            read_content(f64::slot(&mut number), value, at.index(index), rules, remarks).map(|()| number)
        };
        *self = Self::new(number(0, lightness, &LIGHTNESS)?, number(1, a, &AXIS)?, number(2, b, &AXIS)?);
        Ok(())
    }
    fn check(&self, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        for (index, (number, rules)) in
            [(self.lightness, &LIGHTNESS), (self.a, &AXIS), (self.b, &AXIS)].into_iter().enumerate()
        {
            check_number(number, at.index(index), rules, remarks, || Value::from(number))?;
        }
        Ok(())
    }
    fn shown(&self) -> View<'_> {
        View::List(self)
    }
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        Some((Slot::List(self, &Self::KIND), &Rules::NONE))
    }
}

impl List for Lab {
    fn count(&self) -> usize {
        3
    }
    fn item(&self, index: usize) -> View<'_> {
        match index {
            0 => self.lightness.view(),
            1 => self.a.view(),
            _ => self.b.view(),
        }
    }
    fn item_mut(&mut self, index: usize) -> Option<Slot<'_>> {
        match index {
            0 => Some(self.lightness.slot()),
            1 => Some(self.a.slot()),
            2 => Some(self.b.slot()),
            _ => None,
        }
    }
}

request! {
    /// One place of a print, read before and after the wash.
    pub struct ColourChangeRequest {
        /// L, a and b before the wash.
        before "Before the wash": Lab,
        /// L, a and b after the wash.
        after "After the wash": Lab,
    }
}

answer! {
    /// How far the colour moved.
    pub struct ColourChange {
        /// CIE 1976 difference.
        de_ab "CIE 1976 difference": f64,
        /// CIEDE2000 difference.
        de_2000 "CIEDE2000 difference": f64,
        /// Difference of ISO 105-A05, in steps of the grey scale for change.
        de_f "Grey scale difference": f64,
        /// Grey scale grade of change: 5 is none, 1 is most, in halves.
        grey_scale_grade "Grade of change": f64,
        /// Grey scale grade of staining, where the readings are of a neighbouring cloth: 5 is none, 1 is most, in halves.
        staining_grade "Grade of staining": f64,
    }
}

calculation! {
    pub const COLOUR: ColourChangeRequest => ColourChange = colour;
    id: "wash.colour",
    title: "Fading in the wash",
    question: "How far has it faded?",
    asked: ["How much has the print faded?", "Which grey scale grade is this?"],
    headline: ["grey_scale_grade", "de_2000"],
    formula: "de_ab = sqrt(dL^2 + da^2 + db^2); de_2000 by ISO/CIE 11664-6 with kL = kC = kH = 1; de_f by ISO 105-A05 (chroma and hue differences, less D near blue, damped by the mean chroma), its grade by bands of de_f; staining by ISO 105-A04: dE_GS = de_ab - 0.4 sqrt(da^2 + db^2), rating 6.1 - 1.45 ln dE_GS, or 5 - 0.23 dE_GS where that is above 4",
    sources: &[
        Source::standard("ISO/CIE 11664-4: CIELAB (from memory)"),
        Source::standard("ISO/CIE 11664-6: CIEDE2000 (from memory)"),
        Source::published("Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21-30: hue differences and means"),
        CHANGE_SOURCE,
        STAINING_SOURCE,
    ],
    example: r#"{"before": [46.2, 58.4, 31.0], "after": [48.0, 54.1, 28.2]}"#,
}

/// The differences and grades of one place of a print.
///
/// L 0 to 100, a and b -200 to 200; all plain numbers.
///
/// # Errors
/// None for a request that was read.
pub(crate) fn colour(request: &ColourChangeRequest, remarks: &mut Remarks) -> Result<ColourChange, Error> {
    let (before, after) = (request.before, request.after);
    let de_f = de_f(before, after);
    let grey_scale_grade = change_grade(de_f);
    remarks.basis("de_f", CHANGE_SOURCE);
    remarks.basis("grey_scale_grade", CHANGE_SOURCE);
    remarks.basis("staining_grade", STAINING_SOURCE);
    if grey_scale_grade < CUSTOMARY_GRADE {
        remarks.basis("grey_scale_grade: customary limit", CUSTOMARY_SOURCE);
        remarks.caution(
            "shade_change",
            "/after",
            "worse than grade 4, the least that buyers' guides ask for in shade change",
        );
    }
    remarks.info(
        "fibrillation",
        "/after",
        "a shift after one wash may be fibres of the cloth that rose through the print (fibrillation) and not a weak cure: look through a loupe and wash on before blaming the dryer",
    );
    remarks.info(
        "two_grades",
        "",
        "the grey scale grade judges the print itself; the staining grade holds only where both readings are of a white cloth washed with it",
    );
    remarks.info(
        "same_reading",
        "",
        "read both with one instrument, light, observer and backing, at the same place, dry and rested: a new setting shifts more than a wash",
    );
    Ok(ColourChange {
        de_ab: de_ab(before, after),
        de_2000: de_2000(before, after),
        de_f,
        grey_scale_grade,
        staining_grade: staining_grade(staining_rating(de_gs(before, after))),
    })
}

/// The CIE 1976 colour difference: the distance in CIELAB. Source: ISO/CIE 11664-4 (from memory).
#[must_use]
pub fn de_ab(before: Lab, after: Lab) -> f64 {
    libm::hypot(after.lightness - before.lightness, libm::hypot(after.a - before.a, after.b - before.b))
}

/// Half a turn in degrees, with room for rounding: opposite hues must not fall on either side by their last bit.
const HALF_TURN: f64 = 180.0 + 1e-9;

/// From one hue to another the short way, in degrees, -180 to 180.
fn hue_step(from: f64, to: f64) -> f64 {
    match to - from {
        step if step > HALF_TURN => step - 360.0,
        step if step < -HALF_TURN => step + 360.0,
        step => step,
    }
}

/// The hue in the middle of the short way between those of two colours, in degrees. A grey has none: the other's counts.
fn hue_mean(one: Lab, two: Lab) -> f64 {
    let (first, second) = (one.hue(), two.hue());
    let sum = first + second;
    if one.chroma() * two.chroma() <= 0.0 {
        sum
    } else if (first - second).abs() <= HALF_TURN {
        sum / 2.0
    } else if sum < 360.0 {
        sum / 2.0 + 180.0
    } else {
        sum / 2.0 - 180.0
    }
}

/// The hue part of a difference, with the sign of the turn: 2 sqrt(C0 C1) sin(dh / 2).
fn hue_part(before: Lab, after: Lab) -> f64 {
    let half = hue_step(before.hue(), after.hue()).to_radians() / 2.0;
    2.0 * (before.chroma() * after.chroma()).sqrt() * libm::sin(half)
}

/// The CIEDE2000 colour difference, kL = kC = kH = 1.
///
/// Hues that are exactly opposite count as within half a turn, as the paper's pairs 10 and 14 do. Source: ISO/CIE 11664-6
/// (from memory); Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21-30.
#[must_use]
pub fn de_2000(before: Lab, after: Lab) -> f64 {
    // sqrt(C^7 / (C^7 + 25^7)): from 0 for greys to 1 for strong colours.
    let strength = |chroma: f64| {
        let seventh = libm::pow(chroma, 7.0);
        (seventh / (seventh + 6_103_515_625.0)).sqrt()
    };
    let stretch = 1.0 + 0.5 * (1.0 - strength(before.chroma().midpoint(after.chroma())));
    let stretched = |colour: Lab| Lab { a: colour.a * stretch, ..colour };
    let (before, after) = (stretched(before), stretched(after));

    let lightness = before.lightness.midpoint(after.lightness);
    let chroma = before.chroma().midpoint(after.chroma());
    let hue = hue_mean(before, after);
    let cosine = |degrees: f64| libm::cos(degrees.to_radians());
    let tint = 1.0 - 0.17 * cosine(hue - 30.0) + 0.24 * cosine(2.0 * hue) + 0.32 * cosine(3.0 * hue + 6.0)
        - 0.20 * cosine(4.0 * hue - 63.0);
    let from_middle = (lightness - 50.0) * (lightness - 50.0);
    let lightness_scale = 1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt();
    let from_blue = (hue - 275.0) / 25.0;
    let turn = 60.0 * libm::exp(-from_blue * from_blue);
    let rotation = -2.0 * strength(chroma) * libm::sin(turn.to_radians());

    let l = (after.lightness - before.lightness) / lightness_scale;
    let c = (after.chroma() - before.chroma()) / (1.0 + 0.045 * chroma);
    let h = hue_part(before, after) / (1.0 + 0.015 * chroma * tint);
    (l * l + c * c + h * h + rotation * c * h).max(0.0).sqrt()
}

/// The colour difference of ISO 105-A05, in steps of the grey scale for change. All of it from memory:
///
/// ```text
/// dE_F  = sqrt(dL^2 + dC_F^2 + dH_F^2)
/// dC_F  = dC_K / (1 + (20 C_M / 1000)^2)      dC_K = dC - D
/// dH_F  = dH_K / (1 + (10 C_M / 1000)^2)      dH_K = dH - D
/// D     = dC C_M exp(-x) / 100                x = ((h_M - 280) / 30)^2, the short way round
/// ```
///
/// C_M and h_M are the means of chroma and hue; dH has the sign of the turn from before to after. A grey has no hue: the
/// other colour's counts.
#[must_use]
pub fn de_f(before: Lab, after: Lab) -> f64 {
    let mean = before.chroma().midpoint(after.chroma());
    let from_blue = hue_step(280.0, hue_mean(before, after)) / 30.0;
    let chroma = after.chroma() - before.chroma();
    let near_blue = chroma * mean * libm::exp(-from_blue * from_blue) / 100.0;
    let damped = |difference: f64, by: f64| difference / (1.0 + by * by);
    let chroma = damped(chroma - near_blue, 20.0 * mean / 1000.0);
    let hue = damped(hue_part(before, after) - near_blue, 10.0 * mean / 1000.0);
    libm::hypot(after.lightness - before.lightness, libm::hypot(chroma, hue))
}

/// Where each grade of change ends, in dE_F, this value excluded: ISO 105-A05 (from memory).
const CHANGE_BANDS: [(f64, f64); 8] =
    [(0.40, 5.0), (1.25, 4.5), (2.10, 4.0), (2.95, 3.5), (4.10, 3.0), (5.80, 2.5), (8.20, 2.0), (11.60, 1.5)];

/// The grey scale grade of change, 5 to 1 in halves, of a difference dE_F of ISO 105-A05.
#[must_use]
pub fn change_grade(de_f: f64) -> f64 {
    // A difference that equals the end of a band must not miss it by a rounding.
    CHANGE_BANDS.iter().find(|(end, _)| de_f + 1e-9 < *end).map_or(1.0, |(_, grade)| *grade)
}

/// The difference of ISO 105-A04, in steps of the grey scale for staining: dE - 0.4 sqrt(dE^2 - dL^2) (from memory).
#[must_use]
pub fn de_gs(before: Lab, after: Lab) -> f64 {
    de_ab(before, after) - 0.4 * libm::hypot(after.a - before.a, after.b - before.b)
}

/// The staining rating of a difference dE_GS: 6.1 - 1.45 ln dE_GS, or 5 - 0.23 dE_GS where that is above 4. Source: ISO
/// 105-A04 (from memory).
#[must_use]
pub fn staining_rating(de_gs: f64) -> f64 {
    let rating = 6.1 - 1.45 * libm::log(de_gs);
    if rating > 4.0 { 5.0 - 0.23 * de_gs } else { rating }
}

/// The grey scale grade of staining, 5 to 1 in halves: the half nearest to the rating, which is stated to two decimals.
/// Source: the bands of ISO 105-A04 (from memory).
#[must_use]
pub fn staining_grade(rating: f64) -> f64 {
    let hundredths = (rating * 100.0).round();
    (((hundredths + 25.0) / 50.0).floor() / 2.0).clamp(1.0, 5.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn opposite_hues_do_not_flip_on_the_last_bit() {
        // Sharma, Wu, Dalal (2005), table 1, pair 14, and its turns: 4.8045, and 4.7461 for the other mean of the hues.
        for (a, b) in [(-0.001, 2.49), (0.001, -2.49)] {
            let got = de_2000(Lab::new(50.0, a, b), Lab::new(50.0, -a, -b));
            assert!((got - 4.8045).abs() < 1e-4, "{got}");
        }
    }

    #[test]
    fn the_short_way_round() {
        for (from, to, step) in [(350.0, 10.0, 20.0), (10.0, 350.0, -20.0), (0.0, 180.0, 180.0), (180.0, 0.0, -180.0)] {
            assert!((hue_step(from, to) - step).abs() < 1e-12, "{from} to {to}");
        }
        assert!(Lab::new(50.0, -0.0, 0.0).hue().abs() < 1e-12, "a grey's negative zero is no half turn");
    }

    #[test]
    fn a_difference_at_the_end_of_a_band_is_past_it() {
        for (end, grade) in CHANGE_BANDS {
            let at = de_f(Lab::new(50.0, 0.0, 0.0), Lab::new(50.0 + end, 0.0, 0.0));
            assert!((change_grade(at) - grade + 0.5).abs() < 1e-12, "{end}");
            assert!((change_grade(end - 1e-6) - grade).abs() < 1e-12, "{end}");
        }
    }

    #[test]
    fn a_colour_is_three_numbers() {
        let ask = |before| COLOUR.answer_json(&json!({ "before": before, "after": [50, 0, 0] }));
        let refused = |before| ask(before).map(|_| ()).map_err(|e| (e.code, e.field)).unwrap_err();
        assert_eq!(refused(json!([50, 0])), (Code::OutOfRange, "/before".into()));
        assert_eq!(refused(json!([50, 0, 0, 0])), (Code::OutOfRange, "/before".into()));
        assert_eq!(refused(json!([100.5, 0, 0])), (Code::OutOfRange, "/before/0".into()));
        assert_eq!(refused(json!([50, 0, -201])), (Code::OutOfRange, "/before/2".into()));
        assert_eq!(refused(json!([50, true, 0])), (Code::WrongType, "/before/1".into()));
        assert_eq!(refused(json!({ "L": 50 })), (Code::WrongType, "/before".into()));
        let doubted = ask(json!(["51 +/- 1", 0, 0])).unwrap();
        let moved = doubted.doubts().iter().find(|doubt| doubt.at == "/de_ab").unwrap();
        assert!((moved.half_width - 1.0).abs() < 1e-12 && moved.contributor == "/before/0", "{moved:?}");
        let codes = |before| -> Vec<_> {
            let answer = ask(before).unwrap().to_value().unwrap();
            let notes = answer["notes"].as_array().unwrap();
            notes.iter().map(|n| n["code"].as_str().unwrap().to_owned()).collect()
        };
        assert!(codes(json!([50, 129, 0])).contains(&"unusual_value".to_owned()));
        assert!(codes(json!([55, 0, 0])).contains(&"shade_change".to_owned()));
        assert!(!codes(json!([51, 0, 0])).contains(&"shade_change".to_owned()));
    }
}
