//! Tells a halftone from line art: many small dots, or holes, all about as far from their neighbours.
//!
//! A dot or a hole is a small closed line. At half tone dots touch at their corners and run together: there dots and holes are the
//! deepest places of either side.

use super::distance::Nearest;
use super::edges::Loop;
use super::picture::{Picture, Side, printed, room};
use crate::error::Error;
use crate::sorted;

/// Dots that make a halftone, at least.
const MANY: usize = 64;
/// Dots whose neighbours are looked for, at most.
const SAMPLE: usize = 1_024;
/// Share of the dots whose distance to the nearest neighbour must be the usual one, and how far it may be off.
const ALIKE: f64 = 0.6;
const OFF: f64 = 0.12;
/// Neighbours at that distance that a dot has, at least, on average (four away from the border), and how well they stand in two
/// directions at right angles (0 not at all, 1 exactly).
const NEIGHBOURS: f64 = 3.0;
const ALIGNED: f64 = 0.6;
/// Share of all edges that must be those of dots and holes: where most have run together, the rest make other rows.
const EDGES: f64 = 0.6;
/// How much more often neighbours may be joined one way than the other (half of them where all that stand one way are).
const STRIPED: f64 = 0.25;
/// At half tone a dot is a square whose corners are its neighbours' too: its edge, of the pitch. It is 0.35 of a pitch deep, and stripes
/// in such rows are a quarter at most; from centre to centre of pixels all are deeper, by so many pixels at least.
const EDGE: f64 = 2.0 * core::f64::consts::SQRT_2;
const DEPTH: f64 = 0.25;
const CENTRES: f64 = 0.3;
/// The least pitch, in pixels, of dots that have run together: smaller ones are not told from the steps of a slanted edge.
const LEAST: f64 = 5.0;
/// Largest dot, and longest way to its neighbour, m: the pitch of eight dots a centimetre, and as much more as it may be off.
const LARGEST: f64 = 1.45e-3;

/// Shortest way to its neighbour, m: 200 dots a centimetre, finer than any printed.
const FINEST: f64 = 5e-5;
/// Most dots that are kept, and pixels to one of them: the memory they take stays below that of the distances.
const MOST: usize = 1 << 20;
const PIXELS: usize = 16;
/// Bands to the largest dot's size.
const BANDS: f32 = 64.0;

/// The dots of a halftone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lattice {
    /// From dot to dot, in pixels.
    pub pitch: f64,
    /// Direction of the rows of dots, degrees from 0 to below 90, counter-clockwise from the picture's width.
    pub angle: f64,
    pub dots: usize,
}

impl Lattice {
    /// The lattice of dots and of the holes between them, if they are as far apart.
    pub fn with(self, holes: &Self) -> Option<Self> {
        let alike = (self.pitch - holes.pitch).abs() <= OFF * self.pitch;
        alike.then_some(Self { dots: self.dots.saturating_add(holes.dots), ..self })
    }
}

/// Middles of dots and holes, in pixels.
#[derive(Debug, Clone, Default)]
pub(super) struct Dots {
    middles: Vec<(f32, f32)>,
    largest: f64,
    /// How many there are; of more than `most` only the first are kept.
    count: usize,
    most: usize,
    /// Shortest way to a neighbour, in pixels.
    finest: f64,
    /// Length of their edges, in pixels.
    edges: f64,
}

impl Dots {
    /// Begins anew, for a picture of so many pixels of this pitch in m.
    pub fn begin(&mut self, pixels: usize, pitch: f64) -> Result<(), Error> {
        self.middles.clear();
        self.count = 0;
        self.most = (pixels / PIXELS).clamp(MANY, MOST);
        room(&mut self.middles, self.most)?;
        self.finest = FINEST / pitch;
        self.edges = 0.0;
        self.largest = LARGEST / pitch;
        Ok(())
    }

