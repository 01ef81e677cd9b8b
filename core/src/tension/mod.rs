//! Tension: how tight the mesh is stretched, whether screens are a set, and what the gap under them does to the image.
//!
//! - [`ASSESS`]: matched where every reading is near its screen's mean and every mean near the set's.
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
use crate::quantity::{Rules, Tension, units};
use crate::source::Source;
use crate::wire::Remarks;

/// What screens are usually stretched to, N/cm: wooden frames from 7, roller frames to 40.
const USUAL: (f64, f64) = (7.0, 40.0);
/// Cloth tears long before its end.
const TENSION: Rules = Rules::range(units::N_PER_CM, 0.0, 200.0);

/// Upper end of a group of counts per centimetre, and the tension it is stretched to, from and to, N/cm.
const TARGETS: [(f64, f64, f64); 3] = [(58.5, 35.0, 35.0), (95.0, 25.0, 28.0), (f64::INFINITY, 20.0, 22.0)];
const TARGETS_SOURCE: Source = Source::common("trade journals: 35 N/cm at 43-55 /cm, 25-28 at 62-90, 20-22 at 100-120");

/// The tensions between which this mesh is stretched: coarse cloth bears more.
///
/// Shops quote 35 N/cm for 43 and 55 /cm, 25-28 for 62 to 90, 20-22 for 100 to 120; the group nearest in count is taken.
#[must_use]
pub fn target_range(mesh: &Mesh) -> (Tension, Tension) {
    let count = units::PER_CM.value(mesh.count());
    let (_, low, high) = TARGETS.into_iter().find(|(below, ..)| count < *below).unwrap_or_default();
    (units::N_PER_CM.of(low), units::N_PER_CM.of(high))
}

/// The tension to stretch this mesh to: the middle of [`target_range`].
pub fn target(mesh: &Mesh, remarks: &mut Remarks) -> Tension {
    remarks.basis("target_tension", TARGETS_SOURCE);
    let (low, high) = target_range(mesh);
    (low + high) / 2.0
}
