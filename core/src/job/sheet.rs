//! The run sheet: everything that a person at the press sets by hand, and how the work is proved.

use crate::dryer::{Limits, Zone};
use crate::exposure::Cause;
use crate::ink::Pot;
use crate::mesh::{Geometry, Hold};
use crate::press::FrameInside;
use crate::quantity::{Angle, Count, Length, Mass, Temperature, Tension, Time, Velocity, Volume};
use crate::stencil::Verdict;
use crate::wash::InkPair;
use crate::wire::{answer, words};

answer! {
    /// The stencil of a screen.
    pub struct StencilSheet {
        /// Lower end of the range aimed at over the mesh.
        target_low "Target low": Length as Film,
        /// Upper end of the range aimed at.
        target_high "Target high": Length as Film,
        /// What a gauge reads at the lower end, mesh and stencil together.
        gauge_low "Gauge low": Length as Film,
        /// What a gauge reads at the upper end.
        gauge_high "Gauge high": Length as Film,
        /// Stencil over the mesh that the film is reckoned with.
        over_mesh "Over mesh": Length as Film,
        /// Whether that was measured; without a gauge there is no verdict.
        measured "Measured": bool,
        /// What a measured stencil amounts to.
        verdict "Verdict": Option<Verdict>,
        /// A coating that usually builds the target, print side : squeegee side.
        coats "Coats": String,
        /// Exposure for this screen, where the shop has an exposure test.
        exposure_time "Exposure time": Option<Time>,
        /// Why it is not the tested time: each reason with its factor.
        exposure_causes "Exposure causes": Vec<Cause>,
    }
}

answer! {
    /// The blade of a screen.
    pub struct BladeSheet {
        /// Its length.
        length "Length": Length as Print,
        /// Its hardness, shore A.
        hardness "Hardness": f64,
        /// Blade to mesh; 90 degrees is upright.
        angle "Angle": Angle,
        /// How hard to press, in words: no gauge of a press is like another's.
        pressure "Pressure": String,
    }
}

answer! {
    /// Whether the screen holds its art.
    pub struct DetailSheet {
        /// Finest line of this mesh.
        finest_line "Finest line": Length as Film,
        /// Finest line of the art, where it is known.
        wanted "Wanted": Option<Length> as Film,
        /// Whether the mesh holds it.
        verdict "Verdict": Option<Hold>,
    }
}

answer! {
    /// A halftone on its mesh.
    pub struct HalftoneSheet {
        /// Rows of dots per length.
        ruling "Ruling": Count,
        /// Direction of the rows on the frame.
        angle "Angle": Angle,
        /// The widest bands that its beat against the mesh shows.
        widest_beat "Widest beat": Option<Length> as Print,
        /// The angle with the least of them.
        best_angle "Best angle": Angle,
        /// Lightest tone that this mesh holds.
        tone_min_fraction "Tone min": Option<f64>,
        /// Darkest tone that stays open.
        tone_max_fraction "Tone max": Option<f64>,
    }
}

answer! {
    /// Strokes of one hit.
    pub struct Strokes {
        /// Flood strokes.
        flood "Flood": u32,
        /// Print strokes.
        print "Print": u32,
    }
}

answer! {
    /// Something to stir in.
    pub struct AdditiveSheet {
        /// What it is.
        name "Name": String,
        /// Its mass over the mass of the ink.
        fraction "Fraction": f64,
        /// How much of it for all the ink of the screen.
        mass "Mass": Mass,
        /// How much of it goes into each pot.
        mass_per_pot "Mass per pot": Mass,
    }
}

answer! {
    /// A print on the shirt.
    pub struct PlacementSheet {
        /// Where it is.
        name "Name": String,
        /// Across the stroke.
        width "Width": Length as Print,
        /// Along the stroke.
        height "Height": Length as Print,
        /// From the collar seam to the top of the print.
        below_collar "Below collar": Option<Length> as Print,
    }
}

