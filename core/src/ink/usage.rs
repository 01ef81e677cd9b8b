//! How much ink a run needs.

use super::deposit::{HITS, edge_share_or_solid};
use super::{Film, Ink, STROKES};
use crate::artwork::ArtworkMeasure;
use crate::cloth::SURFACE;
use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{Area, AreaPerMass, Density, Length, Mass, PerMass, Rank, Rules, Show, Volume, units};
use crate::source::Source;
use crate::stencil::{EDGE_REACH, OVER_MESH};
use crate::wire::{At, Choice, Remarks, Say, answer, calculation, lacks, one_of, request};

pub(crate) const AREA: Rules = Rules::range(units::CM2, 1e-4, 1e6).usual(0.5, 5_000.0);
/// Sizes of prints.
pub(crate) const SIDE: Rules = Rules::range(units::MM, 0.1, 10_000.0).usual(5.0, 1_000.0);
/// Covered share of a print's box.
pub(crate) const COVERAGE: Rules = Rules::range(units::ONE, 1e-6, 1.0);
pub(crate) const EDGE: Rules = Rules::range(units::M, 0.0, 1e6).usual(0.0, 1e3);
/// Waste over what is printed.
pub(crate) const WASTE: Rules = Rules::range(units::ONE, 0.0, 10.0)
    .usual(0.0, 0.5)
    .or(0.10, Source::memory("left on tools, in tests and in the pot"));
/// Ink that a screen needs to flood.
pub(crate) const LEFT: Rules = Rules::range(units::G, 0.0, 100_000.0)
    .usual(0.0, 2_000.0)
    .or(100.0, Source::memory("what a screen needs to flood"));

/// Mass of ink on one print: area x wet film x density.
#[must_use]
pub fn mass_per_print(area: Area, wet_film: Length, density: Density) -> Mass {
    area * wet_film * density
}

/// Ink to have ready: what is printed, waste as a share of it, and what stays in the screen at the end.
#[must_use]
pub fn mass_to_mix(printed: Mass, waste_fraction: f64, left_in_screen: Mass) -> Mass {
    printed * (1.0 + waste_fraction) + left_in_screen
}

request! {
    /// A screen, its ink and the run.
    pub struct UsageRequest {
        /// The mesh of the screen.
        mesh "Mesh": Mesh,
        /// Stencil over the mesh on the print side.
        over_mesh "Stencil over mesh": Option<Length> where OVER_MESH.group("The stencil"),
        /// The ink.
        ink "Ink": Ink,
        /// Print strokes of one hit.
        strokes "Print strokes": Option<u32> where STROKES.group("The strokes").unless_given("the ink's own"),
        /// Prints of the same screen with a flash between them.
        hits "Number of hits": Option<u32> where HITS.group("The strokes"),
        /// The printed area; or give width, height and coverage_fraction; or the artwork.
        printed_area "Printed area": Option<Area> where AREA.rank(Rank::First).group("The printed area"),
        /// Width of the print's box.
        width "Print width": Option<Length> where SIDE.rank(Rank::First).group("The printed area"),
        /// Height of the print's box.
        height "Print height": Option<Length> where SIDE.rank(Rank::First).group("The printed area"),
        /// Covered share of the box.
        coverage_fraction "Covered share": Option<f64> where COVERAGE.rank(Rank::First).group("The printed area"),
        /// The answer of artwork.measure, whole.
        artwork "Measured artwork": Option<ArtworkMeasure> where Rules::NONE.rank(Rank::First).group("The printed area"),
        /// Length of all edges of the printed area.
        edge_length "Total edge length": Option<Length>
            where EDGE.group("The printed area").unless_given("a wide solid, or the edges of the artwork"),
        /// How far an edge of the stencil thickens the film.
        edge_length_scale "Reach of an edge": Option<Length> where EDGE_REACH.group("The stencil"),
        /// Ink that the surface of the cloth drinks before a film lies on it, where this is the first ink on it.
        surface_take "Ink the surface takes": Option<Length> as InkVolume where SURFACE.unless_given("none, as a smooth jersey"),
        /// Number of pieces to print.
        prints "Pieces to print": u32 where Rules::count(1.0).group("The run"),
        /// Ink wasted, as a share of what is printed.
        waste_fraction "Ink wasted": f64 where WASTE.group("The run"),
        /// Ink that stays in the screen at the end.
        left_in_screen "Ink left in screen": Mass where LEFT.group("The run"),
    }
    chooses(
        Choice::One(&[&["printed_area"], &["width", "height", "coverage_fraction"], &["artwork"]]),
        Choice::Most(&["artwork", "edge_length"]),
        Choice::Most(&["artwork", "edge_length_scale"])
    )
}

