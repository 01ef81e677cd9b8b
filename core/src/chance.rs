//! Chance: the binomial distribution, summed term by term.
//!
//! Not by the incomplete beta function of a statistics crate: the continued fraction there is cut off, so that it is wrong in
//! the fourth digit for a million tries and in the first for ten million, and its bits differ from platform to platform.

/// The chance that at most `most` of `tries` happen, each with the chance `rate`.
///
/// `sum over k = 0..most of binomial(tries, k) rate^k (1 - rate)^(tries - k)`, each term from the one before it. Good to about
/// 1e-12 for ten thousand tries, 1e-9 for ten million.
#[must_use]
pub fn at_most(most: u32, tries: u32, rate: f64) -> f64 {
    /// A scale that keeps a sum of large terms in range.
    const SCALE: f64 = 1e200;
    if most >= tries || rate <= 0.0 {
        return 1.0;
    }
    if rate >= 1.0 {
        return 0.0;
    }
    let (tries, odds) = (f64::from(tries), rate / (1.0 - rate));
    let (mut term, mut sum, mut log) = (1.0, 1.0, tries * libm::log1p(-rate));
    for k in 0..most {
        let k = f64::from(k);
        term *= (tries - k) / (k + 1.0) * odds;
        sum += term;
        if sum > SCALE {
            term /= SCALE;
            sum /= SCALE;
            log += libm::log(SCALE);
        }
    }
    libm::exp(log + libm::log(sum)).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_most_is_the_binomial_sum() {
        // By hand: of four tries at one half, 1 + 4 of 16 have at most one; of three at 0.1, 0.9^3 + 3 x 0.1 x 0.9^2.
        assert!((at_most(1, 4, 0.5) - 5.0 / 16.0).abs() < 1e-15);
        assert!((at_most(1, 3, 0.1) - 0.972).abs() < 1e-15);
        for (failed, washed, rate, chance) in [(3, 3, 0.2, 1.0), (0, 3, 0.0, 1.0), (2, 3, 1.0, 0.0)] {
            assert!((at_most(failed, washed, rate) - chance).abs() < 1e-15, "{failed} of {washed} at {rate}");
        }
        // scipy 1.17.1, binom.cdf: where the first term is far below the smallest double.
        for (failed, washed, rate, chance) in
            [(50_000, 100_000, 0.5, 0.501_261_563_107), (100_300, 1_000_000, 0.1, 0.841_747_408_514)]
        {
            assert!((at_most(failed, washed, rate) - chance).abs() < 1e-9, "{failed} of {washed} at {rate}");
        }
    }
}
