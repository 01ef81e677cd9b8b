//! Root finding: where a function of one variable passes zero, or a condition changes.
//!
//! Which method for what:
//! - [`illinois`] where values are dear (a march of the heat solver, a line of a thousand places) and tell how far off they are.
//! - [`bisect`] where values are cheap, or there is only yes and no.
//! - [`first`] for counts.
//!
//! All keep a bracket and tell both its ends, so that a caller can take the end on which its condition holds.

/// An argument, and the function there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// The argument.
    pub at: f64,
    /// The function's value.
    pub value: f64,
}

/// Two arguments between which a function changes its sign, in either order.
///
/// The condition is `value >= 0`: it holds at one end and fails at the other. A value that is not a number fails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// The end at which the function is zero or above.
    pub holds: Point,
    /// The end at which it is below zero.
    pub fails: Point,
}

impl Bracket {
    /// The bracket between two points; none where the condition holds at both or at neither.
    #[must_use]
    pub fn between(one: Point, other: Point) -> Option<Self> {
        match (one.value >= 0.0, other.value >= 0.0) {
            (true, false) => Some(Self { holds: one, fails: other }),
            (false, true) => Some(Self { holds: other, fails: one }),
            _ => None,
        }
    }

    /// How far its ends are apart.
    #[must_use]
    pub fn width(&self) -> f64 {
        (self.fails.at - self.holds.at).abs()
    }
}

/// When a bracket is narrow enough, and how it is narrowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    /// Stops at a bracket this narrow.
    pub width: f64,
    /// Stops at a bracket this narrow, as a share of the argument at the end that holds.
    pub relative_width: f64,
    /// Stops where the value at the end that holds is no more than this.
    pub value: f64,
    /// Each new argument keeps this share of the bracket away from both ends, below one half. With 0.02 both ends close in, for
    /// a stop on the width; with 0 the last arguments come as near to the root as the chord says, for a stop on the value.
    pub margin: f64,
    /// Most values that are asked for.
    pub evaluations: u32,
}

impl Search {
    /// The same with widths that are so much wider, or narrower.
    #[must_use]
    pub const fn to_accuracy(self, accuracy: f64) -> Self {
        Self { width: self.width * accuracy, relative_width: self.relative_width * accuracy, ..self }
    }
}

/// Narrows a bracket by false position; the weight of an end that stays twice running is halved (the Illinois method).
///
/// The order of convergence is 1.44 a value where the function is smooth; where it jumps, the bracket closes in on the jump.
/// A value that is not finite at either end has no chord: the bracket is halved until both ends have one. So an end whose value
/// is not known may be given as an infinity of the right sign.
///
/// Source: Dowell, Jarratt, BIT 11 (1971) 168-174 (from memory).
///
/// # Errors
/// The first error of the function.
pub fn illinois<E>(
    mut bracket: Bracket,
    search: &Search,
    mut function: impl FnMut(f64) -> Result<f64, E>,
) -> Result<Bracket, E> {
    let mut weights = (bracket.holds.value, bracket.fails.value);
    let mut last = None;
    for _ in 0..search.evaluations {
        let Bracket { holds, fails } = bracket;
        let narrow = search.width.max(search.relative_width * holds.at.abs());
        if bracket.width() <= narrow || holds.value <= search.value {
            break;
        }
        let share = (weights.0 / (weights.0 - weights.1)).max(search.margin).min(1.0 - search.margin);
        let chord = holds.at + share * (fails.at - holds.at);
        let inside = chord > holds.at.min(fails.at) && chord < holds.at.max(fails.at);
        let straight = inside && weights.0.is_finite() && weights.1.is_finite();
        let at = if straight { chord } else { holds.at.midpoint(fails.at) };
        let point = Point { at, value: function(at)? };
        let met = point.value >= 0.0;
        let halved = if last == Some(met) { 0.5 } else { 1.0 };
        last = Some(met);
        if met {
            bracket.holds = point;
            weights = (point.value, halved * weights.1);
        } else {
            bracket.fails = point;
            weights = (halved * weights.0, point.value);
        }
    }
    Ok(bracket)
}

