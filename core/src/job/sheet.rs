//! The run sheet: everything that a person at the press sets by hand, and how the work is proved.

use crate::exposure::Cause;
use crate::ink::Pot;
use crate::mesh::{Geometry, Hold};
use crate::press::Inside;
use crate::quantity::{Angle, Count, Length, Mass, Temperature, Tension, Time, Velocity, Volume};
use crate::stencil::Verdict;
use crate::wash::InkPair;
use crate::wire::{answer, words};

answer! {
    /// The stencil of a screen.
    pub struct StencilSheet {
        /// Lower end of the range aimed at over the mesh.
        target_low: Length as Film,
        /// Upper end of the range aimed at.
        target_high: Length as Film,
        /// What a gauge reads at the lower end, mesh and stencil together.
        gauge_low: Length as Film,
        /// What a gauge reads at the upper end.
        gauge_high: Length as Film,
        /// Stencil over the mesh that the film is reckoned with.
        over_mesh: Length as Film,
        /// Whether that was measured; without a gauge there is no verdict.
        measured: bool,
        /// What a measured stencil amounts to.
        verdict: Option<Verdict>,
        /// A coating that usually builds the target, print side : squeegee side.
        coats: String,
        /// Exposure for this screen, where the shop has an exposure test.
        exposure_time: Option<Time>,
        /// Why it is not the tested time: each reason with its factor.
        exposure_causes: Vec<Cause>,
    }
}

answer! {
    /// The blade of a screen.
    pub struct BladeSheet {
        /// Its length.
        length: Length as Print,
        /// Its hardness, shore A.
        hardness: f64,
        /// Blade to mesh; 90 degrees is upright.
        angle: Angle,
        /// How hard to press, in words: no gauge of a press is like another's.
        pressure: String,
    }
}

answer! {
    /// Whether the screen holds its art.
    pub struct DetailSheet {
        /// Finest line of this mesh.
        finest_line: Length as Film,
        /// Finest line of the art, where it is known.
        wanted: Option<Length> as Film,
        /// Whether the mesh holds it.
        verdict: Option<Hold>,
    }
}

answer! {
    /// A halftone on its mesh.
    pub struct HalftoneSheet {
        /// Rows of dots per length.
        ruling: Count,
        /// Direction of the rows on the frame.
        angle: Angle,
        /// The widest bands that its beat against the mesh shows.
        widest_beat: Option<Length> as Print,
        /// The angle with the least of them.
        best_angle: Angle,
        /// Lightest tone that this mesh holds.
        tone_min_fraction: Option<f64>,
        /// Darkest tone that stays open.
        tone_max_fraction: Option<f64>,
    }
}

answer! {
    /// Strokes of one hit.
    pub struct Strokes {
        /// Flood strokes.
        flood: u32,
        /// Print strokes.
        print: u32,
    }
}

answer! {
    /// Something to stir in.
    pub struct AdditiveSheet {
        /// What it is.
        name: String,
        /// Its mass over the mass of the ink.
        fraction: f64,
        /// How much of it for all the ink of the screen.
        mass: Mass,
        /// How much of it goes into each pot.
        mass_per_pot: Mass,
    }
}

answer! {
    /// A print on the shirt.
    pub struct PlacementSheet {
        /// Where it is.
        name: String,
        /// Across the stroke.
        width: Length as Print,
        /// Along the stroke.
        height: Length as Print,
        /// From the collar seam to the top of the print.
        below_collar: Option<Length> as Print,
    }
}

