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
    DETAIL, Detail, DetailRequest, Hold, finest_gap, finest_line, hold, smallest_dot_marginal, smallest_dot_safe, tone,
};
pub(crate) use detail::{LINES, RULING};
pub(crate) use moire::ANGLE;
pub use moire::{MOIRE, Moire, MoireAngle, MoireBeat, MoireRequest};

use crate::error::{Code, Error};
use crate::quantity::{Count, Dimensioned, Length, Rules, number, reaches, to_places, units};
use crate::source::Source;
use crate::wire::{
    At, Field, Kind, Record, Remarks, Slot, TextForm, View, answer, calculation, check, check_number, request, words,
};
use core::str::FromStr;
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
        /// Threads per length of the mesh.
        count "Thread count": Count where COUNT,
        /// Diameter of the thread before weaving.
        thread "Thread diameter": Length where THREAD,
        /// Thickness of the woven mesh.
        thickness "Mesh thickness": Option<Length> where THICKNESS.unless_given("an estimate from the thread"),
        /// How the mesh is woven.
        weave "Weave": Option<Weave> where Rules::NONE.unless_given("plain"),
    }
    text(DESIGNATION)
    fits(is_cloth)
}

/// The trade's own designation: threads per centimetre, a dash, the thread in micrometres.
const DESIGNATION: TextForm = TextForm {
    wanted: "a mesh, such as 77-55, or an object with count, thread",
    pattern: "^\\s*[0-9.]+\\s*[-\u{2013}]\\s*[0-9.]+\\s*$",
    examples: &["77-55"],
    shelf: None,
    read: |parts, text, at, value, remarks| {
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
        let (count, thread) = (units::PER_CM.of(count), units::UM.of(thread));
        check_number(count.si(), at.key("count"), &COUNT, remarks, || value.clone())?;
        check_number(thread.si(), at.key("thread"), &THREAD, remarks, || value.clone())?;
        parts.become_copy(Some(&MeshParts::new().count(count).thread(thread)));
        Ok(())
    },
};

/// Refuses threads that leave no opening.
fn is_cloth(parts: &dyn Record, at: At<'_>, value: &Value) -> Result<(), Error> {
    let Some(parts) = parts.to::<MeshParts>() else { return Ok(()) };
    let mesh = Mesh(parts.clone());
    if mesh.opening().si() <= 0.0 {
        let most = to_places(units::UM.value(mesh.pitch()), 1);
        let message = format!("the thread fills the pitch: at this count a thread must be thinner than {most} um");
        return Err(Error::new(Code::Impossible, at.key("thread"), message)
            .got(value.get("thread").unwrap_or(value))
            .allowed([format!("less than {most} um")]));
    }
    Ok(())
}

/// The cloth of a screen: its parts, and the formulas on them.
///
/// From the trade's designation (`"77-55".parse()?`), from count and thread, or from [`MeshParts`].
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh(MeshParts);

impl From<MeshParts> for Mesh {
    fn from(parts: MeshParts) -> Self {
        Self(parts)
    }
}

impl FromStr for Mesh {
    type Err = Error;

    /// Reads a designation, such as `77-55`.
    fn from_str(designation: &str) -> Result<Self, Error> {
        let mut parts = MeshParts::new();
        let value = Value::from(designation);
        (DESIGNATION.read)(&mut parts, designation, At::ROOT, &value, &mut Remarks::counting())?;
        is_cloth(&parts, At::ROOT, &value)?;
        Ok(Self(parts))
    }
}

impl Field for Mesh {
    const KIND: Kind = MeshParts::KIND;
    fn blank() -> Self {
        Self(MeshParts::new())
    }
    fn view(&self) -> View<'_> {
        View::Record(&self.0)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Record(&mut self.0)
    }
}

impl Mesh {
    /// A mesh from its count and its thread, in plain weave.
    ///
    /// # Errors
    /// `out_of_range` for what cannot be woven, `impossible` for a thread that fills the pitch.
    ///
    /// ```
    /// use floodbar::mesh::{Mesh, Weave};
    /// use floodbar::quantity::units::{PER_CM, UM};
    /// let mesh = Mesh::new(PER_CM.of(77.0), UM.of(55.0))?;
    /// assert!((UM.value(mesh.opening()) - (10_000.0 / 77.0 - 55.0)).abs() < 1e-9);
    /// let gauged = mesh.clone().with_thickness(UM.of(84.0))?;
    /// assert!(gauged.ink_volume() > mesh.ink_volume());
    /// assert!(mesh.woven(Weave::Twill).thickness() > UM.of(90.0));
    /// # Ok::<(), floodbar::Error>(())
    /// ```
    pub fn new(count: Count, thread: Length) -> Result<Self, Error> {
        Self::checked(MeshParts::new().count(count).thread(thread))
    }

