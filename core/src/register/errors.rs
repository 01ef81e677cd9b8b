//! The chance that colours meet.

use super::Cause;
use super::cosine::MOST;
use super::spread::{Line, REACH, Spread};
use crate::quantity::{Dimensioned, Length};
use crate::root::{Bracket, Point, Search, illinois};
use std::convert::Infallible;

/// Steps of the line on which a trap is looked for first.
const COARSE: usize = 256;
/// How a trap is looked for: to twelve digits, or far closer than the chances themselves are.
const CLOSE: Search = Search { width: 0.0, relative_width: 1e-12, value: 1e-10, margin: 0.0, evaluations: 100 };

/// The errors of register of a job: what moves the colours against each other.
///
/// Along one axis colour `k` is printed at `x_k + w_k`. `x_k` is its own error, new for each colour: the sum of the causes
/// that do not accumulate. `w_1 = 0` and `w_k = w_(k-1) + e_k`: with a cause that accumulates, each colour is set to the
/// print of the one before it and misses it by `e_k`. Causes that are shared move all colours alike and cancel. So colour
/// `k` lies off the first by
///
/// `d_k = x_k - x_1 + w_k`, of variance `2 u^2 + (k - 1) s^2`,
///
/// `u^2` the sum of the variances of the causes that do not accumulate, `s^2` that of those that do. Both axes have the
/// same errors and are independent: the chance for both is the square of the chance for one.
///
/// # Method
/// With `y_1 = -x_1` and `y_k = y_(k-1) + e_k`, the chance for one axis that all colours lie within the trap `t` of the
/// first is the mean of the product of `q(y_2) ... q(y_n)`, `q(y) = P(|x + y| <= t)`. It is found on a line of 1024 places
/// a side: one step after the other the spread of `y` is convolved with that of `e` and multiplied by `q`. Convolutions are
/// products of cosine sums, in which each shape has a closed form. Against independent quadrature and lines 64 times as
/// fine, chances are good to 1e-7; 1e-6 is what is promised. One case is worse, 1e-4: the trap equals the half-width of an
/// even accumulating cause to a thousandth, and all other causes together are smaller than that thousandth, yet not nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Errors {
    own: Spread,
    step: Spread,
}

