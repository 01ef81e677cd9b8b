use super::*;
use png::{BitDepth, ColorType, PixelDimensions, Unit};
use std::io::Cursor;

fn read_bytes(file: &[u8], bare: u8) -> Result<Picture, String> {
    read(Cursor::new(file), bare)
}

/// A PNG of one row; `set` adds what else its header says.
fn png_row(
    wide: u32,
    colour: ColorType,
    depth: BitDepth,
    bytes: &[u8],
    set: impl FnOnce(&mut png::Encoder<'_, &mut Vec<u8>>),
) -> Vec<u8> {
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, wide, 1);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    set(&mut encoder);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(bytes).unwrap();
    writer.finish().unwrap();
    file
}

fn png_levels(wide: u32, colour: ColorType, depth: BitDepth, bytes: &[u8], bare: u8) -> Vec<u8> {
    read_bytes(&png_row(wide, colour, depth, bytes, |_| ()), bare).unwrap().pixels
}

/// A value of a TIFF's directory: a tag's numbers as 16-bit ones, or a fraction.
enum Entry {
    Short(u16, &'static [u16]),
    Ratio(u16, u32, u32),
}
use Entry::{Ratio, Short};

/// A little-endian, unpacked TIFF of one row, laid out by hand from the TIFF 6.0 specification.
fn tiff_row(wide: u16, bits: &'static [u16], photometric: &'static [u16], data: &[u8], more: Vec<Entry>) -> Vec<u8> {
    let mut entries = vec![Short(257, &[1]), Short(258, bits), Short(259, &[1]), Short(262, photometric)];
    entries.extend([Short(278, &[1])]);
    entries.extend(more);
    let numbers = [(256, wide), (273, 8), (277, bits.len() as u16), (279, data.len() as u16)];
    // Tag, type, count and the value's bytes; what is longer than four of them goes behind the data.
    let mut rows: Vec<(u16, u16, u32, Vec<u8>)> =
        numbers.iter().map(|(tag, value)| (*tag, 3, 1, value.to_le_bytes().to_vec())).collect();
    rows.extend(entries.iter().map(|entry| match *entry {
        Short(tag, values) => (tag, 3, values.len() as u32, values.iter().flat_map(|v| v.to_le_bytes()).collect()),
        Ratio(tag, over, under) => (tag, 5, 1, [over.to_le_bytes(), under.to_le_bytes()].concat()),
    }));
    // What `more` says of a tag counts.
    rows.reverse();
    rows.sort_by_key(|row| row.0);
    rows.dedup_by_key(|row| row.0);
    let mut file = [&b"II\x2a\0\0\0\0\0"[..], data].concat();
    let mut directory = (rows.len() as u16).to_le_bytes().to_vec();
    for (tag, kind, count, mut value) in rows {
        if value.len() > 4 {
            let offset = file.len() as u32;
            file.extend(&value);
            value = offset.to_le_bytes().to_vec();
        }
        value.resize(4, 0);
        directory.extend([tag.to_le_bytes(), kind.to_le_bytes()].concat());
        directory.extend(count.to_le_bytes());
        directory.extend(value);
    }
    let start = (file.len() as u32).to_le_bytes();
    file.splice(4..8, start);
    file.extend(directory);
    file.extend([0; 4]);
    file
}

fn tiff_levels(wide: u16, bits: &'static [u16], photometric: &'static [u16], data: &[u8], more: Vec<Entry>) -> Vec<u8> {
    read_bytes(&tiff_row(wide, bits, photometric, data, more), 255).unwrap().pixels
}

#[test]
fn grey_pngs_of_every_depth() {
    let grey = ColorType::Grayscale;
    assert_eq!(png_levels(3, grey, BitDepth::One, &[0b1010_0000], 255), [255, 0, 255]);
    assert_eq!(png_levels(5, grey, BitDepth::Two, &[0b0001_1011, 0b0100_0000], 255), [0, 85, 170, 255, 85]);
    assert_eq!(png_levels(3, grey, BitDepth::Four, &[0x0f, 0x30], 255), [0, 255, 51]);
    assert_eq!(png_levels(4, grey, BitDepth::Eight, &[0, 127, 128, 255], 255), [0, 127, 128, 255]);
    // 65535 / 257 = 255; 0x80ff = 33023 is 128.49 of them, 0x8101 = 33025 is 128.502.
    let sixteen = [0x00, 0x00, 0x80, 0xff, 0x81, 0x01, 0xff, 0xff];
    assert_eq!(png_levels(4, grey, BitDepth::Sixteen, &sixteen, 255), [0, 128, 129, 255]);
}

#[test]
fn colours_become_luma() {
    // 255 x 0.2126 = 54.2, x 0.7152 = 182.4, x 0.0722 = 18.4.
    let colours = [255, 0, 0, 0, 255, 0, 0, 0, 255, 255, 255, 255, 0, 0, 0];
    let wanted = [54, 182, 18, 255, 0];
    assert_eq!(png_levels(5, ColorType::Rgb, BitDepth::Eight, &colours, 255), wanted);
    let sixteen: Vec<u8> = colours.iter().flat_map(|byte| [*byte, *byte]).collect();
    assert_eq!(png_levels(5, ColorType::Rgb, BitDepth::Sixteen, &sixteen, 255), wanted);
    let mut palette = png_row(5, ColorType::Indexed, BitDepth::Four, &[0x01, 0x23, 0x40], |e| {
        e.set_palette(colours.to_vec());
    });
    assert_eq!(read_bytes(&palette, 255).unwrap().pixels, wanted);
    // The same palette, its red half clear, its green all clear: 54.2 x 128/255 + 255 x 127/255 = 154.2; bare.
    palette = png_row(5, ColorType::Indexed, BitDepth::Four, &[0x01, 0x23, 0x40], |e| {
        e.set_palette(colours.to_vec());
        e.set_trns(vec![128, 0]);
    });
    assert_eq!(read_bytes(&palette, 255).unwrap().pixels, [154, 255, 18, 255, 0]);
    assert_eq!(tiff_levels(5, &[8, 8, 8], &[2], &colours, vec![]), wanted);
    assert_eq!(tiff_levels(5, &[16, 16, 16], &[2], &sixteen, vec![]), wanted);
}

#[test]
fn the_transparent_is_bare() {
    // Black and white, each opaque, half clear (128 of 255 covered), clear.
    let pairs = [0, 255, 0, 128, 0, 0, 255, 255, 255, 128, 255, 0];
    let (on_white, on_black) = ([0, 127, 255, 255, 255, 255], [0, 0, 0, 255, 128, 0]);
    let grey = ColorType::GrayscaleAlpha;
    assert_eq!(png_levels(6, grey, BitDepth::Eight, &pairs, 255), on_white);
    assert_eq!(png_levels(6, grey, BitDepth::Eight, &pairs, 0), on_black);
    let sixteen: Vec<u8> = pairs.iter().flat_map(|byte| [*byte, *byte]).collect();
    assert_eq!(png_levels(6, grey, BitDepth::Sixteen, &sixteen, 0), on_black);
    let fours: Vec<u8> = pairs.chunks(2).flat_map(|pair| [pair[0], pair[0], pair[0], pair[1]]).collect();
    assert_eq!(png_levels(6, ColorType::Rgba, BitDepth::Eight, &fours, 255), on_white);
    // TIFF 6.0, ExtraSamples: 2 is plain alpha; with 1 the colours are multiplied by it, so half clear white stands as 128.
    assert_eq!(tiff_levels(6, &[8, 8], &[1], &pairs, vec![Short(338, &[2])]), on_white);
    assert_eq!(tiff_levels(6, &[8, 8, 8, 8], &[2], &fours, vec![Short(338, &[2])]), on_white);
    let multiplied = [0, 255, 0, 128, 0, 0, 255, 255, 128, 128, 0, 0];
    assert_eq!(tiff_levels(6, &[8, 8], &[1], &multiplied, vec![Short(338, &[1])]), on_white);
}

#[test]
fn grey_tiffs() {
    assert_eq!(tiff_levels(4, &[8], &[1], &[0, 127, 128, 255], vec![]), [0, 127, 128, 255]);
    assert_eq!(tiff_levels(3, &[16], &[1], &[0xff, 0x80, 0x01, 0x81, 0xff, 0xff], vec![]), [128, 129, 255]);
    // Nine pixels take two bytes, the second padded; PhotometricInterpretation 0: white is 0.
    assert_eq!(tiff_levels(9, &[1], &[1], &[0x81, 0x80], vec![]), [255, 0, 0, 0, 0, 0, 0, 255, 255]);
    assert_eq!(tiff_levels(9, &[1], &[0], &[0x81, 0x80], vec![]), [0, 255, 255, 255, 255, 255, 255, 0, 0]);
    assert_eq!(tiff_levels(3, &[4], &[1], &[0x0f, 0x30], vec![]), [0, 255, 51]);
    // One channel lies apart from nothing.
    assert_eq!(tiff_levels(2, &[8], &[1], &[3, 4], vec![Short(284, &[2])]), [3, 4]);
    use tiff::encoder::{Compression, TiffEncoder, colortype::Gray8};
    for packing in [Compression::Lzw, Compression::Deflate(Default::default()), Compression::Packbits] {
        let mut file = Cursor::new(Vec::new());
        let encoder = TiffEncoder::new(&mut file).unwrap();
        encoder.with_compression(packing).write_image::<Gray8>(3, 2, &[0, 9, 9, 9, 0, 255]).unwrap();
        let picture = read_bytes(file.get_ref(), 255).unwrap();
        assert_eq!((picture.wide, picture.high, picture.pixels.as_slice()), (3, 2, [0, 9, 9, 9, 0, 255].as_slice()));
    }
}

/// Palettes of 8, 4 and 1 bits; 54, 182 and 18 are the lumas of red, green and blue.
#[test]
fn palettes_of_tiffs() {
    // Black, red, green, blue, white, and black for all others: reds, then greens, then blues.
    const FULL: u16 = u16::MAX;
    let map = |count: usize| -> &'static [u16] {
        let row = |lit: [usize; 2]| (0..count).map(move |at| if lit.contains(&at) { FULL } else { 0 });
        Box::leak(row([1, 4]).chain(row([2, 4])).chain(row([3, 4])).collect())
    };
    assert_eq!(tiff_levels(5, &[8], &[3], &[0, 1, 2, 3, 4], vec![Short(320, map(256))]), [0, 54, 182, 18, 255]);
    assert_eq!(tiff_levels(5, &[4], &[3], &[0x01, 0x23, 0x40], vec![Short(320, map(16))]), [0, 54, 182, 18, 255]);
    let two: &[u16] = &[FULL, 0, FULL, 0, FULL, 0];
    assert_eq!(
        tiff_levels(9, &[1], &[3], &[0x81, 0x80], vec![Short(320, two)]),
        [0, 255, 255, 255, 255, 255, 255, 0, 0]
    );
    let refused = |bits, map| read_bytes(&tiff_row(1, bits, &[3], &[0, 0], vec![Short(320, map)]), 255).unwrap_err();
    assert!(refused(&[8], two).contains("no palette for 8 bits"));
    assert!(refused(&[16], map(256)).contains("no palette for 16 bits"));
    assert!(read_bytes(&tiff_row(1, &[8], &[3], &[0], vec![]), 255).unwrap_err().contains("with a palette"));
    // Alpha beside the numbers is none that is known.
    let two_channels = tiff_row(1, &[8, 8], &[3], &[0, 0], vec![Short(320, map(256)), Short(338, &[2])]);
    assert!(read_bytes(&two_channels, 255).is_err());
    // The resolution is kept.
    let more = vec![Short(320, two), Ratio(282, 300, 1), Ratio(283, 300, 1), Short(296, &[2])];
    assert_eq!(read_bytes(&tiff_row(1, &[1], &[3], &[0], more), 255).unwrap().resolution, Some("300 /in".into()));
}

