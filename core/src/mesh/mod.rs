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
mod stocked;

pub use beat::{Beat, HALFTONE_ORDERS, Lattice, MESH_ORDERS, MOST_ORDER, beats, best_angle, clear_angle};
pub use detail::{
    DETAIL, Detail, DetailRequest, Hold, finest_gap, finest_line, hold, ruling_high, smallest_dot_marginal,
    smallest_dot_safe, tone,
};
pub(crate) use detail::{LINES, RULING};
pub(crate) use moire::ANGLE;
pub use moire::{MOIRE, Moire, MoireAngle, MoireBeat, MoireRequest};
pub use stocked::StockMesh;
use stocked::{as_per_inch, known, near, stocked, usual};

use crate::error::{Code, Error};
#[cfg(feature = "schema")]
use crate::quantity::unit_pattern;
use crate::quantity::{Count, Dimension, Dimensioned, Length, Rules, decimal, find, number, reaches, to_places, units};
use crate::source::Source;
#[cfg(feature = "schema")]
use crate::wire::schema::text_pattern;
use crate::wire::{
    At, Field, Kind, Record, Remarks, Slot, TextForm, View, answer, calculation, check, check_number, measure, request,
    within, words,
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
        thread "Thread diameter": Option<Length> where THREAD.unless_given("the usual thread of that count, from stock"),
        /// Thickness of the woven mesh.
        thickness "Mesh thickness": Option<Length> where THICKNESS.unless_given("an estimate from the thread"),
        /// How the mesh is woven.
        weave "Weave": Option<Weave> where Rules::NONE.unless_given("plain"),
    }
    text(DESIGNATION)
    fits(is_cloth)
}

/// The trade's own designation, threads per centimetre, a dash, the thread in micrometres; or the count in another unit, a stroke,
/// the thread; or the count alone. A designation is tried first: `195/55 tpi` is no fraction.
const DESIGNATION: TextForm = TextForm {
    wanted: "a mesh, such as 77-55 or 195 tpi, or an object with count, thread",
    #[cfg(feature = "schema")]
    pattern: || {
        let (number, units) = ("(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)", unit_pattern(Dimension::Count));
        let designation =
            format!("{number}\\s*(?:[-\u{2013}]\\s*{number}\\s*(?:{units})?|/\\s*{number}\\s*(?:{units}))");
        format!("^\\s*{designation}\\s*$|{}", text_pattern(Dimension::Count))
    },
    examples: &["77-55", "195 tpi", "195/55 tpi", "62 /cm"],
    shelf: None,
    read: |parts, text, at, value, remarks| {
        let (at_count, got) = (at.key("count"), || value.clone());
        let read = match designation(text) {
            Some((count, thread)) => {
                check_number(count.si(), at_count, &COUNT, remarks, got)?;
                check_number(thread.si(), at.key("thread"), &THREAD, remarks, got)?;
                MeshParts::new().count(count).thread(thread)
            }
            None => {
                let count = measure(value, at, Dimension::Count).map_err(|fault| {
                    let message = format!(
                        "a mesh is written as threads per centimetre, a dash and the thread in micrometres, such as `77-55`, or as a count, such as `195 tpi` ({})",
                        fault.message
                    );
                    let allowed = ["77-55", "195 tpi", "195/55 tpi", "an object with count, thread"];
                    Error::new(Code::BadQuantity, at, message).got(value).allowed(allowed)
                })?;
                MeshParts::new().count(Count::from_si(within(count, value, at_count, &COUNT, remarks)?))
            }
        };
        parts.become_copy(Some(&read));
        Ok(())
    },
};

/// Count and thread of a designation: `77-55`, `195/55 tpi`.
fn designation(text: &str) -> Option<(Count, Length)> {
    let plain = |text: &str| number(text).filter(|(_, rest)| rest.is_empty()).map(|(number, _)| number);
    let in_number = |c: char| c.is_ascii_digit() || c == '.';
    let (count, rest) = text.split_once(['-', '\u{2013}', '/'])?;
    let count = plain(count.trim()).filter(|_| count.trim().chars().all(in_number))?;
    let rest = rest.trim();
    let (thread, unit) = rest.split_at_checked(rest.find(|c| !in_number(c)).unwrap_or(rest.len()))?;
    let unit = match unit.trim_start() {
        "" if !text.contains('/') => units::PER_CM.unit(),
        unit => *find(unit).find(|unit| unit.dimension == Dimension::Count)?,
    };
    Some((Count::from_si(unit.to_si(count)), units::UM.of(plain(thread)?)))
}

