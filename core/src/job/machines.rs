//! The machines of an order: places on the press, flash, dryer, pace.

use super::order::{Order, Placement, ScreenOrder};
use super::sheet::{DryerSheet, FlashSheet, HeadSheet, Place, PressSheet, ProbeReading, RunSheet, ZoneSheet};
use super::shop::Shop;
use super::{Placed, every_screen, ink_name, screens};
use crate::dryer::usual_pieces_per_hour;
use crate::error::{Code, Error};
use crate::ink::Gel;
use crate::note::Level;
use crate::press::{Colour, PressKind, Run, RunRequest, run};
use crate::quantity::{Frequency, Length, Show, Temperature, TemperatureDifference, Time, Velocity, units};
use crate::source::Source;
use crate::stock::Stock;
use crate::wire::Remarks;
use serde_json::Value;

/// Whether a screen needs the flash: it is asked for, or it prints again over itself.
pub(super) fn flashes(screen: &ScreenOrder) -> bool {
    screen.flash.unwrap_or(false) || screen.hits.unwrap_or(1) > 1
}

/// What each place on the press is for, placement by placement.
///
/// On a carousel a flash takes a place of its own, and the place after it cools the print where one is left. By hand a
/// screen has an arm, and the flash swings in over the platen.
pub(super) fn heads(order: &Order, shop: &Shop) -> Result<Vec<HeadSheet>, Error> {
    let mut heads = Vec::new();
    for (p, placement) in order.placements.iter().enumerate() {
        let places = match shop.press.kind {
            PressKind::Automatic => carousel(placement, shop),
            PressKind::Manual => placement.screens.iter().map(|s| (Place::Print, Some(s.name.clone()))).collect(),
        };
        let most = match shop.press.kind {
            PressKind::Automatic => shop.press.heads.saturating_add(2).min(shop.press.stations),
            PressKind::Manual => shop.press.heads,
        };
        if places.len() > most as usize {
            let message = format!(
                "`{}` needs {} places on the press, it has {most}: colours, flashes, load and unload",
                placement.name,
                places.len()
            );
            return Err(Error::new(Code::Impossible, format!("/placements/{p}/screens"), message)
                .got(&Value::from(placement.screens.len()))
                .allowed([format!("at most {most} places")]));
        }
        for (station, (role, screen)) in (1..).zip(places) {
            heads.push(HeadSheet { placement: placement.name.clone(), station, role, screen });
        }
    }
    Ok(heads)
}

fn carousel(placement: &Placement, shop: &Shop) -> Vec<(Place, Option<String>)> {
    let flashing = placement.screens.iter().filter(|s| flashes(s)).count();
    let stations = (shop.press.stations as usize).min((shop.press.heads as usize).saturating_add(2));
    let mut spare = stations.saturating_sub(placement.screens.len().saturating_add(flashing).saturating_add(2));
    let mut places = vec![(Place::Load, None)];
    for screen in &placement.screens {
        places.push((Place::Print, Some(screen.name.clone())));
        if flashes(screen) {
            places.push((Place::Flash, Some(screen.name.clone())));
            if spare > 0 {
                spare = spare.saturating_sub(1);
                places.push((Place::Cool, Some(screen.name.clone())));
            }
        }
    }
    places.extend((0..spare).map(|_| (Place::Free, None)));
    places.push((Place::Unload, None));
    places
}

