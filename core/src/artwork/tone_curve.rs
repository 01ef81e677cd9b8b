//! The film's tones that print as wanted.

use super::dots::{DotShape, film_tone, grown_tone};
use super::tone::{
    DENSITY, GROWTH, MURRAY, OVERLAPS, TONE, ToneReading, ToneRequest, YULE, YULE_NIELSEN, densities_not_used,
    say_what_growth_is, shape,
};
use crate::error::{Code, Error};
use crate::mesh::{DETAIL, DetailRequest, Mesh, RULING};
use crate::quantity::{Count, Length, Rank, Rules, to_places};
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, Say, answer, calculation, one_of, request};

/// A dot or a hole of this share is none.
const NOTHING: f64 = 1e-12;
/// Steps of the tones that are answered unless some are asked for.
const STEPS: u32 = 20;
/// Work of looking for the film of a tone, in rows.
const SOUGHT: f64 = 200.0;
/// Steps of the points for a dialog, and the levels of each.
const POINTS: u32 = 15;
const LEVELS: u32 = 17;

const HELD: Source =
    Source::memory("dots and holes that the mesh holds: as mesh.detail says, by its smallest safe dot");

request! {
    /// A halftone, and how its dots grow.
    pub struct ToneCurveRequest {
        /// Lines per length of the halftone.
        ruling "Halftone ruling": Count where RULING,
        /// Shape of the dots. Dots that are round to half and round holes above are euclidean here.
        dot "Dot shape": Option<DotShape> where Rules::NONE.unless_given("round"),
        /// How far every edge moves out from film to print, as artwork.tone finds it; or give patches.
        growth "Growth of every edge": Option<Length> as Film where GROWTH.rank(Rank::First),
        /// Patches of a printed scale; or give the growth.
        readings "Patches read": Option<Vec<ToneReading>> where Rules::NONE.rank(Rank::First),
        /// Density of the bare cloth, or of the base that is printed on; needed with densities.
        bare_density "Density of bare cloth": Option<f64> where DENSITY.group("The densities"),
        /// Density of the solid; needed with densities.
        solid_density "Density of solid": Option<f64> where DENSITY.group("The densities"),
        /// The n by which light that spreads in the cloth is reckoned out of densities; 1 leaves it in.
        yule_nielsen_ratio "Optical gain factor": Option<f64>
            where YULE_NIELSEN.unless_given("1").rank(Rank::More).group("The densities"),
        /// The mesh of the screen: dots and holes that it does not hold are cut off.
        mesh "Mesh": Option<Mesh>,
        /// The tones that are to be printed.
        tones "Tones wanted": Option<Vec<f64>> where Rules::FRACTION.unless_given("every 5 %"),
    }
    chooses(Choice::One(&[&["growth"], &["readings"]]))
}

answer! {
    /// A tone, and the film that prints it.
    pub struct FilmTone {
        /// The tone that is to be printed.
        wanted_fraction "Tone wanted": f64,
        /// The tone that the film must have.
        film_fraction "Tone on film": f64,
        /// The tone that this film prints: the one wanted, or the nearest that can be had.
        printed_fraction "Tone printed": f64,
    }
}

answer! {
    /// A point of a curve in eight bits: 0 is bare, 255 solid ink. Rounded, so that it is in no doubt.
    pub struct CurvePoint8 {
        /// Level of the tone that is to be printed.
        input "Level in": u32 as Effort,
        /// Level of the film's tone.
        output "Level out": u32 as Effort,
    }
}

answer! {
    /// What the film must carry.
    pub struct ToneCurve {
        /// The tones that are to be printed, and their film's.
        tones "Tones": Vec<FilmTone>,
        /// Lightest tone that can be printed, above bare cloth.
        lightest_fraction "Lightest tone": f64,
        /// Darkest tone that can be printed, below solid.
        darkest_fraction "Darkest tone": f64,
        /// How far every edge moves out.
        growth "Growth of every edge": Length as Film,
        /// The same curve as 16 points of eight bits. Where a program counts 0 as black, take 255 less each.
        points "Points for a dialog": Vec<CurvePoint8>,
    }
}

