//! How long under the flash.

use super::print::{FILM, Look, Print, Profile, TOLERANCE, Trace};
use super::{Flash, Platen};
use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::heat::{Face, Problem, Refusal, Slab, Solver, Span, Stage, rises};
use crate::ink::{Gel, Ink};
use crate::quantity::{Dimensioned, Length, Rules, START, Show, Temperature, Time, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};
use std::ops::ControlFlow;

/// No platen has more.
const MOST_LAYERS: usize = 20;
/// No one flashes longer, s.
pub(super) const HORIZON: f64 = 60.0;
/// The shortest time that matters under a flash, s: half a second apart the profile still shows its bend.
pub(super) const SHORTEST: f64 = 0.5;
/// How far one step may be off under a flash, K, and how far in a single cell that binds water. What is looked for lies at the faces,
/// some cells away: over the stock, dwells then come out within 0.01 s of those of a tight run.
pub(super) const STEP: (f64, f64) = (0.1, 0.4);
/// What is recommended, over the least that gels.
const MARGIN: f64 = 1.1;

words! {
    /// What becomes of the print.
    pub enum FlashVerdict ("verdict") {
        /// It gels before anything gets too hot.
        Works = "works",
        /// Something gets too hot before it gels.
        Overheats = "overheats",
        /// It never gels.
        NeverGels = "never_gels",
    }
}

request! {
    /// A print on a platen under a flash.
    pub struct FlashDwellRequest {
        /// The flash over the print.
        flash "Flash": Flash,
        /// The ink of the print.
        ink "Ink": Ink where Rules::NONE.group("The print"),
        /// Wet thickness of the ink stack.
        film "Wet ink stack": Length where FILM.group("The print"),
        /// The cloth under the ink.
        cloth "Cloth": Cloth where Rules::NONE.group("The print"),
        /// The platen under the cloth.
        platen "Platen": Platen,
        /// Temperature of print and shirt before the flash.
        start "Shirt before flash": Temperature where START.group("Before the flash"),
        /// Temperature of the platen before the flash.
        platen_start "Platen before flash": Temperature where START.group("Before the flash"),
    }
}

answer! {
    /// How long under the flash.
    pub struct FlashDwell {
        /// The film's bottom gels, or the film dries, after this.
        least "Shortest dwell": Option<Time>,
        /// The film's top or the cloth gets too hot after this.
        most "Longest dwell": Option<Time>,
        /// The dwell to set first.
        recommended "Dwell to set": Option<Time>,
        /// What becomes of the print.
        verdict "Verdict": FlashVerdict,
        /// Why there is no least, no most, or nothing between them.
        why "Reason": Option<String>,
        /// Temperatures up to the recommended dwell, else up to the least, the most or a minute.
        profile "Temperature profile": Profile,
    }
}

calculation! {
    pub const DWELL_TIME: FlashDwellRequest => FlashDwell = dwell;
    id: "flash.dwell",
    title: "Flash dwell",
    question: "How long under the flash?",
    asked: ["How many seconds do I flash?", "Why does my white not gel?"],
    headline: ["recommended", "verdict"],
    formula: "heat.layers of film, cloth and platen; least: the film's bottom reaches gel (dry: its water is below 1 % of the start); most: its top reaches flash_never_above or the cloth its limit; recommended 1.1 least, under a flash that is not fitted no shorter than customary_least, never above most",
    sources: &[
        Source::physics("conduction through the layers, as heat.layers"),
        Source::memory("stock flashes: panel temperature, exchange and flux, until you measure yours"),
    ],
    example: r#"{"flash": "panel-flash", "ink": "plastisol-white", "cloth": "cotton-jersey-180-dark", "platen": "rubber-topped"}"#,
}

/// What a print under a flash is made of, in SI, ready for the solver.
pub(super) struct Set<'a> {
    pub print: Print,
    pub slabs: Vec<Slab>,
    pub ink: &'a Ink,
    pub cloth: &'a Cloth,
    pub flashing: Face,
    pub underside: Face,
    /// The shortest dwell to recommend, s.
    floor: f64,
    /// What the solver may be off, over what it usually may be.
    pub accuracy: f64,
}

impl<'a> Set<'a> {
    pub fn new(flash: &Flash, ink: &'a Ink, film: Length, cloth: &'a Cloth, platen: &Platen) -> Result<Self, Error> {
        if platen.layers.is_empty() || platen.layers.len() > MOST_LAYERS {
            return Err(Error::new(Code::OutOfRange, "/platen/layers", "a platen has some layers, and not many")
                .allowed([format!("1 to {MOST_LAYERS} layers")]));
        }
        let print = Print::new(ink, film, cloth);
        let mut slabs = print.slabs.to_vec();
        slabs.extend(platen.layers.iter().map(Slab::from));
        let underside =
            Face { air: platen.underside.air.si(), transfer: platen.underside.transfer.si(), ..Face::default() };
        let floor = flash.customary_least.filter(|_| !flash.is_fitted()).map_or(0.0, Dimensioned::si);
        Ok(Self { print, slabs, ink, cloth, flashing: flash.face()?, underside, floor, accuracy: 1.0 })
    }

