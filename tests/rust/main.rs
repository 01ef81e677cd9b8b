//! All checks of the library in one program, so that what they share is compiled and linked once: a module a theme.

// The platform's own functions check those of the library.
#![allow(clippy::disallowed_methods)]

mod arrows;
mod artwork;
mod cache;
mod catalogue;
mod choose;
mod cure;
mod doors;
mod doubts;
mod dryer;
mod flash_dryer;
mod heat;
mod learn;
mod manual;
mod marks;
mod moire;
mod money;
mod opacity;
mod open_time;
mod operators;
mod orders;
mod prepare;
mod propagation;
mod properties;
mod published;
mod quote;
mod refusals;
mod register;
mod rules;
mod schemas;
mod solve;
mod supply;
mod tension;
mod tight;
mod tones;
mod trade;
mod typed;
mod vectors;
mod wash;
