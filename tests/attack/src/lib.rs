//! Floodbar under attack. A target is a function of bytes that panics where something is not as promised, so that libFuzzer
//! (`tests/fuzz`) and a driver for stable Rust (`attack`) run the same.

// Values are drawn with the platform's own functions: nothing hangs on their last bits.
#![allow(clippy::disallowed_methods)]

pub mod draw;
pub mod judge;
pub mod mutate;
pub mod places;
pub mod seeds;
pub mod targets;
pub mod weigh;

use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};

/// Does something with an input, and tells the input where that panics.
pub(crate) fn telling(input: impl FnOnce() -> String, work: impl FnOnce()) {
    if let Err(panic) = catch_unwind(AssertUnwindSafe(work)) {
        eprintln!("input:\n{}", input());
        resume_unwind(panic);
    }
}
