//! Which mesh for a print: film, lightness, finest line, ruling, particles and moire together. A question of the mesh that only the ink, a
//! later step, can answer.

use super::opacity::{self, Covering};
use super::{Film, Ink, STROKES};
use crate::cloth::{Cloth, LIGHTNESS};
use crate::error::{Code, Error};
use crate::mesh::{
    Hold, LINES, Mesh, MoireRequest, RULING, clear_angle, designated, finest_line, hold, in_stock, ruling_high,
};
use crate::quantity::{Count, Dimensioned, Length, Rules, to_places, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{Choice, Remarks, answer, calculation, request, words};

const DRY_FILM: Rules = Rules::range(units::UM, 0.1, 5_000.0).usual(2.0, 300.0).group("What is wanted");
const LINE: Rules = Rules::range(units::MM, 0.01, 1_000.0).usual(0.1, 20.0).group("What is wanted");
const MOST_HITS: Rules = Rules::range(units::ONE, 1.0, 20.0)
    .usual(1.0, 3.0)
    .or(2.0, Source::common("print, flash, print: more than two hits cost more than a coarser mesh"));
/// Work of judging a mesh, in rows; and where a halftone is to have an angle on it.
const JUDGED: f64 = 300.0;
const SCREENED: f64 = 6_000.0;
/// What a list of meshes holds at the most.
const MOST_MESHES: usize = 200;

/// A film within these shares of the one wanted is as good: the release of an ink that was not weighed is known to a third or so.
const NEAR: (f64, f64) = (0.85, 1.5);
const NEAR_ENOUGH: Source = Source::memory(
    "a film from 0.85 to 1.5 of the one wanted will do: releases that were not weighed are no better known",
);
/// Openings that the largest particle must go through, as its multiples.
const OPENING_TO_PARTICLE: f64 = 3.0;
const PARTICLES: Source =
    Source::common("the largest particle at most a third of the opening: makers of pastes; garments go to 1 in 2.5");

words! {
    /// What is to be said of a mesh.
    pub enum MeshReason ("reason") {
        /// Even all hits lay down less than is wanted.
        FilmTooThin = "film_too_thin",
        /// One hit lays down more than is wanted.
        FilmTooThick = "film_too_thick",
        /// Even all hits leave it darker than is wanted.
        ShowsThrough = "shows_through",
        /// The finest line finds no hold.
        LineLost = "line_lost",
        /// The finest line prints with breaks: it does not hold.
        LineBreaks = "line_breaks",
        /// Fewer than 3.5 threads to a line of the halftone.
        RulingTooFine = "ruling_too_fine",
        /// The largest particle of the ink is more than a third of the opening.
        ParticlesClog = "particles_clog",
        /// It takes more than one hit, with a flash between; it still holds.
        MoreThanOneHit = "more_than_one_hit",
        /// At every angle the halftone may show bands; it still holds.
        BandsAtEveryAngle = "bands_at_every_angle",
    }
}

impl MeshReason {
    /// Whether a mesh of which it is said holds all the same.
    const fn bears(self) -> bool {
        matches!(self, Self::MoreThanOneHit | Self::BandsAtEveryAngle)
    }
}

request! {
    /// What a print wants of its mesh.
    pub struct ChooseRequest {
        /// The meshes to choose from, a shop's own.
        meshes "Meshes": Option<Vec<Mesh>> where Rules::NONE.unless_given("all in stock"),
        /// The ink.
        ink "Ink": Ink,
        /// Print strokes of one hit.
        strokes "Print strokes": Option<u32> where STROKES.group("The strokes").unless_given("the ink's own"),
        /// The most prints of the same screen with a flash between them.
        most_hits "Most hits": u32 where MOST_HITS.group("The strokes"),
        /// The dry film wanted; or give the lightness.
        dry_film "Dry film wanted": Option<Length> as Film where DRY_FILM,
        /// The lightness L* wanted on the cloth; or give the film.
        lightness "Lightness wanted": Option<f64> where LIGHTNESS.group("What is wanted"),
        /// The cloth on which the lightness is wanted.
        cloth "Cloth": Option<Cloth> where Rules::NONE.group("What is wanted"),
        /// The finest line of the art.
        finest_line "Finest line in art": Option<Length> where LINE,
        /// Lines per length of the halftone.
        ruling "Halftone ruling": Option<Count> where RULING.group("What is wanted"),
    }
    chooses(Choice::Most(&["dry_film", "lightness"]), Choice::All(&["lightness", "cloth"]))
}

answer! {
    /// A mesh, and how it does.
    pub struct MeshOffer {
        /// Threads per centimetre and diameter of the thread in micrometres, as the trade names it.
        mesh "Mesh": String,
        /// Whether it does all that is wanted.
        holds "Does it": bool,
        /// Prints of the screen, with a flash between them.
        hits "Hits": u32,
        /// Film of all hits as printed, on a wide solid.
        wet_film "Wet film": Length as Film,
        /// The same when dry.
        dry_film "Dry film": Length as Film,
        /// Lightness L* of the print on the cloth, where the ink's optics are known.
        lightness "Lightness": Option<f64>,
        /// Finest line that this mesh prints.
        finest_line "Finest line held": Length as Film,
        /// Finest ruling for this mesh.
        ruling_high "Finest ruling": Count,
        /// What speaks against it, or has to be known.
        why "Why": Vec<MeshReason>,
    }
}

answer! {
    /// The meshes, the best first.
    pub struct Chosen {
        /// Those that do it first, then those of fewest hits, those without bands, those of the nearest film, the finest.
        meshes "Meshes": Vec<MeshOffer>,
    }
}

calculation! {
    pub const CHOOSE_MESH: ChooseRequest => Chosen = choose;
    id: "mesh.choose",
    title: "Choice of a mesh",
    question: "Which mesh for this print?",
    asked: ["Which mesh for white on dark shirts?", "Which mesh for fine lines or a halftone?"],
    headline: ["meshes"],
    formula: "hits: the least number whose dry film is 0.85 of the one wanted, or whose lightness is the one wanted (ink.opacity); it holds where the film is at most 1.5 of the one wanted, the finest line at least max(2 d + w, 0.3 mm), the ruling at most count / 3.5 and the largest particle at most a third of the opening; ranked by hits, by clear angles (mesh.moire), by |ln(film / wanted)|, by count",
    sources: &[NEAR_ENOUGH, PARTICLES, LINES],
    example: r#"{"ink": "plastisol-white", "lightness": 88, "cloth": "cotton-jersey-180-dark", "finest_line": "0.4 mm"}"#,
}

/// What is wanted, in the order in which an error names it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wish {
    Film,
    Lightness,
    Line,
    Ruling,
    Particle,
}

