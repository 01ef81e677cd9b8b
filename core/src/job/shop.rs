//! The shop: its machines and its habits.

use crate::artwork::GROWTH;
use crate::dryer::Dryer;
use crate::exposure::{DENSITY_STEP, DEPTH, MESH_FACTOR, STEP, TIME, WANTED};
use crate::flash::{Flash, Platen};
use crate::ink::{Air, LEFT, WASTE};
use crate::mesh::Mesh;
use crate::press::{CONFIDENCE, EFFICIENCY, FREE, FrameInside, KNOWN_FROM, PER_SCREEN, Press, SPOILAGE};
use crate::quantity::{Angle, Length, Mass, OVERLAP, Rank, Rules, Time, units};
use crate::register::{Cause, Method, WANTED_WITHIN};
use crate::source::Source;
use crate::stencil::COATED;
use crate::tension::Frame;

use crate::wire::{request, words};

const SHORE: Rules = Rules::range(units::ONE, 20.0, 100.0).usual(50.0, 95.0);
const ANGLE: Rules = Rules::range(units::DEG, 1.0, 90.0).usual(45.0, 85.0);
const GAP: Rules = Rules::range(units::MM, 0.0, 50.0).usual(0.5, 8.0);
const OVER_MESH_SHARE: Rules = Rules::range(units::ONE, 0.0, 20.0).usual(0.05, 0.5);

request! {
    /// An exposure that was read off a step scale.
    pub struct ExposureTest {
        /// The time that was tried.
        time "Time tried": Time where TIME.group("The step scale"),
        /// The last step that stayed solid.
        solid_step "Last solid step": f64 where STEP.group("The step scale"),
        /// The step that should be the last solid one.
        wanted_step "Step wanted": f64 where WANTED.group("The step scale"),
        /// Optical density from step to step.
        density_per_step "Density per step": f64 where DENSITY_STEP.rank(Rank::Rare).group("The step scale"),
        /// The mesh it was tried on.
        tested_on "Tested mesh": Mesh where Rules::NONE.group("The tested screen"),
        /// Exposure factor of the tested mesh against white mesh; 1 is white.
        mesh_factor "Mesh exposure factor": Option<f64> where MESH_FACTOR.group("The tested screen"),
        /// Thickness of mesh and stencil together on the tested screen.
        coated_thickness "Coated thickness": Option<Length> where COATED.group("The tested screen"),
        /// The depth in which the light falls by a factor e in this emulsion: exposure.curve finds it.
        penetration_depth "Penetration depth": Option<Length> where DEPTH.rank(Rank::Rare).group("The tested screen"),
    }
    inside("stock")
}

request! {
    /// How a shop sets its screens to one another.
    pub struct Registering {
        /// The way of setting them: a stock cause of misregister by its name, or one of the shop's own.
        method "Method": Method,
        /// What moves the colours beside the method.
        sources "Other causes": Vec<Cause>,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability "Chance wanted": f64 where WANTED_WITHIN,
    }
    inside("stock")
}

words! {
    /// What the stencils of a shop resist.
    pub enum StencilResists ("resistance of a stencil") {
        /// Water: they last under water-based ink.
        Water = "water",
        /// Solvents and plastisol, not water.
        Solvent = "solvent",
        /// Both.
        Both = "both",
    }
}

request! {
    /// A shop.
    pub struct Shop {
        /// The press.
        press "Press": Press where Rules::NONE.group("The machines"),
        /// The flash.
        flash "Flash": Flash where Rules::NONE.group("The machines"),
        /// The platens.
        platen "Platen": Platen where Rules::NONE.group("The machines"),
        /// The dryer.
        dryer "Dryer": Dryer where Rules::NONE.group("The machines"),
        /// Stencil over the mesh as a share of the mesh thickness, where a screen was not measured.
        over_mesh_fraction "Stencil share of mesh": f64 where OVER_MESH_SHARE.group("The screens"),
        /// Ink wasted, as a share of what is printed.
        waste_fraction "Ink wasted": f64 where WASTE.group("Losses"),
        /// Ink that stays in the screen at the end.
        left_in_screen "Ink left in screen": Mass where LEFT.group("Losses"),
        /// Share of the pieces that are spoiled.
        spoilage_fraction "Spoiled share": f64 where SPOILAGE.group("Losses"),
        /// Pieces that the spoiled share is as well known from as by counting it on them; shop.learn tells them.
        spoilage_known_from "Pieces behind that share": Option<f64> where KNOWN_FROM.group("Losses"),
        /// The chance wanted of a complete order.
        confidence "Wanted chance of enough": f64 where CONFIDENCE.group("Losses"),
        /// How far the blade stands over the image on each side.
        blade_overlap "Blade overlap": Length where OVERLAP.group("The blade"),
        /// Free mesh between blade or stroke end and frame, at each end.
        free_mesh "Free mesh": Length where FREE.group("The screens"),
        /// The inside of its frames.
        frame_inside "Frame inside": Option<FrameInside> where Rules::NONE.group("The screens"),
        /// How far every edge of a halftone's dots moves out on its prints (artwork.tone).
        dot_growth "Growth of dots": Option<Length> as Film where GROWTH.unless_given("20 um").group("The screens"),
        /// Gap from the mesh to the garment, not to the platen.
        off_contact "Off-contact gap": Length where GAP.group("The screens"),
        /// Hardness of the blade, shore A.
        blade_hardness "Blade hardness": f64 where SHORE.group("The blade"),
        /// Hardness of the blade for water-based ink, shore A.
        blade_hardness_water_based "Water-based blade hardness": f64 where SHORE.group("The blade"),
        /// Angle from blade to mesh; 90 degrees is upright.
        blade_angle "Blade angle": Angle where ANGLE.group("The blade"),
        /// Time for work on each screen before the run.
        setup_per_screen "Setup per screen": Time where PER_SCREEN.group("Work on screens"),
        /// Time for work on each screen after the run.
        teardown_per_screen "Teardown per screen": Time where PER_SCREEN.group("Work on screens"),
        /// Share of the running time in which the press really prints, rest and stops taken off.
        efficiency_fraction "Share not stopped": f64
            where EFFICIENCY.or(0.85, Source::memory("nine minutes of rest and stops in an hour")).group("Losses"),
        /// How the shop sets its screens to one another.
        register "Register": Option<Registering> where Rules::NONE.group("The screens"),
        /// What its stencils resist.
        stencil_resists "Stencil resists": Option<StencilResists> where Rules::NONE.group("The screens"),
        /// An exposure read off a step scale.
        exposure "Exposure test": Option<ExposureTest> where Rules::NONE.group("The screens"),
        /// What the meshes are stretched on: no target tension is higher than it holds.
        frame "Kind of frame": Option<Frame> where Rules::NONE.unless_given("retensionable").group("The screens"),
        /// The air of the print room, in which water-based ink dries in the screen.
        air "Room air": Option<Air> where Rules::NONE.group("The screens"),
    }
    stock("shop", "../stock/shops.json")
}
