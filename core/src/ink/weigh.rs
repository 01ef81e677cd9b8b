//! What a press really lays down: weigh it, and the release follows.

use super::deposit::{HITS, edge_share_or_solid};
use super::usage::{AREA, EDGE};
use super::{Film, Ink, RELEASE, STROKES, laid_down};
use crate::cloth::SURFACE;
use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{Area, Dimensioned, Length, Mass, Rules, units};
use crate::stencil::{EDGE_REACH, OVER_MESH};
use crate::wire::{Remarks, answer, calculation, request};

pub(crate) const WEIGHT: Rules = Rules::range(units::G, 0.0, 1e6).usual(0.0, 50_000.0);

request! {
    /// Prints that were weighed.
    pub struct WeighRequest {
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
        /// The printed area of one print.
        printed_area "Printed area": Area where AREA.group("The printed area"),
        /// Length of all edges of the printed area.
        edge_length "Total edge length": Option<Length>
            where EDGE.group("The printed area").unless_given("a wide solid"),
        /// How far an edge of the stencil thickens the film.
        edge_length_scale "Reach of an edge": Option<Length> where EDGE_REACH.group("The stencil"),
        /// Ink that the surface of the cloth drinks before a film lies on it, where this is the first ink on it.
        surface_take "Ink the surface takes": Option<Length> as InkVolume where SURFACE.unless_given("none, as a smooth jersey"),
        /// Prints between the two weighings.
        prints "Prints between weighings": u32 where Rules::count(1.0).group("The weighings"),
        /// Mass of the garments before printing, or of pot, screen and tools.
        mass_before "Weight before": Mass where WEIGHT.group("The weighings"),
        /// Mass of the same things after printing, wet.
        mass_after "Weight after": Mass where WEIGHT.group("The weighings"),
    }
}

answer! {
    /// What the press lays down.
    pub struct Weigh {
        /// Ink on one print.
        mass_per_print "Ink per print": Mass,
        /// Thickness of the film as printed, mean over the area.
        wet_film "Wet film": Length as Film,
        /// Share of the mesh's volume that one print stroke lays down: the ink's release_fraction from now on.
        release_fraction "Released share": f64,
    }
}

calculation! {
    pub const WEIGH: WeighRequest => Weigh = weigh;
    id: "ink.weigh",
    title: "Release from a weighing",
    question: "What does my press really lay down?",
    asked: ["How do I measure my own ink release?", "What does a print weigh?"],
    headline: ["release_fraction", "wet_film"],
    formula: "mass per print = |after - before| / prints; wet = mass per print / (area x density) - surface take; release = wet / (hits x (1 + stroke_gain (strokes - 1)) x (ink_volume + over_mesh x e)), the deposit formula turned round",
    sources: super::deposit::SOURCES,
    example: r#"{"mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 12, "mass_before": "1890.0 g", "mass_after": "1902.6 g"}"#,
}

/// The release that a weighing shows: the inverse of the deposit formula.
///
/// Weigh before the dryer: water leaves in it. Twelve prints and a scale that reads 0.1 g find a release to about 1 %.
///
/// # Errors
/// `impossible` where nothing was laid down, or more than a hundred times what the mesh holds.
pub(crate) fn weigh(request: &WeighRequest, remarks: &mut Remarks) -> Result<Weigh, Error> {
    let ink = &request.ink;
    let gained = request.mass_after - request.mass_before;
    let garments = gained > Mass::from_si(0.0);
    let mass = if garments { gained } else { -gained };
    if mass <= Mass::from_si(0.0) {
        return Err(Error::new(
            Code::Impossible,
            "/mass_after",
            "both weighings are the same: nothing was laid down; weigh more prints or take a finer scale",
        ));
    }
    remarks.info(
        "what_was_weighed",
        "/mass_after",
        if garments {
            "the weight grew: read as garments before and after printing"
        } else {
            "the weight fell: read as pot, screen and tools before and after printing; ink wiped away counts as printed"
        },
    );
    let edge_share =
        edge_share_or_solid(request.edge_length, request.edge_length_scale, request.printed_area, remarks)?;
    ink.cite(&["density"], remarks);
    let film = Film::of_weighed(&request.mesh, request.over_mesh, ink, request.strokes, request.hits, remarks);
    let mass_per_print = mass / f64::from(request.prints);
    let sinks = request.surface_take.unwrap_or_else(|| units::UM.of(0.0));
    let wet_film = mass_per_print / (request.printed_area * ink.density) - sinks;
    if wet_film <= units::UM.of(0.0) {
        return Err(Error::new(
            Code::Impossible,
            "/surface_take",
            "the surface would have drunk more than was laid down",
        ));
    }
    let whole = film.holds(edge_share) * laid_down(film.hits, film.strokes, 1.0, ink.stroke_gain_fraction);
    let release_fraction: f64 = (wet_film / whole).into();
    if release_fraction > 100.0 {
        return Err(Error::new(
            Code::Impossible,
            "/mass_after",
            "a hundred times what the mesh holds: check units, area and the number of prints",
        ));
    }
    if release_fraction > 1.0 {
        remarks.caution(
            "more_than_the_mesh_holds",
            "/mass_after",
            "more than the mesh holds, and no ink takes such a release: check the area, the number of prints and both weighings",
        );
    } else if RELEASE.usual.is_some_and(|usual| !usual.holds(release_fraction)) {
        remarks.caution(
            "unusual_release",
            "/mass_after",
            "a release outside of its usual range: weigh again before you rely on it",
        );
    }
    if ink.is_water_based() {
        remarks.caution(
            "weigh_wet",
            "/mass_after",
            "water leaves while you weigh: weigh at once, before flash and dryer",
        );
    }
    Ok(Weigh { mass_per_print, wet_film, release_fraction })
}

#[cfg(test)]
mod tests {
    use super::super::{USAGE, UsageRequest};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Weighing what ink.usage foretells gives back the release it was foretold with.
        #[test]
        fn the_release_comes_back(
            release in 0.05_f64..1.0, strokes in 1_u32..5, hits in 1_u32..4, cm2 in 1.0_f64..3000.0, edge in proptest::option::of(0.0_f64..50.0),
            prints in 1_u32..1000, count in 10.0_f64..140.0,
        ) {
            let ink = Ink::in_stock("plastisol").unwrap().release_fraction(release);
            let mesh = Mesh::new(units::PER_CM.of(count), units::UM.of(40.0)).unwrap();
            let edge_length = edge.map(|m| units::M.of(m));
            let used = UsageRequest::new()
                .mesh(mesh.clone()).ink(ink.clone()).strokes(strokes).hits(hits).printed_area(units::CM2.of(cm2)).edge_length(edge_length)
                .prints(prints).waste_fraction(0.0).left_in_screen(units::G.of(0.0));
            let used = USAGE.answer(&used).unwrap();
            for (before, after) in [(units::KG.of(0.0), used.mass_printed), (used.mass_printed, units::KG.of(0.0))] {
                let weighed = WeighRequest::new()
                    .mesh(mesh.clone()).ink(ink.clone()).strokes(strokes).hits(hits).printed_area(units::CM2.of(cm2)).edge_length(edge_length)
                    .prints(prints).mass_before(before).mass_after(after);
                let weighed = WEIGH.answer(&weighed).unwrap();
                approx::assert_relative_eq!(weighed.release_fraction, release, epsilon = 0.0, max_relative = 1e-12);
                approx::assert_relative_eq!(weighed.wet_film.si(), used.wet_film.si(), epsilon = 0.0, max_relative = 1e-12);
            }
        }
    }
}
