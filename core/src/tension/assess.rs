//! Whether screens are a set: as tight as each other, and each as tight all over.

use super::{FRAMES_SOURCE, Frame, STRENGTH_SOURCE, TARGETS_SOURCE, TENSION, USUAL, cite_target, target_range};
use crate::error::{Code, Error, clip};
use crate::mesh::Mesh;
use crate::note::Level;
use crate::quantity::{Dimensioned, Rules, Show, Tension, reaches, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};

const WITHIN_SOURCE: Source = Source::common("trade journals: nine points within 1.5 N/cm of the middle");
const ACROSS_SOURCE: Source = Source::memory("screens of a set within 2 N/cm of each other's mean");
const WITHIN: Rules = Rules::range(units::N_PER_CM, 0.0, 50.0).usual(0.5, 5.0).or(1.5, WITHIN_SOURCE);
const ACROSS: Rules = Rules::range(units::N_PER_CM, 0.0, 50.0).usual(0.5, 5.0).or(2.0, ACROSS_SOURCE);
const TARGET: Rules = TENSION.usual(USUAL.0, USUAL.1);

/// Means below this want stretching, whatever the set, N/cm.
const ACT: f64 = 20.0;
/// Means below this are past it, N/cm.
const SCRAP: f64 = 18.0;
/// Most less least within one screen at which it fails, N/cm.
const UNEVEN: f64 = 5.0;
/// Above this roller frames may bring moire, N/cm.
const MOIRE: f64 = 27.0;
const FLOORS: Source =
    Source::common("shops: act below 20 N/cm, scrap below 18; a screen whose readings spread over 5 N/cm fails");
/// The points of the usual grid, three by three.
const POINTS: usize = 9;
/// Names that a note spells out.
const NAMED: usize = 5;

words! {
    /// What to do with a screen, or with a set.
    pub enum TensionVerdict ("verdict") {
        /// It belongs to the set as it is.
        Matched = "matched",
        /// Stretch it anew, or match the others to it.
        Retension = "retension",
        /// Not to be saved: new mesh.
        Replace = "replace",
    }
}

request! {
    /// A screen and what the meter read on it.
    pub struct ScreenReadings {
        /// What the screen is called.
        name "Screen": String,
        /// Tension at nine points, or as many as were taken, 10 cm and more from the frame.
        readings "Tension readings": Vec<Tension> where TENSION,
        /// The mesh of the screen, for the tension it should have.
        mesh "Mesh": Option<Mesh>,
    }
}

request! {
    /// Screens that should print together.
    pub struct SetRequest {
        /// The screens.
        screens "Screens": Vec<ScreenReadings>,
        /// The tension aimed at, for all screens.
        target "Target tension": Option<Tension> where TARGET.unless_given("by each screen's mesh and the frame"),
        /// How far a reading may be from its screen's mean.
        within "Allowed within screen": Tension where WITHIN,
        /// How far a screen's mean may be from the set's.
        across "Allowed across set": Tension where ACROSS,
        /// What the meshes are stretched on, for the tension they should have.
        frame "Frame": Option<Frame> where Rules::NONE.unless_given("retensionable"),
    }
}

answer! {
    /// How one screen stands.
    pub struct ScreenTension {
        /// What the screen is called.
        name "Screen": String,
        /// Mean of the screen's readings.
        mean "Mean tension": Tension,
        /// Greatest less least reading.
        spread "Spread": Tension,
        /// Least reading on the screen.
        least "Lowest reading": Tension,
        /// Greatest reading on the screen.
        most "Highest reading": Tension,
        /// The reading furthest from the mean, less the mean.
        furthest "Furthest off mean": Tension,
        /// Mean of the screen less the set's mean.
        from_set "Off the set": Tension,
        /// Lower end of the tension that the screen should have.
        target_low "Target from": Option<Tension>,
        /// Upper end of the tension that the screen should have.
        target_high "Target to": Option<Tension>,
        /// Mean of the screen less the nearer end of its target; none between the ends.
        off_target "Off target": Option<Tension>,
        /// What to do with the screen.
        verdict "Verdict": TensionVerdict,
    }
}

answer! {
    /// How the set stands.
    pub struct ScreensAssessed {
        /// Each screen, in the order of the request.
        per_screen "Each screen": Vec<ScreenTension>,
        /// Mean of the screens' means.
        set_mean "Mean of set": Tension,
        /// Greatest less least of the screens' means.
        set_spread "Spread of set": Tension,
        /// The screen without which the set spreads least, where it is one alone of three or more whose means are too
        /// far apart.
        odd_one "Odd screen out": Option<String>,
        /// Spread of the set without the screen that stands out.
        set_spread_without "Spread without it": Option<Tension>,
        /// What to do with the set: the worst of its screens' verdicts.
        verdict "Verdict": TensionVerdict,
    }
}