impl Wish {
    const ALL: [Self; 5] = [Self::Film, Self::Lightness, Self::Line, Self::Ruling, Self::Particle];

    const fn field(self) -> &'static str {
        match self {
            Self::Film => "/dry_film",
            Self::Lightness => "/lightness",
            Self::Line => "/finest_line",
            Self::Ruling => "/ruling",
            Self::Particle => "/ink/largest_particle",
        }
    }

    const fn of(reason: MeshReason) -> Option<Self> {
        Some(match reason {
            MeshReason::FilmTooThin | MeshReason::FilmTooThick => Self::Film,
            MeshReason::ShowsThrough => Self::Lightness,
            MeshReason::LineLost | MeshReason::LineBreaks => Self::Line,
            MeshReason::RulingTooFine => Self::Ruling,
            MeshReason::ParticlesClog => Self::Particle,
            MeshReason::MoreThanOneHit | MeshReason::BandsAtEveryAngle => return None,
        })
    }
}

/// The meshes of a list, or of the stock, with what each does of what is wanted; the best first.
///
/// # Errors
/// `no_solution` where none does it all, with the wishes that exclude each other; `impossible` for a lightness with an ink whose optics are
/// not known.
pub(crate) fn choose(request: &ChooseRequest, remarks: &mut Remarks) -> Result<Chosen, Error> {
    let own = request.meshes.as_deref();
    if own.is_some_and(|meshes| meshes.is_empty() || meshes.len() > MOST_MESHES) {
        return Err(Error::new(Code::OutOfRange, "/meshes", "a list of meshes to choose from holds 1 to 200")
            .allowed([format!("1 to {MOST_MESHES} meshes")]));
    }
    let ink = &request.ink;
    ink.cite(&["release_fraction", "solids_by_volume_fraction"], remarks);
    ink.check_solids("/ink", remarks);
    let strokes = request.strokes.unwrap_or_else(|| {
        ink.cite(&["print_strokes"], remarks);
        ink.print_strokes
    });
    match (request.lightness, &request.cloth) {
        (Some(_), None) => {
            return Err(Error::new(Code::MissingField, "/cloth", "on which cloth is this lightness wanted?"));
        }
        (None, Some(_)) => {
            return Err(Error::new(Code::MissingField, "/lightness", "which lightness is wanted on this cloth?"));
        }
        _ => {}
    }
    if request.lightness.is_some() {
        opacity::optics(ink, "/ink", remarks)?;
    }
    if let Some(cloth) = &request.cloth {
        opacity::cite_lightness(cloth, "cloth", remarks);
    }
    if request.dry_film.is_some() {
        remarks.basis("dry_film", NEAR_ENOUGH);
    }
    if request.finest_line.is_some() {
        remarks.basis("finest_line", LINES);
    }
    if ink.largest_particle.is_some() {
        remarks.basis("largest_particle", PARTICLES);
    }
    let stock: Vec<Mesh>;
    let meshes = match own {
        Some(meshes) => meshes,
        None => {
            stock = in_stock().collect();
            &stock
        }
    };
    let each = if request.ruling.is_some() { SCREENED } else { JUDGED };
    remarks.work().spend(each * meshes.len() as f64);
    let print = Print::of(request, strokes);
    // Doubts move films and lightness, but neither the order nor what is said: those would move in steps.
    let judge = |_: &mut Remarks| {
        ranked(&print, meshes, meshes.iter().zip(0..).map(|(mesh, place)| print.judge(mesh, place)).collect())
    };
    let judged = remarks.held(0, judge)?;
    remarks.info(
        "try_it",
        "",
        "ranked by reckoning: ink, tension and blade decide too; print the first two on scrap before the order",
    );
    let offered = |judged: Judged| meshes.get(judged.place).map(|mesh| print.offer(mesh, judged));
    Ok(Chosen { meshes: judged.into_iter().filter_map(offered).collect() })
}

