//! Picture files: sound ones, changed where a checksum would otherwise hide what lies behind it.

use crate::draw::Draw;
use crate::telling;
use crate::weigh::weighed;
use floodbar_examples::picture::{MOST_PIXELS, read};
use std::io::Cursor;
use tiff::encoder::{TiffEncoder, colortype};

/// Most bytes for a pixel, and for what is no pixel.
const MOST_BYTES: (u64, u64) = (20, 64 << 20);

/// What is read has as many pixels as it says, twice the same.
pub fn decode(data: &[u8]) {
    let mut draw = Draw::new(data);
    let bare = if draw.one_in(2) { 0 } else { 255 };
    // What is a file already is taken as it is: so findings are kept.
    let is_file = [&b"\x89PNG"[..], b"II\x2a\0", b"MM\0\x2a"].iter().any(|signature| data.starts_with(signature));
    let file = match draw.below(8) {
        _ if is_file => data.to_vec(),
        0 => data.to_vec(),
        1..=4 => changed_png(&mut draw),
        _ => changed_tiff(&mut draw),
    };
    telling(|| format!("{} bytes, bare {bare}: {file:?}", file.len()), || judge(&file, bare));
}

fn judge(file: &[u8], bare: u8) {
    let (picture, taken) = weighed(|| read(Cursor::new(file), bare));
    assert_eq!(picture, read(Cursor::new(file), bare), "read twice");
    let pixels = picture.as_ref().map_or(MOST_PIXELS, |picture| u64::from(picture.wide) * u64::from(picture.high));
    let (pixel, rest) = MOST_BYTES;
    assert!(taken.bytes as u64 <= pixel * pixels + rest, "{} bytes of memory for {pixels} pixels", taken.bytes);
    match picture {
        Ok(picture) => {
            assert_eq!(picture.pixels.len() as u64, pixels, "pixels");
            assert!(pixels <= MOST_PIXELS);
        }
        Err(sentence) => assert!(sentence.len() < 1_000, "{sentence}"),
    }
}

fn changed_png(draw: &mut Draw<'_>) -> Vec<u8> {
    let mut file = Vec::new();
    let (wide, high) = (1 + draw.below(20) as u32, 1 + draw.below(20) as u32);
    let colour = *draw.pick(&[
        png::ColorType::Grayscale,
        png::ColorType::Rgb,
        png::ColorType::Rgba,
        png::ColorType::GrayscaleAlpha,
    ]);
    let mut encoder = png::Encoder::new(&mut file, wide, high);
    encoder.set_color(colour);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: 11_811, yppu: 11_811, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header().expect("a header");
    let count = wide as usize * high as usize * colour.samples();
    let bytes: Vec<u8> = (0..count).map(|index| (index * 37 % 256) as u8).collect();
    writer.write_image_data(&bytes).expect("pixels");
    writer.finish().expect("a picture");
    for _ in 0..draw.below(5) {
        change_chunk(&mut file, draw);
    }
    spoilt(file, draw)
}

/// Changes a chunk and puts its checksum right.
fn change_chunk(file: &mut Vec<u8>, draw: &mut Draw<'_>) {
    const SIGNATURE: usize = 8;
    let mut chunks = Vec::new();
    let mut at = SIGNATURE;
    while let Some(head) = file.get(at..at + 8) {
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        if file.len() < at + 12 + length {
            break;
        }
        chunks.push((at, length));
        at += 12 + length;
    }
    let Some(&(at, length)) = chunks.get(draw.below(chunks.len())) else { return };
    let (mut kind, mut content) = (file[at + 4..at + 8].to_vec(), file[at + 8..at + 8 + length].to_vec());
    match draw.below(5) {
        0 => drop(content.splice(0..0, draw.bytes(8).iter().copied())),
        1 => content.truncate(draw.below(length + 1)),
        2 => kind = draw.pick(&[b"PLTE", b"tRNS", b"pHYs", b"IDAT", b"acTL", b"fcTL", b"sRGB", b"IEND"]).to_vec(),
        _ => {
            let place = draw.below(length);
            if let Some(byte) = content.get_mut(place) {
                *byte = *draw.pick(&[0, 1, 2, 3, 4, 6, 8, 16, 127, 128, 255]);
            }
        }
    }
    let mut chunk = (content.len() as u32).to_be_bytes().to_vec();
    let named = [kind, content].concat();
    chunk.extend(&named);
    chunk.extend(crc32fast::hash(&named).to_be_bytes());
    // In its place, or beside it.
    let end = if draw.one_in(4) { at } else { at + 12 + length };
    file.splice(at..end, chunk);
}

fn changed_tiff(draw: &mut Draw<'_>) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    let (wide, high) = (1 + draw.below(20) as u32, 1 + draw.below(20) as u32);
    let bytes: Vec<u8> = (0..wide as usize * high as usize * 3).map(|index| (index * 37 % 256) as u8).collect();
    let mut encoder = TiffEncoder::new(&mut file).expect("an encoder");
    let written = match draw.one_in(2) {
        true => encoder.write_image::<colortype::RGB8>(wide, high, &bytes),
        false => encoder.write_image::<colortype::Gray8>(wide, high, &bytes[..wide as usize * high as usize]),
    };
    written.expect("a picture");
    let mut file = file.into_inner();
    // The directory stands at the end: what says how to read the pixels.
    for _ in 0..draw.below(6) {
        let near_end = file.len().saturating_sub(1 + draw.below(220));
        if let Some(byte) = file.get_mut(near_end) {
            *byte = *draw.pick(&[0, 1, 2, 3, 4, 5, 6, 7, 8, 16, 32, 127, 128, 255]);
        }
    }
    spoilt(file, draw)
}

fn spoilt(mut file: Vec<u8>, draw: &mut Draw<'_>) -> Vec<u8> {
    if draw.one_in(4) {
        crate::mutate::spoil(&mut file, draw);
    }
    file
}
