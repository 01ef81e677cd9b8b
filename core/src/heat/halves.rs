//! Two numbers at a time: one of a node in the upper half of the stack, one of its mirror image in the lower half.
//!
//! Every loop of a step goes through such pairs from the faces to the middle, elimination included. Both numbers meet the same
//! operations and never each other, so that a processor does two with one instruction, and all do them to the same bits.

use core::ops::{Add, Mul, Sub};

/// One number of each half.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Halves {
    pub upper: f64,
    pub lower: f64,
}

impl Halves {
    pub(super) const fn new(upper: f64, lower: f64) -> Self {
        Self { upper, lower }
    }

    pub(super) const fn both(value: f64) -> Self {
        Self::new(value, value)
    }

    /// The number of the half that is meant.
    #[inline]
    pub(super) fn of(self, lower: bool) -> f64 {
        if lower { self.lower } else { self.upper }
    }

    pub(super) fn set(&mut self, lower: bool, value: f64) {
        *(if lower { &mut self.lower } else { &mut self.upper }) = value;
    }

    /// Where the halves meet, each looks at the other.
    #[inline]
    pub(super) const fn swapped(self) -> Self {
        Self::new(self.lower, self.upper)
    }

    /// The greater of each; of what is not a number, the other.
    #[inline]
    pub(super) fn max(self, other: Self) -> Self {
        let greater = |a: f64, b: f64| if a > b { a } else { b };
        Self::new(greater(self.upper, other.upper), greater(self.lower, other.lower))
    }

    /// The lesser of each; of what is not a number, the other.
    #[inline]
    pub(super) fn min(self, other: Self) -> Self {
        let lesser = |a: f64, b: f64| if a < b { a } else { b };
        Self::new(lesser(self.upper, other.upper), lesser(self.lower, other.lower))
    }

    #[inline]
    pub(super) fn clamp(self, low: f64, high: f64) -> Self {
        self.max(Self::both(low)).min(Self::both(high))
    }

    #[inline]
    pub(super) fn inverse(self) -> Self {
        Self::new(1.0 / self.upper, 1.0 / self.lower)
    }
}

impl Add for Halves {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        Self::new(self.upper + other.upper, self.lower + other.lower)
    }
}

impl Sub for Halves {
    type Output = Self;
    #[inline]
    fn sub(self, other: Self) -> Self {
        Self::new(self.upper - other.upper, self.lower - other.lower)
    }
}

impl Mul for Halves {
    type Output = Self;
    #[inline]
    fn mul(self, other: Self) -> Self {
        Self::new(self.upper * other.upper, self.lower * other.lower)
    }
}

impl Mul<f64> for Halves {
    type Output = Self;
    #[inline]
    fn mul(self, factor: f64) -> Self {
        Self::new(self.upper * factor, self.lower * factor)
    }
}