#[test]
fn resolutions() {
    let dims = |xppu, yppu, unit| {
        let file = png_row(1, ColorType::Grayscale, BitDepth::Eight, &[0], |e| {
            e.set_pixel_dims(Some(PixelDimensions { xppu, yppu, unit }));
        });
        read_bytes(&file, 255).map(|picture| picture.resolution)
    };
    assert_eq!(dims(11_811, 11_811, Unit::Meter), Ok(Some("11811 /m".into())));
    assert_eq!(dims(1, 1, Unit::Unspecified), Ok(None));
    assert!(dims(11_811, 5_906, Unit::Meter).unwrap_err().contains("square"));

    let ratios = |x: (u32, u32), y: (u32, u32), unit: Option<&'static [u16]>| {
        let mut more = vec![Ratio(282, x.0, x.1), Ratio(283, y.0, y.1)];
        more.extend(unit.map(|unit| Short(296, unit)));
        read_bytes(&tiff_row(1, &[8], &[1], &[0], more), 255).map(|picture| picture.resolution)
    };
    assert_eq!(ratios((300, 1), (600, 2), Some(&[2])), Ok(Some("300 /in".into())));
    // Inches where the unit is left out (TIFF 6.0).
    assert_eq!(ratios((725, 2), (725, 2), None), Ok(Some("362.5 /in".into())));
    assert_eq!(ratios((118, 1), (118, 1), Some(&[3])), Ok(Some("118 /cm".into())));
    assert_eq!(ratios((300, 1), (300, 1), Some(&[1])), Ok(None));
    assert_eq!(ratios((300, 0), (300, 0), Some(&[2])), Ok(None));
    assert!(ratios((300, 1), (150, 1), Some(&[2])).unwrap_err().contains("square"));
    assert_eq!(read_bytes(&tiff_row(1, &[8], &[1], &[0], vec![]), 255).unwrap().resolution, None);
}

