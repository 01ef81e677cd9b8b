//! Chance: the binomial distribution and Student's, summed term by term.
//!
//! The binomial not by the incomplete beta function of a statistics crate: the continued fraction there is cut off, so that it is
//! wrong in the fourth digit for a million tries and in the first for ten million, and its bits differ from platform to platform.

use crate::root::bisect;
use core::f64::consts::FRAC_PI_2;

/// The work of [`at_most`], in rows: half of one a term, 40 standard deviations of them at the most.
#[must_use]
pub fn summed(tries: u32, rate: f64) -> f64 {
    0.5 * (40.0 * (f64::from(tries) * rate * (1.0 - rate)).sqrt() + 10.0)
}

/// The chance that at most `most` of `tries` happen, each with the chance `rate`.
///
/// The terms `binomial(tries, k) rate^k (1 - rate)^(tries - k)` are summed outwards from the likeliest, each from the one
/// before it, and divided by the sum of all: no logarithm, no loss. Every chance keeps its digits down to the least number that
/// is not subnormal: relative to it the error is about 1e-16 a term from the likeliest to `most`, 1e-11 at worst for ten million
/// tries. The cost grows with the square root of the tries: 38 standard deviations on, terms are too small for a number.
#[must_use]
pub fn at_most(most: u32, tries: u32, rate: f64) -> f64 {
    /// A term this small beside its sum no longer counts.
    const NOTHING: f64 = 1e-19;
    if most >= tries || rate <= 0.0 {
        return 1.0;
    }
    if rate >= 1.0 {
        return 0.0;
    }
    let (n, odds) = (f64::from(tries), rate / (1.0 - rate));
    let likeliest = ((n + 1.0) * rate).floor().min(n);
    let most = f64::from(most);
    // `within` is the sum of the terms up to `most`, `beyond` that of the others; the likeliest term counts 1.
    let (mut within, mut beyond) = if likeliest <= most { (1.0, 0.0) } else { (0.0, 1.0) };
    let (mut k, mut term) = (likeliest, 1.0);
    // A subnormal term rounds to itself.
    while k > 0.0 && term >= f64::MIN_POSITIVE {
        term *= k / ((n - k + 1.0) * odds);
        k -= 1.0;
        // Terms beyond `most` may be nothing to their sum and yet lead to those within, which are then all there is to tell.
        if k > most {
            beyond += term;
            continue;
        }
        within += term;
        if term <= NOTHING * within {
            break;
        }
    }
    (k, term) = (likeliest, 1.0);
    while k < n {
        term *= (n - k) / (k + 1.0) * odds;
        k += 1.0;
        let sum = if k > most { &mut beyond } else { &mut within };
        *sum += term;
        if term <= NOTHING * *sum {
            break;
        }
    }
    within / (within + beyond)
}

/// Waiting for good ones where the chance of a spoiled one is itself in doubt, beta distributed: the chance that no more than 0, 1, 2 ...
/// are spoiled before the last of so many good ones. It never ends.
///
/// With `a` and `b` of the beta distribution of the spoiled share and n good ones, s are spoiled before the last with the chance
/// `p(s) = (n + s - 1)! / (s! (n - 1)!) x B(b + n, a + s) / B(b, a)`, each from the one before it, and
/// `p(0) = B(b + n, a) / B(b, a)` from Stirling's series: good to about 1e-12 where a and b are of a few thousand, to 1e-8 at a thousand millions.
/// Up to s it is the chance that of `n + s` tries at least n are good: the upper tail of the beta-binomial distribution.
///
/// Source: Johnson, Kemp, Kotz, Univariate Discrete Distributions, 2005, section 6.2 (from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waiting {
    good: f64,
    a: f64,
    b: f64,
    spoiled: f64,
    /// The next chance and the sum of those before it, both over `factor`, the exponential of `scale`.
    term: f64,
    sum: f64,
    scale: f64,
    factor: f64,
}

