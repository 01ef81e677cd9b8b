//! Tells a halftone from line art: many small dots, or holes, all about as far from their neighbours.

use super::edges::Loop;

/// Dots that make a halftone, at least.
const MANY: usize = 64;
/// Dots whose neighbours are looked for, at most.
const SAMPLE: usize = 1_024;
/// Share of the dots whose distance to the nearest neighbour must be the usual one, and how far it may be off.
const ALIKE: f64 = 0.6;
const OFF: f64 = 0.12;
/// Neighbours at that distance that a dot has, at least, on average (four away from the border), and how well they stand in two
/// directions at right angles (0 not at all, 1 exactly).
const NEIGHBOURS: f64 = 2.0;
const ALIGNED: f64 = 0.6;
/// Share of all edges that must be those of dots and holes: where most have run together, the rest make other rows.
const EDGES: f64 = 0.6;
/// Largest dot, and longest way to its neighbour, m: the pitch of eight dots a centimetre, and as much more as it may be off.
const LARGEST: f64 = 1.45e-3;

/// The dots of a halftone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lattice {
    /// From dot to dot, in pixels.
    pub pitch: f64,
    /// Direction of the rows of dots, degrees from 0 to below 90, counter-clockwise from the picture's width.
    pub angle: f64,
    pub dots: usize,
}

/// Middles of dots and holes, in pixels.
#[derive(Debug, Clone, Default)]
pub(super) struct Dots {
    middles: Vec<(f32, f32)>,
    largest: f64,
    /// Length of their edges, in pixels.
    edges: f64,
}

impl Dots {
    /// Begins anew, for a picture whose pixels have this pitch in m.
    pub fn begin(&mut self, pitch: f64) {
        self.middles.clear();
        self.edges = 0.0;
        self.largest = LARGEST / pitch;
    }

    /// Notes a closed line, if it is as small as a dot.
    pub fn see(&mut self, line: &Loop) {
        let (wide, high) = (f64::from(line.right) - f64::from(line.left), f64::from(line.bottom) - f64::from(line.top));
        if wide.max(high) <= self.largest {
            let middle = |low: i32, high: i32| 0.5 * (low as f32 + high as f32);
            self.edges += line.length;
            self.middles.push((middle(line.left, line.right), middle(line.top, line.bottom)));
        }
    }

    /// The halftone that the dots make, if they make one. `edges` is the length of all edges of the picture, in pixels.
    pub fn lattice(&self, edges: f64) -> Option<Lattice> {
        if self.middles.len() < MANY || self.edges < EDGES * edges {
            return None;
        }
        let tiles = Tiles::new(&self.middles, self.largest);
        let every = self.middles.len().div_ceil(SAMPLE);
        let sample = || self.middles.iter().step_by(every);
        let mut nearest: Vec<f64> =
            sample().filter_map(|dot| tiles.steps(*dot).map(squared).reduce(f64::min)).map(f64::sqrt).collect();
        nearest.sort_by(f64::total_cmp);
        let usual = *nearest.get(nearest.len() / 2)?;
        let alike = |length: f64| (length - usual).abs() <= OFF * usual + 0.5;
        if (nearest.iter().filter(|length| alike(**length)).count() as f64) < ALIKE * (sample().count() as f64) {
            return None;
        }
        // All neighbours of a dot, not the nearest only: that one is near by chance too.
        let steps: Vec<_> =
            sample().flat_map(|dot| tiles.steps(*dot)).filter(|step| alike(squared(*step).sqrt())).collect();
        // Rows of dots repeat every quarter turn: four times the angle has one mean.
        let (mut cosines, mut sines, mut lengths) = (0.0, 0.0, 0.0);
        for (x, y) in &steps {
            let four = 4.0 * libm::atan2(-*y, *x);
            cosines += libm::cos(four);
            sines += libm::sin(four);
            lengths += (x * x + y * y).sqrt();
        }
        let count = steps.len() as f64;
        // In rows, and square: where many dots have run together, those left over are neither.
        if count < NEIGHBOURS * sample().count() as f64 || libm::hypot(cosines, sines) < ALIGNED * count {
            return None;
        }
        let angle = (libm::atan2(sines, cosines) / 4.0).to_degrees();
        Some(Lattice {
            pitch: lengths / count,
            angle: if angle < 0.0 { angle + 90.0 } else { angle },
            dots: self.middles.len(),
        })
    }
}

fn squared((x, y): (f64, f64)) -> f64 {
    x * x + y * y
}

/// Dots sorted into square tiles, so that a neighbour is found among few.
struct Tiles {
    side: f32,
    across: usize,
    /// Tile and middle of each dot, by tile.
    dots: Vec<(usize, (f32, f32))>,
    reach: f64,
}

impl Tiles {
    fn new(middles: &[(f32, f32)], largest: f64) -> Self {
        let side = (largest as f32).max(1.0);
        let most = middles.iter().fold(0.0_f32, |most, (x, _)| most.max(*x));
        let mut tiles = Self {
            side,
            // One tile more on either side: neighbours are looked for there too.
            across: ((most / side) as usize).saturating_add(3),
            dots: Vec::new(),
            reach: f64::from(side),
        };
        tiles.dots = middles.iter().map(|dot| (tiles.tile(*dot), *dot)).collect();
        tiles.dots.sort_by_key(|(tile, _)| *tile);
        tiles
    }

    fn tile(&self, (x, y): (f32, f32)) -> usize {
        let at = |v: f32| ((v / self.side) as usize).saturating_add(1);
        at(y).saturating_mul(self.across).saturating_add(at(x))
    }

    /// The steps from a dot to those around it, as far as a tile.
    fn steps(&self, dot: (f32, f32)) -> impl Iterator<Item = (f64, f64)> {
        let middle = self.tile(dot);
        [middle.saturating_sub(self.across), middle, middle.saturating_add(self.across)]
            .into_iter()
            .flat_map(move |row| {
                let begin = self.dots.partition_point(|(tile, _)| *tile < row.saturating_sub(1));
                let rest = self.dots.get(begin..).unwrap_or_default();
                rest.iter().take_while(move |(tile, _)| *tile <= row.saturating_add(1))
            })
            .map(move |(_, other)| (f64::from(other.0 - dot.0), f64::from(other.1 - dot.1)))
            .filter(|step| squared(*step) > 0.0 && squared(*step) <= self.reach * self.reach)
    }
}
