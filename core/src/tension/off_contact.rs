//! Off-contact: what the gap under the screen does to the image, to its peel and to the blade.

use super::triangle::{print_growth, stretch, stretch_across};
use super::{TENSION, USUAL};
use crate::error::{Code, Error};
use crate::quantity::{
    Angle, Dimensioned, Force, Length, OVERLAP, Rank, Rules, Show, Tension, decimal, reaches, units,
};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request};
use serde_json::Value;

const SPAN: Rules = Rules::range(units::MM, 10.0, 10_000.0).usual(200.0, 1_500.0);
const IMAGE: Rules = Rules::range(units::MM, 1.0, 10_000.0).usual(20.0, 1_000.0);
const GAP: Rules = Rules::range(units::MM, 0.0, 100.0).usual(1.5, 5.0);
const AT: Rules = Rules::range(units::MM, 0.0, 10_000.0);
const PULL: Rules = TENSION.usual(USUAL.0, USUAL.1);

/// Free mesh at each end below which shops expect trouble, in millimetres.
const FREE: f64 = 50.0;
/// Growth of a print from which two colours may show it, in millimetres.
const SHOWS: f64 = 0.2;

const TRIANGLE: Source =
    Source::physics("exact triangles between the frame's edges and the blade; even strain, no friction");
const GAPS: Source =
    Source::common("suppliers: 1.6 to 3.2 mm for garments, more on fleece and large frames; 5-6 cm of free mesh");

request! {
    /// Another screen on a frame of the same size.
    pub struct OtherScreen {
        /// Gap from the other screen's mesh down to the garment.
        gap "Off-contact gap": Length where GAP,
        /// Tension of the other screen's mesh.
        tension "Mesh tension": Option<Tension> where PULL,
    }
}

request! {
    /// A frame over a platen.
    pub struct OffContactRequest {
        /// Inside of the frame along the stroke.
        span_length "Frame inside length": Length where SPAN.group("The frame"),
        /// Inside of the frame across the stroke.
        span_width "Frame inside width": Length where SPAN.group("The frame"),
        /// Gap from the mesh down to the garment, not to the platen.
        gap "Off-contact gap": Length where GAP.group("The frame"),
        /// The image along the stroke, in the middle of the frame.
        image_length "Image length": Option<Length> where IMAGE.group("The image"),
        /// The image across the stroke, in the middle of the frame.
        image_width "Image width": Option<Length> where IMAGE.group("The image"),
        /// Tension of the mesh, as measured with the screen at rest.
        tension "Mesh tension": Option<Tension> where PULL.group("The frame"),
        /// How far the blade stands over the image on each side.
        overlap "Blade overlap": Length where OVERLAP.group("The blade"),
        /// The blade's distance from the edge of the frame where the stroke begins; mid span for the answer's main figures.
        blade_at "Blade position": Option<Length> where AT.rank(Rank::Rare).group("The blade"),
        /// Another screen of the set: how far the two prints differ.
        compare "Screen to compare": Option<OtherScreen>,
    }
}

answer! {
    /// Mesh and print where the blade was asked for.
    pub struct AtBlade {
        /// How much longer the mesh is than at rest, along the stroke.
        stretch_fraction "Mesh stretch along": f64,
        /// How much further from mid span the print under the blade lies than on the screen.
        print_shift "Print shift": Length as Print,
        /// Angle between mesh and garment behind the blade.
        peel_angle "Peel angle": Angle,
        /// Angle between mesh and garment before the blade.
        angle_ahead "Angle ahead": Angle,
        /// Force that lifts the mesh off the print behind the blade.
        peel_force "Peel force": Option<Force>,
    }
}

