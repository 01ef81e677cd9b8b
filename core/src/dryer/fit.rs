//! Makes the model of a dryer match a probe.

use super::Dryer;
use super::pass::BeltPass;
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::fitting::{self, Fitted, Normal, Pair, least_squares};
use crate::flash::print::{FILM, Print};
use crate::heat::{Place, Refusal, Solver, Span};
use crate::ink::Ink;
use crate::quantity::{
    BELT_SPEED, Dimension, Dimensioned, HEAT, Length, Rules, Temperature, TemperatureDifference, Time, Velocity,
    decimal, room, to_places, units,
};
use crate::sorted;
use crate::source::Source;
use crate::wire::{
    At, Field, Form, Kind, OwnForm, OwnKind, Remarks, Slot, View, answer, calculation, check_number, measure, request,
    typed, within,
};
use crate::work::Work;
use serde_json::Value;
use std::ops::ControlFlow;

const DISTANCE: Rules = Rules::range(units::M, 0.0, 100.0);
const MOMENT: Rules = Rules::range(units::S, 0.0, 86_400.0);
/// A factor is a tenth to ten times what it was.
const MOST: f64 = core::f64::consts::LN_10;
/// The logarithm of a factor is moved by this to see what it does.
const NUDGE: f64 = 1e-3;
/// Within a tenth to ten times; a step that moves no reading by a millionth of a kelvin is the last.
const LIMITS: fitting::FitLimits = fitting::FitLimits { most: MOST, resolution: 1e-6, steps: 60 };
/// Two factors that move the readings this much alike cannot be modelled apart.
const ALIKE: f64 = 0.98;
/// A reading further off than so many times the usual, and than 2 K, disagrees with the rest.
const FAR: f64 = 4.0;
/// A model that is so far off, as a root mean square in K, does not match.
const NO_MATCH: f64 = 20.0;
/// How far a modelled reading may be off, K.
const TOLERANCE: f64 = 0.02;
const MOST_READINGS: usize = 2_000;
const MOST_RUNS: usize = 20;
/// What a zone takes to be set up, in rows of its march.
const ZONE: f64 = 30.0;

/// Where in the tunnel: so far from the entry, or so long after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ProbePosition {
    /// From the entry.
    Distance(Length),
    /// After the entry.
    After(Time),
}

impl Field for ProbePosition {
    const KIND: Kind = Kind::Own(&OwnKind {
        wanted: "a distance from the entry or a time after it, such as 0.5 m or 15 s",
        forms: &[Form::Kind(Length::KIND, &DISTANCE), Form::Kind(Time::KIND, &MOMENT)],
    });
    fn blank() -> Self {
        Self::Distance(Length::from_si(0.0))
    }
    fn view(&self) -> View<'_> {
        View::Own(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Own(self)
    }
}

impl OwnForm for ProbePosition {
    fn read(&mut self, value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        *self = match measure(value, at, Dimension::Length) {
            Ok(read) => Self::Distance(Length::from_si(within(read, value, at, &DISTANCE, remarks)?)),
            Err(e) if e.code != Code::WrongDimension => return Err(e),
            Err(_) => {
                let read = measure(value, at, Dimension::Time)?;
                Self::After(Time::from_si(within(read, value, at, &MOMENT, remarks)?))
            }
        };
        Ok(())
    }
    fn check(&self, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<(), Error> {
        let (dimension, si, rules) = match self {
            Self::Distance(distance) => (Dimension::Length, distance.si(), &DISTANCE),
            Self::After(time) => (Dimension::Time, time.si(), &MOMENT),
        };
        check_number(si, at, rules, remarks, || typed(dimension, si, rules))
    }
    fn shown(&self) -> View<'_> {
        match self {
            Self::Distance(distance) => distance.view(),
            Self::After(time) => time.view(),
        }
    }
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        Some(match self {
            Self::Distance(distance) => (distance.slot(), &DISTANCE),
            Self::After(time) => (time.slot(), &MOMENT),
        })
    }
}

request! {
    /// One reading of a probe.
    pub struct ProbeReading {
        /// Where the probe was, from the entry, or when, after the entry.
        at "Place or time": ProbePosition,
        /// What the probe in the ink showed.
        temperature "Probe reading": Temperature where HEAT,
    }
}

request! {
    /// One pass of a probe through the dryer.
    pub struct ProbeRun {
        /// Belt speed of the pass.
        belt_speed "Belt speed": Velocity where BELT_SPEED,
        /// The readings, in any order.
        readings "Probe readings": Vec<ProbeReading>,
    }
}