calculation! {
    pub const TONE_CURVE: ToneCurveRequest => ToneCurve = curve;
    id: "artwork.curve",
    title: "Tones that the film must carry",
    question: "What must the film carry to print these tones?",
    asked: ["Which curve makes up for my dot gain?", "What is the lightest tone that I can print?"],
    headline: ["lightest_fraction", "darkest_fraction"],
    formula: "film = tone(reach(wanted) - growth x ruling), the reach that of round dots with overlaps (euclidean: of dots to half, of holes above); film kept between the tones of mesh.detail, else 0 or 1, whichever prints nearer; points 255 x each",
    sources: &[OVERLAPS, MURRAY, YULE, HELD],
    example: r#"{"ruling": "55 lpi", "growth": "20 um", "mesh": "120-34"}"#,
}

/// The film tones that can be used beside bare and solid, and what they print.
#[derive(Debug, Clone, Copy)]
struct Range {
    dot: DotShape,
    ruling: Count,
    growth: Length,
    film: (f64, f64),
    printed: (f64, f64),
}

impl Range {
    fn new(dot: DotShape, ruling: Count, growth: Length, (lightest, darkest): (f64, f64)) -> Self {
        // Bare and solid have no edges: next to them are the least dot and the least hole.
        let film = (lightest.max(f64::MIN_POSITIVE), darkest.min(1.0 - 0.5 * f64::EPSILON));
        let by: f64 = (growth * ruling).into();
        // Not grown_tone: the least dot of all grows too, though bare film does not.
        let prints = |film: f64| match dot.tone(dot.reach(film) + by) {
            share if share < NOTHING => 0.0,
            share if share > 1.0 - NOTHING => 1.0,
            share => share,
        };
        Self { dot, ruling, growth, film, printed: (prints(film.0), prints(film.1)) }
    }

    /// Film for a wanted tone: its own, or what prints the nearest.
    fn film(&self, wanted: f64) -> FilmTone {
        let ((lightest, darkest), (least, most)) = (self.printed, self.film);
        let film_fraction = if wanted <= 0.0 || wanted >= 1.0 {
            wanted
        } else if wanted < lightest {
            if wanted < lightest - wanted { 0.0 } else { least }
        } else if wanted > darkest {
            if 1.0 - wanted < wanted - darkest { 1.0 } else { most }
        } else {
            // Rounding leaves it no lighter or darker than its ends.
            film_tone(self.dot, wanted, self.ruling, self.growth).max(least).min(most)
        };
        let printed_fraction = grown_tone(self.dot, film_fraction, self.ruling, self.growth);
        FilmTone { wanted_fraction: wanted, film_fraction, printed_fraction }
    }

    /// Whether a tone is had only nearly: lighter than the lightest, or darker than the darkest.
    fn cuts(&self, wanted: f64) -> Option<&'static str> {
        if wanted <= 0.0 || wanted >= 1.0 {
            None
        } else if wanted < self.printed.0 {
            Some("lighter than the lightest")
        } else if wanted > self.printed.1 {
            Some("darker than the darkest")
        } else {
            None
        }
    }
}

/// The growth that is asked with, or that patches show.
fn growth_of(request: &ToneCurveRequest, remarks: &mut Remarks) -> Result<Length, Error> {
    match (request.growth, &request.readings) {
        (Some(growth), None) => {
            densities_not_used(
                request.bare_density,
                request.solid_density,
                request.yule_nielsen_ratio,
                "densities are used with readings alone: the growth is given",
                remarks,
            );
            Ok(growth)
        }
        (None, Some(readings)) => {
            let scale = ToneRequest::new()
                .ruling(request.ruling)
                .dot(request.dot)
                .readings(readings.clone())
                .bare_density(request.bare_density)
                .solid_density(request.solid_density)
                .yule_nielsen_ratio(request.yule_nielsen_ratio);
            let found = remarks.ask(&TONE, &scale, |asked| Some(asked.field.to_owned()))?;
            say_what_growth_is(readings, request.yule_nielsen_ratio, remarks);
            Ok(found.growth)
        }
        (Some(_), Some(_)) => {
            Err(Error::new(Code::Impossible, "/readings", "the growth follows from the readings: give one of them"))
        }
        (None, None) => Err(one_of::<ToneCurveRequest>(At::ROOT)),
    }
}

