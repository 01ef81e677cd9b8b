//! `heat.layers`: the solver by itself.

use super::faces::FaceRequest;
use super::layers::{Layer, Slab};
use super::march::{Problem, Solver, Span, Stage, step_errors};
use super::path::Place;
use super::water::WATER_SPECIFIC_HEAT;
use crate::error::{Code, Error};
use crate::note::Level;
use crate::quantity::{
    Dimensioned, HEAT, MassPerArea, RadiantExposure, Rank, Rules, Show, Temperature, TemperatureDifference, Time,
    decimal, units,
};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request};
use std::ops::ControlFlow;

const WATER: Rules = Rules::range(units::G_PER_M2, 0.0, 10_000.0).usual(0.0, 100.0);
const DURATION: Rules = Rules::range(units::S, 1e-9, 1e7);
const REPORT: Rules = Rules::range(units::S, 0.0, 1e9);
const TOLERANCE: Rules = Rules::range(units::KELVIN_STEP, 1e-5, 10.0)
    .or(0.05, Source::physics("a twentieth of a kelvin: finer than any probe"));
/// Most layers of a stack and most stages.
const MOST_LAYERS: usize = 200;
/// Film and cloth char from about here, 300 degC in K, from memory.
const BEYOND: f64 = 573.15;

request! {
    /// What both faces meet for a while.
    pub struct StageRequest {
        /// How long the stage lasts.
        duration "Duration": Time where DURATION,
        /// What the top face meets.
        top "Top face": FaceRequest,
        /// What the bottom face meets.
        bottom "Bottom face": FaceRequest,
    }
}

request! {
    /// A stack of layers and what happens to it.
    pub struct LayersRequest {
        /// The layers, top to bottom.
        layers "Layers": Vec<Layer>,
        /// Free water in the top layer, spread evenly; it leaves through the top face.
        film_water "Water in film": Option<MassPerArea> where WATER,
        /// Temperature of all layers at the start.
        start "Stack at start": Temperature where HEAT,
        /// The stages, one after the other.
        stages "Stages": Vec<StageRequest>,
        /// Moments to report, ascending, from the start.
        report_at "Times to report": Vec<Time> where REPORT,
        /// How far a reported temperature may be off.
        tolerance "Allowed error": TemperatureDifference where TOLERANCE.rank(Rank::Rare),
    }
}

answer! {
    /// Where the heat went, per area.
    pub struct EnergyBalance {
        /// Heat in through the top face.
        in_top "In through top": RadiantExposure,
        /// Heat in through the bottom face.
        in_bottom "In through bottom": RadiantExposure,
        /// Heat stored above the start.
        stored "Heat stored": RadiantExposure,
        /// Heat gone with water, free and bound.
        evaporated "Gone with water": RadiantExposure,
        /// Latent heat of the film's water alone.
        latent "Film water heat": RadiantExposure,
        /// What does not add up, as a share of the heat that crossed the faces.
        imbalance_fraction "Unaccounted share": f64 as Effort,
    }
}

answer! {
    /// Temperatures of the stack.
    pub struct Temperatures {
        /// Moments that were asked for.
        times "Times": Vec<Time>,
        /// Temperature of the top face at each moment.
        top "Top face": Vec<Temperature>,
        /// Temperature of the joints, top to bottom, each at each moment.
        interfaces "Joints": Vec<Vec<Temperature>>,
        /// Temperature of the bottom face at each moment.
        bottom "Bottom face": Vec<Temperature>,
        /// Water left in the film at each moment.
        film_water "Water in film": Vec<MassPerArea>,
        /// Where the heat went, over all stages.
        energy "Heat balance": EnergyBalance,
    }
}

