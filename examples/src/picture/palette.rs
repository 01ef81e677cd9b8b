//! TIFFs whose pixels are numbers of colours. The decoder knows no palettes: it is given the file with its pixels called grey.

use super::{MOST_PIXELS, Picture, level, read_tiff};
use std::io::{BufRead, Cursor, Read, Seek};
use tiff::decoder::Decoder;
use tiff::tags::{ByteOrder, Tag};

/// PhotometricInterpretation: black is 0, and a palette's numbers.
const GREY: u16 = 1;
pub(super) const PALETTE: u16 = 3;
/// The type of 16-bit numbers.
const SHORT: u16 = 3;

/// Reads the picture of an opened TIFF of `bits` a pixel: its colours become the luma of ITU-R BT.709.
pub(super) fn read(mut decoder: Decoder<impl BufRead + Seek>, bits: u16, bare: u8) -> Result<Picture, String> {
    let broken = |what: &dyn std::fmt::Display| format!("this is not a sound TIFF with a palette: {what}");
    let colours = decoder.get_tag_u16_vec(Tag::ColorMap).map_err(|e| broken(&e))?;
    // All reds, then all greens, then all blues (TIFF 6.0, section 5).
    let count = 1_usize << bits.min(8);
    let planes: Vec<&[u16]> = colours.chunks(count).collect();
    let ([red, green, blue], true) = (planes.as_slice(), bits <= 8 && colours.len().is_multiple_of(count)) else {
        return Err(broken(&format!("{} numbers are no palette for {bits} bits", colours.len())));
    };
    // Writers make 16 bits of 8 with zeros or with the same again: the upper eight are what was meant.
    let share = |sample: u16| f32::from(sample >> 8) / 255.0;
    // A number of fewer bits is read as a grey from 0 to 255.
    let step = 255_usize.checked_div(count.saturating_sub(1)).unwrap_or(255);
    let mut greys = [0_u8; 256];
    for (grey, ((red, green), blue)) in greys.iter_mut().step_by(step).zip(red.iter().zip(*green).zip(*blue)) {
        *grey = level(&[*red, *green, *blue], share, false, 0.0);
    }
    let directory = decoder.ifd_pointer().ok_or_else(|| broken(&"it has no directory"))?.0;
    let order = decoder.byte_order();
    let mut file = Vec::new();
    let reader = decoder.inner();
    reader.rewind().and_then(|()| reader.take(8 * MOST_PIXELS).read_to_end(&mut file)).map_err(|e| e.to_string())?;
    call_grey(&mut file, directory, order).ok_or_else(|| broken(&"its directory is not as it should be"))?;
    let mut picture = read_tiff(Cursor::new(file), bare)?;
    for pixel in &mut picture.pixels {
        *pixel = greys.get(usize::from(*pixel)).copied().unwrap_or_default();
    }
    Ok(picture)
}

/// Writes over the photometric interpretation in a directory, wherever it stands.
fn call_grey(file: &mut [u8], directory: u64, order: ByteOrder) -> Option<()> {
    let little = order == ByteOrder::LittleEndian;
    let number = |file: &[u8], at: usize| {
        let bytes = file.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(bytes) } else { u16::from_be_bytes(bytes) })
    };
    let grey = if little { GREY.to_le_bytes() } else { GREY.to_be_bytes() };
    // Entries have 12 bytes, their value in the ninth; in files of 64-bit offsets 20, and the thirteenth. No directory has more than
    // 65 535, so that of their 64-bit count the lower two bytes are all.
    let large = number(file, 2)? == 43;
    let (count, long, value) = if large { (8, 20, 12) } else { (2, 12, 8) };
    let directory = usize::try_from(directory).ok()?;
    let entries = number(file, if large && !little { directory.checked_add(6)? } else { directory })?;
    let mut at = directory.checked_add(count)?;
    for _ in 0..entries {
        if number(file, at)? == Tag::PhotometricInterpretation.to_u16() {
            // Of 16 bits, as the specification has it: else the value stands elsewhere among its bytes.
            number(file, at.checked_add(2)?).filter(|kind| *kind == SHORT)?;
            let value = at.checked_add(value)?;
            file.get_mut(value..value.checked_add(2)?)?.copy_from_slice(&grey);
        }
        at = at.checked_add(long)?;
    }
    Some(())
}
