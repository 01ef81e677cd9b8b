//! The exact distances of a raw picture, dark ink, for the peers in Python to compare; or what they cost.
//!
//!     distances exact WIDE HIGH PIXELS OUT    32-bit floats, row by row: those of the printed side, then of the bare one
//!     distances time WIDE HIGH PIXELS TIMES   seconds, the shortest of so many, and bytes of memory a pixel, as JSON

use floodbar::artwork::{InkIs, Nearest, Picture, Side, Workspace, measure};
use floodbar::quantity::units;
use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [kind, wide, high, pixels, last] = arguments.as_slice() else {
        return Err("distances exact|time WIDE HIGH PIXELS OUT|TIMES".into());
    };
    let bytes = std::fs::read(pixels)?;
    let picture = Picture::new(&bytes, wide.parse()?, high.parse()?, None, units::PER_IN.of(300.0), InkIs::Dark)?;
    match kind.as_str() {
        "exact" => exact(&picture, last),
        _ => time(&bytes, &picture, last.parse()?),
    }
}

fn exact(picture: &Picture<'_>, path: &str) -> Result<(), Box<dyn Error>> {
    let mut out = std::io::BufWriter::new(std::fs::File::create(path)?);
    let mut nearest = Nearest::default();
    for side in [Side::Printed, Side::Bare] {
        nearest.find(picture, side)?;
        for distance in nearest.distances() {
            out.write_all(&distance.to_le_bytes())?;
        }
    }
    Ok(out.flush()?)
}

fn time(bytes: &[u8], picture: &Picture<'_>, times: u32) -> Result<(), Box<dyn Error>> {
    let pixels = bytes.len() as f64;
    let reach = units::MM.of(0.25);
    let mut workspace = Workspace::default();
    let before = memory("VmRSS:")?;
    measure(picture, reach, &mut workspace)?;
    let whole = memory("VmHWM:")? - before;
    let (mut nearest, mut distances, mut copy) =
        (Nearest::default(), vec![0.0_f32; bytes.len()], vec![0_u8; bytes.len()]);
    let mut shortest = [f64::INFINITY; 3];
    for _ in 0..times {
        let mut start = Instant::now();
        let mut lap = |least: &mut f64| {
            *least = least.min(start.elapsed().as_secs_f64());
            start = Instant::now();
        };
        copy.copy_from_slice(black_box(bytes));
        black_box(&mut copy);
        lap(&mut shortest[0]);
        nearest.find(picture, Side::Printed)?;
        distances.iter_mut().zip(nearest.distances()).for_each(|(to, distance)| *to = distance);
        black_box(&mut distances);
        lap(&mut shortest[1]);
        black_box(measure(picture, reach, &mut workspace)?);
        lap(&mut shortest[2]);
    }
    let [copy, transform, whole_time] = shortest;
    println!(
        "{}",
        serde_json::json!({ "copy": copy, "transform": transform, "measure": whole_time, "bytes": whole / pixels })
    );
    Ok(())
}

/// Bytes of this process's memory: what it holds, or the most it has held.
fn memory(kind: &str) -> Result<f64, Box<dyn Error>> {
    let status = std::fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find_map(|line| line.strip_prefix(kind)).ok_or("no memory status")?;
    Ok(1024.0 * line.trim().trim_end_matches("kB").trim().parse::<f64>()?)
}
