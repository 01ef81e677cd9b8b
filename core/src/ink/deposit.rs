//! How thick an ink prints.

use super::{Ink, STROKES};
use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{Area, Length, Rules, units};
use crate::source::Source;
use crate::stencil::{EDGE_REACH, OVER_MESH, edge_reach, over_mesh_or_default};
use crate::wire::{Remarks, answer, calculation, request};

const WIDTH: Rules = Rules::range(units::UM, 1.0, 1e7).usual(50.0, 1e6);
/// Prints of the same screen, with a flash between them.
pub(crate) const HITS: Rules = Rules::range(units::ONE, 1.0, 20.0).usual(1.0, 3.0).unless_given("one");

pub(super) const SOURCES: &[Source] = &[
    Source::published(
        "doctoral thesis Fundamental investigations into screen printing, EThOS uk.bl.ethos.422613: the mesh sets the film, about half its volume is filled",
    ),
    Source::common("trade journals: a third of the mesh volume is printed; the stencil adds ink near its edges only"),
    Source::memory("the exponential fall of the stencil's share away from an edge"),
];

/// The share e of the stencil's thickness that a strip of width W between two edges takes:
/// `e(W) = -(2 L / W) expm1(-W / (2 L))`, the mean of exp(-x / L) over the strip, x from the nearer edge.
///
/// A hairline takes the whole stencil (e -> 1), a wide solid none (e -> 0).
#[must_use]
pub fn edge_share_of_width(width: Length, reach: Length) -> f64 {
    let ratio: f64 = (width / (2.0 * reach)).into();
    if ratio > 0.0 { -libm::expm1(-ratio) / ratio } else { 1.0 }
}

/// The share e for an area A with an edge of length s: `min(1, s L / A)`.
#[must_use]
pub fn edge_share_of_area(edge: Length, reach: Length, area: Area) -> f64 {
    let share: f64 = (edge * reach / area).into();
    share.min(1.0)
}

/// What the print strokes of all hits lay down, as a share of what the screen holds:
/// `hits x release x (1 + stroke_gain (strokes - 1))`.
#[must_use]
pub fn laid_down(hits: u32, strokes: u32, release: f64, stroke_gain: f64) -> f64 {
    f64::from(hits) * (release * (1.0 + stroke_gain * (f64::from(strokes) - 1.0)))
}

/// Wet film: `laid_down x (ink_volume + over_mesh x edge_share)`, with [`laid_down`].
#[must_use]
pub fn wet_film(laid_down: f64, ink_volume: Length, over_mesh: Length, edge_share: f64) -> Length {
    laid_down * (ink_volume + over_mesh * edge_share)
}

/// Dry film: wet film times solids by volume.
#[must_use]
pub fn dry_film(wet: Length, solids_by_volume: f64) -> Length {
    wet * solids_by_volume
}

/// A screen and its ink, ready to print: what the deposit formula needs beside the edge share.
#[derive(Debug, Clone, Copy)]
pub struct Film<'a> {
    /// The mesh.
    pub mesh: &'a Mesh,
    /// Stencil over the mesh.
    pub over_mesh: Length,
    /// The ink.
    pub ink: &'a Ink,
    /// Print strokes of one hit.
    pub strokes: u32,
    /// Prints of the same screen.
    pub hits: u32,
}

impl<'a> Film<'a> {
    /// Fills what was not given from the mesh and the ink, and says where it came from.
    #[inline]
    pub fn of(
        mesh: &'a Mesh,
        over_mesh: Option<Length>,
        ink: &'a Ink,
        strokes: Option<u32>,
        hits: Option<u32>,
        remarks: &mut Remarks,
    ) -> Self {
        mesh.cite("mesh", remarks);
        ink.cite(&["release_fraction"], remarks);
        let film = Self::of_cited(mesh, over_mesh, ink, strokes, hits, remarks);
        if laid_down(1, film.strokes, ink.release_fraction, ink.stroke_gain_fraction) > 1.0 {
            remarks.caution(
                "more_than_the_mesh_holds",
                "/strokes",
                "release and strokes together lay down more than the mesh holds: the film is an upper bound at best; weigh a print",
            );
        }
        film
    }

    /// The same where the release is what is sought.
    pub(super) fn of_weighed(
        mesh: &'a Mesh,
        over_mesh: Option<Length>,
        ink: &'a Ink,
        strokes: Option<u32>,
        hits: Option<u32>,
        remarks: &mut Remarks,
    ) -> Self {
        mesh.cite("mesh", remarks);
        Self::of_cited(mesh, over_mesh, ink, strokes, hits, remarks)
    }

    #[inline]
    fn of_cited(
        mesh: &'a Mesh,
        over_mesh: Option<Length>,
        ink: &'a Ink,
        strokes: Option<u32>,
        hits: Option<u32>,
        remarks: &mut Remarks,
    ) -> Self {
        let over_mesh = over_mesh_or_default(mesh, over_mesh, remarks);
        let strokes = strokes.unwrap_or_else(|| {
            ink.cite(&["print_strokes"], remarks);
            ink.print_strokes
        });
        if strokes > 1 {
            ink.cite(&["stroke_gain_fraction"], remarks);
        }
        Self { mesh, over_mesh, ink, strokes, hits: hits.unwrap_or(1) }
    }

