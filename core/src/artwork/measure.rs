//! What a separation really covers.

use super::contour::Contour;
use super::curve::GREY;
use super::distance::Nearest;
use super::edges::walk;
use super::finest::{Narrowest, narrowest};
use super::halftone::{Dots, Lattice};
use super::measured::{ArtworkMeasure, Halftone, PicturePoint};
use super::picture::{InkIs, Picture, Side, printed};
use crate::error::{Code, Error};
use crate::quantity::{Area, Count, Dimensioned, Length, Rank, Rules, Show, units};
use crate::source::Source;
use crate::stencil::{EDGE_REACH, edge_reach};
use crate::wire::{
    Answer, Answered, At, Choice, Options, Record, Remarks, Say, answer_json, answered, calculation, request,
};
use serde_json::Value;

const SIDE: Rules = Rules::count(1.0);
const RESOLUTION: Rules = Rules::range(units::PER_IN, 1.0, 100_000.0).usual(100.0, 2_400.0);
/// A sensible picture of a print is finer than this share of the edge's reach.
const COARSE: f64 = 0.5;
/// The share of the ink in greys from which a picture is not a separation.
const MOSTLY_GREY: f64 = 0.2;
/// Nearer to an edge than this many reaches the contour is looked for; farther the pixels beyond it are near enough.
const CLOSE: f64 = 3.0;
/// Farther than this an edge no longer counts: exp(-25).
const BEYOND: f64 = 25.0;

request! {
    /// A separation: 8-bit pixels, row by row from the top.
    pub struct MeasureRequest {
        /// Number of pixels across the picture.
        pixels_wide "Pixels across": u32 where SIDE.group("The picture"),
        /// Number of pixels down the picture.
        pixels_high "Pixels down": u32 where SIDE.group("The picture"),
        /// Bytes from the start of one row to the start of the next.
        stride "Bytes per row": Option<u32>
            where Rules::count(1.0).rank(Rank::Rare).group("The picture").unless_given("the width"),
        /// Pixels per length of the print.
        resolution "Resolution": Count where RESOLUTION.group("The picture"),
        /// Which end of the grey scale is ink.
        ink "Ink shown as": InkIs where Rules::NONE.group("The picture"),
        /// How far an edge of the stencil thickens the film.
        edge_length_scale "Reach of an edge": Option<Length> where EDGE_REACH,
        /// The pixels as numbers from 0 to 255, left out where they come as bytes.
        pixels "Pixel values": Option<Vec<u32>>
            where Rules::range(units::ONE, 0.0, 255.0).rank(Rank::Rare).group("The picture"),
    }
    chooses(Choice::Any(&["pixels"]))
}

calculation! {
    pub const MEASURE: MeasureRequest => ArtworkMeasure = measure_numbers;
    id: "artwork.measure",
    title: "What a separation covers",
    question: "What does this separation really cover?",
    asked: ["How many square centimetres does this film print?", "What is the finest line in this art?"],
    headline: ["printed_area", "coverage_fraction", "finest_line"],
    formula: "printed area = sum of the pixels' ink; edges run at half coverage (marching squares), in black and white along the parabola of least squares through the crossings beside up to eleven sides of pixels, up to corners; edge length = sum over the pixels' sides on the boundary of half the way from the edge beside the one before to the edge beside the next: in black and white of a whole side at a corner, and where an edge bends little of as much less as that way is longer than an arc through its ends and middle; in greys along the parabola through seven crossings, each as far out as all ink across reaches, and with what chords cut off a bend; edge share area = integral of exp(-x / L) over the printed side, x from the exact distance transform; finest line and gap = least width across the medial axis, where the axis does not run into a corner",
    sources: &[
        Source::published("Meijster, Roerdink and Hesselink 2000: A general algorithm for computing distance transforms in linear time"),
        Source::published("Felzenszwalb and Huttenlocher 2012: Distance transforms of sampled functions, Theory of Computing 8, 415-428"),
        Source::published("Savitzky and Golay 1964: Smoothing and differentiation of data by simplified least squares procedures, Analytical Chemistry 36, 1627-1639"),
        Source::published("Huygens 1654: De circuli magnitudine inventa (the length of an arc by its chords)"),
    ],
    example: r#"{"pixels_wide": 4, "pixels_high": 4, "resolution": "100 /cm", "ink": "dark", "pixels": [255, 255, 255, 255, 255, 0, 0, 255, 255, 0, 0, 255, 255, 255, 255, 255]}"#,
}

