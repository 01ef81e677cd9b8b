//! What a measure of a separation needs beside the picture: all that is allocated meanwhile is counted.

use floodbar::artwork::{InkIs, Picture, Workspace, measure};
use floodbar::quantity::units;
use floodbar_tests::budget::deep;
use peak_alloc::PeakAlloc;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Of a pixel, of a column, of a row, and whatever the picture is.
const ALLOWED: [usize; 4] = [8, 60, 2, 16_384];

type Ink = fn(u32, u32) -> bool;

/// One test, so that nothing else allocates meanwhile.
#[test]
fn eight_bytes_a_pixel() {
    let kinds: [(&str, Ink); 7] = [
        ("all ink", |_, _| true),
        ("a bar", |x, y| x > 3 && y % 97 > 2),
        ("dots two apart", |x, y| x % 2 == 0 && y % 2 == 0),
        ("dots four apart", |x, y| x % 4 < 2 && y % 4 < 2),
        ("holes two apart", |x, y| x % 2 != 0 || y % 2 != 0),
        ("a chequerboard", |x, y| (x + y) % 2 == 0),
        ("lines across and a slope", |x, y| y % 3 == 0 || x == y),
    ];
    let small = [(1, 1), (900, 1), (1, 900), (900, 2), (2, 900), (70, 70), (320, 240)];
    let large = [(640, 480), (480, 640), (1200, 1000)];
    for (wide, high) in small.into_iter().chain(large.into_iter().filter(|_| deep())) {
        let drawn = kinds.map(|(_, ink)| {
            let places = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y)));
            places.map(|(x, y)| if ink(x, y) { 255 } else { 0 }).collect::<Vec<u8>>()
        });
        let [pixel, column, row, rest] = ALLOWED;
        let allowed = pixel * (wide * high) as usize + column * wide as usize + row * high as usize + rest;
        let without = MEMORY.current_usage();
        // Anew for each, and used again and again.
        let mut reused = Workspace::default();
        for again in [false, true] {
            for ((kind, _), pixels) in kinds.iter().zip(&drawn) {
                let picture = Picture::new(pixels, wide, high, None, units::PER_IN.of(300.0), InkIs::Light);
                if !again {
                    reused = Workspace::default();
                }
                MEMORY.reset_peak_usage();
                let reach = units::MM.of(0.25);
                let measured = measure(&picture.expect("a picture"), reach, &mut reused);
                let taken = MEMORY.peak_usage() - without;
                assert_eq!(measured.is_ok(), pixels.contains(&255), "{kind}, {wide} x {high}: {measured:?}");
                assert!(taken <= allowed, "{kind}, {wide} x {high}, {again}: {taken} bytes of {allowed}");
            }
        }
    }
}
