//! How the doubts of what goes into a calculation come out of it: by differences (JCGM 100, the GUM) or by draws (JCGM 101).

use crate::sorted;
use core::ops::ControlFlow;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// Half-width of the 95 % interval of a normal distribution, over its standard deviation.
pub const COVERAGE: f64 = 1.959_963_984_540_054;
/// Share of a distribution that an interval holds.
const SHARE: f64 = 0.95;
/// One-sided differences that disagree by more than this share of the larger are uneven.
const UNEVEN: f64 = 0.5;
/// Differences of less than this share of the value are roundings.
const ROUNDING: f64 = 1e-12;
/// An input whose larger difference is less than this share of the combined standard uncertainty is not looked at.
const SLIGHT: f64 = 0.1;
/// Draws of one input that may fall outside what it may be, one after the other.
const MOST_DRAWS: u32 = 1_000;

/// How an input is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// Normal.
    Normal,
    /// Even between two ends.
    Uniform,
}

/// An input in doubt, independent of the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertain {
    /// Its estimate.
    pub value: f64,
    /// Its standard uncertainty.
    pub standard: f64,
    /// How it is spread.
    pub spread: Spread,
}

impl Uncertain {
    /// From a half-width of 95 % of a normal distribution: u = U / 1.959964.
    #[must_use]
    pub const fn of_half_width(value: f64, half_width: f64) -> Self {
        Self { value, standard: half_width / COVERAGE, spread: Spread::Normal }
    }
}

/// What doubts make of one output.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Combined {
    /// Combined standard uncertainty, u_c.
    pub standard: f64,
    /// The input that contributes most, where any does.
    pub contributor: Option<usize>,
    /// Its share of the variance.
    pub share: f64,
    /// Inputs whose two one-sided differences disagree by more than half, where they matter.
    pub uneven: Vec<usize>,
}

/// Combined standard uncertainties to first order: u_c^2 = sum (c u)^2, where c u is half the difference of an output between both ends
/// of an input at its standard uncertainty (JCGM 100, 5.1.2 and the note to 5.1.3).
///
/// `evaluate` is asked for all outputs with one input at another value and the others at their estimates; not a number where there is
/// none, and then the difference is that of the other end.
pub fn differences(
    inputs: &[Uncertain],
    nominal: &[f64],
    evaluate: &mut dyn FnMut(usize, f64) -> Vec<f64>,
) -> Vec<Combined> {
    let mut all = vec![Combined::default(); nominal.len()];
    let mut largest = vec![0.0; nominal.len()];
    let mut uneven: Vec<Vec<(usize, f64)>> = vec![Vec::new(); nominal.len()];
    for (index, input) in inputs.iter().enumerate() {
        let above = evaluate(index, input.value + input.standard);
        let below = evaluate(index, input.value - input.standard);
        let ends = nominal.iter().zip(above.iter().zip(&below));
        let sums = all.iter_mut().zip(&mut largest).zip(&mut uneven);
        for (((combined, largest), uneven), (middle, (above, below))) in sums.zip(ends) {
            let (up, down) = (above - middle, middle - below);
            let mut part = match (up.is_finite(), down.is_finite()) {
                (true, true) => 0.5 * (above - below),
                (true, false) => up,
                (false, true) => down,
                (false, false) => 0.0,
            };
            let larger = up.abs().max(down.abs());
            if larger <= ROUNDING * middle.abs() {
                part = 0.0;
            } else if (up - down).abs() > UNEVEN * larger {
                uneven.push((index, larger));
            }
            let variance = part * part;
            combined.standard += variance;
            if variance > *largest {
                *largest = variance;
                combined.contributor = Some(index);
            }
        }
    }
    for ((combined, largest), uneven) in all.iter_mut().zip(largest).zip(uneven) {
        if combined.standard > 0.0 {
            combined.share = largest / combined.standard;
            combined.standard = combined.standard.sqrt();
        }
        // At a greatest or least value there is no more to be seen of a doubt than that.
        let matters = uneven.into_iter().filter(|(_, larger)| *larger > SLIGHT * combined.standard);
        combined.uneven = matters.map(|(index, _)| index).collect();
    }
    all
}