/// What a measurement needs beside the picture, to be reused: at most 8 bytes a pixel, 60 a column and 2 a row.
#[derive(Debug, Clone, Default)]
pub struct Workspace {
    nearest: Nearest,
    contour: Contour,
    dots: Dots,
    depths: Vec<u8>,
}

/// Measures pixels that come as numbers within the request, at most ten thousand.
///
/// # Errors
/// `missing_field` without pixels, and as [`measure`].
pub(crate) fn measure_numbers(request: &MeasureRequest, remarks: &mut Remarks) -> Result<ArtworkMeasure, Error> {
    let Some(numbers) = &request.pixels else {
        return Err(crate::wire::needed(
            At::ROOT.key("pixels"),
            vec!["pixels, or the call that takes them as bytes".to_owned()],
        ));
    };
    let pixels: Vec<u8> = numbers.iter().map(|number| u8::try_from(*number).unwrap_or(u8::MAX)).collect();
    of(request, &pixels, &mut Workspace::default(), remarks)
}

/// Measures pixels that come as bytes beside the request: the way of all layers for pictures of any size.
///
/// # Errors
/// As [`measure`]; `impossible` where the request has pixels too.
///
/// ```
/// let bytes = [255, 255, 255, 255, 0, 255, 255, 255, 255];
/// let spec = serde_json::json!({ "pixels_wide": 3, "pixels_high": 3, "resolution": "100 /cm", "ink": "dark" });
/// let answer = floodbar::artwork::measure_bytes(&bytes, &spec)?.to_value()?;
/// assert_eq!(answer["width"], serde_json::json!({ "value": 0.1, "unit": "mm" }));
/// # Ok::<(), floodbar::Error>(())
/// ```
pub fn measure_bytes(pixels: &[u8], spec: &Value) -> Result<Answer, Error> {
    answer_json(spec, &mut MeasureRequest::new(), None, &|request, remarks| {
        let request = request.to::<MeasureRequest>();
        let request = request.ok_or_else(|| Error::new(Code::Internal, "", "the request of another calculation"))?;
        if request.pixels.is_some() {
            return Err(Error::new(
                Code::Impossible,
                "/pixels",
                "the pixels come as bytes already: leave them out here",
            ));
        }
        let measured = of(request, pixels, &mut Workspace::default(), remarks)?;
        Ok(Box::new(measured) as Box<dyn Record>)
    })
}

fn of(
    request: &MeasureRequest,
    pixels: &[u8],
    workspace: &mut Workspace,
    remarks: &mut Remarks,
) -> Result<ArtworkMeasure, Error> {
    let picture = Picture::new(
        pixels,
        request.pixels_wide,
        request.pixels_high,
        request.stride,
        request.resolution,
        request.ink,
    )?;
    let reach = edge_reach(request.edge_length_scale, remarks);
    measured(&picture, reach, workspace, remarks)
}

/// Measures a separation. `reach` is how far an edge of the stencil thickens the film (L of `ink.deposit`).
///
/// A pixel counts as printed from half coverage on. Bare cloth lies around the picture, so that ink on its border ends there.
///
/// # Errors
/// `out_of_range` for a reach that is not above 0; `impossible` for a picture without ink; `too_long` where there is no memory for it.
pub fn measure(
    picture: &Picture<'_>,
    reach: Length,
    workspace: &mut Workspace,
) -> Result<Answered<ArtworkMeasure>, Error> {
    answered(Options::USUAL, |remarks| measured(picture, reach, workspace, remarks))
}

/// Work of a picture and of a pixel, in rows.
const PICTURE: f64 = 2_000.0;
const PIXEL: f64 = 20.0;

