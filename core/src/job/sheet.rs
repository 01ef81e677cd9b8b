//! The run sheet: everything that a person at the press sets by hand, and how the work is proved.

use crate::dryer::{Limits, Zone};
use crate::exposure::{ExposureFactor, ExposureVerdict};
use crate::ink::Pot;
use crate::mesh::{Geometry, Hold};
use crate::press::{FrameInside, PressRound};
use crate::quantity::{Angle, Count, Length, Mass, Temperature, Tension, Time, Velocity, Volume};
use crate::stencil::StencilVerdict;
use crate::wash::InkPair;
use crate::wire::{answer, words};

answer! {
    /// The stencil of a screen.
    pub struct StencilSheet {
        /// Lower end of the range aimed at for the stencil over the mesh.
        target_low "Target from": Length as Film,
        /// Upper end of the range aimed at for the stencil over the mesh.
        target_high "Target to": Length as Film,
        /// What a gauge reads at the lower end of the target, mesh and stencil together.
        gauge_low "Gauge from": Length as Film,
        /// What a gauge reads at the upper end of the target, mesh and stencil together.
        gauge_high "Gauge to": Length as Film,
        /// Stencil over the mesh that the film is reckoned with.
        over_mesh "Stencil over mesh": Length as Film,
        /// Whether the stencil was measured; without a gauge there is no verdict.
        measured "Stencil measured": bool,
        /// What a measured stencil amounts to.
        verdict "Verdict": Option<StencilVerdict>,
        /// A coating that usually builds the target, print side : squeegee side.
        coats "Coats to apply": String,
        /// Exposure for this screen, where the shop has an exposure test.
        exposure_time "Exposure time": Option<Time>,
        /// What the test says of a screen of this mesh and coating that got the tested time: hard as far as the scale tells, to be exposed
        /// once more from the squeegee side, or anew; absent where it would be hard, and mesh and coating are not known to be as tested.
        after_test "Screen as tested": Option<ExposureVerdict>,
        /// Why the exposure is not the tested time: each reason with its factor.
        exposure_causes "Reasons": Vec<ExposureFactor>,
    }
}

answer! {
    /// The blade of a screen.
    pub struct BladeSheet {
        /// Length of the blade.
        length "Blade length": Length as Print,
        /// Hardness of the blade, shore A.
        hardness "Blade hardness": f64,
        /// Angle from blade to mesh; 90 degrees is upright.
        angle "Blade angle": Angle,
        /// How hard to press, in words: no gauge of a press is like another's.
        pressure "Blade pressure": String,
    }
}

answer! {
    /// Whether the screen holds its art.
    pub struct DetailSheet {
        /// Finest line that this mesh prints.
        finest_line "Finest line held": Length as Film,
        /// Finest line of the art, where it is known.
        wanted "Finest line in art": Option<Length> as Film,
        /// Whether the mesh holds the finest line of the art.
        verdict "Verdict": Option<Hold>,
        /// The finest gap that stays open on this mesh.
        finest_gap "Finest open gap": Length as Film,
        /// The finest gap of the art, where it is known.
        gap_wanted "Finest gap in art": Option<Length> as Film,
    }
}

answer! {
    /// What an ink that hides makes of a dark cloth.
    pub struct HidingSheet {
        /// Lightness L* of the print, of a wide solid.
        lightness "Lightness": f64,
        /// The lightness from which on it covers.
        covers_from "Covers from": f64,
        /// Whether it covers.
        covers "Covers": bool,
    }
}

answer! {
    /// What a tone prints as.
    pub struct KeyTone {
        /// Tone on the film.
        film_fraction "Tone on film": f64,
        /// Share that is printed, where the mesh holds it.
        printed_fraction "Printed share": f64,
        /// Whether the mesh holds its dots and holes; where it does not, they are cut off.
        held "Held by the mesh": bool,
    }
}

answer! {
    /// A halftone on its mesh.
    pub struct HalftoneSheet {
        /// Rows of dots per length.
        ruling "Halftone ruling": Count,
        /// Direction of the rows on the frame.
        angle "Halftone angle": Angle,
        /// Widest bands that the halftone's beat against the mesh shows.
        widest_beat "Widest visible bands": Option<Length> as Print,
        /// Angle at which the halftone beats least against the mesh.
        best_angle "Best angle": Angle,
        /// Lightest tone that this mesh holds.
        tone_min_fraction "Lightest tone held": Option<f64>,
        /// Darkest tone that stays open on this mesh.
        tone_max_fraction "Darkest tone open": Option<f64>,
        /// What film tones of 10, 50 and 90 % print as.
        tones "Tones as printed": Vec<KeyTone>,
    }
}