calculation! {
    pub const ASSESS: SetRequest => ScreensAssessed = assess;
    id: "tension.assess",
    title: "Screens as a set",
    question: "Are these screens a set?",
    asked: ["Is my screen tight enough?", "Which screen is out of line with the others?"],
    headline: ["verdict", "set_spread"],
    formula: "matched: every reading within `within` of its screen's mean, and every mean within `across` of the mean of the means; else replace where a mean is below 18 N/cm or a screen's readings spread over 5 N/cm and more, else retension; set spread = greatest less least mean; target = min(0.23 n (pi d^2 / 4) 1380 kg/m3 (0.43 N/tex + 4 N/tex um / d), what the frame holds), within 6 %",
    sources: &[WITHIN_SOURCE, ACROSS_SOURCE, FLOORS, STRENGTH_SOURCE, TARGETS_SOURCE, FRAMES_SOURCE],
    example: r#"{"screens": [{"name": "base white", "mesh": "90-48", "readings": ["25 N/cm", "26 N/cm", "25.5 N/cm"]}, {"name": "pennant red", "mesh": "90-48", "readings": ["24 N/cm", "24.5 N/cm", "24 N/cm"]}]}"#,
}

/// Mean, least and greatest of a screen's readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// Their mean.
    pub mean: Tension,
    /// The least.
    pub least: Tension,
    /// The greatest.
    pub most: Tension,
}

/// Mean, least and greatest, whatever the order of the readings, to the last bit; nothing where there are none.
///
/// The mean is taken from the least upwards, so that equal readings have themselves as their mean.
#[must_use]
pub fn readings(readings: &[Tension]) -> Option<Readings> {
    let mut ascending: Vec<f64> = readings.iter().map(|reading| reading.si()).collect();
    sorted::numbers(&mut ascending);
    let (least, most) = (*ascending.first()?, *ascending.last()?);
    let above: f64 = ascending.iter().map(|reading| reading - least).sum();
    let mean = Tension::from_si(least + above / ascending.len() as f64);
    Some(Readings { mean, least: Tension::from_si(least), most: Tension::from_si(most) })
}

/// Judges screens that should print together.
///
/// A set that is equally slack is still a set: `matched`, with a caution. A `target` below 20 N/cm is taken as a choice, as is a wooden
/// frame, and 18 and 20 N/cm then judge nothing. Tensions in N/cm in both systems of units.
///
/// # Errors
/// `out_of_range` without a screen, or for a screen without a reading.
pub(crate) fn assess(request: &SetRequest, remarks: &mut Remarks) -> Result<ScreensAssessed, Error> {
    if request.screens.is_empty() {
        let message = "a set has at least one screen";
        return Err(Error::new(Code::OutOfRange, "/screens", message).allowed(["1 screen or more"]));
    }
    let taken = request.screens.iter().enumerate().map(|(index, screen)| {
        readings(&screen.readings).ok_or_else(|| {
            let field = format!("/screens/{index}/readings");
            Error::new(Code::OutOfRange, field, "a screen has at least one reading").allowed(["1 reading or more"])
        })
    });
    let taken: Vec<Readings> = taken.collect::<Result<_, _>>()?;
    let means: Vec<Tension> = taken.iter().map(|screen| screen.mean).collect();
    // There is a screen, so there are means.
    let set = readings(&means).ok_or_else(|| Error::new(Code::Internal, "/screens", "no means"))?;
    remarks.basis("verdict", FLOORS);
    if request.target.is_none() && request.screens.iter().any(|screen| screen.mesh.is_some()) {
        cite_target("per_screen.target_low", remarks);
    }
    let per_screen: Vec<_> =
        request.screens.iter().zip(&taken).map(|(screen, taken)| judged(screen, taken, set.mean, request)).collect();
    let has = |verdict: TensionVerdict| per_screen.iter().any(|screen| screen.verdict == verdict);
    let verdict = if has(TensionVerdict::Replace) {
        TensionVerdict::Replace
    } else if has(TensionVerdict::Retension) {
        TensionVerdict::Retension
    } else {
        TensionVerdict::Matched
    };
    let apart = per_screen.iter().any(|screen| !allowed(screen.from_set, request.across, screen.mean));
    let odd = if apart { odd_one(&means) } else { None };
    let odd_one = odd.and_then(|(index, _)| request.screens.get(index)).map(|screen| screen.name.clone());
    let assessed = ScreensAssessed {
        per_screen,
        set_mean: set.mean,
        set_spread: set.most - set.least,
        odd_one,
        set_spread_without: odd.map(|(_, spread)| spread),
        verdict,
    };
    about_screens(request, &assessed, remarks);
    about_set(request, &assessed, odd.map(|(index, _)| index), remarks);
    Ok(assessed)
}