/// The designation of a mesh, to the thread per centimetre and the micrometre: `77-55`.
pub(crate) fn designated(mesh: &Mesh) -> String {
    format!("{}-{}", to_places(units::PER_CM.value(mesh.count()), 0), to_places(units::UM.value(mesh.thread()), 0))
}

/// The meshes in stock, from coarse to fine.
pub(crate) fn in_stock() -> impl Iterator<Item = Mesh> {
    stocked().map(|row| row.mesh.clone().into())
}

/// The least opening of a screen cloth, um: the finest cloth that weavers list has 16.
const LEAST_OPENING: f64 = 5.0;
/// The least open area of a screen cloth: the densest that weavers list has 9 %.
const LEAST_OPEN: f64 = 0.05;
/// Plain cloth for garments is 25 to 55 % open.
const LITTLE_OPEN: f64 = 0.15;
/// A mesh of the stock that is read in the wrong unit is never that open: its threads take 2.54 times their share.
const NOT_MISREAD: f64 = 0.25;

/// Refuses what is no screen cloth, and a count alone that nobody sells; warns of a mesh that reads as another one.
fn is_cloth(parts: &dyn Record, at: At<'_>, value: &Value, remarks: &mut Remarks) -> Result<(), Error> {
    let Some(parts) = parts.to::<MeshParts>() else { return Ok(()) };
    let Some(thread) = parts.thread else { return has_usual_thread(parts, at, value, remarks) };
    let mesh = Mesh(parts.clone());
    let (opening, open) = (mesh.opening(), mesh.open_area_fraction());
    if opening >= units::UM.of(LEAST_OPENING) && open >= NOT_MISREAD {
        return Ok(());
    }
    let meant = known(as_per_inch(parts.count), thread).filter(|_| known(parts.count, thread).is_none());
    let per_inch = to_places(units::PER_CM.value(parts.count), 0);
    let was_meant = || {
        meant
            .map(|row| format!("; was `{}` meant, which is {per_inch} threads per inch?", row.name))
            .unwrap_or_default()
    };
    if opening < units::UM.of(LEAST_OPENING) || open < LEAST_OPEN {
        let by_area = mesh.pitch() * (1.0 - LEAST_OPEN.sqrt());
        let by_opening = mesh.pitch() - units::UM.of(LEAST_OPENING);
        let most = to_places(units::UM.value(if by_area < by_opening { by_area } else { by_opening }), 1);
        let message = format!(
            "no screen cloth: at this count the thread must be thinner than {most} um, to leave an opening of {} um and {} % of the mesh open{}",
            decimal(LEAST_OPENING),
            decimal(100.0 * LEAST_OPEN),
            was_meant()
        );
        return Err(Error::new(Code::Impossible, at.key("thread"), message)
            .got(value.get("thread").unwrap_or(value))
            .allowed(meant.map(|row| row.name.to_owned()).into_iter().chain([format!("less than {most} um")])));
    }
    if open < LITTLE_OPEN || meant.is_some() {
        remarks.caution("unlikely_mesh", at.key("count"), |_| {
            let open = to_places(100.0 * open, 0);
            let stocked = if meant.is_some() { ", and nobody stocks it" } else { "" };
            format!("only {open} % of this mesh is open{stocked}: check count and thread{}", was_meant())
        });
    }
    Ok(())
}

/// Refuses a count that stands without its thread and is near to none that is sold; says where the thread comes from.
fn has_usual_thread(parts: &MeshParts, at: At<'_>, value: &Value, remarks: &mut Remarks) -> Result<(), Error> {
    let count = parts.count;
    if let Some(row) = usual(count).filter(|row| near(row.mesh.count, count)) {
        if let Ok(row) = StockMesh::in_stock(row.name) {
            row.cite(&["thread", "usual"], remarks);
        }
        return Ok(());
    }
    let named = |count: Count| {
        let [metric, us] = [units::PER_CM.value(count), units::PER_IN.value(count)].map(|count| to_places(count, 0));
        format!("{metric} /cm ({us} /in)")
    };
    let counts = || stocked().filter(|row| row.mesh.usual == Some(true)).map(|row| row.mesh.count);
    let coarser = counts().filter(|stocked| *stocked < count).last();
    let finer = counts().find(|stocked| *stocked > count);
    let nearest: Vec<String> = coarser.into_iter().chain(finer).map(named).collect();
    let message =
        format!("no mesh of this count is stocked: the nearest are {}; or name its thread", nearest.join(" and "));
    Err(Error::new(Code::OutOfRange, at.key("count"), message)
        .got(value.get("count").unwrap_or(value))
        .allowed(nearest))
}