calculation! {
    pub const LAYERS: LayersRequest => Temperatures = solve;
    id: "heat.layers",
    title: "Heat through layers",
    question: "How hot does each layer get, and when?",
    asked: ["How warm does each layer get?", "How does heat go through print and shirt?"],
    headline: ["top", "bottom"],
    formula: "rho c dT/dt = d/dx (k dT/dx); faces q = h (T_air - T) + exchange x sigma (T_panel^4 - T^4) + flux, or a held temperature; film water leaves by h_m P M / (R T) ln((P - p_air) / (P - p_surface)), h_m by Chilton and Colburn; bound water leaves evenly between 60 and 120 degC, with the corners of the release rounded",
    sources: &[
        Source::published("finite volumes, RODAS4P2: Steinebach, in Progress in Differential-Algebraic Equations II (2020) (from memory)"),
        Source::standard("IAPWS SR1-86 (1992): saturation pressure and densities of water (from memory)"),
        Source::published("Chilton, Colburn, Ind. Eng. Chem. 26 (1934) 1183: heat and mass transfer (from memory)"),
    ],
    example: r#"{"start": "25 degC", "film_water": "12 g/m2", "layers": [
        {"name": "ink", "thickness": "16 um", "conductivity": "0.5 W/(m.K)", "density": "1050 kg/m3", "specific_heat": "3600 J/(kg.K)"},
        {"name": "jersey", "thickness": "0.55 mm", "conductivity": "0.055 W/(m.K)", "density": "327 kg/m3", "specific_heat": "1340 J/(kg.K)", "bound_water": "13 g/m2"}],
        "stages": [{"duration": "60 s", "top": {"air": "175 degC", "transfer": "20 W/(m2.K)", "humidity_ratio": 0.02}, "bottom": {"air": "175 degC", "transfer": "12 W/(m2.K)"}}],
        "report_at": ["0 s", "10 s", "20 s", "30 s", "40 s", "50 s", "60 s"]}"#,
}

/// Temperatures of a stack of layers over its stages.
///
/// One-dimensional conduction in any layers; cells graded towards faces and joints; implicit steps whose error is held below
/// the tolerance. The film keeps its wet thickness, and its heat capacity falls with the water left.
///
/// # Errors
/// `out_of_range` without a layer, stage or moment, or for moments out of order or beyond the stages; `impossible` where the
/// film holds more heat in its water than in all; `too_long` beyond the limits of cells and of work; `impossible` for a face below absolute zero.
pub(crate) fn solve(request: &LayersRequest, remarks: &mut Remarks) -> Result<Temperatures, Error> {
    let slabs: Vec<Slab> = request.layers.iter().map(Slab::from).collect();
    let stages = stages(request)?;
    let total: f64 = stages.iter().map(|stage| stage.duration).sum();
    let times: Vec<f64> = request.report_at.iter().map(|time| time.si()).collect();
    check(request, &slabs, &times, total)?;
    let film_water = request.film_water.map_or(0.0, Dimensioned::si);
    if slabs.iter().any(|slab| slab.bound_water > 0.0) {
        remarks.caution("bound_water", "/layers", "water bound in cloth is a model: it leaves evenly between 60 and 120 degC, the corners of the release rounded, takes 2.6 MJ/kg and does not come back (from memory)");
    }
    let dry_faces = stages.iter().all(|stage| stage.top.transfer <= 0.0);
    if film_water > 0.0 && dry_faces {
        remarks.caution("no_drying", "/stages", "without moving air over it (transfer) this film never dries");
    }

    let joints = slabs.len().saturating_sub(1);
    let mut answer = Temperatures {
        times: request.report_at.clone(),
        top: Vec::with_capacity(times.len()),
        interfaces: vec![Vec::with_capacity(times.len()); joints],
        bottom: Vec::with_capacity(times.len()),
        film_water: Vec::with_capacity(times.len()),
        energy: EnergyBalance {
            in_top: RadiantExposure::from_si(0.0),
            in_bottom: RadiantExposure::from_si(0.0),
            stored: RadiantExposure::from_si(0.0),
            evaporated: RadiantExposure::from_si(0.0),
            latent: RadiantExposure::from_si(0.0),
            imbalance_fraction: 0.0,
        },
    };
    let mut waiting = times.iter().copied().peekable();
    let tolerance = request.tolerance.si() * remarks.work().accuracy();
    let (step, cell) = step_errors(tolerance);
    let problem = Problem {
        slabs: &slabs,
        film_water,
        below: 0,
        start: (request.start.si(), request.start.si()),
        stages: &stages,
        shortest: shortest(&times, &stages),
        tolerance,
        step,
        cell,
        refinement: 1,
    };
    let mut hottest = f64::NEG_INFINITY;
    let watch = |span: Span<'_>| {
        // The last step may end a rounding before the last moment.
        while let Some(time) = waiting.next_if(|time| *time <= span.end || span.end >= total) {
            let at = |place: Place| Temperature::from_si(span.at(place, time));
            answer.top.push(at(Place::Top));
            for (joint, row) in answer.interfaces.iter_mut().enumerate() {
                row.push(at(Place::Joint(joint)));
            }
            answer.bottom.push(at(Place::Bottom));
            answer.film_water.push(MassPerArea::from_si(span.water().at(time)));
        }
        hottest = hottest.max(span.hottest_face());
        ControlFlow::Continue(())
    };
    let instead = ("/stages", "shorter or fewer stages, fewer layers, or a wider tolerance");
    let energy = Solver::new()
        .march(&problem, remarks.work(), watch)
        .map_err(|refusal| refusal.error(instead, "/layers", "/stages"))?;
    if hottest > BEYOND {
        let reached = remarks.say(Temperature::from_si(hottest), Show::Usual);
        remarks.note(Level::Limit, "beyond_the_model", "/stages", |say: Say| {
            format!(
                "a face reaches {reached}: film and cloth char and burn from about {}, and metals melt; nothing of this model holds there",
                say.say(Temperature::from_si(BEYOND), Show::Usual)
            )
        });
    }
    let heat = RadiantExposure::from_si;
    answer.energy = EnergyBalance {
        in_top: heat(energy.in_top),
        in_bottom: heat(energy.in_bottom),
        stored: heat(energy.stored),
        evaporated: heat(energy.evaporated),
        latent: heat(energy.latent),
        imbalance_fraction: energy.imbalance,
    };
    Ok(answer)
}

