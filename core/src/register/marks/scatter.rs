//! How the prints lie about their mean, and how many of them lie within a trap.

use crate::sorted;
use core::f64::consts::FRAC_1_SQRT_2;

/// The height of the normal density, 1 / sqrt(2 pi).
const PEAK: f64 = 0.398_942_280_401_432_7;
/// Beyond so many standard deviations nothing is left of a normal error that a chance could show.
const REACH: f64 = 9.0;
/// One part of the spread is nothing beside the other below this share of it: it would change a chance by no more.
const NOTHING: f64 = 1e-9;
/// Nodes and weights of the five-point Gauss-Legendre rule (Abramowitz and Stegun, table 25.4). On a panel no wider than the
/// narrowest bell it is good to 1e-9.
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// The spread over prints along one axis, as standard deviations in m: what moves all marks of a print alike, and what moves each mark
/// by itself (a turn from print to print among it, and the reading).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scatter {
    /// Of all marks alike.
    pub common: f64,
    /// Of each mark by itself.
    pub own: f64,
}

/// The chance that a standard normal variable lies between two ends.
fn between(low: f64, high: f64) -> f64 {
    // From the tail on the side of both, where there is one.
    let (low, high) = if low > 0.0 { (-high, -low) } else { (low, high) };
    (0.5 * (libm::erfc(-high * FRAC_1_SQRT_2) - libm::erfc(-low * FRAC_1_SQRT_2))).max(0.0)
}

impl Scatter {
    /// Of offsets along one axis, a list of prints for each mark, all of one length; none from fewer than two prints.
    ///
    /// The analysis of variance of prints and marks, one reading each: the mean square of the prints' means is `own^2 / marks +
    /// common^2`, that of what is left `own^2`. Where the prints' means vary less than the marks' own errors let them, there is
    /// nothing common; the total is kept.
    pub fn of(offsets: &[Vec<f64>]) -> Option<Self> {
        let marks = offsets.len() as f64;
        let prints = offsets.first().map_or(0, Vec::len);
        if prints < 2 {
            return None;
        }
        let mut of_print = vec![0.0; prints];
        let mut total = 0.0;
        for mark in offsets {
            let mean = mark.iter().sum::<f64>() / prints as f64;
            for (sum, offset) in of_print.iter_mut().zip(mark) {
                let off = offset - mean;
                *sum += off / marks;
                total += off * off;
            }
        }
        let freedom = prints as f64 - 1.0;
        let variance = total / (marks * freedom);
        let between = of_print.iter().map(|mean| mean * mean).sum::<f64>() / freedom;
        if marks < 2.0 {
            return Some(Self { common: variance.sqrt(), own: 0.0 });
        }
        // (total - marks x between) / (marks - 1), which rounding must not bring below nothing.
        let own = ((variance - between) * marks / (marks - 1.0)).max(0.0);
        let common = variance - own;
        Some(if common > 0.0 {
            Self { common: common.sqrt(), own: own.sqrt() }
        } else {
            Self { common: 0.0, own: variance.sqrt() }
        })
    }

    /// Standard deviation of one mark.
    pub fn total(&self) -> f64 {
        libm::hypot(self.common, self.own)
    }

