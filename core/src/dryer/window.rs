//! Between which belt speeds a print is cured and not scorched.

use super::Dryer;
use super::opening::{self, Aim};
use super::pass::{BeltPass, Margins};
use super::search::{Found, SpeedSearch, Stretch};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::flash::print::{FILM, Look, Print, Profile, Trace};
use crate::ink::Ink;
use crate::quantity::{Dimensioned, Length, START, Show, Temperature, Time, Velocity};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};
use crate::work::Work;

/// What is recommended over the shortest dwell, where the window is wide enough.
const MARGIN: f64 = 1.25;
/// No recommendation comes nearer to an end than this share of the window, both as logarithms of the belt speed.
const INSIDE: f64 = 0.1;

words! {
    /// What ends a window.
    pub enum Rule ("rule") {
        /// The ink just cures at the exit.
        Cure = "cure",
        /// The ink meets its never_above.
        Ink = "ink_never_above",
        /// The cloth meets its never_above.
        Cloth = "cloth_never_above",
        /// The cloth has had the heat that scorches it.
        Scorch = "cloth_scorch",
        /// The belt goes no slower or faster.
        Belt = "belt",
    }
}

request! {
    /// A print and a dryer.
    pub struct WindowRequest {
        /// The dryer that cures the print.
        dryer "Dryer": Dryer,
        /// The ink to cure.
        ink "Ink": Ink,
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM,
        /// The cloth under the ink.
        cloth "Cloth": Cloth,
        /// Temperature of the shirt at the entry.
        start "Shirt at entry": Temperature where START,
    }
}

answer! {
    /// What ends the window on each side.
    pub struct Limits {
        /// What ends the window at the fastest belt.
        fastest "Fast end set by": Rule,
        /// What ends the window at the slowest belt.
        slowest "Slow end set by": Rule,
    }
}

answer! {
    /// A range of belt speeds.
    pub struct Range {
        /// Slowest belt of the range.
        slowest "Slow end": Velocity,
        /// Fastest belt of the range.
        fastest "Fast end": Velocity,
    }
}

answer! {
    /// The window of the belt.
    pub struct Window {
        /// Fastest belt that cures.
        fastest "Fastest that cures": Velocity,
        /// Slowest belt that does not scorch.
        slowest "Slowest without scorching": Velocity,
        /// Belt speed to start with.
        recommended "Starting belt speed": Velocity,
        /// Time under heat at the recommended speed.
        dwell "Dwell time": Time,
        /// What ends the window on each side.
        limits "Window limits": Limits,
        /// Every range of speeds that is allowed, where there are several; the widest is the window.
        ranges "Allowed belt ranges": Vec<Range>,
        /// Temperatures at the recommended speed.
        profile "Temperature profile": Profile,
        /// How long the hottest cloth is warm enough for its dye to move, at the recommended speed; with an activation energy, what all
        /// its heat is worth at that temperature. For a cloth that says from where its dye moves.
        dye_time "Dye moving time": Option<Time>,
        /// Share of the heat that scorches the cloth, at the recommended speed, for a cloth that says what does.
        scorch_fraction "Share of scorching": Option<f64>,
        /// Pieces an hour at the recommended speed, in as many lanes as the belt has room for.
        pieces_per_hour "Pieces per hour": f64,
        /// Trips through the dryer that were worked out.
        evaluations "Solver runs": u32 as Effort,
    }
}

calculation! {
    pub const WINDOW: WindowRequest => Window = window;
    id: "dryer.window",
    title: "Window of the belt",
    question: "Between which belt speeds is it cured and not scorched?",
    asked: ["How fast may the belt run?", "Does this ink cure in my dryer without scorching the shirt?"],
    headline: ["recommended", "fastest", "slowest"],
    formula: "heat.layers of film and cloth through the zones, each length / speed long; fastest: the bottom of the film just cures at the exit; slowest: the hottest point of ink or cloth meets its never_above, or the integral of exp(-(Ea/R)(1/T - 1/T_scorch)) over the hottest cloth its hold; recommended: 1.25 x the shortest dwell, in a dryer that is not fitted no shorter than the customary one, but never longer than the geometric mean of the window's dwells; for a cloth whose dye moves no longer than the middle of the fast half, whatever is customary; always at least a tenth of the window, as logarithms, from its ends",
    sources: &[
        Source::physics("conduction through the layers, as heat.layers"),
        Source::memory("stock dryers: air, transfer and panels, until a probe fits them (dryer.fit)"),
    ],
    example: r#"{"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}"#,
}

