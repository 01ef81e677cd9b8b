//! The meshes that the trade sells, and what a count alone, or one per inch, means by them.

use super::{COUNT, Mesh, MeshParts, THREAD};
use crate::quantity::{Count, Dimensioned, Length, Rules, units};
use crate::wire::{Declared, request};

/// The inch names of one cloth spread over so much of its count: 156, 158 and 160 per inch are 62 /cm, 225 and 230 are 90 /cm.
const ROUNDED: f64 = 0.025;
/// Coarse cloth is named in rounder numbers: 10 /cm, 25.4 per inch, is sold as 24. Threads per inch.
const ROUNDED_COARSE: f64 = 1.5;
/// Names of one thread differ by so much of it: 70 and 71, 54 and 55 um; 31 and 34 um are two.
const SAME_THREAD: f64 = 0.05;

request! {
    /// A mesh that is sold.
    pub struct StockMesh {
        /// Threads per length of the mesh.
        count "Thread count": Count where COUNT,
        /// Diameter of the thread before weaving.
        thread "Thread diameter": Length as Film where THREAD,
        /// Whether this thread is meant where the count alone is named.
        usual "Usual thread": Option<bool> where Rules::NONE.unless_given("no"),
    }
    stock("mesh", "../stock/meshes.json")
}

impl From<StockMesh> for Mesh {
    fn from(stocked: StockMesh) -> Self {
        Self(MeshParts::new().count(stocked.count).thread(stocked.thread))
    }
}

/// A mesh of the stock.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stocked {
    pub name: &'static str,
    pub mesh: &'static StockMesh,
}

/// The meshes in stock, from coarse to fine.
pub(super) fn stocked() -> impl Iterator<Item = Stocked> {
    let shelf = StockMesh::TABLE.stock.map(|stock| (stock.shelf)());
    shelf
        .into_iter()
        .flat_map(|shelf| shelf.rows())
        .filter_map(|row| Some(Stocked { name: row.name(), mesh: row.record().to()? }))
}

/// The mesh that a count alone means: that of the nearest count, whether it is near or not.
pub(super) fn usual(count: Count) -> Option<Stocked> {
    stocked().filter(|row| row.mesh.usual == Some(true)).min_by(|a, b| off(a, count).total_cmp(&off(b, count)))
}

/// Whether two counts may be names of the same cloth.
pub(super) fn near(stocked: Count, named: Count) -> bool {
    let coarse = units::PER_IN.of(ROUNDED_COARSE).si();
    (stocked - named).si().abs() <= coarse.max(ROUNDED * stocked.si())
}

/// The mesh in stock that is nearest in count, of those that this one may be.
pub(super) fn known(count: Count, thread: Length) -> Option<Stocked> {
    let same = |row: &Stocked| {
        near(row.mesh.count, count) && (row.mesh.thread - thread).si().abs() <= SAME_THREAD * row.mesh.thread.si()
    };
    stocked().filter(same).min_by(|a, b| off(a, count).total_cmp(&off(b, count)))
}

/// A count per centimetre that was meant per inch.
pub(super) fn as_per_inch(count: Count) -> Count {
    units::PER_IN.of(units::PER_CM.value(count))
}

fn off(row: &Stocked, count: Count) -> f64 {
    (row.mesh.count - count).si().abs()
}
