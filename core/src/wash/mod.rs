//! The wash: how far a print has faded, how many to wash, what a wash test proves, which ink will peel off which.
//!
//! - [`COLOUR`]: CIELAB differences, CIEDE2000, and the grey-scale grades of ISO 105-A05 (change) and A04 (staining).
//! - [`SAMPLES`]: `n = ceil(ln(1 - C) / ln R)` prints without a failure show the reliability R at the confidence C.
//! - [`VERDICT`]: the exact binomial bound (Clopper-Pearson, one-sided), and no verdict after fewer than three washes.
//! - [`LAYERS`]: which ink on which will peel, pair by pair.

mod colour;
mod layers;
mod samples;
mod verdict;

pub use colour::{
    COLOUR, ColourChange, ColourChangeRequest, Lab, change_grade, de_2000, de_ab, de_f, de_gs, staining_grade,
    staining_rating,
};
pub use layers::{Between, Bond, InkPair, LAYERS, Risk, StackRequest, StackRisks, bond};
pub use samples::{SAMPLES, Samples, SamplesRequest, prints_needed, shows};
pub use verdict::{ShipVerdict, VERDICT, VerdictRequest, WashVerdict, survival_lower_bound, survival_shown};