    /// The share of prints on which every mark lies within the trap along this axis, with these means: normal errors.
    ///
    /// Given what moves all alike the marks are independent: the chance is the mean over it of a product, by quadrature on panels that
    /// are no wider than the bells and lie close where the first mark leaves the trap.
    pub fn within(&self, means: &[f64], trap: f64) -> f64 {
        let least = means.iter().copied().fold(f64::INFINITY, f64::min);
        let most = means.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        // Beyond these the mark that is furthest off leaves the trap.
        let (low, high) = (-trap - least, trap - most);
        if self.total() <= 0.0 {
            return if low <= 0.0 && high >= 0.0 { 1.0 } else { 0.0 };
        }
        if self.own <= NOTHING * self.common {
            return between(low / self.common, high / self.common);
        }
        if self.common <= NOTHING * self.own {
            return self.product(means, trap, 0.0);
        }
        let width = self.own / self.common;
        let mut ends = Vec::with_capacity(80);
        ends.extend((-18..=18).map(|half| 0.5 * f64::from(half)));
        for edge in [low / self.common, high / self.common] {
            ends.extend((-9..=9).map(|k| (edge + f64::from(k) * width).clamp(-REACH, REACH)));
        }
        sorted::numbers(&mut ends);
        let panels = ends.iter().zip(ends.iter().skip(1));
        let mean = panels.filter(|(from, to)| from < to).fold(0.0, |sum, (from, to)| {
            let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
            let at = |z: f64| PEAK * libm::exp(-0.5 * z * z) * self.product(means, trap, z * self.common);
            sum + half * GAUSS.iter().fold(0.0, |sum, (x, weight)| sum + weight * at(middle + half * x))
        });
        mean.min(1.0)
    }

    /// The same, with an error that is common to all prints: it is on each alike.
    pub fn moved_within(self, error: f64) -> Self {
        Self { common: libm::hypot(self.common, error), ..self }
    }

    /// The chance that all marks lie within the trap, given that all are moved so far, m.
    fn product(&self, means: &[f64], trap: f64, moved: f64) -> f64 {
        let chance = |mean: &f64| between((-trap - mean - moved) / self.own, (trap - mean - moved) / self.own);
        means.iter().fold(1.0, |product, mean| if product > 0.0 { product * chance(mean) } else { 0.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WITHIN: &str = include_str!("../../../../tests/published/register_marks_within_scipy.csv");

    /// SciPy's adaptive quadrature.
    #[test]
    fn shares_are_those_of_a_quadrature() {
        let rows = WITHIN.lines().filter(|line| !line.starts_with('#')).skip(1);
        for row in rows {
            let cells: Vec<&str> = row.split(',').collect();
            let means: Vec<f64> = cells[0].split(' ').map(|mean| mean.parse().unwrap()).collect();
            let number = |cell: usize| cells[cell].parse::<f64>().unwrap();
            let got = Scatter { common: number(1), own: number(2) }.within(&means, number(3));
            assert!((got - number(4)).abs() <= 1e-9, "{row}: {got}");
        }
    }

    /// By hand. Three prints, two marks: offsets 0, 1, 2 and 2, 3, 7: about their means -1, 0, 1 and -2, -1, 3; prints' means
    /// -1.5, -0.5, 2 of mean square 6.5 / 2 = 3.25; total 2 + 14 = 16 over 4 is 4; own (4 - 3.25) 2 = 1.5, common 2.5.
    #[test]
    fn components_of_variance() {
        let got = Scatter::of(&[vec![0.0, 1.0, 2.0], vec![2.0, 3.0, 7.0]]).unwrap();
        for (got, wanted) in [(got.common * got.common, 2.5), (got.own * got.own, 1.5), (got.total(), 2.0)] {
            approx::assert_relative_eq!(got, wanted, epsilon = 0.0, max_relative = 1e-14);
        }
        // Marks that go against each other have nothing in common.
        let got = Scatter::of(&[vec![0.0, 1.0, 2.0], vec![2.0, 1.0, 0.0]]).unwrap();
        assert_eq!((got.common.to_bits(), got.own.to_bits()), (0.0_f64.to_bits(), 1.0_f64.to_bits()));
        assert_eq!(Scatter::of(&[vec![1.0]]), None);
        // Without any spread a mark is within or it is not.
        let still = Scatter { common: 0.0, own: 0.0 };
        for (trap, share) in [(0.3, 1.0_f64), (0.2, 0.0)] {
            assert_eq!(still.within(&[0.25, -0.1], trap).to_bits(), share.to_bits());
        }
    }
}
