//! Least squares of a model that is not linear, in one or two parameters.
//!
//! Two parameters are all that a shop's readings can tell apart, so the linear algebra is that of a symmetric 2 by 2 matrix, written
//! out, in place of a library of matrices.

/// Two parameters, or what goes with each; the second is without effect in a model of one.
pub type Pair = [f64; 2];

/// A model to be fitted.
pub trait Model {
    /// What the model is off each measured value; none where it has no answer.
    fn residuals(&mut self, at: Pair) -> Option<Vec<f64>>;
    /// How fast each residual rises with each parameter: the rows of the Jacobian.
    fn slopes(&mut self, at: Pair) -> Option<Vec<Pair>>;
}

/// How far to go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitLimits {
    /// Parameters stay within this on both sides of zero.
    pub most: f64,
    /// A step that moves no residual by more than this, as a root mean square, is the last.
    pub resolution: f64,
    /// Most steps that are tried.
    pub steps: u32,
}

/// A fitted model.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The parameters.
    pub at: Pair,
    /// What is left of each measured value.
    pub residuals: Vec<f64>,
    /// The rows of the Jacobian.
    pub slopes: Vec<Pair>,
}

/// The normal matrix `J^T J` of a model: symmetric, so three numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Normal {
    first: f64,
    both: f64,
    second: f64,
}

impl Normal {
    /// Of the rows of a Jacobian.
    #[must_use]
    pub fn of(slopes: &[Pair]) -> Self {
        let sum = |of: fn(&Pair) -> f64| slopes.iter().map(of).sum::<f64>();
        Self { first: sum(|[a, _]| a * a), both: sum(|[a, b]| a * b), second: sum(|[_, b]| b * b) }
    }

    /// The cosine between the two columns of the Jacobian: 1 or -1 where the parameters stand for one another; none where one is
    /// without effect.
    #[must_use]
    pub fn cosine(&self) -> Option<f64> {
        let lengths = (self.first * self.second).sqrt();
        (lengths > 0.0).then(|| self.both / lengths)
    }

    /// With the diagonal raised by a share of itself.
    fn damped(self, by: f64) -> Self {
        Self { first: self.first * (1.0 + by), second: self.second * (1.0 + by), ..self }
    }

    /// The inverse; a parameter without effect gets zeros. None where the two stand for one another, or neither has an effect.
    #[must_use]
    pub fn inverse(&self) -> Option<Self> {
        let alone = |own: f64| if own > 0.0 { 1.0 / own } else { 0.0 };
        if self.first <= 0.0 || self.second <= 0.0 {
            let (first, second) = (alone(self.first), alone(self.second));
            return (first > 0.0 || second > 0.0).then_some(Self { first, both: 0.0, second });
        }
        let determinant = self.first * self.second - self.both * self.both;
        (determinant > 0.0).then(|| Self {
            first: self.second / determinant,
            both: -self.both / determinant,
            second: self.first / determinant,
        })
    }

    /// The matrix times a pair.
    #[must_use]
    pub fn times(&self, [a, b]: Pair) -> Pair {
        [self.first * a + self.both * b, self.both * a + self.second * b]
    }

    /// Its diagonal: of an inverse times the variance of a residual, the variances of the parameters.
    #[must_use]
    pub const fn diagonal(&self) -> Pair {
        [self.first, self.second]
    }
}

impl Fitted {
    /// The sum of the squares that are left.
    #[must_use]
    pub fn squares(&self) -> f64 {
        squares(self.residuals.iter().copied())
    }

    /// The root mean square of what is left; nothing where it is less than the search resolves.
    #[must_use]
    pub fn misfit(&self, limits: &FitLimits) -> f64 {
        let misfit = (self.squares() / self.residuals.len() as f64).sqrt();
        if misfit > limits.resolution { misfit } else { 0.0 }
    }
}

/// The sum of squares.
pub fn squares(residuals: impl IntoIterator<Item = f64>) -> f64 {
    residuals.into_iter().map(|residual| residual * residual).sum()
}