fn measured(
    picture: &Picture<'_>,
    reach: Length,
    workspace: &mut Workspace,
    remarks: &mut Remarks,
) -> Result<ArtworkMeasure, Error> {
    let pitch = picture.pitch();
    let reach_in_pixels = reach.si() / pitch;
    if !(reach_in_pixels > 0.0 && reach_in_pixels.is_finite()) {
        let error = Error::new(Code::OutOfRange, "/edge_length_scale", "an edge reaches some way");
        return Err(error.allowed(["more than 0"]));
    }
    remarks.work().spend(PICTURE + PIXEL * picture.wide() as f64 * picture.high() as f64);
    let ink = Covered::of(picture)?;
    let Workspace { nearest, contour, dots, depths } = workspace;
    dots.begin(picture.wide().saturating_mul(picture.high()), pitch)?;
    let edge_length = walk(picture, contour, |line| dots.see(line))?;
    let halftone = dots.lattice(edge_length);
    nearest.find(picture, Side::Printed)?;
    let together =
        if halftone.is_none() { dots.run_together(picture, nearest, Side::Printed, edge_length) } else { None };
    let edge_share_area = if ink.edged { edge_share_area(picture, contour, nearest, reach_in_pixels) } else { ink.all };
    let line = narrowest(picture, contour, nearest, Side::Printed, depths)?;
    nearest.find(picture, Side::Bare)?;
    // At half tone the holes stand in the same rows.
    let holes = together.and_then(|_| dots.run_together(picture, nearest, Side::Bare, edge_length));
    let halftone = halftone.or_else(|| together?.with(&holes?));
    let gap = narrowest(picture, contour, nearest, Side::Bare, depths)?;

    let length = |pixels: f64| Length::from_si(pixels * pitch);
    let area = |pixels: f64| Area::from_si(pixels * pitch * pitch);
    let point = |at: &Narrowest| PicturePoint::new().from_left(length(at.x + 0.5)).from_top(length(at.y + 0.5));
    let measured = ArtworkMeasure::new()
        .width(length(ink.wide))
        .height(length(ink.high))
        .printed_area(area(ink.all))
        .coverage_fraction(ink.boxed / (ink.wide * ink.high))
        .edge_length(length(edge_length))
        .edge_share_area(area(edge_share_area.min(ink.all)))
        .finest_line(line.map(|at| length(at.width)))
        .finest_line_at(line.as_ref().map(point))
        .finest_gap(gap.map(|at| length(at.width)))
        .finest_gap_at(gap.as_ref().map(point))
        .halftone(halftone.as_ref().map(|dots| screening(dots, pitch)));
    say(picture, &ink, &measured, reach, remarks);
    Ok(measured)
}

/// The ink of a picture, in pixels.
struct Covered {
    all: f64,
    /// Of it, within the box around what is printed.
    boxed: f64,
    grey: f64,
    wide: f64,
    high: f64,
    /// Whether any pixel is at least half covered.
    edged: bool,
    touches_border: bool,
}

impl Covered {
    fn of(picture: &Picture<'_>) -> Result<Self, Error> {
        // Of half covered pixels if there are any, else of all that have some ink.
        let (mut firm, mut faint) = (Frame::NONE, Frame::NONE);
        let (mut all, mut grey) = (0_u64, 0_u64);
        for (y, row) in picture.rows().enumerate() {
            for (x, level) in row.levels().enumerate() {
                if level == 0 {
                    continue;
                }
                all = all.saturating_add(level.into());
                if GREY.contains(&level) {
                    grey = grey.saturating_add(level.into());
                }
                faint.take_in(x, y);
                if printed(level) {
                    firm.take_in(x, y);
                }
            }
        }
        if all == 0 {
            return Err(Error::new(Code::Impossible, "/ink", "the picture has no ink: is `ink` the right way round?"));
        }
        let edged = firm.right > 0;
        let frame = if edged { firm } else { faint };
        let boxed: u64 = picture
            .rows()
            .take(frame.bottom)
            .skip(frame.top)
            .flat_map(|row| row.levels().take(frame.right).skip(frame.left))
            .map(u64::from)
            .sum();
        let pixels = |levels: u64| levels as f64 / 255.0;
        Ok(Self {
            all: pixels(all),
            boxed: pixels(boxed),
            grey: pixels(grey),
            wide: frame.right.saturating_sub(frame.left) as f64,
            high: frame.bottom.saturating_sub(frame.top) as f64,
            edged,
            touches_border: frame.left == 0
                || frame.top == 0
                || frame.right == picture.wide()
                || frame.bottom == picture.high(),
        })
    }
}