/// Halves a bracket so many times: the ends between which a condition that is met at `low` ceases to be met.
///
/// Neither end is asked for its condition.
pub fn bisect(mut low: f64, mut high: f64, halvings: u32, mut met: impl FnMut(f64) -> bool) -> (f64, f64) {
    for _ in 0..halvings {
        let middle = low.midpoint(high);
        if met(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low, high)
}

/// The least count above `low` and up to `high` at which a condition is met, where it is met at `high` and at all counts from the
/// first on.
///
/// Neither end is asked for its condition.
pub fn first(mut low: u32, mut high: u32, mut met: impl FnMut(u32) -> bool) -> u32 {
    while high.saturating_sub(low) > 1 {
        let middle = low.midpoint(high);
        if met(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::convert::Infallible;
    use std::f64::consts::SQRT_2;

    /// To the last digits, by the width.
    const WIDTH: Search = Search { width: 0.0, relative_width: 4e-16, value: 0.0, margin: 0.0, evaluations: 100 };

    fn bracket(low: f64, high: f64, function: impl Fn(f64) -> f64) -> Option<Bracket> {
        let point = |at: f64| Point { at, value: function(at) };
        Bracket::between(point(low), point(high))
    }

    /// The bracket that is left, and how many values it took.
    fn narrow(low: f64, high: f64, search: &Search, function: impl Fn(f64) -> f64) -> (Bracket, u32) {
        let mut count = 0;
        let asked = |at: f64| {
            count = u32::saturating_add(count, 1);
            Ok(function(at))
        };
        let Ok(left) = illinois::<Infallible>(bracket(low, high, &function).unwrap(), search, asked);
        (left, count)
    }

    #[test]
    fn known_roots() {
        // The square root of 2; where x = cos x; where x e^x = 1 (OEIS A002193, A003957, A030178). The same root in micrometres,
        // and of functions that fall.
        let root = |low: f64, high: f64, function: &dyn Fn(f64) -> f64| narrow(low, high, &WIDTH, function).0.holds.at;
        for (found, known) in [
            (root(1.0, 2.0, &|x| x * x - 2.0), SQRT_2),
            (root(1.0, 2.0, &|x| 2.0 - x * x), SQRT_2),
            (root(2.0, 1.0, &|x| x * x - 2.0), SQRT_2),
            (root(-1.0, -2.0, &|x| x * x - 2.0), -SQRT_2),
            (root(0.0, 1e-3, &|x| x * x - 2e-12), SQRT_2 * 1e-6),
            (root(0.0, 1.0, &|x| x - libm::cos(x)), 0.739_085_133_215_160_6),
            (root(0.0, 1.0, &|x| x * libm::exp(x) - 1.0), 0.567_143_290_409_784),
        ] {
            assert_relative_eq!(found, known, epsilon = 0.0, max_relative = 1e-15);
        }
    }

    #[test]
    fn the_end_that_holds_is_kept() {
        for (low, high) in [(1.0, 2.0), (2.0, 1.0)] {
            for sign in [1.0, -1.0] {
                let function = |x: f64| sign * (x * x - 2.0);
                let search = Search { width: 1e-3, relative_width: 0.0, margin: 0.02, ..WIDTH };
                let (left, _) = narrow(low, high, &search, function);
                assert!(left.holds.value >= 0.0 && left.fails.value < 0.0);
                assert!(function(left.holds.at) >= 0.0 && function(left.fails.at) < 0.0);
                assert!(left.width() <= 1e-3);
            }
        }
    }

    #[test]
    fn no_bracket_without_a_change_of_sign() {
        assert_eq!(bracket(1.0, 2.0, |x| x * x + 1.0), None);
        assert_eq!(bracket(1.0, 2.0, |x| -x), None);
        assert_eq!(bracket(1.0, 2.0, |_| f64::NAN), None);
        assert_eq!(bracket(0.0, 1.0, |x| x), None, "zero holds");
    }

    #[test]
    fn evaluations_are_few() {
        // Bisection would take 40 to this width.
        let search = Search { relative_width: 1e-12, value: 1e-12, ..WIDTH };
        for function in [|x: f64| x * x - 2.0, |x: f64| libm::exp(x) - 4.0, |x: f64| libm::log(x) - 0.3] {
            let (left, count) = narrow(1.0, 2.0, &search, function);
            assert!(left.holds.value <= 1e-12);
            assert!(count <= 10, "{count}");
        }
        // An end that false position alone would keep for long: it falls short by a factor of 0.9 a value and worse.
        let (left, count) = narrow(0.0, 1.2, &search, |x| libm::pow(x, 9.0) - 0.5);
        assert_relative_eq!(left.holds.at, libm::pow(0.5, 1.0 / 9.0), epsilon = 0.0, max_relative = 1e-12);
        assert!(count <= 14, "{count}");
        // With a margin both ends close in.
        let both = Search { width: 1e-6, relative_width: 0.0, margin: 0.02, ..WIDTH };
        let (left, count) = narrow(1.0, 2.0, &both, |x| x * x - 2.0);
        assert!(left.width() <= 1e-6 && count <= 8, "{count}");
    }

    #[test]
    fn evaluations_are_limited_and_spared() {
        let two = Search { evaluations: 2, ..WIDTH };
        assert_eq!(narrow(1.0, 2.0, &two, |x| x * x - 2.0).1, 2);
        assert_eq!(narrow(1.0, 2.0, &Search { width: 1.0, ..WIDTH }, |x| x * x - 2.0).1, 0, "narrow enough");
        assert_eq!(narrow(0.0, 1.0, &WIDTH, |x| x - 1.0).1, 0, "the end is the root");
        assert_eq!(narrow(0.0, 2.0, &WIDTH, |x| x - 1.0).1, 1, "a straight line");
    }

    #[test]
    fn a_jump_is_closed_in_on() {
        for margin in [0.0, 0.02] {
            let search = Search { relative_width: 1e-9, value: 0.0, margin, ..WIDTH };
            let (left, count) = narrow(0.0, 1.0, &search, |x| if x < 0.3 { -1.0 } else { 5.0 });
            assert!(left.holds.at >= 0.3 && left.fails.at < 0.3);
            assert_relative_eq!(left.holds.at, 0.3, epsilon = 0.0, max_relative = 1e-9);
            assert!(count < 70, "{count}");
        }
    }

    #[test]
    fn ends_without_a_finite_value_are_halved() {
        let unknown = Bracket {
            holds: Point { at: 0.0, value: f64::INFINITY },
            fails: Point { at: 8.0, value: f64::NEG_INFINITY },
        };
        let mut asked = Vec::new();
        let Ok(left) = illinois::<Infallible>(unknown, &WIDTH, |at| {
            asked.push(at);
            Ok(0.7 - at)
        });
        assert_eq!(asked[..4], [4.0, 2.0, 1.0, 0.5], "until both ends have a value");
        assert_relative_eq!(left.holds.at, 0.7, epsilon = 0.0, max_relative = 1e-15);
        // Not a number fails: the bracket closes in on where values begin.
        let (left, _) = narrow(0.0, 1.0, &WIDTH, |x| if x < 0.25 { f64::NAN } else { 1.0 });
        assert_relative_eq!(left.holds.at, 0.25, epsilon = 0.0, max_relative = 1e-15);
        assert!(left.fails.value.is_nan());
    }

    #[test]
    fn a_margin_that_is_none_does_no_harm() {
        for margin in [f64::NAN, -1.0, 0.5, 0.7, 2.0, f64::INFINITY] {
            let (left, _) = narrow(1.0, 2.0, &Search { margin, ..WIDTH }, |x| x * x - 2.0);
            assert_relative_eq!(left.holds.at, SQRT_2, epsilon = 0.0, max_relative = 1e-15);
        }
    }

    #[test]
    fn the_first_error_ends_it() {
        let start = bracket(1.0, 2.0, |x| x * x - 2.0).unwrap();
        let mut left = 3;
        let refused = illinois(start, &WIDTH, |x| {
            left -= 1;
            if left > 0 { Ok(x * x - 2.0) } else { Err("no more") }
        });
        assert_eq!((refused, left), (Err("no more"), 0));
    }

    #[test]
    fn a_bisection_gains_a_bit_a_time() {
        let mut count = 0;
        let (low, high) = bisect(0.0, 1e-6, 30, |x| {
            count += 1;
            x < 0.3e-6
        });
        assert!(low < 0.3e-6 && high >= 0.3e-6);
        assert_relative_eq!(high - low, 1e-6 / f64::from(1 << 30), epsilon = 0.0, max_relative = 1e-6);
        assert_eq!(count, 30);
        // Met everywhere or nowhere: one of the ends.
        assert_eq!(bisect(1.0, 2.0, 60, |_| true).1.to_bits(), 2.0_f64.to_bits());
        assert_eq!(bisect(1.0, 2.0, 60, |_| false).0.to_bits(), 1.0_f64.to_bits());
    }

    #[test]
    fn the_first_count_is_that_of_a_scan() {
        for low in 0..20 {
            for high in low..20 {
                for wanted in low + 1..=high {
                    let mut asked = Vec::new();
                    let found = first(low, high, |count| {
                        asked.push(count);
                        count >= wanted
                    });
                    assert_eq!(found, wanted, "{low} {high}");
                    assert!(asked.iter().all(|count| *count > low && *count < high), "{asked:?}");
                    assert!(asked.len() <= (high - low).next_power_of_two().ilog2() as usize, "{asked:?}");
                }
            }
        }
        assert_eq!(first(0, u32::MAX, |count| count >= u32::MAX - 1), u32::MAX - 1);
    }
}
