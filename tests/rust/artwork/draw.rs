//! Pictures drawn in code, a pixel a millimetre, and what is measured on them.

use floodbar::artwork::{ArtworkMeasure, Halftone, InkIs, Picture, PicturePoint, Workspace, measure};
use floodbar::quantity::{Area, Count, Length, units};

/// How far an edge thickens the film, in pixels: that of 0.25 mm at 300 pixels an inch.
pub const REACH: f64 = 2.95;
/// Samples along a pixel's side: a binary picture, sampled at the centres, and an anti-aliased one.
pub const FINENESS: [u32; 2] = [1, 8];
/// And pictures of few greys.
pub const SHADES: [u32; 4] = [1, 2, 3, 8];

/// What a picture comes to: all that artwork.measure always says, and what it may say.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    pub width: Length,
    pub height: Length,
    pub printed_area: Area,
    pub coverage_fraction: f64,
    pub edge_length: Length,
    pub edge_share_area: Area,
    pub finest_line: Option<Length>,
    pub finest_line_at: Option<PicturePoint>,
    pub finest_gap: Option<Length>,
    pub finest_gap_at: Option<PicturePoint>,
    pub halftone: Option<Halftone>,
}

impl From<&ArtworkMeasure> for Measure {
    fn from(measured: &ArtworkMeasure) -> Self {
        Self {
            width: measured.width.expect("a width"),
            height: measured.height.expect("a height"),
            printed_area: measured.printed_area,
            coverage_fraction: measured.coverage_fraction.expect("a coverage"),
            edge_length: measured.edge_length.expect("edges"),
            edge_share_area: measured.edge_share_area,
            finest_line: measured.finest_line,
            finest_line_at: measured.finest_line_at.clone(),
            finest_gap: measured.finest_gap,
            finest_gap_at: measured.finest_gap_at.clone(),
            halftone: measured.halftone.clone(),
        }
    }
}

/// A picture, light ink.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Art {
    pub wide: u32,
    pub high: u32,
    pub pixels: Vec<u8>,
}

impl Art {
    /// Draws the points that lie no more than 0 beyond the shape. `beyond` is below 0 within it, above 0 outside, and never
    /// more than the distance to its edge, so that only pixels near an edge need all samples.
    pub fn draw(wide: u32, high: u32, fine: u32, beyond: impl Fn(f64, f64) -> f64) -> Self {
        let share = |x: u32, y: u32| {
            let middle = beyond(f64::from(x) + 0.5, f64::from(y) + 0.5);
            if fine == 1 || middle.abs() > 0.75 {
                return if middle <= 0.0 { 255 } else { 0 };
            }
            let at = |pixel: u32, k: u32| f64::from(pixel) + (f64::from(k) + 0.5) / f64::from(fine);
            let hits = (0..fine * fine).filter(|k| beyond(at(x, k % fine), at(y, k / fine)) <= 0.0).count() as u32;
            ((255 * hits + fine * fine / 2) / (fine * fine)) as u8
        };
        let pixels = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y))).map(|(x, y)| share(x, y)).collect();
        Self { wide, high, pixels }
    }

    /// The picture that has at (x, y) what this one has at `from(x, y)`.
    pub fn moved(&self, wide: u32, high: u32, from: impl Fn(u32, u32) -> (u32, u32)) -> Self {
        let places = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y)));
        let pixels = places.map(|(x, y)| from(x, y)).map(|(x, y)| self.pixels[(y * self.wide + x) as usize]).collect();
        Self { wide, high, pixels }
    }

    pub fn inverted(&self) -> Self {
        Self { pixels: self.pixels.iter().map(|pixel| 255 - pixel).collect(), ..self.clone() }
    }

    /// Black and white.
    pub fn sharp(&self) -> Self {
        Self { pixels: self.pixels.iter().map(|pixel| if *pixel >= 128 { 255 } else { 0 }).collect(), ..self.clone() }
    }

    /// How many pieces its printed pixels make; those that touch at a corner are joined.
    pub fn pieces(&self) -> usize {
        let (wide, high) = (self.wide as usize, self.high as usize);
        let mut left: Vec<bool> = self.pixels.iter().map(|pixel| *pixel >= 128).collect();
        let mut count = 0;
        while let Some(first) = left.iter().position(|left| *left) {
            count += 1;
            left[first] = false;
            let mut next = vec![first];
            while let Some(at) = next.pop() {
                let (x, y) = (at % wide, at / wide);
                for beside in (y.saturating_sub(1)..high.min(y + 2))
                    .flat_map(|y| (x.saturating_sub(1)..wide.min(x + 2)).map(move |x| y * wide + x))
                {
                    if std::mem::take(&mut left[beside]) {
                        next.push(beside);
                    }
                }
            }
        }
        count
    }

    pub fn picture(&self, resolution: Count) -> Picture<'_> {
        Picture::new(&self.pixels, self.wide, self.high, None, resolution, InkIs::Light).expect("a picture")
    }

    /// All in pixels.
    pub fn measured(&self) -> Measure {
        self.at(units::PER_CM.of(10.0), REACH)
    }

    pub fn at(&self, resolution: Count, reach: f64) -> Measure {
        let reach = units::MM.of(reach);
        let measured = measure(&self.picture(resolution), reach, &mut Workspace::default()).expect("a measure");
        Measure::from(&*measured)
    }
}

