//! Tension: how tight the mesh is stretched, whether screens are a set, and what the gap under them does to the image.
//!
//! - [`ASSESS`]: matched where every reading is near its screen's mean and every mean near the set's.
//! - [`target`]: a share of the strength of the threads, as far as the frame holds it.
//! - [`OFF_CONTACT`]: the triangle between frame edges and blade, `stretch = (sqrt(a^2 + g^2) + sqrt(b^2 + g^2)) / (a + b) - 1`.

mod assess;
mod off_contact;
mod triangle;

pub use assess::{
    ASSESS, Readings, ScreenReadings, ScreenTension, ScreensAssessed, SetRequest, TensionVerdict, readings,
};
pub use off_contact::{AtBlade, OFF_CONTACT, OffContact, OffContactRequest, OtherScreen, ScreenCompared};
pub use triangle::{growth, print_growth, stretch, stretch_across};

use crate::mesh::Mesh;
use crate::quantity::{Dimensioned, Rules, Tension, units};
use crate::source::Source;
use crate::wire::{Remarks, words};

/// What screens are usually stretched to, N/cm: wooden frames from 7, roller frames to 40.
const USUAL: (f64, f64) = (7.0, 40.0);
/// Cloth tears long before its end.
const TENSION: Rules = Rules::range(units::N_PER_CM, 0.0, 200.0);

/// Density of polyester, kg/m3.
const POLYESTER: f64 = 1380.0;
/// Tenacity of a thick polyester monofilament, N/tex, and what drawing adds to a thin one, N/tex times um.
const TENACITY: (f64, f64) = (0.43, 4.0);
/// Share of the threads' strength to which a mesh is stretched.
const STRETCHED: f64 = 0.23;
/// How far the tensions that journals give for a group of meshes lie from its middle: 25 to 28, 20 to 22 N/cm.
const BAND: f64 = 0.06;
const STRENGTH_SOURCE: Source = Source::published(
    "Morton and Hearle, Physical Properties of Textile Fibres, table 13.2: polyester 0.47 to 0.56 N/tex; EP 3 859 057 A1: screen monofilament from 0.43 N/tex; density 1380 kg/m3",
);
const TARGETS_SOURCE: Source = Source::common(
    "trade journals: 35 N/cm at 43-55 /cm, 25-28 at 62-90, 20-22 at 100-120, for polyester; 0.23 of the threads' strength is nearest to all of them",
);
const FRAMES_SOURCE: Source =
    Source::common("shops: wooden frames hold 7-12 N/cm, glued metal 15-25, roller frames 30-40");

words! {
    /// What the mesh is stretched on.
    pub enum Frame ("frame") {
        /// Wood: 7 to 12 N/cm.
        Wood = "wood",
        /// Metal that the mesh is glued to: 15 to 25 N/cm.
        GluedMetal = "glued_metal",
        /// A roller frame or another that stretches the mesh anew: 30 to 40 N/cm.
        Retensionable = "retensionable",
    }
}

impl Frame {
    /// The most that such a frame holds.
    #[must_use]
    pub fn most(self) -> Tension {
        units::N_PER_CM.of(match self {
            Self::Wood => 12.0,
            Self::GluedMetal => 25.0,
            Self::Retensionable => USUAL.1,
        })
    }
}

/// The tension to stretch this mesh of polyester to, on this frame; without one, as on the strongest.
///
/// `T = min(0.23 n A rho t, most)`, with n threads a length of section `A = pi d^2 / 4`, density `rho` = 1380 kg/m3 and tenacity
/// `t = 0.43 N/tex + 4 N/tex um / d`: thin monofilaments are drawn harder (0.49 N/tex at 64 um, 0.56 at 31 um). `most` is 12, 25 or
/// 40 N/cm. In proportion to the count and rising with the thread, without a step, for any mesh.
///
/// The tensions that trade journals give to groups of counts (35 N/cm at 43 and 55 /cm, 25-28 at 62 to 90, 20-22 at 100 to 120, 25 at
/// 150-34) do step, and no rule of the threads fits them all: this one is 11 % off on the average, 55-64 lies 21 % under its group,
/// 62-64 11 % and 120-40 15 % over, all others within 6 %.
#[must_use]
pub fn target(mesh: &Mesh, frame: Option<Frame>) -> Tension {
    let (thick, drawn) = TENACITY;
    // 1 N/tex is 1e6 N per kg/m; force per length, N/m.
    let tenacity = 1e6 * (thick + drawn / units::UM.value(mesh.thread()));
    let section = core::f64::consts::FRAC_PI_4 * mesh.thread().si() * mesh.thread().si();
    let strength = Tension::from_si(mesh.count().si() * section * POLYESTER * tenacity);
    least(STRETCHED * strength, most(frame))
}

/// The tensions between which this mesh is stretched: 6 % to either side of [`target`], never above what the frame holds.
#[must_use]
pub fn target_range(mesh: &Mesh, frame: Option<Frame>) -> (Tension, Tension) {
    let target = target(mesh, frame);
    ((1.0 - BAND) * target, least((1.0 + BAND) * target, most(frame)))
}

fn most(frame: Option<Frame>) -> Tension {
    frame.unwrap_or(Frame::Retensionable).most()
}

fn least(one: Tension, other: Tension) -> Tension {
    if one < other { one } else { other }
}

/// Says where the target of a mesh comes from.
pub(crate) fn cite_target(of: &'static str, remarks: &mut Remarks) {
    for source in [STRENGTH_SOURCE, TARGETS_SOURCE, FRAMES_SOURCE] {
        remarks.basis(of, source);
    }
}