answer! {
    /// The other screen, and how far its print differs.
    pub struct ScreenCompared {
        /// How much longer the other screen's mesh is than at rest, along the stroke, with the blade at mid span.
        stretch_fraction "Mesh stretch along": f64,
        /// How much longer the mesh under the image is than at rest, along the stroke.
        image_growth "Mesh growth under image": Length as Print,
        /// How much longer the other screen's print is than its image, along the stroke.
        print_growth_along "Print growth along": Option<Length> as Print,
        /// How much wider the other screen's print is than its image, across the stroke.
        print_growth_across "Print growth across": Option<Length> as Print,
        /// Angle between the other screen's mesh and the garment behind the blade, at mid span.
        peel_angle "Peel angle": Angle,
        /// Force that lifts the other screen's mesh off the print, at mid span.
        peel_force "Peel force": Option<Force>,
        /// How far the two prints part at each end, along the stroke, set to each other in the middle: a half-width for register.budget, uniform.
        half_width_along "Half-width along": Option<Length> as Print,
        /// How far the two prints part at each side, across the stroke, set to each other in the middle: a half-width
        /// for register.budget, uniform.
        half_width_across "Half-width across": Option<Length> as Print,
    }
}

answer! {
    /// What the gap does.
    pub struct OffContact {
        /// How much longer the mesh is than at rest, along the stroke, with the blade at mid span.
        stretch_fraction "Mesh stretch along": f64,
        /// How much longer the mesh under the image, or under the whole span where no image is given, is than at rest;
        /// the print grows by more.
        image_growth "Mesh growth under image": Length as Print,
        /// How much longer the mesh under the blade is than at rest, across the stroke.
        stretch_across_fraction "Mesh stretch across": Option<f64>,
        /// How much longer the print is than the image on the screen, once the blade has passed over all of it.
        print_growth_along "Print growth along": Option<Length> as Print,
        /// How much wider the print is than the image on the screen.
        print_growth_across "Print growth across": Option<Length> as Print,
        /// Angle between mesh and garment behind the blade, at mid span.
        peel_angle "Peel angle": Angle,
        /// Force that lifts the mesh off the print behind the blade, at mid span, over the width of the image, or of
        /// the span where no image is given.
        peel_force "Peel force": Option<Force>,
        /// Force down on the blade, at mid span, only to hold the mesh on the garment.
        blade_force "Force on blade": Option<Force>,
        /// Mesh and print with the blade where it was asked for.
        at_blade "At the blade": Option<AtBlade>,
        /// The other screen, and how far its print differs.
        compared "Other screen": Option<ScreenCompared>,
    }
}

calculation! {
    pub const OFF_CONTACT: OffContactRequest => OffContact = off_contact;
    id: "tension.off_contact",
    title: "Off-contact",
    question: "How far does the gap stretch the image?",
    asked: ["How high do I set my off-contact?", "Why is my print larger than the film?"],
    headline: ["stretch_fraction", "print_growth_along"],
    formula: "stretch = (sqrt(a^2 + g^2) + sqrt(b^2 + g^2)) / (a + b) - 1, gap g, blade at a and b from the frame's edges; image growth = stretch at mid span x image length; a mark prints (1 + stretch)^2 times as far from mid span as it stands on the screen, stretch with the blade at its print; across: mesh flat under the blade B and up on both sides over c = (W - B) / 2, stretch 2 (sqrt(c^2 + g^2) - c) / W; peel angle atan(g / a); peel force = tension x sin(peel angle) x width",
    sources: &[TRIANGLE, GAPS],
    example: r#"{"span_length": "500 mm", "span_width": "450 mm", "gap": "3 mm", "image_length": "380 mm", "image_width": "320 mm", "tension": "25 N/cm", "compare": {"gap": "4.5 mm"}}"#,
}

/// What one gap does on the frame of the request, with the blade at mid span.
struct Gap {
    stretch: f64,
    image_growth: Length,
    across: Option<f64>,
    growth_along: Option<Length>,
    growth_across: Option<Length>,
    peel_angle: Angle,
    peel_force: Option<Force>,
}

/// The blade's length, where there is an image.
fn blade(request: &OffContactRequest) -> Option<Length> {
    request.image_width.map(|width| width + 2.0 * request.overlap)
}

