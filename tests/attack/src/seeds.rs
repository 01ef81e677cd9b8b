//! What mutation begins with: the examples of the catalogue and the requests of the vectors.

use floodbar::catalogue::CALCULATIONS;
use floodbar::wire::Listed;
use floodbar_tests::vectors::vectors;
use serde_json::Value;
use std::sync::LazyLock;

/// A calculation and the requests that are known of it.
pub struct Seeds {
    /// The calculation.
    pub calculation: &'static dyn Listed,
    /// Its requests, the example first.
    pub requests: Vec<Value>,
}

/// All calculations, in the order of the catalogue.
pub static SEEDS: LazyLock<Vec<Seeds>> = LazyLock::new(|| {
    let vectors = vectors();
    let of = |calculation: &&'static dyn Listed| {
        let mut requests: Vec<Value> =
            vec![serde_json::from_str(calculation.entry().prose.example).expect("an example")];
        let own = vectors.iter().filter(|vector| vector["calculation"] == calculation.id());
        requests.extend(own.filter_map(|vector| vector.get("request").filter(|request| request.is_object()).cloned()));
        Seeds { calculation: *calculation, requests }
    };
    CALCULATIONS.iter().map(of).collect()
});

/// Calculations that march through heat: so dear that they have a target of their own.
const DEAR: [&str; 9] = [
    "dryer.fit",
    "dryer.window",
    "flash.dwell",
    "flash.fit",
    "flash.run",
    "heat.layers",
    "job.plan",
    "job.quote",
    "shop.learn",
];

/// Whether a calculation marches through heat.
#[must_use]
pub fn is_dear(id: &str) -> bool {
    DEAR.contains(&id)
}

/// Those of which `wanted` holds.
pub fn among(wanted: impl Fn(&str) -> bool) -> Vec<&'static Seeds> {
    SEEDS.iter().filter(|seeds| wanted(seeds.calculation.id())).collect()
}
