//! The stencil: how far it stands over the mesh on the print side.
//!
//! `over mesh = coated thickness - mesh thickness`, aimed at 15 to 25 % of the mesh thickness: [`THICKNESS`]. It adds ink near its
//! edges only, `exp(-x / L)` of its height at the distance x from one.

use crate::error::{Code, Error};
use crate::mesh::Mesh;
use crate::quantity::{Length, Rank, Rules, decimal, reaches, to_places, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};
use serde_json::Value;

pub(crate) const COATED: Rules = Rules::range(units::UM, 1.0, 20_000.0).usual(30.0, 1500.0);
/// Stencil over the mesh, on the print side.
pub(crate) const OVER_MESH: Rules =
    Rules::range(units::UM, 0.0, 5_000.0).usual(2.0, 500.0).unless_given("20 % of the mesh thickness");
/// How far an edge of the stencil thickens a film.
pub(crate) const EDGE_REACH: Rules =
    Rules::range(units::MM, 0.01, 10.0).usual(0.1, 1.5).rank(Rank::Rare).unless_given("0.25 mm");
/// The same in millimetres, where none is given.
const USUAL_EDGE_REACH: f64 = 0.25;

/// Share of the mesh thickness below which edges turn ragged.
const TARGET_LOW: f64 = 0.15;
/// Share of the mesh thickness above which it costs drying and exposure and gives nothing.
const TARGET_HIGH: f64 = 0.25;
/// Share of the mesh thickness taken where nothing was measured.
const DEFAULT_SHARE: f64 = 0.20;

const SOURCES: &[Source] = &[Source::common(
    "emulsion suppliers and trade journals: stencil over mesh 15-20 % of the mesh thickness for textiles, floor 10 %, ceiling 25 %",
)];

/// Where the builds below come from.
pub(crate) const COATS_SOURCE: Source =
    Source::memory("usual builds of a coating; they vary with emulsion, trough and hand: gauge your own");

/// Build over the mesh of a coating, print side : squeegee side, in um; from memory.
const COATS: [(&str, f64, f64); 4] = [
    ("1:1 sharp edge", 3.0, 6.0),
    ("1:1 round edge", 6.0, 12.0),
    ("2:1 round edge", 10.0, 18.0),
    ("2:2 round edge", 15.0, 30.0),
];

/// How far an edge of the stencil thickens a film: the given, or the usual with its basis.
pub(crate) fn edge_reach(given: Option<Length>, remarks: &mut Remarks) -> Length {
    given.unwrap_or_else(|| {
        remarks.basis("edge_length_scale", Source::memory("the stencil adds ink fully within 0.2-1 mm of an edge"));
        units::MM.of(USUAL_EDGE_REACH)
    })
}

words! {
    /// What the stencil's thickness amounts to.
    pub enum StencilVerdict ("verdict") {
        /// Below the target: ragged edges, pinholes, early breakdown.
        Thin = "thin",
        /// On target.
        Good = "good",
        /// Above the target: slow to dry and expose, and it prints no thicker solid.
        Thick = "thick",
    }
}

/// The range aimed at for the stencil over this mesh: 15 to 25 % of the cloth's thickness.
#[must_use]
pub fn target(mesh: &Mesh) -> (Length, Length) {
    (TARGET_LOW * mesh.thickness(), TARGET_HIGH * mesh.thickness())
}

/// Stencil over the mesh where it was not measured: 20 % of the cloth's thickness, and a basis that says so.
pub fn over_mesh_or_default(mesh: &Mesh, measured: Option<Length>, remarks: &mut Remarks) -> Length {
    measured.unwrap_or_else(|| {
        remarks.basis("over_mesh", Source::common("20 % of the mesh thickness, as trade journals aim for"));
        DEFAULT_SHARE * mesh.thickness()
    })
}