    /// What mesh and stencil hold at this edge share, before release and strokes.
    #[must_use]
    pub fn holds(&self, edge_share: f64) -> Length {
        self.mesh.ink_volume() + self.over_mesh * edge_share
    }

    /// The wet film at this edge share.
    #[inline]
    #[must_use]
    pub fn wet(&self, edge_share: f64) -> Length {
        let laid = laid_down(self.hits, self.strokes, self.ink.release_fraction, self.ink.stroke_gain_fraction);
        wet_film(laid, self.mesh.ink_volume(), self.over_mesh, edge_share)
    }

    /// The same when dry.
    #[must_use]
    pub fn dry(&self, edge_share: f64) -> Length {
        dry_film(self.wet(edge_share), self.ink.solids_by_volume_fraction)
    }

    /// What a screen lays down where nobody asks for its edges: the stencil over the mesh adds nothing to a wide solid.
    pub(crate) fn of_solid(mesh: &'a Mesh, ink: &'a Ink, strokes: Option<u32>, hits: u32) -> Self {
        let over_mesh = units::UM.of(0.0);
        Self { mesh, over_mesh, ink, strokes: strokes.unwrap_or(ink.print_strokes), hits }
    }
}

/// The edge share of an area with edges of a known length; none, a wide solid, where the length is not given.
///
/// # Errors
/// `impossible` for an edge scale without a length.
pub(super) fn edge_share_or_solid(
    edge: Option<Length>,
    scale: Option<Length>,
    area: Area,
    remarks: &mut Remarks,
) -> Result<f64, Error> {
    match edge {
        Some(edge) => Ok(edge_share_of_area(edge, edge_reach(scale, remarks), area)),
        None if scale.is_some() => Err(Error::new(
            Code::Impossible,
            "/edge_length_scale",
            "an edge scale says nothing without the edge_length",
        )),
        None => Ok(0.0),
    }
}

request! {
    /// A screen and its ink.
    pub struct DepositRequest {
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
        /// Width of the printed line.
        feature_width "Line width": Option<Length> where WIDTH.group("The stencil").unless_given("a wide solid"),
        /// How far an edge of the stencil thickens the film.
        edge_length_scale "Reach of an edge": Option<Length> where EDGE_REACH.group("The stencil"),
    }
}

answer! {
    /// How thick it prints.
    pub struct Deposit {
        /// Thickness of the film as printed.
        wet_film "Wet film": Length as Film,
        /// Thickness of the film when dry.
        dry_film "Dry film": Length as Film,
        /// Share of the mesh's volume that one print stroke lays down.
        release_fraction "Released share": f64,
        /// Share of the stencil's thickness that adds to the film: 1 for a hairline, 0 for a wide solid.
        edge_share_fraction "Stencil share added": f64,
    }
}

calculation! {
    pub const DEPOSIT: DepositRequest => Deposit = deposit;
    id: "ink.deposit",
    title: "Ink film",
    question: "How thick does it print?",
    asked: ["How much ink does one stroke lay down?", "How thick is the dry film?"],
    headline: ["wet_film", "dry_film"],
    formula: "wet = hits x (1 + stroke_gain (strokes - 1)) x release x (ink_volume + over_mesh x e(W)); e(W) = -(2 L / W) expm1(-W / (2 L)); dry = wet x solids by volume",
    sources: SOURCES,
    example: r#"{"mesh": "55-64", "ink": "plastisol-white", "feature_width": "0.4 mm"}"#,
}

/// Wet and dry film of a screen.
///
/// Lengths in any unit; fractions from 0 to 1. The release of the stock inks is between 0.30 and 0.55 in practice, so an
/// unweighed film is good to a third or so.
///
/// # Errors
/// `impossible` for an edge scale without a feature.
pub(crate) fn deposit(request: &DepositRequest, remarks: &mut Remarks) -> Result<Deposit, Error> {
    let film = Film::of(&request.mesh, request.over_mesh, &request.ink, request.strokes, request.hits, remarks);
    let edge_share_fraction = match request.feature_width {
        Some(width) => edge_share_of_width(width, edge_reach(request.edge_length_scale, remarks)),
        None if request.edge_length_scale.is_some() => {
            return Err(Error::new(
                Code::Impossible,
                "/edge_length_scale",
                "an edge scale says nothing about a wide solid: give the feature_width too",
            ));
        }
        None => 0.0,
    };
    request.ink.cite(&["solids_by_volume_fraction"], remarks);
    request.ink.check_solids("/ink", remarks);
    let wet_film = film.wet(edge_share_fraction);
    Ok(Deposit {
        wet_film,
        dry_film: dry_film(wet_film, request.ink.solids_by_volume_fraction),
        release_fraction: request.ink.release_fraction,
        edge_share_fraction,
    })
}