/// The belt speeds that cure and do not scorch.
///
/// # Errors
/// `no_solution` where no speed does, with the rules that conflict and the setting that would open a window; what the solver refuses.
pub(crate) fn window(request: &WindowRequest, remarks: &mut Remarks) -> Result<Window, Error> {
    let (dryer, ink, cloth) = (&request.dryer, &request.ink, &request.cloth);
    dryer.cite_all(remarks);
    ink.cite(&["density", "water_fraction", "cure", "never_above", "customary_dwell"], remarks);
    cloth.cite(
        &[
            "mass_per_area",
            "thickness",
            "conductivity",
            "specific_heat",
            "regain_fraction",
            "never_above",
            "scorch",
            "dye",
            "caution_above",
        ],
        remarks,
    );
    Print::cite(remarks);
    let pass = BeltPass::new(dryer, ink, request.film, cloth, request.start).with_accuracy(remarks.work().accuracy());
    let marched = remarks.remembered(WINDOW.id(), request, |work| marched(dryer, &pass, work))?;
    let (stretches, seen) = &marched.found;
    let (Some(main), Some(window)) = (widest(stretches), &marched.window) else {
        let aim = Aim { ink, film: request.film, cloth, start: request.start };
        let system = remarks.system();
        let opens = opening::opening(dryer, &[aim], system, remarks.work());
        return Err(conflict(seen, &pass, opens, remarks));
    };
    if dryer.fitted != Some(true) {
        remarks.caution(
            "dryer_not_fitted",
            "/dryer",
            "this dryer was never measured: probe it, fit it (dryer.fit), till then keep its usual dwell",
        );
    }
    about(&main, stretches, window.dye_time, &pass, remarks);
    Ok(window.clone())
}

/// What trips through the dryer tell.
struct Marched {
    found: Found,
    /// Where any speed is allowed.
    window: Option<Window>,
}

fn marched(dryer: &Dryer, pass: &BeltPass<'_>, work: &mut Work) -> Result<Marched, Error> {
    let cloth = pass.cloth;
    let mut search = SpeedSearch::new(pass, work);
    let mut trace = Trace::default();
    let found = search.all(dryer.belt(), &mut trace)?;
    let Some(main) = widest(&found.0) else { return Ok(Marched { found, window: None }) };
    let recommended = recommend(&main, dryer, pass);
    if pass.zones.len() > 1 {
        search.whole_trip(recommended, &mut trace)?;
    }
    let dwell = pass.length() / recommended;
    let sum = |of: &dyn Fn(&Look, f64, f64) -> f64| {
        trace.until(dwell).map(|(look, end)| of(look, look.begin, end)).sum::<f64>()
    };
    let dye_time = cloth.dye_moves_above().map(|_| Time::from_si(sum(&|look, begin, end| pass.dyed(look, begin, end))));
    let scorch = cloth
        .scorch
        .as_ref()
        .map(|scorch| sum(&|look, begin, end| pass.scorched(look, begin, end)) / scorch.hold.si().max(1e-9));
    let speed = |log: f64| Velocity::from_si(libm::exp(log));
    let recommended = Velocity::from_si(recommended);
    let window = Window {
        fastest: speed(main.fast.0),
        slowest: speed(main.slow.0),
        recommended,
        dwell: Time::from_si(dwell),
        limits: Limits { fastest: main.fast.1, slowest: main.slow.1 },
        ranges: found.0.iter().map(|s| Range { slowest: speed(s.slow.0), fastest: speed(s.fast.0) }).collect(),
        profile: trace.profile(dwell),
        dye_time,
        scorch_fraction: scorch,
        pieces_per_hour: dryer.pieces_per_hour(recommended),
        evaluations: search.looks,
    };
    Ok(Marched { found, window: Some(window) })
}

/// The widest of several stretches, as logarithms.
pub(super) fn widest(stretches: &[Stretch]) -> Option<Stretch> {
    let width = |stretch: &Stretch| stretch.fast.0 - stretch.slow.0;
    stretches.iter().copied().max_by(|a, b| width(a).total_cmp(&width(b)))
}

