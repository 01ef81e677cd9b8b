//! Shares of a whole in whole units.

/// A whole shared out by weights, by largest remainders (Hamilton's rule): each gets the whole part of its share, and the units that are
/// left go to the largest parts that were cut off, the first of equal ones first.
///
/// The parts add up to the whole, each is less than one unit from its exact share, and those of a negative whole are those of its
/// opposite, negated. Weights that are all nothing share evenly; without weights there are no parts.
#[must_use]
pub fn largest_remainders(whole: i64, weights: &[u64]) -> Vec<i64> {
    let sum: u128 = weights.iter().map(|weight| u128::from(*weight)).sum();
    let even = sum == 0;
    let sum = if even { weights.len() as u128 } else { sum };
    let size = u128::from(whole.unsigned_abs());
    // A whole of 64 bits times a weight of 64 bits has 128.
    let share = |weight: u64| {
        let product = size.saturating_mul(if even { 1 } else { u128::from(weight) });
        (product.checked_div(sum).unwrap_or(0), product.checked_rem(sum).unwrap_or(0))
    };
    let mut parts: Vec<(u128, u128)> = weights.iter().map(|weight| share(*weight)).collect();
    let shared: u128 = parts.iter().map(|(part, _)| part).sum();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|index| core::cmp::Reverse(parts.get(*index).map_or(0, |(_, rest)| *rest)));
    // Fewer are left than there are parts.
    let left = usize::try_from(size.saturating_sub(shared)).unwrap_or(0);
    for index in order.into_iter().take(left) {
        if let Some((part, _)) = parts.get_mut(index) {
            *part = part.saturating_add(1);
        }
    }
    let signed = |part: u128| {
        let part = i64::try_from(part).unwrap_or(i64::MAX);
        if whole < 0 { part.saturating_neg() } else { part }
    };
    parts.into_iter().map(|(part, _)| signed(part)).collect()
}

#[cfg(test)]
#[allow(clippy::arithmetic_side_effects, reason = "a test fails by panicking")]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn seats_by_votes() {
        // A handbook example of Hamilton's method: 10 seats, votes 47000, 16000, 15800, 12000, 6100, 3100 give 5, 2, 1, 1, 1, 0
        // (from memory).
        assert_eq!(largest_remainders(10, &[47_000, 16_000, 15_800, 12_000, 6_100, 3_100]), [5, 2, 1, 1, 1, 0]);
        assert_eq!(largest_remainders(100, &[1, 1, 1]), [34, 33, 33]);
        assert_eq!(largest_remainders(-100, &[1, 1, 1]), [-34, -33, -33]);
        assert_eq!(largest_remainders(5, &[0, 0]), [3, 2]);
        assert_eq!(largest_remainders(5, &[]), [0_i64; 0]);
        assert_eq!(largest_remainders(i64::MIN, &[u64::MAX]), [-i64::MAX]);
    }

    proptest! {
        #[test]
        fn parts_add_up_and_are_within_a_unit(
            whole in -1_000_000_000_i64..1_000_000_000,
            weights in proptest::collection::vec(0_u64..1_000_000, 1..40),
        ) {
            let parts = largest_remainders(whole, &weights);
            prop_assert_eq!(parts.iter().sum::<i64>(), whole);
            let sum: u64 = weights.iter().sum();
            for (part, weight) in parts.iter().zip(&weights).filter(|_| sum > 0) {
                let off = i128::from(*part) * i128::from(sum) - i128::from(whole) * i128::from(*weight);
                prop_assert!(off.abs() < i128::from(sum));
            }
            let opposite: Vec<i64> = largest_remainders(-whole, &weights).iter().map(|part| -part).collect();
            prop_assert_eq!(opposite, parts);
        }
    }
}