#[test]
fn what_does_not_show_one_ink_alone_is_refused() {
    let refused = |bits, photometric, data: &[u8], more| {
        read_bytes(&tiff_row(1, bits, photometric, data, more), 255).unwrap_err()
    };
    assert!(refused(&[8, 8, 8, 8], &[5], &[0; 4], vec![]).contains("save it in grey"), "four process colours");
    assert!(refused(&[8, 8], &[1], &[0; 2], vec![Short(338, &[0])]).contains("save it in grey"), "a spot channel");
    assert!(refused(&[32], &[1], &[0; 4], vec![]).contains("neither 8 nor 16 bits"));
    assert!(refused(&[8], &[1], &[0], vec![Short(274, &[6])]).contains("the way it prints"));
    let apart = vec![Short(284, &[2]), Short(273, &[8, 9, 10]), Short(279, &[1, 1, 1])];
    assert!(refused(&[8, 8, 8], &[2], &[0; 3], apart).contains("planar"));
    assert!(read_bytes(b"GIF89a", 255).unwrap_err().contains("neither a PNG nor a TIFF"));
    assert!(read_bytes(b"", 255).unwrap_err().contains("neither a PNG nor a TIFF"));
}

/// Writes another size and way of interlacing into a PNG.
fn change_header(file: &mut Vec<u8>, wide: u32, high: u32, interlace: u8) {
    file.splice(16..24, [wide.to_be_bytes(), high.to_be_bytes()].concat());
    file[28] = interlace;
    let check = crc32fast::hash(&file[12..29]).to_be_bytes();
    file.splice(29..33, check);
}