    /// The same to another accuracy.
    pub fn with_accuracy(self, accuracy: f64) -> Self {
        Self { accuracy, ..self }
    }

    /// Neither end found yet.
    pub fn ends(&self) -> Ends {
        Ends { floor: self.floor, ..Ends::default() }
    }

    /// When the film is firm, if it becomes so within this step.
    pub fn firm(&self, span: &Span<'_>, look: &Look) -> Option<f64> {
        match self.ink.gel {
            Gel::At(gel) => rises(span.begin, span.end, &|time| look.bottom_of_ink(time) - gel.si()),
            Gel::Dry => self.print.dries(span),
        }
    }

    /// When the first limit is met, if it is within this step: of the film, then of the cloth.
    pub fn too_hot(&self, look: &Look) -> Option<(f64, Limit)> {
        let (begin, end) = (look.begin, look.end);
        let film = rises(begin, end, &|time| look.hottest_ink(time) - self.ink.flash_never_above.si());
        let cloth = rises(begin, end, &|time| look.hottest_cloth(time) - self.cloth.never_above.si());
        match (film, cloth) {
            (Some(film), Some(cloth)) if cloth < film => Some((cloth, Limit::Cloth)),
            (Some(film), _) => Some((film, Limit::Film)),
            (None, cloth) => cloth.map(|time| (time, Limit::Cloth)),
        }
    }

    /// The print on its platen, both from these temperatures, K.
    pub fn problem<'p>(
        &'p self,
        start: (f64, f64),
        stages: &'p [Stage],
        tolerance: f64,
        (step, cell): (f64, f64),
    ) -> Problem<'p> {
        Problem {
            slabs: &self.slabs,
            below: self.slabs.len().saturating_sub(self.print.slabs.len()),
            film_water: self.print.film_water,
            start,
            stages,
            shortest: SHORTEST,
            tolerance: tolerance * self.accuracy,
            step: step * self.accuracy,
            cell: cell * self.accuracy,
            refinement: 1,
        }
    }
}

/// What gets too hot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Limit {
    Film,
    Cloth,
}

/// Least and most dwell, in seconds from the moment the flash comes on.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Ends {
    pub least: Option<f64>,
    pub most: Option<(f64, Limit)>,
    /// The shortest dwell to recommend.
    pub floor: f64,
}

impl Ends {
    /// What to set: a tenth more than the least, no shorter than custom has it, never above the most.
    pub fn recommended(&self) -> Option<f64> {
        let most = self.most.map_or(f64::INFINITY, |(most, _)| most);
        self.least.filter(|least| *least <= most).map(|least| (MARGIN * least).max(self.floor).min(most))
    }

    /// Whether custom asks for more than gels.
    pub fn is_customary(&self) -> bool {
        self.least.is_some_and(|least| MARGIN * least < self.floor)
    }