answer! {
    /// Strokes of one hit.
    pub struct Strokes {
        /// Number of flood strokes.
        flood "Flood strokes": u32,
        /// Number of print strokes.
        print "Print strokes": u32,
    }
}

answer! {
    /// Something to stir in.
    pub struct AdditiveSheet {
        /// What the additive is.
        name "Additive": String,
        /// Mass of the additive over the mass of the ink.
        fraction "Share of ink mass": f64,
        /// How much of the additive for all the ink of the screen.
        mass "Amount in all": Mass,
        /// How much of the additive goes into each pot.
        mass_per_pot "Amount per pot": Mass,
    }
}

answer! {
    /// A print on the shirt.
    pub struct PlacementSheet {
        /// Where the print is on the shirt.
        name "Placement": String,
        /// Width of the print, across the stroke.
        width "Print width": Length as Print,
        /// Height of the print, along the stroke.
        height "Print height": Length as Print,
        /// From the collar seam to the top of the print.
        below_collar "Below the collar": Option<Length> as Print,
    }
}

answer! {
    /// A screen, in print order.
    pub struct ScreenSheet {
        /// What the screen is called.
        name "Screen": String,
        /// The print it belongs to.
        placement "Placement": String,
        /// The station of the press it stands at; by hand, its arm.
        station "Station": u32,
        /// The ink: the stock name, or the screen whose own ink it is.
        ink "Ink": String,
        /// The mesh of the screen.
        mesh "Mesh": Geometry,
        /// The tension to stretch it to.
        target_tension "Target tension": Tension,
        /// When to set the screen to the others of its print: first, second, and so on.
        set "Setting order": u32,
        /// The stencil of the screen.
        stencil "Stencil": StencilSheet,
        /// Whether the screen holds its art.
        detail "Fine detail": DetailSheet,
        /// The halftone of the screen.
        halftone "Halftone": Option<HalftoneSheet>,
        /// Least inside of the screen's frame.
        frame_least "Smallest frame": FrameInside,
        /// The blade of the screen.
        blade "Blade": BladeSheet,
        /// Gap from the mesh to the garment.
        off_contact "Off-contact gap": Length as Print,
        /// Speed of blade and flood bar to start with.
        stroke_speed "Stroke speed": Velocity as Stroke,
        /// Strokes of one hit.
        strokes "Strokes per hit": Strokes,
        /// Prints of this screen, with a flash between them.
        hits "Number of hits": u32,
        /// Thickness of the film as printed.
        wet_film "Wet film": Length as Film,
        /// Thickness of the film when dry.
        dry_film "Dry film": Length as Film,
        /// What it makes of a dark cloth, where the optics of the ink are known.
        hiding "Hiding": Option<HidingSheet>,
        /// Ink on one print.
        mass_per_print "Ink per print": Mass,
        /// Ink to have ready.
        mass_to_mix "Ink to mix": Mass,
        /// What to stir in.
        additives "Additives": Vec<AdditiveSheet>,
        /// Time that a mixed pot lasts; mix no more than it holds, and again after it.
        mix_again_after "Mix again after": Option<Time>,
        /// How long a water-based ink stays open in the flooded, lowered screen; in a lifted one half of that. In a longer stop it is wiped.
        open_time "Open in the screen": Option<Time>,
        /// The pots, where the ink does not keep.
        pots "Pots": Vec<Pot>,
    }
}

words! {
    /// What a place on the press is for.
    pub enum HeadRole ("place on the press") {
        /// A shirt goes on.
        Load = "load",
        /// A colour is printed.
        Print = "print",
        /// The print is gelled.
        Flash = "flash",
        /// The print cools before the next screen touches it.
        Cool = "cool",
        /// Nothing happens.
        Free = "free",
        /// The shirt comes off.
        Unload = "unload",
    }
}

answer! {
    /// A place on the press.
    pub struct HeadSheet {
        /// The print it serves.
        placement "Placement": String,
        /// Station, 1 being the load; by hand, the arm.
        station "Station": u32,
        /// What happens at the place.
        role "Used for": HeadRole,
        /// The screen it serves.
        screen "Screen": Option<String>,
    }
}