/// What was found of a mesh.
#[derive(Debug, Clone)]
struct Judged {
    /// In the list of meshes.
    place: usize,
    hits: u32,
    why: Vec<MeshReason>,
}

impl Judged {
    fn holds(&self) -> bool {
        self.why.iter().all(|reason| reason.bears())
    }

    /// Whether it grants a wish.
    fn grants(&self, wish: Wish) -> bool {
        !self.why.iter().any(|reason| Wish::of(*reason) == Some(wish))
    }
}

/// Of the meshes in stock that hold line, ruling and particles the one that comes nearest to the film, or to the lightness, wanted.
///
/// # Errors
/// `no_solution` where none holds them.
pub(crate) fn nearest_mesh(request: &ChooseRequest) -> Result<Mesh, Error> {
    let meshes: Vec<Mesh> = in_stock().collect();
    let print = Print::of(request, request.strokes.unwrap_or(request.ink.print_strokes));
    let film = |reason: &MeshReason| matches!(Wish::of(*reason), Some(Wish::Film | Wish::Lightness));
    let mut judged: Vec<Judged> = meshes.iter().zip(0..).map(|(mesh, place)| print.judge(mesh, place)).collect();
    if !judged.iter().any(Judged::holds) {
        judged.iter_mut().for_each(|one| one.why.retain(|reason| !film(reason)));
    }
    let best = ranked(&print, &meshes, judged)?.into_iter().next();
    best.and_then(|one| meshes.into_iter().nth(one.place))
        .ok_or_else(|| Error::new(Code::Internal, "", "no mesh is in stock"))
}

