//! The shop: its machines and its habits.

use crate::dryer::Dryer;
use crate::exposure::{DENSITY_STEP, DEPTH, MESH_FACTOR, STEP, TIME, WANTED};
use crate::flash::{Flash, Platen};
use crate::ink::{LEFT, WASTE};
use crate::mesh::Mesh;
use crate::press::{CONFIDENCE, FREE, PER_SCREEN, Press, SPOILAGE};
use crate::quantity::{Angle, Length, Mass, Rules, Time, units};
use crate::register::{Cause, Method, WANTED_WITHIN};
use crate::stencil::COATED;

use crate::tension::OVERLAP;
use crate::wire::request;

const SHORE: Rules = Rules::range(units::ONE, 20.0, 100.0).usual(50.0, 95.0);
const ANGLE: Rules = Rules::range(units::DEG, 1.0, 90.0).usual(45.0, 85.0);
const GAP: Rules = Rules::range(units::MM, 0.0, 50.0).usual(0.5, 8.0);
const OVER_MESH_SHARE: Rules = Rules::range(units::ONE, 0.0, 20.0).usual(0.05, 0.5);

request! {
    /// An exposure that was read off a step scale.
    pub struct ExposureTest {
        /// The time that was tried.
        time "Time": Time where TIME,
        /// The last step that stayed solid.
        solid_step "Solid step": f64 where STEP,
        /// The step that should be the last solid one; 7 unless given.
        wanted_step "Wanted step": f64 where WANTED,
        /// Optical density from step to step; 0.15 unless given.
        density_per_step "Density per step": f64 where DENSITY_STEP,
        /// The mesh it was tried on.
        tested_on "Tested on": Mesh,
        /// That mesh's exposure factor against white mesh; 1 is white.
        mesh_factor "Mesh factor": Option<f64> where MESH_FACTOR,
        /// Thickness of mesh and stencil together on the tested screen.
        coated_thickness "Coated thickness": Option<Length> where COATED,
        /// The depth in which the light falls by a factor e in this emulsion: exposure.curve finds it.
        penetration_depth "Penetration depth": Option<Length> where DEPTH,
    }
}

request! {
    /// How a shop sets its screens to one another.
    pub struct Registering {
        /// The way of setting them: a stock cause of misregister by its name, or one of the shop's own.
        method "Method": Method,
        /// What moves the colours beside it.
        sources "Sources": Vec<Cause>,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability "Wanted probability": f64 where WANTED_WITHIN,
    }
}

request! {
    /// A shop.
    pub struct Shop {
        /// The press.
        press "Press": Press,
        /// The flash.
        flash "Flash": Flash,
        /// The platens.
        platen "Platen": Platen,
        /// The dryer.
        dryer "Dryer": Dryer,
        /// Stencil over the mesh as a share of the mesh thickness, where a screen was not measured.
        over_mesh_fraction "Over mesh": f64 where OVER_MESH_SHARE,
        /// Ink wasted over what is printed.
        waste_fraction "Waste": f64 where WASTE,
        /// Ink that stays in a screen.
        left_in_screen "Left in screen": Mass where LEFT,
        /// Share of the pieces that are spoiled.
        spoilage_fraction "Spoilage": f64 where SPOILAGE,
        /// The chance wanted of a complete order.
        confidence "Confidence": f64 where CONFIDENCE,
        /// How far the blade stands over the image on each side.
        blade_overlap "Blade overlap": Length where OVERLAP,
        /// Free mesh between blade or stroke end and frame, at each end.
        free_mesh "Free mesh": Length where FREE,
        /// From the mesh to the garment, not to the platen.
        off_contact "Off contact": Length where GAP,
        /// Blade hardness, shore A.
        blade_hardness "Blade hardness": f64 where SHORE,
        /// Blade hardness for water-based ink, shore A.
        blade_hardness_water_based "Blade hardness water based": f64 where SHORE,
        /// Blade to mesh; 90 degrees is upright.
        blade_angle "Blade angle": Angle where ANGLE,
        /// Work on each screen before the run.
        setup_per_screen "Setup per screen": Time where PER_SCREEN,
        /// Work on each screen after the run.
        teardown_per_screen "Teardown per screen": Time where PER_SCREEN,
        /// How it sets its screens to one another.
        register "Register": Option<Registering>,
        /// An exposure read off a step scale.
        exposure "Exposure": Option<ExposureTest>,
    }
    stock("shop", "../stock/shops.json")
}