request! {
    /// A dryer and what a probe in it showed.
    pub struct FitRequest {
        /// The dryer as it is believed to be.
        dryer "Dryer": Dryer,
        /// The ink that the probe sat in.
        ink "Ink": Ink,
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM,
        /// The cloth under the ink.
        cloth "Cloth": Cloth,
        /// Trips of the probe, at one belt speed or several.
        runs "Probe runs": Vec<ProbeRun>,
    }
}

answer! {
    /// The fit.
    pub struct Fit {
        /// New transfer coefficients over old.
        transfer_factor "Air heat factor": f64,
        /// Standard error of the factor on the transfer coefficients, where there are readings to spare.
        transfer_factor_error "Air factor error": Option<f64>,
        /// New panel exchange over old; 1 without a panel.
        panel_factor "Panel heat factor": f64,
        /// Standard error of the factor on the panel exchange, where there is a panel and readings to spare.
        panel_factor_error "Panel factor error": Option<f64>,
        /// Root mean square of what the readings are off.
        rms "Typical misfit": TemperatureDifference,
        /// Whether the readings can tell air from panel.
        distinguishable "Tells air from panel": bool,
        /// The dryer with its new numbers.
        dryer "Fitted dryer": Dryer,
    }
}

calculation! {
    pub const FIT: FitRequest => Fit = fit;
    id: "dryer.fit",
    title: "Dryer from a probe",
    question: "What makes the model match my probe?",
    asked: ["How do I calibrate my dryer?", "What does my probe say about the dryer?"],
    headline: ["transfer_factor", "rms"],
    formula: "least squares of the temperature at the bottom of the film (heat.layers) against the readings, over the logarithms of two factors: one on all transfer coefficients, one on all panel exchanges (Levenberg-Marquardt); errors from the Jacobian",
    sources: &[
        Source::published("Marquardt, SIAM J. Appl. Math. 11 (1963) 431 (from memory)"),
        Source::physics("conduction through the layers, as heat.layers"),
    ],
    example: r#"{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180", "runs": [{"belt_speed": "2 m/min", "readings": [
        {"at": "0.5 m", "temperature": "118 degC"}, {"at": "1.0 m", "temperature": "157 degC"}, {"at": "1.5 m", "temperature": "169 degC"}, {"at": "2.0 m", "temperature": "173 degC"}]}]}"#,
}

/// The readings of one pass: seconds after the entry and kelvin, ascending.
struct Log {
    speed: f64,
    readings: Vec<(f64, f64, usize)>,
}

/// What the model answers to the logarithms of the factors: one on transfer, one on the panels where there are any.
struct Model<'a> {
    request: &'a FitRequest,
    logs: Vec<Log>,
    count: usize,
    panel: bool,
    work: Work,
    /// Why the model had no answer.
    refused: Option<Refusal>,
}