impl Errors {
    /// The errors of these causes, in any order.
    pub fn of<'a>(causes: impl Iterator<Item = &'a Cause> + Clone) -> Self {
        let unshared = causes.filter(|cause| !cause.is_shared());
        Self {
            own: Spread::of(unshared.clone().filter(|cause| !cause.is_accumulating())),
            step: Spread::of(unshared.filter(|cause| cause.is_accumulating())),
        }
    }

    /// What is left of these causes once a set-up was adjusted on a test print: those that act anew on every print.
    ///
    /// As far as the adjusting goes: how closely it is read and set is a cause of its own.
    pub fn adjusted<'a>(causes: impl Iterator<Item = &'a Cause> + Clone) -> Self {
        Self::of(causes.filter(|cause| !cause.is_per_setup()))
    }

    /// Colour `colour` against the first: standard deviation of one axis. Colour 2 is the pair.
    ///
    /// `sqrt(2 u^2 + (k - 1) s^2)`; without accumulating causes the square root of 2 times the root sum of squares.
    #[must_use]
    pub fn standard(&self, colour: u32) -> Length {
        Length::from_si(self.variance(colour).sqrt())
    }

    /// Colour `colour` against the first: the most that the half-widths together can make, along one axis.
    ///
    /// Twice the sum of the half-widths, and `k - 1` times those of accumulating causes.
    #[must_use]
    pub fn worst_case(&self, colour: u32) -> Length {
        Length::from_si(self.both(colour) * self.own.worst + steps_to(colour) * self.step.worst)
    }

    /// The chance that colour `colour` lies within the trap of the first, along both axes.
    ///
    /// 1 for the first colour itself and for colours that nothing moves apart.
    #[must_use]
    pub fn within(&self, colour: u32, trap: Length) -> f64 {
        let chance = self.one_axis(colour, trap.si(), MOST);
        chance * chance
    }

    /// The chance that each of `colours` colours lies within the trap of the first, along both axes.
    #[must_use]
    pub fn all_within(&self, colours: u32, trap: Length) -> f64 {
        let chance = self.all_one_axis(colours, trap.si(), MOST);
        chance * chance
    }

    /// The least trap in which all colours lie with the chance `wanted`, from 0 to below 1.
    #[must_use]
    pub fn trap_needed(&self, colours: u32, wanted: f64) -> Length {
        let wanted = wanted.sqrt();
        let most = self.reach(colours);
        if most <= 0.0 {
            return Length::from_si(0.0);
        }
        let beyond =
            |trap: f64, steps: usize| Point { at: trap, value: self.all_one_axis(colours, trap, steps) - wanted };
        let near = least([beyond(0.0, COARSE), beyond(most, COARSE)], |trap| beyond(trap, COARSE).value);
        // The two lines differ by far less than this.
        let (low, high) = (beyond(near * (1.0 - 3e-4), MOST), beyond(near * (1.0 + 3e-4), MOST));
        let low = if low.value < 0.0 { low } else { beyond(0.0, MOST) };
        let high = if high.value >= 0.0 { high } else { beyond(most, MOST) };
        Length::from_si(least([low, high], |trap| beyond(trap, MOST).value))
    }

    pub(super) fn variance(&self, colour: u32) -> f64 {
        self.both(colour) * self.own.variance() + steps_to(colour) * self.step.variance()
    }

    /// How many own errors lie between a colour and the first: two, or none for the first itself.
    fn both(&self, colour: u32) -> f64 {
        if colour > 1 { 2.0 } else { 0.0 }
    }

    /// Beyond this, in metres, no colour up to this one gets, but for a chance below 1e-10.
    fn reach(&self, colour: u32) -> f64 {
        let most = self.both(colour) * self.own.reach() + steps_to(colour) * self.step.reach();
        most.min(REACH * self.variance(colour).sqrt())
    }

    /// The half-width of the one even error that moves a colour off the one before it, where nothing else does: its edge
    /// may fall on that of the trap, and the product of two jumps at one place is more than a line can hold.
    fn lone_step(&self) -> Option<f64> {
        if self.own.worst > 0.0 { None } else { self.step.lone() }
    }

    fn one_axis(&self, colour: u32, trap: f64, steps: usize) -> f64 {
        let reach = self.reach(colour);
        if reach <= 0.0 {
            return 1.0;
        }
        if trap <= 0.0 {
            return 0.0;
        }
        if let Some(half_width) = self.lone_step().filter(|_| colour == 2) {
            return (trap / half_width).min(1.0);
        }
        let line = Line::new(steps, 0.5 * (trap + reach));
        let (own, step, window) = (line.sums(&self.own), line.sums(&self.step), line.window(trap));
        let together = own.iter().zip(&step).zip(&window).map(|((own, step), window)| {
            let steps = (1..colour).fold(1.0, |product, _| product * step);
            own * own * steps * window
        });
        line.at_zero(together).clamp(0.0, 1.0)
    }

    fn all_one_axis(&self, colours: u32, trap: f64, steps: usize) -> f64 {
        let mut chance = self.one_axis(colours.min(2), trap, steps);
        if colours <= 2 || trap <= 0.0 {
            return chance;
        }
        // What has left the trap by more than the reach of an own error never comes back; half a step's reach on either
        // side keeps what goes round the ring out of it.
        let line = Line::new(steps, trap + self.own.reach() + 0.5 * self.step.reach());
        let (own, step) = (line.sums(&self.own), line.sums(&self.step));
        let inside: Vec<f64> = own.iter().zip(line.window(trap)).map(|(own, window)| own * window).collect();
        let inside = line.places(&inside);
        let (mut sums, mut next) = (own, 2);
        if let Some(half_width) = self.lone_step() {
            // What is kept of one even step is even again.
            let kept = (trap / half_width).min(1.0);
            sums = line.sums(&Spread::even(half_width.min(trap)));
            sums.iter_mut().for_each(|sum| *sum *= kept);
            next = 3;
        }
        for colour in next..=colours {
            let moved: Vec<f64> = sums.iter().zip(&step).map(|(sum, step)| sum * step).collect();
            let kept: Vec<f64> = line.places(&moved).iter().zip(&inside).map(|(place, q)| place * q).collect();
            sums = line.turn.transform(&kept);
            // A pair has been found more closely; and no further colour adds to the chance.
            if colour > 2 {
                chance = sums.first().copied().unwrap_or_default().max(0.0).min(chance);
            }
        }
        chance
    }
}

/// Steps of accumulating causes between a colour and the first.
fn steps_to(colour: u32) -> f64 {
    f64::from(colour.saturating_sub(1))
}

/// The least argument between two points, the lower one first, at which a rising function is zero or above.
fn least(ends: [Point; 2], rising: impl Fn(f64) -> f64) -> f64 {
    let [low, high] = ends;
    match Bracket::between(low, high) {
        Some(bracket) => {
            let Ok(bracket) = illinois::<Infallible>(bracket, &CLOSE, |at| Ok(rising(at)));
            bracket.holds.at
        }
        None => {
            if low.value >= 0.0 {
                low.at
            } else {
                high.at
            }
        }
    }
}