/// The parameters that leave the least sum of squares, sought downhill from a start.
///
/// Each step solves `(J^T J + damping diag(J^T J)) step = -J^T r`. A step that leaves less is taken and the damping falls to a
/// tenth; one that does not raises it tenfold. The search ends with a step that moves the model by less than the resolution or
/// than 1e-10 of what is left, or where no step is short enough to leave less.
///
/// None where the model has no answer or the steps do not suffice.
///
/// Source: Marquardt, SIAM J. Appl. Math. 11 (1963) 431 (from memory).
pub fn least_squares(model: &mut dyn Model, start: Pair, limits: &FitLimits) -> Option<Fitted> {
    const START: f64 = 1e-3;
    const MOST_DAMPING: f64 = 1e12;
    let slopes = model.slopes(start)?;
    let mut best = Fitted { at: start, residuals: model.residuals(start)?, slopes };
    let mut damping = START;
    for _ in 0..limits.steps {
        let normal = Normal::of(&best.slopes);
        let falls = best.residuals.iter().zip(&best.slopes);
        let [a, b] = falls.fold([0.0, 0.0], |[a, b], (residual, [da, db])| [a - residual * da, b - residual * db]);
        let (Some(inverse), [from_a, from_b]) = (normal.damped(damping).inverse(), best.at) else { return Some(best) };
        let [by_a, by_b] = inverse.times([a, b]);
        let at = [from_a + by_a, from_b + by_b].map(|parameter| parameter.max(-limits.most).min(limits.most));
        let [to_a, to_b] = at;
        let moved = best.slopes.iter().map(|[da, db]| {
            let residual = da * (to_a - from_a) + db * (to_b - from_b);
            residual * residual
        });
        let (moved, left) = (moved.sum::<f64>(), best.squares());
        let last =
            moved <= limits.resolution * limits.resolution * best.residuals.len() as f64 || moved <= 1e-20 * left;
        let residuals = model.residuals(at);
        match residuals.filter(|residuals| squares(residuals.iter().copied()) < left) {
            Some(residuals) => {
                best = Fitted { at, residuals, slopes: model.slopes(at)? };
                damping *= 0.1;
            }
            None => damping *= 10.0,
        }
        if last || damping > MOST_DAMPING {
            return Some(best);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// `y = b1 (1 - exp(-b2 x))`.
    struct Misra1a(Vec<(f64, f64)>);

    impl Model for Misra1a {
        fn residuals(&mut self, [b1, b2]: Pair) -> Option<Vec<f64>> {
            Some(self.0.iter().map(|(y, x)| -b1 * libm::expm1(-b2 * x) - y).collect())
        }
        fn slopes(&mut self, [b1, b2]: Pair) -> Option<Vec<Pair>> {
            Some(self.0.iter().map(|(_, x)| [-libm::expm1(-b2 * x), b1 * x * libm::exp(-b2 * x)]).collect())
        }
    }

    const LIMITS: FitLimits = FitLimits { most: f64::INFINITY, resolution: 0.0, steps: 100 };

    fn misra() -> Misra1a {
        let text = include_str!("../../tests/published/nist_strd_misra1a.csv");
        let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
        Misra1a(
            rows.map(|row| row.split_once(',').map(|(y, x)| (y.parse().unwrap(), x.parse().unwrap())).unwrap())
                .collect(),
        )
    }

    /// NIST Statistical Reference Datasets, nonlinear regression, Misra1a: the certified values, from both starts given there.
    #[test]
    fn the_certified_values_of_misra1a() {
        for start in [[500.0, 1e-4], [250.0, 5e-4]] {
            let fitted = least_squares(&mut misra(), start, &LIMITS).unwrap();
            let [b1, b2] = fitted.at;
            let deviation = (fitted.squares() / 12.0).sqrt();
            let [error_b1, error_b2] = Normal::of(&fitted.slopes).inverse().unwrap().diagonal().map(f64::sqrt);
            for (got, certified, digits) in [
                (b1, 2.389_421_291_8e2, 1e-9),
                (b2, 5.501_564_318_1e-4, 1e-9),
                (deviation, 1.018_787_633_0e-1, 1e-9),
                (error_b1 * deviation, 2.707_007_524_1, 1e-8),
                (error_b2 * deviation, 7.266_868_843_6e-6, 1e-8),
            ] {
                assert_relative_eq!(got, certified, epsilon = 0.0, max_relative = digits);
            }
        }
    }

    /// One parameter: a line through the origin, whose slope is the sum of xy over that of xx.
    struct Line;

    impl Model for Line {
        fn residuals(&mut self, [slope, _]: Pair) -> Option<Vec<f64>> {
            Some([(1.0, 2.1), (2.0, 3.9), (4.0, 8.2)].map(|(x, y)| slope * x - y).into())
        }
        fn slopes(&mut self, _at: Pair) -> Option<Vec<Pair>> {
            Some([1.0, 2.0, 4.0].map(|x| [x, 0.0]).into())
        }
    }

    #[test]
    fn a_parameter_without_effect_stays_where_it_stood() {
        let fitted = least_squares(&mut Line, [-3.0, 7.0], &LIMITS).unwrap();
        let [slope, other] = fitted.at;
        assert_relative_eq!(slope, (2.1 + 2.0 * 3.9 + 4.0 * 8.2) / 21.0, epsilon = 0.0, max_relative = 1e-11);
        assert_relative_eq!(other, 7.0, epsilon = 0.0, max_relative = 1e-15);
        let normal = Normal::of(&fitted.slopes);
        assert_relative_eq!(normal.inverse().unwrap().times([21.0, 5.0])[0], 1.0, epsilon = 0.0, max_relative = 1e-15);
        assert_eq!(normal.cosine(), None);
    }

    #[test]
    fn parameters_stay_within_their_limit_and_an_absent_model_has_no_fit() {
        struct Nothing;
        impl Model for Nothing {
            fn residuals(&mut self, _at: Pair) -> Option<Vec<f64>> {
                None
            }
            fn slopes(&mut self, _at: Pair) -> Option<Vec<Pair>> {
                Some(vec![[1.0, 1.0]])
            }
        }
        let held = least_squares(&mut Line, [0.0, 0.0], &FitLimits { most: 1.5, ..LIMITS }).unwrap();
        assert_relative_eq!(held.at[0], 1.5, epsilon = 0.0, max_relative = 1e-15);
        assert_eq!(least_squares(&mut Nothing, [0.0, 0.0], &LIMITS), None);
        assert_eq!(Normal::of(&[[1.0, 2.0], [2.0, 4.0]]).inverse(), None);
    }
}
