//! Whether a halftone beats against the mesh, and at which angle it does least.

use super::beat::{MESH_ORDERS, MOST_ORDER, Pairs};
use super::{Mesh, detail::RULING};
use crate::error::{Code, Error};
use crate::quantity::{Angle, Count, Dimensioned, Length, Rank, Rules, Show, units};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request};

/// Angles on the frame.
pub(crate) const ANGLE: Rules = Rules::range(units::DEG, -360.0, 360.0);
const MESH_ANGLE: Rules = ANGLE
    .usual(-45.0, 45.0)
    .or(0.0, Source::common("frames are stretched with the threads along their sides, unless the mesh is turned"));
/// Bands closer than this are not seen.
pub(crate) const VISIBLE: Rules = Rules::range(units::MM, 0.01, 1000.0)
    .usual(0.3, 10.0)
    .or(1.0, Source::memory("bands closer than about 1 mm pass as texture at arm's length"));
/// How far an angle may be off.
pub(crate) const TOLERANCE: Rules = Rules::range(units::DEG, 0.0, 5.0)
    .usual(0.1, 2.0)
    .or(0.5, Source::memory("how truly a film is set on a screen and the mesh on its frame"));
/// Beats listed for one angle.
const MOST_SHOWN: usize = 8;

const VECTORS: Source = Source::published(
    "Amidror, The Theory of the Moire Phenomenon, vol. 1, ch. 2: a beat is the difference of two lattice vectors",
);
const STRENGTH: Source =
    Source::memory("harmonics of dots and threads fall about as their order, so their power as its square");
const BEST: Source = Source::physics(
    "least of the worst beats, strength times period, over a grid of 0.1 deg; the weighting is this library's own",
);

request! {
    /// A mesh, a ruling, and angles to judge.
    pub struct MoireRequest {
        /// The mesh.
        mesh "Mesh": Mesh,
        /// Where the threads of the mesh point on the frame.
        mesh_angle "Mesh angle": Angle where MESH_ANGLE,
        /// Lines per length of the halftone.
        ruling "Halftone ruling": Count where RULING,
        /// Angles of the halftone on the frame, counted as that of the mesh; one at least.
        angles "Halftone angles": Vec<Angle> where ANGLE,
        /// Bands closer than this are not seen.
        visible_period "Closest visible bands": Length where VISIBLE.rank(Rank::Rare),
        /// How far an angle may be off when the screen is made.
        angle_tolerance "Angle tolerance": Angle where TOLERANCE.rank(Rank::Rare),
    }
}

answer! {
    /// A beat of the halftone against the mesh.
    pub struct MoireBeat {
        /// Angle of the halftone.
        angle "Halftone angle": Angle,
        /// Distance from band to band; absent where locked.
        period "Band spacing": Option<Length>,
        /// Orders h1, h2 of the halftone and m1, m2 of the mesh.
        order "Orders": [i32; 4],
        /// Strength of the beat: 1 / ((h1^2 + h2^2) (m1^2 + m2^2)).
        strength "Strength": f64,
        /// True where halftone and mesh keep step: no bands, until either turns or stretches.
        locked "Locked": Option<bool>,
    }
}

answer! {
    /// An angle asked about.
    pub struct MoireAngle {
        /// Angle of the halftone.
        angle "Halftone angle": Angle,
        /// Longest visible period at exactly this angle; absent where there is none.
        worst_period "Widest visible bands": Option<Length>,
        /// True where a beat is locked at exactly this angle.
        locked "Locked": Option<bool>,
        /// Whether no beat is visible even with the angle off by the tolerance.
        clear "Clear of bands": bool,
    }
}

answer! {
    /// How a halftone beats against a mesh.
    pub struct Moire {
        /// Visible beats, by angle as asked, strongest first; at most eight for an angle.
        beats "Visible beats": Vec<MoireBeat>,
        /// Every angle asked about.
        per_angle "Each angle": Vec<MoireAngle>,
        /// The best of the angles asked about.
        best_of_angles "Best angle asked": Angle,
        /// The best angle of all, 0 to 90 degrees.
        best_angle "Best angle": Angle,
        /// Mirror image of the best angle in the threads, as good.
        best_angle_mirrored "Mirrored best angle": Angle,
        /// Longest period of any order at the best angle, the tolerance included; absent where one can lock.
        best_angle_period "Bands at best angle": Option<Length>,
        /// Whether no beat is visible at the best angle, the tolerance included.
        best_angle_clear "Best angle clear": bool,
    }
}

calculation! {
    pub const MOIRE: MoireRequest => Moire = moire;
    id: "mesh.moire",
    title: "Halftone against mesh",
    question: "Will the halftone beat against the mesh?",
    asked: ["At which angle do I put my halftone?", "Why do I see bands in the greys?"],
    headline: ["best_angle"],
    formula: "beat = h1 a + h2 a' - (m1 u + m2 u'), a and a' the halftone's ruling along and across its angle, u and u' the mesh count along and across the threads; |h| up to 8, mesh orders (1,0), (0,1), (1,1), (-1,1); period 1 / |beat|, none (locked) below 1e-9 of the count; strength 1 / ((h1^2 + h2^2) (m1^2 + m2^2)); best angle: of a quadrant in steps of 0.1 deg, the one whose greatest strength x period among visible beats is least, each with the longest period within the tolerance of the angle; then the one whose longest period of any order is shortest; then the one nearest to the threads",
    sources: &[VECTORS, STRENGTH, BEST],
    example: r#"{"mesh": "120-34", "ruling": "24 /cm", "angles": ["22.5 deg", "45 deg", "61 deg"]}"#,
}