/// All meshes, the best first.
fn ranked(print: &Print<'_>, meshes: &[Mesh], mut judged: Vec<Judged>) -> Result<Vec<Judged>, Error> {
    if !judged.iter().any(Judged::holds) {
        return Err(excluded(print, meshes, &judged));
    }
    let count = |one: &Judged| meshes.get(one.place).map_or(0.0, |mesh| mesh.count().si());
    let off = |one: &Judged| meshes.get(one.place).map_or(0.0, |mesh| print.off(mesh, one.hits));
    let yes = |is: bool| f64::from(u8::from(is));
    // By what counts least first, since what is alike keeps its order.
    sorted::by_number(&mut judged, |one| -count(one));
    sorted::by_number(&mut judged, off);
    sorted::by_number(&mut judged, |one| yes(one.why.contains(&MeshReason::BandsAtEveryAngle)));
    sorted::by_number(&mut judged, |one| f64::from(one.hits));
    sorted::by_number(&mut judged, |one| yes(!one.holds()));
    Ok(judged)
}

/// What is printed, on a wide solid.
struct Print<'a> {
    request: &'a ChooseRequest,
    strokes: u32,
    /// On the cloth, where one is given and the ink's optics are known.
    covering: Option<Covering>,
}

impl<'a> Print<'a> {
    fn of(request: &'a ChooseRequest, strokes: u32) -> Self {
        let covering = request.cloth.as_ref().and_then(|cloth| Covering::of(&request.ink, cloth));
        Self { request, strokes, covering }
    }

    fn film<'b>(&'b self, mesh: &'b Mesh, hits: u32) -> Film<'b> {
        Film::of_solid(mesh, &self.request.ink, Some(self.strokes), hits)
    }

    fn dry(&self, mesh: &Mesh, hits: u32) -> Length {
        self.film(mesh, hits).dry(0.0)
    }

    fn lightness(&self, mesh: &Mesh, hits: u32) -> Option<f64> {
        self.covering.map(|covering| covering.lightness(self.dry(mesh, hits)))
    }

    /// How far the film is from the one wanted, as a factor's logarithm, or how much lightness is lacking.
    fn off(&self, mesh: &Mesh, hits: u32) -> f64 {
        let film = self.request.dry_film.map(|wanted| libm::log((self.dry(mesh, hits) / wanted).into()).abs());
        let lacking = |wanted: f64| (wanted - self.lightness(mesh, hits).unwrap_or(0.0)).max(0.0);
        film.or_else(|| self.request.lightness.map(lacking)).unwrap_or(0.0)
    }

    fn light_enough(&self, mesh: &Mesh, hits: u32) -> bool {
        self.request.lightness.is_none_or(|wanted| self.lightness(mesh, hits).is_some_and(|found| found >= wanted))
    }

    fn judge(&self, mesh: &Mesh, place: usize) -> Judged {
        let request = self.request;
        let thick_enough = |hits| request.dry_film.is_none_or(|wanted| self.dry(mesh, hits) >= NEAR.0 * wanted);
        let enough = |hits: &u32| thick_enough(*hits) && self.light_enough(mesh, *hits);
        let hits = (1..=request.most_hits).find(enough).unwrap_or(request.most_hits);
        let too_thick = request.dry_film.is_some_and(|wanted| self.dry(mesh, hits) > NEAR.1 * wanted);
        let line = request.finest_line.map(|line| hold(mesh, line));
        let particle = request.ink.largest_particle;
        let usual = MoireRequest::new();
        let clear = |ruling| clear_angle(mesh.count(), ruling, usual.visible_period, usual.angle_tolerance).is_some();
        let said = [
            (MeshReason::FilmTooThin, !thick_enough(hits)),
            (MeshReason::FilmTooThick, too_thick),
            (MeshReason::ShowsThrough, !self.light_enough(mesh, hits)),
            (MeshReason::LineLost, line == Some(Hold::Lost)),
            (MeshReason::LineBreaks, line == Some(Hold::Marginal)),
            (MeshReason::RulingTooFine, request.ruling.is_some_and(|ruling| ruling > ruling_high(mesh))),
            (MeshReason::ParticlesClog, particle.is_some_and(|size| OPENING_TO_PARTICLE * size > mesh.opening())),
            (MeshReason::BandsAtEveryAngle, request.ruling.is_some_and(|ruling| !clear(ruling))),
            (MeshReason::MoreThanOneHit, hits > 1),
        ];
        Judged { place, hits, why: said.into_iter().filter_map(|(reason, is)| is.then_some(reason)).collect() }
    }

