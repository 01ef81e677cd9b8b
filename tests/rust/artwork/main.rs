//! What a separation covers: closed forms, what changes nothing, limits, and the distance transform by brute force.

// The platform's own functions check those of the library.
#![allow(clippy::disallowed_methods)]

mod draw;
mod halftones;
mod limits;
mod properties;
mod same;
mod shapes;