impl Waiting {
    /// For so many good ones; `a` from 0 and `b` from a millionth to a million millions, to which they are held.
    #[must_use]
    pub fn of(good: u32, a: f64, b: f64) -> Self {
        let (good, a, b) = (f64::from(good), a.clamp(0.0, 1e12), b.clamp(1e-6, 1e12));
        let scale = ln_rise(b, a) - ln_rise(b + good, a);
        Self { good, a, b, spoiled: 0.0, term: 1.0, sum: 0.0, scale, factor: libm::exp(scale) }
    }
}

impl Iterator for Waiting {
    type Item = f64;

    fn next(&mut self) -> Option<f64> {
        /// Before numbers grow too large they are scaled down by this, and its logarithm is remembered.
        const LARGE: f64 = 1e250;
        self.sum += self.term;
        let s = self.spoiled;
        self.term *= (self.good + s) / (s + 1.0) * ((self.a + s) / (self.a + self.b + self.good + s));
        self.spoiled += 1.0;
        if self.term > LARGE || self.sum > LARGE {
            self.term /= LARGE;
            self.sum /= LARGE;
            self.scale += libm::log(LARGE);
            self.factor = libm::exp(self.scale);
        }
        Some((self.sum * self.factor).min(1.0))
    }
}

/// The logarithm of `Gamma(x + a) / Gamma(x)`, for x above 0 and a from 0.
///
/// By Stirling's series from x of 16 on, by `Gamma(x + 1) = x Gamma(x)` below.
///
/// Source: Abramowitz, Stegun, Handbook of Mathematical Functions, 6.1.40 (from memory).
fn ln_rise(x: f64, a: f64) -> f64 {
    let (mut x, mut below) = (x, 0.0);
    while x < 16.0 {
        below += libm::log1p(a / x);
        x += 1.0;
    }
    let series = |x: f64| {
        let square = 1.0 / (x * x);
        (1.0 / 12.0 - square * (1.0 / 360.0 - square * (1.0 / 1260.0 - square / 1680.0))) / x
    };
    (x - 0.5) * libm::log1p(a / x) + a * libm::log(x + a) - a + (series(x + a) - series(x)) - below
}

/// The number of standard errors within which Student's variable lies with this chance (two-sided), from so many degrees of freedom;
/// infinite for none.
///
/// The chance of lying within t is a finite sum in the angle `atan(t / sqrt(freedom))`, which is sought by halving.
///
/// Source: Abramowitz, Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from memory).
#[must_use]
pub fn student(chance: f64, freedom: u32) -> f64 {
    if freedom == 0 {
        return f64::INFINITY;
    }
    let (angle, _) = bisect(0.0, FRAC_PI_2, 60, |angle| student_within(angle, freedom) <= chance);
    libm::tan(angle) * f64::from(freedom).sqrt()
}