    fn offer(&self, mesh: &Mesh, judged: Judged) -> MeshOffer {
        let hits = judged.hits;
        MeshOffer {
            mesh: designated(mesh),
            holds: judged.holds(),
            hits,
            wet_film: self.film(mesh, hits).wet(0.0),
            dry_film: self.dry(mesh, hits),
            lightness: self.lightness(mesh, hits),
            finest_line: finest_line(mesh),
            ruling_high: ruling_high(mesh),
            why: judged.why,
        }
    }
}

/// No mesh does it all: the fewest wishes that exclude each other, and how far the meshes go towards the first.
fn excluded(print: &Print<'_>, meshes: &[Mesh], judged: &[Judged]) -> Error {
    let granted = |wishes: &[Wish]| judged.iter().any(|one| wishes.iter().all(|wish| one.grants(*wish)));
    let alone = Wish::ALL.iter().find(|wish| !granted(&[**wish])).map(|wish| vec![*wish]);
    let pair = || {
        let pairs = Wish::ALL.iter().flat_map(|first| Wish::ALL.iter().map(move |second| [*first, *second]));
        pairs.into_iter().find(|pair| !granted(pair)).map(|pair| pair.to_vec())
    };
    let refused = || Wish::ALL.into_iter().filter(|wish| judged.iter().any(|one| !one.grants(*wish))).collect();
    let wishes: Vec<Wish> = alone.or_else(pair).unwrap_or_else(refused);
    let names: Vec<&str> = wishes.iter().map(|wish| wish.field().trim_start_matches('/')).collect();
    let whose = if print.request.meshes.is_some() { "of this list" } else { "in stock" };
    let message = match names.as_slice() {
        [one] => format!("no mesh {whose} can do {one}: ask for less, or allow more hits"),
        many => {
            format!("no mesh {whose} can do {} together: ask for less of one, or allow more hits", many.join(" and "))
        }
    };
    let most = |of: &dyn Fn(&Mesh) -> Option<f64>| meshes.iter().filter_map(of).reduce(f64::max);
    let hits = print.request.most_hits;
    let range = match wishes.first() {
        Some(Wish::Film) => most(&|mesh| Some(units::UM.value(print.dry(mesh, hits))))
            .map(|film| format!("at most {} um by so many hits", to_places(film, 1))),
        Some(Wish::Lightness) => most(&|mesh| print.lightness(mesh, hits))
            .map(|lightness| format!("at most {} by so many hits", to_places(lightness, 1))),
        Some(Wish::Line) => most(&|mesh| Some(-units::MM.value(finest_line(mesh))))
            .map(|line| format!("at least {} mm", to_places(-line, 2))),
        Some(Wish::Ruling) => most(&|mesh| Some(units::PER_CM.value(ruling_high(mesh))))
            .map(|ruling| format!("at most {} /cm", to_places(ruling, 1))),
        Some(Wish::Particle) => most(&|mesh| Some(units::UM.value(mesh.opening())))
            .map(|opening| format!("at most {} um", to_places(opening / OPENING_TO_PARTICLE, 1))),
        None => None,
    };
    let field = wishes.first().map_or("", |wish| wish.field());
    Error::new(Code::NoSolution, field, message).allowed(range)
}