    /// Notes a closed line, if it is as small as a dot.
    pub fn see(&mut self, line: &Loop) {
        let (wide, high) = (f64::from(line.right) - f64::from(line.left), f64::from(line.bottom) - f64::from(line.top));
        if wide.max(high) <= self.largest {
            let middle = |low: i32, high: i32| 0.5 * (low as f32 + high as f32);
            self.edges += line.length;
            self.count = self.count.saturating_add(1);
            if self.middles.len() < self.most {
                self.middles.push((middle(line.left, line.right), middle(line.top, line.bottom)));
            }
        }
    }

    /// The halftone that the dots make, if they make one. `edges` is the length of all edges of the picture, in pixels.
    pub fn lattice(&mut self, edges: f64) -> Option<Lattice> {
        if self.edges < EDGES * edges { None } else { self.rows(|_, _| false) }
    }

    /// The halftone of dots that have run together, if there is one: of one side, whose nearest pixels of the other have been found.
    pub fn run_together(
        &mut self,
        picture: &Picture<'_>,
        nearest: &Nearest,
        side: Side,
        edges: f64,
    ) -> Option<Lattice> {
        self.middles.clear();
        self.count = 0;
        if EDGES * EDGE * LEAST * MANY as f64 > edges {
            return None;
        }
        let widest = (0.5 * self.largest) as i64;
        let mut depths = 0.0;
        for (y, row) in (0_i32..).zip(picture.rows()) {
            for (x, _) in (0_i32..).zip(row.levels()).filter(|(_, level)| printed(*level) == (side == Side::Printed)) {
                let depth = nearest.squared(x, y);
                let around = |(across, down): (i32, i32)| nearest.squared(x.wrapping_add(across), y.wrapping_add(down));
                let half = |beside: (i32, i32)| if around(beside) == depth { 0.5 } else { 0.0 };
                // Of places side by side that are as deep only the first.
                if depth <= widest.wrapping_mul(widest)
                    && [(-1, 0), (-1, -1), (0, -1), (1, -1)].into_iter().map(around).all(|before| before < depth)
                    && [(1, 0), (-1, 1), (0, 1), (1, 1)].into_iter().map(around).all(|after| after <= depth)
                {
                    self.count = self.count.saturating_add(1);
                    depths += (depth as f64).sqrt();
                    if self.middles.len() < self.most {
                        self.middles.push((x as f32 + half((1, 0)), y as f32 + half((0, 1))));
                    }
                }
            }
        }
        let joined = |dot: (f32, f32), (across, down): (f64, f64)| {
            let half_way = (dot.0 + 0.5 * across as f32, dot.1 + 0.5 * down as f32);
            nearest.squared((half_way.0 + 0.5) as i32, (half_way.1 + 0.5) as i32) > 0
        };
        self.rows(joined).filter(|rows| {
            let dots = rows.dots as f64;
            let edges_of_dots = EDGE * rows.pitch * dots;
            rows.pitch >= LEAST
                && depths / dots >= DEPTH * rows.pitch + CENTRES
                && edges_of_dots > EDGES * edges
                && EDGES * edges_of_dots < edges
        })
    }

