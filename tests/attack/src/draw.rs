//! Choices, drawn from bytes: what the fuzzer changes in the bytes changes the choices. Where the bytes end the first is taken.

use arbitrary::Unstructured;

/// A source of choices.
pub struct Draw<'a>(Unstructured<'a>);

impl<'a> Draw<'a> {
    /// Of these bytes.
    #[must_use]
    pub fn new(data: &'a [u8]) -> Self {
        Self(Unstructured::new(data))
    }

    /// Whether no bytes are left.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.0.is_empty()
    }

    /// A number below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        if count <= 1 { 0 } else { self.0.int_in_range(0..=count - 1).unwrap_or_default() }
    }

    /// One of these.
    pub fn pick<'b, T>(&mut self, list: &'b [T]) -> &'b T {
        &list[self.below(list.len())]
    }

    /// Whether one of `of` cases is met; not where the bytes have ended.
    pub fn one_in(&mut self, of: usize) -> bool {
        self.below(of) + 1 == of
    }

    /// A number from 0 to 1.
    pub fn share(&mut self) -> f64 {
        f64::from(self.0.arbitrary::<u32>().unwrap_or_default()) / f64::from(u32::MAX)
    }

    /// Any number at all.
    pub fn any(&mut self) -> f64 {
        self.0.arbitrary().unwrap_or_default()
    }

    /// At most so many bytes as they come.
    pub fn bytes(&mut self, most: usize) -> &'a [u8] {
        let count = self.below(most.min(self.0.len()) + 1);
        self.0.bytes(count).unwrap_or_default()
    }

    /// All bytes that are left.
    pub fn rest(&mut self) -> &'a [u8] {
        self.0.bytes(self.0.len()).unwrap_or_default()
    }
}