answer! {
    /// Ink for the run.
    pub struct Usage {
        /// Thickness of the film as printed, mean over the area.
        wet_film "Wet film": Length as Film,
        /// Ink on one print.
        mass_per_print "Ink per print": Mass,
        /// Ink on all prints.
        mass_printed "Ink on prints": Mass,
        /// Ink to have ready: printed, waste, and what stays in the screen.
        mass_to_mix "Ink to mix": Mass,
        /// Volume of the ink to have ready.
        volume_to_mix "Volume to mix": Volume,
        /// Area covered per mass of ink.
        area_per_mass "Area per mass": AreaPerMass,
        /// Prints per mass of ink.
        prints_per_mass "Prints per mass": PerMass,
    }
}

calculation! {
    pub const USAGE: UsageRequest => Usage = usage;
    id: "ink.usage",
    title: "Ink for a run",
    question: "How much ink for the run?",
    asked: ["How much ink do I mix for this order?", "How many shirts does a kilogram print?"],
    headline: ["mass_to_mix", "mass_per_print"],
    formula: "mass per print = area x (wet film + surface take) x density; mass to mix = prints x mass per print x (1 + waste) + left in screen; wet film as in ink.deposit with e = min(1, s L / A) for an edge of length s, or the edge share of the artwork",
    sources: super::deposit::SOURCES,
    example: r#"{"mesh": "55-64", "ink": "plastisol-white", "width": "320 mm", "height": "380 mm", "coverage_fraction": 0.38, "prints": 240}"#,
}

/// Area and edge share of what is printed.
fn printed(request: &UsageRequest, remarks: &mut Remarks) -> Result<(Area, f64), Error> {
    let too_many = |field: &str| {
        Err(Error::new(
            Code::Impossible,
            field,
            "the printed area is given twice: give printed_area, or width, height and coverage_fraction, or artwork",
        ))
    };
    let in_box = request.width.is_some() || request.height.is_some() || request.coverage_fraction.is_some();
    let area = match (request.printed_area, in_box, &request.artwork) {
        (None, false, None) => {
            return Err(one_of::<UsageRequest>(At::ROOT));
        }
        (Some(area), false, None) => area,
        (None, false, Some(artwork)) => {
            if request.edge_length.is_some() || request.edge_length_scale.is_some() {
                return Err(Error::new(
                    Code::Impossible,
                    "/artwork",
                    "the artwork brings its own edges: leave edge_length and edge_length_scale out",
                ));
            }
            return Ok((artwork.printed_area, artwork.edge_share("/artwork")?));
        }
        (None, true, None) => match (request.width, request.height, request.coverage_fraction) {
            (Some(width), Some(height), Some(coverage)) => width * height * coverage,
            _ => {
                let absent = match (request.width, request.height) {
                    (None, _) => "width",
                    (_, None) => "height",
                    _ => "coverage_fraction",
                };
                return Err(lacks(At::ROOT, absent));
            }
        },
        (Some(_), _, _) => return too_many("/printed_area"),
        (None, true, Some(_)) => return too_many("/artwork"),
    };
    let share = edge_share_or_solid(request.edge_length, request.edge_length_scale, area, remarks)?;
    Ok((area, share))
}

/// Ink on a print, on the run, and to have ready.
///
/// # Errors
/// `missing_field` without an area, `impossible` where the area is given in two ways.
pub(crate) fn usage(request: &UsageRequest, remarks: &mut Remarks) -> Result<Usage, Error> {
    let (area, edge_share) = printed(request, remarks)?;
    let ink = &request.ink;
    let film = Film::of(&request.mesh, request.over_mesh, ink, request.strokes, request.hits, remarks);
    ink.cite(&["density"], remarks);
    let wet_film = film.wet(edge_share);
    let sinks = request.surface_take.unwrap_or_else(|| units::UM.of(0.0));
    let each = mass_per_print(area, wet_film + sinks, ink.density);
    let mass_printed = each * f64::from(request.prints);
    let mass_to_mix = mass_to_mix(mass_printed, request.waste_fraction, request.left_in_screen);
    if mass_printed < request.left_in_screen {
        remarks.info("mostly_screen", "/left_in_screen", |say: Say| {
            format!("most of the ink only fills the screen: {} are printed", say.say(mass_printed, Show::Usual))
        });
    }
    Ok(Usage {
        wet_film,
        mass_per_print: each,
        mass_printed,
        mass_to_mix,
        volume_to_mix: mass_to_mix / ink.density,
        area_per_mass: area / each,
        prints_per_mass: 1.0 / each,
    })
}
