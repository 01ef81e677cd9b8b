//! How much the dots of a halftone grow between film and shirt.

use super::dots::{DotShape, grown_tone};
use crate::error::{Code, Error};
use crate::fitting::{FitLimits, Model, Pair, least_squares, squares};
use crate::mesh::RULING;
use crate::quantity::{Count, Dimensioned, Length, Rank, Rules, to_places, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, Say, answer, calculation, one_of, request};
use core::f64::consts::LN_10;
use serde_json::Value;

/// Reflection densities; a little below zero where the meter was zeroed on cloth.
pub(super) const DENSITY: Rules = Rules::range(units::ONE, -1.0, 6.0).usual(-0.1, 2.5);
/// From no spreading of light within the cloth to all of it.
pub(super) const YULE_NIELSEN: Rules = Rules::range(units::ONE, 1.0, 1000.0).usual(1.0, 4.0);
/// Borders that every edge gains.
pub(crate) const GROWTH: Rules = Rules::range(units::UM, -2000.0, 2000.0).usual(-50.0, 100.0);

/// A darker patch that prints lighter by more than this is no scatter: patches were mixed up.
const SCATTER: f64 = 0.05;
/// Points that one border may miss, as a root mean square, before it is said to fit badly.
const MISSES: f64 = 0.03;
/// Work of a patch, in rows: its tone at each border that is tried, and what the fit takes.
const FITTED: f64 = 300.0;
/// Borders tried between the least and the greatest that a single reading shows.
const TRIED: u32 = 32;

pub(super) const MURRAY: Source =
    Source::published("A. Murray, J. Franklin Inst. 221 (1936) 721: tone from reflection densities");
pub(super) const YULE: Source =
    Source::published("J. A. C. Yule and W. J. Nielsen, TAGA Proc. 3 (1951) 65: the exponent 1/n");
pub(super) const OVERLAPS: Source = Source::physics("geometry of round dots on a square lattice, overlaps taken off");
const LIMITS: Source =
    Source::memory("5 points of scatter between patches, 3 points of misfit: what a hand-held meter does on a knit");
const SHAPE: Source = Source::memory(
    "round dots to the full tone; many raster programs turn round dots to holes above half: say euclidean",
);
/// Where the usual growth comes from.
pub const USUAL_GROWTH: Source = Source::memory(
    "20 um at every edge makes 50 % print 61 % at 55 to an inch; 10 to 30 um seen, more with thin ink and soft blades: measure yours (artwork.tone)",
);
/// The same in micrometres.
const USUAL_GROWTH_UM: f64 = 20.0;

request! {
    /// A printed patch of an even tone.
    pub struct ToneReading {
        /// Tone on the film.
        tone_fraction "Tone on film": f64 where Rules::FRACTION,
        /// Reflection density of the printed patch; or give the printed share.
        density "Density of patch": Option<f64> where DENSITY.rank(Rank::First),
        /// Share that is printed, as a microscope or a meter of tones shows it; or give the density.
        printed_fraction "Printed share": Option<f64> where Rules::FRACTION.rank(Rank::First),
    }
    chooses(Choice::One(&[&["density"], &["printed_fraction"]]))
}

request! {
    /// A printed scale of tones.
    pub struct ToneRequest {
        /// Lines per length of the halftone.
        ruling "Halftone ruling": Count where RULING,
        /// Shape of the dots. Dots that are round to half and round holes above are euclidean here.
        dot "Dot shape": Option<DotShape> where Rules::NONE.unless_given("round"),
        /// The patches, in any order: three or more at light, middle and dark tones tell most.
        readings "Patches read": Vec<ToneReading>,
        /// Density of the bare cloth, or of the base that is printed on; needed with densities.
        bare_density "Density of bare cloth": Option<f64> where DENSITY.group("The densities"),
        /// Density of the solid; needed with densities.
        solid_density "Density of solid": Option<f64> where DENSITY.group("The densities"),
        /// The n by which light that spreads in the cloth is reckoned out of densities; 1 leaves it in.
        yule_nielsen_ratio "Optical gain factor": Option<f64>
            where YULE_NIELSEN.unless_given("1").rank(Rank::More).group("The densities"),
    }
}

