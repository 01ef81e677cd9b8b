//! The cosine transform of an even row of numbers, with the same bits on every target.
//!
//! A library's transform takes its sines from the platform or its sums from the processor's vector units, so that its last
//! digits differ from machine to machine; this one takes them from `libm`, in one order.

use core::f64::consts::PI;
use std::sync::LazyLock;

/// The most steps of a row: a power of two.
pub(super) const MOST: usize = 1024;

/// `sin(pi i / (2 MOST))` over a whole turn.
static SINES: LazyLock<Vec<f64>> =
    LazyLock::new(|| (0..MOST.saturating_mul(4)).map(|i| libm::sin(PI * i as f64 / (2.0 * MOST as f64))).collect());

/// The sines of a row of `steps` steps.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    /// How many steps.
    pub steps: usize,
    stride: usize,
    sines: &'static [f64],
}

impl Turn {
    /// A row of that many steps: a power of two, at least 4 and at most [`MOST`].
    pub fn new(steps: usize) -> Self {
        Self { steps, stride: MOST.checked_div(steps).unwrap_or(1), sines: &SINES }
    }

    /// `sin(pi i / (2 steps))`: a whole turn has `4 steps`.
    pub fn sine(self, i: usize) -> f64 {
        let place = i.wrapping_mul(self.stride) & MOST.wrapping_mul(4).wrapping_sub(1);
        self.sines.get(place).copied().unwrap_or_default()
    }

    /// `cos(pi i / (2 steps))`.
    pub fn cosine(self, i: usize) -> f64 {
        self.sine(i.wrapping_add(self.steps))
    }

    /// `X_k = x_0 + (-1)^k x_n + 2 sum of x_j cos(pi j k / n)`, for `j` from 1 to `n - 1`, of the `n + 1` numbers `x`.
    ///
    /// These are the sums of an even row of period `2 n`. Twice over, they give the row itself, times `2 n`. By a Fourier
    /// transform of half the length (Press and others, Numerical Recipes, 3rd edition 2007, section 12.4.2).
    pub fn transform(self, x: &[f64]) -> Vec<f64> {
        let n = self.steps;
        let (first, last) = (x.first().copied().unwrap_or_default(), x.last().copied().unwrap_or_default());
        let pairs = || x.iter().zip(x.iter().rev()).enumerate().take(n);
        let folded: Vec<f64> = pairs()
            .map(|(j, (ahead, behind))| 0.5 * (ahead + behind) - self.sine(j.wrapping_mul(2)) * (ahead - behind))
            .collect();
        let mut odd = first - last;
        for (j, (value, _)) in pairs().skip(1) {
            odd += 2.0 * value * self.cosine(j.wrapping_mul(2));
        }
        let mut out = Vec::with_capacity(n.saturating_add(1));
        for (k, (re, im)) in self.real(&folded).into_iter().enumerate() {
            // The even terms stand by themselves, the odd ones follow from one another.
            if k > 0 {
                odd -= 2.0 * im;
            }
            out.push(2.0 * re);
            if out.len() <= n {
                out.push(odd);
            }
        }
        out
    }

    /// The Fourier transform of `steps` real numbers, from the zeroth to the middle frequency.
    fn real(self, x: &[f64]) -> Vec<(f64, f64)> {
        let (pairs, _) = x.as_chunks::<2>();
        let half: Vec<(f64, f64)> = self.fourier(pairs.iter().map(|[re, im]| (*re, *im)));
        let around = || half.iter().chain(half.first());
        around()
            .zip(around().rev())
            .enumerate()
            .map(|(k, (a, b))| {
                let (even, odd) = ((0.5 * (a.0 + b.0), 0.5 * (a.1 - b.1)), (0.5 * (a.1 + b.1), 0.5 * (b.0 - a.0)));
                let (cos, sin) = (self.cosine(k.wrapping_mul(4)), self.sine(k.wrapping_mul(4)));
                (even.0 + cos * odd.0 + sin * odd.1, even.1 + cos * odd.1 - sin * odd.0)
            })
            .collect()
    }

    /// The Fourier transform of `steps / 2` complex numbers, by halving (Stockham: each pass writes in order).
    fn fourier(self, x: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
        let mut from: Vec<(f64, f64)> = x.collect();
        let mut to = from.clone();
        let mut block = 1_usize;
        while block < from.len() {
            let (low, high) = from.split_at(from.len() / 2);
            let angle = block.wrapping_mul(8);
            let parts = low.chunks_exact(block).zip(high.chunks_exact(block));
            for (p, ((low, high), out)) in parts.zip(to.chunks_exact_mut(block.wrapping_mul(2))).enumerate() {
                let (cos, sin) = (self.cosine(p.wrapping_mul(angle)), self.sine(p.wrapping_mul(angle)));
                let (sums, differences) = out.split_at_mut(block);
                for (((a, b), sum), difference) in low.iter().zip(high).zip(sums).zip(differences) {
                    *sum = (a.0 + b.0, a.1 + b.1);
                    let (re, im) = (a.0 - b.0, a.1 - b.1);
                    *difference = (re * cos + im * sin, im * cos - re * sin);
                }
            }
            core::mem::swap(&mut from, &mut to);
            block = block.wrapping_mul(2);
        }
        from
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The definition itself, term by term.
    fn by_definition(x: &[f64]) -> Vec<f64> {
        let (last, places) = (x.len().saturating_sub(1), || x.iter().enumerate());
        let weight = |j: usize| if j == 0 || j == last { 1.0 } else { 2.0 };
        let term = |j: usize, k: usize| weight(j) * libm::cos(PI * (j as f64 * k as f64) / last as f64);
        (0..=last).map(|k| places().map(|(j, value)| value * term(j, k)).sum()).collect()
    }

    #[test]
    fn the_transform_is_its_definition() {
        for steps in [4, 8, 64, 512] {
            let turn = Turn::new(steps);
            let x: Vec<f64> = (0..=steps).map(|j| libm::sin(1.7 * (j as f64 * j as f64)) + 0.3).collect();
            let (got, wanted) = (turn.transform(&x), by_definition(&x));
            assert_eq!(got.len(), wanted.len());
            for (k, (got, wanted)) in got.iter().zip(&wanted).enumerate() {
                assert!((got - wanted).abs() < 1e-12 * steps as f64, "{k} of {steps}: {got}, {wanted}");
            }
        }
    }

    #[test]
    fn twice_over_it_is_the_row_again() {
        let turn = Turn::new(MOST);
        let x: Vec<f64> = (0..=MOST).map(|j| libm::exp(-((j as f64 / 300.0) * (j as f64 / 300.0)))).collect();
        for (got, wanted) in turn.transform(&turn.transform(&x)).iter().zip(&x) {
            assert!((got / (2.0 * MOST as f64) - wanted).abs() < 1e-12);
        }
    }
}
