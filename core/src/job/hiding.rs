//! Whether the first ink that hides covers a dark cloth.

use super::screens::Screen;
use super::sheet::HidingSheet;
use super::{Placed, meshes, rules};
use crate::cloth::{Cloth, Shade};
use crate::ink::{Covering, hits_for};
use crate::mesh::designated;
use crate::quantity::{Length, to_places, units};
use crate::wire::Remarks;

/// Fills in what each ink that hides makes of a dark cloth: the film of its screen, and of screens of the same optics below it, which lie
/// wet on dry. An ink on another that hides says nothing of the cloth.
pub(super) fn fill(placed: &[Placed<'_>], screens: &mut [Screen], cloth: &Cloth, remarks: &mut Remarks) {
    if cloth.shade != Shade::Dark {
        return;
    }
    let mut below: Option<(usize, Option<Covering>, Length)> = None;
    for (placed, screen) in placed.iter().zip(screens) {
        let ink = &placed.screen.ink;
        let covering = Covering::of(ink, cloth);
        let same_place = below.filter(|(index, ..)| *index == placed.index);
        let film = screen.sheet.dry_film;
        match (same_place, covering) {
            (None, Some(covering)) => {
                screen.sheet.hiding = Some(sheet(placed, covering, film, film, cloth, remarks));
                below = Some((placed.index, Some(covering), film));
            }
            (Some((_, Some(lower), under)), Some(covering)) if lower == covering => {
                screen.sheet.hiding = Some(sheet(placed, covering, under + film, film, cloth, remarks));
                below = Some((placed.index, Some(covering), under + film));
            }
            (None, None) if rules::is_base(ink) => below = Some((placed.index, None, units::UM.of(0.0))),
            _ => {}
        }
    }
}

/// What a film makes of the cloth; `own` is what this screen adds of it.
fn sheet(
    placed: &Placed<'_>,
    covering: Covering,
    film: Length,
    own: Length,
    cloth: &Cloth,
    remarks: &mut Remarks,
) -> HidingSheet {
    let Placed { screen, at, .. } = placed;
    screen.ink.cite(&["scattering", "absorption"], remarks);
    let covers_from = covering.covers_from();
    let lightness = covering.lightness(film);
    let covers = covering.covers(film, covers_from);
    let of_one = own / f64::from(screen.hits.unwrap_or(1));
    let lacking = covering.film_for(covers_from).map(|needed| needed - (film - own));
    let hits_needed = lacking.and_then(|lacking| hits_for(lacking, of_one));
    if !covers {
        remarks.caution("shows_through", format_args!("{at}/mesh"), |_| {
            let mesh = meshes::that_covers(cloth, screen, covering)
                .map(|mesh| format!(", or a mesh such as {}", designated(&mesh)))
                .unwrap_or_default();
            let hits = hits_needed.map_or_else(
                || "no number of hits would do".to_owned(),
                |hits| format!("{hits} hits with a flash between them would do{mesh}"),
            );
            format!(
                "the cloth shows through: L* of about {}, and it covers from {}; {hits} (ink.opacity)",
                to_places(lightness, 0),
                to_places(covers_from, 0)
            )
        });
    }
    HidingSheet { lightness, covers_from, covers }
}
