//! How much of a long check runs: a part of it in `tests/run`, all of it in `tests/deep`, which sets `FLOODBAR_DEEP`.

/// Whether all of it runs.
#[must_use]
pub fn deep() -> bool {
    std::env::var_os("FLOODBAR_DEEP").is_some_and(|value| value == "1")
}

/// How many random cases a check runs: `few` in `tests/run`, `many` in `tests/deep`.
#[must_use]
pub fn cases(few: u32, many: u32) -> u32 {
    if deep() { many } else { few }
}

/// Tells for one case of a grid after another whether it runs: all in `tests/deep`, each `n`-th, the first among them, in
/// `tests/run`. An `n` that divides no side of the grid leaves out no row of it.
pub fn every(n: u32) -> impl FnMut() -> bool {
    let n = cases(n, 1);
    let mut numbers = 0_u32..;
    move || numbers.next().is_some_and(|number| number.is_multiple_of(n))
}
