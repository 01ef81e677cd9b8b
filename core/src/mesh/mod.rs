//! The mesh: how fine the cloth of a screen is, how much ink it holds, how fine it prints.
//!
//! n threads a length, each of diameter d: pitch `p = 1 / n`, opening `w = p - d`, open area `(w / p)^2` (ISO 9044), and a volume
//! of `open area x thickness` that the ink can fill: [`Mesh`].
//!
//! - [`DETAIL`]: a dot of `2 d + w` always finds a hold, one of `d + w` often does; 3.5 to 5 threads to a halftone line.
//! - [`MOIRE`]: a halftone of lattice vectors a, a' beats against threads u, u' with the period `1 / |h1 a + h2 a' - m1 u - m2 u'|`:
//!   [`beats`], [`best_angle`].

mod beat;
mod detail;
mod moire;

pub use beat::{Beat, HALFTONE_ORDERS, Lattice, MESH_ORDERS, MOST_ORDER, beats, best_angle};
pub use detail::{
    DETAIL, Detail, DetailRequest, Hold, detail, finest_gap, finest_line, hold, smallest_dot_marginal,
    smallest_dot_safe, tone,
};
pub(crate) use detail::{LINES, RULING};
pub(crate) use moire::{ANGLE, TOLERANCE, VISIBLE};
pub use moire::{MOIRE, Moire, MoireAngle, MoireBeat, MoireRequest, moire};

use crate::error::{Code, Error};
use crate::quantity::{Count, Dimensioned, Length, Rules, number, reaches, units};
use crate::source::Source;
use crate::wire::{At, Calculation, Input, Remarks, answer, calculation, in_range, request, words, wrong_type};
use serde_json::Value;

/// Threads per length that can be woven; garments are printed through 10 to 150 /cm.
const COUNT: Rules = Rules::range(units::PER_CM, 1.0, 1000.0).usual(8.0, 200.0);
/// Thread diameters that can be drawn; screen cloth has 27 to 300 um.
const THREAD: Rules = Rules::range(units::UM, 1.0, 5000.0).usual(20.0, 500.0);
const THICKNESS: Rules = Rules::range(units::UM, 1.0, 10_000.0).usual(25.0, 1000.0);

const GEOMETRY_SOURCES: &[Source] = &[
    Source::standard("ISO 9044: aperture, open area of woven wire cloth"),
    Source::common("weavers' pages: cloth thickness 1.44-1.58 thread diameters in plain weave, 1.77 in twill"),
];

words! {
    /// How the cloth is woven.
    pub enum Weave ("weave") {
        /// Over one, under one.
        Plain = "plain",
        /// Over two, under one or two: thicker at the same thread.
        Twill = "twill",
    }
}

request! {
    /// A mesh by its parts.
    pub struct MeshParts {
        /// Threads per length.
        count: Count where COUNT,
        /// Diameter of the thread before weaving.
        thread: Length where THREAD,
        /// Thickness of the woven cloth; estimated from the thread where it is not given.
        thickness: Option<Length> where THICKNESS,
        /// How it is woven; plain unless given.
        weave: Option<Weave>,
    }
}

/// The cloth of a screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mesh {
    count: Count,
    thread: Length,
    thickness: Option<Length>,
    weave: Weave,
}

impl Mesh {
    /// A plain-weave mesh by its trade designation, threads per centimetre and thread diameter in micrometres.
    ///
    /// # Errors
    /// `out_of_range` for what cannot be woven, `impossible` for a thread that fills the pitch.
    ///
    /// ```
    /// use floodbar::mesh::Mesh;
    /// use floodbar::quantity::units::UM;
    /// let mesh = Mesh::new(77.0, 55.0)?;
    /// assert!((UM.value(mesh.opening()) - (10_000.0 / 77.0 - 55.0)).abs() < 1e-9);
    /// # Ok::<(), floodbar::Error>(())
    /// ```
    pub fn new(threads_per_cm: f64, thread_um: f64) -> Result<Self, Error> {
        Self::read(
            &Value::from(format!("{threads_per_cm}-{thread_um}")),
            At::ROOT,
            &Rules::NONE,
            &mut Remarks::default(),
        )
    }

