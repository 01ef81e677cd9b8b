//! Whether a logged print cured.

use super::kinetics::{LogReading, equivalent_time, same, time_at_or_above, work};
use super::{ARRHENIUS, GAS_CONSTANT};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::flash::ProbeDepth;
use crate::ink::{Cure, Gel, Ink};
use crate::note::Level;
use crate::quantity::{Dimensioned, Show, Temperature, Time, decimal, reaches, units};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use serde_json::Value;

/// Temperatures that a print in a shop has, in degC.
const USUAL_HEAT: core::ops::RangeInclusive<f64> = 0.0..=300.0;
/// Seconds beyond which a log is no pass through a dryer.
const USUAL_SPAN: f64 = 1800.0;
/// An interval is a gap from so many times the median interval.
const GAP: f64 = 5.0;
/// A gap matters from so many kelvin below the temperature that counts.
const NEAR: f64 = 10.0;
/// No free water is hotter than this, in degC.
const BOILING: f64 = 100.0;

words! {
    /// What a log says about a cure.
    pub enum CureVerdict ("verdict") {
        /// Not cured.
        Under = "under",
        /// Cured, at the spot that was logged.
        Cured = "cured",
        /// Hotter than the ink or the cloth bears.
        Over = "over",
        /// Hot enough for long enough as far as the log shows; that does not prove it.
        NotProven = "not_proven",
    }
}

request! {
    /// A logged print.
    pub struct AssessRequest {
        /// The ink.
        ink "Ink": Ink,
        /// The cloth under it; its heat limits are judged where it is given.
        cloth "Cloth": Option<Cloth>,
        /// Readings in order of time, two at least; a straight line is taken from each to the next.
        log "Temperature log": Vec<LogReading>,
        /// Where the temperatures were measured.
        measured "Where measured": ProbeDepth,
    }
}

answer! {
    /// How far it cured.
    pub struct CureAssessed {
        /// The hottest reading.
        peak "Hottest reading": Temperature,
        /// Time that the log is at or above the cure temperature.
        time_above "Time hot enough": Time,
        /// The hold at the cure temperature that the log is worth.
        equivalent_hold "Equivalent hold": Time,
        /// The equivalent hold over the hold that the ink needs, at most 1.
        cured_fraction "Cured share": f64,
        /// What the log says about the cure.
        verdict "Verdict": CureVerdict,
    }
}

calculation! {
    pub const ASSESS: AssessRequest => CureAssessed = assess;
    id: "cure.assess",
    title: "Cure of a logged print",
    question: "Did this logged print cure?",
    asked: ["Was this print hot enough for long enough?", "Is my print cured?"],
    headline: ["verdict", "peak"],
    formula: "without activation_energy: equivalent_hold = time at or above the cure temperature; with it: the integral of exp(-(Ea/R) (1/T - 1/T_cure)) over the time at or above gel, T in kelvin, straight between readings, by Gauss-Legendre quadrature; cured_fraction = min(1, equivalent_hold / hold)",
    sources: &[
        ARRHENIUS,
        GAS_CONSTANT,
        Source::published("Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4: Gauss-Legendre quadrature"),
        Source::common("ink suppliers and trade journals: a film is cured when all of it, down to the cloth, was hot enough for long enough"),
    ],
    example: r#"{"ink": "silicone", "cloth": "cotton-jersey-180-dark", "log": [{"time": "0 s", "temperature": "25 degC"}, {"time": "25 s", "temperature": "120 degC"}, {"time": "40 s", "temperature": "138 degC"}, {"time": "110 s", "temperature": "142 degC"}, {"time": "130 s", "temperature": "60 degC"}], "measured": "in_ink"}"#,
}