/// A speed no nearer to the ends of a window than it may be recommended, all as logarithms.
pub(crate) fn inside(speed: f64, slow: f64, fast: f64) -> f64 {
    let off = INSIDE * (fast - slow);
    speed.max(slow + off).min(fast - off)
}

/// The belt speed to start with, m/s.
fn recommend(main: &Stretch, dryer: &Dryer, pass: &BeltPass<'_>) -> f64 {
    let (slow, fast) = (main.slow.0, main.fast.0);
    let middle = 0.5 * (slow + fast);
    // A quarter longer than the shortest dwell is enough, where the window is so wide.
    let ample = inside((fast - libm::log(MARGIN)).max(middle), slow, fast);
    libm::exp(if pass.cloth.dye.is_some() {
        // Every second too long moves dye.
        ample.max(0.5 * (middle + fast))
    } else if dryer.fitted == Some(true) {
        ample
    } else {
        ample.min(libm::log(pass.length() / pass.ink.customary_dwell.si()).max(middle))
    })
}

/// No speed is allowed: which rules stand against each other, and what would open a window.
fn conflict(seen: &[Margins], pass: &BeltPass<'_>, opens: Option<opening::Setting>, remarks: &Remarks) -> Error {
    let cures = seen.iter().any(|margins| margins.cure >= 0.0);
    let cure = remarks.say(pass.ink.cure.temperature, Show::Usual);
    let spoils = |rule: Rule| seen.iter().any(|margins| margins.cure >= 0.0 && margins.of(rule) < 0.0);
    let (rule, hot) = if spoils(Rule::Cloth) {
        (Rule::Cloth, format!("the cloth is above {}", remarks.say(pass.cloth.never_above, Show::Usual)))
    } else if spoils(Rule::Scorch) {
        (Rule::Scorch, "the cloth has had the heat that scorches it".to_owned())
    } else {
        (Rule::Ink, format!("the ink is above {}", remarks.say(pass.ink.never_above, Show::Usual)))
    };
    let too_hot = rule.text();
    let open = |otherwise: &str| opens.map_or_else(|| otherwise.to_owned(), |setting| setting.words(remarks));
    // Speeds are looked at from the slowest to the fastest.
    let message = if seen.last().is_some_and(|margins| margins.cure >= 0.0) {
        format!(
            "even on the fastest belt, which cures the ink at {cure}, {hot} (belt against {too_hot}): {}",
            open("a cooler or shorter tunnel, or another cloth would open a window")
        )
    } else if cures {
        format!(
            "at every speed that cures the ink at {cure} {hot} (cure against {too_hot}): {}",
            open("an ink that cures lower, gentler heat for longer, or another cloth would open a window")
        )
    } else {
        format!(
            "even on the slowest belt the ink does not cure at {cure} (cure against belt): {}",
            open("an ink that cures lower, a longer or hotter tunnel, or a second pass would open a window")
        )
    };
    Error::new(Code::NoSolution, "/dryer", message)
}

fn about(main: &Stretch, stretches: &[Stretch], dye_time: Option<Time>, pass: &BeltPass<'_>, remarks: &mut Remarks) {
    if stretches.len() > 1 {
        remarks.caution("several_windows", "/dryer", "more than one range of speeds is allowed, with forbidden speeds between them: the widest is given, see ranges");
    }
    if main.fast.0 - main.slow.0 < libm::log(1.2) {
        remarks.caution("narrow_window", "/dryer", "less than a fifth between too fast and too slow: watch belt and temperature, or take an ink that cures lower");
    }
    if let Some((from, time)) = pass.cloth.dye_moves_above().zip(dye_time.filter(|time| time.si() > 0.0)) {
        remarks.caution(
            "dye_migration",
            "/cloth",
            |say: Say| format!("the cloth is above {} for {}, from where its dye moves into the print, at once or within two weeks: the fast half of the window is the better one, an ink that cures lower better still, and a blocker under it", say.say(from, Show::Usual), say.say(time, Show::Usual)),
        );
    }
    remarks.caution(
        "hot_belt",
        "",
        "hot air, panels and belts burn; overheated ink and discharge agents fume: exhaust to the open air, electrical load and guards as the makers' sheets and local code say, and by licensed hands",
    );
}