answer! {
    /// What became of a tone.
    pub struct PrintedTone {
        /// Tone on the film.
        tone_fraction "Tone on film": f64,
        /// Share that is printed.
        printed_fraction "Printed share": f64,
        /// Printed share less the film's.
        gain_fraction "Tone value increase": f64,
        /// What the growth makes of the film's tone.
        fitted_fraction "Share by growth": f64,
    }
}

answer! {
    /// How much the dots grew.
    pub struct ToneGrowth {
        /// The patches, as they were sent.
        readings "Patches read": Vec<PrintedTone>,
        /// How far every edge moved out; negative where it moved in.
        growth "Growth of every edge": Length as Film,
        /// Standard error of the growth, from two patches on.
        growth_error "Growth error": Option<Length> as Film,
        /// Root mean square of what the growth misses the printed shares by.
        rms_fraction "Misfit": f64,
    }
}

calculation! {
    pub const TONE: ToneRequest => ToneGrowth = tone;
    id: "artwork.tone",
    title: "Growth of halftone dots",
    question: "How much do my dots grow?",
    asked: ["What is my dot gain?", "What does a 50 % tone print as?"],
    headline: ["growth", "rms_fraction"],
    formula: "printed = (1 - 10^(-(D - D_bare)/n)) / (1 - 10^(-(D_solid - D_bare)/n)); gain = printed - film; growth g by least squares of tone(reach(film) + g x ruling), the reach that of round dots with overlaps (euclidean: of dots to half, of holes above)",
    sources: &[MURRAY, YULE, OVERLAPS, LIMITS, SHAPE],
    example: r#"{"ruling": "55 lpi", "bare_density": 0.06, "solid_density": 1.46, "readings": [{"tone_fraction": 0.1, "density": 0.12}, {"tone_fraction": 0.3, "density": 0.255}, {"tone_fraction": 0.5, "density": 0.43}, {"tone_fraction": 0.7, "density": 0.71}]}"#,
}

/// The printed share of a patch, from reflection densities: Murray-Davies, and Yule-Nielsen where n is above 1.
///
/// `(1 - 10^(-(D - D_bare)/n)) / (1 - 10^(-(D_solid - D_bare)/n))`, all dimensionless and absolute (the cloth's density not yet taken
/// off), n from 1; the ratio of the densities themselves where n is very large. 0 on the bare cloth and 1 on the solid; densities
/// outside of these two give shares outside of 0 to 1. The solid must be denser than the cloth: otherwise it is 0.
///
/// Sources: Murray (1936); Yule and Nielsen (1951).
#[must_use]
pub fn printed_share(density: f64, bare_density: f64, solid_density: f64, yule_nielsen_ratio: f64) -> f64 {
    let absorbed = |density: f64| -libm::expm1(-(density - bare_density) * LN_10 / yule_nielsen_ratio);
    if solid_density > bare_density { absorbed(density) / absorbed(solid_density) } else { 0.0 }
}

/// How far every edge usually moves out where nothing was measured: see [`USUAL_GROWTH`].
#[must_use]
pub fn usual_growth() -> Length {
    units::UM.of(USUAL_GROWTH_UM)
}

/// The tones that tell a halftone: its lights, middle and darks.
pub const KEY_TONES: [f64; 3] = [0.1, 0.5, 0.9];

/// What the [`KEY_TONES`] of a film, 10, 50 and 90 %, print as: [`grown_tone`] of each.
#[must_use]
pub fn key_tones(dot: DotShape, ruling: Count, growth: Length) -> [f64; 3] {
    KEY_TONES.map(|film| grown_tone(dot, film, ruling, growth))
}

/// Patches that tell a border: the film's reach, and the printed share.
struct Border<'a> {
    dot: DotShape,
    patches: &'a [(f64, f64)],
}