/// Judges the cure at the spot that was logged.
///
/// Without an activation energy the hold counts at or above the cure temperature. With one, the integral of
/// `exp(-(Ea/R) (1/T - 1/T_cure))`, T in kelvin, counts at or above `gel`, to 1e-9 of itself; where `gel` is "dry" it
/// counts from the boiling point of water (or the cure temperature, if that is lower), since a film with free water in
/// it stays below. An ink with hold 0 is cured once it reaches its temperature. A surface reading, or an ink that must
/// be dry first, is never better than `not_proven`. Readings -40 to 1500 degC within a week, 2 to 10 000 of them.
///
/// # Errors
/// `impossible` for an activation energy on an ink whose hold is 0, for readings out of order, and for two temperatures
/// at one time; `out_of_range` for fewer than two readings.
pub(crate) fn assess(request: &AssessRequest, remarks: &mut Remarks) -> Result<CureAssessed, Error> {
    let (ink, cloth, log, measured) = (&request.ink, &request.cloth, &request.log, &request.measured);
    let cure = &ink.cure;
    if ink.activation_energy.is_some() && !needs_hold(cure) {
        return Err(Error::new(
            Code::Impossible,
            "/ink/activation_energy",
            "an ink that is cured once it reaches its temperature has no hold to trade for heat: give its cure a hold, or leave the activation energy out",
        ));
    }
    in_order(log, remarks)?;
    let peak = log.iter().map(|reading| reading.temperature).reduce(|a, b| if b > a { b } else { a });
    let peak = peak.ok_or_else(|| too_few(log))?;

    ink.cite(&["cure", "never_above"], remarks);
    let time_above = time_at_or_above(log, cure.temperature);
    let (counts_from, equivalent_hold) = match ink.activation_energy {
        None => (cure.temperature, time_above),
        Some(energy) => {
            ink.cite(&["activation_energy", "gel"], remarks);
            remarks.basis("gas_constant", GAS_CONSTANT);
            let from = counts_from(ink, remarks);
            remarks.work().spend(work(log, from, energy, cure.temperature));
            (from, equivalent_time(log, from, energy, cure.temperature))
        }
    };
    say_what_the_log_lacks(log, counts_from, remarks);

    let enough = if needs_hold(cure) { reaches(equivalent_hold, cure.hold) } else { reaches(peak, cure.temperature) };
    let cured_fraction = if enough {
        1.0
    } else if needs_hold(cure) {
        (equivalent_hold / cure.hold).into()
    } else {
        0.0
    };
    let over = too_hot(peak, log, ink, cloth.as_ref(), remarks);
    let proves = proves_a_cure(ink, *measured, remarks);
    let verdict = match (over, enough, proves) {
        (true, ..) => CureVerdict::Over,
        (false, false, _) => CureVerdict::Under,
        (false, true, false) => CureVerdict::NotProven,
        (false, true, true) => CureVerdict::Cured,
    };
    if over && !enough {
        remarks.caution("over_and_under", "", "too hot and yet not cured: it needs less heat for longer");
    }
    remarks.info(
        "one_spot",
        "/log",
        "a log shows one spot of one print: log the left, the middle and the right of a loaded belt, at the coldest ink, and wash a print",
    );
    remarks.caution(
        "heat_and_fumes",
        "",
        "hot ink gives off fumes, and a dryer burns: the ink maker's sheet for cure and limits, and local rules on exhaust, come before this answer",
    );
    Ok(CureAssessed { peak, time_above, equivalent_hold, cured_fraction, verdict })
}

fn needs_hold(cure: &Cure) -> bool {
    cure.hold.si() > 0.0
}

fn too_few(log: &[LogReading]) -> Error {
    Error::new(Code::OutOfRange, "/log", "a log needs readings at two times at least")
        .got(&Value::from(format!("{} readings", log.len())))
        .allowed(["readings at two times at least"])
}