/// The chance that Student's variable lies within `tan(angle) sqrt(freedom)` of zero.
fn student_within(angle: f64, freedom: u32) -> f64 {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    let odd = freedom % 2 == 1;
    let (mut k, mut term) = if odd { (1.0, cos) } else { (0.0, 1.0) };
    let (mut sum, highest) = (0.0, f64::from(freedom) - 2.0);
    while k <= highest {
        sum += term;
        k += 2.0;
        term *= (k - 1.0) / k * cos * cos;
    }
    if odd { (angle + sin * sum) / FRAC_PI_2 } else { sin * sum }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn at_most_is_the_binomial_sum() {
        for (most, tries, rate, chance, digits) in [
            // By hand: of four tries at one half, 1 + 4 of 16 have at most one; of three at 0.1, 0.9^3 + 3 x 0.1 x 0.9^2.
            (1, 4, 0.5, 5.0 / 16.0, 1e-15),
            (1, 3, 0.1, 0.972, 1e-15),
            // scipy 1.17.1, binom.cdf; the last by mpmath with 30 digits: 1 minus it is the tail of 10,013,817 good at one half.
            (50_000, 100_000, 0.5, 0.501_261_563_107, 1e-11),
            (100_300, 1_000_000, 0.1, 0.841_747_408_514, 1e-11),
            (10_013_817, 20_013_817, 0.5, 0.998_994_936_945_892, 1e-11),
        ] {
            let got = at_most(most, tries, rate);
            assert_relative_eq!(got, chance, epsilon = 0.0, max_relative = digits);
        }
        for (most, tries, rate, chance) in [(3, 3, 0.2, 1.0_f64), (0, 3, 0.0, 1.0), (2, 3, 1.0, 0.0)] {
            assert_eq!(at_most(most, tries, rate).to_bits(), chance.to_bits(), "{most} of {tries} at {rate}");
        }
    }

    /// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's t (from memory, three decimals): the
    /// columns for 0.90, 0.95 and 0.99 within.
    #[test]
    fn student_is_the_table_of_critical_values() {
        for (freedom, table) in [
            (1, [6.314, 12.706, 63.657]),
            (2, [2.920, 4.303, 9.925]),
            (3, [2.353, 3.182, 5.841]),
            (4, [2.132, 2.776, 4.604]),
            (5, [2.015, 2.571, 4.032]),
            (10, [1.812, 2.228, 3.169]),
            (29, [1.699, 2.045, 2.756]),
            (30, [1.697, 2.042, 2.750]),
            (60, [1.671, 2.000, 2.660]),
            (100, [1.660, 1.984, 2.626]),
        ] {
            for (chance, wanted) in [0.90, 0.95, 0.99].into_iter().zip(table) {
                approx::assert_abs_diff_eq!(student(chance, freedom), wanted, epsilon = 0.000_501);
            }
        }
        // Closed forms: one degree is Cauchy's, tan(pi p / 2); two degrees, p sqrt(2 / (1 - p^2)).
        for chance in [0.5_f64, 0.9, 0.95, 0.999] {
            let two = chance * (2.0 / (1.0 - chance * chance)).sqrt();
            assert_relative_eq!(student(chance, 1), libm::tan(FRAC_PI_2 * chance), epsilon = 0.0, max_relative = 1e-12);
            assert_relative_eq!(student(chance, 2), two, epsilon = 0.0, max_relative = 1e-12);
        }
        // The normal distribution at the end, and no degree of freedom.
        approx::assert_abs_diff_eq!(student(0.95, 10_000_000), 1.959_964, epsilon = 1e-6);
        assert!(student(0.95, 0).is_infinite());
    }

    #[test]
    fn a_far_tail_keeps_its_digits() {
        // By hand: none of n at one half is 2^-n; at most one of them is (n + 1) x 2^-n.
        for (most, tries, times) in [(0, 100, 1.0), (1, 100, 101.0), (0, 1000, 1.0), (1, 1000, 1001.0)] {
            let wanted = times * libm::exp2(-f64::from(tries));
            assert_relative_eq!(at_most(most, tries, 0.5), wanted, epsilon = 0.0, max_relative = 1e-13);
        }
        // Sums of fractions of whole numbers (Python's fractions.Fraction, math.comb), of the rate as the number holds it.
        for (most, tries, rate, chance) in [
            (5, 1000, 0.1, 2.556_545_693_059_975e-38),
            (10, 1000, 0.5, 2.483_338_791_489_635e-278),
            (3, 50, 0.9, 1.438_807_599_999_985e-43),
            (20, 200, 0.75, 2.261_948_254_875_18e-84),
            (40, 2000, 0.25, 1.057_078_506_160_969_4e-185),
            (100, 400, 0.5, 1.295_943_453_486_033_8e-24),
            (0, 30, 1.0 - libm::exp2(-20.0), 2.409_919_865_102_884e-181),
        ] {
            assert_relative_eq!(at_most(most, tries, rate), chance, epsilon = 0.0, max_relative = 1e-12);
        }
        // Smaller than any number.
        assert!(at_most(0, 2000, 0.5) <= 0.0);
    }
}
