//! Whether a print covers its cloth.

use super::deposit::HITS;
use super::hiding::{INNER, LAYER, OUTER, SCALE, SURFACE, Specular, surface};
use super::kubelka_munk::{Optics, Surface, lightness, reflectance as reflects};
use super::{Film, Ink, STROKES};
use crate::cloth::{Cloth, LIGHTNESS, Shade};
use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{Dimensioned, Length, Rank, Rules, units};
use crate::source::Source;
use crate::stencil::OVER_MESH;
use crate::wire::{Choice, Remarks, answer, calculation, request, words};

const FILM: Rules = Rules::range(units::UM, 0.0, 5_000.0).usual(2.0, 300.0).group("The film");
const ON_TOP: Rules = Rules::range(units::ONE, 0.0, 1.0)
    .usual(0.5, 1.0)
    .group("The film")
    .or(1.0, Source::memory("a film that lies on the cloth: what sinks into the fibres does not hide"));

/// Lightness of a cloth of which only the shade is known.
const DARK: f64 = 18.0;
const LIGHT: f64 = 93.0;
const OF_A_SHADE: Source = Source::memory("L* of black jersey 15-20, of white 92-95");
/// A print that lacks so much lightness of its thick film shows the cloth.
const LACKING: f64 = 10.0;
const SHOWS: Source = Source::memory(
    "a white ten units of L* darker than its thick film looks grey beside a light shirt; a base that colours go on may be as dark",
);

words! {
    /// Whether the cloth is hidden.
    pub enum OpacityVerdict ("verdict") {
        /// It is.
        Covers = "covers",
        /// It shows through.
        ShowsThrough = "shows_through",
    }
}

request! {
    /// A print on a cloth.
    pub struct OpacityRequest {
        /// The ink, with its scattering and absorption (ink.hiding).
        ink "Ink": Ink,
        /// The cloth under it; or give its lightness.
        cloth "Cloth": Option<Cloth>,
        /// Lightness L* of the cloth.
        lightness "Lightness of the cloth": Option<f64> where LIGHTNESS,
        /// The dry film; or give the mesh.
        film "Dry film": Option<Length> as Film where FILM,
        /// The mesh of the screen.
        mesh "Mesh": Option<Mesh> where Rules::NONE.group("The film"),
        /// Stencil over the mesh on the print side; a wide solid gets nothing of it.
        over_mesh "Stencil over mesh": Option<Length> where OVER_MESH.group("The film"),
        /// Print strokes of one hit.
        strokes "Print strokes": Option<u32> where STROKES.group("The film").unless_given("the ink's own"),
        /// Prints of the same screen with a flash between them: they lie wet on dry.
        hits "Number of hits": Option<u32> where HITS.group("The film"),
        /// Share of the film that lies on the cloth.
        on_top_fraction "Share on top": f64 where ON_TOP,
        /// The lightness L* that is wanted.
        wanted_lightness "Lightness wanted": Option<f64> where LIGHTNESS.unless_given("within 10 of a thick film"),
        /// Whether the gloss counts.
        specular "Gloss counts": Option<Specular> where Rules::NONE.rank(Rank::Rare).group("The surface").unless_given("excluded"),
        /// Share of light that the surface reflects from outside; 0 leaves the surface out.
        surface_reflection_fraction "Reflected outside": f64 where OUTER,
        /// Share of diffuse light that the surface reflects back inside.
        inner_reflection_fraction "Reflected inside": f64 where INNER,
    }
    chooses(Choice::One(&[&["film"], &["mesh"]]), Choice::One(&[&["cloth"], &["lightness"]]))
}

answer! {
    /// How it covers.
    pub struct Opacity {
        /// Share of light that the print reflects.
        reflectance "Reflectance": f64,
        /// Lightness L* of the print.
        lightness "Lightness": f64,
        /// Lightness that it lacks of a thick film of the ink.
        difference_to_thick_film "Short of thick film": f64,
        /// The dry film that is reckoned with.
        dry_film "Dry film": Length as Film,
        /// Dry film that the lightness wanted takes; absent where no film of this ink reaches it.
        film_needed "Film needed": Option<Length> as Film,
        /// Hits that it takes through this mesh.
        hits_needed "Hits needed": Option<u32>,
        /// Whether the cloth shows.
        verdict "Verdict": OpacityVerdict,
    }
}

