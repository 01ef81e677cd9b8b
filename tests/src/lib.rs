//! What the checks share: the vectors, which every layer's tests run, the published tables, and asking and comparing.

pub mod budget;
pub mod compare;
pub mod pointers;
pub mod published;
pub mod stock;
pub mod vectors;

/// The README's Rust snippets, as doc tests.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
pub struct Readme;