answer! {
    /// A screen, in print order.
    pub struct ScreenSheet {
        /// What it is called.
        name "Name": String,
        /// The print it belongs to.
        placement "Placement": String,
        /// The station of the press it stands at; by hand, its arm.
        station "Station": u32,
        /// Its ink: the stock name, or the screen whose own ink it is.
        ink "Ink": String,
        /// Its mesh.
        mesh "Mesh": Geometry,
        /// The tension to stretch it to.
        target_tension "Target tension": Tension,
        /// When to set it to the others of its print: first, second, and so on.
        set "Set": u32,
        /// Its stencil.
        stencil "Stencil": StencilSheet,
        /// Whether it holds its art.
        detail "Detail": DetailSheet,
        /// Its halftone.
        halftone "Halftone": Option<HalftoneSheet>,
        /// Least inside of its frame.
        frame_least "Frame least": FrameInside,
        /// Its blade.
        blade "Blade": BladeSheet,
        /// From the mesh to the garment.
        off_contact "Off contact": Length as Print,
        /// Speed of blade and flood bar to start with.
        stroke_speed "Stroke speed": Velocity as Stroke,
        /// Strokes of one hit.
        strokes "Strokes": Strokes,
        /// Prints of this screen, with a flash between them.
        hits "Hits": u32,
        /// Film as printed.
        wet_film "Wet film": Length as Film,
        /// Film when dry.
        dry_film "Dry film": Length as Film,
        /// Ink on one print.
        mass_per_print "Mass per print": Mass,
        /// Ink to have ready.
        mass_to_mix "Mass to mix": Mass,
        /// What to stir in.
        additives "Additives": Vec<AdditiveSheet>,
        /// Mix no more than lasts this long, and mix again after it.
        mix_again_after "Mix again after": Option<Time>,
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
        /// What happens there.
        role "Role": HeadRole,
        /// The screen it serves.
        screen "Screen": Option<String>,
    }
}

answer! {
    /// The flash after a screen.
    pub struct FlashSheet {
        /// The screen it follows.
        screen "Screen": String,
        /// The print it belongs to.
        placement "Placement": String,
        /// Dwell while the platens are cold.
        dwell_cold "Dwell cold": Time,
        /// Dwell once the platens are warm.
        dwell_warm "Dwell warm": Time,
        /// Where the platens' temperature settles when a shirt goes on.
        platen_warm "Platen warm": Temperature,
        /// The turn of the carousel in which the cold dwell, kept, overheats the print.
        overheats_at "Overheats at": Option<u32>,
        /// Lower end of the usual height over the print.
        height_low "Height low": Length as Print,
        /// Upper end of the usual height over the print.
        height_high "Height high": Length as Print,
        /// The flash: its stock name, or the shop's own.
        flash "Flash": String,
        /// Temperature to set its panel to, where it has one.
        panel "Panel": Option<Temperature>,
        /// The film must reach this to be firm; an ink with water must be dry instead.
        gel "Gel": Option<Temperature>,
        /// An infrared gun on the print, right after the flash, must not read more.
        gun_most "Gun most": Temperature,
    }
}

answer! {
    /// What a wired probe in the ink should show.
    pub struct ProbeReading {
        /// Distance from the entry of the tunnel.
        at "At": Length as Machine,
        /// Time after the entry.
        time "Time": Time,
        /// What the model expects there.
        expect "Expect": Temperature,
        /// At least this much, where the ink must have reached something.
        least "Least": Option<Temperature>,
        /// Never more.
        most "Most": Temperature,
    }
}

answer! {
    /// The dryer.
    pub struct DryerSheet {
        /// Slowest belt that does not scorch.
        slowest "Slowest": Velocity,
        /// Fastest belt that cures.
        fastest "Fastest": Velocity,
        /// The belt speed to start with.
        recommended "Recommended": Velocity,
        /// Time under heat at that speed.
        dwell "Dwell": Time,
        /// What ends the window at each end.
        limits "Limits": Limits,
        /// The zones to set, in the order of the belt.
        zones "Zones": Vec<Zone>,
        /// Pieces an hour on the belt.
        pieces_per_hour "Pieces per hour": f64,
        /// The ink that sets the dwell.
        hardest_ink "Hardest ink": String,
        /// What to look for with a probe.
        probe_readings "Probe readings": Vec<ProbeReading>,
    }
}

answer! {
    /// The run of one placement.
    pub struct RunSheet {
        /// The print.
        placement "Placement": String,
        /// From one piece to the next, one turn of the carousel.
        cycle "Cycle": Time,
        /// Pieces an hour while running.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace.
        bottleneck "Bottleneck": String,
        /// What would set it next.
        next_bottleneck "Next bottleneck": String,
        /// Work on the screens.
        setup_time "Setup time": Time,
        /// Printing time.
        run_time "Run time": Time,
    }
}

answer! {
    /// The press: all placements together.
    pub struct PressSheet {
        /// Shirts an hour with all their prints, while running.
        pieces_per_hour "Pieces per hour": f64,
        /// What sets the pace of the slowest print.
        bottleneck "Bottleneck": String,
        /// What would set it next.
        next_bottleneck "Next bottleneck": String,
        /// Work on the screens.
        setup_time "Setup time": Time,
        /// Printing time.
        run_time "Run time": Time,
        /// Each print by itself.
        runs "Runs": Vec<RunSheet>,
    }
}

