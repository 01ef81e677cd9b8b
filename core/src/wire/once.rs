//! Whether something was seen before, by a hash of 64 bits (FNV-1a): quick for a few, not quadratic for many.

use core::fmt::{self, Write};
use std::collections::BTreeSet;

/// So many are looked through one by one; more get an index.
const FEW: usize = 32;

/// A hash that text is written into, so that nothing is put together to be compared.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hash(u64);

impl Hash {
    pub(super) const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// With another part, which ends here.
    pub(super) fn with(mut self, part: impl fmt::Display) -> Self {
        // Writing into a hash cannot fail.
        let _ = write!(self, "{part}\0");
        self
    }

    /// The same of a plain text, which needs no formatting.
    pub(super) fn with_text(mut self, part: &str) -> Self {
        let _ = self.write_str(part);
        let _ = self.write_str("\0");
        self
    }

    pub(super) const fn bits(self) -> u64 {
        self.0
    }
}

impl Write for Hash {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for byte in text.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        Ok(())
    }
}

/// What was seen.
#[derive(Debug, Clone, Default)]
pub(super) struct Once {
    few: Vec<u64>,
    many: BTreeSet<u64>,
}

impl Once {
    /// Whether nothing was seen.
    pub(super) const fn is_empty(&self) -> bool {
        self.few.is_empty()
    }

    /// Forgets all.
    pub(super) fn clear(&mut self) {
        self.few.clear();
        self.many.clear();
    }

    /// Whether this is new; from now on it is not.
    pub(super) fn is_new(&mut self, hash: u64) -> bool {
        if self.few.contains(&hash) {
            return false;
        }
        if self.few.len() < FEW {
            self.few.push(hash);
            return true;
        }
        self.many.insert(hash)
    }
}