pub fn mm(length: Length) -> f64 {
    units::MM.value(length)
}

pub fn mm2(area: Area) -> f64 {
    units::MM2.value(area)
}

/// Finest line and gap.
pub fn finest(measured: &Measure) -> (f64, f64) {
    (measured.finest_line.map_or(f64::NAN, mm), measured.finest_gap.map_or(f64::NAN, mm))
}

/// A disc about (x, y).
pub fn disc(x: f64, y: f64, radius: f64) -> impl Fn(f64, f64) -> f64 + Copy {
    move |at_x, at_y| (at_x - x).hypot(at_y - y) - radius
}

/// A rectangle about (x, y), turned.
pub fn rectangle(x: f64, y: f64, wide: f64, high: f64, degrees: f64) -> impl Fn(f64, f64) -> f64 + Copy {
    let (sin, cos) = degrees.to_radians().sin_cos();
    move |at_x, at_y| {
        let (u, v) = (at_x - x, at_y - y);
        ((u * cos + v * sin).abs() - wide / 2.0).max((v * cos - u * sin).abs() - high / 2.0)
    }
}

/// The integral of exp(-d / L) over a rectangle, d the distance to its edge: the inner parallel rectangle at d has the
/// perimeter p - 8 d, up to d = h, half the lesser side.
pub fn rectangle_share(wide: f64, high: f64, reach: f64) -> f64 {
    let (perimeter, half) = (2.0 * (wide + high), wide.min(high) / 2.0);
    let end = (-half / reach).exp();
    perimeter * reach * (1.0 - end) - 8.0 * (reach * reach - reach * (reach + half) * end)
}

/// Numbers from 0 to below 1, in the order of a congruential generator.
pub fn random(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Errors of one kind, over many pictures. `cargo test -- --nocapture` shows how large they are.
pub struct Errors {
    kind: String,
    least: f64,
    most: f64,
}

impl Errors {
    pub fn of(kind: impl Into<String>) -> Self {
        Self { kind: kind.into(), least: f64::INFINITY, most: f64::NEG_INFINITY }
    }

    pub fn see(&mut self, error: f64) {
        assert!(!error.is_nan(), "{}: nothing measured", self.kind);
        self.least = self.least.min(error);
        self.most = self.most.max(error);
    }

    pub fn share(&mut self, got: f64, wanted: f64) {
        self.see(got / wanted - 1.0);
    }

    pub fn within(&self, allowed: f64) {
        println!("{}: {:+.4} to {:+.4}", self.kind, self.least, self.most);
        assert!(self.least <= self.most, "{}: nothing seen", self.kind);
        assert!(self.least >= -allowed && self.most <= allowed, "{}: {} to {}", self.kind, self.least, self.most);
    }
}