answer! {
    /// The flash after a screen.
    pub struct FlashSheet {
        /// The screen that the flash follows.
        screen "Screen": String,
        /// The print it belongs to.
        placement "Placement": String,
        /// Dwell while the platens are cold.
        dwell_cold "Dwell on cold platens": Time,
        /// Dwell once the platens are warm.
        dwell_warm "Dwell on warm platens": Time,
        /// Where the platens' temperature settles when a shirt goes on.
        platen_warm "Platens settle at": Temperature,
        /// The turn of the carousel in which the cold dwell, kept, overheats the print.
        overheats_at "First overheated turn": Option<u32>,
        /// Lower end of the usual height over the print.
        height_low "Flash height from": Length as Print,
        /// Upper end of the usual height over the print.
        height_high "Flash height to": Length as Print,
        /// The flash: its stock name, or the shop's own.
        flash "Flash": String,
        /// Temperature to set the flash's panel to, where it has one.
        panel "Panel temperature": Option<Temperature>,
        /// The film must reach this to be firm; an ink with water must be dry instead.
        gel "Gels at": Option<Temperature>,
        /// The most that an infrared gun may read on the print, right after the flash.
        gun_most "Highest gun reading": Temperature,
    }
}

answer! {
    /// What a wired probe in the ink should show.
    pub struct ExpectedReading {
        /// Distance from the entry of the tunnel.
        at "Distance from entry": Length as Machine,
        /// Time after the entry.
        time "Time from entry": Time,
        /// Temperature that the model expects there.
        expect "Expected reading": Temperature,
        /// Least that the probe must show, where the ink must have reached something.
        least "Reading at least": Option<Temperature>,
        /// Most that the probe may show.
        most "Reading at most": Temperature,
    }
}

answer! {
    /// The dryer.
    pub struct DryerSheet {
        /// Slowest belt that does not scorch.
        slowest "Slowest without scorching": Velocity,
        /// Fastest belt that cures.
        fastest "Fastest that cures": Velocity,
        /// The belt speed to start with.
        recommended "Starting belt speed": Velocity,
        /// Time under heat at the belt speed to start with.
        dwell "Dwell time": Time,
        /// What ends the window at each end.
        limits "Window limits": Limits,
        /// The zones to set, in the order of the belt.
        zones "Zones": Vec<Zone>,
        /// Pieces an hour on the belt.
        pieces_per_hour "Pieces per hour": f64,
        /// The ink that sets the dwell.
        hardest_ink "Dwell set by": String,
        /// What to look for with a probe.
        probe_readings "Expected probe readings": Vec<ExpectedReading>,
    }
}

answer! {
    /// The run of one placement.
    pub struct RunSheet {
        /// The print.
        placement "Placement": String,
        /// Time from one index of the carousel to the next; by hand, from one piece to the next.
        cycle "Cycle time": Time,
        /// How often a shirt goes round the carousel; by hand, once.
        rounds "Rounds": u32,
        /// Which heads are down in each round, on a carousel.
        by_round "Heads by round": Vec<PressRound>,
        /// Time from one piece to the next on the press: rounds times cycle.
        time_per_piece "Time per piece": Time,
        /// Pieces an hour while running.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace.
        bottleneck "Bottleneck": String,
        /// What would set the pace were the bottleneck gone.
        next_bottleneck "Next bottleneck": String,
        /// Time for work on the screens, before and after the run.
        setup_time "Work on screens": Time,
        /// Time for printing all pieces, rest and stops included.
        run_time "Printing time": Time,
    }
}

answer! {
    /// The press: all placements together.
    pub struct PressSheet {
        /// Shirts an hour with all their prints, while running.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace of the slowest print.
        bottleneck "Bottleneck": String,
        /// What would set the pace were the bottleneck gone.
        next_bottleneck "Next bottleneck": String,
        /// Time for work on the screens, before and after the run.
        setup_time "Work on screens": Time,
        /// Time for printing all pieces, rest and stops included.
        run_time "Printing time": Time,
        /// The run of each print by itself.
        runs "Runs by placement": Vec<RunSheet>,
    }
}

answer! {
    /// The hours of the whole order.
    pub struct HoursSheet {
        /// Work on all screens before the runs.
        setup "Setting up": Time,
        /// Printing all pieces, rest and stops included.
        run "Printing": Time,
        /// Work on all screens after the runs.
        clearing "Clearing": Time,
        /// All of it.
        total "Whole order": Time,
    }
}

answer! {
    /// Blanks of one size.
    pub struct SizeSheet {
        /// The size on the label.
        size "Size": String,
        /// Pieces ordered.
        pieces "Pieces ordered": u32,
        /// Blanks of this size to start with.
        start_with "Blanks to start": u32,
    }
}

answer! {
    /// Blanks to start with.
    pub struct BlanksSheet {
        /// Blanks to start with, all sizes.
        start_with "Blanks to start": u32,
        /// The chance that every size comes out complete.
        probability "Chance of enough": f64,
        /// Blanks by size, where the order names sizes.
        sizes "Sizes": Vec<SizeSheet>,
        /// Further blanks of the same cloth, any size, to print and wash to pieces.
        for_wash_test "Extra for wash test": u32,
    }
}

