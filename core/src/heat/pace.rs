//! How long the next step is to be.

/// The predictive control of Gustafsson, ACM Trans. Math. Softw. 20 (1994) 496: the error of a step is the cube of its length
/// times a factor that goes on changing as it did from the last step to this one. Where temperatures bend, the error falls
/// more slowly than the cube; then two refusals in a row tell how it falls.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Pace {
    /// Length, s, and error, as a share of what is allowed, of the last step that was taken, if none was refused since.
    taken: Option<(f64, f64)>,
    /// The same of the last step, if it was refused.
    refused: Option<(f64, f64)>,
}

impl Pace {
    /// The next step over the one just tried, of this length and error, and whether the latter is refused.
    pub(super) fn next(&mut self, h: f64, error: Option<f64>, allowed: f64) -> (f64, bool) {
        let Some(error) = error else {
            *self = Self::default();
            return (0.25, true);
        };
        let error = (error / allowed).max(1e-6);
        let smooth = 0.9 / libm::cbrt(error);
        if error > 1.0 {
            let ratio = match self.refused {
                Some((longer, larger)) => {
                    let order = libm::log(larger / error) / libm::log(longer / h);
                    0.9 * libm::pow(error, -1.0 / order.clamp(0.5, 3.0))
                }
                None => smooth,
            };
            *self = Self { taken: None, refused: Some((h, error)) };
            return (ratio.clamp(0.1, 0.9), true);
        }
        let ratio = match self.taken {
            Some((length, earlier)) => smooth * h / length * libm::cbrt(earlier / error),
            None => smooth,
        };
        *self = Self { taken: Some((h, error)), refused: None };
        (ratio.clamp(0.2, 5.0), false)
    }
}
