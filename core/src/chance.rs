//! Chance: the binomial distribution, summed term by term.
//!
//! Not by the incomplete beta function of a statistics crate: the continued fraction there is cut off, so that it is wrong in
//! the fourth digit for a million tries and in the first for ten million, and its bits differ from platform to platform.

/// The chance that at most `most` of `tries` happen, each with the chance `rate`.
///
/// The terms `binomial(tries, k) rate^k (1 - rate)^(tries - k)` are summed outwards from the likeliest, each from the one
/// before it, and divided by the sum of all: no logarithm, no loss. Good to about 1e-12; the cost grows with the square root
/// of the tries.
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
    while k > 0.0 {
        term *= k / ((n - k + 1.0) * odds);
        k -= 1.0;
        let sum = if k > most { &mut beyond } else { &mut within };
        *sum += term;
        if term <= NOTHING * *sum {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_most_is_the_binomial_sum() {
        // By hand: of four tries at one half, 1 + 4 of 16 have at most one; of three at 0.1, 0.9^3 + 3 x 0.1 x 0.9^2.
        assert!((at_most(1, 4, 0.5) - 5.0 / 16.0).abs() < 1e-15);
        assert!((at_most(1, 3, 0.1) - 0.972).abs() < 1e-15);
        for (most, tries, rate, chance) in [(3, 3, 0.2, 1.0), (0, 3, 0.0, 1.0), (2, 3, 1.0, 0.0)] {
            assert!((at_most(most, tries, rate) - chance).abs() < 1e-15, "{most} of {tries} at {rate}");
        }
        // scipy 1.17.1, binom.cdf; the last by mpmath with 30 digits: 1 minus it is the tail of 10,013,817 good at one half.
        for (most, tries, rate, chance) in [
            (50_000, 100_000, 0.5, 0.501_261_563_107),
            (100_300, 1_000_000, 0.1, 0.841_747_408_514),
            (10_013_817, 20_013_817, 0.5, 0.998_994_936_945_892),
        ] {
            assert!((at_most(most, tries, rate) - chance).abs() < 1e-11, "{most} of {tries} at {rate}");
        }
    }

    #[test]
    fn a_far_tail_keeps_its_digits() {
        // By hand: none of a hundred at one half is 2^-100; at most one of them is 101 x 2^-100.
        for (most, chance) in [(0, 1.0), (1, 101.0)] {
            let wanted = chance * libm::exp2(-100.0);
            approx::assert_relative_eq!(at_most(most, 100, 0.5), wanted, max_relative = 1e-13);
        }
    }
}