answer! {
    /// A screen, in print order.
    pub struct ScreenSheet {
        /// What it is called.
        name: String,
        /// The print it belongs to.
        placement: String,
        /// The station of the press it stands at; by hand, its arm.
        station: u32,
        /// Its ink: the stock name, or the screen whose own ink it is.
        ink: String,
        /// Its mesh.
        mesh: Geometry,
        /// The tension to stretch it to.
        target_tension: Tension,
        /// When to set it to the others of its print: first, second, and so on.
        set: u32,
        /// Its stencil.
        stencil: StencilSheet,
        /// Whether it holds its art.
        detail: DetailSheet,
        /// Its halftone.
        halftone: Option<HalftoneSheet>,
        /// Least inside of its frame.
        frame_least: Inside,
        /// Its blade.
        blade: BladeSheet,
        /// From the mesh to the garment.
        off_contact: Length as Print,
        /// Speed of blade and flood bar to start with.
        stroke_speed: Velocity as Stroke,
        /// Strokes of one hit.
        strokes: Strokes,
        /// Prints of this screen, with a flash between them.
        hits: u32,
        /// Film as printed.
        wet_film: Length as Film,
        /// Film when dry.
        dry_film: Length as Film,
        /// Ink on one print.
        mass_per_print: Mass,
        /// Ink to have ready.
        mass_to_mix: Mass,
        /// What to stir in.
        additives: Vec<AdditiveSheet>,
        /// Mix no more than lasts this long, and mix again after it.
        mix_again_after: Option<Time>,
        /// The pots, where the ink does not keep.
        pots: Vec<Pot>,
    }
}

words! {
    /// What a place on the press is for.
    pub enum Place ("place") {
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
        placement: String,
        /// Station, 1 being the load; by hand, the arm.
        station: u32,
        /// What happens there.
        role: Place,
        /// The screen it serves.
        screen: Option<String>,
    }
}

answer! {
    /// The flash after a screen.
    pub struct FlashSheet {
        /// The screen it follows.
        screen: String,
        /// The print it belongs to.
        placement: String,
        /// Dwell while the platens are cold.
        dwell_cold: Time,
        /// Dwell once the platens are warm.
        dwell_warm: Time,
        /// Where the platens' temperature settles when a shirt goes on.
        platen_warm: Temperature,
        /// The turn of the carousel in which the cold dwell, kept, overheats the print.
        overheats_at: Option<u32>,
        /// Lower end of the usual height over the print.
        height_low: Length as Print,
        /// Upper end of the usual height over the print.
        height_high: Length as Print,
        /// The flash: its stock name, or the shop's own.
        flash: String,
        /// Temperature to set its panel to, where it has one.
        panel: Option<Temperature>,
        /// The film must reach this to be firm; an ink with water must be dry instead.
        gel: Option<Temperature>,
        /// An infrared gun on the print, right after the flash, must not read more.
        gun_most: Temperature,
    }
}

answer! {
    /// What a wired probe in the ink should show.
    pub struct ProbeReading {
        /// Distance from the entry of the tunnel.
        at: Length as Machine,
        /// Time after the entry.
        time: Time,
        /// What the model expects there.
        expect: Temperature,
        /// At least this much, where the ink must have reached something.
        least: Option<Temperature>,
        /// Never more.
        most: Temperature,
    }
}

answer! {
    /// What ends the window of the belt.
    pub struct LimitsSheet {
        /// At the fastest belt.
        fastest: String,
        /// At the slowest belt.
        slowest: String,
    }
}

answer! {
    /// A zone of the dryer, to be set.
    pub struct ZoneSheet {
        /// Along the belt.
        length: Length as Machine,
        /// Temperature of the air.
        air: Temperature,
        /// Temperature of the panel.
        panel: Option<Temperature>,
    }
}

answer! {
    /// The dryer.
    pub struct DryerSheet {
        /// Slowest belt that does not scorch.
        slowest: Option<Velocity>,
        /// Fastest belt that cures.
        fastest: Option<Velocity>,
        /// The belt speed to start with.
        recommended: Velocity,
        /// Time under heat at that speed.
        dwell: Time,
        /// What ends the window at each end; known once it is worked out.
        limits: Option<LimitsSheet>,
        /// The zones to set, in the order of the belt.
        zones: Vec<ZoneSheet>,
        /// Pieces an hour on the belt.
        pieces_per_hour: f64,
        /// The ink that sets the dwell.
        hardest_ink: String,
        /// What to look for with a probe.
        probe_readings: Vec<ProbeReading>,
    }
}

answer! {
    /// The run of one placement.
    pub struct RunSheet {
        /// The print.
        placement: String,
        /// From one piece to the next, one turn of the carousel.
        cycle: Time,
        /// Pieces an hour while running.
        pieces_per_hour: f64,
        /// What sets the pace.
        bottleneck: String,
        /// What would set it next.
        next_bottleneck: String,
        /// Work on the screens.
        setup_time: Time,
        /// Printing time.
        run_time: Time,
    }
}

