//! The halftones of an order: against the mesh, and against one another.

use super::order::{Order, ScreenOrder};
use super::sheet::{HalftoneSheet, KeyTone};
use super::shop::Shop;
use super::{Placed, moved};
use crate::artwork::{Halftone, KEY_TONES, USUAL_GROWTH, key_tones, shape, usual_growth};
use crate::error::Error;
use crate::mesh::{DETAIL, DetailRequest, Lattice, MOIRE, MoireRequest, beats};
use crate::quantity::{Angle, Length, Show, units};
use crate::wire::{Asked, Remarks, Say};

/// Orders of two films that are warned of. Second orders are the rosettes that any two films at different angles show.
const FILMS: [u8; 2] = [1, 1];

/// The halftone of a screen: as ordered, else as its artwork shows it.
pub(super) fn halftone(screen: &ScreenOrder) -> Option<&Halftone> {
    screen.halftone.as_ref().or_else(|| screen.artwork.as_ref()?.halftone.as_ref())
}

/// Where it stands, from its screen.
pub(super) fn place(screen: &ScreenOrder) -> &'static str {
    if screen.halftone.is_some() { "/halftone" } else { "/artwork/halftone" }
}

/// Whether two angles are the same direction of a square lattice, to a tenth of a degree.
fn alike(one: Angle, other: Angle) -> bool {
    let apart = (units::DEG.value(one) - units::DEG.value(other)).rem_euclid(90.0);
    !(0.1..=89.9).contains(&apart)
}

/// A screen's halftone on its mesh. The threads are taken to run along the frame.
pub(super) fn sheet(placed: &Placed<'_>, shop: &Shop, remarks: &mut Remarks) -> Result<Option<HalftoneSheet>, Error> {
    let screen = placed.screen;
    let Some(halftone) = halftone(screen) else { return Ok(None) };
    let halftone_at = format!("{}{}", placed.at, place(screen));
    let in_order = [
        ("/angles", format!("{halftone_at}/angle")),
        ("/ruling", format!("{halftone_at}/ruling")),
        ("/mesh", format!("{}/mesh", placed.at)),
        ("", halftone_at.clone()),
    ];
    let in_order = in_order.each_ref().map(|(from, to)| (*from, to.as_str()));
    let place = |asked: &Asked<'_>| moved(asked.field, &in_order);
    let tones = DetailRequest::new().mesh(placed.mesh.clone()).ruling(halftone.ruling);
    let tones = remarks.ask(&DETAIL, &tones, place)?;
    let threads = MoireRequest::new().mesh(placed.mesh.clone()).mesh_angle(units::DEG.of(0.0));
    let against = threads.ruling(halftone.ruling).angles([halftone.angle]);
    let beat = remarks.ask(&MOIRE, &against, place)?;
    let asked = beat.per_angle.first();
    let widest = asked.and_then(|angle| angle.worst_period);
    let best = [beat.best_angle, beat.best_angle_mirrored];
    if asked.is_some_and(|angle| !angle.clear) && !best.iter().any(|best| alike(*best, halftone.angle)) {
        let seen = widest.map_or_else(
            || "a little off this angle bands appear".to_owned(),
            |period| format!("bands of {}", remarks.say(period, Show::Print)),
        );
        let [best, mirrored] = best;
        let or = if beat.best_angle_clear { "show none" } else { "show the least" };
        remarks.caution(
            "moire",
            format_args!("{halftone_at}/angle"),
            |say: Say| format!(
                "the halftone beats against the mesh: {seen}; {} and {} {or}, by calculation: print a test on the screen itself",
                say.say(best, Show::Usual),
                say.say(mirrored, Show::Usual)
            ),
        );
    }
    let growth = shop.dot_growth.unwrap_or_else(|| {
        remarks.basis("dot_growth", USUAL_GROWTH);
        usual_growth()
    });
    let printed = key_tones(shape(None, remarks), halftone.ruling, growth);
    let holds = |film: f64| {
        tones.tone_min_fraction.is_none_or(|least| least <= film)
            && tones.tone_max_fraction.is_none_or(|most| film <= most)
    };
    Ok(Some(HalftoneSheet {
        ruling: halftone.ruling,
        angle: halftone.angle,
        widest_beat: widest,
        best_angle: beat.best_angle,
        tone_min_fraction: tones.tone_min_fraction,
        tone_max_fraction: tones.tone_max_fraction,
        tones: KEY_TONES
            .into_iter()
            .zip(printed)
            .map(|(film_fraction, printed_fraction)| KeyTone {
                film_fraction,
                printed_fraction,
                held: holds(film_fraction),
            })
            .collect(),
    }))
}

/// Says which halftones of a print beat against one another.
pub(super) fn between(order: &Order, remarks: &mut Remarks) {
    for (p, placement) in order.placements.iter().enumerate() {
        let films: Vec<_> = placement
            .screens
            .iter()
            .enumerate()
            .filter_map(|(s, screen)| Some((s, screen, lattice(halftone(screen)?))))
            .collect();
        for (index, (_, lower, first)) in films.iter().enumerate() {
            for (s, upper, second) in films.iter().skip(index.saturating_add(1)) {
                let widest: Option<Length> = beats(first, second, FILMS, MoireRequest::new().visible_period)
                    .into_iter()
                    .filter_map(|beat| beat.period)
                    // A band wider than the print is none.
                    .filter(|period| *period < placement.width || *period < placement.height)
                    .reduce(|a, b| if b > a { b } else { a });
                if let Some(widest) = widest {
                    remarks.caution(
                        "moire_between",
                        format_args!("/placements/{p}/screens/{s}{}", place(upper)),
                        |say: Say| format!(
                            "the halftones of {} and {} beat against one another, bands of {}: the same ruling and angle for both, or angles 30 degrees apart",
                            lower.name,
                            upper.name,
                            say.say(widest, Show::Print)
                        ),
                    );
                }
            }
        }
    }
}

fn lattice(halftone: &Halftone) -> Lattice {
    Lattice { count: halftone.ruling, angle: halftone.angle }
}