calculation! {
    pub const OPACITY: OpacityRequest => Opacity = opacity;
    id: "ink.opacity",
    title: "Opacity of a print",
    question: "Does it cover this shirt?",
    asked: ["Why is my white not opaque?", "How many hits of white does a dark shirt need?"],
    headline: ["lightness", "verdict", "hits_needed"],
    formula: "R = (1 - Rg (a - b coth(b S X))) / (a - Rg + b coth(b S X)), X the dry film on top (hits x that of one), Rg the cloth's reflectance ((L* + 16) / 116)^3; as read, R' = (1 - k1)(1 - k2) R / (1 - k2 R); L* = 116 R'^(1/3) - 16; film needed by the inverse; hits = ceil(film needed / film of a hit)",
    sources: &[LAYER, SURFACE, SCALE, SHOWS],
    example: r#"{"ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "mesh": "55-64", "hits": 2}"#,
}

/// The optics of an ink that hides.
///
/// # Errors
/// `impossible` where its scattering is not known: a colour is transparent or opaque, its lightness is not foretold.
pub(crate) fn optics(ink: &Ink, field: &str, remarks: &mut Remarks) -> Result<Optics, Error> {
    let known = known_optics(ink).ok_or_else(|| {
        Error::new(
            Code::Impossible,
            format!("{field}/scattering"),
            "the scattering of this ink is not known: measure it by a drawdown (ink.hiding). Of colours no lightness is foretold",
        )
    })?;
    ink.cite(&["scattering", "absorption"], remarks);
    Ok(known)
}

/// The optics of an ink, where its scattering is known.
fn known_optics(ink: &Ink) -> Option<Optics> {
    let scattering = ink.scattering?;
    Some(Optics { scattering, absorption: ink.absorption.unwrap_or_else(|| units::PER_MM.of(0.0)) })
}

/// Lightness L* of a cloth: its own, else that of its shade.
fn lightness_of(cloth: &Cloth) -> f64 {
    cloth.lightness.unwrap_or(match cloth.shade {
        Shade::Dark => DARK,
        Shade::Light => LIGHT,
    })
}

/// Says where the lightness of a cloth comes from.
pub(crate) fn cite_lightness(cloth: &Cloth, field: &'static str, remarks: &mut Remarks) {
    if cloth.lightness.is_none() {
        remarks.basis((field, "lightness"), OF_A_SHADE);
    }
}

/// A film of an ink on a cloth, under the usual surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Covering {
    optics: Optics,
    surface: Surface,
    /// Reflectance of the cloth, below the surface.
    ground: f64,
}

impl Covering {
    /// Of an ink whose scattering is known, on a cloth.
    pub fn of(ink: &Ink, cloth: &Cloth) -> Option<Self> {
        let usual = OpacityRequest::new();
        let surface = surface(None, usual.surface_reflection_fraction, usual.inner_reflection_fraction);
        Some(Self::under(known_optics(ink)?, surface, lightness_of(cloth)))
    }

    /// A cloth that reads so dark that its surface alone would be lighter reflects nothing below it.
    fn under(optics: Optics, surface: Surface, lightness: f64) -> Self {
        Self { optics, surface, ground: surface.inside(reflects(lightness)).clamp(0.0, 1.0) }
    }

    fn reflectance(self, film: Length) -> f64 {
        self.surface.read(self.optics.over(self.ground, film))
    }

    /// Lightness L* of a film.
    pub fn lightness(self, film: Length) -> f64 {
        lightness(self.reflectance(film))
    }

    /// Lightness L* of a thick film.
    pub fn thick(self) -> f64 {
        lightness(self.surface.read(self.optics.thick()))
    }

    /// The lightness from which on it covers, where none is wanted.
    pub fn covers_from(self) -> f64 {
        let (thick, bare) = (self.thick(), lightness(self.surface.read(self.ground)));
        // From the side on which the cloth is; a cloth that near is covered by nothing.
        if thick > bare { (thick - LACKING).max(bare) } else { (thick + LACKING).min(bare) }
    }

    /// Whether a lightness is at or beyond the one wanted, seen from the cloth.
    fn reaches(self, found: f64, wanted: f64) -> bool {
        if self.thick() > lightness(self.surface.read(self.ground)) { found >= wanted } else { found <= wanted }
    }

    /// Whether a film covers.
    pub fn covers(self, film: Length, wanted: f64) -> bool {
        self.reaches(self.lightness(film), wanted)
    }

    /// The film that a lightness takes; none where no film reaches it.
    pub fn film_for(self, wanted: f64) -> Option<Length> {
        let none = units::UM.of(0.0);
        if self.covers(none, wanted) {
            return Some(none);
        }
        self.optics.film_for(self.surface.inside(reflects(wanted)), self.ground)
    }
}