#[test]
fn interlaced_pngs() {
    // Of five pixels Adam7 stores the first, the fifth, the third, then second and fourth, each group after the filter's byte;
    // that is a plain row of eight.
    let mut file = png_row(8, ColorType::Grayscale, BitDepth::Eight, &[10, 0, 50, 0, 30, 0, 20, 40], |e| {
        e.set_filter(png::Filter::NoFilter);
    });
    change_header(&mut file, 5, 1, 1);
    assert_eq!(read_bytes(&file, 255).unwrap().pixels, [10, 20, 30, 40, 50]);
}

#[test]
fn sizes() {
    // A header alone: the size is refused, or not, before there is a pixel.
    let header = |wide, high| {
        let mut file = png_row(1, ColorType::Grayscale, BitDepth::One, &[0], |_| ());
        change_header(&mut file, wide, high, 0);
        read_bytes(&file, 255).unwrap_err()
    };
    assert!(header(40_000, 3_001).contains("more than the 120 million"));
    assert!(header(u32::MAX / 2, u32::MAX / 2).contains("more than the 120 million"));
    assert!(header(12_000, 10_000).contains("not a sound PNG"), "120 million pixels, but their data are missing");
    assert!(header(0, 1).contains("not a sound PNG") && header(1, 0).contains("not a sound PNG"));
    assert!(read_bytes(&tiff_row(0, &[8], &[1], &[0], vec![]), 255).unwrap_err().contains("not a sound TIFF"));
}

#[test]
fn damaged_and_cut_files_are_errors_or_pictures() {
    let noise: Vec<u8> = (0..2_000_u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let png = png_row(2_000, ColorType::Grayscale, BitDepth::Eight, &noise, |_| ());
    let tiff = tiff_row(1_000, &[8, 8], &[1], &noise, vec![Short(338, &[2]), Ratio(282, 300, 1), Ratio(283, 300, 1)]);
    let map: &[u16] = Box::leak((0..768_u16).map(|n| n.wrapping_mul(40_503)).collect());
    let palette = tiff_row(2_000, &[8], &[3], &noise, vec![Short(320, map)]);
    for whole in [&png, &tiff, &palette] {
        assert!(read_bytes(whole, 255).is_ok());
        for length in (0..whole.len()).filter(|length| length % 100 == 0 || whole.len() - length < 250) {
            // The last four bytes of a TIFF are the zero that ends its list of pictures, of a PNG the check of nothing.
            assert!(read_bytes(&whole[..length], 255).is_err() || whole.len() - length <= 4, "cut to {length}");
        }
        for place in (0..whole.len()).filter(|place| place % 50 == 0 || *place < 64 || whole.len() - place < 250) {
            for value in [0, 1, 0x7f, 0x80, 0xff] {
                let mut damaged = whole.clone();
                damaged[place] = value;
                // Whether it can still be read depends on the place; it must not panic.
                let _ = read_bytes(&damaged, 255).map(|picture| assert!(!picture.pixels.is_empty()));
            }
        }
    }
    let mut damaged = png.clone();
    damaged[500] ^= 1;
    assert!(read_bytes(&damaged, 255).unwrap_err().contains("not a sound PNG"), "a PNG checks its data");
}

#[test]
fn a_sentence_is_short_whatever_the_file() {
    // A sample format for each of a hundred channels, none of which there is.
    const MANY: &[u16] = &[7_777; 100];
    let file = tiff_row(1, MANY, &[1], &[0; 100], vec![Short(339, MANY)]);
    assert!(read_bytes(&file, 255).unwrap_err().len() < 250);
}
