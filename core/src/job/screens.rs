//! The screens of an order, one by one.

use super::order::ScreenOrder;
use super::registering::finest;
use super::sheet::{
    AdditiveSheet, BladeSheet, DetailSheet, InkTotal, PressSheet, RunSheet, ScreenSheet, StencilSheet, Strokes,
};
use super::shop::{ExposureTest, Shop};
use super::{Placed, halftones, hiding, ink_name, moved};
use crate::cloth::Cloth;
use crate::error::Error;
use crate::exposure::{
    BY_STEP, ExposureFactor, ExposureVerdict, STEP_SCALE, StepRequest, exposable, judge_step, stencil_factor,
};
use crate::ink::{
    Ink, LIFTED, OPEN_TIME, OpenTimeRequest, Pot, USAGE, Usage, UsageRequest, dry_film, mass_to_mix, pots,
};
use crate::mesh::{GEOMETRY, GeometryRequest, Hold, LINES, designated, finest_gap, finest_line, hold};
use crate::press::{SQUEEGEE, SqueegeeRequest};
use crate::quantity::{Length, Mass, Show, Time, units};
use crate::stencil::{THICKNESS, ThicknessRequest, coats_hint, target};
use crate::tension;
use crate::wire::{Asked, Remarks, Say};

/// Common practice: ink inside the shirt is too much pressure, ink left in the mesh too little.
const PRESSURE: &str = "just clears the screen";

/// A screen's part of the sheet, and what the totals need beside it.
#[derive(Debug, Clone)]
pub(super) struct Screen {
    pub sheet: ScreenSheet,
    ink: Ink,
    colour: String,
    printed: Mass,
}