/// Prints that reach a film, each as thick as the first, within rounding; none beyond what anybody prints.
pub(crate) fn hits_for(film: Length, of_one: Length) -> Option<u32> {
    let hits: f64 = (film / of_one).into();
    let hits = (hits * (1.0 - 1e-9)).ceil().max(1.0);
    // A number of hits that is no number is not one.
    (hits <= f64::from(MOST_HITS)).then_some(hits as u32)
}
const MOST_HITS: u32 = 100;

/// Lightness of a print and the film and hits that it takes.
///
/// A uniform film is an upper bound: a print that shows the weave has thin places, which let more through than its mean.
///
/// # Errors
/// `impossible` for an ink whose scattering is not known.
pub(crate) fn opacity(request: &OpacityRequest, remarks: &mut Remarks) -> Result<Opacity, Error> {
    let ink = &request.ink;
    let optics = optics(ink, "/ink", remarks)?;
    let surface = surface(request.specular, request.surface_reflection_fraction, request.inner_reflection_fraction);
    let of_cloth = match (&request.cloth, request.lightness) {
        (Some(cloth), None) => {
            cite_lightness(cloth, "cloth", remarks);
            lightness_of(cloth)
        }
        (None, Some(lightness)) => lightness,
        (Some(_), Some(_)) => {
            return Err(Error::new(Code::Impossible, "/lightness", "a cloth has one lightness: give it, or the cloth"));
        }
        (None, None) => {
            return Err(
                Error::new(Code::MissingField, "/cloth", "what is it printed on?").allowed(["cloth", "lightness"])
            );
        }
    };
    let covering = Covering::under(optics, surface, of_cloth);
    let (film, of_one) = match (request.film, &request.mesh) {
        (Some(film), None) => {
            let through: [(&str, bool); 3] = [
                ("/over_mesh", request.over_mesh.is_some()),
                ("/strokes", request.strokes.is_some()),
                ("/hits", request.hits.is_some()),
            ];
            if let Some((field, _)) = through.iter().find(|(_, given)| *given) {
                return Err(Error::new(
                    Code::Impossible,
                    *field,
                    "a film that is given was not printed through anything: give the mesh instead",
                ));
            }
            (film, None)
        }
        (None, Some(mesh)) => {
            let print = Film::of(mesh, request.over_mesh, ink, request.strokes, Some(1), remarks);
            ink.cite(&["solids_by_volume_fraction"], remarks);
            ink.check_solids("/ink", remarks);
            let of_one = print.dry(0.0);
            (of_one * f64::from(request.hits.unwrap_or(1)), Some(of_one))
        }
        (Some(_), Some(_)) => {
            return Err(Error::new(Code::Impossible, "/film", "a film has one thickness: give it, or the mesh"));
        }
        (None, None) => {
            return Err(Error::new(Code::MissingField, "/film", "how thick is the film?").allowed(["film", "mesh"]));
        }
    };
    // What a rough cloth drinks comes on top of this film: ink.usage reckons with it.
    let on_top = film * request.on_top_fraction;
    let wanted = request.wanted_lightness.unwrap_or_else(|| {
        remarks.basis("wanted_lightness", SHOWS);
        covering.covers_from()
    });
    let found = covering.lightness(on_top);
    let film_needed = (request.on_top_fraction > 0.0)
        .then(|| covering.film_for(wanted))
        .flatten()
        .map(|needed| needed / request.on_top_fraction)
        .filter(|needed| needed.si().is_finite());
    let hits_needed =
        remarks.held(0, |_| Ok(film_needed.zip(of_one).and_then(|(needed, of_one)| hits_for(needed, of_one))))?;
    if film_needed.is_none() {
        remarks.caution(
            "never_so_light",
            "/wanted_lightness",
            "no film of this ink on this cloth reaches that lightness: take another ink, or ask for less",
        );
    } else if covering.covers(on_top, wanted) && of_one.is_some() {
        remarks.info(
            "thin_places",
            "",
            "an even film is an upper bound: where the weave shows, thin places let more through",
        );
    }
    let verdict = if covering.covers(on_top, wanted) { OpacityVerdict::Covers } else { OpacityVerdict::ShowsThrough };
    if verdict == OpacityVerdict::ShowsThrough {
        remarks.caution(
            "shows_through",
            "/film",
            "the cloth shows through: another hit after a flash, a coarser mesh, or a smoother, flatter print of the same ink",
        );
    }
    Ok(Opacity {
        reflectance: covering.reflectance(on_top),
        lightness: found,
        difference_to_thick_film: covering.thick() - found,
        dry_film: film,
        film_needed,
        hits_needed,
        verdict,
    })
}