/// The coating whose usual build comes nearest to the middle of the target.
#[must_use]
pub fn coats_hint(mesh: &Mesh) -> String {
    let (low, high) = target(mesh);
    let middle = units::UM.value((low + high) / 2.0);
    let miss = |(_, least, most): &(&str, f64, f64)| ((least + most) / 2.0 - middle).abs();
    let near = COATS.iter().min_by(|a, b| miss(a).total_cmp(&miss(b)));
    let (coats, least, most) = near.copied().unwrap_or_default();
    let more = if middle > most { ", then dried coats on the print side, 2-5 um each" } else { "" };
    format!("{coats}: {}-{} um{more}", to_places(least, 0), to_places(most, 0))
}

request! {
    /// A coated, dried screen.
    pub struct ThicknessRequest {
        /// The mesh of the screen.
        mesh "Mesh": Mesh,
        /// Thickness of mesh and stencil together, by gauge, dry.
        coated_thickness "Coated thickness": Length where COATED,
    }
}

answer! {
    /// How the stencil stands over the mesh.
    pub struct Thickness {
        /// Coated thickness less mesh thickness.
        over_mesh "Stencil over mesh": Length as Film,
        /// Stencil over the mesh as a share of the mesh thickness.
        over_mesh_fraction "Stencil share of mesh": f64,
        /// Lower end of the range aimed at for the stencil over the mesh.
        target_low "Target from": Length as Film,
        /// Upper end of the range aimed at for the stencil over the mesh.
        target_high "Target to": Length as Film,
        /// What the stencil's thickness amounts to.
        verdict "Verdict": StencilVerdict,
    }
}

calculation! {
    pub const THICKNESS: ThicknessRequest => Thickness = thickness;
    id: "stencil.thickness",
    title: "Stencil over mesh",
    question: "Is the stencil thick enough?",
    asked: ["How many coats does my screen need?", "Is my emulsion too thin?"],
    headline: ["over_mesh", "verdict"],
    formula: "over mesh = coated thickness - mesh thickness D; target 0.15 D to 0.25 D",
    sources: SOURCES,
    example: r#"{"mesh": {"count": "90 /cm", "thread": "48 um", "thickness": "72 um"}, "coated_thickness": "86 um"}"#,
}

/// Judges a coated screen by gauge.
///
/// # Errors
/// `impossible` where the coated screen is thinner than the measured bare mesh.
pub(crate) fn thickness(request: &ThicknessRequest, remarks: &mut Remarks) -> Result<Thickness, Error> {
    let mesh = &request.mesh;
    let bare = mesh.thickness();
    mesh.cite("mesh", remarks);
    let reaches_mesh = reaches(request.coated_thickness, bare);
    // The thickness of the mesh in another unit stands nothing over it.
    let is_mesh = reaches_mesh && reaches(bare, request.coated_thickness);
    let over_mesh = if is_mesh { units::UM.of(0.0) } else { request.coated_thickness - bare };
    if !reaches_mesh {
        if !mesh.thickness_estimated() {
            return Err(Error::new(
                Code::Impossible,
                "/coated_thickness",
                "the coated screen is thinner than the bare mesh: check the gauge's zero and both readings",
            )
            .got(&Value::from(format!("{} um", decimal(units::UM.value(request.coated_thickness)))))
            .allowed([format!("at least {} um", decimal(units::UM.value(bare)))]));
        }
        remarks.caution(
            "thinner_than_estimated_mesh",
            "/coated_thickness",
            "thinner than the estimated mesh: measure the bare mesh and give its thickness",
        );
    }
    let (target_low, target_high) = target(mesh);
    for end in ["target_low", "target_high"] {
        remarks.basis(end, SOURCES.first().copied().unwrap_or(Source::common("")));
    }
    // Compared as gauged, mesh included: the difference would magnify the rounding.
    let verdict = if !reaches(request.coated_thickness, bare + target_low) {
        StencilVerdict::Thin
    } else if !reaches(bare + target_high, request.coated_thickness) {
        StencilVerdict::Thick
    } else {
        StencilVerdict::Good
    };
    Ok(Thickness { over_mesh, over_mesh_fraction: (over_mesh / bare).into(), target_low, target_high, verdict })
}
