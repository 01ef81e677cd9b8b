//! What a shop writes down of its jobs.

use crate::cloth::{Cloth, SURFACE};
use crate::dryer::ProbeRun;
use crate::error::{Code, Error};
use crate::exposure::{STEP, TIME};
use crate::flash::FlashTrial;
use crate::ink::{AREA, EDGE, HITS, Ink, STROKES, WEIGHT};
use crate::mesh::Mesh;
use crate::quantity::{Area, Length, Mass, Rank, Rules, Time, units};
use crate::stencil::{EDGE_REACH, OVER_MESH};
use crate::wire::{At, Record, Remarks, View, request, words};
use serde_json::Value;

const FILM: Rules =
    Rules::range(units::UM, 1.0, 5_000.0).usual(5.0, 400.0).unless_given("40 um: a base and a colour on it");
const WANTED: Rules = STEP.unless_given("that of the shop's exposure test, else 7");
const DENSITY_STEP: Rules = Rules::range(units::ONE, 0.01, 1.0)
    .usual(0.05, 0.31)
    .rank(Rank::Rare)
    .unless_given("that of the shop's exposure test, else 0.15");
/// No set-up takes no time.
const SETUP: Rules = Rules::range(units::MIN, 0.1, 1_440.0).usual(1.0, 600.0);
const SCREENS: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 24.0);

words! {
    /// What a record tells of.
    pub enum RecordKind ("kind of record") {
        /// Prints that were weighed, as in ink.weigh: the release.
        Weigh = "weigh",
        /// Runs of a probe through the shop's dryer, as in dryer.fit: its factors.
        Probe = "probe",
        /// Flashes with readings, as in flash.fit: the factors of the shop's flash.
        Flash = "flash",
        /// An exposure read off a step scale, as in exposure.step: the time of that mesh.
        StepScale = "step_scale",
        /// Time for setting up a job.
        Setup = "setup",
        /// Pieces of a job that were spoiled.
        Spoilage = "spoilage",
    }
}

impl RecordKind {
    /// The fields that such a record needs, and those that it may have.
    const fn fields(self) -> (&'static [&'static str], &'static [&'static str]) {
        match self {
            Self::Weigh => (
                &["mesh", "ink", "printed_area", "prints", "mass_before", "mass_after"],
                &["over_mesh", "strokes", "hits", "edge_length", "edge_length_scale", "surface_take"],
            ),
            Self::Probe => (&["ink", "cloth", "runs"], &["film"]),
            Self::Flash => (&["ink", "cloth", "flashes"], &["film"]),
            Self::StepScale => (&["mesh", "time", "solid_step"], &["wanted_step", "density_per_step"]),
            Self::Setup => (&["setup_time", "screens"], &[]),
            Self::Spoilage => (&["pieces", "spoiled"], &[]),
        }
    }
}

