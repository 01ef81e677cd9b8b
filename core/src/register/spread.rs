//! How far things lie apart: sums of independent errors of several shapes, on a line of evenly spaced places.

use super::cosine::Turn;
use super::{Cause, Shape};
use crate::propagation::COVERAGE;
use crate::quantity::Dimensioned;
use crate::sorted;

/// Beyond so many standard deviations a sum of these shapes has less than 1e-10 of its chance: none of their tails is
/// heavier than the normal one (they are strictly sub-Gaussian, so that `P(|x| > k sd) <= 2 exp(-k^2 / 2)`).
pub(super) const REACH: f64 = 7.0;
/// Places kept free at the end of the line, where the weights of a jump reach past it.
const FREE: f64 = 4.0;

/// A sum of independent errors, each symmetric about zero: its normal part, and even ones. A triangle is the sum of two
/// even ones of half its half-width.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Spread {
    /// Variance of the normal part, m2.
    normal: f64,
    /// Half-widths of the even parts, m, in ascending order.
    even: Vec<f64>,
    /// Sum of all half-widths, m.
    pub worst: f64,
}

impl Spread {
    /// The sum of these errors. Their order does not matter, to the last bit.
    pub fn of<'a>(causes: impl Iterator<Item = &'a Cause>) -> Self {
        let mut errors: Vec<(f64, Shape)> = causes.map(|cause| (cause.half_width.si(), cause.shape)).collect();
        sorted::by_number(&mut errors, |(_, shape)| f64::from(*shape as u8));
        sorted::by_number(&mut errors, |(half_width, _)| *half_width);
        let mut sum = Self::default();
        for (half_width, shape) in errors.into_iter().filter(|(half_width, _)| *half_width > 0.0) {
            sum.worst += half_width;
            match shape {
                Shape::Normal => sum.normal += variance(half_width, Shape::Normal),
                Shape::Uniform => sum.even.push(half_width),
                Shape::Triangular => sum.even.extend([0.5 * half_width; 2]),
            }
        }
        sorted::numbers(&mut sum.even);
        sum
    }

    /// One even error of that half-width, m.
    pub fn even(half_width: f64) -> Self {
        Self { normal: 0.0, even: vec![half_width], worst: half_width }
    }

    /// Its half-width, m, where it is one even error and nothing else.
    pub fn lone(&self) -> Option<f64> {
        match self.even.as_slice() {
            [half_width] if self.normal <= 0.0 => Some(*half_width),
            _ => None,
        }
    }

    /// Its variance, m2.
    pub fn variance(&self) -> f64 {
        self.normal + self.even.iter().map(|a| a * a / 3.0).sum::<f64>()
    }

    /// Beyond this it does not get, m: see [`REACH`].
    pub fn reach(&self) -> f64 {
        let most = self.even.iter().sum::<f64>() + REACH * self.normal.sqrt();
        most.min(REACH * self.variance().sqrt())
    }
}

/// The variance of one error, m2 (JCGM 100:2008, 4.3.6 to 4.3.9): a normal one's half-width holds 95 %.
pub(super) fn variance(half_width: f64, shape: Shape) -> f64 {
    let square = half_width * half_width;
    match shape {
        Shape::Normal => square / (COVERAGE * COVERAGE),
        Shape::Uniform => square / 3.0,
        Shape::Triangular => square / 6.0,
    }
}

/// A line of evenly spaced places on both sides of zero, closed to a ring: place `j` and place `-j` hold the same, so that
/// only one side is kept. What is even on it is described by its sums `X_k`, the transform of [`Turn`]: those of a sum of
/// independent errors are the products of theirs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    pub turn: Turn,
    /// From place to place, m.
    step: f64,
}

impl Line {
    /// A line of `steps` places on each side that holds what reaches `reach` metres.
    pub fn new(steps: usize, reach: f64) -> Self {
        Self { turn: Turn::new(steps), step: reach / (steps as f64 - FREE) }
    }

    /// The sums of an error that is spread so.
    ///
    /// The normal part of variance `v` steps: `exp(-v/2 t^2)`, with `t^2 = l + l^2/12 + l^3/90 + l^4/560`, `l = 4 sin^2(t/2)`,
    /// which goes round the ring without a kink.
    pub fn sums(self, spread: &Spread) -> Vec<f64> {
        let (n, variance) = (self.turn.steps, spread.normal / (self.step * self.step));
        let mut sums = vec![1.0; n.saturating_add(1)];
        for (k, sum) in sums.iter_mut().enumerate() {
            let half = self.turn.sine(k);
            let l = 4.0 * half * half;
            let square = l * (1.0 + l * (1.0 / 12.0 + l * (1.0 / 90.0 + l / 560.0)));
            if variance > 0.0 {
                *sum = libm::exp(-0.5 * variance * square);
            }
        }
        for half_width in &spread.even {
            let even = Even::new(half_width / self.step);
            sums.iter_mut().enumerate().for_each(|(k, sum)| *sum *= even.mean(k, self.turn));
        }
        sums
    }

    /// The sums of a trap of that half-width: 1 within, 0 beyond.
    pub fn window(self, trap: f64) -> Vec<f64> {
        let even = Even::new(trap / self.step);
        (0..=self.turn.steps).map(|k| 2.0 * even.ratio * even.mean(k, self.turn)).collect()
    }

    /// What stands at the places, from its sums.
    pub fn places(self, sums: &[f64]) -> Vec<f64> {
        let mut places = self.turn.transform(sums);
        let share = 0.5 / self.turn.steps as f64;
        places.iter_mut().for_each(|place| *place *= share);
        places
    }

    /// What stands at zero, from its sums.
    pub fn at_zero(self, sums: impl Iterator<Item = f64>) -> f64 {
        let twice = |k: usize| if k == 0 || k == self.turn.steps { 1.0 } else { 2.0 };
        let sum: f64 = sums.enumerate().map(|(k, sum)| twice(k) * sum).sum();
        sum * 0.5 / self.turn.steps as f64
    }
}

/// An even error of half-width `ratio` steps, on the places of a line: 1 at each place inside, and such weights on the two
/// places about each end that the total and the variance are those of the error itself. (As a quadrature these are the
/// trapezoid's weights with Gregory's first correction at an end that meets a place.)
#[derive(Debug, Clone, Copy)]
struct Even {
    ratio: f64,
    inside: usize,
    at_end: f64,
    past_end: f64,
}

impl Even {
    fn new(ratio: f64) -> Self {
        let inside = ratio.floor();
        let over = ratio - inside;
        let past_end = (inside * (over * over - 1.0 / 6.0) + over * over * over / 3.0) / (2.0 * inside + 1.0);
        Self { ratio, inside: inside as usize, at_end: over + 0.5 - past_end, past_end }
    }

    /// The mean of `cos(pi j k / n)` over it.
    fn mean(self, k: usize, turn: Turn) -> f64 {
        let half = turn.sine(k);
        if self.inside == 0 {
            // The same weights, without the difference of near numbers.
            return 1.0 - self.ratio * self.ratio * (2.0 / 3.0) * half * half;
        }
        let odd = self.inside.wrapping_mul(2).wrapping_sub(1);
        let inner = if k == 0 { odd as f64 } else { turn.sine(odd.wrapping_mul(k)) / half };
        let cosine = |place: usize| turn.cosine(place.wrapping_mul(2).wrapping_mul(k));
        let ends = self.at_end * cosine(self.inside) + self.past_end * cosine(self.inside.wrapping_add(1));
        (inner + 2.0 * ends) / (2.0 * self.ratio)
    }
}