/// A box of pixels; right and bottom are the first beyond it.
#[derive(Clone, Copy)]
struct Frame {
    left: usize,
    right: usize,
    top: usize,
    bottom: usize,
}

impl Frame {
    const NONE: Self = Self { left: usize::MAX, right: 0, top: usize::MAX, bottom: 0 };

    fn take_in(&mut self, x: usize, y: usize) {
        self.left = self.left.min(x);
        self.right = self.right.max(x.saturating_add(1));
        self.top = self.top.min(y);
        self.bottom = self.bottom.max(y.saturating_add(1));
    }
}

/// The integral of exp(-x / reach) over the ink, all in pixels.
///
/// A pixel reaches across depths of half a pixel to either side of its centre, from the edge on. Ink of it that has no room there
/// lies on the edge, and no more than a reach of it counts. A pixel less than half covered is a strip along an edge, as deep as it is
/// covered.
fn edge_share_area(picture: &Picture<'_>, contour: &Contour, nearest: &Nearest, reach: f64) -> f64 {
    let pixel = |ink: f64, depth: f64| {
        let from = (depth - 0.5).max(0.0);
        let across = depth + 0.5 - from;
        let mean = -libm::expm1(-across / reach) * libm::exp(-from / reach) * reach / across;
        ink.min(across) * mean + (ink - across).max(0.0).min(reach)
    };
    let mut sum = 0.0;
    for (y, row) in (0_i32..).zip(picture.rows()) {
        let mut of_row = 0.0;
        for (x, level) in (0_i32..).zip(row.levels()) {
            if level == 0 {
                continue;
            }
            let ink = f64::from(level) / 255.0;
            let Some(site) = nearest.site(x, y) else {
                of_row += -libm::expm1(-ink / reach) * reach;
                continue;
            };
            let (across, down) = (f64::from(site.0.wrapping_sub(x)), f64::from(site.1.wrapping_sub(y)));
            let away = (across * across + down * down).sqrt();
            if away > BEYOND * reach + 1.0 {
                continue;
            }
            let depth = if away < CLOSE * reach + 1.0 {
                let touch = |site| contour.contact((x.into(), y.into()), site, Side::Printed).distance;
                nearest.sites(x, y).map(touch).fold(f64::INFINITY, f64::min)
            } else {
                away - 0.5
            };
            of_row += pixel(ink, depth);
        }
        sum += of_row;
    }
    sum
}

fn screening(halftone: &Lattice, pitch: f64) -> Halftone {
    Halftone::new()
        .ruling(Count::from_si(1.0 / (halftone.pitch * pitch)))
        .angle(units::DEG.of(halftone.angle))
        .dots(u32::try_from(halftone.dots).unwrap_or(u32::MAX))
}

fn say(picture: &Picture<'_>, ink: &Covered, measured: &ArtworkMeasure, reach: Length, remarks: &mut Remarks) {
    if !ink.edged {
        remarks.caution(
            "no_edges",
            "",
            "no pixel is half covered: there is no edge to measure; turn greys into a halftone at the size of the print first",
        );
    } else if ink.grey > MOSTLY_GREY * ink.all {
        remarks.caution(
            "grey",
            "",
            "much of the ink stands in greys: a screen prints ink or none, so turn greys into a halftone at the size of the print first; edges were taken at half coverage",
        );
    }
    if measured.coverage_fraction.is_some_and(|coverage| coverage >= 1.0) {
        remarks.info("solid", "/ink", "the box is solid ink: if it should not be, `ink` is the wrong way round");
    }
    if ink.touches_border {
        remarks.info(
            "touches_border",
            "",
            "the print touches the border of the picture: its edge is taken to be there",
        );
    }
    if picture.pitch() > COARSE * reach.si() {
        remarks.caution(
            "coarse_picture",
            "/resolution",
            "the pixels are coarse beside the reach of a stencil's edge: edges and fine lines are known to about half a pixel only",
        );
    }
    if let Some(halftone) = &measured.halftone {
        remarks.info(
            "halftone",
            "",
            |say: Say| format!(
                "this looks like a halftone, {} at {}: its finest line is its smallest dot, its finest gap the smallest hole or bridge between dots",
                say.say(halftone.ruling, Show::Usual),
                say.say(halftone.angle, Show::Usual)
            ),
        );
    }
}