/// Between mesh and garment, where the mesh rises by `gap` over `run`.
fn slope(run: Length, gap: Length) -> Angle {
    Angle::from_si(libm::atan2(gap.si(), run.si()))
}

/// Lifts the mesh off the print: the part of the tension that points up, over the width of the print.
fn lift(request: &OffContactRequest, tension: Tension, run: Length, gap: Length) -> Force {
    let width = request.image_width.unwrap_or(request.span_width);
    let sine = gap.si() / libm::hypot(run.si(), gap.si());
    Force::from_si(tension.si() * sine * width.si())
}

fn pressed(request: &OffContactRequest, gap: Length, tension: Option<Tension>, field: &str) -> Result<Gap, Error> {
    let span = request.span_length;
    let middle = span / 2.0;
    let stretch = stretch(middle, middle, gap);
    let growth_along = match request.image_length {
        None => None,
        Some(image) => Some(image * print_growth(span, gap, image).ok_or_else(|| {
            let message = "the ends of the image are so near to the frame that mesh and blade cannot print them at this gap: a longer frame, a shorter image or a smaller gap";
            Error::new(Code::Impossible, field, message).got(&Value::from(in_mm(gap)))
        })?),
    };
    let across = blade(request).map(|blade| stretch_across(request.span_width, blade, gap));
    Ok(Gap {
        stretch,
        image_growth: stretch * request.image_length.unwrap_or(span),
        across,
        growth_along,
        growth_across: across.zip(request.image_width).map(|(stretch, width)| stretch * width),
        peel_angle: slope(middle, gap),
        peel_force: tension.map(|tension| lift(request, tension, middle, gap)),
    })
}

/// A length for an error, to the nanometre.
fn in_mm(length: Length) -> String {
    format!("{} mm", decimal((units::MM.value(length) * 1e6).round() / 1e6))
}

/// What the gap does to mesh, image and peel.
///
/// The image and the blade stand in the middle of the frame. Lengths are those of the exact triangles; strain is even along a
/// thread and the blade slides without friction. Tension is taken as measured: what the stretch adds to it is not in the forces.
///
/// # Errors
/// `impossible` for an image not shorter than the span, a blade not shorter than the frame is wide, a blade at or beyond an
/// edge, and an image whose ends no blade within the frame can print.
pub(crate) fn off_contact(request: &OffContactRequest, remarks: &mut Remarks) -> Result<OffContact, Error> {
    fits(request)?;
    let main = pressed(request, request.gap, request.tension, "/gap")?;
    let at_blade = request.blade_at.map(|before| {
        let after = request.span_length - before;
        let stretch = stretch(before, after, request.gap);
        // (1 + stretch)^2 - 1, by which the print is further out.
        let out = stretch * (2.0 + stretch);
        let from_middle = (after - before).abs() / 2.0;
        AtBlade {
            stretch_fraction: stretch,
            print_shift: from_middle * (out / (1.0 + out)),
            peel_angle: slope(before, request.gap),
            angle_ahead: slope(after, request.gap),
            peel_force: request.tension.map(|tension| lift(request, tension, before, request.gap)),
        }
    });
    let compared = match &request.compare {
        None => None,
        Some(other) => Some(compared(&main, pressed(request, other.gap, other.tension, "/compare/gap")?)),
    };
    let blade_force = request.tension.zip(blade(request)).map(|(tension, blade)| {
        let sine = request.gap.si() / libm::hypot(request.span_length.si() / 2.0, request.gap.si());
        Force::from_si(2.0 * tension.si() * sine * blade.si())
    });
    remark(request, &main, compared.as_ref(), remarks);
    Ok(OffContact {
        stretch_fraction: main.stretch,
        image_growth: main.image_growth,
        stretch_across_fraction: main.across,
        print_growth_along: main.growth_along,
        print_growth_across: main.growth_across,
        peel_angle: main.peel_angle,
        peel_force: main.peel_force,
        blade_force,
        at_blade,
        compared,
    })
}

