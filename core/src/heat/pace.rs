//! How long the next step is to be.

/// The predictive control of Gustafsson, ACM Trans. Math. Softw. 20 (1994) 496: the error of a step is a power of its length times a
/// factor that goes on changing as it did from the last step to this one.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Pace {
    /// Length, s, and error, as a share of what is allowed, of the last step that was taken, if none was refused since.
    taken: Option<(f64, f64)>,
}

impl Pace {
    /// The next step over the one just tried, of this length and error, and whether the latter is refused.
    pub(super) fn next(&mut self, h: f64, error: Option<f64>, allowed: f64) -> (f64, bool) {
        let Some(error) = error else {
            *self = Self::default();
            return (0.1, true);
        };
        let error = (error / allowed).max(1e-6);
        let root = |share: f64| share.sqrt().sqrt();
        let smooth = 0.9 / root(error);
        if error > 1.0 {
            *self = Self::default();
            return (smooth.clamp(0.1, 0.9), true);
        }
        let ratio = match self.taken {
            Some((length, earlier)) => (smooth * h / length * root(earlier / error)).min(1.5 * smooth),
            None => smooth,
        };
        self.taken = Some((h, error));
        (ratio.clamp(0.2, 6.0), false)
    }
}
