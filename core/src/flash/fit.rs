//! Makes the model of a flash match a probe or a gun.

use super::dwell::{Set, cite, refused};
use super::print::FILM;
use super::round::room_face;
use super::{Flash, Platen};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::fitting::{self, Normal, Pair, least_squares};
use crate::heat::{Place, Refusal, Solver, Span, Stage, step_errors};
use crate::ink::Ink;
use crate::quantity::{
    Dimensioned, FLASH_DWELL, HEAT, Length, Rules, START, Temperature, TemperatureDifference, Time, room, units,
};
use crate::sorted;
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};
use crate::work::Work;
use std::ops::ControlFlow;

const MOMENT: Rules = Rules::range(units::S, 0.0, 600.0).usual(0.0, 60.0);
/// A factor is a tenth to ten times what it was.
const MOST: f64 = core::f64::consts::LN_10;
/// The logarithm of a factor is moved by this to see what it does.
const NUDGE: f64 = 1e-3;
/// A step that moves no reading by a millionth of a kelvin is the last.
const LIMITS: fitting::FitLimits = fitting::FitLimits { most: MOST, resolution: 1e-6, steps: 60 };
/// What a probe or a gun may be off, K, and how well readings that are off by so much must tell the air's factor, as a share of it.
const READING: f64 = 2.0;
const TOLD: f64 = 0.25;
/// A model that is so far off, as a root mean square in K, does not match.
const NO_MATCH: f64 = 20.0;
/// How far a modelled reading may be off, K.
const TOLERANCE: f64 = 0.02;
const MOST_READINGS: usize = 2_000;
const MOST_RUNS: usize = 20;

words! {
    /// Where a temperature was measured.
    pub enum ProbeDepth ("place of measurement") {
        /// A probe in the ink, against the cloth.
        InInk = "in_ink",
        /// An infrared gun, which reads the top only.
        Surface = "surface",
    }
}

request! {
    /// One reading of a print under a flash.
    pub struct FlashReading {
        /// When it was read, from the moment the flash came on; after the dwell the print stands in the room.
        time "Time": Time where MOMENT,
        /// What the probe or the gun showed.
        temperature "Reading": Temperature where HEAT,
        /// Where the temperature was measured.
        measured "Where measured": ProbeDepth,
    }
}

request! {
    /// One flash of a fresh print.
    pub struct FlashTrial {
        /// How long the flash was on.
        dwell "Flash dwell": Time where FLASH_DWELL,
        /// Temperature of the platen before the flash.
        platen_start "Platen before flash": Temperature where START,
        /// The readings, in any order.
        readings "Readings": Vec<FlashReading>,
    }
}

request! {
    /// A flash and what was read under it.
    pub struct FlashFitRequest {
        /// The flash as it is believed to be.
        flash "Flash": Flash,
        /// The ink of the print.
        ink "Ink": Ink,
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM,
        /// The cloth under the ink.
        cloth "Cloth": Cloth,
        /// The platen under the cloth.
        platen "Platen": Platen,
        /// Flashes of known dwell.
        runs "Flashes": Vec<FlashTrial>,
    }
}

answer! {
    /// The fit.
    pub struct FlashFit {
        /// New panel exchange over old, where there is a panel.
        panel_factor "Panel heat factor": Option<f64>,
        /// New lamp flux over old, where there is one.
        flux_factor "Lamp heat factor": Option<f64>,
        /// Standard error of the factor on panel or lamps, where there are readings to spare.
        heat_factor_error "Heat factor error": Option<f64>,
        /// New transfer coefficient over old; 1 where there is none or the readings cannot tell it.
        transfer_factor "Air heat factor": f64,
        /// Standard error of the factor on the transfer coefficient, where it was fitted and there are readings to spare.
        transfer_factor_error "Air factor error": Option<f64>,
        /// Root mean square of what the readings are off.
        rms "Typical misfit": TemperatureDifference,
        /// Whether the readings can tell the air from panel or lamps.
        distinguishable "Tells air from heater": bool,
        /// The flash with its new numbers.
        flash "Fitted flash": Flash,
    }
}

calculation! {
    pub const FIT: FlashFitRequest => FlashFit = fit;
    id: "flash.fit",
    title: "Flash from readings",
    question: "What makes the model match my flash?",
    asked: ["How do I calibrate my flash?", "What does my gun say about the flash?"],
    headline: ["panel_factor", "flux_factor", "rms"],
    formula: "least squares of the temperature at the bottom (in_ink) or top (surface) of the film (heat.layers) against the readings, over the logarithms of two factors: one on panel exchange and lamp flux, one on the transfer coefficient (Levenberg-Marquardt); where the readings cannot tell the second, it is held at 1; errors from the Jacobian",
    sources: &[
        Source::published("Marquardt, SIAM J. Appl. Math. 11 (1963) 431 (from memory)"),
        Source::physics("conduction through the layers, as heat.layers"),
    ],
    example: r#"{"flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped", "runs": [
        {"dwell": "4 s", "readings": [{"time": "4.2 s", "temperature": "93 degC", "measured": "surface"}]},
        {"dwell": "6 s", "readings": [{"time": "6.2 s", "temperature": "112 degC", "measured": "surface"}]}]}"#,
}

