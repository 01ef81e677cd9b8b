//! The wash: how far a print has faded, how many to wash, what a wash test proves, which ink will peel off which.

mod colour;
mod layers;
mod samples;
mod verdict;

pub use colour::{
    COLOUR, ColourChange, ColourChangeRequest, Lab, change_grade, colour, de_2000, de_ab, de_f, de_gs, staining_grade,
    staining_rating,
};
pub use layers::{Between, Bond, Chemistry, InkPair, LAYERS, Risk, StackRequest, StackRisks, bond, layers};
pub use samples::{SAMPLES, Samples, SamplesRequest, prints_needed, samples, shows};
pub use verdict::{VERDICT, Verdict, VerdictRequest, WashVerdict, survival_lower_bound, survival_shown, verdict};