/// Every screen's part of the sheet, in print order, but for what hangs on the number of prints and for the halftones.
pub(super) fn screens(
    placed: &[Placed<'_>],
    cloth: &Cloth,
    shop: &Shop,
    remarks: &mut Remarks,
) -> Result<Vec<Screen>, Error> {
    let mut screens: Vec<Screen> =
        placed.iter().map(|placed| one(placed, cloth, shop, remarks)).collect::<Result<_, _>>()?;
    hiding::fill(placed, &mut screens, cloth, remarks);
    Ok(screens)
}

/// Fills in the ink for so many prints.
pub(super) fn fill_ink(screens: &mut [Screen], shop: &Shop, prints: u32) {
    for screen in screens {
        let sheet = &mut screen.sheet;
        screen.printed = sheet.mass_per_print * f64::from(prints);
        sheet.mass_to_mix = mass_to_mix(screen.printed, shop.waste_fraction, shop.left_in_screen);
        for additive in &mut sheet.additives {
            additive.mass = additive.fraction * sheet.mass_to_mix;
            additive.mass_per_pot = additive.mass;
        }
    }
}

/// Fills in the pots, once the run's time is known.
pub(super) fn fill_pots(placed: &[Placed<'_>], screens: &mut [Screen], press: &PressSheet) -> Result<(), Error> {
    for (placed, screen) in placed.iter().zip(screens) {
        let Some(run) = press.runs.get(placed.index) else { continue };
        let sheet = &mut screen.sheet;
        sheet.pots = pots_of(sheet, run).map_err(|e| e.under(&format!("{}/ink", placed.at)))?;
        let pots = sheet.pots.len().max(1) as f64;
        for additive in &mut sheet.additives {
            additive.mass_per_pot = additive.mass / pots;
        }
    }
    Ok(())
}

/// Pots for an ink that does not keep: the run uses up all of it at an even pace.
fn pots_of(sheet: &ScreenSheet, run: &RunSheet) -> Result<Vec<Pot>, Error> {
    let Some(life) = sheet.mix_again_after else { return Ok(Vec::new()) };
    pots(sheet.mass_to_mix, life, sheet.mass_to_mix / run.run_time)
}

fn one(placed: &Placed<'_>, cloth: &Cloth, shop: &Shop, remarks: &mut Remarks) -> Result<Screen, Error> {
    let Placed { placement, screen, at, .. } = placed;
    let ink = &screen.ink;
    let in_screen = |asked: &Asked<'_>| moved(asked.field, &[("/mesh", &format!("{at}/mesh")), ("", at)]);
    let mesh = remarks.ask(&GEOMETRY, &GeometryRequest::new().mesh(placed.mesh.clone()), in_screen)?;
    let stencil = stencil(placed, shop, remarks)?;
    let used = ink_used(placed, stencil.over_mesh, cloth, shop, remarks)?;
    let image = SqueegeeRequest::new().image_width(placement.width).image_length(placement.height);
    let frame = remarks.ask(
        &SQUEEGEE,
        &image.overlap(shop.blade_overlap).free_mesh(shop.free_mesh).frame_inside(shop.frame_inside.clone()),
        |asked| {
            let shop = [
                ("/overlap", "/shop/blade_overlap"),
                ("/free_mesh", "/shop/free_mesh"),
                ("/frame_inside", "/shop/frame_inside"),
            ];
            moved(asked.field, &shop).or_else(|| Some(placed.in_placement.clone()))
        },
    )?;
    ink.cite(&["solids_by_volume_fraction"], remarks);
    ink.check_solids(&format!("{at}/ink"), remarks);
    check_size(placed, remarks);
    tension::cite_target("target_tension", remarks);
    if shop.frame.is_some() {
        shop.cite(&["frame"], remarks);
    }
    let open_time = open_time(placed, shop, remarks)?;
    let sheet = ScreenSheet {
        name: screen.name.clone(),
        placement: placement.name.clone(),
        station: placed.station,
        ink: ink_name(screen),
        mesh,
        target_tension: tension::target(&placed.mesh, shop.frame),
        set: placed.set,
        stencil,
        detail: detail(placed, remarks),
        halftone: None,
        frame_least: frame.frame_least,
        blade: BladeSheet {
            length: frame.blade_length,
            hardness: hardness(screen, shop, remarks),
            angle: shop.blade_angle,
            pressure: PRESSURE.into(),
        },
        off_contact: shop.off_contact,
        stroke_speed: shop.press.stroke_speed,
        strokes: strokes(screen, remarks),
        hits: screen.hits.unwrap_or(1),
        wet_film: used.wet_film,
        dry_film: dry_film(used.wet_film, ink.solids_by_volume_fraction),
        hiding: None,
        mass_per_print: used.mass_per_print,
        mass_to_mix: used.mass_to_mix,
        additives: additives(screen, remarks),
        mix_again_after: pot_life(placed, remarks),
        open_time,
        pots: Vec::new(),
    };
    let colour = screen.colour.clone().unwrap_or_else(|| screen.name.clone());
    Ok(Screen { sheet, ink: ink.clone(), colour, printed: used.mass_printed })
}

/// Blade, frame and stroke go by the placement: artwork that is larger has another resolution, or another place.
fn check_size(placed: &Placed<'_>, remarks: &mut Remarks) {
    let Some(art) = &placed.screen.artwork else { return };
    let larger = |art: Option<Length>, placement: Length| art.is_some_and(|art| art > 1.01 * placement);
    if larger(art.width, placed.placement.width) || larger(art.height, placed.placement.height) {
        remarks.caution(
            "artwork_too_large",
            format_args!("{}/artwork", placed.at),
            "the artwork is larger than its placement, by which blade, frame and stroke were chosen: check the resolution of the picture, or the placement",
        );
    }
}

/// The strokes of one hit: the order's, else the ink's.
pub(super) fn strokes(screen: &ScreenOrder, remarks: &mut Remarks) -> Strokes {
    let ink = &screen.ink;
    if screen.flood_strokes.is_none() {
        ink.cite(&["flood_strokes"], remarks);
    }
    if screen.print_strokes.is_none() {
        ink.cite(&["print_strokes"], remarks);
    }
    Strokes {
        flood: screen.flood_strokes.unwrap_or(ink.flood_strokes),
        print: screen.print_strokes.unwrap_or(ink.print_strokes),
    }
}

fn stencil(placed: &Placed<'_>, shop: &Shop, remarks: &mut Remarks) -> Result<StencilSheet, Error> {
    let Placed { screen, at, .. } = placed;
    let mesh = &placed.mesh;
    let (target_low, target_high) = target(mesh);
    let gauged = |coated: Length| {
        let gauge = ThicknessRequest::new().mesh(mesh.clone()).coated_thickness(coated);
        remarks.ask(&THICKNESS, &gauge, |asked| Some(format!("{at}{}", asked.field)))
    };
    let measured = screen.coated_thickness.map(gauged).transpose()?;
    let over_mesh = measured.as_ref().map_or_else(
        || {
            shop.cite(&["over_mesh_fraction"], remarks);
            shop.over_mesh_fraction * mesh.thickness()
        },
        // A gauge below an estimated mesh says that the estimate is high, not that ink is missing.
        |gauge| if gauge.over_mesh > units::UM.of(0.0) { gauge.over_mesh } else { units::UM.of(0.0) },
    );
    remarks.basis("coats", crate::stencil::COATS_SOURCE);
    let exposed = shop
        .exposure
        .as_ref()
        .filter(|_| screen.stored != Some(true))
        .map(|test| exposure(placed, test, remarks))
        .transpose()?;
    let after_test = exposed.as_ref().and_then(|exposed| after_test(placed, exposed, remarks));
    let (exposure_time, exposure_causes) =
        exposed.map_or((None, Vec::new()), |exposed| (Some(exposed.time), exposed.causes));
    Ok(StencilSheet {
        target_low,
        target_high,
        gauge_low: mesh.thickness() + target_low,
        gauge_high: mesh.thickness() + target_high,
        over_mesh,
        measured: measured.is_some(),
        verdict: measured.map(|gauge| gauge.verdict),
        coats: coats_hint(mesh),
        exposure_time,
        after_test,
        exposure_causes,
    })
}

/// The exposure of a screen, by the shop's test.
struct Exposed<'a> {
    test: &'a ExposureTest,
    time: Time,
    /// Why it is not the tested time; the step scale first.
    causes: Vec<ExposureFactor>,
    /// Whether it is known what the test means for this mesh and coating.
    known: bool,
}

/// What a screen that got the tested time is: the step scale tells, by the light that this mesh and coating let through. Under water-based
/// ink a short stencil must be hardened once more.
fn after_test(placed: &Placed<'_>, exposed: &Exposed<'_>, remarks: &mut Remarks) -> Option<ExposureVerdict> {
    let Placed { screen, at, .. } = placed;
    let test = exposed.test;
    // On this screen the scale would have held to another step: a factor on the time is so many steps.
    let other: f64 = exposed.causes.iter().skip(1).map(|cause| cause.factor).product();
    let solid = test.solid_step - libm::log10(other) / test.density_per_step;
    let water_based = screen.ink.is_water_based();
    let advice = judge_step(test.density_per_step, test.wanted_step, solid, water_based);
    if advice.verdict == ExposureVerdict::Through && !exposed.known {
        return None;
    }
    remarks.basis("after_test", BY_STEP);
    if water_based {
        let message = |_: Say| format!("a screen exposed as tested is {}", advice.message);
        let field = format_args!("{at}/ink");
        match advice.verdict {
            ExposureVerdict::Through => remarks.info("post_exposure", field, message),
            _ => remarks.caution("post_exposure", field, message),
        }
    }
    Some(advice.verdict)
}

/// How long a water-based ink stays open in the flooded screen, in the air of the shop.
fn open_time(placed: &Placed<'_>, shop: &Shop, remarks: &mut Remarks) -> Result<Option<Time>, Error> {
    let (ink, at) = (&placed.screen.ink, &placed.at);
    let Some(air) = shop.air.as_ref().filter(|_| ink.is_water_based()) else { return Ok(None) };
    shop.cite(&["air"], remarks);
    let standing = OpenTimeRequest::new().ink(ink.clone()).mesh(placed.mesh.clone()).air(air.clone());
    let moves = [
        ("/ink", format!("{at}/ink")),
        ("/mesh", format!("{at}/mesh")),
        ("/air", "/shop/air".to_owned()),
        ("", format!("{at}/ink")),
    ];
    let moves = moves.each_ref().map(|(from, to)| (*from, to.as_str()));
    let time = remarks.ask(&OPEN_TIME, &standing, |asked| moved(asked.field, &moves))?.time;
    if let Some(time) = time {
        remarks.info("stop_no_longer", format_args!("{at}/ink"), |say: Say| {
            format!(
                "flooded, this ink stays open for about {} in a lowered screen and for half of that, {}, in a lifted one: in a longer stop wipe it out, or it dries in (ink.open_time)",
                say.say(time, Show::Usual),
                say.say(time * LIFTED, Show::Usual)
            )
        });
    }
    Ok(time)
}

/// The exposure of this screen: the shop's test read off its step scale, then what is known of mesh and coating.
fn exposure<'a>(placed: &Placed<'_>, test: &'a ExposureTest, remarks: &mut Remarks) -> Result<Exposed<'a>, Error> {
    let Placed { screen, at, .. } = placed;
    let scale = StepRequest::new()
        .time(test.time)
        .solid_step(test.solid_step)
        .wanted_step(test.wanted_step)
        .density_per_step(test.density_per_step);
    let read = remarks.ask(&STEP_SCALE, &scale, |asked| Some(format!("/shop/exposure{}", asked.field)))?;
    let mut causes = vec![ExposureFactor { cause: "step scale".into(), factor: read.factor }];
    let mesh_factor = test.mesh_factor.zip(screen.mesh_factor).map(|(from, to)| to / from);
    causes.extend(mesh_factor.map(|factor| ExposureFactor { cause: "mesh".into(), factor }));
    let coated = test.coated_thickness.zip(screen.coated_thickness).zip(test.penetration_depth);
    let stencil = coated.map(|((from, to), depth)| stencil_factor(from, to, depth));
    causes.extend(stencil.map(|factor| ExposureFactor { cause: "stencil".into(), factor }));
    let known = placed.mesh.same_cloth(&test.tested_on) || mesh_factor.is_some() && stencil.is_some();
    if !known {
        let tested = designated(&test.tested_on);
        let open = match (mesh_factor, stencil) {
            (None, None) => "neither colour nor coating of this mesh is known",
            (None, Some(_)) => "the mesh's colour is not known",
            _ => "the coating is not known",
        };
        remarks.caution("tested_on_another_mesh", format_args!("{at}/mesh"), |_| {
            format!("tested on {tested}, and {open}: expose a step scale on this mesh")
        });
    }
    let factor: f64 = causes.iter().fold(1.0, |product, cause| product * cause.factor);
    let time = exposable(test.time * factor).map_err(|e| e.under("/shop/exposure"))?;
    Ok(Exposed { test, time, causes, known })
}

/// Whether the mesh holds the finest line of the art, and its finest gap. The dots and holes of a halftone are no lines and gaps:
/// those that fall through are the ends of its scale of tones.
fn detail(placed: &Placed<'_>, remarks: &mut Remarks) -> DetailSheet {
    let Placed { screen, at, .. } = placed;
    let line_art = halftones::halftone(screen).is_none();
    let wanted = finest(screen);
    let verdict = wanted.map(|line| hold(&placed.mesh, line));
    let finest = finest_line(&placed.mesh);
    remarks.basis("finest_line", LINES);
    if let (Some(line), Some(Hold::Marginal | Hold::Lost)) = (wanted, verdict) {
        remarks.caution("line_too_fine", format_args!("{at}/mesh"), |say: Say| {
            format!(
                "a line of {} is finer than the {} that this mesh holds: thicken the art or take a finer mesh",
                say.say(line, Show::Film),
                say.say(finest, Show::Film)
            )
        });
    }
    let gap = screen.artwork.as_ref().and_then(|art| art.finest_gap).filter(|_| line_art);
    if let Some(gap) = gap.filter(|gap| *gap < finest_gap(&placed.mesh)) {
        remarks.caution("gap_too_fine", format_args!("{at}/mesh"), |say: Say| {
            format!(
                "a gap of {} is likely to close: {} stays open on this mesh",
                say.say(gap, Show::Film),
                say.say(finest_gap(&placed.mesh), Show::Film)
            )
        });
    }
    DetailSheet { finest_line: finest, wanted, verdict, finest_gap: finest_gap(&placed.mesh), gap_wanted: gap }
}

fn hardness(screen: &ScreenOrder, shop: &Shop, remarks: &mut Remarks) -> f64 {
    if screen.ink.is_water_based() {
        shop.cite(&["blade_hardness_water_based"], remarks);
        shop.blade_hardness_water_based
    } else {
        shop.cite(&["blade_hardness"], remarks);
        shop.blade_hardness
    }
}

fn ink_used(
    placed: &Placed<'_>,
    over_mesh: Length,
    cloth: &Cloth,
    shop: &Shop,
    remarks: &mut Remarks,
) -> Result<Usage, Error> {
    let Placed { placement, screen, in_placement, at, .. } = placed;
    let in_box = screen.coverage_fraction.is_some();
    cloth.cite(&["surface_take"], remarks);
    let request = UsageRequest::new()
        .mesh(placed.mesh.clone())
        .over_mesh(over_mesh)
        .ink(screen.ink.clone())
        .strokes(screen.print_strokes.unwrap_or(screen.ink.print_strokes))
        .hits(screen.hits)
        .width(in_box.then_some(placement.width))
        .height(in_box.then_some(placement.height))
        .coverage_fraction(screen.coverage_fraction)
        .artwork(screen.artwork.clone())
        .prints(1)
        .surface_take(cloth.surface_take.filter(|_| placed.is_first()))
        .waste_fraction(shop.waste_fraction)
        .left_in_screen(shop.left_in_screen);
    remarks.ask(&USAGE, &request, |asked| {
        let elsewhere = [
            ("/strokes", &*format!("{at}/print_strokes")),
            ("/width", &format!("{in_placement}/width")),
            ("/height", &format!("{in_placement}/height")),
            ("/over_mesh", "/shop/over_mesh_fraction"),
            ("/waste_fraction", "/shop/waste_fraction"),
            ("/left_in_screen", "/shop/left_in_screen"),
            ("/surface_take", "/cloth"),
        ];
        moved(asked.field, &elsewhere).or_else(|| Some(format!("{at}{}", asked.field)))
    })
}

fn additives(screen: &ScreenOrder, remarks: &mut Remarks) -> Vec<AdditiveSheet> {
    let Some(list) = &screen.ink.additives else { return Vec::new() };
    screen.ink.cite(&["additives"], remarks);
    list.iter()
        .map(|additive| AdditiveSheet {
            name: additive.name.clone(),
            fraction: additive.fraction,
            mass: units::G.of(0.0),
            mass_per_pot: units::G.of(0.0),
        })
        .collect()
}

fn pot_life(placed: &Placed<'_>, remarks: &mut Remarks) -> Option<Time> {
    let Placed { screen, at, .. } = placed;
    let life = screen.ink.pot_life?;
    screen.ink.cite(&["pot_life"], remarks);
    remarks.caution("pot_life", format_args!("{at}/ink/pot_life"), |say: Say| {
        format!("once mixed it lasts {}: mix what that time uses, the hour on the pot", say.say(life, Show::Usual))
    });
    Some(life)
}

/// Inks and how much of each, by colour, in the order of first use: screens of one colour, or else of one name, whose inks are alike in every value.
pub(super) fn totals(screens: &[Screen]) -> Vec<(&Ink, InkTotal)> {
    let mut kinds: Vec<(&Ink, InkTotal)> = Vec::new();
    for Screen { sheet, ink, colour, printed } in screens {
        let volume = sheet.mass_to_mix / ink.density;
        match kinds.iter_mut().find(|(kind, total)| *kind == ink && total.colour == *colour) {
            Some((_, total)) => {
                if !total.screens.contains(&sheet.name) {
                    total.screens.push(sheet.name.clone());
                }
                total.mass_printed += *printed;
                total.mass_to_mix += sheet.mass_to_mix;
                total.volume_to_mix += volume;
            }
            None => {
                let total = InkTotal {
                    ink: sheet.ink.clone(),
                    colour: colour.clone(),
                    screens: vec![sheet.name.clone()],
                    mass_printed: *printed,
                    mass_to_mix: sheet.mass_to_mix,
                    volume_to_mix: volume,
                };
                kinds.push((ink, total));
            }
        }
    }
    kinds
}