/// The readings of a flash: seconds, kelvin, whether of the top, in the order of time.
struct Log {
    dwell: f64,
    platen: f64,
    readings: Vec<(f64, f64, bool)>,
}

/// What the model answers to the logarithms of the factors: one on transfer, one on panel and lamps.
struct Model<'a> {
    request: &'a FlashFitRequest,
    logs: Vec<Log>,
    count: usize,
    /// Which of the two is fitted.
    fitted: [bool; 2],
    work: Work,
    /// Why the model had no answer.
    refused: Option<Refusal>,
}

impl Model<'_> {
    /// What would be read, flash by flash, in the order of the logs.
    fn readings(&mut self, factors: Pair) -> Option<Vec<f64>> {
        let request = self.request;
        let flash = scaled(&request.flash, factors);
        let set = Set::new(&flash, &request.ink, request.film, &request.cloth, &request.platen).ok()?;
        let mut solver = Solver::new();
        let mut modelled = Vec::with_capacity(self.count);
        for log in &self.logs {
            let last = log.readings.last().map_or(0.0, |(time, ..)| *time);
            let stage = |duration, top| Stage { duration, top, bottom: set.underside };
            let mut stages = vec![stage(log.dwell, set.flashing)];
            if last > log.dwell {
                stages.push(stage(last - log.dwell, room_face()));
            }
            let problem = set.problem((room().si(), log.platen), &stages, TOLERANCE, step_errors(TOLERANCE));
            let mut waiting = log.readings.iter().peekable();
            let total = last.max(log.dwell);
            let watch = |span: Span<'_>| {
                while let Some((time, _, top)) = waiting.next_if(|(time, ..)| *time <= span.end || span.end >= total) {
                    modelled.push(span.at(if *top { Place::Top } else { Place::Joint(0) }, *time));
                }
                if waiting.peek().is_none() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
            };
            if let Err(refusal) = solver.march(&problem, &mut self.work, watch) {
                self.refused = Some(refusal);
                return None;
            }
        }
        (modelled.len() == self.count).then_some(modelled)
    }

    /// How fast each reading rises with a factor, by central differences.
    fn slope(&mut self, [transfer, heat]: Pair, [by_transfer, by_heat]: Pair) -> Option<Vec<f64>> {
        let up = self.readings([transfer + by_transfer, heat + by_heat])?;
        let down = self.readings([transfer - by_transfer, heat - by_heat])?;
        Some(up.iter().zip(&down).map(|(up, down)| (up - down) / (2.0 * NUDGE)).collect())
    }
}

impl fitting::Model for Model<'_> {
    fn residuals(&mut self, factors: Pair) -> Option<Vec<f64>> {
        let modelled = self.readings(factors)?;
        let read = self.logs.iter().flat_map(|log| &log.readings);
        Some(modelled.into_iter().zip(read).map(|(model, (_, read, _))| model - read).collect())
    }

    fn slopes(&mut self, at: Pair) -> Option<Vec<Pair>> {
        let [transfer, heat] = self.fitted;
        let mut of = |fitted: bool, by: Pair| {
            if fitted { self.slope(at, by) } else { Some(vec![0.0; self.count]) }
        };
        let (by_transfer, by_heat) = (of(transfer, [NUDGE, 0.0])?, of(heat, [0.0, NUDGE])?);
        Some(by_transfer.into_iter().zip(by_heat).map(|(transfer, heat)| [transfer, heat]).collect())
    }
}

/// The flash with its transfer coefficient, and its panel exchange and lamp flux, multiplied.
pub(crate) fn scaled(flash: &Flash, factors: Pair) -> Flash {
    let [transfer, heat] = factors.map(libm::exp);
    flash
        .clone()
        .transfer(flash.transfer.map(|old| old * transfer))
        .exchange_fraction(flash.exchange_fraction.map(|old| old * heat))
        .flux(flash.flux.map(|old| old * heat))
}

