//! A separation's picture file, PNG or TIFF, as what `artwork.measure` takes: 8-bit grey pixels and their resolution.

mod palette;

use floodbar::error::clip;
use std::io::{BufRead, Read, Seek};
use tiff::decoder::ifd::Value;
use tiff::tags::Tag;

/// Bytes that a strip or a tile of a picture may take beyond its pixels, such as those of a tile that is larger than the picture.
const MOST_BESIDE: usize = 16 << 20;
/// Most pixels of a picture. Decoded they take up to 8 bytes each, and with what measures them 9: 1.1 GB at the most.
pub const MOST_PIXELS: u64 = 120_000_000;

/// A picture, row by row from the top.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Grey, from 0 for black to 255 for white.
    pub pixels: Vec<u8>,
    /// Pixels across.
    pub wide: u32,
    /// Pixels down.
    pub high: u32,
    /// Pixels per length as the file gives it, e.g. `11811 /m`.
    pub resolution: Option<String>,
}

/// Reads a PNG or a TIFF: grey, RGB or palette, 1 to 16 bits, with or without alpha. What is transparent becomes `bare`:
/// 255 where ink is dark, 0 where it is light. Colours become the luma of ITU-R BT.709.
///
/// # Errors
/// A sentence about the file: not such a picture, damaged, more than [`MOST_PIXELS`], pixels that are not square, or a kind that
/// does not show one ink alone.
pub fn read(mut file: impl BufRead + Seek, bare: u8) -> Result<Picture, String> {
    let mut signature = Vec::new();
    file.by_ref().take(4).read_to_end(&mut signature).and_then(|_| file.rewind()).map_err(|e| e.to_string())?;
    match signature.as_slice() {
        b"\x89PNG" => read_png(file, bare),
        [b'I', b'I', 42 | 43, 0] | [b'M', b'M', 0, 42 | 43] => read_tiff(file, bare),
        _ => Err("this is neither a PNG nor a TIFF".into()),
    }
}

fn check_size(wide: u32, high: u32) -> Result<(), String> {
    if u64::from(wide).saturating_mul(high.into()) > MOST_PIXELS {
        return Err(format!(
            "{wide} x {high} pixels are more than the {} million that fit: save it at a lower resolution",
            MOST_PIXELS / 1_000_000
        ));
    }
    Ok(())
}

fn not_square() -> String {
    "its resolution across is not that down: save it with square pixels".into()
}

fn read_png(file: impl BufRead + Seek, bare: u8) -> Result<Picture, String> {
    let broken = |e: png::DecodingError| format!("this is not a sound PNG: {}", clip(&e.to_string()));
    let mut decoder = png::Decoder::new(file);
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    decoder.set_transformations(png::Transformations::EXPAND);
    let (wide, high) = decoder.read_header_info().map_err(broken)?.size();
    check_size(wide, high)?;
    let mut reader = decoder.read_info().map_err(broken)?;
    let resolution = match reader.info().pixel_dims {
        Some(dims) if dims.xppu != dims.yppu => return Err(not_square()),
        Some(dims) if dims.unit == png::Unit::Meter => Some(format!("{} /m", dims.xppu)),
        _ => None,
    };
    let mut bytes = vec![0; reader.output_buffer_size().ok_or("it does not fit in memory")?];
    let frame = reader.next_frame(&mut bytes).map_err(broken)?;
    // Up to its end, so that what was cut off does not go unnoticed.
    reader.finish().map_err(broken)?;
    let sixteen: Option<Join> = (frame.bit_depth == png::BitDepth::Sixteen).then_some(u16::from_be_bytes);
    let samples = Samples { bytes, channels: frame.color_type.samples(), sixteen, premultiplied: false };
    Ok(Picture { pixels: samples.levels(bare), wide, high, resolution })
}