/// Refuses a log that is not one temperature after the other; cautions about what is odd in it.
fn in_order(log: &[LogReading], remarks: &mut Remarks) -> Result<(), Error> {
    let mut repeated = None;
    for (index, (before, after)) in (1_usize..).zip(log.iter().zip(log.iter().skip(1))) {
        let refuse = |message: &str| {
            let got = Value::from(format!("{} s", decimal(after.time.si())));
            Error::new(Code::Impossible, format!("/log/{index}/time"), message).got(&got)
        };
        if !reaches(after.time, before.time) {
            return Err(refuse("earlier than the reading before it: readings go in order of time")
                .allowed([format!("from {} s", decimal(before.time.si()))]));
        }
        if same(after.time, before.time) {
            if !same(after.temperature, before.temperature) {
                return Err(refuse("two temperatures at one time: one spot has one temperature")
                    .allowed([format!("after {} s", decimal(before.time.si()))]));
            }
            repeated.get_or_insert(index);
        }
    }
    let (Some(first), Some(last)) = (log.first(), log.last()) else { return Err(too_few(log)) };
    if same(first.time, last.time) {
        return Err(too_few(log));
    }
    if let Some(index) = repeated {
        remarks.caution(
            "repeated_reading",
            format_args!("/log/{index}/time"),
            "the same reading stands twice at one time; it is counted once",
        );
    }
    if (last.time - first.time).si() > USUAL_SPAN {
        remarks.caution(
            "unusual_value",
            "/log",
            "the log runs for more than half an hour, which is no pass through a dryer: check the unit of the times",
        );
    }
    if let Some(index) = log.iter().position(|r| !USUAL_HEAT.contains(&units::DEG_C.value(r.temperature))) {
        remarks.caution(
            "unusual_value",
            format_args!("/log/{index}/temperature"),
            "`temperature` can exist but is unusual in a print: usual is 0 degC to 300 degC; check the number and its unit",
        );
    }
    Ok(())
}

/// The temperature from which the activation energy's count runs.
fn counts_from(ink: &Ink, remarks: &mut Remarks) -> Temperature {
    match ink.gel {
        Gel::At(gel) => gel,
        Gel::Dry => {
            remarks.basis(
                "counted_from",
                Source::physics("free water holds a film below its boiling point, 100 degC at sea level"),
            );
            let boiling = units::DEG_C.of(BOILING);
            if ink.cure.temperature < boiling { ink.cure.temperature } else { boiling }
        }
    }
}

/// Cautions about gaps and about heat before the log begins or after it ends.
fn say_what_the_log_lacks(log: &[LogReading], counts_from: Temperature, remarks: &mut Remarks) {
    if let Some((index, gap, median)) = longest_gap(log, counts_from) {
        remarks.caution(
            "log_gap",
            format_args!("/log/{index}/time"),
            |say: Say| format!(
                "no reading for {} before this one, where half of the others follow within {}: the line across it is a guess",
                say.say(gap, Show::Usual),
                say.say(median, Show::Usual)
            ),
        );
    }
    let hot = |reading: Option<&LogReading>| reading.is_some_and(|r| reaches(r.temperature, counts_from));
    if hot(log.first()) || hot(log.last()) {
        remarks.caution(
            "log_cut_off",
            "/log",
            "the log begins or ends hot: what came before or after it is not counted, nor judged against the limits",
        );
    }
}

/// The longest interval that is a gap and ends or begins hot enough to matter: the index of the reading after it, its
/// length, and the median interval (the lower one of two).
fn longest_gap(log: &[LogReading], counts_from: Temperature) -> Option<(usize, Time, Time)> {
    let near = Temperature::from_si(counts_from.si() - NEAR);
    let steps = || (1_usize..).zip(log.iter().zip(log.iter().skip(1)));
    let mut lengths: Vec<f64> =
        steps().filter(|(_, (a, b))| !same(a.time, b.time)).map(|(_, (a, b))| (b.time - a.time).si()).collect();
    let middle = lengths.len().checked_sub(1)?.div_euclid(2);
    crate::sorted::numbers(&mut lengths);
    let median = *lengths.get(middle)?;
    steps()
        .filter(|(_, (a, b))| reaches(a.temperature, near) || reaches(b.temperature, near))
        .map(|(index, (a, b))| (index, b.time - a.time))
        .filter(|(_, gap)| gap.si() > GAP * median)
        .reduce(|longest, other| if other.1 > longest.1 { other } else { longest })
        .map(|(index, gap)| (index, gap, Time::from_si(median)))
}