answer! {
    /// Blanks of one size.
    pub struct SizeSheet {
        /// The size on the label.
        size "Size": String,
        /// Pieces ordered.
        pieces "Pieces": u32,
        /// Blanks to start with.
        start_with "Start with": u32,
    }
}

answer! {
    /// Blanks to start with.
    pub struct BlanksSheet {
        /// Blanks to start with, all sizes.
        start_with "Start with": u32,
        /// The chance that every size comes out complete.
        probability "Probability": f64,
        /// By size, where the order names sizes.
        sizes "Sizes": Vec<SizeSheet>,
        /// More of the same cloth, any size, to print and wash to pieces.
        for_wash_test "For wash test": u32,
    }
}

answer! {
    /// All ink of one kind.
    pub struct InkTotal {
        /// The ink.
        ink "Ink": String,
        /// Screens that use it: a colour each.
        screens "Screens": Vec<String>,
        /// On the prints.
        mass_printed "Mass printed": Mass,
        /// To have ready.
        mass_to_mix "Mass to mix": Mass,
        /// The same by volume.
        volume_to_mix "Volume to mix": Volume,
    }
}

answer! {
    /// Inks that lie on one another.
    pub struct StackSheet {
        /// The print.
        placement "Placement": String,
        /// From the cloth up.
        inks "Inks": Vec<String>,
        /// How each ink holds on the one below it.
        bonds "Bonds": Vec<InkPair>,
    }
}

answer! {
    /// The wash test.
    pub struct WashTest {
        /// Every stack of inks to test.
        stacks "Stacks": Vec<StackSheet>,
        /// When to take a print of each.
        take "Take": Vec<String>,
        /// Prints of each stack.
        prints "Prints": u32,
        /// Washes for each.
        washes "Washes": u32,
        /// Share of the run that survives, at least, if all pass.
        survival_lower_bound_fraction "Survival lower bound": f64,
        /// How sure that is.
        confidence "Confidence": f64,
        /// What that proves and what it does not.
        proves "Proves": String,
    }
}

answer! {
    /// Something to be signed for by hand.
    pub struct SignOff {
        /// What is looked at.
        what "What": String,
        /// What it must show.
        check "Check": String,
        /// What is filled in by hand.
        fill_in "Fill in": Vec<String>,
    }
}

answer! {
    /// Whether the colours will meet.
    pub struct RegisterSheet {
        /// The print with the most colours.
        placement "Placement": String,
        /// Its colours.
        colours "Colours": u32,
        /// How its screens are set to one another.
        method "Method": String,
        /// By how much neighbouring colours overlap.
        trap "Trap": Length as Print,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability "Wanted probability": f64,
        /// Overlap that the colours need for it.
        trap_needed "Trap needed": Length as Print,
        /// The chance that the second colour lies within the trap of the first.
        pair_within_probability "Pair within probability": f64,
        /// The chance that all colours do: a good set.
        all_within_probability "All within probability": f64,
        /// The first colour whose own chance is below the one wanted.
        leaves_trap_at "Leaves trap at": Option<u32>,
    }
}

answer! {
    /// The run sheet of an order.
    pub struct Plan {
        /// What the order is called.
        title "Title": Option<String>,
        /// Good pieces ordered.
        pieces "Pieces": u32,
        /// When it is due.
        due "Due": Option<String>,
        /// The cloth, by its stock name; the order's own where it describes one.
        cloth "Cloth": String,
        /// The prints on a shirt.
        placements "Placements": Vec<PlacementSheet>,
        /// In print order, placement by placement.
        screens "Screens": Vec<ScreenSheet>,
        /// What each place on the press is for.
        heads "Heads": Vec<HeadSheet>,
        /// Each flash.
        flash "Flash": Vec<FlashSheet>,
        /// The dryer.
        dryer "Dryer": DryerSheet,
        /// The press.
        press "Press": PressSheet,
        /// Whether the colours will meet.
        register "Register": Option<RegisterSheet>,
        /// Blanks.
        blanks "Blanks": BlanksSheet,
        /// Ink by kind.
        ink_totals "Ink totals": Vec<InkTotal>,
        /// The wash test.
        wash_test "Wash test": WashTest,
        /// What is signed for by hand.
        sign_off "Sign off": Vec<SignOff>,
    }
}