/// Whether a difference is within what is allowed; the rounding of tensions of the size of `mean` aside.
fn allowed(difference: Tension, most: Tension, mean: Tension) -> bool {
    difference.si().abs() <= most.si() + 1e-12 * mean.si()
}

fn uneven(spread: Tension) -> bool {
    reaches(spread, units::N_PER_CM.of(UNEVEN))
}

fn judged(screen: &ScreenReadings, taken: &Readings, set_mean: Tension, request: &SetRequest) -> ScreenTension {
    let Readings { mean, least, most } = *taken;
    let spread = most - least;
    // Of two that are as far off, but for rounding, the slacker one.
    let above = (most - mean) - (mean - least);
    let furthest = if above.si() > 1e-12 * mean.si() { most - mean } else { least - mean };
    let from_set = mean - set_mean;
    let verdict = if allowed(furthest, request.within, mean) && allowed(from_set, request.across, mean) {
        TensionVerdict::Matched
    } else if below(mean, SCRAP, request) || uneven(spread) {
        TensionVerdict::Replace
    } else {
        TensionVerdict::Retension
    };
    let target = request
        .target
        .map(|target| (target, target))
        .or_else(|| screen.mesh.as_ref().map(|mesh| target_range(mesh, request.frame)));
    let off_target = target.map(|(low, high)| {
        if mean < low {
            mean - low
        } else if mean > high {
            mean - high
        } else {
            Tension::from_si(0.0)
        }
    });
    let (target_low, target_high) = target.unzip();
    let name = screen.name.clone();
    ScreenTension { name, mean, spread, least, most, furthest, from_set, target_low, target_high, off_target, verdict }
}

/// Whether a mean is below a floor of the trade.
fn below(mean: Tension, floor: f64, request: &SetRequest) -> bool {
    chosen_low(request).is_none() && !reaches(mean, units::N_PER_CM.of(floor))
}

/// The field that sets the floors of the trade aside: a target below them, or a frame that holds no more.
fn chosen_low(request: &SetRequest) -> Option<&'static str> {
    let low = |tension: Tension| !reaches(tension, units::N_PER_CM.of(ACT));
    match (request.target, request.frame) {
        (Some(target), _) => low(target).then_some("/target"),
        (None, frame) => frame.is_some_and(|frame| low(frame.most())).then_some("/frame"),
    }
}

/// The screen whose removal shrinks the spread of the means most, and the spread left: it is the lowest or the highest.
/// Nothing below three screens, or where either would do.
fn odd_one(means: &[Tension]) -> Option<(usize, Tension)> {
    let mut order: Vec<(usize, Tension)> = means.iter().copied().enumerate().collect();
    sorted::by_number(&mut order, |(_, mean)| mean.si());
    let [(lowest, low), .., (highest, high)] = *order else { return None };
    let (_, second) = *order.get(1)?;
    let (_, last_but_one) = *order.iter().rev().nth(1)?;
    if order.len() < 3 {
        return None;
    }
    stands_out((lowest, high - second), (highest, last_but_one - low), high)
}

/// Of two candidates with the spread left without each, the one that leaves less; neither where they tie.
fn stands_out(low: (usize, Tension), high: (usize, Tension), scale: Tension) -> Option<(usize, Tension)> {
    let tie = Tension::from_si(1e-12 * scale.si());
    if low.1 + tie < high.1 {
        Some(low)
    } else if high.1 + tie < low.1 {
        Some(high)
    } else {
        None
    }
}