/// Whether the peak passes a limit of ink or cloth, with a note for each that it passes.
fn too_hot(peak: Temperature, log: &[LogReading], ink: &Ink, cloth: Option<&Cloth>, remarks: &mut Remarks) -> bool {
    let passes = |limit: Temperature| !reaches(limit, peak);
    let above = |what: &str, limit: Temperature, say: Say| {
        format!("{} is above the {} that {what} bears", say.say(peak, Show::Usual), say.say(limit, Show::Usual))
    };
    let mut over = false;
    if passes(ink.never_above) {
        over = true;
        remarks.note(Level::Limit, "ink_never_above", "/ink/never_above", |say: Say| {
            above(&ink.called("the ink"), ink.never_above, say)
        });
    }
    let Some(cloth) = cloth else {
        remarks.info("cloth_not_judged", "/cloth", "no cloth was given: whether it bears the heat is not looked at");
        return over;
    };
    cloth.cite(&["never_above", "scorch", "dye", "caution_above"], remarks);
    if passes(cloth.never_above) {
        over = true;
        remarks.note(Level::Limit, "cloth_never_above", "/cloth/never_above", |say: Say| {
            above(&cloth.called("the cloth"), cloth.never_above, say)
        });
    }
    if let Some(scorch) = &cloth.scorch {
        let all = Temperature::from_si(0.0);
        remarks.work().spend(work(log, all, scorch.activation_energy, scorch.temperature));
        let had = equivalent_time(log, all, scorch.activation_energy, scorch.temperature);
        if had > scorch.hold {
            over = true;
            remarks.note(Level::Limit, "cloth_scorch", "/cloth/scorch", |say: Say| {
                format!(
                    "this heat is worth {} at {}, and the cloth bears {}",
                    say.say(had, Show::Usual),
                    say.say(scorch.temperature, Show::Usual),
                    say.say(scorch.hold, Show::Usual)
                )
            });
        }
    }
    if let Some(limit) = cloth.dye_moves_above().filter(|limit| passes(*limit)) {
        remarks.caution("dye_migration", "/cloth", |say: Say| {
            format!(
                "{} is above the {} at which dye starts to move: it may stain the print hours to weeks later",
                say.say(peak, Show::Usual),
                say.say(limit, Show::Usual)
            )
        });
    }
    over
}

/// Whether a log that is hot enough for long enough proves a cure, with a caution for each reason why not.
fn proves_a_cure(ink: &Ink, measured: ProbeDepth, remarks: &mut Remarks) -> bool {
    let dry_first = ink.cure.after_dry || (ink.activation_energy.is_some() && ink.gel == Gel::Dry);
    if dry_first {
        let from = match (ink.activation_energy, ink.gel) {
            (None, _) => "at or above the cure temperature",
            (Some(_), Gel::Dry) => {
                "where free water would have boiled off, or at the cure temperature if that is lower,"
            }
            (Some(_), Gel::At(_)) => "at or above the gel temperature",
        };
        remarks.caution(
            "dryness_not_shown",
            "/ink/cure/after_dry",
            |_| format!("the clock of this ink starts when it is dry, which a log of temperature cannot show: all time {from} was counted, and a cure is not proven"),
        );
    }
    let surface = measured == ProbeDepth::Surface;
    if surface {
        remarks.caution(
            "surface_only",
            "/measured",
            "an infrared gun reads the top of the film, and the bottom is colder: a cold top proves an under-cure, a hot one proves no cure",
        );
    }
    !dry_first && !surface
}
