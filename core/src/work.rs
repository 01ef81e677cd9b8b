//! How much work an evaluation may be: a count, the same on every machine, never a clock.

/// Rows of equations that an evaluation may solve, stages of a step times nodes of a stack: about a second's worth.
const MOST: u64 = 100_000_000;

/// What an evaluation may still do. All that it asks shares one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Work {
    left: u64,
}

impl Work {
    /// That of one evaluation.
    #[must_use]
    pub const fn of_one_evaluation() -> Self {
        Self { left: MOST }
    }

    /// That of so many evaluations.
    #[must_use]
    pub const fn of_evaluations(count: u64) -> Self {
        Self { left: MOST.saturating_mul(count) }
    }

    /// Takes so many rows; whether they were left.
    pub fn take(&mut self, rows: u64) -> bool {
        let enough = rows <= self.left;
        self.left = self.left.saturating_sub(rows);
        enough
    }

    /// Rows taken so far, of one evaluation.
    #[must_use]
    pub const fn done(&self) -> u64 {
        MOST.saturating_sub(self.left)
    }
}