    fn checked(parts: &MeshParts, at: At<'_>, value: &Value) -> Result<Self, Error> {
        let mesh = Self {
            count: parts.count,
            thread: parts.thread,
            thickness: parts.thickness,
            weave: parts.weave.unwrap_or(Weave::Plain),
        };
        if mesh.opening().si() <= 0.0 {
            let most = units::UM.value(mesh.pitch());
            return Err(Error::new(
                Code::Impossible,
                at,
                format!("the thread fills the pitch: at this count a thread must be thinner than {most:.1} um"),
            )
            .got(value)
            .allowed([format!("less than {most:.1} um")]));
        }
        Ok(mesh)
    }

    /// Whether both have the same designation, whatever is known of their thickness.
    #[must_use]
    pub fn same_cloth(&self, other: &Self) -> bool {
        reaches(self.count, other.count)
            && reaches(other.count, self.count)
            && reaches(self.thread, other.thread)
            && reaches(other.thread, self.thread)
    }

    /// Threads per length, n.
    #[must_use]
    pub const fn count(&self) -> Count {
        self.count
    }

    /// Thread diameter, d.
    #[must_use]
    pub const fn thread(&self) -> Length {
        self.thread
    }

    /// Distance from thread to thread, p = 1 / n.
    #[must_use]
    pub fn pitch(&self) -> Length {
        (1.0 / self.count).into()
    }

    /// Clear width between two threads, w = p - d.
    #[must_use]
    pub fn opening(&self) -> Length {
        self.pitch() - self.thread
    }

    /// Share of the cloth that is open, (w / p)^2 (ISO 9044).
    #[must_use]
    pub fn open_area_fraction(&self) -> f64 {
        let share: f64 = (self.opening() / self.pitch()).into();
        share * share
    }

    /// Whether the thickness is an estimate from the thread.
    #[must_use]
    pub const fn thickness_estimated(&self) -> bool {
        self.thickness.is_none()
    }

    /// Cloth thickness D: as measured, else 1.5 d in plain weave, 1.77 d in twill.
    #[must_use]
    pub fn thickness(&self) -> Length {
        self.thickness.unwrap_or_else(|| {
            self.thread
                * match self.weave {
                    Weave::Plain => 1.5,
                    Weave::Twill => 1.77,
                }
        })
    }

    /// Theoretical ink volume: open area times thickness, a volume per area and so a length (1 cm3/m2 is 1 um).
    #[must_use]
    pub fn ink_volume(&self) -> Length {
        self.open_area_fraction() * self.thickness()
    }

    /// Says that the thickness is an estimate, where it is one.
    pub fn cite(&self, field: &str, remarks: &mut Remarks) {
        if self.thickness() < self.thread || self.thickness() > 2.0 * self.thread {
            remarks.caution(
                "thickness_and_thread",
                format!("/{field}/thickness"),
                "woven cloth is between one and two thread diameters thick: check thickness and thread",
            );
        }
        if self.thickness_estimated() {
            let source = match self.weave {
                Weave::Plain => "weavers' pages: 1.5 thread diameters in plain weave (1.44-1.58 seen)",
                Weave::Twill => "weavers' pages: about 1.77 thread diameters in twill",
            };
            remarks.basis(format!("{field}.thickness"), Source::common(source));
        }
    }
}

