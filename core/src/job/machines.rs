//! The machines of an order: places on the press, flash, dryer, pace.

use super::order::{Order, Placement, ScreenOrder};
use super::screens::Screen;
use super::sheet::{DryerSheet, ExpectedReading, FlashSheet, HeadRole, HeadSheet, HoursSheet, PressSheet, RunSheet};
use super::shop::Shop;
use super::{Placed, ink_name, moved, screens};
use crate::dryer::{Aim, Dryer, Limits, WINDOW, Window, WindowRequest, inside, opening};
use crate::error::{Code, Error};
use crate::flash::{FlashRun, FlashRunRequest, RUN, Rotation};
use crate::ink::{Gel, Ink};
use crate::press::{self, Colour, PressKind, Run, RunRequest};
use crate::quantity::{Dimensioned, Frequency, Length, Show, Temperature, Time, Velocity, room, units};
use crate::source::Source;
use crate::wire::{Remarks, Say, Says};
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
            PressKind::Manual => placement.screens.iter().map(|s| (HeadRole::Print, Some(s.name.clone()))).collect(),
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

fn carousel(placement: &Placement, shop: &Shop) -> Vec<(HeadRole, Option<String>)> {
    let flashing = placement.screens.iter().filter(|s| flashes(s)).count();
    let stations = (shop.press.stations as usize).min((shop.press.heads as usize).saturating_add(2));
    let mut spare = stations.saturating_sub(placement.screens.len().saturating_add(flashing).saturating_add(2));
    let mut places = vec![(HeadRole::Load, None)];
    for screen in &placement.screens {
        places.push((HeadRole::Print, Some(screen.name.clone())));
        if flashes(screen) {
            places.push((HeadRole::Flash, Some(screen.name.clone())));
            if spare > 0 {
                spare = spare.saturating_sub(1);
                places.push((HeadRole::Cool, Some(screen.name.clone())));
            }
        }
    }
    places.extend((0..spare).map(|_| (HeadRole::Free, None)));
    places.push((HeadRole::Unload, None));
    places
}

/// Of heat and fumes the sheet warns once, in its own words.
const SAID_ONCE: [&str; 2] = ["burns", "hot_belt"];

