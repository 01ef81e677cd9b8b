//! The press: blades and frames, the cycle of a run, the blanks to start with.
//!
//! - [`SQUEEGEE`]: `blade = image width + 2 overlap`, and the least frame around it.
//! - [`RUN`]: a carousel waits for its slowest stop, hands do one thing after another; the dryer may be slower than both.
//! - [`OVERS`]: the fewest blanks with `P(good >= pieces) >= confidence`, binomial; beta-binomial where the spoiled share is itself in doubt.

mod overs;
mod run;
mod squeegee;

pub(crate) use overs::{CONFIDENCE, KNOWN_FROM, SPOILAGE};
pub use overs::{OVERS, Overs, OversRequest, blanks, blanks_known_from};
pub use run::{Colour, PressRound, RUN, Run, RunRequest, StationRole, StationTime, printing_rounds, time_by_hand};
pub(crate) use run::{EFFICIENCY, PER_SCREEN};
pub(crate) use squeegee::FREE;
pub use squeegee::{FrameInside, SQUEEGEE, Squeegee, SqueegeeRequest};

use crate::quantity::{Rules, Time, Velocity, units};
use crate::wire::{request, words};

const POSITIONS: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 24.0);
const HANDLING: Rules = Rules::range(units::S, 0.0, 3600.0).usual(0.0, 60.0);
const STROKE: Rules = Rules::range(units::CM_PER_S, 0.1, 1000.0).usual(5.0, 120.0);

words! {
    /// Who moves the press.
    pub enum PressKind ("kind of press") {
        /// One printer, colours in turn.
        Manual = "manual",
        /// A carousel that indexes by itself.
        Automatic = "automatic",
    }
}

request! {
    /// A press.
    pub struct Press {
        /// Who moves the press.
        kind "Kind of press": PressKind,
        /// Number of platens, a station each.
        stations "Number of platens": u32 where POSITIONS.group("The layout"),
        /// Places for a screen, a flash or a rest between loading and unloading.
        heads "Number of heads": u32 where POSITIONS.group("The layout"),
        /// Time to move every platen on by one; by hand, to turn to a screen or a flash, lower it and lift it.
        index "Index time": Time where HANDLING.group("The pace"),
        /// Speed of blade and flood bar.
        stroke_speed "Stroke speed": Velocity where STROKE.group("The pace"),
        /// Time to load a shirt.
        load "Loading time": Time where HANDLING.group("The pace"),
        /// Time to take a shirt off.
        unload "Unloading time": Time where HANDLING.group("The pace"),
        /// Number of flash units.
        flashes "Flash units": Option<u32> where POSITIONS.group("The layout").unless_given("one"),
    }
    stock("press", "../stock/presses.json")
}
