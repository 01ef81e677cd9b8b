//! The picture file of a separation, read in a browser by what reads it for the run sheet: a canvas would change its greys and hide
//! its resolution. A small copy of it is made for the eye.

use floodbar_examples::picture::{self, Picture};
use std::io::Cursor;
use wasm_bindgen::prelude::*;

/// A picture that has been read.
#[wasm_bindgen]
pub struct Decoded(Picture);

/// Reads a PNG or a TIFF; what is transparent in it becomes the grey that `bare` is.
///
/// # Errors
/// A sentence about the file: as [`picture::read`].
#[wasm_bindgen]
pub fn decode(file: &[u8], bare: u8) -> Result<Decoded, String> {
    picture::read(Cursor::new(file), bare).map(Decoded)
}

#[wasm_bindgen]
impl Decoded {
    /// Pixels across.
    #[wasm_bindgen(getter)]
    pub fn wide(&self) -> u32 {
        self.0.wide
    }

    /// Pixels down.
    #[wasm_bindgen(getter)]
    pub fn high(&self) -> u32 {
        self.0.high
    }

    /// Pixels per length as the file gives it, e.g. `11811 /m`.
    #[wasm_bindgen(getter)]
    pub fn resolution(&self) -> Option<String> {
        self.0.resolution.clone()
    }

    /// The picture in fewer pixels, at most `most` a side, each the mean of those that it stands for.
    pub fn small(&self, most: u32) -> Decoded {
        Self(small(&self.0, most))
    }

    /// All pixels, once.
    pub fn take_pixels(&mut self) -> Vec<u8> {
        std::mem::take(&mut self.0.pixels)
    }
}

fn small(picture: &Picture, most: u32) -> Picture {
    let step = picture.wide.max(picture.high).div_ceil(most.max(1)).max(1);
    let [wide, high] = [picture.wide, picture.high].map(|length| length.div_ceil(step));
    let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    let mut sums = vec![(0_u64, 0_u64); index(wide).saturating_mul(index(high))];
    for (row, y) in picture.pixels.chunks_exact(index(picture.wide).max(1)).zip(0_u32..) {
        let start = index(y.checked_div(step).unwrap_or(0)).saturating_mul(index(wide));
        let cells = sums.get_mut(start..).unwrap_or_default();
        for (pixels, (sum, count)) in row.chunks(index(step)).zip(cells) {
            *sum = pixels.iter().fold(*sum, |sum, pixel| sum.saturating_add((*pixel).into()));
            *count = count.saturating_add(pixels.len() as u64);
        }
    }
    let mean = |(sum, count): (u64, u64)| sum.checked_div(count).and_then(|mean| mean.try_into().ok()).unwrap_or(0);
    Picture { pixels: sums.into_iter().map(mean).collect(), wide, high, resolution: None }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_copy_has_the_means() {
        let pixels = vec![0, 100, 200, 10, 20, 30, 255, 255, 1];
        let picture = Picture { pixels, wide: 3, high: 3, resolution: None };
        let of = |most| {
            let Picture { pixels, wide, high, .. } = small(&picture, most);
            (wide, high, pixels)
        };
        assert_eq!(of(3), (3, 3, picture.pixels.clone()));
        // Two by two; what is left over at the right and below stands alone: 130 / 4 = 32, 230 / 2, 510 / 2, 1.
        assert_eq!(of(2), (2, 2, vec![32, 115, 255, 1]));
        assert_eq!(of(1), (1, 1, vec![96]));
        assert_eq!(of(0), (1, 1, vec![96]));
    }
}