impl Model<'_> {
    /// What the probe would read, run by run, in the order of the logs.
    fn readings(&mut self, factors: Pair) -> Option<Vec<f64>> {
        let dryer = scaled(&self.request.dryer, factors);
        let request = self.request;
        let pass = BeltPass::new(&dryer, &request.ink, request.film, &request.cloth, room());
        self.work.spend(ZONE * pass.zones.len() as f64);
        let mut solver = Solver::new();
        let mut modelled = Vec::with_capacity(self.count);
        for log in &self.logs {
            let stages = pass.stages(log.speed);
            let problem = pass.problem(&stages, TOLERANCE);
            let mut waiting = log.readings.iter().peekable();
            let total: f64 = stages.iter().map(|stage| stage.duration).sum();
            let watch = |span: Span<'_>| {
                while let Some((time, ..)) = waiting.next_if(|(time, ..)| *time <= span.end || span.end >= total) {
                    modelled.push(span.at(Place::Joint(0), *time));
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

    fn measured(&self) -> impl Iterator<Item = f64> {
        self.logs.iter().flat_map(|log| log.readings.iter().map(|(_, temperature, _)| *temperature))
    }

    /// How fast each reading rises with one of the factors, by central differences.
    fn slope(&mut self, nudged: impl Fn(f64) -> Pair) -> Option<Vec<f64>> {
        let (up, down) = (self.readings(nudged(NUDGE))?, self.readings(nudged(-NUDGE))?);
        Some(up.iter().zip(&down).map(|(up, down)| (up - down) / (2.0 * NUDGE)).collect())
    }
}

impl fitting::Model for Model<'_> {
    fn residuals(&mut self, factors: Pair) -> Option<Vec<f64>> {
        let modelled = self.readings(factors)?;
        Some(modelled.into_iter().zip(self.measured()).map(|(model, probe)| model - probe).collect())
    }

    fn slopes(&mut self, [transfer, panel]: Pair) -> Option<Vec<Pair>> {
        let by_transfer = self.slope(|by| [transfer + by, panel])?;
        if !self.panel {
            return Some(by_transfer.into_iter().map(|slope| [slope, 0.0]).collect());
        }
        let by_panel = self.slope(|by| [transfer, panel + by])?;
        Some(by_transfer.into_iter().zip(by_panel).map(|(transfer, panel)| [transfer, panel]).collect())
    }
}

/// The dryer with its transfer coefficients and panel exchanges multiplied.
pub(crate) fn scaled(dryer: &Dryer, factors: Pair) -> Dryer {
    let [transfer, panel] = factors.map(libm::exp);
    let mut zones = dryer.tunnel();
    for zone in &mut zones {
        *zone = zone
            .clone()
            .transfer_top(zone.transfer_top * transfer)
            .transfer_bottom(zone.transfer_bottom * transfer)
            .exchange_fraction(zone.exchange_fraction.map(|share| share * panel));
    }
    dryer.with_zones(zones)
}

/// Transfer and panel factors that make the model match a probe in the ink.
///
/// # Errors
/// `out_of_range` for a reading beyond the tunnel or fewer readings than factors; `no_solution` where no factors from a tenth
/// to ten bring the model within 20 K of the readings.
pub(crate) fn fit(request: &FitRequest, remarks: &mut Remarks) -> Result<Fit, Error> {
    let logs = logs(request)?;
    let count = logs.iter().map(|log| log.readings.len()).sum();
    let panel = request.dryer.tunnel().iter().any(|zone| zone.panel.is_some());
    let parameters = if panel { 2 } else { 1 };
    if count < parameters {
        return Err(Error::new(Code::OutOfRange, "/runs", "too few readings to fit anything")
            .allowed([format!("at least {parameters} readings")]));
    }
    request.dryer.cite(&["zones"], remarks);
    request.ink.cite(&["density", "water_fraction"], remarks);
    request.cloth.cite(&["mass_per_area", "thickness", "conductivity", "specific_heat", "regain_fraction"], remarks);
    Print::cite(remarks);
    let mut model = Model { request, logs, count, panel, work: *remarks.work(), refused: None };
    let failed = || {
        Error::new(
            Code::NoSolution,
            "/runs",
            "no factors from a tenth to ten bring the model near these readings: check the zones, the ink and the units",
        )
    };
    let fitted = least_squares(&mut model, [0.0, 0.0], &LIMITS);
    *remarks.work() = model.work;
    // A step to factors that the model has no answer for is taken back, but not for want of work.
    if let Some(refusal) = model.refused.filter(|refusal| fitted.is_none() || *refusal == Refusal::Work) {
        let instead = ("/runs", "fewer runs, a faster belt in each, or a less extreme film and cloth");
        return Err(refusal.error(instead, "/cloth", "/dryer/zones"));
    }
    let fitted = fitted.ok_or_else(failed)?;
    if fitted.at.iter().any(|factor| factor.abs() >= MOST * (1.0 - 1e-9)) {
        return Err(failed());
    }
    let rms = fitted.misfit(&LIMITS);
    if rms > NO_MATCH {
        return Err(failed());
    }
    let normal = Normal::of(&fitted.slopes);
    let distinguishable = !panel || normal.cosine().is_some_and(|cosine| cosine.abs() < ALIKE);
    let [transfer_factor, panel_factor] = fitted.at.map(libm::exp);
    // Standard errors of the logarithms, where there are readings to spare.
    let spare = count.saturating_sub(parameters);
    let errors = normal.inverse().filter(|_| spare > 0).map(|inverse| {
        let variance = fitted.squares() / spare as f64;
        inverse.diagonal().map(|share| (share > 0.0).then(|| (variance * share).sqrt()))
    });
    let [transfer_error, panel_error] = errors.unwrap_or_default();
    if !distinguishable {
        remarks.caution("not_distinguishable", "/runs", "these readings cannot tell air from panel: the two factors stand for one another; run the probe at another belt speed, and once with the panel off");
    }
    name_outliers(&model, &fitted, remarks);
    remarks.info("one_print", "", "fitted to this ink on this cloth, where the probe sat: probe left, middle and right, and again when the season or the load changes");
    let dryer = scaled(&request.dryer, fitted.at);
    if dryer.tunnel().iter().any(|zone| zone.exchange_fraction.is_some_and(|share| share > 1.0)) {
        return Err(failed());
    }
    Ok(Fit {
        transfer_factor,
        transfer_factor_error: transfer_error.map(|error| error * transfer_factor),
        panel_factor,
        panel_factor_error: panel_error.filter(|_| panel).map(|error| error * panel_factor),
        rms: TemperatureDifference::from_si(rms),
        distinguishable,
        dryer: dryer.fitted(true),
    })
}

fn logs(request: &FitRequest) -> Result<Vec<Log>, Error> {
    if request.runs.len() > MOST_RUNS {
        return Err(Error::new(Code::TooLong, "/runs", format!("{} runs", request.runs.len()))
            .allowed([format!("at most {MOST_RUNS} runs")]));
    }
    let length = request.dryer.length_under_heat();
    let mut logs = Vec::new();
    let mut count = 0_usize;
    for (r, run) in request.runs.iter().enumerate() {
        let through: Time = length / run.belt_speed;
        let mut readings = Vec::new();
        for (i, reading) in run.readings.iter().enumerate() {
            let time: Time = match reading.at {
                ProbePosition::Distance(distance) => distance / run.belt_speed,
                ProbePosition::After(time) => time,
            };
            if !crate::quantity::reaches(through, time) {
                return Err(Error::new(
                    Code::OutOfRange,
                    format!("/runs/{r}/readings/{i}/at"),
                    "this lies beyond the last zone",
                )
                .allowed([format!(
                    "up to {} m or {} s",
                    decimal(units::M.value(length)),
                    decimal(units::S.value(through))
                )]));
            }
            readings.push((time.si(), reading.temperature.si(), i));
        }
        sorted::by_number(&mut readings, |(time, ..)| *time);
        count = count.saturating_add(readings.len());
        logs.push(Log { speed: run.belt_speed.si(), readings });
    }
    if count > MOST_READINGS {
        return Err(Error::new(Code::TooLong, "/runs", format!("{count} readings"))
            .allowed([format!("at most {MOST_READINGS} readings")]));
    }
    Ok(logs)
}

/// Names the readings that disagree with the rest: by the median of what all are off, or, since one bad reading of few draws
/// the fit to itself, by what it is off from a fit to the others over what those scatter (Belsley, Kuh, Welsch, Regression
/// Diagnostics, 1980: the studentized residual with the reading left out).
fn name_outliers(model: &Model<'_>, fitted: &Fitted, remarks: &mut Remarks) {
    let mut sizes: Vec<f64> = fitted.residuals.iter().map(|residual| residual.abs()).collect();
    sorted::numbers(&mut sizes);
    let usual = sizes.get(sizes.len() / 2).copied().unwrap_or(0.0) * 1.4826;
    let parameters = if model.panel { 2 } else { 1 };
    let spare = model.count.saturating_sub(parameters).saturating_sub(1) as f64;
    let inverse = Normal::of(&fitted.slopes).inverse().filter(|_| spare > 0.0);
    let squares = fitted.squares();
    let places = model.logs.iter().enumerate().flat_map(|(r, log)| log.readings.iter().map(move |(_, _, i)| (r, *i)));
    for (((r, i), residual), slope) in places.zip(&fitted.residuals).zip(&fitted.slopes) {
        // The share of itself that a reading pulls the fit by.
        let pull = inverse.map_or(0.0, |inverse| {
            let ([a, b], [c, d]) = (*slope, inverse.times(*slope));
            (a * c + b * d).clamp(0.0, 0.99)
        });
        let off = (residual / (1.0 - pull)).abs();
        let others = (squares - residual * residual / (1.0 - pull)).max(0.0);
        let scatter = (others / (spare.max(1.0) * (1.0 - pull))).sqrt();
        let far = residual.abs() > FAR * usual || (inverse.is_some() && off > FAR * scatter);
        if far && off > 2.0 {
            remarks.caution("reading_disagrees", format_args!("/runs/{r}/readings/{i}"), |_| {
                format!(
                    "this reading is {} K off where the others fit: a loose probe, or a cold spot of the belt",
                    to_places(off, 1)
                )
            });
        }
    }
}