impl Input for Mesh {
    fn read(value: &Value, at: At<'_>, _rules: &Rules, remarks: &mut Remarks) -> Result<Self, Error> {
        let Value::String(text) = value else {
            if !value.is_object() {
                return Err(wrong_type(at, value, Self::wanted()));
            }
            let parts = MeshParts::read(value, at, &Rules::NONE, remarks)?;
            let thread = value.get("thread").unwrap_or(value);
            return Self::checked(&parts, at.key("thread"), thread);
        };
        let designation = || {
            let (count, rest) = number(text.trim())?;
            let (thread, rest) = number(rest.trim_start().strip_prefix(['-', '\u{2013}'])?.trim_start())?;
            (rest.is_empty() && count >= 0.0 && thread >= 0.0 && !text.contains(['e', 'E', '/', '+']))
                .then_some((count, thread))
        };
        let (count, thread) = designation().ok_or_else(|| {
            let message =
                "a mesh is written as threads per centimetre, a dash and the thread in micrometres, such as `77-55`";
            Error::new(Code::BadQuantity, at, message).got(value).allowed(["77-55", "an object with count, thread"])
        })?;
        let count = in_range(units::PER_CM.to_si(count), value, at, &COUNT, remarks)?;
        let thread = in_range(units::UM.to_si(thread), value, at, &THREAD, remarks)?;
        let parts =
            MeshParts { count: Count::from_si(count), thread: Length::from_si(thread), thickness: None, weave: None };
        Self::checked(&parts, at, value)
    }

    fn wanted() -> String {
        "a mesh, such as 77-55, or an object with count, thread".into()
    }

    #[cfg(feature = "schema")]
    fn schema(_rules: &Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let parts = MeshParts::schema(&Rules::NONE, generator);
        schemars::json_schema!({ "anyOf": [
            { "type": "string", "pattern": "^\\s*[0-9.]+\\s*[-\u{2013}]\\s*[0-9.]+\\s*$", "examples": ["77-55"] },
            parts,
        ] })
    }
}

request! {
    /// Which mesh.
    pub struct GeometryRequest {
        /// The mesh: its designation (threads per cm - thread in um) or its parts.
        mesh: Mesh,
    }
}

answer! {
    /// What a mesh is and holds.
    pub struct Geometry {
        /// Threads per length.
        count: Count,
        /// Diameter of the thread.
        thread: Length as Film,
        /// Distance from thread to thread.
        pitch: Length as Film,
        /// Clear width between threads.
        opening: Length as Film,
        /// Share of the cloth that is open.
        open_area_fraction: f64,
        /// Thickness of the cloth.
        thickness: Length as Film,
        /// Whether the thickness is an estimate from the thread.
        thickness_estimated: bool,
        /// Theoretical ink volume: what the open mesh holds, not what it prints.
        ink_volume: Length as InkVolume,
    }
}

/// `mesh.geometry`.
pub const GEOMETRY: Calculation = calculation! {
    id: "mesh.geometry",
    title: "Mesh geometry",
    question: "What does this cloth hold?",
    formula: "pitch p = 1 / n; opening w = p - d; open area = (w / p)^2; thickness D as measured, else 1.5 d (plain) or 1.77 d (twill); ink volume = open area x D",
    sources: GEOMETRY_SOURCES,
    example: r#"{"mesh": "77-55"}"#,
    run: geometry as GeometryRequest => Geometry,
};

/// What a mesh is and holds: the formulas of [`Mesh`], in one answer.
///
/// # Errors
/// None for a mesh that was read.
pub fn geometry(request: &GeometryRequest, remarks: &mut Remarks) -> Result<Geometry, Error> {
    let mesh = &request.mesh;
    mesh.cite("mesh", remarks);
    remarks.info(
        "volume_is_not_deposit",
        "",
        "the ink volume is what the open mesh holds; a print takes a third to a half of it (see ink.deposit)",
    );
    Ok(Geometry {
        count: mesh.count(),
        thread: mesh.thread(),
        pitch: mesh.pitch(),
        opening: mesh.opening(),
        open_area_fraction: mesh.open_area_fraction(),
        thickness: mesh.thickness(),
        thickness_estimated: mesh.thickness_estimated(),
        ink_volume: mesh.ink_volume(),
    })
}