/// The flash after each screen that needs it.
pub(super) fn flash(order: &Order, shop: &Shop, remarks: &mut Remarks) -> Vec<FlashSheet> {
    let mut sheets = Vec::new();
    for Placed { placement, screen, at, .. } in every_screen(order).filter(|placed| flashes(placed.screen)) {
        shop.flash.cite(&["customary_dwell"], remarks);
        screen.ink.cite(&["flash_never_above", "gel"], remarks);
        order.cloth.cite(&["never_above"], remarks);
        shop.flash.cite(&["panel"], remarks);
        remarks.basis("flash_height", Source::common("supplier pages: 2-3 in over the print"));
        remarks.basis("gun_most", Source::common("trade journals: a gun reading of at most 275 F after the flash of a full-cure ink, 10 K under the ink's own limit, since the gun is late"));
        remarks.caution(
            "flash_from_custom",
            at,
            format!(
                "the flash dwell is what shops use, {}, not worked out for this ink and platen: test for a dry touch, and shorten it as the platens warm up",
                remarks.say(shop.flash.customary_dwell, Show::Usual)
            ),
        );
        sheets.push(FlashSheet {
            screen: screen.name.clone(),
            placement: placement.name.clone(),
            dwell_cold: shop.flash.customary_dwell,
            dwell_warm: shop.flash.customary_dwell,
            height_low: units::MM.of(50.0),
            height_high: units::MM.of(75.0),
            flash: shop.flash.called("own flash"),
            panel: shop.flash.panel,
            gel: match screen.ink.gel {
                Gel::At(gel) => Some(gel),
                Gel::Dry => None,
            },
            gun_most: cooler(screen.ink.flash_never_above, order.cloth.never_above)
                - units::KELVIN_STEP.of::<TemperatureDifference>(10.0),
        });
    }
    sheets
}

fn cooler(a: Temperature, b: Temperature) -> Temperature {
    if a < b { a } else { b }
}

/// The hottest cure of the order, and the least of what ink and cloth must never pass.
fn cure_and_limit(order: &Order) -> (Option<Temperature>, Temperature) {
    let mut cure: Option<Temperature> = None;
    let mut limit = order.cloth.never_above;
    for Placed { screen, .. } in every_screen(order) {
        limit = cooler(limit, screen.ink.never_above);
        if cure.is_none_or(|cure| screen.ink.cure.temperature > cure) {
            cure = Some(screen.ink.cure.temperature);
        }
    }
    (cure, limit)
}

/// Refuses an order whose inks cure where its cloth or another ink is spoiled; warns of dye that moves.
pub(super) fn check_cure(order: &Order, remarks: &mut Remarks) -> Result<(), Error> {
    let (cure, limit) = cure_and_limit(order);
    let Some(cure) = cure else { return Ok(()) };
    if cure > limit {
        return Err(Error::new(
            Code::NoSolution,
            "/cloth",
            format!(
                "the inks cure at {}, and something in this order must never pass {}: take an ink that cures lower, or another cloth",
                remarks.say(cure, Show::Usual),
                remarks.say(limit, Show::Usual)
            ),
        ));
    }
    if let Some(dye) = order.cloth.caution_above.filter(|dye| cure > *dye) {
        order.cloth.cite(&["caution_above"], remarks);
        remarks.caution(
            "dye_migration",
            "/cloth",
            format!(
                "the cure passes {}, from where the dye of this cloth moves into the print, at once or within two weeks: an ink that cures lower, a blocker under it, and a print kept for two weeks",
                remarks.say(dye, Show::Usual)
            ),
        );
    }
    Ok(())
}

/// The dryer for the slowest ink of the order, on the dwell that shops use for it.
pub(super) fn dryer(order: &Order, shop: &Shop, remarks: &mut Remarks) -> DryerSheet {
    let machine = &shop.dryer;
    machine.cite(&["zones", "belt_least", "belt_most"], remarks);
    let mut hardest: Option<(&ScreenOrder, Time)> = None;
    for Placed { screen, .. } in every_screen(order) {
        screen.ink.cite(&["customary_dwell", "cure", "never_above"], remarks);
        if hardest.is_none_or(|(_, dwell)| screen.ink.customary_dwell > dwell) {
            hardest = Some((screen, screen.ink.customary_dwell));
        }
    }
    let length = machine.heated_length();
    let wanted: Velocity = hardest.map_or(machine.belt_most, |(_, dwell)| length / dwell);
    let recommended = if wanted > machine.belt_most {
        machine.belt_most
    } else if wanted < machine.belt_least {
        remarks.caution(
            "belt_too_fast",
            "/shop/dryer/belt_least",
            format!(
                "the slowest belt is still too fast for the customary dwell of {}: send the shirts through twice, or use a longer tunnel",
                hardest.map(|(_, dwell)| remarks.say(dwell, Show::Usual)).unwrap_or_default()
            ),
        );
        machine.belt_least
    } else {
        wanted
    };
    remarks.caution(
        "dryer_not_fitted",
        "/shop/dryer",
        "the belt speed follows the customary dwell, not a model of your tunnel: run a wired probe in the ink before the first shirt, and keep to the ink maker's sheet",
    );
    let dwell: Time = length / recommended;
    DryerSheet {
        slowest: None,
        fastest: None,
        recommended,
        dwell,
        limits: None,
        zones: machine
            .zones
            .iter()
            .map(|zone| ZoneSheet { length: zone.length, air: zone.air, panel: zone.panel })
            .collect(),
        pieces_per_hour: usual_pieces_per_hour(recommended, remarks),
        hardest_ink: hardest.map(|(screen, _)| ink_name(screen)).unwrap_or_default(),
        probe_readings: probe(order, length, dwell, remarks),
    }
}

