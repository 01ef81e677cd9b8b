//! The wash: what a wash test proves.

/// The survival rate that `good` of `good` test prints show at the given confidence: (1 - confidence)^(1 / good).
///
/// Three good of three at 90 % show that at least 46 % of the run survive: it finds a bad batch and proves no good one.
/// Source: the zero-failure case of the one-sided Clopper-Pearson bound, Biometrika 26 (1934) 404 (from memory).
#[must_use]
pub fn survival_shown(good: u32, confidence: f64) -> f64 {
    if good == 0 { 0.0 } else { libm::pow(1.0 - confidence, 1.0 / f64::from(good)) }
}