request! {
    /// A record of a past job: its kind says which of the other fields it has.
    pub struct ShopRecord {
        /// What the record tells of.
        kind "Kind of record": RecordKind where Rules::NONE.rank(Rank::First),
        /// The ink that was weighed, or under the probe or the gun.
        ink "Ink": Option<Ink> where Rules::NONE.group("The print"),
        /// The mesh of the screen.
        mesh "Mesh": Option<Mesh> where Rules::NONE.group("The print"),
        /// The cloth under the ink.
        cloth "Cloth": Option<Cloth> where Rules::NONE.group("The print"),
        /// Wet thickness of the ink stack under the probe or the gun.
        film "Wet ink stack": Option<Length> where FILM.group("The print"),
        /// Stencil over the mesh on the print side.
        over_mesh "Stencil over mesh": Option<Length> where OVER_MESH.group("Weighed prints"),
        /// Print strokes of one hit.
        strokes "Print strokes": Option<u32> where STROKES.group("Weighed prints").unless_given("the ink's own"),
        /// Prints of the same screen with a flash between them.
        hits "Number of hits": Option<u32> where HITS.group("Weighed prints"),
        /// The printed area of one print.
        printed_area "Printed area": Option<Area> where AREA.group("Weighed prints"),
        /// Length of all edges of the printed area.
        edge_length "Total edge length": Option<Length> where EDGE.group("Weighed prints").unless_given("a wide solid"),
        /// How far an edge of the stencil thickens the film.
        edge_length_scale "Reach of an edge": Option<Length> where EDGE_REACH.group("Weighed prints"),
        /// Ink that the surface of the cloth drinks before a film lies on it, where this is the first ink on it.
        surface_take "Ink the surface takes": Option<Length> as InkVolume
            where SURFACE.group("Weighed prints").unless_given("none, as a smooth jersey"),
        /// Prints between the two weighings.
        prints "Prints between weighings": Option<u32> where Rules::count(1.0).group("Weighed prints"),
        /// Mass of the garments before printing, or of pot, screen and tools.
        mass_before "Weight before": Option<Mass> where WEIGHT.group("Weighed prints"),
        /// Mass of the same things after printing, wet.
        mass_after "Weight after": Option<Mass> where WEIGHT.group("Weighed prints"),
        /// Trips of a probe through the shop's dryer.
        runs "Probe runs": Option<Vec<ProbeRun>> where Rules::NONE.group("Readings of heat"),
        /// Flashes of known dwell under the shop's flash.
        flashes "Flashes": Option<Vec<FlashTrial>> where Rules::NONE.group("Readings of heat"),
        /// The exposure that was tried.
        time "Time tried": Option<Time> where TIME.group("The step scale"),
        /// The last step that stayed solid.
        solid_step "Last solid step": Option<f64> where STEP.group("The step scale"),
        /// The step that should be the last solid one.
        wanted_step "Step wanted": Option<f64> where WANTED.group("The step scale"),
        /// Optical density from step to step.
        density_per_step "Density per step": Option<f64> where DENSITY_STEP.group("The step scale"),
        /// Time for setting up all screens of the job.
        setup_time "Set-up time": Option<Time> where SETUP.group("The job"),
        /// Screens that were set up in that time.
        screens "Number of screens": Option<u32> where SCREENS.group("The job"),
        /// Pieces started.
        pieces "Pieces started": Option<u32> where Rules::count(1.0).group("The job"),
        /// Those of them that were spoiled.
        spoiled "Pieces spoiled": Option<u32> where Rules::count(0.0).group("The job"),
    }
    fits(is_record)
}

/// What the fields of a record cannot say one by one.
///
/// # Errors
/// `missing_field` for a field that its kind needs; `impossible` for one that its kind has not, and for more spoiled than started.
fn is_record(record: &dyn Record, at: At<'_>, _value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(own) = record.to::<ShopRecord>() else { return Ok(()) };
    let (needs, may) = own.kind.fields();
    for (index, name) in record.table().names().enumerate().filter(|(_, name)| *name != "kind") {
        let there = !matches!(record.view(index), View::Absent);
        if needs.contains(&name) && !there {
            let message = format!("a record of the kind `{}` needs `{name}`", own.kind.text());
            return Err(Error::new(Code::MissingField, at.key(name), message).allowed([name]));
        }
        if there && !needs.contains(&name) && !may.contains(&name) {
            let message = format!(
                "a record of the kind `{}` has no `{name}`: leave it out, or correct the kind",
                own.kind.text()
            );
            let allowed = needs.iter().chain(may).copied();
            return Err(Error::new(Code::Impossible, at.key(name), message).allowed(allowed));
        }
    }
    if let (Some(pieces), Some(spoiled)) = (own.pieces, own.spoiled)
        && spoiled > pieces
    {
        let message = "more pieces were spoiled than were started";
        return Err(Error::new(Code::Impossible, at.key("spoiled"), message)
            .got(&Value::from(spoiled))
            .allowed([format!("at most {pieces}")]));
    }
    Ok(())
}