/// The draws of every output.
#[derive(Debug, Clone, Default)]
pub struct Draws {
    /// The values that were drawn of each output, ascending.
    pub outputs: Vec<Vec<f64>>,
    /// How many.
    pub count: u32,
    /// Values of inputs that were drawn.
    pub drawn: u64,
    /// Those of them that could not be, and were drawn again.
    pub redrawn: u64,
}

/// Fills in outputs from inputs, or breaks off.
pub type Evaluate<'a> = dyn FnMut(&[f64], &mut [f64]) -> ControlFlow<()> + 'a;

/// Draws all inputs so many times (JCGM 101, 5.9) and takes down each output. The generator and its seed are fixed.
///
/// `holds` says whether an input may have a value; where it may not, another is drawn. `evaluate` fills in the outputs; what it leaves
/// not a number does not count, and where it breaks off that draw is the last and does not count either.
pub fn draws(
    inputs: &[Uncertain],
    count: u32,
    outputs: usize,
    holds: &dyn Fn(usize, f64) -> bool,
    evaluate: &mut Evaluate<'_>,
) -> Draws {
    let mut source = Chances { generator: Xoshiro256PlusPlus::seed_from_u64(1), spare: None };
    let mut draws = Draws { outputs: vec![Vec::new(); outputs], ..Draws::default() };
    let mut values: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let mut found = vec![f64::NAN; outputs];
    for _ in 0..count {
        for (index, (value, input)) in values.iter_mut().zip(inputs).enumerate() {
            for _ in 0..MOST_DRAWS {
                *value = source.draw(input);
                draws.drawn = draws.drawn.saturating_add(1);
                if holds(index, *value) {
                    break;
                }
                draws.redrawn = draws.redrawn.saturating_add(1);
            }
        }
        found.fill(f64::NAN);
        if evaluate(&values, &mut found).is_break() {
            break;
        }
        draws.count = draws.count.saturating_add(1);
        for (output, found) in draws.outputs.iter_mut().zip(&found) {
            if found.is_finite() {
                output.push(*found);
            }
        }
    }
    for output in &mut draws.outputs {
        sorted::numbers(output);
    }
    draws
}

/// Mean and standard deviation of draws; not numbers of none.
#[must_use]
pub fn moments(draws: &[f64]) -> (f64, f64) {
    let count = draws.len() as f64;
    let mean = draws.iter().sum::<f64>() / count;
    let squares: f64 = draws.iter().map(|draw| (draw - mean) * (draw - mean)).sum();
    (mean, (squares / (count - 1.0).max(1.0)).sqrt())
}

/// The shortest interval that holds 95 % of draws in ascending order (JCGM 101, 7.7 and 5.3.4).
#[must_use]
pub fn shortest(draws: &[f64]) -> Option<(f64, f64)> {
    let within = (SHARE * draws.len() as f64).round() as usize;
    let ends = draws.iter().zip(draws.iter().skip(within));
    let ends = ends.min_by(|one, other| (one.1 - one.0).total_cmp(&(other.1 - other.0)));
    ends.or(draws.first().zip(draws.last())).map(|(least, most)| (*least, *most))
}

/// Random numbers, the same in every run on every machine.
struct Chances {
    generator: Xoshiro256PlusPlus,
    spare: Option<f64>,
}

impl Chances {
    /// Above 0 and not above 1.
    fn chance(&mut self) -> f64 {
        ((self.generator.next_u64() >> 11) as f64 + 1.0) * (1.0 / 9_007_199_254_740_992.0)
    }

    fn draw(&mut self, input: &Uncertain) -> f64 {
        let away = match input.spread {
            Spread::Normal => self.normal(),
            Spread::Uniform => (2.0 * self.chance() - 1.0) * 3.0_f64.sqrt(),
        };
        input.value + away * input.standard
    }

    /// Of the standard normal distribution, two at a time (Box and Muller 1958, as JCGM 101, C.4).
    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * libm::log(self.chance())).sqrt();
        let angle = core::f64::consts::TAU * self.chance();
        self.spare = Some(radius * libm::sin(angle));
        radius * libm::cos(angle)
    }
}