/// Factors on panel or lamps and on the transfer that make the model match readings in the ink or of its top.
///
/// Under a flash the air moves the print by a few kelvin, against a hundred of the panel. So the transfer is fitted only where
/// readings that are off by 2 K (memory) tell its factor, apart from that of panel or lamps, to a standard error of a quarter; else it
/// stays what it was, `distinguishable` is false, and all that the readings want is put to panel or lamps. A flash of air alone has the
/// one factor on its transfer.
///
/// # Errors
/// `impossible` for a flash without panel, flux and air; `out_of_range` without a reading; `no_solution` where no factors from a
/// tenth to ten bring the model within 20 K of the readings; what the solver refuses.
pub(crate) fn fit(request: &FlashFitRequest, remarks: &mut Remarks) -> Result<FlashFit, Error> {
    let flash = &request.flash;
    let (heat, air) = (flash.panel.is_some() || flash.flux.is_some(), flash.transfer.is_some());
    if !heat && !air {
        return Err(Error::new(Code::Impossible, "/flash", "a flash that heats by nothing has nothing to fit")
            .allowed(["panel", "flux", "air"]));
    }
    Set::new(flash, &request.ink, request.film, &request.cloth, &request.platen)?;
    let logs = logs(request)?;
    let count = logs.iter().map(|log| log.readings.len()).sum();
    cite(flash, &request.ink, &request.cloth, &request.platen, remarks);
    let work = *remarks.work();
    let mut model = Model { request, logs, count, fitted: [air, heat], work, refused: None };
    let mut told = true;
    let fitted = fitting::Model::slopes(&mut model, [0.0, 0.0]).and_then(|slopes| {
        // One alone, whose slopes are all there is, has a finite variance too; two that stand for one another have none.
        let [variance, _] = Normal::of(&slopes).inverse().map_or([f64::INFINITY; 2], |inverse| inverse.diagonal());
        told = !air || !heat || READING * variance.sqrt() <= TOLD;
        model.fitted = [air && told, heat];
        least_squares(&mut model, [0.0, 0.0], &LIMITS)
    });
    *remarks.work() = model.work;
    // A step to factors that the model has no answer for is taken back, but not for want of work.
    if let Some(refusal) = model.refused.filter(|refusal| fitted.is_none() || *refusal == Refusal::Work) {
        return Err(refused(refusal, "/runs"));
    }
    let flash = fitted.as_ref().map(|fitted| scaled(flash, fitted.at));
    let within = |at: &Pair| at.iter().all(|factor| factor.abs() < MOST * (1.0 - 1e-9));
    let (Some(fitted), Some(flash)) = (
        fitted.filter(|fitted| within(&fitted.at) && fitted.squares() <= NO_MATCH * NO_MATCH * count as f64),
        flash.filter(|flash| flash.exchange_fraction.is_none_or(|share| share <= 1.0)),
    ) else {
        return Err(Error::new(
            Code::NoSolution,
            "/runs",
            "no factors from a tenth to ten bring the model near these readings: check the dwells, the platen, the ink and the units",
        ));
    };
    if !told {
        remarks.caution("not_distinguishable", "/runs", "these readings cannot tell what the air does from what panel or lamps do: the transfer was left as it was, and the factor stands for both; readings of a long dwell and of a flash that is off would tell");
    }
    remarks.info("one_print", "", "fitted to this ink on this cloth and platen, where it was read, at this height and setting: a gun reads the top alone and is late by part of a second, in which a print loses some kelvin, so give the moment it was read; read middle and corners");
    let spare = count.saturating_sub(model.fitted.iter().filter(|one| **one).count());
    let variances = Normal::of(&fitted.slopes).inverse().filter(|_| spare > 0).map(|inverse| inverse.diagonal());
    let scatter = fitted.squares() / spare.max(1) as f64;
    let [transfer_factor, heat_factor] = fitted.at.map(libm::exp);
    let error = |variance: f64, factor: f64| (variance > 0.0).then(|| (scatter * variance).sqrt() * factor);
    Ok(FlashFit {
        panel_factor: flash.panel.map(|_| heat_factor),
        flux_factor: flash.flux.map(|_| heat_factor),
        heat_factor_error: variances.and_then(|[_, heat]| error(heat, heat_factor)),
        transfer_factor,
        transfer_factor_error: variances.and_then(|[transfer, _]| error(transfer, transfer_factor)),
        rms: TemperatureDifference::from_si(fitted.misfit(&LIMITS)),
        distinguishable: told,
        flash: flash.fitted(true),
    })
}

fn logs(request: &FlashFitRequest) -> Result<Vec<Log>, Error> {
    let logs: Vec<Log> = request
        .runs
        .iter()
        .map(|run| {
            let read = |reading: &FlashReading| {
                (reading.time.si(), reading.temperature.si(), reading.measured == ProbeDepth::Surface)
            };
            let mut readings: Vec<_> = run.readings.iter().map(read).collect();
            sorted::by_number(&mut readings, |(time, ..)| *time);
            Log { dwell: run.dwell.si(), platen: run.platen_start.si(), readings }
        })
        .filter(|log| !log.readings.is_empty())
        .collect();
    let count: usize = logs.iter().map(|log| log.readings.len()).sum();
    if count < 1 {
        return Err(Error::new(Code::OutOfRange, "/runs", "there is nothing to fit to").allowed(["at least 1 reading"]));
    }
    if request.runs.len() > MOST_RUNS || count > MOST_READINGS {
        let message = format!("{} flashes with {count} readings", request.runs.len());
        return Err(Error::new(Code::TooLong, "/runs", message)
            .allowed([format!("at most {MOST_RUNS} flashes and {MOST_READINGS} readings")]));
    }
    Ok(logs)
}
