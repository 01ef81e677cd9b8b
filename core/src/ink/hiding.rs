//! How well an ink hides: S and K from a drawdown over black and white.

use super::kubelka_munk::{Fitted, Optics, Surface, absorbed, fitted, reflectance};
use crate::error::{Code, Error};
use crate::quantity::{Count, Dimensioned, Length, Rank, Rules, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};
use serde_json::Value;

const FILM: Rules = Rules::range(units::UM, 0.1, 5_000.0).usual(5.0, 300.0).group("The drawdown");
const READING: Rules = Rules::range(units::ONE, 0.0, 100.0).group("The readings");
const CONTRAST: Rules = Rules::range(units::ONE, 0.5, 0.9999)
    .usual(0.9, 0.99)
    .rank(Rank::Rare)
    .or(0.98, Source::standard("ISO 6504-1: a film counts as hiding at a contrast ratio of 98 %"));
pub(super) const OUTER: Rules =
    Rules::range(units::ONE, 0.0, 0.2).usual(0.0, 0.06).rank(Rank::Rare).group("The surface").or(
        0.04,
        Source::published("Saunderson, J. Opt. Soc. Am. 32 (1942) 727: Fresnel, refractive index 1.5 (from memory)"),
    );
pub(super) const INNER: Rules =
    Rules::range(units::ONE, 0.0, 0.9).usual(0.0, 0.65).rank(Rank::Rare).group("The surface").or(
        0.60,
        Source::published("Saunderson, J. Opt. Soc. Am. 32 (1942) 727: 0.4 to 0.6 for diffuse light (from memory)"),
    );

/// Work of looking for S and K and for the films, in rows.
const SOUGHT: f64 = 2_000.0;
/// Beyond this contrast the readings of two grounds are too alike to tell S.
const NEARLY_OPAQUE: f64 = 0.98;

pub(super) const LAYER: Source = Source::published(
    "P. Kubelka and F. Munk, Z. tech. Phys. 12 (1931) 593; P. Kubelka, J. Opt. Soc. Am. 38 (1948) 448",
);
pub(super) const SURFACE: Source = Source::published("J. L. Saunderson, J. Opt. Soc. Am. 32 (1942) 727");
pub(super) const SCALE: Source = Source::standard("CIE 15, ISO/CIE 11664-4: lightness of a reflectance");

words! {
    /// What readings of a surface are.
    pub enum ReadAs ("scale") {
        /// CIE L*, 0 to 100.
        Lightness = "lightness",
        /// The reflected share of light, 0 to 1.
        Reflectance = "reflectance",
    }
}

words! {
    /// Whether readings hold the gloss of the surface.
    pub enum Specular ("gloss") {
        /// An integrating sphere with its trap closed.
        Included = "included",
        /// 45 degrees to 0, a sphere with its trap open, a camera.
        Excluded = "excluded",
    }
}

request! {
    /// A drawdown that was read.
    pub struct HidingRequest {
        /// Thickness of the dry film.
        film "Dry film": Length as Film where FILM,
        /// What is read of the ink over black.
        over_black "Ink over black": f64 where READING,
        /// What is read of the ink over white.
        over_white "Ink over white": f64 where READING,
        /// What is read of the black of the card.
        black "Black of the card": f64 where READING,
        /// What is read of the white of the card.
        white "White of the card": f64 where READING,
        /// What the readings are.
        read_as "Readings are": Option<ReadAs> where Rules::NONE.group("The readings").unless_given("lightness"),
        /// Whether the readings hold the gloss.
        specular "Gloss in the readings": Option<Specular> where Rules::NONE.rank(Rank::Rare).group("The surface").unless_given("excluded"),
        /// Share of light that the surface reflects from outside; 0 leaves the surface out.
        surface_reflection_fraction "Reflected outside": f64 where OUTER,
        /// Share of diffuse light that the surface reflects back inside.
        inner_reflection_fraction "Reflected inside": f64 where INNER,
        /// The contrast at which the ink counts as hiding.
        wanted_contrast "Contrast wanted": f64 where CONTRAST,
    }
}

answer! {
    /// How well it hides.
    pub struct Hiding {
        /// S: the ink's scattering from now on; a lower bound where the drawdown hides its card.
        scattering "Scattering coefficient": Count as Film,
        /// K: the ink's absorption from now on.
        absorption "Absorption coefficient": Count as Film,
        /// What is read over black, of what is read over white.
        contrast_ratio "Contrast ratio": f64,
        /// Dry film that reaches the contrast wanted; an upper bound where the drawdown hides its card.
        film_for_contrast "Film that hides": Option<Length> as Film,
    }
}

