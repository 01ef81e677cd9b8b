//! How much work an evaluation may be: a count, the same on every machine, never a clock.

/// Rows of equations that an evaluation may solve, stages of a step times nodes of a stack: about a second's worth.
const MOST: u64 = 100_000_000;

/// What an evaluation may still do. All that it asks shares one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    left: u64,
    done: u64,
    accuracy: f64,
    solves: bool,
}

impl Work {
    /// That of one evaluation.
    #[must_use]
    pub const fn of_one_evaluation() -> Self {
        Self { left: MOST, done: 0, accuracy: 1.0, solves: false }
    }

    /// That of so many evaluations.
    #[must_use]
    pub const fn of_evaluations(count: u64) -> Self {
        Self { left: MOST.saturating_mul(count), ..Self::of_one_evaluation() }
    }

    /// The same, but no more than so many rows.
    #[must_use]
    pub fn at_most(self, rows: u64) -> Self {
        Self { left: self.left.min(rows), ..self }
    }

    /// The same to another accuracy: what solvers may be off, over what they usually may be.
    #[must_use]
    pub const fn to_accuracy(self, accuracy: f64) -> Self {
        Self { accuracy, ..self }
    }

    /// What solvers may be off, over what they usually may be.
    #[must_use]
    pub const fn accuracy(&self) -> f64 {
        self.accuracy
    }

    /// Takes so many rows; whether they were left.
    pub fn take(&mut self, rows: u64) -> bool {
        self.solves = true;
        let enough = rows <= self.left;
        self.count(rows);
        enough
    }

    /// Counts so many rows, whether they were left or not.
    pub fn count(&mut self, rows: u64) {
        self.left = self.left.saturating_sub(rows);
        self.done = self.done.saturating_add(rows);
    }

    /// Takes what long sums are worth in rows: they are no longer than that, and as close as numbers go whatever the accuracy.
    pub fn spend(&mut self, rows: f64) {
        self.count(rows as u64);
    }

    /// Whether a solver took any.
    #[must_use]
    pub const fn solves(&self) -> bool {
        self.solves
    }

    /// Rows that are left.
    #[must_use]
    pub const fn left(&self) -> u64 {
        self.left
    }

    /// Rows taken so far.
    #[must_use]
    pub const fn done(&self) -> u64 {
        self.done
    }
}
