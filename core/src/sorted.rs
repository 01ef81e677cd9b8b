//! Sorting by a number or a text: one routine for whatever is sorted, since a sort compiled for every type is dear in the WebAssembly.

/// Sorts numbers, the least first.
pub(crate) fn numbers(list: &mut [f64]) {
    list.sort_unstable_by(f64::total_cmp);
}

/// Sorts by a number, the least first; what is alike stays in the order in which it came.
pub(crate) fn by_number<T: Clone>(list: &mut Vec<T>, number: impl Fn(&T) -> f64) {
    let order = order(list.iter().map(number).collect());
    *list = order.into_iter().filter_map(|at| list.get(at).cloned()).collect();
}

/// The places of numbers, those of the least first.
fn order(numbers: Vec<f64>) -> Vec<usize> {
    let mut order: Vec<(f64, usize)> = numbers.into_iter().zip(0..).collect();
    order.sort_unstable_by(|(a, at), (b, other)| a.total_cmp(b).then(at.cmp(other)));
    order.into_iter().map(|(_, at)| at).collect()
}

/// Sorts by a text; what is alike stays in the order in which it came.
pub(crate) fn by_text<T: Clone>(list: &mut Vec<T>, text: impl Fn(&T) -> &str) {
    let mut order: Vec<(&str, usize)> = list.iter().map(text).zip(0..).collect();
    order.sort_unstable();
    *list = order.into_iter().filter_map(|(_, at)| list.get(at).cloned()).collect();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_alike_keeps_its_order() {
        let mut words: Vec<&str> = "the blade stands over the image by so much on each side of it".split(' ').collect();
        let mut by_std = words.clone();
        by_std.sort_by_key(|word| word.len());
        by_number(&mut words, |word| word.len() as f64);
        assert_eq!(words, by_std);
        by_text(&mut words, |word| word);
        by_std.sort_unstable();
        assert_eq!(words, by_std);
        let mut list = [3.0, -1.0, 2.0, -0.0, 0.0];
        numbers(&mut list);
        assert_eq!(list.map(f64::to_bits), [-1.0, -0.0, 0.0, 2.0, 3.0].map(f64::to_bits));
    }
}