fn compared(main: &Gap, other: Gap) -> ScreenCompared {
    let apart = |a: Option<Length>, b: Option<Length>| a.zip(b).map(|(a, b)| (a - b).abs() / 2.0);
    ScreenCompared {
        stretch_fraction: other.stretch,
        image_growth: other.image_growth,
        print_growth_along: other.growth_along,
        print_growth_across: other.growth_across,
        peel_angle: other.peel_angle,
        peel_force: other.peel_force,
        half_width_along: apart(main.growth_along, other.growth_along),
        half_width_across: apart(main.growth_across, other.growth_across),
    }
}

fn fits(request: &OffContactRequest) -> Result<(), Error> {
    let beyond = |field: &'static str, message: &'static str, got: Length, most: Length| {
        Error::new(Code::Impossible, field, message)
            .got(&Value::from(in_mm(got)))
            .allowed([format!("less than {}", in_mm(most))])
    };
    let (length, width) = (request.span_length, request.span_width);
    if let Some(image) = request.image_length.filter(|image| reaches(*image, length)) {
        return Err(beyond("/image_length", "the image is not shorter than the frame's inside", image, length));
    }
    if let (Some(image), Some(blade)) = (request.image_width, blade(request))
        && reaches(blade, width)
    {
        let message = "image and overlap make a blade that does not go into the frame";
        return Err(beyond("/image_width", message, image, width - 2.0 * request.overlap));
    }
    match request.blade_at {
        Some(at) if reaches(at, length) || at.si() <= 0.0 => {
            Err(beyond("/blade_at", "the blade prints between the frame's edges only", at, length))
        }
        _ => Ok(()),
    }
}

fn remark(request: &OffContactRequest, main: &Gap, compared: Option<&ScreenCompared>, remarks: &mut Remarks) {
    let free = |span: Length, taken: Length| (span - taken) / 2.0;
    let least = units::MM.of(FREE);
    for (field, taken, span) in [
        ("/image_length", request.image_length, request.span_length),
        ("/image_width", blade(request), request.span_width),
    ] {
        if taken.is_some_and(|taken| !reaches(free(span, taken), least)) {
            remarks.caution(
                "little_free_mesh",
                field,
                "less than 5 cm of free mesh between print or blade and frame: the mesh is steep there, stretches most and prints off register; take a larger frame",
            );
        }
    }
    if let Some(growth) = main.growth_along {
        remarks.info("print_grows_more", "/image_length", |say: Say| format!(
            "once the blade has passed, the print is {} longer than the image: marks ahead of and behind mid span print further out, by twice the mesh's own stretch and more",
            say.say(growth, Show::Print)
        ));
    }
    if [main.growth_along, main.growth_across].into_iter().flatten().any(|growth| growth > units::MM.of(SHOWS)) {
        remarks.caution(
            "growth_shows",
            "/gap",
            "the print grows by more than 0.2 mm: the same gap and frame under every colour, or the colours part at the ends of the image",
        );
    }
    let parts = compared.map(|other| [other.half_width_along, other.half_width_across]);
    if parts.is_some_and(|parts| parts.iter().flatten().next().is_some()) {
        remarks.info(
            "for_register",
            "/compare",
            "give half_width_along and half_width_across to register.budget as a uniform source, each on its axis: they hold at the ends of the image and fall to nothing in its middle",
        );
    }
    if request.tension.is_some() || request.compare.as_ref().is_some_and(|other| other.tension.is_some()) {
        remarks.info(
            "tension_as_measured",
            "/tension",
            "the growth follows from the gap alone; forces take the tension as measured, without what the stretch adds. A slack mesh is dragged along by the blade too, which no triangle shows",
        );
    }
    remarks.info(
        "geometry_only",
        "",
        "even strain and a blade without friction: pull two prints at two gaps and measure them once to see what your press adds",
    );
    remarks.caution(
        "pinch_points",
        "/gap",
        "set the gap with the press stopped and locked out: heads, screens and platens pinch and shear",
    );
}