/// What single screens show. One note a kind, with their names: a set of any size stays readable.
fn about_screens(request: &SetRequest, assessed: &ScreensAssessed, remarks: &mut Remarks) {
    let outside = |tension: Tension| !(USUAL.0..=USUAL.1).contains(&units::N_PER_CM.value(tension));
    let mut note = |level: Level, code: &'static str, message: &str, is: &dyn Fn(&ScreenTension) -> bool| {
        let found: Vec<usize> =
            assessed.per_screen.iter().enumerate().filter(|(_, screen)| is(screen)).map(|(index, _)| index).collect();
        if let Some(first) = found.first() {
            remarks.note(level, code, format_args!("/screens/{first}"), |_| {
                format!("{}: {message}", named(&request.screens, &found))
            });
        }
    };
    note(
        Level::Caution,
        "unusual_value",
        "a reading outside the usual 7 to 40 N/cm: check number and unit (25 N/cm is 2500 N/m and 14.3 lbf/in)",
        &|s| outside(s.least) || outside(s.most),
    );
    note(
        Level::Caution,
        "below_scrap",
        "the mean is below 18 N/cm, where shops take new mesh: slack mesh smears, sticks to the print and does not hold register",
        &|s| below(s.mean, SCRAP, request),
    );
    note(Level::Caution, "below_act", "the mean is below 20 N/cm, where shops stretch anew", &|s| {
        below(s.mean, ACT, request) && !below(s.mean, SCRAP, request)
    });
    note(
        Level::Caution,
        "spread_fails",
        "the readings spread over 5 N/cm and more: the mesh was stretched unevenly, slips in its frame or gives way; new mesh",
        &|s| uneven(s.spread),
    );
    note(
        Level::Caution,
        "uneven",
        "a reading is further from the screen's mean than allowed: parts of the image give way under the blade more than others",
        &|s| !allowed(s.furthest, request.within, s.mean),
    );
    note(
        Level::Caution,
        "out_of_set",
        "the mean is further from the set's than allowed: such a screen gives way under the blade by another amount than the others",
        &|s| !allowed(s.from_set, request.across, s.mean),
    );
    note(
        Level::Caution,
        "off_target",
        "the mean is further from its target than the screens of a set may be apart",
        &|s| s.off_target.is_some_and(|off| !allowed(off, request.across, s.mean)),
    );
    note(
        Level::Info,
        "moire_on_rollers",
        "above 27 N/cm roller frames may bring moire (common practice): test halftones",
        &|s| s.mean > units::N_PER_CM.of(MOIRE),
    );
    let few: Vec<usize> =
        request.screens.iter().enumerate().filter(|(_, s)| s.readings.len() < POINTS).map(|(index, _)| index).collect();
    if let Some(first) = few.first() {
        remarks.info("few_readings", format_args!("/screens/{first}/readings"), |_| {
            format!(
                "{}: fewer than nine points, three by three: an uneven screen may hide",
                named(&request.screens, &few)
            )
        });
    }
}

/// The names of the screens at these places, the first few of them.
fn named(screens: &[ScreenReadings], places: &[usize]) -> String {
    let names: Vec<_> =
        places.iter().take(NAMED).filter_map(|place| screens.get(*place)).map(|s| clip(&s.name)).collect();
    match places.len().saturating_sub(NAMED) {
        0 => names.join(", "),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

/// What the set as a whole shows, and what to do.
fn about_set(request: &SetRequest, assessed: &ScreensAssessed, odd: Option<usize>, remarks: &mut Remarks) {
    if let (Some(index), Some(name), Some(spread)) = (odd, &assessed.odd_one, assessed.set_spread_without) {
        remarks.info("odd_one", format_args!("/screens/{index}"), |say: Say| {
            format!(
                "{} stands out: without it the means spread over {} in place of {}",
                clip(name),
                say.say(spread, Show::Usual),
                say.say(assessed.set_spread, Show::Usual)
            )
        });
    }
    let lows = assessed.per_screen.iter().filter_map(|s| s.target_low);
    let least_high = assessed.per_screen.iter().filter_map(|s| s.target_high).reduce(|a, b| if b < a { b } else { a });
    if let (Some(low), Some(high)) = (lows.reduce(|a, b| if b > a { b } else { a }), least_high)
        && low - high > request.across
    {
        remarks.caution(
            "targets_differ",
            "/screens",
            "these meshes are usually stretched to tensions too far apart for one set: stretch all to what the finest bears, or expect the colours to differ",
        );
    }
    if let Some(field) = chosen_low(request) {
        remarks.caution(
            "low_target",
            field,
            "a target below 20 N/cm is taken as a choice; shops stretch anew below 20 N/cm and scrap below 18",
        );
    }
    if let Some(frame) = request.frame.filter(|frame| request.target.is_some_and(|target| target > frame.most())) {
        remarks.caution("target_above_frame", "/target", |say: Say| {
            format!("such a frame holds {} at most (common practice)", say.say(frame.most(), Show::Usual))
        });
    }
    if assessed.verdict != TensionVerdict::Matched {
        remarks.info(
            "tension_falls",
            "",
            "new mesh loses 10 to 15 % overnight and more at its first wash, coat and print (common practice): pull it higher by as much, let it rest, and measure again before coating",
        );
        remarks.caution(
            "frame_load",
            "",
            "a stretched frame holds thousands of newtons: stretch and slacken by its maker's sheet, with goggles, and keep hands and face out of the line of mesh, bolts and clamps",
        );
    }
    remarks.info(
        "measured_at_rest",
        "",
        "measure 10 cm and more from the frame, on rested mesh at room temperature, with the meter zeroed and always turned alike",
    );
}
