//! What a call takes. All that is allocated meanwhile is counted, so nothing else may run beside it.

use cpu_time::ThreadTime;
use floodbar_tests::budget::deep;
use peak_alloc::PeakAlloc;
use std::time::Duration;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Most bytes that a call may hold at once.
pub const MOST_BYTES: usize = 256 << 20;

/// Longest time of a call, looked at in `tests/deep` alone. A second is promised of an optimised library on a usual machine: the rest is
/// for one that counts coverage, and for slow machines.
const LONGEST: Duration = Duration::from_secs(20);

/// What a call took.
#[derive(Debug, Clone, Copy)]
pub struct Taken {
    /// On the processor: what other programs do there meanwhile does not count.
    pub time: Duration,
    /// Most bytes held at once, beyond those held before.
    pub bytes: usize,
}

/// Calls, and weighs the call.
pub fn weighed<T>(call: impl FnOnce() -> T) -> (T, Taken) {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    let start = ThreadTime::now();
    let got = call();
    let time = start.elapsed();
    (got, Taken { time, bytes: MEMORY.peak_usage().saturating_sub(before) })
}

/// Calls, and fails where the call takes more than is promised. `sent` is how many bytes it was handed.
pub fn bounded<T>(sent: usize, call: impl FnOnce() -> T) -> T {
    let (got, taken) = weighed(call);
    assert!(taken.bytes <= MOST_BYTES, "{} bytes of memory for {sent} bytes", taken.bytes);
    assert!(!deep() || taken.time <= LONGEST, "{:?} for {sent} bytes", taken.time);
    got
}