impl Model for Border<'_> {
    fn residuals(&mut self, [border, _]: Pair) -> Option<Vec<f64>> {
        Some(self.off(border).collect())
    }

    fn slopes(&mut self, [border, _]: Pair) -> Option<Vec<Pair>> {
        Some(self.patches.iter().map(|(reach, _)| [self.dot.edge(reach + border), 0.0]).collect())
    }
}

/// A border found by least squares.
#[derive(Debug, Clone, Copy)]
struct FittedBorder {
    /// Over the pitch.
    border: f64,
    /// Its standard error, over the pitch.
    error: Option<f64>,
    rms: f64,
}

impl Border<'_> {
    /// What the squares of all residuals add up to.
    fn squares(&self, border: f64) -> f64 {
        squares(self.off(border))
    }

    /// By how much the tones of a border miss the printed shares.
    fn off(&self, border: f64) -> impl Iterator<Item = f64> {
        self.patches.iter().map(move |(reach, printed)| self.dot.tone(reach + border) - printed)
    }

    /// The border of least squares. Every patch alone shows one; theirs lies between, since the tone of each rises with it. A scan
    /// finds the lowest valley, for there may be several.
    fn fit(&mut self) -> Option<FittedBorder> {
        let alone = |(reach, printed): &(f64, f64)| self.dot.reach(*printed) - reach;
        let (mut least, mut most, mut weights, mut weighted) = (f64::INFINITY, f64::NEG_INFINITY, 0.0, 0.0);
        for patch in self.patches {
            let (border, edge) = (alone(patch), self.dot.edge(patch.0));
            (least, most) = (least.min(border), most.max(border));
            weights += edge * edge;
            weighted += edge * edge * border;
        }
        if weights <= 0.0 {
            return None;
        }
        let mut start = weighted / weights;
        let mut left = self.squares(start);
        for step in 1..TRIED {
            let tried = least + (most - least) * f64::from(step) / f64::from(TRIED);
            let squares = self.squares(tried);
            if squares < left {
                (start, left) = (tried, squares);
            }
        }
        let limits = FitLimits { most: 2.0, resolution: 0.0, steps: 400 };
        let fitted = least_squares(self, [start, 0.0], &limits)?;
        let count = self.patches.len() as f64;
        let slopes: f64 = fitted.slopes.iter().map(|[slope, _]| slope * slope).sum();
        let error = (count > 1.0 && slopes > 0.0).then(|| (fitted.squares() / (count - 1.0)).sqrt() / slopes.sqrt());
        let [border, _] = fitted.at;
        Some(FittedBorder { border, error, rms: (fitted.squares() / count).sqrt() })
    }
}

/// The printed share of each reading.
fn printed(request: &ToneRequest) -> Result<Vec<f64>, Error> {
    let mut shares = Vec::with_capacity(request.readings.len());
    for (index, reading) in request.readings.iter().enumerate() {
        shares.push(match (reading.density, reading.printed_fraction) {
            (None, Some(share)) => share,
            (Some(density), None) => share_of_density(request, density, index)?,
            (Some(_), Some(share)) => {
                return Err(Error::new(
                    Code::Impossible,
                    format!("/readings/{index}/printed_fraction"),
                    "the printed share follows from the density: give one of them",
                )
                .got(&Value::from(share)));
            }
            (None, None) => return Err(one_of::<ToneReading>(At::ROOT.key("readings").index(index))),
        });
    }
    Ok(shares)
}