/// The film's tones that print as wanted: the growth taken off, as far as the mesh holds dots and holes.
///
/// Rising throughout: a darker tone is never given a lighter film. A tone that no film prints gets the film that prints the nearest.
///
/// # Errors
/// `missing_field` or `impossible` where not one of growth and readings is given, `out_of_range` for an empty list of tones; and what
/// `artwork.tone` says of readings.
pub(crate) fn curve(request: &ToneCurveRequest, remarks: &mut Remarks) -> Result<ToneCurve, Error> {
    let growth = growth_of(request, remarks)?;
    let dot = shape(request.dot, remarks);
    let film = match &request.mesh {
        Some(mesh) => {
            remarks.basis("mesh", HELD);
            let detail = DetailRequest::new().mesh(mesh.clone()).ruling(request.ruling);
            let detail = remarks.ask(&DETAIL, &detail, |asked| Some(asked.field.to_owned()))?;
            (detail.tone_min_fraction.unwrap_or(0.0), detail.tone_max_fraction.unwrap_or(1.0))
        }
        None => {
            remarks.info(
                "no_mesh",
                "",
                "without the mesh nothing is said of light dots and dark holes that it does not hold",
            );
            (0.0, 1.0)
        }
    };
    let range = Range::new(dot, request.ruling, growth, film);
    let (lightest_fraction, darkest_fraction) = range.printed;
    let percent = |share: f64| to_places(100.0 * share, 1);
    remarks.work().spend(SOUGHT * request.tones.as_ref().map_or(f64::from(STEPS), |tones| tones.len() as f64));
    let tones: Vec<FilmTone> = match &request.tones {
        Some(tones) if tones.is_empty() => {
            return Err(Error::new(Code::OutOfRange, "/tones", "no tone is asked for; left out, they are every 5 %")
                .allowed(["1 tone or more"]));
        }
        Some(tones) => tones.iter().map(|wanted| range.film(*wanted)).collect(),
        None => (0..=STEPS).map(|step| range.film(f64::from(step) / f64::from(STEPS))).collect(),
    };
    for (index, tone) in tones.iter().enumerate() {
        let Some(cut) = range.cuts(tone.wanted_fraction) else { continue };
        let message = |_: Say| {
            format!(
                "{} % is {cut} tone that can be printed ({} to {} %, bare and solid aside): the nearest is {} %",
                percent(tone.wanted_fraction),
                percent(lightest_fraction),
                percent(darkest_fraction),
                percent(tone.printed_fraction)
            )
        };
        match (&request.tones, &request.mesh) {
            (Some(_), _) => remarks.caution("tone_cut_off", format_args!("/tones/{index}"), message),
            // Of tones that nobody asked for one by one the first at either end stands for all.
            (None, Some(_)) if tone.wanted_fraction < lightest_fraction => {
                remarks.caution("light_tones_cut_off", "/mesh", message);
            }
            (None, Some(_)) => remarks.caution("dark_tones_cut_off", "/mesh", message),
            (None, None) if tone.wanted_fraction < lightest_fraction => {
                remarks.caution("light_tones_cut_off", "/ruling", message);
            }
            (None, None) => remarks.caution("dark_tones_cut_off", "/ruling", message),
        }
    }
    if darkest_fraction >= 1.0 && film.1 < 1.0 {
        remarks.info(
            "holes_close",
            "/mesh",
            "the smallest hole that the mesh holds closes as its edges grow: film tones a little lighter print up to solid",
        );
    }
    let points = (0..=POINTS)
        .map(|step| {
            let film = range.film(f64::from(step) / f64::from(POINTS)).film_fraction;
            let full = f64::from(POINTS.saturating_mul(LEVELS));
            CurvePoint8 { input: step.saturating_mul(LEVELS), output: (film * full).round() as u32 }
        })
        .collect();
    remarks.info(
        "print_it_again",
        "",
        "ink, cloth, blade and stencil change it: print the scale again through the corrected film before you trust it",
    );
    Ok(ToneCurve { tones, lightest_fraction, darkest_fraction, growth, points })
}
