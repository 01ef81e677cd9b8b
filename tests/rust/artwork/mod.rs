//! What a separation covers: closed forms, what changes nothing, limits, and the distance transform by brute force.

mod draw;
mod halftones;
mod limits;
mod properties;
mod same;
mod shapes;