fn read_tiff(file: impl BufRead + Seek, bare: u8) -> Result<Picture, String> {
    use tiff::ColorType;
    use tiff::decoder::{Decoder, DecodingResult, Limits};
    let broken = |e: tiff::TiffError| {
        format!("this is not a sound TIFF of a kind that can be read here: {}", clip(&e.to_string()))
    };
    let mut decoder = Decoder::new(file).map_err(broken)?;
    let (wide, high) = decoder.dimensions().map_err(broken)?;
    check_size(wide, high)?;
    // A small file that claims large strips takes no more memory than its pixels may.
    let pixels = usize::try_from(u64::from(wide).saturating_mul(high.into())).unwrap_or(usize::MAX);
    let mut limits = Limits::default();
    limits.decoding_buffer_size = pixels.saturating_mul(8).saturating_add(MOST_BESIDE);
    limits.intermediate_buffer_size = limits.decoding_buffer_size;
    decoder = decoder.with_limits(limits);
    if decoder.more_images() {
        return Err("it holds more than one picture: save each separation in a file of its own".into());
    }
    let mut number = |tag| decoder.find_tag_unsigned::<u16>(tag).map_err(broken);
    if number(Tag::Orientation)?.is_some_and(|way| way != 1) {
        return Err("it is to be turned or mirrored before it is shown: save it the way it prints".into());
    }
    if number(Tag::PlanarConfiguration)? == Some(2) && number(Tag::SamplesPerPixel)?.is_some_and(|count| count > 1) {
        return Err("its colours lie apart (planar): save it in grey, or with interleaved channels".into());
    }
    if number(Tag::PhotometricInterpretation)? == Some(palette::PALETTE) {
        let bits = number(Tag::BitsPerSample)?.unwrap_or(1);
        return palette::read(decoder, bits, bare);
    }
    let unit = match number(Tag::ResolutionUnit)? {
        None | Some(2) => Some("/in"),
        Some(3) => Some("/cm"),
        _ => None,
    };
    let extra = decoder.find_tag_unsigned_vec::<u16>(Tag::ExtraSamples).map_err(broken)?.unwrap_or_default();
    let colour = decoder.colortype().map_err(broken)?;
    let (channels, bits) = match (colour, extra.as_slice()) {
        (ColorType::Gray(bits), []) => (1, bits),
        (ColorType::Multiband { bit_depth, num_samples: 2 }, [1 | 2]) => (2, bit_depth),
        (ColorType::RGB(bits), []) => (3, bits),
        (ColorType::RGBA(bits), [] | [1 | 2]) => (4, bits),
        _ => return Err("it is not plain grey or RGB, with or without one alpha channel: save it in grey".into()),
    };
    let resolution = unit.zip(tiff_resolution(&mut decoder)?).map(|(unit, number)| format!("{number} {unit}"));
    let mut result = DecodingResult::U8(Vec::new());
    decoder.read_image_to_buffer(&mut result).map_err(broken)?;
    let (bytes, sixteen): (_, Option<Join>) = match (result, bits) {
        (DecodingResult::U8(bytes), 8) => (bytes, None),
        (DecodingResult::U8(bytes), 1 | 2 | 4) if channels == 1 => (unpacked(&bytes, wide, bits), None),
        (mut samples @ DecodingResult::U16(_), 16) => {
            (samples.as_buffer(0).as_bytes().to_vec(), Some(u16::from_ne_bytes))
        }
        _ => return Err("it has neither 8 nor 16 bits a channel: save it with 8".into()),
    };
    let samples = Samples { bytes, channels, sixteen, premultiplied: extra == [1] };
    Ok(Picture { pixels: samples.levels(bare), wide, high, resolution })
}

/// Pixels per unit of a TIFF.
fn tiff_resolution(decoder: &mut tiff::decoder::Decoder<impl BufRead + Seek>) -> Result<Option<f64>, String> {
    let mut ratio = |tag| match decoder.find_tag(tag) {
        Ok(Some(Value::Rational(over, under))) if under > 0 => Some((u64::from(over), u64::from(under))),
        _ => None,
    };
    match (ratio(Tag::XResolution), ratio(Tag::YResolution)) {
        (Some(x), Some(y)) if x.0.saturating_mul(y.1) != y.0.saturating_mul(x.1) => Err(not_square()),
        (Some((over, under)), Some(_)) => Ok(Some(over as f64 / under as f64)),
        _ => Ok(None),
    }
}

/// Pixels of less than a byte, packed row by row, each brought to 0 to 255.
fn unpacked(bytes: &[u8], wide: u32, bits: u8) -> Vec<u8> {
    let wide = usize::try_from(wide).unwrap_or(usize::MAX);
    let most = u8::MAX >> 8_u8.saturating_sub(bits);
    let step = u8::MAX.checked_div(most).unwrap_or(0);
    let of_byte = |byte: u8| {
        (bits..=8).step_by(bits.into()).map(move |end| ((byte >> 8_u8.saturating_sub(end)) & most).saturating_mul(step))
    };
    let row = wide.saturating_mul(bits.into()).div_ceil(8).max(1);
    bytes.chunks_exact(row).flat_map(|row| row.iter().copied().flat_map(of_byte).take(wide)).collect()
}

/// How two bytes make a sample.
type Join = fn([u8; 2]) -> u16;

/// Interleaved channels, one to four: grey, grey and alpha, RGB, RGB and alpha.
struct Samples {
    bytes: Vec<u8>,
    channels: usize,
    /// Where a sample takes two bytes.
    sixteen: Option<Join>,
    /// Whether the colours are multiplied by alpha already.
    premultiplied: bool,
}

impl Samples {
    fn levels(self, bare: u8) -> Vec<u8> {
        let bare = f32::from(bare) / 255.0;
        match self.sixteen {
            None if self.channels == 1 => self.bytes,
            None => {
                let share = |sample| f32::from(sample) / 255.0;
                let pixels = self.bytes.chunks_exact(self.channels);
                pixels.map(|pixel| level(pixel, share, self.premultiplied, bare)).collect()
            }
            Some(join) => {
                let share = |pair| f32::from(join(pair)) / 65_535.0;
                let (pairs, _) = self.bytes.as_chunks::<2>();
                let pixels = pairs.chunks_exact(self.channels);
                pixels.map(|pixel| level(pixel, share, self.premultiplied, bare)).collect()
            }
        }
    }
}

/// The grey of a pixel over bare cloth.
fn level<S: Copy>(pixel: &[S], share: impl Fn(S) -> f32, premultiplied: bool, bare: f32) -> u8 {
    let luma = |r, g, b| 0.2126 * share(r) + 0.7152 * share(g) + 0.0722 * share(b);
    let (colour, alpha) = match *pixel {
        [grey] => (share(grey), 1.0),
        [grey, alpha] => (share(grey), share(alpha)),
        [r, g, b] => (luma(r, g, b), 1.0),
        [r, g, b, alpha] => (luma(r, g, b), share(alpha)),
        _ => (bare, 1.0),
    };
    let colour = if premultiplied { colour } else { colour * alpha };
    // The cast saturates.
    (255.0 * (colour + bare * (1.0 - alpha)) + 0.5) as u8
}

#[cfg(test)]
mod tests;
