//! How long the next step is to be.

/// How much longer a step may be than the one before, and than one that was refused at first.
const MOST: f64 = 6.0;
const MOST_AFTER: f64 = 1.5;

/// The predictive control of Gustafsson, ACM Trans. Math. Softw. 20 (1994) 496: the error of a step is a power of its length times a
/// factor that goes on changing as it did from the last step to this one. Where temperatures bend, the error falls more slowly than
/// that power: then two refusals in a row tell how it falls, and the step after a refusal hardly grows.
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
            return (0.1, true);
        };
        let error = (error / allowed).max(1e-6);
        // The method is of order 4.
        let root = |share: f64| share.sqrt().sqrt();
        let smooth = 0.9 / root(error);
        if error > 1.0 {
            let ratio = match self.refused {
                Some((longer, larger)) => {
                    let order = libm::log(larger / error) / libm::log(longer / h);
                    0.9 * libm::pow(error, -1.0 / order.clamp(0.5, 4.0))
                }
                None => smooth,
            };
            *self = Self { taken: None, refused: Some((h, error)) };
            return (ratio.clamp(0.1, 0.9), true);
        }
        let ratio = match self.taken {
            Some((length, earlier)) => (smooth * h / length * root(earlier / error)).min(1.5 * smooth),
            None => smooth,
        };
        let most = if self.refused.is_some() { MOST_AFTER } else { MOST };
        *self = Self { taken: Some((h, error)), refused: None };
        (ratio.max(0.2).min(most), false)
    }
}