answer! {
    /// The press: all placements together.
    pub struct PressSheet {
        /// Shirts an hour with all their prints, while running.
        pieces_per_hour: f64,
        /// What sets the pace of the slowest print.
        bottleneck: String,
        /// What would set it next.
        next_bottleneck: String,
        /// Work on the screens.
        setup_time: Time,
        /// Printing time.
        run_time: Time,
        /// Each print by itself.
        runs: Vec<RunSheet>,
    }
}

answer! {
    /// Blanks of one size.
    pub struct SizeSheet {
        /// The size on the label.
        size: String,
        /// Pieces ordered.
        pieces: u32,
        /// Blanks to start with.
        start_with: u32,
    }
}

answer! {
    /// Blanks to start with.
    pub struct BlanksSheet {
        /// Blanks to start with, all sizes.
        start_with: u32,
        /// The chance that every size comes out complete.
        probability: f64,
        /// By size, where the order names sizes.
        sizes: Vec<SizeSheet>,
        /// More of the same cloth, any size, to print and wash to pieces.
        for_wash_test: u32,
    }
}

answer! {
    /// All ink of one kind.
    pub struct InkTotal {
        /// The ink.
        ink: String,
        /// Screens that use it: a colour each.
        screens: Vec<String>,
        /// On the prints.
        mass_printed: Mass,
        /// To have ready.
        mass_to_mix: Mass,
        /// The same by volume.
        volume_to_mix: Volume,
    }
}

answer! {
    /// Inks that lie on one another.
    pub struct StackSheet {
        /// The print.
        placement: String,
        /// From the cloth up.
        inks: Vec<String>,
        /// How each ink holds on the one below it.
        bonds: Vec<InkPair>,
    }
}

answer! {
    /// The wash test.
    pub struct WashTest {
        /// Every stack of inks to test.
        stacks: Vec<StackSheet>,
        /// When to take a print of each.
        take: Vec<String>,
        /// Prints of each stack.
        prints: u32,
        /// Washes for each.
        washes: u32,
        /// Share of the run that survives, at least, if all pass.
        survival_lower_bound_fraction: f64,
        /// How sure that is.
        confidence: f64,
        /// What that proves and what it does not.
        proves: String,
    }
}

answer! {
    /// Something to be signed for by hand.
    pub struct SignOff {
        /// What is looked at.
        what: String,
        /// What it must show.
        check: String,
        /// What is filled in by hand.
        fill_in: Vec<String>,
    }
}

answer! {
    /// Whether the colours will meet.
    pub struct RegisterSheet {
        /// The print with the most colours.
        placement: String,
        /// Its colours.
        colours: u32,
        /// How its screens are set to one another.
        method: String,
        /// By how much neighbouring colours overlap.
        trap: Length as Print,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability: f64,
        /// Overlap that the colours need for it.
        trap_needed: Length as Print,
        /// The chance that the second colour lies within the trap of the first.
        pair_within_probability: f64,
        /// The chance that all colours do: a good set.
        all_within_probability: f64,
        /// The first colour whose own chance is below the one wanted.
        leaves_trap_at: Option<u32>,
    }
}

answer! {
    /// The run sheet of an order.
    pub struct Plan {
        /// What the order is called.
        title: Option<String>,
        /// Good pieces ordered.
        pieces: u32,
        /// When it is due.
        due: Option<String>,
        /// The cloth, by its stock name; the order's own where it describes one.
        cloth: String,
        /// The prints on a shirt.
        placements: Vec<PlacementSheet>,
        /// In print order, placement by placement.
        screens: Vec<ScreenSheet>,
        /// What each place on the press is for.
        heads: Vec<HeadSheet>,
        /// Each flash.
        flash: Vec<FlashSheet>,
        /// The dryer.
        dryer: DryerSheet,
        /// The press.
        press: PressSheet,
        /// Whether the colours will meet.
        register: Option<RegisterSheet>,
        /// Blanks.
        blanks: BlanksSheet,
        /// Ink by kind.
        ink_totals: Vec<InkTotal>,
        /// The wash test.
        wash_test: WashTest,
        /// What is signed for by hand.
        sign_off: Vec<SignOff>,
    }
}
