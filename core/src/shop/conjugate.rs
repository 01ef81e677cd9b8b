//! What records teach: a belief before them and the records make the belief after them, in closed form.
//!
//! Each rule is conjugate: the belief after the records is of the same kind as that before. Source: Gelman and others, Bayesian Data
//! Analysis, 2013, sections 2.4 and 2.5 (from memory).

use crate::chance::Waiting;
use crate::propagation::COVERAGE;

/// A belief about a number: normal, of this mean and standard deviation, in the number's own unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// The mean.
    pub mean: f64,
    /// The standard deviation, above 0.
    pub sd: f64,
}

impl Belief {
    /// With 95 % between two ends: `sd = (most - least) / (2 x 1.96)`.
    #[must_use]
    pub fn seen(mean: f64, least: f64, most: f64) -> Self {
        Self { mean, sd: (most - least) / (2.0 * COVERAGE) }
    }

    /// About the logarithm of a factor that lies with 95 % between `1 / factor` and `factor` times `median`.
    #[must_use]
    pub fn of_factor(median: f64, factor: f64) -> Self {
        Self { mean: libm::log(median), sd: libm::log(factor) / COVERAGE }
    }

    /// After records of the mean `mean`, so many, each of the standard deviation `sd` about what is sought.
    ///
    /// `1 / s'^2 = 1 / s^2 + n / sd^2`, `mean' = s'^2 (mean / s^2 + n records / sd^2)`: normal with normal. Without records it stays as it
    /// is; the mean lies between the two, whatever the rounding.
    #[must_use]
    pub fn after(self, records: f64, count: u32, sd: f64) -> Self {
        if count == 0 {
            return self;
        }
        let (before, found) = (1.0 / (self.sd * self.sd), f64::from(count) / (sd * sd));
        let mean = self.mean + (records - self.mean) * (found / (before + found));
        let (low, high) = (self.mean.min(records), self.mean.max(records));
        Self { mean: mean.max(low).min(high), sd: 1.0 / (before + found).sqrt() }
    }

    /// About the next record, of the standard deviation `sd` about what is sought: `sqrt(s^2 + sd^2)` about the same mean.
    #[must_use]
    pub fn next(self, sd: f64) -> Self {
        Self { mean: self.mean, sd: (self.sd * self.sd + sd * sd).sqrt() }
    }

    /// Half of the width within which the number lies with 95 %.
    #[must_use]
    pub fn half_width(self) -> f64 {
        COVERAGE * self.sd
    }

    /// The same of a number whose logarithm this is about: `median sinh(1.96 s)`, half the way from one end to the other.
    #[must_use]
    pub fn half_width_of_log(self) -> f64 {
        libm::exp(self.mean) * libm::sinh(COVERAGE * self.sd)
    }
}

/// The standard deviation of single records, pooled over groups that have one each.
///
/// `sqrt((k sd^2 + squares) / (k + freedom))`: `squares` of all that records are off the mean of their own group, `freedom` the records
/// less the groups, `sd` what is believed without them, as well as from `k` records beyond one: the scale of the scaled inverse chi-squared
/// belief after them. What goes on with it takes it as known, so that a half-width by it holds somewhat less than 95 % while the
/// records are few.
#[must_use]
pub fn pooled(sd: f64, k: f64, squares: f64, freedom: f64) -> f64 {
    ((k * sd * sd + squares) / (k + freedom)).sqrt()
}

/// A belief about a share: beta distributed, as after `a` pieces that count and `b` that do not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShareBelief {
    /// Pieces that count, from 0.
    pub a: f64,
    /// Pieces that do not.
    pub b: f64,
}

impl ShareBelief {
    /// Of a mean, as well known as from so many pieces.
    #[must_use]
    pub fn of(mean: f64, pieces: f64) -> Self {
        Self { a: mean * pieces, b: (1.0 - mean) * pieces }
    }

    /// The pieces from which a share of this mean and standard deviation is known: `mean (1 - mean) / sd^2 - 1`.
    #[must_use]
    pub fn pieces_of(mean: f64, sd: f64) -> f64 {
        mean * (1.0 - mean) / (sd * sd) - 1.0
    }

    /// After `count` of `pieces` more: `a + count`, `b + pieces - count`.
    #[must_use]
    pub fn after(self, count: f64, pieces: f64) -> Self {
        Self { a: self.a + count, b: self.b + (pieces - count) }
    }

    /// The pieces that it is known from.
    #[must_use]
    pub fn pieces(self) -> f64 {
        self.a + self.b
    }

    /// The mean: `a / (a + b)`.
    #[must_use]
    pub fn mean(self) -> f64 {
        self.a / self.pieces()
    }

    /// The standard deviation: `sqrt(mean (1 - mean) / (a + b + 1))`.
    #[must_use]
    pub fn sd(self) -> f64 {
        (self.mean() * (1.0 - self.mean()) / (self.pieces() + 1.0)).sqrt()
    }

    /// The chance that of the next pieces so many count, or more, beta-binomial: a term for each of them is summed ([`Waiting`]).
    #[must_use]
    pub fn next_reach(self, count: u32, pieces: u32) -> f64 {
        let Some(fewer) = count.checked_sub(1) else { return 1.0 };
        let Some(good @ 1..) = pieces.checked_sub(fewer) else { return 0.0 };
        let at_most = Waiting::of(good, self.a, self.b).nth(usize::try_from(fewer).unwrap_or(usize::MAX));
        1.0 - at_most.unwrap_or(1.0)
    }

    /// The standard deviation of the share among the next pieces, beta-binomial:
    /// `sqrt(mean (1 - mean) (a + b + n) / (n (a + b + 1)))`.
    #[must_use]
    pub fn next_sd(self, pieces: f64) -> f64 {
        (self.mean() * (1.0 - self.mean()) * (self.pieces() + pieces) / (pieces * (self.pieces() + 1.0))).sqrt()
    }
}

/// Which records lie further off than so many standard deviations.
///
/// Of three or more: off their median, by 1.4826 times the median of what they are off it, though never by less than `least` of each. Of
/// fewer: off what is believed, by the standard deviation of `next` of each.
#[must_use]
pub fn far(
    values: &[f64],
    most: f64,
    least: impl Fn(usize) -> f64,
    next: impl Fn(usize) -> Option<Belief>,
) -> Vec<bool> {
    const NORMAL: f64 = 1.4826;
    let enough = values.len() >= 3;
    let middle = median(values);
    let off: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
    let usual = NORMAL * median(&off);
    let judge = |(index, value): (usize, &f64)| match next(index) {
        _ if enough => (value - middle).abs() > most * usual.max(least(index)),
        Some(belief) => (value - belief.mean).abs() > most * belief.sd,
        None => false,
    };
    values.iter().enumerate().map(judge).collect()
}

/// The middle one, or the mean of the two in the middle.
pub(super) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    crate::sorted::numbers(&mut sorted);
    let of = |place: usize| sorted.get(place).copied().unwrap_or(0.0);
    0.5 * (of(sorted.len() / 2) + of(sorted.len().saturating_sub(1) / 2))
}