calculation! {
    pub const HIDING: HidingRequest => Hiding = hiding;
    id: "ink.hiding",
    title: "Hiding of an ink",
    question: "How well does my ink hide?",
    asked: ["How opaque is my white?", "How do I measure the opacity of an ink?"],
    headline: ["scattering", "film_for_contrast"],
    formula: "R = (1 - Rg (a - b coth(b S X))) / (a - Rg + b coth(b S X)), a = 1 + K / S, b = sqrt(a^2 - 1), turned round for S and K from one film over two grounds; readings R' = k1 (gloss included) + (1 - k1)(1 - k2) R / (1 - k2 R); reflectance ((L* + 16) / 116)^3; contrast R' over black / R' over white",
    sources: &[LAYER, SURFACE, SCALE],
    example: r#"{"film": "40 um", "over_black": 84.0, "over_white": 91.5, "black": 8, "white": 95}"#,
}

/// S and K from a drawdown, and the film that hides.
///
/// The readings are of light: a phone's colour application does for white, with the same lamp, distance and exposure for all four.
///
/// # Errors
/// `out_of_range` for a reflectance above 1, `impossible` for readings in the wrong order, or that no film gives.
pub(crate) fn hiding(request: &HidingRequest, remarks: &mut Remarks) -> Result<Hiding, Error> {
    let surface = surface(request.specular, request.surface_reflection_fraction, request.inner_reflection_fraction);
    let read = |field: &str, reading: f64| match request.read_as {
        Some(ReadAs::Reflectance) if reading > 1.0 => Err(Error::new(
            Code::OutOfRange,
            field,
            "a surface reflects at most all light: a reading above 1 is a lightness",
        )
        .got(&Value::from(reading))
        .allowed(["0 to 1"])),
        Some(ReadAs::Reflectance) => Ok(reading),
        _ => Ok(reflectance(reading)),
    };
    // A reading as a share of light, and what the film reflects below its surface.
    let seen = |field: &str, reading: f64| {
        let read = read(field, reading)?;
        let inside = surface.inside(read);
        let message = if inside < 0.0 {
            "less is read than the surface alone reflects: was the gloss excluded?"
        } else {
            "more is read than any film under such a surface reflects: was the gloss included?"
        };
        if (0.0..=1.0).contains(&inside) {
            Ok((read, inside))
        } else {
            Err(Error::new(Code::Impossible, field, message).got(&Value::from(reading)))
        }
    };
    let (_, black) = seen("/black", request.black)?;
    let (_, white) = seen("/white", request.white)?;
    let (read_black, over_black) = seen("/over_black", request.over_black)?;
    let (read_white, over_white) = seen("/over_white", request.over_white)?;
    let order = |field: &str, message: &'static str| Err(Error::new(Code::Impossible, field, message));
    if black >= white {
        return order("/black", "the black of the card reads no darker than its white: were they swapped?");
    }
    if over_black > over_white {
        return order("/over_black", "the ink reads lighter over black than over white: were the readings swapped?");
    }
    let contrast_ratio = if read_white > 0.0 { read_black / read_white } else { 1.0 };
    remarks.work().spend(SOUGHT);
    let grounds = [black, white];
    let impossible = || {
        Error::new(
            Code::Impossible,
            "/over_white",
            "no film that scatters and absorbs light reads so over these two grounds: check the readings, the gloss and the cards",
        )
    };
    let found = match fitted(request.film, grounds, [over_black, over_white]) {
        Fitted::Nothing => return Err(impossible()),
        Fitted::Optics(optics) if contrast_ratio < NEARLY_OPAQUE => optics,
        Fitted::Optics(_) | Fitted::Opaque => {
            remarks.caution(
                "nearly_opaque",
                "/film",
                "the film hides its card, so that it tells no more than that: S is a lower bound and the film that hides an upper one; make a thinner drawdown",
            );
            bound(request.film, grounds, over_white, surface).ok_or_else(impossible)?
        }
    };
    remarks.info(
        "same_light",
        "/over_black",
        "read all four in the same light, on a dry film without streaks; white and grey only, a colour has an S and a K at every wavelength",
    );
    Ok(Hiding {
        scattering: found.scattering,
        absorption: found.absorption,
        contrast_ratio,
        film_for_contrast: found.film_for_contrast(request.wanted_contrast, grounds, surface),
    })
}

/// The weakest scattering whose film of this thickness hides as far as readings can tell.
fn bound(film: Length, grounds: [f64; 2], thick: f64, surface: Surface) -> Option<Optics> {
    let share = absorbed(thick);
    let unit = Optics { scattering: units::PER_MM.of(1.0), absorption: units::PER_MM.of(share) };
    let hides = unit.film_for_contrast(NEARLY_OPAQUE, grounds, surface)?;
    let times: f64 = (hides / film).into();
    let optics = Optics { scattering: times * unit.scattering, absorption: times * unit.absorption };
    (optics.scattering.si().is_finite() && optics.absorption.si().is_finite()).then_some(optics)
}

/// The surface that a request describes.
pub(super) fn surface(specular: Option<Specular>, outer: f64, inner: f64) -> Surface {
    Surface { outer, inner, specular: specular == Some(Specular::Included) }
}
