//! A separation as rows of 8-bit pixels, borrowed.

use crate::error::{Code, Error};
use crate::quantity::{Count, Dimensioned};
use crate::wire::words;
use serde_json::Value;

/// Most pixels of a picture: a workspace for them takes up to 8 bytes each, 60 a column and 2 a row.
pub const MOST_PIXELS: u64 = 400_000_000;
/// Most pixels of a side.
const MOST_SIDE: u32 = 10_000_000;
/// Least level, of 0 to 255, of a pixel that counts as printed: more than half covered.
const HALF: u8 = 128;

words! {
    /// Which end of the grey scale is ink.
    pub enum InkIs ("way to show ink") {
        /// Ink is 0.
        Dark = "dark",
        /// Ink is 255.
        Light = "light",
    }
}

/// The two sides of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// At least half covered by ink.
    Printed,
    /// Less than half covered.
    Bare,
}

/// A separation: rows of pixels, top to bottom, each from 0 to 255. Nothing is printed around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Picture<'a> {
    pixels: &'a [u8],
    wide: usize,
    high: usize,
    stride: usize,
    /// What turns a pixel into its level of ink: all bits where ink is dark.
    flip: u8,
    /// Side of a pixel, m.
    pitch: f64,
}

impl<'a> Picture<'a> {
    /// A picture of `wide` by `high` pixels, rows `stride` bytes apart (`wide` unless given).
    ///
    /// # Errors
    /// `out_of_range` for a picture without pixels, a stride below the width or no resolution; `too_long` beyond [`MOST_PIXELS`];
    /// `impossible` where the buffer is shorter than its picture.
    pub fn new(
        pixels: &'a [u8],
        wide: u32,
        high: u32,
        stride: Option<u32>,
        resolution: Count,
        ink: InkIs,
    ) -> Result<Self, Error> {
        let outside = |field: &str, message: &str, got: Value, allowed: &str| {
            Error::new(Code::OutOfRange, field, message).got(&got).allowed([allowed])
        };
        for (field, side) in [("/pixels_wide", wide), ("/pixels_high", high)] {
            if side == 0 {
                return Err(outside(field, "a picture has at least one pixel", side.into(), "at least 1"));
            }
            if side > MOST_SIDE {
                return Err(Error::new(Code::TooLong, field, format!("{side} pixels are too many"))
                    .got(&side.into())
                    .allowed([format!("at most {MOST_SIDE}")]));
            }
        }
        let stride = stride.unwrap_or(wide);
        if stride < wide {
            return Err(outside(
                "/stride",
                "a row cannot be shorter than its pixels",
                stride.into(),
                &format!("at least {wide}"),
            ));
        }
        if !(resolution.si() > 0.0 && resolution.si().is_finite()) {
            return Err(outside("/resolution", "a picture needs a resolution", Value::Null, "more than 0"));
        }
        // 32-bit numbers, so that no product overflows 64 bits.
        let count = u64::from(wide).saturating_mul(u64::from(high));
        if count > MOST_PIXELS {
            return Err(Error::new(Code::TooLong, "/pixels_high", format!("{count} pixels are too many"))
                .got(&high.into())
                .allowed([format!("at most {MOST_PIXELS} pixels")]));
        }
        let needed = u64::from(stride).saturating_mul(u64::from(high.saturating_sub(1))).saturating_add(wide.into());
        let there = u64::try_from(pixels.len()).unwrap_or(u64::MAX);
        if there < needed {
            return Err(Error::new(
                Code::Impossible,
                "/pixels_high",
                format!("the picture needs {needed} bytes and the buffer holds {there}"),
            )
            .got(&there.into())
            .allowed([format!("at least {needed} bytes")]));
        }
        let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        Ok(Self {
            pixels,
            wide: index(wide),
            high: index(high),
            stride: index(stride),
            flip: if ink == InkIs::Dark { u8::MAX } else { 0 },
            pitch: 1.0 / resolution.si(),
        })
    }

    /// Pixels across.
    #[must_use]
    pub const fn wide(&self) -> usize {
        self.wide
    }

    /// Pixels down.
    #[must_use]
    pub const fn high(&self) -> usize {
        self.high
    }

    /// Side of a pixel, m.
    pub(super) const fn pitch(&self) -> f64 {
        self.pitch
    }

    /// Levels of ink, 0 to 255, of each row.
    pub(super) fn rows(&self) -> impl DoubleEndedIterator<Item = Row<'a>> + ExactSizeIterator {
        let (wide, flip) = (self.wide, self.flip);
        // The last row may end with its last pixel, short of the stride.
        self.pixels
            .chunks(self.stride)
            .take(self.high)
            .map(move |row| Row { pixels: row.get(..wide).unwrap_or(row), flip })
    }

    /// The level of ink at a pixel, 0 outside the picture.
    pub(super) fn level(&self, x: i32, y: i32) -> u8 {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { return 0 };
        if x >= self.wide || y >= self.high {
            return 0;
        }
        // Within the buffer, whose length was checked against the last pixel.
        let at = y.wrapping_mul(self.stride).wrapping_add(x);
        self.pixels.get(at).map_or(0, |pixel| pixel ^ self.flip)
    }

    /// Whether a pixel is at least half covered.
    pub(super) fn printed(&self, x: i32, y: i32) -> bool {
        printed(self.level(x, y))
    }
}

/// Whether a pixel of this level is at least half covered.
pub(super) const fn printed(level: u8) -> bool {
    level >= HALF
}

/// A row of pixels.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row<'a> {
    pixels: &'a [u8],
    flip: u8,
}

impl<'a> Row<'a> {
    /// The levels of ink.
    pub fn levels(self) -> impl ExactSizeIterator<Item = u8> + 'a {
        self.pixels.iter().map(move |pixel| pixel ^ self.flip)
    }
}

/// Makes room for so many in all, and no more.
pub(super) fn room<T>(plane: &mut Vec<T>, length: usize) -> Result<(), Error> {
    plane
        .try_reserve_exact(length.saturating_sub(plane.len()))
        .map_err(|_| Error::new(Code::TooLong, "/pixels_high", "there is no memory for this picture"))
}