    /// Looks for both ends in a step; the march may end once both are found.
    pub fn look(&mut self, set: &Set<'_>, span: &Span<'_>, look: &Look) -> ControlFlow<()> {
        self.least = self.least.or_else(|| set.firm(span, look));
        self.most = self.most.or_else(|| set.too_hot(look));
        if self.least.is_some() && self.most.is_some() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

impl Flash {
    pub(super) fn is_fitted(&self) -> bool {
        self.fitted == Some(true)
    }

    /// Warns of a flash that nobody measured, and says where the shortest dwell comes from that custom has it give.
    pub(super) fn unfitted(&self, remarks: &mut Remarks) {
        if !self.is_fitted() {
            self.cite(&["customary_least"], remarks);
            remarks.caution(
                "flash_not_fitted",
                "/flash",
                "this flash was never measured: fit it to readings (flash.fit), till then keep its usual dwell",
            );
        }
    }

    /// What the print meets under it.
    pub(super) fn face(&self) -> Result<Face, Error> {
        let request = crate::heat::FaceRequest::new()
            .air(self.air)
            .transfer(self.transfer)
            .panel(self.panel)
            .exchange_fraction(self.exchange_fraction)
            .flux(self.flux);
        request.face("/flash")
    }
}

/// Least, most and recommended dwell of a flash, and the temperatures on the way.
///
/// # Errors
/// `missing_field` for a flash with half a pair (air and transfer, panel and exchange_fraction); what the solver refuses.
pub(crate) fn dwell(request: &FlashDwellRequest, remarks: &mut Remarks) -> Result<FlashDwell, Error> {
    let set = Set::new(&request.flash, &request.ink, request.film, &request.cloth, &request.platen)?;
    let set = set.with_accuracy(remarks.work().accuracy());
    cite(&request.flash, &request.ink, &request.cloth, &request.platen, remarks);
    let stages = [Stage { duration: HORIZON, top: set.flashing, bottom: set.underside }];
    let problem = set.problem((request.start.si(), request.platen_start.si()), &stages, TOLERANCE, STEP);
    let marched = remarks.remembered(DWELL_TIME.id(), request, |work| {
        let (mut ends, mut trace) = (set.ends(), Trace::default());
        let watch = |span: Span<'_>| {
            let look = Look::at(&span);
            trace.record(&span, &look);
            ends.look(&set, &span, &look)
        };
        let marched = Solver::new().march(&problem, work, watch);
        work.spend(trace.work());
        marched.map_err(|refusal| refused(refusal, "/platen/layers"))?;
        let until = ends.recommended().or(ends.least).or(ends.most.map(|(most, _)| most)).unwrap_or(HORIZON);
        Ok((ends, trace.profile(until.min(HORIZON))))
    })?;
    let (ends, profile) = &*marched;
    let recommended = ends.recommended();
    let (verdict, why) = judge(ends, &set, remarks);
    cautions(remarks);
    request.flash.unfitted(remarks);
    Ok(FlashDwell {
        least: ends.least.map(Time::from_si),
        most: ends.most.map(|(most, _)| Time::from_si(most)),
        recommended: recommended.map(Time::from_si),
        verdict,
        why,
        profile: profile.clone(),
    })
}

/// A refusal of the solver; `long` is the field that makes it so much work.
pub(super) fn refused(refusal: Refusal, long: &str) -> Error {
    let instead = "fewer layers, or less extreme ones, in film, cloth and platen, and fewer turns";
    refusal.error((long, instead), "/platen/layers", "/flash")
}

/// What the two ends amount to, in a word and in a sentence.
pub(super) fn judge(ends: &Ends, set: &Set<'_>, remarks: &Remarks) -> (FlashVerdict, Option<String>) {
    let limit = |limit: Limit| match limit {
        Limit::Film => format!("the film's top reaches {}", remarks.say(set.ink.flash_never_above, Show::Usual)),
        Limit::Cloth => format!("the cloth reaches {}", remarks.say(set.cloth.never_above, Show::Usual)),
    };
    let firm = match set.ink.gel {
        Gel::At(gel) => format!("the film's bottom reaches {}", remarks.say(gel, Show::Usual)),
        Gel::Dry => "the film is dry".to_owned(),
    };
    let minute = remarks.say(units::S.of(HORIZON), Show::Usual);
    match (ends.least, ends.most) {
        (Some(least), Some((most, what))) if least > most => (
            FlashVerdict::Overheats,
            Some(format!("{} before {firm}: more distance, a thinner film, or a warmer platen", limit(what))),
        ),
        (Some(_), Some(_)) => (FlashVerdict::Works, None),
        (Some(_), None) => {
            (FlashVerdict::Works, Some(format!("nothing gets too hot within {minute}: there is no most")))
        }
        (None, Some((_, what))) => {
            (FlashVerdict::Overheats, Some(format!("{}, and {firm} nowhere within {minute}", limit(what))))
        }
        (None, None) => (
            FlashVerdict::NeverGels,
            Some(format!(
                "not even in {minute} can it be said that {firm}: the platen takes the heat away; warm the platens, or a stronger or nearer flash"
            )),
        ),
    }
}

/// Says where the numbers came from.
pub(crate) fn cite(flash: &Flash, ink: &Ink, cloth: &Cloth, platen: &Platen, remarks: &mut Remarks) {
    flash.cite(&["panel", "exchange_fraction", "flux", "air", "transfer"], remarks);
    ink.cite(&["density", "water_fraction", "gel", "flash_never_above"], remarks);
    cloth.cite(
        &["mass_per_area", "thickness", "conductivity", "specific_heat", "regain_fraction", "never_above"],
        remarks,
    );
    platen.cite(&["layers", "underside"], remarks);
    Print::cite(remarks);
}

/// What a flash can do to hands, lungs and shirts.
pub(crate) fn cautions(remarks: &mut Remarks) {
    remarks.caution(
        "burns",
        "",
        "panels and platens burn: bare metal at 65-70 degC does in a second, at 55 degC in ten (ISO 13732-1, from memory); overheated ink fumes: exhaust, electrical load and guards as the makers' sheets and local code say",
    );
}