fn stages(request: &LayersRequest) -> Result<Vec<Stage>, Error> {
    request
        .stages
        .iter()
        .enumerate()
        .map(|(index, stage)| {
            Ok(Stage {
                duration: stage.duration.si(),
                top: stage.top.face(&format!("/stages/{index}/top"))?,
                bottom: stage.bottom.face(&format!("/stages/{index}/bottom"))?,
            })
        })
        .collect()
}

fn check(request: &LayersRequest, slabs: &[Slab], times: &[f64], total: f64) -> Result<(), Error> {
    let counted = |field: &str, count: usize, most: usize| match count {
        0 => Err(Error::new(Code::OutOfRange, field, "at least one is needed").allowed(["1 or more"])),
        n if n > most => {
            Err(Error::new(Code::TooLong, field, format!("{n} entries")).allowed([format!("at most {most}")]))
        }
        _ => Ok(()),
    };
    counted("/layers", slabs.len(), MOST_LAYERS)?;
    counted("/stages", request.stages.len(), crate::wire::MOST_ITEMS)?;
    counted("/report_at", times.len(), crate::wire::MOST_ITEMS)?;
    if let Some(film) = slabs.first() {
        let water = request.film_water.map_or(0.0, Dimensioned::si) * WATER_SPECIFIC_HEAT;
        if water >= film.heat_per_volume * film.thickness {
            return Err(Error::new(
                Code::Impossible,
                "/film_water",
                "the top layer holds less heat than the water in it: give the layer's density and specific heat wet",
            ));
        }
    }
    let mut before = 0.0;
    for (index, time) in times.iter().enumerate() {
        if *time < before || *time > total * (1.0 + 1e-12) {
            return Err(Error::new(
                Code::OutOfRange,
                format!("/report_at/{index}"),
                "moments ascend and lie within the stages",
            )
            .allowed([format!("{} s to {} s", decimal(before), decimal(total))]));
        }
        before = *time;
    }
    Ok(())
}

/// The shortest time between two moments that matter: from a report or a change of the faces to the next report, and the
/// stages themselves.
fn shortest(times: &[f64], stages: &[Stage]) -> f64 {
    let mut shortest = stages.iter().map(|stage| stage.duration).fold(f64::INFINITY, f64::min);
    let mut changes = stages.iter().scan(0.0, |begin, stage| {
        *begin += stage.duration;
        Some(*begin)
    });
    let mut change = changes.next();
    let mut before = 0.0;
    for time in times {
        while let Some(past) = change.filter(|change| change < time) {
            before = past.max(before);
            change = changes.next();
        }
        let gap = time - before;
        // A report at a change may miss it by a rounding.
        if gap > 1e-9 * time {
            shortest = shortest.min(gap);
        }
        before = *time;
    }
    shortest
}