/// Where to read the probe: at every quarter of the tunnel, and what the ink must have reached by the exit.
fn probe(order: &Order, length: Length, dwell: Time, remarks: &mut Remarks) -> Vec<ProbeReading> {
    order.cloth.cite(&["never_above"], remarks);
    let (least, most) = cure_and_limit(order);
    [0.25, 0.5, 0.75, 1.0]
        .into_iter()
        .map(|share| ProbeReading {
            at: length * share,
            time: dwell * share,
            least: least.filter(|_| share >= 1.0),
            most,
        })
        .collect()
}

/// The pace of the press, each placement by itself and all together.
pub(super) fn press(
    order: &Order,
    shop: &Stock<Shop>,
    dryer: &DryerSheet,
    pieces: u32,
    remarks: &mut Remarks,
) -> Result<PressSheet, Error> {
    shop.cite(&["press", "setup_per_screen", "teardown_per_screen"], remarks);
    let mut runs: Vec<(String, Run)> = Vec::new();
    for (p, placement) in order.placements.iter().enumerate() {
        let mut said = Remarks::new(remarks.system());
        let colours = placement
            .screens
            .iter()
            .map(|screen| {
                let strokes = screens::strokes(screen, &mut said);
                Colour {
                    name: screen.name.clone(),
                    image_length: placement.height,
                    flood_strokes: strokes.flood,
                    print_strokes: strokes.print,
                    flash: flashes(screen).then_some(shop.flash.customary_dwell),
                    hits: screen.hits,
                }
            })
            .collect();
        let request = RunRequest {
            press: shop.press.clone(),
            colours,
            dryer_rate: Some(Frequency::from(dryer.pieces_per_hour / units::H.of::<Time>(1.0))),
            pieces,
            setup_per_screen: shop.setup_per_screen,
            teardown_per_screen: shop.teardown_per_screen,
        };
        let done = run(&request, &mut said).map_err(|mut e| {
            e.field = format!("/placements/{p}/screens");
            e
        })?;
        said.notes.retain(|note| note.level > Level::Info);
        for note in &mut said.notes {
            note.field = String::new();
        }
        remarks.absorb(said, &format!("/placements/{p}"));
        runs.push((placement.name.clone(), done));
    }
    let zero = units::S.of::<Time>(0.0);
    let run_time = runs.iter().fold(zero, |sum, (_, run)| sum + run.run_time);
    let setup_time = runs.iter().fold(zero, |sum, (_, run)| sum + run.setup_time);
    let slowest = runs.iter().min_by(|a, b| a.1.pieces_per_hour.total_cmp(&b.1.pieces_per_hour));
    Ok(PressSheet {
        pieces_per_hour: f64::from(pieces) / units::H.value(run_time),
        bottleneck: slowest.map(|(_, run)| run.bottleneck.clone()).unwrap_or_default(),
        next_bottleneck: slowest.map(|(_, run)| run.next_bottleneck.clone()).unwrap_or_default(),
        setup_time,
        run_time,
        runs: runs
            .into_iter()
            .map(|(placement, run)| RunSheet {
                placement,
                cycle: run.cycle,
                pieces_per_hour: run.pieces_per_hour,
                bottleneck: run.bottleneck,
                next_bottleneck: run.next_bottleneck,
                setup_time: run.setup_time,
                run_time: run.run_time,
            })
            .collect(),
    })
}