    /// The rows that the dots make, if they make any. `joined` tells whether a dot runs into another.
    fn rows(&mut self, joined: impl Fn((f32, f32), (f64, f64)) -> bool) -> Option<Lattice> {
        if self.middles.len() < MANY {
            return None;
        }
        let bands = Bands::new(&mut self.middles, self.largest);
        let every = bands.dots.len().div_ceil(SAMPLE);
        let sample = || bands.dots.iter().step_by(every);
        let mut nearest: Vec<f64> = sample().filter_map(|dot| bands.nearest(*dot, self.largest)).collect();
        sorted::numbers(&mut nearest);
        let mut usual = *nearest.get(nearest.len() / 2)?;
        let alike = |length: f64, usual: f64| (length - usual).abs() <= OFF * usual + 0.5;
        if (nearest.iter().filter(|length| alike(**length, usual)).count() as f64) < ALIKE * (sample().count() as f64) {
            return None;
        }
        // Rows of dots repeat every quarter turn: four times the angle has one mean.
        let (mut count, mut cosines, mut sines) = (0.0, 0.0, 0.0);
        // Of stripes only neighbours along them are joined: every half turn. Of dots those to all sides are, or none.
        let (mut cosines_joined, mut sines_joined) = (0.0, 0.0);
        // All neighbours of a dot, not the nearest only: that one is near by chance too, and nearer where the middles are not exact.
        for _ in 0..2 {
            (count, cosines, sines, cosines_joined, sines_joined) = (0.0, 0.0, 0.0, 0.0, 0.0);
            let (reach, mut lengths) = (usual * (1.0 + OFF) + 0.5, 0.0);
            for (dot, step) in sample().flat_map(|dot| bands.steps(*dot, reach).map(move |step| (*dot, step))) {
                let length = squared(step).sqrt();
                if alike(length, usual) {
                    let angle = libm::atan2(-step.1, step.0);
                    count += 1.0;
                    cosines += libm::cos(4.0 * angle);
                    sines += libm::sin(4.0 * angle);
                    lengths += length;
                    if joined(dot, step) {
                        cosines_joined += libm::cos(2.0 * angle);
                        sines_joined += libm::sin(2.0 * angle);
                    }
                }
            }
            usual = lengths / f64::max(count, 1.0);
        }
        // In rows, and square: where many dots have run together, those left over are neither.
        if usual < self.finest
            || count < NEIGHBOURS * sample().count() as f64
            || libm::hypot(cosines, sines) < ALIGNED * count
            || libm::hypot(cosines_joined, sines_joined) > STRIPED * count
        {
            return None;
        }
        let angle = (libm::atan2(sines, cosines) / 4.0).to_degrees();
        Some(Lattice { pitch: usual, angle: if angle < 0.0 { angle + 90.0 } else { angle }, dots: self.count })
    }
}

fn squared((x, y): (f64, f64)) -> f64 {
    x * x + y * y
}

/// Dots sorted into bands across the picture, each from left to right, so that neighbours are found among few.
struct Bands<'a> {
    /// Height of a band, in pixels.
    high: f32,
    /// Middles of the dots.
    dots: &'a [(f32, f32)],
}

impl<'a> Bands<'a> {
    fn new(dots: &'a mut [(f32, f32)], largest: f64) -> Self {
        let high = (largest as f32 / BANDS).max(1.0);
        dots.sort_unstable_by(|one, other| {
            let band = |dot: &(f32, f32)| (dot.1 / high) as u32;
            band(one).cmp(&band(other)).then(one.0.total_cmp(&other.0))
        });
        Self { high, dots }
    }

    fn band(&self, y: f32) -> u32 {
        (y / self.high) as u32
    }

    /// The steps from a dot to those around it, none longer than `reach`.
    fn steps(&self, dot: (f32, f32), reach: f64) -> impl Iterator<Item = (f64, f64)> {
        let (x, y) = dot;
        let far = reach as f32;
        (self.band(y - far)..=self.band(y + far))
            .flat_map(move |band| {
                let begin = self.dots.partition_point(|at| (self.band(at.1), at.0) < (band, x - far));
                let rest = self.dots.get(begin..).unwrap_or_default();
                rest.iter().take_while(move |at| self.band(at.1) == band && at.0 <= x + far)
            })
            .map(move |at| (f64::from(at.0 - x), f64::from(at.1 - y)))
            .filter(move |step| squared(*step) > 0.0 && squared(*step) <= reach * reach)
    }

    /// The distance to the nearest other dot, up to `most`; looked for in wider and wider circles.
    fn nearest(&self, dot: (f32, f32), most: f64) -> Option<f64> {
        let mut reach = f64::from(self.high);
        loop {
            let nearest = self.steps(dot, reach).map(squared).reduce(f64::min);
            if nearest.is_some() || reach >= most {
                return nearest.map(f64::sqrt);
            }
            reach = (2.0 * reach).min(most);
        }
    }
}
