//! Tension: how tight the mesh is stretched.

use crate::mesh::Mesh;
use crate::quantity::{Tension, units};
use crate::source::Source;
use crate::wire::Remarks;

/// The tension to stretch this mesh to: coarse cloth bears more.
///
/// Shops quote 35 N/cm for 43 and 55 /cm, 25-28 for 62 to 90, 20-22 for 100 to 120; the middle of the group nearest in
/// count is taken.
pub fn target(mesh: &Mesh, remarks: &mut Remarks) -> Tension {
    remarks.basis(
        "target_tension",
        Source::common("trade journals: 35 N/cm at 43-55 /cm, 25-28 at 62-90, 20-22 at 100-120"),
    );
    let count = units::PER_CM.value(mesh.count());
    let tension = if count < 58.5 {
        35.0
    } else if count < 95.0 {
        26.5
    } else {
        21.0
    };
    units::N_PER_CM.of(tension)
}