fn share_of_density(request: &ToneRequest, density: f64, index: usize) -> Result<f64, Error> {
    let needs = |field: &'static str, of: &str| {
        Error::new(Code::MissingField, format!("/{field}"), format!("a density needs that of the {of} beside it"))
            .allowed([field])
    };
    let bare = request.bare_density.ok_or_else(|| needs("bare_density", "bare cloth"))?;
    let solid = request.solid_density.ok_or_else(|| needs("solid_density", "solid"))?;
    if solid <= bare {
        return Err(Error::new(
            Code::Impossible,
            "/solid_density",
            "the solid must be denser than the bare cloth; of a light ink on dark cloth give printed_fraction in the place of densities",
        )
        .got(&Value::from(solid)));
    }
    let ratio = request.yule_nielsen_ratio.unwrap_or(1.0);
    let share = printed_share(density, bare, solid, ratio);
    // A light dot may read a hair lighter than the cloth: readings scatter.
    if share < -SCATTER || density > solid {
        let why = if density < bare {
            "lighter than the bare cloth: read cloth and patch again, at the same zero"
        } else {
            "denser than the solid: read solid and patch again, and give the mean of several"
        };
        let allowed = format!("{} to {}", to_places(bare, 3), to_places(solid, 3));
        return Err(Error::new(Code::Impossible, format!("/readings/{index}/density"), why)
            .got(&Value::from(density))
            .allowed([allowed]));
    }
    Ok(share.clamp(0.0, 1.0))
}

