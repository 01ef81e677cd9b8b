//! How fine a mesh can print.

use super::Mesh;
use crate::error::Error;
use crate::quantity::{Count, Dimensioned, Length, Rules, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request, words};

/// Halftone rulings; garments print 14 to 26 /cm.
pub(crate) const RULING: Rules = Rules::range(units::PER_CM, 0.5, 200.0).usual(8.0, 32.0);

/// Threads per halftone line: the coarsest and the finest ruling that shops hold.
const THREADS_PER_LINE: (f64, f64) = (5.0, 3.5);
/// Finest printed line and finest gap on a garment in millimetres, whatever the mesh.
const FINEST_ON_CLOTH: (f64, f64) = (0.3, 0.5);
/// Ruling per inch beyond which garments lose their tones.
const TONES_UP_TO: f64 = 65.0;

/// Where the rule for lines comes from.
pub(crate) const LINES: Source =
    Source::memory("0.3 mm printed, 0.5 mm left open; and no finer than two threads and an opening hold");
const DOTS: Source = Source::memory(
    "a dot of two threads and an opening always finds a hold, one of a thread and an opening often does",
);
const RULINGS: Source =
    Source::common("shops and weavers: 3.5 to 5 threads to a halftone line; no ratio rules out a beat (mesh.moire)");

words! {
    /// Whether a line will print.
    pub enum Hold ("verdict") {
        /// It prints.
        Holds = "holds",
        /// It prints with breaks: test it.
        Marginal = "marginal",
        /// It finds no hold on the mesh.
        Lost = "lost",
    }
}

request! {
    /// A mesh, and perhaps a halftone.
    pub struct DetailRequest {
        /// The mesh.
        mesh "Mesh": Mesh,
        /// Lines per length of the halftone.
        ruling "Halftone ruling": Option<Count> where RULING,
    }
}

answer! {
    /// How fine it prints.
    pub struct Detail {
        /// Finest line that this mesh prints.
        finest_line "Finest line held": Length as Film,
        /// Finest gap that stays open on this mesh.
        finest_gap "Finest gap held": Length as Film,
        /// Smallest dot that always finds a hold.
        smallest_dot_safe "Smallest safe dot": Length as Film,
        /// Smallest dot that often finds a hold.
        smallest_dot_marginal "Smallest marginal dot": Length as Film,
        /// Coarsest of the usual rulings for this mesh.
        ruling_low "Coarsest usual ruling": Count,
        /// Finest ruling for this mesh.
        ruling_high "Finest ruling": Count,
        /// Lightest tone that holds at the ruling.
        tone_min_fraction "Lightest tone held": Option<f64>,
        /// Darkest tone that stays open at the ruling.
        tone_max_fraction "Darkest tone open": Option<f64>,
    }
}

calculation! {
    pub const DETAIL: DetailRequest => Detail = detail;
    id: "mesh.detail",
    title: "Finest detail of a mesh",
    question: "How fine can it print?",
    asked: ["What is the finest line on this mesh?", "Which halftone ruling does this mesh hold?"],
    headline: ["finest_line", "ruling_high"],
    formula: "dot safe 2 d + w, marginal d + w; line the greater of 2 d + w and 0.3 mm, gap of 2 d + w and 0.5 mm; ruling n / 5 to n / 3.5; tone of a round dot D at ruling r: pi / 4 (D r)^2, and as much open at the dark end",
    sources: &[LINES, DOTS, RULINGS],
    example: r#"{"mesh": "120-34", "ruling": "55 lpi"}"#,
}

/// The smallest dot that always finds a hold: two threads and an opening, 2 d + w.
#[must_use]
pub fn smallest_dot_safe(mesh: &Mesh) -> Length {
    2.0 * mesh.thread() + mesh.opening()
}

/// The smallest dot that often finds a hold: a thread and an opening, which is the pitch.
#[must_use]
pub fn smallest_dot_marginal(mesh: &Mesh) -> Length {
    mesh.thread() + mesh.opening()
}

/// The finest line: 2 d + w, but 0.3 mm on cloth.
#[must_use]
pub fn finest_line(mesh: &Mesh) -> Length {
    longer(smallest_dot_safe(mesh), units::MM.of(FINEST_ON_CLOTH.0))
}

/// The finest gap that stays open: 2 d + w, but 0.5 mm on cloth.
#[must_use]
pub fn finest_gap(mesh: &Mesh) -> Length {
    longer(smallest_dot_safe(mesh), units::MM.of(FINEST_ON_CLOTH.1))
}

/// The finest ruling: 3.5 threads to a line.
#[must_use]
pub fn ruling_high(mesh: &Mesh) -> Count {
    mesh.count() / THREADS_PER_LINE.1
}

/// The area share of round dots of this diameter at this ruling, pi / 4 (D r)^2, as far as dots stay apart.
#[must_use]
pub fn tone(dot: Length, ruling: Count) -> f64 {
    let across = dot.si() * ruling.si();
    core::f64::consts::FRAC_PI_4 * across * across
}

/// Whether the mesh holds a line: safely, here and there, or not at all.
#[must_use]
pub fn hold(mesh: &Mesh, line: Length) -> Hold {
    if line >= finest_line(mesh) {
        Hold::Holds
    } else if line >= smallest_dot_marginal(mesh) {
        Hold::Marginal
    } else {
        Hold::Lost
    }
}

fn longer(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

/// Finest line, dots, rulings and tones of a mesh. Rules of thumb with a geometry behind them: a step test decides.
///
/// # Errors
/// None for a request that was read.
pub(crate) fn detail(request: &DetailRequest, remarks: &mut Remarks) -> Result<Detail, Error> {
    let mesh = &request.mesh;
    let safe = smallest_dot_safe(mesh);
    remarks.basis("finest_line", LINES);
    remarks.basis("smallest_dot_safe", DOTS);
    remarks.basis("ruling_high", RULINGS);
    let ruling_high = ruling_high(mesh);
    let tones = request.ruling.map(|ruling| {
        let least = tone(safe, ruling);
        if least >= 0.5 {
            remarks.caution(
                "no_tones",
                "/ruling",
                "the smallest dot this mesh holds is as large as the halftone's cell: a coarser ruling or a finer mesh",
            );
        }
        if ruling > ruling_high {
            remarks.caution(
                "ruling_too_fine",
                "/ruling",
                "fewer than 3.5 threads to a line: light dots fall between the threads and the tones break up",
            );
        }
        if units::PER_IN.value(ruling) >= TONES_UP_TO {
            remarks.caution(
                "garment_ruling",
                "/ruling",
                "at 65 lines per inch and finer a garment loses its tones; 40 to 55 prints best (common practice)",
            );
        }
        (least.min(0.5), (1.0 - least).max(0.5))
    });
    let (tone_min_fraction, tone_max_fraction) = tones.unzip();
    remarks.info("test_it", "", "ink, cloth and stencil decide too: print a scale of lines and dots once on each mesh");
    Ok(Detail {
        finest_line: finest_line(mesh),
        finest_gap: finest_gap(mesh),
        smallest_dot_safe: safe,
        smallest_dot_marginal: smallest_dot_marginal(mesh),
        ruling_low: mesh.count() / THREADS_PER_LINE.0,
        ruling_high,
        tone_min_fraction,
        tone_max_fraction,
    })
}
