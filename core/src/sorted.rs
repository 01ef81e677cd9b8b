//! Sorting by a number or a text: one routine for whatever is sorted, since a sort compiled for every type is dear in the WebAssembly.

/// Sorts numbers, the least first.
pub(crate) fn numbers(list: &mut [f64]) {
    list.sort_unstable_by(f64::total_cmp);
}

/// Sorts by a number, the least first; what is alike stays in the order in which it came.
pub(crate) fn by_number<T: Clone>(list: &mut Vec<T>, number: impl Fn(&T) -> f64) {
    let Index(order) = Index::of(list.iter().map(|item| ascending(number(item))));
    *list = order.into_iter().filter_map(|(_, at)| list.get(at).cloned()).collect();
}

/// The bits of a number, ascending as [`f64::total_cmp`] has it.
const fn ascending(number: f64) -> u64 {
    let bits = number.to_bits();
    bits ^ if number.is_sign_negative() { u64::MAX } else { 1 << 63 }
}

/// The places of many keys, to look them up.
#[derive(Debug, Clone)]
pub(crate) struct Index(Vec<(u64, usize)>);

impl Index {
    /// Of keys in their places.
    pub fn of(keys: impl Iterator<Item = u64>) -> Self {
        let mut order: Vec<(u64, usize)> = keys.zip(0..).collect();
        order.sort_unstable();
        Self(order)
    }

    /// The first place of a key.
    pub fn place(&self, key: u64) -> Option<usize> {
        let (found, place) = self.0.get(self.0.partition_point(|(other, _)| *other < key))?;
        (*found == key).then_some(*place)
    }
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

    #[test]
    fn bits_ascend_as_numbers_do() {
        let list = [-f64::INFINITY, -2.0, -5e-324, -0.0, 0.0, 5e-324, 1.0, f64::INFINITY, f64::NAN];
        assert!(list.windows(2).all(|pair| ascending(pair[0]) < ascending(pair[1])));
    }

    #[test]
    fn a_key_is_found_in_its_first_place() {
        let index = Index::of([7, 3, u64::MAX, 3].into_iter());
        assert_eq!([7, 3, u64::MAX, 4, 0].map(|key| index.place(key)), [Some(0), Some(1), Some(2), None, None]);
        assert_eq!(Index::of([].into_iter()).place(0), None);
    }
}