impl BlanksSheet {
    /// All that is printed: the prints for the wash test are printed too.
    pub(super) fn prints(&self) -> u32 {
        self.start_with.saturating_add(self.for_wash_test)
    }
}

answer! {
    /// All ink of one kind.
    pub struct InkTotal {
        /// The ink.
        ink "Ink": String,
        /// The colour.
        colour "Colour": String,
        /// Screens that use it.
        screens "Screens": Vec<String>,
        /// Mass of the ink on the prints.
        mass_printed "Ink on prints": Mass,
        /// Mass of the ink to have ready.
        mass_to_mix "Ink to mix": Mass,
        /// Volume of the ink to have ready.
        volume_to_mix "Volume to mix": Volume,
    }
}

answer! {
    /// Inks that lie on one another.
    pub struct StackSheet {
        /// The print.
        placement "Placement": String,
        /// The inks, from the cloth up.
        inks "Inks": Vec<String>,
        /// How each ink holds on the one below it.
        bonds "Bonds": Vec<InkPair>,
    }
}

answer! {
    /// The wash test.
    pub struct WashTest {
        /// Every stack of inks to test.
        stacks "Ink stacks": Vec<StackSheet>,
        /// When to take a print of each stack.
        take "When to take": Vec<String>,
        /// Prints to take of each stack.
        prints "Prints per stack": u32,
        /// Washes that each print goes through.
        washes "Washes per print": u32,
        /// Share of the run that survives, at least, if all pass.
        survival_lower_bound_fraction "Least surviving share": f64,
        /// How sure the surviving share is.
        confidence "Confidence": f64,
        /// What the test proves and what it does not.
        proves "What it proves": String,
    }
}

answer! {
    /// Something to be signed for by hand.
    pub struct SignOff {
        /// What is looked at.
        what "To look at": String,
        /// What it must show.
        check "Must show": String,
        /// What is filled in by hand.
        fill_in "Fill in by hand": Vec<String>,
    }
}

answer! {
    /// Whether the colours will meet.
    pub struct RegisterSheet {
        /// The print with the most colours.
        placement "Placement": String,
        /// Number of colours of that print.
        colours "Number of colours": u32,
        /// How the print's screens are set to one another.
        method "Method": String,
        /// By how much neighbouring colours overlap.
        trap "Trap": Length as Print,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability "Chance wanted": f64,
        /// Overlap that the colours need for the chance wanted.
        trap_needed "Trap needed": Length as Print,
        /// The chance that the second colour lies within the trap of the first.
        pair_within_probability "Chance two meet": f64,
        /// The chance that all colours lie within the trap of the first: a good set.
        all_within_probability "Chance all meet": f64,
        /// The first colour whose own chance is below the one wanted.
        leaves_trap_at "First doubtful colour": Option<u32>,
        /// The chance that all colours of the first print lie within the trap, before anything is adjusted.
        setup_within_probability "Chance unadjusted": f64,
        /// The share of the prints with all colours within the trap, once the set-up is adjusted on a test print.
        adjusted_within_probability "Prints that meet, adjusted": f64,
    }
}

answer! {
    /// The run sheet of an order.
    pub struct Plan {
        /// What the order is called.
        title "Order name": Option<String>,
        /// Good pieces ordered.
        pieces "Pieces ordered": u32,
        /// When the order is due.
        due "Due date": Option<String>,
        /// The cloth, by its stock name; the order's own where it describes one.
        cloth "Cloth": String,
        /// The prints on a shirt.
        placements "Placements": Vec<PlacementSheet>,
        /// The screens, in print order, placement by placement.
        screens "Screens": Vec<ScreenSheet>,
        /// What each place on the press is for.
        heads "Places on press": Vec<HeadSheet>,
        /// The flashes, each after its screen.
        flash "Flashes": Vec<FlashSheet>,
        /// The dryer.
        dryer "Dryer": DryerSheet,
        /// The press.
        press "Press": PressSheet,
        /// The hours of the whole order.
        hours "Hours": HoursSheet,
        /// Whether the colours will meet.
        register "Register": Option<RegisterSheet>,
        /// Blanks to start with.
        blanks "Blanks": BlanksSheet,
        /// Total of each kind of ink.
        ink_totals "Ink by colour": Vec<InkTotal>,
        /// The wash test.
        wash_test "Wash test": WashTest,
        /// What is signed for by hand.
        sign_off "Sign-off": Vec<SignOff>,
    }
}