    /// The same with its thickness as gauged.
    ///
    /// # Errors
    /// `out_of_range` for what cannot be woven.
    pub fn with_thickness(self, thickness: Length) -> Result<Self, Error> {
        Self::checked(self.0.thickness(thickness))
    }

    /// The same in another weave.
    #[must_use]
    pub fn woven(self, weave: Weave) -> Self {
        Self(self.0.weave(weave))
    }

    fn checked(parts: MeshParts) -> Result<Self, Error> {
        check(&parts, At::ROOT, &mut Remarks::counting())?;
        Ok(Self(parts))
    }

    /// Whether both have the same designation, whatever is known of their thickness.
    #[must_use]
    pub fn same_cloth(&self, other: &Self) -> bool {
        reaches(self.count(), other.count())
            && reaches(other.count(), self.count())
            && reaches(self.thread(), other.thread())
            && reaches(other.thread(), self.thread())
    }

    /// Threads per length, n.
    #[must_use]
    pub fn count(&self) -> Count {
        self.0.count
    }

    /// Thread diameter, d.
    #[must_use]
    pub fn thread(&self) -> Length {
        self.0.thread
    }

    /// Distance from thread to thread, p = 1 / n.
    #[must_use]
    pub fn pitch(&self) -> Length {
        (1.0 / self.0.count).into()
    }

    /// Clear width between two threads, w = p - d.
    #[must_use]
    pub fn opening(&self) -> Length {
        self.pitch() - self.0.thread
    }

    /// Share of the cloth that is open, (w / p)^2 (ISO 9044).
    #[must_use]
    pub fn open_area_fraction(&self) -> f64 {
        let share: f64 = (self.opening() / self.pitch()).into();
        share * share
    }

    /// How it is woven.
    #[must_use]
    pub fn weave(&self) -> Weave {
        self.0.weave.unwrap_or(Weave::Plain)
    }

    /// Whether the thickness is an estimate from the thread.
    #[must_use]
    pub fn thickness_estimated(&self) -> bool {
        self.0.thickness.is_none()
    }

    /// Cloth thickness D: as measured, else 1.5 d in plain weave, 1.77 d in twill.
    #[must_use]
    pub fn thickness(&self) -> Length {
        self.0.thickness.unwrap_or_else(|| {
            self.0.thread
                * match self.weave() {
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
    pub(crate) fn cite(&self, field: &'static str, remarks: &mut Remarks) {
        if self.thickness() < self.thread() || self.thickness() > 2.0 * self.thread() {
            remarks.caution(
                "thickness_and_thread",
                format_args!("/{field}/thickness"),
                "woven cloth is between one and two thread diameters thick: check thickness and thread",
            );
        }
        if self.thickness_estimated() {
            let source = match self.weave() {
                Weave::Plain => "weavers' pages: 1.5 thread diameters in plain weave (1.44-1.58 seen)",
                Weave::Twill => "weavers' pages: about 1.77 thread diameters in twill",
            };
            remarks.basis((field, "thickness"), Source::common(source));
        }
    }
}

request! {
    /// Which mesh.
    pub struct GeometryRequest {
        /// The mesh: its designation (threads per cm - thread in um) or its parts.
        mesh "Mesh": Mesh,
    }
}

answer! {
    /// What a mesh is and holds.
    pub struct Geometry {
        /// Threads per length of the mesh.
        count "Thread count": Count,
        /// Diameter of the thread.
        thread "Thread diameter": Length as Film,
        /// Distance from thread to thread.
        pitch "Thread pitch": Length as Film,
        /// Clear width between threads.
        opening "Mesh opening": Length as Film,
        /// Share of the mesh that is open.
        open_area_fraction "Open area": f64,
        /// Thickness of the woven mesh.
        thickness "Mesh thickness": Length as Film,
        /// Whether the thickness is an estimate from the thread.
        thickness_estimated "Thickness estimated": bool,
        /// Theoretical ink volume: what the open mesh holds, not what it prints.
        ink_volume "Theoretical ink volume": Length as InkVolume,
    }
}

calculation! {
    pub const GEOMETRY: GeometryRequest => Geometry = geometry;
    id: "mesh.geometry",
    title: "Mesh geometry",
    question: "What does this cloth hold?",
    asked: ["How big is the opening of this mesh?", "How much ink does this screen hold?"],
    headline: ["opening", "open_area_fraction", "ink_volume"],
    formula: "pitch p = 1 / n; opening w = p - d; open area = (w / p)^2; thickness D as measured, else 1.5 d (plain) or 1.77 d (twill); ink volume = open area x D",
    sources: GEOMETRY_SOURCES,
    example: r#"{"mesh": "77-55"}"#,
}

/// What a mesh is and holds: the formulas of [`Mesh`], in one answer.
///
/// # Errors
/// None for a mesh that was read.
pub(crate) fn geometry(request: &GeometryRequest, remarks: &mut Remarks) -> Result<Geometry, Error> {
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