/// The cloth of a screen: its parts, and the formulas on them.
///
/// From the trade's designation (`"77-55".parse()?`, `"195/55 tpi"`), from a count that the trade knows (`"195 tpi"`, `"62 /cm"`), from
/// count and thread, or from [`MeshParts`]. Where the thread is not given it is the usual one of that count, from stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh(MeshParts);

impl From<MeshParts> for Mesh {
    fn from(parts: MeshParts) -> Self {
        Self(parts)
    }
}

impl FromStr for Mesh {
    type Err = Error;

    /// Reads a mesh as it is written: `77-55`, `195 tpi`, `195/55 tpi`, `62 /cm`.
    fn from_str(text: &str) -> Result<Self, Error> {
        MeshParts::from_json(&Value::from(text)).map(Self)
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
    /// `out_of_range` for what cannot be woven, `impossible` for an opening below 5 um or an open area below 5 %: no screen cloth.
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

    /// The mesh that a count alone means: with the usual thread of the nearest count in stock. Inch counts are rounded in the trade, so
    /// that 156, 158 and 160 per inch are 62 /cm: within 2.5 %, or 1.5 threads per inch, it is the same cloth.
    ///
    /// # Errors
    /// `out_of_range` for a count that is near to none in stock.
    ///
    /// ```
    /// use floodbar::mesh::Mesh;
    /// use floodbar::quantity::units::{PER_IN, UM};
    /// let mesh = Mesh::of_count(PER_IN.of(195.0))?;
    /// assert!((UM.value(mesh.thread()) - 55.0).abs() < 1e-9);
    /// assert!(mesh.same_cloth(&"77-55".parse()?));
    /// # Ok::<(), floodbar::Error>(())
    /// ```
    pub fn of_count(count: Count) -> Result<Self, Error> {
        Self::checked(MeshParts::new().count(count))
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

    /// Whether both name one cloth, whatever is known of its thickness: the same count and thread, or the same mesh in stock, as far as
    /// the trade rounds counts. `62-64`, `156 tpi` and `160/64 tpi` are one.
    #[must_use]
    pub fn same_cloth(&self, other: &Self) -> bool {
        let known = |mesh: &Self| known(mesh.count(), mesh.thread()).map(|row| row.name);
        known(self).is_some_and(|name| known(other) == Some(name))
            || reaches(self.count(), other.count())
                && reaches(other.count(), self.count())
                && reaches(self.thread(), other.thread())
                && reaches(other.thread(), self.thread())
    }

    /// Threads per length, n.
    #[must_use]
    pub fn count(&self) -> Count {
        self.0.count
    }

    /// Thread diameter, d: as given, else the usual one of the count, from stock.
    #[must_use]
    pub fn thread(&self) -> Length {
        self.0.thread.or_else(|| usual(self.0.count).map(|row| row.mesh.thread)).unwrap_or_default()
    }

    /// Distance from thread to thread, p = 1 / n.
    #[must_use]
    pub fn pitch(&self) -> Length {
        (1.0 / self.0.count).into()
    }

    /// Clear width between two threads, w = p - d.
    #[must_use]
    pub fn opening(&self) -> Length {
        self.pitch() - self.thread()
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
            self.thread()
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
    #[inline]
    pub(crate) fn cite(&self, field: &'static str, remarks: &mut Remarks) {
        let (thickness, thread) = (self.thickness(), self.thread());
        if thickness < thread || thickness > 2.0 * thread {
            Self::doubt_thickness(field, remarks);
        }
        if self.thickness_estimated() && remarks.explains() {
            self.cite_thickness(field, remarks);
        }
    }

    #[cold]
    fn doubt_thickness(field: &str, remarks: &mut Remarks) {
        remarks.caution(
            "thickness_and_thread",
            format_args!("/{field}/thickness"),
            "woven cloth is between one and two thread diameters thick: check thickness and thread",
        );
    }

    fn cite_thickness(&self, field: &'static str, remarks: &mut Remarks) {
        let source = match self.weave() {
            Weave::Plain => "weavers' pages: 1.5 thread diameters in plain weave (1.44-1.58 seen)",
            Weave::Twill => "weavers' pages: about 1.77 thread diameters in twill",
        };
        remarks.basis((field, "thickness"), Source::common(source));
    }
}

request! {
    /// Which mesh.
    pub struct GeometryRequest {
        /// The mesh: its designation (threads per cm - thread in um), its count with or without the thread, or its parts.
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