/// The flash after each screen that needs it: for the film as far as it is printed then, over the whole run.
pub(super) fn flash(
    order: &Order,
    shop: &Shop,
    placed: &[Placed<'_>],
    screens: &[Screen],
    prints: u32,
    remarks: &mut Remarks,
) -> Result<Vec<FlashSheet>, Error> {
    let mut sheets = Vec::new();
    let mut runs: Vec<(&Ink, Length, FlashRun)> = Vec::new();
    let mut film = units::UM.of(0.0);
    let mut of_placement = None;
    for (Placed { index, placement, screen, at, .. }, printed) in placed.iter().zip(screens) {
        if of_placement != Some(index) {
            (of_placement, film) = (Some(index), units::UM.of(0.0));
        }
        film += printed.sheet.wet_film;
        if !flashes(screen) {
            continue;
        }
        // The same film of the same ink warms alike, wherever it is printed.
        let known = runs.iter().position(|(ink, of, _)| *ink == &screen.ink && *of == film);
        let request = || {
            FlashRunRequest::new()
                .flash(shop.flash.clone())
                .ink(screen.ink.clone())
                .film(film)
                .cloth(order.cloth.clone())
                .platen(shop.platen.clone())
                .platen_start(room())
                .press(shop.press.clone())
                .pieces(prints)
        };
        let in_order = [
            ("/flash", "/shop/flash"),
            ("/platen", "/shop/platen"),
            ("/press", "/shop/press"),
            ("/ink", &format!("{at}/ink")),
            ("/cloth", "/cloth"),
            ("/pieces", "/pieces"),
            ("", at),
        ];
        if known.is_none() {
            let over_run = remarks.ask(&RUN, &request(), |asked| {
                if SAID_ONCE.contains(&asked.code) { None } else { moved(asked.field, &in_order) }
            })?;
            runs.push((&screen.ink, film, over_run));
        }
        let Some((.., over_run)) = known.map_or(runs.last(), |known| runs.get(known)) else { continue };
        let dwell = |rotation: Option<&Rotation>| rotation.and_then(|r| r.recommended);
        let cold = dwell(over_run.rotations.first());
        if cold.is_none() {
            shop.flash.cite(&["customary_dwell"], remarks);
            remarks.caution(
                "flash_from_custom",
                at,
                "no dwell gels this film on cold platens without overheating something: the customary dwell stands in; warm the platens first and test for a dry touch",
            );
        }
        remarks.basis("flash_height", Source::common("supplier pages: 2-3 in over the print"));
        remarks.basis(
            "gun_most",
            Source::common("trade journals: a gun reading of at most 275 F after the flash of a full-cure ink, 10 K under the ink's own limit, since the gun is late"),
        );
        sheets.push(FlashSheet {
            screen: screen.name.clone(),
            placement: placement.name.clone(),
            dwell_cold: cold.unwrap_or(shop.flash.customary_dwell),
            dwell_warm: dwell(over_run.rotations.last()).unwrap_or(shop.flash.customary_dwell),
            platen_warm: over_run.settles_at,
            overheats_at: over_run.overheats_at,
            height_low: units::MM.of(50.0),
            height_high: units::MM.of(75.0),
            flash: shop.flash.called("own flash"),
            panel: shop.flash.panel,
            gel: match screen.ink.gel {
                Gel::At(gel) => Some(gel),
                Gel::Dry => None,
            },
            gun_most: cooler(screen.ink.flash_never_above, order.cloth.never_above) - units::KELVIN_STEP.of(10.0),
        });
    }
    Ok(sheets)
}

fn cooler(a: Temperature, b: Temperature) -> Temperature {
    if a < b { a } else { b }
}

/// The hottest cure of the order, and the least of what ink and cloth must never pass.
fn cure_and_limit(order: &Order) -> (Option<Temperature>, Temperature) {
    let mut cure: Option<Temperature> = None;
    let mut limit = order.cloth.never_above;
    for screen in order.placements.iter().flat_map(|placement| &placement.screens) {
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
    if let Some(dye) = order.cloth.dye_moves_above().filter(|dye| cure > *dye) {
        order.cloth.cite(&["caution_above", "dye"], remarks);
        remarks.caution(
            "dye_migration",
            "/cloth",
            |say: Say| format!(
                "the cure passes {}, from where the dye of this cloth moves into the print, at once or within two weeks: an ink that cures lower, a blocker under it, and a print kept for two weeks",
                say.say(dye, Show::Usual)
            ),
        );
    }
    Ok(())
}

/// The dryer for all prints of the order: each ink judged with the whole film of its placement on the order's cloth.
pub(super) fn dryer(
    order: &Order,
    shop: &Shop,
    placed: &[Placed<'_>],
    screens: &[Screen],
    remarks: &mut Remarks,
) -> Result<DryerSheet, Error> {
    let machine = &shop.dryer;
    let mut aims: Vec<(&Placed<'_>, Aim<'_>)> = Vec::new();
    for of in placed {
        let aim = Aim {
            ink: &of.screen.ink,
            film: whole_film(placed, screens, of.index),
            cloth: &order.cloth,
            start: room(),
        };
        if !aims.iter().any(|(_, known)| known.ink == aim.ink && known.film == aim.film) {
            aims.push((of, aim));
        }
    }
    let mut windows: Vec<(String, Window)> = Vec::new();
    let mut conflict = None;
    for (Placed { screen, at, .. }, aim) in &aims {
        let request = WindowRequest::new()
            .dryer(machine.clone())
            .ink(aim.ink.clone())
            .film(aim.film)
            .cloth(order.cloth.clone())
            .start(aim.start);
        let in_order =
            [("/dryer", "/shop/dryer"), ("/ink", &format!("{at}/ink")), ("/cloth", "/cloth"), ("/film", at), ("", "")];
        let found = remarks.ask(&WINDOW, &request, |asked| match asked.code {
            // Which screen it is that no speed dries.
            "no_solution" => Some(at.clone()),
            code if SAID_ONCE.contains(&code) => None,
            _ => moved(asked.field, &in_order),
        });
        match found {
            Ok(found) => windows.push((ink_name(screen), found)),
            Err(error) if error.code == Code::NoSolution => {
                conflict = Some(error);
                break;
            }
            Err(error) => return Err(error),
        }
    }
    let narrow = windows.iter().min_by(|a, b| a.1.fastest.si().total_cmp(&b.1.fastest.si()));
    let gentle = windows.iter().max_by(|a, b| a.1.slowest.si().total_cmp(&b.1.slowest.si()));
    let Some(((hardest, narrow), (_, gentle))) = narrow.zip(gentle).filter(|_| conflict.is_none()) else {
        let conflict =
            conflict.unwrap_or_else(|| Error::new(Code::OutOfRange, "/placements", "there is nothing to dry"));
        return Err(settled(conflict, machine, &aims, remarks));
    };
    if gentle.slowest > narrow.fastest {
        let message = format!(
            "one ink of this order needs a belt no faster than {}, another none slower than {}: print inks of one cure, or cure in two passes",
            remarks.say(narrow.fastest, Show::Usual),
            remarks.say(gentle.slowest, Show::Usual)
        );
        return Err(settled(Error::new(Code::NoSolution, "/shop/dryer", message), machine, &aims, remarks));
    }
    let (slow, fast) = (libm::log(gentle.slowest.si()), libm::log(narrow.fastest.si()));
    let least = windows.iter().map(|(_, window)| window.recommended.si()).fold(f64::INFINITY, f64::min);
    let recommended = Velocity::from_si(libm::exp(inside(libm::log(least), slow, fast)));
    let length = machine.length_under_heat();
    let dwell: Time = length / recommended;
    Ok(DryerSheet {
        slowest: gentle.slowest,
        fastest: narrow.fastest,
        recommended,
        dwell,
        limits: Limits { fastest: narrow.limits.fastest, slowest: gentle.limits.slowest },
        zones: machine.tunnel(),
        pieces_per_hour: machine.pieces_per_hour(recommended),
        hardest_ink: hardest.clone(),
        probe_readings: probe(order, narrow, length, dwell),
    })
}

/// The same conflict, laid to the dryer where one of its settings would cure all prints of the order.
fn settled(conflict: Error, dryer: &Dryer, aims: &[(&Placed<'_>, Aim<'_>)], remarks: &mut Remarks) -> Error {
    let aims: Vec<_> = aims.iter().map(|(_, aim)| *aim).collect();
    let system = remarks.system();
    match opening(dryer, &aims, system, remarks.work()) {
        Some(setting) => {
            let why = conflict.message.split(": ").next().unwrap_or_default().to_owned();
            Error { field: "/shop/dryer".into(), message: format!("{why}: {}", setting.words(remarks)), ..conflict }
        }
        None => conflict,
    }
}

/// Wet thickness of all inks of a placement, as if they lay on one another.
fn whole_film(placed: &[Placed<'_>], screens: &[Screen], index: usize) -> Length {
    placed
        .iter()
        .zip(screens)
        .filter(|(placed, _)| placed.index == index)
        .fold(units::UM.of(0.0), |sum, (_, screen)| sum + screen.sheet.wet_film)
}

/// Where to read the probe: at every quarter of the tunnel, what to expect there, and what the ink must have reached by the
/// exit. The profile is that of the hardest ink at its own recommended speed, stretched to the order's.
fn probe(order: &Order, hardest: &Window, length: Length, dwell: Time) -> Vec<ExpectedReading> {
    let (least, most) = cure_and_limit(order);
    let profile = &hardest.profile.bottom_of_ink;
    let steps = profile.len().saturating_sub(1);
    (1..=4_usize)
        .filter_map(|quarter| {
            let expect = *profile.get(steps.saturating_mul(quarter) / 4)?;
            let share = quarter as f64 / 4.0;
            Some(ExpectedReading {
                at: length * share,
                time: dwell * share,
                expect,
                least: least.filter(|_| quarter == 4),
                most,
            })
        })
        .collect()
}

/// The pace of the press, each placement by itself and all together.
pub(super) fn press(
    order: &Order,
    shop: &Shop,
    dryer: &DryerSheet,
    flash: &[FlashSheet],
    pieces: u32,
    remarks: &mut Remarks,
) -> Result<PressSheet, Error> {
    shop.cite(&["press", "setup_per_screen", "teardown_per_screen", "efficiency_fraction"], remarks);
    let mut runs: Vec<(String, Run)> = Vec::new();
    for (p, placement) in order.placements.iter().enumerate() {
        let colours = placement.screens.iter().map(|screen| {
            let strokes = screens::strokes(screen, remarks);
            let flash = flash
                .iter()
                .find(|sheet| sheet.placement == placement.name && sheet.screen == screen.name)
                .map(|sheet| sheet.dwell_cold);
            Colour::new()
                .name(screen.name.clone())
                .image_length(placement.height)
                .flood_strokes(strokes.flood)
                .print_strokes(strokes.print)
                .flash(flash)
                .hits(screen.hits)
        });
        let request = RunRequest::new()
            .press(shop.press.clone())
            .colours(colours.collect::<Vec<_>>())
            .dryer_rate(Frequency::from(dryer.pieces_per_hour / units::H.of(1.0)))
            .pieces(pieces)
            .setup_per_screen(shop.setup_per_screen)
            .teardown_per_screen(shop.teardown_per_screen)
            .efficiency_fraction(shop.efficiency_fraction);
        let at = format!("/placements/{p}");
        let screens = format!("{at}/screens");
        let in_order = [("/press", "/shop/press"), ("/colours", &*screens), ("/pieces", "/pieces"), ("", &at)];
        let done = remarks.ask(&press::RUN, &request, |asked| {
            if asked.of == Says::Error && asked.field != "/pieces" {
                Some(screens.clone())
            } else {
                moved(asked.field, &in_order)
            }
        })?;
        runs.push((placement.name.clone(), done));
    }
    let zero = units::S.of(0.0);
    let run_time = runs.iter().fold(zero, |sum, (_, run)| sum + run.run_time);
    let setup_time = runs.iter().fold(zero, |sum, (_, run)| sum + run.setup_time);
    let slowest = runs.iter().min_by(|a, b| a.1.pieces_per_hour.total_cmp(&b.1.pieces_per_hour));
    Ok(PressSheet {
        // While running: a shirt takes as long as all its prints together.
        pieces_per_hour: 1.0 / runs.iter().map(|(_, run)| 1.0 / run.pieces_per_hour).sum::<f64>(),
        bottleneck: slowest.map(|(_, run)| run.bottleneck.clone()).unwrap_or_default(),
        next_bottleneck: slowest.map(|(_, run)| run.next_bottleneck.clone()).unwrap_or_default(),
        setup_time,
        run_time,
        runs: runs
            .into_iter()
            .map(|(placement, run)| RunSheet {
                placement,
                cycle: run.cycle,
                rounds: run.rounds,
                by_round: run.by_round,
                time_per_piece: run.time_per_piece,
                pieces_per_hour: run.pieces_per_hour,
                bottleneck: run.bottleneck,
                next_bottleneck: run.next_bottleneck,
                setup_time: run.setup_time,
                run_time: run.run_time,
            })
            .collect(),
    })
}

/// The hours of the whole order: each screen set up and cleared, each print run.
pub(super) fn hours(shop: &Shop, placed: &[Placed<'_>], press: &PressSheet) -> HoursSheet {
    let screens = placed.len() as f64;
    let (setup, clearing) = (screens * shop.setup_per_screen, screens * shop.teardown_per_screen);
    HoursSheet { setup, run: press.run_time, clearing, total: setup + press.run_time + clearing }
}