/// Refuses patches that print lighter, by more than scatter, than a patch whose film is lighter.
fn refuse_mixed_up(request: &ToneRequest, shares: &[f64]) -> Result<(), Error> {
    let mut ascending: Vec<(usize, f64, f64)> = request
        .readings
        .iter()
        .zip(shares)
        .enumerate()
        .map(|(index, (reading, share))| (index, reading.tone_fraction, *share))
        .collect();
    sorted::by_number(&mut ascending, |(_, film, _)| *film);
    let (mut at, mut before, mut so_far) = (f64::NEG_INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    for (index, film, share) in ascending {
        if film > at {
            (at, before) = (film, so_far);
        }
        if share < before - SCATTER {
            let reading = request.readings.get(index);
            let (field, got) = match reading.and_then(|reading| reading.density) {
                Some(density) => ("density", density),
                None => ("printed_fraction", share),
            };
            return Err(Error::new(
                Code::Impossible,
                format!("/readings/{index}/{field}"),
                format!(
                    "prints {} %, and a lighter film tone {} %: patches were mixed up or misread",
                    to_places(100.0 * share, 1),
                    to_places(100.0 * before, 1)
                ),
            )
            .got(&Value::from(got)));
        }
        so_far = so_far.max(share);
    }
    Ok(())
}

/// The dots' shape, and what is to be said of it.
pub(crate) fn shape(dot: Option<DotShape>, remarks: &mut Remarks) -> DotShape {
    let shape = dot.unwrap_or_else(|| {
        remarks.basis("dot", SHAPE);
        DotShape::Round
    });
    if shape == DotShape::Elliptical {
        remarks.caution(
            "elliptical_as_euclidean",
            "/dot",
            "reckoned as euclidean dots: where chains join, at about 40 and 60 %, tones jump, and that is not reckoned here; between the two a growth may be off by a fifth",
        );
    }
    shape
}

/// Says which densities have no effect.
pub(super) fn densities_not_used(
    bare: Option<f64>,
    solid: Option<f64>,
    ratio: Option<f64>,
    why: &'static str,
    remarks: &mut Remarks,
) {
    for (given, field) in [(bare, "/bare_density"), (solid, "/solid_density"), (ratio, "/yule_nielsen_ratio")] {
        if given.is_some() {
            remarks.info("not_used", field, why);
        }
    }
}

/// What a growth by densities is.
pub(super) fn say_what_growth_is(readings: &[ToneReading], yule_nielsen_ratio: Option<f64>, remarks: &mut Remarks) {
    if readings.iter().any(|reading| reading.density.is_some()) {
        remarks.info(
            "apparent_growth",
            "/readings",
            if yule_nielsen_ratio.is_some_and(|ratio| ratio > 1.0) {
                "n above 1 takes out light that spreads in the cloth: a growth of the ink itself, as far as that n is right"
            } else {
                "at n = 1 this is an apparent growth: light that spreads in the cloth (optical gain) is in it. It tells what is seen, not how far the ink ran"
            },
        );
    } else {
        remarks.info(
            "growth_as_read",
            "/readings",
            "how the printed shares were read decides what the growth is: a meter sees light that spreads in the cloth (optical gain) too, a microscope the ink alone",
        );
    }
}

/// The printed shares of a scale, and the one growth of every edge that explains them best.
///
/// Patches of bare film and of solid, and those that print nothing or solid, tell no border: they are answered and left out of the fit.
///
/// # Errors
/// `out_of_range` without readings; `missing_field` for a density without the bare cloth's and the solid's; `impossible` for a reading
/// with both a density and a share, a solid no denser than the cloth, a density above the solid's or more than 5 points below bare, a darker film tone that prints
/// lighter by more than 5 points, and where no patch tells a border.
pub(crate) fn tone(request: &ToneRequest, remarks: &mut Remarks) -> Result<ToneGrowth, Error> {
    if request.readings.is_empty() {
        return Err(Error::new(Code::OutOfRange, "/readings", "a growth needs a patch, better three or more")
            .allowed(["1 reading or more"]));
    }
    let shares = printed(request)?;
    refuse_mixed_up(request, &shares)?;
    if request.yule_nielsen_ratio.is_none() && request.readings.iter().any(|reading| reading.density.is_some()) {
        remarks.basis("yule_nielsen_ratio", MURRAY);
    }
    let dot = shape(request.dot, remarks);
    let inside = |share: f64| share > 0.0 && share < 1.0;
    let films = || request.readings.iter().map(|reading| reading.tone_fraction).zip(shares.iter().copied());
    let mut patches: Vec<(f64, f64)> = films()
        .filter(|(film, share)| inside(*film) && inside(*share))
        .map(|(film, share)| (dot.reach(film), share))
        .collect();
    // The sums are of one order, whatever that of the patches.
    sorted::by_number(&mut patches, |(_, share)| *share);
    sorted::by_number(&mut patches, |(reach, _)| *reach);
    let nothing_told = || {
        Error::new(
            Code::Impossible,
            "/readings",
            "no patch between bare and solid prints between bare and solid: none tells a growth",
        )
    };
    if patches.is_empty() {
        return Err(nothing_told());
    }
    remarks.work().spend(FITTED * patches.len() as f64);
    let fitted = Border { dot, patches: &patches }.fit().ok_or_else(nothing_told)?;
    let pitch = 1.0 / request.ruling.si();
    let growth = Length::from_si(fitted.border * pitch);

    let lost = || films().enumerate().filter(|(_, (film, share))| inside(*film) && !inside(*share));
    if let Some((first, _)) = lost().next() {
        let count = lost().count();
        remarks.caution("patches_lost", format_args!("/readings/{first}"), |_: Say| {
            format!(
                "{count} of the patches print nothing or solid, from this one on: dots or holes that the mesh lost or that closed tell no growth and are left out"
            )
        });
    }
    if patches.len() < 2 {
        remarks.caution(
            "one_patch",
            "/readings",
            "one patch tells a growth but not how sure it is: read three or more",
        );
    }
    if fitted.rms > MISSES {
        remarks.caution("one_growth_misfits", "/readings", |_: Say| {
            format!(
                "no one growth of every edge explains these patches: it misses by {} points. Light dots may be lost on the mesh while middle tones fill in; correct by the patches themselves",
                to_places(100.0 * fitted.rms, 1)
            )
        });
    }
    say_what_growth_is(&request.readings, request.yule_nielsen_ratio, remarks);
    if request.readings.iter().all(|reading| reading.density.is_none()) {
        densities_not_used(
            request.bare_density,
            request.solid_density,
            request.yule_nielsen_ratio,
            "no reading is a density",
            remarks,
        );
    }
    let readings = films()
        .map(|(tone_fraction, printed_fraction)| PrintedTone {
            tone_fraction,
            printed_fraction,
            gain_fraction: printed_fraction - tone_fraction,
            fitted_fraction: grown_tone(dot, tone_fraction, request.ruling, growth),
        })
        .collect();
    Ok(ToneGrowth {
        readings,
        growth,
        growth_error: fitted.error.map(|error| Length::from_si(error * pitch)),
        rms_fraction: fitted.rms,
    })
}
