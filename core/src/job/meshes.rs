//! The mesh of a screen that was ordered without one.

use super::halftones::{self, halftone};
use super::order::{Order, Placement, ScreenOrder};
use super::registering::finest;
use super::{moved, rules};
use crate::cloth::{Cloth, Shade};
use crate::error::Error;
use crate::ink::{ChooseRequest, Covering, Film, nearest_mesh};
use crate::mesh::{Mesh, designated};
use crate::quantity::Length;
use crate::source::Source;
use crate::wire::Remarks;

/// The mesh whose film most colours are printed with.
const USUAL: &str = "77-55";
const USUAL_FILM: Source =
    Source::common("colours on light cloth and on a base are printed through 77-55 or thereabouts");

/// The mesh that was ordered; else that of the stock which suits ink, art and cloth: a white that is to hide a dark cloth gets the
/// finest that hides it, another ink one whose film is nearest to that of a 77-55.
///
/// # Errors
/// `no_solution` where no mesh holds line, halftone and particles together.
pub(super) fn of(
    order: &Order,
    placement: &Placement,
    screen: &ScreenOrder,
    (index, at): (u32, &str),
    remarks: &mut Remarks,
) -> Result<Mesh, Error> {
    if let Some(mesh) = &screen.mesh {
        return Ok(mesh.clone());
    }
    let below = placement.screens.iter().take_while(|other| !core::ptr::eq(*other, screen));
    let first = !below.into_iter().any(|other| rules::is_base(&other.ink));
    let hides = Covering::of(&screen.ink, &order.cloth).filter(|_| first && order.cloth.shade == Shade::Dark);
    let wanted = if let Some(covering) = hides {
        art(screen).lightness(covering.covers_from()).cloth(order.cloth.clone())
    } else {
        remarks.basis("mesh", USUAL_FILM);
        art(screen).dry_film(dry(screen, &USUAL.parse()?, 1))
    };
    // Doubts of ink and cloth do not change the screen.
    let mesh = remarks.held(index, |_| {
        nearest_mesh(&wanted).map_err(|error| {
            let places = [
                ("/finest_line", format!("{at}/finest_line")),
                ("/ruling", format!("{at}{}", halftones::place(screen))),
                ("/ink", format!("{at}/ink")),
                ("", format!("{at}/mesh")),
            ];
            let places = places.each_ref().map(|(from, to)| (*from, to.as_str()));
            Error { field: moved(&error.field, &places).unwrap_or_else(|| at.to_owned()), ..error }
        })
    })?;
    remarks.info("mesh_proposed", format_args!("{at}/mesh"), |_| {
        let why = if hides.is_some() {
            "the finest that hides the cloth"
        } else {
            "its film is what most colours are printed with"
        };
        format!(
            "no mesh was given: {} is proposed, {why}, as far as lines, halftone and particles allow; mesh.choose compares all",
            designated(&mesh)
        )
    });
    Ok(mesh)
}

/// The finest mesh that holds a screen's art and covers the cloth with the hits that were ordered.
pub(super) fn that_covers(cloth: &Cloth, screen: &ScreenOrder, covering: Covering) -> Option<Mesh> {
    let hits = screen.hits.unwrap_or(1);
    let mesh = nearest_mesh(&art(screen).lightness(covering.covers_from()).cloth(cloth.clone())).ok()?;
    covering.covers(dry(screen, &mesh, hits), covering.covers_from()).then_some(mesh)
}

/// What a screen's art wants of its mesh.
fn art(screen: &ScreenOrder) -> ChooseRequest {
    ChooseRequest::new()
        .ink(screen.ink.clone())
        .strokes(screen.print_strokes)
        .most_hits(screen.hits.unwrap_or(1))
        .finest_line(finest(screen))
        .ruling(halftone(screen).map(|halftone| halftone.ruling))
}

/// The dry film of a wide solid through a mesh.
fn dry(screen: &ScreenOrder, mesh: &Mesh, hits: u32) -> Length {
    Film::of_solid(mesh, &screen.ink, screen.print_strokes, hits).dry(0.0)
}