/// Beats of a halftone against a mesh at the angles asked about, and the best angle: the formulas of
/// [`beats`](super::beats) and [`best_angle`](super::best_angle).
///
/// Angles are on the frame: -360 to 360 degrees, turned the same way for mesh and halftone. The best angle is that of
/// [`best_angle`](super::best_angle) plus the mesh's own, modulo a quarter turn.
///
/// # Errors
/// `out_of_range` without an angle.
pub(crate) fn moire(request: &MoireRequest, remarks: &mut Remarks) -> Result<Moire, Error> {
    let count = request.mesh.count();
    let pairs = Pairs::new(request.ruling, count, MESH_ORDERS, request.visible_period);
    remarks.work().spend(pairs.work(request.angles.len()));
    let tolerance = request.angle_tolerance.si();
    let mut beats = Vec::new();
    let mut per_angle = Vec::with_capacity(request.angles.len());
    let mut best = None;
    let mut shortened = false;
    for &angle in &request.angles {
        let turned = (angle - request.mesh_angle).si();
        let found = pairs.beats(turned);
        let worst = pairs.worst(turned, tolerance);
        if best.is_none_or(|(_, least)| worst.better(least)) {
            best = Some((angle, worst));
        }
        let locked = found.iter().any(|beat| beat.period.is_none()).then_some(true);
        let worst_period = found.iter().filter_map(|beat| beat.period).reduce(|a, b| if b > a { b } else { a });
        per_angle.push(MoireAngle { angle, worst_period, locked, clear: worst.clear() });
        shortened |= found.len() > MOST_SHOWN;
        beats.extend(found.into_iter().take(MOST_SHOWN).map(|beat| MoireBeat {
            angle,
            period: beat.period,
            order: beat.order,
            strength: beat.strength,
            locked: beat.period.is_none().then_some(true),
        }));
    }
    let Some((best_of_angles, _)) = best else {
        return Err(Error::new(Code::OutOfRange, "/angles", "there is no angle to judge").allowed(["1 angle or more"]));
    };
    let (from_threads, worst) = pairs.best(tolerance);
    let threads = units::DEG.value(request.mesh_angle);
    let answer = Moire {
        beats,
        per_angle,
        best_of_angles,
        best_angle: in_quadrant(threads + from_threads),
        best_angle_mirrored: in_quadrant(threads - from_threads),
        best_angle_period: worst.period(),
        best_angle_clear: worst.clear(),
    };
    remarks.basis("beats", VECTORS);
    remarks.basis("strength", STRENGTH);
    remarks.basis("best_angle", BEST);
    comment(request, &answer, shortened, remarks);
    Ok(answer)
}

/// The same direction of a square lattice between 0 and 90 degrees.
fn in_quadrant(degrees: f64) -> Angle {
    let turned = degrees.rem_euclid(90.0);
    // A hair below nought comes out as the whole quarter.
    units::DEG.of(if turned < 90.0 { turned } else { 0.0 })
}

fn comment(request: &MoireRequest, answer: &Moire, shortened: bool, remarks: &mut Remarks) {
    let threads_per_line: f64 = (request.mesh.count() / request.ruling).into();
    let most = f64::from(MOST_ORDER);
    if threads_per_line > most {
        remarks.caution(
            "orders_end",
            "/ruling",
            "more than 8 threads to a halftone line: the orders looked at, up to 8, do not reach the mesh; weak beats beyond them are not found",
        );
    } else if threads_per_line > most * core::f64::consts::FRAC_1_SQRT_2 {
        remarks.info(
            "orders_end",
            "/ruling",
            "more than 5.6 threads to a halftone line: orders up to 8 reach the mesh's diagonals at some angles only; beats beyond them are weak",
        );
    }
    if answer.per_angle.iter().any(|angle| angle.locked.is_some()) {
        remarks.caution("locked", "/angles", |say: Say| {
            let half = 0.5 * request.angle_tolerance;
            let slip = libm::sin(units::RAD.value(half)) * 2.0 * request.mesh.count();
            let drift = if slip.si() > 0.0 {
                let period: Length = (1.0 / slip).into();
                let off = say.say(request.angle_tolerance, Show::Usual);
                format!("; {off} off, bands of {} or wider appear", say.say(period, Show::Print))
            } else {
                String::new()
            };
            format!(
                "at an angle asked about, halftone and mesh lock: no bands as long as both are exact, and all tones depend on where the dots meet the threads{drift}"
            )
        });
    }
    if !answer.best_angle_clear {
        remarks.caution(
            "no_clear_angle",
            "/ruling",
            "some beat is visible at every angle: the best one only has the least of them; another ruling or mesh may have none",
        );
    }
    if shortened {
        remarks.info(
            "weaker_left_out",
            "/angles",
            "an angle has more than eight visible beats: its weaker ones are not listed",
        );
    }
    remarks.info(
        "no_promise",
        "",
        "no ratio and no angle rules out a beat exactly: catalogue counts are those of relaxed cloth, and stretching lowers them; print a test on the screen itself",
    );
    remarks.info(
        "knit_wales",
        "",
        "the wales and courses of a knit are a third grid, which is not counted here; along it, at 0, 45 and 90 deg to the garment, halftones beat most often",
    );
}
